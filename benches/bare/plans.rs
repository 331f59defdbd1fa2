//! What a plan costs: drawing it, and painting it for the workbook.

use crate::Result;
use crate::timed::clocked_wall;
use hardlid::ceiling::layout::{Framing, Scheme, lay_out};
use hardlid::ceiling::shape::{Room, Ticks};
use hardlid::drawing::{Facts, draw, png_bytes};
use hardlid::quantity::Date;
use std::hint::black_box;

/// Plans in one run, each of a room of another size.
const ROOMS: i64 = 60;

/// Prints microseconds a plan, the median of the runs.
pub fn run(runs: usize) -> Result<()> {
    println!("\nplans, {ROOMS} different rooms, on one core");
    let framing = Framing { scheme: Scheme::Strongbacks { lines: 1 }, ..Framing::default() };
    let mut laid = Vec::new();
    for k in 0..ROOMS {
        let room = Room::rectangle(Ticks::feet(20) + Ticks::inches(k), Ticks::feet(14) + Ticks::inches(k % 7))?;
        let layout = lay_out(&room, &framing, &[])?;
        laid.push((room, layout));
    }
    let facts = Facts {
        room: "101 Office",
        job: "Rooms of the bench",
        scheme: "Over strongbacks",
        tees: "tees",
        spacing: Some(framing.spacing),
        tab_pitch: framing.pitch,
        joints: &[],
        as_of: Some(Date::constant(2026, 11, 1)),
    };
    let drawings: Vec<_> = laid.iter().map(|(room, layout)| draw(room, layout, &facts)).collect();
    report("drawn", runs, &|| laid.iter().map(|(room, layout)| draw(room, layout, &facts).shapes.len()).sum());
    report("painted and packed", runs, &|| drawings.iter().map(|d| png_bytes::bytes(d).map_or(0, |b| b.len())).sum());
    Ok(())
}

fn report(what: &str, runs: usize, work: &dyn Fn() -> usize) {
    let mut times = Vec::new();
    let mut made = 0;
    for _ in 0..runs.max(1) {
        let (done, wall) = clocked_wall(work);
        made = black_box(done);
        times.push(wall);
    }
    times.sort();
    let each = times[times.len() / 2].as_secs_f64() * 1e6 / ROOMS as f64;
    println!("  {what:40} {each:9.1} µs a plan, {} marks or bytes each", made / ROOMS as usize);
}
