//! The books on the desk: those that are open in the editor, those on disk that they use, and the built-in ones.
//!
//! What was read of a text is kept until the text is another: between two keystrokes one book is read anew.

use super::page::Page;
use crate::bid::{BOOK_LIMIT, STANDARDS_LIMIT};
use crate::notation::tree::{Book, FromSheet, TableBlock, TableRow};
use crate::problem::Problem;
use crate::program::BookSource;
use crate::program::library::{BOOK, BUILT_IN, Beside, FILE, Shelf};
use crate::source::Text;
use crate::system::Outside;
use crate::workbook;
use crate::workbook::carried::File;
use crate::workbook::open::open;
use crate::workbook::rows::table_rows;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

/// Most files and folders that are looked at for books that use one.
const MOST_ENTRIES: usize = 5_000;

/// How the address of a file begins.
const FILE_SCHEME: &str = "file://";
/// How the address of a built-in book begins.
pub(super) const OWN_SCHEME: &str = "hardlid";

/// A document that is open in the editor.
#[derive(Debug)]
pub(super) struct Open {
    /// Its address, as the editor writes it.
    pub(super) uri: String,
    pub(super) version: i32,
    pub(super) page: Arc<Page>,
}

/// Where a book stands.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Stands {
    /// It comes with the program.
    BuiltIn(String),
    /// At an address.
    At(String),
}

/// A book of a pile.
#[derive(Clone, Debug)]
pub(super) struct Layer {
    pub(super) page: Arc<Page>,
    pub(super) stands: Stands,
}

/// A book with all that it uses, lowest first.
#[derive(Debug)]
pub(super) struct Pile {
    pub(super) layers: Vec<Layer>,
    /// The same, ready to be compiled.
    pub(super) sources: Vec<BookSource>,
    /// What could not be read or understood.
    pub(super) problems: Vec<Problem>,
}

impl Pile {
    /// The place of a text among its layers.
    pub(super) fn layer_of(&self, text: &Arc<Text>) -> Option<usize> {
        self.layers.iter().position(|l| Arc::ptr_eq(&l.page.text, text))
    }

    /// The book itself.
    pub(super) fn top(&self) -> usize {
        self.layers.len().saturating_sub(1)
    }
}

/// A workbook with tables, as it was when it was opened.
type Opened = (File, workbook::open::Book);

/// All books.
pub(super) struct Desk<'o> {
    outside: &'o dyn Outside,
    /// Folders that the editor works in.
    pub(super) folders: Vec<PathBuf>,
    /// Open documents, by what their addresses lead to.
    open: BTreeMap<String, Open>,
    /// Pages of files, by path and by the name under which they are used.
    pages: RefCell<BTreeMap<(PathBuf, String), Arc<Page>>>,
    /// Pages of built-in books.
    built_in: RefCell<BTreeMap<String, Arc<Page>>>,
    workbooks: RefCell<BTreeMap<PathBuf, Opened>>,
}

impl<'o> Desk<'o> {
    pub(super) fn new(outside: &'o dyn Outside) -> Self {
        Self {
            outside,
            folders: Vec::new(),
            open: BTreeMap::new(),
            pages: RefCell::default(),
            built_in: RefCell::default(),
            workbooks: RefCell::default(),
        }
    }

    /// A book with all that it uses; `page` is what it holds now.
    pub(super) fn pile(&self, uri: &str, page: &Arc<Page>) -> Pile {
        let beside =
            Around { desk: self, folder: path_of(uri).and_then(|p| p.parent().map(Path::to_path_buf)), top: page };
        let (sources, problems) = Shelf::default().with_layers(&page.text, &page.text.name, &beside);
        let top = sources.len().saturating_sub(1);
        let layer = |(i, source): (usize, &BookSource)| {
            if i == top {
                return Some(Layer { page: Arc::clone(page), stands: Stands::At(uri.to_owned()) });
            }
            if source.file == FILE {
                let page = Arc::clone(self.built_in.borrow().get(&source.book.text.name)?);
                return Some(Layer { page, stands: Stands::BuiltIn(source.book.text.name.clone()) });
            }
            let path = beside.path(&source.file).ok()?;
            let page = Arc::clone(self.pages.borrow().get(&(path.clone(), source.file.clone()))?);
            Some(Layer { page, stands: Stands::At(self.uri(&path)) })
        };
        let layers = sources.iter().enumerate().filter_map(layer).collect();
        Pile { layers, sources, problems }
    }

    /// The address of a file, as the editor writes it where it is open there.
    fn uri(&self, path: &Path) -> String {
        self.open_at(path).map_or_else(|| uri_of(path), |open| open.uri.clone())
    }

    fn open_at(&self, path: &Path) -> Option<&Open> {
        self.open.get(&*path.to_string_lossy())
    }

