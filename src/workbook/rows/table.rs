//! A kind that is read from a table with a heading row.

use super::cell::{FieldReader, Reading, Refusal, cell_text, key_text, readers};
use super::tally::{Tally, counted};
use super::{Built, MOST_CELLS_KEPT};
use crate::engine::input::RawColumn;
use crate::engine::{InputTable, Origin, RawCell, RowProblem, Texts};
use crate::problem::Problem;
use crate::program::{KindId, RowKind, Schema};
use crate::source::CellPlace;
use crate::source::texts::UNREADABLE;
use crate::workbook::headings::{self, Headings, ROWS_SEARCHED, Wanted, quoted};
use crate::workbook::open::{Book, HiddenRows, SparseRow};
use rustc_hash::FxHashMap;
use std::ops::ControlFlow;
use std::sync::Arc;

/// No slot: the column has no heading.
const NONE: u32 = u32::MAX;

/// Reads a kind's table.
pub(super) fn read(
    book: &mut Book,
    schema: &Schema,
    id: KindId,
    sheet: &Arc<str>,
    parents: Option<&FxHashMap<u32, u32>>,
    texts: &mut Texts,
) -> Result<Built, Vec<Problem>> {
    let mut reader = Table::new(book, schema, id, sheet, parents, texts);
    let hidden = book.hidden_rows(sheet);
    let (streamed, hidden) = std::thread::scope(|threads| {
        let long = hidden.as_ref().filter(|h| h.is_long()).map(|h| threads.spawn(|| h.count()));
        let streamed = book.stream(sheet, texts, &mut |row, cells, texts| reader.take(row, cells, texts));
        let counted = match long {
            Some(thread) => thread.join().ok().flatten(),
            None => hidden.as_ref().and_then(HiddenRows::count),
        };
        (streamed, counted.unwrap_or(0))
    });
    streamed.map_err(|problem| vec![problem])?;
    if reader.headings.is_none() {
        let _ = reader.start(texts);
    }
    if !reader.failed.is_empty() {
        return Err(reader.failed);
    }
    Ok(reader.finish(hidden))
}

/// Rows of the sheet that were left out, by reason.
#[derive(Default)]
struct LeftOut {
    blank: Tally,
    pending_blank: u64,
    totals: Tally,
    repeated: Tally,
    remarks: Tally,
    unheaded: Tally,
    unreadable: Tally,
}

struct Table<'a> {
    id: KindId,
    kind: &'a RowKind,
    file: Arc<str>,
    sheet: Arc<str>,
    fields: Vec<FieldReader<'a>>,
    wanted: Vec<Wanted>,
    parents_by_key: Option<&'a FxHashMap<u32, u32>>,
    is_parent: bool,
    shares_keys: bool,
    head: Vec<(u32, Vec<(u16, RawCell)>)>,
    headings: Option<Headings>,
    failed: Vec<Problem>,
    /// Slot of each column of the sheet; slots are the columns with a heading.
    slot_of: Vec<u32>,
    slots: Vec<RawCell>,
    heading_texts: Vec<u32>,
    field_slots: Vec<Option<usize>>,
    key_slot: Option<usize>,
    parent_slot: Option<usize>,
    columns: Vec<RawColumn>,
    rows: Vec<u32>,
    parents: Vec<u32>,
    stopped: Vec<bool>,
    keys: FxHashMap<(u32, u32), u32>,
    problems: Vec<RowProblem>,
    left_out: LeftOut,
    last: u32,
}

impl<'a> Table<'a> {
    fn new(
        book: &Book,
        schema: &'a Schema,
        id: KindId,
        sheet: &Arc<str>,
        parents: Option<&'a FxHashMap<u32, u32>>,
        texts: &mut Texts,
    ) -> Self {
        let kind = schema.kind(id);
        let fields = readers(schema, id, book.is_text(), texts);
        let mut wanted: Vec<Wanted> = fields
            .iter()
            .map(|f| Wanted {
                label: f.field.label.clone(),
                headings: f.input.headings.clone(),
                required: f.required(),
            })
            .collect();
        if let Some(parent) = &kind.parent {
            let label = parent.headings.first().cloned().unwrap_or_else(|| schema.kind(parent.kind).name.clone());
            wanted.push(Wanted { label, headings: parent.headings.clone(), required: true });
        }
        let is_parent = schema.kinds.iter().any(|k| k.parent.as_ref().is_some_and(|p| p.kind == id));
        Self {
            id,
            kind,
            file: Arc::clone(book.file()),
            sheet: Arc::clone(sheet),
            fields,
            wanted,
            parents_by_key: parents,
            is_parent,
            shares_keys: kind.parent.is_some() && !is_parent,
            head: Vec::new(),
            headings: None,
            failed: Vec::new(),
            slot_of: Vec::new(),
            slots: Vec::new(),
            heading_texts: Vec::new(),
            field_slots: Vec::new(),
            key_slot: None,
            parent_slot: None,
            columns: Vec::new(),
            rows: Vec::new(),
            parents: Vec::new(),
            stopped: Vec::new(),
            keys: FxHashMap::default(),
            problems: Vec::new(),
            left_out: LeftOut::default(),
            last: 0,
        }
    }

