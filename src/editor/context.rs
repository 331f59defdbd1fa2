//! Where in a book a place stands, by its words alone: a statement that is just being written is in no tree.

use super::meaning::{Meaning, Said};
use super::server::View;
use crate::notation::split::split;
use crate::source::{Span, Text};
use std::ops::Range;
use std::sync::Arc;

/// The block that a place stands in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Block {
    /// None.
    Outside,
    /// `rows`, `for`, `table` or `example`, with the word after it; of an example the kind of its first row.
    In(&'static str, String),
}

/// Words that begin a block.
const BLOCKS: [&str; 4] = ["rows", "for", "table", "example"];
/// Words that end one that has no `end`.
const OUTSIDE: [&str; 5] = ["book", "use", "units", "define", "replace"];

fn is_letter(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// The words of a line, before its remark.
fn words(line: &str) -> impl Iterator<Item = &str> {
    line.split("--").next().unwrap_or("").split(|c: char| !is_letter(c)).filter(|w| !w.is_empty())
}

/// The block around a place.
pub(super) fn block_at(text: &Text, offset: usize) -> Block {
    let mut block = Block::Outside;
    for number in 1..text.line(offset) {
        let line = &text.text[text.line_range(number)];
        let mut said = words(line).skip_while(|w| *w == "replace");
        let first = said.next().unwrap_or("");
        let outermost = !line.starts_with([' ', '\t']);
        if line.trim() == "end" {
            block = Block::Outside;
        } else if let Some(word) = BLOCKS.iter().find(|w| **w == first).filter(|_| outermost) {
            block =
                Block::In(word, if *word == "example" { String::new() } else { said.next().unwrap_or("").to_owned() });
        } else if outermost && OUTSIDE.contains(&words(line).next().unwrap_or("")) {
            block = Block::Outside;
        } else if let Block::In("example", rows) = &mut block
            && rows.is_empty()
            && !matches!(first, "" | "shows")
        {
            first.clone_into(rows);
        }
    }
    block
}

/// What of a statement stands before a place in it; nothing at the beginning of one.
pub(super) fn before(text: &Arc<Text>, offset: usize) -> &str {
    let line = text.line_range(text.line(offset));
    let (sections, _) = split(text);
    let statements = sections.iter().flat_map(|s| std::iter::once(&s.head).chain(s.body.iter().flatten()));
    let blank = |range: &Range<usize>| text.text.get(range.end..offset).is_none_or(|gap| !gap.contains('\n'));
    let found = statements.filter(|s| s.start < offset && !s.is_empty()).rfind(|s| offset <= s.end || blank(s));
    let start = found.map_or(line.start, |s| s.start).min(offset);
    text.text.get(start..offset).unwrap_or("").trim_start()
}

/// The whole statement around a place.
pub(super) fn statement(text: &Arc<Text>, span: Span) -> Span {
    let (sections, _) = split(text);
    let mut statements = sections.iter().flat_map(|s| std::iter::once(&s.head).chain(s.body.iter().flatten()));
    let holds = |s: &&Range<usize>| s.start <= span.start as usize && span.end as usize <= s.end;
    statements.find(holds).map_or(span, |s| Span::new(s.start, s.end))
}

/// What a place in a statement is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Inside<'t> {
    /// Words of the notation and names.
    Words,
    /// A text, of which so much is written.
    Text(&'t str),
    /// A remark.
    Remark,
}

/// What the end of a part of a statement is in.
pub(super) fn inside(before: &str) -> Inside<'_> {
    let mut at = Inside::Words;
    let mut last = ' ';
    let mut chars = before.char_indices();
    while let Some((i, c)) = chars.next() {
        match (at, c) {
            (_, '\n') => at = Inside::Words,
            (Inside::Text(_), '\\') => drop(chars.next()),
            (Inside::Text(_), '"') => at = Inside::Words,
            // a quote right after a digit is an inch mark
            (Inside::Words, '"') if !(last.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(last)) => {
                at = Inside::Text(&before[i + 1..]);
            }
            (Inside::Words, '-') if before[i..].starts_with("--") => at = Inside::Remark,
            _ => {}
        }
        last = c;
    }
    at
}

/// A bracket that is open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Bracket {
    /// The word before it.
    pub(super) of: String,
    /// Whether that word is a kind of rows that are brought together.
    pub(super) rows: bool,
    /// Arguments that are named in it.
    pub(super) named: Vec<String>,
}

/// The brackets that are open at the end of a part of a statement, outermost first.
pub(super) fn brackets(before: &str) -> Vec<Bracket> {
    let mut open: Vec<Bracket> = Vec::new();
    for (at, c) in before.char_indices() {
        if !"():".contains(c) || inside(&before[..at]) != Inside::Words {
            continue;
        }
        let spoken = before[..at].trim_end();
        let start = spoken
            .rfind(|c: char| !is_letter(c))
            .map_or(0, |i| i + spoken[i..].chars().next().map_or(1, char::len_utf8));
        let word = spoken[start..].to_owned();
        match c {
            '(' => {
                let rows = spoken[..start].trim_end().ends_with(" of") && before[..at].ends_with(char::is_whitespace);
                open.push(Bracket { of: word, rows, named: Vec::new() });
            }
            ')' => drop(open.pop()),
            _ => open.iter_mut().next_back().into_iter().for_each(|b| b.named.push(word.clone())),
        }
    }
    open
}

