//! Yes and no, and whether a value is there.

use super::{Chunk, Data, Maker};
use crate::engine::run::Context;
use crate::program::node::Cause;

fn yes(chunk: &Chunk, row: usize) -> bool {
    chunk.yes_no(row).unwrap_or(false)
}

pub(super) fn not(a: &Chunk) -> Chunk {
    let data = match &a.data {
        Data::YesNo(v) => Data::YesNo(v.iter().map(|x| !x).collect()),
        other => other.clone(),
    };
    Chunk { data, faults: a.faults.clone() }
}

/// `and` (or `or`): the left side decides alone where it can, so the right one's fault then does not count.
pub(super) fn both(a: &Chunk, b: &Chunk, and: bool, maker: Maker) -> Chunk {
    let len = maker.len_of(&[a, b]);
    let decided = |row: usize| a.fault(row).is_none() && yes(a, row) != and;
    let values =
        (0..len).map(|row| if and { yes(a, row) && yes(b, row) } else { yes(a, row) || yes(b, row) }).collect();
    let faults = (a.faults.is_some() || b.faults.is_some())
        .then(|| (0..len).map(|row| a.fault(row).or_else(|| if decided(row) { None } else { b.fault(row) })).collect());
    Chunk { data: Data::YesNo(values), faults }
}

/// Whether a value is not missing. Any other fault stays one.
pub(super) fn given(ctx: &Context<'_>, a: &Chunk, maker: Maker) -> Chunk {
    let Some(faults) = &a.faults else {
        return Chunk { data: Data::YesNo(vec![true]), faults: None };
    };
    let missing = |row: usize| {
        let fault = a.fault(row)?;
        matches!(ctx.program.sites[fault.site.0 as usize].cause, Cause::Missing(_) | Cause::Nothing(_)).then_some(())
    };
    let len = if faults.len() == 1 && a.data.len() == 1 { 1 } else { maker.rows.len };
    let values = (0..len).map(|row| a.fault(row).is_none()).collect();
    let rest: Box<[_]> = (0..len).map(|row| if missing(row).is_some() { None } else { a.fault(row) }).collect();
    let faults = rest.iter().any(Option::is_some).then_some(rest);
    Chunk { data: Data::YesNo(values), faults }
}

/// Whether two texts (or two yes/no values) are the same.
pub(super) fn same(ctx: &Context<'_>, a: &Chunk, b: &Chunk, maker: Maker) -> Chunk {
    maker.rows_of_yes_no(&[a, b], |row| match (a.text(row), b.text(row)) {
        (Some(x), Some(y)) => x == y || ctx.texts.same(x) == ctx.texts.same(y),
        _ => yes(a, row) == yes(b, row),
    })
}
