//! The rooms that the benches read, and the books that price them.

use rust_decimal::Decimal;
use rust_xlsxwriter::{Workbook, XlsxError};

/// The book of twenty formulas.
pub const TWENTY: &str = include_str!("twenty.lid");
/// Items and figures of the job beside it.
pub const ITEMS: &str = include_str!("items.lid");

const HEADINGS: [&str; 12] = [
    "Room",
    "Name",
    "Level",
    "Length",
    "Width (ft)",
    "Height (ft)",
    "SDC",
    "Board (in)",
    "Layers",
    "Spacing (in)",
    "Drop",
    "Rate ($/ft)",
];
const NAMES: [&str; 9] =
    ["Corridor", "Office", "Patient room", "Closet", "Restroom", "Storage", "Conference", "Lobby", "Exam room"];

/// A room as a program by hand keeps it: inches and dollars.
#[derive(Clone, Debug)]
pub struct Room {
    /// Length, in.
    pub length: Decimal,
    /// Width, in.
    pub width: Decimal,
    /// Height, in.
    pub height: Decimal,
    /// Seismic category.
    pub sdc: &'static str,
    /// Board thickness, in.
    pub board: Decimal,
    /// Layers of board.
    pub layers: Decimal,
    /// Tee spacing, in.
    pub spaced: Decimal,
    /// Hanger length, in.
    pub hang: Decimal,
    /// Dollars a foot of tee.
    pub rate: Decimal,
}

/// A sequence without order that is the same each time (Knuth's MMIX generator).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from(self.0 >> 33).unwrap_or(0) % n
    }
}

/// Rooms of ordinary sizes: lengths to the sixteenth of an inch, widths to the quarter foot.
pub fn rooms(many: usize) -> Vec<Room> {
    let mut dice = Dice(7);
    (0..many)
        .map(|_| Room {
            // sixteenths of an inch, of 900 lengths
            length: Decimal::new((96 * 16 + dice.below(900) * 5) * 625, 4),
            width: Decimal::new((16 + dice.below(100)) * 3, 0),
            height: Decimal::new(96 + dice.below(8) * 6, 0),
            sdc: ["A", "B", "C", "D", "E", "F"][usize::try_from(dice.below(6)).unwrap_or(0)],
            board: Decimal::new([625, 500][usize::try_from(dice.below(2)).unwrap_or(0)], 3),
            layers: Decimal::from(1 + dice.below(2)),
            spaced: Decimal::from([16, 24][usize::try_from(dice.below(2)).unwrap_or(0)]),
            hang: Decimal::from(12 + dice.below(12)),
            rate: Decimal::new(100 + dice.below(90), 3),
        })
        .collect()
}

fn float(value: Decimal) -> f64 {
    value.to_string().parse().unwrap_or(f64::NAN)
}

/// Feet and inches as an estimator types them: `10'-3 5/16"`.
fn typed(inches: Decimal) -> String {
    let sixteenths = i64::try_from(inches * Decimal::from(16)).unwrap_or(0);
    let (feet, rest) = (sixteenths / 192, sixteenths % 192);
    match rest % 16 {
        0 => format!("{feet}'-{}\"", rest / 16),
        part => format!("{feet}'-{} {part}/16\"", rest / 16),
    }
}

/// The rooms as a workbook of one sheet, twelve columns.
pub fn workbook(rooms: &[Room]) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    let sheet = workbook.add_worksheet_with_low_memory();
    let sheet = sheet?.set_name("Rooms")?;
    for (column, heading) in (0..).zip(HEADINGS) {
        sheet.write_string(0, column, heading)?;
    }
    for (row, (room, i)) in (1..).zip(rooms.iter().zip(0usize..)) {
        sheet.write_string(row, 0, format!("R{row:06}"))?;
        sheet.write_string(row, 1, NAMES[i % NAMES.len()])?;
        sheet.write_string(row, 2, format!("Level {}", i * 9 / rooms.len() + 1))?;
        sheet.write_string(row, 3, typed(room.length))?;
        sheet.write_number(row, 4, float(room.width / Decimal::from(12)))?;
        sheet.write_number(row, 5, float(room.height / Decimal::from(12)))?;
        sheet.write_string(row, 6, room.sdc)?;
        sheet.write_number(row, 7, float(room.board))?;
        sheet.write_number(row, 8, float(room.layers))?;
        sheet.write_number(row, 9, float(room.spaced))?;
        sheet.write_string(row, 10, typed(room.hang))?;
        sheet.write_number(row, 11, float(room.rate))?;
    }
    workbook.save_to_buffer()
}

/// As many flat ceilings of one layer of 5/8 in. board as there are rooms, as large as the first so many of them in
/// turn, for the built-in book.
pub fn ceilings(rooms: &[Room], kinds: usize) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    let sheet = workbook.add_worksheet_with_low_memory();
    let sheet = sheet?.set_name("Rooms")?;
    for (column, heading) in (0..).zip(["Room", "Name", "Level", "Length", "Width (ft)", "SDC", "Drop"]) {
        sheet.write_string(0, column, heading)?;
    }
    let in_turn = rooms.iter().take(kinds).cycle().take(rooms.len());
    for (row, (room, i)) in (1..).zip(in_turn.zip(0usize..)) {
        sheet.write_string(row, 0, format!("R{row:06}"))?;
        sheet.write_string(row, 1, NAMES[i % NAMES.len()])?;
        sheet.write_string(row, 2, format!("Level {}", i * 9 / rooms.len() + 1))?;
        sheet.write_string(row, 3, typed(room.length))?;
        sheet.write_number(row, 4, float(room.width / Decimal::from(12)))?;
        sheet.write_string(row, 5, room.sdc)?;
        sheet.write_string(row, 6, typed(room.hang))?;
    }
    workbook.save_to_buffer()
}

/// A price book for the items.
pub fn prices() -> Result<Vec<u8>, XlsxError> {
    let sheets: [(&str, &[&[&str]]); 3] = [
        (
            "Prices",
            &[
                &["Code", "Item", "Sold by", "Pack", "Stock length", "Cost", "Supplier"],
                &["ST", "Span tee", "MLF", "", "12'", "312.00", "Yard"],
                &["HW", "Hanger wire", "CLF", "", "", "9.40", "Yard"],
                &["GB", "Gypsum board", "MSF", "", "", "415.00", "Yard"],
            ],
        ),
        (
            "Labor",
            &[&["Code", "Work", "Hours per unit", "Unit", "Crew"], &["L-BRD", "Hang board", "0.018", "sf", "Two"]],
        ),
        ("Crews", &[&["Crew", "Trade", "Workers", "Wage", "Burden"], &["Two", "Carpenter", "2", "41.20", "32%"]]),
    ];
    let mut workbook = Workbook::new();
    for (name, rows) in sheets {
        let sheet = workbook.add_worksheet().set_name(name)?;
        for (row, cells) in (0..).zip(rows) {
            for (column, text) in (0..).zip(*cells).filter(|(_, t)| !t.is_empty()) {
                match text.parse::<f64>() {
                    Ok(number) => sheet.write_number(row, column, number)?,
                    Err(_) => sheet.write_string(row, column, *text)?,
                };
            }
        }
    }
    workbook.save_to_buffer()
}
