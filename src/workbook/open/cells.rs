//! Cells of the streaming formats, row by row.

use super::guard::guarded;
use super::metered::Quota;
use super::{EachRow, MOST_COLUMNS, MOST_ROWS, Trouble, date_serial};
use crate::engine::{RawCell, Texts};
use crate::quantity::spelling::read_date;
use crate::source::column_letters;
use calamine::{Data, DataRef, XlsxCellReader, XlsxError};
use std::io::{Read, Seek};

/// A cell as it comes off a stream: row, column, value.
type Placed = Option<(u32, u32, RawCell)>;

/// A cell of a format crate, and whether it shows its number as a percentage.
pub(super) type Styled<'a> = (calamine::Cell<DataRef<'a>>, bool);

/// Whether each style of a workbook shows a number as a percentage.
pub(super) fn percents<R: Read + Seek>(reader: &XlsxCellReader<'_, R>) -> Vec<bool> {
    let code = |s: &calamine::Style| s.number_format.as_ref().is_some_and(|f| shows_percent(&f.format_code));
    reader.styles().iter().map(code).collect()
}

/// The next cell with what its style says of it.
pub(super) fn next<'a, R: Read + Seek>(
    reader: &mut XlsxCellReader<'a, R>,
    percents: &[bool],
) -> Result<Option<Styled<'a>>, XlsxError> {
    let cell = reader.next_cell_with_style_id()?;
    Ok(cell.map(|(cell, style)| (cell, percents.get(style).copied().unwrap_or(false))))
}

/// Whether a number format has a percent sign outside its quoted and escaped parts.
fn shows_percent(code: &str) -> bool {
    let (mut quoted, mut chars) = (false, code.chars());
    while let Some(c) = chars.next() {
        match c {
            '"' => quoted = !quoted,
            '\\' | '_' | '*' if !quoted => drop(chars.next()),
            '%' if !quoted => return true,
            _ => {}
        }
    }
    false
}

/// Turns what a format crate hands out into cells.
pub(super) struct Taker<'a> {
    epoch: f64,
    /// Texts of the shared table that were met lately, by where they lie: most texts of a sheet come again and again.
    met: Vec<Option<(&'a str, RawCell)>>,
}

impl<'a> Taker<'a> {
    const MET: usize = 1 << 10;

    pub(super) fn new(epoch: f64) -> Self {
        Self { epoch, met: vec![None; Self::MET] }
    }

    /// The cell with its place.
    pub(super) fn take<E: ToString>(
        &mut self,
        cell: Result<Option<Styled<'a>>, E>,
        texts: &mut Texts,
    ) -> Result<Placed, String> {
        let Some((cell, percent)) = cell.map_err(|e| e.to_string())? else { return Ok(None) };
        let (row, column) = cell.get_position();
        let value = match cell.get_value() {
            DataRef::SharedString(text) => self.shared(text, texts),
            DataRef::Float(v) if percent => RawCell::Percent(*v),
            other => raw(other, self.epoch, texts),
        };
        Ok(Some((row, column, value)))
    }

    fn shared(&mut self, text: &'a str, texts: &mut Texts) -> RawCell {
        // strings of a table lie 24 bytes or more apart on the heap
        let at = (text.as_ptr().addr() >> 4) % Self::MET;
        if let Some((known, cell)) = self.met[at]
            && std::ptr::eq(known, text)
        {
            return cell;
        }
        let cell = raw_text(text, texts);
        self.met[at] = Some((text, cell));
        cell
    }
}

/// Gathers cells into rows and hands each row out.
pub(super) fn by_row(
    mut cells: impl FnMut(&mut Texts) -> Result<Placed, String>,
    quota: &Quota,
    texts: &mut Texts,
    each: &mut EachRow<'_>,
) -> Result<(), Trouble> {
    let mut line: Vec<(u16, RawCell)> = Vec::new();
    let mut next: Option<(u32, u16, RawCell)> = None;
    let mut last: Option<u32> = None;
    let mut ended = false; // a stream that has ended must not be asked again
    let mut more = |texts: &mut Texts| {
        let cell = if ended { None } else { cells(texts)? };
        ended = cell.is_none();
        Ok(cell)
    };
    loop {
        line.clear();
        quota.renew();
        let row = guarded(|| gather(&mut more, &mut line, &mut next, last, texts))??;
        let Some(row) = row else { return Ok(()) };
        last = Some(row);
        if each(row, &line, texts).is_break() {
            return Ok(());
        }
    }
}

