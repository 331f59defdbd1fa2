//! Groups to lines.
//!
//! Space and line ends are asked for before a token and made when it comes, so that a comment can still go to the end of
//! the line before.

use super::WIDTH;
use super::doc::{Arm, Doc, Token};

/// How much deeper what goes on stands.
pub(super) const STEP: usize = 4;
/// The widest answer of a choice for which conditions stand in a column, and how much narrower the others may be.
const ANSWER: (usize, usize) = (32, 12);

/// A line with the comment at its end.
#[derive(Clone, Debug, Default)]
pub(super) struct Line {
    /// What stands before the comment.
    pub text: String,
    /// The comment; alone where it goes on from the line above.
    pub comment: Option<String>,
}

/// What stands between two tokens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Gap {
    Spaces(usize),
    /// As many spaces as reach a column, or at least these.
    Column(usize, usize),
    /// A new line with so much indentation.
    Line(usize),
}

/// Lines of one statement.
#[derive(Clone, Debug)]
pub(super) struct Printer {
    lines: Vec<Line>,
    line: String,
    comment: Option<String>,
    width: usize,
    gap: Gap,
    /// Where a line goes on that a comment broke.
    hang: usize,
}

impl Printer {
    /// At the start of a statement.
    pub fn new(indent: usize) -> Self {
        Self {
            lines: Vec::new(),
            line: String::new(),
            comment: None,
            width: 0,
            gap: Gap::Line(indent),
            hang: indent + STEP,
        }
    }

    /// The lines, with the comment at the end of the last.
    pub fn finish(mut self, comment: Option<&str>) -> Vec<Line> {
        if let Some(comment) = comment {
            self.comment = Some(comment.to_owned());
        }
        self.end_line();
        self.lines
    }

    /// How wide its widest line is.
    pub fn widest(&self) -> usize {
        let done = self.lines.iter().map(|l| l.text.chars().count()).max().unwrap_or(0);
        done.max(self.width)
    }

    /// How many lines are done.
    pub fn height(&self) -> usize {
        self.lines.len()
    }

    fn end_line(&mut self) {
        if !self.line.is_empty() {
            let text = std::mem::take(&mut self.line);
            self.lines.push(Line { text, comment: self.comment.take() });
        }
        self.width = 0;
    }

    /// Asks for spaces.
    pub fn space(&mut self, count: usize) {
        self.gap = Gap::Spaces(count);
    }

    /// Asks for a column, at least `least` spaces on.
    pub fn column(&mut self, column: usize, least: usize) {
        self.gap = Gap::Column(column, least);
    }

    /// Asks for a new line.
    pub fn new_line(&mut self, indent: usize) {
        self.gap = Gap::Line(indent);
    }

    /// Where the next token would stand.
    pub fn next(&self) -> usize {
        match self.gap {
            Gap::Spaces(n) => self.width + n,
            Gap::Column(at, least) => at.max(self.width + least),
            Gap::Line(indent) => indent,
        }
    }

    /// Where a group would begin.
    fn start_of(&self, doc: &Doc<'_>) -> usize {
        match self.gap {
            Gap::Line(indent) => indent,
            _ if doc.begins_a_line() => self.hang,
            _ => self.next(),
        }
    }

    /// A token, after the comments before it.
    pub fn token(&mut self, token: &Token<'_>) {
        for comment in &token.before {
            let indent = if let Gap::Line(indent) = self.gap { indent } else { self.hang };
            if !comment.own_line && !self.line.is_empty() && self.comment.is_none() {
                self.comment = Some(comment.text.to_owned());
            } else {
                self.end_line();
                self.lines.push(Line { text: format!("{:indent$}{}", "", comment.text), comment: None });
            }
            self.gap = Gap::Line(indent);
        }
        if token.apart && !matches!(self.gap, Gap::Line(_)) {
            self.gap = Gap::Line(self.hang);
        }
        let at = self.next();
        if matches!(self.gap, Gap::Line(_)) {
            self.end_line();
        }
        self.line.extend(std::iter::repeat_n(' ', at.saturating_sub(self.width)));
        self.line.push_str(&token.text);
        self.width = at + token.text.chars().count();
        self.gap = Gap::Spaces(0);
    }

    /// A group on one line where it fits with what follows it (`tail` characters), or broken; whether it fits.
    pub fn lay(&mut self, doc: &Doc<'_>, tail: usize) -> bool {
        let fits = doc.measure().is_some_and(|width| self.start_of(doc) + width + tail <= WIDTH);
        if fits {
            self.flat(doc)
        } else {
            self.broken(doc, tail)
        }
        fits
    }

    /// Whether a group fits on this line after so many spaces.
    pub fn fits(&self, doc: &Doc<'_>, spaces: usize, tail: usize) -> bool {
        !doc.begins_a_line() && doc.measure().is_some_and(|w| self.width + spaces + w + tail <= WIDTH)
    }

    /// A group on one line, however long.
    pub fn flat(&mut self, doc: &Doc<'_>) {
        match doc {
            Doc::Token(token) => self.token(token),
            Doc::Words(parts) | Doc::Chain(parts) | Doc::Factors(parts) => self.row(parts, 1),
            Doc::Tight(parts) => self.row(parts, 0),
            Doc::Bracket { open, inside, close } => {
                self.flat(open);
                self.row(inside, 1);
                self.token(close);
            }
            Doc::Choice(arms) => {
                for (i, arm) in arms.iter().enumerate() {
                    if i > 0 {
                        self.space(1);
                    }
                    self.flat(&arm.value);
                    self.space(1);
                    self.flat(&arm.rest);
                }
            }
        }
    }

