//! One line's figures, twice: in checked 128-bit whole numbers, and in exact numbers where those are too few.
//!
//! Both multiply first and divide once, last, and give the same cents.

use super::exact::Exact;
use crate::quantity::{Number, NumberError, Ratio};

/// How a need is measured.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Measure {
    /// Base units in one kept unit of the need.
    pub factor: Ratio,
    /// Base units in one unit that the need is shown in.
    pub shown: Ratio,
    /// Shown units in one kept unit.
    to_shown: Option<Exact>,
    /// Base units of a rate in one kept unit of the rate (labor whose rule states a rate).
    pub rate_factor: Ratio,
}

impl Measure {
    /// From the factors of the kept need, the shown unit and the kept rate.
    pub fn new(factor: Ratio, shown: Ratio, rate_factor: Ratio) -> Self {
        let per = |shown: Ratio| Exact::of_ratio(shown).and_then(Exact::upside_down);
        let to_shown = Exact::of_ratio(factor).and_then(|f| f.times_reduced(per(shown)?));
        Self { factor, shown, to_shown, rate_factor }
    }
}

/// How a line of one item and one code is priced.
#[derive(Clone, Debug)]
pub(crate) enum How {
    /// No price book.
    Unpriced,
    /// Bought.
    Material(Material),
    /// Done: hours, and what an hour costs.
    Labor(Labor),
}

/// A price, for a need of one dimension.
#[derive(Clone, Debug)]
pub(crate) struct Material {
    /// Dollars for one unit of sale.
    cost: Number,
    /// Base units of the need in one unit of sale.
    holds: Number,
    /// Dollars for one shown unit.
    unit_cost: Number,
    /// Cents for one kept unit of the need.
    cents: Option<Exact>,
}

impl Material {
    /// A price of `cost` dollars for `holds` base units.
    ///
    /// # Errors
    /// A value too large; nothing held.
    pub fn new(measure: &Measure, cost: Number, holds: Number) -> Result<Self, NumberError> {
        let unit_cost = cost.scaled(measure.shown)?.over(&holds)?;
        let cents = (|| {
            let per = Exact::of_number(&cost)?.times_reduced(Exact::of_number(&holds)?.upside_down()?)?;
            per.times_reduced(Exact::of_ratio(measure.factor)?)?.times_reduced(Exact { n: 100, d: 1 })
        })();
        Ok(Self { cost, holds, unit_cost, cents })
    }
}

/// Where the hours of a work come from.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Hours {
    /// The rule states a rate, row by row.
    Rule,
    /// The Labor sheet's: hours, for one of a unit of that many base units.
    Sheet(Number, Ratio),
    /// Nobody states a rate, and there is no price book to ask.
    Unknown,
}

/// A work.
#[derive(Clone, Debug)]
pub(crate) struct Labor {
    hours: Hours,
    /// Dollars for an hour with burden; `None` without a price book.
    hour: Option<Number>,
    /// Dollars for one shown unit, where the rate is the sheet's.
    unit_cost: Option<Number>,
    /// Hours for one kept unit of the need (times one kept unit of the rate).
    per_kept: Option<Exact>,
    /// Cents for an hour.
    cents: Option<Exact>,
}

impl Labor {
    /// A work.
    ///
    /// # Errors
    /// A value too large.
    pub fn new(measure: &Measure, hours: Hours, hour: Option<Number>) -> Result<Self, NumberError> {
        let factor = Exact::of_ratio(measure.factor);
        let per_kept = match hours {
            Hours::Rule => factor.and_then(|f| f.times_reduced(Exact::of_ratio(measure.rate_factor)?)),
            Hours::Sheet(hours, per) => factor.and_then(|f| {
                f.times_reduced(Exact::of_ratio(per)?.upside_down()?)?.times_reduced(Exact::of_number(&hours)?)
            }),
            Hours::Unknown => None,
        };
        let unit_cost = match (hours, hour) {
            (Hours::Sheet(hours, per), Some(hour)) => {
                Some(hours.times(&hour)?.scaled(measure.shown)?.scaled(per.recip())?)
            }
            _ => None,
        };
        let cents = hour.and_then(|h| Exact::of_number(&h)?.times_reduced(Exact { n: 100, d: 1 }));
        Ok(Self { hours, hour, unit_cost, per_kept, cents })
    }
}

/// A row's own figures, in kept units.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Figures<T> {
    /// The need.
    pub need: T,
    /// Waste as a fraction.
    pub waste: T,
    /// The rule's rate.
    pub rate: Option<T>,
    /// What hours are multiplied by; one where nothing is stated.
    pub factor: Option<T>,
}

