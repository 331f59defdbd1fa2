//! The sum of many numbers.

use super::number::{Number, NumberError};
use rust_decimal::Decimal;

/// How many different denominators a sum keeps apart before it falls back to adding numbers one by one.
const BUCKETS: usize = 64;

/// A sum of many numbers, exact: whole numbers are added for each denominator, and joined once at the end.
#[derive(Clone, Debug, Default)]
pub struct Tally {
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
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.buckets.is_empty() && self.rest.is_none()
    }

    /// The sum.
    ///
    /// # Errors
    /// A sum too large.
    pub fn sum(&self) -> Result<Number, NumberError> {
        // in an order of their own, whatever the order in which they came
        let mut buckets: Vec<_> = self.buckets.iter().collect();
        buckets.sort_unstable_by_key(|(scale, den, _)| (*den, *scale));
        let mut out = self.rest.unwrap_or(Number::ZERO);
        for (scale, den, n) in buckets {
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
