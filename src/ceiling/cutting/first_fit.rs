//! First fit, longest first: the start and the fall-back of every plan.
//!
//! Pieces of one length are handled together, and stock pieces that are cut alike are kept as one group, so that a
//! hundred thousand pieces take no longer than their distinct lengths.

use super::shop::{Cut, Shop, Use, less};

/// Groups in one stretch of the list before it is parted.
const STRETCH: usize = 256;

/// Most different lengths for which patterns are filled one after the other.
const MOST_FILLED: usize = 2_000;

/// No pieces yet.
const START: u32 = u32::MAX;

/// Stock pieces cut alike that follow one another.
#[derive(Clone, Copy, Debug)]
struct Group {
    /// What is left of each.
    rest: i64,
    /// How many stock pieces.
    bins: i64,
    /// Index of the last pieces cut from each; those before are found through it.
    last: u32,
}

/// A stretch of the list of groups, with the most that any of them has left.
#[derive(Debug, Default)]
struct Stretch {
    groups: Vec<Group>,
    most: i64,
}

impl Stretch {
    fn measure(&mut self) {
        self.most = self.groups.iter().map(|g| g.rest).max().unwrap_or(i64::MIN);
    }
}

/// The list, and the pieces cut so far: (pieces before, index of size, number).
#[derive(Default)]
struct Fit {
    list: Vec<Stretch>,
    pieces: Vec<(u32, u32, i64)>,
}

/// Every piece from stock of one bin, by first fit with the longest first; `None` where one does not fit in, there is
/// not enough stock, or the patterns are too many to keep.
pub(super) fn first_fit(shop: &Shop, bin: usize) -> Option<Vec<Use>> {
    let stock = shop.bins[bin].capacity;
    let mut fit = Fit::default();
    let mut opened = 0i64;
    for (index, (size, count)) in (0u32..).zip(shop.sizes.iter().zip(&shop.counts)) {
        if *count == 0 {
            continue;
        }
        if *size > stock {
            return None;
        }
        let mut left = *count;
        for at in 0..fit.list.len() {
            if left == 0 {
                break;
            }
            if fit.list[at].most >= *size {
                left = fit.fill(at, index, *size, left)?;
            }
        }
        fit.part();
        if left > 0 {
            let each = stock / size;
            for (n, bins) in [(each, left / each), (left % each, 1)] {
                if n > 0 && bins > 0 {
                    opened = opened.checked_add(bins)?;
                    let last = fit.cut(START, index, n)?;
                    fit.push(Group { rest: stock - n * size, bins, last });
                }
            }
        }
    }
    (opened <= shop.bins[bin].limit).then(|| fit.uses(bin))
}

impl Fit {
    fn cut(&mut self, before: u32, size: u32, n: i64) -> Option<u32> {
        let at = u32::try_from(self.pieces.len()).ok().filter(|at| *at < START)?;
        self.pieces.push((before, size, n));
        Some(at)
    }

    /// Puts pieces into the groups of a stretch, first fit; what does not go in is given back.
    fn fill(&mut self, stretch: usize, index: u32, size: i64, count: i64) -> Option<i64> {
        let mut left = count;
        let mut i = 0;
        while i < self.list[stretch].groups.len() && left > 0 {
            let group = self.list[stretch].groups[i];
            let each = group.rest / size;
            if each <= 0 {
                i += 1;
                continue;
            }
            let full = (left / each).min(group.bins);
            let odd = if full < group.bins { left - full * each } else { 0 };
            let mut parts = Vec::with_capacity(3);
            for (n, bins) in [(each, full), (odd, 1)] {
                if n > 0 && bins > 0 {
                    let last = self.cut(group.last, index, n)?;
                    parts.push(Group { rest: group.rest - n * size, bins, last });
                }
            }
            let untouched = group.bins - full - i64::from(odd > 0);
            if untouched > 0 {
                parts.push(Group { bins: untouched, ..group });
            }
            left -= full * each + odd;
            let added = parts.len();
            self.list[stretch].groups.splice(i..=i, parts);
            i += added;
        }
        self.list[stretch].measure();
        Some(left)
    }

