//! Where names are declared and said, and other names for them.

use super::{BASE, HOUSE, PROGRAM, editor, folder, place};
use crate::client::Client;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// File, line from 1 and column from 0 of a location.
fn located(client: &Client, location: &Value) -> (String, u64, u64) {
    let uri = location["uri"].as_str().unwrap();
    let name = uri.strip_prefix(&client.uri("")).unwrap_or(uri).to_owned();
    let start = &location["range"]["start"];
    (name, start["line"].as_u64().unwrap() + 1, start["character"].as_u64().unwrap())
}

fn ask(client: &mut Client, method: &str, name: &str, text: &str, part: &str, more: &Value) -> Value {
    let (line, column) = place(text, part);
    let mut parameters = client.at(name, line, column);
    for (key, value) in more.as_object().into_iter().flatten() {
        parameters[key] = value.clone();
    }
    client.ask(&format!("textDocument/{method}"), &parameters)
}

fn definition(client: &mut Client, text: &str, part: &str) -> (String, u64, u64) {
    let found = ask(client, "definition", "house.lid", text, part, &json!({}));
    assert!(!found.is_null(), "{part} is declared nowhere");
    located(client, &found)
}

#[test]
fn a_name_leads_to_where_it_is_declared() {
    let (mut client, _folder) = editor(HOUSE);
    let base = |line, column| ("std/base.lid".to_owned(), line, column);
    let house = |line, column| ("house.lid".to_owned(), line, column);
    // `define bays(` in line 15, the formula `pitch` in line 20, the column `length` in line 5
    assert_eq!(definition(&mut client, HOUSE, "bays("), base(15, 7));
    assert_eq!(definition(&mut client, HOUSE, "pitch) + 1"), base(20, 4));
    assert_eq!(definition(&mut client, HOUSE, "length, pitch"), base(5, 4));
    // the arguments `run` and `pitch` of the definition: behind `define bays(` and `define bays(run length, `
    assert_eq!(definition(&mut client, HOUSE, "run: length"), base(15, 12));
    assert_eq!(definition(&mut client, HOUSE, "pitch: pitch"), base(15, 24));
    // the formula in force; from there the one whose place it takes
    assert_eq!(definition(&mut client, HOUSE, "tees <= 20"), house(5, 12));
    assert_eq!(definition(&mut client, HOUSE, "tees  \"Tees\""), base(21, 4));
    assert_eq!(definition(&mut client, HOUSE, "rooms\n    replace"), base(3, 5));
    assert_eq!(definition(&mut client, HOUSE, "weight = 15"), house(6, 4));
    assert_eq!(definition(&mut client, HOUSE, "std/base"), base(1, 0));
    // at the end of a name as well
    let (line, column) = place(HOUSE, "(run: length");
    let at = client.at("house.lid", line, column);
    let found = client.ask("textDocument/definition", &at);
    assert_eq!(located(&client, &found), base(15, 7));
}

/// Built-in books are no files: an editor that can asks for their text.
#[test]
fn a_name_of_a_built_in_book_leads_into_it() {
    let book = HOUSE
        .replace("use \"std", "use \"hardlid trade\"\nuse \"std")
        .replace("need tees", "need tee_count(along: length, spacing: 2')");
    let (mut client, _folder) = editor(&book);
    let found = ask(&mut client, "definition", "house.lid", &book, "tee_count", &json!({}));
    let uri = found["uri"].as_str().unwrap().to_owned();
    let text = client.ask("workspace/textDocumentContent", &json!({ "uri": uri }));
    let line = usize::try_from(found["range"]["start"]["line"].as_u64().unwrap()).unwrap();
    let stated = text["text"].as_str().unwrap().lines().nth(line).unwrap();
    assert!(stated.starts_with("define tee_count("), "{stated}");
    // round_up is declared in no book
    let round = book.replace("pitch: pitch) + 1", "pitch: pitch) + round_up(1)");
    client.change("house.lid", &json!([{ "text": round }]));
    assert!(ask(&mut client, "definition", "house.lid", &round, "round_up", &json!({})).is_null());
}

