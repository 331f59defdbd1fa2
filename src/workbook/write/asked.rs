//! What a column asks for, in words: notes on headings, lists of allowed words, lines of explanation.

use super::styles::note;
use crate::engine::examples::value_text;
use crate::program::reference::in_a_line;
use crate::program::schema::Flavor;
use crate::program::{Field, FieldId, Input, Schema, Type};
use crate::quantity::show::show;
use crate::quantity::{Dimension, Number};
use rust_xlsxwriter::{DataValidation, DataValidationErrorStyle, Note, XlsxError};

/// Most characters of a list of words by the file format, commas counted.
const LONGEST_LIST: usize = 255;
/// Characters in a line of a note, and the height of one in pixels.
const NOTE_LINE: usize = 38;
const NOTE_LINE_HEIGHT: u32 = 16;
const NOTE_WIDTH: u32 = 260;

/// What a column that is read asks for: what it takes, within which limits, and what a blank cell stands for.
pub fn asked(schema: &Schema, id: FieldId) -> String {
    let field = schema.field(id);
    field.input.as_ref().map_or_else(String::new, |input| told(schema, id, input, takes(schema, id, field, input)))
}

/// The same of a cell whose numbers stand in a unit, for a field of numbers.
pub fn asked_in(schema: &Schema, id: FieldId, unit: &str) -> String {
    let field = schema.field(id);
    let takes = |input| match field.ty {
        Type::Number { .. } if !unit.is_empty() => format!("A number of {unit}"),
        _ => takes(schema, id, field, input),
    };
    field.input.as_ref().map_or_else(String::new, |input| told(schema, id, input, takes(input)))
}

fn told(schema: &Schema, id: FieldId, input: &Input, takes: String) -> String {
    let field = schema.field(id);
    let mut out = takes;
    out.push_str(&limits(field, input));
    out.push('.');
    let is_key = schema.kind(field.kind).key == Some(id);
    out.push(' ');
    out.push_str(&blank(field, input, is_key));
    if let Some(note) = &field.note {
        out.push(' ');
        out.push_str(note);
    }
    out
}

/// What it takes.
fn takes(schema: &Schema, id: FieldId, field: &Field, input: &Input) -> String {
    let words = allowed(schema, id, input);
    match field.ty {
        Type::YesNo => "Yes or no".to_owned(),
        Type::Date => "A date".to_owned(),
        Type::Text if words.is_empty() => "A text".to_owned(),
        Type::Text | Type::Thing(_) => format!("One of {}", words.join(", ")),
        Type::Number { flavor: Flavor::Percent, .. } => "A percent".to_owned(),
        Type::Number { flavor: Flavor::Count, .. } => "A whole number".to_owned(),
        Type::Number { dimension: Dimension::LENGTH, .. } => {
            "A length: 14'-6 1/2\", 14.5 ft or 4.42 m; a bare number where the heading names its unit".to_owned()
        }
        Type::Number { dimension: Dimension::NONE, .. } => "A number".to_owned(),
        Type::Number { dimension, .. } => {
            let one = show(&Number::from(1), dimension, &field.style).text;
            let unit = one.trim_start_matches(|c: char| c.is_ascii_digit() || ".,$".contains(c)).trim();
            if unit.is_empty() { "A number".to_owned() } else { format!("A number in {unit}") }
        }
    }
}

/// Its limits, with a comma before them.
fn limits(field: &Field, input: &Input) -> String {
    let shown = |n: &Number| show(n, field.ty.dimension().unwrap_or_default(), &field.style).text;
    let low = input.low.as_ref().map(|(n, own)| format!("{} {}", if *own { "at least" } else { "above" }, shown(n)));
    let high = input.high.as_ref().map(|(n, own)| format!("{} {}", if *own { "at most" } else { "below" }, shown(n)));
    let parts: Vec<String> = low.into_iter().chain(high).collect();
    if parts.is_empty() { String::new() } else { format!(", {}", parts.join(", ")) }
}

