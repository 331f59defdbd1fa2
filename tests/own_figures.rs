//! What an estimator typed beside lines is found again after the sheet Lines was sorted, or had rows and columns put in or
//! taken out; what belongs to no line any more is said and never moves to another.
#![allow(clippy::float_arithmetic, reason = "cells of a workbook are floats")]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;

use calamine::{Data, Range, Reader as _, Xlsx};
use common::workbook;
use hardlid::command::{Ended, run};
use hardlid::quantity::Date;
use hardlid::system::Memory;
use hardlid::workbook::write::mark::{EDITION, MARK};
use rust_xlsxwriter::{DocProperties, Workbook};
use std::io::Cursor;

const HOUSE: &str = "\
book \"House\"  edition \"1\"
rows rooms  from \"Rooms\"
    id     text    heading \"Room\"  key
    long   length  heading \"Long\"
end
rows openings  from \"Openings\"  belong to rooms by \"Room\"
    around  length  heading \"Around\"
end
for rooms
    item tee   \"Tee\"   code \"T\"  need long
    item wire  \"Wire\"  code \"W\"  need long
end
for openings
    item trim  \"Trim\"  code \"T\"  need around
end
";

/// Two rooms with two openings each: lines are Tee, Wire and twice Trim in each.
fn machine() -> Memory {
    let rooms: &[&[&str]] = &[&["Room", "Long"], &["A", "10'"], &["B", "20'"]];
    let openings: &[&[&str]] = &[&["Room", "Around"], &["A", "8'"], &["A", "3'"], &["B", "5'"], &["B", "6'"]];
    let prices: &[&[&str]] =
        &[&["Code", "Item", "Sold by", "Cost"], &["T", "Tee", "ft", "1.00"], &["W", "Wire", "ft", "0.10"]];
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", rooms), ("Openings", openings)]))
        .with("yard.xlsx", workbook(&[("Prices", prices)]))
        .with("house.lid", HOUSE)
}

fn price(machine: &Memory) -> Ended {
    run("hardlid price rooms.xlsx --rules house.lid --prices yard.xlsx".split(' '), machine)
}

/// The sheet Lines as rows of cells, and where its headings stand.
#[derive(Clone)]
struct Lines {
    rows: Vec<Vec<Data>>,
    heads: usize,
}

impl Lines {
    fn of(machine: &Memory) -> Self {
        let mut book: Xlsx<_> = Xlsx::new(Cursor::new(machine.bytes("rooms.priced.xlsx").unwrap())).unwrap();
        let range: Range<Data> = book.worksheet_range("Lines").unwrap();
        let rows: Vec<Vec<Data>> = range.rows().map(<[Data]>::to_vec).collect();
        let heads = rows.iter().position(|r| r.iter().any(|c| is(c, "Item or work"))).unwrap();
        Self { rows, heads }
    }

    fn column(&self, heading: &str) -> usize {
        self.rows[self.heads].iter().position(|c| is(c, heading)).unwrap_or_else(|| panic!("no {heading}"))
    }

    /// The row of an item of a room that needs so many feet.
    fn row(&self, room: &str, item: &str, need: f64) -> usize {
        let [r, i, n] = ["Room", "Item or work", "Need"].map(|h| self.column(h));
        let found = |row: &&Vec<Data>| is(&row[r], room) && is(&row[i], item) && row[n] == Data::Float(need);
        let at = self.rows.iter().skip(self.heads + 1).position(|row| found(&row));
        self.heads + 1 + at.unwrap_or_else(|| panic!("no {item} of {need} ft in {room}"))
    }

    fn cell(&self, room: &str, item: &str, need: f64, heading: &str) -> Data {
        self.rows[self.row(room, item, need)][self.column(heading)].clone()
    }

    fn type_in(&mut self, (room, item, need): (&str, &str, f64), heading: &str, value: Data) {
        let (row, column) = (self.row(room, item, need), self.column(heading));
        self.rows[row][column] = value;
    }

