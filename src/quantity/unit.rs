//! Units: a dimension and an exact factor to the base units millimeter, pound, hour and dollar.
//!
//! A unit is added in one place: a row of [`UNITS`].

use super::dimension::Dimension;
use num_traits::{CheckedDiv, CheckedMul, One as _};

/// An exact ratio of whole numbers, for unit factors.
pub type Ratio = num_rational::Ratio<i128>;

/// A unit of measure: `value in base units = value in this unit × factor`.
///
/// Base units are mm, lb (force), hr and $. Every factor is exact: 1 in. = 25.4 mm and 1 lb = 4.4482216152605 N
/// by definition (NIST SP 811).
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Unit {
    /// What it measures.
    pub dimension: Dimension,
    /// Base units in one of it.
    pub factor: Ratio,
}

/// One row of the table of units.
#[derive(Debug)]
pub struct UnitRecord {
    /// Spellings, the one to print first. Case counts: `M` is a thousand, `m` a meter.
    pub names: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// Factor to base units, as numerator and denominator.
    pub factor: (i128, i128),
    /// One sentence for `words`.
    pub summary: &'static str,
    /// A comparison that holds by the unit's definition.
    pub example: &'static str,
}

const L: Dimension = Dimension::LENGTH;
const A: Dimension = Dimension::AREA;
const V: Dimension = Dimension::VOLUME;
const F: Dimension = Dimension::FORCE;
const T: Dimension = Dimension::TIME;
const N: Dimension = Dimension::NONE;
const M: Dimension = Dimension::of(1, 1, 0, 0);
const PLF: Dimension = Dimension::of(-1, 1, 0, 0);
const PSF: Dimension = Dimension::of(-2, 1, 0, 0);
const PCF: Dimension = Dimension::of(-3, 1, 0, 0);
/// 1 lb of force in newtons is 4.4482216152605; as a ratio, newtons to pounds.
const N_TO_LB: (i128, i128) = (10_000_000_000_000, 44_482_216_152_605);

macro_rules! unit {
    ([$($n:literal),+], $d:expr, $f:expr, $s:literal, $e:literal) => {
        UnitRecord { names: &[$($n),+], dimension: $d, factor: $f, summary: $s, example: $e }
    };
}

