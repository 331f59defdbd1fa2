//! Costs that fall with quantity: what the whole job uses of a code decides once, for its lines and for the order.

use super::book::{Found, PriceBook, PriceRow, need_unit};
use super::buying::BuyRule;
use super::exact::Tally;
use super::own::own_quantity;
use super::plan::Measured;
use super::priced::{Line, Priced};
use crate::engine::Run;
use crate::engine::input::fold;
use crate::program::{LineKind, Need, Schema};
use crate::quantity::{Dimension, Number, NumberError, Rounding};
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What the lines of a code come to, by what they measure, in shown units.
type Sums = Vec<(Dimension, Tally)>;

/// The price book at the costs of the breaks that the job reaches, with its lines priced anew; nothing where it reaches
/// none.
///
/// What is used of a code, own quantities and waste among it, is rounded up to whole purchases of a row; the last break
/// at or below that serves.
///
/// # Errors
/// A value too large.
pub(super) fn at_breaks(
    schema: &Schema,
    run: &Run,
    priced: &mut Priced,
    book: &PriceBook,
) -> Result<Option<PriceBook>, NumberError> {
    let codes: FxHashSet<String> = book.prices.iter().filter(|r| !r.breaks.is_empty()).map(|r| fold(&r.code)).collect();
    if codes.is_empty() {
        return Ok(None);
    }
    let dimensions: Vec<Dimension> = schema.items.iter().map(|i| Measured::of(schema, i).dimension).collect();
    let buying = BuyRule::of(schema, run);
    let mut at_break = book.clone();
    let mut changed = false;
    for (code, sums) in used(schema, priced, &codes, &dimensions)? {
        let rows = match book.price(&code) {
            Found::Row(row) => vec![row],
            Found::Choices(rows) => rows,
            _ => continue,
        };
        for row in buying.narrowed(book, &rows) {
            let Some(row) = at_break.prices.get_mut(row as usize) else { continue };
            let Some(units) = units(row, &sums)? else { continue };
            if let Some(reached) = row.breaks.iter().rev().find(|b| b.from <= units).cloned() {
                (row.cost, row.reached) = (reached.cost, Some(reached.from));
                changed = true;
            }
        }
    }
    if !changed {
        return Ok(None);
    }
    reprice(priced, &at_break, &dimensions)?;
    Ok(Some(at_break))
}

/// What is used of each of some codes.
fn used(
    schema: &Schema,
    priced: &Priced,
    codes: &FxHashSet<String>,
    dimensions: &[Dimension],
) -> Result<BTreeMap<String, Sums>, NumberError> {
    let mut out: BTreeMap<String, Sums> = BTreeMap::new();
    // one code is mostly one shared text: comparing addresses spares folding it for each line
    let mut by_address: FxHashMap<usize, Option<String>> = FxHashMap::default();
    for line in priced.lines.iter().filter(|l| l.kind == LineKind::Material && !l.apart) {
        let address = Arc::as_ptr(&line.code).cast::<u8>() as usize;
        let code = by_address.entry(address).or_insert_with(|| Some(fold(&line.code)).filter(|c| codes.contains(c)));
        let (Some(code), Some(item)) = (code, schema.items.get(line.item as usize)) else { continue };
        if matches!(item.need, Need::Lump(_)) {
            continue;
        }
        let dimension = dimensions[line.item as usize];
        let sums = out.entry(code.clone()).or_default();
        let at = match sums.iter().position(|(d, _)| *d == dimension) {
            Some(at) => at,
            None => {
                sums.push((dimension, Tally::default()));
                sums.len() - 1
            }
        };
        sums[at].1.add(&own_quantity(line).unwrap_or(line.quantity))?;
    }
    Ok(out)
}

/// What is used in units of sale of a row, up to whole purchases; nothing where it cannot be said.
fn units(row: &PriceRow, sums: &Sums) -> Result<Option<Number>, NumberError> {
    let mut units = Number::ZERO;
    for (dimension, tally) in sums {
        let Some(holds) = row.holds(*dimension)? else { return Ok(None) };
        let (_, shown) = need_unit(*dimension);
        units = units.plus(&tally.sum()?.scaled(shown.factor)?.over(&holds)?)?;
    }
    let purchase = row.purchase()?;
    if !purchase.whole {
        return Ok(Some(units));
    }
    let buy = units.over(&purchase.sale_units)?.steps(&Number::ONE, Rounding::Up)?;
    Ok(Some(buy.times(&purchase.sale_units)?))
}

/// Prices the lines of rows whose break is reached.
fn reprice(priced: &mut Priced, book: &PriceBook, dimensions: &[Dimension]) -> Result<(), NumberError> {
    let reached = |place: &_| book.prices.iter().find(|r| r.reached.is_some() && r.place == *place);
    let rows: Vec<Option<&PriceRow>> =
        priced.prices.iter().map(|p| if p.kind == LineKind::Material { reached(&p.place) } else { None }).collect();
    for (used, row) in priced.prices.iter_mut().zip(&rows) {
        if let Some(row) = row {
            (used.cost, used.reached) = (row.cost, row.reached);
        }
    }
    for line in &mut priced.lines {
        let row = line.price.and_then(|p| rows.get(p as usize).copied().flatten());
        if let (Some(row), Some(dimension)) = (row, dimensions.get(line.item as usize)) {
            line_at(line, row, *dimension)?;
        }
    }
    Ok(())
}

fn line_at(line: &mut Line, row: &PriceRow, dimension: Dimension) -> Result<(), NumberError> {
    let Some(holds) = row.holds(dimension)? else { return Ok(()) };
    let (_, shown) = need_unit(dimension);
    line.unit_cost = Some(row.cost.scaled(shown.factor)?.over(&holds)?);
    // an own unit cost wins over any of ours
    if line.own.as_ref().is_none_or(|own| own.unit_cost.is_none()) {
        let quantity = own_quantity(line).unwrap_or(line.quantity);
        line.cost = Some(quantity.scaled(shown.factor)?.times(&row.cost)?.over(&holds)?.cents()?);
    }
    Ok(())
}
