//! What moved in the parts of a bid and in its alternates.
//!
//! Prices of parts add up to the total in every working of a bid, so their differences add up to the total's in every step.
//! Of the step of prices, what their lines have of quantity adds up to what the items have, since each line is in one part.

use super::effects::Effect;
use crate::bid::sums::{alternates, parts};
use crate::pricing::divide::{alternate_of, part_of};
use crate::pricing::{Line, Priced};
use crate::quantity::NumberError;
use crate::workbook::carried::{Named, Sums};
use crate::workbook::variance::{Effects, Moved, Portion, Within};
use std::sync::Arc;

/// Parts and alternates while a bid goes through its steps.
#[derive(Debug)]
pub(super) struct Portions {
    parts: Vec<Portion>,
    alternates: Vec<Portion>,
}

fn begun(named: impl Iterator<Item = Named>) -> Vec<Portion> {
    named.map(|(name, cents)| Portion { name, old: cents, new: cents, effects: Effects::default() }).collect()
}

/// The one of a name: what is not there is worth nothing so far.
fn named<'p>(all: &'p mut Vec<Portion>, name: &Arc<str>) -> &'p mut Portion {
    let at = all.iter().position(|portion| portion.name == *name).unwrap_or(all.len());
    if at == all.len() {
        all.push(Portion { name: Arc::clone(name), old: 0, new: 0, effects: Effects::default() });
    }
    &mut all[at]
}

impl Portions {
    /// As a bid was worked out first.
    pub(super) fn of(priced: &Priced) -> Self {
        Self { parts: begun(parts(priced)), alternates: begun(alternates(priced)) }
    }

    /// As a workbook says that they were.
    pub(super) fn carried(sums: &Sums) -> Self {
        Self { parts: begun(sums.parts.iter().cloned()), alternates: begun(sums.alternates.iter().cloned()) }
    }

    /// A step that has one effect: all of each difference.
    pub(super) fn step(&mut self, now: &Priced, effect: Effect) -> Result<(), NumberError> {
        moved(&mut self.parts, parts(now), effect)?;
        moved(&mut self.alternates, alternates(now), effect)
    }

    /// The step of new prices, by the same rules; `of_price` are the effects of price on lines of before.
    pub(super) fn prices_step(
        &mut self,
        before: &Priced,
        now: &Priced,
        of_price: &[(&Line, i64)],
    ) -> Result<(), NumberError> {
        self.step(now, |effects| &mut effects.price)?;
        let cost = |line: &Line| line.cost.unwrap_or(0);
        self.of_quantity(now, now.lines.iter().map(|line| (line, cost(line))))?;
        self.of_quantity(before, before.lines.iter().map(|line| (line, -cost(line))))?;
        self.of_quantity(before, of_price.iter().map(|(line, cents)| (*line, -cents)))
    }

    /// Takes so much of lines from what counts as price to what counts as quantity.
    fn of_quantity<'l>(
        &mut self,
        priced: &Priced,
        lines: impl Iterator<Item = (&'l Line, i64)>,
    ) -> Result<(), NumberError> {
        let mut parts = vec![0i64; priced.parts.len()];
        let mut alternates = vec![0i64; priced.alternates.len()];
        let add = |sums: &mut [i64], at: u32, cents: i64| {
            let Some(sum) = sums.get_mut(at as usize) else { return Ok(()) };
            *sum = sum.checked_add(cents).ok_or(NumberError::TooLarge)?;
            Ok(())
        };
        for (line, cents) in lines {
            if let Some(at) = part_of(priced, line).filter(|_| !line.apart) {
                add(&mut parts, at, cents)?;
            }
            if let Some((at, deducts)) = alternate_of(priced, line) {
                add(&mut alternates, at, if deducts { -cents } else { cents })?;
            }
        }
        let parts = priced.parts.iter().map(|part| &part.name).zip(parts);
        let alternates = priced.alternates.iter().map(|alternate| &alternate.name).zip(alternates);
        for (name, cents) in parts {
            shift(named(&mut self.parts, name), cents)?;
        }
        for (name, cents) in alternates {
            shift(named(&mut self.alternates, name), cents)?;
        }
        Ok(())
    }

    /// What this version works out otherwise than the one that wrote the workbook is known of the whole bid alone.
    pub(super) fn anew(&mut self, whole: &Moved) {
        if !self.parts.is_empty() {
            let name = whole.label().into();
            self.parts.push(Portion { name, old: whole.old, new: whole.new, effects: whole.effects });
        }
    }

    /// What moved, with the items.
    pub(super) fn within(self, items: Vec<Moved>) -> Within {
        Within { items, parts: self.parts, alternates: self.alternates, rooms: Vec::new() }
    }
}

fn shift(portion: &mut Portion, cents: i64) -> Result<(), NumberError> {
    let effects = &mut portion.effects;
    effects.quantity = effects.quantity.checked_add(cents).ok_or(NumberError::TooLarge)?;
    effects.price = effects.price.checked_sub(cents).ok_or(NumberError::TooLarge)?;
    Ok(())
}

fn moved(all: &mut Vec<Portion>, now: impl Iterator<Item = Named>, effect: Effect) -> Result<(), NumberError> {
    let now: Vec<Named> = now.collect();
    for (name, _) in &now {
        named(all, name);
    }
    for portion in all {
        let cents = now.iter().find(|(name, _)| *name == portion.name).map_or(0, |(_, cents)| *cents);
        let change = cents.checked_sub(portion.new).ok_or(NumberError::TooLarge)?;
        portion.new = cents;
        let effect = effect(&mut portion.effects);
        *effect = effect.checked_add(change).ok_or(NumberError::TooLarge)?;
    }
    Ok(())
}
