//! How figures came about: formula, values, table rows, choices, lines with their price rows, down to the cells.
//!
//! Values are reckoned by hand beside each; line numbers of books are found in their texts.

use super::common::workbook;
use super::reprice::{FIRST, own, priced, rooms, yard};
use super::{PRICES, PROBLEMS, ROOMS, hardlid};
use hardlid::bid::{House, Ready, Rules, Worked, compiled_to_explain};
use hardlid::command::Ended;
use hardlid::engine::examples::work_out;
use hardlid::notation::read_expression;
use hardlid::problem::Problem;
use hardlid::program::compile;
use hardlid::quantity::{Date, Decimal, Number};
use hardlid::reprice::Last;
use hardlid::source::{Place, Text};
use hardlid::system::Memory;
use hardlid::workbook::carried::File;
use hardlid::working::{Answer, Sort, Told, answer, find, listed, name_option, row_named};
use serde_json::Value;
use std::collections::BTreeSet;
use std::process::Command;

const TRADE: &str = include_str!("../../grammar/trade.lid");
const CEILINGS: &str = include_str!("../../grammar/ceilings.lid");
const WAYS: &str = include_str!("../pricing/ways.lid");
const HOUSE: &str = include_str!("../../workbooks/demo-rules.lid");

/// A bid that stays as long as the test runs.
fn worked(rooms: &[u8], rules: Option<&str>, prices: Option<&[u8]>) -> Worked<'static> {
    worked_under(rooms, rules, prices, None)
}

/// The same with a room made to name one of its options.
fn worked_under(
    rooms: &[u8],
    rules: Option<&str>,
    prices: Option<&[u8]>,
    under: Option<(&str, &str)>,
) -> Worked<'static> {
    let file = |name: &str, bytes: &[u8]| File::new(name, bytes.to_vec());
    let rules = Rules::of_today(rules.map(|text| file("house.lid", text.as_bytes())), "hardlid ceilings");
    let (program, told) = compiled_to_explain(&rules).unwrap();
    let prices = prices.map(|bytes| file("yard.xlsx", bytes));
    let day = Date::constant(2026, 3, 2);
    let ready = Box::leak(Box::new(Ready::of_program(program, &rules, prices.as_ref(), day, told).unwrap()));
    let rooms = file("rooms.xlsx", rooms).into();
    let worked = ready.work_out(&rooms, ready.inputs(&rooms).unwrap(), Vec::new());
    let Some((room, option)) = under else { return worked };
    let of = row_named(&worked, room).unwrap();
    let mut inputs = ready.inputs(&rooms).unwrap();
    name_option(ready.program(), &mut inputs, of, option).unwrap();
    ready.work_out(&rooms, inputs, Vec::new())
}

/// Rooms of a file of any kind, by a book alone.
fn worked_file(name: &str, bytes: &[u8], rules: &str) -> Worked<'static> {
    let rules = Rules::of_today(Some(File::new("house.lid", rules.as_bytes().to_vec())), "hardlid ceilings");
    let (program, told) = compiled_to_explain(&rules).unwrap();
    let day = Date::constant(2026, 3, 2);
    let ready = Box::leak(Box::new(Ready::of_program(program, &rules, None, day, told).unwrap()));
    let rooms = File::new(name, bytes.to_vec()).into();
    ready.work_out(&rooms, ready.inputs(&rooms).unwrap(), Vec::new())
}

fn demo() -> Worked<'static> {
    worked(ROOMS, Some(HOUSE), Some(PRICES))
}

/// Answers to what is asked of a room, as deep as they go.
fn answers(worked: &Worked<'_>, room: &str, name: &str) -> Vec<Answer> {
    let of = row_named(worked, room).unwrap();
    answer(worked, &find(worked, of, name).unwrap(), 100).unwrap()
}

fn told(worked: &Worked<'_>, room: &str, name: &str) -> Told {
    answers(worked, room, name).remove(0).told
}

/// What is wrong with a question.
fn refused(worked: &Worked<'_>, room: &str, name: &str) -> Problem {
    match row_named(worked, room) {
        Ok(of) => find(worked, of, name).unwrap_err(),
        Err(problem) => problem,
    }
}

/// The first part of that label, at any depth.
fn part<'t>(told: &'t Told, label: &str) -> &'t Told {
    fn found<'t>(told: &'t Told, label: &str) -> Option<&'t Told> {
        if told.label == label { Some(told) } else { told.parts.iter().find_map(|p| found(p, label)) }
    }
    found(told, label).unwrap_or_else(|| panic!("no part {label} in {:?}", labels(told)))
}

fn labels(told: &Told) -> Vec<String> {
    std::iter::once(told.label.clone()).chain(told.parts.iter().flat_map(labels)).collect()
}

fn value(told: &Told) -> &str {
    told.value.as_deref().unwrap_or_else(|| panic!("{} has no value", told.label))
}

/// "Rooms!D6", or "house.lid, line 3".
fn place(told: &Told) -> String {
    match told.place.as_ref().unwrap_or_else(|| panic!("{} has no place", told.label)) {
        Place::Cell(cell) => format!("{}!{}", cell.sheet, cell.address()),
        Place::Book { text, span } => format!("{}, line {}", text.name, text.line(span.start as usize)),
        Place::File(file) => file.to_string(),
    }
}

