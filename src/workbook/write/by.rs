//! Tables of the Bid that add rooms up: by level, and by the option taken.

use super::bid::{LEFT, Page, RIGHT};
use super::blocks::{item_sum, not_apart};
use super::layout::{LineColumn, TableLayout};
use super::lines::kind_word;
use super::parts::{self, Places};
use super::{Document, edge, text_of};
use crate::engine::RawCell;
use crate::program::{LineKind, Type};
use crate::quantity::Number;
use crate::source::column_letters;
use rust_xlsxwriter::{Format, XlsxError};
use rustc_hash::FxHashMap;

/// Rows of a table by name, the last one for what is left.
const LEVELS_SHOWN: usize = 12;
const OPTIONS_SHOWN: usize = 8;
const WORKS_SHOWN: usize = 8;
const PARTS_SHOWN: usize = 12;

/// Longest label that is held against cells: a text within a formula has 255 characters at most.
const LONGEST_LABEL: usize = 200;

/// The rooms of one level, or of one option.
#[derive(Debug)]
struct Sum {
    /// Its name for the Bid.
    label: String,
    /// A live formula for the name, where a count stands in it.
    live: Option<String>,
    /// Cells of Rooms, as a formula, and the name that they must be; the cell of the name where there is none.
    test: (String, Option<String>),
    /// Cost in cents.
    cost: i64,
    /// Hours.
    hours: Number,
}

impl Sum {
    fn add(&mut self, cost: Option<i64>, hours: Option<Number>) {
        self.cost = self.cost.saturating_add(cost.unwrap_or(0));
        self.hours = self.hours.plus(&hours.unwrap_or(Number::ZERO)).unwrap_or(self.hours);
    }
}

impl Page<'_, '_> {
    /// By level, then by option, at the left. Gives the next free row.
    pub(super) fn added_up(&mut self, top: u32) -> Result<u32, XlsxError> {
        let Some(root) = self.layout.root.as_ref() else { return Ok(top) };
        let mut end = top;
        if let Some(levels) = levels(&self.doc, root) {
            end = self.by(end, "By level", &levels, LEVELS_SHOWN, "levels")?;
        }
        if let Some((head, options)) = options(&self.doc, root) {
            let gap = u32::from(end > top);
            end = self.by(end + gap, &head, &options, OPTIONS_SHOWN, "others")?;
        }
        Ok(end)
    }

    /// By work, at the right: cost and hours. Gives the next free row.
    pub(super) fn by_work(&mut self, top: u32) -> Result<u32, XlsxError> {
        let works = works(&self.doc);
        if works.is_empty() {
            return Ok(top);
        }
        self.heads(top, RIGHT, ["By work", "Cost", "Hours"])?;
        let (label, money, quantity) =
            (self.formats.label.clone(), self.formats.money.clone(), self.formats.quantity.clone());
        let kept = if works.len() > WORKS_SHOWN { WORKS_SHOWN - 1 } else { works.len() };
        let (named, others) = works.split_at(kept);
        let mut row = top + 1;
        for work in named {
            let name = format!("${}${}", column_letters(RIGHT), row + 1);
            self.sheet.write_string_with_format(row, RIGHT, text_of(&work.label), &label)?;
            let cost = self.cost_formula(item_sum(self.layout, &name, LineKind::Labor, LineColumn::Cost));
            self.formula(row, RIGHT + 1, &cost, &self.cents(work.cost), &money)?;
            let value = edge::text(edge::number(&work.hours));
            let hours = item_sum(self.layout, &name, LineKind::Labor, LineColumn::Hours);
            self.formula(row, RIGHT + 2, &hours, &value, &quantity)?;
            row += 1;
        }
        if !others.is_empty() {
            let cost = others.iter().fold(0i64, |sum, w| sum.saturating_add(w.cost));
            let hours = others.iter().fold(Number::ZERO, |sum, w| sum.plus(&w.hours).unwrap_or(sum));
            self.sheet.write_string_with_format(row, RIGHT, format!("{} others", others.len()), &label)?;
            let word = Some(kind_word(LineKind::Labor));
            for (at, column, format) in [(1, LineColumn::Cost, &money), (2, LineColumn::Hours, &quantity)] {
                let here = column_letters(RIGHT + at);
                let all = self.layout.lines.sum(column, word);
                let formula = format!("{all}-SUM({here}{}:{here}{row})", top + 2);
                let mut value = String::new();
                let formula = if column == LineColumn::Cost {
                    value = self.cents(cost);
                    self.cost_formula(formula)
                } else {
                    edge::float_text(&mut value, edge::number(&hours));
                    formula
                };
                self.formula(row, RIGHT + at, &formula, &value, format)?;
            }
            row += 1;
        }
        Ok(row + 1)
    }

