//! Books that come with the program, and the layers that a book asks for with `use`.

use super::schema::SheetUsed;
use super::{BookSource, editions};
use crate::notation::read_book;
use crate::notation::tree::{Book, Editions, FromSheet, Part, TableBlock, TableRow, UseLine};
use crate::problem::{Problem, nearest::nearest, ring_of};
use crate::source::Text;
use crate::source::digest::digest;
use crate::source::paths::{beside, ending};
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
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

    /// Reads a book with all that it uses, lowest layer first: books of the shelf by their names, and what stands beside it
    /// by paths. `file` is the book's own name, which those paths begin at.
    #[must_use]
    pub fn with_layers(&self, text: &Arc<Text>, file: &str, beside: &dyn Beside) -> (Vec<BookSource>, Vec<Problem>) {
        let mut stack = Stack::new(self, beside);
        stack.own(text, file);
        (stack.layers, stack.problems)
    }

    /// A book of the shelf with those that it uses, lowest first.
    #[must_use]
    pub fn layers_of(&self, name: &str) -> (Vec<BookSource>, Vec<Problem>) {
        let mut stack = Stack::new(self, &Alone);
        if let Some(at) = self.books.iter().position(|(n, _)| n == name) {
            stack.of_shelf(at);
        }
        (stack.layers, stack.problems)
    }
}

/// What stands beside a book: the books and workbooks that it names by their paths.
///
/// Paths are told from the folder of the uppermost book, with `/` between folders.
pub trait Beside {
    /// The text of a book.
    ///
    /// # Errors
    /// A book that is not there or cannot be read; its place is where it is named.
    fn book(&self, path: &str) -> Result<Arc<Text>, Problem>;

    /// The rows of a table that stand on a sheet of a workbook.
    ///
    /// # Errors
    /// A workbook that is not there or cannot be read; everything in it that is no row of the table. Problems without a place
    /// are told where the table names the sheet.
    fn rows(&self, path: &str, table: &TableBlock, from: &FromSheet) -> Result<Vec<TableRow>, Vec<Problem>>;

    /// SHA-256 of a workbook, in hex.
    fn digest(&self, path: &str) -> Option<String>;

    /// The one path of a file to which several lead: out of the uppermost book's folder and back into it.
    fn one_path(&self, path: String) -> String {
        path
    }

    /// The tree of a book with its mistakes, for those who have it already.
    fn tree(&self, text: &Arc<Text>) -> (Book, Vec<Problem>) {
        read_book(text)
    }

    /// As [`Beside::tree`], of a book of the shelf.
    fn tree_of_shelf(&self, name: &str, text: &str) -> (Book, Vec<Problem>) {
        read_book(&Text::new(name, text))
    }
}

/// Nothing beside a book: it stands alone, with the books of the shelf.
#[derive(Clone, Copy, Debug)]
pub struct Alone;

impl Alone {
    fn nothing(path: &str) -> Problem {
        Problem::stop("file not found", format!("Files beside this book are not at hand here, and so not {path}."))
    }
}

impl Beside for Alone {
    fn book(&self, path: &str) -> Result<Arc<Text>, Problem> {
        Err(Self::nothing(path))
    }

    fn rows(&self, path: &str, _: &TableBlock, _: &FromSheet) -> Result<Vec<TableRow>, Vec<Problem>> {
        Err(vec![Self::nothing(path)])
    }

    fn digest(&self, _: &str) -> Option<String> {
        None
    }
}

/// How a book's file ends.
pub const BOOK: &str = "lid";
/// How a workbook's file may end.
pub const WORKBOOKS: [&str; 6] = ["xlsx", "xlsm", "xlsb", "xls", "ods", "csv"];
/// Most books that one book may bring in, directly and through others.
pub const MOST_BOOKS: usize = 100;

/// Layers while they are put together.
struct Stack<'s> {
    shelf: &'s Shelf,
    beside: &'s dyn Beside,
    layers: Vec<BookSource>,
    problems: Vec<Problem>,
    /// Layers by what they are called where they are used: a name of the shelf, a path.
    known: BTreeMap<String, Option<usize>>,
    /// The paths of the books that are being read, each used by the one before it.
    reading: Vec<String>,
}

impl<'s> Stack<'s> {
    fn new(shelf: &'s Shelf, beside: &'s dyn Beside) -> Self {
        let (known, reading) = Default::default();
        Self { shelf, beside, layers: Vec::new(), problems: Vec::new(), known, reading }
    }

