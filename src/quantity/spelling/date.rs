//! Dates, and yes or no.

use super::{SpellingError, prepared};
use crate::quantity::Date;

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];

/// Reads a date: `2026-11-25`, `11/25/2026` in American order, `Nov 25, 2026`, `25 November 2026`.
///
/// # Errors
/// Why it is no date.
pub fn read_date(text: &str) -> Result<Date, SpellingError> {
    let plain = prepared(text)?.to_lowercase();
    let plain = without_midnight(&plain);
    let parts: Vec<&str> = plain.split([' ', ',', '/', '-', '.']).filter(|p| !p.is_empty()).collect();
    let [a, b, c] = parts[..] else { return Err(not_a_date(text)) };
    if let Some(month) = month_named(a) {
        return made(text, c, month, b);
    }
    if let Some(month) = month_named(b) {
        return if a.len() == 4 { made(text, a, month, c) } else { made(text, c, month, a) };
    }
    let number = |s: &str| s.parse::<i8>().ok().filter(|_| s.bytes().all(|b| b.is_ascii_digit()));
    if a.len() == 4 {
        return made(text, a, number(b).ok_or_else(|| not_a_date(text))?, c);
    }
    let month = number(a).ok_or_else(|| not_a_date(text))?;
    if month > 12 && number(b).is_some_and(|d| d <= 12) {
        return Err(
            SpellingError::new("it has no such month; dates are read month first").fix(format!("write {b}/{a}/{c}"))
        );
    }
    made(text, c, month, b)
}

/// A time of midnight after the date, which a spreadsheet adds when it exports one, says nothing.
fn without_midnight(text: &str) -> &str {
    ["t00:00:00.000", "t00:00:00z", "t00:00:00", " 00:00:00", " 0:00", " 00:00"]
        .iter()
        .find_map(|end| text.strip_suffix(end))
        .unwrap_or(text)
}

fn month_named(word: &str) -> Option<i8> {
    let at = MONTHS
        .iter()
        .position(|m| word.len() >= 3 && (m.starts_with(word) || (word == "sept" && m.starts_with("sep"))))?;
    i8::try_from(at + 1).ok()
}

fn made(text: &str, year: &str, month: i8, day: &str) -> Result<Date, SpellingError> {
    let day = day.trim_end_matches(|c: char| c.is_ascii_alphabetic());
    let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if !digits(year) || !digits(day) {
        return Err(not_a_date(text));
    }
    let (Ok(mut y), Ok(d)) = (year.parse::<i16>(), day.parse::<i8>()) else { return Err(not_a_date(text)) };
    match year.len() {
        2 => y += 2000,
        4 => {}
        _ => return Err(not_a_date(text)),
    }
    Date::new(y, month, d).map_err(|_| SpellingError::new("there is no such day in the calendar"))
}

fn not_a_date(text: &str) -> SpellingError {
    SpellingError::new(format!("‘{}’ is not a date", text.trim())).fix("write it as 2026-11-25 or 11/25/2026")
}

/// Reads yes or no: `yes no y n true false x 1 0`, in any case.
///
/// # Errors
/// That it is neither.
pub fn read_yes_no(text: &str) -> Result<bool, SpellingError> {
    match prepared(text)?.to_lowercase().as_str() {
        "yes" | "y" | "true" | "t" | "x" | "1" | "✓" | "✔" => Ok(true),
        "no" | "n" | "false" | "f" | "0" | "-" => Ok(false),
        _ => Err(SpellingError::new(format!("‘{}’ is neither yes nor no", text.trim())).fix("write yes or no")),
    }
}
