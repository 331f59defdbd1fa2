//! Program and columns in, columns out.
//!
//! A column is a list of blocks; `kernel` works one step over one block; `run` goes through a program's segments;
//! `explain` turns a fault into words. Nothing here reads a file or a clock.

pub mod column;
pub mod examples;
pub mod explain;
pub mod input;
mod kernel;
mod misses;
pub mod names;
pub mod options;
pub mod reached;
pub mod result;
pub mod run;
pub mod steps;
pub mod things;

pub use column::{Chunk, Column, ColumnBuilder, Data, Fault};
pub use explain::Explainer;
pub use input::{InputTable, Inputs, Origin, RawCell, RowProblem, Texts};
pub use kernel::lookup::Matched;
pub use result::{Explain, Run};
pub use run::Engine;
pub use steps::Steps;
