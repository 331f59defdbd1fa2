//! A second evaluator, slow and obvious: it walks the syntax tree for one row, in exact ratios of whole numbers and base
//! units. It shares nothing with the engine but the tree.

use hardlid::notation::tree::{Argument, Binary, Comparison, Expr, Literal, Node};
use hardlid::quantity::Number;
use num_bigint::BigInt;
use num_integer::Integer as _;
use num_traits::{One as _, Signed as _, Zero as _};
use std::cmp::Ordering;
use std::collections::BTreeMap;

/// An exact ratio, and whether the engine may have had to cut it to 28 digits on the way.
#[derive(Clone, Debug)]
pub struct Exact {
    pub above: BigInt,
    pub below: BigInt,
    /// 0 where nothing was cut, 1 where it may have been, 2 where a very small value was: little may be left of it.
    pub cut: u8,
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
    /// A cut digit may decide: nothing is claimed about this row.
    Unknown,
}

pub type Row = BTreeMap<String, Result<Slow, Why>>;

impl Exact {
    pub fn new(above: BigInt, below: BigInt, cut: u8) -> Self {
        let g = above.gcd(&below);
        let (mut above, mut below) = (above / &g, below / &g);
        if below.is_negative() {
            (above, below) = (-above, -below);
        }
        let small = !above.is_zero() && above.abs() * BigInt::from(10).pow(10) < below;
        let cut = match safe(&above, &below) {
            true => cut,
            false if small => 2,
            false => cut.max(1),
        };
        Self { above, below, cut }
    }

    pub fn of(number: &Number) -> Self {
        let (num, den) = number.parts();
        let ten = BigInt::from(10);
        let above = BigInt::from(num.mantissa()) * ten.pow(den.scale());
        Self::new(above, BigInt::from(den.mantissa()) * ten.pow(num.scale()), 0)
    }

    fn whole(n: i64) -> Self {
        Self::new(n.into(), 1.into(), 0)
    }

    fn times(&self, o: &Self) -> Self {
        Self::new(&self.above * &o.above, &self.below * &o.below, self.cut.max(o.cut))
    }

    fn plus(&self, o: &Self) -> Result<Self, Why> {
        let sum = &self.above * &o.below + &o.above * &self.below;
        let out = Self::new(sum, &self.below * &o.below, self.cut.max(o.cut));
        // digits that cancel out may be the cut ones
        if out.cut > 0 && (out.cut == 2 || out.is_tiny_beside(self) || out.is_tiny_beside(o)) {
            Err(Why::Unknown)
        } else {
            Ok(out)
        }
    }

    fn negated(&self) -> Self {
        Self { above: -self.above.clone(), ..self.clone() }
    }

    fn over(&self, o: &Self) -> Result<Self, Why> {
        if o.cut == 2 {
            return Err(Why::Unknown);
        }
        if o.above.is_zero() {
            return Err(if o.cut > 0 { Why::Unknown } else { Why::DivideByZero });
        }
        Ok(Self::new(&self.above * &o.below, &self.below * &o.above, self.cut.max(o.cut)))
    }

    /// Whether it is less than 1e-12 of another.
    fn is_tiny_beside(&self, o: &Self) -> bool {
        (&self.above * &o.below).abs() * BigInt::from(10).pow(12) < (&o.above * &self.below).abs()
    }

    /// Order; unknown where cut digits decide.
    fn order(&self, o: &Self) -> Result<Ordering, Why> {
        let gap = Self::new(&self.above * &o.below - &o.above * &self.below, &self.below * &o.below, 0);
        if self.cut.max(o.cut) == 2 || self.cut.max(o.cut) == 1 && gap.is_tiny_beside(self) {
            return Err(Why::Unknown);
        }
        Ok((&self.above * &o.below).cmp(&(&o.above * &self.below)))
    }

