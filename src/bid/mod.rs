//! A bid: rules, prices and rooms brought together, worked out, and written with all that it was worked out from.
//!
//! Every command that prices goes this way: [`Rules`] become a [`Ready`] with a price book and a date, which works out as
//! many rooms workbooks as there are; each becomes a [`Worked`], which writes itself.

mod house;
mod rules;
mod prices;
mod ready;
mod starter;
pub mod sums;
mod worked;

pub use house::{BOOK_LIMIT, Files, House, MOST_FILES, ReadFile, STANDARDS_LIMIT};
pub use prices::Prices;
pub use ready::Ready;
pub use rules::{Compiled, Rules, checked, compiled, compiled_to_explain};
pub use starter::{Starter, starter};
pub use worked::{Worked, Written};
