//! The plan, and how it is made.

use super::bounds::{Worth, by_sizes};
use super::branch::{Outcome, search};
use super::columns::{Rounding, columns_of, generate};
use super::first_fit::{cheapen, first_fit, quick};
use super::job::{CutError, Job};
use super::knapsack::Bag;
use super::shop::{Shop, Use};
use std::collections::BTreeMap;

/// Different lengths up to which a job is rounded as often as the effort says; with more it is less often.
const DIVING: usize = 60;

/// Stock pieces that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Which stock, counted from zero in the order given.
    pub stock: usize,
    /// How many stock pieces are cut so.
    pub times: i64,
    /// What is cut, in order: (length, number), longest first.
    pub pieces: Vec<(i64, i64)>,
    /// What is left of each after the last cut.
    pub offcut: i64,
    /// Whether the offcut is long enough to keep.
    pub kept: bool,
}

/// Pieces longer than stock, made of parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Joined {
    /// Which demand, counted from zero in the order given.
    pub demand: usize,
    /// Length of each piece.
    pub length: i64,
    /// How many pieces.
    pub count: i64,
    /// The parts of one piece: (length, number). They are cut among the other pieces.
    pub parts: Vec<(i64, i64)>,
}

/// What is proved: no plan takes less. Pieces longer than stock are taken in the parts that the plan gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AtLeast {
    /// Stock pieces, of whatever length.
    pub pieces: i64,
    /// Cost.
    pub cost: i64,
}

/// A cutting plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// Patterns: longest stock first, then longest pieces.
    pub patterns: Vec<Pattern>,
    /// Pieces longer than stock, and their parts.
    pub joined: Vec<Joined>,
    /// Stock pieces used, for each stock in the order given.
    pub used: Vec<i64>,
    /// What the stock used costs.
    pub cost: i64,
    /// What no plan can do better than.
    pub at_least: AtLeast,
    /// Length of offcuts long enough to keep.
    pub left_over: i64,
    /// Length of shorter offcuts and of saw cuts.
    pub scrap: i64,
}

impl Plan {
    /// Stock pieces used, of whatever length.
    #[must_use]
    pub fn stock_used(&self) -> i64 {
        self.used.iter().fold(0, |a, n| a.saturating_add(*n))
    }

    /// Whether no plan costs less.
    #[must_use]
    pub fn is_least(&self) -> bool {
        self.cost == self.at_least.cost
    }
}

/// Plans the cutting of a job at least cost.
///
/// # Errors
/// What is wrong with the job; see [`CutError`].
pub fn plan(job: &Job) -> Result<Plan, CutError> {
    made(job, true)
}

/// The plan of first fit, longest first, with the bounds of sizes alone: what [`plan`] starts from.
///
/// # Errors
/// What is wrong with the job; see [`CutError`].
pub fn first_fit_plan(job: &Job) -> Result<Plan, CutError> {
    made(job, false)
}

fn made(job: &Job, better: bool) -> Result<Plan, CutError> {
    let (shop, joined) = Shop::new(job)?;
    let (bound, by_size) = by_sizes(&shop);
    let start = if better { quick(&shop) } else { longest_alone(&shop) };
    let mut work = Work { shop: &shop, job, bound, best: start, empty: false };
    if better {
        work.improve(by_size);
    }
    let uses = work.best.take().ok_or(CutError::NotEnoughStock { proved: work.empty })?;
    let mut plan = told(job, &shop, &uses, work.bound)?;
    plan.joined = joined;
    Ok(plan)
}

/// First fit into the stock that comes to least alone.
fn longest_alone(shop: &Shop) -> Option<Vec<Use>> {
    let single = (0..shop.bins.len()).filter_map(|bin| first_fit(shop, bin));
    single.min_by_key(|uses| shop.cost(uses)).or_else(|| quick(shop))
}

/// A plan in the making.
struct Work<'a> {
    shop: &'a Shop,
    job: &'a Job,
    bound: i128,
    best: Option<Vec<Use>>,
    /// Whether it is proved that the stock is not enough.
    empty: bool,
}

