//! A bid divided: alternates, which are priced beside it, and parts, whose prices add up to it to the cent.

use super::priced::{Alternate, Finding, Line, Part, Priced};
use crate::engine::Run;
use crate::engine::input::fold;
use crate::problem::Problem;
use crate::program::{FieldId, LineKind, Schema};
use crate::quantity::{Decimal, Number, NumberError};
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// Most parts, and most alternates, that a bid is divided into.
pub const MOST_PARTS: usize = 200;

/// What stands for the part of the lines of the job as a whole.
pub const WHOLE_JOB: &str = super::own::WHOLE_JOB;

/// Names in the order met, and which of them each root row has.
#[derive(Clone, Debug, Default)]
struct Named {
    names: Vec<Arc<str>>,
    of_row: Vec<Option<u32>>,
}

impl Named {
    /// The texts of a column of the root rows; what differs in case alone is one.
    fn of(schema: &Schema, run: &Run, field: Option<FieldId>) -> Self {
        let (Some(field), Some(root)) = (field, schema.root_kind()) else { return Self::default() };
        if run.columns.get(field.0 as usize).is_none_or(Option::is_none) {
            return Self::default();
        }
        let mut numbers: FxHashMap<String, u32> = FxHashMap::default();
        let mut out = Self::default();
        for row in 0..run.rows_of(root) {
            let text = run.text(field, row).ok().map(|t| t.split_whitespace().collect::<Vec<_>>().join(" "));
            let number = text.filter(|t| !t.is_empty()).map(|text| {
                *numbers.entry(fold(&text)).or_insert_with(|| {
                    out.names.push(text.as_str().into());
                    u32::try_from(out.names.len() - 1).unwrap_or(u32::MAX)
                })
            });
            out.of_row.push(number);
        }
        out
    }

    /// In the order of their numbers where all names are numbers, else as they were met.
    fn in_order(mut self) -> Self {
        let numbers: Option<Vec<u64>> = self.names.iter().map(|n| n.trim().parse().ok()).collect();
        let Some(numbers) = numbers else { return self };
        let mut order: Vec<usize> = (0..self.names.len()).collect();
        order.sort_by_key(|at| numbers[*at]);
        let mut place = vec![0u32; order.len()];
        for (new, old) in order.iter().enumerate() {
            place[*old] = u32::try_from(new).unwrap_or(u32::MAX);
        }
        self.names = order.iter().map(|at| Arc::clone(&self.names[*at])).collect();
        for of in self.of_row.iter_mut().flatten() {
            *of = place.get(*of as usize).copied().unwrap_or(*of);
        }
        self
    }

    fn of_room(&self, room: Option<u32>) -> Option<u32> {
        self.of_row.get(room? as usize).copied().flatten()
    }
}

/// How a job is divided.
#[derive(Clone, Debug, Default)]
pub(super) struct Division {
    alternates: Named,
    /// Whether each root row is taken out by its alternate.
    deducts: Vec<bool>,
    parts: Named,
    deliveries: Named,
}

impl Division {
    /// As the books state it; one with more than [`MOST_PARTS`] names is left out, and it is said.
    pub fn of(schema: &Schema, run: &Run, findings: &mut Vec<Finding>) -> Self {
        let Some(rule) = &schema.dividing else { return Self::default() };
        let mut named = |field: Option<FieldId>| {
            let named = Named::of(schema, run, field);
            if named.names.len() <= MOST_PARTS {
                return named;
            }
            let label = field.map_or("", |f| schema.field(f).label.as_str());
            let what = format!(
                "{label} has {} different texts; a bid is divided by {MOST_PARTS} at most, so it is not divided by them.",
                named.names.len()
            );
            let problem = Problem::warning("too many parts", what).in_book(&rule.text, rule.span);
            findings.push(Finding::of_no_row(problem, "too many parts"));
            Named::default()
        };
        let (alternates, parts, deliveries) = (named(rule.alternates), named(rule.parts), named(rule.deliveries));
        let deducts = match rule.deducting {
            Some(field) if run.columns.get(field.0 as usize).is_some_and(Option::is_some) => {
                (0..alternates.of_row.len()).map(|row| run.yes_no(field, row).unwrap_or(false)).collect()
            }
            _ => vec![false; alternates.of_row.len()],
        };
        Self { alternates, deducts, parts, deliveries: deliveries.in_order() }
    }

