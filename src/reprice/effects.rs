//! What moved between two workings of a bid, item by item, and why: effects add up to the difference to the cent.
//!
//! A bid is worked out in steps, each with one thing changed: as it was priced last; with what an estimator has typed
//! since; with the new prices and date; with the new rules. The step of prices is split line by line: the old quantity
//! at the difference of unit costs is the effect of price, what is left of the line's difference that of quantity.

use crate::bid::Worked;
use crate::bid::sums::{self, in_bid, key};
use crate::pricing::{Line, Priced};
use crate::quantity::{Number, NumberError};
use crate::workbook::carried::Sums;
use crate::workbook::variance::{Effects, Key, Moved, What};
use rustc_hash::FxHashMap;
use std::collections::BTreeMap;

/// The workings of a bid; a step that changes nothing is left out.
#[derive(Debug)]
pub struct Steps<'w, 'r> {
    /// As it was priced last.
    pub old: &'w Worked<'r>,
    /// With what an estimator has typed since.
    pub by_hand: Option<&'w Worked<'r>>,
    /// With new prices and another date.
    pub prices: Option<&'w Worked<'r>>,
    /// With new rules.
    pub rules: Option<&'w Worked<'r>>,
}

type Items = BTreeMap<Key, Moved>;

/// The sums of a working.
fn sums(worked: &Worked<'_>) -> Result<BTreeMap<Key, i64>, NumberError> {
    sums::sums(&worked.ready.program().schema, &worked.priced)
}

/// What moved, and by what.
///
/// `stored` is the total that the workbook was written with: where this version works another out, that is an effect of
/// rules. `None` where the bid has no total before or now.
///
/// # Errors
/// Sums too large.
pub fn split(steps: &Steps<'_, '_>, stored: Option<i64>) -> Result<Option<Vec<Moved>>, NumberError> {
    let Steps { old, by_hand, prices, rules } = steps;
    let last = rules.as_ref().or(prices.as_ref()).or(by_hand.as_ref()).unwrap_or(old);
    let (Some(before), Some(after)) = (stored.or(old.priced.total), last.priced.total) else { return Ok(None) };
    if old.priced.total.is_none() {
        // it had a total by another version, and has none item by item
        let whole = (What::Anew, "".into(), "".into());
        let rules = after.checked_sub(before).ok_or(NumberError::TooLarge)?;
        let mut items = Items::new();
        let moved = row(&mut items, whole);
        (moved.old, moved.new, moved.effects.rules) = (before, after, rules);
        return Ok(Some(items.into_values().collect()));
    }
    // a step between in which rows are stopped tells nothing: what it changed counts to the next
    let told = |step: &&Worked<'_>| step.priced.total.is_some();
    let (by_hand, prices) = (by_hand.filter(told), prices.filter(told));
    let mut items = Items::new();
    let mut before = *old;
    for (key, cents) in sums(before)? {
        let moved = row(&mut items, key);
        moved.old = add(moved.old, cents)?;
        moved.new = moved.old;
    }
    if let Some(now) = by_hand {
        step(&mut items, before, now, |effects| &mut effects.by_hand)?;
        before = now;
    }
    if let Some(now) = prices {
        prices_step(&mut items, before, now)?;
        before = now;
    }
    if let Some(now) = rules {
        step(&mut items, before, now, |effects| &mut effects.rules)?;
    }
    if let Some((stored, worked_out)) = stored.zip(old.priced.total).filter(|(a, b)| a != b) {
        let moved = row(&mut items, (What::Anew, "".into(), "".into()));
        moved.old = stored.checked_sub(worked_out).ok_or(NumberError::TooLarge)?;
        moved.effects.rules = worked_out.checked_sub(stored).ok_or(NumberError::TooLarge)?;
    }
    Ok(Some(items.into_values().collect()))
}

/// What moved since a pricing that said what its items came to, where quantities are the same as then: prices alone. It is
/// what [`split`] gives, without working the bid out as it was.
///
/// # Errors
/// Sums too large.
pub fn by_price_alone(before: &Sums, now: &Worked<'_>) -> Result<Vec<Moved>, NumberError> {
    let mut items = Items::new();
    let mut after = sums(now)?;
    for (key, old) in &before.items {
        let new = after.remove(key).unwrap_or(0);
        let moved = row(&mut items, key.clone());
        (moved.old, moved.new) = (*old, new);
        moved.effects.price = new.checked_sub(*old).ok_or(NumberError::TooLarge)?;
    }
    for (key, new) in after {
        let moved = row(&mut items, key);
        (moved.new, moved.effects.price) = (new, new);
    }
    Ok(items.into_values().collect())
}

fn row(items: &mut Items, key: Key) -> &mut Moved {
    let (what, item, code) = key.clone();
    items.entry(key).or_insert_with(|| Moved { what, item, code, old: 0, new: 0, effects: Effects::default() })
}

