//! Lines: each item and work of each row, with its quantity and its cost to the cent.

use super::block::{Block, Differs, ItemWork, Odd, price_block};
use super::book::PriceBook;
use super::buying::BuyRule;
use super::checks::Desk;
use super::cut_rules::{CutRules, rules_have_values};
use super::exact::Tally;
use super::labor_rows::Working;
use super::long::{LongPieces, long_pieces, too_long};
use super::plan::{Measured, Plan, Ready, Refusals};
use super::priced::{Line, Priced, RowResult};
use super::used::{PriceTable, order_prices};
use super::work::How;
use crate::engine::column::BLOCK;
use crate::engine::input::fold;
use crate::engine::{Column, Explain, Inputs, Run};
use crate::problem::{Problem, Weight};
use crate::program::{FieldId, Item, KindId, LineKind, Need, Outcome, Schema};
use crate::quantity::show::{Style, show};
use crate::quantity::{Dimension, NumberError, Ratio};
use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};
use std::sync::Arc;

/// Prices every row: lines, checks, and what stops. Problems of reading become findings as well.
///
/// Kinds of one row (the job) come later, in [`price_job`]; so do checks whose column is not worked out yet
/// ([`late_checks`]). A stopped row has no lines. Without a price book quantities are worked out and costs are not.
#[must_use]
pub fn price_lines(
    schema: &Schema,
    run: &Run,
    inputs: &Inputs,
    book: Option<&PriceBook>,
    explain: &dyn Explain,
) -> Priced {
    let mut desk = Desk::new(schema, run, inputs, explain);
    desk.take_input_problems();
    for check in schema.checks.iter().filter(|c| !schema.kind(c.kind).single) {
        desk.check(check);
    }
    let mut priced = Priced { has_prices: book.is_some(), ..Priced::default() };
    let mut prices = PriceTable::new(book, Vec::new());
    price_items(&mut desk, book, false, &mut priced.lines, &mut prices);
    finish(&mut priced, desk, prices, 0);
    priced
}

/// Prices every row but those left out as if it were the job: what each root row comes to, and why it is stopped. A row
/// whose checks alone stop it has its cost as well, so that it can be told beside the others.
pub(super) fn price_trial(
    schema: &Schema,
    run: &Run,
    inputs: &Inputs,
    book: Option<&PriceBook>,
    explain: &dyn Explain,
    left_out: &[bool],
) -> Priced {
    let mut desk = Desk::new(schema, run, inputs, explain).leaving_out(left_out);
    for check in schema.checks.iter().filter(|c| c.outcome == Outcome::Stops && !schema.kind(c.kind).single) {
        desk.check(check);
    }
    let mut priced = Priced { has_prices: book.is_some(), ..Priced::default() };
    let mut prices = PriceTable::new(book, Vec::new());
    let failing = desk.stops_set_aside();
    price_items(&mut desk, book, false, &mut priced.lines, &mut prices);
    finish(&mut priced, desk, prices, 0);
    for (room, fails) in priced.rooms.iter_mut().zip(failing) {
        room.stopped |= fails;
    }
    priced
}

/// Checks of row kinds whose column is not worked out yet: those that look at the job's sums.
#[must_use]
pub fn late_checks(schema: &Schema, run: &Run) -> Vec<usize> {
    let open = |f: FieldId| run.columns.get(f.0 as usize).is_none_or(Option::is_none);
    let rows = schema.checks.iter().enumerate().filter(|(_, c)| !schema.kind(c.kind).single);
    rows.filter(|(_, c)| open(c.holds)).map(|(i, _)| i).collect()
}

