//! Reads a workbook's rows into typed columns.

mod cell;
mod list;
mod standard;
mod table;
mod tally;
mod words;

pub use cell::cell_text;
pub use standard::{MOST_TABLE_ROWS, table_rows};

use super::headings::quoted;
use super::open::Book;
use crate::engine::{InputTable, Inputs, Origin, RowProblem, Texts};
use crate::problem::Problem;
use crate::program::{KindId, RowKind, Schema};
use crate::source::Place;
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// The most cells of named and unnamed columns that are kept, over all sheets.
pub const MOST_CELLS_KEPT: usize = 60_000_000;

/// One kind's rows, and what children need to find their parent.
#[derive(Debug)]
struct Built {
    table: InputTable,
    /// Rows by the number of their key's text ([`Texts::same`]).
    keys: FxHashMap<u32, u32>,
    problems: Vec<RowProblem>,
}

/// Reads every row kind of the schema from its sheet.
///
/// There is a table for each kind, in the schema's order; a kind without a sheet, or whose sheet the workbook lacks,
/// has no rows, and one that is written as a list of names and values has exactly one. What is wrong with a row stops
/// the row; what is wrong with a child stops its parent too.
///
/// # Errors
/// What keeps the workbook from being read at all: a missing sheet or column, damage, a stated limit.
pub fn read_rooms(book: &mut Book, schema: &Schema, texts: Texts) -> Result<Inputs, Vec<Problem>> {
    read_rooms_and_job(book, None, schema, texts)
}

/// As [`read_rooms`]; values of the job that the rooms workbook does not give are taken from a second workbook, the
/// price book.
///
/// # Errors
/// As [`read_rooms`].
pub fn read_rooms_and_job(
    book: &mut Book,
    mut second: Option<&mut Book>,
    schema: &Schema,
    texts: Texts,
) -> Result<Inputs, Vec<Problem>> {
    let mut texts = texts;
    let mut built: Vec<Option<Built>> = schema.kinds.iter().map(|_| None).collect();
    let mut structural = Vec::new();
    let main = main_kind(schema);
    let order = parents_first(schema);
    for id in &order {
        let kind = schema.kind(*id);
        let sheet = match sheet_of(book, kind, *id == main) {
            Ok(sheet) => sheet,
            Err(problem) => {
                structural.push(*problem);
                None
            }
        };
        let read = match (sheet, kind.single) {
            (sheet, true) if kind.sheet.is_some() => {
                list::read(book, second.as_deref_mut(), schema, *id, sheet, &mut texts)
            }
            (Some(sheet), false) => {
                let parent = kind.parent.as_ref().and_then(|p| built[p.kind.0 as usize].as_ref());
                table::read(book, schema, *id, &sheet, parent.map(|p| &p.keys), &mut texts)
            }
            _ => Ok(empty(book, schema, *id, &mut texts)),
        };
        match read {
            Ok(table) => built[id.0 as usize] = Some(table),
            Err(mut problems) => structural.append(&mut problems),
        }
    }
    if !structural.is_empty() {
        return Err(structural);
    }
    let mut inputs = Inputs { tables: Vec::new(), texts: Arc::new(texts), problems: Vec::new() };
    for built in built.into_iter().flatten() {
        inputs.tables.push(built.table);
        inputs.problems.extend(built.problems);
    }
    stop_parents(&mut inputs, schema, &order);
    also_where_typed(book, &mut inputs);
    Ok(inputs)
}

/// Problems of cells over which something is laid name the cell where it was typed as well.
fn also_where_typed(book: &Book, inputs: &mut Inputs) {
    for RowProblem { problem, .. } in &mut inputs.problems {
        let of_cells = problem.places.iter().filter_map(|place| match place {
            Place::Cell(cell) => book.overlay().typed_in(cell),
            _ => None,
        });
        let typed: Vec<Place> = of_cells.cloned().map(Place::Cell).collect();
        problem.places.extend(typed);
    }
}

