//! What reading, checking, trying and tidying a house with many rules takes.

use crate::Result;
use crate::house;
use crate::timed::{Side, against};
use hardlid::bid::{House, Rules, compiled, compiled_to_explain};
use hardlid::engine::examples::run_examples;
use hardlid::engine::reached::run_and_reach;
use hardlid::notation::{read_book, tidy};
use hardlid::problem::Problem;
use hardlid::source::Text;
use hardlid::workbook::carried::File;
use std::collections::BTreeMap;
use std::hint::black_box;
use std::sync::Arc;

/// Trees alone, beside checking with hints, beside all that `try` does.
pub fn run(runs: usize) -> Result<()> {
    for books in [house::OF_2000 / 4, house::OF_2000 / 2, house::OF_2000, house::OF_2000 * 2] {
        let shelf = house::books(books);
        let (top, _) = shelf.last().ok_or("no book")?;
        let bytes: usize = shelf.iter().map(|(_, text)| text.len()).sum();
        let texts: Vec<Arc<Text>> = shelf.iter().map(|(name, text)| Text::new(name.as_str(), text)).collect();
        let files: BTreeMap<&str, &[u8]> = shelf.iter().map(|(name, text)| (name.as_str(), text.as_bytes())).collect();
        let gone = |name: &str| Problem::stop("file not found", format!("no {name}"));
        let file = |name: &str| files.get(name).map(|bytes| bytes.to_vec()).ok_or_else(|| gone(name));
        let rules = || -> Result<Rules> {
            let own = File::new(top, file(top).map_err(|p| p.what)?);
            Ok(Rules::of_today(Some(House::read(own, &|named, _| file(named))), ""))
        };
        let first = |p: Vec<Problem>| p.first().map_or(String::new(), |p| p.what.clone());
        let (program, _) = compiled(&rules()?, None).map_err(first)?;
        let formulas = program.schema.fields.iter().filter(|f| f.input.is_none() && !f.hidden).count();
        if let Some(problem) = run_examples(&program).first() {
            return Err(problem.what.clone().into());
        }
        println!("\n{books} books, {formulas} formulas, {} KB, {} hints", bytes / 1024, program.hints.len());
        let bare = Side::new("every letter looked at", || {
            Ok(shelf.iter().map(|(_, t)| black_box(t).chars().filter(|c| c.is_alphanumeric()).count() as u64).sum())
        });
        let trees =
            Side::new("trees alone", || Ok(texts.iter().map(|t| black_box(read_book(t)).0.parts.len() as u64).sum()));
        let checked = Side::new("read and checked, with hints", || {
            let (program, _) = compiled(&rules()?, None).map_err(first)?;
            Ok(black_box(program).hints.len() as u64)
        });
        let tried = Side::new("hardlid try: and its examples run", || {
            let (program, _) = compiled_to_explain(&rules()?).map_err(first)?;
            Ok(black_box(run_and_reach(&program)).1.len() as u64)
        });
        let laid = Side::new("tidied", || {
            let laid = texts.iter().map(|t| tidy(t).map(|t| t.len() as u64).map_err(first));
            Ok(laid.sum::<std::result::Result<u64, String>>()?)
        });
        against(
            &format!("{books} books of {} formulas", house::FORMULAS),
            bare,
            vec![trees, checked, tried, laid],
            runs,
        )?;
    }
    Ok(())
}
