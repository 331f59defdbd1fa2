//! One case through all that is done with books: read, checked, hinted at, tidied, told in words, tried, priced.

use super::case::Case;
use super::dice::Dice;
use crate::common::tree::tree;
use crate::common::workbook_of;
use hardlid::bid::{Ready, Rules, starter};
use hardlid::engine::examples::run_examples;
use hardlid::engine::reached::run_and_reach;
use hardlid::notation::tidy;
use hardlid::problem::render::{for_people, for_programs};
use hardlid::problem::{Problem, Weight};
use hardlid::program::library::{Alone, BUILT_IN, Shelf};
use hardlid::program::reference::{page::page, words};
use hardlid::program::{Flavor, Program, Type, compile, compile_to_explain};
use hardlid::quantity::Date;
use hardlid::source::{Place, Text};
use hardlid::workbook::carried::File;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::sync::{Arc, LazyLock};

/// What came of a case: the kinds of problems told, each with what told it, and the shape of the rest.
pub type Shape = BTreeSet<String>;

/// Takes a case through everything.
///
/// # Panics
/// Where something does not hold that holds for every book.
pub fn tried(case: &Case) -> Shape {
    let mut shape = Shape::new();
    let text = Text::new("house.lid", &case.top);
    tidied(&case.top, &mut shape);
    let shelf = Shelf::of_the_day(
        BUILT_IN.iter().map(|b| (b.name.to_owned(), b.text.to_owned())).chain(case.shelf.iter().cloned()),
    );
    let (layers, read) = shelf.with_layers(&text, "house.lid", &Alone);
    told("read", &read, &mut shape);
    let holes = read.iter().any(|p| p.weight == Weight::Stop);
    match compile(layers.clone(), None, hardlid::natives()) {
        Err(problems) => {
            // what follows from a part that was not read is not told, and then reading has told why
            assert!(holes || problems.iter().any(|p| p.weight == Weight::Stop), "refused without a word");
            told("check", &problems, &mut shape);
        }
        Ok((program, problems)) => {
            told("check", &problems, &mut shape);
            told("hint", &program.hints, &mut shape);
            for answered in &program.answered {
                told("accepted", std::slice::from_ref(&answered.hint), &mut shape);
            }
            let tried = run_examples(&program);
            told("try", &tried, &mut shape);
            let all = words(&program);
            assert!(!all.is_empty() && !page(&all).is_empty());
            if !holes {
                explained(layers, tried.len(), &mut shape);
                priced(case, program, &mut shape);
            }
        }
    }
    shape
}

/// What the books of a case are refused for.
#[allow(dead_code, reason = "the long run tells it")]
pub fn stops(case: &Case) -> Vec<String> {
    let shelf = Shelf::of_the_day(
        BUILT_IN.iter().map(|b| (b.name.to_owned(), b.text.to_owned())).chain(case.shelf.iter().cloned()),
    );
    let (layers, mut problems) = shelf.with_layers(&Text::new("house.lid", &case.top), "house.lid", &Alone);
    match compile(layers, None, hardlid::natives()) {
        Ok((_, more)) | Err(more) => problems.extend(more),
    }
    problems.into_iter().filter(|p| p.weight == Weight::Stop).map(|p| p.what).collect()
}

fn told(by: &str, problems: &[Problem], shape: &mut Shape) {
    for problem in problems {
        assert!(!problem.what.is_empty() && !problem.kind.is_empty(), "{by}: {problem:?}");
        let people = for_people(problem);
        assert!(people.starts_with(&problem.what) && for_programs(problem).is_object());
        assert!(people.len() < 100_000, "{by}: a message of {} bytes", people.len());
        for place in &problem.places {
            if let Place::Book { text, span } = place {
                assert!(
                    text.text.get(span.range()).is_some(),
                    "{by}: {span:?} is no part of the text: {}",
                    problem.what
                );
            }
        }
        shape.insert(format!("{by}: {}", problem.kind));
    }
}

/// As `hardlid try` does: with what examples reach.
fn explained(layers: Vec<hardlid::program::BookSource>, failing: usize, shape: &mut Shape) {
    let (program, _) =
        compile_to_explain(layers, hardlid::natives()).unwrap_or_else(|p| panic!("refused to explain: {}", p[0].what));
    let (problems, parts) = run_and_reach(&program);
    assert_eq!(problems.len(), failing, "the same examples fail");
    shape.insert(format!("reached {} unreached {}", parts.iter().any(|p| p.reached), parts.iter().any(|p| !p.reached)));
}

