//! A layout: every piece with its place. Points are in the room's own `x` and `y`.

use super::framing::TeesRun;
use crate::ceiling::shape::{Point, Side, Ticks};
use smallvec::SmallVec;

/// What is cut for one member: seldom more than one piece, so it lies in the member itself.
pub type Cut = SmallVec<[Ticks; 2]>;

/// What a member is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A tee from wall to wall, or from wall to column, or part of one.
    Tee,
    /// A cross tee of a hung grid.
    CrossTee,
    /// A main tee of a hung grid.
    Main,
    /// A tabbed main clipped to the deck.
    TabbedMain,
    /// A strongback.
    Strongback,
    /// Cold-rolled channel.
    Channel,
    /// Furring channel.
    Furring,
}

/// A straight member.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Member {
    /// What it is.
    pub kind: Kind,
    /// Its west or south end: a face of a wall, or the center of what carries it.
    pub from: Point,
    /// Its east or north end.
    pub to: Point,
    /// What is cut for it, in order from its first end; more than one piece where stock is shorter. Laps are in it.
    pub pieces: Cut,
}

/// What holds a member from above.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HangKind {
    /// A wire to a strongback, a main tee or a channel.
    Wire,
    /// A wire that ties a tee to structure.
    Tie,
    /// A clip to the deck.
    Clip,
}

/// A wire, tie or clip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Hang {
    /// What it is.
    pub kind: HangKind,
    /// Where.
    pub at: Point,
    /// Index into [`Layout::members`] of what it holds.
    pub on: usize,
    /// The length of that member that it carries: half way to its neighbors, all the way to an end.
    pub share: Ticks,
}

/// What an angle is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AngleKind {
    /// Tabbed, where tees bear.
    Tabbed,
    /// Closes a bearing wall past the last tab, with no tab in use: an offcut where there is one.
    Closing,
    /// Plain, along the starting and the far wall; all around a hung grid; on slanted walls.
    Plain,
    /// On the return face of a jog or column: plain, or scrap.
    Return,
}

/// A piece of angle as it is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct AnglePiece {
    /// What it is for.
    pub kind: AngleKind,
    /// Index into [`Layout::walls`].
    pub wall: usize,
    /// Its end toward the starting wall, on a bearing wall; toward the wall's first corner elsewhere.
    pub from: Point,
    /// Its other end.
    pub to: Point,
    /// Its length.
    pub length: Ticks,
    /// What is cut off the end toward the starting wall, so that tabs stay on the pitch. 4 in. for the first piece of
    /// a bearing wall.
    pub cut_off: Ticks,
    /// How many of its tabs are on a place where a tee could lie.
    pub tabs: usize,
}

/// A wall, and what it is fastened with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct WallFit {
    /// Its first corner; the room is on the left hand from here to `to`.
    pub from: Point,
    /// Its second corner.
    pub to: Point,
    /// The side that it is on; `None` for a slanted wall.
    pub side: Option<Side>,
    /// Whether it is the face of a free column.
    pub column: bool,
    /// What angle it has; `None` under a scheme without angle, and on a face too short for a piece.
    pub angle: Option<AngleKind>,
    /// Its length.
    pub length: Ticks,
    /// Fasteners of the angle to the wall.
    pub fasteners: u32,
}

/// How two pieces are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SpliceKind {
    /// A piece of tee over a butt joint, two screws on each side of it.
    Scrap,
    /// Two tees side by side over a strongback, one tab apart; a screw on each side of the strongback.
    OverStrongback,
    /// One piece lapped over the other and fastened: strongback, channel, furring.
    Lap,
    /// Main tees end to end by their own clips.
    EndToEnd,
}

/// A splice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Splice {
    /// How.
    pub kind: SpliceKind,
    /// Index into [`Layout::members`]; over a strongback the tee that ends there.
    pub on: usize,
    /// The middle of the joint.
    pub at: Point,
    /// Screws: 4 for a scrap splice, 2 over a strongback, 1 for the lap of one; none end to end, nor where laps are tied.
    pub screws: u32,
}

/// A tee that an opening cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct CutTee {
    /// Index into [`Layout::members`].
    pub member: usize,
    /// Where the part that falls away begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
}

