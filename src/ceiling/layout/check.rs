//! Figures that a layout can be made from.

use super::framing::{BoardRule, Framing, Opening, Scheme};
use super::{LayoutFault, MOST_OPENINGS, MOST_PARTS};
use crate::ceiling::shape::Ticks;

/// The most lines of strongbacks or mains, and ties on a tee.
pub const MOST_LINES: u32 = 1_000;

/// That a figure is between two.
fn between(what: &'static str, size: Ticks, least: Ticks) -> Result<(), LayoutFault> {
    if size > Ticks::LONGEST {
        Err(LayoutFault::TooLong { what })
    } else if size < least {
        Err(LayoutFault::TooSmall { what, size, least })
    } else {
        Ok(())
    }
}

/// Framing that can be laid out.
pub fn framing(f: &Framing) -> Result<(), LayoutFault> {
    let inch = Ticks::INCH;
    between("The tee spacing", f.spacing, inch)?;
    between("The tab pitch", f.pitch, inch)?;
    between("The end clearance of tees", f.end_clearance, Ticks::ZERO)?;
    between("The wire spacing", f.wire_every, inch)?;
    between("The fastener spacing", f.fasten_every, inch)?;
    between("The least piece of angle", f.least_angle, Ticks::ZERO)?;
    let laps = [
        ("The lap of a strongback", f.laps.strongback),
        ("The lap of channel", f.laps.channel),
        ("The lap of furring", f.laps.furring),
        ("The length of a tee past a strongback", f.laps.past_strongback),
        ("The scrap of a tee splice", f.laps.scrap),
    ];
    for (what, lap) in laps {
        between(what, lap, Ticks::ZERO)?;
    }
    let s = &f.stock;
    between("The stock length of tabbed angle", s.tabbed, f.pitch)?;
    between("The stock length of plain angle", s.plain, inch)?;
    let stocks = [
        ("The stock length of tees", s.tee, Ticks::ZERO),
        ("The stock length of strongbacks", s.strongback, f.laps.strongback),
        ("The stock length of mains", s.main, Ticks::ZERO),
        ("The stock length of channel", s.channel, f.laps.channel),
        ("The stock length of furring", s.furring, f.laps.furring),
    ];
    for (what, stock, lap) in stocks {
        if let Some(stock) = stock {
            between(what, stock, lap + inch)?;
        }
    }
    scheme(&f.scheme)
}

fn scheme(scheme: &Scheme) -> Result<(), LayoutFault> {
    let inch = Ticks::INCH;
    let lines = match scheme {
        Scheme::WallToWall => 0,
        Scheme::Strongbacks { lines } => *lines,
        Scheme::MidSpanTies { each } => *each,
        Scheme::HungGrid { mains_every } => {
            between("The spacing of mains", *mains_every, inch)?;
            0
        }
        Scheme::Channel(rule) => {
            between("The spacing of channel", rule.channel_every, inch)?;
            between("The spacing of hangers", rule.hanger_every, inch)?;
            between("The distance of channel from a wall", rule.channel_edge, Ticks::ZERO)?;
            between("The distance of a hanger from an end", rule.hanger_edge, Ticks::ZERO)?;
            between("The distance of furring from a wall", rule.furring_edge, Ticks::ZERO)?;
            between("The gap of furring", rule.furring_gap, Ticks::ZERO)?;
            0
        }
        Scheme::TightToDeck { mains, clip_every } => {
            between("The spacing of clips", *clip_every, inch)?;
            *mains
        }
    };
    if lines > MOST_LINES {
        return Err(LayoutFault::TooMany { what: "lines of support", most: 1_000 });
    }
    Ok(())
}

/// Openings that can be looked at.
pub fn openings(openings: &[Opening]) -> Result<(), LayoutFault> {
    if openings.len() > MOST_OPENINGS {
        return Err(LayoutFault::TooMany { what: "openings", most: MOST_OPENINGS });
    }
    let least = Ticks::sixty_fourths(1);
    for o in openings {
        between("The length of an opening", o.long, least)?;
        between("The width of an opening", o.wide, least)?;
        if let Some(at) = o.at {
            between("The position of an opening", at.x, -Ticks::LONGEST)?;
            between("The position of an opening", at.y, -Ticks::LONGEST)?;
        }
    }
    Ok(())
}

/// A board rule that can be laid out.
pub fn board(rule: &BoardRule) -> Result<(), LayoutFault> {
    let inch = Ticks::INCH;
    between("The width of a sheet", rule.width, inch)?;
    between("The screw spacing", rule.screw_every, inch)?;
    between("The distance of screws from an edge", rule.screw_edge, Ticks::ZERO)?;
    between("The spacing of control joints", rule.control_every, Ticks::FOOT)?;
    if rule.layers > 100 {
        return Err(LayoutFault::TooMany { what: "layers of board", most: 100 });
    }
    if rule.lengths.len() > 100 {
        return Err(LayoutFault::TooMany { what: "lengths of sheet", most: 100 });
    }
    for &length in &rule.lengths {
        between("The length of a sheet", length, inch)?;
    }
    Ok(())
}

/// That so many parts are still laid out.
pub fn parts(count: usize, what: &'static str) -> Result<(), LayoutFault> {
    if count > MOST_PARTS { Err(LayoutFault::TooMany { what, most: MOST_PARTS }) } else { Ok(()) }
}