/// The line, from 1, on which a text first has some words.
fn line(text: &str, words: &str) -> usize {
    text.lines().position(|l| l.contains(words)).unwrap_or_else(|| panic!("no {words}")) + 1
}

fn says(told: &Told, words: &str) -> bool {
    told.says.iter().any(|s| s.contains(words))
}

/// Room 102 is 9'-0" by 7'-6": at 24 in. o.c. 9 ft are 4.5 spaces, so 5, and 4 tees. 7'-6" is just what one layer may span at
/// 24 in. o.c.; nobody asks for another spacing.
#[test]
fn tees_go_back_to_the_cells_of_the_room() {
    let tees = told(&demo(), "102", "tees");
    assert_eq!((value(&tees), tees.formula.as_deref()), ("4", Some("laid_count(frame, of: \"tee\")")));
    let stated = line(CEILINGS, "tees         \"Tees\"");
    assert_eq!(place(&tees), format!("hardlid ceilings, line {stated}"));
    let spacing = part(&tees, "Tee spacing");
    assert_eq!(value(spacing), "24\"");
    let told_of = [
        "spaced is given: no",
        "scheme is channel: no, it is \"Wall to wall\"",
        "part <= span_limit(…): yes, 7'-6\" <= 7'-6\"",
        "so 24\"",
    ];
    assert_eq!(spacing.says, told_of);
    for (label, cell, shown) in [("Length", "Rooms!D6", "9'-0\""), ("Width", "Rooms!E6", "7'-6\"")] {
        let read = part(&tees, label);
        assert_eq!((place(read).as_str(), value(read)), (cell, shown));
    }
    // 12 ft and 10 ft are on offer: a tee may be as long as the longer of them
    let stock = part(&tees, "Tee stock");
    assert_eq!(value(stock), "12'-0\"");
    assert!(says(stock, "the longest stock of ST in the price book"), "{:?}", stock.says);
}

/// The clear span is told once where the spacing asks for it, and referred to afterwards.
#[test]
fn what_was_told_is_referred_to() {
    fn count(told: &Told, label: &str, again: bool) -> usize {
        let own = usize::from(told.label == label && told.again == again);
        own + told.parts.iter().map(|p| count(p, label, again)).sum::<usize>()
    }
    let tees = told(&demo(), "102", "tees");
    assert_eq!(count(&tees, "Tee spacing", false), 1);
    assert!(count(&tees, "Tee spacing", true) >= 1);
    let again = tees.parts[0].parts.iter().flat_map(|p| &p.parts).find(|p| p.again).unwrap();
    assert!(again.parts.is_empty() && again.formula.is_none());
}

/// Room 114 has two layers: by the house's table 7'-0" at 16 in. o.c., and 6'-0" at 24 in., which its run of 6'-8" is over.
#[test]
fn a_look_up_names_its_row_and_what_it_stands_in_place_of() {
    let tested = told(&demo(), "114", "tested");
    assert_eq!(value(&tested), "7'-0\"");
    let table = part(&tested, "tested_span(spacing: 16\", board: 5/8\", layers: 2)");
    let row = HOUSE.lines().position(|l| l.trim_start().starts_with("16\"") && l.contains("| 2 ")).unwrap() + 1;
    assert_eq!(table.says, [format!("row on line {row}: spacing up to 16\" | board 5/8\" | layers 2 | limit 7'-0\"")]);
    assert_eq!(table.source.as_deref(), Some("house table, invented for this demo"));
    let head = line(HOUSE, "replace table tested_span");
    assert_eq!(place(table), format!("house.lid, line {head}"));
    let [before] = &table.instead_of[..] else { panic!("{:?}", table.instead_of) };
    let Place::Book { text, span } = &before.place else { panic!("{before:?}") };
    assert_eq!(
        (text.name.as_str(), text.line(span.start as usize)),
        ("hardlid trade", line(TRADE, "table tested_span"))
    );
}

/// A room of 7 ft by 9 ft at 24 in. o.c. in D: the house's letter has a clear span of 7 ft where the trade has 7'-6", for a
/// board that is left out; wires stand as in the trade.
#[test]
fn a_row_that_a_book_replaces_is_told_with_that_book_and_its_source() {
    let house = "book \"Region\"  edition \"1\"\nuse \"hardlid ceilings\"\n\
                 replace rows of table tested_span  source \"our letter of March\"\n    \
                 spacing length | layers count | limit length\n    24\" | 1 | 7'\nend\n";
    let bytes = workbook(&[("Rooms", &[&["Room", "Length", "Width"], &["1", "9'", "7'"]])]);
    let worked = worked(&bytes, Some(house), None);
    let spacing = told(&worked, "1", "tested");
    let table = part(&spacing, "tested_span(spacing: 24\", board: 5/8\", layers: 1)");
    assert_eq!(value(table), "7'-0\"");
    assert_eq!(place(table), "house.lid, line 5");
    assert_eq!(table.source.as_deref(), Some("our letter of March"));
    assert_eq!(table.says, ["row on line 5 of house.lid: spacing up to 24\" | board 5/8\" | layers 1 | limit 7'"]);
    let row = line(TRADE, "24\"                   | 5/8\"");
    let before = table.instead_of.iter().map(|b| match &b.place {
        Place::Book { text, span } => (text.name.clone(), text.line(span.start as usize)),
        _ => panic!("{b:?}"),
    });
    assert_eq!(before.collect::<Vec<_>>(), [("hardlid trade".to_owned(), row)]);
    // the sheet Rules states both books' sources of that table
    let of_table: Vec<(&str, &str, &str)> = worked
        .ready
        .program()
        .schema
        .cited
        .iter()
        .filter(|c| c.what.starts_with("Table: tested_span"))
        .map(|c| (c.what.as_str(), c.book.as_str(), c.source.as_str()))
        .collect();
    assert_eq!(
        of_table,
        [
            ("Table: tested_span", "hardlid trade", "practice"),
            ("Table: tested_span, 1 row of it", "house.lid", "our letter of March"),
        ]
    );
}

