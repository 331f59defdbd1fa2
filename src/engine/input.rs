//! Rows as they were read: typed columns, and where each cell came from.

use super::column::Column;
use crate::problem::Problem;
use crate::program::KindId;
use crate::source::CellPlace;
pub use crate::source::texts::{Texts, fold};
use std::sync::Arc;

/// A cell as it stood in the workbook, for the input columns of the priced one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RawCell {
    /// Nothing.
    Empty,
    /// A number, as stored.
    Number(f64),
    /// A number, as stored, in a cell that shows it as a percentage: 0.1 that is seen as 10%.
    Percent(f64),
    /// A text, by its number in the dictionary.
    Text(u32),
    /// Yes or no.
    YesNo(bool),
    /// A date, as the serial number of a spreadsheet.
    Date(f64),
    /// An error value, by the number of its text.
    Error(u32),
}

/// A column of the sheet that was read, named in the book or not.
#[derive(Clone, Debug)]
pub struct RawColumn {
    /// Its heading as typed, in one line.
    pub heading: String,
    /// Column of the sheet, from 0.
    pub column: u16,
    /// The input field that it serves: index into [`InputTable::columns`].
    pub field: Option<usize>,
    /// Its cells, a row each.
    pub cells: Vec<RawCell>,
    /// File and sheet, where they are not the table's: values of the job that the price book gives.
    pub elsewhere: Option<(Arc<str>, Arc<str>)>,
}

/// Where a table was read from.
#[derive(Clone, Debug)]
pub struct Origin {
    /// File name.
    pub file: Arc<str>,
    /// Sheet name.
    pub sheet: Arc<str>,
    /// Row of the headings, from 0; [`Origin::LIST`] for a list of names and values, which has none.
    pub heading_row: u32,
    /// Sheet row of each table row, from 0; for a list the sheet row of each of `columns`.
    pub rows: Vec<u32>,
    /// Every column of the sheet that has a heading, in sheet order.
    pub columns: Vec<RawColumn>,
}

impl Origin {
    /// The `heading_row` of a list of names and values (the job), where each column has a row of its own.
    pub const LIST: u32 = u32::MAX;

    /// The cell of a field in a row; the whole row when the sheet has no column for it.
    #[must_use]
    pub fn cell(&self, row: usize, field: Option<usize>) -> CellPlace {
        let at = field.and_then(|f| self.columns.iter().position(|c| c.field == Some(f)));
        let column = at.map(|i| self.columns[i].column);
        if self.heading_row == Self::LIST {
            let row = at.or(Some(0)).and_then(|i| self.rows.get(i)).copied().unwrap_or(0);
            let elsewhere = at.and_then(|i| self.columns[i].elsewhere.as_ref());
            let (file, sheet) = elsewhere.map_or((&self.file, &self.sheet), |(file, sheet)| (file, sheet));
            return CellPlace { file: Arc::clone(file), sheet: Arc::clone(sheet), row, column };
        }
        CellPlace {
            file: Arc::clone(&self.file),
            sheet: Arc::clone(&self.sheet),
            row: self.rows.get(row).copied().unwrap_or(self.heading_row),
            column,
        }
    }
}

/// The rows of one kind.
#[derive(Clone, Debug)]
pub struct InputTable {
    /// The kind.
    pub kind: KindId,
    /// How many rows.
    pub rows: usize,
    /// One column for each *input* field of the kind, in the order of the kind's `fields`.
    pub columns: Vec<Column>,
    /// For a kind that belongs to another: the parent's row, for each row.
    pub parents: Vec<u32>,
    /// Rows that have no price because something in them could not be read.
    pub stopped: Vec<bool>,
    /// Where they came from.
    pub origin: Origin,
}

impl InputTable {
    /// Whether another reading of it gave the same, by the same dictionary.
    #[must_use]
    pub fn reads_the_same(&self, other: &Self) -> bool {
        // columns that no field reads travel as they are
        let free = |table: &Self| -> Vec<Vec<RawCell>> {
            table.origin.columns.iter().filter(|c| c.field.is_none()).map(|c| c.cells.clone()).collect()
        };
        let is_list = self.origin.heading_row == Origin::LIST;
        let values = (&self.columns, &self.parents, &self.stopped) == (&other.columns, &other.parents, &other.stopped);
        values && (is_list || free(self) == free(other))
    }
}

/// A problem of the input, and the row that it stops if it stops one.
#[derive(Clone, Debug)]
pub struct RowProblem {
    /// What is wrong.
    pub problem: Problem,
    /// The row that it speaks of.
    pub row: Option<(KindId, u32)>,
}

/// Everything read for a run.
#[derive(Clone, Debug, Default)]
pub struct Inputs {
    /// A table for each kind that is read, in the order of the kinds; a kind without a sheet has no rows.
    pub tables: Vec<InputTable>,
    /// The dictionary that their text columns and raw cells use.
    pub texts: Arc<Texts>,
    /// What was wrong, and what was left out.
    pub problems: Vec<RowProblem>,
}
