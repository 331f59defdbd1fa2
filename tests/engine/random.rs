//! Random formulas of the right kinds, and random cells.

/// A small generator of numbers, the same on every machine.
pub struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % sides
    }

    pub fn pick<'a>(&mut self, from: &[&'a str]) -> &'a str {
        from[usize::try_from(self.roll(from.len() as u64)).unwrap_or(0)]
    }
}

/// The kinds of values that formulas are made of.
#[derive(Clone, Copy, PartialEq)]
pub enum Kind {
    Number,
    Length,
    Area,
    Money,
    Rate,
    YesNo,
    Text,
}

pub const KINDS: [Kind; 7] = [Kind::Number, Kind::Length, Kind::Area, Kind::Money, Kind::Rate, Kind::YesNo, Kind::Text];

/// An expression of a kind, at most so deep.
pub fn expression(dice: &mut Dice, kind: Kind, deep: u32) -> String {
    if deep == 0 || dice.roll(6) == 0 {
        return leaf(dice, kind);
    }
    let mut of = |kind| expression(dice, kind, deep - 1);
    let (a, b, n, l, yes) = (of(kind), of(kind), of(Kind::Number), of(Kind::Length), of(Kind::YesNo));
    match kind {
        Kind::YesNo => yes_no(dice, deep - 1, &a, &b),
        Kind::Text => format!("({a} when {yes}, {b} otherwise)"),
        _ => match dice.roll(13) {
            0 => format!("({a} + {b})"),
            1 => format!("({a} - {b})"),
            2 => format!("({a} * {n})"),
            3 => format!("({n} * {a})"),
            4 => format!("({a} / {n})"),
            5 => format!("shorter({a}, {b})"),
            6 => format!("longer({a}, {b})"),
            7 => format!("({a} when {yes}, {b} otherwise)"),
            8 => format!("(p of {a})"),
            9 => format!("(-({a}))"),
            10 => {
                let how = dice.pick(&["round_up", "round_down", "round_near", "round_even"]);
                format!("{how}({a}, to: {})", step(dice, kind))
            }
            _ => crossing(dice, kind, deep - 1, &a, &l),
        },
    }
}

/// A product or quotient of other kinds.
fn crossing(dice: &mut Dice, kind: Kind, deep: u32, a: &str, l: &str) -> String {
    let mut of = |kind| expression(dice, kind, deep);
    match kind {
        Kind::Number => match dice.roll(4) {
            0 => format!("({l} / {})", expression(dice, Kind::Length, deep)),
            1 => format!("({} / {})", expression(dice, Kind::Area, deep), expression(dice, Kind::Area, deep)),
            2 => format!("({a}) ^ 2"),
            _ => format!("({} / {})", expression(dice, Kind::Money, deep), expression(dice, Kind::Money, deep)),
        },
        Kind::Length => format!("({} / {l})", of(Kind::Area)),
        Kind::Area => format!("({l} * {})", of(Kind::Length)),
        Kind::Money => format!("({} * {l})", of(Kind::Rate)),
        _ => format!("({} / {l})", of(Kind::Money)),
    }
}

fn yes_no(dice: &mut Dice, deep: u32, a: &str, b: &str) -> String {
    let kind = [Kind::Number, Kind::Length, Kind::Area, Kind::Money][usize::try_from(dice.roll(4)).unwrap_or(0)];
    let mut of = |kind| expression(dice, kind, deep);
    let (x, y, z, t, u) = (of(kind), of(kind), of(kind), of(Kind::Text), of(Kind::Text));
    match dice.roll(9) {
        0 => format!("({a} and {b})"),
        1 => format!("({a} or {b})"),
        2 => format!("(not {a})"),
        3 => format!("({x} <= {y} < {z})"),
        4 => format!("({t} is {u})"),
        5 => "(z is given)".to_owned(),
        6 => "(z is not given)".to_owned(),
        _ => format!("({x} {} {y})", dice.pick(&["<", "<=", ">", ">=", "=", "is not"])),
    }
}

fn leaf(dice: &mut Dice, kind: Kind) -> String {
    let from: &[&str] = match kind {
        Kind::Number => &["a", "b", "n", "z", "a", "b", "3", "0.25", "7", "0", "1000"],
        Kind::Length => &["x", "y", "x", "y", "3 ft", "5 1/2\"", "120 mm", "8'-6\"", "1/3 ft"],
        Kind::Area => &["s", "s", "3 sf", "2 sqm", "1 CSF"],
        Kind::Money => &["m", "m", "$3.25", "$0.005"],
        Kind::Rate => &["r", "r", "$2/ft", "$312/MLF", "$7/m"],
        Kind::YesNo => &["w", "(a > b)", "(x <= y)", "yes"],
        Kind::Text => &["t", "t", "\"A\"", "\"b\""],
    };
    dice.pick(from).to_owned()
}

fn step(dice: &mut Dice, kind: Kind) -> &'static str {
    match kind {
        Kind::Number => dice.pick(&["1", "0.5", "7"]),
        Kind::Length => dice.pick(&["1 ft", "8\"", "1/16\"", "25 mm"]),
        Kind::Area => dice.pick(&["1 sf", "32 sf"]),
        Kind::Money => dice.pick(&["$0.01", "$5"]),
        _ => "$0.01/ft",
    }
}
