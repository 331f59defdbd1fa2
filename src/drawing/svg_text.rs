//! A drawing as SVG, on a letter sheet held sideways.

use super::scale::{HEIGHT, WIDTH};
use super::shapes::{At, Drawing, Grey, Shape};
use std::fmt::Write as _;
use svg::node::Text;
use svg::node::element::{Description, Group, Path, Rectangle, Title};

/// Letter paper held sideways, in points.
const PAPER: (f64, f64) = (792.0, 612.0);

/// What a file that was written here has in its first element: only such a file is written over.
pub(super) const OURS: &str = "data-drawn-by=\"hardlid\"";

/// The text of an SVG file.
#[must_use]
pub fn text(drawing: &Drawing) -> String {
    let (left, top) = ((WIDTH - PAPER.0) / 2.0, (HEIGHT - PAPER.1) / 2.0);
    let view = format!("{left} {top} {} {}", PAPER.0, PAPER.1);
    let sheet = Rectangle::new().set("x", left).set("y", top).set("width", PAPER.0).set("height", PAPER.1);
    let mut document = svg::Document::new()
        .set("width", "11in")
        .set("height", "8.5in")
        .set("viewBox", view)
        .set("role", "img")
        .set("data-drawn-by", "hardlid")
        .add(Title::new(plain(&drawing.title)))
        .add(Description::new().add(Text::new(plain(&drawing.description))))
        .add(sheet.set("fill", "#fff"));
    let mut rest = drawing.shapes.as_slice();
    while let Some(first) = rest.first() {
        // neighbors that are drawn alike share their pen
        let alike = rest.iter().take_while(|s| s.alike(first)).count();
        let (now, later) = rest.split_at(alike);
        document = document.add(now.iter().fold(styled(first), |group, shape| group.add(path(shape))));
        rest = later;
    }
    let mut out = document.to_string();
    out.push('\n');
    out
}

/// Without what XML cannot hold.
fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_control() && !matches!(c, '\u{FFFE}' | '\u{FFFF}')).collect()
}

fn grey(grey: Grey) -> String {
    let digit = char::from_digit(u32::from(grey.min(15)), 16).unwrap_or('0');
    format!("#{digit}{digit}{digit}")
}

fn styled(shape: &Shape) -> Group {
    let mut group = Group::new().set("fill", shape.fill.map_or_else(|| "none".to_owned(), grey));
    if let Some(pen) = shape.pen {
        group = group.set("stroke", grey(pen.grey)).set("stroke-width", short(pen.width));
        if !pen.dashes.is_empty() {
            let dashes: Vec<String> = pen.dashes.iter().map(|d| short(*d)).collect();
            group = group.set("stroke-dasharray", dashes.join(" "));
        }
        if shape.round {
            group = group.set("stroke-linecap", "round").set("stroke-linejoin", "round");
        }
    }
    group
}

fn path(shape: &Shape) -> Path {
    let mut data = String::new();
    for line in &shape.lines {
        for (i, At { x, y }) in line.iter().enumerate() {
            let _ = write!(data, "{}{} {}", if i == 0 { 'M' } else { 'L' }, short(*x), short(*y));
        }
        if shape.closed {
            data.push('Z');
        }
    }
    Path::new().set("class", shape.class.as_ref()).set("d", data)
}

/// A number to hundredths of a point, without needless zeros.
fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
