//! The order list: each code once for the whole job, in what the yard sells.

use super::book::{Found, PriceBook, PriceRow, Purchase, need_unit};
use super::buying::BuyRule;
use super::cut_rules::{CutRules, parts};
use super::cuts::{Cuts, Deliveries, Known, Laid, StockPiece, laid_in_stock};
use super::deliveries::{came_to, shared};
use super::exact::Tally;
use super::offers::offers;
use super::own::own_quantity;
use super::plan::Measured;
use super::priced::{CutList, Line, OrderRow, Packed, Priced};
use crate::engine::input::fold;
use crate::engine::{Inputs, Run, names};
use crate::program::native::Pieces;
use crate::program::{CutBy, LineKind, Need, Schema};
use crate::quantity::{Decimal, Dimension, Number, NumberError, Rounding};
use rayon::prelude::*;
use rustc_hash::FxHashMap;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What one code comes to over all lines.
pub(super) struct Group {
    code: Arc<str>,
    /// Sums by what they measure, in shown units, cut pieces apart from the rest.
    pub sums: Vec<Sum>,
    /// Cut pieces of each level or room that is cut by itself, in the order met.
    cuts: Vec<(Together, Cuts)>,
    /// Where each of these stands.
    places: FxHashMap<Together, usize>,
    failed: bool,
}

pub(super) struct Sum {
    pub dimension: Dimension,
    pub cut: bool,
    pub tally: Tally,
    /// The same by delivery, where deliveries are told apart.
    pub by_delivery: Vec<Tally>,
}

/// What is cut together: the text of a level, or the row of a room; nothing for the whole job and for lines of the job.
pub(super) type Together = Option<u32>;

/// What a list of orders is made from.
pub(super) struct Desk<'a> {
    schema: &'a Schema,
    run: &'a Run,
    book: Option<&'a PriceBook>,
    rules: CutRules,
    buying: BuyRule,
    pub(super) deliveries: Deliveries<'a>,
}

/// What is bought for the whole job, a row for each code and stock length in order of code; lump sums are not bought.
///
/// Pieces, packs and cartons are rounded up once, within a millionth of one. Cut pieces are laid into the stock
/// lengths on offer by a cutting plan at least cost; where the waste stated comes to more stock than that, the waste
/// serves.
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
    let places = if priced.delivery_names.is_empty() { 0 } else { priced.delivery_names.len() + 1 };
    let deliveries = Deliveries { places, of: &priced.delivery_of };
    let desk =
        Desk { schema, run, book, rules: CutRules::of(schema, run), buying: BuyRule::of(schema, run), deliveries };
    let mut groups: Vec<Group> = Vec::new();
    let mut by_code: BTreeMap<String, usize> = BTreeMap::new();
    let mut by_address: FxHashMap<usize, usize> = FxHashMap::default();
    let dimensions: Vec<Dimension> = schema.items.iter().map(|i| Measured::of(schema, i).dimension).collect();
    for line in priced.lines.iter().filter(|l| l.kind == LineKind::Material && !l.apart) {
        let Some(item) = schema.items.get(line.item as usize) else { continue };
        if matches!(item.need, Need::Lump(_)) {
            continue;
        }
        // one code is mostly one shared text: comparing addresses spares folding a million codes
        let address = Arc::as_ptr(&line.code).cast::<u8>() as usize;
        let at = *by_address.entry(address).or_insert_with(|| {
            *by_code.entry(fold(&line.code)).or_insert_with(|| {
                let code = Arc::clone(&line.code);
                let places = FxHashMap::default();
                groups.push(Group { code, sums: Vec::new(), cuts: Vec::new(), places, failed: false });
                groups.len() - 1
            })
        });
        let cut = match item.need {
            // a quantity typed by hand says nothing of pieces
            Need::Cut { .. } | Need::Pieces { .. } if own_quantity(line).is_none() => Some(item.need),
            _ => None,
        };
        groups[at].add(&desk, line, dimensions[line.item as usize], cut);
    }
    let groups: Vec<&Group> = by_code.into_values().map(|at| &groups[at]).collect();
    // each code alone, so that threads change nothing
    let bought: Vec<Bought> = groups.into_par_iter().map(|group| desk.rows_of(group)).collect();
    let (rows, cuts): (Vec<Vec<OrderRow>>, Vec<Vec<CutList>>) = bought.into_iter().map(|b| (b.rows, b.cuts)).unzip();
    (rows.into_iter().flatten().collect(), cuts.into_iter().flatten().collect())
}

