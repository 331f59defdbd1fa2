//! The dictionary of texts.

use rustc_hash::{FxHashMap, FxHasher};
use std::hash::Hasher as _;
use std::sync::Arc;

/// The dictionary of texts: each text once, with a number; texts that differ only in case, in spaces at the ends
/// or in the kind of quote compare as equal.
#[derive(Clone, Debug, Default)]
pub struct Texts {
    texts: Vec<Arc<str>>,
    same: Vec<u32>,
    by_text: FxHashMap<Arc<str>, u32>,
    /// The first text of each hash of a folded text: the folded text itself is made again where it is asked for,
    /// since most texts of a sheet have no equal.
    by_folded: FxHashMap<u64, u32>,
    /// Folded texts whose hash another one had first.
    collided: FxHashMap<Box<str>, u32>,
    /// Bytes of the longest text.
    longest: usize,
    /// Whether a text holds [`UNREADABLE`].
    unreadable: bool,
}

/// What stands for a letter that could not be read: half of one, bytes that are none.
pub const UNREADABLE: char = '\u{FFFD}';

impl Texts {
    /// The number of a text, new or old.
    pub fn intern(&mut self, text: &str) -> u32 {
        if let Some(id) = self.by_text.get(text) {
            return *id;
        }
        let id = u32::try_from(self.texts.len()).unwrap_or(u32::MAX);
        let same = self.first_of(text, id, folded_hash(text));
        let shared: Arc<str> = text.into();
        self.texts.push(Arc::clone(&shared));
        self.by_text.insert(shared, id);
        self.same.push(same);
        self.longest = self.longest.max(text.len());
        self.unreadable |= text.contains(UNREADABLE);
        id
    }

    /// Bytes of the longest text met so far.
    #[must_use]
    pub fn longest(&self) -> usize {
        self.longest
    }

    /// Whether a text met so far holds [`UNREADABLE`].
    #[must_use]
    pub fn has_unreadable(&self) -> bool {
        self.unreadable
    }

    /// The first text equal to a new one, which is the new one itself where there is none.
    fn first_of(&mut self, text: &str, id: u32, hash: u64) -> u32 {
        let first = *self.by_folded.entry(hash).or_insert(id);
        if first == id {
            return id;
        }
        let folded = fold(text);
        if fold(&self.texts[first as usize]) == folded {
            return first;
        }
        *self.collided.entry(folded.into_boxed_str()).or_insert(id)
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

/// A hash of a text as it compares; short plain texts are folded without room on the heap.
fn folded_hash(text: &str) -> u64 {
    const SHORT: usize = 64;
    let mut hasher = FxHasher::default();
    if text.is_ascii() && text.len() <= SHORT {
        let mut folded = [0; SHORT];
        let text = text.trim().as_bytes();
        for (to, from) in folded.iter_mut().zip(text) {
            *to = if *from == b'`' { b'\'' } else { from.to_ascii_lowercase() };
        }
        hasher.write(&folded[..text.len()]);
    } else {
        hasher.write(fold(text).as_bytes());
    }
    hasher.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_that_compare_as_equal_share_a_number() {
        let mut texts = Texts::default();
        let id = texts.intern("Room 9`");
        let long = texts.intern(&"Corridor ".repeat(12));
        for (text, first) in [
            (" room 9'".to_owned(), id),
            ("ROOM 9\u{2019}".to_owned(), id),
            ("\u{a0}room 9\u{b4} ".to_owned(), id),
            ("CORRIDOR ".repeat(12), long),
        ] {
            let other = texts.intern(&text);
            assert_ne!(other, first);
            assert_eq!(texts.same(other), first, "{text}");
        }
        let other = texts.intern("Room 9");
        assert_eq!(texts.same(other), other);
        assert_eq!(texts.intern("Room 9`"), id);
    }

    #[test]
    fn texts_of_one_hash_stay_apart() {
        let mut texts = Texts::default();
        let [a, b, c] = ["lobby", "office", "Office "].map(|text| {
            let id = u32::try_from(texts.texts.len()).unwrap();
            let same = texts.first_of(text, id, 7);
            texts.texts.push(text.into());
            same
        });
        assert_eq!((a, b, c), (0, 1, 1));
    }
}
