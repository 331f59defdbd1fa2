//! Random books of the right kinds, and random numbers.

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

    fn kind(&mut self, from: &[Kind]) -> Kind {
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
    Date,
}

use Kind::{Area, Date, Length, Money, Number, Rate, Text, YesNo};

pub const KINDS: [Kind; 8] = [Number, Length, Area, Money, Rate, YesNo, Text, Date];

/// Where an expression stands, which decides the names it may use.
#[derive(Clone, Copy, PartialEq)]
pub enum Of {
    /// A room, whose formulas below this one may be used.
    Room(usize),
    /// An opening, which sees its room.
    Opening,
    /// A definition's parameters.
    Define,
}

const COLUMNS: &str = "
rows rooms from \"Rooms\"
    a number
    b number
    n number
    z number may be blank
    x length
    y length
    s area
    m money
    r $/m
    p percent
    w yes/no
    t text
    day date
    due date may be blank
end
rows openings from \"Openings\" belong to rooms by \"Room\"
    long length
    many number
    side text
    cost money may be blank
end
";

/// A random book and one that replaces parts of it.
pub fn books(dice: &mut Dice) -> [String; 2] {
    let mut book = COLUMNS.to_owned();
    for how in ["exact", "up to", "from", "between"] {
        let name = how.replace(' ', "_");
        let mut at = 0;
        let rows: Vec<String> = (0..1 + dice.roll(6))
            .map(|_| {
                at += 1 + dice.roll(900);
                format!("    {at}/8\" | {}.{} ft\n", dice.roll(40), dice.roll(10))
            })
            .collect();
        book += &format!("table by_{name}\n    at length, {how} | got length\n{}end\n", rows.concat());
    }
    // one text and one number, with a gap in the grid
    book += "table by_two\n    word text, exact | at number, up to | got number\n";
    for word in ["A", "b"] {
        let (low, high) = (dice.roll(3), 3 + dice.roll(200));
        book += &format!("    {word} | {low} | {}\n    {word} | {high} | 0.{}\n", dice.roll(9), dice.roll(99));
    }
    book += "end\n";
    let define = |dice: &mut Dice, name: &str, kind: Kind| {
        let ty = if kind == Number { "number" } else { "length" };
        let body = expression(dice, Of::Define, kind, 2);
        format!("define {name}(q number, v length otherwise 3 ft, k count otherwise 2) {ty} = {body}\n")
    };
    book += &define(dice, "some_number", Number);
    book += &define(dice, "some_length", Length);
    book += "for openings\n";
    for (i, kind) in [Number, Length, Area, Money, YesNo].into_iter().enumerate() {
        book += &format!("    g{i} = {}\n", expression(dice, Of::Opening, kind, 2));
    }
    book += "end\nfor rooms\n";
    for (i, kind) in KINDS.iter().enumerate() {
        book += &format!("    f{i} = {}\n", expression(dice, Of::Room(i), *kind, 3));
    }
    book += "end\n";
    let mut above = String::from("book \"above\"\n");
    if dice.roll(2) == 0 {
        above += &format!("replace {}", define(dice, "some_length", Length));
    }
    above += "for rooms\n";
    for (i, kind) in KINDS.iter().enumerate().filter(|(i, _)| i % 3 == 1) {
        if dice.roll(3) == 0 {
            above += &format!("    replace f{i} = {}\n", expression(dice, Of::Room(i), *kind, 3));
        }
    }
    [book, above + "end\n"]
}

/// An expression of a kind, at most so deep.
pub fn expression(dice: &mut Dice, place: Of, kind: Kind, deep: u32) -> String {
    if deep == 0 || dice.roll(6) == 0 {
        return leaf(dice, place, kind);
    }
    let mut of = |kind| expression(dice, place, kind, deep - 1);
    let (a, b, n, l, yes) = (of(kind), of(kind), of(Number), of(Length), of(YesNo));
    match kind {
        YesNo => yes_no(dice, place, deep - 1, &a, &b),
        Text | Date => format!("({a} when {yes}, {b} otherwise)"),
        _ => match dice.roll(15) {
            0 => format!("({a} + {b})"),
            1 => format!("({a} - {b})"),
            2 => format!("({a} * {n})"),
            3 => format!("({n} * {a})"),
            4 => format!("({a} / {n})"),
            5 => format!("shorter({a}, {b})"),
            6 => format!("longer({a}, {b})"),
            7 => format!("({a} when {yes}, {b} otherwise)"),
            8 => format!("({} of {a})", if place == Of::Define { "12.5%" } else { "p" }),
            9 => format!("(-({a}))"),
            10 => {
                let how = dice.pick(&["round_up", "round_down", "round_near", "round_even"]);
                format!("{how}({a}, to: {})", step(dice, kind))
            }
            11 if matches!(place, Of::Room(_)) => children(dice, kind),
            _ => crossing(dice, place, kind, deep - 1, &a, &l),
        },
    }
}

/// What the openings of a room come to.
fn children(dice: &mut Dice, kind: Kind) -> String {
    let how = dice.pick(&["sum", "sum", "least", "most"]);
    let (value, condition) = (expression(dice, Of::Opening, kind, 1), expression(dice, Of::Opening, YesNo, 1));
    let only = if dice.roll(2) == 0 { format!(" where {condition}") } else { String::new() };
    if kind == Number && dice.roll(3) == 0 {
        return dice.pick(&["(count of openings)", "(count of openings (long > x / 2))"]).to_owned();
    }
    format!("({how} of openings ({value}){only})")
}

