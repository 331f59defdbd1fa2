//! How a figure of a bid came about, as a tree: what was worked out, from what, by which rule, down to the cells.
//!
//! Nothing is reckoned here. Values are read from the columns of the run and from the steps that its kernel worked through,
//! lines and costs from the priced job; formulas are quoted from the books.

mod ask;
mod calls;
mod fields;
mod lines;
mod rows;
mod say;
mod tell;
mod under;

pub use ask::{Asked, Entry, Listed, called_so_too, find, listed, row_named, rows_below};
pub use tell::{Answer, MOST_DEPTH, answer};
pub use under::name_option;

use crate::source::{Place, Span, Text};
use std::sync::Arc;

/// What a part of a telling is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// A formula.
    Formula,
    /// A cell that was read, or what stands for it.
    Cell,
    /// The option that a row stands under.
    Options,
    /// One of the options.
    Option,
    /// A call of a definition.
    Definition,
    /// A look-up.
    Table,
    /// Rows brought together.
    Together,
    /// One of them.
    Row,
    /// A check.
    Check,
    /// A line of the bid.
    Line,
    /// A figure of a line.
    Figure,
    /// A row of the price book.
    Price,
    /// What an estimator typed beside a line.
    Typed,
}

impl Sort {
    /// Its name for programs.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Formula => "formula",
            Self::Cell => "cell",
            Self::Options => "options",
            Self::Option => "option",
            Self::Definition => "definition",
            Self::Table => "table",
            Self::Together => "rows together",
            Self::Row => "row",
            Self::Check => "check",
            Self::Line => "line",
            Self::Figure => "figure",
            Self::Price => "price",
            Self::Typed => "typed by hand",
        }
    }
}

/// What a definition, table, formula, check or item stands in place of.
#[derive(Clone, Debug)]
pub struct InPlaceOf {
    /// Title and edition of the lower book.
    pub book: String,
    /// Where it stands there.
    pub place: Place,
}

/// A part of a telling, with the parts that it came about from.
#[derive(Clone, Debug)]
pub struct Told {
    /// What it is.
    pub sort: Sort,
    /// Its name in the book; empty where it has none.
    pub name: String,
    /// What people call it.
    pub label: String,
    /// The row that it is of, where that is not the one asked about.
    pub of: Option<String>,
    /// Its value as people read it; nothing where it has none.
    pub value: Option<String>,
    /// The whole value, where the text shows a rounded one.
    pub exact: Option<String>,
    /// What stands in the place of a value: `blank`, `no line`, `holds`.
    pub state: Option<&'static str>,
    /// Whether it should have a value and has none.
    pub faulty: bool,
    /// The rule, as the book has it.
    pub formula: Option<String>,
    /// The rule with values in the place of names, step by step.
    pub worked: Vec<String>,
    /// The line of the book, or the cell.
    pub place: Option<Place>,
    /// What it is, in the book's words.
    pub note: Option<String>,
    /// Where the rule comes from.
    pub source: Option<String>,
    /// What it stands in place of, the nearest layer first.
    pub instead_of: Vec<InPlaceOf>,
    /// What else there is to say: which choice was taken and why, which row of a table.
    pub says: Vec<String>,
    /// What it came about from.
    pub parts: Vec<Told>,
    /// Whether it was told before, and its parts are there.
    pub again: bool,
    /// Whether its parts lie deeper than was asked for.
    pub deeper: bool,
}

impl Told {
    /// One without anything but what it is and what it is called.
    fn new(sort: Sort, name: &str, label: &str) -> Self {
        Self {
            sort,
            name: name.to_owned(),
            label: label.to_owned(),
            of: None,
            value: None,
            exact: None,
            state: None,
            faulty: false,
            formula: None,
            worked: Vec::new(),
            place: None,
            note: None,
            source: None,
            instead_of: Vec::new(),
            says: Vec::new(),
            parts: Vec::new(),
            again: false,
            deeper: false,
        }
    }

    /// At a part of a book.
    fn in_book(mut self, text: &Arc<Text>, span: Span) -> Self {
        self.place = Some(Place::Book { text: Arc::clone(text), span });
        self
    }
}
