//! Tables, definitions, formulas, checks and items: declared once, or replacing what a lower book declares.

use super::{Declarations, Declared};
use crate::notation::tree::{ForLine, Formula, Name, Part};
use crate::problem::nearest::nearest;
use crate::program::schema::{BookUsed, KindId, LineKind, Replaced, Type};
use crate::quantity::Unit;
use crate::source::Text;
use indexmap::IndexMap;
use std::sync::Arc;

impl Declarations {
    pub(super) fn part(&mut self, text: &Arc<Text>, layer: usize, part: &Part) {
        match part {
            Part::Use(..) | Part::Rows(_) => {}
            Part::Table(block) => {
                let old =
                    self.replace_named(text, layer, &block.name, block.replace, "table", |d| &mut d.tables, block);
                if let Some(old) = old {
                    self.replaced_tables.entry(block.name.name.clone()).or_insert(old);
                }
            }
            Part::Define(define) => {
                let old = self.replace_named(
                    text,
                    layer,
                    &define.name,
                    define.replace,
                    "definition",
                    |d| &mut d.defines,
                    define,
                );
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
                None => self.unknown_kind(text, name),
            },
            Part::Example(example) => {
                self.examples.push(Declared { what: example.clone(), text: Arc::clone(text), layer });
            }
        }
    }

    /// Declares something by name, or replaces it; gives back what it replaced.
    #[allow(clippy::too_many_arguments)]
    fn replace_named<T: Clone>(
        &mut self,
        text: &Arc<Text>,
        layer: usize,
        name: &Name,
        replace: bool,
        word: &str,
        map: impl Fn(&mut Self) -> &mut IndexMap<String, Declared<T>>,
        what: &T,
    ) -> Option<Declared<T>> {
        let taken = crate::program::builtin::named(&name.name).is_some()
            || crate::program::native::named(self.natives, &name.name).is_some()
            || (word == "table" && self.defines.contains_key(&name.name))
            || (word == "definition" && self.tables.contains_key(&name.name));
        let old_layer = map(self).get(&name.name).map(|d| d.layer);
        let declared = Declared { what: what.clone(), text: Arc::clone(text), layer };
        match (old_layer, replace) {
            _ if taken => {
                let say = format!("'{}' is already the name of another function.", name.name);
                self.problem(text, name.span, "name already used", say, "another name".to_owned());
                None
            }
            (None, false) => {
                map(self).insert(name.name.clone(), declared);
                None
            }
            (Some(old), true) if old < layer => {
                self.note_replaced(&format!("{word} {}", name.name), old, layer);
                map(self).insert(name.name.clone(), declared)
            }
            (Some(_), _) => {
                let say = format!("There is already a {word} called '{}'.", name.name);
                let fix = if replace {
                    "take one of the two out".to_owned()
                } else {
                    format!("another name, or replace {word} {}", name.name)
                };
                self.problem(text, name.span, "name already used", say, fix);
                None
            }
            (None, true) => {
                let near = nearest(&name.name, map(self).keys().map(String::as_str)).map(str::to_owned);
                let say = format!("No lower book has a {word} called '{}' that could be replaced.", name.name);
                self.problem(
                    text,
                    name.span,
                    "nothing to replace",
                    say,
                    near.unwrap_or_else(|| "leave out 'replace'".to_owned()),
                );
                None
            }
        }
    }

    pub(in crate::program) fn note_replaced(&mut self, what: &str, old: usize, new: usize) {
        let title = |b: &BookUsed| format!("{} {}", b.title, b.edition).trim().to_owned();
        if let (Some(from), Some(by)) = (self.schema.books.get(old), self.schema.books.get(new)) {
            let replaced = Replaced { what: what.to_owned(), from: title(from), by: title(by) };
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
                let old = self.checks.get(&(kind, check.name.name.clone())).map(|d| d.layer);
                if self.may_declare(text, layer, kind, &check.name, check.replace, "check", old) {
                    self.checks.insert((kind, check.name.name.clone()), declared);
                }
            }
            ForLine::Item(item) => {
                let word = if item.what == LineKind::Labor { "labor" } else { "item" };
                let declared = Declared { what: item.clone(), text: Arc::clone(text), layer };
                let old = self.items.get(&(kind, item.name.name.clone())).map(|d| d.layer);
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
        old: Option<usize>,
    ) -> bool {
        let rows = self.schema.kind(kind).name.clone();
        match (old, replace) {
            (None, false) => true,
            (Some(old), true) if old < layer => {
                self.note_replaced(&format!("{word} {} of {rows}", name.name), old, layer);
                true
            }
            (Some(_), _) => {
                let what = format!("There is already '{word} {}' for {rows}.", name.name);
                let fix = format!("another name, or replace {word} {} where a lower book has it", name.name);
                self.problem(text, name.span, "name already used", what, fix);
                false
            }
            (None, true) => {
                let what = format!("No lower book has '{word} {}' for {rows} that could be replaced.", name.name);
                self.problem(text, name.span, "nothing to replace", what, "leave out 'replace'".to_owned());
                false
            }
        }
    }

    fn formula(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, formula: &Formula) {
        let name = &formula.name;
        let declared = Declared { what: formula.clone(), text: Arc::clone(text), layer };
        let old = self.by_name[kind.0 as usize].get(&name.name).copied();
        let old_layer = old.map(|id| self.field_layers.get(&id).copied().unwrap_or(0));
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
        if !self.may_declare(text, layer, kind, name, formula.replace, "formula", old_layer) {
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
