//! Price rows that are used: by lines, and by what is bought.

use super::book::{LaborRow, PriceBook};
use super::plan::hourly;
use super::priced::{PriceUsed, Priced};
use crate::engine::input::fold;
use crate::program::LineKind;
use crate::quantity::Dimension;
use crate::quantity::show::{Style, show};
use crate::source::CellPlace;
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// Price rows that may serve, in the order met; a line's price is an index into it until [`finish`].
pub(super) struct PriceTable<'a> {
    pub book: Option<&'a PriceBook>,
    pub used: Vec<PriceUsed>,
    numbers: FxHashMap<(LineKind, u32), u32>,
}

impl<'a> PriceTable<'a> {
    pub fn new(book: Option<&'a PriceBook>, used: Vec<PriceUsed>) -> Self {
        let mut numbers = FxHashMap::default();
        if let Some(book) = book {
            for (i, u) in used.iter().enumerate() {
                let row = match u.kind {
                    LineKind::Material => book.prices.iter().position(|r| r.place == u.place),
                    LineKind::Labor => book.labor.iter().position(|r| r.place == u.place),
                };
                if let (Some(Ok(row)), Ok(i)) = (row.map(u32::try_from), u32::try_from(i)) {
                    numbers.insert((u.kind, row), i);
                }
            }
        }
        Self { book, used, numbers }
    }

    /// The number of a row of the price book.
    pub fn number(&mut self, kind: LineKind, row: u32) -> Option<u32> {
        let book = self.book?;
        if let Some(number) = self.numbers.get(&(kind, row)) {
            return Some(*number);
        }
        let used = match kind {
            LineKind::Material => material_used(book, row as usize)?,
            LineKind::Labor => labor_used(book, row as usize)?,
        };
        let number = u32::try_from(self.used.len()).ok()?;
        self.used.push(used);
        self.numbers.insert((kind, row), number);
        Some(number)
    }
}

fn material_used(book: &PriceBook, row: usize) -> Option<PriceUsed> {
    let row = book.prices.get(row)?;
    Some(PriceUsed {
        code: Arc::clone(&row.code),
        item: Arc::clone(&row.item),
        kind: LineKind::Material,
        sold_by: Arc::clone(&row.sold_by.name),
        pack: row.pack.as_ref().map(|p| Arc::clone(&p.written)),
        stock_length: row.stock_length,
        cost: row.cost,
        hours: None,
        reached: row.reached,
        from: row.from,
        through: row.through,
        supplier: row.supplier.clone(),
        overtime: None,
        prices_lines: false,
        bought: false,
        place: row.place.clone(),
    })
}

/// What the work is, with the height and the difficulty that the row is for.
fn work_at(row: &LaborRow) -> String {
    let height = row.height.map(|mm| format!("from {}", show(&mm, Dimension::LENGTH, &Style::default()).text));
    let parts = [Some(row.work.to_string()), row.difficulty.as_ref().map(ToString::to_string), height];
    parts.into_iter().flatten().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(", ")
}

fn labor_used(book: &PriceBook, row: usize) -> Option<PriceUsed> {
    let row = book.labor.get(row)?;
    let crew = book.crews.get(row.crew? as usize)?;
    Some(PriceUsed {
        code: Arc::clone(&row.code),
        item: work_at(row).into(),
        kind: LineKind::Labor,
        sold_by: "hr".into(),
        pack: None,
        stock_length: None,
        cost: hourly(crew).ok()?,
        hours: row.rate.as_ref().map(|rate| (rate.hours, Arc::clone(&rate.per.name))),
        reached: None,
        from: row.from,
        through: row.through,
        supplier: Some(Arc::clone(&crew.name)),
        overtime: crew.overtime.as_ref().and_then(|o| Some((o.paid().ok()?, o.worked))),
        prices_lines: false,
        bought: false,
        place: row.place.clone(),
    })
}

/// Adds the price rows that the order buys by, and marks them.
pub(super) fn add_bought(priced: &mut Priced, book: &PriceBook) {
    let mut used = std::mem::take(&mut priced.prices);
    let places: Vec<CellPlace> = priced.order.iter().filter_map(|row| row.place.clone()).collect();
    for place in places {
        let same = |u: &PriceUsed| u.kind == LineKind::Material && u.place == place;
        let at = used.iter().position(same).or_else(|| {
            let row = book.prices.iter().position(|row| row.place == place)?;
            used.push(material_used(book, row)?);
            Some(used.len() - 1)
        });
        if let Some(row) = at.and_then(|at| used.get_mut(at)) {
            row.bought = true;
        }
    }
    order_prices(priced, used);
}

/// Keeps the price rows that a line uses or that something is bought by, in order of code.
pub(super) fn order_prices(priced: &mut Priced, mut used: Vec<PriceUsed>) {
    for row in &mut used {
        row.prices_lines = false;
    }
    for price in priced.lines.iter().filter_map(|l| l.price) {
        if let Some(row) = used.get_mut(price as usize) {
            row.prices_lines = true;
        }
    }
    let mut order: Vec<usize> = (0..used.len()).filter(|i| used[*i].prices_lines || used[*i].bought).collect();
    order.sort_by_cached_key(|i| (fold(&used[*i].code), used[*i].kind == LineKind::Labor, used[*i].place.row));
    let mut place = vec![None; used.len()];
    for (new, old) in order.iter().enumerate() {
        place[*old] = u32::try_from(new).ok();
    }
    for line in &mut priced.lines {
        line.price = line.price.and_then(|p| place.get(p as usize).copied().flatten());
    }
    priced.prices = order.into_iter().map(|i| used[i].clone()).collect();
}
