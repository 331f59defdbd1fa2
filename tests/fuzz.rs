//! Books from anywhere: never a panic, always an answer, and a refused book names a place for what is wrong.
#![allow(clippy::unwrap_used)] // helpers of tests stand outside the test functions

use hardlid::engine::examples::{run_examples, work_out};
use hardlid::notation::{read_book, read_expression};
use hardlid::problem::render::{for_people, for_programs};
use hardlid::problem::{Problem, Weight};
use hardlid::program::{BookSource, compile, library};
use hardlid::source::{Place, Text};
use proptest::prelude::*;
use std::fmt::Write as _;

/// What is wrong with a book, without the books that it uses; its examples are run when it is sound.
fn problems_of(book: &str) -> Vec<Problem> {
    let text = Text::new("the book", book);
    let (book, mut problems) = read_book(&text);
    let source = BookSource::alone(book, "the book");
    match compile(vec![source], None, hardlid::natives()) {
        Ok((program, more)) => {
            problems.extend(more);
            problems.extend(run_examples(&program));
        }
        Err(more) => {
            // what follows from a mistake of reading is not told again
            problems.extend(more);
            assert!(problems.iter().any(|p| p.weight == Weight::Stop));
        }
    }
    for problem in &problems {
        assert!(!problem.places.is_empty(), "no place: {}", problem.what);
        assert!(for_people(problem).starts_with(&problem.what) && for_programs(problem).is_object());
        for place in &problem.places {
            if let Place::Book { text, span } = place {
                assert!(text.text.get(span.range()).is_some(), "{span:?} is no part of the text: {}", problem.what);
            }
        }
    }
    problems
}

fn stops(book: &str) -> Vec<Problem> {
    problems_of(book).into_iter().filter(|p| p.weight == Weight::Stop).collect()
}

/// Blocks and statements of the texts that books are made from.
fn pieces() -> Vec<String> {
    let taste = include_str!("cases/taste.md").split("```").nth(1).unwrap_or("").trim_start_matches("book\n");
    let all = library::BUILT_IN.iter().map(|b| b.text).chain([taste]).collect::<Vec<_>>().join("\n");
    let mut out: Vec<String> = Vec::new();
    for line in all.lines().filter(|l| !l.trim().is_empty()) {
        let begins = !line.starts_with([' ', '\t']) && line != "end";
        match out.last_mut() {
            Some(block) if !begins => *block = format!("{block}\n{line}"),
            _ => out.push(line.to_owned()),
        }
    }
    out
}

/// One change of a text: what, where, and what with.
#[derive(Clone, Debug)]
enum Change {
    Delete(prop::sample::Index, usize),
    Insert(prop::sample::Index, String),
    Swap(prop::sample::Index, prop::sample::Index),
    Repeat(prop::sample::Index, usize),
}

fn change() -> impl Strategy<Value = Change> {
    let at = any::<prop::sample::Index>;
    let odd = prop_oneof![
        prop::sample::select(vec![
            "end\n",
            "(",
            ")",
            "\"",
            "'",
            "--",
            "\n",
            "\n    ",
            " = ",
            " when ",
            " otherwise ",
            " of ",
            " is ",
            "{",
            "}",
            "|",
            ",",
            ":",
            "%",
            "$",
            "8' -6\"",
            "½",
            "999999999999999999999",
            "^9",
            "/0",
            "replace ",
            "count of rooms",
            "sum of openings (",
            "where ",
            "10% of ",
            " + 10%",
            "1/0",
            "\u{0}",
            "\u{feff}",
            "’",
            "\t",
            "−",
            "÷",
            "≤",
            "12 ga",
            "2026-02-30",
            " not ",
            "length",
            "rooms",
            "\\",
            "for job\n    a = a\nend\n",
        ])
        .prop_map(str::to_owned),
        "\\PC{1,6}",
    ];
    prop_oneof![
        (at(), 1usize..30).prop_map(|(a, n)| Change::Delete(a, n)),
        (at(), odd).prop_map(|(a, t)| Change::Insert(a, t)),
        (at(), at()).prop_map(|(a, b)| Change::Swap(a, b)),
        (at(), 1usize..60).prop_map(|(a, n)| Change::Repeat(a, n)),
    ]
}

