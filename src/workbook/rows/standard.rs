//! A table of a rule book whose rows stand on a sheet of a workbook.

use super::cell::{FieldReader, Good, Reading, cell_text};
use super::table::{blank, refused};
use super::{near_sheet, no_sheet};
use crate::engine::{RawCell, Texts};
use crate::notation::tree::{Expr, FromSheet, Literal, Node, OnSheet, TableBlock, TableRow};
use crate::problem::Problem;
use crate::program::declare::plain_words;
use crate::program::schema::{Field, Flavor, Input, KindId, SiteId, Type};
use crate::program::types::read_type;
use crate::quantity::show::{Style, show};
use crate::quantity::{Date, Decimal, Dimension, Number, Unit};
use crate::source::{CellPlace, Span, Text};
use crate::workbook::headings::{self, Headings, ROWS_SEARCHED, Wanted, quoted};
use crate::workbook::open::Book;
use jiff::ToSpan as _;
use std::collections::BTreeSet;
use std::ops::ControlFlow;
use std::sync::Arc;

/// Most rows of one table.
pub const MOST_TABLE_ROWS: usize = 20_000;
/// Most cells of a sheet that are told as wrong, one by one.
const MOST_TOLD: usize = 20;

/// Reads the rows of a table from its sheet: the headings are found as those of rooms are, and every row below them that
/// holds something in a column of the table is a row of it.
///
/// # Errors
/// A missing sheet or heading; every cell that is blank, of another type or without a unit; a formula without a stored value; a
/// sheet without rows, or with more than [`MOST_TABLE_ROWS`]. Types that are not known give no rows: they are told with the
/// table.
pub fn table_rows(book: &mut Book, table: &TableBlock, from: &FromSheet) -> Result<Vec<TableRow>, Vec<Problem>> {
    let Some(fields) = fields(table) else { return Ok(Vec::new()) };
    let one = |problem: Problem| vec![problem];
    let sheet = if book.is_text() {
        book.sheet_names().first().cloned()
    } else {
        Some(book.sheet_named(&from.sheet).ok_or_else(|| one(no_table_sheet(book, table, from)))?)
    };
    let Some(sheet) = sheet else { return Ok(Vec::new()) };
    let mut texts = Texts::default();
    let place = Sheet { file: Arc::clone(book.file()), sheet: Arc::clone(&sheet) };
    let readers = fields.iter().filter_map(|field| reader(field, book.is_text(), &mut texts)).collect();
    let mut reading = Sheeted::new(table, place, readers);
    book.stream(&sheet, &mut texts, &mut |row, cells, texts| reading.take(row, cells, texts)).map_err(one)?;
    if reading.found.is_none() && reading.wrong.is_empty() {
        let _ = reading.start(&mut texts);
    }
    reading.finish(book, &sheet)
}

/// Tells that a workbook lacks the sheet of a table, where the table names it: it is the book that may be wrong.
fn no_table_sheet(book: &Book, table: &TableBlock, from: &FromSheet) -> Problem {
    let Problem { fix, places: _, what, .. } = no_sheet(book, &from.sheet, "table");
    let what = format!("The table {} finds no sheet in {}. {what}", table.name.name, book.file());
    let fix = match near_sheet(book, &from.sheet) {
        Some(near) => format!("from sheet \"{near}\", or {}", fix.unwrap_or_default()),
        None => fix.unwrap_or_default(),
    };
    Problem::stop("missing sheet", what).fix(fix)
}

/// A field for each column, by which its cells are read; nothing where a type is not known.
fn fields(table: &TableBlock) -> Option<Vec<Field>> {
    let field = |column: &crate::notation::tree::TableColumn| {
        let (ty, unit) = read_type(&column.ty.text).ok()?;
        if matches!(ty, Type::Thing(_)) {
            return None;
        }
        let own = plain_words(&column.name.name);
        let mut headings = column.headings.clone();
        headings.push(own);
        // a type that is a unit serves numbers without one
        let shown = unit.map(|unit| (column.ty.text.clone(), unit));
        let least = (!matches!(ty, Type::COUNT)).then(|| Number::from(-1_000_000_000_000i64));
        Some(Field {
            kind: KindId(0),
            name: column.name.name.clone(),
            label: headings[0].clone(),
            ty,
            unit: Unit::kept(ty.dimension().unwrap_or_default()),
            style: Style { unit: shown, percent: ty == Type::PERCENT, ..Style::default() },
            input: Some(Input {
                headings,
                may_be_blank: false,
                default: None,
                stock_of: None,
                // what a book may write in a table, a sheet may hold: a length below zero as well
                low: least.map(|least| (least, true)),
                high: None,
                one_of: Vec::new(),
                missing: SiteId(0),
                unreadable: SiteId(0),
            }),
            hidden: false,
            note: None,
            source: None,
            text: Text::new("a sheet", ""),
            span: Span::default(),
        })
    };
    table.columns.iter().map(field).collect()
}

