//! Rules as formulas of a worksheet (ISO/IEC 29500-1, 18.17): what is worked out from cells moves with them.
//!
//! Only what a worksheet can work out to the same value is translated; all else is written as a value. `figures` has the
//! job's figures; `rows` takes a checked program's steps, by way of `term` and `lookup`, to formulas of the rows of each kind, which
//! name fields in place of cells: where a field's cells stand is the writer's to know.

mod figures;
mod lookup;
mod rows;
mod term;

pub use figures::{JobFormula, job_formulas, names_in};
pub use lookup::{LiveTable, TableCell};
pub use rows::{Helped, RowFormulas, in_letters, row_formulas};
pub use term::{Fold, Piece, escapes, quoted};
