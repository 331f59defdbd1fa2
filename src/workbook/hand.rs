//! What an estimator typed beside the lines of a priced workbook.

use super::open::Book;
use crate::engine::{RawCell, Texts};
use crate::pricing::own::sheet_row;
use crate::pricing::{LUMP_SUM, Own, OwnEntry};
use crate::problem::Problem;
use crate::quantity::Number;
use crate::quantity::show::decimal_text;
use crate::quantity::spelling::{decimal_of, read_number};
use crate::source::CellPlace;
use rustc_hash::FxHashMap;
use std::ops::ControlFlow;
use std::sync::Arc;

/// Headings of the sheet Lines by which entries are found again.
const ROOM: &str = "room";
const ITEM: &str = "item or work";
const CODE: &str = "code";
const UNIT: &str = "unit";
const PART: &str = "part";
const NEED: &str = "need";
const OWN_QUANTITY: &str = "own quantity";
const OWN_COST: &str = "own unit cost";
const OWN_NOTE: &str = "own note";

/// The lines met so far that are alike in room, item and code, with the row of the room that each stands for.
type Seen = FxHashMap<(String, String, String), Vec<Option<u32>>>;

/// Reads every entry typed by hand on Lines and the sheets on which it goes on.
///
/// # Errors
/// A workbook that cannot be read; an entry that is no number or below zero, with its cell.
pub fn own_entries(book: &mut Book) -> Result<Vec<OwnEntry>, Problem> {
    let sheets: Vec<Arc<str>> = book.sheet_names().iter().filter(|s| is_lines(s)).cloned().collect();
    let mut texts = Texts::default();
    let mut out = Vec::new();
    let mut seen = Seen::default();
    for sheet in sheets {
        let file = Arc::clone(book.file());
        let mut columns: Option<FxHashMap<u16, &'static str>> = None;
        let mut failed = None;
        book.stream(&sheet, &mut texts, &mut |row, cells, texts| {
            let Some(named) = &columns else {
                columns = headings(cells, texts);
                return ControlFlow::Continue(());
            };
            let place =
                |column| CellPlace { file: Arc::clone(&file), sheet: Arc::clone(&sheet), row, column: Some(column) };
            match entry(cells, named, texts, &mut seen, &place) {
                Ok(found) => {
                    out.extend(found);
                    ControlFlow::Continue(())
                }
                Err(problem) => {
                    failed = Some(problem);
                    ControlFlow::Break(())
                }
            }
        })?;
        if let Some(problem) = failed {
            return Err(*problem);
        }
    }
    for entry in &mut out {
        ranked(entry, &seen);
    }
    Ok(out)
}

/// Which of the lines alike an entry's is once all are known: sorting the sheet has not moved the rows that they stand for.
fn ranked(entry: &mut OwnEntry, seen: &Seen) {
    let Some(alike) = seen.get(&(entry.room.clone(), entry.item.clone(), entry.code.clone())) else { return };
    entry.alike = u32::try_from(alike.len()).ok();
    if let Some(row) = entry.part.as_deref().and_then(sheet_row) {
        let before = alike.iter().enumerate().filter(|(at, other)| {
            let at = u32::try_from(*at).unwrap_or(u32::MAX);
            (**other, at) < (Some(row), entry.nth)
        });
        entry.nth = u32::try_from(before.count()).unwrap_or(u32::MAX);
    }
}

/// A heading without its unit, case and line breaks: `own unit cost`.
pub(super) fn plain_heading(text: &str) -> String {
    let heading = super::headings::one_line(text).to_lowercase();
    heading.split('(').next().unwrap_or("").trim().to_owned()
}

pub(super) fn is_lines(sheet: &str) -> bool {
    sheet == "Lines" || sheet.strip_prefix("Lines ").is_some_and(|n| n.parse::<u32>().is_ok())
}

/// The columns of a heading row, when this is one.
fn headings(cells: &[(u16, RawCell)], texts: &Texts) -> Option<FxHashMap<u16, &'static str>> {
    const ALL: [&str; 9] = [ROOM, ITEM, CODE, UNIT, OWN_QUANTITY, OWN_COST, OWN_NOTE, PART, NEED];
    let mut out = FxHashMap::default();
    for (column, cell) in cells {
        let RawCell::Text(id) = cell else { continue };
        let heading = plain_heading(texts.get(*id));
        if let Some(name) = ALL.iter().find(|n| **n == heading) {
            out.insert(*column, *name);
        }
    }
    // what a line stands for is not on every sheet
    let found = |name: &str| out.values().any(|n| *n == name);
    ALL[..7].iter().all(|name| found(name)).then_some(out)
}

