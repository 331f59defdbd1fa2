//! Tree to checked program: names, types and dimensions, order and cycles, slots instead of names.
//!
//! `declare` gathers names from all books; `resolve`, `calls`, `tables` and `rules` turn expressions into typed nodes
//! with the help of `emit`; `segments` orders the nodes into passes over rows. Nothing here reads a row.

pub mod builtin;
mod calls;
mod cells;
mod cutting;
pub mod declare;
pub mod editions;
pub mod emit;
mod foreign;
pub mod hints;
pub mod library;
mod literals;
pub mod native;
mod native_calls;
pub mod node;
mod operators;
mod options;
pub mod reference;
pub mod resolve;
mod rules;
pub mod scalar;
pub mod schema;
mod segments;
pub mod tables;
pub mod types;
pub mod workings;

pub use rules::{ExampleProgram, Shows};
pub use schema::*;
pub use segments::{Segment, Step};

use crate::notation::tree::{Book, Expr, TableBlock};
use crate::problem::{Problem, Weight, in_source_order};
use crate::source::Text;
use crate::source::digest::digest;
use crate::source::texts::Texts;
use indexmap::IndexMap;
use node::{Constant, Site, Table};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A checked book with all its layers, ready to run.
#[derive(Debug)]
pub struct Program {
    /// What it declares.
    pub schema: Schema,
    /// Constants of its steps.
    pub constants: Vec<Constant>,
    /// Its passes, in order.
    pub segments: Vec<Segment>,
    /// Whether what depends on options in a row never leans on another row of its kind, so that a row can be left out
    /// while others are worked out; no where there are none.
    pub rows_alone: bool,
    /// Its tables.
    pub tables: Vec<Table>,
    /// Tables as they are in force, by name, each with the book that states it: what `why` quotes.
    pub in_force: IndexMap<String, (Arc<Text>, TableBlock)>,
    /// Its texts; a run's dictionary begins with them.
    pub texts: Texts,
    /// Where faults can begin.
    pub sites: Vec<Site>,
    /// The first of a row of places, one for each field: where a value too large for the unit it is told in begins.
    pub outgrown: SiteId,
    /// Its examples.
    pub examples: Vec<ExampleProgram>,
    /// The field of the expression that was asked for beside the books.
    pub asked: Option<FieldId>,
    /// The job.
    pub job: KindId,
    /// The priced lines.
    pub lines: KindId,
    /// The native functions that its steps may call.
    pub natives: native::Natives,
    /// The syntax trees, lowest layer first.
    pub books: Vec<Book>,
    /// What in the uppermost book is sound and worth a second look.
    pub hints: Vec<Problem>,
    /// What would be, and is answered there.
    pub answered: Vec<hints::Answered>,
    /// Which step each part of an expression became; kept by [`compile_to_explain`] alone.
    pub workings: Option<workings::Workings>,
}

/// A book to compile: its tree, the name of its file (or "built in"), and the digest of its text.
#[derive(Clone, Debug)]
pub struct BookSource {
    /// Its tree.
    pub book: Book,
    /// File name.
    pub file: String,
    /// SHA-256 of its text, in hex.
    pub digest: String,
    /// The layers that it uses, directly and through others, from 0 for the lowest.
    pub lower: BTreeSet<usize>,
    /// The sheets that its tables are read from.
    pub sheets: Vec<SheetUsed>,
}

impl BookSource {
    /// A book that uses no other and reads no sheet.
    #[must_use]
    pub fn alone(book: Book, file: &str) -> Self {
        let digest = digest(book.text.text.as_bytes());
        Self { book, file: file.to_owned(), digest, lower: BTreeSet::new(), sheets: Vec::new() }
    }
}

/// Checks and compiles books, lowest layer first; `natives` are the functions of upper layers that they may call. With
/// an expression of the job besides, if one is asked for.
///
/// # Errors
/// Every mistake, in source order. Warnings alone do not make an error; they come with the program.
pub fn compile(
    books: Vec<BookSource>,
    asked: Option<(&Arc<Text>, &Expr)>,
    natives: native::Natives,
) -> Result<(Program, Vec<Problem>), Vec<Problem>> {
    compile_aside(books, asked, natives, false)
}

/// As [`compile`], with what it takes to tell how a figure was worked out.
///
/// # Errors
/// As [`compile`].
pub fn compile_to_explain(
    books: Vec<BookSource>,
    natives: native::Natives,
) -> Result<(Program, Vec<Problem>), Vec<Problem>> {
    compile_aside(books, None, natives, true)
}