/// The kind that a csv text holds: the first that belongs to no other and is no list.
fn main_kind(schema: &Schema) -> KindId {
    let at = schema.kinds.iter().position(|k| k.sheet.is_some() && k.parent.is_none() && !k.single).unwrap_or(0);
    KindId(u32::try_from(at).unwrap_or(0))
}

/// Kinds in an order in which a parent comes before its children.
fn parents_first(schema: &Schema) -> Vec<KindId> {
    let depth = |kind: &RowKind| {
        let (mut depth, mut at) = (0, kind.parent.as_ref());
        while let Some(parent) = at.filter(|_| depth <= schema.kinds.len()) {
            depth += 1;
            at = schema.kind(parent.kind).parent.as_ref();
        }
        depth
    };
    let mut order: Vec<KindId> = schema.kind_ids().collect();
    order.sort_by_key(|id| depth(schema.kind(*id)));
    order
}

/// The sheet that a kind is read from; `None` where the workbook may lack it.
fn sheet_of(book: &Book, kind: &RowKind, main: bool) -> Result<Option<Arc<str>>, Box<Problem>> {
    let Some(name) = &kind.sheet else { return Ok(None) };
    if book.is_text() {
        return Ok(if main { book.sheet_names().first().cloned() } else { None });
    }
    if let Some(sheet) = book.sheet_named(name) {
        return Ok(Some(sheet));
    }
    if kind.parent.is_some() || kind.single {
        return Ok(None);
    }
    // rows that stand by themselves beside the main ones may be left out, but a sheet that looks like theirs is asked about
    if !main && near_sheet(book, name).is_none() {
        return Ok(None);
    }
    Err(Box::new(no_sheet(book, name, &kind.name)))
}

/// The sheet that was meant by a name that none has.
fn near_sheet<'b>(book: &'b Book, name: &str) -> Option<&'b str> {
    crate::problem::nearest::nearest(name, book.sheet_names().iter().map(|s| &**s))
}

/// Tells that a workbook lacks a sheet, and what it would hold.
fn no_sheet(book: &Book, name: &str, holds: &str) -> Problem {
    let there = book.sheet_names();
    let shown = quoted(there.iter().take(12).map(|s| &**s));
    let more = if there.len() > 12 { format!(" and {} more", there.len() - 12) } else { String::new() };
    let what = format!("There is no sheet “{name}”; the workbook has {shown}{more}.");
    let problem = Problem::stop("missing sheet", what).in_file(Arc::clone(book.file()));
    match near_sheet(book, name) {
        Some(near) => problem.fix(format!("rename the sheet “{near}” to “{name}”")),
        None => problem.fix(format!("name the sheet that holds the {holds} “{name}”")),
    }
}

/// A kind without rows: its columns are there and empty.
fn empty(book: &Book, schema: &Schema, id: KindId, texts: &mut Texts) -> Built {
    let kind = schema.kind(id);
    let fields = cell::readers(schema, id, book.is_text(), texts);
    let origin = Origin {
        file: Arc::clone(book.file()),
        sheet: kind.sheet.as_deref().unwrap_or("").into(),
        heading_row: 0,
        rows: Vec::new(),
        columns: Vec::new(),
    };
    let columns = fields.into_iter().map(|f| f.builder.finish()).collect();
    let table = InputTable { kind: id, rows: 0, columns, parents: Vec::new(), stopped: Vec::new(), origin };
    Built { table, keys: FxHashMap::default(), problems: Vec::new() }
}

/// A child that is stopped stops its parent: what the parent needs cannot be known without it.
fn stop_parents(inputs: &mut Inputs, schema: &Schema, order: &[KindId]) {
    for id in order.iter().rev() {
        let Some(parent) = &schema.kind(*id).parent else { continue };
        let child = &inputs.tables[id.0 as usize];
        let stopped: Vec<u32> = child
            .parents
            .iter()
            .zip(&child.stopped)
            .filter(|(_, stopped)| **stopped)
            .map(|(parent, _)| *parent)
            .collect();
        let above = &mut inputs.tables[parent.kind.0 as usize].stopped;
        for row in stopped {
            if let Some(flag) = above.get_mut(row as usize) {
                *flag = true;
            }
        }
    }
}
