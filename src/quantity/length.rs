//! Lengths as the trade prints them: feet, inches and a fraction to the nearest 1/16 in.

use super::number::{Number, NumberError, Rounding};
use rust_decimal::Decimal;

/// A millimeter count for an inch, exact by definition.
pub const MM_PER_INCH: Decimal = Decimal::from_parts(254, 0, 0, false, 1);

/// A printed length, and whether printing hid part of its value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    /// The text, `8'-6"`.
    pub text: String,
    /// Whether the text is not the whole value.
    pub rounded: bool,
}

/// Prints a length in mm as feet and inches, to the nearest `1/denominator` of an inch.
///
/// `17'-0 1/16"`, `7'-0"`, `3 5/8"`, `-2'-6"`. Printing never changes a value: `rounded` says when the text is not
/// all of it.
///
/// # Errors
/// A value too large to print.
pub fn feet_inches(mm: &Number, denominator: i64) -> Result<Printed, NumberError> {
    let inches = mm.over(&MM_PER_INCH.into())?;
    let parts = inches.times(&denominator.into())?;
    let count = parts.rounded(&Number::ONE, Rounding::Near)?;
    let rounded = count != parts;
    let whole = i64::try_from(count.to_decimal()).map_err(|_| NumberError::TooLarge)?;
    let (sign, whole) = if whole < 0 { ("-", whole.unsigned_abs()) } else { ("", whole.unsigned_abs()) };
    let unit = denominator.unsigned_abs();
    let (feet, rest) = (whole / (12 * unit), whole % (12 * unit));
    let (inch, over) = (rest / unit, rest % unit);
    let mut text = String::from(sign);
    if feet > 0 {
        text += &format!("{feet}'-");
    }
    let divisor = num_integer::gcd(over, unit);
    match (inch, over) {
        (_, 0) => text += &format!("{inch}\""),
        (0, _) if feet == 0 => text += &format!("{}/{}\"", over / divisor, unit / divisor),
        _ => text += &format!("{inch} {}/{}\"", over / divisor, unit / divisor),
    }
    Ok(Printed { text, rounded })
}

/// Prints a length in mm as inches and a fraction, `24"`, `5 1/2"`, where sixteenths are all of it.
#[must_use]
pub fn inches(mm: &Number) -> Option<String> {
    let count = mm.over(&MM_PER_INCH.into()).and_then(|i| i.times(&16.into())).ok().filter(Number::is_whole)?;
    let sixteenths = i64::try_from(count.to_decimal()).ok()?;
    let (sign, n) = if sixteenths < 0 { ("-", sixteenths.unsigned_abs()) } else { ("", sixteenths.unsigned_abs()) };
    let (inch, over) = (n / 16, n % 16);
    let divisor = num_integer::gcd(over, 16);
    Some(match (inch, over) {
        (_, 0) => format!("{sign}{inch}\""),
        (0, _) => format!("{sign}{}/{}\"", over / divisor, 16 / divisor),
        _ => format!("{sign}{inch} {}/{}\"", over / divisor, 16 / divisor),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn print(mm: &str) -> Printed {
        feet_inches(&mm.parse::<Decimal>().unwrap().into(), 16).unwrap()
    }

    #[test]
    fn prints_as_the_trade_writes() {
        for (mm, text) in [
            ("2590.8", "8'-6\""),
            ("5183.1875", "17'-0 1/16\""),
            ("2133.6", "7'-0\""),
            ("15.875", "5/8\""),
            ("92.075", "3 5/8\""),
            ("-762", "-2'-6\""),
            ("0", "0\""),
        ] {
            assert_eq!(print(mm), Printed { text: text.to_owned(), rounded: false }, "{mm}");
        }
    }

    #[test]
    fn inches_are_printed_where_sixteenths_are_all() {
        let inches = |mm: &str| inches(&mm.parse::<Decimal>().unwrap().into());
        assert_eq!(inches("609.6").as_deref(), Some("24\""));
        assert_eq!(inches("139.7").as_deref(), Some("5 1/2\""));
        assert_eq!(inches("-15.875").as_deref(), Some("-5/8\""));
        assert_eq!(inches("600"), None);
    }

    #[test]
    fn says_when_it_hid_something() {
        // 600 mm is 23.622 in.: nearest sixteenth is 23 5/8 in., which is 600.075 mm.
        assert_eq!(print("600"), Printed { text: "1'-11 5/8\"".to_owned(), rounded: true });
        assert!(!print("600.075").rounded);
    }
}