    /// A book of the house, whose path begins at the folder of the uppermost book; its layer.
    fn own(&mut self, text: &Arc<Text>, path: &str) -> usize {
        let (mut book, mut own) = self.beside.tree(text);
        self.reading.push(path.to_owned());
        let mut lacking = false;
        let mut lower = BTreeSet::new();
        for used in book.parts.iter().filter_map(|p| if let Part::Use(used) = p { Some(used) } else { None }) {
            match self.used(text, path, used) {
                Some(layer) => {
                    lower.insert(layer);
                    lower.extend(self.layers[layer].lower.iter().copied());
                    self.right_edition(text, used, layer);
                }
                None => lacking = true,
            }
        }
        self.reading.pop();
        book.lacking |= lacking;
        let mut sheets = Vec::new();
        if book.parts.iter().any(|p| matches!(p, Part::Table(table) if table.from_sheet.is_some())) {
            for part in Arc::make_mut(&mut book.parts) {
                if let Part::Table(table) = part {
                    own.extend(self.rows(text, path, table, &mut sheets));
                }
            }
        }
        self.problems.append(&mut own);
        let digest = digest(text.text.as_bytes());
        self.layers.push(BookSource { book, file: path.to_owned(), digest, lower, sheets });
        self.layers.len() - 1
    }

    /// The layer of a book that is used.
    fn used(&mut self, text: &Arc<Text>, path: &str, used: &UseLine) -> Option<usize> {
        if ending(&used.name) == BOOK {
            return self.by_path(text, path, used);
        }
        let name = used.name.trim();
        if let Some(at) = self.shelf.books.iter().position(|(n, _)| n.eq_ignore_ascii_case(name)) {
            return self.of_shelf(at);
        }
        let meant = nearest(name, self.shelf.books.iter().map(|(n, _)| &**n));
        let what = format!("No built-in book is called '{name}'.");
        let fix = match meant {
            Some(meant) => format!("use \"{meant}\""),
            None => "use \"hardlid trade\"; a book of your own is named by its file, use \"spans.lid\"".to_owned(),
        };
        self.problems.push(Problem::stop("unknown book", what).in_book(text, used.span).fix(fix));
        // the book that was meant is read all the same, so that one slip costs one message
        let at = self.shelf.books.iter().position(|(n, _)| Some(&**n) == meant)?;
        self.of_shelf(at)
    }

    fn by_path(&mut self, text: &Arc<Text>, path: &str, used: &UseLine) -> Option<usize> {
        let at = match beside(path, &used.name) {
            Ok(at) => self.beside.one_path(at),
            Err(why) => {
                self.problems.push(no_path(&used.name, why).in_book(text, used.span));
                return None;
            }
        };
        if let Some(begin) = self.reading.iter().position(|open| *open == at) {
            let ring: Vec<&str> = self.reading[begin..].iter().map(String::as_str).chain([at.as_str()]).collect();
            let what = match ring.as_slice() {
                [_, _] => format!("The book {at} uses itself."),
                ring => format!("These books use each other in a ring: {}.", ring_of(ring, "uses")),
            };
            let fix = "take this 'use' out; what both books need goes into a third that both use";
            self.problems.push(Problem::stop("books in a ring", what).in_book(text, used.span).fix(fix));
            return None;
        }
        if let Some(known) = self.known.get(&at) {
            return *known;
        }
        if self.known.len() >= MOST_BOOKS {
            let what = format!("A book brings in at most {MOST_BOOKS} others.");
            self.problems.push(Problem::stop("too many books", what).in_book(text, used.span));
            return None;
        }
        let layer = match self.beside.book(&at) {
            Ok(lower) => Some(self.own(&lower, &at)),
            Err(problem) => {
                self.problems.push(problem.in_book(text, used.span));
                None
            }
        };
        self.known.insert(at, layer);
        layer
    }

    /// A book of the shelf, which uses none but those before it.
    fn of_shelf(&mut self, at: usize) -> Option<usize> {
        let (name, text) = &self.shelf.books[at];
        if let Some(known) = self.known.get(&**name) {
            return *known;
        }
        let (book, own) = self.beside.tree_of_shelf(name, text);
        let mut lower = BTreeSet::new();
        for part in book.parts.iter() {
            if let Part::Use(used) = part
                && let Some(below) = self.shelf.books.iter().take(at).position(|(n, _)| *n == used.name)
                && let Some(layer) = self.of_shelf(below)
            {
                lower.insert(layer);
                lower.extend(self.layers[layer].lower.iter().copied());
            }
        }
        self.problems.extend(own);
        let digest = digest(text.as_bytes());
        self.layers.push(BookSource { book, file: FILE.to_owned(), digest, lower, sheets: Vec::new() });
        let layer = self.layers.len() - 1;
        self.known.insert(name.to_string(), Some(layer));
        Some(layer)
    }

