//! Native functions: a row at a time, once for equal arguments.

use super::{Chunk, Data, Faults, Maker, narrowed};
use crate::engine::column::Fault;
use crate::engine::run::Context;
use crate::engine::things::{Asked, Made, Part};
use crate::program::native::{Native, NativeArgument, NativeFault, NativeValue, Takes, numbered};
use crate::program::node::{Cause, Op};
use crate::program::{FieldId, KindId, SiteId, Step, Type};
use crate::quantity::{Number, Unit};
use rustc_hash::FxHashMap;

/// An argument as its column has it.
enum Given<'a> {
    Missing,
    Value { chunk: &'a Chunk, ty: Type, unit: Unit, optional: bool, large: Option<SiteId> },
    Rows { kind: KindId, fields: &'a [Option<FieldId>] },
}

/// A native function over a block.
pub(super) fn native<'a>(
    ctx: &Context<'a>,
    step: &Step,
    number: u32,
    arguments: &'a [NativeArgument],
    reg: &impl Fn(u32) -> &'a Chunk,
    maker: Maker,
) -> Chunk {
    let Some(record) = numbered(ctx.program.natives, number) else { return maker.nothing() };
    let given = given(ctx, record, (arguments, step.large), reg);
    let chunks: Vec<&Chunk> =
        given.iter().filter_map(|g| if let Given::Value { chunk, .. } = g { Some(*chunk) } else { None }).collect();
    let by_row = given.iter().any(|g| matches!(g, Given::Rows { .. }));
    let len = if by_row { maker.rows.len } else { maker.len_of(&chunks) };
    let mut faults: Faults = None;
    let mut numbers = Vec::with_capacity(len);
    let mut yes_no = Vec::new();
    let mut buffer = Buffer::default();
    let of = asked_of(&given);
    let mut seen = FxHashMap::default();
    let left_out = if len == maker.rows.len { ctx.left_out.get(maker.rows.start..) } else { None };
    for row in 0..len {
        if let (Some(true), Some(_)) = (left_out.and_then(|rows| rows.get(row)), maker.site) {
            maker.mark(&mut faults, row, len);
            numbers.push(Number::ZERO);
            yes_no.push(false);
            continue;
        }
        let thing = of.filter(|chunk| chunk.fault(row).is_none()).and_then(|chunk| thing(chunk, row));
        let made = match thing.and_then(|thing| seen.get(&thing)) {
            Some(made) => Ok(*made),
            None => {
                let made = one(ctx, (record, number), &given, (row, maker.rows.start + row), &mut buffer);
                if let (Some(thing), Ok(made)) = (thing, &made) {
                    seen.insert(thing, *made);
                }
                made
            }
        };
        let (number, flag) = match made {
            Ok(Made::Number(n)) => (n, false),
            Ok(Made::Thing(n)) => (Number::from(i64::from(n)), false),
            Ok(Made::YesNo(v)) => (Number::ZERO, v),
            Ok(Made::Fault) => {
                maker.mark(&mut faults, row, len);
                (Number::ZERO, false)
            }
            Err(fault) => {
                faults.get_or_insert_with(|| vec![None; len].into_boxed_slice())[row] = Some(fault);
                (Number::ZERO, false)
            }
        };
        numbers.push(number);
        yes_no.push(flag);
    }
    let unit = step.unit.factor;
    let data = match step.ty {
        Type::YesNo => Data::YesNo(yes_no),
        Type::Number { .. } => {
            let mut kept = Vec::with_capacity(len);
            for (row, n) in numbers.into_iter().enumerate() {
                kept.push(n.scaled(unit.recip()).unwrap_or_else(|error| {
                    maker.mark_error(&mut faults, row, len, error);
                    Number::ZERO
                }));
            }
            narrowed(kept)
        }
        _ => narrowed(numbers),
    };
    Chunk { data, faults }
}