impl Group {
    fn add(&mut self, desk: &Desk<'_>, line: &Line, dimension: Dimension, cut: Option<Need>) {
        let found = self.sums.iter().position(|s| s.dimension == dimension && s.cut == cut.is_some());
        let at = found.unwrap_or_else(|| {
            let by_delivery = vec![Tally::default(); desk.deliveries.places];
            self.sums.push(Sum { dimension, cut: cut.is_some(), tally: Tally::default(), by_delivery });
            self.sums.len() - 1
        });
        let quantity = own_quantity(line).unwrap_or(line.quantity);
        self.failed |= self.sums[at].tally.add(&quantity).is_err();
        if let Some(tally) = self.sums[at].by_delivery.get_mut(desk.deliveries.place(line.room)) {
            self.failed |= tally.add(&quantity).is_err();
        }
        let (row, splicing) = (line.of.1 as usize, desk.rules.splicing(line.item));
        let (schema, run) = (desk.schema, desk.run);
        match cut {
            Some(Need::Cut { count, each }) => {
                let pieces = run.number(schema, count, row).ok().and_then(whole_up);
                let length = run.number(schema, each, row).ok().and_then(|mm| parts(&mm));
                self.cuts_for(desk, line).add(pieces.zip(length), splicing, line.room);
            }
            Some(Need::Pieces { pieces, .. }) => {
                let thing = run.thing(pieces, row).ok();
                let cuts = self.cuts_for(desk, line);
                match thing.as_ref().and_then(|t| t.known_as::<Pieces>()) {
                    Some(pieces) => {
                        for (mm, many) in &pieces.0 {
                            cuts.add(i64::try_from(*many).ok().zip(parts(mm)), splicing, line.room);
                        }
                    }
                    None => cuts.add(None, splicing, line.room),
                }
            }
            _ => {}
        }
    }

    /// The cut pieces of what a line's room is cut together with.
    fn cuts_for(&mut self, desk: &Desk<'_>, line: &Line) -> &mut Cuts {
        let together = desk.together(line.room);
        let next = self.cuts.len();
        let at = *self.places.entry(together).or_insert(next);
        if at == next {
            self.cuts.push((together, Cuts::default()));
        }
        &mut self.cuts[at].1
    }
}

fn whole_up(n: Number) -> Option<i64> {
    i64::try_from(n.steps(&Number::ONE, Rounding::Up).ok()?.to_decimal()).ok()
}

/// The cutting plans of a code, and the same as the sheet shows them.
pub(super) type Plans = (Vec<Laid>, Vec<CutList>);

/// What is bought of one code, and how it is cut.
#[derive(Default)]
pub(super) struct Bought {
    pub rows: Vec<OrderRow>,
    pub cuts: Vec<CutList>,
}

