//! A binary workbook, made record by record as [MS-XLSB] lays them out.

use crate::books::*;
use hardlid::workbook::rows::read_rooms;
use std::io::{Cursor, Write as _};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// A record: its type and its length in groups of seven bits (2.1.4), then its data.
fn record(out: &mut Vec<u8>, kind: u16, data: &[u8]) {
    let groups = |out: &mut Vec<u8>, mut value: usize| {
        while value > 0x7F {
            out.push(u8::try_from(value & 0x7F).unwrap() | 0x80);
            value >>= 7;
        }
        out.push(u8::try_from(value).unwrap());
    };
    groups(out, usize::from(kind));
    groups(out, data.len());
    out.extend(data);
}

/// A text: how many units, then the units (`XLWideString`, 2.5.168).
fn wide(text: &str) -> Vec<u8> {
    let units: Vec<u16> = text.encode_utf16().collect();
    let mut out = u32::try_from(units.len()).unwrap().to_le_bytes().to_vec();
    out.extend(units.into_iter().flat_map(u16::to_le_bytes));
    out
}

fn words(values: &[u32]) -> Vec<u8> {
    values.iter().flat_map(|v| v.to_le_bytes()).collect()
}

/// `BrtBeginBook`, `BrtWbProp`, the list of sheets with one `BrtBundleSh`, `BrtCalcProp`, `BrtEndBook`.
fn book() -> Vec<u8> {
    let mut out = Vec::new();
    record(&mut out, 131, &[]);
    record(&mut out, 153, &[words(&[0, 0]), wide("")].concat());
    record(&mut out, 143, &[]);
    record(&mut out, 156, &[words(&[0, 1]), wide("rId1"), wide("Rooms")].concat());
    record(&mut out, 144, &[]);
    record(&mut out, 157, &[0; 26]);
    record(&mut out, 132, &[]);
    out
}

/// `BrtBeginSst`, a `BrtSSTItem` for each text, `BrtEndSst`.
fn shared(texts: &[&str]) -> Vec<u8> {
    let mut out = Vec::new();
    let many = u32::try_from(texts.len()).unwrap();
    record(&mut out, 159, &words(&[many, many]));
    for text in texts {
        record(&mut out, 19, &[vec![0], wide(text)].concat());
    }
    record(&mut out, 160, &[]);
    out
}

/// A cell's record type and what follows its column and style.
type Stored = (u16, Vec<u8>);

/// A number in 30 bits, whole or in hundredths (`RkNumber`, 2.5.122).
fn rk(value: u32, hundredths: bool) -> Stored {
    (2, words(&[value << 2 | 2 | u32::from(hundredths)]))
}

fn real(value: f64) -> Stored {
    (5, value.to_le_bytes().to_vec())
}

fn text_here(text: &str) -> Stored {
    (6, wide(text))
}

fn text_shared(number: u32) -> Stored {
    (7, words(&[number]))
}

/// A number with the formula `=0+0`-like remainder: the value, flags, and a parsed formula of no bytes.
fn formula(value: f64) -> Stored {
    (9, [value.to_le_bytes().to_vec(), vec![0, 0], words(&[0, 0])].concat())
}

/// `BrtBeginSheet`, `BrtWsDim`, `BrtBeginSheetData`, rows with their cells, and the ends.
fn sheet(rows: &[(u32, Vec<Stored>)]) -> Vec<u8> {
    let mut out = Vec::new();
    record(&mut out, 129, &[]);
    record(&mut out, 148, &words(&[0, rows.last().map_or(0, |r| r.0), 0, 2]));
    record(&mut out, 145, &[]);
    for (row, cells) in rows {
        record(&mut out, 0, &[words(&[*row, 0]), vec![0; 9], words(&[0, 0])].concat());
        for (column, (kind, data)) in (0..).zip(cells) {
            record(&mut out, *kind, &[words(&[column, 0]), data.clone()].concat());
        }
    }
    record(&mut out, 146, &[]);
    record(&mut out, 130, &[]);
    out
}

fn binary(rows: &[(u32, Vec<Stored>)], texts: &[&str]) -> Vec<u8> {
    let links = "<?xml version=\"1.0\"?><Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">\
                 <Relationship Id=\"rId1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" \
                 Target=\"worksheets/sheet1.bin\"/></Relationships>";
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in [
        ("xl/workbook.bin", book()),
        ("xl/_rels/workbook.bin.rels", links.as_bytes().to_vec()),
        ("xl/sharedStrings.bin", shared(texts)),
        ("xl/worksheets/sheet1.bin", sheet(rows)),
    ] {
        zip.start_file(name, SimpleFileOptions::default()).unwrap();
        zip.write_all(&bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

#[test]
fn a_binary_workbook_is_read() {
    let rows = [
        (0, vec![text_shared(0), text_shared(1), text_shared(2)]),
        (1, vec![text_shared(3), rk(20, false), real(10.5)]),
        (3, vec![text_here("102"), rk(1225, true), text_here("10'-6\"")]),
        (4, vec![text_here("103"), formula(8.25), text_shared(4)]),
    ];
    let bytes = binary(&rows, &["Room", "Length (ft)", "Width (ft)", "101", "9'-6\""]);
    let mut book = opened("rooms.xlsb", bytes.clone());
    assert_eq!(book.sheet_names().iter().map(|s| &**s).collect::<Vec<_>>(), ["Rooms"]);
    let inputs = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap();
    assert_eq!([0, 1, 2].map(|r| text(&inputs, "id", r)), ["101", "102", "103"]);
    // a foot is 304.8 mm: 20', 12.25', 8.25'; 10.5', 10'-6", 9.5'
    assert_eq!([0, 1, 2].map(|r| mm(&inputs, "length", r)), ["6096", "3733.8", "2514.6"].map(|t| Some(t.to_owned())));
    assert_eq!([0, 1, 2].map(|r| mm(&inputs, "width", r)), ["3200.4", "3200.4", "2895.6"].map(|t| Some(t.to_owned())));
    assert_eq!(table(&inputs, ROOMS).origin.cell(1, Some(2)).to_string(), "rooms.xlsb, Rooms!C4");
}

#[test]
fn a_binary_workbook_cut_short_is_refused_or_read_in_part() {
    let rows = [(0, vec![text_here("Room")]), (1, vec![text_here("101")])];
    let sound = sheet(&rows);
    for cut in [sound.len() - 1, sound.len() / 2, 3] {
        let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
        let links = "<Relationships><Relationship Id=\"rId1\" Target=\"worksheets/sheet1.bin\"/></Relationships>";
        for (name, bytes) in [
            ("xl/workbook.bin", book()),
            ("xl/_rels/workbook.bin.rels", links.as_bytes().to_vec()),
            ("xl/worksheets/sheet1.bin", sound[..cut].to_vec()),
        ] {
            zip.start_file(name, SimpleFileOptions::default()).unwrap();
            zip.write_all(&bytes).unwrap();
        }
        let mut book = opened("rooms.xlsb", zip.finish().unwrap().into_inner());
        match book.grid("Rooms") {
            // all its cells are there, only the mark of the part's end is not
            Ok(grid) => assert_eq!((cut, grid.rows.len()), (sound.len() - 1, 2)),
            Err(problem) => assert_eq!((problem.kind, cut < sound.len() - 1), ("damaged file", true)),
        }
    }
}
