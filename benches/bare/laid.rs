//! What it costs to lay a room out that was not seen before: shape, framing, board.

use crate::Result;
use crate::timed::clocked_wall;
use hardlid::ceiling::layout::{BoardRule, Framing, Opening, Scheme, Stock, lay_board, lay_out};
use hardlid::ceiling::shape::{Jog, Place, Point, Room, Side, Ticks, Way};
use std::hint::black_box;

/// Rooms in one run, each of another size.
const ROOMS: i64 = 20_000;

/// Prints microseconds a room, the median of the runs.
pub fn run(runs: usize) -> Result<()> {
    println!("\nlayout, {ROOMS} different rooms, on one core");
    let jogged = |room: Room| room.with_jogs(&[jog(Side::South, 60, 24, 12), jog(Side::North, 133, 39, 18)]);
    report("rectangle, one strongback", runs, &|k| laid(sized(k)?, &[]))?;
    report("rectangle, one strongback, board", runs, &|k| with_board(sized(k)?))?;
    report("rectangle, two openings", runs, &|k| laid(sized(k)?, &openings()))?;
    report("column and jog", runs, &|k| laid(jogged(sized(k)?)?, &[]))?;
    report("column and jog, board, two openings", runs, &|k| {
        let room = jogged(sized(k)?)?;
        with_board(room.clone())?;
        laid(room, &openings())
    })?;
    report("perimeter text of six sides", runs, &|k| {
        let width = Ticks::feet(14) + Ticks::sixty_fourths(4 * (k % 64));
        laid(
            Room::perimeter(&format!("20' E, 6' N, 8' W, {} N, 12' W, {} S", width - Ticks::feet(6), width), None)?,
            &[],
        )
    })
}

fn report(what: &str, runs: usize, room: &dyn Fn(i64) -> Result<usize>) -> Result<()> {
    let mut times = Vec::new();
    for _ in 0..runs.max(1) {
        let (done, wall) = clocked_wall(|| (0..ROOMS).map(room).sum::<Result<usize>>());
        black_box(done?);
        times.push(wall);
    }
    times.sort();
    println!("  {what:40} {:7.2} µs a room", times[times.len() / 2].as_secs_f64() * 1e6 / ROOMS as f64);
    Ok(())
}

fn sized(k: i64) -> Result<Room> {
    let sixteenth = Ticks::sixty_fourths(4);
    Ok(Room::rectangle(Ticks::feet(20) + sixteenth * (k % 509), Ticks::feet(14) + sixteenth * (k % 127))?)
}

fn jog(side: Side, offset: i64, width: i64, depth: i64) -> Jog {
    let place = Place::Wall(side, Ticks::inches(offset));
    let (width, depth) = (Ticks::inches(width), Ticks::inches(depth));
    Jog { name: "jog".to_owned(), place, off: Ticks::ZERO, width, depth, way: Way::In }
}

fn openings() -> [Opening; 2] {
    [48, 120].map(|x| Opening {
        name: "light".to_owned(),
        long: Ticks::inches(24),
        wide: Ticks::inches(48),
        count: 1,
        at: Some(Point::new(Ticks::inches(x), Ticks::inches(24))),
        heavy: false,
    })
}

fn framing() -> Framing {
    let stock = Stock { strongback: Some(Ticks::feet(12)), ..Stock::default() };
    Framing { scheme: Scheme::Strongbacks { lines: 1 }, stock, ..Framing::default() }
}

fn laid(room: Room, openings: &[Opening]) -> Result<usize> {
    Ok(black_box(lay_out(&room, &framing(), openings)?).members.len())
}

fn with_board(room: Room) -> Result<usize> {
    let board = black_box(lay_board(&room, &framing(), &BoardRule::default())?);
    Ok(laid(room, &[])? + board.placed.len())
}
