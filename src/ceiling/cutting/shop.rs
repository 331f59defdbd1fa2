//! A job made ready for the search: each length once, longest first, with the saw's cut in it.

use super::job::{CutError, Job, MOST_COUNT, MOST_LENGTH, Splice};
use super::plan::Joined;
use std::collections::BTreeMap;

/// A stock length as the search sees it.
#[derive(Clone, Debug)]
pub(super) struct Bin {
    /// Length and one saw cut: the last piece needs none where it ends with the stock.
    pub capacity: i64,
    pub cost: i64,
    /// Most that can be had.
    pub limit: i64,
}

/// The job. `sizes` fall; a size is a piece and one saw cut.
#[derive(Clone, Debug)]
pub(super) struct Shop {
    pub bins: Vec<Bin>,
    pub sizes: Vec<i64>,
    pub counts: Vec<i64>,
}

/// How many of each size are cut from one stock piece: (index of size, number), longest first.
pub(super) type Cut = Vec<(u32, i64)>;

/// Stock pieces cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Use {
    pub bin: usize,
    pub cut: Cut,
    pub times: i64,
}

/// More than any plan takes: stands for stock that is not limited.
pub(super) const UNLIMITED: i64 = i64::MAX;

/// Stock that is left.
pub(super) fn less(limit: i64, times: i64) -> i64 {
    if limit == UNLIMITED { UNLIMITED } else { limit - times }
}

impl Shop {
    /// From a job that was found in order, and the pieces that are made of parts.
    pub fn new(job: &Job) -> Result<(Self, Vec<Joined>), CutError> {
        check(job)?;
        let longest = job.stocks.iter().map(|s| s.length).max().ok_or(CutError::NoStock)?;
        let mut by_length: BTreeMap<i64, i64> = BTreeMap::new();
        let mut joined = Vec::new();
        let mut add = |length: i64, count: i64| {
            let sum = by_length.entry(length).or_insert(0i64);
            *sum = sum.checked_add(count).filter(|n| *n <= MOST_COUNT).ok_or(CutError::TooLarge)?;
            Ok(())
        };
        for (at, demand) in job.demands.iter().enumerate().filter(|(_, d)| d.count > 0) {
            if demand.length <= longest {
                add(demand.length, demand.count)?;
                continue;
            }
            let splice = demand.splice.ok_or(CutError::LongerThanStock { demand: at, longest })?;
            let parts =
                spliced_parts(demand.length, splice, longest).ok_or(CutError::CannotSplice { demand: at, longest })?;
            for (length, number) in &parts {
                add(*length, number.checked_mul(demand.count).ok_or(CutError::TooLarge)?)?;
            }
            joined.push(Joined { demand: at, length: demand.length, count: demand.count, parts });
        }
        let capacity = |length: i64| length + job.kerf;
        let bins = job.stocks.iter().map(|s| Bin {
            capacity: capacity(s.length),
            cost: s.cost,
            limit: s.limit.unwrap_or(UNLIMITED),
        });
        let shop = Self {
            bins: bins.collect(),
            sizes: by_length.keys().rev().map(|l| l + job.kerf).collect(),
            counts: by_length.values().rev().copied().collect(),
        };
        Ok((shop, joined))
    }

    /// Takes a pattern out of what is wanted and of the stock that there is.
    pub fn cut(&mut self, bin: usize, cut: &[(u32, i64)], times: i64) {
        for (size, n) in cut {
            self.counts[*size as usize] -= n * times;
        }
        self.bins[bin].limit = less(self.bins[bin].limit, times);
    }

    /// How many of a size a stock piece of a bin can give.
    pub fn fits(&self, bin: usize, size: usize) -> i64 {
        self.bins[bin].capacity / self.sizes[size]
    }

    /// Size of all that is cut by a pattern.
    pub fn used(&self, cut: &[(u32, i64)]) -> i64 {
        cut.iter().map(|(i, n)| self.sizes[*i as usize] * n).sum()
    }

    /// What stock pieces cost together.
    pub fn cost(&self, uses: &[Use]) -> i128 {
        uses.iter().map(|u| i128::from(self.bins[u.bin].cost) * i128::from(u.times)).sum()
    }

    /// Greatest common divisor of the costs: a total cost is a multiple of it.
    pub fn cost_step(&self) -> i128 {
        i128::from(self.bins.iter().fold(0, |a, b| num_integer::gcd(a, b.cost)).max(1))
    }