    /// A workbook that we wrote, saved by another program with these lines.
    fn saved(&self) -> Vec<u8> {
        let mut book = Workbook::new();
        book.set_properties(&DocProperties::new().set_custom_property(MARK, EDITION));
        let sheet = book.add_worksheet().set_name("Lines").unwrap();
        for (row, cells) in (0u32..).zip(&self.rows) {
            for (column, cell) in (0u16..).zip(cells) {
                match cell {
                    Data::Float(value) => _ = sheet.write_number(row, column, *value).unwrap(),
                    Data::String(text) => _ = sheet.write_string(row, column, text).unwrap(),
                    _ => {}
                }
            }
        }
        book.save_to_buffer().unwrap()
    }
}

fn is(cell: &Data, text: &str) -> bool {
    matches!(cell, Data::String(t) if t == text)
}

/// The lines of a first run with what was typed: 12 ft of tee in A, wire at 0.25 in B, and beside A's second opening, of
/// 3 ft, 4 ft with a note; beside B's first, of 5 ft, 2.00 a foot.
fn typed() -> (Memory, Lines) {
    let machine = machine();
    assert_eq!(price(&machine), Ended::Done);
    let mut lines = Lines::of(&machine);
    assert_eq!(lines.rows.len() - lines.heads - 1, 8);
    lines.type_in(("A", "Tee", 10.0), "Own quantity", Data::Float(12.0));
    lines.type_in(("B", "Wire", 20.0), "Own unit cost ($)", Data::Float(0.25));
    lines.type_in(("A", "Trim", 3.0), "Own quantity", Data::Float(4.0));
    lines.type_in(("A", "Trim", 3.0), "Own note", Data::String("=by \"hand\", +1 🏗".to_owned()));
    lines.type_in(("B", "Trim", 5.0), "Own unit cost ($)", Data::Float(2.0));
    (machine, lines)
}

/// Prices the job again over the workbook with these lines; what each line then costs, and that all that was typed stands.
fn stands(machine: Memory, lines: &Lines, how: &str) {
    let machine = machine.with("rooms.priced.xlsx", lines.saved());
    assert_eq!(price(&machine), Ended::Done, "{how}");
    let after = Lines::of(&machine);
    // 12 ft at 1.00; 20 ft at 0.25; 4 ft at 1.00; 5 ft at 2.00; the others as they were
    let costs = [
        ("A", "Tee", 10.0, 12.0),
        ("A", "Wire", 10.0, 1.0),
        ("A", "Trim", 8.0, 8.0),
        ("A", "Trim", 3.0, 4.0),
        ("B", "Tee", 20.0, 20.0),
        ("B", "Wire", 20.0, 5.0),
        ("B", "Trim", 5.0, 10.0),
        ("B", "Trim", 6.0, 6.0),
    ];
    for (room, item, need, cost) in costs {
        assert_eq!(after.cell(room, item, need, "Cost ($)"), Data::Float(cost), "{how}: {item} of {need} ft in {room}");
    }
    assert!(is(&after.cell("A", "Trim", 3.0, "Own note"), "=by \"hand\", +1 🏗"), "{how}");
}

#[test]
fn what_was_typed_stays_with_its_line_in_whatever_order_lines_are() {
    let (machine, lines) = typed();
    stands(machine, &lines, "as it was");
    for by in ["Item or work", "Need", "Cost ($)", "Own quantity", "Code"] {
        for down in [false, true] {
            let (machine, mut lines) = typed();
            let (column, first) = (lines.column(by), lines.heads + 1);
            let key = |cell: &Data| {
                format!("{:>12}", if let Data::Float(v) = cell { format!("{v:.2}") } else { cell.to_string() })
            };
            lines.rows[first..].sort_by(|a, b| {
                let order = key(&a[column]).cmp(&key(&b[column]));
                if down { order.reverse() } else { order }
            });
            stands(machine, &lines, &format!("by {by}, down: {down}"));
        }
    }
}

