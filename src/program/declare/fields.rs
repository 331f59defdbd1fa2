//! Input fields: their types, clauses, limits and defaults.

use super::{Declarations, Stand, plain_words};
use crate::notation::tree::{Expr, FieldClause, FieldLine, TypeName};
use crate::problem::nearest::nearest;
use crate::program::emit::Here;
use crate::program::literals::{example_of, literal_value};
use crate::program::native::LENGTH;
use crate::program::node::Cause;
use crate::program::schema::{FieldId, Input, KindId, Type, Value};
use crate::program::types::{TYPES, read_type};
use crate::quantity::Unit;
use crate::source::{Span, Text};
use std::sync::Arc;

impl Declarations {
    /// A type by its name; an unknown one is a problem.
    pub fn type_of(&mut self, text: &Arc<Text>, name: &TypeName) -> Option<(Type, Option<Unit>)> {
        let read = read_type(&name.text);
        if read.is_err() {
            let near = nearest(&name.text, TYPES.iter().map(|t| t.0))
                .unwrap_or("a type such as length, area, count, text, money or $/ft");
            self.problem(text, name.span, "unknown type", format!("'{}' is not a type.", name.text), near.to_owned());
        }
        read.ok()
    }

    pub(super) fn input_field(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &FieldLine) {
        let Some((ty, unit)) = self.type_of(text, &line.ty) else {
            self.unread.insert(line.name.name.clone());
            return;
        };
        if let Type::Thing(_) = ty {
            self.unread.insert(line.name.name.clone());
            let what = format!(
                "{} is worked out; it cannot be read from a cell.",
                crate::program::operators::capital(&ty.words())
            );
            return self.problem(text, line.ty.span, "wrong type", what, "a formula in a block 'for'".to_owned());
        }
        let unit = unit.unwrap_or_else(|| Unit::kept(ty.dimension().unwrap_or_default()));
        let name = &line.name.name;
        let id = match self.by_name[kind.0 as usize].get(name).copied() {
            Some(id) if self.field_layers.get(&id) == Some(&layer) => {
                let what = format!("'{name}' is declared twice.");
                return self.problem(
                    text,
                    line.name.span,
                    "name already used",
                    what,
                    "another name, or take one of them out".to_owned(),
                );
            }
            Some(id) if self.schema.field(id).ty != ty => {
                let what = format!(
                    "'{name}' is {} in a lower book and {} here.",
                    self.schema.field(id).ty.words(),
                    ty.words()
                );
                return self.problem(
                    text,
                    line.ty.span,
                    "type changed",
                    what,
                    "the same type as in the lower book".to_owned(),
                );
            }
            Some(id) => {
                let lower = self.field_layers.get(&id).copied().unwrap_or_default();
                let field = self.schema.field(id);
                let old = Stand { layer: lower, text: Arc::clone(&field.text), span: field.span };
                let now = Stand { layer, text: Arc::clone(text), span: line.span };
                let what = format!("column {name} of {}", self.schema.kind(kind).name);
                self.note_replaced(&what, old, now);
                id
            }
            None => self.add_field(kind, name, ty, unit, text, line.span),
        };
        self.field_layers.insert(id, layer);
        let here = Here { kind, text: Arc::clone(text), span: line.span };
        let mut input = Input {
            headings: Vec::new(),
            may_be_blank: false,
            default: None,
            stock_of: None,
            low: None,
            high: None,
            one_of: Vec::new(),
            missing: self.emit.site(&here, Cause::Missing(id)),
            unreadable: self.emit.site(&here, Cause::Unreadable(id)),
        };
        for clause in &line.clauses {
            self.field_clause(text, id, &mut input, clause);
        }
        if line.clauses.iter().any(|c| matches!(c, FieldClause::Key)) {
            self.key_of(text, layer, id, line);
        }
        let own = plain_words(name);
        let label = input.headings.first().cloned().unwrap_or_else(|| own.clone());
        input.headings.push(own);
        if let Some(Value::Text(t)) = &input.default
            && !input.one_of.is_empty()
            && !input.one_of.iter().any(|m| m.eq_ignore_ascii_case(t))
        {
            let what = format!("'{t}' is not one of {}.", input.one_of.join(" "));
            self.problem(text, line.span, "not in the list", what, "one of the words of the list".to_owned());
        }
        self.within_limits(text, line, &input);
        let field = &mut self.schema.fields[id.0 as usize];
        field.label = label;
        field.input = Some(input);
        field.text = Arc::clone(text);
        field.span = line.span;
    }

