//! Cut pieces of one code, laid into its stock lengths by a cutting plan.

use super::cut_rules::{CutRules, Splicing, in_mm, parts, slack};
use super::priced::{CutPattern, CutPiece};
use crate::ceiling::cutting::{Demand, Effort, Job, Pattern, Plan, Stock, plan};
use crate::quantity::{Decimal, Number, NumberError, Rounding};
use rustc_hash::FxHashMap;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Work for one code: a job of more lengths is cut first fit, longest first, with the bound of sizes alone.
const EFFORT: Effort = Effort { lengths: 80, rounds: 400, dives: 4, steps: 200_000 };

/// The smallest part of a dollar in which stock lengths are weighed against each other.
const COST_PLACES: u32 = 6;

/// Cut pieces by length, in parts of a millimeter, apart by how they may be spliced.
#[derive(Default)]
pub(super) struct Cuts {
    by_length: BTreeMap<(i64, Option<Splicing>), Wanted>,
    /// Whether a length or count left 64 bits; then only the total length is known.
    failed: bool,
}

/// Pieces of one length: how many, and for which rooms, in order.
#[derive(Clone, Default)]
struct Wanted {
    count: i64,
    rooms: Vec<(u32, i64)>,
}

/// A stock length of a code.
pub(super) struct StockPiece {
    /// Its length in mm.
    pub mm: Number,
    /// Dollars for one.
    pub each: Number,
}

/// A plan for the pieces of a code.
pub(super) struct Laid {
    /// Stock pieces of each length.
    pub used: Vec<i64>,
    /// What is cut from each length in mm: pieces, laps and scraps.
    pub cut: Vec<Number>,
    /// Stock pieces that no plan does without.
    pub at_least: i64,
    /// Dollars for the stock used, and what no plan does without; where there are several lengths.
    pub cost: Option<(Number, Number)>,
    /// Pieces longer than stock, made of parts.
    pub spliced: i64,
    /// Joints of those.
    pub joints: i64,
    /// How many of them a scrap lies over.
    pub scraps: i64,
    pub patterns: Vec<CutPattern>,
    /// Stock pieces of each length by the delivery that they go with: the first that needs a piece of them.
    pub sent: Vec<Vec<i64>>,
}

/// Plans already made, by what was wanted: rooms alike are cut alike.
pub(super) type Known = FxHashMap<Vec<(i64, i64)>, Arc<Plan>>;

impl Cuts {
    /// So many pieces of a length, for a room; nothing where that is not known.
    pub fn add(&mut self, piece: Option<(i64, i64)>, splicing: Option<Splicing>, room: Option<u32>) {
        let Some((pieces, length)) = piece else {
            self.failed = true;
            return;
        };
        let wanted = self.by_length.entry((length, splicing)).or_default();
        match wanted.count.checked_add(pieces) {
            Some(more) => wanted.count = more,
            None => self.failed = true,
        }
        if let Some(room) = room.filter(|_| pieces > 0) {
            match wanted.rooms.last_mut() {
                Some((last, n)) if *last == room => *n = n.saturating_add(pieces),
                _ => wanted.rooms.push((room, pieces)),
            }
        }
    }
}

/// The rooms of each length, the first one last, given out to stock pieces one after the other.
struct Rooms(BTreeMap<i64, Vec<(u32, i64)>>);

/// Deliveries by room: their number, and the place of each room's, the last place for rooms that name none.
#[derive(Clone, Copy, Default)]
pub(super) struct Deliveries<'a> {
    /// How many places there are; none where deliveries are not told apart.
    pub places: usize,
    /// Each room's.
    pub of: &'a [Option<u32>],
}

impl Deliveries<'_> {
    /// The place of a room's delivery.
    pub fn place(&self, room: Option<u32>) -> usize {
        let last = self.places.saturating_sub(1);
        let own = room.and_then(|room| self.of.get(room as usize).copied().flatten());
        own.map_or(last, |at| (at as usize).min(last))
    }
}

impl Rooms {
    /// Rooms of the next so many pieces of a length.
    fn next(&mut self, length: i64, mut count: i64) -> Vec<(u32, i64)> {
        let Some(queue) = self.0.get_mut(&length) else { return Vec::new() };
        let mut out = Vec::new();
        while let Some((room, n)) = queue.last_mut().filter(|_| count > 0) {
            let taken = (*n).min(count);
            out.push((*room, taken));
            count -= taken;
            *n -= taken;
            if *n == 0 {
                queue.pop();
            }
        }
        out
    }
}

