//! Schemes: each room under every way to build it.

use super::cells::{Cells, InSheet};
use super::edge;
use super::layout::{Layout, TableLayout, quoted};
use super::lines::row_name;
use super::long::Of;
use super::page::{Table, headings, lines, pages, set_up, width};
use super::shown::{Shown, heading, shown};
use super::styles::{MONEY, QUANTITY, WHOLE, column as column_format};
use super::values::Values;
use super::{Book, Document, text_of};
use crate::engine::column::Holds;
use crate::engine::{Column, ColumnBuilder};
use crate::pricing::options::{
    CHEAPER, DEARER, SAME_COST, cost_of, hours_of, key_heading, shown_text, standing, why_not, without_hand,
};
use crate::pricing::{Compared, Trial, Tried};
use crate::program::{Field, FieldId, Options, Type, Value};
use crate::quantity::Ratio;
use crate::source::column_letters;
use crate::workbook::palette as color;
use rust_xlsxwriter::{ConditionalFormatFormula, Format, FormatAlign, FormatBorder, Worksheet, XlsxError};
use std::fmt::Write as _;

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
    let rooms = u32::try_from(doc.priced.compared.len()).unwrap_or(u32::MAX);
    let (fit, each) = fitting(&doc, options);
    let columns = why(options).saturating_add(1);
    let is_long = book.is_long(fit * each, u64::from(fit) * u64::from(each) * u64::from(columns));
    book.sheet("Schemes", 0)?;
    let Book { layout, styles, workbook, .. } = &mut *book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let shown = options.showing.iter().map(|f| Beside::new(&doc, options, *f)).collect();
    let mut head = Head { doc, options, shown, sheet };
    head.columns(styles, fit * each)?;
    let end = 1 + fit * each;
    if rooms == 0 {
        head.sheet.write_string_with_format(end, 0, "There is nothing to compare.", &styles.quiet)?;
    } else if fit < rooms {
        let text = format!("and {} more, for which this sheet has no room: price --schemes prints all.", rooms - fit);
        head.sheet.write_string_with_format(end, 0, text, &styles.quiet)?;
    } else if doc.priced.prices.iter().any(|p| p.reached.is_some()) {
        let text = "The ways are compared at the first cost of each thing; the one taken is priced at what the whole job reaches.";
        head.sheet.write_string_with_format(end, 0, text, &styles.quiet)?;
    }
    let name = |row: u32| row_name(&doc, options.kind, row).to_string();
    let text = without_hand(doc.schema, options, doc.priced, name);
    // a sheet that is full to its last row has no place for it; the print and Lines have
    if let Some(text) = text.filter(|_| end + 1 < doc.limits.sheet_rows) {
        head.sheet.write_string_with_format(end + 1, 0, text_of(&text), &styles.quiet)?;
    }
    if is_long {
        return book.keep(Of::Schemes, 1, fit * each, columns);
    }
    rows(&doc, layout, &mut InSheet { sheet: head.sheet, styles })
}

/// The rows of all rooms that the sheet has room for, headings aside.
pub fn rows<C: Cells>(doc: &Document<'_>, layout: &Layout, cells: &mut C) -> Result<(), XlsxError> {
    if doc.limits.values_only {
        return written(doc, layout, &mut Values(cells));
    }
    written(doc, layout, cells)
}

fn written<C: Cells>(doc: &Document<'_>, layout: &Layout, cells: &mut C) -> Result<(), XlsxError> {
    let Some(options) = &doc.schema.options else { return Ok(()) };
    let root = layout.root.as_ref().filter(|root| root.kind == options.kind);
    // the factor of a field is the same whatever numbers its column has
    let factors = options.showing.iter().map(|f| shown(doc.schema.field(*f), None).factor).collect();
    let (formula, value) = (String::new(), String::new());
    let mut rows = Rows { doc: *doc, options, root, factors, formula, value, cells };
    let (fit, each) = fitting(doc, options);
    (0..fit).try_for_each(|room| rows.room(room, 1 + room * each))
}