    /// Holds a used book against the editions that will do.
    fn right_edition(&mut self, text: &Arc<Text>, used: &UseLine, layer: usize) {
        let Some((wanted, span)) = &used.editions else { return };
        let book = &self.layers[layer].book;
        if let Editions::Range(low, high) = wanted
            && editions::order(low, high).is_none_or(std::cmp::Ordering::is_gt)
        {
            let what = format!("No edition lies from {low} to {high}.");
            let fix = format!("edition from \"{high}\" to \"{low}\", or one of the two alone");
            return self.problems.push(Problem::stop("wrong edition", what).in_book(text, *span).fix(fix));
        }
        let words = editions::words(wanted);
        let has = match (book.edition.as_str(), editions::will_do(wanted, &book.edition)) {
            ("", _) => format!("the book {} states no edition", used.name),
            (_, Some(true)) => return,
            (edition, Some(false)) => format!("the book {} is edition {edition}", used.name),
            (edition, None) => {
                format!("the book {} is edition {edition}, which stands in no order with that", used.name)
            }
        };
        let problem = Problem::stop("wrong edition", format!("This asks for {words}; {has}."));
        let fix = match book.edition.as_str() {
            "" => {
                format!("bring the edition in place that is asked for, or let the first line of {} state it", used.name)
            }
            edition => format!(
                "bring the edition in place that is asked for, or edition \"{edition}\" here once you have seen what it changes"
            ),
        };
        self.problems.push(problem.in_book(text, *span).in_book(&book.text, book.head).fix(fix));
    }

    /// Puts a sheet's rows into a table that is read from one; with what is wrong.
    fn rows(&self, text: &Arc<Text>, path: &str, table: &mut TableBlock, sheets: &mut Vec<SheetUsed>) -> Vec<Problem> {
        let Some(from) = table.from_sheet.clone() else { return Vec::new() };
        let named =
            |problem: Problem| if problem.places.is_empty() { problem.in_book(text, from.span) } else { problem };
        if let Some(row) = table.rows.first() {
            let what = format!("The rows of the table {} stand on a sheet; here is one besides.", table.name.name);
            let fix = format!("take the rows out here, or 'from sheet \"{}\"' above", from.sheet);
            return vec![Problem::stop("rows in two places", what).in_book(text, row.span).fix(fix)];
        }
        let at = match beside(path, &from.path) {
            Ok(at) => self.beside.one_path(at),
            Err(why) => return vec![named(no_path(&from.path, why))],
        };
        if !WORKBOOKS.contains(&ending(&at).as_str()) {
            let what = format!("'{}' is no name of a workbook.", from.path);
            let fix = format!("a file that ends in .{}", WORKBOOKS.join(", ."));
            return vec![named(Problem::stop("not a workbook", what).fix(fix))];
        }
        match self.beside.rows(&at, table, &from) {
            Ok(rows) => {
                let digest = self.beside.digest(&at).unwrap_or_default();
                let name = table.name.name.clone();
                let sheet = rows.first().and_then(|r| r.on_sheet.as_ref()).map(|on| on.place.sheet.to_string());
                sheets.push(SheetUsed { table: name, sheet: sheet.unwrap_or(from.sheet), file: at, digest });
                table.rows = rows;
                Vec::new()
            }
            Err(problems) => problems.into_iter().map(named).collect(),
        }
    }
}

fn no_path(named: &str, why: &str) -> Problem {
    let what = format!("'{named}' is no path from this book: {why}.");
    Problem::stop("wrong path", what).fix("a path such as \"spans.lid\" or \"../standards/spans.xlsx\"")
}

/// Reads a book and the built-in books that it uses, lowest layer first.
#[must_use]
pub fn with_layers(text: &Arc<Text>, file: &str) -> (Vec<BookSource>, Vec<Problem>) {
    Shelf::default().with_layers(text, file, &Alone)
}

/// A built-in book with those that it uses, lowest first.
#[must_use]
pub fn built_in(name: &str) -> (Vec<BookSource>, Vec<Problem>) {
    Shelf::default().layers_of(name)
}
