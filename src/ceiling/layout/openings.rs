//! Openings: what they cut, what frames them, what is wrong with them.

use super::LayoutFault;
use super::build::Builder;
use super::check::parts;
use super::framing::{Opening, Scheme};
use super::result::{CutTee, Kind, OpeningFit, OpeningPiece, Weight};
use super::scan::Scanner;
use super::totals::HALF_FACE;
use crate::ceiling::shape::{Point, Ticks};

/// A positioned opening, or a tee, in the frame: from `a` to `b` along the bearing walls, `from` to `to` along tees.
#[derive(Clone, Copy)]
struct Box4 {
    a: Ticks,
    b: Ticks,
    from: Ticks,
    to: Ticks,
}

/// Tees by where they lie.
struct Tees(Vec<(Ticks, Ticks, Ticks, usize)>);

impl Tees {
    fn new(builder: &Builder<'_>) -> Self {
        let tee = |(i, m): (usize, &super::Member)| {
            let ((a, from), (_, to)) = (builder.frame.place(m.from), builder.frame.place(m.to));
            matches!(m.kind, Kind::Tee | Kind::CrossTee | Kind::Furring).then_some((a, from, to, i))
        };
        let mut tees: Vec<_> = builder.out.members.iter().enumerate().filter_map(tee).collect();
        tees.sort_unstable();
        Self(tees)
    }

    /// Tees within an opening, not those along its sides.
    fn cut(&self, o: Box4) -> impl Iterator<Item = (Ticks, Ticks, Ticks, usize)> + '_ {
        let first = self.0.partition_point(|t| t.0 <= o.a);
        let inside = self.0.get(first..).unwrap_or_default().iter().take_while(move |t| t.0 < o.b);
        inside.filter(move |t| t.1 < o.to && o.from < t.2).copied()
    }

    /// The nearest tee at or before the side at `a` that passes the opening, and no farther than `wall`.
    fn before(&self, o: Box4, wall: Ticks) -> Ticks {
        let end = self.0.partition_point(|t| t.0 <= o.a);
        let near = self.0.get(..end).unwrap_or_default().iter().rev().take_while(|t| t.0 > wall);
        near.filter(|t| passes(t, o)).map(|t| t.0).next().unwrap_or(wall)
    }

    /// The same on the other side.
    fn after(&self, o: Box4, wall: Ticks) -> Ticks {
        let first = self.0.partition_point(|t| t.0 < o.b);
        let near = self.0.get(first..).unwrap_or_default().iter().take_while(|t| t.0 < wall);
        near.filter(|t| passes(t, o)).map(|t| t.0).next().unwrap_or(wall)
    }
}

fn passes(tee: &(Ticks, Ticks, Ticks, usize), o: Box4) -> bool {
    tee.1 < o.to && o.from < tee.2
}

