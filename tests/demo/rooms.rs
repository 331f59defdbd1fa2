//! The rooms workbook of an invented building: forty rooms on four levels, their openings and soffits, the job.
//!
//! As messy as the real thing: title rows, a blank row, units in some headings, lengths in every spelling, columns that
//! no rule book names, a totals row at the foot.

use super::sheets::{Blank, Cell, FIRST, Number, Text, book, row, titled};
use rust_xlsxwriter::Format;

/// A room as it was taken off.
#[derive(Clone, Copy, Debug)]
pub struct Room {
    number: Cell,
    name: &'static str,
    pub level: &'static str,
    length: Cell,
    width: &'static str,
    height: &'static str,
    layers: Cell,
    board: &'static str,
    assembly: &'static str,
    spacing: Cell,
    ends: &'static str,
    drop: Cell,
    alternate: &'static str,
    finish: &'static str,
    remarks: &'static str,
}

/// An ordinary room; [`Room::but`] says what is out of the ordinary.
const fn room(number: Cell, name: &'static str, level: &'static str, length: Cell, width: &'static str) -> Room {
    Room {
        number,
        name,
        level,
        length,
        width,
        height: "",
        layers: Blank,
        board: "",
        assembly: "",
        spacing: Blank,
        ends: "",
        drop: Number(24.0),
        alternate: "",
        finish: "Level 4",
        remarks: "",
    }
}

impl Room {
    const fn finish(self, finish: &'static str, remarks: &'static str) -> Self {
        Self { finish, remarks, ..self }
    }
    const fn high(self, height: &'static str, drop: f64) -> Self {
        Self { height, drop: Number(drop), ..self }
    }
    const fn alternate(self, alternate: &'static str) -> Self {
        Self { alternate, ..self }
    }
    const fn rated(self, layers: f64, assembly: &'static str) -> Self {
        Self { layers: Number(layers), board: "rated", assembly, ..self }
    }
    const fn wet(self) -> Self {
        Self { board: "moisture", ..self }
    }
    const fn spaced(self, inches: f64) -> Self {
        Self { spacing: Number(inches), ..self }
    }
    const fn fixed(self) -> Self {
        Self { ends: "fixed", ..self }
    }
}