/// A product or quotient of other kinds, a table, a definition, a root.
fn crossing(dice: &mut Dice, place: Of, kind: Kind, deep: u32, a: &str, l: &str) -> String {
    let mut of = |kind| expression(dice, place, kind, deep);
    match kind {
        Number => {
            let (length, area, other, money, pay, t) = (of(Length), of(Area), of(Area), of(Money), of(Money), of(Text));
            match dice.roll(8) {
                0 => format!("({l} / {length})"),
                1 => format!("({area} / {other})"),
                2 => format!("({a}) ^ {}", dice.pick(&["2", "0", "3", "-1"])),
                3 | 4 if place != Of::Define => format!("by_two(word: {t}, at: {a})"),
                5 | 6 if place != Of::Define => format!("some_number(q: {a}, v: {l}, k: {})", dice.pick(&["b", "3"])),
                _ => format!("({money} / {pay})"),
            }
        }
        Length => {
            let (area, n) = (of(Area), of(Number));
            match dice.roll(6) {
                0 | 1 if place != Of::Define => {
                    format!("{}({l})", dice.pick(&["by_exact", "by_up_to", "by_from", "by_between", "by_between"]))
                }
                2 if place != Of::Define => format!("some_length(q: {n}, v: {l})"),
                3 if place != Of::Define => format!("some_length(q: {n})"),
                4 => format!("square_root({area})"),
                _ => format!("({area} / {l})"),
            }
        }
        Area => format!("({l} * {})", of(Length)),
        Money => format!("({} * {l})", of(Rate)),
        _ => format!("({} / {l})", of(Money)),
    }
}

fn yes_no(dice: &mut Dice, place: Of, deep: u32, a: &str, b: &str) -> String {
    let kind = dice.kind(&[Number, Length, Area, Money, Date]);
    let mut of = |kind| expression(dice, place, kind, deep);
    let (x, y, z, t, u) = (of(kind), of(kind), of(kind), of(Text), of(Text));
    let given = if place == Of::Define { "q" } else { dice.pick(&["z", "due", "z"]) };
    match dice.roll(11) {
        0 => format!("({a} and {b})"),
        1 => format!("({a} or {b})"),
        2 => format!("(not {a})"),
        3 => format!("({x} <= {y} < {z})"),
        4 => format!("({t} is {u})"),
        5 => format!("({given} is given)"),
        6 => format!("({given} is not given)"),
        7 if place != Of::Define => "(t is one of a c)".to_owned(),
        8 if matches!(place, Of::Room(_)) => {
            let how = dice.pick(&["any", "all"]);
            format!("({how} of openings ({}))", expression(dice, Of::Opening, YesNo, 1))
        }
        _ => format!("({x} {} {y})", dice.pick(&["<", "<=", ">", ">=", "=", "is not"])),
    }
}

fn leaf(dice: &mut Dice, place: Of, kind: Kind) -> String {
    // a formula that stands below this one
    if let Of::Room(below) = place
        && let Some(at) = KINDS.iter().position(|k| *k == kind).filter(|at| *at < below)
        && dice.roll(4) == 0
    {
        return format!("f{at}");
    }
    let from: &[&str] = match (place, kind) {
        (Of::Define, Number) => &["q", "q", "k", "3", "0.25", "0"],
        (Of::Define, Length) => &["v", "v", "5 1/2\"", "120 mm"],
        (Of::Define, Area) => &["(v * v)", "3 sf"],
        (Of::Define, Money) => &["$3.25", "$0.005"],
        (Of::Define, Rate) => &["$2/ft", "$7/m"],
        (Of::Define, YesNo) => &["(q > k)", "yes"],
        (Of::Define, Text) => &["\"A\"", "\"b\""],
        (Of::Define, Date) => &["2026-11-25", "2024-02-29"],
        (Of::Opening, Number) => &["many", "many", "a", "2"],
        (Of::Opening, Length) => &["long", "long", "x", "3 ft"],
        (Of::Opening, Money) => &["cost", "cost", "m", "$3.25"],
        (Of::Opening, Text) => &["side", "t", "\"a\""],
        (_, Number) => &["a", "b", "n", "z", "a", "b", "3", "0.25", "7", "0", "1000"],
        (_, Length) => &["x", "y", "x", "y", "3 ft", "5 1/2\"", "120 mm", "8'-6\"", "1/3 ft"],
        (_, Area) => &["s", "s", "3 sf", "2 sqm", "1 CSF"],
        (_, Money) => &["m", "m", "$3.25", "$0.005"],
        (_, Rate) => &["r", "r", "$2/ft", "$312/MLF", "$7/m"],
        (_, YesNo) => &["w", "(a > b)", "(x <= y)", "yes"],
        (_, Text) => &["t", "t", "\"A\"", "\"b\""],
        (_, Date) => &["day", "due", "2026-11-25"],
    };
    dice.pick(from).to_owned()
}

fn step(dice: &mut Dice, kind: Kind) -> &'static str {
    match kind {
        Number => dice.pick(&["1", "0.5", "7"]),
        Length => dice.pick(&["1 ft", "8\"", "1/16\"", "25 mm"]),
        Area => dice.pick(&["1 sf", "32 sf"]),
        Money => dice.pick(&["$0.01", "$5"]),
        _ => "$0.01/ft",
    }
}
