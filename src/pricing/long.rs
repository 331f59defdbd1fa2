//! Pieces that are longer than some stock on offer, row by row: looked for once an item, before its lines are worked out.

use super::cut_rules::{parts, slack};
use crate::engine::column::BLOCK;
use crate::engine::{Chunk, Data, Run};
use crate::program::native::Pieces;
use crate::program::{Item, Need, Schema};
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
