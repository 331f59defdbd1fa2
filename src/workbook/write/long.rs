//! Large sheets: the format crate makes the workbook with samples in place of their rows; the rows are put in while the
//! file is put together again, one thread making their text and another packing it.

use super::cells::{Gather, Mark};
use super::styles::Styles;
use super::text::{Frame, RowText};
use super::{Book, DEFLATE_LEVEL, lines, rooms, schemes};
use rust_xlsxwriter::{Worksheet, XlsxError};
use std::io::{Cursor, Read as _, Write};
use std::sync::mpsc::sync_channel;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipArchive, ZipWriter};

/// Pieces of text that may wait to be packed; who makes them waits as well when there are more.
const WAITING: usize = 4;
/// Name of the part that holds the workbook's texts.
const TEXTS: &str = "xl/sharedStrings.xml";

/// Whose rows a large sheet holds.
#[derive(Clone, Copy, Debug)]
pub enum Of {
    /// The root's.
    Root,
    /// Those of a kind that belongs to it.
    Child(usize),
    /// A sheet of lines.
    Lines(usize),
    /// Those of the schemes.
    Schemes,
}

/// A large sheet.
#[derive(Debug)]
pub struct Long {
    of: Of,
    /// Its part in the file.
    part: String,
    /// Its first and last row, from 0.
    rows: (u32, u32),
    columns: u16,
    marks: Vec<Mark>,
}

impl Book<'_> {
    /// Whether a sheet of so many rows and cells takes the way of large ones. Its samples take two rows.
    pub fn is_long(&self, rows: u32, cells: u64) -> bool {
        rows > 1 && cells > self.doc.limits.cells_in_memory
    }

    /// Keeps the last sheet's rows for later, and puts samples of their formats in place of them.
    pub fn keep(&mut self, of: Of, first: u32, rows: u32, columns: u16) -> Result<(), XlsxError> {
        let Self { doc, styles, layout, workbook, numbered, long, bid_cells: _ } = self;
        let part = format!("xl/worksheets/sheet{}.xml", workbook.worksheets().len());
        let Some(sheet) = workbook.worksheets_mut().last_mut() else { return Ok(()) };
        let mut gather = Gather::new(numbered, sheet);
        match of {
            Of::Lines(at) => lines::rows(doc, layout, at, &mut gather)?,
            Of::Root | Of::Child(_) => rooms::rows(doc, layout, of, &mut gather)?,
            Of::Schemes => schemes::rows(doc, layout, &mut gather)?,
        }
        let (marks, last) = (gather.marks, first + rows - 1);
        samples(sheet, styles, (first, last), columns, &marks)?;
        long.push(Long { of, part, rows: (first, last), columns, marks });
        numbered.tell(workbook);
        Ok(())
    }

    /// The finished file, out of the one with samples.
    pub fn with_rows(&self, package: Vec<u8>) -> Result<Vec<u8>, XlsxError> {
        if self.long.is_empty() {
            return Ok(package);
        }
        let mut from = ZipArchive::new(Cursor::new(package))?;
        let mut to = ZipWriter::new(Cursor::new(Vec::new()));
        let mut texts = 0;
        for at in 0..from.len() {
            let mut part = from.by_index_raw(at)?;
            let name = part.name()?.into_owned();
            let long = self.long.iter().find(|l| l.part == name);
            if long.is_none() && name != TEXTS {
                to.raw_copy_file(part)?;
                continue;
            }
            drop(part);
            part = from.by_index(at)?;
            let mut text = String::new();
            part.read_to_string(&mut text)?;
            to.start_file(name, options())?;
            match long {
                Some(long) => texts += self.pack(long, &text, &mut to)?,
                None => to.write_all(recounted(&text, texts).as_bytes())?,
            }
        }
        Ok(to.finish()?.into_inner())
    }

    /// Packs a sheet with its rows in place of the samples; how many of their cells refer to the table of texts.
    fn pack(&self, long: &Long, part: &str, to: &mut (impl Write + Send)) -> Result<u64, XlsxError> {
        let (first, last) = long.rows;
        let frame = Frame::new(part, first, last, long.columns, &long.marks)
            .ok_or_else(|| XlsxError::ParameterError(format!("{} has no place for its rows", long.part)))?;
        let (send, receive) = sync_channel::<Vec<u8>>(WAITING);
        let (head, tail) = (frame.head, frame.tail);
        std::thread::scope(|threads| {
            let packing = threads.spawn(move || {
                to.write_all(head.as_bytes())?;
                for piece in receive {
                    to.write_all(&piece)?;
                }
                to.write_all(tail.as_bytes())
            });
            let mut cells = RowText::new(&self.numbered, &frame, send);
            match long.of {
                Of::Lines(at) => lines::rows(&self.doc, &self.layout, at, &mut cells)?,
                Of::Root | Of::Child(_) => rooms::rows(&self.doc, &self.layout, long.of, &mut cells)?,
                Of::Schemes => schemes::rows(&self.doc, &self.layout, &mut cells)?,
            }
            let texts = cells.end();
            packing.join().map_err(|_| XlsxError::ParameterError("packing failed".to_owned()))??;
            Ok(texts)
        })
    }
}

/// A cell for each mark in the first row, one for each column in the last: their formats are read from the part.
fn samples(
    sheet: &mut Worksheet,
    styles: &Styles,
    (first, last): (u32, u32),
    columns: u16,
    marks: &[Mark],
) -> Result<(), XlsxError> {
    for (column, mark) in (0..).zip(marks) {
        sheet.write_number_with_format(first, column, 0.0, mark.format(styles))?;
    }
    for column in 0..columns {
        sheet.write_number(last, column, 0.0)?;
    }
    Ok(())
}

