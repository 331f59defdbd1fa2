//! Look-ups in tables, which stand on a sheet of their own: rows in the order of their keys.

use super::term::{Piece, Quantity, Term, Tie, call, joined, words};
use crate::notation::tree::{Match, Part, TableBlock};
use crate::program::node::{Constant, Table};
use crate::program::{Program, Type};
use crate::quantity::show::usual_unit;
use crate::quantity::{Dimension, Number};
use std::sync::Arc;

/// What two keys may differ by and be one, in the unit of the sheet: binary fractions must not decide.
const CLOSE: &str = "0.000000001";

/// A cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum TableCell {
    /// A number in the unit of its column.
    Number(Number),
    /// A text.
    Text(Arc<str>),
    /// Yes or no.
    YesNo(bool),
}

/// A table as it stands on its sheet: keys first, then results.
#[derive(Clone, Debug)]
pub struct LiveTable {
    /// Its number in the program.
    pub number: u32,
    /// Its name in the books.
    pub name: String,
    /// Names and units of its columns, and how each key matches.
    pub columns: Vec<(String, String)>,
    /// How many of them are keys.
    pub keys: usize,
    /// Its rows, sorted by their keys.
    pub rows: Vec<Vec<TableCell>>,
}

/// Name of the unit of a column of numbers, and base units in one of it.
fn unit_of(ty: Type, metric: bool) -> Option<(String, Number)> {
    match ty {
        Type::Number { dimension: Dimension::LENGTH, .. } if !metric => {
            Some(("in".to_owned(), Number::from_ints(127, 5).ok()?))
        }
        Type::Number { dimension: Dimension::NONE, .. } => Some((String::new(), Number::ONE)),
        Type::Number { dimension, .. } => {
            let (name, unit) = usual_unit(dimension, metric);
            Some((name, Number::of_ratio(unit.factor).ok()?))
        }
        _ => None,
    }
}

/// A table as it stands on its sheet; nothing where a cell cannot hold something of it.
pub fn table(program: &Program, number: u32) -> Option<LiveTable> {
    let table = program.tables.get(number as usize)?;
    let metric = program.schema.metric;
    let names = result_names(program, &table.name);
    let mut columns = Vec::new();
    for key in &table.keys {
        let unit = unit_of(key.ty, metric).map(|(name, _)| name).unwrap_or_default();
        let how = match key.how {
            Match::Exact => "the same",
            Match::UpTo => "the next at or above",
            Match::From => "the last at or below",
            Match::Between => "on a line between",
        };
        columns.push((said(&key.name, &unit), how.to_owned()));
    }
    for (at, result) in table.results.iter().enumerate() {
        let unit = unit_of(result.ty, metric).map(|(name, _)| name).unwrap_or_default();
        let name = names.get(at).cloned().unwrap_or_else(|| table.name.clone());
        columns.push((said(&name, &unit), String::new()));
    }
    let mut rows = Vec::new();
    walk(program, table, 0, &mut Vec::new(), &mut rows)?;
    Some(LiveTable { number, name: table.name.clone(), columns, keys: table.keys.len(), rows })
}

/// Names of a table's results, as the uppermost book that has it gives them.
fn result_names(program: &Program, name: &str) -> Vec<String> {
    let blocks = program.books.iter().rev().flat_map(|b| b.parts.iter()).filter_map(|part| match part {
        Part::Table(block) if block.name.name == name => Some(block),
        _ => None,
    });
    let of = |block: &TableBlock| {
        block.columns.iter().filter(|c| c.how.is_none()).map(|c| c.name.name.clone()).collect::<Vec<_>>()
    };
    blocks.map(of).find(|names| !names.is_empty()).unwrap_or_default()
}

fn said(name: &str, unit: &str) -> String {
    let name = name.replace('_', " ");
    if unit.is_empty() { name } else { format!("{name} ({unit})") }
}

