//! The cells of a workbook, read back and written again by nothing but the two format crates.

use calamine::{DataRef, Reader as _, Xlsx};
use rust_xlsxwriter::{Formula, Image, Workbook, XlsxError};
use std::io::{Cursor, Read as _};

/// What a cell holds.
pub enum Held {
    /// A number.
    Number(f64),
    /// A text.
    Text(String),
    /// Yes or no.
    YesNo(bool),
    /// A formula and its stored value.
    Formula(String, Option<f64>),
}

/// A sheet: name, and its cells by row.
pub struct Sheet {
    name: String,
    rows: Vec<Vec<(u16, Held)>>,
}

/// All cells of a workbook, with their formulas.
pub fn of(bytes: Vec<u8>) -> Result<Vec<Sheet>, calamine::XlsxError> {
    let mut book = Xlsx::new(Cursor::new(bytes))?;
    let mut out = Vec::new();
    for name in book.sheet_names() {
        let mut rows: Vec<Vec<(u16, Held)>> = Vec::new();
        let mut put = |(row, column): (u32, u32), held: Held| {
            let row = row as usize;
            if rows.len() <= row {
                rows.resize_with(row + 1, Vec::new);
            }
            rows[row].push((u16::try_from(column).unwrap_or(u16::MAX), held));
        };
        let mut reader = book.worksheet_cells_reader(&name)?;
        while let Some(cell) = reader.next_cell()? {
            match cell.get_value() {
                DataRef::Float(n) => put(cell.get_position(), Held::Number(*n)),
                DataRef::SharedString(s) => put(cell.get_position(), Held::Text((*s).to_owned())),
                DataRef::String(s) => put(cell.get_position(), Held::Text(s.clone())),
                DataRef::Bool(b) => put(cell.get_position(), Held::YesNo(*b)),
                DataRef::DateTime(d) => put(cell.get_position(), Held::Number(d.as_f64())),
                _ => {}
            }
        }
        drop(reader);
        let mut reader = book.worksheet_cells_reader(&name)?;
        while let Some(cell) = reader.next_formula()? {
            let (row, column) = cell.get_position();
            if cell.get_value().is_empty() {
                continue;
            }
            let Some(line) = rows.get_mut(row as usize) else { continue };
            let at = line.binary_search_by_key(&column, |(c, _)| u32::from(*c));
            let number = |held: &Held| if let Held::Number(n) = held { Some(*n) } else { None };
            match at {
                Ok(i) => line[i].1 = Held::Formula(cell.get_value().clone(), number(&line[i].1)),
                Err(i) => {
                    let column = u16::try_from(column).unwrap_or(u16::MAX);
                    line.insert(i, (column, Held::Formula(cell.get_value().clone(), None)));
                }
            }
        }
        out.push(Sheet { name, rows });
    }
    Ok(out)
}

/// How many cells there are.
pub fn count(sheets: &[Sheet]) -> usize {
    sheets.iter().flat_map(|s| &s.rows).map(Vec::len).sum()
}

/// Writes the cells: low-memory sheets, deflate level 2, nothing but values.
pub fn write(sheets: &[Sheet]) -> Result<Vec<u8>, XlsxError> {
    write_with(sheets, &[])
}

/// The same with pictures on a sheet of their own.
pub fn write_with(sheets: &[Sheet], pictures: &[Vec<u8>]) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    workbook.set_zip_compression_level(2);
    for Sheet { name, rows } in sheets {
        let sheet = workbook.add_worksheet_with_low_memory()?.set_name(name)?;
        for (row, cells) in (0..).zip(rows) {
            for (column, held) in cells {
                match held {
                    Held::Number(n) => sheet.write_number(row, *column, *n)?,
                    Held::Text(t) => sheet.write_string(row, *column, t)?,
                    Held::YesNo(b) => sheet.write_boolean(row, *column, *b)?,
                    Held::Formula(f, value) => {
                        let formula = Formula::new(f);
                        let formula = match value {
                            Some(n) => formula.set_result(n.to_string()),
                            None => formula,
                        };
                        sheet.write_formula(row, *column, formula)?
                    }
                };
            }
        }
    }
    if !pictures.is_empty() {
        let sheet = workbook.add_worksheet();
        for (at, picture) in (0..).zip(pictures) {
            sheet.insert_image(at * 40, 0, &Image::new_from_buffer(picture)?)?;
        }
    }
    workbook.save_to_buffer()
}

/// The pictures of a workbook.
pub fn pictures(bytes: &[u8]) -> std::result::Result<Vec<Vec<u8>>, zip::result::ZipError> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes))?;
    let mut out = Vec::new();
    for at in 0..archive.len() {
        let mut part = archive.by_index(at)?;
        if part.name()?.starts_with("xl/media/") {
            let mut held = Vec::new();
            part.read_to_end(&mut held)?;
            out.push(held);
        }
    }
    Ok(out)
}

/// Reads every cell of every sheet, lazily, and counts them.
pub fn read(bytes: &[u8]) -> Result<usize, calamine::XlsxError> {
    let mut book = Xlsx::new(Cursor::new(bytes))?;
    let mut many = 0;
    for name in book.sheet_names() {
        let mut reader = book.worksheet_cells_reader(&name)?;
        while let Some(cell) = reader.next_cell()? {
            many += usize::from(!matches!(std::hint::black_box(cell.get_value()), DataRef::Empty));
        }
    }
    Ok(many)
}
