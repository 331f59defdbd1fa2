//! Plans by the command: the sheet of the workbook and the files of `--plans`.

use super::{hardlid, says, sheet, sheet_names, texts};
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::{Memory, Outside as _};
use rust_xlsxwriter::Workbook;
use std::io::{Cursor, Read as _};
use std::path::{Path, PathBuf};

/// 101 and 103 are alike; 104 is stopped, as nothing is known of its width.
const ROOMS: &[[&str; 4]] = &[
    ["101", "Office", "20'", "14'"],
    ["102", "Corridor", "12'", "6'"],
    ["103", "Office", "20'", "14'"],
    ["104", "Store", "20'", ""],
];

fn machine() -> Memory {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name("Rooms").unwrap();
    for (row, cells) in (0u32..).zip(std::iter::once(&["Room", "Name", "Length", "Width"]).chain(ROOMS)) {
        for (column, text) in (0u16..).zip(cells) {
            sheet.write_string(row, column, *text).unwrap();
        }
    }
    let bytes = book.save_to_buffer().unwrap();
    Memory::new(Date::new(2026, 3, 2).unwrap()).with("rooms.xlsx", bytes)
}

fn read(machine: &Memory, path: &str) -> Vec<u8> {
    machine.read(Path::new(path), u64::MAX).unwrap()
}

/// A part of a workbook's file.
fn part(bytes: &[u8], name: &str) -> Option<Vec<u8>> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut out = Vec::new();
    archive.by_name(name).ok()?.read_to_end(&mut out).unwrap();
    Some(out)
}

#[test]
fn rooms_framed_alike_share_a_plan() {
    let machine = machine();
    // a room without a width is stopped
    assert_eq!(hardlid(&machine, "price rooms.xlsx --plans drawn"), Ended::WithStops);
    let bytes = read(&machine, "rooms.priced.xlsx");
    assert!(sheet_names(&bytes).iter().any(|n| n == "Plans"));
    let plans = sheet(&bytes, "Plans");
    assert_eq!(texts(&plans)[0], "101 Office");
    assert!(says(&plans, "2 rooms have this layout: 101 Office, 103 Office."));
    assert!(says(&plans, "102 Corridor") && says(&plans, "This room alone has this layout."));
    assert!(!says(&plans, "104"));
    for name in ["xl/media/image1.png", "xl/media/image2.png"] {
        assert_eq!(part(&bytes, name).unwrap()[..8], *b"\x89PNG\r\n\x1a\n", "{name}");
    }
    assert_eq!(part(&bytes, "xl/media/image3.png"), None);
    // who cannot see a picture reads what it shows: 20 ft at 24 in. o.c. are 10 spaces and 9 tees
    let described = (1..=9).filter_map(|n| part(&bytes, &format!("xl/drawings/drawing{n}.xml")));
    let described: String = described.map(|xml| String::from_utf8(xml).unwrap()).collect();
    assert!(described.contains("Plan of 101 Office, 20'-0"), "{described}");
    assert!(described.contains(": 9 tees"), "{described}");
    let drawn: Vec<PathBuf> = machine.names().into_iter().filter(|n| n.starts_with("drawn")).collect();
    assert_eq!(drawn, ["drawn/101-Office.svg", "drawn/102-Corridor.svg"].map(PathBuf::from));
    let svg = String::from_utf8(read(&machine, "drawn/101-Office.svg")).unwrap();
    assert_eq!(svg.matches("class=\"tee\"").count(), 9);
    // 12 by 6 ft: 12 ft at 24 in. o.c. are 6 spaces, 5 tees
    let svg = String::from_utf8(read(&machine, "drawn/102-Corridor.svg")).unwrap();
    assert_eq!(svg.matches("class=\"tee\"").count(), 5);
}

#[test]
fn a_plan_goes_over_its_like_and_over_nothing_else() {
    let machine = machine();
    let run = |words: &str| -> Ended { hardlid(&machine, words) };
    assert_eq!(run("price rooms.xlsx --plans drawn"), Ended::WithStops);
    let first = read(&machine, "drawn/101-Office.svg");
    assert_eq!(run("price rooms.xlsx --plans drawn"), Ended::WithStops);
    assert_eq!(read(&machine, "drawn/101-Office.svg"), first);
    // somebody's own drawing of that name stays
    let own = b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>";
    machine.write_whole(Path::new("drawn/101-Office.svg"), own).unwrap();
    assert_eq!(run("price rooms.xlsx --plans drawn"), Ended::Failed);
    assert_eq!(read(&machine, "drawn/101-Office.svg"), own);
    assert_eq!(run("price rooms.xlsx --plans drawn --replace"), Ended::WithStops);
    assert_eq!(read(&machine, "drawn/101-Office.svg"), first);
}
