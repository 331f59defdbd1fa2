//! Cutting plans: figures that nobody here made up, laws on random jobs, and a search that tries everything.
#![allow(clippy::unwrap_used)] // helpers of tests stand outside the test functions

use hardlid::ceiling::cutting::{CutError, Demand, Effort, Job, Plan, Splice, Stock, first_fit_plan, plan};
use proptest::prelude::*;
use std::collections::BTreeMap;

fn job(stock: i64, pieces: &[(i64, i64)]) -> Job {
    let demands = pieces.iter().map(|(length, count)| Demand { length: *length, count: *count, splice: None });
    Job {
        stocks: vec![Stock { length: stock, cost: 1, limit: None }],
        demands: demands.collect(),
        kerf: 0,
        keep: 0,
        effort: Effort::default(),
    }
}

/// Checks that a plan cuts just what is wanted from the stock that it says it uses.
fn sound(job: &Job, plan: &Plan) {
    let mut wanted: BTreeMap<i64, i64> = BTreeMap::new();
    let joined = |at: usize| plan.joined.iter().find(|j| j.demand == at);
    for (at, demand) in job.demands.iter().enumerate().filter(|(_, d)| d.count > 0) {
        match joined(at) {
            None => *wanted.entry(demand.length).or_insert(0) += demand.count,
            Some(made) => {
                let lap = demand.splice.unwrap().lap;
                let number: i64 = made.parts.iter().map(|p| p.1).sum();
                let length: i64 = made.parts.iter().map(|p| p.0 * p.1).sum();
                assert_eq!(length - (number - 1) * lap, demand.length, "{made:?}");
                for (length, n) in &made.parts {
                    assert!(*length >= demand.splice.unwrap().least, "{made:?}");
                    *wanted.entry(*length).or_insert(0) += n * demand.count;
                }
            }
        }
    }
    let mut used = vec![0; job.stocks.len()];
    let (mut kept, mut stock) = (0, 0);
    for pattern in &plan.patterns {
        assert!(pattern.times > 0);
        let number: i64 = pattern.pieces.iter().map(|p| p.1).sum();
        let length: i64 = pattern.pieces.iter().map(|p| p.0 * p.1).sum();
        let rest = job.stocks[pattern.stock].length - length;
        assert!(rest >= (number - 1) * job.kerf, "{pattern:?}");
        assert_eq!(pattern.offcut, (rest - number * job.kerf).max(0));
        assert_eq!(pattern.kept, pattern.offcut > 0 && pattern.offcut >= job.keep);
        used[pattern.stock] += pattern.times;
        stock += job.stocks[pattern.stock].length * pattern.times;
        kept += if pattern.kept { pattern.offcut * pattern.times } else { 0 };
        for (length, n) in &pattern.pieces {
            *wanted.entry(*length).or_insert(0) -= n * pattern.times;
        }
    }
    assert!(wanted.values().all(|left| *left == 0), "{wanted:?}");
    assert_eq!(used, plan.used);
    assert!(used.iter().zip(&job.stocks).all(|(n, s)| s.limit.is_none_or(|l| *n <= l)));
    assert_eq!(plan.cost, used.iter().zip(&job.stocks).map(|(n, s)| n * s.cost).sum::<i64>());
    let pieces: i64 = plan.patterns.iter().map(|p| p.times * p.pieces.iter().map(|p| p.0 * p.1).sum::<i64>()).sum();
    assert_eq!(plan.left_over, kept);
    assert_eq!(plan.left_over + plan.scrap + pieces, stock);
    assert!(plan.at_least.cost <= plan.cost);
    assert!(plan.at_least.pieces <= plan.stock_used());
}

/// The least number of stock pieces, found and proved.
fn proved(job: &Job, least: i64) {
    let plan = plan(job).unwrap();
    sound(job, &plan);
    assert_eq!((plan.stock_used(), plan.at_least.pieces), (least, least));
}

