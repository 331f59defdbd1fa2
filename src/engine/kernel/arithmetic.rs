//! Sums, products, quotients, rounding and comparisons of numbers.

use super::{Chunk, Data, Maker, at, narrowed};
use crate::notation::tree::Comparison;
use crate::program::node::{Op, Scaled};
use crate::program::scalar;
use crate::quantity::Number;
use crate::quantity::number::{Rounding, WHOLE_TOLERANCE};

/// A block in 64 bits.
#[derive(Clone, Copy)]
struct Fixed<'a> {
    values: &'a [i64],
    scale: u32,
    over: Option<(&'a [i64], u32)>,
}

/// Beyond this scale a product of two columns is not attempted in 64 bits.
const MAX_SCALE: u32 = 18;

fn fixed(chunk: &Chunk) -> Option<Fixed<'_>> {
    match &chunk.data {
        Data::Fixed { values, scale, over } => {
            Some(Fixed { values, scale: *scale, over: over.as_ref().map(|(v, s)| (v.as_slice(), *s)) })
        }
        _ => None,
    }
}

fn plain(chunk: &Chunk) -> Option<Fixed<'_>> {
    fixed(chunk).filter(|f| f.over.is_none())
}

/// Applies a function to two columns, either of which may hold one value for all rows.
fn zip(a: &[i64], b: &[i64], f: impl Fn(i64, i64) -> Option<i64>) -> Option<Vec<i64>> {
    match (a, b) {
        ([x], [y]) => Some(vec![f(*x, *y)?]),
        ([x], b) => b.iter().map(|y| f(*x, *y)).collect(),
        (a, [y]) => a.iter().map(|x| f(*x, *y)).collect(),
        (a, b) => a.iter().zip(b).map(|(x, y)| f(*x, *y)).collect(),
    }
}

fn ten(power: u32) -> Option<i64> {
    10i64.checked_pow(power)
}

/// A numeric step: in 64 bits where it fits, else in exact numbers row by row.
pub(super) fn number<'a>(op: &Op, reg: impl Fn(u32) -> &'a Chunk, maker: Maker) -> Chunk {
    let fast = match op {
        Op::Add(a, b) => sum((reg(a.reg), a.by), (reg(b.reg), b.by), false, maker),
        Op::Subtract(a, b) => sum((reg(a.reg), a.by), (reg(b.reg), b.by), true, maker),
        Op::Multiply(a, b) => product(reg(*a), reg(*b), maker),
        Op::Divide(a, b) => quotient(reg(*a), reg(*b), maker),
        Op::Negate(a) => negated(reg(*a)),
        Op::Round { how, value, step } => rounded(*how, (reg(value.reg), value.by), (reg(step.reg), step.by), maker),
        Op::Pick { least, a, b } => picked(*least, (reg(a.reg), a.by), (reg(b.reg), b.by), maker),
        _ => None,
    };
    fast.unwrap_or_else(|| {
        let mut operands = Vec::new();
        op.operands(|r| operands.push(reg(r)));
        maker.rows_of_numbers(&operands, |row| scalar::number(op, |r| at(reg(r), row)).unwrap_or(Ok(Number::ZERO)))
    })
}

/// Factors that bring two columns to one scale and unit.
fn aligned(a: (Fixed<'_>, i128), b: (Fixed<'_>, i128)) -> Option<(i64, i64, u32)> {
    let scale = a.0.scale.max(b.0.scale);
    let up = |f: Fixed<'_>, by: i128| ten(scale - f.scale)?.checked_mul(i64::try_from(by).ok()?);
    Some((up(a.0, a.1)?, up(b.0, b.1)?, scale))
}