/// Between a row of the lower table and one that a book puts in, each row has its own source.
#[test]
fn a_value_between_two_rows_tells_the_source_of_each() {
    let below = "book \"Maker\"\nrows rooms from \"Rooms\"\n    id text key\n    length length\nend\n\
                 table load  \"By the maker\"  source \"catalog\"\n    run length, between | most count\n    1' | 10\n    3' | 30\nend\n";
    let house = "book \"House\"\nuse \"maker.lid\"\n\
                 replace rows of table load  source \"our test\"\n    run length | most count\n    3' | 20\nend\n\
                 for rooms\n    held  =  load(length)\nend\n";
    let bytes = workbook(&[("Rooms", &[&["Id", "Length"], &["1", "2'"]])]);
    let read = |path: &str, _| {
        assert_eq!(path, "maker.lid");
        Ok(below.as_bytes().to_vec())
    };
    let house = House::read(File::new("house.lid", house.as_bytes().to_vec()), &read);
    let rules = Rules::of_today(Some(house), "hardlid ceilings");
    let (program, told_of_it) = compiled_to_explain(&rules).unwrap();
    let day = Date::constant(2026, 3, 2);
    let ready = Ready::of_program(program, &rules, None, day, told_of_it).unwrap();
    let rooms = File::new("rooms.xlsx", bytes).into();
    let worked = ready.work_out(&rooms, ready.inputs(&rooms).unwrap(), Vec::new());
    let held = told(&worked, "1", "held");
    let table = part(&held, "load(run: 2'-0\")");
    // half way between 10 and 20
    assert_eq!(value(table), "15");
    assert_eq!(
        table.says,
        [
            "in proportion between: row on line 8: run at 1' | most 10",
            "in proportion between: row on line 5 of house.lid: run at 3' | most 20 (source: our test)",
        ]
    );
    assert_eq!((place(table).as_str(), table.source.as_deref()), ("maker.lid, line 6", Some("catalog")));
}

/// A wall of 14 ft with jogs wants "up to" and "from" told as such: 20 in. is served by the row of 24 in.
#[test]
fn a_row_above_what_is_asked_is_told_by_its_own_figures() {
    let bytes = workbook(&[("Rooms", &[&["Room", "Length", "Width", "Tee spacing"], &["1", "12'", "7'", "20\""]])]);
    let tested = told(&worked(&bytes, None, None), "1", "tested");
    let table = part(&tested, "tested_span(spacing: 20\", board: 5/8\", layers: 1)");
    assert_eq!(value(table), "7'-6\"");
    assert!(says(table, "spacing up to 24\""), "{:?}", table.says);
}

/// Three layers stand in no table: the tee spacing asks first, for 24 in.
#[test]
fn a_stopped_room_tells_the_first_cause_and_the_way_to_it() {
    let problems = worked(PROBLEMS, Some(HOUSE), Some(PRICES));
    let answer = answers(&problems, "114", "tees").remove(0);
    assert_eq!(answer.stops.len(), 1);
    assert_eq!(answer.stops[0].kind, "no row in table");
    assert!(answer.stops[0].what.contains("spacing 24\", board 5/8\", layers 3 for room 114"), "{:?}", answer.stops[0]);
    // one way, and at its end what was asked of the table
    let mut way = vec![&answer.told];
    while let [next] = &way[way.len() - 1].parts[..] {
        way.push(next);
    }
    assert!(way.iter().all(|t| t.faulty));
    let names: Vec<&str> = way.iter().map(|t| t.label.as_str()).collect();
    assert_eq!(names, ["Tees", "Frame", "Tee spacing", "tested_span(spacing: 24\", board: 5/8\", layers: 3)"]);
    let layers = part(way[3], "Layers");
    assert_eq!((value(layers), place(layers).as_str()), ("3", "Rooms!G18"));
    // its lines are none, and say why
    let line = answers(&problems, "114", "line tee").remove(0);
    assert_eq!((line.told.state, line.stops.len()), (Some("no line"), 1));
    let cost = answers(&problems, "114", "cost").remove(0);
    assert_eq!((cost.told.state, cost.stops.len()), (Some("stopped"), 1));
    // the check of the span asks for the limit first, and so for the same row of the table
    part(&cost.told, "tested_span(spacing: 24\", board: 5/8\", layers: 3)");
}

