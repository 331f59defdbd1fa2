//! The search that closes a gap: stock piece after stock piece, each with a pattern that takes the longest piece left.
//!
//! What the pieces left are worth (`bounds::Worth`) says how much waste the rest of the plan can bear, and most patterns
//! are passed over by it. Steps are counted; a search that ends before they run out and finds nothing proves that
//! there is nothing.

use super::bounds::{Worth, total};
use super::knapsack::Bag;
use super::shop::{Cut, Shop, Use, less};
use rustc_hash::FxHashMap;

/// Most stock pieces that a search goes through: it is as deep as a plan is long.
const DEEPEST: i128 = 400;

/// Most patterns tried for one stock piece.
const PATTERNS: usize = 600;

/// Most failed states remembered.
const REMEMBERED: usize = 60_000;

/// How a search ended.
pub(super) enum Outcome {
    /// A plan within the budget.
    Found(Vec<Use>),
    /// There is none.
    None,
    /// Steps, depth or patterns ran out.
    Stopped,
}

struct Search<'a> {
    shop: &'a Shop,
    worths: &'a [Worth],
    bags: &'a [Bag<'a>],
    steps: &'a mut u64,
    /// Whether something was left untried.
    short: bool,
    /// States that led to nothing, with the budget that was not enough.
    failed: FxHashMap<Box<[i64]>, i128>,
    /// The state looked up among them.
    key: Vec<i64>,
    path: Vec<(usize, Cut)>,
}

/// What is left: pieces, stock, money, and what the pieces are worth by each worth.
struct State {
    left: Vec<i64>,
    stock: Vec<i64>,
    budget: i128,
    worth: Vec<i128>,
}

/// A pattern in the making.
struct Making {
    bin: usize,
    counts: Vec<(u32, i64)>,
    rest: i64,
    /// How much more the rest of the plan may waste after it, by each worth.
    slack: Vec<i128>,
    found: Vec<(i128, usize, Cut)>,
}

