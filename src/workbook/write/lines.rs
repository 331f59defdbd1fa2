//! Lines: what is bought and done for each room, with columns for the estimator's own figures.

use super::edge;
use super::layout::{FIRST_LINE, Layout, LineColumn, LinesSheet};
use super::page::{Table, headings, set_up};
use super::styles::{Styles, column as column_format};
use super::{Book, Document, text_of};
use crate::engine::names;
use crate::pricing::{Line, own};
use crate::program::{KindId, LineKind, Schema};
use crate::quantity::Number;
use crate::source::column_letters;
use rust_xlsxwriter::{ConditionalFormatFormula, DataValidation, DataValidationRule, Formula, Worksheet, XlsxError};
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

/// Writes Lines, and the sheets on which they go on.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    for i in 0..book.layout.lines.sheets.len() {
        let (name, count) = (book.layout.lines.sheets[i].name.clone(), book.layout.lines.sheets[i].count);
        book.sheet(&name, u64::from(count) * 12)?;
        let Book { layout, styles, workbook, .. } = &mut *book;
        let part = &layout.lines.sheets[i];
        let Some(sheet) = workbook.worksheets_mut().last_mut() else { continue };
        let at = |column| layout.lines.column(column);
        let heads = layout.lines.columns().map(|c| {
            let width = if c.column == LineColumn::Item { item_width(doc.schema) } else { c.width };
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
            sheet.set_column_format(at(column.column), &column_format(column.format))?;
        }
        let columns = u16::try_from(layout.lines.columns().count()).unwrap_or(u16::MAX);
        let typed: Vec<u16> = layout.lines.columns().filter(|c| c.typed).map(|c| at(c.column)).collect();
        let frozen = at(LineColumn::Item) + 1;
        set_up(sheet, &doc, styles, Table { heading: FIRST_LINE - 1, rows: count, columns, frozen, typed: &typed })?;
        if count > 0 {
            typed_columns(sheet, &layout.lines, &styles.typed, count)?;
        }
        let mut writer = Writer::new(doc, layout, sheet);
        writer.lines(part)?;
    }
    Ok(())
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
        let formula = Formula::new(formula).set_result(value.as_str());
        sheet.write_formula_with_format(0, layout.lines.column(column), formula, format)?;
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
            let validation = DataValidation::new()
                .allow_decimal_number(DataValidationRule::GreaterThanOrEqualTo(0.0))
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

struct Writer<'a, 'w> {
    doc: Document<'a>,
    sheet: &'w mut Worksheet,
    at: [u16; 17],
    letters: [String; 17],
    parts: bool,
    formula: String,
    value: String,
}

impl<'a, 'w> Writer<'a, 'w> {
    fn new(doc: Document<'a>, layout: &super::layout::Layout, sheet: &'w mut Worksheet) -> Self {
        let mut at = [0; 17];
        for column in super::layout::LINE_COLUMNS {
            at[column.column as usize] = layout.lines.column(column.column);
        }
        Self {
            doc,
            sheet,
            letters: at.map(column_letters),
            at,
            parts: layout.lines.parts,
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
            self.line(row, line, &name.1, root)?;
        }
        Ok(())
    }

