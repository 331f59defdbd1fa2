//! The demo workbooks are what their generator makes.
#![allow(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test that cannot go on fails")]

#[path = "demo/made.rs"]
mod made;
#[path = "demo/prices.rs"]
mod prices;
#[path = "demo/rooms.rs"]
mod rooms;
#[path = "demo/sheets.rs"]
mod sheets;

use std::collections::BTreeSet;

#[test]
fn the_workbooks_are_what_the_generator_makes() {
    for (name, made) in made::workbooks() {
        let there = std::fs::read(made::folder().join(name)).unwrap_or_default();
        assert!(there == made, "workbooks/{name} is stale: run `cargo run --example demo`");
    }
}

#[test]
fn the_same_bytes_come_out_each_time() {
    assert!(made::workbooks() == made::workbooks());
}

#[test]
fn the_building_has_forty_rooms_on_four_levels() {
    let levels: BTreeSet<&str> = rooms::ROOMS.iter().map(|r| r.level).collect();
    assert_eq!((rooms::ROOMS.len(), levels.len()), (40, 4));
}
