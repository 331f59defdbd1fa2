//! Where a room is clear along straight lines.

use crate::ceiling::shape::{Room, Ticks};

/// A clear stretch of a line between two walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clear {
    pub from: Ticks,
    pub to: Ticks,
    /// Whether each end has no tab and is screwed: at a slanted wall, or at a corner, where a face's angle ends before
    /// the tab that would serve.
    pub screwed: [bool; 2],
}

impl Clear {
    /// Its length.
    pub fn length(&self) -> Ticks {
        self.to - self.from
    }

    /// How many of its ends are screwed.
    pub fn screws(&self) -> u64 {
        self.screwed.iter().map(|s| u64::from(*s)).sum()
    }

    fn both(a: Self, b: Self) -> Option<Self> {
        let (from, to) = (a.from.max(b.from), a.to.min(b.to));
        // a wall that one side alone meets ends at this line
        let corner = [a.from != b.from, a.to != b.to];
        let screwed = [0, 1].map(|end| corner[end] || a.screwed[end] || b.screwed[end]);
        (from < to).then_some(Self { from, to, screwed })
    }
}

/// A wall that the lines meet: it goes from place `a` to place `b` across them.
#[derive(Clone, Copy, Debug)]
struct Edge {
    a: i64,
    b: i64,
    /// Where it stands along a line at its two ends.
    at: [i64; 2],
}

impl Edge {
    /// Where it meets the line at `place`, rounded down and up to ticks.
    fn meets(&self, place: i64) -> [i64; 2] {
        let [from, to] = self.at;
        if from == to {
            return [from, from];
        }
        let over = i128::from(to - from) * i128::from(place - self.a);
        let (down, rest) = num_integer::div_mod_floor(over, i128::from(self.b - self.a));
        let down = from + i64::try_from(down).unwrap_or(0);
        [down, down + i64::from(rest != 0)]
    }

    fn slants(&self) -> bool {
        self.at[0] != self.at[1]
    }
}

/// Looks along lines, each farther on than the one before.
pub struct Scanner {
    /// By where they begin.
    edges: Vec<Edge>,
    next: usize,
    open: Vec<Edge>,
    /// Walls beside the line that is looked at, in order along it.
    met: Vec<([i64; 2], bool)>,
    before: Vec<Clear>,
    after: Vec<Clear>,
}

impl Scanner {
    /// Over the walls of a room. `place` gives for a corner where it is across the lines, and where along them.
    pub fn new(room: &Room, place: impl Fn(crate::ceiling::shape::Point) -> (Ticks, Ticks)) -> Self {
        let edge = |w: crate::ceiling::shape::Wall| {
            let (p, q) = (place(w.from), place(w.to));
            let (p, q) = if p.0 <= q.0 { (p, q) } else { (q, p) };
            (p.0 < q.0).then_some(Edge { a: p.0.0, b: q.0.0, at: [p.1.0, q.1.0] })
        };
        let mut edges: Vec<Edge> = room.walls().filter_map(edge).collect();
        edges.sort_unstable_by_key(|e| (e.a, e.at));
        Self { edges, next: 0, open: Vec::new(), met: Vec::new(), before: Vec::new(), after: Vec::new() }
    }

    /// The stretches of the line at `place` that are clear on both sides of it, in order. Lines are to be asked for in
    /// order.
    pub fn clear(&mut self, place: Ticks) -> &[Clear] {
        let place = place.0;
        while let Some(edge) = self.edges.get(self.next).filter(|e| e.a <= place) {
            self.open.push(*edge);
            self.next += 1;
        }
        self.open.retain(|e| e.b >= place);
        Self::inside(&self.open, &mut self.met, &mut self.before, place, |e| e.a < place);
        if self.open.iter().all(|e| e.a < place && place < e.b) {
            return &self.before;
        }
        Self::inside(&self.open, &mut self.met, &mut self.after, place, |e| place < e.b);
        self.before = shared(&self.before, &self.after);
        &self.before
    }

