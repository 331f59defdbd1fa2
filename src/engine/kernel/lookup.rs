//! Table look-ups: keys are brought to the asking column's unit and scale once a block, then found by halving.

use super::{Chunk, Data, Faults, Maker, at, narrowed};
use crate::engine::run::Context;
use crate::notation::tree::Match;
use crate::program::node::{Branch, Constant, Table};
use crate::quantity::{Number, NumberError, Unit};
use std::cmp::Ordering;

/// The result column of a table as a block, where each row of the table is a row of the block.
#[must_use]
pub fn prepared_result(values: &[Constant]) -> Data {
    match values.first() {
        Some(Constant::Text(_)) => {
            Data::Text(values.iter().map(|v| if let Constant::Text(t) = v { *t } else { 0 }).collect())
        }
        Some(Constant::YesNo(_)) => Data::YesNo(values.iter().map(|v| matches!(v, Constant::YesNo(true))).collect()),
        _ => narrowed(values.iter().map(|v| if let Constant::Number(n) = v { *n } else { Number::ZERO }).collect()),
    }
}

/// A branch's keys at the scale and unit of the column that asks, for comparison in 64 bits.
///
/// A key between two whole numbers is rounded down for `from` and `up to`; an exact match then needs `whole`.
struct Scaled {
    floors: Vec<i64>,
    whole: Vec<bool>,
}

/// What was found for one row.
enum Found {
    Row(usize),
    Between(usize, usize, Number),
    Nothing,
    Failed(NumberError),
}

pub(super) fn lookup(ctx: &Context<'_>, table: usize, result: usize, keys: &[(&Chunk, Unit)], maker: Maker) -> Chunk {
    let compiled = &ctx.program.tables[table];
    let operands: Vec<&Chunk> = keys.iter().map(|(c, _)| *c).collect();
    let len = maker.len_of(&operands);
    let mut faults = maker.merged(&operands, len);
    let mut scaled: Vec<Option<Option<Scaled>>> = (0..compiled.branches.len()).map(|_| None).collect();
    let mut found = Vec::with_capacity(len);
    let mut between = false;
    for row in 0..len {
        if faults.as_ref().is_some_and(|f| f[row].is_some()) {
            found.push(Found::Row(0));
            continue;
        }
        let at = find(ctx, compiled, keys, row, &mut scaled);
        match at {
            Found::Nothing => maker.mark(&mut faults, row, len),
            Found::Failed(error) => maker.mark_error(&mut faults, row, len, error),
            _ => {}
        }
        between |= matches!(at, Found::Between(..));
        found.push(at);
    }
    let data = if between {
        interpolated(compiled, result, &found, &mut faults, maker)
    } else {
        gathered(&ctx.results[table][result], &found)
    };
    Chunk { data, faults }
}

/// The row of a table that one row's keys find, or the two between which they lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Matched {
    /// That row, from 0 in the order of the book.
    Row(usize),
    /// In proportion between the row below and the row above.
    Between(usize, usize),
}

/// What a look-up of a single row finds: `keys` have one value each.
pub(in crate::engine) fn matched(ctx: &Context<'_>, table: usize, keys: &[(&Chunk, Unit)]) -> Option<Matched> {
    let compiled = &ctx.program.tables[table];
    let mut scaled: Vec<Option<Option<Scaled>>> = (0..compiled.branches.len()).map(|_| None).collect();
    match find(ctx, compiled, keys, 0, &mut scaled) {
        Found::Row(row) => Some(Matched::Row(row)),
        Found::Between(below, above, _) => Some(Matched::Between(below, above)),
        Found::Nothing | Found::Failed(_) => None,
    }
}

fn find(
    ctx: &Context<'_>,
    table: &Table,
    keys: &[(&Chunk, Unit)],
    row: usize,
    scaled: &mut [Option<Option<Scaled>>],
) -> Found {
    let mut branch = 0usize;
    for (level, (chunk, unit)) in keys.iter().enumerate() {
        let here = &table.branches[branch];
        let how = table.keys[level].how;
        let place = if !here.texts.is_empty() || here.numbers.is_empty() {
            let wanted = chunk.text(row).map(|t| ctx.texts.same(t));
            here.texts.iter().position(|t| Some(*t) == wanted)
        } else if how == Match::Between {
            return bracket(here, &at(chunk, row), *unit);
        } else {
            number_place(here, chunk, *unit, row, how, &mut scaled[branch])
        };
        match place {
            Some(i) => branch = here.next[i] as usize,
            None => return Found::Nothing,
        }
    }
    Found::Row(branch)
}