fn references(client: &mut Client, name: &str, text: &str, part: &str, declared: bool) -> Vec<(String, u64, u64)> {
    let more = json!({ "context": { "includeDeclaration": declared } });
    let found = ask(client, "references", name, text, part, &more);
    found.as_array().unwrap().iter().map(|l| located(client, l)).collect()
}

/// From the lower book, the upper one on disk: all of `tees`.
#[test]
fn a_name_is_found_in_all_books_around() {
    let folder = folder();
    // a book that has nothing to do with it
    std::fs::write(folder.path().join("other.lid"), BASE).unwrap();
    let mut client = Client::new(PROGRAM, folder.path());
    client.open("std/base.lid", BASE);
    let base = |line, column| ("std/base.lid".to_owned(), line, column);
    let house = |line, column| ("house.lid".to_owned(), line, column);
    let said = [
        house(5, 12),  // replace tees
        house(6, 25),  // tees * 2.5
        house(7, 15),  // tees <= 20
        house(7, 41),  // {tees}
        house(8, 29),  // need tees
        house(14, 11), // shows tees
        base(21, 4),   // tees
    ];
    assert_eq!(references(&mut client, "std/base.lid", BASE, "tees   \"Tees\"", true), said);
    let without = [house(6, 25), house(7, 15), house(7, 41), house(8, 29), house(14, 11)];
    assert_eq!(references(&mut client, "std/base.lid", BASE, "tees   \"Tees\"", false), without);
    // the table in the lower book alone, declared and called
    assert_eq!(references(&mut client, "std/base.lid", BASE, "gap  \"How", true), [base(9, 6), base(20, 23)]);
    // an argument: its declaration, the body, and the names in calls
    let run = [house(5, 34), base(15, 12), base(15, 57), base(21, 28)];
    assert_eq!(references(&mut client, "std/base.lid", BASE, "run length", true), run);
}

/// The texts of files after the changes that a new name makes.
fn renamed(client: &mut Client, name: &str, text: &str, part: &str, new: &str) -> BTreeMap<String, String> {
    let edit = ask(client, "rename", name, text, part, &json!({ "newName": new }));
    let mut out = BTreeMap::new();
    for (uri, edits) in edit["changes"].as_object().unwrap() {
        let file = uri.strip_prefix(&client.uri("")).unwrap().to_owned();
        let before = if file == "house.lid" { HOUSE } else { BASE };
        let mut lines: Vec<String> = before.lines().map(str::to_owned).collect();
        for edit in edits.as_array().unwrap().iter().rev() {
            let at = |end: &str, part: &str| usize::try_from(edit["range"][end][part].as_u64().unwrap()).unwrap();
            let line = &mut lines[at("start", "line")];
            line.replace_range(at("start", "character")..at("end", "character"), edit["newText"].as_str().unwrap());
        }
        out.insert(file, lines.join("\n") + "\n");
    }
    out
}

#[test]
fn a_name_is_changed_in_all_books_around() {
    let folder = folder();
    let mut client = Client::new(PROGRAM, folder.path());
    client.open("std/base.lid", BASE);
    let changed = renamed(&mut client, "std/base.lid", BASE, "tees   \"Tees\"", "mains");
    // nothing but the name of the formula: not the label, not the words of the message
    let house = HOUSE
        .replace("replace tees", "replace mains")
        .replace("tees * 2.5", "mains * 2.5")
        .replace("tees <= 20", "mains <= 20")
        .replace("{tees}", "{mains}")
        .replace("need tees", "need mains")
        .replace("shows  tees", "shows  mains");
    assert_eq!(changed["house.lid"], house);
    assert_eq!(changed["std/base.lid"], BASE.replace("    tees ", "    mains "));
    // a parameter, with the names of arguments
    let changed = renamed(&mut client, "std/base.lid", BASE, "run length", "whole");
    assert_eq!(changed["house.lid"], HOUSE.replace("run: length", "whole: length"));
    assert_eq!(
        changed["std/base.lid"],
        BASE.replace("(run length", "(whole length")
            .replace("(run /", "(whole /")
            .replace("run: length", "whole: length")
    );
    // the kind of rows
    let changed = renamed(&mut client, "std/base.lid", BASE, "rooms  from", "areas");
    assert_eq!(changed["house.lid"], HOUSE.replace("for rooms", "for areas").replace("    rooms  id", "    areas  id"));
    assert_eq!(client.end(), 0);
}

