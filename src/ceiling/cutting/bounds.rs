//! Proved bounds from below, in whole numbers alone.

use super::shop::{Shop, UNLIMITED};

/// One in the scale in which a worth is written.
pub(super) const ONE: i64 = 1 << 34;

/// What a piece of each size is worth at least: no pattern of stock `s` is worth more than `cost(s) * one`, so that
/// what is wanted costs at least all that it is worth, over `one`.
#[derive(Clone, Debug)]
pub(super) struct Worth {
    pub of: Vec<i64>,
    pub one: i128,
}

impl Worth {
    /// By size alone: stock cannot be more than full.
    pub fn by_size(shop: &Shop) -> Self {
        let scale = ONE / shop.bins.iter().map(|b| b.capacity).max().unwrap_or(1).clamp(1, ONE);
        let scale = scale.max(1);
        let of = shop.sizes.iter().map(|s| s * scale).collect();
        let most: Vec<i64> = shop.bins.iter().map(|b| b.capacity * scale).collect();
        Self { of, one: one(shop, &most) }
    }

    /// From any worths, none below zero, by what the best pattern of each stock is worth; with the bound that they
    /// prove.
    pub fn proved(shop: &Shop, of: Vec<i64>, most: &[i64]) -> (Self, i128) {
        let worth = Self { of, one: one(shop, most) };
        let mut bound = worth.bound(shop);
        // scarce stock: what its patterns are worth beyond their cost is lost at most as often as there is stock
        let plenty: Vec<usize> = (0..shop.bins.len()).filter(|b| shop.bins[*b].limit == UNLIMITED).collect();
        if plenty.len() < shop.bins.len() {
            let over = |one: i128, b: usize| i128::from(most[b]) - i128::from(shop.bins[b].cost) * one;
            let least = plenty.iter().map(|b| per_cost(most[*b], shop.bins[*b].cost)).max().unwrap_or(1);
            for one in [least.max(1), i128::from(ONE) / dearest(shop)] {
                if one <= 0 || plenty.iter().any(|b| over(one, *b) > 0) {
                    continue;
                }
                let lost: i128 = (0..shop.bins.len())
                    .filter(|b| shop.bins[*b].limit != UNLIMITED)
                    .map(|b| over(one, b).max(0) * i128::from(shop.bins[b].limit))
                    .sum();
                bound = bound.max(stepped(shop, ceil(total(&worth.of, &shop.counts) - lost, one)));
            }
        }
        (worth, bound)
    }

    /// The least that all that is wanted can cost.
    pub fn bound(&self, shop: &Shop) -> i128 {
        stepped(shop, ceil(total(&self.of, &shop.counts), self.one))
    }
}

/// What sizes are worth in such counts.
pub(super) fn total(worth: &[i64], counts: &[i64]) -> i128 {
    worth.iter().zip(counts).map(|(w, n)| i128::from(*w) * i128::from(*n)).sum()
}

fn ceil(above: i128, below: i128) -> i128 {
    num_integer::Integer::div_ceil(&above, &below.max(1))
}

fn per_cost(most: i64, cost: i64) -> i128 {
    ceil(i128::from(most), i128::from(cost))
}

fn dearest(shop: &Shop) -> i128 {
    i128::from(shop.bins.iter().map(|b| b.cost).max().unwrap_or(1))
}

/// The least scale in which no pattern is worth more than its stock costs.
fn one(shop: &Shop, most: &[i64]) -> i128 {
    most.iter().zip(&shop.bins).map(|(m, b)| per_cost(*m, b.cost)).max().unwrap_or(1).max(1)
}

/// Up to the next cost that a number of stock pieces can have.
fn stepped(shop: &Shop, cost: i128) -> i128 {
    let step = shop.cost_step();
    ceil(cost, step) * step
}

/// The least cost that sizes alone prove, and the worths that serve the search.
pub(super) fn by_sizes(shop: &Shop) -> (i128, Worth) {
    let worth = Worth::by_size(shop);
    let cheapest = shop.bins.iter().map(|b| b.cost).min().unwrap_or(0);
    let pieces = least_pieces(shop);
    (worth.bound(shop).max(stepped(shop, pieces * i128::from(cheapest))), worth)
}

