//! One cell of a price book: numbers, money, percents, lengths, dates, as people type them.

use crate::quantity::{Date, Decimal, Number, Unit};
use crate::workbook::grid::Cell;

/// A cell as a message shows it.
pub(super) fn as_typed(cell: &Cell) -> String {
    match cell {
        Cell::Empty => String::new(),
        Cell::Number(n) => n.to_string(),
        Cell::Text(t) | Cell::Error(t) => t.to_string(),
        Cell::YesNo(y) => if *y { "TRUE" } else { "FALSE" }.to_owned(),
        Cell::Date(n) => serial_date(&n.to_string()).map_or_else(|| n.to_string(), |d| d.to_string()),
    }
}

/// A cell as a text, without spaces at the ends and with line breaks made spaces; `None` when nothing stands in it.
/// A number is read as written.
pub(super) fn text(cell: &Cell) -> Option<String> {
    let text = as_typed(cell);
    let clean = text.split_whitespace().collect::<Vec<_>>().join(" ");
    (!clean.is_empty()).then_some(clean)
}

/// A number with what was written around it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Amount {
    pub value: Decimal,
    /// Whether a percent sign followed.
    pub percent: bool,
    /// Whether it was typed as a text.
    pub typed: bool,
    /// The unit that followed, after `/` or `per` too: `MLF` of `$312/MLF`, `ft` of `500 ft`.
    pub unit: String,
}

/// Reads a number, `$4.85`, `1,250.00`, `$312/MLF`, `35%`, `500 ft`; `None` for anything else.
pub(super) fn amount(cell: &Cell) -> Option<Amount> {
    match cell {
        // the shortest decimal text of a stored number is what the person typed
        Cell::Number(n) => {
            let value = Decimal::from_str_exact(&n.to_string()).ok()?;
            Some(Amount { value, percent: false, typed: false, unit: String::new() })
        }
        Cell::Text(t) => amount_text(t),
        _ => None,
    }
}

/// [`amount`] of a text.
pub(super) fn amount_text(text: &str) -> Option<Amount> {
    let text = text.trim().trim_start_matches('\'').trim();
    let (negative, text) = match text.strip_prefix('(').and_then(|t| t.strip_suffix(')')) {
        Some(inner) => (true, inner.trim()),
        None => (false, text),
    };
    let (minus, text) = sign(text);
    let text = text.strip_prefix('$').unwrap_or(text).trim_start();
    let (minus_after, text) = sign(text);
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(text.len());
    let mut value = digits(text.get(..end)?)?;
    if negative ^ minus ^ minus_after {
        value = -value;
    }
    let mut rest = text.get(end..)?.trim();
    // 55 cents
    if let Some(after) = ["\u{a2}", "cents", "cent"].iter().find_map(|c| rest.strip_prefix(c)) {
        value = value.checked_div(Decimal::from(100))?;
        rest = after.trim_start();
    }
    let percent = rest.starts_with('%');
    rest = rest.strip_prefix('%').unwrap_or(rest).trim_start();
    rest = rest.strip_prefix('$').unwrap_or(rest).trim_start();
    let unit = rest.strip_prefix('/').or_else(|| rest.strip_prefix("per ")).unwrap_or(rest).trim();
    Some(Amount { value, percent, typed: true, unit: unit.to_owned() })
}

/// What a list says where a price is to be asked for.
const ON_CALL: &[&str] = &[
    "call",
    "call for price",
    "call for pricing",
    "call for quote",
    "call us",
    "please call",
    "ask",
    "on request",
    "price on request",
    "upon request",
    "quote",
    "to be quoted",
    "market",
    "market price",
    "tbd",
    "tba",
    "poa",
    "cfp",
    "n/a",
    "na",
    "-",
    "--",
    "\u{2013}",
    "\u{2014}",
];

/// Whether a cost cell says that there is no price without asking.
pub(super) fn on_call(cell: &Cell) -> bool {
    let Cell::Text(text) = cell else { return false };
    let words = text.to_lowercase().replace('.', "");
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    ON_CALL.contains(&words.trim_end_matches(['!', ':', '*']))
}

fn sign(text: &str) -> (bool, &str) {
    match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    }
}

/// Digits with commas between thousands only.
fn digits(text: &str) -> Option<Decimal> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    if part.contains([',', '.']) || (whole.is_empty() && part.is_empty()) {
        return None;
    }
    let mut groups = whole.split(',');
    let first = groups.next()?;
    let rest: Vec<&str> = groups.collect();
    if !rest.is_empty() && ((first.is_empty() || first.len() > 3) || rest.iter().any(|g| g.len() != 3)) {
        return None;
    }
    let whole: String = whole.chars().filter(|c| *c != ',').collect();
    Decimal::from_str_exact(&format!("0{whole}.{part}0")).ok().map(|d| d.normalize())
}

