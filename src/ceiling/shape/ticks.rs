//! Lengths on the grid of native geometry: whole ticks of 1/320 mm.

use crate::quantity::length::feet_inches;
use crate::quantity::{Number, Rounding};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

/// A length in ticks of 1/320 mm. An inch is 8,128 of them, 1/64 in. is 127, 1 mm is 320: all whole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ticks(pub i64);

impl Ticks {
    /// No length.
    pub const ZERO: Self = Self(0);
    /// One millimeter.
    pub const MM: Self = Self(320);
    /// One inch.
    pub const INCH: Self = Self(8_128);
    /// One foot.
    pub const FOOT: Self = Self(97_536);
    /// The longest length that a room, a stock piece or a spacing may have: 2,000 ft.
    ///
    /// Products of two such lengths, and sums of a thousand products, fit 64 bits.
    pub const LONGEST: Self = Self(2_000 * 97_536);

    /// Whole feet.
    #[must_use]
    pub const fn feet(n: i64) -> Self {
        Self(n * Self::FOOT.0)
    }

    /// Whole inches.
    #[must_use]
    pub const fn inches(n: i64) -> Self {
        Self(n * Self::INCH.0)
    }

    /// Whole 64ths of an inch.
    #[must_use]
    pub const fn sixty_fourths(n: i64) -> Self {
        Self(n * 127)
    }

    /// A length in mm, snapped to the nearest tick (halves away from zero), which is at most 1/640 mm.
    ///
    /// Every imperial length to 1/64 in. and every metric one to 1/320 mm is kept exactly. `None` beyond
    /// [`Ticks::LONGEST`] either way.
    #[must_use]
    pub fn from_mm(mm: &Number) -> Option<Self> {
        let ticks = mm.times(&Number::from(Self::MM.0)).ok()?.rounded(&Number::ONE, Rounding::Near).ok()?;
        let ticks = Self(i64::try_from(ticks.exact_decimal()?).ok()?);
        ticks.is_in_bounds().then_some(ticks)
    }

    /// The length in mm, exact.
    #[must_use]
    pub fn to_mm(self) -> Number {
        Number::from_ints(self.0.into(), Self::MM.0.into()).unwrap_or(Number::ZERO)
    }

    /// Whether it lies within [`Ticks::LONGEST`] either way.
    #[must_use]
    pub const fn is_in_bounds(self) -> bool {
        self.0 >= -Self::LONGEST.0 && self.0 <= Self::LONGEST.0
    }

    /// Whether it is above zero and within [`Ticks::LONGEST`].
    #[must_use]
    pub const fn is_a_size(self) -> bool {
        self.0 > 0 && self.0 <= Self::LONGEST.0
    }

    /// How many `steps` cover it, rounded up; zero for a length of zero or below, or a step that is no step.
    #[must_use]
    pub const fn steps_up(self, step: Self) -> i64 {
        if step.0 <= 0 || self.0 <= 0 { 0 } else { (self.0 - 1) / step.0 + 1 }
    }
}

impl Add for Ticks {
    type Output = Self;
    fn add(self, o: Self) -> Self {
        Self(self.0 + o.0)
    }
}

impl AddAssign for Ticks {
    fn add_assign(&mut self, o: Self) {
        self.0 += o.0;
    }
}

impl Sub for Ticks {
    type Output = Self;
    fn sub(self, o: Self) -> Self {
        Self(self.0 - o.0)
    }
}

impl SubAssign for Ticks {
    fn sub_assign(&mut self, o: Self) {
        self.0 -= o.0;
    }
}

impl Neg for Ticks {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Ticks {
    type Output = Self;
    fn mul(self, by: i64) -> Self {
        Self(self.0 * by)
    }
}

impl Sum for Ticks {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        Self(all.map(|t| t.0).sum())
    }
}

/// In feet and inches, to 1/16 in. where that is all of it, else to 1/64 in.
impl fmt::Display for Ticks {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mm = self.to_mm();
        let print = |denominator| feet_inches(&mm, denominator);
        match print(16) {
            Ok(p) if !p.rounded => f.write_str(&p.text),
            _ => f.write_str(&print(64).map_or_else(|_| format!("{} ticks", self.0), |p| p.text)),
        }
    }
}

/// A point of a room: `x` east and `y` north of the south-west corner of the room before its jogs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Point {
    /// East.
    pub x: Ticks,
    /// North.
    pub y: Ticks,
}

impl Point {
    /// A point.
    #[must_use]
    pub const fn new(x: Ticks, y: Ticks) -> Self {
        Self { x, y }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Decimal;

    fn mm(text: &str) -> Number {
        text.parse::<Decimal>().unwrap().into()
    }

    #[test]
    fn inches_and_millimeters_are_whole_ticks() {
        assert_eq!(Ticks::from_mm(&mm("25.4")), Some(Ticks::INCH));
        assert_eq!(Ticks::from_mm(&mm("0.396875")), Some(Ticks::sixty_fourths(1)));
        assert_eq!(Ticks::INCH.0, 64 * 127);
        assert_eq!(Ticks::feet(12).to_mm(), mm("3657.6"));
        // 1/3 mm is 106.67 ticks
        assert_eq!(Ticks::from_mm(&Number::from_ints(1, 3).unwrap()), Some(Ticks(107)));
        assert_eq!(Ticks::from_mm(&mm("610000")), None);
    }

    #[test]
    fn printed_in_feet_and_inches() {
        assert_eq!(Ticks::inches(102).to_string(), "8'-6\"");
        assert_eq!(Ticks::sixty_fourths(1).to_string(), "1/64\"");
        assert_eq!((-Ticks::feet(2)).to_string(), "-2'-0\"");
    }

    #[test]
    fn steps_cover() {
        assert_eq!(Ticks::feet(20).steps_up(Ticks::feet(2)), 10);
        assert_eq!((Ticks::feet(20) + Ticks(1)).steps_up(Ticks::feet(2)), 11);
        assert_eq!(Ticks(-5).steps_up(Ticks::FOOT), 0);
        assert_eq!(Ticks::FOOT.steps_up(Ticks::ZERO), 0);
    }
}
