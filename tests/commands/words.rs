//! `hardlid words`: one word, all words, words that look alike.

use super::RULES;
use serde_json::Value;
use std::process::{Command, Output};

fn words(arguments: &[&str]) -> Output {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("house.lid"), RULES).unwrap();
    let arguments = [&["words"], arguments].concat();
    Command::new(env!("CARGO_BIN_EXE_hardlid")).args(arguments).current_dir(folder.path()).output().unwrap()
}

fn told(arguments: &[&str]) -> String {
    let ran = words(arguments);
    assert_eq!(ran.status.code(), Some(0), "{arguments:?}: {}", String::from_utf8_lossy(&ran.stderr));
    String::from_utf8(ran.stdout).unwrap()
}

#[test]
fn one_word_is_explained_in_full() {
    let count = told(&["hanger_count"]);
    for part in [
        "hanger_count(along: length, every: length, first: length otherwise every",
        "Wires along a strongback.",
        "takes first: length; every when left out",
        "gives count",
        "Source: practice",
        "Stated in hardlid trade, line ",
        "hanger_count(along: 20', every: 4')  gives  4",
    ] {
        assert!(count.contains(part), "{part}: {count}");
    }
    let round = told(&["round_up"]);
    assert!(round.contains("takes to: the step") && round.contains("is refused: “needs 'to:'”"), "{round}");
    assert!(told(&["check"]).contains("else warns"));
    // a unit by any of its names, a table of several results by one of them, an option by its name
    assert!(told(&["lf"]).contains("12 ft") && told(&["beam_sag"]).contains("Coefficients of continuous beams"));
    assert!(told(&["hung_grid"]).contains("named by wanted"));
    // 'board' is a column, an item and more: all of them are told
    let board = told(&["board"]);
    assert!(board.contains("heading \"Board\"") && board.contains("item board"), "{board}");
}

#[test]
fn a_book_s_own_words_are_listed_with_it() {
    let all = told(&["--rules", "house.lid"]);
    for heading in
        ["Functions of this book", "Tables of this book", "Columns that are read", "Checks", "Items", "Labor"]
    {
        assert!(all.lines().any(|l| l == heading), "{heading}: {all}");
    }
    let without = told(&[]);
    assert!(!without.contains("of this book") && !without.contains("Columns that are read"));
    assert!(told(&["--rules", "house.lid", "tower"]).contains("Stated in house.lid, line "));
}

#[test]
fn an_unknown_word_finds_those_that_look_like_it() {
    let ran = words(&["hangr"]);
    assert_eq!((ran.status.code(), ran.stdout.len()), (Some(2), 0));
    let said = String::from_utf8(ran.stderr).unwrap();
    assert!(said.contains("Nothing in the notation is called 'hangr'."), "{said}");
    assert!(said.contains("  hanger_count ") && said.contains("  hanger_capacity "), "{said}");
    let json: Value = serde_json::from_slice(&words(&["hangr", "--json"]).stdout).unwrap();
    assert!(json["alike"].as_array().unwrap().contains(&Value::from("hanger_count")), "{json}");
    assert_eq!(json["problems"][0]["kind"], "unknown name");
    let far = words(&["zzzzzzzz"]);
    assert!(String::from_utf8(far.stderr).unwrap().contains("hardlid words lists everything"));
}

/// A word that is part of statements, where a standards team would look it up all the same.
#[test]
fn a_word_of_statements_leads_to_them() {
    for (word, statement) in [
        ("waste", "hardlid words item"),
        ("need", "hardlid words item"),
        ("lump", "hardlid words item"),
        ("only when", "hardlid words options"),
        ("kerf", "hardlid words cutting"),
        ("key", "hardlid words rows"),
        ("up to", "hardlid words table"),
        ("stops", "hardlid words check"),
        ("shows", "hardlid words example"),
    ] {
        let told = told(&[word]);
        assert!(told.starts_with(&format!("'{word}' is a word of these statements:")), "{told}");
        let more = told.lines().last().unwrap();
        assert!(more.contains(statement), "{more}");
        let one = self::told(&[more.rsplit("hardlid words ").next().unwrap().trim_matches('"')]);
        assert!(!one.contains("is a word of these statements"), "{one}");
    }
    // what no statement says, and words of every sentence
    for word in ["only where", "and", "wastes"] {
        assert_eq!(words(&[word]).status.code(), Some(2), "{word}");
    }
}

#[test]
fn json_tells_all_of_a_word() {
    let all: Value = serde_json::from_str(&told(&["wire_spacing", "--json"])).unwrap();
    let word = &all[0];
    assert_eq!((&word["family"], &word["gives"]), (&Value::from("Tables of the trade"), &Value::from("length")));
    assert_eq!((&word["source"], &word["book"]), (&Value::from("practice"), &Value::from("hardlid trade")));
    assert_eq!(
        (&word["takes"][0]["name"], &word["takes"][0]["takes"]),
        (&Value::from("sdc"), &Value::from("text, exact"))
    );
    assert_eq!(word["takes"][0]["optional"], false);
    assert_eq!(
        (&word["examples"][0]["expression"], &word["examples"][0]["gives"]),
        (&Value::from("wire_spacing(sdc: \"D\")"), &Value::from("3'"))
    );
}

#[test]
fn the_page_is_of_the_book_that_is_named() {
    let page = told(&["--page", "--rules", "house.lid"]);
    assert!(page.starts_with("# Reference\n") && page.contains("### tower_moves\n"), "{}", &page[..300]);
    assert!(!told(&["--page"]).contains("tower_moves"));
    assert_eq!(words(&["--page", "--json"]).status.code(), Some(2));
}

#[test]
fn an_editor_knows_the_functions_of_the_book_that_is_named() {
    let of = |arguments: &[&str]| -> Value { serde_json::from_str(&told(arguments)).unwrap() };
    let house = of(&["--textmate", "--rules", "house.lid"]);
    assert_eq!(house["scopeName"], "source.lid");
    assert!(house.to_string().contains("|tower_moves|") && !of(&["--textmate"]).to_string().contains("tower_moves"));
    assert_eq!(words(&["--textmate", "--page"]).status.code(), Some(2));
}
