//! What of a book its examples reach: what the figures that they show lean on, by the way they were worked out.
//!
//! A formula that is worked out beside an example and that nothing shown leans on is not reached: a mistake in it would not
//! be found.

use super::examples::{run_examples_and, value_at, value_text};
use super::kernel::lookup::Matched;
use super::run::Engine;
use super::steps::{RowOf, Steps};
use crate::notation::tree::{Binary, Define, Expr, ForLine, Node, OptionPart, Part, TableBlock};
use crate::problem::Problem;
use crate::program::node::{Op, Phase};
use crate::program::workings::Reading;
use crate::program::{ExampleProgram, FieldId, Program, Value};
use crate::source::{Span, Text};
use rustc_hash::{FxHashMap, FxHashSet};
use std::sync::Arc;

/// What a part of a book is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartOf {
    /// A formula.
    Formula,
    /// A definition.
    Definition,
    /// One answer of a choice.
    Answer,
    /// A row of a table.
    TableRow,
    /// One of the options.
    Option,
}

impl PartOf {
    /// All of them, as they are counted.
    pub const ALL: [Self; 5] = [Self::Formula, Self::Definition, Self::Answer, Self::TableRow, Self::Option];

    /// What one and some are called.
    #[must_use]
    pub fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Formula => ("formula", "formulas"),
            Self::Definition => ("definition", "definitions"),
            Self::Answer => ("answer of a choice", "answers of choices"),
            Self::TableRow => ("table row", "table rows"),
            Self::Option => ("option", "options"),
        }
    }
}

/// A part of the book that examples should reach.
#[derive(Clone, Debug)]
pub struct Reachable {
    /// What it is.
    pub part: PartOf,
    /// The formula, definition, table or options that it is or belongs to.
    pub name: String,
    /// What it stands in: the book, or what a sheet holds, a line for each of its rows.
    pub text: Arc<Text>,
    /// Where it stands there.
    pub span: Span,
    /// What it is in: an answer of a formula that is not reached needs no line of its own.
    pub within: Option<Span>,
    /// Whether an example reaches it.
    pub reached: bool,
}

/// Runs the book's examples, as [`run_examples`](super::examples::run_examples) does, and gives besides every part of the
/// book that examples can reach, in the order of the book.
///
/// Nothing is reached where the program was not compiled to explain.
#[must_use]
pub fn run_and_reach(program: &Program) -> (Vec<Problem>, Vec<Reachable>) {
    let mut all = reachable(program);
    let mut marks = Marks::default();
    let problems = run_examples_and(program, |example, engine| {
        if let Some(mut walk) = Walk::new(program, engine, &mut marks) {
            walk.example(example);
        }
    });
    for part in &mut all {
        part.reached = marks.holds(&part.text, part.span);
    }
    (problems, all)
}

/// The value of a field in an example.
#[derive(Clone, Debug)]
pub struct InExample {
    /// The example.
    pub example: String,
    /// The value as people read it; nothing where it has none there.
    pub value: Option<String>,
}

/// What each field has in the first example of the book that leans on it: in the first such row, of several.
///
/// Nothing is known where the program was not compiled to explain.
#[must_use]
pub fn first_values(program: &Program) -> FxHashMap<FieldId, InExample> {
    let mut out: FxHashMap<FieldId, InExample> = FxHashMap::default();
    let mut marks = Marks::default();
    let _ = run_examples_and(program, |example, engine| {
        let Some(mut walk) = Walk::new(program, engine, &mut marks) else { return };
        walk.example(example);
        let mut fields: Vec<(FieldId, usize)> = walk.fields.iter().copied().collect();
        fields.retain(|(f, row)| {
            let kind = program.schema.field(*f).kind;
            engine.run().columns[f.0 as usize].is_some() && *row < engine.run().rows_of(kind)
        });
        fields.sort_unstable();
        for (id, row) in fields {
            let field = program.schema.field(id);
            out.entry(id).or_insert_with(|| {
                let value = value_at(engine, id, row).ok().map(|v| value_text(&v, field.ty, &field.style));
                InExample { example: example.name.clone(), value }
            });
        }
    });
    out
}

/// Spans that were reached, each of its text.
#[derive(Default)]
struct Marks(FxHashSet<(usize, Span)>);

impl Marks {
    fn mark(&mut self, text: &Arc<Text>, span: Span) -> bool {
        self.0.insert((Arc::as_ptr(text).addr(), span))
    }

    fn holds(&self, text: &Arc<Text>, span: Span) -> bool {
        self.0.contains(&(Arc::as_ptr(text).addr(), span))
    }
}

