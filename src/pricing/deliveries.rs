//! What is bought, by the delivery that it comes with.

use super::book::Purchase;
use super::exact::Tally;
use crate::quantity::{Number, NumberError, Ratio, Rounding};

/// Running sums of what deliveries need, in units of sale that hold so many base units each.
///
/// # Errors
/// A value too large.
pub(super) fn came_to(by_delivery: &[Tally], shown: Ratio, holds: &Number) -> Result<Vec<Number>, NumberError> {
    let mut running = Number::ZERO;
    let mut out = Vec::with_capacity(by_delivery.len());
    for tally in by_delivery {
        running = running.plus(&tally.sum()?.scaled(shown)?.over(holds)?)?;
        out.push(running);
    }
    Ok(out)
}

/// What is bought, shared out by what is needed through each delivery, in units of sale. Purchases are whole for the job: one
/// that serves two deliveries comes with the first, and what is left over comes with the last that needs any.
///
/// # Errors
/// A value too large.
pub(super) fn shared(buy: &Number, through: &[Number], purchase: &Purchase) -> Result<Vec<Number>, NumberError> {
    let last = (1..through.len()).rev().find(|at| through[*at] != through[*at - 1]).unwrap_or(0);
    let mut before = Number::ZERO;
    let mut out = Vec::with_capacity(through.len());
    for (at, units) in through.iter().enumerate() {
        let exact = units.over(&purchase.sale_units)?;
        let so_far = if purchase.whole { exact.steps(&Number::ONE, Rounding::Up)? } else { exact };
        let so_far = if at >= last { *buy } else { so_far.min(*buy) };
        out.push(so_far.minus(&before)?);
        before = so_far;
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn numbers(all: &[i64]) -> Vec<Number> {
        all.iter().map(|n| Number::from(*n)).collect()
    }

    /// Cartons of 100: 250 in all are 3. 120 of them first take 2; the last carton comes with the second, and the third
    /// delivery, which needs nothing, has none.
    #[test]
    fn a_carton_for_two_deliveries_comes_with_the_first() {
        let carton = Purchase { sale_units: 100.into(), whole: true, sold_as: "carton".to_owned() };
        let shares = shared(&3.into(), &numbers(&[120, 250, 250]), &carton).unwrap();
        assert_eq!(shares, numbers(&[2, 1, 0]));
        // all of it in the first
        assert_eq!(shared(&3.into(), &numbers(&[250, 250]), &carton).unwrap(), numbers(&[3, 0]));
        // the second carton serves both, so the second delivery needs none
        assert_eq!(shared(&2.into(), &numbers(&[110, 190]), &carton).unwrap(), numbers(&[2, 0]));
    }

    proptest! {
        #[test]
        fn deliveries_add_up_to_what_is_bought(
            needs in proptest::collection::vec(0i64..5000, 1..8), holds in 1i64..400, more in 0i64..3,
        ) {
            let carton = Purchase { sale_units: holds.into(), whole: true, sold_as: "carton".to_owned() };
            let mut running = 0;
            let through: Vec<i64> = needs.iter().map(|n| { running += n; running }).collect();
            let buy = running / holds + i64::from(running % holds > 0) + more;
            let shares = shared(&buy.into(), &numbers(&through), &carton).unwrap();
            let mut sum = Number::ZERO;
            for (at, share) in shares.iter().enumerate() {
                prop_assert!(!share.is_negative());
                sum = sum.plus(share).unwrap();
                // nothing comes too late
                prop_assert!(sum.times(&holds.into()).unwrap() >= Number::from(through[at]));
            }
            prop_assert_eq!(sum, Number::from(buy));
        }
    }
}
