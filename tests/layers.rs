//! Habits of the house, held by a test: layers import downward only, and what touches the world outside does so from
//! the rooms that may.
#![allow(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test that cannot go on fails")]

use std::path::{Path, PathBuf};

/// The layers, lowest first.
const LAYERS: &[&str] = &[
    "quantity", "source", "problem", "notation", "program", "engine", "ceiling", "pricing", "drawing", "system",
    "workbook", "bid", "working", "reprice", "editor", "command",
];

/// What only some rooms may use, with why.
const RESERVED: &[(&str, &[&str], &str)] = &[
    ("std::fs", &["system"], "only system/ touches files"),
    ("fs::", &["system"], "only system/ touches files"),
    ("SystemTime", &["system"], "only system/ reads the clock"),
    ("Zoned::now", &["system"], "only system/ reads the clock"),
    ("Timestamp::now", &["system"], "only system/ reads the clock"),
    ("Instant::now", &[], "nothing is decided by the clock"),
    ("std::env::var", &["system"], "only system/ reads the environment"),
    ("env::args", &["main.rs"], "only main.rs reads the arguments"),
    ("env::args_os", &["main.rs"], "only main.rs reads the arguments"),
    ("println!", &["command"], "only command/ prints"),
    ("print!", &["command"], "only command/ prints"),
    ("stdout()", &["command"], "only command/ prints"),
    ("stderr()", &["command"], "only command/ prints"),
    ("std::collections::HashMap", &[], "its order differs from run to run"),
    ("std::collections::HashSet", &[], "its order differs from run to run"),
    // a cell as it was read, its one way into decimals, and a linear program that proposes and proves nothing
    (
        "f64",
        &["workbook", "drawing", "engine/input.rs", "quantity/spelling.rs", "ceiling/cutting/propose.rs"],
        "binary floats live at the edge of cells alone",
    ),
    ("f32", &["drawing"], "binary floats live at the edge of cells alone"),
];

/// A source file: its path below `src/`, the rooms above it, its lines of code.
struct File {
    path: String,
    modules: Vec<String>,
    lines: Vec<(usize, String)>,
}

impl File {
    /// From its path below `src/` and its text. Comments are no code.
    fn new(path: &str, text: &str) -> Self {
        let stem = path.trim_end_matches(".rs").trim_end_matches("/mod");
        let code = |line: &str| line.split("//").next().unwrap_or("").to_owned();
        Self {
            path: path.to_owned(),
            modules: stem.split('/').map(str::to_owned).collect(),
            lines: text.lines().map(code).enumerate().map(|(i, line)| (i + 1, line)).collect(),
        }
    }

    fn layer(&self) -> &str {
        &self.modules[0]
    }

    /// Whether it lies in a room, or is that file.
    fn is_in(&self, room: &str) -> bool {
        self.path == room || self.path.strip_prefix(room).is_some_and(|rest| rest.starts_with('/'))
    }

    /// Layers that a line names: `crate::x`, `crate::{x, y}`, and `super::…::x` where it climbs to the top.
    fn named(&self, line: &str) -> Vec<String> {
        let mut out = Vec::new();
        let mut rest = line;
        while let Some(at) = rest.find("crate::") {
            let own = !rest[..at].ends_with('$');
            rest = &rest[at + "crate::".len()..];
            if own {
                out.extend(first_names(rest));
            }
        }
        let top = "super::".repeat(self.modules.len());
        let mut rest = line;
        while let Some(at) = rest.find(&top) {
            rest = rest[at + top.len()..].trim_start_matches("super::");
            out.extend(first_names(rest));
        }
        out
    }

    /// Imports that run up.
    fn upward(&self) -> Vec<String> {
        let place = |name: &str| LAYERS.iter().position(|l| *l == name);
        let Some(own) = place(self.layer()) else { return Vec::new() };
        let mut out = Vec::new();
        for (number, line) in &self.lines {
            for name in self.named(line) {
                if place(&name).is_some_and(|other| other > own) {
                    let Self { path, .. } = self;
                    out.push(format!("src/{path}:{number}: {} imports {name}, which lies above it", self.layer()));
                }
            }
        }
        out
    }

