//! Bids priced again: what moved and why, what is kept, what is left as it is. The book is `tests/pricing/ways.lid`, whose
//! head says what each way of hanging a ceiling costs.

use super::common::{self, parts, with_parts, workbook};
use super::{below_headings, hardlid, is, says, sheet};
use calamine::Data;
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::reprice::audit::audit;
use hardlid::reprice::{Asked, By, Change, families, reprice};
use hardlid::source::column_letters;
use hardlid::system::Memory;
use hardlid::workbook::carried::File;
use hardlid::workbook::variance::{Done, Effects, Moved, Portion, Variance};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

const BOOK: &str = include_str!("../pricing/ways.lid");

/// Runs of 8, 10, 12 and 8 ft: $80.00 wall to wall; $152.00 over strongbacks; $164.00 a hung grid; and a hung grid because
/// the room says so, $144.00. Together $540.00.
pub(super) fn rooms() -> Vec<u8> {
    let rows: [&[&str]; 5] = [
        &["Room", "Length", "Width", "Scheme wanted"],
        &["101", "20'", "8'", ""],
        &["102", "20'", "10'", ""],
        &["103", "12'", "12'", ""],
        &["104", "20'", "8'", "hung grid"],
    ];
    workbook(&[("Rooms", &rows)])
}

/// Tees at so much a foot, light ones at $0.50, wires at $3, half an hour at $40 for each support.
pub(super) fn yard(tee: &str) -> Vec<u8> {
    let prices: [&[&str]; 4] = [
        &["Code", "Item", "Sold by", "Cost", "From", "Group"],
        &["T", "Tee", "lf", tee, "2025-06-01", "Steel"],
        &["G", "Light tee", "lf", "0.5", "", "steel"],
        &["W", "Wire", "ea", "3", "", ""],
    ];
    workbook(&[
        ("Prices", &prices),
        (
            "Labor",
            &[&["Code", "Work", "Hours per unit", "Unit", "Crew"], &["L", "Set supports", "0.5", "ea", "Crew A"]],
        ),
        ("Crews", &[&["Crew", "Wage", "Burden"], &["Crew A", "40", "0%"]]),
    ])
}

/// A folder with one bid, priced on 2 March 2026 with tees at $1.
pub(super) fn priced() -> Memory {
    let machine = Memory::new(Date::constant(2026, 3, 2))
        .with("bids/a.xlsx", rooms())
        .with("yard.xlsx", yard("1"))
        .with("dearer.xlsx", yard("1.2"))
        .with("ways.lid", BOOK)
        .with("more-wires.lid", BOOK.replace("supports * 4", "supports * 5"));
    assert_eq!(hardlid(&machine, "price bids/a.xlsx --rules ways.lid --prices yard.xlsx"), Ended::Done);
    machine
}

pub(super) const FIRST: &str = "bids/a.priced.xlsx";
const SECOND: &str = "bids/a.priced.rev-2.xlsx";

fn total(machine: &Memory, path: &str) -> f64 {
    let bid = sheet(&machine.bytes(path).unwrap(), "Bid");
    let row = bid.rows().find(|r| is(&r[0], "Total")).unwrap();
    if let Data::Float(value) = row[2] { value } else { panic!("no total: {row:?}") }
}

pub(super) fn asked(prices: Option<File>) -> Asked {
    let as_of = prices.as_ref().map(|_| Date::constant(2026, 4, 1));
    Asked {
        prices,
        as_of,
        by: By::RulesOfTheDay,
        instead_of: None,
        without_additions: false,
        changes: Vec::new(),
        older_than: Some(90),
        at_once: None,
    }
}

pub(super) fn moved(machine: &Memory, asked: &Asked) -> Variance {
    let found = families(&[PathBuf::from("bids")], None, machine).unwrap();
    reprice(&found, asked, machine, &|_| ()).unwrap()
}

pub(super) fn file(machine: &Memory, path: &str) -> File {
    File::new(path, machine.bytes(path).unwrap())
}

/// An item's cents: before, now, and by price, quantity, rules and hand.
fn item(items: &[Moved], label: &str, code: &str) -> (i64, i64, [i64; 4]) {
    let found = items.iter().find(|m| m.label() == label && &*m.code == code);
    let moved = found.unwrap_or_else(|| panic!("no {label} {code}: {items:?}"));
    (moved.old, moved.new, moved.effects.each())
}

/// A workbook with a cell put into a sheet, as if somebody had typed it and saved.
fn typed(bytes: &[u8], name: &str, cell: &str, value: &str) -> Vec<u8> {
    with_part(bytes, name, |part| with_cell(part, cell, value))
}

/// A workbook with the part of a sheet changed.
fn with_part(bytes: &[u8], name: &str, change: impl Fn(&str) -> String) -> Vec<u8> {
    let sheets = super::sheet_names(bytes);
    let part = format!("xl/worksheets/sheet{}.xml", sheets.iter().position(|s| s == name).unwrap() + 1);
    common::with_part(bytes, &part, change)
}