    /// Prices of the parts and of the alternates, at the right. Gives the next free row.
    pub(super) fn divided(&mut self, top: u32) -> Result<u32, XlsxError> {
        let priced = self.doc.priced;
        if !parts::there(&self.doc) {
            return Ok(top);
        }
        let places = Places::new(&self.doc);
        let (label, money, percent) =
            (self.formats.label.clone(), self.formats.money.clone(), self.formats.percent.clone());
        let mut row = top;
        if !priced.parts.is_empty() {
            self.heads(row, RIGHT, ["In parts, with mark-ups", "Price", "Share"])?;
            let kept = if priced.parts.len() > PARTS_SHOWN { PARTS_SHOWN - 1 } else { priced.parts.len() };
            let whole = priced.total.unwrap_or(0);
            let total = format!("C{}", self.total_row + 1);
            let mut left = whole;
            let first = row + 2;
            for (at, part) in priced.parts.iter().enumerate().take(kept) {
                row += 1;
                left = left.saturating_sub(part.price);
                let Some(cell) = places.price_of_part(at) else { continue };
                self.priced_row(row, (&part.name, part.price, whole), &cell, &total, (&label, &money, &percent))?;
            }
            if kept < priced.parts.len() {
                row += 1;
                let name = format!("{} more parts", priced.parts.len() - kept);
                let formula = format!("ROUND({total}-SUM(F{first}:F{row}),2)");
                self.priced_row(row, (&name, left, whole), &formula, &total, (&label, &money, &percent))?;
            }
            row += 2;
        }
        if !priced.alternates.is_empty() {
            self.heads(row, RIGHT, ["Alternates, not in the total", "Price", ""])?;
            for (at, alternate) in priced.alternates.iter().enumerate().take(PARTS_SHOWN) {
                row += 1;
                let Some(cell) = places.price_of_alternate(at) else { continue };
                let word = if alternate.price < 0 { "deduct" } else { "add" };
                let value = self.cents(alternate.price);
                self.sheet.write_string_with_format(row, RIGHT, text_of(&alternate.name), &label)?;
                self.formula(row, RIGHT + 1, &cell, &value, &money)?;
                let formula = format!("IF(F{}<0,\"deduct\",\"add\")", row + 1);
                let format = self.formats.word.clone();
                self.formula(row, RIGHT + 2, &formula, word, &format)?;
            }
            if priced.alternates.len() > PARTS_SHOWN {
                row += 1;
                let text = format!("and {} more: see Parts.", priced.alternates.len() - PARTS_SHOWN);
                self.sheet.write_string_with_format(row, RIGHT, text, &label)?;
            }
            row += 2;
        }
        Ok(row)
    }

    /// A name with its price and its share of the total.
    fn priced_row(
        &mut self,
        row: u32,
        (name, cents, whole): (&str, i64, i64),
        formula: &str,
        total: &str,
        (label, money, percent): (&Format, &Format, &Format),
    ) -> Result<(), XlsxError> {
        self.sheet.write_string_with_format(row, RIGHT, text_of(name), label)?;
        self.formula(row, RIGHT + 1, formula, &self.cents(cents), money)?;
        let value = edge::text(edge::share(cents, whole).unwrap_or(0.0));
        self.formula(row, RIGHT + 2, &format!("IF({total}=0,0,F{}/{total})", row + 1), &value, percent)
    }

