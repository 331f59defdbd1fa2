//! Expressions to nodes: every name, type and dimension, before a row is read.

use super::declare::{Declarations, example_of, nowhere};
use super::emit::Here;
use super::node::{Cause, Constant, Op, Reg, Scaled, Table};
use super::schema::{FieldId, Flavor, KindId, Type};
use crate::notation::tree::{Binary, Comparison, Expr, How, Literal, Name, Node};
use crate::problem::{Problem, nearest::nearest};
use crate::quantity::{Dimension, Number, Unit};
use crate::source::{Span, Text};
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// How far a field's working has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Progress {
    NotYet,
    Working,
    Done(Option<Reg>),
}

/// Where an expression stands: whose rows, which book, and which names are bound besides fields.
#[derive(Clone, Debug)]
pub struct Scope {
    /// The kind whose rows it speaks of.
    pub kind: KindId,
    /// The book.
    pub text: Arc<Text>,
    /// Parameters of the definition that is being worked in.
    pub locals: Option<Arc<FxHashMap<String, Reg>>>,
    /// Whether problems were already told where the definition stands.
    pub quiet: bool,
}

/// Turns declarations into nodes.
#[derive(Debug)]
pub struct Resolver {
    /// What is declared.
    pub d: Declarations,
    progress: Vec<Progress>,
    working: Vec<FieldId>,
    /// Hidden columns of children, by kind and node.
    hidden: FxHashMap<(KindId, Reg), FieldId>,
    /// Results of definitions, by name and arguments.
    pub(super) called: FxHashMap<(KindId, String, Vec<Reg>), Option<Reg>>,
    /// Definitions being worked in, outermost first.
    pub(super) calling: Vec<String>,
    /// Compiled tables, by name, lowest replaced ones not among them.
    pub tables: Vec<Table>,
    /// Index of each table.
    pub(super) table_index: FxHashMap<String, Option<u32>>,
}

impl Scope {
    fn here(&self, span: Span) -> Here {
        Here { kind: self.kind, text: Arc::clone(&self.text), span }
    }
}

impl Resolver {
    /// A resolver of declarations.
    #[must_use]
    pub fn new(d: Declarations) -> Self {
        let progress = vec![Progress::NotYet; d.schema.fields.len()];
        Self {
            d,
            progress,
            working: Vec::new(),
            hidden: FxHashMap::default(),
            called: FxHashMap::default(),
            calling: Vec::new(),
            tables: Vec::new(),
            table_index: FxHashMap::default(),
        }
    }

    /// Reports a problem unless it was told before, and gives nothing.
    pub fn refuse(
        &mut self,
        scope: &Scope,
        span: Span,
        kind: &'static str,
        what: impl Into<String>,
        fix: impl Into<String>,
    ) -> Option<Reg> {
        if !scope.quiet {
            let fix = fix.into();
            self.d.problem(&scope.text, span, kind, what.into(), fix);
        }
        None
    }

    fn accept(&mut self, scope: &Scope, span: Span, made: Result<Reg, String>) -> Option<Reg> {
        match made {
            Ok(reg) => Some(reg),
            Err(what) => self.refuse(scope, span, "cannot be worked out", what, ""),
        }
    }

    /// Works every formula out; each field's type is known afterwards.
    pub fn all_formulas(&mut self) {
        let count = u32::try_from(self.d.schema.fields.len()).unwrap_or(u32::MAX);
        for id in (0..count).map(FieldId) {
            self.formula_node(id);
        }
    }

    /// The node that serves for a formula that replaces another: its own, or the old one's where its type is wrong, so
    /// that one slip costs one message.
    fn of_the_type_replaced(&mut self, id: FieldId, new: Option<Reg>) -> Option<Reg> {
        let Some(old) = self.d.replaced_formulas.iter().find(|(f, _)| *f == id).map(|(_, old)| old.clone()) else {
            return new;
        };
        self.progress[id.0 as usize] = Progress::Done(new);
        let field = self.d.schema.field(id).clone();
        let scope = Scope { kind: field.kind, text: Arc::clone(&old.text), locals: None, quiet: true };
        let (Some(reg), Some(before)) = (new, self.expr(&scope, &old.what.body)) else { return new };
        let (ty, before_ty) = (self.d.emit.node(reg).ty, self.d.emit.node(before).ty);
        if class_of(ty) == class_of(before_ty) {
            return new;
        }
        let what = format!("'{}' is {} in the lower book and {} here.", field.name, before_ty.words(), ty.words());
        let fix = "a formula of the same type as the one it replaces".to_owned();
        self.d.problem(&field.text, field.span, "type changed", what, fix);
        Some(before)
    }