/// A sheet's part with a number, or a text, in a cell that was empty.
fn with_cell(part: &str, cell: &str, value: &str) -> String {
    let digits = cell.find(|c: char| c.is_ascii_digit()).unwrap();
    let (letters, row) = cell.split_at(digits);
    let mut new = format!("<c r=\"{cell}\"><v>{value}</v></c>");
    if value.parse::<f64>().is_err() {
        new = format!("<c r=\"{cell}\" t=\"inlineStr\"><is><t>{value}</t></is></c>");
    }
    let Some(start) = part.find(&format!("<row r=\"{row}\"")) else {
        let end = part.find("</sheetData>").unwrap();
        return format!("{}<row r=\"{row}\">{new}</row>{}", &part[..end], &part[end..]);
    };
    let open = start + part[start..].find('>').unwrap() + 1;
    let close = open + part[open..].find("</row>").unwrap();
    // the first cell that stands to the right of it
    let order = |letters: &str| (letters.len(), letters.to_owned());
    let mut at = open;
    while let Some(next) = part[at..close].find("<c r=\"") {
        let name = &part[at + next + 6..];
        let theirs = &name[..name.find(|c: char| c.is_ascii_digit()).unwrap()];
        assert_ne!(theirs, letters, "{cell} holds something");
        if order(theirs) > order(letters) {
            at += next;
            return format!("{}{new}{}", &part[..at], &part[at..]);
        }
        at += next + 6;
    }
    format!("{}{new}{}", &part[..close], &part[close..])
}

/// Types an own figure beside the line of an item in a room.
pub(super) fn own(bytes: &[u8], room: &str, item: &str, heading: &str, value: &str) -> Vec<u8> {
    let lines = sheet(bytes, "Lines");
    let (first_row, first_column) = lines.start().unwrap();
    let head = lines.rows().position(|r| r.iter().any(|c| is(c, "Item or work"))).unwrap();
    let (heads, rows) = below_headings(&lines, "Item or work");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let line = rows.iter().position(|r| is(&r[column("Room")], room) && is(&r[column("Item or work")], item)).unwrap();
    let letters = column_letters(u16::try_from(column(heading)).unwrap() + u16::try_from(first_column).unwrap());
    typed(bytes, "Lines", &format!("{letters}{}", first_row as usize + head + line + 2), value)
}

/// With tees at $1.20: room 101 stays wall to wall, 80 ft x $1.20 = $96.00. Room 102 over strongbacks would be
/// 100 x 1.20 + 52 = $172.00, and a hung grid is $154.00: it is taken now. 103 and 104 hang light tees: $164.00, $144.00.
/// Together $558.00, $18.00 more: $16.00 for the tees of 101 by price; by quantity -$100.00 of tees, $50.00 of light ones,
/// four wires, $12.00, and two supports, an hour, $40.00.
#[test]
fn what_moved_is_split_by_price_and_quantity() {
    let machine = priced();
    let first = machine.bytes(FIRST).unwrap();
    let all = moved(&machine, &asked(Some(file(&machine, "dearer.xlsx"))));
    assert!(all.left_out.is_empty(), "{:?}", all.left_out);
    let bid = &all.bids[0];
    assert_eq!((bid.old, bid.new, bid.done.clone()), (Some(54_000), Some(55_800), Done::Written(SECOND.into())));
    assert_eq!(bid.effects(), Effects { price: 1_600, quantity: 200, rules: 0, by_hand: 0 });
    assert_eq!(item(&bid.within.items, "Tees", "T"), (18_000, 9_600, [1_600, -10_000, 0, 0]));
    assert_eq!(item(&bid.within.items, "Tees", "G"), (10_000, 15_000, [0, 5_000, 0, 0]));
    assert_eq!(item(&bid.within.items, "Wire", "W"), (6_000, 7_200, [0, 1_200, 0, 0]));
    assert_eq!(item(&bid.within.items, "Set supports", "L"), (20_000, 24_000, [0, 4_000, 0, 0]));
    assert_eq!(machine.bytes(FIRST).unwrap(), first, "the first workbook is never touched");
    assert!((total(&machine, SECOND) - 558.0).abs() < 1e-9);
    // from 1 June 2025 to 1 April 2026 are 304 days; prices without a first day are not told
    let aged: Vec<(&str, i64)> = all.aged().iter().map(|(a, _)| (&*a.code, a.days)).collect();
    assert_eq!(aged, [("T", 304)]);
}

/// As above with 90 ft typed by hand for the tees of 101, $10.00 more, which are $18.00 dearer at $1.20; and with five wires
/// a support: two more for each of the three grids, $18.00.
#[test]
fn what_was_typed_and_other_rules_are_effects_of_their_own() {
    let machine = priced();
    let machine = {
        let bytes = own(&machine.bytes(FIRST).unwrap(), "101", "Tees", "Own quantity", "90");
        machine.with(FIRST, bytes)
    };
    let by = By::House(file(&machine, "more-wires.lid").into());
    let all = moved(&machine, &Asked { by, ..asked(Some(file(&machine, "dearer.xlsx"))) });
    assert!(all.left_out.is_empty(), "{:?}", all.left_out);
    let bid = &all.bids[0];
    assert_eq!((bid.old, bid.new), (Some(54_000), Some(58_800)));
    assert_eq!(bid.effects(), Effects { price: 1_800, quantity: 200, rules: 1_800, by_hand: 1_000 });
    assert_eq!(item(&bid.within.items, "Tees", "T"), (18_000, 10_800, [1_800, -10_000, 0, 1_000]));
    assert_eq!(item(&bid.within.items, "Wire", "W"), (6_000, 9_000, [0, 1_200, 1_800, 0]));
    // the figure typed by hand is in the new workbook, and shows that it wins
    let lines = sheet(&machine.bytes(SECOND).unwrap(), "Lines");
    let (heads, rows) = below_headings(&lines, "Item or work");
    let at = heads.iter().position(|h| h == "Own quantity").unwrap();
    assert_eq!(rows[0][at], Data::Float(90.0));
}

