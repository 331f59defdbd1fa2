//! Plans of rooms with their framing: drawn to a scale of the trade for letter paper, as SVG and as PNG.
//!
//! # Conventions
//!
//! - North is up. A plan is 9-1/2 × 6-1/4 in., in points of 1/72 in.; its scale holds where it is printed at full size,
//!   and the graphic scale where it is not.
//! - Everything is told apart by line, symbol and word; greys, no colors.
//! - Letters are strokes of our own ([`letters`]), at least as large as 7-point print. Texts do not overlap: one that
//!   finds no place is left out, and the words beside the plan say the same.
//! - Binary floats serve here: nothing is reckoned from what is drawn. They are added, multiplied, divided and rooted
//!   alone, which every machine does alike, so a drawing has the same bytes everywhere.
#![allow(clippy::float_arithmetic, reason = "places on paper decide nothing")]

pub mod dims;
pub mod letters;
pub mod png_bytes;
pub mod scale;
pub mod shapes;
pub mod words;

mod framed;
mod framing;
mod names;
mod outline;
mod painted;
mod painting;
mod panel;
mod paper;
mod svg_text;

use crate::ceiling::layout::{Kind, Layout, TeesRun};
use crate::ceiling::shape::{Point, Room, Ticks};
use crate::quantity::length::feet_inches;
use crate::quantity::{Date, Number};
use paper::Paper;
use rayon::prelude::*;
use shapes::Drawing;
use std::sync::Arc;

pub use framed::{Layouts, layouts};
pub use names::{is_our_plan, plans_to_files};
pub use painted::Painted;
pub use painting::{Painting, Pictures};
pub use panel::CAUTION;

/// What a plan says that its layout does not.
#[derive(Clone, Copy, Debug)]
pub struct Facts<'a> {
    /// Number and name of the room, or of the first of those that share the layout.
    pub room: &'a str,
    /// The job.
    pub job: &'a str,
    /// The scheme, `One strongback`.
    pub scheme: &'a str,
    /// What is spaced, `tees`.
    pub tees: &'a str,
    /// Its spacing, center to center.
    pub spacing: Option<Ticks>,
    /// Tabs of the angle, center to center.
    pub tab_pitch: Ticks,
    /// Control joints of the board, each from end to end; none where no board was laid.
    pub joints: &'a [[Point; 2]],
    /// The pricing date; a plan in a workbook says none, since its pages do.
    pub as_of: Option<Date>,
}

/// A room that has a layout.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanRoom {
    /// Its number and name.
    pub name: String,
    /// Its row among the rooms, from 0, where the workbook shows it.
    pub row: Option<u32>,
}

/// A layout to draw, with the rooms that share it.
#[derive(Clone, Debug)]
pub struct PlanOf<'a> {
    /// The rooms, at least one.
    pub rooms: Vec<PlanRoom>,
    /// The shape.
    pub room: &'a Room,
    /// The framing.
    pub layout: &'a Layout,
    /// What else the plan says.
    pub facts: Facts<'a>,
}

/// A plan as an SVG file: a letter sheet held sideways. The same bytes for the same room on every machine.
#[must_use]
pub fn plan(room: &Room, layout: &Layout, facts: &Facts<'_>) -> String {
    svg_text::text(&draw(room, layout, facts))
}

/// A plan as a PNG file of 16 greys, 144 dots to the inch; `None` where there is no memory for it.
#[must_use]
pub fn plan_png(room: &Room, layout: &Layout, facts: &Facts<'_>) -> Option<Vec<u8>> {
    png_bytes::bytes(&draw(room, layout, facts))
}

