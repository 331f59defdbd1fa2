//! `try` and `price` tell hints, and what is accepted; the books that come with hardlid give none.

use super::{PRICES, ROOMS, RULES};
use serde_json::Value;
use std::process::{Command, Output};

/// A house book in which nothing uses a formula, and one hint is answered.
const BOOK: &str = r#"book "House"  edition "1"
use "hardlid ceilings"

for rooms
    half  =  length / 2

    check narrow  width >= 4'  else warns  "Only {width} wide."  accepted "Our own rule of thumb."
end
"#;

pub fn run(arguments: &[&str], book: &[u8]) -> Output {
    let folder = tempfile::tempdir().unwrap();
    for (name, bytes) in [("house.lid", book), ("rooms.xlsx", ROOMS), ("yard.xlsx", PRICES)] {
        std::fs::write(folder.path().join(name), bytes).unwrap();
    }
    Command::new(env!("CARGO_BIN_EXE_hardlid")).args(arguments).current_dir(folder.path()).output().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

const PRICE: [&str; 6] = ["price", "rooms.xlsx", "--rules", "house.lid", "--prices", "yard.xlsx"];

#[test]
fn try_tells_hints_and_counts_those_that_are_accepted() {
    let ran = run(&["try", "house.lid"], BOOK.as_bytes());
    assert_eq!(ran.status.code(), Some(0));
    let said = text(&ran.stderr);
    assert!(said.contains("Warning: Nothing uses the formula 'half'.") && said.contains("house.lid, line 5"), "{said}");
    assert!(!said.contains("narrow"), "{said}");
    assert!(text(&ran.stdout).ends_with("1 warning. 1 hint is accepted with a reason.\n"), "{}", text(&ran.stdout));
    let json: Value = serde_json::from_slice(&run(&["try", "house.lid", "--json"], BOOK.as_bytes()).stdout).unwrap();
    assert_eq!(
        (&json["problems"][0]["kind"], &json["problems"][0]["weight"]),
        (&"never used".into(), &"warning".into())
    );
    assert_eq!(json["accepted"][0]["reason"], "Our own rule of thumb.");
    assert_eq!(json["accepted"][0]["problem"]["kind"], "no source");
}

/// A hint is about the book: the bid is priced, and its Checks say nothing of it.
#[test]
fn price_tells_hints_and_prices() {
    let ran = run(&PRICE, BOOK.as_bytes());
    assert!(text(&ran.stderr).contains("Nothing uses the formula 'half'."), "{}", text(&ran.stderr));
    let json: Value =
        serde_json::from_slice(&run(&[&PRICE[..], &["--json"]].concat(), BOOK.as_bytes()).stdout).unwrap();
    let kinds: Vec<&str> = json["problems"].as_array().unwrap().iter().filter_map(|p| p["kind"].as_str()).collect();
    assert_eq!(kinds, ["never used"]);
    let labelled = BOOK.replace("half  =", "half  \"Half\"  =");
    let ran = run(&PRICE, labelled.as_bytes());
    assert!(!text(&ran.stderr).contains("Nothing uses"), "{}", text(&ran.stderr));
}

#[test]
fn the_books_that_come_with_it_give_no_hint() {
    for book in [RULES].into_iter().chain(hardlid::program::library::BUILT_IN.iter().map(|b| b.text.as_bytes())) {
        let ran = run(&["try", "house.lid"], book);
        assert_eq!((ran.status.code(), text(&ran.stderr).as_str()), (Some(0), ""));
    }
}
