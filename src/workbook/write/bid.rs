//! Bid: one printed page that a manager can read and sign.

use super::blocks::{LEVELS_SHOWN, Share, area, level_formula, levels, share_formula, shares};
use super::edge;
use super::layout::{Layout, LineColumn};
use super::page::{day, frame, lines};
use super::shown::shown;
use super::styles::{MONEY, PERCENT, QUANTITY, Styles};
use super::{Book, Document, text_of};
use crate::pricing::{JobFigure, Priced};
use crate::program::{LineKind, Value};
use crate::quantity::Number;
use crate::workbook::palette as color;
use rust_xlsxwriter::{
    Chart, ChartAxisTickType, ChartDataLabel, ChartFont, ChartFormat, ChartLine, ChartPatternFill,
    ChartPatternFillType, ChartPoint, ChartSolidFill, Format, FormatAlign, FormatBorder, Formula, Worksheet, XlsxError,
};
use std::collections::{BTreeMap, BTreeSet};

/// Widths of the columns: a table of three, a gap, a table of three.
const WIDTHS: [u32; 7] = [25, 15, 10, 2, 27, 14, 9];
const LAST: u16 = 6;
/// First column of the left and of the right table.
const LEFT: u16 = 0;
const RIGHT: u16 = 4;
/// Rows that the picture takes, and their height in pixels.
const PICTURE_ROWS: u32 = 11;
const ROW_PIXELS: u32 = 24;

const CAUTION: &str = "An estimating aid. Span and load checks here do not replace the manufacturer's tested tables, \
                       local codes or licensed practice, which govern.";

/// Writes Bid.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    book.sheet("Bid", 0)?;
    let Book { layout, styles, workbook, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    for (at, width) in (0u16..).zip(WIDTHS) {
        sheet.set_column_width(at, width)?;
    }
    sheet.set_default_row_height_pixels(ROW_PIXELS);
    let mut page = Page { sheet, doc, layout, styles, formats: Formats::new() };
    page.title()?;
    let left = page.totals(5)?;
    let shares = if doc.priced.has_prices { shares(&doc) } else { Vec::new() };
    let right = page.money(5, &shares)?;
    let top = left.max(right) + 1;
    let next = page.levels_and_picture(top, &shares)?;
    let end = page.foot(next)?;
    frame(sheet, &doc)?;
    sheet.set_portrait();
    sheet.set_print_center_horizontally(true);
    sheet.set_print_area(0, 0, end, LAST)?;
    sheet.set_print_fit_to_pages(1, 1);
    sheet.set_active(true);
    Ok(())
}

/// Formats that the Bid alone uses.
struct Formats {
    title: Format,
    job: Format,
    rule: Format,
    label: Format,
    money: Format,
    each: Format,
    quantity: Format,
    percent: Format,
    word: Format,
    grand_label: Format,
    grand: Format,
    incomplete: Format,
    line: Format,
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

/// Cells of the Bid by the name of their figure, and which of them are blank for want of prices.
#[derive(Default)]
struct Cells<'a> {
    at: BTreeMap<&'a str, String>,
    blank: BTreeSet<&'a str>,
}

struct Page<'a, 'w> {
    sheet: &'w mut Worksheet,
    doc: Document<'a>,
    layout: &'w Layout,
    styles: &'w Styles,
    formats: Formats,
}

