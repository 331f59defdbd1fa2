//! Priced workbooks worked out anew by another engine: every stored value is spoiled first, so that what comes back can
//! only come from the formulas.
#![allow(clippy::float_arithmetic, reason = "cells of a workbook are floats")]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

#[path = "footing/bids.rs"]
#[allow(dead_code, reason = "some of it serves another test")]
mod bids;

use bids::{Bid, Dice, HOUSE, ITEMS, Marks, Room, Typed};
use calamine::{Data, Range, Reader as _, Xlsx};
use hardlid::bid::{Ready, Rules};
use hardlid::command::{Ended, run};
use hardlid::drawing::Painting;
use hardlid::quantity::Date;
use hardlid::system::Memory;
use hardlid::workbook::carried::{File, carried_in};
use hardlid::workbook::open::open;
use ironcalc::base::{Model, cell::CellValue};
use rust_xlsxwriter::Workbook;
use std::io::{Cursor, Read as _, Write as _};

fn workbook(sheets: &[(&str, Vec<Vec<String>>)]) -> Vec<u8> {
    let mut book = Workbook::new();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet().set_name(*name).unwrap();
        for (row, cells) in (0u32..).zip(rows) {
            for (column, text) in (0u16..).zip(cells).filter(|(_, text)| !text.is_empty()) {
                sheet.write_string(row, column, text).unwrap();
            }
        }
    }
    book.save_to_buffer().unwrap()
}

/// The priced workbook of a bid, and the total in cents by the program.
fn priced(bid: &Bid) -> (Vec<u8>, i64) {
    let rooms: Vec<Vec<String>> = bid.rows().iter().map(|row| row.to_vec()).collect();
    let job: Vec<Vec<String>> = bid.marks.rows().iter().map(|row| row.to_vec()).collect();
    let rooms = File::new("rooms.xlsx", workbook(&[("Rooms", rooms), ("Job", job)]));
    let yard = File::new("yard.xlsx", workbook(&bid.price_sheets()));
    let rules = Rules::of_today(Some(File::new("house.lid", HOUSE.as_bytes())), "");
    let day = Date::new(2026, 3, 2).unwrap();
    let ready = Ready::new(&rules, Some(&yard), day).unwrap_or_else(|p| panic!("{p:?}"));
    let inputs = ready.inputs(&rooms).unwrap_or_else(|p| panic!("{p:?}"));
    let worked = ready.work_out(&rooms, inputs, bid.own_entries());
    assert_eq!(worked.priced.stopped, 0, "{:?}", worked.priced.findings);
    (worked.workbook(1, &Painting::default()).unwrap().bytes, worked.priced.total.unwrap())
}

/// The workbook with another number in place of each value that is stored beside a formula.
fn spoiled(bytes: &[u8]) -> (Vec<u8>, usize) {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut out = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let mut count = 0;
    for i in 0..archive.len() {
        let mut part = archive.by_index(i).unwrap();
        let mut content = Vec::new();
        part.read_to_end(&mut content).unwrap();
        out.start_file(part.name().unwrap(), zip::write::SimpleFileOptions::default()).unwrap();
        if part.name().unwrap().starts_with("xl/worksheets/sheet") {
            let text = String::from_utf8(content).unwrap();
            let mut pieces = text.split("</f><v>");
            let mut new = pieces.next().unwrap().to_owned();
            for piece in pieces {
                new += "</f><v>987654321";
                new += &piece[piece.find("</v>").unwrap()..];
                count += 1;
            }
            content = new.into_bytes();
        }
        out.write_all(&content).unwrap();
    }
    (out.finish().unwrap().into_inner(), count)
}

/// A priced workbook: as stored, and as the other engine has it.
struct Both {
    stored: Xlsx<Cursor<Vec<u8>>>,
    model: Model<'static>,
    /// How many formulas it has.
    formulas: usize,
}

impl Both {
    fn of(bytes: &[u8]) -> Self {
        let stored = Xlsx::new(Cursor::new(bytes.to_vec())).unwrap();
        let (spoiled, formulas) = spoiled(bytes);
        let loaded = ironcalc::import::load_from_xlsx_bytes(&spoiled, "bid", "en", "UTC").unwrap();
        let mut model = Model::from_workbook(loaded, "en").unwrap();
        model.evaluate();
        Self { stored, model, formulas }
    }

    fn sheet(&mut self, name: &str) -> Range<Data> {
        self.stored.worksheet_range(name).unwrap()
    }

    fn number_of(&self, sheet: &str) -> u32 {
        let at = self.stored.sheet_names().iter().position(|s| s == sheet).unwrap();
        u32::try_from(at).unwrap()
    }

