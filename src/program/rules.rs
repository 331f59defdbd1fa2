//! Checks, items, labor and examples: their expressions become hidden columns.

use super::declare::Declared;
use super::literals::{example_of, literal_value};
use super::native::{self, NativeArgument, Pieces};
use super::node::{Cause, Op, Phase};
use super::resolve::{Resolver, Scope};
use super::schema::{Check, Cited, FieldId, Item, KindId, LineKind, MessagePart, Need, Type, Value, beyond};
use crate::notation::parse::read_expression_at;
use crate::notation::tree::{Example, Expr, ItemLine, Literal, NeedClause, Node, Upper};
use crate::problem::nearest::nearest;
use crate::quantity::{Dimension, Number};
use crate::source::{Span, Text};
use std::sync::Arc;

/// An example, ready to run.
#[derive(Clone, Debug)]
pub struct ExampleProgram {
    /// Its name.
    pub name: String,
    /// Rows: kind, and values of its input fields.
    pub rows: Vec<(KindId, Vec<(FieldId, Value)>)>,
    /// What it should show.
    pub shows: Vec<Shows>,
    /// The book.
    pub text: Arc<Text>,
    /// Its first line.
    pub span: Span,
}

/// One thing that an example should show.
#[derive(Clone, Debug)]
pub struct Shows {
    /// The column.
    pub field: FieldId,
    /// As written.
    pub label: String,
    /// What it should be, in base units.
    pub expected: Value,
    /// Where.
    pub span: Span,
}

impl Resolver {
    fn scope_of(&self, kind: KindId, text: &Arc<Text>) -> Scope {
        Scope { kind, text: Arc::clone(text), locals: None, quiet: false }
    }

    /// Every check.
    pub fn all_checks(&mut self) {
        for ((kind, name), declared) in self.d.checks.clone() {
            let check = &declared.what;
            let scope = self.scope_of(kind, &declared.text);
            let condition = self.yes_no(&scope, &check.condition);
            let mut message = Vec::new();
            for span in &check.message {
                if !message.is_empty() {
                    message.push(MessagePart::Words(" ".to_owned()));
                }
                message.extend(self.message(&scope, *span));
            }
            if message.is_empty() {
                let words = declared.text.text.get(check.condition.span.range()).unwrap_or("").trim().to_owned();
                message.push(MessagePart::Words(format!(
                    "{} does not hold: {words}.",
                    super::declare::plain_words(&name)
                )));
            }
            if let Some(reg) = condition {
                let holds = self.hidden_field(kind, reg, &declared.text, check.condition.span);
                if kind != self.d.job && self.d.emit.node(reg).phase == Phase::Priced {
                    self.depends_on_lines(&declared.text, check.span, &format!("check {name}"));
                }
                self.d.schema.checks.push(Check {
                    name,
                    kind,
                    holds,
                    outcome: check.outcome,
                    message,
                    source: check.source.clone(),
                    text: Arc::clone(&declared.text),
                    span: check.span,
                });
            }
        }
    }

    /// The parts of a message: words, and values in braces.
    fn message(&mut self, scope: &Scope, span: Span) -> Vec<MessagePart> {
        let whole = scope.text.text.get(span.range()).unwrap_or("");
        let (open, close) = (span.start as usize + 1, span.end as usize - usize::from(whole.ends_with('"')));
        let inner = scope.text.text.get(open..close).unwrap_or("").to_owned();
        let mut parts = Vec::new();
        let mut at = 0;
        while let Some(start) = inner[at..].find('{').map(|i| at + i) {
            let Some(end) = inner[start..].find('}').map(|i| start + i) else {
                let what = "This brace is not closed.".to_owned();
                let place = Span::new(open + start, open + start + 1);
                self.d.problem(
                    &scope.text,
                    place,
                    "message not understood",
                    what,
                    "{name} with both braces".to_owned(),
                );
                break;
            };
            parts.push(MessagePart::Words(crate::notation::reader::unquote(&format!("\"{}\"", &inner[at..start]))));
            match read_expression_at(&scope.text, &(open + start + 1..open + end)) {
                Ok(expr) => {
                    if let Some(reg) = self.expr(scope, &expr) {
                        let id = self.hidden_field(scope.kind, reg, &scope.text, expr.span);
                        parts.push(MessagePart::Value(id));
                    }
                }
                Err(problems) => self.d.problems.extend(problems),
            }
            at = end + 1;
        }
        parts.push(MessagePart::Words(crate::notation::reader::unquote(&format!("\"{}\"", &inner[at..]))));
        parts.retain(|p| !matches!(p, MessagePart::Words(w) if w.is_empty()));
        parts
    }

