//! The notation, by cases written in Markdown: `cases/*.md`, one heading one test.
//!
//! A fence `work` holds lines `expression -> what it prints` or `expression -! part of the refusal`; a line without
//! either goes on in the next. A fence `book` holds a book; `-- ! part` at the end of a line announces a message on
//! that line (`-- !next part` one on the next line; `;;` stands between parts of one message). Every announced message
//! must come, and every one that was not announced fails; an example of the book that does not come out is a message
//! too. A fence `base` before it is the book below it. A fence `hints` holds a sound book: `-- ? part` announces a hint on
//! its line, `-- ~ part` one that the book answers.
#![allow(clippy::unwrap_used)] // helpers of tests stand outside the test functions

use hardlid::bid::{Files, House};
use hardlid::engine::examples::{run_examples, value_text, work_out};
use hardlid::notation::{read_book, read_expression};
use hardlid::problem::render::for_people;
use hardlid::problem::{Problem, Weight};
use hardlid::program::{BookSource, builtin, compile, library};
use hardlid::source::{Place, Text};
use hardlid::workbook::carried::File;

/// A case of a file: its heading, and its fences with their kinds.
struct Case<'a> {
    heading: &'a str,
    fences: Vec<(&'a str, Vec<&'a str>)>,
}

fn cases(markdown: &str) -> Vec<Case<'_>> {
    let mut out: Vec<Case<'_>> = Vec::new();
    let mut inside = false;
    for line in markdown.lines() {
        if let Some(kind) = line.strip_prefix("```") {
            inside = !inside;
            if inside {
                out.last_mut().unwrap().fences.push((kind.trim(), Vec::new()));
            }
        } else if inside {
            out.last_mut().unwrap().fences.last_mut().unwrap().1.push(line);
        } else if let Some(heading) = line.strip_prefix("## ") {
            out.push(Case { heading, fences: Vec::new() });
        }
    }
    assert!(!inside, "a fence is not closed");
    out
}

/// Works an expression out with the trade's functions at hand.
fn worked(expression: &str) -> Result<String, Vec<Problem>> {
    let text = Text::new("the expression", expression);
    let expr = read_expression(&text)?;
    let (layers, problems) = library::built_in("hardlid trade");
    assert!(problems.is_empty(), "{problems:?}");
    let (program, _) = compile(layers, Some((&text, &expr)), hardlid::natives())?;
    let (value, ty, style) = work_out(&program).map_err(|p| vec![p])?;
    Ok(value_text(&value, ty, &style))
}

fn told(problems: &[Problem]) -> String {
    problems.iter().map(for_people).collect()
}

/// What is wrong with the lines of a `work` fence.
fn work_fence(lines: &[&str]) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut before = String::new();
    for line in lines {
        let (expression, wanted, refused) = match (line.rsplit_once(" -> "), line.rsplit_once(" -! ")) {
            (Some((e, w)), _) => (e, w.trim(), false),
            (None, Some((e, w))) => (e, w.trim(), true),
            (None, None) => {
                before = format!("{before}{line}\n");
                continue;
            }
        };
        let expression = format!("{}{}", std::mem::take(&mut before), expression.trim_end());
        match worked(&expression) {
            Ok(got) if refused || got != wanted => wrong.push(format!("{expression}: {got}, not {wanted}")),
            Err(problems) if !refused || !told(&problems).contains(wanted) => {
                wrong.push(format!("{expression}: {}, not {wanted}", told(&problems)));
            }
            _ => {}
        }
    }
    wrong
}

/// A message that is announced: the book and the line that it is about, or none, and parts of it.
struct Announced {
    book: String,
    line: usize,
    parts: Vec<String>,
}

