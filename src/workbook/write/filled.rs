//! Live formulas of rows, filled in: fields become the cells of one row, children those that belong to it.

use super::as_read::AS_READ;
use super::layout::{TableLayout, quoted};
use super::{Document, job, tables};
use crate::notation::tree::How;
use crate::program::{FieldId, KindId, Schema};
use crate::source::column_letters;
use crate::workbook::live::{Fold, Piece};
use rustc_hash::FxHashMap;
use std::fmt::Write as _;
use std::ops::Range;

/// Characters of a formula, by the file format.
const LONGEST: usize = 8_192;

/// Where the cells of fields stand, and which rows belong to which.
#[derive(Debug, Default)]
pub struct Places {
    sheets: FxHashMap<KindId, Sheet>,
    cells: FxHashMap<FieldId, Place>,
    typed: FxHashMap<FieldId, String>,
    /// Cells of the job's settings.
    settings: FxHashMap<FieldId, String>,
    tables: FxHashMap<u32, Columns>,
}

/// The columns of a table as formulas name them, the first of which numbers its rows.
#[derive(Debug)]
struct Columns {
    ranges: Vec<String>,
    /// How many keys follow the first.
    keys: usize,
}

/// A kind's sheet.
#[derive(Debug)]
struct Sheet {
    /// Its name as formulas write it.
    name: String,
    /// Sheet row of its first row, from 1.
    first: u32,
    /// The kind whose rows have its rows, and the row that each belongs to.
    parent: Option<(KindId, Vec<u32>)>,
    /// Its rows by the row that they belong to.
    under: Vec<Vec<u32>>,
}

/// The column of a field's values.
#[derive(Debug)]
struct Place {
    letters: String,
    /// Whether it stands among the cells as they were read.
    aside: bool,
}

/// A row and the sheet that a formula of it stands on.
#[derive(Clone, Copy, Debug)]
pub struct For {
    /// Its kind.
    pub kind: KindId,
    /// Its row.
    pub row: u32,
    /// The kind on whose sheet the formula stands; none for another sheet.
    pub on: Option<KindId>,
}

