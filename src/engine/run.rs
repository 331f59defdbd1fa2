//! Runs a program over columns, a block of rows at a time, blocks side by side on all cores.

use super::column::{BLOCK, Chunk, Column, ColumnBuilder, Data, Fault, Holds};
use super::input::Inputs;
use super::kernel::{Rows, eval, narrowed, prepared_result};
use super::result::Run;
use super::things::Things;
use crate::program::node::{Constant, Phase, Reg};
use crate::program::{FieldId, KindId, Program, Segment, SiteId, Step};
use crate::quantity::{Decimal, Unit};
use crate::source::texts::Texts;
use rayon::prelude::*;
use std::borrow::Cow;
use std::sync::Arc;

/// Rows of one kind grouped under the rows that they belong to.
#[derive(Debug, Default)]
struct Children {
    /// Where each parent's children begin in `rows`; one more at the end.
    starts: Vec<u32>,
    rows: Vec<u32>,
}

impl Children {
    /// Where those of a parent lie in `rows`.
    fn of(&self, parent: usize) -> std::ops::Range<usize> {
        let at = |i: usize| self.starts.get(i).map_or(0, |s| *s as usize);
        at(parent)..at(parent + 1)
    }
}

/// A program with the rows of one job.
#[derive(Debug)]
pub struct Engine<'p> {
    program: &'p Program,
    run: Run,
    /// Things that do not depend on options.
    lasting: Arc<Things>,
    parents: Vec<Vec<u32>>,
    children: Vec<Children>,
    constants: Vec<Chunk>,
    results: Vec<Vec<Data>>,
    /// Rows of the options' kind for which native functions are not asked, while an option is tried out.
    left_out: Vec<bool>,
}

/// What a step can see while a segment runs.
pub struct Context<'a> {
    /// The program.
    pub program: &'a Program,
    /// Columns that are done.
    pub columns: &'a [Option<Column>],
    /// The dictionary.
    pub texts: &'a Texts,
    /// The segment's kind.
    pub kind: KindId,
    /// Constants as blocks of one value.
    pub constants: &'a [Chunk],
    /// Table results as blocks.
    pub results: &'a [Vec<Data>],
    /// What native functions made.
    pub things: &'a Things,
    /// Rows of this kind for which native functions are not asked; none where it is empty.
    pub left_out: &'a [bool],
    steps: &'a [Step],
    rows: &'a [usize],
    parents: &'a [Vec<u32>],
    children: &'a [Children],
}

impl Context<'_> {
    /// The unit of a step of the segment.
    #[must_use]
    pub fn unit_of(&self, reg: Reg) -> Unit {
        self.steps[reg as usize].unit
    }

    /// The row above a row, at the level of a kind.
    #[must_use]
    pub fn ancestor(&self, kind: KindId, row: usize, target: KindId) -> usize {
        ancestor(self.program, self.parents, (kind, row), target)
    }

    /// The rows of a kind that belong to a row of this segment's kind.
    pub fn children(&self, kind: KindId, row: usize) -> impl Iterator<Item = usize> + '_ {
        let belongs = self.program.schema.kind(kind).parent.is_some();
        let under = &self.children[kind.0 as usize];
        let range = if belongs { under.of(row) } else { 0..self.rows[kind.0 as usize] };
        range.map(move |i| if belongs { under.rows[i] as usize } else { i })
    }
}

impl<'p> Engine<'p> {
    /// Takes the columns of what was read; tables keep their origins and flags.
    #[must_use]
    pub fn start(program: &'p Program, inputs: &mut Inputs) -> Self {
        let kinds = program.schema.kinds.len();
        let mut run = Run {
            rows: vec![0; kinds],
            columns: vec![None; program.schema.fields.len()],
            texts: std::mem::take(&mut inputs.texts), // put back below, when it is complete
            things: Arc::default(),
            outgrown: program.outgrown,
        };
        run.rows[program.job.0 as usize] = 1;
        let mut parents = vec![Vec::new(); kinds];
        for table in &mut inputs.tables {
            let kind = table.kind.0 as usize;
            // the job is there whether or not a sheet speaks of it
            if program.schema.kinds[kind].single && table.rows == 0 {
                continue;
            }
            run.rows[kind] = table.rows;
            parents[kind].clone_from(&table.parents);
            let fields = input_fields(program, table.kind);
            for (field, column) in fields.into_iter().zip(std::mem::take(&mut table.columns)) {
                run.columns[field.0 as usize] = Some(column);
            }
        }
        let mut engine = Self {
            program,
            parents,
            children: (0..kinds).map(|_| Children::default()).collect(),
            constants: program.constants.iter().map(constant_chunk).collect(),
            results: program
                .tables
                .iter()
                .map(|t| t.results.iter().map(|r| prepared_result(&r.values)).collect())
                .collect(),
            lasting: Arc::clone(&run.things),
            run,
            left_out: Vec::new(),
        };
        engine.fill_unread();
        inputs.texts = Arc::clone(&engine.run.texts);
        engine.group_children();
        engine
    }

