//! An estimator's own figures: typed beside a line of an earlier priced workbook, they win over ours and are carried
//! over when that workbook is priced again.

use super::priced::{Finding, Line, Priced};
use crate::engine::input::fold;
use crate::engine::{Inputs, Run, names};
use crate::problem::Problem;
use crate::program::{LineKind, Schema};
use crate::quantity::show::decimal_text;
use crate::quantity::{Number, NumberError};
use crate::source::CellPlace;
use rustc_hash::{FxHashMap, FxHashSet};
use std::sync::Arc;

/// What an estimator typed beside a line.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Own {
    /// Own quantity, in the line's unit.
    pub quantity: Option<Number>,
    /// Own dollars for one unit.
    pub unit_cost: Option<Number>,
    /// Own note.
    pub note: Option<Arc<str>>,
}

/// An entry as it stands in the earlier workbook.
#[derive(Clone, Debug)]
pub struct OwnEntry {
    /// The room, as its line names it.
    pub room: String,
    /// The item or work, by its label.
    pub item: String,
    /// Its code.
    pub code: String,
    /// Its unit, in which a quantity was typed.
    pub unit: String,
    /// Which of the lines alike it is, from 0: in the order of their rows where they stand for rows of the room.
    pub nth: u32,
    /// The row of the room that the line stands for, as Lines names it; nothing for the room itself.
    pub part: Option<String>,
    /// How many lines alike the earlier workbook had; nothing where that is not known.
    pub alike: Option<u32>,
    /// What the line needed then.
    pub need: Option<Number>,
    /// What was typed.
    pub own: Own,
    /// Where.
    pub place: CellPlace,
}

/// What stands for the room in the job's own lines.
pub const WHOLE_JOB: &str = "Whole job";

/// The kind of problem for an entry whose line is gone.
pub const LINE_GONE: &str = "own figure without its line";

type Key = (String, String, String);

/// Puts entries beside the lines that they belong to, and reckons those lines by them.
///
/// An entry whose line is gone, or whose unit is another now, becomes a warning that says what was typed; it is
/// never dropped in silence. Call it before lines are added up.
pub fn carry_over(schema: &Schema, run: &Run, inputs: &Inputs, priced: &mut Priced, entries: &[OwnEntry]) {
    if entries.is_empty() {
        return;
    }
    let wanted: FxHashSet<Key> = entries.iter().map(entry_key).collect();
    let mut alike: FxHashMap<Key, Vec<usize>> = FxHashMap::default();
    for (at, line) in priced.lines.iter().enumerate() {
        let Some(key) = key(schema, run, inputs, line).filter(|key| wanted.contains(key)) else { continue };
        alike.entry(key).or_default().push(at);
    }
    let mut used = vec![false; entries.len()];
    let mut findings = Vec::new();
    for (i, entry) in entries.iter().enumerate() {
        let Some(of_key) = alike.get(&entry_key(entry)) else { continue };
        let lines: Vec<&Line> = of_key.iter().map(|at| &priced.lines[*at]).collect();
        let Some(nth) = its_line(schema, run, inputs, &lines, entry) else { continue };
        let line = &mut priced.lines[of_key[nth]];
        // a line has one row on the sheet: a copy of it that bears figures too is left, and said
        if line.own.is_some() || entry.own.quantity.is_some() && fold(&entry.unit) != fold(&line.unit) {
            continue;
        }
        used[i] = true;
        if reckon(line, &entry.own).is_err() {
            let what =
                format!("The own figures for {} in room {} are too large to reckon with.", entry.item, entry.room);
            findings.push(finding(Problem::stop("number too large", what).at_cell(entry.place.clone()), line));
        }
    }
    for (at, entry) in (0u32..).zip(entries).zip(&used).filter(|(_, used)| !**used).map(|(pair, _)| pair) {
        priced.own_left.push(at);
        findings.push(Finding {
            problem: left_over(entry),
            name: "own figure".to_owned(),
            row: None,
            row_name: Some(entry.room.as_str().into()),
        });
    }
    priced.findings.extend(findings);
    priced.findings.sort_by_key(|f| std::cmp::Reverse(f.problem.weight));
}

/// What a line is known by.
fn key(schema: &Schema, run: &Run, inputs: &Inputs, line: &Line) -> Option<Key> {
    let item = schema.items.get(line.item as usize)?;
    Some((fold(&line_room(schema, run, inputs, line)), fold(&item.label), fold(&line.code)))
}

/// The line that an entry belongs to.
#[must_use]
pub fn line_of<'l>(
    schema: &Schema,
    run: &Run,
    inputs: &Inputs,
    priced: &'l Priced,
    entry: &OwnEntry,
) -> Option<&'l Line> {
    let wanted = Some(entry_key(entry));
    let alike: Vec<&Line> = priced.lines.iter().filter(|line| key(schema, run, inputs, line) == wanted).collect();
    its_line(schema, run, inputs, &alike, entry).map(|nth| alike[nth])
}

