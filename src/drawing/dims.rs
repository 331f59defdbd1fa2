//! Dimensions around the room.

use super::framing::places;
use super::scale::Sheet;
use super::shapes::{At, DARK, Drawing, Lettering, Pen};
use super::{across, along, carries, length_text};
use crate::ceiling::layout::{HangKind, Kind, Layout, SpliceKind, TeesRun};
use crate::ceiling::shape::{Point, Room, Side, Ticks};

/// From the wall to the first row of dimensions, and from row to row.
const FIRST: f64 = 13.0;
/// From one row of dimensions to the next.
const ROW: f64 = 13.0;
/// Lengths that differ by less are dimensioned as equal: 1/32 in.
const EQUAL: i64 = 254;
/// Stops nearer to each other than this get no strokes of their own, in points.
const NEAREST_STOPS: f64 = 2.2;
/// How far a text may stand out beyond the length that it tells.
const BEYOND: f64 = 16.0;

/// One row of dimensions on one side of the room.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chain {
    /// The side of the room.
    pub side: Side,
    /// Places from wall to wall, in order; `x` on the south and north side, else `y`.
    pub stops: Vec<Ticks>,
    /// What is dimensioned.
    pub word: &'static str,
}

/// Equal spaces in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// Where they begin.
    pub from: Ticks,
    /// How many.
    pub count: i64,
    /// The length of each.
    pub each: Ticks,
    /// Where they end.
    pub to: Ticks,
}

/// Spaces between stops, equal neighbors together.
#[must_use]
pub fn runs(stops: &[Ticks]) -> Vec<Run> {
    let mut out: Vec<Run> = Vec::new();
    for pair in stops.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let each = to - from;
        match out.last_mut() {
            Some(run) if (run.each - each).0.abs() <= EQUAL => (run.count, run.to) = (run.count + 1, to),
            _ => out.push(Run { from, count: 1, each, to }),
        }
    }
    out
}

/// The rows of dimensions that a layout takes, those next to the room first on each side.
#[must_use]
pub fn chains(room: &Room, layout: &Layout) -> Vec<Chain> {
    let [low, high] = room.extent();
    let ns = layout.tees_run == TeesRun::NorthSouth;
    let (near, far, left) =
        if ns { (Side::South, Side::North, Side::West) } else { (Side::West, Side::East, Side::South) };
    let (along_ends, across_ends) =
        if ns { ([low.x, high.x], [low.y, high.y]) } else { ([low.y, high.y], [low.x, high.x]) };
    let mut out = Vec::new();
    let mut add = |side, ends: [Ticks; 2], stops: Vec<Ticks>, word| {
        let mut stops: Vec<Ticks> = stops.into_iter().filter(|s| *s > ends[0] && *s < ends[1]).collect();
        if stops.is_empty() {
            return;
        }
        stops.extend(ends);
        stops.sort_unstable();
        stops.dedup();
        out.push(Chain { side, stops, word });
    };
    let tee_word = layout.members.iter().find_map(|m| match m.kind {
        Kind::Tee => Some("Tees"),
        Kind::CrossTee => Some("Cross tees"),
        Kind::Furring => Some("Furring"),
        _ => None,
    });
    let is_tee = |kind| !carries(kind);
    // halves that are spliced over a strongback are set off from each other, so each wall has its own row
    let halves = layout.splices.iter().any(|s| s.kind == SpliceKind::OverStrongback);
    let word = tee_word.unwrap_or("Tees");
    if halves {
        add(near, along_ends, places(layout, |m| is_tee(m.kind) && across(layout, m.from) == across_ends[0]), word);
        add(far, along_ends, places(layout, |m| is_tee(m.kind) && across(layout, m.to) == across_ends[1]), word);
    } else {
        add(near, along_ends, places(layout, |m| is_tee(m.kind)), word);
    }
    add(far, along_ends, hang_stops(layout), hang_word(layout));
    let mut lines: Vec<Ticks> =
        layout.members.iter().filter(|m| carries(m.kind)).map(|m| across(layout, m.from)).collect();
    let mut word = "Lines";
    if lines.is_empty() {
        lines = layout.hangs.iter().map(|h| across(layout, h.at)).collect();
        word = hang_word(layout);
    } else if let Some(first) = layout.members.iter().find(|m| carries(m.kind)) {
        word = match first.kind {
            Kind::Main | Kind::TabbedMain => "Mains",
            Kind::Channel => "Channel",
            _ => "Strongback",
        };
    }
    add(left, across_ends, lines, word);
    if !room.is_rectangle() {
        let corners = || room.rings().iter().flatten();
        add(Side::North, [low.x, high.x], corners().map(|p| p.x).collect(), "Walls");
        add(Side::East, [low.y, high.y], corners().map(|p| p.y).collect(), "Walls");
    }
    let edges =
        |of: fn(&Point) -> Ticks| layout.openings.iter().filter_map(|o| o.corners).flatten().map(|p| of(&p)).collect();
    add(Side::South, [low.x, high.x], edges(|p| p.x), "Openings");
    add(Side::West, [low.y, high.y], edges(|p| p.y), "Openings");
    out.push(Chain { side: Side::South, stops: vec![low.x, high.x], word: "" });
    out.push(Chain { side: Side::West, stops: vec![low.y, high.y], word: "" });
    out
}

