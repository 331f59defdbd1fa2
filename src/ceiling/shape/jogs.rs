//! Jogs, columns and alcoves, as rows of a sheet give them.

use super::clip::{self, Part, Rectangle};
use super::room::{BaseSide, MOST_CORNERS, MOST_JOGS, extent_of, side_of, size};
use super::{Point, Room, ShapeFault, Side, Ticks};

/// A corner of a rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Corner {
    /// South-west.
    SouthWest,
    /// South-east.
    SouthEast,
    /// North-east.
    NorthEast,
    /// North-west.
    NorthWest,
}

/// Where a jog is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Place {
    /// On the wall on that side, so far from its west or south end.
    Wall(Side, Ticks),
    /// On a side by the number that it has in a perimeter, so far from its west or south end.
    Numbered(usize, Ticks),
    /// At a corner of a rectangle; no offset.
    Corner(Corner),
}

impl Place {
    /// Reads `N`, `north`, `north wall`; `NE`, `north-east`, `NE corner`; `3`, `side 3`. The offset of a corner is not
    /// used. `None` for anything else.
    #[must_use]
    pub fn read(text: &str, offset: Ticks) -> Option<Self> {
        let plain: String = text.to_lowercase().chars().filter(|c| !matches!(c, ' ' | '-' | '.' | '#')).collect();
        let word = plain.trim_end_matches("wall").trim_end_matches("corner");
        let word = word.strip_prefix("wall").or_else(|| word.strip_prefix("side")).unwrap_or(word);
        Some(match word {
            "s" | "south" => Self::Wall(Side::South, offset),
            "e" | "east" => Self::Wall(Side::East, offset),
            "n" | "north" => Self::Wall(Side::North, offset),
            "w" | "west" => Self::Wall(Side::West, offset),
            "sw" | "southwest" => Self::Corner(Corner::SouthWest),
            "se" | "southeast" => Self::Corner(Corner::SouthEast),
            "ne" | "northeast" => Self::Corner(Corner::NorthEast),
            "nw" | "northwest" => Self::Corner(Corner::NorthWest),
            number => Self::Numbered(number.parse().ok().filter(|n| *n > 0)?, offset),
        })
    }
}

/// Which way a jog goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Way {
    /// Into the room: a column, a pilaster, a chase.
    In,
    /// Into the room, along the whole of a wall if need be: a soffit, at which the ceiling ends.
    Soffit,
    /// Out of the room: an alcove.
    Out,
}

/// A jog, a column or an alcove: a rectangle on a wall, in front of it, or at a corner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Jog {
    /// What messages call it, `jog 2`.
    pub name: String,
    /// The wall or corner, and the offset along the wall.
    pub place: Place,
    /// How far it stands off its wall: zero for a jog, more for a column that stands free.
    pub off: Ticks,
    /// Its size along its wall; at a corner its size east and west.
    pub width: Ticks,
    /// Its size at right angles to its wall; at a corner its size north and south.
    pub depth: Ticks,
    /// Into the room or out of it.
    pub way: Way,
}

/// The room with its jogs.
pub fn apply(room: &Room, jogs: &[Jog]) -> Result<Part, ShapeFault> {
    if jogs.len() > MOST_JOGS {
        return Err(ShapeFault::TooMany { what: "jogs and columns", count: jogs.len(), most: MOST_JOGS });
    }
    let (mut cut, mut add) = (Vec::new(), Vec::new());
    let mut placed: Vec<Rectangle> = Vec::with_capacity(jogs.len());
    for jog in jogs {
        let taken = placed_at(room, jog)?;
        if let Some(other) = placed.iter().position(|p| clip::overlap(*p, taken)) {
            return Err(ShapeFault::Overlap { jog: jogs[other].name.clone(), other: jog.name.clone() });
        }
        placed.push(taken);
        match jog.way {
            Way::In | Way::Soffit => cut.push(taken),
            Way::Out => add.push(taken),
        }
    }
    let mut parts = clip::cut_and_add(room.rings(), &cut, &add);
    if parts.len() != 1 {
        return Err(ShapeFault::Divided { parts: parts.len() });
    }
    let part = parts.pop().unwrap_or_default();
    let corners = part.iter().map(Vec::len).sum();
    if corners > MOST_CORNERS {
        return Err(ShapeFault::TooMany { what: "corners", count: corners, most: MOST_CORNERS });
    }
    let [low, high] = extent_of(part.first().map_or(&[], Vec::as_slice));
    if !(high.x - low.x).is_a_size() || !(high.y - low.y).is_a_size() {
        return Err(ShapeFault::TooLong { what: "the room with its alcoves".to_owned() });
    }
    Ok(part)
}

/// The rectangle that a jog takes.
fn placed_at(room: &Room, jog: &Jog) -> Result<Rectangle, ShapeFault> {
    size(&format!("the width of {}", jog.name), jog.width)?;
    size(&format!("the depth of {}", jog.name), jog.depth)?;
    if jog.off != Ticks::ZERO {
        size(&format!("the distance of {} from its wall", jog.name), jog.off)?;
    }
    let taken = match jog.place {
        Place::Corner(corner) => at_corner(room, jog, corner)?,
        Place::Wall(side, offset) => on_wall(room, jog, the_wall(room, jog, side)?, offset)?,
        Place::Numbered(number, offset) => on_wall(room, jog, numbered(room, jog, number)?, offset)?,
    };
    // what cannot happen in a rectangle need not be looked for there
    if room.is_rectangle() {
        return Ok(taken);
    }
    match jog.way {
        Way::In | Way::Soffit if !clip::is_within(room.rings(), taken) => {
            Err(ShapeFault::OutsideRoom { jog: jog.name.clone() })
        }
        Way::Out if clip::takes_some(room.rings(), taken) => {
            Err(ShapeFault::Overlap { jog: jog.name.clone(), other: "another part of the room".to_owned() })
        }
        _ => Ok(taken),
    }
}

