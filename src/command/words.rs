//! `hardlid words [NAME]`

use super::{Ended, books, out};
use crate::notation::keywords;
use crate::problem::{Problem, nearest::alike, render::for_programs};
use crate::program::reference::page::page;
use crate::program::reference::textmate::textmate;
use crate::program::reference::{Family, Shown, Word, words};
use crate::system::Outside;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::PathBuf;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid words\n  hardlid words hanger_count\n  hardlid words psf\n  hardlid words check\n  \
                        hardlid words --rules house.lid offcut\n  hardlid words --page > REFERENCE.md\n  hardlid words --textmate > lid.tmLanguage.json\n\n\
                        A word of a statement, such as waste or 'only when', gets the statements that it stands in; a name that is not known gets those that look like it."
)]
pub struct Arguments {
    /// A function, table, unit, type or statement; or a column, formula, option, check, item or labor of the book.
    name: Option<String>,
    /// A rule book whose own words are listed as well.
    #[arg(long, value_name = "BOOK.lid")]
    rules: Option<PathBuf>,
    /// Print all of it as one page of Markdown.
    #[arg(long, conflicts_with_all = ["name", "json"])]
    page: bool,
    /// Print how an editor colors books, as a TextMate grammar.
    #[arg(long, conflicts_with_all = ["name", "json", "page"])]
    textmate: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let program = match books::program(arguments.rules.as_deref(), "hardlid ceilings", None, outside) {
        Ok((program, _)) => program,
        Err(problems) => return super::failed(&problems, arguments.json),
    };
    let words = words(&program);
    if arguments.page {
        out::text(&page(&words));
        return Ended::Done;
    }
    if arguments.textmate {
        out::value(&textmate(&words));
        return Ended::Done;
    }
    let Some(wanted) = &arguments.name else {
        // what the rows of the built-in books have is a book of its own: it is told when it is asked for by name
        let own = arguments.rules.is_some();
        let listed: Vec<&Word> = words.iter().filter(|w| !w.family.of_rows() || (own && w.uppermost)).collect();
        if arguments.json {
            out::value(&Value::Array(listed.into_iter().map(word_json).collect()));
        } else {
            list(&listed);
        }
        return Ended::Done;
    };
    let found: Vec<&Word> = words.iter().filter(|w| w.is_called(wanted)).collect();
    if found.is_empty() {
        return unknown(wanted, &words, arguments.json);
    }
    if arguments.json {
        out::value(&Value::Array(found.into_iter().map(word_json).collect()));
    } else {
        for (i, word) in found.into_iter().enumerate() {
            if i > 0 {
                out::line("");
            }
            explain(word);
        }
    }
    Ended::Done
}

/// How many words that look like an unknown one are told.
const ALIKE: usize = 6;

/// A name as the command line takes it.
fn quoted(name: &str) -> String {
    if name.contains(' ') { format!("\"{name}\"") } else { name.to_owned() }
}

/// Statements that a word stands in which is none by itself, such as 'waste' or 'only when'.
fn standing_in<'w>(wanted: &str, words: &'w [Word]) -> Vec<&'w Word> {
    let known: BTreeSet<&str> = keywords::lines().flat_map(|line| keywords::words_of(line, &[])).collect();
    let parts: Vec<&str> = wanted.split_whitespace().collect();
    if parts.is_empty() || !parts.iter().all(|part| known.contains(part)) {
        return Vec::new();
    }
    let letter = |c: char| c.is_alphanumeric() || c == '_';
    let stands = |text: &str| {
        let outside: Vec<&str> = text.split('"').step_by(2).collect();
        outside.iter().any(|part| {
            let all: Vec<&str> = part.split(|c: char| !letter(c)).filter(|w| !w.is_empty()).collect();
            all.windows(parts.len()).any(|some| some == parts)
        })
    };
    let statements = || words.iter().filter(|w| w.family == Family::Statements);
    // where it is written, else where it is told of; these are words of every sentence
    let of_sentences = ["and", "or", "not", "is", "of", "in", "to", "a"].contains(&wanted);
    let of = |holds: &dyn Fn(&Word) -> bool| statements().filter(|w| holds(w)).collect::<Vec<_>>();
    let ways =
        [of(&|w| stands(&w.form)), of(&|w| w.book.is_some_and(stands)), of(&|w| !of_sentences && stands(&w.summary))];
    ways.into_iter().find(|found| !found.is_empty()).unwrap_or_default()
}

