//! Calls of native functions.

use super::calls::Wanted;
use super::native::{Native, NativeArgument, Takes, bare_name};
use super::node::{Cause, Constant, Op, Reg};
use super::resolve::{Resolver, Scope, class_of};
use super::schema::{KindId, Type};
use crate::notation::tree::{Argument, Expr, Name};
use crate::problem::nearest::nearest;
use crate::quantity::Unit;
use crate::source::Span;
use crate::source::texts::fold;

impl Resolver {
    pub(super) fn call_native(
        &mut self,
        scope: &Scope,
        number: u32,
        record: &'static Native,
        name: &Name,
        arguments: &[Argument],
        span: Span,
    ) -> Option<Reg> {
        let words = |takes: Takes| match takes {
            Takes::Value(ty) => ty.words(),
            Takes::Word(words) => format!("one of {}", words.join(", ")),
            Takes::Rows(_) => "a kind of rows".to_owned(),
        };
        let parameters = record.parameters.iter();
        let wanted: Vec<Wanted<'_>> =
            parameters.map(|p| Wanted { name: p.name, words: words(p.takes), optional: p.optional }).collect();
        let arranged = self.arranged(scope, name, &wanted, true, arguments, span)?;
        let mut made = Vec::new();
        let mut sound = true;
        let mut below = None;
        for (parameter, given) in record.parameters.iter().zip(arranged) {
            let argument = match (given, parameter.takes) {
                (None, _) => Some(NativeArgument::Missing),
                (Some(e), Takes::Value(ty)) => self.argument(scope, e, ty, parameter.name).map(NativeArgument::Value),
                (Some(e), Takes::Word(words)) => self.word(scope, e, words).map(NativeArgument::Value),
                (Some(e), Takes::Rows(fields)) => self.rows_argument(scope, e, fields, parameter.name, &mut below),
            };
            sound &= argument.is_some();
            made.extend(argument);
        }
        if !sound {
            return None;
        }
        let unit = Unit::kept(record.result.dimension().unwrap_or_default());
        let here = scope.here(span);
        let op = Op::Native(number, made);
        let made = match below {
            Some(below) => self.d.emit.fold(&here, op, record.result, unit, below, Some(Cause::Native)),
            None => self.d.emit.push(&here, op, record.result, unit, Some(Cause::Native)),
        };
        self.accept(scope, span, made)
    }

    /// One of a function's words, written in quotes.
    fn word(&mut self, scope: &Scope, e: &Expr, words: &[&str]) -> Option<Reg> {
        let reg = match bare_name(e) {
            // a word without quotes is taken where nothing else has that name
            Some(name) if words.iter().any(|w| fold(w) == fold(&name.name)) && !self.is_name(scope, &name.name) => {
                self.literal(&crate::notation::tree::Literal::Text(name.name))
            }
            _ => self.expr(scope, e)?,
        };
        match self.d.emit.constant_of(reg) {
            Some(Constant::Text(id)) => {
                let text = self.d.emit.texts.get(id).to_string();
                if words.iter().any(|w| fold(w) == fold(&text)) {
                    return Some(reg);
                }
                let near = nearest(&text, words.iter().copied());
                let fix = near.map_or_else(|| format!("one of {}", words.join(", ")), |w| format!("\"{w}\""));
                let what = format!("'{text}' is not one of {}.", words.join(", "));
                self.refuse(scope, e.span, "not in the list", what, fix)
            }
            _ => {
                let what = format!("A word in quotes stands here, one of {}.", words.join(", "));
                self.refuse(
                    scope,
                    e.span,
                    "wrong type",
                    what,
                    words.first().map_or(String::new(), |w| format!("\"{w}\"")),
                )
            }
        }
    }

    fn is_name(&self, scope: &Scope, name: &str) -> bool {
        scope.locals.as_ref().is_some_and(|l| l.contains_key(name))
            || self.kinds_in_reach(scope.kind).iter().any(|k| self.d.by_name[k.0 as usize].contains_key(name))
    }

    /// Rows that belong to the row, by the name of their kind.
    fn rows_argument(
        &mut self,
        scope: &Scope,
        e: &Expr,
        fields: &[(&'static str, Type, bool)],
        parameter: &str,
        below: &mut Option<(u32, super::node::Phase)>,
    ) -> Option<NativeArgument> {
        let kind =
            bare_name(e).and_then(|n| self.d.schema.kind_named(&n.name)).filter(|k| self.belongs(*k, scope.kind));
        let Some(kind) = kind else {
            let own = &self.d.schema.kind(scope.kind).name;
            let what = format!("'{parameter}' takes the name of rows that belong to {own}.");
            self.refuse(scope, e.span, "unknown rows", what, format!("{parameter}: {parameter}"));
            return None;
        };
        let mut columns = Vec::new();
        let mut deepest = below.unwrap_or_default();
        let rows = self.d.schema.kind(kind).name.clone();
        for (name, ty, optional) in fields {
            let Some(id) = self.d.by_name[kind.0 as usize].get(*name).copied() else {
                if !optional {
                    let what = format!("{rows} have no field '{name}', which is needed here.");
                    self.refuse(
                        scope,
                        e.span,
                        "unknown name",
                        what,
                        format!("{name}, {}, in 'rows {rows}'", ty.words()),
                    );
                    return None;
                }
                columns.push(None);
                continue;
            };
            let node = self.formula_node(id)?;
            let node = self.d.emit.node(node);
            if class_of(node.ty) != class_of(*ty) {
                let what = format!("'{name}' of {rows} is {}; {} is needed here.", node.ty.words(), ty.words());
                self.refuse(scope, e.span, "wrong type", what, String::new());
                return None;
            }
            deepest = (deepest.0.max(node.level), deepest.1.max(node.phase));
            self.used.fields.insert(id);
            columns.push(Some(id));
        }
        *below = Some(deepest);
        Some(NativeArgument::Rows(kind, columns))
    }

    fn belongs(&self, kind: KindId, above: KindId) -> bool {
        self.d.schema.kind(kind).parent.as_ref().is_some_and(|p| p.kind == above)
    }
}
