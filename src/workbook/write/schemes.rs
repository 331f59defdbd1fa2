//! Schemes: each room under every way to build it.

use super::edge;
use super::layout::{TableLayout, quoted};
use super::lines::row_name;
use super::page::{Table, headings, lines, pages, set_up, width};
use super::shown::{Shown, heading, shown};
use super::styles::{MONEY, QUANTITY, WHOLE, column as column_format};
use super::values::write_live;
use super::{Book, Document, text_of};
use crate::engine::column::Holds;
use crate::engine::{Column, ColumnBuilder};
use crate::pricing::options::{
    CHEAPER, DEARER, SAME_COST, cost_of, hours_of, key_heading, shown_text, standing, why_not, without_hand,
};
use crate::pricing::{Compared, Trial, Tried};
use crate::program::{Field, FieldId, Options, Type, Value};
use crate::source::column_letters;
use crate::workbook::palette as color;
use rust_xlsxwriter::{ConditionalFormatFormula, Format, FormatAlign, FormatBorder, Worksheet, XlsxError};

/// Columns before those that the book shows; the reason follows those.
const NUMBER: u16 = 0;
const ROOM: u16 = 1;
const OPTION: u16 = 2;
const STANDING: u16 = 3;
const COST: u16 = 4;
const OVER: u16 = 5;
const HOURS: u16 = 6;
const FIRST_SHOWN: u16 = 7;
/// Characters of the reason, which wraps.
const WHY_WIDTH: u32 = 36;
/// Characters that one printed page takes across before its letters grow too small.
const WIDEST_PAGE: u32 = 180;
/// Rows that are looked at to find a column's width.
const WIDTH_ROWS: usize = 400;

/// Writes Schemes.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    let Some(options) = &doc.schema.options else { return Ok(()) };
    let each = u32::try_from(options.choices.len()).unwrap_or(1).max(1);
    // a sheet holds its headings, whole rooms, and where not all fit a line that says so
    let rooms = u32::try_from(doc.priced.compared.len()).unwrap_or(u32::MAX);
    let room = doc.limits.sheet_rows.saturating_sub(1);
    let fit = if u64::from(rooms) * u64::from(each) <= u64::from(room) { rooms } else { room.saturating_sub(1) / each };
    let columns = FIRST_SHOWN as usize + options.showing.len() + 1;
    book.sheet("Schemes", u64::from(fit) * u64::from(each) * columns as u64)?;
    let Book { layout, styles, workbook, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let root = layout.root.as_ref().filter(|root| root.kind == options.kind);
    let shown = options.showing.iter().map(|f| Beside::new(&doc, options, *f)).collect();
    let mut writer = Writer { doc, options, root, shown, sheet };
    writer.columns(styles, fit * each)?;
    for at in 0..fit {
        writer.room(at, 1 + at * each)?;
    }
    let end = 1 + fit * each;
    if rooms == 0 {
        writer.sheet.write_string_with_format(end, 0, "There is nothing to compare.", &styles.quiet)?;
    } else if fit < rooms {
        let text = format!("and {} more, for which this sheet has no room: price --schemes prints all.", rooms - fit);
        writer.sheet.write_string_with_format(end, 0, text, &styles.quiet)?;
    } else if doc.priced.prices.iter().any(|p| p.reached.is_some()) {
        let text = "The ways are compared at the first cost of each thing; the one taken is priced at what the whole job reaches.";
        writer.sheet.write_string_with_format(end, 0, text, &styles.quiet)?;
    }
    let name = |row: u32| row_name(&doc, options.kind, row).to_string();
    let text = without_hand(doc.schema, options, doc.priced, name);
    // a sheet that is full to its last row has no place for it; the print and Lines have
    if let Some(text) = text.filter(|_| end + 1 < doc.limits.sheet_rows) {
        writer.sheet.write_string_with_format(end + 1, 0, text_of(&text), &styles.quiet)?;
    }
    Ok(())
}

/// A column that the book shows beside each option.
struct Beside {
    field: FieldId,
    how: Shown,
    words: bool,
}