/// A fraction from a percent cell. A text says `%`; a stored number below 1 is the fraction that a cell shown as
/// percent holds; from 1 up it is a percent only where the heading says so.
pub(super) fn fraction(cell: &Cell, heading_percent: bool) -> Option<Number> {
    let amount = amount(cell)?;
    if !amount.unit.is_empty() {
        return None;
    }
    let hundredth = |d: Decimal| Number::from(d).over(&100.into()).ok();
    let below_one = amount.value.abs() < Decimal::ONE;
    match (amount.percent, heading_percent) {
        (true, _) => hundredth(amount.value),
        (false, true) if amount.typed || !below_one => hundredth(amount.value),
        (false, _) if below_one => Some(amount.value.into()),
        _ => None,
    }
}

/// Reads a length in mm: `12'`, `12'-6"`, `10'-3 1/2"`, `144"`, `12 ft`, `3.6 m`; a bare number in the heading's
/// unit, where there is one.
pub(super) fn length(cell: &Cell, heading: Option<Unit>) -> Option<Number> {
    match cell {
        Cell::Number(_) => Number::from(amount(cell)?.value).scaled(heading?.factor).ok(),
        Cell::Text(t) => length_text(t, heading),
        _ => None,
    }
}

fn length_text(text: &str, heading: Option<Unit>) -> Option<Number> {
    let text: String = text
        .chars()
        .map(|c| match c {
            '\u{2018}' | '\u{2019}' | '\u{2032}' => '\'',
            '\u{201c}' | '\u{201d}' | '\u{2033}' => '"',
            '\u{a0}' => ' ',
            c => c,
        })
        .collect::<String>()
        .replace("''", "\"");
    let mut rest = text.trim();
    let mut total = Number::ZERO;
    let mut last: Option<Unit> = None;
    while !rest.is_empty() {
        let (value, after) = mixed_number(rest)?;
        let after = after.trim_start();
        let end = after.find(|c: char| c.is_ascii_digit() || c == '-' || c.is_whitespace()).unwrap_or(after.len());
        let name = after.get(..end)?;
        let unit = match name {
            "'" => Unit::named("ft")?,
            "\"" => Unit::named("in")?,
            // a bare number stands alone
            "" if last.is_none() && after.is_empty() => heading?,
            name => Unit::read(name).or_else(|_| Unit::read(&name.to_lowercase())).ok()?,
        };
        if unit.dimension != crate::quantity::Dimension::LENGTH || last.is_some_and(|l| l.factor <= unit.factor) {
            return None;
        }
        total = total.plus(&value.scaled(unit.factor).ok()?).ok()?;
        last = Some(unit);
        let after = after.get(end..)?.trim_start();
        rest = after.strip_prefix('-').unwrap_or(after).trim_start();
    }
    last.map(|_| total)
}

/// `12`, `3.5`, `1/2`, `3 1/2`, `3-1/2`, and what follows.
fn mixed_number(text: &str) -> Option<(Number, &str)> {
    let number = |t: &'_ str| -> Option<(Decimal, usize)> {
        let end = t.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(t.len());
        Some((digits(t.get(..end)?)?, end))
    };
    let (first, end) = number(text)?;
    let after = text.get(end..)?;
    if let Some(below) = after.strip_prefix('/') {
        let (den, used) = number(below)?;
        return Some((Number::quotient(first, den).ok()?, below.get(used..)?));
    }
    let fraction = after.trim_start().strip_prefix('-').unwrap_or(after.trim_start()).trim_start();
    if let Some((num, used)) = number(fraction)
        && let Some(below) = fraction.get(used..)?.strip_prefix('/')
    {
        let (den, used) = number(below)?;
        let whole = Number::from(first).plus(&Number::quotient(num, den).ok()?).ok()?;
        return Some((whole, below.get(used..)?));
    }
    Some((first.into(), after))
}

/// Ways in which a date is typed.
const DATE_FORMS: &[&str] =
    &["%Y-%m-%d", "%m/%d/%Y", "%m/%d/%y", "%m-%d-%Y", "%B %d, %Y", "%b %d, %Y", "%d %B %Y", "%d %b %Y", "%Y/%m/%d"];

/// Days from 1899-12-30 that are dates of this century: a date cell that lost its number format.
const CENTURY: std::ops::Range<i64> = 36_526..73_051;

/// Reads a date: a date cell, its serial number, or a text.
pub(super) fn date(cell: &Cell) -> Option<Date> {
    match cell {
        Cell::Date(n) => serial_date(&n.to_string()),
        Cell::Number(n) => {
            let text = n.to_string();
            let day = text.parse::<i64>().ok().filter(|d| CENTURY.contains(d))?;
            serial_date(&day.to_string())
        }
        Cell::Text(t) => {
            let text = t.split_whitespace().collect::<Vec<_>>().join(" ");
            // a year of two digits is read by its own form
            let full = |d: &Date| (1900..2200).contains(&d.year());
            DATE_FORMS.iter().find_map(|form| Date::strptime(form, &text).ok().filter(full))
        }
        _ => None,
    }
}