    fn line(&mut self, row: u32, line: &Line, room: &str, root: Option<KindId>) -> Result<(), XlsxError> {
        use LineColumn as C;
        let at = |c: C| self.at[c as usize];
        let sheet = &mut *self.sheet;
        if let Some(room) = line.room {
            sheet.write_number(row, at(C::Ref), f64::from(room + 1))?;
        }
        sheet.write_string(row, at(C::Room), text_of(room))?;
        if self.parts && line.room.is_some() && Some(line.of.0) != root {
            let kind = &self.doc.schema.kind(line.of.0).name;
            let name = format!("{kind} {}", row_name(&self.doc, line.of.0, line.of.1));
            sheet.write_string(row, at(C::Part), text_of(&name))?;
        }
        let label = self.doc.schema.items.get(line.item as usize).map_or("", |i| i.label.as_str());
        sheet.write_string(row, at(C::Item), text_of(label))?;
        sheet.write_string(row, at(C::Code), text_of(&line.code))?;
        sheet.write_string(row, at(C::Kind), kind_word(line.kind))?;
        sheet.write_number(row, at(C::Need), edge::number(&line.need))?;
        if !line.waste.is_zero() {
            sheet.write_number(row, at(C::Waste), edge::number(&line.waste))?;
        }
        sheet.write_string(row, at(C::Unit), text_of(&line.unit))?;
        if let Some(unit_cost) = &line.unit_cost {
            sheet.write_number(row, at(C::UnitCost), edge::number(unit_cost))?;
        }
        self.own_figures(row, line)?;
        self.formulas(row, line)
    }

    /// What the estimator typed, carried over from the workbook that this one replaces.
    fn own_figures(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        let Some(own) = &line.own else { return Ok(()) };
        let at = |c: LineColumn| self.at[c as usize];
        for (column, figure) in [(LineColumn::OwnQuantity, &own.quantity), (LineColumn::OwnUnitCost, &own.unit_cost)] {
            if let Some(n) = figure {
                self.sheet.write_number(row, at(column), edge::number(n))?;
            }
        }
        if let Some(note) = &own.note {
            self.sheet.write_string(row, at(LineColumn::Note), text_of(note))?;
        }
        Ok(())
    }

    /// Quantity, cost and hours: live, so that an estimator's own figures reach the bid.
    fn formulas(&mut self, row: u32, line: &Line) -> Result<(), XlsxError> {
        use LineColumn as C;
        let n = row + 1;
        let [need, waste, quantity, unit_cost, own, own_cost, each] =
            [C::Need, C::Waste, C::Quantity, C::UnitCost, C::OwnQuantity, C::OwnUnitCost, C::HoursEach]
                .map(|c| self.letters[c as usize].as_str());
        self.formula.clear();
        let _ = write!(self.formula, "{need}{n}*(1+{waste}{n})");
        edge::float_text(&mut self.value, edge::number(&line.quantity));
        let to = self.at[C::Quantity as usize];
        self.sheet.write_formula(row, to, Formula::new(&self.formula).set_result(self.value.as_str()))?;

        self.formula.clear();
        let _ = write!(
            self.formula,
            "IF(COUNT({unit_cost}{n},{own_cost}{n})=0,\"\",ROUND(ROUND(IF(ISNUMBER({own}{n}),{own}{n},{quantity}{n})\
             *IF(ISNUMBER({own_cost}{n}),{own_cost}{n},{unit_cost}{n}),8),2))"
        );
        match line.cost {
            Some(cents) => edge::cents_text(&mut self.value, cents),
            None => self.value.clear(),
        }
        let to = self.at[C::Cost as usize];
        self.sheet.write_formula(row, to, Formula::new(&self.formula).set_result(self.value.as_str()))?;

        let Some(hours) = &line.hours else { return Ok(()) };
        let to = self.at[C::Hours as usize];
        // hours are those of the quantity that serves
        let serves = line.own.as_ref().and_then(|o| o.quantity).unwrap_or(line.quantity);
        match hours.over(&serves) {
            Ok(rate) => {
                self.sheet.write_number(row, self.at[C::HoursEach as usize], edge::number(&rate))?;
                self.formula.clear();
                let _ = write!(self.formula, "{each}{n}*IF(ISNUMBER({own}{n}),{own}{n},{quantity}{n})");
                edge::float_text(&mut self.value, edge::number(hours));
                self.sheet.write_formula(row, to, Formula::new(&self.formula).set_result(self.value.as_str()))?;
            }
            Err(_) => {
                self.sheet.write_number(row, to, edge::number(hours))?;
            }
        }
        Ok(())
    }
}
