//! Rows of tables that nothing can ask for, and cases that can be asked for and have no row.

use super::super::cells::{Cell, cells};
use super::super::node::{Op, Reg};
use super::super::schema::{FieldId, Type};
use super::super::types::read_type;
use super::ranges::{Range, Words, both_words, range, words};
use super::{Looking, live};
use crate::notation::tree::{Book, Match, Part, Replaces, TableBlock};
use crate::quantity::show::{Style, show};
use crate::quantity::{Dimension, Number};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Bound;

/// Most whole numbers that are looked for one by one.
const COUNTED: usize = 100;
/// Rows of a table, as their cells are compared.
type Rows = [Vec<Option<Cell>>];
/// Places of a grid beyond which none is looked for.
const PLACES: usize = 10_000;

/// What is asked of a key, by all who ask.
#[derive(Default)]
struct Asked {
    /// Words, where all that is asked are words of lists.
    words: Option<Words>,
    /// Between which values, in base units.
    range: Range,
    /// Whether whole numbers alone are asked for.
    whole: bool,
}

impl Looking<'_> {
    pub(super) fn tables(&mut self, top: &Book) {
        let all = (0..u32::try_from(self.r.d.schema.fields.len()).unwrap_or(0)).map(FieldId);
        let mut askers: BTreeMap<u32, Vec<Reg>> = BTreeMap::new();
        for reg in live(self.r, all, false) {
            if let Op::Lookup { table, .. } = &self.r.d.emit.node(reg).op {
                askers.entry(*table).or_default().push(reg);
            }
        }
        let sure = live(self.r, self.always_worked(), true);
        for part in top.parts.iter() {
            let Part::Table(table) = part else { continue };
            // rows that stand in place of others are no table
            if table.replaces == Replaces::Rows {
                continue;
            }
            let cells = cells(table);
            self.grid(table, &cells);
            let Some(Some(index)) = self.r.table_index.get(&table.name.name).copied() else { continue };
            let Some(askers) = askers.get(&index) else { continue };
            let keys: Vec<String> = self.r.tables[index as usize].keys.iter().map(|k| k.name.clone()).collect();
            for (at, name) in keys.iter().enumerate() {
                let Some(column) = table.columns.iter().position(|c| c.name.name == *name) else { continue };
                // a list that is asked for one row may well have others
                if askers.iter().any(|a| !self.is_constant(*a, at)) {
                    let asked = self.asked(askers, at);
                    self.rows_not_asked_for(table, &cells, column, &asked);
                }
                let surely: Vec<Reg> = askers.iter().copied().filter(|a| sure.contains(a)).collect();
                if !surely.is_empty() {
                    let asked = self.asked(&surely, at);
                    self.cases_without_rows(table, &cells, column, &asked);
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
                    words: all.words.zip(one.words).and_then(|(a, b)| both_words(&self.fuel, a, b)),
                    range: all.range.or(one.range),
                    whole: all.whole && one.whole,
                },
            });
        }
        out.unwrap_or_default()
    }

    fn rows_not_asked_for(&mut self, table: &TableBlock, all: &Rows, column: usize, asked: &Asked) {
        let c = &table.columns[column];
        let beside = beside(table, all, column);
        let mut found = Vec::new();
        for (row, written) in all.iter().zip(&table.rows) {
            let idle = match &row[column] {
                Some(Cell::Text(word)) => asked.words.as_ref().is_some_and(|words| !words.contains(word)),
                Some(Cell::Number(n)) => {
                    let alike = beside.get(&others(table, row, column));
                    let before = alike.and_then(|all| all.range(..*n).next_back());
                    let after = alike.and_then(|all| all.range((Bound::Excluded(*n), Bound::Unbounded)).next());
                    asked.passes_by(c.how, n, before, after)
                }
                _ => false,
            };
            if idle {
                found.push((written, written.written(column)));
            }
        }
        for (row, cell) in found {
            let what = format!(
                "This row of the table {} serves nothing: whoever asks, '{}' is never {cell}.",
                table.name.name, c.name.name
            );
            let fix = "take the row out, or see whether it is spelled as what is asked";
            self.hint_of_row("row never matched", table, row, row.span, what, fix);
        }
    }

    fn cases_without_rows(&mut self, table: &TableBlock, all: &Rows, column: usize, asked: &Asked) {
        let c = &table.columns[column];
        let values: BTreeSet<&Cell> = all.iter().filter_map(|row| row[column].as_ref()).collect();
        let numbers: BTreeSet<Number> =
            values.iter().filter_map(|v| if let Cell::Number(n) = v { Some(*n) } else { None }).collect();
        let dimension = read_type(&c.ty.text).ok().and_then(|t| t.0.dimension()).unwrap_or(Dimension::NONE);
        let told = |n: &Number| show(n, dimension, &Style::default()).text;
        let mut missing: Vec<String> = Vec::new();
        if let Some(words) = &asked.words {
            missing.extend(words.iter().filter(|w| !values.contains(&Cell::Text((*w).clone()))).cloned());
        }
        if let (Some(least), Some(most)) = (numbers.first(), numbers.last()) {
            let below = asked.range.low.filter(|(l, _)| l < least);
            let below = below.map(|(l, _)| format!("{}, which is below the first row", told(&l)));
            let above = asked.range.high.filter(|(h, _)| h > most);
            let above = above.map(|(h, _)| format!("{}, which is above the last row", told(&h)));
            match c.how {
                Some(Match::Exact) if asked.whole => {
                    missing.extend(whole_numbers(&asked.range).iter().filter(|n| !numbers.contains(n)).map(told));
                }
                Some(Match::From) => missing.extend(below),
                Some(Match::UpTo) => missing.extend(above),
                Some(Match::Between) => missing.extend(below.into_iter().chain(above)),
                _ => {}
            }
        }
        let key = format!("{} ", c.name.name);
        self.no_row_for(table, &key, &missing);
    }

    /// A table without rows that could be asked for.
    fn no_row_for(&mut self, table: &TableBlock, key: &str, missing: &[String]) {
        let all = match missing {
            [] => return,
            [one] => one.clone(),
            [one, two] => format!("{one} or {two}"),
            [one, rest @ ..] => format!("{one} or {} others", rest.len()),
        };
        let what = format!("The table {} has no row for {key}{all}; what asks for it is stopped.", table.name.name);
        let fix = "a row for it, or accepted \"…\" with the reason to have none";
        self.hint("gap in a table", table.name.span, what, fix);
    }

    /// Exact keys make a grid; a place of the grid without a row is worth a look.
    fn grid(&mut self, table: &TableBlock, all: &Rows) {
        let keys: Vec<usize> = (0..table.columns.len()).filter(|i| table.columns[*i].how.is_some()).collect();
        if keys.len() < 2 {
            return;
        }
        // each value of each key, by its number; how each is written where it first stands; rows by those numbers
        let mut numbers: Vec<BTreeMap<&Cell, usize>> = vec![BTreeMap::new(); keys.len()];
        let mut named: Vec<Vec<String>> = vec![Vec::new(); keys.len()];
        let mut there: BTreeSet<Vec<usize>> = BTreeSet::new();
        for (row, written) in all.iter().zip(&table.rows) {
            let mut place = Vec::new();
            for (i, key) in keys.iter().enumerate() {
                let Some(cell) = &row[*key] else { return };
                let next = numbers[i].len();
                place.push(*numbers[i].entry(cell).or_insert(next));
                if numbers[i].len() > next {
                    named[i].push(written.written(*key).to_owned());
                }
            }
            there.insert(place);
        }
        let places = named.iter().try_fold(1usize, |all, c| all.checked_mul(c.len()));
        let Some(places) = places.filter(|n| *n <= PLACES && *n != there.len()) else { return };
        let mut missing = Vec::new();
        for place in 0..places {
            let mut rest = place;
            let mut wanted = Vec::new();
            for column in &named {
                wanted.push(rest % column.len());
                rest /= column.len();
            }
            if !there.contains(&wanted) {
                let words = wanted.iter().zip(&named).zip(&keys);
                let words = words.map(|((at, c), k)| format!("{} {}", table.columns[*k].name.name, c[*at]));
                missing.push(words.collect::<Vec<_>>().join(", "));
            }
        }
        self.no_row_for(table, "", &missing);
    }
}

