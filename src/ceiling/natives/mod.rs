//! What rule books may ask of native geometry: one record a function.
//!
//! `room_shape` makes a shape, `lay_out` frames it, `lay_board` covers it; the other functions ask about what these
//! made. Conventions of walls and directions are those of [`super::shape`].

mod board;
mod given;
mod laid;
mod laying;
mod outline;

pub use board::{BOARD, Boarded};
pub use laying::{Framed, LAYOUT};

use crate::program::native::Native;

/// All of them, a family at a time.
pub const FAMILIES: [&[Native]; 4] = [outline::RECORDS, laying::RECORDS, laid::RECORDS, board::RECORDS];
