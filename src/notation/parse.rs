//! A whole book: its sections one by one into the tree.

use super::reader::{P, Reader, Rule, too_deep, unquote};
use super::slips::{KNOWN, begins_with, is_read};
use super::split::{MOST_PROBLEMS, Section, split};
use super::tree::{
    Accepted, Book, BuyingLine, CheckLine, CuttingLine, Define, DividingLine, Editions, Example, ExampleRow,
    ExampleShows, Expr, FieldClause, FieldLine, ForLine, Formula, FromSheet, ItemLine, LineKind, Literal, Match, Name,
    NeedClause, Node, OptionPart, OptionsLine, Outcome, Parameter, Part, Replaces, RowsBlock, Shown, SpliceClause,
    TableBlock, TableColumn, TableRow, TellingLine, TypeName, UseLine,
};
use crate::problem::{Problem, in_source_order, nearest::nearest};
use crate::quantity::Unit;
use crate::source::{Span, Text};
use std::ops::Range;
use std::sync::Arc;

/// Reads a book: a tree of all that was understood, and every mistake, in source order.
#[must_use]
pub fn read_book(text: &Arc<Text>) -> (Book, Vec<Problem>) {
    let (sections, mut problems) = split(text);
    let mut reader = Reader::new(text);
    let mut book = Book {
        text: Arc::clone(text),
        title: text.name.clone(),
        edition: String::new(),
        head: Span::default(),
        metric: false,
        parts: Arc::default(),
        unread: Vec::new(),
        lacking: false,
    };
    for section in &sections {
        read_section(&mut reader, &mut book, section);
        if reader.problems.len() + problems.len() >= MOST_PROBLEMS {
            break;
        }
    }
    for word in ["book", "units"] {
        let mut lines = sections.iter().filter(|s| s.word == word && s.body.is_none());
        let Some(first) = lines.next() else { continue };
        for again in lines {
            let what = format!("There is a line '{word}' already: line {}.", text.line(first.head.start));
            let span = Span::new(again.head.start, again.head.end);
            reader.problem(span, "statement given twice", what, "take one of the two out");
        }
    }
    problems.append(&mut reader.problems);
    if problems.len() >= MOST_PROBLEMS {
        let what = "This book has more mistakes than are told: what comes after them was not read.";
        problems.push(
            Problem::stop("too many mistakes", what)
                .in_file(text.name.as_str())
                .fix("a rule book, which other files seldom are"),
        );
    }
    book.unread = reader.unread;
    in_source_order(&mut problems);
    (book, problems)
}

/// Reads one expression alone.
///
/// # Errors
/// What is wrong with it.
pub fn read_expression(text: &Arc<Text>) -> Result<Expr, Vec<Problem>> {
    let trimmed = text.text.trim_end().len();
    read_expression_at(text, &(0..trimmed))
}

/// Reads an expression that stands in a larger text.
///
/// # Errors
/// What is wrong with it.
pub fn read_expression_at(text: &Arc<Text>, range: &Range<usize>) -> Result<Expr, Vec<Problem>> {
    let mut reader = Reader::new(text);
    let slice = text.text.get(range.clone()).unwrap_or("");
    if slice.len() > 16 * 1024 || too_deep(slice) {
        let what = "This expression is too long or its brackets stand too deep.";
        return Err(vec![
            Problem::stop("statement too large", what)
                .in_book(text, Span::new(range.start, range.start + first_char(slice))),
        ]);
    }
    if slice.trim().is_empty() {
        return Err(vec![
            Problem::stop("statement not understood", "There is nothing to work out.")
                .fix("an expression such as 10'-6\" * 3"),
        ]);
    }
    let expr = reader.statement(Rule::expr_line, range).and_then(|p| p.into_inner().next()).map(|p| reader.expr(p));
    match expr {
        Some(expr) if reader.problems.is_empty() => Ok(expr),
        _ => Err(reader.problems),
    }
}

/// How many bytes the first character of a text takes.
fn first_char(text: &str) -> usize {
    text.chars().next().map_or(0, char::len_utf8)
}