    fn push(&mut self, group: Group) {
        if self.list.last().is_none_or(|s| s.groups.len() >= STRETCH) {
            self.list.push(Stretch::default());
        }
        if let Some(last) = self.list.last_mut() {
            last.groups.push(group);
            last.most = last.groups.iter().map(|g| g.rest).max().unwrap_or(i64::MIN);
        }
    }

    /// Parts stretches that have grown long.
    fn part(&mut self) {
        let mut i = 0;
        while i < self.list.len() {
            if self.list[i].groups.len() > 2 * STRETCH {
                let mut second = Stretch { groups: self.list[i].groups.split_off(STRETCH), most: 0 };
                second.measure();
                self.list[i].measure();
                self.list.insert(i + 1, second);
            }
            i += 1;
        }
    }

    fn uses(&self, bin: usize) -> Vec<Use> {
        let groups = self.list.iter().flat_map(|s| &s.groups);
        groups.map(|g| Use { bin, cut: self.cut_of(g.last), times: g.bins }).collect()
    }

    fn cut_of(&self, last: u32) -> Cut {
        let mut cut = Vec::new();
        let mut at = last;
        while let Some((before, size, n)) = self.pieces.get(at as usize) {
            cut.push((*size, *n));
            at = *before;
        }
        cut.reverse();
        cut
    }
}

/// Stock piece after stock piece filled with the longest that fit, each time from the stock whose filling costs least
/// for its length. `None` where the stock does not reach, or the lengths are too many.
pub(super) fn filled(shop: &Shop) -> Option<Vec<Use>> {
    if shop.sizes.len() > MOST_FILLED {
        return None;
    }
    let mut left = shop.counts.clone();
    let mut stock: Vec<i64> = shop.bins.iter().map(|b| b.limit).collect();
    let mut uses = Vec::new();
    while let Some(first) = left.iter().position(|n| *n > 0) {
        let mut best: Option<(usize, Cut, i64)> = None;
        for (bin, of) in shop.bins.iter().enumerate() {
            if stock[bin] == 0 || of.capacity < shop.sizes[first] {
                continue;
            }
            let cut = greedy(shop, &left, of.capacity);
            let used = shop.used(&cut);
            let dearer = |(b, _, u): &(usize, Cut, i64)| {
                i128::from(of.cost) * i128::from(*u) < i128::from(shop.bins[*b].cost) * i128::from(used)
            };
            if best.as_ref().is_none_or(dearer) {
                best = Some((bin, cut, used));
            }
        }
        let (bin, cut, _) = best?;
        let times = cut.iter().map(|(i, n)| left[*i as usize] / n).min().unwrap_or(1).min(stock[bin]);
        take(&mut left, &cut, times);
        stock[bin] = less(stock[bin], times);
        uses.push(Use { bin, cut, times });
    }
    Some(uses)
}

/// What goes into a capacity, longest first.
pub(super) fn greedy(shop: &Shop, left: &[i64], capacity: i64) -> Cut {
    let mut rest = capacity;
    let mut cut = Vec::new();
    for (index, (size, n)) in (0u32..).zip(shop.sizes.iter().zip(left)) {
        let n = (rest / size).min(*n);
        if n > 0 {
            rest -= n * size;
            cut.push((index, n));
        }
    }
    cut
}

/// Takes what patterns cut from what is left.
pub(super) fn take(left: &mut [i64], cut: &[(u32, i64)], times: i64) {
    for (size, n) in cut {
        left[*size as usize] -= n * times;
    }
}

