//! What a yard calls things in its own price list, and what they are called here: from tables of the rule book.

use crate::problem::Problem;
use crate::problem::nearest::nearest;
use crate::program::Schema;
use crate::source::texts::fold;
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// A yard's headings and codes.
#[derive(Clone, Debug, Default)]
pub struct Aliases {
    headings: FxHashMap<String, Arc<str>>,
    codes: FxHashMap<String, Arc<str>>,
    /// Headings of ours that the tables name, in their order.
    named: Vec<Arc<str>>,
}

/// Words of a heading or a code, whatever spaces, line breaks and capitals they are typed with.
fn key(text: &str) -> String {
    fold(&text.split_whitespace().collect::<Vec<_>>().join(" "))
}

impl Aliases {
    /// As the books state them.
    #[must_use]
    pub fn of(schema: &Schema) -> Self {
        let Some(buying) = &schema.buying else { return Self::default() };
        let map = |rows: &[(Arc<str>, Arc<str>)]| {
            rows.iter().map(|(theirs, ours)| (key(theirs), Arc::clone(ours))).collect::<FxHashMap<_, _>>()
        };
        let named = buying.headings.iter().map(|(_, ours)| Arc::clone(ours)).collect();
        Self { headings: map(&buying.headings), codes: map(&buying.codes), named }
    }

    /// What a heading is called here.
    pub(super) fn heading(&self, theirs: &str) -> Option<&str> {
        self.headings.get(&key(theirs)).map(|ours| &**ours)
    }

    /// What a code is called here.
    pub(super) fn code(&self, theirs: &str) -> Option<Arc<str>> {
        self.codes.get(&key(theirs)).map(Arc::clone)
    }

    /// Headings that the tables name and no column of a price book has: a problem each.
    pub(super) fn unknown(&self, known: impl Fn(&str) -> bool, all: &[&str]) -> Vec<Problem> {
        let mut out: Vec<Problem> = Vec::new();
        for ours in self.named.iter().filter(|ours| !known(ours)) {
            let what = format!("The rules read a heading as {ours}, and a price book has no such column.");
            let near = nearest(ours, all.iter().copied()).unwrap_or("Code, Item, Sold by, Pack, Stock length or Cost");
            out.push(Problem::warning("unknown column", what).fix(near.to_owned()));
        }
        out.dedup_by(|a, b| a.what == b.what);
        out
    }
}
