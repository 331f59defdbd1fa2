//! The words that a cell of a field may hold, in every spelling of them that is accepted.

use crate::engine::Texts;
use crate::problem::nearest::nearest;
use crate::program::Options;
use crate::source::texts::fold;
use crate::workbook::headings::quoted;
use rustc_hash::FxHashMap;

/// A field's list of words; empty where any text will do.
#[derive(Debug, Default)]
pub(super) struct Words {
    /// By the number of equal texts.
    exact: FxHashMap<u32, u32>,
    /// By spelling, whatever stands between the parts of a word; nothing where that could be either of two words.
    loose: FxHashMap<String, Option<u32>>,
    /// The same by label; a name goes before another option's label.
    by_label: FxHashMap<String, Option<u32>>,
    /// Each word as messages speak of it, and as the book writes it.
    shown: Vec<(String, String)>,
}

impl Words {
    /// The words of a list; where they name options, their labels will do as well.
    pub fn new(list: &[String], options: Option<&Options>, texts: &mut Texts) -> Self {
        let mut out = Self::default();
        let mut names = Vec::new();
        for word in list {
            let id = texts.intern(word);
            out.exact.insert(texts.same(id), id);
            add(&mut out.loose, loose(word), id);
            names.push((word, id));
        }
        for (word, id) in names {
            let choice = options.and_then(|o| o.choices.iter().find(|c| fold(&c.name) == fold(word)));
            let label = choice.map_or(word, |c| &c.label);
            add(&mut out.by_label, loose(label), id);
            out.shown.push((label.clone(), word.clone()));
        }
        out
    }

    pub fn is_empty(&self) -> bool {
        self.exact.is_empty()
    }

    /// The word that a text stands for.
    pub fn find(&self, id: u32, texts: &Texts) -> Option<u32> {
        if let Some(exact) = self.exact.get(&texts.same(id)) {
            return Some(*exact);
        }
        let text = loose(texts.get(id));
        *self.loose.get(&text).or_else(|| self.by_label.get(&text))?
    }

    /// All of them in words.
    pub fn all(&self) -> String {
        quoted(self.shown.iter().map(|(shown, _)| shown.as_str()))
    }

    /// The word that was meant by a text, as messages speak of it.
    pub fn nearest(&self, text: &str) -> Option<&str> {
        let near = nearest(text, self.shown.iter().flat_map(|(shown, word)| [shown.as_str(), word.as_str()]))?;
        self.shown.iter().find(|(shown, word)| shown == near || word == near).map(|(shown, _)| shown.as_str())
    }
}

fn add(words: &mut FxHashMap<String, Option<u32>>, spelling: String, id: u32) {
    words.entry(spelling).and_modify(|known| *known = known.filter(|other| *other == id)).or_insert(Some(id));
}

/// A text as it compares, with one sign for whatever parts its words: hung grid, Hung-Grid and hung_grid are one.
fn loose(text: &str) -> String {
    let parts = |c: char| c.is_whitespace() || matches!(c, '_' | '-' | '\u{2010}'..='\u{2015}' | '\u{2212}');
    let mut out = String::new();
    for c in fold(text).chars() {
        match (parts(c), out.ends_with('_')) {
            (true, true) => {}
            (true, false) => out.push('_'),
            (false, _) => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(list: &[&str], text: &str) -> Option<String> {
        let mut texts = Texts::default();
        let list: Vec<String> = list.iter().map(|w| (*w).to_owned()).collect();
        let words = Words::new(&list, None, &mut texts);
        let id = texts.intern(text);
        words.find(id, &texts).map(|id| texts.get(id).to_string())
    }

    #[test]
    fn spaces_and_hyphens_do_for_underscores() {
        for text in ["hung_grid", "hung grid", " Hung-Grid ", "HUNG \u{2013} GRID", "hung\u{a0}grid", "hung\ngrid"] {
            assert_eq!(found(&["free", "hung_grid"], text).as_deref(), Some("hung_grid"), "{text}");
        }
        for text in ["hunggrid", "hung grids", "", "-", "_hung grid"] {
            assert_eq!(found(&["free", "hung_grid"], text), None, "{text}");
        }
    }

    #[test]
    fn a_spelling_of_two_words_is_neither_and_a_sign_is_no_space() {
        assert_eq!(found(&["a_b", "a-b"], "a-b").as_deref(), Some("a-b"));
        assert_eq!(found(&["a_b", "a-b"], "a b"), None);
        assert_eq!(found(&["1", "2"], "-1"), None);
    }
}
