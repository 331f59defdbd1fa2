//! A room framed: the call that lays it out, and what a rule needs to know before it does.

use super::given::{Given, count, length, needed, optional, plain, side, whole};
use super::outline::{SHAPE, Shape, room};
use crate::ceiling::layout::{
    ChannelRule, End, Framing, Layout, Opening, Scheme, Stock, TeesRun, directions, hung_grid_wires, lay_out,
};
use crate::ceiling::shape::{Point, Room, Ticks};
use crate::program::native::{
    COUNT, LENGTH, Native, NativeFault, NativeMade, NativeParameter, NativeValue, Takes, Thing, ThingKind,
};
use crate::program::schema::Type;
use std::fmt;
use std::sync::Arc;

/// The type of a layout.
pub const LAYOUT: Type = Type::Thing(ThingKind("layout"));

/// A room with its framing, as books pass it on and plans are drawn from.
#[derive(Debug)]
pub struct Framed {
    /// The room.
    pub room: Room,
    /// What it was framed with.
    pub framing: Framing,
    /// Its framing.
    pub layout: Layout,
}

impl Thing for Framed {}

impl fmt::Display for Framed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a layout of {} members and {} hangers", self.layout.members.len(), self.layout.hangs.len())
    }
}

/// Schemes by the words that books use; the names of the options of "hardlid ceilings".
const SCHEMES: &str = "wall to wall, strongbacks, mid-span ties, hung grid, channel or tight to deck";

pub(super) const RECORDS: &[Native] = &[
    Native {
        name: "tee_run",
        parameters: &[needed("shape", SHAPE), optional("tees", Type::Text)],
        result: LENGTH,
        summary: "How far tees run in a room, from wall to wall at the most.",
        details: "Across the short way of the room, unless 'tees' says long, north (and south) or east (and west).",
        examples: &[
            ("tee_run(room_shape(length: 20', width: 14'))", "14'-0\""),
            ("tee_run(room_shape(length: 20', width: 14'), tees: \"long\")", "20'-0\""),
        ],
        refused: ("tee_run(room_shape(length: 20', width: 14'), tees: \"up\")", "no way for tees to run"),
        since: "2",
        remembered: true,
        work: |given| extents(Given(given)).map(|(_, run)| length(run)),
    },
    Native {
        name: "tee_wall",
        parameters: &[needed("shape", SHAPE), optional("tees", Type::Text)],
        result: LENGTH,
        summary: "How long a room is along the walls that its tees bear on.",
        details: "Tees run across the short way of the room, unless 'tees' says long, north or east.",
        examples: &[("tee_wall(room_shape(length: 20', width: 14'))", "20'-0\"")],
        refused: ("tee_wall(20')", "shape is needed"),
        since: "2",
        remembered: true,
        work: |given| extents(Given(given)).map(|(along, _)| length(along)),
    },
    Native {
        name: "hung_grid_wires",
        parameters: &[
            needed("shape", SHAPE),
            optional("tees", Type::Text),
            optional("mains_every", LENGTH),
            optional("wires_every", LENGTH),
        ],
        result: COUNT,
        summary: "How many wires a hung grid would take in a room.",
        details: "Main tees and the wires along them are 4 ft apart, unless the arguments say otherwise.",
        examples: &[
            ("hung_grid_wires(room_shape(length: 20', width: 14'))", "15"),
            // a main of 40 ft, 10 wires, and six of 6 ft, 2 wires each
            ("hung_grid_wires(room_shape(perimeter: \"40' E, 30' N, 6' W, 24' S, 34' W, 6' S\"))", "22"),
        ],
        refused: ("hung_grid_wires(room_shape(length: 20', width: 14'), mains_every: 0')", "is 0\""),
        since: "2",
        remembered: true,
        work: |given| {
            let given = Given(given);
            let room = room(given)?;
            let framing = Framing { tees_run: tees(given.text(1), room)?, ..Framing::default() };
            let every = |at, what| given.length_or(at, what, Ticks::feet(4));
            let (mains, wires) = (every(2, "The spacing of main tees")?, every(3, "The spacing of wires")?);
            let wires = hung_grid_wires(room, &framing, mains, wires);
            wires.map(whole).map_err(|fault| NativeFault::new(fault.to_string()))
        },
    },
    Native {
        name: "lay_out",
        parameters: PARAMETERS,
        result: LAYOUT,
        summary: "A room framed piece by piece: tees, angle, strongbacks, wires, splices and what openings take.",
        details: "The scheme is one of wall to wall, strongbacks, mid-span ties, hung grid, channel, tight to deck. \
                  'supports' is how many strongbacks, ties a tee, or tabbed mains part the run. Ends of strongbacks are \
                  free or fixed; 'clipped' holds strongbacks and ties to the deck by clips. Stock lengths left out are as long as they need to be. Openings without a position \
                  (from_west and from_south, the south-west corner) are counted by their size.",
        examples: &[
            (
                "laid_count(lay_out(room_shape(length: 20', width: 14'), scheme: \"strongbacks\", spacing: 24\", \
                 supports: 1), of: \"wire\")",
                "5",
            ),
            (
                "laid_count(lay_out(room_shape(length: 20', width: 14'), scheme: \"hung grid\", spacing: 24\"), \
                 of: \"wire\")",
                "15",
            ),
        ],
        refused: (
            "laid_count(lay_out(room_shape(length: 20', width: 14'), scheme: \"glued\", spacing: 24\"), of: \"tee\")",
            "no scheme",
        ),
        since: "2",
        remembered: true,
        work: |given| framed(Given(given)).map(|framed| NativeMade::Thing(Arc::new(framed))),
    },
];

