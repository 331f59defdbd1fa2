//! Functions as they are called elsewhere, in sheets and in programming languages: what is written for them here.

use super::builtin;
use super::library::BUILT_IN;

/// What does the work of a function that the notation has under another name or as other words; its arguments as written.
pub(super) fn instead(name: &str, arguments: &[String]) -> Option<String> {
    let all = arguments.join(", ");
    let folded = name.to_lowercase();
    let called = |own: &str| builtin::named(own).map(|own| format!("{}({all})", own.name));
    match (folded.as_str(), arguments) {
        ("sqrt" | "sqr" | "root", _) => called("square_root"),
        ("cbrt", _) => called("cube_root"),
        ("max" | "maximum" | "greater" | "greatest" | "larger" | "largest", [_, _, ..]) => called("longer"),
        ("min" | "minimum" | "lesser" | "smaller" | "smallest", [_, _, ..]) => called("shorter"),
        ("ceil" | "ceiling" | "roundup", [x]) => Some(format!("round_up({x})")),
        ("floor" | "int" | "trunc" | "rounddown", [x]) => Some(format!("round_down({x})")),
        ("round" | "nearest", [x]) => Some(format!("round_near({x})")),
        ("ceiling" | "floor" | "mround", [x, to]) => {
            let own = if folded == "ceiling" { "round_up" } else { "round_down" };
            Some(format!("{}({x}, to: {to})", if folded == "mround" { "round_near" } else { own }))
        }
        ("round" | "roundup" | "rounddown", [x, ..]) => {
            let own = match folded.as_str() {
                "roundup" => "round_up",
                "rounddown" => "round_down",
                _ => "round_near",
            };
            Some(format!("{own}({x}, to: …), with the step"))
        }
        ("even", [x]) => Some(format!("round_even({x})")),
        ("abs" | "absolute", [x]) => Some(format!("longer({x}, -({x}))")),
        ("pow" | "power", [x, to]) => Some(format!("({x})^{to}")),
        ("if" | "iif", [condition, yes, no]) => Some(format!("({yes} when {condition}, {no} otherwise)")),
        ("if" | "iif" | "ifs" | "switch", _) => Some("… when …, … otherwise".to_owned()),
        ("and", [_, _, ..]) => Some(format!("({})", arguments.join(" and "))),
        ("or", [_, _, ..]) => Some(format!("({})", arguments.join(" or "))),
        ("isblank", [x]) => Some(format!("{x} is not given")),
        ("average" | "mean", _) => Some("sum of rooms (…) / count of rooms".to_owned()),
        // each with a condition too, or several
        (name, _) if conditional(name) == "sum" => Some("sum of rooms (…), with 'where …' for a condition".to_owned()),
        (name, _) if conditional(name) == "count" => Some("count of rooms, with 'where …' for a condition".to_owned()),
        // in columns, in rows or in both
        (name, _) if name == "index" || name.ends_with("lookup") => {
            Some("a table, which is called by its name".to_owned())
        }
        _ => None,
    }
}

/// The name of a function without the ending that says that it takes conditions.
fn conditional(name: &str) -> &str {
    name.strip_suffix("ifs").or_else(|| name.strip_suffix("if")).unwrap_or(name)
}

/// The built-in book that declares a function or a table of this name.
pub(super) fn built_in_with(name: &str) -> Option<&'static str> {
    let declares = |line: &str| {
        let rest = line.strip_prefix("define ").or_else(|| line.strip_prefix("table "));
        rest.and_then(|rest| rest.strip_prefix(name)).is_some_and(|rest| rest.starts_with(['(', ' ']))
    };
    BUILT_IN.iter().find(|book| book.text.lines().any(declares)).map(|book| book.name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn functions_of_elsewhere_are_told_as_they_are_here() {
        let told = |name: &str, arguments: &[&str]| {
            instead(name, &arguments.iter().map(|a| (*a).to_owned()).collect::<Vec<_>>())
        };
        assert_eq!(told("sqrt", &["x"]).as_deref(), Some("square_root(x)"));
        assert_eq!(told("MAX", &["a", "b"]).as_deref(), Some("longer(a, b)"));
        assert_eq!(told("if", &["a > b", "1", "2"]).as_deref(), Some("(1 when a > b, 2 otherwise)"));
        let counted = told("countif", &["a", "b"]);
        assert_eq!(counted.as_deref(), Some("count of rooms, with 'where …' for a condition"));
        assert_eq!(told("lookup", &["a"]).as_deref(), Some("a table, which is called by its name"));
        assert_eq!(told("zebra", &["a"]), None);
    }

    #[test]
    fn a_built_in_book_is_named_for_what_it_has() {
        assert_eq!(built_in_with("tee_count"), Some("hardlid trade"));
        assert_eq!(built_in_with("tested_span"), Some("hardlid trade"));
        assert_eq!(built_in_with("board_framing"), Some("hardlid board"));
        assert_eq!(built_in_with("max"), None);
    }
}
