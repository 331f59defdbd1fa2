//! Books that come with the program, and the layers that a book asks for with `use`.

use super::BookSource;
use crate::notation::parse::uses;
use crate::notation::read_book;
use crate::notation::tree::{Book, Part};
use crate::problem::{Problem, nearest::nearest};
use crate::source::digest::digest;
use crate::source::{Span, Text};
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

/// The books that `use` finds: those of this version and files of the house, or those that served on another day.
#[derive(Clone, Debug)]
pub struct Shelf {
    /// Names and texts; each may use those before it.
    books: Vec<(Cow<'static, str>, Cow<'static, str>)>,
    /// Files of the house that cannot serve, by name, with why.
    missing: Vec<(String, Problem)>,
}

/// How the name of a file ends, as against that of a built-in book.
const FILE_END: &str = ".lid";
/// How many files a book may use, with those that they use.
const MOST_FILES: usize = 1_000;

/// Whether `use` takes a name for that of a file of the house.
#[must_use]
pub fn is_file(name: &str) -> bool {
    name.len() > FILE_END.len() && name.ends_with(FILE_END)
}

/// The name of a file that a book uses, from the folder of the uppermost book: `lower.lid`, said in `std/upper.lid`, is
/// `std/lower.lid`. Nothing for a path from the root of a disk: books are moved together.
#[must_use]
pub fn beside(book: &str, name: &str) -> Option<String> {
    let name = name.trim();
    if name.starts_with(['/', '\\']) || name.contains(':') {
        return None;
    }
    let folders = book.rsplit_once('/').map_or("", |(folders, _)| folders);
    let mut out: Vec<&str> = Vec::new();
    for part in folders.split('/').chain(name.split('/')) {
        match part {
            "" | "." => {}
            ".." if out.last().is_some_and(|last| *last != "..") => {
                out.pop();
            }
            part => out.push(part),
        }
    }
    Some(out.join("/"))
}

impl Default for Shelf {
    /// The built-in books.
    fn default() -> Self {
        Self { books: BUILT_IN.iter().map(|b| (b.name.into(), b.text.into())).collect(), missing: Vec::new() }
    }
}

impl Shelf {
    /// Of books with their names, the lowest layer first; a built-in book that is not among them is not found.
    #[must_use]
    pub fn of_the_day(books: impl IntoIterator<Item = (String, String)>) -> Self {
        Self { books: books.into_iter().map(|(name, text)| (name.into(), text.into())).collect(), missing: Vec::new() }
    }

    /// With the files that a book uses, and those that they use: `read` gives the text of one by its name from the
    /// folder of the book.
    #[must_use]
    pub fn with_files_of(mut self, book: &Arc<Text>, read: &mut dyn FnMut(&str) -> Result<String, Problem>) -> Self {
        self.files_of(book, &mut vec![book.name.clone()], read);
        self
    }

    /// `open` are the books that are being read, the uppermost first.
    fn files_of(
        &mut self,
        book: &Arc<Text>,
        open: &mut Vec<String>,
        read: &mut dyn FnMut(&str) -> Result<String, Problem>,
    ) {
        for (said, _) in uses(book).into_iter().filter(|(name, _)| is_file(name)) {
            let Some(name) = beside(&book.name, &said) else {
                let what = format!("'{said}' is a path from the root of a disk; books are moved together.");
                let fix = "use \"standards/house.lid\", from the folder of this book";
                self.missing.push((said, Problem::stop("unknown book", what).fix(fix)));
                continue;
            };
            if let Some(at) = open.iter().position(|o| *o == name) {
                let ring = open[at..].iter().chain([&name]).map(String::as_str).collect::<Vec<_>>().join(" uses ");
                let what = format!("These books use each other in a ring: {ring}.");
                let fix = "let one of them do without the other";
                self.missing.push((name, Problem::stop("books in a ring", what).fix(fix)));
                continue;
            }
            if self.find(&name, self.books.len()).is_some() || self.missing.iter().any(|(n, _)| *n == name) {
                continue;
            }
            let files = self.books.iter().filter(|(n, _)| is_file(n)).count();
            if files + open.len() > MOST_FILES {
                let what = format!("A book uses {MOST_FILES} files at most, with those that they use.");
                self.missing.push((name, Problem::stop("too many books", what)));
                continue;
            }
            match read(&name) {
                Ok(text) => {
                    let text = Text::new(name.as_str(), &text);
                    open.push(name);
                    self.files_of(&text, open, read);
                    self.books.extend(open.pop().map(|name| (name.into(), text.text.clone().into())));
                }
                Err(problem) => self.missing.push((name, problem)),
            }
        }
    }

    /// The place of a book among the first ones.
    fn find(&self, name: &str, among: usize) -> Option<usize> {
        self.books.iter().take(among).position(|(n, _)| n.eq_ignore_ascii_case(name.trim()))
    }

    /// The text of a book.
    #[must_use]
    pub fn text(&self, name: &str) -> Option<&str> {
        self.books.iter().find(|(n, _)| n == name).map(|(_, text)| &**text)
    }

    /// The files of the house, by their names, each before those that use it.
    pub fn files(&self) -> impl Iterator<Item = (&str, &str)> {
        self.books.iter().filter(|(n, _)| is_file(n)).map(|(name, text)| (&**name, &**text))
    }

    /// Reads a book and the books of the shelf that it uses, lowest layer first.
    #[must_use]
    pub fn with_layers(&self, text: &Arc<Text>, file: &str) -> (Vec<BookSource>, Vec<Problem>) {
        let mut layers = Vec::new();
        let mut problems = Vec::new();
        let (book, own) = read_book(text);
        self.lower(&book, self.books.len(), &mut layers, &mut problems);
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

    /// The books that a book uses, of the first ones of the shelf.
    fn lower(&self, book: &Book, among: usize, layers: &mut Vec<BookSource>, problems: &mut Vec<Problem>) {
        for part in &book.parts {
            let Part::Use(said, span) = part else { continue };
            let name = if is_file(said) { beside(&book.text.name, said) } else { Some(said.clone()) };
            let name = name.as_ref().unwrap_or(said);
            match self.find(name, among) {
                Some(at) => self.add(at, layers, problems),
                None => problems.push(self.not_found(name, said, &book.text, *span)),
            }
        }
    }

    /// Why a book that is used is not there.
    fn not_found(&self, name: &str, said: &str, text: &Arc<Text>, span: Span) -> Problem {
        if let Some((_, why)) = self.missing.iter().find(|(n, _)| n == name) {
            return Problem { places: Vec::new(), ..why.clone() }.in_book(text, span);
        }
        if is_file(said) {
            let what = format!("There is no file {name} that this book could use.");
            return Problem::stop("unknown book", what).in_book(text, span).fix("check the name and the folder");
        }
        let names = self.books.iter().map(|(n, _)| &**n).filter(|n| !is_file(n));
        let near = nearest(said, names).unwrap_or("hardlid trade");
        let what = format!("No built-in book is called '{said}'.");
        Problem::stop("unknown book", what).in_book(text, span).fix(format!("use \"{near}\""))
    }

    fn add(&self, at: usize, layers: &mut Vec<BookSource>, problems: &mut Vec<Problem>) {
        let (name, text) = &self.books[at];
        if layers.iter().any(|l| l.book.text.name == **name) {
            return;
        }
        let read = Text::new(name.as_ref(), text);
        let (book, own) = read_book(&read);
        self.lower(&book, at, layers, problems);
        problems.extend(own);
        let file = if is_file(name) { name.to_string() } else { FILE.to_owned() };
        layers.push(BookSource { book, file, digest: digest(text.as_bytes()) });
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
