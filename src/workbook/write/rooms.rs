//! Rooms, and a sheet for each kind of row that belongs to them.

use super::cells::{At, Cells, Dictionary, InSheet, Mark};
use super::edge;
use super::filled::{For, Places};
use super::layout::{Layout, LineColumn, TableLayout};
use super::long::Of;
use super::page::{Table, headings, pages, set_up, width};
use super::shown::{heading, short};
use super::styles::{MONEY, QUANTITY, WHOLE, column as column_format, linked, note};
use super::values::Values;
use super::{Book, Document, as_read, asked, links, text_of};
use crate::engine::{Column, Explain, Fault, RawCell};
use crate::pricing::RowResult;
use crate::program::{FieldId, Type};
use crate::workbook::palette as color;
use rust_xlsxwriter::{Format, Worksheet, XlsxError};
use rustc_hash::FxHashMap;
use std::fmt::Write as _;

/// Rows that are looked at to find a column's width.
const WIDTH_ROWS: usize = 400;
/// Widest room that a fault's words get; they shrink to it.
const FAULT_WIDTH: usize = 14;
/// Most cell notes of a sheet; Checks has every fault in full.
const NOTES: u32 = 500;

/// Notes on the headings that every list of rooms has.
const REF_NOTE: &str = "The room's number. Lines names its room by it. A click leads to the room's lines.";
const PRICE_NOTES: [&str; 3] = [
    "The sum of Cost over the room's lines, before mark-ups.",
    "The sum of Hours over the room's lines.",
    "Whether every check of the room holds. STOPPED: it is not priced until what Checks says of it is dealt with.",
];
const SINCE_NOTE: &str =
    "Blank while the cells that were read are as they were. Where one was changed, price the job again.";

/// Writes Rooms, then a sheet for each kind that belongs to them.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    if book.layout.root.is_none() {
        book.sheet(super::ROOMS, 0)?.write_string(0, 0, "The rule book names no rows to read.")?;
    }
    let root = book.layout.root.iter().map(|_| Of::Root);
    let all: Vec<Of> = root.chain((0..book.layout.children.len()).map(Of::Child)).collect();
    for of in all {
        let Some(table) = table(&book.layout, of) else { continue };
        let (name, rows, first) = (table.sheet.clone(), table.rows, table.row(0));
        let is_long = book.is_long(rows, u64::from(rows) * (table.raw + table.worked.len() + 4) as u64);
        book.sheet(&name, 0)?;
        let Book { doc, layout, styles, workbook, .. } = &mut *book;
        let (Some(table), Some(sheet)) = (self::table(layout, of), workbook.worksheets_mut().last_mut()) else {
            continue;
        };
        let columns = Writer { doc: *doc, styles, table, sheet }.columns(matches!(of, Of::Root))?;
        if matches!(of, Of::Root) {
            links::rooms(sheet, doc, layout, table)?;
        }
        if is_long {
            book.keep(of, first, rows, columns)?;
        } else {
            self::rows(doc, layout, of, &mut InSheet { sheet, styles })?;
        }
    }
    Ok(())
}

fn table(layout: &Layout, of: Of) -> Option<&TableLayout> {
    match of {
        Of::Root => layout.root.as_ref(),
        Of::Child(at) => layout.children.get(at),
        Of::Lines(_) | Of::Schemes => None,
    }
}

/// A table's rows, headings aside.
pub fn rows<C: Cells>(doc: &Document<'_>, layout: &Layout, of: Of, cells: &mut C) -> Result<(), XlsxError> {
    if doc.limits.values_only {
        return written(doc, layout, of, &mut Values(cells));
    }
    written(doc, layout, of, cells)
}

fn written<C: Cells>(doc: &Document<'_>, layout: &Layout, of: Of, cells: &mut C) -> Result<(), XlsxError> {
    let Some(table) = table(layout, of) else { return Ok(()) };
    let is_root = matches!(of, Of::Root);
    let (lines, places) = (&layout.lines, &layout.places);
    let (formula, value) = (String::new(), String::new());
    let rows = Rows { doc: *doc, table, lines, places, faults: FxHashMap::default(), notes: 0, formula, value, cells };
    rows.write(is_root)
}

/// What stands above the rows, and how the sheet is set up.
struct Writer<'a, 'w> {
    doc: Document<'a>,
    styles: &'w super::styles::Styles,
    table: &'w TableLayout,
    sheet: &'w mut Worksheet,
}

