//! The left table of the Bid: money rows, the total, and what follows from it.

use super::bid::{LEFT, Page};
use super::blocks::{area, bid_rooms, saved};
use super::build_up::{BuildUp, Cells, Row, is_cents};
use super::edge;
use super::layout::LineColumn;
use super::lines::kind_word;
use super::shown::shown;
use super::text_of;
use super::values::write_live;
use crate::pricing::JobFigure;
use crate::program::{LineKind, Value};
use crate::workbook::palette as color;
use rust_xlsxwriter::{Format, FormatAlign, XlsxError};

impl Page<'_, '_> {
    /// Material, labor, the job's build-up, total, cost by area, hours, rooms, rates. Gives the next free row.
    pub(super) fn totals(&mut self, top: u32, plan: &BuildUp<'_>) -> Result<u32, XlsxError> {
        self.heads(top, LEFT, ["The bid", "", ""])?;
        let first = top + 1;
        let count = |n: usize| u32::try_from(n).unwrap_or(0);
        let after = first + count(plan.rows.len());
        let per_area = self.layout.root.as_ref().and_then(|root| area(&self.doc, root));
        let hours = after + u32::from(per_area.is_some());
        let grid = self.layout.root.as_ref().and_then(|root| saved(&self.doc, root));
        let sentence = hours + u32::from(grid.is_some()) + 2;
        let idle = sentence + u32::from(self.doc.priced.stopped > 0) + 2;
        let rates = if plan.idle.is_empty() { idle } else { idle + count(plan.idle.len()) + 2 };
        self.cells = Cells::new(&self.doc, plan, first, hours, idle, rates);
        for (row, what) in (first..).zip(&plan.rows) {
            match what {
                Row::Sum(kind, label) => self.sum(row, *kind, label)?,
                Row::Figure(figure) => self.figure(row, figure, plan)?,
                Row::Total => self.total(row)?,
            }
        }
        if let Some((column, unit, each)) = per_area {
            self.per_area(after, column, &unit, each)?;
        }
        self.hours(hours)?;
        if let Some(grid) = grid {
            self.row(hours + 1, &grid.label)?;
            let value = edge::text(grid.sum);
            let format = self.formats.quantity.clone().set_num_format(&grid.format);
            self.formula(hours + 1, 2, &grid.formula, &value, &format)?;
        }
        self.rooms_priced(sentence - 1)?;
        self.sentence(sentence)?;
        let end = if self.doc.priced.stopped > 0 { sentence + 1 } else { sentence };
        self.rate_blocks(end, idle, rates, plan)
    }

    pub(super) fn row(&mut self, row: u32, label: &str) -> Result<(), XlsxError> {
        self.sheet.write_string_with_format(row, 0, text_of(label), &self.formats.label)?;
        self.sheet.write_blank(row, 1, &self.formats.label)?;
        self.sheet.write_blank(row, 2, &self.formats.label)?;
        Ok(())
    }

    fn sum(&mut self, row: u32, kind: LineKind, label: &str) -> Result<(), XlsxError> {
        let cents = if kind == LineKind::Material { self.doc.priced.material } else { self.doc.priced.labor };
        let sum = self.layout.lines.sum(LineColumn::Cost, Some(kind_word(kind)));
        let (formula, value) = (self.cost_formula(sum), self.cents(cents));
        self.row(row, label)?;
        let money = self.formats.money.clone();
        self.formula(row, 2, &formula, &value, &money)
    }

    /// A figure of the build-up with its rate, if one stands beside it.
    fn figure(&mut self, row: u32, figure: &JobFigure, plan: &BuildUp<'_>) -> Result<(), XlsxError> {
        let how = shown(self.doc.schema.field(figure.field), None);
        let label = plan.label(figure);
        let plain = how.unit.is_empty() || how.unit.starts_with('$');
        self.row(row, &if plain { label } else { format!("{label} ({})", how.unit) })?;
        if let Some(rate) = plan.beside.get(figure.name.as_str()) {
            self.rate(row, rate)?;
        }
        self.value(row, 2, figure)
    }

