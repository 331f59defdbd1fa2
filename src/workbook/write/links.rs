//! Links from a room to its lines and to its plan. Where they lead is made here from numbers of rows: no text of the
//! input is part of it, and the cells hold what they held.

use super::Document;
use super::layout::{Layout, TableLayout};
use super::plans::plan_row;
use rust_xlsxwriter::{Url, Worksheet, XlsxError};

/// Links that a sheet may have by the file format, less some room.
pub const MOST_LINKS: usize = 60_000;

/// What a pointer over a link to lines is told.
const LINES_TIP: &str = "Its lines";
/// What a pointer over a link to a plan is told.
const PLAN_TIP: &str = "Its plan";

/// The column that names a room, among those that were read.
pub fn key_column(doc: &Document<'_>, table: &TableLayout) -> Option<u16> {
    let kind = doc.schema.kind(table.kind);
    let columns = &doc.inputs.tables.get(table.table)?.origin.columns;
    let key =
        columns.iter().position(|c| c.field.and_then(|f| kind.fields.get(f)).is_some_and(|f| kind.key == Some(*f)));
    key.map(|at| table.raw_column(at))
}

/// For each room the row of its first line, with the sheet that it stands on.
fn first_lines(doc: &Document<'_>, layout: &Layout, rooms: usize) -> Vec<Option<String>> {
    let mut first: Vec<Option<usize>> = vec![None; rooms];
    for (at, line) in doc.priced.lines.iter().enumerate() {
        if let Some(first) = line.room.and_then(|room| first.get_mut(room as usize)) {
            first.get_or_insert(at);
        }
    }
    first.into_iter().map(|at| layout.lines.address(at?)).collect()
}

/// Puts the links of the rooms in place, before their cells are written: the number of a room leads to its lines, its name
/// to its plan.
pub fn rooms(sheet: &mut Worksheet, doc: &Document<'_>, layout: &Layout, table: &TableLayout) -> Result<(), XlsxError> {
    let rooms = table.rows as usize;
    let mut left = MOST_LINKS;
    let mut link = |row: u32, at: u16, to: String, tip: &str| -> Result<(), XlsxError> {
        if left > 0 {
            left -= 1;
            sheet.write_url(table.row(row), at, Url::new(to).set_tip(tip))?;
            // the link stays; the cell is written with all others
            sheet.clear_cell(table.row(row), at);
        }
        Ok(())
    };
    if table.numbered {
        for (row, to) in (0u32..).zip(first_lines(doc, layout, rooms)) {
            if let Some(to) = to {
                link(row, 0, format!("internal:{to}"), LINES_TIP)?;
            }
        }
    }
    let Some(key) = key_column(doc, table) else { return Ok(()) };
    for (plan, of) in (0..).zip(doc.plans.iter().take(super::MOST_PLANS)) {
        for row in of.rooms.iter().filter_map(|r| r.row).filter(|row| *row < table.rows) {
            link(row, key, format!("internal:Plans!A{}", plan_row(plan) + 1), PLAN_TIP)?;
        }
    }
    Ok(())
}
