//! Lengths, numbers and dates as people spell them.
#![allow(clippy::float_arithmetic)] // binary numbers are what is tested

use hardlid::quantity::length::feet_inches;
use hardlid::quantity::spelling::{
    Spelled, decimal_of, read_date, read_length, read_number, read_quantity, read_yes_no, unit_leniently,
};
use hardlid::quantity::{Date, Decimal, Number, Unit};
use proptest::prelude::*;

fn mm(text: &str) -> String {
    match read_length(text) {
        Ok(Spelled::Length(mm)) => mm.to_decimal().normalize().to_string(),
        other => panic!("{text}: {other:?}"),
    }
}

fn bare(text: &str) -> String {
    match read_length(text) {
        Ok(Spelled::Bare(n)) => n.to_decimal().normalize().to_string(),
        other => panic!("{text}: {other:?}"),
    }
}

#[test]
fn a_length_reads_in_any_spelling_of_the_trade() {
    // 10'-3 1/2" is 123.5 in., times 25.4 is 3136.9 mm.
    for text in [
        "10'-3 1/2\"",
        "10' 3.5\"",
        "10-3 1/2",
        "10 - 3 1/2",
        "10'3 1/2",
        "10'-3-1/2\"",
        "10'3½\"",
        "10' - 3 ½\"",
        "123.5\"",
        "123 1/2 in",
        "123-1/2\"",
        "10ft 3 1/2in",
        "10 ft. 3.5 in.",
        "10 feet 3 1/2 inches",
        "10 ft, 3.5 in",
        "10 FT 3.5 IN",
        "10\u{2019}-3 1/2\u{201d}",
        "10\u{2032} 3 1/2\u{2033}",
        "10\u{2032}\u{2013}3\u{a0}1/2\u{2033}",
        "10'-3 1\u{2044}2\"",
        "  10'-3 1/2\"  ",
        "10'-3 1/2''",
        "10 foot and 3.5 inches",
        "3136.9 mm",
        "3,136.9mm",
        "313.69 cm",
        "3.1369 m",
        "+10'-3 1/2\"",
    ] {
        assert_eq!(mm(text), "3136.9", "{text}");
    }
    // 5/8 in. = 15.875 mm; 1-13/16 in. = 46.0375 mm; 8-1/2 in. = 215.9 mm; 10 ft = 3048 mm; 10'-3" = 3124.2 mm.
    for (text, want) in [
        ("5/8\"", "15.875"),
        ("1-13/16\"", "46.0375"),
        ("8½\"", "215.9"),
        ("½\"", "12.7"),
        ("10'", "3048"),
        ("10 ft", "3048"),
        ("10'3", "3124.2"),
        ("10-3", "3124.2"),
        ("10-3\"", "3124.2"),
        ("0'-6\"", "152.4"),
        ("3.14 m", "3140"),
        ("3140mm", "3140"),
        ("1,200 mm", "1200"),
        ("10.25'", "3124.2"),
        ("10 1/4'", "3124.2"),
        ("-2'-6\"", "-762"),
        ("\u{2212}2'-6\"", "-762"),
        ("10'-3/4\"", "3067.05"),
        ("8' -6\"", "2590.8"),
        ("12 LF", "3657.6"),
        ("18 mil", "0.4572"),
    ] {
        assert_eq!(mm(text), want, "{text}");
    }
}

#[test]
fn a_number_alone_is_bare() {
    for (text, want) in [
        ("12.5", "12.5"),
        ("1,200", "1200"),
        ("1/2", "0.5"),
        ("3 5/8", "3.625"),
        (".5", "0.5"),
        ("-4", "-4"),
        ("½", "0.5"),
        ("12.", "12"),
    ] {
        assert_eq!(bare(text), want, "{text}");
    }
}

