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

mod framing;
mod result;

pub use framing::{BoardRule, ChannelRule, End, Framing, Laps, Opening, Scheme, Stock, TeesRun};
pub use result::{
    AngleKind, AnglePiece, Board, BoardBasis, CutTee, Hang, HangKind, Kind, Layout, Member, Note, OpeningFit, Sheet,
    Splice, SpliceKind, WallFit, Weight,
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
pub fn lay_out(_room: &Room, _framing: &Framing, _openings: &[Opening]) -> Result<Layout, LayoutFault> {
    Err(LayoutFault::TooMany { what: "parts", most: MOST_PARTS })
}

/// Lays board over a layout.
///
/// # Errors
/// Figures that are zero, below zero or absurd.
pub fn lay_board(_room: &Room, _layout: &Layout, _spacing: Ticks, _rule: &BoardRule) -> Result<Board, LayoutFault> {
    Err(LayoutFault::TooMany { what: "sheets", most: MOST_PARTS })
}

impl Layout {
    /// How many members of a kind there are.
    #[must_use]
    pub fn count(&self, kind: Kind) -> usize {
        self.members.iter().filter(|m| m.kind == kind).count()
    }

    /// What is cut for members of a kind, end to end.
    #[must_use]
    pub fn length(&self, kind: Kind) -> Ticks {
        self.members.iter().filter(|m| m.kind == kind).flat_map(|m| m.pieces.iter().copied()).sum()
    }

    /// Pieces of a kind as they are cut, with how many of each: longest first.
    #[must_use]
    pub fn cut_pieces(&self, kind: Kind) -> Vec<(Ticks, usize)> {
        let of_kind = self.members.iter().filter(|m| m.kind == kind);
        grouped(of_kind.flat_map(|m| m.pieces.iter().copied()).collect())
    }

    /// How many wires, ties or clips there are.
    #[must_use]
    pub fn hang_count(&self, kind: HangKind) -> usize {
        self.hangs.iter().filter(|h| h.kind == kind).count()
    }

    /// How many splices of a kind there are.
    #[must_use]
    pub fn splice_count(&self, kind: SpliceKind) -> usize {
        self.splices.iter().filter(|s| s.kind == kind).count()
    }

    /// The length of angle of a kind.
    #[must_use]
    pub fn angle_length(&self, kind: AngleKind) -> Ticks {
        self.angles.iter().filter(|a| a.kind == kind).map(|a| a.length).sum()
    }

    /// Pieces of angle of a kind as they are cut, with how many of each: longest first.
    #[must_use]
    pub fn angle_pieces(&self, kind: AngleKind) -> Vec<(Ticks, usize)> {
        grouped(self.angles.iter().filter(|a| a.kind == kind).map(|a| a.length).collect())
    }

    /// Fasteners of angle to walls.
    #[must_use]
    pub fn fasteners(&self) -> u64 {
        self.walls.iter().map(|w| u64::from(w.fasteners)).sum()
    }

    /// Framing screws: splices, ends of tees on plain angle, openings.
    #[must_use]
    pub fn framing_screws(&self) -> u64 {
        let splices: u64 = self.splices.iter().map(|s| u64::from(s.screws)).sum();
        let openings: u64 = self.openings.iter().map(|o| u64::from(o.screws) * u64::from(o.count)).sum();
        splices + openings + self.tee_end_screws
    }
}

/// Lengths with how many of each, longest first.
fn grouped(mut lengths: Vec<Ticks>) -> Vec<(Ticks, usize)> {
    lengths.sort_unstable_by(|a, b| b.cmp(a));
    let mut out: Vec<(Ticks, usize)> = Vec::new();
    for length in lengths {
        match out.last_mut() {
            Some((same, count)) if *same == length => *count += 1,
            _ => out.push((length, 1)),
        }
    }
    out
}
