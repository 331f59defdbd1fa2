//! The order list: each code once for the whole job, in what the yard sells.

use super::book::{Found, PriceBook, PriceRow, need_unit};
use super::cuts::{Cuts, Laid, laid_in_stock, parts};
use super::exact::Tally;
use super::own::own_quantity;
use super::plan::Measured;
use super::priced::{CutList, Line, OrderRow, Priced};
use crate::engine::Run;
use crate::engine::input::fold;
use crate::program::native::Pieces;
use crate::program::{LineKind, Need, Schema};
use crate::quantity::show::decimal_text;
use crate::quantity::{Dimension, Number, NumberError, Rounding};
use rayon::prelude::*;
use rustc_hash::FxHashMap;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What one code comes to over all lines.
struct Group {
    code: Arc<str>,
    /// Sums by what they measure, in shown units, cut pieces apart from the rest.
    sums: Vec<Sum>,
    cuts: Cuts,
    failed: bool,
}

struct Sum {
    dimension: Dimension,
    cut: bool,
    tally: Tally,
}

/// What is bought for the whole job, a row for each code in order of code; lump sums are not bought.
///
/// Pieces, packs and cartons are rounded up once, within a millionth of one. Cut pieces are laid into stock
/// pieces by a cutting plan; where the waste stated comes to more stock than that, the waste serves.
/// Without a price book, and for a code that it cannot sell, a row says what is used and buys just that.
#[must_use]
pub fn order_list(schema: &Schema, run: &Run, priced: &Priced, book: Option<&PriceBook>) -> Vec<OrderRow> {
    order_and_cuts(schema, run, priced, book).0
}

/// The order list as [`order_list`] gives it, and how its cut pieces are cut from stock, both in order of code.
#[must_use]
pub fn order_and_cuts(
    schema: &Schema,
    run: &Run,
    priced: &Priced,
    book: Option<&PriceBook>,
) -> (Vec<OrderRow>, Vec<CutList>) {
    let mut groups: Vec<Group> = Vec::new();
    let mut by_code: BTreeMap<String, usize> = BTreeMap::new();
    let mut by_address: FxHashMap<usize, usize> = FxHashMap::default();
    let dimensions: Vec<Dimension> = schema.items.iter().map(|i| Measured::of(schema, i).dimension).collect();
    for line in priced.lines.iter().filter(|l| l.kind == LineKind::Material) {
        let Some(item) = schema.items.get(line.item as usize) else { continue };
        if matches!(item.need, Need::Lump(_)) {
            continue;
        }
        // one code is mostly one shared text: comparing addresses spares folding a million codes
        let address = Arc::as_ptr(&line.code).cast::<u8>() as usize;
        let at = *by_address.entry(address).or_insert_with(|| {
            *by_code.entry(fold(&line.code)).or_insert_with(|| {
                let (code, cuts) = (Arc::clone(&line.code), Cuts::default());
                groups.push(Group { code, sums: Vec::new(), cuts, failed: false });
                groups.len() - 1
            })
        });
        let cut = match item.need {
            // a quantity typed by hand says nothing of pieces
            Need::Cut { .. } | Need::Pieces { .. } if own_quantity(line).is_none() => Some(item.need),
            _ => None,
        };
        groups[at].add(schema, run, line, dimensions[line.item as usize], cut);
    }
    let groups: Vec<&Group> = by_code.into_values().map(|at| &groups[at]).collect();
    // each code alone, so that threads change nothing
    let rows: Vec<(OrderRow, Option<CutList>)> = groups.into_par_iter().map(|group| row_of(group, book)).collect();
    let (rows, cuts): (Vec<OrderRow>, Vec<Option<CutList>>) = rows.into_iter().unzip();
    (rows, cuts.into_iter().flatten().collect())
}

impl Group {
    fn add(&mut self, schema: &Schema, run: &Run, line: &Line, dimension: Dimension, cut: Option<Need>) {
        let found = self.sums.iter().position(|s| s.dimension == dimension && s.cut == cut.is_some());
        let at = found.unwrap_or_else(|| {
            self.sums.push(Sum { dimension, cut: cut.is_some(), tally: Tally::default() });
            self.sums.len() - 1
        });
        let quantity = own_quantity(line).unwrap_or(line.quantity);
        self.failed |= self.sums[at].tally.add(&quantity).is_err();
        let row = line.of.1 as usize;
        match cut {
            Some(Need::Cut { count, each }) => {
                let pieces = run.number(schema, count, row).ok().and_then(whole_up);
                let length = run.number(schema, each, row).ok().and_then(|mm| parts(&mm));
                self.cuts.add(pieces.zip(length), line.room);
            }
            Some(Need::Pieces { pieces, .. }) => {
                let thing = run.thing(pieces, row).ok();
                match thing.as_ref().and_then(|t| t.known_as::<Pieces>()) {
                    Some(pieces) => {
                        for (mm, many) in &pieces.0 {
                            self.cuts.add(i64::try_from(*many).ok().zip(parts(mm)), line.room);
                        }
                    }
                    None => self.cuts.add(None, line.room),
                }
            }
            _ => {}
        }
    }
}

fn whole_up(n: Number) -> Option<i64> {
    i64::try_from(n.steps(&Number::ONE, Rounding::Up).ok()?.to_decimal()).ok()
}

