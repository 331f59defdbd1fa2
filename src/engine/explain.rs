//! A fault in words: what was asked, of which row, and where it began.

use super::column::{Chunk, Fault};
use super::input::Inputs;
use super::result::Explain;
use super::run::{Engine, input_fields};
use crate::problem::Problem;
use crate::program::native::NativeArgument;
use crate::program::node::{Cause, Op, Site};
use crate::program::{FieldId, KindId, Segment, Step, Type};
use crate::quantity::show::{Style, show, spoken};
use crate::source::CellPlace;
use std::sync::Arc;

/// The kind of problem of a result that is too large, and what to do about it.
const TOO_LARGE: &str = "number too large";
const SMALLER: &str = "smaller values: a number has at most 28 digits before its point";

/// Explains the faults of a run.
#[derive(Debug)]
pub struct Explainer<'a> {
    engine: &'a Engine<'a>,
    inputs: &'a Inputs,
}

impl<'a> Explainer<'a> {
    /// For a run and the rows that it read.
    #[must_use]
    pub fn new(engine: &'a Engine<'a>, inputs: &'a Inputs) -> Self {
        Self { engine, inputs }
    }

    /// "room 104": the kind in the singular and the row's key.
    #[must_use]
    pub fn row_name(&self, kind: KindId, row: usize) -> String {
        super::names::row_of_kind(&self.engine.program().schema, self.engine.run(), self.inputs, kind, row)
    }

    fn cell_problem(&self, kind: &'static str, field: FieldId, row: usize, what: &str, fix: &str) -> Problem {
        let program = self.engine.program();
        let f = program.schema.field(field);
        let place = self.inputs.tables.iter().find(|t| t.kind == f.kind).map(|table| {
            let at = input_fields(program, f.kind).iter().position(|x| *x == field);
            table.origin.cell(row, at)
        });
        let problem = Problem::stop(kind, format!("{} {what} for {}.", f.label, self.row_name(f.kind, row))).fix(fix);
        match place {
            Some(place) => problem.at_cell(place),
            None => problem,
        }
    }

    fn in_rule(&self, kind: &'static str, site: &Site, row: usize, what: String, fix: &str) -> Problem {
        let place =
            self.inputs.tables.iter().find(|t| t.kind == site.kind && row < t.rows).map(|t| t.origin.cell(row, None));
        let problem = Problem::stop(kind, what).in_book(&site.text, site.span);
        let problem = if fix.is_empty() { problem } else { problem.fix(fix) };
        match place {
            Some(place) if !self.engine.program().schema.kind(site.kind).single => problem.at_cell(place),
            _ => problem,
        }
    }

    /// The values of a site's operands at a row, with the step itself.
    fn operands(&self, site: &Site, row: usize) -> Option<(&'a Segment, &'a Step, Vec<Chunk>)> {
        let node = site.node?;
        let program = self.engine.program();
        let segment = program.segments.iter().find(|s| {
            (s.kind == site.kind || program.schema.kinds.get(site.kind.0 as usize).is_none())
                && s.steps.iter().any(|t| t.node == node)
        })?;
        let at = segment.steps.iter().position(|t| t.node == node)?;
        Some((segment, &segment.steps[at], self.engine.row_steps(segment, row)))
    }

    fn value_text(&self, chunk: &Chunk, ty: Type, unit: crate::quantity::Unit) -> String {
        match ty {
            Type::Text => chunk.text(0).map_or_else(String::new, |t| self.engine.run().texts.get(t).to_string()),
            Type::YesNo => if chunk.yes_no(0) == Some(true) { "yes" } else { "no" }.to_owned(),
            _ => {
                let n = chunk.number(0).and_then(|n| n.scaled(unit.factor).ok());
                let style = Style { percent: ty == Type::PERCENT, ..Style::default() };
                n.map_or_else(|| "?".to_owned(), |n| spoken(&n, unit.dimension, &style).text)
            }
        }
    }

    fn asked(&self, site: &Site, row: usize, table: usize) -> String {
        let program = self.engine.program();
        let Some((_, step, regs)) = self.operands(site, row) else { return "what was asked".to_owned() };
        let Op::Lookup { keys, .. } = &step.op else { return "what was asked".to_owned() };
        let parts: Vec<String> = keys
            .iter()
            .zip(&program.tables[table].keys)
            .map(|(reg, key)| {
                let chunk = &regs[*reg as usize];
                let unit = self.unit_in_segment(site, *reg).unwrap_or_else(crate::quantity::Unit::none);
                format!("{} {}", key.name, self.value_text(chunk, key.ty, unit))
            })
            .collect();
        parts.join(", ")
    }

    fn unit_in_segment(&self, site: &Site, reg: u32) -> Option<crate::quantity::Unit> {
        let node = site.node?;
        let segment = self
            .engine
            .program()
            .segments
            .iter()
            .find(|s| s.kind == site.kind && s.steps.iter().any(|t| t.node == node))?;
        segment.steps.get(reg as usize).map(|s| s.unit)
    }

