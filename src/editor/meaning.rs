//! What each name in a pile of books means: where it is declared and where it is said.
//!
//! It is read from the trees alone, so that it is there while a book has mistakes; names are looked for where
//! [`program`](crate::program) looks for them.

use crate::notation::parse::read_expression_at;
use crate::notation::tree::{
    Book, CheckLine, Define, Example, Expr, FieldClause, FieldLine, ForLine, ItemLine, Name, NeedClause, Node,
    OptionsLine, Part, RowsBlock, Shown, TableBlock,
};
use crate::program::builtin;
use crate::program::library::BOOK;
use crate::program::native::{self, Natives};
use crate::program::tables::function_names;
use crate::source::paths::{beside, ending};
use crate::source::{Span, Text};
use indexmap::IndexMap;
use std::sync::Arc;

/// What a name means.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Meaning {
    /// A kind of rows.
    Rows(String),
    /// A column, a formula, or the options that a row stands under.
    Field {
        /// Whose.
        rows: String,
        /// Its name.
        name: String,
    },
    /// A check.
    Check {
        /// Of what.
        rows: String,
        /// Its name.
        name: String,
    },
    /// An item or labor.
    Item {
        /// For what.
        rows: String,
        /// Its name.
        name: String,
    },
    /// A definition, or a function that comes with the program.
    Function(String),
    /// A table.
    Table(String),
    /// A parameter of a definition, or a column of a table.
    Part {
        /// The definition or table.
        of: String,
        /// Its name.
        name: String,
    },
    /// One of the options.
    Choice(String),
    /// A word of the list that a column is one of.
    Word {
        /// The column's rows.
        rows: String,
        /// The column.
        field: String,
        /// The word.
        word: String,
    },
    /// A book that is used, by its name there.
    Book(String),
}

/// A name where it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Said {
    /// What it means.
    pub(super) meaning: Meaning,
    /// Where.
    pub(super) span: Span,
    /// Whether it is declared here.
    pub(super) declares: bool,
}

/// A kind of rows.
#[derive(Debug, Default)]
pub(super) struct Kind {
    pub(super) parent: Option<String>,
    sheet: bool,
    /// Its fields, with the words that each is one of.
    pub(super) fields: IndexMap<String, Vec<String>>,
}

/// What a function takes, and of what it is.
#[derive(Debug)]
enum Called {
    Define,
    Table {
        /// The table.
        of: String,
        /// The result that this name gives, where it has several.
        result: Option<String>,
    },
}

/// All names of a pile of books.
#[derive(Debug, Default)]
pub(super) struct Meanings {
    /// Kinds of rows.
    pub(super) kinds: IndexMap<String, Kind>,
    /// The options' name and their rows.
    options: Option<(String, String)>,
    /// The options.
    pub(super) choices: Vec<String>,
    called: IndexMap<String, Called>,
    /// Names of each book, in their order.
    pub(super) said: Vec<Vec<Said>>,
    natives: Natives,
}

/// The rows of the job, which every book has.
pub(super) const JOB: &str = "job";
/// The priced lines, which the engine makes.
const LINES: &str = "lines";

