//! Money that is rounded, and then rounded again: the second rounding hides half a step of the first.

use super::super::node::{Op, Reg};
use super::super::schema::{FieldId, Type};
use super::{Looking, behind, live};
use crate::quantity::Dimension;
use rustc_hash::FxHashSet;
use std::sync::Arc;

impl Looking<'_> {
    pub(super) fn money(&mut self) {
        let r = self.r;
        let fields = (0..u32::try_from(r.d.schema.fields.len()).unwrap_or(0)).map(FieldId);
        let mut found = Vec::new();
        for reg in live(r, fields, false) {
            let node = r.d.emit.node(reg);
            let Op::Round { value, .. } = &node.op else { continue };
            let place = node.site.and_then(|s| r.d.emit.sites.get(s.0 as usize));
            let Some(place) = place.filter(|s| Arc::ptr_eq(&s.text, &self.text)) else { continue };
            if node.unit.dimension == Dimension::MONEY && self.is_rounded(value.reg, &mut FxHashSet::default()) {
                found.push(place.span);
            }
        }
        found.sort_unstable();
        found.dedup();
        for span in found {
            let what = "This money is rounded twice: what is rounded here was rounded before.".to_owned();
            self.hint("rounded twice", span, what, "round once, the exact figure, where it is charged");
        }
    }

    /// Whether an amount, carried on by sums, choices and plain factors, was rounded before. A percent of an amount is
    /// another amount.
    fn is_rounded(&self, reg: Reg, seen: &mut FxHashSet<Reg>) -> bool {
        if !seen.insert(reg) || self.fuel.burn().is_none() {
            return false;
        }
        let emit = &self.r.d.emit;
        let node = emit.node(reg);
        if node.unit.dimension != Dimension::MONEY {
            return false;
        }
        let percent = |r: Reg| emit.node(r).ty == Type::PERCENT;
        match &node.op {
            Op::Round { .. } => true,
            Op::Field(id) | Op::Parent(id) => behind(self.r, *id).is_some_and(|below| self.is_rounded(below, seen)),
            Op::Add(a, b) | Op::Subtract(a, b) | Op::Pick { a, b, .. } => {
                self.is_rounded(a.reg, seen) || self.is_rounded(b.reg, seen)
            }
            Op::Negate(a) => self.is_rounded(*a, seen),
            Op::Multiply(a, b) | Op::Divide(a, b) => {
                (!percent(*b) && self.is_rounded(*a, seen)) || (!percent(*a) && self.is_rounded(*b, seen))
            }
            Op::Choose { arms, otherwise } => {
                self.is_rounded(otherwise.reg, seen) || arms.iter().any(|(_, v)| self.is_rounded(v.reg, seen))
            }
            Op::Fold { value: Some(field), .. } => behind(self.r, *field).is_some_and(|r| self.is_rounded(r, seen)),
            _ => false,
        }
    }
}
