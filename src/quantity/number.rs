//! The one meaning of a number: an exact quotient of decimals.
//!
//! A quotient is not divided out until it must be: `$4.85 / 12'` times 12 ft is $4.85 again. When a quotient in
//! lowest terms no longer fits 63 bits above or below the bar it becomes its nearest decimal of 28 significant digits;
//! nothing else is ever rounded unless a rule says so. The 28 digits count from the first that is not zero, and reach
//! down to the 56th place: below that nothing is left.

use super::unit::Ratio;
use num_bigint::{BigInt, Sign};
use num_integer::Integer;
use num_traits::{One, PrimInt, Signed, ToPrimitive, Zero};
use rust_decimal::Decimal;
use std::cmp::Ordering;

/// An exact number: `num / den`, with `den` above zero, and 1 wherever the value is a decimal of at most 28 places. A
/// decimal of more places has a power of ten below the bar.
#[derive(Clone, Copy, Debug)]
pub struct Number {
    num: Decimal,
    den: Decimal,
}

/// What can go wrong with numbers alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NumberError {
    /// A division by zero.
    DivideByZero,
    /// A value beyond 28 digits before the decimal point.
    TooLarge,
    /// The root of a number below zero.
    NegativeRoot,
}

/// How a value is brought to a whole multiple.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// To the next multiple at or above; within one millionth of a multiple counts as that multiple.
    Up,
    /// To the next multiple at or below; within one millionth of a multiple counts as that multiple.
    Down,
    /// To the nearest multiple, halves away from zero.
    Near,
    /// To the nearest multiple, halves to the even one (ASTM E29).
    NearEven,
}

/// The part of one step within which a value counts as whole when pieces are rounded.
pub const WHOLE_TOLERANCE: i64 = 1_000_000;

/// Decimal places beyond which nothing is kept of a number that is not a quotient.
pub const MOST_PLACES: u32 = 56;

/// Zero.
impl Default for Number {
    fn default() -> Self {
        Self::ZERO
    }
}

impl Number {
    /// Zero.
    pub const ZERO: Self = Self { num: Decimal::ZERO, den: Decimal::ONE };
    /// One.
    pub const ONE: Self = Self { num: Decimal::ONE, den: Decimal::ONE };

    /// A quotient of two decimals, in lowest terms.
    ///
    /// # Errors
    /// Division by zero.
    pub fn quotient(num: Decimal, den: Decimal) -> Result<Self, NumberError> {
        if den.is_zero() {
            return Err(NumberError::DivideByZero);
        }
        if den == Decimal::ONE {
            return Ok(Self::from(num));
        }
        let (n, d) = (num.mantissa(), den.mantissa());
        let shift = |m: i128, by: u32| 10i128.checked_pow(by).and_then(|p| m.checked_mul(p));
        let scales = (num.scale(), den.scale());
        let ints = if scales.0 >= scales.1 {
            shift(d, scales.0 - scales.1).map(|d| (n, d))
        } else {
            shift(n, scales.1 - scales.0).map(|n| (n, d))
        };
        match ints {
            Some((n, d)) => Self::from_ints(n, d),
            None => {
                let (n, d) = big_parts(num, den);
                Self::from_big(n, d)
            }
        }
    }

    /// A ratio, such as a unit's factor.
    ///
    /// # Errors
    /// [`NumberError::TooLarge`]: its whole numbers do not fit.
    pub fn of_ratio(ratio: Ratio) -> Result<Self, NumberError> {
        Self::from_ints(*ratio.numer(), *ratio.denom())
    }

