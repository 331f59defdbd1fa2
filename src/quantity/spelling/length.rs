//! Lengths in any spelling of the trade.

use super::{SpellingError, decimal, prepared, unit_leniently};
use crate::quantity::length::MM_PER_INCH;
use crate::quantity::{Decimal, Dimension, Number, Unit};

/// A length as it was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spelled {
    /// With a unit of its own, in mm.
    Length(Number),
    /// A number that takes its unit from the heading.
    Bare(Number),
}

/// A piece of a spelled length.
#[derive(Clone, Debug, PartialEq)]
enum Token {
    Number(Decimal),
    Slash,
    Foot,
    Inch,
    /// A unit other than feet and inches.
    Other(Unit, String),
    Dash,
}

/// Reads a length: `10'-3 1/2"`, `10' 3.5"`, `10-3 1/2`, `10ft 3in`, `10'3`, `123.5"`, `3.14 m`, `5/8"`, `8½"`; a
/// number alone is bare.
///
/// # Errors
/// Why it is no length, or that it can be read in two ways.
pub fn read_length(text: &str) -> Result<Spelled, SpellingError> {
    let plain = prepared(text)?;
    let (negative, body) = match plain.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, plain.strip_prefix('+').unwrap_or(&plain).trim_start()),
    };
    let tokens = tokens(body)?;
    let value = Reader { tokens: &tokens, at: 0, text: &plain }.whole()?;
    Ok(match (negative, value) {
        (false, value) => value,
        (true, Spelled::Length(mm)) => Spelled::Length(mm.negated()),
        (true, Spelled::Bare(n)) => Spelled::Bare(n.negated()),
    })
}

fn tokens(body: &str) -> Result<Vec<Token>, SpellingError> {
    let mut out = Vec::new();
    let mut rest = body;
    while let Some(c) = rest.chars().next() {
        let len = match c {
            ' ' => 1,
            '\'' => push(&mut out, Token::Foot, 1),
            '"' => push(&mut out, Token::Inch, 1),
            '/' => push(&mut out, Token::Slash, 1),
            '-' => push(&mut out, Token::Dash, 1),
            ',' if matches!(out.last(), Some(Token::Foot)) => 1,
            '0'..='9' | '.' => {
                let end = rest.find(|c: char| !matches!(c, '0'..='9' | '.' | ',')).unwrap_or(rest.len());
                let digits = rest[..end].trim_end_matches(',');
                out.push(Token::Number(decimal(digits)?));
                digits.len()
            }
            _ => word(&mut out, rest)?,
        };
        rest = &rest[len..];
    }
    Ok(out)
}

fn push(out: &mut Vec<Token>, token: Token, len: usize) -> usize {
    out.push(token);
    len
}

/// A word: a unit, or `and` between feet and inches.
fn word(out: &mut Vec<Token>, rest: &str) -> Result<usize, SpellingError> {
    let end = rest.find(|c: char| !(c.is_alphabetic() || matches!(c, '²' | '³'))).unwrap_or(rest.len());
    if end == 0 {
        let c = rest.chars().next().unwrap_or(' ');
        return Err(match c {
            '×' | '*' => two_lengths(),
            '(' | ')' | '±' | '~' | '+' | '=' => SpellingError::new(format!("‘{c}’ does not belong in a length"))
                .fix("write one plain length, such as 10'-3 1/2\""),
            _ => SpellingError::new(format!("‘{c}’ does not belong in a length")),
        });
    }
    let word = &rest[..end];
    let len = if rest[end..].starts_with('.') { end + 1 } else { end };
    let token = match word.to_lowercase().as_str() {
        "ft" | "feet" | "foot" | "lf" => Token::Foot,
        "in" | "inch" | "inches" | "ins" => Token::Inch,
        "x" | "by" => return Err(two_lengths()),
        "and" if matches!(out.last(), Some(Token::Foot)) => return Ok(end),
        _ => match unit_leniently(word) {
            Some(unit) if unit.dimension == Dimension::LENGTH => Token::Other(unit, word.to_owned()),
            Some(unit) if word == "M" => {
                return Err(SpellingError::new(format!("‘M’ is a thousand ({})", unit.dimension.words()))
                    .fix("write meters with a small letter, 3.14 m"));
            }
            Some(unit) => return Err(SpellingError::new(format!("‘{word}’ makes it {}", unit.dimension.words()))),
            None => return Err(SpellingError::new(format!("‘{word}’ is not a unit of length"))),
        },
    };
    out.push(token);
    Ok(len)
}

fn two_lengths() -> SpellingError {
    SpellingError::new("it holds two lengths and one is needed").fix("give each its own column")
}

struct Reader<'a> {
    tokens: &'a [Token],
    at: usize,
    text: &'a str,
}

/// A number as it stands before a mark.
#[derive(Clone, Copy)]
struct Amount {
    value: Number,
    /// Written as a whole number alone.
    whole: bool,
    /// Whole and fraction were joined by a dash: the two parts.
    dashed: Option<(Number, Number)>,
}

