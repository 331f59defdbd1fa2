//! What somebody has typed into a priced workbook since it was written, sorted out of all else that was changed in it.

use super::differences::{Change, Difference};
use super::open::{Book, open};
use super::typed::{Held, Of, Typed};
use super::write::InputCells;
use crate::engine::Texts;
use crate::problem::Problem;
use crate::source::CellPlace;
use rustc_hash::FxHashMap;
use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::Arc;

/// Row and column of a cell, from 0.
type At = (u32, u16);

/// Differences of a sheet's input cells: what each cell stands for, and whether its number is a part.
type OnSheet = BTreeMap<At, (Difference, Of, bool)>;

/// Differences of a priced workbook, sorted out.
#[derive(Clone, Debug, Default)]
pub struct Sorted {
    /// Cells that were typed, each as the difference that it is.
    pub typed: Vec<(Difference, Typed)>,
    /// All else.
    pub other: Vec<Difference>,
}

/// Sorts what somebody typed into input cells out of what a priced workbook holds otherwise than the same workbook written
/// again. What stands in rows that are not where they were written is not guessed at.
///
/// # Errors
/// A workbook that cannot be read.
pub fn sorted(name: &str, now: &[u8], differences: Vec<Difference>, cells: &InputCells) -> Result<Sorted, Problem> {
    let moved = cells.moved(&differences);
    let mut out = Sorted::default();
    let mut wanted: BTreeMap<Arc<str>, OnSheet> = BTreeMap::new();
    for difference in differences {
        let cell = difference.place.filter(|_| difference.change == Change::Cell);
        match cell.and_then(|at| Some((at, cells.at(&difference.sheet, at, &moved)?))) {
            Some((at, (of, percent))) => {
                let sheet = wanted.entry(difference.sheet.as_str().into()).or_default();
                sheet.insert(at, (difference, of, percent));
            }
            None => out.other.push(difference),
        }
    }
    if wanted.is_empty() {
        return Ok(out);
    }
    let mut book = open(name, now.to_vec())?;
    let file: Arc<str> = name.rsplit(['/', '\\']).next().unwrap_or(name).into();
    for (sheet, cells) in wanted {
        let found = held_in(&mut book, &sheet, |at| cells.contains_key(&at))?;
        for (at, (difference, of, percent)) in cells {
            let held = match found.get(&at) {
                None => Some(Held::Blank),
                Some(Some(Held::Number(n))) if percent => Some(Held::Percent(*n)),
                Some(held) => held.clone(),
            };
            let place = CellPlace { file: Arc::clone(&file), sheet: Arc::clone(&sheet), row: at.0, column: Some(at.1) };
            match held {
                Some(held) => out.typed.push((difference, Typed { of, held, at: place })),
                None => out.other.push(difference),
            }
        }
    }
    Ok(out)
}

/// What some cells of a sheet hold; nothing in one with an error value.
#[allow(clippy::result_large_err)] // met once a file, not once a cell
fn held_in(book: &mut Book, sheet: &str, wanted: impl Fn(At) -> bool) -> Result<FxHashMap<At, Option<Held>>, Problem> {
    let mut out = FxHashMap::default();
    book.stream(sheet, &mut Texts::default(), &mut |row, cells, texts| {
        for (column, cell) in cells.iter().filter(|(column, _)| wanted((row, *column))) {
            out.insert((row, *column), Held::of(*cell, texts));
        }
        ControlFlow::Continue(())
    })?;
    Ok(out)
}
