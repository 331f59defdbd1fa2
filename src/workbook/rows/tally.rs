//! Things that are said once for many cells.

use crate::problem::Problem;
use crate::source::{CellPlace, Place};

/// Places that are kept of one thing; more are counted.
const PLACES_KEPT: usize = 1000;

/// How often something was met, and where.
#[derive(Debug, Default)]
pub(super) struct Tally {
    pub(super) count: u64,
    places: Vec<CellPlace>,
}

impl Tally {
    pub(super) fn add(&mut self, place: impl FnOnce() -> CellPlace) {
        self.count += 1;
        if self.places.len() < PLACES_KEPT {
            self.places.push(place());
        }
    }

    pub(super) fn add_many(&mut self, count: u64, first: impl FnOnce() -> CellPlace) {
        if count > 0 {
            self.add(first);
            self.count += count - 1;
        }
    }

    /// The problem with the places, if anything was met.
    pub(super) fn told(&self, make: impl FnOnce(u64) -> Problem) -> Option<Problem> {
        if self.count == 0 {
            return None;
        }
        let mut problem = make(self.count);
        problem.places.extend(self.places.iter().cloned().map(Place::Cell));
        Some(problem)
    }
}

/// `1 row was`, `3 rows were`.
pub(super) fn counted(count: u64, one: &str, many: &str) -> String {
    let was = if count == 1 { "was" } else { "were" };
    let word = if count == 1 { one } else { many };
    format!("{count} {word} {was}")
}