    /// From a ratio of whole numbers.
    ///
    /// # Errors
    /// Division by zero; a value too large.
    pub fn from_ints(n: i128, d: i128) -> Result<Self, NumberError> {
        if d == 0 {
            return Err(NumberError::DivideByZero);
        }
        let Some((n, d)) = lowest(n, d) else { return Self::from_big(n.into(), d.into()) };
        if let Some(decimal) = terminating(n, d) {
            return Ok(Self { num: decimal, den: Decimal::ONE });
        }
        if i64::try_from(n).is_ok() && i64::try_from(d).is_ok() {
            return Ok(Self { num: Decimal::from_i128_with_scale(n, 0), den: Decimal::from_i128_with_scale(d, 0) });
        }
        Self::from_big(n.into(), d.into())
    }

    /// From any ratio of whole numbers; to 28 significant digits where it can be kept no other way.
    fn from_big(n: BigInt, d: BigInt) -> Result<Self, NumberError> {
        if d.is_zero() {
            return Err(NumberError::DivideByZero);
        }
        let g = n.gcd(&d);
        let (mut n, mut d) = (n / &g, d / &g);
        if d.is_negative() {
            (n, d) = (-n, -d);
        }
        if let (Some(a), Some(b)) = (n.to_i128(), d.to_i128()) {
            if let Some(decimal) = terminating(a, b) {
                return Ok(Self { num: decimal, den: Decimal::ONE });
            }
            if let (Ok(a), Ok(b)) = (i64::try_from(a), i64::try_from(b)) {
                return Ok(Self { num: a.into(), den: b.into() });
            }
        }
        // 28 digits: scale up until the quotient has them, then one division, halves away from zero.
        let digits = |x: &BigInt| i64::try_from(x.magnitude().to_str_radix(10).len()).unwrap_or(i64::MAX);
        let most = (28 - digits(&n).saturating_sub(digits(&d))).min(MOST_PLACES.into());
        let Ok(most) = u32::try_from(most) else { return Err(NumberError::TooLarge) };
        let made = (0..=most).rev().find_map(|places| {
            let up = &n * BigInt::from(10).pow(places);
            Self::of_digits(div_half_away(&up, &d).to_i128()?, places)
        });
        made.ok_or(NumberError::TooLarge)
    }

    /// A decimal of any number of places to [`MOST_PLACES`]; nothing where its digits are too many.
    fn of_digits(mut digits: i128, mut places: u32) -> Option<Self> {
        while places > 0 && digits % 10 == 0 {
            digits /= 10;
            places -= 1;
        }
        let below = places.saturating_sub(Decimal::MAX_SCALE);
        let num = Decimal::try_from_i128_with_scale(digits, places - below).ok()?;
        let den = Decimal::try_from_i128_with_scale(10i128.checked_pow(below)?, 0).ok()?;
        Some(Self { num, den })
    }

    /// Numerator and denominator, the denominator above zero.
    #[must_use]
    pub fn parts(&self) -> (Decimal, Decimal) {
        (self.num, self.den)
    }

    /// The value as a decimal: exact where it ends, else to 28 digits.
    #[must_use]
    pub fn to_decimal(&self) -> Decimal {
        if self.den == Decimal::ONE { self.num } else { self.num.checked_div(self.den).unwrap_or(Decimal::MAX) }
    }

    /// The value as a decimal when it ends.
    #[must_use]
    pub fn exact_decimal(&self) -> Option<Decimal> {
        (self.den == Decimal::ONE).then_some(self.num)
    }

