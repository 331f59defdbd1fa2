//! Files of the machine: read within a limit, written whole or not at all.

use super::{Entry, Outside, STANDARD_INPUT, clock};
use crate::problem::Problem;
use crate::problem::nearest::nearest;
use crate::quantity::Date;
use std::fs;
use std::io::{self, ErrorKind, Read as _, Write as _};
use std::path::{Path, PathBuf};

/// How the names of files begin and end that are not whole yet.
const PART: (&str, &str) = (".hardlid-", ".part");

/// The machine itself.
#[derive(Clone, Copy, Debug, Default)]
pub struct Machine;

impl Outside for Machine {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Problem> {
        let fail = |e: &io::Error| unreadable(path, e);
        let file = fs::File::open(path).map_err(|e| fail(&e))?;
        let about = file.metadata().map_err(|e| fail(&e))?;
        if about.is_dir() {
            return Err(is_a_folder(path));
        }
        if about.len() > limit {
            return Err(too_large(path, limit));
        }
        let mut bytes = Vec::with_capacity(usize::try_from(about.len()).unwrap_or(0));
        // One byte more than allowed shows a file that grows while it is read, or one without a stated length.
        file.take(limit.saturating_add(1)).read_to_end(&mut bytes).map_err(|e| fail(&e))?;
        if bytes.len() as u64 > limit { Err(too_large(path, limit)) } else { Ok(bytes) }
    }

    fn read_input(&self, limit: u64) -> Result<Vec<u8>, Problem> {
        let path = Path::new(STANDARD_INPUT);
        let mut bytes = Vec::new();
        let input = io::stdin().lock();
        input.take(limit.saturating_add(1)).read_to_end(&mut bytes).map_err(|e| unreadable(path, &e))?;
        if bytes.len() as u64 > limit { Err(too_large(path, limit)) } else { Ok(bytes) }
    }

    fn write_whole(&self, path: &Path, bytes: &[u8]) -> Result<(), Problem> {
        // A link stays a link: what it points at is replaced.
        let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
        let old = fs::metadata(&target).ok();
        if old.as_ref().is_some_and(fs::Metadata::is_dir) {
            return Err(is_a_folder(path));
        }
        if old.as_ref().is_some_and(|m| m.permissions().readonly()) {
            return Err(read_only_file(path));
        }
        let folder = folder_of(&target);
        let fail = |e: &io::Error| unwritable(path, e);
        let permissions = old.map(|m| m.permissions()).or_else(usual_permissions);
        let part = part_with(&folder, permissions, bytes).map_err(|e| fail(&e))?;
        part.persist(&target).map_err(|e| fail(&e.error))?;
        Ok(())
    }

    fn write_new(&self, path: &Path, bytes: &[u8]) -> Result<(), Problem> {
        let fail = |e: &io::Error| unwritable(path, e);
        let part = part_with(&folder_of(path), usual_permissions(), bytes).map_err(|e| fail(&e))?;
        part.persist_noclobber(path).map_err(|e| fail(&e.error))?;
        Ok(())
    }

    fn real(&self, path: &Path) -> PathBuf {
        let here = if path.as_os_str().is_empty() { Path::new(".") } else { path };
        fs::canonicalize(here).unwrap_or_else(|_| here.to_path_buf())
    }

    fn exists(&self, path: &Path) -> bool {
        path.exists()
    }

    fn same_file(&self, a: &Path, b: &Path) -> bool {
        // links and spellings of a path are followed to the file itself
        matches!((fs::canonicalize(a), fs::canonicalize(b)), (Ok(a), Ok(b)) if a == b)
    }

    fn is_folder(&self, path: &Path) -> bool {
        path.is_dir()
    }

    fn list(&self, path: &Path) -> Result<Vec<Entry>, Problem> {
        let fail = |e: &io::Error| unreadable(path, e);
        let mut entries = Vec::new();
        for entry in fs::read_dir(path).map_err(|e| fail(&e))? {
            let path = entry.map_err(|e| fail(&e))?.path();
            entries.push(Entry { folder: path.is_dir(), link: path.is_symlink(), path });
        }
        entries.sort();
        Ok(entries)
    }

    fn make_folder(&self, path: &Path) -> Result<(), Problem> {
        fs::create_dir_all(path).map_err(|e| unwritable(path, &e))
    }