/// The rooms of above in two levels, with a room of 10 ft runs that "More" adds; "Less" takes room 101 out.
///
/// Level 1, room 101: $80.00; with 90 ft typed by hand $10.00 more, at $1.20 another $18.00. Level 2, the other three: $152.00,
/// $164.00 and $144.00, $460.00; with tees at $1.20 room 102 is hung, $154.00, $2.00 by quantity; five wires a support are
/// $18.00 for three grids. "More": $152.00, $2.00 by quantity, and $6.00 for two wires. "Less" is level 1 taken off.
#[test]
fn parts_and_alternates_move_by_the_same_effects() {
    let divided = BOOK
        .replace("    hang    length", "    level   text    heading \"Level\"  may be blank\n    alternate  text  heading \"Alternate\"  may be blank\n    deducted  yes/no  heading \"Deducted\"  otherwise no\n    hang    length")
        .replace("for job\n", "for job\n    dividing  parts by level  alternates by alternate deducting deducted\n");
    let more_wires = divided.replace("supports * 4", "supports * 5");
    let rows: [&[&str]; 6] = [
        &["Room", "Length", "Width", "Scheme wanted", "Level", "Alternate", "Deducted"],
        &["101", "20'", "8'", "", "1", "Less", "yes"],
        &["102", "20'", "10'", "", "2", "", ""],
        &["103", "12'", "12'", "", "2", "", ""],
        &["104", "20'", "8'", "hung grid", "2", "", ""],
        &["105", "20'", "10'", "", "2", "More", ""],
    ];
    let machine = priced()
        .with("bids/a.xlsx", workbook(&[("Rooms", &rows)]))
        .with("divided.lid", divided)
        .with("more-wires.lid", more_wires);
    assert_eq!(hardlid(&machine, "price bids/a.xlsx --rules divided.lid --prices yard.xlsx"), Ended::Done);
    let bytes = own(&machine.bytes(FIRST).unwrap(), "101", "Tees", "Own quantity", "90");
    let machine = machine.with(FIRST, bytes);
    let by = By::House(file(&machine, "more-wires.lid").into());
    let all = moved(&machine, &Asked { by, ..asked(Some(file(&machine, "dearer.xlsx"))) });
    assert!(all.left_out.is_empty(), "{:?}", all.left_out);
    let bid = &all.bids[0];
    assert_eq!((bid.old, bid.new), (Some(54_000), Some(58_800)));
    // by price, quantity, rules and hand
    let of = |portions: &[Portion]| {
        let one = |p: &Portion| (p.name.to_string(), p.old, p.new, p.effects.each());
        portions.iter().map(one).collect::<Vec<_>>()
    };
    let named = |name: &str, old, new, effects| (name.to_owned(), old, new, effects);
    let parts = [named("1", 8_000, 10_800, [1_800, 0, 0, 1_000]), named("2", 46_000, 48_000, [0, 200, 1_800, 0])];
    assert_eq!(of(&bid.within.parts), parts);
    let alternates =
        [named("Less", -8_000, -10_800, [-1_800, 0, 0, -1_000]), named("More", 15_200, 16_000, [0, 200, 600, 0])];
    assert_eq!(of(&bid.within.alternates), alternates);
    let sum = bid.within.parts.iter().fold(Effects::default(), |sum, part| sum.plus(part.effects));
    assert_eq!(sum, bid.effects());
}

#[test]
fn the_same_prices_and_date_change_nothing() {
    let machine = priced();
    let names = machine.names();
    let end = hardlid(&machine, "reprice bids --prices yard.xlsx --as-of 2026-03-02 -o moved.xlsx");
    assert_eq!(end, Ended::Done);
    let new: Vec<PathBuf> = machine.names().into_iter().filter(|n| !names.contains(n)).collect();
    assert_eq!(new, [PathBuf::from("moved.xlsx")]);
    let again = Asked { as_of: Some(Date::constant(2026, 3, 2)), ..asked(Some(file(&machine, "yard.xlsx"))) };
    let all = moved(&machine, &again);
    assert_eq!((&all.bids[0].done, all.bids[0].effects()), (&Done::Same, Effects::default()));
    assert_eq!(all.totals(), (54_000, 54_000, Effects::default()));
    // another day alone: a new workbook, and no number in it moves
    assert_eq!(hardlid(&machine, "reprice bids --as-of 2026-04-01 -o moved.xlsx"), Ended::Done);
    let cells = |path: &str, name: &str| format!("{:?}", sheet(&machine.bytes(path).unwrap(), name));
    for name in ["Rooms", "Lines", "Order", "Schemes", "Checks"] {
        assert_eq!(cells(FIRST, name), cells(SECOND, name), "{name}");
    }
}

#[test]
fn there_and_back_gives_the_first_numbers() {
    let machine = priced();
    assert_eq!(hardlid(&machine, "reprice bids --prices dearer.xlsx --as-of 2026-04-01 -o moved.xlsx"), Ended::Done);
    assert_eq!(hardlid(&machine, "reprice bids --prices yard.xlsx --as-of 2026-03-02 -o moved.xlsx"), Ended::Done);
    let third = "bids/a.priced.rev-3.xlsx";
    assert!(says(&sheet(&machine.bytes(third).unwrap(), "Bid"), "Revision 3, priced as of March 2, 2026"));
    assert!((total(&machine, third) - total(&machine, FIRST)).abs() < 1e-9);
    for name in ["Rooms", "Lines", "Order", "Schemes", "Checks", "Prices"] {
        let cells = |path: &str| format!("{:?}", sheet(&machine.bytes(path).unwrap(), name));
        assert_eq!(cells(FIRST), cells(third), "{name}");
    }
    let back = sheet(&machine.bytes("moved.xlsx").unwrap(), "What moved");
    let (heads, rows) = below_headings(&back, "Bid");
    let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
    assert_eq!(rows[0][at("Difference ($)")], Data::Float(-18.0));
}

