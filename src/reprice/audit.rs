//! A priced workbook worked out again from what it carries, and laid beside what stands in it.

use super::last::Last;
use super::readies::Readies;
use crate::bid::Rules;
use crate::pricing::own::line_of;
use crate::pricing::{Own, OwnEntry};
use crate::problem::Problem;
use crate::workbook::carried::Carried;
use crate::workbook::differences::{Change, Difference, differences_by_hand};
use crate::workbook::write::{is_package, written_by_us};

/// What an estimator typed beside a line.
#[derive(Clone, Debug)]
pub struct Typed {
    /// The entry.
    pub entry: OwnEntry,
    /// What the rules and prices came to for the line, where it is there: its quantity and unit cost.
    pub ours: Option<Own>,
    /// Whether it was there when the workbook was written.
    pub before: bool,
}

/// What an audit finds.
#[derive(Debug)]
pub struct Audit {
    /// What the workbook carries.
    pub carried: Carried,
    /// Whether nobody has saved it since it was written.
    pub untouched: bool,
    /// Figures and notes typed beside lines.
    pub typed: Vec<Typed>,
    /// Figures and notes that stood beside lines when it was written, and stand there no more.
    pub removed: Vec<OwnEntry>,
    /// All else that differs.
    pub differences: Vec<Difference>,
    /// Formulas without a value: the program that saved it did not work them out.
    pub not_worked_out: usize,
    /// The total that it comes to with what was typed, in cents; nothing for an incomplete bid.
    pub total: Option<i64>,
}

fn same_line(a: &OwnEntry, b: &OwnEntry) -> bool {
    (&a.room, &a.item, &a.code, &a.part, a.nth) == (&b.room, &b.item, &b.code, &b.part, b.nth)
}

impl Audit {
    /// Whether anything was changed since it was written.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.typed.iter().any(|t| !t.before) || !self.removed.is_empty() || !self.differences.is_empty()
    }
}

/// Works a priced workbook out again.
///
/// # Errors
/// A workbook that cannot be read or carries nothing; rules that no longer compile.
pub fn audit(name: &str, bytes: &[u8]) -> Result<Audit, Vec<Problem>> {
    let one = |p: Problem| vec![p];
    if is_package(bytes) && !written_by_us(bytes) {
        let what = format!("{name} is no priced workbook.");
        let fix = "a workbook that hardlid price or hardlid reprice wrote";
        return Err(vec![Problem::stop("not a priced workbook", what).in_file(name).fix(fix)]);
    }
    let last = Last::read(name, bytes.to_vec()).map_err(one)?;
    let painted = last.painted();
    let Last { carried, own, untouched, .. } = last;
    let rules = Rules::of_the_day(&carried).map_err(one)?;
    let ready = Readies::default().ready(&rules, carried.prices.as_ref(), carried.as_of, &[])?;
    let inputs = || ready.inputs(&carried.rooms);
    let as_written = ready.work_out(&carried.rooms, inputs()?, carried.own.clone());
    let with_own = ready.work_out(&carried.rooms, inputs()?, own.clone());
    let (again, with) = (
        as_written.again(carried.revision, painted.clone()).map_err(one)?,
        with_own.again(carried.revision, painted).map_err(one)?,
    );
    let differences = differences_by_hand(name, bytes, &again.bytes, &with.bytes).map_err(one)?;
    let schema = &ready.program().schema;
    let ours = |entry: &OwnEntry| {
        let line = line_of(schema, with_own.engine.run(), &with_own.inputs, &with_own.priced, entry)?;
        Some(Own { quantity: Some(line.quantity), unit_cost: line.unit_cost, note: None })
    };
    let known = |entry: &OwnEntry| carried.own.iter().any(|c| same_line(c, entry) && c.own == entry.own);
    let typed = own.iter().map(|e| Typed { entry: e.clone(), ours: ours(e), before: known(e) }).collect();
    let there = |e: &&OwnEntry| own.iter().any(|o| same_line(o, e));
    let removed = carried.own.iter().filter(|e| !there(e)).cloned().collect();
    // what another version writes otherwise in a workbook that nobody saved, nobody changed by hand
    let differences = if untouched { Vec::new() } else { differences };
    let (blank, differences): (Vec<_>, Vec<_>) =
        differences.into_iter().partition(|d| d.change == Change::Value && d.now.is_empty());
    let total = with_own.priced.total;
    Ok(Audit { carried, untouched, typed, removed, differences, not_worked_out: blank.len(), total })
}
