//! Workbooks: find headings, read rows, write sheets.

pub mod grid;
pub mod palette;
pub mod write;
