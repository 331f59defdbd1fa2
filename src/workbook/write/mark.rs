//! The mark in each workbook that we write. A file without it is somebody else's, and is not replaced unasked.

use super::long::options;
use crate::source::digest::digest;
use rust_xlsxwriter::XlsxError;
use std::fmt::Write as _;
use std::io::{Cursor, Read, Seek, Write as _};
use zip::{ZipArchive, ZipWriter};

/// Name of the document property that marks our workbooks.
pub const MARK: &str = "hardlid.workbook";
/// Its value: the edition of the workbook's layout.
pub const EDITION: i32 = 1;

/// Most bytes of document properties that are looked at.
const PROPERTIES_LIMIT: u64 = 1 << 20;

/// Name of the document property that holds the name of the rooms file.
pub const ROOMS: &str = "hardlid.rooms";

/// Name of the document property that holds the seal.
pub const SEAL: &str = "hardlid.seal";
/// What stands there until the other parts are known.
pub const UNSEALED: &str = "0000000000000000000000000000000000000000000000000000000000000000";

/// The part that holds the properties.
const PROPERTIES: &str = "docProps/custom.xml";

/// A digest of all parts but the properties, by what the file's directory says of them.
fn seal_of<R: Read + Seek>(archive: &mut ZipArchive<R>) -> Option<String> {
    let mut all = String::new();
    for at in 0..archive.len() {
        let part = archive.by_index_raw(at).ok()?;
        let name = part.name().ok()?;
        if name != PROPERTIES {
            let _ = writeln!(all, "{name} {:08x} {}", part.crc32(), part.size());
        }
    }
    Some(digest(all.as_bytes()))
}

/// Puts the seal in: a workbook that still has it is as it was written.
pub(super) fn sealed(package: Vec<u8>) -> Result<Vec<u8>, XlsxError> {
    let size = package.len();
    let mut from = ZipArchive::new(Cursor::new(package))?;
    let Some(seal) = seal_of(&mut from) else { return Ok(from.into_inner().into_inner()) };
    let mut to = ZipWriter::new(Cursor::new(Vec::with_capacity(size + 256)));
    for at in 0..from.len() {
        let part = from.by_index_raw(at)?;
        if part.name()? != PROPERTIES {
            to.raw_copy_file(part)?;
            continue;
        }
        drop(part);
        let mut text = String::new();
        from.by_index(at)?.read_to_string(&mut text)?;
        to.start_file(PROPERTIES, options())?;
        to.write_all(text.replacen(UNSEALED, &seal, 1).as_bytes())?;
    }
    Ok(to.finish()?.into_inner())
}

/// Whether a workbook of ours is as it was written: nobody has saved it since.
#[must_use]
pub fn untouched(bytes: &[u8]) -> bool {
    let seal = ZipArchive::new(Cursor::new(bytes)).ok().and_then(|mut a| seal_of(&mut a));
    seal.is_some_and(|seal| property(bytes, SEAL).is_some_and(|written| written == seal))
}

/// The text of a property.
fn property(bytes: &[u8], name: &str) -> Option<String> {
    let text = properties(bytes)?;
    let (_, after) = text.split_once(&format!("name=\"{name}\""))?;
    let (_, value) = after.split_once("<vt:lpwstr>")?;
    Some(crate::workbook::open::unescape(value.split_once("</vt:lpwstr>")?.0))
}

fn properties(bytes: &[u8]) -> Option<String> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).ok()?;
    let part = archive.by_name(PROPERTIES).ok()?;
    let mut text = String::new();
    part.take(PROPERTIES_LIMIT).read_to_string(&mut text).ok()?;
    Some(text)
}

/// Whether a file is a priced workbook that we wrote.
#[must_use]
pub fn written_by_us(bytes: &[u8]) -> bool {
    has_property(bytes, MARK)
}

/// Whether a file is laid out as workbooks are: a zip archive with a directory.
#[must_use]
pub fn is_package(bytes: &[u8]) -> bool {
    ZipArchive::new(Cursor::new(bytes)).is_ok()
}

/// Whether a workbook has a property.
pub(super) fn has_property(bytes: &[u8], name: &str) -> bool {
    properties(bytes).is_some_and(|text| text.contains(&format!("name=\"{name}\"")))
}

/// The rooms file that a workbook of ours was written for, where it says so.
#[must_use]
pub fn rooms_file(bytes: &[u8]) -> Option<String> {
    property(bytes, ROOMS)
}

/// A file's name as the property holds it, which has room for 255 letters.
#[must_use]
pub fn rooms_property(name: &str) -> String {
    super::printable(name).take(255).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seal_holds_until_a_part_changes() {
        let mut book = rust_xlsxwriter::Workbook::new();
        let properties = rust_xlsxwriter::DocProperties::new().set_custom_property(super::SEAL, super::UNSEALED);
        book.set_properties(&properties);
        book.add_worksheet().write_string(0, 0, "as written").unwrap();
        let package = book.save_to_buffer().unwrap();
        assert!(!untouched(&package));
        let sealed = sealed(package).unwrap();
        assert!(untouched(&sealed));
        // the same parts with one of them changed
        let mut from = ZipArchive::new(Cursor::new(&sealed[..])).unwrap();
        let mut to = ZipWriter::new(Cursor::new(Vec::new()));
        for at in 0..from.len() {
            let mut part = from.by_index(at).unwrap();
            let name = part.name().unwrap().into_owned();
            let mut text = String::new();
            part.read_to_string(&mut text).unwrap();
            to.start_file(&*name, options()).unwrap();
            to.write_all(text.replace("as written", "As written").as_bytes()).unwrap();
        }
        assert!(!untouched(&to.finish().unwrap().into_inner()));
    }

    #[test]
    fn other_files_are_not_ours() {
        assert!(!written_by_us(b""));
        assert!(!written_by_us(b"PK\x03\x04 cut short"));
        let mut other = rust_xlsxwriter::Workbook::new();
        other.add_worksheet();
        assert!(!written_by_us(&other.save_to_buffer().unwrap()));
    }
}