fn entry_key(entry: &OwnEntry) -> Key {
    (fold(&entry.room), fold(&entry.item), fold(&entry.code))
}

/// Which of the lines alike an entry belongs to.
///
/// A row of the room with a key is known by it. One without is named by its place on the sheet, which moves when rows are
/// put in above: as long as there are as many as before, their order tells them apart. Where there are more or fewer, the
/// place serves if the line there needs what it needed; else nobody knows, and none is taken.
fn its_line(schema: &Schema, run: &Run, inputs: &Inputs, alike: &[&Line], entry: &OwnEntry) -> Option<usize> {
    let nth = usize::try_from(entry.nth).ok().filter(|nth| *nth < alike.len());
    let Some(part) = &entry.part else { return nth };
    let is_there = |line: &&Line| line_part(schema, run, inputs, line).is_some_and(|p| fold(&p) == fold(part));
    let there = alike.iter().position(is_there);
    if sheet_row(part).is_none() {
        return there;
    }
    if entry.alike.is_none_or(|before| usize::try_from(before) == Ok(alike.len())) {
        return nth;
    }
    // as exact as a cell holds it
    let plain = |n: &Number| n.to_decimal().round_dp(6);
    there.filter(|at| entry.need.as_ref().is_some_and(|need| plain(need) == plain(&alike[*at].need)))
}

/// The row of the room that a line stands for, by its kind and key, or its place on its sheet; nothing for the room itself.
#[must_use]
pub fn line_part(schema: &Schema, run: &Run, inputs: &Inputs, line: &Line) -> Option<String> {
    if line.room.is_none() || Some(line.of.0) == schema.root_kind() {
        return None;
    }
    let row = names::row(schema, run, inputs, line.of.0, line.of.1 as usize);
    Some(format!("{} {row}", schema.kind(line.of.0).name))
}

/// The row of the sheet by which a part without a key is named: `openings row 5`.
#[must_use]
pub fn sheet_row(part: &str) -> Option<u32> {
    part.rsplit_once(" row ").and_then(|(_, row)| row.parse().ok())
}

fn finding(problem: Problem, line: &Line) -> Finding {
    Finding { problem, name: "own figure".to_owned(), row: Some(line.of), row_name: None }
}

/// The line's quantity, cost and hours by what the estimator typed.
fn reckon(line: &mut Line, own: &Own) -> Result<(), NumberError> {
    let quantity = own.quantity.unwrap_or(line.quantity);
    if let (Some(hours), true) = (&line.hours, own.quantity.is_some() && !line.quantity.is_zero()) {
        line.hours = Some(hours.times(&quantity)?.over(&line.quantity)?);
    }
    let cost = own.unit_cost.or(line.unit_cost);
    line.cost = match cost {
        Some(each) => Some(quantity.times(&each)?.cents()?),
        None => line.cost,
    };
    line.own = Some(Box::new(own.clone()));
    Ok(())
}

fn left_over(entry: &OwnEntry) -> Problem {
    let mut typed = Vec::new();
    if let Some(n) = &entry.own.quantity {
        typed.push(format!("quantity {} {}", decimal_text(n, 4).text, entry.unit));
    }
    if let Some(n) = &entry.own.unit_cost {
        typed.push(format!("unit cost ${}", decimal_text(n, 4).text));
    }
    if let Some(note) = &entry.own.note {
        typed.push(format!("note \"{note}\""));
    }
    let what = format!(
        "What was typed by hand for {} ({}) in room {} has no line in that unit any more: {}.",
        entry.item,
        entry.code,
        entry.room,
        typed.join(", ")
    );
    Problem::warning(LINE_GONE, what)
        .at_cell(entry.place.clone())
        .fix("type it beside the line that takes its place, if it still holds")
}

/// The room that a line names: its root row's key, or that row's place on its sheet.
#[must_use]
pub fn line_room(schema: &Schema, run: &Run, inputs: &Inputs, line: &Line) -> Arc<str> {
    let Some(room) = line.room else { return WHOLE_JOB.into() };
    let mut kind = line.of.0;
    while let Some(parent) = &schema.kind(kind).parent {
        kind = parent.kind;
    }
    names::row(schema, run, inputs, kind, room as usize)
}

/// The quantity of a material line that was typed by hand, which the order then follows.
#[must_use]
pub fn own_quantity(line: &Line) -> Option<Number> {
    if line.kind == LineKind::Labor { None } else { line.own.as_ref().and_then(|o| o.quantity) }
}
