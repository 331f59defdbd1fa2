//! Which step each part of an expression became, and the statements of a book by what they declare: what it takes to tell
//! how a figure was worked out. Kept only where somebody asks.

use super::Program;
use super::node::{Node, Reg};
use super::resolve::Scope;
use super::schema::{Check, FieldId, Item, KindId, Options};
use crate::notation::tree::{CheckLine, Define, Expr, ForLine, Formula, ItemLine, OptionsLine, Part, TableBlock};
use crate::source::{Span, Text};
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// The values of a definition's parameters in one call of it.
type Locals = Arc<FxHashMap<String, Reg>>;

/// A part of a text as it is meant in one call, or outside of any.
type Key = (usize, usize, Span);

/// Where an expression is read: in a statement of a book, or in a definition as one call of it works it out.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The book.
    pub text: Arc<Text>,
    locals: Option<Locals>,
}

impl Reading {
    /// In a statement.
    #[must_use]
    pub fn of(text: &Arc<Text>) -> Self {
        Self { text: Arc::clone(text), locals: None }
    }

    /// The step of a parameter; `None` outside definitions, and for a name that is no parameter.
    #[must_use]
    pub fn parameter(&self, name: &str) -> Option<Reg> {
        self.locals.as_ref()?.get(name).copied()
    }

    /// Whether it is in a definition, where names are parameters.
    #[must_use]
    pub fn in_definition(&self) -> bool {
        self.locals.is_some()
    }

    /// What tells the call of a definition from others with other arguments; 0 outside of any.
    #[must_use]
    pub fn call(&self) -> usize {
        self.locals.as_ref().map_or(0, |l| Arc::as_ptr(l).addr())
    }

    fn key(&self, span: Span) -> Key {
        key(self.locals.as_ref(), &self.text, span)
    }
}

/// Addresses tell texts and calls apart: both are kept as long as the notes are.
fn key(locals: Option<&Locals>, text: &Arc<Text>, span: Span) -> Key {
    (locals.map_or(0, |l| Arc::as_ptr(l).addr()), Arc::as_ptr(text).addr(), span)
}

/// What is noted while expressions are resolved.
#[derive(Debug, Default)]
pub(super) struct Noted {
    parts: FxHashMap<Key, Reg>,
    calls: FxHashMap<Key, Locals>,
    /// The call that stands for all with the same arguments, since it is worked into its callers once.
    first: FxHashMap<(KindId, String, Vec<Reg>), Locals>,
    /// What addresses speak of.
    kept: FxHashMap<usize, (Option<Locals>, Arc<Text>)>,
}

impl Noted {
    /// Notes the step of an expression.
    pub(super) fn part(&mut self, scope: &Scope, span: Span, reg: Reg) {
        let key = key(scope.locals.as_ref(), &scope.text, span);
        self.parts.insert(key, reg);
        self.keep(key, scope);
    }

    /// Notes a call of a definition, and which parameters it is worked out with.
    pub(super) fn call(&mut self, scope: &Scope, span: Span, of: &(KindId, String, Vec<Reg>), locals: &Locals) {
        let first = self.first.entry(of.clone()).or_insert_with(|| Arc::clone(locals));
        let key = key(scope.locals.as_ref(), &scope.text, span);
        self.calls.insert(key, Arc::clone(first));
        self.keep(key, scope);
    }

    fn keep(&mut self, key: Key, scope: &Scope) {
        let own = || (scope.locals.clone(), Arc::clone(&scope.text));
        self.kept.entry(key.0).or_insert_with(own);
        self.kept.entry(key.1).or_insert_with(own);
    }

    /// With the steps that were made.
    pub(super) fn workings(self, nodes: Vec<Node>) -> Workings {
        Workings { nodes, noted: self }
    }
}

/// How a program's expressions were taken apart.
#[derive(Debug)]
pub struct Workings {
    nodes: Vec<Node>,
    noted: Noted,
}

impl Workings {
    /// A step.
    #[must_use]
    pub fn node(&self, reg: Reg) -> &Node {
        &self.nodes[reg as usize]
    }

    /// The step that an expression became; `None` for what is no value by itself, such as a word of a list.
    #[must_use]
    pub fn step(&self, reading: &Reading, e: &Expr) -> Option<Reg> {
        self.noted.parts.get(&reading.key(e.span)).copied()
    }

    /// How a definition is read in the call that an expression is.
    #[must_use]
    pub fn called(&self, reading: &Reading, call: &Expr, define: &Arc<Text>) -> Option<Reading> {
        let locals = self.noted.calls.get(&reading.key(call.span))?;
        Some(Reading { text: Arc::clone(define), locals: Some(Arc::clone(locals)) })
    }
}

/// A statement with the book that states it.
pub type Stated<'p, T> = (&'p Arc<Text>, &'p T);

impl Program {
    /// Parts of the books, the uppermost book's first.
    fn parts(&self) -> impl Iterator<Item = Stated<'_, Part>> {
        self.books.iter().rev().flat_map(|b| b.parts.iter().map(|p| (&b.text, p)))
    }

    /// Lines of blocks `for … end`.
    fn for_lines(&self) -> impl Iterator<Item = Stated<'_, ForLine>> {
        self.parts().flat_map(|(text, part)| match part {
            Part::For(_, lines) => lines.iter().map(|l| (text, l)).collect::<Vec<_>>(),
            _ => Vec::new(),
        })
    }

    fn line<T>(&self, text: &Arc<Text>, of: impl Fn(&ForLine) -> Option<&T>) -> Option<Stated<'_, T>>
    where
        T: ?Sized,
    {
        let mut lines = self.for_lines().filter(|(t, _)| Arc::ptr_eq(t, text));
        lines.find_map(|(text, line)| Some((text, of(line)?)))
    }

    /// The formula that works a field out.
    #[must_use]
    pub fn formula(&self, field: FieldId) -> Option<Stated<'_, Formula>> {
        let field = self.schema.field(field);
        self.line(&field.text, |line| match line {
            ForLine::Formula(f) if f.span == field.span => Some(&**f),
            _ => None,
        })
    }

    /// The statement of a check.
    #[must_use]
    pub fn check_line(&self, check: &Check) -> Option<Stated<'_, CheckLine>> {
        self.line(&check.text, |line| match line {
            ForLine::Check(c) if c.span == check.span => Some(c),
            _ => None,
        })
    }

    /// The statement of an item.
    #[must_use]
    pub fn item_line(&self, item: &Item) -> Option<Stated<'_, ItemLine>> {
        self.line(&item.text, |line| match line {
            ForLine::Item(i) if i.span == item.span => Some(i),
            _ => None,
        })
    }

    /// The statement of the options.
    #[must_use]
    pub fn options_line(&self, options: &Options) -> Option<Stated<'_, OptionsLine>> {
        self.line(&options.text, |line| match line {
            ForLine::Options(o) if o.span == options.span => Some(o),
            _ => None,
        })
    }

    /// The definition in force of a name.
    #[must_use]
    pub fn define(&self, name: &str) -> Option<Stated<'_, Define>> {
        let mut found = self.parts().filter_map(|(text, part)| match part {
            Part::Define(define) if define.name.name == name => Some((text, define)),
            _ => None,
        });
        found.next()
    }

    /// The table in force of a name, with the rows in force; the book is the one that states the table.
    #[must_use]
    pub fn table_block(&self, name: &str) -> Option<Stated<'_, TableBlock>> {
        self.in_force.get(name).map(|(text, table)| (text, table))
    }
}