const PARAMETERS: &[NativeParameter] = &[
    needed("shape", SHAPE),
    needed("scheme", Type::Text),
    needed("spacing", LENGTH),
    optional("supports", COUNT),
    optional("wire_every", LENGTH),
    optional("first_end", Type::Text),
    optional("last_end", Type::Text),
    optional("tees", Type::Text),
    optional("start", Type::Text),
    optional("limit", LENGTH),
    optional("mains_every", LENGTH),
    optional("clips_every", LENGTH),
    optional("clearance", LENGTH),
    optional("pitch", LENGTH),
    optional("fasteners_every", LENGTH),
    optional("tee_stock", LENGTH),
    optional("tabbed_stock", LENGTH),
    optional("plain_stock", LENGTH),
    optional("strongback_stock", LENGTH),
    optional("main_stock", LENGTH),
    optional("channel_stock", LENGTH),
    optional("furring_stock", LENGTH),
    optional("least_angle", LENGTH),
    optional("clipped", Type::YesNo),
    NativeParameter {
        name: "openings",
        takes: Takes::Rows(&[
            ("long", LENGTH, false),
            ("wide", LENGTH, false),
            ("many", COUNT, true),
            ("from_west", LENGTH, true),
            ("from_south", LENGTH, true),
            ("heavy", Type::YesNo, true),
            ("what", Type::Text, true),
        ]),
        optional: true,
    },
];

/// Which parameter the openings are.
const OPENINGS: usize = 24;

/// Extent along the bearing walls, and of the run.
fn extents(given: Given<'_>) -> Result<(Ticks, Ticks), NativeFault> {
    let room = room(given)?;
    let framing = Framing { tees_run: tees(given.text(1), room)?, ..Framing::default() };
    let (_, along, run) = directions(room, &framing);
    Ok((along, run))
}

fn tees(text: Option<&str>, room: &Room) -> Result<Option<TeesRun>, NativeFault> {
    let Some(text) = text else { return Ok(None) };
    let other = |run| match run {
        TeesRun::NorthSouth => TeesRun::EastWest,
        TeesRun::EastWest => TeesRun::NorthSouth,
    };
    Ok(match plain(text).trim_end_matches("way") {
        "short" => None,
        "long" => Some(other(directions(room, &Framing::default()).0)),
        "n" | "s" | "ns" | "sn" | "north" | "south" | "northsouth" | "northandsouth" => Some(TeesRun::NorthSouth),
        "e" | "w" | "ew" | "we" | "east" | "west" | "eastwest" | "eastandwest" => Some(TeesRun::EastWest),
        _ => {
            return Err(NativeFault {
                what: format!("“{text}” is no way for tees to run"),
                fix: "short, long, north or east".to_owned(),
                row: None,
            });
        }
    })
}

fn end(text: Option<&str>) -> Result<End, NativeFault> {
    match text.map(plain).as_deref() {
        None | Some("free") => Ok(End::Free),
        Some("fixed") => Ok(End::Fixed),
        Some(_) => Err(NativeFault {
            what: format!("“{}” is no end of a strongback", text.unwrap_or_default()),
            fix: "free or fixed".to_owned(),
            row: None,
        }),
    }
}

