//! A room, its walls, its area.

use super::jogs::Jog;
use super::{Point, ShapeFault, Ticks, clip, jogs, perimeter};
use crate::quantity::{Number, Ratio};
use std::fmt;

/// The most corners that an outline and its columns may have, all together.
pub const MOST_CORNERS: usize = 1_000;
/// The most jogs, columns and alcoves that a room may have.
pub const MOST_JOGS: usize = 200;

/// A side of a room, by plan compass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// The room lies north of it.
    South,
    /// The room lies west of it.
    East,
    /// The room lies south of it.
    North,
    /// The room lies east of it.
    West,
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::South => "south",
            Self::East => "east",
            Self::North => "north",
            Self::West => "west",
        })
    }
}

/// A straight face that the ceiling meets. The room is on the left hand from `from` to `to`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Wall {
    /// Its first corner.
    pub from: Point,
    /// Its second corner.
    pub to: Point,
    /// The side that it is on; `None` where it slants.
    pub side: Option<Side>,
    /// Whether it is the face of a free column.
    pub column: bool,
}

impl Wall {
    /// Its length, snapped down to a tick where it slants.
    #[must_use]
    pub fn length(&self) -> Ticks {
        let (dx, dy) = ((self.to.x - self.from.x).0.abs(), (self.to.y - self.from.y).0.abs());
        if dx == 0 || dy == 0 { Ticks(dx + dy) } else { Ticks(hypotenuse(dx, dy)) }
    }
}

/// The root of `dx² + dy²`, rounded down.
fn hypotenuse(dx: i64, dy: i64) -> i64 {
    let square = i128::from(dx) * i128::from(dx) + i128::from(dy) * i128::from(dy);
    i64::try_from(num_integer::sqrt(square)).unwrap_or(i64::MAX)
}

/// The side that a wall is on, by the way that it runs with the room on its left hand.
pub(super) fn side_of(from: Point, to: Point) -> Option<Side> {
    match ((to.x - from.x).0.signum(), (to.y - from.y).0.signum()) {
        (1, 0) => Some(Side::South),
        (0, 1) => Some(Side::East),
        (-1, 0) => Some(Side::North),
        (0, -1) => Some(Side::West),
        _ => None,
    }
}

/// A side as a person numbers it, before jogs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct BaseSide {
    pub from: Point,
    pub to: Point,
    /// From 1.
    pub number: usize,
}

/// A room: one outline and the columns that stand free in it. See the module for the conventions.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Room {
    /// The outline, counterclockwise, then the columns, clockwise.
    rings: Vec<Vec<Point>>,
    /// The walls before jogs, counterclockwise.
    sides: Vec<BaseSide>,
    /// Whether the sides have numbers that somebody typed.
    numbered: bool,
    /// Where counting begins from the south, east, north and west side.
    starts: [Ticks; 4],
}

impl Room {
    /// A rectangle: `length` runs east, `width` runs north. Its corner 1 is the south-west one, at zero.
    ///
    /// # Errors
    /// A size of zero or below, or beyond [`Ticks::LONGEST`].
    pub fn rectangle(length: Ticks, width: Ticks) -> Result<Self, ShapeFault> {
        let (length, width) = (size("the length of the room", length)?, size("the width of the room", width)?);
        let p = Point::new;
        let zero = Ticks::ZERO;
        let corners = vec![p(zero, zero), p(length, zero), p(length, width), p(zero, width)];
        let sides = sides_of(&corners, |i| i + 1);
        Ok(Self { rings: vec![corners], sides, numbered: false, starts: [zero, length, width, zero] })
    }

    /// A room given whole by the text of its perimeter.
    ///
    /// Either moves from corner to corner, in either turn: `20' E, 14' N, 20' W, 14' S` (also `E 20'`, `north`, `NE`
    /// for 45°, and a slanted side by its two legs, `6' E + 3' N`); or corner points `east, north` parted by
    /// semicolons: `0,0; 20',0; 20',14'; 0,14'`. Lengths in any spelling of the trade; `bare` is how many mm a number
    /// without a unit counts, and without it such a number is refused (but zero).
    ///
    /// The last side must end at corner 1: exactly, or within 1/16 in. where a side runs at 45° (its legs are
    /// snapped to ticks; the last such side takes up the difference).
    ///
    /// # Errors
    /// What cannot be read; a side of zero; a room that does not close or crosses itself; more than
    /// [`MOST_CORNERS`] corners; an extent beyond [`Ticks::LONGEST`].
    pub fn perimeter(text: &str, bare: Option<Ratio>) -> Result<Self, ShapeFault> {
        Self::from_corners(perimeter::read(text, bare)?)
    }

