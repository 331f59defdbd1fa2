//! What native functions made, kept once for equal arguments, and by number in columns.

use crate::program::native::{NativeFault, NativeMade, Thing};
use crate::quantity::Number;
use std::fmt;
use std::sync::{Arc, PoisonError, RwLock};

use rustc_hash::FxHashMap;

/// A part of what a native function was asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Part {
    /// Left out or blank.
    Missing,
    /// A number in base units.
    Number(Number),
    /// A text's number in the dictionary.
    Text(u32),
    /// Yes or no.
    YesNo(bool),
    /// A thing's number.
    Thing(u32),
    /// A row begins.
    Row,
    /// The rows of an argument end; those of another may follow.
    RowsEnd,
}

/// What was asked: the function, then its arguments.
pub(super) type Asked = (u32, Vec<Part>);

/// What came of it: a value as a column holds it, or nothing, where the function has none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Made {
    Number(Number),
    YesNo(bool),
    Thing(u32),
    Fault,
}

/// Things by number, and answers already given. What is made under one option lies in a layer of its own over what
/// holds under all, and goes with it.
#[derive(Debug, Default)]
pub struct Things {
    below: Option<Arc<Things>>,
    /// How many things lie in the layers below.
    first: usize,
    /// Read by all cores at once and never moved, so that no core waits for another.
    made: boxcar::Vec<Arc<dyn Thing>>,
    answers: RwLock<FxHashMap<Asked, Made>>,
}

/// What stands for a thing that is not there; a column's numbers never name one.
#[derive(Debug)]
struct Nothing;

impl fmt::Display for Nothing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("nothing")
    }
}

impl Thing for Nothing {}

impl Things {
    /// An empty layer over another, to which nothing is added any more.
    #[must_use]
    pub(super) fn over(below: &Arc<Things>) -> Self {
        Self { first: below.first + below.made.count(), below: Some(Arc::clone(below)), ..Self::default() }
    }

    /// A thing by its number in a column.
    #[must_use]
    pub fn get(&self, number: Number) -> Arc<dyn Thing> {
        let made = self.made(usize::try_from(number.to_decimal().mantissa()).unwrap_or(usize::MAX));
        made.map_or_else(|| Arc::new(Nothing) as Arc<dyn Thing>, Arc::clone)
    }

    /// A thing by its number, lent.
    pub(super) fn lent(&self, number: usize) -> &dyn Thing {
        self.made(number).map_or(&Nothing, |thing| &**thing)
    }

    fn made(&self, number: usize) -> Option<&Arc<dyn Thing>> {
        match number.checked_sub(self.first) {
            Some(at) => self.made.get(at),
            None => self.below.as_ref()?.made(number),
        }
    }

    pub(super) fn known(&self, asked: &Asked) -> Option<Made> {
        let made = self.answers.read().unwrap_or_else(PoisonError::into_inner).get(asked).copied();
        made.or_else(|| self.below.as_ref()?.known(asked))
    }

    /// Keeps an answer, of two given at once the first.
    pub(super) fn remember(&self, asked: Asked, answer: Result<NativeMade, NativeFault>) -> Made {
        let mut answers = self.answers.write().unwrap_or_else(PoisonError::into_inner);
        *answers.entry(asked).or_insert_with(|| self.kept(answer))
    }

    /// An answer as a column holds it.
    pub(super) fn kept(&self, answer: Result<NativeMade, NativeFault>) -> Made {
        match answer {
            Ok(NativeMade::Number(n)) => Made::Number(n),
            Ok(NativeMade::YesNo(v)) => Made::YesNo(v),
            Ok(NativeMade::Thing(thing)) => {
                let number = self.first.saturating_add(self.made.push(thing));
                Made::Thing(u32::try_from(number).unwrap_or(u32::MAX))
            }
            _ => Made::Fault,
        }
    }
}