impl Desk<'_> {
    /// What the pieces of a room are cut together with.
    fn together(&self, room: Option<u32>) -> Together {
        match (self.rules.by, room) {
            (CutBy::Rows, room) => room,
            (CutBy::Field(field), Some(room)) => {
                let column = self.run.columns.get(field.0 as usize)?.as_ref()?;
                let (chunk, at) = column.locate(room as usize);
                if chunk.fault(at).is_some() {
                    return None;
                }
                chunk.text(at).map(|text| self.run.texts.same(text))
            }
            (CutBy::WholeJob, _) | (_, None) => None,
        }
    }

    /// What is cut together, in words; nothing where the whole job is.
    fn group_name(&self, together: Together) -> Option<Arc<str>> {
        match (self.rules.by, together) {
            (CutBy::WholeJob, _) => None,
            (CutBy::Rows, Some(room)) => {
                let root = self.schema.root_kind()?;
                Some(names::row_of_kind(self.schema, self.run, &Inputs::default(), root, room as usize).into())
            }
            (CutBy::Field(field), Some(text)) => {
                let (label, text) = (fold(&self.schema.field(field).label), self.run.texts.get(text).trim());
                // a level that is called Level 2 says what it is
                Some(if fold(text).starts_with(&label) { text.into() } else { format!("{label} {text}").into() })
            }
            (CutBy::Rows, None) => Some("the job's own lines".into()),
            (CutBy::Field(field), None) => Some(format!("no {}", self.schema.field(field).label.to_lowercase()).into()),
        }
    }

    fn rows_of(&self, group: &Group) -> Bought {
        let on_offer = self.book.map_or(Ok(Vec::new()), |book| on_offer(book, group, &self.buying));
        let bought = match &on_offer {
            _ if group.failed => Err(NumberError::TooLarge),
            Err(e) => Err(*e),
            Ok(rows) => match rows.as_slice() {
                [] => unpriced(group).map(|row| Bought { rows: vec![row], cuts: Vec::new() }),
                [row] => self.bought(group, row),
                rows => self.by_lengths(group, rows),
            },
        };
        bought.unwrap_or_else(|_| {
            let row = on_offer.ok().and_then(|rows| rows.first().copied());
            Bought { rows: vec![too_large(group, row)], cuts: Vec::new() }
        })
    }
}

/// The rows of the price book that a code is bought by: the one that prices its lines first.
fn on_offer<'b>(book: &'b PriceBook, group: &Group, buying: &BuyRule) -> Result<Vec<&'b PriceRow>, NumberError> {
    let need = group.sums.first().map_or(Dimension::NONE, |s| s.dimension);
    let rows = match book.price(&group.code) {
        Found::Row(at) => vec![at],
        Found::Choices(rows) => rows,
        _ => return Ok(Vec::new()),
    };
    let rows = buying.narrowed(book, &rows);
    if let [one] = rows.as_slice() {
        return Ok(book.prices.get(*one as usize).into_iter().collect());
    }
    let Some(found) = offers(book, &rows, need)? else { return Ok(Vec::new()) };
    let others = found.rows.iter().copied().filter(|at| *at != found.serving);
    Ok(std::iter::once(found.serving).chain(others).filter_map(|at| book.prices.get(at as usize)).collect())
}

fn too_large(group: &Group, row: Option<&PriceRow>) -> OrderRow {
    OrderRow {
        code: Arc::clone(&group.code),
        item: row.map_or_else(|| "".into(), |r| Arc::clone(&r.item)),
        used: Number::ZERO,
        unit: "".into(),
        buy: Number::ZERO,
        sold_as: "too large to work out".to_owned(),
        left_over: Number::ZERO,
        scrap: Number::ZERO,
        each: None,
        cost: None,
        left_cost: None,
        weight: None,
        supplier: row.and_then(|r| r.supplier.clone()),
        place: None,
        packed: None,
        deliveries: Vec::new(),
    }
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
        scrap: Number::ZERO,
        each: None,
        cost: None,
        left_cost: None,
        weight: None,
        supplier: None,
        place: None,
        packed: None,
        deliveries: Vec::new(),
    })
}

