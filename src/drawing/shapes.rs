//! What a drawing is made of: strokes and areas in points (1/72 in.) of the sheet, `x` right and `y` down. SVG and PNG
//! are both made from it, so they show the same.

use super::letters;
use std::borrow::Cow;

/// A place on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct At {
    /// Points from the left.
    pub x: f64,
    /// Points from the top.
    pub y: f64,
}

impl At {
    /// A place.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// A place so far off.
    #[must_use]
    pub fn by(self, dx: f64, dy: f64) -> Self {
        Self { x: self.x + dx, y: self.y + dy }
    }
}

/// How dark something is, 0 black to 15 white. Drawings have no colors: nothing is lost in greyscale or to the eye.
pub type Grey = u8;
/// Black.
pub const BLACK: Grey = 0;
/// Dark grey.
pub const DARK: Grey = 5;
/// Grey.
pub const MIDDLE: Grey = 8;
/// Paper.
pub const WHITE: Grey = 15;

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// Its width in points.
    pub width: f64,
    /// Its darkness.
    pub grey: Grey,
    /// Lengths of dashes and gaps in turn, in points; none for an unbroken line.
    pub dashes: &'static [f64],
}

impl Pen {
    /// An unbroken black line.
    #[must_use]
    pub const fn solid(width: f64) -> Self {
        Self { width, grey: BLACK, dashes: &[] }
    }

    /// The same in dashes.
    #[must_use]
    pub const fn dashed(width: f64, dashes: &'static [f64]) -> Self {
        Self { width, grey: BLACK, dashes }
    }
}

/// A mark of the drawing: one thing of the room, or one text.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// What it is, a word that programs may look for.
    pub class: Cow<'static, str>,
    /// Its lines.
    pub lines: Vec<Vec<At>>,
    /// Whether each line ends where it began.
    pub closed: bool,
    /// The stroke along the lines.
    pub pen: Option<Pen>,
    /// What fills the lines.
    pub fill: Option<Grey>,
    /// Whether ends and corners are round.
    pub round: bool,
}

impl Shape {
    /// Whether another is drawn with the same pen and filled the same.
    #[must_use]
    pub fn alike(&self, other: &Self) -> bool {
        self.pen == other.pen && self.fill == other.fill && self.round == other.round
    }

    /// Whether it is unbroken lines with square ends, each from one point to another, upright or level.
    #[must_use]
    pub fn straight(&self) -> bool {
        let level = |line: &Vec<At>| matches!(line.as_slice(), [a, b] if a.x == b.x || a.y == b.y);
        let plain = !self.closed && !self.round && self.pen.is_some_and(|p| p.dashes.is_empty());
        plain && self.lines.iter().all(level)
    }
}

/// A rectangle on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Left.
    pub x0: f64,
    /// Top.
    pub y0: f64,
    /// Right.
    pub x1: f64,
    /// Bottom.
    pub y1: f64,
}

impl Area {
    /// Whether two rectangles have some of the sheet in common.
    #[must_use]
    pub fn meets(&self, other: &Self) -> bool {
        self.x0 < other.x1 && other.x0 < self.x1 && self.y0 < other.y1 && other.y0 < self.y1
    }

    /// Width.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.x1 - self.x0
    }

    /// Height.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.y1 - self.y0
    }

    fn grown(self, by: f64) -> Self {
        Self { x0: self.x0 - by, y0: self.y0 - by, x1: self.x1 + by, y1: self.y1 + by }
    }
}

/// A text and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// As it was given.
    pub text: String,
    /// The smallest rectangle around its capitals.
    pub area: Area,
    /// Height of its capitals in points.
    pub height: f64,
}

/// Where a text stands by its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// Its left end is there.
    From,
    /// Its middle is there.
    Around,
    /// Its right end is there.
    To,
}

/// A text to letter. The place is on its baseline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lettering {
    /// Height of its capitals in points.
    pub height: f64,
    /// How it stands by its place.
    pub stands: Stands,
    /// Whether it reads upward instead of to the right.
    pub upward: bool,
    /// Whether it is lettered with a heavy pen.
    pub heavy: bool,
}

/// The least height of capitals: that of letters of 7 points in print.
pub const LEAST_HEIGHT: f64 = 5.0;

impl Lettering {
    /// The least lettering, from its place to the right.
    pub const SMALL: Self = Self { height: LEAST_HEIGHT, stands: Stands::From, upward: false, heavy: false };

    /// The same, around its place.
    #[must_use]
    pub const fn around(self) -> Self {
        Self { stands: Stands::Around, ..self }
    }