/// Sheets are headed by the name of a column that has no heading: it becomes one.
#[test]
fn a_column_that_is_renamed_is_read_from_the_same_sheets() {
    let folder = folder();
    let mut client = Client::new(PROGRAM, folder.path());
    client.open("std/base.lid", BASE);
    let changed = renamed(&mut client, "std/base.lid", BASE, "sdc     text", "seismic");
    let base = BASE.replace("    sdc     text    one", "    seismic     text heading \"Sdc\"    one");
    assert_eq!(changed["std/base.lid"], base);
    // one that has a heading keeps it, and gets no other
    let changed = renamed(&mut client, "std/base.lid", BASE, "length  length", "run");
    assert!(changed["std/base.lid"].contains("    run  length  heading \"Length\"  above 0\n"), "{changed:?}");
    assert_eq!(client.end(), 0);
}

#[test]
fn a_name_that_cannot_be_changed_is_refused_in_words() {
    let book = HOUSE.replace("use \"std", "use \"hardlid trade\"\nuse \"std").replace(
        "need tees",
        "need tee_count(along: length, spacing: round_up(2', to: 1')) when sdc is B, tees otherwise",
    );
    let (mut client, _folder) = editor(&book);
    let refused = |client: &mut Client, text: &str, part: &str, new: &str| {
        let (line, column) = place(text, part);
        let mut parameters = client.at("house.lid", line, column);
        parameters["newName"] = json!(new);
        client.refused("textDocument/rename", &parameters)
    };
    for (part, new, why) in [
        (
            "tee_count",
            "mains",
            "'tee_count' is a name of the built-in book hardlid trade; it can be replaced, not renamed.",
        ),
        ("round_up", "up", "'round_up' is a function of the language and keeps its name."),
        (
            "B, tees",
            "d",
            "'B' is a word of a list and keeps its name: it also stands in workbooks, where nothing would change.",
        ),
        ("weight  \"W", "tees", "'tees' is already a name of rooms."),
        ("weight  \"W", "length", "'length' is already a name of rooms."),
        ("weight  \"W", "Weight", "'Weight' has a capital letter; names are lower case."),
        ("weight  \"W", "2nd", "'2nd' is no name: a letter comes first, then letters, digits and '_'."),
        ("weight  \"W", "", "'' is no name: a letter comes first, then letters, digits and '_'."),
        ("tees <= 20", "not", "Called 'not', some name would mean something else than it does."),
        ("\"House\"", "x", "No name stands here that could be changed."),
        ("std/base", "x", "'std/base.lid' is called as its file is."),
    ] {
        assert_eq!(refused(&mut client, &book, part, new), why, "{part} as {new}");
    }
    // the trade has 'bays' too: without it the name is the house's own
    let (mut own, _own_folder) = editor(HOUSE);
    for (part, new, why) in [
        ("bays(", "gap", "'gap' is already the name of another function."),
        ("bays(", "shorter", "'shorter' is already the name of another function."),
        ("run: length", "pitch", "'pitch' is already a name of bays."),
    ] {
        assert_eq!(refused(&mut own, HOUSE, part, new), why, "{part} as {new}");
    }
    // what may be changed is asked for first
    let (line, column) = place(&book, "weight  \"W");
    let at = client.at("house.lid", line, column + 2);
    let may = client.ask("textDocument/prepareRename", &at);
    assert_eq!((&may["placeholder"], &may["range"]["start"]["character"]), (&json!("weight"), &json!(4)));
    let (line, column) = place(&book, "tee_count");
    let at = client.at("house.lid", line, column);
    assert!(client.refused("textDocument/prepareRename", &at).contains("built-in"));
}

/// A field of another kind that would be hidden by the new name: 'job' is in reach of rooms.
#[test]
fn a_name_in_reach_is_taken() {
    let book = format!("{HOUSE}\nfor job\n    all  =  sum of rooms (weight)\nend\n");
    let (mut client, _folder) = editor(&book);
    let (line, column) = place(&book, "weight  \"W");
    let mut parameters = client.at("house.lid", line, column);
    parameters["newName"] = json!("all");
    assert_eq!(client.refused("textDocument/rename", &parameters), "'all' is already a name of job.");
}
