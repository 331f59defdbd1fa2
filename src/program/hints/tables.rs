//! Rows of tables that nothing can ask for, and cases that can be asked for and have no row.

use super::super::literals::literal_value;
use super::super::node::{Op, Reg};
use super::super::schema::{FieldId, Type, Value};
use super::super::types::read_type;
use super::ranges::{Range, range, words};
use super::{Looking, live};
use crate::notation::tree::{Book, Expr, Match, Part, TableBlock};
use crate::quantity::show::{Style, show};
use crate::quantity::{Dimension, Number};
use crate::source::Span;
use crate::source::texts::fold;
use std::collections::BTreeSet;

/// Most whole numbers that are looked for one by one.
const COUNTED: usize = 100;
/// Rows of a table beyond which it is not looked at row by row: each is held against all others.
const ROWS: usize = 2_000;
/// Places of a grid beyond which none is looked for.
const PLACES: usize = 10_000;

/// What is asked of a key, by all who ask.
#[derive(Default)]
struct Asked {
    /// Words, where all that is asked are words of lists.
    words: Option<BTreeSet<String>>,
    /// Between which values, in base units.
    range: Range,
    /// Whether whole numbers alone are asked for.
    whole: bool,
}

impl Looking<'_> {
    pub(super) fn tables(&mut self, top: &Book) {
        let all = (0..u32::try_from(self.r.d.schema.fields.len()).unwrap_or(0)).map(FieldId);
        let running = live(self.r, all, false);
        let sure = live(self.r, self.always_worked(), true);
        for part in &top.parts {
            let Part::Table(table) = part else { continue };
            if table.rows.len() > ROWS {
                continue;
            }
            self.grid(table);
            let Some(Some(index)) = self.r.table_index.get(&table.name.name).copied() else { continue };
            let keys = &self.r.tables[index as usize].keys;
            let names: Vec<String> = keys.iter().map(|k| k.name.clone()).collect();
            for (at, name) in names.iter().enumerate() {
                let Some(column) = table.columns.iter().position(|c| c.name.name == *name) else { continue };
                let asks =
                    |reg: &&Reg| matches!(&self.r.d.emit.node(**reg).op, Op::Lookup { table, .. } if *table == index);
                let askers: Vec<Reg> = running.iter().filter(asks).copied().collect();
                if askers.is_empty() {
                    continue;
                }
                // a list that is asked for one row may well have others
                if askers.iter().any(|a| !self.is_constant(*a, at)) {
                    let asked = self.asked(&askers, at);
                    self.rows_not_asked_for(table, column, &asked);
                }
                let surely: Vec<Reg> = askers.into_iter().filter(|a| sure.contains(a)).collect();
                if !surely.is_empty() {
                    let asked = self.asked(&surely, at);
                    self.cases_without_rows(table, column, &asked);
                }
            }
        }
    }

    /// Fields that are worked out for every row: formulas, checks, and what is always bought and done.
    fn always_worked(&self) -> impl Iterator<Item = FieldId> + use<> {
        let schema = &self.r.d.schema;
        let mut out: Vec<FieldId> = self.r.d.formulas.keys().copied().collect();
        out.extend(schema.checks.iter().map(|c| c.holds));
        out.extend(schema.items.iter().filter(|i| i.when.is_none()).map(|i| i.code));
        out.sort_unstable();
        out.into_iter()
    }

    fn is_constant(&self, asker: Reg, at: usize) -> bool {
        match &self.r.d.emit.node(asker).op {
            Op::Lookup { keys, .. } => self.r.d.emit.constant_of(keys[at]).is_some(),
            _ => true,
        }
    }

    fn asked(&self, askers: &[Reg], at: usize) -> Asked {
        let mut out: Option<Asked> = None;
        for asker in askers {
            let Op::Lookup { keys, .. } = &self.r.d.emit.node(*asker).op else { continue };
            let key = keys[at];
            let node = self.r.d.emit.node(key);
            let one = Asked {
                words: words(self.r, &self.fuel, key),
                range: range(self.r, &self.fuel, key).scaled(node.unit.factor),
                whole: node.ty == Type::COUNT,
            };
            out = Some(match out {
                None => one,
                Some(all) => Asked {
                    words: all.words.zip(one.words).map(|(a, b)| a.into_iter().chain(b).collect()),
                    range: all.range.or(one.range),
                    whole: all.whole && one.whole,
                },
            });
        }
        out.unwrap_or_default()
    }

    fn rows_not_asked_for(&mut self, table: &TableBlock, column: usize, asked: &Asked) {
        let c = &table.columns[column];
        let mut found = Vec::new();
        for (i, (cells, span)) in table.rows.iter().enumerate() {
            let idle = match value(table, cells, column) {
                Some(Value::Text(word)) => asked.words.as_ref().is_some_and(|all| !all.contains(&fold(&word))),
                Some(Value::Number(n)) => {
                    let mut others: Vec<Number> = beside(table, i, column);
                    others.sort_unstable();
                    let before = others.iter().rev().find(|o| **o < n);
                    let after = others.iter().find(|o| **o > n);
                    let low =
                        |at: &Number| asked.range.low.is_some_and(|(l, reached)| *at < l || (*at == l && !reached));
                    let high =
                        |at: &Number| asked.range.high.is_some_and(|(h, reached)| *at > h || (*at == h && !reached));
                    match c.how {
                        Some(Match::Exact) => !asked.range.holds(&n) || (asked.whole && !n.is_whole()),
                        // it serves what lies above the row before, up to itself
                        Some(Match::UpTo) => {
                            low(&n) || before.is_some_and(|b| asked.range.high.is_some_and(|(h, _)| *b >= h))
                        }
                        // it serves what lies from itself on, below the row after
                        Some(Match::From) => {
                            high(&n) || after.is_some_and(|a| asked.range.low.is_some_and(|(l, _)| *a <= l))
                        }
                        _ => false,
                    }
                }
                _ => false,
            };
            if idle {
                found.push((*span, cell_text(&self.text.text, cells, column)));
            }
        }
        for (span, cell) in found {
            let what = format!(
                "This row of the table {} serves nothing: whoever asks, '{}' is never {cell}.",
                table.name.name, c.name.name
            );
            self.hint(
                "row never matched",
                span,
                what,
                "take the row out, or see whether it is spelled as what is asked",
            );
        }
    }

    fn cases_without_rows(&mut self, table: &TableBlock, column: usize, asked: &Asked) {
        let c = &table.columns[column];
        let values: Vec<Value> = table.rows.iter().filter_map(|(cells, _)| value(table, cells, column)).collect();
        let numbers: Vec<Number> =
            values.iter().filter_map(|v| if let Value::Number(n) = v { Some(*n) } else { None }).collect();
        let dimension = read_type(&c.ty.text).ok().and_then(|t| t.0.dimension()).unwrap_or(Dimension::NONE);
        let told = |n: &Number| show(n, dimension, &Style::default()).text;
        let mut missing: Vec<String> = Vec::new();
        if let Some(asked) = &asked.words {
            let there: BTreeSet<String> =
                values.iter().filter_map(|v| if let Value::Text(t) = v { Some(fold(t)) } else { None }).collect();
            missing.extend(asked.difference(&there).cloned());
        }
        let ends = (numbers.iter().min().copied(), numbers.iter().max().copied());
        if let (Some(least), Some(most)) = ends {
            let below = asked.range.low.filter(|(l, _)| *l < least);
            let above = asked.range.high.filter(|(h, _)| *h > most);
            match c.how {
                Some(Match::Exact) if asked.whole => {
                    missing.extend(whole_numbers(&asked.range).iter().filter(|n| !numbers.contains(n)).map(told));
                }
                Some(Match::From) => {
                    missing.extend(below.map(|(l, _)| format!("{}, which is below the first row", told(&l))))
                }
                Some(Match::UpTo) => {
                    missing.extend(above.map(|(h, _)| format!("{}, which is above the last row", told(&h))))
                }
                Some(Match::Between) => {
                    missing.extend(below.map(|(l, _)| format!("{}, which is below the first row", told(&l))));
                    missing.extend(above.map(|(h, _)| format!("{}, which is above the last row", told(&h))));
                }
                _ => {}
            }
        }
        if let Some(first) = missing.first() {
            let more = if missing.len() > 1 { format!(", nor for {} more", missing.len() - 1) } else { String::new() };
            let what = format!(
                "The table {} has no row for {} {first}{more}; it can be asked for, and is a fault then.",
                table.name.name, c.name.name
            );
            let name: Span = table.name.span;
            self.hint("gap in a table", name, what, "a row for it, if there is one");
        }
    }

    /// Exact keys make a grid; a place of the grid without a row is worth a look.
    fn grid(&mut self, table: &TableBlock) {
        let keys: Vec<usize> = (0..table.columns.len()).filter(|i| table.columns[*i].how.is_some()).collect();
        if keys.len() < 2 {
            return;
        }
        let folded = |v: Value| match v {
            Value::Text(t) => Value::Text(fold(&t).into()),
            other => other,
        };
        let row = |cells: &[Expr]| -> Option<Vec<Value>> {
            keys.iter().map(|k| value(table, cells, *k).map(folded)).collect()
        };
        let Some(rows) = table.rows.iter().map(|(cells, _)| row(cells)).collect::<Option<Vec<_>>>() else { return };
        // each value of each key, with how it is written where it first stands; rows by the numbers of their values
        let mut columns: Vec<Vec<(Value, String)>> = vec![Vec::new(); keys.len()];
        let mut there: BTreeSet<Vec<usize>> = BTreeSet::new();
        for (values, (cells, _)) in rows.iter().zip(&table.rows) {
            let mut numbers = Vec::new();
            for ((column, v), key) in columns.iter_mut().zip(values).zip(&keys) {
                numbers.push(column.iter().position(|(known, _)| known == v).unwrap_or_else(|| {
                    column.push((v.clone(), cell_text(&self.text.text, cells, *key)));
                    column.len() - 1
                }));
            }
            there.insert(numbers);
        }
        let places = columns.iter().try_fold(1usize, |all, c| all.checked_mul(c.len()));
        let Some(places) = places.filter(|n| *n <= PLACES && *n != rows.len()) else { return };
        let mut missing = Vec::new();
        for place in 0..places {
            let mut rest = place;
            let mut wanted = Vec::new();
            for column in &columns {
                wanted.push(rest % column.len());
                rest /= column.len();
            }
            if !there.contains(&wanted) {
                let named = wanted.iter().zip(&columns).zip(&keys);
                let named = named.map(|((at, c), k)| format!("{} {}", table.columns[*k].name.name, c[*at].1));
                missing.push(named.collect::<Vec<_>>().join(", "));
            }
        }
        if let Some(first) = missing.first() {
            let more = if missing.len() > 1 { format!(", and for {} more", missing.len() - 1) } else { String::new() };
            let what = format!("The table {} has no row for {first}{more}; asking for it is a fault.", table.name.name);
            self.hint("gap in a table", table.name.span, what, "a row for it, if there is one");
        }
    }
}

