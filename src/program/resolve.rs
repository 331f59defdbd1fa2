//! Expressions to nodes: every name, type and dimension, before a row is read.

use super::declare::{Declarations, nowhere};
use super::emit::{self, Here};
use super::node::{Constant, Op, Phase, Reg, Table};
use super::schema::{FieldId, Flavor, KindId, Type};
use super::workings::Noted;
use crate::notation::tree::{Expr, Literal, Node};
use crate::problem::nearest::nearest;
use crate::problem::ring_of;
use crate::quantity::{Dimension, Number, Unit};
use crate::source::texts::Texts;
use crate::source::{Span, Text};
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BTreeSet;
use std::sync::Arc;

/// How many unknown names get a nearest one: each look goes over all names of a book.
const MAX_HINTS: usize = 100;
/// How many expressions may be worked in, each for the one before it: what the compiler's stack holds with room to spare.
const MAX_DEEP: usize = 20_000;

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

/// A choice as it was written, for the hints about its branches.
#[derive(Clone, Debug)]
pub(super) struct ChoiceSeen {
    /// The book.
    pub(super) text: Arc<Text>,
    /// Conditions, in order, with where they stand.
    pub(super) conditions: Vec<(Reg, Span)>,
    /// Where the last value stands.
    pub(super) otherwise: Span,
}

/// What rules make use of, for the hints about the rest.
#[derive(Clone, Debug, Default)]
pub(super) struct Used {
    /// Fields that are read.
    pub(super) fields: FxHashSet<FieldId>,
    /// Functions and tables that are called.
    pub(super) names: FxHashSet<String>,
    /// Choices.
    pub(super) choices: Vec<ChoiceSeen>,
    /// Whether what is being worked out is not in force, so that nothing counts.
    pub(super) idle: bool,
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
    /// What stands for parameters where definitions are checked by themselves, by place and type.
    pub(super) parameters: Vec<(usize, Type, Reg)>,
    /// Definitions being worked in, outermost first.
    pub(super) calling: Vec<String>,
    /// How many times a definition was worked into a caller.
    pub(super) worked_in: usize,
    /// Definitions that hold for any argument of their parameters' types.
    pub(super) sound_alone: FxHashSet<String>,
    /// Rings of definitions that were told.
    pub(super) rings: BTreeSet<BTreeSet<String>>,
    /// What a definition could not do, for the caller to tell.
    pub(super) unsaid: Option<String>,
    /// Whether a name that nothing declares was meant as a text.
    pub(super) text_meant: bool,
    /// How many nearest names may still be looked for.
    pub(super) hints: usize,
    /// What is made use of.
    pub(super) used: Used,
    /// Compiled tables, by name, lowest replaced ones not among them.
    pub tables: Vec<Table>,
    /// Index of each table.
    pub(super) table_index: FxHashMap<String, Option<u32>>,
    /// Which step each part of an expression became, where somebody will ask.
    pub(super) noted: Option<Noted>,
    /// How many expressions are being worked in, each for the one before it.
    deep: usize,
}

impl Scope {
    pub(super) fn here(&self, span: Span) -> Here {
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
            parameters: Vec::new(),
            calling: Vec::new(),
            worked_in: 0,
            sound_alone: FxHashSet::default(),
            rings: BTreeSet::new(),
            unsaid: None,
            text_meant: false,
            hints: MAX_HINTS,
            used: Used::default(),
            tables: Vec::new(),
            table_index: FxHashMap::default(),
            noted: None,
            deep: 0,
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
        let what = what.into();
        if what == emit::FULL {
            let fix = "fewer formulas, or fewer values and operators in them";
            return self.too_large(scope, span, what, fix);
        }
        if scope.quiet {
            self.unsaid = Some(what);
        } else {
            self.d.problem(&scope.text, span, kind, what, fix.into());
        }
        None
    }