    /// Takes a column as what rows are called by, once in a book.
    fn key_of(&mut self, text: &Arc<Text>, layer: usize, id: FieldId, line: &FieldLine) {
        let kind = self.schema.field(id).kind;
        let before = self.schema.kind(kind).key.filter(|k| *k != id && self.field_layers.get(k) == Some(&layer));
        let Some(before) = before else {
            self.schema.kinds[kind.0 as usize].key = Some(id);
            return;
        };
        let field = self.schema.field(before);
        let (rows, known) = (&self.schema.kind(kind).name, &field.name);
        let there = text.line(field.span.start as usize);
        let what = format!("A column of {rows} is their key already: {known}, in line {there}.");
        let fix = format!("the word key with one of the two, {known} or {}", line.name.name);
        self.problem(text, line.name.span, "two keys", what, fix);
    }

    /// Refuses limits between which nothing lies, and a value for blank cells that the column would refuse in a cell.
    fn within_limits(&mut self, text: &Arc<Text>, line: &FieldLine, input: &Input) {
        let written = |e: &Expr| text.text.get(e.span.range()).unwrap_or("").to_owned();
        let limit = |lower: bool| {
            line.clauses.iter().rev().find_map(|c| match c {
                FieldClause::Limit { low, value, inclusive } if *low == lower => Some((value, *inclusive)),
                _ => None,
            })
        };
        let (least, most) = (limit(true), limit(false));
        if let (Some((low, _)), Some((high, _)), Some(least), Some(most)) = (&input.low, &input.high, least, most)
            && (low > high || (low == high && !(least.1 && most.1)))
        {
            let (least, above) = (least.0, if least.1 { "from" } else { "above" });
            let (most, below) = (most.0, if most.1 { "to" } else { "below" });
            let what = format!("No value is {above} {} {below} {}.", written(least), written(most));
            let fix = match low > high {
                true => format!("{above} {} {below} {}", written(most), written(least)),
                false => "two limits with room between them".to_owned(),
            };
            return self.problem(text, least.span.to(most.span), "nothing within limits", what, fix);
        }
        let (least, most) = (least.map(|l| l.0), most.map(|m| m.0));
        let Some(Value::Number(n)) = &input.default else { return };
        let under = input.low.is_some_and(|(low, reached)| *n < low || (*n == low && !reached));
        let over = input.high.is_some_and(|(high, reached)| *n > high || (*n == high && !reached));
        let default = line.clauses.iter().find_map(|c| match c {
            FieldClause::Otherwise(value) => Some(value),
            _ => None,
        });
        let Some(default) = default.filter(|_| under || over) else { return };
        let (bound, word) = if under { (least, "below") } else { (most, "above") };
        let bound = bound.map(written).unwrap_or_default();
        let reached = if under { input.low } else { input.high }.is_some_and(|(_, reached)| reached);
        let what = match reached {
            true => format!("A blank cell would be {}, which is {word} {bound}.", written(default)),
            false => format!("A blank cell would be {}, which the column refuses in a cell.", written(default)),
        };
        let fix = if reached { format!("otherwise {bound}") } else { "a value within the limits".to_owned() };
        self.problem(text, default.span, "blank outside limits", what, fix);
    }

