//! What a rule of the grammar is called when speaking to a person.

use super::mended::{Wrong, place};
use super::reader::{Grammar, Rule};
use super::slips::begins_with;
use crate::problem::{Problem, nearest::nearest};
use crate::source::{Span, Text};
use pest::Parser as _;
use pest::error::{Error, ErrorVariant};
use std::sync::Arc;

/// What is said where nothing more may stand.
const ENDS: &str = "the end of the statement";

/// Words that begin a line in a block `for`, with the rule of each.
const LINES_IN_FOR: [(&str, Rule); 8] = [
    ("check", Rule::check_line),
    ("item", Rule::item_line),
    ("labor", Rule::item_line),
    ("options", Rule::options_line),
    ("cutting", Rule::cutting_line),
    ("telling", Rule::telling_line),
    ("dividing", Rule::dividing_line),
    ("buying", Rule::buying_line),
];

/// The word for a rule, where a person can know it by one. Rules without one are left out of messages.
fn word_for(rule: Rule) -> Option<&'static str> {
    Some(match rule {
        Rule::expr
        | Rule::either
        | Rule::both
        | Rule::negation
        | Rule::comparison
        | Rule::sum
        | Rule::product
        | Rule::unary
        | Rule::power
        | Rule::signed
        | Rule::signed_bare => "a value",
        Rule::word | Rule::name | Rule::label => "a name",
        Rule::text | Rule::note => "a text in quotes",
        Rule::type_name => "a type (length, area, count, text, percent, money, $/ft …)",
        Rule::add_sign | Rule::multiply_sign => "an operator (+ - * /)",
        Rule::compare => "a comparison (= < <= > >= is)",
        Rule::argument => "an argument (name: value)",
        Rule::unit => "a unit",
        Rule::outcome => "'stops', 'warns' or 'notes'",
        Rule::otherwise => "'otherwise'",
        Rule::more_choice => "', … otherwise'",
        Rule::heading => "'heading \"…\"'",
        Rule::key => "'key'",
        Rule::default => "'otherwise …'",
        Rule::match_how => "'exact', 'up to', 'from' or 'between'",
        Rule::column => "a column (name type, how it is matched)",
        Rule::table_cell => "a value",
        Rule::code => "'code …'",
        Rule::need => "'need …'",
        Rule::cut => "'cut …, each …'",
        Rule::factor => "'factor …'",
        Rule::at_height => "'height …'",
        Rule::at_difficulty => "'difficulty …'",
        Rule::stock_of => "'stock of \"…\"'",
        Rule::spliced => "'spliced …'",
        Rule::lap => "'lap …'",
        Rule::least_part => "'least …'",
        Rule::scrap => "'scrap …'",
        Rule::first_from => "'first from …'",
        Rule::charging => "'charging bought …'",
        Rule::parts_by => "'parts by …'",
        Rule::alternates_by => "'alternates by …'",
        Rule::deducting => "'deducting …'",
        Rule::deliveries_by => "'deliveries by …'",
        Rule::headings_by => "'headings by …'",
        Rule::codes_by => "'codes by …'",
        Rule::only_from => "'only from …'",
        Rule::cut_by => "'by …'",
        Rule::kerf => "'kerf …'",
        Rule::keep => "'keep …'",
        Rule::edition => "'edition \"…\"'",
        Rule::edition_from => "'from \"…\" to \"…\"'",
        Rule::edition_least => "'at least \"…\"'",
        Rule::edition_most => "'at most \"…\"'",
        Rule::from_sheet => "'from sheet \"…\" of \"…\"'",
        Rule::source => "'source …'",
        Rule::accepted => "'accepted \"…\"'",
        Rule::shown_to => "'shown to …'",
        Rule::belongs => "'belong to … by \"…\"'",
        Rule::parameter => "a parameter (name type)",
        Rule::expected => "what it should be",
        Rule::member => "a word of the list",
        Rule::option => "an option (name \"label\" only when …)",
        Rule::named_by => "'named by …'",
        Rule::showing => "'showing …'",
        Rule::EOI => ENDS,
        Rule::exponent => "a whole power",
        _ => return None,
    })
}

