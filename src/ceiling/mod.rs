//! The native trade: shapes of rooms and where framing goes in them. Whole numbers only; no places, no tables, no prices.

pub mod shape;
pub mod layout;