#[test]
fn a_second_run_does_nothing_and_tells_the_same() {
    let machine = priced();
    let command = "reprice bids --prices dearer.xlsx --as-of 2026-04-01";
    assert_eq!(hardlid(&machine, command), Ended::Done);
    let after = |machine: &Memory| {
        machine.names().into_iter().map(|n| (n.clone(), machine.bytes(n).unwrap())).collect::<Vec<_>>()
    };
    let once = after(&machine);
    assert_eq!(hardlid(&machine, command), Ended::Done);
    assert_eq!(once, after(&machine));
    assert!(machine.bytes("bids/variance.2026-04-01.xlsx").is_some());
}

/// The demo's plans: pictures that are taken from the workbook before are those that would be painted.
#[test]
fn plans_are_not_painted_twice() {
    let machine = super::machine();
    assert_eq!(
        hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx -o bids/b.xlsx"),
        Ended::Failed
    );
    let machine = machine.with("bids/readme.txt", "");
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx -o bids/b.xlsx"), Ended::Done);
    assert_eq!(hardlid(&machine, "reprice bids --as-of 2026-03-09"), Ended::Done);
    assert_eq!(
        hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx -o new.xlsx --as-of 2026-03-09"),
        Ended::Done
    );
    let pictures = |path: &str| {
        let mut all = parts(&machine.bytes(path).unwrap());
        all.retain(|(name, _)| name.starts_with("xl/media/"));
        all
    };
    let again = pictures("bids/b.rev-2.xlsx");
    assert!(again.len() > 10);
    assert!(again == pictures("new.xlsx"));
}

/// Room 105 comes in after the first re-pricing: the bid that is priced next is the one with five rooms.
#[test]
fn a_bid_that_was_priced_anew_is_the_latest() {
    let machine = priced();
    assert_eq!(hardlid(&machine, "reprice bids --prices dearer.xlsx --as-of 2026-04-01"), Ended::Done);
    let typed = own(&machine.bytes(SECOND).unwrap(), "101", "Tees", "Own quantity", "90");
    let more: [&[&str]; 3] = [&["Room", "Length", "Width"], &["101", "20'", "8'"], &["105", "20'", "8'"]];
    let machine = machine.with(SECOND, typed).with("bids/a.xlsx", workbook(&[("Rooms", &more)]));
    assert_eq!(hardlid(&machine, "price bids/a.xlsx --rules ways.lid --prices yard.xlsx"), Ended::Done);
    // what was typed into the second is in it: 90 and 80 ft at $1.00; then at $1.20
    assert!((total(&machine, FIRST) - 170.0).abs() < 1e-9);
    let again = || asked(Some(file(&machine, "dearer.xlsx")));
    let all = moved(&machine, &again());
    let bid = &all.bids[0];
    assert_eq!((bid.path.as_path(), bid.revision, bid.old, bid.new), (Path::new(FIRST), 3, Some(17_000), Some(20_400)));
    assert_eq!(bid.done, Done::Written("bids/a.priced.rev-4.xlsx".into()));
    assert_eq!(moved(&machine, &again()).bids[0].done, Done::Already("bids/a.priced.rev-4.xlsx".into()));
}

/// A workbook without one of its parts, as a program may leave it behind.
fn without_part(bytes: &[u8], part: &str) -> Vec<u8> {
    with_parts(bytes, |name, held| (name != part).then_some(held))
}

#[test]
fn a_revision_whose_properties_were_dropped_is_still_the_newest() {
    let machine = priced();
    assert_eq!(hardlid(&machine, "reprice bids --prices dearer.xlsx --as-of 2026-04-01"), Ended::Done);
    let typed = own(&machine.bytes(SECOND).unwrap(), "101", "Tees", "Own quantity", "90");
    let machine = machine.with(SECOND, without_part(&typed, "docProps/custom.xml"));
    let all = moved(&machine, &asked(Some(file(&machine, "yard.xlsx"))));
    // 12 $ of hand figures at 1.20: 90 - 80 ft
    assert_eq!((all.bids[0].path.as_path(), all.bids[0].effects().by_hand), (Path::new(SECOND), 1_200));
}

#[test]
fn figures_typed_into_either_workbook_are_kept_or_told() {
    let machine = priced();
    assert_eq!(hardlid(&machine, "reprice bids --prices dearer.xlsx --as-of 2026-04-01"), Ended::Done);
    let price = "price bids/a.xlsx --rules ways.lid --prices yard.xlsx";
    // priced anew, the first is the newest: what is typed into it stays
    assert_eq!(hardlid(&machine, price), Ended::Done);
    let typed = own(&machine.bytes(FIRST).unwrap(), "101", "Tees", "Own quantity", "90");
    let machine = machine.with(FIRST, typed);
    assert_eq!(hardlid(&machine, price), Ended::Done);
    assert!((total(&machine, FIRST) - 550.0).abs() < 1e-9);
    // typed into the first while a later one is the newest: told, and nothing is written over
    let machine = priced();
    assert_eq!(hardlid(&machine, "reprice bids --prices dearer.xlsx --as-of 2026-04-01"), Ended::Done);
    let typed = own(&machine.bytes(FIRST).unwrap(), "101", "Tees", "Own quantity", "90");
    let machine = machine.with(FIRST, typed.clone());
    assert_eq!(hardlid(&machine, price), Ended::Failed);
    assert_eq!(machine.bytes(FIRST).unwrap(), typed);
}

