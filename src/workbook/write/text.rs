//! The rows of a large sheet as the text of a worksheet part (ISO/IEC 29500-1, 18.3.1), several times quicker than a
//! cell at a time through the format crate. All else of the sheet is that crate's: formats, widths, headings.

use super::cells::{At, Cells, Dictionary, Mark, Numbered, no_number};
use super::values::result;
use crate::source::column_letters;
use rust_xlsxwriter::{Note, XlsxError};
use std::sync::mpsc::SyncSender;

/// Bytes of text that are handed over at once.
const PIECE: usize = 1 << 18;

/// A sheet as the format crate made it, with samples in place of its rows.
#[derive(Debug)]
pub struct Frame<'x> {
    /// What stands before the rows.
    pub head: &'x str,
    /// What stands after them.
    pub tail: &'x str,
    /// Attributes that each row has besides its number.
    row: String,
    /// The last row, from 0.
    last: u32,
    /// For each column how a cell begins, and what follows its row: the end of its place, and its format.
    columns: Vec<(String, String)>,
    /// The same end for marked cells.
    marks: [String; Mark::ALL.len()],
}

impl<'x> Frame<'x> {
    /// Finds the samples: one cell for each mark met in the row `first`, one for each column in the row `last` (from
    /// 0). `None` where the part is not laid out so.
    pub fn new(part: &'x str, first: u32, last: u32, columns: u16, met: &[Mark]) -> Option<Self> {
        let row = |row: u32| part.find(&format!("<row r=\"{}\"", row + 1));
        let end = part.find("</sheetData>")?;
        let last_at = row(last)?;
        let start = if met.is_empty() { last_at } else { row(first)? };
        // rows may follow that are not among these
        let end = last_at + part.get(last_at..end)?.find("</row>")? + "</row>".len();
        let tag = part.get(last_at..end)?.split_once('>')?.0;
        let attributes = tag.split(' ').skip(2).filter(|a| !a.starts_with("spans="));
        let end_of = |style: Option<&str>| style.map_or("\"".to_owned(), |s| format!("\" s=\"{s}\""));
        let styles: Vec<String> = styles(part.get(last_at..end)?).map(end_of).collect();
        let mut marks: [String; Mark::ALL.len()] = Default::default();
        for (mark, style) in met.iter().zip(self::styles(part.get(start..last_at)?)) {
            marks[*mark as usize] = end_of(style);
        }
        let columns: Vec<_> = (0..columns).map(|c| format!("<c r=\"{}", column_letters(c))).zip(styles).collect();
        let row = attributes.fold(String::new(), |row, a| row + " " + a);
        Some(Self { head: part.get(..start)?, tail: part.get(end..)?, row, last, columns, marks })
    }
}

/// The formats of the cells of a row.
fn styles(row: &str) -> impl Iterator<Item = Option<&str>> {
    row.split("<c ").skip(1).map(|cell| {
        let tag = cell.split_once('>').map_or(cell, |(tag, _)| tag);
        tag.split_once(" s=\"").and_then(|(_, style)| style.split_once('"')).map(|(style, _)| style)
    })
}

/// Takes cells and hands their text on, a piece at a time.
pub struct RowText<'a> {
    numbered: &'a Numbered,
    frame: &'a Frame<'a>,
    to: SyncSender<Vec<u8>>,
    out: Vec<u8>,
    /// Number of the row that is open, from 1; 0 where none is.
    row: u32,
    /// A row that is higher than the others, from 0, and its pixels.
    tall: Option<(u32, u32)>,
    digits: Vec<u8>,
    buffer: zmij::Buffer,
    /// Cells that refer to the table of texts.
    pub texts: u64,
    shared: Shared,
    /// By column the group of the formula that its cells have alike.
    alike: Vec<Option<u32>>,
}

impl<'a> RowText<'a> {
    /// Begins a sheet's rows.
    pub fn new(numbered: &'a Numbered, frame: &'a Frame<'a>, to: SyncSender<Vec<u8>>) -> Self {
        let (out, digits, buffer) = (Vec::with_capacity(PIECE + (PIECE >> 3)), Vec::new(), zmij::Buffer::new());
        let (shared, alike) = (Shared::default(), vec![None; frame.columns.len()]);
        Self { numbered, frame, to, out, row: 0, tall: None, digits, buffer, texts: 0, shared, alike }
    }

