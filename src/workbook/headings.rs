//! Finds the heading row of a sheet and says which column serves which field.

use crate::engine::{RawCell, Texts};
use crate::problem::Problem;
use crate::problem::nearest::nearest;
use crate::quantity::Unit;
use crate::quantity::spelling::unit_leniently;
use crate::source::{CellPlace, column_letters};
use std::sync::Arc;

/// How many rows that hold something are looked at for headings.
pub const ROWS_SEARCHED: usize = 60;

/// What is looked for: one for each field.
#[derive(Clone, Debug)]
pub struct Wanted {
    /// What the field is called in messages.
    pub label: String,
    /// Headings that name it, best first.
    pub headings: Vec<String>,
    /// Whether the sheet cannot be read without it.
    pub required: bool,
}

/// The unit that a heading gives to bare numbers below it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadingUnit {
    /// A unit of measure.
    Unit(Unit),
    /// Percent.
    Percent,
}

/// A cell of the heading row.
#[derive(Clone, Debug, PartialEq)]
pub struct Heading {
    /// Its column, from 0.
    pub column: u16,
    /// Its text in one line.
    pub text: String,
    /// Its unit.
    pub unit: Option<HeadingUnit>,
    /// Which of the wanted fields it serves.
    pub serves: Option<usize>,
}

/// A heading row.
#[derive(Clone, Debug, PartialEq)]
pub struct Headings {
    /// Its row, from 0.
    pub row: u32,
    /// Its cells that hold a text, in sheet order.
    pub cells: Vec<Heading>,
}

impl Headings {
    /// The heading that serves a wanted field.
    #[must_use]
    pub fn serving(&self, wanted: usize) -> Option<&Heading> {
        self.cells.iter().find(|h| h.serves == Some(wanted))
    }
}

/// A heading reduced to what is compared, with the unit that was taken off it.
#[derive(Clone, Debug, PartialEq)]
struct Reduced {
    name: String,
    unit: Option<HeadingUnit>,
}

/// A heading in one line, spaces and line breaks made single spaces.
#[must_use]
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The unit of a heading such as `Length (ft)`, `Width, in.` or `Weight psf`.
#[must_use]
pub fn unit_of(heading: &str) -> Option<HeadingUnit> {
    readings(heading).into_iter().find_map(|r| r.unit)
}

/// The unit that a name such as `ft` or `hr/ft` stands for in a heading.
#[must_use]
pub fn unit_named(name: &str) -> Option<HeadingUnit> {
    read_unit(name)
}

fn folded(text: &str) -> String {
    let text: String = crate::engine::input::fold(&one_line(text));
    text.trim_end_matches([':', '.', ',', ';', '*', '?', '-', ' ']).trim_start_matches(['*', '-', ' ']).to_owned()
}

/// The ways in which a heading can be read, strictest first: whole; without a unit in brackets, after a comma or
/// as its last word; without brackets of any kind.
fn readings(heading: &str) -> Vec<Reduced> {
    let line = one_line(heading);
    let mut out = vec![Reduced { name: folded(&line), unit: None }];
    let bare = line.trim_end_matches([':', '.', '*', '?', ' ']);
    let mut add = |name: &str, unit: Option<HeadingUnit>| {
        let name = folded(name);
        if !name.is_empty() && !out.iter().any(|r| r.name == name) {
            out.push(Reduced { name, unit });
        }
    };
    if let Some((name, inside)) = bracketed(bare) {
        add(&name, read_unit(inside));
    } else if let Some((name, tail)) = bare.rsplit_once(',').filter(|(_, t)| read_unit(t).is_some()) {
        add(name, read_unit(tail));
    } else if let Some((name, tail)) = bare.rsplit_once(' ').filter(|(_, t)| word_unit(t)) {
        add(name.trim_end_matches([' ', '-', '–', '/', ',']), read_unit(tail));
    }
    out
}

/// `Length (ft) clear` as `Length clear` and `ft`.
fn bracketed(text: &str) -> Option<(String, &str)> {
    let start = text.find(['(', '['])?;
    let close = if text[start..].starts_with('(') { ')' } else { ']' };
    let end = start + text[start..].find(close)?;
    let name = format!("{} {}", text[..start].trim_end(), text[end + 1..].trim_start());
    Some((name, &text[start + 1..end]))
}

/// Whether a last word is a unit: single letters other than m are not taken for one (“SDC C”, “Type M”).
fn word_unit(word: &str) -> bool {
    let letter = word.chars().count() == 1 && word.chars().all(char::is_alphabetic);
    (!letter || word == "m") && read_unit(word).is_some()
}

fn read_unit(text: &str) -> Option<HeadingUnit> {
    let text = text.trim().trim_start_matches("in ").trim();
    match text {
        "%" | "percent" | "pct" => Some(HeadingUnit::Percent),
        "'" | "\u{2019}" | "\u{2032}" => Unit::named("ft").map(HeadingUnit::Unit),
        "\"" | "\u{201d}" | "\u{2033}" => Unit::named("in").map(HeadingUnit::Unit),
        text => unit_leniently(text).map(HeadingUnit::Unit),
    }
}

/// The names of each heading that a field goes by: whole, and without its unit or remark.
fn names_of(wanted: &Wanted) -> Vec<Vec<String>> {
    let names = |heading: &String| readings(heading).into_iter().take(2).map(|own| own.name).collect();
    wanted.headings.iter().map(names).collect()
}