    /// The same, reading upward.
    #[must_use]
    pub const fn upward(self, upward: bool) -> Self {
        Self { upward, ..self }
    }

    /// The rectangle that a text would take.
    #[must_use]
    pub fn area(&self, text: &str, at: At) -> Area {
        let width = letters::width(text, self.height);
        let back = self.back(width);
        if self.upward {
            return Area { x0: at.x - self.height, y0: at.y + back - width, x1: at.x, y1: at.y + back };
        }
        Area { x0: at.x - back, y0: at.y - self.height, x1: at.x - back + width, y1: at.y }
    }

    fn back(&self, width: f64) -> f64 {
        match self.stands {
            Stands::From => 0.0,
            Stands::Around => width / 2.0,
            Stands::To => width,
        }
    }
}

/// A drawing in the making, or made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// What it shows, for people who cannot see it.
    pub title: String,
    /// More of it.
    pub description: String,
    /// Its marks, the undermost first.
    pub shapes: Vec<Shape>,
    /// Its texts.
    pub labels: Vec<Label>,
    /// Rectangles that no more text may meet.
    taken: Vec<Area>,
}

impl Drawing {
    /// An empty one.
    #[must_use]
    pub fn new(title: String, description: String) -> Self {
        Self { title, description, ..Self::default() }
    }

    /// Adds lines.
    pub fn lines(&mut self, class: &'static str, lines: Vec<Vec<At>>, pen: Pen) {
        let class = Cow::Borrowed(class);
        self.shapes.push(Shape { class, lines, closed: false, pen: Some(pen), fill: None, round: false });
    }

    /// Adds one straight line.
    pub fn line(&mut self, class: &'static str, from: At, to: At, pen: Pen) {
        self.lines(class, vec![vec![from, to]], pen);
    }

    /// Adds closed areas, filled where `fill` says so, with an edge where `pen` does.
    pub fn areas(&mut self, class: &'static str, lines: Vec<Vec<At>>, pen: Option<Pen>, fill: Option<Grey>) {
        self.shapes.push(Shape { class: Cow::Borrowed(class), lines, closed: true, pen, fill, round: false });
    }

    /// Letters a text, whatever stands there.
    pub fn text(&mut self, text: &str, at: At, how: Lettering) {
        let area = how.area(text, at);
        let start = if how.upward { At::new(at.x, area.y1) } else { At::new(area.x0, at.y) };
        let up = if how.upward { (-1.0, 0.0) } else { (0.0, -1.0) };
        let weight = how.height * if how.heavy { 0.17 } else { 0.11 };
        self.shapes.push(Shape {
            class: Cow::Borrowed("text"),
            lines: letters::strokes(text, start, how.height, up),
            closed: false,
            pen: Some(Pen::solid(weight)),
            fill: None,
            round: true,
        });
        self.labels.push(Label { text: text.to_owned(), area, height: how.height });
        self.taken.push(area.grown(1.0));
    }

    /// Letters a text at the first of its places where it meets nothing. Whether there was one.
    pub fn text_where_free(&mut self, text: &str, places: &[At], how: Lettering, white: bool) -> bool {
        let free = |at: &&At| {
            let area = how.area(text, **at);
            !self.taken.iter().any(|t| t.meets(&area))
        };
        let Some(at) = places.iter().find(free).copied() else { return false };
        if white {
            let area = how.area(text, at).grown(1.5);
            self.areas("paper", vec![corners(area)], None, Some(WHITE));
        }
        self.text(text, at, how);
        true
    }

    /// Keeps texts off a rectangle.
    pub fn keep_off(&mut self, area: Area) {
        self.taken.push(area);
    }
}

/// The corners of a rectangle.
#[must_use]
pub fn corners(a: Area) -> Vec<At> {
    vec![At::new(a.x0, a.y0), At::new(a.x1, a.y0), At::new(a.x1, a.y1), At::new(a.x0, a.y1)]
}

/// A ring of twelve corners, near enough to a circle at the size of a symbol.
#[must_use]
pub fn dot(at: At, radius: f64) -> Vec<At> {
    const AROUND: [(f64, f64); 12] = [
        (1.0, 0.0),
        (0.866_025, 0.5),
        (0.5, 0.866_025),
        (0.0, 1.0),
        (-0.5, 0.866_025),
        (-0.866_025, 0.5),
        (-1.0, 0.0),
        (-0.866_025, -0.5),
        (-0.5, -0.866_025),
        (0.0, -1.0),
        (0.5, -0.866_025),
        (0.866_025, -0.5),
    ];
    AROUND.iter().map(|(x, y)| at.by(x * radius, y * radius)).collect()
}
