//! The bids below some folders: a priced workbook with its later revisions, `NAME.xlsx`, `NAME.rev-2.xlsx` and so on.

use crate::problem::Problem;
use crate::system::{Entry, Outside};
use crate::workbook::variance::LeftOut;
use crate::workbook::write::{is_package, written_by_us};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// A bid's workbooks. Whether the first is a priced workbook at all is known when it is read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Family {
    /// Name of the first workbook without `.xlsx`.
    pub stem: String,
    /// The folder that holds it.
    pub folder: PathBuf,
    /// The folder that new revisions go into.
    pub out: PathBuf,
    /// The workbooks, by their revision; the last comes last.
    pub revisions: Vec<(u32, PathBuf)>,
    /// Those of them that are open elsewhere.
    pub open: Vec<PathBuf>,
}

/// Deepest folder that is walked.
const DEEPEST: usize = 64;

/// Finds the bids below paths, in order of their names.
///
/// Folders are walked through, but for links to folders, which may lead in a circle; a folder below that cannot be read is
/// told beside the bids. A file stands for its bid with all its revisions. With `out`, new revisions go below that
/// folder, in folders as those they were found in.
///
/// # Errors
/// A path that does not exist or cannot be read.
pub fn families(paths: &[PathBuf], out: Option<&Path>, outside: &dyn Outside) -> Result<Found, Problem> {
    let mut found: BTreeMap<(PathBuf, String), Family> = BTreeMap::new();
    let mut unread = Vec::new();
    for path in paths {
        let below = out.map(|out| match path.file_name().filter(|_| paths.len() > 1 && outside.is_folder(path)) {
            // several folders may hold files of one name
            Some(name) => out.join(name),
            None => out.to_path_buf(),
        });
        if outside.is_folder(path) {
            let mut walk = Walk { out, outside, found: &mut found, unread: &mut unread };
            walk.folder(path, below.as_deref(), 0)?;
        } else {
            // the file itself must be there; that it is read twice is no loss
            let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
            let bytes = outside.read(path, crate::system::INPUT_LIMIT)?;
            let Some((stem, _)) = revision_of(path).filter(|_| !is_package(&bytes) || written_by_us(&bytes)) else {
                let what = format!("{} is no priced workbook.", path.display());
                let fix = "a priced workbook, .xlsx, or a folder with some";
                return Err(Problem::stop("not a priced workbook", what).in_file(path.display().to_string()).fix(fix));
            };
            let entries = outside.list(&folder_or_here(&folder))?;
            let out = below.unwrap_or_else(|| folder.clone());
            add(&mut found, (&folder, &outside.real(&folder)), &out, &entries, Some(&stem));
        }
    }
    let mut families: Vec<Family> = found.into_values().collect();
    // what a run wrote into a folder of its own is no bid beside the one that it came from
    let firsts: Vec<String> = families.iter().filter(|f| has_first(f)).map(|f| f.stem.clone()).collect();
    families.retain(|f| has_first(f) || !firsts.contains(&f.stem));
    for family in &mut families {
        take_from_out(family, outside)?;
        family.revisions.sort();
    }
    Ok(Found { families, unread })
}

/// What is found below some folders.
#[derive(Clone, Debug)]
pub struct Found {
    /// The bids, in order of their names.
    pub families: Vec<Family>,
    /// Folders that could not be read.
    pub unread: Vec<LeftOut>,
}

struct Walk<'a> {
    out: Option<&'a Path>,
    outside: &'a dyn Outside,
    found: &'a mut BTreeMap<(PathBuf, String), Family>,
    unread: &'a mut Vec<LeftOut>,
}

impl Walk<'_> {
    fn folder(&mut self, folder: &Path, below: Option<&Path>, depth: usize) -> Result<(), Problem> {
        // what an earlier run wrote is no bid of its own
        if depth > DEEPEST || depth > 0 && self.out.is_some_and(|out| self.outside.same_file(out, folder)) {
            return Ok(());
        }
        let entries = self.outside.list(folder)?;
        add(self.found, (folder, &self.outside.real(folder)), below.unwrap_or(folder), &entries, None);
        for inner in entries.into_iter().filter(|e| e.folder && !e.link && !is_hidden(&e.path)) {
            let below = below.zip(inner.path.file_name()).map(|(below, name)| below.join(name));
            if let Err(problem) = self.folder(&inner.path, below.as_deref(), depth + 1) {
                self.unread.push(LeftOut { path: inner.path, problems: vec![problem], added: Vec::new() });
            }
        }
        Ok(())
    }
}

