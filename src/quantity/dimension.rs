//! What a quantity measures: exponents over length, force, time and money.

use std::ops::{Div, Mul};

/// Exponents over the four base dimensions. A plain number, a count and a percent have none.
///
/// Weight is force: the trade's pound is a pound of force.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug, Default, PartialOrd, Ord)]
pub struct Dimension {
    /// Exponent of length: 1 a length, 2 an area, 3 a volume or section modulus, 4 a moment of inertia.
    pub length: i8,
    /// Exponent of force.
    pub force: i8,
    /// Exponent of time (hours of labor).
    pub time: i8,
    /// Exponent of money.
    pub money: i8,
}

impl Dimension {
    /// A plain number.
    pub const NONE: Self = Self::of(0, 0, 0, 0);
    /// A length.
    pub const LENGTH: Self = Self::of(1, 0, 0, 0);
    /// An area.
    pub const AREA: Self = Self::of(2, 0, 0, 0);
    /// A volume.
    pub const VOLUME: Self = Self::of(3, 0, 0, 0);
    /// A force or weight.
    pub const FORCE: Self = Self::of(0, 1, 0, 0);
    /// Hours.
    pub const TIME: Self = Self::of(0, 0, 1, 0);
    /// Money.
    pub const MONEY: Self = Self::of(0, 0, 0, 1);

    /// From the four exponents.
    #[must_use]
    pub const fn of(length: i8, force: i8, time: i8, money: i8) -> Self {
        Self { length, force, time, money }
    }

    /// Whether this is a plain number.
    #[must_use]
    pub fn is_none(self) -> bool {
        self == Self::NONE
    }

    /// The dimension to a whole power; `None` when an exponent leaves its range.
    #[must_use]
    pub fn power(self, n: i8) -> Option<Self> {
        Some(Self {
            length: self.length.checked_mul(n)?,
            force: self.force.checked_mul(n)?,
            time: self.time.checked_mul(n)?,
            money: self.money.checked_mul(n)?,
        })
    }

    /// The `n`th root, where each exponent divides by `n`.
    #[must_use]
    pub fn root(self, n: i8) -> Option<Self> {
        let part = |x: i8| (x % n == 0).then_some(x / n);
        Some(Self {
            length: part(self.length)?,
            force: part(self.force)?,
            time: part(self.time)?,
            money: part(self.money)?,
        })
    }

    /// The words of the trade for it, with an article: "a length", "square feet", "a price for each foot".
    #[must_use]
    pub fn words(self) -> String {
        let known = match (self.length, self.force, self.time, self.money) {
            (0, 0, 0, 0) => "a plain number",
            (1, 0, 0, 0) => "a length",
            (2, 0, 0, 0) => "an area (square feet)",
            (3, 0, 0, 0) => "a volume",
            (4, 0, 0, 0) => "a moment of inertia (in^4)",
            (0, 1, 0, 0) => "a weight (lb)",
            (-1, 1, 0, 0) => "a load by length (plf)",
            (-2, 1, 0, 0) => "a pressure (psf)",
            (1, 1, 0, 0) => "a moment (force times length)",
            (0, 0, 1, 0) => "hours",
            (-1, 0, 1, 0) => "hours by length (hr/ft)",
            (-2, 0, 1, 0) => "hours by area (hr/sf)",
            (0, 0, 0, 1) => "money ($)",
            (-1, 0, 0, 1) => "a price by length ($/ft)",
            (-2, 0, 0, 1) => "a price by area ($/sf)",
            (-3, 0, 0, 1) => "a price by volume",
            (0, -1, 0, 1) => "a price by weight ($/lb)",
            (0, 0, -1, 1) => "a wage ($/hr)",
            (-1, 0, 0, 0) => "a number by length (1/ft)",
            (-2, 0, 0, 0) => "a number by area (1/sf)",
            _ => return format!("a quantity in {}", self.unit_text()),
        };
        known.to_owned()
    }

    /// The dimension spelled in the trade's units, `lb*hr/ft^2`; empty for a plain number.
    #[must_use]
    pub fn unit_text(self) -> String {
        let parts = [("$", self.money), ("lb", self.force), ("hr", self.time), ("ft", self.length)];
        let side = |sign: i8| {
            parts
                .iter()
                .filter(|(_, e)| e.signum() == sign)
                .map(|(name, e)| if e.abs() == 1 { (*name).to_owned() } else { format!("{name}^{}", e.abs()) })
                .collect::<Vec<_>>()
        };
        let (over, under) = (side(1).join("*"), side(-1));
        match (over.is_empty(), under.is_empty()) {
            (_, true) => over,
            (true, false) => format!("1/{}", under.join("/")),
            (false, false) => format!("{over}/{}", under.join("/")),
        }
    }
}

impl Mul for Dimension {
    type Output = Self;
    /// Exponents add; they stay far inside their range because a book's nesting is limited.
    fn mul(self, o: Self) -> Self {
        Self {
            length: self.length.saturating_add(o.length),
            force: self.force.saturating_add(o.force),
            time: self.time.saturating_add(o.time),
            money: self.money.saturating_add(o.money),
        }
    }
}

impl Div for Dimension {
    type Output = Self;
    fn div(self, o: Self) -> Self {
        Self {
            length: self.length.saturating_sub(o.length),
            force: self.force.saturating_sub(o.force),
            time: self.time.saturating_sub(o.time),
            money: self.money.saturating_sub(o.money),
        }
    }
}