fn read_section<'b>(reader: &mut Reader<'b>, book: &mut Book, section: &'b Section) {
    if let Some((slip, read)) = section.slip.as_ref().filter(|_| !section.head.is_empty()) {
        let start = section.head.start;
        let span = Span::new(start + slip.at.start, start + slip.at.end);
        reader.problem(span, "unknown statement", &slip.what, &slip.fix);
        if !is_read(read) {
            // it was meant otherwise: nothing is said of the lines below
            return reader.lost(section);
        }
    }
    let part = match (section.word.as_str(), &section.body) {
        ("rows", Some(body)) => rows_block(reader, section, body).map(Part::Rows),
        ("for", Some(body)) => for_block(reader, section, body),
        ("table", Some(body)) => table_block(reader, section, body).map(Part::Table),
        ("example", Some(body)) => example_block(reader, section, body).map(Part::Example),
        ("book", _) => {
            if let Some(pair) = reader.head(Rule::book_line, section) {
                book.head = reader.span(&pair);
                let mut texts = pair.into_inner().filter(|p| p.as_rule() == Rule::text).map(|p| unquote(p.as_str()));
                book.title = texts.next().unwrap_or_default();
                book.edition = texts.next().unwrap_or_default();
            }
            None
        }
        ("units", _) => {
            units_line(reader, book, section);
            None
        }
        ("use", _) => reader.head(Rule::use_line, section).and_then(|p| use_line(reader, p)).map(Part::Use),
        ("define" | "replace", _) => reader.head(Rule::define_line, section).map(|p| Part::Define(define(reader, p))),
        _ => {
            let rest = &reader.text.text[section.head.clone()];
            let word = begins_with(rest);
            let span = Span::new(section.head.start, section.head.start + word.len());
            let near =
                nearest(word, KNOWN).map_or_else(|| format!("one of {}", KNOWN.join(", ")), |n| format!("'{n}'"));
            let what = format!("A statement outside a block does not begin with '{word}'.");
            if !section.head.is_empty() {
                reader.problem(span, "unknown statement", what, near);
                reader.lost(section);
            }
            None
        }
    };
    if let Some(part) = part
        && !reader.too_large()
    {
        Arc::make_mut(&mut book.parts).push(part);
    }
}

fn use_line(reader: &Reader<'_>, pair: P<'_>) -> Option<UseLine> {
    let span = reader.span(&pair);
    let mut name = None;
    let mut editions = None;
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::text => name = Some(unquote(part.as_str())),
            Rule::edition => editions = Some((editions_of(part.clone())?, reader.span(&part))),
            _ => {}
        }
    }
    Some(UseLine { name: name?, span, editions })
}

fn editions_of(pair: P<'_>) -> Option<Editions> {
    let which = pair.into_inner().next()?;
    let rule = which.as_rule();
    if rule == Rule::text {
        return Some(Editions::Only(unquote(which.as_str())));
    }
    let mut texts = texts_in(which);
    let first = texts.next()?;
    Some(match rule {
        Rule::edition_from => Editions::Range(first, texts.next()?),
        Rule::edition_least => Editions::Least(first),
        _ => Editions::Most(first),
    })
}

/// A file that a book names, by its path from the book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NamedFile {
    /// After `use`.
    Used(String),
    /// A workbook after `from sheet … of`.
    Workbook(String),
}

/// Every file that a book names, in order. Statements of other kinds are not read for it.
#[must_use]
pub fn files_named(text: &Arc<Text>) -> Vec<NamedFile> {
    let (sections, _) = split(text);
    let mut reader = Reader::new(text);
    sections.iter().filter_map(|section| file_named(&mut reader, section)).collect()
}

fn file_named<'b>(reader: &mut Reader<'b>, section: &'b Section) -> Option<NamedFile> {
    match section.word.as_str() {
        "use" => {
            let pair = reader.head(Rule::use_line, section)?;
            use_line(reader, pair).map(|u| NamedFile::Used(u.name))
        }
        "table" => {
            let pair = reader.head(Rule::table_head, section)?;
            let from = pair.into_inner().find(|p| p.as_rule() == Rule::from_sheet)?;
            from_sheet(reader, from).map(|from| NamedFile::Workbook(from.path))
        }
        _ => None,
    }
}

fn from_sheet(reader: &Reader<'_>, pair: P<'_>) -> Option<FromSheet> {
    let span = reader.span(&pair);
    let mut texts = texts_in(pair);
    Some(FromSheet { sheet: texts.next()?, path: texts.next()?, span })
}

fn units_line<'b>(reader: &mut Reader<'b>, book: &mut Book, section: &'b Section) {
    let Some(pair) = reader.head(Rule::units_line, section) else { return };
    for word in pair.into_inner().filter(|p| p.as_rule() == Rule::word) {
        match word.as_str() {
            "metric" => book.metric = true,
            "imperial" => book.metric = false,
            other => {
                let span = reader.span(&word);
                reader.problem(
                    span,
                    "unknown word",
                    format!("Units are not '{other}'."),
                    "units metric, or leave it out for feet and inches",
                );
            }
        }
    }
}

