//! Roots, to twenty significant digits.

use super::{BuiltIn, BuiltInParameter, number};
use crate::program::emit::{Emit, Here, Refused};
use crate::program::node::Reg;

const PARAMETERS: &[BuiltInParameter] =
    &[BuiltInParameter { name: "x", takes: "a number, or a quantity whose unit has that root", optional: false }];
const DETAILS: &str =
    "To 20 significant digits, in decimals; exact where the root ends. The root of an area is a length.";

pub(super) const RECORDS: &[BuiltIn] = &[
    BuiltIn {
        name: "square_root",
        signature: "square_root(x)",
        parameters: PARAMETERS,
        several: false,
        gives: "a number, or a quantity of the unit's root",
        summary: "The square root.",
        details: DETAILS,
        examples: &[("square_root(144 sf)", "12'-0\""), ("square_root(2)", "1.414214")],
        refused: ("square_root(3 ft)", "no meaning"),
        since: "1",
        build: |emit, here, args| root(emit, here, 2, args),
    },
    BuiltIn {
        name: "cube_root",
        signature: "cube_root(x)",
        parameters: PARAMETERS,
        several: false,
        gives: "a number, or a quantity of the unit's root",
        summary: "The cube root.",
        details: DETAILS,
        examples: &[("cube_root(27 cf)", "3'-0\""), ("cube_root(-8)", "-2")],
        refused: ("cube_root(4 sf)", "no meaning"),
        since: "1",
        build: |emit, here, args| root(emit, here, 3, args),
    },
];

fn root(emit: &mut Emit, here: &Here, n: u32, args: &[Option<Reg>]) -> Result<Reg, Refused> {
    let Some(x) = args[0] else { return Err("There is nothing to take the root of.".to_owned()) };
    number(emit, x, "A root")?;
    emit.root(here, n, x)
}
