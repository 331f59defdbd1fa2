//! `grammar/GUIDE.md`: every book in it is read, every command in it is run, and what it prints is what the guide shows.
//!
//! A fence `lid FILE PART` is a part of a book: a new one goes to the foot of the file, one that was there is replaced. A line
//! `Sheet *NAME* of FILE:` stands before a table, which is that sheet. A fence `text` holds commands after `$`, each with what
//! it prints. Where a command is to print something else, this writes it into the guide; read it then, all of it:
//! `cargo test --test commands -- --ignored the_guide_is_written_anew`.

use super::common::workbook_of;
use super::{PRICES, hardlid};
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;
use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

const GUIDE: &str = include_str!("../../grammar/GUIDE.md");

/// A book as it grows: its parts by name, in the order in which they came.
type Book = Vec<(String, String)>;
/// A sheet: its rows of cells.
type Rows = Vec<Vec<String>>;

/// A piece of the guide: what it has a reader do, or only read.
enum Piece {
    Words(String),
    Part { file: String, part: String, text: String },
    Sheet { file: String, name: String, rows: Rows },
    Run { commands: Vec<(String, String)> },
}

fn pieces() -> Vec<Piece> {
    let guide = GUIDE.replace("\r\n", "\n");
    let mut lines = guide.lines().peekable();
    let mut out = Vec::new();
    while let Some(line) = lines.next() {
        out.push(if let Some(kind) = line.strip_prefix("```") {
            let inside: Vec<&str> = lines.by_ref().take_while(|l| *l != "```").collect();
            match kind.split(' ').collect::<Vec<_>>()[..] {
                ["lid", file, part] => Piece::Part { file: file.into(), part: part.into(), text: inside.join("\n") },
                ["text"] => Piece::Run { commands: commands(&inside) },
                _ => panic!("no such fence: {kind}"),
            }
        } else if let Some((name, file)) = line.strip_prefix("Sheet *").and_then(|l| l.split_once("* of `")) {
            assert_eq!(lines.next(), Some(""));
            let rows = std::iter::from_fn(|| lines.next_if(|l| l.starts_with('|')));
            let cells = |row: &str| row.trim_matches('|').split('|').map(|c| c.trim().to_owned()).collect();
            Piece::Sheet {
                file: file.trim_end_matches("`:").into(),
                name: name.into(),
                rows: rows.map(cells).collect(),
            }
        } else {
            Piece::Words(line.to_owned())
        });
    }
    out
}

/// Commands of a fence, each with what it prints.
fn commands(lines: &[&str]) -> Vec<(String, String)> {
    let mut out: Vec<(String, String)> = Vec::new();
    for line in lines {
        match line.strip_prefix("$ ") {
            Some(command) => out.push((command.to_owned(), String::new())),
            None => out.last_mut().unwrap().1.extend([line, "\n"]),
        }
    }
    out
}

/// The words of a command as a shell parts them: by spaces, but for what stands in quotes; `\"` is a quote itself.
fn words(command: &str) -> Vec<String> {
    let mut out = vec![String::new()];
    let (mut quoted, mut chars) = (false, command.chars());
    while let Some(c) = chars.next() {
        match c {
            '"' => quoted = !quoted,
            ' ' if !quoted => out.push(String::new()),
            '\\' => out.last_mut().unwrap().push(chars.next().unwrap()),
            '$' | '`' | '!' if quoted => panic!("a shell would read more into {command}"),
            _ => out.last_mut().unwrap().push(c),
        }
    }
    out
}

/// What a command prints in a folder, problems first.
fn printed(folder: &Path, command: &str) -> String {
    let words = words(command);
    assert_eq!(words[0], "hardlid", "{command}");
    let ran = Command::new(env!("CARGO_BIN_EXE_hardlid")).args(&words[1..]).current_dir(folder).output().unwrap();
    let told = String::from_utf8([ran.stderr, ran.stdout].concat()).unwrap();
    told.trim_end().to_owned() + "\n"
}

/// Puts a part into a book.
fn put(book: &mut Book, part: &str, text: &str) {
    match book.iter_mut().find(|(name, _)| name == part) {
        Some((_, there)) => text.clone_into(there),
        None => book.push((part.to_owned(), text.to_owned())),
    }
}

