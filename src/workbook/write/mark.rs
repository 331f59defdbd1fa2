//! The mark in each workbook that we write. A file without it is somebody else's, and is not replaced unasked.

use std::io::{Cursor, Read as _};

/// Name of the document property that marks our workbooks.
pub const MARK: &str = "hardlid.workbook";
/// Its value: the edition of the workbook's layout.
pub const EDITION: i32 = 1;

/// Most bytes of document properties that are looked at.
const PROPERTIES_LIMIT: u64 = 1 << 20;

/// Name of the document property that holds the name of the rooms file.
pub const ROOMS: &str = "hardlid.rooms";

fn properties(bytes: &[u8]) -> Option<String> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).ok()?;
    let part = archive.by_name("docProps/custom.xml").ok()?;
    let mut text = String::new();
    part.take(PROPERTIES_LIMIT).read_to_string(&mut text).ok()?;
    Some(text)
}

/// Whether a file is a workbook that we wrote.
#[must_use]
pub fn written_by_us(bytes: &[u8]) -> bool {
    properties(bytes).is_some_and(|text| text.contains(&format!("name=\"{MARK}\"")))
}

/// The rooms file that a workbook of ours was written for, where it says so.
#[must_use]
pub fn rooms_file(bytes: &[u8]) -> Option<String> {
    let text = properties(bytes)?;
    let (_, after) = text.split_once(&format!("name=\"{ROOMS}\""))?;
    let (_, value) = after.split_once("<vt:lpwstr>")?;
    Some(crate::workbook::open::unescape(value.split_once("</vt:lpwstr>")?.0))
}

/// A file's name as the property holds it, which has room for 255 letters.
#[must_use]
pub fn rooms_property(name: &str) -> String {
    name.chars().filter(|c| !c.is_control()).take(255).collect()
}

#[cfg(test)]
mod tests {
    use super::written_by_us;

    #[test]
    fn other_files_are_not_ours() {
        assert!(!written_by_us(b""));
        assert!(!written_by_us(b"PK\x03\x04 cut short"));
        let mut other = rust_xlsxwriter::Workbook::new();
        other.add_worksheet();
        assert!(!written_by_us(&other.save_to_buffer().unwrap()));
    }
}
