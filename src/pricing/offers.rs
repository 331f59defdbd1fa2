//! Rows of one code that are in force at once: which of them are on offer, and which prices a line.
//!
//! A line is priced by the row that costs least for what is used, of equals by the one that stands first in the sheet.

use super::book::{PriceBook, PriceRow};
use crate::engine::input::fold;
use crate::quantity::{Dimension, Number, NumberError};
use rustc_hash::FxHashSet;
use std::collections::BTreeMap;

/// Most stock lengths of one code on offer at once.
pub(crate) const MOST_LENGTHS: usize = 40;

/// Rows of one code that can serve a need.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Offers {
    /// In sheet order, no two of one stock length: of those the cheapest stays.
    pub rows: Vec<u32>,
    /// The one that prices a line.
    pub serving: u32,
}

/// What a row is sold as: the measure of its unit of sale, or of what a pack holds.
fn measure(row: &PriceRow) -> Option<Dimension> {
    row.sold_by.unit.map(|u| u.dimension).or_else(|| row.pack.as_ref().map(|p| p.dimension))
}

/// Whether rows of one code that are in force at once are choices: each supplier is named, or none; a supplier's rows
/// differ in stock length and share the measure that they are sold by.
pub(super) fn are_choices(prices: &[PriceRow], rows: &[u32]) -> bool {
    /// What a supplier's rows are sold by, and their stock lengths.
    type Sold = (Option<Dimension>, FxHashSet<Option<Number>>);
    let mut of_supplier: BTreeMap<Option<String>, Sold> = BTreeMap::new();
    for row in rows.iter().filter_map(|i| prices.get(*i as usize)) {
        let supplier = row.supplier.as_ref().map(|s| fold(s));
        let (sold, stocks) = of_supplier.entry(supplier).or_insert_with(|| (measure(row), FxHashSet::default()));
        let first = stocks.is_empty();
        let lengths = row.stock_length.is_some() && !stocks.contains(&None);
        let fits = first || (lengths && *sold == measure(row));
        if !fits || !stocks.insert(row.stock_length) {
            return false;
        }
    }
    of_supplier.len() == 1 || !of_supplier.contains_key(&None)
}

/// The rows that hold what a need measures; nothing where none does.
///
/// # Errors
/// A value too large.
pub(crate) fn offers(book: &PriceBook, rows: &[u32], need: Dimension) -> Result<Option<Offers>, NumberError> {
    let mut cheapest: BTreeMap<Option<Number>, (Number, u32)> = BTreeMap::new();
    let mut serving: Option<(Number, u32)> = None;
    for at in rows {
        let Some(row) = book.prices.get(*at as usize) else { continue };
        let Some(holds) = row.holds(need)?.filter(|h| !h.is_zero()) else { continue };
        let each = row.cost.over(&holds)?;
        let same = cheapest.entry(row.stock_length).or_insert((each, *at));
        if each < same.0 {
            *same = (each, *at);
        }
        if serving.is_none_or(|(least, _)| each < least) {
            serving = Some((each, *at));
        }
    }
    let Some((_, serving)) = serving else { return Ok(None) };
    let mut rows: Vec<u32> = cheapest.into_values().map(|(_, at)| at).collect();
    rows.sort_unstable();
    Ok(Some(Offers { rows, serving }))
}

/// The longest stock on offer in mm, where every row states one.
pub(crate) fn longest(book: &PriceBook, rows: &[u32]) -> Option<Number> {
    let lengths = rows.iter().map(|at| book.prices.get(*at as usize)?.stock_length);
    lengths.collect::<Option<Vec<Number>>>()?.into_iter().max()
}