fn text_of(book: &Book) -> String {
    let parts: Vec<&str> = book.iter().map(|(_, text)| text.as_str()).collect();
    parts.join("\n\n") + "\n"
}

/// The guide, its steps done by a reader and what the commands then print in it.
fn done_by_a_reader() -> String {
    use std::fmt::Write as _;
    let folder = tempfile::tempdir().unwrap();
    let path = |file: &str| folder.path().join(file);
    std::fs::write(path("demo-prices.xlsx"), PRICES).unwrap();
    let mut books: BTreeMap<String, Book> = BTreeMap::new();
    let mut workbooks: BTreeMap<String, Vec<(String, Rows)>> = BTreeMap::new();
    let mut out = String::new();
    for piece in pieces() {
        match piece {
            Piece::Words(line) => out.extend([&line, "\n"]),
            Piece::Part { file, part, text } => {
                let book = books.entry(file.clone()).or_default();
                put(book, &part, &text);
                std::fs::write(path(&file), text_of(book)).unwrap();
                let _ = write!(out, "```lid {file} {part}\n{text}\n```\n");
            }
            Piece::Sheet { file, name, rows } => {
                let _ = write!(out, "Sheet *{name}* of `{file}`:\n\n");
                for row in &rows {
                    let cells: Vec<String> = row.iter().map(|c| format!(" {c}")).collect();
                    let cells: Vec<&str> = cells.iter().map(|c| c.trim_end()).collect();
                    let _ = writeln!(out, "|{} |", cells.join(" |"));
                }
                let sheets = workbooks.entry(file.clone()).or_default();
                let held = rows.into_iter().filter(|r| r.iter().any(|c| c != "---")).collect();
                sheets.push((name, held));
                let named: Vec<(&str, &Rows)> = sheets.iter().map(|(n, r)| (n.as_str(), r)).collect();
                std::fs::write(path(&file), workbook_of(&named)).unwrap();
            }
            Piece::Run { commands } => {
                out.push_str("```text\n");
                for (command, _) in commands {
                    let _ = write!(out, "$ {command}\n{}", printed(folder.path(), &command));
                }
                out.push_str("```\n");
            }
        }
    }
    out
}

#[test]
fn every_command_prints_what_the_guide_shows() {
    let (done, stored) = (done_by_a_reader(), GUIDE.replace("\r\n", "\n"));
    for (i, (is, shown)) in done.lines().zip(stored.lines()).enumerate() {
        assert_eq!(is, shown, "line {} of the guide shows something else", i + 1);
    }
    assert_eq!(done.lines().count(), stored.lines().count());
}

#[test]
#[ignore = "writes what commands print into the guide"]
fn the_guide_is_written_anew() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/GUIDE.md");
    std::fs::write(path, done_by_a_reader()).unwrap();
}

/// Ten steps, each with a part of a book and with commands, and every command with what it prints.
#[test]
fn each_step_shows_what_to_type_and_what_comes_out() {
    let mut steps: Vec<(usize, usize)> = Vec::new();
    for piece in pieces() {
        match piece {
            Piece::Words(line) if line.starts_with("## ") => {
                steps.push((0, 0));
                let number = format!("## {}. ", steps.len());
                assert!(line.starts_with(&number) || line == "## After the ten", "{line}");
            }
            Piece::Part { .. } => steps.last_mut().unwrap().0 += 1,
            Piece::Run { commands } => {
                assert!(commands.iter().all(|(_, prints)| !prints.is_empty()));
                steps.last_mut().unwrap().1 += commands.len();
            }
            _ => {}
        }
    }
    assert_eq!(steps.len(), 11);
    assert!(steps[..10].iter().all(|(parts, runs)| *parts > 0 && *runs > 0), "{steps:?}");
}