impl Places {
    /// Where the fields of tables stand.
    pub fn new<'t>(doc: &Document<'_>, all: impl Iterator<Item = &'t TableLayout> + Clone) -> Self {
        let mut out = Self::default();
        if doc.live.is_empty() {
            return out;
        }
        out.settings = job::settings(doc).map(|(id, row)| (id, job::address(row))).collect();
        let placed = tables::places(&doc.live.tables);
        for table in &doc.live.tables {
            if let Some(rows) = placed.get(&table.number) {
                let ranges = (0..=table.columns.len()).map(|column| tables::range(column, *rows, true)).collect();
                out.tables.insert(table.number, Columns { ranges, keys: table.keys });
            }
        }
        for table in all.clone() {
            let input = &doc.inputs.tables[table.table];
            let parent = doc.schema.kind(table.kind).parent.as_ref().map(|p| (p.kind, input.parents.clone()));
            let sheet = Sheet { name: quoted(&table.sheet), first: table.row(0) + 1, parent, under: Vec::new() };
            out.sheets.insert(table.kind, sheet);
            let fields: Vec<FieldId> = inputs_of(doc.schema, table.kind).collect();
            for (at, column) in input.origin.columns.iter().enumerate() {
                let Some(id) = column.field.and_then(|f| fields.get(f)) else { continue };
                out.typed.entry(*id).or_insert_with(|| column_letters(table.raw_column(at)));
            }
            for (i, worked) in table.worked.iter().enumerate() {
                let letters = column_letters(table.worked_column(i));
                out.cells.insert(worked.field, Place { letters, aside: false });
            }
            for (i, (id, _)) in (0u16..).zip(&table.helped) {
                let letters = column_letters(table.helps.saturating_add(i));
                out.cells.insert(*id, Place { letters, aside: true });
            }
        }
        for kind in all.map(|t| t.kind) {
            let Some((of, parents)) = out.sheets.get(&kind).and_then(|s| s.parent.clone()) else { continue };
            let mut under = vec![Vec::new(); doc.run.rows_of(of)];
            for (row, parent) in (0u32..).zip(&parents) {
                if let Some(rows) = under.get_mut(*parent as usize) {
                    rows.push(row);
                }
            }
            if let Some(sheet) = out.sheets.get_mut(&kind) {
                sheet.under = under;
            }
        }
        out
    }

    /// Writes a formula for a row; `None`, with `out` in any state, where a cell of it stands nowhere or it is too long.
    pub fn fill(&self, schema: &Schema, pieces: &[Piece], at: For, out: &mut String) -> Option<()> {
        for piece in pieces {
            match piece {
                Piece::Words(text) => out.push_str(text),
                Piece::Cell(id) if self.settings.contains_key(id) => out.push_str(self.settings.get(id)?),
                Piece::Cell(id) => {
                    let place = self.cells.get(id)?;
                    self.cell(schema.field(*id).kind, place.aside, &place.letters, at, out)?;
                }
                Piece::Typed(id) => self.cell(schema.field(*id).kind, false, self.typed.get(id)?, at, out)?,
                Piece::Fold(fold) => self.fold(schema, fold, at, out)?,
                Piece::Key(table, key) => self.column(*table, *key as usize + 1, out)?,
                Piece::Result(table, result) => {
                    let keys = self.tables.get(table)?.keys;
                    self.column(*table, keys + *result as usize + 1, out)?;
                }
                Piece::Row(table) => self.column(*table, 0, out)?,
            }
        }
        (out.len() <= LONGEST - 200).then_some(())
    }

    /// A column of a table.
    fn column(&self, table: u32, column: usize, out: &mut String) -> Option<()> {
        out.push_str(self.tables.get(&table)?.ranges.get(column)?);
        Some(())
    }

    /// The row of a kind that a row belongs to, or is.
    fn above(&self, at: For, kind: KindId) -> Option<u32> {
        let (mut of, mut row) = (at.kind, at.row);
        while of != kind {
            let (parent, rows) = self.sheets.get(&of)?.parent.as_ref()?;
            row = *rows.get(row as usize)?;
            of = *parent;
        }
        Some(row)
    }

    fn cell(&self, kind: KindId, aside: bool, letters: &str, at: For, out: &mut String) -> Option<()> {
        let sheet = self.sheets.get(&kind)?;
        let row = sheet.first + self.above(at, kind)?;
        if aside {
            let _ = write!(out, "'{AS_READ}'!");
        } else if at.on != Some(kind) {
            let _ = write!(out, "{}!", sheet.name);
        }
        let _ = write!(out, "{letters}{row}");
        Some(())
    }

    fn fold(&self, schema: &Schema, fold: &Fold, at: For, out: &mut String) -> Option<()> {
        let parent = self.above(at, fold.of)?;
        let none = Vec::new();
        // a kind without rows has no sheet
        let rows = match self.sheets.get(&fold.kind) {
            Some(sheet) => sheet.under.get(parent as usize)?,
            None => &none,
        };
        let child = |row: u32| For { kind: fold.kind, row, on: at.on };
        let name = match fold.how {
            How::Sum | How::Count => "SUM",
            How::Least => "MIN",
            How::Most => "MAX",
            How::Any => "OR",
            How::All => "AND",
        };
        if rows.is_empty() {
            out.push_str(match fold.how {
                How::Sum | How::Count => "0",
                How::Least | How::Most => "NA()",
                How::Any => "FALSE",
                How::All => "TRUE",
            });
            return Some(());
        }
        if fold.how == How::Count && fold.condition.is_empty() {
            let _ = write!(out, "{}", rows.len());
            return Some(());
        }
        let _ = write!(out, "{name}(");
        if let ([Piece::Cell(id)], true) = (fold.value.as_slice(), fold.condition.is_empty())
            && self.cells.get(id).is_some_and(|place| !place.aside)
        {
            for (i, block) in blocks(rows).enumerate() {
                if i > 0 {
                    out.push(',');
                }
                self.fill(schema, &fold.value, child(block.start), out)?;
                if block.len() > 1 {
                    let (place, sheet) = (self.cells.get(id)?, self.sheets.get(&fold.kind)?);
                    let _ = write!(out, ":{}{}", place.letters, sheet.first + block.end - 1);
                }
            }
        } else {
            for (i, row) in rows.iter().enumerate() {
                if i > 0 {
                    out.push(',');
                }
                let counts = !fold.condition.is_empty();
                if counts {
                    out.push_str("IF(");
                    self.fill(schema, &fold.condition, child(*row), out)?;
                    out.push(',');
                }
                match fold.how {
                    How::Count => out.push('1'),
                    _ => self.fill(schema, &fold.value, child(*row), out)?,
                }
                if counts {
                    out.push_str(match fold.how {
                        How::Any => ",FALSE)",
                        How::All => ",TRUE)",
                        _ => ",0)",
                    });
                }
                // a formula takes so many arguments, and so many characters
                if i > 200 || out.len() > LONGEST {
                    return None;
                }
            }
        }
        out.push(')');
        Some(())
    }
}

/// Input fields of a kind, in order.
pub fn inputs_of(schema: &Schema, kind: KindId) -> impl Iterator<Item = FieldId> + '_ {
    schema.kind(kind).fields.iter().copied().filter(|f| schema.field(*f).input.is_some())
}

/// Rows that follow each other.
fn blocks(rows: &[u32]) -> impl Iterator<Item = Range<u32>> + '_ {
    rows.chunk_by(|a, b| a + 1 == *b).filter_map(|c| Some(*c.first()?..c.last()? + 1))
}
