//! Expressions taken apart: the fields, definitions and tables that they lean on, and which choice was taken.

use super::say::{last_step, quoted, said};
use super::tell::{RowOf, Seen, Teller, style_of};
use super::{Sort, Told};
use crate::engine::examples::shown_by;
use crate::engine::{Fault, Matched};
use crate::notation::tree::{Binary, Comparison, Expr, Match, Node, TableBlock, TableRow};
use crate::program::native::named;
use crate::program::node::{Op, Reg};
use crate::program::workings::Reading;
use crate::program::{FieldId, Type, Value};
use crate::quantity::show::{show, spoken};
use crate::source::Text;
use std::sync::Arc;

/// Where an expression is read, and for which row.
#[derive(Clone, Debug)]
pub(super) struct At {
    pub reading: Reading,
    pub of: RowOf,
}

impl At {
    pub fn of(text: &Arc<Text>, of: RowOf) -> Self {
        Self { reading: Reading::of(text), of }
    }
}

/// How many levels a telling may still go down.
pub(super) type Depth = usize;

impl Teller<'_> {
    /// The step of an expression.
    pub fn step(&self, e: &Expr, at: &At) -> Option<Reg> {
        let workings = self.program.workings.as_ref()?;
        workings.step(&at.reading, e)
    }

    /// The value of an expression, with the step.
    pub fn value(&self, e: &Expr, at: &At) -> Option<Result<Value, Fault>> {
        self.steps.value(self.step(e, at)?, at.of)
    }

    /// The text of a step's value.
    pub fn step_text(&self, reg: Reg, of: RowOf) -> Option<String> {
        let node = self.steps.node(reg);
        let text = match self.steps.value(reg, of)? {
            Ok(value) => match (&value, &node.op) {
                (Value::Text(text), Op::Field(f) | Op::Parent(f)) => self.schema().in_words(*f, text).to_owned(),
                (Value::Number(_), Op::Field(f) | Op::Parent(f)) => {
                    shown_by(&value, node.ty, &self.schema().field(*f).style, show).text
                }
                _ => shown_by(&value, node.ty, &style_of(node, self.schema().metric), spoken).text,
            },
            Err(fault) => if self.is_blank(fault) { "(blank)" } else { "(no value)" }.to_owned(),
        };
        // a text reads as one among words, a thing as what it is
        let is_text = node.ty == Type::Text && !text.starts_with('(');
        Some(if is_text { format!("\"{text}\"") } else { text })
    }

    pub fn is_blank(&self, fault: Fault) -> bool {
        matches!(self.program.sites[fault.site.0 as usize].cause, crate::program::node::Cause::Missing(_))
    }

    /// The text of an expression's value.
    pub fn value_text(&self, e: &Expr, at: &At) -> Option<String> {
        self.step_text(self.step(e, at)?, at.of)
    }

    /// What is put in the place of names and calls, so that a formula stands there in values.
    fn leaf(&self, e: &Expr, at: &At) -> Option<String> {
        match &e.node {
            Node::Name(_) | Node::Aggregate { .. } | Node::Choice(..) => self.value_text(e, at),
            // of words, whether it holds says more than the words
            Node::OneOf { .. } | Node::Given { .. } => self.value_text(e, at),
            Node::Compare(_, rest) if self.of_words(rest, at) => self.value_text(e, at),
            Node::Call { name, .. } if crate::program::builtin::named(&name.name).is_none() => self.value_text(e, at),
            _ => None,
        }
    }

    /// A formula with values in the place of names, step by step; nothing where that says no more than its value.
    pub fn worked(&self, e: &Expr, at: &At) -> Vec<String> {
        let text = &at.reading.text;
        let plain = |e: &Expr| matches!(e.node, Node::Literal(_) | Node::Name(_) | Node::Aggregate { .. });
        let called = |e: &Expr| matches!(&e.node, Node::Call { name, .. } if crate::program::builtin::named(&name.name).is_none());
        let test = match &e.node {
            Node::OneOf { .. } | Node::Given { .. } => true,
            Node::Compare(_, rest) => self.of_words(rest, at),
            _ => false,
        };
        if plain(e) || called(e) || test || matches!(e.node, Node::Choice(..)) {
            return Vec::new();
        }
        let mut out = vec![said(e, text, &|part| self.leaf(part, at))];
        let last = last_step(e, text, &|part| self.value_text(part, at));
        out.extend(last.filter(|last| !out.contains(last)));
        out.retain(|line| *line != quoted(e, text));
        out
    }

    /// Puts an expression into a part of a telling: the rule, its values, and what they came about from.
    pub fn explain(&mut self, told: &mut Told, e: &Expr, at: &At, depth: Depth) {
        told.formula = Some(quoted(e, &at.reading.text));
        told.worked.extend(self.worked(e, at));
        if let Node::Aggregate { .. } = e.node {
            // the figure is what the rows come to, and nothing else
            let rows = self.together(e, at, depth);
            told.says.extend(rows.says);
            told.parts.extend(rows.parts);
            told.deeper |= rows.deeper;
            return;
        }
        self.take_apart(told, e, at, depth);
    }

    /// What an expression came about from.
    pub fn take_apart(&mut self, told: &mut Told, e: &Expr, at: &At, depth: Depth) {
        if depth == 0 {
            told.deeper |= leans(e);
            return;
        }
        let mut parts = Parts { told, depth: depth - 1 };
        self.walk(&mut parts, e, at);
        // the way of a fault is one; where it begins, all that it began with is told
        if self.follows.is_some()
            && let Some(way) = told.parts.iter().position(|p| p.faulty && !p.again)
        {
            told.parts = vec![told.parts.swap_remove(way)];
        }
    }

    fn walk(&mut self, parts: &mut Parts<'_>, e: &Expr, at: &At) {
        match &e.node {
            Node::Literal(_) => {}
            Node::Name(name) => self.name(parts, name, e, at),
            Node::Call { name, arguments } => {
                let looked_up = self.step(e, at).is_some_and(|r| matches!(self.steps.node(r).op, Op::Lookup { .. }));
                // what a failing look-up was asked is told with it, as the end of the way
                let fails = looked_up && self.follows.is_some() && self.begins_here(e, at);
                for argument in arguments.iter().filter(|_| !fails) {
                    self.walk(parts, &argument.value, at);
                }
                if self.program.define(&name.name).is_some() {
                    let told = self.definition(e, &name.name, at, parts.depth);
                    parts.push(told);
                } else if let Some((_, record)) = named(self.program.natives, &name.name) {
                    if self.seen.insert(Seen::Native(record.name)) {
                        parts.told.says.push(format!("{}: {}", record.name, record.summary));
                    }
                } else if looked_up {
                    let told = self.table(e, &name.name, at);
                    parts.push(told);
                }
            }
            Node::Aggregate { .. } => {
                let told = self.together(e, at, parts.depth);
                parts.push(told);
            }
            Node::Negate(a) | Node::Not(a) | Node::Power(a, _) => self.walk(parts, a, at),
            Node::Given { value, .. } | Node::OneOf { value, .. } => self.walk(parts, value, at),
            Node::Binary(op, a, b) => {
                self.walk(parts, a, at);
                let settled = match (op, self.value(a, at)) {
                    (Binary::And, Some(Ok(Value::YesNo(left)))) => !left,
                    (Binary::Or, Some(Ok(Value::YesNo(left)))) => left,
                    (Binary::And | Binary::Or, Some(Err(_))) => true,
                    _ => false,
                };
                if !settled {
                    self.walk(parts, b, at);
                }
            }
            Node::Compare(first, rest) => {
                self.walk(parts, first, at);
                for (_, right) in rest {
                    self.walk(parts, right, at);
                }
            }
            Node::Choice(arms, otherwise) => self.choice(parts, arms, otherwise, at),
        }
    }

    /// Whether a comparison is one with a word of a list, a text or a figure: what is compared says it all.
    fn of_words(&self, rest: &[(Comparison, Expr)], at: &At) -> bool {
        let plain = |e: &Expr| match &e.node {
            Node::Literal(_) => true,
            // a word of a list is no value by itself
            Node::Name(_) => self.step(e, at).is_none(),
            _ => false,
        };
        rest.iter().all(|(how, e)| matches!(how, Comparison::Equal | Comparison::NotEqual) && plain(e))
    }

    /// Whether the fault that is followed begins at an expression's own step.
    fn begins_here(&self, e: &Expr, at: &At) -> bool {
        let site = self.step(e, at).and_then(|r| self.steps.node(r).site);
        self.follows.is_some_and(|fault| Some(fault.site) == site)
    }

    /// Conditions one after the other until one holds, and what is taken then.
    fn choice(&mut self, parts: &mut Parts<'_>, arms: &[(Expr, Expr)], otherwise: &Expr, at: &At) {
        let text = Arc::clone(&at.reading.text);
        for (value, condition) in arms {
            let holds = self.value(condition, at);
            let asked = said(condition, &text, &shortened(&text));
            let (word, done) = match holds {
                Some(Ok(Value::YesNo(true))) => ("yes", true),
                Some(Ok(_)) => ("no", false),
                _ => ("not known", true),
            };
            let because = match &condition.node {
                Node::Given { .. } | Node::Name(_) => String::new(),
                Node::OneOf { value, .. } => {
                    self.value_text(value, at).map_or_else(String::new, |v| format!(", it is {v}"))
                }
                Node::Compare(first, rest) if self.of_words(rest, at) => {
                    self.value_text(first, at).map_or_else(String::new, |v| format!(", it is {v}"))
                }
                _ => {
                    let values = said(condition, &text, &|part| self.leaf(part, at));
                    if values == asked || values == word { String::new() } else { format!(", {values}") }
                }
            };
            parts.told.says.push(format!("{asked}: {word}{because}"));
            self.walk(parts, condition, at);
            if done {
                if word == "yes" {
                    self.taken(parts, value, at);
                }
                return;
            }
        }
        self.taken(parts, otherwise, at);
    }

    fn taken(&mut self, parts: &mut Parts<'_>, value: &Expr, at: &At) {
        let text = Arc::clone(&at.reading.text);
        if !matches!(value.node, Node::Choice(..)) {
            let mut steps = vec![said(value, &text, &shortened(&text))];
            steps.extend(self.worked(value, at));
            let last = self.value_text(value, at);
            steps.extend(last.filter(|last| steps.last() != Some(last)));
            parts.told.says.push(format!("so {}", steps.join(" = ")));
        }
        self.walk(parts, value, at);
    }

    fn name(&mut self, parts: &mut Parts<'_>, name: &str, e: &Expr, at: &At) {
        if at.reading.in_definition() || self.step(e, at).is_none() {
            return;
        }
        if let Some(field) = self.field_in_reach(name, at.of) {
            let row = self.steps.row_for(field, at.of);
            let told = self.field_below(field, row, parts.depth);
            parts.push(told);
        }
    }

    /// The field that a name means in a row: its own, one of a row that it belongs to, one of the job.
    pub fn field_in_reach(&self, name: &str, (kind, _): RowOf) -> Option<FieldId> {
        let schema = self.schema();
        let mut kinds = vec![kind];
        while let Some(parent) = kinds.last().and_then(|k| schema.kind(*k).parent.as_ref()) {
            kinds.push(parent.kind);
        }
        kinds.push(self.program.job);
        kinds.into_iter().find_map(|k| schema.kind(k).fields.iter().copied().find(|f| schema.field(*f).name == name))
    }

    /// Whether the way of the fault that is followed goes through a value.
    pub fn on_the_way(&self, value: Option<&Result<Value, Fault>>) -> bool {
        match self.follows {
            None => true,
            Some(fault) => matches!(value, Some(Err(own)) if *own == fault),
        }
    }

    fn definition(&mut self, e: &Expr, name: &str, at: &At, depth: Depth) -> Told {
        let mut told = Told::new(Sort::Definition, name, name);
        let (Some(reg), Some((text, define))) = (self.step(e, at), self.program.define(name)) else { return told };
        let inner = self.program.workings.as_ref().and_then(|w| w.called(&at.reading, e, text));
        let value = self.steps.value(reg, at.of);
        if let Some(reading) = &inner {
            let given = define.parameters.iter().filter_map(|p| {
                let value = self.step_text(reading.parameter(&p.name.name)?, at.of)?;
                Some(format!("{}: {value}", p.name.name))
            });
            told.label = format!("{name}({})", given.collect::<Vec<_>>().join(", "));
        }
        let node = self.steps.node(reg);
        self.valued(&mut told, value.clone(), node.ty, &style_of(node, self.schema().metric));
        told = told.in_book(text, define.name.span);
        if !self.goes_on(&mut told, value.as_ref(), at.of) {
            return told;
        }
        told.note.clone_from(&define.note);
        told.source.clone_from(&define.source);
        told.instead_of = self.instead_of(text, define.name.span);
        if let Some(reading) = inner {
            self.explain(&mut told, &define.body, &At { reading, of: at.of }, depth);
        }
        told
    }

    /// Whether what was called is told further: it is on the way, and was not told before.
    fn goes_on(&mut self, told: &mut Told, value: Option<&Result<Value, Fault>>, of: RowOf) -> bool {
        if !self.on_the_way(value) {
            return false;
        }
        told.again = !self.seen.insert(Seen::Call(told.label.clone(), of));
        !told.again
    }

    fn table(&mut self, e: &Expr, name: &str, at: &At) -> Told {
        let mut told = Told::new(Sort::Table, name, name);
        let Some(reg) = self.step(e, at) else { return told };
        let node = self.steps.node(reg);
        let Op::Lookup { table, keys, .. } = &node.op else { return told };
        let compiled = &self.program.tables[*table as usize];
        let asked = keys.iter().zip(&compiled.keys).map(|(reg, key)| {
            let value = self.step_text(*reg, at.of).unwrap_or_default();
            format!("{}: {value}", key.name)
        });
        told.label = format!("{name}({})", asked.collect::<Vec<_>>().join(", "));
        let value = self.steps.value(reg, at.of);
        self.valued(&mut told, value.clone(), node.ty, &style_of(node, self.schema().metric));
        let Some((text, block)) = self.program.table_block(&compiled.name) else { return told };
        told = told.in_book(text, block.name.span);
        if !self.goes_on(&mut told, value.as_ref(), at.of) {
            return told;
        }
        told.note.clone_from(&block.title);
        told.source.clone_from(&block.source);
        told.instead_of = self.instead_of(text, block.name.span);
        match self.steps.matched(reg, at.of) {
            Some(Matched::Row(row)) => {
                // a row that an upper book puts in is that book's, source and all
                if let Some((row, upper)) = block.rows.get(row).and_then(|row| Some((row, row.upper.as_ref()?))) {
                    told.place = Some(row.place());
                    told.source.clone_from(&upper.source);
                }
                self.row_of(&mut told, (text, block), row, "");
            }
            Some(Matched::Between(below, above)) => {
                for at in [below, above] {
                    self.row_of(&mut told, (text, block), at, "in proportion between: ");
                    let upper = block.rows.get(at).and_then(|row| row.upper.as_ref());
                    if let (Some(source), Some(said)) = (upper.and_then(|u| u.source.as_ref()), told.says.last_mut()) {
                        said.push_str(&format!(" (source: {source})"));
                    }
                }
            }
            None => {
                told.says.push("no row of the table serves that".to_owned());
                if let Node::Call { arguments, .. } = &e.node {
                    let mut parts = Parts { told: &mut told, depth: 0 };
                    arguments.iter().for_each(|a| self.walk(&mut parts, &a.value, at));
                }
            }
        }
        told
    }

    /// Tells the row that was matched, and what that row stands in place of.
    fn row_of(&self, told: &mut Told, (text, block): (&Text, &TableBlock), row: usize, how: &str) {
        let Some(row) = block.rows.get(row) else { return };
        told.says.push(format!("{how}{}", row_text(text, block, row)));
        told.instead_of.extend(self.instead_of(&row.text, row.span));
    }
}

