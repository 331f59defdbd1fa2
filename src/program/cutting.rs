//! Rules that a job has once: of cutting, with what may be spliced, of buying, and of dividing the bid, and of
//! what it tells.

use super::declare::{Declarations, Declared, Stand, plain_words};
use super::literals::literal_value;
use super::node::Phase;
use super::resolve::{Resolver, Scope};
use super::schema::{
    Buying, Charging, CutBy, Cutting, Dividing, FieldId, Item, ItemSplice, KindId, LineKind, Need, Type, Value,
};
use crate::notation::tree::{
    BuyingLine, CuttingLine, DividingLine, Expr, ItemLine, Literal, Name, Node, TableRow, TellingLine,
};
use crate::problem::nearest::nearest;
use crate::quantity::{Dimension, Number, Unit};
use crate::source::{Span, Text};
use std::sync::Arc;

/// The code of the line that is the difference between what is bought and what is used.
const WHOLE_CODE: &str = "WHOLE";

impl Declarations {
    /// Declares the rule of cutting, or replaces a lower book's.
    pub(super) fn cutting(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &CuttingLine) {
        let old = self.cutting.as_ref().map(|c| c.stand(|line| line.span));
        if self.rule_of_job(text, layer, kind, old, ("cutting", line.replace, line.span)) {
            self.cutting = Some(Declared { what: line.clone(), text: Arc::clone(text), layer });
        }
    }

    /// Declares the rule of buying, or replaces a lower book's.
    pub(super) fn buying(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &BuyingLine) {
        let old = self.buying.as_ref().map(|c| c.stand(|line| line.span));
        if self.rule_of_job(text, layer, kind, old, ("buying", line.replace, line.span)) {
            self.buying = Some(Declared { what: line.clone(), text: Arc::clone(text), layer });
        }
    }

    /// Declares the rule of dividing, or replaces a lower book's.
    pub(super) fn dividing(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &DividingLine) {
        let old = self.dividing.as_ref().map(|c| c.stand(|line| line.span));
        if self.rule_of_job(text, layer, kind, old, ("dividing", line.replace, line.span)) {
            self.dividing = Some(Declared { what: line.clone(), text: Arc::clone(text), layer });
        }
    }

    /// Declares what the bid tells, or replaces a lower book's.
    pub(super) fn telling(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &TellingLine) {
        let old = self.telling.as_ref().map(|c| c.stand(|line| line.span));
        if self.rule_of_job(text, layer, kind, old, ("telling", line.replace, line.span)) {
            self.telling = Some(Declared { what: line.clone(), text: Arc::clone(text), layer });
        }
    }

    /// Whether a rule that a job has once may be declared: its word, whether it replaces one, where it stands.
    fn rule_of_job(
        &mut self,
        text: &Arc<Text>,
        layer: usize,
        kind: KindId,
        old: Option<Stand>,
        (word, replace, span): (&str, bool, Span),
    ) -> bool {
        if kind != self.job {
            let what = format!("The rule of {word} is one of the whole job.");
            self.problem(text, span, "rule misplaced", what, format!("{word} in 'for job'"));
            return false;
        }
        match (old, replace) {
            (None, false) => true,
            (Some(old), true) if old.layer < layer => {
                let now = Stand { layer, text: Arc::clone(text), span };
                self.note_replaced(&format!("{word} of job"), old, now);
                true
            }
            (Some(old), _) => {
                let what = format!("There is already a rule of {word}; a job has one.");
                let now = Stand { layer, text: Arc::clone(text), span };
                self.there_already(what, &now, &old, word, replace);
                false
            }
            (None, true) => {
                let what = format!("No lower book has a rule of {word} that could be replaced.");
                self.problem(text, span, "nothing to replace", what, "leave out 'replace'".to_owned());
                false
            }
        }
    }
}

impl Resolver {
    /// The rule of cutting.
    pub fn the_cutting(&mut self) {
        let Some(declared) = self.d.cutting.clone() else { return };
        let line = &declared.what;
        let scope = self.job_scope(&declared.text);
        let by = line.by.as_ref().map_or(Some(CutBy::WholeJob), |name| self.cut_by(&scope, name));
        let kerf = self.job_length(&scope, line.kerf.as_ref(), "The width of a saw cut", "kerf");
        let keep = self.job_length(&scope, line.keep.as_ref(), "The least offcut that is kept", "keep");
        if let (Some(by), Some(kerf), Some(keep)) = (by, kerf, keep) {
            self.d.schema.cutting =
                Some(Cutting { by, kerf, keep, source: line.source.clone(), text: declared.text, span: line.span });
        }
    }

