//! What a price book says of labor beyond hours and wages: the height and difficulty that a rate is for, and overtime.

use super::{C_STRAIGHT, C_TIMES, C_WEEK, L_DIFFICULTY, L_HEIGHT, RowReader, cells, hour};
use crate::pricing::Overtime;
use crate::quantity::{Decimal, Number, Unit};
use std::sync::Arc;

/// Hours of a week that are paid once where the sheet does not say.
const STRAIGHT: i64 = 40;

/// The height in mm from which a rate serves, and its difficulty.
pub(super) fn read_working(r: &mut RowReader<'_, '_>) -> (Option<Number>, Option<Arc<str>>) {
    let difficulty = r.text(L_DIFFICULTY).map(|t| Arc::from(t.trim()));
    if r.text(L_HEIGHT).is_none() {
        return (None, difficulty);
    }
    let height = cells::length(r.cell(L_HEIGHT), r.sheet.heading_unit(L_HEIGHT)).filter(|mm| !mm.is_negative());
    if height.is_none() {
        let what = format!("Height from of {} is not a length.", r.code);
        r.flaw("unreadable length", L_HEIGHT, what, "a length such as 10' or 10'-6\", or a heading Height from (ft)");
    }
    (height.filter(|mm| !mm.is_zero()), difficulty)
}

/// The hours of a crew's week and how those beyond straight time are paid; nothing where all are straight time.
pub(super) fn read_overtime(r: &mut RowReader<'_, '_>) -> Option<Overtime> {
    let straight = hours(r, C_STRAIGHT, "Straight time")?.unwrap_or_else(|| STRAIGHT.into());
    let times = times(r)?;
    let worked = hours(r, C_WEEK, "Hours a week")??;
    if worked.is_zero() {
        let what = format!("Crew {} works no hours a week.", r.code);
        r.flaw("unreadable hours", C_WEEK, what, "hours such as 48, or nothing");
        return None;
    }
    (worked > straight).then_some(Overtime { worked, straight, times })
}

/// Hours of a cell, if it has any; nothing at all where they cannot be read.
fn hours(r: &mut RowReader<'_, '_>, column: usize, name: &str) -> Option<Option<Number>> {
    if r.text(column).is_none() {
        return Some(None);
    }
    let hourly = |unit: &str| unit.is_empty() || Unit::read(unit).is_ok_and(|u| u == hour());
    let amount = cells::amount(r.cell(column)).filter(|a| !a.percent && hourly(&a.unit));
    let found = amount.filter(|a| !a.value.is_sign_negative() && a.value <= Decimal::from(168));
    if found.is_none() {
        let what = format!("{name} of crew {} is not the hours of a week.", r.code);
        r.flaw("unreadable hours", column, what, "hours such as 48");
    }
    found.map(|a| Some(a.value.into()))
}

/// What an hour of overtime pays: `1.5`, `150%`, `time and a half`, `double time`.
fn times(r: &mut RowReader<'_, '_>) -> Option<Number> {
    let half = Number::from(Decimal::new(15, 1));
    let Some(text) = r.text(C_TIMES) else { return Some(half) };
    let words: Vec<String> = text.to_lowercase().split(|c: char| !c.is_alphanumeric()).map(str::to_owned).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).filter(|w| !w.is_empty()).collect();
    let found = match words.as_slice() {
        ["time", "and", "a", "half"] => Some(half),
        ["double"] | ["double", "time"] => Some(2.into()),
        _ => cells::amount(r.cell(C_TIMES)).filter(|a| a.unit.is_empty() || a.unit == "x").and_then(|a| {
            let value = Number::from(a.value);
            if a.percent { value.over(&100.into()).ok() } else { Some(value) }
        }),
    };
    let found = found.filter(|n| *n >= Number::ONE && *n <= 5.into());
    if found.is_none() {
        let what = format!("Overtime of crew {} is not what an hour of it pays.", r.code);
        r.flaw("unreadable overtime", C_TIMES, what, "1.5 for time and a half, or 150%");
    }
    found
}
