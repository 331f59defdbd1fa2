//! Names that nothing uses. What is read from a sheet may go unused; what a book works out and never asks for is a slip.

use super::super::schema::{CutBy, FieldId, Type};
use super::super::tables::function_names;
use super::Looking;
use crate::notation::tree::{Book, Define, Expr, Node, Part};
use rustc_hash::FxHashSet;

/// A formula of the job that is used by being there: what the bid comes to.
const TOTAL: &str = "total";

impl Looking<'_> {
    pub(super) fn unused(&mut self, top: &Book) {
        // a book without rows is there for others to use
        let works = top.parts.iter().any(|p| matches!(p, Part::For(..)));
        if works {
            self.formulas();
            self.functions();
        }
        for part in top.parts.iter() {
            if let Part::Define(define) = part {
                self.parameters(define);
            }
        }
    }

    fn formulas(&mut self) {
        let named = self.named_by_rules();
        let schema = &self.r.d.schema;
        let mut own: Vec<_> = self
            .r
            .d
            .formulas
            .iter()
            .filter(|(id, f)| {
                let total = schema.field(**id).kind == self.r.d.job && f.what.name.name == TOTAL;
                // one that replaces another keeps its label; what it makes a thing of, plans are drawn from
                let thing = matches!(schema.field(**id).ty, Type::Thing(_));
                self.is_own(f) && f.what.label.is_none() && !f.what.replace && !total && !thing
            })
            .filter(|(id, _)| !self.r.used.fields.contains(*id) && !named.contains(*id))
            .map(|(_, f)| f.what.name.clone())
            .collect();
        own.sort_by_key(|n| n.span);
        for name in own {
            let what = format!("Nothing uses the formula '{}'.", name.name);
            self.hint("never used", name.span, what, "take it out, or give it a label if people are to read it");
        }
    }

    /// Fields that a rule names as they are: of options, cutting, buying, dividing, telling.
    fn named_by_rules(&self) -> FxHashSet<FieldId> {
        let schema = &self.r.d.schema;
        let options = schema.options.iter().flat_map(|o| o.showing.iter().copied().chain(o.named_by));
        let cutting = schema.cutting.iter().filter_map(|c| if let CutBy::Field(f) = c.by { Some(f) } else { None });
        let dividing = schema.dividing.iter().flat_map(|d| [d.parts, d.alternates, d.deducting, d.deliveries]);
        options.chain(cutting).chain(dividing.flatten()).chain(schema.telling.iter().copied()).collect()
    }

    fn functions(&mut self) {
        let used = &self.r.used.names;
        let mut found = Vec::new();
        for define in self.r.d.defines.values().filter(|d| self.is_own(d)) {
            let name = &define.what.name;
            if !used.contains(&name.name) {
                found.push((name.span, format!("Nothing uses the definition '{}'.", name.name)));
            }
        }
        for table in self.r.d.tables.values().filter(|t| self.is_own(t)) {
            let name = &table.what.name;
            let names = function_names(&table.what);
            if used.contains(&name.name) {
                continue;
            }
            let missing: Vec<&String> = names.iter().filter(|n| !used.contains(*n)).collect();
            if missing.len() == names.len() {
                found.push((name.span, format!("Nothing uses the table '{}'.", name.name)));
                continue;
            }
            for result in missing {
                let column = result.strip_prefix(&format!("{}_", name.name)).unwrap_or(result);
                let span = table.what.columns.iter().find(|c| c.name.name == column).map_or(name.span, |c| c.name.span);
                found.push((span, format!("Nothing uses the column '{column}' of the table {}.", name.name)));
            }
        }
        for (span, what) in found {
            self.hint("never used", span, what, "take it out, or accepted \"…\" with the reason to keep it");
        }
    }

    fn parameters(&mut self, define: &Define) {
        for (i, parameter) in define.parameters.iter().enumerate() {
            let name = &parameter.name.name;
            let is_it = |e: &Expr| matches!(&e.node, Node::Name(n) if n == name);
            let later = define.parameters[i + 1..].iter().filter_map(|p| p.default.as_ref());
            if !define.body.any(&is_it) && !later.into_iter().any(|d| d.any(&is_it)) {
                let what = format!("{} takes '{name}' and does not use it.", define.name.name);
                self.hint("never used", parameter.name.span, what, "take the parameter out, or use it");
            }
        }
    }
}