    /// Ends the last row and hands on what is left.
    pub fn end(mut self) -> u64 {
        self.end_row();
        // who listens has met trouble where this fails, and says so
        let _ = self.to.send(self.out);
        self.texts
    }

    fn put(&mut self, text: &str) {
        self.out.extend_from_slice(text.as_bytes());
    }

    fn end_row(&mut self) {
        if self.row > 0 {
            self.put("</row>");
        }
    }

    fn new_row(&mut self, row: u32) {
        self.end_row();
        if self.out.len() >= PIECE {
            let next = Vec::with_capacity(PIECE + (PIECE >> 3));
            let _ = self.to.send(std::mem::replace(&mut self.out, next));
        }
        self.row = row;
        self.digits.clear();
        whole(&mut self.digits, row);
        self.put("<row r=\"");
        self.out.extend_from_slice(&self.digits);
        self.put("\"");
        match self.tall.take().filter(|(at, _)| at + 1 == row) {
            Some((_, pixels)) => self.own_height(pixels),
            None => self.put(&self.frame.row),
        }
        self.put(">");
    }

    /// A row's height in points, three to four pixels, and that it was said.
    fn own_height(&mut self, pixels: u32) {
        let quarters = pixels.saturating_mul(3);
        self.put(" ht=\"");
        whole(&mut self.out, quarters / 4);
        self.put(["", ".25", ".5", ".75"][quarters as usize % 4]);
        self.put("\" customHeight=\"1\"");
    }

    /// Begins a cell: `<c r="B7" s="2"`.
    fn cell(&mut self, (row, column): At, mark: Option<Mark>) -> Result<(), XlsxError> {
        if self.row != row + 1 {
            self.new_row(row + 1);
        }
        let Some((begin, end)) = self.frame.columns.get(usize::from(column)) else {
            return Err(XlsxError::RowColumnLimitError);
        };
        self.out.extend_from_slice(begin.as_bytes());
        self.out.extend_from_slice(&self.digits);
        self.out.extend_from_slice(mark.map_or(end, |m| &self.frame.marks[m as usize]).as_bytes());
        Ok(())
    }

    fn figure(&mut self, at: At, value: f64, mark: Option<Mark>) -> Result<(), XlsxError> {
        if let Some(text) = no_number(value) {
            return self.numbered_text(at, self.numbered.find(text), mark);
        }
        self.cell(at, mark)?;
        self.put("><v>");
        self.out.extend_from_slice(self.buffer.format_finite(value).as_bytes());
        self.put("</v></c>");
        Ok(())
    }

    /// Text as it stands in a part.
    fn escaped(&mut self, text: &str) {
        let mut rest = text;
        while let Some(i) = rest.bytes().position(|b| matches!(b, b'&' | b'<' | b'>')) {
            self.put(&rest[..i]);
            self.put(match rest.as_bytes()[i] {
                b'&' => "&amp;",
                b'<' => "&lt;",
                _ => "&gt;",
            });
            rest = &rest[i + 1..];
        }
        self.put(rest);
    }

    /// Begins a cell whose formula comes to a number, or to nothing.
    fn begin_formula(&mut self, at: At, value: &str) -> Result<(), XlsxError> {
        self.cell(at, None)?;
        self.put(if value.is_empty() { " t=\"str\"" } else { "" });
        Ok(())
    }

    fn end_formula(&mut self, value: &str) {
        self.put("<v>");
        self.put(value);
        self.put("</v></c>");
    }

    /// A cell's formula; once for all the cells of a column that have the same one, each in its own row. The group of
    /// those that have it.
    fn formula_of(&mut self, (row, column): At, formula: &str) -> Option<u32> {
        let group = match self.shared.of(row, column, formula) {
            Sharing::Alone => {
                self.put("><f>");
                None
            }
            Sharing::First(group) => {
                let (begin, _) = self.frame.columns.get(usize::from(column))?;
                let letters = begin.rsplit('"').next().unwrap_or_default();
                let (from, to) = (row + 1, self.frame.last + 1);
                self.put(&format!("><f t=\"shared\" ref=\"{letters}{from}:{letters}{to}\" si=\"{group}\">"));
                Some(group)
            }
            Sharing::Another(group) => {
                self.another(group);
                return Some(group);
            }
        };
        self.escaped(formula);
        self.put("</f>");
        group
    }

