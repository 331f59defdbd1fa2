//! Commands on a machine in memory.

use super::{ROOMS, below_headings, hardlid, is, machine, machine_on, says, sheet};
use calamine::Data;
use hardlid::command::{Ended, run};
use hardlid::system::Memory;
use hardlid::workbook::carried::carried_in;
use hardlid::workbook::open::open;

const PRICE: &str = "price rooms.xlsx --rules house.lid --prices yard.xlsx";

fn names(machine: &Memory) -> Vec<String> {
    machine.names().iter().map(|p| p.display().to_string()).collect()
}

/// Nothing was written beside what was there.
fn untouched(machine: &Memory, more: &[&str]) {
    let mut there = vec!["house.lid", "problems.xlsx", "rooms.xlsx", "yard.xlsx"];
    there.extend(more);
    there.sort_unstable();
    assert_eq!(names(machine), there);
    assert_eq!(machine.bytes("rooms.xlsx").unwrap(), ROOMS);
}

#[test]
fn the_priced_workbook_stands_beside_the_rooms() {
    let machine = machine();
    assert_eq!(hardlid(&machine, PRICE), Ended::Done);
    untouched(&machine, &["rooms.priced.xlsx"]);
}

#[test]
fn a_second_run_works_as_the_first() {
    let machine = machine();
    assert_eq!(hardlid(&machine, PRICE), Ended::Done);
    let first = machine.bytes("rooms.priced.xlsx").unwrap();
    assert_eq!(hardlid(&machine, PRICE), Ended::Done);
    assert_eq!(machine.bytes("rooms.priced.xlsx").unwrap(), first);
}

#[test]
fn the_same_input_and_date_give_the_same_bytes_on_any_day() {
    let made = |day: i8, date: &str| {
        let machine = machine_on(2026, 3, day);
        assert_eq!(hardlid(&machine, &format!("{PRICE} --as-of {date}")), Ended::Done);
        machine.bytes("rooms.priced.xlsx").unwrap()
    };
    assert!(made(2, "2026-02-01") == made(9, "2026-02-01"));
    assert!(made(2, "2026-02-01") != made(2, "2026-02-02"), "the date is part of the workbook");
}

/// In 2024 the old row of the tee was in force: 6.24 for 12 ft is 0.52 a foot; since 2025 it is 6.60, 0.55 a foot.
#[test]
fn the_price_in_force_on_the_date_serves() {
    for (date, each) in [("2024-12-31", 0.52), ("2025-01-01", 0.55)] {
        let machine = machine();
        assert_eq!(hardlid(&machine, &format!("{PRICE} --as-of {date}")), Ended::Done);
        let lines = sheet(&machine.bytes("rooms.priced.xlsx").unwrap(), "Lines");
        let (heads, rows) = below_headings(&lines, "Code");
        let column = heads.iter().position(|h| h == "Unit cost ($)").unwrap();
        let tee = rows.iter().find(|r| r.iter().any(|c| is(c, "ST"))).unwrap();
        assert_eq!(tee[column], Data::Float(each), "as of {date}");
    }
}

#[test]
fn a_file_of_somebody_else_is_not_replaced_unless_asked() {
    let machine = machine().with("rooms.priced.xlsx", ROOMS).with("notes.xlsx", "not a workbook");
    assert_eq!(hardlid(&machine, PRICE), Ended::Failed);
    assert_eq!(machine.bytes("rooms.priced.xlsx").unwrap(), ROOMS);
    assert_eq!(hardlid(&machine, &format!("{PRICE} -o notes.xlsx")), Ended::Failed);
    assert_eq!(machine.bytes("notes.xlsx").unwrap(), b"not a workbook");
    assert_eq!(hardlid(&machine, &format!("{PRICE} --replace")), Ended::Done);
    assert_ne!(machine.bytes("rooms.priced.xlsx").unwrap(), ROOMS);
}

/// `rooms.csv` and `rooms.xlsx` share the name of what they come to.
#[test]
fn what_another_rooms_file_came_to_is_not_replaced_unless_asked() {
    let csv = "Room,Length (ft),Width (ft)\n101,20,14\n";
    let machine = machine().with("rooms.csv", csv).with("R&D.csv", csv).with("R&D.txt", csv);
    assert_eq!(hardlid(&machine, PRICE), Ended::Done);
    let first = machine.bytes("rooms.priced.xlsx").unwrap();
    let other = PRICE.replace("rooms.xlsx", "rooms.csv").replace(" --rules house.lid", "");
    assert_eq!(hardlid(&machine, &other), Ended::Failed);
    assert_eq!(machine.bytes("rooms.priced.xlsx").unwrap(), first);
    // an output that is named is meant, and so is --replace
    for more in ["-o other.xlsx", "--replace"] {
        assert_ne!(hardlid(&machine, &format!("{other} {more}")), Ended::Failed, "{more}");
    }
    assert_ne!(machine.bytes("rooms.priced.xlsx").unwrap(), first);
    assert_eq!(hardlid(&machine, PRICE), Ended::Failed);
    for (rooms, ended) in [("R&D.csv", false), ("R&D.csv", false), ("R&D.txt", true)] {
        let command = other.replace("rooms.csv", rooms);
        assert_eq!(hardlid(&machine, &command) == Ended::Failed, ended, "{rooms}");
    }
}