impl Meanings {
    /// Of books, lowest layer first.
    pub(super) fn of<'b>(books: impl Iterator<Item = &'b Book> + Clone, natives: Natives) -> Self {
        let mut all = Self { natives, ..Self::default() };
        all.kinds.insert(JOB.to_owned(), Kind::default());
        let lines = ["kind", "code", "item", "cost", "hours"].map(|f| (f.to_owned(), Vec::new()));
        let mut kind = Kind { fields: lines.into_iter().collect(), ..Kind::default() };
        kind.fields["kind"] = vec!["material".to_owned(), "labor".to_owned()];
        all.kinds.insert(LINES.to_owned(), kind);
        books.clone().for_each(|book| all.declare(book));
        all.said = books.map(|book| all.read(book)).collect();
        all
    }

    /// The name that stands at a byte of a book; one that ends there where none begins.
    pub(super) fn at(&self, book: usize, offset: usize) -> Option<&Said> {
        let said = self.said.get(book)?;
        let holds = |s: &&Said| s.span.range().contains(&offset);
        said.iter().find(holds).or_else(|| said.iter().find(|s| s.span.end as usize == offset))
    }

    /// Where something is declared: book and place, the lowest layer first.
    pub(super) fn declared(&self, meaning: &Meaning) -> Vec<(usize, Span)> {
        self.said_of(meaning).filter(|(_, s)| s.declares).map(|(book, s)| (book, s.span)).collect()
    }

    /// Every place where something is said.
    pub(super) fn said_of<'m>(&'m self, meaning: &'m Meaning) -> impl Iterator<Item = (usize, &'m Said)> {
        let of = |(book, all): (usize, &'m Vec<Said>)| all.iter().map(move |s| (book, s));
        self.said.iter().enumerate().flat_map(of).filter(move |(_, s)| s.meaning == *meaning)
    }

    /// The kinds whose fields can be named for a row: its own, those that it belongs to, and the job.
    pub(super) fn reach(&self, rows: &str) -> Vec<&str> {
        let mut out: Vec<&str> = Vec::new();
        let mut at = self.kinds.get_key_value(rows);
        while let Some((name, kind)) = at {
            if out.contains(&name.as_str()) {
                break;
            }
            out.push(name);
            at = kind.parent.as_ref().and_then(|p| self.kinds.get_key_value(p));
        }
        if rows != LINES && !out.contains(&JOB) {
            out.push(JOB);
        }
        out
    }

    /// What a name means for the rows of a kind.
    pub(super) fn field(&self, rows: &str, name: &str) -> Option<Meaning> {
        let reach = self.reach(rows);
        let found = reach.into_iter().find(|k| self.kinds.get(*k).is_some_and(|k| k.fields.contains_key(name)))?;
        Some(Meaning::Field { rows: found.to_owned(), name: name.to_owned() })
    }

    /// What a function's name means.
    pub(super) fn function(&self, name: &str) -> Option<Meaning> {
        if builtin::named(name).is_some() || native::named(self.natives, name).is_some() {
            return Some(Meaning::Function(name.to_owned()));
        }
        Some(match self.called.get(name)? {
            Called::Define => Meaning::Function(name.to_owned()),
            Called::Table { of, .. } => Meaning::Table(of.clone()),
        })
    }

    /// Whether a name is taken among functions and tables.
    pub(super) fn is_function(&self, name: &str) -> bool {
        self.function(name).is_some()
    }

    /// The words that a field is one of: those of its list, or the options.
    pub(super) fn words_of(&self, rows: &str, field: &str) -> Vec<String> {
        if self.options.as_ref().is_some_and(|(r, n)| r == rows && n == field) {
            return self.choices.clone();
        }
        self.kinds.get(rows).and_then(|k| k.fields.get(field)).cloned().unwrap_or_default()
    }

    /// The rows that a bid is made of.
    pub(super) fn root(&self) -> Option<&str> {
        let root = self.kinds.iter().find(|(name, k)| *name != JOB && *name != LINES && k.parent.is_none() && k.sheet);
        root.map(|(name, _)| name.as_str())
    }

    fn declare(&mut self, book: &Book) {
        for part in book.parts.iter() {
            match part {
                Part::Rows(block) => {
                    let kind = self.kinds.entry(block.name.name.clone()).or_default();
                    kind.sheet |= block.sheet.is_some();
                    if let Some((parent, _)) = &block.belongs {
                        kind.parent = Some(parent.name.clone());
                    }
                    kind.fields.extend(block.fields.iter().map(|f| (f.name.name.clone(), words_of(f))));
                }
                Part::Table(table) => {
                    let names = function_names(table);
                    for name in &names {
                        let result = name.strip_prefix(&format!("{}_", table.name.name)).map(str::to_owned);
                        let result = result.filter(|_| names.len() > 1);
                        let called = Called::Table { of: table.name.name.clone(), result };
                        self.called.insert(name.clone(), called);
                    }
                }
                Part::Define(define) => {
                    self.called.insert(define.name.name.clone(), Called::Define);
                }
                _ => {}
            }
        }
        for part in book.parts.iter() {
            let Part::For(rows, lines) = part else { continue };
            for line in lines {
                let (name, words) = match line {
                    ForLine::Formula(f) => (&f.name.name, Vec::new()),
                    ForLine::Options(o) => {
                        self.options = Some((rows.name.clone(), o.name.name.clone()));
                        let names = o.options.iter().map(|o| o.name.name.clone());
                        self.choices.extend(names.filter(|n| !self.choices.contains(n)).collect::<Vec<_>>());
                        (&o.name.name, Vec::new())
                    }
                    _ => continue,
                };
                if let Some(kind) = self.kinds.get_mut(&rows.name) {
                    kind.fields.entry(name.clone()).or_insert(words);
                }
            }
        }
    }

    fn read(&self, book: &Book) -> Vec<Said> {
        let mut reading = Reading { all: self, text: &book.text, said: Vec::new() };
        book.parts.iter().for_each(|part| reading.part(part));
        let mut said = reading.said;
        said.sort_by_key(|s| (s.span, !s.declares));
        said.dedup_by_key(|s| s.span);
        said
    }
}