impl<'a> Page<'a, '_> {
    fn title(&mut self) -> Result<(), XlsxError> {
        let (sheet, formats) = (&mut *self.sheet, &self.formats);
        sheet.set_row_height(0, 30)?;
        sheet.write_string_with_format(0, 0, "Ceiling bid", &formats.title)?;
        sheet.set_row_height(1, 20)?;
        sheet.write_string_with_format(1, 0, text_of(self.doc.title), &formats.job)?;
        let prices = match (self.doc.priced.has_prices, self.doc.prices_file) {
            (false, _) => "no price book: costs are blank".to_owned(),
            (true, Some(file)) => format!("prices from {}", file.name),
            (true, None) => "prices from a price book".to_owned(),
        };
        let line = format!("Priced as of {}, {prices}", day(&self.doc));
        sheet.write_string_with_format(2, 0, text_of(&line), &self.styles.quiet)?;
        sheet.set_row_height(3, 6)?;
        for at in 0..=LAST {
            sheet.write_blank(3, at, &formats.rule)?;
        }
        Ok(())
    }

    /// A heading over a table of three columns, with the heads of its two columns of numbers.
    fn heads(&mut self, row: u32, at: u16, texts: [&str; 3]) -> Result<(), XlsxError> {
        self.sheet.set_row_height(row, 19)?;
        self.sheet.write_string_with_format(row, at, texts[0], &self.styles.section)?;
        let right = self.styles.section.clone().set_align(FormatAlign::Right).set_font_size(9).unset_bold();
        self.sheet.write_string_with_format(row, at + 1, texts[1], &right)?;
        self.sheet.write_string_with_format(row, at + 2, texts[2], &right)?;
        Ok(())
    }

    fn formula(&mut self, row: u32, at: u16, formula: &str, value: &str, format: &Format) -> Result<(), XlsxError> {
        self.sheet.write_formula_with_format(row, at, Formula::new(formula).set_result(value), format)?;
        Ok(())
    }

    /// A sum of line costs: live, and nothing while no line has a cost.
    fn cost_formula(&self, sum: String) -> String {
        if self.doc.priced.has_prices {
            return sum;
        }
        let counts =
            self.layout.lines.over_sheets(|s| format!("COUNT({})", self.layout.lines.range(s, LineColumn::Cost)));
        format!("IF({counts}=0,\"\",{sum})")
    }

    fn cents(&self, value: i64) -> String {
        let mut text = String::new();
        if self.doc.priced.has_prices {
            edge::cents_text(&mut text, value);
        }
        text
    }

    /// Material, labor, the job's build-up, total, cost by area, hours, rooms.
    fn totals(&mut self, top: u32) -> Result<u32, XlsxError> {
        let priced = self.doc.priced;
        self.heads(top, LEFT, ["The bid", "", ""])?;
        let mut row = top + 1;
        let mut cells = Cells::default();
        if !priced.has_prices {
            cells.blank.extend(["material", "labor"]);
        }
        for (name, label, kind, value) in [
            ("material", "Material", LineKind::Material, priced.material),
            ("labor", "Labor", LineKind::Labor, priced.labor),
        ] {
            let sum = self.layout.lines.sum(LineColumn::Cost, Some(super::lines::kind_word(kind)));
            let (formula, value) = (self.cost_formula(sum), self.cents(value));
            self.row(row, label)?;
            let money = self.formats.money.clone();
            self.formula(row, 1, &formula, &value, &money)?;
            cells.at.insert(name, format!("B{}", row + 1));
            row += 1;
        }
        let hours_row = row + u32::try_from(figures(priced).count()).unwrap_or(0) + 2;
        let hours = format!("B{}", hours_row + u32::from(self.area().is_some()));
        cells.at.insert("hours", hours);
        for figure in figures(priced) {
            if self.figure(row, figure, &cells)? {
                cells.blank.insert(&figure.name);
            }
            cells.at.insert(&figure.name, format!("B{}", row + 1));
            row += 1;
        }
        self.total(row, &cells)?;
        self.after_total(row + 1)
    }

    fn row(&mut self, row: u32, label: &str) -> Result<(), XlsxError> {
        self.sheet.write_string_with_format(row, 0, text_of(label), &self.formats.label)?;
        self.sheet.write_blank(row, 1, &self.formats.label)?;
        self.sheet.write_blank(row, 2, &self.formats.label)?;
        Ok(())
    }

    /// A figure of the build-up, live where its formula can be. Says whether it is blank for want of prices.
    fn figure(&mut self, row: u32, figure: &JobFigure, cells: &Cells<'_>) -> Result<bool, XlsxError> {
        let mut is_blank = false;
        self.row(row, &figure.label)?;
        let field = self.doc.schema.field(figure.field);
        let how = shown(field, None);
        let word = self.formats.word.clone();
        let format = self.formats.money.clone().set_num_format(&how.format);
        match &figure.value {
            Err(why) => {
                self.sheet.write_string_with_format(row, 1, text_of(why), &self.styles.fault)?;
            }
            Ok(Value::Text(text)) => {
                self.sheet.write_string_with_format(row, 1, text_of(text), &word)?;
            }
            Ok(Value::YesNo(yes)) => {
                self.sheet.write_string_with_format(row, 1, if *yes { "yes" } else { "no" }, &word)?;
            }
            Ok(Value::Date(date)) => {
                self.sheet.write_number_with_format(row, 1, edge::date(*date), &format)?;
            }
            Ok(Value::Number(number)) => {
                let number = number.scaled(how.factor.recip()).unwrap_or(*number);
                match self.live(&figure.name, cells) {
                    Some((formula, blank)) => {
                        is_blank = blank;
                        let mut value = String::new();
                        if !blank {
                            edge::float_text(&mut value, edge::number(&number));
                        }
                        self.formula(row, 1, &formula, &value, &format)?;
                    }
                    None => {
                        self.sheet.write_number_with_format(row, 1, edge::number(&number), &format)?;
                    }
                }
                if !how.unit.is_empty() && how.unit != "$" && !how.unit.starts_with('$') {
                    let unit = self.formats.label.clone();
                    self.sheet.write_string_with_format(row, 2, &how.unit, &unit)?;
                }
            }
        }
        Ok(is_blank)
    }

    /// A figure's live formula with its names replaced by cells, and whether it is blank because one of them is;
    /// `None` where a name has no cell.
    fn live(&self, name: &str, cells: &Cells<'_>) -> Option<(String, bool)> {
        let mut blank = false;
        let (_, template) = self.doc.job_live.iter().find(|(n, _)| n == name)?;
        let mut out = String::new();
        let mut rest = template.as_str();
        while let Some(open) = rest.find('{') {
            let close = open + rest[open..].find('}')?;
            out.push_str(&rest[..open]);
            let name = &rest[open + 1..close];
            out.push_str(cells.at.get(name)?);
            blank |= cells.blank.contains(name);
            rest = &rest[close + 1..];
        }
        out.push_str(rest);
        Some(if blank { (format!("IFERROR({out},\"\")"), true) } else { (out, false) })
    }

    fn total(&mut self, row: u32, cells: &Cells<'_>) -> Result<(), XlsxError> {
        let priced = self.doc.priced;
        self.sheet.set_row_height(row, 22)?;
        let (label, grand) = (self.formats.grand_label.clone(), self.formats.grand.clone());
        self.sheet.write_string_with_format(row, 0, "Total", &label)?;
        self.sheet.write_blank(row, 2, &label)?;
        if priced.stopped > 0 {
            self.sheet.merge_range(row, 1, row, 2, "INCOMPLETE", &self.formats.incomplete)?;
            return Ok(());
        }
        let own = priced.job.iter().any(|f| f.name == "total");
        let sum = priced.material.checked_add(priced.labor);
        let direct = || cells.at.get("material").zip(cells.at.get("labor")).map(|(m, l)| format!("{m}+{l}"));
        let formula = match own {
            true => self.live("total", cells).map(|(formula, _)| formula),
            false if sum == priced.total || priced.total.is_none() => direct(),
            false => None,
        };
        match (formula, priced.total) {
            (Some(formula), total) => {
                let value = total.map_or_else(String::new, |t| self.cents(t));
                let formula =
                    if priced.has_prices { formula } else { format!("IF(COUNT(B{0}:B{1})=0,\"\",{formula})", 7, 8) };
                self.formula(row, 1, &formula, &value, &grand)
            }
            (None, Some(total)) => {
                self.sheet.write_number_with_format(row, 1, edge::cents(total), &grand)?;
                let small = label.set_font_size(8).unset_bold();
                self.sheet.write_string_with_format(row, 2, "not live", &small)?;
                Ok(())
            }
            (None, None) => {
                self.sheet.write_blank(row, 1, &grand)?;
                Ok(())
            }
        }
    }

    fn area(&self) -> Option<(u16, String, f64)> {
        self.layout.root.as_ref().and_then(|root| area(&self.doc, root))
    }

    /// What the rows are called, as a label begins.
    fn rows_word(&self) -> String {
        let name = self.layout.root.as_ref().map_or("rows", |r| self.doc.schema.kind(r.kind).name.as_str());
        let mut letters = name.replace('_', " ").chars().collect::<Vec<_>>();
        letters.first_mut().into_iter().for_each(|c| *c = c.to_ascii_uppercase());
        letters.into_iter().collect()
    }

    /// Cost by area, hours and rooms, below the total that stands in the row above.
    fn after_total(&mut self, mut row: u32) -> Result<u32, XlsxError> {
        let priced = self.doc.priced;
        if let (Some((column, unit, each)), Some(root)) = (self.area(), self.layout.root.as_ref()) {
            self.row(row, &format!("Cost per {unit}"))?;
            let format = self.formats.each.clone();
            if priced.stopped == 0 {
                let (total, range) = (row, root.range(column));
                let mut value = String::new();
                if priced.total.is_some() {
                    edge::float_text(&mut value, each);
                }
                let formula = format!("IF(OR(B{total}=\"\",SUM({range})=0),\"\",B{total}/SUM({range}))");
                self.formula(row, 1, &formula, &value, &format)?;
            }
            row += 1;
        }
        self.row(row, "Labor hours")?;
        let mut value = String::new();
        edge::float_text(&mut value, priced.hours.as_ref().map_or(0.0, edge::number));
        let (formula, format) = (self.layout.lines.sum(LineColumn::Hours, None), self.formats.quantity.clone());
        self.formula(row, 1, &formula, &value, &format)?;
        row += 1;
        let rooms = self.layout.root.as_ref().map_or(0, |r| r.rows);
        self.row(row, &format!("{} priced", self.rows_word()))?;
        let kept = format!("{} of {rooms}", (rooms as usize).saturating_sub(priced.stopped));
        self.sheet.write_string_with_format(row, 1, kept, &self.formats.word)?;
        row += 1;
        if priced.stopped > 0 {
            let (rows, them) = if priced.stopped == 1 { ("1 row is", "it is") } else { ("", "they are") };
            let rows = if rows.is_empty() { format!("{} rows are", priced.stopped) } else { rows.to_owned() };
            let text = format!("{rows} stopped, so there is no total until {them} dealt with: see Checks.");
            let format =
                Format::new().set_bold().set_text_wrap().set_align(FormatAlign::Top).set_font_color(color::STOP);
            self.sheet.set_row_height(row, 32)?;
            self.sheet.merge_range(row, 0, row, 2, &text, &format)?;
            row += 1;
        }
        Ok(row)
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
            return Ok(top);
        }
        self.heads(top, RIGHT, ["Where the money goes", "Cost", "Share"])?;
        let whole = shares.iter().map(|s| s.cost).fold(0i64, i64::saturating_add);
        let (first, last) = (top + 1, top + u32::try_from(shares.len()).unwrap_or(0));
        let (label, money, percent) =
            (self.formats.label.clone(), self.formats.money.clone(), self.formats.percent.clone());
        let total = format!("({}+{})", "B7", "B8");
        for (row, share) in (first..).zip(shares) {
            self.sheet.write_string_with_format(row, RIGHT, text_of(&share.label), &label)?;
            let formula = match share.kind {
                Some(kind) => share_formula(self.layout, &format!("E{}", row + 1), kind),
                None => format!("{total}-SUM(F{}:F{})", first + 1, row),
            };
            let value = self.cents(share.cost);
            self.formula(row, RIGHT + 1, &formula, &value, &money)?;
            let mut value = String::new();
            edge::float_text(&mut value, edge::share(share.cost, whole).unwrap_or(0.0));
            let formula = format!("IF({total}=0,0,F{}/{total})", row + 1);
            self.formula(row, RIGHT + 2, &formula, &value, &percent)?;
        }
        let note = "Material and labor before mark-ups. Striped bars are labor.";
        self.sheet.merge_range(last + 1, RIGHT, last + 1, LAST, note, &self.styles.quiet_wrapped)?;
        Ok(last + 2)
    }

    /// The levels at the left, the picture at the right; the picture alone across the page where there are none.
    fn levels_and_picture(&mut self, top: u32, shares: &[Share]) -> Result<u32, XlsxError> {
        let left = self.levels(top)?;
        if shares.is_empty() {
            return Ok(left + 1);
        }
        let wide = left == top;
        let at = if wide { LEFT } else { RIGHT };
        let width: u32 = WIDTHS[usize::from(at)..].iter().map(|w| w * 7 + 5).sum();
        let rows = PICTURE_ROWS.max(left - top);
        let chart = picture(shares, width, rows * ROW_PIXELS);
        self.sheet.insert_chart_with_offset(top, at, &chart, 0, 2)?;
        Ok((top + rows + 1).max(left))
    }

    fn levels(&mut self, top: u32) -> Result<u32, XlsxError> {
        let Some(root) = self.layout.root.as_ref() else { return Ok(top) };
        let Some(found) = levels(&self.doc, root) else { return Ok(top) };
        self.heads(top, LEFT, ["By level", "Cost", "Hours"])?;
        let (label, money, quantity) =
            (self.formats.label.clone(), self.formats.money.clone(), self.formats.quantity.clone());
        let mut row = top + 1;
        let (cost, hours) = (root.cost(), root.cost() + 1);
        let named = if found.levels.len() > LEVELS_SHOWN { LEVELS_SHOWN - 1 } else { found.levels.len() };
        for level in found.levels.iter().take(named) {
            let name = if level.name.is_empty() { "(no level)" } else { &level.name };
            self.sheet.write_string_with_format(row, 0, text_of(name), &label)?;
            let cell = if level.name.is_empty() { "\"\"".to_owned() } else { format!("A{}", row + 1) };
            let value = self.cents(level.cost);
            let formula = self.cost_formula(level_formula(root, found.column, &cell, cost));
            self.formula(row, 1, &formula, &value, &money)?;
            let mut value = String::new();
            edge::float_text(&mut value, edge::number(&level.hours));
            let formula = level_formula(root, found.column, &cell, hours);
            self.formula(row, 2, &formula, &value, &quantity)?;
            row += 1;
        }
        self.rest(row, top + 1, found.levels.len() - named)
    }

    /// What the named levels leave: further levels, and lines of the job as a whole.
    fn rest(&mut self, row: u32, first: u32, unnamed: usize) -> Result<u32, XlsxError> {
        let priced = self.doc.priced;
        let job = priced.lines.iter().any(|l| l.room.is_none());
        let text = match (unnamed, job) {
            (0, false) => return Ok(row),
            (0, true) => "Whole job".to_owned(),
            (n, false) => format!("{n} more levels"),
            (n, true) => format!("{n} more levels, whole job"),
        };
        let found = self.layout.root.as_ref().and_then(|root| levels(&self.doc, root));
        let named = (row - first) as usize;
        let (mut cost, mut hours) =
            (priced.material.saturating_add(priced.labor), priced.hours.unwrap_or(Number::ZERO));
        for level in found.iter().flat_map(|f| &f.levels).take(named) {
            cost = cost.saturating_sub(level.cost);
            hours = hours.minus(&level.hours).unwrap_or(hours);
        }
        let (label, money, quantity) =
            (self.formats.label.clone(), self.formats.money.clone(), self.formats.quantity.clone());
        self.sheet.write_string_with_format(row, 0, text, &label)?;
        let value = self.cents(cost);
        let formula = self.cost_formula(format!("B7+B8-SUM(B{}:B{row})", first + 1));
        self.formula(row, 1, &formula, &value, &money)?;
        let mut value = String::new();
        edge::float_text(&mut value, edge::number(&hours));
        let formula = format!("{}-SUM(C{}:C{row})", self.layout.lines.sum(LineColumn::Hours, None), first + 1);
        self.formula(row, 2, &formula, &value, &quantity)?;
        Ok(row + 1)
    }

    /// Editions, cautions, and a line to sign.
    fn foot(&mut self, top: u32) -> Result<u32, XlsxError> {
        let width: u32 = WIDTHS.iter().sum();
        let books: Vec<String> =
            self.doc.schema.books.iter().map(|b| format!("{}, edition {}", b.title, b.edition)).collect();
        let rules = format!("Rules: {}.", books.join("; "));
        let mut row = top;
        for text in [rules.as_str(), CAUTION] {
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

/// Figures with a row of their own: all but those that have one already.
fn figures(priced: &Priced) -> impl Iterator<Item = &JobFigure> {
    priced.job.iter().filter(|f| !matches!(f.name.as_str(), "material" | "labor" | "total" | "hours"))
}

/// Bars for the dearest items: material solid, labor striped, so that they differ without color.
fn picture(shares: &[Share], width: u32, height: u32) -> Chart {
    let (first, last) = (6, 5 + u32::try_from(shares.len()).unwrap_or(0));
    let mut chart = Chart::new_bar();
    let edge = || ChartLine::new().set_color(color::INK).set_width(0.75).clone();
    let points: Vec<ChartPoint> = shares
        .iter()
        .map(|share| {
            let mut format = ChartFormat::new();
            format.set_border(&edge());
            match share.kind {
                Some(LineKind::Material) => format.set_solid_fill(ChartSolidFill::new().set_color(color::MATERIAL)),
                Some(LineKind::Labor) => format.set_pattern_fill(
                    ChartPatternFill::new()
                        .set_pattern(ChartPatternFillType::DiagonalStripesWideUpwards)
                        .set_foreground_color(color::LABOR)
                        .set_background_color(color::PAPER),
                ),
                None => format.set_solid_fill(ChartSolidFill::new().set_color(color::OTHER)),
            };
            ChartPoint::new().set_format(&mut format)
        })
        .collect();
    let mut font = ChartFont::new();
    font.set_size(9).set_color(color::INK);
    chart
        .add_series()
        .set_name("Cost")
        .set_categories(("Bid", first, RIGHT, last, RIGHT))
        .set_values(("Bid", first, RIGHT + 1, last, RIGHT + 1))
        .set_gap(45)
        .set_format(ChartFormat::new().set_solid_fill(ChartSolidFill::new().set_color(color::MATERIAL)))
        .set_points(&points)
        .set_data_label(ChartDataLabel::new().show_value().set_font(&font).set_num_format("$#,##0"));
    chart.title().set_hidden();
    chart.legend().set_hidden();
    // The bars carry their amounts, so the scale and its lines would only repeat them.
    chart.x_axis().set_hidden(true).set_major_gridlines(false);
    chart.y_axis().set_font(&font).set_reverse();
    chart.y_axis().set_major_tick_type(ChartAxisTickType::None);
    chart.chart_area().set_format(ChartFormat::new().set_no_border());
    chart.set_width(width).set_height(height);
    let dearest: Vec<&str> = shares.iter().take(3).map(|s| s.label.as_str()).collect();
    chart.set_alt_text(format!("Bars of cost by item and work; the dearest are {}.", dearest.join(", ")));
    chart
}
