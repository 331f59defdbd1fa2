//! A book as it was when it last had no mistakes: what types, words and examples tell of.

use crate::engine::examples::run_examples;
use crate::engine::reached::{InExample, first_values};
use crate::problem::Problem;
use crate::program::reference::{Family, Word, words};
use crate::program::{BookSource, FieldId, Program, compile, compile_to_explain};
use rustc_hash::FxHashMap;
use std::cell::OnceCell;

/// A program, with what is asked of it again and again.
#[derive(Debug)]
pub(super) struct Sound {
    pub(super) program: Program,
    sources: Vec<BookSource>,
    words: OnceCell<Vec<Word>>,
    values: OnceCell<FxHashMap<FieldId, InExample>>,
}

impl Sound {
    pub(super) fn new(program: Program, sources: Vec<BookSource>) -> Self {
        Self { program, sources, words: OnceCell::new(), values: OnceCell::new() }
    }

    /// The words of the language alone, where no book has been sound yet.
    pub(super) fn language() -> Option<Self> {
        compile(Vec::new(), None, crate::natives()).ok().map(|(program, _)| Self::new(program, Vec::new()))
    }

    /// Every word that the book can use.
    pub(super) fn words(&self) -> &[Word] {
        self.words.get_or_init(|| words(&self.program))
    }

    /// What a field has in the first example that leans on it.
    pub(super) fn value(&self, field: FieldId) -> Option<&InExample> {
        let values = || {
            // the same books make the same fields
            let explained = compile_to_explain(self.sources.clone(), crate::natives());
            explained.map_or_else(|_| FxHashMap::default(), |(program, _)| first_values(&program))
        };
        self.values.get_or_init(values).get(&field)
    }

    /// The field of a name in a kind.
    pub(super) fn field(&self, rows: &str, name: &str) -> Option<FieldId> {
        let kind = self.program.schema.kind_named(rows)?;
        self.program.schema.field_named(kind, name)
    }

    /// The word of a name in one of some families; the last one stated, where several rows have one.
    pub(super) fn word(&self, name: &str, families: impl Fn(Family) -> bool) -> Option<&Word> {
        self.words().iter().rev().find(|w| families(w.family) && w.is_called(name))
    }

    /// Runs the book's examples; what fails is a problem each.
    pub(super) fn run_examples(&self) -> Vec<Problem> {
        run_examples(&self.program)
    }
}