/// The words that a column is one of.
fn words_of(field: &FieldLine) -> Vec<String> {
    let words = |clause: &FieldClause| match clause {
        FieldClause::OneOf(words) => words.iter().map(|w| w.name.clone()).collect(),
        _ => Vec::new(),
    };
    field.clauses.iter().flat_map(words).collect()
}

/// Whose names an expression may use.
#[derive(Clone, Copy)]
enum Scope<'b> {
    /// The fields that a row of a kind reaches.
    Rows(&'b str),
    /// The parameters of a definition.
    Define(&'b Define),
}

/// The reading of one book.
struct Reading<'m, 'b> {
    all: &'m Meanings,
    text: &'b Arc<Text>,
    said: Vec<Said>,
}

impl<'b> Reading<'_, 'b> {
    fn say(&mut self, meaning: Meaning, span: Span, declares: bool) {
        self.said.push(Said { meaning, span, declares });
    }

    fn rows(&mut self, name: &Name, declares: bool) {
        if self.all.kinds.contains_key(&name.name) {
            self.say(Meaning::Rows(name.name.clone()), name.span, declares);
        }
    }

    fn field(&mut self, rows: &str, name: &Name, declares: bool) {
        let (rows, field) = (rows.to_owned(), name.name.clone());
        self.say(Meaning::Field { rows, name: field }, name.span, declares);
    }

    fn part(&mut self, part: &'b Part) {
        match part {
            Part::Use(used) => self.say(Meaning::Book(book_of(self.text, &used.name)), used.span, false),
            Part::Rows(block) => self.rows_block(block),
            Part::Table(table) => self.table(table),
            Part::Define(define) => self.define(define),
            Part::For(rows, lines) => {
                self.rows(rows, false);
                lines.iter().for_each(|line| self.for_line(&rows.name, line));
            }
            Part::Example(example) => self.example(example),
        }
    }

    fn rows_block(&mut self, block: &'b RowsBlock) {
        self.rows(&block.name, true);
        if let Some((parent, _)) = &block.belongs {
            self.rows(parent, false);
        }
        let rows = block.name.name.as_str();
        for field in &block.fields {
            self.field(rows, &field.name, true);
            for clause in &field.clauses {
                match clause {
                    FieldClause::OneOf(words) => {
                        words.iter().for_each(|w| self.word(rows, &field.name.name, &w.name, w.span, true));
                    }
                    FieldClause::Otherwise(Expr { node: Node::Name(word), span }) => {
                        self.word(rows, &field.name.name, word, *span, false);
                    }
                    _ => {}
                }
            }
        }
    }

    /// A word of a column's list, or one of the options where the column names one.
    fn word(&mut self, rows: &str, field: &str, word: &str, span: Span, declares: bool) {
        let of = self.all.kinds.get(rows).and_then(|k| k.fields.get(field));
        let meaning = match of {
            Some(words) if words.iter().any(|w| w == word) => {
                Meaning::Word { rows: rows.to_owned(), field: field.to_owned(), word: word.to_owned() }
            }
            _ if self.all.choices.iter().any(|c| c == word) => Meaning::Choice(word.to_owned()),
            _ => return,
        };
        self.say(meaning, span, declares);
    }

    fn table(&mut self, table: &'b TableBlock) {
        self.say(Meaning::Table(table.name.name.clone()), table.name.span, true);
        for column in &table.columns {
            self.part_of(&table.name.name, &column.name, true);
        }
    }

    fn part_of(&mut self, of: &str, name: &Name, declares: bool) {
        self.say(Meaning::Part { of: of.to_owned(), name: name.name.clone() }, name.span, declares);
    }

    fn define(&mut self, define: &'b Define) {
        self.say(Meaning::Function(define.name.name.clone()), define.name.span, true);
        for parameter in &define.parameters {
            self.part_of(&define.name.name, &parameter.name, true);
            if let Some(default) = &parameter.default {
                self.expr(Scope::Define(define), default);
            }
        }
        self.expr(Scope::Define(define), &define.body);
    }

    fn for_line(&mut self, rows: &'b str, line: &'b ForLine) {
        let scope = Scope::Rows(rows);
        let job = Scope::Rows(JOB);
        match line {
            ForLine::Formula(f) => {
                self.field(rows, &f.name, true);
                self.expr(scope, &f.body);
                f.shown.iter().for_each(|s| {
                    if let Shown::To(e) = s {
                        self.expr(scope, e)
                    }
                });
            }
            ForLine::Check(check) => self.check(rows, check),
            ForLine::Item(item) => self.item(rows, item),
            ForLine::Options(options) => self.options(rows, options),
            ForLine::Cutting(line) => {
                if let Some(by) = &line.by {
                    if self.all.kinds.contains_key(&by.name) { self.rows(by, false) } else { self.of_root(by) }
                }
                [&line.kerf, &line.keep].into_iter().flatten().for_each(|e| self.expr(job, e));
            }
            ForLine::Buying(line) => {
                let charging = line.charging.as_ref().and_then(Option::as_ref);
                [line.first.as_ref(), line.only.as_ref(), charging]
                    .into_iter()
                    .flatten()
                    .for_each(|e| self.expr(job, e));
                for table in [&line.headings, &line.codes].into_iter().flatten() {
                    if let Some(meaning @ Meaning::Table(_)) = self.all.function(&table.name) {
                        self.say(meaning, table.span, false);
                    }
                }
            }
            ForLine::Dividing(line) => {
                let all = [&line.parts, &line.alternates, &line.deducting, &line.deliveries];
                all.into_iter().flatten().for_each(|name| self.of_root(name));
            }
            ForLine::Telling(line) => {
                for name in &line.names {
                    match self.all.kinds.get(JOB).is_some_and(|k| k.fields.contains_key(&name.name)) {
                        true => self.field(JOB, name, false),
                        false => self.of_root(name),
                    }
                }
            }
        }
    }

    /// A field of the rows that a bid is made of.
    fn of_root(&mut self, name: &Name) {
        let root = self.all.root().filter(|r| self.all.kinds[*r].fields.contains_key(&name.name));
        if let Some(root) = root {
            self.field(root, name, false);
        }
    }

    fn check(&mut self, rows: &'b str, check: &'b CheckLine) {
        let meaning = Meaning::Check { rows: rows.to_owned(), name: check.name.name.clone() };
        self.say(meaning, check.name.span, true);
        self.expr(Scope::Rows(rows), &check.condition);
        for message in &check.message {
            for braced in braced(self.text, *message) {
                self.owned_expr(rows, &braced);
            }
        }
    }

    fn item(&mut self, rows: &'b str, item: &'b ItemLine) {
        let meaning = Meaning::Item { rows: rows.to_owned(), name: item.name.name.clone() };
        self.say(meaning, item.name.span, true);
        let scope = Scope::Rows(rows);
        match &item.need {
            Some(NeedClause::Amount(e) | NeedClause::Lump(e) | NeedClause::Pieces(e)) => self.expr(scope, e),
            Some(NeedClause::Cut(count, each)) => [count, each].into_iter().for_each(|e| self.expr(scope, e)),
            None => {}
        }
        let clauses = [&item.code, &item.waste, &item.rate, &item.factor, &item.height, &item.difficulty, &item.when];
        clauses.into_iter().flatten().for_each(|e| self.expr(scope, e));
        if let Some(splice) = &item.splice {
            let parts = [&splice.lap, &splice.least, &splice.scrap];
            parts.into_iter().flatten().for_each(|e| self.expr(Scope::Rows(JOB), e));
        }
    }

    fn options(&mut self, rows: &'b str, options: &'b OptionsLine) {
        self.field(rows, &options.name, true);
        for option in &options.options {
            self.say(Meaning::Choice(option.name.name.clone()), option.name.span, true);
            option.when.iter().for_each(|e| self.expr(Scope::Rows(rows), e));
        }
        for name in options.named_by.iter().chain(&options.showing) {
            if let Some(meaning) = self.all.field(rows, &name.name) {
                self.say(meaning, name.span, false);
            }
        }
    }

    fn example(&mut self, example: &'b Example) {
        for row in &example.rows {
            self.rows(&row.kind, false);
            let rows = row.kind.name.as_str();
            for (name, value) in &row.values {
                if self.all.kinds.get(rows).is_some_and(|k| k.fields.contains_key(&name.name)) {
                    self.field(rows, name, false);
                }
                if let Node::Name(word) = &value.node {
                    self.word(rows, &name.name, word, value.span, false);
                }
            }
        }
        let rows = example.rows.first().map_or(JOB, |row| row.kind.name.as_str());
        for shows in &example.shows {
            self.expr(Scope::Rows(rows), &shows.value);
            self.member(Scope::Rows(rows), &shows.value, &shows.expected);
        }
    }

    /// An expression of a check's message, which is no part of the tree.
    fn owned_expr(&mut self, rows: &str, e: &Expr) {
        let mut inner = Reading { all: self.all, text: self.text, said: Vec::new() };
        inner.expr(Scope::Rows(rows), e);
        let said = inner.said;
        self.said.extend(said);
    }

    fn name(&mut self, scope: Scope<'_>, name: &str, span: Span) {
        let meaning = match scope {
            Scope::Define(define) => define
                .parameters
                .iter()
                .any(|p| p.name.name == name)
                .then(|| Meaning::Part { of: define.name.name.clone(), name: name.to_owned() }),
            Scope::Rows(rows) => self.all.field(rows, name),
        };
        if let Some(meaning) = meaning {
            self.say(meaning, span, false);
        }
    }

    fn call(&mut self, name: &Name) {
        let Some(meaning) = self.all.function(&name.name) else { return };
        let suffix = match self.all.called.get(&name.name) {
            Some(Called::Table { of, result: Some(result) }) => Some((of.clone(), result.clone())),
            _ => None,
        };
        let Some((of, result)) = suffix else { return self.say(meaning, name.span, false) };
        // `table_result`: the table's name and the result's
        let at = name.span.end.saturating_sub(u32::try_from(result.len()).unwrap_or(0));
        self.say(meaning, Span { start: name.span.start, end: at.saturating_sub(1) }, false);
        self.say(Meaning::Part { of, name: result }, Span { start: at, end: name.span.end }, false);
    }

    fn expr(&mut self, scope: Scope<'_>, e: &Expr) {
        match &e.node {
            Node::Name(name) => self.name(scope, name, e.span),
            Node::Call { name, arguments } => {
                self.call(name);
                let of = match self.all.function(&name.name) {
                    Some(Meaning::Function(of) | Meaning::Table(of)) if self.all.called.contains_key(&name.name) => of,
                    _ => String::new(),
                };
                for argument in arguments {
                    if let Some(label) = argument.label.as_ref().filter(|_| !of.is_empty()) {
                        self.part_of(&of, label, false);
                    }
                    self.expr(scope, &argument.value);
                }
            }
            Node::Aggregate { kind, value, condition, .. } => {
                self.rows(kind, false);
                let parts = [value, condition].into_iter().flatten();
                parts.for_each(|part| self.expr(Scope::Rows(&kind.name), part));
            }
            Node::Compare(first, rest) => {
                self.expr(scope, first);
                let mut left: &Expr = first;
                for (_, right) in rest {
                    if !self.member(scope, left, right) {
                        self.expr(scope, right);
                    }
                    left = right;
                }
            }
            Node::OneOf { value, members, .. } => {
                self.expr(scope, value);
                for member in members {
                    let word = Expr { node: Node::Name(member.name.clone()), span: member.span };
                    self.member(scope, value, &word);
                }
            }
            _ => e.parts(&mut |part| self.expr(scope, part)),
        }
    }

    /// A name that is a word of the list to the left of it; whether it is one.
    fn member(&mut self, scope: Scope<'_>, left: &Expr, right: &Expr) -> bool {
        let (Node::Name(of), Node::Name(word), Scope::Rows(rows)) = (&left.node, &right.node, scope) else {
            return false;
        };
        let Some(Meaning::Field { rows, name }) = self.all.field(rows, of) else { return false };
        let chosen = self.all.options.as_ref().is_some_and(|(r, n)| *r == rows && *n == name);
        if chosen {
            if self.all.choices.contains(word) {
                self.say(Meaning::Choice(word.clone()), right.span, false);
            }
            return true;
        }
        let listed = self.all.kinds.get(&rows).and_then(|k| k.fields.get(&name)).is_some_and(|w| !w.is_empty());
        if listed {
            self.word(&rows, &name, word, right.span, false);
        }
        listed
    }
}

/// The name of a book that another uses: a built-in one's, or its path from the folder of the uppermost book.
fn book_of(text: &Text, name: &str) -> String {
    let name = name.trim();
    if ending(name) == BOOK { beside(&text.name, name).unwrap_or_else(|_| name.to_owned()) } else { name.to_owned() }
}

/// The expressions in the braces of a text.
fn braced(text: &Arc<Text>, span: Span) -> Vec<Expr> {
    let mut out = Vec::new();
    let mut at = span.start as usize;
    let end = span.end as usize;
    while let Some(open) = text.text.get(at..end).and_then(|t| t.find('{')).map(|i| at + i + 1) {
        let Some(close) = text.text.get(open..end).and_then(|t| t.find('}')).map(|i| open + i) else { break };
        out.extend(read_expression_at(text, &(open..close)).ok());
        at = close + 1;
    }
    out
}
