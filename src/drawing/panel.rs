//! The words of a plan: title, scale, how it is laid out, legend, caution.

use super::framing::{JOINT_PEN, hang_symbol, opening, splice_symbol, stretch};
use super::letters;
use super::outline::angle_pen;
use super::scale::{FOOT, HEIGHT, Sheet, WIDTH};
use super::shapes::{Area, At, BLACK, DARK, Drawing, Grey, Lettering, Pen, WHITE, corners};
use super::words::{self, KINDS, counted};
use super::{Facts, length_text};
use crate::ceiling::layout::{AngleKind, HangKind, Kind, Layout, SpliceKind};
use crate::ceiling::shape::{Room, Ticks};

/// What every plan says at its foot.
pub const CAUTION: &str = "An estimating aid, no engineering: the manufacturer's tested tables, local codes and licensed \
                           practice govern. Measure on site.";

/// From one line of small words to the next.
const LEADING: f64 = 8.2;
/// Letters keep off the edge, which would cut half a stroke off them.
const EDGE: f64 = 3.0;
/// Columns of words below a plan.
const COLUMNS: f64 = 4.0;
/// Width of a legend's sample.
const SAMPLE: f64 = 26.0;

/// What is shown in a legend.
#[derive(Clone, Copy)]
enum Sample {
    Angle(AngleKind),
    Tab,
    Joint,
    Member(Kind),
    Hang(HangKind),
    Splice(SpliceKind),
    Opening,
    Header,
    Column,
    ControlJoint,
}

/// A line of words.
enum Item {
    Text(String, Lettering),
    Sample(Sample, String),
    Bar,
}

impl Item {
    fn height(&self) -> f64 {
        match self {
            Self::Text(_, how) => how.height + 3.4,
            Self::Sample(..) => LEADING + 0.8,
            Self::Bar => 28.0,
        }
    }
}

/// Draws the words.
pub fn draw(drawing: &mut Drawing, sheet: &Sheet, room: &Room, layout: &Layout, facts: &Facts<'_>) {
    let foot = At::new(EDGE, HEIGHT - 3.0);
    drawing.line("rule", At::new(0.0, HEIGHT - FOOT + 1.0), At::new(WIDTH, HEIGHT - FOOT + 1.0), Pen::solid(0.5));
    drawing.text(&letters::fitted(CAUTION, Lettering::SMALL.height, WIDTH - EDGE), foot, Lettering::SMALL);
    let w = sheet.words;
    let (columns, gap) = if sheet.below { (COLUMNS, 14.0) } else { (1.0, 0.0) };
    let left = if sheet.below { w.x0 + EDGE } else { w.x0 + 12.0 };
    let width = (w.x1 - left - gap * (columns - 1.0)) / columns;
    if sheet.below {
        drawing.line("rule", At::new(w.x0, w.y0), At::new(w.x1, w.y0), Pen::solid(0.5));
    } else {
        drawing.line("rule", At::new(w.x0 + 4.0, w.y0), At::new(w.x0 + 4.0, w.y1 - 4.0), Pen::solid(0.5));
    }
    let legend = legend(room, layout, facts);
    let title = title(sheet, facts, width);
    let said: Vec<Item> = words::layout_words(layout, facts)
        .iter()
        .flat_map(|line| letters::wrapped(line, Lettering::SMALL.height, width, 4))
        .map(|line| Item::Text(line, Lettering::SMALL))
        .collect();
    let mut flow =
        Flow { left, top: w.y0 + 3.0, bottom: w.y1 - 3.0, width, step: width + gap, column: 0.0, y: w.y0 + 3.0 };
    flow.block(drawing, sheet, &title, columns);
    let legend_height: f64 = legend.iter().map(Item::height).sum();
    if sheet.below {
        // the legend has the last column, and another where it is long
        let legend_columns = (legend_height / (flow.bottom - flow.top)).ceil().clamp(1.0, 2.0);
        flow.next(1.0);
        flow.block(
            drawing,
            sheet,
            &trimmed(said, (columns - 1.0 - legend_columns) * (flow.bottom - flow.top)),
            columns,
        );
        flow.next(columns - legend_columns);
        flow.block(drawing, sheet, &legend, columns);
    } else {
        flow.rule(drawing);
        let room_left = flow.bottom - flow.y - legend_height - 8.0;
        flow.block(drawing, sheet, &trimmed(said, room_left), columns);
        flow.rule(drawing);
        flow.block(drawing, sheet, &legend, columns);
    }
}

/// Lines of words for a height; where some are left out the last says so.
fn trimmed(mut items: Vec<Item>, height: f64) -> Vec<Item> {
    let most = (height / (Lettering::SMALL.height + 3.4)).floor().max(1.0) as usize;
    if items.len() > most {
        items.truncate(most.saturating_sub(1));
        items.push(Item::Text("The sheets of lines and cuts have the rest.".to_owned(), Lettering::SMALL));
    }
    items
}