/// Rows in the order of their keys.
fn walk(
    program: &Program,
    table: &Table,
    branch: u32,
    above: &mut Vec<TableCell>,
    rows: &mut Vec<Vec<TableCell>>,
) -> Option<()> {
    let key = table.keys.get(above.len())?;
    let metric = program.schema.metric;
    let branch = table.branches.get(branch as usize)?;
    for (at, next) in branch.next.iter().enumerate() {
        let cell = match key.ty {
            Type::Number { .. } => TableCell::Number(branch.numbers.get(at)?.over(&unit_of(key.ty, metric)?.1).ok()?),
            Type::Text => TableCell::Text(Arc::clone(program.texts.get(*branch.texts.get(at)?))),
            _ => return None,
        };
        above.push(cell);
        if above.len() < table.keys.len() {
            walk(program, table, *next, above, rows)?;
        } else {
            let mut row = above.clone();
            for result in &table.results {
                row.push(match result.values.get(*next as usize)? {
                    Constant::Number(n) => {
                        let (_, unit) = unit_of(result.ty, metric)?;
                        TableCell::Number(n.scaled(result.unit.factor).ok()?.over(&unit).ok()?)
                    }
                    Constant::Text(id) => TableCell::Text(Arc::clone(program.texts.get(*id))),
                    Constant::YesNo(v) => TableCell::YesNo(*v),
                });
            }
            rows.push(row);
        }
        above.pop();
    }
    Some(())
}

/// A table's result for what is asked.
pub fn lookup(program: &Program, (number, result): (u32, u32), asked: Vec<Term>) -> Option<Term> {
    let table = program.tables.get(number as usize)?;
    let metric = program.schema.metric;
    let total = table.results.first()?.values.len();
    let results = || vec![Piece::Result(number, result)];
    let one = asked.len() == 1;
    let mut found: Option<Vec<Piece>> = None;
    let mut only_text = None;
    let mut conditions: Vec<Vec<Piece>> = Vec::new();
    for ((at, key), term) in (0u32..).zip(&table.keys).zip(asked) {
        let keys = || vec![Piece::Key(number, at)];
        let (wanted, how) = match (key.ty, key.how) {
            (Type::Text, Match::Exact) => {
                let wanted = term.text()?;
                conditions.push(joined([keys(), vec![words("=")], wanted.clone()])?);
                only_text = Some(wanted);
                continue;
            }
            (Type::Number { .. }, how) => (term.product_in(&unit_of(key.ty, metric)?.1)?, how),
            _ => return None,
        };
        let moved = |sign: &str| joined([wanted.clone(), vec![words(format!("{sign}{CLOSE}"))]]);
        match how {
            Match::Exact => {
                let difference = joined([keys(), vec![words("-")], wanted.clone()])?;
                conditions.push(joined([call("ABS", [difference])?, vec![words(format!("<{CLOSE}"))]])?);
            }
            Match::UpTo | Match::From if at == 0 => {
                let below = moved(if how == Match::UpTo { "-" } else { "+" })?;
                let row = call("MATCH", [below, keys(), vec![words("1")]])?;
                let row = match how {
                    // the one after the last that is below
                    Match::UpTo => joined([vec![words("1+")], call("IFERROR", [row, vec![words("0")]])?])?,
                    _ => row,
                };
                if one {
                    found = Some(call("INDEX", [results(), row])?);
                } else {
                    let chosen = call("INDEX", [keys(), row])?;
                    conditions.push(joined([keys(), vec![words("=")], chosen])?);
                }
            }
            Match::UpTo | Match::From => {
                // the first or the last of the rows that the keys before it leave
                let mut factors = held(&conditions)?;
                let rows = vec![Piece::Row(number)];
                let row = if how == Match::UpTo {
                    let end = format!("{}-", total + 1);
                    factors.push(joined([vec![words("(")], keys(), vec![words(">=")], moved("-")?, vec![words(")")]])?);
                    factors.push(joined([vec![words(format!("({end}"))], rows, vec![words(")")]])?);
                    joined([vec![words(end)], call("SUMPRODUCT", [call("MAX", [product(factors)?])?])?])?
                } else {
                    factors.push(joined([vec![words("(")], keys(), vec![words("<=")], moved("+")?, vec![words(")")]])?);
                    factors.push(rows);
                    call("SUMPRODUCT", [call("MAX", [product(factors)?])?])?
                };
                let chosen = call("INDEX", [keys(), row])?;
                conditions.push(joined([keys(), vec![words("=")], chosen])?);
            }
            Match::Between if one => found = Some(between((number, result), total, &wanted)?),
            Match::Between => return None,
        }
    }
    let found = match found {
        Some(found) => found,
        None if one && is_one_text(program, table) => {
            let wanted = only_text.unwrap_or_default();
            let row = call("MATCH", [wanted, vec![Piece::Key(number, 0)], vec![words("0")]])?;
            call("INDEX", [results(), row])?
        }
        None => {
            // the one row of which all holds; none is a division by zero
            let mut factors = held(&conditions)?;
            factors.push(vec![Piece::Row(number)]);
            let row = call("SUMPRODUCT", [product(factors)?])?;
            let row = joined([vec![words("1/(1/")], row, vec![words(")")]])?;
            call("INDEX", [results(), call("ROUND", [row, vec![words("0")]])?])?
        }
    };
    let ty = table.results.get(result as usize)?.ty;
    match ty {
        Type::Number { .. } => Some(Term::Number(Quantity::new(found, Tie::One, unit_of(ty, metric)?.1))),
        Type::Text => Some(Term::Text(found)),
        Type::YesNo => Some(Term::YesNo(found)),
        _ => None,
    }
}

