//! How a rule book is colored: a TextMate grammar, as editors and web pages read them, from the words of the notation.
//!
//! A word is a word of the notation only where it can stand, so there is a scope for each kind of block and, in blocks of
//! formulas, for each statement. A statement goes on over the lines that are indented deeper than its first.

use super::{Family, Word};
use crate::notation::keywords::{first_words_of, lines, words_of};
use crate::notation::split::{BLOCKS, OUTSIDE};
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;

/// A name, as books write them.
const NAME: &str = "[A-Za-z][A-Za-z0-9_]*";
/// A text; a quote that follows a digit is an inch mark, and begins none.
const TEXT: &str = r#""(?:[^"\\]|\\.)*""#;
/// The inches of a length.
const INCHES: &str = r#"(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*[½¼¾⅛⅜⅝⅞]|[0-9]+(?:\.[0-9]+)?)["″”]"#;
/// Rules whose words are those of values, wherever these stand.
const VALUES: &[&str] = &["expr", "either", "both", "sum", "primary", "shown"];

/// The grammar as JSON, with the functions and tables among some words.
#[must_use]
pub fn textmate(words: &[Word]) -> Value {
    let mut rules = Map::new();
    rules.insert("comment".to_owned(), json!({ "name": "comment.line.double-dash.lid", "match": "--.*$" }));
    rules.insert("text".to_owned(), text());
    rules.insert("value".to_owned(), json!({ "patterns": values() }));
    rules.insert("expression".to_owned(), json!({ "patterns": expression(words) }));
    rules.insert("outside".to_owned(), json!({ "patterns": outside() }));
    rules.insert("rows".to_owned(), rows());
    rules.insert("table".to_owned(), table());
    rules.insert("for".to_owned(), formulas());
    rules.insert("example".to_owned(), example());
    let includes: Vec<Value> = ["comment", "rows", "table", "for", "example", "outside"].map(include).into();
    json!({
        "$comment": "Made by: hardlid words --textmate",
        "name": "hardlid rule book",
        "scopeName": "source.lid",
        "fileTypes": ["lid"],
        "patterns": includes,
        "repository": rules,
    })
}

fn include(name: &str) -> Value {
    json!({ "include": format!("#{name}") })
}

fn matching(scope: &str, pattern: &str) -> Value {
    json!({ "name": format!("{scope}.lid"), "match": pattern })
}

/// Captures by their numbers, each with its scope.
fn captures(scopes: &[&str]) -> Value {
    let named = (1..).zip(scopes).filter(|(_, scope)| !scope.is_empty());
    Value::Object(named.map(|(i, scope)| (i.to_string(), json!({ "name": format!("{scope}.lid") }))).collect())
}

fn capturing(pattern: &str, scopes: &[&str]) -> Value {
    json!({ "match": pattern, "captures": captures(scopes) })
}

/// Alternatives, the longer ones first, so that none is cut short by its own beginning.
fn any_of<'w>(words: impl IntoIterator<Item = &'w str>) -> String {
    let mut all: Vec<&str> = words.into_iter().collect::<BTreeSet<_>>().into_iter().collect();
    all.sort_by_key(|w| std::cmp::Reverse(w.len()));
    all.join("|")
}

fn text() -> Value {
    json!({
        "name": "string.quoted.double.lid",
        "begin": r#"(?<![0-9½¼¾⅛⅜⅝⅞])""#,
        "end": r#""|$"#,
        "patterns": [
            matching("constant.character.escape", r"\\."),
            matching("variable.other.placeholder", r"\{[^{}\x22]*\}"),
        ],
    })
}

/// Units as books may write them: their spellings with another sign than letters are for headings, and words that may follow
/// a value are none.
fn unit() -> String {
    let names = crate::quantity::unit::UNITS.iter().flat_map(|u| u.names).copied();
    let never = words_of("stop", &[]);
    let names = any_of(names.filter(|n| n.bytes().all(|b| b.is_ascii_alphabetic()) && !never.contains(n)));
    let part = format!(r"(?:\$|1|(?:{names})(?:\^?[2-6]|[²³⁴])?)");
    format!("(?:{part}(?:[/·]{part})*)(?![A-Za-z0-9_])")
}

/// A type: a word, or a unit that begins with none of its numbers.
fn type_name() -> String {
    let words = crate::program::types::TYPES.iter().map(|(name, ..)| *name);
    let things = crate::program::native::THINGS.iter().map(|(kind, _)| kind.0);
    format!("(?:(?:{})(?![A-Za-z0-9_/])|{})", any_of(words.chain(things)), unit())
}

