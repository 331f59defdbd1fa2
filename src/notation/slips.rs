//! Slips in the words that begin and end blocks: a misspelt one is read as what it was meant to be, so that the block below
//! it costs no messages of its own.

use super::reader::{Grammar, Rule};
use super::split::{BLOCKS, first_word_of};
use crate::problem::nearest::nearest;
use pest::Parser as _;
use std::ops::Range;

/// Words that begin a statement outside blocks.
pub(super) const KNOWN: [&str; 9] = ["book", "use", "units", "rows", "table", "define", "replace", "for", "example"];

/// A first line that is read as another one.
#[derive(Clone, Debug)]
pub struct Slip {
    /// What is wrong in it, from its start.
    pub at: Range<usize>,
    /// What is said.
    pub what: String,
    /// What would be right.
    pub fix: String,
    /// What the statement is read as, up to where it goes on as it is written.
    pub read: String,
    /// Where it goes on as it is written, from its start.
    pub rest: usize,
}

/// The first line of a statement outside blocks that begins with no word of the notation, as what it was meant to be;
/// whether an `end` comes before another block begins.
pub(super) fn meant(line: &str, ended: bool) -> Option<Slip> {
    let word = leading(line);
    if word == "replace" {
        return replaced(line, ended);
    }
    let what = format!("A statement outside a block does not begin with '{}'.", begins_with(line));
    let put = |near: &str, fix: String| Slip {
        at: 0..begins_with(line).len(),
        what: what.clone(),
        fix,
        read: near.to_owned(),
        rest: word.len(),
    };
    let near = nearest(word, KNOWN).map(|near| put(near, format!("'{near}'")));
    let near = near.filter(|slip| ended || !BLOCKS.contains(&first_word_of(&read_as(slip, line))));
    if near.as_ref().is_some_and(|slip| is_read(&read_as(slip, line))) {
        return near;
    }
    let lacking = ["rows", "example", "define"].into_iter().filter(|first| ended || *first == "define");
    let lacking = lacking.map(|first| Slip { rest: 0, ..put(&format!("{first} "), format!("{first} {line}")) });
    // `rows x` alone reads as well, and says nothing
    lacking.into_iter().find(|slip| line.contains('"') | line.contains('(') && is_read(&read_as(slip, line))).or(near)
}

/// `replace` before what is not replaced, or before a misspelt word.
fn replaced(line: &str, ended: bool) -> Option<Slip> {
    let at = line.len() - line["replace".len()..].trim_start().len();
    let after = &line[at..];
    let second = leading(after);
    let taken_out = |fix: &str| Slip {
        at: 0..at + second.len(),
        what: format!("'replace' does not stand before '{second}'."),
        fix: fix.to_owned(),
        read: String::new(),
        rest: at,
    };
    match second {
        "define" | "table" => None,
        "rows" if ended => Some(taken_out("leave out 'replace': columns are added to those of lower books")),
        "example" if ended => Some(taken_out("leave out 'replace'")),
        "for" if ended => {
            Some(taken_out("leave out 'replace' here, and write it before the line in the block that is replaced"))
        }
        _ => {
            let near = nearest(second, ["define", "table"]).filter(|near| ended || *near == "define")?;
            Some(Slip {
                at: at..at + second.len(),
                what: format!("Nothing called '{second}' is replaced here."),
                fix: format!("'replace {near}'"),
                read: format!("replace {near}"),
                rest: at + second.len(),
            })
        }
    }
}

/// A statement as it is read.
pub(super) fn read_as(slip: &Slip, statement: &str) -> String {
    format!("{}{}", slip.read, statement.get(slip.rest..).unwrap_or(""))
}

/// Whether a statement outside blocks is understood.
pub(super) fn is_read(statement: &str) -> bool {
    let rule = match first_word_of(statement) {
        "book" => Rule::book_line,
        "use" => Rule::use_line,
        "units" => Rule::units_line,
        "rows" => Rule::rows_head,
        "table" => Rule::table_head,
        "for" => Rule::for_head,
        "example" => Rule::example_head,
        _ => Rule::define_line,
    };
    !super::reader::too_deep(statement) && Grammar::parse(rule, statement).is_ok()
}

/// The word that a line begins with.
fn leading(line: &str) -> &str {
    line.split(|c: char| !(c.is_alphanumeric() || c == '_')).next().unwrap_or("")
}

/// The word that a line begins with, or its first sign.
pub(super) fn begins_with(line: &str) -> &str {
    match leading(line) {
        "" => line.get(..line.chars().next().map_or(0, char::len_utf8)).unwrap_or(""),
        word => word,
    }
}

/// Whether a line that is not `end` was meant to be: another case, a sign or the block's word after it, or, where it does
/// not stand deeper than the block's first line, a misspelling that stands alone.
pub(super) fn ends_block(line: &str, outermost: bool) -> bool {
    let word = leading(line);
    let rest = line[word.len()..].trim();
    if word.eq_ignore_ascii_case("end") {
        return rest.chars().all(|c| ";.:,".contains(c)) || (outermost && BLOCKS.contains(&rest));
    }
    outermost && rest.is_empty() && word.len() > 1 && nearest(word, ["end"]).is_some() && word.len() <= 4
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reads(line: &str, ended: bool) -> Option<String> {
        meant(line, ended).map(|slip| read_as(&slip, line))
    }

    #[test]
    fn a_misspelt_word_reads_as_the_one_that_was_meant() {
        for (line, wanted) in [
            ("tabel x \"X\"", "table x \"X\""),
            ("rwos rooms from \"Rooms\"", "rows rooms from \"Rooms\""),
            ("fro rooms", "for rooms"),
            ("For rooms", "for rooms"),
            ("exmaple \"x\"", "example \"x\""),
            ("rooms from \"Rooms\"", "rows rooms from \"Rooms\""),
            ("replac table x", "replace table x"),
            ("replace tabel x", "replace table x"),
            ("replace example \"x\"", "example \"x\""),
            ("replace rows rooms", "rows rooms"),
        ] {
            assert_eq!(reads(line, true).as_deref(), Some(wanted), "{line}");
        }
        // a block's word needs an 'end' below it
        assert_eq!(reads("fro rooms", false), None);
        assert_eq!(reads("ues \"hardlid trade\"", false).as_deref(), Some("use \"hardlid trade\""));
        assert_eq!(reads("zebra", true), None);
    }

    #[test]
    fn an_end_that_is_not_one() {
        for line in ["End", "END", "end;", "end table", "ned", "endd"] {
            assert!(ends_block(line, true), "{line}");
        }
        assert!(ends_block("End", false) && !ends_block("ned", false));
        for line in ["end length", "end = 3", "rooms", "end | 3", "e", "add"] {
            assert!(!ends_block(line, true), "{line}");
        }
    }
}
