//! The outline of a book, and its layout.

use super::{HOUSE, editor};
use serde_json::{Value, json};

/// Name, detail, first and last line (from 1) of symbols, those inside others deeper.
fn listed(symbols: &Value, depth: usize, out: &mut Vec<String>) {
    for s in symbols.as_array().into_iter().flatten() {
        let line = |end: &str| s["range"][end]["line"].as_u64().unwrap() + 1;
        let detail = s["detail"].as_str().map(|d| format!(" ({d})")).unwrap_or_default();
        out.push(format!(
            "{}{}{detail} {}-{}",
            "  ".repeat(depth),
            s["name"].as_str().unwrap(),
            line("start"),
            line("end")
        ));
        listed(&s["children"], depth + 1, out);
    }
}

#[test]
fn an_outline_has_blocks_and_what_stands_in_them() {
    // line 8 is not understood: the rest is there
    let book = HOUSE.replace("item tee  code \"T\"  need tees", "item tee  code (")
        + "\ntable gap2  \"Gaps\"\n    wide length, up to | apart length\n    1' | 2'\n-- the last one\nend\n\ndefine half(x length) length  =  x / 2\n    \"Half of it.\"\n";
    let (mut client, _folder) = editor(&book);
    let document = json!({ "textDocument": { "uri": client.uri("house.lid") } });
    let symbols = client.ask("textDocument/documentSymbol", &document);
    let mut out = Vec::new();
    listed(&symbols, 0, &mut out);
    assert_eq!(
        out,
        [
            "for rooms 4-9",
            "  tees (Tees) 5-5",
            "  weight (Weight) 6-6",
            "  check few 7-7",
            "example ten feet 11-15",
            "table gap2 (Gaps) 17-21",
            "  wide (length) 18-18",
            "  apart (length) 18-18",
            "define half (Half of it.) 23-24",
        ]
    );
    // the name of the formula, behind `    replace `
    let selected = &symbols[0]["children"][0]["selectionRange"];
    assert_eq!((&selected["start"]["character"], &selected["end"]["character"]), (&json!(12), &json!(16)));
}

/// The text after the changes of a layout, which replace whole lines.
fn laid_out(text: &str, edits: &Value) -> String {
    let mut out = text.to_owned();
    for edit in edits.as_array().unwrap().iter().rev() {
        let offset = |end: &str| {
            let at = |part: &str| usize::try_from(edit["range"][end][part].as_u64().unwrap()).unwrap();
            let start: usize = text.split_inclusive('\n').take(at("line")).map(str::len).sum();
            start + at("character")
        };
        out.replace_range(offset("start")..offset("end"), edit["newText"].as_str().unwrap());
    }
    out
}

#[test]
fn a_book_is_laid_out_as_the_command_does() {
    let untidy = HOUSE.replace("    weight  \"Weight\"  =  tees", "    weight   \"Weight\" =   tees");
    let (mut client, folder) = editor(&untidy);
    let options = json!({ "tabSize": 8, "insertSpaces": false });
    let document = json!({ "textDocument": { "uri": client.uri("house.lid") }, "options": options });
    let edits = client.ask("textDocument/formatting", &document);
    std::fs::write(folder.path().join("house.lid"), &untidy).unwrap();
    let ran = std::process::Command::new(super::PROGRAM)
        .args(["tidy", "house.lid"])
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert!(ran.status.success());
    let tidy = std::fs::read_to_string(folder.path().join("house.lid")).unwrap();
    assert_ne!(tidy, untidy);
    assert_eq!(laid_out(&untidy, &edits), tidy);
    // the head of the book and its example stay: they are no part of the change
    assert!(edits[0]["range"]["start"]["line"].as_u64().unwrap() >= 4, "{edits}");
    assert!(edits[0]["range"]["end"]["line"].as_u64().unwrap() <= 9, "{edits}");
    client.change("house.lid", &json!([{ "text": tidy }]));
    assert_eq!(client.ask("textDocument/formatting", &document), json!([]));
    // what has mistakes is left as it is
    client.change("house.lid", &json!([{ "text": untidy.replace("need tees", "need (tees") }]));
    assert_eq!(client.ask("textDocument/formatting", &document), json!([]));
}
