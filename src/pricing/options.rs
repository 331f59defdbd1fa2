//! Options side by side: each row worked out and priced under every one that it may take, and the cheapest taken.

use super::book::PriceBook;
use super::lines::price_trial;
use super::priced::{Compared, Finding, Line, Priced, Trial, Tried};
use crate::engine::examples::{value_at, value_text};
use crate::engine::options::{Allowed, allowed};
use crate::engine::{Engine, Explain as _, Explainer, Inputs, names};
use crate::problem::{Problem, Weight};
use crate::program::{FieldId, Options, Schema, Value};
use crate::quantity::show::{Style, show};
use crate::quantity::{Decimal, Dimension, Number};
use crate::source::Place;

/// Works the rows out under each option, prices them, and leaves each row under the one that it takes.
///
/// The cheapest whose checks hold is taken; of equals, and where nothing has a price, the one that stands first.
/// A row that names an option has that one.
pub(super) fn compare_options(engine: &mut Engine<'_>, inputs: &Inputs, book: Option<&PriceBook>) -> Vec<Compared> {
    let Some(options) = &engine.program().schema.options else { return Vec::new() };
    let allowed = allowed(engine, options);
    let rows = engine.run().rows_of(options.kind);
    let mut compared: Vec<Compared> = (0..rows)
        .map(|_| Compared { taken: 0, named: false, tried: Vec::with_capacity(options.choices.len()) })
        .collect();
    for (choice, may) in allowed.iter().enumerate() {
        let left_out: Vec<bool> = may.iter().map(|a| *a != Allowed::Yes).collect();
        engine.tried_under(choice, &left_out);
        try_one(engine, inputs, book, options, (may, &left_out), &mut compared);
    }
    for (row, c) in compared.iter_mut().enumerate() {
        c.named = allowed.iter().any(|a| a[row] == Allowed::NamesAnother);
        c.taken = taken(&c.tried);
    }
    let chosen: Vec<u32> = compared.iter().map(|c| c.taken).collect();
    engine.under_options(&chosen);
    compared
}

/// One option for every row.
fn try_one(
    engine: &Engine<'_>,
    inputs: &Inputs,
    book: Option<&PriceBook>,
    options: &Options,
    (may, left_out): (&[Allowed], &[bool]),
    compared: &mut [Compared],
) {
    let schema = &engine.program().schema;
    let explainer = Explainer::new(engine, inputs);
    let priced = price_trial(schema, engine.run(), inputs, book, &explainer, left_out);
    let mut reasons = reasons(engine, inputs, options, &priced);
    for (row, c) in compared.iter_mut().enumerate() {
        let result = priced.rooms.get(row);
        let trial = match may[row] {
            Allowed::Yes if result.is_some_and(|r| r.stopped) => {
                let first = reasons.get_mut(row).and_then(Option::take);
                Trial::Fails(first.unwrap_or_else(|| "Something stops it.".to_owned()))
            }
            Allowed::Yes => Trial::Passes,
            Allowed::No => Trial::NotAllowed(None),
            Allowed::NamesAnother => Trial::NotAllowed(Some("The row names another.".to_owned())),
            Allowed::Unknown(fault) => Trial::NotAllowed(Some(explainer.fault(fault).what)),
        };
        let shown = if left_out[row] { Vec::new() } else { shown(engine, options, row) };
        c.tried.push(Tried { trial, cost: result.and_then(|r| r.cost), hours: result.and_then(|r| r.hours), shown });
    }
}

/// The first reason that stops each row; what stops many rows at once stands for all that have no other.
fn reasons(engine: &Engine<'_>, inputs: &Inputs, options: &Options, priced: &Priced) -> Vec<Option<String>> {
    let mut out = vec![None; priced.rooms.len()];
    // what could not be read comes first: nothing else is known of such a row
    for unread in inputs.problems.iter().filter(|p| p.problem.weight == Weight::Stop) {
        if let Some((kind, row)) = unread.row
            && let Some(slot) = out.get_mut(engine.ancestor(kind, row as usize, options.kind))
        {
            slot.get_or_insert_with(|| unread.problem.what.clone());
        }
    }
    let mut for_many = None;
    for finding in priced.findings.iter().filter(|f| f.problem.weight == Weight::Stop) {
        match finding.row {
            Some((kind, row)) => {
                let row = engine.ancestor(kind, row as usize, options.kind);
                if let Some(slot) = out.get_mut(row) {
                    slot.get_or_insert_with(|| finding.problem.what.clone());
                }
            }
            None => {
                for_many.get_or_insert(&finding.problem.what);
                for row in finding.problem.places.iter().filter_map(|p| row_of(engine, inputs, options, p)) {
                    if let Some(slot) = out.get_mut(row) {
                        slot.get_or_insert_with(|| finding.problem.what.clone());
                    }
                }
            }
        }
    }
    for (slot, _) in out.iter_mut().zip(&priced.rooms).filter(|(s, r)| s.is_none() && r.stopped) {
        *slot = for_many.cloned();
    }
    out
}

