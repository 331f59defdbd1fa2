//! Problems as a person and as a program read them.

use super::Problem;
use crate::source::{Place, Span, Text};
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::ops::Range;

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

/// Letters of a line that are shown where it is longer than that, before and behind the place that is spoken of.
const SHOWN_BEFORE: usize = 60;
const SHOWN_BEHIND: usize = 100;

/// The part of a line that is shown, from a byte to a byte: all of it, or what is about the place at byte `at` of the text.
fn shown_part(text: &str, line: Range<usize>, at: usize) -> Range<usize> {
    let source = text.get(line.clone()).unwrap_or("");
    let lead = source.len() - source.trim_start().len();
    let whole = line.start + lead..line.start + source.trim_end().len().max(lead);
    let letters = |part: &str| part.chars().count();
    if text.get(whole.clone()).map_or(0, letters) <= SHOWN_BEFORE + SHOWN_BEHIND {
        return whole;
    }
    let at = at.clamp(whole.start, whole.end);
    let before = text.get(whole.start..at).unwrap_or("").char_indices().rev().nth(SHOWN_BEFORE - 1);
    let behind = text.get(at..whole.end).unwrap_or("").char_indices().nth(SHOWN_BEHIND);
    before.map_or(whole.start, |(i, _)| whole.start + i)..behind.map_or(whole.end, |(i, _)| at + i)
}

fn book_place(out: &mut String, problem: &Problem, text: &Text, span: Span) {
    let line = text.line(span.start as usize);
    let range = text.line_range(line);
    let own = [super::Mark { span, says: String::new() }];
    let marks = if problem.marks.is_empty() { &own[..] } else { &problem.marks[..] };
    let first = marks.first().map_or(span, |m| m.span).start as usize;
    let part = shown_part(&text.text, range.clone(), first);
    let left = |cut: bool| if cut { "… " } else { "" };
    let source = text.text.get(range.clone()).unwrap_or("");
    let before = left(part.start > range.start + source.len() - source.trim_start().len());
    let behind = if part.end < range.start + source.trim_end().len() { " …" } else { "" };
    let head = format!("   {}, line {line}      {before}", text.name);
    let _ = writeln!(out, "{head}{}{behind}", one_line_of(text.text.get(part.clone()).unwrap_or("")));
    for mark in marks {
        let (start, end) = (mark.span.start as usize, (mark.span.end as usize).min(part.end));
        if start < part.start || start >= part.end.max(part.start + 1) {
            continue;
        }
        let before = text.text.get(part.start..start).map_or(0, |s| s.chars().count());
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

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Arc;

    fn told(line: &str, mark: &str) -> String {
        let text = Text::new("a.lid", &format!("book \"A\"\n    {line}  \nend\n"));
        let at = text.text.find(mark).unwrap_or_default();
        let problem = Problem::stop("a kind", "What.").in_book(&Arc::clone(&text), Span::new(at, at + mark.len()));
        for_people(&problem)
    }

    #[test]
    fn a_line_is_shown_with_its_part_marked() {
        let wanted = "What.\n   a.lid, line 2      a = b + 1\n                          ───\n";
        assert_eq!(told("a = b + 1", "b +"), wanted);
    }

    #[test]
    fn of_a_long_line_the_part_about_the_place_is_shown() {
        let line = format!("a = {}wrong{}", "1 + ".repeat(100), " + 2".repeat(100));
        let told = told(&line, "wrong");
        let shown: Vec<&str> = told.lines().collect();
        let of_line = shown[1].strip_prefix("   a.lid, line 2      ").unwrap_or_default();
        assert!(of_line.starts_with("… 1 + ") && of_line.ends_with(" …"), "{told}");
        assert_eq!(of_line.chars().count(), 2 + SHOWN_BEFORE + SHOWN_BEHIND + 2, "{told}");
        let at = |line: &str, part: &str| line.find(part).map(|at| line[..at].chars().count());
        assert_eq!(at(shown[1], "wrong"), at(shown[2], "─────"), "{told}");
        // at its very beginning nothing is left out before it
        let begins = self::told(&line, "a = 1");
        assert!(begins.contains("line 2      a = 1 + ") && begins.contains(" …\n"), "{begins}");
    }

    #[test]
    fn a_long_ring_is_told_by_its_ends() {
        let names: Vec<String> = (0..100).map(|n| format!("f{n}")).chain(["f0".to_owned()]).collect();
        let told = crate::problem::ring_of(&names, "needs");
        assert!(told.starts_with("f0 needs f1 needs") && told.ends_with("needs f99 needs f0"), "{told}");
        // six at each end of 101
        assert!(told.contains("f5 needs … (89 more) needs f95"), "{told}");
        assert_eq!(crate::problem::ring_of(&["a", "b", "a"], "uses"), "a uses b uses a");
    }
}
