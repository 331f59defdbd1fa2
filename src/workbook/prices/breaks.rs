//! Breaks by quantity: columns such as *Cost from 100*, and the least that is sold at once.

use super::{P_COST, P_LEAST, RowReader, cells, in_sale_units, units};
use crate::pricing::{Break, SaleUnit};
use crate::problem::Problem;
use crate::quantity::Number;
use crate::source::CellPlace;
use crate::workbook::grid::Cell;
use crate::workbook::prices::sheet::Sheet;

/// A column of costs from a quantity up.
pub(super) struct BreakColumn {
    at: usize,
    from: Number,
    /// As its heading says it.
    heading: String,
}

/// Words before the quantity of a break.
const BEGIN: &[&str] = &["cost from ", "price from ", "unit cost from ", "unit price from ", "from "];

/// The quantity of a heading such as `Cost from 100`, `Price from 1,000 ($)`, `From 50`.
pub(super) fn quantity(heading: &str) -> Option<Number> {
    let words = heading.to_lowercase();
    let begin = BEGIN.iter().find(|b| words.starts_with(**b))?;
    let amount = cells::amount_text(words[begin.len()..].trim_end_matches('+'))?;
    let after = amount.unit.trim();
    // `From 2026-01-01` is a day; what stands in brackets is no part of the quantity
    let fits = (after.is_empty() && !amount.percent) || (after.starts_with('(') && *begin != "from ");
    Some(Number::from(amount.value)).filter(|n| fits && !n.is_zero() && !n.is_negative())
}

/// The columns of breaks, the least quantity first. A quantity stated twice and columns out of order are told.
pub(super) fn break_columns(sheet: &Sheet<'_>, problems: &mut Vec<Problem>) -> Vec<BreakColumn> {
    let mut out: Vec<BreakColumn> = Vec::new();
    for (at, heading) in sheet.headings() {
        let Some(from) = quantity(&heading) else { continue };
        let place = sheet.place_at(sheet.heading_row(), at);
        let warn = |kind, what: String, fix: &str| Problem::warning(kind, what).at_cell(place.clone()).fix(fix);
        if out.iter().any(|c| c.from == from) {
            let what = format!("The heading {heading} states a quantity that another heading states; it is left out.");
            problems.push(warn("break stated twice", what, "one column for each quantity"));
            continue;
        }
        if let Some(last) = out.last().filter(|last| last.from > from) {
            let what = format!("The heading {heading} stands after {}; the breaks are out of order.", last.heading);
            problems.push(warn("breaks out of order", what, "the column of the least quantity first"));
        }
        out.push(BreakColumn { at, from, heading });
    }
    out.sort_by_key(|c| c.from);
    out
}

/// The breaks of a row, the least quantity first.
pub(super) fn read_breaks(
    r: &mut RowReader<'_, '_>,
    columns: &[BreakColumn],
    first: Number,
    sold_by: Option<&SaleUnit>,
    stock: Option<&Number>,
) -> Vec<Break> {
    let mut out: Vec<Break> = Vec::new();
    for column in columns {
        let cell = r.sheet.cell_at(r.row, column.at);
        if cells::text(cell).is_none() {
            continue;
        }
        let place = r.sheet.place_at(r.row, column.at);
        match break_cost(r, cell, sold_by, stock) {
            Ok(cost) => {
                let before = out.last().map_or(first, |b| b.cost);
                if r.flaw.is_none() && cost > before {
                    let what = format!("{} costs more from {} up than below it.", r.code, column.from.to_decimal());
                    warn(r, &place, cell, "break costs more", what, "a lower cost, or none");
                }
                out.push(Break { from: column.from, cost });
            }
            Err((kind, what, fix)) => {
                warn(r, &place, cell, kind, what.clone(), fix);
                r.flaw.get_or_insert(crate::pricing::Flaw { what, place });
            }
        }
    }
    out
}

fn warn(r: &mut RowReader<'_, '_>, place: &CellPlace, cell: &Cell, kind: &'static str, what: String, fix: &str) {
    let problem = Problem::warning(kind, what).at_cell(place.clone()).found(cells::as_typed(cell));
    r.problems.push(problem.fix(fix));
}

type Mistake = (&'static str, String, &'static str);

/// Dollars for one unit of sale, by the unit in the cell, or else as the Cost column states its costs.
fn break_cost(
    r: &RowReader<'_, '_>,
    cell: &Cell,
    sold_by: Option<&SaleUnit>,
    stock: Option<&Number>,
) -> Result<Number, Mistake> {
    let Some(amount) = cells::amount(cell).filter(|a| !a.percent) else {
        let what = format!("A cost of {} at a break is not a number.", r.code);
        return Err(("unreadable cost", what, "a price such as 4.85; blank where the break does not hold"));
    };
    if amount.value.is_sign_negative() && !amount.value.is_zero() {
        let what = format!("A cost of {} at a break is below zero.", r.code);
        return Err(("cost below zero", what, "a price of 0 or more"));
    }
    let cost = Number::from(amount.value);
    let of_cost = cells::amount(r.cell(P_COST)).map(|a| a.unit);
    let heading = super::cost_heading_unit(r.sheet);
    let unit = [Some(amount.unit), of_cost, heading].into_iter().flatten().find(|u| !u.is_empty());
    let (Some(unit), Some(sold)) = (unit, sold_by) else { return Ok(cost) };
    let priced = units::sale_unit(&unit);
    priced.and_then(|priced| in_sale_units(&cost, &priced, sold, stock)).ok_or_else(|| {
        let what = format!("{} is sold by {}, but its cost at a break is for each {unit}.", r.code, sold.name);
        ("unit does not fit", what, "a cost for the unit in Sold by")
    })
}

/// The least that is sold at once, in units of sale, from `25` or `25 ea`.
pub(super) fn read_least(r: &mut RowReader<'_, '_>, sold_by: Option<&SaleUnit>) -> Option<Number> {
    r.text(P_LEAST)?;
    let amount = cells::amount(r.cell(P_LEAST)).filter(|a| !a.percent && !a.value.is_sign_negative());
    let least = amount.and_then(|a| {
        let value = Number::from(a.value);
        if a.unit.is_empty() {
            return Some(value);
        }
        let (unit, sold) = (units::sale_unit(&a.unit)?, sold_by?);
        match (unit.unit, sold.unit) {
            (Some(u), Some(s)) if u.dimension == s.dimension => value.scaled(u.factor / s.factor).ok(),
            (None, None) if unit.name.eq_ignore_ascii_case(&sold.name) => Some(value),
            _ => None,
        }
    });
    if least.is_none() {
        let what = format!("The minimum order of {} is no quantity of what it is sold by.", r.code);
        r.flaw("unreadable minimum order", P_LEAST, what, "a number of units of sale, such as 25");
    }
    least.filter(|n| !n.is_zero())
}
