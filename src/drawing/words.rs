//! What a plan says in words: how the room is laid out, so that nothing hangs on a dimension that found no place.

use super::dims::{hang_stops, runs};
use super::framing::places;
use super::{Facts, across, along, carries, length_text};
use crate::ceiling::layout::{AngleKind, HangKind, Kind, Layout, OpeningFit, SpliceKind, TeesRun};
use crate::ceiling::shape::{Point, Side, Ticks};
use std::collections::BTreeMap;

/// Most lengths of one kind, and most openings, that are told one by one.
const MOST: usize = 6;

/// One and many of what a member is called.
#[must_use]
pub fn member_name(kind: Kind) -> (&'static str, &'static str) {
    match kind {
        Kind::Tee => ("tee", "tees"),
        Kind::CrossTee => ("cross tee", "cross tees"),
        Kind::Main => ("main tee", "main tees"),
        Kind::TabbedMain => ("tabbed main", "tabbed mains"),
        Kind::Strongback => ("strongback", "strongbacks"),
        Kind::Channel => ("channel", "channels"),
        Kind::Furring => ("furring channel", "furring channels"),
    }
}

/// One and many of what hangs a member.
#[must_use]
pub fn hang_name(kind: HangKind) -> (&'static str, &'static str) {
    match kind {
        HangKind::Wire => ("wire", "wires"),
        HangKind::Tie => ("wire tie", "wire ties"),
        HangKind::Clip => ("clip to the deck", "clips to the deck"),
    }
}

/// What a splice is called.
#[must_use]
pub fn splice_name(kind: SpliceKind) -> (&'static str, &'static str) {
    match kind {
        SpliceKind::Scrap => ("scrap splice", "scrap splices"),
        SpliceKind::OverStrongback => ("splice over a strongback", "splices over strongbacks"),
        SpliceKind::Lap => ("lap", "laps"),
        SpliceKind::EndToEnd => ("end joint", "end joints"),
    }
}

/// What a kind of angle is called.
#[must_use]
pub fn angle_name(kind: AngleKind) -> &'static str {
    match kind {
        AngleKind::Tabbed => "tabbed angle",
        AngleKind::Closing => "closing piece, no tab in use",
        AngleKind::Plain => "plain angle",
        AngleKind::Return => "return face, plain or scrap",
    }
}

/// Kinds of members, in the order that they are told.
pub const KINDS: [Kind; 7] =
    [Kind::Tee, Kind::CrossTee, Kind::Furring, Kind::Strongback, Kind::Main, Kind::TabbedMain, Kind::Channel];

/// A count with its noun.
#[must_use]
pub fn counted(count: usize, (one, many): (&str, &str)) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// How the room is laid out, a sentence a line.
#[must_use]
pub fn layout_words(layout: &Layout, facts: &Facts<'_>) -> Vec<String> {
    let way = match layout.tees_run {
        TeesRun::NorthSouth => "north and south",
        TeesRun::EastWest => "east and west",
    };
    let mut out = vec![format!("Count from the {} wall. Tees run {way}.", layout.start)];
    let high = matches!(layout.start, Side::East | Side::North);
    let off = |stop: Ticks| if high { layout.origin - stop } else { stop - layout.origin };
    for kind in KINDS {
        let count = layout.members.iter().filter(|m| m.kind == kind).count();
        if count == 0 {
            continue;
        }
        out.push(if carries(kind) { lines_of(layout, kind, count) } else { tees_of(layout, kind, count, facts, off) });
        let pieces = layout.members.iter().filter(|m| m.kind == kind).flat_map(|m| m.pieces.iter().copied());
        out.extend(lengths(pieces).map(|l| format!("Cut {}: {l}.", member_name(kind).1)));
    }
    out.extend(hang_words(layout, off));
    for (kind, name) in
        [(AngleKind::Tabbed, "Tabbed angle"), (AngleKind::Closing, "Closing pieces"), (AngleKind::Plain, "Plain angle")]
    {
        let pieces = layout.angles.iter().filter(|a| a.kind == kind).map(|a| a.length);
        out.extend(lengths(pieces).map(|l| format!("{name}: {l}.")));
    }
    let cut = layout.angles.iter().find(|a| a.kind == AngleKind::Tabbed && a.cut_off > Ticks::ZERO);
    if let Some(cut) = cut {
        out.push(format!("Cut {} off the first tabbed piece at the {} wall.", length_text(cut.cut_off), layout.start));
    }
    out.extend(opening_words(layout));
    out.extend(joint_words(facts));
    out
}

fn tees_of(layout: &Layout, kind: Kind, count: usize, facts: &Facts<'_>, off: impl Fn(Ticks) -> Ticks) -> String {
    let places = places(layout, |m| m.kind == kind);
    let first = places.iter().map(|p| off(*p)).filter(|o| *o > Ticks::ZERO).min();
    let at = facts.spacing.map_or_else(String::new, |s| format!(" at {} o.c.", length_text(s)));
    let first = first.map_or_else(String::new, |f| format!(", the first at {}", length_text(f)));
    format!("{}{at}{first}.", capital(&counted(count, member_name(kind))))
}

