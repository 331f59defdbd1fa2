//! Rooms that another book of rules changes: what they cost, the option that they take, the checks that do not hold.

use crate::bid::Worked;
use crate::engine::names;
use crate::pricing::Trial;
use crate::problem::Weight;
use crate::program::KindId;
use crate::workbook::variance::Room;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// In place of the option of a room for which none holds.
const NONE_HOLDS: &str = "none that holds";

/// A room under one book of rules.
#[derive(Debug, Default)]
struct As {
    cost: Option<i64>,
    option: Option<Arc<str>>,
    fails: BTreeSet<Arc<str>>,
}

/// The rooms of a bid that stand otherwise now than before, in the order of the bid; none that are in one of the two alone,
/// which no change of rules brings about: both read the same workbook.
pub(super) fn changed(before: &Worked<'_>, now: &Worked<'_>) -> Vec<Room> {
    let (before, now) = (rooms(before), rooms(now));
    let mut met: BTreeMap<&Arc<str>, usize> = BTreeMap::new();
    let mut old: BTreeMap<(&Arc<str>, usize), &As> = BTreeMap::new();
    for (name, room) in &before {
        let nth = met.entry(name).or_default();
        old.insert((name, *nth), room);
        *nth += 1;
    }
    met.clear();
    let mut out = Vec::new();
    for (name, room) in &now {
        let nth = met.entry(name).or_default();
        let old = old.get(&(name, *nth));
        *nth += 1;
        out.extend(old.and_then(|old| beside(name, old, room)));
    }
    out
}

/// What is another between the two; nothing where all is as it was.
fn beside(name: &Arc<str>, old: &As, new: &As) -> Option<Room> {
    let but = |these: &As, those: &As| these.fails.difference(&those.fails).cloned().collect::<Vec<_>>();
    let options = (old.option != new.option).then(|| [old.option.clone(), new.option.clone()]);
    let room = Room {
        name: Arc::clone(name),
        old: old.cost,
        new: new.cost,
        options,
        fails: but(new, old),
        holds: but(old, new),
    };
    let same = room.old == room.new && room.options.is_none() && room.fails.is_empty() && room.holds.is_empty();
    (!same).then_some(room)
}

/// Each row of the kind that belongs to none, by its name.
fn rooms(worked: &Worked<'_>) -> Vec<(Arc<str>, As)> {
    let (priced, engine) = (&worked.priced, &worked.engine);
    let schema = &worked.ready.program().schema;
    let Some(root) = schema.root_kind() else { return Vec::new() };
    let mut out: Vec<(Arc<str>, As)> = (0..engine.run().rows_of(root))
        .map(|row| (names::row_of_kind(schema, engine.run(), &worked.inputs, root, row).into(), As::default()))
        .collect();
    for ((_, room), result) in out.iter_mut().zip(&priced.rooms) {
        room.cost = result.cost.filter(|_| !result.stopped);
    }
    if let Some(options) = schema.options.as_ref().filter(|o| o.kind == root) {
        for ((_, room), compared) in out.iter_mut().zip(&priced.compared) {
            let taken = compared.taken as usize;
            let holds = compared.tried.get(taken).is_some_and(|tried| tried.trial == Trial::Passes);
            let label = options.choices.get(taken).map(|choice| choice.label.as_str());
            room.option = label.map(|label| if holds { label } else { NONE_HOLDS }.into());
        }
    }
    let of = |(kind, row): (KindId, u32)| schema.belongs(kind, root).then(|| engine.ancestor(kind, row as usize, root));
    for finding in &priced.findings {
        let word = match finding.problem.weight {
            Weight::Stop => "stops",
            Weight::Warning => "warns",
            Weight::Note => continue,
        };
        if let Some((_, room)) = finding.row.and_then(of).and_then(|row| out.get_mut(row)) {
            room.fails.insert(format!("{} ({word})", finding.name).into());
        }
    }
    out
}
