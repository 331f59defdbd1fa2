//! A priced workbook as it stands: what it carries, and what an estimator has typed into it since.

use crate::bid::Worked;
use crate::drawing::Painted;
use crate::pricing::OwnEntry;
use crate::problem::Problem;
use crate::workbook::carried::{Carried, Rooms, carried_in};
use crate::workbook::differences::{Difference, differences};
use crate::workbook::hand::own_entries;
use crate::workbook::open::open;
use crate::workbook::taken::sorted;
use crate::workbook::typed::together;
use crate::workbook::write::{InputCells, painted_in, untouched};
use std::collections::BTreeMap;

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

/// What somebody has changed in a priced workbook since it was written, but for what stands beside its lines.
#[derive(Debug)]
pub struct Since {
    /// The rooms, with what was typed over them before and since.
    pub rooms: Rooms,
    /// Input cells that were typed since, each with what was written.
    pub typed: Vec<Difference>,
    /// All else that differs.
    pub other: Vec<Difference>,
    /// Which cells are input cells.
    pub inputs: InputCells,
}

impl Since {
    /// Nothing was.
    #[must_use]
    pub fn nothing(carried: &Carried) -> Self {
        let (rooms, inputs) = (carried.rooms.clone(), InputCells::default());
        Self { rooms, typed: Vec::new(), other: Vec::new(), inputs }
    }

    /// What writing the workbook anew would lose.
    #[must_use]
    pub fn additions(&self) -> Vec<Difference> {
        self.other.iter().filter(|d| d.would_be_lost()).cloned().collect()
    }
}

impl Last {
    /// Reads a priced workbook.
    ///
    /// # Errors
    /// A workbook that cannot be read or carries nothing; an own figure that is none.
    pub fn read(name: &str, bytes: Vec<u8>) -> Result<Self, Problem> {
        Self::of(name, bytes, None)
    }

    /// As [`Last::read`]; what it carries may be known already.
    pub(super) fn of(name: &str, bytes: Vec<u8>, carried: Option<Carried>) -> Result<Self, Problem> {
        let untouched = untouched(&bytes);
        // lines are many, and without figures of an estimator's own there is nothing to look for in them
        let no_own = |carried: &Carried| untouched && carried.own.is_empty();
        let (carried, own) = match carried {
            Some(carried) if no_own(&carried) => (carried, Vec::new()),
            known => {
                let mut book = open(name, bytes.clone())?;
                let carried = known.map_or_else(|| carried_in(&mut book), Ok)?;
                let own = if no_own(&carried) { Vec::new() } else { own_entries(&mut book)? };
                (carried, own)
            }
        };
        Ok(Self { carried, own, untouched, bytes })
    }

    /// The pictures of its plans.
    #[must_use]
    pub fn painted(&self) -> Painted {
        painted_in(&self.bytes)
    }

    /// What was changed since it was written, by the same bid worked out again as it was written.
    ///
    /// # Errors
    /// A workbook that cannot be read or written.
    pub fn since(&self, name: &str, as_written: &Worked<'_>) -> Result<Since, Problem> {
        let again = as_written.again(self.carried.revision, self.painted())?;
        let sorted = sorted(name, &self.bytes, differences(name, &self.bytes, &again.bytes)?, &again.inputs)?;
        let (differences, typed) = sorted.typed.into_iter().unzip();
        let Rooms { file, typed: before } = &self.carried.rooms;
        let rooms = Rooms { file: file.clone(), typed: together(before, typed) };
        Ok(Since { rooms, typed: differences, other: sorted.other, inputs: again.inputs })
    }

    /// Whether an estimator has typed nothing beside its lines since it was written.
    #[must_use]
    pub fn same_own(&self) -> bool {
        let (now, before) = (by_line(&self.own), by_line(&self.carried.own));
        now.len() == before.len()
            && now.iter().zip(&before).all(|((line, a), (other, b))| line == other && a.own == b.own)
    }
}

/// What an entry stands beside: the room, item, code and part of the line, and which of the entries beside lines alike.
///
/// Which of the lines alike it is says no more than their order: sorting the sheet changes it.
pub(super) type OfLine<'e> = (&'e str, &'e str, &'e str, Option<&'e str>, usize);

/// Entries by the lines that they stand beside.
pub(super) fn by_line(entries: &[OwnEntry]) -> BTreeMap<OfLine<'_>, &OwnEntry> {
    let line = |e: &'_ OwnEntry| (e.room.clone(), e.item.clone(), e.code.clone(), e.part.clone());
    let mut all: Vec<&OwnEntry> = entries.iter().collect();
    all.sort_by_key(|e| (line(e), e.nth));
    let mut out: BTreeMap<OfLine<'_>, &OwnEntry> = BTreeMap::new();
    let mut alike = 0;
    for (at, entry) in all.iter().enumerate() {
        let before = at.checked_sub(1).map(|at| all[at]);
        alike = if before.is_some_and(|before| line(before) == line(entry)) { alike + 1 } else { 0 };
        let key = (&*entry.room, &*entry.item, &*entry.code, entry.part.as_deref(), alike);
        out.insert(key, entry);
    }
    out
}
