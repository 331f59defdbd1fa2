//! A folder of many bids that takes no more memory than the few kinds of them: what is read is one of these, and what is
//! written is let go, as what the bare crates write is.

use hardlid::problem::Problem;
use hardlid::quantity::Date;
use hardlid::system::{Entry, Memory, Outside};
use std::path::{Path, PathBuf};

pub struct Drawer<'k> {
    /// Files that hold nothing, by whose names bids are found.
    names: Memory,
    kinds: &'k [Vec<u8>],
}

impl<'k> Drawer<'k> {
    pub fn new(today: Date, files: usize, kinds: &'k [Vec<u8>]) -> Self {
        let names = (0..files).fold(Memory::new(today), |names, n| names.with(format!("bids/{n:04}.xlsx"), ""));
        Self { names, kinds }
    }

    /// How many files there are.
    pub fn files(&self) -> usize {
        self.names.names().len()
    }
}

impl Outside for Drawer<'_> {
    fn read(&self, path: &Path, limit: u64) -> Result<Vec<u8>, Problem> {
        let number = path.file_stem().and_then(|stem| stem.to_str()?.parse::<usize>().ok());
        match number.filter(|_| self.names.exists(path)) {
            Some(n) => Ok(self.kinds[n % self.kinds.len()].clone()),
            None => self.names.read(path, limit),
        }
    }

    fn read_input(&self, limit: u64) -> Result<Vec<u8>, Problem> {
        self.names.read_input(limit)
    }

    fn write_whole(&self, path: &Path, _: &[u8]) -> Result<(), Problem> {
        self.names.write_whole(path, &[])
    }

    fn write_new(&self, path: &Path, _: &[u8]) -> Result<(), Problem> {
        self.names.write_new(path, &[])
    }

    fn real(&self, path: &Path) -> PathBuf {
        self.names.real(path)
    }

    fn exists(&self, path: &Path) -> bool {
        self.names.exists(path)
    }

    fn same_file(&self, a: &Path, b: &Path) -> bool {
        self.names.same_file(a, b)
    }

    fn is_folder(&self, path: &Path) -> bool {
        self.names.is_folder(path)
    }

    fn list(&self, path: &Path) -> Result<Vec<Entry>, Problem> {
        self.names.list(path)
    }

    fn make_folder(&self, path: &Path) -> Result<(), Problem> {
        self.names.make_folder(path)
    }

    fn sweep(&self, folder: &Path) {
        self.names.sweep(folder);
    }

    fn wait(&self) -> bool {
        self.names.wait()
    }

    fn today(&self) -> Date {
        self.names.today()
    }
}