impl Beside {
    fn new(doc: &Document<'_>, options: &Options, field: FieldId) -> Self {
        let declared = doc.schema.field(field);
        let at = options.showing.iter().position(|f| *f == field).unwrap_or(0);
        let column = under_all_options(doc, declared, at);
        let words = matches!(declared.ty, Type::Text | Type::YesNo);
        let mut how = shown(declared, column.as_ref());
        // wires are counted, whatever unit their column is kept in
        if how.unit.is_empty() && how.format == QUANTITY && column.is_some_and(|c| how.scale.places(&c, 1) == 0) {
            WHOLE.clone_into(&mut how.format);
        }
        Self { field, how, words }
    }
}

/// The numbers that a field has under every option, from which its number format follows.
fn under_all_options(doc: &Document<'_>, field: &Field, at: usize) -> Option<Column> {
    field.ty.dimension()?;
    let mut column = ColumnBuilder::new(Holds::Numbers);
    for tried in doc.priced.compared.iter().flat_map(|c| &c.tried) {
        if let Some(Some(Value::Number(number))) = tried.shown.get(at) {
            column.push_number(number.scaled(field.unit.factor.recip()).unwrap_or(*number).to_decimal());
        }
    }
    Some(column.finish())
}

struct Writer<'a, 'w> {
    doc: Document<'a>,
    options: &'a Options,
    /// Rooms, where the options are theirs.
    root: Option<&'w TableLayout>,
    shown: Vec<Beside>,
    sheet: &'w mut Worksheet,
}

impl Writer<'_, '_> {
    fn why(&self) -> u16 {
        FIRST_SHOWN.saturating_add(u16::try_from(self.shown.len()).unwrap_or(u16::MAX))
    }

    /// Headings, widths, number formats, lines between rooms.
    fn columns(&mut self, styles: &super::styles::Styles, rows: u32) -> Result<(), XlsxError> {
        let schema = self.doc.schema;
        let key = key_heading(schema, self.options);
        let label = schema.field(self.options.field).label.as_str();
        let first = (0..self.doc.priced.compared.len().min(WIDTH_ROWS)).filter_map(|r| u32::try_from(r).ok());
        let names = first.map(|row| row_name(&self.doc, self.options.kind, row).chars().count()).max().unwrap_or(0);
        let labels = self.options.choices.iter().map(|c| c.label.chars().count()).max().unwrap_or(0);
        let text = str::to_owned;
        let mut heads: Vec<(String, u32, &Format, String)> = vec![
            (text("Ref"), 6, &styles.heading_right, text(WHOLE)),
            (text(key), width(key, names), &styles.heading, text("General")),
            (text(label), width(label, labels), &styles.heading, text("General")),
            (text("Standing"), 15, &styles.heading, text("General")),
            (text("Cost ($)"), 12, &styles.heading_right, text(MONEY)),
            (text("Over the one taken ($)"), 12, &styles.heading_right, text(MONEY)),
            (text("Hours"), 9, &styles.heading_right, text(QUANTITY)),
        ];
        for beside in &self.shown {
            let head = heading(&schema.field(beside.field).label, &beside.how.unit);
            let style = if beside.words { &styles.heading } else { &styles.heading_right };
            let body = if beside.words { self.words_width(beside.field) } else { 7 };
            heads.push((head.clone(), width(&head, body), style, beside.how.format.clone()));
        }
        heads.push((text("Why not"), WHY_WIDTH, &styles.heading, text("General")));
        for (at, (_, _, _, format)) in (0u16..).zip(&heads[..heads.len() - 1]) {
            self.sheet.set_column_format(at, &column_format(format).set_align(FormatAlign::Top))?;
        }
        let why = column_format("General").set_text_wrap().set_align(FormatAlign::Top);
        self.sheet.set_column_format(self.why(), &why)?;
        headings(self.sheet, 0, heads.iter().map(|(h, w, f, _)| (h.as_str(), *w, *f)))?;
        let columns = u16::try_from(heads.len()).unwrap_or(u16::MAX);
        self.lines_between(rows, columns)?;
        let frozen = STANDING;
        set_up(self.sheet, &self.doc, styles, Table { heading: 0, rows, columns, frozen, typed: &[] })?;
        let widths: Vec<u32> = heads.iter().map(|(_, w, _, _)| *w).collect();
        if widths.iter().sum::<u32>() > WIDEST_PAGE { pages(self.sheet, &widths, frozen, 1) } else { Ok(()) }
    }

