//! What can stand at a place: names in reach, functions with their arguments, units, types, words of statements.

use super::context::{Block, Bracket, Inside, before, block_at, brackets, inside};
use super::desk::Desk;
use super::hover::{of_meaning, of_word};
use super::meaning::{JOB, Meaning};
use super::server::{Client, View};
use super::sound::Sound;
use crate::notation::statements::STATEMENTS;
use crate::program::builtin;
use crate::program::native::type_name;
use crate::program::reference::{Family, Word};
use crate::program::types::TYPES;
use gen_lsp_types::{CompletionItem, CompletionItemKind, Documentation, InsertTextFormat, MarkupContent, MarkupKind};
use std::collections::BTreeSet;

/// Words that begin a statement, by where it stands.
const OUTSIDE: &[&str] = &["book", "use", "units", "rows", "table", "define", "replace", "for", "example"];
const IN_FOR: &[&str] =
    &["check", "item", "labor", "options", "cutting", "buying", "dividing", "telling", "replace", "end"];
/// What a statement may replace, outside blocks and in them.
const REPLACED: &[&str] = &["table", "define"];
const REPLACED_IN_FOR: &[&str] = &["check", "item", "labor", "options", "cutting", "buying", "dividing", "telling"];

/// Words after which a statement goes on, by its first word.
const CLAUSES: &[(&str, &[&str])] = &[
    (
        "item",
        &[
            "code",
            "need",
            "cut",
            "each",
            "lump",
            "waste",
            "only when",
            "spliced",
            "lap",
            "least",
            "scrap",
            "source",
            "accepted",
        ],
    ),
    (
        "labor",
        &["code", "need", "lump", "waste", "rate", "factor", "height", "difficulty", "only when", "source", "accepted"],
    ),
    ("check", &["else stops", "else warns", "else notes", "source", "accepted"]),
    ("options", &["only when", "named by", "showing", "source", "accepted"]),
    ("cutting", &["by", "kerf", "keep", "source", "accepted"]),
    ("buying", &["first from", "only from", "charging bought", "headings by", "codes by", "source"]),
    ("dividing", &["parts by", "alternates by", "deducting", "deliveries by", "source"]),
    ("telling", &["source"]),
    ("define", &["source", "accepted"]),
    ("table", &["source", "accepted"]),
    ("use", &["edition"]),
    ("book", &["edition"]),
    ("rows", &["from", "belong to"]),
];
/// The same of a formula, and of a column that is read.
const OF_FORMULA: &[&str] = &["shown to", "shown in", "source", "accepted"];
const OF_COLUMN: &[&str] = &[
    "heading",
    "key",
    "above",
    "below",
    "at least",
    "at most",
    "from",
    "one of",
    "may be blank",
    "otherwise",
    "stock of",
    "shown to",
    "shown in",
    "source",
    "accepted",
];
/// Words between values.
const BETWEEN: &[&str] = &["when", "otherwise", "and", "or", "is", "is not", "is given", "is one of", "of", "where"];
/// Words that begin a value.
const VALUES: &[&str] = &["sum of", "count of", "least of", "most of", "any of", "all of", "not", "yes", "no"];
/// How rows are brought together.
const HOW: [&str; 6] = ["sum", "count", "least", "most", "any", "all"];

/// What can stand at a byte of the uppermost book.
pub(super) fn complete(
    view: &View,
    sound: Option<&Sound>,
    client: Client,
    desk: &Desk<'_>,
    offset: usize,
) -> Vec<CompletionItem> {
    let Some(layer) = view.pile.layers.last() else { return Vec::new() };
    let text = &layer.page.text;
    let before = before(text, offset);
    let language = if sound.is_none() { Sound::language() } else { None };
    let block = block_at(text, offset);
    let mut making =
        Making { view, sound: sound.or(language.as_ref()), client, items: Vec::new(), seen: BTreeSet::new() };
    match inside(before) {
        Inside::Remark => {}
        Inside::Text(_) if first_word(before) == "use" && !before.contains("edition") => {
            for name in desk.usable(&view.uri) {
                making.plain(&name, CompletionItemKind::File, "a book");
            }
        }
        Inside::Text(_) => {}
        Inside::Words => making.words(&block, before),
    }
    making.items
}

