//! The one door to the clipping crate: rooms in, rooms out, on whole ticks.

use super::{Point, Ticks};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::core::single::SingleIntOverlay;
use i_overlay::i_float::int::point::IntPoint;

/// A rectangle by its south-west and north-east corners.
pub type Rectangle = [Point; 2];

/// One connected part of a room: its outline counterclockwise, then its columns clockwise.
pub type Part = Vec<Vec<Point>>;

type Contours = Vec<Vec<IntPoint<i64>>>;

fn inward(rings: &[Vec<Point>]) -> Contours {
    rings.iter().map(|ring| ring.iter().map(|p| IntPoint::new(p.x.0, p.y.0)).collect()).collect()
}

fn boxes(rectangles: &[Rectangle]) -> Contours {
    let corners = |r: &Rectangle| {
        let ([a, b], p) = (r, IntPoint::new);
        vec![p(a.x.0, a.y.0), p(b.x.0, a.y.0), p(b.x.0, b.y.0), p(a.x.0, b.y.0)]
    };
    rectangles.iter().map(corners).collect()
}

fn outward(shapes: Vec<Contours>) -> Vec<Part> {
    let point = |p: IntPoint<i64>| Point::new(Ticks(p.x), Ticks(p.y));
    let ring = |ring: Vec<IntPoint<i64>>| ring.into_iter().map(point).collect();
    shapes.into_iter().map(|shape| shape.into_iter().map(ring).collect()).collect()
}

/// The room without what is cut out of it, and with what is added.
pub fn cut_and_add(room: &[Vec<Point>], cut: &[Rectangle], add: &[Rectangle]) -> Vec<Part> {
    let room = inward(room);
    let with =
        if add.is_empty() { vec![room] } else { room.overlay(&boxes(add), OverlayRule::Union, FillRule::NonZero) };
    if cut.is_empty() {
        return outward(with);
    }
    outward(with.overlay(&boxes(cut), OverlayRule::Difference, FillRule::NonZero))
}

/// Whether a rectangle lies wholly within the room; touching walls is within.
pub fn is_within(room: &[Vec<Point>], rectangle: Rectangle) -> bool {
    boxes(&[rectangle]).overlay(&inward(room), OverlayRule::Difference, FillRule::NonZero).is_empty()
}

/// Whether a rectangle takes some of the room's area.
pub fn takes_some(room: &[Vec<Point>], rectangle: Rectangle) -> bool {
    !boxes(&[rectangle]).overlay(&inward(room), OverlayRule::Intersect, FillRule::NonZero).is_empty()
}

/// Whether two rectangles take some of the same area.
pub fn overlap(a: Rectangle, b: Rectangle) -> bool {
    a[0].x < b[1].x && b[0].x < a[1].x && a[0].y < b[1].y && b[0].y < a[1].y
}
