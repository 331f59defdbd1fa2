//! What the built-in ceilings book stops, warns and notes. Sources: `loads.rs`, `hanging.rs` and `spans.rs` beside this.
#![allow(clippy::disallowed_methods, reason = "a test that cannot go on fails")]

use calamine::{Data, Reader as _, Xlsx};
use hardlid::command::{Ended, run};
use hardlid::quantity::Date;
use hardlid::system::Memory;
use std::io::Cursor;

/// Rooms priced under a book, as the rows of sheet Checks, each in one line.
fn checks(book: &str, rooms: &str) -> (Ended, Vec<String>) {
    let machine = Memory::new(Date::constant(2026, 3, 2)).with("rooms.csv", rooms).with("house.lid", book);
    let ended = run(["hardlid", "price", "rooms.csv", "--rules", "house.lid"], &machine);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let mut written: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).unwrap();
    let sheet = written.worksheet_range("Checks").unwrap();
    let line = |row: &[Data]| row.iter().map(ToString::to_string).collect::<Vec<_>>().join(" | ");
    (ended, sheet.rows().map(line).collect())
}

/// The lines that speak of a room.
fn of<'a>(lines: &'a [String], room: &str) -> Vec<&'a str> {
    lines.iter().filter(|l| l.split(" | ").any(|c| c == room)).map(String::as_str).collect()
}

fn says(lines: &[&str], parts: &[&str]) -> bool {
    lines.iter().any(|l| parts.iter().all(|p| l.contains(p)))
}

const HOUSE: &str = "book \"House\" edition \"1\"\nuse \"hardlid ceilings\"\n";

#[test]
fn each_check_speaks_of_its_room_alone() {
    let rooms = "Room,Length,Width,SDC,Layers,Insulation (psf),Other load (psf),Surrounded,Rated assembly,Tee spacing (in)\n\
                 plain,12',7',B,,,,,,\n\
                 wire,20',17',B,,,,,,\n\
                 heavy,12',7',B,,,8,,,\n\
                 lagged,12',7',B,,2.3,,,,\n\
                 open,40',30',D,,,,no,,\n\
                 small,14',10',D,,,,no,,\n\
                 rated,12',7',B,,,,,1 hour,\n\
                 pitch,12',7',B,,,,,,20\n\
                 double,12',7',B,2,,,,,\n";
    let (ended, lines) = checks(HOUSE, rooms);
    assert_eq!(ended, Ended::WithStops);
    assert_eq!(of(&lines, "plain"), Vec::<&str>::new());
    // 10/8 x 8'-6" x 4 ft x 2.75 psf
    assert!(says(&of(&lines, "wire"), &["116.875 lb", "100 lb"]), "{lines:#?}");
    // 2.75 + 8 psf
    assert!(says(&of(&lines, "heavy"), &["10.75 psf", "10 psf"]), "{lines:#?}");
    assert!(says(&of(&lines, "lagged"), &["2.3 psf", "unsupported"]), "{lines:#?}");
    assert!(says(&of(&lines, "open"), &["1,200 sf", "not exempt"]), "{lines:#?}");
    assert!(says(&of(&lines, "open"), &["lateral bracing 12 ft o.c."]), "{lines:#?}");
    assert!(says(&of(&lines, "rated"), &["1 hour", "regular"]), "{lines:#?}");
    assert!(says(&of(&lines, "pitch"), &["20\"", "tabs"]), "{lines:#?}");
    assert!(says(&of(&lines, "double"), &["tested_span", "layers 2"]), "{lines:#?}");
    // 140 sf are exempt
    assert_eq!(of(&lines, "small"), Vec::<&str>::new());
    // what was not checked is said once, for the job
    assert_eq!(lines.iter().filter(|l| l.contains("no strongback section is named")).count(), 1);
    assert_eq!(lines.iter().filter(|l| l.contains("no tee section is named")).count(), 1);
}

