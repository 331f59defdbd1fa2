//! Rules of cutting: what is cut together, the saw's cut, the offcuts kept, and which items may be spliced.

use super::declare::{Declarations, Declared, plain_words};
use super::node::Phase;
use super::resolve::{Resolver, Scope};
use super::schema::{CutBy, Cutting, FieldId, ItemSplice, KindId, Need, Type};
use crate::notation::tree::{CuttingLine, Expr, ItemLine, Name};
use crate::problem::nearest::nearest;
use crate::quantity::Dimension;
use crate::source::Text;
use std::sync::Arc;

impl Declarations {
    /// Declares the rule of cutting, or replaces a lower book's.
    pub(super) fn cutting(&mut self, text: &Arc<Text>, layer: usize, kind: KindId, line: &CuttingLine) {
        if kind != self.job {
            let what = "How pieces are cut from stock is a rule of the whole job.".to_owned();
            return self.problem(text, line.span, "cutting misplaced", what, "cutting in 'for job'".to_owned());
        }
        match (self.cutting.as_ref().map(|c| c.layer), line.replace) {
            (None, false) => {}
            (Some(old), true) if old < layer => self.note_replaced("cutting of job", old, layer),
            (Some(_), _) => {
                let what = "There is already a rule of cutting; a job has one.".to_owned();
                let fix = "take one of them out, or 'replace cutting …' where a lower book has it".to_owned();
                return self.problem(text, line.span, "name already used", what, fix);
            }
            (None, true) => {
                let what = "No lower book has a rule of cutting that could be replaced.".to_owned();
                return self.problem(text, line.span, "nothing to replace", what, "leave out 'replace'".to_owned());
            }
        }
        self.cutting = Some(Declared { what: line.clone(), text: Arc::clone(text), layer });
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