fn first_word(text: &str) -> &str {
    text.split(|c: char| !(c.is_alphanumeric() || c == '_')).next().unwrap_or("")
}

/// What is being written last: the part of a word, and what stands before it.
fn unfinished(before: &str) -> (&str, &str) {
    let letters = |c: char| c.is_alphanumeric() && !"½¼¾⅛⅜⅝⅞".contains(c) || c == '_';
    let start = before.len() - before.chars().rev().take_while(|c| letters(*c)).map(char::len_utf8).sum::<usize>();
    let word = &before[start..];
    // digits before letters are a number with its unit
    let digits = word.len() - word.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    before.split_at(start + digits)
}

/// Whether a part of a statement ends with a plain number, behind which a unit can stand.
fn ends_with_number(said: &str) -> bool {
    let said = said.trim_end_matches(' ');
    let number = said.rsplit(|c: char| !(c.is_alphanumeric() || c == '_' || c == '.' || c == '/')).next().unwrap_or("");
    let first = number.starts_with(|c: char| c.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(c));
    first && number.ends_with(|c: char| c.is_ascii_digit() || "½¼¾⅛⅜⅝⅞".contains(c))
}

/// Whether a part of a statement ends where a kind of rows follows: `sum of`.
fn brings_together(spoken: &str) -> bool {
    let mut words = spoken.rsplit(char::is_whitespace);
    words.next() == Some("of") && words.next().is_some_and(|w| HOW.contains(&w.trim_start_matches('(')))
}

struct Making<'v> {
    view: &'v View,
    sound: Option<&'v Sound>,
    client: Client,
    items: Vec<CompletionItem>,
    seen: BTreeSet<String>,
}

