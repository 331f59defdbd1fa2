//! How commands print.

use crate::problem::render::{for_people, for_programs};
use crate::problem::{Problem, Weight};
use serde_json::{Value, json};
use std::io::Write as _;

/// A line for people on standard output; a closed pipe ends printing in silence.
pub fn line(text: &str) {
    let _ = writeln!(anstream::stdout(), "{text}");
}

/// A text on standard output as it is.
pub fn text(text: &str) {
    let mut out = std::io::stdout().lock();
    let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
}

/// A line for people on standard error.
pub fn warn(text: &str) {
    let _ = writeln!(anstream::stderr(), "{text}");
}

/// A JSON value on standard output.
pub fn value(value: &Value) {
    line(&serde_json::to_string_pretty(value).unwrap_or_default());
}

/// Problems: on standard error for people, on standard output for programs.
pub fn problems(problems: &[Problem], as_json: bool) {
    if as_json {
        let all: Vec<Value> = problems.iter().map(for_programs).collect();
        value(&json!({ "problems": all }));
        return;
    }
    let mut err = anstream::stderr();
    for problem in problems {
        let lead = match problem.weight {
            Weight::Stop => "",
            Weight::Warning => "Warning: ",
            Weight::Note => "Note: ",
        };
        let _ = writeln!(err, "{lead}{}", for_people(problem));
    }
}

/// "1 room", "3 rooms", "1,204 rooms".
pub fn counted(n: usize, one: &str, many: &str) -> String {
    let digits = n.to_string();
    let mut text = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            text.push(',');
        }
        text.push(c);
    }
    format!("{text} {}", if n == 1 { one } else { many })
}