/// Adds the job's own lines, lump sums among them, and its checks, once its columns are worked out.
///
/// `late` are the checks that [`late_checks`] named before; a row that one of them stops loses its lines. A lump
/// sum states its own money and needs no row of the price book.
pub fn price_job(
    schema: &Schema,
    run: &Run,
    inputs: &Inputs,
    book: Option<&PriceBook>,
    explain: &dyn Explain,
    late: &[usize],
    priced: &mut Priced,
) {
    let mut desk = Desk::new(schema, run, inputs, explain);
    for (row, _) in priced.rooms.iter().enumerate().filter(|(_, r)| r.stopped) {
        if let Some(root) = desk.root {
            desk.stop(root, u32::try_from(row).unwrap_or(u32::MAX));
        }
    }
    // rows of other kinds that were stopped before: their lines are gone, only their count is carried on
    let rooms_stopped = priced.rooms.iter().filter(|r| r.stopped).count();
    let others = priced.stopped.saturating_sub(rooms_stopped).saturating_sub(desk.stopped_elsewhere());
    for (i, check) in schema.checks.iter().enumerate() {
        if schema.kind(check.kind).single || late.contains(&i) {
            desk.check(check);
        }
    }
    rules_have_values(&mut desk);
    let mut prices = PriceTable::new(book, std::mem::take(&mut priced.prices));
    price_items(&mut desk, book, true, &mut priced.lines, &mut prices);
    finish(priced, desk, prices, others);
}

/// The lines of every kind of one sort.
fn price_items<'a>(
    desk: &mut Desk<'a>,
    book: Option<&'a PriceBook>,
    single: bool,
    lines: &mut Vec<Line>,
    prices: &mut PriceTable<'a>,
) {
    let schema = desk.schema;
    let rules = Arc::new(CutRules::of(schema, desk.run));
    let mut refusals = Refusals::new(BuyRule::of(schema, desk.run));
    let mut blocks: Vec<(KindId, Block)> = Vec::new();
    for (k, kind) in schema.kinds.iter().enumerate() {
        let id = KindId(u32::try_from(k).unwrap_or(u32::MAX));
        let rows = desk.run.rows_of(id);
        if kind.single != single || rows == 0 {
            continue;
        }
        let works = works(desk, id, book, &rules, &mut refusals, prices);
        let skip: Vec<bool> = (0..rows).map(|r| desk.input_stopped(id, u32::try_from(r).unwrap_or(u32::MAX))).collect();
        let made: Vec<Block> = (0..rows.div_ceil(BLOCK))
            .into_par_iter()
            .map(|block| price_block(&works, id, block * BLOCK..((block + 1) * BLOCK).min(rows), &skip))
            .collect();
        blocks.extend(made.into_iter().map(|b| (id, b)));
    }
    gather(desk, book, blocks, refusals, lines);
}

/// The items of a kind with their columns; each code is looked up once.
fn works<'a>(
    desk: &mut Desk<'a>,
    kind: KindId,
    book: Option<&'a PriceBook>,
    rules: &Arc<CutRules>,
    refusals: &mut Refusals,
    prices: &mut PriceTable<'a>,
) -> Vec<ItemWork<'a>> {
    let (schema, run) = (desk.schema, desk.run);
    let rows = run.rows_of(kind);
    let stated = book.and_then(|b| b.waste.as_ref());
    let mut out = Vec::new();
    for (index, item) in schema.items.iter().enumerate().filter(|(_, i)| i.kind == kind) {
        let long = |c: &&Column| c.chunks.len() >= rows.div_ceil(BLOCK);
        let column = |f: FieldId| run.columns.get(f.0 as usize).and_then(Option::as_ref).filter(long);
        let optional = |f: Option<FieldId>| f.map_or(Some(None), |f| column(f).map(Some));
        let need = match item.need {
            Need::Amount(f) | Need::Lump(f) => column(f).map(|c| (c, None)),
            Need::Pieces { total, .. } => column(total).map(|c| (c, None)),
            Need::Cut { count, each } => column(count).zip(column(each)).map(|(c, e)| (c, Some(e))),
        };
        let columns = (optional(item.when), column(item.code), need, optional(item.waste), optional(item.rate));
        let (Some(when), Some(code), Some(need), Some(waste), Some(rate)) = columns else {
            not_worked_out(desk, item, rows);
            continue;
        };
        let Some(factor) = optional(item.factor) else {
            not_worked_out(desk, item, rows);
            continue;
        };
        let measured = Measured::of(schema, item);
        let plans = plans(run, code, item, &measured, refusals, prices);
        let stocks = plans.values().filter_map(|(plan, _)| if let Plan::Ready(r) = plan { r.longest } else { None });
        let long = stocks.min().map_or_else(LongPieces::default, |least| long_pieces(schema, run, item, least));
        // the price book's waste is for what is bought; a lump sum has none
        let takes_default = item.what == LineKind::Material && !matches!(item.need, Need::Lump(_));
        out.push(ItemWork {
            item,
            index: u32::try_from(index).unwrap_or(u32::MAX),
            when,
            code,
            need,
            waste,
            waste_factor: item.waste.map_or(Ratio::from(1), |f| schema.field(f).unit.factor),
            rate,
            factor,
            factor_unit: item.factor.map_or(Ratio::from(1), |f| schema.field(f).unit.factor),
            working: Working::of(schema, run, item),
            measured,
            waste_default: stated.filter(|_| takes_default),
            plans,
            long,
            rules: Arc::clone(rules),
        });
    }
    out
}

