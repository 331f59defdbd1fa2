//! Where the cells of a table's rows go: into the format crate's sheet or, where a sheet is large, twice past here: once
//! to number their texts, once into the file as text ([`super::text`]).

use super::styles::Styles;
use super::values::text_result;
use indexmap::IndexSet;
use rust_xlsxwriter::{Format, Formula, Note, Workbook, Worksheet, XlsxError};
use rustc_hash::FxBuildHasher;

/// Row and column of a cell, from 0.
pub type At = (u32, u16);

/// A format that single cells have; all others have their column's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A text in place of a number.
    Fault,
    /// The word for what stops.
    Stop,
    /// The word for what warns.
    Warn,
    /// A date that was read.
    Date,
    /// A percent that was read.
    Percent,
    /// A quantity that stays as it was priced, among live ones.
    Still,
}

impl Mark {
    /// All of them.
    pub const ALL: [Self; 6] = [Self::Fault, Self::Stop, Self::Warn, Self::Date, Self::Percent, Self::Still];

    /// Its format.
    pub fn format(self, styles: &Styles) -> &Format {
        match self {
            Self::Fault => &styles.fault,
            Self::Stop => &styles.stop,
            Self::Warn => &styles.warn,
            Self::Date => &styles.date,
            Self::Percent => &styles.percent,
            Self::Still => &styles.still,
        }
    }
}

/// A dictionary whose numbers stand for texts.
#[derive(Clone, Copy, Debug)]
pub enum Dictionary {
    /// That of the rows read.
    Inputs,
    /// That of the columns worked out.
    Run,
}

/// Takes the cells of a table's rows, row by row and from left to right.
pub trait Cells {
    /// Whether it looks at formulas and at the exact numbers of lines; none need be made for who does not.
    const FIGURES: bool = true;

    /// How high a row is, in pixels; said before its cells come.
    fn height(&mut self, row: u32, pixels: u32) -> Result<(), XlsxError>;
    /// A number.
    fn number(&mut self, at: At, value: f64) -> Result<(), XlsxError>;
    /// A text; an empty one is no cell.
    fn text(&mut self, at: At, text: &str) -> Result<(), XlsxError>;
    /// A text that has a number in a dictionary.
    fn known(&mut self, at: At, of: (Dictionary, u32), text: &str) -> Result<(), XlsxError>;
    /// Yes or no.
    fn yes_no(&mut self, at: At, value: bool) -> Result<(), XlsxError>;
    /// A formula, and its value: the text of a number, or nothing.
    fn formula(&mut self, at: At, formula: &str, value: &str) -> Result<(), XlsxError>;
    /// A formula as [`Cells::formula`] takes it, which says in each row of its column the same of that row and of no
    /// other: who has it from another row need not have it made.
    fn alike(&mut self, at: At, make: impl FnOnce(&mut String), value: &str) -> Result<(), XlsxError> {
        let mut formula = String::new();
        make(&mut formula);
        self.formula(at, &formula, value)
    }
    /// A formula, and its value: a text.
    fn formula_text(&mut self, at: At, formula: &str, text: &str) -> Result<(), XlsxError>;
    /// A formula as [`Cells::alike`] takes it, and its value: a text.
    fn alike_text(&mut self, at: At, make: impl FnOnce(&mut String), text: &str) -> Result<(), XlsxError> {
        let mut formula = String::new();
        make(&mut formula);
        self.formula_text(at, &formula, text)
    }
    /// A text with a format of its own.
    fn marked(&mut self, at: At, text: &str, mark: Mark) -> Result<(), XlsxError>;
    /// A number with a format of its own.
    fn marked_number(&mut self, at: At, value: f64, mark: Mark) -> Result<(), XlsxError>;
    /// A note beside the cell.
    fn note(&mut self, at: At, note: impl FnOnce() -> Note) -> Result<(), XlsxError>;
}

/// The format crate's sheet.
pub struct InSheet<'w> {
    /// The sheet.
    pub sheet: &'w mut Worksheet,
    /// Formats of marked cells.
    pub styles: &'w Styles,
}

impl Cells for InSheet<'_> {
    fn height(&mut self, row: u32, pixels: u32) -> Result<(), XlsxError> {
        self.sheet.set_row_height_pixels(row, pixels).map(|_| ())
    }

    fn number(&mut self, (row, column): At, value: f64) -> Result<(), XlsxError> {
        self.sheet.write_number(row, column, value).map(|_| ())
    }

    fn text(&mut self, (row, column): At, text: &str) -> Result<(), XlsxError> {
        self.sheet.write_string(row, column, text).map(|_| ())
    }

    fn known(&mut self, at: At, _: (Dictionary, u32), text: &str) -> Result<(), XlsxError> {
        self.text(at, text)
    }

    fn yes_no(&mut self, (row, column): At, value: bool) -> Result<(), XlsxError> {
        self.sheet.write_boolean(row, column, value).map(|_| ())
    }

    fn formula(&mut self, (row, column): At, formula: &str, value: &str) -> Result<(), XlsxError> {
        self.sheet.write_formula(row, column, Formula::new(formula).set_result(value)).map(|_| ())
    }

    fn formula_text(&mut self, at: At, formula: &str, text: &str) -> Result<(), XlsxError> {
        self.formula(at, formula, &text_result(text))
    }

    fn marked(&mut self, (row, column): At, text: &str, mark: Mark) -> Result<(), XlsxError> {
        self.sheet.write_string_with_format(row, column, text, mark.format(self.styles)).map(|_| ())
    }

    fn marked_number(&mut self, (row, column): At, value: f64, mark: Mark) -> Result<(), XlsxError> {
        self.sheet.write_number_with_format(row, column, value, mark.format(self.styles)).map(|_| ())
    }

    fn note(&mut self, (row, column): At, note: impl FnOnce() -> Note) -> Result<(), XlsxError> {
        self.sheet.insert_note(row, column, &note()).map(|_| ())
    }
}