fn given<'a>(
    ctx: &Context<'_>,
    record: &Native,
    (arguments, large): (&'a [NativeArgument], Option<SiteId>),
    reg: &impl Fn(u32) -> &'a Chunk,
) -> Vec<Given<'a>> {
    let one = |(argument, parameter): (&'a NativeArgument, &crate::program::native::NativeParameter)| match argument {
        NativeArgument::Missing => Given::Missing,
        NativeArgument::Value(r) => {
            let ty = if let Takes::Value(ty) = parameter.takes { ty } else { Type::Text };
            Given::Value { chunk: reg(*r), ty, unit: ctx.unit_of(*r), optional: parameter.optional, large }
        }
        NativeArgument::Rows(kind, fields) => Given::Rows { kind: *kind, fields },
    };
    arguments.iter().zip(record.parameters).map(one).collect()
}

/// The things that a function is asked of, where all else that it is asked is the same for every row: of one thing it
/// need not be asked twice.
fn asked_of<'a>(given: &[Given<'a>]) -> Option<&'a Chunk> {
    let mut of = None;
    for g in given {
        match g {
            Given::Missing => {}
            Given::Value { chunk, .. }
                if chunk.data.len() == 1 && chunk.faults.as_ref().is_none_or(|f| f.len() == 1) => {}
            Given::Value { chunk, ty: Type::Thing(_), .. } if of.is_none() => of = Some(*chunk),
            _ => return None,
        }
    }
    of
}

/// What serves for row after row.
#[derive(Default)]
struct Buffer<'a> {
    parts: Vec<Part>,
    values: Vec<NativeValue<'a>>,
}

/// One row, by its place in the block and among all: what was asked, and what came of it.
fn one<'a>(
    ctx: &Context<'a>,
    (record, number): (&Native, u32),
    given: &[Given<'_>],
    (at, row): (usize, usize),
    buffer: &mut Buffer<'a>,
) -> Result<Made, Fault> {
    let Buffer { parts: asked, values: lent } = buffer;
    parts(ctx, given, (at, row), asked)?;
    if !record.remembered {
        values(ctx, given, asked, lent);
        return Ok(ctx.things.kept((record.work)(lent)));
    }
    let asked: Asked = (number, std::mem::take(asked));
    if let Some(made) = ctx.things.known(&asked) {
        return Ok(made);
    }
    values(ctx, given, &asked.1, lent);
    let answer = (record.work)(lent);
    Ok(ctx.things.remember(asked, answer))
}

/// Whether a fault is a blank cell.
fn is_blank(ctx: &Context<'_>, site: SiteId) -> bool {
    matches!(ctx.program.sites[site.0 as usize].cause, Cause::Missing(_) | Cause::Nothing(_))
}

/// A row's arguments one after the other.
fn parts(ctx: &Context<'_>, given: &[Given<'_>], (at, row): (usize, usize), out: &mut Vec<Part>) -> Result<(), Fault> {
    out.clear();
    for g in given {
        match g {
            Given::Missing => out.push(Part::Missing),
            Given::Value { chunk, ty, unit, optional, large } => match chunk.fault(at) {
                Some(fault) if *optional && is_blank(ctx, fault.site) => out.push(Part::Missing),
                Some(fault) => return Err(fault),
                None => out.push(part(chunk, at, *ty, *unit).map_or_else(|| too_large(*large, row), Ok)?),
            },
            Given::Rows { kind, fields } => {
                for child in ctx.children(*kind, row) {
                    out.push(Part::Row);
                    for field in *fields {
                        let column = field.and_then(|f| ctx.columns[f.0 as usize].as_ref().map(|c| (f, c)));
                        let Some((field, column)) = column else {
                            out.push(Part::Missing);
                            continue;
                        };
                        let (chunk, at) = column.locate(child);
                        let outgrown = Some(SiteId(ctx.program.outgrown.0.saturating_add(field.0)));
                        let field = ctx.program.schema.field(field);
                        match chunk.fault(at) {
                            Some(fault) if is_blank(ctx, fault.site) => out.push(Part::Missing),
                            Some(fault) => return Err(fault),
                            None => {
                                let part = part(chunk, at, field.ty, field.unit);
                                out.push(part.map_or_else(|| too_large(outgrown, child), Ok)?);
                            }
                        }
                    }
                }
                out.push(Part::RowsEnd);
            }
        }
    }
    Ok(())
}