fn lines_of(layout: &Layout, kind: Kind, count: usize) -> String {
    let from = if layout.tees_run == TeesRun::NorthSouth { "south" } else { "west" };
    let mut at: Vec<Ticks> = layout.members.iter().filter(|m| m.kind == kind).map(|m| across(layout, m.from)).collect();
    at.sort_unstable();
    at.dedup();
    let shown: Vec<String> = at.iter().take(MOST).map(|t| length_text(*t)).collect();
    let more = if at.len() > MOST { format!(" and {} more", at.len() - MOST) } else { String::new() };
    format!("{} at {}{more} from the {from}.", capital(&counted(count, member_name(kind))), shown.join(", "))
}

/// Lengths with how many of each, longest first.
fn lengths(pieces: impl Iterator<Item = Ticks>) -> Option<String> {
    let mut all: BTreeMap<Ticks, usize> = BTreeMap::new();
    for piece in pieces {
        *all.entry(piece).or_default() += 1;
    }
    let shown: Vec<String> =
        all.iter().rev().take(MOST).map(|(length, n)| format!("{n} @ {}", length_text(*length))).collect();
    let more = if all.len() > MOST { format!(" and {} more lengths", all.len() - MOST) } else { String::new() };
    (!shown.is_empty()).then(|| format!("{}{more}", shown.join(", ")))
}

/// Where control joints lie, those of each way in a sentence.
fn joint_words(facts: &Facts<'_>) -> Vec<String> {
    let upright = |[a, b]: &&[Point; 2]| a.x == b.x;
    let said = |mut at: Vec<Ticks>, way: &str, from: &str| {
        at.sort_unstable();
        at.dedup();
        let shown: Vec<String> = at.iter().take(MOST).map(|t| length_text(*t)).collect();
        let more = if at.len() > MOST { format!(" and {} more", at.len() - MOST) } else { String::new() };
        (!at.is_empty()).then(|| format!("Control joints {way} at {}{more} from the {from}.", shown.join(", ")))
    };
    let north = facts.joints.iter().filter(upright).map(|j| j[0].x).collect();
    let east = facts.joints.iter().filter(|j| !upright(j)).map(|j| j[0].y).collect();
    said(north, "north and south", "west").into_iter().chain(said(east, "east and west", "south")).collect()
}

fn hang_words(layout: &Layout, off: impl Fn(Ticks) -> Ticks) -> Vec<String> {
    let mut out = Vec::new();
    for kind in [HangKind::Wire, HangKind::Tie, HangKind::Clip] {
        let count = layout.hangs.iter().filter(|h| h.kind == kind).count();
        if count > 0 {
            out.push(format!("{} in all.", capital(&counted(count, hang_name(kind)))));
        }
    }
    let mut stops: Vec<Ticks> = hang_stops(layout).into_iter().map(off).collect();
    stops.sort_unstable();
    if let (Some(first), Some(last)) = (stops.first(), stops.last()) {
        let steps: Vec<String> = runs(&stops)
            .iter()
            .map(|r| if r.count > 1 { format!("{} @ {}", r.count, length_text(r.each)) } else { length_text(r.each) })
            .take(MOST)
            .collect();
        let steps = if steps.is_empty() { String::new() } else { format!(", then {}", steps.join(", ")) };
        out.push(format!("Along each: first at {}{steps}, last at {}.", length_text(*first), length_text(*last)));
    }
    out
}

fn opening_words(layout: &Layout) -> Vec<String> {
    let size = |fit: &OpeningFit| match fit.corners {
        Some([a, b]) => format!(
            "{} x {}, {} east and {} north",
            length_text(b.x - a.x),
            length_text(b.y - a.y),
            length_text(a.x),
            length_text(a.y)
        ),
        None => format!("{} of them, placed on site", fit.count),
    };
    let mut out: Vec<String> = (1..)
        .zip(&layout.openings)
        .take(MOST)
        .map(|(number, fit)| format!("Opening {number}: {}.", size(fit)))
        .collect();
    if layout.openings.len() > MOST {
        out.push(format!("{} more openings.", layout.openings.len() - MOST));
    }
    if layout.openings.iter().any(|o| o.corners.is_some()) {
        out.push("Openings are measured from the south-west corner.".to_owned());
    }
    out
}

/// With a capital first.
fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}

/// A sentence for people who cannot see the plan.
#[must_use]
pub fn described(layout: &Layout, facts: &Facts<'_>) -> String {
    let kinds = KINDS.iter().filter_map(|kind| {
        let count = layout.members.iter().filter(|m| m.kind == *kind).count();
        (count > 0).then(|| counted(count, member_name(*kind)))
    });
    let hangs = [HangKind::Wire, HangKind::Tie, HangKind::Clip].into_iter().filter_map(|kind| {
        let count = layout.hangs.iter().filter(|h| h.kind == kind).count();
        (count > 0).then(|| counted(count, hang_name(kind)))
    });
    let openings = (!layout.openings.is_empty()).then(|| counted(layout.openings.len(), ("opening", "openings")));
    let joints = facts.joints.len();
    let joints = (joints > 0).then(|| counted(joints, ("control joint", "control joints")));
    let parts: Vec<String> = kinds.chain(hangs).chain(openings).chain(joints).collect();
    let size = match layout.tees_run {
        TeesRun::NorthSouth => [layout.along, layout.run],
        TeesRun::EastWest => [layout.run, layout.along],
    };
    let [east, north] = size.map(length_text);
    let at = if parts.is_empty() { String::new() } else { format!(": {}", parts.join(", ")) };
    let _ = along;
    format!("Plan of {}, {east} east and west by {north} north and south, {}{at}.", facts.room, facts.scheme)
}