    pub(super) fn depends_on_lines(&mut self, text: &Arc<Text>, span: Span, name: &str) {
        let what = format!("'{name}' depends on priced lines, which are made from it.");
        self.d.problem(
            text,
            span,
            "depends on its own price",
            what,
            "work it out in 'for job', or from the rows alone".to_owned(),
        );
    }

    /// Every item and labor.
    pub fn all_items(&mut self) {
        for ((kind, name), declared) in self.d.items.clone() {
            let scope = self.scope_of(kind, &declared.text);
            let item = &declared.what;
            let code = match &item.code {
                Some(code) => self.text_column(&scope, code),
                None => {
                    let (word, what) =
                        if item.what == LineKind::Labor { ("labor", "work") } else { ("item", "material") };
                    let say = format!("The {word} {name} has no code, by which the price book knows the {what}.");
                    self.refuse(&scope, item.name.span, "item without a code", say, "code \"…\"");
                    None
                }
            };
            let need = self.need(&scope, item);
            let waste = self.percent_column(&scope, item.waste.as_ref());
            let rate = self.rate_column(&scope, item, need);
            let working = self.working_columns(&scope, item);
            let when = match &item.when {
                Some(e) => self.yes_no(&scope, e).map(|r| Some(self.hidden_field(kind, r, &scope.text, e.span))),
                None => Some(None),
            };
            let splice = self.splice(&scope, item, need);
            let (Some(code), Some(need), Some(waste), Some(rate), Some(when)) = (code, need, waste, rate, when) else {
                continue;
            };
            let (Some(splice), Some([factor, height, difficulty])) = (splice, working) else { continue };
            let columns = [Some(code), waste, rate, factor, height, difficulty, when]
                .into_iter()
                .flatten()
                .chain(need_columns(need));
            let after = columns.filter_map(|f| self.node_of(f)).any(|r| self.d.emit.node(r).phase == Phase::Priced);
            if after {
                self.depends_on_lines(&declared.text, item.span, &name);
                continue;
            }
            self.d.schema.items.push(Item {
                label: item.label.clone().unwrap_or_else(|| super::declare::plain_words(&name)),
                name,
                what: item.what,
                kind,
                when,
                code,
                need,
                waste,
                rate,
                factor,
                height,
                difficulty,
                splice,
                source: item.source.clone(),
                text: Arc::clone(&declared.text),
                span: item.span,
            });
        }
    }

    pub(super) fn text_column(&mut self, scope: &Scope, e: &Expr) -> Option<FieldId> {
        let reg = self.expr(scope, e)?;
        let ty = self.d.emit.node(reg).ty;
        if ty != Type::Text {
            let written = scope.text.text.get(e.span.range()).unwrap_or("");
            let plain = written.bytes().all(|b| b.is_ascii_digit()) && !written.is_empty();
            let fix = if plain { format!("code \"{written}\"") } else { "code \"…\"".to_owned() };
            self.refuse(scope, e.span, "wrong type", format!("A code is a text; this is {}.", ty.words()), fix);
            return None;
        }
        Some(self.hidden_field(scope.kind, reg, &scope.text, e.span))
    }

    pub(super) fn number_column(
        &mut self,
        scope: &Scope,
        e: &Expr,
        what: &str,
        wanted: &[Dimension],
    ) -> Option<(FieldId, Dimension)> {
        let reg = self.expr(scope, e)?;
        let ty = self.d.emit.node(reg).ty;
        match ty.dimension() {
            Some(d) if ty != Type::PERCENT && (wanted.is_empty() || wanted.contains(&d)) => {
                Some((self.hidden_field(scope.kind, reg, &scope.text, e.span), d))
            }
            _ => {
                let words: Vec<String> = wanted.iter().map(|d| d.words()).collect();
                let listed = match words.split_last() {
                    Some((last, others)) if !others.is_empty() => format!("{} or {last}", others.join(", ")),
                    _ => words.join(""),
                };
                let say = format!("{what} is {listed}; this is {}.", ty.words());
                // a rate is shown in its own unit; what is no rate has an example of its kind
                let fix = match wanted.first() {
                    None => "a number".to_owned(),
                    Some(d) if d.time > 0 && *d != Dimension::TIME => {
                        format!("a rate such as 0.02 {}", d.unit_text())
                    }
                    Some(d) => example_of(Type::of(*d)).to_owned(),
                };
                self.refuse(scope, e.span, "wrong type", say, fix);
                None
            }
        }
    }