/// An item without its columns must not pass for one that is not needed.
fn not_worked_out(desk: &mut Desk<'_>, item: &Item, rows: usize) {
    let what = format!("{} was not worked out, so no row that it belongs to is priced.", item.label);
    let problem = Problem::stop("not worked out", what).in_book(&item.text, item.span);
    desk.add("not worked out", None, problem);
    for row in 0..rows {
        desk.stop(item.kind, u32::try_from(row).unwrap_or(u32::MAX));
    }
}

/// A plan for each distinct code of a column, by the number of its text.
fn plans(
    run: &Run,
    code: &Column,
    item: &Item,
    measured: &Measured,
    refusals: &mut Refusals,
    prices: &mut PriceTable<'_>,
) -> FxHashMap<u32, (Plan, Option<u32>)> {
    let mut out: FxHashMap<u32, (Plan, Option<u32>)> = FxHashMap::default();
    let mut last = None;
    for chunk in &code.chunks {
        let len = chunk.data.len();
        // one code for a whole block stands under its sound rows; where there is none it means nothing
        let no_sound = chunk.faults.as_ref().is_some_and(|f| f.iter().all(Option::is_some));
        for row in 0..len {
            let faulty = if len == 1 { no_sound } else { chunk.fault(row).is_some() };
            let Some(id) = chunk.text(row).filter(|id| !faulty && last != Some(*id)) else { continue };
            last = Some(id);
            if out.contains_key(&id) {
                continue;
            }
            let same = run.texts.same(id);
            let plan = match out.get(&same) {
                Some(plan) => plan.clone(),
                None => {
                    let text = run.texts.get(id);
                    let plan = match item.need {
                        Need::Lump(_) => Plan::Ready(Arc::new(Ready::alone(Arc::clone(text), How::Unpriced))),
                        _ => refusals.plan(item, measured, text, prices.book),
                    };
                    match plan {
                        Plan::Ready(ready) => {
                            let number = ready.row.and_then(|row| prices.number(item.what, row));
                            (Plan::Ready(ready), number)
                        }
                        Plan::ByRow(by) => {
                            let mut by = (*by).clone();
                            for at in &mut by.rows {
                                at.price = prices.number(item.what, at.row);
                            }
                            (Plan::ByRow(Arc::new(by)), None)
                        }
                        refused @ Plan::Refused(_) => (refused, None),
                    }
                }
            };
            out.insert(same, plan.clone());
            out.insert(id, plan);
        }
    }
    out
}