fn add(a: i64, b: i64) -> Result<i64, NumberError> {
    a.checked_add(b).ok_or(NumberError::TooLarge)
}

/// A step that has one effect: all of each item's difference.
fn step(
    items: &mut Items,
    before: &Worked<'_>,
    now: &Worked<'_>,
    effect: impl Fn(&mut Effects) -> &mut i64,
) -> Result<(), NumberError> {
    for (key, cents) in difference(before, now)? {
        let moved = row(items, key);
        moved.new = add(moved.new, cents)?;
        let effect = effect(&mut moved.effects);
        *effect = add(*effect, cents)?;
    }
    Ok(())
}

/// The step of new prices, by the same rules.
fn prices_step(items: &mut Items, before: &Worked<'_>, now: &Worked<'_>) -> Result<(), NumberError> {
    let of_price = effects_of_price(before, now)?;
    for (key, cents) in difference(before, now)? {
        // what is not in lines follows from the price book: mark-ups on what it prices, rates of its sheet Job
        let price = if key.0 == What::Beyond { cents } else { of_price.get(&key).copied().unwrap_or(0) };
        let moved = row(items, key);
        moved.new = add(moved.new, cents)?;
        moved.effects.price = add(moved.effects.price, price)?;
        moved.effects.quantity = add(moved.effects.quantity, cents.checked_sub(price).ok_or(NumberError::TooLarge)?)?;
    }
    Ok(())
}

/// What changed of each item; what did not change is left out.
fn difference(before: &Worked<'_>, now: &Worked<'_>) -> Result<Vec<(Key, i64)>, NumberError> {
    let (before, mut now) = (sums(before)?, sums(now)?);
    let mut out = Vec::new();
    for (key, old) in before {
        let new = now.remove(&key).unwrap_or(0);
        let cents = new.checked_sub(old).ok_or(NumberError::TooLarge)?;
        if cents != 0 {
            out.push((key, cents));
        }
    }
    out.extend(now.into_iter().filter(|(_, cents)| *cents != 0));
    Ok(out)
}

/// The effect of price on each item: old quantities at the difference of unit costs, each line to the cent.
fn effects_of_price(before: &Worked<'_>, now: &Worked<'_>) -> Result<BTreeMap<Key, i64>, NumberError> {
    let schema = &before.ready.program().schema;
    let mut out: BTreeMap<Key, i64> = BTreeMap::new();
    for (old, new) in pairs(&before.priced, &now.priced) {
        let cents = effect_of_price(old, new)?;
        if cents != 0 {
            let sum = out.entry(key(schema, old.item, &old.code)).or_default();
            *sum = add(*sum, cents)?;
        }
    }
    Ok(out)
}

fn effect_of_price(old: &Line, new: &Line) -> Result<i64, NumberError> {
    let own = |line: &Line, of: fn(&crate::pricing::Own) -> Option<Number>| line.own.as_ref().and_then(|o| of(o));
    let quantity = own(old, |o| o.quantity).unwrap_or(old.quantity);
    let each = |line: &Line| own(line, |o| o.unit_cost).or(line.unit_cost);
    match (each(old), each(new)) {
        (Some(a), Some(b)) if a == b => Ok(0),
        (Some(a), Some(b)) => {
            quantity.times(&b)?.cents()?.checked_sub(quantity.times(&a)?.cents()?).ok_or(NumberError::TooLarge)
        }
        // a sum without a unit cost
        _ if old.quantity == new.quantity => {
            new.cost.unwrap_or(0).checked_sub(old.cost.unwrap_or(0)).ok_or(NumberError::TooLarge)
        }
        _ => Ok(0),
    }
}

/// Lines of the bid that are there before and now.
fn pairs<'a>(before: &'a Priced, now: &'a Priced) -> Vec<(&'a Line, &'a Line)> {
    let same = |(a, b): (&Line, &Line)| a.of == b.of && a.item == b.item && a.code == b.code;
    let zipped = || in_bid(before).zip(in_bid(now));
    if in_bid(before).count() == in_bid(now).count() && zipped().all(same) {
        return zipped().collect();
    }
    let numbered = |priced: &'a Priced| {
        let mut seen: FxHashMap<_, u32> = FxHashMap::default();
        in_bid(priced)
            .map(|line| {
                let nth = seen.entry((line.of, line.item, &line.code)).or_default();
                *nth += 1;
                ((line.of, line.item, &line.code, *nth), line)
            })
            .collect::<Vec<_>>()
    };
    let now: FxHashMap<_, &Line> = numbered(now).into_iter().collect();
    let found = |(key, line)| now.get(&key).map(|new| (line, *new));
    numbered(before).into_iter().filter_map(found).collect()
}