fn rows_block<'b>(reader: &mut Reader<'b>, section: &'b Section, body: &[Range<usize>]) -> Option<RowsBlock> {
    let head = reader.head(Rule::rows_head, section);
    let mut block = None;
    if let Some(pair) = head {
        let mut name = None;
        let (mut sheet, mut belongs) = (None, None);
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::word => name = Some(reader.name(&part)),
                Rule::text => sheet = Some(unquote(part.as_str())),
                Rule::belongs => {
                    let mut parent = None;
                    let mut headings = Vec::new();
                    for inner in part.into_inner() {
                        match inner.as_rule() {
                            Rule::word => parent = Some(reader.name(&inner)),
                            _ => headings.push(unquote(inner.as_str())),
                        }
                    }
                    belongs = parent.map(|p| (p, headings));
                }
                _ => {}
            }
        }
        block = name.map(|name| RowsBlock { name, sheet, belongs, fields: Vec::new() });
    }
    for line in body {
        if let Some(field) = field_line(reader, line)
            && let Some(block) = &mut block
        {
            block.fields.push(field);
        }
    }
    block
}

fn field_line(reader: &mut Reader<'_>, line: &Range<usize>) -> Option<FieldLine> {
    let pair = reader.statement(Rule::field_line, line)?;
    let span = reader.span(&pair);
    let (mut name, mut ty) = (None, None);
    let mut clauses = Vec::new();
    for part in pair.into_inner() {
        let clause = match part.as_rule() {
            Rule::word => {
                name = Some(reader.name(&part));
                continue;
            }
            Rule::type_name => {
                ty = Some(type_name(reader, &part));
                continue;
            }
            Rule::heading => FieldClause::Heading(texts_in(part).collect()),
            Rule::key => FieldClause::Key,
            Rule::one_of => FieldClause::OneOf(reader.members(part)),
            Rule::may_be_blank => FieldClause::MayBeBlank,
            Rule::stock_of => {
                let at = reader.span(&part);
                let code = part.into_inner().find(|p| p.as_rule() == Rule::text);
                FieldClause::StockOf(code.map_or_else(String::new, |p| unquote(p.as_str())), at)
            }
            Rule::default => FieldClause::Otherwise(first_expr(reader, part)),
            Rule::above => FieldClause::Limit { low: true, value: first_expr(reader, part), inclusive: false },
            Rule::below => FieldClause::Limit { low: false, value: first_expr(reader, part), inclusive: false },
            Rule::at_least => FieldClause::Limit { low: true, value: first_expr(reader, part), inclusive: true },
            Rule::at_most => FieldClause::Limit { low: false, value: first_expr(reader, part), inclusive: true },
            Rule::from_to => {
                let mut bounds = part.into_inner().map(|p| reader.expr(p)).collect::<Vec<_>>().into_iter();
                if let (Some(low), Some(high)) = (bounds.next(), bounds.next()) {
                    clauses.push(FieldClause::Limit { low: true, value: low, inclusive: true });
                    clauses.push(FieldClause::Limit { low: false, value: high, inclusive: true });
                }
                continue;
            }
            _ => match common(reader, part) {
                Some(Clause::Shown(s)) => FieldClause::Shown(s),
                Some(Clause::Source(s)) => FieldClause::Source(s),
                Some(Clause::Accepted(a)) => FieldClause::Accepted(a),
                Some(Clause::Note(s, _)) => FieldClause::Note(s),
                None => continue,
            },
        };
        clauses.push(clause);
    }
    Some(FieldLine { name: name?, ty: ty?, clauses, span })
}

fn first_expr(reader: &mut Reader<'_>, pair: P<'_>) -> Expr {
    let span = reader.span(&pair);
    match pair.into_inner().find(|p| p.as_rule() != Rule::otherwise) {
        Some(inner) => reader.expr(inner),
        None => Expr { node: Node::Literal(Literal::YesNo(false)), span },
    }
}

fn type_name(reader: &Reader<'_>, pair: &P<'_>) -> TypeName {
    TypeName { text: pair.as_str().trim().to_owned(), span: reader.span(pair) }
}

enum Clause {
    Shown(Shown),
    Source(String),
    Accepted(Accepted),
    Note(String, Span),
}

