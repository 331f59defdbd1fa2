//! Exact ratios of 128-bit whole numbers: the fast way to a line's cents, and sums of many numbers.

use crate::engine::{Chunk, Data};
use crate::quantity::{Decimal, Number, NumberError, Ratio};
use num_integer::Integer as _;

/// `n / d` with `d` above zero, not always in lowest terms. Every step is checked; `None` means that 128 bits are
/// too few and [`Number`] must do it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Exact {
    /// Above the bar.
    pub n: i128,
    /// Below the bar.
    pub d: i128,
}

impl Exact {
    /// A ratio of whole numbers, brought to lowest terms.
    pub fn new(n: i128, d: i128) -> Option<Self> {
        if d == 0 {
            return None;
        }
        let g = n.checked_abs()?.gcd(&d.checked_abs()?);
        let (n, d) = (n / g, d / g);
        if d < 0 { Some(Self { n: n.checked_neg()?, d: d.checked_neg()? }) } else { Some(Self { n, d }) }
    }

    /// A unit factor.
    pub fn of_ratio(ratio: Ratio) -> Option<Self> {
        Self::new(*ratio.numer(), *ratio.denom())
    }

    /// A number, in lowest terms.
    pub fn of_number(number: &Number) -> Option<Self> {
        let (num, den) = number.parts();
        let n = num.mantissa().checked_mul(10i128.checked_pow(den.scale())?)?;
        let d = den.mantissa().checked_mul(10i128.checked_pow(num.scale())?)?;
        Self::new(n, d)
    }

    /// Product, as it falls: no common factor is taken out.
    pub fn times(self, o: Self) -> Option<Self> {
        Some(Self { n: self.n.checked_mul(o.n)?, d: self.d.checked_mul(o.d)? })
    }

    /// Product in lowest terms, with common factors taken out first.
    pub fn times_reduced(self, o: Self) -> Option<Self> {
        let (a, b) = (Self::new(self.n, o.d)?, Self::new(o.n, self.d)?);
        a.times(b)
    }

    /// One plus it.
    pub fn plus_one(self) -> Option<Self> {
        Some(Self { n: self.n.checked_add(self.d)?, d: self.d })
    }

    /// The opposite way up; `None` for zero and below.
    pub fn upside_down(self) -> Option<Self> {
        (self.n > 0).then_some(Self { n: self.d, d: self.n })
    }

    /// To the nearest whole, halves away from zero.
    pub fn near(self) -> Option<i64> {
        if let (Ok(n), Ok(d)) = (u64::try_from(self.n), u64::try_from(self.d)) {
            let (q, r) = (n / d, n % d);
            return i64::try_from(if r >= d - r { q + 1 } else { q }).ok();
        }
        let (q, r) = (self.n / self.d, (self.n % self.d).checked_abs()?);
        let away = if r >= self.d - r { self.n.signum() } else { 0 };
        i64::try_from(q.checked_add(away)?).ok()
    }

    /// As a number.
    pub fn number(self) -> Option<Number> {
        if let (Ok(n), Ok(d)) = (i64::try_from(self.n), i64::try_from(self.d)) {
            if n % d == 0 {
                return Some(Number::from(n / d));
            }
            // most lengths and areas end within three places: this spares the greatest common divisor
            if let Some(up) = n.checked_mul(1000)
                && up % d == 0
            {
                return Some(Decimal::new(up / d, 3).into());
            }
        }
        Number::from_ints(self.n, self.d).ok()
    }
}

/// The sound number of a row of a block, in the column's unit.
pub(crate) fn cell(chunk: &Chunk, row: usize) -> Option<Exact> {
    match &chunk.data {
        Data::Fixed { values, scale, over } => {
            let n = i128::from(*values.get(if values.len() == 1 { 0 } else { row })?);
            let d = 10i128.checked_pow(*scale)?;
            match over {
                None => Some(Exact { n, d }),
                Some((under, under_scale)) => {
                    let under = i128::from(*under.get(if under.len() == 1 { 0 } else { row })?);
                    let up = 10i128.checked_pow(*under_scale)?;
                    Exact::new(n.checked_mul(up)?, d.checked_mul(under)?)
                }
            }
        }
        Data::Wide(values) => Exact::of_number(values.get(if values.len() == 1 { 0 } else { row })?),
        Data::Text(_) | Data::YesNo(_) => None,
    }
}

/// How many different denominators a sum keeps apart before it falls back to adding numbers one by one.
const BUCKETS: usize = 64;

/// A sum of many numbers, exact: whole numbers are added for each denominator, and joined once at the end.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tally {
    buckets: Vec<(u32, Decimal, i128)>,
    rest: Option<Number>,
}

impl Tally {
    /// Adds a number.
    ///
    /// # Errors
    /// A sum too large.
    pub fn add(&mut self, number: &Number) -> Result<(), NumberError> {
        let (num, den) = number.parts();
        let key = num.scale();
        let found = self.buckets.iter().position(|b| b.0 == key && b.1 == den);
        if let Some(bucket) = found.and_then(|at| self.buckets.get_mut(at))
            && let Some(sum) = bucket.2.checked_add(num.mantissa())
        {
            bucket.2 = sum;
            return Ok(());
        }
        if found.is_none() && self.buckets.len() < BUCKETS {
            self.buckets.push((key, den, num.mantissa()));
            return Ok(());
        }
        self.rest = Some(self.rest.unwrap_or(Number::ZERO).plus(number)?);
        Ok(())
    }

    /// Whether nothing was added.
    pub fn is_empty(&self) -> bool {
        self.buckets.is_empty() && self.rest.is_none()
    }

    /// The sum.
    ///
    /// # Errors
    /// A sum too large.
    pub fn sum(&self) -> Result<Number, NumberError> {
        let mut out = self.rest.unwrap_or(Number::ZERO);
        for (scale, den, n) in &self.buckets {
            let den_scale = 10i128.checked_pow(*scale).ok_or(NumberError::TooLarge)?;
            let part = Number::from_ints(*n, den_scale)?.over(&Number::from(*den))?;
            out = out.plus(&part)?;
        }
        Ok(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn halves_go_away_from_zero() {
        let near = |n, d| Exact { n, d }.near();
        assert_eq!(near(161, 2), Some(81));
        assert_eq!(near(-161, 2), Some(-81));
        assert_eq!(near(4_686_499, 1000), Some(4686));
        assert_eq!(near(46865, 10), Some(4687));
        assert_eq!(near(i128::MAX, 1), None);
    }

    proptest! {
        #[test]
        fn a_tally_is_the_sum_of_numbers(values in proptest::collection::vec((-1_000_000i64..1_000_000, 1i64..90), 0..200)) {
            let mut tally = Tally::default();
            let mut plain = Number::ZERO;
            for (n, d) in values {
                let number = Number::from_ints(n.into(), d.into()).unwrap();
                tally.add(&number).unwrap();
                // thirds, sevenths and their like outgrow 63 bits in a long plain sum: keep to denominators that do not
                if 5040 % d == 0 {
                    plain = plain.plus(&number).unwrap();
                } else {
                    tally.add(&number.negated()).unwrap();
                }
            }
            prop_assert_eq!(tally.sum().unwrap(), plain);
        }
    }
}
