//! Plans that were painted before: a picture says what it was painted from, so that it need not be painted again.

use super::{Facts, PlanOf};
use crate::source::digest::Digest;
use rustc_hash::FxHashMap;
use std::hash::Hash as _;
use std::sync::Arc;

/// Raised whenever a plan of the same room is drawn otherwise.
const EDITION: u32 = 1;

/// The word in a picture that stands before what it was painted from.
pub(super) const KEYWORD: &str = "Plan";

/// How each PNG file begins.
const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";

/// What a picture of a plan is painted from, in hex.
#[must_use]
pub fn key(of: &PlanOf<'_>) -> String {
    // every fact by its name, so that a new one cannot be forgotten here
    let Facts { room, job, scheme, tees, spacing, tab_pitch, joints, as_of: _ } = of.facts;
    let mut digest = Digest::default();
    (EDITION, env!("CARGO_PKG_VERSION")).hash(&mut digest);
    (of.room, of.layout).hash(&mut digest);
    (room, job, scheme, tees, spacing, tab_pitch, joints).hash(&mut digest);
    digest.hex()
}

/// Pictures by what they were painted from.
#[derive(Clone, Debug, Default)]
pub struct Painted(FxHashMap<String, Arc<[u8]>>);

impl Painted {
    /// Takes a picture in, if it is one of ours.
    pub fn take(&mut self, png: Vec<u8>) {
        if let Some(key) = key_in(&png) {
            self.0.insert(key.to_owned(), png.into());
        }
    }

    /// The picture that is painted from this.
    #[must_use]
    pub fn of(&self, key: &str) -> Option<&Arc<[u8]>> {
        self.0.get(key)
    }
}

/// What a picture says that it was painted from.
fn key_in(png: &[u8]) -> Option<&str> {
    let mut rest = png.strip_prefix(SIGNATURE)?;
    // a chunk is its length, its kind, its bytes and a check of four bytes (ISO/IEC 15948, 5.3)
    loop {
        let (length, after) = rest.split_first_chunk::<4>()?;
        let (kind, after) = after.split_first_chunk::<4>()?;
        let (held, after) = after.split_at_checked(usize::try_from(u32::from_be_bytes(*length)).ok()?)?;
        match kind {
            b"tEXt" => {
                let text = std::str::from_utf8(held).ok()?;
                if let Some((KEYWORD, key)) = text.split_once('\0') {
                    return Some(key);
                }
            }
            // the picture itself begins; what it says of itself stands before
            b"IDAT" => return None,
            _ => {}
        }
        rest = after.get(4..)?;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_pictures_say_nothing() {
        for png in [&b""[..], b"GIF89a", SIGNATURE, b"\x89PNG\r\n\x1a\n\xff\xff\xff\xfftEXt"] {
            assert_eq!(key_in(png), None);
        }
    }
}