    /// Kinds that were not read have columns all the same: of no rows, or of defaults for the job.
    fn fill_unread(&mut self) {
        for kind in self.program.schema.kind_ids() {
            if kind == self.program.lines {
                continue;
            }
            for field in input_fields(self.program, kind) {
                let rows = self.run.rows_of(kind);
                if self.run.columns[field.0 as usize].is_none() {
                    let column = default_column(self.program, field, rows, Arc::make_mut(&mut self.run.texts));
                    self.run.columns[field.0 as usize] = Some(column);
                }
            }
        }
    }

    fn group_children(&mut self) {
        for (k, kind) in self.program.schema.kinds.iter().enumerate() {
            let Some(parent) = &kind.parent else { continue };
            let above = self.run.rows_of(parent.kind);
            let mut starts = vec![0u32; above + 2];
            for p in &self.parents[k] {
                if (*p as usize) < above {
                    starts[*p as usize + 2] += 1;
                }
            }
            for i in 2..starts.len() {
                starts[i] += starts[i - 1];
            }
            let mut rows = vec![0u32; self.parents[k].len()];
            for (row, p) in self.parents[k].iter().enumerate() {
                if (*p as usize) < above {
                    let slot = &mut starts[*p as usize + 1];
                    rows[*slot as usize] = u32::try_from(row).unwrap_or(u32::MAX);
                    *slot += 1;
                }
            }
            starts.truncate(above + 1);
            self.children[k] = Children { starts, rows };
        }
    }

    /// Works out everything that needs neither an option nor prices.
    pub fn rows_alone(&mut self) {
        self.work(Phase::Rows);
        self.lasting = Arc::clone(&self.run.things);
    }

    /// Works out what depends on options anew. Things of the options before are let go: of many rooms they would take
    /// more memory than all else.
    fn work_options(&mut self) {
        let before = std::mem::replace(&mut self.run.things, Arc::new(Things::over(&self.lasting)));
        // a pool of one thread, as each of many bids has, would put this off until all bids are done
        if rayon::current_num_threads() > 1 {
            rayon::spawn(move || drop(before));
        }
        self.work(Phase::Options);
    }

    /// Works out what depends on options with every row under the same one, by its place among the choices.
    pub fn under_one_option(&mut self, choice: usize) {
        if let Some((options, names)) = self.option_names() {
            let chunk = Chunk { data: Data::Text(vec![names[choice.min(names.len() - 1)]]), faults: None };
            let blocks = self.run.rows_of(options.kind).div_ceil(BLOCK);
            self.run.columns[options.field.0 as usize] = Some(Column { chunks: vec![chunk; blocks] });
            self.work_options();
        }
    }

    /// The same for rows that may take the option; nothing is laid out for those that are left out, and what leans on it
    /// is a fault there.
    pub fn tried_under(&mut self, choice: usize, left_out: &[bool]) {
        if self.program.rows_alone {
            left_out.clone_into(&mut self.left_out);
        }
        self.under_one_option(choice);
        self.left_out.clear();
    }

    /// Works out what depends on options with each row under its own, by its place among the choices.
    pub fn under_options(&mut self, chosen: &[u32]) {
        if let Some((options, names)) = self.option_names() {
            let mut column = ColumnBuilder::new(Holds::Texts);
            for choice in chosen {
                column.push_text(names[(*choice as usize).min(names.len() - 1)]);
            }
            self.run.columns[options.field.0 as usize] = Some(column.finish());
            self.work_options();
        }
    }

    /// The options with their names in the dictionary.
    fn option_names(&self) -> Option<(&'p crate::program::Options, Vec<u32>)> {
        let options = self.program.schema.options.as_ref().filter(|o| !o.choices.is_empty())?;
        Some((options, options.choices.iter().map(|c| self.run.texts.find(&c.name).unwrap_or(0)).collect()))
    }

    /// Works out everything that does not need prices; a row stands under the first option that it may and can take.
    pub fn before_pricing(&mut self) {
        self.rows_alone();
        if let Some(options) = &self.program.schema.options {
            let allowed = super::options::allowed(self, options);
            let mut passes = Vec::new();
            for choice in 0..options.choices.len() {
                self.under_one_option(choice);
                passes.push(super::options::passes(self, options));
            }
            let rows = self.run.rows_of(options.kind);
            let chosen: Vec<u32> = (0..rows).map(|row| super::options::first(row, &allowed, &passes)).collect();
            self.under_options(&chosen);
        }
    }

