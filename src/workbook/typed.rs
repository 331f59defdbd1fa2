//! What somebody typed into cells of a priced workbook that stand for what was read: it is laid over the rooms workbook
//! whenever the bid is priced again, and the rooms workbook itself stays as it was.

use super::headings::{HeadingUnit, unit_named};
use crate::engine::{RawCell, Texts};
use crate::quantity::Decimal;
use crate::quantity::spelling::decimal_of;
use crate::source::CellPlace;
use rustc_hash::{FxHashMap, FxHashSet};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// A cell that was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Typed {
    /// What it stands for.
    pub of: Of,
    /// What was typed.
    pub held: Held,
    /// The cell, in the priced workbook.
    pub at: CellPlace,
}

/// What a cell of a priced workbook stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Of {
    /// A cell of the rooms workbook.
    Cell {
        /// Its sheet; empty for a csv file.
        sheet: Arc<str>,
        /// Its row, from 0.
        row: u32,
        /// Its column, from 0.
        column: u16,
    },
    /// A setting of the job, which may stand nowhere yet, or in the price book.
    Setting {
        /// The sheet where a rooms workbook would give it.
        sheet: Arc<str>,
        /// What it would be called there.
        name: Arc<str>,
        /// The unit of a number; empty where it has none.
        unit: Arc<str>,
    },
}

impl Of {
    /// What tells it apart: its sheet, and its name or its row and column; the unit does not.
    fn known_by(&self) -> (&str, &str, Option<(u32, u16)>) {
        match self {
            Self::Cell { sheet, row, column } => (sheet, "", Some((*row, *column))),
            Self::Setting { sheet, name, .. } => (sheet, name, None),
        }
    }
}

/// What a cell holds, with the texts themselves.
#[derive(Clone, Debug, PartialEq)]
pub enum Held {
    /// Nothing: what stood there was taken out.
    Blank,
    /// A number.
    Number(f64),
    /// A number that its cell shows as a percentage: 0.1 is 10%.
    Percent(f64),
    /// A text.
    Text(Arc<str>),
    /// Yes or no.
    YesNo(bool),
    /// A date, as the serial number of a spreadsheet.
    Date(f64),
}

impl Held {
    /// What a cell holds; nothing for an error value, which nobody types.
    #[must_use]
    pub fn of(cell: RawCell, texts: &Texts) -> Option<Self> {
        Some(match cell {
            RawCell::Empty => Self::Blank,
            RawCell::Number(n) => Self::Number(n),
            RawCell::Percent(n) => Self::Percent(n),
            RawCell::Text(id) if texts.get(id).trim().is_empty() => Self::Blank,
            RawCell::Text(id) => Self::Text(Arc::clone(texts.get(id))),
            RawCell::YesNo(yes) => Self::YesNo(yes),
            RawCell::Date(n) => Self::Date(n),
            RawCell::Error(_) => return None,
        })
    }

    /// As a cell that is read.
    #[must_use]
    pub fn cell(&self, texts: &mut Texts) -> RawCell {
        match self {
            Self::Blank => RawCell::Empty,
            Self::Number(n) => RawCell::Number(*n),
            Self::Percent(n) => RawCell::Percent(*n),
            Self::Text(text) => RawCell::Text(texts.intern(text)),
            Self::YesNo(yes) => RawCell::YesNo(*yes),
            Self::Date(n) => RawCell::Date(*n),
        }
    }
}

impl fmt::Display for Held {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let decimal = |n: f64| decimal_of(n).map(|d| d.normalize());
        match self {
            Self::Blank => Ok(()),
            Self::Number(n) | Self::Date(n) => match decimal(*n) {
                Some(d) => write!(f, "{d}"),
                None => write!(f, "{n}"),
            },
            Self::Percent(n) => match decimal(*n).and_then(|d| d.checked_mul(Decimal::ONE_HUNDRED)) {
                Some(d) => write!(f, "{}%", d.normalize()),
                None => write!(f, "{n}"),
            },
            Self::Text(text) => f.write_str(text),
            Self::YesNo(yes) => f.write_str(if *yes { "yes" } else { "no" }),
        }
    }
}