    /// The node of a formula, or of the cell for an input.
    pub fn formula_node(&mut self, id: FieldId) -> Option<Reg> {
        let index = id.0 as usize;
        if self.progress.len() <= index {
            self.progress.resize(index + 1, Progress::NotYet);
        }
        match self.progress[index] {
            Progress::Done(reg) => return reg,
            Progress::Working => {
                self.ring(id);
                return None;
            }
            Progress::NotYet => {}
        }
        let field = self.d.schema.field(id);
        if field.input.is_some() {
            let after = field.kind == self.d.lines;
            let here = Here { kind: field.kind, text: Arc::clone(&field.text), span: field.span };
            let field = field.clone();
            let reg = self.d.emit.field(&here, id, &field, true, 0, after);
            self.progress[index] = Progress::Done(Some(reg));
            return Some(reg);
        }
        let declared = self.d.formulas.get(&id).cloned()?;
        self.progress[index] = Progress::Working;
        self.working.push(id);
        let scope = Scope { kind: field.kind, text: Arc::clone(&declared.text), locals: None, quiet: false };
        let reg = self.expr(&scope, &declared.what.body);
        self.working.pop();
        let ring = self.progress[index] != Progress::Working;
        let reg = if ring { reg } else { self.of_the_type_replaced(id, reg) };
        // a ring through this field has already marked it
        if !ring {
            self.progress[index] = Progress::Done(reg);
        }
        if let Some(reg) = reg {
            self.settle(id, reg);
            for shown in &declared.what.shown {
                self.d.shown(&declared.text, id, shown);
            }
        }
        reg
    }

    /// Writes a node's type and unit into its field.
    fn settle(&mut self, id: FieldId, reg: Reg) {
        let node = self.d.emit.node(reg);
        let (ty, unit, shown) = (node.ty, node.unit, node.shown.clone());
        let metric = self.d.schema.metric;
        let field = &mut self.d.schema.fields[id.0 as usize];
        field.ty = ty;
        field.unit = unit;
        field.style.metric = metric;
        field.style.percent = ty == Type::PERCENT;
        if field.style.unit.is_none() {
            // plain lengths and money are shown as the trade writes them, whatever unit a literal had
            field.style.unit =
                shown.filter(|(_, u)| !matches!(u.dimension, Dimension::LENGTH | Dimension::MONEY | Dimension::NONE));
        }
    }

    fn ring(&mut self, id: FieldId) {
        let start = self.working.iter().position(|f| *f == id).unwrap_or(0);
        let ring: Vec<FieldId> = self.working[start..].to_vec();
        let names: Vec<String> = ring.iter().chain([&id]).map(|f| self.d.schema.field(*f).name.clone()).collect();
        let field = self.d.schema.field(id).clone();
        let what = format!("These depend on each other in a ring: {}.", names.join(" needs "));
        self.d.problem(
            &field.text,
            field.span,
            "formulas in a ring",
            what,
            "work one of them out from something else".to_owned(),
        );
        for f in ring {
            self.progress[f.0 as usize] = Progress::Done(None);
        }
    }

    /// A hidden column that holds a node.
    pub fn hidden_field(&mut self, kind: KindId, reg: Reg, text: &Arc<Text>, span: Span) -> FieldId {
        if let Some(id) = self.hidden.get(&(kind, reg)) {
            return *id;
        }
        let node = self.d.emit.node(reg).clone();
        if let Op::Field(own) = node.op {
            return own;
        }
        let id = self.d.add_field(kind, "", node.ty, node.unit, text, span);
        self.d.schema.fields[id.0 as usize].hidden = true;
        if self.progress.len() <= id.0 as usize {
            self.progress.resize(id.0 as usize + 1, Progress::NotYet);
        }
        self.progress[id.0 as usize] = Progress::Done(Some(reg));
        self.settle(id, reg);
        self.hidden.insert((kind, reg), id);
        id
    }