    /// The rule of buying.
    pub fn the_buying(&mut self) {
        let Some(declared) = self.d.buying.clone() else { return };
        let line = &declared.what;
        let scope = self.job_scope(&declared.text);
        let first = self.job_text(&scope, line.first.as_ref());
        let only = self.job_text(&scope, line.only.as_ref());
        let charging =
            line.charging.as_ref().map_or(Some(None), |when| self.charging(&scope, when.as_ref(), line.span));
        let headings = self.aliases(&scope, line.headings.as_ref());
        let codes = self.aliases(&scope, line.codes.as_ref());
        if let (Some(first), Some(only), Some(charging), Some(headings), Some(codes)) =
            (first, only, charging, headings, codes)
        {
            let source = line.source.clone();
            self.d.schema.buying =
                Some(Buying { first, only, charging, headings, codes, source, text: declared.text, span: line.span });
        }
    }

    /// The rule of dividing.
    pub fn the_dividing(&mut self) {
        let Some(declared) = self.d.dividing.clone() else { return };
        let line = &declared.what;
        let scope = self.job_scope(&declared.text);
        let [parts, alternates, deliveries] = [&line.parts, &line.alternates, &line.deliveries]
            .map(|name| self.root_field(&scope, name.as_ref(), Type::Text));
        let deducting = self.root_field(&scope, line.deducting.as_ref(), Type::YesNo);
        if let (Some(parts), Some(alternates), Some(deliveries), Some(deducting)) =
            (parts, alternates, deliveries, deducting)
        {
            let source = line.source.clone();
            let (text, span) = (declared.text, line.span);
            self.d.schema.dividing = Some(Dividing { parts, alternates, deducting, deliveries, source, text, span });
        }
    }

    /// What the bid tells: texts of the job, or else of the root rows.
    pub fn the_telling(&mut self) {
        let Some(declared) = self.d.telling.clone() else { return };
        let scope = self.job_scope(&declared.text);
        let mut told = Vec::new();
        for name in &declared.what.names {
            let of_job = self.d.by_name[scope.kind.0 as usize].get(&name.name).copied();
            let text = |field: &FieldId| self.d.schema.field(*field).ty == Type::Text;
            match of_job.filter(text) {
                Some(field) => told.push(field),
                None => told.extend(self.root_field(&scope, Some(name), Type::Text).flatten()),
            }
        }
        self.d.schema.telling = told;
    }

    /// A field of the root rows by its name, of a type; nothing where none is named.
    fn root_field(&mut self, scope: &Scope, name: Option<&Name>, ty: Type) -> Option<Option<FieldId>> {
        let Some(name) = name else { return Some(None) };
        let root = self.d.schema.root_kind()?;
        let rows = self.d.schema.kind(root).name.clone();
        let Some(field) = self.d.by_name[root.0 as usize].get(&name.name).copied() else {
            let near = nearest(&name.name, self.d.by_name[root.0 as usize].keys().map(String::as_str));
            let fix = near.map_or_else(|| format!("{} of {rows}", ty.words()), str::to_owned);
            let what = format!("A bid is divided by what {rows} say, and '{}' is nothing of theirs.", name.name);
            self.refuse(scope, name.span, "unknown name", what, fix);
            return None;
        };
        let found = self.d.schema.field(field).ty;
        if found != ty {
            let what = format!("{} is {}; here {} is asked for.", plain_words(&name.name), found.words(), ty.words());
            self.refuse(scope, name.span, "wrong type", what, format!("{} of {rows}", ty.words()));
            return None;
        }
        Some(Some(field))
    }

    /// The rule that the bid charges what is bought, with the item for the difference: it needs no money until the
    /// order is known.
    fn charging(&mut self, scope: &Scope, when: Option<&Expr>, span: Span) -> Option<Option<Charging>> {
        let when = match when {
            Some(e) => {
                let reg = self.yes_no(scope, e)?;
                if self.d.emit.node(reg).phase == Phase::Priced {
                    self.depends_on_lines(&scope.text, e.span, "charging");
                    return None;
                }
                Some(self.hidden_field(scope.kind, reg, &scope.text, e.span))
            }
            None => None,
        };
        let literal = |literal| Expr { node: Node::Literal(literal), span };
        let code = self.text_column(scope, &literal(Literal::Text(WHOLE_CODE.to_owned())))?;
        let money = Some(("$".to_owned(), Unit::kept(Dimension::MONEY)));
        let nothing = literal(Literal::Number { value: Number::ZERO, unit: money });
        let (need, _) = self.number_column(scope, &nothing, "A lump sum", &[Dimension::MONEY])?;
        let item = u32::try_from(self.d.schema.items.len()).ok()?;
        self.d.schema.items.push(Item {
            name: "whole_pieces_and_packs".to_owned(),
            label: "Whole pieces and packs".to_owned(),
            what: LineKind::Material,
            kind: scope.kind,
            when: None,
            code,
            need: Need::Lump(need),
            waste: None,
            rate: None,
            factor: None,
            height: None,
            difficulty: None,
            splice: None,
            source: None,
            text: Arc::clone(&scope.text),
            span,
        });
        Some(Some(Charging { when, item }))
    }