/// Texts that follow each other are one note.
fn add_note(note: &mut Option<String>, more: String) {
    *note = Some(note.take().map_or_else(|| more.clone(), |n| format!("{n} {more}")));
}

/// Clauses that several statements share.
fn common(reader: &mut Reader<'_>, pair: P<'_>) -> Option<Clause> {
    let span = reader.span(&pair);
    match pair.as_rule() {
        Rule::source => {
            let source = unquote(pair.into_inner().next()?.as_str().trim());
            if source.trim().is_empty() {
                let what = "Nothing is said of where this comes from.";
                reader.problem(span, "source without a text", what, "source \"…\", or source practice");
            }
            Some(Clause::Source(source))
        }
        Rule::accepted => {
            let reason = unquote(pair.into_inner().next()?.as_str().trim());
            if reason.trim().is_empty() {
                let what = "Nothing is said why this is in order.";
                reader.problem(span, "accepted without a reason", what, "accepted \"…\", with the reason");
            }
            Some(Clause::Accepted(Accepted { reason, span }))
        }
        Rule::note => Some(Clause::Note(unquote(pair.as_str().trim()), span)),
        Rule::shown_to => Some(Clause::Shown(Shown::To(first_expr(reader, pair)))),
        Rule::shown_in => {
            let unit = pair.into_inner().next()?;
            let at = reader.span(&unit);
            Some(Clause::Shown(Shown::In(unit.as_str().trim().to_owned(), at)))
        }
        _ => None,
    }
}

/// The texts in a clause, without their quotes.
fn texts_in(pair: P<'_>) -> impl Iterator<Item = String> {
    pair.into_inner().filter(|p| p.as_rule() == Rule::text).map(|p| unquote(p.as_str()))
}

fn table_block<'b>(reader: &mut Reader<'b>, section: &'b Section, body: &[Range<usize>]) -> Option<TableBlock> {
    let mut block = None;
    if let Some(pair) = reader.head(Rule::table_head, section) {
        let mut out = TableBlock {
            replaces: Replaces::Nothing,
            name: Name { name: String::new(), span: reader.span(&pair) },
            title: None,
            source: None,
            accepted: None,
            from_sheet: None,
            columns: Vec::new(),
            rows: Vec::new(),
        };
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::replace => out.replaces = Replaces::Table,
                Rule::rows_of => out.replaces = Replaces::Rows,
                Rule::from_sheet => out.from_sheet = from_sheet(reader, part),
                Rule::word => out.name = reader.name(&part),
                Rule::text => out.title = Some(unquote(part.as_str())),
                _ => match common(reader, part) {
                    Some(Clause::Source(s)) => out.source = Some(s),
                    Some(Clause::Accepted(a)) => out.accepted = Some(a),
                    Some(Clause::Note(n, _)) => out.title = Some(n),
                    _ => {}
                },
            }
        }
        block = Some(out);
    }
    if let (Some(block), true) = (&block, body.is_empty()) {
        let what = format!("The table {} has no columns and no rows.", block.name.name);
        let fix = "a line of columns, spacing length, up to | limit length, and rows below it";
        reader.problem(block.name.span, "table without columns", what, fix);
    }
    let mut lines = body.iter();
    let columns = lines.next().and_then(|line| reader.statement(Rule::table_columns, line));
    let columns = columns.map(|pair| pair.into_inner().filter_map(|p| table_column(reader, p)).collect::<Vec<_>>());
    let rows: Vec<_> = lines
        .filter_map(|line| {
            let pair = reader.statement(Rule::table_row, line)?;
            let span = reader.span(&pair);
            let cells = pair.into_inner().filter(|p| p.as_rule() == Rule::table_cell).map(|p| reader.expr(p)).collect();
            Some(TableRow { cells, span, text: Arc::clone(reader.text), on_sheet: None, upper: None })
        })
        .collect();
    let mut block = block?;
    let Some(columns) = columns else {
        reader.unread.push(block.name.name);
        return None;
    };
    block.columns = columns;
    block.rows = rows;
    Some(block)
}

