//! The reference: complete, true, and up to date in `grammar/REFERENCE.md`.
#![allow(clippy::unwrap_used)] // helpers of tests stand outside the test functions

#[path = "reference/textmate.rs"]
mod textmate;

use hardlid::bid::{Files, House};
use hardlid::engine::examples::{run_examples, value_text, work_out};
use hardlid::notation::read_expression;
use hardlid::notation::statements::{SHEETS, STATEMENTS};
use hardlid::problem::Problem;
use hardlid::problem::render::for_people;
use hardlid::program::reference::{Family, Word, page::page, words};
use hardlid::program::{Program, builtin, compile, library};
use hardlid::quantity::unit::UNITS;
use hardlid::source::Text;
use hardlid::workbook::carried::File;
use std::collections::BTreeSet;

fn told(problems: &[Problem]) -> String {
    problems.iter().map(for_people).collect()
}

fn of_a_book(text: &str) -> Program {
    let house = House::read(File::new("house.lid", text.as_bytes()), &|path, _| {
        let sheet = SHEETS.iter().find(|(name, _)| *name == path);
        sheet.map(|(_, text)| text.as_bytes().to_vec()).ok_or_else(|| Problem::stop("file not found", path))
    });
    let text = Text::new("house.lid", text);
    let (layers, problems) = library::Shelf::default().with_layers(&text, "house.lid", &Files::of(&house));
    assert_eq!(told(&problems), "", "{}", text.text);
    let (program, warnings) = compile(layers, None, hardlid::natives()).map_err(|p| told(&p)).unwrap();
    assert_eq!(told(&warnings), "", "{}", text.text);
    program
}

fn of_this_version() -> Vec<Word> {
    words(&of_a_book("use \"hardlid ceilings\"\n"))
}

fn worked(expression: &str) -> String {
    let text = Text::new("the expression", expression);
    let expr = read_expression(&text).map_err(|p| told(&p)).unwrap();
    let (layers, _) = library::built_in("hardlid trade");
    let (program, _) = compile(layers, Some((&text, &expr)), hardlid::natives()).map_err(|p| told(&p)).unwrap();
    let (value, ty, style) = work_out(&program).map_err(|p| for_people(&p)).unwrap();
    value_text(&value, ty, &style)
}

#[test]
fn the_page_is_up_to_date() {
    let made = page(&of_this_version());
    let stored = include_str!("../grammar/REFERENCE.md").replace("\r\n", "\n");
    let differs = made.lines().zip(stored.lines()).position(|(a, b)| a != b);
    assert!(
        made == stored,
        "grammar/REFERENCE.md is out of date, first at line {}: cargo run -- words --page > grammar/REFERENCE.md",
        differs.map_or(made.lines().count().min(stored.lines().count()), |at| at) + 1
    );
}

/// What is declared, counted where it is declared, is all there.
#[test]
fn nothing_that_is_declared_is_left_out() {
    let all = of_this_version();
    let of = |family: Family| all.iter().filter(|w| w.family == family).count();
    assert_eq!(of(Family::LanguageFunctions), builtin::all().count());
    assert_eq!(of(Family::NativeFunctions), hardlid::natives().iter().copied().flatten().count());
    assert_eq!(of(Family::Statements), STATEMENTS.len());
    assert_eq!(of(Family::Units), UNITS.len());
    let stated = |word: &str| {
        let line = |l: &&str| l.starts_with(&format!("{word} "));
        library::BUILT_IN.iter().map(|b| b.text.lines().filter(line).count()).sum::<usize>()
    };
    assert_eq!(of(Family::TradeFunctions), stated("define"));
    assert_eq!(of(Family::TradeTables), stated("table"));
    let within = |word: &str| {
        let line = |l: &&str| l.trim_start().starts_with(&format!("{word} ")) && !l.contains("=  sum of");
        library::BUILT_IN.iter().map(|b| b.text.lines().filter(line).count()).sum::<usize>()
    };
    assert_eq!(of(Family::Checks), within("check"));
    assert_eq!(of(Family::Labor), within("labor"));
    // 'charging bought' brings one with it
    assert_eq!(of(Family::Items), within("item") + 1);
}