    pub(super) fn accept(&mut self, scope: &Scope, span: Span, made: Result<Reg, String>) -> Option<Reg> {
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
        let idle = std::mem::replace(&mut self.used.idle, true);
        let before = self.expr(&scope, &old.what.body);
        self.used.idle = idle;
        let (Some(reg), Some(before)) = (new, before) else { return new };
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
        let chosen = self.d.schema.options.as_ref().is_some_and(|o| o.field == id);
        if field.input.is_some() || chosen {
            let phase = match (chosen, field.kind == self.d.lines) {
                (true, _) => Phase::Options,
                (false, true) => Phase::Priced,
                (false, false) => Phase::Rows,
            };
            let here = Here { kind: field.kind, text: Arc::clone(&field.text), span: field.span };
            let field = field.clone();
            let reg = self.d.emit.field(&here, id, &field, true, 0, phase);
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
        // nobody reads a thing off a sheet
        field.hidden |= matches!(ty, Type::Thing(_));
        if field.style.unit.is_none() {
            // plain lengths and money are shown as the trade writes them, whatever unit a literal had; gallons for an area
            // are no plain length
            let plain = |(name, unit): &(String, Unit)| {
                matches!(unit.dimension, Dimension::MONEY | Dimension::NONE)
                    || unit.dimension == Dimension::LENGTH && !name.contains('/')
            };
            field.style.unit = shown.filter(|s| !plain(s));
        }
    }

    fn ring(&mut self, id: FieldId) {
        let start = self.working.iter().position(|f| *f == id).unwrap_or(0);
        let ring: Vec<FieldId> = self.working[start..].to_vec();
        let names: Vec<String> = ring.iter().chain([&id]).map(|f| self.d.schema.field(*f).name.clone()).collect();
        let field = self.d.schema.field(id).clone();
        let what = match names.as_slice() {
            [name, _] => format!("'{name}' is worked out from itself."),
            _ => format!("These depend on each other in a ring: {}.", ring_of(&names, "needs")),
        };
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
        if self.deep >= MAX_DEEP {
            let what = "Formulas stand on each other too deep here: one needs the next, through 20,000 steps.";
            return self.too_large(scope, e.span, what.to_owned(), "work some of them out from what is read");
        }
        self.deep += 1;
        let made = self.part(scope, e);
        self.deep -= 1;
        if let (Some(noted), Some(reg)) = (&mut self.noted, made) {
            noted.part(scope, e.span, reg);
        }
        made
    }

    fn part(&mut self, scope: &Scope, e: &Expr) -> Option<Reg> {
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

    pub(super) fn negated(&mut self, scope: &Scope, span: Span, reg: Reg, negated: bool) -> Option<Reg> {
        if !negated {
            return Some(reg);
        }
        let made = self.d.emit.push(&scope.here(span), Op::Not(reg), Type::YesNo, Unit::none(), None);
        self.accept(scope, span, made)
    }

    /// A literal's constant.
    pub fn literal(&mut self, literal: &Literal) -> Reg {
        let Worth { value, ty, unit, shown } = worth(&mut self.d.emit.texts, literal);
        self.d.emit.constant(value, ty, unit, shown)
    }

    /// The kinds whose fields can be named here: the row's own, then those it belongs to, then the job.
    pub(super) fn kinds_in_reach(&self, kind: KindId) -> Vec<KindId> {
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
        if self.d.lost.contains(&scope.kind) {
            self.d.untold = true;
            return None;
        }
        let what = format!("Nothing is called '{name}' here.");
        if ["blank", "empty", "missing", "null"].contains(&name) {
            let fix = "'is not given' where a cell is blank, 'is given' where it is not";
            return self.refuse(scope, span, "unknown name", what, fix);
        }
        if self.hints == 0 {
            return self.refuse(scope, span, "unknown name", what, "a name that the book declares");
        }
        self.hints -= 1;
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
                None if self.text_meant => format!("\"{name}\", for a text stands in quotes"),
                None if scope.locals.is_some() => {
                    format!("a definition sees only its parameters; add '{name}' to them")
                }
                None if reach.is_empty() => "a value, or a function's name".to_owned(),
                None => format!("a field of {} or a formula's name", self.d.schema.kind(scope.kind).name),
            }
        };
        self.refuse(scope, span, "unknown name", what, fix)
    }

    /// A node that reads a field from where the scope stands.
    pub fn read_field(&mut self, scope: &Scope, id: FieldId, span: Span) -> Option<Reg> {
        if !self.used.idle {
            self.used.fields.insert(id);
        }
        let node = self.formula_node(id)?;
        let node = self.d.emit.node(node);
        let (level, phase) = (node.level, node.phase);
        let constant = self.d.emit.constant_of(self.node_of(id)?).is_some();
        let field = self.d.schema.field(id).clone();
        if constant {
            return self.node_of(id);
        }
        let own = field.kind == scope.kind;
        Some(self.d.emit.field(&scope.here(span), id, &field, own, level, phase))
    }

    /// A numeric operand.
    pub(super) fn number(&mut self, scope: &Scope, e: &Expr, what: &str) -> Option<Reg> {
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

/// What a literal is worth.
pub(super) struct Worth {
    pub(super) value: Constant,
    pub(super) ty: Type,
    /// The unit that the number is told in.
    pub(super) unit: Unit,
    /// The unit as it is written, where what is worked out from it is shown in that.
    pub(super) shown: Option<(String, Unit)>,
}

/// A literal as a value with its type.
pub(super) fn worth(texts: &mut Texts, literal: &Literal) -> Worth {
    let plain = |value, ty| Worth { value, ty, unit: Unit::none(), shown: None };
    match literal {
        Literal::Number { value, unit } => {
            let kept = unit.as_ref().map_or_else(Unit::none, |(_, u)| *u);
            let whole = kept == Unit::none() && value.is_whole();
            let ty = if whole { Type::COUNT } else { Type::of(kept.dimension) };
            let shown = unit.clone().filter(|(_, u)| u.dimension != Dimension::LENGTH);
            Worth { value: Constant::Number(*value), ty, unit: kept, shown }
        }
        Literal::Percent(value) => plain(Constant::Number(*value), Type::PERCENT),
        Literal::Text(t) => plain(Constant::Text(texts.intern(t)), Type::Text),
        Literal::YesNo(v) => plain(Constant::YesNo(*v), Type::YesNo),
        Literal::Date(date) => plain(Constant::Number(Number::from(days_of(*date))), Type::Date),
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
        Type::Thing(kind) => {
            let place = super::native::THINGS.iter().zip(4u8..).find(|((k, _), _)| *k == kind);
            (place.map_or(u8::MAX, |(_, i)| i), Dimension::NONE, false)
        }
    }
}

/// Days since 1970-01-01.
#[must_use]
pub fn days_of(date: crate::quantity::Date) -> i64 {
    let epoch = crate::quantity::Date::constant(1970, 1, 1);
    date.since(epoch).map_or(0, |s| i64::from(s.get_days()))
}
