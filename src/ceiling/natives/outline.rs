//! The shape of a room: made, and asked about.

use super::given::{Given, length, needed, optional};
use crate::ceiling::shape::{Jog, Place, Room, Ticks, Way};
use crate::program::native::{AREA, LENGTH, Native, NativeFault, NativeMade, NativeParameter, Takes, Thing, ThingKind};
use crate::program::schema::Type;
use std::fmt;
use std::sync::Arc;

/// The type of a shape.
pub const SHAPE: Type = Type::Thing(ThingKind("shape"));

/// A room's shape, as books pass it on.
#[derive(Debug)]
pub struct Shape(pub Room);

impl Thing for Shape {}

impl fmt::Display for Shape {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [low, high] = self.0.extent();
        let corners = self.0.outline().len();
        write!(f, "a room of {corners} corners, {} by {}", high.x - low.x, high.y - low.y)
    }
}

pub(super) const RECORDS: &[Native] = &[
    Native {
        name: "room_shape",
        parameters: &[
            optional("length", LENGTH),
            optional("width", LENGTH),
            optional("perimeter", Type::Text),
            NativeParameter {
                name: "jogs",
                takes: Takes::Rows(&[
                    ("wall", Type::Text, false),
                    ("offset", LENGTH, false),
                    ("width", LENGTH, false),
                    ("depth", LENGTH, false),
                    ("way", Type::Text, true),
                    ("off_wall", LENGTH, true),
                ]),
                optional: true,
            },
            NativeParameter {
                name: "soffits",
                takes: Takes::Rows(&[
                    ("along_wall", Type::Text, true),
                    ("offset", LENGTH, true),
                    ("reach", LENGTH, false),
                    ("return", LENGTH, false),
                ]),
                optional: true,
            },
        ],
        result: SHAPE,
        summary: "The shape of a room: a rectangle of length and width, or a perimeter, with its jogs and columns.",
        details: "The length runs east and the width north. A perimeter goes from corner to corner, \"20' E, 14' N, \
                  20' W, 14' S\", or lists corner points, \"0,0; 20',0; 20',14'; 0,14'\"; it wins over length and width. \
                  A jog stands on a wall (south, east, north, west, or the number of a side) so far from its west or \
                  south end, or in a corner (NE); its way is in, a column or chase, or out, an alcove; off_wall sets \
                  a free column off its wall. The ceiling ends at a soffit that names the wall along which it runs.",
        examples: &[
            ("shape_area(room_shape(length: 20', width: 14'))", "280 sf"),
            ("shape_area(room_shape(perimeter: \"20' E, 14' N, 8' W, 4' S, 12' W, 10' S\"))", "232 sf"),
        ],
        refused: ("shape_area(room_shape(perimeter: \"20' E, 14' N, 19' W, 14' S\"))", "does not close"),
        since: "2",
        remembered: true,
        work: |given| make(Given(given)).map(|room| NativeMade::Thing(Arc::new(Shape(room)))),
    },
    Native {
        name: "shape_area",
        parameters: &[needed("shape", SHAPE)],
        result: AREA,
        summary: "The area of a room within its walls, less its columns.",
        details: "",
        examples: &[("shape_area(room_shape(length: 12', width: 7'))", "84 sf")],
        refused: ("shape_area(12')", "shape is needed"),
        since: "2",
        remembered: false,
        work: |given| Ok(NativeMade::Number(room(Given(given))?.area_mm2())),
    },
    Native {
        name: "shape_walls",
        parameters: &[needed("shape", SHAPE)],
        result: LENGTH,
        summary: "The length of all walls of a room, faces of jogs and columns among them.",
        details: "",
        examples: &[("shape_walls(room_shape(length: 20', width: 14'))", "68'-0\"")],
        refused: ("shape_walls(12')", "shape is needed"),
        since: "2",
        remembered: false,
        work: |given| Ok(length(room(Given(given))?.perimeter_length())),
    },
    Native {
        name: "is_rectangle",
        parameters: &[needed("shape", SHAPE)],
        result: Type::YesNo,
        summary: "Whether a room is a rectangle without jogs and columns.",
        details: "",
        examples: &[("is_rectangle(room_shape(length: 20', width: 14'))", "yes")],
        refused: ("is_rectangle(12')", "shape is needed"),
        since: "2",
        remembered: false,
        work: |given| Ok(NativeMade::YesNo(room(Given(given))?.is_rectangle())),
    },
];

