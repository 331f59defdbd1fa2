//! The pattern worth most: an exact knapsack on whole numbers.
//!
//! A table gives, for what is left of a stock piece and the sizes from some place on, the most that they can be worth.
//! Where the sizes have a coarse enough common measure the table is exact; where not, sizes are rounded down to a
//! grain, and it is a bound from above. A walk that the table guides finds the pattern, and proves it best unless its
//! steps run out; then the table's bound stands in its place.

use super::shop::{Cut, Shop};

/// Cells of a table that guides the walk to one pattern.
const COARSE: i64 = 32_000;

/// Cells of a table that serves many patterns, or a walk that a coarse one did not guide to its end.
const FINE: i64 = 400_000;

/// Fewest cells of one row of it.
const LEAST_CELLS: i64 = 256;

/// Steps of the walk for one pattern.
const STEPS: u32 = 50_000;

/// Sizes cut so seldom that the table counts them one by one.
const FEW: i64 = 4;

/// Sizes with what they are worth.
pub(super) struct Bag<'a> {
    shop: &'a Shop,
    /// Sizes worth something that are wanted, longest first.
    of: Vec<usize>,
    /// For each size of the shop, where the sizes that come after it begin in the table.
    after: Vec<usize>,
    worth: &'a [i64],
    /// Greatest common measure of the sizes.
    measure: i64,
    grain: i64,
    row: usize,
    table: Vec<i64>,
}

/// A pattern, what it is worth, and what none is worth more than.
pub(super) struct Packed {
    pub cut: Cut,
    pub worth: i64,
    pub most: i64,
}

/// The walk's state.
struct Walk {
    steps: u32,
    chosen: Vec<i64>,
    best: i64,
    kept: Vec<i64>,
}

impl<'a> Bag<'a> {
    /// A bag for the best patterns; a finer one answers where it does not find them. `worth` is for each size, none
    /// below zero.
    pub fn new(shop: &'a Shop, worth: &'a [i64]) -> Self {
        Self::of_cells(shop, worth, COARSE)
    }

    /// A bag for many questions.
    pub fn fine(shop: &'a Shop, worth: &'a [i64]) -> Self {
        Self::of_cells(shop, worth, FINE)
    }

    fn of_cells(shop: &'a Shop, worth: &'a [i64], cells: i64) -> Self {
        let of: Vec<usize> = (0..shop.sizes.len()).filter(|i| worth[*i] > 0 && shop.counts[*i] > 0).collect();
        let capacity = shop.bins.iter().map(|b| b.capacity).max().unwrap_or(0);
        let measure = of.iter().fold(0, |g, i| num_integer::gcd(g, shop.sizes[*i])).max(1);
        let cells = (cells / i64::try_from(of.len().max(1)).unwrap_or(cells)).max(LEAST_CELLS);
        let grain = measure.max((capacity + cells - 1) / cells);
        let row = usize::try_from(capacity / grain).unwrap_or(0) + 1;
        let after = (0..shop.sizes.len()).map(|size| row * of.partition_point(|i| *i < size)).collect();
        let mut bag = Self { shop, of, after, worth, measure, grain, row, table: Vec::new() };
        bag.fill();
        bag
    }

    /// Fills the table from the last size up.
    fn fill(&mut self) {
        self.table = vec![0; self.row * (self.of.len() + 1)];
        for at in (0..self.of.len()).rev() {
            let (size, count, worth) = self.of(at);
            let (upper, below) = self.table.split_at_mut(self.row * (at + 1));
            let (here, below) = (&mut upper[self.row * at..], &below[..self.row]);
            let weight = usize::try_from(size / self.grain).unwrap_or(usize::MAX);
            if weight == 0 {
                // finer than a grain: as many as the whole stretch of the cell can hold
                for (cell, (here, below)) in (0i64..).zip(here.iter_mut().zip(below)) {
                    let most = ((cell + 1) * self.grain - 1) / size;
                    *here = below.saturating_add(worth.saturating_mul(most.min(count)));
                }
                continue;
            }
            here.copy_from_slice(below);
            if count <= FEW {
                for n in 1..=usize::try_from(count).unwrap_or(0) {
                    let Some(longer) = here.get_mut(n.saturating_mul(weight)..) else { break };
                    let worth = worth.saturating_mul(i64::try_from(n).unwrap_or(i64::MAX));
                    for (here, below) in longer.iter_mut().zip(below) {
                        *here = (*here).max(below.saturating_add(worth));
                    }
                }
                continue;
            }
            for cell in weight..self.row {
                here[cell] = here[cell].max(here[cell - weight].saturating_add(worth));
            }
        }
    }

