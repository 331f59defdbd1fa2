//! Walls, columns, and the angle around them.

use super::scale::Sheet;
use super::shapes::{At, BLACK, DARK, Drawing, MIDDLE, Pen, WHITE};
use super::{Facts, along, place};
use crate::ceiling::layout::{AngleKind, AnglePiece, Layout, WallFit};
use crate::ceiling::shape::{Room, Ticks};
use std::collections::BTreeSet;

/// How far angle is drawn from its wall, and how long a tab is.
const INSET: f64 = 2.8;
/// How long a tab is drawn.
const TAB: f64 = 3.4;
/// Tabs nearer to each other than this are drawn only where a tee lies.
const NEAREST_TABS: f64 = 2.6;
/// From one stroke of a column's hatching to the next.
const HATCH: f64 = 3.5;

/// The line of a kind of angle: told apart by its dashes.
#[must_use]
pub fn angle_pen(kind: AngleKind) -> Pen {
    match kind {
        AngleKind::Tabbed => Pen::solid(0.8),
        AngleKind::Closing => Pen::dashed(0.8, &[6.0, 1.6, 1.0, 1.6]),
        AngleKind::Plain => Pen::dashed(0.8, &[6.0, 2.6]),
        AngleKind::Return => Pen::dashed(0.9, &[1.2, 1.8]),
    }
}

/// The word for a kind of angle, as programs find it in the drawing.
fn angle_class(kind: AngleKind) -> &'static str {
    match kind {
        AngleKind::Tabbed => "tabbed-angle",
        AngleKind::Closing => "closing-angle",
        AngleKind::Plain => "plain-angle",
        AngleKind::Return => "return-angle",
    }
}

/// Draws the walls; what is outside of them is grey.
pub fn walls(drawing: &mut Drawing, sheet: &Sheet, room: &Room) {
    let on_sheet = |ring: &[_]| ring.iter().map(|p| sheet.at(*p)).collect::<Vec<At>>();
    let outline = on_sheet(room.outline());
    let band = Pen { width: 7.0, grey: MIDDLE, dashes: &[] };
    drawing.areas("wall-band", vec![outline.clone()], Some(band), None);
    drawing.areas("wall", vec![outline], Some(Pen::solid(0.9)), Some(WHITE));
}

/// Draws free columns over the framing.
pub fn columns(drawing: &mut Drawing, sheet: &Sheet, room: &Room) {
    for ring in room.columns() {
        let ring: Vec<At> = ring.iter().map(|p| sheet.at(*p)).collect();
        drawing.areas("column", vec![ring.clone()], Some(Pen::solid(1.2)), Some(WHITE));
        drawing.lines("hatching", hatched(&ring), Pen { width: 0.5, grey: BLACK, dashes: &[] });
    }
}

/// Strokes at 45° within a ring.
fn hatched(ring: &[At]) -> Vec<Vec<At>> {
    let sums = ring.iter().map(|p| p.x + p.y);
    let (low, high) = sums.fold((f64::MAX, f64::MIN), |(a, b), s| (a.min(s), b.max(s)));
    let mut out = Vec::new();
    let mut sum = low + HATCH;
    while sum < high && out.len() < 2_000 {
        let mut cuts: Vec<At> = Vec::new();
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            let (from, to) = (a.x + a.y - sum, b.x + b.y - sum);
            if (from < 0.0) != (to < 0.0) {
                let part = from / (from - to);
                cuts.push(a.by((b.x - a.x) * part, (b.y - a.y) * part));
            }
        }
        cuts.sort_by(|a, b| a.x.total_cmp(&b.x));
        out.extend(cuts.chunks_exact(2).map(<[At]>::to_vec));
        sum += HATCH;
    }
    out
}

/// Draws angle, a stroke where a piece ends, and tabs.
pub fn angle(drawing: &mut Drawing, sheet: &Sheet, layout: &Layout, facts: &Facts<'_>) {
    let tees: BTreeSet<Ticks> = layout.members.iter().map(|m| along(layout, m.from)).collect();
    for piece in &layout.angles {
        let Some(wall) = layout.walls.get(piece.wall) else { continue };
        let Some(way) = Way::along(sheet, wall) else { continue };
        let [mut from, mut to] = [piece.from, piece.to].map(|p| way.inside(sheet.at(p), INSET));
        let ends = [wall.from, wall.to];
        // angle stops short in a corner, where the next wall's angle passes
        let length = ((to.x - from.x).abs() + (to.y - from.y).abs()).max(0.01);
        let (ux, uy) = ((to.x - from.x) / length, (to.y - from.y) / length);
        let back = INSET.min(length / 3.0);
        if ends.contains(&piece.from) {
            from = from.by(ux * back, uy * back);
        } else {
            joint(drawing, &way, sheet.at(piece.from));
        }
        if ends.contains(&piece.to) {
            to = to.by(-ux * back, -uy * back);
        }
        drawing.line(angle_class(piece.kind), from, to, angle_pen(piece.kind));
        if matches!(piece.kind, AngleKind::Tabbed) {
            tabs(drawing, sheet, layout, facts, (piece, &way, &tees));
        }
    }
}

/// The way along a wall on the sheet, and into the room from it.
struct Way {
    inward: (f64, f64),
}

impl Way {
    fn along(sheet: &Sheet, wall: &WallFit) -> Option<Self> {
        let (a, b) = (sheet.at(wall.from), sheet.at(wall.to));
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let length = (dx * dx + dy * dy).sqrt();
        // the room is on the left hand; y runs down on the sheet
        (length > 0.01).then(|| Self { inward: (dy / length, -dx / length) })
    }

    fn inside(&self, at: At, by: f64) -> At {
        at.by(self.inward.0 * by, self.inward.1 * by)
    }
}

fn joint(drawing: &mut Drawing, way: &Way, at: At) {
    drawing.line("angle-joint", way.inside(at, 0.6), way.inside(at, INSET * 2.2), Pen::solid(1.3));
}

/// Tabs lie on whole pitches from the starting wall.
fn tabs(
    drawing: &mut Drawing,
    sheet: &Sheet,
    layout: &Layout,
    facts: &Facts<'_>,
    (piece, way, tees): (&AnglePiece, &Way, &BTreeSet<Ticks>),
) {
    let pitch = facts.tab_pitch;
    if pitch.0 <= 0 {
        return;
    }
    let (a, b) = (along(layout, piece.from), along(layout, piece.to));
    let (low, high) = (a.min(b), a.max(b));
    let all = sheet.points(pitch) >= NEAREST_TABS;
    let mut at = layout.origin + pitch * ((low - layout.origin).0.div_euclid(pitch.0) + 1);
    let mut lines = Vec::new();
    while at < high {
        if all || tees.contains(&at) {
            let root = sheet.at(place(layout, at, piece.from));
            lines.push(vec![way.inside(root, INSET), way.inside(root, INSET + TAB)]);
        }
        at += pitch;
    }
    drawing.lines("tab", lines, Pen { width: 0.6, grey: DARK, dashes: &[] });
}