/// The word at a byte, or the one that ends there.
pub(super) fn word_at(text: &Text, offset: usize) -> Option<Span> {
    let before = text.text.get(..offset)?;
    let start =
        before.rfind(|c: char| !is_letter(c)).map_or(0, |i| i + before[i..].chars().next().map_or(1, char::len_utf8));
    let after = text.text.get(offset..)?;
    let end = offset + after.find(|c: char| !is_letter(c)).unwrap_or(after.len());
    (start < end).then(|| Span::new(start, end))
}

/// What stands at a byte of the uppermost book: by its tree, else by its word and the block it is in.
pub(super) fn meaning_at(view: &View, offset: usize) -> Option<Said> {
    let top = view.pile.top();
    let meanings = view.meanings();
    if let Some(said) = meanings.at(top, offset) {
        return Some(said.clone());
    }
    let text = &view.pile.layers.get(top)?.page.text;
    let line = text.line_range(text.line(offset));
    if inside(text.text.get(line.start..offset)?) != Inside::Words {
        return None;
    }
    let span = word_at(text, offset)?;
    let word = text.text.get(span.range())?;
    let called = text.text[span.end as usize..].starts_with('(');
    let rows = match block_at(text, offset) {
        Block::In("for" | "example", rows) => Some(rows),
        _ => None,
    };
    let field = || rows.and_then(|rows| meanings.field(&rows, word));
    let kind = || meanings.kinds.contains_key(word).then(|| Meaning::Rows(word.to_owned()));
    let meaning = if called { meanings.function(word) } else { field().or_else(kind) }?;
    Some(Said { meaning, span, declares: false })
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOOK: &str = "book \"B\"\nrows rooms  from \"Rooms\"\n    id text\nend\nfor rooms\n    a  =  1\n    b  =  a +\n\nexample \"e\"\n    rooms  id \"1\"\n    shows  a = 1\nend\n";

    /// Where a mark stands, which is not part of the text.
    fn marked(text: &str) -> (Arc<Text>, usize) {
        let at = text.find('^').unwrap();
        (Text::new("t", &text.replacen('^', "", 1)), at)
    }

    #[test]
    fn a_place_knows_its_block_and_statement() {
        let text = Text::new("t", BOOK);
        let at = |part: &str| BOOK.find(part).unwrap();
        assert_eq!(block_at(&text, at("book")), Block::Outside);
        assert_eq!(block_at(&text, at("id text")), Block::In("rows", "rooms".to_owned()));
        assert_eq!(block_at(&text, at("b  =")), Block::In("for", "rooms".to_owned()));
        assert_eq!(block_at(&text, at("rooms  id")), Block::In("example", String::new()));
        assert_eq!(block_at(&text, at("shows")), Block::In("example", "rooms".to_owned()));
        assert_eq!(block_at(&text, BOOK.len()), Block::Outside);
        for (book, wanted) in [
            ("for rooms\n    b  =  a + ^\n", "b  =  a + "),
            ("for rooms\n    b  =  a +\n        c^\n", "b  =  a +\n        c"),
            ("for rooms\n    b  =  a\n    ^\nend", ""),
            ("us^", "us"),
            ("use \"x\"\n^", ""),
        ] {
            let (text, at) = marked(book);
            assert_eq!(before(&text, at), wanted, "{book}");
        }
    }

    #[test]
    fn texts_remarks_and_inches_are_kept_apart() {
        assert_eq!(inside("a = 5\" + b"), Inside::Words);
        assert_eq!(inside("a = 5/8\" + \"b"), Inside::Text("b"));
        assert_eq!(inside("use \"hardlid tr"), Inside::Text("hardlid tr"));
        assert_eq!(inside("use \"x\" -- \"why"), Inside::Remark);
        assert_eq!(inside("a = b -- why\n c"), Inside::Words);
        assert_eq!(inside("a \"\\\" b"), Inside::Text("\\\" b"));
    }

    #[test]
    fn open_brackets_know_what_they_belong_to() {
        let one = |of: &str, rows: bool, named: &[&str]| Bracket {
            of: of.to_owned(),
            rows,
            named: named.iter().map(|n| (*n).to_owned()).collect(),
        };
        assert_eq!(brackets("a = f(x: 1, y: g(1) + "), [one("f", false, &["x", "y"])]);
        assert_eq!(brackets("a = sum of openings (long * f(w"), [one("openings", true, &[]), one("f", false, &[])]);
        assert!(brackets("a = f(1) + \"(\"").is_empty());
    }
}