    fn need(&mut self, scope: &Scope, item: &ItemLine) -> Option<Need> {
        let amounts =
            [Dimension::NONE, Dimension::LENGTH, Dimension::AREA, Dimension::VOLUME, Dimension::FORCE, Dimension::TIME];
        match &item.need {
            Some(NeedClause::Amount(e)) => {
                self.number_column(scope, e, "A need", &amounts).map(|(f, _)| Need::Amount(f))
            }
            Some(NeedClause::Lump(e)) => {
                self.number_column(scope, e, "A lump sum", &[Dimension::MONEY]).map(|(f, _)| Need::Lump(f))
            }
            Some(NeedClause::Cut(count, each)) => {
                let count = self.number_column(scope, count, "A number of pieces", &[Dimension::NONE]);
                let each = self.number_column(scope, each, "The length of a piece", &[Dimension::LENGTH]);
                Some(Need::Cut { count: count?.0, each: each?.0 })
            }
            Some(NeedClause::Pieces(e)) => self.pieces(scope, e),
            None => {
                let what = format!("It is not said how much of {} is needed.", item.name.name);
                self.refuse(scope, item.name.span, "item without a need", what, "need …, or cut …, each …");
                None
            }
        }
    }

    /// Pieces with lengths of their own, and the lengths added up.
    fn pieces(&mut self, scope: &Scope, e: &Expr) -> Option<Need> {
        let reg = self.expr(scope, e)?;
        let ty = self.d.emit.node(reg).ty;
        if ty != Pieces::TYPE {
            let what = format!("What is cut is pieces; this is {}.", ty.words());
            let fix = "how many, each how long: cut tees, each run";
            self.refuse(scope, e.span, "wrong type", what, fix);
            return None;
        }
        let pieces = self.hidden_field(scope.kind, reg, &scope.text, e.span);
        let (number, record) = native::named(self.d.natives, "pieces_length")?;
        let op = Op::Native(number, vec![NativeArgument::Value(reg)]);
        let unit = crate::quantity::Unit::kept(Dimension::LENGTH);
        let made = self.d.emit.push(&scope.here(e.span), op, record.result, unit, Some(Cause::Native));
        let total = self.accept(scope, e.span, made)?;
        Some(Need::Pieces { pieces, total: self.hidden_field(scope.kind, total, &scope.text, e.span) })
    }

    fn percent_column(&mut self, scope: &Scope, e: Option<&Expr>) -> Option<Option<FieldId>> {
        let Some(e) = e else { return Some(None) };
        let reg = self.expr(scope, e)?;
        let ty = self.d.emit.node(reg).ty;
        if ty != Type::PERCENT {
            self.refuse(
                scope,
                e.span,
                "wrong type",
                format!("Waste is a percent; this is {}.", ty.words()),
                "a percent such as 5%",
            );
            return None;
        }
        Some(Some(self.hidden_field(scope.kind, reg, &scope.text, e.span)))
    }

    fn rate_column(&mut self, scope: &Scope, item: &ItemLine, need: Option<Need>) -> Option<Option<FieldId>> {
        let Some(e) = &item.rate else { return Some(None) };
        if item.what != LineKind::Labor {
            self.refuse(
                scope,
                e.span,
                "wrong type",
                "Only labor has a rate.",
                "leave the rate out, or begin the line with 'labor'",
            );
            return None;
        }
        let of = match need {
            Some(Need::Amount(f)) => self.d.schema.field(f).ty.dimension().unwrap_or_default(),
            Some(Need::Cut { .. } | Need::Pieces { .. }) => Dimension::LENGTH,
            _ => return Some(None),
        };
        let wanted = Dimension::TIME / of;
        self.number_column(scope, e, "The rate of this work", &[wanted]).map(|(f, _)| Some(f))
    }

    /// The columns of `factor`, `height` and `difficulty`.
    fn working_columns(&mut self, scope: &Scope, item: &ItemLine) -> Option<[Option<FieldId>; 3]> {
        let clauses = [&item.factor, &item.height, &item.difficulty];
        if let Some(first) = clauses.into_iter().flatten().next()
            && item.what != LineKind::Labor
        {
            let what = "Only labor has a factor, a height or a difficulty.";
            self.refuse(scope, first.span, "wrong type", what.to_owned(), "begin the line with 'labor'");
            return None;
        }
        let factor =
            item.factor.as_ref().map(|e| self.number_column(scope, e, "A factor of labor", &[Dimension::NONE]));
        let height = item.height.as_ref().map(|e| self.number_column(scope, e, "A height", &[Dimension::LENGTH]));
        let difficulty = item.difficulty.as_ref().map(|e| self.word_column(scope, e));
        let one = |column: Option<Option<(FieldId, Dimension)>>| match column {
            None => Some(None),
            Some(column) => column.map(|(field, _)| Some(field)),
        };
        let difficulty = match difficulty {
            None => Some(None),
            Some(column) => column.map(Some),
        };
        Some([one(factor)?, one(height)?, difficulty?])
    }

