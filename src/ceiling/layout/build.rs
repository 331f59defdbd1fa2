//! A layout while it is made: supports, then what lies under them.

use super::LayoutFault;
use super::check::parts;
use super::frame::Frame;
use super::framing::{Framing, Scheme};
use super::result::{Cut, Hang, HangKind, Kind, Layout, Member, Note, Splice, SpliceKind, Weight};
use super::scan::{Clear, Scanner};
use super::stations::{between, equal_parts, halves, lapped, multiples, shares, wires};
use crate::ceiling::layout::framing::{ChannelRule, End};
use crate::ceiling::shape::{Point, Room, Ticks};

/// A layout while it is made.
pub struct Builder<'a> {
    pub room: &'a Room,
    pub framing: &'a Framing,
    pub frame: Frame,
    pub out: Layout,
}

/// What a line of support is, and what holds it.
struct Support<'f> {
    kind: Kind,
    stock: Option<Ticks>,
    lap: Ticks,
    /// What it is cut shorter than the stretch that it lies on.
    clearance: Ticks,
    joint: SpliceKind,
    hang: HangKind,
    /// Places of what holds it, along a stretch.
    held: &'f dyn Fn(Clear) -> Vec<Ticks>,
}

impl<'a> Builder<'a> {
    pub fn new(room: &'a Room, framing: &'a Framing) -> Self {
        let frame = Frame::new(room, framing);
        let out = Layout {
            tees_run: frame.tees_run,
            start: frame.start,
            origin: frame.origin,
            along: frame.last - frame.first,
            run: frame.run,
            members: Vec::new(),
            hangs: Vec::new(),
            walls: Vec::new(),
            angles: Vec::new(),
            splices: Vec::new(),
            openings: Vec::new(),
            longest_part: Ticks::ZERO,
            tee_end_screws: 0,
            crossing_ties: 0,
            notes: Vec::new(),
        };
        Self { room, framing, frame, out }
    }

    pub fn note(&mut self, weight: Weight, kind: &'static str, text: String) {
        self.out.notes.push(Note { weight, kind, text });
    }

    pub fn member(&mut self, kind: Kind, ends: [Point; 2], pieces: Cut) -> Result<usize, LayoutFault> {
        let [from, to] = ends;
        self.out.members.push(Member { kind, from, to, pieces });
        parts(self.out.members.len(), "members")?;
        Ok(self.out.members.len() - 1)
    }

    /// Members of the scheme. Returns the lines of strongback, main or channel, as they lie along `r`.
    pub fn members(&mut self) -> Result<Vec<Ticks>, LayoutFault> {
        let (f, run) = (self.framing, self.frame.run);
        match f.scheme {
            Scheme::WallToWall => {
                self.tees(&[])?;
                Ok(Vec::new())
            }
            Scheme::MidSpanTies { each } => {
                self.tied_tees(each)?;
                Ok(Vec::new())
            }
            Scheme::Strongbacks { lines } => {
                let lines = equal_parts(run, lines);
                let held = |stretch: Clear| strongback_wires(f, stretch);
                self.supports(
                    &lines,
                    &Support {
                        kind: Kind::Strongback,
                        stock: f.stock.strongback,
                        lap: f.laps.strongback,
                        clearance: Ticks::ZERO,
                        joint: SpliceKind::Lap,
                        hang: if f.clipped { HangKind::Clip } else { HangKind::Wire },
                        held: &held,
                    },
                )?;
                self.tees(&lines)?;
                Ok(lines)
            }
            Scheme::HungGrid { mains_every } => {
                let lines: Vec<Ticks> = multiples(Ticks::ZERO, run, mains_every, Ticks::ZERO).collect();
                let held = |stretch: Clear| halves(stretch.length(), f.wire_every);
                self.mains(Kind::Main, HangKind::Wire, &lines, &held)?;
                self.parted_tees(Kind::CrossTee, &lines)?;
                Ok(lines)
            }
            Scheme::TightToDeck { mains, clip_every } => {
                let lines = equal_parts(run, mains);
                let held = |stretch: Clear| halves(stretch.length(), clip_every);
                self.mains(Kind::TabbedMain, HangKind::Clip, &lines, &held)?;
                self.parted_tees(Kind::Tee, &lines)?;
                Ok(lines)
            }
            Scheme::Channel(rule) => self.channel(&rule),
        }
    }