impl Desk<'_> {
    /// The cutting plans of a code, one for each level or room that is cut by itself, over the stock lengths given;
    /// nothing where its pieces cannot be laid.
    pub(super) fn plans(&self, group: &Group, rows: &[&PriceRow]) -> Result<Option<Plans>, NumberError> {
        let mut stock = Vec::with_capacity(rows.len());
        for row in rows {
            let (Some(mm), Some(holds)) = (row.stock_length, row.holds(Dimension::LENGTH)?) else { return Ok(None) };
            stock.push(StockPiece { mm, each: row.cost.times(&mm)?.over(&holds)? });
        }
        let item = common_name(rows);
        let (mut all, mut lists) = (Vec::new(), Vec::new());
        let mut known = Known::default();
        for (together, cuts) in &group.cuts {
            let Some(mut laid) = laid_in_stock(cuts, &stock, &self.rules, &mut known, self.deliveries)? else {
                return Ok(None);
            };
            lists.push(CutList {
                code: Arc::clone(&rows[0].code),
                item: Arc::clone(&item),
                group: self.group_name(*together),
                used: laid.used.iter().fold(0, |a, n| a.saturating_add(*n)),
                at_least: laid.at_least,
                cost: laid.cost,
                spliced: laid.spliced,
                joints: laid.joints,
                scraps: laid.scraps,
                patterns: std::mem::take(&mut laid.patterns),
            });
            all.push(laid);
        }
        Ok(Some((all, lists)))
    }

    /// What is bought of a code that has one row.
    fn bought(&self, group: &Group, row: &PriceRow) -> Result<Bought, NumberError> {
        let mut lists = Vec::new();
        // all in units of sale; cut pieces laid into stock take at least the stock that they are laid into
        let (mut all, mut used_units) = (Number::ZERO, Number::ZERO);
        let mut through = vec![Number::ZERO; self.deliveries.places];
        for sum in &group.sums {
            let (_, shown) = need_unit(sum.dimension);
            let base = sum.tally.sum()?.scaled(shown.factor)?;
            let Some(holds) = row.holds(sum.dimension)? else { continue };
            let mut units = base.over(&holds)?;
            used_units = used_units.plus(&units)?;
            let plans = if sum.cut { self.plans(group, &[row])? } else { None };
            let mut sent = came_to(&sum.by_delivery, shown.factor, &holds)?;
            if let (Some((laid, made)), Some(stock)) = (plans, &row.stock_length) {
                let pieces = laid.iter().flat_map(|l| &l.sent);
                let stock_units = stock.over(&holds)?;
                let mut running = 0i64;
                for (place, units) in sent.iter_mut().enumerate() {
                    let here = pieces.clone().filter_map(|s| s.get(place)).fold(0i64, |a, n| a.saturating_add(*n));
                    running = running.saturating_add(here);
                    *units = (*units).max(Number::from(running).times(&stock_units)?);
                }
                let pieces = laid.iter().flat_map(|l| &l.used).try_fold(0i64, |a, n| a.checked_add(*n));
                let pieces = Number::from(pieces.ok_or(NumberError::TooLarge)?);
                units = units.max(pieces.times(stock)?.over(&holds)?);
                lists = made;
            }
            all = all.plus(&units)?;
            for (sum, units) in through.iter_mut().zip(&sent) {
                *sum = sum.plus(units)?;
            }
        }
        let purchase = row.purchase()?;
        let (used, unit, content) = used_of(group, row, used_units, &purchase.sale_units)?;
        let scrap = match (&row.stock_length, row.holds(Dimension::LENGTH)?) {
            // a whole purchase is `content` of the unit, and so many mm
            (Some(stock), Some(holds)) => {
                scrap_of(&lists, stock)?.times(&content)?.over(&holds.times(&purchase.sale_units)?)?
            }
            _ => Number::ZERO,
        };
        let mut row = order_row(row, &purchase, &all, Used { used, unit, content, scrap, planned: !lists.is_empty() })?;
        row.deliveries = shared(&row.buy, &through, &purchase)?;
        Ok(Bought { rows: vec![row], cuts: lists })
    }
}