impl Writer<'_, '_> {
    /// Headings, widths, number formats, frozen panes.
    fn columns(&mut self, is_root: bool) -> Result<u16, XlsxError> {
        let (table, styles) = (self.table, self.styles);
        let input = &self.doc.inputs.tables[table.table];
        let mut heads: Vec<(String, u32, &Format)> = Vec::new();
        if table.numbered {
            heads.push(("Ref".to_owned(), 6, &styles.heading_right));
            self.sheet.set_column_format(0, &linked(column_format(WHOLE)))?;
        }
        let key = links::key_column(&self.doc, table);
        for (at, column) in input.origin.columns.iter().enumerate() {
            let body = column.cells.iter().take(WIDTH_ROWS).map(|c| self.raw_width(*c)).max().unwrap_or(0);
            // A column of numbers alone stands at the right; one that mixes them with texts at the left.
            let number = |c: &RawCell| matches!(c, RawCell::Number(_) | RawCell::Percent(_) | RawCell::Empty);
            let numeric = column.cells.iter().take(WIDTH_ROWS).all(number);
            let style = if numeric { &styles.typed_heading_right } else { &styles.typed_heading };
            heads.push((column.heading.clone(), width(&column.heading, body), style));
            let leads = is_root && !self.doc.plans.is_empty() && key == Some(table.raw_column(at));
            let format = (!numeric).then(|| column_format("General"));
            if let Some(format) = if leads { Some(linked(format.unwrap_or_default())) } else { format } {
                self.sheet.set_column_format(table.raw_column(at), &format)?;
            }
        }
        for (i, worked) in table.worked.iter().enumerate() {
            let field = self.doc.schema.field(worked.field);
            let text = matches!(field.ty, Type::Text | Type::YesNo);
            let body = if text { self.text_width(worked.field) } else { 8 }.max(self.fault_width(worked.field));
            let head = heading(&field.label, &worked.shown.unit);
            let style = if text { &styles.heading } else { &styles.heading_right };
            heads.push((head.clone(), width(&head, body), style));
            let mut format = column_format(&worked.shown.format);
            if self.doc.live.still.contains_key(&worked.field) {
                format = format.set_background_color(color::STILL);
            }
            self.sheet.set_column_format(table.worked_column(i), &format)?;
        }
        if is_root {
            let cost = table.cost();
            self.sheet.set_column_format(cost, &column_format(MONEY))?;
            self.sheet.set_column_format(cost + 1, &column_format(QUANTITY))?;
            heads.push(("Cost ($)".to_owned(), 13, &styles.heading_right));
            heads.push(("Hours".to_owned(), 10, &styles.heading_right));
            self.sheet.set_column_format(cost + 2, &column_format("General"))?;
            heads.push(("Status".to_owned(), 14, &styles.heading));
        }
        if let Some(since) = table.since() {
            self.sheet.set_column_format(since, &styles.changed)?;
            heads.push(("Since pricing".to_owned(), 20, &styles.heading));
        }
        let columns = u16::try_from(heads.len()).unwrap_or(u16::MAX);
        if table.heading > 0 {
            self.band(columns, is_root)?;
        }
        headings(self.sheet, table.heading, heads.iter().map(|(h, w, f)| (h.as_str(), *w, *f)))?;
        self.told(is_root)?;
        if let Some(last) = table.worked.len().checked_sub(1).filter(|_| is_root) {
            // folded, a room's price stands beside what was read
            self.sheet.group_columns(table.worked_column(0), table.worked_column(last))?;
        }
        let frozen = self.lead();
        set_up(
            self.sheet,
            &self.doc,
            styles,
            Table { heading: table.heading, rows: table.rows, columns, frozen, typed: &[] },
        )?;
        let widths: Vec<u32> = heads.iter().map(|(_, w, _)| *w).collect();
        pages(self.sheet, &widths, frozen, if is_root { 3 } else { 1 })?;
        Ok(columns)
    }

