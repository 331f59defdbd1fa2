//! Operators, comparisons, choices and children: nodes from the parts of an expression.

use super::literals::example_of;
use super::node::{Cause, Op, Phase, Reg, Scaled};
use super::resolve::{ChoiceSeen, Resolver, Scope, class_of};
use super::schema::Type;
use crate::notation::tree::{Binary, Comparison, Expr, How, Literal, Name, Node};
use crate::problem::{Problem, nearest::nearest};
use crate::quantity::{Dimension, Number, Unit};
use crate::source::Span;
use std::sync::Arc;

impl Resolver {
    pub(super) fn binary(&mut self, scope: &Scope, span: Span, op: Binary, a: &Expr, b: &Expr) -> Option<Reg> {
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
                    let plain = dx.is_none() && dy.is_none();
                    return self.percent_sum(scope, a, b, tx == Type::PERCENT, op, plain);
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

    /// `x + 10%` has two readings, of which a quantity leaves one.
    fn percent_sum(&mut self, scope: &Scope, a: &Expr, b: &Expr, left: bool, op: Binary, plain: bool) -> Option<Reg> {
        let text = |e: &Expr| scope.text.text.get(e.span.range()).unwrap_or("x").trim().to_owned();
        // what binds less than a product stands in brackets beside one
        let factor = |e: &Expr| match e.node {
            Node::Binary(..) | Node::Choice(..) | Node::Compare(..) | Node::Negate(_) => format!("({})", text(e)),
            _ => text(e),
        };
        let (percent, other) = if left { (a, b) } else { (b, a) };
        let (p, x) = (text(percent), text(other));
        let (sign, adds) = if op == Binary::Add { ("+", true) } else { ("-", false) };
        let whole = match &percent.node {
            Node::Literal(Literal::Percent(n)) => {
                let hundred = n.times(&100.into()).ok()?;
                let part = if adds { Number::from(100).plus(&hundred) } else { Number::from(100).minus(&hundred) };
                part.ok().map_or_else(|| format!("(100% {sign} {p})"), |n| format!("{}%", n.to_decimal()))
            }
            _ => format!("(100% {sign} {})", factor(percent)),
        };
        let number = match &percent.node {
            Node::Literal(Literal::Percent(n)) => n.to_decimal().to_string(),
            _ => format!("{} * 1", factor(percent)),
        };
        let part = match left {
            true => format!("{} of {}", factor(percent), factor(other)),
            false => format!("{} * {whole}", factor(other)),
        };
        let what = match plain {
            true => format!("It is not clear whether {p} is a part of {x} or a number by itself."),
            false => format!("It is not said what {p} is a part of."),
        };
        let fix = match (plain, left) {
            (true, true) => format!("{part} for a part of {x}, or {number} {sign} {x} for the number"),
            (true, false) => format!("{part} for a part of {x}, or {x} {sign} {number} for the number"),
            (false, _) => format!("{part} for a part of {x}, or '{} of' before another figure", factor(percent)),
        };
        self.refuse(scope, a.span.to(b.span), "unclear percent", what, fix)
    }

    fn mismatch(&mut self, scope: &Scope, verb: &str, a: (&Expr, Type), b: (&Expr, Type), fix: String) -> Option<Reg> {
        let (first, second) = if verb == SUBTRACTED { (b.1, a.1) } else { (a.1, b.1) };
        let what = format!("{} cannot be {verb} {}.", capital(&first.words()), second.words());
        if scope.quiet {
            self.unsaid = Some(what);
        } else {
            let problem = Problem::stop("kinds do not fit", what)
                .in_book(&scope.text, a.0.span.to(b.0.span))
                .mark(a.0.span, a.1.words())
                .mark(b.0.span, b.1.words());
            self.d.problems.push(if fix.is_empty() { problem } else { problem.fix(fix) });
        }
        None
    }

    pub(super) fn comparisons(
        &mut self,
        scope: &Scope,
        span: Span,
        first: &Expr,
        rest: &[(Comparison, Expr)],
    ) -> Option<Reg> {
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
            _ => {
                let text = self.d.emit.node(x).ty == Type::Text && matches!(b.node, Node::Name(_));
                self.text_meant = text;
                let y = self.expr(scope, b);
                self.text_meant = false;
                y?
            }
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
        if self.d.schema.options.as_ref().is_some_and(|o| o.field == id) {
            return Some(self.d.option_names.clone());
        }
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

    pub(super) fn one_of(
        &mut self,
        scope: &Scope,
        span: Span,
        value: &Expr,
        members: &[Name],
        negated: bool,
    ) -> Option<Reg> {
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

    pub(super) fn choice(&mut self, scope: &Scope, span: Span, arms: &[(Expr, Expr)], otherwise: &Expr) -> Option<Reg> {
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
        if !scope.quiet && !self.used.idle {
            let seen = conditions.iter().zip(arms).map(|(reg, (_, c))| (*reg, c.span)).collect();
            let otherwise = exprs[exprs.len() - 1].span;
            self.used.choices.push(ChoiceSeen { text: Arc::clone(&scope.text), conditions: seen, otherwise });
        }
        let arms = conditions.into_iter().zip(aligned).collect();
        let made = self.d.emit.push(&scope.here(span), Op::Choose { arms, otherwise }, ty, unit, None);
        let reg = self.accept(scope, span, made)?;
        self.d.emit.keep_shown(reg, shown);
        Some(reg)
    }

    pub(super) fn aggregate(
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
        let mut below = (0, if child == self.d.lines { Phase::Priced } else { Phase::Rows });
        for reg in [value_reg, condition_reg].into_iter().flatten() {
            let node = self.d.emit.node(reg);
            below = (below.0.max(node.level), below.1.max(node.phase));
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

pub(super) fn capital(text: &str) -> String {
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
    let turned = |d: Dimension| d.length <= 0 && d.force <= 0 && d.time <= 0 && d.money <= 0;
    if turned(to / from) {
        return format!("divide {} by a figure in {} to get {}", from.words(), (from / to).unit_text(), to.words());
    }
    format!("multiply {} by a figure in {} to get {}", from.words(), (to / from).unit_text(), to.words())
}
