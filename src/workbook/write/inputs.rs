//! Which cells of a priced workbook stand for what was read, and for what: rows as they were read, the settings of the job,
//! the rates of the Bid. What is typed into them is taken over when the bid is priced again.

use super::layout::{Layout, TableLayout};
use super::{Document, build_up, job, prices};
use crate::program::{FieldId, Type};
use crate::quantity::Unit;
use crate::workbook::differences::{Change, Difference};
use crate::workbook::headings::{HeadingUnit, unit_named};
use crate::workbook::typed::Of;
use rustc_hash::FxHashSet;
use std::sync::Arc;

/// The cells of a priced workbook that stand for what was read.
#[derive(Debug, Default)]
pub struct InputCells {
    tables: Vec<TableCells>,
    settings: Vec<SettingCell>,
    /// Rows of the prices on Prices.
    prices: Vec<u32>,
}

/// The cells of a table as they were read.
#[derive(Debug)]
struct TableCells {
    /// The sheet where they stand.
    sheet: String,
    /// The sheet where they were read.
    from: Arc<str>,
    /// Row of the headings where they stand.
    heading: u32,
    /// The row where each was read.
    rows: Vec<u32>,
    /// Column of the first where they stand.
    first: u16,
    /// The column where each was read.
    columns: Vec<u16>,
    /// Columns by which a row is known: its key, and the row that it belongs to.
    known_by: Vec<u16>,
}

/// The cell of a setting.
#[derive(Debug)]
struct SettingCell {
    /// The sheet where it stands.
    sheet: &'static str,
    row: u32,
    column: u16,
    of: Of,
    /// Whether its number is a part, shown as a percentage.
    percent: bool,
    /// Columns beside it that say what it is.
    known_by: &'static [u16],
}

/// The name of the Bid.
const BID: &str = "Bid";

impl InputCells {
    /// Those of a workbook.
    pub(super) fn new(doc: &Document<'_>, layout: &Layout, on_bid: &build_up::Cells) -> Self {
        let tables = layout.tables().map(|table| TableCells::new(doc, table)).collect();
        let setting = |(id, row)| SettingCell::new(doc, id, row, on_bid);
        let settings = job::settings(doc).filter_map(setting).collect();
        let prices = prices::rows(doc).map(|(row, _)| row).collect();
        Self { tables, settings, prices }
    }

    /// The sheets whose rows are not where they were written, by what was changed in a workbook: what stands in their cells
    /// may be of another row.
    #[must_use]
    pub fn moved(&self, differences: &[Difference]) -> FxHashSet<String> {
        let mut out = FxHashSet::default();
        for difference in differences.iter().filter(|d| d.change != Change::Value) {
            let Some(at) = difference.place else { continue };
            for table in self.tables.iter().filter(|t| t.sheet == difference.sheet && t.is_known_by(at)) {
                out.insert(table.sheet.clone());
            }
            for setting in self.settings.iter().filter(|s| s.sheet == difference.sheet && s.is_known_by(at)) {
                out.insert(setting.sheet.to_owned());
            }
        }
        out
    }

    /// What a cell stands for, and whether a number in it is a part, shown as a percentage; nothing for another cell, and for
    /// one on a sheet whose rows moved.
    #[must_use]
    pub fn at(&self, sheet: &str, at: (u32, u16), moved: &FxHashSet<String>) -> Option<(Of, bool)> {
        if moved.contains(sheet) {
            return None;
        }
        let of_table = || self.tables.iter().filter(|t| t.sheet == sheet).find_map(|t| Some((t.at(at)?, false)));
        let here = |s: &&SettingCell| s.sheet == sheet && (s.row, s.column) == at;
        self.settings.iter().find(here).map(|s| (s.of.clone(), s.percent)).or_else(of_table)
    }

    /// Whether a cell stands for what was read, wherever its row is now.
    #[must_use]
    pub fn holds(&self, sheet: &str, at: (u32, u16)) -> bool {
        self.at(sheet, at, &FxHashSet::default()).is_some()
    }

