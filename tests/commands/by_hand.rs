//! One room under each scheme, and rooms that are no plain rectangles, priced with the built-in ceilings book: every line
//! of material and labor, its quantity and its cost, worked out by hand from the rules of the trade.
//!
//! Where a rule is not the trade's own but a decision of the book, the book's remarks say so. Costs are invented, round
//! ones: see [`PRICES`] and [`LABOR`]. Lengths are reckoned in inches, and a cost is rounded to the cent once, halves up.

#[path = "by_hand/rooms.rs"]
mod rooms;
#[path = "by_hand/schemes.rs"]
mod schemes;

use super::{below_headings, hardlid, is, sheet};
use calamine::Data;
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;
use rooms::*;
use rust_xlsxwriter::Workbook;
use schemes::*;

/// Code, sold by, pack, stock length, cost; and what that makes for one foot, square foot or piece.
const PRICES: &[[&str; 5]] = &[
    ["ST", "ea", "", "16'", "8.00"],       // 0.50 a foot
    ["TA", "ea", "", "10'", "8.00"],       // 0.80 a foot
    ["PA", "ea", "", "10'", "4.00"],       // 0.40 a foot
    ["SB", "ea", "", "16'", "16.00"],      // 1.00 a foot
    ["MT", "ea", "", "12'", "9.60"],       // 0.80 a foot
    ["CT", "ea", "", "4'", "2.40"],        // 0.60 a foot
    ["TM", "ea", "", "12'", "14.40"],      // 1.20 a foot
    ["DC", "ea", "", "", "0.75"],          // 0.75 each
    ["CR", "ea", "", "16'", "11.20"],      // 0.70 a foot
    ["FC", "ea", "", "12'", "4.80"],       // 0.40 a foot
    ["FT", "M", "", "", "50.00"],          // 0.05 each
    ["HW-12", "coil", "500 ft", "", "25"], // 0.05 a foot
    ["WA", "ea", "", "", "0.60"],          // 0.60 each
    ["WA-M", "ea", "", "", "0.70"],        // 0.70 each
    ["SF", "M", "", "", "20.00"],          // 0.02 each
    ["PN", "C", "", "", "25.00"],          // 0.25 each
    ["GB-58", "MSF", "", "", "400.00"],    // 0.40 a square foot
    ["SB-114", "M", "", "", "10.00"],      // 0.01 each
    ["JT", "roll", "500 ft", "", "5.00"],  // 0.01 a foot
    ["JC", "pail", "5 gal", "", "20.00"],  // 4.00 a gallon
    ["CJ", "ea", "", "10'", "5.00"],       // 0.50 a foot
    ["CB", "ea", "", "10'", "2.50"],       // 0.25 a foot
    // the same board, sheet by sheet
    ["GB-58-8", "sheet", "4' x 8'", "", "12.80"],
    ["GB-58-10", "sheet", "4' x 10'", "", "16.00"],
    ["GB-58-12", "sheet", "4' x 12'", "", "19.20"],
];

/// Code, hours, for each. The crew is 40.00 with 25% burden: 50.00 an hour.
const LABOR: &[[&str; 3]] = &[
    ["L-TEE", "0.01", "ft"],  // 0.50
    ["L-SB", "0.02", "ft"],   // 1.00
    ["L-TIE", "0.1", "ea"],   // 5.00
    ["L-GRID", "0.03", "sf"], // 1.50
    ["L-CHN", "0.04", "sf"],  // 2.00
    ["L-DECK", "0.05", "ft"], // 2.50
    ["L-OPN", "0.5", "ea"],   // 25.00
    ["L-SOF", "0.2", "ft"],   // 10.00
    ["L-BRD", "0.02", "sf"],  // 1.00
];

