//! Tables, definitions, formulas, checks and items: declared once, or replacing what a lower book declares.

use super::{Declarations, Declared, Stand};
use crate::notation::tree::{ForLine, Formula, Name, Part, Replaces};
use crate::problem::{Problem, nearest::nearest};
use crate::program::schema::{BookUsed, KindId, LineKind, Replaced, Type};
use crate::quantity::Unit;
use crate::source::Text;
use indexmap::IndexMap;
use std::sync::Arc;

/// "a check", "an item"; labor is not counted.
fn article(word: &str) -> &'static str {
    match word {
        "labor" | "options" => "the",
        _ if word.starts_with(['a', 'e', 'i', 'o', 'u']) => "an",
        _ => "a",
    }
}

impl Declarations {
    pub(super) fn part(&mut self, text: &Arc<Text>, layer: usize, part: &Part) {
        match part {
            Part::Use(_) | Part::Rows(_) => {}
            Part::Table(block) if block.replaces == Replaces::Rows => self.rows_of(text, layer, block),
            Part::Table(block) => {
                let old = self.replace_named(
                    text,
                    layer,
                    (&block.name, block.replaces == Replaces::Table, "table"),
                    |d| &mut d.tables,
                    block,
                    |b| &b.name,
                );
                if let Some(old) = old {
                    self.replaced_tables.entry(block.name.name.clone()).or_insert(old);
                }
            }
            Part::Define(define) => {
                let naming = (&define.name, define.replace, "definition");
                let old = self.replace_named(text, layer, naming, |d| &mut d.defines, define, |d| &d.name);
                if let Some(old) = old {
                    self.replaced_defines.entry(define.name.name.clone()).or_insert(old);
                }
            }
            Part::For(name, lines) => match self.schema.kind_named(&name.name) {
                Some(kind) if kind != self.lines => {
                    lines.iter().for_each(|line| self.for_line(text, layer, kind, line))
                }
                Some(_) => {
                    let what = "Lines are made by the engine; formulas over them stand in 'for job'.".to_owned();
                    self.problem(text, name.span, "unknown rows", what, "for job".to_owned());
                }
                None => {
                    self.unknown_kind(text, name);
                    for line in lines {
                        match line {
                            ForLine::Formula(f) => drop(self.unread.insert(f.name.name.clone())),
                            ForLine::Options(o) => drop(self.unread.insert(o.name.name.clone())),
                            _ => {}
                        }
                    }
                }
            },
            Part::Example(example) => {
                self.examples.push(Declared { what: example.clone(), text: Arc::clone(text), layer });
            }
        }
    }

    /// Declares something by name, or replaces it; gives back what it replaced.
    fn replace_named<T: Clone>(
        &mut self,
        text: &Arc<Text>,
        layer: usize,
        (name, replace, word): (&Name, bool, &str),
        map: impl Fn(&mut Self) -> &mut IndexMap<String, Declared<T>>,
        what: &T,
        name_of: impl Fn(&T) -> &Name,
    ) -> Option<Declared<T>> {
        let taken = crate::program::builtin::named(&name.name).is_some()
            || crate::program::native::named(self.natives, &name.name).is_some();
        // tables and definitions are called alike
        let other = match word {
            "table" => self.defines.get(&name.name).map(|d| ("definition", d.stand(|d| d.name.span))),
            _ => self.tables.get(&name.name).map(|t| ("table", t.stand(|t| t.name.span))),
        };
        let before = map(self).get(&name.name).map(|d| d.stand(|t| name_of(t).span));
        let declared = Declared { what: what.clone(), text: Arc::clone(text), layer };
        match (before, replace) {
            _ if taken => {
                let say = format!("'{}' is already the name of another function.", name.name);
                self.problem(text, name.span, "name already used", say, "another name".to_owned());
                None
            }
            _ if other.is_some() => {
                self.of_another_type(text, name, word, other, replace);
                None
            }
            (None, false) => {
                map(self).insert(name.name.clone(), declared);
                None
            }
            (Some(old), true) if old.layer < layer => {
                let now = Stand { layer, text: Arc::clone(text), span: name.span };
                self.note_replaced(&format!("{word} {}", name.name), old, now);
                map(self).insert(name.name.clone(), declared)
            }
            (Some(old), _) => {
                let say = format!("There is already a {word} called '{}'.", name.name);
                let now = Stand { layer, text: Arc::clone(text), span: name.span };
                self.there_already(say, &now, &old, &format!("{} {}", statement(word), name.name), replace);
                None
            }
            (None, true) => {
                let near = nearest(&name.name, map(self).keys().map(String::as_str)).map(str::to_owned);
                let say = format!("No book below has a {word} called '{}', so nothing is replaced.", name.name);
                self.problem(
                    text,
                    name.span,
                    "nothing to replace",
                    say,
                    near.unwrap_or_else(|| "leave out 'replace'".to_owned()),
                );
                self.unread.insert(name.name.clone());
                None
            }
        }
    }

