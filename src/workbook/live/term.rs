//! Expressions of a worksheet in the making: pieces of text and cells, with the unit that a number stands in.

use crate::notation::tree::How;
use crate::program::{FieldId, KindId};
use crate::quantity::Number;

/// A part of a formula.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Text as it stands in the formula.
    Words(String),
    /// The cell of a field's value, in the row itself or the one that it belongs to.
    Cell(FieldId),
    /// The cell of an input field as it was typed.
    Typed(FieldId),
    /// Children brought together.
    Fold(Box<Fold>),
    /// All cells of a table's key.
    Key(u32, u32),
    /// All cells of a table's result.
    Result(u32, u32),
    /// The numbers of a table's rows, from 1.
    Row(u32),
}

/// Children of a row brought together.
#[derive(Clone, Debug, PartialEq)]
pub struct Fold {
    /// How.
    pub how: How,
    /// The kind whose rows have them.
    pub of: KindId,
    /// Their kind.
    pub kind: KindId,
    /// What is brought together, for each of them; nothing where they are counted.
    pub value: Vec<Piece>,
    /// Which of them count; all where it is empty.
    pub condition: Vec<Piece>,
}

/// How tightly an expression holds together: what an operator around it must put in parentheses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Tie {
    /// A sum.
    Sum,
    /// A product.
    Product,
    /// A cell, a figure, a call.
    One,
}

/// A number: its value is that of the pieces times the factor, in base units.
#[derive(Clone, Debug)]
pub struct Quantity {
    pieces: Vec<Piece>,
    tie: Tie,
    factor: Number,
}

/// An expression that has a value of one type.
#[derive(Clone, Debug)]
pub enum Term {
    /// A number that is the same for every row, in base units.
    Constant(Number),
    /// A number.
    Number(Quantity),
    /// A text.
    Text(Vec<Piece>),
    /// A text that is the same for every row.
    Words(String),
    /// A cell that shows an option by its label.
    Option(FieldId),
    /// Yes or no.
    YesNo(Vec<Piece>),
}

/// Most pieces of an expression: longer ones are values.
const MOST_PIECES: usize = 400;

/// A piece of text.
pub fn words(text: impl Into<String>) -> Piece {
    Piece::Words(text.into())
}

/// Pieces in a row; texts beside each other become one.
pub fn joined(parts: impl IntoIterator<Item = Vec<Piece>>) -> Option<Vec<Piece>> {
    let mut out: Vec<Piece> = Vec::new();
    for piece in parts.into_iter().flatten() {
        match (out.last_mut(), piece) {
            (Some(Piece::Words(last)), Piece::Words(next)) => last.push_str(&next),
            (_, piece) => out.push(piece),
        }
    }
    (out.len() <= MOST_PIECES).then_some(out)
}

/// A function's name with its arguments.
pub fn call(name: &str, arguments: impl IntoIterator<Item = Vec<Piece>>) -> Option<Vec<Piece>> {
    let mut parts = vec![vec![words(format!("{name}("))]];
    for (i, argument) in arguments.into_iter().enumerate() {
        if i > 0 {
            parts.push(vec![words(",")]);
        }
        parts.push(argument);
    }
    parts.push(vec![words(")")]);
    joined(parts)
}

/// A text as a formula writes it; nothing for one that is too long for that, or that a reader could take for more than it
/// says.
pub fn quoted(text: &str) -> Option<String> {
    let plain = !text.chars().any(char::is_control) && escapes(text).next().is_none();
    let fits = plain && text.chars().count() <= 255;
    fits.then(|| format!("\"{}\"", text.replace('"', "\"\"")))
}

/// Where a text has what a file's texts write for a letter, `_x0041_` (ISO/IEC 29500-1, 22.9.2.19).
pub fn escapes(text: &str) -> impl Iterator<Item = usize> + '_ {
    text.match_indices("_x").map(|(at, _)| at).filter(|at| {
        let letter = text.as_bytes().get(at + 2..at + 7);
        letter.is_some_and(|l| l[..4].iter().all(u8::is_ascii_hexdigit) && l[4] == b'_')
    })
}

/// A number as a formula writes it.
fn figure(n: &Number) -> Option<(String, Tie)> {
    match n.exact_decimal() {
        Some(d) => {
            let text = d.normalize().to_string();
            // a worksheet keeps 15 digits
            let fits = text.bytes().filter(u8::is_ascii_digit).count() <= 15;
            fits.then(|| (text, if n.is_negative() { Tie::Sum } else { Tie::One }))
        }
        None => {
            let (num, den) = n.parts();
            let (num, den) = (Number::from(num), Number::from(den));
            let ((num, _), (den, _)) = (figure(&num)?, figure(&den)?);
            Some((format!("{num}/{den}"), Tie::Product))
        }
    }
}

