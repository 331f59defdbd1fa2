//! The native trade: shapes of rooms, where framing goes in them, how pieces are cut. Whole numbers and exact decimals
//! alone; no places, no tables, no prices.

pub mod cutting;
pub mod layout;
pub mod natives;
pub mod shape;
