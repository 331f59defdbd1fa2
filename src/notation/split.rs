//! A book's text into blocks and statements, so that a slip in one statement costs one message.
//!
//! A statement ends with its line, unless a bracket is open or the next line is indented deeper.

use super::slips::{self, Slip};
use crate::problem::Problem;
use crate::source::{Span, Text};
use std::ops::Range;
use std::sync::Arc;

/// How deep brackets may stand in each other.
const MAX_DEPTH: usize = 32;
/// How long one statement may be, in bytes.
pub(super) const MAX_STATEMENT: usize = 16 * 1024;
/// How long a book may be, in bytes.
const MAX_BOOK: usize = 4 * 1024 * 1024;
/// How many mistakes of one book are told.
pub(crate) const MOST_PROBLEMS: usize = 25_000;

/// A statement outside blocks, or a block with its lines.
#[derive(Debug)]
pub struct Section {
    /// First word after an optional `replace`.
    pub word: String,
    /// The statement, or the first line of the block.
    pub head: Range<usize>,
    /// The statements in the block; `None` outside blocks.
    pub body: Option<Vec<Range<usize>>>,
    /// Where the head's word is misspelt: the slip, and the head as it is read.
    pub slip: Option<(Slip, String)>,
}

/// Words that open a block.
pub const BLOCKS: [&str; 4] = ["rows", "for", "table", "example"];
/// Words that begin a statement outside blocks.
pub const OUTSIDE: [&str; 5] = ["book", "use", "units", "define", "replace"];

struct Line {
    /// Offset of the first character that is not a space.
    start: usize,
    /// End without the line end.
    end: usize,
    indent: usize,
    /// How the bracket depth changes over the line.
    opens: isize,
    /// The deepest point of the line above its start.
    peak: isize,
}

/// Splits a book; what cannot be placed is a problem.
#[must_use]
pub fn split(text: &Arc<Text>) -> (Vec<Section>, Vec<Problem>) {
    let mut problems = Vec::new();
    if text.text.len() > MAX_BOOK {
        let what = format!("This book is longer than {} MB, which is the limit.", MAX_BOOK / 1024 / 1024);
        return (Vec::new(), vec![Problem::stop("book too long", what).in_file(text.name.as_str())]);
    }
    let lines = Lines::of(text);
    let mut sections = Vec::new();
    let mut at = 0;
    while at < lines.len() && problems.len() < MOST_PROBLEMS {
        let word = first_word(text, &lines[at]);
        if BLOCKS.contains(&word) {
            let head = statement(text, &lines, &mut at, true, &mut problems);
            let body = body(text, &lines, &mut at, &head, word, &mut problems);
            sections.push(Section { word: word.to_owned(), head, body: Some(body), slip: None });
        } else if word.eq_ignore_ascii_case("end") {
            let span = Span::new(lines[at].start, lines[at].end);
            let what = "This 'end' closes nothing.";
            problems.push(
                Problem::stop("stray end", what)
                    .in_book(text, span)
                    .fix("take it out, or begin the block it should close"),
            );
            at += 1;
        } else {
            sections.push(other(text, &lines, &mut at, word, &mut problems));
        }
    }
    (sections, problems)
}

/// A statement that begins with none of the words of a block. Misspelt, it is a block all the same where an `end` follows.
fn other(text: &Arc<Text>, lines: &Lines, at: &mut usize, word: &str, problems: &mut Vec<Problem>) -> Section {
    let line = &text.text[lines[*at].start..lines[*at].end];
    let known = OUTSIDE.contains(&word) && word != "replace";
    let ended = lines.ends_below(text, *at);
    let slip = if known { None } else { slips::meant(line, ended) };
    let read = slip.as_ref().map(|slip| slips::read_as(slip, line));
    let meant = read.as_deref().map_or(word, first_word_of);
    let block = BLOCKS.contains(&meant) || (ended && !OUTSIDE.contains(&meant));
    let meant = meant.to_owned();
    let head = statement(text, lines, at, block, problems);
    let body = block.then(|| body(text, lines, at, &head, &meant, problems));
    let slip = slip.map(|slip| {
        let read = slips::read_as(&slip, &text.text[head.clone()]);
        (slip, read)
    });
    Section { word: meant, head, body, slip }
}

