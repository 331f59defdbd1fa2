//! The twenty formulas of `twenty.lid` by hand, row by row, in `rust_decimal`.

use crate::made::Room;
use rust_decimal::{Decimal, RoundingStrategy};

/// What a result measures, for comparison.
#[derive(Clone, Copy, Debug)]
pub enum Unit {
    /// Inches.
    Inches,
    /// Square inches.
    SquareInches,
    /// A number or dollars.
    Plain,
}

use Unit::{Inches, Plain, SquareInches};

/// Names in the book, and what they measure.
pub const RESULTS: [(&str, Unit); 20] = [
    ("run", Inches),
    ("along", Inches),
    ("around", Inches),
    ("gross", SquareInches),
    ("walls", SquareInches),
    ("limit", Inches),
    ("parts", Plain),
    ("clear", Inches),
    ("pitch", Inches),
    ("tees", Plain),
    ("last_tee", Inches),
    ("every", Inches),
    ("wires", Plain),
    ("wire", Inches),
    ("board_area", SquareInches),
    ("sheets", Plain),
    ("screws", Plain),
    ("tape", Inches),
    ("tee_cost", Plain),
    ("cost", Plain),
];

/// Tested spans: spacing up to, board in thousandths, layers, limit in inches.
const LIMITS: [(i64, i64, i64, i64); 8] = [
    (16, 625, 1, 102),
    (16, 625, 2, 84),
    (16, 500, 1, 108),
    (16, 500, 2, 93),
    (24, 625, 1, 90),
    (24, 625, 2, 75),
    (24, 500, 1, 96),
    (24, 500, 2, 81),
];

/// Constants, made once as a careful program would.
pub struct Hand {
    limits: Vec<(Decimal, Decimal, Decimal, Decimal)>,
    sheet: Decimal,
    thousand: Decimal,
    tape: Decimal,
    foot: Decimal,
    cents: (Decimal, Decimal),
    sixteen: Decimal,
}

impl Hand {
    /// The constants.
    pub fn new() -> Self {
        let limit = |(s, b, l, limit): (i64, i64, i64, i64)| (s.into(), Decimal::new(b, 3), l.into(), limit.into());
        Self {
            limits: LIMITS.into_iter().map(limit).collect(),
            sheet: Decimal::from(48 * 144),
            thousand: Decimal::from(144_000),
            tape: Decimal::from(380 * 12),
            foot: Decimal::from(12),
            cents: (Decimal::new(1485, 2), Decimal::new(62, 2)),
            sixteen: Decimal::from(16),
        }
    }

    /// One room's twenty results.
    pub fn room(&self, r: &Room) -> Option<[Decimal; 20]> {
        let run = r.length.min(r.width);
        let along = r.length.max(r.width);
        let around = Decimal::TWO * (r.length + r.width);
        let gross = r.length * r.width;
        let walls = around * r.height;
        let limit = self.limits.iter().find(|l| l.0 >= r.spaced && l.1 == r.board && l.2 == r.layers)?.3;
        let parts = (run / limit).ceil().max(Decimal::ONE);
        let clear = (run * self.sixteen / parts).ceil() / self.sixteen;
        let pitch = if clear > limit - Decimal::from(4) {
            r.spaced
        } else if clear <= Decimal::from(72) {
            Decimal::from(24)
        } else {
            self.sixteen
        };
        let tees = ((along / pitch).ceil() - Decimal::ONE).max(Decimal::ZERO);
        let last_tee = along - tees * pitch;
        let every = match r.sdc {
            "A" | "B" | "C" => Decimal::from(48),
            "D" | "E" | "F" => Decimal::from(36),
            _ => return None,
        };
        let spaces = ((along - pitch - last_tee) / every).ceil().max(Decimal::ZERO);
        let wires = (parts - Decimal::ONE) * (spaces + Decimal::ONE);
        let wire = wires * r.hang;
        let board_area = gross * r.layers;
        let sheets = (board_area / self.sheet).ceil();
        let screws = (board_area * Decimal::ONE_THOUSAND / self.thousand).ceil();
        let tape = board_area * self.tape / self.thousand;
        let tee_cost = tees * run * r.rate / self.foot;
        let cost = (tee_cost + sheets * self.cents.0 + wires * self.cents.1)
            .round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
        Some([
            run, along, around, gross, walls, limit, parts, clear, pitch, tees, last_tee, every, wires, wire,
            board_area, sheets, screws, tape, tee_cost, cost,
        ])
    }
}
