//! How many stock pieces a job's cut pieces take: first fit, longest first, over all pieces of the job.
//!
//! Pieces of one length are handled together, and bins that are filled alike are kept as one group, so that a
//! hundred thousand rooms take no longer than their distinct lengths.

/// Groups of bins in one stretch of the list before it is parted.
const STRETCH: usize = 256;

/// Bins filled alike that follow one another.
#[derive(Clone, Copy, Debug)]
struct Group {
    /// What is left of each.
    rest: i64,
    /// How many.
    bins: i64,
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

/// Number of stock pieces of length `stock` for pieces given as (length, count), by first fit with the longest
/// first. A piece may overrun what is left by `slack`. `None` when a piece is longer than stock, a length is zero
/// or below, or a number leaves 64 bits.
pub(crate) fn stock_pieces(stock: i64, slack: i64, pieces: &[(i64, i64)]) -> Option<i64> {
    let mut pieces: Vec<(i64, i64)> = pieces.iter().copied().filter(|p| p.1 > 0).collect();
    pieces.sort_unstable_by_key(|p| std::cmp::Reverse(p.0));
    let mut list: Vec<Stretch> = Vec::new();
    let mut opened = 0i64;
    for (length, count) in pieces {
        if length <= 0 || length > stock.checked_add(slack)? {
            return None;
        }
        let mut left = count;
        for stretch in &mut list {
            if left == 0 {
                break;
            }
            if stretch.most.checked_add(slack)? >= length {
                left = fill(stretch, length, slack, left)?;
            }
        }
        part(&mut list);
        if left > 0 {
            let each = fits(stock, slack, length)?;
            let (full, odd) = (left / each, left % each);
            opened = opened.checked_add(full)?.checked_add(i64::from(odd > 0))?;
            let used = |n: i64| length.checked_mul(n).and_then(|u| stock.checked_sub(u));
            if full > 0 {
                push(&mut list, Group { rest: used(each)?, bins: full });
            }
            if odd > 0 {
                push(&mut list, Group { rest: used(odd)?, bins: 1 });
            }
        }
    }
    Some(opened)
}

/// How many pieces go into what is left.
fn fits(rest: i64, slack: i64, length: i64) -> Option<i64> {
    Some(rest.checked_add(slack)? / length)
}

/// Puts pieces into the groups of a stretch, first fit; what does not go in is given back.
fn fill(stretch: &mut Stretch, length: i64, slack: i64, count: i64) -> Option<i64> {
    let mut left = count;
    let mut i = 0;
    while i < stretch.groups.len() && left > 0 {
        let group = stretch.groups[i];
        let each = fits(group.rest, slack, length)?;
        if each <= 0 {
            i += 1;
            continue;
        }
        let full = (left / each).min(group.bins);
        let odd = if full < group.bins { left - full * each } else { 0 };
        let mut parts = Vec::with_capacity(3);
        if full > 0 {
            parts.push(Group { rest: group.rest - each * length, bins: full });
        }
        if odd > 0 {
            parts.push(Group { rest: group.rest - odd * length, bins: 1 });
        }
        let untouched = group.bins - full - i64::from(odd > 0);
        if untouched > 0 {
            parts.push(Group { rest: group.rest, bins: untouched });
        }
        left -= full * each + odd;
        let added = parts.len();
        stretch.groups.splice(i..=i, parts);
        i += added;
    }
    stretch.measure();
    Some(left)
}

fn push(list: &mut Vec<Stretch>, group: Group) {
    if list.last().is_none_or(|s| s.groups.len() >= STRETCH) {
        list.push(Stretch::default());
    }
    if let Some(last) = list.last_mut() {
        last.groups.push(group);
        last.measure();
    }
}

/// Parts stretches that have grown long.
fn part(list: &mut Vec<Stretch>) {
    let mut i = 0;
    while i < list.len() {
        if list[i].groups.len() > 2 * STRETCH {
            let mut second = Stretch { groups: list[i].groups.split_off(STRETCH), most: 0 };
            second.measure();
            list[i].measure();
            list.insert(i + 1, second);
        }
        i += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Textbook and published first-fit-decreasing counts (design/5-outside-checks, section 5).
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
        assert_eq!(stock_pieces(5600, 0, &textbook), Some(82));
        assert_eq!(stock_pieces(100, 0, &[(45, 97), (36, 610), (31, 395), (14, 211)]), Some(485));
        assert_eq!(stock_pieces(100, 0, &[(50, 2), (60, 1), (30, 1), (70, 1), (40, 1)]), Some(3));
        assert_eq!(stock_pieces(100, 0, &[(70, 1), (60, 1), (50, 1), (33, 3), (11, 1), (7, 1), (3, 1)]), Some(4));
    }

    #[test]
    fn a_piece_longer_than_stock_is_not_cut() {
        assert_eq!(stock_pieces(100, 0, &[(101, 1)]), None);
        assert_eq!(stock_pieces(100, 1, &[(101, 1)]), Some(1));
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
            // pieces of one length given twice are still one length
            prop_assert_eq!(stock_pieces(100, 0, &pieces), Some(one_by_one(100, &pieces)));
        }
    }

    #[test]
    fn many_distinct_lengths_are_parted_and_still_count_right() {
        let pieces: Vec<(i64, i64)> = (1..=3000).map(|l| (l, 1 + l % 3)).collect();
        assert_eq!(stock_pieces(3000, 0, &pieces), Some(one_by_one(3000, &pieces)));
    }
}