#[test]
fn rooms_that_changed_where_no_revision_was_in_sight_are_the_newest() {
    let machine = priced();
    let again = "reprice bids --prices dearer.xlsx --as-of 2026-04-01 --out-dir new";
    assert_eq!(hardlid(&machine, again), Ended::Done);
    let one: [&[&str]; 2] = [&["Room", "Length", "Width"], &["101", "20'", "8'"]];
    let machine = machine.with("bids/a.xlsx", workbook(&[("Rooms", &one)]));
    assert_eq!(hardlid(&machine, "price bids/a.xlsx --rules ways.lid --prices yard.xlsx"), Ended::Done);
    assert_eq!(hardlid(&machine, again), Ended::Done);
    assert!((total(&machine, "new/a.priced.rev-3.xlsx") - 96.0).abs() < 1e-9);
}

/// The second came about by new prices; a run that asks for its date alone finds it there, and does not tell of the first.
#[test]
fn what_is_there_is_told_as_it_stands() {
    let machine = priced();
    assert_eq!(hardlid(&machine, "reprice bids --prices dearer.xlsx --as-of 2026-04-01"), Ended::Done);
    let day = Asked { as_of: Some(Date::constant(2026, 4, 1)), ..asked(None) };
    let all = moved(&machine, &day);
    assert_eq!((all.bids[0].done.clone(), all.totals().1), (Done::Same, 55_800));
    // a folder named twice, in two ways, holds its bids once
    let twice = families(&[PathBuf::from("bids"), PathBuf::from("./bids")], None, &machine).unwrap();
    assert_eq!(twice.families.len(), 3, "{:?}", twice.families);
}

#[test]
fn an_own_figure_that_was_taken_out_is_audited() {
    let machine = priced();
    let typed = own(&machine.bytes(FIRST).unwrap(), "101", "Tees", "Own quantity", "90");
    let machine = machine.with(FIRST, typed);
    assert_eq!(hardlid(&machine, "reprice bids --as-of 2026-04-01"), Ended::Done);
    let second = machine.bytes(SECOND).unwrap();
    // carried over, it is as written
    assert!(!audit(SECOND, &second).unwrap().is_changed());
    let part = with_part(&second, "Lines", |text| {
        let at = ["<v>90</v>", "<v>90.0</v>"].iter().find_map(|v| text.find(v)).unwrap();
        let (start, end) = (text[..at].rfind("<c ").unwrap(), at + text[at..].find("</c>").unwrap() + 4);
        format!("{}{}", &text[..start], &text[end..])
    });
    let found = audit(SECOND, &part).unwrap();
    assert!(found.is_changed());
    assert_eq!(found.removed.iter().map(|e| e.room.as_str()).collect::<Vec<_>>(), ["101"]);
}

/// A formula among own figures cannot be carried, and one without a value holds no figure at all: the workbook is left.
#[test]
fn a_formula_among_own_figures_is_an_addition() {
    let machine = priced();
    let typed = own(&machine.bytes(FIRST).unwrap(), "101", "Tees", "Own quantity", "90");
    let formula = with_part(&typed, "Lines", |text| text.replacen("<v>90</v>", "<f>45*2</f>", 1));
    let machine = machine.with(FIRST, formula);
    let all = moved(&machine, &asked(Some(file(&machine, "dearer.xlsx"))));
    let told: Vec<String> = all.left_out[0].added.iter().map(ToString::to_string).collect();
    assert!(told.len() == 1 && told[0].contains("=45*2"), "{told:?}");
}

#[test]
fn additions_are_named_and_the_workbook_is_left() {
    let machine = priced();
    let bytes = typed(&machine.bytes(FIRST).unwrap(), "Bid", "H60", "call the yard");
    let machine = machine.with(FIRST, bytes);
    let all = moved(&machine, &asked(Some(file(&machine, "dearer.xlsx"))));
    assert!(all.bids.is_empty());
    let told: Vec<String> = all.left_out[0].added.iter().map(ToString::to_string).collect();
    assert_eq!(told, ["Bid H60: call the yard, where nothing was written"]);
    assert!(machine.bytes(SECOND).is_none());
    let command = "reprice bids --prices dearer.xlsx --as-of 2026-04-01 --without-additions";
    assert_eq!(hardlid(&machine, command), Ended::Done);
    assert!((total(&machine, SECOND) - 558.0).abs() < 1e-9);
}

/// The light tee of 102 is a line only where a grid is hung: with tees at $0.50 it goes over strongbacks again.
#[test]
fn an_own_figure_whose_line_is_gone_keeps_the_workbook() {
    let machine = priced();
    assert_eq!(hardlid(&machine, "reprice bids --prices dearer.xlsx --as-of 2026-04-01"), Ended::Done);
    let bytes = own(&machine.bytes(SECOND).unwrap(), "102", "Tees", "Own unit cost ($)", "0.45");
    let machine = machine.with(SECOND, bytes);
    let all = moved(&machine, &asked(Some(File::new("cheap.xlsx", yard("0.5")))));
    assert!(all.bids.is_empty());
    assert!(all.left_out[0].problems[0].what.contains("unit cost $0.45"), "{:?}", all.left_out[0].problems);
    assert!(machine.bytes("bids/a.priced.rev-3.xlsx").is_none());
}

