//! What a bid comes to item by item, and what it is worked out for: enough to tell later what moved, where quantities did not.

use crate::pricing::{Line, Priced};
use crate::program::{LineKind, Schema};
use crate::quantity::NumberError;
use crate::source::digest::Digest;
use crate::workbook::carried::Named;
use crate::workbook::variance::{Key, What};
use std::collections::BTreeMap;
use std::hash::Hash as _;
use std::sync::Arc;

/// The lines that are in the bid, and not in an alternate that would add them.
pub fn in_bid(priced: &Priced) -> impl Iterator<Item = &Line> {
    priced.lines.iter().filter(|line| !line.apart)
}

/// Cents of each part of the bid, by its name.
pub fn parts(priced: &Priced) -> impl Iterator<Item = Named> {
    priced.parts.iter().map(|part| (Arc::clone(&part.name), part.price))
}

/// Cents that each alternate adds, by its name.
pub fn alternates(priced: &Priced) -> impl Iterator<Item = Named> {
    priced.alternates.iter().map(|alternate| (Arc::clone(&alternate.name), alternate.price))
}

/// Cents of each item, and of what the bid has beyond its lines.
///
/// # Errors
/// Sums too large.
pub fn sums(schema: &Schema, priced: &Priced) -> Result<BTreeMap<Key, i64>, NumberError> {
    let mut out: BTreeMap<Key, i64> = BTreeMap::new();
    let mut last: Option<(u32, Arc<str>, i64)> = None;
    let mut beyond = priced.total.unwrap_or(0);
    for line in in_bid(priced) {
        let cents = line.cost.unwrap_or(0);
        beyond = beyond.checked_sub(cents).ok_or(NumberError::TooLarge)?;
        match &mut last {
            Some((item, code, sum)) if *item == line.item && *code == line.code => *sum = add(*sum, cents)?,
            _ => flush(schema, last.replace((line.item, Arc::clone(&line.code), cents)), &mut out)?,
        }
    }
    flush(schema, last, &mut out)?;
    out.insert((What::Beyond, "".into(), "".into()), beyond);
    Ok(out)
}

fn add(a: i64, b: i64) -> Result<i64, NumberError> {
    a.checked_add(b).ok_or(NumberError::TooLarge)
}

fn flush(schema: &Schema, sum: Option<(u32, Arc<str>, i64)>, out: &mut BTreeMap<Key, i64>) -> Result<(), NumberError> {
    if let Some((item, code, cents)) = sum {
        let sum = out.entry(key(schema, item, &code)).or_default();
        *sum = add(*sum, cents)?;
    }
    Ok(())
}

/// What the lines of an item and code are summed by.
#[must_use]
pub fn key(schema: &Schema, item: u32, code: &Arc<str>) -> Key {
    match schema.items.get(item as usize) {
        Some(item) if item.what == LineKind::Labor => (What::Labor, item.label.as_str().into(), Arc::clone(code)),
        Some(item) => (What::Material, item.label.as_str().into(), Arc::clone(code)),
        None => (What::Material, "".into(), Arc::clone(code)),
    }
}

/// What is priced, without prices: a digest of each line's row, item, code and quantity. Where two pricings of a bid by the
/// same rules have the same, prices alone are what moved. Lines that an alternate would add count: its price moves with them.
#[must_use]
pub fn quantities(priced: &Priced) -> String {
    let mut digest = Digest::default();
    for line in &priced.lines {
        let quantity = line.own.as_ref().and_then(|own| own.quantity).unwrap_or(line.quantity);
        let (above, below) = quantity.parts();
        (line.of.0.0, line.of.1, line.item, &*line.code).hash(&mut digest);
        (above.mantissa(), above.scale(), below.mantissa(), below.scale()).hash(&mut digest);
    }
    digest.hex()
}
