//! Board: sheets across the tees.
//!
//! A rectangle is laid out sheet by sheet: rows across the tees from the south or west wall, each begun at the starting
//! wall. Every joint of sheet ends is on a tee, so a sheet whose length is no multiple of the spacing is trimmed to the
//! last tee that it reaches. Every other row begins with half a sheet, to the nearest tee below. Cut-offs are used
//! where they are long enough; the last row is ripped, from cut-offs of the others and then as many strips from a sheet
//! as fit. Openings are cut out of what
//! is laid, and save nothing but a piece that would lie wholly in one. Furring is taken to lie where ends of sheets need
//! it.

use super::LayoutFault;
use super::frame::Frame;
use super::framing::{BoardRule, Framing, Scheme};
use super::result::{Board, BoardBasis, Sheet};
use super::scan::Scanner;
use super::stations::{between, equal_parts, over_up};
use crate::ceiling::shape::{Point, Room, Ticks};

/// The most sheets that are put in their places.
const MOST_PLACED: i64 = 5_000;

/// The two sorts of rows over a length, by the ends of their pieces.
struct Rows {
    whole: Vec<Ticks>,
    half: Vec<Ticks>,
}

/// What a length of sheet makes of a room.
struct Choice {
    sheet: Ticks,
    /// For one layer.
    sheets: i64,
    rows: Option<Rows>,
    end_joints: Ticks,
    waste: i64,
}

/// Lays board.
pub fn lay(room: &Room, framing: &Framing, rule: &BoardRule) -> Result<Board, LayoutFault> {
    let frame = Frame::new(room, framing);
    let spacing = framing.spacing;
    let choice = |&sheet: &Ticks| {
        if room.is_rectangle() {
            laid_out(&frame, spacing, rule, sheet)
        } else {
            by_area(room, &frame, spacing, rule, sheet)
        }
    };
    let choices = rule.lengths.iter().filter_map(choice);
    let best = choices.min_by_key(|c| (c.waste, c.end_joints, -c.sheet.0));
    let best = best.ok_or(LayoutFault::NoSheet { spacing })?;
    let layers = i64::from(rule.layers);
    let counted = |n: i64| u64::try_from(n).unwrap_or(0);
    let rows = over_up(frame.run, rule.width);
    let along = frame.last - frame.first;
    let (screws, edge_joints, placed) = match &best.rows {
        Some(rows_of) => {
            (screws_laid(&frame, framing, rule, rows_of), along * (rows - 1), placed(&frame, rule, rows_of))
        }
        None => (screws_by_area(room, framing, rule, best.sheet), share(room.area(), rule.width, along), Vec::new()),
    };
    Ok(Board {
        basis: if best.rows.is_some() { BoardBasis::LaidOut } else { BoardBasis::ByArea },
        sheet: best.sheet,
        sheets: counted(best.sheets * layers),
        placed,
        waste: best.waste.saturating_mul(layers),
        edge_joints,
        end_joints: best.end_joints,
        wall_joints: room.perimeter_length(),
        screws: counted(screws * layers),
        control_joints: control_joints(room, &frame, rule),
    })
}

/// Joints in proportion to an area: what the area makes of rows of that width, less one end.
fn share(area: i64, width: Ticks, end: Ticks) -> Ticks {
    Ticks((area / width.0.max(1) - end.0).max(0))
}

/// A sheet's length from tee to tee.
fn reach(sheet: Ticks, spacing: Ticks) -> Option<Ticks> {
    let reach = spacing * (sheet.0 / spacing.0);
    (reach > Ticks::ZERO).then_some(reach)
}

/// The ends of pieces in a row that begins with a piece of that length.
fn row(length: Ticks, sheet: Ticks, reach: Ticks, first: Ticks) -> Vec<Ticks> {
    let mut ends = Vec::new();
    let mut at = Ticks::ZERO;
    let mut next = first;
    while length - at > sheet.min(if at == Ticks::ZERO && next < reach { next } else { sheet }) {
        at += next;
        ends.push(at);
        next = reach;
    }
    ends.push(length);
    ends
}

