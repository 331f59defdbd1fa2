//! `hardlid manuals DIR`

use super::{Arguments as All, Ended, failed, out};
use crate::problem::Problem;
use crate::system::Outside;
use clap::{Command, CommandFactory as _};
use serde_json::json;
use std::path::{Path, PathBuf};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  hardlid manuals ~/.local/share/man/man1\n\nOne page for hardlid and one for each command; then `man hardlid-price`. \
                        A page that hardlid wrote is written again; a file of somebody else stays, and then nothing is written."
)]
pub struct Arguments {
    /// The folder; it is made where it is not there.
    dir: PathBuf,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

/// The first line of each page, a remark to the program that shows it: by it a page of ours is known.
const OURS: &str = ".\\\" A manual page that hardlid wrote, and writes again.\n";
/// Largest file that is looked into, in bytes; our pages are far smaller.
const PAGE_LIMIT: u64 = 1024 * 1024;

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    match written(&arguments.dir, outside) {
        Err(problems) => failed(&problems, arguments.json),
        Ok(paths) => {
            let names: Vec<String> = paths.iter().map(|p| p.display().to_string()).collect();
            if arguments.json {
                out::value(&json!({ "written": names }));
            } else {
                let dir = arguments.dir.display();
                out::line(&format!("{} in {dir}: man hardlid", out::counted(names.len(), "page", "pages")));
            }
            Ended::Done
        }
    }
}

/// Writes all pages, or none where a file of somebody else stands in the place of one.
fn written(dir: &Path, outside: &dyn Outside) -> Result<Vec<PathBuf>, Vec<Problem>> {
    let pages: Vec<(PathBuf, Vec<u8>)> =
        pages().map_err(|p| vec![p])?.into_iter().map(|(name, page)| (dir.join(name), page)).collect();
    let foreign: Vec<Problem> = pages.iter().filter_map(|(path, _)| foreign(path, outside)).collect();
    if !foreign.is_empty() {
        return Err(foreign);
    }
    if !outside.is_folder(dir) {
        if outside.exists(dir) {
            let what = format!("{} is a file; pages go into a folder.", dir.display());
            return Err(vec![Problem::stop("not a folder", what).fix("hardlid manuals man")]);
        }
        outside.make_folder(dir).map_err(|p| vec![p])?;
    }
    for (path, page) in &pages {
        outside.write_whole(path, page).map_err(|p| vec![p])?;
    }
    Ok(pages.into_iter().map(|(path, _)| path).collect())
}

/// A file that hardlid did not write.
fn foreign(path: &Path, outside: &dyn Outside) -> Option<Problem> {
    if !outside.exists(path) {
        return None;
    }
    let ours = outside.read(path, PAGE_LIMIT).is_ok_and(|bytes| bytes.starts_with(OURS.as_bytes()));
    let what = format!("{} is no manual page that hardlid wrote, and stays as it is.", path.display());
    (!ours).then(|| Problem::stop("not our file", what).fix("another folder, or move that file away"))
}

/// File names and pages: of the program, and of each command.
fn pages() -> Result<Vec<(String, Vec<u8>)>, Problem> {
    let mut all = All::command().version(env!("CARGO_PKG_VERSION"));
    all.build();
    let one = |name: &str, command: Command| {
        let mut bytes = OURS.as_bytes().to_vec();
        let man = clap_mangen::Man::new(command).title(name).source("hardlid");
        man.render(&mut bytes)
            .map_err(|e| Problem::stop("page not made", format!("The manual page {name} cannot be made: {e}.")))?;
        Ok((format!("{name}.1"), bytes))
    };
    let commands = all.get_subcommands().map(|c| {
        let name = format!("hardlid-{}", c.get_name());
        (name.clone(), c.clone().display_name(name).version(env!("CARGO_PKG_VERSION")))
    });
    let all_pages: Vec<(String, Command)> =
        std::iter::once(("hardlid".to_owned(), all.clone())).chain(commands).collect();
    all_pages.into_iter().map(|(name, command)| one(&name, command)).collect()
}