fn table_column(reader: &mut Reader<'_>, pair: P<'_>) -> Option<TableColumn> {
    if pair.as_rule() != Rule::column {
        return None;
    }
    let (mut name, mut ty, mut how, mut default) = (None, None, None, None);
    let mut headings = Vec::new();
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::word => name = Some(reader.name(&part)),
            Rule::type_name => ty = Some(type_name(reader, &part)),
            Rule::heading => headings.extend(texts_in(part)),
            Rule::match_how => {
                // a comment may follow the first word at once
                how = Some(match part.as_str().split(|c: char| !c.is_alphanumeric()).next() {
                    Some("up") => Match::UpTo,
                    Some("from") => Match::From,
                    Some("between") => Match::Between,
                    _ => Match::Exact,
                });
            }
            _ => default = Some(first_expr(reader, part)),
        }
    }
    Some(TableColumn { name: name?, ty: ty?, how, default, headings })
}

fn define(reader: &mut Reader<'_>, pair: P<'_>) -> Define {
    let span = reader.span(&pair);
    let empty = || Name { name: String::new(), span };
    let mut out = Define {
        replace: false,
        name: empty(),
        parameters: Vec::new(),
        ty: TypeName { text: String::new(), span },
        body: Expr { node: Node::Literal(Literal::YesNo(false)), span },
        note: None,
        source: None,
        accepted: None,
        span,
    };
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::replace => out.replace = true,
            Rule::word => out.name = reader.name(&part),
            Rule::type_name => out.ty = type_name(reader, &part),
            Rule::parameter => {
                let (mut name, mut ty, mut default) = (empty(), TypeName { text: String::new(), span }, None);
                for inner in part.into_inner() {
                    match inner.as_rule() {
                        Rule::word => name = reader.name(&inner),
                        Rule::type_name => ty = type_name(reader, &inner),
                        _ => default = Some(reader.expr(inner)),
                    }
                }
                out.parameters.push(Parameter { name, ty, default });
            }
            Rule::expr => out.body = reader.expr(part),
            _ => match common(reader, part) {
                Some(Clause::Source(s)) => out.source = Some(s),
                Some(Clause::Accepted(a)) => out.accepted = Some(a),
                Some(Clause::Note(n, _)) => add_note(&mut out.note, n),
                _ => {}
            },
        }
    }
    out
}

/// The rule by which a statement in a block `for` is read.
pub(super) fn rule_in_for(text: &str) -> Rule {
    let mut words = text.split_whitespace().skip_while(|w| *w == "replace");
    let (first, second) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
    // a formula may bear any name: `item = …` is one
    if second.starts_with('=') || second.starts_with('"') {
        return Rule::formula_line;
    }
    match first {
        "check" => Rule::check_line,
        "item" | "labor" => Rule::item_line,
        "options" => Rule::options_line,
        "cutting" => Rule::cutting_line,
        "telling" => Rule::telling_line,
        "dividing" => Rule::dividing_line,
        "buying" => Rule::buying_line,
        _ => Rule::formula_line,
    }
}

/// The rule by which a statement in a block `example` is read.
pub(super) fn rule_in_example(text: &str) -> Rule {
    if text.split_whitespace().next() == Some("shows") { Rule::shows_line } else { Rule::row_line }
}

fn for_block<'b>(reader: &mut Reader<'b>, section: &'b Section, body: &[Range<usize>]) -> Option<Part> {
    let name = reader.head(Rule::for_head, section).and_then(|pair| {
        let word = pair.into_inner().find(|p| p.as_rule() == Rule::word)?;
        Some(reader.name(&word))
    });
    let mut lines = Vec::new();
    for line in body {
        let read = match rule_in_for(&reader.text.text[line.clone()]) {
            Rule::check_line => check_line(reader, line).map(ForLine::Check),
            Rule::item_line => item_line(reader, line).map(ForLine::Item),
            Rule::options_line => options_line(reader, line).map(ForLine::Options),
            Rule::cutting_line => cutting_line(reader, line).map(ForLine::Cutting),
            Rule::telling_line => telling_line(reader, line).map(ForLine::Telling),
            Rule::dividing_line => dividing_line(reader, line).map(ForLine::Dividing),
            Rule::buying_line => buying_line(reader, line).map(ForLine::Buying),
            _ => formula_line(reader, line).map(|f| ForLine::Formula(Arc::new(f))),
        };
        if !reader.too_large() {
            lines.extend(read);
        }
    }
    name.map(|name| Part::For(name, lines))
}