    /// Works out the job's figures from priced lines; `columns` are those of the kind `lines`, in its fields' order.
    pub fn after_pricing(&mut self, rows: usize, columns: Vec<Column>) {
        let lines = self.program.lines;
        self.run.rows[lines.0 as usize] = rows;
        for (field, column) in input_fields(self.program, lines).into_iter().zip(columns) {
            self.run.columns[field.0 as usize] = Some(column);
        }
        // children's columns over lines come first, in the order of the segments
        self.work(Phase::Priced);
    }

    fn work(&mut self, phase: Phase) {
        for i in 0..self.program.segments.len() {
            let segment = &self.program.segments[i];
            if segment.phase != phase {
                continue;
            }
            let rows = self.run.rows_of(segment.kind);
            let ctx = self.context(segment);
            let blocks: Vec<Vec<Chunk>> = (0..rows.div_ceil(BLOCK))
                .into_par_iter()
                .map(|block| {
                    let start = block * BLOCK;
                    let regs = block_of(&ctx, segment, Rows { block, start, len: BLOCK.min(rows - start) });
                    segment.outputs.iter().map(|(_, reg)| regs[*reg as usize].as_ref().clone()).collect()
                })
                .collect();
            let mut columns: Vec<Column> = segment.outputs.iter().map(|_| Column::default()).collect();
            for block in blocks {
                for (column, chunk) in columns.iter_mut().zip(block) {
                    column.chunks.push(chunk);
                }
            }
            for ((field, _), column) in segment.outputs.iter().zip(columns) {
                self.run.columns[field.0 as usize] = Some(column);
            }
        }
    }

    pub(super) fn context<'a>(&'a self, segment: &'a Segment) -> Context<'a> {
        Context {
            program: self.program,
            columns: &self.run.columns,
            texts: &self.run.texts,
            kind: segment.kind,
            constants: &self.constants,
            results: &self.results,
            things: &self.run.things,
            left_out: match &self.program.schema.options {
                Some(options) if options.kind == segment.kind => &self.left_out,
                _ => &[],
            },
            steps: &segment.steps,
            rows: &self.run.rows,
            parents: &self.parents,
            children: &self.children,
        }
    }

    /// The values of every step of a segment for one row: what `why` and messages are made from.
    #[must_use]
    pub fn row_steps(&self, segment: &Segment, row: usize) -> Vec<Chunk> {
        let ctx = self.context(segment);
        // columns are loaded by block; the row's block is worked through and the row picked out
        let block = row / BLOCK;
        let start = block * BLOCK;
        let rows = self.run.rows_of(segment.kind);
        let regs = block_of(&ctx, segment, Rows { block, start, len: BLOCK.min(rows.saturating_sub(start)) });
        regs.into_iter().map(|c| one_row(&c, row - start)).collect()
    }

    /// The row above a row, at the level of a kind.
    #[must_use]
    pub fn ancestor(&self, kind: KindId, row: usize, target: KindId) -> usize {
        ancestor(self.program, &self.parents, (kind, row), target)
    }

    /// The rows of a kind that belong to a row of the kind above it; all of them where it belongs to none.
    #[must_use]
    pub fn children(&self, kind: KindId, row: usize) -> Vec<usize> {
        let under = &self.children[kind.0 as usize];
        match &self.program.schema.kind(kind).parent {
            Some(_) => under.rows[under.of(row)].iter().map(|r| *r as usize).collect(),
            None => (0..self.run.rows_of(kind)).collect(),
        }
    }

    /// The columns so far.
    #[must_use]
    pub fn run(&self) -> &Run {
        &self.run
    }

    /// The program.
    #[must_use]
    pub fn program(&self) -> &'p Program {
        self.program
    }
}

fn ancestor(program: &Program, parents: &[Vec<u32>], of: (KindId, usize), target: KindId) -> usize {
    let (mut kind, mut row) = of;
    while kind != target {
        match &program.schema.kind(kind).parent {
            Some(parent) => {
                row = parents[kind.0 as usize].get(row).map_or(0, |r| *r as usize);
                kind = parent.kind;
            }
            None => return 0,
        }
    }
    row
}

fn block_of<'a>(ctx: &Context<'a>, segment: &'a Segment, rows: Rows) -> Vec<Cow<'a, Chunk>> {
    let mut regs: Vec<Cow<'a, Chunk>> = Vec::with_capacity(segment.steps.len());
    for step in &segment.steps {
        let made = eval(ctx, step, &regs, rows);
        regs.push(made);
    }
    regs
}

