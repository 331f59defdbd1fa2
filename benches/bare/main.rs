//! What hardlid costs beside the same work done bare: each part with both sides in one run, as ratios.
//!
//! `cargo bench --bench bare -- [read] [evaluate] [write] [price] [ceilings] [small] [layout] [plans] [cut] [live] [bulk] [bulk-ceilings] [books] [--rooms 100000] [--runs 5] [--files 1000]`
//!
//! Nothing passes or fails here. Wall time is what a user waits; processor time is what does not change when other
//! programs share the cores. `make FOLDER` puts the workbooks and books into a folder, for measuring the command.
#![allow(clippy::disallowed_methods, reason = "a measuring tool, no product")]
#![allow(clippy::print_stdout, reason = "a bench prints its figures")]
#![allow(clippy::float_arithmetic, reason = "ratios of times")]

mod books;
mod bulk;
mod cells;
mod cut;
mod drawer;
mod hand;
#[path = "../house/mod.rs"]
mod house;
mod laid;
mod live;
mod made;
mod plans;
mod small;
mod timed;

use hardlid::command;
use hardlid::engine::{Engine, Inputs};
use hardlid::program::{Program, compile, library};
use hardlid::quantity::{Date, Number, Ratio};
use hardlid::source::Text;
use hardlid::system::Memory;
use hardlid::workbook::open::open;
use hardlid::workbook::rows::read_rooms;
use std::error::Error;
use std::hint::black_box;
use timed::{Side, against, clocked};

type Result<T> = std::result::Result<T, Box<dyn Error>>;

fn main() -> Result<()> {
    let mut arguments = std::env::args().skip(1).filter(|a| a != "--bench");
    let (mut rooms, mut runs, mut files, mut parts, mut folder) = (100_000, 5, 1000, Vec::new(), None);
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--rooms" => rooms = arguments.next().ok_or("how many rooms")?.parse()?,
            "--runs" => runs = arguments.next().ok_or("how many runs")?.parse()?,
            "--files" => files = arguments.next().ok_or("how many workbooks")?.parse()?,
            "make" => folder = Some(arguments.next().ok_or("which folder")?),
            _ => parts.push(argument),
        }
    }
    let asked = |part: &str| parts.is_empty() || parts.iter().any(|p| p == part);
    let rows = made::rooms(rooms);
    let bytes = made::workbook(&rows)?;
    if let Some(folder) = folder {
        let folder = std::path::Path::new(&folder);
        std::fs::write(folder.join("rooms.xlsx"), &bytes)?;
        std::fs::write(folder.join("ceilings.xlsx"), made::ceilings(&rows, rows.len())?)?;
        std::fs::write(folder.join("twenty.lid"), made::TWENTY)?;
        std::fs::write(folder.join("priced.lid"), made::TWENTY.to_owned() + made::ITEMS)?;
        std::fs::write(folder.join("yard.xlsx"), made::prices()?)?;
        return Ok(());
    }
    println!("{rooms} rooms, median of {runs} runs: wall s, processor s");
    if asked("read") {
        read(&bytes, runs)?;
    }
    if asked("evaluate") {
        evaluate(&rows, &bytes, runs)?;
    }
    if asked("write") || asked("price") {
        let items = made::TWENTY.to_owned() + made::ITEMS;
        price("20 formulas", &bytes, Some(made::TWENTY), None, runs)?;
        price("20 formulas, 4 items", &bytes, Some(&items), Some(made::prices()?), runs)?;
    }
    if asked("ceilings") {
        let prices = include_bytes!("../../workbooks/demo-prices.xlsx");
        for (what, kinds) in [("rooms of 300 kinds", 300), ("no two rooms alike", rows.len())] {
            let what = format!("built-in ceilings, {what}");
            price(&what, &made::ceilings(&rows, kinds)?, None, Some(prices.to_vec()), runs)?;
        }
    }
    if asked("bulk") {
        bulk::run(files, 200, runs)?;
    }
    if asked("bulk-ceilings") {
        bulk::run_ceilings(files, 200, runs)?;
    }
    if asked("cut") {
        cut::run(runs)?;
    }
    if asked("books") {
        books::run(runs)?;
    }
    if asked("live") {
        live::run(rooms.min(20_000), runs)?;
    }
    if asked("small") {
        small::run(runs)?;
    }
    if asked("layout") {
        laid::run(runs)?;
    }
    if asked("plans") {
        plans::run(runs)?;
    }
    println!("peak memory of the bench itself: {}", timed::peak());
    Ok(())
}

fn program(text: &str) -> Result<Program> {
    let (layers, problems) = library::with_layers(&Text::new("bench.lid", text), "bench.lid");
    if let Some(problem) = problems.first() {
        return Err(problem.what.clone().into());
    }
    let (program, _) =
        compile(layers, None, hardlid::natives()).map_err(|p| p.first().map_or(String::new(), |p| p.what.clone()))?;
    Ok(program)
}

