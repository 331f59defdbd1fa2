//! What all sheets share: adding one, widths, headings, frozen panes, print set-up.

use super::styles::Styles;
use super::{Book, Document, printable, text_of};
use crate::quantity::Date;
use crate::source::column_letters;
use rust_xlsxwriter::{ConditionalFormatFormula, Format, Worksheet, XlsxError};

/// US letter.
pub const LETTER: u8 = 1;
/// Narrowest and widest column, in characters.
const WIDTHS: (usize, usize) = (6, 44);
/// Height of one line of text, in points.
const LINE_HEIGHT: u32 = 15;
/// Height of a row of a table, in pixels.
pub const ROW_PIXELS: u32 = 22;
/// Longest title in a page's header; the format allows 255 characters in all.
const HEADER_TITLE: usize = 80;

impl Book<'_> {
    /// Adds a sheet. Large ones are written row by row, so their rows must come in order; their texts stand in their
    /// cells, since the workbook's table of texts begins with those of [`super::long`].
    pub fn sheet(&mut self, name: &str, cells: u64) -> Result<&mut Worksheet, XlsxError> {
        let sheet = if cells > self.doc.limits.cells_in_memory {
            self.workbook.add_worksheet_with_constant_memory()?
        } else {
            self.workbook.add_worksheet()
        };
        sheet.set_name(name)?;
        // A formula whose value is nothing keeps nothing, not a zero.
        sheet.set_formula_result_default("");
        // A height that is said, so that a heading's thick edge does not cut into the row below it.
        sheet.set_default_row_height_pixels(ROW_PIXELS);
        Ok(sheet)
    }
}

/// A table's place on its sheet: row of the headings, rows below it, columns.
#[derive(Clone, Copy, Debug, Default)]
pub struct Table<'t> {
    /// Row of the headings, from 0.
    pub heading: u32,
    /// Rows below the headings.
    pub rows: u32,
    /// How many columns.
    pub columns: u16,
    /// Columns that stay in sight at the left.
    pub frozen: u16,
    /// Columns that people type in, which have edges of their own.
    pub typed: &'t [u16],
}

/// Prints a table's sheet across one page's width, with its headings on each page, frozen and with filters.
pub fn set_up(sheet: &mut Worksheet, doc: &Document<'_>, styles: &Styles, table: Table<'_>) -> Result<(), XlsxError> {
    ruled(sheet, styles, table)?;
    frame(sheet, doc)
}

/// The same without header and footer.
pub fn ruled(sheet: &mut Worksheet, styles: &Styles, table: Table<'_>) -> Result<(), XlsxError> {
    let last_row = table.heading + table.rows;
    let last_column = table.columns.saturating_sub(1);
    sheet.set_freeze_panes(table.heading + 1, table.frozen)?;
    if table.rows > 0 {
        sheet.autofilter(table.heading, 0, last_row, last_column)?;
        // A rule over the rows costs a line in the file; a border in each cell would cost a format lookup in each.
        let line = ConditionalFormatFormula::new().set_rule("=TRUE").set_format(&styles.hairline);
        let line = line.set_multi_range(worked_ranges(table));
        sheet.add_conditional_format(table.heading + 1, 0, last_row, last_column, &line)?;
    }
    sheet.set_repeat_rows(0, table.heading)?;
    sheet.set_print_area(0, 0, last_row.max(1), last_column)?;
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    Ok(())
}

/// Prints a wide table over as many pages as keep its letters at 8 points, its first columns on each of them.
///
/// `widths` are in characters; letters are 11 points on the screen. The last `together` columns share a page.
pub fn pages(sheet: &mut Worksheet, widths: &[u32], lead: u16, together: usize) -> Result<(), XlsxError> {
    const SCALE: u16 = 73;
    // ten inches between the margins, 96 pixels each; a quarter is left for machines without the usual font, which
    // reckon columns wider
    const PAGE: u32 = 10 * 96 * 75 / SCALE as u32;
    let pixels = |columns: &[u32]| columns.iter().map(|w| w * 7 + 5).sum::<u32>();
    if pixels(widths) <= PAGE {
        return Ok(());
    }
    sheet.set_print_scale(SCALE);
    let first = usize::from(lead).min(widths.len());
    if let Some(last) = lead.checked_sub(1) {
        sheet.set_repeat_columns(0, last)?;
    }
    let room = PAGE.saturating_sub(pixels(&widths[..first]));
    let (mut used, mut breaks) = (0, Vec::new());
    for (at, width) in widths.iter().enumerate().skip(first) {
        let unit = if at + together == widths.len() { &widths[at..] } else { std::slice::from_ref(width) };
        if used > 0 && used + pixels(unit) > room {
            breaks.push(u32::try_from(at).unwrap_or(0));
            used = 0;
        }
        used += pixels(std::slice::from_ref(width));
    }
    sheet.set_vertical_page_breaks(&breaks)?;
    Ok(())
}

