//! Nodes into segments: what is worked out in one pass over the rows of one kind.

use super::node::{Op, Phase, Reg};
use super::resolve::Resolver;
use super::schema::{FieldId, KindId, SiteId, Type};
use crate::quantity::Unit;
use rustc_hash::FxHashMap;
use std::collections::{BTreeMap, BTreeSet};

/// A step of a segment; its operands are earlier steps of the same segment.
#[derive(Clone, Debug)]
pub struct Step {
    /// What it does.
    pub op: Op,
    /// Its type.
    pub ty: Type,
    /// The unit of its column.
    pub unit: Unit,
    /// Where its own fault begins.
    pub site: Option<SiteId>,
    /// Where it begins when the result is too large.
    pub large: Option<SiteId>,
    /// The node that it was made from.
    pub node: Reg,
}

/// What is worked out in one pass over the rows of one kind.
#[derive(Clone, Debug)]
pub struct Segment {
    /// The kind.
    pub kind: KindId,
    /// When it can be worked out.
    pub phase: Phase,
    /// Its steps, in order.
    pub steps: Vec<Step>,
    /// The fields that it fills, and the step that holds each.
    pub outputs: Vec<(FieldId, Reg)>,
}

/// Groups every formula's steps by when, and for which kind, they can be worked out.
#[must_use]
pub fn segments(r: &Resolver) -> Vec<Segment> {
    let mut groups: BTreeMap<(Phase, u32, KindId), Vec<(FieldId, Reg)>> = BTreeMap::new();
    let mut group_of: FxHashMap<FieldId, (Phase, u32, KindId)> = FxHashMap::default();
    for (i, field) in r.d.schema.fields.iter().enumerate() {
        let id = FieldId(u32::try_from(i).unwrap_or(u32::MAX));
        if field.input.is_some() || r.d.schema.options.as_ref().is_some_and(|o| o.field == id) {
            continue;
        }
        let Some(reg) = r.node_of(id) else { continue };
        let node = r.d.emit.node(reg);
        let key = (node.phase, node.level, field.kind);
        groups.entry(key).or_default().push((id, reg));
        group_of.insert(id, key);
    }
    groups.iter().map(|(key, fields)| segment(r, *key, fields, &group_of)).collect()
}

fn segment(
    r: &Resolver,
    key: (Phase, u32, KindId),
    fields: &[(FieldId, Reg)],
    group_of: &FxHashMap<FieldId, (Phase, u32, KindId)>,
) -> Segment {
    // a field of the same pass is the step that works it out; any other is loaded
    let resolved = |mut reg: Reg| loop {
        match &r.d.emit.node(reg).op {
            Op::Field(f) if group_of.get(f) == Some(&key) => match r.node_of(*f) {
                Some(next) => reg = next,
                None => return reg,
            },
            _ => return reg,
        }
    };
    let mut wanted: BTreeSet<Reg> = BTreeSet::new();
    let mut open: Vec<Reg> = fields.iter().map(|(_, reg)| resolved(*reg)).collect();
    while let Some(reg) = open.pop() {
        if wanted.insert(reg) {
            r.d.emit.node(reg).op.operands(|o| open.push(resolved(o)));
        }
    }
    let local: FxHashMap<Reg, Reg> =
        wanted.iter().enumerate().map(|(i, reg)| (*reg, u32::try_from(i).unwrap_or(u32::MAX))).collect();
    let place = |reg: Reg| local.get(&resolved(reg)).copied().unwrap_or(0);
    let steps = wanted
        .iter()
        .map(|reg| {
            let node = r.d.emit.node(*reg);
            let mut op = node.op.clone();
            op.map(&mut |o| place(o));
            Step { op, ty: node.ty, unit: node.unit, site: node.site, large: node.large, node: *reg }
        })
        .collect();
    let outputs = fields.iter().map(|(id, reg)| (*id, place(*reg))).collect();
    Segment { kind: key.2, phase: key.0, steps, outputs }
}
