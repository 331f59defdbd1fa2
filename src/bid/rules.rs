//! The rule books that a bid is worked out by: today's, or those of the day on which it was written.

use crate::notation::tree::Expr;
use crate::problem::{Problem, Weight, in_source_order};
use crate::program::library::{FILE, Shelf, is_file};
use crate::program::{BookSource, Program, compile, compile_to_explain};
use crate::source::Text;
use crate::source::digest::digest;
use crate::workbook::carried::{Carried, File};
use std::fmt::Write as _;
use std::sync::Arc;

/// A book of rules with the books that it uses.
#[derive(Clone, Debug)]
pub struct Rules {
    /// The house's book, where there is one.
    own: Option<File>,
    /// The built-in book that serves where there is none.
    top: String,
    shelf: Shelf,
    /// What tells rules apart: the digests of their books.
    key: String,
}

impl Rules {
    /// A book of the house, or a built-in book where there is none, with the built-in books of this version.
    #[must_use]
    pub fn of_today(own: Option<File>, top: &str) -> Self {
        let key = own
            .as_ref()
            .map_or_else(|| format!("today's {top}"), |file| format!("today's {} {}", file.name, file.digest));
        Self { own, top: top.to_owned(), shelf: Shelf::default(), key }
    }

    /// With the files that the house's book uses, and those that they use; `read` gives one by its name from the folder of
    /// the book.
    #[must_use]
    pub fn with_files(mut self, read: &mut dyn FnMut(&str) -> Result<File, Problem>) -> Self {
        // a book that is no text is told when it is compiled
        let Some((name, Ok(text))) = self.own.as_ref().map(|file| (&file.name, file.text())) else { return self };
        let book = Text::new(&**name, text);
        self.shelf = self.shelf.with_files_of(&book, &mut |name| Ok(read(name)?.text()?.to_owned()));
        for (name, text) in self.shelf.files() {
            let _ = write!(self.key, "\n{name} {}", digest(text.as_bytes()));
        }
        self
    }

    /// As [`Rules::of_today`], with the house's books that a workbook carries.
    #[must_use]
    pub fn carried_of_today(carried: &Carried, top: &str) -> Self {
        Self::of_today(carried.rules.clone(), top).with_files(&mut |name| {
            let found = carried.library.iter().find(|f| &*f.name == name).cloned();
            found.ok_or_else(|| Problem::stop("nothing carried", format!("This workbook carries no book {name}.")))
        })
    }

    /// The books by which a workbook was priced.
    ///
    /// # Errors
    /// A book that is no text; none at all.
    pub fn of_the_day(carried: &Carried) -> Result<Self, Problem> {
        let mut books = Vec::new();
        for file in &carried.library {
            books.push((file.name.to_string(), file.text()?.to_owned()));
        }
        let own = carried.rules.clone();
        let Some(top) = carried.library.last().map(|f| f.name.to_string()).or(own.as_ref().map(|_| String::new()))
        else {
            let what = "This workbook carries no rule book.";
            return Err(Problem::stop("nothing carried", what).fix("price its rooms workbook again"));
        };
        let digests = own.iter().chain(&carried.library).map(|f| format!("{} {}", f.name, f.digest));
        let key = digests.collect::<Vec<_>>().join("\n");
        Ok(Self { own, top, shelf: Shelf::of_the_day(books), key })
    }

    /// What tells rules apart.
    #[must_use]
    pub fn key(&self) -> &str {
        &self.key
    }

    /// Names of the files that the house's book uses, from its folder.
    pub fn files(&self) -> impl Iterator<Item = &str> {
        self.shelf.files().map(|(name, _)| name)
    }

    /// The house's book.
    #[must_use]
    pub fn own(&self) -> Option<&File> {
        self.own.as_ref()
    }
}

/// Reads and compiles rules, with an expression of the job besides if one is asked for; with what the books warn of.
///
/// # Errors
/// Every mistake of the books.
pub fn compiled(rules: &Rules, asked: Option<(&Arc<Text>, &Expr)>) -> Result<(Program, Vec<Problem>), Vec<Problem>> {
    with(rules, |layers| compile(layers, asked, crate::natives()))
}

/// As [`compiled`], with what it takes to tell how a figure was worked out.
///
/// # Errors
/// As [`compiled`].
pub fn compiled_to_explain(rules: &Rules) -> Result<(Program, Vec<Problem>), Vec<Problem>> {
    with(rules, |layers| compile_to_explain(layers, crate::natives()))
}

/// Refuses rules that read no rows; with what follows from that.
pub(super) fn read_rows(program: &Program, so: &str) -> Result<(), Problem> {
    if program.schema.kinds.iter().any(|k| k.sheet.is_some() && !k.single) {
        return Ok(());
    }
    let fix = "rows rooms from \"Rooms\" … end, or use \"hardlid ceilings\", which has them";
    Err(Problem::stop("book without rows", format!("The rules declare no rows, {so}.")).fix(fix))
}

type Compiled = Result<(Program, Vec<Problem>), Vec<Problem>>;

fn with(rules: &Rules, compile: impl FnOnce(Vec<BookSource>) -> Compiled) -> Compiled {
    let (layers, mut problems) = match &rules.own {
        None => rules.shelf.layers_of(&rules.top),
        Some(file) => {
            let text = file.text().map_err(|p| vec![p])?;
            rules.shelf.with_layers(&Text::new(&*file.name, text), &file.name)
        }
    };
    // a statement that was not understood leaves a hole: the rest is still checked, so that one run tells all
    let holes = problems.iter().any(|p| p.weight == Weight::Stop);
    match compile(layers) {
        Ok((program, more)) if !holes => {
            problems.extend(more);
            Ok((program, problems))
        }
        Ok((_, more)) | Err(more) => {
            problems.extend(more);
            in_source_order(&mut problems);
            Err(problems)
        }
    }
}

/// The books that a program was compiled from besides the house's own, as files: those that it uses and built-in ones.
pub(super) fn library_of(program: &Program) -> Vec<File> {
    let own = program.books.len().saturating_sub(1);
    let lower = program.schema.books.iter().enumerate().map(|(i, b)| b.file == FILE || (i < own && is_file(&b.file)));
    let books = program.books.iter().zip(lower).filter(|(_, lower)| *lower);
    books.map(|(book, _)| File::new(&book.text.name, book.text.text.clone().into_bytes())).collect()
}
