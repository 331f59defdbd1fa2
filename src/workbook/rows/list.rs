//! A kind with exactly one row, written as a list of names and values in two columns (the job).

use super::Built;
use super::cell::{FieldReader, Good, Reading, cell_text, readers};
use super::table::{blank, refused, said_of_column, unreadable};
use super::tally::Tally;
use crate::engine::input::RawColumn;
use crate::engine::{InputTable, Origin, RawCell, RowProblem, Texts};
use crate::problem::Problem;
use crate::program::{KindId, Schema};
use crate::source::CellPlace;
use crate::source::texts::UNREADABLE;
use crate::workbook::headings::{self, HeadingUnit, Wanted};
use crate::workbook::open::Book;
use rustc_hash::FxHashMap;
use std::ops::ControlFlow;
use std::sync::Arc;

/// Rows of a list that are read.
const MOST_LINES: usize = 2000;

/// A value of the list.
struct Line {
    file: Arc<str>,
    sheet: Arc<str>,
    row: u32,
    name_column: u16,
    column: u16,
    name: String,
    cell: RawCell,
    unit: Option<HeadingUnit>,
    field: Option<usize>,
}

impl Line {
    fn place(&self, column: u16) -> CellPlace {
        CellPlace { file: Arc::clone(&self.file), sheet: Arc::clone(&self.sheet), row: self.row, column: Some(column) }
    }
}

/// Reads a list; a sheet that is absent leaves every value blank. A value that the first book does not give is taken
/// from the second (the price book), where it has the sheet.
pub(super) fn read(
    book: &mut Book,
    second: Option<&mut Book>,
    schema: &Schema,
    id: KindId,
    sheet: Option<Arc<str>>,
    texts: &mut Texts,
) -> Result<Built, Vec<Problem>> {
    let mut fields = readers(schema, id, book.is_text(), texts);
    let file = Arc::clone(book.file());
    let absent: Arc<str> = schema.kind(id).sheet.as_deref().unwrap_or("").into();
    let name = sheet.clone().unwrap_or(absent);
    let mut lines = match &sheet {
        Some(sheet) => lines_of(book, sheet, &fields, texts).map_err(|p| vec![p])?,
        None => Vec::new(),
    };
    if let Some(second) = second
        && let Some(sheet) = second.sheet_named(&name)
    {
        let own: Vec<Option<usize>> = lines.iter().map(|l| l.field).collect();
        let more = lines_of(second, &sheet, &fields, texts).map_err(|p| vec![p])?;
        lines.extend(more.into_iter().filter(|l| l.field.is_some() && !own.contains(&l.field)));
    }
    // what was typed is known by what the rules call the sheet, whether it is there or not
    typed_since(book, schema.kind(id).sheet.as_deref().unwrap_or(""), &fields, &mut lines, texts);
    let mut twice = Vec::new();
    for (i, field) in fields.iter().enumerate() {
        let mut named = lines.iter().filter(|l| l.field == Some(i));
        if let (Some(first), Some(second)) = (named.next(), named.next()) {
            let what = format!("Two lines give {}: “{}” and “{}”.", field.field.label, first.name, second.name);
            let problem = Problem::stop("two lines for one value", what)
                .at_cell(first.place(first.name_column))
                .at_cell(second.place(second.name_column))
                .fix("keep one of them");
            twice.push(problem);
        }
    }
    if !twice.is_empty() {
        return Err(twice);
    }
    let mut problems = Vec::new();
    let mut stopped = false;
    for (i, field) in fields.iter_mut().enumerate() {
        let line = lines.iter().find(|l| l.field == Some(i));
        let at = line.map(|l| l.place(l.column));
        if let Some(problem) = value(field, line, at, &file, texts) {
            stopped = true;
            problems.push(RowProblem { problem, row: Some((id, 0)) });
        }
        stopped |= field.unitless.count > 0;
        problems.extend(said_of_column(field).into_iter().map(|problem| RowProblem { problem, row: Some((id, 0)) }));
    }
    let mut unread = Tally::default();
    for line in lines.iter().filter(|_| texts.has_unreadable()) {
        let of_cell = match line.cell {
            RawCell::Text(id) => Some((line.column, texts.get(id).as_ref())),
            _ => None,
        };
        for (column, _) in
            [(line.name_column, line.name.as_str())].into_iter().chain(of_cell).filter(|(_, t)| t.contains(UNREADABLE))
        {
            unread.add(|| line.place(column));
        }
    }
    problems.extend(unread.told(unreadable).map(|problem| RowProblem { problem, row: None }));
    let columns: Vec<RawColumn> = lines
        .iter()
        .map(|l| RawColumn {
            heading: l.name.clone(),
            column: l.column,
            field: l.field,
            cells: vec![l.cell],
            elsewhere: (l.file != file || l.sheet != name).then(|| (Arc::clone(&l.file), Arc::clone(&l.sheet))),
        })
        .collect();
    let rows = lines.iter().map(|l| l.row).collect();
    let origin = Origin { file, sheet: name, heading_row: Origin::LIST, rows, columns };
    let columns = fields.into_iter().map(|f| f.builder.finish()).collect();
    let table = InputTable { kind: id, rows: 1, columns, parents: Vec::new(), stopped: vec![stopped], origin };
    Ok(Built { table, keys: FxHashMap::default(), problems })
}

