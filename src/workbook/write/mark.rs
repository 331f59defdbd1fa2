//! The mark in each workbook that we write. A file without it is somebody else's, and is not replaced unasked.

use std::io::{Cursor, Read as _};

/// Name of the document property that marks our workbooks.
pub const MARK: &str = "hardlid.workbook";
/// Its value: the edition of the workbook's layout.
pub const EDITION: i32 = 1;

/// Most bytes of document properties that are looked at.
const PROPERTIES_LIMIT: u64 = 1 << 20;

/// Whether a file is a workbook that we wrote.
#[must_use]
pub fn written_by_us(bytes: &[u8]) -> bool {
    let Ok(mut archive) = zip::ZipArchive::new(Cursor::new(bytes)) else { return false };
    let Ok(part) = archive.by_name("docProps/custom.xml") else { return false };
    let mut text = String::new();
    if part.take(PROPERTIES_LIMIT).read_to_string(&mut text).is_err() {
        return false;
    }
    text.contains(&format!("name=\"{MARK}\""))
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