/// A plan for what the shop wants that costs at most `budget`. The worths must hold for the shop's stock, for at least
/// such counts; so must their bags, one for each.
pub(super) fn search(shop: &Shop, worths: &[Worth], bags: &[Bag<'_>], budget: i128, steps: &mut u64) -> Outcome {
    let cheapest = shop.bins.iter().map(|b| i128::from(b.cost)).min().unwrap_or(1);
    if budget / cheapest.max(1) > DEEPEST {
        return Outcome::Stopped;
    }
    let mut state = State {
        left: shop.counts.clone(),
        stock: shop.bins.iter().map(|b| b.limit).collect(),
        budget,
        worth: worths.iter().map(|w| total(&w.of, &shop.counts)).collect(),
    };
    let (failed, key, path) = (FxHashMap::default(), Vec::new(), Vec::new());
    let mut search = Search { shop, worths, bags, steps, short: false, failed, key, path };
    if search.go(&mut state) {
        let uses = search.path.into_iter().map(|(bin, cut)| Use { bin, cut, times: 1 });
        return Outcome::Found(uses.collect());
    }
    if search.short { Outcome::Stopped } else { Outcome::None }
}

impl Search<'_> {
    /// Whether what is left can be cut within the budget; the way is in `path`. Leaves the state as it was.
    fn go(&mut self, state: &mut State) -> bool {
        let Some(first) = state.left.iter().position(|n| *n > 0) else { return state.budget >= 0 };
        let over = |(worth, of): (&i128, &Worth)| *worth > state.budget * of.one;
        if state.budget <= 0 || state.worth.iter().zip(self.worths).any(over) {
            return false;
        }
        self.key.clear();
        self.key.extend(state.left.iter().chain(&state.stock));
        if self.failed.get(self.key.as_slice()).is_some_and(|budget| *budget >= state.budget) {
            return false;
        }
        if *self.steps == 0 {
            self.short = true;
            return false;
        }
        *self.steps -= 1;
        for (_, bin, cut) in self.patterns(state, first) {
            let before = self.take(state, bin, &cut);
            self.path.push((bin, cut));
            if self.go(state) {
                return true;
            }
            if let Some((_, cut)) = self.path.pop() {
                self.give_back(state, bin, &cut, before);
            }
            if *self.steps == 0 {
                self.short = true;
                return false;
            }
        }
        if !self.short && self.failed.len() < REMEMBERED {
            let key: Box<[i64]> = state.left.iter().chain(&state.stock).copied().collect();
            self.failed.insert(key, state.budget);
        }
        false
    }

    /// Cuts a pattern from the pieces left; what there was of its stock before.
    fn take(&self, state: &mut State, bin: usize, cut: &Cut) -> i64 {
        self.count(state, cut, -1);
        state.budget -= i128::from(self.shop.bins[bin].cost);
        let before = state.stock[bin];
        state.stock[bin] = less(before, 1);
        before
    }

    /// Undoes [`Search::take`].
    fn give_back(&self, state: &mut State, bin: usize, cut: &Cut, before: i64) {
        self.count(state, cut, 1);
        state.budget += i128::from(self.shop.bins[bin].cost);
        state.stock[bin] = before;
    }

    fn count(&self, state: &mut State, cut: &Cut, sign: i64) {
        for (size, n) in cut {
            let at = *size as usize;
            state.left[at] += sign * n;
            for (sum, of) in state.worth.iter_mut().zip(self.worths) {
                *sum += i128::from(of.of[at]) * i128::from(sign * n);
            }
        }
    }

    /// Patterns that take the first piece, to which nothing that is left can be added and after which the budget can
    /// still reach; those that waste least come first.
    fn patterns(&mut self, state: &State, first: usize) -> Vec<(i128, usize, Cut)> {
        let wanted: Vec<usize> = (first..state.left.len()).filter(|i| state.left[*i] > 0).collect();
        let mut found = Vec::new();
        for (bin, of) in self.shop.bins.iter().enumerate() {
            if state.stock[bin] == 0 || of.capacity < self.shop.sizes[first] {
                continue;
            }
            let after = state.budget - i128::from(of.cost);
            // worth that the pattern must take, so that the rest is within what is left of the budget
            let slack = state.worth.iter().zip(self.worths).map(|(w, o)| after * o.one - w).collect();
            let mut making = Making { bin, counts: Vec::new(), rest: of.capacity, slack, found: Vec::new() };
            self.make(state, &wanted, 0, &mut making);
            found.append(&mut making.found);
        }
        found.sort_by(|a, b| a.0.cmp(&b.0).then(b.2.cmp(&a.2)).then(a.1.cmp(&b.1)));
        found
    }

    /// Patterns that go on from the pieces taken so far with sizes from a place on.
    fn make(&mut self, state: &State, wanted: &[usize], at: usize, making: &mut Making) {
        if making.found.len() >= PATTERNS || *self.steps == 0 {
            self.short = true;
            return;
        }
        *self.steps -= 1;
        if at > 0 && making.slack.iter().all(|s| *s >= 0) && self.nothing_fits(state, wanted, making) {
            let rank = making.slack.last().map_or(0, |s| -s);
            making.found.push((rank, making.bin, making.counts.clone()));
        }
        let fits = at + wanted[at..].partition_point(|i| self.shop.sizes[*i] > making.rest);
        for next in fits..if at == 0 { 1 } else { wanted.len() } {
            let size = wanted[next];
            let short = |(slack, bag): (&i128, &Bag<'_>)| slack + i128::from(bag.most_after(size, making.rest)) < 0;
            if making.slack.iter().zip(self.bags).any(short) {
                return;
            }
            for n in (1..=state.left[size].min(making.rest / self.shop.sizes[size])).rev() {
                self.add(making, size, n);
                self.make(state, wanted, next + 1, making);
                self.add(making, size, -n);
            }
        }
    }

    /// Whether nothing that is left can be added to a pattern.
    fn nothing_fits(&self, state: &State, wanted: &[usize], making: &Making) -> bool {
        let taken = |i: usize| making.counts.iter().find(|c| c.0 as usize == i).map_or(0, |c| c.1);
        let fitting = wanted.iter().rev().take_while(|i| self.shop.sizes[**i] <= making.rest);
        fitting.into_iter().all(|i| state.left[*i] == taken(*i))
    }

    /// Adds pieces to a pattern, or takes them out again.
    fn add(&self, making: &mut Making, size: usize, n: i64) {
        making.rest -= n * self.shop.sizes[size];
        for (slack, worth) in making.slack.iter_mut().zip(self.worths) {
            *slack += i128::from(worth.of[size]) * i128::from(n);
        }
        let index = u32::try_from(size).unwrap_or(u32::MAX);
        match n {
            0 => {}
            1.. => making.counts.push((index, n)),
            _ => {
                making.counts.pop();
            }
        }
    }
}
