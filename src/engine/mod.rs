//! Program and columns in, columns out.

pub mod column;
pub mod input;
pub mod result;

pub use column::{Chunk, Column, ColumnBuilder, Data, Fault};
pub use input::{InputTable, Inputs, Origin, RawCell, RowProblem, Texts};
pub use result::{Explain, Run};
