//! The house's rules of cutting, as a job has them: what is cut together, the saw's cut, which offcuts are kept, and which
//! items may be spliced.

use super::checks::Desk;
use super::exact::Exact;
use crate::ceiling::cutting::{Splice, spliced_parts};
use crate::engine::Run;
use crate::problem::Problem;
use crate::program::{CutBy, FieldId, Item, Schema};
use crate::quantity::number::WHOLE_TOLERANCE;
use crate::quantity::show::{Style, show};
use crate::quantity::{Dimension, Number, NumberError};

/// Parts of a millimeter in which cut pieces are laid into stock.
const PARTS_PER_MM: i64 = 320_000;

/// A length in parts of a millimeter.
pub(super) fn parts(mm: &Number) -> Option<i64> {
    Exact::of_number(mm)?.times(Exact { n: i128::from(PARTS_PER_MM), d: 1 })?.near()
}

/// A length in mm from parts of one.
pub(super) fn in_mm(parts: i64) -> Result<Number, NumberError> {
    Number::from(parts).over(&Number::from(PARTS_PER_MM))
}

/// By how much a piece may overrun stock and still fit: a millionth.
pub(super) fn slack(stock: i64) -> i64 {
    stock / WHOLE_TOLERANCE
}

/// How pieces longer than stock are made of parts. Lengths in parts of a millimeter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Splicing {
    /// How far two parts lie over each other.
    pub lap: i64,
    /// Shortest part.
    pub least: i64,
    /// Length of the piece of the same stock that is laid over each joint; none where it is zero.
    pub scrap: i64,
}

impl Splicing {
    /// The parts of a piece longer than stock, as (length, number); nothing where none would do.
    pub fn parts(&self, length: i64, longest: i64) -> Option<Vec<(i64, i64)>> {
        if self.scrap > longest {
            return None;
        }
        spliced_parts(length, Splice { lap: self.lap, least: self.least }, longest)
    }
}

/// The rules of a job.
#[derive(Clone, Debug)]
pub(super) struct CutRules {
    /// What is cut together.
    pub by: CutBy,
    /// Width of the saw's cut, in parts of a millimeter.
    pub kerf: i64,
    /// Least offcut that is kept, in parts of a millimeter.
    pub keep: i64,
    /// By item.
    splices: Vec<Option<Splicing>>,
}

impl CutRules {
    /// As the books state them; a length that has no value counts as none, since whoever prices the job says so.
    pub fn of(schema: &Schema, run: &Run) -> Self {
        let length = |field: Option<FieldId>| field.and_then(|f| job_length(schema, run, f)).unwrap_or(0);
        let splices = schema.items.iter().map(|item| {
            let splice = item.splice.as_ref()?;
            Some(Splicing { lap: length(splice.lap), least: length(splice.least), scrap: length(splice.scrap) })
        });
        let (by, kerf, keep) = match &schema.cutting {
            Some(rule) => (rule.by, length(rule.kerf), length(rule.keep)),
            None => (CutBy::WholeJob, 0, 0),
        };
        Self { by, kerf, keep, splices: splices.collect() }
    }

    /// How an item's pieces are spliced; nothing where each must be whole.
    pub fn splicing(&self, item: u32) -> Option<Splicing> {
        self.splices.get(item as usize).copied().flatten()
    }

    /// Whether a piece of an item comes out of stock of that length, whole or spliced.
    pub fn can_cut(&self, item: u32, piece: i64, longest: i64) -> bool {
        piece <= longest.saturating_add(slack(longest))
            || self.splicing(item).is_some_and(|s| s.parts(piece, longest).is_some())
    }
}

/// The columns of the job that the rules of cutting read.
fn rule_fields(schema: &Schema) -> impl Iterator<Item = FieldId> + '_ {
    let of_item = |item: &Item| item.splice.map_or([None; 3], |s| [s.lap, s.least, s.scrap]);
    let of_job = schema.cutting.iter().flat_map(|rule| [rule.kerf, rule.keep]);
    of_job.chain(schema.items.iter().flat_map(of_item)).flatten()
}

/// A length of the job, no less than nothing.
fn job_length(schema: &Schema, run: &Run, field: FieldId) -> Option<i64> {
    run.columns.get(field.0 as usize)?.as_ref()?;
    run.number(schema, field, 0).ok().and_then(|mm| parts(&mm)).map(|n| n.max(0))
}

/// A length as people read it.
pub(super) fn length_text(mm: &Number) -> String {
    show(mm, Dimension::LENGTH, &Style::default()).text
}

/// Lengths of the rules of cutting that have no value, or are less than nothing, stop the job.
pub(super) fn rules_have_values(desk: &mut Desk<'_>) {
    let (schema, run) = (desk.schema, desk.run);
    for field in rule_fields(schema).collect::<Vec<_>>() {
        if !desk.has(field) {
            continue;
        }
        let of = schema.field(field);
        match run.number(schema, field, 0) {
            Err(fault) => desk.fault(of.kind, 0, fault),
            Ok(mm) if mm.is_negative() => {
                let what =
                    format!("A length of the rules of cutting comes to {}, less than nothing.", length_text(&mm));
                let problem = Problem::stop("length below zero", what).in_book(&of.text, of.span);
                desk.stop(of.kind, 0);
                desk.add(problem.kind, Some((of.kind, 0)), problem);
            }
            Ok(_) => {}
        }
    }
}