impl Making<'_> {
    fn add(&mut self, item: CompletionItem) {
        if self.seen.insert(item.label.clone()) {
            self.items.push(item);
        }
    }

    fn plain(&mut self, label: &str, kind: CompletionItemKind, detail: &str) {
        let detail = (!detail.is_empty()).then(|| detail.to_owned());
        self.add(CompletionItem { label: label.to_owned(), kind: Some(kind), detail, ..CompletionItem::default() });
    }

    fn all(&mut self, words: &[&str], kind: CompletionItemKind) {
        for word in words {
            let statement = STATEMENTS.iter().find(|s| s.name == *word);
            self.plain(word, kind, statement.map_or("", |s| s.summary));
        }
    }

    /// What can stand where words of the notation and names do.
    fn words(&mut self, block: &Block, before: &str) {
        let (said, _) = unfinished(before);
        let spoken = said.trim();
        let open = brackets(said);
        let first = first_word(said.trim_start().strip_prefix("replace ").unwrap_or(said).trim_start());
        let defining = first == "define" && !spoken.contains('=');
        if ends_with_number(said) {
            return self.units();
        }
        match block {
            _ if spoken.is_empty() => self.beginnings(block),
            Block::Outside if spoken == "replace" => self.all(REPLACED, CompletionItemKind::Keyword),
            Block::Outside if first == "for" => self.kinds(true),
            Block::Outside if first == "rows" && spoken.ends_with("to") => self.kinds(false),
            Block::Outside if defining => self.define_head(said, &open),
            Block::Outside if first == "define" => self.value(None, said, &open),
            Block::Outside if spoken.starts_with("replace table") => self.declared(false),
            Block::Outside => self.clauses(first, &[]),
            Block::In("rows", _) => self.column(spoken),
            Block::In("table", _) => self.table(spoken),
            Block::In("example", rows) => self.example(rows, spoken, said, &open),
            Block::In(_, rows) if spoken == "replace" => {
                self.all(REPLACED_IN_FOR, CompletionItemKind::Keyword);
                self.replaceable(rows, "");
            }
            Block::In(_, rows)
                if spoken.strip_prefix("replace ").is_some_and(|w| REPLACED_IN_FOR.contains(&w.trim())) =>
            {
                self.replaceable(rows, first);
            }
            Block::In(_, rows) => {
                self.value(Some(if matches!(first, "cutting" | "buying") { JOB } else { rows }), said, &open);
                let formula = if spoken.contains('=') { OF_FORMULA } else { &[] };
                if open.is_empty() && !brings_together(spoken) {
                    self.clauses(first, formula);
                }
            }
        }
    }

    fn beginnings(&mut self, block: &Block) {
        match block {
            Block::Outside => self.all(OUTSIDE, CompletionItemKind::Keyword),
            Block::In("for", _) => self.all(IN_FOR, CompletionItemKind::Keyword),
            Block::In("example", _) => {
                self.all(&["shows", "end"], CompletionItemKind::Keyword);
                self.kinds(false);
            }
            Block::In(..) => self.all(&["end"], CompletionItemKind::Keyword),
        }
    }

    fn clauses(&mut self, first: &str, others: &[&str]) {
        let own = CLAUSES.iter().find(|(word, _)| *word == first).map_or(others, |(_, words)| words);
        self.all(own, CompletionItemKind::Keyword);
    }

    /// Kinds of rows, those that the engine makes and the job among them where these can stand.
    fn kinds(&mut self, job: bool) {
        let view = self.view;
        for name in view.meanings().kinds.keys().filter(|name| job || *name != JOB) {
            self.plain(name, CompletionItemKind::Class, "rows");
        }
    }

    fn units(&mut self) {
        let Some(sound) = self.sound else { return };
        for word in sound.words().iter().filter(|w| w.family == Family::Units) {
            word.names().for_each(|name| self.plain(name, CompletionItemKind::Unit, &word.summary));
        }
    }

    fn types(&mut self) {
        for (name, _, summary) in TYPES {
            self.plain(name, CompletionItemKind::TypeParameter, summary);
        }
        self.units();
    }

    /// The line of a column that is read.
    fn column(&mut self, spoken: &str) {
        if spoken.contains(char::is_whitespace) {
            self.all(OF_COLUMN, CompletionItemKind::Keyword);
        } else {
            self.types();
        }
    }

    fn table(&mut self, spoken: &str) {
        let column = spoken.rsplit('|').next().unwrap_or("").trim();
        if column.contains(',') {
            self.all(&["exact", "up to", "from", "between", "otherwise"], CompletionItemKind::Keyword);
        } else if !column.is_empty() {
            self.types();
        }
    }

    /// Parameters and the type of a definition.
    fn define_head(&mut self, said: &str, open: &[Bracket]) {
        let last = said.rsplit(['(', ',', ')']).next().unwrap_or("").trim();
        let closed = open.is_empty() && said.contains(')');
        if (closed && last.is_empty()) || (!open.is_empty() && !last.is_empty()) {
            self.types();
            if !open.is_empty() {
                self.all(&["otherwise"], CompletionItemKind::Keyword);
            }
        }
    }

    fn example(&mut self, rows: &str, spoken: &str, said: &str, open: &[Bracket]) {
        if first_word(spoken) == "shows" {
            return self.value(Some(if rows.is_empty() { JOB } else { rows }), said, open);
        }
        let kind = first_word(spoken).to_owned();
        let last = spoken.split_whitespace().next_back().unwrap_or("");
        self.word_list(&kind, last);
        let inputs = self.view.meanings().kinds.get(&kind).map(|k| k.fields.keys().cloned().collect::<Vec<_>>());
        for name in inputs.unwrap_or_default() {
            let field = self.sound.and_then(|s| Some((s, s.field(&kind, &name)?)));
            if field.is_none_or(|(s, id)| s.program.schema.field(id).input.is_some()) {
                self.field(&kind, &name);
            }
        }
    }

    /// What lower books declare and this one can replace.
    fn replaceable(&mut self, rows: &str, word: &str) {
        let view = self.view;
        let meanings = view.meanings();
        let lower = |meaning: &Meaning| meanings.declared(meaning).iter().any(|(book, _)| *book < view.pile.top());
        let said: BTreeSet<&Meaning> = meanings.said.iter().flatten().map(|s| &s.meaning).collect();
        for meaning in said.into_iter().filter(|m| lower(m)) {
            match meaning {
                Meaning::Field { rows: of, name } if of == rows && word.is_empty() => self.field(rows, name),
                Meaning::Check { rows: of, name } if of == rows && word == "check" => {
                    self.plain(name, CompletionItemKind::Field, "a check");
                }
                Meaning::Item { rows: of, name } if of == rows && matches!(word, "item" | "labor") => {
                    self.plain(name, CompletionItemKind::Field, "an item or labor");
                }
                _ => {}
            }
        }
    }

    /// Tables, or definitions, by their names alone.
    fn declared(&mut self, defines: bool) {
        let view = self.view;
        for said in view.meanings().said.iter().flatten().filter(|s| s.declares) {
            match &said.meaning {
                Meaning::Table(name) if !defines => self.plain(name, CompletionItemKind::Function, "a table"),
                _ => {}
            }
        }
    }

    /// A value, for the rows of a kind; in a definition nothing but its parameters can be named.
    fn value(&mut self, rows: Option<&str>, said: &str, open: &[Bracket]) {
        let spoken = said.trim_end();
        if brings_together(spoken) {
            return self.kinds(false);
        }
        // the rows that a bracket brings together
        let inner = open.iter().rev().find(|b| b.rows).map(|b| b.of.clone());
        let rows = inner.as_deref().or(rows);
        if let Some(call) = open.last().filter(|b| !b.rows && !b.of.is_empty()) {
            self.arguments(call, spoken);
        }
        if let Some(rows) = rows {
            let tested = spoken.strip_suffix("not").unwrap_or(spoken).trim_end();
            if let Some(tested) = tested.strip_suffix(" is").or_else(|| tested.strip_suffix(" is one of")) {
                let name = tested.trim_end().rsplit(|c: char| !(c.is_alphanumeric() || c == '_')).next().unwrap_or("");
                self.word_list(rows, name);
            }
            let reach: Vec<String> = self.view.meanings().reach(rows).into_iter().map(str::to_owned).collect();
            for kind in &reach {
                let names: Vec<String> =
                    self.view.meanings().kinds.get(kind).into_iter().flat_map(|k| k.fields.keys().cloned()).collect();
                names.iter().for_each(|name| self.field(kind, name));
            }
        } else {
            self.parameters(said);
        }
        self.functions();
        self.all(VALUES, CompletionItemKind::Keyword);
        self.all(BETWEEN, CompletionItemKind::Keyword);
    }

    /// The words that a field is one of.
    fn word_list(&mut self, rows: &str, name: &str) {
        let meanings = self.view.meanings();
        let Some(Meaning::Field { rows, name }) = meanings.field(rows, name) else { return };
        let listed = meanings.words_of(&rows, &name);
        listed.iter().for_each(|word| self.plain(word, CompletionItemKind::EnumMember, &format!("one of {name}")));
    }

    /// The parameters of the definition that is being written.
    fn parameters(&mut self, said: &str) {
        let head = said.split_once('(').map_or("", |(_, rest)| rest).split(')').next().unwrap_or("");
        for parameter in head.split(',') {
            let (name, ty) = parameter.trim().split_once(char::is_whitespace).unwrap_or((parameter.trim(), ""));
            if !name.is_empty() {
                self.plain(name, CompletionItemKind::Variable, ty.trim());
            }
        }
    }

    /// Names of arguments that a call has not got yet.
    fn arguments(&mut self, call: &Bracket, spoken: &str) {
        // a value is begun behind a colon
        if !spoken.ends_with(['(', ',']) {
            return;
        }
        let Some(word) = self.function(&call.of).cloned() else { return };
        if builtin::named(&word.name).is_some_and(|b| b.several) {
            return;
        }
        for argument in word.takes.iter().filter(|a| !call.named.contains(&a.name)) {
            let left_out = argument
                .left_out
                .as_deref()
                .map(|d| format!("; may be left out{}", if d.is_empty() { String::new() } else { format!(": {d}") }));
            self.add(CompletionItem {
                label: format!("{}:", argument.name),
                kind: Some(CompletionItemKind::Property),
                detail: Some(format!("{}{}", argument.takes, left_out.unwrap_or_default())),
                insert_text: Some(format!("{}: ", argument.name)),
                // before all else
                sort_text: Some(format!(" {}", argument.name)),
                ..CompletionItem::default()
            });
        }
    }

    fn function(&self, name: &str) -> Option<&Word> {
        self.sound?.words().iter().rev().find(|w| is_function(w.family) && w.is_called(name))
    }

    /// Every function and table, with its arguments.
    fn functions(&mut self) {
        let Some(sound) = self.sound else { return };
        for word in sound.words().iter().filter(|w| is_function(w.family)) {
            // a table of several results is called by the names of these
            let forms: Vec<&str> = word.form.lines().collect();
            for form in forms {
                let name = first_word(form);
                let documentation = of_word(word).text(self.client.markdown);
                let kind = if self.client.markdown { MarkupKind::Markdown } else { MarkupKind::PlainText };
                let documentation = Documentation::MarkupContent(MarkupContent { kind, value: documentation });
                let snippet = self.client.snippets;
                self.add(CompletionItem {
                    label: name.to_owned(),
                    kind: Some(CompletionItemKind::Function),
                    detail: Some(form.to_owned()),
                    documentation: Some(documentation),
                    insert_text: Some(if snippet { called(name, word) } else { format!("{name}(") }),
                    insert_text_format: snippet.then_some(InsertTextFormat::Snippet),
                    ..CompletionItem::default()
                });
            }
        }
        // what a book with mistakes declares besides
        let view = self.view;
        for said in view.meanings().said.iter().flatten().filter(|s| s.declares) {
            if let Meaning::Function(name) | Meaning::Table(name) = &said.meaning {
                let about = of_meaning(view, None, &said.meaning);
                self.plain(name, CompletionItemKind::Function, &about.form);
            }
        }
    }

    fn field(&mut self, rows: &str, name: &str) {
        let known = self.sound.and_then(|s| Some(s.program.schema.field(s.field(rows, name)?)));
        let ty = known.map(|field| type_name(field.ty)).filter(|t| !t.is_empty());
        let label = known.map(|field| field.label.clone()).unwrap_or_default();
        let detail = format!("{}{label}, of {rows}", ty.map(|t| format!("{t}: ")).unwrap_or_default());
        self.plain(name, CompletionItemKind::Field, &detail);
    }
}

