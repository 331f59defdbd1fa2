//! The commands, through the library with a machine in memory, and a few through the built binary.
#![allow(clippy::float_arithmetic, reason = "cells of a workbook are floats")]
#![allow(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test that cannot go on fails")]

mod common;
#[path = "commands/binary.rs"]
mod binary;
#[path = "commands/by_hand.rs"]
mod by_hand;
#[path = "commands/cuts.rs"]
mod cuts;
#[path = "commands/demo.rs"]
mod demo;
#[path = "commands/reprice.rs"]
mod reprice;
#[path = "commands/typed.rs"]
mod typed;
#[path = "commands/plans.rs"]
mod plans;
#[path = "commands/readme.rs"]
mod readme;
#[path = "commands/own.rs"]
mod own;
#[path = "commands/odd_rooms.rs"]
mod odd_rooms;
#[path = "commands/library.rs"]
mod library;
#[path = "commands/divided.rs"]
mod divided;
#[path = "commands/markups.rs"]
mod markups;
#[path = "commands/told.rs"]
mod told;
#[path = "commands/deliveries.rs"]
mod deliveries;
#[path = "commands/labor.rs"]
mod labor;
#[path = "commands/schemes.rs"]
mod schemes;
#[path = "commands/reached.rs"]
mod reached;
#[path = "commands/tidy.rs"]
mod tidy;
#[path = "commands/stock.rs"]
mod stock;
#[path = "commands/why.rs"]
mod why;
#[path = "commands/start.rs"]
mod start;
#[path = "commands/watch.rs"]
mod watch;
#[path = "commands/shell.rs"]
mod shell;
#[path = "commands/hints.rs"]
mod hints;
#[path = "commands/guide.rs"]
mod guide;
#[path = "commands/words.rs"]
mod words;

use calamine::{Data, Range, Reader as _, Xlsx};
use hardlid::command::{Ended, run};
use hardlid::quantity::Date;
use hardlid::system::Memory;
use std::io::Cursor;

const ROOMS: &[u8] = include_bytes!("../workbooks/demo-rooms.xlsx");
const PROBLEMS: &[u8] = include_bytes!("../workbooks/demo-rooms-with-problems.xlsx");
const PRICES: &[u8] = include_bytes!("../workbooks/demo-prices.xlsx");
const RULES: &[u8] = include_bytes!("../workbooks/demo-rules.lid");

/// A machine that holds the demo, on a day.
fn machine_on(year: i16, month: i8, day: i8) -> Memory {
    Memory::new(Date::new(year, month, day).unwrap())
        .with("rooms.xlsx", ROOMS)
        .with("problems.xlsx", PROBLEMS)
        .with("yard.xlsx", PRICES)
        .with("house.lid", RULES)
}

fn machine() -> Memory {
    machine_on(2026, 3, 2)
}

/// Runs a command given as words.
fn hardlid(machine: &Memory, words: &str) -> Ended {
    run(std::iter::once("hardlid").chain(words.split(' ')), machine)
}

/// A sheet of a workbook in memory.
fn sheet(bytes: &[u8], name: &str) -> Range<Data> {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes.to_vec())).unwrap();
    book.worksheet_range(name).unwrap()
}

fn sheet_names(bytes: &[u8]) -> Vec<String> {
    let book: Xlsx<_> = Xlsx::new(Cursor::new(bytes.to_vec())).unwrap();
    book.sheet_names().clone()
}

/// The texts of a sheet, row by row.
fn texts(range: &Range<Data>) -> Vec<String> {
    range.rows().flatten().filter_map(|cell| if let Data::String(t) = cell { Some(t.clone()) } else { None }).collect()
}

/// The headings of Lines; a live total stands above them.
fn heads(lines: &Range<Data>) -> Vec<String> {
    let heading = |row: &&[Data]| row.iter().any(|c| is(c, "Item or work"));
    lines.rows().find(heading).unwrap().iter().map(ToString::to_string).collect()
}

fn says(range: &Range<Data>, part: &str) -> bool {
    texts(range).iter().any(|t| t.contains(part))
}

/// Whether a cell holds a text.
fn is(cell: &Data, text: &str) -> bool {
    matches!(cell, Data::String(t) if t == text)
}

/// The headings of a sheet (the first row that holds the one named) and the rows below them.
fn below_headings<'a>(range: &'a Range<Data>, named: &str) -> (Vec<String>, Vec<&'a [Data]>) {
    let rows: Vec<&[Data]> = range.rows().collect();
    let at = rows.iter().position(|r| r.iter().any(|c| is(c, named))).unwrap_or_else(|| panic!("no heading {named}"));
    (rows[at].iter().map(ToString::to_string).collect(), rows[at + 1..].to_vec())
}