fn changed(mut text: Vec<char>, change: &Change) -> Vec<char> {
    if text.is_empty() {
        return text;
    }
    match change {
        Change::Delete(at, n) => {
            let at = at.index(text.len());
            let end = (at + n).min(text.len());
            text.drain(at..end);
        }
        Change::Insert(at, what) => {
            let at = at.index(text.len());
            text.splice(at..at, what.chars());
        }
        Change::Swap(a, b) => {
            let (a, b) = (a.index(text.len()), b.index(text.len()));
            text.swap(a, b);
        }
        Change::Repeat(at, n) => {
            let at = at.index(text.len());
            let again: Vec<char> = text[at..(at + n).min(text.len())].to_vec();
            text.splice(at..at, again);
        }
    }
    text
}

/// Words that expressions are made of, in any order.
fn word() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "1",
        "2.5",
        "0",
        "8'-6\"",
        "5/8\"",
        "8' -6\"",
        "600 mm",
        "$4.85",
        "$312/MLF",
        "10%",
        "12 ga wire",
        "12 ga",
        "yes",
        "\"x\"",
        "2026-11-25",
        "+",
        "-",
        "*",
        "/",
        "of",
        "^2",
        "^-1",
        "<",
        "<=",
        "=",
        "is",
        "is not",
        "is given",
        "and",
        "or",
        "not",
        "(",
        ")",
        ",",
        "when",
        "otherwise",
        "shorter(",
        "round_up(",
        "to:",
        "square_root(",
        "pieces(",
        "need:",
        "stock:",
        "sum of",
        "count of",
        "lines",
        "where",
        "cost",
        "kind",
        "material",
        "x",
        "½",
        "3 sf",
        "2 C",
        "is one of A B",
        "999999999999999",
        "0.000000000001",
        "ft",
        "hr/ft",
        "in^4",
        "1 in^6",
        "{",
        "|",
        "--",
    ])
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 7_000, failure_persistence: None, ..ProptestConfig::default() })]

    /// Some blocks of sound books, damaged.
    #[test]
    fn damaged_books_are_refused_with_a_place_or_are_sound(
        chosen in prop::collection::vec(any::<prop::sample::Index>(), 1..5),
        changes in prop::collection::vec(change(), 1..6),
    ) {
        let pieces = pieces();
        let book = chosen.iter().map(|i| i.get(&pieces).as_str()).collect::<Vec<_>>().join("\n");
        let damaged = changes.iter().fold(book.chars().collect(), changed);
        problems_of(&damaged.into_iter().collect::<String>());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3_000, failure_persistence: None, ..ProptestConfig::default() })]

    /// Statements of any words.
    #[test]
    fn books_of_any_words_are_answered(
        lines in prop::collection::vec((0usize..9, prop::collection::vec(word(), 0..9)), 1..7)
    ) {
        let heads = ["    a = ", "    check c ", "    item i code ", "for job\n    b = ", "define d(x number) number = ", "end\n",
            "table t\n    x number, exact | ", "    1 | ", "example \"e\"\n    shows "];
        let mut book = String::new();
        for (head, words) in lines {
            let _ = writeln!(book, "{}{}", heads[head], words.join(" "));
        }
        problems_of(&book);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 10_000, failure_persistence: None, ..ProptestConfig::default() })]

    /// An expression is worked out, or refused with words.
    #[test]
    fn any_expression_is_worked_out_or_refused(words in prop::collection::vec(word(), 1..10), tight in any::<bool>()) {
        let text = Text::new("the expression", &words.join(if tight { "" } else { " " }));
        match read_expression(&text) {
            Err(problems) => prop_assert!(!problems.is_empty()),
            Ok(expr) => match compile(Vec::new(), Some((&text, &expr)), hardlid::natives()) {
                Err(problems) => prop_assert!(problems.iter().all(|p| !p.places.is_empty())),
                Ok((program, _)) => {
                    if let Err(problem) = work_out(&program) {
                        let told = !problem.places.is_empty() || problem.kind == "depends on its own price";
                        prop_assert!(told, "no place: {}", problem.what);
                    }
                }
            },
        }
    }
}

fn nested(open: &str, inner: &str, close: &str, times: usize) -> String {
    format!("for job\n    a = {}{inner}{}\nend\n", open.repeat(times), close.repeat(times))
}

