//! File formats, encodings, and files that are damaged or made to harm.

use crate::books::*;
use crate::common::with_part;
use hardlid::problem::Problem;
use hardlid::workbook::grid::Cell;
use hardlid::workbook::open::{date_serial, open, serial_date};
use hardlid::workbook::rows::read_rooms;
use std::io::{Cursor, Write as _};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

fn refusal(name: &str, bytes: Vec<u8>) -> Problem {
    let problem = open(name, bytes).expect_err("the file is not to be opened");
    assert_eq!(place(&problem), name);
    assert!(!problem.what.contains('\n'));
    problem
}

fn small() -> Vec<u8> {
    workbook(&[("Rooms", &[&[T("Room"), T("Length (ft)"), T("Width (ft)")], &[T("1"), N(20.0), N(10.0)]])])
}

#[test]
fn a_csv_text_holds_rooms_alone() {
    let inputs = csv("Takeoff of level 3\n\nRoom;Length (ft);Width\n101;20;10'-6\"\n007;20.5;\"10'-3 1/2\"\"\"\n");
    assert_eq!([0, 1].map(|r| text(&inputs, "id", r)), ["101", "007"]);
    assert_eq!((mm(&inputs, "length", 1), mm(&inputs, "width", 1)), (Some("6248.4".into()), Some("3136.9".into())));
    assert_eq!((table(&inputs, OPENINGS).rows, table(&inputs, JOB).rows), (0, 1));
    assert!(inputs.problems.is_empty(), "{:#?}", inputs.problems);
    assert_eq!(table(&inputs, ROOMS).origin.cell(1, Some(2)).to_string(), "rooms.csv, C5");
}

#[test]
fn csv_texts_are_read_in_the_encodings_that_programs_write() {
    let text = "Room,Length,Width\nCafé,8½\",10′-6″\n";
    let utf16: Vec<u8> = text.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let mut utf16_be: Vec<u8> = vec![0xFE, 0xFF];
    utf16_be.extend(text.encode_utf16().flat_map(u16::to_be_bytes));
    let mut with_mark = vec![0xEF, 0xBB, 0xBF];
    with_mark.extend(text.as_bytes());
    for bytes in [text.as_bytes().to_vec(), with_mark, utf16, utf16_be] {
        let mut book = opened("rooms.csv", bytes);
        let inputs = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap();
        assert_eq!(text_and_length(&inputs), ("Café".to_owned(), Some("215.9".to_owned())));
    }
    // windows-1252: é is E9, ½ is BD
    let mut book = opened("rooms.csv", b"Room,Length,Width\nCaf\xE9,8\xBD\",10'\n".to_vec());
    let inputs = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap();
    assert_eq!(text_and_length(&inputs), ("Café".to_owned(), Some("215.9".to_owned())));
}

fn text_and_length(inputs: &hardlid::engine::Inputs) -> (String, Option<String>) {
    (text(inputs, "id", 0), mm(inputs, "length", 0))
}

/// An ods workbook with one sheet, its rows as given.
fn ods(rows: &str) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    zip.start_file("mimetype", stored).unwrap();
    zip.write_all(b"application/vnd.oasis.opendocument.spreadsheet").unwrap();
    zip.start_file("META-INF/manifest.xml", SimpleFileOptions::default()).unwrap();
    zip.write_all(b"<?xml version=\"1.0\"?><manifest:manifest xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\"></manifest:manifest>").unwrap();
    zip.start_file("content.xml", SimpleFileOptions::default()).unwrap();
    let content = format!(
        "<?xml version=\"1.0\"?><office:document-content><office:body><office:spreadsheet><table:table table:name=\"Rooms\">{rows}</table:table></office:spreadsheet></office:body></office:document-content>"
    );
    zip.write_all(content.as_bytes()).unwrap();
    zip.finish().unwrap().into_inner()
}

fn ods_text(text: &str) -> String {
    format!("<table:table-cell office:value-type=\"string\"><text:p>{text}</text:p></table:table-cell>")
}

