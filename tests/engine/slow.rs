//! A second evaluator, slow and obvious: it walks the syntax tree for one row, in exact ratios of whole numbers and base
//! units, with a bound on what the engine may have cut on the way. It shares nothing with the engine but the tree.

use hardlid::notation::tree::{
    Argument, Binary, Book, Comparison, Define, Expr, ForLine, How, Literal, Match, Node, Part, TableBlock,
};
use hardlid::program::resolve::days_of;
use hardlid::quantity::Number;
use num_bigint::BigInt;
use num_integer::Integer as _;
use num_rational::Ratio;
use num_traits::{One as _, Signed as _, Zero as _};
use std::cell::RefCell;
use std::cmp::Ordering;
use std::collections::BTreeMap;

type Q = Ratio<BigInt>;

/// An exact value, and how far from it the engine's may lie.
#[derive(Clone, Debug)]
pub struct Exact {
    pub value: Q,
    pub off: Q,
}

/// A value of a row.
#[derive(Clone, Debug)]
pub enum Slow {
    Number(Exact),
    Text(String),
    YesNo(bool),
}

/// Why there is no value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    Missing,
    DivideByZero,
    TooLarge,
    NoRow,
    NotACount,
    Nothing,
    NegativeRoot,
    /// A cut digit may decide: nothing is claimed about this row.
    Unknown,
}

/// What a formula gives, and whether a number on the way may be too large in the unit that the engine keeps it in.
#[derive(Clone, Debug)]
pub struct Out {
    pub value: Result<Slow, Why>,
    pub maybe: bool,
}

/// The cells of a row by name.
pub type Row = BTreeMap<String, Out>;

fn ten(power: i32) -> Q {
    let n = Q::from_integer(BigInt::from(10).pow(power.unsigned_abs()));
    if power < 0 { n.recip() } else { n }
}

/// A power of ten at or above a bound, so that bounds stay short.
fn roughly(bound: &Q) -> Q {
    if bound.is_zero() {
        return Q::zero();
    }
    let digits = |n: &BigInt| i32::try_from(n.magnitude().to_str_radix(10).len()).unwrap();
    ten(digits(bound.numer()) - digits(bound.denom()) + 1)
}

impl Exact {
    fn new(value: Q, off: &Q) -> Self {
        let cut = if safe(&value) { Q::zero() } else { (value.abs() * ten(-26)).max(ten(-42)) };
        Self { value, off: roughly(&(off + cut)) }
    }

    pub fn of(number: &Number) -> Self {
        let (num, den) = number.parts();
        let ratio = |d: hardlid::quantity::Decimal| {
            Q::from_integer(d.mantissa().into()) / ten(i32::try_from(d.scale()).unwrap())
        };
        Self { value: ratio(num) / ratio(den), off: Q::zero() }
    }

    fn whole(n: impl Into<BigInt>) -> Self {
        Self { value: Q::from_integer(n.into()), off: Q::zero() }
    }

    fn times(&self, o: &Self) -> Self {
        let off = self.value.abs() * &o.off + o.value.abs() * &self.off + &self.off * &o.off;
        Self::new(&self.value * &o.value, &off)
    }

    fn plus(&self, o: &Self) -> Self {
        let sum = &self.value + &o.value;
        // each side is brought to a common unit first
        let cut = if safe(&self.value) && safe(&o.value) {
            Q::zero()
        } else {
            ((self.value.abs() + o.value.abs()) * ten(-26)).max(ten(-42))
        };
        Self::new(sum, &(&self.off + &o.off + cut))
    }

    fn negated(&self) -> Self {
        Self { value: -self.value.clone(), off: self.off.clone() }
    }

    fn over(&self, o: &Self) -> Result<Self, Why> {
        if o.value.abs() <= o.off && !o.off.is_zero() {
            return Err(Why::Unknown);
        }
        if o.value.is_zero() {
            return Err(Why::DivideByZero);
        }
        let quotient = &self.value / &o.value;
        let off = (&self.off + quotient.abs() * &o.off) / (o.value.abs() - &o.off);
        Ok(Self::new(quotient, &off))
    }