    fn sweep(&self, folder: &Path) {
        let Ok(entries) = fs::read_dir(folder) else { return };
        for entry in entries.flatten() {
            let name = entry.file_name();
            let name = name.to_string_lossy();
            if !name.starts_with(PART.0) || !name.ends_with(PART.1) {
                continue;
            }
            // who writes a part holds it locked, and a lock ends with its run
            if fs::File::open(entry.path()).is_ok_and(|part| part.try_lock().is_ok()) {
                let _ = fs::remove_file(entry.path());
            }
        }
    }

    fn wait(&self) -> bool {
        clock::wait();
        true
    }

    fn today(&self) -> Date {
        clock::today()
    }
}

/// A whole file under a name of its own in a folder, which is yet to be given its name.
fn part_with(folder: &Path, permissions: Option<fs::Permissions>, bytes: &[u8]) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(PART.0).suffix(PART.1);
    if let Some(permissions) = permissions {
        builder.permissions(permissions);
    }
    let mut part = builder.tempfile_in(folder)?;
    // whoever sweeps leaves a part alone that is locked; where a disk knows no locks, all of them
    let _ = part.as_file().lock();
    part.write_all(bytes)?;
    part.as_file().sync_all()?;
    Ok(part)
}

/// The permissions that a new file gets from any other program; the temporary file's own are for one user alone.
#[cfg(unix)]
fn usual_permissions() -> Option<fs::Permissions> {
    use std::os::unix::fs::PermissionsExt as _;
    Some(fs::Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn usual_permissions() -> Option<fs::Permissions> {
    None
}

/// The folder that holds a file; `.` for a bare name.
fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_path_buf(),
        _ => PathBuf::from("."),
    }
}

pub(super) fn not_found(path: &Path, beside: &[String]) -> Problem {
    let problem = Problem::stop("file not found", format!("There is no file {}.", path.display())).in_file(shown(path));
    let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    match nearest(&name, beside.iter().map(String::as_str)) {
        Some(near) => problem.fix(format!("{near} stands beside it; check the spelling.")),
        None => problem.fix("Check the name and the folder."),
    }
}

pub(super) fn missing_folder(path: &Path) -> Problem {
    let folder = folder_of(path);
    Problem::stop("missing folder", format!("{} cannot be written: its folder does not exist.", path.display()))
        .in_file(shown(path))
        .fix(format!("Make the folder {} first, or choose another.", folder.display()))
}

pub(super) fn read_only_folder(path: &Path) -> Problem {
    Problem::stop("read-only folder", format!("{} cannot be written: its folder is read-only.", path.display()))
        .in_file(shown(path))
        .fix("Choose a folder that you may write to, or close the program that has the file open.")
}

pub(super) fn read_only_file(path: &Path) -> Problem {
    Problem::stop("read-only file", format!("{} is marked read-only and stays as it is.", path.display()))
        .in_file(shown(path))
        .fix("Choose another name, or take the mark off.")
}

pub(super) fn already_there(path: &Path) -> Problem {
    Problem::stop("would be overwritten", format!("{} is there already; it is not written over.", path.display()))
        .in_file(shown(path))
        .fix("Run it again, and it takes another name.")
}

pub(super) fn is_a_folder(path: &Path) -> Problem {
    Problem::stop("a folder", format!("{} is a folder; a file is needed.", path.display())).in_file(shown(path))
}

pub(super) fn too_large(path: &Path, limit: u64) -> Problem {
    let mega = limit / (1024 * 1024);
    let limit = if mega > 0 { format!("{mega} MB") } else { format!("{limit} bytes") };
    Problem::stop("file too large", format!("{} is larger than {limit}, the most that is read.", path.display()))
        .in_file(shown(path))
        .fix("Delete unused sheets and pictures, or split the job into several workbooks.")
}

fn unreadable(path: &Path, error: &io::Error) -> Problem {
    match error.kind() {
        ErrorKind::NotFound if path.is_symlink() => {
            let what = format!("{} is a link to a file that is not there.", path.display());
            Problem::stop("file not found", what).in_file(shown(path)).fix("Put the file back, or take the link away.")
        }
        ErrorKind::NotFound => not_found(path, &names_beside(path)),
        ErrorKind::IsADirectory => is_a_folder(path),
        ErrorKind::PermissionDenied => {
            Problem::stop("file not readable", format!("{} may not be read by this user.", path.display()))
                .in_file(shown(path))
                .fix("Ask for the right to read it, or work on a copy.")
        }
        _ => Problem::stop("file not readable", format!("{} could not be read: {error}.", path.display()))
            .in_file(shown(path)),
    }
}