    /// The formula that a group of cells has.
    fn another(&mut self, group: u32) {
        self.put("><f t=\"shared\" si=\"");
        whole(&mut self.out, group);
        self.put("\"/>");
    }

    fn numbered_text(&mut self, at: At, number: Option<u32>, mark: Option<Mark>) -> Result<(), XlsxError> {
        let number = number.ok_or_else(|| XlsxError::ParameterError("a text without a number".to_owned()))?;
        self.cell(at, mark)?;
        self.put(" t=\"s\"><v>");
        whole(&mut self.out, number);
        self.put("</v></c>");
        self.texts += 1;
        Ok(())
    }
}

impl Cells for RowText<'_> {
    fn height(&mut self, row: u32, pixels: u32) -> Result<(), XlsxError> {
        self.tall = Some((row, pixels));
        Ok(())
    }

    fn number(&mut self, at: At, value: f64) -> Result<(), XlsxError> {
        self.figure(at, value, None)
    }

    fn text(&mut self, at: At, text: &str) -> Result<(), XlsxError> {
        if text.is_empty() { Ok(()) } else { self.numbered_text(at, self.numbered.find(text), None) }
    }

    fn known(&mut self, at: At, of: (Dictionary, u32), text: &str) -> Result<(), XlsxError> {
        if text.is_empty() { Ok(()) } else { self.numbered_text(at, self.numbered.find_known(of), None) }
    }

    fn yes_no(&mut self, at: At, value: bool) -> Result<(), XlsxError> {
        self.cell(at, None)?;
        self.put(if value { " t=\"b\"><v>1</v></c>" } else { " t=\"b\"><v>0</v></c>" });
        Ok(())
    }

    fn formula(&mut self, at: At, formula: &str, value: &str) -> Result<(), XlsxError> {
        self.begin_formula(at, value)?;
        self.formula_of(at, formula);
        self.end_formula(value);
        Ok(())
    }

    fn alike(&mut self, at: At, make: impl FnOnce(&mut String), value: &str) -> Result<(), XlsxError> {
        self.begin_formula(at, value)?;
        let column = usize::from(at.1);
        match self.alike.get(column).copied().flatten() {
            Some(group) => self.another(group),
            None => {
                let mut formula = String::new();
                make(&mut formula);
                let group = self.formula_of(at, &formula);
                if let Some(alike) = self.alike.get_mut(column) {
                    *alike = group;
                }
            }
        }
        self.end_formula(value);
        Ok(())
    }

    fn formula_text(&mut self, at: At, formula: &str, text: &str) -> Result<(), XlsxError> {
        self.cell(at, None)?;
        self.put(" t=\"str\"");
        self.formula_of(at, formula);
        self.put("<v>");
        self.escaped(&result(text));
        self.put("</v></c>");
        Ok(())
    }

    fn marked(&mut self, at: At, text: &str, mark: Mark) -> Result<(), XlsxError> {
        if text.is_empty() {
            self.cell(at, Some(mark))?;
            self.put("/>");
            return Ok(());
        }
        self.numbered_text(at, self.numbered.find(text), Some(mark))
    }

    fn marked_number(&mut self, at: At, value: f64, mark: Mark) -> Result<(), XlsxError> {
        self.figure(at, value, Some(mark))
    }

    fn note(&mut self, _: At, _: impl FnOnce() -> Note) -> Result<(), XlsxError> {
        Ok(())
    }
}

/// Most formulas of one column that are looked for again.
const SHAPES: usize = 6;

/// How a cell comes by its formula.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sharing {
    /// It has its own.
    Alone,
    /// It is the first of a group.
    First(u32),
    /// It has that of its group.
    Another(u32),
}

/// The formulas that cells of a column share (ISO/IEC 29500-1, 18.3.1.40): in each the same, but for its own row. A formula
/// that tells of another sheet is none of them; not every reader takes such a one from another cell.
#[derive(Debug, Default)]
struct Shared {
    /// For each column what its formulas say without their row, and their groups.
    columns: Vec<Vec<(Vec<u8>, u32)>>,
    groups: u32,
    shape: Vec<u8>,
}

