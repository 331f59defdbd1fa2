//! Ways to build a room side by side: on the sheet Schemes, on the Bid, and as `price --schemes` prints them. The book is
//! `tests/pricing/ways.lid`, whose head says what each way costs.

use super::common::workbook;
use super::{below_headings, hardlid, is, own, says, sheet, sheet_names, texts};
use calamine::{Data, Reader as _, Xlsx};
use hardlid::command::Ended;
use hardlid::engine::Explainer;
use hardlid::pricing::price_rows;
use hardlid::program::{compile, library};
use hardlid::quantity::Date;
use hardlid::source::Text;
use hardlid::system::Memory;
use hardlid::workbook::open::open;
use hardlid::workbook::rows::read_rooms_and_job;
use hardlid::workbook::write::{self, Document, Limits};
use serde_json::Value;
use std::io::Cursor;
use std::process::Command;

const BOOK: &str = include_str!("../pricing/ways.lid");

/// A book without options for the same rooms.
const PLAIN: &str = "\
rows rooms from \"Rooms\"
    id      text    heading \"Room\"  key
    length  length
end
for rooms
    item tee  code \"T\"  need length
end
";

/// Room, length, width, scheme wanted. Runs of 8, 10, 12 and 8 ft: $80.00 wall to wall; $152.00 over strongbacks;
/// $164.00 a hung grid; and a hung grid because the room says so, $144.00.
const ROOMS: &[[&str; 4]] = &[
    ["101", "20'", "8'", ""],
    ["102", "20'", "10'", ""],
    ["103", "12'", "12'", ""],
    ["104", "20'", "8'", "hung grid"],
];

fn rooms(rows: &[[&str; 4]]) -> Vec<u8> {
    let heads: [&str; 4] = ["Room", "Length", "Width", "Scheme wanted"];
    let all: Vec<&[&str]> = std::iter::once(&heads).chain(rows).map(|r| &r[..]).collect();
    workbook(&[("Rooms", &all)])
}

/// Tees at $1 a foot, light ones at $0.50, wires at $3, half an hour at $40 for each support.
fn yard() -> Vec<u8> {
    workbook(&[
        (
            "Prices",
            &[
                &["Code", "Item", "Sold by", "Cost"],
                &["T", "Tee", "lf", "1"],
                &["G", "Light tee", "lf", "0.5"],
                &["W", "Wire", "ea", "3"],
            ],
        ),
        (
            "Labor",
            &[&["Code", "Work", "Hours per unit", "Unit", "Crew"], &["L", "Set supports", "0.5", "ea", "Crew A"]],
        ),
        ("Crews", &[&["Crew", "Wage", "Burden"], &["Crew A", "40", "0%"]]),
    ])
}

fn ways() -> Memory {
    Memory::new(Date::constant(2026, 3, 2))
        .with("a.xlsx", rooms(ROOMS))
        .with("yard.xlsx", yard())
        .with("ways.lid", BOOK)
}

fn priced(machine: &Memory) -> Vec<u8> {
    assert_eq!(hardlid(machine, "price a.xlsx --rules ways.lid --prices yard.xlsx"), Ended::Done);
    machine.bytes("a.priced.xlsx").unwrap()
}

/// A cell's formula; calamine counts from the first cell that has one.
fn formula(bytes: &[u8], name: &str, row: u32, column: u32) -> String {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes.to_vec())).unwrap();
    book.worksheet_formula(name).unwrap().get_value((row, column)).cloned().unwrap_or_default()
}

fn money(cell: &Data) -> Option<f64> {
    match cell {
        Data::Float(n) => Some(*n),
        _ => None,
    }
}