    fn of(&self, at: usize) -> (i64, i64, i64) {
        let i = self.of[at];
        (self.shop.sizes[i], self.shop.counts[i], self.worth[i])
    }

    /// The most that the sizes from a place on are worth in what is left.
    fn most(&self, at: usize, rest: i64) -> i64 {
        usize::try_from(rest / self.grain)
            .ok()
            .and_then(|cell| self.table.get(self.row * at + cell))
            .copied()
            .unwrap_or(0)
    }

    /// The most that all sizes that come after one are worth in what is left: a bound from above.
    pub fn most_after(&self, size: usize, rest: i64) -> i64 {
        let cell = usize::try_from(rest / self.grain).ok().and_then(|cell| self.after[size].checked_add(cell));
        cell.and_then(|cell| self.table.get(cell)).copied().unwrap_or(0)
    }

    /// The pattern worth most in a stock piece of a bin.
    pub fn best(&self, bin: usize) -> Packed {
        let capacity = self.shop.bins[bin].capacity;
        let none = vec![0; self.of.len()];
        let mut walk = Walk { steps: STEPS, chosen: none.clone(), best: 0, kept: none };
        self.walk(&mut walk, 0, capacity, 0);
        let most = if walk.steps > 0 { walk.best } else { self.most(0, capacity) };
        let index = |at: usize| u32::try_from(self.of[at]).unwrap_or(u32::MAX);
        let cut = walk.kept.iter().enumerate().filter(|(_, n)| **n > 0).map(|(at, n)| (index(at), *n)).collect();
        Packed { cut, worth: walk.best, most }
    }

    /// Whether a finer table could say more.
    pub fn is_rough(&self) -> bool {
        self.grain > self.measure
    }

    fn walk(&self, walk: &mut Walk, at: usize, rest: i64, value: i64) {
        if value > walk.best {
            walk.best = value;
            walk.kept.clone_from(&walk.chosen);
        }
        if walk.steps == 0 || at == self.of.len() || value.saturating_add(self.most(at, rest)) <= walk.best {
            return;
        }
        walk.steps -= 1;
        let (size, count, worth) = self.of(at);
        let top = count.min(rest / size);
        let hope = |n: i64| worth.saturating_mul(n).saturating_add(self.most(at + 1, rest - n * size));
        // the most hopeful number first: where the table is exact it leads straight to the best pattern
        let first = (0..=top).max_by_key(|n| (hope(*n), *n)).unwrap_or(0);
        for n in std::iter::once(first).chain((0..=top).rev().filter(|n| *n != first)) {
            if value.saturating_add(hope(n)) > walk.best {
                walk.chosen[at] = n;
                self.walk(walk, at + 1, rest - n * size, value.saturating_add(n.saturating_mul(worth)));
                walk.chosen[at] = 0;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::shop::{Bin, UNLIMITED};
    use super::*;
    use proptest::prelude::*;

    fn slow(sizes: &[(i64, i64, i64)], rest: i64) -> i64 {
        let Some(((size, count, worth), others)) = sizes.split_first() else { return 0 };
        let top = (*count).min(rest / size);
        (0..=top).map(|n| n * worth + slow(others, rest - n * size)).max().unwrap_or(0)
    }

    proptest! {
        #[test]
        fn the_best_pattern_is_the_best(
            pieces in proptest::collection::btree_map(1i64..2_000_000_000, (0i64..7, 0i64..1000), 1..6),
            stretch in 1i64..3_000_000_000,
        ) {
            let all: Vec<(i64, i64, i64)> = pieces.iter().rev().map(|(s, (n, w))| (*s, *n, *w)).collect();
            let bins = vec![Bin { capacity: stretch, cost: 1, limit: UNLIMITED }];
            let shop = Shop { bins, sizes: all.iter().map(|p| p.0).collect(), counts: all.iter().map(|p| p.1).collect() };
            let worth: Vec<i64> = all.iter().map(|p| p.2).collect();
            let packed = Bag::new(&shop, &worth).best(0);
            prop_assert_eq!(packed.worth, slow(&all, stretch));
            prop_assert_eq!(packed.most, packed.worth);
            prop_assert!(shop.used(&packed.cut) <= stretch);
            let told: i64 = packed.cut.iter().map(|(i, n)| worth[*i as usize] * n).sum();
            prop_assert_eq!(told, packed.worth);
        }
    }
}