    /// Takes a row of the sheet: the first ones are kept until the heading row is found among them.
    fn take(&mut self, row: u32, cells: &SparseRow, texts: &mut Texts) -> ControlFlow<()> {
        if self.headings.is_some() {
            return self.row(row, cells, texts);
        }
        self.head.push((row, cells.to_vec()));
        if self.head.len() < ROWS_SEARCHED { ControlFlow::Continue(()) } else { self.start(texts) }
    }

    /// Finds the headings in the rows kept, then reads the rows below them.
    fn start(&mut self, texts: &mut Texts) -> ControlFlow<()> {
        let head = std::mem::take(&mut self.head);
        let rows: Vec<headings::RowOfTexts> = head.iter().map(|row| headings::texts_of(row, texts)).collect();
        let Some(mut found) = headings::find(&rows, &self.wanted) else {
            self.failed.push(self.no_headings());
            return ControlFlow::Break(());
        };
        self.failed = headings::check(&mut found, &self.wanted, &self.file, &self.sheet);
        if !self.failed.is_empty() {
            return ControlFlow::Break(());
        }
        self.settle(&found, texts);
        let top = found.row;
        self.last = top;
        self.headings = Some(found);
        for (row, cells) in head.iter().filter(|(row, _)| *row > top) {
            self.row(*row, cells, texts)?;
        }
        ControlFlow::Continue(())
    }

    fn no_headings(&self) -> Problem {
        let lists = self.wanted.iter().map(|w| w.headings.first().map_or(w.label.as_str(), String::as_str));
        let what = format!(
            "No heading row was found in the first {ROWS_SEARCHED} rows; columns such as {} are looked for.",
            quoted(lists.take(6))
        );
        let place = CellPlace { file: Arc::clone(&self.file), sheet: Arc::clone(&self.sheet), row: 0, column: None };
        Problem::stop("missing headings", what).at_cell(place).fix("put one row of headings above the rows")
    }

    /// Lays the slots out by the headings found.
    fn settle(&mut self, found: &Headings, texts: &mut Texts) {
        self.field_slots = vec![None; self.fields.len()];
        for (slot, heading) in found.cells.iter().enumerate() {
            let column = usize::from(heading.column);
            if self.slot_of.len() <= column {
                self.slot_of.resize(column + 1, NONE);
            }
            self.slot_of[column] = u32::try_from(slot).unwrap_or(NONE);
            self.heading_texts.push(texts.intern(&heading.text));
            if heading.text.contains(UNREADABLE) {
                let place = self.place(found.row, Some(heading.column));
                self.left_out.unreadable.add(|| place);
            }
            let field = heading.serves.filter(|i| *i < self.fields.len());
            if let Some(i) = field {
                self.field_slots[i] = Some(slot);
                self.fields[i].headed(heading.unit);
                if let Some(measures) = self.fields[i].wrong_unit(heading.unit) {
                    self.failed_unit(i, heading, found.row, &measures);
                }
                if self.fields[i].is_key {
                    self.key_slot = Some(slot);
                }
            } else if heading.serves.is_some() {
                self.parent_slot = Some(slot);
            }
            self.columns.push(RawColumn {
                heading: heading.text.clone(),
                column: heading.column,
                field,
                cells: Vec::new(),
                elsewhere: None,
            });
        }
        self.slots = vec![RawCell::Empty; found.cells.len()];
    }

    fn failed_unit(&mut self, field: usize, heading: &headings::Heading, row: u32, measures: &str) {
        let field = self.fields[field].field;
        let what =
            format!("The heading “{}” gives {measures}, and {} is {}.", heading.text, field.label, field.ty.words());
        let place = self.place(row, Some(heading.column));
        self.problems.push(RowProblem {
            problem: Problem::warning("unit of a heading", what).at_cell(place).fix("correct the unit in the heading"),
            row: None,
        });
    }

    fn place(&self, row: u32, column: Option<u16>) -> CellPlace {
        CellPlace { file: Arc::clone(&self.file), sheet: Arc::clone(&self.sheet), row, column }
    }