/// A number that cannot be brought to base units.
fn too_large(site: Option<SiteId>, row: usize) -> Result<Part, Fault> {
    let fault = |site| Fault { site, row: u32::try_from(row).unwrap_or(u32::MAX) };
    site.map_or(Ok(Part::Missing), |site| Err(fault(site)))
}

/// The number of a thing.
fn thing(chunk: &Chunk, at: usize) -> Option<u32> {
    if let Data::Fixed { values, scale: 0, over: None } = &chunk.data {
        return u32::try_from(*values.get(if values.len() == 1 { 0 } else { at })?).ok();
    }
    u32::try_from(chunk.number(at)?.to_decimal().mantissa()).ok()
}

/// Nothing where it is too large for base units.
fn part(chunk: &Chunk, at: usize, ty: Type, unit: Unit) -> Option<Part> {
    Some(match ty {
        Type::Text => chunk.text(at).map_or(Part::Missing, Part::Text),
        Type::YesNo => chunk.yes_no(at).map_or(Part::Missing, Part::YesNo),
        Type::Thing(_) => thing(chunk, at).map_or(Part::Missing, Part::Thing),
        _ => match chunk.number(at) {
            Some(n) => Part::Number(n.scaled(unit.factor).ok()?),
            None => Part::Missing,
        },
    })
}

/// The arguments as the function takes them.
fn values<'a>(ctx: &Context<'a>, given: &[Given<'_>], parts: &[Part], out: &mut Vec<NativeValue<'a>>) {
    let value = |part: &Part| match part {
        Part::Missing | Part::Row | Part::RowsEnd => NativeValue::Missing,
        Part::Number(n) => NativeValue::Number(*n),
        Part::Text(t) => NativeValue::Text(ctx.texts.get(*t)),
        Part::YesNo(v) => NativeValue::YesNo(*v),
        Part::Thing(t) => NativeValue::Thing(ctx.things.lent(*t as usize)),
    };
    let mut parts = parts.iter().peekable();
    out.clear();
    for g in given {
        match g {
            Given::Missing | Given::Value { .. } => out.push(parts.next().map_or(NativeValue::Missing, value)),
            Given::Rows { fields, .. } => {
                let mut rows = Vec::new();
                while parts.peek() == Some(&&Part::Row) {
                    parts.next();
                    rows.push(parts.by_ref().take(fields.len()).map(value).collect());
                }
                parts.next();
                out.push(NativeValue::Rows(rows));
            }
        }
    }
}

/// What a native function says of a row, with the row of another kind that is to blame. `regs` are the row's own
/// steps, one value each.
pub fn asked_again(
    ctx: &Context<'_>,
    step: &Step,
    regs: &[Chunk],
    row: usize,
) -> Option<(NativeFault, Option<(KindId, usize)>)> {
    let Op::Native(number, arguments) = &step.op else { return None };
    let record = numbered(ctx.program.natives, *number)?;
    let given = given(ctx, record, (arguments, step.large), &|r| &regs[r as usize]);
    let mut buffer = Buffer::default();
    parts(ctx, &given, (0, row), &mut buffer.parts).ok()?;
    values(ctx, &given, &buffer.parts, &mut buffer.values);
    let fault = (record.work)(&buffer.values).err()?;
    let child = fault.row.and_then(|(parameter, index)| match given.get(parameter)? {
        Given::Rows { kind, .. } => Some((*kind, ctx.children(*kind, row).nth(index)?)),
        _ => None,
    });
    Some((fault, child))
}
