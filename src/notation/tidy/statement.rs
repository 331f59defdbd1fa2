//! Statements, taken apart into what is laid out.

use super::doc::{Comment, Doc};
use super::tokens::{Part, Tokens, bracketed, folded};
use crate::notation::parse::unit_at;
use crate::notation::reader::{Grammar, P, Rule};
use pest::Parser as _;

/// Clauses in columns, then clauses that follow, then lines below.
#[derive(Debug, Default)]
pub(super) struct Row<'t> {
    /// A cell may have several clauses, and may have none.
    pub cells: Vec<Vec<Doc<'t>>>,
    /// What follows on the line.
    pub rest: Vec<Doc<'t>>,
    /// How it is shown, on the line where it fits.
    pub shown: Vec<Doc<'t>>,
    /// Notes and sources.
    pub below: Vec<Doc<'t>>,
}

/// A statement by how it is laid out.
#[derive(Debug)]
pub(super) enum Statement<'t> {
    /// The first line of a block, which cannot go on.
    Head(Vec<Doc<'t>>),
    /// Clauses, and notes below.
    Clauses(Row<'t>),
    /// An input column: name, type, headings, limits, what a blank is.
    Field(Row<'t>),
    /// Something bought or done: name, label, code, need.
    Item(Row<'t>),
    /// A formula: name, label; what it is; how it is shown.
    Formula(Row<'t>, Vec<Doc<'t>>),
    /// A check: its name; condition and outcome.
    Check(Row<'t>, Vec<Doc<'t>>),
    /// A definition: its head; what it works out.
    Define(Row<'t>, Vec<Doc<'t>>),
    /// Options: their head; a row for each.
    Options(Row<'t>, Vec<Row<'t>>),
    /// Cells of a table and the bars between them.
    Cells(Vec<Doc<'t>>),
    /// A row of an example, or what it shows.
    Example {
        /// Its first word.
        word: Vec<Doc<'t>>,
        /// Fields with values, or what is shown.
        parts: Vec<Doc<'t>>,
        /// Spaces between them.
        between: usize,
    },
}

/// Rules with their depth, and tokens: the meaning of a statement, without its spaces.
pub(super) type Reading = (Vec<(Rule, usize)>, Vec<String>);

/// What a statement was read as.
#[derive(Debug)]
pub(super) struct Taken<'t> {
    /// The statement.
    pub statement: Statement<'t>,
    /// Comments after its last token.
    pub left: Vec<Comment<'t>>,
    /// Its meaning.
    pub reading: Reading,
}

/// Takes a statement apart; `None` when the grammar does not take it.
pub(super) fn take(rule: Rule, text: &str) -> Option<Taken<'_>> {
    let pair = Grammar::parse(rule, text).ok()?.next()?;
    let mut rules = Vec::new();
    outline(&pair, 0, &mut rules);
    let mut tokens = Tokens::new(text);
    let statement = match rule {
        Rule::row_line => example_row(&mut tokens, pair),
        _ => by_rule(rule, tokens.parts(pair)),
    };
    let read = std::mem::take(&mut tokens.read);
    Some(Taken { statement, left: tokens.left(), reading: (rules, read) })
}

fn outline(pair: &P<'_>, depth: usize, out: &mut Vec<(Rule, usize)>) {
    out.push((pair.as_rule(), depth));
    for inner in pair.clone().into_inner() {
        outline(&inner, depth + 1, out);
    }
}

fn by_rule<'t>(rule: Rule, parts: Vec<Part<'t>>) -> Statement<'t> {
    match rule {
        Rule::rows_head | Rule::for_head | Rule::table_head | Rule::example_head => Statement::Head(heads(rule, parts)),
        Rule::book_line | Rule::units_line | Rule::use_line => {
            let rest = heads(rule, parts);
            Statement::Clauses(Row { rest, ..Row::default() })
        }
        Rule::field_line => Statement::Field(row(parts, &FIELD)),
        Rule::item_line => Statement::Item(row(parts, &ITEM)),
        Rule::formula_line | Rule::check_line | Rule::define_line => worked_out(rule, parts),
        Rule::options_line => options(parts),
        Rule::table_columns | Rule::table_row => Statement::Cells(parts.into_iter().map(|(_, doc)| doc).collect()),
        Rule::shows_line => {
            let mut docs = parts.into_iter().map(|(_, doc)| doc);
            Statement::Example { word: docs.next().into_iter().collect(), parts: docs.collect(), between: 3 }
        }
        _ => clauses(parts),
    }
}

