//! Type names of the notation.

use super::schema::Type;
use crate::quantity::{Dimension, Unit};

/// The types that have a word of their own; every other type is written as a unit, `$/ft`.
pub const TYPES: &[(&str, Type, &str)] = &[
    ("text", Type::Text, "A text."),
    ("yes/no", Type::YesNo, "Yes or no."),
    ("date", Type::Date, "A day."),
    ("number", Type::of(Dimension::NONE), "A plain number."),
    ("count", Type::COUNT, "A whole number that is not below zero."),
    ("percent", Type::PERCENT, "A part of something."),
    ("length", Type::of(Dimension::LENGTH), "A length."),
    ("area", Type::of(Dimension::AREA), "An area."),
    ("volume", Type::of(Dimension::VOLUME), "A volume."),
    ("weight", Type::of(Dimension::FORCE), "A weight or force."),
    ("force", Type::of(Dimension::FORCE), "A weight or force."),
    ("money", Type::of(Dimension::MONEY), "Dollars."),
    ("hours", Type::of(Dimension::TIME), "Hours of labor."),
    ("load", Type::of(Dimension::of(-2, 1, 0, 0)), "A load by area, psf."),
];

/// Reads a type name.
///
/// # Errors
/// When it is neither a type's word nor a unit: the part that is not known.
pub fn read_type(text: &str) -> Result<(Type, Option<Unit>), String> {
    if let Some((kind, _)) = super::native::THINGS.iter().find(|(kind, _)| kind.0 == text) {
        return Ok((Type::Thing(*kind), None));
    }
    if let Some((_, ty, _)) = TYPES.iter().find(|(name, ..)| *name == text) {
        return Ok((*ty, None));
    }
    Unit::read(text).map(|u| (Type::of(u.dimension), Some(u)))
}