/// Calls of several arguments by their names alone, as far as a sentence goes.
fn shortened(text: &Text) -> impl Fn(&Expr) -> Option<String> + '_ {
    |part| match &part.node {
        Node::Call { name, arguments } if arguments.len() > 2 => Some(format!("{}(…)", name.name)),
        Node::Call { name, arguments } => {
            let long = arguments.iter().any(|a| quoted(&a.value, text).chars().count() > 40);
            long.then(|| format!("{}(…)", name.name))
        }
        _ => None,
    }
}

/// Whether an expression leans on anything that could be told.
fn leans(e: &Expr) -> bool {
    e.any(&|e| match &e.node {
        Node::Name(_) | Node::Aggregate { .. } => true,
        Node::Call { name, .. } => crate::program::builtin::named(&name.name).is_none(),
        _ => false,
    })
}

/// A row of a table with its place: what each key was matched with, and what it gives. The table's head stands in `text`.
fn row_text(text: &Text, block: &TableBlock, row: &TableRow) -> String {
    let words = block.columns.iter().enumerate().map(|(at, column)| {
        let how = match column.how {
            None | Some(Match::Exact) => "",
            Some(Match::UpTo) => "up to ",
            Some(Match::From) => "from ",
            Some(Match::Between) => "at ",
        };
        // a key that the row leaves out
        let left_out = row.cells.get(at).is_some_and(|cell| cell.span == row.span);
        let written = match &column.default {
            Some(default) if left_out => text.text.get(default.span.range()).unwrap_or("").trim(),
            _ => row.written(at),
        };
        format!("{} {how}{written}", column.name.name.replace('_', " "))
    });
    let book = match (&row.upper, &row.on_sheet) {
        (Some(upper), None) => format!(" of {}", upper.text.name),
        _ => String::new(),
    };
    format!("row {}{book}: {}", row.whereabouts(), words.collect::<Vec<_>>().join(" | "))
}

/// Where the parts of something told are gathered.
pub(super) struct Parts<'t> {
    pub told: &'t mut Told,
    pub depth: Depth,
}

impl Parts<'_> {
    /// Adds a part, once: a formula may name a thing several times.
    pub fn push(&mut self, part: Told) {
        let same = |t: &Told| t.sort == part.sort && t.label == part.label && t.of == part.of;
        if !(part.again && self.told.parts.iter().any(same)) {
            self.told.parts.push(part);
        }
    }
}