    /// Refuses what would take the place, or the name, of something of another type.
    fn of_another_type(
        &mut self,
        text: &Arc<Text>,
        name: &Name,
        word: &str,
        other: Option<(&'static str, Stand)>,
        replace: bool,
    ) {
        let Some((its, stand)) = other else { return };
        let name_of = &name.name;
        let (kind, say, fix) = if replace && !Arc::ptr_eq(&stand.text, text) {
            let say = format!("'{name_of}' is {} in the lower book; {} cannot take its place.", an(its), an(word));
            ("type changed", say, format!("replace {}", replaced_as(its, name_of)))
        } else {
            let say = format!("'{name_of}' is already the name of {}.", an(its));
            ("name already used", say, "another name".to_owned())
        };
        let problem = Problem::stop(kind, say).in_book(text, name.span).in_book(&stand.text, stand.span);
        self.tell(problem.fix(fix));
    }

    /// Refuses what is stated already, with both places.
    pub(in crate::program) fn there_already(
        &mut self,
        say: String,
        now: &Stand,
        old: &Stand,
        named: &str,
        replace: bool,
    ) {
        let (there, here) = (&old.text.name, &now.text.name);
        let (say, fix) = if Arc::ptr_eq(&now.text, &old.text) || replace {
            (say, "another name, or take one of the two out".to_owned())
        } else if self.stands_on(now.layer, old.layer) {
            (say, format!("another name, or replace {named}"))
        } else {
            // two books side by side, which may know nothing of each other
            let say = format!("{} It stands in {there}, which {here} does not use.", say);
            (say, format!("another name in one of the two; or let {here} use {there}, and replace {named}"))
        };
        let problem = Problem::stop("name already used", say).in_book(&now.text, now.span);
        self.tell(problem.in_book(&old.text, old.span).fix(fix));
    }

    pub(in crate::program) fn note_replaced(&mut self, what: &str, old: Stand, new: Stand) {
        self.note_clash(what, &old, &new);
        let title = |b: &BookUsed| format!("{} {}", b.title, b.edition).trim().to_owned();
        if let (Some(from), Some(by)) = (self.schema.books.get(old.layer), self.schema.books.get(new.layer)) {
            let (from, by) = (title(from), title(by));
            let replaced =
                Replaced { what: what.to_owned(), from, by, was: (old.text, old.span), now: (new.text, new.span) };
            self.schema.replaced.push(replaced);
        }
    }

    fn for_line(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &ForLine) {
        match line {
            ForLine::Formula(formula) => self.formula(text, layer, kind, formula),
            ForLine::Options(options) => self.options(text, layer, kind, options),
            ForLine::Cutting(cutting) => self.cutting(text, layer, kind, cutting),
            ForLine::Telling(telling) => self.telling(text, layer, kind, telling),
            ForLine::Dividing(dividing) => self.dividing(text, layer, kind, dividing),
            ForLine::Buying(buying) => self.buying(text, layer, kind, buying),
            ForLine::Check(check) => {
                let declared = Declared { what: check.clone(), text: Arc::clone(text), layer };
                let old = self.checks.get(&(kind, check.name.name.clone())).map(|d| d.stand(|c| c.name.span));
                if self.may_declare(text, layer, kind, &check.name, check.replace, "check", old) {
                    self.checks.insert((kind, check.name.name.clone()), declared);
                }
            }
            ForLine::Item(item) => {
                let word = item_word(item.what);
                let declared = Declared { what: item.clone(), text: Arc::clone(text), layer };
                let old = self.items.get(&(kind, item.name.name.clone()));
                let other = old.filter(|d| d.what.what != item.what);
                let other = other.map(|d| (item_word(d.what.what), d.stand(|i| i.name.span)));
                let old = old.map(|d| d.stand(|i| i.name.span));
                if other.is_some() {
                    self.of_another_type(text, &item.name, word, other, item.replace);
                } else if self.may_declare(text, layer, kind, &item.name, item.replace, word, old) {
                    self.items.insert((kind, item.name.name.clone()), declared);
                }
            }
        }
    }

    #[allow(clippy::too_many_arguments)]
    pub(in crate::program) fn may_declare(
        &mut self,
        text: &Arc<Text>,
        layer: usize,
        kind: KindId,
        name: &Name,
        replace: bool,
        word: &'static str,
        old: Option<Stand>,
    ) -> bool {
        let rows = self.schema.kind(kind).name.clone();
        let now = Stand { layer, text: Arc::clone(text), span: name.span };
        match (old, replace) {
            (None, false) => true,
            (Some(old), true) if old.layer < layer => {
                self.note_replaced(&format!("{word} {} of {rows}", name.name), old, now);
                true
            }
            (Some(old), _) => {
                let what = format!("There is already {} {word} '{}' for {rows}.", article(word), name.name);
                self.there_already(what, &now, &old, &replaced_as(word, &name.name), replace);
                false
            }
            (None, true) => {
                let other = self.of_rows(kind, &name.name).filter(|(its, _)| *its != word);
                if other.is_some() {
                    self.of_another_type(text, name, word, other, true);
                    return false;
                }
                let what = format!(
                    "No book below has {} {word} '{}' for {rows}, so nothing is replaced.",
                    article(word),
                    name.name
                );
                let near = nearest(&name.name, self.names_of(kind, word)).map(|near| replaced_as(word, near));
                let fix = near.map_or_else(|| "leave out 'replace'".to_owned(), |near| format!("replace {near}"));
                self.problem(text, name.span, "nothing to replace", what, fix);
                self.unread.insert(name.name.clone());
                false
            }
        }
    }

    /// What is called so among what is said of rows of a kind.
    fn of_rows(&self, kind: KindId, name: &str) -> Option<(&'static str, Stand)> {
        let key = (kind, name.to_owned());
        let check = self.checks.get(&key).map(|d| ("check", d.stand(|c| c.name.span)));
        let item = || self.items.get(&key).map(|d| (item_word(d.what.what), d.stand(|i| i.name.span)));
        let formula = || {
            let field = self.by_name[kind.0 as usize].get(name)?;
            self.formulas.get(field).map(|d| ("formula", d.stand(|f| f.name.span)))
        };
        check.or_else(item).or_else(formula)
    }

    /// Names of the checks, items or formulas of a kind.
    fn names_of(&self, kind: KindId, word: &str) -> Vec<&str> {
        match word {
            "check" => self.checks.keys().filter(|(k, _)| *k == kind).map(|(_, n)| n.as_str()).collect(),
            "item" | "labor" => {
                let items = self.items.iter().filter(|((k, _), d)| *k == kind && item_word(d.what.what) == word);
                items.map(|((_, n), _)| n.as_str()).collect()
            }
            "formula" => {
                let fields = self.schema.kind(kind).fields.iter().filter(|f| self.formulas.contains_key(f));
                fields.map(|f| self.schema.field(*f).name.as_str()).collect()
            }
            _ => Vec::new(),
        }
    }

    fn formula(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, formula: &Arc<Formula>) {
        let name = &formula.name;
        let declared = Declared { what: Arc::clone(formula), text: Arc::clone(text), layer };
        let old = self.by_name[kind.0 as usize].get(&name.name).copied();
        if old.is_some() && old == self.schema.options.as_ref().map(|o| o.field) {
            let what = format!("'{}' is the option that a row stands under.", name.name);
            return self.problem(text, name.span, "name already used", what, format!("replace options {}", name.name));
        }
        if let Some(id) = old
            && self.schema.field(id).input.is_some()
        {
            let what = format!("'{}' is already read from the sheet.", name.name);
            return self.problem(
                text,
                name.span,
                "name already used",
                what,
                "another name for what is worked out".to_owned(),
            );
        }
        let before = old.and_then(|id| self.formulas.get(&id)).map(|d| d.stand(|f| f.name.span));
        if !self.may_declare(text, layer, kind, name, formula.replace, "formula", before) {
            return;
        }
        let id = match old {
            Some(id) => {
                if let Some(before) = self.formulas.remove(&id) {
                    self.replaced_formulas.push((id, before));
                }
                id
            }
            None => self.add_field(
                kind,
                &name.name,
                Type::of(crate::quantity::Dimension::NONE),
                Unit::none(),
                text,
                formula.span,
            ),
        };
        self.field_layers.insert(id, layer);
        let field = &mut self.schema.fields[id.0 as usize];
        field.text = Arc::clone(text);
        field.span = formula.span;
        if let Some(label) = &formula.label {
            field.label.clone_from(label);
        }
        field.note.clone_from(&formula.note);
        field.source.clone_from(&formula.source);
        self.formulas.insert(id, declared);
    }
}

/// The word of something bought or done.
fn item_word(what: LineKind) -> &'static str {
    if what == LineKind::Labor { "labor" } else { "item" }
}

/// A word with its article.
fn an(word: &str) -> String {
    match word {
        "labor" | "options" => word.to_owned(),
        _ if word.starts_with(['a', 'e', 'i', 'o', 'u']) => format!("an {word}"),
        _ => format!("a {word}"),
    }
}

/// The word by which a statement begins.
fn statement(word: &str) -> &str {
    if word == "definition" { "define" } else { word }
}

/// Something as a statement names it after `replace`.
fn replaced_as(word: &str, name: &str) -> String {
    if word == "formula" { name.to_owned() } else { format!("{} {name}", statement(word)) }
}