/// The cells of a table that nobody types in, as ranges.
fn worked_ranges(table: Table<'_>) -> String {
    let (top, end) = (table.heading + 2, table.heading + table.rows + 1);
    let mut ranges = Vec::new();
    let mut start = None;
    for at in 0..=table.columns {
        let worked = at < table.columns && !table.typed.contains(&at);
        match (start, worked) {
            (None, true) => start = Some(at),
            (Some(first), false) => {
                ranges.push(format!("{}{top}:{}{end}", column_letters(first), column_letters(at - 1)));
                start = None;
            }
            _ => {}
        }
    }
    ranges.join(" ")
}

/// Paper, margins, header and footer.
pub fn frame(sheet: &mut Worksheet, doc: &Document<'_>) -> Result<(), XlsxError> {
    framed(sheet, doc.title, &format!("Priced as of {}", day(doc.as_of)), doc.tool_version)
}

/// The same with a title and a remark at the foot.
pub fn framed(sheet: &mut Worksheet, title: &str, foot: &str, version: &str) -> Result<(), XlsxError> {
    let title: String = printable(title).take(HEADER_TITLE).collect();
    let title = title.replace('&', "&&");
    let name = sheet.name().replace('&', "&&");
    sheet.set_paper_size(LETTER);
    sheet.set_margins(0.5, 0.5, 0.7, 0.7, 0.3, 0.3);
    sheet.set_header(format!("&L&9{title}&R&9{name}"));
    sheet.set_footer(format!("&L&9{foot}&C&9Page &P of &N&R&9hardlid {version}"));
    sheet.set_screen_gridlines(false);
    Ok(())
}

/// A date in words: `March 1, 2026`.
pub fn day(date: Date) -> String {
    let month = crate::workbook::open::month_name(date.month());
    format!("{} {}, {}", month, date.day(), date.year())
}

/// A column's width: the widest of its texts, and of its heading on at most three lines.
pub fn width(heading: &str, body: usize) -> u32 {
    let word = heading.split_whitespace().map(|w| w.chars().count()).max().unwrap_or(0);
    let third = heading.chars().count().div_ceil(3) + 3;
    let width = body.max(word).max(third) + 2;
    u32::try_from(width.clamp(WIDTHS.0, WIDTHS.1)).unwrap_or(12)
}

/// How many lines a text takes in a column of a width.
pub fn lines(text: &str, width: u32) -> u32 {
    let width = width.saturating_sub(1).max(1);
    let (mut lines, mut used) = (1, 0);
    for word in text.split_whitespace() {
        let length = u32::try_from(word.chars().count()).unwrap_or(u32::MAX);
        if used > 0 && used + 1 + length > width {
            lines += 1;
            used = 0;
        }
        lines += length.saturating_sub(1) / width;
        used += length + u32::from(used > 0);
    }
    lines
}

/// Writes a row of headings and sets its height and the columns' widths.
pub fn headings<'h>(
    sheet: &mut Worksheet,
    row: u32,
    columns: impl IntoIterator<Item = (&'h str, u32, &'h Format)>,
) -> Result<(), XlsxError> {
    let mut tallest = 1;
    let columns: Vec<_> = columns.into_iter().collect();
    for (heading, width, _) in &columns {
        // The filter's button takes the end of the last line.
        tallest = tallest.max(lines(heading, width.saturating_sub(1)));
    }
    sheet.set_row_height(row, LINE_HEIGHT * tallest.min(4) + 3)?;
    for (at, (heading, width, format)) in (0u16..).zip(&columns) {
        sheet.set_column_width(at, *width)?;
        sheet.write_string_with_format(row, at, text_of(heading), format)?;
    }
    Ok(())
}
