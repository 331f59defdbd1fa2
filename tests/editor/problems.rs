//! What is wrong, as it is typed.

use super::{BASE, HOUSE, PROGRAM, editor, folder, place};
use crate::client::Client;
use serde_json::{Value, json};
use std::process::Command;

const ERROR: u64 = 1;
const WARNING: u64 = 2;

#[test]
fn a_sound_book_has_no_problems_and_a_slip_one() {
    let (mut client, _folder) = editor(HOUSE);
    assert_eq!(client.problems("house.lid"), []);
    // line 5: `    replace tees  "Tees"  =  bays(run: length, pitch: pitch) + 1`; the last `pitch` begins in column 54
    let (line, column) = place(HOUSE, "pitch) + 1");
    assert_eq!((line, column), (4, 54));
    let cut = json!({ "start": { "line": 4, "character": 55 }, "end": { "line": 4, "character": 56 } });
    client.change("house.lid", &json!([{ "range": cut, "text": "" }]));
    let told = "Nothing is called 'ptch' here.\nTry: pitch".to_owned();
    assert_eq!(client.problems("house.lid"), [(5, 54, 58, ERROR, told)]);
    let put = json!({ "start": { "line": 4, "character": 55 }, "end": { "line": 4, "character": 55 } });
    client.change("house.lid", &json!([{ "range": put, "text": "i" }]));
    assert_eq!(client.problems("house.lid"), []);
    // all of it at once
    client.change("house.lid", &json!([{ "text": HOUSE.replace("need tees", "need tee") }]));
    let told = client.problems("house.lid");
    assert_eq!(told.len(), 1);
    assert_eq!((told[0].0, told[0].4.as_str()), (8, "Nothing is called 'tee' here.\nTry: tees"));
    assert_eq!(client.end(), 0);
}

/// An example that fails, a hint, a statement that is not understood: the words of `hardlid try`, and its places.
#[test]
fn what_is_told_is_what_the_command_line_tells() {
    let hinted = HOUSE
        .replace("  source \"our list\"", "")
        .replace("for rooms\n", "define unused(x length) length  =  x\n\nfor rooms\n");
    for book in [
        HOUSE.replace("tees = 6", "tees = 7"),
        HOUSE.replace("need tees", "need"),
        HOUSE.replace("tees * 2.5 lb", "tees * 2.5 lb + 1'"),
        HOUSE.replace("tees <= 20", "tees >= 0"),
        HOUSE.replace("std/base.lid", "std/bases.lid"),
        hinted,
    ] {
        let (client, folder) = editor(&book);
        std::fs::write(folder.path().join("house.lid"), &book).unwrap();
        let ran =
            Command::new(PROGRAM).args(["try", "house.lid", "--json"]).current_dir(folder.path()).output().unwrap();
        let told: Value = serde_json::from_slice(&ran.stdout).unwrap();
        let mut wanted: Vec<(u64, String)> = Vec::new();
        for problem in told["problems"].as_array().unwrap() {
            let fix = problem["fix"].as_str().map(|f| format!("\nTry: {f}")).unwrap_or_default();
            let line = problem["places"][0]["line"].as_u64().unwrap();
            let working = problem["working"].as_array().unwrap().iter();
            let working: String = working.map(|line| format!("\n  {}", line.as_str().unwrap())).collect();
            wanted.push((line, format!("{}{working}{fix}", problem["what"].as_str().unwrap())));
        }
        let mut shown: Vec<(u64, String)> = client.problems("house.lid").into_iter().map(|p| (p.0, p.4)).collect();
        wanted.sort();
        shown.sort();
        assert!(!wanted.is_empty(), "{book}");
        assert_eq!(shown, wanted, "{book}");
    }
}

#[test]
fn hints_weigh_less_than_mistakes() {
    let (client, _folder) =
        editor(&HOUSE.replace("for rooms\n", "define unused(x length) length  =  x\n\nfor rooms\n"));
    let told = client.problems("house.lid");
    assert_eq!(told.len(), 1, "{told:?}");
    // `unused` is the second word of line 4, six letters from column 7
    assert_eq!((told[0].0, told[0].1, told[0].2, told[0].3), (4, 7, 13, WARNING));
}

