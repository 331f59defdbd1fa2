//! Books that come with the program, and the layers that a book asks for with `use`.

use super::BookSource;
use crate::notation::read_book;
use crate::notation::tree::Part;
use crate::problem::{Problem, nearest::nearest};
use crate::source::Text;
use std::sync::Arc;

/// A built-in book: its name for `use`, and its text.
#[derive(Debug)]
pub struct BuiltInBook {
    /// The name.
    pub name: &'static str,
    /// The text.
    pub text: &'static str,
    /// One sentence.
    pub summary: &'static str,
}

/// The built-in books; each may use those before it.
pub const BUILT_IN: &[BuiltInBook] = &[
    BuiltInBook {
        name: "hardlid loads",
        text: include_str!("../../grammar/loads.lid"),
        summary: "What steel, wire and board weigh, carry and reach; no rows.",
    },
    BuiltInBook {
        name: "hardlid board",
        text: include_str!("../../grammar/board.lid"),
        summary: "Board and finish: screws, tape, compound, sheets, control joints; no rows.",
    },
    BuiltInBook {
        name: "hardlid trade",
        text: include_str!("../../grammar/trade.lid"),
        summary: "Functions and tables of the ceiling trade, with those of loads and board; no rows.",
    },
    BuiltInBook {
        name: "hardlid ceilings",
        text: include_str!("../../grammar/ceilings.lid"),
        summary: "Rooms, openings and soffits with their takeoff, for jobs without rules of their own.",
    },
];

/// Reads a book and the built-in books that it uses, lowest layer first.
///
/// `digest` gives the digest of a text.
#[must_use]
pub fn with_layers(text: &Arc<Text>, file: &str, digest: &dyn Fn(&str) -> String) -> (Vec<BookSource>, Vec<Problem>) {
    let mut layers = Vec::new();
    let mut problems = Vec::new();
    let (book, mut own) = read_book(text);
    let uses: Vec<_> = book
        .parts
        .iter()
        .filter_map(|p| if let Part::Use(name, span) = p { Some((name.clone(), *span)) } else { None })
        .collect();
    for (name, span) in uses {
        match BUILT_IN.iter().find(|b| b.name.eq_ignore_ascii_case(name.trim())) {
            Some(b) => add_built_in(b, &mut layers, &mut problems, digest),
            None => {
                let near = nearest(&name, BUILT_IN.iter().map(|b| b.name)).unwrap_or("hardlid trade");
                let what = format!("No built-in book is called '{name}'.");
                own.push(Problem::stop("unknown book", what).in_book(text, span).fix(format!("use \"{near}\"")));
            }
        }
    }
    problems.extend(own);
    layers.push(BookSource { book, file: file.to_owned(), digest: digest(&text.text) });
    (layers, problems)
}

/// A built-in book with those that it uses, lowest first.
#[must_use]
pub fn built_in(name: &str, digest: &dyn Fn(&str) -> String) -> (Vec<BookSource>, Vec<Problem>) {
    let (mut layers, mut problems) = (Vec::new(), Vec::new());
    if let Some(b) = BUILT_IN.iter().find(|b| b.name == name) {
        add_built_in(b, &mut layers, &mut problems, digest);
    }
    (layers, problems)
}

fn add_built_in(
    b: &BuiltInBook,
    layers: &mut Vec<BookSource>,
    problems: &mut Vec<Problem>,
    digest: &dyn Fn(&str) -> String,
) {
    let text = Text::new(b.name, b.text);
    let (book, own) = read_book(&text);
    for part in &book.parts {
        if let Part::Use(name, _) = part
            && let Some(lower) = BUILT_IN.iter().take_while(|x| x.name != b.name).find(|x| x.name == name)
        {
            add_built_in(lower, layers, problems, digest);
        }
    }
    if !layers.iter().any(|l| l.book.text.name == b.name) {
        problems.extend(own);
        layers.push(BookSource { book, file: "built in".to_owned(), digest: digest(b.text) });
    }
}