    /// The node that a field was worked out by, if it was.
    #[must_use]
    pub fn node_of(&self, id: FieldId) -> Option<Reg> {
        match self.progress.get(id.0 as usize) {
            Some(Progress::Done(reg)) => *reg,
            _ => None,
        }
    }

    /// An expression's node; nothing when a problem was told, here or where its cause stands.
    pub fn expr(&mut self, scope: &Scope, e: &Expr) -> Option<Reg> {
        match &e.node {
            Node::Literal(literal) => Some(self.literal(literal)),
            Node::Name(name) => self.name(scope, name, e.span),
            Node::Call { name, arguments } => self.call(scope, name, arguments, e.span),
            Node::Aggregate { how, kind, value, condition } => {
                self.aggregate(scope, e.span, *how, kind, value.as_deref(), condition.as_deref())
            }
            Node::Negate(a) => {
                let reg = self.number(scope, a, "A minus sign")?;
                let node = self.d.emit.node(reg);
                let (unit, shown) = (node.unit, node.shown.clone());
                let ty = match node.ty {
                    Type::PERCENT => Type::PERCENT,
                    _ => Type::of(unit.dimension),
                };
                let made = self.d.emit.push(&scope.here(e.span), Op::Negate(reg), ty, unit, None);
                let reg = self.accept(scope, e.span, made)?;
                self.d.emit.keep_shown(reg, shown);
                Some(reg)
            }
            Node::Not(a) => {
                let reg = self.yes_no(scope, a)?;
                let made = self.d.emit.push(&scope.here(e.span), Op::Not(reg), Type::YesNo, Unit::none(), None);
                self.accept(scope, e.span, made)
            }
            Node::Binary(op, a, b) => self.binary(scope, e.span, *op, a, b),
            Node::Compare(first, rest) => self.comparisons(scope, e.span, first, rest),
            Node::Given { value, negated } => {
                let reg = self.expr(scope, value)?;
                let made = self.d.emit.push(&scope.here(e.span), Op::Given(reg), Type::YesNo, Unit::none(), None);
                let reg = self.accept(scope, e.span, made)?;
                self.negated(scope, e.span, reg, *negated)
            }
            Node::OneOf { value, members, negated } => self.one_of(scope, e.span, value, members, *negated),
            Node::Power(a, n) => {
                let reg = self.number(scope, a, "A power")?;
                let made = self.d.emit.power(&scope.here(e.span), reg, *n);
                self.accept(scope, e.span, made)
            }
            Node::Choice(arms, otherwise) => self.choice(scope, e.span, arms, otherwise),
        }
    }

    fn negated(&mut self, scope: &Scope, span: Span, reg: Reg, negated: bool) -> Option<Reg> {
        if !negated {
            return Some(reg);
        }
        let made = self.d.emit.push(&scope.here(span), Op::Not(reg), Type::YesNo, Unit::none(), None);
        self.accept(scope, span, made)
    }

    /// A literal's constant.
    pub fn literal(&mut self, literal: &Literal) -> Reg {
        let emit = &mut self.d.emit;
        match literal {
            Literal::Number { value, unit } => {
                let kept = unit.as_ref().map_or_else(Unit::none, |(_, u)| *u);
                let whole = kept == Unit::none() && value.is_whole();
                let ty = if whole { Type::COUNT } else { Type::of(kept.dimension) };
                let shown = unit.clone().filter(|(_, u)| u.dimension != Dimension::LENGTH);
                emit.constant(Constant::Number(*value), ty, kept, shown)
            }
            Literal::Percent(value) => emit.constant(Constant::Number(*value), Type::PERCENT, Unit::none(), None),
            Literal::Text(t) => {
                let id = emit.texts.intern(t);
                emit.constant(Constant::Text(id), Type::Text, Unit::none(), None)
            }
            Literal::YesNo(v) => emit.constant(Constant::YesNo(*v), Type::YesNo, Unit::none(), None),
            Literal::Date(date) => {
                let days = Number::from(days_of(*date));
                emit.constant(Constant::Number(days), Type::Date, Unit::none(), None)
            }
        }
    }

