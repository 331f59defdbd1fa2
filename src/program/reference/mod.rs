//! Every word that a book can use, each from the one place where it is declared.
//!
//! `hardlid words` tells of them, `grammar/REFERENCE.md` is the page of all of them.

mod own;
pub mod page;
pub mod textmate;

use super::{Program, builtin, library, types::TYPES};
use crate::notation::statements::STATEMENTS;
use crate::notation::tree::{Define, Expr, Node, Part, Replaces, TableBlock};
use crate::quantity::unit::UNITS;
use crate::source::{Span, Text};
use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

/// What kind of word it is, in the order in which they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    /// Functions of a company's book.
    OwnFunctions,
    /// Tables of a company's book.
    OwnTables,
    /// Ways to build a row.
    Options,
    /// Columns that are read.
    Columns,
    /// What is worked out.
    Formulas,
    /// What should hold.
    Checks,
    /// What is bought.
    Items,
    /// What is done.
    Labor,
    /// Functions of the built-in books.
    TradeFunctions,
    /// Tables of the built-in books.
    TradeTables,
    /// Native functions.
    NativeFunctions,
    /// Functions of the language.
    LanguageFunctions,
    /// Statements, clauses, values.
    Statements,
    /// Types.
    Types,
    /// Units.
    Units,
}

impl Family {
    /// Its heading.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            Self::OwnFunctions => "Functions of this book",
            Self::OwnTables => "Tables of this book",
            Self::Options => "Options",
            Self::Columns => "Columns that are read",
            Self::Formulas => "What is worked out",
            Self::Checks => "Checks",
            Self::Items => "Items",
            Self::Labor => "Labor",
            Self::TradeFunctions => "Functions of the trade",
            Self::TradeTables => "Tables of the trade",
            Self::NativeFunctions => "Functions of geometry and cutting",
            Self::LanguageFunctions => "Functions of the language",
            Self::Statements => "Statements",
            Self::Types => "Types",
            Self::Units => "Units",
        }
    }

    /// Whether its words belong to rows of a book.
    #[must_use]
    pub fn of_rows(self) -> bool {
        matches!(self, Self::Options | Self::Columns | Self::Formulas | Self::Checks | Self::Items | Self::Labor)
    }
}

/// What a function or table takes.
#[derive(Clone, Debug)]
pub struct Argument {
    /// Its name.
    pub name: String,
    /// Its type, or what it takes in words.
    pub takes: String,
    /// What serves when it is left out, where it may be.
    pub left_out: Option<String>,
}

/// An example: an expression and what it gives.
#[derive(Clone, Debug)]
pub struct Shown {
    /// The expression, or the name of something worked out.
    pub expression: String,
    /// What it gives.
    pub gives: String,
    /// The example of the book whose rows it is about, where it is about rows.
    pub within: Option<String>,
}

/// One word that a book can use.
#[derive(Clone, Debug)]
pub struct Word {
    /// What it is looked up by.
    pub name: String,
    /// Other names of the same.
    pub others: Vec<String>,
    /// What kind of word it is.
    pub family: Family,
    /// How it is written.
    pub form: String,
    /// One sentence.
    pub summary: String,
    /// More, where there is more to say.
    pub details: String,
    /// What it takes, in order.
    pub takes: Vec<Argument>,
    /// What it gives: a type, or in words; empty for what gives nothing.
    pub gives: String,
    /// Where its figures or its rule come from.
    pub source: Option<String>,
    /// The book that states it, and the line.
    pub stated: Option<(String, usize)>,
    /// The edition of the notation that brought it.
    pub since: Option<&'static str>,
    /// Examples that hold.
    pub examples: Vec<Shown>,
    /// What is refused, and why.
    pub refused: Option<(String, String)>,
    /// A whole book that uses it.
    pub book: Option<&'static str>,
    /// Whether the uppermost book states it.
    pub uppermost: bool,
}

impl Word {
    fn plain(name: &str, family: Family, form: String, summary: &str) -> Self {
        Self {
            name: name.to_owned(),
            others: Vec::new(),
            family,
            form,
            summary: summary.to_owned(),
            details: String::new(),
            takes: Vec::new(),
            gives: String::new(),
            source: None,
            stated: None,
            since: None,
            examples: Vec::new(),
            refused: None,
            book: None,
            uppermost: false,
        }
    }

    /// Whether it goes by a name.
    #[must_use]
    pub fn is_called(&self, name: &str) -> bool {
        self.name == name || self.others.iter().any(|n| n == name)
    }

    /// All its names.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.name.as_str()).chain(self.others.iter().map(String::as_str))
    }
}