/// Room, length, width, perimeter, scheme wanted, drop.
const ROOMS: &[[&str; 6]] = &[
    ["wall to wall", "12'", "7'", "", "wall to wall", ""],
    ["strongbacks", "20'", "14'", "", "strongbacks", ""],
    ["ties", "16'", "12'", "", "ties", ""],
    ["hung grid", "20'", "14'", "", "hung grid", ""],
    ["channel", "20'", "14'", "", "channel", ""],
    ["tight to deck", "16'", "12'", "", "tight to deck", "4\""],
    ["L with column", "", "", "16' E, 4' N, 6'-8\" W, 3' N, 9'-4\" W, 7' S", "wall to wall", ""],
    ["light", "12'", "7'", "", "wall to wall", ""],
    ["soffit", "12'", "7'", "", "wall to wall", ""],
    ["soffit west", "12'", "7'", "", "wall to wall", ""],
    ["near the deck", "16'", "12'", "", "strongbacks", "4\""],
];

/// Room, wall, offset, width, depth: a column 16 in. wide that stands 12 in. into the room.
const JOGS: &[[&str; 5]] = &[["L with column", "south", "5'", "16\"", "12\""]];

/// Room, long (east and west), wide, from west, from south.
const OPENINGS: &[[&str; 5]] = &[["light", "4'", "2'", "3'", "2'-6\""]];

/// Room, run, drop, return, other end, the wall along which it takes its place from the ceiling.
const SOFFITS: &[[&str; 6]] =
    &[["soffit", "10'", "12\"", "18\"", "free", ""], ["soffit west", "7'", "12\"", "2'", "wall", "west"]];

/// A line: what it is, how it comes about, its quantity in feet, square feet, gallons or pieces, its cost.
type Line = (&'static str, &'static str, f64, &'static str);

/// A house whose yard tells lengths of sheet apart by code.
const HOUSE: &str = "\
book \"Board by length\"  edition \"1\"
use \"hardlid ceilings\"

replace table board_code  \"Board by kind, thickness and length\"  source \"this house\"
    kind text, exact | thickness length, exact | sheet length, from, otherwise 12' | code text
    regular          | 5/8\"                    | 8'                                | \"GB-58-8\"
    regular          | 5/8\"                    | 10'                               | \"GB-58-10\"
    regular          | 5/8\"                    | 12'                               | \"GB-58-12\"
end
";

fn workbook(sheets: &[(&str, Vec<Vec<&str>>)]) -> Vec<u8> {
    let mut book = Workbook::new();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet().set_name(*name).unwrap();
        for (row, cells) in (0u32..).zip(rows) {
            for (column, text) in (0u16..).zip(cells).filter(|(_, text)| !text.is_empty()) {
                sheet.write_string(row, column, *text).unwrap();
            }
        }
    }
    book.save_to_buffer().unwrap()
}

fn table<const N: usize>(heads: [&'static str; N], rows: &[[&'static str; N]]) -> Vec<Vec<&'static str>> {
    std::iter::once(&heads).chain(rows).map(|row| row.to_vec()).collect()
}

