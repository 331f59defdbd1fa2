//! `hardlid watch ROOMS.xlsx`

use super::price::{self, dollars, priced};
use super::progress::Progress;
use super::watching::{Watched, each_saving};
use super::{Ended, failed, out};
use crate::bid::Worked;
use crate::engine::names;
use crate::problem::Weight;
use crate::system::Outside;
use std::collections::BTreeMap;
use std::path::Path;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  hardlid watch rooms.xlsx --rules house.lid --prices yard.xlsx\n\nPrices again each time the rooms workbook, the price book, the rule book or a file that the rule book names is saved, and tells what moved. \
                        It takes the options of hardlid price, and goes on until it is stopped (Ctrl-C)."
)]
#[group(skip)]
pub struct Arguments {
    #[command(flatten)]
    price: price::Arguments,
}

/// Most rooms and checks that are told after one saving.
const MOST_TOLD: usize = 12;

/// What one pricing came to.
#[derive(Debug, Default)]
struct Came {
    total: Option<i64>,
    /// Cost in cents by the room's name; nothing for one that is stopped.
    rooms: BTreeMap<String, Option<i64>>,
    /// Checks that stop or warn.
    checks: Vec<String>,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let price = &arguments.price;
    let quiet = Progress::steps(5, true);
    let mut last: Option<Came> = None;
    let beside = || price.named_by_rules(outside);
    let watched = Watched { named: price.reads().collect(), beside: &beside };
    each_saving(&watched, outside, &mut || {
        let mut tell = |job: &Worked<'_>, target: &Path, told: &[_]| {
            let came = Came::of(job);
            match &last {
                Some(before) if !price.json => came.beside(before),
                _ => price::report(price, job, target, told),
            }
            last = Some(came);
        };
        let ended = match priced(price, outside, &quiet, &mut tell) {
            Ok(how) => how,
            Err(problems) => failed(&problems, price.json),
        };
        // where it never was priced the command line is wrong, not what somebody saved
        (ended, last.is_some())
    })
}

impl Came {
    fn of(job: &Worked<'_>) -> Self {
        let (priced, schema) = (&job.priced, &job.ready.program().schema);
        let name = |row: usize| match schema.root_kind() {
            Some(kind) => names::row(schema, job.engine.run(), &job.inputs, kind, row).to_string(),
            None => format!("row {}", row + 1),
        };
        let rooms = priced.rooms.iter().enumerate();
        let serious = priced.findings.iter().filter(|f| matches!(f.problem.weight, Weight::Stop | Weight::Warning));
        Self {
            total: priced.total,
            rooms: rooms.map(|(row, r)| (name(row), r.cost.filter(|_| !r.stopped))).collect(),
            checks: serious.map(|f| f.problem.what.clone()).collect(),
        }
    }

    /// Tells what moved.
    fn beside(&self, before: &Self) {
        let shown = |cents: Option<i64>| cents.map_or_else(|| "no price".to_owned(), dollars);
        let total = match (before.total, self.total) {
            (a, b) if a == b => format!("Priced again: {}, as before.", shown(b)),
            (Some(a), Some(b)) => {
                let by = b.saturating_sub(a);
                let more = if by < 0 { "less" } else { "more" };
                format!("Priced again: {}, {} {more}.", dollars(b), dollars(by.saturating_abs()))
            }
            (a, b) => format!("Priced again: {}, after {}.", shown(b), shown(a)),
        };
        out::line(&total);
        let mut told: Vec<String> = Vec::new();
        for (name, cost) in &self.rooms {
            match before.rooms.get(name) {
                None => told.push(format!("{name}: new, {}", shown(*cost))),
                Some(was) if was != cost => told.push(format!("{name}: {}, after {}", shown(*cost), shown(*was))),
                Some(_) => {}
            }
        }
        told.extend(before.rooms.keys().filter(|n| !self.rooms.contains_key(*n)).map(|n| format!("{n}: gone")));
        told.extend(self.checks.iter().filter(|c| !before.checks.contains(c)).map(|c| format!("Check: {c}")));
        told.extend(before.checks.iter().filter(|c| !self.checks.contains(c)).map(|c| format!("Settled: {c}")));
        for line in told.iter().take(MOST_TOLD) {
            out::line(&format!("  {line}"));
        }
        if let Some(more) = told.len().checked_sub(MOST_TOLD).filter(|n| *n > 0) {
            out::line(&format!("  … and {more} more"));
        }
    }
}
