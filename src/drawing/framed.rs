//! The layouts of a job's rooms, each once with the rooms that share it.

use super::{Facts, PlanOf, PlanRoom};
use crate::ceiling::layout::Scheme;
use crate::ceiling::natives::{BOARD, Boarded, Framed, LAYOUT};
use crate::ceiling::shape::Point;
use crate::engine::Run;
use crate::pricing::RowResult;
use crate::program::native::Thing;
use crate::program::{FieldId, KindId, Schema, Type};
use crate::quantity::Date;
use indexmap::IndexMap;
use rustc_hash::FxBuildHasher;
use std::sync::Arc;

/// A layout and the rooms that share it.
#[derive(Debug)]
struct Shared {
    thing: Arc<dyn Thing>,
    rooms: Vec<PlanRoom>,
    /// Control joints of their board.
    joints: Vec<[Point; 2]>,
    /// Number and name of the first of them.
    first: String,
    scheme: String,
}

/// The layouts of a job's rooms.
#[derive(Debug, Default)]
pub struct Layouts(Vec<Shared>);

/// Finds what was laid out for each room that is priced: the first layout that the books work out for rows which belong
/// to no others. Rooms laid out alike, with the same control
/// joints, share one.
#[must_use]
pub fn layouts(schema: &Schema, run: &Run, rooms: &[RowResult]) -> Layouts {
    let holds = |f: &&FieldId, ty: Type| {
        let field = schema.field(**f);
        field.ty == ty && run.columns.get(f.0 as usize).is_some_and(Option::is_some)
    };
    let tops = schema.kinds.iter().zip(0u32..).filter(|(k, _)| k.parent.is_none() && !k.single);
    let found = tops.filter_map(|(k, i)| k.fields.iter().find(|f| holds(f, LAYOUT)).map(|f| (KindId(i), *f))).next();
    let Some((kind, field)) = found else { return Layouts::default() };
    let board = schema.kind(kind).fields.iter().copied().find(|f| holds(&f, BOARD));
    let mut shared: IndexMap<(usize, Vec<[Point; 2]>), Shared, FxBuildHasher> = IndexMap::default();
    for row in 0..run.rows_of(kind) {
        if rooms.get(row).is_none_or(|r| r.stopped) {
            continue;
        }
        let Ok(thing) = run.thing(field, row) else { continue };
        let name = name_of(schema, run, kind, row);
        let address = Arc::as_ptr(&thing).cast::<u8>() as usize;
        let boards = board.and_then(|f| run.thing(f, row).ok());
        let joints = boards.as_ref().and_then(|b| b.known_as::<Boarded>());
        let joints = joints.map_or_else(Vec::new, |b| b.0.control_joints.clone());
        let one = shared.entry((address, joints.clone())).or_insert_with(|| Shared {
            thing,
            joints,
            rooms: Vec::new(),
            first: name.clone(),
            scheme: scheme_of(schema, run, row),
        });
        one.rooms.push(PlanRoom { name, row: u32::try_from(row).ok() });
    }
    Layouts(shared.into_values().collect())
}

/// Number and name of a room.
fn name_of(schema: &Schema, run: &Run, kind: KindId, row: usize) -> String {
    let text = |f: FieldId| run.text(f, row).ok().map(|t| t.trim().to_owned()).filter(|t| !t.is_empty());
    let key = schema.kind(kind).key.and_then(text);
    let name = schema.field_named(kind, "name").filter(|f| schema.field(*f).ty == Type::Text).and_then(text);
    match (key, name) {
        (Some(key), Some(name)) => format!("{key} {name}"),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => format!("row {}", row + 1),
    }
}

/// The label of the option that a room stands under.
fn scheme_of(schema: &Schema, run: &Run, row: usize) -> String {
    let Some(options) = &schema.options else { return String::new() };
    run.text(options.field, row).map_or_else(|_| String::new(), |t| schema.in_words(options.field, t).to_owned())
}

impl Layouts {
    /// What there is to draw.
    #[must_use]
    pub fn plans<'a>(&'a self, job: &'a str, as_of: Date) -> Vec<PlanOf<'a>> {
        let one = |s: &'a Shared| {
            let framed: &Framed = s.thing.known_as()?;
            let framing = &framed.framing;
            let tees = match framing.scheme {
                Scheme::HungGrid { .. } => "cross tees",
                Scheme::Channel(_) => "furring",
                _ => "tees",
            };
            let facts = Facts {
                room: &s.first,
                job,
                scheme: &s.scheme,
                tees,
                spacing: Some(framing.spacing),
                tab_pitch: framing.pitch,
                joints: &s.joints,
                as_of: Some(as_of),
            };
            Some(PlanOf { rooms: s.rooms.clone(), room: &framed.room, layout: &framed.layout, facts })
        };
        self.0.iter().filter_map(one).collect()
    }
}