/// The rooms, level by level.
pub const ROOMS: &[Room] = &[
    room(Number(101.0), "Entry lobby", "Level 1", Text("28'-6\""), "19'-4\"")
        .high("12'-0\"", 42.0)
        .finish("Level 5", "Soffit over the desk; devices by others"),
    room(Number(102.0), "Vestibule", "Level 1", Text("9'-0\""), "7'-6\""),
    room(Number(103.0), "Corridor", "Level 1", Number(46.5), "6'-0\"").finish("Level 4", "Coordinate access doors"),
    room(Number(104.0), "East corridor", "Level 1", Number(38.25), "6'-0\""),
    room(Number(105.0), "Men's toilet", "Level 1", Text("12'-4 1/2\""), "9'-8\"").wet(),
    room(Number(106.0), "Women's toilet", "Level 1", Text("14'"), "9'-8\"").wet(),
    room(Number(107.0), "Janitor", "Level 1", Text("6'-2\""), "5 ft 0 in").finish("Level 2", ""),
    room(Number(108.0), "Waiting", "Level 1", Number(18.25), "13'-6\""),
    room(Number(109.0), "Reception", "Level 1", Text("12'-0\""), "10'-0\""),
    room(Number(110.0), "Exam 1", "Level 1", Text("10'-3 1/2\""), "9'-0\""),
    room(Number(111.0), "Exam 2", "Level 1", Text("10' 3.5\""), "9'-0\""),
    room(Number(112.0), "Exam 3", "Level 1", Text("10\u{2019}-3\u{bd}\u{201d}"), "9\u{2019}-0\u{201d}"),
    room(Number(113.0), "Staff lounge", "Level 1", Text("16'"), "12.5 ft").fixed(),
    room(Number(114.0), "Electrical", "Level 1", Number(11.0), "6'-8\"")
        .rated(2.0, "1 hour, invented")
        .finish("Level 1", "Two layers, rated lid"),
    room(Number(201.0), "Corridor", "Level 2", Number(52.0), "6'-0\""),
    room(Number(202.0), "West corridor", "Level 2", Number(27.5), "6'-0\""),
    room(Number(203.0), "Patient room", "Level 2", Text("14'-0\""), "12'-4\""),
    room(Text("203A"), "Patient toilet", "Level 2", Text("7'-4\""), "5'-6\"").wet(),
    room(Number(204.0), "Patient room", "Level 2", Text("14'-0\""), "12'-4\""),
    room(Text("204A"), "Patient toilet", "Level 2", Text("7'-4\""), "5'-6\"").wet(),
    room(Number(205.0), "Patient room", "Level 2", Text("14'-0\""), "12'-4\"")
        .spaced(16.0)
        .finish("Level 4", "Lift track: tees at 16"),
    room(Text("205A"), "Patient toilet", "Level 2", Text("7'-4\""), "5'-6\"").wet(),
    room(Number(206.0), "Nurse station", "Level 2", Text("16'-8\""), "11'-6\"").finish("Level 5", "Soffit"),
    room(Number(207.0), "Medication", "Level 2", Text("10'-0\""), "8'-3\""),
    room(Number(208.0), "Consultation", "Level 2", Text("3.66 m"), "3.05 m")
        .finish("Level 4", "Vendor drawing, metric"),
    room(Number(209.0), "Clean linen", "Level 2", Text("8'-9 1/4\""), "7'-2\"").finish("Level 2", ""),
    room(Number(301.0), "Corridor", "Level 3", Number(44.0), "5'-6\""),
    room(Number(302.0), "Living", "Level 3", Text("17'-6\""), "13'-0\"").finish("Level 4", "Soffit at duct"),
    room(Text("302B"), "Bedroom", "Level 3", Text("12'-2\""), "11'-0\""),
    room(Text("302C"), "Bath", "Level 3", Text("8'-0\""), "5'-0\"").wet(),
    room(Number(303.0), "Living", "Level 3", Text("17'-6\""), "13'-0\"").finish("Level 4", "Soffit at duct"),
    room(Text("303B"), "Bedroom", "Level 3", Text("12'-2\""), "11'-0\""),
    room(Text("303C"), "Bath", "Level 3", Text("8'-0\""), "5'-0\"").wet(),
    room(Number(304.0), "Laundry", "Level 3", Text("94 1/2\""), "6'-4\"").finish("Level 2", ""),
    room(Number(401.0), "Corridor", "Level 4", Number(31.75), "5'-6\""),
    room(Number(402.0), "Community room", "Level 4", Text("32'-0\""), "24'-0\"")
        .high("10'-6\"", 30.0)
        .finish("Level 5", "Soffit, both ends free"),
    room(Number(403.0), "Kitchen", "Level 4", Text("15'-3\""), "11'-8\""),
    room(Number(404.0), "Toilet", "Level 4", Text("7'-6\""), "7'-0\"").wet(),
    room(Number(405.0), "Storage", "Level 4", Text("9'-6 3/4\""), "8'-6\"")
        .alternate("Storage ceiling")
        .finish("Level 1", ""),
    room(Number(406.0), "Elevator lobby", "Level 4", Text("12'-0\""), "8'-6 1/16\""),
];

