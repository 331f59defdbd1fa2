//! Books that are tried together: those on the shelf, and the one that is looked at.

use super::dice::Dice;

/// What a line of a corpus file begins with that names the next book; the book that is looked at comes last.
const MARK: &str = "==== ";

/// Some books.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Case {
    /// Names and texts of the books that may be used, lowest first.
    pub shelf: Vec<(String, String)>,
    /// The book that is looked at.
    pub top: String,
}

impl Case {
    /// A case of one book.
    pub fn of(top: impl Into<String>) -> Self {
        Self { shelf: Vec::new(), top: top.into() }
    }

    /// As it stands in a file.
    pub fn written(&self) -> String {
        let mut out: String = self.shelf.iter().map(|(name, text)| format!("{MARK}{name}\n{text}\n")).collect();
        if !out.is_empty() {
            out += MARK;
            out.push('\n');
        }
        out + &self.top
    }

    /// From how it stands in a file.
    pub fn read(text: &str) -> Self {
        let Some(rest) = text.strip_prefix(MARK) else { return Self::of(text) };
        let mut books: Vec<(String, String)> = rest
            .split(&format!("\n{MARK}"))
            .map(|book| book.split_once('\n').unwrap_or((book, "")))
            .map(|(name, text)| (name.to_owned(), text.to_owned()))
            .collect();
        let top = books.pop().map(|(_, text)| text).unwrap_or_default();
        Self { shelf: books, top }
    }

    /// A number that is the same for the same books.
    pub fn number(&self) -> u64 {
        self.written().bytes().fold(0xCBF2_9CE4_8422_2325, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01B3))
    }

    /// Dice that roll the same for the same books.
    pub fn dice(&self) -> Dice {
        Dice(self.number())
    }
}