    /// The page of a file under the name by which it is used: what the editor has of it, else what the disk has.
    pub(super) fn page(&self, path: &Path, name: &str) -> Result<Arc<Page>, Problem> {
        let file;
        let raw = match self.open_at(path) {
            Some(open) => open.page.raw(),
            None => {
                file = File::new(name, self.outside.read(path, BOOK_LIMIT)?);
                file.text()?
            }
        };
        let key = (path.to_path_buf(), name.to_owned());
        let mut pages = self.pages.borrow_mut();
        if let Some(page) = pages.get(&key).filter(|p| p.raw() == raw) {
            return Ok(Arc::clone(page));
        }
        let page = Page::new(name, raw.to_owned());
        pages.insert(key, Arc::clone(&page));
        Ok(page)
    }

    /// The books in the folder that the editor works in, where a document stands in one, else in its own folder, and
    /// those that are open: address and page.
    pub(super) fn around(&self, uri: &str) -> Vec<(String, Arc<Page>)> {
        let mut out: Vec<(String, Arc<Page>)> =
            self.open.values().map(|open| (open.uri.clone(), Arc::clone(&open.page))).collect();
        let Some(own) = path_of(uri) else { return out };
        let working = self.folders.iter().find(|folder| own.starts_with(folder)).map(PathBuf::as_path);
        let mut folders: Vec<PathBuf> = working.or(own.parent()).map(Path::to_path_buf).into_iter().collect();
        let mut seen = 0;
        while let Some(folder) = folders.pop() {
            for entry in self.outside.list(&folder).unwrap_or_default() {
                seen += 1;
                if seen > MOST_ENTRIES {
                    return out;
                }
                let hidden = entry.path.file_name().is_some_and(|n| n.to_string_lossy().starts_with('.'));
                if entry.folder && !entry.link && !hidden {
                    folders.push(entry.path);
                } else if entry.path.extension().is_some_and(|e| e == BOOK) && self.open_at(&entry.path).is_none() {
                    let name = entry.path.file_name().unwrap_or_default().to_string_lossy().into_owned();
                    out.extend(self.page(&entry.path, &name).ok().map(|page| (uri_of(&entry.path), page)));
                }
            }
        }
        out
    }

    /// Names by which a book can use others: built-in ones, and files around it.
    pub(super) fn usable(&self, uri: &str) -> Vec<String> {
        let mut out: Vec<String> = BUILT_IN.iter().map(|b| b.name.to_owned()).collect();
        let Some(own) = path_of(uri) else { return out };
        let Some(folder) = own.parent() else { return out };
        let files = self.around(uri).into_iter().filter_map(|(uri, _)| path_of(&uri)).filter(|path| *path != own);
        let mut names: Vec<String> = files.filter_map(|path| from_folder(folder, &path)).collect();
        names.sort();
        out.extend(names);
        out
    }

    /// Opens a document, or takes its new text.
    pub(super) fn put(&mut self, uri: &str, version: i32, raw: String) {
        let path = path_of(uri);
        let name = path.as_deref().and_then(Path::file_name).map_or_else(
            || uri.rsplit(['/', ':']).next().unwrap_or("book").to_owned(),
            |name| name.to_string_lossy().into_owned(),
        );
        let open = Open { uri: uri.to_owned(), version, page: Page::new(&name, raw) };
        self.open.insert(key(uri), open);
    }

    /// Takes a document off the desk.
    pub(super) fn close(&mut self, uri: &str) -> Option<Open> {
        self.pages.borrow_mut().clear();
        self.open.remove(&key(uri))
    }

    /// A document that is open.
    pub(super) fn get(&self, uri: &str) -> Option<&Open> {
        self.open.get(&key(uri))
    }

    /// All documents that are open.
    pub(super) fn all(&self) -> impl Iterator<Item = &Open> {
        self.open.values()
    }

    /// The text of a built-in book by its address.
    pub(super) fn built_in_text(uri: &str) -> Option<&'static str> {
        BUILT_IN.iter().find(|b| built_in_uri(b.name) == uri).map(|b| b.text)
    }
}

/// What stands around one book.
struct Around<'d, 'o> {
    desk: &'d Desk<'o>,
    folder: Option<PathBuf>,
    top: &'d Arc<Page>,
}

impl Around<'_, '_> {
    /// The path of a file that is named from the folder of the book.
    fn path(&self, named: &str) -> Result<PathBuf, Problem> {
        let Some(folder) = &self.folder else {
            let what = format!("This book has no folder yet in which {named} could stand.");
            return Err(Problem::stop("file not found", what).fix("save the book first"));
        };
        Ok(plain(&folder.join(named)))
    }

    /// A workbook, opened anew where it has changed.
    fn workbook(&self, named_as: &str) -> Result<PathBuf, Problem> {
        let path = self.path(named_as)?;
        let bytes =
            self.desk.outside.read(&path, STANDARDS_LIMIT).map_err(|problem| named(problem, &path, named_as))?;
        let mut opened = self.desk.workbooks.borrow_mut();
        if opened.get(&path).is_none_or(|(file, _)| *file.bytes != *bytes) {
            let book = open(named_as, bytes.clone())?;
            opened.insert(path.clone(), (File::new(named_as, bytes), book));
        }
        Ok(path)
    }
}

