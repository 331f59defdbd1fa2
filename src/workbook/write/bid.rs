//! Bid: one printed page that a manager can read and sign.

use super::blocks::{Share, share_formula, shares};
use super::build_up::{BuildUp, Cells};
use super::edge;
use super::layout::Layout;
use super::page::{day, frame, lines};
use super::picture::picture;
use super::styles::{MONEY, PERCENT, QUANTITY, RATE_PERCENT, Styles};
use super::values::write_live;
use super::{Book, Document, as_read, charged, checks, link_text, prices, text_of};
use crate::pricing::Finding;
use crate::problem::Weight;
use crate::program::Value;
use crate::workbook::palette as color;
use rust_xlsxwriter::{Format, FormatAlign, FormatBorder, Url, Worksheet, XlsxError};

/// Widths of the columns: a table of three, a gap, a table of three.
pub(super) const WIDTHS: [u32; 7] = [26, 10, 15, 2, 27, 14, 9];
pub(super) const LAST: u16 = 6;
/// First column of the left and of the right table.
pub(super) const LEFT: u16 = 0;
pub(super) const RIGHT: u16 = 4;
/// Rows that the picture takes, and their height in pixels.
const PICTURE_ROWS: u32 = 11;
/// The same on a page that tells more.
const PICTURE_ROWS_LEAST: u32 = 8;
const ROW_PIXELS: u32 = 24;
/// Checks that stop, shown by name.
const STOPS_SHOWN: usize = 5;

const CAUTION: &str = "An estimating aid. Span and load checks here do not replace the manufacturer's tested tables, \
                       local codes or licensed practice, which govern.";

/// Writes Bid.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    book.sheet("Bid", 0)?;
    let Book { layout, styles, workbook, bid_cells, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    for (at, width) in (0u16..).zip(WIDTHS) {
        sheet.set_column_width(at, width)?;
    }
    sheet.set_default_row_height_pixels(ROW_PIXELS);
    let formats = Formats::new();
    let mut page = Page { sheet, doc, layout, styles, formats, cells: Cells::default(), total_row: 0 };
    let plan = BuildUp::new(&doc);
    let top = page.title(&plan)?;
    let left = page.totals(top, &plan)?;
    let shares = if doc.priced.has_prices { shares(&doc) } else { Vec::new() };
    let right = page.money(top, &shares)?;
    let right = page.by_work(right + 1)?;
    let right = page.divided(right)?;
    let next = page.levels_and_picture(left + 1, right, top + 1, &shares)?;
    let next = page.stops(next)?;
    let next = page.told(next)?;
    let end = page.foot(next, &plan)?;
    *bid_cells = page.cells;
    frame(sheet, &doc)?;
    sheet.set_portrait();
    sheet.set_print_center_horizontally(true);
    sheet.set_print_area(0, 0, end, LAST)?;
    sheet.set_print_fit_to_pages(1, 1);
    sheet.set_active(true);
    Ok(())
}

/// Formats that the Bid alone uses.
pub(super) struct Formats {
    pub(super) title: Format,
    pub(super) job: Format,
    pub(super) rule: Format,
    pub(super) label: Format,
    pub(super) money: Format,
    pub(super) each: Format,
    pub(super) quantity: Format,
    pub(super) percent: Format,
    pub(super) rate: Format,
    pub(super) fact: Format,
    pub(super) word: Format,
    pub(super) grand_label: Format,
    pub(super) grand: Format,
    pub(super) incomplete: Format,
    pub(super) line: Format,
}

