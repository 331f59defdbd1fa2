//! `hardlid start DIR`

use super::{Ended, books, failed, out};
use crate::bid::{compiled, starter};
use crate::problem::Problem;
use crate::system::Outside;
use serde_json::json;
use std::path::{Path, PathBuf};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  hardlid start \"north wing\"\n\nA rooms workbook that asks for all that the rules read, a price book with their codes and no prices, and a house book. \
                        Nothing is written over: a folder that has one of these files stays as it is."
)]
pub struct Arguments {
    /// The folder; it is made where it is not there.
    dir: PathBuf,
    /// The rule book that the rooms will be priced by; a house book of your own otherwise.
    #[arg(long, value_name = "BOOK.lid")]
    rules: Option<PathBuf>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

/// A house book that changes nothing yet.
const HOUSE: &str = "book \"House rules\"  edition \"1\"
use \"hardlid ceilings\"

-- What your house does otherwise goes here: a formula, a table row or an item of the built-in books, replaced by its name.
-- hardlid words lists all names, hardlid try house.lid runs the example below.

example \"a room of 14 by 20 ft\"
    rooms  id \"101\"  length 20'  width 14'
    shows  tees = 9
end
";

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    match begun(arguments, outside) {
        Err(problems) => failed(&problems, arguments.json),
        Ok(paths) => {
            told(arguments, &paths);
            Ended::Done
        }
    }
}

/// Writes the files, or none where one of them is there.
fn begun(arguments: &Arguments, outside: &dyn Outside) -> Result<Vec<PathBuf>, Vec<Problem>> {
    let one = |p: Problem| vec![p];
    let rules = books::rules(arguments.rules.as_deref(), "hardlid ceilings", outside).map_err(one)?;
    let (program, _) = compiled(&rules, None)?;
    let made = starter(&program, outside.today())?;
    let mut files = vec![("rooms.xlsx", made.rooms), ("prices.xlsx", made.prices)];
    if arguments.rules.is_none() {
        files.push(("house.lid", HOUSE.as_bytes().to_vec()));
    }
    let dir = &arguments.dir;
    let files: Vec<(PathBuf, Vec<u8>)> = files.into_iter().map(|(name, bytes)| (dir.join(name), bytes)).collect();
    let there: Vec<Problem> =
        files.iter().filter(|(path, _)| outside.exists(path)).map(|(path, _)| is_there(path)).collect();
    if !there.is_empty() {
        return Err(there);
    }
    if !outside.is_folder(dir) {
        outside.make_folder(dir).map_err(one)?;
    }
    for (path, bytes) in &files {
        outside.write_new(path, bytes).map_err(one)?;
    }
    Ok(files.into_iter().map(|(path, _)| path).collect())
}

fn is_there(path: &Path) -> Problem {
    let what = format!("{} is there already, and stays as it is.", path.display());
    Problem::stop("would be overwritten", what).fix("another folder")
}

fn told(arguments: &Arguments, paths: &[PathBuf]) {
    let names: Vec<String> = paths.iter().map(|p| p.display().to_string()).collect();
    if arguments.json {
        return out::value(&json!({ "written": names }));
    }
    out::line(&format!("Written: {}", names.join(", ")));
    let rules = arguments.rules.as_ref().map_or_else(|| names[2].clone(), |r| r.display().to_string());
    out::line("Type rooms over the example, and what things cost into the price book; then:");
    out::line(&format!("  hardlid price \"{}\" --rules \"{rules}\" --prices \"{}\"", names[0], names[1]));
}
