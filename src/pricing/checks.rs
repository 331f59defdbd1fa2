//! Checks row by row, and the rows that something stops.

use super::priced::Finding;
use crate::engine::{Explain, Fault, Inputs, Run, names};
use crate::problem::{Problem, Weight};
use crate::program::{Check, FieldId, KindId, MessagePart, Outcome, Schema};
use crate::source::CellPlace;
use rustc_hash::FxHashSet;

/// What pricing reads, and where its findings gather.
pub(crate) struct Desk<'a> {
    /// The checked book.
    pub schema: &'a Schema,
    /// The columns.
    pub run: &'a Run,
    /// The rows as they were read.
    pub inputs: &'a Inputs,
    /// Words for faults.
    pub explain: &'a dyn Explain,
    /// The kind whose rows lines count toward.
    pub root: Option<KindId>,
    /// Rows that have no price, by kind; set at the topmost row only.
    pub stopped: Vec<Vec<bool>>,
    /// What was found.
    pub findings: Vec<Finding>,
    faults_told: FxHashSet<(KindId, u32, Fault)>,
    /// Root rows that are left out of this pricing: no checks, no lines.
    left_out: Option<&'a [bool]>,
}

impl<'a> Desk<'a> {
    /// A desk with the rows that reading stopped, and the problems of reading.
    pub fn new(schema: &'a Schema, run: &'a Run, inputs: &'a Inputs, explain: &'a dyn Explain) -> Self {
        let kinds = 0..schema.kinds.len();
        let stopped = kinds.map(|k| vec![false; run.rows.get(k).copied().unwrap_or(0)]).collect();
        let root = schema.root_kind();
        let (findings, faults_told) = (Vec::new(), FxHashSet::default());
        let mut desk = Self { schema, run, inputs, explain, root, stopped, findings, faults_told, left_out: None };
        for table in &inputs.tables {
            for (row, _) in table.stopped.iter().enumerate().filter(|(_, s)| **s) {
                desk.stop(table.kind, u32::try_from(row).unwrap_or(u32::MAX));
            }
        }
        desk
    }

    /// Leaves root rows out.
    pub fn leaving_out(mut self, rows: &'a [bool]) -> Self {
        self.left_out = Some(rows);
        self
    }

    /// Takes the problems of reading over as findings.
    pub fn take_input_problems(&mut self) {
        for p in &self.inputs.problems {
            let row = p.row.filter(|(kind, row)| (*row as usize) < self.run.rows_of(*kind));
            if let (Weight::Stop, Some((kind, row))) = (p.problem.weight, row) {
                self.stop(kind, row);
            }
            self.add(p.problem.kind, row, p.problem.clone());
        }
    }

    /// The topmost row that a row belongs to.
    pub fn top(&self, kind: KindId, row: u32) -> (KindId, u32) {
        let (mut kind, mut row) = (kind, row);
        // a chain of parents is no longer than there are kinds
        for _ in 0..self.schema.kinds.len() {
            let Some(parent) = &self.schema.kind(kind).parent else { break };
            let table = self.inputs.tables.iter().find(|t| t.kind == kind);
            let Some(above) = table.and_then(|t| t.parents.get(row as usize)).copied() else { break };
            if above as usize >= self.run.rows_of(parent.kind) {
                break;
            }
            (kind, row) = (parent.kind, above);
        }
        (kind, row)
    }

    /// The root row that a row counts toward.
    pub fn room(&self, kind: KindId, row: u32) -> Option<u32> {
        let (top, row) = self.top(kind, row);
        (Some(top) == self.root).then_some(row)
    }

    /// Stops a row, and with it the row that it belongs to.
    pub fn stop(&mut self, kind: KindId, row: u32) {
        let (top, row) = self.top(kind, row);
        if let Some(flag) = self.stopped.get_mut(top.0 as usize).and_then(|k| k.get_mut(row as usize)) {
            *flag = true;
        }
    }

    /// The root rows stopped so far; from here on no row counts as stopped.
    pub fn stops_set_aside(&mut self) -> Vec<bool> {
        let stopped = self.root.and_then(|root| self.stopped.get(root.0 as usize)).cloned().unwrap_or_default();
        self.stopped.iter_mut().for_each(|rows| rows.fill(false));
        stopped
    }

    /// Whether a row is stopped.
    pub fn is_stopped(&self, kind: KindId, row: u32) -> bool {
        let (top, row) = self.top(kind, row);
        self.stopped.get(top.0 as usize).and_then(|k| k.get(row as usize)).copied().unwrap_or(false)
    }

    /// Whether any row is stopped.
    pub fn any_stopped(&self) -> bool {
        self.stopped.iter().flatten().any(|s| *s)
    }

