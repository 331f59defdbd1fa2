//! Price book, lines, order.

pub mod priced;

pub use priced::*;
