//! Counts and lengths of a layout, and what a reader should know of it.

use super::build::Builder;

use super::framing::Scheme;
use super::result::{AngleKind, HangKind, Kind, Layout, SpliceKind, Weight};
use super::scan::{Clear, Scanner};
use super::stations::multiples;
use crate::ceiling::shape::{Side, Ticks};
use std::collections::BTreeMap;

/// Half the face of a tee, which is 1-1/4 in. wide.
pub const HALF_FACE: Ticks = Ticks::sixty_fourths(40);

impl Layout {
    /// How many members of a kind there are.
    #[must_use]
    pub fn count(&self, kind: Kind) -> usize {
        self.members.iter().filter(|m| m.kind == kind).count()
    }

    /// What is cut for members of a kind, end to end.
    #[must_use]
    pub fn length(&self, kind: Kind) -> Ticks {
        self.members.iter().filter(|m| m.kind == kind).flat_map(|m| m.pieces.iter().copied()).sum()
    }

    /// Pieces of a kind as they are cut, with how many of each: longest first. Scraps over joints are not among them.
    #[must_use]
    pub fn cut_pieces(&self, kind: Kind) -> Vec<(Ticks, usize)> {
        let of_kind = self.members.iter().filter(|m| m.kind == kind);
        grouped(of_kind.flat_map(|m| m.pieces.iter().copied()))
    }

    /// How many wires, ties or clips there are.
    #[must_use]
    pub fn hang_count(&self, kind: HangKind) -> usize {
        self.hangs.iter().filter(|h| h.kind == kind).count()
    }

    /// The longest length of a member that one wire, tie or clip carries.
    #[must_use]
    pub fn most_share(&self, kind: HangKind) -> Ticks {
        self.hangs.iter().filter(|h| h.kind == kind).map(|h| h.share).max().unwrap_or_default()
    }

    /// How many splices of a kind there are.
    #[must_use]
    pub fn splice_count(&self, kind: SpliceKind) -> usize {
        self.splices.iter().filter(|s| s.kind == kind).count()
    }

    /// The length of angle of a kind.
    #[must_use]
    pub fn angle_length(&self, kind: AngleKind) -> Ticks {
        self.angles.iter().filter(|a| a.kind == kind).map(|a| a.length).sum()
    }

    /// Pieces of angle of a kind as they are cut, with how many of each: longest first.
    #[must_use]
    pub fn angle_pieces(&self, kind: AngleKind) -> Vec<(Ticks, usize)> {
        grouped(self.angles.iter().filter(|a| a.kind == kind).map(|a| a.length))
    }

    /// Fasteners of angle to walls.
    #[must_use]
    pub fn fasteners(&self) -> u64 {
        self.walls.iter().map(|w| u64::from(w.fasteners)).sum()
    }

    /// Framing screws: splices, ends of tees on plain angle, openings.
    #[must_use]
    pub fn framing_screws(&self) -> u64 {
        let splices: u64 = self.splices.iter().map(|s| u64::from(s.screws)).sum();
        let openings: u64 = self.openings.iter().map(|o| u64::from(o.screws) * u64::from(o.count)).sum();
        splices + openings + self.tee_end_screws
    }

    /// Headers and trimmers of all openings, longest first.
    #[must_use]
    pub fn opening_pieces(&self) -> Vec<(Ticks, usize)> {
        let mut all: Vec<(Ticks, usize)> = Vec::new();
        for opening in &self.openings {
            let count = usize::try_from(opening.count).unwrap_or(usize::MAX);
            all.extend(opening.headers.iter().chain(&opening.trimmers).map(|p| (p.length, count)));
        }
        all.sort_unstable_by(|a, b| b.cmp(a));
        let mut out: Vec<(Ticks, usize)> = Vec::new();
        for (length, count) in all {
            match out.last_mut() {
                Some((same, so_far)) if *same == length => *so_far = so_far.saturating_add(count),
                _ => out.push((length, count)),
            }
        }
        out
    }

    /// Flushing trim of all openings.
    #[must_use]
    pub fn opening_trim(&self) -> Ticks {
        let all = self.openings.iter().map(|o| o.trim.0.saturating_mul(i64::from(o.count)));
        Ticks(all.fold(0, i64::saturating_add))
    }
}

/// Lengths with how many of each, longest first.
fn grouped(lengths: impl Iterator<Item = Ticks>) -> Vec<(Ticks, usize)> {
    let mut out: Vec<(Ticks, usize)> = Vec::new();
    // most are as long as the one before
    for length in lengths {
        match out.last_mut() {
            Some((same, count)) if *same == length => *count += 1,
            _ => out.push((length, 1)),
        }
    }
    out.sort_unstable_by_key(|piece| std::cmp::Reverse(piece.0));
    out.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        kept.1 += if same { next.1 } else { 0 };
        same
    });
    out
}