    /// Whether it is zero.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.num.is_zero()
    }

    /// Whether it is below zero.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.num.is_sign_negative() && !self.num.is_zero()
    }

    /// Whether it is a whole number.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.den == Decimal::ONE && self.num.fract().is_zero()
    }

    /// Sum.
    ///
    /// # Errors
    /// A value too large.
    pub fn plus(&self, o: &Self) -> Result<Self, NumberError> {
        if self.den == Decimal::ONE
            && o.den == Decimal::ONE
            && let Some(sum) = exact(self.num, o.num, Decimal::checked_add(self.num, o.num))
        {
            return Ok(Self::from(sum));
        }
        if let (Some((a, b)), Some((c, d))) = (self.small(), o.small())
            && let (Some(ad), Some(cb), Some(under)) = (a.checked_mul(d), c.checked_mul(b), b.checked_mul(d))
            && let Some(over) = ad.checked_add(cb)
        {
            return Self::from_ints(over, under);
        }
        let ((a, b), (c, d)) = (self.big(), o.big());
        Self::from_big(a * &d + c * &b, b * d)
    }

    /// Difference.
    ///
    /// # Errors
    /// A value too large.
    pub fn minus(&self, o: &Self) -> Result<Self, NumberError> {
        self.plus(&o.negated())
    }

    /// Product.
    ///
    /// # Errors
    /// A value too large.
    pub fn times(&self, o: &Self) -> Result<Self, NumberError> {
        if self.den == Decimal::ONE
            && o.den == Decimal::ONE
            && self.num.scale() + o.num.scale() <= 28
            && let Some(product) = self.num.mantissa().checked_mul(o.num.mantissa())
            && let Ok(out) = Decimal::try_from_i128_with_scale(product, self.num.scale() + o.num.scale())
        {
            return Ok(Self::from(out));
        }
        if let (Some((a, b)), Some((c, d))) = (self.small(), o.small())
            && let (Some(over), Some(under)) = (a.checked_mul(c), b.checked_mul(d))
        {
            return Self::from_ints(over, under);
        }
        let ((a, b), (c, d)) = (self.big(), o.big());
        Self::from_big(a * c, b * d)
    }

    /// Quotient.
    ///
    /// # Errors
    /// Division by zero; a value too large.
    pub fn over(&self, o: &Self) -> Result<Self, NumberError> {
        if o.is_zero() {
            return Err(NumberError::DivideByZero);
        }
        if self.den == Decimal::ONE && o.den == Decimal::ONE {
            return Self::quotient(self.num, o.num);
        }
        if let (Some((a, b)), Some((c, d))) = (self.small(), o.small())
            && let (Some(over), Some(under)) = (a.checked_mul(d), b.checked_mul(c))
        {
            return Self::from_ints(over, under);
        }
        let ((a, b), (c, d)) = (self.big(), o.big());
        Self::from_big(a * d, b * c)
    }

    /// The value times a ratio of whole numbers.
    ///
    /// # Errors
    /// A value too large.
    pub fn scaled(&self, by: Ratio) -> Result<Self, NumberError> {
        if by.is_one() {
            return Ok(*self);
        }
        if let Some((a, b)) = self.small()
            && let (Some(over), Some(under)) = (a.checked_mul(*by.numer()), b.checked_mul(*by.denom()))
        {
            return Self::from_ints(over, under);
        }
        let (a, b) = self.big();
        Self::from_big(a * BigInt::from(*by.numer()), b * BigInt::from(*by.denom()))
    }

    /// To a whole power.
    ///
    /// # Errors
    /// Division by zero; a value too large.
    pub fn power(&self, n: i8) -> Result<Self, NumberError> {
        let mut out = Self::ONE;
        for _ in 0..n.unsigned_abs() {
            out = if n > 0 { out.times(self)? } else { out.over(self)? };
        }
        Ok(out)
    }

    /// How it compares with another, each times a whole number: exact, whatever their size.
    #[must_use]
    pub fn order(&self, by: i128, o: &Self, o_by: i128) -> Ordering {
        if by == 1 && o_by == 1 {
            return self.cmp(o);
        }
        let ((a, b), (c, d)) = (self.big(), o.big());
        (a * by * d).cmp(&(c * o_by * b))
    }

    /// The opposite.
    #[must_use]
    pub fn negated(&self) -> Self {
        Self { num: if self.num.is_zero() { self.num } else { -self.num }, den: self.den }
    }

    /// How many whole steps of `step` the value is, rounded.
    ///
    /// # Errors
    /// A step of zero; a value too large.
    pub fn steps(&self, step: &Self, how: Rounding) -> Result<Self, NumberError> {
        self.steps_of(1, step, 1, how)
    }

    /// How many whole steps of `step_by` times `step` the value times `by` is, rounded once.
    ///
    /// # Errors
    /// A step of zero; a value too large.
    pub fn steps_of(&self, by: i128, step: &Self, step_by: i128, how: Rounding) -> Result<Self, NumberError> {
        if step.is_zero() || step_by == 0 {
            return Err(NumberError::DivideByZero);
        }
        if let Some(steps) = self.small_steps(by, step, step_by, how) {
            return Self::from_ints(steps, 1);
        }
        let ((a, b), (c, d)) = (self.big(), step.big());
        let (mut n, mut d) = (a * by * d, b * c * step_by);
        if d.is_negative() {
            (n, d) = (-n, -d);
        }
        let q = match how {
            Rounding::Up => -floor_tolerant(&-n, &d),
            Rounding::Down => floor_tolerant(&n, &d),
            Rounding::Near => div_half_away(&n, &d),
            Rounding::NearEven => div_half_even(&n, &d),
        };
        Self::from_big(q, BigInt::one())
    }

    /// The value at a whole multiple of `step`.
    ///
    /// # Errors
    /// A step of zero; a value too large.
    pub fn rounded(&self, step: &Self, how: Rounding) -> Result<Self, NumberError> {
        self.steps(step, how)?.times(step)
    }

    /// Whole cents of a value in dollars, halves away from zero.
    ///
    /// # Errors
    /// A value beyond 92 quadrillion dollars.
    pub fn cents(&self) -> Result<i64, NumberError> {
        let (n, d) = self.big();
        div_half_away(&(n * 100), &d).to_i64().ok_or(NumberError::TooLarge)
    }

    /// The square (`n` = 2) or cube (`n` = 3) root to 20 significant digits, exact where the root ends.
    ///
    /// # Errors
    /// An even root of a number below zero.
    pub fn root(&self, n: u32) -> Result<Self, NumberError> {
        if n.is_multiple_of(2) && self.is_negative() {
            return Err(NumberError::NegativeRoot);
        }
        let (a, b) = self.big();
        if a.is_zero() {
            return Ok(Self::ZERO);
        }
        // a whole root above and below the bar is exact
        let (ra, rb) = (a.nth_root(n), b.nth_root(n));
        if ra.pow(n) == a && rb.pow(n) == b {
            return Self::from_big(ra, rb);
        }
        // The root has about a third or half of the digits; 24 digits are made, then rounded to 20.
        let bits = i64::try_from(a.bits()).unwrap_or(0) - i64::try_from(b.bits()).unwrap_or(0);
        let places = (24 - bits * 3 / 10 / i64::from(n)).clamp(0, 60);
        let places = u32::try_from(places).unwrap_or(0);
        let up = a * BigInt::from(10).pow(places * n) / b;
        let root = up.nth_root(n);
        let extra = root.magnitude().to_str_radix(10).len().saturating_sub(20);
        let cut = BigInt::from(10).pow(u32::try_from(extra).unwrap_or(0));
        let kept = div_half_away(&root, &cut) * cut;
        Self::from_big(kept, BigInt::from(10).pow(places))
    }

    fn big(&self) -> (BigInt, BigInt) {
        big_parts(self.num, self.den)
    }

    /// Numerator and denominator, the latter above zero, where they fit: most do, and large whole numbers take ten times
    /// as long.
    fn small(&self) -> Option<(i128, i128)> {
        let up = |m: i128, by: u32| if by == 0 { Some(m) } else { 10i128.checked_pow(by)?.checked_mul(m) };
        Some((up(self.num.mantissa(), self.den.scale())?, up(self.den.mantissa(), self.num.scale())?))
    }

    /// [`Self::steps_of`] where all of it fits.
    fn small_steps(&self, by: i128, step: &Self, step_by: i128, how: Rounding) -> Option<i128> {
        let ((a, b), (c, d)) = (self.small()?, step.small()?);
        let (n, d) = (a.checked_mul(by)?.checked_mul(d)?, b.checked_mul(c)?.checked_mul(step_by)?);
        let (n, d) = if d < 0 { (n.checked_neg()?, d.checked_neg()?) } else { (n, d) };
        let floor = |n: i128| {
            let (q, r) = n.div_mod_floor(&d);
            Some(if (d - r).checked_mul(WHOLE_TOLERANCE.into())? <= d { q + 1 } else { q })
        };
        match how {
            Rounding::Up => floor(n.checked_neg()?).map(|q| -q),
            Rounding::Down => floor(n),
            Rounding::Near => {
                let (q, r) = (n / d, (n % d).checked_abs()?);
                Some(if r >= d - r { q + n.signum() } else { q })
            }
            Rounding::NearEven => {
                let (q, r) = n.div_mod_floor(&d);
                match r.cmp(&(d - r)) {
                    Ordering::Less => Some(q),
                    Ordering::Greater => Some(q + 1),
                    Ordering::Equal => Some(q + q.rem_euclid(2)),
                }
            }
        }
    }
}

