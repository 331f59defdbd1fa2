//! Problems as a person and as a program read them.

use super::Problem;
use crate::source::{Place, Span, Text};
use serde_json::{Value, json};
use std::fmt::Write as _;

/// How many places of one problem are shown before the rest is counted.
const PLACES_SHOWN: usize = 3;

/// The problem as plain text: sentence, place, the text with its parts marked, what would be right.
#[must_use]
pub fn for_people(problem: &Problem) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "{}", problem.what);
    for place in problem.places.iter().take(PLACES_SHOWN) {
        match place {
            Place::Book { text, span } => book_place(&mut out, problem, text, *span),
            Place::Cell(cell) => {
                let _ = write!(out, "   {cell}");
                match &problem.found {
                    Some(found) if problem.places.len() == 1 => {
                        let _ = writeln!(out, "   holds: {}", one_line(found));
                    }
                    _ => out.push('\n'),
                }
            }
            Place::File(file) => {
                let _ = writeln!(out, "   {file}");
            }
        }
    }
    if problem.places.len() > PLACES_SHOWN {
        let _ = writeln!(out, "   and {} more", problem.places.len() - PLACES_SHOWN);
    }
    for line in &problem.working {
        let _ = writeln!(out, "      {line}");
    }
    if let Some(fix) = &problem.fix {
        let _ = writeln!(out, "   Try: {fix}");
    }
    out
}

/// Control characters and long texts from a cell must not disturb a terminal.
fn one_line(text: &str) -> String {
    let clean: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).take(80).collect();
    if text.chars().count() > 80 { clean + " …" } else { clean }
}

fn book_place(out: &mut String, problem: &Problem, text: &Text, span: Span) {
    let line = text.line(span.start as usize);
    let range = text.line_range(line);
    let source = text.text.get(range.clone()).unwrap_or("");
    let lead = source.len() - source.trim_start().len();
    let head = format!("   {}, line {line}      ", text.name);
    let _ = writeln!(out, "{head}{}", one_line_of(source.trim()));
    let base = range.start + lead;
    let own = [super::Mark { span, says: String::new() }];
    let marks = if problem.marks.is_empty() { &own[..] } else { &problem.marks[..] };
    for mark in marks {
        let (start, end) = (mark.span.start as usize, (mark.span.end as usize).min(range.end));
        if start < base || start >= range.end.max(base + 1) {
            continue;
        }
        let before = text.text.get(base..start).map_or(0, |s| s.chars().count());
        let width = text.text.get(start..end).map_or(1, |s| s.chars().count()).max(1);
        let _ = write!(out, "{}{}", " ".repeat(head.chars().count() + before), "─".repeat(width));
        if !mark.says.is_empty() {
            let _ = write!(out, " {}", mark.says);
        }
        out.push('\n');
    }
}

fn one_line_of(source: &str) -> String {
    source.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// The problem as JSON.
#[must_use]
pub fn for_programs(problem: &Problem) -> Value {
    let places: Vec<Value> = problem.places.iter().map(place_for_programs).collect();
    json!({
        "kind": problem.kind,
        "weight": problem.weight.to_string(),
        "what": problem.what,
        "places": places,
        "found": problem.found,
        "working": problem.working,
        "fix": problem.fix,
    })
}

/// A place as JSON.
#[must_use]
pub fn place_for_programs(place: &Place) -> Value {
    match place {
        Place::Book { text, span } => {
            let line = text.line(span.start as usize);
            let start = text.line_range(line).start;
            let column = text.text.get(start..span.start as usize).map_or(1, |s| s.chars().count() + 1);
            json!({ "book": text.name, "line": line, "column": column,
                "text": text.text.get(span.range()).unwrap_or("") })
        }
        Place::Cell(cell) => json!({ "file": &*cell.file, "sheet": &*cell.sheet, "cell": cell.address() }),
        Place::File(file) => json!({ "file": &**file }),
    }
}
