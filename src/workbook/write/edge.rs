//! The edge where exact numbers become the binary floats that a workbook's cells hold. Nothing is worked out with
//! them afterwards: each is the float nearest to its exact value.
#![allow(clippy::float_arithmetic, reason = "a cell of a workbook holds a binary float; this is where it is made")]

use crate::engine::{Chunk, Column, Data};
use crate::quantity::{Date, Decimal, Number, Ratio};

/// What stands in a cell whose number cannot be brought to the unit it is shown in.
pub const TOO_LARGE: &str = "too large";

/// Whole numbers to here are floats exactly.
const EXACT: i128 = 1 << 53;

/// The float nearest to `n / d`, `d` above zero.
///
/// Where both are below 2^53 the one division is rounded once, so it is the nearest.
#[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "both are below 2^53 here")]
#[must_use]
pub fn ratio(n: i128, d: i128) -> f64 {
    if (-EXACT..=EXACT).contains(&n) && d <= EXACT {
        // by way of 64 bits, which the processor turns into floats itself
        return n as i64 as f64 / d as i64 as f64;
    }
    match Number::from_ints(n, d) {
        Ok(number) => by_text(number.to_decimal()),
        Err(_) => f64::NAN,
    }
}

/// The float nearest to an exact number.
#[must_use]
pub fn number(value: &Number) -> f64 {
    let (num, den) = value.parts();
    match (power(den.scale()), power(num.scale())) {
        (Some(up), Some(down)) => match (num.mantissa().checked_mul(up), den.mantissa().checked_mul(down)) {
            (Some(n), Some(d)) if n.abs() <= EXACT && d <= EXACT => ratio(n, d),
            _ => by_text(value.to_decimal()),
        },
        _ => by_text(value.to_decimal()),
    }
}

fn by_text(value: Decimal) -> f64 {
    value.to_string().parse().unwrap_or(f64::NAN)
}

fn power(scale: u32) -> Option<i128> {
    10i128.checked_pow(scale)
}

/// Whole cents as dollars.
#[must_use]
pub fn cents(value: i64) -> f64 {
    ratio(i128::from(value), 100)
}

/// Whole cents as the text of a stored formula result, exact: `-12.05`.
pub fn cents_text(out: &mut String, value: i64) {
    use std::fmt::Write as _;
    out.clear();
    let (sign, whole) = (if value < 0 { "-" } else { "" }, value.unsigned_abs());
    let _ = write!(out, "{sign}{}.{:02}", whole / 100, whole % 100);
}

/// A float as the text of a stored formula result; the shortest that reads back the same.
pub fn float_text(out: &mut String, value: f64) {
    use std::fmt::Write as _;
    out.clear();
    let mut buffer = zmij::Buffer::new();
    let digits = buffer.format(value);
    if digits.bytes().all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'-')) {
        out.push_str(digits.strip_suffix(".0").unwrap_or(digits));
    } else {
        let _ = write!(out, "{value}");
    }
}

/// The same by itself.
#[must_use]
pub fn text(value: f64) -> String {
    let mut out = String::new();
    float_text(&mut out, value);
    out
}

/// Whether a value is whole after so many decimal places, but for what binary fractions leave behind.
fn is_whole(value: f64, places: usize) -> bool {
    let power = [1.0, 10.0, 100.0, 1000.0][places.min(3)];
    (value * power - (value * power).round()).abs() < 1e-6
}

/// The share of one amount in another, in cents both; `None` when the whole is zero.
#[must_use]
pub fn share(part: i64, whole: i64) -> Option<f64> {
    let (part, whole) = if whole < 0 { (-i128::from(part), -i128::from(whole)) } else { (part.into(), whole.into()) };
    (whole != 0).then(|| ratio(part, whole))
}

/// How the numbers of a column become those of a sheet: times `kept` over `shown`.
#[derive(Clone, Copy, Debug)]
pub struct Scale {
    up: i128,
    down: i128,
}

impl Scale {
    /// From the unit that a column is kept in to the unit that it is shown in, factors to base units both.
    #[must_use]
    pub fn between(kept: Ratio, shown: Ratio) -> Self {
        let ratio = kept / shown;
        Self { up: *ratio.numer(), down: *ratio.denom() }
    }

    /// Fewest decimal places, `most` at most, that show every value of a column in full.
    #[must_use]
    pub fn places(self, column: &Column, most: usize) -> usize {
        let mut places = 0;
        for chunk in &column.chunks {
            for value in (0..chunk.data.len()).filter_map(|i| self.apply(chunk, i)) {
                while places < most && !is_whole(value, places) {
                    places += 1;
                }
            }
            if places == most {
                break;
            }
        }
        places
    }

    /// Whether whole numbers stay whole.
    #[must_use]
    pub fn keeps_whole(self) -> bool {
        self.down == 1
    }

