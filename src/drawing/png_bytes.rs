//! A drawing as PNG: 16 greys, 144 dots to the inch.

use super::scale::{HEIGHT, WIDTH};
use super::shapes::{Drawing, Grey, Pen, Shape};
use tiny_skia::{
    Color, FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, Rect, Stroke, StrokeDash, Transform,
};

/// Dots to the point: 144 to the inch; 192 take longer to paint and pack, and print no more readable.
const DOTS: f64 = 144.0 / 72.0;
/// The same for the file: dots to the meter.
const PER_METER: u32 = 5_669;
/// Size in dots; a row is a whole number of bytes.
const SIZE: (u32, u32) = ((WIDTH * DOTS) as u32, (HEIGHT * DOTS) as u32);

/// A pen so wide in dots is painted as a line of one dot: a tenth of the work for a difference that nobody sees.
const HAIRLINE: f64 = 1.25;
/// A pen so wide in dots shows no round ends.
const ROUND_SHOWS: f64 = 3.0;

/// A sheet of dots to paint plans on, one after the other.
#[derive(Debug)]
pub struct Paper(Pixmap);

impl Paper {
    /// A sheet of the size of a plan; `None` where there is no memory for one.
    #[must_use]
    pub fn new() -> Option<Self> {
        Pixmap::new(SIZE.0, SIZE.1).map(Self)
    }

    /// The bytes of a PNG file of a drawing; `None` where there is no memory for it.
    pub fn bytes(&mut self, drawing: &Drawing) -> Option<Vec<u8>> {
        self.0.fill(Color::WHITE);
        let (texts, marks): (Vec<&Shape>, Vec<&Shape>) = drawing.shapes.iter().partition(|s| s.class == "text");
        // nothing is drawn over a text, so texts come last, and then many share a pen
        for alike in marks.chunk_by(|a, b| a.alike(b)).chain(texts.chunk_by(|a, b| a.alike(b))) {
            self.paint(alike);
        }
        encoded(&self.0)
    }

    /// Paints shapes that are drawn alike. Filled ones are painted one by one, as one may hide part of another.
    fn paint(&mut self, alike: &[&Shape]) {
        let Some(first) = alike.first() else { return };
        let scale = Transform::from_scale(DOTS as f32, DOTS as f32);
        let step = if first.fill.is_some() { 1 } else { alike.len() };
        for shapes in alike.chunks(step) {
            let Some(path) = path(shapes) else { continue };
            if let Some(grey) = first.fill {
                self.0.fill_path(&path, &paint(grey), FillRule::EvenOdd, scale, None);
            }
            match first.pen {
                Some(pen) if first.fill.is_none() && shapes.iter().all(|s| s.straight()) => self.bars(shapes, &pen),
                Some(pen) => {
                    self.0.stroke_path(&path, &paint(pen.grey), &stroke(&pen, first.round), scale, None);
                }
                None => {}
            }
        }
    }

    /// Paints straight lines as the rectangles that they are.
    fn bars(&mut self, shapes: &[&Shape], pen: &Pen) {
        let (paint, half) = (paint(pen.grey), pen.width / 2.0);
        for line in shapes.iter().flat_map(|s| &s.lines) {
            let &[a, b] = line.as_slice() else { continue };
            let (wide, tall) = if a.x == b.x { (half, 0.0) } else { (0.0, half) };
            let dots = |at: f64| (at * DOTS) as f32;
            let (left, top) = (dots(a.x.min(b.x) - wide), dots(a.y.min(b.y) - tall));
            let (right, bottom) = (dots(a.x.max(b.x) + wide), dots(a.y.max(b.y) + tall));
            if let Some(bar) = Rect::from_ltrb(left, top, right, bottom) {
                self.0.fill_rect(bar, &paint, Transform::identity(), None);
            }
        }
    }
}

/// The bytes of a PNG file; `None` where there is no memory for one.
#[must_use]
pub fn bytes(drawing: &Drawing) -> Option<Vec<u8>> {
    Paper::new()?.bytes(drawing)
}

fn stroke(pen: &Pen, round: bool) -> Stroke {
    let dots = pen.width * DOTS;
    let width = if dots <= HAIRLINE { dots.min(1.0) / DOTS } else { pen.width };
    let mut stroke = Stroke { width: width as f32, ..Stroke::default() };
    if round && dots >= ROUND_SHOWS {
        (stroke.line_cap, stroke.line_join) = (LineCap::Round, LineJoin::Round);
    } else if round {
        (stroke.line_cap, stroke.line_join) = (LineCap::Square, LineJoin::Bevel);
    }
    if !pen.dashes.is_empty() {
        stroke.dash = StrokeDash::new(pen.dashes.iter().map(|d| *d as f32).collect(), 0.0);
    }
    stroke
}

fn paint(grey: Grey) -> Paint<'static> {
    let level = grey.min(15) * 17;
    let mut paint = Paint::default();
    paint.set_color_rgba8(level, level, level, 255);
    paint
}

fn path(shapes: &[&Shape]) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for shape in shapes {
        for line in &shape.lines {
            for (i, at) in line.iter().enumerate() {
                let (x, y) = (at.x as f32, at.y as f32);
                if i == 0 { builder.move_to(x, y) } else { builder.line_to(x, y) }
            }
            if shape.closed {
                builder.close();
            }
        }
    }
    builder.finish()
}

/// Two dots to a byte, four bits each.
fn encoded(map: &Pixmap) -> Option<Vec<u8>> {
    // the dots are grey and cover all of it, so one of their three colors tells all
    let (twos, _) = map.data().as_chunks::<8>();
    let packed: Vec<u8> = twos.iter().map(|two| (two[0] & 0xf0) | (two[4] >> 4)).collect();
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, SIZE.0, SIZE.1);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Four);
    // rows that repeat the one above become zeros, which pack quickly: a third of the time for a tenth more bytes
    encoder.set_filter(png::Filter::Up);
    encoder.set_deflate_compression(png::DeflateCompression::Level(2));
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: PER_METER, yppu: PER_METER, unit: png::Unit::Meter }));
    let mut writer = encoder.write_header().ok()?;
    writer.write_image_data(&packed).ok()?;
    writer.finish().ok()?;
    Some(out)
}
