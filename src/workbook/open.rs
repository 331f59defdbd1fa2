//! Opens a workbook or a csv text that was read into memory, and hands its cells out row by row.
//!
//! This is the one place that talks to the crates that know the file formats. A file may be damaged or made to
//! harm: its directory is looked at before anything is inflated, every limit is stated here, and a panic in a
//! format crate becomes a [`Problem`].

mod ahead;
mod cells;
mod delimited;
mod guard;
mod metered;
mod old;
mod tags;
mod zipped;

use super::grid::{Cell, Grid};
use super::typed::{Overlay, Typed, laid_over};
use crate::engine::{RawCell, Texts};
use crate::problem::Problem;
use crate::quantity::Date;
use crate::source::CellPlace;
use calamine::{Data, Ods, Reader as _, Xls, Xlsb, Xlsx};
use guard::guarded;
use metered::Metered;
use std::ops::ControlFlow;
use std::sync::Arc;
pub(in crate::workbook) use tags::unescape;

/// The largest file, in bytes.
pub const LARGEST_FILE: usize = 512 << 20;
/// The most that the parts of a workbook may come to when inflated, in bytes.
pub const LARGEST_INFLATED: u64 = 4 << 30;
/// The most that a part other than a worksheet may come to when inflated, in bytes: these are held in memory.
pub const LARGEST_PART: u64 = 512 << 20;
/// How many times larger than in the file a large part may be.
pub const LARGEST_RATIO: u64 = 300;
/// The most sheets in a workbook.
pub const MOST_SHEETS: usize = 1000;
/// The most rows of a sheet (ISO/IEC 29500).
pub const MOST_ROWS: u32 = 1_048_576;
/// The most columns of a sheet (ISO/IEC 29500).
pub const MOST_COLUMNS: u32 = 16_384;
/// The most cells, blank ones between them included, where a sheet is held whole.
pub const MOST_CELLS_HELD: u64 = 20_000_000;

/// The most letters of a cell, in units of UTF-16 (ISO/IEC 29500).
pub const LONGEST_TEXT: usize = 32_767;

type Bytes = metered::Metered;

/// One row as it is handed out: its cells that hold something, by column, in ascending order.
pub type SparseRow = [(u16, RawCell)];

/// What takes rows as they are read: sheet row from 0, its cells, the dictionary of their texts.
pub type EachRow<'a> = dyn FnMut(u32, &SparseRow, &mut Texts) -> ControlFlow<()> + 'a;

enum Format {
    Xlsx(Box<Xlsx<Bytes>>),
    Xlsb(Box<Xlsb<Bytes>>),
    Xls(Box<Xls<Bytes>>),
    Ods(Box<Ods<Bytes>>),
    Delimited(String),
}

/// An opened workbook or csv text.
pub struct Book {
    file: Arc<str>,
    sheets: Vec<Arc<str>>,
    format: Format,
    /// Days to add to a serial date: workbooks that count from 1904.
    epoch: f64,
    /// How much of the file may still be unpacked before the next row is out.
    quota: metered::Quota,
    /// Where the sheets lie, for those formats that let hidden rows be known.
    parts: Option<zipped::Parts>,
    /// What is laid over its cells.
    overlay: Overlay,
}

impl std::fmt::Debug for Book {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Book").field("file", &self.file).field("sheets", &self.sheets).finish_non_exhaustive()
    }
}

/// Opens a workbook (`.xlsx .xlsm .xlsb .xls .ods`) or a delimited text (`.csv .txt`) from its bytes.
///
/// What it is, is told from the bytes; the name serves messages.
///
/// # Errors
/// One clear line: protected, truncated, damaged, not a workbook, larger than a stated limit.
#[allow(clippy::result_large_err)] // met once a file, not once a cell
pub fn open(file_name: &str, bytes: Vec<u8>) -> Result<Book, Problem> {
    let file: Arc<str> = file_name.into();
    let book = opened(&file, bytes);
    book.map_err(|trouble| trouble.problem(&file))
}

/// What keeps a file from being read.
#[derive(Debug)]
pub(super) struct Trouble {
    kind: &'static str,
    what: String,
    fix: Option<&'static str>,
}

impl Trouble {
    fn new(kind: &'static str, what: impl Into<String>) -> Self {
        Self { kind, what: what.into(), fix: None }
    }

    fn fix(mut self, fix: &'static str) -> Self {
        self.fix = Some(fix);
        self
    }

    fn damaged(what: impl std::fmt::Display) -> Self {
        Self::new("damaged file", format!("This workbook is damaged or cut short: {what}."))
            .fix("open it in a spreadsheet program, save it again, or ask for it again")
    }