/// Every word of a program: its books', and the language's own.
#[must_use]
pub fn words(program: &Program) -> Vec<Word> {
    let mut out = language();
    out.extend(program.natives.iter().copied().flatten().map(native));
    let mut seen = BTreeSet::new();
    // a book states its words in its own order; what replaces one of a lower book stands in its place
    for book in program.books.iter().rev() {
        for part in book.parts.iter() {
            let word = match part {
                Part::Define(define) => define_word(define, &book.text, program),
                // rows that stand in place of others are no word
                Part::Table(table) if table.replaces == Replaces::Rows => continue,
                Part::Table(table) => table_word(table, &book.text, program),
                _ => continue,
            };
            if seen.insert(word.name.clone()) {
                out.push(word);
            }
        }
    }
    out.extend(own::of_rows(program));
    out.sort_by_key(|w| w.family);
    out
}

fn language() -> Vec<Word> {
    let mut out = Vec::new();
    for record in builtin::all() {
        let argument = |p: &builtin::BuiltInParameter| Argument {
            name: p.name.to_owned(),
            takes: p.takes.to_owned(),
            left_out: p.optional.then(String::new),
        };
        out.push(Word {
            details: record.details.to_owned(),
            takes: record.parameters.iter().map(argument).collect(),
            gives: record.gives.to_owned(),
            since: Some(record.since),
            examples: shown(record.examples),
            refused: refused(record.refused),
            ..Word::plain(record.name, Family::LanguageFunctions, record.signature.to_owned(), record.summary)
        });
    }
    for statement in STATEMENTS {
        let form = statement.form.to_owned();
        out.push(Word {
            book: Some(statement.example),
            ..Word::plain(statement.name, Family::Statements, form, statement.summary)
        });
    }
    for (name, _, summary) in TYPES {
        out.push(Word::plain(name, Family::Types, (*name).to_owned(), summary));
    }
    for (kind, summary) in super::native::THINGS {
        out.push(Word::plain(kind.0, Family::Types, kind.0.to_owned(), summary));
    }
    for unit in UNITS {
        out.push(Word {
            others: unit.names[1..].iter().map(|n| (*n).to_owned()).collect(),
            gives: unit.dimension.words(),
            examples: shown(&[(unit.example, "yes")]),
            ..Word::plain(unit.names[0], Family::Units, format!("12 {}", unit.names[0]), unit.summary)
        });
    }
    out
}

fn shown(examples: &[(&str, &str)]) -> Vec<Shown> {
    let one = |(expression, gives): &(&str, &str)| Shown {
        expression: (*expression).to_owned(),
        gives: (*gives).to_owned(),
        within: None,
    };
    examples.iter().map(one).collect()
}

fn refused((expression, why): (&str, &str)) -> Option<(String, String)> {
    Some((expression.to_owned(), why.to_owned()))
}

fn native(record: &super::native::Native) -> Word {
    let argument = |p: &super::native::NativeParameter| Argument {
        name: p.name.to_owned(),
        takes: p.words(),
        left_out: p.optional.then(String::new),
    };
    Word {
        details: record.details.to_owned(),
        takes: record.parameters.iter().map(argument).collect(),
        gives: super::native::type_name(record.result),
        since: Some(record.since),
        examples: shown(record.examples),
        refused: refused(record.refused),
        ..Word::plain(record.name, Family::NativeFunctions, record.signature(), record.summary)
    }
}

