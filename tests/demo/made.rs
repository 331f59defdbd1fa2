//! What the demo is made of.

use super::{prices, rooms};
use std::path::{Path, PathBuf};

/// Every workbook of the demo, by name.
pub fn workbooks() -> [(&'static str, Vec<u8>); 3] {
    [
        ("demo-rooms.xlsx", rooms::workbook(false)),
        ("demo-rooms-with-problems.xlsx", rooms::workbook(true)),
        ("demo-prices.xlsx", prices::workbook()),
    ]
}

/// Where they stand.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("workbooks")
}
