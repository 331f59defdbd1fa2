//! What a name is: how it is stated, its type and unit, its value in an example, where it comes from.

use super::context::{Inside, inside, meaning_at, statement, word_at};
use super::desk::Stands;
use super::goto::book_called;
use super::meaning::Meaning;
use super::server::{Client, View};
use super::sound::Sound;
use crate::program::FieldId;
use crate::program::library::BUILT_IN;
use crate::program::native::type_name;
use crate::program::reference::{Family, Shown, Word, in_a_line};
use crate::quantity::show::usual_unit;
use crate::source::{Span, Text};
use gen_lsp_types::{Contents, Hover, MarkupContent, MarkupKind};
use std::sync::Arc;

/// What is told of something: how it is written, and lines about it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct About {
    pub(super) form: String,
    pub(super) lines: Vec<String>,
}

impl About {
    /// As Markdown, or as plain text.
    pub(super) fn text(&self, markdown: bool) -> String {
        let lines = self.lines.iter().filter(|l| !l.is_empty());
        if markdown {
            let form = if self.form.is_empty() { String::new() } else { format!("```lid\n{}\n```\n", self.form) };
            return form + &lines.map(|l| format!("\n{}\n", escaped(l))).collect::<String>();
        }
        let form = Some(&self.form).filter(|f| !f.is_empty());
        form.into_iter().chain(lines).map(String::as_str).collect::<Vec<_>>().join("\n")
    }
}