/// 20 × 17 ft: one strongback carries 116.875 lb over 4 ft, 29.22 plf, and bends w L²/8 = 58.4 ft-lb, 701 in-lb. By the
/// published table 087F125-18 may bend 317 in-lb, 150F125-30 1,263.
#[test]
fn a_strongback_is_held_to_its_section() {
    // over strongbacks by name: left free, the room would be tied at mid-span instead
    let rooms = "Room,Length,Width,Scheme wanted\nhall,20',17',strongbacks\n";
    for (section, stops) in [("087F125-18", true), ("150F125-30", false)] {
        let book = format!("{HOUSE}rows job\n    strongback_section text otherwise \"{section}\"\nend\n");
        let (ended, lines) = checks(&book, rooms);
        assert_eq!(ended, if stops { Ended::WithStops } else { Ended::Done }, "{section}: {lines:#?}");
        assert_eq!(says(&of(&lines, "hall"), &["strongback", "bends more"]), stops, "{section}: {lines:#?}");
        assert!(!lines.iter().any(|l| l.contains("no strongback section")), "{section}");
    }
}

/// A tee of 087F125-18 under 2.75 psf at 16 in. o.c. reaches 64.3 in. within L/240 (`spans.rs` for the formula): a run of
/// 10'-8" in two parts of 64 in. passes, and one of 10'-9" takes three. By the tested span alone it would be two parts.
#[test]
fn deflection_governs_where_the_section_is_known() {
    let book = format!(
        "{HOUSE}rows job\n    tee_section text otherwise \"087F125-18\"\nend\n
example \"within\"
    rooms id \"1\"  length 20'  width 10'-8\"
    shows strongbacks = 1  spacing = 16\"  governed_by = deflection
end
example \"beyond\"
    rooms id \"1\"  length 20'  width 10'-9\"
    shows strongbacks = 2  governed_by = deflection
end
"
    );
    let machine = Memory::new(Date::constant(2026, 3, 2)).with("house.lid", book);
    assert_eq!(run(["hardlid", "try", "house.lid"], &machine), Ended::Done);
}

/// A word that is none is told once, with its cell, and stops its own room.
#[test]
fn an_unknown_way_of_the_tees_is_told_once() {
    let (ended, lines) = checks(HOUSE, "Room,Length,Width,Tees run\nhall,12',7',sideways\nden,12',7',North\n");
    assert_eq!(ended, Ended::WithStops);
    let told: Vec<&String> = lines.iter().filter(|l| l.contains("sideways")).collect();
    assert_eq!(told.len(), 1, "{lines:#?}");
    assert!(told[0].contains("| D2 |") && told[0].contains("“north”"), "{told:?}");
    assert_eq!(of(&lines, "den"), Vec::<&str>::new());
}

/// Common practice: from flush with the deck down to 5-1/2 in. clips hold, and no wire is tied. A hung grid that is asked for
/// there by name is priced, with a warning.
#[test]
fn wires_too_short_to_be_tied_are_told() {
    let rooms = "Room,Length,Width,Drop,Scheme wanted\nlow,20',14',5.5\",hung grid\nclips,20',14',5.5\",strongbacks\n\
                 wires,20',14',5-9/16\",hung grid\n";
    let (ended, lines) = checks(HOUSE, rooms);
    assert_eq!(ended, Ended::Done);
    assert!(says(&of(&lines, "low"), &["Wires 5 1/2\" long are too short to be tied"]), "{lines:#?}");
    assert_eq!((of(&lines, "clips"), of(&lines, "wires")), (vec![], vec![]));
}