/// Wherever a command is run, the books as they stand are sound, tidy and hold what their examples say.
#[test]
fn every_book_is_sound_and_tidy() {
    let mut books: BTreeMap<String, Book> = BTreeMap::new();
    let mut seen = 0;
    for piece in pieces() {
        match piece {
            Piece::Part { file, part, text } => put(books.entry(file).or_default(), &part, &text),
            Piece::Run { .. } => {
                for (file, book) in &books {
                    let machine = Memory::new(Date::constant(2026, 3, 2)).with(file, text_of(book));
                    assert_eq!(hardlid(&machine, &format!("tidy --check {file}")), Ended::Done, "{}", text_of(book));
                    assert_eq!(hardlid(&machine, &format!("try {file}")), Ended::Done, "{}", text_of(book));
                    seen += 1;
                }
            }
            _ => {}
        }
    }
    assert!(seen >= 14, "{seen}");
}

/// The totals that the guide shows, worked by hand.
#[test]
fn the_totals_are_those_of_a_pencil() {
    // Step 8. A framer costs $40 and 25%, $50 an hour; a foot of tee takes .02 hr, $1.00, a foot of strongback .03 hr, $1.50.
    // 101, 8 x 5 ft, 9 ft high: factor 1.05. 4 spaces of 24 in., 3 tees of 5 ft: 15 ft x $.60 = $9.00; 40 sf and 15% = 46 sf x
    // $.50 = $23.00; 15 x $1.05 = $15.75. $47.75, and .315 hr.
    // 102, 20 x 8 ft, 10 ft high: factor 1.1. Straight, 8 ft is over 7'-6", so 16 in.: 15 spaces, 14 tees, 112 ft: $67.20, and
    // $123.20 of labor. Over a strongback 4 ft, so 24 in.: 9 tees, 72 ft: $43.20 and $79.20; 20 ft of strongback: $18.00 and
    // $33.00. That is $173.40 against $190.40, $17.00 less. Board: 160 sf and 10% = 176 sf, $88.00. $261.40; 2.244 hr.
    // 103, 14 x 9 ft: factor 1.05. Straight is stopped. Over a strongback 4'-6", so 24 in.: 7 spaces, 6 tees, 54 ft: $32.40 and
    // $56.70; 14 ft of strongback: $12.60 and $22.05; board 126 sf and 10% = 138.6 sf, $69.30. $193.05; 1.575 hr.
    // The foreman is $200, travel $150.
    let direct = 4_775 + 26_140 + 19_305 + 20_000 + 15_000;
    assert_eq!(direct, 85_220);
    // 10% is $85.22; 8% of $937.42 is $74.9936
    assert_eq!(direct + 8_522 + 7_499, 101_241);
    // Step 9, 12 x 7 ft, at the demo's prices: 5 tees of 6'-11 7/8", 34.948 ft x .55 = 19.22; tabbed angle 24 ft x .59 = 14.16;
    // plain angle 14 ft x .385 = 5.39; walls 2 x 10 and 2 x 7 screws x .0148 = .50; two sheets, 96 sf x .412 = 39.55; screws in
    // 7 lines, 5 in the row of 4 ft and 4 in that of 3 ft, 63 x .0124 = .78; tape 12 + 38 = 50 ft x .0085 = .43; compound
    // 50 x 5/380 gal x 3.80 = 2.50.
    let material = 1_922 + 1_416 + 539 + 50 + 3_955 + 78 + 43 + 250;
    assert_eq!(material, 8_253);
    // tees 34.948 ft x .011 hr x 54.67 = 21.02; board 84 sf x .017 hr x 50.40 = 71.97
    let labor = 2_102 + 7_197;
    // freight 2% of material 1.6506; tax 7% of it 5.7771
    let direct = material + labor + 165 + 578;
    assert_eq!(direct, 18_295);
    // overhead 10% 18.295, profit 8% of 201.25 = 16.10; a small job bears 150.00
    assert_eq!((direct + 1_830, direct + 1_830 + 1_610 + 15_000), (20_125, 36_735));
    let shown = [" $47.75   0.32\n", "$17.00 dearer\n", "$261.40   2.24\n", "$193.05   1.58\n", "\nTotal $1,012.41\n"];
    for shown in shown.into_iter().chain(["$201.25 + $16.10 +", "\nTotal $367.35\n"]) {
        assert!(GUIDE.replace("\r\n", "\n").contains(shown), "{shown}");
    }
}
