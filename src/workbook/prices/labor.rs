//! Sheets *Labor* and *Crews*: hours for a unit, the height and difficulty that they are for, wages, burden, overtime.

use super::sheet::{Names, Sheet};
use super::{RowReader, cells, code_of};
use crate::engine::input::fold;
use crate::pricing::{Crew, Flaw, LaborRate, LaborRow, Overtime};
use crate::problem::Problem;
use crate::problem::nearest::nearest;
use crate::quantity::{Decimal, Dimension, Number, Unit};
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// Columns of sheet *Labor*.
pub(super) const LABOR_COLUMNS: &[Names] = &[
    &["code", "labor code", "work code"],
    &["work", "description", "task", "item"],
    &["hours per unit", "hours unit", "hours", "hours each", "rate", "hr per unit", "hr unit"],
    &["unit", "per", "uom"],
    &["crew"],
    &["from", "valid from", "in force from"],
    &["through", "valid through", "in force through", "until"],
    &["height from", "from height", "ceiling height from", "working height from", "height"],
    &["difficulty"],
];
const L_CODE: usize = 0;
const L_WORK: usize = 1;
const L_HOURS: usize = 2;
const L_UNIT: usize = 3;
const L_CREW: usize = 4;
const L_FROM: usize = 5;
const L_THROUGH: usize = 6;
const L_HEIGHT: usize = 7;
const L_DIFFICULTY: usize = 8;

/// Columns of sheet *Crews*.
pub(super) const CREW_COLUMNS: &[Names] = &[
    &["crew", "crew name"],
    &["wage", "wage per hour", "hourly wage", "rate", "hr"],
    &["burden", "labor burden"],
    &["hours a week", "hours per week", "hours worked", "hours worked a week"],
    &["straight time", "straight hours", "straight time hours"],
    &["overtime", "overtime at", "overtime pays", "overtime times"],
];
const C_CREW: usize = 0;
const C_WAGE: usize = 1;
const C_BURDEN: usize = 2;
const C_WEEK: usize = 3;
const C_STRAIGHT: usize = 4;
const C_TIMES: usize = 5;

/// Hours of a week that are paid once where the sheet does not say.
const STRAIGHT: i64 = 40;