/// Row 29 holds `10'-0 x 8'-3` for a length: what reading said of the cell is the first cause.
#[test]
fn a_cell_that_could_not_be_read_is_the_first_cause() {
    let problems = worked(PROBLEMS, Some(HOUSE), Some(PRICES));
    let stopped = problems.inputs.problems.iter().find(|p| p.problem.what.contains("10'-0 x 8'-3")).unwrap();
    let (kind, row) = stopped.row.unwrap();
    let schema = &problems.ready.program().schema;
    let key = hardlid::engine::names::key(schema, problems.engine.run(), kind, row as usize).unwrap();
    let answer = answers(&problems, &key, "tees").remove(0);
    assert!(answer.stops[0].what.contains("10'-0 x 8'-3"), "{:?}", answer.stops[0]);
    assert!(matches!(&answer.stops[0].places[0], Place::Cell(c) if c.address() == "D29"));
    let length = part(&answer.told, "Length");
    assert!(length.faulty && place(length) == "Rooms!D29");
}

/// Room 102: 4 tees of 7'-6" less 1/8 in. are 359.5 in., 719/24 ft; $6.60 for 12 ft is $0.55 a foot: $16.477..., $16.48.
#[test]
fn a_line_is_quantity_times_unit_cost_with_its_price_row() {
    let demo = demo();
    for name in ["line tee", "Span tee", "span tee cost", "item tee"] {
        assert_eq!(value(&told(&demo, "102", name)), "$16.48", "{name}");
    }
    let tee = told(&demo, "102", "line tee");
    assert_eq!(value(part(&tee, "Pieces")), "4 x 7'-5 7/8\"");
    assert_eq!(part(&tee, "Quantity").exact.as_deref(), Some("719/24 ft"));
    assert!(tee.worked[0].ends_with(", to the cent $16.48"), "{:?}", tee.worked);
    let cost = part(&tee, "Unit cost");
    assert_eq!((value(cost), place(cost).as_str()), ("$0.55 for one ft", "Prices!F6"));
    assert_eq!(cost.worked, ["$6.60 / 12 ft"]);
    assert!(says(cost, "in force from 2025-01-01") && says(cost, "priced as of 2026-03-02"), "{:?}", cost.says);
    // tabbed angle: 2 x 9 ft, and the house's 5%
    let tabs = told(&demo, "102", "line tabs");
    assert_eq!(part(&tabs, "Quantity").worked, ["18 ft + 5% of it for waste"]);
    assert_eq!((value(part(&tabs, "Waste")), value(part(&tabs, "Quantity"))), ("5%", "18.9 ft"));
    let [before] = &tabs.instead_of[..] else { panic!("{:?}", tabs.instead_of) };
    assert!(before.book.starts_with("hardlid ceilings"));
}

/// Room 114: two layers of a face of 208/3 sf are 416/3 sf; x 0.017 hr = 2.357333 hr; an hour is $36.00 and 40%, $50.40:
/// $118.8096. Its board is rated, so its code is GB-58X.
#[test]
fn labor_is_hours_times_the_crews_hour() {
    let demo = demo();
    let hang = told(&demo, "114", "line hang_board");
    assert_eq!(value(&hang), "$118.81");
    assert_eq!(
        hang.worked,
        ["138.666667 sf take 2.357333 hr", "2.357333 hr x $50.40 for one hr = $118.8096, to the cent $118.81"]
    );
    let rate = part(&hang, "Rate");
    assert_eq!((value(rate), place(rate).as_str()), ("0.017 hr for one sf", "Labor!C14"));
    let hour = part(&hang, "Hour");
    assert_eq!((value(hour), place(hour).as_str()), ("$50.40 an hour", "Crews!B6"));
    assert_eq!(hour.worked, ["$36.00 of wage + 40% of burden"]);
    let code = part(&told(&demo, "114", "line board"), "Code").clone();
    assert_eq!(value(&code), "GB-58X");
}

/// Room 206 has one soffit, 16'-8" long, 14 in. down, 2 ft back, one end free: a bead of 200 + 14 + 24 in.
#[test]
fn a_soffit_is_told_as_a_row_of_its_room() {
    let demo = demo();
    for name in ["corner", "soffit corner", "soffits 1 Corner bead"] {
        let all = answers(&demo, "206", name);
        assert_eq!(all.len(), if name == "soffit corner" || name == "corner" { 1 } else { all.len() });
        assert!(all.iter().any(|a| a.told.value.as_deref() == Some("19'-10\"")), "{name}");
    }
    let corner = told(&demo, "206", "soffit corner");
    assert_eq!(corner.worked[0], "16'-8\" + 1 * (1'-2\" + 2'-0\")");
    let free = part(&corner, "Free ends");
    assert!(says(free, "one_end is free: no, it is \"wall\"") && says(free, "other_end is free: yes, it is \"free\""));
    assert_eq!(place(part(&corner, "Drop")), "Soffits!C6");
    assert_eq!(part(&corner, "Drop").says, ["typed 14 under \"Drop (in)\""]);
    assert!(find(&demo, row_named(&demo, "206").unwrap(), "soffit 2 corner").is_err());
}

/// Two rooms of 10 and 20 ft at $1.00 a foot: $30.00 of material; overhead is 10% of it, and a half of that again is money
/// that is not whole cents.
const SMALL: &str = "\
book \"Small\"  edition \"1\"
use \"hardlid trade\"
rows rooms  from \"Rooms\"
    id      text    heading \"Room\"   key
    length  length
end
rows job  from \"Job\"
    rate  percent  heading \"Overhead\"  otherwise 10%