    /// A room from its corners in order, in either turn, the first not repeated. Sides are numbered in that order.
    ///
    /// # Errors
    /// As for [`Room::perimeter`].
    pub fn from_corners(corners: Vec<Point>) -> Result<Self, ShapeFault> {
        let corners = perimeter::checked(corners)?;
        let count = corners.len();
        let west = corners.iter().map(|p| p.x).min().unwrap_or_default();
        let south = corners.iter().map(|p| p.y).min().unwrap_or_default();
        let mut moved: Vec<Point> = corners.iter().map(|p| Point::new(p.x - west, p.y - south)).collect();
        let clockwise = twice_area(&moved) < 0;
        if clockwise {
            moved.reverse();
        }
        // corner i of the turned room is corner count - 1 - i as typed; the side after it is the one typed before that
        let number = |i: usize| if clockwise { (2 * count - 2 - i) % count + 1 } else { i + 1 };
        let sides = sides_of(&moved, number);
        let starts = [Side::South, Side::East, Side::North, Side::West].map(|side| start_of(&sides, &moved, side));
        let mut outline = straightened(&moved);
        start_south_west(&mut outline);
        Ok(Self { rings: vec![outline], sides, numbered: true, starts })
    }

    /// The room with jogs, columns and alcoves. Their walls and offsets are those of the room before any of them.
    ///
    /// # Errors
    /// The first jog that has no size, has no place, is wider than the room, leaves its wall or the room, or
    /// overlaps another; jogs that cut the room in parts.
    pub fn with_jogs(mut self, jogs: &[Jog]) -> Result<Self, ShapeFault> {
        if jogs.is_empty() {
            return Ok(self);
        }
        self.rings = jogs::apply(&self, jogs)?;
        for ring in &mut self.rings {
            start_south_west(ring);
        }
        self.rings.get_mut(1..).unwrap_or_default().sort();
        // a soffit along the whole of a wall is what is counted from there
        let [low, high] = self.extent();
        let [south, east, north, west] = &mut self.starts;
        (*south, *east) = ((*south).max(low.y), (*east).min(high.x));
        (*north, *west) = ((*north).min(high.y), (*west).max(low.x));
        Ok(self)
    }

    /// The outline, counterclockwise from its southernmost, then westernmost corner.
    #[must_use]
    pub fn outline(&self) -> &[Point] {
        self.rings.first().map_or(&[], Vec::as_slice)
    }

    /// Columns that stand free, each clockwise.
    #[must_use]
    pub fn columns(&self) -> &[Vec<Point>] {
        self.rings.get(1..).unwrap_or_default()
    }

    /// Outline and columns.
    #[must_use]
    pub fn rings(&self) -> &[Vec<Point>] {
        &self.rings
    }

    /// Walls and faces of columns, the outline's first.
    pub fn walls(&self) -> impl Iterator<Item = Wall> + '_ {
        self.rings.iter().enumerate().flat_map(|(r, ring)| {
            let next = ring.iter().cycle().skip(1);
            ring.iter().zip(next).map(move |(&from, &to)| Wall { from, to, side: side_of(from, to), column: r > 0 })
        })
    }

    /// The south-west and the north-east corner of the smallest rectangle around the room.
    #[must_use]
    pub fn extent(&self) -> [Point; 2] {
        extent_of(self.outline())
    }

    /// Whether it is a rectangle without columns.
    #[must_use]
    pub fn is_rectangle(&self) -> bool {
        self.rings.len() == 1 && self.outline().len() == 4 && self.is_square_cornered()
    }

    /// Whether every wall runs east and west or north and south.
    #[must_use]
    pub fn is_square_cornered(&self) -> bool {
        self.walls().all(|w| w.side.is_some())
    }

    /// Its area in square ticks, to half a one.
    #[must_use]
    pub fn area(&self) -> i64 {
        let twice: i128 = self.rings.iter().map(|r| twice_area(r)).sum();
        i64::try_from(twice / 2).unwrap_or(i64::MAX)
    }

    /// Its area in mm², exact.
    #[must_use]
    pub fn area_mm2(&self) -> Number {
        let twice: i128 = self.rings.iter().map(|r| twice_area(r)).sum();
        let per = i128::from(Ticks::MM.0) * i128::from(Ticks::MM.0) * 2;
        Number::from_ints(twice, per).unwrap_or(Number::ZERO)
    }

    /// The length of all its walls, faces of columns too.
    #[must_use]
    pub fn perimeter_length(&self) -> Ticks {
        self.walls().map(|w| w.length()).sum()
    }

    /// Where counting from a side begins: `x` of a west or east wall, `y` of a south or north one.
    ///
    /// The wall of a room that was given by length and width, before its jogs; else the longest wall on that side
    /// (among equals the one farthest out).
    #[must_use]
    pub fn start(&self, side: Side) -> Ticks {
        self.starts[side as usize]
    }

    /// Whether a rectangle, by its south-west and north-east corners, lies wholly within it. It may touch walls.
    #[must_use]
    pub fn holds(&self, rectangle: [Point; 2]) -> bool {
        let ([a, b], [low, high]) = (rectangle, self.extent());
        let in_extent = low.x <= a.x && low.y <= a.y && b.x <= high.x && b.y <= high.y;
        in_extent && (self.is_rectangle() || clip::is_within(&self.rings, rectangle))
    }

    pub(super) fn base_sides(&self) -> &[BaseSide] {
        &self.sides
    }

    /// Whether the room came as a perimeter, with sides that have numbers.
    #[must_use]
    pub fn has_numbered_sides(&self) -> bool {
        self.numbered
    }
}