/// Openings: room, kind, long and wide in inches, how many (blank: one), weight of the fixture in pounds, remarks.
const OPENINGS: &[[Cell; 7]] = &[
    [Number(101.0), Text("Light"), Number(48.0), Number(24.0), Number(6.0), Number(62.0), Blank],
    [Number(101.0), Text("Diffuser"), Number(24.0), Number(24.0), Number(2.0), Blank, Blank],
    [Number(103.0), Text("Light"), Number(48.0), Number(12.0), Number(5.0), Blank, Blank],
    [Number(103.0), Text("Access door"), Number(24.0), Number(24.0), Number(2.0), Blank, Text("Size to be confirmed")],
    [Number(104.0), Text("Light"), Number(48.0), Number(12.0), Number(4.0), Blank, Blank],
    [Number(105.0), Text("Light"), Number(24.0), Number(24.0), Number(2.0), Blank, Blank],
    [Number(105.0), Text("Exhaust grille"), Number(12.0), Number(12.0), Blank, Blank, Blank],
    [Number(106.0), Text("Light"), Number(24.0), Number(24.0), Number(3.0), Blank, Blank],
    [Number(106.0), Text("Exhaust grille"), Number(12.0), Number(12.0), Blank, Blank, Blank],
    [Number(108.0), Text("Light"), Number(48.0), Number(24.0), Number(4.0), Blank, Blank],
    [Number(109.0), Text("Light"), Text("4'-0\""), Text("2'-0\""), Number(2.0), Blank, Text("Same as 108")],
    [Number(110.0), Text("Light"), Number(48.0), Number(24.0), Blank, Blank, Blank],
    [Number(110.0), Text("Diffuser"), Number(24.0), Number(24.0), Blank, Blank, Blank],
    [Number(111.0), Text("Light"), Number(48.0), Number(24.0), Blank, Blank, Blank],
    [Number(111.0), Text("Diffuser"), Number(24.0), Number(24.0), Blank, Blank, Blank],
    [Number(112.0), Text("Light"), Number(48.0), Number(24.0), Blank, Blank, Blank],
    [Number(112.0), Text("Diffuser"), Number(24.0), Number(24.0), Blank, Blank, Blank],
    [Number(113.0), Text("Light"), Number(48.0), Number(24.0), Number(3.0), Blank, Blank],
    [Number(114.0), Text("Access door"), Number(24.0), Number(24.0), Number(1.0), Blank, Text("Rated door")],
    [Number(201.0), Text("Light"), Number(48.0), Number(12.0), Number(6.0), Blank, Blank],
    [Number(202.0), Text("Light"), Number(48.0), Number(12.0), Number(3.0), Blank, Blank],
    [Number(203.0), Text("Light"), Number(48.0), Number(24.0), Number(2.0), Blank, Blank],
    [Number(204.0), Text("Light"), Number(48.0), Number(24.0), Number(2.0), Blank, Blank],
    [Number(205.0), Text("Light"), Number(48.0), Number(24.0), Number(2.0), Blank, Blank],
    [Text("203A"), Text("Exhaust grille"), Number(12.0), Number(12.0), Blank, Blank, Blank],
    [Text("204A"), Text("Exhaust grille"), Number(12.0), Number(12.0), Blank, Blank, Blank],
    [Text("205A"), Text("Exhaust grille"), Number(12.0), Number(12.0), Blank, Blank, Blank],
    [Number(206.0), Text("Light"), Number(24.0), Number(24.0), Number(4.0), Blank, Blank],
    [Number(208.0), Text("Light"), Text("600 mm"), Text("600 mm"), Number(2.0), Blank, Text("Metric fixture")],
    [Number(301.0), Text("Light"), Number(48.0), Number(12.0), Number(5.0), Blank, Blank],
    [Text("302C"), Text("Exhaust grille"), Number(12.0), Number(12.0), Blank, Blank, Blank],
    [Text("303C"), Text("Exhaust grille"), Number(12.0), Number(12.0), Blank, Blank, Blank],
    [Number(402.0), Text("Light"), Number(48.0), Number(24.0), Number(8.0), Blank, Blank],
    [Number(402.0), Text("Diffuser"), Number(24.0), Number(24.0), Number(4.0), Blank, Blank],
    [Number(403.0), Text("Light"), Number(48.0), Number(24.0), Number(2.0), Blank, Blank],
];

/// Soffits: room, run, drop in inches, return, its two ends (blank: a wall), tee spacing in inches (blank: 24), the wall
/// along which it runs, remarks.
const SOFFITS: &[[Cell; 9]] = &[
    [
        Number(101.0),
        Text("19'-4\""),
        Number(18.0),
        Text("3'-6\""),
        Text("wall"),
        Text("wall"),
        Blank,
        Text("east"),
        Text("Over the desk, wall to wall"),
    ],
    [Number(206.0), Text("16'-8\""), Number(14.0), Text("2'-0\""), Blank, Text("free"), Blank, Blank, Blank],
    [Number(302.0), Text("13'-0\""), Number(12.0), Text("2'-6\""), Blank, Blank, Blank, Text("west"), Text("At duct")],
    [Number(303.0), Text("13'-0\""), Number(12.0), Text("2'-6\""), Blank, Blank, Blank, Text("west"), Text("At duct")],
    [
        Number(402.0),
        Text("24'-0\""),
        Number(16.0),
        Text("4'-0\""),
        Text("free"),
        Text("free"),
        Number(16.0),
        Blank,
        Blank,
    ],
];