fn compile_aside(
    books: Vec<BookSource>,
    asked: Option<(&Arc<Text>, &Expr)>,
    natives: native::Natives,
    noting: bool,
) -> Result<(Program, Vec<Problem>), Vec<Problem>> {
    // deep chains of formulas are followed by recursion: a stack of its own keeps any book within bounds
    std::thread::scope(|scope| {
        let work = std::thread::Builder::new()
            .stack_size(512 * 1024 * 1024)
            .spawn_scoped(scope, || compile_here(books, asked, natives, noting));
        match work.map(std::thread::ScopedJoinHandle::join) {
            Ok(Ok(result)) => result,
            _ => Err(vec![Problem::stop(
                "book too large",
                "This book is too large to be worked through on this machine.",
            )]),
        }
    })
}

fn compile_here(
    books: Vec<BookSource>,
    asked: Option<(&Arc<Text>, &Expr)>,
    natives: native::Natives,
    noting: bool,
) -> Result<(Program, Vec<Problem>), Vec<Problem>> {
    let mut r = resolve::Resolver::new(declare::declare(&books, natives));
    let books: Vec<Book> = books.into_iter().map(|b| b.book).collect();
    r.noted = noting.then(workings::Noted::default);
    r.all_tables();
    r.all_defines();
    r.all_formulas();
    r.all_checks();
    r.all_items();
    r.all_options();
    r.the_cutting();
    r.the_buying();
    r.the_dividing();
    r.the_telling();
    r.all_cited();
    r.no_formula_needs_its_price();
    let sound = !r.d.untold && r.d.problems.iter().all(|p| p.weight != Weight::Stop);
    let (hints, answered) = if sound { hints::look(&r, &books) } else { (Vec::new(), Vec::new()) };
    let examples = r.all_examples();
    let asked = asked.and_then(|(text, expr)| {
        let scope = r.job_scope(text);
        let reg = r.expr(&scope, expr)?;
        let job = r.d.job;
        Some(r.hidden_field(job, reg, text, expr.span))
    });
    let mut problems = std::mem::take(&mut r.d.problems);
    in_source_order(&mut problems);
    problems.dedup_by(|a, b| a.what == b.what && a.kind == b.kind && render_place(a) == render_place(b));
    // what was left untold has its cause among these, or among what reading told
    if r.d.untold || problems.iter().any(|p| p.weight == Weight::Stop) {
        return Err(problems);
    }
    let segments = segments::segments(&r);
    r.d.schema.looked_at = looked_at(&r.d.schema, &segments);
    // what lines are told apart by is in the dictionary before there are lines
    let items = r.d.schema.items.iter().map(|i| i.name.clone());
    let names: Vec<String> = items.chain(r.d.option_names.clone()).collect();
    for name in names.iter().map(String::as_str).chain(["material", "labor"]) {
        r.d.emit.texts.intern(name);
    }
    let resolve::Resolver { mut d, tables, noted, .. } = r;
    let rows_alone = options::rows_are_alone(&d.schema, &segments);
    let outgrown = d.outgrown_sites();
    let nodes = std::mem::take(&mut d.emit.nodes);
    let program = Program {
        schema: d.schema,
        constants: d.emit.constants,
        segments,
        rows_alone,
        tables,
        in_force: d.tables.into_iter().map(|(name, t)| (name, (t.text, t.what))).collect(),
        texts: d.emit.texts,
        sites: d.emit.sites,
        outgrown,
        examples,
        asked,
        job: d.job,
        lines: d.lines,
        natives,
        books,
        hints,
        answered,
        workings: noted.map(|noted| noted.workings(nodes)),
    };
    Ok((program, problems))
}

/// Input fields that some rule looks at, in order.
fn looked_at(schema: &Schema, segments: &[Segment]) -> Vec<FieldId> {
    let of = |step: &segments::Step| match &step.op {
        node::Op::Field(field) | node::Op::Parent(field) => vec![*field],
        node::Op::Fold { value, condition, .. } => [*value, *condition].into_iter().flatten().collect(),
        _ => Vec::new(),
    };
    let all = segments.iter().flat_map(|s| &s.steps).flat_map(of);
    // a rule of the job may name what was read as it stands
    let buying = schema.buying.iter().flat_map(|b| [b.first, b.only, b.charging.and_then(|c| c.when)]);
    let cutting = schema.cutting.iter().flat_map(|c| [c.kerf, c.keep]);
    let all = all.chain(buying.chain(cutting).flatten());
    let inputs: BTreeSet<FieldId> = all.filter(|f| schema.field(*f).input.is_some()).collect();
    inputs.into_iter().collect()
}

fn render_place(p: &Problem) -> Option<(String, crate::source::Span)> {
    match p.places.first() {
        Some(crate::source::Place::Book { text, span }) => Some((text.name.clone(), *span)),
        _ => None,
    }
}
