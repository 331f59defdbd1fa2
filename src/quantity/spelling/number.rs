//! Numbers with or without a unit, percents, money.

use super::{SpellingError, decimal, prepared};
use crate::quantity::unit::UNITS;
use crate::quantity::{Number, Unit};

/// A number as it was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// The number: in base units (mm, lb, hr, $) where it has a unit, a fraction where it is a percent.
    pub value: Number,
    /// Its own unit.
    pub unit: Option<Unit>,
    /// Whether it was written as a percent.
    pub percent: bool,
}

/// Reads a plain number: `1,234.5`, `5%` (as .05), `$4.85`, `(12.50)` for below zero, `1/2`, `3 1/2`.
///
/// # Errors
/// Why it is no number, or that it has a unit.
pub fn read_number(text: &str) -> Result<Number, SpellingError> {
    let quantity = read_quantity(text)?;
    match quantity.unit {
        Some(unit) if unit != Unit::dollar() => {
            Err(SpellingError::new(format!("it is {}, and a plain number is needed", unit.dimension.words())))
        }
        _ => Ok(quantity.value),
    }
}

/// Reads a number and its unit where it has one: `13 psf`, `100 lb`, `$312/MLF`, `5%`, `1,234.5`.
///
/// # Errors
/// Why it is no number.
pub fn read_quantity(text: &str) -> Result<Quantity, SpellingError> {
    let plain = prepared(text)?;
    let mut body = plain.as_str();
    let mut negative = false;
    if let Some(inside) = body.strip_prefix('(').and_then(|b| b.strip_suffix(')')) {
        (negative, body) = (true, inside.trim());
    }
    if let Some(rest) = body.strip_prefix('-') {
        if negative {
            return Err(SpellingError::new("it has both a minus sign and brackets"));
        }
        (negative, body) = (true, rest.trim_start());
    } else {
        body = body.strip_prefix('+').unwrap_or(body).trim_start();
    }
    let dollars = body.strip_prefix('$');
    body = dollars.unwrap_or(body).trim_start();
    if dollars.is_some()
        && !negative
        && let Some(rest) = body.strip_prefix('-')
    {
        (negative, body) = (true, rest.trim_start());
    }
    let (value, rest) = leading_number(body)?;
    let value = if negative { value.negated() } else { value };
    let rest = rest.trim();
    if rest == "%" && dollars.is_none() {
        let value = value.over(&100.into()).map_err(|_| too_large())?;
        return Ok(Quantity { value, unit: None, percent: true });
    }
    let unit = match (dollars, rest) {
        (None, "") => None,
        (Some(_), "") => Some(Unit::dollar()),
        (Some(_), rest) => {
            let under = rest.strip_prefix('/').or_else(|| rest.strip_prefix("per "));
            let unit = under.and_then(|u| unit_leniently(u.trim())).and_then(|u| Unit::dollar().per(u));
            Some(unit.ok_or_else(|| not_a_unit(rest))?)
        }
        (None, rest) => Some(unit_leniently(rest).ok_or_else(|| not_a_unit(rest))?),
    };
    let value = match unit {
        Some(unit) => value.scaled(unit.factor).map_err(|_| too_large())?,
        None => value,
    };
    Ok(Quantity { value, unit, percent: false })
}

fn not_a_unit(text: &str) -> SpellingError {
    SpellingError::new(format!("‘{text}’ after the number is not a unit that is known"))
}

fn too_large() -> SpellingError {
    SpellingError::new("it has more digits than can be kept exactly")
}

/// A number at the start of a text: a decimal, a fraction, or a whole number and a fraction; and what follows.
fn leading_number(body: &str) -> Result<(Number, &str), SpellingError> {
    let (first, rest) = digits(body);
    if first.is_empty() {
        return Err(SpellingError::new(format!("‘{body}’ is not a number")));
    }
    if let Some((under, after)) = bar(rest) {
        return Ok((fraction(first, under)?, after));
    }
    let spaced = rest.trim_start();
    let (second, after) = digits(spaced);
    if second.is_empty() {
        return Ok((decimal(first)?.into(), rest));
    }
    let Some((under, after)) = bar(after) else {
        return Err(SpellingError::new("it holds two numbers and one is needed"));
    };
    if !first.bytes().all(|b| b.is_ascii_digit()) {
        return Err(SpellingError::new("a decimal and a fraction stand side by side"));
    }
    let part = fraction(second, under)?;
    if part >= Number::ONE {
        return Err(SpellingError::new("the fraction after the whole number is one or more"));
    }
    let whole = Number::from(decimal(first)?);
    Ok((whole.plus(&part).map_err(|_| too_large())?, after))
}

