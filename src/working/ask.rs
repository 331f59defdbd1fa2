//! What can be asked: rows by their keys, and in a row its fields, lines and checks by name or label.

use super::tell::RowOf;
use crate::bid::Worked;
use crate::engine::names;
use crate::problem::Problem;
use crate::problem::nearest::{alike, nearest};
use crate::program::{FieldId, KindId, LineKind, Schema};

/// Something that is asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// A field of a row.
    Field(FieldId, RowOf),
    /// A check of a row, by its place in the schema.
    Check(usize, RowOf),
    /// The line of an item for a row.
    Line(u32, RowOf),
    /// What a row costs.
    Cost(RowOf),
}

impl Asked {
    /// The row.
    #[must_use]
    pub fn row(&self) -> RowOf {
        match self {
            Self::Field(_, of) | Self::Check(_, of) | Self::Line(_, of) | Self::Cost(of) => *of,
        }
    }
}

/// Something of a row that can be asked about.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Its name.
    pub name: String,
    /// Its label.
    pub label: String,
    /// Its value, in short.
    pub value: String,
}

/// All that can be asked about a row, in groups with a title each.
#[derive(Clone, Debug)]
pub struct Listed {
    /// The row.
    pub row: String,
    /// Groups.
    pub groups: Vec<(String, Vec<Entry>)>,
}

/// A name as it is compared: without regard to case, underscores and doubled spaces.
fn plain(text: &str) -> String {
    let spaced: String = text.chars().map(|c| if c == '_' || c.is_control() { ' ' } else { c }).collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// A text of somebody's in a message: in one line, and not without end.
fn in_short(text: &str) -> String {
    let clean: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).take(60).collect();
    if text.chars().count() > 60 { clean + " …" } else { clean }
}

/// One of a kind of rows: `room`.
fn singular(schema: &Schema, kind: KindId) -> String {
    plain(&schema.kind(kind).one())
}

/// Most letters of a name that are compared with others.
const MOST_COMPARED: usize = 80;
/// Most names alike that a message tells.
const MOST_ALIKE: usize = 4;
/// Most keys that a message names.
const MOST_NAMED: usize = 8;

/// What stands for the job in place of a room.
const JOB: [&str; 5] = ["job", "the job", "bid", "the bid", "whole job"];

/// The row that a key means: of the rooms first, then of other rows with keys; `job` is the job.
///
/// # Errors
/// No such row, with the nearest key.
pub fn row_named(worked: &Worked<'_>, text: &str) -> Result<RowOf, Problem> {
    let program = worked.ready.program();
    let (schema, run) = (&program.schema, worked.engine.run());
    let root = schema.root_kind();
    let mut kinds: Vec<KindId> = root.into_iter().collect();
    kinds.extend(schema.kind_ids().filter(|k| Some(*k) != root && *k != program.job && *k != program.lines));
    let wanted = plain(text);
    for kind in &kinds {
        let bare = wanted.strip_prefix(&singular(schema, *kind)).map(str::trim);
        for row in 0..run.rows_of(*kind) {
            let name = plain(&names::row(schema, run, &worked.inputs, *kind, row));
            let is_root = Some(*kind) == root;
            let has_key = schema.kind(*kind).key.is_some();
            if (name == wanted && (is_root || has_key)) || bare.is_some_and(|bare| name == bare) {
                return Ok((*kind, row));
            }
        }
    }
    if JOB.contains(&wanted.as_str()) {
        return Ok((program.job, 0));
    }
    let Some(root) = root else { return Ok((program.job, 0)) };
    let keys: Vec<_> = (0..run.rows_of(root)).map(|row| names::row(schema, run, &worked.inputs, root, row)).collect();
    let one = singular(schema, root);
    let mut what = format!("There is no {one} '{}' in {}.", in_short(text), worked.rooms.file.name);
    if !keys.is_empty() {
        let mut some: Vec<&str> = keys.iter().take(MOST_NAMED).map(|k| &**k).collect();
        if keys.len() > MOST_NAMED {
            some.push("…");
        }
        what += &format!(" Its {} are {}.", plain(&schema.kind(root).name), some.join(", "));
    }
    let wanted: String = text.chars().take(MOST_COMPARED).collect();
    let near = nearest(&wanted, keys.iter().map(|k| &**k)).map(str::to_owned);
    Err(Problem::stop("unknown row", what).fix(near.unwrap_or_else(|| "one of these, or job".to_owned())))
}

