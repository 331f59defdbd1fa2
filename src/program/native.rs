//! Functions that are native: worked out in Rust, a row at a time, because they need geometry or search.
//!
//! Upper layers hand their records to [`super::compile`] as [`Natives`]; no import runs up. What such a function
//! makes may be a *thing*, a value that books pass on and ask other native functions about, and do not look into.

use crate::notation::tree::Name;
use crate::quantity::{Dimension, Number};
use std::any::Any;
use std::fmt::{Debug, Display};
use std::sync::Arc;

use super::schema::{FieldId, Flavor, KindId, Type};

/// A value that only native functions look into. `Display` is how a message speaks of it.
pub trait Thing: Any + Debug + Display + Send + Sync {}

impl dyn Thing {
    /// The thing as what a function knows it to be, where it is that.
    #[must_use]
    pub fn known_as<T: Thing>(&self) -> Option<&T> {
        (self as &dyn Any).downcast_ref()
    }
}

/// Pieces to be cut from stock: lengths in mm, longest first, and how many of each.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pieces(pub Vec<(Number, u64)>);

impl Pieces {
    /// The type of the notation.
    pub const TYPE: Type = Type::Thing(ThingKind("pieces"));

    /// Lengths added up, in mm; nothing when that is too large a number.
    #[must_use]
    pub fn total(&self) -> Option<Number> {
        let each = |(mm, many): &(Number, u64)| mm.times(&i64::try_from(*many).ok()?.into()).ok();
        self.0.iter().try_fold(Number::ZERO, |sum, piece| sum.plus(&each(piece)?).ok())
    }
}

impl Thing for Pieces {}

impl Display for Pieces {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let style = crate::quantity::show::Style::default();
        for (i, (mm, many)) in self.0.iter().enumerate() {
            let length = crate::quantity::show::show(mm, Dimension::LENGTH, &style).text;
            write!(f, "{}{many} x {length}", if i > 0 { ", " } else { "" })?;
        }
        if self.0.is_empty() { f.write_str("no pieces") } else { Ok(()) }
    }
}

/// The functions that the language itself brings for things.
pub const OWN: &[Native] = &[
    Native {
        name: "pieces_length",
        parameters: &[NativeParameter { name: "pieces", takes: Takes::Value(Pieces::TYPE), optional: false }],
        result: LENGTH,
        summary: "The lengths of pieces to be cut, added up.",
        details: "",
        examples: &[("pieces_length(same_pieces(9, each: 14'))", "126'-0\"")],
        refused: ("pieces_length(14')", "pieces is needed"),
        since: "1",
        remembered: false,
        work: |given| match given {
            [NativeValue::Thing(thing)] => {
                let total = thing.known_as::<Pieces>().and_then(Pieces::total);
                total.map(NativeMade::Number).ok_or_else(|| NativeFault::new("These pieces are too long to add up"))
            }
            _ => Err(NativeFault::new("There are no pieces to add up")),
        },
    },
    Native {
        name: "pieces_count",
        parameters: &[NativeParameter { name: "pieces", takes: Takes::Value(Pieces::TYPE), optional: false }],
        result: COUNT,
        summary: "How many pieces are to be cut.",
        details: "",
        examples: &[("pieces_count(same_pieces(9, each: 14'))", "9")],
        refused: ("pieces_count(14')", "pieces is needed"),
        since: "1",
        remembered: false,
        work: |given| match given {
            [NativeValue::Thing(thing)] => {
                let pieces = thing.known_as::<Pieces>();
                let many = pieces.and_then(|p| p.0.iter().try_fold(0u64, |sum, (_, many)| sum.checked_add(*many)));
                let many = many.and_then(|n| i64::try_from(n).ok());
                many.map(|n| NativeMade::Number(n.into())).ok_or_else(|| NativeFault::new("These are too many pieces"))
            }
            _ => Err(NativeFault::new("There are no pieces to count")),
        },
    },
    Native {
        name: "same_pieces",
        parameters: &[
            NativeParameter { name: "many", takes: Takes::Value(COUNT), optional: false },
            NativeParameter { name: "each", takes: Takes::Value(LENGTH), optional: false },
        ],
        result: Pieces::TYPE,
        summary: "So many pieces of one length, to be cut from stock.",
        details: "",
        examples: &[("pieces_count(same_pieces(3, each: 4'))", "3")],
        refused: ("same_pieces(3, each: 0')", "longer than nothing"),
        since: "1",
        remembered: true,
        work: |given| match given {
            [NativeValue::Number(many), NativeValue::Number(each)] => {
                let many = u64::try_from(many.to_decimal().normalize().mantissa());
                match many {
                    Ok(0) => Ok(NativeMade::Thing(Arc::new(Pieces::default()))),
                    Ok(many) if !each.is_negative() && !each.is_zero() => {
                        Ok(NativeMade::Thing(Arc::new(Pieces(vec![(*each, many)]))))
                    }
                    Ok(_) => Err(NativeFault::new("A piece must be longer than nothing")),
                    Err(_) => Err(NativeFault::new("These are too many pieces")),
                }
            }
            _ => Err(NativeFault::new("A count and a length are needed")),
        },
    },
];

