//! Random bids, and what each must come to, worked out in whole numbers alone: lengths in 1/64 in., prices in 1/10,000
//! of a dollar, percents in whole percents. A product of these over its divisor is the exact figure; it is rounded once.

use hardlid::pricing::{Own, OwnEntry};
use hardlid::quantity::Number;
use hardlid::quantity::spelling::read_number;
use hardlid::source::CellPlace;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// A small generator of numbers, the same on every machine.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        let mut dice = Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        (0..8).for_each(|_| _ = dice.roll(2));
        dice
    }

    /// A number from 0 to below `sides`.
    pub fn roll(&mut self, sides: i128) -> i128 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        i128::from(self.0 >> 11) % sides
    }

    fn one_in(&mut self, of: i128) -> bool {
        self.roll(of) == 0
    }

    /// A price in 1/10,000 of a dollar: a fraction of a cent, half a cent, cents, or anything.
    fn price(&mut self) -> i128 {
        match self.roll(5) {
            0 => 1 + self.roll(99),
            1 => 49,
            2 => 50 * (1 + self.roll(400)),
            3 => 100 * (1 + self.roll(9_999)),
            _ => 1 + self.roll(999_999),
        }
    }
}

/// A tee by the foot, board by the square foot with waste, wire by the piece and work by the foot; $100.00 to come to the
/// job; overhead on cost, profit as a margin, and tax.
pub const HOUSE: &str = "\
book \"House\"  edition \"1\"
rows job  from \"Job\"
    overhead   percent  heading \"Overhead\"     otherwise 0%
    margin     percent  heading \"Margin\"       otherwise 0%
    tax_rate   percent  heading \"Tax rate\"     otherwise 0%
    more_board percent  heading \"Board waste\"  otherwise 0%
end
rows rooms  from \"Rooms\"
    id         text    heading \"Room\"       key
    level      text    heading \"Level\"      may be blank
    long       length  heading \"Long\"
    wide       length  heading \"Wide\"
    wires      count   heading \"Wires\"
    alternate  text    heading \"Alternate\"  may be blank
    deducted   yes/no  heading \"Deducted\"   otherwise no
end
for rooms
    item tee    \"Tee\"    code \"T\"  need long
    item board  \"Board\"  code \"B\"  need long * wide  waste more_board
    item wire   \"Wire\"   code \"W\"  need wires
    labor frame \"Frame\"  code \"L\"  need long
end
for job
    dividing  parts by level  alternates by alternate deducting deducted
    item come  \"Come to the job\"  code \"COME\"  lump $100
    material  \"Material\"  =  sum of lines (cost) where kind is material
    labor     \"Labor\"     =  sum of lines (cost) where kind is labor
    over      \"Overhead\"  =  round_near(overhead of (material + labor), to: $0.01)
    profit    \"Profit\"    =  round_near((material + labor + over) * margin / (100% - margin), to: $0.01)
    tax       \"Tax\"       =  round_near(tax_rate of (material + labor + over + profit), to: $0.01)
    total     \"Total\"     =  material + labor + over + profit + tax
end
";

/// Items of a room: label, code, unit of the line.
pub const ITEMS: [[&str; 3]; 4] = [["Tee", "T", "ft"], ["Board", "B", "sf"], ["Wire", "W", "ea"], ["Frame", "L", "ft"]];

/// Cells for levels; two of them are one level.
const LEVELS: [&str; 6] = ["", "1", "2", "Roof", "roof", "=3+4"];
pub const ALTERNATES: [&str; 3] = ["", "One", "Two"];

/// What was typed by hand beside a line.
#[derive(Clone, Debug, Default)]
pub struct Typed {
    /// Thousandths of the line's unit.
    pub quantity: Option<i128>,
    /// In 1/10,000 of a dollar.
    pub cost: Option<i128>,
}

#[derive(Clone, Debug)]
pub struct Room {
    pub level: &'static str,
    /// In 1/64 in.
    pub long: i128,
    /// In 1/64 in.
    pub wide: i128,
    pub wires: i128,
    /// Which of [`ALTERNATES`].
    pub alternate: usize,
    pub deducted: bool,
    /// For each of [`ITEMS`].
    pub typed: [Typed; 4],
}

/// Mark-ups of a job, in whole percents.
#[derive(Clone, Copy, Debug)]
pub struct Marks {
    pub overhead: i128,
    pub margin: i128,
    pub tax: i128,
    pub waste: i128,
}

impl Marks {
    pub fn random(dice: &mut Dice) -> Self {
        let [overhead, margin, tax, waste] =
            [40, 35, 25, 30].map(|most| if dice.one_in(4) { 0 } else { dice.roll(most) });
        Self { overhead, margin, tax, waste }
    }

