//! Exact ratios of 128-bit whole numbers: the fast way to a line's cents.

use crate::engine::{Chunk, Data};
pub(crate) use crate::quantity::tally::Tally;
use crate::quantity::{Decimal, Number, Ratio};
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_go_away_from_zero() {
        let near = |n, d| Exact { n, d }.near();
        assert_eq!(near(161, 2), Some(81));
        assert_eq!(near(-161, 2), Some(-81));
        assert_eq!(near(4_686_499, 1000), Some(4686));
        assert_eq!(near(46865, 10), Some(4687));
        assert_eq!(near(i128::MAX, 1), None);
    }
}
