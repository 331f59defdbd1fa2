//! The shape of a room: an outline of walls, and columns that stand free in it.
//!
//! # Conventions
//!
//! - Plan north is up, whatever true north is. A rectangle's **length runs east** and its **width runs north**, as
//!   typed, whichever is longer. Its walls are south and north (each as long as the *length*), west and east (each as
//!   long as the *width*).
//! - `x` is measured east, `y` north, from the south-west corner of the room before its jogs (of its extent, where it
//!   is no rectangle). An alcove on the west or south wall lies below zero.
//! - A jog's offset is measured along its wall **from the wall's west end (south and north walls) or from its south
//!   end (west and east walls)**, so that equal offsets on facing walls face each other.
//! - A wall is a straight face that the ceiling meets. It is named by the side of the room that it is on: the room
//!   lies north of a *south* wall. A column's north face has the room to its north, so it is a south wall too.
//! - The outline runs counterclockwise from its southernmost, then westernmost corner, columns run clockwise: the room is always
//!   on the left hand.
//! - Sides of a perimeter text are numbered from 1, as typed; corner 1 is where side 1 begins.
//!
//! Polygons are clipped by `i_overlay` on 64-bit whole numbers: exact where walls are square to each other, within a
//! tick where they slant. It was taken over `geo` (whose polygon clipping it is) because it works on whole numbers
//! and brings four small crates instead of twenty.

mod clip;
mod fault;
mod jogs;
mod perimeter;
mod room;
mod ticks;
#[cfg(test)]
mod tests;

pub use fault::ShapeFault;
pub use jogs::{Corner, Jog, Place, Way};
pub use room::{MOST_CORNERS, MOST_JOGS, Room, Side, Wall};
pub use ticks::{Point, Ticks};