    fn words_width(&self, field: FieldId) -> usize {
        let at = self.options.showing.iter().position(|f| *f == field).unwrap_or(0);
        let first = self.doc.priced.compared.iter().take(WIDTH_ROWS).flat_map(|c| &c.tried);
        let text = |t: &Tried| shown_text(self.doc.schema, field, t.shown.get(at).and_then(Option::as_ref));
        first.map(|t| text(t).chars().count()).max().unwrap_or(0)
    }

    /// The option taken in bold on a tint, and a dark line under the last option of a room. Each rule says all that holds
    /// of its rows: some programs heed the first that fits alone.
    fn lines_between(&mut self, rows: u32, columns: u16) -> Result<(), XlsxError> {
        if rows == 0 {
            return Ok(());
        }
        let taken = |edge| {
            let line = Format::new().set_border_bottom(FormatBorder::Thin).set_border_bottom_color(edge);
            line.set_bold().set_background_color(color::TOTAL)
        };
        let room_ends = Format::new().set_border_bottom(FormatBorder::Thin).set_border_bottom_color(color::INK);
        let (is_taken, is_last) = ("LEFT($D2,5)=\"taken\"", "$A2<>$A3");
        let last = columns.saturating_sub(1);
        let range = format!("A2:{}{}", column_letters(last), rows + 1);
        for (rule, format) in [
            (format!("=AND({is_taken},{is_last})"), taken(color::INK)),
            (format!("={is_taken}"), taken(color::HAIRLINE)),
            (format!("={is_last}"), room_ends),
        ] {
            let rule = ConditionalFormatFormula::new().set_rule(rule.as_str()).set_format(format);
            self.sheet.add_conditional_format(1, 0, rows, last, &rule.set_multi_range(&range))?;
        }
        Ok(())
    }

    /// The lines of one room, from a row of the sheet on.
    fn room(&mut self, room: u32, top: u32) -> Result<(), XlsxError> {
        let doc = self.doc;
        let Some(compared) = doc.priced.compared.get(room as usize) else { return Ok(()) };
        let name = row_name(&doc, self.options.kind, room);
        let taken = top + compared.taken;
        for (option, choice) in self.options.choices.iter().enumerate() {
            let row = top + u32::try_from(option).unwrap_or(0);
            let why = why_not(doc.schema, doc.priced, room as usize, option);
            let tall = lines(&why, WHY_WIDTH);
            if tall > 1 {
                self.sheet.set_row_height(row, 15 * tall.min(8) + 2)?;
            }
            self.sheet.write_number(row, NUMBER, f64::from(room + 1))?;
            self.sheet.write_string(row, ROOM, text_of(&name))?;
            self.sheet.write_string(row, OPTION, text_of(&choice.label))?;
            self.sheet.write_string(row, STANDING, standing(compared, option))?;
            let live = self.money((room, option), row, taken)?;
            self.hours(compared, (room, option), row)?;
            if let Some(tried) = compared.tried.get(option) {
                self.beside(tried, row)?;
            }
            self.reason(&why, live, row)?;
        }
        Ok(())
    }

