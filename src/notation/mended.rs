//! Statements that one small change would make understood: what is said is that change, once it is known to serve.

mod signs;

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
        let own = match self.rule {
            Rule::check_line => self.check().or_else(|| self.named_check()),
            Rule::table_columns => self.commas(),
            Rule::define_line | Rule::formula_line => self.equals(),
            _ => None,
        };
        let Change { at, what, fix } = own.or_else(|| signs::mended(self))?;
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

    /// Whether a change is for the better: with it the statement is understood, or is further on than where it is.
    fn serves(&self, at: Range<usize>, put: &str) -> bool {
        let edited = format!("{}{put}{}", &self.statement[..at.start], &self.statement[at.end..]);
        match Grammar::parse(self.rule, &edited) {
            Ok(_) => true,
            Err(error) => place(&error.location) > at.start + put.len(),
        }
    }

    /// A check without a name.
    fn named_check(&self) -> Option<Change> {
        let outside = outside_texts(self.statement);
        let words = words(&outside);
        let check = words.iter().find(|w| &outside[(*w).clone()] == "check")?;
        let condition = self.statement[check.end..].trim_start();
        let first = begin(condition, 0);
        let name = if first.starts_with(|c: char| c.is_ascii_alphabetic()) { first } else { "this" };
        let named = format!(" {name}_check");
        let fix = format!("{}{named} {}", &self.statement[..check.end], shortened(condition));
        let change = Change { at: check.clone(), what: "This check has no name.".to_owned(), fix };
        self.reads(&self.with(check.end, &named)).then_some(change)
    }

    /// A definition or formula without its '='.
    fn equals(&self) -> Option<Change> {
        let outside = outside_texts(self.statement);
        let bytes = outside.as_bytes();
        let is_equals =
            |(at, _): &(usize, &str)| !matches!(bytes.get(at.wrapping_sub(1)), Some(b'<' | b'>' | b'!' | b':'));
        if self.rule == Rule::formula_line && outside.match_indices('=').any(|found| is_equals(&found)) {
            return None;
        }
        let at =
            if self.rule == Rule::define_line { after_type(&outside)? } else { after_label(self.statement, &outside)? };
        let (head, body) = (self.statement[..at].trim_end(), self.statement[at..].trim_start());
        if body.is_empty() || body.starts_with(['=', ':']) || !self.serves(at..at, " = ") {
            return None;
        }
        let first = body.split_whitespace().next().unwrap_or("");
        let start = self.statement.len() - body.len();
        let fix = format!("{head} = {}", shortened(body));
        Some(Change { at: start..start + first.len(), what: format!("'=' is missing before '{first}'."), fix })
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

/// Where the type of a definition ends.
fn after_type(outside: &str) -> Option<usize> {
    let mut depth = 0usize;
    let closed = outside.char_indices().find_map(|(at, c)| match c {
        '(' => {
            depth += 1;
            None
        }
        ')' => {
            depth = depth.saturating_sub(1);
            (depth == 0).then_some(at + 1)
        }
        _ => None,
    })?;
    let from = outside.len() - outside[closed..].trim_start().len();
    Some(outside[from..].find(char::is_whitespace).map_or(outside.len(), |long| from + long))
}

/// Where the name and the label of a formula end.
fn after_label(statement: &str, outside: &str) -> Option<usize> {
    let words = words(outside);
    let name = words.iter().find(|w| &outside[(*w).clone()] != "replace")?;
    let rest = statement[name.end..].trim_start();
    let Some(label) = rest.strip_prefix('"') else { return Some(name.end) };
    Some(statement.len() - label.len() + label.find('"')? + 1)
}

/// So much of a statement as a message shows.
fn shortened(text: &str) -> String {
    let line = text.lines().next().unwrap_or("").trim_end();
    if line.chars().count() > 60 || line.len() < text.trim_end().len() {
        line.chars().take(60).chain(['…']).collect()
    } else {
        line.to_owned()
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
        assert_eq!(outside_texts("a 3\" \"é \\\" x\" else"), format!("a 3\" {} else", " ".repeat(9)));
        let words: Vec<_> = words("a 3\" is_b").into_iter().map(|w| (w.start, w.end)).collect();
        assert_eq!(words, [(0, 1), (2, 3), (5, 9)]);
    }
}