fn sum(a: (&Chunk, i128), b: (&Chunk, i128), subtract: bool, maker: Maker) -> Option<Chunk> {
    let (x, y) = (plain(a.0)?, plain(b.0)?);
    let (ka, kb, scale) = aligned((x, a.1), (y, b.1))?;
    let kb = if subtract { -kb } else { kb };
    let values = if ka == 1 && kb.abs() == 1 {
        zip(x.values, y.values, |p, q| if kb == 1 { p.checked_add(q) } else { p.checked_sub(q) })
    } else {
        zip(x.values, y.values, |p, q| p.checked_mul(ka)?.checked_add(q.checked_mul(kb)?))
    }?;
    finish(&[a.0, b.0], values, scale, None, maker)
}

fn product(a: &Chunk, b: &Chunk, maker: Maker) -> Option<Chunk> {
    let (x, y) = (fixed(a)?, fixed(b)?);
    let scale = x.scale + y.scale;
    if scale > MAX_SCALE {
        return None;
    }
    let values = zip(x.values, y.values, i64::checked_mul)?;
    let over = match (x.over, y.over) {
        (None, None) => None,
        (Some((v, s)), None) | (None, Some((v, s))) => Some((v.to_vec(), s)),
        (Some((v, s)), Some((w, t))) if s + t <= MAX_SCALE => Some((zip(v, w, i64::checked_mul)?, s + t)),
        _ => return None,
    };
    finish(&[a, b], values, scale, over, maker)
}

fn quotient(a: &Chunk, b: &Chunk, maker: Maker) -> Option<Chunk> {
    let (x, y) = (fixed(a)?, plain(b)?);
    let len = maker.len_of(&[a, b]);
    let mut faults = maker.merged(&[a, b], len);
    // what stands under a bar is above zero: a zero is a fault, a sign goes above the bar
    let mut under = y.values.to_vec();
    let negative = under.iter().any(|v| *v < 0);
    if under.contains(&0) {
        if under.len() == 1 {
            return None;
        }
        for (row, v) in under.iter_mut().enumerate().filter(|(_, v)| **v == 0) {
            *v = 1;
            if faults.as_ref().is_none_or(|f| f[row].is_none()) {
                maker.mark(&mut faults, row, len);
            }
        }
    }
    let values = if negative {
        let signed = zip(x.values, &under, |p, q| if q < 0 { p.checked_neg() } else { Some(p) })?;
        under = under.into_iter().map(i64::checked_abs).collect::<Option<Vec<_>>>()?;
        signed
    } else {
        x.values.to_vec()
    };
    // a constant over a column is spread: what stands above a bar has a value for each row where the bar has
    let values = if under.len() > values.len() { spread(values, under.len()) } else { values };
    let over = match x.over {
        None => (under, y.scale),
        Some((v, s)) if s + y.scale <= MAX_SCALE => (zip(v, &under, i64::checked_mul)?, s + y.scale),
        Some(_) => return None,
    };
    kept_exactly(&values, x.scale, &over)?;
    Some(Chunk { data: Data::Fixed { values, scale: x.scale, over: Some(over) }, faults })
}

/// Nothing where an exact number would not keep these quotients as quotients, but cut them to 28 digits: then the exact
/// way must be gone, so that a row's digits do not depend on the rows beside it.
fn kept_exactly(values: &[i64], scale: u32, over: &(Vec<i64>, u32)) -> Option<()> {
    let (up, down) = (ten(over.1.saturating_sub(scale))?, ten(scale.saturating_sub(over.1))?);
    let fit = |all: &[i64], by: i64| by == 1 || all.iter().all(|v| v.checked_mul(by).is_some());
    (fit(values, up) && fit(&over.0, down)).then_some(())
}

fn negated(a: &Chunk) -> Option<Chunk> {
    let x = fixed(a)?;
    let values = x.values.iter().map(|v| v.checked_neg()).collect::<Option<Vec<_>>>()?;
    let over = x.over.map(|(v, s)| (v.to_vec(), s));
    Some(Chunk { data: Data::Fixed { values, scale: x.scale, over }, faults: a.faults.clone() })
}

