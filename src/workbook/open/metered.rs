//! The bytes of a file, with a limit on how many are taken between two rows.
//!
//! A worksheet may unpack to gigabytes, a row at a time. What is taken from the file between two rows bounds what can
//! come of it, and so the memory that a row without end can fill.

use std::io::{Cursor, Error, Read, Result, Seek, SeekFrom};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Bytes of the file that one row may take: the longest row that a sheet can have, with room to spare.
const FOR_A_ROW: usize = 512 << 10;

/// How many bytes may still be taken; the parts that are read before any sheet were looked at by their size.
#[derive(Clone, Debug)]
pub(super) struct Quota(Arc<AtomicUsize>);

impl Default for Quota {
    fn default() -> Self {
        Self(Arc::new(AtomicUsize::new(usize::MAX)))
    }
}

impl Quota {
    /// Before each row.
    pub(super) fn renew(&self) {
        self.0.store(FOR_A_ROW, Ordering::Relaxed);
    }

    /// After the last row.
    pub(super) fn lift(&self) {
        self.0.store(usize::MAX, Ordering::Relaxed);
    }
}

/// A file in memory.
#[derive(Clone, Debug)]
pub(super) struct Metered {
    bytes: Cursor<Arc<[u8]>>,
    quota: Quota,
}

impl Metered {
    pub(super) fn new(bytes: Arc<[u8]>, quota: Quota) -> Self {
        Self { bytes: Cursor::new(bytes), quota }
    }
}

impl Read for Metered {
    fn read(&mut self, buffer: &mut [u8]) -> Result<usize> {
        let read = self.bytes.read(buffer)?;
        let left = self.quota.0.load(Ordering::Relaxed);
        if read > left {
            return Err(Error::other("a row has no end"));
        }
        if left != usize::MAX {
            self.quota.0.store(left - read, Ordering::Relaxed);
        }
        Ok(read)
    }
}

impl Seek for Metered {
    fn seek(&mut self, to: SeekFrom) -> Result<u64> {
        self.bytes.seek(to)
    }
}
