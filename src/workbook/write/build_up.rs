//! What stands where in the bid's build-up: sums of lines, the job's figures in the book's order, their rates.

use super::{Document, job};
use crate::pricing::JobFigure;
use crate::program::{Field, Flavor, LineKind, Type, Value};
use crate::quantity::{Dimension, Number};
use crate::workbook::live::{JobFormula, names_in};
use std::collections::{BTreeMap, BTreeSet};

/// A row of money, in order.
#[derive(Clone, Copy, Debug)]
pub enum Row<'a> {
    /// The sum of material or of labor lines, with its label.
    Sum(LineKind, &'a str),
    /// A figure of the job.
    Figure(&'a JobFigure),
    /// The total of the bid.
    Total,
}

/// The build-up, sorted out.
#[derive(Debug, Default)]
pub struct BuildUp<'a> {
    /// Texts and dates, which stand in the head of the page: label and value.
    pub facts: Vec<&'a JobFigure>,
    /// Rows of money.
    pub rows: Vec<Row<'a>>,
    /// The rate that stands beside an amount, by the amount's name.
    pub beside: BTreeMap<&'a str, &'a JobFigure>,
    /// Rates and other settings that stand in a block of their own, and whether nothing on the bid uses them.
    pub rates: Vec<(&'a JobFigure, bool)>,
    /// Amounts of zero by a rate that nobody gave, with that rate.
    pub idle: Vec<(&'a JobFigure, &'a JobFigure)>,
    /// Names of figures that are a plain sum of lines, with the sum.
    pub sums: Vec<(&'a str, &'static str)>,
    /// Figures of nothing that stand in no cell of the bid: sums of rows that are not there, and settings of such.
    pub nothing: Vec<&'a str>,
    /// The project, where it is given.
    pub project: Option<&'a str>,
}

/// A figure's live formula.
#[must_use]
pub fn template<'a>(doc: &Document<'a>, name: &str) -> Option<&'a str> {
    doc.job_live.iter().find(|f| f.name == name).map(|f| f.template.as_str())
}

