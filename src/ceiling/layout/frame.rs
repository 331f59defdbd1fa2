//! The frame in which a layout is worked out: `a` along the walls that carry the tees, from the starting wall; `r` the
//! way that the tees run, from the south or west end of the room's extent.

use super::framing::{Framing, TeesRun};
use crate::ceiling::shape::{Point, Room, Side, Ticks};

/// How a room lies in its frame.
#[derive(Clone, Copy, Debug)]
pub struct Frame {
    pub tees_run: TeesRun,
    pub start: Side,
    /// Where `a` is zero, in the room.
    pub origin: Ticks,
    /// Where `r` is zero, in the room.
    low: Ticks,
    /// Whether `a` runs west or south.
    back: bool,
    /// The room's extent along `a`.
    pub first: Ticks,
    pub last: Ticks,
    /// The room's extent along `r`, from zero.
    pub run: Ticks,
}

impl Frame {
    /// The frame of a room.
    pub fn new(room: &Room, framing: &Framing) -> Self {
        let [low, high] = room.extent();
        let (east, north) = (high.x - low.x, high.y - low.y);
        let shorter = if north <= east { TeesRun::NorthSouth } else { TeesRun::EastWest };
        let tees_run = framing.tees_run.unwrap_or(shorter);
        let start = match (tees_run, framing.start) {
            (TeesRun::NorthSouth, Some(Side::East)) => Side::East,
            (TeesRun::NorthSouth, _) => Side::West,
            (TeesRun::EastWest, Some(Side::North)) => Side::North,
            (TeesRun::EastWest, _) => Side::South,
        };
        let origin = room.start(start);
        let back = matches!(start, Side::East | Side::North);
        let (a, b, low, run) = match tees_run {
            TeesRun::NorthSouth => (low.x, high.x, low.y, north),
            TeesRun::EastWest => (low.y, high.y, low.x, east),
        };
        let (first, last) = if back { (origin - b, origin - a) } else { (a - origin, b - origin) };
        Self { tees_run, start, origin, low, back, first, last, run }
    }

    /// A place in the frame, as a point of the room.
    pub fn point(&self, a: Ticks, r: Ticks) -> Point {
        let along = if self.back { self.origin - a } else { self.origin + a };
        match self.tees_run {
            TeesRun::NorthSouth => Point::new(along, r + self.low),
            TeesRun::EastWest => Point::new(r + self.low, along),
        }
    }

    /// A point of the room, as `a` and `r`.
    pub fn place(&self, p: Point) -> (Ticks, Ticks) {
        let (along, across) = match self.tees_run {
            TeesRun::NorthSouth => (p.x, p.y),
            TeesRun::EastWest => (p.y, p.x),
        };
        (if self.back { self.origin - along } else { along - self.origin }, across - self.low)
    }

    /// Whether tees bear on walls of a side.
    pub fn bears(&self, side: Side) -> bool {
        match self.tees_run {
            TeesRun::NorthSouth => matches!(side, Side::South | Side::North),
            TeesRun::EastWest => matches!(side, Side::West | Side::East),
        }
    }

    /// Whether `a` runs west or south.
    pub fn runs_back(&self) -> bool {
        self.back
    }

    /// The two ends of a member along `a`, its west or south end first.
    pub fn along_ends(&self, r: Ticks, from: Ticks, to: Ticks) -> [Point; 2] {
        let (a, b) = if self.back { (to, from) } else { (from, to) };
        [self.point(a, r), self.point(b, r)]
    }
}