/// Numerator and denominator as whole numbers.
fn big_parts(num: Decimal, den: Decimal) -> (BigInt, BigInt) {
    let ten = BigInt::from(10);
    (BigInt::from(num.mantissa()) * ten.pow(den.scale()), BigInt::from(den.mantissa()) * ten.pow(num.scale()))
}

/// `Decimal` adds round silently past 28 digits; this keeps a sum only if nothing was lost.
fn exact(a: Decimal, b: Decimal, sum: Option<Decimal>) -> Option<Decimal> {
    let sum = sum?;
    (sum.scale() >= a.scale().max(b.scale())).then_some(sum)
}

/// A ratio in lowest terms, the second number above zero; nothing where that does not fit.
fn lowest(n: i128, d: i128) -> Option<(i128, i128)> {
    // 64 bits are divided several times as quickly as 128
    if let (Ok(a), Ok(b)) = (u64::try_from(n.unsigned_abs()), u64::try_from(d.unsigned_abs())) {
        let g = a.gcd(&b);
        let (a, b) = (i128::from(a.checked_div(g)?), i128::from(b.checked_div(g)?));
        return Some((if (n < 0) == (d < 0) { a } else { -a }, b));
    }
    let g = n.gcd(&d);
    let (n, d) = (n.checked_div(g)?, d.checked_div(g)?);
    if d < 0 { Some((n.checked_neg()?, d.checked_neg()?)) } else { Some((n, d)) }
}