fn values() -> Vec<Value> {
    let unit = unit();
    let gauge = any_of(words_of("ga", &[]));
    let yes_no = any_of(words_of("yes", &[]).union(&words_of("no", &[])).copied());
    let with_unit = format!(r"\b((?:[0-9]+[ -])?[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?)\s*({unit})");
    vec![
        matching("constant.numeric.date", r"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b"),
        matching("constant.numeric.length", &format!(r"\b[0-9]+(?:\.[0-9]+)?['′’](?:-{INCHES})?|{INCHES}")),
        capturing(
            &format!(r"(\$[0-9]+(?:,[0-9]{{3}})*(?:\.[0-9]+)?)(?:[/·]({unit}))?"),
            &["constant.numeric.money", "keyword.other.unit"],
        ),
        matching("constant.numeric.percent", r"\b[0-9]+(?:\.[0-9]+)? ?%"),
        capturing(
            &format!(r"\b([0-9]+(?:\.[0-9]+)?)\s+((?:{gauge})(?:\s+(?:wire|sheet))?)\b"),
            &["constant.numeric.gauge", "keyword.other.unit"],
        ),
        capturing(&with_unit, &["constant.numeric.quantity", "keyword.other.unit"]),
        matching("constant.numeric.number", r"\b[0-9]+(?:\.[0-9]+)?\b"),
        matching("constant.language.yes-no", &format!(r"\b(?:{yes_no})\b")),
    ]
}

fn expression(words: &[Word]) -> Vec<Value> {
    let functions = words.iter().filter(|w| {
        use Family::{LanguageFunctions, NativeFunctions, OwnFunctions, OwnTables, TradeFunctions, TradeTables};
        matches!(
            w.family,
            OwnFunctions | OwnTables | TradeFunctions | TradeTables | NativeFunctions | LanguageFunctions
        )
    });
    let functions = any_of(functions.flat_map(Word::names));
    let how = any_of(words_of("how", &[]));
    let joining = any_of(words_of("expr", &["how"]));
    let mut out = vec![
        matching("keyword.other.aggregate", &format!(r"\b(?:{how})(?=\s+of\b)")),
        matching("support.function", &format!(r"\b(?:{functions})(?=\s*\()")),
        matching("variable.parameter", &format!(r"\b{NAME}(?=\s*:)")),
        matching("keyword.operator.word", &format!(r"\b(?:{joining})\b")),
        matching("entity.name.function.call", &format!(r"\b{NAME}(?=\s*\()")),
    ];
    out.push(include("value"));
    out.push(matching("variable.other", &format!(r"\b{NAME}\b")));
    out.push(matching("keyword.operator", r"<=|>=|[-+*/^=<>×÷−≤≥≠]"));
    out
}

/// Clauses of a rule: their words, and `source` with a word of its own. A word that stands twice is what the clause says the
/// second time, as in `height height`.
fn clauses(rules: &[&str]) -> Vec<Value> {
    let words: BTreeSet<&str> = rules.iter().flat_map(|r| words_of(r, VALUES)).filter(|w| *w != "replace").collect();
    let words = any_of(words);
    vec![
        capturing(&format!(r"\b(source)\s+({NAME})\b"), &["keyword.other.clause", "string.unquoted"]),
        capturing(
            &format!(r"\b(shown)\s+(in)\s+({})", unit()),
            &["keyword.other.clause", "keyword.other.clause", "keyword.other.unit"],
        ),
        capturing(&format!(r"\b({words})\s+(\1)\b"), &["keyword.other.clause", "variable.other"]),
        matching("keyword.other.clause", &format!(r"\b(?:{words})\b")),
    ]
}

/// What ends a block: its `end`, or another block that begins where it did.
fn end_of_block() -> String {
    let begins = any_of(BLOCKS.into_iter().chain(OUTSIDE));
    format!(r"^\s*(end)\s*$|^\1(?=(?:{begins})\b)")
}

/// A block from its first line, whose captures after the indent are `scopes`.
fn block(first: &str, scopes: &[&str], patterns: Vec<Value>) -> Value {
    let mut all = vec![include("comment"), include("text")];
    all.extend(patterns);
    let scopes: Vec<&str> = std::iter::once(&"").chain(scopes).copied().collect();
    json!({
        "begin": format!(r"^(\s*){first}"),
        "beginCaptures": captures(&scopes),
        "end": end_of_block(),
        "endCaptures": captures(&["keyword.control"]),
        "patterns": all,
    })
}

/// A statement from its first words to the line that is not indented deeper.
fn statement(first: &str, scopes: &[&str], patterns: Vec<Value>) -> Value {
    let mut all = vec![include("comment"), include("text")];
    all.extend(patterns);
    let scopes: Vec<&str> = std::iter::once(&"").chain(scopes).copied().collect();
    json!({
        "begin": format!(r"^(\s*){first}"),
        "beginCaptures": captures(&scopes),
        "end": r"^(?!\1\s+\S)",
        "patterns": all,
    })
}