impl Formats {
    fn new() -> Self {
        let ink = || Format::new().set_font_color(color::INK);
        let row = || ink().set_border_bottom(FormatBorder::Hair).set_border_bottom_color(color::HAIRLINE);
        let grand = || {
            ink()
                .set_bold()
                .set_font_size(13)
                .set_background_color(color::TOTAL)
                .set_border_top(FormatBorder::Thin)
                .set_border_bottom(FormatBorder::Double)
                .set_align(FormatAlign::VerticalCenter)
        };
        Self {
            title: ink().set_bold().set_font_size(20),
            job: ink().set_font_size(13),
            rule: Format::new().set_border_bottom(FormatBorder::Thick).set_border_bottom_color(color::HEADING),
            label: row(),
            money: row().set_num_format(MONEY),
            each: row().set_num_format("$#,##0.00"),
            quantity: row().set_num_format(QUANTITY),
            percent: row().set_num_format(PERCENT),
            rate: row()
                .set_num_format(RATE_PERCENT)
                .set_background_color(color::TYPED)
                .set_border(FormatBorder::Dotted)
                .set_border_color(color::TYPED_EDGE),
            fact: ink().set_text_wrap().set_align(FormatAlign::Left).set_align(FormatAlign::VerticalCenter),
            word: row().set_align(FormatAlign::Right),
            grand_label: grand(),
            grand: grand().set_num_format(MONEY),
            incomplete: Format::new()
                .set_bold()
                .set_font_size(13)
                .set_font_color(color::PAPER)
                .set_background_color(color::STOP)
                .set_align(FormatAlign::Center)
                .set_align(FormatAlign::VerticalCenter),
            line: Format::new().set_border_bottom(FormatBorder::Thin).set_border_bottom_color(color::INK),
        }
    }
}

pub(super) struct Page<'a, 'w> {
    pub(super) sheet: &'w mut Worksheet,
    pub(super) doc: Document<'a>,
    pub(super) layout: &'w Layout,
    pub(super) styles: &'w Styles,
    pub(super) formats: Formats,
    /// Where the job's figures stand.
    pub(super) cells: Cells,
    /// Row of the total.
    pub(super) total_row: u32,
}

