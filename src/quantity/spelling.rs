//! Numbers and lengths as people type them into cells.
//!
//! Pure functions without a place: the caller, who knows the cell, adds it. Every reading is exact.

mod date;
mod length;
mod number;

pub use date::{read_date, read_yes_no};
pub use length::{Spelled, read_length};
pub use number::{Quantity, read_number, read_quantity, unit_leniently};

use super::Decimal;
use std::fmt;

/// The longest text that is looked at as a number, a length or a date, in characters.
pub const LONGEST: usize = 80;

/// Why a text could not be read, as the second half of a sentence: "a fraction over zero".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SpellingError {
    /// What is wrong with it.
    pub what: String,
    /// What would be right, where that is known.
    pub fix: Option<String>,
}

impl SpellingError {
    fn new(what: impl Into<String>) -> Self {
        Self { what: what.into(), fix: None }
    }

    fn fix(mut self, fix: impl Into<String>) -> Self {
        self.fix = Some(fix.into());
        self
    }
}

impl fmt::Display for SpellingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.what)
    }
}

impl std::error::Error for SpellingError {}

/// One spelling for the many signs that keyboards and word processors make: straight quotes, plain spaces,
/// hyphens, `n/d` fractions.
#[must_use]
pub fn plain_signs(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if let Some(fraction) = fraction_sign(c) {
            if out.ends_with(|last: char| last.is_ascii_digit()) {
                out.push(' ');
            }
            out.push_str(fraction);
            continue;
        }
        match c {
            '\u{2018}' | '\u{2019}' | '\u{201b}' | '\u{2032}' | '\u{2035}' | '\u{b4}' | '`' | '\u{2bc}'
            | '\u{ff07}' => {
                out.push('\'');
            }
            '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{201f}' | '\u{2033}' | '\u{2036}' | '\u{2dd}' | '\u{3003}'
            | '\u{ff02}' => out.push('"'),
            '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{fe63}' | '\u{ff0d}' => out.push('-'),
            '\u{2044}' | '\u{2215}' | '\u{29f8}' => out.push('/'),
            '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}' | '\u{ad}' => {}
            c if c.is_whitespace() || c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out.replace("''", "\"").trim().to_owned()
}

fn fraction_sign(c: char) -> Option<&'static str> {
    Some(match c {
        '¼' => "1/4",
        '½' => "1/2",
        '¾' => "3/4",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        _ => return None,
    })
}

/// Cleans a text up and refuses one that is far too long to be a figure.
fn prepared(text: &str) -> Result<String, SpellingError> {
    if text.chars().nth(LONGEST).is_some() {
        return Err(SpellingError::new("it is far longer than a figure"));
    }
    let plain = plain_signs(text);
    if plain.is_empty() { Err(SpellingError::new("it is blank")) } else { Ok(plain) }
}

/// Digits with a decimal point and with commas between thousands, as a decimal.
fn decimal(text: &str) -> Result<Decimal, SpellingError> {
    let fail = || SpellingError::new(format!("‘{text}’ is not a number"));
    let (whole, part) = text.split_once('.').map_or((text, None), |(w, p)| (w, Some(p)));
    let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if !part.is_none_or(digits) || (whole.is_empty() && part.is_none_or(str::is_empty)) {
        return Err(if part.is_some_and(|p| p.contains('.') || p.contains(',')) {
            SpellingError::new(format!("‘{text}’ has its points and commas in an order that cannot be told"))
                .fix("write 1,234.5: commas between thousands, a point before the decimals")
        } else {
            fail()
        });
    }
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or("");
    let mut joined = String::from(first);
    let mut grouped = false;
    for group in groups {
        grouped = true;
        if group.len() != 3 || !digits(group) {
            return Err(SpellingError::new(format!("‘{text}’ has a comma where a decimal point may be meant"))
                .fix("write decimals with a point, 3.14, and a comma only between thousands, 1,200"));
        }
        joined.push_str(group);
    }
    if !digits(first) || (grouped && !(1..=3).contains(&first.len())) || (grouped && first.starts_with('0')) {
        return Err(fail());
    }
    if let Some(part) = part.filter(|p| !p.is_empty()) {
        joined.push('.');
        joined.push_str(part);
    }
    let joined = joined.strip_prefix('.').map_or_else(|| joined.clone(), |rest| format!("0.{rest}"));
    Decimal::from_str_exact(&joined)
        .map_err(|_| SpellingError::new(format!("‘{text}’ has more digits than can be kept exactly")))
}

/// A decimal from a binary number, by the shortest decimal text that stands for it, so that 0.1 is 0.1.
///
/// `None` where it is not a number or has more digits than a decimal can keep: nothing is rounded off.
#[must_use]
#[allow(clippy::float_arithmetic, clippy::cast_possible_truncation, clippy::float_cmp)] // the edge: a stored cell
pub fn decimal_of(value: f64) -> Option<Decimal> {
    /// Below this a scaled value has at most 15 digits, and of those at most one stands for a given binary number:
    /// if dividing gives the value back, it is the shortest text.
    const FIFTEEN_DIGITS: f64 = 1e15;
    let mut scale = 1.0;
    for places in 0..=6 {
        let up = (value * scale).round();
        if up.abs() >= FIFTEEN_DIGITS {
            break;
        }
        if up / scale == value {
            return Some(Decimal::new(up as i64, places));
        }
        scale *= 10.0;
    }
    if !value.is_finite() || value.abs() >= 1e28 {
        return None;
    }
    Decimal::from_str_exact(&value.to_string()).ok().map(|d| d.normalize())
}
