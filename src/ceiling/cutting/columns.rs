//! Column generation: patterns worth having, a proved bound, and plans rounded from them.

use super::bounds::{ONE, Worth};
use super::branch::{Outcome, search};
use super::first_fit::{greedy, quick};
use super::knapsack::Bag;
use super::propose::{Column, PARTS, Prices, shares};
use super::shop::{Cut, Shop, Use};
use std::collections::BTreeSet;

/// Pieces left below which the rest of a plan is searched and not rounded.
const SEARCHED: i64 = 80;

/// Rounds of new patterns for what is left of a plan.
const ROUNDS_LEFT: usize = 60;

/// Patterns, the bound that they led to, and the worths that prove it.
pub(super) struct Generated {
    pub columns: Vec<Column>,
    pub bound: i128,
    pub worth: Option<Worth>,
}

/// Generates patterns until none is worth more than it costs, the bound reaches `goal`, or the rounds run out.
pub(super) fn generate(shop: &Shop, start: Vec<Column>, rounds: usize, goal: i128) -> Generated {
    let mut columns = with_plain(shop, start);
    let mut known: BTreeSet<(usize, Cut)> = columns.iter().map(|c| (c.bin, c.cut.clone())).collect();
    let mut out = Generated { columns: Vec::new(), bound: 0, worth: None };
    let mut prices = Prices::new(shop, &columns);
    for _ in 0..rounds {
        let Some((of, scarce)) = prices.as_ref().and_then(|p| Some((p.worth()?, p.scarcity()?))) else { break };
        let of = tamed(shop, of);
        let (most, new) = best_patterns(shop, &of, &scarce);
        let (worth, bound) = Worth::proved(shop, of, &most);
        if bound > out.bound || out.worth.is_none() {
            (out.bound, out.worth) = (bound, Some(worth));
        }
        if out.bound >= goal {
            break;
        }
        let mut fresh = false;
        for column in new {
            if known.insert((column.bin, column.cut.clone())) {
                fresh = true;
                if prices.as_mut().and_then(|p| p.add(shop, &column)).is_none() {
                    prices = None;
                }
                columns.push(column);
            }
        }
        if !fresh {
            break;
        }
    }
    out.columns = columns;
    out
}

/// For each stock what its best pattern is worth at most, and the patterns that are worth more than they cost.
fn best_patterns(shop: &Shop, worth: &[i64], scarce: &[i64]) -> (Vec<i64>, Vec<Column>) {
    let dearest = i128::from(shop.bins.iter().map(|b| b.cost).max().unwrap_or(1));
    let bag = Bag::new(shop, worth);
    let mut fine = None;
    let (mut most, mut new) = (Vec::new(), Vec::new());
    for (bin, of) in shop.bins.iter().enumerate() {
        let mut packed = bag.best(bin);
        if packed.most > packed.worth && bag.is_rough() {
            packed = fine.get_or_insert_with(|| Bag::fine(shop, worth)).best(bin);
        }
        most.push(packed.most);
        let costs = i128::from(of.cost) * i128::from(ONE) + i128::from(scarce[bin]) * dearest;
        // what is within the digits of the linear program is no gain
        if i128::from(packed.worth) * dearest > costs + costs / (1 << 26) {
            new.push(Column { bin, cut: packed.cut });
        }
    }
    (most, new)
}

/// Worths so low that no pattern's sum leaves 64 bits. (Any worths prove a bound.)
fn tamed(shop: &Shop, mut worth: Vec<i64>) -> Vec<i64> {
    let longest = shop.bins.iter().map(|b| b.capacity).max().unwrap_or(1);
    let share = (1i64 << 60) / i64::try_from(worth.len().max(1)).unwrap_or(i64::MAX);
    for (worth, size) in worth.iter_mut().zip(&shop.sizes) {
        *worth = (*worth).min(share / (longest / size).max(1));
    }
    worth
}

/// Patterns of one length each besides, so that every piece can be cut.
fn with_plain(shop: &Shop, start: Vec<Column>) -> Vec<Column> {
    let mut columns = start;
    for (index, count) in (0u32..).zip(&shop.counts).filter(|(_, n)| **n > 0) {
        for bin in 0..shop.bins.len() {
            let n = shop.fits(bin, index as usize).min(*count);
            if n > 0 {
                columns.push(Column { bin, cut: vec![(index, n)] });
            }
        }
    }
    let mut seen = BTreeSet::new();
    columns.retain(|c| seen.insert((c.bin, c.cut.clone())));
    columns
}

/// The patterns of a plan.
pub(super) fn columns_of(uses: &[Use]) -> Vec<Column> {
    uses.iter().map(|u| Column { bin: u.bin, cut: u.cut.clone() }).collect()
}

/// What the roundings share.
pub(super) struct Rounding<'a> {
    pub shop: &'a Shop,
    pub worths: &'a [Worth],
    /// Of the worths, for the whole shop.
    pub bags: &'a [Bag<'a>],
    /// The bound: a plan that costs no more is best.
    pub goal: i128,
    /// Steps for searching what is left of one plan.
    pub steps: u64,
}