/// Brings the blocks together in order of rows, and puts into words what they found.
fn gather(
    desk: &mut Desk<'_>,
    book: Option<&PriceBook>,
    blocks: Vec<(KindId, Block)>,
    refusals: Refusals,
    lines: &mut Vec<Line>,
) {
    let mut refused_rows: Vec<Vec<(KindId, u32)>> = vec![Vec::new(); refusals.problems.len()];
    let (mut wastes, mut rates): (Vec<Differs>, Vec<Differs>) = (Vec::new(), Vec::new());
    lines.reserve(blocks.iter().map(|(_, b)| b.lines.len()).sum());
    for (kind, block) in blocks {
        for (row, fault) in block.faults {
            desk.fault(kind, row, fault);
        }
        for (row, refusal) in block.refused {
            desk.stop(kind, row);
            if refused_rows[refusal].last() != Some(&(kind, row)) {
                refused_rows[refusal].push((kind, row));
            }
        }
        for (row, item, odd) in block.odd {
            odd_row(desk, kind, row, item, odd);
        }
        for (row, item, long) in block.long {
            too_long(desk, kind, row, item, &long);
        }
        let known = desk.root == Some(kind);
        lines.extend(block.lines.into_iter().map(|line| {
            let room = if known { Some(line.of.1) } else { desk.room(kind, line.of.1) };
            Line { room, ..line }
        }));
        wastes.extend(block.wastes);
        rates.extend(block.rates);
    }
    for (problem, rows) in refusals.problems.into_iter().zip(refused_rows) {
        refusal(desk, problem, &rows);
    }
    if let Some(stated) = book.and_then(|b| b.waste.as_ref()) {
        waste_warning(desk, stated, &wastes);
    }
    rate_warnings(desk, &rates);
}

/// One problem for all the rows that need a code; nobody needs it: none.
fn refusal(desk: &mut Desk<'_>, mut problem: Problem, rows: &[(KindId, u32)]) {
    if rows.is_empty() {
        return;
    }
    for cell in rows.iter().filter_map(|(kind, row)| desk.cell(*kind, *row)) {
        problem = problem.at_cell(cell);
    }
    let row = if let [one] = rows { Some(*one) } else { None };
    desk.add(problem.kind, row, problem);
}

fn odd_row(desk: &mut Desk<'_>, kind: KindId, row: u32, item: u32, odd: Odd) {
    let item = &desk.schema.items[item as usize];
    let (name, what) = match odd {
        Odd::BelowZero => {
            ("need below zero", format!("{} comes to less than zero: need, count, length, waste or rate.", item.label))
        }
        Odd::TooLarge => ("number too large", format!("The figures of {} are too large to work with.", item.label)),
    };
    let mut problem = Problem::stop(name, what);
    if let Some(cell) = desk.cell(kind, row) {
        problem = problem.at_cell(cell);
    }
    let problem = problem.in_book(&item.text, item.span);
    desk.stop(kind, row);
    desk.add(name, Some((kind, row)), problem);
}

/// One warning for the job: the items whose rules state a waste other than the price book's.
fn waste_warning(desk: &mut Desk<'_>, stated: &super::book::StatedWaste, wastes: &[Differs]) {
    let percent = |n| show(n, Dimension::NONE, &Style { percent: true, ..Style::default() }).text;
    let mut told = FxHashSet::default();
    let first: Vec<&Differs> = wastes.iter().filter(|d| told.insert(d.item)).collect();
    if first.is_empty() {
        return;
    }
    let items = &desk.schema.items;
    let each: Vec<String> =
        first.iter().map(|d| format!("{} {}", items[d.item as usize].label, percent(&d.rule))).collect();
    let what = format!(
        "Waste is stated twice: {} in the price book, and in the rules for {}. The rule serves.",
        percent(&stated.fraction),
        each.join(", ")
    );
    let mut problem = Problem::warning("waste stated twice", what).at_cell(stated.place.clone());
    for d in first {
        let item = &items[d.item as usize];
        problem = problem.in_book(&item.text, item.span);
    }
    let problem = problem.fix("state it in one place");
    desk.add("waste stated twice", None, problem);
}

/// One warning for each work whose rule and Labor row state different hours.
fn rate_warnings(desk: &mut Desk<'_>, rates: &[Differs]) {
    let mut told = FxHashSet::default();
    for d in rates.iter().filter(|d| told.insert((d.item, fold(&d.code)))) {
        let item = &desk.schema.items[d.item as usize];
        let need = Measured::of(desk.schema, item).dimension;
        let hours = |n| show(n, Dimension::TIME / need, &Style::default()).text;
        let what = format!(
            "Hours for {} are stated twice: {} by the rule, {} by row {} of sheet Labor. The rule serves.",
            item.label,
            hours(&d.rule),
            hours(&d.book),
            d.code
        );
        let problem = Problem::warning("rate stated twice", what).in_book(&item.text, item.span);
        desk.add("rate stated twice", None, problem.fix("state it in one place"));
    }
}

