//! Reads a price book: sheets *Prices*, *Labor*, *Crews* and *Job*.
//!
//! Every mistake is a problem with its cell. A row with a mistake stays in the book with its flaw, so that what
//! needs it is stopped instead of being priced by something else.

pub mod aliases;
mod breaks;
mod cells;
mod labor;
mod sheet;
mod units;

use crate::engine::input::fold;
use crate::pricing::book::{Dated, days_text, overlaps};
use crate::pricing::{Flaw, Found, OLDER_ENDS, PriceBook, PriceRow, SaleUnit, StatedWaste, TOLD_APART};
use crate::problem::Problem;
use crate::quantity::{Date, Dimension, Number, Unit};
use crate::source::CellPlace;
use crate::workbook::grid::{Cell, Grid};
use aliases::Aliases;
use labor::{CREW_COLUMNS, LABOR_COLUMNS};
use rustc_hash::FxHashSet;
use sheet::{Names, Sheet, place};
use std::sync::Arc;

const PRICE_COLUMNS: &[Names] = &[
    &["code", "item code", "material code"],
    &["item", "description", "material", "what it is"],
    &["sold by", "unit of sale", "unit", "uom", "per"],
    &["pack", "pack holds", "pack size", "holds", "per pack"],
    &["stock length", "stock", "length"],
    &["cost", "price", "unit cost", "unit price", "cost each"],
    &["from", "valid from", "in force from"],
    &["through", "valid through", "in force through", "until"],
    &["supplier", "yard", "vendor"],
    &["weight", "weight each", "unit weight"],
    &["minimum order", "min order", "least order", "minimum", "least sold"],
    &["group", "category", "class", "material group"],
];
const P_CODE: usize = 0;
const P_ITEM: usize = 1;
const P_SOLD_BY: usize = 2;
const P_PACK: usize = 3;
const P_STOCK: usize = 4;
const P_COST: usize = 5;
const P_FROM: usize = 6;
const P_THROUGH: usize = 7;
const P_SUPPLIER: usize = 8;
const P_WEIGHT: usize = 9;
const P_LEAST: usize = 10;
const P_GROUP: usize = 11;

/// Reads a price book's sheets, for a pricing date.
///
/// Problems are warnings where a row alone is at fault: such a row stays with its flaw and stops what needs it.
/// A book without a readable sheet *Prices* is a stop.
#[must_use]
pub fn read_price_book(grids: &[Grid], as_of: Date) -> (PriceBook, Vec<Problem>) {
    read_price_list(grids, as_of, &Aliases::default())
}

/// [`read_price_book`] of a list as a yard sends it, with headings and codes of the yard's own.
#[must_use]
pub fn read_price_list(grids: &[Grid], as_of: Date, aliases: &Aliases) -> (PriceBook, Vec<Problem>) {
    let mut problems = unknown_headings(aliases);
    let file: Arc<str> = grids.first().map_or_else(|| "price book".into(), |g| Arc::clone(&g.file));
    // a csv file has one sheet and no name for it: it is the prices
    let prices = named(grids, &["prices", "price list", "price book", "prices and packs", ""]);
    let prices = prices.or_else(|| only_prices(grids, aliases));
    let prices = match prices.map(|g| (g, Sheet::find(g, PRICE_COLUMNS, aliases))) {
        Some((_, Some(sheet))) if sheet.has(P_COST) => read_prices(&sheet, &mut problems),
        Some((grid, _)) => {
            let what = format!("Sheet {} has no row of headings with Code and Cost.", grid.sheet);
            problems.push(Problem::stop("no headings", what).at_cell(place(grid, 0, None)).fix(
                "put the headings Code, Item, Sold by, Pack, Stock length and Cost into one row above the prices",
            ));
            Vec::new()
        }
        None => {
            let problem = Problem::stop("no sheet", format!("{file} has no sheet Prices."));
            problems.push(problem.in_file(Arc::clone(&file)).fix("name the sheet with the prices Prices"));
            Vec::new()
        }
    };
    let crews = read_sheet(
        (grids, aliases),
        &["crews", "crew"],
        CREW_COLUMNS,
        "Crew and Wage",
        &mut problems,
        labor::read_crews,
    );
    let labor =
        read_sheet((grids, aliases), &["labor", "labour"], LABOR_COLUMNS, "Code and Crew", &mut problems, |s, p| {
            labor::read_labor(s, &crews, p)
        });
    let told = twice_in_force(&prices, TOLD_APART, &mut problems);
    twice_in_force(&labor, OLDER_ENDS, &mut problems);
    let waste = job_sheet(grids).and_then(|grid| job_waste(grid, &mut problems));
    let book = PriceBook::new(file, as_of, prices, labor, crews, waste);
    no_choices(&book, &told, &mut problems);
    (book, problems)
}