/// The messages that a book announces.
fn announced(book: &str, lines: &[&str], sign: &str) -> Vec<Announced> {
    let mut out: Vec<Announced> = Vec::new();
    for (i, line) in lines.iter().enumerate() {
        for mark in line.split(sign).skip(1) {
            let (at, parts) = mark.strip_prefix("next").map_or((i + 1, mark), |rest| (i + 2, rest));
            let (at, parts) = parts.strip_prefix("at ").map_or((at, parts), |rest| (0, rest));
            let parts = parts.split(" ;; ").map(|p| p.trim().to_owned()).collect();
            out.push(Announced { book: if at == 0 { "" } else { book }.to_owned(), line: at, parts });
        }
    }
    assert!(out.iter().all(|a| a.parts.iter().any(|p| !p.is_empty())), "an empty announcement");
    out
}

/// What a case puts before its book.
#[derive(Default)]
struct Around<'a> {
    base: Option<Vec<&'a str>>,
    files: Vec<(&'a str, Vec<&'a str>)>,
}

/// Everything that is wrong with a book, examples included.
fn book_problems(around: &Around<'_>, lines: &[&str]) -> Vec<Problem> {
    let (layers, mut problems) = layers_of(around, lines);
    match compile(layers, None, hardlid::natives()) {
        Ok((program, more)) => {
            problems.extend(more);
            if problems.iter().all(|p| p.weight != Weight::Stop) {
                problems.extend(run_examples(&program));
            }
        }
        Err(more) => problems.extend(more),
    }
    problems
}

/// The book with what it uses, and with the book below where the case has one, ready to be compiled.
fn layers_of(around: &Around<'_>, lines: &[&str]) -> (Vec<BookSource>, Vec<Problem>) {
    let book = lines.join("\n");
    let house = House::read(File::new("the book", book.as_bytes()), &|path, _| {
        let found = around.files.iter().find(|(name, _)| *name == path);
        let text = found.map(|(_, lines)| lines.join("\n").into_bytes());
        text.ok_or_else(|| Problem::stop("file not found", format!("There is no file {path}.")))
    });
    let text = Text::new("the book", &book);
    let (mut layers, problems) = library::Shelf::default().with_layers(&text, "the book", &Files::of(&house));
    if let Some(base) = &around.base {
        let below = Text::new("the book below", &base.join("\n"));
        let (book, own) = read_book(&below);
        assert!(own.is_empty(), "{}", told(&own));
        let at = layers.len() - 1;
        layers.insert(at, BookSource { lower: (0..at).collect(), ..BookSource::alone(book, "the book below") });
        layers[at + 1].lower.insert(at);
    }
    (layers, problems)
}

/// What is wrong with a `hints` fence.
fn hints_fence(around: &Around<'_>, lines: &[&str]) -> Vec<String> {
    let (layers, mut problems) = layers_of(around, lines);
    let program = match compile(layers, None, hardlid::natives()) {
        Ok((program, more)) => {
            problems.extend(more);
            problems.extend(run_examples(&program));
            program
        }
        Err(more) => return vec![told(&more)],
    };
    let mut wrong = told_as_announced(problems, Vec::new());
    wrong.extend(told_as_announced(program.hints, announced(BOOK, lines, "-- ?")));
    let answered = program.answered.into_iter().map(|a| {
        assert!(!a.reason.is_empty());
        a.hint
    });
    wrong.extend(told_as_announced(answered.collect(), announced(BOOK, lines, "-- ~")));
    wrong
}

/// What is wrong with a `book` fence.
fn book_fence(around: &Around<'_>, lines: &[&str]) -> Vec<String> {
    let mut wanted = announced(BOOK, lines, "-- !");
    let books = around.files.iter().filter(|(name, _)| name.ends_with(".lid"));
    wanted.extend(books.flat_map(|(name, lines)| announced(name, lines, "-- !")));
    told_as_announced(book_problems(around, lines), wanted)
}

/// The name of the book that is tried.
const BOOK: &str = "the book";