    /// A whole number of a scale as the cell's number, where all of it fits 64 bits: the same division as [`ratio`].
    #[allow(clippy::cast_precision_loss, reason = "both are below 2^53 here")]
    fn quick(self, value: i64, scale: u32) -> Option<f64> {
        const LIMIT: u64 = 1 << 53;
        let n = value.checked_mul(i64::try_from(self.up).ok()?)?;
        let d = i64::try_from(self.down).ok()?.checked_mul(10i64.checked_pow(scale)?)?;
        (n.unsigned_abs() <= LIMIT && d.unsigned_abs() <= LIMIT).then(|| n as f64 / d as f64)
    }

    /// The cell's number; `None` for data of another sort, and for a number too large.
    #[must_use]
    pub fn apply(self, chunk: &Chunk, row: usize) -> Option<f64> {
        if let Data::Fixed { values, scale, over } = &chunk.data {
            let value = values[if values.len() == 1 { 0 } else { row }];
            if let (None, Some(quick)) = (over, self.quick(value, *scale)) {
                return Some(quick);
            }
            let value = i128::from(value);
            let (under, under_scale) = match over {
                Some((under, scale)) => (i128::from(under[if under.len() == 1 { 0 } else { row }]), *scale),
                None => (1, 0),
            };
            let n = value.checked_mul(self.up).and_then(|n| n.checked_mul(power(under_scale)?));
            let d = under.checked_mul(self.down).and_then(|d| d.checked_mul(power(*scale)?));
            if let (Some(n), Some(d)) = (n, d)
                && n.abs() <= EXACT
                && d <= EXACT
            {
                return Some(ratio(n, d));
            }
        }
        let kept = chunk.number(row)?;
        kept.scaled(Ratio::new(self.up, self.down)).ok().map(|n| number(&n))
    }
}

/// The serial number of a date, counted as ISO/IEC 29500 does for 1900-based workbooks.
#[must_use]
pub fn date(value: Date) -> f64 {
    let days = i64::from(value.since(Date::constant(1970, 1, 1)).map_or(0, |span| span.get_days()));
    ratio(i128::from(days + DAYS_TO_1970), 1)
}

/// Serial number of 1970-01-01.
pub const DAYS_TO_1970: i64 = 25_569;

/// Days since 1970-01-01 as a serial number.
#[must_use]
pub fn days(since_1970: f64) -> f64 {
    since_1970 + 25_569.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn n(text: &str) -> Number {
        text.parse::<Decimal>().unwrap().into()
    }

    #[test]
    fn floats_are_the_nearest() {
        // A float literal is read to the nearest by the language's own rule.
        for (text, float) in [("0.1", 0.1), ("4.85", 4.85), ("1234567.891", 1_234_567.891), ("-0.115", -0.115)] {
            assert_eq!(number(&n(text)).to_bits(), f64::to_bits(float), "{text}");
        }
        let long = "0.1234567890123456789";
        assert_eq!(number(&n(long)).to_bits(), long.parse::<f64>().unwrap().to_bits());
        assert_eq!(number(&Number::ONE.over(&3.into()).unwrap()).to_bits(), (1.0_f64 / 3.0).to_bits());
    }

    #[test]
    fn a_column_in_mm_is_shown_in_feet() {
        // 2590.8 mm = 8'-6" by 25.4 mm to the inch.
        let chunk = Chunk { data: Data::Fixed { values: vec![25_908], scale: 1, over: None }, faults: None };
        let scale = Scale::between(Ratio::new(1, 1), Ratio::new(1524, 5));
        assert_eq!(scale.apply(&chunk, 0).map(f64::to_bits), Some(8.5_f64.to_bits()));
    }

    #[test]
    fn cents_are_written_whole() {
        let mut out = String::new();
        for (value, text) in [(0, "0.00"), (5, "0.05"), (-1205, "-12.05"), (1_000_000, "10000.00")] {
            cents_text(&mut out, value);
            assert_eq!(out, text);
        }
    }

    #[test]
    fn floats_are_written_without_an_exponent() {
        // the language's own text of a float is the shortest that reads back the same, digit by digit
        let mut out = String::new();
        for value in [0.0, -0.0, 1.0, -12.5, 0.1, 1.0 / 3.0, 1e15, 1e16, 2.5e21, 1e-5, 1.5e-7, 123_456.789] {
            float_text(&mut out, value);
            assert_eq!(out, value.to_string());
        }
    }

    #[test]
    fn dates_count_from_1900() {
        // ISO/IEC 29500-1, 18.17.4.1: 1900-01-01 is 1 with the leap-year slip kept, so 2000-01-01 is 36526.
        assert_eq!(date(Date::constant(2000, 1, 1)).to_bits(), 36_526.0_f64.to_bits());
    }
}