fn entry(
    cells: &[(u16, RawCell)],
    columns: &FxHashMap<u16, &'static str>,
    texts: &Texts,
    seen: &mut Seen,
    place: &dyn Fn(u16) -> CellPlace,
) -> Result<Option<OwnEntry>, Box<Problem>> {
    let (mut room, mut item, mut code, mut unit) = (String::new(), String::new(), String::new(), String::new());
    let (mut part, mut need) = (None, None);
    let mut own = Own::default();
    let mut at = None;
    let mut numbers = Vec::new();
    for (column, cell) in cells {
        let Some(name) = columns.get(column) else { continue };
        let text = || cell_text(*cell, texts);
        match *name {
            ROOM => room = text(),
            ITEM => item = text(),
            CODE => code = text(),
            UNIT => unit = text(),
            PART => part = Some(text()).filter(|t| !t.trim().is_empty()),
            NEED => need = number(*cell, texts).ok().flatten(),
            OWN_NOTE => own.note = Some(text()).filter(|t| !t.trim().is_empty()).map(Arc::from),
            _ => {
                let value = number(*cell, texts).map_err(|()| {
                    let what = format!("The {name} for {item} in room {room} is no number.");
                    Box::new(
                        Problem::stop("own figure not understood", what)
                            .at_cell(place(*column))
                            .found(text())
                            .fix("a number, or an empty cell"),
                    )
                })?;
                if *name == OWN_QUANTITY {
                    own.quantity = value
                } else {
                    own.unit_cost = value
                }
                numbers.push((*column, *name));
            }
        }
        if !matches!(*name, ROOM | ITEM | CODE | UNIT | PART | NEED) && at.is_none() {
            at = Some(*column);
        }
    }
    if item.is_empty() {
        return Ok(None);
    }
    // columns may stand in any order: whether a lump sum is spoken of is known now
    for (column, name) in numbers {
        let (value, credit) = match name {
            OWN_QUANTITY => (own.quantity, false),
            _ => (own.unit_cost, unit.trim() == LUMP_SUM),
        };
        if let Some(value) = value.filter(|value| value.is_negative() && !credit) {
            return Err(Box::new(below_zero((name, &value), (&item, &room), place(column))));
        }
    }
    let alike = seen.entry((room.clone(), item.clone(), code.clone())).or_default();
    let nth = u32::try_from(alike.len()).unwrap_or(u32::MAX);
    alike.push(part.as_deref().and_then(sheet_row));
    let Some(column) = at.filter(|_| own != Own::default()) else { return Ok(None) };
    Ok(Some(OwnEntry { room, item, code, unit, nth, part, alike: None, need, own, place: place(column) }))
}

/// A quantity or price below zero is a slip; what is taken off a bid is a lump sum.
fn below_zero((name, value): (&str, &Number), (item, room): (&str, &str), place: CellPlace) -> Problem {
    let what = format!("The {name} for {item} in room {room} is below zero.");
    let fix = if name == OWN_QUANTITY {
        "zero or more, or an empty cell; what is taken off the bid is a lump sum of the rules, lump -$100"
    } else {
        "zero or more, or an empty cell; what is taken off the bid is the cost of a lump sum"
    };
    Problem::stop("own figure below zero", what).at_cell(place).found(decimal_text(value, 4).text).fix(fix)
}

fn cell_text(cell: RawCell, texts: &Texts) -> String {
    match cell {
        RawCell::Text(id) | RawCell::Error(id) => texts.get(id).to_string(),
        RawCell::Number(n) | RawCell::Percent(n) | RawCell::Date(n) => n.to_string(),
        RawCell::YesNo(v) => if v { "yes" } else { "no" }.to_owned(),
        RawCell::Empty => String::new(),
    }
}

/// A number as stored, to the figures that its shortest text has.
fn number(cell: RawCell, texts: &Texts) -> Result<Option<Number>, ()> {
    match cell {
        RawCell::Empty => Ok(None),
        RawCell::Number(n) | RawCell::Percent(n) => decimal_of(n).map(|d| Some(Number::from(d))).ok_or(()),
        RawCell::Text(id) if texts.get(id).trim().is_empty() => Ok(None),
        RawCell::Text(id) => read_number(texts.get(id)).map(Some).map_err(|_| ()),
        _ => Err(()),
    }
}