/// How many rooms the sheet has room for, and how many rows each of them takes. A sheet holds its headings, whole rooms,
/// and where not all fit a line that says so.
fn fitting(doc: &Document<'_>, options: &Options) -> (u32, u32) {
    let each = u32::try_from(options.choices.len()).unwrap_or(1).max(1);
    let rooms = u32::try_from(doc.priced.compared.len()).unwrap_or(u32::MAX);
    let room = doc.limits.sheet_rows.saturating_sub(1);
    let all = u64::from(rooms) * u64::from(each) <= u64::from(room);
    (if all { rooms } else { room.saturating_sub(1) / each }, each)
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

/// The column of the reason.
fn why(options: &Options) -> u16 {
    FIRST_SHOWN.saturating_add(u16::try_from(options.showing.len()).unwrap_or(u16::MAX))
}

/// All but the rows of rooms.
struct Head<'a, 'w> {
    doc: Document<'a>,
    options: &'a Options,
    shown: Vec<Beside>,
    sheet: &'w mut Worksheet,
}

impl Head<'_, '_> {
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
        self.sheet.set_column_format(self::why(self.options), &why)?;
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
}

/// The rows of rooms.
struct Rows<'a, 'w, C> {
    doc: Document<'a>,
    options: &'a Options,
    /// Rooms, where the options are theirs.
    root: Option<&'w TableLayout>,
    /// Base units in one of what each column that the book shows is told in.
    factors: Vec<Ratio>,
    formula: String,
    value: String,
    cells: &'w mut C,
}

impl<C: Cells> Rows<'_, '_, C> {
    /// The lines of one room, from a row of the sheet on.
    fn room(&mut self, room: u32, top: u32) -> Result<(), XlsxError> {
        let doc = self.doc;
        let Some(compared) = doc.priced.compared.get(room as usize) else { return Ok(()) };
        let name = row_name(&doc, self.options.kind, room);
        let taken = top + compared.taken;
        for (row, (option, choice)) in (top..).zip(self.options.choices.iter().enumerate()) {
            let why = why_not(doc.schema, doc.priced, room as usize, option);
            let tall = lines(&why, WHY_WIDTH);
            if tall > 1 {
                // 15 points a line, and two
                self.cells.height(row, 20 * tall.min(8) + 3)?;
            }
            self.cells.number((row, NUMBER), f64::from(room + 1))?;
            self.cells.text((row, ROOM), text_of(&name))?;
            self.cells.text((row, OPTION), text_of(&choice.label))?;
            self.cells.text((row, STANDING), standing(compared, option))?;
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
        if row == taken {
            if !C::FIGURES {
                return Ok(false);
            }
            let stopped = priced.rooms.get(room as usize).is_some_and(|r| r.stopped);
            match self.root.filter(|_| !stopped) {
                Some(root) => {
                    let cell = rooms_cell(root, root.cost(), room);
                    self.formula.clear();
                    let _ = match priced.has_prices {
                        true => write!(self.formula, "{cell}"),
                        false => write!(self.formula, "IF({cell}=\"\",\"\",{cell})"),
                    };
                    match cost {
                        Some(cost) => edge::cents_text(&mut self.value, cost),
                        None => self.value.clear(),
                    }
                    self.cells.formula((row, COST), &self.formula, &self.value)?;
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
        if !C::FIGURES {
            return Ok(true);
        }
        let letters = column_letters(COST);
        let (own, other) = (row + 1, taken + 1);
        self.formula.clear();
        let _ = write!(
            self.formula,
            "IF(COUNT({letters}{own},{letters}{other})<2,\"\",ROUND({letters}{own}-{letters}{other},2))"
        );
        edge::cents_text(&mut self.value, cost.saturating_sub(best));
        self.cells.formula((row, OVER), &self.formula, &self.value)?;
        Ok(true)
    }

    fn taken_of(&self, room: u32) -> usize {
        self.doc.priced.compared.get(room as usize).map_or(0, |c| c.taken as usize)
    }

    fn number(&mut self, row: u32, at: u16, cents: Option<i64>) -> Result<(), XlsxError> {
        cents.map_or(Ok(()), |cents| self.cells.number((row, at), edge::cents(cents)))
    }

    fn hours(&mut self, compared: &Compared, (room, option): (u32, usize), row: u32) -> Result<(), XlsxError> {
        let Some(hours) = hours_of(self.doc.priced, room as usize, option) else { return Ok(()) };
        let hours = edge::number(&hours);
        // a row that is stopped has no hours on its own sheet
        let stopped = self.doc.priced.rooms.get(room as usize).is_some_and(|r| r.stopped);
        match self.root.filter(|_| option == compared.taken as usize && !stopped) {
            Some(root) => {
                edge::float_text(&mut self.value, hours);
                self.cells.formula((row, HOURS), &rooms_cell(root, root.cost() + 1, room), &self.value)
            }
            None => self.cells.number((row, HOURS), hours),
        }
    }

    /// What the book shows beside the option.
    fn beside(&mut self, tried: &Tried, row: u32) -> Result<(), XlsxError> {
        let columns = (FIRST_SHOWN..).zip(self.options.showing.iter().zip(&self.factors));
        for ((at, (field, factor)), value) in columns.zip(&tried.shown) {
            let to = (row, at);
            match value {
                Some(Value::Number(number)) => {
                    let number = number.scaled(factor.recip()).unwrap_or(*number);
                    self.cells.number(to, edge::number(&number))?;
                }
                Some(Value::Date(date)) => self.cells.number(to, edge::date(*date))?,
                Some(value) => {
                    let text = shown_text(self.doc.schema, *field, Some(value));
                    self.cells.text(to, text_of(&text))?;
                }
                None => {}
            }
        }
        Ok(())
    }

    /// Why it is not taken; live where an amount stands in it.
    fn reason(&mut self, why: &str, live: bool, row: u32) -> Result<(), XlsxError> {
        let to = (row, self::why(self.options));
        if !live || why.is_empty() {
            return self.cells.text(to, text_of(why));
        }
        let make = |out: &mut String| {
            let (over, n) = (column_letters(OVER), row + 1);
            let format = "\"$#,##0.00\"";
            let _ = write!(
                out,
                "IF({over}{n}=\"\",\"\",IF({over}{n}>0,TEXT({over}{n},{format})&\"{DEARER}\",IF({over}{n}<0,\
                 TEXT(-{over}{n},{format})&\"{CHEAPER}\",\"{SAME_COST}\")))"
            );
        };
        self.cells.alike_text(to, make, why)
    }
}

/// A cell of Rooms.
fn rooms_cell(root: &TableLayout, column: u16, room: u32) -> String {
    format!("{}!${}${}", quoted(&root.sheet), column_letters(column), root.row(room) + 1)
}
