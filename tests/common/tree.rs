//! The tree of a book in words, for tests that it stays the same.

use hardlid::notation::read_book;
use hardlid::notation::tree::{Book, ForLine, Part};
use hardlid::problem::Weight;
use hardlid::source::Text;

/// A tree in words, without places; `None` when the book has mistakes.
pub fn tree(text: &str) -> Option<String> {
    let (book, problems) = read_book(&Text::new("the book", text));
    let stops = problems.iter().any(|p| p.weight == Weight::Stop);
    (!stops).then(|| {
        let head = (&book.title, &book.edition, book.metric);
        format!("{head:?} {} {:?}", without_places(&format!("{:?}", book.parts)), messages(&book))
    })
}

/// A debug print without its spans, in lines that end where one stood. A print in many lines would take time by the square of its depth.
fn without_places(printed: &str) -> String {
    let mut parts = printed.split("Span { start: ");
    let before = parts.next().unwrap_or_default().to_owned();
    parts.fold(before, |out, rest| {
        let figures = |c: char| c.is_ascii_digit() || ", end:".contains(c);
        out + "\n" + rest.trim_start_matches(figures)
    })
}

/// Messages of checks, of which the tree holds the places alone.
fn messages(book: &Book) -> Vec<&str> {
    let lines = book.parts.iter().filter_map(|p| if let Part::For(_, lines) = p { Some(lines) } else { None });
    let checks = lines.flatten().filter_map(|l| if let ForLine::Check(check) = l { Some(check) } else { None });
    checks.flat_map(|c| &c.message).map(|span| book.text.text[span.range()].trim()).collect()
}