fn body(
    text: &Arc<Text>,
    lines: &Lines,
    at: &mut usize,
    head: &Range<usize>,
    word: &str,
    problems: &mut Vec<Problem>,
) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let head_line = text.line(head.start);
    let head_indent = indent_of(&text.text[text.line_range(head_line)]);
    while *at < lines.len() {
        let line = &lines[*at];
        let next = first_word(text, line);
        let whole = &text.text[line.start..line.end];
        if whole == "end" {
            *at += 1;
            return out;
        }
        if slips::ends_block(whole, line.indent <= head_indent) {
            let what = format!("A block ends with 'end' alone on its line, not with '{whole}'.");
            let span = Span::new(line.start, line.end);
            problems.push(Problem::stop("statement not understood", what).in_book(text, span).fix("end"));
            *at += 1;
            return out;
        }
        let starts_another = BLOCKS.contains(&next) || OUTSIDE.contains(&next);
        if line.indent <= head_indent && starts_another {
            break;
        }
        out.push(statement(text, lines, at, false, problems));
    }
    let span = Span::new(head.start, head.end);
    let what = format!("This '{word}' block has no 'end'.");
    problems.push(
        Problem::stop("block without end", what)
            .in_book(text, span)
            .fix("write 'end' on a line of its own after its last line"),
    );
    out
}

/// Takes one statement; a block's first line goes on only inside brackets.
fn statement(text: &Arc<Text>, lines: &Lines, at: &mut usize, head: bool, problems: &mut Vec<Problem>) -> Range<usize> {
    let first = &lines[*at];
    let (start, mut end) = (first.start, first.end);
    let mut depth = first.opens;
    let mut deepest = first.peak;
    *at += 1;
    while let Some(next) = lines.get(*at) {
        let deeper = next.indent > first.indent;
        if !((depth > 0 && (deeper || lines.closes(*at, depth))) || (!head && deeper)) {
            break;
        }
        deepest = deepest.max(depth + next.peak);
        depth += next.opens;
        end = next.end;
        *at += 1;
    }
    let span = Span::new(start, end);
    if end - start > MAX_STATEMENT || deepest > MAX_DEPTH.cast_signed() {
        let what = if end - start > MAX_STATEMENT {
            format!("This statement is longer than {} characters.", MAX_STATEMENT)
        } else {
            format!("Brackets stand more than {MAX_DEPTH} deep here.")
        };
        let fix = "give parts of it names of their own";
        let first = text.text[start..].chars().next().map_or(0, char::len_utf8);
        problems
            .push(Problem::stop("statement too large", what).in_book(text, Span::new(start, start + first)).fix(fix));
        return start..start;
    }
    span.range()
}

/// The lines of a book, and where their brackets balance: found without going over them again and again, since a book may
/// have as many open brackets as lines.
struct Lines {
    lines: Vec<Line>,
    /// How many brackets are open after each line, from the book's first on; then the least of each two, of each four and
    /// so on.
    open: Vec<Vec<isize>>,
    /// The first line from each on that begins or ends a block.
    block: Vec<usize>,
}

impl std::ops::Deref for Lines {
    type Target = [Line];

    fn deref(&self) -> &[Line] {
        &self.lines
    }
}

impl Lines {
    fn of(text: &Text) -> Self {
        let lines = lines_of(text);
        let mut depth = 0;
        let after: Vec<isize> = lines
            .iter()
            .map(|line| {
                depth += line.opens;
                depth
            })
            .collect();
        let mut open = vec![after];
        while let Some(last) = open.last().filter(|last| last.len() > 1) {
            let least = last.chunks(2).map(|two| two.iter().copied().min().unwrap_or(0)).collect();
            open.push(least);
        }
        let mut block = vec![lines.len(); lines.len()];
        let mut next = lines.len();
        for (at, line) in lines.iter().enumerate().rev() {
            let word = first_word(text, line);
            let ends = word == "end" || slips::ends_block(&text.text[line.start..line.end], line.indent == 0);
            if ends || (line.indent == 0 && (BLOCKS.contains(&word) || OUTSIDE.contains(&word))) {
                next = at;
            }
            block[at] = next;
        }
        Self { lines, open, block }
    }