/// Whether a clause stands on a line of its own below its statement.
fn is_below(rule: Option<Rule>) -> bool {
    matches!(rule, Some(Rule::note | Rule::source | Rule::accepted))
}

fn is_shown(rule: Option<Rule>) -> bool {
    matches!(rule, Some(Rule::shown_to | Rule::shown_in))
}

/// `rows rooms`, `from "Rooms"`: each word of the grammar begins a group.
fn heads<'t>(rule: Rule, parts: Vec<Part<'t>>) -> Vec<Doc<'t>> {
    let mut groups: Vec<Vec<Doc<'t>>> = Vec::new();
    let mut replaced = false;
    for (own, doc) in parts {
        let begins = match own {
            None => !replaced,
            Some(Rule::text) => rule == Rule::table_head,
            Some(Rule::word | Rule::rows_of) => false,
            _ => true,
        };
        replaced = matches!(own, Some(Rule::replace | Rule::rows_of));
        match groups.last_mut() {
            Some(group) if !begins => group.push(doc),
            _ => groups.push(vec![doc]),
        }
    }
    groups.into_iter().map(Doc::words).collect()
}

/// Which cell a clause stands in; clauses without one follow.
type Cells = (usize, fn(Rule) -> Option<usize>);

const FIELD: Cells = (5, |rule| {
    Some(match rule {
        Rule::word => 0,
        Rule::type_name => 1,
        Rule::heading => 2,
        Rule::key | Rule::above | Rule::below | Rule::at_least | Rule::at_most | Rule::from_to | Rule::one_of => 3,
        Rule::stock_of | Rule::may_be_blank | Rule::default => 4,
        _ => return None,
    })
});

const ITEM: Cells = (4, |rule| {
    Some(match rule {
        Rule::replace | Rule::item_word | Rule::word => 0,
        Rule::text => 1,
        Rule::code => 2,
        Rule::need | Rule::cut | Rule::lump => 3,
        _ => return None,
    })
});

/// Clauses into cells; one that comes later than is usual stays behind what it follows.
fn row<'t>(parts: Vec<Part<'t>>, (count, cell_of): &Cells) -> Row<'t> {
    let mut out = Row { cells: std::iter::repeat_with(Vec::new).take(*count).collect(), ..Row::default() };
    let mut at = 0;
    for (rule, doc) in parts {
        if is_below(rule) || !out.below.is_empty() || (!is_shown(rule) && !out.shown.is_empty()) {
            out.below.push(doc);
            continue;
        }
        if is_shown(rule) {
            out.shown.push(doc);
            continue;
        }
        at = at.max(rule.and_then(*cell_of).unwrap_or(*count));
        match out.cells.get_mut(at) {
            Some(cell) => cell.push(doc),
            None => out.rest.push(doc),
        }
    }
    if let Some(name) = out.cells.first_mut() {
        *name = vec![Doc::words(std::mem::take(name))];
    }
    out
}

/// `name … = body`, `check name condition else outcome`, `define name(…) type = body`.
fn worked_out<'t>(rule: Rule, parts: Vec<Part<'t>>) -> Statement<'t> {
    let (mut head, mut body) = (Vec::new(), Vec::new());
    let mut row = Row::default();
    let mut label = Vec::new();
    let mut after_body = false;
    for (own, doc) in parts {
        if is_below(own) || !row.below.is_empty() {
            row.below.push(doc);
            continue;
        }
        if is_shown(own) {
            row.shown.push(doc);
            continue;
        }
        let begins = own == Some(Rule::expr) || (own.is_none() && doc.is("="));
        after_body |= begins;
        if after_body {
            body.push(doc);
        } else if own == Some(Rule::text) {
            label.push(doc);
        } else {
            head.push(doc);
        }
    }
    match rule {
        Rule::define_line => {
            let name = head.iter().position(|d| d.is("(")).unwrap_or(1).saturating_sub(1);
            let mut call = head.split_off(name);
            let kind = call.pop();
            head.push(bracketed(call));
            head.extend(kind);
            row.cells = vec![vec![Doc::words(head)]];
            Statement::Define(row, body)
        }
        Rule::check_line => {
            let outcome = body.split_off(1.min(body.len()));
            body.push(Doc::words(outcome));
            row.cells = vec![vec![Doc::words(head)]];
            Statement::Check(row, body)
        }
        _ => {
            row.cells = vec![vec![Doc::words(head)], label];
            Statement::Formula(row, body)
        }
    }
}

