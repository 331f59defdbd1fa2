//! Hints: what is sound and worth a second look. Never used, never reached, always so, without a source.
//!
//! They are told of the uppermost book alone: a lower book's are for whoever keeps that book. A statement answers the
//! hints about itself with `accepted "reason"`.

mod cases;
mod conditions;
mod figures;
mod money;
mod ranges;
mod tables;
mod unused;

use super::declare::Declared;
use super::node::{Op, Reg};
use super::resolve::Resolver;
use super::schema::FieldId;
use crate::notation::tree::{Accepted, Book, FieldClause, ForLine, Part, TableBlock, TableRow};
use crate::problem::{Problem, in_source_order};
use crate::source::{Place, Span, Text};
use std::cell::Cell;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A hint that the book answers.
#[derive(Clone, Debug)]
pub struct Answered {
    /// What would be told.
    pub hint: Problem,
    /// Why it is in order.
    pub reason: String,
}

/// A statement that a hint can be about.
struct Statement {
    /// All of it.
    span: Span,
    accepted: Option<Accepted>,
}

/// How much work is left: a book that would take more gets the hints that were found until then.
#[derive(Debug)]
pub(super) struct Fuel {
    left: Cell<u32>,
    /// What was found of steps before.
    found: ranges::Found,
}

/// How many steps all hints about a book may take.
const STEPS: u32 = 2_000_000;
/// How many hints are told of one book.
const MOST: usize = 1_000;

impl Fuel {
    /// One step more; nothing when none is left.
    fn burn(&self) -> Option<()> {
        self.burn_some(1)
    }

    /// So many steps more; nothing, and none left, when there are not so many.
    fn burn_some(&self, steps: usize) -> Option<()> {
        let left = u32::try_from(steps).ok().and_then(|steps| self.left.get().checked_sub(steps));
        self.left.set(left.unwrap_or(0));
        left.map(drop)
    }
}

/// What is gathered while a book is looked at.
struct Looking<'r> {
    r: &'r Resolver,
    fuel: Fuel,
    text: Arc<Text>,
    statements: Vec<Statement>,
    found: Vec<Problem>,
}

/// Looks at the uppermost book of a sound program; told are the hints, and apart from them those that are answered.
#[must_use]
pub fn look(r: &Resolver, books: &[Book]) -> (Vec<Problem>, Vec<Answered>) {
    let Some(top) = books.last() else { return (Vec::new(), Vec::new()) };
    let statements = statements(top);
    let fuel = Fuel { left: Cell::new(STEPS), found: ranges::Found::default() };
    let mut looking = Looking { r, fuel, text: Arc::clone(&top.text), statements, found: Vec::new() };
    looking.unused(top);
    looking.conditions();
    looking.tables(top);
    looking.figures(top);
    looking.money();
    looking.told()
}

impl Looking<'_> {
    /// Whether something is stated by the book that is looked at.
    fn is_own<T>(&self, declared: &Declared<T>) -> bool {
        Arc::ptr_eq(&declared.text, &self.text)
    }

    /// The statement that a part of the book stands in.
    fn about(&self, span: Span) -> Option<usize> {
        about(&self.statements, span)
    }

    fn hint(&mut self, kind: &'static str, span: Span, what: String, fix: &str) {
        if self.found.len() >= MOST {
            return;
        }
        let problem = Problem::warning(kind, what).in_book(&self.text, span).fix(fix);
        self.found.push(problem);
    }

    /// A hint about a row of a table; where that stands on a sheet, both are told.
    fn hint_of_row(
        &mut self,
        kind: &'static str,
        table: &TableBlock,
        row: &TableRow,
        span: Span,
        what: String,
        fix: &str,
    ) {
        let Some(on) = &row.on_sheet else { return self.hint(kind, span, what, fix) };
        self.hint(kind, table.name.span, what, fix);
        if let Some(hint) = self.found.last_mut() {
            hint.places.push(Place::Cell(on.place.clone()));
        }
    }

    /// Hints, and those that are answered; a statement that accepts what nobody hints at is one more.
    fn told(self) -> (Vec<Problem>, Vec<Answered>) {
        let Self { text, statements, found, .. } = self;
        let (mut told, mut answered): (Vec<Problem>, Vec<Answered>) = (Vec::new(), Vec::new());
        let mut answers = vec![false; statements.len()];
        for hint in found {
            match about(&statements, place(&hint)).and_then(|i| Some((i, statements[i].accepted.as_ref()?))) {
                Some((i, accepted)) => {
                    answers[i] = true;
                    answered.push(Answered { hint, reason: accepted.reason.clone() });
                }
                None => told.push(hint),
            }
        }
        for (statement, answers) in statements.iter().zip(answers) {
            if let Some(accepted) = statement.accepted.as_ref().filter(|_| !answers) {
                let what = "Nothing is hinted at here that would be accepted.";
                let hint = Problem::warning("nothing to accept", what).in_book(&text, accepted.span);
                told.push(hint.fix("take 'accepted' out"));
            }
        }
        in_source_order(&mut told);
        answered.sort_by_key(|a| place(&a.hint));
        (told, answered)
    }
}

