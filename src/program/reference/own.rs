//! What the rows of a book have: columns, formulas, options, checks, items and labor, as they are in force.

use super::super::schema::{Field, FieldId, LineKind, Outcome};
use super::super::{Program, native::type_name};
use super::{Family, Shown, Word, in_a_line, stated};
use crate::notation::tree::{Expr, Node, Part};
use crate::source::{Span, Text};
use std::sync::Arc;

/// The words of all rows of a program.
pub(super) fn of_rows(program: &Program) -> Vec<Word> {
    let schema = &program.schema;
    let mut out = Vec::new();
    for (i, field) in schema.fields.iter().enumerate() {
        let option = schema.options.as_ref().is_some_and(|o| o.field.0 as usize == i);
        if field.name.is_empty() || field.kind == program.lines || option {
            continue;
        }
        let id = FieldId(u32::try_from(i).unwrap_or(u32::MAX));
        out.push(field_word(program, id, field));
    }
    if let Some(options) = &schema.options {
        let field = schema.field(options.field);
        let all = options.choices.iter().map(|c| c.name.clone()).collect::<Vec<_>>();
        let mut word = word(program, &field.name, Family::Options, &options.text, options.span);
        word.summary = format!("{}: one of {}.", field.label, all.join(", "));
        word.others = all;
        word.source.clone_from(&field.source);
        word.examples = worked(program, &field.name);
        out.push(word);
    }
    for check in &schema.checks {
        let mut word = word(program, &check.name, Family::Checks, &check.text, check.span);
        let does = match check.outcome {
            Outcome::Stops => "Stops the row where it does not hold",
            Outcome::Warns => "Warns where it does not hold",
            Outcome::Notes => "Notes where it does not hold",
        };
        word.summary = format!("{does}; of {}.", schema.kind(check.kind).name);
        word.source.clone_from(&check.source);
        out.push(word);
    }
    for item in &schema.items {
        let (family, what) = match item.what {
            LineKind::Material => (Family::Items, "bought"),
            LineKind::Labor => (Family::Labor, "done"),
        };
        let mut word = word(program, &item.name, family, &item.text, item.span);
        word.summary = format!("{}: {what} for {}.", item.label, schema.kind(item.kind).name);
        word.source.clone_from(&item.source);
        out.push(word);
    }
    out
}

fn field_word(program: &Program, id: FieldId, field: &Field) -> Word {
    let family = if field.input.is_some() { Family::Columns } else { Family::Formulas };
    let mut word = word(program, &field.name, family, &field.text, field.span);
    let rows = &program.schema.kind(field.kind).name;
    let note = field.note.as_deref().map(|n| format!(" {n}")).unwrap_or_default();
    word.summary = format!("{}, of {rows}.{note}", field.label);
    word.gives = type_name(field.ty);
    word.source.clone_from(&field.source);
    if program.schema.field_named(field.kind, &field.name) == Some(id) {
        word.examples = worked(program, &field.name);
    }
    word
}

/// A word whose form is its statement.
fn word(program: &Program, name: &str, family: Family, text: &Arc<Text>, span: Span) -> Word {
    let (stated, uppermost) = stated(text, span, program);
    Word { stated, uppermost, ..Word::plain(name, family, in_a_line(text, span), "") }
}

/// Examples that show a figure of the rows.
fn worked(program: &Program, name: &str) -> Vec<Shown> {
    shows(program, |e| matches!(&e.node, Node::Name(n) if n == name), 1)
}

/// What the books' examples show of an expression that is asked for: alone, else within something else.
pub(super) fn shows(program: &Program, is_it: impl Fn(&Expr) -> bool, most: usize) -> Vec<Shown> {
    let (mut alone, mut within) = (Vec::new(), Vec::new());
    for book in program.books.iter().rev() {
        for part in book.parts.iter() {
            let Part::Example(example) = part else { continue };
            for show in &example.shows {
                let place = if is_it(&show.value) {
                    &mut alone
                } else if show.value.any(&is_it) {
                    &mut within
                } else {
                    continue;
                };
                place.push(Shown {
                    expression: in_a_line(&book.text, show.value.span),
                    gives: in_a_line(&book.text, show.expected.span),
                    within: (!example.rows.is_empty()).then(|| example.name.clone()),
                });
            }
        }
    }
    alone.into_iter().chain(within).take(most).collect()
}

/// A part of a book without what stands after `--`.
pub(super) fn without_remarks(part: &str) -> String {
    part.lines().map(|line| &line[..crate::notation::split::before_remark(line)]).collect::<Vec<_>>().join("\n")
}
