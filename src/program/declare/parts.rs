//! Tables, definitions, formulas, checks and items: declared once, or replacing what a lower book declares.

use super::{Declarations, Declared, Stand};
use crate::notation::tree::{ForLine, Formula, Name, Part};
use crate::problem::nearest::nearest;
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
            Part::Use(..) | Part::Rows(_) => {}
            Part::Table(block) => {
                let old = self.replace_named(
                    text,
                    layer,
                    (&block.name, block.replace, "table"),
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
            || crate::program::native::named(self.natives, &name.name).is_some()
            || (word == "table" && self.defines.contains_key(&name.name))
            || (word == "definition" && self.tables.contains_key(&name.name));
        let before = map(self).get(&name.name).map(|d| d.stand(|t| name_of(t).span));
        let declared = Declared { what: what.clone(), text: Arc::clone(text), layer };
        match (before, replace) {
            _ if taken => {
                let say = format!("'{}' is already the name of another function.", name.name);
                self.problem(text, name.span, "name already used", say, "another name".to_owned());
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
                let begins = if word == "definition" { "define" } else { word };
                let fix = match replace {
                    true => "take one of the two out".to_owned(),
                    false if old.layer < layer => format!("another name, or replace {begins} {}", name.name),
                    false => "another name for one of them".to_owned(),
                };
                self.problem(text, name.span, "name already used", say, fix);
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

    pub(in crate::program) fn note_replaced(&mut self, what: &str, old: Stand, new: Stand) {
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
                let word = if item.what == LineKind::Labor { "labor" } else { "item" };
                let declared = Declared { what: item.clone(), text: Arc::clone(text), layer };
                let old = self.items.get(&(kind, item.name.name.clone())).map(|d| d.stand(|i| i.name.span));
                if self.may_declare(text, layer, kind, &item.name, item.replace, word, old) {
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
        word: &str,
        old: Option<Stand>,
    ) -> bool {
        let rows = self.schema.kind(kind).name.clone();
        match (old, replace) {
            (None, false) => true,
            (Some(old), true) if old.layer < layer => {
                let now = Stand { layer, text: Arc::clone(text), span: name.span };
                self.note_replaced(&format!("{word} {} of {rows}", name.name), old, now);
                true
            }
            (Some(old), _) => {
                let old_is_below = old.layer < layer;
                let what = format!("There is already {} {word} '{}' for {rows}.", article(word), name.name);
                let said = if word == "formula" { String::new() } else { format!("{word} ") };
                let fix = match replace {
                    true => "take one of the two out".to_owned(),
                    false if old_is_below => format!("another name, or replace {said}{}", name.name),
                    false => "another name for one of them".to_owned(),
                };
                self.problem(text, name.span, "name already used", what, fix);
                false
            }
            (None, true) => {
                let what = format!(
                    "No book below has {} {word} '{}' for {rows}, so nothing is replaced.",
                    article(word),
                    name.name
                );
                self.problem(text, name.span, "nothing to replace", what, "leave out 'replace'".to_owned());
                self.unread.insert(name.name.clone());
                false
            }
        }
    }

    fn formula(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, formula: &Formula) {
        let name = &formula.name;
        let declared = Declared { what: formula.clone(), text: Arc::clone(text), layer };
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
