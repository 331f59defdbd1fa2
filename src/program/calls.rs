//! Calls: functions of the language, tables, and definitions, which are worked into their callers.

use super::builtin::{self, BuiltIn};
use super::declare::TOO_LARGE;
use super::emit::Here;
use super::foreign;
use super::literals::example_of;
use super::native;
use super::node::{Cause, Constant, Op, Reg};
use super::resolve::{Resolver, Scope, class_of};
use super::schema::{Flavor, Type};
use super::types::read_type;
use crate::notation::tree::{Argument, Define, Expr, Name};
use crate::problem::nearest::nearest;
use crate::problem::ring_of;
use crate::quantity::{Dimension, Number, Unit};
use crate::source::Span;
use rustc_hash::FxHashMap;
use std::collections::BTreeSet;
use std::sync::Arc;

/// How deep definitions may call each other; expressions in all have a bound of their own.
const MAX_CALLS: usize = 1_000;
/// How many times definitions may be worked into their callers: each call with arguments of its own is one.
const MAX_WORKED_IN: usize = 50_000;

/// A parameter as a call sees it.
pub(super) struct Wanted<'a> {
    pub(super) name: &'a str,
    /// Its type in words, for a message; empty when any will do.
    pub(super) words: String,
    pub(super) optional: bool,
}

impl Resolver {
    /// Whether a name is a function's or a table's.
    #[must_use]
    pub fn callable(&self, name: &str) -> bool {
        builtin::named(name).is_some()
            || native::named(self.d.natives, name).is_some()
            || self.d.defines.contains_key(name)
            || self.table_named(name).is_some()
    }

    /// Every name that can be called.
    pub fn callables(&self) -> Vec<String> {
        let mut out: Vec<String> = builtin::all().map(|b| b.name.to_owned()).collect();
        out.extend(self.d.natives.iter().copied().flatten().map(|n| n.name.to_owned()));
        out.extend(self.d.defines.keys().cloned());
        out.extend(self.d.tables.values().flat_map(|t| super::tables::function_names(&t.what)));
        out
    }

    pub(super) fn call(&mut self, scope: &Scope, name: &Name, arguments: &[Argument], span: Span) -> Option<Reg> {
        if !self.used.idle {
            self.used.names.insert(name.name.clone());
        }
        if let Some(record) = builtin::named(&name.name) {
            return self.call_builtin(scope, record, name, arguments, span);
        }
        if let Some((number, record)) = native::named(self.d.natives, &name.name) {
            return self.call_native(scope, number, record, name, arguments, span);
        }
        if self.d.defines.contains_key(&name.name) {
            return self.call_define(scope, name, arguments, span);
        }
        if let Some((table, result)) = self.table_named(&name.name) {
            return self.call_table(scope, &table, result, name, arguments, span);
        }
        let all = if self.hints == 0 { Vec::new() } else { self.callables() };
        self.hints = self.hints.saturating_sub(1);
        let written: Vec<String> = arguments.iter().map(|a| source_of(scope, a.value.span)).collect();
        let fix = foreign::instead(&name.name, &written)
            .or_else(|| {
                // not looked for again and again in a book of thousands of them
                let book = if all.is_empty() { None } else { foreign::built_in_with(&name.name) }?;
                Some(format!("use \"{book}\" brings it in"))
            })
            .or_else(|| nearest(&name.name, all.iter().map(String::as_str)).map(|n| format!("{n}(…)")));
        // its arguments tell their own problems all the same
        for argument in arguments {
            self.expr(scope, &argument.value);
        }
        let fix = fix.unwrap_or_else(|| format!("declare it: define {}(…) …", name.name));
        self.refuse(scope, name.span, "unknown function", format!("No function is called '{}'.", name.name), fix)
    }