    /// The kinds whose fields can be named here: the row's own, then those it belongs to, then the job.
    fn kinds_in_reach(&self, kind: KindId) -> Vec<KindId> {
        let mut out = vec![kind];
        let mut at = kind;
        while let Some(parent) = &self.d.schema.kind(at).parent {
            at = parent.kind;
            out.push(at);
        }
        if kind != self.d.job && kind != self.d.lines {
            out.push(self.d.job);
        }
        out
    }

    fn name(&mut self, scope: &Scope, name: &str, span: Span) -> Option<Reg> {
        if let Some(reg) = scope.locals.as_ref().and_then(|l| l.get(name)) {
            return Some(*reg);
        }
        let reach = if scope.locals.is_some() { Vec::new() } else { self.kinds_in_reach(scope.kind) };
        for kind in &reach {
            if let Some(id) = self.d.by_name[kind.0 as usize].get(name).copied() {
                return self.read_field(scope, id, span);
            }
        }
        let mut names: Vec<String> = reach
            .iter()
            .flat_map(|k| self.d.schema.kind(*k).fields.clone())
            .map(|f| self.d.schema.field(f).name.clone())
            .collect();
        names.retain(|n| !n.is_empty());
        if let Some(locals) = &scope.locals {
            names.extend(locals.keys().cloned());
        }
        names.sort_unstable();
        let lower = name.to_lowercase();
        let fix = if names.contains(&lower) {
            lower
        } else if self.callable(name) {
            format!("{name}(…) with its arguments")
        } else {
            match nearest(name, names.iter().map(String::as_str)) {
                Some(near) => near.to_owned(),
                None if scope.locals.is_some() => {
                    format!("a definition sees only its parameters; add '{name}' to them")
                }
                None if reach.is_empty() => "a value, or a function's name".to_owned(),
                None => format!("a field of {} or a formula's name", self.d.schema.kind(scope.kind).name),
            }
        };
        self.refuse(scope, span, "unknown name", format!("Nothing is called '{name}' here."), fix)
    }

    /// A node that reads a field from where the scope stands.
    pub fn read_field(&mut self, scope: &Scope, id: FieldId, span: Span) -> Option<Reg> {
        let node = self.formula_node(id)?;
        let node = self.d.emit.node(node);
        let (level, after) = (node.level, node.after_pricing);
        let constant = self.d.emit.constant_of(self.node_of(id)?).is_some();
        let field = self.d.schema.field(id).clone();
        if constant {
            return self.node_of(id);
        }
        let own = field.kind == scope.kind;
        Some(self.d.emit.field(&scope.here(span), id, &field, own, level, after))
    }

    /// A numeric operand.
    fn number(&mut self, scope: &Scope, e: &Expr, what: &str) -> Option<Reg> {
        let reg = self.expr(scope, e)?;
        let ty = self.d.emit.node(reg).ty;
        if ty.dimension().is_some() {
            return Some(reg);
        }
        self.refuse(
            scope,
            e.span,
            "wrong type",
            format!("{what} takes a number or a quantity; this is {}.", ty.words()),
            "a number or a quantity",
        )
    }

    /// A yes/no operand.
    pub fn yes_no(&mut self, scope: &Scope, e: &Expr) -> Option<Reg> {
        let reg = self.expr(scope, e)?;
        let ty = self.d.emit.node(reg).ty;
        if ty == Type::YesNo {
            return Some(reg);
        }
        self.refuse(
            scope,
            e.span,
            "wrong type",
            format!("A condition is yes or no; this is {}.", ty.words()),
            "a comparison, such as part <= limit",
        )
    }

