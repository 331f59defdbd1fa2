//! Lines: what is bought and done for each room, with columns for the estimator's own figures.

use super::asked::heading_note;
use super::cells::{Cells, InSheet, Mark};
use super::edge;
use super::filled::{For, Places};
use super::layout::{FIRST_LINE, Layout, LineColumn, LinesSheet};
use super::long::Of;
use super::page::{Table, headings, set_up};
use super::styles::{Styles, column as column_format};
use super::values::{Values, write_live};
use super::{Book, Document, prices, text_of};
use crate::engine::names;
use crate::pricing::{LUMP_SUM, Line, divide, own};
use crate::program::{KindId, LineKind, Need, Schema};
use crate::quantity::Number;
use crate::source::column_letters;
use crate::workbook::live::Piece;
use rust_xlsxwriter::{ConditionalFormatFormula, DataValidation, DataValidationRule, Worksheet, XlsxError};
use rustc_hash::FxHashMap;
use std::fmt::Write as _;
use std::sync::Arc;

/// The word for a kind of line.
#[must_use]
pub fn kind_word(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Material => "Material",
        LineKind::Labor => "Labor",
    }
}

/// The word for a line: one that an alternate would add is told apart, and so is in no sum of the bid.
#[must_use]
pub fn line_word(line: &Line) -> &'static str {
    match (line.kind, line.apart) {
        (kind, false) => kind_word(kind),
        (LineKind::Material, true) => ALTERNATE_MATERIAL,
        (LineKind::Labor, true) => ALTERNATE_LABOR,
    }
}

/// Material that an alternate would add.
pub const ALTERNATE_MATERIAL: &str = "Alternate material";
/// Labor that an alternate would add.
pub const ALTERNATE_LABOR: &str = "Alternate labor";

/// Room for these words, where there are any.
const KIND_WIDTH: u32 = 19;

/// Writes Lines, and the sheets on which they go on.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    for i in 0..book.layout.lines.sheets.len() {
        let (name, count) = (book.layout.lines.sheets[i].name.clone(), book.layout.lines.sheets[i].count);
        let is_long = book.is_long(count, u64::from(count) * 12);
        book.sheet(&name, 0)?;
        let Book { layout, styles, workbook, .. } = &mut *book;
        let part = &layout.lines.sheets[i];
        let Some(sheet) = workbook.worksheets_mut().last_mut() else { continue };
        let at = |column| layout.lines.column(column);
        let heads = layout.lines.columns().map(|c| {
            let width = match c.column {
                LineColumn::Item => item_width(doc.schema),
                LineColumn::Kind if layout.lines.alternates => KIND_WIDTH,
                _ => c.width,
            };
            let style = match (c.typed, c.format) {
                (true, "General") => &styles.typed_heading,
                (true, _) => &styles.typed_heading_right,
                (false, "General") => &styles.heading,
                (false, _) => &styles.heading_right,
            };
            (c.heading, width, style)
        });
        head_row(sheet, &doc, layout, styles, part)?;
        headings(sheet, FIRST_LINE - 1, heads)?;
        for column in layout.lines.columns() {
            sheet.insert_note(FIRST_LINE - 1, at(column.column), &heading_note(column.note))?;
        }
        // what leads to a quantity and to hours folds into them
        sheet.group_columns(at(LineColumn::Need), at(LineColumn::Waste))?;
        sheet.group_columns(at(LineColumn::HoursEach), at(LineColumn::HoursEach))?;
        for column in layout.lines.columns() {
            sheet.set_column_format(at(column.column), &column_format(column.format))?;
        }
        let columns = u16::try_from(layout.lines.columns().count()).unwrap_or(u16::MAX);
        let typed: Vec<u16> = layout.lines.columns().filter(|c| c.typed).map(|c| at(c.column)).collect();
        let frozen = at(LineColumn::Item) + 1;
        set_up(sheet, &doc, styles, Table { heading: FIRST_LINE - 1, rows: count, columns, frozen, typed: &typed })?;
        if count > 0 {
            typed_columns(sheet, &layout.lines, &styles.typed, count)?;
        }
        if is_long {
            book.keep(Of::Lines(i), FIRST_LINE, count, columns)?;
        } else {
            rows(&doc, layout, i, &mut InSheet { sheet, styles })?;
        }
    }
    Ok(())
}