    /// A figure's value, live where its formula can be.
    fn value(&mut self, row: u32, at: u16, figure: &JobFigure) -> Result<(), XlsxError> {
        let how = shown(self.doc.schema.field(figure.field), None);
        let format = self.formats.money.clone().set_num_format(&how.format);
        let live = self.cells.live(&self.doc, &figure.name);
        match (&figure.value, live) {
            (_, Some((formula, true))) => return self.formula(row, at, &formula, "", &format),
            (Ok(Value::Number(number)), live) => {
                let Ok(number) = number.scaled(how.factor.recip()) else {
                    self.sheet.write_string_with_format(row, at, edge::TOO_LARGE, &self.styles.fault)?;
                    return Ok(());
                };
                let number = edge::number(&number);
                match live {
                    Some((formula, _)) => {
                        let value = edge::text(number);
                        return self.formula(row, at, &formula, &value, &format);
                    }
                    None => self.sheet.write_number_with_format(row, at, number, &format)?,
                }
            }
            (Ok(Value::Text(text)), _) => {
                self.sheet.write_string_with_format(row, at, text_of(text), &self.formats.word)?
            }
            (Ok(Value::YesNo(yes)), _) => {
                let word = if *yes { "yes" } else { "no" };
                self.sheet.write_string_with_format(row, at, word, &self.formats.word)?
            }
            (Ok(Value::Date(date)), _) => self.sheet.write_number_with_format(row, at, edge::date(*date), &format)?,
            (Err(why), _) => {
                self.sheet.write_string_with_format(row, at, text_of(why), &self.styles.fault)?;
                self.sheet.insert_note(row, at, &super::styles::note(why))?
            }
        };
        Ok(())
    }

    /// A rate, which people may change.
    /// A number that was read, as a cell to type in; nothing for what is none.
    fn typed(&mut self, row: u32, figure: &JobFigure) -> Option<Result<(), XlsxError>> {
        let Ok(Value::Number(number)) = &figure.value else { return None };
        let how = shown(self.doc.schema.field(figure.field), None);
        let number = number.scaled(how.factor.recip()).ok()?;
        let format = self.formats.rate.clone().set_num_format(&how.format);
        Some(self.sheet.write_number_with_format(row, 1, edge::number(&number), &format).map(|_| ()))
    }

    fn rate(&mut self, row: u32, rate: &JobFigure) -> Result<(), XlsxError> {
        if let Ok(Value::Number(number)) = &rate.value {
            let format = self.formats.rate.clone();
            self.sheet.write_number_with_format(row, 1, edge::number(number), &format)?;
        }
        Ok(())
    }

    fn total(&mut self, row: u32) -> Result<(), XlsxError> {
        let priced = self.doc.priced;
        self.total_row = row;
        self.sheet.set_row_height(row, 22)?;
        let (label, grand) = (self.formats.grand_label.clone(), self.formats.grand.clone());
        self.sheet.write_string_with_format(row, 0, "Total", &label)?;
        self.sheet.write_blank(row, 1, &label)?;
        if priced.stopped > 0 {
            self.sheet.merge_range(row, 1, row, 2, "INCOMPLETE", &self.formats.incomplete)?;
            return Ok(());
        }
        let own = priced.job.iter().find(|f| f.name == "total");
        let sum = priced.material.checked_add(priced.labor);
        let formula = match own {
            Some(total) => self.cells.live(&self.doc, "total").map(|(formula, _)| match &total.value {
                Ok(Value::Number(n)) if !is_cents(n) && !formula.starts_with("ROUND(") => {
                    format!("ROUND(ROUND({formula},8),2)")
                }
                _ => formula,
            }),
            None if sum == priced.total || priced.total.is_none() => Some(self.cells.direct()),
            None => None,
        };
        match (formula, priced.total) {
            (Some(formula), total) => {
                let value = total.map_or_else(String::new, |t| self.cents(t));
                let direct = self.cells.direct().replace('+', ",");
                let formula = if priced.has_prices { formula } else { format!("IF(COUNT({direct})=0,\"\",{formula})") };
                self.formula(row, 2, &formula, &value, &grand)
            }
            (None, Some(total)) => {
                self.sheet.write_number_with_format(row, 2, edge::cents(total), &grand)?;
                let small = label.set_font_size(8).unset_bold();
                self.sheet.write_string_with_format(row, 1, "not live", &small)?;
                Ok(())
            }
            (None, None) => {
                self.sheet.write_blank(row, 2, &grand)?;
                Ok(())
            }
        }
    }

    fn per_area(&mut self, row: u32, column: u16, unit: &str, each: f64) -> Result<(), XlsxError> {
        self.row(row, &format!("Cost per {unit}"))?;
        let Some(root) = self.layout.root.as_ref().filter(|_| self.doc.priced.stopped == 0) else { return Ok(()) };
        let (total, range, format) = (self.total_row + 1, root.range(column), self.formats.each.clone());
        let mut value = String::new();
        if self.doc.priced.total.is_some() {
            edge::float_text(&mut value, each);
        }
        let sum = bid_rooms(&self.doc, root, &range);
        let formula = format!("IF(OR(C{total}=\"\",{sum}=0),\"\",C{total}/{sum})");
        self.formula(row, 2, &formula, &value, &format)
    }

