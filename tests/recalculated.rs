//! Priced workbooks worked out anew by another engine: every stored value is spoiled first, so that what comes back can
//! only come from the formulas.
#![allow(clippy::float_arithmetic, reason = "cells of a workbook are floats")]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod common;
#[path = "footing/bids.rs"]
#[allow(dead_code, reason = "some of it serves another test")]
mod bids;
#[path = "living/mod.rs"]
mod living;

use bids::{Bid, Dice, HOUSE, ITEMS, Marks, Room, Typed};
use calamine::{Data, Range, Reader as _, Xlsx};
use common::{with_parts, workbook_of};
use hardlid::bid::{Ready, Rules};
use hardlid::command::{Ended, run};
use hardlid::drawing::Painting;
use hardlid::quantity::Date;
use hardlid::system::Memory;
use hardlid::workbook::carried::{File, carried_in};
use hardlid::workbook::open::open;
use ironcalc::base::{Model, cell::CellValue};
use std::io::Cursor;
use std::num::NonZero;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

/// The priced workbook of a bid, and the total in cents by the program.
fn priced(bid: &Bid) -> (Vec<u8>, i64) {
    let rooms: Vec<Vec<String>> = bid.rows().iter().map(|row| row.to_vec()).collect();
    let job: Vec<Vec<String>> = bid.marks.rows().iter().map(|row| row.to_vec()).collect();
    let rooms = File::new("rooms.xlsx", workbook_of(&[("Rooms", rooms), ("Job", job)])).into();
    let yard = File::new("yard.xlsx", workbook_of(&bid.price_sheets()));
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
    let mut count = 0;
    let new = with_parts(bytes, |name, held| {
        if !name.starts_with("xl/worksheets/sheet") {
            return Some(held);
        }
        let mut text = String::from_utf8(held).unwrap();
        // behind a formula of the cell's own, and behind one that it shares
        for before in ["</f><v>", "\"/><v>"] {
            let mut pieces = text.split(before);
            let mut new = pieces.next().unwrap().to_owned();
            for piece in pieces {
                new += before;
                new += "987654321";
                new += &piece[piece.find("</v>").unwrap()..];
                count += 1;
            }
            text = new;
        }
        Some(text.into_bytes())
    });
    (new, count)
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
    fn type_in(&mut self, sheet: &str, at: (u32, u32), value: f64) {
        self.put(sheet, at, value);
        self.model.evaluate();
    }

    fn put(&mut self, sheet: &str, (row, column): (u32, u32), value: f64) {
        let place = |n: u32| i32::try_from(n + 1).unwrap();
        self.model.update_cell_with_number(self.number_of(sheet), place(row), place(column), value).unwrap();
    }

    fn put_text(&mut self, sheet: &str, (row, column): (u32, u32), text: &str) {
        let place = |n: u32| i32::try_from(n + 1).unwrap();
        self.model.update_cell_with_text(self.number_of(sheet), place(row), place(column), text).unwrap();
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
        self.cents_anew("Bid", (row, column + 2))
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

    fn has(&self, sheet: &str) -> bool {
        self.stored.sheet_names().iter().any(|s| s == sheet)
    }

    /// Whole cents of a cell, as worked out anew.
    fn cents_anew(&self, sheet: &str, at: (u32, u32)) -> i128 {
        match self.anew(sheet, at) {
            CellValue::Number(value) => cents(value).unwrap_or_else(|| panic!("{sheet} {at:?}: {value}")),
            other => panic!("{sheet} {at:?}: {other:?}"),
        }
    }

    /// Every line, with its cost as worked out anew.
    fn lines_anew(&mut self) -> Vec<LineAnew> {
        let [room, code, kind, cost] = ["Room", "Code", "Kind", "Cost ($)"].map(|h| self.find("Lines", h));
        let lines = self.sheet("Lines");
        let text = |row: u32, column: u32| lines.get_value((row, column)).unwrap().to_string();
        let line = |row: u32| LineAnew {
            room: text(row, room.1),
            code: text(row, code.1),
            kind: text(row, kind.1),
            cents: self.cents_anew("Lines", (row, cost.1)),
        };
        (room.0 + 1..=lines.end().unwrap().0).map(line).collect()
    }

    /// Parts by name: material and labor of each, and its share of the total, as worked out anew.
    fn parts_anew(&mut self) -> Vec<(String, i128, i128)> {
        let [(_, bid), (_, end)] = ["The bid", "Without lines"].map(|h| self.find("Parts", h));
        let [material, labor, price] = ["Material", "Labor", "Price"].map(|label| self.find("Parts", label).0);
        let parts = self.sheet("Parts");
        let name = |column: u32| parts.get_value((0, column)).unwrap().to_string();
        let cell = |row: u32, column: u32| self.cents_anew("Parts", (row, column));
        (bid + 1..end).map(|c| (name(c), cell(material, c) + cell(labor, c), cell(price, c))).collect()
    }

    /// Cost of a level in the table of the Bid, as worked out anew.
    fn level_anew(&mut self, name: &str) -> i128 {
        let (head, column) = self.find("Bid", "By level");
        let bid = self.sheet("Bid");
        let is = |row: &u32| bid.get_value((*row, column)).is_some_and(|c| c.to_string().eq_ignore_ascii_case(name));
        let row = (head + 1..bid.end().unwrap().0).find(is).unwrap_or_else(|| panic!("no level {name}"));
        self.cents_anew("Bid", (row, column + 2))
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

/// A line, as worked out anew.
struct LineAnew {
    room: String,
    code: String,
    kind: String,
    cents: i128,
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

/// Works bids out anew, as many at once as there are cores: every formula comes to what is stored beside it, and what lines,
/// rooms, levels and parts come to anew is what is reckoned beside the program, to the cent, and adds up to the total.
fn bids_foot_anew(seeds: std::ops::Range<u64>) {
    let next = AtomicU64::new(seeds.start);
    let work = || {
        loop {
            let seed = next.fetch_add(1, Ordering::Relaxed);
            if seed >= seeds.end {
                return;
            }
            foots_anew(seed, &random_bid(seed));
        }
    };
    let cores = thread::available_parallelism().map_or(1, NonZero::get);
    thread::scope(|scope| (0..cores).for_each(|_| drop(scope.spawn(work))));
}

fn foots_anew(seed: u64, bid: &Bid) {
    let at = || format!("bid {seed}: {bid:?}");
    let (bytes, total) = priced(bid);
    let mut both = Both::of(&bytes);
    assert!(both.formulas > 20, "{} formulas {}", both.formulas, at());
    let wrong = both.differences();
    assert!(wrong.is_empty(), "{}\n{}", at(), wrong.join("\n"));
    // each line, and the lines of the bid
    let (mut material, mut labor) = (0, 0);
    let lines = both.lines_anew();
    assert_eq!(lines.len(), bid.rooms.iter().map(Room::lines).sum::<usize>() + 1, "{}", at());
    for line in &lines {
        let cost = match bid.rooms.iter().zip(0..).find(|(_, room)| line.room == bids::name(*room)) {
            Some((room, _)) => bid.cost(room, ITEMS.iter().position(|item| item[1] == line.code).unwrap()),
            None => 10_000,
        };
        assert_eq!(line.cents, cost, "{} in {} {}", line.code, line.room, at());
        match line.kind.as_str() {
            "Material" => material += cost,
            "Labor" => labor += cost,
            _ => assert!(line.kind.starts_with("Alternate "), "{} {}", line.kind, at()),
        }
    }
    // the bid
    let sums = bid.sums(&Room::is_in);
    assert_eq!([material, labor], [sums.material, sums.labor], "{}", at());
    assert_eq!(["Material", "Labor"].map(|label| both.amount(label)), [material, labor], "{}", at());
    assert_eq!(both.amount("Total"), sums.total, "{}", at());
    assert_eq!(i128::from(total), sums.total, "{}", at());
    // levels before mark-ups, and parts with their share of the total
    let levels = bid.levels();
    if levels.is_empty() {
        return assert!(!both.has("Parts") || bid.rooms.iter().any(|r| r.alternate > 0), "{}", at());
    }
    let parts = both.parts_anew();
    assert_eq!(parts.iter().map(|(_, _, price)| price).sum::<i128>(), sums.total, "{}", at());
    for (name, direct, _) in &parts {
        let found = levels.get(&name.to_lowercase()).copied();
        assert_eq!(*direct, found.unwrap_or(0), "{name} {}", at());
    }
    let direct: i128 = parts.iter().map(|(_, direct, _)| direct).sum();
    assert_eq!(direct, material + labor, "{}", at());
    for (name, cents) in &levels {
        assert!(parts.iter().any(|part| part.0.to_lowercase() == *name), "no part {name} {}", at());
        // a bid without rooms of its own, all in alternates, has no table of levels
        if levels.len() == 1 {
            assert!(!bid.rooms.iter().any(Room::is_in), "{}", at());
            continue;
        }
        let on_bid = both.level_anew(if name == "other rooms" { "(no level)" } else { name });
        assert_eq!(on_bid, *cents, "{name} on the Bid {}", at());
    }
}

/// 100 of them are worked out in some seconds, not optimized.
#[test]
fn random_bids_come_to_the_same_in_another_engine() {
    bids_foot_anew(20_000..20_100);
}

/// See DEVELOPERS.md.
#[test]
#[ignore = "takes minutes"]
fn ten_thousand_bids_come_to_the_same_in_another_engine() {
    bids_foot_anew(0..10_000);
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

/// Three rooms, one of them not a rectangle, whose board is taken off by area with waste, by the built-in rules and the demo's
/// prices, with settings of the job besides.
fn by_built_in_rules(job: &[(&str, &str)]) -> Both {
    let row = |cells: &[&str]| cells.iter().map(|c| (*c).to_owned()).collect::<Vec<_>>();
    let rooms = vec![
        row(&["Room", "Length", "Width", "Perimeter"]),
        row(&["101", "20'", "14'", ""]),
        row(&["102", "31'-4\"", "11'-2\"", ""]),
        row(&["103", "", "", "20' E, 8' N, 6' W, 6' N, 14' W, 14' S"]),
    ];
    let job = job.iter().map(|(name, value)| row(&[name, value])).collect();
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook_of(&[("Rooms", rooms), ("Job", job)]))
        .with("yard.xlsx", include_bytes!("../workbooks/demo-prices.xlsx").as_slice());
    assert_eq!(run(["hardlid", "price", "rooms.xlsx", "--prices", "yard.xlsx"], &machine), Ended::Done);
    Both::of(&machine.bytes("rooms.priced.xlsx").unwrap())
}

/// Settings that are typed where nothing was given, or in place of what the price book says, bring the bid to what the
/// program makes of them: waste by way of the lines, what tax is on and whether profit is a margin by way of the Bid.
#[test]
fn settings_typed_into_the_workbook_move_the_bid_as_the_program_would() {
    let mut both = by_built_in_rules(&[]);
    let total = both.amount("Total");
    let (waste, (tax, _), (margin, left)) =
        (both.find("Bid", "Board waste"), both.find("Job", "Tax on"), both.find("Job", "Margin"));
    let mut reached = vec![total];
    let mut same = |both: &mut Both, job: &[(&str, &str)]| {
        let mut anew = by_built_in_rules(job);
        assert_eq!(both.amount("Total"), anew.amount("Total"), "{job:?}");
        reached.push(both.amount("Total"));
    };
    both.type_in("Bid", (waste.0, waste.1 + 1), 0.09);
    same(&mut both, &[("Board waste", "9%")]);
    both.put_text("Job", (tax, left + 1), "all");
    both.model.evaluate();
    same(&mut both, &[("Board waste", "9%"), ("Tax on", "all")]);
    both.type_in("Job", (margin, left + 1), 0.125);
    same(&mut both, &[("Board waste", "9%"), ("Tax on", "all"), ("Margin", "12.5%")]);
    assert!(reached.windows(2).all(|pair| pair[0] < pair[1]), "{reached:?}");
    let line = (0..12).map(|row| text(&both.anew("Bid", (row, 0)))).find(|t| t.contains("changed"));
    assert_eq!(line.unwrap(), "Settings changed since pricing: 2. Price again. ");
}

/// A length that is typed as another text is not read by a worksheet: the row says so, and the bid stays as it was priced.
#[test]
fn a_length_typed_as_another_text_leaves_the_bid_as_it_was() {
    let mut both = by_built_in_rules(&[]);
    let total = both.amount("Total");
    let ((head, length), (_, since)) = (both.find("Rooms", "Length"), both.find("Rooms", "Since pricing"));
    both.put_text("Rooms", (head + 1, length), "22'-6\"");
    both.model.evaluate();
    assert_eq!(both.amount("Total"), total);
    assert_eq!(text(&both.anew("Rooms", (head + 1, since))), "changed: price again");
    assert!(
        both.differences().iter().all(|d| d.starts_with("Rooms") || d.starts_with("Bid")),
        "no cell lost its value"
    );
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
    assert_eq!(told(&both).unwrap(), "Prices changed: 1. What is built and cut was chosen at the first ones.");
    both.type_in("Prices", (tee, cost), before);
    assert_eq!((both.amount("Total"), told(&both)), (26_337, None));
}

/// Twice the hours for a foot of work, 11.00 in place of 5.50: 182.85 (see above), overhead 18.29 (18.285): 201.14. Margin
/// 50.29 (50.285): 251.43. Tax 20.11 (20.1144): 271.54.
#[test]
fn hours_that_are_typed_on_the_sheet_of_prices_reach_the_total() {
    let mut both = Both::of(&priced(&plain()).0);
    let (work, _) = both.find("Prices", ITEMS[3][1]);
    let (_, hours) = both.find("Prices", "Hours");
    let CellValue::Number(before) = both.anew("Prices", (work, hours)) else { panic!("no hours") };
    both.type_in("Prices", (work, hours), before * 2.0);
    assert_eq!(both.amount("Total"), 27_154);
    let (_, since) = both.find("Prices", "Since pricing");
    assert_eq!(text(&both.anew("Prices", (work, since))), "changed: price again");
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
