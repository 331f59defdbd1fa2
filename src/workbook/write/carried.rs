//! Carried: the files that the bid was worked out from, on a sheet that is not shown.

use super::{Book, Document};
use crate::workbook::carried::{HEADINGS, SHEET};
use rust_xlsxwriter::XlsxError;

/// Whether a workbook carries its files.
pub fn there(doc: &Document<'_>) -> bool {
    !doc.carried.is_empty()
}

/// Writes Carried.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let rows = book.doc.carried;
    // long texts that no other cell has stay out of the table of texts
    let sheet = book.workbook.add_worksheet_with_constant_memory()?;
    sheet.set_name(SHEET)?;
    sheet.set_hidden(true);
    for (column, heading) in (0u16..).zip(HEADINGS) {
        sheet.write_string(0, column, heading)?;
    }
    for (row, cells) in (1u32..).zip(rows) {
        for (column, text) in (0u16..).zip(cells).filter(|(_, text)| !text.is_empty()) {
            sheet.write_string(row, column, text)?;
        }
    }
    Ok(())
}
