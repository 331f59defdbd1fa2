//! Makes the demo workbooks: an invented building, and an invented yard's prices.
//!
//! `cargo run --example demo` writes them into `workbooks/`; the same bytes come out each time. As a test, this file
//! checks that what stands in `workbooks/` is what it makes.
#![allow(
    clippy::unwrap_used,
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a tool and a test, no product"
)]

mod prices;
mod rooms;
mod sheets;

use std::path::{Path, PathBuf};

/// Every workbook of the demo, by name.
fn workbooks() -> [(&'static str, Vec<u8>); 3] {
    [
        ("demo-rooms.xlsx", rooms::workbook(false)),
        ("demo-rooms-with-problems.xlsx", rooms::workbook(true)),
        ("demo-prices.xlsx", prices::workbook()),
    ]
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("workbooks")
}

fn main() {
    for (name, bytes) in workbooks() {
        let path = folder().join(name);
        std::fs::write(&path, bytes).unwrap();
        println!("{}", path.display());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_workbooks_are_what_the_generator_makes() {
        for (name, made) in workbooks() {
            let there = std::fs::read(folder().join(name)).unwrap_or_default();
            assert!(there == made, "workbooks/{name} is stale: run `cargo run --example demo`");
        }
    }

    #[test]
    fn the_same_bytes_come_out_each_time() {
        assert!(workbooks() == workbooks());
    }

    #[test]
    fn the_building_has_forty_rooms_on_four_levels() {
        let levels: std::collections::BTreeSet<&str> = rooms::ROOMS.iter().map(|r| r.level).collect();
        assert_eq!((rooms::ROOMS.len(), levels.len()), (40, 4));
    }
}