    /// Arguments in the order of the parameters.
    pub(super) fn arranged<'e>(
        &mut self,
        scope: &Scope,
        name: &Name,
        wanted: &[Wanted<'_>],
        bare_first: bool,
        arguments: &'e [Argument],
        span: Span,
    ) -> Option<Vec<Option<&'e Expr>>> {
        let mut out: Vec<Option<&Expr>> = vec![None; wanted.len()];
        // parameters that a value without a name may have been meant for
        let mut meant = vec![false; wanted.len()];
        let mut sound = true;
        for (i, argument) in arguments.iter().enumerate() {
            let slot = match &argument.label {
                Some(label) => {
                    let slot = wanted.iter().position(|w| w.name == label.name);
                    if slot.is_none() {
                        let near = nearest(&label.name, wanted.iter().map(|w| w.name))
                            .map_or_else(|| listed(wanted), |n| format!("{n}:"));
                        self.refuse(
                            scope,
                            label.span,
                            "unknown argument",
                            format!("{} has no argument '{}'.", name.name, label.name),
                            near,
                        );
                        sound = false;
                        continue;
                    }
                    slot
                }
                None if i == 0 && !wanted.is_empty() && (bare_first || arguments.len() == 1) => Some(0),
                None => {
                    let free = (0..wanted.len()).find(|k| out[*k].is_none() && !meant[*k]);
                    if let Some(k) = free {
                        meant[k] = true;
                    }
                    let free = free.map(|k| wanted[k].name);
                    let what = format!("Which argument of {} this is must be said.", name.name);
                    let fix = free
                        .map_or_else(|| listed(wanted), |n| format!("{n}: {}", source_of(scope, argument.value.span)));
                    self.refuse(scope, argument.value.span, "argument without a name", what, fix);
                    sound = false;
                    continue;
                }
            };
            if let Some(slot) = slot {
                if out[slot].is_some() {
                    self.refuse(
                        scope,
                        argument.value.span,
                        "argument given twice",
                        format!("'{}' is given twice.", wanted[slot].name),
                        "give it once",
                    );
                    sound = false;
                }
                out[slot] = Some(&argument.value);
            }
        }
        for (w, given) in wanted.iter().zip(&out) {
            if sound && given.is_none() && !w.optional {
                let kind = if w.words.is_empty() { String::new() } else { format!(", {}", w.words) };
                let what = format!("{} needs '{}'{kind}.", name.name, w.name);
                self.refuse(scope, span, "argument missing", what, format!("{}: …", w.name));
                sound = false;
            }
        }
        sound.then_some(out)
    }

    fn call_builtin(
        &mut self,
        scope: &Scope,
        record: &'static BuiltIn,
        name: &Name,
        arguments: &[Argument],
        span: Span,
    ) -> Option<Reg> {
        let args: Vec<Option<Reg>> = if record.several {
            if let Some(label) = arguments.iter().find_map(|a| a.label.as_ref()) {
                return self.refuse(
                    scope,
                    label.span,
                    "unknown argument",
                    format!("{} takes values without names.", record.name),
                    record.signature,
                );
            }
            let made: Vec<Option<Reg>> = arguments.iter().map(|a| self.expr(scope, &a.value)).collect();
            if made.iter().any(Option::is_none) {
                return None;
            }
            made
        } else {
            let wanted: Vec<Wanted<'_>> = record
                .parameters
                .iter()
                .map(|p| Wanted { name: p.name, words: String::new(), optional: p.optional })
                .collect();
            let arranged = self.arranged(scope, name, &wanted, true, arguments, span)?;
            let made: Vec<Option<Option<Reg>>> =
                arranged.iter().map(|a| a.map_or(Some(None), |e| self.expr(scope, e).map(Some))).collect();
            made.into_iter().collect::<Option<Vec<_>>>()?
        };
        let here = Here { kind: scope.kind, text: Arc::clone(&scope.text), span };
        match (record.build)(&mut self.d.emit, &here, &args) {
            Ok(reg) => Some(reg),
            Err(what) => self.refuse(scope, span, "arguments do not fit", what, record.signature),
        }
    }

    /// An argument checked against the type that is wanted.
    pub(super) fn argument(&mut self, scope: &Scope, e: &Expr, wanted: Type, name: &str) -> Option<Reg> {
        let reg = self.expr(scope, e)?;
        let found = self.d.emit.node(reg).ty;
        if let Some(reg) = self.fitted(scope, reg, wanted, e.span) {
            return Some(reg);
        }
        let what = format!("'{name}' is {}; {} is needed.", found.words(), wanted.words());
        self.refuse(scope, e.span, "wrong type", what, example_of(wanted))
    }

    /// A value as a wanted type, where it is or can be checked to be one.
    fn fitted(&mut self, scope: &Scope, reg: Reg, wanted: Type, span: Span) -> Option<Reg> {
        let found = self.d.emit.node(reg).ty;
        match (wanted, found) {
            (Type::Number { flavor: Flavor::Count, .. }, Type::Number { dimension, flavor })
                if dimension.is_none() && flavor != Flavor::Percent =>
            {
                let here = Here { kind: scope.kind, text: Arc::clone(&scope.text), span };
                self.d.emit.count(&here, reg).ok()
            }
            (Type::Number { dimension, flavor: Flavor::Plain }, Type::Number { dimension: d, .. })
                if dimension == d =>
            {
                Some(reg)
            }
            _ if class_of(wanted) == class_of(found) => Some(reg),
            // a bare zero is a zero of anything
            (Type::Number { dimension, .. }, _) if matches!(self.d.emit.constant_of(reg), Some(Constant::Number(n)) if n.is_zero()) => {
                Some(self.d.emit.constant(Constant::Number(Number::ZERO), wanted, Unit::kept(dimension), None))
            }
            _ => None,
        }
    }

    fn call_table(
        &mut self,
        scope: &Scope,
        table: &str,
        result: usize,
        name: &Name,
        arguments: &[Argument],
        span: Span,
    ) -> Option<Reg> {
        let index = self.table(table)?;
        let declared = self.d.tables.get(table)?.clone();
        // what callers may give is what the lowest layer of the table asks for
        let original = self.d.replaced_tables.get(table).cloned().unwrap_or_else(|| declared.clone());
        let keys: Vec<_> = original.what.columns.iter().filter(|c| c.how.is_some()).cloned().collect();
        let types: Vec<Type> = keys.iter().map(|k| read_type(&k.ty.text).map_or(Type::Text, |t| t.0)).collect();
        let wanted: Vec<Wanted<'_>> = keys
            .iter()
            .zip(&types)
            .map(|(k, ty)| Wanted { name: &k.name.name, words: ty.words(), optional: k.default.is_some() })
            .collect();
        let bare = wanted.iter().filter(|w| !w.optional).count() == 1;
        let arranged = self.arranged(scope, name, &wanted, bare, arguments, span)?;
        let mut made = Vec::new();
        for ((key, ty), given) in keys.iter().zip(&types).zip(arranged) {
            let reg = match (given, &key.default) {
                (Some(e), _) => self.argument(scope, e, *ty, &key.name.name),
                (None, Some(default)) => self.constant(&original.text, default),
                (None, None) => None,
            };
            made.push(reg);
        }
        let given = made.into_iter().collect::<Option<Vec<Reg>>>()?;
        let compiled = &self.tables[index as usize];
        // the table that serves may have its keys in another order
        let by_name: FxHashMap<&str, Reg> = keys.iter().map(|k| k.name.name.as_str()).zip(given).collect();
        let ordered =
            compiled.keys.iter().map(|k| by_name.get(k.name.as_str()).copied()).collect::<Option<Vec<Reg>>>()?;
        let out = &compiled.results[result];
        let (ty, unit) = (out.ty, out.unit);
        let op = Op::Lookup { table: index, result: u32::try_from(result).unwrap_or(0), keys: ordered };
        let here = Here { kind: scope.kind, text: Arc::clone(&scope.text), span };
        match self.d.emit.push(&here, op, ty, unit, Some(Cause::NoRow(index))) {
            Ok(reg) => Some(reg),
            Err(what) => self.refuse(scope, span, "cannot be worked out", what, ""),
        }
    }

    fn call_define(&mut self, scope: &Scope, name: &Name, arguments: &[Argument], span: Span) -> Option<Reg> {
        if self.worked_in >= MAX_WORKED_IN {
            let what = format!("The definitions of this book call each other more than {MAX_WORKED_IN} times.");
            let fix = "fewer calls in each other, or a formula for what is used often";
            return self.too_large(scope, span, what, fix);
        }
        let declared = self.d.defines.get(&name.name)?.clone();
        let define = &declared.what;
        let types: Vec<Type> =
            define.parameters.iter().map(|p| read_type(&p.ty.text).map_or(Type::Text, |t| t.0)).collect();
        let wanted: Vec<Wanted<'_>> = define
            .parameters
            .iter()
            .zip(&types)
            .map(|(p, ty)| Wanted { name: &p.name.name, words: ty.words(), optional: p.default.is_some() })
            .collect();
        let bare = wanted.iter().filter(|w| !w.optional).count() == 1;
        let arranged = self.arranged(scope, name, &wanted, bare, arguments, span)?;
        if self.calling.contains(&name.name) {
            return self.define_ring(scope, &name.name, span);
        }
        if self.calling.len() >= MAX_CALLS {
            let what = format!("Definitions call each other more than {MAX_CALLS} deep here.");
            return self.too_large(scope, span, what, "put what several of them work out into one");
        }
        let given: Vec<Option<Option<Reg>>> = arranged
            .iter()
            .zip(define.parameters.iter().zip(&types))
            .map(|(e, (p, ty))| e.map_or(Some(None), |e| self.argument(scope, e, *ty, &p.name.name).map(Some)))
            .collect();
        let given = given.into_iter().collect::<Option<Vec<_>>>()?;
        let mut locals: FxHashMap<String, Reg> = FxHashMap::default();
        let mut key = Vec::new();
        for ((parameter, ty), given) in define.parameters.iter().zip(&types).zip(given) {
            let reg = match (given, &parameter.default) {
                (Some(reg), _) => reg,
                (None, Some(default)) => {
                    let inner = Scope {
                        kind: scope.kind,
                        text: Arc::clone(&declared.text),
                        locals: Some(Arc::new(locals.clone())),
                        quiet: true,
                    };
                    let reg = self.expr(&inner, default)?;
                    self.fitted(&inner, reg, *ty, default.span)?
                }
                (None, None) => return None,
            };
            key.push(reg);
            locals.insert(parameter.name.name.clone(), reg);
        }
        let key = (scope.kind, name.name.clone(), key);
        let locals = Arc::new(locals);
        if let Some(noted) = &mut self.noted {
            noted.call(scope, span, &key, &locals);
        }
        if let Some(done) = self.called.get(&key) {
            return *done;
        }
        self.worked_in += 1;
        self.calling.push(name.name.clone());
        let inner = Scope { kind: scope.kind, text: Arc::clone(&declared.text), locals: Some(locals), quiet: true };
        let body = self.expr(&inner, &define.body);
        let wanted = read_type(&define.ty.text).map_or(Type::Text, |t| t.0);
        let made = body.and_then(|reg| self.fitted(&inner, reg, wanted, define.body.span));
        self.calling.pop();
        self.called.insert(key, made);
        if made.is_none() && !scope.quiet && self.sound_alone.contains(&name.name) {
            self.does_not_fit(scope, name, span);
        }
        made
    }

    /// A definition that is sound by itself, but not with what it was given: a percent where a number was meant.
    fn does_not_fit(&mut self, scope: &Scope, name: &Name, span: Span) {
        if self.d.problems.iter().any(|p| p.kind == TOO_LARGE) {
            return;
        }
        let why = self.unsaid.take().unwrap_or_default();
        let Some(declared) = self.d.defines.get(&name.name) else { return };
        let parameters: Vec<String> =
            declared.what.parameters.iter().map(|p| format!("{} {}", p.name.name, p.ty.text)).collect();
        let what = format!("{} cannot be worked out with these arguments. {why}", name.name).trim_end().to_owned();
        self.refuse(scope, span, "arguments do not fit", what, format!("{}({})", name.name, parameters.join(", ")));
    }

    /// A limit of the whole book, told once, in a definition that is worked into its caller too.
    pub(super) fn too_large(&mut self, scope: &Scope, span: Span, what: String, fix: &str) -> Option<Reg> {
        self.d.too_large(&scope.text, span, what, fix);
        None
    }

    fn define_ring(&mut self, scope: &Scope, name: &str, span: Span) -> Option<Reg> {
        let start = self.calling.iter().position(|c| c == name).unwrap_or(0);
        let mut ring = self.calling[start..].to_vec();
        let members: BTreeSet<String> = ring.iter().cloned().collect();
        ring.push(name.to_owned());
        let (what, fix) = match ring.as_slice() {
            [name, _] => (format!("The definition {name} calls itself."), "work it out without calling it"),
            _ => {
                let what = format!("These definitions call each other in a ring: {}.", ring_of(&ring, "calls"));
                (what, "work one of them out without the other")
            }
        };
        if self.rings.insert(members) {
            self.d.problem(&scope.text, span, "formulas in a ring", what, fix.to_owned());
        }
        None
    }

    /// Checks every definition by itself, whether it is called or not.
    pub fn all_defines(&mut self) {
        let all: Vec<_> = self.d.defines.values().cloned().collect();
        let replaced: Vec<_> = self.d.replaced_defines.values().cloned().collect();
        // one that does not fit its callers is told, and the one below serves them
        for (name, old) in self.d.replaced_defines.clone() {
            if let Some(new) = self.d.defines.get(&name).cloned()
                && !self.same_shape(&old.what, &new.what, &new.text)
            {
                self.d.defines.insert(name, old);
            }
        }
        for declared in all {
            self.define_alone(&declared);
        }
        self.used.idle = true;
        for declared in replaced {
            self.define_alone(&declared);
        }
        self.used.idle = false;
    }

    /// What stands for the parameter at a place. Definitions share them, so that one that passes its parameters on to
    /// another finds that worked out.
    fn parameter(&mut self, place: usize, ty: Type) -> Reg {
        if let Some((.., reg)) = self.parameters.iter().find(|(p, t, _)| (*p, *t) == (place, ty)) {
            return *reg;
        }
        let unit = Unit::kept(ty.dimension().unwrap_or(Dimension::NONE));
        let reg = self.d.emit.fresh(self.d.job, ty, unit);
        self.parameters.push((place, ty, reg));
        reg
    }

    fn define_alone(&mut self, declared: &super::declare::Declared<Define>) {
        let define = &declared.what;
        let text = &declared.text;
        let mut locals: FxHashMap<String, Reg> = FxHashMap::default();
        for parameter in &define.parameters {
            let Some((ty, _)) = self.d.type_of(text, &parameter.ty) else { return };
            let place = locals.len();
            let reg = self.parameter(place, ty);
            if let Some(default) = &parameter.default {
                let scope = Scope {
                    kind: self.d.job,
                    text: Arc::clone(text),
                    locals: Some(Arc::new(locals.clone())),
                    quiet: false,
                };
                self.argument(&scope, default, ty, &parameter.name.name);
            }
            if locals.insert(parameter.name.name.clone(), reg).is_some() {
                let what = format!("'{}' is a parameter twice.", parameter.name.name);
                self.d.problem(text, parameter.name.span, "name already used", what, "another name".to_owned());
            }
        }
        let Some((wanted, _)) = self.d.type_of(text, &define.ty) else { return };
        let scope = Scope { kind: self.d.job, text: Arc::clone(text), locals: Some(Arc::new(locals)), quiet: false };
        self.calling.push(define.name.name.clone());
        let body = self.expr(&scope, &define.body);
        self.calling.pop();
        let Some(reg) = body else { return };
        if self.fitted(&scope, reg, wanted, define.body.span).is_some() {
            self.sound_alone.insert(define.name.name.clone());
        } else {
            let found = self.d.emit.node(reg).ty;
            let what =
                format!("{} is declared as {}, but this is {}.", define.name.name, wanted.words(), found.words());
            self.refuse(
                &scope,
                define.body.span,
                "wrong type",
                what,
                format!("define {}(…) {}", define.name.name, found.dimension().map_or("text".to_owned(), type_word)),
            );
        }
    }

    fn same_shape(&mut self, old: &Define, new: &Define, text: &Arc<crate::source::Text>) -> bool {
        let shape = |d: &Define| {
            let mut names: Vec<(String, Option<_>)> = d
                .parameters
                .iter()
                .map(|p| (p.name.name.clone(), read_type(&p.ty.text).ok().map(|t| class_of(t.0))))
                .collect();
            names.sort();
            (names, read_type(&d.ty.text).ok().map(|t| class_of(t.0)))
        };
        let same = shape(old) == shape(new);
        if !same {
            let what = format!(
                "'{}' must keep the parameters and the type of the definition that it replaces.",
                new.name.name
            );
            let parameters: Vec<String> =
                old.parameters.iter().map(|p| format!("{} {}", p.name.name, p.ty.text)).collect();
            self.d.problem(
                text,
                new.name.span,
                "type changed",
                what,
                format!("{}({}) {}", old.name.name, parameters.join(", "), old.ty.text),
            );
        }
        same
    }
}

fn listed(wanted: &[Wanted<'_>]) -> String {
    if wanted.is_empty() {
        "no arguments".to_owned()
    } else {
        wanted.iter().map(|w| format!("{}:", w.name)).collect::<Vec<_>>().join(", ")
    }
}

fn source_of(scope: &Scope, span: Span) -> String {
    scope.text.text.get(span.range()).unwrap_or("…").trim().to_owned()
}

fn type_word(dimension: Dimension) -> String {
    super::types::TYPES
        .iter()
        .find(|(_, ty, _)| *ty == Type::of(dimension))
        .map_or_else(|| dimension.unit_text(), |(name, ..)| (*name).to_owned())
}