    fn slot_place(&self, row: u32, slot: Option<usize>) -> CellPlace {
        self.place(row, slot.map(|s| self.columns[s].column))
    }

    /// Reads one row below the headings.
    fn row(&mut self, row: u32, cells: &SparseRow, texts: &mut Texts) -> ControlFlow<()> {
        self.left_out.pending_blank += u64::from(row.saturating_sub(self.last)).saturating_sub(1);
        self.slots.fill(RawCell::Empty);
        let (mut any, mut unheaded) = (false, None);
        for (column, cell) in cells {
            if let Some(slot) = self.slot_of.get(usize::from(*column)).filter(|s| **s != NONE) {
                self.slots[*slot as usize] = *cell;
                any = true;
            } else {
                unheaded = unheaded.or(Some(*column));
            }
        }
        if let Some(column) = unheaded {
            let place = self.place(row, Some(column));
            self.left_out.unheaded.add(|| place);
        }
        if !any {
            self.left_out.pending_blank += 1;
            self.last = row;
            return ControlFlow::Continue(());
        }
        let blank = std::mem::take(&mut self.left_out.pending_blank);
        if !self.rows.is_empty() {
            let first = self.place(self.last.saturating_add(1).min(row.saturating_sub(1)), None);
            self.left_out.blank.add_many(blank, || first);
        }
        self.last = row;
        if self.is_left_out(row, texts) {
            return ControlFlow::Continue(());
        }
        if self.kind.parent.is_some() {
            let Some(parent) = self.parent_of(row, texts) else { return ControlFlow::Continue(()) };
            self.parents.push(parent);
        }
        self.values(row, texts);
        if texts.has_unreadable() {
            self.unreadable(row, texts);
        }
        if self.rows.len().saturating_mul(self.columns.len()) > MOST_CELLS_KEPT {
            let what = format!("This sheet has more than {MOST_CELLS_KEPT} cells below its headings.");
            self.failed.push(Problem::stop("oversized file", what).at_cell(self.place(row, None)));
            return ControlFlow::Break(());
        }
        ControlFlow::Continue(())
    }

    /// Notes texts of a row with a letter that could not be read.
    fn unreadable(&mut self, row: u32, texts: &Texts) {
        for slot in 0..self.slots.len() {
            if matches!(self.slots[slot], RawCell::Text(id) if texts.get(id).contains(UNREADABLE)) {
                let place = self.slot_place(row, Some(slot));
                self.left_out.unreadable.add(|| place);
            }
        }
    }

    /// Whether a row is no row of the kind: headings again, a total, or nothing in any column that the book names.
    fn is_left_out(&mut self, row: u32, texts: &Texts) -> bool {
        let same = |slot: usize| match self.slots[slot] {
            RawCell::Text(id) => {
                let heading = self.heading_texts[slot];
                texts.same(id) == texts.same(heading)
                    || headings::one_line(texts.get(id)).eq_ignore_ascii_case(texts.get(heading))
            }
            _ => false,
        };
        let (mut filled, mut repeated) = (false, true);
        for slot in 0..self.slots.len() {
            let serves = self.columns[slot].field.is_some() || Some(slot) == self.parent_slot;
            if serves && self.slots[slot] != RawCell::Empty {
                filled = true;
                repeated = repeated && same(slot);
            }
        }
        let place = self.place(row, None);
        let out = if self.total_slot(texts) {
            &mut self.left_out.totals
        } else if !filled {
            &mut self.left_out.remarks
        } else if repeated {
            &mut self.left_out.repeated
        } else {
            return false;
        };
        out.add(|| place);
        true
    }

    /// Whether the key, or where it is blank another text of the row, says that the row is a total.
    fn total_slot(&self, texts: &Texts) -> bool {
        let is_total = |cell: &RawCell| matches!(cell, RawCell::Text(id) if says_total(texts.get(*id)));
        let key = self.key_slot.or(self.parent_slot).map(|s| self.slots[s]);
        match key {
            Some(RawCell::Empty) => self.slots.iter().any(is_total),
            Some(key) => is_total(&key),
            None => self.slots.iter().find(|c| matches!(c, RawCell::Text(_))).is_some_and(is_total),
        }
    }

