//! Statements that one small change would make understood: what is said is that change, once it is known to serve.

use super::reader::{Grammar, Rule};
use crate::problem::Problem;
use crate::source::{Span, Text};
use pest::Parser as _;
use pest::error::InputLocation;
use std::ops::Range;
use std::sync::Arc;

/// How many changes of one kind one statement may need.
const MOST_CHANGES: usize = 16;

/// A change that makes a statement understood.
struct Change {
    at: Range<usize>,
    what: String,
    fix: String,
}

/// A statement that is not understood, with the place where it ceases to be.
pub(super) struct Wrong<'s> {
    pub rule: Rule,
    pub statement: &'s str,
    pub at: usize,
}

impl Wrong<'_> {
    /// The problem for it, where a change of a known kind makes it understood.
    pub(super) fn mended(&self, text: &Arc<Text>, offset: usize) -> Option<Problem> {
        let Change { at, what, fix } = match self.rule {
            Rule::check_line => self.check(),
            Rule::table_columns => self.commas(),
            _ => None,
        }?;
        let span = Span::new(offset + at.start, offset + at.end);
        Some(Problem::stop("statement not understood", what).in_book(text, span).fix(fix))
    }

    fn reads(&self, statement: &str) -> bool {
        Grammar::parse(self.rule, statement).is_ok()
    }

    /// The statement with a text put in between.
    fn with(&self, at: usize, put: &str) -> String {
        format!("{}{put}{}", &self.statement[..at], &self.statement[at..])
    }

    /// A check without 'else'.
    fn check(&self) -> Option<Change> {
        let outside = outside_texts(self.statement);
        let words = words(&outside);
        if words.iter().any(|w| &outside[w.clone()] == "else") {
            return None;
        }
        if let Some(word) = words.iter().rfind(|w| ["stops", "warns", "notes"].contains(&&outside[(*w).clone()])) {
            let outcome = &outside[word.clone()];
            let what = format!("'else' is missing before '{outcome}'.");
            let change = Change { at: word.clone(), what, fix: format!("else {outcome}") };
            return self.reads(&self.with(word.start, "else ")).then_some(change);
        }
        // before what is said of it, or else at its end
        let said = self.statement.char_indices().find(|(at, c)| *c == '"' && !outside[*at..].starts_with('"'));
        let at = [said.map(|(at, _)| at), Some(self.statement.len())];
        let at = at.into_iter().flatten().find(|at| self.reads(&self.with(*at, " else stops ")))?;
        let condition = self.statement[..at].trim_end();
        let last = words.iter().rfind(|w| w.end <= condition.len())?;
        Some(Change {
            at: last.start..condition.len(),
            what: "It is not said what happens when this check does not hold.".to_owned(),
            fix: format!("{condition} else stops \"…\", or else warns, else notes"),
        })
    }

    /// Commas missing in the first line of a table.
    fn commas(&self) -> Option<Change> {
        let mut mended = self.statement.to_owned();
        let mut at = self.at;
        for _ in 0..MOST_CHANGES {
            let clauses = ["exact", "up to", "from", "between", "otherwise", "heading"];
            if !clauses.iter().any(|c| mended[at..].starts_with(c)) {
                return None;
            }
            mended.insert(mended[..at].trim_end().len(), ',');
            match Grammar::parse(self.rule, &mended) {
                Ok(_) => {
                    let clause = begin(self.statement, self.at);
                    let column = self.statement[..self.at].trim_end();
                    let column = column.rsplit('|').next().unwrap_or(column).trim_start();
                    return Some(Change {
                        at: self.at..self.at + clause.len(),
                        what: format!("A comma is missing before '{clause}'."),
                        fix: format!("{column}, {clause}"),
                    });
                }
                Err(error) => {
                    let next = place(&error.location);
                    if next <= at {
                        return None;
                    }
                    at = next;
                }
            }
        }
        None
    }
}

/// Where a statement ceases to be understood.
pub(super) fn place(location: &InputLocation) -> usize {
    match location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => *at,
    }
}

/// The word at a place.
fn begin(statement: &str, at: usize) -> &str {
    statement[at..].split(|c: char| !(c.is_alphanumeric() || c == '_')).next().unwrap_or("")
}

/// A statement with spaces in place of its texts, letter for letter, so that places in it are those of the statement.
fn outside_texts(statement: &str) -> String {
    let mut out = String::with_capacity(statement.len());
    let (mut in_text, mut escaped, mut before) = (false, false, ' ');
    for c in statement.chars() {
        let begins = c == '"' && !in_text && !(before.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(before));
        let ends = c == '"' && in_text && !escaped;
        if in_text || begins {
            out.extend(std::iter::repeat_n(' ', c.len_utf8()));
        } else {
            out.push(c);
        }
        in_text = (in_text || begins) && !ends;
        escaped = in_text && c == '\\' && !escaped;
        before = c;
    }
    out
}

/// The places of the words in a text.
fn words(text: &str) -> Vec<Range<usize>> {
    let mut out: Vec<Range<usize>> = Vec::new();
    for (at, c) in text.char_indices().filter(|(_, c)| c.is_alphanumeric() || *c == '_') {
        match out.last_mut() {
            Some(last) if last.end == at => last.end = at + c.len_utf8(),
            _ => out.push(at..at + c.len_utf8()),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_left_out_and_inches_are_none() {
        assert_eq!(outside_texts("a 3\" \"é \\\" x\" else"), format!("a 3\" {} else", " ".repeat(10)));
        let words: Vec<_> = words("a 3\" is_b").into_iter().map(|w| (w.start, w.end)).collect();
        assert_eq!(words, [(0, 1), (2, 3), (5, 9)]);
    }
}