/// A kind of thing, by its name as a type of the notation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ThingKind(pub &'static str);

/// Every kind of thing; its name is a type of the notation.
pub const THINGS: &[(ThingKind, &str)] = &[
    (ThingKind("shape"), "The outline of a room, with its jogs and columns."),
    (ThingKind("layout"), "A room with its framing laid out piece by piece."),
    (ThingKind("boards"), "Board laid on a framed room."),
    (ThingKind("pieces"), "Pieces to be cut from stock, each with its length."),
    (ThingKind("words"), "Sentences about a row, for the message of a check."),
];

/// What a parameter of a native function takes.
#[derive(Clone, Copy, Debug)]
pub enum Takes {
    /// A value of a type.
    Value(Type),
    /// One of these words, known when the book is read.
    Word(&'static [&'static str]),
    /// All rows that belong to the row: the kind's name stands for them. Fields by name with their types; those
    /// marked may be missing from the kind, and any may be blank in a row.
    Rows(&'static [(&'static str, Type, bool)]),
}

/// A parameter of a native function.
#[derive(Clone, Copy, Debug)]
pub struct NativeParameter {
    /// Its name.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Whether a caller may leave it out, and a blank value counts as left out.
    pub optional: bool,
}

/// A value as a native function sees it, lent by the columns. Numbers are in base units (mm, mm², lb, hr; a percent as
/// its fraction).
#[derive(Clone, Debug)]
pub enum NativeValue<'a> {
    /// Left out, or blank.
    Missing,
    /// A number.
    Number(Number),
    /// A text.
    Text(&'a str),
    /// Yes or no.
    YesNo(bool),
    /// A thing.
    Thing(&'a dyn Thing),
    /// Rows, each with a value for each field of the parameter.
    Rows(Vec<Vec<NativeValue<'a>>>),
}

/// What a native function makes. Numbers are in base units.
#[derive(Clone, Debug)]
pub enum NativeMade {
    /// A number.
    Number(Number),
    /// Yes or no.
    YesNo(bool),
    /// A thing.
    Thing(Arc<dyn Thing>),
}

/// Why a native function has no value for a row.
#[derive(Clone, Debug)]
pub struct NativeFault {
    /// A sentence that stands alone.
    pub what: String,
    /// What would be right; may be empty.
    pub fix: String,
    /// The row of a parameter's rows that is to blame: parameter, then row, from 0. Of a parameter that is one value, that
    /// value; where it stands in a cell, the cell is named.
    pub row: Option<(usize, usize)>,
}

impl NativeFault {
    /// A fault of the row as a whole.
    #[must_use]
    pub fn new(what: impl Into<String>) -> Self {
        Self { what: what.into(), fix: String::new(), row: None }
    }
}

/// Works a native function out for one row; arguments are in the order of the parameters.
pub type Work = fn(&[NativeValue<'_>]) -> Result<NativeMade, NativeFault>;

/// A native function. It is added in one place: its record.
#[derive(Debug)]
pub struct Native {
    /// Its name.
    pub name: &'static str,
    /// Its parameters; the first may go without its name.
    pub parameters: &'static [NativeParameter],
    /// The type of its result: a number, yes or no, or a thing.
    pub result: Type,
    /// One sentence.
    pub summary: &'static str,
    /// More, where there is more to say: conventions, assumptions, sources.
    pub details: &'static str,
    /// Expressions and what they print.
    pub examples: &'static [(&'static str, &'static str)],
    /// An expression that is refused or has no value, and a part of the reason.
    pub refused: (&'static str, &'static str),
    /// The edition of the notation that brought it.
    pub since: &'static str,
    /// Whether equal arguments are worked out once and remembered.
    pub remembered: bool,
    /// Works it out.
    pub work: Work,
}

/// The native functions that a program may call.
pub type Natives = &'static [&'static [Native]];

/// The one of that name, with its number.
#[must_use]
pub fn named(natives: Natives, name: &str) -> Option<(u32, &'static Native)> {
    let mut all = natives.iter().copied().flatten().zip(0u32..);
    all.find(|(n, _)| n.name == name).map(|(n, i)| (i, n))
}

/// The one of that number.
#[must_use]
pub fn numbered(natives: Natives, number: u32) -> Option<&'static Native> {
    natives.iter().copied().flatten().nth(number as usize)
}

/// An argument of a call.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum NativeArgument {
    /// Left out.
    Missing,
    /// A step.
    Value(super::node::Reg),
    /// Rows of a kind: the column of each field, where the kind has it.
    Rows(KindId, Vec<Option<FieldId>>),
}

impl NativeParameter {
    /// What it takes, in words.
    #[must_use]
    pub fn words(&self) -> String {
        match self.takes {
            Takes::Value(ty) => type_name(ty),
            Takes::Word(words) => words.iter().map(|w| format!("\"{w}\"")).collect::<Vec<_>>().join(" or "),
            Takes::Rows(fields) => {
                let names: Vec<&str> = fields.iter().map(|(n, ..)| *n).collect();
                format!("rows with {}", names.join(", "))
            }
        }
    }
}

impl Native {
    /// Its signature as `words` shows it.
    #[must_use]
    pub fn signature(&self) -> String {
        let one = |p: &NativeParameter| {
            format!("{}: {}{}", p.name, p.words(), if p.optional { " (may be left out)" } else { "" })
        };
        let parameters: Vec<String> = self.parameters.iter().map(one).collect();
        format!("{}({}) {}", self.name, parameters.join(", "), type_name(self.result))
    }
}

/// A type as the notation writes it.
#[must_use]
pub fn type_name(ty: Type) -> String {
    match ty {
        Type::Thing(kind) => kind.0.to_owned(),
        _ => super::types::TYPES
            .iter()
            .find(|(_, t, _)| *t == ty)
            .map_or_else(|| ty.dimension().unwrap_or(Dimension::NONE).unit_text(), |(name, ..)| (*name).to_owned()),
    }
}

/// A length.
pub const LENGTH: Type = Type::of(Dimension::LENGTH);
/// An area.
pub const AREA: Type = Type::of(Dimension::AREA);
/// A count.
pub const COUNT: Type = Type::Number { dimension: Dimension::NONE, flavor: Flavor::Count };

/// A name, where an argument is one.
pub(super) fn bare_name(e: &crate::notation::tree::Expr) -> Option<Name> {
    match &e.node {
        crate::notation::tree::Node::Name(name) => Some(Name { name: name.clone(), span: e.span }),
        _ => None,
    }
}