    /// The parent's row; says so where there is none.
    fn parent_of(&mut self, row: u32, texts: &mut Texts) -> Option<u32> {
        let slot = self.parent_slot?;
        let cell = self.slots[slot];
        let key = key_text(cell, texts);
        let found = key.and_then(|k| self.parents_by_key?.get(&texts.same(k)).copied());
        if found.is_none() {
            let text = cell_text(cell, texts);
            let label = &self.wanted[self.fields.len()].label;
            let what = match cell {
                RawCell::Empty => format!(
                    "{label} is blank, so this row of {} belongs to nothing; it was left out.",
                    self.sheet_name()
                ),
                _ => format!(
                    "There is no {label} “{}”, so this row of {} belongs to nothing; it was left out.",
                    short(&text),
                    self.sheet_name()
                ),
            };
            let problem = Problem::stop("child without a parent", what)
                .at_cell(self.slot_place(row, Some(slot)))
                .found(text)
                .fix(format!("name a {label} that is on its own sheet, in every row"));
            self.problems.push(RowProblem { problem, row: None });
        }
        found
    }

    fn sheet_name(&self) -> &str {
        if self.sheet.is_empty() { &self.file } else { &self.sheet }
    }

    /// Puts the row's values into the columns.
    fn values(&mut self, row: u32, texts: &mut Texts) {
        let index = u32::try_from(self.rows.len()).unwrap_or(u32::MAX);
        let mut stopped = self.key(row, index, texts);
        for i in 0..self.fields.len() {
            let slot = self.field_slots[i];
            let cell = slot.map_or(RawCell::Empty, |s| self.slots[s]);
            let reading = self.fields[i].read(cell, texts);
            let column = slot.map(|s| self.columns[s].column);
            let (file, sheet) = (&self.file, &self.sheet);
            let place = || CellPlace { file: Arc::clone(file), sheet: Arc::clone(sheet), row, column };
            let field = &mut self.fields[i];
            match reading {
                Reading::Good { value, as_text } => {
                    if as_text {
                        field.as_text.add(place);
                    }
                    if matches!(value, super::cell::Good::Number { long: true, .. }) {
                        field.long.add(place);
                    }
                    field.push(value);
                }
                Reading::Blank => {
                    field.push_blank();
                    if field.required() {
                        stopped = true;
                        let problem = blank(&field.field.label, field.field.ty.words()).at_cell(place());
                        self.problems.push(RowProblem { problem, row: Some((self.id, index)) });
                    }
                }
                Reading::Unitless => {
                    field.push_bad();
                    field.unitless.add(place);
                    stopped = true;
                }
                Reading::Bad(refusal) => {
                    field.push_bad();
                    stopped = true;
                    let problem = refused(&refusal, cell_text(cell, texts)).at_cell(place());
                    self.problems.push(RowProblem { problem, row: Some((self.id, index)) });
                }
            }
        }
        for (column, cell) in self.columns.iter_mut().zip(&self.slots) {
            column.cells.push(*cell);
        }
        self.rows.push(row);
        self.stopped.push(stopped);
    }

    /// Notes the row's key; true where an earlier row has it.
    fn key(&mut self, row: u32, index: u32, texts: &mut Texts) -> bool {
        let Some(slot) = self.key_slot else { return false };
        let Some(text) = key_text(self.slots[slot], texts) else { return false };
        let scope = if self.shares_keys { self.parents.last().copied().unwrap_or(0) } else { 0 };
        let Some(first) = self.keys.insert((scope, texts.same(text)), index) else { return false };
        self.keys.insert((scope, texts.same(text)), first);
        let label = self.fields.iter().find(|f| f.is_key).map_or("", |f| f.field.label.as_str());
        let before = self.slot_place(self.rows[first as usize], Some(slot));
        let what = format!("{label} “{}” was used before, in {}.", short(texts.get(text).trim()), before.address());
        let problem = Problem::stop("duplicate key", what)
            .at_cell(self.slot_place(row, Some(slot)))
            .found(cell_text(self.slots[slot], texts))
            .fix("give each row a name of its own");
        self.problems.push(RowProblem { problem, row: Some((self.id, index)) });
        true
    }

    fn finish(mut self, hidden: u32) -> Built {
        let heading_row = self.headings.as_ref().map_or(0, |h| h.row);
        let mut told = Vec::new();
        for field in &self.fields {
            told.extend(said_of_column(field));
        }
        told.extend(self.said_of_rows(hidden, heading_row));
        self.problems.extend(told.into_iter().map(|problem| RowProblem { problem, row: None }));
        let table = InputTable {
            kind: self.id,
            rows: self.rows.len(),
            columns: self.fields.into_iter().map(|f| f.builder.finish()).collect(),
            parents: self.parents,
            stopped: self.stopped,
            origin: Origin { file: self.file, sheet: self.sheet, heading_row, rows: self.rows, columns: self.columns },
        };
        // children look a parent up by its key alone; keys of rows that have no children are not looked up
        #[allow(clippy::iter_over_hash_type)] // gathered into another table: the order does not show
        let keys = if self.is_parent {
            self.keys.into_iter().map(|((_, k), r)| (k, r)).collect()
        } else {
            FxHashMap::default()
        };
        Built { table, keys, problems: self.problems }
    }