    /// Whether a cell is a cost of the price book, or hours for one unit of work.
    #[must_use]
    pub fn is_cost(&self, sheet: &str, (row, column): (u32, u16)) -> bool {
        sheet == prices::PRICES && matches!(column, prices::COST | prices::HOURS) && self.prices.contains(&row)
    }
}

impl TableCells {
    fn new(doc: &Document<'_>, table: &TableLayout) -> Self {
        let (input, kind) = (&doc.inputs.tables[table.table], doc.schema.kind(table.kind));
        let fields: Vec<FieldId> = super::filled::inputs_of(doc.schema, table.kind).collect();
        let columns = || input.origin.columns.iter().enumerate();
        let is_key = |field: Option<usize>| field.and_then(|f| fields.get(f)).is_some_and(|f| kind.key == Some(*f));
        let known = columns().filter(|(_, c)| is_key(c.field) || kind.names_parent(&c.heading));
        Self {
            sheet: table.sheet.clone(),
            from: Arc::clone(&input.origin.sheet),
            heading: table.heading,
            rows: input.origin.rows.clone(),
            first: table.raw_column(0),
            known_by: known.map(|(at, _)| table.raw_column(at)).collect(),
            columns: columns().map(|(_, c)| c.column).collect(),
        }
    }

    /// The row and the column of a cell among those that were read.
    fn inside(&self, (row, column): (u32, u16)) -> Option<(u32, u16)> {
        let row = row.checked_sub(self.heading + 1)?;
        Some((*self.rows.get(row as usize)?, *self.columns.get(usize::from(column.checked_sub(self.first)?))?))
    }

    fn at(&self, at: (u32, u16)) -> Option<Of> {
        let (row, column) = self.inside(at)?;
        Some(Of::Cell { sheet: Arc::clone(&self.from), row, column })
    }

    /// Whether a cell says what stands in its row or its column.
    fn is_known_by(&self, (row, column): (u32, u16)) -> bool {
        let heads = row == self.heading && self.inside((row + 1, column)).is_some();
        heads || self.known_by.contains(&column) && self.inside((row, column)).is_some()
    }
}

impl SettingCell {
    /// Nothing for a setting that no workbook gives, and for one in a unit that would not be read again.
    fn new(doc: &Document<'_>, id: FieldId, row: u32, on_bid: &build_up::Cells) -> Option<Self> {
        let field = doc.schema.field(id);
        let input = field.input.as_ref()?;
        let sheet = doc.schema.kind(field.kind).sheet.as_deref()?;
        let name = input.headings.first().unwrap_or(&field.label);
        let shown = super::shown::shown(field, None);
        let same = |unit: Unit| Some(unit.dimension) == field.ty.dimension() && unit.factor == shown.factor;
        let unit = match field.ty {
            Type::Number { .. } if !shown.unit.is_empty() => match unit_named(&shown.unit) {
                Some(HeadingUnit::Unit(unit)) if same(unit) => shown.unit.as_str(),
                _ => return None,
            },
            _ => "",
        };
        let of = Of::Setting { sheet: sheet.into(), name: name.as_str().into(), unit: unit.into() };
        let percent = shown.format.contains('%');
        let bid = on_bid.at.get(&field.name).filter(|cell| !cell.contains(job::JOB));
        Some(match bid {
            Some(cell) => {
                let row = cell.strip_prefix('B')?.parse::<u32>().ok()?.checked_sub(1)?;
                Self { sheet: BID, row, column: 1, of, percent, known_by: &[0] }
            }
            // what it is called, and its unit
            None => Self { sheet: job::JOB, row, column: 1, of, percent, known_by: &[0, 2] },
        })
    }

    fn is_known_by(&self, (row, column): (u32, u16)) -> bool {
        row == self.row && self.known_by.contains(&column)
    }
}