    /// Mains are tees from wall to wall, and have the end clearance of tees.
    fn mains(
        &mut self,
        kind: Kind,
        hang: HangKind,
        lines: &[Ticks],
        held: &dyn Fn(Clear) -> Vec<Ticks>,
    ) -> Result<(), LayoutFault> {
        let (stock, lap, clearance) = (self.framing.stock.main, Ticks::ZERO, self.framing.end_clearance);
        self.supports(lines, &Support { kind, stock, lap, clearance, joint: SpliceKind::EndToEnd, hang, held })
    }

    /// Lines of support, from wall to wall wherever the room is clear.
    fn supports(&mut self, lines: &[Ticks], support: &Support<'_>) -> Result<(), LayoutFault> {
        let frame = self.frame;
        let mut scanner = Scanner::new(self.room, |p| {
            let (a, r) = frame.place(p);
            (r, a)
        });
        for &r in lines {
            for &stretch in scanner.clear(r) {
                self.support(r, stretch, support)?;
            }
        }
        Ok(())
    }

    fn support(&mut self, r: Ticks, stretch: Clear, support: &Support<'_>) -> Result<(), LayoutFault> {
        let length = stretch.length();
        let cut = length - support.clearance;
        if cut <= Ticks::ZERO {
            return Ok(());
        }
        let pieces = lapped(cut, support.stock, support.lap);
        let ends = self.frame.along_ends(r, stretch.from, stretch.to);
        let joints = pieces.len() - 1;
        let stock = support.stock.unwrap_or(length);
        let on = self.member(support.kind, ends, pieces)?;
        for k in 1..=joints {
            let half = Ticks(support.lap.0 / 2 + support.clearance.0 / 2);
            let along = (stock - support.lap) * i64::try_from(k).unwrap_or(0) + half;
            // pieces begin at the west or south end
            let a = if self.frame.runs_back() { stretch.to - along } else { stretch.from + along };
            // a strongback is clamped and screwed at a lap, channel and furring are tied
            let screws = u32::from(support.kind == Kind::Strongback);
            self.out.splices.push(Splice { kind: support.joint, on, at: self.frame.point(a, r), screws });
        }
        let places = (support.held)(stretch);
        for (&place, share) in places.iter().zip(shares(&places, length)) {
            let at = self.frame.point(stretch.from + place, r);
            self.out.hangs.push(Hang { kind: support.hang, at, on, share });
        }
        parts(self.out.hangs.len(), "wires")?;
        parts(self.out.splices.len(), "splices")
    }

    /// Tees that each supports part, and that rest on mains there.
    fn parted_tees(&mut self, kind: Kind, lines: &[Ticks]) -> Result<(), LayoutFault> {
        let (frame, clearance) = (self.frame, self.framing.end_clearance);
        let mut scanner = Scanner::new(self.room, |p| frame.place(p));
        for a in multiples(frame.first, frame.last, self.framing.spacing, Ticks::ZERO) {
            for &clear in scanner.clear(a) {
                self.out.tee_end_screws += if kind == Kind::CrossTee { 2 } else { clear.screws() };
                let mut from = clear.from;
                for to in within(lines, clear).iter().copied().chain([clear.to]) {
                    self.out.longest_part = self.out.longest_part.max(to - from);
                    // a cross tee locks into the slots of mains; on tabs each tee has its clearance
                    let walls = i64::from(from == clear.from) + i64::from(to == clear.to);
                    let less = if kind == Kind::CrossTee { clearance.0 * walls / 2 } else { clearance.0 };
                    self.tee(kind, a, [from, to], to - from - Ticks(less))?;
                    from = to;
                }
            }
        }
        if kind == Kind::CrossTee {
            let mains = self.out.members.iter().filter(|m| m.kind == Kind::Main).count();
            self.out.tee_end_screws += 2 * u64::try_from(mains).unwrap_or(0);
        }
        Ok(())
    }