    fn field_clause(&mut self, text: &Arc<Text>, id: FieldId, input: &mut Input, clause: &FieldClause) {
        let ty = self.schema.field(id).ty;
        match clause {
            FieldClause::Heading(headings) => input.headings.extend(headings.iter().cloned()),
            // settled where the whole column is known
            FieldClause::Key => {}
            FieldClause::Limit { low, value, inclusive } => {
                if let Some(Value::Number(n)) = self.value_for(text, value, id) {
                    *(if *low { &mut input.low } else { &mut input.high }) = Some((n, *inclusive));
                }
            }
            FieldClause::OneOf(members) if ty == Type::Text => {
                input.one_of.extend(members.iter().map(|m| m.name.clone()))
            }
            FieldClause::OneOf(members) => {
                let what = format!("Only a text can be one of a list of words; this is {}.", ty.words());
                let span = members.first().map_or(Span::default(), |m| m.span);
                self.problem(text, span, "wrong type", what, "from 1 to 3, or the type text".to_owned());
            }
            FieldClause::MayBeBlank => input.may_be_blank = true,
            FieldClause::StockOf(code, _) if ty == LENGTH => input.stock_of = Some(code.clone()),
            FieldClause::StockOf(_, span) => {
                let what = format!("A stock length is a length; this is {}.", ty.words());
                self.problem(text, *span, "wrong type", what, "the type length".to_owned());
            }
            FieldClause::Otherwise(value) => input.default = self.value_for(text, value, id),
            FieldClause::Shown(shown) => self.shown(text, id, shown),
            FieldClause::Source(s) => self.schema.fields[id.0 as usize].source = Some(s.clone()),
            FieldClause::Accepted(_) => {}
            FieldClause::Note(n) => self.schema.fields[id.0 as usize].note = Some(n.clone()),
        }
    }

    /// How a field is shown.
    pub fn shown(&mut self, text: &Arc<Text>, id: FieldId, shown: &crate::notation::tree::Shown) {
        use crate::notation::tree::Shown;
        let ty = self.schema.field(id).ty;
        match shown {
            Shown::To(step) => {
                if let Some(Value::Number(step)) = self.value_of(text, step, ty)
                    && !step.is_zero()
                {
                    self.schema.fields[id.0 as usize].style.step = Some(step);
                }
            }
            Shown::In(name, span) => match Unit::read(name) {
                Ok(unit) if Some(unit.dimension) == ty.dimension() => {
                    self.schema.fields[id.0 as usize].style.unit = Some((name.clone(), unit));
                }
                Ok(unit) => {
                    let what = format!(
                        "This is {}; it cannot be shown in {name}, which is {}.",
                        ty.words(),
                        unit.dimension.words()
                    );
                    self.problem(text, *span, "wrong unit", what, "a unit of the same kind".to_owned());
                }
                Err(part) => self.problem(
                    text,
                    *span,
                    "unknown unit",
                    format!("'{part}' is not a unit."),
                    "a unit such as in, ft, sf or psf".to_owned(),
                ),
            },
        }
    }

    /// A literal as a value of a field, in base units, that fits the field's own unit as well.
    fn value_for(&mut self, text: &Arc<Text>, expr: &Expr, id: FieldId) -> Option<Value> {
        let (ty, unit) = (self.schema.field(id).ty, self.schema.field(id).unit);
        let value = self.value_of(text, expr, ty)?;
        if matches!(&value, Value::Number(n) if n.scaled(unit.factor.recip()).is_err()) {
            let what = "This number is too large to be worked with.".to_owned();
            self.problem(text, expr.span, "number too large", what, example_of(ty).to_owned());
            return None;
        }
        Some(value)
    }

    /// A literal as a value of a type, in base units; a wrong one is a problem.
    pub fn value_of(&mut self, text: &Arc<Text>, expr: &Expr, ty: Type) -> Option<Value> {
        match literal_value(expr, ty) {
            Ok(value) => Some(value),
            Err(found) => {
                let what = format!("This is {found}; {} is needed.", ty.words());
                self.problem(text, expr.span, "wrong type", what, example_of(ty).to_owned());
                None
            }
        }
    }
}
