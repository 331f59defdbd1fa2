//! Between which values a step can lie, in its own unit, and which words a text can be.

use super::super::node::{Constant, Op, Reg, Scaled};
use super::super::resolve::Resolver;
use super::super::schema::{Field, FieldId, Type, Value};
use super::{Fuel, behind};
use crate::notation::tree::How;
use crate::quantity::Number;
use crate::quantity::number::Rounding;
use crate::quantity::unit::Ratio;
use crate::source::texts::fold;
use rustc_hash::FxHashMap;
use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;
use std::rc::Rc;

/// How deep formulas are followed; beyond it nothing is known.
const DEEP: u32 = 64;

/// Words that a text can be, folded.
pub type Words = Rc<BTreeSet<String>>;

/// What was found of steps, so that none is looked at again for each of those who use it.
#[derive(Debug, Default)]
pub struct Found {
    ranges: RefCell<FxHashMap<Reg, Of<Range>>>,
    words: RefCell<FxHashMap<Reg, Of<Option<Words>>>>,
    /// Of a table's results.
    table_ranges: RefCell<FxHashMap<(u32, u32), Range>>,
    table_words: RefCell<FxHashMap<(u32, u32), Option<Words>>>,
    /// Whether something was not followed to its end.
    cut: Cell<bool>,
}

/// What was found with so much depth left, and whether more depth would have found more.
#[derive(Clone, Debug)]
struct Of<T> {
    what: T,
    deep: u32,
    cut: bool,
}

impl Found {
    /// What is kept, or else is found now and kept.
    fn of<T: Clone>(&self, kept: &RefCell<FxHashMap<Reg, Of<T>>>, reg: Reg, deep: u32, find: impl FnOnce() -> T) -> T {
        if let Some(before) = kept.borrow().get(&reg).filter(|before| !before.cut || before.deep >= deep) {
            self.cut.set(self.cut.get() || before.cut);
            return before.what.clone();
        }
        let outer = self.cut.replace(false);
        let what = find();
        let cut = self.cut.get();
        self.cut.set(outer || cut);
        kept.borrow_mut().insert(reg, Of { what: what.clone(), deep, cut });
        what
    }
}

/// A bound, and whether it is reached.
pub type Bound = Option<(Number, bool)>;

/// A range of values; nothing where it has no end.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Range {
    pub low: Bound,
    pub high: Bound,
}

impl Range {
    fn point(n: Number) -> Self {
        Self { low: Some((n, true)), high: Some((n, true)) }
    }

    fn from_zero() -> Self {
        Self { low: Some((Number::ZERO, true)), high: None }
    }

    /// Whether a value lies in it.
    pub fn holds(&self, n: &Number) -> bool {
        self.low.is_none_or(|(l, reached)| *n > l || (reached && *n == l))
            && self.high.is_none_or(|(h, reached)| *n < h || (reached && *n == h))
    }

    /// The least range that holds both.
    pub fn or(self, o: Self) -> Self {
        Self { low: outer(self.low, o.low, true), high: outer(self.high, o.high, false) }
    }

    /// Whether no value of it is below zero.
    fn is_positive(&self) -> bool {
        self.low.is_some_and(|(l, _)| !l.is_negative())
    }

    /// In a unit that is so many times smaller.
    pub fn scaled(self, by: Ratio) -> Self {
        let one = |b: Bound| b.and_then(|(n, reached)| Some((n.scaled(by).ok()?, reached)));
        Self { low: one(self.low), high: one(self.high) }
    }

    fn negated(self) -> Self {
        let one = |b: Bound| b.map(|(n, reached)| (n.negated(), reached));
        Self { low: one(self.high), high: one(self.low) }
    }

    fn plus(self, o: Self) -> Self {
        Self { low: both(self.low, o.low, Number::plus), high: both(self.high, o.high, Number::plus) }
    }
}

fn both(a: Bound, b: Bound, f: impl Fn(&Number, &Number) -> Result<Number, crate::quantity::NumberError>) -> Bound {
    let ((a, x), (b, y)) = (a?, b?);
    Some((f(&a, &b).ok()?, x && y))
}

/// The outer of two bounds, the lower one for a low end; none where either has none.
fn outer(a: Bound, b: Bound, low: bool) -> Bound {
    let ((x, in_x), (y, in_y)) = (a?, b?);
    Some(match x.cmp(&y) {
        std::cmp::Ordering::Equal => (x, in_x || in_y),
        order if order.is_lt() == low => (x, in_x),
        _ => (y, in_y),
    })
}