    /// A tee of that length, of as many pieces as its stock asks for, end to end with a scrap over each joint.
    pub fn tee(&mut self, kind: Kind, a: Ticks, ends: [Ticks; 2], length: Ticks) -> Result<Option<usize>, LayoutFault> {
        if length <= Ticks::ZERO {
            return Ok(None);
        }
        let pieces = lapped(length, self.framing.stock.tee, Ticks::ZERO);
        let joints = pieces.len() - 1;
        let [from, to] = ends;
        let on = self.member(kind, [self.frame.point(a, from), self.frame.point(a, to)], pieces)?;
        let stock = self.framing.stock.tee.unwrap_or(length);
        // the clearance is half at each end
        let begin = from + Ticks((to - from - length).0 / 2);
        for k in 1..=joints {
            let at = self.frame.point(a, begin + stock * i64::try_from(k).unwrap_or(0));
            self.out.splices.push(Splice { kind: SpliceKind::Scrap, on, at, screws: 4 });
        }
        parts(self.out.splices.len(), "splices")?;
        Ok(Some(on))
    }

    fn channel(&mut self, rule: &ChannelRule) -> Result<Vec<Ticks>, LayoutFault> {
        let (f, frame) = (self.framing, self.frame);
        let lines = between(frame.run, rule.channel_edge, rule.channel_every);
        let held = |stretch: Clear| between(stretch.length(), rule.hanger_edge, rule.hanger_every);
        let support = Support {
            kind: Kind::Channel,
            stock: f.stock.channel,
            lap: f.laps.channel,
            clearance: Ticks::ZERO,
            joint: SpliceKind::Lap,
            hang: HangKind::Wire,
            held: &held,
        };
        self.supports(&lines, &support)?;
        let mut scanner = Scanner::new(self.room, |p| frame.place(p));
        for place in between(frame.last - frame.first, rule.furring_edge, f.spacing) {
            let a = frame.first + place;
            for &clear in scanner.clear(a) {
                let length = clear.length() - rule.furring_gap * 2;
                if length <= Ticks::ZERO {
                    continue;
                }
                let pieces = lapped(length, f.stock.furring, f.laps.furring);
                let joints = pieces.len() - 1;
                let ends = [clear.from + rule.furring_gap, clear.to - rule.furring_gap];
                let on = self.member(Kind::Furring, ends.map(|r| frame.point(a, r)), pieces)?;
                let (stock, lap) = (f.stock.furring.unwrap_or(length), f.laps.furring);
                for k in 1..=joints {
                    let r = ends[0] + (stock - lap) * i64::try_from(k).unwrap_or(0) + Ticks(lap.0 / 2);
                    self.out.splices.push(Splice { kind: SpliceKind::Lap, on, at: frame.point(a, r), screws: 0 });
                }
                parts(self.out.splices.len(), "splices")?;
                let crossed = within(&lines, clear);
                self.out.crossing_ties += u64::try_from(crossed.len()).unwrap_or(0);
                self.longest_part(clear, &lines);
            }
        }
        Ok(lines)
    }

    /// Remembers the longest part of a stretch between supports.
    pub fn longest_part(&mut self, clear: Clear, lines: &[Ticks]) {
        let mut from = clear.from;
        for to in within(lines, clear).iter().copied().chain([clear.to]) {
            self.out.longest_part = self.out.longest_part.max(to - from);
            from = to;
        }
    }
}

/// Lines strictly within a stretch.
pub fn within(lines: &[Ticks], clear: Clear) -> &[Ticks] {
    let from = lines.partition_point(|l| *l <= clear.from);
    let to = lines.partition_point(|l| *l < clear.to);
    lines.get(from..to).unwrap_or_default()
}

/// Wires of a strongback: at the first and last tee where its ends are free.
fn strongback_wires(f: &Framing, stretch: Clear) -> Vec<Ticks> {
    let (length, spacing) = (stretch.length(), f.spacing);
    let first_tee = spacing - Ticks(stretch.from.0.rem_euclid(spacing.0));
    let past_last = Ticks((stretch.to.0 - 1).rem_euclid(spacing.0) + 1);
    // a strongback without tees is held one spacing off
    let last = if first_tee < length { past_last } else { length };
    let at = |end: End, tee: Ticks| (end == End::Free).then_some(tee);
    wires(length, at(f.ends[0], first_tee), at(f.ends[1], last), f.wire_every)
}