    /// The lines of the sheet Job.
    pub fn rows(self) -> [[String; 2]; 4] {
        let row = |name: &str, percent: i128| [name.to_owned(), format!("{percent}%")];
        [
            row("Overhead", self.overhead),
            row("Margin", self.margin),
            row("Tax rate", self.tax),
            row("Board waste", self.waste),
        ]
    }
}

/// A bid.
#[derive(Clone, Debug)]
pub struct Bid {
    pub rooms: Vec<Room>,
    pub marks: Marks,
    /// Price of a foot of tee, of a thousand square feet of board, of a hundred wires.
    pub prices: [i128; 3],
    /// Hours a foot in 1/10,000; wage in cents; burden in percents.
    pub labor: [i128; 3],
}

/// What a bid comes to, in cents.
#[derive(Debug, PartialEq)]
pub struct Sums {
    pub material: i128,
    pub labor: i128,
    pub total: i128,
}

impl Bid {
    pub fn random(dice: &mut Dice, marks: Marks) -> Self {
        let rooms = (0..1 + dice.roll(9)).map(|_| Room::random(dice)).collect();
        let prices = [dice.price(), dice.price(), dice.price()];
        let labor = [1 + dice.roll(3_000), 1 + dice.roll(15_000), dice.roll(80)];
        Self { rooms, marks, prices, labor }
    }

    /// The cost in cents of an item of a room.
    pub fn cost(&self, room: &Room, item: usize) -> i128 {
        let [tee, board, wire] = self.prices;
        let [hours, wage, burden] = self.labor;
        // quantity and unit cost as fractions; 768 parts of 1/64 in. are a foot
        let quantity = match item {
            0 | 3 => [room.long, 768],
            1 => [room.long * room.wide * (100 + self.marks.waste), 768 * 768 * 100],
            _ => [room.wires, 1],
        };
        let each = match item {
            0 => [tee, 10_000],
            1 => [board, 10_000 * 1_000],
            2 => [wire, 10_000 * 100],
            _ => [hours * wage * (100 + burden), 10_000 * 100 * 100],
        };
        let typed = &room.typed[item];
        let quantity = typed.quantity.map_or(quantity, |q| [q, 1_000]);
        let each = typed.cost.map_or(each, |c| [c, 10_000]);
        nearest(quantity[0] * each[0] * 100, quantity[1] * each[1])
    }

    /// What a bid of the rooms taken comes to.
    pub fn sums(&self, taken: &dyn Fn(&Room) -> bool) -> Sums {
        let rooms = || self.rooms.iter().filter(|r| taken(r));
        let material: i128 = 10_000 + rooms().map(|r| (0..3).map(|i| self.cost(r, i)).sum::<i128>()).sum::<i128>();
        let labor: i128 = rooms().map(|r| self.cost(r, 3)).sum();
        let over = nearest((material + labor) * self.marks.overhead, 100);
        let profit = nearest((material + labor + over) * self.marks.margin, 100 - self.marks.margin);
        let tax = nearest((material + labor + over + profit) * self.marks.tax, 100);
        Sums { material, labor, total: material + labor + over + profit + tax }
    }

    /// Levels of the rooms that are in the bid, in lower case, with the cost of their lines; what comes to the job is beside
    /// them. Nothing where no room has a level, and nothing is divided.
    pub fn levels(&self) -> BTreeMap<String, i128> {
        let mut levels = BTreeMap::new();
        if self.rooms.iter().all(|r| r.level.is_empty()) {
            return levels;
        }
        for room in self.rooms.iter().filter(|r| r.is_in()) {
            let level = if room.level.is_empty() { "other rooms".to_owned() } else { room.level.to_lowercase() };
            *levels.entry(level).or_default() += (0..ITEMS.len()).map(|item| self.cost(room, item)).sum::<i128>();
        }
        levels.insert("whole job".to_owned(), 10_000);
        levels
    }

    /// The rows of the sheet Rooms, its headings first.
    pub fn rows(&self) -> Vec<[String; 7]> {
        let heads = ["Room", "Level", "Long", "Wide", "Wires", "Alternate", "Deducted"].map(str::to_owned);
        let rows = self.rooms.iter().enumerate().map(|(i, r)| {
            let deducted = if r.deducted { "yes" } else { "no" };
            let texts = [name(i), r.level.to_owned(), feet(r.long), feet(r.wide), r.wires.to_string()];
            let [id, level, long, wide, wires] = texts;
            [id, level, long, wide, wires, ALTERNATES[r.alternate].to_owned(), deducted.to_owned()]
        });
        std::iter::once(heads).chain(rows).collect()
    }