/// Fewest stock pieces, each taken as long as the longest: pieces over half of it lie alone, and what is shorter fills
/// what they leave (the bound L2 of Martello and Toth, *Knapsack Problems*, 1990, chapter 8).
pub(super) fn least_pieces(shop: &Shop) -> i128 {
    let capacity = i128::from(shop.bins.iter().map(|b| b.capacity).max().unwrap_or(1));
    let sizes: Vec<(i128, i128)> =
        shop.sizes.iter().zip(&shop.counts).map(|(s, n)| (i128::from(*s), i128::from(*n))).collect();
    let large = sizes.partition_point(|s| 2 * s.0 > capacity);
    let (halves, smaller) = sizes.split_at(large);
    let many: i128 = halves.iter().map(|s| s.1).sum();
    let area: i128 = halves.iter().map(|s| s.0 * s.1).sum();
    let mut best = many;
    // those so long that a piece of `least` no longer fits beside them
    let (mut alone, mut alone_area, mut at) = (many, area, large);
    let mut small = 0;
    for (least, count) in smaller {
        while at > 0 && halves[at - 1].0 <= capacity - least {
            at -= 1;
            alone -= halves[at].1;
            alone_area -= halves[at].0 * halves[at].1;
        }
        small += least * count;
        let room = (many - alone) * capacity - (area - alone_area);
        best = best.max(many + ceil((small - room).max(0), capacity));
    }
    best
}

#[cfg(test)]
mod tests {
    use super::super::knapsack::Bag;
    use super::super::shop::{Bin, UNLIMITED};
    use super::*;

    fn shop(capacity: i64, pieces: &[(i64, i64)]) -> Shop {
        let (sizes, counts) = pieces.iter().copied().unzip();
        Shop { bins: vec![Bin { capacity, cost: 1, limit: UNLIMITED }], sizes, counts }
    }

    #[test]
    fn bounds_from_sizes() {
        let pieces = shop(100, &[(70, 1), (60, 1), (50, 1), (33, 3), (11, 1), (7, 1), (3, 1)]);
        // 300 in all, so 3 by size; but 33 does not fit beside 70, and 50 + 99 take 109 more than the 40 beside 60
        assert_eq!(Worth::by_size(&pieces).bound(&pieces), 3);
        assert_eq!(by_sizes(&pieces).0, 4);
        // five of 51 lie alone though they are 255 in all
        assert_eq!(by_sizes(&shop(100, &[(51, 5)])).0, 5);
        // 4 × 60 leave 40 each; 45s fit beside none of them: 4 + 1 for two of 45
        assert_eq!(least_pieces(&shop(100, &[(60, 4), (45, 2)])), 5);
        // 40s fit beside them: 4
        assert_eq!(least_pieces(&shop(100, &[(60, 4), (40, 4)])), 4);
        assert_eq!(least_pieces(&shop(100, &[(60, 4), (40, 5)])), 5);
    }

    /// By hand: 10 pieces of 60 from stock of 100 at 5 or of 130 at 6: alone 10 × 5 = 50, in pairs 5 × 6 = 30.
    #[test]
    fn any_worth_proves_a_bound() {
        let bin = |capacity, cost| Bin { capacity, cost, limit: UNLIMITED };
        let pieces = Shop { bins: vec![bin(100, 5), bin(130, 6)], sizes: vec![60], counts: vec![10] };
        let worth = vec![ONE];
        let most: Vec<i64> = (0..2).map(|bin| Bag::new(&pieces, &worth).best(bin).most).collect();
        assert_eq!(most, [ONE, 2 * ONE]);
        let (_, bound) = Worth::proved(&pieces, worth, &most);
        assert_eq!(bound, 30);
        // with two of the long ones: 2 × 6 + 6 × 5 = 42
        let scarce = Shop { bins: vec![bin(100, 5), Bin { limit: 2, ..bin(130, 6) }], ..pieces };
        let (_, bound) = Worth::proved(&scarce, vec![ONE], &most);
        assert_eq!(bound, 42);
    }
}