    /// Order; unknown where cut digits decide.
    fn order(&self, o: &Self) -> Result<Ordering, Why> {
        let off = &self.off + &o.off;
        if !off.is_zero() && (&self.value - &o.value).abs() <= off {
            return Err(Why::Unknown);
        }
        Ok(self.value.cmp(&o.value))
    }

    fn picked(&self, o: &Self, least: bool) -> Self {
        match self.order(o) {
            Ok(order) => if order.is_le() == least { self } else { o }.clone(),
            Err(_) => {
                let off = &self.off + &o.off + (&self.value - &o.value).abs();
                Self { value: self.value.clone(), off: roughly(&off) }
            }
        }
    }

    /// Whether it may be too large in some unit: a cube of square feet over square millimeters is kept 10^15 times as large
    /// as it is.
    fn is_large(&self) -> bool {
        self.value.abs() > ten(10)
    }

    /// Whether an engine's number is this value, as near as it must be.
    pub fn is(&self, number: &Number) -> bool {
        (Self::of(number).value - &self.value).abs() <= self.off
    }
}

/// Whether the engine keeps such a value exactly whatever unit it has it in.
fn safe(value: &Q) -> bool {
    value.numer().bits() < 24 && value.denom().bits() < 24
}

impl Out {
    pub fn of(value: Slow) -> Self {
        Self { value: Ok(value), maybe: false }
    }

    pub fn fault(why: Why) -> Self {
        Self { value: Err(why), maybe: false }
    }

    fn maybe(mut self, maybe: bool) -> Self {
        self.maybe |= maybe;
        self
    }

    /// The same where it meets other values in one unit, which may be small.
    fn met(self) -> Self {
        let large = matches!(&self.value, Ok(Slow::Number(n)) if n.is_large());
        self.maybe(large)
    }
}

fn numeric(value: Result<Exact, Why>, maybe: bool) -> Out {
    match value {
        Ok(n) if n.value.abs() > ten(45) => Out { value: Err(Why::TooLarge), maybe },
        Ok(n) => {
            let large = n.is_large();
            Out { value: Ok(Slow::Number(n)), maybe: maybe || large }
        }
        Err(why) => Out { value: Err(why), maybe },
    }
}

fn yes_no(value: Result<bool, Why>, maybe: bool) -> Out {
    Out { value: value.map(Slow::YesNo), maybe }
}

/// Books with rows of their kinds.
pub struct World<'a> {
    pub books: &'a [Book],
    pub rows: BTreeMap<&'static str, Vec<Row>>,
    /// The room of each opening.
    pub parents: Vec<usize>,
    pub done: RefCell<BTreeMap<(String, usize, String), Out>>,
}

/// Where an expression stands.
#[derive(Clone, Copy)]
pub struct Here<'a> {
    pub kind: &'a str,
    pub row: usize,
    pub locals: Option<&'a Row>,
}