/// A book with mistakes is left as it is; of a sound one the tree stays, and tidy twice is tidy once.
fn tidied(text: &str, shape: &mut Shape) {
    let before = tree(text);
    match tidy(&Text::new("house.lid", text)) {
        Err(problems) => {
            assert!(problems.iter().any(|p| p.weight == Weight::Stop));
            told("tidy", &problems, shape);
        }
        Ok(done) => {
            let again = tidy(&Text::new("house.lid", &done))
                .unwrap_or_else(|p| panic!("a tidy book is refused: {}\n{done}", p[0].what));
            assert!(again == done, "tidy twice is not tidy once:\n{done}\n----\n{again}");
            if let Some(before) = before {
                assert!(tree(&done).as_ref() == Some(&before), "the tree has changed:\n{done}");
                shape.insert("tidy".to_owned());
            }
        }
    }
}

/// Rows that fit the book, mostly: a workbook of a few of each kind.
fn rooms(program: &Program, dice: &mut Dice) -> Option<Vec<u8>> {
    let schema = &program.schema;
    let mut sheets: Vec<(String, Vec<Vec<String>>)> = Vec::new();
    for id in schema.kind_ids() {
        let kind = schema.kind(id);
        let Some(sheet) = kind.sheet.as_ref() else { continue };
        let plain = |c: char| c.is_alphanumeric() || c == ' ' || c == '_';
        let taken = sheets.iter().any(|(name, _)| name.eq_ignore_ascii_case(sheet));
        if taken || sheet.is_empty() || sheet.chars().count() > 31 || !sheet.chars().all(plain) {
            continue;
        }
        let inputs: Vec<_> =
            kind.fields.iter().map(|f| schema.field(*f)).filter(|f| f.input.is_some()).take(200).collect();
        let heading = |f: &hardlid::program::Field| {
            f.input.as_ref().and_then(|i| i.headings.first().cloned()).unwrap_or_default()
        };
        let mut rows: Vec<Vec<String>> = Vec::new();
        if kind.single {
            for field in inputs {
                rows.push(vec![heading(field), typed(field, dice, 0)]);
            }
        } else {
            let above = kind.parent.as_ref().and_then(|p| p.headings.first().cloned());
            rows.push(above.iter().cloned().chain(inputs.iter().map(|f| heading(f))).collect());
            for row in 0..1 + dice.below(4) {
                let belongs: Vec<String> = above.iter().map(|_| format!("R{}", dice.below(3))).collect();
                let is_key = |f: &&hardlid::program::Field| kind.key.is_some_and(|k| schema.field(k).name == f.name);
                let cells: Vec<String> =
                    inputs.iter().map(|f| if is_key(f) { format!("R{row}") } else { typed(f, dice, row) }).collect();
                rows.push(belongs.into_iter().chain(cells).collect());
            }
        }
        sheets.push((sheet.clone(), rows));
    }
    let fits = |text: &String| text.chars().count() < 30_000;
    let sound = !sheets.is_empty() && sheets.iter().all(|(_, rows)| rows.iter().flatten().all(fits));
    let named: Vec<(&str, Vec<Vec<String>>)> =
        sheets.iter().map(|(name, rows)| (name.as_str(), rows.clone())).collect();
    sound.then(|| workbook_of(&named))
}

/// A cell as somebody types it.
fn typed(field: &hardlid::program::Field, dice: &mut Dice, row: usize) -> String {
    let Some(input) = &field.input else { return String::new() };
    if dice.one_in(8) {
        return dice.pick(&["", "ten", "-5", "1/0", "99999999999999999999", "0"]).to_owned();
    }
    if !input.one_of.is_empty() {
        return input.one_of[dice.below(input.one_of.len())].clone();
    }
    match field.ty {
        Type::Text => dice.pick(&["A", "B", "grid", "north", "8', 10', 12'"]).to_owned(),
        Type::YesNo => dice.pick(&["yes", "no"]).to_owned(),
        Type::Date => "2026-03-01".to_owned(),
        Type::Number { flavor: Flavor::Count, .. } => format!("{}", dice.below(5)),
        Type::Number { flavor: Flavor::Percent, .. } => format!("{}%", dice.below(20)),
        Type::Number { dimension, .. } if dimension == hardlid::quantity::Dimension::LENGTH => {
            format!("{}'-{}\"", 4 + dice.below(30), dice.below(12))
        }
        Type::Number { .. } => format!("{}.{}", 1 + dice.below(30) + row, dice.below(10)),
        Type::Thing(_) => String::new(),
    }
}

