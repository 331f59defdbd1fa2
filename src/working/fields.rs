//! Fields: formulas, cells and what stands for a blank one, options, checks.

use super::calls::{At, Depth};
use super::say::quoted;
use super::tell::{RowOf, Seen, Teller};
use super::{Sort, Told};
use crate::engine::Origin;
use crate::engine::examples::value_at;
use crate::engine::run::input_fields;
use crate::pricing::Trial;
use crate::pricing::options::{cost_of, hours_of, standing, why_not};
use crate::program::{FieldId, Input, MessagePart, Options, Outcome, Value};
use crate::quantity::show::{Style, decimal_text, show};
use crate::quantity::{Decimal, Dimension, Number};
use crate::source::Place;
use crate::workbook::headings::one_line;
use crate::workbook::rows::cell_text;
use std::sync::Arc;

impl Teller<'_> {
    /// A field as a part of another figure's telling: followed no further where the way of a fault does not lead.
    pub fn field_below(&mut self, field: FieldId, row: usize, depth: Depth) -> Told {
        let worked_out = self.run().columns[field.0 as usize].is_some();
        let value = worked_out.then(|| value_at(self.engine(), field, row));
        if self.on_the_way(value.as_ref()) {
            return self.field(field, row, depth);
        }
        let f = self.schema().field(field);
        if f.input.is_some() {
            return self.cell(field, row);
        }
        let mut told = self.headed(Sort::Formula, field, row);
        told.place = Some(Place::Book { text: Arc::clone(&f.text), span: f.span });
        told
    }

    /// What a field is called, its row and its value.
    fn headed(&self, sort: Sort, field: FieldId, row: usize) -> Told {
        let f = self.schema().field(field);
        let mut told = Told::new(sort, &f.name, &f.label);
        told.of = self.other_row((f.kind, row));
        let worked_out = self.run().columns[field.0 as usize].is_some();
        let value = worked_out.then(|| value_at(self.engine(), field, row)).map(|value| match value {
            Ok(Value::Text(text)) => Ok(Value::Text(self.schema().in_words(field, &text).into())),
            other => other,
        });
        self.valued(&mut told, value, f.ty, &f.style);
        told
    }

    /// How a field of a row came about.
    pub fn field(&mut self, field: FieldId, row: usize, depth: Depth) -> Told {
        let schema = self.schema();
        if let Some(options) = schema.options.as_ref().filter(|o| o.field == field) {
            return self.options(options, row);
        }
        if schema.field(field).input.is_some() {
            return self.cell(field, row);
        }
        let f = schema.field(field);
        let mut told = self.headed(Sort::Formula, field, row);
        let Some((text, formula)) = self.program.formula(field) else { return told };
        told = told.in_book(text, formula.name.span);
        if !self.seen.insert(Seen::Field(field, row)) {
            told.again = true;
            return told;
        }
        told.note.clone_from(&f.note);
        told.source.clone_from(&f.source);
        told.instead_of = self.instead_of(text, formula.name.span);
        self.explain(&mut told, &formula.body, &At::of(text, (f.kind, row)), depth);
        told
    }

    /// A cell, or what stands for it.
    pub fn cell(&mut self, field: FieldId, row: usize) -> Told {
        let schema = self.schema();
        let f = schema.field(field);
        let mut told = self.headed(Sort::Cell, field, row);
        let table = self.inputs().tables.iter().find(|t| t.kind == f.kind);
        let at = input_fields(self.program, f.kind).iter().position(|x| *x == field);
        let (Some(table), Some(input)) = (table, &f.input) else { return told };
        told.instead_of = self.instead_of(&f.text, f.span);
        let origin = &table.origin;
        let column = origin.columns.iter().find(|c| c.field.is_some() && c.field == at);
        let raw = column.and_then(|c| c.cells.get(if origin.heading_row == Origin::LIST { 0 } else { row }));
        let typed = raw.map(|raw| one_line(&cell_text(*raw, &self.inputs().texts))).filter(|t| !t.is_empty());
        match (column, typed) {
            (Some(column), Some(typed)) => {
                told.place = Some(Place::Cell(origin.cell(row, at)));
                // a bare number took the unit of its heading; what has its marks says all by itself
                let plain = typed.parse::<Decimal>().is_ok() && told.value.as_deref() != Some(typed.as_str());
                if told.value.is_none() || plain {
                    told.says.push(format!("typed {typed} under \"{}\"", column.heading));
                }
            }
            (Some(_), None) => {
                told.place = Some(Place::Cell(origin.cell(row, at)));
                told.says.push(self.for_blank(input, "blank there"));
            }
            (None, _) => {
                told.place = Some(Place::Book { text: Arc::clone(&f.text), span: f.span });
                let heading = input.headings.first().map_or(f.label.as_str(), String::as_str);
                let sheet = if origin.sheet.is_empty() { &origin.file } else { &origin.sheet };
                let lacks = match schema.kind(f.kind).single {
                    true => format!("no line \"{heading}\" on {sheet}"),
                    false => format!("no column \"{heading}\" on {sheet}"),
                };
                told.says.push(self.for_blank(input, &lacks));
            }
        }
        told.note.clone_from(&f.note);
        told.source.clone_from(&f.source);
        if self.fault_of(field, row).is_some_and(|fault| self.is_optional_blank(field, fault)) {
            (told.state, told.faulty) = (Some("blank"), false);
        }
        told.again = !self.seen.insert(Seen::Field(field, row));
        told
    }

    /// What a blank cell stands for, in words.
    fn for_blank(&self, input: &Input, lacks: &str) -> String {
        match (&input.default, &input.stock_of) {
            (Some(_), Some(code)) if self.is_stock(input, code) => {
                format!("{lacks}: the longest stock of {code} in the price book serves")
            }
            (Some(_), _) => format!("{lacks}: the rule's own value serves"),
            (None, _) if input.may_be_blank => lacks.to_owned(),
            (None, _) => format!("{lacks}, and there must be a value"),
        }
    }

    /// Whether a field's default is a stock length of the price book.
    fn is_stock(&self, input: &Input, code: &str) -> bool {
        let Some(Value::Number(mm)) = &input.default else { return false };
        let same = |r: &crate::pricing::PriceRow| r.code.eq_ignore_ascii_case(code) && r.stock_length == Some(*mm);
        self.book().is_some_and(|book| book.prices.iter().any(same))
    }

    /// The option that a row stands under, beside the others.
    fn options(&mut self, options: &Options, row: usize) -> Told {
        let schema = self.schema();
        let mut told = self.headed(Sort::Options, options.field, row);
        let stated = self.program.options_line(options);
        if let Some((text, line)) = stated {
            told = told.in_book(text, line.name.span);
        }
        if !self.seen.insert(Seen::Field(options.field, row)) {
            told.again = true;
            return told;
        }
        if let Some((text, line)) = stated {
            told.note.clone_from(&line.note);
            told.source.clone_from(&line.source);
            told.instead_of = self.instead_of(text, line.name.span);
        }
        let Some(compared) = self.priced().compared.get(row) else { return told };
        let named = options.named_by.filter(|_| compared.named);
        told.says.push(match named {
            Some(field) => format!("the row names it, in {}", schema.field(field).label),
            None if !self.priced().has_prices => "without prices, the first whose checks hold".to_owned(),
            None => "the cheapest whose checks hold; of equals the first".to_owned(),
        });
        if let Some(field) = named {
            let cell = self.cell(field, row);
            told.parts.push(cell);
        }
        for (at, choice) in options.choices.iter().enumerate() {
            let mut one = Told::new(Sort::Option, &choice.name, &choice.label);
            one.value = cost_of(self.priced(), row, at).map(dollars);
            let mut words = vec![standing(compared, at).to_owned()];
            words.extend(hours_of(self.priced(), row, at).map(|h| format!("{} hr", decimal_text(&h, 2).text)));
            let when = match (&compared.tried[at].trial, stated) {
                (Trial::NotAllowed(None), Some((text, line))) => {
                    let when = line.options.get(at).and_then(|o| o.when.as_ref());
                    when.map(|when| format!("it may be taken only when {}", quoted(when, text)))
                }
                _ => None,
            };
            let why = when.unwrap_or_else(|| why_not(schema, self.priced(), row, at));
            words.extend((!why.is_empty()).then_some(why));
            one.says.push(words.join("; "));
            told.parts.push(one);
        }
        told
    }

    /// Whether a check holds for a row, and why.
    pub fn check(&mut self, check: usize, row: usize, depth: Depth) -> Told {
        let schema = self.schema();
        let check = &schema.checks[check];
        let mut told = Told::new(Sort::Check, &check.name, &format!("Check {}", check.name.replace('_', " ")));
        let holds = self.run().columns[check.holds.0 as usize].is_some().then(|| self.run().yes_no(check.holds, row));
        match holds {
            Some(Ok(true)) => told.state = Some("holds"),
            Some(Ok(false)) => {
                told.state = Some("does not hold");
                let outcome = match check.outcome {
                    Outcome::Stops => "stops the row",
                    Outcome::Warns => "warns",
                    Outcome::Notes => "notes",
                };
                told.says.push(format!("{outcome}: {}", self.message(&check.message, (check.kind, row))));
            }
            Some(Err(_)) => told.faulty = true,
            None => {}
        }
        told.source.clone_from(&check.source);
        if let Some((text, line)) = self.program.check_line(check) {
            told = told.in_book(text, line.name.span);
            told.instead_of = self.instead_of(text, line.name.span);
            self.explain(&mut told, &line.condition, &At::of(text, (check.kind, row)), depth);
        }
        told
    }

    fn message(&self, parts: &[MessagePart], of: RowOf) -> String {
        let each = parts.iter().map(|part| match part {
            MessagePart::Words(words) => words.clone(),
            MessagePart::Value(field) => {
                let at = self.steps.row_for(*field, of);
                let text = crate::engine::names::value_text(self.schema(), self.run(), *field, at);
                text.map_or_else(|| "(not known)".to_owned(), |t| t.to_string())
            }
        });
        each.collect()
    }
}

/// Cents as money.
pub(super) fn dollars(cents: i64) -> String {
    money(&Number::from(Decimal::new(cents, 2)))
}

/// Money as people read it.
pub(super) fn money(amount: &Number) -> String {
    show(amount, Dimension::MONEY, &Style::default()).text
}