/// Words in columns.
struct Flow {
    left: f64,
    top: f64,
    bottom: f64,
    width: f64,
    step: f64,
    column: f64,
    y: f64,
}

impl Flow {
    fn next(&mut self, column: f64) {
        (self.column, self.y) = (column, self.top);
    }

    fn x(&self) -> f64 {
        self.left + self.column * self.step
    }

    fn rule(&mut self, drawing: &mut Drawing) {
        self.y += 3.0;
        let x = self.x();
        drawing.line("rule", At::new(x, self.y), At::new(x + self.width, self.y), Pen::solid(0.4));
        self.y += 3.0;
    }

    /// Writes items, going on in the next column where one is full; what goes beyond the last is left out.
    fn block(&mut self, drawing: &mut Drawing, sheet: &Sheet, items: &[Item], columns: f64) {
        for item in items {
            if self.y + item.height() > self.bottom + 0.01 {
                if self.column + 1.5 > columns {
                    return;
                }
                self.next(self.column + 1.0);
            }
            let (x, y) = (self.x(), self.y);
            match item {
                Item::Text(text, how) => drawing.text(text, At::new(x, y + how.height), *how),
                Item::Sample(sample, text) => {
                    let middle = y + LEADING / 2.0 - 0.6;
                    draw_sample(drawing, *sample, Area { x0: x, y0: middle, x1: x + SAMPLE, y1: middle });
                    let text = letters::fitted(text, Lettering::SMALL.height, self.width - SAMPLE - 6.0);
                    drawing.text(&text, At::new(x + SAMPLE + 6.0, middle + 2.5), Lettering::SMALL);
                }
                Item::Bar => scale_bar(drawing, sheet, At::new(x, y + 15.0), self.width),
            }
            self.y += item.height();
        }
    }
}

fn title(sheet: &Sheet, facts: &Facts<'_>, width: f64) -> Vec<Item> {
    let big = Lettering { height: 9.0, heavy: true, ..Lettering::SMALL };
    let plain = Lettering { height: 5.6, ..Lettering::SMALL };
    let mut out: Vec<Item> =
        letters::wrapped(facts.room, big.height, width, 2).into_iter().map(|t| Item::Text(t, big)).collect();
    let mut say = |text: &str, most| {
        out.extend(letters::wrapped(text, plain.height, width, most).into_iter().map(|t| Item::Text(t, plain)));
    };
    say(facts.job, 1);
    let at = facts.spacing.map_or_else(String::new, |s| format!(", {} at {} o.c.", facts.tees, length_text(s)));
    say(&format!("{}{at}", facts.scheme), 3);
    if let Some(date) = facts.as_of {
        say(&format!("Priced as of {}/{}/{}", date.month(), date.day(), date.year()), 1);
    }
    say(&format!("Scale {} on letter paper", sheet.scale.name), 1);
    out.push(Item::Bar);
    out
}

/// What the drawing shows, with how many; nothing that does not occur.
fn legend(room: &Room, layout: &Layout, facts: &Facts<'_>) -> Vec<Item> {
    let mut out = Vec::new();
    let mut add = |sample, text: String| out.push(Item::Sample(sample, text));
    for kind in KINDS {
        let count = layout.members.iter().filter(|m| m.kind == kind).count();
        if count > 0 {
            add(Sample::Member(kind), counted(count, words::member_name(kind)));
        }
    }
    for kind in [HangKind::Wire, HangKind::Tie, HangKind::Clip] {
        let count = layout.hangs.iter().filter(|h| h.kind == kind).count();
        if count > 0 {
            add(Sample::Hang(kind), counted(count, words::hang_name(kind)));
        }
    }
    for kind in [AngleKind::Tabbed, AngleKind::Closing, AngleKind::Plain, AngleKind::Return] {
        if layout.angles.iter().any(|a| a.kind == kind) {
            add(Sample::Angle(kind), words::angle_name(kind).to_owned());
        }
    }
    if layout.angles.iter().any(|a| a.tabs > 0) {
        add(Sample::Tab, "tab".to_owned());
    }
    let inner = |a: &crate::ceiling::layout::AnglePiece| {
        layout.walls.get(a.wall).is_some_and(|w| ![w.from, w.to].contains(&a.from) || ![w.from, w.to].contains(&a.to))
    };
    if layout.angles.iter().any(inner) {
        add(Sample::Joint, "joint of angle".to_owned());
    }
    for kind in [SpliceKind::Scrap, SpliceKind::OverStrongback, SpliceKind::Lap, SpliceKind::EndToEnd] {
        let count = layout.splices.iter().filter(|s| s.kind == kind).count();
        if count > 0 {
            add(Sample::Splice(kind), counted(count, words::splice_name(kind)));
        }
    }
    let placed = layout.openings.iter().filter(|o| o.corners.is_some()).count();
    if placed > 0 {
        add(Sample::Opening, counted(placed, ("opening", "openings")));
    }
    let pieces = |f: &crate::ceiling::layout::OpeningFit| f.headers.iter().chain(&f.trimmers).any(|p| p.at.is_some());
    if layout.openings.iter().any(pieces) {
        add(Sample::Header, "header or trimmer".to_owned());
    }
    if !facts.joints.is_empty() {
        add(Sample::ControlJoint, counted(facts.joints.len(), ("control joint (CJ)", "control joints (CJ)")));
    }
    if !room.columns().is_empty() {
        add(Sample::Column, counted(room.columns().len(), ("column", "columns")));
    }
    out
}