/// Where wires or clips are along the member that has the most of them.
#[must_use]
pub fn hang_stops(layout: &Layout) -> Vec<Ticks> {
    let mut count = vec![0u32; layout.members.len()];
    for hang in &layout.hangs {
        if let Some(n) = count.get_mut(hang.on) {
            *n += 1;
        }
    }
    let carrier = |i: &usize| layout.members.get(*i).is_some_and(|m| carries(m.kind));
    // the first of those that have the most
    let most = (0..count.len()).filter(carrier).max_by_key(|i| (count[*i], std::cmp::Reverse(*i)));
    let Some(most) = most.filter(|i| count[*i] > 0) else { return Vec::new() };
    let mut out: Vec<Ticks> = layout.hangs.iter().filter(|h| h.on == most).map(|h| along(layout, h.at)).collect();
    out.sort_unstable();
    out
}

fn hang_word(layout: &Layout) -> &'static str {
    match layout.hangs.first().map(|h| h.kind) {
        Some(HangKind::Clip) => "Clips",
        Some(HangKind::Tie) => "Ties",
        _ => "Wires",
    }
}

/// Draws the rows of dimensions. A text that finds no place clear of others is left out; the words beside the plan
/// give the same figures.
pub fn draw(drawing: &mut Drawing, sheet: &Sheet, room: &Room, layout: &Layout) {
    let chains = chains(room, layout);
    let mut rows = [0u32; 4];
    let all: Vec<(Axis, &Chain)> = chains
        .iter()
        .map(|chain| {
            let row = &mut rows[chain.side as usize];
            let off = FIRST + ROW * f64::from(*row);
            *row += 1;
            (Axis::new(sheet, room, chain.side, off), chain)
        })
        .collect();
    for (axis, chain) in &all {
        axis.lines(drawing, sheet, chain);
    }
    for (axis, chain) in &all {
        axis.texts(drawing, sheet, chain);
    }
}

/// The line that dimensions of one row stand on.
struct Axis {
    side: Side,
    /// `y` of a row that runs across the sheet, `x` of one that runs up.
    line: f64,
    /// The same of the wall.
    wall: f64,
    /// What the first place of all is at, in ticks and on the sheet.
    zero: (Ticks, f64),
    upward: bool,
}

impl Axis {
    fn new(sheet: &Sheet, room: &Room, side: Side, off: f64) -> Self {
        let e = sheet.extent;
        let low = room.extent()[0];
        let (line, wall) = match side {
            Side::South => (e.y1 + off, e.y1),
            Side::North => (e.y0 - off, e.y0),
            Side::West => (e.x0 - off, e.x0),
            Side::East => (e.x1 + off, e.x1),
        };
        let upward = matches!(side, Side::West | Side::East);
        let zero = if upward { (low.y, e.y1) } else { (low.x, e.x0) };
        Self { side, line, wall, zero, upward }
    }

    /// A place on the row, `out` points away from the room.
    fn at(&self, sheet: &Sheet, stop: Ticks, out: f64) -> At {
        let far = sheet.points(stop - self.zero.0);
        let out = if matches!(self.side, Side::South | Side::East) { out } else { -out };
        if self.upward {
            At::new(self.line + out, self.zero.1 - far)
        } else {
            At::new(self.zero.1 + far, self.line + out)
        }
    }

