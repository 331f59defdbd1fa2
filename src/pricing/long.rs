//! Pieces that are longer than some stock on offer, row by row: looked for once an item, before its lines are worked out.

use super::block::TooLong;
use super::checks::Desk;
use super::cut_rules::{in_mm, length_text, parts, slack};
use crate::engine::column::BLOCK;
use crate::engine::{Chunk, Data, Run, names};
use crate::problem::Problem;
use crate::program::native::Pieces;
use crate::program::{Item, KindId, Need, Schema};
use rayon::prelude::*;
use rustc_hash::FxHashMap;

/// Lengths of a row's pieces that are longer than the shortest of the longest stocks, in parts of a millimeter.
pub(crate) type LongPieces = FxHashMap<u32, Vec<i64>>;

/// The long pieces of an item's rows. `shortest` is the least of what its codes have as their longest stock.
pub(crate) fn long_pieces(schema: &Schema, run: &Run, item: &Item, shortest: i64) -> LongPieces {
    let limit = shortest.saturating_add(slack(shortest));
    let field = match item.need {
        Need::Cut { each, .. } => each,
        Need::Pieces { pieces, .. } => pieces,
        _ => return LongPieces::default(),
    };
    let Some(column) = run.columns.get(field.0 as usize).and_then(Option::as_ref) else { return LongPieces::default() };
    let rows = run.rows_of(item.kind);
    let found: Vec<LongPieces> = (0..column.chunks.len())
        .into_par_iter()
        .map(|block| {
            let chunk = &column.chunks[block];
            let in_block = rows.saturating_sub(block * BLOCK).min(BLOCK);
            let mut out = LongPieces::default();
            let mut seen: FxHashMap<i64, Vec<i64>> = FxHashMap::default();
            for within in 0..in_block {
                if chunk.fault(within).is_some() {
                    continue;
                }
                let row = block * BLOCK + within;
                let long = match item.need {
                    Need::Pieces { .. } => match number_of(chunk, within) {
                        Some(thing) => seen.entry(thing).or_insert_with(|| long_of(run, item, row, limit)).clone(),
                        None => long_of(run, item, row, limit),
                    },
                    _ => {
                        let length = run.number(schema, field, row).ok().and_then(|mm| parts(&mm));
                        length.filter(|n| *n > limit).into_iter().collect()
                    }
                };
                if !long.is_empty() {
                    out.insert(u32::try_from(row).unwrap_or(u32::MAX), long);
                }
            }
            out
        })
        .collect();
    found.into_iter().flatten().collect()
}

/// The number of a thing in a column.
fn number_of(chunk: &Chunk, row: usize) -> Option<i64> {
    match &chunk.data {
        Data::Fixed { values, scale: 0, over: None } => Some(values[if values.len() == 1 { 0 } else { row }]),
        _ => None,
    }
}

/// The long pieces of a row whose pieces have lengths of their own.
fn long_of(run: &Run, item: &Item, row: usize, limit: i64) -> Vec<i64> {
    let Need::Pieces { pieces, .. } = item.need else { return Vec::new() };
    let Ok(thing) = run.thing(pieces, row) else { return Vec::new() };
    let Some(pieces) = thing.known_as::<Pieces>() else { return Vec::new() };
    let lengths = pieces.0.iter().filter(|(_, many)| *many > 0).filter_map(|(mm, _)| parts(mm));
    lengths.filter(|n| *n > limit).collect()
}

/// A piece that no stock is long enough for and that may not be spliced, or not so.
pub(super) fn too_long(desk: &mut Desk<'_>, kind: KindId, row: u32, item: u32, long: &TooLong) {
    let item = &desk.schema.items[item as usize];
    let length = |parts| in_mm(parts).map_or_else(|_| "much".to_owned(), |mm| length_text(&mm));
    let of = match (desk.room(kind, row), desk.root) {
        (Some(room), Some(root)) => names::row_of_kind(desk.schema, desk.run, desk.inputs, root, room as usize),
        _ => names::row_of_kind(desk.schema, desk.run, desk.inputs, kind, row as usize),
    };
    let how = match &item.splice {
        None => "and it may not be spliced",
        Some(_) => "and no parts of it would do for the splice that is allowed",
    };
    let what = format!(
        "{} of {of} has a piece of {}, longer than the longest stock of {}, {}, {how}.",
        item.label,
        length(long.piece),
        long.code,
        length(long.longest)
    );
    let mut problem = Problem::stop("piece longer than stock", what);
    if let Some(cell) = desk.cell(kind, row) {
        problem = problem.at_cell(cell);
    }
    let fix = format!(
        "a longer stock length for {} in the price book, or 'spliced' with a lap in the rule for {}",
        long.code, item.label
    );
    let problem = problem.in_book(&item.text, item.span).fix(fix);
    desk.stop(kind, row);
    desk.add(problem.kind, Some((kind, row)), problem);
}