impl World<'_> {
    /// The formula of a name, the highest layer's first.
    fn formula(&self, kind: &str, name: &str) -> Option<&Expr> {
        self.books.iter().rev().flat_map(|b| b.parts.iter()).find_map(|part| match part {
            Part::For(of, lines) if of.name == kind => lines.iter().find_map(|line| match line {
                ForLine::Formula(f) if f.name.name == name => Some(&f.body),
                _ => None,
            }),
            _ => None,
        })
    }

    fn table(&self, name: &str) -> Option<&TableBlock> {
        self.books.iter().rev().flat_map(|b| b.parts.iter()).find_map(|part| match part {
            Part::Table(t) if t.name.name == name => Some(t),
            _ => None,
        })
    }

    fn define(&self, name: &str) -> Option<&Define> {
        self.books.iter().rev().flat_map(|b| b.parts.iter()).find_map(|part| match part {
            Part::Define(d) if d.name.name == name => Some(d),
            _ => None,
        })
    }

    /// What a name stands for in a row: its cell, its formula, or its parent's.
    pub fn named(&self, kind: &str, row: usize, name: &str) -> Out {
        if let Some(cell) = self.rows[kind][row].get(name) {
            return cell.clone();
        }
        let key = (kind.to_owned(), row, name.to_owned());
        if let Some(done) = self.done.borrow().get(&key) {
            return done.clone();
        }
        let out = match self.formula(kind, name) {
            Some(body) => self.evaluate(body, Here { kind, row, locals: None }),
            None if kind == "openings" => self.named("rooms", self.parents[row], name),
            None => Out::of(Slow::Text(name.to_owned())),
        };
        self.done.borrow_mut().insert(key, out.clone());
        out
    }

    pub fn evaluate(&self, e: &Expr, here: Here<'_>) -> Out {
        match &e.node {
            Node::Literal(literal) => Out::of(of_literal(literal)),
            Node::Name(name) => match here.locals {
                Some(locals) => locals[name].clone(),
                None => self.named(here.kind, here.row, name),
            },
            Node::Negate(a) => self.unary(a, here, |n| Ok(n.negated())),
            Node::Not(a) => {
                let (a, maybe) = self.yes(a, here);
                yes_no(a.map(|v| !v), maybe)
            }
            Node::Power(a, n) => self.unary(a, here, |base| {
                let mut out = Exact::whole(1);
                for _ in 0..n.unsigned_abs() {
                    out = if *n > 0 { out.times(base) } else { out.over(base)? };
                }
                Ok(out)
            }),
            Node::Given { value, negated } => {
                let Out { value, maybe } = self.evaluate(value, here);
                let given = match value {
                    Ok(_) => Ok(true),
                    Err(Why::Missing | Why::Nothing) => Ok(false),
                    Err(other) => Err(other),
                };
                yes_no(given.map(|g| g != *negated), maybe)
            }
            Node::Choice(arms, otherwise) => {
                let mut may = false;
                for (value, condition) in arms {
                    let (holds, maybe) = self.yes(condition, here);
                    may |= maybe;
                    match holds {
                        Ok(true) => return self.evaluate(value, here).met().maybe(may),
                        Ok(false) => {}
                        Err(why) => return Out { value: Err(why), maybe: may },
                    }
                }
                self.evaluate(otherwise, here).met().maybe(may)
            }
            Node::OneOf { value, members, negated } => {
                let Out { value, maybe } = self.evaluate(value, here);
                let found = value.map(|v| match v {
                    Slow::Text(t) => members.iter().any(|m| m.name.eq_ignore_ascii_case(&t)),
                    other => panic!("not a text: {other:?}"),
                });
                yes_no(found.map(|f| f != *negated), maybe)
            }
            Node::Compare(first, rest) => self.compare(first, rest, here),
            Node::Binary(op, a, b) => self.binary(*op, a, b, here),
            Node::Call { name, arguments } => self.call(&name.name, arguments, here),
            Node::Aggregate { how, value, condition, .. } => {
                self.aggregate(*how, value.as_deref(), condition.as_deref(), here)
            }
        }
    }

    fn unary(&self, e: &Expr, here: Here<'_>, f: impl Fn(&Exact) -> Result<Exact, Why>) -> Out {
        let Out { value, maybe } = self.evaluate(e, here);
        numeric(value.map(|v| exact(&v)).and_then(|n| f(&n)), maybe)
    }

    fn yes(&self, e: &Expr, here: Here<'_>) -> (Result<bool, Why>, bool) {
        let Out { value, maybe } = self.evaluate(e, here);
        let value = value.map(|v| match v {
            Slow::YesNo(v) => v,
            other => panic!("not yes or no: {other:?}"),
        });
        (value, maybe)
    }

    fn all(&self, of: &[&Expr], here: Here<'_>) -> (Result<Vec<Slow>, Why>, bool) {
        joined(of.iter().map(|e| self.evaluate(e, here)).collect())
    }

    fn compare(&self, first: &Expr, rest: &[(Comparison, Expr)], here: Here<'_>) -> Out {
        let mut left = first;
        let mut may = false;
        for (how, right) in rest {
            let (both, maybe) = self.all(&[left, right], here);
            may |= maybe;
            let order = both.and_then(|both| match (&both[0], &both[1]) {
                (Slow::Number(a), Slow::Number(b)) => a.order(b),
                (Slow::Text(a), Slow::Text(b)) => Ok(a.to_lowercase().cmp(&b.to_lowercase())),
                (Slow::YesNo(a), Slow::YesNo(b)) => Ok(a.cmp(b)),
                other => panic!("cannot be compared: {other:?}"),
            });
            match order.map(|order| holds(*how, order)) {
                Ok(true) => left = right,
                other => return yes_no(other, may),
            }
        }
        yes_no(Ok(true), may)
    }

    fn binary(&self, op: Binary, a: &Expr, b: &Expr, here: Here<'_>) -> Out {
        if matches!(op, Binary::And | Binary::Or) {
            let (left, maybe) = self.yes(a, here);
            let decided = left.is_err() || left == Ok(op == Binary::Or);
            let (value, more) = if decided { (left, false) } else { self.yes(b, here) };
            return yes_no(value, maybe || more);
        }
        let (both, maybe) = self.all(&[a, b], here);
        let made = both.and_then(|both| {
            let (x, y) = (exact(&both[0]), exact(&both[1]));
            Ok(match op {
                Binary::Add => x.plus(&y),
                Binary::Subtract => x.plus(&y.negated()),
                Binary::Multiply | Binary::Of => x.times(&y),
                _ => x.over(&y)?,
            })
        });
        numeric(made, maybe)
    }

    fn call(&self, name: &str, arguments: &[Argument], here: Here<'_>) -> Out {
        if let Some(define) = self.define(name) {
            return self.defined(define, arguments, here);
        }
        let values: Vec<&Expr> = arguments.iter().map(|a| &a.value).collect();
        let (values, maybe) = self.all(&values, here);
        if let Some(table) = self.table(name) {
            return match values.and_then(|values| looked_up(table, &values)) {
                Ok(Slow::Number(n)) => numeric(Ok(n), maybe),
                other => Out { value: other, maybe },
            };
        }
        let made = values.and_then(|values| {
            let values: Vec<Exact> = values.iter().map(exact).collect();
            let (x, rest) = (values[0].clone(), &values[1..]);
            match name {
                "shorter" | "longer" => Ok(rest.iter().fold(x, |best, v| best.picked(v, name == "shorter"))),
                "square_root" => root(&x),
                _ => rounded(name, &x, &rest[0]),
            }
        });
        numeric(made, maybe)
    }

    /// An argument's fault counts only where the body needs it.
    fn defined(&self, define: &Define, arguments: &[Argument], here: Here<'_>) -> Out {
        let mut locals = Row::new();
        for (i, p) in define.parameters.iter().enumerate() {
            let named = arguments.iter().find(|a| a.label.as_ref().is_some_and(|l| l.name == p.name.name));
            let given = named.or_else(|| arguments.get(i).filter(|a| a.label.is_none()));
            let Some(e) = given.map(|a| &a.value).or(p.default.as_ref()) else { panic!("no argument") };
            let out = self.evaluate(e, here);
            let out = if p.ty.text == "count" { counted(out) } else { out };
            locals.insert(p.name.name.clone(), out);
        }
        self.evaluate(&define.body, Here { locals: Some(&locals), ..here })
    }

    fn aggregate(&self, how: How, value: Option<&Expr>, condition: Option<&Expr>, here: Here<'_>) -> Out {
        let mut may = false;
        let mut sum = Exact::whole(0);
        let mut best: Option<Exact> = None;
        let (mut count, mut any, mut all) = (0i64, false, true);
        for row in (0..self.parents.len()).filter(|c| self.parents[*c] == here.row) {
            let child = Here { kind: "openings", row, locals: None };
            let tests = [condition, value.filter(|_| how == How::Count)];
            let mut counts = true;
            for test in tests.into_iter().flatten() {
                if !counts {
                    break;
                }
                let (holds, maybe) = self.yes(test, child);
                may |= maybe;
                match holds {
                    Ok(holds) => counts = holds,
                    Err(why) => return Out { value: Err(why), maybe: may },
                }
            }
            count += i64::from(counts);
            let Some(value) = value.filter(|_| counts && how != How::Count) else { continue };
            let out = self.evaluate(value, child);
            may |= out.maybe;
            match out.value {
                Ok(Slow::Number(n)) => {
                    sum = sum.plus(&n);
                    best = Some(best.map_or_else(|| n.clone(), |b| b.picked(&n, how == How::Least)));
                }
                Ok(Slow::YesNo(v)) => (any, all) = (any | v, all & v),
                Ok(other) => panic!("cannot be brought together: {other:?}"),
                Err(why) => return Out { value: Err(why), maybe: may },
            }
        }
        match how {
            How::Sum => numeric(Ok(sum), may),
            How::Count => numeric(Ok(Exact::whole(count)), may),
            How::Least | How::Most => numeric(best.ok_or(Why::Nothing), may),
            How::Any => yes_no(Ok(any), may),
            How::All => yes_no(Ok(all), may),
        }
    }
}

