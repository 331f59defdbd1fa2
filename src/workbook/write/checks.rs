//! Checks: every check and problem, with the cell it speaks of as a link.

use super::layout::{Layout, quoted};
use super::page::{Table, headings, lines, set_up, width};
use super::{Book, Document, text_of};
use crate::pricing::Finding;
use crate::problem::Weight;
use crate::source::{CellPlace, Place, column_letters};
use rust_xlsxwriter::{Url, Worksheet, XlsxError};

const COLUMNS: [&str; 8] =
    ["Weight", "Check", "Row", "Cell as read", "In this workbook", "What is wrong", "Found", "What would be right"];

/// Links that a sheet may have by the file format, less some room.
const LINKS: usize = 60_000;
/// Characters of the columns whose texts wrap.
const WORDS_WIDTH: u32 = 46;
const FIX_WIDTH: u32 = 34;

/// Writes Checks.
pub fn write(book: &mut Book<'_>) -> Result<(), XlsxError> {
    let doc = book.doc;
    let findings = &doc.priced.findings;
    book.sheet("Checks", findings.len() as u64 * 8)?;
    let Book { layout, styles, workbook, .. } = book;
    let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
    let first = findings.iter().take(500);
    let rows_width = first.clone().filter_map(|f| f.row_name.as_ref()).map(|n| n.chars().count()).max().unwrap_or(0);
    let name_width = first.map(|f| f.name.chars().count()).max().unwrap_or(0);
    let widths = [11, width(COLUMNS[1], name_width), width(COLUMNS[2], rows_width), 14, 14, WORDS_WIDTH, 16, FIX_WIDTH];
    headings(sheet, 0, COLUMNS.iter().zip(widths).map(|(h, w)| (*h, w, &styles.heading)))?;
    let rows = u32::try_from(findings.len()).unwrap_or(u32::MAX).min(doc.limits.sheet_rows - 3);
    set_up(sheet, &doc, styles, Table { heading: 0, rows: rows.max(1), columns: 8, frozen: 3, typed: &[] })?;
    if findings.is_empty() {
        sheet.write_string(1, 0, "Nothing to report: every check holds.")?;
    }
    let mut links = 0;
    for (row, finding) in (1..=rows).zip(findings) {
        finding_row(sheet, &doc, layout, styles, row, finding, &mut links)?;
    }
    let left = findings.len() - rows as usize;
    if left > 0 {
        sheet.write_string_with_format(rows + 1, 0, format!("and {left} more"), &styles.quiet)?;
    }
    Ok(())
}

fn finding_row(
    sheet: &mut Worksheet,
    doc: &Document<'_>,
    layout: &Layout,
    styles: &super::styles::Styles,
    row: u32,
    finding: &Finding,
    links: &mut usize,
) -> Result<(), XlsxError> {
    let problem = &finding.problem;
    let (word, format) = match problem.weight {
        Weight::Stop => ("STOP", &styles.stop),
        Weight::Warning => ("Warning", &styles.warn),
        Weight::Note => ("Note", &styles.text),
    };
    let (found, fix) = (problem.found.as_deref().unwrap_or(""), problem.fix.as_deref().unwrap_or(""));
    let tall = lines(&problem.what, WORDS_WIDTH).max(lines(fix, FIX_WIDTH)).max(lines(found, 16)).clamp(1, 12);
    sheet.set_row_height(row, tall * 15 + 2)?;
    sheet.write_string_with_format(row, 0, word, format)?;
    sheet.write_string_with_format(row, 1, text_of(&finding.name), &styles.wrapped)?;
    if let Some(name) = &finding.row_name {
        sheet.write_string_with_format(row, 2, text_of(name), &styles.text)?;
    }
    let cell = cell_of(finding);
    let read = match (cell, problem.places.first()) {
        // a cell of another file, such as the price book, is no cell of the rooms workbook
        (Some(cell), _) if rooms_file(doc, layout).is_some_and(|file| *file != *cell.file) => cell.to_string(),
        (Some(cell), _) if cell.sheet.is_empty() => cell.address(),
        (Some(cell), _) => format!("{}!{}", cell.sheet, cell.address()),
        (None, Some(Place::File(file))) => file.to_string(),
        (None, Some(Place::Book { text, span })) => format!("{}, line {}", text.name, text.line(span.start as usize)),
        (None, _) => String::new(),
    };
    let more = problem.places.iter().filter(|p| matches!(p, Place::Cell(_))).count().saturating_sub(1);
    let read = if more > 0 { format!("{read} and {more} more") } else { read };
    sheet.write_string_with_format(row, 3, text_of(&read), &styles.wrapped)?;
    if let Some(target) = target(doc, layout, finding, cell) {
        if *links < LINKS {
            *links += 1;
            let url = Url::new(format!("internal:{}", target.0)).set_text(&target.1);
            sheet.write_url_with_format(row, 4, url, &styles.link)?;
        } else {
            sheet.write_string_with_format(row, 4, &target.1, &styles.text)?;
        }
    }
    sheet.write_string_with_format(row, 5, text_of(&problem.what), &styles.wrapped)?;
    sheet.write_string_with_format(row, 6, text_of(found), &styles.wrapped)?;
    sheet.write_string_with_format(row, 7, text_of(fix), &styles.wrapped)?;
    Ok(())
}

/// The file that rooms were read from.
fn rooms_file<'a>(doc: &'a Document<'_>, layout: &Layout) -> Option<&'a str> {
    let table = layout.root.as_ref().and_then(|root| doc.inputs.tables.get(root.table));
    table.map(|table| &*table.origin.file)
}

/// The cell that a finding speaks of, as it was read.
pub fn cell_of(finding: &Finding) -> Option<&CellPlace> {
    finding.problem.places.iter().find_map(|p| match p {
        Place::Cell(cell) => Some(cell),
        _ => None,
    })
}

/// Where the finding's row stands in this workbook: address for the link, and for people.
pub fn target(
    doc: &Document<'_>,
    layout: &Layout,
    finding: &Finding,
    cell: Option<&CellPlace>,
) -> Option<(String, String)> {
    let (kind, row) = finding.row?;
    let table = layout.table_of(kind)?;
    let columns = &doc.inputs.tables[table.table].origin.columns;
    let at = cell.and_then(|c| c.column).and_then(|c| columns.iter().position(|raw| raw.column == c));
    let letters = column_letters(at.map_or(0, |at| table.raw_column(at)));
    let address = format!("{letters}{}", table.row(row) + 1);
    Some((format!("{}!{address}", quoted(&table.sheet)), format!("{}!{address}", table.sheet)))
}
