//! `hardlid tidy BOOK.lid…`

use super::{Ended, books, out};
use crate::notation;
use crate::problem::Problem;
use crate::problem::render::for_programs;
use crate::source::Text;
use crate::system::{Outside, STANDARD_INPUT};
use crate::workbook::carried::File;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid tidy house.lid\n  hardlid tidy --check rules/*.lid\n  hardlid tidy - < house.lid\n\n\
                        Space and line ends change, and nothing else: comments stay where they are, and the book means what it meant. \
                        A book that has mistakes is left as it is, and they are told.\n\n\
                        Exit 0: all are tidy now; 1: some books were left out, or --check found some that are not tidy; 2: none could be read."
)]
pub struct Arguments {
    /// The rule books; `-` reads standard input and prints the tidy book.
    #[arg(required = true, value_name = "BOOK.lid")]
    books: Vec<PathBuf>,
    /// Write nothing, and name the books that are not tidy, each with the first line that would change.
    #[arg(long)]
    check: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

/// What became of a book.
enum State {
    /// It was tidy.
    Tidy,
    /// It was written, or printed.
    Written(String),
    /// It is not tidy: the first line that would change, as it is and as it would be.
    Untidy(usize, String, String),
    /// It was left as it is.
    Left(Vec<Problem>),
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let mut told = Vec::new();
    let (mut left, mut untidy) = (0, 0);
    for path in &arguments.books {
        let state = one(path, arguments.check, outside);
        left += usize::from(matches!(state, State::Left(_)));
        untidy += usize::from(matches!(state, State::Untidy(..)));
        if arguments.json {
            told.push(for_a_program(path, &state));
        } else {
            for_a_person(path, &state);
        }
    }
    if arguments.json {
        out::value(&json!({ "books": told }));
    }
    match (left, untidy) {
        (0, 0) => Ended::Done,
        (left, _) if left == arguments.books.len() => Ended::Failed,
        _ => Ended::WithStops,
    }
}

/// Lays one book out, and writes it where it changed.
fn one(path: &Path, check: bool, outside: &dyn Outside) -> State {
    let piped = path == Path::new(STANDARD_INPUT);
    let (old, new) = match laid_out(path, piped, outside) {
        Ok(both) => both,
        Err(problems) => return State::Left(problems),
    };
    if check && old != new {
        let (line, was, is) = first_difference(&old, &new);
        return State::Untidy(line, was, is);
    }
    if piped && !check {
        return State::Written(new);
    }
    if old == new {
        return State::Tidy;
    }
    match outside.write_whole(path, new.as_bytes()) {
        Ok(()) => State::Written(new),
        Err(problem) => State::Left(vec![problem]),
    }
}

/// The text of a book, as it is and as it would be.
fn laid_out(path: &Path, piped: bool, outside: &dyn Outside) -> Result<(String, String), Vec<Problem>> {
    let (name, bytes) = if piped {
        ("standard input".to_owned(), outside.read_input(books::BOOK_LIMIT))
    } else {
        (books::file_name(path), outside.read(path, books::BOOK_LIMIT))
    };
    let file = File::new(&name, bytes.map_err(|p| vec![p])?);
    let old = file.text().map_err(|p| vec![p])?;
    let new = notation::tidy(&Text::new(name, old))?;
    Ok((old.to_owned(), new))
}

/// The first line that differs, counted from 1, in both texts.
fn first_difference(old: &str, new: &str) -> (usize, String, String) {
    let (mut a, mut b) = (old.split('\n'), new.split('\n'));
    let mut line = 1;
    loop {
        match (a.next(), b.next()) {
            (Some(was), Some(is)) if was == is => line += 1,
            (was, is) => return (line, was.unwrap_or("").to_owned(), is.unwrap_or("").to_owned()),
        }
    }
}

fn for_a_person(path: &Path, state: &State) {
    let name = path.display();
    match state {
        State::Tidy => out::line(&format!("{name}: tidy.")),
        State::Written(text) if path == Path::new(STANDARD_INPUT) => out::text(text),
        State::Written(_) => out::line(&format!("{name}: laid out.")),
        State::Untidy(line, was, is) => {
            out::line(&format!("{name}: not tidy, from line {line} on."));
            out::line(&format!("   is       {}", visible(was)));
            out::line(&format!("   would be {}", visible(is)));
        }
        State::Left(problems) => {
            out::problems(problems, false);
            let mistakes = out::counted(problems.len(), "mistake", "mistakes");
            out::warn(&format!("{name}: left as it is; {mistakes}."));
        }
    }
}

/// A line with what cannot be seen in it.
fn visible(line: &str) -> String {
    let spaces = line.len() - line.trim_end_matches([' ', '\t', '\r']).len();
    let (text, end) = line.split_at(line.len() - spaces);
    let end: String = end.chars().map(|c| if c == ' ' { '·' } else { '¬' }).collect();
    let marked = format!("{}{end}", text.replace('\t', "→   "));
    if marked.is_empty() { "(nothing)".to_owned() } else { marked }
}

fn for_a_program(path: &Path, state: &State) -> Value {
    let name = path.display().to_string();
    match state {
        State::Tidy => json!({ "book": name, "state": "tidy" }),
        State::Written(text) if path == Path::new(STANDARD_INPUT) => {
            json!({ "book": name, "state": "laid out", "text": text })
        }
        State::Written(_) => json!({ "book": name, "state": "laid out" }),
        State::Untidy(line, was, is) => {
            json!({ "book": name, "state": "not tidy", "line": line, "is": was, "would_be": is })
        }
        State::Left(problems) => {
            let all: Vec<Value> = problems.iter().map(for_programs).collect();
            json!({ "book": name, "state": "left as it is", "problems": all })
        }
    }
}