    fn binary(&mut self, scope: &Scope, span: Span, op: Binary, a: &Expr, b: &Expr) -> Option<Reg> {
        if matches!(op, Binary::And | Binary::Or) {
            let (x, y) = (self.yes_no(scope, a), self.yes_no(scope, b));
            let (x, y) = (x?, y?);
            let op = if op == Binary::And { Op::And(x, y) } else { Op::Or(x, y) };
            let made = self.d.emit.push(&scope.here(span), op, Type::YesNo, Unit::none(), None);
            return self.accept(scope, span, made);
        }
        // both sides are looked at before giving up, so that each tells its own problems
        let (x, y) = (self.expr(scope, a), self.expr(scope, b));
        let (x, y) = (x?, y?);
        let (tx, ty) = (self.d.emit.node(x).ty, self.d.emit.node(y).ty);
        let (Some(dx), Some(dy)) = (tx.dimension(), ty.dimension()) else {
            return self.mismatch(scope, op_words(op), (a, tx), (b, ty), "two numbers or quantities".to_owned());
        };
        let here = scope.here(span);
        let made = match op {
            Binary::Add | Binary::Subtract => {
                if (tx == Type::PERCENT) != (ty == Type::PERCENT) {
                    return self.percent_sum(scope, a, b, tx == Type::PERCENT, op);
                }
                if dx != dy {
                    let fix = bridge(dx, dy);
                    return self.mismatch(scope, op_words(op), (a, tx), (b, ty), fix);
                }
                self.d.emit.add(&here, x, y, op == Binary::Subtract)
            }
            Binary::Of if tx != Type::PERCENT => {
                let what = format!("'of' takes a part in percent on its left; this is {}.", tx.words());
                return self.refuse(
                    scope,
                    a.span,
                    "wrong type",
                    what,
                    "a percent such as 10% of …, or '*' to multiply",
                );
            }
            Binary::Multiply | Binary::Of => self.d.emit.multiply(&here, x, y),
            Binary::Divide => self.d.emit.divide(&here, x, y),
            Binary::And | Binary::Or => return None,
        };
        self.accept(scope, span, made)
    }

    /// `x + 10%` has two readings.
    fn percent_sum(&mut self, scope: &Scope, a: &Expr, b: &Expr, left: bool, op: Binary) -> Option<Reg> {
        let text = |e: &Expr| scope.text.text.get(e.span.range()).unwrap_or("x").trim().to_owned();
        let (percent, other) = if left { (a, b) } else { (b, a) };
        let (p, x) = (text(percent), text(other));
        let whole = match &percent.node {
            Node::Literal(Literal::Percent(n)) => {
                let hundred = n.times(&100.into()).ok()?;
                let part = if op == Binary::Add {
                    Number::from(100).plus(&hundred)
                } else {
                    Number::from(100).minus(&hundred)
                };
                part.ok().map_or_else(|| format!("(100% + {p})"), |n| format!("{}%", n.to_decimal()))
            }
            _ => format!("(100% {} {p})", if op == Binary::Add { "+" } else { "-" }),
        };
        let plain = match &percent.node {
            Node::Literal(Literal::Percent(n)) => n.to_decimal().to_string(),
            _ => p.clone(),
        };
        let sign = if op == Binary::Add { "+" } else { "-" };
        let what = format!("It is not clear whether {p} is a part of {x} or a number by itself.");
        let fix = if left {
            format!("{p} of {x} for a part of {x}, or {plain} {sign} {x} for the number")
        } else {
            format!("{x} * {whole} for a part of {x}, or {x} {sign} {plain} for the number")
        };
        self.refuse(scope, a.span.to(b.span), "unclear percent", what, fix)
    }

    fn mismatch(&mut self, scope: &Scope, verb: &str, a: (&Expr, Type), b: (&Expr, Type), fix: String) -> Option<Reg> {
        if !scope.quiet {
            let (first, second) = if verb == SUBTRACTED { (b.1, a.1) } else { (a.1, b.1) };
            let what = format!("{} cannot be {verb} {}.", capital(&first.words()), second.words());
            let problem = Problem::stop("kinds do not fit", what)
                .in_book(&scope.text, a.0.span.to(b.0.span))
                .mark(a.0.span, a.1.words())
                .mark(b.0.span, b.1.words());
            self.d.problems.push(if fix.is_empty() { problem } else { problem.fix(fix) });
        }
        None
    }

    fn comparisons(&mut self, scope: &Scope, span: Span, first: &Expr, rest: &[(Comparison, Expr)]) -> Option<Reg> {
        let mut left = first;
        let mut out: Option<Reg> = None;
        for (how, right) in rest {
            let reg = self.compare(scope, left.span.to(right.span), *how, left, right)?;
            out = Some(match out {
                None => reg,
                Some(before) => {
                    let made =
                        self.d.emit.push(&scope.here(span), Op::And(before, reg), Type::YesNo, Unit::none(), None);
                    self.accept(scope, span, made)?
                }
            });
            left = right;
        }
        out
    }