/// The sum of lines that a figure is, where it is nothing else.
fn plain_sum(doc: &Document<'_>, figure: &JobFigure) -> Option<&'static str> {
    let sums = [("material", "{lines material}"), ("labor", "{lines labor}"), ("hours", "{lines hours}")];
    match template(doc, &figure.name) {
        Some(t) => sums.iter().find(|(_, sum)| *sum == t).map(|(name, _)| *name),
        // without a formula the figure's name and value tell
        None => sums.iter().map(|(name, _)| *name).find(|name| *name == figure.name && holds(doc, name, figure)),
    }
}

fn holds(doc: &Document<'_>, name: &str, figure: &JobFigure) -> bool {
    let Ok(Value::Number(number)) = &figure.value else { return !doc.priced.has_prices };
    match name {
        "material" => number.cents().is_ok_and(|c| c == doc.priced.material),
        "labor" => number.cents().is_ok_and(|c| c == doc.priced.labor),
        _ => Some(*number) == doc.priced.hours,
    }
}

/// Whether some rule looks at what was read here.
fn looked_at(doc: &Document<'_>, figure: &JobFigure) -> bool {
    doc.schema.looked_at.binary_search(&figure.field).is_ok()
}

fn is_zero(figure: &JobFigure) -> bool {
    matches!(&figure.value, Ok(Value::Number(n)) if n.is_zero())
}

/// A rate whose default is zero and that is zero: nobody gave it.
fn not_given(field: &Field, figure: &JobFigure) -> bool {
    let default = field.input.as_ref().and_then(|i| i.default.as_ref());
    is_zero(figure) && matches!(default, Some(Value::Number(n)) if n.is_zero())
}

fn is_rate(field: &Field, figure: &JobFigure) -> bool {
    let percent = matches!(field.ty, Type::Number { flavor: Flavor::Percent, .. }) || field.style.percent;
    percent && field.input.is_some() && matches!(figure.value, Ok(Value::Number(_)))
}

impl<'a> BuildUp<'a> {
    /// Sorts the job's figures.
    #[must_use]
    pub fn new(doc: &Document<'a>) -> Self {
        let mut out = Self::default();
        let mut settings = Vec::new();
        for figure in &doc.priced.job {
            let field = doc.schema.field(figure.field);
            match &figure.value {
                Ok(Value::Text(text)) if figure.name == "project" => out.project = Some(text),
                // a text that a rule looks at is a setting of the house, and nothing that a bid tells
                Ok(Value::Text(_) | Value::Date(_)) if looked_at(doc, figure) => {}
                Ok(Value::Text(_)) if doc.schema.telling.contains(&figure.field) => {}
                Ok(Value::Text(_) | Value::Date(_)) => out.facts.push(figure),
                _ if figure.name == "total" => out.rows.push(Row::Total),
                _ if field.input.is_some() => settings.push(figure),
                _ => out.row(doc, figure),
            }
        }
        out.missing_rows();
        out.rate_places(doc, settings);
        out
    }

    fn row(&mut self, doc: &Document<'a>, figure: &'a JobFigure) {
        let Some(sum) = plain_sum(doc, figure) else {
            let money = doc.schema.field(figure.field).ty.dimension() == Some(Dimension::MONEY);
            if money && template(doc, &figure.name).is_none() && is_zero(figure) {
                self.nothing.push(&figure.name);
                return;
            }
            self.rows.push(Row::Figure(figure));
            return;
        };
        let first = self.sums.iter().all(|(_, s)| *s != sum);
        self.sums.push((&figure.name, sum));
        match sum {
            "material" if first => self.rows.push(Row::Sum(LineKind::Material, &figure.label)),
            "labor" if first => self.rows.push(Row::Sum(LineKind::Labor, &figure.label)),
            // the hours have a row below the total
            _ => {}
        }
    }

    /// Material, labor and the total stand on every bid, named by the book or not.
    fn missing_rows(&mut self) {
        let has = |rows: &[Row<'_>], kind| rows.iter().any(|r| matches!(r, Row::Sum(k, _) if *k == kind));
        if !has(&self.rows, LineKind::Labor) {
            let at = self.rows.iter().position(|r| matches!(r, Row::Sum(..))).map_or(0, |i| i + 1);
            self.rows.insert(at, Row::Sum(LineKind::Labor, "Labor"));
        }
        if !has(&self.rows, LineKind::Material) {
            self.rows.insert(0, Row::Sum(LineKind::Material, "Material"));
        }
        if !self.rows.iter().any(|r| matches!(r, Row::Total)) {
            self.rows.push(Row::Total);
        }
    }

    /// Each rate goes beside the one amount that uses it and no other; the rest get a block.
    fn rate_places(&mut self, doc: &Document<'a>, settings: Vec<&'a JobFigure>) {
        let rate_names: BTreeSet<&str> =
            settings.iter().filter(|f| is_rate(doc.schema.field(f.field), f)).map(|f| f.name.as_str()).collect();
        let names_of = |name: &str| -> BTreeSet<&str> {
            let formula = doc.job_live.iter().find(|f| f.name == name);
            formula.map(|f| f.on.iter().map(String::as_str).collect()).unwrap_or_default()
        };
        let rates_of =
            |name: &str| -> BTreeSet<&str> { names_of(name).into_iter().filter(|n| rate_names.contains(n)).collect() };
        let all_live = self.rows.iter().all(|r| match r {
            Row::Figure(f) => template(doc, &f.name).is_some(),
            Row::Sum(..) => true,
            Row::Total => doc.priced.job.iter().all(|f| f.name != "total") || template(doc, "total").is_some(),
        });
        for rate in settings.into_iter().filter(|f| f.value.is_ok()) {
            let field = doc.schema.field(rate.field);
            let name = rate.name.as_str();
            let users: Vec<&'a JobFigure> =
                doc.priced.job.iter().filter(|f| names_of(&f.name).contains(name)).collect();
            let alone = |f: &&JobFigure| {
                rates_of(&f.name).len() == 1
                    && self.rows.iter().any(|r| matches!(r, Row::Figure(x) if x.name == f.name))
            };
            let amount = match users.as_slice() {
                [one] => Some(*one).filter(|f| alone(f)),
                _ => None,
            };
            let unused = rate_names.contains(name) && not_given(field, rate);
            let amount = amount.filter(|_| rate_names.contains(name));
            let idle = |f: &&JobFigure| self.idle.iter().any(|(a, _)| a.name == f.name);
            if !users.is_empty() && not_given(field, rate) && users.iter().all(idle) {
                self.nothing.push(name);
                continue;
            }
            match amount {
                Some(amount) if unused && (is_zero(amount) || !doc.priced.has_prices) => {
                    self.rows.retain(|r| !matches!(r, Row::Figure(x) if x.name == amount.name));
                    self.idle.push((amount, rate));
                }
                Some(amount) => {
                    self.beside.insert(&amount.name, rate);
                }
                // a setting that is no rate, and that no figure of the bid uses, is for the rows
                None if users.is_empty() && (unused || !rate_names.contains(name)) => {}
                // only where every figure tells what it is made of is it sure that none uses this one
                None => self.rates.push((rate, users.is_empty() && all_live && !looked_at(doc, rate))),
            }
        }
    }

    /// What each mark-up is on, in the order of the bid: `Overhead on Direct cost`.
    #[must_use]
    pub fn bases(&self, doc: &Document<'_>) -> Vec<String> {
        let label = |name: &str| {
            self.rows.iter().find_map(|row| match row {
                Row::Sum(LineKind::Material, label) if name == "lines material" || name == "material" => {
                    Some((*label).to_owned())
                }
                Row::Sum(LineKind::Labor, label) if name == "lines labor" || name == "labor" => {
                    Some((*label).to_owned())
                }
                Row::Figure(f) if f.name == name => Some(f.label.clone()),
                _ => None,
            })
        };
        let mut out = Vec::new();
        for row in &self.rows {
            let Row::Figure(amount) = row else { continue };
            if !self.beside.contains_key(amount.name.as_str()) {
                continue;
            }
            let mut on: Vec<String> = Vec::new();
            let named = doc.job_live.iter().find(|f| f.name == amount.name);
            for base in named.into_iter().flat_map(|f| &f.on).filter_map(|name| label(name)) {
                if !on.contains(&base) {
                    on.push(base);
                }
            }
            if !on.is_empty() {
                out.push(format!("{} on {}", amount.label, on.join(" + ")));
            }
        }
        out
    }

    /// The label of an amount, with its rate's name where that says more: `Profit (margin)`.
    #[must_use]
    pub fn label(&self, amount: &JobFigure) -> String {
        match self.beside.get(amount.name.as_str()) {
            // a rate that goes by the amount's name and more: Escalation a month
            Some(rate) if rate.label.len() > amount.label.len() && rate.label.starts_with(&amount.label) => {
                format!("{} ({})", amount.label, rate.label[amount.label.len()..].trim())
            }
            Some(rate) if !amount.label.to_lowercase().contains(&rate.label.to_lowercase()) => {
                format!("{} ({})", amount.label, rate.label.to_lowercase())
            }
            _ => amount.label.clone(),
        }
    }
}

/// Cells of the Bid by the name of their figure, and which of them are blank for want of prices.
#[derive(Debug, Default)]
pub struct Cells {
    /// The cell of each figure.
    pub at: BTreeMap<String, String>,
    /// Figures that are blank.
    pub blank: BTreeSet<String>,
}

impl Cells {
    /// Where each figure stands when the first row of money is sheet row `top` (from 0): amounts in column C, rates
    /// in column B. `hours` is the row of the labor hours, `idle` and `rates` the first rows of the two blocks.
    #[must_use]
    pub fn new(doc: &Document<'_>, plan: &BuildUp<'_>, top: u32, hours: u32, idle: u32, rates: u32) -> Self {
        let mut cells = Self::default();
        for (row, what) in (top + 1..).zip(&plan.rows) {
            match what {
                Row::Sum(LineKind::Material, _) => cells.put("lines material", 'C', row),
                Row::Sum(LineKind::Labor, _) => cells.put("lines labor", 'C', row),
                Row::Figure(f) => {
                    cells.put(&f.name, 'C', row);
                    if let Some(rate) = plan.beside.get(f.name.as_str()) {
                        cells.put(&rate.name, 'B', row);
                    }
                }
                Row::Total if doc.priced.stopped == 0 => cells.put("total", 'C', row),
                Row::Total => {}
            }
        }
        cells.put("lines hours", 'C', hours + 1);
        for (row, (amount, rate)) in (idle + 1..).zip(&plan.idle) {
            cells.put(&amount.name, 'C', row);
            cells.put(&rate.name, 'B', row);
        }
        for (row, (rate, _)) in (rates + 1..).zip(&plan.rates) {
            cells.put(&rate.name, 'B', row);
        }
        // a setting that stands nowhere on the Bid stands on Job
        for (id, row) in job::settings(doc) {
            cells.at.entry(doc.schema.field(id).name.clone()).or_insert_with(|| job::address(row));
        }
        for name in &plan.nothing {
            cells.at.entry((*name).to_owned()).or_insert_with(|| "0".to_owned());
        }
        for (name, sum) in plan.sums.iter().copied().chain(["material", "labor", "hours"].map(|s| (s, s))) {
            if let Some(cell) = cells.at.get(&format!("lines {sum}")).cloned() {
                cells.at.entry(name.to_owned()).or_insert(cell);
            }
        }
        if !doc.priced.has_prices {
            cells.find_blank(doc);
        }
        cells
    }

    fn put(&mut self, name: &str, column: char, row: u32) {
        self.at.insert(name.to_owned(), format!("{column}{row}"));
    }

    /// Without prices the sums are blank, and so is what is worked out from them.
    fn find_blank(&mut self, doc: &Document<'_>) {
        let sums = ["lines material", "lines labor"].map(|n| self.at.get(n).cloned());
        let of_sums: Vec<String> = self
            .at
            .iter()
            .filter(|(_, cell)| sums.iter().flatten().any(|s| s == *cell))
            .map(|(n, _)| n.clone())
            .collect();
        self.blank.extend(of_sums);
        loop {
            let before = self.blank.len();
            for JobFormula { name, template, .. } in doc.job_live {
                if names_in(template).any(|n| self.blank.contains(n)) {
                    self.blank.insert(name.clone());
                }
            }
            if self.blank.len() == before {
                return;
            }
        }
    }

    /// A figure's live formula with its names replaced by cells, and whether it is blank because one of them is;
    /// `None` where a name has no cell.
    #[must_use]
    pub fn live(&self, doc: &Document<'_>, name: &str) -> Option<(String, bool)> {
        let template = template(doc, name)?;
        let blank = names_in(template).any(|n| self.blank.contains(n));
        let mut out = String::new();
        let mut rest = template;
        while let Some(open) = rest.find('{') {
            let close = open + rest[open..].find('}')?;
            out.push_str(&rest[..open]);
            out.push_str(self.at.get(&rest[open + 1..close])?);
            rest = &rest[close + 1..];
        }
        out.push_str(rest);
        Some(if blank { (format!("IFERROR({out},\"\")"), true) } else { (out, false) })
    }

    /// Material and labor, added.
    #[must_use]
    pub fn direct(&self) -> String {
        let cell = |name| self.at.get(name).map_or("0", String::as_str);
        format!("{}+{}", cell("lines material"), cell("lines labor"))
    }
}

/// Whether an amount is whole cents.
#[must_use]
pub fn is_cents(value: &Number) -> bool {
    value.times(&Number::from(100)).ok().and_then(|n| n.exact_decimal()).is_some_and(|d| d.fract().is_zero())
}
