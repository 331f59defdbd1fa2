//! Sums that the Bid shows beside the totals: where the money goes, and what follows from the rooms' figures.

use super::Document;
use super::layout::{Layout, LineColumn, TableLayout};
use super::lines::kind_word;
use super::rooms::ALTERNATE;
use crate::program::LineKind;
use crate::quantity::{Dimension, Number};
use rustc_hash::FxHashMap;

/// Rows of the table of where the money goes, the last one for what is left.
const ITEMS_SHOWN: usize = 8;

/// One item or work, or all that are left.
#[derive(Debug)]
pub struct Share {
    /// Label of the item, or of what is left.
    pub label: String,
    /// Bought or done; `None` for what is left.
    pub kind: Option<LineKind>,
    /// Cost in cents.
    pub cost: i64,
}

/// Items and works by cost, the dearest first; the small ones together.
#[must_use]
pub fn shares(doc: &Document<'_>) -> Vec<Share> {
    let mut by_item: Vec<i64> = vec![0; doc.schema.items.len()];
    for line in doc.priced.lines.iter().filter(|l| !l.apart) {
        if let (Some(sum), Some(cost)) = (by_item.get_mut(line.item as usize), line.cost) {
            *sum = sum.saturating_add(cost);
        }
    }
    // Two items of one label are one row, since the live formula finds them by label.
    let mut at: FxHashMap<(String, bool), usize> = FxHashMap::default();
    let mut out: Vec<Share> = Vec::new();
    for (item, cost) in doc.schema.items.iter().zip(by_item).filter(|(_, cost)| *cost != 0) {
        let key = (item.label.to_lowercase(), item.what == LineKind::Labor);
        let i = *at.entry(key).or_insert(out.len());
        match out.get_mut(i) {
            Some(share) => share.cost = share.cost.saturating_add(cost),
            None => out.push(Share { label: item.label.clone(), kind: Some(item.what), cost }),
        }
    }
    out.sort_by_key(|share| std::cmp::Reverse(share.cost));
    if out.len() > ITEMS_SHOWN {
        let rest = out.split_off(ITEMS_SHOWN - 1);
        let cost = rest.iter().map(|s| s.cost).fold(0i64, i64::saturating_add);
        out.push(Share { label: format!("{} others", rest.len()), kind: None, cost });
    }
    out
}

/// The live sum of an item's lines; `label` is the cell that holds its label.
#[must_use]
pub fn share_formula(layout: &Layout, label: &str, kind: LineKind) -> String {
    item_sum(layout, label, kind, LineColumn::Cost)
}

/// The live sum of a column over an item's lines.
#[must_use]
pub fn item_sum(layout: &Layout, label: &str, kind: LineKind, column: LineColumn) -> String {
    let word = kind_word(kind);
    layout.lines.over_sheets(|s| {
        let (items, kinds) = (layout.lines.range(s, LineColumn::Item), layout.lines.range(s, LineColumn::Kind));
        let values = layout.lines.range(s, column);
        format!("SUMPRODUCT(--({items}={label}),--({kinds}=\"{word}\"),{values})")
    })
}

/// The column of Rooms that holds each room's area, and its unit: the field called area, or the first that says so.
#[must_use]
pub fn area(doc: &Document<'_>, root: &TableLayout) -> Option<(u16, String, f64)> {
    let areas =
        |w: &&super::layout::Worked| doc.schema.field(w.field).ty.dimension().is_some_and(|d| d == Dimension::AREA);
    let named = |wanted: &str| {
        root.worked.iter().filter(areas).position(|w| {
            let field = doc.schema.field(w.field);
            field.name == wanted || (wanted.is_empty() && says_area(&field.label))
        })
    };
    let of_areas = ["area", "ceiling_area", "room_area", "floor_area", ""].iter().find_map(|name| named(name))?;
    let worked = root.worked.iter().filter(areas).nth(of_areas)?;
    let at = root.worked.iter().position(|w| w.field == worked.field)?;
    let sum = shown_sum(doc, root, worked)?;
    let total = doc.priced.total.map(|t| Number::from(t).over(&Number::from(100)).and_then(|t| t.over(&sum)));
    let each = total.and_then(Result::ok).map_or(0.0, |n| super::edge::number(&n));
    (!sum.is_zero()).then(|| (root.worked_column(at), worked.shown.unit.clone(), each))
}

/// The live sum of a column of the rooms that are in the bid.
#[must_use]
pub fn bid_rooms(doc: &Document<'_>, root: &TableLayout, range: &str) -> String {
    match not_apart(doc, root) {
        Some(test) => format!("SUMPRODUCT({test},{range})"),
        None => format!("SUM({range})"),
    }
}

/// A factor that leaves out rooms that an alternate would add; nothing where there are none.
#[must_use]
pub fn not_apart(doc: &Document<'_>, root: &TableLayout) -> Option<String> {
    let status = || root.range(root.cost() + 2);
    let any = !doc.priced.alternates.is_empty();
    // joined to nothing, the range stays a list in programs that else take the cell of the same row alone
    any.then(|| format!("--(LEFT({}&\"\",{})<>\"{ALTERNATE}\")", status(), ALTERNATE.len()))
}

/// The sum of a worked column's sound cells, in the unit that it is shown in.
fn shown_sum(doc: &Document<'_>, root: &TableLayout, worked: &super::layout::Worked) -> Option<Number> {
    let column = doc.run.columns.get(worked.field.0 as usize).and_then(Option::as_ref)?;
    let mut sum = Number::ZERO;
    for row in (0..root.rows as usize).filter(|row| !doc.priced.is_apart(*row)) {
        let (chunk, i) = column.locate(row);
        if chunk.fault(i).is_none()
            && let Some(value) = chunk.number(i)
        {
            sum = sum.plus(&value).ok()?;
        }
    }
    sum.scaled(doc.schema.field(worked.field).unit.factor / worked.shown.factor).ok()
}

/// The sum of a figure of the rooms.
#[derive(Debug)]
pub struct Saved {
    /// Its label, with the unit.
    pub label: String,
    /// The live sum.
    pub formula: String,
    /// Their sum.
    pub sum: f64,
    /// Number format.
    pub format: String,
}

/// Wires that the job saves against a hung grid: the rooms' figure `grid_saved`, where the books have one.
#[must_use]
pub fn saved(doc: &Document<'_>, root: &TableLayout) -> Option<Saved> {
    let at = root.worked.iter().position(|w| doc.schema.field(w.field).name == "grid_saved")?;
    let worked = root.worked.get(at)?;
    let field = doc.schema.field(worked.field);
    field.ty.dimension()?;
    let sum = shown_sum(doc, root, worked)?;
    Some(Saved {
        label: super::shown::heading(&field.label, &worked.shown.unit),
        formula: bid_rooms(doc, root, &root.range(root.worked_column(at))),
        sum: super::edge::number(&sum),
        format: worked.shown.format.clone(),
    })
}

fn says_area(label: &str) -> bool {
    let label = label.to_lowercase();
    label.contains("area") && !label.contains("open")
}
