//! A priced workbook worked out again from what it carries, and laid beside what stands in it.

use super::last::{Last, Since, by_line};
use super::readies::Readies;
use crate::bid::Rules;
use crate::pricing::own::line_of;
use crate::pricing::{Own, OwnEntry};
use crate::problem::Problem;
use crate::workbook::carried::Carried;
use crate::workbook::differences::{Change, Difference, without_right_values};
use crate::workbook::typed;
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

/// What somebody typed over a cell that was read, a setting or a rate.
#[derive(Clone, Debug)]
pub struct TypedCell {
    /// The cell where it was typed, `Rooms C4`; with its workbook where that is an earlier one.
    pub cell: String,
    /// What was written there; nothing for what was there when the workbook was written.
    pub written: Option<String>,
    /// What was typed.
    pub now: String,
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
    /// What was typed over cells that were read, now and in earlier pricings.
    pub cells: Vec<TypedCell>,
    /// All else that differs.
    pub differences: Vec<Difference>,
    /// Formulas without a value: the program that saved it did not work them out.
    pub not_worked_out: usize,
    /// The total that it comes to with what was typed, in cents; nothing for an incomplete bid.
    pub total: Option<i64>,
}

impl Audit {
    /// Whether anything was changed since it was written.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        let typed = self.typed.iter().any(|t| !t.before) || self.cells.iter().any(|c| c.written.is_some());
        typed || !self.removed.is_empty() || !self.differences.is_empty()
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
    let Last { carried, own, untouched, .. } = &last;
    let rules = Rules::of_the_day(carried).map_err(one)?;
    let ready = Readies::default().ready(&rules, carried.prices.as_ref(), carried.as_of, &[])?;
    let work_out = |rooms, own| Ok::<_, Vec<Problem>>(ready.work_out(rooms, ready.inputs(rooms)?, own));
    // what another version writes otherwise in a workbook that nobody saved, nobody changed by hand
    let since = if *untouched {
        Since::nothing(carried)
    } else {
        last.since(name, &work_out(&carried.rooms, carried.own.clone())?).map_err(one)?
    };
    let with_own = work_out(&since.rooms, own.clone())?;
    let differences = if since.typed.is_empty() && !untouched {
        let with = with_own.again(carried.revision, painted).map_err(one)?;
        without_right_values(name, bytes, since.other, &with.bytes).map_err(one)?
    } else {
        // what formulas come to by cells that were typed is no change of its own
        since.other.into_iter().filter(|d| d.change != Change::Value || d.now.is_empty()).collect()
    };
    let cells = typed_cells(&since.rooms.typed, &since.typed);
    let schema = &ready.program().schema;
    let ours = |entry: &OwnEntry| {
        let line = line_of(schema, with_own.engine.run(), &with_own.inputs, &with_own.priced, entry)?;
        Some(Own { quantity: Some(line.quantity), unit_cost: line.unit_cost, note: None })
    };
    let (now, before) = (by_line(own), by_line(&carried.own));
    let known = |entry: &OwnEntry| {
        now.iter().any(|(line, e)| std::ptr::eq(*e, entry) && before.get(line).is_some_and(|b| b.own == e.own))
    };
    let typed = own.iter().map(|e| Typed { entry: e.clone(), ours: ours(e), before: known(e) }).collect();
    let removed = before.iter().filter(|(line, _)| !now.contains_key(*line)).map(|(_, e)| (*e).clone()).collect();
    let (blank, differences): (Vec<_>, Vec<_>) =
        differences.into_iter().partition(|d| d.change == Change::Value && d.now.is_empty());
    let total = with_own.priced.total;
    Ok(Audit {
        carried: carried.clone(),
        untouched: *untouched,
        typed,
        removed,
        cells,
        differences,
        not_worked_out: blank.len(),
        total,
    })
}

/// What was typed before, as far as it was not typed over since, and what was typed since.
fn typed_cells(all: &[typed::Typed], since: &[Difference]) -> Vec<TypedCell> {
    let earlier = all.iter().take(all.len().saturating_sub(since.len()));
    let earlier = earlier.map(|t| TypedCell { cell: t.at.to_string(), written: None, now: t.held.to_string() });
    let later = since.iter().map(|d| TypedCell {
        cell: format!("{} {}", d.sheet, d.cell),
        written: Some(d.written.clone()),
        now: d.now.clone(),
    });
    earlier.chain(later).collect()
}