fn value(table: &TableBlock, cells: &[Expr], column: usize) -> Option<Value> {
    literal_value(cells.get(column)?, read_type(&table.columns[column].ty.text).ok()?.0).ok()
}

/// How a cell is written.
fn cell_text(text: &str, cells: &[Expr], column: usize) -> String {
    cells.get(column).and_then(|e| text.get(e.span.range())).unwrap_or("").trim().to_owned()
}

/// Values of one key in the rows whose other keys are the same.
fn beside(table: &TableBlock, row: usize, column: usize) -> Vec<Number> {
    let keys: Vec<usize> =
        (0..table.columns.len()).filter(|i| table.columns[*i].how.is_some() && *i != column).collect();
    let others = |cells: &[Expr]| -> Vec<Option<Value>> { keys.iter().map(|k| value(table, cells, *k)).collect() };
    let own = others(&table.rows[row].0);
    let alike = table.rows.iter().enumerate().filter(|(i, (cells, _))| *i != row && others(cells) == own);
    alike
        .filter_map(
            |(_, (cells, _))| if let Some(Value::Number(n)) = value(table, cells, column) { Some(n) } else { None },
        )
        .collect()
}

/// The whole numbers of a range, where there are few.
fn whole_numbers(range: &Range) -> Vec<Number> {
    let (Some((low, _)), Some((high, _))) = (range.low, range.high) else { return Vec::new() };
    let up = low.rounded(&Number::ONE, crate::quantity::Rounding::Up);
    let Ok(mut n) = up else { return Vec::new() };
    let mut out = Vec::new();
    while n <= high && out.len() < COUNTED {
        if range.holds(&n) {
            out.push(n);
        }
        let Ok(next) = n.plus(&Number::ONE) else { break };
        n = next;
    }
    out
}
