//! Clashes: what two books say of one thing, neither of which stands on the other.

use super::{Declarations, Stand};
use crate::problem::Problem;
use crate::source::Text;
use std::sync::Arc;

/// Two books that both state or replace one thing, and neither uses the other.
#[derive(Clone, Debug)]
pub(super) struct Clash {
    /// What: "table tested_span".
    what: String,
    first: Stand,
    second: Stand,
    /// Whether the first replaces it as well, and does not merely state it.
    both_replace: bool,
}

impl Declarations {
    /// Whether a layer stands on another: it is that, or uses it directly or through others.
    pub(super) fn stands_on(&self, layer: usize, lower: usize) -> bool {
        layer == lower || self.layers.get(layer).is_some_and(|l| l.lower.contains(&lower))
    }

    /// The layer that a text is the book of.
    pub(super) fn layer_of(&self, text: &Arc<Text>) -> Option<usize> {
        self.layers.iter().position(|l| Arc::ptr_eq(&l.text, text))
    }

    /// Notes what is stated or replaced beside another book; an upper book may still settle it.
    pub(super) fn note_clash(&mut self, what: &str, first: &Stand, second: &Stand) {
        if self.stands_on(second.layer, first.layer) {
            return;
        }
        let both_replace =
            self.schema.replaced.iter().any(|r| Arc::ptr_eq(&r.now.0, &first.text) && r.now.1 == first.span);
        let (what, first, second) = (what.to_owned(), first.clone(), second.clone());
        self.clashes.push(Clash { what, first, second, both_replace });
    }

    /// Tells the clashes that no upper book settles by saying itself what is to hold.
    pub(super) fn settle_clashes(&mut self) {
        for clash in std::mem::take(&mut self.clashes) {
            let Clash { what, first, second, both_replace } = clash;
            let settled = self.schema.replaced.iter().any(|r| {
                let upper = self.layer_of(&r.now.0);
                r.what == what
                    && upper.is_some_and(|u| {
                        u != second.layer && self.stands_on(u, first.layer) && self.stands_on(u, second.layer)
                    })
            });
            if settled {
                continue;
            }
            let (one, other) = (&first.text.name, &second.text.name);
            let (say, fix) = if both_replace {
                let say = format!("{one} and {other} both replace {what}, and neither uses the other.");
                let above = match column(&what) {
                    // a column is declared again, without the word
                    Some(kind) => {
                        let line = second.text.text.get(second.span.range()).unwrap_or("").lines().next().unwrap_or("");
                        format!("'rows {kind}' with the line '{}' as it is to be", line.trim())
                    }
                    None => format!("'replace {}'", named(&what)),
                };
                (say, format!("let one of them use the other, or {above} in the book that uses both"))
            } else {
                let say = format!("{other} replaces {what} of {one}, which it does not use.");
                (say, format!("a line 'use …' for {one} in {other}"))
            };
            let problem = Problem::stop("books clash", say);
            self.tell(problem.in_book(&second.text, second.span).in_book(&first.text, first.span).fix(fix));
        }
    }
}

/// The rows whose column is replaced, where it is one.
fn column(what: &str) -> Option<&str> {
    what.strip_prefix("column ")?.split_once(" of ").map(|(_, kind)| kind)
}

/// What is replaced, as a statement names it: without the rows that it is of, and a formula by its name alone.
fn named(what: &str) -> String {
    if let Some((_, table)) = what.strip_prefix("row ").and_then(|row| row.rsplit_once(" of table ")) {
        return format!("rows of table {table}");
    }
    let what = what.split(" of ").next().unwrap_or(what);
    match what.split_once(' ') {
        Some(("formula", name)) => name.to_owned(),
        Some(("definition", name)) => format!("define {name}"),
        _ => what.to_owned(),
    }
}