fn row_of(group: &Group, book: Option<&PriceBook>) -> (OrderRow, Option<CutList>) {
    let row = book.and_then(|b| match b.price(&group.code) {
        Found::Row(at) => b.prices.get(at as usize),
        _ => None,
    });
    let bought = match row {
        _ if group.failed => Err(NumberError::TooLarge),
        Some(row) => bought(group, row),
        None => unpriced(group).map(|row| (row, None)),
    };
    let failed = || OrderRow {
        code: Arc::clone(&group.code),
        item: row.map_or_else(|| "".into(), |r| Arc::clone(&r.item)),
        used: Number::ZERO,
        unit: "".into(),
        buy: Number::ZERO,
        sold_as: "too large to work out".to_owned(),
        left_over: Number::ZERO,
        each: None,
        cost: None,
        weight: None,
        supplier: row.and_then(|r| r.supplier.clone()),
    };
    bought.unwrap_or_else(|_| (failed(), None))
}

/// What is used, where nothing is known of what is sold: in the unit of the first need.
fn unpriced(group: &Group) -> Result<OrderRow, NumberError> {
    let dimension = group.sums.first().map_or(Dimension::NONE, |s| s.dimension);
    let mut used = Number::ZERO;
    for sum in group.sums.iter().filter(|s| s.dimension == dimension) {
        used = used.plus(&sum.tally.sum()?)?;
    }
    let (unit, _) = need_unit(dimension);
    Ok(OrderRow {
        code: Arc::clone(&group.code),
        item: "".into(),
        used,
        unit: unit.as_str().into(),
        buy: used,
        sold_as: unit,
        left_over: Number::ZERO,
        each: None,
        cost: None,
        weight: None,
        supplier: None,
    })
}

fn bought(group: &Group, row: &PriceRow) -> Result<(OrderRow, Option<CutList>), NumberError> {
    let mut purchase = row.purchase()?;
    let mut list = None;
    // all in units of sale; cut pieces laid into stock take at least the stock that they are laid into
    let (mut all, mut used_units) = (Number::ZERO, Number::ZERO);
    for sum in &group.sums {
        let (_, shown) = need_unit(sum.dimension);
        let base = sum.tally.sum()?.scaled(shown.factor)?;
        let Some(holds) = row.holds(sum.dimension)? else { continue };
        let units = base.over(&holds)?;
        used_units = used_units.plus(&units)?;
        let laid = match (&row.stock_length, sum.cut) {
            (Some(stock), true) => laid_in_stock(&group.cuts, stock)?,
            _ => None,
        };
        let units = match (laid, &row.stock_length) {
            (Some(Laid { used, at_least, joined, patterns }), Some(stock)) => {
                if joined > 0 {
                    purchase.sold_as += &joined_text(joined);
                }
                let (code, item) = (Arc::clone(&row.code), Arc::clone(&row.item));
                list = Some(CutList { code, item, stock: *stock, used, at_least, joined, patterns });
                units.max(Number::from(used).times(stock)?.over(&holds)?)
            }
            _ => units,
        };
        all = all.plus(&units)?;
    }
    let exact = all.over(&purchase.sale_units)?;
    let buy = if purchase.whole { exact.steps(&Number::ONE, Rounding::Up)? } else { exact };
    let (used, unit, content) = used_of(group, row, used_units, &purchase.sale_units)?;
    let left = buy.times(&content)?.minus(&used)?;
    let each = row.cost.times(&purchase.sale_units)?;
    let weight = match &row.weight {
        Some(weight) => Some(buy.times(weight)?.times(&purchase.sale_units)?),
        None => None,
    };
    let order = OrderRow {
        code: Arc::clone(&row.code),
        item: Arc::clone(&row.item),
        used,
        unit,
        buy,
        sold_as: purchase.sold_as,
        // a purchase that is whole within a millionth leaves nothing, and no less than nothing
        left_over: left.max(Number::ZERO),
        each: Some(each),
        cost: Some(buy.times(&each)?.cents()?),
        weight,
        supplier: row.supplier.clone(),
    };
    Ok((order, list))
}

/// What is used, its unit, and how much of it one purchase holds: in the unit of the needs where they share one,
/// else in units of sale.
fn used_of(
    group: &Group,
    row: &PriceRow,
    used_units: Number,
    sale_units: &Number,
) -> Result<(Number, Arc<str>, Number), NumberError> {
    let first = group.sums.first().map_or(Dimension::NONE, |s| s.dimension);
    if group.sums.iter().any(|s| s.dimension != first) {
        return Ok((used_units, Arc::clone(&row.sold_by.name), *sale_units));
    }
    let mut used = Number::ZERO;
    for sum in &group.sums {
        used = used.plus(&sum.tally.sum()?)?;
    }
    let (name, shown) = need_unit(first);
    let holds = row.holds(first)?.unwrap_or(Number::ZERO).scaled(shown.factor.recip())?;
    Ok((used, name.into(), holds.times(sale_units)?))
}

fn joined_text(joined: i64) -> String {
    let count = decimal_text(&Number::from(joined), 0).text;
    if joined == 1 {
        "; 1 piece longer than stock is joined from whole pieces and a rest".to_owned()
    } else {
        format!("; {count} pieces longer than stock are joined from whole pieces and a rest")
    }
}