/// The rows of a sheet of lines, headings aside.
pub fn rows<C: Cells>(doc: &Document<'_>, layout: &Layout, sheet: usize, cells: &mut C) -> Result<(), XlsxError> {
    let Some(part) = layout.lines.sheets.get(sheet) else { return Ok(()) };
    if doc.limits.values_only {
        return Writer::new(*doc, layout, &mut Values(cells)).lines(part);
    }
    Writer::new(*doc, layout, cells).lines(part)
}

/// Totals of the rows that a filter leaves in sight, and what may not be done to the sheet.
fn head_row(
    sheet: &mut Worksheet,
    doc: &Document<'_>,
    layout: &Layout,
    styles: &Styles,
    part: &LinesSheet,
) -> Result<(), XlsxError> {
    for column in layout.lines.columns() {
        sheet.write_blank(0, layout.lines.column(column.column), &styles.total_label)?;
    }
    sheet.write_string_with_format(0, 0, "Total of the rows shown", &styles.total_label)?;
    if layout.lines.blocks.is_some() {
        let at = layout.lines.column(LineColumn::Need);
        let text = "Filters are safe. Do not sort: each room adds up its own rows here.";
        sheet.write_string_with_format(0, at, text, &styles.total_label)?;
    }
    let lines = doc.priced.lines.get(part.first..part.first + part.count as usize).unwrap_or(&[]);
    let cents = lines.iter().filter_map(|l| l.cost).fold(0i64, i64::saturating_add);
    let mut hours = lines.iter().filter_map(|l| l.hours.as_ref());
    let hours = hours.try_fold(Number::ZERO, |sum, h| sum.plus(h)).unwrap_or(Number::ZERO);
    let mut value = String::new();
    for (column, format) in [(LineColumn::Cost, &styles.total_money), (LineColumn::Hours, &styles.total_quantity)] {
        let range = layout.lines.range(part, column);
        let formula = if column == LineColumn::Hours || doc.priced.has_prices {
            format!("SUBTOTAL(109,{range})")
        } else {
            format!("IF(COUNT({range})=0,\"\",SUBTOTAL(109,{range}))")
        };
        match column {
            LineColumn::Hours => edge::float_text(&mut value, edge::number(&hours)),
            _ if doc.priced.has_prices => edge::cents_text(&mut value, cents),
            _ => value.clear(),
        }
        write_live(sheet, &doc.limits, (0, layout.lines.column(column)), (&formula, &value), Some(format))?;
    }
    Ok(())
}

/// Dotted cells for the estimator's own figures, which take numbers only.
fn typed_columns(
    sheet: &mut Worksheet,
    lines: &super::layout::LinesLayout,
    style: &rust_xlsxwriter::Format,
    count: u32,
) -> Result<(), XlsxError> {
    let rule = ConditionalFormatFormula::new().set_rule("=TRUE").set_format(style);
    for column in lines.columns().filter(|c| c.typed) {
        let at = lines.column(column.column);
        sheet.add_conditional_format(FIRST_LINE, at, FIRST_LINE + count - 1, at, &rule)?;
        if column.column != LineColumn::Note {
            // a lump sum may be taken off the bid
            let validation = if column.column == LineColumn::OwnUnitCost {
                let [cost, unit] = [at, lines.column(LineColumn::Unit)].map(column_letters);
                let n = FIRST_LINE + 1;
                let formula = format!("=AND(ISNUMBER({cost}{n}),OR({cost}{n}>=0,{unit}{n}=\"{LUMP_SUM}\"))");
                DataValidation::new().allow_custom(formula.as_str().into())
            } else {
                DataValidation::new().allow_decimal_number(DataValidationRule::GreaterThanOrEqualTo(0.0))
            };
            let validation = validation
                .set_input_title(column.heading)?
                .set_input_message("A number here wins over the worked-out one. Leave it blank to keep ours.")?
                .set_error_title("A number is needed")?
                .set_error_message("Type a number of zero or more, or clear the cell.")?;
            sheet.add_data_validation(FIRST_LINE, at, FIRST_LINE + count - 1, at, &validation)?;
        }
    }
    Ok(())
}

fn item_width(schema: &Schema) -> u32 {
    let longest = schema.items.iter().map(|i| i.label.chars().count()).max().unwrap_or(0);
    u32::try_from(longest.clamp(14, 40) + 2).unwrap_or(42)
}