fn formula_line(reader: &mut Reader<'_>, line: &Range<usize>) -> Option<Formula> {
    let pair = reader.statement(Rule::formula_line, line)?;
    let span = reader.span(&pair);
    let (mut name, mut body) = (None, None);
    let (mut replace, mut label, mut note, mut source, mut accepted) = (false, None, None, None, None);
    let mut shown = Vec::new();
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::replace => replace = true,
            Rule::word => name = Some(reader.name(&part)),
            Rule::text => label = Some(unquote(part.as_str())),
            Rule::expr => body = Some(reader.expr(part)),
            _ => match common(reader, part) {
                Some(Clause::Source(s)) => source = Some(s),
                Some(Clause::Accepted(a)) => accepted = Some(a),
                Some(Clause::Note(n, _)) => add_note(&mut note, n),
                Some(Clause::Shown(s)) => shown.push(s),
                None => {}
            },
        }
    }
    Some(Formula { replace, name: name?, label, body: body?, shown, note, source, accepted, span })
}

fn check_line(reader: &mut Reader<'_>, line: &Range<usize>) -> Option<CheckLine> {
    let pair = reader.statement(Rule::check_line, line)?;
    let span = reader.span(&pair);
    let (mut name, mut condition) = (None, None);
    let (mut replace, mut outcome, mut message) = (false, Outcome::Stops, Vec::new());
    let (mut source, mut accepted) = (None, None);
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::replace => replace = true,
            Rule::word => name = Some(reader.name(&part)),
            Rule::expr => condition = Some(reader.expr(part)),
            Rule::outcome => {
                outcome = match part.as_str().trim() {
                    "warns" => Outcome::Warns,
                    "notes" => Outcome::Notes,
                    _ => Outcome::Stops,
                }
            }
            _ => match common(reader, part) {
                Some(Clause::Source(s)) => source = Some(s),
                Some(Clause::Accepted(a)) => accepted = Some(a),
                Some(Clause::Note(_, at)) => message.push(at),
                _ => {}
            },
        }
    }
    Some(CheckLine { replace, name: name?, condition: condition?, outcome, message, source, accepted, span })
}

fn item_line(reader: &mut Reader<'_>, line: &Range<usize>) -> Option<ItemLine> {
    let pair = reader.statement(Rule::item_line, line)?;
    let span = reader.span(&pair);
    let mut out = ItemLine {
        replace: false,
        what: LineKind::Material,
        name: Name { name: String::new(), span },
        label: None,
        code: None,
        need: None,
        waste: None,
        rate: None,
        factor: None,
        height: None,
        difficulty: None,
        when: None,
        splice: None,
        source: None,
        accepted: None,
        span,
    };
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::replace => out.replace = true,
            Rule::item_word if part.as_str().trim() == "labor" => out.what = LineKind::Labor,
            Rule::word => out.name = reader.name(&part),
            Rule::text => out.label = Some(unquote(part.as_str())),
            Rule::code => out.code = Some(first_expr(reader, part)),
            Rule::need => out.need = Some(NeedClause::Amount(first_expr(reader, part))),
            Rule::lump => out.need = Some(NeedClause::Lump(first_expr(reader, part))),
            Rule::cut => {
                let mut inner = part.into_inner().map(|p| reader.expr(p)).collect::<Vec<_>>().into_iter();
                out.need = match (inner.next(), inner.next()) {
                    (Some(count), Some(each)) => Some(NeedClause::Cut(count, each)),
                    (Some(pieces), None) => Some(NeedClause::Pieces(pieces)),
                    _ => None,
                };
            }
            Rule::waste => out.waste = Some(first_expr(reader, part)),
            Rule::rate => out.rate = Some(first_expr(reader, part)),
            Rule::factor => out.factor = Some(first_expr(reader, part)),
            Rule::at_height => out.height = Some(first_expr(reader, part)),
            Rule::at_difficulty => out.difficulty = Some(first_expr(reader, part)),
            Rule::only_when => out.when = Some(first_expr(reader, part)),
            Rule::spliced => out.splice = Some(splice_clause(reader, part)),
            _ => match common(reader, part) {
                Some(Clause::Source(s)) => out.source = Some(s),
                Some(Clause::Accepted(a)) => out.accepted = Some(a),
                _ => {}
            },
        }
    }
    Some(out)
}

fn splice_clause(reader: &mut Reader<'_>, pair: P<'_>) -> SpliceClause {
    let mut out = SpliceClause { lap: None, least: None, scrap: None, span: reader.span(&pair) };
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::lap => out.lap = Some(first_expr(reader, part)),
            Rule::least_part => out.least = Some(first_expr(reader, part)),
            Rule::scrap => out.scrap = Some(first_expr(reader, part)),
            _ => {}
        }
    }
    out
}