/// The next row that holds anything; `next` is the first cell of the row after it.
fn gather(
    cells: &mut impl FnMut(&mut Texts) -> Result<Placed, String>,
    line: &mut Vec<(u16, RawCell)>,
    next: &mut Option<(u32, u16, RawCell)>,
    last: Option<u32>,
    texts: &mut Texts,
) -> Result<Option<u32>, Trouble> {
    let mut row = None;
    if let Some((r, column, cell)) = next.take() {
        row = Some(r);
        line.push((column, cell));
    }
    let mut ordered = true;
    loop {
        let at = || position(row.or(last), line.last());
        let Some((r, column, cell)) = cells(texts).map_err(|e| Trouble::damaged(format!("{e}{}", at())))? else {
            break;
        };
        if r >= MOST_ROWS {
            return Err(Trouble::damaged(format!("a row beyond {MOST_ROWS}, the last that a sheet can have")));
        }
        if column >= MOST_COLUMNS {
            return Err(too_wide());
        }
        if cell == RawCell::Empty {
            continue;
        }
        if row.or(last).is_some_and(|before| r < before || (row.is_none() && r == before)) {
            return Err(Trouble::damaged(format!("row {} stands after row {}", r + 1, row.or(last).unwrap_or(0) + 1)));
        }
        let column = u16::try_from(column).unwrap_or(u16::MAX);
        if row.is_some_and(|row| r != row) {
            *next = Some((r, column, cell));
            break;
        }
        row = Some(r);
        ordered &= line.last().is_none_or(|(c, _)| *c < column);
        line.push((column, cell));
        if line.len() > MOST_COLUMNS as usize {
            return Err(Trouble::damaged(format!("row {} has more cells than a row can have", r + 1)));
        }
    }
    if !ordered {
        line.sort_by_key(|(column, _)| *column);
        line.dedup_by_key(|(column, _)| *column);
    }
    Ok(row)
}

fn position(row: Option<u32>, cell: Option<&(u16, RawCell)>) -> String {
    match (row, cell) {
        (Some(row), Some((column, _))) => format!(", after cell {}{}", column_letters(*column), row + 1),
        (Some(row), None) => format!(", after row {}", row + 1),
        _ => String::new(),
    }
}

pub(super) fn too_wide() -> Trouble {
    Trouble::damaged(format!("a column beyond {MOST_COLUMNS}, the last that a sheet can have"))
}

/// A text cell: blank ones are empty, and error values that a format keeps as texts are errors.
pub(super) fn raw_text(text: &str, texts: &mut Texts) -> RawCell {
    if !text.as_bytes().first().is_some_and(u8::is_ascii_graphic) && text.trim().is_empty() {
        RawCell::Empty
    } else if text.starts_with('#') && is_error(text.trim()) {
        RawCell::Error(texts.intern(text.trim()))
    } else {
        RawCell::Text(texts.intern(text))
    }
}

/// Error values of spreadsheets, as they are spelled in cells.
fn is_error(text: &str) -> bool {
    const ERRORS: [&str; 12] = [
        "#N/A",
        "#DIV/0!",
        "#NAME?",
        "#NULL!",
        "#NUM!",
        "#REF!",
        "#VALUE!",
        "#SPILL!",
        "#CALC!",
        "#FIELD!",
        "#BUSY!",
        "#GETTING_DATA",
    ];
    ERRORS.contains(&text)
}

fn raw(value: &DataRef<'_>, epoch: f64, texts: &mut Texts) -> RawCell {
    match value {
        DataRef::Empty => RawCell::Empty,
        DataRef::Float(v) => RawCell::Number(*v),
        DataRef::SharedString(s) => raw_text(s, texts),
        DataRef::String(s) => raw_text(s, texts),
        DataRef::Bool(v) => RawCell::YesNo(*v),
        DataRef::DateTime(d) => serial(d.as_f64(), epoch),
        DataRef::Int(v) => whole(*v),
        DataRef::DateTimeIso(s) => iso(s, texts),
        DataRef::DurationIso(s) => raw_text(s, texts),
        DataRef::Error(e) => RawCell::Error(texts.intern(&e.to_string())),
    }
}

pub(super) fn raw_owned(value: &Data, epoch: f64, texts: &mut Texts) -> RawCell {
    match value {
        Data::Empty => RawCell::Empty,
        Data::Float(v) => RawCell::Number(*v),
        Data::String(s) => raw_text(s, texts),
        Data::Bool(v) => RawCell::YesNo(*v),
        Data::DateTime(d) => serial(d.as_f64(), epoch),
        Data::Int(v) => whole(*v),
        Data::DateTimeIso(s) => iso(s, texts),
        Data::DurationIso(s) => raw_text(s, texts),
        Data::Error(e) => RawCell::Error(texts.intern(&e.to_string())),
    }
}

#[allow(clippy::float_arithmetic)] // the edge: a stored cell
fn serial(value: f64, epoch: f64) -> RawCell {
    RawCell::Date(value + epoch)
}

#[allow(clippy::cast_precision_loss)] // formats keep whole numbers of at most 30 bits
fn whole(value: i64) -> RawCell {
    RawCell::Number(value as f64)
}

fn iso(text: &str, texts: &mut Texts) -> RawCell {
    match text.get(..10).and_then(|day| read_date(day).ok()) {
        Some(date) => RawCell::Date(date_serial(date)),
        None => raw_text(text, texts),
    }
}