/// A row's name for people: its key, or its row on the sheet it was read from.
#[must_use]
pub fn row_name(doc: &Document<'_>, kind: KindId, row: u32) -> Arc<str> {
    names::row(doc.schema, doc.run, doc.inputs, kind, row as usize)
}

/// Hours for one unit of work; nothing for material, and where there is no work to do.
fn rate(line: &Line) -> Option<Number> {
    // hours are those of the quantity that serves
    let serves = line.own.as_ref().and_then(|o| o.quantity).unwrap_or(line.quantity);
    line.hours.as_ref()?.over(&serves).ok()
}

struct Writer<'a, 'w, C> {
    doc: Document<'a>,
    cells: &'w mut C,
    at: [u16; 19],
    letters: [String; 19],
    parts: bool,
    divided: bool,
    alternates: bool,
    places: &'w Places,
    /// Formulas of needs by item, with the unit that they are in.
    needs: FxHashMap<u32, (Number, Option<Vec<Piece>>)>,
    /// By row of the price book the amount that was last told by its cell, and how.
    by_price: FxHashMap<u32, (Number, Option<String>)>,
    /// The same of hours for one unit of work.
    by_rate: FxHashMap<u32, (Number, Option<String>)>,
    formula: String,
    value: String,
}

impl<'a, 'w, C: Cells> Writer<'a, 'w, C> {
    fn new(doc: Document<'a>, layout: &'w Layout, cells: &'w mut C) -> Self {
        let mut at = [0; 19];
        for column in super::layout::LINE_COLUMNS {
            at[column.column as usize] = layout.lines.column(column.column);
        }
        Self {
            doc,
            cells,
            letters: at.map(column_letters),
            at,
            parts: layout.lines.parts,
            divided: layout.lines.divided,
            alternates: layout.lines.alternates,
            places: &layout.places,
            needs: FxHashMap::default(),
            by_price: FxHashMap::default(),
            by_rate: FxHashMap::default(),
            formula: String::new(),
            value: String::new(),
        }
    }

    fn lines(&mut self, part: &LinesSheet) -> Result<(), XlsxError> {
        let end = part.first + part.count as usize;
        let mut name: (Option<u32>, Arc<str>) = (None, own::WHOLE_JOB.into());
        let root = super::layout::root_kind(self.doc.schema);
        for (row, line) in (FIRST_LINE..).zip(&self.doc.priced.lines[part.first..end]) {
            if line.room != name.0 {
                let text = match (line.room, root) {
                    (Some(room), Some(root)) => row_name(&self.doc, root, room),
                    _ => own::WHOLE_JOB.into(),
                };
                name = (line.room, text);
            }
            self.line(row, line, &name.1)?;
        }
        Ok(())
    }

    fn number(&mut self, row: u32, column: LineColumn, value: &Number) -> Result<(), XlsxError> {
        self.cells.number((row, self.at[column as usize]), edge::number(value))
    }

    fn text(&mut self, row: u32, column: LineColumn, text: &str) -> Result<(), XlsxError> {
        self.cells.text((row, self.at[column as usize]), text_of(text))
    }

    /// A line's cells, from left to right.
    fn line(&mut self, row: u32, line: &Line, room: &str) -> Result<(), XlsxError> {
        use LineColumn as C;
        if let Some(room) = line.room {
            self.cells.number((row, self.at[C::Ref as usize]), f64::from(room + 1))?;
        }
        self.text(row, C::Room, room)?;
        self.divided(row, line)?;
        if self.parts
            && let Some(name) = own::line_part(self.doc.schema, self.doc.run, self.doc.inputs, line)
        {
            self.text(row, C::Part, &name)?;
        }
        let label = self.doc.schema.items.get(line.item as usize).map_or("", |i| i.label.as_str());
        self.text(row, C::Item, label)?;
        self.text(row, C::Code, &line.code)?;
        self.text(row, C::Kind, line_word(line))?;
        self.amounts(row, line)?;
        self.text(row, C::Unit, &line.unit)?;
        self.money(row, line)?;
        match line.own.as_ref().and_then(|o| o.note.as_ref()) {
            Some(note) => self.text(row, C::Note, note),
            None => Ok(()),
        }
    }

    /// Need, waste and quantity.
    fn amounts(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        if !C::FIGURES {
            // which formats are met is all that counts here
            let at = (row, self.at[LineColumn::Need as usize]);
            return if self.doc.live.is_empty() { Ok(()) } else { self.cells.marked_number(at, 0.0, Mark::Still) };
        }
        self.need(row, line)?;
        self.waste(row, line)?;
        self.quantity(row, line)
    }

