//! Values of single steps in single rows: what a telling of how a figure was worked out reads.
//!
//! There is no second evaluator: a row's segment is worked through once more by the same kernel, and every step's value is
//! kept instead of the columns alone.

use super::column::{Chunk, Fault};
use super::examples::{date_of, value_at};
use super::kernel::lookup::{Matched, matched};
use super::run::Engine;
use crate::program::node::{Constant, Node, Op, Reg};
use crate::program::workings::Workings;
use crate::program::{FieldId, KindId, Type, Value};
use crate::quantity::Number;
use rustc_hash::FxHashMap;
use std::cell::RefCell;
use std::rc::Rc;

/// A row of a kind.
pub type RowOf = (KindId, usize);

/// A value in base units, or the fault that stands in its place.
pub type Valued = Result<Value, Fault>;

/// The values of a segment's steps in one row.
type Row = Rc<Vec<Chunk>>;

/// The steps of a run that is done.
#[derive(Debug)]
pub struct Steps<'a> {
    engine: &'a Engine<'a>,
    workings: &'a Workings,
    /// The segment of each step, and its place there.
    places: FxHashMap<Reg, (usize, usize)>,
    worked: RefCell<FxHashMap<(usize, usize), Row>>,
}

impl<'a> Steps<'a> {
    /// Of a run whose program keeps its workings.
    #[must_use]
    pub fn new(engine: &'a Engine<'a>) -> Option<Self> {
        let program = engine.program();
        let workings = program.workings.as_ref()?;
        let mut places = FxHashMap::default();
        for (s, segment) in program.segments.iter().enumerate() {
            for (at, step) in segment.steps.iter().enumerate() {
                places.entry(step.node).or_insert((s, at));
            }
        }
        Some(Self { engine, workings, places, worked: RefCell::default() })
    }

    /// A step.
    #[must_use]
    pub fn node(&self, reg: Reg) -> &'a Node {
        self.workings.node(reg)
    }

    /// The row of a field's kind that a row sees: itself, one that it belongs to, the one row of the job.
    #[must_use]
    pub fn row_for(&self, field: FieldId, (kind, row): RowOf) -> usize {
        let wanted = self.engine.program().schema.field(field).kind;
        if kind == wanted { row } else { self.engine.ancestor(kind, row, wanted) }
    }

    /// The value of a step in a row; nothing for a step that nothing needed.
    #[must_use]
    pub fn value(&self, reg: Reg, of: RowOf) -> Option<Valued> {
        let node = self.node(reg);
        match node.op {
            Op::Field(field) | Op::Parent(field) => {
                self.engine.run().columns[field.0 as usize].as_ref()?;
                Some(value_at(self.engine, field, self.row_for(field, of)))
            }
            Op::Constant(constant) => Some(Ok(self.constant(node, constant)?)),
            _ => self.of_chunk(node, &self.row(reg, of)?),
        }
    }

    fn constant(&self, node: &Node, constant: u32) -> Option<Value> {
        let program = self.engine.program();
        Some(match program.constants.get(constant as usize)? {
            Constant::Number(n) if node.ty == Type::Date => Value::Date(date_of(n)),
            Constant::Number(n) => Value::Number(n.scaled(node.unit.factor).ok()?),
            Constant::Text(text) => Value::Text(self.engine.run().texts.get(*text).clone()),
            Constant::YesNo(v) => Value::YesNo(*v),
        })
    }

    fn of_chunk(&self, node: &Node, chunk: &Chunk) -> Option<Valued> {
        if let Some(fault) = chunk.fault(0) {
            return Some(Err(fault));
        }
        let number = || chunk.number(0).and_then(|n| n.scaled(node.unit.factor).ok());
        Some(Ok(match node.ty {
            Type::Text => Value::Text(self.engine.run().texts.get(chunk.text(0)?).clone()),
            Type::YesNo => Value::YesNo(chunk.yes_no(0)?),
            Type::Date => Value::Date(date_of(&number()?)),
            Type::Number { .. } => Value::Number(number()?),
            Type::Thing(_) => {
                let thing = self.engine.run().things.get(chunk.number(0).unwrap_or(Number::ZERO));
                Value::Text(thing.to_string().into())
            }
        }))
    }

    /// A step's value in a row, as a block of one.
    fn row(&self, reg: Reg, of: RowOf) -> Option<Chunk> {
        let (segment, at) = *self.places.get(&reg)?;
        self.rows(segment, of)?.get(at).cloned()
    }

    fn rows(&self, segment: usize, (kind, row): RowOf) -> Option<Row> {
        let of = &self.engine.program().segments[segment];
        if of.kind != kind || row >= self.engine.run().rows_of(kind) {
            return None;
        }
        let known = self.worked.borrow().get(&(segment, row)).cloned();
        Some(known.unwrap_or_else(|| {
            let made = Rc::new(self.engine.row_steps(of, row));
            self.worked.borrow_mut().insert((segment, row), Rc::clone(&made));
            made
        }))
    }

    /// The row of its table that a look-up finds; nothing for other steps, and where it finds none.
    #[must_use]
    pub fn matched(&self, reg: Reg, of: RowOf) -> Option<Matched> {
        let (segment, at) = *self.places.get(&reg)?;
        let values = self.rows(segment, of)?;
        let segment = &self.engine.program().segments[segment];
        let Op::Lookup { table, keys, .. } = &segment.steps[at].op else { return None };
        if keys.iter().any(|k| values[*k as usize].fault(0).is_some()) {
            return None;
        }
        let keys: Vec<_> = keys.iter().map(|k| (&values[*k as usize], segment.steps[*k as usize].unit)).collect();
        matched(&self.engine.context(segment), *table as usize, &keys)
    }
}
