//! Reading: every bullet of what reading promises, on workbooks and texts built in memory.
#![allow(clippy::unwrap_used)] // helpers of tests stand outside the test functions

mod common;
#[path = "reading/books.rs"]
mod books;
#[path = "reading/files.rs"]
mod files;
#[path = "reading/random.rs"]
mod random;
#[path = "reading/sheets.rs"]
mod sheets;
#[path = "reading/spelling.rs"]
mod spelling;
#[path = "reading/trouble.rs"]
mod trouble;
#[path = "reading/xlsb.rs"]
mod xlsb;
