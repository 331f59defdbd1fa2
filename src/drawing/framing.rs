//! Tees and what carries them, what hangs them, splices and openings.

use super::scale::Sheet;
use super::shapes::{Area, At, BLACK, DARK, Drawing, Grey, Lettering, Pen, WHITE, corners, dot};
use crate::ceiling::layout::{HangKind, Kind, Layout, Member, OpeningFit, SpliceKind};
use crate::ceiling::shape::{Point, Ticks};

/// The word for a kind of member, as programs find it in the drawing.
#[must_use]
pub fn member_class(kind: Kind) -> &'static str {
    match kind {
        Kind::Tee => "tee",
        Kind::CrossTee => "cross-tee",
        Kind::Main => "main",
        Kind::TabbedMain => "tabbed-main",
        Kind::Strongback => "strongback",
        Kind::Channel => "channel",
        Kind::Furring => "furring",
    }
}

/// How a member is drawn.
enum Look {
    /// A line.
    Line(Pen),
    /// Two edges so far apart, and what is between them.
    Edges(f64, f64, Grey),
}

fn look(kind: Kind) -> Look {
    match kind {
        Kind::Tee => Look::Line(Pen::solid(0.9)),
        Kind::CrossTee => Look::Line(Pen::solid(0.6)),
        Kind::Main => Look::Line(Pen::solid(2.0)),
        Kind::TabbedMain => Look::Edges(3.2, 0.7, 11),
        Kind::Strongback => Look::Edges(3.2, 0.7, WHITE),
        Kind::Channel => Look::Line(Pen::dashed(1.7, &[10.0, 2.2, 2.0, 2.2])),
        Kind::Furring => Look::Edges(1.8, 0.45, WHITE),
    }
}

/// Draws a stretch of a member.
pub fn stretch(drawing: &mut Drawing, kind: Kind, parts: Vec<[At; 2]>) {
    let class = member_class(kind);
    match look(kind) {
        Look::Line(pen) => drawing.lines(class, parts.iter().map(|p| p.to_vec()).collect(), pen),
        Look::Edges(width, edge, fill) => {
            let rings = parts.iter().map(|[a, b]| {
                let half = width / 2.0;
                // members run along the sheet's sides
                let (dx, dy) = if (a.x - b.x).abs() > (a.y - b.y).abs() { (0.0, half) } else { (half, 0.0) };
                vec![a.by(-dx, -dy), b.by(-dx, -dy), b.by(dx, dy), a.by(dx, dy)]
            });
            drawing.areas(class, rings.collect(), Some(Pen::solid(edge)), Some(fill));
        }
    }
}

/// Draws members: tees first, what they hang from over them.
pub fn members(drawing: &mut Drawing, sheet: &Sheet, layout: &Layout) {
    let mut cuts: Vec<(usize, [At; 2])> = Vec::new();
    for fit in &layout.openings {
        cuts.extend(fit.cut.iter().map(|c| (c.member, [sheet.at(c.from), sheet.at(c.to)])));
    }
    cuts.sort_by_key(|c| c.0);
    for carries in [false, true] {
        for (i, member) in layout.members.iter().enumerate() {
            if super::carries(member.kind) == carries {
                let first = cuts.partition_point(|c| c.0 < i);
                let own = cuts[first..].iter().take_while(|c| c.0 == i).map(|c| c.1);
                stretch(drawing, member.kind, left_of(sheet, member, own.collect()));
            }
        }
    }
}

/// What openings leave of a member.
fn left_of(sheet: &Sheet, member: &Member, mut cuts: Vec<[At; 2]>) -> Vec<[At; 2]> {
    let [from, to] = [sheet.at(member.from), sheet.at(member.to)];
    let far = |p: At| (p.x - from.x).abs() + (p.y - from.y).abs();
    for cut in &mut cuts {
        if far(cut[0]) > far(cut[1]) {
            cut.swap(0, 1);
        }
    }
    cuts.sort_by(|a, b| far(a[0]).total_cmp(&far(b[0])));
    let mut out = Vec::new();
    let mut start = from;
    for [begin, end] in cuts {
        if far(begin) > far(start) + 0.05 {
            out.push([start, begin]);
        }
        if far(end) > far(start) {
            start = end;
        }
    }
    if far(to) > far(start) + 0.05 || out.is_empty() {
        out.push([start, to]);
    }
    out
}

/// How a control joint is drawn: a broad grey band, that a tee may lie on and both be seen.
pub const JOINT_PEN: Pen = Pen { width: 3.6, grey: 10, dashes: &[8.0, 2.4] };

/// Draws control joints of the board, under the framing that they are let into.
pub fn control_joints(drawing: &mut Drawing, sheet: &Sheet, joints: &[[Point; 2]]) {
    for [from, to] in joints {
        drawing.line("control-joint", sheet.at(*from), sheet.at(*to), JOINT_PEN);
    }
}

/// Shortest joint, in points, that a name does not cover.
const NAMED_FROM: f64 = 24.0;

/// Names each control joint where there is a place for it: near an end, or in its middle.
pub fn joint_names(drawing: &mut Drawing, sheet: &Sheet, joints: &[[Point; 2]]) {
    let how = Lettering { height: 5.6, heavy: true, ..Lettering::SMALL.around() };
    for [from, to] in joints {
        let (a, b) = (sheet.at(*from), sheet.at(*to));
        if (a.x - b.x).abs() + (a.y - b.y).abs() < NAMED_FROM {
            continue;
        }
        let at = |part: f64| At::new(a.x + (b.x - a.x) * part, a.y + (b.y - a.y) * part + how.height / 2.0);
        drawing.text_where_free("CJ", &[0.12, 0.88, 0.5, 0.3, 0.7].map(at), how, true);
    }
}

