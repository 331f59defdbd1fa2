//! What is bought against what is used: the line of the job by which a bid charges whole pieces and packs.

use super::block::LUMP_SUM;
use super::own::own_quantity;
use super::priced::{Line, Priced};
use crate::program::{LineKind, Schema};
use crate::quantity::{Decimal, Number, NumberError};

/// Adds the line, at no money yet: so that what an estimator typed beside it finds it.
pub(super) fn add_line(schema: &Schema, priced: &mut Priced, item: u32) {
    let Some(of) = schema.items.get(item as usize) else { return };
    priced.lines.push(Line {
        of: (of.kind, 0),
        room: None,
        item,
        code: WHOLE.into(),
        kind: LineKind::Material,
        need: Number::ONE,
        waste: Number::ZERO,
        quantity: Number::ONE,
        unit: LUMP_SUM.into(),
        unit_cost: Some(Number::ZERO),
        cost: Some(0),
        hours: None,
        price: None,
        apart: false,
        own: None,
    });
}

/// The code of the line.
const WHOLE: &str = "WHOLE";

/// What the bought pieces and packs cost beyond what is used of them, in cents; nothing where there are no prices.
///
/// # Errors
/// A value too large.
pub fn beyond_used(priced: &Priced) -> Result<Option<i64>, NumberError> {
    let mut beyond = 0i128;
    let mut any = false;
    for cost in priced.order.iter().filter(|row| row.place.is_some()).filter_map(|row| row.cost) {
        beyond += i128::from(cost);
        any = true;
    }
    for line in priced.lines.iter().filter(|l| l.kind == LineKind::Material && l.price.is_some() && !l.apart) {
        beyond -= i128::from(at_our_cost(line)?);
    }
    i64::try_from(beyond).map(|n| any.then_some(n)).map_err(|_| NumberError::TooLarge)
}

/// What a line comes to at the price book's cost: a unit cost typed by hand is no difference of whole pieces.
fn at_our_cost(line: &Line) -> Result<i64, NumberError> {
    match (&line.own, &line.unit_cost) {
        (Some(own), Some(each)) if own.unit_cost.is_some() => {
            own_quantity(line).unwrap_or(line.quantity).times(each)?.cents()
        }
        _ => Ok(line.cost.unwrap_or(0)),
    }
}

/// Puts the difference into its line; what an estimator typed beside it wins. A difference of nothing has no line.
///
/// # Errors
/// A value too large.
pub(super) fn settle_line(priced: &mut Priced, item: u32) -> Result<(), NumberError> {
    let beyond = beyond_used(priced)?.unwrap_or(0);
    let each = Number::from(Decimal::new(beyond, 2));
    priced.lines.retain(|l| l.item != item || beyond != 0 || l.own.is_some());
    for line in priced.lines.iter_mut().filter(|l| l.item == item) {
        line.unit_cost = Some(each);
        let own = line.own.clone();
        let cost = own.as_ref().and_then(|o| o.unit_cost).unwrap_or(each);
        let quantity = own.as_ref().and_then(|o| o.quantity).unwrap_or(Number::ONE);
        line.cost = Some(quantity.times(&cost)?.cents()?);
    }
    Ok(())
}