fn reader<'f>(field: &'f Field, from_text: bool, texts: &mut Texts) -> Option<FieldReader<'f>> {
    let mut reader = FieldReader::new(field, field.input.as_ref()?, None, texts);
    reader.from_text = from_text;
    Some(reader)
}

/// Where the sheet is.
struct Sheet {
    file: Arc<str>,
    sheet: Arc<str>,
}

impl Sheet {
    fn place(&self, row: u32, column: Option<u16>) -> CellPlace {
        CellPlace { file: Arc::clone(&self.file), sheet: Arc::clone(&self.sheet), row, column }
    }
}

/// A row as it is read: its sheet row, a value and a text for each column.
struct Read {
    row: u32,
    cells: Vec<(Node, String)>,
}

struct Sheeted<'a> {
    table: &'a TableBlock,
    at: Sheet,
    readers: Vec<FieldReader<'a>>,
    wanted: Vec<Wanted>,
    head: Vec<(u32, Vec<(u16, RawCell)>)>,
    found: Option<Headings>,
    /// The column of the sheet that each column of the table is read from.
    columns: Vec<u16>,
    rows: Vec<Read>,
    blanks: Vec<(u32, usize)>,
    wrong: Vec<Problem>,
}

impl<'a> Sheeted<'a> {
    fn new(table: &'a TableBlock, at: Sheet, readers: Vec<FieldReader<'a>>) -> Self {
        let wanted = readers.iter().map(|r| Wanted {
            label: r.field.label.clone(),
            headings: r.input.headings.clone(),
            required: true,
        });
        let wanted = wanted.collect();
        Self {
            table,
            at,
            readers,
            wanted,
            head: Vec::new(),
            found: None,
            columns: Vec::new(),
            rows: Vec::new(),
            blanks: Vec::new(),
            wrong: Vec::new(),
        }
    }

    fn take(&mut self, row: u32, cells: &[(u16, RawCell)], texts: &mut Texts) -> ControlFlow<()> {
        if self.found.is_some() {
            return self.row(row, cells, texts);
        }
        self.head.push((row, cells.to_vec()));
        if self.head.len() < ROWS_SEARCHED { ControlFlow::Continue(()) } else { self.start(texts) }
    }

    /// Finds the headings among the rows kept, then reads those below them.
    fn start(&mut self, texts: &mut Texts) -> ControlFlow<()> {
        let head = std::mem::take(&mut self.head);
        let rows: Vec<headings::RowOfTexts> = head.iter().map(|row| headings::texts_of(row, texts)).collect();
        let Some(mut found) = headings::find(&rows, &self.wanted) else {
            let what = if rows.iter().all(|(_, cells)| cells.is_empty()) {
                format!("The sheet of the table {} is empty.", self.table.name.name)
            } else {
                let heads = self.wanted.iter().filter_map(|w| w.headings.first()).map(String::as_str);
                format!(
                    "No headings of the table {} are found in the first {ROWS_SEARCHED} rows; {} are looked for.",
                    self.table.name.name,
                    quoted(heads)
                )
            };
            let problem = Problem::stop("missing headings", what).at_cell(self.at.place(0, None));
            self.wrong.push(problem.fix("put one row of headings above the rows of the table"));
            return ControlFlow::Break(());
        };
        self.wrong = headings::check(&mut found, &self.wanted, &self.at.file, &self.at.sheet);
        for (i, reader) in self.readers.iter_mut().enumerate() {
            let Some(heading) = found.serving(i) else { continue };
            self.columns.push(heading.column);
            reader.headed(heading.unit);
            if let Some(measures) = reader.wrong_unit(heading.unit) {
                let field = reader.field;
                let what = format!(
                    "The heading “{}” gives {measures}, and {} is {}.",
                    heading.text,
                    field.label,
                    field.ty.words()
                );
                let problem = Problem::stop("unit of a heading", what);
                let place = self.at.place(found.row, Some(heading.column));
                self.wrong.push(problem.at_cell(place).fix("correct the unit in the heading, or the type in the book"));
            }
        }
        if !self.wrong.is_empty() {
            return ControlFlow::Break(());
        }
        let top = found.row;
        self.found = Some(found);
        for (row, cells) in head.iter().filter(|(row, _)| *row > top) {
            self.row(*row, cells, texts)?;
        }
        ControlFlow::Continue(())
    }

