//! `hardlid cuts`: a plain list of pieces, through the built program.

use serde_json::{Value, json};
use std::process::{Command, Output};

fn cuts(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_hardlid")).arg("cuts").args(arguments).output().unwrap()
}

fn json_of(arguments: &[&str]) -> Value {
    let ran = cuts(&[arguments, &["--json"]].concat());
    assert_eq!(ran.status.code(), Some(0), "{ran:?}");
    serde_json::from_slice(&ran.stdout).unwrap()
}

fn told(arguments: &[&str]) -> String {
    let ran = cuts(arguments);
    assert_eq!((ran.status.code(), ran.stderr.as_slice()), (Some(0), &b""[..]), "{ran:?}");
    String::from_utf8(ran.stdout).unwrap()
}

fn refused(arguments: &[&str]) -> String {
    let ran = cuts(arguments);
    assert_eq!((ran.status.code(), ran.stdout.as_slice()), (Some(2), &b""[..]), "{ran:?}");
    String::from_utf8(ran.stderr).unwrap()
}

/// The textbook case of tests/cutting.rs.
#[test]
fn a_textbook_list_of_bare_numbers() {
    let list = [
        "--stock", "5600", "22x1380", "25x1520", "12x1560", "14x1710", "18x1820", "18x1880", "20x1930", "10x2000",
        "12x2050", "14x2100", "16x2140", "18x2150", "20x2200",
    ];
    let found = json_of(&list);
    assert_eq!((&found["stock_used"], &found["at_least"], &found["unit"]), (&json!(73), &json!(73), &Value::Null));
    let patterns = found["patterns"].as_array().unwrap();
    let sum = |of: &dyn Fn(&Value) -> i64| patterns.iter().map(|p| p["times"].as_i64().unwrap() * of(p)).sum::<i64>();
    let count = |p: &Value| p["pieces"].as_array().unwrap().iter().map(|x| x["count"].as_i64().unwrap()).sum();
    // 22 + 25 + 12 + 14 + 18 + 18 + 20 + 10 + 12 + 14 + 16 + 18 + 20
    assert_eq!((sum(&|_| 1), sum(&count)), (73, 219));
    assert!(told(&list).starts_with("73 stock pieces of 5600, at least 73 needed.\n"));
}

/// By hand: 12 ft is 144 in. Two of 70 1/2" with two cuts of 1/8" leave 144 - 141 - 1/4 = 2 3/4 in.
#[test]
fn lengths_as_the_trade_spells_them() {
    let list = ["--stock", "12'", "4x5'-10 1/2\"", "--kerf", "1/8\"", "--keep", "2 3/4\""];
    let text = told(&list);
    assert!(text.starts_with("2 stock pieces of 12'-0\", at least 2 needed.\n"), "{text}");
    assert!(text.contains("2   12'-0\"   2 3/4\"   2 x 5'-10 1/2\"\n"), "{text}");
    assert!(text.ends_with("Left over (2 3/4\" and longer): 5 1/2\". Scrap and saw cuts: 1/2\".\n"), "{text}");
    // 5'-10 1/2" is 70.5 × 25.4 mm
    let found = json_of(&list);
    assert_eq!(found["patterns"][0]["pieces"][0], json!({ "length": 1790.7, "count": 2 }));
    assert_eq!((&found["unit"], &found["patterns"][0]["kept"]), (&json!("mm"), &json!(true)));
    // a length alone is one piece
    assert!(told(&["--stock", "12'", "10'", "2'"]).starts_with("1 stock piece of 12'-0\", at least 1 needed."));
    assert!(told(&["--stock", "3 m", "2x1.5 m"]).contains("2 x 1500 mm"));
}

/// By hand: ten pieces of 60 in. from 100 in. at $5 or 130 in. at $6: five long ones. With two long ones at hand:
/// 2 × 6 + 6 × 5 = 42.
#[test]
fn the_cheapest_stock_serves() {
    let text = told(&["--stock", "100\"=$5", "--stock", "130\"=$6", "10x60\""]);
    assert!(text.starts_with("Cost $30.00, at least $30.00 needed: 5 stock pieces, 5 of 10'-10\"."), "{text}");
    let found = json_of(&["--stock", "100\"=$5", "--stock", "2x130\"=$6", "10x60\""]);
    assert_eq!(
        (&found["cost"], &found["cost_at_least"], &found["proved_least"]),
        (&json!(42), &json!(42), &json!(true))
    );
    // without costs the least length: one of 8 ft, not of 12
    let text = told(&["--stock", "8'", "--stock", "12'", "2x4'"]);
    assert!(text.starts_with("Stock bought 8'-0\", at least 8'-0\" needed: 1 stock piece, 1 of 8'-0\"."), "{text}");
}

/// By hand: 25 ft with laps of 4 in. from 12 ft: 12' + 11'-8" = 23'-8", so the last part is 1'-4" and its lap, 1'-8".
#[test]
fn pieces_longer_than_stock() {
    let why = refused(&["--stock", "12'", "25'"]);
    assert!(why.contains("‘25'’ is longer than the longest stock, 12'-0\".") && why.contains("--lap"), "{why}");
    let text = told(&["--stock", "12'", "25'", "--lap", "4\""]);
    assert!(text.starts_with("3 stock pieces of 12'-0\", at least 3 needed with these parts."), "{text}");
    assert!(text.contains("1 of 25'-0\" is made of 2 x 12'-0\" + 1'-8\"."), "{text}");
}

#[test]
fn what_cannot_be_read_is_told() {
    assert!(refused(&["--stock", "12'", "9y7"]).contains("piece ‘9y7’ cannot be read"));
    let both = refused(&["--stock", "12 lb", "3x1'=2"]);
    assert!(both.contains("stock ‘12 lb’ cannot be read") && both.contains("piece ‘3x1'=2’ cannot be read"), "{both}");
    assert!(refused(&["--stock", "12'", "3x40"]).contains("Some lengths have a unit and some are bare numbers."));
    assert!(refused(&["--stock", "12'=$9", "--stock", "10'", "3x4'"]).contains("some have none"));
    assert!(refused(&["--stock", "12'=$0", "3x4'"]).contains("Stock ‘12'=$0’ costs nothing or less."));
    assert!(refused(&["--stock", "0", "3x4"]).contains("Stock ‘0’ has no length above zero."));
    assert!(refused(&["--stock", "10", "3x0"]).contains("‘3x0’ has no length above zero."));
    assert!(refused(&["--stock", "1x10", "3x9"]).contains("not enough, however they are cut"));
    assert!(refused(&["--stock", "10", "99999999999999999999x9"]).contains("the count is too large"));
    assert!(refused(&["--stock", "10", "9999999999999x9"]).contains("too large"));
    assert!(refused(&["--stock", "10", "1x0.12345678"]).contains("more decimals"));
    // a stop for programs
    let ran = cuts(&["--stock", "10", "3x11", "--json"]);
    let told: Value = serde_json::from_slice(&ran.stdout).unwrap();
    assert_eq!((ran.status.code(), &told["problems"][0]["kind"]), (Some(2), &json!("cannot be cut")));
}
