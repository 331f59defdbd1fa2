//! A workbook that holds values only: what would be a formula is its value.

use super::Limits;
use super::cells::{At, Cells, Dictionary, Mark};
use rust_xlsxwriter::{Format, Formula, Note, Worksheet, XlsxError};

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
    match (limits.values_only, number(value), format) {
        (false, _, Some(format)) => {
            sheet.write_formula_with_format(row, column, Formula::new(formula).set_result(value), format)
        }
        (false, _, None) => sheet.write_formula(row, column, Formula::new(formula).set_result(value)),
        (true, Some(number), Some(format)) => sheet.write_number_with_format(row, column, number, format),
        (true, Some(number), None) => sheet.write_number(row, column, number),
        (true, None, Some(format)) => sheet.write_string_with_format(row, column, value, format),
        (true, None, None) => sheet.write_string(row, column, value),
    }
    .map(|_| ())
}

fn number(value: &str) -> Option<f64> {
    value.parse::<f64>().ok().filter(|n| n.is_finite())
}