/// Drops the lines of stopped rows, puts the used price rows in order, adds up.
fn finish(priced: &mut Priced, desk: Desk<'_>, prices: PriceTable<'_>, stopped_before: usize) {
    if desk.any_stopped() {
        priced.lines.retain(|l| !desk.is_stopped(l.of.0, l.of.1));
    }
    // lines of children follow those of their room, the job's own come last; a stable sort keeps the rest
    let in_order = |l: &Line| (l.room.is_none(), l.room);
    if !priced.lines.is_sorted_by_key(in_order) {
        priced.lines.sort_by_key(in_order);
    }
    order_prices(priced, prices.used);
    priced.stopped = stopped_before + desk.stopped.iter().flatten().filter(|s| **s).count();
    let rooms = desk.root.map_or(0, |root| desk.run.rows_of(root));
    priced.rooms = vec![RowResult::default(); rooms];
    if let Some(flags) = desk.root.and_then(|root| desk.stopped.get(root.0 as usize)) {
        for (room, stopped) in priced.rooms.iter_mut().zip(flags) {
            room.stopped = *stopped;
        }
    }
    let summed = add_up(priced);
    let rooms_of: Vec<Option<u32>> = priced
        .findings
        .iter()
        .chain(&desk.findings)
        .map(|f| f.row.filter(|_| f.problem.weight == Weight::Warning).and_then(|(k, r)| desk.room(k, r)))
        .collect();
    for room in rooms_of.into_iter().flatten() {
        if let Some(room) = priced.rooms.get_mut(room as usize) {
            room.warnings += 1;
        }
    }
    priced.findings.extend(desk.findings);
    if summed.is_err() {
        let problem = Problem::stop("number too large", "The sum of the lines is too large to work with.");
        priced.findings.push(super::priced::Finding::of_no_row(problem, "number too large"));
        priced.total = None;
    }
    priced.findings.sort_by_key(|f| std::cmp::Reverse(f.problem.weight));
}

/// Sums of rooms and of the job.
pub(super) fn add_up(priced: &mut Priced) -> Result<(), NumberError> {
    let (mut material, mut labor) = (0i128, 0i128);
    let mut hours = Tally::default();
    let mut any_hours = false;
    let mut room_hours = Tally::default();
    let mut room_cost: Option<i128> = None;
    let lines = &priced.lines;
    for (i, line) in lines.iter().enumerate() {
        let cents = line.cost.map(i128::from);
        match line.kind {
            _ if line.apart => {}
            LineKind::Material => material += cents.unwrap_or(0),
            LineKind::Labor => labor += cents.unwrap_or(0),
        }
        if let Some(cents) = cents {
            room_cost = Some(room_cost.unwrap_or(0) + cents);
        }
        if let Some(h) = &line.hours {
            if !line.apart {
                any_hours = true;
                hours.add(h)?;
            }
            room_hours.add(h)?;
        }
        if lines.get(i + 1).is_none_or(|next| next.room != line.room) {
            if let Some(room) = line.room.and_then(|r| priced.rooms.get_mut(r as usize)) {
                let cost = room_cost.map(i64::try_from).transpose();
                room.cost = cost.map_err(|_| NumberError::TooLarge)?;
                room.hours = if room_hours.is_empty() { None } else { Some(room_hours.sum()?) };
            }
            (room_cost, room_hours) = (None, Tally::default());
        }
    }
    priced.material = i64::try_from(material).map_err(|_| NumberError::TooLarge)?;
    priced.labor = i64::try_from(labor).map_err(|_| NumberError::TooLarge)?;
    priced.hours = if any_hours { Some(hours.sum()?) } else { None };
    let complete = priced.has_prices && priced.stopped == 0;
    let total = priced.material.checked_add(priced.labor).ok_or(NumberError::TooLarge)?;
    priced.total = complete.then_some(total);
    Ok(())
}