fn clauses<'t>(parts: Vec<Part<'t>>) -> Statement<'t> {
    let mut row = Row::default();
    let mut words: Vec<Doc<'t>> = Vec::new();
    let mut head: Vec<Doc<'t>> = Vec::new();
    for (rule, doc) in parts {
        match rule {
            _ if is_below(rule) || !row.below.is_empty() => row.below.push(doc),
            // 'telling' has a list of names
            Some(Rule::word) => words.push(doc),
            None if doc.is(",") => words.push(doc),
            None | Some(Rule::replace) => head.push(doc),
            // what an alternate takes out belongs to what names it
            Some(Rule::deducting) if !row.rest.is_empty() => {
                let before = row.rest.pop();
                row.rest.push(Doc::Words(before.into_iter().chain([doc]).collect()));
            }
            Some(_) => row.rest.push(doc),
        }
    }
    row.rest.insert(0, Doc::words(head));
    if !words.is_empty() {
        row.rest.push(Doc::words(folded(words)));
    }
    Statement::Clauses(row)
}

fn options<'t>(parts: Vec<Part<'t>>) -> Statement<'t> {
    let mut row = Row::default();
    let mut head = Vec::new();
    let mut out: Vec<Row<'t>> = Vec::new();
    for (rule, doc) in parts {
        match (rule, doc) {
            (Some(Rule::option), doc) => out.push(option(doc)),
            (None, comma) if comma.is(",") => {
                let cells = out.last_mut().map(|o| &mut o.cells);
                if let Some(cell) = cells.and_then(|cells| cells.iter_mut().rev().find(|c| !c.is_empty())) {
                    let before = cell.pop();
                    cell.push(Doc::Tight(before.into_iter().chain([comma]).collect()));
                }
            }
            (_, doc) if !out.is_empty() => row.below.push(doc),
            (_, doc) => head.push(doc),
        }
    }
    row.cells = vec![vec![Doc::words(head)]];
    Statement::Options(row, out)
}

/// An option's name, label and condition, each in its cell.
fn option(doc: Doc<'_>) -> Row<'_> {
    let parts = match doc {
        Doc::Words(parts) => parts,
        only => vec![only],
    };
    let mut cells = vec![Vec::new(), Vec::new(), Vec::new()];
    for (i, part) in parts.into_iter().enumerate() {
        let label = matches!(&part, Doc::Token(token) if token.text.starts_with('"'));
        let cell = if i == 0 {
            0
        } else if label {
            1
        } else {
            2
        };
        cells[cell].push(part);
    }
    Row { cells, ..Row::default() }
}

fn example_row<'t>(tokens: &mut Tokens<'t>, pair: P<'t>) -> Statement<'t> {
    let values: Vec<P<'t>> = pair
        .clone()
        .into_inner()
        .filter(|p| p.as_rule() == Rule::row_part)
        .filter_map(|p| p.into_inner().next())
        .collect();
    let mut docs = tokens.parts(pair).into_iter().map(|(_, doc)| doc);
    let word = docs.next().into_iter().collect();
    let mut parts = Vec::new();
    let mut at = 0;
    while at < values.len() {
        let bare = values.get(at + 1).is_some_and(|v| {
            v.as_rule() == Rule::signed_bare && v.clone().into_inner().all(|p| p.as_rule() == Rule::decimal)
        });
        let take = if bare && unit_at(&values, at + 2).is_some() { 3 } else { 2 };
        parts.push(Doc::words(docs.by_ref().take(take).collect()));
        at += take;
    }
    Statement::Example { word, parts, between: 2 }
}
