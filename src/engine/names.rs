//! What a row is called, and a value of it, in messages and on every sheet.

use super::input::Inputs;
use super::result::Run;
use crate::program::{FieldId, KindId, Schema, Type};
use crate::quantity::show::show;
use crate::quantity::{Date, Number};
use std::sync::Arc;

/// A value as a person reads it; nothing where there is none.
#[must_use]
pub fn value_text(schema: &Schema, run: &Run, field: FieldId, row: usize) -> Option<Arc<str>> {
    let f = schema.field(field);
    let worked = run.columns.get(field.0 as usize).is_some_and(Option::is_some);
    if !worked || row >= run.rows_of(f.kind) {
        return None;
    }
    let number = || run.number(schema, field, row).ok();
    match f.ty {
        Type::Text => run.text(field, row).ok().map(|t| schema.in_words(field, t).into()),
        Type::Thing(_) => run.thing(field, row).ok().map(|t| t.to_string().into()),
        Type::YesNo => run.yes_no(field, row).ok().map(|y| if y { "yes" } else { "no" }.into()),
        Type::Date => number().map(|days| date_text(&days).into()),
        Type::Number { dimension, .. } => number().map(|n| show(&n, dimension, &f.style).text.into()),
    }
}

/// The key of a row: `104`. Nothing where its kind has no key or the row none.
#[must_use]
pub fn key(schema: &Schema, run: &Run, kind: KindId, row: usize) -> Option<Arc<str>> {
    value_text(schema, run, schema.kind(kind).key?, row)
}

/// The row's key, or its row on the sheet that it was read from: `104`, `row 12`.
#[must_use]
pub fn row(schema: &Schema, run: &Run, inputs: &Inputs, kind: KindId, row: usize) -> Arc<str> {
    key(schema, run, kind, row).unwrap_or_else(|| sheet_row(inputs, kind, row).into())
}

/// The same with the kind, in the singular: `room 104`, `opening in row 12`, `the job`.
#[must_use]
pub fn row_of_kind(schema: &Schema, run: &Run, inputs: &Inputs, kind: KindId, row: usize) -> String {
    let of = schema.kind(kind);
    let one = of.one();
    match key(schema, run, kind, row) {
        Some(name) => format!("{one} {name}"),
        None if of.single => "the job".to_owned(),
        None => format!("{one} in {}", sheet_row(inputs, kind, row)),
    }
}

fn sheet_row(inputs: &Inputs, kind: KindId, row: usize) -> String {
    let table = inputs.tables.iter().find(|t| t.kind == kind);
    let at = table.and_then(|t| t.origin.rows.get(row)).map_or(row, |r| *r as usize);
    format!("row {}", at + 1)
}

/// Days since 1970-01-01 as a date.
fn date_text(days: &Number) -> String {
    let epoch = Date::constant(1970, 1, 1);
    i64::try_from(days.to_decimal())
        .ok()
        .and_then(|d| jiff::Span::new().try_days(d).ok())
        .and_then(|span| epoch.checked_add(span).ok())
        .map_or_else(|| "a date out of range".to_owned(), |d: Date| d.to_string())
}