/// A price book for the codes that the made books use.
static PRICES: LazyLock<File> = LazyLock::new(|| {
    let sheets: &[(&str, &[&[&str]])] = &[
        (
            "Prices",
            &[
                &["Code", "Item", "Sold by", "Pack", "Stock length", "Cost", "Supplier"],
                &["ST", "Span tee", "MLF", "", "12'", "312.00", "Yard"],
                &["HW", "Hanger wire", "CLF", "", "", "9.40", "Yard"],
                &["GB", "Gypsum board", "MSF", "", "", "415.00", "Yard"],
                &["AN", "Anchor", "C", "100", "", "31.00", "Yard"],
            ],
        ),
        (
            "Labor",
            &[&["Code", "Work", "Hours per unit", "Unit", "Crew"], &["L-BRD", "Hang board", "0.018", "sf", "Two"]],
        ),
        ("Crews", &[&["Crew", "Trade", "Workers", "Wage", "Burden"], &["Two", "Carpenter", "2", "41.20", "32%"]]),
    ];
    File::new("yard.xlsx", crate::common::workbook(sheets))
});

static DEMO: LazyLock<File> =
    LazyLock::new(|| File::new("demo-prices.xlsx", include_bytes!("../../workbooks/demo-prices.xlsx").to_vec()));

/// Prices a few rows by the book, and writes the workbook.
fn priced(case: &Case, program: Program, shape: &mut Shape) {
    let day = Date::constant(2026, 3, 2);
    match starter(&program, day) {
        Ok(made) => assert!(!made.rooms.is_empty() && !made.prices.is_empty()),
        Err(problems) => told("starter", &problems, shape),
    }
    let mut dice = case.dice();
    let Some(rooms) = rooms(&program, &mut dice) else { return };
    let prices = if dice.one_in(2) { &*DEMO } else { &*PRICES };
    let own = File::new("house.lid", case.top.clone().into_bytes());
    let rules = Rules::of_today(Some(own), "hardlid trade");
    let ready = match Ready::of_program(program, &rules, Some(prices), day, Vec::new()) {
        Ok(ready) => ready,
        Err(problems) => return told("ready", &problems, shape),
    };
    let rooms = File::new("rooms.xlsx", rooms).into();
    let inputs = match ready.inputs(&rooms) {
        Ok(inputs) => inputs,
        Err(problems) => return told("rooms", &problems, shape),
    };
    let (worked, painting) = ready.work_out_and_paint(&rooms, inputs, Vec::new());
    let findings: Vec<Problem> = worked.priced.findings.iter().map(|f| f.problem.clone()).collect();
    told("priced", &findings, shape);
    match worked.workbook(1, &painting) {
        Ok(written) => {
            shape.insert(format!("written {}", worked.priced.total.is_some()));
            assert!(!written.bytes.is_empty());
        }
        Err(problem) => told("written", &[problem], shape),
    }
}

/// Blocks of the real books, for damage.
pub fn stock() -> Vec<String> {
    let house = include_str!("../../workbooks/demo-rules.lid");
    let all = BUILT_IN.iter().map(|b| b.text).chain([house]).collect::<Vec<_>>().join("\n");
    let mut out: Vec<String> = Vec::new();
    for line in all.lines().filter(|l| !l.trim().is_empty()) {
        let begins = !line.starts_with([' ', '\t']) && line != "end";
        match out.last_mut() {
            Some(block) if !begins => {
                let _ = write!(block, "\n{line}");
            }
            _ => out.push(line.to_owned()),
        }
    }
    out
}

/// The case of a number: made, real or of odd pieces, and mostly damaged.
pub fn case_of(number: u64, stock: &[String], corpus: &[Case]) -> Case {
    let mut dice = Dice(number);
    let dice = &mut dice;
    let case = match dice.below(10) {
        0..=5 => super::made::case(dice),
        6 => {
            let house = include_str!("../../workbooks/demo-rules.lid");
            let real: Vec<&str> = BUILT_IN.iter().map(|b| b.text).chain([house]).collect();
            Case::of(dice.pick(&real))
        }
        7 => {
            Case::of((0..1 + dice.below(6)).map(|_| stock[dice.below(stock.len())].clone() + "\n").collect::<String>())
        }
        8 if !corpus.is_empty() => corpus[dice.below(corpus.len())].clone(),
        _ => {
            let mut case = super::made::case(dice);
            case.top += &super::damage::too_much(dice);
            case
        }
    };
    if dice.one_in(4) { case } else { super::damage::damaged(dice, &case, stock) }
}

/// The text of a case as it is told where it fails.
#[allow(dead_code, reason = "the test tells it, the long run keeps it")]
pub fn shown(case: &Case) -> Arc<str> {
    case.written().into()
}