#[test]
fn what_stands_too_deep_is_refused() {
    for (open, inner, close) in [
        ("(", "1", ")"),
        ("shorter(1, ", "1", ")"),
        ("count of lines where ", "1 = 1", ""),
        ("1 when ", "yes", ", 2 otherwise"),
        ("1 when yes, ", "2 otherwise", ""),
        ("(1 when ", "yes", ", 2 otherwise)"),
        ("sum of lines (cost) where any of lines (", "1 = 1", ")"),
    ] {
        for times in [33, 60, 300, 1_000, 5_000] {
            let problems = problems_of(&nested(open, inner, close, times));
            assert!(!problems.is_empty() || times < 100, "{open} {times}");
        }
        // a little depth is in order for those that may stand in each other
        problems_of(&nested(open, inner, close, 8));
    }
    assert!(stops(&nested("(", "1", ")", 30)).is_empty());
    // signs do not nest
    assert!(stops(&nested("not ", "yes", "", 3_000)).is_empty());
    assert!(stops(&nested("- ", "1", "", 6_000)).is_empty());
    let expression = Text::new("the expression", &"count of lines where ".repeat(600));
    assert!(read_expression(&expression).is_err());
}

#[test]
fn very_long_statements_are_refused_and_long_ones_are_not() {
    let sum = |n: usize| format!("for job\n    a = 1{}\nend\n", " + 1".repeat(n));
    assert!(stops(&sum(390)).is_empty());
    for n in [500, 3_000, 100_000] {
        assert_eq!(stops(&sum(n)).len(), 1, "{n}");
    }
    let choice = |n: usize| format!("for job\n    a = {}0 otherwise\nend\n", "1 when 1 = 2, ".repeat(n));
    assert!(stops(&choice(150)).is_empty());
    assert_eq!(stops(&choice(1_100)).len(), 1);
}

#[test]
fn definitions_that_call_twice_forty_levels_deep_end() {
    let mut book = "define d0(x number) number = x + 1\n".to_owned();
    for i in 1..=40 {
        let _ = writeln!(book, "define d{i}(x number) number = d{}(x + {i}) * d{}(x * 2)", i - 1, i - 1);
    }
    book += "for job\n    a = d40(1)\n    b = d3(2)\nend\n";
    let problems = stops(&book);
    assert!(problems.iter().any(|p| p.kind == "book too large"), "{:?}", problems.first());
    assert!(problems.len() < 5);
    // a few levels are in order: 2 · 2 · … of eight levels are 256 calls
    let small = book.lines().take(9).collect::<Vec<_>>().join("\n") + "\nfor job\n    a = d8(1)\nend\n";
    assert!(stops(&small).is_empty());
}

#[test]
fn rings_of_definitions_and_of_formulas_are_told_once() {
    let ring =
        |n: usize, line: &dyn Fn(usize, usize) -> String| -> String { (0..n).map(|i| line(i, (i + 1) % n)).collect() };
    for n in [1, 2, 40, 60] {
        let book = ring(n, &|i, next| format!("define d{i}(x number) number = d{next}(x)\n"));
        assert_eq!(stops(&book).iter().filter(|p| p.kind == "formulas in a ring").count(), 1, "{n}");
    }
    for n in [1, 2, 2_000] {
        let lines = ring(n, &|i, next| format!("    a{i} = a{next} + 1\n"));
        let problems = stops(&format!("for job\n{lines}end\n"));
        assert_eq!(problems.len(), 1, "{n}");
        match n {
            1 => assert_eq!(problems[0].what, "'a0' is worked out from itself."),
            2 => assert_eq!(problems[0].what.matches(" needs ").count(), 2),
            // six names at each end, of one more than are in the ring
            _ => assert!(problems[0].what.contains(&format!(" needs … ({} more) needs ", n + 1 - 12))),
        }
    }
}