impl Typed {
    /// The unit of a setting's number.
    #[must_use]
    pub fn unit(&self) -> Option<HeadingUnit> {
        match &self.of {
            Of::Setting { unit, .. } => unit_named(unit),
            Of::Cell { .. } => None,
        }
    }

    /// As a workbook carries it.
    #[must_use]
    pub fn written(&self) -> String {
        let of = match &self.of {
            Of::Cell { sheet, row, column } => json!({ "sheet": &**sheet, "row": row, "column": column }),
            Of::Setting { sheet, name, unit } => json!({ "sheet": &**sheet, "setting": &**name, "unit": &**unit }),
        };
        // numbers as texts: they come back as they were, to the last figure
        let (kind, text) = match &self.held {
            Held::Blank => ("blank", String::new()),
            Held::Number(n) => ("number", n.to_string()),
            Held::Percent(n) => ("percent", n.to_string()),
            Held::Text(text) => ("text", text.to_string()),
            Held::YesNo(yes) => ("yes or no", if *yes { "yes" } else { "no" }.to_owned()),
            Held::Date(n) => ("date", n.to_string()),
        };
        let CellPlace { file, sheet, row, column } = &self.at;
        let at = json!({ "file": &**file, "sheet": &**sheet, "row": row, "column": column });
        json!({ "of": of, "kind": kind, "holds": text, "typed in": at }).to_string()
    }

    /// From what a workbook carries.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let value: Value = serde_json::from_str(text).ok()?;
        let word = |of: &Value, key: &str| of.get(key)?.as_str().map(Arc::<str>::from);
        let row = |of: &Value| of.get("row")?.as_u64().and_then(|n| u32::try_from(n).ok());
        let column = |of: &Value| of.get("column")?.as_u64().and_then(|n| u16::try_from(n).ok());
        let (of, at) = (value.get("of")?, value.get("typed in")?);
        let sheet = word(of, "sheet")?;
        let of = match word(of, "setting") {
            Some(name) => Of::Setting { sheet, name, unit: word(of, "unit")? },
            None => Of::Cell { sheet, row: row(of)?, column: column(of)? },
        };
        let holds = word(&value, "holds")?;
        let number = || holds.parse::<f64>().ok().filter(|n| n.is_finite());
        let held = match value.get("kind")?.as_str()? {
            "blank" => Held::Blank,
            "number" => Held::Number(number()?),
            "percent" => Held::Percent(number()?),
            "text" => Held::Text(holds),
            "yes or no" => Held::YesNo(&*holds == "yes"),
            "date" => Held::Date(number()?),
            _ => return None,
        };
        let at = CellPlace { file: word(at, "file")?, sheet: word(at, "sheet")?, row: row(at)?, column: column(at) };
        Some(Self { of, held, at })
    }
}

/// What was typed before and stands still, then what was typed since: the later wins.
#[must_use]
pub fn together(before: &[Typed], since: Vec<Typed>) -> Vec<Typed> {
    let later: FxHashSet<_> = since.iter().map(|typed| typed.of.known_by()).collect();
    let mut all: Vec<Typed> = before.iter().filter(|typed| !later.contains(&typed.of.known_by())).cloned().collect();
    all.extend(since);
    all
}

/// What is laid over a row, by column.
pub type TypedRow = BTreeMap<u16, Typed>;

/// What is laid over the cells of a workbook while it is read.
#[derive(Clone, Debug, Default)]
pub struct Overlay {
    /// By sheet, row and column.
    cells: FxHashMap<Arc<str>, BTreeMap<u32, TypedRow>>,
    settings: Vec<Typed>,
}

impl Overlay {
    /// What was typed, the later over the earlier.
    #[must_use]
    pub fn new(typed: &[Typed]) -> Self {
        let mut out = Self::default();
        for typed in typed {
            match &typed.of {
                Of::Cell { sheet, row, column } => {
                    let rows = out.cells.entry(Arc::clone(sheet)).or_default();
                    rows.entry(*row).or_default().insert(*column, typed.clone());
                }
                Of::Setting { .. } => out.settings.push(typed.clone()),
            }
        }
        out
    }