fn cutting_line(reader: &mut Reader<'_>, line: &Range<usize>) -> Option<CuttingLine> {
    let pair = reader.statement(Rule::cutting_line, line)?;
    let span = reader.span(&pair);
    let mut out = CuttingLine {
        replace: false,
        by: None,
        kerf: None,
        keep: None,
        note: None,
        source: None,
        accepted: None,
        span,
    };
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::replace => out.replace = true,
            Rule::cut_by => out.by = part.into_inner().next().map(|p| reader.name(&p)),
            Rule::kerf => out.kerf = Some(first_expr(reader, part)),
            Rule::keep => out.keep = Some(first_expr(reader, part)),
            _ => match common(reader, part) {
                Some(Clause::Source(s)) => out.source = Some(s),
                Some(Clause::Accepted(a)) => out.accepted = Some(a),
                Some(Clause::Note(n, _)) => add_note(&mut out.note, n),
                _ => {}
            },
        }
    }
    Some(out)
}

fn buying_line(reader: &mut Reader<'_>, line: &Range<usize>) -> Option<BuyingLine> {
    let pair = reader.statement(Rule::buying_line, line)?;
    let span = reader.span(&pair);
    let mut out = BuyingLine {
        replace: false,
        first: None,
        only: None,
        charging: None,
        headings: None,
        codes: None,
        note: None,
        source: None,
        span,
    };
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::replace => out.replace = true,
            Rule::first_from => out.first = Some(first_expr(reader, part)),
            Rule::only_from => out.only = Some(first_expr(reader, part)),
            Rule::headings_by => out.headings = part.into_inner().next().map(|p| reader.name(&p)),
            Rule::codes_by => out.codes = part.into_inner().next().map(|p| reader.name(&p)),
            Rule::charging => out.charging = Some(part.into_inner().next().map(|p| reader.expr(p))),
            _ => match common(reader, part) {
                Some(Clause::Source(s)) => out.source = Some(s),
                Some(Clause::Note(n, _)) => add_note(&mut out.note, n),
                _ => {}
            },
        }
    }
    Some(out)
}

fn telling_line(reader: &mut Reader<'_>, line: &Range<usize>) -> Option<TellingLine> {
    let pair = reader.statement(Rule::telling_line, line)?;
    let span = reader.span(&pair);
    let mut out = TellingLine { replace: false, names: Vec::new(), note: None, source: None, span };
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::replace => out.replace = true,
            Rule::word => out.names.push(reader.name(&part)),
            _ => match common(reader, part) {
                Some(Clause::Source(s)) => out.source = Some(s),
                Some(Clause::Note(n, _)) => add_note(&mut out.note, n),
                _ => {}
            },
        }
    }
    Some(out)
}

fn dividing_line(reader: &mut Reader<'_>, line: &Range<usize>) -> Option<DividingLine> {
    let pair = reader.statement(Rule::dividing_line, line)?;
    let span = reader.span(&pair);
    let mut out = DividingLine {
        replace: false,
        parts: None,
        alternates: None,
        deducting: None,
        deliveries: None,
        note: None,
        source: None,
        span,
    };
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::replace => out.replace = true,
            Rule::parts_by => out.parts = part.into_inner().next().map(|p| reader.name(&p)),
            Rule::alternates_by => out.alternates = part.into_inner().next().map(|p| reader.name(&p)),
            Rule::deducting => out.deducting = part.into_inner().next().map(|p| reader.name(&p)),
            Rule::deliveries_by => out.deliveries = part.into_inner().next().map(|p| reader.name(&p)),
            _ => match common(reader, part) {
                Some(Clause::Source(s)) => out.source = Some(s),
                Some(Clause::Note(n, _)) => add_note(&mut out.note, n),
                _ => {}
            },
        }
    }
    Some(out)
}

fn options_line(reader: &mut Reader<'_>, line: &Range<usize>) -> Option<OptionsLine> {
    let pair = reader.statement(Rule::options_line, line)?;
    let span = reader.span(&pair);
    let mut out = OptionsLine {
        replace: false,
        name: Name { name: String::new(), span },
        label: None,
        options: Vec::new(),
        named_by: None,
        showing: Vec::new(),
        note: None,
        source: None,
        accepted: None,
        span,
    };
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::replace => out.replace = true,
            Rule::word => out.name = reader.name(&part),
            Rule::text => out.label = Some(unquote(part.as_str())),
            Rule::option => out.options.extend(option_part(reader, part)),
            Rule::named_by => out.named_by = part.into_inner().next().map(|p| reader.name(&p)),
            Rule::showing => out.showing.extend(part.into_inner().map(|p| reader.name(&p))),
            _ => match common(reader, part) {
                Some(Clause::Source(s)) => out.source = Some(s),
                Some(Clause::Accepted(a)) => out.accepted = Some(a),
                Some(Clause::Note(n, _)) => add_note(&mut out.note, n),
                _ => {}
            },
        }
    }
    Some(out)
}