    /// How many rows are stopped that no root row stands for.
    pub fn stopped_elsewhere(&self) -> usize {
        let root = self.root.map(|r| r.0 as usize);
        let others = self.stopped.iter().enumerate().filter(|(k, _)| Some(*k) != root);
        others.map(|(_, rows)| rows.iter().filter(|s| **s).count()).sum()
    }

    /// Adds a finding.
    pub fn add(&mut self, name: &str, row: Option<(KindId, u32)>, problem: Problem) {
        let row_name = row.and_then(|(kind, row)| names::key(self.schema, self.run, kind, row as usize));
        self.findings.push(Finding { problem, name: name.to_owned(), row, row_name });
    }

    /// Stops a row for a fault; the same fault is told once for a topmost row.
    pub fn fault(&mut self, kind: KindId, row: u32, fault: Fault) {
        let top = self.top(kind, row);
        self.stop(kind, row);
        if self.faults_told.insert((top.0, top.1, fault)) {
            let mut problem = self.explain.fault(fault);
            problem.weight = Weight::Stop;
            self.add(problem.kind, Some((kind, row)), problem);
        }
    }

    /// The cell or row of the sheet that a row was read from.
    pub fn cell(&self, kind: KindId, row: u32) -> Option<CellPlace> {
        let table = self.inputs.tables.iter().find(|t| t.kind == kind)?;
        (!table.origin.rows.is_empty()).then(|| table.origin.cell(row as usize, None))
    }

    /// Whether a column was worked out.
    pub fn has(&self, field: FieldId) -> bool {
        self.run.columns.get(field.0 as usize).is_some_and(Option::is_some)
    }

    /// The row of a field's kind that a row of another kind sees: itself, its parent, the one row of the job.
    fn row_for(&self, field: FieldId, kind: KindId, row: u32) -> Option<u32> {
        let wanted = self.schema.field(field).kind;
        let (mut kind, mut row) = (kind, row);
        for _ in 0..=self.schema.kinds.len() {
            if kind == wanted {
                return Some(row);
            }
            let parent = self.schema.kind(kind).parent.as_ref()?.kind;
            row = self.inputs.tables.iter().find(|t| t.kind == kind)?.parents.get(row as usize).copied()?;
            kind = parent;
        }
        None
    }

    fn message(&self, check: &Check, row: u32) -> String {
        let mut out = String::new();
        for part in &check.message {
            match part {
                MessagePart::Words(words) => out += words,
                MessagePart::Value(field) => {
                    let single = self.schema.kind(self.schema.field(*field).kind).single;
                    let at = if single { Some(0) } else { self.row_for(*field, check.kind, row) };
                    let text = at.and_then(|at| names::value_text(self.schema, self.run, *field, at as usize));
                    out += text.as_deref().unwrap_or("(not known)");
                }
            }
        }
        if out.trim().is_empty() { format!("The check {} does not hold.", check.name) } else { out }
    }

    /// Works a check out for every row of its kind.
    pub fn check(&mut self, check: &Check) {
        if !self.has(check.holds) {
            return;
        }
        let column = self.run.column(check.holds);
        for row in 0..self.run.rows_of(check.kind) {
            let at = u32::try_from(row).unwrap_or(u32::MAX);
            let (chunk, within) = column.locate(row);
            let fault = chunk.fault(within);
            let holds = fault.is_none() && chunk.yes_no(within).unwrap_or(false);
            if holds || self.input_stopped(check.kind, at) {
                continue;
            }
            if let Some(fault) = fault {
                self.fault(check.kind, at, fault);
                continue;
            }
            let what = self.message(check, at);
            let problem = match check.outcome {
                Outcome::Stops => Problem::stop("check", what),
                Outcome::Warns => Problem::warning("check", what),
                Outcome::Notes => Problem::note("check", what),
            };
            let problem = match self.cell(check.kind, at) {
                Some(cell) => problem.at_cell(cell),
                None => problem,
            };
            let problem = problem.in_book(&check.text, check.span);
            if check.outcome == Outcome::Stops {
                self.stop(check.kind, at);
            }
            self.add(&check.name, Some((check.kind, at)), problem);
        }
    }

    /// Whether reading stopped a row or one that it belongs to, or it is left out: nothing more is said of such a row.
    pub fn input_stopped(&self, kind: KindId, row: u32) -> bool {
        if let Some(rows) = self.left_out
            && self.room(kind, row).is_some_and(|room| rows.get(room as usize) == Some(&true))
        {
            return true;
        }
        let (mut kind, mut row) = (kind, row);
        for _ in 0..=self.schema.kinds.len() {
            let Some(table) = self.inputs.tables.iter().find(|t| t.kind == kind) else { return false };
            if table.stopped.get(row as usize).copied().unwrap_or(false) {
                return true;
            }
            let (Some(parent), Some(above)) =
                (&self.schema.kind(kind).parent, table.parents.get(row as usize).copied())
            else {
                return false;
            };
            (kind, row) = (parent.kind, above);
        }
        false
    }
}