/// Adds what a folder holds: all of it, or the bid of one name.
fn add(
    found: &mut BTreeMap<(PathBuf, String), Family>,
    (folder, real): (&Path, &Path),
    out: &Path,
    entries: &[Entry],
    only: Option<&str>,
) {
    let files = || entries.iter().filter(|e| !e.folder);
    for entry in files().filter(|e| !is_hidden(&e.path)) {
        let Some((stem, revision)) = revision_of(&entry.path) else { continue };
        if only.is_some_and(|only| only != stem) {
            continue;
        }
        let family = found.entry((real.to_path_buf(), stem.clone())).or_insert_with(|| Family {
            stem,
            folder: folder.to_path_buf(),
            out: out.to_path_buf(),
            revisions: Vec::new(),
            open: Vec::new(),
        });
        // the same folder by another name
        if family.revisions.iter().any(|(_, path)| path.file_name() == entry.path.file_name()) {
            continue;
        }
        family.revisions.push((revision, entry.path.clone()));
        if files().any(|lock| is_lock_of(&lock.path, &entry.path)) {
            family.open.push(entry.path.clone());
        }
    }
}

/// Adds the revisions that earlier runs wrote into another folder.
fn take_from_out(family: &mut Family, outside: &dyn Outside) -> Result<(), Problem> {
    let same = outside.real(&family.out) == outside.real(&family.folder);
    if same || !outside.is_folder(&folder_or_here(&family.out)) {
        return Ok(());
    }
    let entries = outside.list(&folder_or_here(&family.out))?;
    family.revisions.extend(later_revisions(&family.stem, entries));
    Ok(())
}

/// The revisions of a bid after its first, among what a folder holds.
fn later_revisions(stem: &str, entries: Vec<Entry>) -> impl Iterator<Item = (u32, PathBuf)> {
    entries.into_iter().filter(|e| !e.folder && !is_hidden(&e.path)).filter_map(move |e| {
        let (of, revision) = revision_of(&e.path)?;
        (of == stem && revision > 1).then_some((revision, e.path))
    })
}

fn has_first(family: &Family) -> bool {
    family.revisions.iter().any(|(revision, _)| *revision == 1)
}

fn folder_or_here(folder: &Path) -> PathBuf {
    if folder.as_os_str().is_empty() { PathBuf::from(".") } else { folder.to_path_buf() }
}

fn name(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}

/// Whether a name is of those that programs hide: locks, parts of files, folders of version control.
fn is_hidden(path: &Path) -> bool {
    let name = name(path);
    name.starts_with('.') || name.starts_with('~')
}

/// A workbook's bid and revision, by its name.
pub(super) fn revision_of(path: &Path) -> Option<(String, u32)> {
    let name = name(path);
    let stem = name.get(..name.len().checked_sub(5)?)?;
    let of_ours =
        [".xlsx", ".xlsm"].iter().any(|end| name.get(stem.len()..).is_some_and(|e| e.eq_ignore_ascii_case(end)));
    if !of_ours || stem.is_empty() {
        return None;
    }
    if !name.get(stem.len()..)?.eq_ignore_ascii_case(".xlsx") {
        // a workbook saved with macros stands for a bid of its own beside the one that it was
        return Some((name, 1));
    }
    match stem.rsplit_once(".rev-").map(|(before, n)| (before, n.parse::<u32>())) {
        Some((before, Ok(n))) if n > 1 && !before.is_empty() => Some((before.to_owned(), n)),
        _ => Some((stem.to_owned(), 1)),
    }
}

/// The latest revision beside a workbook, if it has any.
#[must_use]
pub fn latest_beside(workbook: &Path, outside: &dyn Outside) -> Option<(u32, PathBuf)> {
    let (stem, _) = revision_of(workbook)?;
    let entries = outside.list(&folder_or_here(workbook.parent()?)).ok()?;
    later_revisions(&stem, entries).max()
}