/// A line's figures.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Worked {
    /// In shown units.
    pub need: Number,
    /// As a fraction.
    pub waste: Number,
    /// In shown units, with waste.
    pub quantity: Number,
    /// Dollars for a shown unit.
    pub unit_cost: Option<Number>,
    /// Cents.
    pub cost: Option<i64>,
    /// Hours.
    pub hours: Option<Number>,
}

/// What a rate last cost for a shown unit: rows of a block mostly share one.
pub(crate) type Memo = Option<(Exact, Option<Number>)>;

/// The figures in 128-bit whole numbers; `None` when one would not fit.
pub(crate) fn fast(measure: &Measure, how: &How, row: &Figures<Exact>, memo: &mut Memo) -> Option<Worked> {
    let to_shown = measure.to_shown?;
    let need = row.need.times(to_shown)?.number()?;
    let (waste, with_waste) = if row.waste.n == 0 {
        (Number::ZERO, row.need)
    } else {
        (row.waste.number()?, row.need.times(row.waste.plus_one()?)?)
    };
    let quantity = if row.waste.n == 0 { need } else { with_waste.times(to_shown)?.number()? };
    let mut out = Worked { need, waste, quantity, unit_cost: None, cost: None, hours: None };
    match how {
        How::Unpriced => {}
        How::Material(m) => {
            out.unit_cost = Some(m.unit_cost);
            out.cost = Some(with_waste.times(m.cents?)?.near()?);
        }
        How::Labor(labor) => {
            if let Hours::Unknown = labor.hours {
                return Some(out);
            }
            let mut hours = with_waste.times(labor.per_kept?)?;
            out.unit_cost = labor.unit_cost;
            if let Hours::Rule = labor.hours {
                let rate = row.rate?;
                hours = hours.times(rate)?;
                out.unit_cost = match (labor.hour, *memo) {
                    (None, _) => None,
                    (Some(_), Some((same, cost))) if same == rate => cost,
                    (Some(hour), _) => {
                        let cost = Some(rate_cost(measure, &rate.number()?, &hour).ok()?);
                        *memo = Some((rate, cost));
                        cost
                    }
                };
            }
            if let Some(factor) = row.factor {
                hours = hours.times(factor)?;
                out.unit_cost = match out.unit_cost {
                    Some(cost) => Some(cost.times(&factor.number()?).ok()?),
                    None => None,
                };
            }
            out.hours = Some(hours.number()?);
            if labor.hour.is_some() {
                out.cost = Some(hours.times(labor.cents?)?.near()?);
            }
        }
    }
    Some(out)
}

/// Dollars for a shown unit at a rate in kept units.
fn rate_cost(measure: &Measure, rate: &Number, hour: &Number) -> Result<Number, NumberError> {
    rate.scaled(measure.rate_factor)?.scaled(measure.shown)?.times(hour)
}