fn laid_out(frame: &Frame, spacing: Ticks, rule: &BoardRule, sheet: Ticks) -> Option<Choice> {
    let length = frame.last - frame.first;
    let reach = reach(sheet, spacing).or((length <= sheet).then_some(sheet))?;
    let half = spacing * (reach.0 / 2 / spacing.0);
    let half = if half > Ticks::ZERO && length > sheet { half } else { reach };
    let rows = Rows { whole: row(length, sheet, reach, reach), half: row(length, sheet, reach, half) };
    let (count, width) = (over_up(frame.run, rule.width), rule.width);
    let last = frame.run - width * (count - 1);
    // full rows from the first on, by turns; then the last, ripped
    let ripped = i64::from(last < width);
    let full = count - ripped;
    let mut pieces = pieces(&rows.whole, (full + 1) / 2);
    pieces.extend(self::pieces(&rows.half, full / 2));
    let gone = fallen(frame, rule, &rows);
    let (mut sheets, cut_offs) = packed(without(pieces, gone.iter().filter(|g| g.0 < full)), sheet);
    let joints = |ends: &[Ticks]| i64::try_from(ends.len()).unwrap_or(0) - 1;
    let mut end_joints = width * (joints(&rows.whole) * ((full + 1) / 2) + joints(&rows.half) * (full / 2));
    if ripped == 1 {
        let ends = if full % 2 == 0 { &rows.whole } else { &rows.half };
        let strips = width.0 / last.0.max(1);
        let pieces = without(self::pieces(ends, 1), gone.iter().filter(|g| g.0 == full));
        let rest = from_cut_offs(pieces, &cut_offs, strips);
        sheets += over_up(Ticks(packed(rest, sheet).0), Ticks(strips));
        end_joints += last * joints(ends);
    }
    let waste = sheets * (sheet.0 * width.0) - length.0 * frame.run.0;
    Some(Choice { sheet, sheets, rows: Some(rows), end_joints, waste })
}

/// Pieces that lie wholly in an opening: their rows and lengths.
fn fallen(frame: &Frame, rule: &BoardRule, rows: &Rows) -> Vec<(i64, Ticks)> {
    let mut out = Vec::new();
    for hole in &rule.holes {
        let ((a, r), (b, s)) = (frame.place(hole[0]), frame.place(hole[1]));
        let (a, b, low, high) = (a.min(b) - frame.first, a.max(b) - frame.first, r.min(s), r.max(s).min(frame.run));
        let whole = |k: &i64| rule.width * *k >= low && (rule.width * (*k + 1)).min(frame.run) <= high;
        for k in (over_up(low, rule.width).max(0)..over_up(high, rule.width)).filter(whole) {
            let mut from = Ticks::ZERO;
            for &to in if k % 2 == 0 { &rows.whole } else { &rows.half } {
                if a <= from && to <= b {
                    out.push((k, to - from));
                }
                from = to;
            }
        }
    }
    out
}

/// Pieces less those that fall out.
fn without<'a>(mut pieces: Vec<(Ticks, i64)>, gone: impl Iterator<Item = &'a (i64, Ticks)>) -> Vec<(Ticks, i64)> {
    for (_, length) in gone {
        if let Some(piece) = pieces.iter_mut().find(|p| p.0 == *length && p.1 > 0) {
            piece.1 -= 1;
        }
    }
    pieces
}

/// Lengths of the pieces of so many equal rows.
fn pieces(ends: &[Ticks], rows: i64) -> Vec<(Ticks, i64)> {
    let mut from = Ticks::ZERO;
    let mut out: Vec<(Ticks, i64)> = Vec::new();
    for &to in ends {
        match out.last_mut() {
            Some((same, count)) if *same == to - from => *count += rows,
            _ => out.push((to - from, rows)),
        }
        from = to;
    }
    out
}

/// Pieces of a ripped row that the cut-offs of other rows do not give; each gives so many strips beside each other.
fn from_cut_offs(mut pieces: Vec<(Ticks, i64)>, cut_offs: &[(Ticks, i64)], strips: i64) -> Vec<(Ticks, i64)> {
    pieces.sort_unstable_by(|a, b| b.cmp(a));
    for &(length, times) in cut_offs {
        for _ in 0..times * strips {
            let mut rest = length;
            for piece in &mut pieces {
                let taken = (rest.0 / piece.0.0.max(1)).min(piece.1);
                piece.1 -= taken;
                rest -= piece.0 * taken;
            }
            if rest == length {
                break;
            }
        }
    }
    pieces
}

/// How many sheets pieces take, each sheet giving the longest pieces that still fit, one after the other; and what is
/// left at the ends of sheets, longest first.
fn packed(mut pieces: Vec<(Ticks, i64)>, sheet: Ticks) -> (i64, Vec<(Ticks, i64)>) {
    pieces.retain(|p| p.1 > 0 && p.0 > Ticks::ZERO);
    pieces.sort_unstable_by(|a, b| b.cmp(a));
    let (mut sheets, mut left) = (0, Vec::new());
    while pieces.iter().any(|p| p.1 > 0) {
        let mut rest = sheet.0;
        let mut taken = vec![0; pieces.len()];
        for (take, (length, count)) in taken.iter_mut().zip(&pieces) {
            *take = (rest / length.0).min(*count);
            rest -= *take * length.0;
        }
        let used = |(take, piece): (&i64, &(Ticks, i64))| (*take > 0).then(|| piece.1 / take);
        let Some(times) = taken.iter().zip(&pieces).filter_map(used).min() else {
            return (sheets + pieces.iter().map(|p| p.1).sum::<i64>(), left);
        };
        for (take, piece) in taken.iter().zip(&mut pieces) {
            piece.1 -= take * times;
        }
        sheets += times;
        left.push((Ticks(rest), times));
    }
    left.retain(|l| l.0 > Ticks::ZERO);
    left.sort_unstable_by(|a, b| b.cmp(a));
    (sheets, left)
}