fn about(statements: &[Statement], span: Span) -> Option<usize> {
    // statements stand one after the other
    let at = statements.partition_point(|s| s.span.start <= span.start).checked_sub(1)?;
    (span.end <= statements[at].span.end).then_some(at)
}

fn place(problem: &Problem) -> Span {
    match problem.places.first() {
        Some(Place::Book { span, .. }) => *span,
        _ => Span::default(),
    }
}

fn statements(book: &Book) -> Vec<Statement> {
    let mut out = Vec::new();
    let mut one = |span: Span, accepted: &Option<Accepted>| out.push(Statement { span, accepted: accepted.clone() });
    for part in book.parts.iter() {
        match part {
            Part::Use(_) | Part::Example(_) => {}
            Part::Rows(block) => {
                for field in &block.fields {
                    let accepted = field
                        .clauses
                        .iter()
                        .find_map(|c| if let FieldClause::Accepted(a) = c { Some(a) } else { None });
                    one(field.span, &accepted.cloned());
                }
            }
            Part::Table(table) => {
                let last = table.rows.iter().rfind(|row| row.on_sheet.is_none()).map(|row| row.span);
                let last = last.or(table.columns.last().map(|c| c.name.span)).unwrap_or(table.name.span);
                one(table.name.span.to(last), &table.accepted);
            }
            Part::Define(define) => one(define.span, &define.accepted),
            Part::For(_, lines) => {
                for line in lines {
                    match line {
                        ForLine::Formula(f) => one(f.span, &f.accepted),
                        ForLine::Check(c) => one(c.span, &c.accepted),
                        ForLine::Item(i) => one(i.span, &i.accepted),
                        ForLine::Options(o) => one(o.span, &o.accepted),
                        ForLine::Cutting(c) => one(c.span, &c.accepted),
                        ForLine::Buying(_) | ForLine::Dividing(_) | ForLine::Telling(_) => {}
                    }
                }
            }
        }
    }
    out
}

/// Steps that run: those that some field is worked out by, from `roots` down. With `always`, those alone that are worked
/// out whatever the rows hold.
fn live(r: &Resolver, roots: impl Iterator<Item = FieldId>, always: bool) -> BTreeSet<Reg> {
    let mut seen = BTreeSet::new();
    let mut open: Vec<Reg> = roots.filter_map(|f| r.node_of(f)).collect();
    while let Some(reg) = open.pop() {
        if !seen.insert(reg) {
            continue;
        }
        match &r.d.emit.node(reg).op {
            Op::Choose { arms, .. } if always => open.extend(arms.first().map(|(condition, _)| *condition)),
            Op::And(a, _) | Op::Or(a, _) if always => open.push(*a),
            op => op.operands(|r| open.push(r)),
        }
    }
    seen
}

/// The node that a field of the same row or of one above is worked out by, where it is worked out.
fn behind(r: &Resolver, field: FieldId) -> Option<Reg> {
    if r.d.schema.field(field).input.is_some() || r.d.schema.options.as_ref().is_some_and(|o| o.field == field) {
        return None;
    }
    r.node_of(field)
}