/// How a name narrows what it may mean.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Only {
    Anything,
    Lines,
    Checks,
}

/// What a name means in a row: a field, a line, a check, a field or line of rows that belong to it.
///
/// # Errors
/// Nothing is called so, with the nearest name.
pub fn find(worked: &Worked<'_>, of: RowOf, name: &str) -> Result<Vec<Asked>, Problem> {
    let program = worked.ready.program();
    let schema = &program.schema;
    let mut wanted = plain(name);
    let mut only = Only::Anything;
    for (word, meant) in
        [("line ", Only::Lines), ("item ", Only::Lines), ("labor ", Only::Lines), ("check ", Only::Checks)]
    {
        if let Some(rest) = wanted.strip_prefix(word) {
            (wanted, only) = (rest.to_owned(), meant);
            break;
        }
    }
    let found = meant(worked, of, &wanted, only);
    if !found.is_empty() {
        return Ok(found);
    }
    // a figure of a line is told with the line
    for figure in [" cost", " unit cost", " quantity", " hours", " need", " price", " waste", " rate"] {
        let lines = wanted.strip_suffix(figure).map(|item| meant(worked, of, item, Only::Lines));
        if let Some(lines) = lines.filter(|lines| !lines.is_empty()) {
            return Ok(lines);
        }
    }
    let root = schema.root_kind();
    if Some(of.0) == root && ["cost", "price", "hours", "total"].contains(&wanted.as_str()) {
        return Ok(vec![Asked::Cost(of)]);
    }
    let below = below(worked, of, &wanted, only);
    if !below.is_empty() {
        return Ok(below);
    }
    let job = meant(worked, (program.job, 0), &wanted, only);
    if !job.is_empty() {
        return Ok(job);
    }
    Err(unknown(worked, of, name, &wanted))
}

/// What a name means in rows that belong to a row: `soffit lines`, `soffits 2 lines`, or the bare name.
fn below(worked: &Worked<'_>, of: RowOf, wanted: &str, only: Only) -> Vec<Asked> {
    let schema = &worked.ready.program().schema;
    let mut out = Vec::new();
    for kind in children(schema, of.0) {
        let rows = worked.engine.children(kind, of.1);
        let (many, one) = (plain(&schema.kind(kind).name), singular(schema, kind));
        let rest = [many.as_str(), one.as_str()].iter().find_map(|word| wanted.strip_prefix(&format!("{word} ")));
        let (name, nth) = match rest.map(|rest| rest.split_once(' ').unwrap_or((rest, ""))) {
            Some((nth, name)) if nth.parse::<usize>().is_ok() => (name, nth.parse::<usize>().ok()),
            _ => (rest.unwrap_or(wanted), None),
        };
        for (at, row) in rows.iter().enumerate() {
            if nth.is_none_or(|nth| nth == at + 1) {
                let mut found = meant(worked, (kind, *row), name, only);
                // a label may begin with the word for the row: "Soffit board"
                if found.is_empty() && name != wanted {
                    found = meant(worked, (kind, *row), wanted, only);
                }
                out.extend(found);
            }
        }
    }
    out
}

/// The rows that belong to a row, where the name is that of their kind alone, or of one of them: `soffits`, `soffit 2`.
#[must_use]
pub fn rows_below(worked: &Worked<'_>, of: RowOf, name: &str) -> Vec<RowOf> {
    let schema = &worked.ready.program().schema;
    let wanted = plain(name);
    for kind in children(schema, of.0) {
        let (many, one) = (plain(&schema.kind(kind).name), singular(schema, kind));
        let rest = [many.as_str(), one.as_str()].iter().find_map(|word| wanted.strip_prefix(word)).map(str::trim);
        let rows = worked.engine.children(kind, of.1).into_iter().map(|row| (kind, row));
        match rest.map(|rest| (rest.is_empty(), rest.parse::<usize>())) {
            Some((true, _)) => return rows.collect(),
            Some((false, Ok(nth))) => return rows.skip(nth.wrapping_sub(1)).take(1).collect(),
            _ => {}
        }
    }
    Vec::new()
}