/// The same figures in exact numbers.
///
/// # Errors
/// A value too large.
pub(crate) fn slow(measure: &Measure, how: &How, row: &Figures<Number>) -> Result<Worked, NumberError> {
    let to_shown = measure.factor / measure.shown;
    let with_waste = row.need.times(&Number::ONE.plus(&row.waste)?)?;
    let mut out = Worked {
        need: row.need.scaled(to_shown)?,
        waste: row.waste,
        quantity: with_waste.scaled(to_shown)?,
        unit_cost: None,
        cost: None,
        hours: None,
    };
    match how {
        How::Unpriced => {}
        How::Material(m) => {
            out.unit_cost = Some(m.unit_cost);
            out.cost = Some(with_waste.scaled(measure.factor)?.times(&m.cost)?.over(&m.holds)?.cents()?);
        }
        How::Labor(labor) => {
            let base = with_waste.scaled(measure.factor)?;
            let hours = match (labor.hours, row.rate) {
                (Hours::Unknown, _) | (Hours::Rule, None) => return Ok(out),
                (Hours::Rule, Some(rate)) => {
                    out.unit_cost = match &labor.hour {
                        Some(hour) => Some(rate_cost(measure, &rate, hour)?),
                        None => None,
                    };
                    base.times(&rate)?.scaled(measure.rate_factor)?
                }
                (Hours::Sheet(hours, per), _) => {
                    out.unit_cost = labor.unit_cost;
                    base.times(&hours)?.scaled(per.recip())?
                }
            };
            let hours = match &row.factor {
                Some(factor) => {
                    out.unit_cost = out.unit_cost.map(|cost| cost.times(factor)).transpose()?;
                    hours.times(factor)?
                }
                None => hours,
            };
            out.hours = Some(hours);
            if let Some(hour) = &labor.hour {
                out.cost = Some(hours.times(hour)?.cents()?);
            }
        }
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Decimal, Unit};
    use proptest::prelude::*;

    fn factor(name: &str) -> Ratio {
        Unit::read(name).unwrap().factor
    }

    /// The sides of a kept need, the unit it is shown in and a unit of sale that fits it.
    const FITS: &[(&str, &str, &str)] = &[
        ("mm", "ft", "MLF"),
        ("mm", "ft", "lf"),
        ("mm", "ft", "in"),
        ("mm", "ft", "m"),
        ("mm^2", "sf", "MSF"),
        ("mm^2", "sf", "sy"),
        ("mm^3", "gal", "gal"),
        ("ea", "ea", "M"),
        ("lb", "lb", "ton"),
    ];

    proptest! {
        /// Lengths to 1/320 mm, areas, counts; prices to a hundredth of a cent; waste in tenths of a percent.
        #[test]
        fn both_ways_give_the_same_cents(
            fit in 0..FITS.len(), need in 0i64..40_000_000_000, scale in 0u32..5,
            cost in 0i64..90_000_000, held in 1i64..20_000, waste in 0i64..500,
        ) {
            let (kept, shown, sold) = FITS[fit];
            let measure = Measure::new(factor(kept), factor(shown), Ratio::from(1));
            let holds = Number::from(held).scaled(factor(sold)).unwrap();
            let how = How::Material(Material::new(&measure, Decimal::new(cost, 4).into(), holds).unwrap());
            let need = Exact { n: need.into(), d: 10i128.pow(scale) };
            let waste = Exact { n: waste.into(), d: 1000 };
            let row = Figures { need, waste, rate: None, factor: None };
            let quick = fast(&measure, &how, &row, &mut None);
            let exact = Figures { need: need.number().unwrap(), waste: waste.number().unwrap(), rate: None, factor: None };
            let plain = slow(&measure, &how, &exact).unwrap();
            prop_assert_eq!(quick.unwrap(), plain);
        }

        #[test]
        fn both_ways_give_the_same_hours(
            need in 0i64..4_000_000_000, scale in 0u32..3, rate in 0i64..50_000, wage in 1i64..20_000,
            burden in 0i64..900, by_rule in any::<bool>(), times in proptest::option::of(0i64..300),
        ) {
            // a rate of hr/ft, kept as hr/ft
            let measure = Measure::new(factor("mm"), factor("ft"), factor("hr/ft"));
            let rate = Exact { n: rate.into(), d: 100_000 };
            let one = Number::ONE;
            let hour = Number::from(Decimal::new(wage, 2)).times(&one.plus(&Decimal::new(burden, 3).into()).unwrap());
            let hours = if by_rule { Hours::Rule } else { Hours::Sheet(rate.number().unwrap(), factor("ft")) };
            let how = How::Labor(Labor::new(&measure, hours, Some(hour.unwrap())).unwrap());
            let need = Exact { n: need.into(), d: 10i128.pow(scale) };
            let factor = times.map(|n| Exact { n: n.into(), d: 100 });
            let row = Figures { need, waste: Exact { n: 0, d: 1 }, rate: Some(rate), factor };
            let quick = fast(&measure, &how, &row, &mut None);
            let exact =
                Figures { need: need.number().unwrap(), waste: Number::ZERO, rate: Some(rate.number().unwrap()),
                    factor: factor.map(|f| f.number().unwrap()) };
            prop_assert_eq!(quick.unwrap(), slow(&measure, &how, &exact).unwrap());
        }
    }

    #[test]
    fn what_does_not_fit_128_bits_is_left_to_exact_numbers() {
        let measure = Measure::new(factor("mm"), factor("ft"), Ratio::from(1));
        let holds = Number::ONE.scaled(factor("ft")).unwrap();
        let how = How::Material(Material::new(&measure, Decimal::new(1, 2).into(), holds).unwrap());
        let need = Exact { n: i128::MAX / 2, d: 10i128.pow(30) };
        assert!(
            fast(&measure, &how, &Figures { need, waste: Exact { n: 1, d: 20 }, rate: None, factor: None }, &mut None)
                .is_none()
        );
    }
}
