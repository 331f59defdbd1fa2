//! Makes the demo workbooks: an invented building, and an invented yard's prices.
//!
//! `cargo run --example demo` writes them into `workbooks/`; the same bytes come out each time, and a test
//! (`tests/demo.rs`) checks that what stands there is what this makes.
#![allow(clippy::unwrap_used, clippy::disallowed_methods, clippy::print_stdout, reason = "a tool, no product")]

mod made;
mod prices;
mod rooms;
mod sheets;

fn main() {
    for (name, bytes) in made::workbooks() {
        let path = made::folder().join(name);
        std::fs::write(&path, bytes).unwrap();
        println!("{}", path.display());
    }
}