/// The day of a serial number counted as ISO/IEC 29500 does; its time of day is left out.
fn serial_date(serial: &str) -> Option<Date> {
    let days = serial.split('.').next()?.parse::<i64>().ok()?;
    // day 60 is a 29 February 1900 that never was
    let days = if days < 61 { days + 1 } else { days };
    let span = jiff::Span::new().try_days(days).ok()?;
    jiff::civil::date(1899, 12, 30).checked_add(span).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn t(text: &str) -> Cell {
        Cell::Text(text.into())
    }

    #[test]
    fn numbers_as_people_type_them() {
        for (typed, value, unit) in [
            ("$4.85", "4.85", ""),
            (" 1,250.00 ", "1250", ""),
            ("$312/MLF", "312", "MLF"),
            ("$ 312 per MLF", "312", "MLF"),
            ("312 $/MLF", "312", "MLF"),
            ("500 ft", "500", "ft"),
            ("-$4", "-4", ""),
            ("($4.00)", "-4", ""),
            (".5", "0.5", ""),
            ("$4.", "4", ""),
            ("55\u{a2}/ft", "0.55", "ft"),
            ("55 cents per ft", "0.55", "ft"),
        ] {
            let read = amount(&t(typed)).unwrap_or_else(|| panic!("{typed}"));
            assert_eq!((read.value, read.unit.as_str()), (value.parse().unwrap(), unit), "{typed}");
        }
        for typed in ["call for price", "4,85", "1.2.3", "", "$", "12,34,567", ","] {
            assert_eq!(amount(&t(typed)), None, "{typed}");
        }
        assert_eq!(amount(&Cell::Number(4.85)).unwrap().value, "4.85".parse().unwrap());
        assert_eq!(amount(&Cell::Number(f64::NAN)), None);
        assert_eq!(amount(&Cell::Number(1e300)), None);
    }

    #[test]
    fn percents() {
        let is = |cell: Cell, heading, text: &str| {
            assert_eq!(fraction(&cell, heading), Some(text.parse::<Decimal>().unwrap().into()), "{cell:?}");
        };
        is(t("35%"), false, "0.35");
        is(Cell::Number(0.35), false, "0.35");
        is(Cell::Number(0.35), true, "0.35");
        is(Cell::Number(35.0), true, "0.35");
        is(t("0.5"), true, "0.005");
        assert_eq!(fraction(&Cell::Number(35.0), false), None);
    }

    #[test]
    fn lengths_in_mm() {
        // 1 ft = 304.8 mm, 1 in. = 25.4 mm, exact
        for (typed, mm) in [
            ("12'", "3657.6"),
            ("12'-6\"", "3810"),
            ("10'-3 1/2\"", "3136.9"),
            ("10' 3-1/2\"", "3136.9"),
            ("144\"", "3657.6"),
            ("12 ft", "3657.6"),
            ("12 FT 6 IN", "3810"),
            ("3.6 m", "3600"),
            ("12\u{2019}", "3657.6"),
        ] {
            assert_eq!(length(&t(typed), None), Some(mm.parse::<Decimal>().unwrap().into()), "{typed}");
        }
        assert_eq!(length(&Cell::Number(12.0), None), None);
        assert_eq!(length(&Cell::Number(12.0), Unit::named("ft")), Some("3657.6".parse::<Decimal>().unwrap().into()));
        for typed in ["twelve", "6\" 12'", "12 sf", "12' 6", "", "1/0\""] {
            assert_eq!(length(&t(typed), None), None, "{typed}");
        }
    }

    #[test]
    fn dates() {
        let day = jiff::civil::date(2026, 3, 1);
        for typed in ["2026-03-01", "3/1/2026", "03/01/26", "March 1, 2026", "1 Mar 2026"] {
            assert_eq!(date(&t(typed)), Some(day), "{typed}");
        }
        // 2026-03-01 is day 46082: 126 years and 31 leap days of 366 before, counted from 1899-12-30
        assert_eq!(date(&Cell::Date(46082.0)), Some(day));
        assert_eq!(date(&Cell::Date(46082.75)), Some(day));
        assert_eq!(date(&Cell::Number(46082.0)), Some(day));
        assert_eq!(date(&Cell::Number(12.0)), None);
        assert_eq!(date(&t("spring")), None);
        assert_eq!(date(&Cell::Date(1.0)), Some(jiff::civil::date(1900, 1, 1)));
    }
}
