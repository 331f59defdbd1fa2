//! Workbooks: find headings, read rows, write sheets.

pub mod carried;
pub mod differences;
pub mod grid;
pub mod hand;
pub mod headings;
pub mod live;
pub mod open;
pub mod palette;
pub mod prices;
pub mod rows;
pub mod taken;
pub mod typed;
pub mod variance;
pub mod write;