impl<'a> Page<'a, '_> {
    /// The head of the page: what the bid is for. Gives the row of the tables' headings.
    fn title(&mut self, plan: &BuildUp<'_>) -> Result<u32, XlsxError> {
        let (sheet, formats) = (&mut *self.sheet, &self.formats);
        sheet.set_row_height(0, 30)?;
        sheet.write_string_with_format(0, 0, text_of(plan.project.unwrap_or("Ceiling bid")), &formats.title)?;
        sheet.set_row_height(1, 20)?;
        let second = match plan.project {
            Some(_) => format!("Ceiling bid for the rooms in {}", self.doc.title),
            None => self.doc.title.to_owned(),
        };
        sheet.write_string_with_format(1, 0, text_of(&second), &formats.job)?;
        let mut row = 2;
        let width: u32 = WIDTHS[1..].iter().sum();
        for fact in &plan.facts {
            let text = match &fact.value {
                Ok(Value::Text(text)) => text.to_string(),
                Ok(Value::Date(date)) => day(*date),
                _ => continue,
            };
            if text.trim().is_empty() {
                continue;
            }
            sheet.set_row_height(row, 15 * lines(&text, width).clamp(1, 4) + 3)?;
            let quiet = self.styles.quiet.clone().set_align(FormatAlign::VerticalCenter);
            sheet.write_string_with_format(row, 0, text_of(&fact.label), &quiet)?;
            sheet.merge_range(row, 1, row, LAST, text_of(&text), &formats.fact)?;
            row += 1;
        }
        let prices = match (self.doc.priced.has_prices, self.doc.prices_file) {
            (false, _) => "no price book: costs are blank".to_owned(),
            (true, Some(file)) => format!("prices from {}", file.name),
            (true, None) => "prices from a price book".to_owned(),
        };
        let priced = match self.doc.revision {
            0 | 1 => "Priced".to_owned(),
            n => format!("Revision {n}, priced"),
        };
        let line = format!("{priced} as of {}, {prices}", day(self.doc.as_of));
        sheet.write_string_with_format(row, 0, text_of(&line), &self.styles.quiet)?;
        row += 1;
        sheet.set_row_height(row, 6)?;
        for at in 0..=LAST {
            sheet.write_blank(row, at, &formats.rule)?;
        }
        if let Some(told) = as_read::told(&self.doc, self.layout) {
            write_live(sheet, &self.doc.limits, (row + 1, 0), (&told, ""), Some(&self.styles.changed))?;
        }
        Ok(row + 2)
    }

    /// A heading over a table of three columns, with the heads of its two columns of numbers.
    pub(super) fn heads(&mut self, row: u32, at: u16, texts: [&str; 3]) -> Result<(), XlsxError> {
        self.sheet.set_row_height(row, 19)?;
        self.sheet.write_string_with_format(row, at, texts[0], &self.styles.section)?;
        let right = self.styles.section.clone().set_align(FormatAlign::Right).set_font_size(9).unset_bold();
        self.sheet.write_string_with_format(row, at + 1, texts[1], &right)?;
        self.sheet.write_string_with_format(row, at + 2, texts[2], &right)?;
        Ok(())
    }

    /// Where the money goes: the dearest items and works.
    fn money(&mut self, top: u32, shares: &[Share]) -> Result<u32, XlsxError> {
        if !self.doc.priced.has_prices {
            let text =
                "No price book: costs are blank. Price the job again with a price book, or type unit costs on Lines.";
            let format = Format::new().set_text_wrap().set_align(FormatAlign::Top).set_font_color(color::INK);
            self.sheet.merge_range(top, RIGHT, top + 2, LAST, text, &format)?;
        }
        if shares.is_empty() {
            return Ok(if self.doc.priced.has_prices { top } else { top + 3 });
        }
        self.heads(top, RIGHT, ["Where the money goes", "Cost", "Share"])?;
        let whole = shares.iter().map(|s| s.cost).fold(0i64, i64::saturating_add);
        let (first, last) = (top + 1, top + u32::try_from(shares.len()).unwrap_or(0));
        let (label, money, percent) =
            (self.formats.label.clone(), self.formats.money.clone(), self.formats.percent.clone());
        let total = format!("({})", self.cells.direct());
        for (row, share) in (first..).zip(shares) {
            self.sheet.write_string_with_format(row, RIGHT, text_of(&share.label), &label)?;
            let formula = match share.kind {
                Some(kind) => share_formula(self.layout, &format!("E{}", row + 1), kind),
                None => format!("{total}-SUM(F{}:F{})", first + 1, row),
            };
            let value = self.cents(share.cost);
            self.formula(row, RIGHT + 1, &formula, &value, &money)?;
            let value = edge::text(edge::share(share.cost, whole).unwrap_or(0.0));
            let formula = format!("IF({total}=0,0,F{}/{total})", row + 1);
            self.formula(row, RIGHT + 2, &formula, &value, &percent)?;
        }
        let note = "Material and labor before mark-ups. Striped bars are labor.";
        self.sheet.merge_range(last + 1, RIGHT, last + 1, LAST, note, &self.styles.quiet_wrapped)?;
        Ok(last + 2)
    }

    /// Sums by level and by option at the left, the picture at the right under where the money goes; the picture alone across the page
    /// where there are none and the tables leave room.
    fn levels_and_picture(&mut self, left: u32, right: u32, first: u32, shares: &[Share]) -> Result<u32, XlsxError> {
        let end = self.added_up(left)?;
        if shares.is_empty() {
            return Ok(end.max(right) + 1);
        }
        let width: u32 = WIDTHS[usize::from(RIGHT)..].iter().map(|w| w * 7 + 5).sum();
        let least = if self.doc.schema.telling.is_empty() { PICTURE_ROWS } else { PICTURE_ROWS_LEAST };
        let rows = least.max(end.saturating_sub(right).min(2 * PICTURE_ROWS));
        let chart = picture(shares, first, RIGHT, (width, rows * ROW_PIXELS));
        self.sheet.insert_chart_with_offset(right + 1, RIGHT, &chart, 0, 2)?;
        Ok(end.max(right + rows + 1) + 1)
    }

    /// What stops the bid, the first few by name.
    fn stops(&mut self, top: u32) -> Result<u32, XlsxError> {
        let stops: Vec<&Finding> =
            self.doc.priced.findings.iter().filter(|f| f.problem.weight == Weight::Stop).collect();
        if stops.is_empty() {
            return Ok(top);
        }
        for at in 0..=LAST {
            self.sheet.write_blank(top, at, &self.styles.section)?;
        }
        let heading =
            if stops.len() == 1 { "1 check stops".to_owned() } else { format!("{} checks stop", stops.len()) };
        self.sheet.set_row_height(top, 19)?;
        self.sheet.write_string_with_format(top, 0, heading, &self.styles.section)?;
        let width: u32 = WIDTHS[1..].iter().sum();
        let link = self.styles.link.clone().set_align(FormatAlign::VerticalCenter);
        let name_format = self.styles.text.clone().set_align(FormatAlign::VerticalCenter);
        let mut row = top + 1;
        for stop in stops.iter().take(STOPS_SHOWN) {
            let what = text_of(&stop.problem.what);
            self.sheet.set_row_height(row, 15 * lines(what, width).clamp(1, 4) + 4)?;
            let name = stop.row_name.as_deref().unwrap_or(&stop.name);
            match checks::target(&self.doc, self.layout, stop, checks::cell_of(stop)) {
                Some((address, _)) => {
                    let url = Url::new(format!("internal:{address}")).set_text(link_text(name));
                    self.sheet.write_url_with_format(row, 0, url, &link)?;
                }
                None => {
                    self.sheet.write_string_with_format(row, 0, text_of(name), &name_format)?;
                }
            }
            self.sheet.merge_range(row, 1, row, LAST, what, &self.formats.fact)?;
            row += 1;
        }
        if let Some(more) = stops.len().checked_sub(STOPS_SHOWN).filter(|n| *n > 0) {
            self.sheet.write_string_with_format(row, 0, format!("and {more} more: see Checks."), &self.styles.quiet)?;
            row += 1;
        }
        Ok(row + 1)
    }

    /// Editions, cautions, and a line to sign.
    fn foot(&mut self, top: u32, plan: &BuildUp<'_>) -> Result<u32, XlsxError> {
        let width: u32 = WIDTHS.iter().sum();
        let books: Vec<String> = self
            .doc
            .schema
            .books
            .iter()
            .map(|b| if b.edition.is_empty() { b.title.clone() } else { format!("{}, edition {}", b.title, b.edition) })
            .collect();
        let rules = format!("Rules: {}.", books.join("; "));
        let mut row = top;
        let text = if self.doc.priced.has_prices && !self.doc.priced.order.is_empty() {
            format!("{} {}", charged::charged(&self.doc), charged::waste_entered(&self.doc))
        } else {
            charged::waste_entered(&self.doc).to_owned()
        };
        let text = format!("{text}{}", overtime(&self.doc));
        let bases = plan.bases(&self.doc);
        let on =
            if bases.is_empty() { String::new() } else { format!("Mark-ups, in this order: {}.", bases.join("; ")) };
        for text in [on.as_str(), text.as_str(), rules.as_str(), CAUTION].into_iter().filter(|t| !t.is_empty()) {
            self.sheet.set_row_height(row, 13 * lines(text, width).clamp(1, 6) + 4)?;
            self.sheet.merge_range(row, 0, row, LAST, text_of(text), &self.styles.quiet_wrapped)?;
            row += 1;
        }
        row += 1;
        self.sheet.set_row_height(row, 30)?;
        for at in [0, 1, 2, 4, 5, 6] {
            self.sheet.write_blank(row, at, &self.formats.line)?;
        }
        row += 1;
        self.sheet.write_string_with_format(row, 0, "Approved by", &self.styles.quiet_wrapped)?;
        self.sheet.write_string_with_format(row, RIGHT, "Date", &self.styles.quiet_wrapped)?;
        Ok(row)
    }
}

/// Crews whose hours cost more than their wage because some are overtime, as sentences with a space before each.
fn overtime(doc: &Document<'_>) -> String {
    let mut out: Vec<String> = Vec::new();
    for price in doc.priced.prices.iter().filter(|p| p.overtime.is_some()) {
        let name = price.supplier.as_deref().unwrap_or("a crew");
        let sentence = format!(" Overtime: {}.", prices::with_overtime(name, price));
        if !out.contains(&sentence) {
            out.push(sentence);
        }
    }
    out.concat()
}
