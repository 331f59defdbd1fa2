//! A text as an editor has it, and the same text as it is read: places in the one for places in the other.
//!
//! An editor counts lines and, within them, units of UTF-16. A book is read without carriage returns and without the mark
//! at its beginning, and counts bytes.

use crate::notation::read_book;
use crate::notation::tree::Book;
use crate::problem::Problem;
use crate::source::{Span, Text};
use gen_lsp_types::{Position, Range};
use std::sync::{Arc, OnceLock};

/// The mark at the beginning of some files.
const MARK: char = '\u{feff}';

/// A text of a book with what is read from it. It is not changed: a change makes another.
#[derive(Debug)]
pub(super) struct Page {
    /// As the editor or the disk has it.
    raw: String,
    /// Where its lines begin.
    starts: Vec<usize>,
    /// As it is read.
    pub(super) text: Arc<Text>,
    /// Offsets in what is read before which a carriage return was left out.
    returns: Vec<usize>,
    tree: OnceLock<(Book, Vec<Problem>)>,
}

impl Page {
    /// A text by the name that messages show.
    pub(super) fn new(name: &str, raw: String) -> Arc<Self> {
        let text = Text::new(name, &raw);
        let from = if raw.starts_with(MARK) { MARK.len_utf8() } else { 0 };
        let returns = raw[from..].match_indices("\r\n").enumerate().map(|(before, (at, _))| at - before).collect();
        Arc::new(Self { starts: line_starts(&raw), raw, text, returns, tree: OnceLock::new() })
    }

    /// As the editor has it.
    pub(super) fn raw(&self) -> &str {
        &self.raw
    }

    /// The tree of what was understood, and every mistake.
    pub(super) fn tree(&self) -> &(Book, Vec<Problem>) {
        self.tree.get_or_init(|| read_book(&self.text))
    }

    /// The text with a part replaced; all of it where no part is named.
    pub(super) fn changed(&self, range: Option<Range>, by: &str) -> String {
        let Some(range) = range else { return by.to_owned() };
        let (a, b) = (self.raw_offset(range.start), self.raw_offset(range.end));
        let (a, b) = (a.min(b), a.max(b));
        [&self.raw[..a], by, &self.raw[b..]].concat()
    }

    /// The byte of what is read at a place of the editor's.
    pub(super) fn offset(&self, at: Position) -> usize {
        let raw = self.raw_offset(at).saturating_sub(self.mark());
        // each carriage return before it was left out
        let out = self.returns.iter().enumerate().take_while(|(before, r)| **r + before < raw).count();
        let mut offset = (raw - out).min(self.text.text.len());
        while !self.text.text.is_char_boundary(offset) {
            offset -= 1;
        }
        offset
    }

    /// The editor's place of a byte of what is read.
    pub(super) fn position(&self, offset: usize) -> Position {
        let raw = offset + self.mark() + self.returns.partition_point(|r| *r < offset);
        let raw = raw.min(self.raw.len());
        let line = self.starts.partition_point(|s| *s <= raw).saturating_sub(1);
        let before = self.raw.get(self.starts[line]..raw).unwrap_or("");
        Position::new(number(line), number(before.encode_utf16().count()))
    }

    /// The editor's range of a part of what is read.
    pub(super) fn range(&self, span: Span) -> Range {
        Range::new(self.position(span.start as usize), self.position(span.end as usize))
    }

    /// The end of a line of the editor's.
    pub(super) fn line_end(&self, line: u32) -> Position {
        self.position(self.offset(Position::new(line, u32::MAX)))
    }

    fn mark(&self) -> usize {
        if self.raw.starts_with(MARK) { MARK.len_utf8() } else { 0 }
    }

    /// A byte of the raw text: at the end of the line where a place lies beyond it, at a letter's beginning where it lies
    /// within one.
    fn raw_offset(&self, at: Position) -> usize {
        let Some(start) = self.starts.get(at.line as usize).copied() else { return self.raw.len() };
        let end = self.starts.get(at.line as usize + 1).copied().unwrap_or(self.raw.len());
        let line = self.raw[start..end].trim_end_matches(['\n', '\r']);
        let mut units = 0;
        for (i, c) in line.char_indices() {
            units += c.len_utf16();
            if units > at.character as usize {
                return start + i;
            }
        }
        start + line.len()
    }
}

/// Where lines begin: after a line feed, a carriage return, or both.
fn line_starts(raw: &str) -> Vec<usize> {
    let bytes = raw.as_bytes();
    let ends =
        (0..bytes.len()).filter(|i| bytes[*i] == b'\n' || (bytes[*i] == b'\r' && bytes.get(i + 1) != Some(&b'\n')));
    std::iter::once(0).chain(ends.map(|i| i + 1)).collect()
}

/// As the protocol counts; a text is shorter than 4 GiB by far.
fn number(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(page: &Page, line: u32, character: u32) -> &str {
        &page.text.text[page.offset(Position::new(line, character))..]
    }

    /// `⅝` and `×` are one unit each and three and two bytes; the emoji two units and four bytes.
    #[test]
    fn units_of_utf_16_and_bytes_are_kept_apart() {
        let page = Page::new("t", "a × ⅝\" 😀 b\nc".to_owned());
        assert_eq!(at(&page, 0, 2), "× ⅝\" 😀 b\nc");
        assert_eq!(at(&page, 0, 4), "⅝\" 😀 b\nc");
        assert_eq!(at(&page, 0, 7), "😀 b\nc");
        // within the emoji: its beginning
        assert_eq!(at(&page, 0, 8), "😀 b\nc");
        assert_eq!(at(&page, 0, 10), "b\nc");
        let b = page.text.text.find('b').unwrap();
        assert_eq!(page.position(b), Position::new(0, 10));
        // beyond the line its end, beyond the text its end
        assert_eq!((at(&page, 0, 99), at(&page, 9, 0)), ("\nc", ""));
    }

    #[test]
    fn what_is_left_out_in_reading_counts_for_the_editor() {
        let page = Page::new("t", "\u{feff}ab\r\n\r\ncd\rE\r\nf".to_owned());
        assert_eq!(page.text.text, "ab\n\ncd\rE\nf");
        // the mark is one unit of the first line; a carriage return alone ends a line of the editor's
        for (line, character, rest) in
            [(0, 2, "b\n\ncd\rE\nf"), (1, 0, "\ncd\rE\nf"), (2, 1, "d\rE\nf"), (3, 0, "E\nf"), (4, 0, "f")]
        {
            assert_eq!(at(&page, line, character), rest);
            let offset = page.text.text.len() - rest.len();
            assert_eq!(page.position(offset), Position::new(line, character), "{rest}");
        }
        let change = Range::new(Position::new(0, 3), Position::new(2, 1));
        assert_eq!(page.changed(Some(change), "+"), "\u{feff}ab+d\rE\r\nf");
    }
}
