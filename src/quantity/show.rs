//! A quantity as a person reads it: with its unit, lengths in feet and inches.

use super::dimension::Dimension;
use super::length::feet_inches;
use super::number::{Number, Rounding};
use super::unit::Unit;
use rust_decimal::Decimal;

/// How a value is to be shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Style {
    /// The unit to show it in, with its name; the trade's usual one when left out.
    pub unit: Option<(String, Unit)>,
    /// The step to show it to, in base units; for lengths 1/16 in. when left out.
    pub step: Option<Number>,
    /// Whether plain lengths are shown in mm and m instead of feet and inches.
    pub metric: bool,
    /// Whether the value is a percent.
    pub percent: bool,
}

/// A shown value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The text.
    pub text: String,
    /// Whether part of the value was left out of the text.
    pub rounded: bool,
}

/// The unit that a dimension is shown in when nothing else was asked, with its name; empty for plain numbers.
#[must_use]
pub fn usual_unit(dimension: Dimension, metric: bool) -> (String, Unit) {
    let name = match (dimension.length, dimension.force, dimension.time, dimension.money) {
        (0, 0, 0, 0) => "",
        (1, 0, 0, 0) => {
            if metric {
                "mm"
            } else {
                "ft"
            }
        }
        (2, 0, 0, 0) => {
            if metric {
                "sqm"
            } else {
                "sf"
            }
        }
        (3, 0, 0, 0) => {
            if metric {
                "L"
            } else {
                "cf"
            }
        }
        (4, 0, 0, 0) => "in^4",
        (-3, 1, 0, 0) => "pcf",
        (-1, 1, 0, 0) => "plf",
        (-2, 1, 0, 0) => {
            if metric {
                "kPa"
            } else {
                "psf"
            }
        }
        (-1, 0, 1, 0) => {
            if metric {
                "hr/m"
            } else {
                "hr/ft"
            }
        }
        (-2, 0, 1, 0) => {
            if metric {
                "hr/sqm"
            } else {
                "hr/sf"
            }
        }
        (-1, 0, 0, 1) => {
            if metric {
                "$/m"
            } else {
                "$/ft"
            }
        }
        (-2, 0, 0, 1) => {
            if metric {
                "$/sqm"
            } else {
                "$/sf"
            }
        }
        _ => &dimension.unit_text(),
    };
    let unit = if name.is_empty() { Unit::none() } else { Unit::read(name).unwrap_or_else(|_| Unit::kept(dimension)) };
    (name.to_owned(), unit)
}

/// Shows a value that is given in base units.
#[must_use]
pub fn show(value: &Number, dimension: Dimension, style: &Style) -> Shown {
    if style.percent {
        let Ok(hundred) = value.times(&100.into()) else { return too_large() };
        let digits = decimal_text(&hundred, 6);
        return Shown { text: format!("{}%", digits.text), rounded: digits.rounded };
    }
    if dimension == Dimension::MONEY && style.unit.is_none() {
        return money(value);
    }
    if dimension == Dimension::LENGTH && style.unit.is_none() && !style.metric {
        let denominator = style.step.as_ref().map_or(16, inch_denominator);
        return match feet_inches(value, denominator) {
            // sixteenths would say nothing true of a sheet's thickness
            Ok(p) if p.rounded && style.step.is_none() && is_thin(value) => {
                let inch = Unit::read("in").unwrap_or_else(|_| Unit::kept(dimension));
                let thin = Style { unit: Some(("in".to_owned(), inch)), ..style.clone() };
                show(value, dimension, &thin)
            }
            Ok(p) => Shown { text: p.text, rounded: p.rounded },
            Err(_) => too_large(),
        };
    }
    if dimension == Dimension::LENGTH
        && style.step.is_none()
        && style.unit.as_ref().is_some_and(|(name, _)| matches!(name.as_str(), "in" | "in." | "inches"))
        && let Some(text) = super::length::inches(value)
    {
        return Shown { text, rounded: false };
    }
    let (name, unit) = style.unit.clone().unwrap_or_else(|| match dimension {
        // a section modulus, or a dab of compound
        Dimension::VOLUME if !style.metric && is_small(value) => {
            ("in^3".to_owned(), Unit::read("in^3").unwrap_or_else(|_| Unit::kept(dimension)))
        }
        _ => usual_unit(dimension, style.metric),
    });
    let stepped = style.step.as_ref().and_then(|s| value.rounded(s, Rounding::Near).ok());
    let hidden = stepped.as_ref().is_some_and(|s| s != value);
    let Ok(in_unit) = stepped.as_ref().unwrap_or(value).scaled(unit.factor.recip()) else { return too_large() };
    let digits = decimal_text(&in_unit, places_of(&in_unit));
    let text = match name.as_str() {
        "" => digits.text,
        name if name.starts_with('$') => {
            let (sign, rest) = digits.text.strip_prefix('-').map_or(("", digits.text.as_str()), |rest| ("-", rest));
            // $2.50/hr, but $40/hr and $0.115/ft
            let dimes = if rest.find('.').is_some_and(|dot| rest.len() - dot == 2) { "0" } else { "" };
            format!("{sign}${rest}{dimes}{}", &name[1..])
        }
        name => format!("{} {name}", digits.text),
    };
    Shown { text, rounded: digits.rounded || hidden }
}

