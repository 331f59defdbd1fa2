//! A drawing as PNG: 16 greys, 144 dots to the inch.

use super::scale::{HEIGHT, WIDTH};
use super::shapes::{Drawing, Grey, Shape};
use tiny_skia::{Color, FillRule, LineCap, LineJoin, Paint, Path, PathBuilder, Pixmap, Stroke, StrokeDash, Transform};

/// Dots to the point: 144 to the inch; 192 take longer to paint and pack, and print no more readable.
const DOTS: f64 = 144.0 / 72.0;
/// The same for the file: dots to the meter.
const PER_METER: u32 = 5_669;
/// Size in dots; a row is a whole number of bytes.
const SIZE: (u32, u32) = ((WIDTH * DOTS) as u32, (HEIGHT * DOTS) as u32);

/// The bytes of a PNG file; `None` where there is no memory for one.
#[must_use]
pub fn bytes(drawing: &Drawing) -> Option<Vec<u8>> {
    let mut map = Pixmap::new(SIZE.0, SIZE.1)?;
    map.fill(Color::WHITE);
    let scale = Transform::from_scale(DOTS as f32, DOTS as f32);
    for shape in &drawing.shapes {
        let Some(path) = path(shape) else { continue };
        if let Some(grey) = shape.fill {
            map.fill_path(&path, &paint(grey), FillRule::EvenOdd, scale, None);
        }
        if let Some(pen) = shape.pen {
            let mut stroke = Stroke { width: pen.width as f32, ..Stroke::default() };
            if shape.round {
                (stroke.line_cap, stroke.line_join) = (LineCap::Round, LineJoin::Round);
            }
            if !pen.dashes.is_empty() {
                stroke.dash = StrokeDash::new(pen.dashes.iter().map(|d| *d as f32).collect(), 0.0);
            }
            map.stroke_path(&path, &paint(pen.grey), &stroke, scale, None);
        }
    }
    encoded(&map)
}

fn paint(grey: Grey) -> Paint<'static> {
    let level = grey.min(15) * 17;
    let mut paint = Paint::default();
    paint.set_color_rgba8(level, level, level, 255);
    paint
}

fn path(shape: &Shape) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for line in &shape.lines {
        for (i, at) in line.iter().enumerate() {
            let (x, y) = (at.x as f32, at.y as f32);
            if i == 0 { builder.move_to(x, y) } else { builder.line_to(x, y) }
        }
        if shape.closed {
            builder.close();
        }
    }
    builder.finish()
}

/// Two dots to a byte, four bits each.
fn encoded(map: &Pixmap) -> Option<Vec<u8>> {
    // the dots are grey and cover all of it, so one of their three colors tells all
    let mut packed = Vec::with_capacity(map.data().len() / 8);
    for two in map.data().chunks_exact(8) {
        packed.push((two[0] & 0xf0) | (two[4] >> 4));
    }
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, SIZE.0, SIZE.1);
    encoder.set_color(png::ColorType::Grayscale);
    encoder.set_depth(png::BitDepth::Four);
    encoder.set_compression(png::Compression::Balanced);
    encoder.set_filter(png::Filter::NoFilter);
    encoder.set_pixel_dims(Some(png::PixelDimensions { xppu: PER_METER, yppu: PER_METER, unit: png::Unit::Meter }));
    let mut writer = encoder.write_header().ok()?;
    writer.write_image_data(&packed).ok()?;
    writer.finish().ok()?;
    Some(out)
}