/// The height in mm from which a rate serves, and its difficulty.
fn read_working(r: &mut RowReader<'_, '_>) -> (Option<Number>, Option<Arc<str>>) {
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
fn read_overtime(r: &mut RowReader<'_, '_>) -> Option<Overtime> {
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

/// Sheet *Crews*.
pub(super) fn read_crews(sheet: &Sheet<'_>, problems: &mut Vec<Problem>) -> Vec<Crew> {
    let mut out: Vec<Crew> = Vec::new();
    let mut seen: FxHashMap<String, usize> = FxHashMap::default();
    for row in sheet.rows(CREW_COLUMNS) {
        let Some(name) = code_of(sheet, row, C_CREW, C_WAGE, problems) else { continue };
        let mut r = RowReader { sheet, row, code: Arc::clone(&name), flaw: None, on_call: false, problems };
        let hourly = |unit: &str| unit.is_empty() || Unit::read(unit).is_ok_and(|u| u == hour());
        let wage = cells::amount(r.cell(C_WAGE)).filter(|a| !a.percent && hourly(&a.unit));
        let wage = wage.filter(|a| !a.value.is_sign_negative() && !a.value.is_zero());
        if wage.is_none() {
            let what = match r.text(C_WAGE) {
                None => format!("Crew {name} has no wage."),
                Some(_) => format!("The wage of crew {name} is not dollars for an hour."),
            };
            r.flaw("no wage", C_WAGE, what, "dollars for an hour, such as 38.50");
        }
        let burden = if sheet.has(C_BURDEN) {
            let burden = cells::fraction(r.cell(C_BURDEN), sheet.heading_percent(C_BURDEN));
            burden.filter(|b| !b.is_negative())
        } else {
            Some(Number::ZERO)
        };
        if burden.is_none() {
            let what = format!("The burden of crew {name} is not a percent.");
            r.flaw("no burden", C_BURDEN, what, "a percent of the wage such as 35%; 0% where the wage includes it");
        }
        if let Some(first) = seen.get(&fold(&name)).copied() {
            let what = format!("Crew {name} stands here twice.");
            r.flaw("crew stated twice", C_CREW, what.clone(), "one row for each crew");
            let place = sheet.place(row, C_CREW);
            if let Some(first) = out.get_mut(first) {
                first.flaw.get_or_insert(Flaw { what, place });
            }
        } else {
            seen.insert(fold(&name), out.len());
        }
        let wage = wage.map_or(Number::ZERO, |a| a.value.into());
        let burden = burden.unwrap_or(Number::ZERO);
        let overtime = read_overtime(&mut r);
        out.push(Crew { name, wage, burden, overtime, flaw: r.flaw, place: sheet.place(row, C_WAGE) });
    }
    out
}

fn hour() -> Unit {
    Unit { dimension: Dimension::TIME, factor: crate::quantity::Ratio::from(1) }
}

/// Sheet *Labor*.
pub(super) fn read_labor(sheet: &Sheet<'_>, crews: &[Crew], problems: &mut Vec<Problem>) -> Vec<LaborRow> {
    let mut by_name: FxHashMap<String, u32> = FxHashMap::default();
    for (i, crew) in crews.iter().enumerate() {
        by_name.entry(fold(&crew.name)).or_insert(u32::try_from(i).unwrap_or(u32::MAX));
    }
    let mut out = Vec::new();
    for row in sheet.rows(LABOR_COLUMNS) {
        let Some(code) = code_of(sheet, row, L_CODE, L_HOURS, problems) else { continue };
        let mut r = RowReader { sheet, row, code: Arc::clone(&code), flaw: None, on_call: false, problems };
        let rate = read_rate(&mut r);
        let crew = match r.text(L_CREW) {
            None => {
                r.flaw("no crew", L_CREW, format!("{code} has no crew."), "the name of a crew on sheet Crews");
                None
            }
            Some(name) => {
                let crew = by_name.get(&fold(&name)).copied();
                if crew.is_none() {
                    let near = nearest(&name, crews.iter().map(|c| &*c.name));
                    let fix = near.map_or_else(
                        || "add the crew to sheet Crews, with its wage".to_owned(),
                        |n| format!("the nearest crew is {n}"),
                    );
                    let what = format!("{code} is done by crew {name}, which sheet Crews does not have.");
                    r.flaw("unknown crew", L_CREW, what, &fix);
                }
                crew
            }
        };
        let (from, through) = r.days(L_FROM, L_THROUGH);
        let (height, difficulty) = read_working(&mut r);
        let work = r.text(L_WORK).unwrap_or_else(|| "".into());
        let place = sheet.place(row, L_HOURS);
        out.push(LaborRow { code, work, rate, height, difficulty, crew, from, through, flaw: r.flaw, place });
    }
    out
}

/// Hours for a unit; none where the cell is blank and the rule is to say.
fn read_rate(r: &mut RowReader<'_, '_>) -> Option<LaborRate> {
    r.text(L_HOURS)?;
    let amount = cells::amount(r.cell(L_HOURS)).filter(|a| !a.percent && !a.value.is_sign_negative());
    let Some(amount) = amount else {
        let what = format!("Hours of {} are not a number of 0 or more.", r.code);
        r.flaw("unreadable hours", L_HOURS, what, "hours for one unit, such as 0.011");
        return None;
    };
    // 0.011 hr/ft says its unit itself
    let own = amount.unit.split_once('/').map(|(hr, per)| (hr.trim().to_owned(), per.trim().to_owned()));
    let hours_text = own.as_ref().map_or(amount.unit.as_str(), |(hr, _)| hr.as_str());
    if !hours_text.is_empty() && !Unit::read(hours_text).is_ok_and(|u| u == hour()) {
        let what = format!("Hours of {} are stated in {}.", r.code, amount.unit);
        r.flaw("unreadable hours", L_HOURS, what, "hours for one unit, such as 0.011 or 0.011 hr/ft");
        return None;
    }
    let per = own.map(|(_, per)| Arc::from(per.as_str())).or_else(|| r.text(L_UNIT));
    let Some(per) = per else {
        let what = format!("Hours of {} do not say for one of what.", r.code);
        r.flaw("no unit of work", L_UNIT, what, "a unit such as ft, sf or ea");
        return None;
    };
    let per = r.unit(L_UNIT, &per, "has hours for each")?;
    if per.unit.is_none() {
        let what = format!("Hours of {} are for each {}, and nobody says what one holds.", r.code, per.name);
        r.flaw("no unit of work", L_UNIT, what, "a unit such as ft, sf or ea");
        return None;
    }
    Some(LaborRate { hours: amount.value.into(), per })
}
