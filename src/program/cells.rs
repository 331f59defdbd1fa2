//! Cells of a table as they are compared.

use super::literals::literal_value;
use super::schema::Value;
use super::types::read_type;
use crate::notation::tree::{TableBlock, TableRow};
use crate::quantity::{Date, Number};
use crate::source::texts::fold;

/// A cell: texts without regard to case, numbers in base units.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Cell {
    Number(Number),
    Text(String),
    YesNo(bool),
    Date(Date),
}

/// Every cell of a table, one for each column; nothing for one that cannot be read.
pub fn cells(table: &TableBlock) -> Vec<Vec<Option<Cell>>> {
    let types: Vec<_> = table.columns.iter().map(|c| read_type(&c.ty.text).ok().map(|t| t.0)).collect();
    let row = |row: &TableRow| {
        let cell = |(i, ty): (usize, &Option<_>)| literal_value(row.cells.get(i)?, (*ty)?).ok().map(Cell::from);
        types.iter().enumerate().map(cell).collect()
    };
    table.rows.iter().map(row).collect()
}

impl From<Value> for Cell {
    fn from(value: Value) -> Self {
        match value {
            Value::Number(n) => Self::Number(n),
            Value::Text(t) => Self::Text(fold(&t)),
            Value::YesNo(v) => Self::YesNo(v),
            Value::Date(d) => Self::Date(d),
        }
    }
}