impl Rounding<'_> {
    /// A plan from shares rounded down, again and again for what is left. `turn` picks which share is rounded up
    /// where all are below one.
    pub fn dive(&self, columns: &[Column], turn: usize) -> Option<Vec<Use>> {
        let mut left = self.shop.clone();
        let mut uses: Vec<Use> = Vec::new();
        let mut best: Option<(i128, Vec<Use>)> = None;
        let mut columns = columns.to_vec();
        let mut searched = false;
        loop {
            let mut rests: Vec<Vec<Use>> = quick(&left).into_iter().collect();
            let wanted: i64 = left.counts.iter().fold(0, |a, n| a.saturating_add(*n));
            if !searched && wanted <= SEARCHED && wanted > 0 {
                searched = true;
                let so_far = self.shop.cost(&uses);
                let known = rests.iter().map(|r| so_far + self.shop.cost(r)).chain(best.as_ref().map(|b| b.0)).min();
                rests.extend(self.searched(&left, so_far, known.unwrap_or(i128::MAX)));
            }
            for rest in rests {
                let all = [uses.clone(), rest].concat();
                let cost = self.shop.cost(&all);
                if best.as_ref().is_none_or(|b| cost < b.0) && self.shop.serves(&all) {
                    best = Some((cost, all));
                }
            }
            if wanted == 0 || best.as_ref().is_some_and(|b| b.0 <= self.goal) {
                break;
            }
            columns = fitted(&left, &columns);
            columns = generate(&left, columns, ROUNDS_LEFT, i128::MAX).columns;
            let Some(shares) = shares(&left, &columns) else { break };
            if !round(&mut left, &columns, &shares, turn, &mut uses) {
                break;
            }
        }
        best.map(|b| b.1)
    }

    /// Ways to cut what is left, each cheaper than the one before: first as cheap as the bound, else cheaper than the
    /// best plan known.
    fn searched(&self, left: &Shop, so_far: i128, best: i128) -> Vec<Vec<Use>> {
        let step = self.shop.cost_step();
        let (mut found, mut steps, mut least) = (Vec::new(), self.steps, best);
        let mut target = self.goal;
        while steps > 0 && target < least {
            let given = if target == self.goal { steps / 2 } else { steps };
            let mut some = given;
            match search(left, self.worths, self.bags, target - so_far, &mut some) {
                Outcome::Found(rest) => {
                    least = so_far + self.shop.cost(&rest);
                    found.push(rest);
                }
                _ if target == self.goal && least - step > target => {}
                _ => break,
            }
            steps -= given - some;
            target = least - step;
        }
        found
    }
}

/// Patterns cut down to what is still wanted, and filled up with it.
fn fitted(left: &Shop, columns: &[Column]) -> Vec<Column> {
    let mut out = Vec::with_capacity(columns.len());
    let mut seen = BTreeSet::new();
    for column in columns.iter().filter(|c| left.bins[c.bin].limit > 0) {
        let cut = filled_up(left, column.bin, &column.cut);
        if !cut.is_empty() && seen.insert((column.bin, cut.clone())) {
            out.push(Column { bin: column.bin, cut });
        }
    }
    out
}

fn filled_up(left: &Shop, bin: usize, cut: &[(u32, i64)]) -> Cut {
    let mut counts = left.counts.clone();
    let mut kept: Vec<i64> = vec![0; counts.len()];
    let mut rest = left.bins[bin].capacity;
    for (size, n) in cut {
        let at = *size as usize;
        kept[at] = (*n).min(counts[at]);
        counts[at] -= kept[at];
        rest -= kept[at] * left.sizes[at];
    }
    for (size, n) in greedy(left, &counts, rest) {
        kept[size as usize] += n;
    }
    (0u32..).zip(kept).filter(|(_, n)| *n > 0).collect()
}

/// Takes the whole part of each share, or one of the greatest where all are below one. Whether anything was taken.
fn round(left: &mut Shop, columns: &[Column], shares: &[i64], turn: usize, uses: &mut Vec<Use>) -> bool {
    let mut order: Vec<usize> = (0..columns.len()).filter(|c| shares[*c] > 0).collect();
    order.sort_by_key(|c| (std::cmp::Reverse(shares[*c]), *c));
    let mut taken = false;
    // a share near a whole one counts as one: by turns widely, and only for the digits of the linear program
    let near = if turn.is_multiple_of(2) { PARTS / 5 } else { PARTS / 1000 };
    for at in &order {
        taken |= take_out(left, &columns[*at], (shares[*at] + near) / PARTS, uses);
    }
    let pick = order.get(turn % order.len().clamp(1, 3)).or(order.first());
    match pick {
        Some(at) if !taken => take_out(left, &columns[*at], 1, uses),
        _ => taken,
    }
}

fn take_out(left: &mut Shop, column: &Column, times: i64, uses: &mut Vec<Use>) -> bool {
    let fit = column.cut.iter().map(|(i, n)| left.counts[*i as usize] / n).min().unwrap_or(0);
    let times = times.min(fit).min(left.bins[column.bin].limit);
    if times <= 0 {
        return false;
    }
    left.cut(column.bin, &column.cut, times);
    uses.push(Use { bin: column.bin, cut: column.cut.clone(), times });
    true
}