    fn row(&mut self, parts: &[Doc<'_>], between: usize) {
        for (i, part) in parts.iter().enumerate() {
            if i > 0 {
                self.space(between);
            }
            self.flat(part);
        }
    }

    /// A group over several lines.
    pub fn broken(&mut self, doc: &Doc<'_>, tail: usize) {
        let hang = self.hang;
        let start = self.start_of(doc);
        match doc {
            Doc::Token(token) => self.token(token),
            Doc::Words(parts) => {
                self.hang = start + STEP;
                for (i, part) in parts.iter().enumerate() {
                    let tail = match parts.get(i + 1) {
                        None => tail,
                        // a last word stays with what stands before it
                        Some(last @ Doc::Token(_)) if i + 2 == parts.len() => {
                            last.measure().map_or(0, |w| w + 1 + tail)
                        }
                        Some(_) => 0,
                    };
                    if i > 0 {
                        let word = matches!(part, Doc::Token(_) | Doc::Tight(_));
                        let on = !word || self.fits(part, 1, tail);
                        if on { self.space(1) } else { self.new_line(start + STEP) }
                    }
                    self.lay(part, tail);
                }
            }
            Doc::Tight(parts) => {
                for (i, part) in parts.iter().enumerate() {
                    let after: usize = parts[i + 1..].iter().map(|p| p.measure().unwrap_or(0)).sum();
                    self.lay(part, after + tail);
                }
            }
            Doc::Chain(parts) => {
                self.hang = start;
                for (i, part) in parts.iter().enumerate() {
                    if i > 0 {
                        self.new_line(start);
                    }
                    self.lay(part, if i + 1 == parts.len() { tail } else { 0 });
                }
            }
            Doc::Factors(parts) => {
                self.hang = start;
                for (i, part) in parts.iter().enumerate() {
                    let tail = if i + 1 == parts.len() { tail } else { 0 };
                    // one that must be broken anyhow goes on where it is
                    let whole_below = part.measure().is_some_and(|w| start + w + tail <= WIDTH);
                    if i > 0 {
                        if whole_below && !self.fits(part, 1, tail) { self.new_line(start) } else { self.space(1) }
                    }
                    self.lay(part, tail);
                }
            }
            Doc::Bracket { open, inside, close } => {
                self.lay(open, 0);
                let beside = self.width;
                let last = inside.len().saturating_sub(1);
                let all_fit = inside.iter().enumerate().all(|(i, part)| {
                    let tail = if i == last { tail + 1 } else { 0 };
                    part.measure().is_some_and(|w| beside + w + tail <= WIDTH)
                });
                let below = start + STEP;
                let indent = if all_fit || beside <= below { beside } else { below };
                if indent != beside {
                    self.new_line(indent);
                }
                self.fill(inside, indent, 1, tail + 1);
                self.hang = start;
                self.token(close);
            }
            Doc::Choice(arms) => self.arms(arms, start, tail),
        }
        self.hang = hang;
    }

    /// As many parts on a line as it takes, `between` spaces apart; the first stands where the line is.
    pub fn fill(&mut self, parts: &[Doc<'_>], indent: usize, between: usize, tail: usize) {
        let hang = std::mem::replace(&mut self.hang, indent);
        let mut whole = true;
        for (i, part) in parts.iter().enumerate() {
            let tail = if i + 1 == parts.len() { tail } else { 0 };
            if i > 0 {
                if whole && self.fits(part, between, tail) { self.space(between) } else { self.new_line(indent) }
            }
            whole = self.lay(part, tail);
        }
        self.hang = hang;
    }

    fn arms(&mut self, arms: &[Arm<'_>], start: usize, tail: usize) {
        self.hang = start;
        let last = arms.len().saturating_sub(1);
        let tail_of = |i: usize| if i == last { tail } else { 0 };
        let widest = arms.iter().map(|a| a.value.measure()).max_by_key(|w| w.unwrap_or(usize::MAX)).flatten();
        let narrowest = arms.iter().filter_map(|a| a.value.measure()).min().unwrap_or(0);
        let in_column = widest.filter(|w| *w <= ANSWER.0 && *w <= narrowest + ANSWER.1).filter(|widest| {
            arms.iter().enumerate().all(|(i, arm)| {
                let rest = arm.rest.measure();
                rest.is_some_and(|rest| start + widest + 1 + rest + tail_of(i) <= WIDTH)
            })
        });
        for (i, arm) in arms.iter().enumerate() {
            if i > 0 {
                self.new_line(start);
            }
            if let Some(widest) = in_column {
                self.lay(&arm.value, 0);
                self.column(start + widest + 1, 1);
                self.lay(&arm.rest, tail_of(i));
                continue;
            }
            let word = arm.rest.measure().filter(|w| *w < STEP * STEP).map_or(0, |w| w + 1);
            self.lay(&arm.value, word);
            if self.fits(&arm.rest, 1, tail_of(i)) || arm.rest.measure().is_none() || word > 0 {
                self.space(1);
            } else {
                self.new_line(start + STEP);
            }
            self.lay(&arm.rest, tail_of(i));
        }
    }
}
