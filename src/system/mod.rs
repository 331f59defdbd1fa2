//! The only room that touches files, the clock and the environment.
//!
//! Commands see the outside through [`Outside`]; tests hand them [`Memory`] instead of [`Machine`].

pub mod clock;
pub mod files;
pub mod memory;

use crate::problem::Problem;
use crate::quantity::Date;
use std::path::{Path, PathBuf};

pub use files::Machine;
pub use memory::Memory;

/// Largest input file that is read, in bytes. The largest rooms workbook a spreadsheet holds is far below it.
pub const INPUT_LIMIT: u64 = 512 * 1024 * 1024;

/// What standard input is called where a file's name is asked for or told.
pub const STANDARD_INPUT: &str = "-";

/// What an entry of a folder is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Entry {
    /// Its full path.
    pub path: PathBuf,
    /// Whether it is a folder, or a link to one.
    pub folder: bool,
    /// Whether it is a link to something elsewhere.
    pub link: bool,
}

/// Files and the date, as commands see them.
pub trait Outside: Sync {
    /// The whole file.
    ///
    /// # Errors
    /// A missing or unreadable file, a folder, a file of more than `limit` bytes.
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Problem>;

    /// All of standard input.
    ///
    /// # Errors
    /// What cannot be read; more than `limit` bytes.
    fn read_input(&self, limit: u64) -> Result<Vec<u8>, Problem>;

    /// Writes a file whole or not at all: a reader sees the old bytes or the new ones, never a part.
    ///
    /// # Errors
    /// A missing or read-only folder, a read-only file, a full disk.
    fn write_whole(&self, path: &Path, bytes: &[u8]) -> Result<(), Problem>;

    /// Writes a file that is not there yet, whole or not at all; one that came meanwhile stays.
    ///
    /// # Errors
    /// As [`Outside::write_whole`]; a file of that name.
    fn write_new(&self, path: &Path, bytes: &[u8]) -> Result<(), Problem>;

    /// The one path of a file or folder, whatever way it is written; as it is written where nothing is there.
    fn real(&self, path: &Path) -> PathBuf;

    /// Whether a file or folder of that name exists.
    fn exists(&self, path: &Path) -> bool;

    /// Whether two paths lead to one file that exists, whatever way they are written.
    fn same_file(&self, a: &Path, b: &Path) -> bool;

    /// Whether it is a folder.
    fn is_folder(&self, path: &Path) -> bool;

    /// What a folder holds, in order of name.
    ///
    /// # Errors
    /// A missing or unreadable folder.
    fn list(&self, path: &Path) -> Result<Vec<Entry>, Problem>;

    /// Makes a folder and those above it; a folder that exists is in order.
    ///
    /// # Errors
    /// A folder that cannot be made.
    fn make_folder(&self, path: &Path) -> Result<(), Problem>;

    /// Takes away the parts of files that a run left in a folder when it was killed; what another run is just writing
    /// stays. What cannot be taken away does no harm and is not told.
    fn sweep(&self, folder: &Path);

    /// Lets half a second pass; whether there is anything more to wait for.
    fn wait(&self) -> bool;

    /// Today's date where the user is.
    fn today(&self) -> Date;
}