fn inputs(program: &Program, bytes: &[u8]) -> Result<Inputs> {
    let mut book = open("rooms.xlsx", bytes.to_vec()).map_err(|p| p.what)?;
    let inputs = read_rooms(&mut book, &program.schema, program.texts.clone())
        .map_err(|p| p.first().map_or(String::new(), |p| p.what.clone()))?;
    match inputs.problems.first() {
        Some(problem) => Err(problem.problem.what.clone().into()),
        None => Ok(inputs),
    }
}

/// Typed columns out of a workbook, beside calamine handing out each cell.
fn read(bytes: &[u8], runs: usize) -> Result<()> {
    let program = program(made::TWENTY)?;
    let bare = Side::new("calamine, cells reader", || Ok(black_box(cells::read(bytes)?) as u64));
    let ours = Side::new("read into columns", || Ok(black_box(inputs(&program, bytes)?).tables[1].rows as u64));
    against("reading", bare, vec![ours], runs)
}

/// Twenty formulas over columns, beside the same by hand.
fn evaluate(rows: &[made::Room], bytes: &[u8], runs: usize) -> Result<()> {
    let program = program(made::TWENTY)?;
    let read = inputs(&program, bytes)?;
    let hand = hand::Hand::new();
    let by_hand = || rows.iter().map(|r| hand.room(r)).collect::<Option<Vec<_>>>().ok_or("a room without results");
    same(&program, read.clone(), &by_hand()?)?;
    let bare = Side::timed("by hand, rust_decimal, one thread", || {
        let ((), spent) = clocked(|| drop(black_box(by_hand())));
        Ok(spent)
    });
    let on = |threads: usize| -> Result<_> {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build()?;
        let (program, read) = (&program, &read);
        Ok(Side::timed(format!("hardlid, {threads} of rayon's threads"), move || {
            let mut inputs = read.clone();
            let mut engine = None;
            let ((), spent) = clocked(|| {
                let mut e = Engine::start(program, &mut inputs);
                pool.install(|| e.before_pricing());
                engine = Some(e);
            });
            black_box(engine);
            Ok(spent)
        }))
    };
    against("20 formulas a room", bare, vec![on(1)?, on(2)?], runs)
}

/// Both sides give the same figures.
fn same(program: &Program, mut read: Inputs, by_hand: &[[rust_decimal::Decimal; 20]]) -> Result<()> {
    let mut engine = Engine::start(program, &mut read);
    engine.before_pricing();
    let schema = &program.schema;
    let kind = schema.kinds.iter().position(|k| k.name == "rooms").ok_or("no rooms")?;
    let kind = hardlid::program::KindId(u32::try_from(kind)?);
    for (column, (name, unit)) in hand::RESULTS.iter().enumerate() {
        let field = schema.field_named(kind, name).ok_or("a formula is missing")?;
        let factor = match unit {
            hand::Unit::Inches => Ratio::new(254, 10),
            hand::Unit::SquareInches => Ratio::new(64_516, 100),
            hand::Unit::Plain => Ratio::from(1),
        };
        for (row, results) in by_hand.iter().enumerate() {
            let ours = engine.run().number(schema, field, row).map_err(|_| "a fault")?;
            let theirs = Number::from(results[column]).scaled(factor).map_err(|_| "a number too large")?;
            // a quotient that does not end is exact with us and cut after 28 digits by hand
            if ours != theirs && ours.to_decimal().round_dp(12) != theirs.to_decimal().round_dp(12) {
                return Err(format!("{name}, row {row}: {} is not {}", ours.to_decimal(), theirs.to_decimal()).into());
            }
        }
    }
    Ok(())
}

/// The whole command over files in memory, beside reading the same input and writing the same output bare. Without a
/// book the built-in ceilings serve.
fn price(what: &str, bytes: &[u8], book: Option<&str>, prices: Option<Vec<u8>>, runs: usize) -> Result<()> {
    let outside = || {
        let files = Memory::new(Date::constant(2026, 3, 1)).with("rooms.xlsx", bytes);
        let files = if let Some(book) = book { files.with("book.lid", book) } else { files };
        if let Some(prices) = &prices { files.with("yard.xlsx", prices.as_slice()) } else { files }
    };
    let run = |outside: &Memory| {
        let mut arguments = vec!["hardlid", "price", "rooms.xlsx", "-o", "out.xlsx"];
        if book.is_some() {
            arguments.extend(["--rules", "book.lid"]);
        }
        if prices.is_some() {
            arguments.extend(["--prices", "yard.xlsx"]);
        }
        command::run(arguments, outside)
    };
    let first = outside();
    run(&first);
    let written = first.bytes("out.xlsx").ok_or("nothing was written")?;
    let size = written.len();
    let sheets = cells::of(written)?;
    println!("\n{what}: {} cells written, {} KB", cells::count(&sheets), size / 1024);
    let bare_write = Side::new("rust_xlsxwriter, level 2", || Ok(black_box(cells::write(&sheets)?).len() as u64));
    let bare = Side::new("calamine, then rust_xlsxwriter", || {
        black_box(cells::read(bytes)?);
        Ok(black_box(cells::write(&sheets)?).len() as u64)
    });
    let ours = Side::timed("hardlid price", || {
        let outside = outside();
        let (_, spent) = clocked(|| run(&outside));
        Ok(spent)
    });
    against(&format!("price, {what}"), bare, vec![ours, bare_write], runs)
}