    fn by(&mut self, top: u32, head: &str, sums: &[Sum], shown: usize, words: &str) -> Result<u32, XlsxError> {
        let Some(root) = self.layout.root.as_ref() else { return Ok(top) };
        self.heads(top, LEFT, [head, "Hours", "Cost"])?;
        let (label, money, quantity) =
            (self.formats.label.clone(), self.formats.money.clone(), self.formats.quantity.clone());
        let (cost, hours) = (root.range(root.cost()), root.range(root.cost() + 1));
        let also = not_apart(&self.doc, root).map(|test| format!(",{test}"));
        let named = if sums.len() > shown { shown - 1 } else { sums.len() };
        let mut row = top + 1;
        for sum in &sums[..named] {
            match &sum.live {
                Some(live) => self.formula(row, 0, live, text_of(&sum.label), &label)?,
                None => {
                    self.sheet.write_string_with_format(row, 0, text_of(&sum.label), &label)?;
                }
            }
            let (cells, name) = &sum.test;
            let test = format!("{cells}={}", name.clone().unwrap_or_else(|| format!("A{}&\"\"", row + 1)));
            let test = format!("--({test}){}", also.as_deref().unwrap_or(""));
            let value = self.cents(sum.cost);
            let formula = self.cost_formula(format!("SUMPRODUCT({test},{cost})"));
            self.formula(row, 2, &formula, &value, &money)?;
            let value = edge::text(edge::number(&sum.hours));
            let formula = format!("SUMPRODUCT({test},{hours})");
            self.formula(row, 1, &formula, &value, &quantity)?;
            row += 1;
        }
        let unnamed = sums.len() - named;
        self.rest(row, top + 1, &sums[..named], (unnamed > 0).then(|| format!("{unnamed} more {words}")))
    }

    /// What the named rows leave: further ones, and lines of the job as a whole.
    fn rest(&mut self, row: u32, first: u32, named: &[Sum], unnamed: Option<String>) -> Result<u32, XlsxError> {
        let priced = self.doc.priced;
        let job = priced.lines.iter().any(|l| l.room.is_none());
        let text = match (unnamed, job) {
            (None, false) => return Ok(row),
            (None, true) => "Whole job".to_owned(),
            (Some(more), false) => more,
            (Some(more), true) => format!("{more}, whole job"),
        };
        let (mut cost, mut hours) =
            (priced.material.saturating_add(priced.labor), priced.hours.unwrap_or(Number::ZERO));
        for sum in named {
            cost = cost.saturating_sub(sum.cost);
            hours = hours.minus(&sum.hours).unwrap_or(hours);
        }
        let (label, money, quantity) =
            (self.formats.label.clone(), self.formats.money.clone(), self.formats.quantity.clone());
        self.sheet.write_string_with_format(row, 0, text, &label)?;
        let value = self.cents(cost);
        let formula = self.cost_formula(format!("{}-SUM(C{}:C{row})", self.cells.direct(), first + 1));
        self.formula(row, 2, &formula, &value, &money)?;
        let value = edge::text(edge::number(&hours));
        let formula = format!("{}-SUM(B{}:B{row})", self.layout.lines.hours(), first + 1);
        self.formula(row, 1, &formula, &value, &quantity)?;
        Ok(row + 1)
    }
}

/// A work with its cost and hours.
struct Work {
    label: String,
    cost: i64,
    hours: Number,
}

/// Works by hours, the longest first; two of one label are one.
fn works(doc: &Document<'_>) -> Vec<Work> {
    let mut at: FxHashMap<String, usize> = FxHashMap::default();
    let mut out: Vec<Work> = Vec::new();
    for line in doc.priced.lines.iter().filter(|l| l.kind == LineKind::Labor && !l.apart) {
        let Some(item) = doc.schema.items.get(line.item as usize) else { continue };
        let i = *at.entry(item.label.to_lowercase()).or_insert(out.len());
        if i == out.len() {
            out.push(Work { label: item.label.clone(), cost: 0, hours: Number::ZERO });
        }
        if let Some(work) = out.get_mut(i) {
            work.cost = work.cost.saturating_add(line.cost.unwrap_or(0));
            work.hours = line.hours.and_then(|h| work.hours.plus(&h).ok()).unwrap_or(work.hours);
        }
    }
    out.sort_by(|a, b| b.hours.cmp(&a.hours).then(b.cost.cmp(&a.cost)));
    out
}

/// Sums by level in the order in which levels are met, where the rows have a column of that name and it can be found
/// again in the sheet.
fn levels(doc: &Document<'_>, root: &TableLayout) -> Option<Vec<Sum>> {
    let (names, column) = level_names(doc, root)?;
    let mut at: FxHashMap<String, usize> = FxHashMap::default();
    let mut out: Vec<Sum> = Vec::new();
    for (room, (name, result)) in names.into_iter().zip(&doc.priced.rooms).enumerate() {
        if doc.priced.is_apart(room) {
            continue;
        }
        let i = *at.entry(name.to_lowercase()).or_insert(out.len());
        if i == out.len() {
            let nothing = name.is_empty().then(|| "\"\"&\"\"".to_owned());
            let test = (format!("TRIM({}&\"\")", root.range(column)), nothing);
            let label = if name.is_empty() { "(no level)".to_owned() } else { name };
            out.push(Sum { label, live: None, test, cost: 0, hours: Number::ZERO });
        }
        if let Some(level) = out.get_mut(i) {
            level.add(result.cost, result.hours);
        }
    }
    (!out.is_empty()).then_some(out)
}

