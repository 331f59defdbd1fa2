//! Faults of numbers are told as what they are, wherever they arise.

use super::{Cells, Given, column, compiled, number, whole};
use hardlid::notation::read_book;
use hardlid::program::{BookSource, Value, compile};
use hardlid::quantity::{Decimal, Number};
use hardlid::source::Text;

/// 5e27, which a tenfold of is beyond 28 digits.
const HUGE: &str = "5000000000000000000000000000";

const BOOK: &str = "
table steps
    at length, up to | word text, exact | got area
    1 mm | a | 3 sf
    9 mm | a | 5 sf
end
table line
    at number, between | got number
    0 | 0
    10 | 5000000000000000000000000000
end
rows rooms from \"Rooms\"
    id text key
    h number
    l length
    s area
    k number otherwise 1
end
rows parts from \"Parts\" belong to rooms by \"Room\"
    q number
end
";

/// The words for what a formula of one room gives, `h` and `s` being huge.
fn told(formula: &str) -> Result<Number, String> {
    let program = compiled(&format!("{BOOK}for rooms\n    out = {formula}\nend"));
    let cells: Cells =
        vec![("id", Value::Text("7".into())), ("h", number(HUGE)), ("l", number("5")), ("s", number(HUGE))];
    let parts = vec![vec![("q", number(HUGE))]; 20];
    let given = [
        Given { kind: "rooms", rows: vec![cells], parents: Vec::new() },
        Given { kind: "parts", rows: parts, parents: vec![0; 20] },
    ];
    column(&program, &given, "rooms", "out").remove(0)
}

#[test]
fn a_number_too_large_is_told_as_one() {
    for (formula, rule) in [
        ("h * 100", "h * 100"),
        ("h + h * 15", "h + h * 15"),
        ("h / 0.001", "h / 0.001"),
        ("h * 10 * 10 / 0", "h * 10 * 10"),
        ("sum of parts (q)", "sum of parts (q)"),
        // 3e28 steps of half a mile's tenth are within reach, those of a thousandth are not
        ("round_up(h, to: 0.001)", "round_up(h, to: 0.001)"),
        ("round_even(h * 15, to: $7 / $2)", "round_even(h * 15, to: $7 / $2)"),
        ("(s when k = 1, 1 sf otherwise) * 1 sf", "Out"),
        ("s * 3 sf", "Out"),
        ("square_root(h * 1 CSF * 1 CSF * 1 CSF * 1 CSF)", "square_root(h * 1 CSF * 1 CSF * 1 CSF * 1 CSF)"),
    ] {
        let words = told(formula).expect_err(formula);
        assert_eq!(words, format!("This number is too large to be worked with for room 7: {rule}."), "{formula}");
    }
}

#[test]
fn faults_that_are_not_size_keep_their_words() {
    for (formula, part) in [
        ("h / (k - 1)", "A division by zero for room 7."),
        ("round_up(h, to: k - 1)", "A division by zero for room 7."),
        ("square_root(-s)", "The root of a number below zero for room 7."),
        ("steps(at: l * 2, word: \"a\")", "The table steps has no row for at"),
        ("line(h)", "The table line has no row for at"),
    ] {
        let words = told(formula).expect_err(formula);
        assert!(words.contains(part), "{formula}: {words}");
    }
}

/// A comparison and a look-up need no room for what they compare, and a choice none for what it leaves.
#[test]
fn size_alone_does_not_stop_what_can_be_told_exactly() {
    for (formula, wanted) in [
        ("1 when h * 15 < h * 15.5, 0 otherwise", 1),
        ("1 when s > 3 sf, 0 otherwise", 1),
        ("1 when (1 sf when k = 1, h * 1000 * 1 sf otherwise) = 1 sf, 0 otherwise", 1),
        ("shorter(h, 3)", 3),
        ("line(10) / h", 1),
        ("h * 15 / h", 15),
    ] {
        assert_eq!(told(formula), whole(wanted), "{formula}");
    }
    assert!(told("steps(at: h * 1 ft, word: \"a\") / 1 sf").expect_err("no row").contains("no row"));
}