/// As [`show`], in a sentence: a spacing is spoken of in inches, 24" and not 2'-0", and so is a length that is no whole
/// sixteenth, which is 24.01 in and not 2'-0".
#[must_use]
pub fn spoken(value: &Number, dimension: Dimension, style: &Style) -> Shown {
    let short = dimension == Dimension::LENGTH && !style.metric && style.unit.is_none() && *value <= Number::from(610);
    let inches = if short { super::length::inches(value) } else { None };
    if let Some(text) = inches {
        return Shown { text, rounded: false };
    }
    let shown = show(value, dimension, style);
    if !shown.rounded || dimension != Dimension::LENGTH || style.metric || style.unit.is_some() || style.step.is_some()
    {
        return shown;
    }
    let inch = Unit::read("in").unwrap_or_else(|_| Unit::kept(dimension));
    show(value, dimension, &Style { unit: Some(("in".to_owned(), inch)), ..style.clone() })
}

/// How many decimals say a value: six, and more for a rate so small that six would say nothing true of it, to four digits.
fn places_of(value: &Number) -> u32 {
    const MOST: u32 = 15;
    let value = value.to_decimal().abs();
    let mut least = Decimal::new(1, 3);
    let mut places = 6;
    while places < MOST && !value.is_zero() && value < least {
        least /= Decimal::TEN;
        places += 1;
    }
    places
}

/// Whether a volume in cubic mm is something, and less than a hundredth of a cubic foot.
fn is_small(value: &Number) -> bool {
    let hundredth = Number::from_ints(3_539_605_824, 12_500);
    !value.is_zero() && hundredth.is_ok_and(|h| *value < h && *value > h.negated())
}

/// Whether a length in mm is below a quarter inch.
fn is_thin(value: &Number) -> bool {
    Number::from_ints(635, 100).is_ok_and(|quarter| *value < quarter && *value > quarter.negated())
}

/// Money: whole cents with two places, other amounts with every place they have, to six.
fn money(value: &Number) -> Shown {
    let digits = decimal_text(value, 6);
    let (sign, rest) = match digits.text.strip_prefix('-') {
        Some(rest) => ("-", rest.to_owned()),
        None => ("", digits.text.clone()),
    };
    let places = rest.find('.').map_or(0, |dot| rest.len() - dot - 1);
    let rest = match places {
        0 => rest + ".00",
        1 => rest + "0",
        _ => rest,
    };
    Shown { text: format!("{sign}${rest}"), rounded: digits.rounded }
}

/// A number with at most `places` decimals and commas between thousands.
#[must_use]
pub fn decimal_text(value: &Number, places: u32) -> Shown {
    let exact = value.exact_decimal().filter(|d| d.normalize().scale() <= places);
    let decimal = exact.unwrap_or_else(|| {
        value.to_decimal().round_dp_with_strategy(places, rust_decimal::RoundingStrategy::MidpointAwayFromZero)
    });
    Shown { text: with_commas(decimal.normalize()), rounded: exact.is_none() }
}