/// A markup and a margin are two ways to state one profit: that the margin serves is said.
#[test]
fn profit_stated_twice_is_a_warning() {
    for (profit, margin, warned) in [(Some(0.08), Some(0.2), true), (None, Some(0.2), false), (Some(0.08), None, false)]
    {
        let mut book = rust_xlsxwriter::Workbook::new();
        let rooms = book.add_worksheet().set_name("Rooms").unwrap();
        rooms.write_row(0, 0, ["Room", "Length (ft)", "Width (ft)"]).unwrap();
        rooms.write_row(1, 0, [101, 20, 14]).unwrap();
        let job = book.add_worksheet().set_name("Job").unwrap();
        for (row, (name, value)) in [("Profit", profit), ("Margin", margin)].into_iter().enumerate() {
            let row = u32::try_from(row).unwrap();
            job.write_string(row, 0, name).unwrap();
            if let Some(value) = value {
                job.write_number(row, 1, value).unwrap();
            }
        }
        let machine = machine().with("small.xlsx", book.save_to_buffer().unwrap());
        assert_ne!(hardlid(&machine, "price small.xlsx --prices yard.xlsx"), Ended::Failed);
        let checks = super::texts(&sheet(&machine.bytes("small.priced.xlsx").unwrap(), "Checks"));
        let said = "Both Profit (8%) and Margin (20%) are given; Margin serves. Leave one of them out.";
        assert_eq!(checks.iter().any(|t| t == said), warned, "{profit:?} {margin:?}: {checks:?}");
    }
}

#[test]
fn what_is_read_is_never_written_over() {
    for output in ["rooms.xlsx", "yard.xlsx", "house.lid", "./rooms.xlsx"] {
        let machine = machine();
        assert_eq!(hardlid(&machine, &format!("{PRICE} --replace -o {output}")), Ended::Failed, "{output}");
        untouched(&machine, &[]);
    }
}

#[test]
fn what_cannot_run_writes_nothing() {
    for words in [
        "price no-such.xlsx",
        "price rooms.xlsx --rules no-such.lid",
        "price rooms.xlsx --prices no-such.xlsx",
        "price house.lid",
        "price rooms.xlsx --rules rooms.xlsx",
        "price rooms.xlsx --prices rooms.xlsx",
        "price rooms.xlsx --as-of 2026-02-30",
        "price rooms.xlsx --as-of tomorrow",
        "price rooms.xlsx -o no-such-folder/bid.xlsx",
        "price",
        "price rooms.xlsx --no-such-option",
        "no-such-command",
    ] {
        let machine = machine();
        assert_eq!(hardlid(&machine, words), Ended::Failed, "{words}");
        untouched(&machine, &[]);
    }
}

#[test]
fn rows_with_problems_are_stopped_and_the_rest_is_priced() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price problems.xlsx --rules house.lid --prices yard.xlsx"), Ended::WithStops);
    let bytes = machine.bytes("problems.priced.xlsx").unwrap();
    assert!(says(&sheet(&bytes, "Bid"), "INCOMPLETE"));
    let checks = sheet(&bytes, "Checks");
    // the length of 207 holds two lengths; the three layers of 114 are in no table
    assert!(says(&checks, "10'-0 x 8'-3") && says(&checks, "two lengths"));
    assert!(says(&checks, "tested_span") && says(&checks, "114"));
    let lines = sheet(&bytes, "Lines");
    let (heads, rows) = below_headings(&lines, "Code");
    let column = heads.iter().position(|h| h == "Room").unwrap();
    let of = |room: &str| rows.iter().filter(|r| is(&r[column], room)).count();
    assert_eq!((of("207"), of("114")), (0, 0));
    assert!(of("206") > 0 && of("406") > 0);
}

/// The built-in table knows one layer; the demo's room 114 has two.
#[test]
fn two_layers_on_the_one_layer_table_are_stopped() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price rooms.xlsx --prices yard.xlsx"), Ended::WithStops);
    let checks = sheet(&machine.bytes("rooms.priced.xlsx").unwrap(), "Checks");
    assert!(says(&checks, "tested_span") && says(&checks, "layers 2") && says(&checks, "114"));
}