/// The first fault of several operands; one that is unknown hides the others.
fn joined(all: Vec<Out>) -> (Result<Vec<Slow>, Why>, bool) {
    let maybe = all.iter().any(|o| o.maybe);
    if all.iter().any(|o| matches!(o.value, Err(Why::Unknown))) {
        return (Err(Why::Unknown), maybe);
    }
    (all.into_iter().map(|o| o.value).collect(), maybe)
}

fn exact(value: &Slow) -> Exact {
    match value {
        Slow::Number(n) => n.clone(),
        other => panic!("not a number: {other:?}"),
    }
}

fn holds(how: Comparison, order: Ordering) -> bool {
    match how {
        Comparison::Equal => order.is_eq(),
        Comparison::NotEqual => order.is_ne(),
        Comparison::Less => order.is_lt(),
        Comparison::LessOrEqual => order.is_le(),
        Comparison::Greater => order.is_gt(),
        Comparison::GreaterOrEqual => order.is_ge(),
    }
}

pub fn of_literal(literal: &Literal) -> Slow {
    match literal {
        Literal::Number { value, unit } => {
            let factor = unit.as_ref().map(|(_, u)| u.factor);
            let (up, down): (i128, i128) = factor.map_or((1, 1), |f| (*f.numer(), *f.denom()));
            let factor = Q::new(up.into(), down.into());
            Slow::Number(Exact { value: Exact::of(value).value * factor, off: Q::zero() })
        }
        Literal::Percent(n) => Slow::Number(Exact::of(n)),
        Literal::Text(t) => Slow::Text(t.clone()),
        Literal::YesNo(v) => Slow::YesNo(*v),
        Literal::Date(d) => Slow::Number(Exact::whole(days_of(*d))),
    }
}