fn machine() -> Memory {
    let heads = ["Room", "Length", "Width", "Perimeter", "Scheme wanted", "Drop"];
    let rooms = workbook(&[
        ("Rooms", table(heads, ROOMS)),
        ("Jogs", table(["Room", "Wall", "Offset", "Width", "Depth"], JOGS)),
        ("Openings", table(["Room", "Long", "Wide", "From west", "From south"], OPENINGS)),
        ("Soffits", table(["Room", "Run", "Drop", "Return", "Other end", "Along wall"], SOFFITS)),
    ]);
    let spliced = workbook(&[
        (
            "Rooms",
            table(
                heads,
                &[
                    ["over strongback", "20'", "14'", "", "strongbacks", ""],
                    ["scrap", "20'", "14'", "", "ties", ""],
                    ["room for 8 ft", "16'", "12'", "", "ties", ""],
                ],
            ),
        ),
        ("Job", vec![vec!["Tee stock", "12'"]]),
    ]);
    let more = workbook(&[
        (
            "Rooms",
            table(
                ["Room", "Length", "Width", "Perimeter", "Scheme wanted", "Drop", "SDC", "Ends", "Walls", "Deck"],
                &[
                    ["lights", "20'", "14'", "", "strongbacks", "30\"", "D", "fixed", "concrete", "metal"],
                    ["corridor", "46'-6\"", "6'", "", "wall to wall", "", "", "", "", ""],
                    ["L", "", "", "20' E, 8' N, 7'-8\" W, 6' N, 12'-4\" W, 14' S", "strongbacks", "", "", "", "", ""],
                    ["leg", "", "", "40' E, 30' N, 6' W, 24' S, 34' W, 6' S", "strongbacks", "", "", "", "", ""],
                ],
            ),
        ),
        (
            "Openings",
            table(
                ["Room", "Kind", "Long", "Wide", "From west", "From south", "Flushed with"],
                &[
                    ["lights", "light", "4'", "2'", "1'", "1'", ""],
                    ["lights", "panel", "18\"", "4'", "8'-4\"", "1'", "board"],
                    ["lights", "grille", "12\"", "12\"", "14'-2\"", "0\"", ""],
                ],
            ),
        ),
        ("Job", vec![vec!["Buy headers", "yes"]]),
    ]);
    let labor = LABOR.iter().map(|[code, hours, unit]| [*code, *code, *hours, *unit, "Crew"]);
    let labor: Vec<[&str; 5]> = labor.collect();
    let prices: Vec<[&str; 6]> =
        PRICES.iter().map(|[code, by, pack, stock, cost]| [*code, *code, *by, *pack, *stock, *cost]).collect();
    let yard = workbook(&[
        ("Prices", table(["Code", "Item", "Sold by", "Pack", "Stock length", "Cost"], &prices)),
        ("Labor", table(["Code", "Work", "Hours per unit", "Unit", "Crew"], &labor)),
        ("Crews", table(["Crew", "Wage", "Burden"], &[["Crew", "40", "25%"]])),
    ]);
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", rooms)
        .with("spliced.xlsx", spliced)
        .with("more.xlsx", more)
        .with("yard.xlsx", yard)
        .with("house.lid", HOUSE)
}

/// The lines of a room that come to something: item, quantity, cost.
fn lines_of(bytes: &[u8], wanted: &str) -> Vec<(String, f64, String)> {
    let range = sheet(bytes, "Lines");
    let (heads, rows) = below_headings(&range, "Code");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap_or_else(|| panic!("no column {name}"));
    let (room, item) = (column("Room"), column("Item or work"));
    let (quantity, cost) = (column("Quantity with waste"), column("Cost ($)"));
    let number = |cell: &Data| if let Data::Float(v) = cell { *v } else { 0.0 };
    let of_room = rows.into_iter().filter(|row| is(&row[room], wanted) && number(&row[quantity]) != 0.0);
    of_room.map(|row| (row[item].to_string(), number(&row[quantity]), format!("{:.2}", number(&row[cost])))).collect()
}

/// What differs between a room's lines and those worked out by hand.
fn differences(bytes: &[u8], room: &str, by_hand: &[Line]) -> Vec<String> {
    let shown = lines_of(bytes, room);
    let mut wrong = Vec::new();
    for (item, how, quantity, cost) in by_hand {
        match shown.iter().find(|line| line.0 == *item) {
            None => wrong.push(format!("{room}: no {item} ({how})")),
            Some((_, found, money)) if (found - quantity).abs() > 1e-9 || money != cost => {
                wrong.push(format!("{room}: {item} is {found}, ${money}; by hand {quantity}, ${cost} ({how})"));
            }
            Some(_) => {}
        }
    }
    let known = |line: &&(String, f64, String)| !by_hand.iter().any(|(item, ..)| *item == line.0);
    wrong.extend(shown.iter().filter(known).map(|(item, found, _)| format!("{room}: {item}, {found}, is not by hand")));
    if shown.len() > by_hand.len() && wrong.is_empty() {
        wrong.push(format!("{room}: a line is there twice"));
    }
    wrong
}