fn picked(least: bool, a: (&Chunk, i128), b: (&Chunk, i128), maker: Maker) -> Option<Chunk> {
    let (x, y) = (plain(a.0)?, plain(b.0)?);
    let (ka, kb, scale) = aligned((x, a.1), (y, b.1))?;
    let values = zip(x.values, y.values, |p, q| {
        let (p, q) = (p.checked_mul(ka)?, q.checked_mul(kb)?);
        Some(if (p <= q) == least { p } else { q })
    })?;
    finish(&[a.0, b.0], values, scale, None, maker)
}

/// Rounds a quotient up or down by one whole-number division a row.
fn rounded(how: Rounding, a: (&Chunk, i128), b: (&Chunk, i128), maker: Maker) -> Option<Chunk> {
    if how == Rounding::NearEven {
        return None;
    }
    let (x, step) = (fixed(a.0)?, plain(b.0)?);
    let over_scale = x.over.map_or(0, |(_, s)| s);
    // value / step = (v · ka · 10^(step.scale + over_scale)) / (over · s · kb · 10^(x.scale))
    let above = a.1.checked_mul(10i128.checked_pow(step.scale + over_scale)?)?;
    let below = b.1.checked_mul(10i128.checked_pow(x.scale)?)?;
    let g = num_integer::gcd(above, below);
    let (above, below) = (i64::try_from(above / g).ok()?, i64::try_from(below / g).ok()?);
    let len = maker.len_of(&[a.0, b.0]);
    let mut faults = maker.merged(&[a.0, b.0], len);
    let index = |values: &[i64], row: usize| values[if values.len() == 1 { 0 } else { row }];
    let mut values = Vec::with_capacity(len);
    for row in 0..len {
        let s = index(step.values, row);
        if s == 0 {
            if faults.as_ref().is_none_or(|f| f[row].is_none()) {
                maker.mark(&mut faults, row, len);
            }
            values.push(0);
            continue;
        }
        let under = x.over.map_or(1, |(v, _)| index(v, row));
        let n = index(x.values, row).checked_mul(above);
        let d = s.checked_mul(below).and_then(|d| d.checked_mul(under));
        let count = match (n, d) {
            (Some(n), Some(d)) => steps(how, i128::from(n), i128::from(d), n, d)?,
            _ => {
                let n = i128::from(index(x.values, row)).checked_mul(i128::from(above))?;
                let d = i128::from(s).checked_mul(i128::from(below))?.checked_mul(i128::from(under))?;
                wide_steps(how, n, d)?
            }
        };
        values.push(count.checked_mul(s)?);
    }
    Some(Chunk { data: Data::Fixed { values, scale: step.scale, over: None }, faults })
}

/// How many steps, by 64-bit division where the sign allows it.
fn steps(how: Rounding, wide_n: i128, wide_d: i128, n: i64, d: i64) -> Option<i64> {
    if d <= 0 || n == i64::MIN {
        return wide_steps(how, wide_n, wide_d);
    }
    let floor = |n: i64| {
        let (q, r) = (n.div_euclid(d), n.rem_euclid(d));
        if d - r <= d / WHOLE_TOLERANCE { q + 1 } else { q }
    };
    Some(match how {
        Rounding::Up => -floor(-n),
        Rounding::Down => floor(n),
        Rounding::Near | Rounding::NearEven => return wide_steps(how, wide_n, wide_d),
    })
}

fn wide_steps(how: Rounding, n: i128, d: i128) -> Option<i64> {
    let (n, d) = if d < 0 { (n.checked_neg()?, d.checked_neg()?) } else { (n, d) };
    let floor = |n: i128| {
        let (q, r) = (n.div_euclid(d), n.rem_euclid(d));
        if d - r <= d / i128::from(WHOLE_TOLERANCE) { q + 1 } else { q }
    };
    let q = match how {
        Rounding::Up => -floor(n.checked_neg()?),
        Rounding::Down => floor(n),
        Rounding::Near => {
            let q =
                (n.unsigned_abs().checked_mul(2)?.checked_add(d.unsigned_abs())?) / d.unsigned_abs().checked_mul(2)?;
            let q = i128::try_from(q).ok()?;
            if n < 0 { -q } else { q }
        }
        Rounding::NearEven => return None,
    };
    i64::try_from(q).ok()
}