    fn protected() -> Self {
        Self::new("protected file", "This workbook is protected by a password and cannot be read.")
            .fix("save it without a password")
    }

    fn too_large(what: impl Into<String>) -> Self {
        Self::new("oversized file", what)
    }

    fn not_a_workbook(what: impl Into<String>) -> Self {
        Self::new("not a workbook", what).fix("give a .xlsx, .xlsm, .xlsb, .xls, .ods or .csv file")
    }

    fn problem(self, file: &Arc<str>) -> Problem {
        let problem = Problem::stop(self.kind, self.what).in_file(Arc::clone(file));
        match self.fix {
            Some(fix) => problem.fix(fix),
            None => problem,
        }
    }
}

fn opened(file: &Arc<str>, bytes: Vec<u8>) -> Result<Book, Trouble> {
    if bytes.is_empty() {
        return Err(Trouble::not_a_workbook("This file is empty."));
    }
    if bytes.len() > LARGEST_FILE {
        return Err(Trouble::too_large(format!("This file is larger than {} MB.", LARGEST_FILE >> 20)));
    }
    if bytes.starts_with(b"PK") {
        open_zipped(file, bytes.into())
    } else if bytes.starts_with(&old::SIGNATURE) {
        open_old(file, bytes.into())
    } else {
        let text = delimited::decode(file, bytes)?;
        let book = finished(file, Format::Delimited(text), 0.0)?;
        Ok(Book { sheets: vec!["".into()], ..book })
    }
}

fn open_zipped(file: &Arc<str>, bytes: Arc<[u8]>) -> Result<Book, Trouble> {
    let kind = guarded(|| zipped::look(&bytes))??;
    let quota = metered::Quota::default();
    let cursor = Metered::new(Arc::clone(&bytes), quota.clone());
    let (format, epoch) = match kind {
        zipped::Kind::Xlsx => {
            let book = guarded(|| Xlsx::new(cursor))?.map_err(Trouble::damaged)?;
            let epoch = epoch(book.has_1904_epoch());
            (Format::Xlsx(Box::new(book)), epoch)
        }
        zipped::Kind::Xlsb => {
            let book = guarded(|| Xlsb::new(cursor))?.map_err(Trouble::damaged)?;
            let epoch = epoch(book.has_1904_epoch());
            (Format::Xlsb(Box::new(book)), epoch)
        }
        zipped::Kind::Ods => {
            let book = guarded(|| Ods::new(cursor))?.map_err(|e| match e {
                calamine::OdsError::Password => Trouble::protected(),
                e => Trouble::damaged(e),
            })?;
            (Format::Ods(Box::new(book)), 0.0)
        }
    };
    let mut book = finished(file, format, epoch)?;
    book.quota = quota;
    book.parts = (kind == zipped::Kind::Xlsx).then(|| zipped::Parts::new(bytes));
    Ok(book)
}

fn open_old(file: &Arc<str>, bytes: Arc<[u8]>) -> Result<Book, Trouble> {
    guarded(|| old::look(&bytes))??;
    let book = guarded(|| Xls::new(Metered::new(bytes, metered::Quota::default())))?.map_err(|e| match e {
        calamine::XlsError::Password => Trouble::protected(),
        e => Trouble::damaged(e),
    })?;
    let epoch = epoch(book.has_1904_epoch());
    finished(file, Format::Xls(Box::new(book)), epoch)
}

/// Days between the two counts of days that workbooks use.
fn epoch(from_1904: bool) -> f64 {
    if from_1904 { 1462.0 } else { 0.0 }
}

fn finished(file: &Arc<str>, format: Format, epoch: f64) -> Result<Book, Trouble> {
    let names = match &format {
        Format::Xlsx(b) => worksheets(b.sheets_metadata()),
        Format::Xlsb(b) => worksheets(b.sheets_metadata()),
        Format::Xls(b) => worksheets(b.sheets_metadata()),
        Format::Ods(b) => worksheets(b.sheets_metadata()),
        Format::Delimited(_) => Vec::new(),
    };
    if names.len() > MOST_SHEETS {
        return Err(Trouble::too_large(format!(
            "This workbook has {} sheets; {MOST_SHEETS} is the limit.",
            names.len()
        )));
    }
    if names.is_empty() && !matches!(format, Format::Delimited(_)) {
        return Err(Trouble::not_a_workbook("This workbook has no sheet with cells."));
    }
    let (file, quota, overlay) = (Arc::clone(file), metered::Quota::default(), Overlay::default());
    Ok(Book { file, sheets: names, format, epoch, quota, parts: None, overlay })
}