    fn hours(&mut self, row: u32) -> Result<(), XlsxError> {
        self.row(row, "Labor hours")?;
        let value = edge::text(self.doc.priced.hours.as_ref().map_or(0.0, edge::number));
        let (formula, format) = (self.layout.lines.hours(), self.formats.quantity.clone());
        self.formula(row, 2, &formula, &value, &format)
    }

    /// What the rows are called, as a label begins.
    fn rows_word(&self) -> String {
        let name = self.layout.root.as_ref().map_or("rows", |r| self.doc.schema.kind(r.kind).name.as_str());
        let mut letters = name.replace('_', " ").chars().collect::<Vec<_>>();
        letters.first_mut().into_iter().for_each(|c| *c = c.to_ascii_uppercase());
        letters.into_iter().collect()
    }

    fn rooms_priced(&mut self, row: u32) -> Result<(), XlsxError> {
        let rooms = self.layout.root.as_ref().map_or(0, |r| r.rows);
        self.row(row, &format!("{} priced", self.rows_word()))?;
        let kept = format!("{} of {rooms}", (rooms as usize).saturating_sub(self.doc.priced.stopped));
        self.sheet.write_string_with_format(row, 2, kept, &self.formats.word)?;
        Ok(())
    }

    /// Why there is no total.
    fn sentence(&mut self, row: u32) -> Result<(), XlsxError> {
        let (rows, them) = match self.doc.priced.stopped {
            0 => return Ok(()),
            1 => ("1 row is".to_owned(), "it is"),
            n => (format!("{n} rows are"), "they are"),
        };
        let text = format!("{rows} stopped, so there is no total until {them} dealt with: see Checks.");
        let format = Format::new().set_bold().set_text_wrap().set_align(FormatAlign::Top).set_font_color(color::STOP);
        self.sheet.set_row_height(row, 32)?;
        self.sheet.merge_range(row, 0, row, 2, &text, &format)?;
        Ok(())
    }

    /// Rates at zero with the amounts that they would add, then rates and settings that no one amount owns.
    fn rate_blocks(&mut self, end: u32, idle: u32, rates: u32, plan: &BuildUp<'_>) -> Result<u32, XlsxError> {
        let mut end = end;
        if !plan.idle.is_empty() {
            self.heads(idle - 1, LEFT, ["Not in this bid", "Rate", "Would add"])?;
            for (row, (amount, rate)) in (idle..).zip(&plan.idle) {
                self.row(row, &amount.label)?;
                self.rate(row, rate)?;
                self.value(row, 2, amount)?;
                end = row + 1;
            }
        }
        if !plan.rates.is_empty() {
            self.heads(rates - 1, LEFT, ["Rates and settings", "", ""])?;
            for (row, (rate, unused)) in (rates..).zip(&plan.rates) {
                let how = shown(self.doc.schema.field(rate.field), None);
                let plain = how.unit.is_empty() || how.unit.starts_with('$');
                self.row(row, &if plain { rate.label.clone() } else { format!("{} ({})", rate.label, how.unit) })?;
                match self.typed(row, rate) {
                    Some(done) => done?,
                    None => self.value(row, 1, rate)?,
                }
                if *unused {
                    self.sheet.write_string_with_format(row, 2, "not used", &self.formats.word)?;
                }
                end = row + 1;
            }
        }
        Ok(end)
    }

    pub(super) fn formula(
        &mut self,
        row: u32,
        at: u16,
        formula: &str,
        value: &str,
        format: &Format,
    ) -> Result<(), XlsxError> {
        write_live(self.sheet, &self.doc.limits, (row, at), (formula, value), Some(format))
    }

    /// A sum of line costs: live, and nothing while no line has a cost.
    pub(super) fn cost_formula(&self, sum: String) -> String {
        if self.doc.priced.has_prices {
            return sum;
        }
        let counts =
            self.layout.lines.over_sheets(|s| format!("COUNT({})", self.layout.lines.range(s, LineColumn::Cost)));
        format!("IF({counts}=0,\"\",{sum})")
    }

    pub(super) fn cents(&self, value: i64) -> String {
        let mut text = String::new();
        if self.doc.priced.has_prices {
            edge::cents_text(&mut text, value);
        }
        text
    }
}
