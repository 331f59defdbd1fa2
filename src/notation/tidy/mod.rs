//! The one layout of a rule book.
//!
//! Tidying changes space and line ends, and nothing else: words, their order and comments stay. It goes once over the book:
//!
//! 1. [`split`](super::split) finds the statements, as it does for reading. What stands between them is comments, empty lines
//!    and `end`; a comment that stands alone belongs to what follows it, one behind a statement to that statement.
//! 2. Each statement is parsed alone, and its pairs become tokens in groups (`tokens`, `doc`). What the grammar reads over,
//!    words of the notation and comments, is taken from the text between pairs; a comment stays before the token that it
//!    stood before, except that it never stands before a comma or between an operator and its operand.
//! 3. Groups become clauses and cells, by kind of statement (`statement`). Statements that stand together share columns
//!    (`columns`, `lay`): fields, items, formulas and their labels; all rows of a table, all lines of an example.
//! 4. Each statement is printed (`print`): on one line where it fits in [`WIDTH`] characters; else broken at its outermost
//!    group first, before an operator, after a comma, before a clause.
//! 5. Comments at the ends of lines that follow each other are set in one column.
//!
//! What is printed depends on tokens, groups and where comments stand among them, never on the spaces or lines of the
//! original, and printing keeps all of these: so a tidied book tidied again is the same text. In the end the result is read
//! again and compared; were it to mean something else, it would be refused.

mod columns;
mod doc;
mod lay;
mod print;
mod statement;
mod tokens;

use super::parse::{read_book, rule_in_example, rule_in_for};
use super::reader::Rule;
use super::split::{MAX_STATEMENT, Section, split};
use crate::problem::{Problem, Weight};
use crate::source::{Span, Text};
use lay::{Shared, lines, share, shared, whole_block};
use print::{Line, STEP};
use statement::{Reading, Taken, take};
use std::ops::Range;
use std::sync::Arc;

/// The longest line, in characters, unless a single text or a table's row is longer.
pub const WIDTH: usize = 120;

/// Comments at the ends of lines stand in one column, unless one line is so much longer than the others.
const COMMENTS_STAND_OUT: usize = 40;

/// What stands between statements.
#[derive(Debug)]
enum Lead<'t> {
    Blank,
    Comment(&'t str),
    /// A comment that goes on below one at the end of a line.
    More(&'t str),
}

/// A statement, and what stands before and behind it.
#[derive(Debug)]
struct Entry<'t> {
    leads: Vec<Lead<'t>>,
    statement: Taken<'t>,
    comment: Option<&'t str>,
}

/// A statement with the block that it opens, and what stands before its `end`.
#[derive(Debug)]
struct Block<'t> {
    head: Entry<'t>,
    body: Option<(Vec<Entry<'t>>, Vec<Lead<'t>>, Option<&'t str>)>,
}

impl Block<'_> {
    /// What its statements were read as.
    fn readings(&self) -> Vec<&Reading> {
        let body = self.body.iter().flat_map(|(entries, _, _)| entries.iter());
        std::iter::once(&self.head).chain(body).map(|entry| &entry.statement.reading).collect()
    }
}

/// A book in the one layout, with `\n` at the end of every line.
///
/// # Errors
/// Every mistake of a book that cannot be read; a statement or book that laid out would be longer than the limit.
pub fn tidy(text: &Arc<Text>) -> Result<String, Vec<Problem>> {
    let (_, problems) = read_book(text);
    if problems.iter().any(|p| p.weight == Weight::Stop) {
        return Err(problems);
    }
    let (blocks, last) = blocks(text);
    let mut out = Lines::default();
    for block in &blocks {
        out.entries(text, std::slice::from_ref(&block.head), 0);
        if let Some((body, leads, comment)) = &block.body {
            out.opened = true;
            out.entries(text, body, STEP);
            out.leads(leads, STEP, true);
            out.lines.push(Line { text: "end".to_owned(), comment: comment.map(str::to_owned) });
        }
    }
    out.leads(&last, 0, true);
    if !out.problems.is_empty() {
        return Err(out.problems);
    }
    let done = with_comments(out.lines);
    same_meaning(text, &blocks, &done)?;
    Ok(done)
}