fn draw_sample(drawing: &mut Drawing, sample: Sample, a: Area) {
    let before = drawing.shapes.len();
    let (from, to) = (At::new(a.x0, a.y0), At::new(a.x1, a.y0));
    let middle = At::new((a.x0 + a.x1) / 2.0, a.y0);
    let sign =
        |half: f64| Area { x0: middle.x - half * 1.6, y0: a.y0 - half, x1: middle.x + half * 1.6, y1: a.y0 + half };
    match sample {
        Sample::Angle(kind) => drawing.line("", from, to, angle_pen(kind)),
        Sample::Tab => {
            let lines = [4.0, 13.0, 22.0].map(|x| vec![from.by(x, -1.7), from.by(x, 1.7)]);
            drawing.lines("", lines.to_vec(), Pen { width: 0.6, grey: DARK, dashes: &[] });
        }
        Sample::Joint => drawing.line("", middle.by(0.0, -2.8), middle.by(0.0, 2.8), Pen::solid(1.3)),
        Sample::Member(kind) => stretch(drawing, kind, vec![[from, to]]),
        Sample::Hang(kind) => hang_symbol(drawing, kind, middle, 2.1),
        Sample::Splice(kind) => splice_symbol(drawing, kind, middle, 2.1),
        Sample::ControlJoint => drawing.line("", from, to, JOINT_PEN),
        Sample::Opening => opening(drawing, sign(3.2)),
        Sample::Header => drawing.line("", from, to, Pen::solid(1.6)),
        Sample::Column => {
            let area = sign(3.2);
            let strokes =
                [0.0, 3.2, 6.4].map(|x| vec![At::new(area.x0 + x, area.y1), At::new(area.x0 + x + 3.8, area.y0)]);
            drawing.lines("", strokes.to_vec(), Pen::solid(0.5));
            drawing.areas("", vec![corners(area)], Some(Pen::solid(1.2)), None);
        }
    }
    // a sample is not the thing itself
    for shape in drawing.shapes.iter_mut().skip(before) {
        shape.class = "sample".into();
    }
}

/// A bar of four parts, with north beside it.
fn scale_bar(drawing: &mut Drawing, sheet: &Sheet, at: At, width: f64) {
    const PARTS: [i64; 11] = [1, 3, 6, 12, 24, 60, 120, 300, 600, 1_200, 2_400];
    let most = (width - 46.0).min(130.0);
    let fits = |part: &&i64| sheet.points(Ticks::inches(**part)) * 4.0 <= most;
    let part = Ticks::inches(PARTS.iter().rev().find(fits).copied().unwrap_or(1));
    let step = sheet.points(part);
    for (i, x) in [0.0, 1.0, 2.0, 3.0].into_iter().enumerate() {
        let area = Area { x0: at.x + x * step, y0: at.y, x1: at.x + (x + 1.0) * step, y1: at.y + 4.0 };
        let fill: Grey = if i % 2 == 0 { BLACK } else { WHITE };
        drawing.areas("scale-bar", vec![corners(area)], Some(Pen::solid(0.6)), Some(fill));
    }
    let how = Lettering::SMALL.around();
    drawing.text("0", at.by(2.0, -2.5), how);
    drawing.text_where_free(&length_text(part * 2), &[at.by(step * 2.0, -2.5)], how, false);
    drawing.text_where_free(&length_text(part * 4), &[at.by(step * 4.0, -2.5)], how, false);
    let north = At::new(at.x + width - 10.0, at.y);
    let point = vec![north.by(0.0, -11.0), north.by(3.2, 5.0), north.by(0.0, 2.4), north.by(-3.2, 5.0)];
    drawing.areas("north", vec![point], Some(Pen::solid(0.7)), Some(BLACK));
    drawing.text("N", north.by(-6.0, -4.0), Lettering { height: 6.0, ..Lettering::SMALL }.around());
}
