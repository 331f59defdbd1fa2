//! hardlid: takes off and prices gypsum-board ceilings and soffits on light steel framing.
//!
//! Modules are layers, lowest first; imports point down only.

pub mod engine;
pub mod pricing;
pub mod problem;
pub mod program;
pub mod quantity;
pub mod source;
pub mod system;
pub mod workbook;