    fn compare(&mut self, scope: &Scope, span: Span, how: Comparison, a: &Expr, b: &Expr) -> Option<Reg> {
        let x = self.expr(scope, a)?;
        let y = match (&b.node, self.list_of(scope, a)) {
            (Node::Name(word), Some(list)) => self.member(scope, b.span, word, &list)?,
            (Node::Literal(Literal::Text(word)), Some(list)) => self.member(scope, b.span, word, &list)?,
            _ => self.expr(scope, b)?,
        };
        let (tx, ty) = (self.d.emit.node(x).ty, self.d.emit.node(y).ty);
        let here = scope.here(span);
        let equality = matches!(how, Comparison::Equal | Comparison::NotEqual);
        match (tx, ty) {
            (Type::Number { dimension: dx, .. }, Type::Number { dimension: dy, .. }) if dx == dy => {}
            (Type::Date, Type::Date) => {}
            (Type::Text, Type::Text) | (Type::YesNo, Type::YesNo) if equality => {
                let made = self.d.emit.push(&here, Op::Same(x, y), Type::YesNo, Unit::none(), None);
                let reg = self.accept(scope, span, made)?;
                return self.negated(scope, span, reg, how == Comparison::NotEqual);
            }
            (Type::Text, Type::Text) | (Type::YesNo, Type::YesNo) => {
                return self.mismatch(scope, "put in order with", (a, tx), (b, ty), "'is' or 'is not'".to_owned());
            }
            _ => {
                let fix = format!("compare it with {}", example_of(tx));
                return self.mismatch(scope, "compared with", (a, tx), (b, ty), fix);
            }
        }
        let made = self
            .d
            .emit
            .align(x, y)
            .and_then(|(x, y, _)| self.d.emit.push(&here, Op::Compare(how, x, y), Type::YesNo, Unit::none(), None));
        self.accept(scope, span, made)
    }

    /// The list of words that a field is one of.
    fn list_of(&self, scope: &Scope, e: &Expr) -> Option<Vec<String>> {
        let Node::Name(name) = &e.node else { return None };
        if scope.locals.is_some() {
            return None;
        }
        let id =
            self.kinds_in_reach(scope.kind).iter().find_map(|k| self.d.by_name[k.0 as usize].get(name).copied())?;
        let list = &self.d.schema.field(id).input.as_ref()?.one_of;
        (!list.is_empty()).then(|| list.clone())
    }

    fn member(&mut self, scope: &Scope, span: Span, word: &str, list: &[String]) -> Option<Reg> {
        if let Some(found) = list.iter().find(|m| crate::source::texts::fold(m) == crate::source::texts::fold(word)) {
            return Some(self.literal(&Literal::Text(found.clone())));
        }
        let near = nearest(word, list.iter().map(String::as_str))
            .map_or_else(|| format!("one of {}", list.join(" ")), str::to_owned);
        self.refuse(scope, span, "not in the list", format!("'{word}' is not one of {}.", list.join(" ")), near)
    }

    fn one_of(&mut self, scope: &Scope, span: Span, value: &Expr, members: &[Name], negated: bool) -> Option<Reg> {
        let x = self.expr(scope, value)?;
        let ty = self.d.emit.node(x).ty;
        if ty != Type::Text {
            return self.refuse(
                scope,
                value.span,
                "wrong type",
                format!("Only a text is one of a list of words; this is {}.", ty.words()),
                "a comparison such as 1 <= x <= 3",
            );
        }
        let list = self.list_of(scope, value);
        let mut out: Option<Reg> = None;
        for member in members {
            let y = match &list {
                Some(list) => self.member(scope, member.span, &member.name, list)?,
                None => self.literal(&Literal::Text(member.name.clone())),
            };
            let made = self.d.emit.push(&scope.here(span), Op::Same(x, y), Type::YesNo, Unit::none(), None);
            let same = self.accept(scope, span, made)?;
            out = Some(match out {
                None => same,
                Some(before) => {
                    let made =
                        self.d.emit.push(&scope.here(span), Op::Or(before, same), Type::YesNo, Unit::none(), None);
                    self.accept(scope, span, made)?
                }
            });
        }
        self.negated(scope, span, out?, negated)
    }