fn unknown(wanted: &str, words: &[Word], as_json: bool) -> Ended {
    let statements = standing_in(wanted, words);
    if !statements.is_empty() {
        if as_json {
            out::value(&Value::Array(statements.into_iter().map(word_json).collect()));
            return Ended::Done;
        }
        out::line(&format!("'{wanted}' is a word of these statements:"));
        for word in &statements {
            out::line(&format!("\n{}", word.form));
            out::line(&format!("   {}", word.summary));
        }
        let names: Vec<String> = statements.iter().map(|w| format!("hardlid words {}", quoted(&w.name))).collect();
        out::line(&format!("\nMore, with a book that uses it: {}", names.join(", ")));
        return Ended::Done;
    }
    let near = alike(wanted, words.iter().flat_map(Word::names), ALIKE);
    let problem = Problem::stop("unknown name", format!("Nothing in the notation is called '{wanted}'."));
    let problem = match near.first() {
        Some(first) => problem.fix(format!("hardlid words {}", quoted(first))),
        None => problem.fix("hardlid words lists everything"),
    };
    if as_json {
        out::value(&json!({ "problems": [for_programs(&problem)], "alike": near }));
        return Ended::Failed;
    }
    out::problems(&[problem], false);
    if near.len() > 1 {
        out::warn("Alike:");
    }
    for name in near.iter().filter(|_| near.len() > 1) {
        let summary = words.iter().find(|w| w.is_called(name)).map_or("", |w| w.summary.as_str());
        out::warn(&format!("  {name:<24}  {summary}"));
    }
    Ended::Failed
}

fn list(words: &[&Word]) {
    let mut family = None;
    for word in words {
        if family != Some(word.family) {
            family = Some(word.family);
            out::line(&format!("\n{}", word.family.heading()));
        }
        let form = match word.family {
            Family::Units => word.names().collect::<Vec<_>>().join(", "),
            family if family.of_rows() => word.name.clone(),
            _ => word.form.lines().next().unwrap_or("").to_owned(),
        };
        if form.chars().count() <= 34 {
            out::line(&format!("  {form:<34}  {}", word.summary));
        } else {
            out::line(&format!("  {form}\n  {:<34}  {}", "", word.summary));
        }
    }
}

fn explain(word: &Word) {
    out::line(&word.form);
    let more = |text: &str| text.lines().for_each(|line| out::line(&format!("   {line}")));
    more(&word.summary);
    more(&word.details);
    for argument in &word.takes {
        let left_out = match argument.left_out.as_deref() {
            None => String::new(),
            Some("") => "; may be left out".to_owned(),
            Some(default) => format!("; {default} when left out"),
        };
        more(&format!("takes {}: {}{left_out}", argument.name, argument.takes));
    }
    if !word.gives.is_empty() {
        more(&format!("gives {}", word.gives));
    }
    if let Some(source) = &word.source {
        more(&format!("Source: {source}"));
    }
    if let Some((book, line)) = &word.stated {
        more(&format!("Stated in {book}, line {line}"));
    }
    for example in &word.examples {
        more(&shown(example));
    }
    if let Some((expression, why)) = &word.refused {
        more(&format!("{expression}  is refused: “{why}”"));
    }
    if let Some(book) = word.book {
        out::line("");
        more(book);
    }
}

fn shown(example: &Shown) -> String {
    let within = example.within.as_ref().map(|name| format!("  in the example “{name}”")).unwrap_or_default();
    format!("{}  gives  {}{within}", example.expression, example.gives)
}

fn word_json(word: &Word) -> Value {
    let examples: Vec<Value> = word
        .examples
        .iter()
        .map(|e| json!({ "expression": e.expression, "gives": e.gives, "within": e.within }))
        .collect();
    let takes: Vec<Value> = word
        .takes
        .iter()
        .map(|a| json!({ "name": a.name, "takes": a.takes, "optional": a.left_out.is_some(), "otherwise": a.left_out.as_ref().filter(|d| !d.is_empty()) }))
        .collect();
    let names: Vec<&str> = word.names().collect();
    json!({ "name": word.name, "names": names, "family": word.family.heading(), "form": word.form, "summary": word.summary,
        "details": word.details, "takes": takes, "gives": word.gives, "source": word.source,
        "book": word.stated.as_ref().map(|(book, _)| book), "line": word.stated.as_ref().map(|(_, line)| line),
        "since": word.since, "examples": examples,
        "refused": word.refused.as_ref().map(|(e, why)| json!({ "expression": e, "why": why })), "in_a_book": word.book })
}