/// The text of a part of a book, in one line.
#[must_use]
pub fn in_a_line(text: &Text, span: Span) -> String {
    let place = bracketed(&text.text, span.range());
    own::without_remarks(text.text.get(place).unwrap_or("")).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The place of an expression, widened by the brackets that belong to its first and last part: the place of `(a + b) * c`
/// begins at `a`.
fn bracketed(text: &str, mut place: Range<usize>) -> Range<usize> {
    let (mut open, mut unopened) = (0_usize, 0_usize);
    for c in text.get(place.clone()).unwrap_or_default().chars() {
        match c {
            '(' => open += 1,
            ')' if open == 0 => unopened += 1,
            ')' => open -= 1,
            _ => {}
        }
    }
    for _ in 0..unopened {
        place.start = text.get(..place.start).and_then(|t| t.rfind('(')).unwrap_or(place.start);
    }
    for _ in 0..open {
        let rest = text.get(place.end..).and_then(|t| t.find(')'));
        place.end += rest.map_or(0, |at| at + 1);
    }
    place
}

/// Whether a book is one of ours.
fn is_built_in(text: &Text) -> bool {
    library::BUILT_IN.iter().any(|b| b.name == text.name)
}

/// Where something stands, and whether that is the uppermost book.
fn stated(text: &Arc<Text>, span: Span, program: &Program) -> (Option<(String, usize)>, bool) {
    let uppermost = program.books.last().is_some_and(|b| Arc::ptr_eq(&b.text, text));
    (Some((text.name.clone(), text.line(span.start as usize))), uppermost)
}

fn left_out(text: &Text, default: Option<&Expr>) -> Option<String> {
    let written = in_a_line(text, default?.span);
    Some(written.trim_start_matches("otherwise").trim().to_owned())
}

fn form_of(name: &str, takes: &[Argument], gives: &str) -> String {
    let one = |a: &Argument| {
        let otherwise = a.left_out.as_ref().map(|d| format!(" otherwise {d}")).unwrap_or_default();
        format!("{}: {}{otherwise}", a.name, a.takes)
    };
    format!("{name}({}) {gives}", takes.iter().map(one).collect::<Vec<_>>().join(", "))
}

fn define_word(define: &Define, text: &Arc<Text>, program: &Program) -> Word {
    let name = define.name.name.as_str();
    let takes: Vec<Argument> = define
        .parameters
        .iter()
        .map(|p| Argument {
            name: p.name.name.clone(),
            takes: p.ty.text.clone(),
            left_out: left_out(text, p.default.as_ref()),
        })
        .collect();
    let family = if is_built_in(text) { Family::TradeFunctions } else { Family::OwnFunctions };
    let (stated, uppermost) = stated(text, define.name.span, program);
    Word {
        details: format!("= {}", in_a_line(text, define.body.span)),
        gives: define.ty.text.clone(),
        source: define.source.clone(),
        stated,
        examples: examples_of(&[name.to_owned()], program),
        uppermost,
        ..Word::plain(name, family, form_of(name, &takes, &define.ty.text), define.note.as_deref().unwrap_or_default())
    }
    .taking(takes)
}

fn table_word(table: &TableBlock, text: &Arc<Text>, program: &Program) -> Word {
    let names = super::tables::function_names(table);
    let takes: Vec<Argument> = table
        .columns
        .iter()
        .filter_map(|c| {
            let how = super::tables::match_words(c.how?);
            Some(Argument {
                name: c.name.name.clone(),
                takes: format!("{}, {how}", c.ty.text),
                left_out: left_out(text, c.default.as_ref()),
            })
        })
        .collect();
    let results = table.columns.iter().filter(|c| c.how.is_none());
    let forms: Vec<String> = names.iter().zip(results.clone()).map(|(n, c)| form_of(n, &takes, &c.ty.text)).collect();
    let family = if is_built_in(text) { Family::TradeTables } else { Family::OwnTables };
    let (stated, uppermost) = stated(text, table.name.span, program);
    let rows = table.rows.len();
    let rows = if rows == 1 { "1 row".to_owned() } else { format!("{rows} rows") };
    let on =
        table.from_sheet.as_ref().map(|from| format!(" on sheet {} of {}", from.sheet, from.path)).unwrap_or_default();
    let name = table.name.name.as_str();
    Word {
        others: names.iter().filter(|n| *n != name).cloned().collect(),
        details: format!("{rows}{on}; a value that no row serves is a fault, never a guess."),
        gives: results.map(|c| c.ty.text.as_str()).collect::<Vec<_>>().join(", "),
        source: table.source.clone(),
        stated,
        examples: examples_of(&names, program),
        uppermost,
        ..Word::plain(name, family, forms.join("\n"), table.title.as_deref().unwrap_or_default())
    }
    .taking(takes)
}

impl Word {
    fn taking(self, takes: Vec<Argument>) -> Self {
        Self { takes, ..self }
    }
}

/// How many examples of the books are told of one word.
const EXAMPLES: usize = 3;

/// Lines of the books' own examples that call one of some functions: alone, else within something else.
fn examples_of(names: &[String], program: &Program) -> Vec<Shown> {
    let called = |e: &Expr| matches!(&e.node, Node::Call { name, .. } if names.contains(&name.name));
    own::shows(program, called, EXAMPLES)
}

#[cfg(test)]
mod tests {
    use super::bracketed;

    #[test]
    fn a_formula_is_told_with_its_brackets() {
        for (text, part, whole) in [
            ("= a * (b + c)\n", "a * (b + c", "a * (b + c)"),
            ("= (a + b) * c\n", "a + b) * c", "(a + b) * c"),
            ("= ((a + b) * c) / (d - (e + f)) when x", "a + b) * c) / (d - (e + f", "((a + b) * c) / (d - (e + f))"),
            ("= a + b", "a + b", "a + b"),
        ] {
            let from = text.find(part).unwrap();
            assert_eq!(&text[bracketed(text, from..from + part.len())], whole);
        }
    }
}