/// The book's statements with all that stands between them, and what follows the last.
fn blocks(text: &Arc<Text>) -> (Vec<Block<'_>>, Vec<Lead<'_>>) {
    let (sections, _) = split(text);
    let mut blocks = Vec::new();
    let mut between = Between { text, at: 0, leads: Vec::new() };
    let _ = between.up_to(first_start(&sections, text));
    for (i, section) in sections.iter().enumerate() {
        let next = first_start(&sections[i + 1..], text);
        let rules = rules_of(section);
        let after_head = section.body.as_ref().map(|body| body.first().map_or(next, |r| r.start)).unwrap_or(next);
        let Some((head, mut ended)) = between.entry(&section.head, rules.0, after_head) else { continue };
        let body = section.body.as_ref().map(|body| {
            let mut entries = Vec::new();
            for (j, range) in body.iter().enumerate() {
                let after = body.get(j + 1).map_or(next, |r| r.start);
                let rule = rules.1(&text.text[range.clone()], j);
                if let Some((entry, end)) = between.entry(range, rule, after) {
                    entries.push(entry);
                    ended = end;
                }
            }
            let (leads, comment) = ended.take().unwrap_or_default();
            (entries, leads, comment)
        });
        blocks.push(Block { head, body });
    }
    (blocks, between.leads)
}

fn first_start(sections: &[Section], text: &Text) -> usize {
    sections.first().map_or(text.text.len(), |s| s.head.start)
}

type RuleInBlock = fn(&str, usize) -> Rule;

/// The rule of a section's first line, and that of its others by their text and number.
fn rules_of(section: &Section) -> (Rule, RuleInBlock) {
    match (section.word.as_str(), section.body.is_some()) {
        ("rows", true) => (Rule::rows_head, |_, _| Rule::field_line),
        ("for", true) => (Rule::for_head, |text, _| rule_in_for(text)),
        ("table", true) => {
            (Rule::table_head, |_, number| if number == 0 { Rule::table_columns } else { Rule::table_row })
        }
        ("example", true) => (Rule::example_head, |text, _| rule_in_example(text)),
        ("book", _) => (Rule::book_line, |_, _| Rule::EOI),
        ("units", _) => (Rule::units_line, |_, _| Rule::EOI),
        ("use", _) => (Rule::use_line, |_, _| Rule::EOI),
        _ => (Rule::define_line, |_, _| Rule::EOI),
    }
}

/// What stood before an `end`, and the comment behind it.
type Ended<'t> = Option<(Vec<Lead<'t>>, Option<&'t str>)>;

/// Reads what stands between statements.
struct Between<'t> {
    text: &'t Text,
    at: usize,
    leads: Vec<Lead<'t>>,
}

impl<'t> Between<'t> {
    /// A statement, and what follows it up to the next; an `end` that stands between is given besides.
    fn entry(&mut self, range: &Range<usize>, rule: Rule, next: usize) -> Option<(Entry<'t>, Ended<'t>)> {
        let leads = std::mem::take(&mut self.leads);
        let mut statement = take(rule, &self.text.text[range.clone()])?;
        self.at = range.end;
        let (mut comment, ended) = self.up_to(next);
        // a comment that the statement's last line holds in the eyes of the grammar alone
        for left in std::mem::take(&mut statement.left) {
            if comment.is_none() && !left.own_line {
                comment = Some(left.text);
            } else {
                self.leads.insert(0, Lead::Comment(left.text));
            }
        }
        Some((Entry { leads, statement, comment }, ended))
    }

    /// Comments and empty lines up to an offset: the comment at the end of the line, and an `end` if there is one.
    fn up_to(&mut self, next: usize) -> (Option<&'t str>, Ended<'t>) {
        let text = &self.text.text;
        let (mut behind, mut ended) = (None, None);
        let mut above: Option<usize> = None;
        let mut line_start = self.at;
        for (i, line) in text[self.at..next].split('\n').enumerate() {
            let own = line.trim();
            let at = line_start;
            line_start += line.len() + 1;
            let column = |comment: &str| {
                let full = &text[self.text.line_range(self.text.line(at)).start..];
                full[..full.find(comment).unwrap_or(0)].chars().count()
            };
            if i == 0 && self.at > 0 {
                behind = own.starts_with("--").then_some(own);
                above = behind.map(|_| {
                    let start = self.text.line_range(self.text.line(at)).start;
                    text[start..at + (line.len() - line.trim_start().len())].chars().count()
                });
            } else if own.is_empty() {
                // the last of them is the next statement's own line
                if line_start <= next {
                    self.leads.push(Lead::Blank);
                }
                above = None;
            } else if own.starts_with("--") {
                let here = column(own);
                let more = above.is_some_and(|above| above == here);
                self.leads.push(if more { Lead::More(own) } else { Lead::Comment(own) });
                above = above.filter(|_| more);
            } else {
                // nothing else stands between statements than `end`
                let comment = own.strip_prefix("end").map(str::trim).filter(|c| c.starts_with("--"));
                ended = Some((std::mem::take(&mut self.leads), comment));
                above = comment.map(column);
            }
        }
        self.at = next;
        (behind, ended)
    }
}