    fn said_of_rows(&self, hidden: u32, heading_row: u32) -> Vec<Problem> {
        let sheet = self.sheet_name();
        let mut hidden_rows = Tally::default();
        hidden_rows.add_many(u64::from(hidden), || self.place(heading_row, None));
        let out = &self.left_out;
        [
            out.blank.told(|n| {
                Problem::note("blank rows", format!("{} blank and left out of {sheet}.", counted(n, "row", "rows")))
            }),
            out.totals.told(|n| {
                Problem::note(
                    "totals row",
                    format!("{} read as a total and left out of {sheet}.", counted(n, "row", "rows")),
                )
            }),
            out.repeated.told(|n| {
                let what = format!("{} the headings again and left out of {sheet}.", counted(n, "row", "rows"));
                Problem::note("repeated headings", what)
            }),
            out.remarks.told(|n| {
                let what = format!(
                    "{} left out of {sheet}: nothing stands in a column that the book names.",
                    counted(n, "row", "rows")
                );
                Problem::note("row without values", what)
            }),
            out.unheaded.told(|n| {
                let what = format!(
                    "What stands in {} of {sheet} below no heading was left out.",
                    if n == 1 { "1 row".to_owned() } else { format!("{n} rows") }
                );
                Problem::note("cells without a heading", what).fix("put a heading above the column")
            }),
            out.unreadable.told(unreadable),
            hidden_rows.told(|n| {
                let what = if n == 1 {
                    format!("1 row of {sheet} is hidden or filtered out of sight; it is priced like the rest.")
                } else {
                    format!("{n} rows of {sheet} are hidden or filtered out of sight; they are priced like the rest.")
                };
                Problem::note("hidden rows", what)
            }),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

/// What is said once for a column.
pub(super) fn said_of_column(field: &FieldReader<'_>) -> Vec<Problem> {
    let label = &field.field.label;
    let needed = field.field.ty.words();
    [
        field.unitless.told(|n| {
            let what = format!(
                "{} refused in {label}: a bare number, where neither the heading nor the book gives a unit.",
                counted(n, "cell", "cells")
            );
            let unit =
                if field.field.ty.dimension() == Some(crate::quantity::Dimension::LENGTH) { "ft" } else { "unit" };
            Problem::stop("number without a unit", what).fix(format!("head the column “{label} ({unit})”"))
        }),
        field.long.told(|n| {
            let what = if n == 1 {
                format!("1 length in {label} is over 1,000 ft.")
            } else {
                format!("{n} lengths in {label} are over 1,000 ft.")
            };
            Problem::warning("very long length", what).fix("check the unit in the heading")
        }),
        field.as_text.told(|n| {
            let what = format!("{} kept as text in {label} and read as {needed}.", counted(n, "number", "numbers"));
            Problem::note("number stored as text", what)
        }),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Texts with letters that could not be read.
pub(super) fn unreadable(count: u64) -> Problem {
    let texts = if count == 1 { "1 text has".to_owned() } else { format!("{count} texts have") };
    let what = format!("{texts} a letter that cannot be read; {UNREADABLE} stands for it.");
    Problem::warning("unreadable letter", what).fix("type the text again")
}

/// A blank cell that the row cannot do without.
pub(super) fn blank(label: &str, needed: String) -> Problem {
    Problem::stop("blank cell", format!("{label} is blank; {needed} is needed."))
}

/// A cell that was refused.
pub(super) fn refused(refusal: &Refusal, found: String) -> Problem {
    let problem = Problem::stop(refusal.kind, refusal.what.clone()).found(found);
    match &refusal.fix {
        Some(fix) => problem.fix(fix.clone()),
        None => problem,
    }
}

fn short(text: &str) -> String {
    if text.chars().nth(40).is_some() { text.chars().take(40).collect::<String>() + "…" } else { text.to_owned() }
}

/// Total, Totals, Sum and their kin, alone or before a colon.
fn says_total(text: &str) -> bool {
    let text = text.trim().trim_end_matches([':', '.', ' ']);
    text.len() <= 16
        && ["total", "totals", "sum", "sums", "grand total", "subtotal", "sub-total", "sub total", "grand totals"]
            .iter()
            .any(|word| text.eq_ignore_ascii_case(word))
}