#[test]
fn every_function_says_what_it_takes_what_it_gives_and_shows_it() {
    for word in of_this_version() {
        let function = matches!(
            word.family,
            Family::TradeFunctions | Family::TradeTables | Family::NativeFunctions | Family::LanguageFunctions
        );
        if function {
            assert!(!word.takes.is_empty() && !word.gives.is_empty(), "{}", word.name);
            assert!(word.takes.iter().all(|a| !a.name.is_empty() && !a.takes.is_empty()), "{}", word.name);
        }
        let of_the_trade = matches!(word.family, Family::TradeFunctions | Family::TradeTables);
        assert!(!of_the_trade || word.source.is_some(), "{} names no source", word.name);
        let shows = function || word.family == Family::Units;
        assert!(!shows || !word.examples.is_empty(), "{} has no example", word.name);
        assert!(!word.summary.is_empty(), "{} has no summary", word.name);
    }
}

/// Examples of the books run with the books; those of functions, in the tests of the notation.
#[test]
fn what_a_unit_is_holds() {
    for unit in UNITS {
        assert_eq!(worked(unit.example), "yes", "{}", unit.example);
        let named = unit.names.iter().any(|n| unit.example.split(|c: char| !c.is_alphanumeric()).any(|w| w == *n));
        assert!(named, "{} is not about {}", unit.example, unit.names[0]);
    }
}

#[test]
fn every_statement_is_shown_in_a_book_that_is_sound() {
    for statement in STATEMENTS {
        let program = of_a_book(statement.example);
        assert_eq!(told(&run_examples(&program)), "", "{}", statement.example);
        assert_eq!(told(&program.hints), "", "{}", statement.example);
        assert!(statement.summary.ends_with('.'), "{}", statement.name);
        let first = statement.name.split(' ').next().unwrap();
        let used = match statement.name {
            "formula" => "=",
            "remark" => "--",
            "length" => "'-",
            "money" => "$",
            "percent" => "%",
            "gauge" => " ga ",
            _ => first,
        };
        assert!(statement.example.contains(used), "{} is not shown in its example", statement.name);
    }
}

/// The first words of statements that the grammar knows are all explained.
#[test]
fn every_word_that_begins_a_statement_is_a_statement() {
    let grammar = include_str!("../grammar/notation.pest");
    let known: BTreeSet<&str> = STATEMENTS.iter().map(|s| s.name).collect();
    let mut seen = 0;
    for line in grammar.lines().filter(|l| l.contains("= { SOI ~")) {
        let rest = line.split("SOI ~ ").nth(1).unwrap().trim_start_matches("replace? ~ ");
        let Some(word) = rest.strip_prefix("kw_").and_then(|r| r.split(' ').next()) else { continue };
        // 'shows' stands in an example, and is explained there
        assert!(known.contains(word) || word == "shows", "{word} is no row of STATEMENTS");
        seen += 1;
    }
    assert!(seen >= 12, "only {seen} statements were found in the grammar");
}

#[test]
fn a_company_finds_its_own_words() {
    let program = of_a_book(include_str!("../workbooks/demo-rules.lid"));
    let all = words(&program);
    let one = |name: &str, family: Family| {
        let found: Vec<&Word> = all.iter().filter(|w| w.name == name && w.family == family).collect();
        assert_eq!(found.len(), 1, "{name}");
        found[0].clone()
    };
    let moves = one("tower_moves", Family::OwnFunctions);
    assert!(moves.uppermost);
    assert_eq!(moves.form, "tower_moves(floor: area, reach: area otherwise 60 sf) count");
    assert_eq!(moves.takes[1].left_out.as_deref(), Some("60 sf"));
    assert_eq!(moves.examples[0].expression, "tower_moves(floor: 600 sf)");
    assert_eq!(moves.examples[0].gives, "10");
    // replaced: the table in force stands once, and is the house's
    let span = one("tested_span", Family::OwnTables);
    assert_eq!(span.source.as_deref(), Some("house table, invented for this demo"));
    assert!(all.iter().filter(|w| w.name == "tested_span").count() == 1);
    assert!(one("tower", Family::Labor).form.ends_with("need tower_moves(floor: gross) only when high"));
    let high = one("high", Family::Formulas);
    assert_eq!((high.gives.as_str(), high.examples[0].gives.as_str()), ("yes/no", "yes"));
    assert_eq!(high.examples[0].within.as_deref(), Some("the tower under a high ceiling"));
    assert_eq!(one("finish", Family::Columns).summary, "Finish, of rooms.");
    assert!(one("hangs_free", Family::Checks).uppermost);
    assert!(!one("wires", Family::Formulas).uppermost);
    let scheme = one("scheme", Family::Options);
    assert!(scheme.is_called("hung_grid") && scheme.form.contains("named by wanted"));
}