    /// The rows of a table of two texts, theirs and ours.
    fn aliases(&mut self, scope: &Scope, name: Option<&Name>) -> Option<Vec<(Arc<str>, Arc<str>)>> {
        let Some(name) = name else { return Some(Vec::new()) };
        self.used.names.insert(name.name.clone());
        let Some(table) = self.d.tables.get(&name.name).cloned() else {
            let near = nearest(&name.name, self.d.tables.keys().map(String::as_str)).map(str::to_owned);
            let what = format!("No table is called '{}'.", name.name);
            let fix = near.unwrap_or_else(|| format!("table {}, with a text of theirs and one of ours", name.name));
            self.refuse(scope, name.span, "unknown name", what, fix);
            return None;
        };
        let texts = |row: &TableRow| match row.cells.as_slice() {
            [theirs, ours] => match (literal_value(theirs, Type::Text), literal_value(ours, Type::Text)) {
                (Ok(Value::Text(theirs)), Ok(Value::Text(ours))) => Some((theirs, ours)),
                _ => None,
            },
            _ => None,
        };
        let two_texts = table.what.columns.iter().filter(|c| c.ty.text == "text").count() == 2;
        let rows: Option<Vec<_>> = table.what.rows.iter().map(texts).collect();
        let Some(rows) = rows.filter(|_| two_texts && table.what.columns.len() == 2) else {
            let what = format!("'{}' is no table of two texts, theirs and ours.", name.name);
            self.refuse(scope, name.span, "wrong type", what, "theirs text, exact | ours text");
            return None;
        };
        Some(rows)
    }

    /// A text of the job, where one is stated.
    fn job_text(&mut self, scope: &Scope, e: Option<&Expr>) -> Option<Option<FieldId>> {
        let Some(e) = e else { return Some(None) };
        let reg = self.expr(scope, e)?;
        let node = self.d.emit.node(reg);
        if node.ty != Type::Text {
            let what = format!("A supplier is named by a text; this is {}.", node.ty.words());
            self.refuse(scope, e.span, "wrong type", what, "a text of the job, or \"…\"");
            return None;
        }
        if node.phase == Phase::Priced {
            self.depends_on_lines(&scope.text, e.span, "buying");
            return None;
        }
        Some(Some(self.hidden_field(scope.kind, reg, &scope.text, e.span)))
    }

    /// The rows of the root kind, or a text of theirs.
    fn cut_by(&mut self, scope: &Scope, name: &Name) -> Option<CutBy> {
        let root = self.d.schema.root_kind()?;
        if self.d.schema.kind_named(&name.name) == Some(root) {
            return Some(CutBy::Rows);
        }
        let found = self.d.by_name[root.0 as usize].get(&name.name).copied();
        let rows = self.d.schema.kind(root).name.clone();
        let Some(field) = found else {
            let mut names: Vec<&str> = self.d.by_name[root.0 as usize].keys().map(String::as_str).collect();
            names.push(&rows);
            names.sort_unstable();
            let fix = nearest(&name.name, names).map_or_else(|| rows.clone(), str::to_owned);
            let what = format!(
                "Pieces are cut together by a text of {rows}, or {rows} by {rows}; '{}' is neither.",
                name.name
            );
            self.refuse(scope, name.span, "unknown name", what, fix);
            return None;
        };
        let ty = self.d.schema.field(field).ty;
        if ty != Type::Text {
            let what = format!("Pieces are cut together by a text; {} is {}.", plain_words(&name.name), ty.words());
            self.refuse(scope, name.span, "wrong type", what, format!("a text such as level, or {rows}"));
            return None;
        }
        Some(CutBy::Field(field))
    }

    /// A length of the job, where one is stated.
    fn job_length(&mut self, scope: &Scope, e: Option<&Expr>, what: &str, of: &str) -> Option<Option<FieldId>> {
        let Some(e) = e else { return Some(None) };
        let (field, _) = self.number_column(scope, e, what, &[Dimension::LENGTH])?;
        if self.node_of(field).is_some_and(|reg| self.d.emit.node(reg).phase == Phase::Priced) {
            self.depends_on_lines(&scope.text, e.span, of);
            return None;
        }
        Some(Some(field))
    }

    /// How an item's pieces are spliced.
    pub(super) fn splice(&mut self, scope: &Scope, item: &ItemLine, need: Option<Need>) -> Option<Option<ItemSplice>> {
        let Some(clause) = &item.splice else { return Some(None) };
        if !matches!(need, None | Some(Need::Cut { .. } | Need::Pieces { .. })) {
            let what = "Only pieces that are cut can be spliced.";
            self.refuse(scope, clause.span, "wrong type", what, "cut … in place of need …, or leave 'spliced' out");
            return None;
        }
        let job = self.job_scope(&scope.text);
        let lap = self.job_length(&job, clause.lap.as_ref(), "A lap", "lap");
        let least = self.job_length(&job, clause.least.as_ref(), "The shortest part", "least");
        let scrap = self.job_length(&job, clause.scrap.as_ref(), "The scrap over a joint", "scrap");
        Some(Some(ItemSplice { lap: lap?, least: least?, scrap: scrap? }))
    }
}
