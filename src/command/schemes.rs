//! `hardlid price --schemes`: each room under every way to build it.

use super::out;
use crate::engine::names;
use crate::engine::{Engine, Inputs};
use crate::pricing::options::{
    cost_of, hours_of, key_heading, shown_text, standing, typed_by_hand, why_not, without_hand,
};
use crate::pricing::{Priced, Trial};
use crate::program::Options;
use crate::quantity::Decimal;
use crate::quantity::show::decimal_text;
use serde_json::{Map, Value, json};
use std::sync::Arc;

/// A priced job with its options.
struct Job<'a> {
    engine: &'a Engine<'a>,
    inputs: &'a Inputs,
    priced: &'a Priced,
    options: &'a Options,
}

impl<'a> Job<'a> {
    fn new(engine: &'a Engine<'a>, inputs: &'a Inputs, priced: &'a Priced) -> Option<Self> {
        let options = engine.program().schema.options.as_ref()?;
        Some(Self { engine, inputs, priced, options })
    }

    fn name(&self, row: usize) -> Arc<str> {
        names::row(&self.engine.program().schema, self.engine.run(), self.inputs, self.options.kind, row)
    }

    /// What stands beside an option, as people read it.
    fn shown(&self, row: usize, option: usize) -> Vec<String> {
        let tried = &self.priced.compared[row].tried[option].shown;
        let fields = self.options.showing.iter().enumerate();
        let schema = &self.engine.program().schema;
        fields.map(|(i, f)| shown_text(schema, *f, tried.get(i).and_then(Option::as_ref))).collect()
    }

    /// Whether the room's bid takes an option.
    fn is_taken(&self, row: usize, option: usize) -> bool {
        let compared = &self.priced.compared[row];
        compared.taken as usize == option && !matches!(compared.tried[option].trial, Trial::NotAllowed(_))
    }

    fn why(&self, row: usize, option: usize) -> String {
        why_not(&self.engine.program().schema, self.priced, row, option)
    }
}

/// Prints the comparison for people.
pub fn print(engine: &Engine<'_>, inputs: &Inputs, priced: &Priced) {
    let Some(job) = Job::new(engine, inputs, priced) else {
        out::line("The rules state no options, so there is nothing to compare.\n");
        return;
    };
    let schema = &engine.program().schema;
    let label = |f: crate::program::FieldId| schema.field(f).label.clone();
    let mut heads = vec![key_heading(schema, job.options).to_owned(), label(job.options.field)];
    heads.extend(["Standing", "Cost", "Hours"].map(str::to_owned));
    heads.extend(job.options.showing.iter().copied().map(label));
    heads.push("Why not".to_owned());
    let mut rows = vec![heads];
    for row in 0..priced.compared.len() {
        for (option, choice) in job.options.choices.iter().enumerate() {
            let name = if option == 0 { job.name(row).to_string() } else { String::new() };
            let mut cells = vec![name, choice.label.clone(), standing(&priced.compared[row], option).to_owned()];
            cells.push(cost_of(priced, row, option).map_or_else(String::new, super::price::dollars));
            cells.push(hours_of(priced, row, option).map_or_else(String::new, |h| decimal_text(&h, 2).text));
            cells.extend(job.shown(row, option));
            cells.push(job.why(row, option));
            rows.push(cells);
        }
    }
    for (i, text) in aligned(&rows).into_iter().enumerate() {
        // a blank line before each room
        let starts = i > 0 && (i - 1).is_multiple_of(job.options.choices.len().max(1));
        out::line(&format!("{}{text}", if starts { "\n" } else { "" }));
    }
    let name = |row: u32| job.name(row as usize).to_string();
    if let Some(text) = without_hand(schema, job.options, priced, name) {
        out::line(&format!("\n{text}"));
    }
    out::line("");
}

/// Rows as lines of columns: words at the left, amounts (from the fourth column to the last but one) at the right.
fn aligned(rows: &[Vec<String>]) -> Vec<String> {
    let columns = rows.first().map_or(0, Vec::len);
    let width = |at: usize| rows.iter().map(|r| r[at].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns).map(width).collect();
    let line = |row: &Vec<String>| {
        let cells = row.iter().zip(&widths).enumerate().map(|(at, (cell, width))| match at {
            at if at + 1 == columns => cell.clone(),
            0..3 => format!("{cell:<width$}"),
            _ => format!("{cell:>width$}"),
        });
        cells.collect::<Vec<_>>().join("  ").trim_end().to_owned()
    };
    rows.iter().map(line).collect()
}

/// The comparison for programs: a line for each room and option.
pub fn json(engine: &Engine<'_>, inputs: &Inputs, priced: &Priced) -> Value {
    let Some(job) = Job::new(engine, inputs, priced) else { return json!([]) };
    let schema = &engine.program().schema;
    let by_hand = typed_by_hand(job.options, priced);
    let mut out = Vec::new();
    for (row, compared) in priced.compared.iter().enumerate() {
        for (option, choice) in job.options.choices.iter().enumerate() {
            let names = job.options.showing.iter().map(|f| schema.field(*f).name.clone());
            let texts = job.shown(row, option).into_iter().map(|t| if t.is_empty() { Value::Null } else { json!(t) });
            let why = job.why(row, option);
            out.push(json!({
                "room": &*job.name(row),
                "option": choice.name,
                "label": choice.label,
                "hand_figures": u32::try_from(row).is_ok_and(|row| by_hand.contains(&row)),
                "taken": job.is_taken(row, option),
                "passes": compared.tried[option].trial == Trial::Passes,
                "reason": (!why.is_empty()).then_some(why),
                "cost": cost_of(priced, row, option).map(|c| Decimal::new(c, 2).to_string()),
                "hours": hours_of(priced, row, option).map(|h| h.to_decimal().normalize().to_string()),
                "shown": names.zip(texts).collect::<Map<String, Value>>(),
            }));
        }
    }
    Value::Array(out)
}