#[test]
fn an_ods_workbook_is_read() {
    let head: String = ["Room", "Length (ft)", "Width"].map(ods_text).concat();
    let rows = format!(
        "<table:table-row>{head}</table:table-row><table:table-row>{}<table:table-cell office:value-type=\"float\" office:value=\"20\"/>{}</table:table-row><table:table-row table:number-rows-repeated=\"1048574\"><table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>",
        ods_text("101"),
        ods_text("10'-6&quot;")
    );
    let mut book = opened("rooms.ods", ods(&rows));
    let inputs = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap();
    assert_eq!((mm(&inputs, "length", 0), mm(&inputs, "width", 0)), (Some("6096".into()), Some("3200.4".into())));
}

#[test]
fn an_ods_workbook_that_repeats_cells_without_end_is_refused() {
    let rows = format!(
        "<table:table-row table:number-rows-repeated=\"1000000\">{}</table:table-row>",
        "<table:table-cell table:number-columns-repeated=\"1000\" office:value-type=\"float\" office:value=\"1\"/>"
    );
    assert_eq!(refusal("rooms.ods", ods(&rows)).kind, "oversized file");
    let spaces = "<table:table-row><table:table-cell office:value-type=\"string\"><text:p><text:s text:c=\"4000000000\"/></text:p></table:table-cell></table:table-row>";
    assert_eq!(refusal("rooms.ods", ods(spaces)).kind, "damaged file");
    assert_eq!(refusal("rooms.ods", ods("<table:table-row><table:table-cell>")).kind, "damaged file");
    assert_eq!(
        refusal("rooms.ods", ods("<table:table-row><!-- </table:table> --></table:table-row>")).kind,
        "damaged file"
    );
}

#[test]
fn a_truncated_workbook_ends_in_one_clear_line() {
    let bytes = small();
    for len in [0, 1, 4, 30, 100, bytes.len() / 2, bytes.len() - 1] {
        let problem = refusal("rooms.xlsx", bytes[..len].to_vec());
        assert!(["damaged file", "not a workbook"].contains(&problem.kind), "{len}: {problem:?}");
    }
}

#[test]
fn a_file_of_another_kind_is_named_as_such() {
    assert!(
        refusal("rooms.xls", b"<html><table><tr><td>Room</td></tr></table></html>".to_vec()).what.contains("web page")
    );
    assert_eq!(refusal("rooms.xlsx", b"Room,Length\n1,2\n".to_vec()).kind, "not a workbook");
    assert_eq!(refusal("rooms.csv", vec![0, 1, 2, 3, 0, 0]).kind, "not a workbook");
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    zip.start_file("readme.txt", SimpleFileOptions::default()).unwrap();
    assert_eq!(refusal("rooms.xlsx", zip.finish().unwrap().into_inner()).kind, "not a workbook");
}

/// A compound file (MS-CFB) with the streams named; each takes whole sectors of 512 bytes.
fn compound(streams: &[(&str, &[u8])]) -> Vec<u8> {
    const END: u32 = 0xFFFF_FFFE;
    let mut next: Vec<u32> = vec![0xFFFF_FFFD, END]; // sector 0 is the table, sector 1 the directory
    let mut body = Vec::new();
    let mut directory = vec![0u8; 512];
    for (i, (name, data)) in [("Root Entry", &[][..])].iter().chain(streams).enumerate() {
        let entry = &mut directory[i * 128..(i + 1) * 128];
        for (j, unit) in name.encode_utf16().enumerate() {
            entry[j * 2..j * 2 + 2].copy_from_slice(&unit.to_le_bytes());
        }
        entry[64] = u8::try_from((name.len() + 1) * 2).unwrap();
        let mut padded = data.to_vec();
        padded.resize(data.len().next_multiple_of(512), 0);
        let (start, count) = (u32::try_from(next.len()).unwrap(), u32::try_from(padded.len() / 512).unwrap());
        entry[116..120].copy_from_slice(&if count == 0 { END } else { start }.to_le_bytes());
        entry[120..124].copy_from_slice(&u32::try_from(padded.len()).unwrap().to_le_bytes());
        next.extend((1..=count).map(|n| if n == count { END } else { start + n }));
        body.extend(padded);
    }
    assert!(next.len() <= 128, "one sector of table");
    let mut bytes = vec![0u8; 512];
    bytes[..8].copy_from_slice(&[0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1]);
    bytes[26..34].copy_from_slice(&[3, 0, 0xFE, 0xFF, 9, 0, 6, 0]);
    bytes[44..48].copy_from_slice(&1u32.to_le_bytes());
    bytes[48..52].copy_from_slice(&1u32.to_le_bytes());
    bytes[60..64].copy_from_slice(&END.to_le_bytes());
    bytes[68..72].copy_from_slice(&END.to_le_bytes());
    bytes[76..512].fill(0xFF);
    bytes[76..80].copy_from_slice(&0u32.to_le_bytes());
    next.resize(128, u32::MAX);
    bytes.extend(next.iter().flat_map(|n| n.to_le_bytes()));
    bytes.extend(directory);
    bytes.extend(body);
    bytes
}

