//! A priced workbook as it stands: what it carries, and what an estimator has typed into it since.

use crate::drawing::Painted;
use crate::pricing::OwnEntry;
use crate::problem::Problem;
use crate::workbook::carried::{Carried, carried_in};
use crate::workbook::hand::own_entries;
use crate::workbook::open::open;
use crate::workbook::write::{painted_in, untouched};

/// A priced workbook.
#[derive(Debug)]
pub struct Last {
    /// What it carries.
    pub carried: Carried,
    /// What stands beside its lines now.
    pub own: Vec<OwnEntry>,
    /// Whether it is as it was written: nobody has saved it since.
    pub untouched: bool,
    /// The file.
    pub bytes: Vec<u8>,
}

impl Last {
    /// Reads a priced workbook.
    ///
    /// # Errors
    /// A workbook that cannot be read or carries nothing; an own figure that is none.
    pub fn read(name: &str, bytes: Vec<u8>) -> Result<Self, Problem> {
        let untouched = untouched(&bytes);
        let mut book = open(name, bytes.clone())?;
        let carried = carried_in(&mut book)?;
        // lines are many, and without figures of an estimator's own there is nothing to look for in them
        let own = if untouched && carried.own.is_empty() { Vec::new() } else { own_entries(&mut book)? };
        Ok(Self { carried, own, untouched, bytes })
    }

    /// The pictures of its plans.
    #[must_use]
    pub fn painted(&self) -> Painted {
        painted_in(&self.bytes)
    }

    /// Whether an estimator has typed nothing since it was written.
    #[must_use]
    pub fn same_own(&self) -> bool {
        let figures = |entries: &[OwnEntry]| {
            // which of lines alike it is comes last, since sorting the lines changes it
            let mut all: Vec<&OwnEntry> = entries.iter().collect();
            all.sort_by_key(|e| (&e.room, &e.item, &e.code, &e.part, e.nth));
            let key = |e: &OwnEntry| (e.room.clone(), e.item.clone(), e.code.clone(), e.part.clone(), e.own.clone());
            all.into_iter().map(key).collect::<Vec<_>>()
        };
        figures(&self.own) == figures(&self.carried.own)
    }
}
