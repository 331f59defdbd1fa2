//! A sheet of grey dots, and how the marks of a drawing are painted on it.

use super::scale::{HEIGHT, WIDTH};
use super::shapes::{At, Drawing, Grey, Pen, Shape, dot};
use zeno::{Cap, Command, Fill, Join, Mask, PathBuilder as _, Scratch, Stroke, Style};

/// Dots to the point: 144 to the inch; 192 take longer to paint and pack, and print no more readable.
const DOTS: f64 = 144.0 / 72.0;
/// Width of a sheet in dots; a row of half-byte dots is a whole number of bytes.
pub const ACROSS: usize = (WIDTH * DOTS) as usize;
/// Height of a sheet in dots.
pub const DOWN: usize = (HEIGHT * DOTS) as usize;

/// A pen so wide in dots shows round ends.
const ROUND_SHOWS: f64 = 3.0;

/// Dots looked at together: a row of a mask is a whole number of times as many, so its last ones may cover nothing of a
/// row of the sheet beyond its end, and of the sheet.
const AT_ONCE: usize = 32;

/// A sheet of dots to paint plans on, one after the other: 0 black to 255 white, row after row.
pub struct Paper {
    /// Those of the sheet, and as many more as are looked at together.
    dots: Vec<u8>,
    /// Blank but while something is painted.
    mask: Vec<u8>,
    scratch: Scratch,
    path: Vec<Command>,
}

impl Paper {
    /// A white sheet of the size of a plan; `None` where there is no memory for one.
    #[must_use]
    pub fn new() -> Option<Self> {
        let mut dots = Vec::new();
        dots.try_reserve_exact(ACROSS * DOWN + AT_ONCE).ok()?;
        dots.resize(ACROSS * DOWN + AT_ONCE, u8::MAX);
        Some(Self { dots, mask: Vec::new(), scratch: Scratch::new(), path: Vec::new() })
    }

    /// The dots, row after row.
    #[must_use]
    pub fn dots(&self) -> &[u8] {
        self.dots.get(..ACROSS * DOWN).unwrap_or_default()
    }

    /// Paints a drawing on a sheet made white again.
    pub fn paint(&mut self, drawing: &Drawing) {
        self.dots.fill(u8::MAX);
        for shape in &drawing.shapes {
            self.shape(shape);
        }
    }

    fn shape(&mut self, shape: &Shape) {
        if let Some(grey) = shape.fill {
            self.masked(&shape.lines, true, 0.0, Style::Fill(Fill::EvenOdd), grey);
        }
        let Some(pen) = &shape.pen else { return };
        if shape.fill.is_none() && shape.straight() {
            for line in &shape.lines {
                self.bar(line, pen);
            }
            return;
        }
        let width = pen.width * DOTS;
        let dashes: Vec<f32> = pen.dashes.iter().map(|d| (*d * DOTS) as f32).collect();
        let mut stroke = Stroke::new(width as f32);
        stroke.dash(&dashes, 0.0);
        let thick = shape.round && width >= ROUND_SHOWS;
        if shape.round {
            stroke.join(Join::Bevel).cap(if thick { Cap::Butt } else { Cap::Square });
        } else {
            stroke.join(Join::Miter).cap(Cap::Butt);
        }
        for line in &shape.lines {
            self.masked(std::slice::from_ref(line), shape.closed, width, Style::Stroke(stroke), pen.grey);
            if thick {
                let rounds: Vec<Vec<At>> = line.iter().map(|at| dot(*at, pen.width / 2.0)).collect();
                self.masked(&rounds, true, 0.0, Style::Fill(Fill::NonZero), pen.grey);
            }
        }
    }