#[test]
fn a_length_that_reads_two_ways_or_none_is_refused_in_words() {
    for (text, says) in [
        ("1-13/16", "feet and a fraction of an inch"),
        ("10'-15\"", "12 or more"),
        ("10.5' 3\"", "not whole"),
        ("3,14 m", "comma"),
        ("10' x 12'", "two lengths"),
        ("10'×12'", "two lengths"),
        ("3 M", "thousand"),
        ("10 psf", "pressure"),
        ("1/0\"", "over zero"),
        ("3 5/4\"", "one or more"),
        ("10/3/2026", "date"),
        ("10-3-2026", "date"),
        ("about 10'", "about"),
        ("10'-3\" clear", "clear"),
        ("", "blank"),
        ("-", "not a length"),
        ("10 3", "not a length"),
        ("1.2.3 m", "order"),
        ("10'-", "not a length"),
        ("'", "not a length"),
        ("99999999999999999999999999999999 m", "digits"),
        ("3.5 1/2\"", "side by side"),
        ("1.5/2\"", "whole numbers"),
        ("10'5'", "not a length"),
    ] {
        let error = read_length(text).expect_err(text);
        assert!(error.what.contains(says), "{text}: {}", error.what);
    }
}

#[test]
fn numbers_money_percents_and_quantities_are_read() {
    let number = |text: &str| read_number(text).unwrap().to_decimal().normalize().to_string();
    for (text, want) in [
        ("1,234.5", "1234.5"),
        ("5%", "0.05"),
        ("$4.85", "4.85"),
        ("(12.50)", "-12.5"),
        ("($1,200)", "-1200"),
        ("1/2", "0.5"),
        ("3 1/2", "3.5"),
        ("-$3", "-3"),
        ("$-3", "-3"),
        ("12½", "12.5"),
        ("0.1", "0.1"),
    ] {
        assert_eq!(number(text), want, "{text}");
    }
    let lb = read_quantity("100 lb").unwrap();
    assert_eq!((lb.value, lb.unit), (100.into(), Unit::named("lb")));
    let psf = read_quantity("13 PSF").unwrap();
    assert_eq!(psf.unit, Unit::named("psf"));
    assert_eq!(psf.value.scaled(psf.unit.unwrap().factor.recip()).unwrap(), 13.into());
    // $312 for a thousand feet of 304.8 mm: 0.312 $/ft
    let rate = read_quantity("$312/MLF").unwrap();
    assert_eq!(
        rate.value.scaled(Unit::read("$/ft").unwrap().factor.recip()).unwrap(),
        Number::from("0.312".parse::<Decimal>().unwrap())
    );
    for text in ["", "ten", "1 2", "1,23", "5%%", "$", "12 bananas", "(-3)", "1.5/2", "--3"] {
        assert!(read_quantity(text).is_err(), "{text}");
    }
    assert!(read_number("13 psf").is_err());
}

#[test]
fn units_are_taken_leniently_but_a_thousand_is_not_a_meter() {
    for (text, name) in [
        ("FT", "ft"),
        ("Ft.", "ft"),
        ("Inches", "in"),
        ("IN", "in"),
        ("MM", "mm"),
        ("sq. ft.", "sf"),
        ("SQ FT", "sf"),
        ("Meters", "m"),
        ("LBS", "lb"),
        ("kpa", "kPa"),
    ] {
        assert_eq!(unit_leniently(text), Unit::named(name), "{text}");
    }
    assert_ne!(unit_leniently("M"), unit_leniently("m"));
    assert_eq!(unit_leniently("$ / MLF"), Unit::read("$/MLF").ok());
    assert_eq!(unit_leniently("see plan"), None);
}

#[test]
fn dates_and_yes_or_no_are_read() {
    let day = Date::new(2026, 11, 25).unwrap();
    for text in [
        "2026-11-25",
        "11/25/2026",
        "11/25/26",
        "Nov 25, 2026",
        "25 November 2026",
        "November 25th, 2026",
        "2026-11-25T00:00:00",
        "2026/11/25",
    ] {
        assert_eq!(read_date(text).unwrap(), day, "{text}");
    }
    for text in ["25/11/2026", "2/30/2026", "2026", "tomorrow", "11-25", "1/2/3/4", ""] {
        assert!(read_date(text).is_err(), "{text}");
    }
    assert_eq!(read_date("25/11/2026").unwrap_err().fix.as_deref(), Some("write 11/25/2026"));
    for (text, want) in
        [("Yes", true), ("y", true), ("TRUE", true), ("x", true), ("no", false), ("N", false), ("False", false)]
    {
        assert_eq!(read_yes_no(text).unwrap(), want, "{text}");
    }
    assert!(read_yes_no("maybe").is_err());
}

