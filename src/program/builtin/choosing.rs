//! The lesser and the greater of values.

use super::{BuiltIn, BuiltInParameter, number};
use crate::program::emit::{Emit, Here, Refused};
use crate::program::node::Reg;

const PARAMETERS: &[BuiltInParameter] =
    &[BuiltInParameter { name: "a, b, …", takes: "two or more numbers or quantities of one kind", optional: false }];

pub(super) const RECORDS: &[BuiltIn] = &[
    BuiltIn {
        name: "shorter",
        signature: "shorter(a, b, …)",
        parameters: PARAMETERS,
        several: true,
        gives: "a value of their kind",
        summary: "The least of two or more values of one kind.",
        details: "For lengths it reads as it stands; it serves any quantity.",
        examples: &[("shorter(20', 14')", "14'-0\""), ("shorter(600 mm, 23 5/8\", 2')", "1'-11 5/8\"")],
        refused: ("shorter(20', 3 sf)", "of one kind"),
        since: "1",
        build: |emit, here, args| choose(emit, here, true, args),
    },
    BuiltIn {
        name: "longer",
        signature: "longer(a, b, …)",
        parameters: PARAMETERS,
        several: true,
        gives: "a value of their kind",
        summary: "The greatest of two or more values of one kind.",
        details: "For lengths it reads as it stands; it serves any quantity.",
        examples: &[("longer(20', 14')", "20'-0\""), ("longer(0, 3 - 5)", "0")],
        refused: ("longer(20')", "two or more"),
        since: "1",
        build: |emit, here, args| choose(emit, here, false, args),
    },
];

fn choose(emit: &mut Emit, here: &Here, least: bool, args: &[Option<Reg>]) -> Result<Reg, Refused> {
    let [Some(first), rest @ ..] = args else { return Err("This chooses among two or more values.".to_owned()) };
    if rest.is_empty() {
        return Err("This chooses among two or more values.".to_owned());
    }
    let dimension = number(emit, *first, "This")?;
    let mut best = *first;
    for next in rest.iter().flatten() {
        let other = number(emit, *next, "This")?;
        if other != dimension {
            return Err(format!(
                "The values must be of one kind: these are {} and {}.",
                dimension.words(),
                other.words()
            ));
        }
        best = emit.pick(here, least, best, *next)?;
    }
    Ok(best)
}