    /// A difficulty, which is a word.
    fn word_column(&mut self, scope: &Scope, e: &Expr) -> Option<FieldId> {
        let reg = self.expr(scope, e)?;
        let ty = self.d.emit.node(reg).ty;
        if ty != Type::Text {
            let what = format!("A difficulty is a text; this is {}.", ty.words());
            self.refuse(scope, e.span, "wrong type", what, "a text of the row, or \"…\"");
            return None;
        }
        Some(self.hidden_field(scope.kind, reg, &scope.text, e.span))
    }

    /// Tables and definitions in force that state a source.
    pub fn all_cited(&mut self) {
        let mut cited = Vec::new();
        for Declared { what: table, text, .. } in self.d.tables.values() {
            let name = &table.name.name;
            let mut cite = |what: String, book: &Text, source: &Option<String>| {
                cited.extend(source.clone().map(|source| Cited { what, book: book.name.clone(), source }));
            };
            if table.rows.iter().any(|row| row.upper.is_none()) || table.rows.is_empty() {
                cite(format!("Table: {name}"), text, &table.source);
            }
            let mut uppers: Vec<(&Arc<Upper>, usize)> = Vec::new();
            for upper in table.rows.iter().filter_map(|row| row.upper.as_ref()) {
                match uppers.iter_mut().find(|(known, _)| Arc::ptr_eq(known, upper)) {
                    Some((_, rows)) => *rows += 1,
                    None => uppers.push((upper, 1)),
                }
            }
            for (upper, rows) in uppers {
                let rows = if rows == 1 { "1 row of it".to_owned() } else { format!("{rows} rows of it") };
                cite(format!("Table: {name}, {rows}"), &upper.text, &upper.source);
            }
        }
        for Declared { what: define, text, .. } in self.d.defines.values() {
            let what = format!("Definition: {}", define.name.name);
            cited.extend(define.source.clone().map(|source| Cited { what, book: text.name.clone(), source }));
        }
        self.d.schema.cited = cited;
    }

    /// Refuses formulas that are to be worked out before pricing but depend on it.
    pub fn no_formula_needs_its_price(&mut self) {
        let job = self.d.job;
        let mut formulas: Vec<_> = self.d.formulas.clone().into_iter().collect();
        formulas.sort_by_key(|(id, _)| *id);
        for (id, declared) in formulas {
            let kind = self.d.schema.field(id).kind;
            if kind != job && self.node_of(id).is_some_and(|r| self.d.emit.node(r).phase == Phase::Priced) {
                self.depends_on_lines(&declared.text, declared.what.span, &declared.what.name.name.clone());
            }
        }
    }

    /// Every example.
    pub fn all_examples(&mut self) -> Vec<ExampleProgram> {
        // an example speaks of the book that it stands in: not of one that an upper book has changed
        let top = self.d.schema.books.len().saturating_sub(1);
        let changed = !self.d.schema.replaced.is_empty();
        let examples = self.d.examples.clone();
        examples.iter().filter(|e| e.layer == top || !changed).filter_map(|declared| self.example(declared)).collect()
    }

    fn example(&mut self, declared: &Declared<Example>) -> Option<ExampleProgram> {
        let (example, text) = (&declared.what, &declared.text);
        let mut rows = Vec::new();
        let mut sound = true;
        for row in &example.rows {
            let Some(kind) = self.d.schema.kind_named(&row.kind.name).filter(|k| *k != self.d.lines) else {
                let near = nearest(&row.kind.name, self.d.schema.kinds.iter().map(|k| k.name.as_str()))
                    .unwrap_or("shows, or a kind of rows")
                    .to_owned();
                self.d.problem(
                    text,
                    row.kind.span,
                    "unknown rows",
                    format!("No rows are called '{}'.", row.kind.name),
                    near,
                );
                sound = false;
                continue;
            };
            let mut values = Vec::new();
            for (i, (name, value)) in row.values.iter().enumerate() {
                if row.values[..i].iter().any(|(before, _)| before.name == name.name) {
                    let what = format!("'{}' is given twice in this row.", name.name);
                    let fix = "give it once; another row begins with its kind";
                    self.d.problem(text, name.span, "value given twice", what, fix.to_owned());
                    sound = false;
                    continue;
                }
                match self.example_value(text, kind, name, value) {
                    Some(v) => values.push(v),
                    None => sound = false,
                }
            }
            rows.push((kind, values));
        }
        if example.unread && rows.is_empty() {
            // what it shows is of rows that could not be read
            return None;
        }
        let kind = rows.first().map_or(self.d.job, |(k, _)| *k);
        let scope = self.scope_of(kind, text);
        let mut shows = Vec::new();
        for shown in &example.shows {
            match self.shows(&scope, &shown.value, &shown.expected) {
                Some(s) => shows.push(s),
                None => sound = false,
            }
        }
        if shows.is_empty() && sound && !example.unread {
            let what = format!("The example \"{}\" shows nothing, so it cannot fail.", example.name);
            self.d.problem(text, example.span, "example without result", what, "shows name = value".to_owned());
        }
        sound.then(|| ExampleProgram {
            name: example.name.clone(),
            rows,
            shows,
            text: Arc::clone(text),
            span: example.span,
        })
    }