const REPLACE: &str = r"(?:(replace)\s+)?";

fn outside() -> Vec<Value> {
    let mut out = Vec::new();
    for line in ["book_line", "use_line", "units_line"] {
        let first = any_of(first_words_of(line));
        out.push(statement(&format!(r"({first})\b"), &["keyword.control"], clauses(&[line])));
    }
    let ty = type_name();
    let mut patterns = vec![
        capturing(
            &format!(r"\b({NAME})\s+({ty})(?=\s*(?:[,)]|otherwise\b|$))"),
            &["variable.parameter", "storage.type"],
        ),
        capturing(&format!(r"(?<=\))\s*({ty})(?=\s*(?:=|$))"), &["storage.type"]),
    ];
    patterns.extend(clauses(&["source", "accepted"]));
    patterns.push(include("expression"));
    let first = any_of(first_words_of("define_line"));
    let scopes = ["keyword.control", "keyword.control", "entity.name.function"];
    out.push(statement(&format!(r"{REPLACE}({first})\s+({NAME})"), &scopes, patterns));
    out
}

fn rows() -> Value {
    let first = any_of(first_words_of("rows_head"));
    let field = format!(r"^\s+({NAME})\s+({})(?=[\s,]|$)", type_name());
    let mut patterns = vec![capturing(&field, &["variable.other.declaration", "storage.type"])];
    patterns.extend(clauses(&["rows_head", "field_line"]));
    patterns.push(include("value"));
    block(&format!(r"({first})\s+({NAME})"), &["keyword.control", "entity.name.type"], patterns)
}

fn table() -> Value {
    let first = any_of(first_words_of("table_head"));
    let column = format!(r"(?:^\s*|(?<=\|)\s*)({NAME})\s+({})(?=\s*(?:[,|]|$))", type_name());
    let mut patterns = vec![capturing(&column, &["variable.parameter", "storage.type"])];
    patterns.extend(clauses(&["table_head", "table_columns"]));
    patterns.push(include("value"));
    patterns.push(matching("punctuation.separator.column", r"\|"));
    let control = "keyword.control";
    let scopes = [control, control, control, control, "entity.name.function"];
    let replace = r"(?:(replace)\s+(?:(rows)\s+(of)\s+)?)?";
    block(&format!(r"{replace}({first})\s+({NAME})"), &scopes, patterns)
}

/// Statements of a block of formulas: rules of the grammar that begin with a word of their own.
fn in_formulas() -> impl Iterator<Item = &'static str> {
    lines().filter(|line| line.ends_with("_line") && !NOT_IN_FORMULAS.contains(line))
}

/// Rules that read lines outside blocks, in other blocks, or an expression alone; and formulas, which begin with no word.
const NOT_IN_FORMULAS: &[&str] = &[
    "book_line",
    "units_line",
    "use_line",
    "define_line",
    "field_line",
    "formula_line",
    "shows_line",
    "row_line",
    "expr_line",
];

fn formulas() -> Value {
    let mut patterns = Vec::new();
    let body = |line: &str| {
        let mut all = clauses(&[line]);
        all.push(include("expression"));
        all
    };
    // a formula may be called by any word, so it is known by its '='
    let formula = format!(r"{REPLACE}({NAME})(?=\s*(?:{TEXT}\s*)?(?:=|$))");
    let scopes = ["keyword.control", "variable.other.declaration"];
    patterns.push(statement(&formula, &scopes, body("formula_line")));
    for line in in_formulas() {
        let first = any_of(first_words_of(line));
        // what has a name of its own is declared by it; the others are told by their clauses
        let named = matches!(line, "check_line" | "item_line" | "options_line");
        let name = if named { format!(r"\s+({NAME})") } else { String::new() };
        let scopes = ["keyword.control", "keyword.control", "variable.other.declaration"];
        patterns.push(statement(&format!(r"{REPLACE}({first})\b{name}"), &scopes, body(line)));
    }
    let first = any_of(first_words_of("for_head"));
    block(&format!(r"({first})\s+({NAME})"), &["keyword.control", "entity.name.type"], patterns)
}

fn example() -> Value {
    let first = any_of(first_words_of("example_head"));
    let shows = any_of(first_words_of("shows_line"));
    let patterns = vec![
        statement(&format!(r"({shows})\b"), &["keyword.control"], vec![include("expression")]),
        capturing(&format!(r"^\s+({NAME})(?=\s|$)"), &["entity.name.type"]),
        include("value"),
    ];
    block(&format!(r"({first})\b"), &["keyword.control"], patterns)
}
