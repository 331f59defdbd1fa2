//! Rounding, always by name and to a stated step.

use super::{BuiltIn, BuiltInParameter, number};
use crate::program::emit::{Emit, Here, Refused};
use crate::program::node::Reg;
use crate::quantity::number::Rounding;

const PARAMETERS: &[BuiltInParameter] = &[
    BuiltInParameter { name: "x", takes: "a number or a quantity", optional: false },
    BuiltInParameter { name: "to", takes: "the step, of the kind of x; 1 for a plain number", optional: true },
];
const GIVES: &str = "a value of the kind of x";
const DETAILS: &str = "'to' is the step, of the same kind as x; it is 1 if left out. A value within one millionth of a step counts as that step.";

pub(super) const RECORDS: &[BuiltIn] = &[
    BuiltIn {
        name: "round_up",
        signature: "round_up(x, to: 1)",
        parameters: PARAMETERS,
        several: false,
        gives: GIVES,
        summary: "The next whole multiple of 'to' at or above x.",
        details: DETAILS,
        examples: &[
            ("round_up(37.5)", "38"),
            ("round_up(20'-4\", to: 10')", "30'-0\""),
            ("round_up(12.0000001)", "12"),
        ],
        refused: ("round_up(20')", "needs 'to:'"),
        since: "1",
        build: |emit, here, args| round(emit, here, Rounding::Up, args),
    },
    BuiltIn {
        name: "round_down",
        signature: "round_down(x, to: 1)",
        parameters: PARAMETERS,
        several: false,
        gives: GIVES,
        summary: "The last whole multiple of 'to' at or below x.",
        details: DETAILS,
        examples: &[("round_down(37.5)", "37"), ("round_down(2'-7\", to: 8\")", "2'-0\"")],
        refused: ("round_down(3 sf, to: 1')", "of one kind"),
        since: "1",
        build: |emit, here, args| round(emit, here, Rounding::Down, args),
    },
    BuiltIn {
        name: "round_near",
        signature: "round_near(x, to: 1)",
        parameters: PARAMETERS,
        several: false,
        gives: GIVES,
        summary: "The nearest whole multiple of 'to', halves away from zero.",
        details: "'to' is the step, of the same kind as x; it is 1 if left out.",
        examples: &[("round_near(2.5)", "3"), ("round_near($46.865, to: $0.01)", "$46.87"), ("round_near(-2.5)", "-3")],
        refused: ("round_near(\"x\")", "takes a number"),
        since: "1",
        build: |emit, here, args| round(emit, here, Rounding::Near, args),
    },
    BuiltIn {
        name: "round_even",
        signature: "round_even(x, to: 1)",
        parameters: PARAMETERS,
        several: false,
        gives: GIVES,
        summary: "The nearest whole multiple of 'to', halves to the even one (ASTM E29).",
        details: "'to' is the step, of the same kind as x; it is 1 if left out.",
        examples: &[("round_even(2.5)", "2"), ("round_even($46.865, to: $0.01)", "$46.86")],
        refused: ("round_even(2.5, to: 0)", "zero"),
        since: "1",
        build: |emit, here, args| round(emit, here, Rounding::NearEven, args),
    },
    BuiltIn {
        name: "pieces",
        signature: "pieces(need:, stock:)",
        parameters: &[
            BuiltInParameter { name: "need", takes: "a length, an area, a volume or a count", optional: false },
            BuiltInParameter {
                name: "stock",
                takes: "the size of one piece, of the kind of the need",
                optional: false,
            },
        ],
        several: false,
        gives: "a count",
        summary: "How many whole pieces of stock cover a need, joined end to end.",
        details: "Both of one kind: lengths, areas, volumes or counts. A remainder within one millionth of a piece does not call for another.",
        examples: &[("pieces(need: 41'-4\" * 108%, stock: 20')", "3"), ("pieces(need: 1200 sf, stock: 32 sf)", "38")],
        refused: ("pieces(need: 1200 sf, stock: 10')", "of one kind"),
        since: "1",
        build: pieces,
    },
];

fn round(emit: &mut Emit, here: &Here, how: Rounding, args: &[Option<Reg>]) -> Result<Reg, Refused> {
    let Some(x) = args[0] else { return Err("There is nothing to round.".to_owned()) };
    let dimension = number(emit, x, "Rounding")?;
    let step = match args[1] {
        Some(step) => step,
        None if dimension.is_none() => emit.whole(1),
        None => return Err(format!("Rounding {} needs 'to:', the step to round to.", dimension.words())),
    };
    if number(emit, step, "'to'")? != dimension {
        let step = emit.node(step).ty.words();
        return Err(format!(
            "The value and its step must be of one kind: this rounds {} to {step}.",
            dimension.words()
        ));
    }
    emit.round(here, how, x, step)
}

fn pieces(emit: &mut Emit, here: &Here, args: &[Option<Reg>]) -> Result<Reg, Refused> {
    let (Some(need), Some(stock)) = (args[0], args[1]) else {
        return Err("A need and a stock size are wanted.".to_owned());
    };
    let (a, b) = (number(emit, need, "'need'")?, number(emit, stock, "'stock'")?);
    if a != b {
        return Err(format!("Need and stock must be of one kind: these are {} and {}.", a.words(), b.words()));
    }
    let quotient = emit.divide(here, need, stock)?;
    let one = emit.whole(1);
    let whole = emit.round(here, Rounding::Up, quotient, one)?;
    emit.count(here, whole)
}
