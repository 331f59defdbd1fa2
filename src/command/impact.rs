//! `hardlid impact OLD.lid NEW.lid PATH…`

use super::progress::Progress;
use super::{Ended, books, failed, moved};
use crate::bid::{House, compiled};
use crate::problem::Problem;
use crate::reprice::{Asked, By, families, reprice};
use crate::system::Outside;
use std::path::{Path, PathBuf};

#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hardlid impact house-2025.lid house-2026.lid bids\n\n\
                        Each bid is worked out by the old rules and by the new ones, with its own rooms, prices, date and figures typed by hand, over the built-in books of this version. No bid is written; a variance workbook says what would have moved, room by room those that move most first, with the way each is built and the checks that fail now or hold now.\n\
                        Exit 0: done; 1: some bids are left out or incomplete; 2: could not run.\n\n\
                        An estimating aid. Span and load checks are no engineering: the manufacturer's tested tables, local codes and licensed practice govern.")]
pub struct Arguments {
    /// The rule book as it was.
    #[arg(value_name = "OLD.lid")]
    old: PathBuf,
    /// The rule book as it is to be.
    #[arg(value_name = "NEW.lid")]
    new: PathBuf,
    /// Priced workbooks, or folders with some below them.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    #[command(flatten)]
    telling: moved::Telling,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    match impact(arguments, outside) {
        Ok(ended) => ended,
        Err(problems) => failed(&problems, arguments.telling.json),
    }
}

fn impact(arguments: &Arguments, outside: &dyn Outside) -> Result<Ended, Vec<Problem>> {
    let one = |p: Problem| vec![p];
    arguments.telling.names_a_workbook().map_err(one)?;
    let (old, new) = (book(&arguments.old, outside)?, book(&arguments.new, outside)?);
    let said = format!("Each bid by {} and by {}, with its own prices and date.", old.file().name, new.file().name);
    let asked = Asked {
        prices: None,
        as_of: None,
        by: By::House(new),
        instead_of: Some(old),
        without_additions: true,
        changes: Vec::new(),
        older_than: None,
        at_once: None,
    };
    let told = moved::Told { telling: &arguments.telling, name: "impact.xlsx", out_dir: None, paths: &arguments.paths };
    let target = told.target(outside).map_err(one)?;
    let all = families(&arguments.paths, None, outside).map_err(one)?;
    let progress = Progress::count(all.families.len() as u64, arguments.telling.json || arguments.telling.csv);
    progress.of("bids");
    let moved = reprice(&all, &asked, outside, &|done| progress.at(done));
    progress.end();
    told.tell(&moved.map_err(one)?, &target, &[said], outside.today(), outside).map_err(one)
}

/// A rule book that compiles.
fn book(path: &Path, outside: &dyn Outside) -> Result<House, Vec<Problem>> {
    let rules = books::rules(Some(path), "", outside).map_err(|p| vec![p])?;
    compiled(&rules, None)?;
    rules.own().cloned().ok_or_else(Vec::new)
}
