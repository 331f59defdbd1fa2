//! Unit-of-sale words, and what a pack holds.

use super::cells::amount_text;
use crate::pricing::{Pack, SaleUnit};
use crate::problem::nearest::nearest;
use crate::quantity::unit::UNITS;
use crate::quantity::{Dimension, Number, Unit};

/// Words for a pack; what it holds stands in the Pack column.
const PACK_WORDS: &[&str] = &[
    "carton", "ctn", "case", "box", "bx", "roll", "rl", "coil", "bag", "pail", "bucket", "can", "tube", "bundle",
    "bdl", "pack", "pk", "pkg", "package", "pallet",
];

/// Words that a unit of sale goes by beside the names of the notation.
const OTHER_WORDS: &[(&str, &str)] = &[
    ("piece", "ea"),
    ("stick", "ea"),
    ("sheet", "ea"),
    ("sht", "ea"),
    ("unit", "ea"),
    ("hundred", "C"),
    ("thousand", "M"),
    ("lin ft", "ft"),
    ("linear ft", "ft"),
    ("linear feet", "ft"),
    ("linear foot", "ft"),
    ("square feet", "sf"),
    ("square foot", "sf"),
    ("gallon", "gal"),
    ("pound", "lb"),
    ("hour", "hr"),
    ("yard", "yd"),
    ("meter", "m"),
    ("liter", "L"),
];

/// What stands in a unit-of-sale cell.
pub(super) enum Word {
    /// A unit.
    Unit(Unit),
    /// A word for a pack.
    Pack,
}

/// Dimensions that can be sold or worked by.
fn sold(unit: Unit) -> Option<Unit> {
    let known =
        [Dimension::NONE, Dimension::LENGTH, Dimension::AREA, Dimension::VOLUME, Dimension::FORCE, Dimension::TIME];
    (known.contains(&unit.dimension)).then_some(unit)
}

/// Reads a unit of sale: by case first, then without regard to case where only one unit can be meant.
pub(super) fn read(text: &str) -> Option<Word> {
    let text = text.trim();
    if text.chars().count() > 40 {
        return None;
    }
    let bare = text.strip_prefix(['/', '$']).unwrap_or(text).trim_start();
    let bare = bare.strip_prefix("per ").or_else(|| bare.strip_prefix("Per ")).unwrap_or(bare).trim();
    for by_case in [text, bare, bare.trim_end_matches('.')] {
        if let Ok(unit) = Unit::read(by_case) {
            return sold(unit).map(Word::Unit);
        }
    }
    let clean: String = bare.to_lowercase().chars().map(|c| if c == '.' || c == '/' { ' ' } else { c }).collect();
    let clean = clean.split_whitespace().collect::<Vec<_>>().join(" ");
    let singular = [Some(clean.as_str()), clean.strip_suffix('s'), clean.strip_suffix("es")];
    for word in singular.into_iter().flatten().filter(|w| !w.is_empty()) {
        if PACK_WORDS.contains(&word) {
            return Some(Word::Pack);
        }
        if let Some((_, name)) = OTHER_WORDS.iter().find(|(w, _)| *w == word) {
            return Unit::named(name).map(Word::Unit);
        }
        // "l f" of "l.f." and "sq ft" of "sq. ft."
        let joined: String = word.chars().filter(|c| *c != ' ').collect();
        let mut same = UNITS.iter().filter(|u| u.names.iter().any(|n| n.to_lowercase() == joined));
        match (same.next(), same.next()) {
            (Some(one), None) => return sold(one.unit()).map(Word::Unit),
            // a thousand or a meter: nobody guesses
            (Some(_), Some(_)) => return None,
            (None, _) => {}
        }
        if let Ok(unit) = Unit::read(word) {
            return sold(unit).map(Word::Unit);
        }
    }
    None
}

/// The unit of sale of a cell.
pub(super) fn sale_unit(text: &str) -> Option<SaleUnit> {
    let unit = match read(text)? {
        Word::Unit(unit) => Some(unit),
        Word::Pack => None,
    };
    Some(SaleUnit { name: text.trim().into(), unit })
}

/// The unit or pack word that looks most like one that was not understood.
pub(super) fn nearest_word(text: &str) -> Option<&'static str> {
    let names = UNITS.iter().filter(|u| sold(u.unit()).is_some()).flat_map(|u| u.names.iter().copied());
    let words = PACK_WORDS.iter().copied().chain(OTHER_WORDS.iter().map(|(w, _)| *w));
    nearest(text.trim(), names.chain(words))
}