/// How well a heading's reading matches the names of a field: the place of the reading (a stricter one is better), and
/// its unit.
fn matches(readings: &[Reduced], names: &[Vec<String>]) -> Option<(usize, usize, Option<HeadingUnit>)> {
    let unit = readings.iter().find_map(|r| r.unit);
    readings.iter().enumerate().find_map(|(loose, reading)| {
        // a unit in brackets is no loosening; a remark in brackets is
        let loose = if reading.unit.is_some() { 0 } else { loose };
        let most = if loose == 0 { 2 } else { 1 };
        let place = names.iter().position(|own| own.iter().take(most).any(|name| *name == reading.name))?;
        Some((loose, place, unit))
    })
}

/// A row of the sheet, from 0, and its texts by column.
pub type RowOfTexts = (u32, Vec<(u16, Arc<str>)>);

/// A row's cells as texts, as far as they may be headings.
#[must_use]
pub fn texts_of((row, cells): &(u32, Vec<(u16, RawCell)>), texts: &Texts) -> RowOfTexts {
    let named = |(column, cell): &(u16, RawCell)| match cell {
        RawCell::Text(id) => Some((*column, Arc::clone(texts.get(*id)))),
        RawCell::Number(v) | RawCell::Percent(v) => Some((*column, v.to_string().into())),
        _ => None,
    };
    (*row, cells.iter().filter_map(named).collect())
}

/// Finds the row whose cells match most of the wanted headings; the upper one of equals.
///
/// `rows` are the first rows of a sheet.
#[must_use]
pub fn find(rows: &[RowOfTexts], wanted: &[Wanted]) -> Option<Headings> {
    let names: Vec<Vec<Vec<String>>> = wanted.iter().map(names_of).collect();
    let mut best: Option<(usize, &RowOfTexts)> = None;
    for row in rows.iter().take(ROWS_SEARCHED) {
        let found: Vec<Vec<Reduced>> = row.1.iter().map(|(_, text)| readings(text)).collect();
        let score = names.iter().filter(|n| found.iter().any(|r| matches(r, n).is_some())).count();
        if score > 0 && best.is_none_or(|(most, _)| score > most) {
            best = Some((score, row));
        }
    }
    let (_, (row, cells)) = best?;
    let cells = cells.iter().map(|(column, text)| heading(*column, text, &names)).collect();
    Some(Headings { row: *row, cells })
}

fn heading(column: u16, text: &str, wanted: &[Vec<Vec<String>>]) -> Heading {
    let readings = readings(text);
    let best = wanted
        .iter()
        .enumerate()
        .filter_map(|(i, w)| matches(&readings, w).map(|(loose, place, unit)| ((loose, place, i), unit)))
        .min_by_key(|(rank, _)| *rank);
    let unit = match &best {
        Some((_, unit)) => *unit,
        None => readings.iter().find_map(|r| r.unit),
    };
    Heading { column, text: one_line(text), unit, serves: best.map(|((_, _, i), _)| i) }
}

/// What is wrong with a heading row: two columns for one field, required columns that are missing.
///
/// A column that matches only when a remark in brackets is dropped gives way to one that matches as it stands.
pub fn check(found: &mut Headings, wanted: &[Wanted], file: &Arc<str>, sheet: &Arc<str>) -> Vec<Problem> {
    let mut problems = Vec::new();
    for (index, field) in wanted.iter().enumerate() {
        settle(found, index, field);
        let serving: Vec<Heading> = found.cells.iter().filter(|h| h.serves == Some(index)).cloned().collect();
        let place = |column| CellPlace { file: Arc::clone(file), sheet: Arc::clone(sheet), row: found.row, column };
        if let [first, second, ..] = &serving[..] {
            let what = format!(
                "Two columns are headed as {}: “{}” in column {} and “{}” in column {}.",
                field.label,
                first.text,
                column_letters(first.column),
                second.text,
                column_letters(second.column)
            );
            let problem = Problem::stop("two columns for one field", what)
                .at_cell(place(Some(first.column)))
                .at_cell(place(Some(second.column)))
                .fix(format!("keep one, and give the other a heading that is not read as {}", field.label));
            problems.push(problem);
        } else if serving.is_empty() && field.required {
            problems.push(missing(found, field, &place(None)));
        }
    }
    problems
}

/// Lets a strict match win over looser ones.
fn settle(found: &mut Headings, index: usize, field: &Wanted) {
    let names = names_of(field);
    let rank = |h: &Heading| matches(&readings(&h.text), &names).map_or(usize::MAX, |(loose, _, _)| loose);
    let serving = || found.cells.iter().filter(|h| h.serves == Some(index));
    let Some(best) = serving().map(rank).min() else { return };
    for cell in found.cells.iter_mut().filter(|h| h.serves == Some(index)) {
        if rank(cell) > best {
            cell.serves = None;
        }
    }
}

fn missing(found: &Headings, field: &Wanted, row: &CellPlace) -> Problem {
    let accepted = quoted(field.headings.iter().map(String::as_str));
    let free: Vec<String> = found.cells.iter().filter(|h| h.serves.is_none()).map(|h| one_line(&h.text)).collect();
    let near = field.headings.iter().find_map(|h| nearest(h, free.iter().map(String::as_str)));
    let what = format!("No column is headed as {}; these headings are accepted: {accepted}.", field.label);
    let problem = Problem::stop("missing column", what).at_cell(row.clone());
    match near {
        Some(near) => problem.fix(format!("rename the column “{near}” if it is the one")),
        None => problem.fix(format!("add a column headed “{}”", field.headings.first().map_or("", String::as_str))),
    }
}

/// Texts in quotes with commas, "or" before the last.
#[must_use]
pub fn quoted<'a>(texts: impl IntoIterator<Item = &'a str>) -> String {
    let all: Vec<String> = texts.into_iter().map(|t| format!("“{t}”")).collect();
    match all.split_last() {
        None => String::new(),
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}
