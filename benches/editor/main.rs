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

use client::Client;
use serde_json::json;
use std::fmt::Write as _;
use std::time::{Duration, Instant};

const FILES: usize = 40;
const FORMULAS: usize = 50;

/// A file of the book: formulas that lean on each other and on those of the files below.
fn book(file: usize) -> String {
    let mut out = if file == 0 {
        "book \"Lowest\"\n\nrows rooms  from \"Rooms\"\n    id      text    heading \"Room\"  key\n    length  length  above 0\n    \
         width   length  above 0\nend\n\n"
            .to_owned()
    } else {
        format!("book \"Layer {file}\"\nuse \"layer-{:02}.lid\"\n\n", file - 1)
    };
    out.push_str("for rooms\n");
    for i in 0..FORMULAS {
        let number = file * FORMULAS + i;
        let before =
            if number < 3 { "length".to_owned() } else { format!("f{}", number - if i % 7 == 0 { 3 } else { 1 }) };
        let (tenths, feet) = (number % 9 + 1, number % 20 + 1);
        let _ = writeln!(
            out,
            "    f{number}  \"Formula {number}\"  =  shorter({before}, length) + width * {tenths} / 10 when length > {feet}', width otherwise"
        );
    }
    out.push_str("end\n");
    if file + 1 == FILES {
        out.push_str(
            "\nexample \"a room\"\n    rooms  id \"1\"  length 10'  width 8'\n    -- 8 ft, and a tenth of it more.\n    shows  f0 = 10.8 ft\nend\n",
        );
    }
    out
}

fn name(file: usize) -> String {
    format!("layer-{file:02}.lid")
}

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
        std::fs::write(folder.path().join(name(file)), book(file)).unwrap();
    }
    println!("{} formulas in {FILES} files, {keys} keystrokes each: median, 95th of 100, longest", FILES * FORMULAS);
    for open in [vec![FILES - 1], vec![0], vec![FILES - 1, 0], vec![FILES - 1, 20]] {
        let mut client = Client::new(env!("CARGO_BIN_EXE_hardlid"), folder.path());
        for file in &open {
            client.open(&name(*file), &book(*file));
        }
        let file = open[open.len() - 1];
        let mut times: Vec<Duration> = (0..keys).map(|key| keystroke(&mut client, file, key)).collect();
        times.sort();
        let ms = |at: usize| times[at].as_secs_f64() * 1000.0;
        let what = if open.len() == 1 { String::new() } else { format!(", with {} open", name(open[0])) };
        println!("{}{what}: {:.1} {:.1} {:.1} ms", name(file), ms(keys / 2), ms(keys * 95 / 100), ms(keys - 1));
        client.end();
    }
}

/// Types a digit behind a figure of the file's last formula, or takes it away again.
fn keystroke(client: &mut Client, file: usize, key: usize) -> Duration {
    let text = book(file);
    let line = text.lines().position(|l| l.contains(&format!("f{} ", file * FORMULAS + FORMULAS - 1))).unwrap();
    let at = text.lines().nth(line).unwrap().find("/ 10").unwrap() + "/ 10".len();
    let range = |from: usize, to: usize| json!({ "start": { "line": line, "character": from }, "end": { "line": line, "character": to } });
    let change = if key.is_multiple_of(2) {
        json!([{ "range": range(at, at), "text": "0" }])
    } else {
        json!([{ "range": range(at, at + 1), "text": "" }])
    };
    let started = Instant::now();
    client.change(&name(file), &change);
    started.elapsed()
}