/// What rows of one code are called: the words that they begin with in common.
fn common_name(rows: &[&PriceRow]) -> Arc<str> {
    let Some((first, others)) = rows.split_first() else { return "".into() };
    let mut words: Vec<&str> = first.item.split_whitespace().collect();
    for row in others {
        let same = words.iter().zip(row.item.split_whitespace()).take_while(|(a, b)| **a == *b).count();
        words.truncate(same);
    }
    let text = words.join(" ");
    if others.is_empty() { Arc::clone(&first.item) } else { text.trim_end_matches([',', ';', ':', '-']).trim().into() }
}

/// What is used, in a unit, and how much of that one purchase holds.
pub(super) struct Used {
    pub used: Number,
    pub unit: Arc<str>,
    pub content: Number,
    /// What of the rest is no offcut to keep, in that unit.
    pub scrap: Number,
    /// Whether a cutting plan says how much is bought.
    pub planned: bool,
}

/// What cutting leaves of the stock pieces of one length that nothing more can be cut from, in mm: saw cuts, and offcuts
/// shorter than the house keeps.
pub(super) fn scrap_of(lists: &[CutList], stock: &Number) -> Result<Number, NumberError> {
    let mut all = Number::ZERO;
    for pattern in lists.iter().flat_map(|l| &l.patterns).filter(|p| p.stock == *stock) {
        let mut each = if pattern.kept { stock.minus(&pattern.offcut)? } else { *stock };
        for piece in &pattern.pieces {
            each = each.minus(&piece.length.times(&piece.count.into())?)?;
        }
        // a piece may overrun its stock by a millionth
        all = all.plus(&each.max(Number::ZERO).times(&pattern.times.into())?)?;
    }
    Ok(all)
}

/// So many units of sale, bought in whole purchases.
pub(super) fn order_row(
    row: &PriceRow,
    purchase: &Purchase,
    units: &Number,
    of: Used,
) -> Result<OrderRow, NumberError> {
    let exact = units.over(&purchase.sale_units)?;
    let mut buy = if purchase.whole { exact.steps(&Number::ONE, Rounding::Up)? } else { exact };
    let mut sold_as = purchase.sold_as.clone();
    let mut packed = Packed { content: of.content, whole: purchase.whole, least: None };
    if let Some(least) = row.least {
        let least = least.over(&purchase.sale_units)?;
        let least = if purchase.whole { least.steps(&Number::ONE, Rounding::Up)? } else { least };
        packed.least = Some(least);
        if least > buy && !buy.is_zero() {
            buy = least;
            sold_as += "; the least that is sold at once";
        }
    }
    // a purchase that is whole within a millionth leaves nothing, and no less than nothing
    let rest = buy.times(&of.content)?.minus(&of.used)?.max(Number::ZERO);
    // waste that a rule adds is used, and may be more than the plan's scrap
    let scrap = of.scrap.min(rest);
    let left = rest.minus(&scrap)?;
    let each = row.cost.times(&purchase.sale_units)?;
    let cost = buy.times(&each)?.cents()?;
    let weight = match &row.weight {
        Some(weight) => Some(buy.times(weight)?.times(&purchase.sale_units)?),
        None => None,
    };
    Ok(OrderRow {
        code: Arc::clone(&row.code),
        item: Arc::clone(&row.item),
        used: of.used,
        unit: of.unit,
        buy,
        sold_as,
        left_over: left,
        scrap,
        each: Some(each),
        cost: Some(cost),
        left_cost: Some(share(cost, &left, &of.used.plus(&rest)?)?),
        weight,
        supplier: row.supplier.clone(),
        place: Some(row.place.clone()),
        packed: Some(packed).filter(|_| !of.planned),
        deliveries: Vec::new(),
    })
}

/// The share of a cost that a part of a whole has, in cents.
fn share(cents: i64, part: &Number, whole: &Number) -> Result<i64, NumberError> {
    if whole.is_zero() {
        return Ok(0);
    }
    Number::from(Decimal::new(cents, 2)).times(part)?.over(whole)?.cents()
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