impl Quantity {
    /// A number whose pieces stand in a unit, by base units in one of it.
    pub fn new(pieces: Vec<Piece>, tie: Tie, factor: Number) -> Self {
        Self { pieces, tie, factor }
    }

    fn held(self, at_least: Tie) -> Option<Vec<Piece>> {
        if self.tie >= at_least {
            return Some(self.pieces);
        }
        joined([vec![words("(")], self.pieces, vec![words(")")]])
    }

    /// The same in another unit.
    fn into_unit(self, unit: &Number) -> Option<Self> {
        let by = self.factor.over(unit).ok()?;
        if by == Number::ONE {
            return Some(self);
        }
        let under = Number::ONE.over(&by).ok()?;
        let (sign, (text, _)) = match (by.exact_decimal(), under.exact_decimal()) {
            (None, Some(_)) => ("/", figure(&under)?),
            _ => ("*", figure(&by)?),
        };
        let pieces = joined([self.held(Tie::Product)?, vec![words(format!("{sign}{text}"))]])?;
        Some(Self { pieces, tie: Tie::Product, factor: *unit })
    }
}

impl Term {
    /// A number of pieces in base units.
    pub fn plain(pieces: Vec<Piece>, tie: Tie) -> Self {
        Self::Number(Quantity::new(pieces, tie, Number::ONE))
    }

    /// A number in a unit, by base units in one of it.
    fn in_unit(self, unit: &Number) -> Option<Quantity> {
        match self {
            Self::Constant(n) => {
                let (text, tie) = figure(&n.over(unit).ok()?)?;
                Some(Quantity::new(vec![words(text)], tie, *unit))
            }
            Self::Number(q) => q.into_unit(unit),
            _ => None,
        }
    }

    /// The pieces of a number in a unit, as an argument of a call.
    pub fn pieces_in(self, unit: &Number) -> Option<Vec<Piece>> {
        self.in_unit(unit).map(|q| q.pieces)
    }

    /// The pieces of a number in a unit, as a part of a sum.
    pub fn product_in(self, unit: &Number) -> Option<Vec<Piece>> {
        self.in_unit(unit)?.held(Tie::Product)
    }

    /// The unit that a number stands in; nothing for one that is the same for every row.
    fn unit(&self) -> Option<Number> {
        if let Self::Number(q) = self { Some(q.factor) } else { None }
    }

    /// The unit in which two numbers meet.
    fn shared(a: &Self, b: &Self) -> Number {
        a.unit().or_else(|| b.unit()).unwrap_or(Number::ONE)
    }

    /// Sum or difference.
    pub fn added(a: Self, b: Self, subtract: bool) -> Option<Self> {
        match (&a, &b) {
            (Self::Constant(x), Self::Constant(y)) => {
                return if subtract { x.minus(y) } else { x.plus(y) }.ok().map(Self::Constant);
            }
            (_, Self::Constant(zero)) if zero.is_zero() => return Some(a),
            (Self::Constant(zero), _) if zero.is_zero() && !subtract => return Some(b),
            _ => {}
        }
        let unit = Self::shared(&a, &b);
        let (a, b) = (a.in_unit(&unit)?, b.in_unit(&unit)?);
        let sign = words(if subtract { "-" } else { "+" });
        let pieces = joined([a.held(Tie::Sum)?, vec![sign], b.held(Tie::Product)?])?;
        Some(Self::Number(Quantity::new(pieces, Tie::Sum, unit)))
    }

    /// Product.
    pub fn multiplied(a: Self, b: Self) -> Option<Self> {
        match (a, b) {
            (Self::Constant(x), Self::Constant(y)) => x.times(&y).ok().map(Self::Constant),
            (Self::Constant(n), Self::Number(mut q)) | (Self::Number(mut q), Self::Constant(n)) => {
                if n.is_zero() {
                    return Some(Self::Constant(n));
                }
                q.factor = q.factor.times(&n).ok()?;
                Some(Self::Number(q))
            }
            (Self::Number(a), Self::Number(b)) => {
                let factor = a.factor.times(&b.factor).ok()?;
                let pieces = joined([a.held(Tie::Product)?, vec![words("*")], b.held(Tie::One)?])?;
                Some(Self::Number(Quantity::new(pieces, Tie::Product, factor)))
            }
            _ => None,
        }
    }