impl Work<'_> {
    fn cost(&self) -> i128 {
        self.best.as_ref().map_or(i128::MAX, |b| self.shop.cost(b))
    }

    fn done(&self) -> bool {
        self.cost() <= self.bound
    }

    fn offer(&mut self, uses: Vec<Use>) {
        let uses = cheapen(self.shop, uses);
        if self.shop.cost(&uses) < self.cost() && self.shop.serves(&uses) {
            self.best = Some(uses);
        }
    }

    fn improve(&mut self, by_size: Worth) {
        let effort = self.job.effort;
        if self.done() || self.shop.sizes.len() > effort.lengths {
            return;
        }
        let start = self.best.as_deref().map_or_else(Vec::new, columns_of);
        let generated = generate(self.shop, start, effort.rounds, self.cost());
        self.bound = self.bound.max(generated.bound);
        let worths: Vec<Worth> = std::iter::once(by_size).chain(generated.worth).collect();
        let bags: Vec<Bag<'_>> = worths.iter().map(|w| Bag::fine(self.shop, &w.of)).collect();
        // each rounding of many lengths takes long, and the first finds most
        let dives = (effort.dives * DIVING / self.shop.sizes.len().max(1)).clamp(effort.dives.min(1), effort.dives);
        for turn in 0..dives {
            if self.done() {
                return;
            }
            let steps = effort.steps / 8;
            let rounding = Rounding { shop: self.shop, worths: &worths, bags: &bags, goal: self.bound, steps };
            if let Some(uses) = rounding.dive(&generated.columns, turn) {
                self.offer(uses);
            }
        }
        self.search(&worths, &bags, effort.steps);
    }

    /// Looks for a plan that costs a step less, until there is none or the steps run out.
    fn search(&mut self, worths: &[Worth], bags: &[Bag<'_>], mut steps: u64) {
        let step = self.shop.cost_step();
        while !self.done() {
            // all the stock there is, where no plan is known yet
            let pieces = self.shop.counts.iter().fold(0i64, |a, n| a.saturating_add(*n));
            let most = || self.shop.bins.iter().map(|b| i128::from(b.cost) * i128::from(b.limit.min(pieces))).sum();
            let budget = if self.best.is_some() { self.cost() - step } else { most() };
            match search(self.shop, worths, bags, budget, &mut steps) {
                Outcome::Found(uses) => self.offer(uses),
                Outcome::Stopped => return,
                Outcome::None => {
                    self.empty = self.best.is_none();
                    self.bound = self.bound.max(budget + step);
                    return;
                }
            }
        }
    }
}

/// The plan as the caller sees it.
fn told(job: &Job, shop: &Shop, uses: &[Use], bound: i128) -> Result<Plan, CutError> {
    let mut merged: BTreeMap<(usize, Vec<(i64, i64)>), i64> = BTreeMap::new();
    for one in uses {
        let length = |size: u32| shop.sizes[size as usize] - job.kerf;
        let pieces = one.cut.iter().map(|(size, n)| (length(*size), *n)).collect();
        let times = merged.entry((one.bin, pieces)).or_insert(0i64);
        *times = times.checked_add(one.times).ok_or(CutError::TooLarge)?;
    }
    let mut plan = Plan {
        patterns: Vec::with_capacity(merged.len()),
        joined: Vec::new(),
        used: vec![0; job.stocks.len()],
        cost: 0,
        at_least: AtLeast { pieces: 0, cost: i64::try_from(bound).map_err(|_| CutError::TooLarge)? },
        left_over: 0,
        scrap: 0,
    };
    let mut sums = (0i128, 0i128, 0i128);
    for ((stock, pieces), times) in merged {
        let length: i64 = pieces.iter().map(|(l, n)| l * n).sum();
        let number: i64 = pieces.iter().map(|p| p.1).sum();
        let rest = job.stocks[stock].length - length;
        let offcut = (rest - number * job.kerf).max(0);
        let kept = offcut > 0 && offcut >= job.keep;
        plan.used[stock] = plan.used[stock].checked_add(times).ok_or(CutError::TooLarge)?;
        sums.0 += i128::from(job.stocks[stock].cost) * i128::from(times);
        sums.1 += if kept { i128::from(offcut) * i128::from(times) } else { 0 };
        sums.2 += i128::from(if kept { rest - offcut } else { rest }) * i128::from(times);
        plan.patterns.push(Pattern { stock, times, pieces, offcut, kept });
    }
    let order = |p: &Pattern| (std::cmp::Reverse(job.stocks[p.stock].length), p.stock);
    plan.patterns.sort_by(|a, b| order(a).cmp(&order(b)).then_with(|| b.pieces.cmp(&a.pieces)));
    let fit = |n: i128| i64::try_from(n).map_err(|_| CutError::TooLarge);
    (plan.cost, plan.left_over, plan.scrap) = (fit(sums.0)?, fit(sums.1)?, fit(sums.2)?);
    plan.at_least.pieces = least_stock(job, shop, bound)?;
    Ok(plan)
}

/// Fewest stock pieces: by the cost where all stock costs the same, else as if all were as long as the longest.
fn least_stock(job: &Job, shop: &Shop, bound: i128) -> Result<i64, CutError> {
    let by_size = super::bounds::least_pieces(shop);
    let dearest = job.stocks.iter().map(|s| i128::from(s.cost)).max().unwrap_or(1);
    let by_cost = num_integer::Integer::div_ceil(&bound, &dearest);
    i64::try_from(by_size.max(by_cost)).map_err(|_| CutError::TooLarge)
}
