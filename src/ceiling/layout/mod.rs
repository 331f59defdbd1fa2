//! Where framing and board go in a room.
//!
//! # Conventions
//!
//! - A tee lies on a line; lines are whole multiples of the spacing from the starting wall ([`Room::start`]), on both
//!   sides of it where an alcove goes back behind it. On a line there is a tee wherever the room is clear on *both*
//!   sides of the line: none runs along the face of a column. One line can have several tees.
//! - Strongbacks, mains and channels run at right angles to tees, tees' parts being equal over the room's extent.
//! - Wires step from the starting wall; the last one moves back to its own place at the far end.
//! - A part that would make more than [`MOST_PARTS`] pieces is refused.

mod angle;
mod board;
mod build;
mod check;
mod frame;
mod framing;
mod openings;
mod result;
mod scan;
mod stations;
mod tees;
mod totals;

pub use framing::{BoardRule, ChannelRule, End, Framing, Laps, Opening, Scheme, Stock, TeesRun};
pub use result::{
    AngleKind, AnglePiece, Board, BoardBasis, Cut, CutTee, Hang, HangKind, Kind, Layout, Member, Note, OpeningFit,
    OpeningPiece, Sheet, Splice, SpliceKind, WallFit, Weight,
};

use crate::ceiling::shape::{Room, Ticks};
use std::fmt;

/// The most members, hangs and pieces of angle that one layout may have, each.
pub const MOST_PARTS: usize = 200_000;
/// The most openings that one layout may have.
pub const MOST_OPENINGS: usize = 2_000;

/// Why a room cannot be laid out with what was given. The caller adds the cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LayoutFault {
    /// A figure that must be above zero, or at least so much.
    TooSmall {
        /// What it is, `the tee spacing`.
        what: &'static str,
        /// As given.
        size: Ticks,
        /// The least.
        least: Ticks,
    },
    /// No sheet on offer reaches from one tee to the next.
    NoSheet {
        /// The tee spacing.
        spacing: Ticks,
    },
    /// A figure beyond [`Ticks::LONGEST`].
    TooLong {
        /// What it is.
        what: &'static str,
    },
    /// More parts than are laid out.
    TooMany {
        /// What there are too many of.
        what: &'static str,
        /// The most.
        most: usize,
    },
}

impl fmt::Display for LayoutFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooSmall { what, size, least } => write!(f, "{what} is {size}; {least} is the least."),
            Self::TooLong { what } => write!(f, "{what} is longer than {}, the most that is laid out.", Ticks::LONGEST),
            Self::NoSheet { spacing } => {
                write!(f, "No sheet on offer reaches from tee to tee at {spacing} o.c.")
            }
            Self::TooMany { what, most } => {
                write!(f, "The room would take more than {most} {what}, the most that is laid out.")
            }
        }
    }
}

impl std::error::Error for LayoutFault {}

/// Lays a room out.
///
/// # Errors
/// Figures that are zero, below zero or absurd; more parts than [`MOST_PARTS`].
pub fn lay_out(room: &Room, framing: &Framing, openings: &[Opening]) -> Result<Layout, LayoutFault> {
    check::framing(framing)?;
    check::openings(openings)?;
    let mut builder = build::Builder::new(room, framing);
    let lines = builder.members()?;
    builder.perimeter()?;
    builder.openings(openings, &lines)?;
    builder.notes();
    Ok(builder.out)
}

/// Lays board on a room framed so: sheets across the tees, the ends of sheets on tees, every other row set off by half
/// a sheet. The length of sheet with the least waste is taken.
///
/// # Errors
/// Figures that are zero, below zero or absurd; no sheet that reaches from tee to tee.
pub fn lay_board(room: &Room, framing: &Framing, rule: &BoardRule) -> Result<Board, LayoutFault> {
    check::framing(framing)?;
    check::board(rule)?;
    board::lay(room, framing, rule)
}

/// How many wires a hung grid takes in a room, mains and wires so far apart at most: what [`lay_out`] would count, without a
/// layout. Of a framing only the way of its tees is looked at.
///
/// # Errors
/// Spacings below an inch; more wires than [`MOST_PARTS`].
pub fn hung_grid_wires(
    room: &Room,
    framing: &Framing,
    mains_every: Ticks,
    wires_every: Ticks,
) -> Result<u64, LayoutFault> {
    check::framing(&Framing { scheme: Scheme::HungGrid { mains_every }, wire_every: wires_every, ..*framing })?;
    let frame = frame::Frame::new(room, framing);
    let mut scanner = scan::Scanner::new(room, |p| {
        let (a, r) = frame.place(p);
        (r, a)
    });
    let mut wires = 0_u64;
    for main in stations::multiples(Ticks::ZERO, frame.run, mains_every, Ticks::ZERO) {
        let clear = scanner.clear(main).iter().filter(|c| c.length() > framing.end_clearance);
        wires += clear.map(|c| u64::try_from(c.length().steps_up(wires_every)).unwrap_or(0)).sum::<u64>();
        check::parts(usize::try_from(wires).unwrap_or(usize::MAX), "wires")?;
    }
    Ok(wires)
}

/// Which way tees run, and the extents of the room along the walls that carry them and along the tees, before anything
/// is laid out: what a rule needs that settles spacing and strongbacks. Every tee is at most as long as the second.
#[must_use]
pub fn directions(room: &Room, framing: &Framing) -> (TeesRun, Ticks, Ticks) {
    let frame = frame::Frame::new(room, framing);
    (frame.tees_run, frame.last - frame.first, frame.run)
}
