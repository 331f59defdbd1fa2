//! Cut pieces of one code, laid into its stock by a cutting plan.

use super::exact::Exact;
use super::priced::{CutPattern, CutPiece};
use crate::ceiling::cutting::{Demand, Effort, Job, Pattern, Stock, plan};
use crate::quantity::number::WHOLE_TOLERANCE;
use crate::quantity::{Number, NumberError};
use std::collections::BTreeMap;

/// Parts of a millimeter in which cut pieces are laid into stock.
const PARTS_PER_MM: i64 = 320_000;

/// Work for one code: a job of more lengths is cut first fit, longest first, with the bound of sizes alone.
const EFFORT: Effort = Effort { lengths: 80, rounds: 400, dives: 4, steps: 200_000 };

/// Cut pieces by length, in parts of a millimeter.
#[derive(Default)]
pub(super) struct Cuts {
    by_length: BTreeMap<i64, Wanted>,
    /// Whether a length or count left 64 bits; then only the total length is known.
    failed: bool,
}

/// Pieces of one length: how many, and for which rooms, in order.
#[derive(Default)]
struct Wanted {
    count: i64,
    rooms: Vec<(u32, i64)>,
}

/// A plan for the pieces of a code.
pub(super) struct Laid {
    pub used: i64,
    pub at_least: i64,
    pub joined: i64,
    pub patterns: Vec<CutPattern>,
}

impl Cuts {
    /// So many pieces of a length, for a room; nothing where that is not known.
    pub fn add(&mut self, piece: Option<(i64, i64)>, room: Option<u32>) {
        let Some((pieces, length)) = piece else {
            self.failed = true;
            return;
        };
        let wanted = self.by_length.entry(length).or_default();
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

/// A length in parts of a millimeter.
pub(super) fn parts(mm: &Number) -> Option<i64> {
    Exact::of_number(mm)?.times(Exact { n: i128::from(PARTS_PER_MM), d: 1 })?.near()
}

fn in_mm(parts: i64) -> Result<Number, NumberError> {
    Number::from(parts).over(&Number::from(PARTS_PER_MM))
}

/// The rooms of each length, the first one last, given out to stock pieces one after the other.
struct Rooms(BTreeMap<i64, Vec<(u32, i64)>>);

impl Rooms {
    /// Rooms of the next so many pieces of a length.
    fn next(&mut self, length: i64, mut count: i64) -> Vec<u32> {
        let Some(queue) = self.0.get_mut(&length) else { return Vec::new() };
        let mut out = Vec::new();
        while let Some((room, n)) = queue.last_mut().filter(|_| count > 0) {
            let taken = (*n).min(count);
            out.push(*room);
            count -= taken;
            *n -= taken;
            if *n == 0 {
                queue.pop();
            }
        }
        out
    }
}

/// Lays cut pieces into stock pieces; `None` where they cannot be laid. A piece longer than stock takes whole stock
/// pieces and a rest. What overruns stock by a millionth still fits.
pub(super) fn laid_in_stock(cuts: &Cuts, stock: &Number) -> Result<Option<Laid>, NumberError> {
    let Some(stock) = parts(stock).filter(|s| *s > 0 && !cuts.failed) else { return Ok(None) };
    let slack = stock / WHOLE_TOLERANCE;
    let (mut whole, mut joined) = (0i64, 0i64);
    let mut rest: BTreeMap<i64, Wanted> = BTreeMap::new();
    let mut whole_for = Vec::new();
    for (length, wanted) in cuts.by_length.iter().filter(|w| w.1.count > 0) {
        let mut length = *length;
        if length > stock.checked_add(slack).ok_or(NumberError::TooLarge)? {
            let each = length / stock;
            let taken = each.checked_mul(wanted.count).and_then(|n| whole.checked_add(n));
            whole = taken.ok_or(NumberError::TooLarge)?;
            joined = joined.checked_add(wanted.count).ok_or(NumberError::TooLarge)?;
            whole_for.extend(wanted.rooms.iter().map(|r| r.0));
            length -= each * stock;
            if length <= slack {
                continue;
            }
        }
        let sum = rest.entry(length).or_default();
        sum.count = sum.count.checked_add(wanted.count).ok_or(NumberError::TooLarge)?;
        sum.rooms.extend(&wanted.rooms);
    }
    let demands = rest.iter().map(|(length, w)| Demand { length: *length, count: w.count, splice: None });
    let stocks = vec![Stock { length: stock + slack, cost: 1, limit: None }];
    let job = Job { stocks, demands: demands.collect(), kerf: 0, keep: 0, effort: EFFORT };
    let Ok(plan) = plan(&job) else { return Ok(None) };
    let sum = |n: i64| whole.checked_add(n).ok_or(NumberError::TooLarge);
    let mut laid =
        Laid { used: sum(plan.stock_used())?, at_least: sum(plan.at_least.pieces)?, joined, patterns: Vec::new() };
    if whole > 0 {
        let piece = CutPiece { length: in_mm(stock)?, count: 1, rooms: whole_for };
        laid.patterns.push(CutPattern { times: whole, pieces: vec![piece], offcut: Number::ZERO });
    }
    let backward = |w: Wanted| w.rooms.into_iter().rev().collect();
    let mut rooms = Rooms(rest.into_iter().map(|(length, w)| (length, backward(w))).collect());
    for pattern in &plan.patterns {
        laid.patterns.push(told(pattern, slack, &mut rooms)?);
    }
    Ok(Some(laid))
}

fn told(pattern: &Pattern, slack: i64, rooms: &mut Rooms) -> Result<CutPattern, NumberError> {
    let mut pieces = Vec::with_capacity(pattern.pieces.len());
    for (length, count) in &pattern.pieces {
        let rooms = rooms.next(*length, count.saturating_mul(pattern.times));
        pieces.push(CutPiece { length: in_mm(*length)?, count: *count, rooms });
    }
    Ok(CutPattern { times: pattern.times, pieces, offcut: in_mm((pattern.offcut - slack).max(0))? })
}
