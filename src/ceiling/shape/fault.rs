//! What can be wrong with the shape of a room. The caller adds the cell.

use super::{Side, Ticks};
use std::fmt;

/// Why a room has no shape. `Display` is a sentence that stands alone, with the corner, side or jog named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ShapeFault {
    /// A size of zero or below: what has it, and the size.
    NoSize {
        /// What is measured, `the length of the room`.
        what: String,
        /// As given.
        size: Ticks,
    },
    /// A length beyond [`Ticks::LONGEST`].
    TooLong {
        /// What is measured.
        what: String,
    },
    /// More corners, jogs or parts than are worked with.
    TooMany {
        /// What there are too many of, `corners`.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// How many are worked with.
        most: usize,
    },
    /// A perimeter text, or a part of it, that cannot be read.
    Unreadable {
        /// Which side or corner.
        place: String,
        /// The part as typed.
        text: String,
        /// Why.
        why: String,
    },
    /// The last side does not end where the first begins.
    DoesNotClose {
        /// How many sides.
        sides: usize,
        /// How far east of the first corner the end lies.
        east: Ticks,
        /// How far north of the first corner the end lies.
        north: Ticks,
    },
    /// Two sides of a perimeter cross or lie upon each other.
    CrossesItself {
        /// The first side, counted from 1, as the text has them.
        side: usize,
        /// The other.
        other: usize,
    },
    /// Fewer than three sides, or nothing inside.
    NoArea {
        /// How many sides.
        sides: usize,
    },
    /// A wall or corner by a name that is not known.
    UnknownPlace {
        /// The jog.
        jog: String,
        /// As typed.
        text: String,
    },
    /// A room with several walls on that side, or none.
    WhichWall {
        /// The jog.
        jog: String,
        /// The side.
        side: Side,
        /// The numbers of the walls there, counted from 1.
        walls: Vec<usize>,
    },
    /// A jog with a number of a side that the room does not have.
    NoSuchSide {
        /// The jog.
        jog: String,
        /// The number.
        side: usize,
        /// How many sides the room has.
        sides: usize,
    },
    /// A jog or column that is as wide or as deep as the room, or more.
    WiderThanRoom {
        /// The jog.
        jog: String,
        /// Its size that way.
        size: Ticks,
        /// The room's.
        room: Ticks,
        /// Which way, `wide` or `deep`.
        way: &'static str,
    },
    /// A jog that begins before its wall or ends after it.
    OutsideWall {
        /// The jog.
        jog: String,
        /// The wall.
        wall: String,
        /// How far it is over the end of its wall.
        over: Ticks,
    },
    /// A jog or column that leaves the room.
    OutsideRoom {
        /// The jog.
        jog: String,
    },
    /// A jog on a slanted wall, or an alcove at a corner: what cannot be placed, with what to do.
    CannotPlace {
        /// The jog.
        jog: String,
        /// Why.
        why: &'static str,
    },
    /// Two jogs take the same place.
    Overlap {
        /// The first jog.
        jog: String,
        /// The other.
        other: String,
    },
    /// The jogs leave nothing of the room, or more than one part of it.
    Divided {
        /// How many parts are left.
        parts: usize,
    },
}

impl fmt::Display for ShapeFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSize { what, size } => write!(f, "{} is {size}; it must be above zero.", upper(what)),
            Self::TooLong { what } => {
                write!(f, "{} is longer than {}, the most that is laid out.", upper(what), Ticks::LONGEST)
            }
            Self::TooMany { what, count, most } => {
                write!(f, "The room has {count} {what}; {most} is the most that is laid out.")
            }
            Self::Unreadable { place, text, why } => write!(f, "{} cannot be read: ‘{text}’, {why}.", upper(place)),
            Self::DoesNotClose { sides, east, north } => {
                let off = off(*east, *north);
                write!(f, "The room does not close: side {sides} ends {off} of corner 1, where side 1 begins.")
            }
            Self::CrossesItself { side, other } => {
                write!(f, "The room crosses itself: side {side} meets side {other}.")
            }
            Self::NoArea { sides } => {
                write!(f, "The room has {sides} sides and nothing inside; it takes three or more.")
            }
            Self::UnknownPlace { jog, text } => write!(
                f,
                "{} is on ‘{text}’, which is no wall and no corner; write N, E, S or W, a corner such as NE, or the \
                 number of a side.",
                upper(jog)
            ),
            Self::WhichWall { jog, side, walls } if walls.is_empty() => {
                write!(f, "{} is on the {side} wall, and the room has no wall there.", upper(jog))
            }
            Self::WhichWall { jog, side, walls } => {
                let list: Vec<String> = walls.iter().map(ToString::to_string).collect();
                write!(
                    f,
                    "{} is on the {side} wall, and the room has {} there: write the number of the side, one of {}.",
                    upper(jog),
                    walls.len(),
                    list.join(", ")
                )
            }
            Self::NoSuchSide { jog, side, sides } => {
                write!(f, "{} is on side {side}; the room has sides 1 to {sides}.", upper(jog))
            }
            Self::WiderThanRoom { jog, size, room, way } => {
                write!(f, "{} is {size} {way}; the room is {room} there.", upper(jog))
            }
            Self::OutsideWall { jog, wall, over } => write!(f, "{} goes {over} past the end of {wall}.", upper(jog)),
            Self::OutsideRoom { jog } => write!(f, "{} leaves the room.", upper(jog)),
            Self::CannotPlace { jog, why } => write!(f, "{} {why}.", upper(jog)),
            Self::Overlap { jog, other } => write!(f, "{} and {other} overlap.", upper(jog)),
            Self::Divided { parts: 0 } => f.write_str("The jogs and columns leave nothing of the room."),
            Self::Divided { parts } => write!(f, "The jogs and columns cut the room into {parts} parts."),
        }
    }
}

impl std::error::Error for ShapeFault {}

/// `2'-0" east and 3" south`.
fn off(east: Ticks, north: Ticks) -> String {
    let part = |t: Ticks, up: &str, down: &str| {
        (t != Ticks::ZERO).then(|| format!("{} {}", Ticks(t.0.abs()), if t.0 > 0 { up } else { down }))
    };
    let parts: Vec<String> =
        [part(east, "east", "west"), part(north, "north", "south")].into_iter().flatten().collect();
    parts.join(" and ")
}

/// With a capital letter.
fn upper(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().collect::<String>() + chars.as_str())
}
