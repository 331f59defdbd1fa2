//! The flat program: typed steps over columns, each made once however often it is used.

use super::native::NativeArgument;
use super::schema::{FieldId, KindId, SiteId, Type};
use crate::notation::tree::{Comparison, How};
use crate::quantity::number::Rounding;
use crate::quantity::{Number, Unit};

/// A step's number: in the arena while compiling, in its segment when running.
pub type Reg = u32;

/// When a step can be worked out: what it depends on, directly or by way of others.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Phase {
    /// On the rows alone.
    #[default]
    Rows,
    /// On the option that a row stands under: worked out once under each of them, and again under the one taken.
    Options,
    /// On priced lines.
    Priced,
}

/// A value that is the same for every row, in its node's unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Constant {
    /// A number; a date as days since 1970-01-01.
    Number(Number),
    /// A text's number in the program's dictionary.
    Text(u32),
    /// Yes or no.
    YesNo(bool),
}

/// What a step does. Operands that meet in one unit carry whole factors that bring them there.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Op {
    /// A constant, by its number.
    Constant(u32),
    /// A parameter, where a definition is checked by itself.
    Parameter(u32),
    /// A field of the same row.
    Field(FieldId),
    /// A field of the row that this row belongs to, over one or more levels.
    Parent(FieldId),
    /// Children brought together: a column of theirs, and which of them count.
    Fold {
        /// How.
        how: How,
        /// The children.
        kind: KindId,
        /// Their column; `None` for a count of all.
        value: Option<FieldId>,
        /// Their yes/no column.
        condition: Option<FieldId>,
    },
    /// Sum.
    Add(Scaled, Scaled),
    /// Difference.
    Subtract(Scaled, Scaled),
    /// Product.
    Multiply(Reg, Reg),
    /// Quotient, kept as one.
    Divide(Reg, Reg),
    /// Opposite.
    Negate(Reg),
    /// To a whole multiple of `step`: a count of steps times the step, in the step's unit.
    Round {
        /// How.
        how: Rounding,
        /// What.
        value: Scaled,
        /// To multiples of what.
        step: Scaled,
    },
    /// The lesser (or greater) of two.
    Pick {
        /// The lesser.
        least: bool,
        /// One.
        a: Scaled,
        /// The other.
        b: Scaled,
    },
    /// Square or cube root; the value is brought to base units first.
    Root {
        /// 2 or 3.
        n: u32,
        /// Of what.
        value: Reg,
        /// Its factor to base units.
        up: i128,
        /// What the factor is divided by.
        down: i128,
    },
    /// Comparison of numbers.
    Compare(Comparison, Scaled, Scaled),
    /// Whether two texts, or two yes/no values, are the same.
    Same(Reg, Reg),
    /// Both; the right one counts only where the left one holds.
    And(Reg, Reg),
    /// Either; the right one counts only where the left one does not hold.
    Or(Reg, Reg),
    /// Not.
    Not(Reg),
    /// Whether a value is not missing.
    Given(Reg),
    /// The value of the first condition that holds.
    Choose {
        /// Conditions with values.
        arms: Vec<(Reg, Scaled)>,
        /// The rest.
        otherwise: Scaled,
    },
    /// A table's result.
    Lookup {
        /// The table.
        table: u32,
        /// Which of its results.
        result: u32,
        /// What is asked, one for each key.
        keys: Vec<Reg>,
    },
    /// The value, where it is whole and not below zero; else a fault.
    Count(Reg),
    /// A native function, by its number, of arguments in the order of its parameters.
    Native(u32, Vec<NativeArgument>),
}

/// An operand and the whole factor that brings it to the unit in which it meets the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Scaled {
    /// The operand.
    pub reg: Reg,
    /// The factor.
    pub by: i128,
}

impl Op {
    /// Calls `f` with each operand.
    pub fn operands(&self, mut f: impl FnMut(Reg)) {
        let mut copy = self.clone();
        copy.map(&mut |r| {
            f(r);
            r
        });
    }

    /// Whether its result can be too large though that is not the fault it is mainly known for.
    #[must_use]
    pub fn can_outgrow(&self) -> bool {
        match self {
            Self::Divide(..) | Self::Round { .. } | Self::Root { .. } | Self::Lookup { .. } | Self::Native(..) => true,
            Self::Pick { a, b, .. } => a.by != 1 || b.by != 1,
            Self::Choose { arms, otherwise } => otherwise.by != 1 || arms.iter().any(|(_, v)| v.by != 1),
            _ => false,
        }
    }

