//! One step over one block.
//!
//! Fast paths work on 64-bit whole numbers with a scale; whatever does not fit goes row by row through the exact
//! meaning in [`crate::program::scalar`]. Both give the same value, digit for digit.

mod across;
mod arithmetic;
mod choose;
mod logic;
pub(super) mod lookup;
pub(super) mod native;

use super::column::{Chunk, Data, Fault};
use super::run::Context;
use crate::program::node::Op;
use crate::program::{SiteId, Step};
use crate::quantity::{Decimal, Number, NumberError};
use std::borrow::Cow;

pub use lookup::prepared_result;

/// Faults of a block, made only when there is one.
pub(super) type Faults = Option<Box<[Option<Fault>]>>;

/// The rows of a block.
#[derive(Clone, Copy, Debug)]
pub struct Rows {
    /// Index of the block.
    pub block: usize,
    /// First row.
    pub start: usize,
    /// How many.
    pub len: usize,
}

/// Works one step out.
pub fn eval<'a>(ctx: &Context<'a>, step: &Step, regs: &[Cow<'a, Chunk>], rows: Rows) -> Cow<'a, Chunk> {
    let reg = |r: u32| regs[r as usize].as_ref();
    let maker = Maker { rows, site: step.site, large: step.large };
    Cow::Owned(match &step.op {
        Op::Constant(c) => return Cow::Borrowed(&ctx.constants[*c as usize]),
        Op::Field(f) => {
            let column = ctx.columns[f.0 as usize].as_ref();
            return column.map_or_else(|| Cow::Owned(maker.nothing()), |c| Cow::Borrowed(&c.chunks[rows.block]));
        }
        Op::Parameter(_) => maker.nothing(),
        Op::Parent(f) => across::parent(ctx, maker, step, *f),
        Op::Fold { how, kind, value, condition } => across::fold(ctx, maker, *how, *kind, *value, *condition),
        Op::Given(a) => logic::given(ctx, reg(*a), maker),
        Op::Not(a) => logic::not(reg(*a)),
        Op::And(a, b) => logic::both(reg(*a), reg(*b), true, maker),
        Op::Or(a, b) => logic::both(reg(*a), reg(*b), false, maker),
        Op::Same(a, b) => logic::same(ctx, reg(*a), reg(*b), maker),
        Op::Compare(how, a, b) => arithmetic::compare(*how, (reg(a.reg), a), (reg(b.reg), b), maker),
        Op::Choose { arms, otherwise } => choose::choose((arms, otherwise), reg, maker),
        Op::Lookup { table, result, keys } => {
            let keys: Vec<_> = keys.iter().map(|k| (reg(*k), ctx.unit_of(*k))).collect();
            lookup::lookup(ctx, *table as usize, *result as usize, &keys, maker)
        }
        Op::Count(a) => arithmetic::count(reg(*a), maker),
        Op::Native(number, arguments) => native::native(ctx, step, *number, arguments, &reg, maker),
        _ => arithmetic::number(&step.op, reg, maker),
    })
}

/// What a step needs to make a block: its rows, and where its own faults begin.
#[derive(Clone, Copy, Debug)]
pub(super) struct Maker {
    pub rows: Rows,
    pub site: Option<SiteId>,
    /// Where a result that is too large begins.
    pub large: Option<SiteId>,
}

impl Maker {
    /// A block without meaning, for steps that no row asks for.
    fn nothing(self) -> Chunk {
        Chunk { data: Data::Fixed { values: vec![0], scale: 0, over: None }, faults: None }
    }

    /// The fault that begins at a row of this block.
    fn fault(self, row: usize) -> Option<Fault> {
        let row = u32::try_from(self.rows.start + row).unwrap_or(u32::MAX);
        self.site.map(|site| Fault { site, row })
    }

    /// The same step, for a result that is too large.
    fn outgrown(self) -> Self {
        Self { site: self.large.or(self.site), ..self }
    }

    /// Marks a row as faulty for what went wrong with its numbers.
    fn mark_error(self, faults: &mut Faults, row: usize, len: usize, error: NumberError) {
        let of = if error == NumberError::TooLarge { self.outgrown() } else { self };
        of.mark(faults, row, len);
    }

    /// Marks a row as faulty.
    fn mark(self, faults: &mut Faults, row: usize, len: usize) {
        if let Some(fault) = self.fault(row) {
            let faults = faults.get_or_insert_with(|| vec![None; len].into_boxed_slice());
            if faults.len() == 1 && len > 1 {
                *faults = vec![faults[0]; len].into_boxed_slice();
            }
            faults[row].get_or_insert(fault);
        }
    }

    /// How many values a step over these operands makes: one where each of them has one for all rows.
    fn len_of(self, operands: &[&Chunk]) -> usize {
        if operands.iter().all(|c| c.data.len() == 1 && c.faults.as_ref().is_none_or(|f| f.len() == 1)) {
            1
        } else {
            self.rows.len
        }
    }

    /// The faults of operands, the first one's first.
    fn merged(self, operands: &[&Chunk], len: usize) -> Faults {
        if operands.iter().all(|c| c.faults.is_none()) {
            return None;
        }
        Some((0..len).map(|row| operands.iter().find_map(|c| c.fault(row))).collect())
    }

    /// A block of exact numbers, made row by row.
    fn rows_of_numbers(self, operands: &[&Chunk], make: impl Fn(usize) -> Result<Number, NumberError>) -> Chunk {
        let len = self.len_of(operands);
        let mut faults = self.merged(operands, len);
        let values = (0..len)
            .map(|row| {
                if faults.as_ref().is_some_and(|f| f[row].is_some()) {
                    return Number::ZERO;
                }
                make(row).unwrap_or_else(|error| {
                    self.mark_error(&mut faults, row, len, error);
                    Number::ZERO
                })
            })
            .collect();
        Chunk { data: narrowed(values), faults }
    }

    /// A block of yes and no, made row by row where the operands are sound.
    fn rows_of_yes_no(self, operands: &[&Chunk], make: impl Fn(usize) -> bool) -> Chunk {
        let len = self.len_of(operands);
        let faults = self.merged(operands, len);
        let sound = |row: usize| faults.as_ref().is_none_or(|f| f[row].is_none());
        let values = (0..len).map(|row| sound(row) && make(row)).collect();
        Chunk { data: Data::YesNo(values), faults }
    }
}

/// Exact numbers back to 64 bits at one scale where all of them fit.
pub fn narrowed(values: Vec<Number>) -> Data {
    let mut scale = 0;
    for v in &values {
        match v.exact_decimal() {
            Some(d) if d.scale() <= 18 => scale = scale.max(d.scale()),
            _ => return Data::Wide(values),
        }
    }
    let fit = |v: &Number| {
        let d: Decimal = v.exact_decimal()?;
        let up = 10i64.checked_pow(scale - d.scale())?;
        i64::try_from(d.mantissa()).ok()?.checked_mul(up)
    };
    match values.iter().map(fit).collect::<Option<Vec<i64>>>() {
        Some(fixed) => Data::Fixed { values: fixed, scale, over: None },
        None => Data::Wide(values),
    }
}

/// A chunk's number, zero for other data (the program is typed, so that does not happen).
pub(super) fn at(chunk: &Chunk, row: usize) -> Number {
    chunk.number(row).unwrap_or(Number::ZERO)
}