/// What differs between problems of a book and those that it announces.
fn told_as_announced(problems: Vec<Problem>, mut wanted: Vec<Announced>) -> Vec<String> {
    let mut wrong = Vec::new();
    for problem in problems {
        let (book, line) = match problem.places.first() {
            Some(Place::Book { text, span }) => (text.name.as_str(), text.line(span.start as usize)),
            _ => ("", 0),
        };
        let cell = problem.places.iter().find_map(|p| if let Place::Cell(c) = p { Some(c.to_string()) } else { None });
        let (cell, fix) = (cell.unwrap_or_default(), problem.fix.as_deref().unwrap_or(""));
        let said = format!("{cell} {} {fix}", problem.what);
        let fits =
            |a: &Announced| a.book == book && a.line == line && a.parts.iter().all(|p| said.contains(p.as_str()));
        match wanted.iter().position(fits) {
            Some(i) => drop(wanted.remove(i)),
            None => wrong.push(format!("not announced: {}", for_people(&problem))),
        }
    }
    wrong.extend(wanted.iter().map(|a| format!("{} line {}: never came: {}", a.book, a.line, a.parts.join(" ;; "))));
    wrong
}

fn run(markdown: &str) {
    let mut wrong = Vec::new();
    let cases = cases(markdown);
    assert!(!cases.is_empty());
    for case in cases {
        assert!(!case.fences.is_empty(), "{} has no fence", case.heading);
        let mut around = Around::default();
        for (kind, lines) in case.fences {
            let found = match kind {
                "work" => work_fence(&lines),
                "book" => book_fence(&std::mem::take(&mut around), &lines),
                "hints" => hints_fence(&std::mem::take(&mut around), &lines),
                "base" => {
                    around.base = Some(lines);
                    Vec::new()
                }
                other => match other.strip_prefix("file ") {
                    Some(name) => {
                        around.files.push((name, lines));
                        Vec::new()
                    }
                    None => vec![format!("no such fence: {other}")],
                },
            };
            wrong.extend(found.into_iter().map(|f| format!("{}: {f}", case.heading)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn values() {
    run(include_str!("cases/values.md"));
}

#[test]
fn rows() {
    run(include_str!("cases/rows.md"));
}

#[test]
fn statements() {
    run(include_str!("cases/statements.md"));
}

#[test]
fn tables() {
    run(include_str!("cases/tables.md"));
}

#[test]
fn functions() {
    run(include_str!("cases/functions.md"));
}

#[test]
fn priced() {
    run(include_str!("cases/priced.md"));
}

#[test]
fn layers() {
    run(include_str!("cases/layers.md"));
}

#[test]
fn options() {
    run(include_str!("cases/options.md"));
}

#[test]
fn trade() {
    run(include_str!("cases/trade.md"));
}

#[test]
fn hints() {
    run(include_str!("cases/hints.md"));
}

#[test]
fn a_whole_book() {
    run(include_str!("cases/taste.md"));
}

/// A book with its mistakes as they are, or with one of them put right.
fn with_right(fences: &[(&str, Vec<&str>)], right: Option<usize>) -> String {
    let (mut lines, mut at) = (Vec::new(), 0);
    for (kind, inside) in fences {
        let taken = match *kind {
            "wrong" => {
                at += 1;
                right != Some(at - 1)
            }
            "right" => right == Some(at - 1),
            kind => kind == "book",
        };
        if taken {
            lines.extend(inside.iter().copied());
        }
    }
    lines.join("\n")
}

fn in_order(book: &str) -> Vec<String> {
    let mut all = book_problems(&Around::default(), &book.lines().collect::<Vec<_>>());
    hardlid::problem::in_source_order(&mut all);
    all.iter().map(|p| for_people(p).trim_end().to_owned()).collect()
}

/// Forty mistakes and more, told in one run as is written under each; what is tried as a message says mends that one alone.
#[test]
fn many_mistakes_are_told_at_once_and_each_is_mended_as_its_message_says() {
    let file = include_str!("cases/mistakes.md").replace("# Many mistakes", "## Many mistakes");
    let cases = cases(&file);
    let fences = &cases[0].fences;
    let says: Vec<&Vec<&str>> = fences.iter().filter(|(kind, _)| *kind == "says").map(|(_, lines)| lines).collect();
    assert!(says.len() >= 30, "{}", says.len());
    let told = in_order(&with_right(fences, None));
    // a message shows its line of the book; those below a mistake that goes do not move
    let shown: Vec<String> = told.iter().map(|t| t.lines().map(str::trim).collect::<Vec<_>>().join("\n")).collect();
    let wanted: Vec<String> =
        says.iter().map(|s| s.iter().map(|l| l.trim()).collect::<Vec<_>>().join("\n").trim_end().to_owned()).collect();
    for (shown, wanted) in shown.iter().zip(&wanted) {
        assert_eq!(shown, wanted);
    }
    assert_eq!(shown.len(), wanted.len());
    let whats =
        |all: &[String]| -> Vec<String> { all.iter().filter_map(|t| t.lines().next()).map(str::to_owned).collect() };
    for (at, mistake) in wanted.iter().enumerate() {
        let mended = whats(&in_order(&with_right(fences, Some(at))));
        let mut others = whats(&told);
        others.remove(at);
        assert_eq!(mended, others, "mended: {mistake}");
    }
}

#[test]
fn a_message_that_was_not_announced_fails_and_so_does_one_that_never_comes() {
    assert_eq!(book_fence(&Around::default(), &["for job", "    a = b", "end"]).len(), 1);
    assert_eq!(book_fence(&Around::default(), &["for job", "    a = 1   -- ! nothing", "end"]).len(), 1);
    assert_eq!(book_fence(&Around::default(), &["for job", "    a = b   -- ! Nothing is called", "end"]).len(), 0);
    assert_eq!(hints_fence(&Around::default(), &["for job", "    a = 1", "end"]).len(), 1);
    assert_eq!(hints_fence(&Around::default(), &["for job", "    a = 1   -- ~ Nothing uses", "end"]).len(), 2);
    assert_eq!(hints_fence(&Around::default(), &["for job", "    a = 1   -- ? Nothing uses", "end"]).len(), 0);
    assert_eq!(work_fence(&["1 + 1 -> 3", "1 + 1 -! no", "1 + -! ends too late"]).len(), 3);
}

/// Every function of the language bears examples and one refusal: all of them must be so.
#[test]
fn functions_of_the_language_do_what_their_records_say() {
    let mut count = 0;
    for record in builtin::all() {
        assert!(!record.examples.is_empty(), "{} has no example", record.name);
        for (expression, shown) in record.examples {
            assert_eq!(worked(expression).map_err(|p| told(&p)).as_deref(), Ok(*shown), "{expression}");
            count += 1;
        }
        let (expression, part) = record.refused;
        let refusal = worked(expression).map_err(|p| told(&p)).unwrap_err();
        assert!(refusal.contains(part), "{expression}: {refusal}");
        assert!(record.signature.starts_with(record.name) && record.summary.ends_with('.'), "{}", record.name);
    }
    assert!(count >= 15);
}

/// The same for native functions.
#[test]
fn native_functions_do_what_their_records_say() {
    let mut count = 0;
    for record in hardlid::natives().iter().copied().flatten() {
        assert!(!record.examples.is_empty(), "{} has no example", record.name);
        for (expression, shown) in record.examples {
            assert_eq!(worked(expression).map_err(|p| told(&p)).as_deref(), Ok(*shown), "{expression}");
            count += 1;
        }
        let (expression, part) = record.refused;
        let refusal = worked(expression).map_err(|p| told(&p)).unwrap_err();
        assert!(refusal.contains(part), "{expression}: {refusal}");
        assert!(record.summary.ends_with('.'), "{}", record.name);
    }
    assert!(count >= 3);
}

/// Every example of the built-in books, each book by itself.
#[test]
fn examples_of_the_built_in_books_come_out() {
    for book in library::BUILT_IN {
        let (layers, problems) = library::built_in(book.name);
        assert!(problems.is_empty(), "{}", told(&problems));
        let (program, warnings) = compile(layers, None, hardlid::natives()).map_err(|p| told(&p)).unwrap();
        assert!(warnings.is_empty() && program.hints.is_empty(), "{}{}", told(&warnings), told(&program.hints));
        assert!(program.examples.len() >= 4, "{}", book.name);
        assert_eq!(told(&run_examples(&program)), "", "{}", book.name);
    }
}