/// The rooms workbook; with two rows that cannot be priced, if asked.
pub fn workbook(with_problems: bool) -> Vec<u8> {
    let mut book = book("Millrace Building (invented): ceiling takeoff");
    let rooms: Vec<Room> = ROOMS.iter().map(|r| if with_problems { spoiled(*r) } else { *r }).collect();
    let title = if with_problems {
        "Millrace Building (invented) \u{2013} ceiling takeoff, two rows with problems"
    } else {
        "Millrace Building (invented) \u{2013} ceiling takeoff"
    };
    write_rooms(book.add_worksheet().set_name("Rooms").unwrap(), title, &rooms);
    let openings = book.add_worksheet().set_name("Openings").unwrap();
    titled(
        openings,
        "Openings (invented building)",
        "Sizes are clear, in inches unless marked.",
        &[9.0, 16.0, 11.0, 11.0, 7.0, 12.0, 26.0],
        &["Rm", "Kind", "Long (in)", "Wide (in)", "Qty", "Fixture weight (lb)", "Remarks"],
    );
    for (at, cells) in OPENINGS.iter().enumerate() {
        row(openings, FIRST + u32::try_from(at).unwrap(), cells);
    }
    let soffits = book.add_worksheet().set_name("Soffits").unwrap();
    titled(
        soffits,
        "Soffits (invented building)",
        "One row for each straight run.",
        &[9.0, 11.0, 11.0, 11.0, 9.0, 9.0, 11.0, 11.0, 30.0],
        &["Room", "Run", "Drop (in)", "Return", "One end", "Other end", "Tee spacing (in)", "Along wall", "Remarks"],
    );
    for (at, cells) in SOFFITS.iter().enumerate() {
        row(soffits, FIRST + u32::try_from(at).unwrap(), cells);
    }
    let job = book.add_worksheet().set_name("Job").unwrap();
    job.set_column_width(0, 18).unwrap().set_column_width(1, 52).unwrap();
    for (at, (name, value)) in [
        ("Project", "Millrace Building, an invented clinic with apartments above"),
        ("Location", "Nowhere in particular (invented)"),
        ("Bid to", "Any General Contractor (invented)"),
        ("Drawings", "A-101 to A-404 dated 2026-01-05 (invented)"),
        ("Addenda", "1 and 2 (invented)"),
        (
            "Includes",
            "Framing, board and finish of the ceilings on sheet Rooms; soffits; openings for lights and diffusers",
        ),
        ("Lifts and scaffold", "Rolling towers up to 12 ft; no lifts"),
    ]
    .into_iter()
    .enumerate()
    {
        let at = u32::try_from(at).unwrap();
        job.write_with_format(at, 0, name, &Format::new().set_bold()).unwrap();
        job.write(at, 1, value).unwrap();
    }
    book.save_to_buffer().unwrap()
}

/// The rows with problems: two lengths in one cell, and three layers, for which no table has a tested span.
fn spoiled(room: Room) -> Room {
    match room.name {
        "Medication" => Room { length: Text("10'-0 x 8'-3"), ..room },
        "Electrical" => Room { layers: Number(3.0), ..room },
        _ => room,
    }
}

fn write_rooms(sheet: &mut rust_xlsxwriter::Worksheet, title: &str, rooms: &[Room]) {
    titled(
        sheet,
        title,
        "An invented building for demonstration. Taken off by J. D. from plans that do not exist.",
        &[8.0, 18.0, 9.0, 12.0, 10.0, 10.0, 8.0, 10.0, 16.0, 6.0, 10.0, 12.0, 8.0, 9.0, 15.0, 10.0, 36.0],
        &[
            "Rm",
            "Room name",
            "Level",
            "Length (ft)",
            "Width",
            "Ceiling height",
            "Layers",
            "Board kind",
            "Rated assembly",
            "SDC",
            "Tee spacing (in)",
            "Strongback ends",
            "Drop (in)",
            "Delivery",
            "Alternate",
            "Finish",
            "Remarks",
        ],
    );
    let text = |t: &'static str| if t.is_empty() { Blank } else { Text(t) };
    let mut at = FIRST;
    for room in rooms {
        row(
            sheet,
            at,
            &[
                room.number,
                Text(room.name),
                Text(room.level),
                room.length,
                Text(room.width),
                text(room.height),
                room.layers,
                text(room.board),
                text(room.assembly),
                Text("D"),
                room.spacing,
                text(room.ends),
                room.drop,
                Text(if matches!(room.level, "Level 1" | "Level 2") { "1" } else { "2" }),
                text(room.alternate),
                Text(room.finish),
                text(room.remarks),
            ],
        );
        // a blank row where the first level ends
        at += if room.name == "Electrical" { 2 } else { 1 };
    }
    let bold = Format::new().set_bold();
    sheet.write_with_format(at, 0, "Total", &bold).unwrap();
    sheet.write_with_format(at, 1, "40 rooms", &bold).unwrap();
}