fn by_area(room: &Room, frame: &Frame, spacing: Ticks, rule: &BoardRule, sheet: Ticks) -> Option<Choice> {
    let reach = reach(sheet, spacing)?;
    let area = room.area();
    let sheets = (area - 1) / (reach.0 * rule.width.0) + 1;
    let waste = sheets * (sheet.0 * rule.width.0) - area;
    Some(Choice { sheet, sheets, rows: None, end_joints: share(area, reach, frame.run), waste })
}

/// Screws along one tee under one sheet of that width.
fn screws_on_a_tee(width: Ticks, rule: &BoardRule) -> i64 {
    (width - rule.screw_edge * 2).steps_up(rule.screw_every) + 1
}

/// Screws of one layer: along each tee, and each wall with angle beside the tees, that a piece lies on; both pieces
/// where two meet on a tee. Furring lies beside its walls, which have no angle.
fn screws_laid(frame: &Frame, framing: &Framing, rule: &BoardRule, rows: &Rows) -> i64 {
    let length = frame.last - frame.first;
    let spacing = framing.spacing;
    let beside = match framing.scheme {
        Scheme::Channel(rule) => i64::try_from(between(length, rule.furring_edge, spacing).len()).unwrap_or(0),
        _ => (over_up(length, spacing) - 1).max(0) + 2,
    };
    // each joint on a tee counts it twice
    let lines = |ends: &[Ticks]| beside + i64::try_from(ends.len()).unwrap_or(0) - 1;
    let count = over_up(frame.run, rule.width);
    let last = frame.run - rule.width * (count - 1);
    let (whole, half) = (count / 2, (count - 1) / 2);
    let full = screws_on_a_tee(rule.width, rule);
    let of_last = screws_on_a_tee(last, rule) * lines(if count % 2 == 1 { &rows.whole } else { &rows.half });
    full * (lines(&rows.whole) * whole + lines(&rows.half) * half) + of_last
}

fn screws_by_area(room: &Room, framing: &Framing, rule: &BoardRule, sheet: Ticks) -> i64 {
    let reach = reach(sheet, framing.spacing).unwrap_or(sheet);
    let per_sheet = (reach.0 / framing.spacing.0 + 1) * screws_on_a_tee(rule.width, rule);
    let sheet_area = i128::from(reach.0) * i128::from(rule.width.0);
    let screws = (i128::from(room.area()) * i128::from(per_sheet) - 1) / sheet_area + 1;
    i64::try_from(screws).unwrap_or(i64::MAX)
}

/// Sheets of one layer in their places.
fn placed(frame: &Frame, rule: &BoardRule, rows: &Rows) -> Vec<Sheet> {
    let count = over_up(frame.run, rule.width);
    let most = rows.whole.len().max(rows.half.len());
    if count * i64::try_from(most).unwrap_or(i64::MAX) > MOST_PLACED {
        return Vec::new();
    }
    let mut out = Vec::new();
    for k in 0..count {
        let (low, high) = (rule.width * k, (rule.width * (k + 1)).min(frame.run));
        let mut from = frame.first;
        for &end in if k % 2 == 0 { &rows.whole } else { &rows.half } {
            let to = frame.first + end;
            let (p, q) = (frame.point(from, low), frame.point(to, high));
            out.push(Sheet {
                from: Point::new(p.x.min(q.x), p.y.min(q.y)),
                to: Point::new(p.x.max(q.x), p.y.max(q.y)),
            });
            from = to;
        }
    }
    out
}

/// Control joints that part the room equally, both ways. Where none is farther than 30 ft from the next, no field is
/// larger than 900 sf; 50 ft, 2,500 sf.
fn control_joints(room: &Room, frame: &Frame, rule: &BoardRule) -> Vec<[Point; 2]> {
    let fields = |length: Ticks| u32::try_from(length.steps_up(rule.control_every)).unwrap_or(1).max(1);
    let mut out = Vec::new();
    let length = frame.last - frame.first;
    let mut across = Scanner::new(room, |p| frame.place(p));
    for place in equal_parts(length, fields(length) - 1) {
        let a = frame.first + place;
        out.extend(across.clear(a).iter().map(|c| [frame.point(a, c.from), frame.point(a, c.to)]));
    }
    let mut along = Scanner::new(room, |p| {
        let (a, r) = frame.place(p);
        (r, a)
    });
    for r in equal_parts(frame.run, fields(frame.run) - 1) {
        out.extend(along.clear(r).iter().map(|c| frame.along_ends(r, c.from, c.to)));
    }
    out
}