/// Which power of five a number above zero is, if it is one.
fn power_of_five<T: PrimInt>(mut number: T) -> Option<u32> {
    let five = T::from(5)?;
    let mut power = 0;
    while (number % five).is_zero() {
        number = number / five;
        power += 1;
    }
    number.is_one().then_some(power)
}

/// `n / d` in lowest terms as a decimal, when `d` is made of twos and fives only and the digits fit.
fn terminating(n: i128, d: i128) -> Option<Decimal> {
    if d == 1 {
        return Decimal::try_from_i128_with_scale(n, 0).ok();
    }
    let twos = d.trailing_zeros();
    let rest = d >> twos;
    let fives = match u64::try_from(rest) {
        Ok(rest) => power_of_five(rest),
        Err(_) => power_of_five(rest),
    }?;
    let scale = twos.max(fives);
    if scale > 28 {
        return None;
    }
    let up = 2i128.checked_pow(scale - twos)?.checked_mul(5i128.checked_pow(scale - fives)?)?;
    Decimal::try_from_i128_with_scale(n.checked_mul(up)?, scale).ok()
}

/// Floor of `n / d` for `d` above zero, where a remainder within a millionth of the next whole counts as it.
fn floor_tolerant(n: &BigInt, d: &BigInt) -> BigInt {
    let (q, r) = n.div_mod_floor(d);
    if (d - &r) * WHOLE_TOLERANCE <= *d { q + 1 } else { q }
}

