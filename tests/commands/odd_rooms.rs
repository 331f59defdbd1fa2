//! Rooms that nobody would draw, and some that somebody did: each is laid out, or refused with its room and corner named.

use super::common::workbook;
use super::{below_headings, hardlid, is, says, sheet};
use calamine::Data;
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;

/// Room, length, width, perimeter, and the area in square feet.
const SOUND: &[([&str; 4], f64)] = &[
    (["tiny", "1\"", "1\"", ""], 1.0 / 144.0),
    (["closet", "1'", "1'", ""], 1.0),
    (["corridor", "1000'", "4'", ""], 4_000.0),
    // 30 x 20 less the notch of 10 x 12
    (["U", "", "", "30' E, 20' N, 10' W, 12' S, 10' W, 12' N, 10' W, 20' S"], 480.0),
    // 20 x 8 and 12 x 6, anticlockwise and clockwise
    (["L", "", "", "20' E, 8' N, 8' W, 6' N, 12' W, 14' S"], 232.0),
    (["L back", "", "", "14' N, 12' E, 6' S, 8' E, 8' S, 20' W"], 232.0),
    // by the surveyor's formula: 1600 + 1600 - 300 + 600 + 600 - 100 - 200 + 80 + 144 + 28 - 312 - 312 + 308 + 88 - 1152
    // - 1152 + 144 is 1,664, twice the area
    (
        [
            "spiral",
            "",
            "",
            "0',0'; 40',0'; 40',40'; 0',40'; 0',10'; 30',10'; 30',30'; 10',30'; 10',20'; 20',20'; 20',24'; 14',24'; \
             14',26'; 26',26'; 26',14'; 4',14'; 4',36'; 36',36'; 36',4'; 0',4'",
        ],
        832.0,
    ),
    // corners in the middle of a wall, first and last point the same, points anywhere on the drawing
    (["collinear", "", "", "5' E, 5' E, 10' E, 14' N, 20' W, 7' S, 7' S"], 280.0),
    (["closed", "", "", "0',0'; 20',0'; 20',14'; 0',14'; 0',0'"], 280.0),
    (["far off", "", "", "1000',1000'; 1020',1000'; 1020',1014'; 1000',1014'"], 280.0),
    (["below zero", "", "", "-10',-7'; 10',-7'; 10',7'; -10',7'"], 280.0),
    (["in words", "", "", "20 ft east, 14 ft north, 20 ft west, 14 ft south"], 280.0),
    // half of 20 x 14, half of 20 x 20
    (["triangle", "", "", "0',0'; 20',0'; 0',14'"], 140.0),
    (["diamond", "", "", "10',0'; 20',10'; 10',20'; 0',10'"], 200.0),
    // 2 x 2 ft off 280: one column at its wall, two side by side, two that touch at a corner
    (["at wall", "20'", "14'", ""], 276.0),
    (["beside", "20'", "14'", ""], 272.0),
    (["at corner", "20'", "14'", ""], 272.0),
    // nine columns of 6 in., each a quarter of a square foot
    (["columns", "20'", "14'", ""], 277.75),
    // 1/64 in. each way: less than the seven places of a millionth
    (["hair", "20'", "14'", ""], 280.0),
    // length and width beside a perimeter that is another: the perimeter is taken
    (["two sizes", "20'", "14'", "30' E, 14' N, 30' W, 14' S"], 420.0),
];

/// Room, length, width, perimeter, and what is said of it.
const REFUSED: &[([&str; 4], &str)] = &[
    (["far", "100000'", "4'", ""], "longer than 2000'-0\""),
    (["open", "", "", "20' E, 14' N, 19' W, 14' S"], "does not close: side 4 ends 1'-0\" east of corner 1"),
    (["ajar", "", "", "20' E, 14' N, 19'-11 63/64\" W, 14' S"], "side 4 ends 1/64\" east of corner 1"),
    (["back", "", "", "25' E, 5' W, 14' N, 20' W, 14' S"], "crosses itself: side 1 meets side 2"),
    (
        ["twice", "", "", "20' E, 14' N, 20' W, 14' S, 20' E, 14' N, 20' W, 14' S"],
        "crosses itself: side 1 meets side 4",
    ),
    (["bow tie", "", "", "0',0'; 20',14'; 20',0'; 0',14'"], "crosses itself: side 1 meets side 3"),
    (
        ["eight", "", "", "0',0'; 10',0'; 10',10'; 20',10'; 20',20'; 10',20'; 10',10'; 0',10'"],
        "crosses itself: side 2 meets side 6",
    ),
    (["two", "", "", "20' E, 20' W"], "has 2 sides and nothing inside"),
    (["nought", "", "", "20' E, 0' N, 14' N, 20' W, 14' S"], "Side 2 is 0\""),
    (["below", "", "", "20' E, -14' S, 20' W, 14' S"], "Side 2 is -14'-0\""),
    (["again", "", "", "0',0'; 20',0'; 20',0'; 20',14'; 0',14'"], "Side 2 is 0\""),
    (["arc", "", "", "20' E, 14' N arc 7', 20' W, 14' S"], "sides are straight"),
    (["radius", "", "", "20' E, R 7' N, 20' W, 14' S"], "Side 2 cannot be read: ‘R 7' N’, sides are straight"),
    (["no commas", "", "", "20' E 14' N 20' W 14' S"], "several directions; part sides by commas"),
    (["bare", "", "", "0,0; 20,0; 20,14; 0,14"], "Corner 2 cannot be read: ‘20’, it has no unit"),
    (["commas", "", "", ",,,"], "Corner 1 cannot be read"),
    (["huge", "", "", "999999999999999999999' E, 14' N, 20' W, 14' S"], "Side 1 is longer than 2000'-0\""),
    (["half", "20'", "", ""], "neither length and width nor a perimeter"),
    (["upon", "20'", "14'", ""], "Jog 1 and jog 2 overlap"),
    (["cut", "20'", "14'", ""], "Jog 1 is 14'-0\" deep; the room is 14'-0\" there"),
    (["filled", "20'", "14'", ""], "Jog 1 is 20'-0\" wide; the room is 20'-0\" there"),
    (["past", "20'", "14'", ""], "Jog 1 goes 1'-0\" past the end of the south wall"),
    (["up", "20'", "14'", ""], "“up” of jog 1 is no wall or corner of the room"),
    (["out", "20'", "14'", ""], "Jog 1 goes out of the room at a corner"),
];