    /// Cost and difference to the option taken; whether the difference is there.
    fn money(&mut self, (room, option): (u32, usize), row: u32, taken: u32) -> Result<bool, XlsxError> {
        let priced = self.doc.priced;
        let cost = cost_of(priced, room as usize, option);
        let mut value = String::new();
        if let Some(cost) = cost {
            edge::cents_text(&mut value, cost);
        }
        if row == taken {
            let stopped = priced.rooms.get(room as usize).is_some_and(|r| r.stopped);
            match self.root.filter(|_| !stopped) {
                Some(root) => {
                    let cell = rooms_cell(root, root.cost(), room);
                    let guarded = || format!("IF({cell}=\"\",\"\",{cell})");
                    let formula = if priced.has_prices { cell.clone() } else { guarded() };
                    write_live(self.sheet, &self.doc.limits, (row, COST), (&formula, &value), None)?;
                }
                None => self.number(row, COST, cost)?,
            }
            return Ok(false);
        }
        self.number(row, COST, cost)?;
        // how much less one costs that may not be built is nothing to compare by
        let passes = |c: &Compared| c.tried.get(option).is_some_and(|t| t.trial == Trial::Passes);
        if !priced.compared.get(room as usize).is_some_and(passes) {
            return Ok(false);
        }
        let Some((cost, best)) = cost.zip(cost_of(priced, room as usize, self.taken_of(room))) else {
            return Ok(false);
        };
        edge::cents_text(&mut value, cost.saturating_sub(best));
        let letters = column_letters(COST);
        let (own, other) = (format!("{letters}{}", row + 1), format!("{letters}{}", taken + 1));
        let formula = format!("IF(COUNT({own},{other})<2,\"\",ROUND({own}-{other},2))");
        write_live(self.sheet, &self.doc.limits, (row, OVER), (&formula, &value), None)?;
        Ok(true)
    }

    fn taken_of(&self, room: u32) -> usize {
        self.doc.priced.compared.get(room as usize).map_or(0, |c| c.taken as usize)
    }

    fn number(&mut self, row: u32, at: u16, cents: Option<i64>) -> Result<(), XlsxError> {
        if let Some(cents) = cents {
            self.sheet.write_number(row, at, edge::cents(cents))?;
        }
        Ok(())
    }

    fn hours(&mut self, compared: &Compared, (room, option): (u32, usize), row: u32) -> Result<(), XlsxError> {
        let Some(hours) = hours_of(self.doc.priced, room as usize, option) else { return Ok(()) };
        let hours = edge::number(&hours);
        // a row that is stopped has no hours on its own sheet
        let stopped = self.doc.priced.rooms.get(room as usize).is_some_and(|r| r.stopped);
        match self.root.filter(|_| option == compared.taken as usize && !stopped) {
            Some(root) => {
                let mut value = String::new();
                edge::float_text(&mut value, hours);
                let cell = rooms_cell(root, root.cost() + 1, room);
                write_live(self.sheet, &self.doc.limits, (row, HOURS), (&cell, &value), None)?;
            }
            None => {
                self.sheet.write_number(row, HOURS, hours)?;
            }
        }
        Ok(())
    }

    /// What the book shows beside the option.
    fn beside(&mut self, tried: &Tried, row: u32) -> Result<(), XlsxError> {
        for ((to, beside), value) in (FIRST_SHOWN..).zip(&self.shown).zip(&tried.shown) {
            match value {
                Some(Value::Number(number)) => {
                    let number = number.scaled(beside.how.factor.recip()).unwrap_or(*number);
                    self.sheet.write_number(row, to, edge::number(&number))?;
                }
                Some(Value::Date(date)) => {
                    self.sheet.write_number(row, to, edge::date(*date))?;
                }
                Some(value) => {
                    let text = shown_text(self.doc.schema, beside.field, Some(value));
                    self.sheet.write_string(row, to, text_of(&text))?;
                }
                None => {}
            }
        }
        Ok(())
    }

    /// Why it is not taken; live where an amount stands in it.
    fn reason(&mut self, why: &str, live: bool, row: u32) -> Result<(), XlsxError> {
        let to = self.why();
        if why.is_empty() {
            return Ok(());
        }
        if !live {
            self.sheet.write_string(row, to, text_of(why))?;
            return Ok(());
        }
        let over = format!("{}{}", column_letters(OVER), row + 1);
        let amount = |sign: &str| format!("TEXT({sign}{over},\"$#,##0.00\")");
        let formula = format!(
            "IF({over}=\"\",\"\",IF({over}>0,{}&\"{DEARER}\",IF({over}<0,{}&\"{CHEAPER}\",\"{SAME_COST}\")))",
            amount(""),
            amount("-")
        );
        write_live(self.sheet, &self.doc.limits, (row, to), (&formula, why), None)?;
        Ok(())
    }
}

/// A cell of Rooms.
fn rooms_cell(root: &TableLayout, column: u16, room: u32) -> String {
    format!("{}!${}${}", quoted(&root.sheet), column_letters(column), root.row(room) + 1)
}