/// A record of a binary workbook (MS-XLS).
fn record(kind: u16, data: &[u8]) -> Vec<u8> {
    let len = u16::try_from(data.len()).unwrap();
    [&kind.to_le_bytes()[..], &len.to_le_bytes(), data].concat()
}

fn at(row: u16, column: u16, value: &[u8]) -> Vec<u8> {
    [&row.to_le_bytes()[..], &column.to_le_bytes(), &[0, 0], value].concat()
}

fn xls_text(row: u16, column: u16, text: &str) -> Vec<u8> {
    let len = u16::try_from(text.len()).unwrap().to_le_bytes();
    record(0x0204, &at(row, column, &[&len[..], &[0], text.as_bytes()].concat()))
}

fn xls_number(row: u16, column: u16, value: f64) -> Vec<u8> {
    record(0x0203, &at(row, column, &value.to_le_bytes()))
}

/// An old binary workbook with one sheet, Rooms.
fn xls(cells: &[Vec<u8>]) -> Vec<u8> {
    let start = |what: u8| record(0x0809, &[0, 6, what, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]);
    let end = record(0x0A, &[]);
    let globals = start(5);
    let bound =
        |at: usize| record(0x85, &[&u32::try_from(at).unwrap().to_le_bytes()[..], &[0, 0, 5, 0], b"Rooms"].concat());
    let sheet_at = globals.len() + bound(0).len() + end.len();
    let mut stream = [globals, bound(sheet_at), end.clone(), start(0x10), cells.concat(), end].concat();
    stream.resize(stream.len().max(4096), 0);
    compound(&[("Workbook", &stream)])
}

#[test]
fn an_old_binary_workbook_is_read() {
    let cells = [
        xls_text(1, 0, "Room"),
        xls_text(1, 1, "Length (ft)"),
        xls_text(1, 2, "Width"),
        xls_number(2, 0, 101.0),
        xls_number(2, 1, 20.0),
        xls_text(2, 2, "10'-6\""),
    ];
    let mut book = opened("rooms.xls", xls(&cells));
    let inputs = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap();
    assert_eq!(text_and_length(&inputs), ("101".to_owned(), Some("6096".to_owned())));
    assert_eq!(mm(&inputs, "width", 0), Some("3200.4".into()));
    assert_eq!(table(&inputs, ROOMS).origin.cell(0, Some(2)).to_string(), "rooms.xls, Rooms!C3");
}

#[test]
fn an_old_binary_workbook_that_would_fill_the_memory_is_refused() {
    let problem = refusal("rooms.xls", xls(&[xls_number(0, 0, 1.0), xls_number(65_535, 16_383, 1.0)]));
    assert_eq!(problem.kind, "oversized file");
    let protected = compound(&[("Workbook", &{
        let mut stream = [record(0x0809, &[0; 16]), record(0x2F, &[1, 0, 1, 0, 1, 0]), record(0x0A, &[])].concat();
        stream.resize(4096, 0);
        stream
    })]);
    assert_eq!(refusal("rooms.xls", protected).kind, "protected file");
}