/// The lines of a book as they are laid out.
#[derive(Default)]
struct Lines {
    lines: Vec<Line>,
    problems: Vec<Problem>,
    /// Whether a block was just opened: no empty line follows.
    opened: bool,
}

impl Lines {
    /// Statements that stand in one block, or one outside blocks.
    fn entries(&mut self, text: &Arc<Text>, entries: &[Entry<'_>], indent: usize) {
        let mut together = Shared::default();
        let (mut from, mut until) = (0, 0);
        for (i, entry) in entries.iter().enumerate() {
            if i >= until {
                (from, until) = (i, i + run(&entries[i..]));
                let statements: Vec<_> = entries[i..until].iter().map(|e| &e.statement.statement).collect();
                together = shared(&statements, indent);
            }
            self.leads(&entry.leads, indent, false);
            let laid = lines(&entry.statement.statement, i - from, indent, &together, entry.comment);
            let length: usize = laid.iter().map(|l| l.text.len() + l.comment.as_ref().map_or(1, |c| c.len() + 3)).sum();
            if length > MAX_STATEMENT {
                let what = format!("A statement is longer than {MAX_STATEMENT} characters when it is laid out.");
                let named = laid.first().map_or(String::new(), |l| l.text.trim().chars().take(40).collect());
                let problem = Problem::stop("statement too large", what).in_file(text.name.as_str());
                self.problems.push(problem.found(named).fix("give parts of it names of their own"));
            }
            self.lines.extend(laid);
            self.opened = false;
        }
    }

    /// Comments and at most one empty line between them; none at the start of a block, and none where one ends.
    fn leads(&mut self, leads: &[Lead<'_>], indent: usize, closing: bool) {
        let mut blank = false;
        let more = |comment: &str| Line { text: String::new(), comment: Some(comment.to_owned()) };
        for lead in leads {
            let line = match lead {
                Lead::Blank => {
                    blank = true;
                    continue;
                }
                Lead::More(comment) => more(comment),
                Lead::Comment(comment) => Line { text: format!("{:indent$}{comment}", ""), comment: None },
            };
            self.blank(blank);
            blank = false;
            self.lines.push(line);
            self.opened = false;
        }
        self.blank(blank && !closing);
    }

    fn blank(&mut self, asked: bool) {
        if asked && !self.opened && !self.lines.is_empty() {
            self.lines.push(Line::default());
        }
    }
}

/// How many statements from the first on share columns.
fn run(entries: &[Entry<'_>]) -> usize {
    let together = |pair: &&[Entry<'_>]| {
        let apart = pair[1].leads.iter().any(|lead| matches!(lead, Lead::Blank));
        let (a, b) = (&pair[0].statement.statement, &pair[1].statement.statement);
        share(a, b) && (!apart || whole_block(a))
    };
    1 + entries.windows(2).take_while(together).count()
}

/// The text, with comments at the ends of lines that follow each other in one column.
fn with_comments(lines: Vec<Line>) -> String {
    let mut out = String::new();
    let width = |line: &Line| line.text.chars().count();
    let mut at = 0;
    while at < lines.len() {
        let count = lines[at..].iter().take_while(|l| l.comment.is_some()).count();
        let mut widths: Vec<usize> = lines[at..at + count].iter().map(width).collect();
        widths.sort_unstable();
        while widths.len() > 1 && widths[widths.len() - 1] > widths[widths.len() - 2] + COMMENTS_STAND_OUT {
            widths.pop();
        }
        let column = widths.last().copied().unwrap_or(0);
        for line in &lines[at..at + count.max(1)] {
            out.push_str(&line.text);
            if let Some(comment) = &line.comment {
                let spaces = column.saturating_sub(width(line)) + 2;
                out.extend(std::iter::repeat_n(' ', spaces));
                out.push_str(comment);
            }
            out.push('\n');
        }
        at += count.max(1);
    }
    out
}

/// Reads the result again: it must be the same rules, words and values.
fn same_meaning(text: &Arc<Text>, blocks: &[Block<'_>], done: &str) -> Result<(), Vec<Problem>> {
    let again = Text::new(text.name.as_str(), done);
    let (_, problems) = read_book(&again);
    if let Some(problem) = problems.into_iter().find(|p| p.weight == Weight::Stop) {
        return Err(vec![problem]);
    }
    let (others, _) = self::blocks(&again);
    if blocks.iter().map(Block::readings).eq(others.iter().map(Block::readings)) {
        return Ok(());
    }
    let what = "This book would mean something else when it is laid out, so it is left as it is.";
    let first = Span::new(0, text.text.chars().next().map_or(0, char::len_utf8));
    Err(vec![Problem::stop("layout would change meaning", what).in_book(text, first)])
}