/// On a straight line between the rows on either side, by the one key.
fn between((number, result): (u32, u32), total: usize, wanted: &[Piece]) -> Option<Vec<Piece>> {
    let (keys, results) = (|| vec![Piece::Key(number, 0)], || vec![Piece::Result(number, result)]);
    let last = || vec![words(total.to_string())];
    let over = joined([wanted.to_vec(), vec![words(format!("+{CLOSE}"))]])?;
    let row = call("MATCH", [over, keys(), vec![words("1")]])?;
    let next = joined([row.clone(), vec![words("+1")]])?;
    let at = |of: Vec<Piece>, row: &[Piece]| call("INDEX", [of, row.to_vec()]);
    let line = joined([
        at(results(), &row)?,
        vec![words("+(")],
        wanted.to_vec(),
        vec![words("-")],
        at(keys(), &row)?,
        vec![words(")*(")],
        at(results(), &next)?,
        vec![words("-")],
        at(results(), &row)?,
        vec![words(")/(")],
        at(keys(), &next)?,
        vec![words("-")],
        at(keys(), &row)?,
        vec![words(")")],
    ])?;
    let off = call("ABS", [joined([at(keys(), &last())?, vec![words("-")], wanted.to_vec()])?])?;
    let at_last = joined([off, vec![words(format!("<{CLOSE}"))]])?;
    call("IF", [at_last, at(results(), &last())?, line])
}

/// Whether the one key is a text, and none of its texts would be read as a pattern.
fn is_one_text(program: &Program, table: &Table) -> bool {
    let plain = |id: &u32| !program.texts.get(*id).contains(['*', '?', '~']);
    let [key] = table.keys.as_slice() else { return false };
    key.ty == Type::Text && table.branches.iter().flat_map(|b| &b.texts).all(plain)
}

fn held(conditions: &[Vec<Piece>]) -> Option<Vec<Vec<Piece>>> {
    conditions.iter().map(|c| joined([vec![words("(")], c.clone(), vec![words(")")]])).collect()
}

fn product(factors: Vec<Vec<Piece>>) -> Option<Vec<Piece>> {
    let mut parts = Vec::new();
    for (i, factor) in factors.into_iter().enumerate() {
        if i > 0 {
            parts.push(vec![words("*")]);
        }
        parts.push(factor);
    }
    joined(parts)
}
