//! What a layout is made from: the scheme and its figures. All of it is given by the caller, whose book holds the
//! rules; `Framing::default()` has the figures of common practice.

use crate::ceiling::shape::{Point, Side, Ticks};

/// Which way tees run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TeesRun {
    /// North and south: they bear on south and north walls.
    NorthSouth,
    /// East and west: they bear on west and east walls.
    EastWest,
}

/// An end of a strongback.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum End {
    /// Its first wire is at the first tee.
    Free,
    /// Bent down and fixed to a stud: its first wire may be one wire spacing from the wall.
    Fixed,
}

/// How a ceiling is held up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Scheme {
    /// Tees from wall to wall, nothing between.
    WallToWall,
    /// Tees under strongbacks at right angles to them, which part the run equally.
    Strongbacks {
        /// How many lines.
        lines: u32,
    },
    /// Each tee tied to structure by wires that part it equally.
    MidSpanTies {
        /// Wires on each tee that is longer than [`Framing::span_limit`]; on every tee where there is no limit.
        each: u32,
    },
    /// Main tees at right angles to cross tees, hung by wires.
    HungGrid {
        /// Main tees, center to center; the first is that far from the south or west wall. Practice: 4 ft.
        mains_every: Ticks,
    },
    /// Cold-rolled channel hung by wires, furring channel below and across it.
    Channel(ChannelRule),
    /// Tabbed mains clipped to the deck, at right angles to tees which they carry on both sides.
    TightToDeck {
        /// How many mains; they part the run equally.
        mains: u32,
        /// Clips along each main, at most this far apart.
        clip_every: Ticks,
    },
}

/// Spacings of channel and furring (UFGS 09200A by default).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct ChannelRule {
    /// Channel, center to center, at most: 36 in.
    pub channel_every: Ticks,
    /// The first and last channel lie at most this far from their walls: 6 in.
    pub channel_edge: Ticks,
    /// Hangers along a channel, at most: 48 in.
    pub hanger_every: Ticks,
    /// The first and last hanger, at most, from the channel's ends: 6 in.
    pub hanger_edge: Ticks,
    /// The first and last furring, at most, from the walls beside them: 2 in.
    pub furring_edge: Ticks,
    /// Gap of furring to each wall that it runs up to: 1/2 in.
    pub furring_gap: Ticks,
}

impl Default for ChannelRule {
    fn default() -> Self {
        Self {
            channel_every: Ticks::inches(36),
            channel_edge: Ticks::inches(6),
            hanger_every: Ticks::inches(48),
            hanger_edge: Ticks::inches(6),
            furring_edge: Ticks::inches(2),
            furring_gap: Ticks::sixty_fourths(32),
        }
    }
}

/// Stock lengths. `None` is stock as long as it needs to be: the layout then splices nothing, and leaves that to the
/// cutting plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Stock {
    /// Tees, and cross tees.
    pub tee: Option<Ticks>,
    /// Tabbed angle. It is cut to whole tab pitches.
    pub tabbed: Ticks,
    /// Plain angle.
    pub plain: Ticks,
    /// Strongbacks.
    pub strongback: Option<Ticks>,
    /// Main tees, and tabbed mains.
    pub main: Option<Ticks>,
    /// Cold-rolled channel.
    pub channel: Option<Ticks>,
    /// Furring channel.
    pub furring: Option<Ticks>,
}

impl Default for Stock {
    fn default() -> Self {
        let ten = Ticks::feet(10);
        Self { tee: None, tabbed: ten, plain: ten, strongback: None, main: None, channel: None, furring: None }
    }
}

/// Laps and splice pieces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Laps {
    /// Lap of a strongback: 4 in.
    pub strongback: Ticks,
    /// Lap of cold-rolled channel: 12 in. (1-1/2 in. channel), 8 in. (3/4 in.).
    pub channel: Ticks,
    /// Lap of furring channel: 8 in.
    pub furring: Ticks,
    /// How far a tee that is spliced over a strongback runs past it: 12 in.
    pub past_strongback: Ticks,
    /// The piece of tee in a scrap splice: 10 in.
    pub scrap: Ticks,
}

