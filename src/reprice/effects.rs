//! What moved between two workings of a bid, item by item, and why: effects add up to the difference to the cent.
//!
//! A bid is worked out in steps, each with one thing changed: as it was priced last; with what an estimator has typed
//! since; with the new prices and date; with the new rules. The step of prices is split line by line: the old quantity
//! at the difference of unit costs is the effect of price, what is left of the line's difference that of quantity. Parts
//! and alternates are split in the same steps: what is of quantity in their lines is so in them, and the rest of the step,
//! mark-ups with it, is price.

use super::portions::Portions;
use crate::bid::Worked;
use crate::bid::sums::{key, sums};
use crate::pricing::{Line, Priced};
use crate::quantity::{Number, NumberError};
use crate::workbook::carried::Sums;
use crate::workbook::variance::{Effects, Key, Moved, What, Within};
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

/// A working with its sums.
struct Summed<'w, 'r> {
    worked: &'w Worked<'r>,
    sums: BTreeMap<Key, i64>,
}

impl<'w, 'r> Summed<'w, 'r> {
    fn new(worked: &'w Worked<'r>) -> Result<Self, NumberError> {
        Ok(Self { worked, sums: sums(&worked.ready.program().schema, &worked.priced)? })
    }
}

/// One effect of several.
pub(super) type Effect = fn(&mut Effects) -> &mut i64;

/// What moved, and by what.
///
/// `stored` is the total that the workbook was written with: where this version works another out, that is an effect of
/// rules. `None` where the bid has no total before or now.
///
/// # Errors
/// Sums too large.
pub fn split(steps: &Steps<'_, '_>, stored: Option<i64>) -> Result<Option<Within>, NumberError> {
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
        return Ok(Some(Within { items: items.into_values().collect(), ..Within::default() }));
    }
    // a step between in which rows are stopped tells nothing: what it changed counts to the next
    let told = |step: &&Worked<'_>| step.priced.total.is_some();
    let (by_hand, prices) = (by_hand.filter(told), prices.filter(told));
    let mut items = Items::new();
    let mut before = Summed::new(old)?;
    let mut portions = Portions::of(&old.priced);
    for (key, cents) in &before.sums {
        let moved = row(&mut items, key.clone());
        (moved.old, moved.new) = (*cents, *cents);
    }
    if let Some(now) = by_hand {
        let now = Summed::new(now)?;
        step(&mut items, &before, &now, |effects| &mut effects.by_hand)?;
        portions.step(&now.worked.priced, |effects| &mut effects.by_hand)?;
        before = now;
    }
    if let Some(now) = prices {
        let now = Summed::new(now)?;
        let of_price = effects_of_price(&before.worked.priced, &now.worked.priced)?;
        prices_step(&mut items, &before, &now, &of_price)?;
        portions.prices_step(&before.worked.priced, &now.worked.priced, &of_price)?;
        before = now;
    }
    if let Some(now) = rules {
        step(&mut items, &before, &Summed::new(now)?, |effects| &mut effects.rules)?;
        portions.step(&now.priced, |effects| &mut effects.rules)?;
    }
    if let Some((stored, worked_out)) = stored.zip(old.priced.total).filter(|(a, b)| a != b) {
        let moved = row(&mut items, (What::Anew, "".into(), "".into()));
        moved.old = stored.checked_sub(worked_out).ok_or(NumberError::TooLarge)?;
        moved.effects.rules = worked_out.checked_sub(stored).ok_or(NumberError::TooLarge)?;
        portions.anew(moved);
    }
    Ok(Some(portions.within(items.into_values().collect())))
}

/// What moved since a pricing that said what its items came to, where quantities are the same as then: prices alone. It is
/// what [`split`] gives, without working the bid out as it was.
///
/// # Errors
/// Sums too large.
pub fn by_price_alone(before: &Sums, now: &Worked<'_>) -> Result<Within, NumberError> {
    let mut items = Items::new();
    let mut after = Summed::new(now)?.sums;
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
    let mut portions = Portions::carried(before);
    portions.step(&now.priced, |effects| &mut effects.price)?;
    Ok(portions.within(items.into_values().collect()))
}