/// The inner of two bounds.
fn inner(a: Bound, b: Bound, low: bool) -> Bound {
    match (a, b) {
        (Some((x, in_x)), Some((y, in_y))) => Some(match x.cmp(&y) {
            std::cmp::Ordering::Equal => (x, in_x && in_y),
            order if order.is_gt() == low => (x, in_x),
            _ => (y, in_y),
        }),
        (a, b) => a.or(b),
    }
}

/// Between which values a step lies, in its own unit.
pub fn range(r: &Resolver, fuel: &Fuel, reg: Reg) -> Range {
    range_at(r, fuel, reg, DEEP)
}

fn range_at(r: &Resolver, fuel: &Fuel, reg: Reg, deep: u32) -> Range {
    fuel.found.of(&fuel.found.ranges, reg, deep, || range_of(r, fuel, reg, deep))
}

fn range_of(r: &Resolver, fuel: &Fuel, reg: Reg, deep: u32) -> Range {
    let node = r.d.emit.node(reg);
    let counts = node.ty == Type::COUNT;
    let Some(deep) = fuel.burn().and(deep.checked_sub(1)) else {
        fuel.found.cut.set(true);
        return if counts { Range::from_zero() } else { Range::default() };
    };
    let scaled = |s: &Scaled| range_at(r, fuel, s.reg, deep).scaled(Ratio::from_integer(s.by));
    let found = match &node.op {
        Op::Constant(_) => match r.d.emit.constant_of(reg) {
            Some(Constant::Number(n)) => Range::point(n),
            _ => Range::default(),
        },
        Op::Field(id) | Op::Parent(id) => match behind(r, *id) {
            Some(below) => range_at(r, fuel, below, deep),
            None => of_input(r.d.schema.field(*id)),
        },
        Op::Add(a, b) => scaled(a).plus(scaled(b)),
        Op::Subtract(a, b) => scaled(a).plus(scaled(b).negated()),
        Op::Negate(a) => range_at(r, fuel, *a, deep).negated(),
        Op::Multiply(a, b) => {
            let (a, b) = (range_at(r, fuel, *a, deep), range_at(r, fuel, *b, deep));
            if a.is_positive() && b.is_positive() {
                Range { low: both(a.low, b.low, Number::times), high: both(a.high, b.high, Number::times) }
            } else {
                Range::default()
            }
        }
        Op::Divide(a, b) => divided(range_at(r, fuel, *a, deep), range_at(r, fuel, *b, deep)),
        Op::Round { how, value, step } => {
            let by = Ratio::new(value.by, step.by);
            rounded(*how, range_at(r, fuel, value.reg, deep).scaled(by), range_at(r, fuel, step.reg, deep))
        }
        Op::Pick { least, a, b } => {
            let (a, b) = (scaled(a), scaled(b));
            if *least {
                Range { low: outer(a.low, b.low, true), high: inner(a.high, b.high, false) }
            } else {
                Range { low: inner(a.low, b.low, true), high: outer(a.high, b.high, false) }
            }
        }
        Op::Choose { arms, otherwise } => arms.iter().fold(scaled(otherwise), |all, (_, v)| all.or(scaled(v))),
        Op::Fold { how: How::Count, .. } => Range::from_zero(),
        Op::Fold { how: How::Sum, value: Some(v), .. } => {
            if of_field(r, fuel, *v, deep).is_positive() {
                Range::from_zero()
            } else {
                Range::default()
            }
        }
        Op::Fold { how: How::Least | How::Most, value: Some(v), .. } => of_field(r, fuel, *v, deep),
        Op::Lookup { table, result, .. } => {
            let of_the_table = || {
                let values = &r.tables[*table as usize].results[*result as usize].values;
                let mut ranges =
                    values.iter().filter_map(|v| if let Constant::Number(n) = v { Some(*n) } else { None });
                let first = ranges.next().map_or_else(Range::default, Range::point);
                ranges.fold(first, |all, n| all.or(Range::point(n)))
            };
            *fuel.found.table_ranges.borrow_mut().entry((*table, *result)).or_insert_with(of_the_table)
        }
        Op::Count(a) => range_at(r, fuel, *a, deep),
        Op::Root { n: 2, .. } => Range::from_zero(),
        _ => Range::default(),
    };
    if counts { Range { low: inner(found.low, Range::from_zero().low, true), high: found.high } } else { found }
}

