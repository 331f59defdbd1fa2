//! What a name is.

use super::{HOUSE, editor, place};
use crate::client::Client;

/// What is told at the beginning of a part of the house's book, line by line.
fn told(client: &mut Client, text: &str, part: &str) -> Vec<String> {
    let (line, column) = place(text, part);
    let at = client.at("house.lid", line, column);
    let hover = client.ask("textDocument/hover", &at);
    assert!(hover["contents"]["kind"].is_null() || hover["contents"]["kind"] == "plaintext");
    hover["contents"]["value"].as_str().unwrap_or_default().lines().map(str::to_owned).collect()
}

#[test]
fn a_formula_tells_type_unit_value_and_source() {
    let (mut client, _folder) = editor(HOUSE);
    assert_eq!(
        told(&mut client, HOUSE, "weight  \"Weight\""),
        [
            "weight \"Weight\" = tees * 2.5 lb source \"our list\"",
            "Weight: worked out, of rooms.",
            "Type: weight, in lb",
            "In the example \"ten feet\": 15 lb",
            "Source: our list",
            "Stated in house.lid, line 6",
        ]
    );
    // as it is said, and as it is in force
    assert_eq!(
        told(&mut client, HOUSE, "tees <= 20"),
        [
            "replace tees \"Tees\" = bays(run: length, pitch: pitch) + 1",
            "Tees: worked out, of rooms.",
            // a count and one more is a count
            "Type: count",
            "In the example \"ten feet\": 6",
            "Stated in house.lid, line 5",
        ]
    );
    // in the braces of a message
    assert_eq!(told(&mut client, HOUSE, "tees} tees")[1], "Tees: worked out, of rooms.");
}

/// 10 ft is the row of 10 ft: 2 ft apart. The formula stands in the lower book, the example in the upper one.
#[test]
fn a_name_of_a_lower_book_tells_its_value_in_an_example_of_this_one() {
    let (mut client, _folder) = editor(HOUSE);
    let pitch = told(&mut client, HOUSE, "pitch) + 1");
    assert_eq!(
        pitch[1..4],
        ["Pitch: worked out, of rooms.", "Type: length, in ft", "In the example \"ten feet\": 2'-0\""]
    );
    assert_eq!(pitch[4], "Stated in std/base.lid, line 20");
    let length = told(&mut client, HOUSE, "length, pitch");
    assert_eq!(length[1], "Length: a column that is read, of rooms.");
    assert_eq!(length[3], "In the example \"ten feet\": 10'-0\"");
}

#[test]
fn what_no_example_leans_on_has_no_value_to_tell() {
    let book = HOUSE.replace("   weight = 15 lb", "");
    let (mut client, _folder) = editor(&book);
    let weight = told(&mut client, &book, "weight  \"Weight\"");
    assert!(!weight.iter().any(|l| l.contains("example")), "{weight:?}");
}

#[test]
fn functions_tables_arguments_units_and_statements_are_told() {
    let book = HOUSE.replace("tees * 2.5 lb", "tees * 2.5 lb + round_up(0 lb, to: 5 lb)");
    let (mut client, _folder) = editor(&book);
    let bays = told(&mut client, &book, "bays(");
    assert_eq!(bays[..2], ["bays(run: length, pitch: length) count", "Spaces of a run."]);
    assert!(bays.contains(&"Source: practice".to_owned()), "{bays:?}");
    assert!(bays.contains(&"Stated in std/base.lid, line 15".to_owned()), "{bays:?}");
    assert_eq!(told(&mut client, &book, "run: length")[1], "run: length, which bays takes.");
    assert!(told(&mut client, &book, "round_up")[0].starts_with("round_up("));
    assert!(told(&mut client, &book, "lb + round")[1].to_lowercase().contains("pound"));
    assert!(told(&mut client, &book, "check few")[1].contains("condition"));
    assert!(told(&mut client, &book, "few")[1].contains("Warns where it does not hold"));
    assert_eq!(told(&mut client, &book, "use \"std"), ["Base, edition 7"]);
    assert!(told(&mut client, &book, "-- 10 ft").is_empty());
    assert!(told(&mut client, &book, "10 ft at").is_empty());
}

/// While a book has a mistake, types and values are those of when it had none.
#[test]
fn a_mistake_elsewhere_takes_nothing_away() {
    let (mut client, _folder) = editor(HOUSE);
    let broken = HOUSE.replace("need tees", "need (tees").replace("check few  tees", "check few  teess");
    client.change("house.lid", &serde_json::json!([{ "text": broken }]));
    assert_eq!(client.problems("house.lid").len(), 2);
    let weight = told(&mut client, &broken, "weight  \"Weight\"");
    assert_eq!(weight[2..4], ["Type: weight, in lb", "In the example \"ten feet\": 15 lb"]);
    // in the statement that is not understood
    assert_eq!(told(&mut client, &broken, "tees\nend")[1], "Tees: worked out, of rooms.");
}

/// A book that never was sound tells what it says.
#[test]
fn a_book_that_never_was_sound_tells_its_statements() {
    let broken = HOUSE.replace("need tees", "need teees");
    let (mut client, _folder) = editor(&broken);
    assert_eq!(
        told(&mut client, &broken, "weight  \"Weight\""),
        ["weight \"Weight\" = tees * 2.5 lb source \"our list\""]
    );
    assert_eq!(
        told(&mut client, &broken, "bays("),
        ["define bays(run length, pitch length) count = round_up(run / pitch) \"Spaces of a run.\" source practice"]
    );
}