/// A count is whole and not below zero.
fn counted(out: Out) -> Out {
    let value = out.value.and_then(|v| {
        let n = exact(&v);
        match n.value.is_integer() && !n.value.is_negative() {
            _ if !n.off.is_zero() => Err(Why::Unknown),
            true => Ok(v),
            false => Err(Why::NotACount),
        }
    });
    Out { value, maybe: out.maybe }
}

fn root(x: &Exact) -> Result<Exact, Why> {
    if !x.off.is_zero() && x.value.abs() <= x.off {
        return Err(Why::Unknown);
    }
    if x.value.is_negative() {
        return Err(Why::NegativeRoot);
    }
    let up = BigInt::from(10).pow(60);
    let found = Q::new((x.value.numer() * x.value.denom() * &up * &up).sqrt(), x.value.denom() * up);
    let off = &found * ten(-19) + if found.is_zero() { Q::zero() } else { &x.off / &found };
    Ok(Exact::new(found, &off))
}

/// Rounded at both ends of what the engine may have: unknown where they differ.
fn rounded(name: &str, x: &Exact, step: &Exact) -> Result<Exact, Why> {
    assert!(step.off.is_zero(), "steps are written out");
    let at = |value: &Q| whole_steps(name, &(value / &step.value));
    let (low, high) = (at(&(&x.value - &x.off)), at(&(&x.value + &x.off)));
    if low != high {
        return Err(Why::Unknown);
    }
    Ok(Exact::whole(low).times(step))
}