    /// What was typed by hand, as it would have been read from Lines.
    pub fn own_entries(&self) -> Vec<OwnEntry> {
        let mut out = Vec::new();
        for (i, room) in self.rooms.iter().enumerate() {
            for ([item, code, unit], typed) in ITEMS.into_iter().zip(&room.typed) {
                if typed.quantity.is_none() && typed.cost.is_none() {
                    continue;
                }
                let (quantity, unit_cost) = (typed.quantity.map(|q| number(q, 3)), typed.cost.map(|c| number(c, 4)));
                out.push(OwnEntry {
                    room: name(i),
                    item: item.to_owned(),
                    code: code.to_owned(),
                    unit: unit.to_owned(),
                    nth: 0,
                    part: None,
                    alike: None,
                    need: None,
                    own: Own { quantity, unit_cost, note: None },
                    place: CellPlace {
                        file: "rooms.priced.xlsx".into(),
                        sheet: "Lines".into(),
                        row: 4,
                        column: Some(9),
                    },
                });
            }
        }
        out
    }

    /// Its price book: the sheets Prices, Labor and Crews.
    pub fn price_sheets(&self) -> [(&'static str, Vec<Vec<String>>); 3] {
        let row = |cells: &[&str]| cells.iter().map(|c| (*c).to_owned()).collect::<Vec<_>>();
        let [tee, board, wire] = self.prices.map(|p| decimal(p, 4));
        let [hours, wage, burden] = self.labor;
        [
            (
                "Prices",
                vec![
                    row(&["Code", "Item", "Sold by", "Cost"]),
                    row(&["T", "Tee", "ft", &tee]),
                    row(&["B", "Board", "MSF", &board]),
                    row(&["W", "Wire", "C", &wire]),
                ],
            ),
            (
                "Labor",
                vec![
                    row(&["Code", "Work", "Hours per unit", "Unit", "Crew"]),
                    row(&["L", "Frame", &decimal(hours, 4), "ft", "Crew"]),
                ],
            ),
            ("Crews", vec![row(&["Crew", "Wage", "Burden"]), row(&["Crew", &decimal(wage, 2), &format!("{burden}%")])]),
        ]
    }
}

impl Room {
    fn random(dice: &mut Dice) -> Self {
        let level = LEVELS[usize::try_from(dice.roll(6)).unwrap()];
        // from 1/64 in. to 60 ft
        let [long, wide] = [1 + dice.roll(46_080), 1 + dice.roll(46_080)];
        let alternate = if dice.one_in(3) { usize::try_from(1 + dice.roll(2)).unwrap() } else { 0 };
        let mut typed = [(); 4].map(|()| Typed {
            quantity: dice.one_in(8).then(|| dice.roll(1_000_000)),
            cost: dice.one_in(8).then(|| dice.price()),
        });
        let wires = if dice.one_in(6) { 0 } else { 1 + dice.roll(200) };
        // what is not needed has no line to type beside
        if wires == 0 {
            typed[2] = Typed::default();
        }
        Self { level, long, wide, wires, alternate, deducted: dice.one_in(2), typed }
    }

    /// How many lines it has.
    pub fn lines(&self) -> usize {
        if self.wires == 0 { ITEMS.len() - 1 } else { ITEMS.len() }
    }

    /// Whether it is in the bid.
    pub fn is_in(&self) -> bool {
        self.alternate == 0 || self.deducted
    }

    /// Whether it is built when an alternate is taken.
    pub fn is_in_with(&self, alternate: usize) -> bool {
        if self.alternate == alternate { !self.deducted } else { self.is_in() }
    }
}

pub fn name(room: usize) -> String {
    format!("R{room}")
}

/// `n / d` to the nearest whole, halves up; neither is negative.
pub fn nearest(n: i128, d: i128) -> i128 {
    (2 * n + d) / (2 * d)
}

fn number(parts: i128, places: u32) -> Number {
    read_number(&decimal(parts, places)).unwrap()
}

/// A whole number of parts as a decimal of that many places.
pub fn decimal(parts: i128, places: u32) -> String {
    let one = 10i128.pow(places);
    format!("{}.{:0width$}", parts / one, parts % one, width = places as usize)
}

/// 64ths of an inch in feet, inches and a fraction.
pub fn feet(parts: i128) -> String {
    let (feet, rest) = (parts / 768, parts % 768);
    let mut text = format!("{feet}'-{}", rest / 64);
    if rest % 64 > 0 {
        let _ = write!(text, " {}/64", rest % 64);
    }
    text + "\""
}