/// What a power needs, it needs also to the power of nothing.
#[test]
fn a_power_of_zero_keeps_the_fault_of_its_base() {
    assert_eq!(told("k ^ 0"), whole(1));
    assert_eq!(told("(k - 1) ^ 0"), whole(1));
    assert_eq!(told("l ^ 0"), whole(1));
    assert_eq!(told("7 ^ 0"), whole(1));
    assert!(told("(1 / (k - 1)) ^ 0").expect_err("division").contains("division by zero"));
    assert!(told("(h * 100) ^ 0").expect_err("size").contains("too large"));
}

/// Columns of a unit smaller than the one they are told in hold what they can hold, and say so where it is asked for.
#[test]
fn a_cell_too_large_for_its_unit_is_a_fault_of_the_cell() {
    let program = compiled("rows rooms from \"Rooms\"\n    id text key\n    r $/mm\n    t $/MLF\nend");
    let cells: Cells = vec![
        ("id", Value::Text("7".into())),
        ("r", number("1")),
        ("t", Value::Number(Decimal::from_i128_with_scale(79_228_162_514_264_337_593_543_950_335, 0).into())),
    ];
    let given = [Given { kind: "rooms", rows: vec![cells], parents: Vec::new() }];
    assert_eq!(column(&program, &given, "rooms", "r"), [whole(1)]);
    let words = column(&program, &given, "rooms", "t").remove(0).expect_err("too large");
    assert_eq!(words, "T is too large to be worked with for room 7.");
}

/// Faults of the book itself, with what would be right.
fn refused(book: &str) -> Vec<(String, Option<String>)> {
    let (book, problems) = read_book(&Text::new("the book", book));
    assert!(problems.is_empty(), "{problems:?}");
    let source = BookSource::alone(book, "the book");
    match compile(vec![source], None, hardlid::natives()) {
        Ok(_) => Vec::new(),
        Err(problems) => problems.into_iter().map(|p| (p.what, p.fix)).collect(),
    }
}

#[test]
fn names_with_capital_letters_are_refused_each_once() {
    let book = "
table Spans
    At length, up to | limit length
    1 ft | 2 ft
end
define Twice(X number) number = X * 2
rows Rooms from \"Rooms\"
    Length length
end
for Rooms
    Run = Length * 2
    check Fits Run > 3 ft else stops \"no\"
    item Tee code \"T\" need Run
end";
    let told = refused(book);
    let names = ["Spans", "At", "Twice", "X", "Rooms", "Length", "Run", "Fits", "Tee"];
    assert_eq!(told.len(), names.len(), "{told:?}");
    for name in names {
        let what = format!("'{name}' has a capital letter; names are lower case.");
        assert!(told.contains(&(what, Some(name.to_lowercase()))), "{name}: {told:?}");
    }
    assert_eq!(refused("rows rooms from \"Rooms\"\n    sdc text one of A B C\nend"), []);
}

/// Every reading that the message about a percent gives is one that is taken.
#[test]
fn both_readings_of_a_percent_can_be_worked_with() {
    let book = |formula: &str| {
        format!(
            "rows rooms from \"Rooms\"\n    a number\n    p percent\n    s area\nend\nfor rooms\n    out = {formula}\nend"
        )
    };
    for formula in
        ["a + 10%", "10% + a", "a - p", "a + 2 + p", "p + a", "s + 10%", "s - p", "s * 2 - s + 12.5%", "p - s"]
    {
        let told = refused(&book(formula));
        let [(what, Some(fix))] = &told[..] else { panic!("{formula}: {told:?}") };
        assert!(what.contains("percent") || what.contains("part of"), "{what}");
        for reading in fix.split(", or ").filter(|r| !r.starts_with('\'')) {
            let reading = reading.split(" for ").next().unwrap();
            assert_eq!(refused(&book(reading)), [], "{formula}: {fix}");
        }
    }
}
