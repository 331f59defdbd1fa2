//! The price book that a bid is priced by.

use crate::pricing::PriceBook;
use crate::problem::{Problem, Weight};
use crate::program::Schema;
use crate::quantity::Date;
use crate::workbook::carried::File;
use crate::workbook::grid::Grid;
use crate::workbook::open::open;
use crate::workbook::prices::aliases::Aliases;
use crate::workbook::prices::read_price_list;

/// A price book, read for a pricing date.
#[derive(Clone, Debug)]
pub struct Prices {
    /// The book.
    pub book: PriceBook,
    /// The file that it was read from, whose Job sheet serves the job.
    pub file: File,
    /// What was found wrong with rows of it.
    pub told: Vec<Problem>,
}

impl Prices {
    /// Reads a price book; the rules say by what words of a yard's.
    ///
    /// # Errors
    /// A file that is no price book.
    pub fn read(file: &File, as_of: Date, schema: &Schema) -> Result<Self, Vec<Problem>> {
        let mut workbook = open(&file.name, file.bytes.to_vec()).map_err(|p| vec![p])?;
        let sheets: Vec<_> = workbook.sheet_names().to_vec();
        let grids: Vec<Grid> =
            sheets.iter().map(|s| workbook.grid(s)).collect::<Result<_, _>>().map_err(|p| vec![p])?;
        let (book, told) = read_price_list(&grids, as_of, &Aliases::of(schema));
        if told.iter().any(|p| p.weight == Weight::Stop) {
            return Err(told);
        }
        Ok(Self { book, file: file.clone(), told })
    }
}