/// The shape that is the first argument.
pub fn room(given: Given<'_>) -> Result<&Room, NativeFault> {
    given.thing::<Shape>(0).map(|shape| &shape.0)
}

/// Which parameter the jogs are.
const JOGS: usize = 3;
/// Which parameter the soffits are.
const SOFFITS: usize = 4;

fn make(given: Given<'_>) -> Result<Room, NativeFault> {
    let told = |fault: crate::ceiling::shape::ShapeFault| NativeFault::new(fault.to_string());
    let room = match (given.text(2), given.length(0, "The room")?, given.length(1, "The room")?) {
        (Some(perimeter), ..) => Room::perimeter(perimeter, None).map_err(told)?,
        (None, Some(length), Some(width)) => Room::rectangle(length, width).map_err(told)?,
        _ => {
            return Err(NativeFault {
                what: "The room has neither length and width nor a perimeter".to_owned(),
                fix: "Length and Width, or a Perimeter such as 20' E, 14' N, 20' W, 14' S".to_owned(),
                row: None,
            });
        }
    };
    let mut jogs = Vec::new();
    let mut rows = Vec::new();
    for (at, row) in given.rows(JOGS).enumerate() {
        jogs.push(jog(row, at).map_err(|fault| NativeFault { row: Some((JOGS, at)), ..fault })?);
        rows.push((JOGS, at));
    }
    for (at, row) in given.rows(SOFFITS).enumerate() {
        if let Some(soffit) = soffit(row, at).map_err(|fault| NativeFault { row: Some((SOFFITS, at)), ..fault })? {
            jogs.push(soffit);
            rows.push((SOFFITS, at));
        }
    }
    if jogs.is_empty() {
        return Ok(room);
    }
    // one at a time as well, so that the row to blame is known
    let whole = room.clone().with_jogs(&jogs);
    whole.map_err(|fault| {
        let first = (1..=jogs.len()).find(|n| room.clone().with_jogs(&jogs[..*n]).is_err());
        NativeFault { row: first.and_then(|n| rows.get(n - 1).copied()), ..told(fault) }
    })
}

/// A soffit that names its wall, as what it takes of the ceiling.
fn soffit(row: Given<'_>, at: usize) -> Result<Option<Jog>, NativeFault> {
    let Some(wall) = row.text(0) else { return Ok(None) };
    let name = format!("soffit {}", at + 1);
    let offset = row.length_or(1, "The offset of a soffit", Ticks::ZERO)?;
    let place = Place::read(wall, offset).filter(|p| !matches!(p, Place::Corner(_))).ok_or_else(|| NativeFault {
        what: format!("“{wall}” of {name} is no wall of the room"),
        fix: "south, east, north, west, or the number of a side".to_owned(),
        row: None,
    })?;
    let size = |at, what: &str| row.length(at, what).map(|t| t.unwrap_or(Ticks::ZERO));
    let (width, depth) = (size(2, "The run of a soffit")?, size(3, "The return of a soffit")?);
    Ok(Some(Jog { place, off: Ticks::ZERO, width, depth, way: Way::Soffit, name }))
}

fn jog(row: Given<'_>, at: usize) -> Result<Jog, NativeFault> {
    let name = format!("jog {}", at + 1);
    let offset = row.length_or(1, "The offset of a jog", Ticks::ZERO)?;
    let wall = row.text(0).unwrap_or_default();
    let place = Place::read(wall, offset).ok_or_else(|| NativeFault {
        what: format!("“{wall}” of {name} is no wall or corner of the room"),
        fix: "south, east, north, west, a corner such as NE, or the number of a side".to_owned(),
        row: None,
    })?;
    let way = match row.text(4).map(super::given::plain).as_deref() {
        None | Some("in" | "column" | "chase" | "pilaster" | "in room" | "into") => Way::In,
        Some("out" | "alcove" | "recess" | "outof") => Way::Out,
        Some(_) => {
            return Err(NativeFault {
                what: format!("“{}” of {name} is no way for a jog to go", row.text(4).unwrap_or_default()),
                fix: "in for a column or chase, out for an alcove".to_owned(),
                row: None,
            });
        }
    };
    let size = |at, what: &str| row.length(at, what).map(|t| t.unwrap_or(Ticks::ZERO));
    Ok(Jog {
        place,
        off: size(5, "The distance of a column from its wall")?,
        width: size(2, "The width of a jog")?,
        depth: size(3, "The depth of a jog")?,
        way,
        name,
    })
}