    /// Quotient.
    pub fn divided(a: Self, b: Self) -> Option<Self> {
        match (a, b) {
            (Self::Constant(x), Self::Constant(y)) => x.over(&y).ok().map(Self::Constant),
            (Self::Number(mut q), Self::Constant(n)) => {
                q.factor = q.factor.over(&n).ok()?;
                Some(Self::Number(q))
            }
            (Self::Constant(n), Self::Number(b)) => {
                let factor = n.over(&b.factor).ok()?;
                let pieces = joined([vec![words("1/")], b.held(Tie::One)?])?;
                Some(Self::Number(Quantity::new(pieces, Tie::Product, factor)))
            }
            (Self::Number(a), Self::Number(b)) => {
                let factor = a.factor.over(&b.factor).ok()?;
                let pieces = joined([a.held(Tie::Product)?, vec![words("/")], b.held(Tie::One)?])?;
                Some(Self::Number(Quantity::new(pieces, Tie::Product, factor)))
            }
            _ => None,
        }
    }

    /// The lesser or the greater.
    pub fn picked(a: Self, b: Self, least: bool) -> Option<Self> {
        let unit = Self::shared(&a, &b);
        let pieces = call(if least { "MIN" } else { "MAX" }, [a.pieces_in(&unit)?, b.pieces_in(&unit)?])?;
        Some(Self::Number(Quantity::new(pieces, Tie::One, unit)))
    }

    /// Whether two numbers compare so. Binary fractions must not decide: what differs by less than a billionth of the
    /// unit is equal.
    pub fn compared(a: Self, sign: &str, b: Self) -> Option<Vec<Piece>> {
        let unit = Self::shared(&a, &b);
        let exact = |t: &Self| match t {
            Self::Constant(_) => true,
            Self::Number(q) => q.factor == unit && matches!(q.pieces.as_slice(), [Piece::Typed(_)]),
            _ => false,
        };
        if exact(&a) && exact(&b) {
            let (a, b) = (a.in_unit(&unit)?, b.in_unit(&unit)?);
            return joined([a.held(Tie::Sum)?, vec![words(sign)], b.held(Tie::Sum)?]);
        }
        let difference = Self::added(a, b, true)?.pieces_in(&unit)?;
        joined([call("ROUND", [difference, vec![words("9")]])?, vec![words(format!("{sign}0"))]])
    }

    /// The value of the first condition that holds.
    pub fn chosen(arms: Vec<(Vec<Piece>, Self)>, otherwise: Self) -> Option<Self> {
        let values = || arms.iter().map(|(_, v)| v).chain([&otherwise]);
        if values().all(|v| matches!(v, Self::YesNo(_))) {
            let pieces = nested(arms, otherwise, |v| if let Self::YesNo(p) = v { Some(p) } else { None })?;
            return Some(Self::YesNo(pieces));
        }
        if values().all(|v| matches!(v, Self::Text(_) | Self::Words(_))) {
            let pieces = nested(arms, otherwise, Self::text)?;
            return Some(Self::Text(pieces));
        }
        let unit = values().find_map(Self::unit).unwrap_or(Number::ONE);
        let pieces = nested(arms, otherwise, |v| v.pieces_in(&unit))?;
        Some(Self::Number(Quantity::new(pieces, Tie::One, unit)))
    }

    /// Its pieces, where it has some.
    pub fn pieces(&self) -> Option<&[Piece]> {
        match self {
            Self::Number(q) => Some(&q.pieces),
            Self::Text(pieces) | Self::YesNo(pieces) => Some(pieces),
            Self::Constant(_) | Self::Words(_) | Self::Option(_) => None,
        }
    }

    /// The pieces of a text.
    pub fn text(self) -> Option<Vec<Piece>> {
        match self {
            Self::Text(pieces) => Some(pieces),
            Self::Words(text) => Some(vec![words(quoted(&text)?)]),
            _ => None,
        }
    }
}

/// Conditions and values, one in the other.
fn nested(
    arms: Vec<(Vec<Piece>, Term)>,
    otherwise: Term,
    pieces: impl Fn(Term) -> Option<Vec<Piece>>,
) -> Option<Vec<Piece>> {
    let mut out = pieces(otherwise)?;
    for (condition, value) in arms.into_iter().rev() {
        out = call("IF", [condition, pieces(value)?, out])?;
    }
    Some(out)
}
