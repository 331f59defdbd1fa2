//! From one kind's rows to another's: a parent's fields, and children brought together.

use super::{Chunk, Data, Maker, Rows, at, narrowed};
use crate::engine::column::{Column, Fault};
use crate::engine::run::Context;
use crate::notation::tree::How;
use crate::program::{FieldId, KindId, Step, Type};
use crate::quantity::tally::Tally;
use crate::quantity::{Decimal, Number};

/// A field of the row that each row belongs to.
pub(super) fn parent(ctx: &Context<'_>, maker: Maker, step: &Step, field: FieldId) -> Chunk {
    let schema = &ctx.program.schema;
    let (own, target) = (ctx.kind, schema.field(field).kind);
    let Some(column) = &ctx.columns[field.0 as usize] else { return maker.nothing() };
    let Rows { start, len, .. } = maker.rows;
    let above = |row: usize| ctx.ancestor(own, row, target);
    if schema.kind(target).single {
        // one row serves all; its fault, if it has one, is everybody's
        let (chunk, _) = column.locate(0);
        return chunk.clone();
    }
    let cells: Vec<(&Chunk, usize)> = (start..start + len).map(|row| column.locate(above(row))).collect();
    let faults: Vec<Option<Fault>> = cells.iter().map(|(c, i)| c.fault(*i)).collect();
    let faults = faults.iter().any(Option::is_some).then(|| faults.into_boxed_slice());
    let data = match step.ty {
        Type::Text => Data::Text(cells.iter().map(|(c, i)| c.text(*i).unwrap_or(0)).collect()),
        Type::YesNo => Data::YesNo(cells.iter().map(|(c, i)| c.yes_no(*i).unwrap_or(false)).collect()),
        _ => {
            narrowed(cells.iter().map(|(c, i)| if c.fault(*i).is_some() { Number::ZERO } else { at(c, *i) }).collect())
        }
    };
    Chunk { data, faults }
}

/// Children brought together for each row.
pub(super) fn fold(
    ctx: &Context<'_>,
    maker: Maker,
    how: How,
    kind: KindId,
    value: Option<FieldId>,
    condition: Option<FieldId>,
) -> Chunk {
    let column = |f: Option<FieldId>| f.and_then(|f| ctx.columns[f.0 as usize].as_ref());
    let (value, condition) = (column(value), column(condition));
    let len = maker.rows.len;
    let mut faults = None;
    let mut numbers = Vec::new();
    let mut yes_no = Vec::new();
    for row in 0..len {
        let children = ctx.children(kind, maker.rows.start + row);
        let result = one(children, how, value, condition);
        let (number, flag) = match result {
            Ok(Some(Folded::Number(n))) => (n, false),
            Ok(Some(Folded::Flag(f))) => (Number::ZERO, f),
            other => {
                let faults = faults.get_or_insert_with(|| vec![None; len].into_boxed_slice());
                faults[row] = other.err().or_else(|| maker.fault(row));
                (Number::ZERO, false)
            }
        };
        numbers.push(number);
        yes_no.push(flag);
    }
    let data = if matches!(how, How::Any | How::All) { Data::YesNo(yes_no) } else { narrowed(numbers) };
    Chunk { data, faults }
}

enum Folded {
    Number(Number),
    Flag(bool),
}

/// One row's children; `None` where there is nothing to take the least or most of, or a sum is too large.
fn one(
    children: impl Iterator<Item = usize>,
    how: How,
    value: Option<&Column>,
    condition: Option<&Column>,
) -> Result<Option<Folded>, Fault> {
    let mut sum = Sum::default();
    let mut count = 0i64;
    let mut best: Option<Number> = None;
    let mut flag = how == How::All;
    for child in children {
        if let Some(condition) = condition {
            let (chunk, at) = condition.locate(child);
            if let Some(fault) = chunk.fault(at) {
                return Err(fault);
            }
            if !chunk.yes_no(at).unwrap_or(false) {
                continue;
            }
        }
        count += 1;
        let Some(value) = value else { continue };
        let (chunk, i) = value.locate(child);
        if let Some(fault) = chunk.fault(i) {
            return Err(fault);
        }
        match how {
            How::Sum => sum.add(chunk, i),
            How::Least | How::Most => {
                let n = at(chunk, i);
                let better = best.is_none_or(|b| if how == How::Least { n < b } else { n > b });
                if better {
                    best = Some(n);
                }
            }
            How::Any => flag |= chunk.yes_no(i).unwrap_or(false),
            How::All => flag &= chunk.yes_no(i).unwrap_or(false),
            How::Count => {}
        }
    }
    Ok(match how {
        How::Sum => sum.total().map(Folded::Number),
        How::Count => Some(Folded::Number(count.into())),
        How::Least | How::Most => best.map(Folded::Number),
        How::Any | How::All => Some(Folded::Flag(flag)),
    })
}

/// A running sum: decimals as whole numbers at one scale as long as 128 bits allow it, the rest by what stands under
/// the bar. Digits are cut once, at the end, so that the order of the rows does not show.
#[derive(Default)]
struct Sum {
    whole: i128,
    scale: u32,
    rest: Option<Tally>,
    failed: bool,
}

impl Sum {
    fn add(&mut self, chunk: &Chunk, row: usize) {
        if let Data::Fixed { values, scale, over: None } = &chunk.data
            && self.add_whole(values[if values.len() == 1 { 0 } else { row }].into(), *scale).is_some()
        {
            return;
        }
        let number = at(chunk, row);
        let decimal = number.exact_decimal();
        if decimal.is_some_and(|d| self.add_whole(d.mantissa(), d.scale()).is_some()) {
            return;
        }
        self.failed |= self.rest.get_or_insert_default().add(&number).is_err();
    }

    fn add_whole(&mut self, mut value: i128, scale: u32) -> Option<()> {
        let mut whole = self.whole;
        if scale > self.scale {
            whole = whole.checked_mul(10i128.checked_pow(scale - self.scale)?)?;
        } else if scale < self.scale {
            value = value.checked_mul(10i128.checked_pow(self.scale - scale)?)?;
        }
        self.whole = whole.checked_add(value)?;
        self.scale = self.scale.max(scale);
        Some(())
    }

    /// Nothing where it is too large.
    fn total(self) -> Option<Number> {
        let whole = whole_number(self.whole, self.scale)?;
        match self.rest {
            _ if self.failed => None,
            Some(rest) => rest.sum().and_then(|rest| rest.plus(&whole)).ok(),
            None => Some(whole),
        }
    }
}

fn whole_number(whole: i128, scale: u32) -> Option<Number> {
    Decimal::try_from_i128_with_scale(whole, scale).ok().map(Number::from).or_else(|| {
        let under = 10i128.checked_pow(scale)?;
        Number::from_ints(whole, under).ok()
    })
}