    /// Unit cost, cost and hours, with what the estimator typed, carried over from the workbook that this one replaces.
    fn money(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        if !C::FIGURES {
            return Ok(());
        }
        let rate = rate(line);
        if let Some(unit_cost) = &line.unit_cost {
            self.unit_cost(row, line, (unit_cost, rate))?;
        }
        let own = line.own.as_deref();
        if let Some(n) = own.and_then(|o| o.quantity.as_ref()) {
            self.number(row, LineColumn::OwnQuantity, n)?;
        }
        if let Some(n) = own.and_then(|o| o.unit_cost.as_ref()) {
            self.number(row, LineColumn::OwnUnitCost, n)?;
        }
        self.cost(row, line)?;
        self.hours(row, line, rate)
    }

    /// The part and the alternate of a line.
    fn divided(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        let priced = self.doc.priced;
        if self.divided
            && !line.apart
            && let Some(part) = divide::part_of(priced, line).and_then(|at| priced.parts.get(at as usize))
        {
            self.text(row, LineColumn::With, &part.name)?;
        }
        if self.alternates
            && let Some((at, deducts)) = divide::alternate_of(priced, line)
            && let Some(alternate) = priced.alternates.get(at as usize)
        {
            let word = if deducts { "deduct" } else { "add" };
            self.text(row, LineColumn::Alternate, &format!("{word} {}", alternate.name))?;
        }
        Ok(())
    }

    /// The formula and the value that were made last.
    fn formula(&mut self, row: u32, column: LineColumn) -> Result<(), XlsxError> {
        self.cells.formula((row, self.at[column as usize]), &self.formula, &self.value)
    }

    /// What the row of a line needs: by the cells of that row where they can tell.
    fn need(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        if self.live_need(line).is_none() {
            return if self.doc.live.is_empty() {
                self.number(row, LineColumn::Need, &line.need)
            } else {
                self.still(row, line)
            };
        }
        edge::float_text(&mut self.value, edge::number(&line.need));
        self.formula(row, LineColumn::Need)
    }

    /// A need that stays as it was priced.
    fn still(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        self.cells.marked_number((row, self.at[LineColumn::Need as usize]), edge::number(&line.need), Mark::Still)
    }

    /// Makes the formula of a line's need; nothing where it is a value.
    fn live_need(&mut self, line: &Line) -> Option<()> {
        let Document { live, schema, run, .. } = self.doc;
        let (kind, at) = line.of;
        if live.is_empty() || line.need.is_zero() || schema.kind(kind).single {
            return None;
        }
        let needed = match &schema.items.get(line.item as usize)?.need {
            Need::Amount(field) => run.number(schema, *field, at as usize).ok()?,
            Need::Cut { count, each } => {
                let count = run.number(schema, *count, at as usize).ok()?;
                count.times(&run.number(schema, *each, at as usize).ok()?).ok()?
            }
            Need::Pieces { .. } | Need::Lump(_) => return None,
        };
        let unit = needed.over(&line.need).ok()?;
        if self.needs.get(&line.item).is_none_or(|(of, _)| *of != unit) {
            self.needs.insert(line.item, (unit, live.need(line.item, &unit)));
        }
        let pieces = self.needs.get(&line.item)?.1.as_ref()?;
        self.formula.clear();
        self.places.fill(schema, pieces, For { kind, row: at, on: None }, &mut self.formula)
    }

    /// The share that is added for waste, by the cells that it hangs on.
    fn waste(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        if self.live_waste(line).is_some() {
            edge::float_text(&mut self.value, edge::number(&line.waste));
            return self.formula(row, LineColumn::Waste);
        }
        if line.waste.is_zero() { Ok(()) } else { self.number(row, LineColumn::Waste, &line.waste) }
    }

    /// Makes the formula of a line's waste; nothing where it is a value.
    fn live_waste(&mut self, line: &Line) -> Option<()> {
        let pieces = self.doc.live.waste(line.item)?;
        self.formula.clear();
        let (kind, row) = line.of;
        self.places.fill(self.doc.schema, pieces, For { kind, row, on: None }, &mut self.formula)
    }