/// `n / d` for `d` above zero to the nearest whole, halves away from zero.
fn div_half_away(n: &BigInt, d: &BigInt) -> BigInt {
    let (q, r) = n.magnitude().div_rem(d.magnitude());
    let up = if r * 2u32 >= *d.magnitude() { q + 1u32 } else { q };
    BigInt::from_biguint(if n.is_negative() { Sign::Minus } else { Sign::Plus }, up)
}

/// `n / d` for `d` above zero to the nearest whole, halves to the even one.
fn div_half_even(n: &BigInt, d: &BigInt) -> BigInt {
    let (q, r) = n.div_mod_floor(d);
    match (r * 2u32).cmp(d) {
        Ordering::Less => q,
        Ordering::Greater => q + 1,
        Ordering::Equal => {
            if q.is_even() {
                q
            } else {
                q + 1
            }
        }
    }
}

impl From<Decimal> for Number {
    fn from(value: Decimal) -> Self {
        Self { num: value.normalize(), den: Decimal::ONE }
    }
}

impl From<i64> for Number {
    fn from(value: i64) -> Self {
        Self { num: value.into(), den: Decimal::ONE }
    }
}

impl PartialEq for Number {
    fn eq(&self, o: &Self) -> bool {
        self.cmp(o) == Ordering::Equal
    }
}

impl Eq for Number {}

impl std::hash::Hash for Number {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        // equal quotients are equal decimals too, to the last digit kept
        self.to_decimal().hash(state);
    }
}

impl PartialOrd for Number {
    fn partial_cmp(&self, o: &Self) -> Option<Ordering> {
        Some(self.cmp(o))
    }
}

impl Ord for Number {
    fn cmp(&self, o: &Self) -> Ordering {
        if self.den == o.den {
            return self.num.cmp(&o.num);
        }
        let ((a, b), (c, d)) = (self.big(), o.big());
        (a * d).cmp(&(c * b))
    }
}