    /// What the engine has in a cell, row and column from 0.
    fn anew(&self, sheet: &str, (row, column): (u32, u32)) -> CellValue {
        let place = |n: u32| i32::try_from(n + 1).unwrap();
        self.model.get_cell_value_by_index(self.number_of(sheet), place(row), place(column)).unwrap()
    }

    /// Types a number into a cell and works everything out anew.
    fn type_in(&mut self, sheet: &str, (row, column): (u32, u32), value: f64) {
        let place = |n: u32| i32::try_from(n + 1).unwrap();
        self.model.update_cell_with_number(self.number_of(sheet), place(row), place(column), value).unwrap();
        self.model.evaluate();
    }

    /// The place of a text in a column of the Bid or Lines.
    fn find(&mut self, sheet: &str, text: &str) -> (u32, u32) {
        let range = self.sheet(sheet);
        let (top, left) = range.start().unwrap();
        let found = range.used_cells().find(|(_, _, c)| matches!(c, Data::String(t) if t == text));
        let (row, column, _) = found.unwrap_or_else(|| panic!("no {text} on {sheet}"));
        (top + u32::try_from(row).unwrap(), left + u32::try_from(column).unwrap())
    }

    /// An amount of the bid in cents, as worked out anew.
    fn amount(&mut self, label: &str) -> i128 {
        let (row, column) = self.find("Bid", label);
        let CellValue::Number(value) = self.anew("Bid", (row, column + 2)) else { panic!("{label} is no number") };
        cents(value).unwrap_or_else(|| panic!("{label} is {value}, no whole cents"))
    }

    /// The cell of a line by its room, code and the column's heading.
    fn cell_of_line(&mut self, room: usize, code: &str, heading: &str) -> (u32, u32) {
        let [room_at, code_at, at] = ["Room", "Code", heading].map(|h| self.find("Lines", h));
        let lines = self.sheet("Lines");
        let is = |row: u32, at: (u32, u32), text: &str| matches!(lines.get_value((row, at.1)), Some(Data::String(t)) if t == text);
        let mut rows = room_at.0 + 1..=lines.end().unwrap().0;
        let row = rows.find(|row| is(*row, room_at, &bids::name(room)) && is(*row, code_at, code)).unwrap();
        (row, at.1)
    }

    /// What the two do not have alike; every formula of every sheet is looked at.
    fn differences(&mut self) -> Vec<String> {
        let (mut out, mut looked) = (Vec::new(), 0);
        for sheet in self.stored.sheet_names().clone() {
            let values = self.sheet(&sheet);
            let formulas = self.stored.worksheet_formula(&sheet).unwrap();
            let (top, left) = formulas.start().unwrap_or_default();
            for (row, column, formula) in formulas.used_cells().filter(|(_, _, f)| !f.is_empty()) {
                let at = (top + u32::try_from(row).unwrap(), left + u32::try_from(column).unwrap());
                let (stored, anew) = (values.get_value(at).unwrap_or(&Data::Empty), self.anew(&sheet, at));
                looked += 1;
                if !alike(stored, &anew) {
                    out.push(format!(
                        "{sheet} row {} column {}: {stored:?} stored, {anew:?} anew, by {formula}",
                        at.0 + 1,
                        at.1 + 1
                    ));
                }
            }
        }
        assert_eq!(looked, self.formulas, "a formula was not looked at");
        out
    }
}

/// Cents of a number that is a whole number of them.
fn cents(value: f64) -> Option<i128> {
    let text = format!("{value:.2}");
    let whole = (text.parse::<f64>().unwrap() - value).abs() <= 1e-9;
    whole.then(|| text.replace('.', "").parse().unwrap())
}

/// Sums of whole cents are the same cents; other figures may differ in their last binary digits.
fn alike(stored: &Data, anew: &CellValue) -> bool {
    match (stored, anew) {
        (Data::Float(a), CellValue::Number(b)) => {
            let same_cents = cents(*a).is_none_or(|c| cents(*b) == Some(c));
            same_cents && (a - b).abs() <= 1e-9 + 1e-12 * a.abs()
        }
        (Data::String(a), CellValue::String(b)) => a == b,
        (Data::Bool(a), CellValue::Boolean(b)) => a == b,
        (Data::Empty, CellValue::None) => true,
        (Data::Empty, CellValue::String(b)) => b.is_empty(),
        (Data::String(a), CellValue::None) => a.is_empty(),
        _ => false,
    }
}

fn random_bid(seed: u64) -> Bid {
    let mut dice = Dice::new(seed);
    let marks = Marks::random(&mut dice);
    Bid::random(&mut dice, marks)
}