    /// Quantity with waste; live like cost and hours, so that an estimator's own figures reach the bid.
    fn quantity(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        let n = row + 1;
        let [need, waste] = [LineColumn::Need, LineColumn::Waste].map(|c| self.letters[c as usize].as_str());
        edge::float_text(&mut self.value, edge::number(&line.quantity));
        let make = |out: &mut String| {
            let _ = write!(out, "{need}{n}*(1+{waste}{n})");
        };
        self.cells.alike((row, self.at[LineColumn::Quantity as usize]), make, &self.value)
    }

    /// What one unit costs, by the row of the price book that it comes from; that of work by its hours.
    fn unit_cost(
        &mut self,
        row: u32,
        line: &Line,
        (unit_cost, rate): (&Number, Option<Number>),
    ) -> Result<(), XlsxError> {
        let column = LineColumn::UnitCost;
        let by_hours = line.price.zip(rate).and_then(|(price, rate)| {
            let hour = self.doc.priced.prices.get(price as usize)?.cost;
            rate.times(&hour).is_ok_and(|each| each == *unit_cost).then_some(hour)
        });
        self.formula.clear();
        if by_hours.is_some() {
            let _ = write!(self.formula, "{}{}*", self.letters[LineColumn::HoursEach as usize], row + 1);
        }
        let told = line.price.and_then(|price| self.by_price(price, by_hours.as_ref().unwrap_or(unit_cost)));
        if told.is_none() {
            return self.number(row, column, unit_cost);
        }
        edge::float_text(&mut self.value, edge::number(unit_cost));
        self.formula(row, column)
    }

    /// Adds an amount to the formula by the cell of the price that it comes from; nothing where it is a value.
    fn by_price(&mut self, price: u32, amount: &Number) -> Option<()> {
        if self.by_price.get(&price).is_none_or(|(of, _)| of != amount) {
            self.by_price.insert(price, (*amount, prices::live(&self.doc, price, amount)));
        }
        self.formula.push_str(self.by_price.get(&price)?.1.as_ref()?);
        Some(())
    }

    fn cost(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        use LineColumn as C;
        let n = row + 1;
        let [quantity, unit_cost, own, own_cost] =
            [C::Quantity, C::UnitCost, C::OwnQuantity, C::OwnUnitCost].map(|c| self.letters[c as usize].as_str());
        match line.cost {
            Some(cents) => edge::cents_text(&mut self.value, cents),
            None => self.value.clear(),
        }
        let make = |out: &mut String| {
            let _ = write!(
                out,
                "IF(COUNT({unit_cost}{n},{own_cost}{n})=0,\"\",ROUND(ROUND(IF(ISNUMBER({own}{n}),{own}{n},{quantity}{n})\
                 *IF(ISNUMBER({own_cost}{n}),{own_cost}{n},{unit_cost}{n}),8),2))"
            );
        };
        self.cells.alike((row, self.at[C::Cost as usize]), make, &self.value)
    }

    /// Hours for one, by the row of the price book that states them.
    fn hours_each(&mut self, row: u32, line: &Line, rate: &Number) -> Result<(), XlsxError> {
        let Some(price) = line.price else { return self.number(row, LineColumn::HoursEach, rate) };
        if self.by_rate.get(&price).is_none_or(|(of, _)| of != rate) {
            self.by_rate.insert(price, (*rate, prices::live_hours(&self.doc, price, rate)));
        }
        self.formula.clear();
        match self.by_rate.get(&price).and_then(|(_, told)| told.as_ref()) {
            Some(told) => self.formula.push_str(told),
            None => return self.number(row, LineColumn::HoursEach, rate),
        }
        edge::float_text(&mut self.value, edge::number(rate));
        self.formula(row, LineColumn::HoursEach)
    }

    fn hours(&mut self, row: u32, line: &Line, rate: Option<Number>) -> Result<(), XlsxError> {
        use LineColumn as C;
        let Some(hours) = &line.hours else { return Ok(()) };
        let Some(rate) = rate else { return self.number(row, C::Hours, hours) };
        self.hours_each(row, line, &rate)?;
        let n = row + 1;
        let [quantity, own, each] =
            [C::Quantity, C::OwnQuantity, C::HoursEach].map(|c| self.letters[c as usize].as_str());
        edge::float_text(&mut self.value, edge::number(hours));
        let make = |out: &mut String| {
            let _ = write!(out, "{each}{n}*IF(ISNUMBER({own}{n}),{own}{n},{quantity}{n})");
        };
        self.cells.alike((row, self.at[C::Hours as usize]), make, &self.value)
    }
}