/// Problems of a book that is used are shown in its own file, as the disk has it or as the editor does.
#[test]
fn a_problem_belongs_to_its_file() {
    let folder = folder();
    std::fs::write(folder.path().join("std/base.lid"), BASE.replace("gap(wide: length)", "gap(wide: lenght)")).unwrap();
    let mut client = Client::new(PROGRAM, folder.path());
    client.open("house.lid", HOUSE);
    assert_eq!(client.problems("house.lid"), []);
    let told = "Nothing is called 'lenght' here.\nTry: length".to_owned();
    // line 20: `    pitch  "Pitch"  =  gap(wide: lenght)`
    assert_eq!(client.problems("std/base.lid"), [(20, 33, 39, ERROR, told.clone())]);
    // the same problem, found from both books, is shown once
    client.open("std/base.lid", &BASE.replace("gap(wide: length)", "gap(wide: lenght)"));
    client.looked_at("std/base.lid");
    assert_eq!(client.problems("std/base.lid"), [(20, 33, 39, ERROR, told)]);
    client.change("std/base.lid", &json!([{ "text": BASE }]));
    // nothing is said twice: it is gone once both books have been looked at
    client.change("house.lid", &json!([{ "text": HOUSE }]));
    assert_eq!(client.problems("std/base.lid"), []);
    // what only the editor has of the lower book counts for the upper one
    client.change("std/base.lid", &json!([{ "text": BASE.replace("pitch  \"Pitch\"", "apart  \"Pitch\"") }]));
    client.change("house.lid", &json!([{ "text": HOUSE }]));
    let told = client.problems("house.lid");
    assert_eq!(
        (told.len(), told[0].4.as_str()),
        (1, "Nothing is called 'pitch' here.\nTry: a field of rooms or a formula's name")
    );
    // closed, it is as on disk again, where the slip still is
    let document = json!({ "uri": client.uri("std/base.lid") });
    client.tell("textDocument/didClose", &json!({ "textDocument": document }));
    client.change("house.lid", &json!([{ "text": HOUSE }]));
    assert_eq!((client.problems("house.lid").len(), client.problems("std/base.lid").len()), (0, 1));
    assert_eq!(client.end(), 0);
}

/// `×` and `⅝` are one unit of UTF-16 each, the emoji two: `widht` begins after
/// `    area  "A 😀"  =  ` (21 units), `5⅝"` (3), ` × ` (3), `length` (6) and ` × ` (3), in column 36.
#[test]
fn places_are_counted_in_units_of_utf_16() {
    let odd = "    area  \"A 😀\"  =  5⅝\" × length × widht\n";
    assert_eq!(odd.split("widht").next().unwrap().encode_utf16().count(), 36);
    let book = HOUSE.replace("    weight", &format!("{odd}    weight"));
    let (mut client, _folder) = editor(&book);
    let told = client.problems("house.lid");
    assert_eq!((told[0].0, told[0].1, told[0].2), (6, 36, 41));
    // the word is exchanged by that range, and the sound formula is left
    let range = json!({ "start": { "line": 5, "character": 36 }, "end": { "line": 5, "character": 41 } });
    client.change("house.lid", &json!([{ "range": range, "text": "length" }]));
    assert!(client.problems("house.lid").iter().all(|p| p.3 != ERROR), "{:?}", client.problems("house.lid"));
    // within the emoji there is no place: what is put there stands before it
    let within = json!({ "start": { "line": 5, "character": 14 }, "end": { "line": 5, "character": 14 } });
    client.change("house.lid", &json!([{ "range": within, "text": "b" }]));
    let shape =
        client.ask("textDocument/documentSymbol", &json!({ "textDocument": { "uri": client.uri("house.lid") } }));
    assert!(shape.to_string().contains("A b😀"), "{shape}");
}

/// Two changes in one message: each is counted in what the one before it left.
#[test]
fn changes_follow_each_other() {
    let (mut client, _folder) = editor(HOUSE);
    let first = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 0, "character": 0 } });
    // a line more above: `tees` of `need tees` now stands in line 8, from 0
    let second = json!({ "start": { "line": 8, "character": 29 }, "end": { "line": 8, "character": 33 } });
    client.change("house.lid", &json!([{ "range": first, "text": "-- first\n" }, { "range": second, "text": "none" }]));
    let told = client.problems("house.lid");
    assert_eq!((told.len(), told[0].0, &told[0].4[..30]), (1, 9, "Nothing is called 'none' here."));
}

/// Carriage returns and a mark at the beginning are no letters of the book, and count for the editor.
#[test]
fn lines_may_end_as_in_other_programs() {
    let book = format!("\u{feff}{}", HOUSE.replace("need tees", "need tes").replace('\n', "\r\n"));
    let (client, _folder) = editor(&book);
    let told = client.problems("house.lid");
    // `    item tee  code "T"  need tes`
    assert_eq!((told.len(), told[0].0, told[0].1, told[0].2), (1, 8, 29, 32));
}

/// A statement that is just being written costs its own message and no other.
#[test]
fn one_broken_statement_leaves_the_rest() {
    let (client, _folder) =
        editor(&HOUSE.replace("item tee  code \"T\"  need tees", "item tee  code \"T\" need (tees"));
    let told = client.problems("house.lid");
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!(
        (told[0].0, told[0].4.as_str()),
        (8, "This bracket is not closed.\nTry: close it with ')' before the statement ends")
    );
}

/// A new file that nobody has saved has built-in books and no folder.
#[test]
fn a_document_without_a_file_is_read_as_well() {
    let (mut client, _folder) = editor(HOUSE);
    let document = json!({ "uri": "untitled:Untitled-1", "languageId": "lid", "version": 1, "text": "use \"hardlid trade\"\nuse \"x.lid\"\n" });
    client.tell("textDocument/didOpen", &json!({ "textDocument": document }));
    let shown = loop {
        let message = client.next();
        if message["params"]["uri"] == "untitled:Untitled-1" {
            break message;
        }
    };
    let all = shown["params"]["diagnostics"].as_array().unwrap();
    assert_eq!(all.len(), 1, "{shown}");
    assert_eq!(all[0]["message"], "This book has no folder yet in which x.lid could stand.\nTry: save the book first");
}
