//! Books that come with the program, and the layers that a book asks for with `use`.

use super::BookSource;
use crate::notation::read_book;
use crate::notation::tree::Part;
use crate::problem::{Problem, nearest::nearest};
use crate::source::Text;
use crate::source::digest::digest;
use std::borrow::Cow;
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

/// The file that a built-in book is said to stand in.
pub const FILE: &str = "built in";

/// The books that `use` finds: those of this version, or those that served on another day.
#[derive(Clone, Debug)]
pub struct Shelf {
    /// Names and texts; each may use those before it.
    books: Vec<(Cow<'static, str>, Cow<'static, str>)>,
}

impl Default for Shelf {
    /// The built-in books.
    fn default() -> Self {
        Self { books: BUILT_IN.iter().map(|b| (b.name.into(), b.text.into())).collect() }
    }
}

impl Shelf {
    /// Of books with their names, the lowest layer first; a built-in book that is not among them is not found.
    #[must_use]
    pub fn of_the_day(books: impl IntoIterator<Item = (String, String)>) -> Self {
        Self { books: books.into_iter().map(|(name, text)| (name.into(), text.into())).collect() }
    }

    /// The text of a book.
    #[must_use]
    pub fn text(&self, name: &str) -> Option<&str> {
        self.books.iter().find(|(n, _)| n == name).map(|(_, text)| &**text)
    }

    /// Reads a book and the books of the shelf that it uses, lowest layer first.
    #[must_use]
    pub fn with_layers(&self, text: &Arc<Text>, file: &str) -> (Vec<BookSource>, Vec<Problem>) {
        let mut layers = Vec::new();
        let mut problems = Vec::new();
        let (mut book, mut own) = read_book(text);
        let uses: Vec<_> = book
            .parts
            .iter()
            .filter_map(|p| if let Part::Use(name, span) = p { Some((name.clone(), *span)) } else { None })
            .collect();
        for (name, span) in uses {
            match self.books.iter().position(|(n, _)| n.eq_ignore_ascii_case(name.trim())) {
                Some(at) => self.add(at, &mut layers, &mut problems),
                None => {
                    // the book that was meant is read all the same, so that one slip costs one message
                    let meant = nearest(&name, self.books.iter().map(|(n, _)| &**n));
                    match meant.and_then(|meant| self.books.iter().position(|(n, _)| n == meant)) {
                        Some(at) => self.add(at, &mut layers, &mut problems),
                        None => book.lacking = true,
                    }
                    let near = meant.unwrap_or("hardlid trade");
                    let what = format!("No built-in book is called '{name}'.");
                    own.push(Problem::stop("unknown book", what).in_book(text, span).fix(format!("use \"{near}\"")));
                }
            }
        }
        problems.extend(own);
        layers.push(BookSource { book, file: file.to_owned(), digest: digest(text.text.as_bytes()) });
        (layers, problems)
    }

    /// A book of the shelf with those that it uses, lowest first.
    #[must_use]
    pub fn layers_of(&self, name: &str) -> (Vec<BookSource>, Vec<Problem>) {
        let (mut layers, mut problems) = (Vec::new(), Vec::new());
        if let Some(at) = self.books.iter().position(|(n, _)| n == name) {
            self.add(at, &mut layers, &mut problems);
        }
        (layers, problems)
    }

    fn add(&self, at: usize, layers: &mut Vec<BookSource>, problems: &mut Vec<Problem>) {
        let (name, text) = &self.books[at];
        let read = Text::new(name.as_ref(), text);
        let (book, own) = read_book(&read);
        for part in &book.parts {
            if let Part::Use(lower, _) = part
                && let Some(lower) = self.books.iter().take(at).position(|(n, _)| n == lower)
            {
                self.add(lower, layers, problems);
            }
        }
        if !layers.iter().any(|l| l.book.text.name == **name) {
            problems.extend(own);
            layers.push(BookSource { book, file: FILE.to_owned(), digest: digest(text.as_bytes()) });
        }
    }
}

/// Reads a book and the built-in books that it uses, lowest layer first.
#[must_use]
pub fn with_layers(text: &Arc<Text>, file: &str) -> (Vec<BookSource>, Vec<Problem>) {
    Shelf::default().with_layers(text, file)
}

/// A built-in book with those that it uses, lowest first.
#[must_use]
pub fn built_in(name: &str) -> (Vec<BookSource>, Vec<Problem>) {
    Shelf::default().layers_of(name)
}