    /// Replaces each operand.
    pub fn map(&mut self, f: &mut impl FnMut(Reg) -> Reg) {
        match self {
            Self::Constant(_) | Self::Parameter(_) | Self::Field(_) | Self::Parent(_) | Self::Fold { .. } => {}
            Self::Add(a, b) | Self::Subtract(a, b) | Self::Compare(_, a, b) | Self::Pick { a, b, .. } => {
                a.reg = f(a.reg);
                b.reg = f(b.reg);
            }
            Self::Round { value, step, .. } => {
                value.reg = f(value.reg);
                step.reg = f(step.reg);
            }
            Self::Multiply(a, b) | Self::Divide(a, b) | Self::Same(a, b) | Self::And(a, b) | Self::Or(a, b) => {
                *a = f(*a);
                *b = f(*b);
            }
            Self::Negate(a) | Self::Not(a) | Self::Given(a) | Self::Count(a) | Self::Root { value: a, .. } => {
                *a = f(*a)
            }
            Self::Choose { arms, otherwise } => {
                for (condition, value) in arms {
                    *condition = f(*condition);
                    value.reg = f(value.reg);
                }
                otherwise.reg = f(otherwise.reg);
            }
            Self::Lookup { keys, .. } => keys.iter_mut().for_each(|k| *k = f(*k)),
            Self::Native(_, arguments) => {
                for argument in arguments {
                    if let NativeArgument::Value(reg) = argument {
                        *reg = f(*reg);
                    }
                }
            }
        }
    }
}

/// A step with its type and place in the order of working.
#[derive(Clone, Debug)]
pub struct Node {
    /// The kind whose rows it speaks of.
    pub kind: KindId,
    /// What it does.
    pub op: Op,
    /// Its type.
    pub ty: Type,
    /// The unit of its column.
    pub unit: Unit,
    /// The unit that it was written in, for showing.
    pub shown: Option<(String, Unit)>,
    /// How many times the working goes over to another kind's rows before it.
    pub level: u32,
    /// When it can be worked out.
    pub phase: Phase,
    /// Where its own fault begins, if it can have one.
    pub site: Option<SiteId>,
    /// Where it begins when the result is too large.
    pub large: Option<SiteId>,
}

/// A table as it is looked up: a tree of sorted keys, one level a key.
#[derive(Clone, Debug)]
pub struct Table {
    /// Its name.
    pub name: String,
    /// Names of its keys, how each is shown, and how each matches.
    pub keys: Vec<TableKey>,
    /// Its branches; the first is the root.
    pub branches: Vec<Branch>,
    /// Its results: a value for each row.
    pub results: Vec<TableResult>,
}

/// A key of a table.
#[derive(Clone, Debug)]
pub struct TableKey {
    /// Its name.
    pub name: String,
    /// Its type.
    pub ty: Type,
    /// How it matches.
    pub how: crate::notation::tree::Match,
}

/// A result of a table.
#[derive(Clone, Debug)]
pub struct TableResult {
    /// Its type.
    pub ty: Type,
    /// The unit of its values.
    pub unit: Unit,
    /// A value for each row.
    pub values: Vec<Constant>,
}

/// One level of a table under one set of earlier keys.
#[derive(Clone, Debug, Default)]
pub struct Branch {
    /// Numbers in base units, ascending; empty for texts.
    pub numbers: Vec<Number>,
    /// Texts, by the number that stands for all equal ones.
    pub texts: Vec<u32>,
    /// Branch below each key, or the row where this is the last key.
    pub next: Vec<u32>,
}

/// Why a cell can have no value.
#[derive(Clone, Debug)]
pub enum Cause {
    /// A blank cell.
    Missing(FieldId),
    /// A cell that could not be read.
    Unreadable(FieldId),
    /// A division by zero.
    DivideByZero,
    /// A result too large.
    TooLarge,
    /// A field's value too large for the unit that it is told in.
    Outgrown(FieldId),
    /// A count that is not whole or is below zero.
    NotACount,
    /// A table without a row for what was asked.
    NoRow(u32),
    /// Nothing to take the least or most of.
    Nothing(KindId),
    /// The square root of a number below zero.
    NegativeRoot,
    /// What a native function says.
    Native,
}

/// A place in the program where a fault can begin.
#[derive(Clone, Debug)]
pub struct Site {
    /// The kind whose row it speaks of.
    pub kind: KindId,
    /// Why.
    pub cause: Cause,
    /// The step.
    pub node: Option<Reg>,
    /// The book.
    pub text: std::sync::Arc<crate::source::Text>,
    /// Where in it.
    pub span: crate::source::Span,
}