/// ASTM E580 and CBC Standard 25-2 (1998), read: 144 sf and less is exempt, 1,000 sf and less takes no lateral bracing; ASCE 7
/// 13.5.6, read: so is what walls surround. Common practice, no source: the tested spans hold in SDC D, E and F as well.
#[test]
fn seismic_limits_hold_to_the_square_foot() {
    let room = |name: &str, size: &str, sdc: &str, rest: &str, shows: &str| {
        format!("example \"{name}\"\n    rooms id \"1\"  {size}  sdc {sdc}  {rest}\n    shows {shows}\nend\n")
    };
    let open = "surrounded no";
    let examples = [
        room("144 sf", "length 12'  width 12'", "D", open, "(wires > 0) = yes  seismic = \"144 sf or less: exempt\""),
        room(
            "144 1/2 sf",
            "length 12'-1/2\"  width 12'",
            "D",
            open,
            "seismic = \"1,000 sf or less: no lateral bracing\"",
        ),
        room("1,000 sf", "length 40'  width 25'", "F", open, "seismic = \"1,000 sf or less: no lateral bracing\""),
        room("1,001 2/3 sf", "length 40'  width 25'-1/2\"", "F", open, "seismic = \"lateral bracing\""),
        room("surrounded", "length 40'  width 30'", "E", "", "seismic = \"surrounded and connected: exempt\""),
        room("SDC B", "length 40'  width 30'", "B", open, "seismic = \"not asked in SDC A and B\""),
        room(
            "not hung",
            "length 40'  width 8'-6\"",
            "D",
            open,
            "seismic = \"not hung\"  tested = 8'-6\"  spacing = 16\"",
        ),
        room("7 ft 6 in E", "length 40'  width 7'-6\"", "E", "", "tested = 7'-6\"  spacing = 24\"  strongbacks = 0"),
        room("a sixteenth more", "length 40'  width 8'-6 1/16\"", "F", "", "strongbacks = 1"),
    ];
    let book = examples.iter().fold(HOUSE.to_owned(), |book, example| book + example);
    let machine = Memory::new(Date::constant(2026, 3, 2)).with("house.lid", book);
    assert_eq!(run(["hardlid", "try", "house.lid"], &machine), Ended::Done);
}

/// ASTM C635-17 4.1, 16 lb a foot from memory: main tees 4 ft o.c. carry 4 psf. 2.75 + 1.25 psf is 16 plf, 1.26 more.
#[test]
fn main_tees_are_held_to_their_class() {
    let rooms = "Room,Length,Width,Scheme wanted,Other load (psf)\nheavy,20',14',hung grid,1.25\n\
                 heavier,20',14',hung grid,1.26\ntees,12',7',wall to wall,1.26\n";
    let (ended, lines) = checks(HOUSE, rooms);
    assert_eq!(ended, Ended::Done);
    assert!(says(&of(&lines, "heavier"), &["16.04 plf", "16 lb a foot"]), "{lines:#?}");
    assert_eq!((of(&lines, "heavy"), of(&lines, "tees")), (vec![], vec![]));
}

/// 087F125-18 over two runners 36 in. apart carries 20.9 plf (`spans.rs` for the formula): at 24 in. o.c. 10 psf are 20 plf, and
/// pass; at 48 in. o.c. 5.3 psf are 21.2 plf, and stop.
#[test]
fn furring_is_held_to_its_section() {
    let rooms = "Room,Length,Width,Scheme wanted,Other load (psf),Tee spacing (in)\nful,10',4',channel,7.25,24\n\
                 wide,10',4',channel,2.55,48\n";
    let (ended, lines) = checks(HOUSE, rooms);
    assert_eq!(ended, Ended::WithStops);
    assert!(says(&of(&lines, "wide"), &["087F125-18", "21.2 plf", "3'-0\""]), "{lines:#?}");
    assert_eq!(of(&lines, "full"), Vec::<&str>::new());
}

/// A section that no table holds stops the rooms and names the table.
#[test]
fn an_unknown_section_is_named() {
    let book = format!("{HOUSE}rows job\n    tee_section text otherwise \"999F125-18\"\nend\n");
    let (ended, lines) = checks(&book, "Room,Length,Width\nhall,12',7'\n");
    assert_eq!(ended, Ended::WithStops);
    assert!(lines.iter().any(|l| l.contains("The table section has no row for name 999F125-18")), "{lines:#?}");
}