/// Whether a file is the lock that a spreadsheet program lays beside a workbook while it has it open: `~$bid.xlsx` or
/// `.~lock.bid.xlsx#`.
fn is_lock_of(lock: &Path, workbook: &Path) -> bool {
    let (lock, workbook) = (name(lock), name(workbook));
    let of = lock.strip_prefix("~$").or_else(|| lock.strip_prefix(".~lock.").and_then(|rest| rest.strip_suffix('#')));
    // one of them leaves out the first two letters of long names
    of.is_some_and(|of| of == workbook || of.len() > 6 && workbook.ends_with(of) && workbook.len() == of.len() + 2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Date;
    use crate::system::Memory;

    fn found(machine: &Memory, paths: &[&str], out: Option<&str>) -> Vec<Family> {
        let paths: Vec<PathBuf> = paths.iter().map(PathBuf::from).collect();
        families(&paths, out.map(Path::new), machine).unwrap().families
    }

    #[test]
    fn revisions_belong_together() {
        let machine = Memory::new(Date::constant(2026, 3, 1))
            .with("jobs/b.xlsx", "")
            .with("jobs/a.priced.xlsx", "")
            .with("jobs/a.priced.rev-2.xlsx", "")
            .with("jobs/a.priced.rev-10.xlsx", "")
            .with("jobs/~$a.priced.rev-10.xlsx", "")
            .with("jobs/.~lock.b.xlsx#", "")
            .with("jobs/.hardlid-x.part", "")
            .with("jobs/notes.txt", "")
            .with("jobs/deep/er/c.XLSX", "");
        let all = found(&machine, &["jobs"], None);
        let stems: Vec<&str> = all.iter().map(|f| f.stem.as_str()).collect();
        assert_eq!(stems, ["a.priced", "b", "c"]);
        let numbers: Vec<u32> = all[0].revisions.iter().map(|(n, _)| *n).collect();
        assert_eq!(numbers, [1, 2, 10]);
        assert_eq!(all[0].open, [PathBuf::from("jobs/a.priced.rev-10.xlsx")]);
        assert_eq!(all[1].open, [PathBuf::from("jobs/b.xlsx")]);
        assert_eq!(all[2].out, PathBuf::from("jobs/deep/er"));
        // one file stands for its bid, and a bid named twice is one
        assert_eq!(found(&machine, &["jobs/a.priced.rev-2.xlsx"], None)[0], all[0]);
        assert_eq!(found(&machine, &["jobs", "jobs/b.xlsx"], None).len(), 3);
    }

    #[test]
    fn the_latest_revision_is_found_beside_a_workbook() {
        let machine = Memory::new(Date::constant(2026, 3, 1))
            .with("a.priced.xlsx", "")
            .with("a.priced.rev-2.xlsx", "")
            .with("a.priced.rev-10.xlsx", "")
            .with("b.priced.rev-11.xlsx", "")
            .with("c.priced.xlsm", "");
        assert_eq!(
            latest_beside(Path::new("a.priced.xlsx"), &machine),
            Some((10, PathBuf::from("a.priced.rev-10.xlsx")))
        );
        assert_eq!(latest_beside(Path::new("c.priced.xlsx"), &machine), None);
        let all = found(&machine, &["."], None);
        assert_eq!(all.iter().map(|f| f.stem.as_str()).collect::<Vec<_>>(), ["a.priced", "b.priced", "c.priced.xlsm"]);
    }

    #[test]
    fn revisions_may_go_elsewhere() {
        let machine = Memory::new(Date::constant(2026, 3, 1))
            .with("jobs/deep/a.xlsx", "")
            .with("jobs/new/deep/a.rev-2.xlsx", "")
            .with("other/deep/a.xlsx", "");
        let all = found(&machine, &["jobs"], Some("jobs/new"));
        assert_eq!(all.len(), 1, "what an earlier run wrote is no bid of its own");
        assert_eq!(all[0].out, PathBuf::from("jobs/new/deep"));
        assert_eq!(all[0].revisions.len(), 2);
        let two = found(&machine, &["jobs", "other"], Some("jobs/new"));
        let outs: Vec<PathBuf> = two.iter().map(|f| f.out.clone()).collect();
        assert_eq!(outs, [PathBuf::from("jobs/new/jobs/deep"), PathBuf::from("jobs/new/other/deep")]);
    }

    #[test]
    fn what_is_not_there_is_told() {
        let machine = Memory::new(Date::constant(2026, 3, 1)).with("jobs/a.xlsx", "").with("jobs/a.txt", "");
        let kind = |path: &str| families(&[PathBuf::from(path)], None, &machine).unwrap_err().kind;
        assert_eq!(kind("job"), "file not found");
        assert_eq!(kind("jobs/b.xlsx"), "file not found");
        assert_eq!(kind("jobs/a.txt"), "not a priced workbook");
    }
}
