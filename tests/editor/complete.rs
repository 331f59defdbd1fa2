//! What can stand at a place.

use super::{HOUSE, editor};
use crate::client::Client;
use serde_json::{Value, json};

/// What is offered where `^` stands in a book.
fn offered(client: &mut Client, marked: &str) -> Vec<Value> {
    let at = marked.find('^').unwrap();
    let text = marked.replacen('^', "", 1);
    let line = u32::try_from(text[..at].matches('\n').count()).unwrap();
    let column = text[text[..at].rfind('\n').map_or(0, |i| i + 1)..at].encode_utf16().count();
    client.change("house.lid", &json!([{ "text": text }]));
    let at = client.at("house.lid", line, u32::try_from(column).unwrap());
    client.ask("textDocument/completion", &at).as_array().unwrap().clone()
}

fn labels(items: &[Value]) -> Vec<&str> {
    items.iter().map(|i| i["label"].as_str().unwrap()).collect()
}

fn has(items: &[Value], label: &str) -> bool {
    items.iter().any(|i| i["label"] == label)
}

fn item<'v>(items: &'v [Value], label: &str) -> &'v Value {
    items.iter().find(|i| i["label"] == label).unwrap_or_else(|| panic!("no {label} in {:?}", labels(items)))
}

#[test]
fn names_in_reach_and_functions_with_their_arguments() {
    let (mut client, _folder) = editor(HOUSE);
    let items = offered(&mut client, &HOUSE.replace("need tees", "need te^"));
    for name in ["tees", "weight", "length", "pitch", "sdc", "bays", "gap", "round_up", "when", "sum of"] {
        assert!(has(&items, name), "{name} of {:?}", labels(&items));
    }
    assert_eq!(item(&items, "pitch")["detail"], "length: Pitch, of rooms");
    // both arguments must be given, each by its name
    let bays = item(&items, "bays");
    assert_eq!(bays["detail"], "bays(run: length, pitch: length) count");
    assert_eq!(bays["insertText"], "bays(run: ${1:length}, pitch: ${2:length})");
    assert_eq!(bays["insertTextFormat"], 2);
    assert!(bays["documentation"]["value"].as_str().unwrap().contains("Spaces of a run."));
    // clauses of an item
    for clause in ["waste", "only when", "code"] {
        assert!(has(&items, clause), "{clause}");
    }
    // trade functions belong to a book that is not used
    assert!(!has(&items, "tee_count"));
}

#[test]
fn arguments_that_are_still_to_be_named() {
    let (mut client, _folder) = editor(HOUSE);
    let items = offered(&mut client, &HOUSE.replace("bays(run: length, pitch: pitch)", "bays(^)"));
    assert_eq!(&labels(&items)[..2], ["run:", "pitch:"]);
    assert_eq!(item(&items, "run:")["insertText"], "run: ");
    let items = offered(&mut client, &HOUSE.replace("bays(run: length, pitch: pitch)", "bays(run: length, ^)"));
    assert!(has(&items, "pitch:") && !has(&items, "run:"), "{:?}", labels(&items));
    // behind the colon stands a value
    let items = offered(&mut client, &HOUSE.replace("bays(run: length, pitch: pitch)", "bays(run: ^)"));
    assert!(has(&items, "length") && !has(&items, "pitch:"), "{:?}", labels(&items));
    // a column of a table by which it is looked up
    let items = offered(&mut client, &HOUSE.replace("bays(run: length, pitch: pitch) + 1", "gap(^)"));
    assert_eq!(labels(&items)[0], "wide:");
}

#[test]
fn units_behind_a_number_types_and_words() {
    let (mut client, _folder) = editor(HOUSE);
    for typed in ["2.5 ^", "2.5 l^", "2.5l^"] {
        let items = offered(&mut client, &HOUSE.replace("2.5 lb", typed));
        assert!(has(&items, "lb") && has(&items, "psf") && !has(&items, "tees"), "{typed}: {:?}", labels(&items));
    }
    let items = offered(&mut client, &HOUSE.replace("for rooms\n", "define half(x ^\n\nfor rooms\n"));
    assert!(has(&items, "length") && has(&items, "yes/no") && has(&items, "psf"), "{:?}", labels(&items));
    let items = offered(&mut client, &HOUSE.replace("tees <= 20", "sdc is ^"));
    assert_eq!(&labels(&items)[..3], ["A", "B", "C"]);
    let items = offered(&mut client, &HOUSE.replace("length 10'", "length 10'  sdc ^"));
    assert_eq!(&labels(&items)[..3], ["A", "B", "C"]);
}

#[test]
fn a_definition_has_its_parameters_and_no_columns() {
    let (mut client, _folder) = editor(HOUSE);
    let items =
        offered(&mut client, &HOUSE.replace("for rooms\n", "define half(whole length) length  =  ^\n\nfor rooms\n"));
    assert!(has(&items, "whole") && has(&items, "round_up") && !has(&items, "tees"), "{:?}", labels(&items));
}

#[test]
fn what_begins_a_statement_depends_on_where() {
    let (mut client, _folder) = editor(HOUSE);
    let items = offered(&mut client, &format!("{HOUSE}\n^"));
    assert!(has(&items, "define") && has(&items, "example") && !has(&items, "check"), "{:?}", labels(&items));
    let items = offered(&mut client, &HOUSE.replace("    item tee", "    ^\n    item tee"));
    assert!(has(&items, "check") && has(&items, "labor") && !has(&items, "use"), "{:?}", labels(&items));
    let items = offered(&mut client, &HOUSE.replace("    shows", "    ^\n    shows"));
    assert!(has(&items, "shows") && has(&items, "rooms"), "{:?}", labels(&items));
    // what a lower book has can be replaced
    let items = offered(&mut client, &HOUSE.replace("replace tees", "replace ^"));
    assert!(has(&items, "pitch") && has(&items, "check") && !has(&items, "weight"), "{:?}", labels(&items));
    let items = offered(&mut client, &HOUSE.replace("for rooms\n", "for ^\n"));
    assert!(has(&items, "rooms") && has(&items, "job"), "{:?}", labels(&items));
    let items = offered(&mut client, &HOUSE.replace("need tees", "need sum of ^"));
    assert_eq!(labels(&items), ["lines", "rooms"]);
}

#[test]
fn books_that_can_be_used() {
    let (mut client, _folder) = editor(HOUSE);
    let items = offered(&mut client, &HOUSE.replace("use \"std/base.lid\"", "use \"^"));
    assert!(has(&items, "hardlid trade") && has(&items, "std/base.lid"), "{:?}", labels(&items));
    assert!(!has(&items, "house.lid"));
    // no words are offered in a text or a remark
    assert!(offered(&mut client, &HOUSE.replace("\"our list\"", "\"our ^list\"")).is_empty());
    assert!(offered(&mut client, &HOUSE.replace("-- 10 ft", "-- 10^ ft")).is_empty());
}

/// The cost of lines: inside the bracket the columns of lines are named.
#[test]
fn a_bracket_behind_rows_has_their_columns() {
    let (mut client, _folder) = editor(HOUSE);
    let items = offered(&mut client, &format!("{HOUSE}\nfor job\n    total  =  sum of lines (^)\nend\n"));
    assert!(has(&items, "cost") && has(&items, "hours") && !has(&items, "tees"), "{:?}", labels(&items));
}