/// The smallest rectangle around points.
pub(super) fn extent_of(points: &[Point]) -> [Point; 2] {
    let first = points.first().copied().unwrap_or_default();
    points.iter().fold([first, first], |[a, b], p| {
        [Point::new(a.x.min(p.x), a.y.min(p.y)), Point::new(b.x.max(p.x), b.y.max(p.y))]
    })
}

/// A size that is one.
pub(super) fn size(what: &str, size: Ticks) -> Result<Ticks, ShapeFault> {
    if size.is_a_size() {
        Ok(size)
    } else if size.0 > 0 {
        Err(ShapeFault::TooLong { what: what.to_owned() })
    } else {
        Err(ShapeFault::NoSize { what: what.to_owned(), size })
    }
}

fn sides_of(corners: &[Point], number: impl Fn(usize) -> usize) -> Vec<BaseSide> {
    let next = corners.iter().cycle().skip(1);
    let side = |(i, (&from, &to)): (usize, (&Point, &Point))| BaseSide { from, to, number: number(i) };
    corners.iter().zip(next).enumerate().map(side).collect()
}

/// Twice the area within a ring; below zero where it runs clockwise.
pub(super) fn twice_area(ring: &[Point]) -> i128 {
    let wide = |t: Ticks| i128::from(t.0);
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| wide(a.x) * wide(b.y) - wide(b.x) * wide(a.y)).sum()
}

/// Where counting from a side begins in a room given by its perimeter.
fn start_of(sides: &[BaseSide], corners: &[Point], side: Side) -> Ticks {
    let [low, high] = extent_of(corners);
    // farther out is more
    let (edge, out) = match side {
        Side::South => (low.y, -1),
        Side::East => (high.x, 1),
        Side::North => (high.y, 1),
        Side::West => (low.x, -1),
    };
    let of = |s: &BaseSide| {
        let place = if matches!(side, Side::South | Side::North) { s.from.y } else { s.from.x };
        let length = (s.to.x - s.from.x).0.abs() + (s.to.y - s.from.y).0.abs();
        (length, place.0 * out)
    };
    let best = sides.iter().filter(|s| side_of(s.from, s.to) == Some(side)).map(of).max();
    best.map_or(edge, |(_, place)| Ticks(place * out))
}

/// Without corners at which nothing turns.
fn straightened(ring: &[Point]) -> Vec<Point> {
    let count = ring.len();
    let turns = |i: usize| {
        let (a, b, c) = (ring[(i + count - 1) % count], ring[i], ring[(i + 1) % count]);
        let wide = |t: Ticks| i128::from(t.0);
        wide(b.x - a.x) * wide(c.y - b.y) != wide(b.y - a.y) * wide(c.x - b.x)
    };
    (0..count).filter(|&i| turns(i)).map(|i| ring[i]).collect()
}

/// Turns a ring so that its southernmost, then westernmost corner is first.
fn start_south_west(ring: &mut [Point]) {
    let first = (0..ring.len()).min_by_key(|&i| (ring[i].y, ring[i].x)).unwrap_or(0);
    ring.rotate_left(first);
}