/// Room, wall, offset, width, depth, in or out, off wall.
const JOGS: &[[&str; 7]] = &[
    ["at wall", "south", "8'", "2'", "2'", "in", "0\""],
    ["beside", "south", "8'", "2'", "2'", "in", "4'"],
    ["beside", "south", "10'", "2'", "2'", "in", "4'"],
    ["at corner", "south", "8'", "2'", "2'", "in", "4'"],
    ["at corner", "south", "10'", "2'", "2'", "in", "6'"],
    ["hair", "south", "8'", "1/64\"", "1/64\"", "in", ""],
    ["upon", "south", "8'", "4'", "4'", "in", "4'"],
    ["upon", "south", "10'", "4'", "4'", "in", "6'"],
    ["cut", "south", "8'", "2'", "14'", "in", ""],
    ["filled", "south", "0'", "20'", "14'", "in", ""],
    ["past", "south", "19'", "2'", "2'", "in", ""],
    ["up", "up", "0'", "2'", "2'", "in", ""],
    ["out", "NE", "0'", "2'", "2'", "out", ""],
];

#[test]
fn odd_rooms_are_laid_out_or_refused_by_room_and_corner() {
    let heads: &[&str] = &["Room", "Length", "Width", "Perimeter"];
    let all: Vec<&[&str]> = std::iter::once(heads)
        .chain(SOUND.iter().map(|r| r.0.as_slice()))
        .chain(REFUSED.iter().map(|r| r.0.as_slice()))
        .collect();
    let columns: Vec<[String; 2]> = (0..9).map(|i| ["columns".to_owned(), format!("{}'", 2 * i + 1)]).collect();
    let columns: Vec<[&str; 7]> =
        columns.iter().map(|[room, at]| [room, "south", at, "6\"", "6\"", "in", "3'"]).collect();
    let heads: &[&str] = &["Room", "Wall", "Offset", "Width", "Depth", "In or out", "Off wall"];
    let jogs: Vec<&[&str]> =
        std::iter::once(heads).chain(JOGS.iter().chain(&columns).map(<[&str; 7]>::as_slice)).collect();
    let machine =
        Memory::new(Date::new(2026, 3, 2).unwrap()).with("rooms.xlsx", workbook(&[("Rooms", &all), ("Jogs", &jogs)]));
    assert_eq!(hardlid(&machine, "price rooms.xlsx --plans drawn"), Ended::WithStops);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();

    let rooms = sheet(&bytes, "Rooms");
    let (heads, rows) = below_headings(&rooms, "Ceiling area (sf)");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let area = |room: &str| {
        let row = rows.iter().find(|r| is(&r[column("Room")], room)).unwrap();
        row[column("Ceiling area (sf)")].clone()
    };
    for ([room, ..], wanted) in SOUND {
        let Data::Float(got) = area(room) else { panic!("{room} has no area") };
        assert!((got - wanted).abs() < 0.000_002, "{room}: {got}, not {wanted}");
    }
    let checks = sheet(&bytes, "Checks");
    for ([room, ..], what) in REFUSED {
        assert!(!matches!(area(room), Data::Float(_)), "{room}");
        let told = |row: &[Data]| row.iter().any(|c| c.to_string().contains(&format!("In room {room}: ")));
        let told: Vec<String> = checks.rows().filter(|r| told(r)).map(|r| format!("{r:?}")).collect();
        let what = what.replace('"', "\\\"");
        assert!(told.iter().any(|t| t.contains(&what)), "{room}: {told:?} does not say {what}");
    }
    assert!(says(&checks, "The perimeter is 14'-0\" by 30'-0\"; length and width say 20'-0\" by 14'-0\""));
    assert!(says(&checks, "The room is 1\" by 1\": look at the units"));
    for name in ["drawn/U.svg", "drawn/L-back.svg", "drawn/spiral.svg", "drawn/tiny.svg", "drawn/columns.svg"] {
        assert!(machine.bytes(name).is_some(), "{name}");
    }
}