    fn row(&mut self, row: u32, cells: &[(u16, RawCell)], texts: &mut Texts) -> ControlFlow<()> {
        let own: Vec<RawCell> = self.columns.iter().map(|column| cell_of(cells, *column, texts)).collect();
        if own.iter().all(|cell| *cell == RawCell::Empty) {
            return ControlFlow::Continue(());
        }
        if self.rows.len() >= MOST_TABLE_ROWS {
            let what = format!("The table {} has more than {MOST_TABLE_ROWS} rows.", self.table.name.name);
            self.wrong.push(Problem::stop("too many rows", what).at_cell(self.at.place(row, None)));
            return ControlFlow::Break(());
        }
        let mut read = Vec::new();
        for (at, cell) in own.into_iter().enumerate() {
            match self.readers[at].read(cell, texts) {
                Reading::Blank => self.blanks.push((row, at)),
                Reading::Good { value, .. } => read.push(self.value(at, value, cell, texts)),
                Reading::Bad(refusal) => self.refuse(row, at, refused(&refusal, cell_text(cell, texts))),
                Reading::Unitless => {
                    let label = &self.readers[at].field.label;
                    let what = format!("{label} is a number without a unit, and its heading gives none.");
                    let fix = format!("a unit in the heading, “{label} (in)”, or in the cell");
                    let problem = Problem::stop("number without a unit", what).found(cell_text(cell, texts));
                    self.refuse(row, at, problem.fix(fix));
                }
            }
        }
        self.rows.push(Read { row, cells: read });
        if self.wrong.len() + self.blanks.len() >= MOST_TOLD {
            ControlFlow::Break(())
        } else {
            ControlFlow::Continue(())
        }
    }

    fn refuse(&mut self, row: u32, at: usize, problem: Problem) {
        let place = self.at.place(row, Some(self.columns[at]));
        self.wrong.push(problem.at_cell(place));
    }

    /// A value as a book would write it, with its text.
    fn value(&self, at: usize, value: Good, cell: RawCell, texts: &Texts) -> (Node, String) {
        let field = self.readers[at].field;
        let (literal, text) = match value {
            Good::Text(id) => {
                let text = texts.get(id).trim().to_owned();
                (Literal::Text(text.clone()), text)
            }
            Good::YesNo(yes) => (Literal::YesNo(yes), if yes { "yes" } else { "no" }.to_owned()),
            Good::Number { value, .. } => {
                let literal = number_of(field, value);
                let text = number_text(field, &literal).unwrap_or_else(|| cell_text(cell, texts));
                (literal, text)
            }
        };
        // each row of the sheet is one line, whatever its cells hold
        let text = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        (Node::Literal(literal), text)
    }

    fn finish(mut self, book: &mut Book, sheet: &str) -> Result<Vec<TableRow>, Vec<Problem>> {
        if !self.blanks.is_empty() {
            let mut formulas = BTreeSet::new();
            book.formulas(sheet, &mut |row, column, _| {
                formulas.insert((row, column));
            })
            .map_err(|p| vec![p])?;
            for (row, at) in std::mem::take(&mut self.blanks) {
                let (field, column) = (self.readers[at].field, self.columns[at]);
                let problem = if formulas.contains(&(row, u32::from(column))) {
                    let what = format!("{} holds a formula without a stored value.", field.label);
                    Problem::stop("formula without a value", what)
                        .fix("open the workbook in a spreadsheet program and save it, or type the value")
                } else {
                    blank(&field.label, field.ty.words()).fix("fill it in, or take what else stands in this row out")
                };
                self.refuse(row, at, problem);
            }
        }
        if self.wrong.is_empty() && self.rows.is_empty() {
            let what = format!("No row of the table {} stands below its headings.", self.table.name.name);
            let row = self.found.as_ref().map_or(0, |found| found.row);
            let problem = Problem::stop("table without rows", what).at_cell(self.at.place(row, None));
            self.wrong.push(problem.fix("one row for each case, below the headings"));
        }
        if !self.wrong.is_empty() {
            self.wrong.sort_by_key(|p| match p.places.first() {
                Some(crate::source::Place::Cell(cell)) => (cell.row, cell.column),
                _ => (0, None),
            });
            return Err(self.wrong);
        }
        Ok(self.laid_out())
    }

