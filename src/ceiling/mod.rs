//! The native trade: what needs geometry or search. Whole numbers and exact decimals alone; no places, no prices.

pub mod shape;
pub mod layout;
pub mod cutting;
