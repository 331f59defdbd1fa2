//! Places at even steps along a length.

use super::result::Cut;
use crate::ceiling::shape::Ticks;
use smallvec::smallvec;

/// The quotient rounded up, below zero too.
pub fn over_up(length: Ticks, step: Ticks) -> i64 {
    if step.0 <= 0 { 0 } else { -(-length.0).div_euclid(step.0) }
}

/// Wires along a strongback of that length. `first` and `last` are the distances of a free end's wire from its wall;
/// without them that end is fixed, and its first wire may be one step away.
///
/// As many as (length − first − last) / step rounded up, and one. They step from the first; the last of a free end
/// moves back to its place.
pub fn wires(length: Ticks, first: Option<Ticks>, last: Option<Ticks>, step: Ticks) -> Vec<Ticks> {
    let (from, to) = (first.unwrap_or(step), length - last.unwrap_or(step));
    let count = over_up(to - from, step) + 1;
    if count == 1 {
        let one = match (first, last) {
            (Some(first), _) if first < length => first,
            (None, Some(last)) if last < length => length - last,
            _ => Ticks(length.0 / 2),
        };
        return vec![one];
    }
    let mut out: Vec<Ticks> = (0..count).map(|k| from + step * k).collect();
    if let (Some(_), Some(end)) = (last, out.last_mut()) {
        *end = to;
    }
    out
}

/// Places so that the first and the last lie at most `edge` from the ends, and no two more than `step` apart. One in
/// the middle, where both ends are within reach of it.
pub fn between(length: Ticks, edge: Ticks, step: Ticks) -> Vec<Ticks> {
    if length <= edge * 2 {
        return vec![Ticks(length.0 / 2)];
    }
    let count = over_up(length - edge * 2, step) + 1;
    let mut out: Vec<Ticks> = (0..count).map(|k| edge + step * k).collect();
    if let Some(end) = out.last_mut() {
        *end = length - edge;
    }
    out
}

/// Places with half a step, or less, at the ends: length / step rounded up of them. The last moves back to half a
/// step from its end.
pub fn halves(length: Ticks, step: Ticks) -> Vec<Ticks> {
    if length <= step {
        return vec![Ticks(length.0 / 2)];
    }
    let half = Ticks(step.0 / 2);
    let mut out: Vec<Ticks> = (0..length.steps_up(step)).map(|k| half + step * k).collect();
    if let Some(end) = out.last_mut() {
        *end = length - half;
    }
    out
}

/// What each of a row of places carries: half way to its neighbors, all the way to the ends.
pub fn shares(places: &[Ticks], length: Ticks) -> impl Iterator<Item = Ticks> + '_ {
    let middle = move |i: usize| match (places.get(i.wrapping_sub(1)), places.get(i)) {
        (Some(a), Some(b)) => Ticks(i64::midpoint(a.0, b.0)),
        (None, _) => Ticks::ZERO,
        _ => length,
    };
    (0..places.len()).map(move |i| middle(i + 1) - middle(i))
}

/// Lines that part a length equally, to the nearest tick.
pub fn equal_parts(length: Ticks, lines: u32) -> Vec<Ticks> {
    let parts = i64::from(lines) + 1;
    (1..parts).map(|k| Ticks((2 * length.0 * k + parts) / (2 * parts))).collect()
}

/// Whole multiples of a step, less `back`, strictly between two places.
pub fn multiples(from: Ticks, to: Ticks, step: Ticks, back: Ticks) -> impl Iterator<Item = Ticks> {
    let first = (from + back).0.div_euclid(step.0.max(1)) + 1;
    let end = over_up(to + back, step);
    (first..end).map(move |k| step * k - back)
}

