//! Tables: those of the rule books that live formulas look things up in, one below the other.

use super::page::{Table, headings, set_up};
use super::{Book, Document, edge, text_of};
use crate::source::column_letters;
use crate::workbook::live::{LiveTable, TableCell};
use rust_xlsxwriter::XlsxError;
use rustc_hash::FxHashMap;

/// Name of the sheet.
pub const TABLES: &str = "Tables";

/// Whether a workbook has the sheet.
pub fn there(doc: &Document<'_>) -> bool {
    !doc.live.tables.is_empty()
}

/// Where tables stand: sheet rows of the first and the last row of each, from 1.
pub fn places(tables: &[LiveTable]) -> FxHashMap<u32, (u32, u32)> {
    let mut next = FIRST;
    let mut out = FxHashMap::default();
    for table in tables {
        let rows = u32::try_from(table.rows.len()).unwrap_or(u32::MAX);
        out.insert(table.number, (next + HEADS + 1, next + HEADS + rows));
        next += HEADS + rows + 1;
    }
    out
}

/// A column of a table as formulas name it; the first is that of the rows' numbers.
pub fn range(column: usize, (first, last): (u32, u32), on_other_sheet: bool) -> String {
    let letters = column_letters(u16::try_from(column).unwrap_or(u16::MAX));
    let sheet = if on_other_sheet { format!("{TABLES}!") } else { String::new() };
    format!("{sheet}${letters}${first}:${letters}${last}")
}

/// Sheet row of the first table's name, from 0: below the heading of the sheet.
const FIRST: u32 = 1;
/// Rows of a table before its own: name, how its keys match, headings.
const HEADS: u32 = 3;

/// Writes Tables.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    book.sheet(TABLES, 0)?;
    let Book { doc, styles, workbook, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let columns = doc.live.tables.iter().map(|t| t.columns.len() + 1).max().unwrap_or(1);
    let columns = u16::try_from(columns).unwrap_or(u16::MAX);
    let heads = (0..columns).map(|at| match at {
        0 => ("Row", 6, &styles.heading_right),
        1 => ("Tables of the rules, by which live cells are worked out", 22, &styles.heading),
        _ => ("", 22, &styles.heading),
    });
    headings(sheet, 0, heads)?;
    let mut row = FIRST;
    for table in &doc.live.tables {
        sheet.write_string_with_format(row, 0, text_of(&table.name.replace('_', " ")), &styles.total_label)?;
        for (at, (name, how)) in (1u16..).zip(&table.columns) {
            sheet.write_string(row + 1, at, how.as_str())?;
            sheet.write_string_with_format(row + 2, at, text_of(name), &styles.total_label)?;
        }
        sheet.write_string_with_format(row + 2, 0, "Row", &styles.total_label)?;
        row += HEADS;
        for (number, cells) in (1u32..).zip(&table.rows) {
            sheet.write_number(row, 0, f64::from(number))?;
            for (at, cell) in (1u16..).zip(cells) {
                match cell {
                    TableCell::Number(n) => sheet.write_number(row, at, edge::number(n))?,
                    TableCell::Text(text) => sheet.write_string(row, at, text_of(text))?,
                    TableCell::YesNo(v) => sheet.write_boolean(row, at, *v)?,
                };
            }
            row += 1;
        }
        row += 1;
    }
    set_up(sheet, doc, styles, Table { heading: 0, rows: row.saturating_sub(1), columns, frozen: 1, typed: &[] })
}