end
for rooms
    item tee  \"Tees\"  code \"T\"  need length
end
for job
    material  \"Material\"  =  sum of lines (cost) where kind is material
    overhead  \"Overhead\"  =  rate of material / 800
end
";

#[test]
fn a_figure_of_the_job_is_told_by_items_and_marked_where_it_is_no_whole_cents() {
    let rooms = workbook(&[
        ("Rooms", &[&["Room", "Length"], &["1", "10'"], &["2", "20'"]]),
        ("Job", &[&["Project", "A hall"], &["Overhead", "10%"]]),
    ]);
    let prices = workbook(&[("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["T", "Tee", "lf", "1.00"]])]);
    let small = worked(&rooms, Some(SMALL), Some(&prices));
    // 10% of $30 is $3; over 800 it is $0.00375
    let overhead = told(&small, "job", "overhead");
    assert_eq!(value(&overhead), "$0.00375");
    assert_eq!(overhead.worked, ["10% of $30.00 / 800"]);
    assert_eq!((value(&overhead.parts[0]), place(&overhead.parts[0]).as_str()), ("10%", "Job!B2"));
}

#[test]
fn lines_of_a_sum_are_told_item_by_item() {
    let rooms = workbook(&[("Rooms", &[&["Room", "Length"], &["1", "10'"], &["2", "20'"]])]);
    let prices = workbook(&[("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["T", "Tee", "lf", "1.00"]])]);
    let material = told(&worked(&rooms, Some(SMALL), Some(&prices)), "job", "material");
    assert_eq!((value(&material), material.says.as_slice()), ("$30.00", &["2 of 2 lines of the bid".to_owned()][..]));
    let tees = part(&material, "Tees");
    assert_eq!((value(tees), tees.says.as_slice()), ("$30.00", &["2 lines".to_owned()][..]));
}

/// Room 2 has a bare number where neither heading nor book gives a unit: told once for the column, it is the first cause
/// all the same; and what the bid comes to without it is said to lack it.
#[test]
fn what_is_stopped_is_missed_in_the_figures_of_the_bid() {
    let rooms = workbook(&[("Rooms", &[&["Room", "Length"], &["1", "10'"], &["2", "20"]])]);
    let prices = workbook(&[("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["T", "Tee", "lf", "1.00"]])]);
    let small = worked(&rooms, Some(SMALL), Some(&prices));
    let material = told(&small, "job", "material");
    assert_eq!(value(&material), "$10.00");
    assert_eq!(material.says[0], "INCOMPLETE: 1 row is stopped and not in it");
    let length = answers(&small, "2", "length").remove(0);
    assert!(length.stops[0].what.contains("bare number"), "{:?}", length.stops);
    assert_eq!(
        (length.told.says.as_slice(), length.told.faulty),
        (&["typed 20 under \"Length\"".to_owned()][..], true)
    );
    assert_eq!(place(&length.told), "Rooms!B3");
}

/// A text file has one sheet without a name, no prices and lengths in metres: 6 m of run and 24 ft are told as they are read.
#[test]
fn a_text_file_without_prices_is_told_as_well() {
    let book = SMALL.replace("edition \"1\"\n", "edition \"1\"\nunits metric\n");
    let small = worked_file("rooms.csv", b"Room,Length (m)\n1,6\n2,7.5\n", &book);
    let tee = told(&small, "2", "line tee");
    // 7.5 m are 7,500 mm, 7,500 / 304.8 ft
    assert_eq!(tee.value.as_deref(), Some("24.606299 ft"));
    let length = part(&tee, "Length");
    assert_eq!((value(length), place(length).as_str()), ("7,500 mm", "!B3"));
    assert_eq!(length.says, ["typed 7.5 under \"Length (m)\""]);
    assert!(says(&tee, "without a price book, costs are blank"));
}

/// A value of the job that the price book gives is found there: the demo's overhead, 10% of sheet Job of the price book.
#[test]
fn a_value_of_the_price_books_job_sheet_is_told_there() {
    let overhead = told(&demo(), "job", "overhead");
    let Some(Place::Cell(cell)) = &overhead.place else { panic!("{overhead:?}") };
    assert_eq!((&*cell.file, &*cell.sheet, cell.address().as_str()), ("yard.xlsx", "Job", "B4"));
}

/// Room 102 of the ways: a run of 10 ft, wall to wall over the 8 ft that a tee may span; $152.00 over strongbacks against
/// $154.00 for a hung grid. Under a hung grid two supports leave parts of 3'-4".
#[test]
fn schemes_stand_side_by_side_and_each_can_be_asked_about() {
    let ways = worked(&rooms(), Some(WAYS), Some(&yard("1")));
    let scheme = told(&ways, "102", "scheme");
    assert_eq!(value(&scheme), "Over strongbacks");
    let option = |label: &str| part(&scheme, label).clone();
    assert!(says(&option("Wall to wall"), "A tee would span 10'-0\""), "{:?}", option("Wall to wall").says);
    assert_eq!(option("Over strongbacks").value.as_deref(), Some("$152.00"));
    assert!(says(&option("Hung grid"), "$2.00 dearer"));
    assert_eq!(value(&told(&ways, "102", "part")), "5'-0\"");
    let grid = worked_under(&rooms(), Some(WAYS), Some(&yard("1")), Some(("102", "Hung grid")));
    let part_of = told(&grid, "102", "part");
    assert_eq!((value(&part_of), part_of.worked[0].as_str()), ("3'-4\"", "10'-0\" / (2 + 1)"));
    // 10 ft x 10 at $0.50, 8 wires at $3, 4 x 0.5 hr at $40
    assert_eq!(value(&told(&grid, "102", "cost")), "$154.00");
    let code = told(&grid, "102", "line tee");
    assert!(says(part(&code, "Code"), "scheme is hung_grid: yes"));
    let one = Ready::inputs(grid.ready, &grid.rooms).unwrap();
    let wrong = name_option(grid.ready.program(), &mut one.clone(), row_named(&grid, "102").unwrap(), "hung gird");
    assert_eq!(wrong.unwrap_err().fix.as_deref(), Some("Hung grid"));
}

#[test]
fn a_replaced_formula_names_the_one_below() {
    let house = "book \"House\"  edition \"1\"\nuse \"hardlid ceilings\"\nfor rooms\n    \
                 replace last_tee  \"Last space\"  =  along - tees * spacing\nend\n";
    let last = told(&worked(ROOMS, Some(house), None), "102", "last_tee");
    // 9 ft less four spaces of 2 ft
    assert_eq!((value(&last), last.worked[0].as_str()), ("1'-0\"", "9'-0\" - 4 * 24\""));
    assert_eq!(place(&last), "house.lid, line 4");
    let [before] = &last.instead_of[..] else { panic!("{:?}", last.instead_of) };
    let Place::Book { text, span } = &before.place else { panic!("{before:?}") };
    let below = line(CEILINGS, "last_tee     \"Last space\"");
    assert_eq!((text.name.as_str(), text.line(span.start as usize)), ("hardlid ceilings", below));
}

/// The tees of 101 are 80 ft at $1.00; somebody typed 90 ft, and so $90.00.
#[test]
fn what_was_typed_on_lines_is_told_with_its_cell() {
    let bytes = own(&priced().bytes(FIRST).unwrap(), "101", "Tees", "Own quantity", "90");
    let last = Last::read("a.priced.xlsx", bytes).unwrap();
    let rules = Rules::of_the_day(&last.carried).unwrap();
    let (program, _) = compiled_to_explain(&rules).unwrap();
    let ready =
        Ready::of_program(program, &rules, last.carried.prices.as_ref(), last.carried.as_of, Vec::new()).unwrap();
    let worked = ready.work_out(&last.carried.rooms, ready.inputs(&last.carried.rooms).unwrap(), last.own);
    let tees = told(&worked, "101", "line tee");
    assert_eq!(value(&tees), "$90.00");
    assert_eq!(tees.worked, ["90 ft x $1.00 for one ft = $90.00"]);
    let typed = part(&tees, "Own quantity");
    assert_eq!(value(typed), "90 ft");
    assert!(place(typed).starts_with("Lines!") && says(typed, "it wins over the 80 ft worked out"), "{typed:?}");
    assert_eq!(value(part(&tees, "Quantity")), "80 ft");
}

/// A condition that does not hold: room 102 hangs nothing, so no anchor is needed; a check that fails tells its message.
#[test]
fn a_line_that_is_not_there_says_why() {
    let demo = demo();
    let anchor = told(&demo, "102", "line anchor");
    assert_eq!(anchor.state, Some("no line"));
    assert!(says(&anchor, "nothing of it is needed here"));
    let tower = told(&demo, "102", "line tower");
    assert!(says(&tower, "its condition does not hold here"), "{:?}", tower.says);
    let span = told(&worked(&rooms(), Some(WAYS), None), "101", "check span");
    assert_eq!((span.state, span.worked.as_slice()), (Some("holds"), &["8'-0\" <= 8'".to_owned()][..]));
}

#[test]
fn misspelt_and_hostile_names_are_answered_with_the_nearest() {
    let demo = demo();
    let fix = |room: &str, name: &str| refused(&demo, room, name).fix.unwrap();
    assert!(fix("102", "teees").starts_with("tees"), "{}", fix("102", "teees"));
    assert!(fix("102", "hangar wires").starts_with("Hanger wires"), "{}", fix("102", "hangar wires"));
    assert!(fix("102", "hangers").contains("Hanger wires"), "{}", fix("102", "hangers"));
    assert_eq!(fix("203-A", "tees"), "203A");
    assert!(refused(&demo, "999", "tees").what.contains("Its rooms are 101, 102"));
    // nothing of a terminal's, no end of letters, no panic
    for name in ["", " ", "\u{1b}[31m", "line", "check ", "soffit", "soffits 99999999999999999999 x", "\u{202e}x", "''"]
    {
        let asked = row_named(&demo, "206").and_then(|of| find(&demo, of, name));
        if let Err(problem) = asked {
            assert!(!problem.what.contains('\u{1b}'), "{problem:?}");
        }
        assert!(row_named(&demo, name).is_err(), "{name:?}");
    }
    let long = "x".repeat(100_000);
    assert!(refused(&demo, &long, "tees").what.chars().count() < 300);
    assert!(refused(&demo, "102", &long).what.chars().count() < 300);
}

#[test]
fn a_room_alone_lists_what_can_be_asked() {
    let demo = demo();
    let list = listed(&demo, row_named(&demo, "Room 102").unwrap());
    assert_eq!(list.row, "room 102");
    let entries: Vec<_> = list.groups.iter().flat_map(|(_, entries)| entries).collect();
    let value = |name: &str| entries.iter().find(|e| e.name == name).map(|e| e.value.clone());
    assert_eq!(value("tees").as_deref(), Some("4"));
    assert_eq!(value("line tee").as_deref(), Some("$16.48"));
    assert_eq!(value("perimeter").as_deref(), Some("blank"));
    // whatever is listed can be asked
    let of = row_named(&demo, "206").unwrap();
    for (_, entries) in listed(&demo, of).groups {
        for entry in entries {
            let asked = find(&demo, of, &entry.name).unwrap_or_else(|p| panic!("{}: {}", entry.name, p.what));
            assert!(!answer(&demo, &asked, 100).unwrap().is_empty(), "{}", entry.name);
        }
    }
}

/// Every figure of every room and of the job can be told, whatever is wrong with the room, and a telling has the value that
/// the columns have.
#[test]
fn everything_can_be_told() {
    let problems = worked(PROBLEMS, Some(HOUSE), Some(PRICES));
    let schema = &problems.ready.program().schema;
    let run = problems.engine.run();
    let root = schema.root_kind().unwrap();
    for row in (0..run.rows_of(root)).step_by(7).chain([13]) {
        for (_, entries) in listed(&problems, (root, row)).groups {
            for entry in entries {
                let asked = find(&problems, (root, row), &entry.name).unwrap();
                for answer in answer(&problems, &asked, 100).unwrap() {
                    let it = &answer.told;
                    let said = it.value.is_some() || it.state.is_some() || it.faulty;
                    assert!(said || it.label == "Cost", "{} of {}: {it:?}", entry.name, answer.row);
                    // as the list has it, which is as the sheets have it
                    let listed = entry.value.as_str();
                    let same = it.value.as_deref().or(it.state).is_none_or(|v| v == listed || listed.is_empty());
                    assert!(same, "{} of {}: {listed}, and told {:?}", entry.name, answer.row, it.value);
                }
            }
        }
    }
}

/// What an expression without names comes to, where it is one: an amount in base units, or yes or no.
fn works_out(words: &str) -> Option<Figure> {
    let text = Text::new("told", words);
    let expr = read_expression(&text).ok()?;
    let (program, _) = compile(Vec::new(), Some((&text, &expr)), hardlid::natives()).ok()?;
    match work_out(&program).ok()?.0 {
        hardlid::program::Value::Number(n) => Some(Figure::Amount(n)),
        hardlid::program::Value::YesNo(v) => Some(Figure::Holds(v)),
        _ => None,
    }
}

#[derive(Debug, PartialEq)]
enum Figure {
    Amount(Number),
    Holds(bool),
}

/// A formula with values in it is an expression of the notation, and comes to the value that is told: within a thousandth,
/// since a value that is printed to 1/16 in. or six decimals stands in it as printed.
#[test]
fn formulas_with_values_come_to_what_is_told() {
    fn gather(told: &Told, out: &mut BTreeSet<(String, String)>) {
        let value = told.value.clone().or(told.state.map(|s| if s == "holds" { "yes" } else { "no" }.to_owned()));
        if let (Some(value), false) = (value, matches!(told.sort, Sort::Line | Sort::Price | Sort::Figure)) {
            out.extend(told.worked.iter().map(|step| (step.clone(), value.clone())));
        }
        told.parts.iter().for_each(|p| gather(p, out));
    }
    let demo = demo();
    let mut steps = BTreeSet::new();
    for (room, names) in [
        ("101", &["cost", "check wire_capacity", "check strongback_bends", "taped", "rips", "grid_saved"][..]),
        ("206", &["cost", "check dead_load", "soffit corner", "openings 1 screws", "last_tee"]),
        ("job", &["total"]),
    ] {
        for name in names {
            answers(&demo, room, name).iter().for_each(|a| gather(&a.told, &mut steps));
        }
    }
    let mut compared = 0;
    for (step, value) in &steps {
        let (Some(step_value), Some(told)) = (works_out(step), works_out(value)) else { continue };
        compared += 1;
        let same = match (&step_value, &told) {
            (Figure::Amount(a), Figure::Amount(b)) => {
                let away = a.minus(b).unwrap().to_decimal().abs();
                away <= b.to_decimal().abs() * Decimal::new(1, 3)
            }
            (a, b) => a == b,
        };
        assert!(same, "{step} is told as {value}");
    }
    assert!(compared > 60, "only {compared} of {} steps were compared", steps.len());
}

fn in_folder(machine: &Memory, arguments: &[&str]) -> (i32, String, String) {
    let folder = tempfile::tempdir().unwrap();
    for name in ["bids/a.xlsx", FIRST, "yard.xlsx", "ways.lid"] {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, machine.bytes(name).unwrap()).unwrap();
    }
    let ran = Command::new(env!("CARGO_BIN_EXE_hardlid")).args(arguments).current_dir(folder.path()).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (ran.status.code().unwrap(), text(ran.stdout), text(ran.stderr))
}

/// A run of 10 ft over one support: parts of 5 ft. The same from the rooms workbook and from the priced one alone.
#[test]
fn it_reads_as_a_person_would_say_it() {
    let machine = priced();
    let by = ["--rules", "ways.lid", "--prices", "yard.xlsx", "--as-of", "2026-03-02"];
    let (code, from_rooms, _) =
        in_folder(&machine, &[&["why", "bids/a.xlsx", "102", "longest", "part"][..], &by].concat());
    let (again, from_priced, error) = in_folder(&machine, &["why", FIRST, "102", "longest", "part"]);
    assert_eq!((code, again, error.as_str()), (0, 0, ""));
    assert_eq!(from_rooms, from_priced);
    let said: Vec<&str> = from_priced.lines().collect();
    let stated = line(WAYS, "part      \"Longest part\"");
    assert_eq!(said[0], format!("Room 102: Longest part = 5'-0\"  [ways.lid, line {stated}]"));
    assert_eq!(said[1..4], ["|  by run / (supports + 1)", "|  =  10'-0\" / (1 + 1)", "|  =  10'-0\" / 2"]);
    assert!(said.contains(&"|  |  Length = 20'-0\"  [a.xlsx, Rooms!B3]"), "{from_priced}");
    // with a depth of none it is the rule alone
    let (_, flat, _) = in_folder(&machine, &["why", FIRST, "102", "part", "--depth", "0"]);
    assert!(flat.starts_with("Room 102: Longest part = 5'-0\" …") && flat.contains("--depth 3"), "{flat}");
}

#[test]
fn json_has_the_same_tree() {
    let machine = priced();
    let (code, out, _) = in_folder(&machine, &["why", FIRST, "102", "part", "--json"]);
    let json: Value = serde_json::from_str(&out).unwrap();
    let told = &json["answers"][0]["told"];
    assert_eq!((code, told["value"].as_str(), told["sort"].as_str()), (0, Some("5'-0\""), Some("formula")));
    assert_eq!(told["parts"][0]["name"], "run");
    assert_eq!(told["place"]["book"], "ways.lid");
    let (code, out, _) = in_folder(&machine, &["why", FIRST, "102", "prat", "--json"]);
    let json: Value = serde_json::from_str(&out).unwrap();
    assert_eq!((code, json["problems"][0]["kind"].as_str()), (2, Some("unknown name")));
}

#[test]
fn a_priced_workbook_takes_no_other_rules_and_exits_say_how_it_went() {
    let machine = priced();
    assert_eq!(hardlid(&machine, &format!("why {FIRST} 102 part")), Ended::Done);
    assert_eq!(hardlid(&machine, &format!("why {FIRST} 102")), Ended::Done);
    assert_eq!(hardlid(&machine, &format!("why {FIRST}")), Ended::Done);
    assert_eq!(hardlid(&machine, &format!("why {FIRST} 102 part --rules ways.lid")), Ended::Failed);
    assert_eq!(hardlid(&machine, &format!("why {FIRST} 999 part")), Ended::Failed);
    assert_eq!(hardlid(&machine, "why nothing.xlsx 102 part"), Ended::Failed);
    assert_eq!(
        hardlid(&super::machine(), "why problems.xlsx 114 tees --rules house.lid --prices yard.xlsx"),
        Ended::WithStops
    );
}

/// The README's example is what the program says, but for the lines on which rules stand today.
#[test]
fn the_readme_shows_what_is_printed() {
    let readme = include_str!("../../README.md");
    let shown = readme.split("```text\n").find(|fence| fence.starts_with("Soffit in row 6")).unwrap();
    let shown = shown.split("\n```").next().unwrap();
    let folder = tempfile::tempdir().unwrap();
    for (name, bytes) in [("demo-rooms.xlsx", ROOMS), ("yard.xlsx", PRICES), ("house.lid", HOUSE.as_bytes())] {
        std::fs::write(folder.path().join(name), bytes).unwrap();
    }
    let words = ["why", "demo-rooms.xlsx", "206", "soffit", "corner", "--rules", "house.lid", "--prices", "yard.xlsx"];
    let ran = Command::new(env!("CARGO_BIN_EXE_hardlid")).args(words).current_dir(folder.path()).output().unwrap();
    let without_lines = |text: &str| {
        let each = text.split("line ").map(|part| part.trim_start_matches(|c: char| c.is_ascii_digit()));
        each.collect::<Vec<_>>().join("line ")
    };
    assert_eq!(without_lines(shown), without_lines(String::from_utf8(ran.stdout).unwrap().trim_end()));
}

/// A row of which it cannot be said whether it counts is why there is no sum, and is told as that.
#[test]
fn a_row_whose_condition_has_no_answer_is_told_as_the_cause() {
    let rows: [&[&str]; 4] =
        [&["Room", "Area", "Pick"], &["1", "10 sf", "big"], &["2", "20 sf", ""], &["3", "40 sf", "small"]];
    let rules = "rows rooms from \"Rooms\"\n    id text heading \"Room\" key\n    area area\n    pick text\nend\n\
                 for job\n    large \"Large\" = sum of rooms (area) where pick is \"big\"\nend\n";
    let worked = worked(&workbook(&[("Rooms", &rows)]), Some(rules), None);
    let sum = told(&worked, "job", "large");
    assert_eq!(part(&sum, "room 2").state, Some("is not known to count"));
    assert_eq!(part(&sum, "room 3").state, Some("does not count"));
    assert_eq!(part(&sum, "room 1").state, None);
}
