//! As read: the cells that rules read, as they were when the job was priced, on a sheet that is not shown.
//!
//! Beside each row of a table stands whether its cells are still the same. What is worked out for a row is a value where no
//! worksheet can work it out, so a row that somebody changed must not look as if it were priced.

use super::cells::{Cells as _, InSheet};
use super::layout::{Layout, TableLayout, quoted};
use super::rooms::raw_cell;
use super::{Book, Document, edge, job, prices};
use crate::engine::{InputTable, RawCell};
use crate::program::FieldId;
use crate::quantity::Number;
use crate::source::column_letters;
use rust_xlsxwriter::XlsxError;
use std::fmt::Write as _;

/// Name of the sheet.
pub const AS_READ: &str = "As read";

/// What stands beside a row whose cells were changed.
pub const CHANGED: &str = "changed: price again";

/// Most columns of a table that are watched: a formula is no longer than 8,192 characters.
const MOST_COLUMNS: usize = 150;

/// The columns of a table that rules read, and the one that names the row it belongs to; none where they are not watched.
pub fn watched(doc: &Document<'_>, table: &InputTable) -> Vec<usize> {
    let kind = doc.schema.kind(table.kind);
    if kind.single || table.rows == 0 || table.rows > doc.limits.watched_rows {
        return Vec::new();
    }
    let columns = table.origin.columns.iter().enumerate();
    let read: Vec<usize> =
        columns.filter(|(_, c)| c.field.is_some() || kind.names_parent(&c.heading)).map(|(at, _)| at).collect();
    if read.len() > MOST_COLUMNS { Vec::new() } else { read }
}

/// Whether a workbook has the sheet.
pub fn there(doc: &Document<'_>) -> bool {
    doc.inputs.tables.iter().any(|table| !watched(doc, table).is_empty())
}

/// Writes As read: the tables side by side, each cell in the row that it has on its own sheet.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let Book { doc, layout, styles, workbook, .. } = book;
    let tables: Vec<&TableLayout> = layout.tables().filter(|t| !t.watched.is_empty()).collect();
    let sheet = workbook.add_worksheet();
    sheet.set_name(AS_READ)?;
    sheet.set_hidden(true);
    sheet.set_formula_result_default("");
    let mut cells = InSheet { sheet, styles };
    for table in tables {
        let input = &doc.inputs.tables[table.table];
        for row in 0..table.rows {
            for (to, from) in (table.copies..).zip(&table.watched) {
                let cells_of = &input.origin.columns[*from].cells;
                let cell = cells_of.get(row as usize).copied().unwrap_or(RawCell::Empty);
                raw_cell(doc, &mut cells, (table.row(row), to), cell)?;
            }
        }
    }
    let mut formula = String::new();
    for table in layout.tables() {
        for (to, (id, from)) in (table.helps..).zip(&table.helped) {
            for row in 0..table.rows {
                help(doc, table, (*id, *from), row, &mut formula);
                let value = doc.run.number(doc.schema, *id, row as usize).ok();
                let value = value.zip(doc.live.helped.get(id)).and_then(|(v, h)| v.over(&h.unit).ok());
                let mut text = String::new();
                if let Some(value) = value {
                    edge::float_text(&mut text, edge::number(&value));
                }
                cells.formula((table.row(row), to), &formula, &text)?;
            }
        }
    }
    if let Some(copy) = layout.cost_copies {
        for (row, price) in prices::rows(doc) {
            cells.number((row, copy), edge::number(&price.cost))?;
            if let Some((hours, _)) = &price.hours {
                cells.number((row, copy + 1), edge::number(hours))?;
            }
        }
    }
    Ok(())
}

/// The formula of the value of an input cell that is no plain number: a number that is typed over it, and else what it was
/// read as; nothing where it was taken out.
fn help(doc: &Document<'_>, table: &TableLayout, (id, from): (FieldId, usize), row: u32, out: &mut String) {
    out.clear();
    let Some(helped) = doc.live.helped.get(&id) else { return };
    let n = table.row(row) + 1;
    let cell = format!("{}!{}{n}", quoted(&table.sheet), column_letters(table.raw_column(from)));
    let copy = table.watched.iter().position(|w| *w == from).and_then(|at| u16::try_from(at).ok()).unwrap_or(0);
    let copy = format!("{}{n}", column_letters(table.copies.saturating_add(copy)));
    let mut read = String::new();
    let value = doc.run.number(doc.schema, id, row as usize).ok().and_then(|v| v.over(&helped.unit).ok());
    match value {
        Some(value) => edge::float_text(&mut read, edge::number(&value)),
        None => read.push_str("\"\""),
    }
    // a text that somebody typed is not read here: the row says that it was changed, and stays as it was until it is priced
    // again
    let as_read = format!("IF(AND({cell}=\"\",{copy}<>\"\"),\"\",{read})");
    match &helped.typed {
        Some(by) if *by == Number::ONE => {
            let _ = write!(out, "IF(ISNUMBER({cell}),{cell},{as_read})");
        }
        Some(by) => {
            let factor = edge::text(edge::number(by));
            let _ = write!(out, "IF(ISNUMBER({cell}),{cell}*{factor},{as_read})");
        }
        None => out.push_str(&as_read),
    }
}

/// The condition that a cell of a row, from 1, is as it was, which a column of the sheet holds in the same row.
pub fn same(here: u16, there: u16, row: u32) -> String {
    format!("EXACT({}{row},'{AS_READ}'!{}{row})", column_letters(here), column_letters(there))
}

/// The formula that says whether a condition holds still.
pub fn unless(holds: &str) -> String {
    format!("IF({holds},\"\",\"{CHANGED}\")")
}

/// The formula that says whether a row is as it was read; `out` is emptied first.
pub fn since(table: &TableLayout, row: u32, out: &mut String) {
    let at = table.row(row) + 1;
    out.clear();
    out.push_str("IF(AND(");
    for (i, (copy, from)) in (table.copies..).zip(&table.watched).enumerate() {
        let comma = if i > 0 { "," } else { "" };
        let (here, there) = (column_letters(table.raw_column(*from)), column_letters(copy));
        let _ = write!(out, "{comma}EXACT({here}{at},'{AS_READ}'!{there}{at})");
    }
    let _ = write!(out, "),\"\",\"{CHANGED}\")");
}

/// What the Bid says of changes since pricing, as a formula; nothing where nothing is watched.
pub fn told(doc: &Document<'_>, layout: &Layout) -> Option<String> {
    let watched = layout.tables().filter_map(|t| Some(format!("COUNTIF({},\"{CHANGED}\")", t.range(t.since()?))));
    let rows: Vec<String> = watched.collect();
    let rows = (!rows.is_empty()).then(|| rows.join("+"));
    let counts = [(rows, "Rows"), (job::changed(doc), "Settings")];
    let of_counts = counts.into_iter().filter_map(|(count, what)| {
        let count = count?;
        Some(format!("IF({count}=0,\"\",\"{what} changed since pricing: \"&({count})&\". Price again. \")"))
    });
    let of_prices = layout.cost_copies.map(|_| {
        let prices = prices::changed(doc);
        format!("IF({prices}=0,\"\",\"Prices changed: \"&({prices})&\". What is built and cut was chosen at the first ones.\")")
    });
    let all: Vec<String> = of_counts.chain(of_prices).collect();
    (!all.is_empty()).then(|| all.join("&"))
}
