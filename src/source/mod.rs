//! Texts, and places in them: a line of a book and a cell of a sheet, one kind of place for both.

pub mod digest;
pub mod paths;
pub mod texts;

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

/// The text of a rule book, with its line starts.
#[derive(Debug)]
pub struct Text {
    /// The name that messages show, a file name or a built-in name.
    pub name: String,
    /// The whole text.
    pub text: String,
    starts: Vec<usize>,
}

impl Text {
    /// Wraps a text; carriage returns before line ends are kept out.
    #[must_use]
    pub fn new(name: impl Into<String>, text: &str) -> Arc<Self> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text).replace("\r\n", "\n");
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(i, _)| i + 1)).collect();
        Arc::new(Self { name: name.into(), text, starts })
    }

    /// Line number (from 1) of a byte offset.
    #[must_use]
    pub fn line(&self, offset: usize) -> usize {
        self.starts.partition_point(|s| *s <= offset)
    }

    /// The byte range of a line (from 1), without its line end.
    #[must_use]
    pub fn line_range(&self, line: usize) -> Range<usize> {
        let start = self.starts[line - 1];
        let end = self.starts.get(line).map_or(self.text.len(), |next| next - 1);
        start..end
    }

    /// How many lines it has.
    #[must_use]
    pub fn line_count(&self) -> usize {
        self.starts.len()
    }
}

/// Byte offsets in a [`Text`]: what a tree carries.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// From byte offsets; a book is limited to far less than 4 GiB.
    #[must_use]
    pub fn new(start: usize, end: usize) -> Self {
        Self { start: u32::try_from(start).unwrap_or(u32::MAX), end: u32::try_from(end).unwrap_or(u32::MAX) }
    }

    /// The smallest span that holds both.
    #[must_use]
    pub fn to(self, o: Self) -> Self {
        Self { start: self.start.min(o.start), end: self.end.max(o.end) }
    }

    /// As a range of bytes.
    #[must_use]
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }
}

/// A cell of a sheet, both counted from 0.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CellPlace {
    /// File name as the user gave it.
    pub file: Arc<str>,
    /// Sheet name; empty for a csv file.
    pub sheet: Arc<str>,
    /// Row, from 0.
    pub row: u32,
    /// Column, from 0; `None` for a whole row.
    pub column: Option<u16>,
}

impl CellPlace {
    /// The address as a spreadsheet shows it, `C14`, or `row 14`.
    #[must_use]
    pub fn address(&self) -> String {
        match self.column {
            Some(c) => format!("{}{}", column_letters(c), self.row + 1),
            None => format!("row {}", self.row + 1),
        }
    }
}

impl fmt::Display for CellPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.sheet.is_empty(), self.column) {
            (true, _) => write!(f, "{}, {}", self.file, self.address()),
            (false, Some(_)) => write!(f, "{}, {}!{}", self.file, self.sheet, self.address()),
            (false, None) => write!(f, "{}, {} {}", self.file, self.sheet, self.address()),
        }
    }
}

/// Column letters of a column counted from 0: `A`, `Z`, `AA`.
#[must_use]
pub fn column_letters(column: u16) -> String {
    let mut out = Vec::new();
    let mut n = u32::from(column) + 1;
    while n > 0 {
        n -= 1;
        out.push(b'A' + u8::try_from(n % 26).unwrap_or(0));
        n /= 26;
    }
    out.iter().rev().map(|b| *b as char).collect()
}

/// Where something is.
#[derive(Clone, Debug)]
pub enum Place {
    /// A part of a rule book.
    Book {
        /// The book's text.
        text: Arc<Text>,
        /// The part.
        span: Span,
    },
    /// A cell or row of a sheet.
    Cell(CellPlace),
    /// A whole file.
    File(Arc<str>),
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_follow_the_sheet() {
        assert_eq!(["A", "Z", "AA", "XFD"].map(str::to_owned), [0, 25, 26, 16383].map(column_letters));
    }

    #[test]
    fn lines_are_found_by_offset() {
        let t = Text::new("t", "one\r\ntwo\n\nfour");
        assert_eq!((t.line(0), t.line(3), t.line(4), t.line(9)), (1, 1, 2, 4));
        assert_eq!(&t.text[t.line_range(2)], "two");
    }
}