#[test]
fn two_thousand_formulas_in_a_chain_are_worked_out() {
    let rows = "rows rooms from \"R\"\n    x number\nend\nfor rooms\n";
    let links = |i: usize| format!("    a{i} = a{} + 1\n", i - 1);
    let forward: String = (1..2_000).map(links).collect();
    let backward: String = (1..2_000).rev().map(links).collect();
    for chain in [forward, backward] {
        let book = format!(
            "{rows}    a0 = x + 1\n{chain}end\nexample \"chain\"\n    rooms x 5\n    shows a1999 = 2005\nend\n"
        );
        let problems = problems_of(&book);
        assert!(problems.is_empty(), "{}", problems[0].what);
    }
}

#[test]
fn large_books_are_answered() {
    // over the limit of 4 MB
    let problems = stops(&"-- a comment\n".repeat(400_000));
    assert_eq!(problems.len(), 1);
    assert!(problems[0].what.contains("4 MB"));
    // as many mistakes as lines: each is told
    for (line, count) in [("zzz\n", 20_000), ("end\n", 20_000), ("(((\n", 5_000), ("\"\n", 5_000), ("for job\n", 5_000)]
    {
        assert_eq!(stops(&line.repeat(count)).len(), count, "{line}");
    }
    let unknown: String = (0..3_000).map(|i| format!("    a{i} = b{i} + c{i}(1)\n")).collect();
    assert_eq!(stops(&format!("for job\n{unknown}end\n")).len(), 6_000);
    let rows: String = (0..3_000).map(|i| format!("    {i} mm | K{i} | {i} mm\n")).collect();
    let table = format!("table t\n    a length, exact | b text, exact | c length\n{rows}end\n");
    assert!(stops(&table).is_empty());
    // many keys, each row alone: the places of such a grid are beyond counting
    let wide: String = (0..40).map(|i| format!("k{i} number, exact | ")).collect();
    let cells = |r: usize| format!("    {}{r}\n", format!("{r} | ").repeat(40));
    let grid: String = (0..30).map(cells).collect();
    assert!(stops(&format!("table t\n    {wide}v number\n{grid}end\n")).is_empty());
}

/// Definitions that call each other in a long line are no ring; what is too much is told once, and by what it is.
#[test]
fn limits_of_a_book_are_told_once_and_by_what_they_are() {
    let line = |n: usize, given: &str| -> String {
        let each: String =
            (1..n).map(|i| format!("define d{i}(a length) length = d{}({given}) + 1'\n", i - 1)).collect();
        let last = n - 1;
        format!(
            "rows rooms from \"R\"\n    length length\nend\ndefine d0(a length) length = a\n{each}for rooms\n    t = d{last}(length)\nend\n\
             example \"counted\"\n    rooms length 2'\n    shows t = {}'\nend\n",
            n + 1
        )
    };
    let whats = |book: &str| stops(book).into_iter().map(|p| format!("{} {}", p.kind, p.what)).collect::<Vec<_>>();
    for n in [66, 200, 1_000] {
        assert_eq!(whats(&line(n, "a")), [""; 0], "{n}");
    }
    assert_eq!(whats(&line(1_001, "a")), ["book too large Definitions call each other more than 1000 deep here."]);
    let more = whats(&line(700, "a + 1'"));
    assert_eq!(more, ["book too large The definitions of this book call each other more than 50000 times."]);
    // a table's values are no steps
    let rows: String = (1..200_000).map(|i| format!("    {i} | {i}'\n")).collect();
    assert_eq!(
        whats(&format!("table t\n    a count, exact | b length\n{rows}end\nfor job\n    x = t(5) + 1'\nend\n")),
        [""; 0]
    );
    // but those of formulas are
    let terms = |i: usize| (0..30).map(|k| format!("length * {}", i * 30 + k + 2)).collect::<Vec<_>>().join(" + ");
    let formulas: String = (0..5_000).map(|i| format!("    a{i} = {}\n", terms(i))).collect();
    let book = format!("rows rooms from \"R\"\n    length length\nend\nfor rooms\n{formulas}end\n");
    assert_eq!(
        whats(&book),
        [
            "book too large The formulas of this book come to more than 400,000 steps; each value and each operator is one."
        ]
    );
}