#[test]
fn what_if_writes_nothing_but_the_variance() {
    let machine = priced();
    let names = machine.names();
    // 180 ft of tees and 200 ft of light ones, all of group steel: 2 % of $180.00 and of $100.00; over strongbacks room
    // 102 is $154.00 then, by a hung grid $155.00
    assert_eq!(
        hardlid(&machine, "reprice bids --rules keep -o steel.xlsx --what-if group:Steel\u{a0}+2%"),
        Ended::Done
    );
    let new: Vec<PathBuf> = machine.names().into_iter().filter(|n| !names.contains(n)).collect();
    assert_eq!(new, [PathBuf::from("steel.xlsx")]);
    let what_if = |text: &str| Asked { changes: vec![Change::read(text).unwrap()], ..asked(None) };
    let all = moved(&machine, &what_if("group:Steel +2%"));
    assert_eq!((all.totals().0, all.totals().1), (54_000, 54_560));
    assert_eq!(all.bids[0].effects(), Effects { price: 560, ..Effects::default() });
    // the same by the same rules as those of today: worked out step by step, and the same to the cent in every item
    let by = By::House(file(&machine, "ways.lid").into());
    let in_steps = moved(&machine, &Asked { by, ..what_if("group:Steel +2%") });
    assert_eq!(in_steps.bids[0].within.items, all.bids[0].within.items);
    // five hours at $40
    let crew = moved(&machine, &what_if("crew:crew a +10%"));
    assert_eq!(crew.bids[0].effects(), Effects { price: 2_000, ..Effects::default() });
    assert_eq!(moved(&machine, &what_if("X-9 +10%")).unmet, ["X-9 +10%"]);
}

#[test]
fn one_bad_file_is_told_and_the_others_go_on() {
    let machine = priced();
    let first = machine.bytes(FIRST).unwrap();
    let machine = machine
        .with("bids/cut.priced.xlsx", &first[..first.len() / 2])
        .with("bids/b.priced.xlsx", first)
        .with("bids/.~lock.b.priced.xlsx#", "");
    let all = moved(&machine, &asked(Some(file(&machine, "dearer.xlsx"))));
    let done: Vec<&Path> = all.bids.iter().map(|b| b.path.as_path()).collect();
    assert_eq!(done, [Path::new(FIRST), Path::new("bids/b.priced.xlsx")]);
    assert_eq!(all.left_out[0].path, Path::new("bids/cut.priced.xlsx"));
    assert_eq!(all.left_out[0].problems[0].kind, "damaged file");
    assert!(all.bids[1].remarks().contains("open in another program"), "{}", all.bids[1].remarks());
    // the rooms workbook beside them is no bid
    assert_eq!(all.passed, [PathBuf::from("bids/a.xlsx")]);
}

