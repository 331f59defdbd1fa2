//! What a run gives: a column for each field, and the values in them.

use super::column::{Column, Data, Fault};
use super::input::Texts;
use super::things::Things;
use crate::problem::Problem;
use crate::program::native::Thing;
use crate::program::{FieldId, KindId, Schema, SiteId};
use crate::quantity::Number;
use std::sync::Arc;

/// The columns of a run, inputs and formulas alike.
#[derive(Clone, Debug, Default)]
pub struct Run {
    /// How many rows each kind has.
    pub rows: Vec<usize>,
    /// A column for each field, in the order of the schema's fields; `None` where it was not worked out (yet).
    pub columns: Vec<Option<Column>>,
    /// The dictionary of text columns.
    pub texts: Arc<Texts>,
    /// What native functions made; columns hold the numbers of these.
    pub things: Arc<Things>,
    /// The first of a row of sites, one for each field: where a value too large for base units begins.
    pub outgrown: SiteId,
}

/// Turns a fault into words, with the place where it began.
pub trait Explain {
    /// The fault's first cause, as a problem that stands alone.
    fn fault(&self, fault: Fault) -> Problem;
}

impl Run {
    /// How many rows a kind has.
    #[must_use]
    pub fn rows_of(&self, kind: KindId) -> usize {
        self.rows.get(kind.0 as usize).copied().unwrap_or(0)
    }

    /// The column of a field.
    ///
    /// # Panics
    /// When the field was not worked out: a mistake of the caller, who runs the segments in order.
    #[must_use]
    pub fn column(&self, field: FieldId) -> &Column {
        self.columns[field.0 as usize].as_ref().expect("the field was worked out")
    }

    /// A number in base units (mm, lb, hr, $; a percent as its fraction; a date as days since 1970-01-01).
    ///
    /// # Errors
    /// The fault that stands in the cell.
    pub fn number(&self, schema: &Schema, field: FieldId, row: usize) -> Result<Number, Fault> {
        let (chunk, at) = self.column(field).locate(row);
        match chunk.fault(at) {
            Some(fault) => Err(fault),
            None => {
                let kept = chunk.number(at).unwrap_or(Number::ZERO);
                kept.scaled(schema.field(field).unit.factor).map_err(|_| self.too_large(field, row))
            }
        }
    }

    /// Why a cell has no value, if it has none: its fault, or a number too large for base units.
    #[must_use]
    pub fn fault(&self, schema: &Schema, field: FieldId, row: usize) -> Option<Fault> {
        let (chunk, at) = self.column(field).locate(row);
        match (&chunk.data, chunk.fault(at)) {
            (_, Some(fault)) => Some(fault),
            // what fits 64 bits is not looked at again
            (Data::Wide(_), None) => self.number(schema, field, row).err(),
            _ => None,
        }
    }

    fn too_large(&self, field: FieldId, row: usize) -> Fault {
        let site = SiteId(self.outgrown.0.saturating_add(field.0));
        Fault { site, row: u32::try_from(row).unwrap_or(u32::MAX) }
    }

    /// A text.
    ///
    /// # Errors
    /// The fault that stands in the cell.
    pub fn text(&self, field: FieldId, row: usize) -> Result<&Arc<str>, Fault> {
        let (chunk, at) = self.column(field).locate(row);
        chunk.fault(at).map_or_else(|| Ok(self.texts.get(chunk.text(at).unwrap_or(0))), Err)
    }

    /// A thing that a native function made.
    ///
    /// # Errors
    /// The fault that stands in the cell.
    pub fn thing(&self, field: FieldId, row: usize) -> Result<Arc<dyn Thing>, Fault> {
        let (chunk, at) = self.column(field).locate(row);
        match chunk.fault(at) {
            Some(fault) => Err(fault),
            None => Ok(self.things.get(chunk.number(at).unwrap_or(Number::ZERO))),
        }
    }

    /// Yes or no.
    ///
    /// # Errors
    /// The fault that stands in the cell.
    pub fn yes_no(&self, field: FieldId, row: usize) -> Result<bool, Fault> {
        let (chunk, at) = self.column(field).locate(row);
        chunk.fault(at).map_or_else(|| Ok(chunk.yes_no(at).unwrap_or(false)), Err)
    }
}