    /// Whether stock pieces give just what is wanted, from no more stock than there is.
    pub fn serves(&self, uses: &[Use]) -> bool {
        let mut left = self.counts.clone();
        let mut stock: Vec<i64> = self.bins.iter().map(|b| b.limit).collect();
        for one in uses {
            if one.times <= 0 || self.used(&one.cut) > self.bins[one.bin].capacity {
                return false;
            }
            stock[one.bin] = less(stock[one.bin], one.times);
            if stock[one.bin] < 0 {
                return false;
            }
            for (size, n) in &one.cut {
                left[*size as usize] = left[*size as usize].saturating_sub(n.saturating_mul(one.times));
            }
        }
        left.iter().all(|n| *n == 0)
    }
}

fn check(job: &Job) -> Result<(), CutError> {
    if job.stocks.is_empty() {
        return Err(CutError::NoStock);
    }
    let rules = job.demands.iter().filter_map(|d| d.splice).flat_map(|s| [s.lap, s.least]);
    for rule in rules.chain([job.kerf, job.keep]) {
        if rule < 0 {
            return Err(CutError::RuleBelowZero);
        }
        if rule > MOST_LENGTH {
            return Err(CutError::TooLarge);
        }
    }
    for (stock, s) in job.stocks.iter().enumerate() {
        match s {
            s if s.length <= 0 => return Err(CutError::StockNotPositive { stock }),
            s if s.cost <= 0 => return Err(CutError::CostNotPositive { stock }),
            s if s.limit.is_some_and(|l| l < 0) => return Err(CutError::LimitBelowZero { stock }),
            s if s.length > MOST_LENGTH || s.cost > MOST_LENGTH => return Err(CutError::TooLarge),
            _ => {}
        }
    }
    for (demand, d) in job.demands.iter().enumerate() {
        match d {
            d if d.count < 0 => return Err(CutError::CountBelowZero { demand }),
            d if d.count > 0 && d.length <= 0 => return Err(CutError::PieceNotPositive { demand }),
            d if d.count > MOST_COUNT || d.length > MOST_LENGTH => return Err(CutError::TooLarge),
            _ => {}
        }
    }
    Ok(())
}

/// The fewest parts that a piece longer than stock is made of, as (length, number): whole stock pieces and a rest, each
/// part after the first reaching a lap under the one before. A rest shorter than the least part takes from the part
/// before it. Nothing where no parts would do.
#[must_use]
pub fn spliced_parts(length: i64, splice: Splice, longest: i64) -> Option<Vec<(i64, i64)>> {
    let gain = longest.checked_sub(splice.lap)?;
    if gain <= 0 || length <= longest || length > MOST_LENGTH || splice.least > longest {
        return None;
    }
    let number = (length - splice.lap + gain - 1) / gain;
    let rest = length - (number - 1) * gain;
    let short = (splice.least - rest).max(0);
    let before = longest - short;
    if before < splice.least {
        return None;
    }
    let mut out: Vec<(i64, i64)> = Vec::with_capacity(3);
    for (length, n) in [(longest, number - 2), (before, 1), (rest + short, 1)] {
        match out.iter_mut().find(|p| p.0 == length) {
            Some(same) => same.1 += n,
            None if n > 0 => out.push((length, n)),
            None => {}
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts_of(length: i64, lap: i64, least: i64) -> Option<Vec<(i64, i64)>> {
        spliced_parts(length, Splice { lap, least }, 100)
    }

    #[test]
    fn a_piece_is_parted_into_whole_stock_and_a_rest() {
        // 250 = 100 + 100 + 50, no lap
        assert_eq!(parts_of(250, 0, 0), Some(vec![(100, 2), (50, 1)]));
        // 200 is two whole pieces
        assert_eq!(parts_of(200, 0, 0), Some(vec![(100, 2)]));
        // laps of 4: 100 + 96 + 54 covers 250, so the rest is 54 + 4 = 58
        assert_eq!(parts_of(250, 4, 0), Some(vec![(100, 2), (58, 1)]));
        // a rest of 5 is too short for parts of 12: the part before gives 7
        assert_eq!(parts_of(205, 0, 12), Some(vec![(100, 1), (93, 1), (12, 1)]));
        // 101 in parts of at least 60: 41 + 60
        assert_eq!(parts_of(101, 0, 60), None);
        assert_eq!(parts_of(300, 100, 0), None);
    }
}