/// What is cut after pieces longer than stock are made of parts.
#[derive(Default)]
struct Parted {
    wanted: BTreeMap<i64, Wanted>,
    spliced: i64,
    joints: i64,
    scraps: i64,
}

impl Parted {
    /// So many of a length for each piece that is wanted.
    fn add(&mut self, length: i64, times: i64, of: &Wanted) -> Option<()> {
        let sum = self.wanted.entry(length).or_default();
        sum.count = sum.count.checked_add(of.count.checked_mul(times)?)?;
        sum.rooms.extend(of.rooms.iter().map(|(room, n)| (*room, n.saturating_mul(times))));
        Some(())
    }

    /// Nothing where a piece longer than stock may not be spliced, or a count leaves 64 bits.
    fn of(cuts: &Cuts, longest: i64) -> Option<Self> {
        let mut out = Self::default();
        let fits = longest.checked_add(slack(longest))?;
        for ((length, splicing), wanted) in cuts.by_length.iter().filter(|w| w.1.count > 0) {
            if *length <= fits {
                out.add(*length, 1, wanted)?;
                continue;
            }
            let splicing = splicing.as_ref()?;
            let parts = splicing.parts(*length, longest)?;
            let joints = parts.iter().map(|p| p.1).sum::<i64>() - 1;
            for (length, number) in parts {
                out.add(length, number, wanted)?;
            }
            if splicing.scrap > 0 {
                out.add(splicing.scrap, joints, wanted)?;
                out.scraps = out.scraps.checked_add(wanted.count.checked_mul(joints)?)?;
            }
            out.spliced = out.spliced.checked_add(wanted.count)?;
            out.joints = out.joints.checked_add(wanted.count.checked_mul(joints)?)?;
        }
        Some(out)
    }
}

/// Lays cut pieces into stock pieces at least cost; `None` where they cannot be laid. What overruns stock by a millionth
/// still fits.
pub(super) fn laid_in_stock(
    cuts: &Cuts,
    stock: &[StockPiece],
    rules: &CutRules,
    known: &mut Known,
    deliveries: Deliveries<'_>,
) -> Result<Option<Laid>, NumberError> {
    let lengths: Option<Vec<i64>> = stock.iter().map(|s| parts(&s.mm).filter(|n| *n > 0)).collect();
    let Some(lengths) = lengths.filter(|_| !cuts.failed) else { return Ok(None) };
    let Some(longest) = lengths.iter().copied().max() else { return Ok(None) };
    let Some(parted) = Parted::of(cuts, longest) else { return Ok(None) };
    let demands: Vec<(i64, i64)> = parted.wanted.iter().map(|(length, w)| (*length, w.count)).collect();
    let plan = match known.get(&demands) {
        Some(plan) => Arc::clone(plan),
        None => {
            let Some(plan) = planned(&demands, stock, &lengths, rules)? else { return Ok(None) };
            let plan = Arc::new(plan);
            known.insert(demands, Arc::clone(&plan));
            plan
        }
    };
    let backward = |mut w: Wanted| {
        // pieces for an earlier delivery come out of the first stock pieces
        if deliveries.places > 0 {
            w.rooms.sort_by_key(|(room, _)| deliveries.place(Some(*room)));
        }
        w.rooms.into_iter().rev().collect()
    };
    let mut rooms = Rooms(parted.wanted.into_iter().map(|(length, w)| (length, backward(w))).collect());
    let mut laid = Laid {
        used: plan.used.clone(),
        cut: vec![Number::ZERO; stock.len()],
        at_least: plan.at_least.pieces,
        cost: None,
        spliced: parted.spliced,
        joints: parted.joints,
        scraps: parted.scraps,
        patterns: Vec::with_capacity(plan.patterns.len()),
        sent: vec![vec![0; deliveries.places]; stock.len()],
    };
    for pattern in &plan.patterns {
        let sent = &mut laid.sent[pattern.stock];
        let of_stock = (&stock[pattern.stock].mm, slack(lengths[pattern.stock]));
        let told = told(pattern, of_stock, rules, &mut rooms, (deliveries, sent))?;
        let mut each = Number::ZERO;
        for piece in &told.pieces {
            each = each.plus(&piece.length.times(&piece.count.into())?)?;
        }
        laid.cut[pattern.stock] = laid.cut[pattern.stock].plus(&each.times(&told.times.into())?)?;
        laid.patterns.push(told);
    }
    if stock.len() > 1 {
        let mut cost = Number::ZERO;
        for (piece, used) in stock.iter().zip(&plan.used) {
            cost = cost.plus(&piece.each.times(&(*used).into())?)?;
        }
        let least = Number::from(Decimal::new(plan.at_least.cost, COST_PLACES));
        laid.cost = Some((cost, if plan.is_least() { cost } else { least.min(cost) }));
    }
    Ok(Some(laid))
}