fn children(schema: &Schema, kind: KindId) -> impl Iterator<Item = KindId> + '_ {
    schema.kind_ids().filter(move |k| schema.kind(*k).parent.as_ref().is_some_and(|p| p.kind == kind))
}

/// What a name means in the row itself: by name, else by label or heading.
fn meant(worked: &Worked<'_>, of: RowOf, wanted: &str, only: Only) -> Vec<Asked> {
    let all = askable(worked, of);
    let fits = |asked: &Asked| match only {
        Only::Anything => true,
        Only::Lines => matches!(asked, Asked::Line(..)),
        Only::Checks => matches!(asked, Asked::Check(..)),
    };
    let by = |pick: fn(&Spelled) -> &[String]| -> Vec<Asked> {
        let same = all.iter().filter(|s| fits(&s.asked) && pick(s).iter().any(|n| plain(n) == wanted));
        same.map(|s| s.asked).collect()
    };
    let mut by_name = by(|s| &s.names);
    by_name.truncate(1);
    if by_name.is_empty() { by(|s| &s.labels) } else { by_name }
}

/// What else of a row is called so, by names that tell it apart: an item or a label beside the field of that name.
#[must_use]
pub fn called_so_too(worked: &Worked<'_>, name: &str, asked: &[Asked]) -> Vec<String> {
    let Some(of) = asked.first().map(Asked::row) else { return Vec::new() };
    let wanted = plain(name);
    let told = |s: &Spelled| asked.contains(&s.asked);
    let same = |s: &Spelled| s.names.iter().chain(&s.labels).any(|n| plain(n) == wanted);
    let others = askable(worked, of).into_iter().filter(|s| same(s) && !told(s));
    let word = |s: Spelled| {
        let name = s.names.into_iter().next().unwrap_or_default();
        match s.asked {
            Asked::Line(..) => format!("line {name}"),
            Asked::Check(..) => format!("check {name}"),
            Asked::Field(..) | Asked::Cost(_) => name,
        }
    };
    others.map(word).collect()
}

/// Something that can be asked, with all that it may be called.
struct Spelled {
    asked: Asked,
    names: Vec<String>,
    labels: Vec<String>,
}

fn askable(worked: &Worked<'_>, of: RowOf) -> Vec<Spelled> {
    let schema = &worked.ready.program().schema;
    let mut out = Vec::new();
    for id in schema.kind(of.0).fields.iter().copied() {
        let f = schema.field(id);
        if f.name.is_empty() || worked.engine.run().columns[id.0 as usize].is_none() {
            continue;
        }
        let mut labels = vec![f.label.clone()];
        labels.extend(f.input.iter().flat_map(|i| i.headings.iter().cloned()));
        let options = schema.options.as_ref().filter(|o| o.field == id);
        labels
            .extend(options.into_iter().flat_map(|o| o.choices.iter().flat_map(|c| [c.name.clone(), c.label.clone()])));
        out.push(Spelled { asked: Asked::Field(id, of), names: vec![f.name.clone()], labels });
    }
    for (at, item) in (0u32..).zip(&schema.items).filter(|(_, i)| i.kind == of.0) {
        let asked = Asked::Line(at, of);
        out.push(Spelled { asked, names: vec![item.name.clone()], labels: vec![item.label.clone()] });
    }
    for (at, check) in schema.checks.iter().enumerate().filter(|(_, c)| c.kind == of.0) {
        out.push(Spelled { asked: Asked::Check(at, of), names: vec![check.name.clone()], labels: Vec::new() });
    }
    out
}

fn unknown(worked: &Worked<'_>, of: RowOf, name: &str, wanted: &str) -> Problem {
    let schema = &worked.ready.program().schema;
    let mut rows = vec![of];
    for kind in children(schema, of.0) {
        rows.extend(worked.engine.children(kind, of.1).first().map(|row| (kind, *row)));
    }
    rows.push((worked.ready.program().job, 0));
    let spelled = rows.iter().flat_map(|of| askable(worked, *of));
    let mut names: Vec<String> = spelled.flat_map(|s| s.names.into_iter().chain(s.labels)).collect();
    names.push("cost".to_owned());
    let row = names::row_of_kind(schema, worked.engine.run(), &worked.inputs, of.0, of.1);
    let what = format!("There is nothing called '{}' in {row}.", in_short(name));
    let wanted: String = wanted.chars().take(MOST_COMPARED).collect();
    // labels are compared word by word as names are
    let joined: Vec<String> = names.iter().map(|n| plain(n).replace(' ', "_")).collect();
    let as_written = |near: &str| joined.iter().position(|j| j == near).map(|at| names[at].as_str());
    let near = alike(&wanted, joined.iter().map(String::as_str), MOST_ALIKE);
    let near: Vec<&str> = near.into_iter().filter_map(as_written).collect();
    let all = "the row alone, without a name, lists all that can be asked";
    let fix = if near.is_empty() { all.to_owned() } else { format!("{}; {all}", near.join(", ")) };
    Problem::stop("unknown name", what).fix(fix)
}

