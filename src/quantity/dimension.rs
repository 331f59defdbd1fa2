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
            (-1, 0, 0, 0) => "a number by length (ea/ft)",
            (-2, 0, 0, 0) => "a number by area (ea/sf)",
            _ => return format!("a quantity in {}", self.unit_text()),
        };
        known.to_owned()
    }

    /// The dimension spelled in the trade's units as the notation reads them, `lb·hr/sf`, `ea/ft`; empty for a plain
    /// number.
    #[must_use]
    pub fn unit_text(self) -> String {
        if self == Self::of(1, 1, 0, 0) {
            return "ftlb".to_owned();
        }
        let power = |(name, e): (&str, i8)| match (name, e.unsigned_abs()) {
            (name, 1) => name.to_owned(),
            ("ft", 2) => "sf".to_owned(),
            ("ft", 3) => "cf".to_owned(),
            // a dollar has no powers
            ("$", n) => vec!["$"; n.into()].join(if e > 0 { "·" } else { "/" }),
            (name, n) => format!("{name}^{n}"),
        };
        self.spelled("ft", "·", "ea", power)
    }

    /// The dimension spelled in base units for programs, `lb*hr/mm^2`, `1/mm`; empty for a plain number.
    #[must_use]
    pub fn base_text(self) -> String {
        let power = |(name, e): (&str, i8)| match e.unsigned_abs() {
            1 => name.to_owned(),
            n => format!("{name}^{n}"),
        };
        self.spelled("mm", "*", "1", power)
    }

    /// Above the bar, joined, then what is below it, each with a bar of its own.
    fn spelled(self, length: &str, joined: &str, one: &str, power: impl Fn((&str, i8)) -> String) -> String {
        let parts = [("$", self.money), ("lb", self.force), ("hr", self.time), (length, self.length)];
        let side = |sign: i8| parts.into_iter().filter(|(_, e)| e.signum() == sign).map(&power).collect::<Vec<_>>();
        let (over, under) = (side(1).join(joined), side(-1));
        match (over.is_empty(), under.is_empty()) {
            (_, true) => over,
            (true, false) => format!("{one}/{}", under.join("/")),
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