impl Reader<'_> {
    fn peek(&self, ahead: usize) -> Option<&Token> {
        self.tokens.get(self.at + ahead)
    }

    fn whole(mut self) -> Result<Spelled, SpellingError> {
        let first = self.amount()?;
        match self.peek(0).cloned() {
            None => self.bare(first),
            Some(Token::Foot) => {
                self.at += 1;
                self.after_feet(first)
            }
            Some(Token::Inch) => {
                self.at += 1;
                self.end()?;
                inches(first.value)
            }
            Some(Token::Other(unit, _)) => {
                self.at += 1;
                self.end()?;
                let mm = first.value.scaled(unit.factor).map_err(|_| too_large())?;
                Ok(Spelled::Length(mm))
            }
            Some(Token::Dash) if first.whole => {
                self.at += 1;
                let second = self.amount()?;
                if matches!(self.peek(0), Some(Token::Inch)) {
                    self.at += 1;
                }
                self.end()?;
                feet_and_inches(first.value, second)
            }
            Some(_) => Err(self.not_a_length()),
        }
    }

    /// A number without any mark.
    fn bare(&self, amount: Amount) -> Result<Spelled, SpellingError> {
        match amount.dashed {
            None => Ok(Spelled::Bare(amount.value)),
            Some((whole, _)) => Err(SpellingError::new(
                "it can be read as feet and a fraction of an inch, or as inches",
            )
            .fix(format!("write {0}'-0 …\" for feet and inches, or {0}-…\" with the inch mark", whole.to_decimal()))),
        }
    }

    /// What follows a foot mark: nothing, or inches.
    fn after_feet(&mut self, feet: Amount) -> Result<Spelled, SpellingError> {
        let dash = matches!(self.peek(0), Some(Token::Dash));
        if dash {
            self.at += 1;
        }
        if self.peek(0).is_none() && !dash {
            let mm = feet.value.scaled(foot()).map_err(|_| too_large())?;
            return Ok(Spelled::Length(mm));
        }
        let inches = self.amount()?;
        if matches!(self.peek(0), Some(Token::Inch)) {
            self.at += 1;
        }
        self.end()?;
        if !feet.whole {
            return Err(SpellingError::new("the feet are not whole and inches follow")
                .fix("write either decimal feet, 10.25', or feet and inches, 10'-3\""));
        }
        feet_and_inches(feet.value, inches)
    }

    /// A number, a fraction, or a whole number and a fraction.
    fn amount(&mut self) -> Result<Amount, SpellingError> {
        let first = self.number()?;
        if matches!(self.peek(0), Some(Token::Slash)) {
            let value = self.fraction_of(first)?;
            return Ok(Amount { value, whole: false, dashed: None });
        }
        let dash = matches!(self.peek(0), Some(Token::Dash));
        let over = usize::from(dash);
        let fraction_follows =
            matches!(self.peek(over), Some(Token::Number(_))) && matches!(self.peek(over + 1), Some(Token::Slash));
        let whole = first.fract().is_zero() && first.scale() == 0;
        if !fraction_follows {
            return Ok(Amount { value: first.into(), whole, dashed: None });
        }
        if !whole {
            return Err(SpellingError::new("a decimal and a fraction stand side by side"));
        }
        self.at += over;
        let over_bar = self.number()?;
        let part = self.fraction_of(over_bar)?;
        if part >= Number::ONE {
            return Err(SpellingError::new("the fraction after the whole number is one or more"));
        }
        let value = Number::from(first).plus(&part).map_err(|_| too_large())?;
        let dashed = dash.then_some((Number::from(first), part));
        Ok(Amount { value, whole: false, dashed })
    }

    fn number(&mut self) -> Result<Decimal, SpellingError> {
        match self.peek(0) {
            Some(Token::Number(n)) => {
                let n = *n;
                self.at += 1;
                Ok(n)
            }
            _ => Err(self.not_a_length()),
        }
    }

    fn fraction_of(&mut self, over: Decimal) -> Result<Number, SpellingError> {
        self.at += 1;
        let under = self.number()?;
        if matches!(self.peek(0), Some(Token::Slash)) {
            return Err(SpellingError::new("it looks like a date"));
        }
        if under.is_zero() {
            return Err(SpellingError::new("it holds a fraction over zero"));
        }
        if over.scale() > 0 || under.scale() > 0 {
            return Err(SpellingError::new("a fraction is made of whole numbers"));
        }
        Number::quotient(over, under).map_err(|_| too_large())
    }

    fn end(&self) -> Result<(), SpellingError> {
        if self.at == self.tokens.len() { Ok(()) } else { Err(self.not_a_length()) }
    }

    fn not_a_length(&self) -> SpellingError {
        let dashes = self.tokens.iter().filter(|t| matches!(t, Token::Dash)).count();
        if dashes > 1 && !self.tokens.iter().any(|t| matches!(t, Token::Foot | Token::Inch)) {
            return SpellingError::new("it looks like a date");
        }
        SpellingError::new(format!("‘{}’ is not a length in any spelling that is known", self.text))
            .fix("write it as 10'-3 1/2\", 123.5\", 10.25 ft, 3.14 m or 3140 mm")
    }
}

fn foot() -> crate::quantity::Ratio {
    crate::quantity::Ratio::new(1524, 5)
}

fn too_large() -> SpellingError {
    SpellingError::new("it has more digits than can be kept exactly")
}

fn inches(count: Number) -> Result<Spelled, SpellingError> {
    count.times(&MM_PER_INCH.into()).map(Spelled::Length).map_err(|_| too_large())
}

fn feet_and_inches(feet: Number, rest: Amount) -> Result<Spelled, SpellingError> {
    let twelve = Number::from(12);
    if rest.value >= twelve && !feet.is_zero() {
        return Err(SpellingError::new("the inches after the feet are 12 or more")
            .fix("carry them into the feet, or write inches alone with their mark"));
    }
    let total = feet.times(&twelve).and_then(|f| f.plus(&rest.value)).map_err(|_| too_large())?;
    inches(total)
}