/// Changes each pattern to the cheapest stock that holds it, as far as there is stock.
pub(super) fn cheapen(shop: &Shop, uses: Vec<Use>) -> Vec<Use> {
    if shop.bins.len() == 1 {
        return uses;
    }
    let mut stock: Vec<i64> = shop.bins.iter().map(|b| b.limit).collect();
    for one in &uses {
        stock[one.bin] = less(stock[one.bin], one.times);
    }
    let mut order: Vec<usize> = (0..shop.bins.len()).collect();
    order.sort_by_key(|b| (shop.bins[*b].cost, *b));
    let mut out: Vec<Use> = Vec::with_capacity(uses.len());
    for mut one in uses {
        let used = shop.used(&one.cut);
        let own = shop.bins[one.bin].cost;
        for bin in order.iter().copied().take_while(|b| shop.bins[*b].cost < own) {
            let times = one.times.min(stock[bin]);
            if shop.bins[bin].capacity < used || times <= 0 {
                continue;
            }
            stock[bin] = less(stock[bin], times);
            stock[one.bin] = less(stock[one.bin], -times);
            out.push(Use { bin, cut: one.cut.clone(), times });
            one.times -= times;
            if one.times == 0 {
                break;
            }
        }
        if one.times > 0 {
            out.push(one);
        }
    }
    out
}

/// The cheapest plan that the quick ways give.
pub(super) fn quick(shop: &Shop) -> Option<Vec<Use>> {
    let single = (0..shop.bins.len()).filter_map(|bin| first_fit(shop, bin));
    single.chain(filled(shop)).map(|uses| cheapen(shop, uses)).min_by_key(|uses| shop.cost(uses))
}

#[cfg(test)]
mod tests {
    use super::super::shop::{Bin, UNLIMITED};
    use super::*;
    use proptest::prelude::*;

    fn shop(capacity: i64, pieces: &[(i64, i64)]) -> Shop {
        let mut by_size = std::collections::BTreeMap::new();
        for (size, count) in pieces {
            *by_size.entry(*size).or_insert(0) += count;
        }
        let bins = vec![Bin { capacity, cost: 1, limit: UNLIMITED }];
        let (sizes, counts) = by_size.into_iter().rev().unzip();
        Shop { bins, sizes, counts }
    }

    /// Stock pieces by first fit, after it is checked that they hold just what is wanted.
    fn count(capacity: i64, pieces: &[(i64, i64)]) -> i64 {
        let shop = shop(capacity, pieces);
        let uses = first_fit(&shop, 0).unwrap();
        assert!(shop.serves(&uses), "{uses:?}");
        uses.iter().map(|u| u.times).sum()
    }

    /// Textbook and published first-fit-decreasing counts: the sources stand in tests/cutting.rs.
    #[test]
    fn published_first_fit_counts() {
        let textbook = [
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
        assert_eq!(count(5600, &textbook), 82);
        assert_eq!(count(100, &[(45, 97), (36, 610), (31, 395), (14, 211)]), 485);
        assert_eq!(count(100, &[(50, 2), (60, 1), (30, 1), (70, 1), (40, 1)]), 3);
        assert_eq!(count(100, &[(70, 1), (60, 1), (50, 1), (33, 3), (11, 1), (7, 1), (3, 1)]), 4);
    }

    #[test]
    fn a_piece_longer_than_stock_is_not_cut() {
        assert_eq!(first_fit(&shop(100, &[(101, 1)]), 0), None);
    }

    fn one_by_one(stock: i64, pieces: &[(i64, i64)]) -> i64 {
        let mut all: Vec<i64> = pieces.iter().flat_map(|(l, n)| (0..*n).map(|_| *l)).collect();
        all.sort_unstable_by_key(|l| std::cmp::Reverse(*l));
        let mut bins: Vec<i64> = Vec::new();
        for piece in all {
            match bins.iter_mut().find(|b| **b >= piece) {
                Some(bin) => *bin -= piece,
                None => bins.push(stock - piece),
            }
        }
        i64::try_from(bins.len()).unwrap()
    }

    proptest! {
        #[test]
        fn groups_count_as_one_by_one(pieces in proptest::collection::vec((1i64..=100, 0i64..30), 0..40)) {
            prop_assert_eq!(count(100, &pieces), one_by_one(100, &pieces));
        }
    }

    #[test]
    fn many_distinct_lengths_are_parted_and_still_count_right() {
        let pieces: Vec<(i64, i64)> = (1..=3000).map(|l| (l, 1 + l % 3)).collect();
        assert_eq!(count(3000, &pieces), one_by_one(3000, &pieces));
    }
}
