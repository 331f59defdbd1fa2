//! Tees that run from wall to wall: whole, spliced with a scrap, or spliced over a strongback.

use super::LayoutFault;
use super::build::Builder;
use super::check::parts;
use super::framing::Scheme;
use super::result::{Hang, HangKind, Kind, Splice, SpliceKind};
use super::scan::{Clear, Scanner};
use super::stations::{equal_parts, multiples, shares};
use crate::ceiling::shape::Ticks;

/// A band of the room between two strongbacks over which tees are spliced. Every other band has its tees one tab
/// nearer to the starting wall, so that tees lie side by side over the strongback.
#[derive(Clone, Copy, Debug)]
struct Band {
    from: Option<Ticks>,
    to: Option<Ticks>,
    back: Ticks,
}

/// A tee within a band.
struct Part {
    from: Ticks,
    to: Ticks,
    /// How many of its ends are at walls.
    walls: i64,
    /// The strongback over which the next tee goes on.
    over: Option<Ticks>,
}

impl Band {
    /// What of a stretch is laid in this band: at least so far past each strongback.
    fn part(&self, clear: Clear, past: Ticks) -> Option<Part> {
        let mut part = Part { from: clear.from, to: clear.to, walls: 2, over: None };
        if let Some(from) = self.from {
            // what ends within the lap of the band before is already carried
            if clear.to <= from + past && clear.from < from || clear.to <= from {
                return None;
            }
            if clear.from < from - past {
                part.from = from - past;
                part.walls -= 1;
            }
        }
        if let Some(to) = self.to {
            if clear.from >= to {
                return None;
            }
            if clear.to > to + past {
                part.to = to + past;
                part.walls -= 1;
                part.over = Some(to);
            }
        }
        Some(part)
    }
}

impl Builder<'_> {
    /// Tees over or under strongbacks at those lines.
    pub fn tees(&mut self, lines: &[Ticks]) -> Result<(), LayoutFault> {
        let (frame, f) = (self.frame, self.framing);
        for band in self.bands(lines) {
            let mut scanner = Scanner::new(self.room, |p| frame.place(p));
            for a in multiples(frame.first, frame.last, f.spacing, band.back) {
                for &clear in scanner.clear(a) {
                    self.longest_part(clear, lines);
                    if let Some(part) = band.part(clear, f.laps.past_strongback) {
                        self.banded_tee(a, clear, &part)?;
                    }
                }
            }
        }
        Ok(())
    }

    fn banded_tee(&mut self, a: Ticks, clear: Clear, part: &Part) -> Result<(), LayoutFault> {
        let less = Ticks(self.framing.end_clearance.0 * part.walls / 2);
        let length = part.to - part.from - less;
        let Some(on) = self.tee(Kind::Tee, a, [part.from, part.to], length)? else { return Ok(()) };
        let at_wall = [part.from == clear.from, part.to == clear.to];
        self.out.tee_end_screws +=
            at_wall.iter().zip(clear.screwed).map(|(wall, s)| u64::from(*wall && s)).sum::<u64>();
        if let Some(over) = part.over {
            let at = self.frame.point(a, over);
            self.out.splices.push(Splice { kind: SpliceKind::OverStrongback, on, at, screws: 2 });
        }
        Ok(())
    }

    /// Bands of tees: one where no stock is too short, or where splices over strongbacks would not help.
    fn bands(&self, lines: &[Ticks]) -> Vec<Band> {
        let f = self.framing;
        let whole = vec![Band { from: None, to: None, back: Ticks::ZERO }];
        let Some(stock) = f.stock.tee.filter(|s| *s < self.frame.run - f.end_clearance) else { return whole };
        let past = f.laps.past_strongback;
        let half = Ticks(f.end_clearance.0 / 2);
        let mut out: Vec<Band> = Vec::new();
        let mut from: Option<Ticks> = None;
        loop {
            let begin = from.map_or(half, |l| l - past);
            let back = if out.len() % 2 == 1 { f.pitch } else { Ticks::ZERO };
            if begin + stock >= self.frame.run - half {
                out.push(Band { from, to: None, back });
                return out;
            }
            // the farthest strongback that a tee from here goes past
            let reach = lines.partition_point(|l| *l + past <= begin + stock);
            let Some(&to) = lines.get(..reach).and_then(<[_]>::last).filter(|to| from.is_none_or(|f| **to > f)) else {
                return whole;
            };
            out.push(Band { from, to: Some(to), back });
            from = Some(to);
        }
    }

    /// Tees with ties between their ends, those that need some.
    pub fn tied_tees(&mut self, each: u32) -> Result<(), LayoutFault> {
        debug_assert!(matches!(self.framing.scheme, Scheme::MidSpanTies { .. }));
        let (frame, f) = (self.frame, self.framing);
        let mut scanner = Scanner::new(self.room, |p| frame.place(p));
        for a in multiples(frame.first, frame.last, f.spacing, Ticks::ZERO) {
            for &clear in scanner.clear(a) {
                let length = clear.length();
                let Some(on) = self.tee(Kind::Tee, a, [clear.from, clear.to], length - f.end_clearance)? else {
                    continue;
                };
                self.out.tee_end_screws += clear.screws();
                let ties = if f.span_limit.is_some_and(|limit| length <= limit) { 0 } else { each };
                let places = equal_parts(length, ties);
                let longest = Ticks(length.0 - length.0 / (i64::from(ties) + 1) * i64::from(ties));
                self.out.longest_part = self.out.longest_part.max(longest);
                for (&place, share) in places.iter().zip(shares(&places, length)) {
                    let at = frame.point(a, clear.from + place);
                    let kind = if f.clipped { HangKind::Clip } else { HangKind::Tie };
                    self.out.hangs.push(Hang { kind, at, on, share });
                }
                parts(self.out.hangs.len(), "ties")?;
            }
        }
        Ok(())
    }
}
