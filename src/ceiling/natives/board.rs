//! Board laid on a framed room.

use super::given::{Given, length, needed, of, optional, ticks, whole};
use super::laying::{Framed, LAYOUT};
use crate::ceiling::layout::{Board, BoardBasis, BoardRule, lay_board};
use crate::ceiling::shape::Ticks;
use crate::program::native::{COUNT, LENGTH, Native, NativeFault, NativeMade, Thing, ThingKind};
use crate::program::schema::Type;
use crate::quantity::spelling::{Spelled, read_length};
use std::fmt;
use std::sync::Arc;

/// The type of laid board.
pub const BOARD: Type = Type::Thing(ThingKind("boards"));

/// Board in its place.
#[derive(Debug)]
pub struct Boarded(pub Board);

impl Thing for Boarded {}

impl fmt::Display for Boarded {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} sheets of {}", self.0.sheets, self.0.sheet)
    }
}

const COUNTED: &[&str] = &["sheet", "screw", "control joint"];
const MEASURED: &[&str] = &["sheet", "edge joint", "end joint", "wall joint", "control joint"];

pub(super) const RECORDS: &[Native] = &[
    Native {
        name: "lay_board",
        parameters: &[
            needed("layout", LAYOUT),
            optional("layers", COUNT),
            optional("screws_every", LENGTH),
            optional("relief", Type::YesNo),
            optional("lengths", Type::Text),
            optional("wide", LENGTH),
            optional("joints_every", LENGTH),
        ],
        result: BOARD,
        summary: "Board on a framed room: sheets across the tees, ends on tees, staggered, of the length with least waste.",
        details: "Sheet by sheet in a rectangle, by area elsewhere. Sheets are 4 ft wide, and 8, 9, 10, 12 or 14 ft \
                  long, unless 'wide' and 'lengths' say otherwise. Openings are cut out of the sheets and save none, \
                  unless one has its place and a piece would lie wholly in it. Control joints are 30 ft apart at \
                  most, 50 ft where the perimeter is relieved, unless 'joints_every' says otherwise.",
        examples: &[
            (
                "board_count(lay_board(lay_out(room_shape(length: 16', width: 8'), scheme: \"wall to wall\", spacing: \
                 24\")), of: \"sheet\")",
                "4",
            ),
            // rows of 12 and 4 ft, and of 6 and 10 ft: 12, 10, and 6 + 4 from one sheet
            (
                "board_count(lay_board(lay_out(room_shape(length: 16', width: 8'), scheme: \"wall to wall\", spacing: \
                 24\"), lengths: \"12'\"), of: \"sheet\")",
                "3",
            ),
        ],
        refused: (
            "board_count(lay_board(lay_out(room_shape(length: 16', width: 8'), scheme: \"wall to wall\", spacing: \
             24\"), lengths: \"12\"), of: \"sheet\")",
            "has no unit",
        ),
        since: "2",
        remembered: true,
        work: |given| laid(Given(given)).map(|board| NativeMade::Thing(Arc::new(Boarded(board)))),
    },
    Native {
        name: "board_count",
        parameters: &[needed("boards", BOARD), of(COUNTED)],
        result: COUNT,
        summary: "How many sheets, screws or control joints laid board has.",
        details: "",
        examples: &[(
            "board_count(lay_board(lay_out(room_shape(length: 16', width: 8'), scheme: \"wall to wall\", spacing: \
             24\"), layers: 2), of: \"sheet\")",
            "8",
        )],
        refused: ("board_count(12', of: \"sheet\")", "needed"),
        since: "2",
        remembered: false,
        work: |given| {
            let given = Given(given);
            let board = &given.thing::<Boarded>(0)?.0;
            Ok(whole(match given.text(1) {
                Some("screw") => board.screws,
                Some("control joint") => board.control_joints.len() as u64,
                _ => board.sheets,
            }))
        },
    },
    Native {
        name: "board_length",
        parameters: &[needed("boards", BOARD), of(MEASURED)],
        result: LENGTH,
        summary: "How long a sheet of laid board is, or how long its joints are together.",
        details: "Edge joints are along the tapered edges, end joints across them, wall joints around the room; all of \
                  the last layer.",
        examples: &[(
            "board_length(lay_board(lay_out(room_shape(length: 16', width: 8'), scheme: \"wall to wall\", spacing: \
             24\")), of: \"edge joint\")",
            "16'-0\"",
        )],
        refused: ("board_length(12', of: \"sheet\")", "needed"),
        since: "2",
        remembered: false,
        work: |given| {
            let given = Given(given);
            let board = &given.thing::<Boarded>(0)?.0;
            Ok(length(match given.text(1) {
                Some("edge joint") => board.edge_joints,
                Some("end joint") => board.end_joints,
                Some("wall joint") => board.wall_joints,
                Some("control joint") => {
                    board.control_joints.iter().map(|[a, b]| Ticks((b.x - a.x).0.abs() + (b.y - a.y).0.abs())).sum()
                }
                _ => board.sheet,
            }))
        },
    },
    Native {
        name: "laid_by_sheet",
        parameters: &[needed("boards", BOARD)],
        result: Type::YesNo,
        summary: "Whether board was laid sheet by sheet, and not counted by area.",
        details: "",
        examples: &[(
            "laid_by_sheet(lay_board(lay_out(room_shape(length: 16', width: 8'), scheme: \"wall to wall\", spacing: \
             24\")))",
            "yes",
        )],
        refused: ("laid_by_sheet(12')", "needed"),
        since: "2",
        remembered: false,
        work: |given| Ok(NativeMade::YesNo(Given(given).thing::<Boarded>(0)?.0.basis == BoardBasis::LaidOut)),
    },
];

fn laid(given: Given<'_>) -> Result<Board, NativeFault> {
    let framed = given.thing::<Framed>(0)?;
    let usual = BoardRule::default();
    let rule = BoardRule {
        layers: given.count(1, "How many layers of board")?.unwrap_or(usual.layers),
        screw_every: given.length_or(2, "The spacing of screws", usual.screw_every)?,
        control_every: given.length_or(
            6,
            "The spacing of control joints",
            if given.yes(3) { Ticks::feet(50) } else { usual.control_every },
        )?,
        lengths: given.text(LENGTHS).map_or(Ok(usual.lengths), sheet_lengths)?,
        width: given.length_or(5, "The width of a sheet", usual.width)?,
        holes: framed.layout.openings.iter().filter_map(|o| o.corners).collect(),
        ..usual
    };
    lay_board(&framed.room, &framed.framing, &rule).map_err(|fault| NativeFault::new(fault.to_string()))
}

/// Which argument holds the lengths of sheets.
const LENGTHS: usize = 4;

/// Lengths with commas or semicolons between them.
fn sheet_lengths(text: &str) -> Result<Vec<Ticks>, NativeFault> {
    let each = |word: &str| {
        let word = word.trim();
        let refuse = |why: &str| NativeFault {
            what: format!("“{word}” is no length of sheet: {why}"),
            fix: "lengths with commas between them, such as 8', 10', 12'".to_owned(),
            row: Some((LENGTHS, 0)),
        };
        match read_length(word).map_err(|e| refuse(&e.what))? {
            Spelled::Length(mm) => {
                ticks(&mm, "The length of a sheet").map_err(|f| NativeFault { row: Some((LENGTHS, 0)), ..f })
            }
            Spelled::Bare(_) => Err(refuse("it has no unit")),
        }
    };
    text.split([',', ';']).filter(|word| !word.trim().is_empty()).map(each).collect()
}