/// A comparison: across in 64 or 128 bits where it fits.
pub(super) fn compare(how: Comparison, a: (&Chunk, &Scaled), b: (&Chunk, &Scaled), maker: Maker) -> Chunk {
    fast_compare(how, (a.0, a.1.by), (b.0, b.1.by), maker).unwrap_or_else(|| {
        let value = |reg: u32, row: usize| at(if reg == a.1.reg { a.0 } else { b.0 }, row);
        maker.rows_of_yes_no(&[a.0, b.0], |row| scalar::compare(how, a.1, b.1, |r| value(r, row)))
    })
}

fn fast_compare(how: Comparison, a: (&Chunk, i128), b: (&Chunk, i128), maker: Maker) -> Option<Chunk> {
    let (x, y) = (fixed(a.0)?, fixed(b.0)?);
    let len = maker.len_of(&[a.0, b.0]);
    let faults = maker.merged(&[a.0, b.0], len);
    let values = if x.over.is_none() && y.over.is_none() {
        let (ka, kb, _) = aligned((x, a.1), (y, b.1))?;
        zip(x.values, y.values, |p, q| {
            let order = i128::from(p).checked_mul(ka.into())?.cmp(&i128::from(q).checked_mul(kb.into())?);
            Some(i64::from(scalar::holds(how, order)))
        })?
    } else {
        let side = |f: Fixed<'_>, by: i128, other: Fixed<'_>| {
            let (own, across) = (f.over.map_or(0, |(_, s)| s), other.scale);
            by.checked_mul(10i128.checked_pow(own + across)?)
        };
        let (ka, kb) = (side(x, a.1, y)?, side(y, b.1, x)?);
        let index = |values: &[i64], row: usize| i128::from(values[if values.len() == 1 { 0 } else { row }]);
        let under = |f: Fixed<'_>, row: usize| f.over.map_or(1, |(v, _)| index(v, row));
        let mut out = Vec::with_capacity(len);
        for row in 0..len {
            let left = index(x.values, row).checked_mul(ka)?.checked_mul(under(y, row))?;
            let right = index(y.values, row).checked_mul(kb)?.checked_mul(under(x, row))?;
            out.push(i64::from(scalar::holds(how, left.cmp(&right))));
        }
        out
    };
    Some(Chunk { data: Data::YesNo(spread(values.into_iter().map(|v| v == 1).collect(), len)), faults })
}

/// Values for each row, where a fault asks for rows of its own beside a value that serves all.
fn spread<T: Copy>(values: Vec<T>, len: usize) -> Vec<T> {
    if values.len() == len { values } else { vec![values[0]; len] }
}

fn finish(
    operands: &[&Chunk],
    values: Vec<i64>,
    scale: u32,
    over: Option<(Vec<i64>, u32)>,
    maker: Maker,
) -> Option<Chunk> {
    if let Some(over) = &over {
        kept_exactly(&values, scale, over)?;
    }
    let len = maker.len_of(operands);
    let faults = maker.merged(operands, len);
    Some(Chunk { data: Data::Fixed { values: spread(values, len), scale, over }, faults })
}

/// The value where it is whole and not below zero.
pub(super) fn count(a: &Chunk, maker: Maker) -> Chunk {
    if let Some(x) = plain(a)
        && x.scale == 0
        && x.values.iter().all(|v| *v >= 0)
    {
        return a.clone();
    }
    let len = maker.len_of(&[a]);
    let mut faults = maker.merged(&[a], len);
    let values = (0..len)
        .map(|row| {
            let sound = faults.as_ref().is_none_or(|f| f[row].is_none());
            let value = if sound { at(a, row) } else { Number::ZERO };
            if sound && (!value.is_whole() || value.is_negative()) {
                maker.mark(&mut faults, row, len);
                return Number::ZERO;
            }
            value
        })
        .collect();
    Chunk { data: narrowed(values), faults }
}