fn whole_steps(name: &str, count: &Q) -> BigInt {
    let (floor, rest) = count.numer().div_mod_floor(count.denom());
    let (rest, million) = (Q::new(rest, count.denom().clone()), ten(-6));
    let up = match name {
        "round_up" => rest > million,
        "round_down" => Q::one() - &rest <= million,
        _ => match (&rest * Q::from_integer(2.into())).cmp(&Q::one()) {
            Ordering::Equal if name == "round_even" => floor.is_odd(),
            Ordering::Equal => !count.is_negative(),
            order => order.is_gt(),
        },
    };
    if up { floor + 1 } else { floor }
}

/// A table's result by scanning its rows, one key after the other.
fn looked_up(table: &TableBlock, asked: &[Slow]) -> Result<Slow, Why> {
    let value = |row: usize, column: usize| match &table.rows[row].cells[column].node {
        Node::Literal(literal) => of_literal(literal),
        Node::Name(word) => Slow::Text(word.clone()),
        other => panic!("not a value: {other:?}"),
    };
    let keys = table.columns.iter().enumerate().filter(|(_, c)| c.how.is_some());
    let result = table.columns.iter().position(|c| c.how.is_none()).unwrap();
    let mut rows: Vec<usize> = (0..table.rows.len()).collect();
    for ((column, key), asked) in keys.zip(asked) {
        let at = |row: &usize| value(*row, column);
        let wanted = match asked {
            Slow::Text(t) => {
                rows.retain(|r| matches!(at(r), Slow::Text(own) if own.eq_ignore_ascii_case(t)));
                continue;
            }
            Slow::YesNo(_) => panic!("no table asks that"),
            Slow::Number(n) => n,
        };
        let mut below: Vec<(Q, usize)> = Vec::new();
        let mut above: Vec<(Q, usize)> = Vec::new();
        for row in &rows {
            let key = exact(&at(row));
            let order = key.order(wanted)?;
            if order.is_le() {
                below.push((key.value.clone(), *row));
            }
            if order.is_ge() {
                above.push((key.value, *row));
            }
        }
        let (below, above) = (below.into_iter().max(), above.into_iter().min());
        let found = match (key.how, below, above) {
            (Some(Match::Exact), Some(b), Some(a)) if b.0 == a.0 => b.0,
            (Some(Match::UpTo), _, Some(a)) => a.0,
            (Some(Match::From), Some(b), _) => b.0,
            (Some(Match::Between), Some(b), Some(a)) if b.0 != a.0 => {
                let (low, high) = (exact(&value(b.1, result)), exact(&value(a.1, result)));
                let (from, to) = (Exact { value: b.0, off: Q::zero() }, Exact { value: a.0, off: Q::zero() });
                let part = wanted.plus(&from.negated()).over(&to.plus(&from.negated()))?;
                return Ok(Slow::Number(low.plus(&high.plus(&low.negated()).times(&part))));
            }
            (Some(Match::Between), Some(b), Some(_)) => b.0,
            _ => return Err(Why::NoRow),
        };
        rows.retain(|r| exact(&at(r)).value == found);
    }
    rows.first().map(|row| value(*row, result)).ok_or(Why::NoRow)
}
