//! A sheet's cells, whatever the file format.

use std::sync::Arc;

/// One cell as the file holds it.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum Cell {
    /// Nothing.
    #[default]
    Empty,
    /// A number.
    Number(f64),
    /// A text.
    Text(Arc<str>),
    /// Yes or no.
    YesNo(bool),
    /// A date or time, as a serial number counted from 1900 as ISO/IEC 29500 does.
    Date(f64),
    /// An error value such as `#N/A`.
    Error(Arc<str>),
}

/// A whole sheet in memory.
#[derive(Clone, Debug)]
pub struct Grid {
    /// File name as the user gave it.
    pub file: Arc<str>,
    /// Sheet name; empty for csv.
    pub sheet: Arc<str>,
    /// Rows from the top of the sheet, each as long as its last used cell.
    pub rows: Vec<Vec<Cell>>,
}