/// The row of the options' kind that a cell was read for.
fn row_of(engine: &Engine<'_>, inputs: &Inputs, options: &Options, place: &Place) -> Option<usize> {
    let Place::Cell(cell) = place else { return None };
    let table = inputs.tables.iter().find(|t| t.origin.sheet == cell.sheet)?;
    let row = table.origin.rows.binary_search(&cell.row).ok()?;
    Some(engine.ancestor(table.kind, row, options.kind))
}

fn shown(engine: &Engine<'_>, options: &Options, row: usize) -> Vec<Option<Value>> {
    options.showing.iter().map(|f| value_at(engine, *f, row).ok()).collect()
}

/// The cheapest that passes, the first of equals; where none does, the first that the row may take.
fn taken(tried: &[Tried]) -> u32 {
    let passing = tried.iter().enumerate().filter(|(_, t)| t.trial == Trial::Passes);
    // a row without lines costs nothing
    let best = passing.min_by_key(|(i, t)| (t.cost.unwrap_or(0), *i)).map(|(i, _)| i);
    let may = || tried.iter().position(|t| !matches!(t.trial, Trial::NotAllowed(_)));
    best.or_else(may).and_then(|i| u32::try_from(i).ok()).unwrap_or(0)
}

/// Says of each row that no option suits why each of them does not; the row is stopped by the checks themselves.
pub(super) fn none_passes(engine: &Engine<'_>, inputs: &Inputs, compared: &[Compared], priced: &mut Priced) {
    let (schema, run) = (&engine.program().schema, engine.run());
    let Some(options) = &schema.options else { return };
    for (row, c) in compared.iter().enumerate() {
        let failing = c.tried.iter().zip(&options.choices).filter_map(|(t, choice)| match &t.trial {
            Trial::Fails(why) => Some((choice.label.as_str(), why.as_str())),
            _ => None,
        });
        let failing: Vec<(&str, &str)> = failing.collect();
        let any_passes = c.tried.iter().any(|t| t.trial == Trial::Passes);
        let Ok(number) = u32::try_from(row) else { continue };
        let nothing_allowed = !any_passes && failing.is_empty();
        let each = by_reason(&failing);
        // where one option alone is tried, or all fail alike, its own checks say it all
        if any_passes || each.len() == 1 || inputs_stopped(inputs, options, row) {
            continue;
        }
        let label = schema.field(options.field).label.to_lowercase();
        let what = if nothing_allowed {
            format!("This row may take no {label} at all.")
        } else {
            format!("No {label} passes. {}", each.join(" "))
        };
        let mut problem = Problem::stop("no option passes", what);
        if let Some(table) = inputs.tables.iter().find(|t| t.kind == options.kind) {
            problem = problem.at_cell(table.origin.cell(row, None));
        }
        let problem = problem.in_book(&options.text, options.span);
        if nothing_allowed
            && let Some(room) = priced.rooms.get_mut(row)
            && !room.stopped
        {
            room.stopped = true;
            priced.stopped += 1;
        }
        let row_name = Some(names::row(schema, run, inputs, options.kind, number as usize));
        let name = schema.field(options.field).name.clone();
        priced.findings.push(Finding { problem, name, row: Some((options.kind, number)), row_name });
    }
    priced.findings.sort_by_key(|f| std::cmp::Reverse(f.problem.weight));
}

/// A sentence for each reason, with all options that it speaks of before it.
fn by_reason(failing: &[(&str, &str)]) -> Vec<String> {
    let mut out: Vec<(Vec<&str>, &str)> = Vec::new();
    for (label, why) in failing {
        match out.iter_mut().find(|(_, same)| same == why) {
            Some((labels, _)) => labels.push(label),
            None => out.push((vec![label], why)),
        }
    }
    out.into_iter().map(|(labels, why)| format!("{}: {why}", labels.join(", "))).collect()
}

fn inputs_stopped(inputs: &Inputs, options: &Options, row: usize) -> bool {
    inputs.tables.iter().any(|t| t.kind == options.kind && t.stopped.get(row) == Some(&true))
}

/// What the rows are told apart by, as their sheet heads it: `Room`.
#[must_use]
pub fn key_heading<'s>(schema: &'s Schema, options: &Options) -> &'s str {
    let Some(key) = schema.kind(options.kind).key.map(|key| schema.field(key)) else { return "Row" };
    key.input.as_ref().and_then(|i| i.headings.first()).unwrap_or(&key.label)
}

/// How an option stands beside the others of its row, in a word or two.
#[must_use]
pub fn standing(compared: &Compared, option: usize) -> &'static str {
    let taken = compared.taken as usize == option;
    match (compared.tried.get(option).map(|t| &t.trial), taken) {
        (Some(Trial::Passes), true) if compared.named => "taken by name",
        (Some(Trial::Passes), true) => "taken",
        (Some(Trial::Passes), false) => "passes",
        // no option passes, and the row is stopped
        (Some(Trial::Fails(_)), true) => "taken, fails",
        (Some(Trial::Fails(_)), false) => "fails",
        (Some(Trial::NotAllowed(_)) | None, _) => "ruled out",
    }
}