fn of_field(r: &Resolver, fuel: &Fuel, field: FieldId, deep: u32) -> Range {
    match behind(r, field) {
        Some(below) => range_at(r, fuel, below, deep),
        None => of_input(r.d.schema.field(field)),
    }
}

/// What a cell may hold, with what a blank one stands for.
fn of_input(field: &Field) -> Range {
    let Some(input) = field.input.as_ref().filter(|i| i.stock_of.is_none()) else { return Range::default() };
    let read = Range { low: input.low, high: input.high };
    let all = match &input.default {
        Some(Value::Number(n)) => read.or(Range::point(*n)),
        _ => read,
    };
    all.scaled(field.unit.factor.recip())
}

fn divided(a: Range, b: Range) -> Range {
    let above_zero = b.low.filter(|(l, reached)| !(l.is_negative() || l.is_zero() && *reached));
    if !a.is_positive() || above_zero.is_none() {
        return Range::default();
    }
    let low = both(a.low, b.high, Number::over).or(Some((Number::ZERO, true)));
    let high = both(a.high, b.low.filter(|(l, _)| !l.is_zero()), Number::over);
    Range { low, high }
}

fn rounded(how: Rounding, value: Range, step: Range) -> Range {
    if !value.is_positive() || !step.is_positive() {
        return Range::default();
    }
    match how {
        // a value within a millionth of a step counts as that step, so nothing but zero is a sure bound
        Rounding::Down => Range { low: Some((Number::ZERO, true)), high: value.high },
        _ => Range::from_zero(),
    }
}

/// The words that a text step can be, folded; nothing where any text is possible.
pub fn words(r: &Resolver, fuel: &Fuel, reg: Reg) -> Option<Words> {
    words_at(r, fuel, reg, DEEP)
}

/// All of both; one of the two where it has the other's.
pub fn both_words(fuel: &Fuel, a: Words, b: Words) -> Option<Words> {
    if Rc::ptr_eq(&a, &b) {
        return Some(a);
    }
    fuel.burn_some(1 + (a.len() + b.len()) / 8)?;
    if a.is_superset(&b) {
        return Some(a);
    }
    if b.is_superset(&a) {
        return Some(b);
    }
    Some(Rc::new(a.iter().chain(&*b).cloned().collect()))
}

fn words_at(r: &Resolver, fuel: &Fuel, reg: Reg, deep: u32) -> Option<Words> {
    fuel.found.of(&fuel.found.words, reg, deep, || words_of(r, fuel, reg, deep))
}

fn words_of(r: &Resolver, fuel: &Fuel, reg: Reg, deep: u32) -> Option<Words> {
    let Some(deep) = fuel.burn().and(deep.checked_sub(1)) else {
        fuel.found.cut.set(true);
        return None;
    };
    let text = |id: u32| fold(r.d.emit.texts.get(id));
    match &r.d.emit.node(reg).op {
        Op::Constant(_) => match r.d.emit.constant_of(reg)? {
            Constant::Text(id) => Some(Rc::new(BTreeSet::from([text(id)]))),
            _ => None,
        },
        Op::Field(id) | Op::Parent(id) => {
            if let Some(options) = r.d.schema.options.as_ref().filter(|o| o.field == *id) {
                return Some(Rc::new(options.choices.iter().map(|c| fold(&c.name)).collect()));
            }
            if let Some(below) = behind(r, *id) {
                return words_at(r, fuel, below, deep);
            }
            let input = r.d.schema.field(*id).input.as_ref().filter(|i| !i.one_of.is_empty())?;
            let default = if let Some(Value::Text(t)) = &input.default { Some(fold(t)) } else { None };
            Some(Rc::new(input.one_of.iter().map(|w| fold(w)).chain(default).collect()))
        }
        Op::Choose { arms, otherwise } => {
            let mut all = words_at(r, fuel, otherwise.reg, deep)?;
            for (_, value) in arms {
                all = both_words(fuel, all, words_at(r, fuel, value.reg, deep)?)?;
            }
            Some(all)
        }
        Op::Lookup { table, result, .. } => {
            let of_the_table = || {
                let values = &r.tables[*table as usize].results[*result as usize].values;
                let all = values.iter().map(|v| if let Constant::Text(id) = v { Some(text(*id)) } else { None });
                all.collect::<Option<BTreeSet<String>>>().map(Rc::new)
            };
            fuel.found.table_words.borrow_mut().entry((*table, *result)).or_insert_with(of_the_table).clone()
        }
        _ => None,
    }
}