    /// Notes on the headings: what a column asks for, what a worked-out one is; and lists of the words that one takes.
    fn told(&mut self, is_root: bool) -> Result<(), XlsxError> {
        let (table, schema) = (self.table, self.doc.schema);
        let kind = schema.kind(table.kind);
        for (at, column) in self.doc.inputs.tables[table.table].origin.columns.iter().enumerate() {
            let Some(id) = column.field.and_then(|f| kind.fields.get(f)).copied() else { continue };
            let to = table.raw_column(at);
            self.sheet.insert_note(table.heading, to, &asked::heading_note(&asked::asked(schema, id)))?;
            if let Some(list) = asked::list(schema, id)?.filter(|_| table.rows > 0) {
                self.sheet.add_data_validation(table.row(0), to, table.row(table.rows - 1), to, &list)?;
            }
        }
        for (i, worked) in table.worked.iter().enumerate() {
            let mut words = asked::worked(schema.field(worked.field));
            if let Some(from) = self.doc.live.still.get(&worked.field) {
                words.push('\n');
                words.push_str(&asked::still(schema, from));
            }
            self.sheet.insert_note(table.heading, table.worked_column(i), &asked::heading_note(&words))?;
        }
        let mut more = Vec::new();
        if table.numbered {
            more.push((0, REF_NOTE));
        }
        if is_root {
            more.extend((table.cost()..).zip(PRICE_NOTES));
        }
        more.extend(table.since().map(|at| (at, SINCE_NOTE)));
        for (at, words) in more {
            self.sheet.insert_note(table.heading, at, &asked::heading_note(words))?;
        }
        Ok(())
    }

    /// The band above the headings: where the columns come from.
    fn band(&mut self, columns: u16, is_root: bool) -> Result<(), XlsxError> {
        let (table, styles) = (self.table, self.styles);
        let first_raw = table.raw_column(0);
        let (worked, cost) = (table.worked_column(0), table.cost());
        for at in 0..columns {
            let typed = at >= first_raw && at < worked;
            let format = if typed { &styles.typed_band } else { &styles.band };
            let text = match at {
                at if at == first_raw && table.raw > 0 => "As read",
                at if at == worked && !table.worked.is_empty() => {
                    let (all, still) = (&table.worked, &self.doc.live.still);
                    if all.iter().any(|w| still.contains_key(&w.field)) {
                        "Worked out; shaded cells stay as they were priced"
                    } else {
                        "Worked out"
                    }
                }
                at if at == cost && is_root => "Price and status",
                _ => "",
            };
            self.sheet.write_string_with_format(0, at, text, format)?;
        }
        Ok(())
    }

    /// Columns at the left that stay in sight and stand on each printed page: up to the key and the name.
    fn lead(&self) -> u16 {
        let schema = self.doc.schema;
        let columns = &self.doc.inputs.tables[self.table.table].origin.columns;
        let kind = schema.kind(self.table.kind);
        let leads = |at: &Option<usize>| {
            let field = at.and_then(|f| kind.fields.get(f));
            field.is_some_and(|f| kind.key == Some(*f) || schema.field(*f).name == "name")
        };
        // what belongs to a room names it in the column that no field reads
        let last = columns.iter().take(4).rposition(|c| leads(&c.field) || kind.names_parent(&c.heading));
        last.map_or(u16::from(self.table.numbered), |at| self.table.raw_column(at) + 1)
    }

    fn raw_width(&self, cell: RawCell) -> usize {
        match cell {
            RawCell::Text(id) | RawCell::Error(id) => self.doc.inputs.texts.get(id).chars().count(),
            RawCell::Number(n) | RawCell::Percent(n) => n.to_string().len().min(11),
            RawCell::Date(_) => 10,
            RawCell::Empty | RawCell::YesNo(_) => 4,
        }
    }

    fn text_width(&self, field: FieldId) -> usize {
        let rows = (self.table.rows as usize).min(WIDTH_ROWS);
        let schema = self.doc.schema;
        let length = |row| self.doc.run.text(field, row).map_or(8, |t| schema.in_words(field, t).chars().count());
        match self.doc.schema.field(field).ty {
            Type::Text => (0..rows).map(length).max().unwrap_or(0),
            _ => 4,
        }
    }

    /// Room for a fault's words among numbers, within reason.
    fn fault_width(&self, field: FieldId) -> usize {
        if self.doc.run.columns.get(field.0 as usize).is_none_or(Option::is_none) {
            return 0;
        }
        let faulty = (0..(self.table.rows as usize).min(WIDTH_ROWS))
            .find_map(|row| self.doc.run.fault(self.doc.schema, field, row));
        faulty.map_or(0, |fault| short(&self.doc.explain.fault(fault)).chars().count().min(FAULT_WIDTH))
    }
}

/// The rows of a table, into cells.
struct Rows<'a, 'w, C> {
    doc: Document<'a>,
    table: &'w TableLayout,
    lines: &'w super::layout::LinesLayout,
    places: &'w Places,
    /// Each fault, once: its gist and its sentence.
    faults: FxHashMap<Fault, (String, String)>,
    /// Cell notes so far.
    notes: u32,
    /// The formula that was made last.
    formula: String,
    /// The text of a number.
    value: String,
    cells: &'w mut C,
}