/// Plans as PNG files without a date, in the order given, painted side by side; those that were painted before are taken
/// as they are.
fn plans_png(plans: &[PlanOf<'_>], painted: &Painted) -> Pictures {
    let keyed: Vec<(&PlanOf<'_>, String)> = plans.iter().map(|of| (of, painted::key(of))).collect();
    let before = |(_, key): &(&PlanOf<'_>, String)| painted.of(key).map(Arc::clone);
    if keyed.iter().all(|one| before(one).is_some()) {
        return keyed.iter().map(before).collect();
    }
    let on = |paper: &mut Option<Paper>, one: &(&PlanOf<'_>, String)| {
        if let Some(png) = before(one) {
            return Some(png);
        }
        let (of, key) = one;
        let facts = Facts { as_of: None, ..of.facts };
        let paper = match paper {
            Some(paper) => paper,
            None => paper.insert(Paper::new()?),
        };
        png_bytes::bytes_on(paper, &draw(of.room, of.layout, &facts), Some(key.clone())).map(Arc::from)
    };
    let paint = || keyed.par_iter().map_init(|| None, on).collect();
    // threads of its own, one a core: in the shared pool the cutting plan would wait until all is painted, and with a core
    // left free 200 different rooms take half as long again
    match rayon::ThreadPoolBuilder::new().build() {
        Ok(pool) => pool.install(paint),
        Err(_) => paint(),
    }
}

/// A sentence for people who cannot see the plan.
#[must_use]
pub fn described(layout: &Layout, facts: &Facts<'_>) -> String {
    words::described(layout, facts)
}

/// Draws a plan.
#[must_use]
pub fn draw(room: &Room, layout: &Layout, facts: &Facts<'_>) -> Drawing {
    let sheet = scale::Sheet::new(room);
    let title = format!("{} ({})", facts.room, sheet.scale.name);
    let mut drawing = Drawing::new(title, described(layout, facts));
    outline::walls(&mut drawing, &sheet, room);
    outline::angle(&mut drawing, &sheet, layout, facts);
    framing::control_joints(&mut drawing, &sheet, facts.joints);
    framing::members(&mut drawing, &sheet, layout);
    outline::columns(&mut drawing, &sheet, room);
    framing::openings(&mut drawing, &sheet, layout);
    framing::splices(&mut drawing, &sheet, layout);
    framing::hangs(&mut drawing, &sheet, layout);
    framing::joint_names(&mut drawing, &sheet, facts.joints);
    panel::draw(&mut drawing, &sheet, room, layout, facts);
    dims::draw(&mut drawing, &sheet, room, layout);
    drawing
}

/// Whether a member carries others: a strongback, a main or a channel.
fn carries(kind: Kind) -> bool {
    matches!(kind, Kind::Main | Kind::TabbedMain | Kind::Strongback | Kind::Channel)
}

/// A point's place along the walls that carry the tees.
fn along(layout: &Layout, point: Point) -> Ticks {
    if layout.tees_run == TeesRun::NorthSouth { point.x } else { point.y }
}

/// A point's place the way that the tees run.
fn across(layout: &Layout, point: Point) -> Ticks {
    if layout.tees_run == TeesRun::NorthSouth { point.y } else { point.x }
}

/// The point at a place along the walls that carry the tees, on the line of a wall.
fn place(layout: &Layout, along: Ticks, of_wall: Point) -> Point {
    if layout.tees_run == TeesRun::NorthSouth { Point::new(along, of_wall.y) } else { Point::new(of_wall.x, along) }
}

/// A length as plans state it, to 1/16 in.: inches alone below 4 ft, `24"`, else feet and inches. What is something, and
/// less than half a sixteenth, to 1/64 in.
#[must_use]
pub fn length_text(length: Ticks) -> String {
    let sixteenth = Ticks::INCH.0 / 16;
    let rounded = (length.0 + length.0.signum() * sixteenth / 2) / sixteenth;
    if rounded == 0 && length != Ticks::ZERO {
        let (sign, size) = if length < Ticks::ZERO { ("-", -length) } else { ("", length) };
        let least = Ticks::sixty_fourths(1);
        return if size < least { format!("{sign}less than {least}") } else { length.to_string() };
    }
    let whole = rounded.abs() / 16;
    if whole >= 48 {
        let mm = Number::from_ints(i128::from(rounded) * i128::from(sixteenth), Ticks::MM.0.into());
        return mm.ok().and_then(|mm| feet_inches(&mm, 16).ok()).map_or_else(|| length.to_string(), |p| p.text);
    }
    let sign = if rounded < 0 { "-" } else { "" };
    let (mut over, mut under) = (rounded.abs() % 16, 16);
    while over > 0 && over % 2 == 0 {
        (over, under) = (over / 2, under / 2);
    }
    match (whole, over) {
        (_, 0) => format!("{sign}{whole}\""),
        (0, _) => format!("{sign}{over}/{under}\""),
        _ => format!("{sign}{whole} {over}/{under}\""),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_as_on_a_plan() {
        for (sixteenths, text) in [
            (24 * 16, "24\""),
            (47 * 16 + 8, "47 1/2\""),
            (48 * 16, "4'-0\""),
            (168 * 16 - 2, "13'-11 7/8\""),
            (3, "3/16\""),
            (0, "0\""),
            (-16, "-1\""),
        ] {
            assert_eq!(length_text(Ticks::sixty_fourths(sixteenths * 4)), text);
        }
        // less than half a sixteenth is something
        for (ticks, text) in [
            (Ticks::sixty_fourths(1), "1/64\""),
            (-Ticks::sixty_fourths(1), "-1/64\""),
            (Ticks::sixty_fourths(2), "1/16\""),
            (Ticks(1), "less than 1/64\""),
        ] {
            assert_eq!(length_text(ticks), text);
        }
        // beside whole inches 1/64 in. is nearer to none than to 1/16 in.
        assert_eq!(length_text(Ticks::inches(24) + Ticks::sixty_fourths(1)), "24\"");
    }
}