    /// Paints lines that lie within a few dots of their points.
    fn masked(&mut self, lines: &[Vec<At>], closed: bool, width: f64, style: Style<'_>, grey: Grey) {
        let Some(frame) = Frame::around(lines, width) else { return };
        self.path.clear();
        for line in lines {
            for (i, at) in line.iter().enumerate() {
                let place = [(at.x * DOTS) as f32 - frame.left as f32, (at.y * DOTS) as f32 - frame.top as f32];
                if i == 0 {
                    self.path.move_to(place)
                } else {
                    self.path.line_to(place)
                };
            }
            if closed {
                self.path.close();
            }
        }
        let pitch = frame.across.next_multiple_of(AT_ONCE);
        let size = pitch * frame.down;
        if self.mask.len() < size {
            self.mask.resize(size, 0);
        }
        let Some(mask) = self.mask.get_mut(..size) else { return };
        Mask::with_scratch(&self.path, &mut self.scratch)
            .style(style)
            .size(frame.across as u32, frame.down as u32)
            .render_into(mask, Some(pitch));
        for (row, mask) in mask.chunks_exact_mut(pitch).enumerate() {
            let from = (frame.top + row) * ACROSS + frame.left;
            let Some(dots) = self.dots.get_mut(from..from + pitch) else { continue };
            let ((dots, _), (covers, _)) = (dots.as_chunks_mut::<AT_ONCE>(), mask.as_chunks_mut::<AT_ONCE>());
            for (dots, covers) in dots.iter_mut().zip(covers) {
                // most of a frame is covered by nothing
                if covers.iter().fold(0, |all, c| all | c) > 0 {
                    for (dot, cover) in dots.iter_mut().zip(covers.iter()) {
                        *dot = mixed(*dot, grey, *cover);
                    }
                    *covers = [0; AT_ONCE];
                }
            }
        }
    }

    /// Paints a straight upright or level line as the rectangle that it is.
    fn bar(&mut self, line: &[At], pen: &Pen) {
        let &[a, b] = line else { return };
        let half = pen.width * DOTS / 2.0;
        let (wide, tall) = if a.x == b.x { (half, 0.0) } else { (0.0, half) };
        let span = |a: f64, b: f64, more: f64, most| covers(a.min(b) * DOTS - more, a.max(b) * DOTS + more, most);
        let (left, across) = span(a.x, b.x, wide, ACROSS);
        let (top, down) = span(a.y, b.y, tall, DOWN);
        for (y, by_row) in (top..).zip(&down) {
            let from = y * ACROSS + left;
            let Some(dots) = self.dots.get_mut(from..from + across.len()) else { continue };
            for (dot, by_column) in dots.iter_mut().zip(&across) {
                *dot = mixed(*dot, pen.grey, (u32::from(*by_row) * u32::from(*by_column) / 255) as u8);
            }
        }
    }
}

/// Dots that a line or an area can touch.
struct Frame {
    left: usize,
    top: usize,
    across: usize,
    down: usize,
}

impl Frame {
    /// Around lines drawn so wide, in dots, with the points of their corners; `None` off the sheet.
    fn around(lines: &[Vec<At>], width: f64) -> Option<Self> {
        let points = || lines.iter().flatten();
        let more = width * 2.0 + 1.0;
        let least = |of: fn(&At) -> f64| points().map(of).fold(f64::MAX, f64::min) * DOTS - more;
        let most = |of: fn(&At) -> f64| points().map(of).fold(f64::MIN, f64::max) * DOTS + more;
        let (left, top) = (least(|a| a.x).max(0.0) as usize, least(|a| a.y).max(0.0) as usize);
        let right = (most(|a| a.x).max(0.0) as usize + 1).min(ACROSS);
        let bottom = (most(|a| a.y).max(0.0) as usize + 1).min(DOWN);
        (left < right && top < bottom).then(|| Self { left, top, across: right - left, down: bottom - top })
    }
}

/// How much of each dot lies between two places of a row or column so long: the first dot, and each one's cover.
fn covers(from: f64, to: f64, most: usize) -> (usize, Vec<u8>) {
    let (from, to) = (from.clamp(0.0, most as f64), to.clamp(0.0, most as f64));
    let first = from as usize;
    let part = |dot: usize| (to.min((dot + 1) as f64) - from.max(dot as f64)).max(0.0);
    (first, (first..(to as usize + 1).min(most)).map(|dot| (part(dot) * 255.0 + 0.5) as u8).collect())
}

/// A dot painted over with a grey that covers so much of it.
fn mixed(dot: u8, grey: Grey, cover: u8) -> u8 {
    // 255 times 255 and a half fit 16 bits, of which the processor takes several at once
    let (dot, grey, cover) = (u16::from(dot), u16::from(grey.min(15)) * 17, u16::from(cover));
    ((dot * (255 - cover) + grey * cover + 127) / 255) as u8
}