/// Each of these once took minutes, all memory, or the process with it.
#[test]
fn books_that_are_much_of_one_thing_are_answered() {
    // a chain of formulas, the last first: deeper than the stack
    let chain = |n: usize| -> String {
        let links: String = (1..n).rev().map(|i| format!("    a{i} = a{} + 1\n", i - 1)).collect();
        format!("for job\n{links}    a0 = 1\nend\n")
    };
    let problems = stops(&chain(25_000));
    assert!(problems.iter().all(|p| p.kind == "book too large" && p.what.contains("20,000 steps")));
    assert_eq!(problems.len(), 1);
    // as many open brackets as lines, closed nowhere or far below
    for book in ["a = (\n".repeat(60_000), format!("(\n{})\n", "x\n".repeat(60_000))] {
        assert!(!stops(&book).is_empty());
    }
    let closed_at_once = format!("{}{}\n", "(\n".repeat(30_000), ")".repeat(30_001));
    assert!(!stops(&closed_at_once).is_empty());
    // more mistakes than anybody reads
    let problems = stops(&"\"\n".repeat(30_000));
    assert_eq!(problems.len(), 25_001);
    assert!(problems.iter().any(|p| p.kind == "too many mistakes"));
    assert!(stops(&format!("for job\n{}end\n", "    a = 1\n".repeat(27_000))).len() <= 25_001);
    // kinds of rows by the thousand
    let kinds: String = (0..400).map(|i| format!("rows k{i} from \"S\"\n    id text key\nend\n")).collect();
    let formulas: String = (0..400).map(|i| format!("for k{i}\n    a = 1\nend\n")).collect();
    let problems = stops(&format!("{kinds}{formulas}"));
    assert_eq!(problems.iter().map(|p| &p.what).collect::<Vec<_>>(), ["These books read more than 200 kinds of rows."]);
    // steps × examples
    let sums: String = (1..20_000).map(|i| format!("    a{i} = a{} + x\n", i - 1)).collect();
    let examples: String =
        (0..20_000).map(|i| format!("example \"{i}\"\n    rooms x 1\n    shows a2 = 3\nend\n")).collect();
    let rows = "rows rooms from \"R\"\n    x number\nend\nfor rooms\n    a0 = x\n";
    let problems = stops(&format!("{rows}{sums}end\n{examples}"));
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].kind, "example not run");
}

/// What hints look at is looked at once, however many lean on it.
#[test]
fn hints_about_books_that_lean_on_one_thing_in_many_ways_end() {
    let words: String = (0..2_000).map(|i| format!(" w{i}")).collect();
    let rows = format!("rows rooms from \"R\"\n    x number\n    z text one of{words}\nend\n");
    let choices: String = (1..800)
        .map(|i| {
            format!(
                "    a{i} = a{0} when x > {i}, a{0} otherwise\n    check c{i} a{i} is one of w1 w2 else warns\n",
                i - 1
            )
        })
        .collect();
    assert!(stops(&format!("{rows}for rooms\n    a0 = z\n{choices}end\n")).is_empty());
    let sums: String =
        (1..2_000).map(|i| format!("    b{i} = b{0} + b{0}\n    check d{i} b{i} > 3 else warns\n", i - 1)).collect();
    assert!(stops(&format!("{rows}for rooms\n    b0 = x\n{sums}end\n")).is_empty());
    let lines: String = (0..2_000).map(|i| format!("    {i} | w{i}\n")).collect();
    let asks: String = (0..1_500)
        .map(|i| {
            format!("    q{i} = t(x + {i})\n    r{i} = 1 when q{i} is \"w5\", 2 when q{i} is \"w6\", 3 otherwise\n")
        })
        .collect();
    let table = format!("table t\n    a number, exact | v text\n{lines}end\n");
    assert!(stops(&format!("{rows}{table}for rooms\n{asks}end\n")).is_empty());
}

/// Books that use two others each are read once each.
#[test]
fn a_pyramid_of_books_is_read_once() {
    let name = |i: usize| format!("b{i}");
    let book = |i: usize| {
        let uses: String = (i.saturating_sub(2)..i).map(|j| format!("use \"{}\"\n", name(j))).collect();
        format!("{uses}for job\n    a{i} = {i}\nend\n")
    };
    let shelf = library::Shelf::of_the_day((0..60).map(|i| (name(i), book(i))));
    let (layers, problems) = shelf.with_layers(&Text::new("top", "use \"b59\"\nuse \"b58\"\n"), "top", &library::Alone);
    assert!(problems.is_empty());
    assert_eq!(layers.len(), 61);
}
