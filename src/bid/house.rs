//! A rule book of the house with the books and workbooks that it names by their paths.

use crate::notation::parse::{NamedFile, files_named};
use crate::notation::tree::{FromSheet, TableBlock, TableRow};
use crate::problem::Problem;
use crate::program::library::{BOOK, Beside, MOST_BOOKS, WORKBOOKS};
use crate::source::Text;
use crate::source::paths::{beside, detours, ending, without_detour};
use crate::workbook::carried::{Carried, File};
use crate::workbook::open::{Book, open};
use crate::workbook::rows::table_rows;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Largest rule book file, in bytes.
pub const BOOK_LIMIT: u64 = 8 << 20;
/// Largest workbook that tables are read from, in bytes.
pub const STANDARDS_LIMIT: u64 = 32 << 20;
/// Most files that a book may name, directly and through others.
pub const MOST_FILES: usize = 2 * MOST_BOOKS;

/// Reads a file by its path from the folder of the uppermost book, up to so many bytes.
pub type ReadFile<'r> = dyn Fn(&str, u64) -> Result<Vec<u8>, Problem> + 'r;

/// A rule book with all files that it needs. One that is not there is known as such.
#[derive(Clone, Debug)]
pub struct House {
    file: File,
    /// By path; names of files are paths.
    beside: BTreeMap<String, Result<File, Problem>>,
}

impl From<File> for House {
    /// A book that names no files.
    fn from(file: File) -> Self {
        Self { file, beside: BTreeMap::new() }
    }
}

impl House {
    /// A book with the files that it names, and those that they name.
    #[must_use]
    pub fn read(file: File, read: &ReadFile<'_>) -> Self {
        Self::read_in(file, &[], read)
    }

    /// As [`House::read`], of a book whose folder has a path, in parts: a way out of that folder and back leads to the files
    /// that stand in it.
    #[must_use]
    pub fn read_in(file: File, folder: &[String], read: &ReadFile<'_>) -> Self {
        let mut beside_it: BTreeMap<String, Result<File, Problem>> = BTreeMap::new();
        let own = file.name.to_string();
        let mut open: Vec<File> = vec![file.clone()];
        while let Some(book) = open.pop() {
            // what is no text is told when the book is compiled
            let Ok(text) = book.text() else { continue };
            for named in files_named(&Text::new(&*book.name, text)) {
                let (named, is_book) = match &named {
                    NamedFile::Used(name) if ending(name) == BOOK => (name, true),
                    NamedFile::Workbook(name) if WORKBOOKS.contains(&ending(name).as_str()) => (name, false),
                    _ => continue,
                };
                let Ok(path) = beside(&book.name, named) else { continue };
                let path = without_detour(&path, folder);
                if path == own || beside_it.contains_key(&path) || beside_it.len() >= MOST_FILES {
                    continue;
                }
                let bytes = read(&path, if is_book { BOOK_LIMIT } else { STANDARDS_LIMIT });
                let read = bytes.map(|bytes| File::new(&path, bytes));
                open.extend(read.iter().filter(|_| is_book).cloned());
                beside_it.insert(path, read);
            }
        }
        Self { file, beside: beside_it }
    }

    /// The book of the house by which a workbook was priced, with its files, where there was one.
    #[must_use]
    pub fn carried(carried: &Carried) -> Option<Self> {
        let beside = carried.beside.iter().map(|file| (file.name.to_string(), Ok(file.clone()))).collect();
        Some(Self { file: carried.rules.clone()?, beside })
    }

    /// The book itself.
    #[must_use]
    pub fn file(&self) -> &File {
        &self.file
    }

    /// The files beside it, by path.
    pub fn beside(&self) -> impl Iterator<Item = &File> {
        self.beside.values().flatten()
    }

    /// The paths of all files that it names, those that are not there among them.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.beside.keys().map(String::as_str)
    }

    /// What tells it apart from others: the names and digests of all its files.
    #[must_use]
    pub fn key(&self) -> String {
        let own = std::iter::once(format!("{} {}", self.file.name, self.file.digest));
        let beside = self.beside.iter().map(|(path, file)| match file {
            Ok(file) => format!("{path} {}", file.digest),
            Err(_) => format!("{path} is not there"),
        });
        own.chain(beside).collect::<Vec<_>>().join("\n")
    }
}

/// The files beside a book while it is put together with what it uses.
#[derive(Debug)]
pub struct Files<'h> {
    house: &'h House,
    /// Workbooks that were opened: several tables may stand in one.
    opened: RefCell<BTreeMap<String, Book>>,
}

impl<'h> Files<'h> {
    /// Those of a book.
    #[must_use]
    pub fn of(house: &'h House) -> Self {
        Self { house, opened: RefCell::default() }
    }

    fn file(&self, path: &str) -> Result<&'h File, Problem> {
        match self.house.beside.get(path) {
            Some(Ok(file)) => Ok(file),
            // where it is named says more than its own name
            Some(Err(problem)) => Err(Problem { places: Vec::new(), ..problem.clone() }),
            None if self.house.beside.len() >= MOST_FILES => {
                let what = format!("A book names at most {MOST_FILES} files, directly and through others.");
                Err(Problem::stop("too many files", what))
            }
            None => Err(Problem::stop("file not found", format!("The file {path} is not at hand."))),
        }
    }
}

impl Beside for Files<'_> {
    fn book(&self, path: &str) -> Result<Arc<Text>, Problem> {
        let file = self.file(path)?;
        let text = file.text().map_err(|problem| Problem { places: Vec::new(), ..problem })?;
        Ok(Text::new(path, text))
    }

    fn rows(&self, path: &str, table: &TableBlock, from: &FromSheet) -> Result<Vec<TableRow>, Vec<Problem>> {
        let file = self.file(path).map_err(|p| vec![p])?;
        let mut opened = self.opened.borrow_mut();
        if !opened.contains_key(path) {
            let book = open(path, file.bytes.to_vec()).map_err(|p| vec![p])?;
            opened.insert(path.to_owned(), book);
        }
        opened.get_mut(path).map_or_else(|| Ok(Vec::new()), |book| table_rows(book, table, from))
    }

    /// A house has each file by the path without detours alone; where its folder stands need not be known.
    fn one_path(&self, path: String) -> String {
        let there = |path: &String| self.house.beside.contains_key(path) || *path == *self.house.file.name;
        let found = detours(&path).find(there);
        found.unwrap_or(path)
    }

    fn digest(&self, path: &str) -> Option<String> {
        self.file(path).ok().map(|file| file.digest.to_string())
    }
}