/// Pieces of stock that make a length with laps: whole ones, then the rest.
pub fn lapped(length: Ticks, stock: Option<Ticks>, lap: Ticks) -> Cut {
    let Some(stock) = stock.filter(|s| *s < length && *s > lap) else { return smallvec![length] };
    let joints = over_up(length - lap, stock - lap) - 1;
    let mut out = Cut::from_elem(stock, usize::try_from(joints).unwrap_or(0));
    out.push(length - (stock - lap) * joints);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn feet(all: &[Ticks]) -> Vec<i64> {
        all.iter().map(|t| t.0 / Ticks::FOOT.0).collect()
    }

    fn ft(n: i64) -> Ticks {
        Ticks::feet(n)
    }

    #[test]
    fn wires_of_free_and_fixed_ends() {
        // 20 ft, tees 24 in.: at 2, 6, 10, 14, 18 ft (the trade's own example)
        assert_eq!(feet(&wires(ft(20), Some(ft(2)), Some(ft(2)), ft(4))), [2, 6, 10, 14, 18]);
        assert_eq!(feet(&wires(ft(20), None, None, ft(4))), [4, 8, 12, 16]);
        // 19 ft, tees 24 in., 3 ft: the last tee at 18 ft; 16 ft in steps of 3 ft are 6 steps, 7 wires
        assert_eq!(feet(&wires(ft(19), Some(ft(2)), Some(ft(1)), ft(3))), [2, 5, 8, 11, 14, 17, 18]);
        assert_eq!(wires(ft(3), None, None, ft(4)), []);
    }

    #[test]
    fn channel_by_the_published_rule() {
        // 24 ft: 288 - 12 = 276 in., 36 in. apart: 8 spaces, 9 runners; 36 ft: 420 / 48: 9 spaces, 10 hangers
        assert_eq!(between(ft(24), Ticks::inches(6), Ticks::inches(36)).len(), 9);
        assert_eq!(between(ft(36), Ticks::inches(6), Ticks::inches(48)).len(), 10);
        assert_eq!(between(ft(24), Ticks::inches(6), Ticks::inches(42)).len(), 8);
        assert_eq!(between(ft(36), Ticks::inches(6), Ticks::inches(42)).len(), 11);
    }

    #[test]
    fn grid_wires_keep_half_a_step_from_the_ends() {
        assert_eq!(feet(&halves(ft(20), ft(4))), [2, 6, 10, 14, 18]);
        assert_eq!(feet(&halves(ft(21), ft(4))), [2, 6, 10, 14, 18, 19]);
        assert_eq!(feet(&halves(ft(4), ft(4))), [2]);
    }

    #[test]
    fn shares_add_up() {
        let places = wires(ft(20), Some(ft(2)), Some(ft(2)), ft(4));
        assert_eq!(feet(&shares(&places, ft(20)).collect::<Vec<_>>()), [4, 4, 4, 4, 4]);
        assert_eq!(shares(&[ft(3)], ft(7)).collect::<Vec<_>>(), [ft(7)]);
    }

    #[test]
    fn laps_are_in_the_pieces() {
        // 20 ft of 12 ft stock, 4 in. lap: 144 in., and 240 - 140 = 100 in.
        assert_eq!(lapped(ft(20), Some(ft(12)), Ticks::inches(4))[..], [Ticks::inches(144), Ticks::inches(100)]);
        // 23'-8" is two pieces to the full: 144 + 140 = 284 in.
        assert_eq!(lapped(Ticks::inches(284), Some(ft(12)), Ticks::inches(4))[..], [ft(12), ft(12)]);
        assert_eq!(lapped(Ticks::inches(285), Some(ft(12)), Ticks::inches(4)).len(), 3);
        assert_eq!(lapped(ft(20), None, Ticks::inches(4))[..], [ft(20)]);
    }

    #[test]
    fn multiples_lie_strictly_between() {
        assert_eq!(feet(&multiples(ft(0), ft(8), ft(2), Ticks::ZERO).collect::<Vec<_>>()), [2, 4, 6]);
        assert_eq!(feet(&multiples(ft(-3), ft(3), ft(2), Ticks::ZERO).collect::<Vec<_>>()), [-2, 0, 2]);
        assert_eq!(feet(&multiples(ft(0), ft(8), ft(3), ft(1)).collect::<Vec<_>>()), [2, 5]);
    }
}