    /// The rows, in a text that has a line for each row of the sheet.
    fn laid_out(self) -> Vec<TableRow> {
        let mut lines = String::new();
        let mut spans: Vec<(Span, Vec<Span>)> = Vec::new();
        let mut line = 0;
        for read in &self.rows {
            while line < read.row {
                lines.push('\n');
                line += 1;
            }
            let start = lines.len();
            let mut cells = Vec::new();
            for (at, (_, text)) in read.cells.iter().enumerate() {
                lines.push_str(if at == 0 { "" } else { " | " });
                let from = lines.len();
                lines.push_str(text);
                cells.push(Span::new(from, lines.len()));
            }
            spans.push((Span::new(start, lines.len()), cells));
        }
        let name = match &*self.at.sheet {
            "" => self.at.file.to_string(),
            sheet => format!("{}, {sheet}", self.at.file),
        };
        let text = Text::new(name, &lines);
        let columns = (
            self.columns.iter().copied().min().unwrap_or_default(),
            self.columns.iter().copied().max().unwrap_or_default(),
        );
        let row = |(read, (span, cells)): (Read, (Span, Vec<Span>))| TableRow {
            cells: read.cells.into_iter().zip(cells).map(|((node, _), span)| Expr { node, span }).collect(),
            span,
            text: Arc::clone(&text),
            on_sheet: Some(OnSheet {
                place: CellPlace {
                    file: Arc::clone(&self.at.file),
                    sheet: Arc::clone(&self.at.sheet),
                    row: read.row,
                    column: None,
                },
                columns,
            }),
            upper: None,
        };
        self.rows.into_iter().zip(spans).map(row).collect()
    }
}

/// A cell of a row; one that holds nothing but spaces is blank.
fn cell_of(cells: &[(u16, RawCell)], column: u16, texts: &Texts) -> RawCell {
    let found = cells.binary_search_by_key(&column, |(at, _)| *at).map_or(RawCell::Empty, |at| cells[at].1);
    match found {
        RawCell::Text(id) if texts.get(id).trim().is_empty() => RawCell::Empty,
        cell => cell,
    }
}

/// A number of a column's type, which is in its kept unit.
fn number_of(field: &Field, value: Decimal) -> Literal {
    let number = Number::from(value);
    match field.ty {
        Type::Date => {
            let days = i32::try_from(value).unwrap_or_default();
            Literal::Date(Date::constant(1970, 1, 1).checked_add(days.days()).unwrap_or_default())
        }
        Type::Number { flavor: Flavor::Percent, .. } => Literal::Percent(number),
        Type::Number { dimension, .. } if !dimension.is_none() => {
            let name = field.style.unit.as_ref().map(|(name, _)| name.clone());
            Literal::Number { value: number, unit: Some((name.unwrap_or_default(), field.unit)) }
        }
        _ => Literal::Number { value: number, unit: None },
    }
}

/// A number as people read it; nothing where that would leave a part of it out.
fn number_text(field: &Field, literal: &Literal) -> Option<String> {
    let (base, dimension) = match literal {
        Literal::Date(date) => return Some(date.to_string()),
        Literal::Percent(value) => (*value, Dimension::NONE),
        Literal::Number { value, unit } => {
            (value.scaled(unit.as_ref().map_or(Unit::none(), |u| u.1).factor).ok()?, field.ty.dimension()?)
        }
        _ => return None,
    };
    Some(show(&base, dimension, &field.style)).filter(|shown| !shown.rounded).map(|shown| shown.text)
}