    fn lines(&self, drawing: &mut Drawing, sheet: &Sheet, chain: &Chain) {
        let thin = Pen { width: 0.45, grey: DARK, dashes: &[] };
        let (Some(first), Some(last)) = (chain.stops.first(), chain.stops.last()) else { return };
        drawing.line("dimension", self.at(sheet, *first, 0.0), self.at(sheet, *last, 0.0), thin);
        let runs = runs(&chain.stops);
        let ends: Vec<Ticks> = runs.iter().map(|r| r.from).chain([*last]).collect();
        let reach = (self.line - self.wall).abs();
        let whisker = |s: &Ticks| vec![self.at(sheet, *s, 5.0 - reach), self.at(sheet, *s, 2.5)];
        drawing.lines("extension", ends.iter().map(whisker).collect(), Pen { width: 0.3, grey: DARK, dashes: &[] });
        let mut strokes = Vec::new();
        for run in &runs {
            let every = sheet.points(run.each) >= NEAREST_STOPS;
            let steps = if every { run.count } else { 1 };
            let stops = chain.stops.iter().filter(|s| **s >= run.from && **s < run.to);
            strokes.extend(stops.take(usize::try_from(steps).unwrap_or(0)).map(|s| self.stroke(sheet, *s)));
        }
        strokes.push(self.stroke(sheet, *last));
        drawing.lines("dimension-stop", strokes, Pen::solid(0.8));
    }

    fn stroke(&self, sheet: &Sheet, stop: Ticks) -> Vec<At> {
        let at = self.at(sheet, stop, 0.0);
        vec![at.by(-1.7, 1.7), at.by(1.7, -1.7)]
    }

    fn texts(&self, drawing: &mut Drawing, sheet: &Sheet, chain: &Chain) {
        let how = Lettering::SMALL.around().upward(self.upward);
        // texts stand over the line of a row that runs across, left of one that runs up
        let over = |at: At| if self.upward { at.by(-2.8, 0.0) } else { at.by(0.0, -2.8) };
        let mut runs = runs(&chain.stops);
        // the longest first: they have the most to say and the least choice
        runs.sort_by_key(|r| (std::cmp::Reverse((r.to - r.from).0), r.from));
        for run in runs {
            let middle = over(self.at(sheet, Ticks((run.from + run.to).0 / 2), 0.0));
            let room = sheet.points(run.to - run.from);
            for text in texts_of(&run) {
                let area = how.area(&text, middle);
                let long = if self.upward { area.height() } else { area.width() };
                if long <= room + BEYOND && drawing.text_where_free(&text, &[middle], how, false) {
                    break;
                }
            }
        }
        if !chain.word.is_empty()
            && let Some(last) = chain.stops.last()
        {
            let at = self.at(sheet, *last, 0.0);
            let how = Lettering { heavy: false, ..Lettering::SMALL }.upward(self.upward);
            let at = if self.upward { at.by(2.5, -6.0) } else { at.by(6.0, 2.5) };
            drawing.text_where_free(chain.word, &[at], how, false);
        }
    }
}

/// What a run may say, the fullest first.
fn texts_of(run: &Run) -> Vec<String> {
    let each = length_text(run.each);
    if run.count == 1 {
        return vec![each];
    }
    let total = length_text(run.to - run.from);
    vec![
        format!("{} @ {each} o.c. = {total}", run.count),
        format!("{} @ {each} o.c.", run.count),
        format!("{} @ {each}", run.count),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_spaces_stand_together() {
        let stops: Vec<Ticks> = [0, 24, 48, 72, 90].map(Ticks::inches).to_vec();
        let run = |from, count, each, to| Run {
            from: Ticks::inches(from),
            count,
            each: Ticks::inches(each),
            to: Ticks::inches(to),
        };
        assert_eq!(runs(&stops), [run(0, 3, 24, 72), run(72, 1, 18, 90)]);
        assert_eq!(texts_of(&run(0, 3, 24, 72))[0], "3 @ 24\" o.c. = 6'-0\"");
        assert_eq!(runs(&[Ticks::ZERO]), []);
    }
}
