//! The dictionary of texts.

use rustc_hash::FxHashMap;
use std::sync::Arc;

/// The dictionary of texts: each text once, with a number; texts that differ only in case, in spaces at the ends
/// or in the kind of quote compare as equal.
#[derive(Clone, Debug, Default)]
pub struct Texts {
    texts: Vec<Arc<str>>,
    same: Vec<u32>,
    by_text: FxHashMap<Arc<str>, u32>,
    by_folded: FxHashMap<Box<str>, u32>,
}

impl Texts {
    /// The number of a text, new or old.
    pub fn intern(&mut self, text: &str) -> u32 {
        if let Some(id) = self.by_text.get(text) {
            return *id;
        }
        let id = u32::try_from(self.texts.len()).unwrap_or(u32::MAX);
        let shared: Arc<str> = text.into();
        self.texts.push(Arc::clone(&shared));
        self.by_text.insert(shared, id);
        let same = *self.by_folded.entry(fold(text).into_boxed_str()).or_insert(id);
        self.same.push(same);
        id
    }

    /// The number of a text that is there.
    #[must_use]
    pub fn find(&self, text: &str) -> Option<u32> {
        self.by_text.get(text).copied()
    }

    /// The text of a number.
    #[must_use]
    pub fn get(&self, id: u32) -> &Arc<str> {
        &self.texts[id as usize]
    }

    /// The number that stands for all texts equal to this one.
    #[must_use]
    pub fn same(&self, id: u32) -> u32 {
        self.same[id as usize]
    }
}

/// A text as it compares: without regard to case, spaces at the ends or kind of quote.
#[must_use]
pub fn fold(text: &str) -> String {
    text.trim()
        .chars()
        .map(|c| match c {
            '\u{2018}' | '\u{2019}' | '\u{2032}' | '\u{b4}' | '`' => '\'',
            '\u{201c}' | '\u{201d}' | '\u{2033}' => '"',
            '\u{a0}' | '\u{2007}' | '\u{202f}' => ' ',
            c => c,
        })
        .flat_map(char::to_lowercase)
        .collect()
}