/// Names of the sheets that hold cells, in their order: charts and macros are passed over.
fn worksheets(sheets: &[calamine::Sheet]) -> Vec<Arc<str>> {
    sheets.iter().filter(|s| s.typ == calamine::SheetType::WorkSheet).map(|s| s.name.as_str().into()).collect()
}

/// Counts the rows of a sheet that are hidden or filtered out of sight.
#[derive(Debug)]
pub struct HiddenRows {
    parts: zipped::Parts,
    sheet: Box<str>,
}

impl HiddenRows {
    /// Whether the sheet is large enough that counting is worth a thread of its own.
    #[must_use]
    pub fn is_long(&self) -> bool {
        self.parts.is_large()
    }

    /// How many there are; `None` where the workbook is laid out in a way that hides it.
    #[must_use]
    pub fn count(&self) -> Option<u32> {
        guarded(|| self.parts.hidden_rows(&self.sheet)).ok().flatten()
    }
}

impl Book {
    /// The file name as the user gave it.
    #[must_use]
    pub fn file(&self) -> &Arc<str> {
        &self.file
    }

    /// Lays what was typed since over its cells: whoever reads them finds it in place of what the file has.
    pub fn lay_over(&mut self, typed: &[Typed]) {
        self.overlay = Overlay::new(typed);
    }

    /// What is laid over its cells.
    #[must_use]
    pub fn overlay(&self) -> &Overlay {
        &self.overlay
    }

    /// The sheets that hold cells, in their order; one without a name for a csv text.
    #[must_use]
    pub fn sheet_names(&self) -> &[Arc<str>] {
        &self.sheets
    }

    /// Whether it is a csv text: one sheet without a name, all cells texts until they are read.
    #[must_use]
    pub fn is_text(&self) -> bool {
        matches!(self.format, Format::Delimited(_))
    }

    /// What counts the hidden rows of a sheet, on any thread; `None` where the format does not let that be known
    /// cheaply (all but `.xlsx` and `.xlsm`).
    #[must_use]
    pub fn hidden_rows(&self, sheet: &str) -> Option<HiddenRows> {
        self.parts.as_ref().map(|parts| HiddenRows { parts: parts.clone(), sheet: sheet.into() })
    }

    /// The sheet of that name: as it stands, then without regard to case and spaces, then without regard to a
    /// plural s.
    #[must_use]
    pub fn sheet_named(&self, name: &str) -> Option<Arc<str>> {
        let folded =
            |s: &str| s.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect::<String>();
        let singular = |s: &str| folded(s).trim_end_matches('s').to_owned();
        let find = |same: &dyn Fn(&str) -> bool| self.sheets.iter().find(|s| same(s)).cloned();
        find(&|s| s == name)
            .or_else(|| find(&|s| folded(s) == folded(name)))
            .or_else(|| find(&|s| singular(s) == singular(name)))
    }

    /// Hands the rows of a sheet out one by one, top to bottom, without holding the sheet (`.xlsx`, `.xlsb` and
    /// csv; the crates for the other two formats hold it). Rows without a value are passed over. `each` may stop.
    ///
    /// # Errors
    /// A sheet that is not there; damage found on the way; more rows or columns than a sheet can have; a text longer than
    /// a cell can hold, which could not be written again.
    #[allow(clippy::result_large_err)] // met once a file, not once a cell
    pub fn stream(&mut self, sheet: &str, texts: &mut Texts, each: &mut EachRow<'_>) -> Result<(), Problem> {
        let mut long = None;
        self.rows_with_typed(sheet, texts, &mut |row, cells, texts| {
            // bytes are at least as many as letters, and few sheets have a text of so many
            if texts.longest() > LONGEST_TEXT {
                long = cells.iter().find(|(_, cell)| is_too_long(*cell, texts)).map(|(column, _)| (row, *column));
                if long.is_some() {
                    return ControlFlow::Break(());
                }
            }
            each(row, cells, texts)
        })?;
        let Some((row, column)) = long else { return Ok(()) };
        let place = CellPlace { file: Arc::clone(&self.file), sheet: sheet.into(), row, column: Some(column) };
        let what = format!("The text in {} is longer than the 32,767 letters that a cell holds.", place.address());
        Err(Problem::stop("text too long", what).at_cell(place).fix("shorten it"))
    }