impl Default for Laps {
    fn default() -> Self {
        Self {
            strongback: Ticks::inches(4),
            channel: Ticks::inches(12),
            furring: Ticks::inches(8),
            past_strongback: Ticks::inches(12),
            scrap: Ticks::inches(10),
        }
    }
}

/// What a room is framed with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Framing {
    /// The scheme.
    pub scheme: Scheme,
    /// Tees, cross tees or furring, center to center.
    pub spacing: Ticks,
    /// Tabs, center to center: 8 in. Spacings are whole multiples of it; others are laid out and noted.
    pub pitch: Ticks,
    /// What a tee is shorter than its clear run, both ends together: 1/8 in.
    pub end_clearance: Ticks,
    /// Which way tees run; across the shorter extent of the room where left out (north and south in a square one).
    pub tees_run: Option<TeesRun>,
    /// The wall from which tees and tabs are counted: west or east where tees run north and south, south or north
    /// where they run east and west. West, or south, where left out. Another one is not used, and noted.
    pub start: Option<Side>,
    /// Wires along a strongback or a main tee, center to center.
    pub wire_every: Ticks,
    /// The strongback's end at the starting wall, and the one at the far wall.
    pub ends: [End; 2],
    /// Whether strongbacks, and tees tied at mid-span, are held to the deck by clips: where they hang too near for wires.
    pub clipped: bool,
    /// The tested span, where it is known: longer parts are noted, and ties go only on tees that need them.
    pub span_limit: Option<Ticks>,
    /// Fasteners of angle to a wall, center to center: 16 in.
    pub fasten_every: Ticks,
    /// Plain angle along a wall may stop short of its end by less than this: no piece so short is cut to close it. A
    /// face that is shorter, and has no tab, takes no angle.
    pub least_angle: Ticks,
    /// Stock lengths.
    pub stock: Stock,
    /// Laps and splice pieces.
    pub laps: Laps,
}

impl Default for Framing {
    fn default() -> Self {
        Self {
            scheme: Scheme::WallToWall,
            spacing: Ticks::inches(24),
            pitch: Ticks::inches(8),
            end_clearance: Ticks::sixty_fourths(8),
            tees_run: None,
            start: None,
            wire_every: Ticks::feet(4),
            ends: [End::Free, End::Free],
            clipped: false,
            span_limit: None,
            fasten_every: Ticks::inches(16),
            least_angle: Ticks::sixty_fourths(32),
            stock: Stock::default(),
            laps: Laps::default(),
        }
    }
}

/// An opening in a ceiling: a light, a diffuser, an access door.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opening {
    /// What messages call it, `opening 2`.
    pub name: String,
    /// Its size east and west where it has a position, its longer or shorter size where not.
    pub long: Ticks,
    /// Its size north and south where it has a position, its other size where not.
    pub wide: Ticks,
    /// How many of them. One that has a position is there once, whatever this says.
    pub count: u32,
    /// Its south-west corner, where the drawings give it.
    pub at: Option<Point>,
    /// Whether the fixture hangs from structure by itself.
    pub heavy: bool,
}

/// Board on the framing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoardRule {
    /// Width of a sheet: 4 ft.
    pub width: Ticks,
    /// Lengths on offer: 8, 9, 10, 12, 14 ft.
    pub lengths: Vec<Ticks>,
    /// Layers.
    pub layers: u32,
    /// Screws along a tee, center to center, at most: 12 in. (ASTM C840).
    pub screw_every: Ticks,
    /// Screws from the edges of a sheet: 3/8 in. (ASTM C840).
    pub screw_edge: Ticks,
    /// Control joints, at most this far apart: 30 ft; 50 ft with perimeter relief (ASTM C840 / GA-216).
    pub control_every: Ticks,
    /// South-west and north-east corners of openings: a piece of board that lies wholly in one is not bought.
    pub holes: Vec<[Point; 2]>,
}

impl Default for BoardRule {
    fn default() -> Self {
        Self {
            width: Ticks::feet(4),
            lengths: [8, 9, 10, 12, 14].map(Ticks::feet).to_vec(),
            layers: 1,
            screw_every: Ticks::inches(12),
            screw_edge: Ticks::sixty_fourths(24),
            control_every: Ticks::feet(30),
            holes: Vec::new(),
        }
    }
}
