//! Functions of the language. A function is added in one place: a record in its family's file.
//!
//! Look-up, checking, `words`, hints and the record's own tests all come from the record.

mod choosing;
mod rounding;
mod roots;

use super::emit::{Emit, Here, Refused};
use super::node::Reg;

/// A parameter of a function of the language.
#[derive(Debug)]
pub struct BuiltInParameter {
    /// Its name.
    pub name: &'static str,
    /// What it takes, in words.
    pub takes: &'static str,
    /// Whether a caller may leave it out.
    pub optional: bool,
}

/// Makes the node of a call; what it refuses is said without a place.
pub type Build = fn(&mut Emit, &Here, &[Option<Reg>]) -> Result<Reg, Refused>;

/// A function of the language.
#[derive(Debug)]
pub struct BuiltIn {
    /// Its name.
    pub name: &'static str,
    /// Its signature in the notation's own terms, for `words`.
    pub signature: &'static str,
    /// Its parameters; the first may go without its name.
    pub parameters: &'static [BuiltInParameter],
    /// Whether it takes two or more values without names, of which the parameters tell.
    pub several: bool,
    /// What it gives, in words.
    pub gives: &'static str,
    /// One sentence.
    pub summary: &'static str,
    /// More, where there is more to say.
    pub details: &'static str,
    /// Expressions and what they print.
    pub examples: &'static [(&'static str, &'static str)],
    /// An expression that is refused, and a part of the reason.
    pub refused: (&'static str, &'static str),
    /// The edition of the notation that brought it.
    pub since: &'static str,
    /// Makes its node; arguments in the order of the parameters.
    pub build: Build,
}

/// All of them.
pub fn all() -> impl Iterator<Item = &'static BuiltIn> {
    rounding::RECORDS.iter().chain(choosing::RECORDS).chain(roots::RECORDS)
}

/// The one of that name.
#[must_use]
pub fn named(name: &str) -> Option<&'static BuiltIn> {
    all().find(|b| b.name == name)
}

/// The dimension of a numeric argument, or a refusal.
fn number(emit: &Emit, reg: Reg, what: &str) -> Result<crate::quantity::Dimension, Refused> {
    let ty = emit.node(reg).ty;
    ty.dimension().ok_or_else(|| format!("{what} takes a number or a quantity; this is {}.", ty.words()))
}