/// Every unit of the notation, the price book and the headings, except money, percent and gauges.
pub const UNITS: &[UnitRecord] = &[
    unit!(["ft", "lf", "LF", "feet", "foot"], L, (1524, 5), "Feet; `lf` for linear feet.", "1 ft = 12 in"),
    unit!(["in", "in.", "inch", "inches"], L, (127, 5), "Inches, 25.4 mm exactly.", "1 in = 25.4 mm"),
    unit!(["mm"], L, (1, 1), "Millimeters.", "304.8 mm = 1 ft"),
    unit!(["cm"], L, (10, 1), "Centimeters.", "2.54 cm = 1 in"),
    unit!(["m"], L, (1000, 1), "Meters; the capital letter is a thousand.", "0.3048 m = 1 ft"),
    unit!(["yd"], L, (4572, 5), "Yards.", "1 yd = 3 ft"),
    unit!(["mil"], L, (127, 5000), "Thousandths of an inch, for sheet thickness.", "1000 mil = 1 in"),
    unit!(["CLF"], L, (30480, 1), "A hundred linear feet.", "1 CLF = 100 lf"),
    unit!(["MLF"], L, (304_800, 1), "A thousand linear feet.", "$312/MLF = $0.312/ft"),
    unit!(["sf", "SF", "sqft"], A, (2_322_576, 25), "Square feet.", "1 sf = 144 in^2"),
    unit!(["sy", "SY"], A, (20_903_184, 25), "Square yards.", "1 sy = 9 sf"),
    unit!(["CSF"], A, (9_290_304, 1), "A hundred square feet.", "1 CSF = 100 sf"),
    unit!(["MSF"], A, (92_903_040, 1), "A thousand square feet.", "1 MSF = 1000 sf"),
    unit!(["sqm"], A, (1_000_000, 1), "Square meters.", "1 sqm = 1 m^2"),
    unit!(["cf", "CF"], V, (3_539_605_824, 125), "Cubic feet.", "1 cf = 1728 in^3"),
    unit!(["cy", "CY"], V, (95_569_357_248, 125), "Cubic yards.", "1 cy = 27 cf"),
    unit!(["gal"], V, (473_176_473, 125), "Gallons, 231 cubic inches.", "1 gal = 231 in^3"),
    unit!(["L"], V, (1_000_000, 1), "Liters.", "1 L = 1000 cm^3"),
    unit!(["lb", "lbs", "lbf"], F, (1, 1), "Pounds, as a weight or a force.", "1000 lb = 1 kip"),
    unit!(["kip", "kips"], F, (1000, 1), "A thousand pounds.", "1 kip = 1000 lb"),
    unit!(["ton"], F, (2000, 1), "Short tons, 2,000 lb.", "1 ton = 2000 lb"),
    unit!(["N"], F, N_TO_LB, "Newtons.", "4.4482216152605 N = 1 lb"),
    unit!(["kN"], F, (N_TO_LB.0 * 1000, N_TO_LB.1), "Kilonewtons.", "1 kN = 1000 N"),
    unit!(["ftlb"], M, (1524, 5), "Foot-pounds, a moment.", "1 ftlb = 1 ft * 1 lb"),
    unit!(["inlb"], M, (127, 5), "Inch-pounds, a moment.", "12 inlb = 1 ftlb"),
    unit!(["inkip"], M, (25400, 1), "Inch-kips, a moment: a thousand inch-pounds.", "1 inkip = 1000 inlb"),
    unit!(["plf"], PLF, (5, 1524), "Pounds per linear foot.", "1 plf = 1 lb / 1 ft"),
    unit!(["psf"], PSF, (25, 2_322_576), "Pounds per square foot.", "2.75 psf * 24 in = 5.5 plf"),
    unit!(["psi"], PSF, (25, 16_129), "Pounds per square inch.", "1 psi = 144 psf"),
    unit!(["ksi"], PSF, (25_000, 16_129), "Thousands of pounds per square inch.", "1 ksi = 1000 psi"),
    unit!(["pcf"], PCF, (125, 3_539_605_824), "Pounds per cubic foot.", "1 pcf * 1 ft = 1 psf"),
    unit!(["Pa"], PSF, (N_TO_LB.0, N_TO_LB.1 * 1_000_000), "Pascals, newtons per square meter.", "1 Pa = 1 N / 1 m^2"),
    unit!(["kPa"], PSF, (N_TO_LB.0, N_TO_LB.1 * 1000), "Kilopascals.", "1 kPa = 1000 Pa"),
    unit!(["MPa"], PSF, N_TO_LB, "Megapascals, newtons per square millimeter.", "1 MPa = 1 N / 1 mm^2"),
    unit!(["hr", "hrs", "h", "hours"], T, (1, 1), "Hours of labor.", "1 hr = 60 min"),
    unit!(["min"], T, (1, 60), "Minutes.", "45 min = 0.75 hr"),
    unit!(["ea", "each", "pc", "pcs"], N, (1, 1), "Each: a count of pieces.", "12 ea = 12"),
    unit!(["C"], N, (100, 1), "A hundred pieces, as the yard prices screws.", "2 C = 200 ea"),
    unit!(["M"], N, (1000, 1), "A thousand pieces; the small letter is a meter.", "1 M = 1000 ea"),
];

impl Unit {
    /// The unit of plain numbers.
    #[must_use]
    pub fn none() -> Self {
        Self { dimension: Dimension::NONE, factor: Ratio::one() }
    }

    /// Dollars.
    #[must_use]
    pub fn dollar() -> Self {
        Self { dimension: Dimension::MONEY, factor: Ratio::one() }
    }

    /// The unit in which a column of this dimension is kept: mm for lengths and their powers, feet under a
    /// bar (so that psf and $/ft stay whole), lb, hr and $.
    #[must_use]
    pub fn kept(dimension: Dimension) -> Self {
        let mut factor = Ratio::one();
        for _ in 0..dimension.length.min(0).unsigned_abs() {
            factor /= Ratio::new(1524, 5);
        }
        Self { dimension, factor }
    }