/// The sheet *Job*, names in one column and values beside them, as the file holds it.
#[must_use]
pub fn job_sheet(grids: &[Grid]) -> Option<&Grid> {
    named(grids, &["job"])
}

/// The one sheet that has the headings of prices, where none is named so.
fn only_prices<'a>(grids: &'a [Grid], aliases: &Aliases) -> Option<&'a Grid> {
    let has = |g: &&Grid| Sheet::find(g, PRICE_COLUMNS, aliases).is_some_and(|s| s.has(P_COST));
    let mut found = grids.iter().filter(has);
    found.next().filter(|_| found.next().is_none())
}

/// Headings of the rules that no sheet of a price book has.
fn unknown_headings(aliases: &Aliases) -> Vec<Problem> {
    let columns = || [PRICE_COLUMNS, LABOR_COLUMNS, CREW_COLUMNS].into_iter().flatten();
    let known = |ours: &str| {
        let words = sheet::plain(ours).0;
        columns().any(|names| names.contains(&words.as_str())) || breaks::quantity(ours).is_some()
    };
    let all: Vec<&str> = columns().filter_map(|names| names.first().copied()).collect();
    aliases.unknown(known, &all)
}

fn named<'a>(grids: &'a [Grid], names: &[&str]) -> Option<&'a Grid> {
    names.iter().find_map(|name| grids.iter().find(|g| fold(&g.sheet) == *name))
}