    /// Whether the next line below one that begins or ends a block ends it.
    fn ends_below(&self, text: &Text, at: usize) -> bool {
        let next = self.block.get(at + 1).and_then(|next| self.lines.get(*next));
        next.is_some_and(|line| {
            let word = first_word(text, line);
            !BLOCKS.contains(&word) && !OUTSIDE.contains(&word)
        })
    }

    /// Whether so many open brackets are closed from a line on, before anything that begins or ends a block.
    fn closes(&self, at: usize, depth: isize) -> bool {
        let all = &self.open[0];
        let goal = all[at] - self.lines[at].opens - depth;
        self.first_at_most(at, goal).is_some_and(|line| line < self.block[at] && all[line] == goal)
    }

    /// The first line from one on after which no more than so many brackets are open.
    fn first_at_most(&self, at: usize, goal: isize) -> Option<usize> {
        let (mut level, mut at) = (0, at);
        // up, past groups of lines that all stand deeper
        while *self.open.get(level)?.get(at)? > goal {
            at += 1;
            while at.is_multiple_of(2) && level + 1 < self.open.len() && at < self.open[level].len() {
                at /= 2;
                level += 1;
            }
        }
        // and down to the first line of the group
        while level > 0 {
            level -= 1;
            at *= 2;
            if self.open[level][at] > goal {
                at += 1;
            }
        }
        Some(at)
    }
}

fn indent_of(line: &str) -> usize {
    line.chars().take_while(|c| c.is_whitespace()).map(|c| if c == '\t' { 4 } else { 1 }).sum()
}

fn first_word<'a>(text: &'a Text, line: &Line) -> &'a str {
    first_word_of(&text.text[line.start..line.end])
}

/// The word that tells what a statement is: the first, or the one after `replace` that begins a block.
pub(super) fn first_word_of(all: &str) -> &str {
    let word = |s: &'_ str| s.len() - s.trim_start_matches(|c: char| c.is_alphanumeric() || c == '_').len();
    let first = &all[..word(all)];
    if first != "replace" {
        return first;
    }
    let after = all["replace".len()..].trim_start();
    match &after[..word(after)] {
        "table" => "table",
        // 'replace rows of table' as well
        "rows" if after["rows".len()..].trim_start().starts_with("of") => "table",
        _ => "replace",
    }
}

fn lines_of(text: &Text) -> Vec<Line> {
    let mut out = Vec::new();
    for number in 1..=text.line_count() {
        let range = text.line_range(number);
        let line = &text.text[range.clone()];
        let lead = line.len() - line.trim_start().len();
        let (opens, peak, used) = scan(&line[lead..]);
        let kept = line[lead..lead + used].trim_end();
        if kept.is_empty() {
            continue;
        }
        out.push(Line {
            start: range.start + lead,
            end: range.start + lead + kept.len(),
            indent: indent_of(line),
            opens,
            peak,
        });
    }
    out
}

/// How many bytes of a line stand before its remark.
#[must_use]
pub fn before_remark(line: &str) -> usize {
    scan(line).2
}

/// Bracket balance of a line, its peak, and how many bytes stand before its comment.
fn scan(line: &str) -> (isize, isize, usize) {
    let (mut depth, mut peak) = (0isize, 0isize);
    let mut in_text = false;
    let mut before = ' ';
    let mut chars = line.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        match c {
            '\\' if in_text => {
                chars.next();
            }
            // a quote right after a digit is an inch mark; in a text it closes the text
            '"' if in_text => in_text = false,
            '"' if !(before.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(before)) => in_text = true,
            '(' if !in_text => {
                depth += 1;
                peak = peak.max(depth);
            }
            ')' if !in_text => depth -= 1,
            '-' if !in_text && line[at..].starts_with("--") => return (depth, peak, at),
            _ => {}
        }
        before = c;
    }
    (depth, peak, line.len())
}