    /// What a native function says of a row, asked again.
    fn native(&self, site: &Site, row: usize, name: &str) -> Problem {
        let said = self.operands(site, row).and_then(|(segment, step, regs)| {
            super::kernel::native::asked_again(&self.engine.context(segment), step, &regs, row)
        });
        let to_blame = said.as_ref().and_then(|(fault, _)| self.blamed_cell(site, row, fault.row?.0));
        let Some((fault, child)) = said else {
            return self.in_rule("cannot be worked out", site, row, format!("This cannot be worked out{name}."), "");
        };
        let problem = self.in_rule(
            "cannot be worked out",
            site,
            row,
            // the row first: what geometry says is a sentence of its own
            match name.strip_prefix(" for ") {
                Some(row) => format!("In {row}: {}.", fault.what.trim_end_matches('.')),
                None => format!("{}.", fault.what.trim_end_matches('.')),
            },
            &fault.fix,
        );
        if let Some(cell) = to_blame {
            return Problem { places: Vec::new(), ..problem.clone() }.at_cell(cell).in_book(&site.text, site.span);
        }
        let place = child.and_then(|(kind, row)| {
            let table = self.inputs.tables.iter().find(|t| t.kind == kind && row < t.rows)?;
            Some(table.origin.cell(row, None))
        });
        match place {
            Some(place) => problem.at_cell(place),
            None => problem,
        }
    }

    /// The cell that a native function's argument was read from as it stands, of the row or of what it belongs to.
    fn blamed_cell(&self, site: &Site, row: usize, argument: usize) -> Option<CellPlace> {
        let (segment, step, _) = self.operands(site, row)?;
        let Op::Native(_, arguments) = &step.op else { return None };
        let NativeArgument::Value(reg) = arguments.get(argument)? else { return None };
        let (Op::Field(field) | Op::Parent(field)) = segment.steps.get(*reg as usize)?.op else { return None };
        let program = self.engine.program();
        let declared = program.schema.field(field);
        declared.input.as_ref()?;
        let table = self.inputs.tables.iter().find(|t| t.kind == declared.kind)?;
        let single = program.schema.kind(declared.kind).single;
        let at = input_fields(program, declared.kind).iter().position(|x| *x == field);
        let row = if single { 0 } else { self.engine.ancestor(site.kind, row, declared.kind) };
        Some(table.origin.cell(row, at))
    }

    fn count_text(&self, site: &Site, row: usize) -> Option<String> {
        let (_, step, regs) = self.operands(site, row)?;
        let Op::Count(a) = step.op else { return None };
        let n = regs.get(a as usize)?.number(0)?;
        Some(show(&n, crate::quantity::Dimension::NONE, &Style::default()).text)
    }
}

impl Explain for Explainer<'_> {
    fn fault(&self, fault: Fault) -> Problem {
        let program = self.engine.program();
        let site = &program.sites[fault.site.0 as usize];
        let row = fault.row as usize;
        let of_row = program.schema.kinds.get(site.kind.0 as usize).is_some_and(|k| !k.single);
        let name = if of_row { format!(" for {}", self.row_name(site.kind, row)) } else { String::new() };
        let rule: Arc<str> =
            site.text.text.get(site.span.range()).unwrap_or("").split_whitespace().collect::<Vec<_>>().join(" ").into();
        match &site.cause {
            Cause::Missing(field) => self.cell_problem("blank cell", *field, row, "is blank", "fill the cell in"),
            Cause::Unreadable(field) => {
                self.cell_problem("unreadable cell", *field, row, "could not be read", "see the message for this cell")
            }
            Cause::DivideByZero => self.in_rule(
                "division by zero",
                site,
                row,
                format!("A division by zero{name}."),
                "a value other than zero below the bar",
            ),
            Cause::TooLarge => self.in_rule(
                TOO_LARGE,
                site,
                row,
                format!("This number is too large to be worked with{name}: {rule}."),
                SMALLER,
            ),
            Cause::Outgrown(field) => {
                let f = program.schema.field(*field);
                if f.input.is_some() {
                    self.cell_problem(TOO_LARGE, *field, row, "is too large to be worked with", SMALLER)
                } else {
                    let label = if f.label.is_empty() { &rule } else { f.label.as_str() };
                    let what = format!("This number is too large to be worked with{name}: {label}.");
                    self.in_rule(TOO_LARGE, site, row, what, SMALLER)
                }
            }
            Cause::NegativeRoot => {
                self.in_rule("root of a negative", site, row, format!("The root of a number below zero{name}."), "")
            }
            Cause::NotACount => {
                let got = self.count_text(site, row).map_or_else(String::new, |t| format!(" It came out as {t}."));
                self.in_rule(
                    "not a count",
                    site,
                    row,
                    format!("A count must be whole and not below zero{name}.{got} The rule is: {rule}."),
                    "",
                )
            }
            Cause::NoRow(table) => {
                let asked = self.asked(site, row, *table as usize);
                let table = &program.tables[*table as usize].name;
                let what = format!("The table {table} has no row for {asked}{name}.");
                self.in_rule(
                    "no row in table",
                    site,
                    row,
                    what,
                    &format!("a row for it in the table {table}, from the manufacturer's tested figures"),
                )
            }
            Cause::Native => self.native(site, row, &name),
            Cause::Nothing(kind) => {
                let kind = &program.schema.kind(*kind).name;
                self.in_rule(
                    "nothing to choose from",
                    site,
                    row,
                    format!("There are no {kind} to take the least or most of{name}."),
                    "",
                )
            }
        }
    }
}
