//! Digests, by which files and books are told apart.

use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;

/// The SHA-256 of bytes, in hex.
#[must_use]
pub fn digest(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(64);
    for byte in Sha256::digest(bytes) {
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