impl Shared {
    fn of(&mut self, row: u32, column: u16, formula: &str) -> Sharing {
        if !self.takes(row + 1, formula) {
            return Sharing::Alone;
        }
        let column = usize::from(column);
        if self.columns.len() <= column {
            self.columns.resize_with(column + 1, Vec::new);
        }
        let shapes = &mut self.columns[column];
        if let Some((_, group)) = shapes.iter().find(|(shape, _)| *shape == self.shape) {
            return Sharing::Another(*group);
        }
        if shapes.len() == SHAPES {
            return Sharing::Alone;
        }
        shapes.push((self.shape.clone(), self.groups));
        self.groups += 1;
        Sharing::First(self.groups - 1)
    }

    /// Takes what a formula says without the number of its row, where it tells of that row at all and of no other row that
    /// would move along.
    fn takes(&mut self, row: u32, formula: &str) -> bool {
        self.shape.clear();
        if formula.contains('!') {
            return false;
        }
        let bytes = formula.as_bytes();
        let (mut at, mut quoted, mut tells) = (0, false, false);
        while let Some(byte) = bytes.get(at) {
            quoted ^= *byte == b'"';
            let word = |from: usize| bytes[from..].iter().take_while(|b| b.is_ascii_alphanumeric()).count();
            let length = if quoted { 0 } else { word(at) };
            if length == 0 {
                self.shape.push(*byte);
                at += 1;
                continue;
            }
            let (name, after) = (&bytes[at..at + length], bytes.get(at + length));
            let letters = name.iter().take_while(|b| b.is_ascii_alphabetic()).count();
            let digits = &name[letters..];
            at += length;
            self.shape.extend_from_slice(&name[..letters]);
            // a row that moves along, neither a figure nor a row behind a '$' nor part of a function's name
            if letters == 0 || digits.is_empty() || after == Some(&b'(') {
                self.shape.extend_from_slice(digits);
                continue;
            }
            if std::str::from_utf8(digits).ok().and_then(|d| d.parse().ok()) != Some(row) {
                return false;
            }
            self.shape.push(0);
            tells = true;
        }
        tells
    }
}

/// A whole number in digits.
fn whole(out: &mut Vec<u8>, mut value: u32) {
    let mut digits = [0u8; 10];
    let mut at = digits.len();
    loop {
        at -= 1;
        digits[at] = b'0' + u8::try_from(value % 10).unwrap_or(0);
        value /= 10;
        if value == 0 {
            break;
        }
    }
    out.extend_from_slice(&digits[at..]);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_share_what_differs_by_their_row_alone() {
        let mut shared = Shared::default();
        let mut of = |row: u32, column, formula: &str| shared.of(row, column, formula);
        assert_eq!(of(2, 0, "B3*(1+$C3)&\"B3\"&LOG10(3)"), Sharing::First(0));
        // a text, a figure and a function's name are no rows
        assert_eq!(of(3, 0, "B4*(1+$C4)&\"B3\"&LOG10(3)"), Sharing::Another(0));
        assert_eq!(of(4, 0, "B5*(1+$C5)&\"B5\"&LOG10(3)"), Sharing::First(1));
        assert_eq!(of(5, 0, "B6*(1+$C6)&\"B3\"&LOG10(6)"), Sharing::First(2));
        // each column has its own
        assert_eq!(of(3, 1, "B4*(1+$C4)&\"B3\"&LOG10(3)"), Sharing::First(3));
        // a row that stays is shared as well, one that would move along with another's is not
        assert_eq!(of(2, 2, "SUM(A3,A$9)"), Sharing::First(4));
        assert_eq!(of(7, 2, "SUM(A8,A$9)"), Sharing::Another(4));
        assert_eq!(of(8, 2, "SUM(A9,A$9)"), Sharing::Another(4));
        assert_eq!(of(9, 2, "SUM(A10,A9)"), Sharing::Alone);
        assert_eq!(of(2, 3, "Prices!$G$20+A3"), Sharing::Alone);
        assert_eq!(of(2, 3, "1+1"), Sharing::Alone);
    }

    #[test]
    fn a_column_keeps_no_more_formulas_than_it_looks_through() {
        let mut shared = Shared::default();
        for shape in 0..SHAPES {
            assert_eq!(shared.of(2, 0, &format!("A3+{shape}")), Sharing::First(u32::try_from(shape).unwrap_or(0)));
        }
        assert_eq!(shared.of(2, 0, "A3-1"), Sharing::Alone);
        assert_eq!(shared.of(3, 0, "A4+0"), Sharing::Another(0));
    }
}