    /// Whether an engine's number is this value: exactly, or to 12 digits where digits may have been cut.
    pub fn is(&self, number: &Number) -> bool {
        let other = Self::of(number);
        if self.above == other.above && self.below == other.below {
            return true;
        }
        let gap = Self::new(&self.above * &other.below - &other.above * &self.below, &self.below * &other.below, 0);
        self.cut == 2 || self.cut == 1 && gap.is_tiny_beside(self)
    }
}

/// Whether the engine keeps such a value whatever unit it has it in.
fn safe(above: &BigInt, below: &BigInt) -> bool {
    let mut rest = below.clone();
    let mut places = 0;
    for by in [BigInt::from(2), BigInt::from(5)] {
        while (&rest % &by).is_zero() {
            rest /= &by;
            places += 1;
        }
    }
    let short = BigInt::one() << 40;
    (rest.is_one() && places <= 16 && above.bits() < 60) || (above.abs() < short && *below < short)
}

/// Works an expression out for a row.
pub fn evaluate(e: &Expr, row: &Row) -> Result<Slow, Why> {
    Ok(match &e.node {
        Node::Literal(literal) => of_literal(literal),
        Node::Name(name) => match row.get(name) {
            Some(value) => value.clone()?,
            None => Slow::Text(name.clone()),
        },
        Node::Negate(a) => Slow::Number(number(a, row)?.negated()),
        Node::Not(a) => Slow::YesNo(!yes(a, row)?),
        Node::Power(a, n) => {
            let base = number(a, row)?;
            let mut out = Exact::whole(1);
            for _ in 0..n.unsigned_abs() {
                out = if *n > 0 { out.times(&base) } else { out.over(&base)? };
            }
            Slow::Number(out)
        }
        Node::Given { value, negated } => {
            let given = match evaluate(value, row) {
                Ok(_) => true,
                Err(Why::Missing) => false,
                Err(other) => return Err(other),
            };
            Slow::YesNo(given != *negated)
        }
        Node::Choice(arms, otherwise) => {
            for (value, condition) in arms {
                if yes(condition, row)? {
                    return evaluate(value, row);
                }
            }
            evaluate(otherwise, row)?
        }
        Node::Compare(first, rest) => compare(first, rest, row)?,
        Node::Binary(op, a, b) => binary(*op, a, b, row)?,
        Node::Call { name, arguments } => Slow::Number(call(&name.name, arguments, row)?),
        Node::OneOf { .. } | Node::Aggregate { .. } => return Err(Why::Unknown),
    })
}

fn of_literal(literal: &Literal) -> Slow {
    match literal {
        Literal::Number { value, unit } => {
            let factor = unit.as_ref().map(|(_, u)| u.factor);
            let (up, down) = factor.map_or((1, 1), |f| (*f.numer(), *f.denom()));
            Slow::Number(Exact::of(value).times(&Exact::new(up.into(), down.into(), 0)))
        }
        Literal::Percent(n) => Slow::Number(Exact::of(n)),
        Literal::Text(t) => Slow::Text(t.clone()),
        Literal::YesNo(v) => Slow::YesNo(*v),
        Literal::Date(_) => Slow::YesNo(false),
    }
}

fn number(e: &Expr, row: &Row) -> Result<Exact, Why> {
    match evaluate(e, row)? {
        Slow::Number(n) => Ok(n),
        other => panic!("not a number: {other:?}"),
    }
}

fn yes(e: &Expr, row: &Row) -> Result<bool, Why> {
    match evaluate(e, row)? {
        Slow::YesNo(v) => Ok(v),
        other => panic!("not yes or no: {other:?}"),
    }
}

/// The first fault of two operands; one that is unknown hides the other.
fn both(a: &Expr, b: &Expr, row: &Row) -> Result<(Slow, Slow), Why> {
    let (x, y) = (evaluate(a, row), evaluate(b, row));
    if [&x, &y].iter().any(|v| matches!(v, Err(Why::Unknown))) {
        return Err(Why::Unknown);
    }
    Ok((x?, y?))
}