/// All that can be asked about a row.
#[must_use]
pub fn listed(worked: &Worked<'_>, of: RowOf) -> Listed {
    let program = worked.ready.program();
    let (schema, run) = (&program.schema, worked.engine.run());
    let row = names::row_of_kind(schema, run, &worked.inputs, of.0, of.1);
    let mut groups = Vec::new();
    if Some(of.0) == schema.root_kind() {
        let cost = worked.priced.rooms.get(of.1).and_then(|r| r.cost);
        let stopped = worked.priced.rooms.get(of.1).is_some_and(|r| r.stopped);
        let value = cost.map_or_else(|| if stopped { "stopped" } else { "" }.to_owned(), super::fields::dollars);
        groups.push((String::new(), vec![Entry { name: "cost".into(), label: "Cost".into(), value }]));
    }
    let fields = || schema.kind(of.0).fields.iter().copied().filter(|f| !schema.field(*f).name.is_empty());
    let entry = |id: FieldId| {
        let f = schema.field(id);
        let optional = f.input.as_ref().is_some_and(|i| i.may_be_blank);
        let without = if optional { "blank" } else { "no value" };
        let value = names::value_text(schema, run, id, of.1).map_or_else(|| without.to_owned(), |t| t.to_string());
        Entry { name: f.name.clone(), label: f.label.clone(), value }
    };
    let known = |id: &FieldId| run.columns[id.0 as usize].is_some();
    let read = fields().filter(|f| schema.field(*f).input.is_some() && known(f));
    let worked_out = fields().filter(|f| schema.field(*f).input.is_none() && known(f) && !schema.field(*f).hidden);
    groups.push(("Worked out".to_owned(), worked_out.map(entry).collect()));
    for (title, what) in [("Material", LineKind::Material), ("Labor", LineKind::Labor)] {
        groups.push((title.to_owned(), line_entries(worked, of, what)));
    }
    let checks = schema.checks.iter().filter(|c| c.kind == of.0 && known(&c.holds)).map(|c| {
        let value = match run.yes_no(c.holds, of.1) {
            Ok(true) => "holds",
            Ok(false) => "does not hold",
            Err(_) => "no value",
        };
        Entry { name: format!("check {}", c.name), label: String::new(), value: value.to_owned() }
    });
    groups.push(("Checks".to_owned(), checks.collect()));
    for kind in children(schema, of.0) {
        let many = worked.engine.children(kind, of.1).len();
        let name = plain(&schema.kind(kind).name);
        let fields = schema.kind(kind).fields.iter().map(|f| schema.field(*f));
        let names = fields.filter(|f| !f.hidden && f.input.is_none()).map(|f| Entry {
            name: format!("{} {}", singular(schema, kind), f.name),
            label: f.label.clone(),
            value: String::new(),
        });
        if many > 0 {
            groups.push((format!("In its {many} {name}"), names.collect()));
        }
    }
    groups.push(("Read".to_owned(), read.map(entry).collect()));
    groups.retain(|(_, entries)| !entries.is_empty());
    Listed { row, groups }
}

fn line_entries(worked: &Worked<'_>, of: RowOf, what: LineKind) -> Vec<Entry> {
    let schema = &worked.ready.program().schema;
    let lines = worked.priced.lines.iter().filter(|l| l.of.0 == of.0 && l.of.1 as usize == of.1 && l.kind == what);
    let entries = lines.filter_map(|line| {
        let item = schema.items.get(line.item as usize)?;
        let value = super::lines::line_value(line);
        Some(Entry { name: format!("line {}", item.name), label: item.label.clone(), value })
    });
    entries.collect()
}
