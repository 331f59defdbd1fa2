//! What the README shows is run: its rule books, its expressions, its commands.

use super::{hardlid, machine};
use hardlid::command::Ended;
use std::process::Command;

const README: &str = include_str!("../../README.md");

/// Fenced parts of one language.
fn fences(language: &str) -> Vec<&'static str> {
    let opening = format!("```{language}\n");
    README.split(opening.as_str()).skip(1).filter_map(|rest| rest.split("\n```").next()).collect()
}

#[test]
fn its_rule_books_are_sound() {
    let books = fences("lid");
    assert_eq!(books.len(), 6);
    for book in books {
        let machine = machine().with("readme.lid", format!("{book}\n"));
        assert_eq!(hardlid(&machine, "try readme.lid"), Ended::Done, "{book}");
        let text = hardlid::source::Text::new("readme.lid", book);
        let (layers, _) = hardlid::program::library::with_layers(&text, "readme.lid");
        let (program, _) = hardlid::program::compile(layers, None, hardlid::natives()).unwrap();
        assert!(program.hints.is_empty(), "{:?}", program.hints);
    }
}

/// The first book shown prices the demo's rooms alone: it knows no SDC, no openings, and stops what it cannot span.
#[test]
fn its_books_price_the_demo() {
    for book in fences("lid") {
        let machine = machine().with("readme.lid", format!("{book}\n"));
        assert_ne!(
            hardlid(&machine, "price rooms.xlsx --rules readme.lid --prices yard.xlsx"),
            Ended::Failed,
            "{book}"
        );
    }
}

#[test]
fn its_expressions_come_out_as_it_says() {
    let rows: Vec<Vec<&str>> = README
        .lines()
        .skip_while(|l| !l.starts_with("| write | get |"))
        .skip(2)
        .take_while(|l| l.starts_with('|'))
        .map(|l| l.split('|').map(str::trim).collect())
        .collect();
    assert!(rows.len() > 10, "the table of the README is not found");
    for row in rows {
        let (expression, wanted) = (row[1].trim_matches('`'), row[2]);
        let ran = Command::new(env!("CARGO_BIN_EXE_hardlid")).args(["work", expression]).output().unwrap();
        let shown = String::from_utf8(ran.stdout).unwrap();
        if wanted == "refused" {
            assert_eq!((ran.status.code(), shown.as_str()), (Some(2), ""), "{expression}");
        } else {
            assert_eq!((ran.status.code(), shown.trim_end()), (Some(0), wanted.trim_matches('`')), "{expression}");
        }
    }
}

#[test]
fn its_command_is_the_one_that_is_checked_elsewhere() {
    let commands: Vec<&str> = fences("sh");
    let rest = "price workbooks/demo-rooms.xlsx --rules workbooks/demo-rules.lid --prices workbooks/demo-prices.xlsx";
    assert_eq!(commands, [format!("cargo run --release -- {rest}").as_str(), "cargo test"]);
    // the same, by the program that the tests have built
    let checks = include_str!("../../.ci/run");
    for command in [format!("cargo run -- {rest}").as_str(), "cargo test"] {
        assert!(checks.contains(command), ".ci/run does not run: {command}");
    }
    let machine = hardlid::system::Memory::new(hardlid::quantity::Date::constant(2026, 3, 2))
        .with("workbooks/demo-rooms.xlsx", super::ROOMS)
        .with("workbooks/demo-rules.lid", super::RULES)
        .with("workbooks/demo-prices.xlsx", super::PRICES);
    assert_eq!(super::hardlid(&machine, rest), Ended::Done);
}