#[test]
fn random_bids_come_to_the_same_in_another_engine() {
    for seed in 0..36 {
        let bid = random_bid(20_000 + seed);
        let (bytes, total) = priced(&bid);
        let mut both = Both::of(&bytes);
        assert!(both.formulas > 20, "bid {seed} has {} formulas", both.formulas);
        let wrong = both.differences();
        assert!(wrong.is_empty(), "bid {seed}: {bid:?}\n{}", wrong.join("\n"));
        assert_eq!(both.amount("Total"), i128::from(total), "bid {seed}");
        assert_eq!(i128::from(total), bid.sums(&Room::is_in).total, "bid {seed}");
    }
}

/// The demo, priced.
fn demo() -> Vec<u8> {
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", include_bytes!("../workbooks/demo-rooms.xlsx").as_slice())
        .with("yard.xlsx", include_bytes!("../workbooks/demo-prices.xlsx").as_slice())
        .with("house.lid", include_bytes!("../workbooks/demo-rules.lid").as_slice());
    let words = ["hardlid", "price", "rooms.xlsx", "--rules", "house.lid", "--prices", "yard.xlsx"];
    assert_eq!(run(words, &machine), Ended::Done);
    machine.bytes("rooms.priced.xlsx").unwrap()
}

#[test]
fn the_demo_comes_to_the_same_in_another_engine() {
    let bytes = demo();
    let mut both = Both::of(&bytes);
    assert!(both.formulas > 1_000, "{} formulas", both.formulas);
    let wrong = both.differences();
    assert!(wrong.is_empty(), "{} of {}\n{}", wrong.len(), both.formulas, wrong[..wrong.len().min(40)].join("\n"));
    // the total as the program worked it out, which the workbook carries beside its files
    let total = carried_in(&mut open("rooms.priced.xlsx", bytes).unwrap()).unwrap().total.unwrap();
    assert_eq!(both.amount("Total"), i128::from(total));
}

/// A room or an opening whose cells were changed says so, and so does the Bid, until they are as they were.
#[test]
fn what_was_changed_since_pricing_is_said() {
    let mut both = Both::of(&demo());
    let (line, _) = both.find("Bid", "Total");
    let told = |both: &Both| {
        (0..line).any(|row| text(&both.anew("Bid", (row, 0))).starts_with("Rows changed since pricing: 2."))
    };
    let marks = |both: &mut Both, sheet: &str| {
        let (head, column) = both.find(sheet, "Since pricing");
        let end = both.sheet(sheet).end().unwrap().0;
        let changed = (head + 1..=end).filter(|row| !text(&both.anew(sheet, (*row, column))).is_empty());
        changed.map(|row| row - head).collect::<Vec<u32>>()
    };
    assert_eq!((marks(&mut both, "Rooms"), marks(&mut both, "Openings")), (vec![], vec![]));
    assert!(!told(&both));
    // the third room of the demo is 46.5 ft long, its first opening one of six lights
    let (head, length) = both.find("Rooms", "Length (ft)");
    let (openings, many) = both.find("Openings", "Qty");
    both.type_in("Rooms", (head + 3, length), 47.0);
    both.type_in("Openings", (openings + 1, many), 7.0);
    assert_eq!((marks(&mut both, "Rooms"), marks(&mut both, "Openings")), (vec![3], vec![1]));
    assert!(told(&both));
    // what no rule reads may be changed
    let (_, remarks) = both.find("Rooms", "Remarks");
    both.type_in("Rooms", (head + 5, remarks), 1.0);
    assert_eq!(marks(&mut both, "Rooms"), vec![3]);
    both.type_in("Rooms", (head + 3, length), 46.5);
    both.type_in("Openings", (openings + 1, many), 6.0);
    assert_eq!((marks(&mut both, "Rooms"), marks(&mut both, "Openings")), (vec![], vec![]));
}

/// A text, or nothing.
fn text(value: &CellValue) -> String {
    match value {
        CellValue::String(text) => text.clone(),
        _ => String::new(),
    }
}

/// One room, 10 ft long and 10 ft wide, 3 wires; tee 0.60 a foot, board 620.00 a thousand square feet, wire 25.00 a
/// hundred, 0.011 h a foot at 40.00 and 25%: 50.00 an hour.
fn plain() -> Bid {
    let typed = [(); 4].map(|()| Typed::default());
    let room = Room { level: "1", long: 7_680, wide: 7_680, wires: 3, alternate: 0, deducted: false, typed };
    let marks = Marks { overhead: 10, margin: 20, tax: 8, waste: 5 };
    Bid { rooms: vec![room], marks, prices: [6_000, 6_200_000, 250_000], labor: [110, 4_000, 25] }
}

