//! The native trade: what needs geometry or search. Whole numbers and exact decimals alone.

pub mod cutting;
pub mod layout;
pub mod natives;
pub mod shape;