    /// The stretches inside, by the walls that the line meets on one side of it.
    fn inside(
        open: &[Edge],
        met: &mut Vec<([i64; 2], bool)>,
        out: &mut Vec<Clear>,
        place: i64,
        meets: impl Fn(&Edge) -> bool,
    ) {
        met.clear();
        met.extend(open.iter().filter(|e| meets(e)).map(|e| (e.meets(place), e.slants())));
        met.sort_unstable();
        out.clear();
        for pair in met.chunks_exact(2) {
            let ([_, from], [to, _]) = (pair[0].0, pair[1].0);
            if from < to {
                out.push(Clear { from: Ticks(from), to: Ticks(to), screwed: [pair[0].1, pair[1].1] });
            }
        }
    }
}

/// What two lists of stretches have in common.
fn shared(a: &[Clear], b: &[Clear]) -> Vec<Clear> {
    let (mut i, mut j) = (0, 0);
    let mut out = Vec::new();
    while let (Some(&x), Some(&y)) = (a.get(i), b.get(j)) {
        out.extend(Clear::both(x, y));
        if x.to < y.to {
            i += 1;
        } else {
            j += 1;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ceiling::shape::Point;

    fn room(corners: &[(i64, i64)]) -> Room {
        Room::from_corners(corners.iter().map(|&(x, y)| Point::new(Ticks(x), Ticks(y))).collect()).unwrap()
    }

    fn clear(room: &Room, x: i64) -> Vec<(i64, i64)> {
        let mut scanner = Scanner::new(room, |p| (p.x, p.y));
        scanner.clear(Ticks(x)).iter().map(|c| (c.from.0, c.to.0)).collect()
    }

    #[test]
    fn a_line_along_a_face_is_clear_only_where_both_sides_are() {
        // an L: 10 by 10, without its upper right 4 by 6
        let l = room(&[(0, 0), (10, 0), (10, 4), (6, 4), (6, 10), (0, 10)]);
        assert_eq!(clear(&l, 0), []);
        assert_eq!(clear(&l, 3), [(0, 10)]);
        assert_eq!(clear(&l, 6), [(0, 4)]);
        assert_eq!(clear(&l, 9), [(0, 4)]);
        assert_eq!(clear(&l, 10), []);
    }

    #[test]
    fn a_slanted_wall_is_met_within_the_room() {
        // a triangle over (0,0) (10,0) (0,7): at x = 4 the wall is at 4.2
        let t = room(&[(0, 0), (10, 0), (0, 7)]);
        assert_eq!(clear(&t, 4), [(0, 4)]);
        assert_eq!(Scanner::new(&t, |p| (p.x, p.y)).clear(Ticks(4))[0].screwed, [false, true]);
    }

    #[test]
    fn an_end_at_a_corner_is_screwed() {
        // the L above: at 6 the face at 4 has its end, and no tab; at 7 it has one
        let l = room(&[(0, 0), (10, 0), (10, 4), (6, 4), (6, 10), (0, 10)]);
        let screwed = |x| Scanner::new(&l, |p| (p.x, p.y)).clear(Ticks(x))[0].screwed;
        assert_eq!((screwed(5), screwed(6), screwed(7)), ([false; 2], [false, true], [false; 2]));
        // where the line passes a jog's corner at one end and meets a slanted wall at the other: each end by itself
        let s = room(&[(0, 0), (10, 0), (10, 4), (6, 4), (6, 9), (0, 12)]);
        let screwed = |x| Scanner::new(&s, |p| (p.x, p.y)).clear(Ticks(x))[0].screws();
        assert_eq!((screwed(5), screwed(6), screwed(7)), (1, 1, 0));
    }

    #[test]
    fn a_u_has_two_stretches() {
        let u = room(&[(0, 0), (9, 0), (9, 9), (0, 9), (0, 6), (6, 6), (6, 3), (0, 3)]);
        assert_eq!(clear(&u, 3), [(0, 3), (6, 9)]);
        assert_eq!(clear(&u, 6), [(0, 3), (6, 9)]);
        assert_eq!(clear(&u, 7), [(0, 9)]);
    }
}