#[test]
fn a_line_for_each_room_and_way() {
    let bytes = priced(&ways());
    let names = sheet_names(&bytes);
    let at = names.iter().position(|n| n == "Schemes").unwrap();
    assert_eq!(names[at - 1..=at + 1], ["Rooms", "Schemes", "Lines"]);
    let range = sheet(&bytes, "Schemes");
    let (heads, rows) = below_headings(&range, "Standing");
    assert_eq!(
        heads,
        [
            "Ref",
            "Room",
            "Scheme",
            "Standing",
            "Cost ($)",
            "Over the one taken ($)",
            "Hours",
            "Wires",
            "Longest part (ft)",
            "Why not"
        ]
    );
    assert_eq!(rows.len(), 12);
    let line = |row: &[Data]| {
        let text = |i: usize| row[i].to_string();
        (text(1), text(2), text(3), money(&row[4]), money(&row[5]), money(&row[6]), text(9))
    };
    let wanted = [
        ("101", "Wall to wall", "taken", Some(80.0), None, Some(0.0), ""),
        ("101", "Over strongbacks", "passes", Some(132.0), Some(52.0), Some(1.0), "$52.00 dearer"),
        ("101", "Hung grid", "passes", Some(144.0), Some(64.0), Some(2.0), "$64.00 dearer"),
        ("102", "Wall to wall", "fails", Some(100.0), None, Some(0.0), "A tee would span 10'-0\" (Wall to wall)."),
        ("102", "Over strongbacks", "taken", Some(152.0), None, Some(1.0), ""),
        ("102", "Hung grid", "passes", Some(154.0), Some(2.0), Some(2.0), "$2.00 dearer"),
        ("103", "Wall to wall", "fails", Some(120.0), None, Some(0.0), "A tee would span 12'-0\" (Wall to wall)."),
        ("103", "Over strongbacks", "passes", Some(172.0), Some(8.0), Some(1.0), "$8.00 dearer"),
        ("103", "Hung grid", "taken", Some(164.0), None, Some(2.0), ""),
        ("104", "Wall to wall", "ruled out", None, None, None, "The row names another."),
        ("104", "Over strongbacks", "ruled out", None, None, None, "The row names another."),
        ("104", "Hung grid", "taken by name", Some(144.0), None, Some(2.0), ""),
    ];
    for (row, w) in rows.iter().zip(wanted) {
        let w = (w.0.to_owned(), w.1.to_owned(), w.2.to_owned(), w.3, w.4, w.5, w.6.to_owned());
        assert_eq!(line(row), w);
    }
    // thirds of 10 ft and of 12 ft, halves of 8 ft; 0, 4 and 8 wires
    assert_eq!([&rows[1][8], &rows[8][8]], [&Data::Float(4.0), &Data::Float(4.0)]);
    assert_eq!([&rows[0][7], &rows[1][7], &rows[2][7]], [&Data::Float(0.0), &Data::Float(4.0), &Data::Float(8.0)]);
}

/// Cost and hours of the one taken are those of Rooms, and what the others cost more follows from them.
#[test]
fn costs_on_schemes_move_with_the_bid() {
    let bytes = priced(&ways());
    let (heads, _) = below_headings(&sheet(&bytes, "Rooms"), "Status");
    let cost = u16::try_from(heads.iter().position(|h| h == "Cost ($)").unwrap()).unwrap();
    let letters = hardlid::source::column_letters(cost);
    // the first room stands in row 3 of Rooms, below the band and the headings
    assert_eq!(formula(&bytes, "Schemes", 1, 4), format!("Rooms!${letters}$3"));
    assert_eq!(formula(&bytes, "Schemes", 2, 5), "IF(COUNT(E3,E2)<2,\"\",ROUND(E3-E2,2))");
    assert!(formula(&bytes, "Schemes", 2, 9).contains("TEXT(F3,\"$#,##0.00\")&\" dearer\""));
}

#[test]
fn rooms_and_bid_speak_of_labels() {
    let bytes = priced(&ways());
    let rooms = sheet(&bytes, "Rooms");
    let (heads, rows) = below_headings(&rooms, "Status");
    let scheme = heads.iter().position(|h| h == "Scheme").unwrap();
    let labels: Vec<String> = rows.iter().map(|r| r[scheme].to_string()).collect();
    assert_eq!(labels, ["Wall to wall", "Over strongbacks", "Hung grid", "Hung grid"]);
    let bid = sheet(&bytes, "Bid");
    let (_, rows) = below_headings(&bid, "By scheme (rooms)");
    let line = |row: &[Data]| (row[0].to_string(), money(&row[1]), money(&row[2]));
    // a grid: 2 + 2 hours, 164 + 144
    assert_eq!(line(rows[0]), ("Wall to wall (1)".to_owned(), Some(0.0), Some(80.0)));
    assert_eq!(line(rows[1]), ("Over strongbacks (1)".to_owned(), Some(1.0), Some(152.0)));
    assert_eq!(line(rows[2]), ("Hung grid (2)".to_owned(), Some(4.0), Some(308.0)));
}