#[test]
fn rows_and_columns_put_in_between_take_nothing_away() {
    let (machine, mut lines) = typed();
    let width = lines.rows[lines.heads].len();
    let mut own = vec![Data::Empty; width];
    own[lines.column("Room")] = Data::String("my own sum".to_owned());
    own[lines.column("Cost ($)")] = Data::Float(99.0);
    for at in [lines.heads + 6, lines.heads + 3, lines.heads + 1, lines.heads] {
        lines.rows.insert(at, own.clone());
        lines.rows.insert(at, vec![Data::Empty; width]);
    }
    lines.heads += 2;
    stands(machine, &lines, "rows put in");
    for at in [0, 3, width - 1] {
        let (machine, mut lines) = typed();
        let heads = lines.heads;
        for (row, cells) in lines.rows.iter_mut().enumerate() {
            cells.insert(at, Data::String(if row == heads { "Mine" } else { "x" }.to_owned()));
        }
        stands(machine, &lines, &format!("a column put in at {at}"));
    }
}

/// Lines without an own figure may go: those of one opening of a room too.
#[test]
fn lines_taken_out_take_no_other_along() {
    for gone in [("A", "Wire", 10.0), ("B", "Tee", 20.0), ("B", "Trim", 6.0), ("A", "Trim", 8.0)] {
        let (machine, mut lines) = typed();
        let at = lines.row(gone.0, gone.1, gone.2);
        lines.rows.remove(at);
        stands(machine, &lines, &format!("without {gone:?}"));
    }
}

/// The own 4 ft of A's second opening stay with it when a row is put in above it for B; they are said to have lost their
/// line when another opening of A comes before it, or it goes: which of A's they were for is then not known.
#[test]
fn an_entry_whose_row_is_not_known_any_more_is_a_problem() {
    let openings = |rows: &[&[&str]]| {
        let rooms: &[&[&str]] = &[&["Room", "Long"], &["A", "10'"], &["B", "20'"]];
        let all: Vec<&[&str]> = std::iter::once(&["Room", "Around"][..]).chain(rows.iter().copied()).collect();
        let (machine, lines) = typed();
        let rooms = workbook(&[("Rooms", rooms), ("Openings", &all)]);
        machine.with("rooms.xlsx", rooms).with("rooms.priced.xlsx", lines.saved())
    };
    let machine = openings(&[&["A", "8'"], &["B", "5'"], &["A", "3'"], &["B", "6'"]]);
    assert_eq!(price(&machine), Ended::Done);
    assert_eq!(Lines::of(&machine).cell("A", "Trim", 3.0, "Own quantity"), Data::Float(4.0));
    for changed in [
        &[&["A", "9'"][..], &["A", "8'"], &["A", "3'"], &["B", "5'"], &["B", "6'"]][..],
        &[&["A", "8'"], &["B", "5'"], &["B", "6'"]],
        &[&["B", "5'"], &["B", "6'"]],
    ] {
        let machine = openings(changed);
        let before = machine.bytes("rooms.priced.xlsx");
        assert_eq!(price(&machine), Ended::Failed, "{changed:?}");
        assert_eq!(machine.bytes("rooms.priced.xlsx"), before, "{changed:?}");
        // written when that is asked for, without the figure and with a word of it
        let words = "hardlid price rooms.xlsx --rules house.lid --prices yard.xlsx --replace";
        assert_eq!(run(words.split(' '), &machine), Ended::Done, "{changed:?}");
        let quantities = Lines::of(&machine);
        let column = quantities.column("Own quantity");
        assert!(!quantities.rows.iter().any(|r| r[column] == Data::Float(4.0)), "{changed:?}");
        let mut book: Xlsx<_> = Xlsx::new(Cursor::new(machine.bytes("rooms.priced.xlsx").unwrap())).unwrap();
        let checks = book.worksheet_range("Checks").unwrap();
        let said =
            |c: &Data| matches!(c, Data::String(t) if t.contains("Trim (T) in room A") && t.contains("quantity 4 ft"));
        assert!(checks.rows().flatten().any(said), "{changed:?}");
    }
}