#[test]
fn a_protected_workbook_says_so() {
    assert_eq!(
        refusal("rooms.xlsx", compound(&[("EncryptionInfo", &[]), ("EncryptedPackage", &[])])).kind,
        "protected file"
    );
    assert_eq!(refusal("rooms.xls", compound(&[("WordDocument", &[])])).kind, "not a workbook");
}

#[test]
fn a_zip_bomb_is_refused_before_it_is_unpacked() {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    zip.start_file("xl/workbook.xml", SimpleFileOptions::default()).unwrap();
    zip.start_file("xl/worksheets/sheet1.xml", SimpleFileOptions::default()).unwrap();
    let block = vec![b' '; 1 << 20];
    for _ in 0..100 {
        zip.write_all(&block).unwrap();
    }
    let bytes = zip.finish().unwrap().into_inner();
    assert!(bytes.len() < 1 << 20);
    let problem = refusal("rooms.xlsx", bytes);
    assert_eq!(problem.kind, "oversized file");
    assert!(problem.what.contains("100 MB"), "{}", problem.what);
}

#[test]
fn a_directory_that_lies_about_a_part_is_found_out() {
    let head = b"<worksheet><sheetData><row r=\"1\"><c r=\"A1\" t=\"str\"><v>";
    // a row that never ends, of 1.5 GB when unpacked; its directory says 1 kB
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let mut old = ZipArchive::new(Cursor::new(small())).unwrap();
    for i in 0..old.len() {
        let mut file = old.by_index(i).unwrap();
        let name = file.name().unwrap().to_string();
        zip.start_file(name.as_str(), SimpleFileOptions::default().large_file(false)).unwrap();
        if name == "xl/worksheets/sheet1.xml" {
            zip.write_all(head).unwrap();
            let block = vec![b'x'; 1 << 20];
            for _ in 0..1500 {
                zip.write_all(&block).unwrap();
            }
        } else {
            std::io::copy(&mut file, &mut zip).unwrap();
        }
    }
    let bytes = zip.finish().unwrap().into_inner();
    let honest = refusal("rooms.xlsx", bytes.clone());
    assert_eq!(honest.kind, "oversized file");
    let size = u32::try_from((1500u64 << 20) + head.len() as u64).unwrap();
    let lie = replaced(bytes, &size.to_le_bytes(), &1000u32.to_le_bytes());
    let mut book = opened("rooms.xlsx", lie);
    let problems = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap_err();
    assert!(problems[0].what.contains("larger than its declared"), "{}", problems[0].what);
}

#[test]
fn a_row_without_end_is_not_gathered_in_memory() {
    // 4 MB of digits that hardly pack, as one cell
    let mut digit = 1u64;
    let digits: String = (0..4 << 20)
        .map(|_| {
            digit = digit.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            char::from(b'0' + u8::try_from((digit >> 33) % 10).unwrap())
        })
        .collect();
    let bytes = with_part(&small(), "xl/worksheets/sheet1.xml", |xml| {
        xml.replace(
            "</sheetData>",
            &format!("<row r=\"9\"><c r=\"A9\" t=\"str\"><v>{digits}</v></c></row></sheetData>"),
        )
    });
    let mut book = opened("rooms.xlsx", bytes);
    let problems = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap_err();
    assert!(problems[0].what.contains("a row has no end"), "{}", problems[0].what);
}

/// The bytes with every `from` replaced; there must be one at least.
fn replaced(mut bytes: Vec<u8>, from: &[u8], to: &[u8]) -> Vec<u8> {
    let places: Vec<usize> = (0..bytes.len() - from.len()).filter(|i| bytes[*i..].starts_with(from)).collect();
    assert!(!places.is_empty());
    for place in places {
        bytes[place..place + to.len()].copy_from_slice(to);
    }
    bytes
}