    /// The rows with what is laid over them, those among them where the file has nothing.
    #[allow(clippy::result_large_err)] // met once a file, not once a cell
    fn rows_with_typed(&mut self, sheet: &str, texts: &mut Texts, each: &mut EachRow<'_>) -> Result<(), Problem> {
        let Some(mut over) = self.overlay.rows_of(sheet) else { return self.rows_of(sheet, texts, each) };
        let mut stopped = false;
        self.rows_of(sheet, texts, &mut |row, cells, texts| {
            while let Some(typed) = over.first_entry().filter(|typed| *typed.key() <= row) {
                let (at, typed) = typed.remove_entry();
                let here: &SparseRow = if at == row { cells } else { &[] };
                let whole = laid_over(here, &typed, texts);
                let flow = if whole.is_empty() { ControlFlow::Continue(()) } else { each(at, &whole, texts) };
                stopped = flow.is_break();
                if stopped || at == row {
                    return flow;
                }
            }
            let flow = each(row, cells, texts);
            stopped = flow.is_break();
            flow
        })?;
        for (at, typed) in over.into_iter().filter(|_| !stopped) {
            let whole = laid_over(&[], &typed, texts);
            if !whole.is_empty() && each(at, &whole, texts).is_break() {
                break;
            }
        }
        Ok(())
    }

    #[allow(clippy::result_large_err)] // met once a file, not once a cell
    fn rows_of(&mut self, sheet: &str, texts: &mut Texts, each: &mut EachRow<'_>) -> Result<(), Problem> {
        let file = Arc::clone(&self.file);
        let epoch = self.epoch;
        let quota = self.quota.clone();
        quota.renew();
        let large = self.parts.as_ref().is_some_and(zipped::Parts::is_large);
        let done = match &mut self.format {
            Format::Xlsx(b) if large => ahead::by_row(b, sheet, epoch, &quota, texts, each),
            Format::Xlsx(b) => guarded(|| b.worksheet_cells_reader(sheet))
                .and_then(|r| r.map_err(Trouble::damaged))
                .and_then(|mut reader| {
                    let mut taker = cells::Taker::new(epoch);
                    let percents = cells::percents(&reader);
                    let next = |t: &mut Texts| taker.take(cells::next(&mut reader, &percents), t);
                    cells::by_row(next, &quota, texts, each)
                }),
            Format::Xlsb(b) => guarded(|| b.worksheet_cells_reader(sheet))
                .and_then(|r| r.map_err(Trouble::damaged))
                .and_then(|mut reader| {
                    let mut taker = cells::Taker::new(epoch);
                    let mut plain = move || Ok::<_, calamine::XlsbError>(reader.next_cell()?.map(|c| (c, false)));
                    cells::by_row(|t| taker.take(plain(), t), &quota, texts, each)
                }),
            Format::Xls(b) => guarded(|| b.worksheet_range(sheet))
                .and_then(|r| r.map_err(Trouble::damaged))
                .and_then(|range| range_by_row(&range, epoch, texts, each)),
            Format::Ods(b) => guarded(|| b.worksheet_range(sheet))
                .and_then(|r| r.map_err(Trouble::damaged))
                .and_then(|range| range_by_row(&range, epoch, texts, each)),
            Format::Delimited(text) => delimited::by_row(text, texts, each),
        };
        quota.lift();
        done.map_err(|trouble| in_sheet(trouble, &file, sheet))
    }

    /// Hands the formulas of a sheet out with their rows and columns from 0; other formats than `.xlsx` have none here.
    ///
    /// # Errors
    /// A sheet that is not there; damage found on the way.
    #[allow(clippy::result_large_err)] // met once a file, not once a cell
    pub fn formulas(&mut self, sheet: &str, each: &mut dyn FnMut(u32, u32, &str)) -> Result<(), Problem> {
        let (file, quota) = (Arc::clone(&self.file), self.quota.clone());
        let Format::Xlsx(book) = &mut self.format else { return Ok(()) };
        quota.renew();
        let mut all = || {
            let mut reader = book.worksheet_cells_reader(sheet).map_err(Trouble::damaged)?;
            while let Some(cell) = reader.next_formula().map_err(Trouble::damaged)? {
                quota.renew();
                let (row, column) = cell.get_position();
                if !cell.get_value().is_empty() {
                    each(row, column, cell.get_value());
                }
            }
            Ok(())
        };
        let done = guarded(&mut all).and_then(|done| done);
        quota.lift();
        done.map_err(|trouble| in_sheet(trouble, &file, sheet))
    }