    fn choice(&mut self, scope: &Scope, span: Span, arms: &[(Expr, Expr)], otherwise: &Expr) -> Option<Reg> {
        let conditions: Vec<Option<Reg>> = arms.iter().map(|(_, c)| self.yes_no(scope, c)).collect();
        let values: Vec<Option<Reg>> =
            arms.iter().map(|(v, _)| v).chain([otherwise]).map(|v| self.expr(scope, v)).collect();
        let conditions = conditions.into_iter().collect::<Option<Vec<_>>>()?;
        let values = values.into_iter().collect::<Option<Vec<_>>>()?;
        let exprs: Vec<&Expr> = arms.iter().map(|(v, _)| v).chain([otherwise]).collect();
        let first = self.d.emit.node(values[0]).ty;
        for (reg, e) in values.iter().zip(&exprs).skip(1) {
            let ty = self.d.emit.node(*reg).ty;
            if class_of(ty) != class_of(first) {
                return self.mismatch(
                    scope,
                    "an answer of the same choice as",
                    (exprs[0], first),
                    (e, ty),
                    "answers of one kind".to_owned(),
                );
            }
        }
        let same = values.iter().all(|v| self.d.emit.node(*v).ty == first);
        let ty = match first {
            Type::Number { dimension, .. } if !same => Type::of(dimension),
            ty => ty,
        };
        let shown = self.d.emit.node(values[0]).shown.clone();
        let aligned = match first {
            Type::Number { .. } => self.d.emit.align_all(&values),
            _ => Ok((values.iter().map(|r| Scaled { reg: *r, by: 1 }).collect(), Unit::none())),
        };
        let (mut aligned, unit) = match aligned {
            Ok(a) => a,
            Err(what) => return self.refuse(scope, span, "cannot be worked out", what, ""),
        };
        let otherwise = aligned.pop()?;
        let arms = conditions.into_iter().zip(aligned).collect();
        let made = self.d.emit.push(&scope.here(span), Op::Choose { arms, otherwise }, ty, unit, None);
        let reg = self.accept(scope, span, made)?;
        self.d.emit.keep_shown(reg, shown);
        Some(reg)
    }

