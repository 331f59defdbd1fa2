//! Reads the files that a command is given.

pub use crate::bid::BOOK_LIMIT;
use crate::bid::{House, Rules, compiled, compiled_to_explain};
use crate::notation::tree::Expr;
use crate::problem::Problem;
use crate::program::Program;
use crate::quantity::Date;
use crate::source::Text;
use crate::system::{INPUT_LIMIT, Outside};
use crate::workbook::carried::File;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

/// A path's last name.
pub fn file_name(path: &Path) -> String {
    path.file_name().map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned())
}

/// Reads a workbook's file.
pub fn file(path: &Path, outside: &dyn Outside) -> Result<File, Problem> {
    Ok(File::new(&file_name(path), outside.read(path, INPUT_LIMIT)?))
}

/// Refuses the name of a workbook to write that does not end as a workbook does: a program would take it for something else.
pub fn names_a_workbook(target: &Path) -> Result<(), Problem> {
    if target.extension().is_some_and(|end| end.eq_ignore_ascii_case("xlsx")) {
        return Ok(());
    }
    let what = format!("{} does not end in .xlsx, and what is written is an .xlsx workbook.", target.display());
    let fix = match target.file_name() {
        Some(_) => format!("-o {}", target.with_extension("xlsx").display()),
        None => "-o with the name of a file, such as bid.xlsx".to_owned(),
    };
    Err(Problem::stop("not a workbook's name", what).in_file(target.display().to_string()).fix(fix))
}

/// Reads a rule book's file with the files that it names, or takes a built-in book when there is none.
pub fn rules(path: Option<&Path>, built_in: &str, outside: &dyn Outside) -> Result<Rules, Problem> {
    Ok(Rules::of_today(path.map(|path| house(path, outside)).transpose()?, built_in))
}

/// Reads a rule book's file with the files that it names.
pub fn house(path: &Path, outside: &dyn Outside) -> Result<House, Problem> {
    let own = File::new(&file_name(path), outside.read(path, BOOK_LIMIT)?);
    let folder = outside.real(path.parent().unwrap_or(Path::new("")));
    let folder: Vec<String> = folder
        .components()
        .filter_map(|part| match part {
            Component::Normal(name) => Some(name.to_string_lossy().into_owned()),
            _ => None,
        })
        .collect();
    Ok(House::read_in(own, &folder, &|named, limit| outside.read(&path.with_file_name(named), limit)))
}

/// The files that a rule book names, directly and through others, those that are not there among them.
pub fn named_by(path: &Path, outside: &dyn Outside) -> Vec<PathBuf> {
    house(path, outside).iter().flat_map(House::paths).map(|named| path.with_file_name(named)).collect()
}

/// Compiles a rule book file, or a built-in book when there is none.
///
/// # Errors
/// An unreadable file; every mistake of the book.
pub fn program(
    path: Option<&Path>,
    built_in: &str,
    asked: Option<(&Arc<Text>, &Expr)>,
    outside: &dyn Outside,
) -> Result<(Program, Vec<Problem>), Vec<Problem>> {
    compiled(&rules(path, built_in, outside).map_err(|p| vec![p])?, asked)
}

/// As [`program`], with what it takes to tell how a figure was worked out.
///
/// # Errors
/// As [`program`].
pub fn program_to_explain(
    path: Option<&Path>,
    built_in: &str,
    outside: &dyn Outside,
) -> Result<(Program, Vec<Problem>), Vec<Problem>> {
    compiled_to_explain(&rules(path, built_in, outside).map_err(|p| vec![p])?)
}

/// The pricing date: as asked for, or today.
pub fn date(text: Option<&str>, outside: &dyn Outside) -> Result<Date, Problem> {
    let Some(text) = text else { return Ok(outside.today()) };
    text.parse().map_err(|_| {
        Problem::stop("no such date", format!("There is no day '{text}'.")).fix("--as-of 2026-11-25, year-month-day")
    })
}