#[cfg(test)]
mod tests {
    use super::super::shapes::{Area, BLACK, Lettering, MIDDLE, corners};
    use super::*;

    fn painted(draw: impl Fn(&mut Drawing)) -> Paper {
        let mut drawing = Drawing::new(String::new(), String::new());
        draw(&mut drawing);
        let mut paper = Paper::new().expect("memory");
        paper.paint(&drawing);
        paper
    }

    fn at(paper: &Paper, x: usize, y: usize) -> u8 {
        paper.dots()[y * ACROSS + x]
    }

    /// 1 pt is 2 dots: a pen of 1 pt at x = 10 pt covers dots 19 and 20; one of 0.75 pt three quarters of each.
    #[test]
    fn straight_lines_cover_what_they_cover() {
        let line = |width: f64| {
            move |d: &mut Drawing| d.line("line", At::new(10.0, 5.0), At::new(10.0, 9.0), Pen::solid(width))
        };
        let paper = painted(line(1.0));
        assert_eq!([18, 19, 20, 21].map(|x| at(&paper, x, 12)), [255, 0, 0, 255]);
        // from y = 5 pt, dot 10, to 9 pt, before dot 18
        assert_eq!([9, 10, 17, 18].map(|y| at(&paper, 19, y)), [255, 0, 0, 255]);
        // a quarter of 255 is left
        let paper = painted(line(0.75));
        assert_eq!([18, 19, 20, 21].map(|x| at(&paper, x, 12)), [255, 64, 64, 255]);
    }

    #[test]
    fn areas_hide_what_is_under_them() {
        let area = Area { x0: 5.0, y0: 5.0, x1: 10.0, y1: 10.0 };
        let paper = painted(|d| {
            d.line("line", At::new(0.0, 7.0), At::new(20.0, 7.0), Pen::solid(1.0));
            d.areas("area", vec![corners(area)], None, Some(MIDDLE));
        });
        // the line at y = 7 pt covers dots 13 and 14
        assert_eq!([8, 15, 25].map(|x| at(&paper, x, 13)), [0, MIDDLE * 17, 0]);
        assert_eq!([8, 15, 25].map(|x| at(&paper, x, 16)), [255, MIDDLE * 17, 255]);
    }

    /// A slanted line and a text touch no dot beyond their frames, and each some within.
    #[test]
    fn slanted_lines_and_texts_are_where_they_belong() {
        let how = Lettering { height: 10.0, heavy: true, ..Lettering::SMALL };
        let area = how.area("X7", At::new(40.0, 40.0));
        for paper in [
            painted(|d| d.text("X7", At::new(40.0, 40.0), how)),
            painted(|d| d.line("line", At::new(area.x0, area.y0), At::new(area.x1, area.y1), Pen::solid(1.0))),
        ] {
            let dark = |x: usize, y: usize| at(&paper, x, y) < 255;
            let inside = |x: usize, y: usize| {
                let (x, y) = (x as f64 / DOTS, y as f64 / DOTS);
                x > area.x0 - 2.0 && x < area.x1 + 2.0 && y > area.y0 - 2.0 && y < area.y1 + 2.0
            };
            let all = || (0..DOWN).flat_map(|y| (0..ACROSS).map(move |x| (x, y)));
            assert!(all().all(|(x, y)| !dark(x, y) || inside(x, y)));
            assert!(all().filter(|(x, y)| at(&paper, *x, *y) == BLACK * 17).count() > 8);
        }
    }

    /// What leaves the sheet is cut off at its edge.
    #[test]
    fn the_sheet_ends_at_its_edges() {
        let paper = painted(|d| {
            d.line("line", At::new(-30.0, 20.0), At::new(WIDTH + 30.0, 20.0), Pen::solid(1.0));
            d.line("line", At::new(-30.0, -30.0), At::new(WIDTH + 30.0, HEIGHT + 30.0), Pen::solid(1.0));
            d.areas("area", vec![corners(Area { x0: -9.0, y0: -9.0, x1: 2.0, y1: 2.0 })], None, Some(BLACK));
        });
        assert_eq!((at(&paper, 0, 40), at(&paper, ACROSS - 1, 40), at(&paper, 3, 3)), (0, 0, 0));
    }
}