/// The texts of large sheets with their numbers in the workbook's table of texts, which begins with them.
#[derive(Debug, Default)]
pub struct Numbered {
    texts: IndexSet<Box<str>, FxBuildHasher>,
    /// Numbers of texts by their number in a dictionary; [`NONE`] where there is none yet.
    known: [Vec<u32>; 2],
    /// How many of them the workbook has.
    told: usize,
}

const NONE: u32 = u32::MAX;

impl Numbered {
    fn add(&mut self, text: &str) -> u32 {
        let at = match self.texts.get_index_of(text) {
            Some(at) => at,
            None => self.texts.insert_full(text.into()).0,
        };
        u32::try_from(at).unwrap_or(NONE)
    }

    /// The number of a text that was met.
    pub fn find(&self, text: &str) -> Option<u32> {
        self.texts.get_index_of(text).and_then(|at| u32::try_from(at).ok())
    }

    /// The number of a text that was met, by its number in a dictionary.
    pub fn find_known(&self, (dictionary, id): (Dictionary, u32)) -> Option<u32> {
        self.known[dictionary as usize].get(id as usize).copied().filter(|n| *n != NONE)
    }

    fn add_known(&mut self, (dictionary, id): (Dictionary, u32), text: &str) {
        let known = &self.known[dictionary as usize];
        if known.get(id as usize).is_none_or(|n| *n == NONE) {
            let number = self.add(text);
            let known = &mut self.known[dictionary as usize];
            if known.len() <= id as usize {
                known.resize(id as usize + 1, NONE);
            }
            known[id as usize] = number;
        }
    }

    /// Puts the new texts into the workbook's table, before any other text is there.
    pub fn tell(&mut self, workbook: &mut Workbook) {
        for (at, text) in (0..).zip(&self.texts).skip(self.told) {
            workbook.populate_string_table(text, at);
        }
        self.told = self.texts.len();
    }
}

/// What is needed of a large sheet's rows before the workbook is put together: numbers of texts, notes, marks.
pub struct Gather<'w> {
    numbered: &'w mut Numbered,
    sheet: &'w mut Worksheet,
    /// Which marks were met.
    pub marks: Vec<Mark>,
}

impl<'w> Gather<'w> {
    /// Nothing gathered yet.
    pub fn new(numbered: &'w mut Numbered, sheet: &'w mut Worksheet) -> Self {
        Self { numbered, sheet, marks: Vec::new() }
    }

    fn met(&mut self, mark: Mark) {
        if !self.marks.contains(&mark) {
            self.marks.push(mark);
        }
    }
}

/// What stands for a number that a cell cannot hold.
pub fn no_number(value: f64) -> Option<&'static str> {
    (!value.is_finite()).then_some(if value.is_nan() {
        "NAN"
    } else if value > 0.0 {
        "INF"
    } else {
        "-INF"
    })
}

impl Cells for Gather<'_> {
    const FIGURES: bool = false;

    fn height(&mut self, _: u32, _: u32) -> Result<(), XlsxError> {
        Ok(())
    }

    fn number(&mut self, at: At, value: f64) -> Result<(), XlsxError> {
        no_number(value).map_or(Ok(()), |text| self.text(at, text))
    }

    fn text(&mut self, _: At, text: &str) -> Result<(), XlsxError> {
        if !text.is_empty() {
            self.numbered.add(text);
        }
        Ok(())
    }

    fn known(&mut self, _: At, of: (Dictionary, u32), text: &str) -> Result<(), XlsxError> {
        if !text.is_empty() {
            self.numbered.add_known(of, text);
        }
        Ok(())
    }

    fn yes_no(&mut self, _: At, _: bool) -> Result<(), XlsxError> {
        Ok(())
    }

    fn formula(&mut self, _: At, _: &str, _: &str) -> Result<(), XlsxError> {
        Ok(())
    }

    fn formula_text(&mut self, _: At, _: &str, _: &str) -> Result<(), XlsxError> {
        Ok(())
    }

    fn alike(&mut self, _: At, _: impl FnOnce(&mut String), _: &str) -> Result<(), XlsxError> {
        Ok(())
    }

    fn alike_text(&mut self, _: At, _: impl FnOnce(&mut String), _: &str) -> Result<(), XlsxError> {
        Ok(())
    }

    fn marked(&mut self, at: At, text: &str, mark: Mark) -> Result<(), XlsxError> {
        self.met(mark);
        self.text(at, text)
    }

    fn marked_number(&mut self, at: At, value: f64, mark: Mark) -> Result<(), XlsxError> {
        self.met(mark);
        self.number(at, value)
    }

    fn note(&mut self, (row, column): At, note: impl FnOnce() -> Note) -> Result<(), XlsxError> {
        self.sheet.insert_note(row, column, &note()).map(|_| ())
    }
}
