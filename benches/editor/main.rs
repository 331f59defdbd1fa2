//! How long an editor waits for what a keystroke does: a book of 2,000 formulas in 40 files, over pipes.
//!
//! `cargo bench --bench editor -- [--keys 200]`
//!
//! Nothing passes or fails here. A keystroke goes into the uppermost file, one in the middle and the lowest; what is measured
//! is the time until the problems of that file are shown.
#![allow(clippy::float_arithmetic, reason = "timings are floats")]
#![allow(clippy::disallowed_methods, clippy::unwrap_used, reason = "a measuring tool, no product")]
#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(dead_code, reason = "the tests use more of the client")]

#[path = "../../tests/editor/client.rs"]
mod client;
#[path = "../house/mod.rs"]
mod house;

use client::Client;
use serde_json::json;
use std::time::{Duration, Instant};

const FILES: usize = house::OF_2000;

fn main() {
    let mut arguments = std::env::args().skip(1).filter(|a| a != "--bench");
    let mut keys = 200;
    while let Some(argument) = arguments.next() {
        if argument == "--keys" {
            keys = arguments.next().unwrap().parse().unwrap();
        }
    }
    let folder = tempfile::tempdir().unwrap();
    for file in 0..FILES {
        std::fs::write(folder.path().join(house::name(file)), house::book(file)).unwrap();
    }
    println!(
        "{} formulas in {FILES} files, {keys} keystrokes each: median, 95th of 100, longest",
        FILES * house::FORMULAS
    );
    for open in [vec![FILES - 1], vec![0], vec![FILES - 1, 0], vec![FILES - 1, 20]] {
        let mut client = Client::new(env!("CARGO_BIN_EXE_hardlid"), folder.path());
        for file in &open {
            client.open(&house::name(*file), &house::book(*file));
        }
        let file = open[open.len() - 1];
        let mut times: Vec<Duration> = (0..keys).map(|key| keystroke(&mut client, file, key)).collect();
        times.sort();
        let ms = |at: usize| times[at].as_secs_f64() * 1000.0;
        let what = if open.len() == 1 { String::new() } else { format!(", with {} open", house::name(open[0])) };
        println!("{}{what}: {:.1} {:.1} {:.1} ms", house::name(file), ms(keys / 2), ms(keys * 95 / 100), ms(keys - 1));
        client.end();
    }
}

/// Types a digit behind a figure of a formula that stands on many, or takes it away again.
fn keystroke(client: &mut Client, file: usize, key: usize) -> Duration {
    let text = house::book(file);
    let line = text.lines().position(|l| l.contains(&format!(" rest_{file}_5 "))).unwrap();
    let at = text.lines().nth(line).unwrap().find("stock: 12").unwrap() + "stock: 12".len();
    let range = |from: usize, to: usize| json!({ "start": { "line": line, "character": from }, "end": { "line": line, "character": to } });
    let change = if key.is_multiple_of(2) {
        json!([{ "range": range(at, at), "text": "0" }])
    } else {
        json!([{ "range": range(at, at + 1), "text": "" }])
    };
    let started = Instant::now();
    client.change(&house::name(file), &change);
    started.elapsed()
}
