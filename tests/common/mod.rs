//! Workbooks for tests, made of texts, and their parts changed as other programs or a hostile hand might.
#![allow(dead_code, reason = "each test uses some of it")]

pub mod tree;

use rust_xlsxwriter::Workbook;
use std::io::{Cursor, Read as _, Write as _};
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

/// A workbook of sheets of rows of texts; an empty text is a cell without anything.
pub fn workbook(sheets: &[(&str, &[&[&str]])]) -> Vec<u8> {
    workbook_of(sheets)
}

/// The same of rows that somebody owns.
pub fn workbook_of<S, R, C>(sheets: &[(&str, S)]) -> Vec<u8>
where
    S: AsRef<[R]>,
    R: AsRef<[C]>,
    C: AsRef<str>,
{
    let mut book = Workbook::new();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet().set_name(*name).unwrap();
        for (row, cells) in (0u32..).zip(rows.as_ref()) {
            let filled = (0u16..).zip(cells.as_ref()).filter(|(_, text)| !text.as_ref().is_empty());
            for (column, text) in filled {
                sheet.write_string(row, column, text.as_ref()).unwrap();
            }
        }
    }
    book.save_to_buffer().unwrap()
}

/// A workbook with its parts changed, by name; a part of which nothing comes back is left out.
pub fn with_parts(bytes: &[u8], mut change: impl FnMut(&str, Vec<u8>) -> Option<Vec<u8>>) -> Vec<u8> {
    let mut to = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, held) in parts(bytes) {
        let Some(held) = change(&name, held) else { continue };
        to.start_file(&*name, SimpleFileOptions::default()).unwrap();
        to.write_all(&held).unwrap();
    }
    to.finish().unwrap().into_inner()
}

/// A workbook with the text of one part changed.
pub fn with_part(bytes: &[u8], part: &str, change: impl Fn(&str) -> String) -> Vec<u8> {
    with_parts(bytes, |name, held| {
        Some(if name == part { change(&String::from_utf8(held).unwrap()).into_bytes() } else { held })
    })
}

/// The parts of a workbook's file by name.
pub fn parts(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
    let mut from = ZipArchive::new(Cursor::new(bytes)).unwrap();
    (0..from.len())
        .map(|at| {
            let mut entry = from.by_index(at).unwrap();
            let mut held = Vec::new();
            entry.read_to_end(&mut held).unwrap();
            (entry.name().unwrap().into_owned(), held)
        })
        .collect()
}