#[test]
fn a_binary_number_becomes_the_decimal_that_a_person_sees() {
    for (value, want) in [
        (0.1, "0.1"),
        (12.37, "12.37"),
        (0.1 + 0.2, "0.30000000000000004"),
        (-2.5, "-2.5"),
        (1e15, "1000000000000000"),
        (1234567.891, "1234567.891"),
        (0.0, "0"),
        (0.0001234, "0.0001234"),
    ] {
        assert_eq!(decimal_of(value), Some(want.parse().unwrap()), "{value}");
    }
    for value in [f64::NAN, f64::INFINITY, 1e30, 5e-324, 1.234_567_890_123e-20] {
        assert_eq!(decimal_of(value), None, "{value}");
    }
}

/// Every spelling of whole feet, whole inches and sixteenths.
fn spellings(feet: u32, inches: u32, sixteenths: u32) -> Vec<String> {
    let decimal = Decimal::from(inches) + Decimal::from(sixteenths) / Decimal::from(16);
    let all = Decimal::from(feet * 12) + decimal;
    let mixed = match (inches, sixteenths) {
        (i, 0) => i.to_string(),
        (0, s) => format!("{s}/16"),
        (i, s) => format!("{i} {s}/16"),
    };
    let dashed = mixed.replace(' ', "-");
    let mut out = vec![
        format!("{feet}'-{mixed}\""),
        format!("{feet}' {mixed}\""),
        format!("{feet}'{mixed}"),
        format!("{feet}' - {mixed}\""),
        format!("{feet}'-{dashed}\""),
        format!("{feet}'-{decimal}\""),
        format!("{feet}ft {mixed}in"),
        format!("{feet} ft. {mixed} in."),
        format!("{feet} feet {decimal} inches"),
        format!("{feet}\u{2032}\u{2013}{mixed}\u{2033}"),
        format!("{feet}\u{2019}\u{a0}{mixed}\u{201d}"),
        format!("{all}\""),
        format!("{all} in"),
        format!("{} mm", all * Decimal::new(254, 1)),
        format!("{} m", all * Decimal::new(254, 4)),
    ];
    if inches > 0 {
        out.push(format!("{feet}-{mixed}"));
        out.push(format!("{feet}-{decimal}"));
    }
    out
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn every_spelling_of_a_length_gives_the_same(feet in 0u32..2000, inches in 0u32..12, sixteenths in 0u32..16) {
        let want = (Decimal::from((feet * 12 + inches) * 16 + sixteenths) * Decimal::new(254, 1) / Decimal::from(16)).normalize();
        for text in spellings(feet, inches, sixteenths) {
            let got = read_length(&text);
            prop_assert_eq!(got.clone(), Ok(Spelled::Length(want.into())), "{}", text);
        }
    }

    #[test]
    fn a_printed_length_reads_back_as_itself(sixteenths in -400_000i64..400_000) {
        let length = Number::from(Decimal::from(sixteenths) * Decimal::new(254, 1) / Decimal::from(16));
        let printed = feet_inches(&length, 16).unwrap();
        prop_assert!(!printed.rounded);
        prop_assert_eq!(read_length(&printed.text), Ok(Spelled::Length(length)), "{}", printed.text);
    }

    #[test]
    fn a_decimal_of_a_binary_number_is_its_shortest_text(value in any::<f64>(), small in -1_000_000i32..1_000_000, places in 0u32..9) {
        for v in [value, f64::from(small) / 10f64.powi(i32::try_from(places).unwrap())] {
            if let Some(decimal) = decimal_of(v) {
                prop_assert_eq!(decimal.to_string().parse::<f64>().unwrap(), v);
                prop_assert_eq!(decimal, Decimal::from_str_exact(&v.to_string()).unwrap());
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10_000))]

    #[test]
    fn random_texts_are_read_or_refused_and_never_panic(text in "[-0-9./,'\"′″’”½¼ ftinmcMx%$()–]{0,14}|\\PC{0,20}") {
        let refusals = [
            read_length(&text).err().map(|e| e.what), read_quantity(&text).err().map(|e| e.what),
            read_number(&text).err().map(|e| e.what), read_date(&text).err().map(|e| e.what), read_yes_no(&text).err().map(|e| e.what),
        ];
        prop_assert!(refusals.iter().flatten().all(|what| !what.is_empty()));
        let _ = unit_leniently(&text);
    }
}