/// What of the book itself examples can reach: not what depends on priced lines, which an example has not.
fn reachable(program: &Program) -> Vec<Reachable> {
    let Some(book) = program.books.last() else { return Vec::new() };
    let mut out = Vec::new();
    let mut add = |part, text: &Arc<Text>, name: &str, span, within| {
        out.push(Reachable { part, text: Arc::clone(text), name: name.to_owned(), span, within, reached: false });
    };
    for part in book.parts.iter() {
        match part {
            Part::Define(Define { name, body, .. }) => {
                add(PartOf::Definition, &book.text, &name.name, name.span, None);
                answers(body, &mut |span| add(PartOf::Answer, &book.text, &name.name, span, Some(name.span)));
            }
            Part::Table(table) => {
                for row in &table.rows {
                    add(PartOf::TableRow, &row.text, &table.name.name, row.span, None);
                }
            }
            Part::For(_, lines) => {
                for line in lines {
                    match line {
                        ForLine::Formula(f) if !priced(program, &book.text, &f.body) => {
                            add(PartOf::Formula, &book.text, &f.name.name, f.name.span, None);
                            answers(&f.body, &mut |span| {
                                add(PartOf::Answer, &book.text, &f.name.name, span, Some(f.name.span))
                            });
                        }
                        ForLine::Options(o) => {
                            o.options
                                .iter()
                                .for_each(|part| add(PartOf::Option, &book.text, &o.name.name, part.name.span, None));
                        }
                        _ => {}
                    }
                }
            }
            Part::Use(_) | Part::Rows(_) | Part::Example(_) => {}
        }
    }
    out
}

/// Whether an expression depends on priced lines.
fn priced(program: &Program, text: &Arc<Text>, body: &Expr) -> bool {
    let workings = program.workings.as_ref();
    workings.is_some_and(|w| w.step(&Reading::of(text), body).is_some_and(|reg| w.node(reg).phase == Phase::Priced))
}

/// The answers of all choices in an expression.
fn answers(e: &Expr, f: &mut impl FnMut(Span)) {
    if let Node::Choice(arms, otherwise) = &e.node {
        arms.iter().for_each(|(value, _)| f(value.span));
        f(otherwise.span);
    }
    e.parts(&mut |part| answers(part, f));
}

/// Where an expression is read, and for which row.
#[derive(Clone)]
struct At {
    reading: Reading,
    of: RowOf,
}

/// The way back from what is shown. What is still to be looked at waits in a list, so that a long chain of formulas is not
/// a deep one of calls.
struct Walk<'p, 'm> {
    program: &'p Program,
    steps: Steps<'m>,
    engine: &'m Engine<'m>,
    marks: &'m mut Marks,
    waiting: Vec<(&'p Expr, At)>,
    fields: FxHashSet<(FieldId, usize)>,
    calls: FxHashSet<(usize, Span, RowOf)>,
}

impl<'p, 'm> Walk<'p, 'm> {
    fn new(program: &'p Program, engine: &'m Engine<'m>, marks: &'m mut Marks) -> Option<Self> {
        let steps = Steps::new(engine)?;
        let (fields, calls) = Default::default();
        Some(Self { program, steps, engine, marks, waiting: Vec::new(), fields, calls })
    }

    fn example(&mut self, example: &ExampleProgram) {
        let program = self.program;
        let parts = program.books.last().map_or(&[][..], |b| b.parts.as_slice());
        let stated = parts.iter().find_map(|part| match part {
            Part::Example(e) if e.span == example.span => Some(e),
            _ => None,
        });
        for (shows, stated) in example.shows.iter().zip(stated.map_or(&[][..], |e| &e.shows)) {
            let of = (program.schema.field(shows.field).kind, 0);
            self.waiting.push((&stated.value, At { reading: Reading::of(&example.text), of }));
        }
        while let Some((e, at)) = self.waiting.pop() {
            self.expr(e, &at);
        }
    }

    fn yes(&self, e: &Expr, at: &At) -> Option<bool> {
        let reg = self.program.workings.as_ref()?.step(&at.reading, e)?;
        match self.steps.value(reg, at.of)? {
            Ok(Value::YesNo(yes)) => Some(yes),
            _ => None,
        }
    }

