//! How long cutting plans take: published cases, and 5,000 pieces of 40 lengths.

use super::Result;
use super::timed::{Side, against};
use hardlid::ceiling::cutting::{Demand, Effort, Job, Stock, first_fit_plan, plan};
use std::hint::black_box;

/// Textbook case of tests/cutting.rs: 73 from stock of 5,600.
const TEXTBOOK: [(i64, i64); 13] = [
    (1380, 22),
    (1520, 25),
    (1560, 12),
    (1710, 14),
    (1820, 18),
    (1880, 18),
    (1930, 20),
    (2000, 10),
    (2050, 12),
    (2100, 14),
    (2140, 16),
    (2150, 18),
    (2200, 20),
];

fn job(stock: i64, pieces: &[(i64, i64)]) -> Job {
    let demands = pieces.iter().map(|(length, count)| Demand { length: *length, count: *count, splice: None });
    let stocks = vec![Stock { length: stock, cost: 1, limit: None }];
    Job { stocks, demands: demands.collect(), kerf: 0, keep: 0, effort: Effort::default() }
}

/// First fit as the bare side, the plan as ours; stock pieces and the bound beside them.
pub fn run(runs: usize) -> Result<()> {
    let even: Vec<(i64, i64)> = (0..40).map(|i| (320 + 23 * i, 125)).collect();
    let odd: Vec<(i64, i64)> = (0..40).map(|i| (150_001 + 11_347 * i + (i * i * 7919) % 1013, 125)).collect();
    let cases = [
        ("textbook, 219 pieces of 13 lengths", job(5600, &TEXTBOOK)),
        ("Chvatal, 1,313 pieces of 4 lengths", job(100, &[(45, 97), (36, 610), (31, 395), (14, 211)])),
        ("5,000 pieces of 40 lengths by 1/16 in.", job(2304, &even)),
        ("5,000 pieces of 40 lengths with no common measure", job(1_170_432, &odd)),
    ];
    for (what, job) in cases {
        let (first, made) = (first_fit_plan(&job)?, plan(&job)?);
        let ours = format!("plan: {}, at least {}", made.stock_used(), made.at_least.pieces);
        let bare = format!("first fit: {}", first.stock_used());
        let taken = |cost: i64| black_box(cost).unsigned_abs();
        let bare = Side::new(bare, || Ok(taken(first_fit_plan(&job)?.cost)));
        against(&format!("cut, {what}"), bare, vec![Side::new(ours, || Ok(taken(plan(&job)?.cost)))], runs)?;
    }
    Ok(())
}