impl Asked {
    /// Whether a row of that number serves nothing that is asked, between the row before and the one after it.
    fn passes_by(&self, how: Option<Match>, n: &Number, before: Option<&Number>, after: Option<&Number>) -> bool {
        let Range { low, high } = self.range;
        let below = low.is_some_and(|(l, reached)| *n < l || (*n == l && !reached));
        let above = high.is_some_and(|(h, reached)| *n > h || (*n == h && !reached));
        match how {
            Some(Match::Exact) => below || above || (self.whole && !n.is_whole()),
            // it serves what lies above the row before, up to itself
            Some(Match::UpTo) => below || before.is_some_and(|b| high.is_some_and(|(h, _)| *b >= h)),
            // it serves what lies from itself on, below the row after
            Some(Match::From) => above || after.is_some_and(|a| low.is_some_and(|(l, _)| *a <= l)),
            _ => false,
        }
    }
}

/// The other keys of a row.
fn others(table: &TableBlock, row: &[Option<Cell>], column: usize) -> Vec<Option<Cell>> {
    let keys = (0..table.columns.len()).filter(|i| table.columns[*i].how.is_some() && *i != column);
    keys.map(|k| row[k].clone()).collect()
}

/// Values of one key in rows whose other keys are the same.
fn beside(table: &TableBlock, all: &Rows, column: usize) -> BTreeMap<Vec<Option<Cell>>, BTreeSet<Number>> {
    let mut out: BTreeMap<_, BTreeSet<Number>> = BTreeMap::new();
    for row in all {
        if let Some(Cell::Number(n)) = &row[column] {
            out.entry(others(table, row, column)).or_default().insert(*n);
        }
    }
    out
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