impl Builder<'_> {
    /// What a reader should know of the framing.
    pub fn notes(&mut self) {
        let (f, frame) = (self.framing, self.frame);
        if let Some(start) = f.start.filter(|s| *s != frame.start) {
            let text = format!(
                "Tees cannot be counted from the {start} wall, on which they bear; they are counted from the {} wall.",
                frame.start
            );
            self.note(Weight::Warning, "starting wall", text);
        }
        let channel = matches!(f.scheme, Scheme::Channel(_));
        if !channel && f.spacing.0 % f.pitch.0 != 0 {
            let text = format!(
                "Tees at {} o.c. do not fall on the tabs, which are {} o.c.",
                inches(f.spacing),
                inches(f.pitch)
            );
            self.note(Weight::Warning, "tees off the tabs", text);
        }
        if let Some(limit) = f.span_limit.filter(|l| *l < self.out.longest_part) {
            let text = format!("A part of {} is over the tested span of {limit}.", self.out.longest_part);
            self.note(Weight::Warning, "part over tested span", text);
        }
        if channel && !self.room.is_rectangle() {
            let text = "Channel and furring are spaced over the whole extent of the room; the distances from the faces \
                        of its jogs are to be looked at.";
            self.note(Weight::Note, "channel at jogs", text.to_owned());
        }
        if !channel {
            self.near_walls();
            self.at_corners();
            self.long_way();
        }
    }

    /// Tees that run the long way of a leg of the room, which could be framed across it with none over the tested span.
    fn long_way(&mut self) {
        let (f, frame) = (self.framing, self.frame);
        let Some(limit) = f.span_limit.filter(|_| f.tees_run.is_none() && !self.room.is_rectangle()) else { return };
        let mut long: Vec<(Ticks, Ticks)> = Vec::new();
        let mut lines = Scanner::new(self.room, |p| frame.place(p));
        for a in multiples(frame.first, frame.last, f.spacing, Ticks::ZERO) {
            let over = lines.clear(a).iter().filter(|c| c.length() > limit);
            long.extend(over.flat_map(|c| [1, 2, 3].map(|quarter| (c.from + Ticks(c.length().0 * quarter / 4), a))));
        }
        long.sort_unstable();
        let mut across = Scanner::new(self.room, |p| {
            let (a, r) = frame.place(p);
            (r, a)
        });
        let mut narrow: BTreeMap<Ticks, u32> = BTreeMap::new();
        for (r, a) in long {
            let width = across.clear(r).iter().find(|c| c.from <= a && a <= c.to).map(Clear::length);
            *narrow.entry(a).or_default() += u32::from(width.is_some_and(|w| w <= limit));
        }
        // a column beside a tee narrows it in one place
        let count = narrow.values().filter(|places| **places >= 2).count();
        if count > 0 {
            let text = format!(
                "{count} {} the long way of a part of the room that is narrow enough to be framed across. Make that part \
                 a room of its own, or say in Tees run which way they go.",
                if count == 1 { "line of tees runs" } else { "lines of tees run" },
            );
            self.note(Weight::Warning, "tees the long way", text);
        }
    }

    /// Tees whose line runs along the face of a jog, so that they end at its corner.
    fn at_corners(&mut self) {
        let (frame, spacing) = (self.frame, self.framing.spacing);
        let along = |w: &&super::WallFit| w.side.is_some_and(|s| !frame.bears(s));
        let place = |w: &super::WallFit| frame.place(w.from).0;
        let on_line = |a: &Ticks| *a > frame.first && *a < frame.last && *a != Ticks::ZERO && a.0 % spacing.0 == 0;
        let count = self.out.walls.iter().filter(along).map(place).filter(on_line).count();
        if count > 0 {
            let text = format!(
                "{count} {} of jogs or columns {} on a line of tees: a tee ends at the corner there, where no tab is \
                 whole, and is screwed to the angle.",
                if count == 1 { "face" } else { "faces" },
                if count == 1 { "lies" } else { "lie" },
            );
            self.note(Weight::Note, "tee at a corner", text);
        }
    }

    /// Tees so near to a wall beside them that their faces do not fit.
    fn near_walls(&mut self) {
        let (frame, spacing) = (self.frame, self.framing.spacing);
        let beside = |w: &&super::WallFit| w.side.is_some_and(|s| !frame.bears(s));
        let near = |w: &super::WallFit| {
            let (a, _) = frame.place(w.from);
            let room_ahead = ahead(frame.runs_back(), w.side);
            let (from, to) = if room_ahead { (a, a + HALF_FACE) } else { (a - HALF_FACE, a) };
            multiples(from, to, spacing, Ticks::ZERO).next().map(|tee| (tee - a).0.abs())
        };
        let tight = self.out.walls.iter().filter(beside).filter_map(near).min();
        if let Some(least) = tight {
            let text = format!(
                "A tee stands {} off the wall beside it, nearer than half its face: the angle of that wall may carry \
                 the board there.",
                Ticks(least)
            );
            self.note(Weight::Note, "tee close to a wall", text);
        }
    }
}

/// Whether the room lies on the far side of a wall, as `a` runs.
fn ahead(back: bool, side: Option<Side>) -> bool {
    matches!(side, Some(Side::West | Side::South)) != back
}

/// `24"` where sixteenths are all of it.
fn inches(length: Ticks) -> String {
    crate::quantity::length::inches(&length.to_mm()).unwrap_or_else(|| length.to_string())
}
