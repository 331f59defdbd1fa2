//! A workbook that holds values only: what would be a formula is its value.

use super::Limits;
use super::cells::{At, Cells, Dictionary, Mark};
use crate::workbook::live::escapes;
use rust_xlsxwriter::{Format, Formula, Note, Worksheet, XlsxError};
use std::borrow::Cow;
use std::fmt::Write as _;

/// Takes formulas for their values, and hands all else on.
pub struct Values<'c, C>(pub &'c mut C);

impl<C: Cells> Cells for Values<'_, C> {
    fn number(&mut self, at: At, value: f64) -> Result<(), XlsxError> {
        self.0.number(at, value)
    }

    fn text(&mut self, at: At, text: &str) -> Result<(), XlsxError> {
        self.0.text(at, text)
    }

    fn known(&mut self, at: At, of: (Dictionary, u32), text: &str) -> Result<(), XlsxError> {
        self.0.known(at, of, text)
    }

    fn yes_no(&mut self, at: At, value: bool) -> Result<(), XlsxError> {
        self.0.yes_no(at, value)
    }

    fn formula(&mut self, at: At, _: &str, value: &str) -> Result<(), XlsxError> {
        match number(value) {
            Some(value) => self.0.number(at, value),
            None => self.0.text(at, value),
        }
    }

    fn formula_text(&mut self, at: At, _: &str, text: &str) -> Result<(), XlsxError> {
        self.0.text(at, text)
    }

    fn marked(&mut self, at: At, text: &str, mark: Mark) -> Result<(), XlsxError> {
        self.0.marked(at, text, mark)
    }

    fn marked_number(&mut self, at: At, value: f64, mark: Mark) -> Result<(), XlsxError> {
        self.0.marked_number(at, value, mark)
    }

    fn height(&mut self, row: u32, pixels: u32) -> Result<(), XlsxError> {
        self.0.height(row, pixels)
    }

    fn note(&mut self, at: At, note: impl FnOnce() -> Note) -> Result<(), XlsxError> {
        self.0.note(at, note)
    }
}

/// A single cell that is worked out from others: its formula with its value, or the value alone where the workbook is to
/// hold values only. A value is the text of a number, another text, or nothing.
pub fn write_live(
    sheet: &mut Worksheet,
    limits: &Limits,
    (row, column): At,
    (formula, value): (&str, &str),
    format: Option<&Format>,
) -> Result<(), XlsxError> {
    let live = || Formula::new(formula).set_result(result(value));
    match (limits.values_only, number(value), format) {
        (false, _, Some(format)) => sheet.write_formula_with_format(row, column, live(), format),
        (false, _, None) => sheet.write_formula(row, column, live()),
        (true, Some(number), Some(format)) => sheet.write_number_with_format(row, column, number, format),
        (true, Some(number), None) => sheet.write_number(row, column, number),
        (true, None, Some(format)) => sheet.write_string_with_format(row, column, value, format),
        (true, None, None) => sheet.write_string(row, column, value),
    }
    .map(|_| ())
}

/// The same of a cell that holds a text, whatever that looks like.
pub fn write_live_text(
    sheet: &mut Worksheet,
    limits: &Limits,
    (row, column): At,
    (formula, text): (&str, &str),
    format: &Format,
) -> Result<(), XlsxError> {
    if limits.values_only {
        return sheet.write_string_with_format(row, column, text, format).map(|_| ());
    }
    let live = Formula::new(formula).set_result(text_result(text));
    sheet.write_formula_with_format(row, column, live, format).map(|_| ())
}

/// A formula's text as [`result`] has it, for the format crate, which takes one that looks like a number, a yes or no or an
/// error for that: the first letter by its number keeps it a text.
pub fn text_result(text: &str) -> Cow<'_, str> {
    let guessed = text.parse::<f64>().is_ok() || matches!(text, "TRUE" | "FALSE") || text.starts_with('#');
    match text.chars().next().filter(|_| guessed) {
        Some(first) => format!("_x{:04X}_{}", u32::from(first), result(&text[first.len_utf8()..])).into(),
        None => result(text),
    }
}

/// A formula's text as the file holds it: letters that XML has not, and what would be read as one, are written by number
/// (ISO/IEC 29500-1, 22.9.2.19). The format crate does so in texts, and not in what formulas come to.
pub fn result(text: &str) -> Cow<'_, str> {
    let is_none = |c: char| c.is_ascii_control() && !matches!(c, '\t' | '\n') || matches!(c, '\u{FFFE}' | '\u{FFFF}');
    if !text.contains(is_none) && escapes(text).next().is_none() {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    let mut written = escapes(text).peekable();
    for (at, c) in text.char_indices() {
        if written.next_if_eq(&at).is_some() {
            out.push_str("_x005F_");
        } else if is_none(c) {
            let _ = write!(out, "_x{:04X}_", u32::from(c));
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

fn number(value: &str) -> Option<f64> {
    value.parse::<f64>().ok().filter(|n| n.is_finite())
}

#[cfg(test)]
mod tests {
    use super::{result, text_result};

    #[test]
    fn letters_that_xml_has_not_are_written_by_number() {
        for plain in ["", "plain", "two\nlines\tand", "_x_", "_x00_", "x0041_", "_x004G_", "ä 🏗"] {
            assert_eq!(result(plain), plain);
        }
        assert_eq!(result("a\u{1}b\r\u{FFFF}"), "a_x0001_b_x000D__xFFFF_");
        assert_eq!((text_result("0012"), text_result("TRUE")), ("_x0030_012".into(), "_x0054_RUE".into()));
        assert_eq!((text_result("#N/A"), text_result("12 a")), ("_x0023_N/A".into(), "12 a".into()));
        assert_eq!(result("_x0041_"), "_x005F_x0041_");
        assert_eq!(result("_x005F_x000D_"), "_x005F_x005F_x005F_x000D_");
    }
}
