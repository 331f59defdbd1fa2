//! The outside in memory, for tests of commands.

use super::files::{already_there, is_a_folder, missing_folder, not_found, read_only_folder, too_large};
use super::{Entry, Outside, STANDARD_INPUT};
use crate::problem::Problem;
use crate::quantity::Date;
use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::path::{Component, Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Files and folders that exist nowhere else, and a date that stands still.
#[derive(Debug)]
pub struct Memory {
    held: Mutex<Held>,
    today: Date,
}

#[derive(Debug, Default)]
struct Held {
    files: BTreeMap<PathBuf, Vec<u8>>,
    folders: BTreeSet<PathBuf>,
    read_only: BTreeSet<PathBuf>,
    input: Vec<u8>,
    /// How often each file was written.
    written: BTreeMap<PathBuf, usize>,
    /// What happens while somebody waits, one after the other: a file is saved, or taken away.
    later: VecDeque<(PathBuf, Option<Vec<u8>>)>,
}

impl Memory {
    /// No files, one folder (where the user stands).
    #[must_use]
    pub fn new(today: Date) -> Self {
        let mut held = Held::default();
        held.folders.insert(PathBuf::new());
        Self { held: Mutex::new(held), today }
    }

    /// Puts a file in place, with the folders above it.
    #[must_use]
    pub fn with(self, path: impl AsRef<Path>, bytes: impl Into<Vec<u8>>) -> Self {
        let path = plain(path.as_ref());
        {
            let mut held = self.lock();
            held.folders.extend(path.ancestors().skip(1).map(Path::to_path_buf));
            held.files.insert(path, bytes.into());
        }
        self
    }

    /// Marks a folder as read-only.
    #[must_use]
    pub fn with_read_only(self, folder: impl AsRef<Path>) -> Self {
        self.lock().read_only.insert(plain(folder.as_ref()));
        self
    }

    /// Puts bytes on standard input.
    #[must_use]
    pub fn with_input(self, bytes: impl Into<Vec<u8>>) -> Self {
        self.lock().input = bytes.into();
        self
    }

    /// How often a file was written.
    #[must_use]
    pub fn times_written(&self, path: impl AsRef<Path>) -> usize {
        self.lock().written.get(&plain(path.as_ref())).copied().unwrap_or(0)
    }

    /// A file that is saved when somebody next waits, after what is to happen before; nothing takes it away.
    #[must_use]
    pub fn later(self, path: impl AsRef<Path>, bytes: Option<Vec<u8>>) -> Self {
        self.lock().later.push_back((plain(path.as_ref()), bytes));
        self
    }

    /// The bytes of a file.
    #[must_use]
    pub fn bytes(&self, path: impl AsRef<Path>) -> Option<Vec<u8>> {
        self.lock().files.get(&plain(path.as_ref())).cloned()
    }

    /// The names of all files, in order.
    #[must_use]
    pub fn names(&self) -> Vec<PathBuf> {
        self.lock().files.keys().cloned().collect()
    }

    fn lock(&self) -> MutexGuard<'_, Held> {
        self.held.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Outside for Memory {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Problem> {
        let held = self.lock();
        let key = plain(path);
        if held.folders.contains(&key) {
            return Err(is_a_folder(path));
        }
        let Some(bytes) = held.files.get(&key) else {
            let beside: Vec<String> = held
                .files
                .keys()
                .filter(|p| p.parent() == key.parent())
                .filter_map(|p| Some(p.file_name()?.to_string_lossy().into_owned()))
                .collect();
            return Err(not_found(path, &beside));
        };
        if bytes.len() as u64 > limit { Err(too_large(path, limit)) } else { Ok(bytes.clone()) }
    }

    fn read_input(&self, limit: u64) -> Result<Vec<u8>, Problem> {
        let held = self.lock();
        if held.input.len() as u64 > limit {
            return Err(too_large(Path::new(STANDARD_INPUT), limit));
        }
        Ok(held.input.clone())
    }

    fn write_whole(&self, path: &Path, bytes: &[u8]) -> Result<(), Problem> {
        let mut held = self.lock();
        let key = plain(path);
        if held.folders.contains(&key) {
            return Err(is_a_folder(path));
        }
        let folder = key.parent().unwrap_or(Path::new(""));
        if !held.folders.contains(folder) {
            return Err(missing_folder(path));
        }
        if held.read_only.contains(folder) {
            return Err(read_only_folder(path));
        }
        *held.written.entry(key.clone()).or_default() += 1;
        held.files.insert(key, bytes.to_vec());
        Ok(())
    }

    fn write_new(&self, path: &Path, bytes: &[u8]) -> Result<(), Problem> {
        if self.exists(path) { Err(already_there(path)) } else { self.write_whole(path, bytes) }
    }

    fn real(&self, path: &Path) -> PathBuf {
        plain(path)
    }

    fn exists(&self, path: &Path) -> bool {
        let (held, key) = (self.lock(), plain(path));
        held.files.contains_key(&key) || held.folders.contains(&key)
    }

    fn same_file(&self, a: &Path, b: &Path) -> bool {
        plain(a) == plain(b) && self.exists(a)
    }

    fn is_folder(&self, path: &Path) -> bool {
        self.lock().folders.contains(&plain(path))
    }

    fn list(&self, path: &Path) -> Result<Vec<Entry>, Problem> {
        let (held, key) = (self.lock(), plain(path));
        if !held.folders.contains(&key) {
            return Err(not_found(path, &[]));
        }
        let inside = |p: &&PathBuf| p.parent() == Some(key.as_path());
        let folders = held.folders.iter().filter(inside).map(|p| (p, true));
        let files = held.files.keys().filter(inside).map(|p| (p, false));
        let mut entries: Vec<Entry> =
            folders.chain(files).map(|(p, folder)| Entry { path: p.clone(), folder, link: false }).collect();
        entries.sort();
        Ok(entries)
    }

    fn make_folder(&self, path: &Path) -> Result<(), Problem> {
        let key = plain(path);
        self.lock().folders.extend(key.ancestors().map(Path::to_path_buf));
        Ok(())
    }

    fn sweep(&self, _: &Path) {
        // nothing is killed here
    }

    fn wait(&self) -> bool {
        let mut held = self.lock();
        let Some((path, bytes)) = held.later.pop_front() else { return false };
        match bytes {
            Some(bytes) => held.files.insert(path, bytes),
            None => held.files.remove(&path),
        };
        true
    }

    fn today(&self) -> Date {
        self.today
    }
}

/// A path without `.` and `..` parts, as far as they go, so that `./a`, `b/../a` and `a` are one file.
fn plain(path: &Path) -> PathBuf {
    let mut out = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if out.file_name().is_some() => {
                out.pop();
            }
            part => out.push(part),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_twin_hinders_as_the_machine_does() {
        let twin = Memory::new(Date::constant(2026, 3, 1)).with("jobs/rooms.xlsx", "abc").with_read_only("jobs");
        let kind = |result: Result<(), Problem>| result.unwrap_err().kind;
        assert_eq!(kind(twin.write_whole(Path::new("no/bid.xlsx"), b"")), "missing folder");
        assert_eq!(kind(twin.write_whole(Path::new("jobs/bid.xlsx"), b"")), "read-only folder");
        assert_eq!(kind(twin.write_whole(Path::new("jobs"), b"")), "a folder");
        assert_eq!(kind(twin.read(Path::new("jobs/rooms.xlsx"), 2).map(drop)), "file too large");
        let missing = twin.read(Path::new("jobs/room.xlsx"), 9).unwrap_err();
        assert_eq!(missing.fix.as_deref(), Some("rooms.xlsx stands beside it; check the spelling."));
        assert_eq!(twin.read(Path::new("./jobs/rooms.xlsx"), 3).unwrap(), b"abc");
        twin.write_whole(Path::new("bid.xlsx"), b"x").unwrap();
        let folders: Vec<(PathBuf, bool)> =
            twin.list(Path::new("")).unwrap().into_iter().map(|e| (e.path, e.folder)).collect();
        assert_eq!(folders, [(PathBuf::from("bid.xlsx"), false), (PathBuf::from("jobs"), true)]);
    }
}