#[test]
fn without_a_price_book_costs_are_blank_and_the_bid_says_so() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid"), Ended::Done);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    assert!(says(&sheet(&bytes, "Bid"), "No price book"));
    let lines = sheet(&bytes, "Lines");
    let (heads, rows) = below_headings(&lines, "Code");
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let (need, cost) = (column("Need"), column("Cost ($)"));
    let lines: Vec<&[Data]> = rows.into_iter().filter(|r| matches!(r[need], Data::Float(_))).collect();
    assert!(lines.len() > 400);
    for line in lines {
        assert!(!matches!(line[cost], Data::Float(_)), "an invented cost: {:?}", line[cost]);
    }
}

#[test]
fn a_missing_code_stops_and_is_never_free() {
    let rules = String::from_utf8(super::RULES.to_vec()).unwrap().replace("code \"L-TWR\"", "code \"L-TWO\"");
    let machine = machine().with("house.lid", rules);
    assert_eq!(hardlid(&machine, PRICE), Ended::WithStops);
    let checks = sheet(&machine.bytes("rooms.priced.xlsx").unwrap(), "Checks");
    assert!(says(&checks, "L-TWO") && says(&checks, "the nearest code there is L-TWR"));
}

/// `std.lid` and, from a book in the folder beside, `../company/std.lid` are one file; the priced workbook carries it once.
#[test]
fn a_file_to_which_two_paths_lead_is_one_book() {
    let std = "define f(a length) length  =  2 * a\n";
    let a = "use \"../company/std.lid\"\ndefine g(a length) length  =  f(a) + 1'\n";
    let house = "use \"../standards/a.lid\"\nuse \"std.lid\"\nrows rooms from \"Rooms\"\n    room  text  heading \"Rm\"  key\n    \
                 run  length  otherwise 2'\nend\nfor rooms\n    h  =  f(run) + g(run)\n    item tee \"Tee\"  code \"T\"  need h\nend\n\
                 example \"both\"\n    rooms  room \"1\"  run 2'\n    shows  h = 9'\nend\n";
    let machine =
        machine().with("b/company/std.lid", std).with("b/company/house.lid", house).with("b/standards/a.lid", a);
    assert_eq!(hardlid(&machine, "try b/company/house.lid"), Ended::Done);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules b/company/house.lid"), Ended::Done);
    let carried =
        carried_in(&mut open("rooms.priced.xlsx", machine.bytes("rooms.priced.xlsx").unwrap()).unwrap()).unwrap();
    let names: Vec<&str> = carried.beside.iter().map(|file| &*file.name).collect();
    assert_eq!(names, ["../standards/a.lid", "std.lid"]);
    // compiled again from what the workbook carries
    assert_eq!(hardlid(&machine, "why rooms.priced.xlsx"), Ended::Done);
    // another folder of the same names is another file
    let machine =
        machine.with("company/std.lid", std).with("b/standards/a.lid", a.replace("../company", "../../company"));
    assert_eq!(hardlid(&machine, "try b/company/house.lid"), Ended::Failed);
}

#[test]
fn try_tells_a_sound_book_from_one_with_a_wrong_example_and_from_one_with_a_mistake() {
    let rules = String::from_utf8(super::RULES.to_vec()).unwrap();
    let machine = machine()
        .with("wrong.lid", rules.replace("tees = 17", "tees = 18"))
        .with("mistake.lid", rules.replace("height > 10'", "height > $10"));
    assert_eq!(hardlid(&machine, "try house.lid"), Ended::Done);
    assert_eq!(hardlid(&machine, "try wrong.lid"), Ended::WithStops);
    assert_eq!(hardlid(&machine, "try mistake.lid"), Ended::Failed);
    assert_eq!(hardlid(&machine, "try no-such.lid"), Ended::Failed);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules mistake.lid"), Ended::Failed);
}

#[test]
fn work_and_words_end_as_they_should() {
    let machine = machine();
    let work = |expression: &str| run(["hardlid", "work", expression], &machine);
    assert_eq!(work("10'-3 1/2\" * 3"), Ended::Done);
    assert_eq!(work("10' + $3"), Ended::Failed);
    assert_eq!(work("tested_span(spacing: 16\", layers: 2)"), Ended::Failed);
    let with_rules = ["hardlid", "work", "--rules", "house.lid", "tower_moves(floor: 600 sf)"];
    assert_eq!(run(with_rules, &machine), Ended::Done);
    assert_eq!(hardlid(&machine, "words"), Ended::Done);
    assert_eq!(hardlid(&machine, "words tee_count"), Ended::Done);
    assert_eq!(hardlid(&machine, "words no_such_word"), Ended::Failed);
    untouched(&machine, &[]);
}