    fn expr(&mut self, e: &'p Expr, at: &At) {
        match &e.node {
            Node::Name(name) => self.name(name, at),
            Node::Call { name, arguments } => {
                arguments.iter().for_each(|a| self.expr(&a.value, at));
                self.call(e, &name.name, at);
            }
            Node::Aggregate { value, condition, .. } => {
                self.together(e, value.as_deref(), condition.as_deref(), at);
            }
            Node::Binary(op, a, b) => {
                self.expr(a, at);
                let settled = match op {
                    Binary::And => self.yes(a, at) != Some(true),
                    Binary::Or => self.yes(a, at) != Some(false),
                    _ => false,
                };
                if !settled {
                    self.expr(b, at);
                }
            }
            Node::Choice(arms, otherwise) => {
                for (value, condition) in arms {
                    self.expr(condition, at);
                    match self.yes(condition, at) {
                        Some(true) => return self.answer(value, at),
                        Some(false) => {}
                        None => return,
                    }
                }
                self.answer(otherwise, at);
            }
            _ => {
                let mut parts = Vec::new();
                e.parts(&mut |part| parts.push(part));
                parts.into_iter().for_each(|part| self.expr(part, at));
            }
        }
    }

    fn answer(&mut self, value: &'p Expr, at: &At) {
        self.marks.mark(&at.reading.text, value.span);
        self.expr(value, at);
    }

    /// The field that a name means in a row: its own, one of a row that it belongs to, one of the job.
    fn name(&mut self, name: &str, at: &At) {
        if at.reading.in_definition() {
            return;
        }
        let schema = &self.program.schema;
        let mut kinds = vec![at.of.0];
        while let Some(parent) = kinds.last().and_then(|k| schema.kind(*k).parent.as_ref()) {
            kinds.push(parent.kind);
        }
        kinds.push(self.program.job);
        if let Some(field) = kinds.into_iter().find_map(|k| schema.field_named(k, name)) {
            self.field(field, self.steps.row_for(field, at.of));
        }
    }

    fn field(&mut self, field: FieldId, row: usize) {
        if !self.fields.insert((field, row)) || self.engine.run().columns[field.0 as usize].is_none() {
            return;
        }
        let of = (self.program.schema.field(field).kind, row);
        if let Some((text, formula)) = self.program.formula(field) {
            self.marks.mark(text, formula.name.span);
            self.waiting.push((&formula.body, At { reading: Reading::of(text), of }));
        }
        let options = self.program.schema.options.as_ref().filter(|options| options.field == field);
        if let Some((text, line)) = options.and_then(|options| self.program.options_line(options))
            && let Ok(Value::Text(taken)) = value_at(self.engine, field, row)
        {
            let taken = |part: &&OptionPart| part.name.name.eq_ignore_ascii_case(&taken);
            line.options.iter().filter(taken).for_each(|part| {
                self.marks.mark(text, part.name.span);
            });
            let conditions = line.options.iter().filter_map(|part| part.when.as_ref());
            self.waiting.extend(conditions.map(|when| (when, At { reading: Reading::of(text), of })));
        }
    }

    fn call(&mut self, e: &'p Expr, name: &str, at: &At) {
        let program = self.program;
        let Some(workings) = program.workings.as_ref() else { return };
        if let Some((text, define)) = program.define(name) {
            self.marks.mark(text, define.name.span);
            if let Some(reading) = workings.called(&at.reading, e, text)
                && self.calls.insert((reading.call(), define.name.span, at.of))
            {
                self.waiting.push((&define.body, At { reading, of: at.of }));
            }
            return;
        }
        let Some(reg) = workings.step(&at.reading, e) else { return };
        let Op::Lookup { table, .. } = &workings.node(reg).op else { return };
        let Some((_, block)) = program.table_block(&program.tables[*table as usize].name) else { return };
        match self.steps.matched(reg, at.of) {
            Some(Matched::Row(row)) => self.row(block, row),
            Some(Matched::Between(below, above)) => {
                self.row(block, below);
                self.row(block, above);
            }
            None => {}
        }
    }

    fn row(&mut self, block: &TableBlock, row: usize) {
        if let Some(row) = block.rows.get(row) {
            self.marks.mark(&row.text, row.span);
        }
    }

    /// Rows brought together: the condition in each, and the value in those that count.
    fn together(&mut self, e: &Expr, value: Option<&'p Expr>, condition: Option<&'p Expr>, at: &At) {
        let Some(workings) = self.program.workings.as_ref() else { return };
        let Some(reg) = workings.step(&at.reading, e) else { return };
        let &Op::Fold { kind, .. } = &workings.node(reg).op else { return };
        if kind == self.program.lines {
            return;
        }
        for row in self.engine.children(kind, at.of.1) {
            let inside = At { reading: at.reading.clone(), of: (kind, row) };
            let counts = condition.is_none_or(|condition| self.yes(condition, &inside) == Some(true));
            let value = value.filter(|_| counts);
            self.waiting.extend(condition.into_iter().chain(value).map(|e| (e, inside.clone())));
        }
    }
}