fn at_corner(room: &Room, jog: &Jog, corner: Corner) -> Result<Rectangle, ShapeFault> {
    let why = |why| ShapeFault::CannotPlace { jog: jog.name.clone(), why };
    if !room.is_rectangle() {
        return Err(why("is at a corner, and the room is no rectangle: give the number of a side and an offset"));
    }
    if jog.way == Way::Out {
        return Err(why("goes out of the room at a corner: give it the wall that it opens from, and an offset"));
    }
    if jog.off != Ticks::ZERO {
        return Err(why("is at a corner and off its wall: give it a wall and an offset"));
    }
    let [low, high] = room.extent();
    fits(jog, jog.width, high.x - low.x, "wide")?;
    fits(jog, jog.depth, high.y - low.y, "deep")?;
    let (west, south) = match corner {
        Corner::SouthWest => (low.x, low.y),
        Corner::SouthEast => (high.x - jog.width, low.y),
        Corner::NorthEast => (high.x - jog.width, high.y - jog.depth),
        Corner::NorthWest => (low.x, high.y - jog.depth),
    };
    Ok([Point::new(west, south), Point::new(west + jog.width, south + jog.depth)])
}

fn fits(jog: &Jog, size: Ticks, room: Ticks, way: &'static str) -> Result<(), ShapeFault> {
    if size < room { Ok(()) } else { Err(ShapeFault::WiderThanRoom { jog: jog.name.clone(), size, room, way }) }
}

/// The one wall on a side.
fn the_wall<'r>(room: &'r Room, jog: &Jog, side: Side) -> Result<&'r BaseSide, ShapeFault> {
    let mut on_side = room.base_sides().iter().filter(|s| side_of(s.from, s.to) == Some(side));
    match (on_side.next(), on_side.next()) {
        (Some(one), None) => Ok(one),
        _ => {
            let on_side = room.base_sides().iter().filter(|s| side_of(s.from, s.to) == Some(side));
            let mut walls: Vec<usize> = on_side.map(|s| s.number).collect();
            walls.sort_unstable();
            Err(ShapeFault::WhichWall { jog: jog.name.clone(), side, walls })
        }
    }
}

fn numbered<'r>(room: &'r Room, jog: &Jog, number: usize) -> Result<&'r BaseSide, ShapeFault> {
    let sides = room.base_sides();
    let found = sides.iter().find(|s| s.number == number);
    found.ok_or_else(|| ShapeFault::NoSuchSide { jog: jog.name.clone(), side: number, sides: sides.len() })
}

fn on_wall(room: &Room, jog: &Jog, wall: &BaseSide, offset: Ticks) -> Result<Rectangle, ShapeFault> {
    let Some(side) = side_of(wall.from, wall.to) else {
        let why = "is on a slanted wall: give the room with its jogs by corner points";
        return Err(ShapeFault::CannotPlace { jog: jog.name.clone(), why });
    };
    let [low, high] = room.extent();
    let flat = matches!(side, Side::South | Side::North);
    let (along, across) = if flat { (high.x - low.x, high.y - low.y) } else { (high.y - low.y, high.x - low.x) };
    if jog.way != Way::Out {
        if jog.way == Way::In || jog.width > along {
            fits(jog, jog.width, along, "wide")?;
        }
        fits(jog, jog.off + jog.depth, across, "deep")?;
    } else if jog.off != Ticks::ZERO {
        let why = "goes out of the room, so it cannot stand off its wall";
        return Err(ShapeFault::CannotPlace { jog: jog.name.clone(), why });
    }
    let (start, end) = if flat {
        (wall.from.x.min(wall.to.x), wall.from.x.max(wall.to.x))
    } else {
        (wall.from.y.min(wall.to.y), wall.from.y.max(wall.to.y))
    };
    // both are within bounds, so neither sum is too large
    let over = if offset.is_in_bounds() { (-offset).max(offset + jog.width - (end - start)) } else { Ticks::LONGEST };
    if over > Ticks::ZERO {
        let name = if room.has_numbered_sides() { format!("side {}", wall.number) } else { format!("the {side} wall") };
        return Err(ShapeFault::OutsideWall { jog: jog.name.clone(), wall: name, over });
    }
    let (a, b) = (start + offset, start + offset + jog.width);
    let (near, far) = match jog.way {
        Way::In | Way::Soffit => (jog.off, jog.off + jog.depth),
        Way::Out => (-jog.depth, Ticks::ZERO),
    };
    let p = Point::new;
    Ok(match side {
        Side::South => [p(a, wall.from.y + near), p(b, wall.from.y + far)],
        Side::North => [p(a, wall.from.y - far), p(b, wall.from.y - near)],
        Side::West => [p(wall.from.x + near, a), p(wall.from.x + far, b)],
        Side::East => [p(wall.from.x - far, a), p(wall.from.x - near, b)],
    })
}