fn row(items: &mut Items, key: Key) -> &mut Moved {
    let (what, item, code) = key.clone();
    items.entry(key).or_insert_with(|| Moved { what, item, code, old: 0, new: 0, effects: Effects::default() })
}

fn add(a: i64, b: i64) -> Result<i64, NumberError> {
    a.checked_add(b).ok_or(NumberError::TooLarge)
}

/// A step that has one effect: all of each item's difference.
fn step(items: &mut Items, before: &Summed<'_, '_>, now: &Summed<'_, '_>, effect: Effect) -> Result<(), NumberError> {
    for (key, cents) in difference(&before.sums, &now.sums)? {
        let moved = row(items, key.clone());
        moved.new = add(moved.new, cents)?;
        let effect = effect(&mut moved.effects);
        *effect = add(*effect, cents)?;
    }
    Ok(())
}

/// The step of new prices, by the same rules.
fn prices_step(
    items: &mut Items,
    before: &Summed<'_, '_>,
    now: &Summed<'_, '_>,
    of_price: &[(&Line, i64)],
) -> Result<(), NumberError> {
    let schema = &before.worked.ready.program().schema;
    let mut of_items: BTreeMap<Key, i64> = BTreeMap::new();
    for (line, cents) in of_price.iter().filter(|(line, _)| !line.apart) {
        let sum = of_items.entry(key(schema, line.item, &line.code)).or_default();
        *sum = add(*sum, *cents)?;
    }
    for (key, cents) in difference(&before.sums, &now.sums)? {
        // what is not in lines follows from the price book: mark-ups on what it prices, rates of its sheet Job
        let price = if key.0 == What::Beyond { cents } else { of_items.get(key).copied().unwrap_or(0) };
        let moved = row(items, key.clone());
        moved.new = add(moved.new, cents)?;
        moved.effects.price = add(moved.effects.price, price)?;
        moved.effects.quantity = add(moved.effects.quantity, cents.checked_sub(price).ok_or(NumberError::TooLarge)?)?;
    }
    Ok(())
}

/// What changed of each item; where nothing did in sum, price and quantity may have moved against each other.
fn difference<'k>(
    before: &'k BTreeMap<Key, i64>,
    now: &'k BTreeMap<Key, i64>,
) -> Result<Vec<(&'k Key, i64)>, NumberError> {
    let mut out = Vec::new();
    for (key, old) in before {
        let new = now.get(key).copied().unwrap_or(0);
        out.push((key, new.checked_sub(*old).ok_or(NumberError::TooLarge)?));
    }
    let come = now.iter().filter(|(key, cents)| **cents != 0 && !before.contains_key(*key));
    out.extend(come.map(|(key, cents)| (key, *cents)));
    Ok(out)
}

/// The effect of price on each line that stays: its old quantity at the difference of unit costs, to the cent. The lines are
/// those of before.
fn effects_of_price<'a>(before: &'a Priced, now: &'a Priced) -> Result<Vec<(&'a Line, i64)>, NumberError> {
    let mut out = Vec::new();
    for (old, new) in pairs(before, now) {
        let cents = effect_of_price(old, new)?;
        if cents != 0 {
            out.push((old, cents));
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

/// Lines that are there before and now, those of alternates too.
fn pairs<'a>(before: &'a Priced, now: &'a Priced) -> Vec<(&'a Line, &'a Line)> {
    let same = |(a, b): (&Line, &Line)| a.of == b.of && a.item == b.item && a.code == b.code;
    let zipped = || before.lines.iter().zip(&now.lines);
    if before.lines.len() == now.lines.len() && zipped().all(same) {
        return zipped().collect();
    }
    let numbered = |priced: &'a Priced| {
        let mut seen: FxHashMap<_, u32> = FxHashMap::default();
        priced
            .lines
            .iter()
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