    fn example_value(
        &mut self,
        text: &Arc<Text>,
        kind: KindId,
        name: &crate::notation::tree::Name,
        value: &Expr,
    ) -> Option<(FieldId, Value)> {
        let found = self.d.by_name[kind.0 as usize].get(&name.name).copied();
        let inputs: Vec<String> = self
            .d
            .schema
            .kind(kind)
            .fields
            .iter()
            .map(|f| self.d.schema.field(*f))
            .filter(|f| f.input.is_some())
            .map(|f| f.name.clone())
            .collect();
        let Some(id) = found.filter(|f| self.d.schema.field(*f).input.is_some()) else {
            let near = nearest(&name.name, inputs.iter().map(String::as_str))
                .map_or_else(|| format!("one of {}", inputs.join(", ")), str::to_owned);
            let what = format!(
                "{} have no column '{}'.",
                super::declare::plain_words(&self.d.schema.kind(kind).name.clone()),
                name.name
            );
            self.d.problem(text, name.span, "unknown name", what, near);
            return None;
        };
        let ty = self.d.schema.field(id).ty;
        let span = value.span;
        let value = self.d.value_of(text, value, ty)?;
        let field = self.d.schema.field(id);
        let input = field.input.clone()?;
        match &value {
            Value::Text(t) if !input.one_of.is_empty() && !input.one_of.iter().any(|m| m.eq_ignore_ascii_case(t)) => {
                let what = format!("'{t}' is not one of {}.", input.one_of.join(" "));
                let near = nearest(t, input.one_of.iter().map(String::as_str));
                let fix = near.unwrap_or("one of the words of the list").to_owned();
                self.d.problem(text, span, "not in the list", what, fix);
                return None;
            }
            Value::Number(n) => {
                let Some(must) = beyond(ty, (&input.low, &input.high), n, |n| field.written(n)) else {
                    return Some((id, value));
                };
                let what = format!("{} is {}; {must}.", field.label, field.written(n));
                let fix = format!("a value that the column {} takes, or other limits there", name.name);
                self.d.problem(text, span, "value outside its limits", what, fix);
                return None;
            }
            _ => {}
        }
        Some((id, value))
    }

    fn shows(&mut self, scope: &Scope, value: &Expr, expected: &Expr) -> Option<Shows> {
        let reg = self.expr(scope, value)?;
        let node = self.d.emit.node(reg).clone();
        let zero = matches!(&expected.node, Node::Literal(Literal::Number { value, unit: None }) if value.is_zero());
        let wanted = match literal_value(expected, node.ty) {
            Ok(v) => v,
            Err(_) if zero && node.ty.dimension().is_some() => Value::Number(Number::ZERO),
            Err(found) => {
                let label = scope.text.text.get(value.span.range()).unwrap_or("").trim().to_owned();
                let what = format!("{label} is {}, but {found} is expected.", node.ty.words());
                self.refuse(scope, expected.span, "wrong type", what, example_of(node.ty));
                return None;
            }
        };
        let label = scope.text.text.get(value.span.range()).unwrap_or("").trim().to_owned();
        let field = self.hidden_field(scope.kind, reg, &scope.text, value.span);
        Some(Shows { field, label, expected: wanted, span: expected.span })
    }
}

/// The columns of a need.
pub fn need_columns(need: Need) -> impl Iterator<Item = FieldId> {
    match need {
        Need::Amount(f) | Need::Lump(f) => [Some(f), None],
        Need::Cut { count, each } => [Some(count), Some(each)],
        Need::Pieces { pieces, total } => [Some(pieces), Some(total)],
    }
    .into_iter()
    .flatten()
}