/// The problem for a statement that the grammar does not take.
pub(super) fn syntax_problem(
    text: &Arc<Text>,
    offset: usize,
    rule: Rule,
    statement: &str,
    error: &Error<Rule>,
) -> Problem {
    let at = place(&error.location).min(statement.len());
    let mended = || Wrong { rule, statement, at }.mended(text, offset);
    if let Some(problem) = misspelt(text, offset, rule, statement).or_else(mended) {
        return problem;
    }
    if let Some(open) = unclosed(statement)
        && statement[at..].trim().is_empty()
    {
        let span = Span::new(offset + open, offset + open + 1);
        return Problem::stop("bracket not closed", "This bracket is not closed.")
            .in_book(text, span)
            .fix("close it with ')' before the statement ends");
    }
    // the part from there to the next space, or the last character when the statement ends too soon
    let rest = &statement[at..];
    let found: String = rest.chars().take_while(|c| !c.is_whitespace()).take(24).collect();
    let back = statement[..at].trim_end();
    let last = back.char_indices().next_back().map_or(0, |(i, _)| i);
    let (start, end) = if found.is_empty() { (last, back.len()) } else { (at, at + found.len()) };
    let mut expected: Vec<&str> = match &error.variant {
        ErrorVariant::ParsingError { positives, .. } => positives.iter().filter_map(|r| word_for(*r)).collect(),
        ErrorVariant::CustomError { .. } => Vec::new(),
    };
    expected.sort_unstable();
    expected.dedup();
    let what = match (found.is_empty(), found.as_str()) {
        (true, _) => "This statement ends too soon.".to_owned(),
        (false, found) if found.starts_with('=') && !statement[..at].contains('=') => {
            "A value does not begin with '='.".to_owned()
        }
        (false, found) if found.starts_with('[') => {
            let asked = back.rsplit(|c: char| !(c.is_alphanumeric() || c == '_')).next().unwrap_or_default();
            let asked = if asked.is_empty() { "(…)".to_owned() } else { format!("{asked}(…)") };
            return Problem::stop("statement not understood", "Square brackets have no meaning in a book.")
                .in_book(text, Span::new(offset + start, offset + start + 1))
                .fix(format!("round ones: {asked}"));
        }
        (false, found) => format!("'{found}' cannot stand here."),
    };
    let problem =
        Problem::stop("statement not understood", what).in_book(text, Span::new(offset + start, offset + end));
    match expected.split_last() {
        None => problem,
        Some((&ENDS, [])) => problem.fix("take it out: the statement ends before it"),
        Some((only, [])) => problem.fix(format!("{only} here")),
        Some((last, others)) => problem.fix(format!("{} or {last} here", others.join(", "))),
    }
}

/// A line in a block whose first word is one slip away from the one by which it would be understood.
fn misspelt(text: &Arc<Text>, offset: usize, rule: Rule, statement: &str) -> Option<Problem> {
    let (lines, block): (&[(&str, Rule)], _) = match rule {
        Rule::formula_line => (&LINES_IN_FOR, "for"),
        Rule::row_line => (&[("shows", Rule::shows_line)], "example"),
        _ => return None,
    };
    let at = match statement.strip_prefix("replace") {
        Some(rest) if rest.starts_with(char::is_whitespace) => statement.len() - rest.trim_start().len(),
        _ => 0,
    };
    let word = begins_with(&statement[at..]);
    let near = nearest(word, lines.iter().map(|(word, _)| *word))?;
    let (_, meant) = lines.iter().find(|(word, _)| *word == near)?;
    let read = format!("{}{near}{}", &statement[..at], &statement[at + word.len()..]);
    Grammar::parse(*meant, &read).ok()?;
    let what = format!("A line of this block '{block}' does not begin with '{word}'.");
    let span = Span::new(offset + at, offset + at + word.len());
    Some(Problem::stop("statement not understood", what).in_book(text, span).fix(format!("'{near}'")))
}

/// Where the last bracket stands that is opened and not closed.
fn unclosed(statement: &str) -> Option<usize> {
    let mut open = Vec::new();
    let (mut in_text, mut before) = (false, ' ');
    for (at, c) in statement.char_indices() {
        match c {
            '"' if in_text => in_text = before == '\\',
            '"' => in_text = !before.is_ascii_digit(),
            '(' if !in_text => open.push(at),
            ')' if !in_text => {
                open.pop();
            }
            _ => {}
        }
        before = c;
    }
    open.pop()
}