/// Tee 6.00, board 105 sf at 0.62 65.10, wire 0.75, work 5.50, 100.00 to come: 177.35. Overhead 17.74 (17.735): 195.09.
/// Margin 195.09 x 20/80 = 48.77 (48.7725): 243.86. Tax 19.51 (19.5088): 263.37.
///
/// Tee at 0.75 is 1.50 more: 178.85, overhead 17.89 (17.885), 196.74, margin 49.19 (49.185), 245.93, tax 19.67 (19.6744):
/// 265.60. With 12 ft needed besides, 9.00: 180.35, 18.04 (18.035), 198.39, 49.60 (49.5975), 247.99, 19.84 (19.8392): 267.83.
/// An own 20 ft of it, 15.00: 186.35, 18.64 (18.635), 204.99, 51.25 (51.2475), 256.24, 20.50 (20.4992): 276.74. Own 0.0049
/// for it, 0.098, 0.10: 171.45, 17.15 (17.145), 188.60, 47.15, 235.75, 18.86: 254.61. Overhead of 0: 171.45, 42.86
/// (42.8625), 214.31, 17.14 (17.1448): 231.45.
#[test]
fn what_is_typed_into_the_workbook_moves_the_total_as_by_hand() {
    let (bytes, total) = priced(&plain());
    assert_eq!(total, 26_337);
    let mut both = Both::of(&bytes);
    assert_eq!(both.amount("Total"), 26_337);
    let mut after = |heading: &str, value: f64| {
        let cell = both.cell_of_line(0, "T", heading);
        both.type_in("Lines", cell, value);
        both.amount("Total")
    };
    assert_eq!(after("Unit cost ($)", 0.75), 26_560);
    assert_eq!(after("Need", 12.0), 26_783);
    assert_eq!(after("Own quantity", 20.0), 27_674);
    assert_eq!(after("Own unit cost ($)", 0.0049), 25_461);
    let (row, column) = both.find("Bid", "Overhead");
    both.type_in("Bid", (row, column + 1), 0.0);
    assert_eq!(both.amount("Total"), 23_145);
    // and that what is stored differs now is seen
    assert!(both.differences().iter().any(|d| d.starts_with("Bid")));
}

/// The tee at 0.75 in place of 0.60 on the sheet of prices comes to what it does on its line: 265.60 (see above).
#[test]
fn a_price_that_is_typed_into_the_workbook_reaches_its_lines_and_the_total() {
    let (bytes, _) = priced(&plain());
    let mut both = Both::of(&bytes);
    let (head, cost) = both.find("Prices", "Cost ($)");
    let (tee, code) = both.find("Prices", "T");
    assert!(code == 0 && tee > head, "T is a code");
    let told = |both: &Both| (0..12).map(|row| text(&both.anew("Bid", (row, 0)))).find(|t| t.contains("changed"));
    assert_eq!(told(&both), None);
    let CellValue::Number(before) = both.anew("Prices", (tee, cost)) else { panic!("no price") };
    both.type_in("Prices", (tee, cost), before * 0.75 / 0.60);
    assert_eq!(both.amount("Total"), 26_560);
    assert_eq!(told(&both).unwrap(), " Prices changed: 1. What is built and cut was chosen at the first ones.");
    both.type_in("Prices", (tee, cost), before);
    assert_eq!((both.amount("Total"), told(&both)), (26_337, None));
}

/// The same over random bids: a quantity and a unit cost typed beside a line of the bid.
#[test]
fn own_figures_move_random_bids_as_reckoned_beside() {
    let mut moved = 0;
    for seed in 0..12 {
        let mut bid = random_bid(30_000 + seed);
        let Some(room) = bid.rooms.iter().position(Room::is_in) else { continue };
        let mut both = Both::of(&priced(&bid).0);
        let before = both.amount("Total");
        let mut dice = Dice::new(seed);
        let item = usize::try_from(dice.roll(2)).unwrap() * 3;
        let (quantity, cost) = (1 + dice.roll(900_000), 1 + dice.roll(99_999));
        let own = both.cell_of_line(room, ITEMS[item][1], "Own quantity");
        both.type_in("Lines", own, bids::decimal(quantity, 3).parse().unwrap());
        bid.rooms[room].typed[item].quantity = Some(quantity);
        assert_eq!(both.amount("Total"), bid.sums(&Room::is_in).total, "bid {seed}, quantity");
        let own = both.cell_of_line(room, ITEMS[item][1], "Own unit cost ($)");
        both.type_in("Lines", own, bids::decimal(cost, 4).parse().unwrap());
        bid.rooms[room].typed[item].cost = Some(cost);
        assert_eq!(both.amount("Total"), bid.sums(&Room::is_in).total, "bid {seed}, cost");
        moved += usize::from(both.amount("Total") != before);
    }
    assert!(moved > 6, "{moved} totals moved");
}
