//! `hardlid editor`: an editor that starts the built program and speaks the protocol with it.
#![allow(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test that cannot go on fails")]

#[path = "editor/client.rs"]
mod client;
#[path = "editor/complete.rs"]
mod complete;
#[path = "editor/goto.rs"]
mod goto;
#[path = "editor/hover.rs"]
mod hover;
#[path = "editor/hostile.rs"]
mod hostile;
#[path = "editor/problems.rs"]
mod problems;
#[path = "editor/shape.rs"]
mod shape;

use client::Client;
use tempfile::TempDir;

const PROGRAM: &str = env!("CARGO_BIN_EXE_hardlid");

/// A lower book of the house, in a folder of its own.
const BASE: &str = "\
book \"Base\"  edition \"7\"

rows rooms  from \"Rooms\"
    id      text    heading \"Room\"  key
    length  length  heading \"Length\"  above 0
    sdc     text    one of A B C  otherwise A
end

table gap  \"How far apart\"  source practice
    wide length, up to | apart length
    10'                | 2'
    20'                | 1'
end

define bays(run length, pitch length) count  =  round_up(run / pitch)
    \"Spaces of a run.\"
    source practice

for rooms
    pitch  \"Pitch\"  =  gap(wide: length)
    tees   \"Tees\"   =  bays(run: length, pitch: pitch)
end
";

/// The house's book, which uses it.
const HOUSE: &str = "\
book \"House\"
use \"std/base.lid\"

for rooms
    replace tees  \"Tees\"  =  bays(run: length, pitch: pitch) + 1
    weight  \"Weight\"  =  tees * 2.5 lb  source \"our list\"
    check few  tees <= 20  else warns  \"{tees} tees.\"
    item tee  code \"T\"  need tees
end

example \"ten feet\"
    -- 10 ft at 2 ft is 5 spaces, and one more; 6 at 2.5 lb are 15 lb.
    rooms  id \"1\"  length 10'
    shows  tees = 6   weight = 15 lb
end
";

/// A folder with both books.
fn folder() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("std")).unwrap();
    std::fs::write(folder.path().join("std/base.lid"), BASE).unwrap();
    std::fs::write(folder.path().join("house.lid"), HOUSE).unwrap();
    folder
}

/// An editor with a book open in a folder with both.
fn editor(text: &str) -> (Client, TempDir) {
    let folder = folder();
    let mut client = Client::new(PROGRAM, folder.path());
    client.open("house.lid", text);
    (client, folder)
}

/// Line and column of the beginning of a part of a text, from 0, as an editor counts them.
fn place(text: &str, part: &str) -> (u32, u32) {
    let at = text.find(part).unwrap_or_else(|| panic!("no {part}"));
    let line = text[..at].matches('\n').count();
    let column = text[text[..at].rfind('\n').map_or(0, |i| i + 1)..at].encode_utf16().count();
    (u32::try_from(line).unwrap(), u32::try_from(column).unwrap())
}