fn is_function(family: Family) -> bool {
    use Family::{LanguageFunctions, NativeFunctions, OwnFunctions, OwnTables, TradeFunctions, TradeTables};
    matches!(family, OwnFunctions | OwnTables | TradeFunctions | TradeTables | NativeFunctions | LanguageFunctions)
}

/// A call with a place to fill in for each argument that must be given.
fn called(name: &str, word: &Word) -> String {
    let record = builtin::named(&word.name);
    let several = record.is_some_and(|b| b.several);
    let needed = word.takes.iter().filter(|a| a.left_out.is_none()).enumerate();
    let arguments: Vec<String> = needed
        .map(|(i, argument)| {
            let place = format!("${{{}:{}}}", i + 1, filled(if several { &argument.name } else { &argument.takes }));
            // the first value of a function of the language goes without its name
            if several || (i == 0 && record.is_some()) { place } else { format!("{}: {place}", argument.name) }
        })
        .collect();
    format!("{name}({})", arguments.join(", "))
}

/// A text that an editor fills in as it is.
fn filled(text: &str) -> String {
    text.chars().flat_map(|c| if "$}\\".contains(c) { vec!['\\', c] } else { vec![c] }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_stands_behind_a_number() {
        for (said, number) in [
            ("a = 24", true),
            ("a = 24 ", true),
            ("2 5/8", true),
            ("a = 5⅝", true),
            ("a24", false),
            ("a = ", false),
            ("8'", false),
        ] {
            assert_eq!(ends_with_number(said), number, "{said}");
        }
        assert_eq!(unfinished("a = 24f"), ("a = 24", "f"));
        assert_eq!(unfinished("a = tee_c"), ("a = ", "tee_c"));
        assert_eq!(unfinished("a = f("), ("a = f(", ""));
    }
}
