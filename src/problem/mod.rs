//! One value for "something is wrong": what, where, both sides, what would be right.

pub mod nearest;
pub mod render;

use crate::source::{CellPlace, Place, Span, Text};
use std::fmt;
use std::sync::Arc;

/// How much a problem holds up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Weight {
    /// Worth knowing.
    Note,
    /// Worth a look before the bid goes out.
    Warning,
    /// The row has no price, or the book does not run, until it is dealt with.
    Stop,
}

impl fmt::Display for Weight {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Stop => "stop",
        })
    }
}

/// A marked part of a text with a word on what it is.
#[derive(Clone, Debug)]
pub struct Mark {
    /// The part.
    pub span: Span,
    /// What it is, "a length"; may be empty.
    pub says: String,
}

/// Something that is wrong, or worth knowing.
#[derive(Clone, Debug)]
pub struct Problem {
    /// The stable name of its kind, in words: `unknown name`.
    pub kind: &'static str,
    /// How much it holds up.
    pub weight: Weight,
    /// A sentence that stands alone.
    pub what: String,
    /// Where; the same problem in many rows has many places.
    pub places: Vec<Place>,
    /// Marked parts of the first place, when that is a book.
    pub marks: Vec<Mark>,
    /// What stands in the cell, as typed.
    pub found: Option<String>,
    /// How the figure came about that it speaks of, a line for each figure, those that led to one further in.
    pub working: Vec<String>,
    /// What would be right.
    pub fix: Option<String>,
}

impl Problem {
    /// A problem that stops.
    #[must_use]
    pub fn stop(kind: &'static str, what: impl Into<String>) -> Self {
        Self {
            kind,
            weight: Weight::Stop,
            what: what.into(),
            places: Vec::new(),
            marks: Vec::new(),
            found: None,
            working: Vec::new(),
            fix: None,
        }
    }

    /// A problem that warns.
    #[must_use]
    pub fn warning(kind: &'static str, what: impl Into<String>) -> Self {
        Self { weight: Weight::Warning, ..Self::stop(kind, what) }
    }

    /// Something worth knowing.
    #[must_use]
    pub fn note(kind: &'static str, what: impl Into<String>) -> Self {
        Self { weight: Weight::Note, ..Self::stop(kind, what) }
    }

    /// At a part of a book.
    #[must_use]
    pub fn in_book(mut self, text: &Arc<Text>, span: Span) -> Self {
        self.places.push(Place::Book { text: Arc::clone(text), span });
        self
    }

    /// At a cell.
    #[must_use]
    pub fn at_cell(mut self, cell: CellPlace) -> Self {
        self.places.push(Place::Cell(cell));
        self
    }

    /// In a file as a whole.
    #[must_use]
    pub fn in_file(mut self, file: impl Into<Arc<str>>) -> Self {
        self.places.push(Place::File(file.into()));
        self
    }

    /// Marks a part, with a word on what it is.
    #[must_use]
    pub fn mark(mut self, span: Span, says: impl Into<String>) -> Self {
        self.marks.push(Mark { span, says: says.into() });
        self
    }

    /// What stands in the cell.
    #[must_use]
    pub fn found(mut self, text: impl Into<String>) -> Self {
        self.found = Some(text.into());
        self
    }

    /// What would be right.
    #[must_use]
    pub fn fix(mut self, text: impl Into<String>) -> Self {
        self.fix = Some(text.into());
        self
    }
}

/// Sorts by place in the source, so that a book's problems read from the top.
pub fn in_source_order(problems: &mut [Problem]) {
    problems.sort_by_key(|p| match p.places.first() {
        Some(Place::Book { text, span }) => (0, text.name.clone(), span.start),
        Some(Place::Cell(c)) => (1, format!("{}{}", c.file, c.sheet), c.row),
        Some(Place::File(f)) => (2, f.to_string(), 0),
        None => (3, String::new(), 0),
    });
}

/// Most names of a ring that are told one by one.
const RING_TOLD: usize = 12;

/// The names of a ring, each leading to the next and the last being the first: `a needs b needs a`. Of a long one the
/// beginning and the end are told.
#[must_use]
pub fn ring_of<T: AsRef<str>>(names: &[T], leads: &str) -> String {
    let between = format!(" {leads} ");
    let joined = |part: &[T]| part.iter().map(AsRef::as_ref).collect::<Vec<_>>().join(&between);
    if names.len() <= RING_TOLD + 1 {
        return joined(names);
    }
    let (first, last) = (&names[..RING_TOLD / 2], &names[names.len() - RING_TOLD / 2..]);
    let left_out = names.len() - first.len() - last.len();
    format!("{}{between}… ({left_out} more){between}{}", joined(first), joined(last))
}