fn scheme(given: Given<'_>) -> Result<Scheme, NativeFault> {
    let text = given.text(1).unwrap_or_default();
    let supports = given.count(3, "How many supports part the run")?;
    Ok(match plain(text).as_str() {
        "walltowall" => Scheme::WallToWall,
        "strongback" | "strongbacks" => Scheme::Strongbacks { lines: supports.unwrap_or(1) },
        "ties" | "midspanties" => Scheme::MidSpanTies { each: supports.unwrap_or(1) },
        "hunggrid" => {
            Scheme::HungGrid { mains_every: given.length_or(10, "The spacing of main tees", Ticks::feet(4))? }
        }
        "channel" | "channelandfurring" => Scheme::Channel(ChannelRule::default()),
        "deck" | "tighttodeck" | "tighttothedeck" => Scheme::TightToDeck {
            mains: supports.unwrap_or(1),
            clip_every: given.length_or(11, "The spacing of clips", Ticks::feet(4))?,
        },
        _ => {
            return Err(NativeFault {
                what: format!("“{text}” is no scheme that can be laid out"),
                fix: SCHEMES.to_owned(),
                row: None,
            });
        }
    })
}

fn framing(given: Given<'_>, room: &Room) -> Result<Framing, NativeFault> {
    let usual = Framing::default();
    let stock = Stock {
        tee: given.length(15, "The stock length of tees")?,
        tabbed: given.length_or(16, "The stock length of tabbed angle", usual.stock.tabbed)?,
        plain: given.length_or(17, "The stock length of plain angle", usual.stock.plain)?,
        strongback: given.length(18, "The stock length of strongbacks")?,
        main: given.length(19, "The stock length of main tees")?,
        channel: given.length(20, "The stock length of channel")?,
        furring: given.length(21, "The stock length of furring")?,
    };
    Ok(Framing {
        scheme: scheme(given)?,
        spacing: given.length_or(2, "The tee spacing", Ticks::ZERO)?,
        pitch: given.length_or(13, "The tab pitch", usual.pitch)?,
        end_clearance: given.length_or(12, "The end clearance", usual.end_clearance)?,
        tees_run: tees(given.text(7), room)?,
        start: given.text(8).map(side).transpose()?,
        wire_every: given.length_or(4, "The wire spacing", usual.wire_every)?,
        ends: [end(given.text(5))?, end(given.text(6))?],
        span_limit: given.length(9, "The tested span")?,
        least_angle: given.length_or(22, "The least piece of angle", usual.least_angle)?,
        clipped: given.yes(23),
        fasten_every: given.length_or(14, "The spacing of fasteners", usual.fasten_every)?,
        stock,
        ..usual
    })
}

fn framed(given: Given<'_>) -> Result<Framed, NativeFault> {
    let shape = given.thing::<Shape>(0)?;
    let framing = framing(given, &shape.0)?;
    let mut openings = Vec::new();
    for (at, row) in given.rows(OPENINGS).enumerate() {
        openings.push(opening(row, at).map_err(|fault| NativeFault { row: Some((OPENINGS, at)), ..fault })?);
    }
    let layout = lay_out(&shape.0, &framing, &openings).map_err(|fault| NativeFault::new(fault.to_string()))?;
    Ok(Framed { room: shape.0.clone(), framing, layout })
}

fn opening(row: Given<'_>, at: usize) -> Result<Opening, NativeFault> {
    let size = |at, what: &str| row.length(at, what).map(|t| t.unwrap_or(Ticks::ZERO));
    let place = row.length(3, "The place of an opening")?.zip(row.length(4, "The place of an opening")?);
    let count = match row.0.get(2) {
        Some(NativeValue::Number(n)) => count(n, "How many openings")?,
        _ => 1,
    };
    let name = match row.text(6) {
        Some(what) => format!("opening {} ({what})", at + 1),
        None => format!("opening {}", at + 1),
    };
    Ok(Opening {
        name,
        long: size(0, "An opening")?,
        wide: size(1, "An opening")?,
        count,
        at: place.map(|(x, y)| Point::new(x, y)),
        heavy: row.yes(5),
    })
}
