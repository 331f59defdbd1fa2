//! What no editor should say, and books that nobody should write: every question is answered, and the server ends when it
//! should.

use super::{HOUSE, PROGRAM, editor, folder};
use crate::client::Client;
use proptest::prelude::*;
use serde_json::{Value, json};

#[test]
fn the_protocol_has_a_beginning_and_an_end() {
    let folder = folder();
    let mut client = Client::silent(PROGRAM, folder.path());
    // nothing is agreed on yet
    let early = client.answer("textDocument/hover", &json!({}));
    assert_eq!(early["error"]["code"], -32002);
    client.tell("textDocument/didOpen", &json!({}));
    let agreed = client.ask("initialize", &json!({ "capabilities": {} }));
    assert_eq!(agreed["capabilities"]["textDocumentSync"]["change"], 2);
    assert_eq!(agreed["serverInfo"]["name"], "hardlid");
    assert_eq!(client.answer("initialize", &json!({}))["error"]["code"], -32600);
    client.tell("initialized", &json!({}));
    assert_eq!(client.answer("textDocument/inventedHere", &json!({}))["error"]["code"], -32601);
    assert_eq!(client.answer("textDocument/hover", &json!({ "position": 1 }))["error"]["code"], -32602);
    client.tell("$/cancelRequest", &json!({ "id": 1 }));
    assert_eq!(client.ask("shutdown", &Value::Null), Value::Null);
    assert_eq!(client.answer("textDocument/hover", &json!({}))["error"]["code"], -32600);
    client.tell("exit", &Value::Null);
    assert_eq!(client.ended(), 0);
}

#[test]
fn who_leaves_without_a_word_ends_it_with_1() {
    let folder = folder();
    let mut client = Client::new(PROGRAM, folder.path());
    client.tell("exit", &Value::Null);
    assert_eq!(client.ended(), 1);
    let client = Client::new(PROGRAM, folder.path());
    assert_eq!(client.ended(), 1);
    let mut client = Client::new(PROGRAM, folder.path());
    client.send_bytes(b"what is this\r\n\r\n");
    assert_eq!(client.ended(), 1);
}

#[test]
fn what_is_no_message_is_answered_and_passed_over() {
    let (mut client, _folder) = editor(HOUSE);
    for odd in ["{", "[]", "{\"id\":{}}", "\"x\"", "null", "{\"id\":99999999999,\"method\":\"shutdown\"}"] {
        client.send_bytes(format!("Content-Length: {}\r\n\r\n{odd}", odd.len()).as_bytes());
        let answer = client.next();
        assert_eq!((&answer["error"]["code"], &answer["id"]), (&json!(-32700), &Value::Null), "{odd}");
    }
    assert_eq!(client.end(), 0);
}

#[test]
fn places_that_are_not_there_are_no_matter() {
    let (mut client, _folder) = editor(HOUSE);
    for (line, column) in [(0, 4_000_000_000), (4_000_000_000, 0), (4_000_000_000, 4_000_000_000), (16, 0), (15, 9)] {
        let at = client.at("house.lid", line, column);
        for method in ["hover", "completion", "definition"] {
            client.ask(&format!("textDocument/{method}"), &at);
        }
    }
    let range = json!({ "start": { "line": 9, "character": 9 }, "end": { "line": 2, "character": 1 } });
    client.change("house.lid", &json!([{ "range": range, "text": "x" }]));
    let nowhere = client.at("nowhere.lid", 0, 0);
    assert!(client.refused("textDocument/hover", &nowhere).ends_with("nowhere.lid is not open here."));
    client.tell(
        "textDocument/didChange",
        &json!({ "textDocument": { "uri": "file:///nowhere.lid", "version": 2 }, "contentChanges": [{ "text": "" }] }),
    );
    client.tell("textDocument/didClose", &json!({ "textDocument": { "uri": "%%%" } }));
    assert_eq!(client.end(), 0);
}

/// Books that use each other, and one that uses itself.
#[test]
fn rings_of_books_end() {
    let folder = folder();
    std::fs::write(folder.path().join("std/base.lid"), "use \"../house.lid\"\n").unwrap();
    let mut client = Client::new(PROGRAM, folder.path());
    client.open("house.lid", HOUSE);
    let told = client.problems("std/base.lid");
    assert_eq!(told[0].0, 1);
    assert!(told[0].4.contains("ring"), "{told:?}");
    client.open("self.lid", "use \"self.lid\"\n");
    assert!(client.problems("self.lid")[0].4.contains("uses itself"));
    let at = client.at("house.lid", 4, 14);
    for method in ["hover", "completion", "definition"] {
        client.ask(&format!("textDocument/{method}"), &at);
    }
    assert_eq!(client.end(), 0);
}

/// Parts of books, which are put together at random.
const PIECES: [&str; 32] = [
    "for rooms\n",
    "rows rooms  from \"Rooms\"\n",
    "table gap\n",
    "define f(x length) length  =  ",
    "example \"e\"\n",
    "end\n",
    "    a  =  b + 1\n",
    "    b  \"B 😀\"  =  a × 5⅝\"\n",
    "    replace a  =  sum of rooms (",
    "(",
    ")",
    "\"",
    "--",
    "{",
    "}",
    "use \"std/base.lid\"\n",
    "use \"hardlid trade\"\n",
    "use \"house.lid\"\n",
    " when a is ",
    "tees",
    "length",
    " 24",
    "\u{a0}",
    "    check c  a > 1  else stops \"{a\n",
    "    item t  code \"T\"  need tees\n",
    "    shows  a = 1\n",
    "replace table gap\n",
    "    x length, up to | y length\n",
    "    rooms  id \"1\"  length 10'\n",
    "\r\n",
    "options s  one \"O\",\n",
    "bays(run: ",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]
    /// Whatever is typed, and wherever is asked: answers, and no word on standard error.
    #[test]
    fn any_book_is_answered(
        pieces in prop::collection::vec(prop::sample::select(PIECES.to_vec()), 0..24),
        asked in prop::collection::vec((0_u32..14, 0_u32..44), 3),
        cut in ((0_u32..12, 0_u32..30), (0_u32..12, 0_u32..30)),
    ) {
        let (mut client, _folder) = editor(&pieces.concat());
        let place = |(line, character): (u32, u32)| json!({ "line": line, "character": character });
        client.change("house.lid", &json!([{ "range": { "start": place(cut.0), "end": place(cut.1) }, "text": "a" }]));
        let document = json!({ "textDocument": { "uri": client.uri("house.lid") } });
        client.ask("textDocument/documentSymbol", &document);
        let options = json!({ "tabSize": 4, "insertSpaces": true });
        client.ask("textDocument/formatting", &json!({ "textDocument": document["textDocument"], "options": options }));
        for (line, column) in asked {
            let mut at = client.at("house.lid", line, column);
            at["context"] = json!({ "includeDeclaration": true });
            at["newName"] = json!("other");
            for method in ["hover", "completion", "definition", "references"] {
                client.ask(&format!("textDocument/{method}"), &at);
            }
            client.answer("textDocument/rename", &at);
        }
        prop_assert_eq!(client.end(), 0);
    }
}