    /// Looks a unit name up, by case.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        UNITS.iter().find(|u| u.names.contains(&name)).map(UnitRecord::unit)
    }

    /// Product of two units; `None` when the factor leaves 128 bits.
    #[must_use]
    pub fn times(self, o: Self) -> Option<Self> {
        Some(Self { dimension: self.dimension * o.dimension, factor: self.factor.checked_mul(&o.factor)? })
    }

    /// Quotient of two units; `None` when the factor leaves 128 bits.
    #[must_use]
    pub fn per(self, o: Self) -> Option<Self> {
        Some(Self { dimension: self.dimension / o.dimension, factor: self.factor.checked_div(&o.factor)? })
    }

    /// The unit to a whole power.
    #[must_use]
    pub fn power(self, n: i8) -> Option<Self> {
        let mut out = Self::none();
        for _ in 0..n.unsigned_abs() {
            out = if n > 0 { out.times(self)? } else { out.per(self)? };
        }
        Some(out)
    }

    /// Reads a unit expression: `ft`, `hr/ft`, `$/MLF`, `in^4`, `in²`, `lb/ft`, `sq ft`.
    ///
    /// # Errors
    /// The part that is no unit.
    pub fn read(text: &str) -> Result<Self, String> {
        let mut out = Self::none();
        let mut divide = false;
        let mut rest = text.trim();
        if rest.is_empty() {
            return Err(String::new());
        }
        loop {
            let end = rest.find(['/', '*', '·']).unwrap_or(rest.len());
            let part = Self::read_factor(rest[..end].trim())?;
            let next = if divide { out.per(part) } else { out.times(part) };
            out = next.ok_or_else(|| text.to_owned())?;
            let Some(sign) = rest[end..].chars().next() else { return Ok(out) };
            divide = sign == '/';
            rest = rest[end + sign.len_utf8()..].trim_start();
        }
    }

    fn read_factor(part: &str) -> Result<Self, String> {
        let fail = || part.to_owned();
        if part == "$" {
            return Ok(Self::dollar());
        }
        if part == "1" {
            return Ok(Self::none());
        }
        if let Some(unit) = Self::named(part) {
            return Ok(unit);
        }
        for (lead, n) in [("sq ", 2), ("sq. ", 2), ("cu ", 3), ("cu. ", 3)] {
            if let Some(name) = part.strip_prefix(lead) {
                return Self::named(name.trim_end_matches('.')).and_then(|u| u.power(n)).ok_or_else(fail);
            }
        }
        let (name, power) = split_power(part).ok_or_else(fail)?;
        Self::named(name).and_then(|u| u.power(power)).ok_or_else(fail)
    }
}

/// Splits `in^4`, `in4`, `in⁴` into name and power.
fn split_power(part: &str) -> Option<(&str, i8)> {
    let last = part.chars().next_back()?;
    let power = match last {
        '²' => 2,
        '³' => 3,
        '⁴' => 4,
        '2'..='6' => i8::try_from(last.to_digit(10)?).ok()?,
        _ => return None,
    };
    let name = &part[..part.len() - last.len_utf8()];
    Some((name.strip_suffix('^').unwrap_or(name), power))
}

impl UnitRecord {
    /// The unit that the row declares.
    #[must_use]
    pub fn unit(&self) -> Unit {
        Unit { dimension: self.dimension, factor: Ratio::new(self.factor.0, self.factor.1) }
    }
}

/// The greatest ratio of which both are whole multiples, so that sums and comparisons need whole factors only.
#[must_use]
pub fn common(a: Ratio, b: Ratio) -> Option<Ratio> {
    if a == b {
        return Some(a);
    }
    let numer =
        num_integer::gcd(i128::checked_mul(*a.numer(), *b.denom())?, i128::checked_mul(*b.numer(), *a.denom())?);
    Some(Ratio::new(numer, i128::checked_mul(*a.denom(), *b.denom())?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn definitions_of_nist_sp_811_hold() {
        let mm = |name: &str| Unit::named(name).unwrap().factor;
        assert_eq!(mm("in"), Ratio::new(254, 10));
        assert_eq!(mm("ft"), Ratio::new(3048, 10));
        // 1 sf = 0.09290304 m², 1 gal = 3.785411784 L, 1 cf = 0.028316846592 m³ (NIST SP 811, appendix B).
        assert_eq!(mm("sf"), Ratio::new(9_290_304, 100));
        assert_eq!(mm("gal"), Ratio::new(3_785_411_784, 1000));
        assert_eq!(mm("cf"), Ratio::new(28_316_846_592, 1000));
        assert_eq!(Unit::read("ft^3").unwrap(), Unit::named("cf").unwrap());
        assert_eq!(Unit::read("lb/sf").unwrap(), Unit::named("psf").unwrap());
        assert_eq!(Unit::read("lb/in^2").unwrap(), Unit::named("psi").unwrap());
        assert_eq!(Unit::read("sq ft").unwrap(), Unit::named("sf").unwrap());
        assert_eq!(Unit::read("kN/m^2").unwrap(), Unit::named("kPa").unwrap());
        assert_eq!(Unit::read("yd²").unwrap(), Unit::named("sy").unwrap());
        assert_eq!(Unit::read("yd^3").unwrap(), Unit::named("cy").unwrap());
    }

    #[test]
    fn a_thousand_and_a_meter_differ_by_case() {
        assert_ne!(Unit::named("M"), Unit::named("m"));
        assert!(Unit::read("furlong").is_err());
    }

    #[test]
    fn no_name_is_declared_twice() {
        let mut seen = Vec::new();
        for name in UNITS.iter().flat_map(|u| u.names) {
            assert!(!seen.contains(name), "{name}");
            seen.push(*name);
        }
    }
}