    /// Marks the lines that an alternate would add, which are not in the bid, and hands on who is what.
    pub fn mark(&self, priced: &mut Priced) {
        for line in &mut priced.lines {
            let alternate = self.alternates.of_room(line.room);
            line.apart = alternate.is_some() && !self.deducted(line.room);
        }
        priced.alternate_of = (0..self.alternates.of_row.len())
            .map(|row| Some((self.alternates.of_row[row]?, self.deducts[row])))
            .collect();
        priced.part_of = self.parts.of_row.clone();
        priced.delivery_of = self.deliveries.of_row.clone();
        priced.delivery_names = self.deliveries.names.clone();
        priced.alternates = self.alternates.names.iter().map(|name| Alternate::named(name)).collect();
        if self.parts.names.is_empty() {
            return;
        }
        priced.parts = self.parts.names.iter().map(|name| Part::named(name)).collect();
        let in_bid = || priced.lines.iter().filter(|l| !l.apart);
        // rooms of no part, and the lines of the job, are parts of their own where there are any
        if in_bid().any(|l| l.room.is_some() && self.parts.of_room(l.room).is_none()) {
            priced.rest_part = u32::try_from(priced.parts.len()).ok();
            priced.parts.push(Part::named("Other rooms"));
        }
        if in_bid().any(|l| l.room.is_none()) {
            priced.job_part = u32::try_from(priced.parts.len()).ok();
            priced.parts.push(Part::named(WHOLE_JOB));
        }
    }

    fn deducted(&self, room: Option<u32>) -> bool {
        room.and_then(|r| self.deducts.get(r as usize)).copied().unwrap_or(false)
    }
}

/// The part that a line in the bid counts toward.
#[must_use]
pub fn part_of(priced: &Priced, line: &Line) -> Option<u32> {
    match line.room {
        None => priced.job_part,
        Some(room) => priced.part_of.get(room as usize).copied().flatten().or(priced.rest_part),
    }
}

/// The alternate of a line, and whether it takes the line out of the bid.
#[must_use]
pub fn alternate_of(priced: &Priced, line: &Line) -> Option<(u32, bool)> {
    priced.alternate_of.get(line.room? as usize).copied().flatten()
}

/// The lines under an alternate: those of the bid less what it takes out, and what it adds.
pub(super) fn under_alternate(priced: &Priced, alternate: usize) -> Vec<&Line> {
    let kept = |line: &&Line| match alternate_of(priced, line) {
        Some((of, deducts)) if of as usize == alternate => !deducts,
        Some((_, deducts)) => deducts,
        None => true,
    };
    priced.lines.iter().filter(kept).collect()
}

/// Material, labor in cents, and hours of some lines.
///
/// # Errors
/// A value too large.
pub(super) fn sums<'a>(lines: impl Iterator<Item = &'a Line>) -> Result<(i64, i64, Number), NumberError> {
    let (mut material, mut labor, mut hours) = (0i64, 0i64, super::exact::Tally::default());
    for line in lines {
        let cents = line.cost.unwrap_or(0);
        let sum = if line.kind == LineKind::Material { &mut material } else { &mut labor };
        *sum = sum.checked_add(cents).ok_or(NumberError::TooLarge)?;
        if let Some(h) = &line.hours {
            hours.add(h)?;
        }
    }
    Ok((material, labor, hours.sum()?))
}

/// A total shared out by weights: the running sum of the weights is rounded to the cent, so that the shares add up to the
/// total. Weights that add up to nothing leave it all to the last.
///
/// # Errors
/// A value too large.
pub fn share_out(total: i64, weights: &[i64]) -> Result<Vec<i64>, NumberError> {
    let whole = weights.iter().try_fold(0i64, |sum, w| sum.checked_add(*w)).ok_or(NumberError::TooLarge)?;
    let money = Number::from(Decimal::new(total, 2));
    let (mut running, mut before) = (0i64, 0i64);
    let mut out = Vec::with_capacity(weights.len());
    for (i, weight) in weights.iter().enumerate() {
        running += weight;
        let so_far = match (whole, i + 1 == weights.len()) {
            (_, true) => total,
            (0, false) => 0,
            _ => money.times(&running.into())?.over(&whole.into())?.cents()?,
        };
        out.push(so_far - before);
        before = so_far;
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// $100.00 in thirds: 33.33, 66.67 and 100.00 as running sums.
    #[test]
    fn thirds_of_a_hundred_dollars() {
        assert_eq!(share_out(10_000, &[1, 1, 1]), Ok(vec![3333, 3334, 3333]));
        assert_eq!(share_out(10_000, &[0, 0]), Ok(vec![0, 10_000]));
        assert_eq!(share_out(10_000, &[]), Ok(vec![]));
    }

    proptest! {
        #[test]
        fn shares_add_up_and_are_within_a_cent(
            total in 0i64..10_000_000_000, weights in proptest::collection::vec(0i64..1_000_000_000, 1..40),
        ) {
            let shares = share_out(total, &weights).unwrap();
            prop_assert_eq!(shares.iter().sum::<i64>(), total);
            let whole: i64 = weights.iter().sum();
            if whole > 0 {
                for (share, weight) in shares.iter().zip(&weights) {
                    let exact = i128::from(total) * i128::from(*weight);
                    let off = (i128::from(*share) * i128::from(whole) - exact).abs();
                    prop_assert!(off <= i128::from(whole));
                }
            }
        }
    }
}