impl Builder<'_> {
    /// Fits openings into the framing. `lines` are those of strongbacks, mains or channels.
    pub fn openings(&mut self, openings: &[Opening], lines: &[Ticks]) -> Result<(), LayoutFault> {
        if openings.is_empty() {
            return Ok(());
        }
        let tees = Tees::new(self);
        let (mut loose, mut cut_in_all) = (0_u64, 0);
        for (i, opening) in openings.iter().enumerate() {
            let fit = match opening.at {
                Some(at) => self.positioned(i, opening, at, &tees, lines),
                None => {
                    loose += u64::from(opening.count);
                    self.by_size(i, opening)
                }
            };
            cut_in_all += fit.cut.len();
            parts(cut_in_all, "tees cut by openings")?;
            self.out.openings.push(fit);
            if opening.heavy {
                let text =
                    format!("{} is heavy: hang it from structure by itself, not from the ceiling.", opening.name);
                self.note(Weight::Note, "heavy fixture", text);
            }
        }
        if loose > 0 {
            let text = format!(
                "{loose} {} no position: counted by size, where the fewest tees are cut, the longer side along the tees.",
                if loose == 1 { "opening has" } else { "openings have" }
            );
            self.note(Weight::Note, "opening without position", text);
        }
        self.overlaps(openings);
        Ok(())
    }

    fn positioned(&mut self, i: usize, opening: &Opening, at: Point, tees: &Tees, lines: &[Ticks]) -> OpeningFit {
        let corners = [at, Point::new(at.x + opening.long, at.y + opening.wide)];
        let mut fit = OpeningFit { corners: Some(corners), count: 1, ..trimmed(i, opening) };
        if !self.room.holds(corners) {
            let text = format!("{} leaves the room.", opening.name);
            self.note(Weight::Warning, "opening leaves room", text);
            return fit;
        }
        let o = self.boxed(corners);
        let crossed = lines.iter().filter(|l| o.from < **l && **l < o.to).count();
        if crossed > 0 {
            let what = match self.framing.scheme {
                Scheme::HungGrid { .. } | Scheme::TightToDeck { .. } => "main tee",
                Scheme::Channel(_) => "channel",
                _ => "strongback",
            };
            let text = format!("{} crosses a {what}.", opening.name);
            self.note(Weight::Warning, "opening crosses support", text);
        }
        for (a, from, to, member) in tees.cut(o) {
            let ends = [self.frame.point(a, from.max(o.from)), self.frame.point(a, to.min(o.to))];
            fit.cut.push(CutTee { member, from: ends[0], to: ends[1] });
        }
        fit.tees_cut = u32::try_from(fit.cut.len()).unwrap_or(u32::MAX);
        self.framed(&mut fit, o, tees);
        fit
    }

    /// Headers and trimmers of an opening in its place.
    fn framed(&self, fit: &mut OpeningFit, o: Box4, tees: &Tees) {
        let frame = self.frame;
        let middle = Ticks(i64::midpoint(o.from.0, o.to.0));
        let mut across = Scanner::new(self.room, |p| {
            let (a, r) = frame.place(p);
            (r, a)
        });
        let beside = across.clear(middle).iter().find(|c| c.from <= o.a && o.b <= c.to);
        let (wall_before, wall_after) = beside.map_or((o.a, o.b), |c| (c.from, c.to));
        let (before, after) = (tees.before(o, wall_before), tees.after(o, wall_after));
        let mut along = Scanner::new(self.room, |p| frame.place(p));
        let center = Ticks(i64::midpoint(o.a.0, o.b.0));
        let ends = along.clear(center).iter().find(|c| c.from <= o.from && o.to <= c.to).copied();
        let clearance = self.framing.end_clearance;
        let piece = |out: &mut Vec<OpeningPiece>, from: (Ticks, Ticks), to: (Ticks, Ticks)| {
            let length = Ticks((to.0 - from.0 + to.1 - from.1 - clearance).0.max(0));
            out.push(OpeningPiece { length, at: Some([frame.point(from.0, from.1), frame.point(to.0, to.1)]) });
        };
        for (r, wall) in [(o.from, ends.map(|c| c.from)), (o.to, ends.map(|c| c.to))] {
            if Some(r) != wall {
                piece(&mut fit.headers, (before, r), (after, r));
            }
        }
        for (a, near, wall) in [(o.a, o.a - before, wall_before), (o.b, after - o.b, wall_after)] {
            if near > HALF_FACE && a != wall {
                piece(&mut fit.trimmers, (a, o.from), (a, o.to));
            }
        }
        let pieces = u32::try_from(fit.headers.len() + fit.trimmers.len()).unwrap_or(0);
        fit.screws = 2 * (pieces + fit.tees_cut);
    }

    /// An opening without position: its longer side along the tees, the fewest tees cut. Between two tees there is a
    /// spacing less the face of a tee; where that is not its size, both its sides fall between tees.
    fn by_size(&mut self, i: usize, opening: &Opening) -> OpeningFit {
        let (short, long) = (opening.long.min(opening.wide), opening.long.max(opening.wide));
        let (narrow, wide) = (self.out.along.min(self.out.run), self.out.along.max(self.out.run));
        if short > narrow || long > wide {
            let text = format!("{}, {} by {}, is larger than the room.", opening.name, opening.long, opening.wide);
            self.note(Weight::Warning, "opening larger than room", text);
        }
        let (spacing, clearance) = (self.framing.spacing, self.framing.end_clearance);
        let taken = short + HALF_FACE * 2;
        let spaces = taken.steps_up(spacing);
        let less = |length: Ticks| OpeningPiece { length: Ticks((length - clearance).0.max(0)), at: None };
        let headers = vec![less(spacing * spaces); 2];
        let trimmers = if taken == spacing * spaces { Vec::new() } else { vec![less(long); 2] };
        let tees_cut = u32::try_from(spaces - 1).unwrap_or(0);
        let pieces = u32::try_from(headers.len() + trimmers.len()).unwrap_or(0);
        OpeningFit { tees_cut, headers, trimmers, screws: 2 * (pieces + tees_cut), ..trimmed(i, opening) }
    }

    fn boxed(&self, [low, high]: [Point; 2]) -> Box4 {
        let ((a, from), (b, to)) = (self.frame.place(low), self.frame.place(high));
        Box4 { a: a.min(b), b: a.max(b), from: from.min(to), to: from.max(to) }
    }

    /// Openings that take the same place: looked for from west to east, each against those that begin before it ends;
    /// the first twenty pairs are told.
    fn overlaps(&mut self, openings: &[Opening]) {
        const TOLD: usize = 20;
        let placed = openings.iter().filter_map(|o| o.at.map(|at| (at.x, at.y, at.x + o.long, at.y + o.wide, o)));
        let mut placed: Vec<_> = placed.collect();
        placed.sort_by_key(|p| (p.0, p.1));
        let mut told = 0;
        for (i, one) in placed.iter().enumerate() {
            for other in placed[i + 1..].iter().take_while(|other| other.0 < one.2) {
                if one.1 < other.3 && other.1 < one.3 {
                    let text = format!("{} and {} overlap.", one.4.name, other.4.name);
                    self.note(Weight::Warning, "openings overlap", text);
                    told += 1;
                    if told == TOLD {
                        return;
                    }
                }
            }
        }
    }
}

/// What an opening takes whatever its place.
fn trimmed(i: usize, opening: &Opening) -> OpeningFit {
    OpeningFit {
        opening: i,
        count: opening.count,
        trim: (opening.long + opening.wide) * 2,
        rips: [opening.long, opening.wide],
        ..OpeningFit::default()
    }
}