fn one_row(chunk: &Chunk, row: usize) -> Chunk {
    let faults = chunk.fault(row).map(|f| vec![Some(f)].into_boxed_slice());
    let data = match &chunk.data {
        Data::Text(_) => Data::Text(vec![chunk.text(row).unwrap_or(0)]),
        Data::YesNo(_) => Data::YesNo(vec![chunk.yes_no(row).unwrap_or(false)]),
        _ => narrowed(vec![if faults.is_some() {
            crate::quantity::Number::ZERO
        } else {
            chunk.number(row).unwrap_or(crate::quantity::Number::ZERO)
        }]),
    };
    Chunk { data, faults }
}

/// The input fields of a kind, in the order of its columns.
#[must_use]
pub fn input_fields(program: &Program, kind: KindId) -> Vec<FieldId> {
    let schema = &program.schema;
    schema.kind(kind).fields.iter().copied().filter(|f| schema.field(*f).input.is_some()).collect()
}

fn constant_chunk(constant: &Constant) -> Chunk {
    let data = match constant {
        Constant::Number(n) => narrowed(vec![*n]),
        Constant::Text(t) => Data::Text(vec![*t]),
        Constant::YesNo(v) => Data::YesNo(vec![*v]),
    };
    Chunk { data, faults: None }
}

/// What a kind of values is kept as.
#[must_use]
pub fn holds(program: &Program, field: FieldId) -> Holds {
    match program.schema.field(field).ty {
        crate::program::Type::Text => Holds::Texts,
        crate::program::Type::YesNo => Holds::YesNo,
        _ => Holds::Numbers,
    }
}

/// Pushes a value in base units onto a column of a field.
fn push_value(
    program: &Program,
    builder: &mut ColumnBuilder,
    value: &crate::program::Value,
    field: FieldId,
    texts: &mut Texts,
) {
    use crate::program::Value;
    match value {
        Value::Number(n) => match n.scaled(program.schema.field(field).unit.factor.recip()) {
            Ok(n) => builder.push_number(n.to_decimal()),
            Err(_) => builder.push_fault(SiteId(program.outgrown.0.saturating_add(field.0))),
        },
        Value::Text(t) => builder.push_text(texts.intern(t)),
        Value::YesNo(v) => builder.push_yes_no(*v),
        Value::Date(d) => builder.push_number(crate::program::resolve::days_of(*d).into()),
    }
}

fn default_column(program: &Program, field: FieldId, rows: usize, texts: &mut Texts) -> Column {
    let f = program.schema.field(field);
    let mut builder = ColumnBuilder::new(holds(program, field));
    for _ in 0..rows {
        match &f.input {
            Some(crate::program::Input { default: Some(value), .. }) => {
                push_value(program, &mut builder, value, field, texts)
            }
            Some(input) => builder.push_fault(input.missing),
            None => builder.push_number(Decimal::ZERO),
        }
    }
    builder.finish()
}

/// A table made from values in base units, for examples and for expressions worked out alone.
#[must_use]
pub fn table_of_values(
    program: &Program,
    kind: KindId,
    rows: &[Vec<(FieldId, crate::program::Value)>],
    parents: Vec<u32>,
    texts: &mut Texts,
) -> super::input::InputTable {
    let columns = input_fields(program, kind)
        .into_iter()
        .map(|field| {
            let f = program.schema.field(field);
            let mut builder = ColumnBuilder::new(holds(program, field));
            for row in rows {
                let given = row.iter().find(|(id, _)| *id == field).map(|(_, v)| v);
                match (given.or(f.input.as_ref().and_then(|i| i.default.as_ref())), &f.input) {
                    (Some(value), _) => push_value(program, &mut builder, value, field, texts),
                    (None, Some(input)) => builder.push_fault(input.missing),
                    (None, None) => {}
                }
            }
            builder.finish()
        })
        .collect();
    let name: Arc<str> = "example".into();
    super::input::InputTable {
        kind,
        rows: rows.len(),
        columns,
        parents,
        stopped: vec![false; rows.len()],
        origin: super::input::Origin {
            file: Arc::clone(&name),
            sheet: name,
            heading_row: 0,
            rows: (0..u32::try_from(rows.len()).unwrap_or(0)).collect(),
            columns: Vec::new(),
        },
    }
}

/// The fault of a row of a field, if it has one.
#[must_use]
pub fn fault_of(run: &Run, field: FieldId, row: usize) -> Option<Fault> {
    run.columns[field.0 as usize].as_ref().and_then(|c| c.fault(row))
}