#[test]
fn a_book_without_options_has_no_such_sheet() {
    let machine = ways().with("plain.lid", PLAIN);
    assert_eq!(hardlid(&machine, "price a.xlsx --rules plain.lid --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("a.priced.xlsx").unwrap();
    assert!(!sheet_names(&bytes).contains(&"Schemes".to_owned()));
    assert!(texts(&sheet(&bytes, "Rules")).iter().all(|t| t != "Schemes"));
}

/// Where a sheet has 9 rows, two rooms of three ways fit under the headings, and a line says that two more do not.
#[test]
fn a_sheet_that_is_full_says_so() {
    let text = Text::new("ways.lid", BOOK);
    let (layers, _) = library::with_layers(&text, "ways.lid");
    let (program, _) = compile(layers, None, hardlid::natives()).unwrap();
    let mut book = open("a.xlsx", rooms(ROOMS)).unwrap();
    let mut inputs = read_rooms_and_job(&mut book, None, &program.schema, program.texts.clone()).unwrap();
    let (engine, priced) = price_rows(&program, &mut inputs, None, &[]);
    let written = |sheet_rows| {
        write::priced(&Document {
            schema: &program.schema,
            run: engine.run(),
            inputs: &inputs,
            explain: &Explainer::new(&engine, &inputs),
            priced: &priced,
            title: "a.xlsx",
            revision: 1,
            as_of: Date::constant(2026, 3, 1),
            prices_file: None,
            input_digest: "",
            tool_version: "0",
            plans: &[],
            painting: &hardlid::drawing::Painting::default(),
            carried: &[],
            job_live: &[],
            live: &hardlid::workbook::live::RowFormulas::default(),
            limits: Limits { sheet_rows, ..Limits::default() },
        })
        .unwrap()
    };
    let range = sheet(&written(9), "Schemes");
    assert_eq!(range.height(), 8);
    assert!(range.rows().next_back().unwrap()[0].to_string().starts_with("and 2 more"));
    // twelve lines and the headings: all of it fits 13 rows
    let range = sheet(&written(13), "Schemes");
    assert_eq!((range.height(), range.rows().next_back().unwrap()[2].to_string().as_str()), (13, "Hung grid"));
}

#[test]
fn asking_for_schemes_where_there_are_none_is_no_error() {
    let machine = ways().with("plain.lid", PLAIN);
    assert_eq!(hardlid(&machine, "price a.xlsx --rules plain.lid --schemes"), Ended::Done);
}

fn ran(arguments: &[&str]) -> (Option<i32>, String) {
    let folder = tempfile::tempdir().unwrap();
    for (name, bytes) in [("a.xlsx", rooms(ROOMS)), ("yard.xlsx", yard()), ("ways.lid", BOOK.as_bytes().to_vec())] {
        std::fs::write(folder.path().join(name), bytes).unwrap();
    }
    let words = ["price", "a.xlsx", "--rules", "ways.lid", "--prices", "yard.xlsx", "--schemes"];
    let program = Command::new(env!("CARGO_BIN_EXE_hardlid"))
        .args(words.iter().chain(arguments))
        .current_dir(folder.path())
        .output()
        .unwrap();
    (program.status.code(), String::from_utf8(program.stdout).unwrap())
}

#[test]
fn the_comparison_is_printed_for_people() {
    let (code, out) = ran(&[]);
    assert_eq!(code, Some(0), "{out}");
    let lines: Vec<Vec<&str>> =
        out.lines().map(|l| l.split("  ").map(str::trim).filter(|w| !w.is_empty()).collect()).collect();
    for wanted in [
        vec!["Room", "Scheme", "Standing", "Cost", "Hours", "Wires", "Longest part", "Why not"],
        vec!["101", "Wall to wall", "taken", "$80.00", "0", "0", "8'-0\""],
        vec!["Over strongbacks", "passes", "$132.00", "1", "4", "4'-0\"", "$52.00 dearer"],
        vec![
            "102",
            "Wall to wall",
            "fails",
            "$100.00",
            "0",
            "0",
            "10'-0\"",
            "A tee would span 10'-0\" (Wall to wall).",
        ],
        vec!["Hung grid", "taken by name", "$144.00", "2", "8", "2'-8\""],
    ] {
        assert!(lines.contains(&wanted), "{wanted:?} is not in\n{out}");
    }
    assert!(out.contains("Total $540.00"), "80 + 152 + 164 + 144: {out}");
}

#[test]
fn the_comparison_is_there_for_programs() {
    let (code, out) = ran(&["--json"]);
    let value: Value = serde_json::from_str(&out).unwrap();
    let schemes = value["schemes"].as_array().unwrap();
    assert_eq!((code, schemes.len()), (Some(0), 12));
    let wanted = serde_json::json!({
        "room": "103", "option": "strongbacks", "label": "Over strongbacks", "hand_figures": false, "taken": false, "passes": true,
        "reason": "$8.00 dearer", "cost": "172.00", "hours": "1", "shown": { "wires": "4", "part": "6'-0\"" }
    });
    assert_eq!(schemes[7], wanted);
    assert_eq!(schemes[11]["taken"], true);
    assert_eq!(schemes[9]["cost"], Value::Null);
    let taken = schemes.iter().filter(|s| s["taken"] == true).count();
    assert_eq!(taken, 4);
}

#[test]
fn figures_typed_by_hand_are_said_not_to_be_compared() {
    let machine = ways();
    assert!(!says(&sheet(&priced(&machine), "Schemes"), "by hand"));
    // what the room that is wall to wall needs of one thing is typed anew, and the comparison stays as it was
    let lines = sheet(&priced(&machine), "Lines");
    let (heads, rows) = below_headings(&lines, "Item or work");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let first = rows.iter().find(|r| is(&r[column("Room")], "101")).unwrap();
    let cells = ["Room", "Item or work", "Code", "Unit"].map(|name| first[column(name)].to_string());
    let row = cells.each_ref().map(String::as_str);
    let machine = ways().with("a.priced.xlsx", own::earlier(&[row], &[(4, 4, 1.0)]));
    let range = sheet(&priced(&machine), "Schemes");
    assert!(says(&range, "not in the comparison by which it was taken. Room: 101."));
}