impl<C: Cells> Rows<'_, '_, C> {
    fn write(mut self, is_root: bool) -> Result<(), XlsxError> {
        let columns: Vec<Option<&Column>> = self
            .table
            .worked
            .iter()
            .map(|w| self.doc.run.columns.get(w.field.0 as usize).and_then(Option::as_ref))
            .collect();
        let mut money = is_root.then(|| Money::new(self.lines));
        let mut since = String::new();
        for row in 0..self.table.rows {
            let at = self.table.row(row);
            if self.table.numbered {
                self.cells.number((at, 0), f64::from(row + 1))?;
            }
            self.raw_row(row, at)?;
            let mut noted = false;
            for (i, column) in columns.iter().enumerate() {
                if let Some(column) = column {
                    self.worked_cell(i, column, (row, at), &mut noted)?;
                }
            }
            if let Some(money) = &mut money {
                self.priced_row(money, row, at)?;
            }
            if let Some(to) = self.table.since().filter(|_| C::FIGURES) {
                as_read::since(self.table, row, &mut since);
                self.cells.formula((at, to), &since, "")?;
            }
        }
        Ok(())
    }

    /// The cells as they were read: values only, text as text.
    fn raw_row(&mut self, row: u32, at: u32) -> Result<(), XlsxError> {
        let input = &self.doc.inputs.tables[self.table.table];
        for (i, column) in input.origin.columns.iter().enumerate() {
            let to = (at, self.table.raw_column(i));
            let cell = column.cells.get(row as usize).copied().unwrap_or(RawCell::Empty);
            raw_cell(&self.doc, self.cells, to, cell)?;
        }
        Ok(())
    }

    /// A worked-out cell; the first faulty one of a row bears the whole sentence as a note.
    fn worked_cell(
        &mut self,
        index: usize,
        column: &Column,
        (row, at): (u32, u32),
        noted: &mut bool,
    ) -> Result<(), XlsxError> {
        let worked = &self.table.worked[index];
        let to = (at, self.table.worked_column(index));
        let (chunk, i) = column.locate(row as usize);
        if let Some(fault) = self.doc.run.fault(self.doc.schema, worked.field, row as usize) {
            let explain: &dyn Explain = self.doc.explain;
            let (gist, sentence) = self.faults.entry(fault).or_insert_with(|| {
                let problem = explain.fault(fault);
                (short(&problem), problem.what)
            });
            self.cells.marked(to, text_of(gist), Mark::Fault)?;
            if !*noted && self.notes < NOTES {
                self.cells.note(to, || note(sentence))?;
                (*noted, self.notes) = (true, self.notes + 1);
            }
            return Ok(());
        }
        let ty = self.doc.schema.field(worked.field).ty;
        // whether a text is the value of a formula is told by making the formula
        let looked_at = C::FIGURES || matches!(ty, Type::Text | Type::YesNo);
        let live = looked_at && self.live(worked.field, row).is_some();
        match ty {
            Type::Text if live && chunk.text(i).is_some_and(|id| stays_text(self.doc.run.texts.get(id))) => {
                let text = chunk.text(i).map_or("", |id| self.doc.run.texts.get(id));
                self.cells.formula_text(to, &self.formula, text_of(text))?;
            }
            Type::YesNo if live => {
                let word = if chunk.yes_no(i).unwrap_or(false) { "yes" } else { "no" };
                self.cells.formula_text(to, &self.formula, word)?;
            }
            Type::Text => {
                let raw = chunk.text(i).map_or("", |id| self.doc.run.texts.get(id));
                let words = text_of(self.doc.schema.in_words(worked.field, raw));
                match chunk.text(i) {
                    // words of a field's own have no number in the dictionary
                    Some(id) if std::ptr::eq(words, raw) => self.cells.known(to, (Dictionary::Run, id), words)?,
                    _ => self.cells.text(to, words)?,
                }
            }
            Type::YesNo => {
                let word = if chunk.yes_no(i).unwrap_or(false) { "yes" } else { "no" };
                self.cells.text(to, word)?;
            }
            ty => {
                if let (Some(value), true) = (worked.shown.scale.apply(chunk, i), live) {
                    self.value.clear();
                    edge::float_text(&mut self.value, value);
                    self.cells.formula(to, &self.formula, &self.value)?;
                } else if let Some(value) = worked.shown.scale.apply(chunk, i) {
                    self.cells.number(to, if ty == Type::Date { edge::days(value) } else { value })?;
                } else {
                    self.cells.marked(to, edge::TOO_LARGE, Mark::Fault)?;
                }
            }
        }
        Ok(())
    }