fn unwritable(path: &Path, error: &io::Error) -> Problem {
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory => missing_folder(path),
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => read_only_folder(path),
        ErrorKind::AlreadyExists => already_there(path),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            Problem::stop("disk full", format!("{} was not written: the disk is full.", path.display()))
                .in_file(shown(path))
                .fix("Free some space, or choose another disk. What stood there before is unchanged.")
        }
        _ => Problem::stop("file not written", format!("{} was not written: {error}.", path.display()))
            .in_file(shown(path))
            .fix("What stood there before is unchanged."),
    }
}

fn names_beside(path: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder_of(path)) else { return Vec::new() };
    let mut names: Vec<String> =
        entries.take(1000).flatten().map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

fn shown(path: &Path) -> String {
    path.display().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_whole() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("bid.xlsx");
        Machine.write_whole(&path, b"first").unwrap();
        Machine.write_whole(&path, b"second").unwrap();
        assert_eq!(Machine.read(&path, 100).unwrap(), b"second");
        let names: Vec<PathBuf> = Machine.list(folder.path()).unwrap().into_iter().map(|e| e.path).collect();
        assert_eq!(names, [path], "no temporary file stays");
    }

    #[test]
    fn parts_that_nobody_writes_are_swept() {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        for name in [".hardlid-left.part", ".hardlid-held.part", ".hardlid-notes", "bid.xlsx"] {
            Machine.write_whole(&path(name), b"half").unwrap();
        }
        let held = fs::File::open(path(".hardlid-held.part")).unwrap();
        held.lock().unwrap();
        Machine.sweep(folder.path());
        let left = Machine.list(folder.path()).unwrap().into_iter().map(|e| e.path).collect::<Vec<_>>();
        assert_eq!(left, [path(".hardlid-held.part"), path(".hardlid-notes"), path("bid.xlsx")]);
    }

    #[test]
    #[cfg(unix)]
    fn a_new_file_can_be_read_by_colleagues() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().unwrap();
        let (ours, plain) = (folder.path().join("ours"), folder.path().join("plain"));
        Machine.write_whole(&ours, b"x").unwrap();
        fs::File::create(&plain).unwrap();
        let mode = |p: &Path| fs::metadata(p).unwrap().permissions().mode();
        assert_eq!(mode(&ours), mode(&plain));
    }

    #[test]
    fn what_hinders_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("rooms.xlsx");
        Machine.write_whole(&path, b"0123456789").unwrap();
        let kind = |result: Result<(), Problem>| result.unwrap_err().kind;
        assert_eq!(kind(Machine.write_whole(&folder.path().join("no/bid.xlsx"), b"")), "missing folder");
        assert_eq!(kind(Machine.write_whole(folder.path(), b"")), "a folder");
        assert_eq!(kind(Machine.read(&path, 9).map(drop)), "file too large");
        assert_eq!(kind(Machine.read(folder.path(), 9).map(drop)), "a folder");
        let missing = Machine.read(&folder.path().join("room.xlsx"), 9).unwrap_err();
        assert_eq!(missing.kind, "file not found");
        assert_eq!(missing.fix.as_deref(), Some("rooms.xlsx stands beside it; check the spelling."));
        let mut permissions = fs::metadata(&path).unwrap().permissions();
        permissions.set_readonly(true);
        fs::set_permissions(&path, permissions).unwrap();
        assert_eq!(kind(Machine.write_whole(&path, b"")), "read-only file");
        assert_eq!(Machine.read(&path, 10).unwrap(), b"0123456789");
    }

    #[test]
    fn the_disk_is_full_in_words() {
        let problem = unwritable(Path::new("bid.xlsx"), &io::Error::from(ErrorKind::StorageFull));
        assert_eq!((problem.kind, problem.what.as_str()), ("disk full", "bid.xlsx was not written: the disk is full."));
    }
}