/// As the format crate packs its parts.
pub(super) fn options() -> SimpleFileOptions {
    SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .compression_level(Some(i64::from(DEFLATE_LEVEL)))
        .unix_permissions(0o600)
        .last_modified_time(DateTime::default())
}

/// The table of texts, with the cells that refer to it from large sheets counted in.
fn recounted(part: &str, more: u64) -> String {
    let counted = part.split_once(" count=\"").and_then(|(before, rest)| {
        let (count, after) = rest.split_once('"')?;
        Some((before, count.parse::<u64>().ok()?, after))
    });
    match counted {
        Some((before, count, after)) => format!("{before} count=\"{}\"{after}", count + more),
        None => part.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workbook::write::cells::{Cells, Dictionary, InSheet, Numbered};
    use crate::workbook::write::styles::{MONEY, column as column_format};
    use rust_xlsxwriter::{Note, Workbook};

    const ROWS: (u32, u32) = (2, 6);
    const COLUMNS: u16 = 28;

    /// Every kind of cell.
    fn fill(cells: &mut impl Cells) -> Result<(), XlsxError> {
        for (column, value) in
            (0..).zip([0.0, -0.0, 12.0, 0.333_333_333_333_333_3, 1e21, 2.5e-7, -8.125, f64::NAN, f64::INFINITY])
        {
            cells.number((2, column), value)?;
        }
        cells.text((3, 1), "a < b & c")?;
        cells.text((3, 2), "")?;
        cells.text((3, 3), " at the ends ")?;
        cells.known((3, 4), (Dictionary::Inputs, 7), "Corridor")?;
        cells.known((3, 5), (Dictionary::Run, 7), "a < b & c")?;
        cells.yes_no((3, 6), true)?;
        cells.yes_no((3, 27), false)?;
        cells.height(4, 43)?;
        cells.formula((4, 0), "IF(A3<3,\"x\",Lines!B2&C4)", "")?;
        cells.formula((4, 26), "SUM(A3:B3)", "12.5")?;
        cells.marked((6, 0), "no length", Mark::Fault)?;
        cells.note((6, 0), || Note::new("Length is blank."))?;
        cells.marked_number((6, 1), 46_082.0, Mark::Date)?;
        cells.marked((6, 2), "STOPPED", Mark::Stop)?;
        cells.marked((6, 3), "", Mark::Fault)?;
        cells.marked_number((6, 4), 0.1, Mark::Percent)?;
        cells.text((6, 27), "Corridor")
    }

    fn sheet(workbook: &mut Workbook) -> &mut Worksheet {
        let sheet = workbook.add_worksheet();
        sheet.set_default_row_height_pixels(22);
        sheet.set_formula_result_default("");
        for column in [1, 4, 26] {
            sheet.set_column_format(column, &column_format(if column == 4 { "General" } else { MONEY })).unwrap();
        }
        sheet.write_number(0, 0, 1.0).unwrap();
        sheet.write_number(7, 0, 1.0).unwrap();
        sheet
    }

    fn part(workbook: &mut Workbook, name: &str) -> String {
        let mut zip = ZipArchive::new(Cursor::new(workbook.save_to_buffer().unwrap())).unwrap();
        let mut text = String::new();
        zip.by_name(name).unwrap().read_to_string(&mut text).unwrap();
        text
    }

    /// Without the columns that a row spans, which the format leaves to the writer.
    fn without_spans(part: &str) -> String {
        let mut pieces = part.split(" spans=\"");
        let first = pieces.next().unwrap_or("").to_owned();
        pieces.fold(first, |text, piece| text + piece.split_once('"').map_or("", |(_, rest)| rest))
    }

    #[test]
    fn rows_are_those_of_the_format_crate() {
        const PART: &str = "xl/worksheets/sheet1.xml";
        let styles = Styles::new();
        let mut theirs = Workbook::new();
        fill(&mut InSheet { sheet: sheet(&mut theirs), styles: &styles }).unwrap();
        theirs.add_worksheet().write_string(0, 0, "a text of another sheet").unwrap();

        let (mut ours, mut numbered) = (Workbook::new(), Numbered::default());
        let sheet = sheet(&mut ours);
        let mut gather = Gather::new(&mut numbered, sheet);
        fill(&mut gather).unwrap();
        let marks = gather.marks;
        samples(sheet, &styles, ROWS, COLUMNS, &marks).unwrap();
        numbered.tell(&mut ours);
        ours.add_worksheet().write_string(0, 0, "a text of another sheet").unwrap();
        let framed = part(&mut ours, PART);
        let frame = Frame::new(&framed, ROWS.0, ROWS.1, COLUMNS, &marks).unwrap();
        let (send, receive) = sync_channel(8);
        let mut cells = RowText::new(&numbered, &frame, send);
        fill(&mut cells).unwrap();
        assert_eq!(cells.end(), 9, "NaN, infinity and seven texts");
        let rows: Vec<u8> = receive.into_iter().flatten().collect();
        let whole = frame.head.to_owned() + std::str::from_utf8(&rows).unwrap() + frame.tail;
        assert_eq!(without_spans(&whole), without_spans(&part(&mut theirs, PART)));
        let (ours, theirs) = (part(&mut ours, TEXTS), part(&mut theirs, TEXTS));
        assert_eq!(recounted(&ours, 9), theirs);
    }
}
