//! The rule books that a bid is worked out by: today's, or those of the day on which it was written.

use super::house::{Files, House};
use crate::notation::tree::Expr;
use crate::problem::{Problem, Weight, in_source_order};
use crate::program::library::{FILE, Shelf};
use crate::program::{BookSource, Program, compile, compile_to_explain};
use crate::source::Text;
use crate::workbook::carried::{Carried, File};
use std::sync::Arc;

/// A book of rules with the books that it uses.
#[derive(Clone, Debug)]
pub struct Rules {
    /// The house's book with its files, where there is one.
    own: Option<House>,
    /// The built-in book that serves where there is none.
    top: String,
    shelf: Shelf,
    /// What tells rules apart: the digests of their books.
    key: String,
}

impl Rules {
    /// A book of the house, or a built-in book where there is none, with the built-in books of this version.
    #[must_use]
    pub fn of_today(own: Option<impl Into<House>>, top: &str) -> Self {
        let own = own.map(Into::into);
        let key = own.as_ref().map_or_else(|| format!("today's {top}"), |own| format!("today's {}", own.key()));
        Self { own, top: top.to_owned(), shelf: Shelf::default(), key }
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
        let own = House::carried(carried);
        let Some(top) = carried.library.last().map(|f| f.name.to_string()).or(own.as_ref().map(|_| String::new()))
        else {
            let what = "This workbook carries no rule book.";
            return Err(Problem::stop("nothing carried", what).fix("price its rooms workbook again"));
        };
        let library = carried.library.iter().map(|f| format!("{} {}", f.name, f.digest));
        let key = own.iter().map(House::key).chain(library).collect::<Vec<_>>().join("\n");
        Ok(Self { own, top, shelf: Shelf::of_the_day(books), key })
    }

    /// What tells rules apart.
    #[must_use]
    pub fn key(&self) -> &str {
        &self.key
    }

    /// The house's book with its files.
    #[must_use]
    pub fn own(&self) -> Option<&House> {
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

/// A program with what is to be told of it, or every mistake.
pub type Compiled = Result<(Program, Vec<Problem>), Vec<Problem>>;

fn with(rules: &Rules, compile: impl FnOnce(Vec<BookSource>) -> Compiled) -> Compiled {
    let (layers, problems) = match &rules.own {
        None => rules.shelf.layers_of(&rules.top),
        Some(own) => {
            let file = own.file();
            let text = file.text().map_err(|p| vec![p])?;
            rules.shelf.with_layers(&Text::new(&*file.name, text), &file.name, &Files::of(own))
        }
    };
    checked(layers, problems, compile)
}

/// Compiles layers of which some problems are known, with all that is to be told of them.
///
/// # Errors
/// Every mistake of the books.
pub fn checked(
    layers: Vec<BookSource>,
    mut problems: Vec<Problem>,
    compile: impl FnOnce(Vec<BookSource>) -> Compiled,
) -> Compiled {
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

/// The built-in books that a program was compiled from, as files.
pub(super) fn library_of(program: &Program) -> Vec<File> {
    let built_in = program.schema.books.iter().map(|b| b.file == FILE);
    let books = program.books.iter().zip(built_in).filter(|(_, built_in)| *built_in);
    books.map(|(book, _)| File::new(&book.text.name, book.text.text.clone().into_bytes())).collect()
}