fn digits(text: &str) -> (&str, &str) {
    let end = text.find(|c: char| !matches!(c, '0'..='9' | '.' | ',')).unwrap_or(text.len());
    text.split_at(end)
}

/// Digits after a fraction bar, and what follows them.
fn bar(text: &str) -> Option<(&str, &str)> {
    let (under, after) = digits(text.trim_start().strip_prefix('/')?.trim_start());
    (!under.is_empty()).then_some((under, after))
}

fn fraction(over: &str, under: &str) -> Result<Number, SpellingError> {
    if !over.bytes().chain(under.bytes()).all(|b| b.is_ascii_digit()) {
        return Err(SpellingError::new("a fraction is made of whole numbers"));
    }
    let (over, under) = (decimal(over)?, decimal(under)?);
    if under.is_zero() {
        return Err(SpellingError::new("it holds a fraction over zero"));
    }
    Number::quotient(over, under).map_err(|_| too_large())
}

/// Reads a unit as people head columns with it: `FT`, `Inches`, `sq. ft.`, `$ / MLF`.
///
/// Case is passed over except in units of one letter, where it tells a thousand (`M`) from a meter (`m`).
#[must_use]
pub fn unit_leniently(text: &str) -> Option<Unit> {
    let text = text.trim();
    if text.is_empty() || text.len() > 40 {
        return None;
    }
    if let Ok(unit) = Unit::read(text) {
        return Some(unit);
    }
    let mut out: Option<Unit> = None;
    let mut divide = false;
    for piece in text.split_inclusive(['/', '*', '·']) {
        let sign = piece.chars().next_back().filter(|c| matches!(c, '/' | '*' | '·'));
        let part = lenient_factor(piece.trim_end_matches(['/', '*', '·']).trim())?;
        out = Some(match out {
            None => part,
            Some(so_far) if divide => so_far.per(part)?,
            Some(so_far) => so_far.times(part)?,
        });
        divide = sign == Some('/');
    }
    out
}

fn lenient_factor(part: &str) -> Option<Unit> {
    let part = part.trim_end_matches('.');
    if let Ok(unit) = Unit::read(part) {
        return Some(unit);
    }
    let joined: String = part.to_lowercase().replace('.', " ").split_whitespace().collect::<Vec<_>>().join(" ");
    let name = match joined.as_str() {
        "sq ft" | "sqft" | "square feet" | "square foot" | "s f" => "sf",
        "sq m" | "sqm" | "square meters" | "square meter" | "square metres" => "sqm",
        "sq yd" | "square yards" => "sy",
        "cu ft" | "cubic feet" => "cf",
        "cu yd" | "cubic yards" => "cy",
        "l f" | "lin ft" | "linear feet" | "linear ft" | "lineal feet" => "lf",
        "meter" | "meters" | "metre" | "metres" => "m",
        "millimeter" | "millimeters" | "millimetre" | "millimetres" => "mm",
        "centimeter" | "centimeters" | "centimetre" | "centimetres" => "cm",
        "yard" | "yards" | "yds" => "yd",
        "pound" | "pounds" => "lb",
        "hour" => "hr",
        "minutes" | "mins" => "min",
        "dollars" | "usd" | "us$" => return Some(Unit::dollar()),
        "gallon" | "gallons" | "gals" => "gal",
        "mils" => "mil",
        "tons" => "ton",
        "ins" => "in",
        other => {
            return UNITS
                .iter()
                .find(|u| u.names.iter().any(|n| n.len() > 1 && n.eq_ignore_ascii_case(other)))
                .map(super::super::unit::UnitRecord::unit);
        }
    };
    Unit::named(name)
}