/// A textbook case; its least is proved by mixed-integer programming. First fit, longest first: 82.
#[test]
fn textbook_of_thirteen_lengths() {
    let pieces = [
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
    let job = job(5600, &pieces);
    assert_eq!(first_fit_plan(&job).unwrap().stock_used(), 82);
    proved(&job, 73);
}

/// V. Chvátal, *Linear Programming*, 1983, chapter 13. First fit, longest first: 485.
#[test]
fn a_book_on_linear_programming() {
    let job = job(100, &[(45, 97), (36, 610), (31, 395), (14, 211)]);
    assert_eq!(first_fit_plan(&job).unwrap().stock_used(), 485);
    proved(&job, 453);
}

/// E. Falkenauer's case u120_00, published best 48. First fit, longest first: 49.
#[test]
fn a_published_case_of_120_pieces() {
    let pieces = [
        98, 98, 98, 96, 96, 94, 93, 93, 92, 91, 91, 90, 87, 86, 85, 85, 84, 84, 84, 84, 84, 83, 83, 82, 82, 81, 80, 80,
        80, 79, 79, 78, 78, 78, 78, 76, 74, 74, 73, 73, 73, 73, 72, 71, 70, 70, 70, 69, 69, 69, 67, 66, 64, 62, 62, 60,
        60, 59, 58, 58, 58, 57, 57, 57, 57, 55, 55, 55, 50, 49, 49, 49, 47, 46, 46, 45, 45, 44, 44, 43, 43, 43, 43, 42,
        42, 42, 42, 42, 41, 41, 41, 39, 39, 38, 38, 38, 37, 36, 36, 36, 35, 33, 33, 33, 32, 32, 30, 30, 30, 29, 28, 27,
        27, 26, 25, 25, 24, 23, 23, 20,
    ];
    let job = job(150, &pieces.map(|length| (length, 1)));
    assert_eq!(first_fit_plan(&job).unwrap().stock_used(), 49);
    proved(&job, 48);
}

/// An example of the GNU Linear Programming Kit's reference manual: 3.
#[test]
fn six_pieces() {
    proved(&job(100, &[(50, 1), (60, 1), (30, 1), (70, 1), (50, 1), (40, 1)]), 3);
}

/// S. Martello and P. Toth, *Knapsack Problems*, 1990, from memory: the bound by size is 3, the least 4.
#[test]
fn nine_pieces_whose_bound_is_one_less() {
    let job = job(100, &[(70, 1), (60, 1), (50, 1), (33, 3), (11, 1), (7, 1), (3, 1)]);
    let in_all: i64 = job.demands.iter().map(|d| d.length * d.count).sum();
    assert_eq!(in_all, 300);
    proved(&job, 4);
}

/// 5,000 pieces of 40 lengths: within 1 % of the bound. Lengths from 30" on in steps of 2 9/16", by 1/16", from 12'.
#[test]
fn five_thousand_pieces_of_forty_lengths() {
    let pieces: Vec<(i64, i64)> = (0..40).map(|i| (480 + 41 * i, 125)).collect();
    let job = job(2304, &pieces);
    let plan = plan(&job).unwrap();
    sound(&job, &plan);
    assert!(plan.stock_used() * 100 <= plan.at_least.pieces * 101, "{:?}", (plan.stock_used(), plan.at_least));
}

/// The least cost by trying everything: each stock piece in turn takes any set of what is left that has the longest
/// piece in it.
fn everything(
    job: &Job,
    left: &mut Vec<i64>,
    stock: &mut Vec<i64>,
    known: &mut BTreeMap<Vec<i64>, Option<i64>>,
) -> Option<i64> {
    let Some(first) = left.iter().position(|n| *n > 0) else { return Some(0) };
    let key: Vec<i64> = left.iter().chain(stock.iter()).copied().collect();
    if let Some(found) = known.get(&key) {
        return *found;
    }
    let mut best = None;
    for bin in 0..job.stocks.len() {
        let rest = job.stocks[bin].length + job.kerf - job.demands[first].length - job.kerf;
        if rest < 0 || stock[bin] == 0 {
            continue;
        }
        stock[bin] -= 1;
        left[first] -= 1;
        with_more(job, first, rest, left, &mut |left| {
            if let Some(cost) = everything(job, left, stock, known) {
                let cost = cost + job.stocks[bin].cost;
                best = Some(best.map_or(cost, |b: i64| b.min(cost)));
            }
        });
        left[first] += 1;
        stock[bin] += 1;
    }
    known.insert(key, best);
    best
}

fn with_more(job: &Job, at: usize, rest: i64, left: &mut Vec<i64>, then: &mut dyn FnMut(&mut Vec<i64>)) {
    if at == job.demands.len() {
        then(left);
        return;
    }
    let each = job.demands[at].length + job.kerf;
    let top = left[at].min(rest / each);
    for n in 0..=top {
        left[at] -= n;
        with_more(job, at + 1, rest - n * each, left, then);
        left[at] += n;
    }
}

fn least(job: &Job) -> Option<i64> {
    let mut left: Vec<i64> = job.demands.iter().map(|d| d.count).collect();
    let mut stock: Vec<i64> = job.stocks.iter().map(|s| s.limit.unwrap_or(1000)).collect();
    everything(job, &mut left, &mut stock, &mut BTreeMap::new())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// One stock length, up to nine pieces.
    #[test]
    fn small_jobs_are_planned_at_least_cost(
        pieces in proptest::collection::vec((8i64..=60, 1i64..=3), 1..5),
        kerf in 0i64..3,
    ) {
        let job = Job { kerf, ..job(60, &pieces) };
        let plan = plan(&job).unwrap();
        sound(&job, &plan);
        prop_assert_eq!(Some(plan.cost), least(&job));
        prop_assert_eq!(plan.at_least.pieces, plan.cost);
    }

    /// Several stock lengths at different costs, some of them scarce.
    #[test]
    fn small_jobs_from_several_lengths_are_planned_at_least_cost(
        pieces in proptest::collection::vec((8i64..=60, 1i64..=3), 1..4),
        stocks in proptest::collection::vec((60i64..=100, 1i64..=20, proptest::option::of(0i64..4)), 1..4),
        kerf in 0i64..3,
    ) {
        let stocks = stocks.into_iter().map(|(length, cost, limit)| Stock { length, cost, limit });
        let job = Job { stocks: stocks.collect(), kerf, ..job(60, &pieces) };
        match (plan(&job), least(&job)) {
            (Ok(plan), Some(cost)) => {
                sound(&job, &plan);
                prop_assert_eq!((plan.cost, plan.at_least.cost), (cost, cost));
            }
            (Err(error), None) => prop_assert_eq!(error, CutError::NotEnoughStock { proved: true }),
            (plan, least) => prop_assert!(false, "{:?}, {:?}", plan, least),
        }
    }

    /// Never worse than first fit, longest first; and the same plan in whatever order the pieces are given.
    #[test]
    fn never_worse_than_first_fit(
        pieces in proptest::collection::vec((1i64..=1000, 1i64..=30), 1..25),
        lengths in proptest::collection::vec(1000i64..2000, 1..3),
        kerf in 0i64..5,
        keep in 0i64..300,
    ) {
        let stocks = lengths.iter().map(|l| Stock { length: *l, cost: *l, limit: None }).collect();
        let effort = Effort { rounds: 60, dives: 2, steps: 2_000, ..Effort::default() };
        let mut job = Job { stocks, kerf, keep, effort, ..job(1000, &pieces) };
        let ours = plan(&job).unwrap();
        sound(&job, &ours);
        let first = first_fit_plan(&job).unwrap();
        sound(&job, &first);
        prop_assert!(ours.cost <= first.cost);
        prop_assert!(ours.at_least.cost >= first.at_least.cost);
        job.demands.reverse();
        prop_assert_eq!(plan(&job).unwrap(), ours);
    }
}

/// By hand: stock 120. 290 with laps of 4 is 120 + 116 + 54, the last part 58; two of them leave 62 beside a part, so
/// they take 2 × 2 whole pieces and one more for 58 + 58 = 116.
#[test]
fn pieces_longer_than_stock_are_made_of_parts() {
    let splice = Some(Splice { lap: 4, least: 10 });
    let mut job = job(120, &[]);
    job.demands = vec![Demand { length: 290, count: 2, splice }];
    let made = plan(&job).unwrap();
    sound(&job, &made);
    assert_eq!(made.joined[0].parts, [(120, 2), (58, 1)]);
    assert_eq!((made.stock_used(), made.at_least.pieces), (5, 5));
    job.demands[0].splice = None;
    assert_eq!(plan(&job), Err(CutError::LongerThanStock { demand: 0, longest: 120 }));
}

/// By hand: stock 100, saw 2. Two of 49 with one cut fill it; two of 49 and one of 1 do not go in.
#[test]
fn the_saw_takes_its_share() {
    let sawn = |pieces: &[(i64, i64)]| plan(&Job { kerf: 2, ..job(100, pieces) }).unwrap();
    let full = sawn(&[(49, 2)]);
    assert_eq!((full.stock_used(), full.patterns[0].offcut, full.scrap), (1, 0, 2));
    assert_eq!(sawn(&[(49, 2), (1, 1)]).stock_used(), 2);
    // 60 and its cut leave 38
    let rest = plan(&Job { kerf: 2, keep: 38, ..job(100, &[(60, 1)]) }).unwrap();
    assert_eq!((rest.patterns[0].offcut, rest.patterns[0].kept, rest.left_over, rest.scrap), (38, true, 38, 2));
    let rest = plan(&Job { kerf: 2, keep: 39, ..job(100, &[(60, 1)]) }).unwrap();
    assert_eq!((rest.patterns[0].kept, rest.left_over, rest.scrap), (false, 0, 40));
}

/// By hand: ten pieces of 60 from stock of 100 at 5 or of 130 at 6: five long ones, 30. With two long ones only:
/// 2 × 6 and 6 × 5.
#[test]
fn the_cheapest_stock_serves() {
    let stock = |length, cost, limit| Stock { length, cost, limit };
    let both = |limit| Job { stocks: vec![stock(100, 5, None), stock(130, 6, limit)], ..job(100, &[(60, 10)]) };
    let made = plan(&both(None)).unwrap();
    assert_eq!((made.cost, made.at_least.cost, made.used.as_slice()), (30, 30, &[0, 5][..]));
    let made = plan(&both(Some(2))).unwrap();
    assert_eq!((made.cost, made.at_least.cost, made.used.as_slice()), (42, 42, &[6, 2][..]));
}

#[test]
fn jobs_out_of_order_are_refused() {
    let with = |change: fn(&mut Job)| {
        let mut job = job(100, &[(60, 1)]);
        change(&mut job);
        plan(&job)
    };
    assert_eq!(with(|j| j.stocks.clear()), Err(CutError::NoStock));
    assert_eq!(with(|j| j.stocks[0].length = 0), Err(CutError::StockNotPositive { stock: 0 }));
    assert_eq!(with(|j| j.stocks[0].length = -5), Err(CutError::StockNotPositive { stock: 0 }));
    assert_eq!(with(|j| j.stocks[0].cost = 0), Err(CutError::CostNotPositive { stock: 0 }));
    assert_eq!(with(|j| j.stocks[0].limit = Some(-1)), Err(CutError::LimitBelowZero { stock: 0 }));
    assert_eq!(with(|j| j.stocks[0].limit = Some(0)), Err(CutError::NotEnoughStock { proved: true }));
    assert_eq!(with(|j| j.demands[0].length = 0), Err(CutError::PieceNotPositive { demand: 0 }));
    assert_eq!(with(|j| j.demands[0].count = -1), Err(CutError::CountBelowZero { demand: 0 }));
    assert_eq!(with(|j| j.kerf = -1), Err(CutError::RuleBelowZero));
    assert_eq!(with(|j| j.demands[0].count = i64::MAX), Err(CutError::TooLarge));
    assert_eq!(with(|j| j.stocks[0].length = i64::MAX), Err(CutError::TooLarge));
    assert_eq!(with(|j| j.demands[0].length = 101), Err(CutError::LongerThanStock { demand: 0, longest: 100 }));
    // nothing wanted is no fault
    assert_eq!(with(|j| j.demands.clear()).unwrap().stock_used(), 0);
}