/// What an option costs, in cents; for the one taken with what an estimator typed beside its lines. One that fails has
/// a cost where checks alone stop it and all its lines could be priced.
#[must_use]
pub fn cost_of(priced: &Priced, row: usize, option: usize) -> Option<i64> {
    let compared = priced.compared.get(row)?;
    let tried = compared.tried.get(option).filter(|_| priced.has_prices)?;
    let own = || priced.rooms.get(row).and_then(|r| r.cost);
    match tried.trial {
        // a row without lines costs nothing
        Trial::Passes => Some(if compared.taken as usize == option { own() } else { tried.cost }.unwrap_or(0)),
        Trial::Fails(_) => tried.cost,
        Trial::NotAllowed(_) => None,
    }
}

/// The labor hours of an option, as [`cost_of`] its cost.
#[must_use]
pub fn hours_of(priced: &Priced, row: usize, option: usize) -> Option<Number> {
    let compared = priced.compared.get(row)?;
    let tried = compared.tried.get(option)?;
    let own = || priced.rooms.get(row).and_then(|r| r.hours);
    match tried.trial {
        Trial::Passes => {
            Some(if compared.taken as usize == option { own() } else { tried.hours }.unwrap_or(Number::ZERO))
        }
        // with a cost, a row without labor takes no hours
        Trial::Fails(_) => tried.hours.or(tried.cost.map(|_| Number::ZERO)),
        Trial::NotAllowed(_) => None,
    }
}

/// The rows of the options' kind beside whose lines a quantity or a cost was typed by hand, in order.
#[must_use]
pub fn typed_by_hand(options: &Options, priced: &Priced) -> Vec<u32> {
    let figure = |l: &&Line| l.own.as_ref().is_some_and(|o| o.quantity.is_some() || o.unit_cost.is_some());
    let row_of = |l: &Line| if l.of.0 == options.kind { Some(l.of.1) } else { l.room };
    let mut rows: Vec<u32> = priced.lines.iter().filter(figure).filter_map(row_of).collect();
    rows.sort_unstable();
    rows.dedup();
    rows
}

/// Most rows that a sentence names.
const MOST_NAMED: usize = 12;

/// That figures typed by hand are not in the comparison, with the rows that have any; nothing where none has.
#[must_use]
pub fn without_hand(
    schema: &Schema,
    options: &Options,
    priced: &Priced,
    name: impl Fn(u32) -> String,
) -> Option<String> {
    let rows = typed_by_hand(options, priced);
    let mut names: Vec<String> = rows.iter().take(MOST_NAMED).map(|row| name(*row)).collect();
    if rows.len() > MOST_NAMED {
        names.push(format!("and {} more", rows.len() - MOST_NAMED));
    }
    (!rows.is_empty()).then(|| {
        format!(
            "Figures typed by hand on Lines are in the cost of what is taken, and not in the comparison by which it was \
             taken. {}: {}.",
            key_heading(schema, options),
            names.join(", ")
        )
    })
}

/// What follows an amount by which an option costs more than the one taken.
pub const DEARER: &str = " dearer";
/// The same for less, which only figures typed by hand can bring about.
pub const CHEAPER: &str = " cheaper than with the figures typed on Lines";
/// In place of an amount of nothing.
pub const SAME_COST: &str = "costs the same; the first is taken";

/// Why an option is not the one taken, or what is wrong with the one that is; nothing to say of one that is in order.
#[must_use]
pub fn why_not(schema: &Schema, priced: &Priced, row: usize, option: usize) -> String {
    let (Some(compared), Some(options)) = (priced.compared.get(row), &schema.options) else { return String::new() };
    match compared.tried.get(option).map(|t| &t.trial) {
        Some(Trial::Fails(why) | Trial::NotAllowed(Some(why))) => why.clone(),
        Some(Trial::NotAllowed(None)) | None => {
            format!("Not for this {}.", schema.kind(options.kind).one())
        }
        Some(Trial::Passes) if compared.taken as usize == option => String::new(),
        Some(Trial::Passes) => match cost_of(priced, row, option).zip(cost_of(priced, row, compared.taken as usize)) {
            Some((cost, taken)) => beside(cost.saturating_sub(taken)),
            None => "without prices the first that passes is taken".to_owned(),
        },
    }
}

/// A difference in cents in words: `$312.40 dearer`.
fn beside(cents: i64) -> String {
    let amount = Number::from(Decimal::new(cents.saturating_abs(), 2));
    let amount = show(&amount, Dimension::MONEY, &Style::default()).text;
    match cents {
        0 => SAME_COST.to_owned(),
        1.. => format!("{amount}{DEARER}"),
        _ => format!("{amount}{CHEAPER}"),
    }
}

/// What the book shows beside an option, as people read it; blank where it has no value.
#[must_use]
pub fn shown_text(schema: &Schema, field: FieldId, value: Option<&Value>) -> String {
    let declared = schema.field(field);
    match value {
        Some(Value::Text(text)) => schema.in_words(field, text).to_owned(),
        Some(value) => value_text(value, declared.ty, &declared.style),
        None => String::new(),
    }
}
