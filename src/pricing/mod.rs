//! Price book, lines, order.

mod block;
pub mod book;
mod breaks;
pub mod buying;
mod checks;
mod cut_rules;
mod cuts;
mod deliveries;
pub mod divide;
mod exact;
pub mod job;
mod labor_rows;
pub mod lines;
mod long;
mod offers;
pub mod options;
mod order;
mod order_lengths;
pub mod own;
mod plan;
pub mod priced;
mod stock_of;
mod used;
mod whole;
mod work;

pub use book::{Break, Crew, Flaw, Found, LaborRate, LaborRow, Overtime, Pack, PriceBook, PriceRow, StatedWaste};
pub use buying::BuyRule;
pub use job::{Lined, price_rows};
pub use lines::{late_checks, price_job, price_lines};
pub use order::{order_and_cuts, order_list};
pub use own::{Own, OwnEntry};
pub(crate) use plan::Measured;
pub use plan::{OLDER_ENDS, PRICE_MISSING, TOLD_APART};
pub use priced::*;
pub use stock_of::take_stock;
pub use whole::beyond_used;