/// Reads what a pack holds: `1000 ea`, `500 ft`, `5 gal`, `50 lb bag`, `box of 1,000`, `4' x 8'`; a bare number
/// counts pieces.
pub(super) fn pack(text: &str) -> Option<Pack> {
    let written = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let pack = |amount: Number, dimension| {
        (!amount.is_zero() && !amount.is_negative()).then(|| Pack {
            written: written.as_str().into(),
            amount,
            dimension,
        })
    };
    if let Some(area) = sheet(&written) {
        return pack(area, Dimension::AREA);
    }
    let mut rest = written.as_str();
    if let Some((word, after)) = rest.split_once(" of ")
        && matches!(read(word), Some(Word::Pack))
    {
        rest = after;
    }
    let amount = amount_text(rest).filter(|a| !a.percent)?;
    let mut unit = amount.unit.as_str();
    for split in ['/', ' '] {
        if let Some((before, word)) = unit.rsplit_once(split)
            && matches!(read(word), Some(Word::Pack))
        {
            unit = before.trim();
        }
    }
    if matches!(read(unit), Some(Word::Pack)) {
        unit = "";
    }
    let unit = if unit.is_empty() { Unit::none() } else { unit_only(unit)? };
    pack(Number::from(amount.value).scaled(unit.factor).ok()?, unit.dimension)
}

fn unit_only(text: &str) -> Option<Unit> {
    if ["'", "\u{2019}", "\u{2032}"].contains(&text) {
        return Unit::named("ft");
    }
    match read(text)? {
        Word::Unit(unit) => Some(unit),
        Word::Pack => None,
    }
}

/// `4' x 8'`, both with their marks.
fn sheet(text: &str) -> Option<Number> {
    let lower = text.to_lowercase();
    let (wide, long) = lower.split_once(['x', '\u{d7}'])?;
    let side = |t: &str| super::cells::length(&crate::workbook::grid::Cell::Text(t.trim().into()), None);
    side(wide)?.times(&side(long)?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit(text: &str) -> Option<Unit> {
        unit_only(text)
    }

    #[test]
    fn words_of_the_yard() {
        for (text, name) in [
            ("ea", "ea"),
            ("EA", "ea"),
            ("Each", "ea"),
            ("pcs.", "ea"),
            ("lf", "ft"),
            ("L.F.", "ft"),
            ("MLF", "MLF"),
            ("mlf", "MLF"),
            ("Msf", "MSF"),
            ("C", "C"),
            ("c", "C"),
            ("M", "M"),
            ("m", "m"),
            ("per M", "M"),
            ("sq. ft.", "sf"),
            ("Gallons", "gal"),
            ("GAL", "gal"),
            ("sheet", "ea"),
            ("lbs", "lb"),
            ("SY", "sy"),
        ] {
            assert_eq!(unit(text), Unit::named(name), "{text}");
        }
        assert!(matches!(read("Boxes"), Some(Word::Pack)));
        assert!(matches!(read("CTN"), Some(Word::Pack)));
        for text in ["furlong", "", "psf", "Mft", "PER m"] {
            assert!(read(text).is_none(), "{text}");
        }
        assert_eq!(nearest_word("MLFF"), Some("MLF"));
        assert_eq!(nearest_word("cartun"), Some("carton"));
    }

    #[test]
    fn packs() {
        let held = |text: &str| pack(text).map(|p| (p.amount, p.dimension));
        let of = |n: i64, name: &str| {
            let unit = Unit::named(name).unwrap();
            Some((Number::from(n).scaled(unit.factor).unwrap(), unit.dimension))
        };
        for (text, n, name) in [
            ("1000 ea", 1000, "ea"),
            ("1,000", 1000, "ea"),
            ("500 ft", 500, "ft"),
            ("5 gal", 5, "gal"),
            ("50 lb bag", 50, "lb"),
            ("box of 1,000", 1000, "ea"),
            ("1000/box", 1000, "ea"),
            ("32 sf", 32, "sf"),
            ("4' x 8'", 32, "sf"),
            ("1 M", 1000, "ea"),
            ("500' ", 500, "ft"),
            ("10 pcs/bundle", 10, "ea"),
        ] {
            assert_eq!(held(text), of(n, name), "{text}");
        }
        for text in ["", "some", "0 ea", "-5 ft", "4 x 8", "12 psf"] {
            assert_eq!(held(text), None, "{text}");
        }
    }
}
