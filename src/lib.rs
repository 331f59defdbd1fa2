//! hardlid: takes off and prices gypsum-board ceilings and soffits on light steel framing.
//!
//! Modules are layers, lowest first; imports point down only.

pub mod quantity;
pub mod source;
pub mod problem;
pub mod notation;
pub mod program;
pub mod engine;
pub mod ceiling;
pub mod pricing;
pub mod drawing;
pub mod system;
pub mod workbook;
pub mod bid;
pub mod working;
pub mod reprice;
pub mod editor;
pub mod command;

/// The native functions that rule books may call: the one place where the layers that have them are named.
#[must_use]
pub fn natives() -> program::native::Natives {
    use ceiling::natives::FAMILIES;
    const ALL: [&[program::native::Native]; 5] =
        [program::native::OWN, FAMILIES[0], FAMILIES[1], FAMILIES[2], FAMILIES[3]];
    &ALL
}
