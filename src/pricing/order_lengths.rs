//! What is bought of a code that comes in several stock lengths.

use super::book::{PriceRow, need_unit};
use super::cuts::Laid;
use super::deliveries::shared;
use super::order::{Bought, Desk, Group, Used, order_row, scrap_of};
use super::priced::OrderRow;
use crate::quantity::{Dimension, Number, NumberError, Rounding};

impl Desk<'_> {
    /// What is bought of a code that comes in several stock lengths: by the cutting plan at least cost; what is needed
    /// by the foot, and waste beyond the plan, in the length that costs least a foot, its rest in the cheapest piece
    /// that is long enough. `rows` begin with the one that costs least a foot.
    pub(super) fn by_lengths(&self, group: &Group, rows: &[&PriceRow]) -> Result<Bought, NumberError> {
        let (mut cut, mut other) = (Number::ZERO, Number::ZERO);
        for sum in &group.sums {
            let (_, shown) = need_unit(sum.dimension);
            let mm = sum.tally.sum()?.scaled(shown.factor)?;
            *(if sum.cut { &mut cut } else { &mut other }) = mm.plus(if sum.cut { &cut } else { &other })?;
        }
        let (laid, lists) = self.plans(group, rows)?.unwrap_or_default();
        let stock: Vec<Number> = rows.iter().map(|r| r.stock_length.unwrap_or(Number::ONE)).collect();
        let mut pieces = vec![0i64; rows.len()];
        let (mut used, mut planned) = (vec![Number::ZERO; rows.len()], Number::ZERO);
        for one in &laid {
            for (k, n) in one.used.iter().enumerate() {
                pieces[k] = pieces[k].checked_add(*n).ok_or(NumberError::TooLarge)?;
                used[k] = used[k].plus(&one.cut[k])?;
                planned = planned.plus(&stock[k].times(&(*n).into())?)?;
            }
        }
        let beyond = cut.minus(&planned)?.max(Number::ZERO).plus(&other)?;
        for (k, n) in by_the_foot(rows, &stock, &beyond)? {
            pieces[k] = pieces[k].checked_add(n).ok_or(NumberError::TooLarge)?;
        }
        let mut more = cut.plus(&other)?;
        for one in &used {
            more = more.minus(one)?;
        }
        let mut out = Vec::with_capacity(rows.len());
        for (k, row) in rows.iter().enumerate().filter(|(k, _)| pieces[*k] > 0) {
            let bought = stock[k].times(&pieces[k].into())?;
            // what waste and feet use of it, as far as it goes
            let share = more.min(bought.minus(&used[k])?).max(Number::ZERO);
            more = more.minus(&share)?;
            let (stock_length, mut of_length) =
                one_length(row, &stock[k], &bought, [&used[k].plus(&share)?, &scrap_of(&lists, &stock[k])?])?;
            of_length.deliveries = self.of_length(group, row, &laid, (k, &stock[k]), (pieces[k], &of_length.buy))?;
            out.push((stock_length, of_length));
        }
        out.sort_by_key(|(stock, _): &(Number, OrderRow)| std::cmp::Reverse(*stock));
        Ok(Bought { rows: out.into_iter().map(|(_, row)| row).collect(), cuts: lists })
    }
}

impl Desk<'_> {
    /// Stock pieces of one length by delivery: those of the plan by the first that needs a piece of them, those beyond it
    /// with the first that needs any of the code by the foot, or at all.
    fn of_length(
        &self,
        group: &Group,
        row: &PriceRow,
        laid: &[Laid],
        (k, stock): (usize, &Number),
        (pieces, buy): (i64, &Number),
    ) -> Result<Vec<Number>, NumberError> {
        let places = self.deliveries.places;
        if places == 0 {
            return Ok(Vec::new());
        }
        let uses = |cut: bool, place: usize| {
            let sums = group.sums.iter().filter(|s| s.cut == cut);
            sums.filter_map(|s| s.by_delivery.get(place)).any(|t| t.sum().is_ok_and(|n| !n.is_zero()))
        };
        let first = (0..places).find(|p| uses(false, *p)).or_else(|| (0..places).find(|p| uses(true, *p)));
        let mut sent = vec![0i64; places];
        for (place, n) in sent.iter_mut().enumerate() {
            *n = laid.iter().filter_map(|l| l.sent.get(k)?.get(place)).fold(0i64, |a, b| a.saturating_add(*b));
        }
        let planned = sent.iter().fold(0i64, |a, b| a.saturating_add(*b));
        sent[first.unwrap_or(0)] += pieces.saturating_sub(planned).max(0);
        let holds = row.holds(Dimension::LENGTH)?.ok_or(NumberError::TooLarge)?;
        let mut running = 0i64;
        let mut through = Vec::with_capacity(places);
        for n in sent {
            running = running.saturating_add(n);
            through.push(stock.times(&running.into())?.over(&holds)?);
        }
        shared(buy, &through, &row.purchase()?)
    }
}

/// A row of the order for one of several stock lengths, with that length. Lengths in mm.
fn one_length(
    row: &PriceRow,
    stock: &Number,
    bought: &Number,
    [used, scrap]: [&Number; 2],
) -> Result<(Number, OrderRow), NumberError> {
    let purchase = row.purchase()?;
    let (unit, shown) = need_unit(Dimension::LENGTH);
    let holds = row.holds(Dimension::LENGTH)?.ok_or(NumberError::TooLarge)?;
    let feet = |mm: &Number| mm.scaled(shown.factor.recip());
    let content = feet(&holds)?.times(&purchase.sale_units)?;
    let used = Used { used: feet(used)?, unit: unit.into(), content, scrap: feet(scrap)?, planned: true };
    Ok((*stock, order_row(row, &purchase, &bought.over(&holds)?, used)?))
}

/// Stock pieces for a length that is needed by the foot: place of the row, and how many.
fn by_the_foot(rows: &[&PriceRow], stock: &[Number], mm: &Number) -> Result<Vec<(usize, i64)>, NumberError> {
    let whole = mm.over(&stock[0])?.steps(&Number::ONE, Rounding::Down)?;
    let count = i64::try_from(whole.to_decimal()).map_err(|_| NumberError::TooLarge)?;
    let mut out = vec![(0, count)];
    let rest = mm.minus(&whole.times(&stock[0])?)?;
    if rest.over(&stock[0])?.steps(&Number::ONE, Rounding::Up)?.is_zero() || rest.is_negative() {
        return Ok(out);
    }
    let mut cheapest: Option<(Number, usize)> = None;
    for (k, row) in rows.iter().enumerate().filter(|(k, _)| stock[*k] >= rest) {
        let holds = row.holds(Dimension::LENGTH)?.ok_or(NumberError::TooLarge)?;
        let each = row.cost.times(&stock[k])?.over(&holds)?;
        if cheapest.is_none_or(|(least, _)| each < least) {
            cheapest = Some((each, k));
        }
    }
    out.extend(cheapest.map(|(_, k)| (k, 1)));
    Ok(out)
}