fn compare(first: &Expr, rest: &[(Comparison, Expr)], row: &Row) -> Result<Slow, Why> {
    let mut left = first;
    for (how, right) in rest {
        let order = match both(left, right, row)? {
            (Slow::Number(a), Slow::Number(b)) => a.order(&b)?,
            (Slow::Text(a), Slow::Text(b)) => a.to_lowercase().cmp(&b.to_lowercase()),
            (Slow::YesNo(a), Slow::YesNo(b)) => a.cmp(&b),
            other => panic!("cannot be compared: {other:?}"),
        };
        let holds = match how {
            Comparison::Equal => order.is_eq(),
            Comparison::NotEqual => order.is_ne(),
            Comparison::Less => order.is_lt(),
            Comparison::LessOrEqual => order.is_le(),
            Comparison::Greater => order.is_gt(),
            Comparison::GreaterOrEqual => order.is_ge(),
        };
        if !holds {
            return Ok(Slow::YesNo(false));
        }
        left = right;
    }
    Ok(Slow::YesNo(true))
}

fn binary(op: Binary, a: &Expr, b: &Expr, row: &Row) -> Result<Slow, Why> {
    if matches!(op, Binary::And | Binary::Or) {
        let left = yes(a, row)?;
        return Ok(Slow::YesNo(if left == (op == Binary::Or) { left } else { yes(b, row)? }));
    }
    let (Slow::Number(x), Slow::Number(y)) = both(a, b, row)? else { panic!("not numbers") };
    Ok(Slow::Number(match op {
        Binary::Add => x.plus(&y)?,
        Binary::Subtract => x.plus(&y.negated())?,
        Binary::Multiply | Binary::Of => x.times(&y),
        _ => x.over(&y)?,
    }))
}

fn call(name: &str, arguments: &[Argument], row: &Row) -> Result<Exact, Why> {
    let values: Vec<Result<Exact, Why>> = arguments.iter().map(|a| number(&a.value, row)).collect();
    if values.iter().any(|v| matches!(v, Err(Why::Unknown))) {
        return Err(Why::Unknown);
    }
    let values = values.into_iter().collect::<Result<Vec<_>, _>>()?;
    let x = values[0].clone();
    if name == "shorter" || name == "longer" {
        return values[1..].iter().try_fold(x, |best, v| {
            let order = v.order(&best)?;
            Ok(if order == (if name == "shorter" { Ordering::Less } else { Ordering::Greater }) {
                v.clone()
            } else {
                best
            })
        });
    }
    let step = values.get(1).cloned().unwrap_or_else(|| Exact::whole(1));
    let count = x.over(&step)?;
    if count.cut == 2 {
        return Err(Why::Unknown);
    }
    let (floor, rest) = count.above.div_mod_floor(&count.below);
    let million = BigInt::from(1_000_000);
    // how far the rest stands from where a decision falls, in parts of a step
    let near = |at: BigInt| {
        count.cut > 0 && (&rest * &million - at * &count.below).abs() * BigInt::from(1000) <= count.below.clone()
    };
    if near(BigInt::zero()) || near(million.clone()) || near(BigInt::one()) || near(&million - 1) || near(&million / 2)
    {
        return Err(Why::Unknown);
    }
    let close = |gap: BigInt| gap * &million <= count.below;
    let whole = match name {
        "round_up" if close(rest.clone()) => floor,
        "round_up" => floor + 1,
        "round_down" if close(&count.below - &rest) => floor + 1,
        "round_down" => floor,
        _ => {
            let twice: BigInt = &rest * 2;
            let up = match twice.cmp(&count.below) {
                Ordering::Equal if name == "round_even" => floor.is_odd(),
                Ordering::Equal => !count.above.is_negative(),
                order => order.is_gt(),
            };
            if up { floor + 1 } else { floor }
        }
    };
    Ok(Exact::new(whole, 1.into(), 0).times(&step))
}