#[test]
fn every_line_of_a_room_under_each_scheme_is_as_by_hand() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price rooms.xlsx --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let rooms = [
        ("wall to wall", WALL_TO_WALL),
        ("strongbacks", STRONGBACKS),
        ("ties", TIES),
        ("hung grid", HUNG_GRID),
        ("channel", CHANNEL),
        ("tight to deck", TIGHT_TO_DECK),
        ("L with column", L_WITH_COLUMN),
        ("light", LIGHT),
        ("soffit", SOFFIT),
        ("soffit west", SOFFIT_WEST),
        ("near the deck", NEAR_THE_DECK),
    ];
    assert_eq!(rooms.len(), ROOMS.len());
    let wrong: Vec<String> = rooms.iter().flat_map(|(room, by_hand)| differences(&bytes, room, by_hand)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn tees_longer_than_the_stock_of_the_house_are_spliced() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price spliced.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("spliced.priced.xlsx").unwrap();
    let rooms = [("over strongback", SPLICED_OVER_STRONGBACK), ("scrap", SPLICED_WITH_SCRAP), ("room for 8 ft", TIES)];
    let wrong: Vec<String> = rooms.iter().flat_map(|(room, by_hand)| differences(&bytes, room, by_hand)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Two rooms of 7 sheets of 10 ft, and one of 6 sheets of 8 ft, at $16.00 and $12.80.
#[test]
fn sheets_are_ordered_by_length_where_codes_tell_them_apart() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price spliced.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let order = sheet(&machine.bytes("spliced.priced.xlsx").unwrap(), "Order");
    let (heads, rows) = below_headings(&order, "Sold as");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let board = rows.iter().filter(|r| r[column("Code")].to_string().starts_with("GB-"));
    let board: Vec<[String; 4]> =
        board.map(|r| ["Code", "Buy", "Left over", "Cost ($)"].map(|name| r[column(name)].to_string())).collect();
    assert_eq!(board, [["GB-58-10", "14", "0", "224"], ["GB-58-8", "6", "0", "76.8"]]);
}

#[test]
fn openings_in_their_places_control_joints_and_an_l_are_as_by_hand() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price more.xlsx --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("more.priced.xlsx").unwrap();
    let rooms = [("lights", LIGHTS), ("corridor", CORRIDOR), ("L", L_OVER_STRONGBACK)];
    let wrong: Vec<String> = rooms.iter().flat_map(|(room, by_hand)| differences(&bytes, room, by_hand)).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// An L of 40 by 6 ft with a leg 6 ft wide and 24 ft long. Its tees run north and south, 30 ft in the leg: strongbacks at
/// 7'-6", 15' and 22'-6" lie there alone, 6 ft each, and are hung and paid for as long as they are. That the leg could be
/// framed across is said; where the row says which way tees run, it is not.
#[test]
fn strongbacks_of_an_l_are_as_long_as_they_lie() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price more.xlsx --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("more.priced.xlsx").unwrap();
    let lines = lines_of(&bytes, "leg");
    for (item, quantity, cost) in [
        ("Strongback", 18.0, "18.00"),
        ("Hang strongbacks", 18.0, "18.00"),
        // two wires of 18 in. on each: 2 ft off both walls of the leg, 2 ft apart
        ("Hanger wire", 9.0, "0.45"),
    ] {
        assert!(lines.contains(&(item.to_owned(), quantity, cost.to_owned())), "{item}: {lines:?}");
    }
    let told = |bytes: &[u8]| {
        let checks = sheet(bytes, "Checks");
        // the lines at 36 and 38 ft
        let told = |row: &&[Data]| row.iter().any(|c| c.to_string().starts_with("2 lines of tees run the long way"));
        checks.rows().filter(told).count()
    };
    assert_eq!(told(&bytes), 1);
    let north = "Room,Perimeter,Tees run\nleg,\"40' E, 30' N, 6' W, 24' S, 34' W, 6' S\",north\n";
    let machine = machine.with("north.csv", north);
    assert_eq!(hardlid(&machine, "price north.csv --prices yard.xlsx"), Ended::Done);
    assert_eq!(told(&machine.bytes("north.priced.xlsx").unwrap()), 0);
}
