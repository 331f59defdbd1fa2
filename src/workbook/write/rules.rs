//! Rules: what the bid was worked out from and by.

use super::page::{day, frame, lines};
use super::styles::Styles;
use super::{Book, Document, sheets_of, text_of};
use crate::program::{LineKind, Schema};
use rust_xlsxwriter::{Worksheet, XlsxError};

/// Widths of the four columns, in characters.
const WIDTHS: [u32; 4] = [30, 28, 28, 68];

/// Writes Rules.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    book.sheet("Rules", 0)?;
    let Book { styles, workbook, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    for (at, width) in (0u16..).zip(WIDTHS) {
        sheet.set_column_width(at, width)?;
    }
    let mut page = Page { sheet, styles, row: 0, limit: doc.limits.sheet_rows - 2 };
    worked_from(&mut page, &doc)?;
    books(&mut page, doc.schema)?;
    let heads = sources(&mut page, doc.schema)?;
    page.section("The sheets of this workbook", ["Sheet", "What it is for", "", ""])?;
    for record in sheets_of(&doc) {
        page.remark(record.name, record.purpose)?;
    }
    let last = page.row.saturating_sub(1);
    frame(sheet, &doc)?;
    sheet.set_landscape();
    sheet.set_print_area(0, 0, last, 3)?;
    sheet.set_print_fit_to_pages(1, 0);
    // the longest list goes on over pages
    sheet.set_repeat_rows(heads, heads)?;
    Ok(())
}

struct Page<'w> {
    sheet: &'w mut Worksheet,
    styles: &'w Styles,
    row: u32,
    limit: u32,
}

impl Page<'_> {
    fn section(&mut self, title: &str, heads: [&str; 4]) -> Result<(), XlsxError> {
        if self.row > 0 {
            self.row += 1;
        }
        self.sheet.set_row_height(self.row, 21)?;
        for (at, text) in (0u16..).zip([title, "", "", ""]) {
            self.sheet.write_string_with_format(self.row, at, text, &self.styles.section)?;
        }
        self.row += 1;
        if heads.iter().any(|h| !h.is_empty()) {
            for (at, head) in (0u16..).zip(heads) {
                self.sheet.write_string_with_format(self.row, at, head, &self.styles.heading)?;
            }
            self.row += 1;
        }
        Ok(())
    }

    fn line(&mut self, cells: [&str; 4]) -> Result<(), XlsxError> {
        if self.row >= self.limit {
            return Ok(());
        }
        let tall = cells.iter().zip(WIDTHS).map(|(text, width)| lines(text, width)).max().unwrap_or(1);
        self.sheet.set_row_height(self.row, 15 * tall.clamp(1, 12) + 1)?;
        for (at, text) in (0u16..).zip(cells) {
            self.sheet.write_string_with_format(self.row, at, text_of(text), &self.styles.wrapped)?;
        }
        self.row += 1;
        Ok(())
    }

    /// A label, and a text over the other three columns.
    fn remark(&mut self, label: &str, text: &str) -> Result<(), XlsxError> {
        if self.row >= self.limit {
            return Ok(());
        }
        let tall = lines(text, WIDTHS[1] + WIDTHS[2] + WIDTHS[3]);
        self.sheet.set_row_height(self.row, 15 * tall.clamp(1, 12) + 1)?;
        self.sheet.write_string_with_format(self.row, 0, text_of(label), &self.styles.wrapped)?;
        self.sheet.merge_range(self.row, 1, self.row, 3, text_of(text), &self.styles.wrapped)?;
        self.row += 1;
        Ok(())
    }
}

fn worked_from(page: &mut Page<'_>, doc: &Document<'_>) -> Result<(), XlsxError> {
    page.section("Worked out from", [""; 4])?;
    page.remark("Rooms file", doc.title)?;
    page.remark("Its SHA-256", doc.input_digest)?;
    match doc.prices_file {
        Some(prices) => {
            page.remark("Price book", prices.name)?;
            page.remark("Its SHA-256", prices.digest)?;
        }
        None => page.remark("Price book", "None: costs are blank.")?,
    }
    page.remark("Priced as of", &day(doc.as_of))?;
    page.remark("Tool", &format!("hardlid {}", doc.tool_version))
}

fn books(page: &mut Page<'_>, schema: &Schema) -> Result<(), XlsxError> {
    page.section("Rule books, the lowest layer first", ["Title", "Edition", "File", "SHA-256"])?;
    for book in &schema.books {
        page.line([&book.title, &book.edition, &book.file, &book.digest])?;
    }
    if !schema.sheets.is_empty() {
        page.section("Tables read from workbooks", ["Table", "Sheet", "File", "SHA-256"])?;
        for sheet in &schema.sheets {
            page.line([&sheet.table, &sheet.sheet, &sheet.file, &sheet.digest])?;
        }
    }
    page.section("What an upper layer replaced", ["What", "In", "Replaced by", ""])?;
    if schema.replaced.is_empty() {
        page.line(["Nothing was replaced.", "", "", ""])?;
    }
    for replaced in &schema.replaced {
        page.line([&replaced.what, &replaced.from, &replaced.by, ""])?;
    }
    Ok(())
}

/// Sources of figures, checks, items, tables and definitions, as the books state them. Gives the row of the headings.
fn sources(page: &mut Page<'_>, schema: &Schema) -> Result<u32, XlsxError> {
    page.section("Where the figures come from", ["Figure", "Of", "Book", "Source"])?;
    let start = page.row;
    for field in schema.fields.iter().filter(|f| !f.hidden) {
        if let Some(source) = &field.source {
            page.line([&field.label, &schema.kind(field.kind).name, &field.text.name, source])?;
        }
    }
    for check in &schema.checks {
        if let Some(source) = &check.source {
            let name = format!("Check: {}", check.name);
            page.line([&name, &schema.kind(check.kind).name, &check.text.name, source])?;
        }
    }
    for item in &schema.items {
        if let Some(source) = &item.source {
            let word = if item.what == LineKind::Material { "Item" } else { "Labor" };
            let name = format!("{word}: {}", item.label);
            page.line([&name, &schema.kind(item.kind).name, &item.text.name, source])?;
        }
    }
    for cited in &schema.cited {
        page.line([&cited.what, "", &cited.book, &cited.source])?;
    }
    if page.row == start {
        page.line(["The books state no sources.", "", "", ""])?;
    }
    Ok(start - 1)
}