    fn aggregate(
        &mut self,
        scope: &Scope,
        span: Span,
        how: How,
        kind: &Name,
        value: Option<&Expr>,
        condition: Option<&Expr>,
    ) -> Option<Reg> {
        let Some(child) = self.d.schema.kind_named(&kind.name) else {
            let names: Vec<&str> = self.d.schema.kinds.iter().map(|k| k.name.as_str()).collect();
            let fix =
                nearest(&kind.name, names).map_or("a kind of rows that belongs to this one".to_owned(), str::to_owned);
            return self.refuse(scope, kind.span, "unknown rows", format!("No rows are called '{}'.", kind.name), fix);
        };
        let belongs = self.d.schema.kind(child).parent.as_ref().is_some_and(|p| p.kind == scope.kind);
        let of_job = scope.kind == self.d.job && self.d.schema.kind(child).parent.is_none() && child != self.d.job;
        if !(belongs || of_job) || scope.locals.is_some() {
            let what = format!("{} do not belong to {}.", capital(&kind.name), self.d.schema.kind(scope.kind).name);
            return self.refuse(
                scope,
                kind.span,
                "unknown rows",
                what,
                "rows that belong to this one, or a formula in 'for job'",
            );
        }
        let inner = Scope { kind: child, ..scope.clone() };
        let value_reg = match (how, value) {
            (How::Count, None) => None,
            (How::Count, Some(v)) | (How::Any | How::All, Some(v)) => Some(self.yes_no(&inner, v)?),
            (_, Some(v)) => Some(self.number(&inner, v, "Bringing rows together")?),
            (_, None) => {
                return self.refuse(
                    scope,
                    span,
                    "statement not understood",
                    "It is not said what is to be brought together.",
                    format!("{} (…) with a value in the brackets", kind.name),
                );
            }
        };
        let condition_reg = match condition {
            Some(c) => Some(self.yes_no(&inner, c)?),
            None => None,
        };
        // a count's bracket is its condition
        let (value_reg, condition_reg) = match (how, value_reg, condition_reg) {
            (How::Count, Some(v), None) => (None, Some(v)),
            (How::Count, Some(v), Some(c)) => {
                let made = self.d.emit.push(&inner.here(span), Op::And(c, v), Type::YesNo, Unit::none(), None);
                (None, Some(self.accept(scope, span, made)?))
            }
            (_, v, c) => (v, c),
        };
        let mut below = (0, child == self.d.lines);
        for reg in [value_reg, condition_reg].into_iter().flatten() {
            let node = self.d.emit.node(reg);
            below = (below.0.max(node.level), below.1 | node.after_pricing);
        }
        let (ty, unit, shown) = match (how, value_reg) {
            (How::Count, _) => (Type::COUNT, Unit::none(), None),
            (How::Any | How::All, _) | (_, None) => (Type::YesNo, Unit::none(), None),
            (_, Some(v)) => {
                let node = self.d.emit.node(v);
                (node.ty, node.unit, node.shown.clone())
            }
        };
        let cause = matches!(how, How::Least | How::Most).then_some(Cause::Nothing(child));
        let cause = cause.or((how == How::Sum).then_some(Cause::TooLarge));
        let value = value_reg.map(|v| self.hidden_field(child, v, &scope.text, span));
        let condition = condition_reg.map(|c| self.hidden_field(child, c, &scope.text, span));
        let op = Op::Fold { how, kind: child, value, condition };
        let made = self.d.emit.fold(&scope.here(span), op, ty, unit, below, cause);
        let reg = self.accept(scope, span, made)?;
        self.d.emit.keep_shown(reg, shown);
        Some(reg)
    }

    /// A scope at the top of a book, where no row is.
    #[must_use]
    pub fn job_scope(&self, text: &Arc<Text>) -> Scope {
        Scope { kind: self.d.job, text: Arc::clone(text), locals: None, quiet: false }
    }

    /// A constant expression outside rows, such as a table's cell.
    pub fn constant(&mut self, text: &Arc<Text>, e: &Expr) -> Option<Reg> {
        let scope = Scope {
            kind: nowhere(text, e.span).kind,
            text: Arc::clone(text),
            locals: Some(Arc::default()),
            quiet: false,
        };
        self.expr(&scope, e)
    }
}

/// Types that may stand for each other.
#[must_use]
pub fn class_of(ty: Type) -> (u8, Dimension, bool) {
    match ty {
        Type::Number { dimension, flavor } => (0, dimension, flavor == Flavor::Percent),
        Type::Text => (1, Dimension::NONE, false),
        Type::YesNo => (2, Dimension::NONE, false),
        Type::Date => (3, Dimension::NONE, false),
    }
}

/// Days since 1970-01-01.
#[must_use]
pub fn days_of(date: crate::quantity::Date) -> i64 {
    let epoch = crate::quantity::Date::constant(1970, 1, 1);
    date.since(epoch).map_or(0, |s| i64::from(s.get_days()))
}

/// What is said of a difference, whose sides are named the other way about.
const SUBTRACTED: &str = "subtracted from";

fn op_words(op: Binary) -> &'static str {
    match op {
        Binary::Add => "added to",
        Binary::Subtract => SUBTRACTED,
        Binary::Multiply | Binary::Of => "multiplied with",
        Binary::Divide => "divided by",
        Binary::And | Binary::Or => "joined with",
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().collect::<String>() + chars.as_str())
}

/// What would bring the second side to the first, when one simple factor does.
fn bridge(a: Dimension, b: Dimension) -> String {
    if a.is_none() || b.is_none() {
        return "give both sides the same unit".to_owned();
    }
    // a price or a rate turns an amount into money or hours, seldom the other way about
    let (from, to) = if (b / a).money > 0 || (b / a).time > 0 { (a, b) } else { (b, a) };
    format!("multiply {} by a figure in {} to get {}", from.words(), (to / from).unit_text(), to.words())
}
