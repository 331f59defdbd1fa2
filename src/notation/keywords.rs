//! The words of the notation, out of the grammar itself: where each may stand is stated there and nowhere else.

use std::collections::BTreeSet;

/// The grammar as it is written.
const GRAMMAR: &str = include_str!("../../grammar/notation.pest");

/// Rules of which no word belongs to what refers to them: what a word may not be, where a word ends, names, texts, units.
const APART: &[&str] = &["stop", "end_of", "word", "text", "type_name", "unit", "suffix", "signed", "literal"];

/// A part of a rule's body.
enum Part<'g> {
    /// A name of another rule; whether it is only looked ahead for, and must not come.
    Rule(&'g str, bool),
    /// A text that stands in a book as it is.
    Text(&'g str),
}

/// Names of the rules that read a whole statement or line of a block.
pub fn lines() -> impl Iterator<Item = &'static str> {
    GRAMMAR.lines().filter_map(|line| line.split_once("= { SOI ~")).map(|(name, _)| name.trim())
}

/// The words that a rule states, itself and by the rules that it refers to, but for those of some rules.
#[must_use]
pub fn words_of(rule: &str, without: &[&str]) -> BTreeSet<&'static str> {
    let mut out = BTreeSet::new();
    let mut seen: BTreeSet<&str> = without.iter().chain(APART).copied().chain([rule]).collect();
    let mut open = vec![rule];
    while let Some(name) = open.pop() {
        for part in parts(body(name)) {
            match part {
                Part::Rule(name, false) if seen.insert(name) => open.push(name),
                Part::Text(text) if is_word(text) => drop(out.insert(text)),
                _ => {}
            }
        }
    }
    out
}

/// The words with which a statement begins: those of the first part of its rule, past 'replace' and 'rows of'.
#[must_use]
pub fn first_words_of(line: &str) -> BTreeSet<&'static str> {
    let rule = |part: Part<'static>| match part {
        Part::Rule("SOI" | "replace" | "rows_of", _) => None,
        Part::Rule(name, _) => Some(name),
        Part::Text(_) => None,
    };
    parts(body(line)).into_iter().find_map(rule).map(|first| words_of(first, &[])).unwrap_or_default()
}

fn is_word(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_lowercase())
}

/// What stands between the braces of a rule; nothing for one that the grammar does not state.
fn body(name: &str) -> &'static str {
    let states = |line: &&str| line.split_once('=').is_some_and(|(n, rest)| n.trim() == name && rest.contains('{'));
    let Some(line) = GRAMMAR.lines().find(states) else { return "" };
    let from = line.as_ptr().addr() - GRAMMAR.as_ptr().addr();
    let rest = &GRAMMAR[from..];
    let open = rest.find('{').unwrap_or(rest.len());
    let (mut depth, mut quoted, mut before) = (0usize, false, ' ');
    for (at, c) in rest[open..].char_indices() {
        match c {
            '"' if before != '\\' => quoted = !quoted,
            '{' if !quoted => depth += 1,
            '}' if !quoted => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return &rest[open + 1..open + at];
        }
        before = if before == '\\' && c == '\\' { ' ' } else { c };
    }
    ""
}

fn parts(body: &str) -> Vec<Part<'_>> {
    let mut out = Vec::new();
    let mut rest = body;
    let mut never = false;
    while let Some(c) = rest.chars().next() {
        if c == '"' {
            let mut chars = rest.char_indices().skip(1);
            let mut end = rest.len();
            while let Some((at, c)) = chars.next() {
                match c {
                    '\\' => drop(chars.next()),
                    '"' => {
                        end = at;
                        break;
                    }
                    _ => {}
                }
            }
            out.push(Part::Text(&rest[1..end]));
            rest = rest.get(end + 1..).unwrap_or("");
        } else if c.is_ascii_alphabetic() || c == '_' {
            let end = rest.find(|c: char| !c.is_ascii_alphanumeric() && c != '_').unwrap_or(rest.len());
            out.push(Part::Rule(&rest[..end], never));
            rest = &rest[end..];
        } else {
            never = if c == '!' { true } else { never && c.is_whitespace() };
            rest = &rest[c.len_utf8()..];
            continue;
        }
        never = false;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(rule: &str, without: &[&str]) -> Vec<&'static str> {
        words_of(rule, without).into_iter().collect()
    }

    /// By reading the grammar.
    #[test]
    fn words_are_those_of_the_rule_and_of_what_it_refers_to() {
        assert_eq!(all("spliced", &["either"]), ["lap", "least", "scrap", "spliced"]);
        assert_eq!(all("heading", &[]), ["heading", "or"]);
        assert_eq!(all("outcome", &[]), ["notes", "stops", "warns"]);
        assert_eq!(all("how", &[]), ["all", "any", "count", "least", "most", "sum"]);
        // 'each' is only looked ahead for, so that no choice takes it
        assert_eq!(
            all("expr", &["how"]),
            ["and", "given", "is", "not", "of", "one", "or", "otherwise", "when", "where"]
        );
        assert!(all("no_such_rule", &[]).is_empty());
    }

    #[test]
    fn a_statement_begins_with_its_word() {
        for (line, first) in
            [("book_line", "book"), ("define_line", "define"), ("cutting_line", "cutting"), ("shows_line", "shows")]
        {
            assert_eq!(first_words_of(line).into_iter().collect::<Vec<_>>(), [first]);
        }
        assert_eq!(first_words_of("item_line").into_iter().collect::<Vec<_>>(), ["item", "labor"]);
        assert!(first_words_of("formula_line").is_empty());
        assert!(lines().any(|l| l == "check_line") && lines().count() > 20);
    }
}