    /// Uses of what is reserved for other rooms.
    fn trespasses(&self) -> Vec<String> {
        let mut out = Vec::new();
        for (number, line) in &self.lines {
            for (what, rooms, why) in RESERVED {
                if holds_word(line, what) && !rooms.iter().any(|room| self.is_in(room)) {
                    out.push(format!("src/{}:{number}: {what} does not belong here: {why}", self.path));
                }
            }
        }
        out
    }
}

/// The first names of what follows `crate::`: one, or those in braces at the first level.
fn first_names(after: &str) -> Vec<String> {
    let word = |t: &str| t.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>();
    let Some(inside) = after.strip_prefix('{') else { return vec![word(after)] };
    let mut depth = 0;
    let mut names = vec![String::new()];
    for c in inside.chars() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => names.push(String::new()),
            c => names.last_mut().unwrap().push(c),
        }
    }
    names.iter().map(|n| word(n)).collect()
}

/// Whether a line holds a text that is no part of a longer word.
fn holds_word(line: &str, what: &str) -> bool {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    line.match_indices(what).any(|(at, _)| {
        let before = line[..at].chars().next_back().is_some_and(part);
        let after = line[at + what.len()..].chars().next().is_some_and(part) && what.ends_with(part);
        !before && !after
    })
}

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

fn files() -> Vec<File> {
    let mut out = Vec::new();
    let mut open = vec![source()];
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let below = path.strip_prefix(source()).unwrap().to_string_lossy().replace('\\', "/");
                out.push(File::new(&below, &std::fs::read_to_string(&path).unwrap()));
            }
        }
    }
    out.sort_by(|a, b| a.path.cmp(&b.path));
    out
}

#[test]
fn imports_run_down() {
    let upward: Vec<String> = files().iter().flat_map(File::upward).collect();
    assert!(upward.is_empty(), "\n{}", upward.join("\n"));
}

#[test]
fn the_world_outside_is_touched_where_it_may_be() {
    let trespasses: Vec<String> = files().iter().flat_map(File::trespasses).collect();
    assert!(trespasses.is_empty(), "\n{}", trespasses.join("\n"));
}

#[test]
fn the_library_lists_its_layers_in_their_order() {
    let text = std::fs::read_to_string(source().join("lib.rs")).unwrap();
    let listed: Vec<&str> = text.lines().filter_map(|l| l.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    let known: Vec<&str> = LAYERS.iter().copied().filter(|l| listed.contains(l)).collect();
    assert_eq!(listed, known);
    assert!(listed.len() > 8, "the layers are not found in lib.rs: {listed:?}");
}

/// The test above would be worth nothing if it found nothing.
#[test]
fn an_import_that_runs_up_is_found() {
    let found = |path: &str, text: &str| File::new(path, text).upward();
    assert_eq!(
        found("engine/run.rs", "\nuse crate::workbook::grid;"),
        ["src/engine/run.rs:2: engine imports workbook, which lies above it"]
    );
    assert_eq!(found("engine/run.rs", "use crate::{quantity::{Number, Date}, pricing::Line};").len(), 1);
    assert_eq!(found("engine/run.rs", "let x = super::super::command::run;").len(), 1);
    assert_eq!(found("engine/mod.rs", "use super::command;").len(), 1);
    assert!(found("engine/run.rs", "use crate::program::Op; // crate::command").is_empty());
    assert!(found("engine/kernel/mod.rs", "use super::command;").is_empty());
    assert!(found("command/price.rs", "use crate::workbook::write;").is_empty());
}

#[test]
fn a_trespass_is_found() {
    let found = |path: &str, text: &str| File::new(path, text).trespasses().len();
    assert_eq!(found("pricing/book.rs", "println!(\"x\");"), 1);
    assert_eq!(found("pricing/book.rs", "let x: f64 = 1.0;"), 1);
    assert_eq!(found("system/files.rs", "use std::fs;"), 0);
    assert_eq!(found("main.rs", "std::env::args_os()"), 0);
    assert_eq!(found("command/price.rs", "std::env::args_os()"), 1);
    assert_eq!(found("pricing/book.rs", "let offs::x = 1; my_println!();"), 0);
}
