//! Labor rows of one code for other heights or other difficulties: which of them serves a row of the job.

use super::book::PriceBook;
use super::plan::{Measured, Plan, Refusals, labor};
use crate::engine::input::fold;
use crate::engine::{Chunk, Column, Fault, Run};
use crate::problem::Problem;
use crate::program::{Item, Schema, SiteId};
use crate::quantity::{Number, Ratio};
use rustc_hash::{FxHashMap, FxHashSet};

/// The rows of a code, of which the height and the difficulty of a row of the job choose one.
///
/// Rows for the difficulty go before those that name none; of these the one with the greatest height at or below the row's
/// serves. Where a height or a difficulty is not given, rows without one serve.
#[derive(Clone, Debug)]
pub(crate) struct ByRow {
    /// The rows.
    pub rows: Vec<LaborAt>,
    /// The refusal where no row serves the height.
    no_height: usize,
    /// The refusal where no row of the sheet names the difficulty.
    no_difficulty: usize,
    /// Every difficulty that the sheet names.
    difficulties: FxHashSet<String>,
}

/// A row of sheet *Labor* for a height and a difficulty.
#[derive(Clone, Debug)]
pub(crate) struct LaborAt {
    /// The height in mm from which it serves; any where it says nothing.
    height: Option<Number>,
    /// The difficulty, folded.
    difficulty: Option<String>,
    /// How it serves.
    pub plan: Plan,
    /// Its row in the price book.
    pub row: u32,
    /// The number of the price row.
    pub price: Option<u32>,
}

/// The columns by which one of several rows is chosen.
pub(crate) struct Working<'a> {
    height: Option<&'a Column>,
    height_factor: Ratio,
    difficulty: Option<&'a Column>,
    /// The difficulties met, folded, by the number of their text.
    words: FxHashMap<u32, String>,
    /// Where the faults of blank cells begin.
    blanks: FxHashSet<SiteId>,
}

impl Refusals {
    /// Rows of a work for several heights or difficulties.
    pub(super) fn by_row(&mut self, item: &Item, m: &Measured, code: &str, book: &PriceBook, rows: &[u32]) -> Plan {
        let all = rows.iter().filter_map(|at| Some((*at, book.labor.get(*at as usize)?)));
        let places: Vec<_> = all.clone().map(|(_, row)| row.place.clone()).collect();
        let mut made = Vec::new();
        for (at, row) in all {
            let plan = match self.ready(labor(item, m, row, book)) {
                Plan::Ready(ready) => {
                    let ready = super::plan::Ready { row: Some(at), ..(*ready).clone() };
                    Plan::Ready(std::sync::Arc::new(ready))
                }
                other => other,
            };
            let difficulty = row.difficulty.as_deref().map(fold);
            made.push(LaborAt { height: row.height, difficulty, plan, row: at, price: None });
        }
        let problem = |kind, what: String, fix: &str| {
            let problem = Problem::stop(kind, what).in_book(&item.text, item.span);
            places.iter().fold(problem, |p, place| p.at_cell(place.clone())).fix(fix.to_owned())
        };
        let what = format!(
            "{} by {code} is rated by height or difficulty, and no row of sheet Labor serves where one of them is not given.",
            item.label
        );
        let fix = "give the row of the job its height and difficulty, or the code a row without them";
        let no_height = self.refused(problem("no labor rate", what, fix));
        let what = format!("{} by {code} is of a difficulty that no row of sheet Labor names.", item.label);
        let difficulties: FxHashSet<String> =
            book.labor.iter().filter_map(|row| row.difficulty.as_deref().map(fold)).collect();
        let mut named: Vec<&str> = difficulties.iter().map(String::as_str).collect();
        named.sort_unstable();
        let fix = format!("one of: {}; or nothing", named.join(", "));
        let no_difficulty = self.refused(problem("unknown difficulty", what, &fix));
        Plan::ByRow(std::sync::Arc::new(ByRow { rows: made, no_height, no_difficulty, difficulties }))
    }
}

impl<'a> Working<'a> {
    /// The columns of an item.
    pub fn of(schema: &Schema, run: &'a Run, item: &Item) -> Self {
        let column = |field: Option<crate::program::FieldId>| {
            field.and_then(|f| run.columns.get(f.0 as usize).and_then(Option::as_ref))
        };
        let difficulty = column(item.difficulty);
        let mut words = FxHashMap::default();
        for chunk in difficulty.into_iter().flat_map(|c| &c.chunks) {
            for id in (0..chunk.data.len()).filter_map(|row| chunk.text(row)) {
                words.entry(id).or_insert_with(|| fold(run.texts.get(id)));
            }
        }
        Self {
            height: column(item.height),
            height_factor: item.height.map_or(Ratio::from(1), |f| schema.field(f).unit.factor),
            difficulty,
            words,
            blanks: schema.fields.iter().filter_map(|f| f.input.as_ref().map(|i| i.missing)).collect(),
        }
    }

    /// The blocks of its columns.
    pub fn at(&self, block: usize) -> (Option<&'a Chunk>, Option<&'a Chunk>) {
        let chunk = |column: Option<&'a Column>| column.and_then(|c| c.chunks.get(block));
        (chunk(self.height), chunk(self.difficulty))
    }

    /// Whether a cell has a value: a fault that is no blank cell stops the row.
    fn given(&self, chunk: Option<&Chunk>, row: usize) -> Result<bool, Fault> {
        match chunk.map(|c| c.fault(row)) {
            None => Ok(false),
            Some(None) => Ok(true),
            Some(Some(fault)) if self.blanks.contains(&fault.site) => Ok(false),
            Some(Some(fault)) => Err(fault),
        }
    }

    /// The row that serves, or the refusal.
    pub fn pick<'p>(
        &self,
        by: &'p ByRow,
        (height, difficulty): (Option<&Chunk>, Option<&Chunk>),
        row: usize,
    ) -> Result<Result<&'p LaborAt, usize>, Fault> {
        let word = if self.given(difficulty, row)? {
            difficulty.and_then(|c| c.text(row)).and_then(|id| self.words.get(&id)).filter(|w| !w.is_empty())
        } else {
            None
        };
        if word.is_some_and(|w| !by.difficulties.is_empty() && !by.difficulties.contains(w)) {
            return Ok(Err(by.no_difficulty));
        }
        let own = |at: &&LaborAt| at.difficulty.as_ref() == word;
        let plain = |at: &&LaborAt| at.difficulty.is_none();
        let of_word: Vec<&LaborAt> = by.rows.iter().filter(own).collect();
        let rows = if of_word.is_empty() { by.rows.iter().filter(plain).collect() } else { of_word };
        let mm = if self.given(height, row)? {
            height.and_then(|c| c.number(row)).and_then(|n| n.scaled(self.height_factor).ok())
        } else {
            None
        };
        let serves = |at: &&&LaborAt| match (&at.height, &mm) {
            (None, _) => true,
            (Some(from), Some(mm)) => from <= mm,
            (Some(_), None) => false,
        };
        let best = rows.iter().filter(serves).max_by(|a, b| a.height.cmp(&b.height));
        Ok(best.copied().ok_or(by.no_height))
    }
}