    /// A whole sheet in memory, for small ones such as a price book.
    ///
    /// # Errors
    /// As for [`Book::stream`]; a sheet of more than [`MOST_CELLS_HELD`] cells.
    #[allow(clippy::result_large_err)] // met once a file, not once a cell
    pub fn grid(&mut self, sheet: &str) -> Result<Grid, Problem> {
        let mut texts = Texts::default();
        let mut rows: Vec<Vec<Cell>> = Vec::new();
        let (mut held, mut over) = (0u64, false);
        self.stream(sheet, &mut texts, &mut |row, cells, texts| {
            let width = cells.last().map_or(0, |(c, _)| usize::from(*c) + 1);
            held += width as u64 + u64::from(row).saturating_sub(rows.len() as u64);
            if held > MOST_CELLS_HELD {
                over = true;
                return ControlFlow::Break(());
            }
            rows.resize_with(row as usize, Vec::new);
            let mut line = vec![Cell::Empty; width];
            for (column, cell) in cells {
                line[usize::from(*column)] = held_cell(*cell, texts);
            }
            rows.push(line);
            ControlFlow::Continue(())
        })?;
        if over {
            let trouble = Trouble::too_large(format!("This sheet has more than {MOST_CELLS_HELD} cells."));
            return Err(in_sheet(trouble, &self.file, sheet));
        }
        Ok(Grid { file: Arc::clone(&self.file), sheet: sheet.into(), rows })
    }
}

/// Whether a text has more letters, in units of UTF-16, than a cell holds.
fn is_too_long(cell: RawCell, texts: &Texts) -> bool {
    let RawCell::Text(id) = cell else { return false };
    let text = texts.get(id);
    text.len() > LONGEST_TEXT && text.encode_utf16().count() > LONGEST_TEXT
}

/// The trouble with its sheet named, where there is one.
fn in_sheet(trouble: Trouble, file: &Arc<str>, sheet: &str) -> Problem {
    let mut problem = trouble.problem(file);
    if !sheet.is_empty() {
        problem.what = format!("Sheet {sheet} cannot be read. {}", problem.what);
    }
    problem
}

fn held_cell(cell: RawCell, texts: &Texts) -> Cell {
    match cell {
        RawCell::Empty => Cell::Empty,
        RawCell::Number(v) | RawCell::Percent(v) => Cell::Number(v),
        RawCell::Text(id) => Cell::Text(Arc::clone(texts.get(id))),
        RawCell::YesNo(v) => Cell::YesNo(v),
        RawCell::Date(v) => Cell::Date(v),
        RawCell::Error(id) => Cell::Error(Arc::clone(texts.get(id))),
    }
}

/// The rows of a sheet that a format crate holds whole.
fn range_by_row(
    range: &calamine::Range<Data>,
    epoch: f64,
    texts: &mut Texts,
    each: &mut EachRow<'_>,
) -> Result<(), Trouble> {
    let (top, left) = range.start().unwrap_or((0, 0));
    let mut line = Vec::new();
    for (offset, cells) in range.rows().enumerate() {
        line.clear();
        for (column, data) in cells.iter().enumerate() {
            let cell = cells::raw_owned(data, epoch, texts);
            if cell != RawCell::Empty {
                let column = left as usize + column;
                line.push((u16::try_from(column).map_err(|_| cells::too_wide())?, cell));
            }
        }
        let row = u32::try_from(offset).unwrap_or(u32::MAX).saturating_add(top);
        if !line.is_empty() && each(row, &line, texts).is_break() {
            break;
        }
    }
    Ok(())
}

/// The date of a serial number counted from 1900, in the way that counts a 29 February 1900 that never was.
#[must_use]
#[allow(clippy::float_arithmetic, clippy::cast_possible_truncation)] // the edge: a stored cell
pub fn serial_date(serial: f64) -> Option<Date> {
    if !(1.0..2_958_466.0).contains(&serial) {
        return None;
    }
    let days = serial.floor() as i32;
    let days = if days < 60 { days + 1 } else { days };
    Date::constant(1899, 12, 30).checked_add(jiff::ToSpan::days(days)).ok()
}

/// The name of a month, counted from 1.
#[must_use]
pub fn month_name(month: i8) -> &'static str {
    const NAMES: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    usize::try_from(month).ok().and_then(|m| NAMES.get(m.wrapping_sub(1))).copied().unwrap_or("")
}

/// The serial number of a date.
#[must_use]
pub fn date_serial(date: Date) -> f64 {
    let days = date.since(Date::constant(1899, 12, 30)).map_or(0, |s| s.get_days());
    f64::from(days)
}

/// The place of a cell of this file.
#[must_use]
pub fn place(file: &Arc<str>, sheet: &Arc<str>, row: u32, column: Option<u16>) -> CellPlace {
    CellPlace { file: Arc::clone(file), sheet: Arc::clone(sheet), row, column }
}
