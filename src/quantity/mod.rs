//! Exact numbers, units and dimensions, lengths in feet and inches, money, dates.
//!
//! The lowest room: it imports nothing of ours. Functions here fail *without* a place; the caller, who knows
//! the line or the cell, adds it.

pub mod dimension;
pub mod length;
pub mod number;
pub mod show;
pub mod spelling;
pub mod tally;
pub mod unit;

pub use dimension::Dimension;
pub use jiff::civil::Date;
pub use number::{Number, NumberError, Rounding};
pub use rust_decimal::Decimal;
pub use unit::{Ratio, Unit};