/// Reads a sheet that a price book may go without.
fn read_sheet<T>(
    (grids, aliases): (&[Grid], &Aliases),
    names: &[&str],
    columns: &[Names],
    headings: &str,
    problems: &mut Vec<Problem>,
    read: impl FnOnce(&Sheet<'_>, &mut Vec<Problem>) -> Vec<T>,
) -> Vec<T> {
    let Some(grid) = named(grids, names) else { return Vec::new() };
    if let Some(sheet) = Sheet::find(grid, columns, aliases) {
        return read(&sheet, problems);
    }
    if grid.rows.iter().flatten().any(|c| cells::text(c).is_some()) {
        let what = format!("Sheet {} has no row of headings with {headings}, so nothing of it is used.", grid.sheet);
        problems.push(Problem::warning("no headings", what).at_cell(place(grid, 0, None)));
    }
    Vec::new()
}

/// Gathers the mistakes of one row: each a problem, the first of them the row's flaw.
struct RowReader<'a, 'b> {
    sheet: &'a Sheet<'a>,
    row: usize,
    code: Arc<str>,
    flaw: Option<Flaw>,
    /// Whether the price is to be asked for.
    on_call: bool,
    problems: &'b mut Vec<Problem>,
}

impl RowReader<'_, '_> {
    /// A mistake that keeps the row from pricing.
    fn flaw(&mut self, kind: &'static str, column: usize, what: String, fix: &str) {
        let place = self.sheet.place(self.row, column);
        self.warn(kind, column, what.clone(), fix);
        self.flaw.get_or_insert(Flaw { what, place });
    }

    /// A mistake that does not.
    fn warn(&mut self, kind: &'static str, column: usize, what: String, fix: &str) {
        let cell = self.sheet.cell(self.row, column);
        let mut problem = Problem::warning(kind, what).at_cell(self.sheet.place(self.row, column));
        if *cell != Cell::Empty {
            problem = problem.found(cells::as_typed(cell));
        }
        self.problems.push(if fix.is_empty() { problem } else { problem.fix(fix) });
    }

    fn cell(&self, column: usize) -> &Cell {
        self.sheet.cell(self.row, column)
    }

    fn text(&self, column: usize) -> Option<Arc<str>> {
        self.sheet.text(self.row, column)
    }

    /// First and last day in force.
    fn days(&mut self, from: usize, through: usize) -> (Option<Date>, Option<Date>) {
        let mut day = |column: usize, name: &str| {
            self.text(column)?;
            let date = cells::date(self.cell(column));
            if date.is_none() {
                let what = format!("{name} of {} is not a date.", self.code);
                self.flaw("unreadable date", column, what, "a date such as 2026-03-01 or 3/1/2026");
            }
            date
        };
        let (first, last) = (day(from, "From"), day(through, "Through"));
        if let (Some(f), Some(t)) = (first, last)
            && f > t
        {
            let what = format!("{} is in force from {f} through {t}: it ends before it begins.", self.code);
            self.flaw("dates run backward", through, what, "Through must be the same day as From or later");
        }
        (first, last)
    }

    /// The unit of sale or of work of a text.
    fn unit(&mut self, column: usize, text: &str, says: &str) -> Option<SaleUnit> {
        let unit = units::sale_unit(text);
        if unit.is_none() {
            let fix = units::nearest_word(text).map_or_else(
                || "ea, lf, sf, C, M, MLF, MSF, gal, carton".to_owned(),
                |n| format!("the nearest is {n}"),
            );
            let what = format!("{} {says} {text}, which is no unit that is known.", self.code);
            self.flaw("unknown unit", column, what, &fix);
        }
        unit
    }
}

/// The code of a row; a row that has prices but no code is a problem, any other row without one is a title.
fn code_of(sheet: &Sheet<'_>, row: usize, code: usize, value: usize, problems: &mut Vec<Problem>) -> Option<Arc<str>> {
    let cell = sheet.cell(row, code);
    match cell {
        Cell::Number(_) | Cell::Text(_) => {
            if let Some(text) = cells::text(cell) {
                return Some(text.into());
            }
        }
        Cell::Empty => {}
        other => {
            let what = format!("A code is expected here, and {} is none.", cells::as_typed(other));
            problems.push(Problem::warning("unreadable code", what).at_cell(sheet.place(row, code)));
            return None;
        }
    }
    if sheet.text(row, value).is_some() {
        let what = "This row has figures and no code, so nothing can be priced by it.";
        problems.push(Problem::warning("no code", what).at_cell(sheet.place(row, code)));
    }
    None
}

fn read_prices(sheet: &Sheet<'_>, problems: &mut Vec<Problem>) -> Vec<PriceRow> {
    let mut out = Vec::new();
    let columns = breaks::break_columns(sheet, problems);
    let (mut titles, mut on_call) = (Vec::new(), Vec::new());
    for row in sheet.rows(PRICE_COLUMNS) {
        if sheet.is_title(row, P_CODE) {
            titles.push(row);
            continue;
        }
        let Some(theirs) = code_of(sheet, row, P_CODE, P_COST, problems) else { continue };
        let ours = sheet.code(&theirs);
        let code = ours.clone().unwrap_or_else(|| Arc::clone(&theirs));
        let mut r = RowReader { sheet, row, code: Arc::clone(&code), flaw: None, on_call: false, problems };
        let pack = read_pack(&mut r);
        let stock_length = read_stock(&mut r);
        let (cost, sold_by) = read_cost(&mut r, stock_length.as_ref());
        let breaks = breaks::read_breaks(&mut r, &columns, cost, sold_by.as_ref(), stock_length.as_ref());
        let least = breaks::read_least(&mut r, sold_by.as_ref());
        let weight = read_weight(&mut r, &sold_by);
        let (from, through) = r.days(P_FROM, P_THROUGH);
        let sold_by = sold_by.unwrap_or(SaleUnit { name: "".into(), unit: None });
        let mut out_row = PriceRow {
            code,
            item: item_text(r.text(P_ITEM), ours.map(|_| theirs)),
            sold_by,
            pack,
            stock_length,
            cost,
            breaks,
            reached: None,
            least,
            from,
            through,
            supplier: r.text(P_SUPPLIER),
            group: r.text(P_GROUP),
            weight,
            on_call: r.on_call,
            flaw: None,
            unit_place: sheet.place(row, if sheet.has(P_SOLD_BY) { P_SOLD_BY } else { P_COST }),
            place: sheet.place(row, P_COST),
        };
        pack_fits(&mut r, &out_row);
        out_row.flaw = r.flaw;
        if out_row.on_call {
            on_call.push((Arc::clone(&out_row.code), out_row.place.clone()));
        }
        out.push(out_row);
    }
    left_out(sheet, &titles, problems);
    without_price(&on_call, problems);
    out
}

/// What a row sells, with the yard's own code where it goes by another here.
fn item_text(item: Option<Arc<str>>, theirs: Option<Arc<str>>) -> Arc<str> {
    match (item, theirs) {
        (item, None) => item.unwrap_or_else(|| "".into()),
        // a list without codes is known by what it says of a thing
        (Some(item), Some(theirs)) if fold(&item) == fold(&theirs) => item,
        (Some(item), Some(theirs)) => format!("{item} (yard's {theirs})").into(),
        (None, Some(theirs)) => theirs,
    }
}

/// Rows that hold a title alone, told once.
fn left_out(sheet: &Sheet<'_>, titles: &[usize], problems: &mut Vec<Problem>) {
    if titles.is_empty() {
        return;
    }
    let what = match titles.len() {
        1 => "1 row that holds a code or a title alone is left out.".to_owned(),
        n => format!("{n} rows that hold a code or a title alone are left out."),
    };
    let note = Problem::note("titles left out", what);
    problems.push(titles.iter().fold(note, |note, row| note.at_cell(sheet.place(*row, P_CODE))));
}

/// Rows whose price is to be asked for, told once: they have none, and it is not zero.
fn without_price(rows: &[(Arc<str>, CellPlace)], problems: &mut Vec<Problem>) {
    let codes: Vec<&str> = rows.iter().take(8).map(|(code, _)| &**code).collect();
    let what = match (rows.len(), codes.as_slice()) {
        (0, _) => return,
        (1, [code]) => format!("{code} has no price: the list says to ask for it."),
        (n, _) if n > codes.len() => {
            format!("{n} rows have no price, since the list says to ask for it: {} and others.", codes.join(", "))
        }
        (n, _) => format!("{n} rows have no price, since the list says to ask for it: {}.", codes.join(", ")),
    };
    let problem = Problem::warning("no price", what).fix("ask for the price and put it into the cell");
    problems.push(rows.iter().fold(problem, |p, (_, place)| p.at_cell(place.clone())));
}

fn read_pack(r: &mut RowReader<'_, '_>) -> Option<crate::pricing::Pack> {
    let pack = match r.cell(P_PACK) {
        Cell::Empty => return None,
        Cell::Text(t) if t.trim().is_empty() => return None,
        cell @ (Cell::Number(_) | Cell::Text(_)) => cells::text(cell).and_then(|t| units::pack(&t)),
        _ => None,
    };
    if pack.is_none() {
        let what = format!("Pack of {} does not say what one holds.", r.code);
        r.flaw("unreadable pack", P_PACK, what, "a number with a unit, such as 1000 ea, 500 ft, 5 gal, 32 sf");
    }
    pack
}

fn read_stock(r: &mut RowReader<'_, '_>) -> Option<Number> {
    r.text(P_STOCK)?;
    let length = cells::length(r.cell(P_STOCK), r.sheet.heading_unit(P_STOCK));
    let length = length.filter(|l| !l.is_negative() && !l.is_zero());
    if length.is_none() {
        let bare = matches!(cells::amount(r.cell(P_STOCK)), Some(a) if a.unit.is_empty());
        let what = if bare {
            format!("Stock length of {} has no unit, and neither has its heading.", r.code)
        } else {
            format!("Stock length of {} is not a length.", r.code)
        };
        r.flaw("unreadable length", P_STOCK, what, "a length such as 12' or 12'-6\", or a heading Stock length (ft)");
    }
    length
}

/// Cost in dollars for one unit of sale, and that unit; a flawed row costs nothing and never prices.
fn read_cost(r: &mut RowReader<'_, '_>, stock: Option<&Number>) -> (Number, Option<SaleUnit>) {
    let stated = r.text(P_SOLD_BY);
    let amount = cells::amount(r.cell(P_COST)).filter(|a| !a.percent);
    let heading = cost_heading_unit(r.sheet);
    // the cell's own unit goes before the heading's
    let in_cost = amount.as_ref().map(|a| a.unit.clone()).filter(|u| !u.is_empty()).or(heading);
    let cost_unit = match &in_cost {
        Some(text) => r.unit(P_COST, text, "has a cost for each"),
        None => None,
    };
    let sold_by = match &stated {
        Some(text) => r.unit(P_SOLD_BY, text, "is sold by"),
        None => cost_unit.clone(),
    };
    if stated.is_none() && in_cost.is_none() && !cells::on_call(r.cell(P_COST)) {
        let what = format!("{} does not say what it is sold by.", r.code);
        r.flaw("no unit of sale", P_SOLD_BY, what, "ea, lf, sf, C, M, MLF, MSF, gal, carton");
    }
    let cost = match &amount {
        _ if r.text(P_COST).is_none() => {
            r.flaw("no cost", P_COST, format!("{} has no cost.", r.code), "a price; 0 where it costs nothing");
            None
        }
        None if cells::on_call(r.cell(P_COST)) => {
            let said = cells::as_typed(r.cell(P_COST));
            let what = format!("{} has no price: the list says \"{}\".", r.code, said.trim());
            r.on_call = true;
            r.flaw.get_or_insert(Flaw { what, place: r.sheet.place(r.row, P_COST) });
            None
        }
        None => {
            let what = format!("The cost of {} is not a number.", r.code);
            r.flaw("unreadable cost", P_COST, what, "a price such as 4.85 or $312/MLF");
            None
        }
        Some(a) if a.value.is_sign_negative() && !a.value.is_zero() => {
            r.flaw("cost below zero", P_COST, format!("The cost of {} is below zero.", r.code), "a price of 0 or more");
            None
        }
        Some(a) => Some(Number::from(a.value)),
    };
    let (Some(cost), Some(unit)) = (cost, &sold_by) else { return (Number::ZERO, sold_by) };
    let Some(priced_by) = cost_unit.filter(|_| in_cost.is_some() && stated.is_some()) else { return (cost, sold_by) };
    match in_sale_units(&cost, &priced_by, unit, stock) {
        Some(cost) => (cost, sold_by),
        None => {
            let what = format!("{} is sold by {}, but its cost is for each {}.", r.code, unit.name, priced_by.name);
            r.flaw("unit does not fit", P_COST, what, "a cost for the unit in Sold by");
            (Number::ZERO, sold_by)
        }
    }
}

/// What the heading of the costs says that they are for: `MLF` of `Cost ($/MLF)`.
fn cost_heading_unit(sheet: &Sheet<'_>) -> Option<String> {
    let heading = sheet.heading_text(P_COST).and_then(|t| t.strip_prefix('$')).map(str::trim)?;
    heading.strip_prefix('/').or_else(|| heading.strip_prefix("per ")).map(str::to_owned)
}

/// A cost stated for another unit than the one sold: feet against thousands of feet, feet against pieces of stock.
fn in_sale_units(cost: &Number, priced: &SaleUnit, sold: &SaleUnit, stock: Option<&Number>) -> Option<Number> {
    match (priced.unit, sold.unit) {
        (Some(p), Some(s)) if p.dimension == s.dimension => cost.scaled(s.factor).ok()?.scaled(p.factor.recip()).ok(),
        (Some(p), Some(s)) if p.dimension == Dimension::LENGTH && s.dimension.is_none() => {
            cost.times(stock?).ok()?.scaled(s.factor).ok()?.scaled(p.factor.recip()).ok()
        }
        (None, None) if fold(&priced.name) == fold(&sold.name) => Some(*cost),
        _ => None,
    }
}

/// Weight of one unit of sale in lb, from `1.2`, `1.2 lb` or `0.24 lb/ft`.
fn read_weight(r: &mut RowReader<'_, '_>, sold_by: &Option<SaleUnit>) -> Option<Number> {
    r.text(P_WEIGHT)?;
    let amount = cells::amount(r.cell(P_WEIGHT)).filter(|a| !a.percent && !a.value.is_sign_negative());
    let heading = r.sheet.heading_text(P_WEIGHT).map(str::to_owned);
    let weight = amount.and_then(|a| {
        let unit = Some(a.unit).filter(|u| !u.is_empty()).or(heading).unwrap_or_else(|| "lb".to_owned());
        let unit = Unit::read(&unit).ok()?;
        let lb = Number::from(a.value).scaled(unit.factor).ok()?;
        let sold = sold_by.as_ref().and_then(|s| s.unit);
        match unit.dimension {
            Dimension::FORCE => Some(lb),
            by => {
                let sold = sold.filter(|s| s.dimension * by == Dimension::FORCE)?;
                lb.scaled(sold.factor).ok()
            }
        }
    });
    if weight.is_none() {
        let what = format!("The weight of {} is not a weight for one unit of sale; it is left out.", r.code);
        r.warn("unreadable weight", P_WEIGHT, what, "pounds for one unit of sale");
    }
    weight
}

/// A pack word needs a pack, and a pack must measure what its row sells or what a piece holds.
fn pack_fits(r: &mut RowReader<'_, '_>, row: &PriceRow) {
    match (&row.sold_by.unit, &row.pack) {
        (None, None) if !row.sold_by.name.is_empty() => {
            let what = format!("{} is sold by {}, and Pack does not say what one holds.", row.code, row.sold_by.name);
            r.flaw("no pack", P_PACK, what, "a number with a unit, such as 1000 ea, 500 ft, 5 gal");
        }
        (Some(unit), Some(pack)) if !unit.dimension.is_none() && unit.dimension != pack.dimension => {
            let what = format!(
                "{} is sold by {}, and its pack of {} measures something else.",
                row.code, row.sold_by.name, pack.written
            );
            r.flaw("unit does not fit", P_PACK, what, "a pack in the unit that the row is sold by");
        }
        _ => {}
    }
}

/// Rows that nothing tells apart and that are in force on the same day; gives back which.
fn twice_in_force<T: Dated>(rows: &[T], fix: &str, problems: &mut Vec<Problem>) -> Vec<usize> {
    let mut told = Vec::new();
    for (first, second) in overlaps(rows) {
        let (a, b) = (&rows[first], &rows[second]);
        let what = format!(
            "{} has two rows in force at once: one serves {}, the other {}.",
            a.code(),
            days_text(a),
            days_text(b)
        );
        let problem = Problem::warning("two prices in force", what);
        problems.push(problem.at_cell(a.place().clone()).at_cell(b.place().clone()).fix(fix));
        told.extend([first, second]);
    }
    told
}

/// Rows of one code in force on the pricing date that are no choices though something tells them apart: a row without
/// a stock length or a supplier beside rows that have one, or rows that are sold by other measures.
fn no_choices(book: &PriceBook, told: &[usize], problems: &mut Vec<Problem>) {
    let mut seen: FxHashSet<String> = FxHashSet::default();
    for row in &book.prices {
        if !seen.insert(fold(&row.code)) {
            continue;
        }
        let Found::Several(rows) = book.price(&row.code) else { continue };
        if rows.iter().any(|at| told.contains(&(*at as usize))) {
            continue;
        }
        let what = format!(
            "{} has {} rows in force on {}, and it cannot be told whether they are choices.",
            row.code,
            rows.len(),
            book.as_of
        );
        let mut problem = Problem::warning("two prices in force", what);
        for row in rows.iter().filter_map(|at| book.prices.get(*at as usize)) {
            problem = problem.at_cell(row.place.clone());
        }
        problems.push(problem.fix(TOLD_APART));
    }
}

/// Waste for every item, from the list of names and values on sheet *Job*.
fn job_waste(grid: &Grid, problems: &mut Vec<Problem>) -> Option<StatedWaste> {
    for (at, row) in grid.rows.iter().enumerate() {
        let mut filled = row.iter().enumerate().filter(|(_, c)| cells::text(c).is_some());
        let Some((name_at, Cell::Text(name))) = filled.next() else { continue };
        let plain: String = name.to_lowercase().chars().filter(|c| c.is_alphanumeric() || *c == ' ').collect();
        if plain.trim() != "waste" {
            continue;
        }
        // a blank value states no waste; the value is the next filled cell
        let (value_at, cell) = filled.next()?;
        let place = place(grid, at, u16::try_from(value_at.max(name_at)).ok());
        let fraction = cells::fraction(cell, name.contains('%')).filter(|f| !f.is_negative());
        if fraction.is_none() {
            let what = "Waste on sheet Job is not a percent, so no waste is taken from there.";
            let problem = Problem::warning("unreadable percent", what).at_cell(place.clone());
            problems.push(problem.found(cells::as_typed(cell)).fix("a percent such as 5%"));
        }
        return fraction.map(|fraction| StatedWaste { fraction, place });
    }
    None
}