impl std::fmt::Display for NumberError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::DivideByZero => "a division by zero",
            Self::TooLarge => "a number too large to be worked with",
            Self::NegativeRoot => "the square root of a number below zero",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn n(text: &str) -> Number {
        text.parse::<Decimal>().unwrap().into()
    }

    #[test]
    fn a_quotient_is_divided_last() {
        let third = Number::ONE.over(&3.into()).unwrap();
        assert_eq!(third.times(&3.into()).unwrap(), Number::ONE);
        assert_eq!(n("4.85").over(&n("3657.6")).unwrap().times(&n("3657.6")).unwrap(), n("4.85"));
        assert_eq!(third.plus(&third).unwrap().plus(&third).unwrap(), Number::ONE);
    }

    #[test]
    fn pieces_round_with_a_tolerance_of_a_millionth() {
        let one = Number::ONE;
        assert_eq!(n("12.0000009").rounded(&one, Rounding::Up).unwrap(), 12.into());
        assert_eq!(n("12.0000011").rounded(&one, Rounding::Up).unwrap(), 13.into());
        assert_eq!(n("11.9999991").rounded(&one, Rounding::Down).unwrap(), 12.into());
        assert_eq!(n("-2.5").rounded(&one, Rounding::Near).unwrap(), n("-3"));
        assert_eq!(n("2.5").rounded(&one, Rounding::NearEven).unwrap(), n("2"));
    }

    #[test]
    fn small_values_keep_their_digits() {
        let tiny = n("0.0000000000000000000000000001"); // 1e-28
        assert_eq!(tiny.times(&tiny).unwrap().times(&n("10000000000000000000000000000")).unwrap(), tiny);
        // 2/3 of 1e-28 has 28 sixes and sevens of its own
        let part = tiny.times(&n("0.0000000003")).unwrap().over(&n("0.000000000900000000000000001")).unwrap();
        let back = part.times(&n("0.000000000900000000000000001")).unwrap().over(&n("0.0000000003")).unwrap();
        let off = back.minus(&tiny).unwrap().over(&tiny).unwrap();
        assert!(off < n("0.000000000000000000000001") && off > n("-0.000000000000000000000001"), "{off:?}");
        // beyond the 56th place nothing is left
        assert!(tiny.times(&tiny).unwrap().times(&n("0.1")).unwrap().is_zero());
    }

    #[test]
    fn order_and_steps_hold_beyond_28_digits() {
        let huge = n("79228162514264337593543950335");
        assert_eq!(huge.order(7, &huge, 6), Ordering::Greater);
        assert_eq!(huge.order(6, &huge.negated(), -6), Ordering::Equal);
        assert_eq!(huge.steps_of(1_000_000, &huge, 500_000, Rounding::Near).unwrap(), 2.into());
        assert_eq!(huge.plus(&huge), Err(NumberError::TooLarge));
    }

    #[test]
    fn cents_round_half_away() {
        // 46.865 is 46.87 half up (published in a PWD rate breakup), 46.86 half even.
        assert_eq!(n("46.865").cents().unwrap(), 4687);
        assert_eq!(n("46.865").rounded(&n("0.01"), Rounding::NearEven).unwrap(), n("46.86"));
        assert_eq!(n("-0.005").cents().unwrap(), -1);
    }

    proptest::proptest! {
        /// The short way through 128 bits gives what the long way through large whole numbers does.
        #[test]
        fn both_ways_agree(
            a in proptest::num::i64::ANY, b in 1i64..100_000, c in -1_000_000i64..1_000_000, d in 1i64..5_000,
            scales in (0u32..9, 0u32..9), by in 1i128..700, step_by in 1i128..9,
        ) {
            let number = |n: i64, scale: u32, d: i64| Number::quotient(Decimal::new(n, scale), d.into()).unwrap();
            let (x, y) = (number(a, scales.0, b), number(c, scales.1, d));
            let ((an, ad), (cn, cd)) = (x.big(), y.big());
            assert_eq!(x.plus(&y), Number::from_big(&an * &cd + &cn * &ad, &ad * &cd));
            assert_eq!(x.times(&y), Number::from_big(&an * &cn, &ad * &cd));
            assert_eq!(x.over(&y), Number::from_big(&an * &cd, &ad * &cn));
            assert_eq!(x.scaled(Ratio::new(by, step_by)), Number::from_big(&an * by, &ad * step_by));
            if !y.is_zero() {
                let (mut n, mut d) = (an * by * &cd, ad * cn * step_by);
                if d.is_negative() {
                    (n, d) = (-n, -d);
                }
                for (how, slow) in [
                    (Rounding::Up, -floor_tolerant(&-&n, &d)),
                    (Rounding::Down, floor_tolerant(&n, &d)),
                    (Rounding::Near, div_half_away(&n, &d)),
                    (Rounding::NearEven, div_half_even(&n, &d)),
                ] {
                    assert_eq!(x.steps_of(by, &y, step_by, how), Number::from_big(slow, BigInt::one()));
                }
            }
        }
    }

    #[test]
    fn roots_have_twenty_digits() {
        assert_eq!(n("2").root(2).unwrap(), n("1.4142135623730950488"));
        assert_eq!(n("2").root(3).unwrap(), n("1.2599210498948731648"));
        assert_eq!(n("27").root(3).unwrap(), 3.into());
        assert_eq!(n("0.0625").root(2).unwrap(), n("0.25"));
        assert_eq!(n("-8").root(3).unwrap(), (-2).into());
        assert!(n("-4").root(2).is_err());
    }
}
