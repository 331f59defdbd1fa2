//! The scale of a plan, and where it stands on its sheet.

use super::shapes::{Area, At};
use crate::ceiling::shape::{Point, Room, Ticks};

/// Width of a plan in points: 9-1/2 in., for letter paper held sideways with half-inch margins and some slack.
pub const WIDTH: f64 = 684.0;
/// Height of a plan in points: 6-1/4 in., which leaves room for names above and below it.
pub const HEIGHT: f64 = 450.0;
/// Height of the caution at the foot.
pub const FOOT: f64 = 13.0;
/// What dimensions take on each side of the room.
pub const AROUND: f64 = 44.0;
/// Width of the words beside the plan.
const BESIDE: f64 = 176.0;
/// Height of the words below the plan, where they stand there.
const BELOW: f64 = 132.0;

/// A scale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// As a drawing states it.
    pub name: &'static str,
    /// Points on paper to the foot.
    pub per_foot: f64,
}

/// The scales of the trade, largest first; below 1/32 in. those of site plans.
pub const SCALES: &[Scale] = &[
    Scale { name: "1\" = 1'-0\"", per_foot: 72.0 },
    Scale { name: "3/4\" = 1'-0\"", per_foot: 54.0 },
    Scale { name: "1/2\" = 1'-0\"", per_foot: 36.0 },
    Scale { name: "3/8\" = 1'-0\"", per_foot: 27.0 },
    Scale { name: "1/4\" = 1'-0\"", per_foot: 18.0 },
    Scale { name: "3/16\" = 1'-0\"", per_foot: 13.5 },
    Scale { name: "1/8\" = 1'-0\"", per_foot: 9.0 },
    Scale { name: "3/32\" = 1'-0\"", per_foot: 6.75 },
    Scale { name: "1/16\" = 1'-0\"", per_foot: 4.5 },
    Scale { name: "1/32\" = 1'-0\"", per_foot: 2.25 },
    Scale { name: "1\" = 50'-0\"", per_foot: 1.44 },
    Scale { name: "1\" = 100'-0\"", per_foot: 0.72 },
    Scale { name: "1\" = 200'-0\"", per_foot: 0.36 },
    Scale { name: "1\" = 400'-0\"", per_foot: 0.18 },
];

/// Where everything stands.
#[derive(Clone, Copy, Debug)]
pub struct Sheet {
    /// The scale.
    pub scale: Scale,
    /// The room's extent on the sheet.
    pub extent: Area,
    /// Where words stand.
    pub words: Area,
    /// Whether words stand below the plan, in columns, and not beside it.
    pub below: bool,
    low: Point,
}

impl Sheet {
    /// Chooses the place of the words that lets the plan be larger, and the largest scale that fits.
    #[must_use]
    pub fn new(room: &Room) -> Self {
        let [low, high] = room.extent();
        let (wide, high) = ((high.x - low.x).0 as f64, (high.y - low.y).0 as f64);
        let foot = Ticks::FOOT.0 as f64;
        let body = HEIGHT - FOOT;
        let beside = Area { x0: 0.0, y0: 0.0, x1: WIDTH - BESIDE, y1: body };
        let below = Area { x0: 0.0, y0: 0.0, x1: WIDTH, y1: body - BELOW };
        let at = |area: &Area| {
            let fits = |s: &&Scale| {
                wide / foot * s.per_foot <= area.width() - 2.0 * AROUND
                    && high / foot * s.per_foot <= area.height() - 2.0 * AROUND
            };
            SCALES.iter().find(fits).or(SCALES.last()).copied().unwrap_or(Scale { name: "", per_foot: 0.1 })
        };
        let (a, b) = (at(&beside), at(&below));
        let is_below = b.per_foot > a.per_foot;
        let (scale, plan) = if is_below { (b, below) } else { (a, beside) };
        let (wide, high) = (wide / foot * scale.per_foot, high / foot * scale.per_foot);
        let (x0, y0) = ((plan.x0 + plan.x1 - wide) / 2.0, (plan.y0 + plan.y1 - high) / 2.0);
        let words = if is_below {
            Area { x0: 0.0, y0: plan.y1, x1: WIDTH, y1: body }
        } else {
            Area { x0: plan.x1, y0: 0.0, x1: WIDTH, y1: body }
        };
        let extent = Area { x0, y0, x1: x0 + wide, y1: y0 + high };
        Self { scale, extent, words, below: is_below, low }
    }

    /// Points on paper for a length.
    #[must_use]
    pub fn points(&self, length: Ticks) -> f64 {
        length.0 as f64 / Ticks::FOOT.0 as f64 * self.scale.per_foot
    }

    /// Where a point of the room is on the sheet.
    #[must_use]
    pub fn at(&self, point: Point) -> At {
        let (east, north) = (self.points(point.x - self.low.x), self.points(point.y - self.low.y));
        At::new(self.extent.x0 + east, self.extent.y1 - north)
    }
}
