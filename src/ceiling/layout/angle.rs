//! Angle around the room, as it is cut, and what fastens it.

use super::LayoutFault;
use super::build::Builder;
use super::check::parts;
use super::framing::Scheme;
use super::result::{AngleKind, AnglePiece, WallFit, Weight};
use super::stations::over_up;
use crate::ceiling::shape::{Ticks, Wall};

impl Builder<'_> {
    /// Walls, their angle and its fasteners.
    pub fn perimeter(&mut self) -> Result<(), LayoutFault> {
        let walls: Vec<Wall> = self.room.walls().collect();
        let mut slanted = 0;
        for wall in walls {
            let length = wall.length();
            let angle = self.angle_of(&wall).filter(|_| length >= self.framing.least_angle || self.has_tab(&wall));
            let fasteners = if angle.is_some() { length.steps_up(self.framing.fasten_every) + 1 } else { 0 };
            self.out.walls.push(WallFit {
                from: wall.from,
                to: wall.to,
                side: wall.side,
                column: wall.column,
                angle,
                length,
                fasteners: u32::try_from(fasteners).unwrap_or(u32::MAX),
            });
            match angle {
                Some(AngleKind::Tabbed) => self.tabbed(&wall)?,
                Some(kind) => self.plain(&wall, kind)?,
                None => {}
            }
            slanted += usize::from(wall.side.is_none() && angle.is_some());
        }
        if slanted > 0 {
            let text = format!(
                "Tabs cannot line up on a slanted wall: {} plain angle, and tees are screwed to it.",
                if slanted == 1 { "one wall has".to_owned() } else { format!("{slanted} walls have") }
            );
            self.note(Weight::Note, "slanted wall", text);
        }
        Ok(())
    }

    /// Whether a tab that could serve falls on a bearing wall.
    fn has_tab(&self, wall: &Wall) -> bool {
        let ((a, _), (b, _)) = (self.frame.place(wall.from), self.frame.place(wall.to));
        wall.side.is_some_and(|side| self.frame.bears(side)) && tabs(a.min(b), a.max(b), self.framing.pitch) > 0
    }

    /// What angle a wall has.
    fn angle_of(&self, wall: &Wall) -> Option<AngleKind> {
        match self.framing.scheme {
            Scheme::Channel(_) => return None,
            Scheme::HungGrid { .. } => return Some(AngleKind::Plain),
            _ => {}
        }
        let Some(side) = wall.side else { return Some(AngleKind::Plain) };
        if self.frame.bears(side) {
            return Some(AngleKind::Tabbed);
        }
        let (a, _) = self.frame.place(wall.from);
        let end = a == Ticks::ZERO || a == self.frame.first || a == self.frame.last;
        Some(if end && !wall.column { AngleKind::Plain } else { AngleKind::Return })
    }

    /// Tabbed angle along a bearing wall. Its tabs lie on whole pitches from the starting wall, whatever the wall
    /// begins at: what is cut off the first piece sees to it, and whole pitches carry on through each joint.
    fn tabbed(&mut self, wall: &Wall) -> Result<(), LayoutFault> {
        let pitch = self.framing.pitch;
        let ((a, r), (b, _)) = (self.frame.place(wall.from), self.frame.place(wall.to));
        let (begin, end) = (a.min(b), a.max(b));
        let usable = pitch * (self.framing.stock.tabbed.0 / pitch.0).max(1);
        // a factory end stands half a pitch before its first tab
        let mut cut_off = Ticks((begin + Ticks(pitch.0 / 2)).0.rem_euclid(pitch.0));
        let mut from = begin;
        while from < end {
            let to = (from + usable - cut_off).min(end);
            let tabs = tabs(from, to, pitch);
            self.angle(AnglePiece {
                kind: if tabs == 0 { AngleKind::Closing } else { AngleKind::Tabbed },
                wall: self.out.walls.len() - 1,
                from: self.frame.point(from, r),
                to: self.frame.point(to, r),
                length: to - from,
                cut_off,
                tabs,
            })?;
            (from, cut_off) = (to, Ticks::ZERO);
        }
        Ok(())
    }

    /// Plain angle: whole lengths, then the rest, unless it is too short to be worth a piece.
    fn plain(&mut self, wall: &Wall, kind: AngleKind) -> Result<(), LayoutFault> {
        let length = wall.length();
        let stock = self.framing.stock.plain;
        let mut from = Ticks::ZERO;
        while from < length {
            let to = (from + stock).min(length);
            self.angle(AnglePiece {
                kind,
                wall: self.out.walls.len() - 1,
                from: on(wall, from, length),
                to: on(wall, to, length),
                length: to - from,
                cut_off: Ticks::ZERO,
                tabs: 0,
            })?;
            from = if length - to < self.framing.least_angle { length } else { to };
        }
        Ok(())
    }

    fn angle(&mut self, piece: AnglePiece) -> Result<(), LayoutFault> {
        self.out.angles.push(piece);
        parts(self.out.angles.len(), "pieces of angle")
    }
}

/// How many tabs fall strictly between two places.
fn tabs(from: Ticks, to: Ticks, pitch: Ticks) -> usize {
    usize::try_from(over_up(to, pitch) - 1 - from.0.div_euclid(pitch.0)).unwrap_or(0)
}

/// A point so far along a wall.
fn on(wall: &Wall, along: Ticks, length: Ticks) -> crate::ceiling::shape::Point {
    let part = |from: Ticks, to: Ticks| {
        let over = i128::from((to - from).0) * i128::from(along.0) / i128::from(length.0.max(1));
        from + Ticks(i64::try_from(over).unwrap_or(0))
    };
    if along == length {
        return wall.to;
    }
    crate::ceiling::shape::Point::new(part(wall.from.x, wall.to.x), part(wall.from.y, wall.to.y))
}