/// A line as Markdown shows it: its signs are those of the trade and no marks.
fn escaped(line: &str) -> String {
    let mut out = String::with_capacity(line.len());
    for c in line.chars() {
        if "\\`*_{}[]<>#|~".contains(c) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// What is told of what stands at a byte.
pub(super) fn hover(view: &View, sound: Option<&Sound>, client: Client, offset: usize) -> Option<Hover> {
    let page = &view.pile.layers.last()?.page;
    let language = if sound.is_none() { Sound::language() } else { None };
    let (about, span) = match meaning_at(view, offset) {
        Some(said) => (of_meaning(view, sound.or(language.as_ref()), &said.meaning), said.span),
        None => {
            let line = page.text.line_range(page.text.line(offset));
            let words = inside(page.text.text.get(line.start..offset)?) == Inside::Words;
            let span = word_at(&page.text, offset).filter(|_| words)?;
            let found = sound.or(language.as_ref())?.word(unit_or_word(&page.text, span), |f| {
                matches!(f, Family::Units | Family::Types | Family::Statements)
            });
            (found.map(of_word)?, span)
        }
    };
    let kind = if client.markdown { MarkupKind::Markdown } else { MarkupKind::PlainText };
    let contents = MarkupContent { kind, value: about.text(client.markdown) };
    Some(Hover { contents: Contents::MarkupContent(contents), range: Some(page.range(span)) })
}

/// The letters of a word: `24ga` has a unit after its number.
fn unit_or_word(text: &Text, span: Span) -> &str {
    let word = text.text.get(span.range()).unwrap_or("");
    word.trim_start_matches(|c: char| c.is_ascii_digit())
}

/// What is told of a meaning.
pub(super) fn of_meaning(view: &View, sound: Option<&Sound>, meaning: &Meaning) -> About {
    let stated = || About { form: stated(view, meaning), lines: Vec::new() };
    match meaning {
        Meaning::Field { rows, name } => {
            let id = sound.and_then(|s| Some((s, s.field(rows, name)?)));
            id.map_or_else(stated, |(sound, id)| of_field(sound, rows, id))
        }
        Meaning::Function(name) => {
            let functions = |f| {
                use Family::{LanguageFunctions, NativeFunctions, OwnFunctions, TradeFunctions};
                matches!(f, OwnFunctions | TradeFunctions | NativeFunctions | LanguageFunctions)
            };
            sound.and_then(|s| s.word(name, functions)).map_or_else(stated, of_word)
        }
        Meaning::Table(name) => {
            let tables = |f| matches!(f, Family::OwnTables | Family::TradeTables);
            sound.and_then(|s| s.word(name, tables)).map_or_else(stated, of_word)
        }
        Meaning::Check { name, .. } => {
            sound.and_then(|s| s.word(name, |f| f == Family::Checks)).map_or_else(stated, of_word)
        }
        Meaning::Item { name, .. } => {
            let items = |f| matches!(f, Family::Items | Family::Labor);
            sound.and_then(|s| s.word(name, items)).map_or_else(stated, of_word)
        }
        Meaning::Part { of, name } => of_part(view, sound, of, name),
        Meaning::Rows(rows) => {
            let line = match view.meanings().kinds.get(rows).and_then(|k| k.parent.as_ref()) {
                Some(parent) => format!("Rows that belong to {parent}."),
                None => "A kind of rows.".to_owned(),
            };
            About { lines: vec![line], ..stated() }
        }
        Meaning::Choice(name) => About { lines: vec![format!("'{name}' is one of the options.")], ..stated() },
        Meaning::Word { field, word, .. } => {
            About { form: String::new(), lines: vec![format!("'{word}' is one of the words of {field}.")] }
        }
        Meaning::Book(name) => of_book(view, name),
    }
}

/// The statement that declares something, as it is in force.
fn stated(view: &View, meaning: &Meaning) -> String {
    let declared = view.meanings().declared(meaning);
    let Some((book, span)) = declared.last() else { return String::new() };
    let text = &view.pile.layers[*book].page.text;
    in_a_line(text, statement(text, *span))
}

fn of_field(sound: &Sound, rows: &str, id: FieldId) -> About {
    let program = &sound.program;
    let field = program.schema.field(id);
    let what = match &field.input {
        Some(_) if field.kind == program.lines => "a column of every priced line",
        Some(_) => "a column that is read",
        None if program.schema.options.as_ref().is_some_and(|o| o.field == id) => "the option that a row stands under",
        None => "worked out",
    };
    let note = field.note.as_deref().map(|n| format!(" {n}")).unwrap_or_default();
    let unit = match (&field.style.unit, field.ty.dimension()) {
        (Some((name, _)), _) => name.clone(),
        (None, Some(dimension)) => usual_unit(dimension, field.style.metric).0,
        (None, None) => String::new(),
    };
    let unit = if unit.is_empty() { String::new() } else { format!(", in {unit}") };
    let value = sound.value(id).map(|found| match &found.value {
        Some(value) => format!("In the example \"{}\": {value}", found.example),
        None => format!("In the example \"{}\" it has no value.", found.example),
    });
    let lines = vec![
        format!("{}: {what}, of {rows}.{note}", field.label),
        format!("Type: {}{unit}", type_name(field.ty)),
        value.unwrap_or_default(),
        field.source.as_ref().map(|s| format!("Source: {s}")).unwrap_or_default(),
        place(&field.text, field.span),
    ];
    About { form: in_a_line(&field.text, field.span), lines }
}

fn place(text: &Arc<Text>, span: Span) -> String {
    if span == Span::default() {
        return String::new();
    }
    format!("Stated in {}, line {}", text.name, text.line(span.start as usize))
}

/// What is told of a word, as `hardlid words` tells it.
pub(super) fn of_word(word: &Word) -> About {
    let mut lines = vec![word.summary.clone(), word.details.clone()];
    for argument in &word.takes {
        let left_out = match argument.left_out.as_deref() {
            None => String::new(),
            Some("") => "; may be left out".to_owned(),
            Some(default) => format!("; {default} when left out"),
        };
        lines.push(format!("takes {}: {}{left_out}", argument.name, argument.takes));
    }
    if !word.gives.is_empty() {
        lines.push(format!("gives {}", word.gives));
    }
    lines.extend(word.source.as_ref().map(|s| format!("Source: {s}")));
    lines.extend(word.stated.as_ref().map(|(book, line)| format!("Stated in {book}, line {line}")));
    let shown = |e: &Shown| {
        let within = e.within.as_ref().map(|name| format!("  in the example \"{name}\"")).unwrap_or_default();
        format!("{}  gives  {}{within}", e.expression, e.gives)
    };
    lines.extend(word.examples.iter().map(shown));
    About { form: word.form.clone(), lines }
}

fn of_part(view: &View, sound: Option<&Sound>, of: &str, name: &str) -> About {
    let word = sound.and_then(|s| s.words().iter().rev().find(|w| w.is_called(of) && !w.family.of_rows()));
    let taken = word.and_then(|w| w.takes.iter().find(|a| a.name == name));
    let line = match taken {
        Some(argument) => {
            let left_out = argument.left_out.as_ref().filter(|d| !d.is_empty());
            let left_out = left_out.map(|d| format!("; {d} when left out")).unwrap_or_default();
            format!("{name}: {}{left_out}, which {of} takes.", argument.takes)
        }
        None => format!("'{name}' is a column of {of}."),
    };
    let form = word
        .map_or_else(|| stated(view, &Meaning::Part { of: of.to_owned(), name: name.to_owned() }), |w| w.form.clone());
    About { form, lines: vec![line] }
}

fn of_book(view: &View, name: &str) -> About {
    let Some(at) = book_called(&view.pile, name) else {
        return About { form: String::new(), lines: vec![format!("There is no book {name}.")] };
    };
    let book = &view.pile.sources[at].book;
    let edition = if book.edition.is_empty() { String::new() } else { format!(", edition {}", book.edition) };
    let mut lines = vec![format!("{}{edition}", book.title)];
    if let Stands::BuiltIn(name) = &view.pile.layers[at].stands {
        lines.extend(BUILT_IN.iter().find(|b| b.name == name).map(|b| b.summary.to_owned()));
    }
    About { form: String::new(), lines }
}
