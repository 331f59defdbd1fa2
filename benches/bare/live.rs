//! What live formulas cost: the same priced jobs written with them and with values only, in one run.

use crate::timed::{Side, against};
use crate::{Result, made};
use hardlid::bid::{Ready, Rules, Worked, Written};
use hardlid::drawing::Painting;
use hardlid::problem::Problem;
use hardlid::quantity::Date;
use hardlid::workbook::carried::File;
use std::hint::black_box;

/// Prints sizes and times of both. No more than 1.5 times the size and twice the time is the aim.
pub fn run(rooms: usize, runs: usize) -> Result<()> {
    let prices = include_bytes!("../../workbooks/demo-prices.xlsx");
    let demo = include_bytes!("../../workbooks/demo-rooms.xlsx");
    let many = made::rooms(rooms);
    one("the demo", demo, prices, 20 * runs.max(1))?;
    one(&format!("{rooms} rooms of 300 kinds"), &made::ceilings(&many, 300)?, prices, runs)?;
    one(&format!("{rooms} rooms, no two alike"), &made::ceilings(&many, many.len())?, prices, runs)
}

fn one(what: &str, rooms: &[u8], prices: &[u8], runs: usize) -> Result<()> {
    let told = |p: Problem| p.what;
    let all = |p: Vec<Problem>| p.into_iter().next().map_or(String::new(), told);
    let rules = Rules::of_today(None::<hardlid::bid::House>, "hardlid ceilings");
    let prices = File::new("yard.xlsx", prices.to_vec());
    let ready = Ready::new(&rules, Some(&prices), Date::constant(2026, 3, 1)).map_err(all)?;
    let rooms = File::new("rooms.xlsx", rooms.to_vec()).into();
    let inputs = ready.inputs(&rooms).map_err(all)?;
    let (job, painting) = ready.work_out_and_paint(&rooms, inputs, Vec::new());
    // painting is no writing
    black_box(painting.pictures());
    // pictures weigh the same on both sides, and hide what formulas weigh
    let bare_of_plans = Painting::default();
    for (how, painting) in [("with plans", &painting), ("without plans", &bare_of_plans)] {
        beside(&format!("{what}, {how}"), &job, painting, runs)?;
    }
    Ok(())
}

fn beside(what: &str, job: &Worked<'_>, painting: &Painting, runs: usize) -> Result<()> {
    let told = |p: Problem| p.what;
    let live = || job.workbook(1, painting).map_err(told);
    let values = || job.values_only(1, painting).map_err(told);
    let size = |written: Written| written.bytes.len();
    let (with, without) = (size(live()?), size(values()?));
    println!(
        "\n{what}: {} KB with live formulas, {} KB with values only, ratio {:.2}",
        with / 1024,
        without / 1024,
        with as f64 / without as f64
    );
    let bare = Side::new("values only", || Ok(black_box(values()?).bytes.len() as u64));
    let ours = Side::new("live formulas", || Ok(black_box(live()?).bytes.len() as u64));
    against(&format!("writing, {what}"), bare, vec![ours], runs)
}