fn option_part(reader: &mut Reader<'_>, pair: P<'_>) -> Option<OptionPart> {
    let (mut name, mut label, mut when) = (None, None, None);
    for part in pair.into_inner() {
        match part.as_rule() {
            Rule::word => name = Some(reader.name(&part)),
            Rule::text => label = Some(unquote(part.as_str())),
            _ => when = Some(first_expr(reader, part)),
        }
    }
    Some(OptionPart { name: name?, label, when })
}

fn example_block<'b>(reader: &mut Reader<'b>, section: &'b Section, body: &[Range<usize>]) -> Option<Example> {
    let mut example = None;
    if let Some(pair) = reader.head(Rule::example_head, section) {
        let span = reader.span(&pair);
        let name = pair.into_inner().find(|p| p.as_rule() == Rule::text).map(|p| unquote(p.as_str()));
        example = name.map(|name| Example { name, rows: Vec::new(), shows: Vec::new(), unread: false, span });
    }
    let (mut rows, mut shows) = (Vec::new(), Vec::new());
    let before = reader.problems.len();
    for line in body {
        if rule_in_example(&reader.text.text[line.clone()]) == Rule::shows_line {
            let Some(pair) = reader.statement(Rule::shows_line, line) else { continue };
            for shown in pair.into_inner().filter(|p| p.as_rule() == Rule::shown) {
                let mut parts = shown.into_inner();
                if let (Some(value), Some(expected)) = (parts.next(), parts.next()) {
                    shows.push(ExampleShows { value: reader.expr(value), expected: reader.expr(expected) });
                }
            }
        } else if let Some(pair) = reader.statement(Rule::row_line, line) {
            rows.extend(example_row(reader, pair));
        }
    }
    let mut example = example?;
    example.rows = rows;
    example.shows = shows;
    example.unread = reader.problems.len() > before;
    Some(example)
}

/// The unit that a part of an example's row is after a bare number: one that no value follows, for it would be a field.
pub(super) fn unit_at(parts: &[P<'_>], at: usize) -> Option<Unit> {
    let next = parts.get(at)?;
    let value_follows = parts.get(at + 1).is_some_and(|p| p.as_rule() != Rule::word);
    let may_be = match next.as_rule() {
        Rule::word => !value_follows,
        rule => rule == Rule::slash_unit,
    };
    if may_be { Unit::read(next.as_str().trim()).ok() } else { None }
}

/// `rooms length 20' width 14' sdc B`: a word after a number is its unit when it is one and what follows is no value.
fn example_row(reader: &mut Reader<'_>, pair: P<'_>) -> Option<ExampleRow> {
    let mut parts = pair.into_inner().filter(|p| p.as_rule() != Rule::EOI);
    let kind = reader.name(&parts.next()?);
    let mut values = Vec::new();
    let parts: Vec<P<'_>> = parts.filter_map(|p| p.into_inner().next()).collect();
    let mut at = 0;
    while at < parts.len() {
        let name_part = &parts[at];
        if name_part.as_rule() != Rule::word {
            let span = reader.span(name_part);
            reader.problem(
                span,
                "value without a field",
                "A value stands here without the field that it is for.",
                "field value, field value …",
            );
            return None;
        }
        let name = reader.name(name_part);
        let Some(value_part) = parts.get(at + 1) else {
            reader.problem(
                name.span,
                "field without a value",
                format!("'{}' has no value.", name.name),
                "field value, field value …",
            );
            return None;
        };
        let mut value = reader.expr(value_part.clone());
        at += 2;
        if let (Node::Literal(Literal::Number { value: amount, unit: None }), Some(unit)) =
            (&value.node, unit_at(&parts, at))
        {
            let span = value.span.to(reader.span(&parts[at]));
            let name = parts[at].as_str().trim().to_owned();
            value = Expr { node: Node::Literal(Literal::Number { value: *amount, unit: Some((name, unit)) }), span };
            at += 1;
        }
        values.push((name, value));
    }
    Some(ExampleRow { kind, values })
}