/// What a blank cell stands for.
fn blank(field: &Field, input: &Input, is_key: bool) -> String {
    let default = input.default.as_ref().map(|v| value_text(v, field.ty, &field.style));
    match (&input.stock_of, default) {
        (Some(code), Some(default)) => format!("Blank stands for the price book's longest {code}, or {default}."),
        (Some(code), None) => format!("Blank stands for the price book's longest {code}."),
        (None, Some(default)) => format!("Blank stands for {default}."),
        (None, None) if is_key => "It names the row, so each has its own.".to_owned(),
        (None, None) if input.may_be_blank => "It may be blank.".to_owned(),
        (None, None) => "It is needed.".to_owned(),
    }
}

/// The words that a column takes; none for any.
fn allowed<'s>(schema: &'s Schema, id: FieldId, input: &'s Input) -> Vec<&'s str> {
    match schema.options.as_ref().filter(|o| o.named_by == Some(id)) {
        Some(options) => options.choices.iter().map(|c| c.label.as_str()).collect(),
        None => input.one_of.iter().map(String::as_str).collect(),
    }
}

/// A list to choose from, for a column that takes certain words alone; another word is asked about, not refused, since
/// reading knows more spellings than a list shows.
///
/// # Errors
/// Words that the file format refuses.
pub fn list(schema: &Schema, id: FieldId) -> Result<Option<DataValidation>, XlsxError> {
    let field = schema.field(id);
    let Some(input) = &field.input else { return Ok(None) };
    let words = match field.ty {
        Type::YesNo => vec!["yes", "no"],
        Type::Text => allowed(schema, id, input),
        _ => Vec::new(),
    };
    let length = words.iter().map(|w| w.encode_utf16().count() + 1).sum::<usize>();
    if words.is_empty() || length > LONGEST_LIST || words.iter().any(|w| w.contains(',')) {
        return Ok(None);
    }
    let list = DataValidation::new().allow_list_strings(&words)?;
    let list = list.set_error_style(DataValidationErrorStyle::Warning);
    Ok(Some(list.set_error_title("Not in the list")?.set_error_message("The list shows what the rules know.")?))
}

/// What a worked-out column is: what the book says of it, its statement and its source.
pub fn worked(field: &Field) -> String {
    let mut out: Vec<String> = field.note.iter().cloned().collect();
    let mut stated = in_a_line(&field.text, field.span);
    // said by itself, before and after
    if let Some(note) = &field.note {
        stated = stated.replacen(&format!(" \"{note}\""), "", 1);
    }
    if let Some(at) = stated.rfind(" source ").filter(|_| field.source.is_some()) {
        stated.truncate(at);
    }
    out.push(stated);
    out.extend(field.source.iter().map(|s| format!("Source: {s}.")));
    out.push(format!("{}, line {}.", field.text.name, field.text.line(field.span.start as usize)));
    out.join("\n")
}

/// What a worked-out column whose cells are values was worked out from.
pub fn still(schema: &Schema, from: &[FieldId]) -> String {
    const MOST: usize = 12;
    let mut labels: Vec<&str> = from.iter().map(|f| schema.field(*f).label.as_str()).collect();
    labels.dedup();
    let more = labels.len().saturating_sub(MOST);
    labels.truncate(MOST);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    let from = if labels.is_empty() { String::new() } else { format!(", from {}{more}", labels.join(", ")) };
    format!("These cells stay as they were priced{from}. Where one of those is changed, price again.")
}

/// A note as tall as its words.
pub fn heading_note(text: &str) -> Note {
    let lines: usize = text.lines().map(|l| l.chars().count() / NOTE_LINE + 1).sum();
    let height = NOTE_LINE_HEIGHT * u32::try_from(lines.clamp(2, 24)).unwrap_or(24) + 10;
    note(text).set_width(NOTE_WIDTH).set_height(height)
}