fn wanted(fields: &[FieldReader<'_>]) -> Vec<Wanted> {
    let of = |f: &FieldReader<'_>| Wanted {
        label: f.field.label.clone(),
        headings: f.input.headings.clone(),
        required: false,
    };
    fields.iter().map(of).collect()
}

/// Puts what was typed into a priced workbook in place of what the lines give, whichever workbook they are from.
fn typed_since(book: &Book, sheet: &str, fields: &[FieldReader<'_>], lines: &mut Vec<Line>, texts: &mut Texts) {
    let wanted = wanted(fields);
    for (name, typed) in book.overlay().settings(sheet) {
        let found = headings::find(&[(0, vec![(0, Arc::clone(name))])], &wanted);
        let Some(field) = found.and_then(|h| h.cells.first()?.serves) else { continue };
        lines.retain(|line| line.field != Some(field));
        let column = typed.at.column.unwrap_or(0);
        lines.push(Line {
            file: Arc::clone(&typed.at.file),
            sheet: Arc::clone(&typed.at.sheet),
            row: typed.at.row,
            name_column: 0,
            column,
            name: headings::one_line(name),
            cell: typed.held.cell(texts),
            unit: typed.unit(),
            field: Some(field),
        });
    }
}

/// Every line of the sheet that has a name: its first text, and the next cell that holds something.
#[allow(clippy::result_large_err)] // met once a file, not once a cell
fn lines_of(book: &mut Book, sheet: &str, fields: &[FieldReader<'_>], texts: &mut Texts) -> Result<Vec<Line>, Problem> {
    let wanted = wanted(fields);
    let mut lines = Vec::new();
    let mut one_too_many = None;
    let (file, sheet_name): (Arc<str>, Arc<str>) = (Arc::clone(book.file()), sheet.into());
    book.stream(sheet, texts, &mut |row, cells, texts| {
        let text = cells.iter().enumerate().find_map(|(i, (column, cell))| match cell {
            RawCell::Text(id) => Some((i, *column, Arc::clone(texts.get(*id)))),
            _ => None,
        });
        if let Some((i, name_column, text)) = text {
            let found = headings::find(&[(row, vec![(name_column, Arc::clone(&text))])], &wanted);
            let heading = found.as_ref().and_then(|h| h.cells.first());
            if lines.len() == MOST_LINES {
                one_too_many = Some(row);
                return ControlFlow::Break(());
            }
            let next = cells.get(i + 1);
            lines.push(Line {
                file: Arc::clone(&file),
                sheet: Arc::clone(&sheet_name),
                row,
                name_column,
                column: next.map_or(name_column.saturating_add(1), |(column, _)| *column),
                name: headings::one_line(&text),
                cell: next.map_or(RawCell::Empty, |(_, cell)| *cell),
                unit: heading.and_then(|h| h.unit),
                field: heading.and_then(|h| h.serves),
            });
        }
        ControlFlow::Continue(())
    })?;
    match one_too_many {
        None => Ok(lines),
        Some(row) => {
            let what = format!("This sheet has more than {MOST_LINES} lines of a name and a value.");
            let place = CellPlace { file, sheet: sheet_name, row, column: None };
            Err(Problem::stop("oversized file", what).at_cell(place))
        }
    }
}

/// Puts the value of a line into its field's column; the problem that stops the row, if any.
fn value(
    field: &mut FieldReader<'_>,
    line: Option<&Line>,
    at: Option<CellPlace>,
    file: &Arc<str>,
    texts: &mut Texts,
) -> Option<Problem> {
    if let Some(unit) = line.and_then(|l| l.unit) {
        field.headed(Some(unit));
    }
    let cell = line.map_or(RawCell::Empty, |l| l.cell);
    let placed = |problem: Problem| match &at {
        Some(at) => problem.at_cell(at.clone()),
        None => problem.in_file(Arc::clone(file)),
    };
    match field.read(cell, texts) {
        Reading::Good { value, as_text } => {
            if let Some(at) = at {
                if as_text {
                    field.as_text.add(|| at.clone());
                }
                if matches!(value, Good::Number { long: true, .. }) {
                    field.long.add(|| at);
                }
            }
            field.push(value);
            None
        }
        Reading::Blank => {
            field.push_blank();
            field.required().then(|| placed(blank(&field.field.label, field.field.ty.words())))
        }
        Reading::Unitless => {
            field.push_bad();
            if let Some(at) = at {
                field.unitless.add(|| at);
            }
            None
        }
        Reading::Bad(refusal) => {
            field.push_bad();
            Some(placed(refused(&refusal, cell_text(cell, texts))))
        }
    }
}
