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
        format!("{head:?} {} {:?}", without_places(&format!("{:#?}", book.parts)), messages(&book))
    })
}

/// A debug print without the lines of its spans.
fn without_places(printed: &str) -> String {
    let place = |line: &&str| {
        let line = line.trim();
        let number = |rest: Option<&str>| rest.is_some_and(|r| r.trim_end_matches(',').parse::<u32>().is_ok());
        number(line.strip_prefix("start: ")) || number(line.strip_prefix("end: "))
    };
    printed.lines().filter(|line| !place(line)).collect::<Vec<_>>().join("\n")
}

/// Messages of checks, of which the tree holds the places alone.
fn messages(book: &Book) -> Vec<&str> {
    let lines = book.parts.iter().filter_map(|p| if let Part::For(_, lines) = p { Some(lines) } else { None });
    let checks = lines.flatten().filter_map(|l| if let ForLine::Check(check) = l { Some(check) } else { None });
    checks.flat_map(|c| &c.message).map(|span| book.text.text[span.range()].trim()).collect()
}