#[test]
fn a_code_that_is_gone_makes_the_bid_incomplete_and_is_told() {
    let machine = priced();
    let without = workbook(&[("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["G", "Light tee", "lf", "0.5"]])]);
    let all = moved(&machine, &asked(Some(File::new("short.xlsx", without))));
    let bid = &all.bids[0];
    assert_eq!((bid.old, bid.new), (Some(54_000), None));
    assert!(bid.remarks().starts_with("incomplete: "), "{}", bid.remarks());
    assert!(all.unpriced().iter().any(|(what, bids)| what.contains("code W") && *bids == 1), "{:?}", all.unpriced());
    let written = sheet(&machine.bytes(SECOND).unwrap(), "Bid");
    assert!(says(&written, "INCOMPLETE"));
}

/// Mark-ups that stood in the old price book alone are gone with it.
#[test]
fn a_new_price_book_without_the_settings_of_the_old_one_is_told() {
    let rooms: [&[&str]; 2] = [&["Room", "Length", "Width"], &["101", "20'", "14'"]];
    let prices: [&[&str]; 2] = [&["Code", "Item", "Sold by", "Cost"], &["ST", "Tee", "lf", "0.6"]];
    let job: [&[&str]; 1] = [&["Overhead", "10%"]];
    let machine = Memory::new(Date::constant(2026, 3, 2))
        .with("bids/a.xlsx", workbook(&[("Rooms", &rooms)]))
        .with("yard.xlsx", workbook(&[("Prices", &prices), ("Job", &job)]));
    assert_ne!(hardlid(&machine, "price bids/a.xlsx --prices yard.xlsx"), Ended::Failed);
    let notes = |file: Vec<u8>| {
        let all = moved(&machine, &Asked { changes: Vec::new(), ..asked(Some(File::new("new.xlsx", file))) });
        all.bids[0].notes.join("; ")
    };
    let without = notes(workbook(&[("Prices", &prices)]));
    assert!(without.starts_with("new.xlsx has no sheet Job: what the old price book gave there"), "{without}");
    let rows: [&[&str]; 1] = [&["Overhead", "12%"]];
    assert_eq!(notes(workbook(&[("Prices", &prices), ("Job", &rows)])), "");
}

#[test]
fn what_the_price_book_warns_of_is_told() {
    let machine = priced();
    let prices: [&[&str]; 5] = [
        &["Code", "Item", "Sold by", "Cost"],
        &["T", "Tee", "lf", "1"],
        &["T", "Tee", "lf", "1.1"],
        &["G", "Light tee", "lf", "0.5"],
        &["W", "Wire", "ea", "3"],
    ];
    let labor: [&[&str]; 2] =
        [&["Code", "Work", "Hours per unit", "Unit", "Crew"], &["L", "Set supports", "0.5", "ea", "Crew A"]];
    let twice = workbook(&[
        ("Prices", &prices),
        ("Labor", &labor),
        ("Crews", &[&["Crew", "Wage", "Burden"], &["Crew A", "40", "0%"]]),
    ]);
    let all = moved(&machine, &asked(Some(File::new("twice.xlsx", twice))));
    assert!(all.warned().iter().any(|(what, bids)| what.contains('T') && *bids == 1), "{:?}", all.warned());
    // a priced workbook is no rooms workbook
    assert_eq!(hardlid(&machine, "price bids/a.priced.xlsx --rules ways.lid --prices yard.xlsx"), Ended::Failed);
}

#[test]
fn a_folder_that_is_read_only_is_told() {
    let machine = priced().with_read_only("bids");
    let names = machine.names();
    let all = moved(&machine, &asked(Some(file(&machine, "dearer.xlsx"))));
    assert_eq!(all.left_out[0].problems[0].kind, "read-only folder");
    assert_eq!(hardlid(&machine, "reprice bids --prices dearer.xlsx"), Ended::Failed);
    assert_eq!(machine.names(), names);
    // new workbooks may go elsewhere
    assert_eq!(hardlid(&machine, "reprice bids --prices dearer.xlsx --out-dir new/ones"), Ended::Done);
    assert!(machine.bytes("new/ones/a.priced.rev-2.xlsx").is_some());
    assert!(machine.bytes("new/ones/variance.2026-03-02.xlsx").is_some());
}

#[test]
fn what_is_asked_wrongly_is_refused() {
    let machine = priced().with("mine.xlsx", workbook(&[("A", &[&["x"]])])).with("empty/readme.txt", "");
    for wrong in [
        "reprice bids",
        "reprice nowhere --prices yard.xlsx",
        "reprice empty --prices yard.xlsx",
        "reprice bids --prices ways.txt",
        "reprice bids --prices yard.xlsx --as-of tomorrow",
        "reprice bids --prices yard.xlsx --rules no.lid",
        "reprice bids --prices yard.xlsx -o mine.xlsx",
        "reprice bids --what-if T+8%",
    ] {
        assert_eq!(hardlid(&machine, wrong), Ended::Failed, "{wrong}");
    }
}

/// 90 ft typed over 80 ft at $1, a quantity written over, and a remark; all else is as it was written.
#[test]
fn an_audit_lists_what_was_changed_by_hand() {
    let machine = priced();
    let first = machine.bytes(FIRST).unwrap();
    let clean = audit(FIRST, &first).unwrap();
    assert!(clean.untouched && clean.typed.is_empty() && clean.differences.is_empty(), "{:?}", clean.differences);
    assert_eq!(hardlid(&machine, "audit bids/a.priced.xlsx"), Ended::Done);
    let changed = own(&own(&first, "101", "Tees", "Own quantity", "90"), "103", "Wire", "Own note", "by hand");
    let changed = typed(&changed, "Rooms", "A40", "check this");
    let found = audit(FIRST, &changed).unwrap();
    assert_eq!((found.carried.total, found.total), (Some(54_000), Some(55_000)));
    let figures: Vec<String> = found
        .typed
        .iter()
        .map(|t| {
            let text = |n: Option<hardlid::quantity::Number>| n.map(|n| n.to_decimal().normalize().to_string());
            let ours = t.ours.as_ref().and_then(|o| text(o.quantity));
            format!(
                "{} {} {:?} {:?} {:?}",
                t.entry.room,
                t.entry.item,
                text(t.entry.own.quantity),
                ours,
                t.entry.own.note
            )
        })
        .collect();
    assert_eq!(figures, ["101 Tees Some(\"90\") Some(\"80\") None", "103 Wire None Some(\"8\") Some(\"by hand\")"]);
    // the program that typed has not worked the formulas out: what they show is as it was written, and no difference
    let stale = |d: &String| d.contains("shows");
    let (values, other): (Vec<String>, Vec<String>) =
        found.differences.iter().map(ToString::to_string).partition(stale);
    assert_eq!(other, ["Rooms A40: check this, where nothing was written"]);
    assert!(values.is_empty(), "{values:?}");
    assert_eq!(hardlid(&machine.with(FIRST, changed), "audit bids/a.priced.xlsx"), Ended::WithStops);
}

/// Five wires a support in place of four, by the prices of the day: over strongbacks 102 is $155.00 then, by a hung grid
/// 50 + 10 x 3 + 80 = $160.00, so it stays: one more wire, $3.00; 103 and 104 have two more each, $12.00.
#[test]
fn the_impact_of_a_change_of_rules_is_told_and_nothing_is_written() {
    let machine = priced();
    let names = machine.names();
    assert_eq!(hardlid(&machine, "impact ways.lid more-wires.lid bids -o impact.xlsx"), Ended::Done);
    let new: Vec<PathBuf> = machine.names().into_iter().filter(|n| !names.contains(n)).collect();
    assert_eq!(new, [PathBuf::from("impact.xlsx")]);
    let bytes = machine.bytes("impact.xlsx").unwrap();
    // a change of rules is asked for no ages of prices
    let prices = sheet(&bytes, "Prices");
    assert!(!prices.used_cells().any(|(_, _, c)| c.to_string().starts_with("Older than")));
    let range = sheet(&bytes, "What moved");
    let (heads, rows) = below_headings(&range, "Bid");
    let figure = |name: &str| rows[0][heads.iter().position(|h| h == name).unwrap()].clone();
    assert_eq!(["Before ($)", "Now ($)", "By rules ($)"].map(figure), [540.0, 555.0, 15.0].map(Data::Float));
    assert_eq!(hardlid(&machine, "impact ways.lid gone.lid bids"), Ended::Failed);
}

/// Tees that may span 5 ft alone: 101, of 8 ft, hangs over a strongback in place of nothing, $132.00 after $80.00; the
/// others stand as they did. By 3 ft, 101 is a hung grid of 2.67 ft, $144.00; 102 and 103 have no way of 3 ft any more.
#[test]
fn rooms_that_other_rules_change_come_with_their_scheme_and_checks_most_first() {
    let machine = priced()
        .with("five.lid", BOOK.replace("part <= 8'", "part <= 5'"))
        .with("three.lid", BOOK.replace("part <= 8'", "part <= 3'"));
    assert_eq!(hardlid(&machine, "impact ways.lid five.lid bids -o five.xlsx"), Ended::Done);
    let rooms = |name: &str| {
        let range = sheet(&machine.bytes(name).unwrap(), "Rooms");
        let (heads, rows) = below_headings(&range, "Bid");
        let columns = ["Room", "Built before as", "Built now as", "Fails now", "Holds now", "Before ($)", "Now ($)"];
        let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
        let row = |row: &&[Data]| columns.map(|c| row[at(c)].to_string()).join("|");
        rows.iter().map(row).collect::<Vec<_>>()
    };
    assert_eq!(rooms("five.xlsx"), ["room 101|Wall to wall|Over strongbacks|||80|132"]);

    assert_eq!(hardlid(&machine, "impact ways.lid three.lid bids -o three.xlsx"), Ended::WithStops);
    let told = rooms("three.xlsx");
    assert_eq!(told.len(), 3, "{told:?}");
    assert_eq!(told[0], "room 103|Hung grid|none that holds|scheme (stops), span (stops)||164|no price");
    assert_eq!(told[1], "room 102|Over strongbacks|none that holds|scheme (stops), span (stops)||152|no price");
    assert_eq!(told[2], "room 101|Wall to wall|Hung grid|||80|144");

    // the other way round they hold again
    hardlid(&machine, "impact three.lid ways.lid bids -o back.xlsx");
    let told = rooms("back.xlsx");
    assert_eq!(told[0], "room 103|none that holds|Hung grid||scheme (stops), span (stops)|no price|164");
    assert_eq!(told[2], "room 101|Hung grid|Wall to wall|||144|80");
}

/// A folder of bids on the machine, with the new prices beside it.
fn folder(bids: usize, machine: &Memory) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("bids")).unwrap();
    for n in 0..bids {
        std::fs::write(folder.path().join(format!("bids/{n:03}.priced.xlsx")), machine.bytes(FIRST).unwrap()).unwrap();
    }
    std::fs::write(folder.path().join("dearer.xlsx"), machine.bytes("dearer.xlsx").unwrap()).unwrap();
    folder
}

fn start(folder: &Path) -> std::process::Child {
    Command::new(env!("CARGO_BIN_EXE_hardlid"))
        .args(["reprice", "bids", "--prices", "dearer.xlsx", "--as-of", "2026-04-01"])
        .current_dir(folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

/// Every file below `bids` with what it holds, but for parts of files that a killed run could not take away.
fn held(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let mut all: Vec<(PathBuf, Vec<u8>)> = std::fs::read_dir(folder.join("bids"))
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| !p.file_name().unwrap().to_str().unwrap().starts_with(".hardlid-"))
        .map(|p| (p.file_name().unwrap().into(), std::fs::read(&p).unwrap()))
        .collect();
    all.sort();
    all
}

/// Kills runs at moments spread over the time that a run takes; after each, every workbook there is whole, and the next run
/// ends as an undisturbed one.
#[allow(clippy::print_stdout, reason = "a run of minutes says how its kills were spread")]
fn killed(bids: usize, times: u32) {
    let machine = priced();
    let whole = folder(bids, &machine);
    let begun = std::time::Instant::now();
    assert!(start(whole.path()).wait().unwrap().success());
    let takes = begun.elapsed();
    let wanted = held(whole.path());
    assert_eq!(wanted.len(), 2 * bids + 1);
    let mut seen = String::new();
    for n in 0..times {
        let cut = folder(bids, &machine);
        let mut run = start(cut.path());
        // steps of the golden section spread evenly however many there are
        let part = f64::from(n + 1) * 0.618_033_988_75 % 1.0;
        std::thread::sleep(takes.mul_f64(part));
        run.kill().unwrap();
        run.wait().unwrap();
        let left = held(cut.path());
        let _ = write!(seen, "{} ", left.len());
        for file in &left {
            assert!(wanted.contains(file), "{} is not whole: {} bytes", file.0.display(), file.1.len());
        }
        assert!(start(cut.path()).wait().unwrap().success());
        assert!(held(cut.path()) == wanted, "the next run ends otherwise");
        let parts = std::fs::read_dir(cut.path().join("bids")).unwrap().map(|e| e.unwrap().file_name());
        assert!(!parts.into_iter().any(|n| n.to_str().unwrap().starts_with(".hardlid-")), "parts of files stay");
    }
    println!("files there after each kill, of {}: {seen}; a run takes {takes:?}", 2 * bids + 1);
}

#[test]
fn a_run_that_is_killed_goes_on() {
    killed(12, 3);
}

#[test]
#[ignore = "takes minutes: cargo test --release --test commands -- --ignored --nocapture two_hundred"]
fn two_hundred_bids_killed_fifty_times() {
    killed(200, 50);
}