/// A plan for so many pieces of each length.
fn planned(
    demands: &[(i64, i64)],
    stock: &[StockPiece],
    lengths: &[i64],
    rules: &CutRules,
) -> Result<Option<Plan>, NumberError> {
    let mut stocks = Vec::with_capacity(stock.len());
    for (piece, length) in stock.iter().zip(lengths) {
        let cost = if stock.len() == 1 { 1 } else { cost_of(piece)? };
        stocks.push(Stock { length: length + slack(*length), cost, limit: None });
    }
    let demands = demands.iter().map(|(length, count)| Demand { length: *length, count: *count, splice: None });
    let job = Job { stocks, demands: demands.collect(), kerf: rules.kerf, keep: rules.keep, effort: EFFORT };
    Ok(plan(&job).ok())
}

/// What a stock piece costs, in the smallest part of a dollar; what costs nothing is taken for one such part.
fn cost_of(piece: &StockPiece) -> Result<i64, NumberError> {
    let smallest = Number::from(Decimal::new(1, COST_PLACES));
    let steps = piece.each.steps(&smallest, Rounding::Near)?;
    Ok(i64::try_from(steps.to_decimal()).map_err(|_| NumberError::TooLarge)?.max(1))
}

/// Adds the stock pieces that are cut alike to the deliveries that they go with: each with the first that needs one of its
/// pieces. For each length how many come from one stock piece, and the rooms of all of them in order.
fn first_needs(times: i64, given: &[(i64, Vec<(u32, i64)>)], deliveries: Deliveries<'_>, sent: &mut [i64]) {
    // where the stock pieces of each delivery end, by length: rooms stand in the order of their deliveries
    let mut through = vec![0i64; deliveries.places];
    for (count, runs) in given.iter().filter(|(count, _)| *count > 0) {
        let mut pieces = vec![0i64; deliveries.places];
        for (room, n) in runs {
            pieces[deliveries.place(Some(*room))] = pieces[deliveries.place(Some(*room))].saturating_add(*n);
        }
        let mut running = 0i64;
        for (place, n) in pieces.iter().enumerate() {
            running = running.saturating_add(*n);
            // a stock piece that holds one of these goes with them
            let touched = running / count + i64::from(running % count > 0);
            through[place] = through[place].max(touched.min(times));
        }
    }
    let last = through.len().saturating_sub(1);
    let mut before = 0;
    for (place, end) in through.into_iter().enumerate() {
        let end = if place == last { times } else { end.max(before) };
        sent[place] = sent[place].saturating_add(end - before);
        before = end;
    }
}

fn told(
    pattern: &Pattern,
    (stock, slack): (&Number, i64),
    rules: &CutRules,
    rooms: &mut Rooms,
    (deliveries, sent): (Deliveries<'_>, &mut [i64]),
) -> Result<CutPattern, NumberError> {
    let mut pieces = Vec::with_capacity(pattern.pieces.len());
    let mut given = Vec::new();
    for (length, count) in &pattern.pieces {
        let runs = rooms.next(*length, count.saturating_mul(pattern.times));
        let rooms = runs.iter().map(|(room, _)| *room).collect();
        pieces.push(CutPiece { length: in_mm(*length)?, count: *count, rooms });
        if deliveries.places > 0 {
            given.push((*count, runs));
        }
    }
    if deliveries.places > 0 {
        first_needs(pattern.times, &given, deliveries, sent);
    }
    let offcut = (pattern.offcut - slack).max(0);
    let kept = offcut > 0 && offcut >= rules.keep;
    Ok(CutPattern { stock: *stock, times: pattern.times, pieces, offcut: in_mm(offcut)?, kept })
}