/// A problem of a file as it is told where the file is named: by that name, and without a place of its own.
fn named(problem: Problem, path: &Path, name: &str) -> Problem {
    let what = problem.what.replace(&path.display().to_string(), name);
    Problem { places: Vec::new(), what, ..problem }
}

impl Beside for Around<'_, '_> {
    fn book(&self, path: &str) -> Result<Arc<Text>, Problem> {
        let at = self.path(path)?;
        let page = self.desk.page(&at, path).map_err(|problem| named(problem, &at, path))?;
        Ok(Arc::clone(&page.text))
    }

    fn rows(&self, path: &str, table: &TableBlock, from: &FromSheet) -> Result<Vec<TableRow>, Vec<Problem>> {
        let path = self.workbook(path).map_err(|p| vec![p])?;
        let mut opened = self.desk.workbooks.borrow_mut();
        opened.get_mut(&path).map_or_else(|| Ok(Vec::new()), |(_, book)| table_rows(book, table, from))
    }

    fn digest(&self, path: &str) -> Option<String> {
        let path = self.path(path).ok()?;
        self.desk.workbooks.borrow().get(&path).map(|(file, _)| file.digest.to_string())
    }

    fn one_path(&self, path: String) -> String {
        let at = self.folder.as_ref().zip(self.path(&path).ok());
        at.and_then(|(folder, at)| from_folder(folder, &at)).unwrap_or(path)
    }

    fn tree(&self, text: &Arc<Text>) -> (Book, Vec<Problem>) {
        if Arc::ptr_eq(text, &self.top.text) {
            return self.top.tree().clone();
        }
        let key = self.path(&text.name).map(|path| (path, text.name.clone()));
        let page = key.ok().and_then(|key| self.desk.pages.borrow().get(&key).cloned());
        match page.filter(|page| Arc::ptr_eq(&page.text, text)) {
            Some(page) => page.tree().clone(),
            None => crate::notation::read_book(text),
        }
    }

    fn tree_of_shelf(&self, name: &str, text: &str) -> (Book, Vec<Problem>) {
        let mut pages = self.desk.built_in.borrow_mut();
        let page = pages.entry(name.to_owned()).or_insert_with(|| Page::new(name, text.to_owned()));
        page.tree().clone()
    }
}

/// What tells documents apart: programs write one address in several ways.
pub(super) fn key(uri: &str) -> String {
    path_of(uri).map_or_else(|| uri.to_owned(), |path| path.to_string_lossy().into_owned())
}

/// The address of a built-in book, for editors that ask for the text of such.
pub(super) fn built_in_uri(name: &str) -> String {
    format!("{OWN_SCHEME}:/{}.lid", encoded(name))
}

/// The file of an address.
pub(super) fn path_of(uri: &str) -> Option<PathBuf> {
    let rest = uri.strip_prefix(FILE_SCHEME)?;
    let path = decoded(&rest[rest.find('/')?..])?;
    // the drive of a path such as /c:/books
    let drive = path.as_bytes().get(2) == Some(&b':') && path.as_bytes()[1].is_ascii_alphabetic();
    Some(plain(Path::new(if drive { &path[1..] } else { &path })))
}

/// The address of a file.
pub(super) fn uri_of(path: &Path) -> String {
    let path = path.to_string_lossy().replace('\\', "/");
    let root = if path.starts_with('/') { "" } else { "/" };
    format!("{FILE_SCHEME}{root}{}", encoded(&path))
}

/// A path as it is named from a folder; nothing where the two have no folder in common.
fn from_folder(folder: &Path, path: &Path) -> Option<String> {
    let mut up = String::new();
    let mut at = folder;
    loop {
        if let Ok(below) = path.strip_prefix(at) {
            return Some(up + &below.to_string_lossy().replace('\\', "/"));
        }
        up.push_str("../");
        at = at.parent()?;
    }
}

/// A path without `.` and `..`, as far as that goes by its words.
fn plain(path: &Path) -> PathBuf {
    let mut out = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if out.file_name().is_some_and(|n| n != "..") => {
                out.pop();
            }
            part => out.push(part),
        }
    }
    out
}

fn encoded(text: &str) -> String {
    let mut out = String::new();
    for byte in text.bytes() {
        match byte {
            b'/' | b'-' | b'.' | b'_' | b'~' => out.push(byte.into()),
            b if b.is_ascii_alphanumeric() => out.push(b.into()),
            b => drop(write!(out, "%{b:02X}")),
        }
    }
    out
}

/// Nothing for what is no text.
fn decoded(text: &str) -> Option<String> {
    let mut out = Vec::new();
    let mut bytes = text.bytes();
    while let Some(byte) = bytes.next() {
        if byte != b'%' {
            out.push(byte);
            continue;
        }
        let digits = [bytes.next()?, bytes.next()?];
        out.push(u8::from_str_radix(std::str::from_utf8(&digits).ok()?, 16).ok()?);
    }
    String::from_utf8(out).ok()
}
