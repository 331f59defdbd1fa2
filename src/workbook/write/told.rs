//! What the bid says in words: texts of the job, and the different texts of its rooms.

use super::bid::{LAST, Page, WIDTHS};
use super::page::lines;
use super::{Document, text_of};
use crate::engine::input::fold;
use crate::program::{FieldId, KindId, Value};
use rust_xlsxwriter::{FormatAlign, XlsxError};
use rustc_hash::FxHashMap;

/// Different texts of the rooms that are told by name.
const TEXTS_SHOWN: usize = 12;

/// What is told, label and text, in the order of the rule.
fn told(doc: &Document<'_>) -> Vec<(String, String)> {
    let mut out = Vec::new();
    for field in &doc.schema.telling {
        let declared = doc.schema.field(*field);
        let text = if doc.schema.kind(declared.kind).single {
            let figure = doc.priced.job.iter().find(|f| f.field == *field);
            match figure.map(|f| &f.value) {
                Some(Ok(Value::Text(text))) => text.split_whitespace().collect::<Vec<_>>().join(" "),
                _ => String::new(),
            }
        } else {
            of_rooms(doc, *field, declared.kind)
        };
        if !text.is_empty() {
            out.push((declared.label.clone(), text));
        }
    }
    out
}

/// The different texts of the rooms that are in the bid, in the order met, with how many rooms have each.
fn of_rooms(doc: &Document<'_>, field: FieldId, kind: KindId) -> String {
    if doc.run.columns.get(field.0 as usize).is_none_or(Option::is_none) {
        return String::new();
    }
    let mut at: FxHashMap<String, usize> = FxHashMap::default();
    let mut found: Vec<(String, usize)> = Vec::new();
    for row in (0..doc.run.rows_of(kind)).filter(|row| !doc.priced.is_apart(*row)) {
        let Ok(text) = doc.run.text(field, row) else { continue };
        let text = doc.schema.in_words(field, text).trim();
        if text.is_empty() {
            continue;
        }
        let i = *at.entry(fold(text)).or_insert(found.len());
        if i == found.len() {
            found.push((text.to_owned(), 0));
        }
        if let Some((_, count)) = found.get_mut(i) {
            *count += 1;
        }
    }
    let kind = doc.schema.kind(kind);
    let (rows, one) = (kind.name.replace('_', " "), kind.one());
    let named = found.iter().take(TEXTS_SHOWN).enumerate().map(|(i, (text, count))| match (i, count) {
        (0, 1) => format!("{text} (1 {one})"),
        (0, n) => format!("{text} ({n} {rows})"),
        (_, n) => format!("{text} ({n})"),
    });
    let mut words = named.collect::<Vec<_>>().join(", ");
    if found.len() > TEXTS_SHOWN {
        words.push_str(&format!(", and {} more", found.len() - TEXTS_SHOWN));
    }
    words
}

impl Page<'_, '_> {
    /// What the bid says. Gives the next free row.
    pub(super) fn told(&mut self, top: u32) -> Result<u32, XlsxError> {
        let told = told(&self.doc);
        if told.is_empty() {
            return Ok(top);
        }
        for at in 0..=LAST {
            self.sheet.write_blank(top, at, &self.styles.section)?;
        }
        self.sheet.set_row_height(top, 19)?;
        self.sheet.write_string_with_format(top, 0, "What the price is for", &self.styles.section)?;
        // the text is a point smaller than the page's
        let width: u32 = WIDTHS[1..].iter().sum::<u32>() * 11 / 10;
        let quiet = self.styles.quiet.clone().set_align(FormatAlign::Top);
        let body = self.formats.fact.clone().set_align(FormatAlign::Top).set_font_size(10);
        let mut row = top;
        for (label, text) in &told {
            row += 1;
            self.sheet.set_row_height(row, 14 * lines(text, width).clamp(1, 6) + 2)?;
            self.sheet.write_string_with_format(row, 0, text_of(label), &quiet)?;
            self.sheet.merge_range(row, 1, row, LAST, text_of(text), &body)?;
        }
        Ok(row + 2)
    }
}