/// The level of each room as the sheet's formula sees it: single spaces, none at the ends.
fn level_names(doc: &Document<'_>, root: &TableLayout) -> Option<(Vec<String>, u16)> {
    let schema = doc.schema;
    let field = schema.field_named(root.kind, "level")?;
    let tidy = |text: &str| text.split(' ').filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ");
    let input = &doc.inputs.tables[root.table];
    if schema.field(field).input.is_some() {
        let at = schema.kind(root.kind).fields.iter().position(|f| *f == field)?;
        let column = input.origin.columns.iter().position(|c| c.field == Some(at))?;
        let cells = &input.origin.columns[column].cells;
        let name = |cell: &RawCell| match cell {
            RawCell::Text(id) => Some(tidy(doc.inputs.texts.get(*id))),
            RawCell::Number(n) | RawCell::Percent(n) => Some(n.to_string()),
            RawCell::Empty => Some(String::new()),
            RawCell::YesNo(_) | RawCell::Date(_) | RawCell::Error(_) => None,
        };
        return Some((cells.iter().map(name).collect::<Option<_>>()?, root.raw_column(column)));
    }
    let at = root.worked.iter().position(|w| w.field == field)?;
    let name = |row| doc.run.text(field, row).ok().map(|t| tidy(t));
    let is_text = schema.field(field).ty == Type::Text;
    let names = is_text.then(|| (0..root.rows as usize).map(name).collect::<Option<_>>())??;
    Some((names, root.worked_column(at)))
}

/// Sums by the option that rooms take, in the book's order, with how many rooms take it; stopped rooms take none.
/// The heading comes with them.
fn options(doc: &Document<'_>, root: &TableLayout) -> Option<(String, Vec<Sum>)> {
    let options = doc.schema.options.as_ref().filter(|o| o.kind == root.kind)?;
    let at = root.worked.iter().position(|w| w.field == options.field)?;
    let (chosen, status) = (root.range(root.worked_column(at)), root.range(root.cost() + 2));
    let mut counts = vec![0usize; options.choices.len()];
    // Two options of one label are one row, since the live formula finds them by label.
    let same = |a: &str, b: &str| a.to_lowercase() == b.to_lowercase();
    let first = |i: usize| options.choices.iter().position(|c| same(&c.label, &options.choices[i].label)).unwrap_or(i);
    let mut sums: Vec<Sum> = Vec::with_capacity(counts.len());
    for choice in &options.choices {
        let label = choice.label.clone();
        let test = (chosen.clone(), Some(in_formula(&label)));
        sums.push(Sum { label, live: None, test, cost: 0, hours: Number::ZERO });
    }
    for (room, (compared, result)) in doc.priced.compared.iter().zip(&doc.priced.rooms).enumerate() {
        if result.stopped || doc.priced.is_apart(room) {
            continue;
        }
        let at = first((compared.taken as usize).min(options.choices.len().checked_sub(1)?));
        counts[at] += 1;
        sums[at].add(result.cost, result.hours);
    }
    let also = not_apart(doc, root).map_or_else(String::new, |test| format!(",{test}"));
    let mut out = Vec::new();
    for (mut sum, count) in sums.into_iter().zip(counts).filter(|(_, count)| *count > 0) {
        if sum.label.chars().count() > LONGEST_LABEL {
            return None;
        }
        let name = in_formula(&sum.label);
        let many = format!("SUMPRODUCT(--({chosen}={name}),--({status}<>\"STOPPED\"){also})");
        sum.live = Some(format!("{name}&\" (\"&{many}&\")\""));
        sum.label = format!("{} ({count})", sum.label);
        out.push(sum);
    }
    let rows = doc.schema.kind(root.kind).name.replace('_', " ");
    let head = format!("By {} ({rows})", doc.schema.field(options.field).label.to_lowercase());
    (!out.is_empty()).then_some((head, out))
}

/// A text within a formula.
fn in_formula(text: &str) -> String {
    format!("\"{}\"", text.replace('"', "\"\""))
}