    /// The settings of a sheet, by the names that a rooms workbook would call them.
    pub fn settings<'a>(&'a self, of_sheet: &'a str) -> impl Iterator<Item = (&'a Arc<str>, &'a Typed)> {
        self.settings.iter().filter_map(move |typed| match &typed.of {
            Of::Setting { sheet, name, .. } if **sheet == *of_sheet => Some((name, typed)),
            _ => None,
        })
    }

    /// The rows of a sheet that it changes.
    #[must_use]
    pub fn rows_of(&self, sheet: &str) -> Option<BTreeMap<u32, TypedRow>> {
        self.cells.get(sheet).cloned()
    }

    /// Where the cell stands in which somebody typed what is laid over a cell of the workbook.
    #[must_use]
    pub fn typed_in(&self, place: &CellPlace) -> Option<&CellPlace> {
        let row = self.cells.get(&place.sheet)?.get(&place.row)?;
        Some(&row.get(&place.column?)?.at)
    }
}

/// A row with what is laid over it.
pub(super) fn laid_over(row: &[(u16, RawCell)], over: &TypedRow, texts: &mut Texts) -> Vec<(u16, RawCell)> {
    let mut cells: Vec<(u16, RawCell)> = row.iter().filter(|(column, _)| !over.contains_key(column)).copied().collect();
    for (column, typed) in over {
        match typed.held.cell(texts) {
            RawCell::Empty => {}
            cell => cells.push((*column, cell)),
        }
    }
    cells.sort_by_key(|(column, _)| *column);
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(of: Of, held: Held) -> Typed {
        let at = CellPlace { file: "a.priced.xlsx".into(), sheet: "Rooms".into(), row: 2, column: Some(3) };
        Typed { of, held, at }
    }

    fn cell(column: u16) -> Of {
        Of::Cell { sheet: "Rooms \"1\"".into(), row: 7, column }
    }

    fn setting(unit: &str) -> Of {
        Of::Setting { sheet: "Job".into(), name: "Drop".into(), unit: unit.into() }
    }

    #[test]
    fn what_is_carried_comes_back() {
        let all = [
            typed(cell(1), Held::Blank),
            typed(cell(2), Held::Number(0.1 + 0.2)),
            typed(cell(3), Held::Text("=1+1 \"quoted\"\n@x".into())),
            typed(cell(4), Held::Date(45_000.25)),
            typed(cell(5), Held::YesNo(true)),
            typed(setting("ft"), Held::Percent(0.125)),
        ];
        for one in &all {
            assert_eq!(Typed::read(&one.written()).as_ref(), Some(one));
        }
        assert_eq!(Typed::read("{}"), None);
        assert_eq!(Typed::read(&all[1].written().replace("0.30000000000000004", "NaN")), None);
    }

    #[test]
    fn the_later_wins() {
        let before = [typed(cell(1), Held::Number(1.0)), typed(setting("ft"), Held::Number(2.0))];
        let since = vec![typed(setting("in"), Held::Blank), typed(cell(2), Held::Number(3.0))];
        let all = together(&before, since.clone());
        assert_eq!(all, [before[0].clone(), since[0].clone(), since[1].clone()]);
    }

    #[test]
    fn a_row_is_laid_over_in_order() {
        let mut texts = Texts::default();
        let row = [(0, RawCell::Number(1.0)), (2, RawCell::Number(3.0)), (4, RawCell::Number(5.0))];
        let over = [(1, Held::Number(2.0)), (2, Held::Blank), (9, Held::YesNo(false))];
        let over = over.into_iter().map(|(at, held)| (at, typed(cell(at), held))).collect();
        let cells = laid_over(&row, &over, &mut texts);
        let wanted = [
            (0, RawCell::Number(1.0)),
            (1, RawCell::Number(2.0)),
            (4, RawCell::Number(5.0)),
            (9, RawCell::YesNo(false)),
        ];
        assert_eq!(cells, wanted);
    }
}
