//! Arguments as geometry takes them.

use crate::ceiling::shape::{Side, Ticks};
use crate::program::native::{NativeFault, NativeMade, NativeParameter, NativeValue, Takes, Thing};
use crate::program::schema::Type;
use crate::quantity::{Number, Rounding};

/// A parameter that must be given.
pub const fn needed(name: &'static str, ty: Type) -> NativeParameter {
    NativeParameter { name, takes: Takes::Value(ty), optional: false }
}

/// A parameter that may be left out.
pub const fn optional(name: &'static str, ty: Type) -> NativeParameter {
    NativeParameter { name, takes: Takes::Value(ty), optional: true }
}

/// A parameter that takes one of these words.
pub const fn of(words: &'static [&'static str]) -> NativeParameter {
    NativeParameter { name: "of", takes: Takes::Word(words), optional: false }
}

/// Arguments of one call, by the order of the parameters.
#[derive(Clone, Copy)]
pub struct Given<'a>(pub &'a [NativeValue<'a>]);

impl<'a> Given<'a> {
    /// A thing, as what its function knows it to be.
    ///
    /// # Errors
    /// When it is none.
    pub fn thing<T: Thing>(self, at: usize) -> Result<&'a T, NativeFault> {
        match self.0.get(at) {
            Some(NativeValue::Thing(thing)) => thing.known_as().ok_or_else(nothing),
            _ => Err(nothing()),
        }
    }

    /// A length, where it is given.
    ///
    /// # Errors
    /// One longer than is laid out.
    pub fn length(self, at: usize, what: &str) -> Result<Option<Ticks>, NativeFault> {
        match self.0.get(at) {
            Some(NativeValue::Number(mm)) => ticks(mm, what).map(Some),
            _ => Ok(None),
        }
    }

    /// A length, or the one of common practice.
    ///
    /// # Errors
    /// One longer than is laid out.
    pub fn length_or(self, at: usize, what: &str, usual: Ticks) -> Result<Ticks, NativeFault> {
        Ok(self.length(at, what)?.unwrap_or(usual))
    }

    /// A count, where it is given.
    ///
    /// # Errors
    /// More than can be laid out.
    pub fn count(self, at: usize, what: &str) -> Result<Option<u32>, NativeFault> {
        match self.0.get(at) {
            Some(NativeValue::Number(n)) => count(n, what).map(Some),
            _ => Ok(None),
        }
    }

    /// A text that says something.
    pub fn text(self, at: usize) -> Option<&'a str> {
        match self.0.get(at) {
            Some(NativeValue::Text(text)) if !text.trim().is_empty() => Some(text.trim()),
            _ => None,
        }
    }

    /// Yes or no.
    pub fn yes(self, at: usize) -> bool {
        matches!(self.0.get(at), Some(NativeValue::YesNo(true)))
    }

    /// Rows; none where the kind is left out.
    pub fn rows(self, at: usize) -> impl Iterator<Item = Given<'a>> {
        let rows: &'a [Vec<NativeValue<'a>>] = match self.0.get(at) {
            Some(NativeValue::Rows(rows)) => rows,
            _ => &[],
        };
        rows.iter().map(|row| Given(row))
    }
}

fn nothing() -> NativeFault {
    NativeFault::new("What this is asked of was not made")
}

/// A length on the grid of geometry.
pub fn ticks(mm: &Number, what: &str) -> Result<Ticks, NativeFault> {
    Ticks::from_mm(mm)
        .ok_or_else(|| NativeFault::new(format!("{what} is longer than {}, the most that is laid out", Ticks::LONGEST)))
}

/// A whole number that is not below zero.
pub fn count(n: &Number, what: &str) -> Result<u32, NativeFault> {
    let whole = n.steps(&Number::ONE, Rounding::Near).ok().and_then(|n| u32::try_from(n.to_decimal()).ok());
    whole.ok_or_else(|| NativeFault::new(format!("{what} is no count that can be laid out")))
}

/// A text without regard to case, spaces, hyphens and underscores.
pub fn plain(text: &str) -> String {
    text.chars().filter(|c| !matches!(c, ' ' | '-' | '_' | '.')).flat_map(char::to_lowercase).collect()
}

/// A wall by its side.
///
/// # Errors
/// A text that names none.
pub fn side(text: &str) -> Result<Side, NativeFault> {
    match plain(text).trim_end_matches("wall") {
        "s" | "south" => Ok(Side::South),
        "e" | "east" => Ok(Side::East),
        "n" | "north" => Ok(Side::North),
        "w" | "west" => Ok(Side::West),
        _ => Err(NativeFault {
            what: format!("“{text}” is no wall of a room"),
            fix: "south, east, north or west".to_owned(),
            row: None,
        }),
    }
}

/// A length as a result.
pub fn length(length: Ticks) -> NativeMade {
    NativeMade::Number(length.to_mm())
}

/// A count as a result.
pub fn whole(n: u64) -> NativeMade {
    NativeMade::Number(Number::from(i64::try_from(n).unwrap_or(i64::MAX)))
}