/// Half the size of a symbol.
fn half(sheet: &Sheet) -> f64 {
    (sheet.scale.per_foot * 0.12).clamp(1.4, 2.5)
}

/// Draws wires, ties and clips.
pub fn hangs(drawing: &mut Drawing, sheet: &Sheet, layout: &Layout) {
    for hang in &layout.hangs {
        hang_symbol(drawing, hang.kind, sheet.at(hang.at), half(sheet));
    }
}

/// One wire, tie or clip.
pub fn hang_symbol(drawing: &mut Drawing, kind: HangKind, at: At, r: f64) {
    let edge = Some(Pen { width: 0.7, grey: WHITE, dashes: &[] });
    match kind {
        HangKind::Wire => drawing.areas("wire", vec![dot(at, r + 0.3)], edge, Some(BLACK)),
        HangKind::Tie => {
            let ring = vec![at.by(-r * 1.2, r), at.by(r * 1.2, r), at.by(0.0, -r * 1.3)];
            drawing.areas("tie", vec![ring], Some(Pen::solid(0.8)), Some(WHITE));
        }
        HangKind::Clip => {
            let ring = Area { x0: at.x - r, y0: at.y - r, x1: at.x + r, y1: at.y + r };
            drawing.areas("clip", vec![corners(ring)], edge, Some(BLACK));
        }
    }
}

/// Draws splices.
pub fn splices(drawing: &mut Drawing, sheet: &Sheet, layout: &Layout) {
    for splice in &layout.splices {
        splice_symbol(drawing, splice.kind, sheet.at(splice.at), half(sheet));
    }
}

/// One splice.
pub fn splice_symbol(drawing: &mut Drawing, kind: SpliceKind, at: At, r: f64) {
    let r = r * 1.25;
    let thin = Pen::solid(0.8);
    match kind {
        SpliceKind::Scrap => {
            let ring = vec![at.by(-r, 0.0), at.by(0.0, -r), at.by(r, 0.0), at.by(0.0, r)];
            drawing.areas("scrap-splice", vec![ring], Some(thin), Some(WHITE));
        }
        SpliceKind::OverStrongback => {
            let lines = vec![vec![at.by(-r, -r), at.by(r, r)], vec![at.by(-r, r), at.by(r, -r)]];
            drawing.lines("splice-over-strongback", lines, thin);
        }
        SpliceKind::Lap => {
            let ring = Area { x0: at.x - r, y0: at.y - r, x1: at.x + r, y1: at.y + r };
            drawing.areas("lap", vec![corners(ring)], Some(thin), Some(WHITE));
        }
        SpliceKind::EndToEnd => drawing.areas("end-to-end", vec![dot(at, r)], Some(thin), Some(WHITE)),
    }
}

/// Draws openings with a cross, their headers and trimmers, and the number of each where it fits.
pub fn openings(drawing: &mut Drawing, sheet: &Sheet, layout: &Layout) {
    for fit in &layout.openings {
        let pieces = |pieces: &[crate::ceiling::layout::OpeningPiece]| {
            let ends = pieces.iter().filter_map(|p| p.at);
            ends.map(|at| at.map(|p| sheet.at(p)).to_vec()).collect::<Vec<_>>()
        };
        for (class, lines) in [("header", pieces(&fit.headers)), ("trimmer", pieces(&fit.trimmers))] {
            if !lines.is_empty() {
                drawing.lines(class, lines, Pen::solid(1.6));
            }
        }
        let Some([low, high]) = fit.corners else { continue };
        let (a, b) = (sheet.at(low), sheet.at(high));
        opening(drawing, Area { x0: a.x, y0: b.y, x1: b.x, y1: a.y });
    }
    for (number, fit) in (1..).zip(&layout.openings) {
        number_of(drawing, sheet, number, fit);
    }
}

/// The sign of an opening.
pub fn opening(drawing: &mut Drawing, area: Area) {
    let c = corners(area);
    drawing.areas("opening", vec![c.clone()], Some(Pen::solid(1.1)), Some(WHITE));
    let cross = vec![vec![c[0], c[2]], vec![c[1], c[3]]];
    drawing.lines("opening-cross", cross, Pen { width: 0.45, grey: DARK, dashes: &[] });
}

fn number_of(drawing: &mut Drawing, sheet: &Sheet, number: usize, fit: &OpeningFit) {
    let Some([low, high]) = fit.corners else { return };
    let (a, b) = (sheet.at(low), sheet.at(high));
    let middle = At::new((a.x + b.x) / 2.0, (a.y + b.y) / 2.0);
    let how = Lettering { height: 6.0, heavy: true, ..Lettering::SMALL.around() };
    let places = [middle.by(0.0, 3.0), At::new(middle.x, b.y - 2.5), At::new(middle.x, a.y + 8.5)];
    drawing.text_where_free(&number.to_string(), &places, how, true);
}

/// The members' places along the walls that carry the tees, each once, of those that `wanted` takes.
#[must_use]
pub fn places(layout: &Layout, wanted: impl Fn(&Member) -> bool) -> Vec<Ticks> {
    let mut out: Vec<Ticks> =
        layout.members.iter().filter(|m| wanted(m)).map(|m| super::along(layout, m.from)).collect();
    out.sort_unstable();
    out.dedup();
    out
}
