//! Many bids priced again, beside reading and writing the same workbooks, with their pictures, bare on as many cores.

use crate::drawer::Drawer;
use crate::timed::{Side, against, clocked};
use crate::{Result, cells, made, timed};
use hardlid::command;
use hardlid::quantity::Date;
use hardlid::reprice::{Asked, By, families, reprice};
use hardlid::system::Memory;
use hardlid::workbook::carried::File;
use rayon::prelude::*;
use std::hint::black_box;
use std::path::PathBuf;

/// Different bids; the others are copies of these.
const KINDS: usize = 8;

/// So many workbooks of so many rooms, in the small book of the bench and in the built-in one.
pub fn run(files: usize, rooms: usize, runs: usize) -> Result<()> {
    let small = made::TWENTY.to_owned() + made::ITEMS;
    bulk("20 formulas, 4 items", Some(&small), &made::prices()?, (files, rooms), runs)
}

/// The same in the built-in book, all rooms different.
pub fn run_ceilings(files: usize, rooms: usize, runs: usize) -> Result<()> {
    let demo = include_bytes!("../../workbooks/demo-prices.xlsx").to_vec();
    bulk("built-in ceilings", None, &demo, (files, rooms), runs)
}

fn bulk(what: &str, book: Option<&str>, prices: &[u8], (files, rooms): (usize, usize), runs: usize) -> Result<()> {
    let all = made::rooms(rooms * KINDS);
    let mut priced = Vec::new();
    for rows in all.chunks(rooms) {
        let bytes = if book.is_some() { made::workbook(rows)? } else { made::ceilings(rows, rows.len())? };
        let machine = Memory::new(Date::constant(2026, 3, 1)).with("r.xlsx", bytes).with("y.xlsx", prices);
        let machine = if let Some(book) = book { machine.with("b.lid", book) } else { machine };
        let mut arguments = vec!["hardlid", "price", "r.xlsx", "-o", "o.xlsx", "--prices", "y.xlsx"];
        if book.is_some() {
            arguments.extend(["--rules", "b.lid"]);
        }
        command::run(arguments, &machine);
        priced.push(machine.bytes("o.xlsx").ok_or("nothing was written")?);
    }
    let sheets = priced.iter().map(|p| cells::of(p.clone())).collect::<std::result::Result<Vec<_>, _>>()?;
    let pictures = priced.iter().map(|p| cells::pictures(p)).collect::<std::result::Result<Vec<_>, _>>()?;
    let size = priced.iter().map(Vec::len).sum::<usize>() / priced.len();
    let many = sheets.iter().map(|s| cells::count(s)).sum::<usize>() / sheets.len();
    println!(
        "\n{what}: {files} workbooks of {rooms} rooms, {many} cells, {} pictures and {} KB each",
        pictures[0].len(),
        size / 1024
    );
    let bare = |threads: usize| -> Result<_> {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build()?;
        let (priced, sheets, pictures) = (&priced, &sheets, &pictures);
        Ok(Side::new(format!("the two crates, {threads} at once"), move || {
            let one = |n: usize| -> std::result::Result<usize, String> {
                black_box(cells::read(&priced[n % KINDS]).map_err(|e| e.to_string())?);
                let written = cells::write_with(&sheets[n % KINDS], &pictures[n % KINDS]);
                Ok(black_box(written.map_err(|e| e.to_string())?).len())
            };
            let done = pool.install(|| (0..files).into_par_iter().map(one).collect::<std::result::Result<Vec<_>, _>>());
            Ok(done?.len() as u64)
        }))
    };
    let ours = |at_once: usize| {
        let priced = &priced;
        Side::timed(format!("hardlid reprice, {at_once} at once"), move || {
            let machine = Drawer::new(Date::constant(2026, 3, 1), files, priced);
            let all = families(&[PathBuf::from("bids")], None, &machine).map_err(|p| p.what)?;
            let asked = Asked {
                prices: Some(File::new("y.xlsx", prices)),
                as_of: Some(Date::constant(2026, 4, 1)),
                by: By::RulesOfTheDay,
                instead_of: None,
                without_additions: false,
                changes: Vec::new(),
                older_than: Some(90),
                at_once: Some(at_once),
            };
            let (moved, spent) = clocked(|| reprice(&all, &asked, &machine, &|_| ()));
            let moved = moved.map_err(|p| p.what)?;
            if moved.bids.len() != files || machine.files() != 2 * files {
                return Err("some bids are left out".into());
            }
            Ok(spent)
        })
    };
    against(&format!("reprice, {what}"), bare(2)?, vec![ours(2), bare(1)?, ours(1)], runs)?;
    println!("  peak memory of the bench so far: {}", timed::peak());
    Ok(())
}
