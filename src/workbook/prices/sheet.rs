//! A sheet of a price book: where its headings are, and its cells by heading.

use super::aliases::Aliases;
use super::cells;
use crate::quantity::Unit;
use crate::source::CellPlace;
use crate::workbook::grid::{Cell, Grid};
use std::sync::Arc;

/// Rows looked through for the headings.
const HEADING_ROWS: usize = 60;

/// A column that a sheet may have: the headings it goes by, plain and lower case.
pub(super) type Names = &'static [&'static str];

/// A column that was found.
#[derive(Clone, Debug)]
struct Column {
    at: usize,
    /// What stands in brackets, or after a comma: `ft` of `Stock length (ft)`.
    unit: String,
    percent: bool,
}

/// A sheet whose headings were found.
pub(super) struct Sheet<'a> {
    grid: &'a Grid,
    aliases: &'a Aliases,
    columns: Vec<Option<Column>>,
    /// Row of the headings.
    heading: usize,
}

/// A heading in plain words, what stands in brackets in it, and whether it says percent.
pub(super) fn plain(heading: &str) -> (String, String, bool) {
    let percent = heading.contains('%');
    let mut unit = String::new();
    let mut words = heading.to_lowercase();
    if let (Some(open), Some(close)) = (heading.find(['(', '[']), heading.rfind([')', ']']))
        && open < close
    {
        unit = heading.get(open + 1..close).unwrap_or("").trim().to_owned();
        words = format!("{} {}", heading.get(..open).unwrap_or(""), heading.get(close + 1..).unwrap_or(""));
        words = words.to_lowercase();
    } else if let Some((before, after)) = heading.rsplit_once(',') {
        unit = after.trim().to_owned();
        words = before.to_lowercase();
    }
    let words: String = words.chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    (words.split_whitespace().collect::<Vec<_>>().join(" "), unit, percent)
}

fn columns_of(row: &[Cell], names: &[Names], aliases: &Aliases) -> Vec<Option<Column>> {
    let mut out = vec![None; names.len()];
    for (at, cell) in row.iter().enumerate() {
        let Cell::Text(text) = cell else { continue };
        if text.len() > 200 {
            continue;
        }
        let (words, unit, percent) = match aliases.heading(text) {
            Some(ours) => plain(ours),
            None => plain(text),
        };
        let found = names.iter().position(|n| n.contains(&words.as_str()));
        if let Some(slot) = found.and_then(|i| out.get_mut(i)).filter(|s| s.is_none()) {
            *slot = Some(Column { at, unit, percent });
        }
    }
    out
}

impl<'a> Sheet<'a> {
    /// Finds the row of headings: the first that has the first of `names` and one more.
    pub fn find(grid: &'a Grid, names: &[Names], aliases: &'a Aliases) -> Option<Self> {
        grid.rows.iter().take(HEADING_ROWS).enumerate().find_map(|(heading, row)| {
            let columns = columns_of(row, names, aliases);
            let enough = columns.first()?.is_some() && columns.iter().flatten().count() >= 2;
            enough.then_some(Self { grid, aliases, columns, heading })
        })
    }

    /// Rows below the headings that hold something and are not the headings again.
    pub fn rows(&self, names: &[Names]) -> Vec<usize> {
        // a supplier called Yard must not pass for a heading: the first column has to say so as well
        let first = self.columns.first().and_then(Option::as_ref).map(|c| c.at);
        let again = |row: &[Cell]| {
            let columns = columns_of(row, names, self.aliases);
            let same = columns.first().and_then(Option::as_ref).is_some_and(|c| Some(c.at) == first);
            same && columns.iter().flatten().count() >= 2
        };
        let below = self.grid.rows.iter().enumerate().skip(self.heading + 1);
        below.filter(|(_, row)| row.iter().any(|c| cells::text(c).is_some()) && !again(row)).map(|(i, _)| i).collect()
    }

    /// What a yard's code is called here, where it goes by another.
    pub fn code(&self, theirs: &str) -> Option<Arc<str>> {
        self.aliases.code(theirs)
    }

    /// Whether a row has nothing but words in one column: the title of what stands below it.
    pub fn is_title(&self, row: usize, column: usize) -> bool {
        let others = (0..self.columns.len()).filter(|c| *c != column);
        matches!(self.cell(row, column), Cell::Text(_)) && others.into_iter().all(|c| self.text(row, c).is_none())
    }

    /// Whether the sheet has a column.
    pub fn has(&self, column: usize) -> bool {
        self.columns.get(column).is_some_and(Option::is_some)
    }

    /// A cell; empty where there is no such column.
    pub fn cell(&self, row: usize, column: usize) -> &'a Cell {
        let at = self.columns.get(column).and_then(Option::as_ref).map(|c| c.at);
        at.and_then(|at| self.grid.rows.get(row)?.get(at)).unwrap_or(&Cell::Empty)
    }

    /// A cell's text.
    pub fn text(&self, row: usize, column: usize) -> Option<Arc<str>> {
        cells::text(self.cell(row, column)).map(Into::into)
    }

    /// Where a cell stands; the whole row where there is no such column.
    pub fn place(&self, row: usize, column: usize) -> CellPlace {
        let column = self.columns.get(column).and_then(Option::as_ref).and_then(|c| u16::try_from(c.at).ok());
        place(self.grid, row, column)
    }

    /// Every heading with its place in the row, as it is called here.
    pub fn headings(&self) -> impl Iterator<Item = (usize, String)> + '_ {
        let row = self.grid.rows.get(self.heading).into_iter().flatten().enumerate();
        row.filter_map(|(at, cell)| {
            let text = cells::text(cell)?;
            Some((at, self.aliases.heading(&text).map_or(text, str::to_owned)))
        })
    }

    /// A cell by its place in the row.
    pub fn cell_at(&self, row: usize, at: usize) -> &'a Cell {
        self.grid.rows.get(row).and_then(|r| r.get(at)).unwrap_or(&Cell::Empty)
    }

    /// Where such a cell stands.
    pub fn place_at(&self, row: usize, at: usize) -> CellPlace {
        place(self.grid, row, u16::try_from(at).ok())
    }

    /// The row of the headings.
    pub fn heading_row(&self) -> usize {
        self.heading
    }

    /// The unit that a heading states.
    pub fn heading_unit(&self, column: usize) -> Option<Unit> {
        self.heading_text(column).and_then(|u| Unit::read(u).ok())
    }

    /// What stands in a heading's brackets.
    pub fn heading_text(&self, column: usize) -> Option<&str> {
        self.columns.get(column)?.as_ref().map(|c| c.unit.as_str()).filter(|u| !u.is_empty())
    }

    /// Whether a heading says percent.
    pub fn heading_percent(&self, column: usize) -> bool {
        self.columns.get(column).and_then(Option::as_ref).is_some_and(|c| c.percent)
    }
}

/// A place in a grid.
pub(super) fn place(grid: &Grid, row: usize, column: Option<u16>) -> CellPlace {
    CellPlace {
        file: Arc::clone(&grid.file),
        sheet: Arc::clone(&grid.sheet),
        row: u32::try_from(row).unwrap_or(u32::MAX),
        column,
    }
}