/// A piece of tee beside an opening; scrap serves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct OpeningPiece {
    /// Its length.
    pub length: Ticks,
    /// Its ends, where the opening has a position.
    pub at: Option<[Point; 2]>,
}

/// What one opening takes.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct OpeningFit {
    /// Index into the openings that were given.
    pub opening: usize,
    /// Its corners, south-west and north-east, where it has a position.
    pub corners: Option<[Point; 2]>,
    /// How many alike; 1 where it has a position.
    pub count: u32,
    /// Tees that each cuts.
    pub tees_cut: u32,
    /// Those tees, where it has a position.
    pub cut: Vec<CutTee>,
    /// Headers of each: across its ends, between the tees or walls beside it. None where an end is at a wall.
    pub headers: Vec<OpeningPiece>,
    /// Trimmers of each: along its sides that fall between tees.
    pub trimmers: Vec<OpeningPiece>,
    /// Framing screws of each: one at each end of a header and of a trimmer, one at each end of a cut tee.
    pub screws: u32,
    /// Flushing trim of each: its inside perimeter.
    pub trim: Ticks,
    /// Rips of board of each, where it is flushed with board: two of each length.
    pub rips: [Ticks; 2],
}

/// How board was counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BoardBasis {
    /// Sheet by sheet.
    LaidOut,
    /// By area and sheet size, for a room that is no rectangle; joints and screws are in proportion to the area.
    ByArea,
}

/// A sheet, or part of one, in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Sheet {
    /// Its south-west corner.
    pub from: Point,
    /// Its north-east corner.
    pub to: Point,
}

/// Board of a room, all layers together but where it says otherwise.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Board {
    /// How it was counted.
    pub basis: BoardBasis,
    /// The length of sheet with the least waste.
    pub sheet: Ticks,
    /// Sheets to buy.
    pub sheets: u64,
    /// One layer's sheets in their places; none where counted by area, or where there are more than 5,000.
    pub placed: Vec<Sheet>,
    /// Area bought less area covered, in square ticks.
    pub waste: i64,
    /// Joints along the tapered edges, of the last layer.
    pub edge_joints: Ticks,
    /// Joints of sheet ends, of the last layer.
    pub end_joints: Ticks,
    /// Joints between ceiling and walls, of the last layer.
    pub wall_joints: Ticks,
    /// Screws.
    pub screws: u64,
    /// Control joints, each from end to end.
    pub control_joints: Vec<[Point; 2]>,
}

/// How much a note matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weight {
    /// An assumption, or something to know.
    Note,
    /// Something that is likely wrong.
    Warning,
}

/// What a reader of the layout should know.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Note {
    /// How much it matters.
    pub weight: Weight,
    /// A stable name in words, `opening leaves room`.
    pub kind: &'static str,
    /// A sentence that stands alone.
    pub text: String,
}

/// A room with its framing in place.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Layout {
    /// Which way tees run.
    pub tees_run: TeesRun,
    /// The wall from which tees and tabs are counted.
    pub start: Side,
    /// Where along the room the count begins: `x` of that wall where tees run north and south, else `y`.
    pub origin: Ticks,
    /// The room's extent along the walls that carry the tees.
    pub along: Ticks,
    /// The room's extent the way that the tees run.
    pub run: Ticks,
    /// Members: strongbacks, mains or channels from the south or west, then tees from the starting wall on.
    pub members: Vec<Member>,
    /// Wires, ties and clips.
    pub hangs: Vec<Hang>,
    /// Walls, the outline's first.
    pub walls: Vec<WallFit>,
    /// Angle as it is cut, wall by wall.
    pub angles: Vec<AnglePiece>,
    /// Splices.
    pub splices: Vec<Splice>,
    /// What openings take, in the order given.
    pub openings: Vec<OpeningFit>,
    /// The longest part of a tee, cross tee or furring between two supports.
    pub longest_part: Ticks,
    /// Screws at the ends of tees that lie on no tab: on plain angle, or at a corner where the angle of a face ends.
    pub tee_end_screws: u64,
    /// Ties where furring crosses channel.
    pub crossing_ties: u64,
    /// What to know.
    pub notes: Vec<Note>,
}
