//! What each numeric step means for one row, in exact numbers. Constants are folded by it, and blocks that do not
//! fit 64 bits are worked out by it: there is no second meaning.

use super::node::{Op, Reg, Scaled};
use crate::notation::tree::Comparison;
use crate::quantity::unit::Ratio;
use crate::quantity::{Number, NumberError};
use std::cmp::Ordering;

/// Works a numeric step out for one row; `None` for a step that gives no number from numbers alone.
pub fn number(op: &Op, value: impl Fn(Reg) -> Number) -> Option<Result<Number, NumberError>> {
    let scaled = |s: &Scaled| brought(value(s.reg), s.by);
    let both = |a: &Scaled, b: &Scaled| Ok((scaled(a)?, scaled(b)?));
    Some(match op {
        Op::Add(a, b) => both(a, b).and_then(|(a, b): (Number, Number)| a.plus(&b)),
        Op::Subtract(a, b) => both(a, b).and_then(|(a, b): (Number, Number)| a.minus(&b)),
        Op::Multiply(a, b) => value(*a).times(&value(*b)),
        Op::Divide(a, b) => value(*a).over(&value(*b)),
        Op::Negate(a) => Ok(value(*a).negated()),
        Op::Round { how, value: v, step } => {
            let by = value(step.reg);
            value(v.reg).steps_of(v.by, &by, step.by, *how).and_then(|count| count.times(&by))
        }
        Op::Pick { least, a, b } => scaled(if order(a, b, &value).is_le() == *least { a } else { b }),
        Op::Root { n, value: v, up, down } => value(*v).scaled(Ratio::new(*up, *down)).and_then(|v| v.root(*n)),
        Op::Count(a) => Ok(value(*a)),
        _ => return None,
    })
}

/// Whether a comparison of two numbers holds; they may be of any size.
pub fn compare(how: Comparison, a: &Scaled, b: &Scaled, value: impl Fn(Reg) -> Number) -> bool {
    holds(how, order(a, b, &value))
}

fn order(a: &Scaled, b: &Scaled, value: &impl Fn(Reg) -> Number) -> Ordering {
    value(a.reg).order(a.by, &value(b.reg), b.by)
}

/// Whether an order of two values satisfies a comparison.
#[must_use]
pub fn holds(how: Comparison, order: Ordering) -> bool {
    match how {
        Comparison::Equal => order.is_eq(),
        Comparison::NotEqual => order.is_ne(),
        Comparison::Less => order.is_lt(),
        Comparison::LessOrEqual => order.is_le(),
        Comparison::Greater => order.is_gt(),
        Comparison::GreaterOrEqual => order.is_ge(),
    }
}

/// A value brought to the unit in which it meets another.
///
/// # Errors
/// A value too large.
pub fn brought(value: Number, by: i128) -> Result<Number, NumberError> {
    if by == 1 { Ok(value) } else { value.scaled(Ratio::from_integer(by)) }
}
