//! Digests, by which files and books are told apart.

use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;

/// The SHA-256 of bytes, in hex.
#[must_use]
pub fn digest(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

/// A SHA-256 in the making, of what hashes itself. Whole numbers go in as this machine holds them, so it tells things
/// apart on machines of one kind.
#[derive(Clone, Debug, Default)]
pub struct Digest(Sha256);

impl Digest {
    /// The digest in hex.
    #[must_use]
    pub fn hex(self) -> String {
        hex(&self.0.finalize())
    }
}

impl std::hash::Hasher for Digest {
    fn write(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    /// Not what this hasher is for: its first eight bytes.
    fn finish(&self) -> u64 {
        self.0.clone().finalize().first_chunk().map_or(0, |first| u64::from_be_bytes(*first))
    }
}

fn hex(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(2 * bytes.len());
    for byte in bytes {
        let _ = write!(out, "{byte:02x}");
    }
    out
}

#[cfg(test)]
mod tests {
    use super::digest;

    /// The one-block message of FIPS 180-2, appendix B.1.
    #[test]
    fn the_published_message_has_its_published_digest() {
        assert_eq!(digest(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
