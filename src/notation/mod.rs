//! Text to tree: split into statements, read each alone, keep going after every mistake; and text to text in one layout.

pub mod keywords;
mod mended;
pub mod parse;
pub mod reader;
pub mod slips;
pub mod split;
pub mod statements;
pub mod tidy;
pub mod tree;
mod twice;
pub mod words;

pub use parse::{read_book, read_expression};
pub use tidy::tidy;