fn with_commas(value: Decimal) -> String {
    let plain = value.to_string();
    let (sign, digits) = plain.strip_prefix('-').map_or(("", plain.as_str()), |d| ("-", d));
    let (whole, part) = digits.split_once('.').map_or((digits, ""), |(w, p)| (w, p));
    let mut out = String::from(sign);
    for (i, c) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(c);
    }
    if !part.is_empty() {
        out.push('.');
        out += part;
    }
    out
}

/// The inch denominator of a step in mm such as 1/8 in.; 16 for any other step.
fn inch_denominator(step: &Number) -> i64 {
    let per_inch = Number::from(super::length::MM_PER_INCH).over(step);
    per_inch
        .ok()
        .filter(Number::is_whole)
        .and_then(|n| i64::try_from(n.to_decimal()).ok())
        .filter(|n| (1..=1024).contains(n))
        .unwrap_or(16)
}

fn too_large() -> Shown {
    Shown { text: "a number too large to print".to_owned(), rounded: true }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(value: &str, unit: &str) -> String {
        let unit = Unit::read(unit).unwrap();
        let value = Number::from(value.parse::<Decimal>().unwrap()).scaled(unit.factor).unwrap();
        show(&value, unit.dimension, &Style::default()).text
    }

    #[test]
    fn results_carry_their_unit() {
        for (value, unit, text) in [
            ("9", "ea", "9"),
            ("1234567.5", "ea", "1,234,567.5"),
            ("8.5", "ft", "8'-6\""),
            ("280", "sf", "280 sf"),
            ("0.805", "$", "$0.805"),
            ("4.8", "$", "$4.80"),
            ("-1200", "$", "-$1,200.00"),
            ("312", "$/MLF", "$0.312/ft"),
            ("0.011", "hr/ft", "0.011 hr/ft"),
            ("2.75", "psf", "2.75 psf"),
            ("0.0086", "in^4", "0.0086 in^4"),
            ("1.5", "hr", "1.5 hr"),
            ("2", "ft/ft", "2"),
            ("5", "lb/CLF", "0.05 plf"),
            ("2", "hr/CLF", "0.02 hr/ft"),
            ("560", "$/MSF", "$0.56/sf"),
            ("42.5", "$/hr", "$42.50/hr"),
            ("40", "$/hr", "$40/hr"),
            ("-2.5", "$/hr/ft", "-$2.50/hr/ft"),
            ("0.25", "1/ft", "0.25 ea/ft"),
            ("1", "1/hr", "1 ea/hr"),
            ("100", "sf/hr", "100 sf/hr"),
            ("2", "cf/hr", "2 cf/hr"),
            ("6", "lb·ft", "6 ftlb"),
            ("6", "hr·ft", "6 hr·ft"),
            ("3", "pcf", "3 pcf"),
            // 1/1,000 of 4 ten-thousandths of a dollar is not nothing
            ("0.0000004", "$/ft", "$0.0000004/ft"),
            ("0.016", "in^3", "0.016 in^3"),
            ("0", "cf", "0 cf"),
        ] {
            assert_eq!(shown(value, unit), text);
        }
        // a third of a millionth, to four digits
        let third = Number::from_ints(1, 3_000_000).unwrap();
        let bare = show(&third, Dimension::NONE, &Style::default());
        assert_eq!((bare.text.as_str(), bare.rounded), ("0.0000003333", true));
    }

    #[test]
    fn every_usual_unit_is_read_as_itself() {
        let four = || -2i8..=2;
        for (length, force) in (-4..=4i8).flat_map(|l| four().map(move |f| (l, f))) {
            for (time, money) in four().flat_map(|t| four().map(move |m| (t, m))) {
                let dimension = Dimension::of(length, force, time, money);
                let (name, unit) = usual_unit(dimension, false);
                if dimension != Dimension::NONE {
                    assert_eq!(Unit::read(&name), Ok(unit), "{name}");
                }
                assert_eq!(unit.dimension, dimension, "{name}");
                assert!(!name.contains(['*', '(']), "{name}");
            }
        }
    }
}