    /// Makes the live formula of a field in a row; nothing where it is a value.
    fn live(&mut self, field: FieldId, row: u32) -> Option<()> {
        let pieces = self.doc.live.of(field)?;
        let kind = self.table.kind;
        self.formula.clear();
        self.places.fill(self.doc.schema, pieces, For { kind, row, on: Some(kind) }, &mut self.formula)
    }

    /// Cost, hours and status of a room.
    fn priced_row(&mut self, money: &mut Money, row: u32, at: u32) -> Result<(), XlsxError> {
        let Some(result) = self.doc.priced.rooms.get(row as usize) else { return Ok(()) };
        let status = (at, self.table.cost() + 2);
        if result.stopped {
            return self.cells.marked(status, "STOPPED", Mark::Stop);
        }
        self.money(money, result, row, at)?;
        if self.doc.priced.is_apart(row as usize) {
            let text = match result.warnings {
                0 => ALTERNATE.to_owned(),
                1 => format!("{ALTERNATE}, 1 warning"),
                n => format!("{ALTERNATE}, {n} warnings"),
            };
            return self.cells.marked(status, &text, Mark::Warn);
        }
        match result.warnings {
            0 => self.cells.text(status, "ok"),
            1 => self.cells.marked(status, "1 warning", Mark::Warn),
            n => self.cells.marked(status, &format!("{n} warnings"), Mark::Warn),
        }
    }

    /// Cost and hours of a room.
    fn money(&mut self, money: &mut Money, result: &RowResult, row: u32, at: u32) -> Result<(), XlsxError> {
        if !C::FIGURES {
            return Ok(());
        }
        let cost = self.table.cost();
        money.number.clear();
        let _ = write!(money.number, "$A{}", at + 1);
        let guard = !self.doc.priced.has_prices;
        for (of, to) in [(LineColumn::Cost, cost), (LineColumn::Hours, cost + 1)] {
            let parts = if of == LineColumn::Cost { &money.cost } else { &money.hours };
            money.sum.clear();
            self.lines.room_sum(&mut money.sum, parts, &money.number, row, of);
            money.formula.clear();
            if of == LineColumn::Cost && guard {
                // Without a price book a cost shows as soon as somebody types a unit cost on Lines.
                let _ = write!(money.formula, "IF({0}=0,\"\",{0})", money.sum);
            } else {
                money.formula.push_str(&money.sum);
            }
            match of {
                LineColumn::Cost => match result.cost {
                    Some(cents) => edge::cents_text(&mut money.value, cents),
                    None if guard => money.value.clear(),
                    None => money.value.replace_range(.., "0"),
                },
                _ => edge::float_text(&mut money.value, result.hours.as_ref().map_or(0.0, edge::number)),
            }
            self.cells.formula((at, to), &money.formula, &money.value)?;
        }
        Ok(())
    }
}

/// Whether the format crate keeps a formula's value as a text.
fn stays_text(text: &str) -> bool {
    text.parse::<f64>().is_err() && !matches!(text, "TRUE" | "FALSE") && !text.starts_with('#') && !text.is_empty()
}

/// A cell as it was read.
pub fn raw_cell<C: Cells>(doc: &Document<'_>, cells: &mut C, to: At, cell: RawCell) -> Result<(), XlsxError> {
    match cell {
        RawCell::Empty => Ok(()),
        RawCell::Number(n) => cells.number(to, n),
        RawCell::Text(id) | RawCell::Error(id) => {
            cells.known(to, (Dictionary::Inputs, id), text_of(doc.inputs.texts.get(id)))
        }
        RawCell::YesNo(b) => cells.yes_no(to, b),
        RawCell::Percent(n) => cells.marked_number(to, n, Mark::Percent),
        RawCell::Date(n) => cells.marked_number(to, n, Mark::Date),
    }
}

/// The status of a room that an alternate would add: it is in no sum of the bid.
pub const ALTERNATE: &str = "Alternate";

/// Buffers for the formulas of a row.
struct Money {
    cost: Vec<(String, String)>,
    hours: Vec<(String, String)>,
    number: String,
    sum: String,
    formula: String,
    value: String,
}

impl Money {
    fn new(lines: &super::layout::LinesLayout) -> Self {
        Self {
            cost: lines.room_sum_parts(LineColumn::Cost),
            hours: lines.room_sum_parts(LineColumn::Hours),
            number: String::new(),
            sum: String::new(),
            formula: String::new(),
            value: String::new(),
        }
    }
}