#[test]
fn thousands_of_sheets_are_refused() {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for i in 0..1001 {
        zip.start_file(format!("xl/worksheets/sheet{i}.xml"), SimpleFileOptions::default()).unwrap();
    }
    let problem = refusal("rooms.xlsx", zip.finish().unwrap().into_inner());
    assert!(problem.what.contains("1001 sheets"), "{}", problem.what);
}

#[test]
fn cells_beyond_the_format_or_out_of_order_are_damage_and_never_a_panic() {
    for (cell, says) in [
        ("B9999999", "1048576"),
        ("ZZZZ2", "16384"),
        ("B1", "after row"),
        ("B99999999999999999999", "damaged"),
        ("ÄÄ", "damaged"),
    ] {
        let bytes =
            with_part(&small(), "xl/worksheets/sheet1.xml", |xml| xml.replace("r=\"B2\"", &format!("r=\"{cell}\"")));
        let mut book = opened("rooms.xlsx", bytes);
        let problems = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap_err();
        assert_eq!((problems.len(), place(&problems[0])), (1, "rooms.xlsx".to_owned()), "{cell}");
        assert!(problems[0].what.contains(says) && problems[0].what.contains("Sheet Rooms"), "{}", problems[0].what);
    }
}

#[test]
fn two_far_corners_take_no_memory() {
    let bytes = with_part(&small(), "xl/worksheets/sheet1.xml", |xml| {
        xml.replace("</sheetData>", "<row r=\"1048576\"><c r=\"XFD1048576\"><v>1</v></c></row></sheetData>")
    });
    let mut book = opened("rooms.xlsx", bytes);
    let inputs = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap();
    assert_eq!(table(&inputs, ROOMS).rows, 1);
    assert!(book.grid("Rooms").is_ok());
}

#[test]
fn external_links_are_passed_over() {
    let bytes = with_part(&small(), "xl/_rels/workbook.xml.rels", |xml| {
        xml.replace("</Relationships>", "<Relationship Id=\"rId99\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/externalLink\" Target=\"file:///nowhere/other.xlsx\" TargetMode=\"External\"/></Relationships>")
    });
    let mut book = opened("rooms.xlsx", bytes);
    let inputs = read_rooms(&mut book, &schema(), hardlid::engine::Texts::default()).unwrap();
    assert_eq!(mm(&inputs, "length", 0), Some("6096".into()));
}

#[test]
fn a_small_sheet_can_be_held_whole() {
    let mut book =
        opened("prices.xlsx", workbook(&[("Prices", &[&[T("Code"), O, N(1.5)], &[], &[B(true), D(2026, 1, 2)]])]));
    assert_eq!(book.sheet_names().iter().map(|s| &**s).collect::<Vec<_>>(), ["Prices"]);
    let grid = book.grid("Prices").unwrap();
    assert_eq!(
        grid.rows,
        [
            vec![Cell::Text("Code".into()), Cell::Empty, Cell::Number(1.5)],
            vec![],
            vec![Cell::YesNo(true), Cell::Date(46024.0)],
        ]
    );
    assert_eq!(book.grid("Nowhere").unwrap_err().kind, "damaged file");
}

#[test]
fn serial_dates_count_from_1900_with_the_day_that_never_was() {
    // ISO/IEC 29500: 1 is 1900-01-01, 59 is 1900-02-28, 61 is 1900-03-01, 45658 is 2025-01-01.
    for (serial, day) in [
        (1.0, "1900-01-01"),
        (59.0, "1900-02-28"),
        (61.0, "1900-03-01"),
        (45658.0, "2025-01-01"),
        (45658.75, "2025-01-01"),
    ] {
        assert_eq!(serial_date(serial).unwrap().to_string(), day);
    }
    assert_eq!(date_serial(serial_date(45658.0).unwrap()).to_bits(), 45658f64.to_bits());
    for serial in [0.5, -3.0, 1e9, f64::NAN] {
        assert!(serial_date(serial).is_none());
    }
}