fn number_place(
    branch: &Branch,
    chunk: &Chunk,
    unit: Unit,
    row: usize,
    how: Match,
    cache: &mut Option<Option<Scaled>>,
) -> Option<usize> {
    if let Data::YesNo(_) = chunk.data {
        let wanted = Number::from(i64::from(chunk.yes_no(row)?));
        return branch.numbers.iter().position(|n| *n == wanted);
    }
    if let Data::Fixed { values, scale, over: None } = &chunk.data {
        let value = values[if values.len() == 1 { 0 } else { row }];
        let scaled = cache.get_or_insert_with(|| scale_keys(branch, unit, *scale));
        if let Some(s) = scaled {
            return match how {
                Match::Exact => s.floors.binary_search(&value).ok().filter(|i| s.whole[*i]),
                // at or above: the first key whose floor is not below; a key just above a whole number counts as above it
                Match::UpTo => first_at_or_above(s, value),
                Match::From | Match::Between => {
                    s.floors.iter().enumerate().rposition(|(i, k)| *k < value || (*k == value && s.whole[i]))
                }
            };
        }
    }
    let value = at(chunk, row);
    let order = |key: &Number| in_order(key, &value, unit);
    match how {
        Match::Exact => branch.numbers.binary_search_by(order).ok(),
        Match::UpTo => branch.numbers.iter().position(|k| order(k).is_ge()),
        Match::From | Match::Between => branch.numbers.iter().rposition(|k| order(k).is_le()),
    }
}

/// How a key in base units compares with a value in a column's unit, whatever their size.
fn in_order(key: &Number, value: &Number, unit: Unit) -> Ordering {
    key.order(*unit.factor.denom(), value, *unit.factor.numer())
}

fn first_at_or_above(s: &Scaled, value: i64) -> Option<usize> {
    let at = s.floors.partition_point(|k| *k < value);
    (at < s.floors.len()).then_some(at)
}

fn scale_keys(branch: &Branch, unit: Unit, scale: u32) -> Option<Scaled> {
    let up = Number::from(10i64.checked_pow(scale)?);
    let (mut floors, mut whole) = (Vec::new(), Vec::new());
    for key in &branch.numbers {
        let k = key.scaled(unit.factor.recip()).ok()?.times(&up).ok()?;
        let floor = k.to_decimal().floor();
        whole.push(k.is_whole());
        floors.push(i64::try_from(floor).ok()?);
    }
    // two keys that share a floor cannot be told apart in 64 bits
    floors.windows(2).all(|w| w[0] < w[1]).then_some(Scaled { floors, whole })
}

fn bracket(branch: &Branch, value: &Number, unit: Unit) -> Found {
    let row = |i: usize| branch.next[i] as usize;
    let Some(below) = branch.numbers.iter().rposition(|k| in_order(k, value, unit).is_le()) else {
        return Found::Nothing;
    };
    let low = branch.numbers[below];
    if in_order(&low, value, unit).is_eq() {
        return Found::Row(row(below));
    }
    let Some(above) = branch.numbers.get(below + 1) else { return Found::Nothing };
    let part = value.scaled(unit.factor).and_then(|value| value.minus(&low)).and_then(|d| d.over(&above.minus(&low)?));
    part.map_or_else(Found::Failed, |part| Found::Between(row(below), row(below + 1), part))
}

fn gathered(result: &Data, found: &[Found]) -> Data {
    let rows = found.iter().map(|f| if let Found::Row(r) = f { *r } else { 0 });
    match result {
        Data::Fixed { values, scale, .. } => {
            Data::Fixed { values: rows.map(|r| values[r]).collect(), scale: *scale, over: None }
        }
        Data::Wide(values) => Data::Wide(rows.map(|r| values[r]).collect()),
        Data::Text(values) => Data::Text(rows.map(|r| values[r]).collect()),
        Data::YesNo(values) => Data::YesNo(rows.map(|r| values[r]).collect()),
    }
}

fn interpolated(table: &Table, result: usize, found: &[Found], faults: &mut Faults, maker: Maker) -> Data {
    let value = |r: usize| match table.results[result].values[r] {
        Constant::Number(n) => n,
        _ => Number::ZERO,
    };
    let line = |a: usize, b: usize, part: &Number| -> Result<Number, NumberError> {
        value(a).plus(&value(b).minus(&value(a))?.times(part)?)
    };
    let mut out = Vec::with_capacity(found.len());
    for (row, f) in found.iter().enumerate() {
        out.push(match f {
            Found::Row(r) => value(*r),
            Found::Nothing | Found::Failed(_) => Number::ZERO,
            Found::Between(a, b, part) => line(*a, *b, part).unwrap_or_else(|error| {
                maker.mark_error(faults, row, found.len(), error);
                Number::ZERO
            }),
        });
    }
    narrowed(out)
}
