//! What an estimator typed beside a line survives a second run, and is never written over in silence.

use super::common::workbook;
use super::{PRICES, RULES, hardlid, heads, is, says, sheet};
use calamine::{Data, Range};
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::source::Place;
use hardlid::system::Memory;
use hardlid::workbook::hand::own_entries;
use hardlid::workbook::open::open;
use hardlid::workbook::write::mark::{EDITION, MARK};
use rust_xlsxwriter::{DocProperties, Workbook};

const PRICE: &str = "price rooms.xlsx --rules house.lid --prices yard.xlsx";

/// An earlier priced workbook, as far as the second run looks at it: its mark, and Lines with figures typed by hand.
pub(super) fn earlier(rows: &[[&str; 4]], own: &[(u32, u16, f64)]) -> Vec<u8> {
    let mut book = Workbook::new();
    book.set_properties(&DocProperties::new().set_custom_property(MARK, EDITION));
    let lines = book.add_worksheet().set_name("Lines").unwrap();
    let headings = ["Room", "Item or work", "Code", "Unit", "Own quantity", "Own unit cost ($)", "Own note"];
    for (column, heading) in (0u16..).zip(headings) {
        lines.write_string(3, column, heading).unwrap();
    }
    for (row, cells) in (4u32..).zip(rows) {
        for (column, text) in (0u16..).zip(cells) {
            lines.write_string(row, column, *text).unwrap();
        }
    }
    for (row, column, value) in own {
        lines.write_number(*row, *column, *value).unwrap();
    }
    book.save_to_buffer().unwrap()
}

fn with_earlier(bytes: Vec<u8>) -> Memory {
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", super::ROOMS)
        .with("yard.xlsx", PRICES)
        .with("house.lid", RULES)
        .with("rooms.priced.xlsx", bytes)
}

/// The line of an item in a room: own quantity, own unit cost, cost.
fn line(lines: &Range<Data>, room: &str, item: &str) -> [Data; 3] {
    let heads = heads(lines);
    let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let found = |r: &&[Data]| is(&r[column("Room")], room) && is(&r[column("Item or work")], item);
    let row = lines.rows().find(found).unwrap();
    ["Own quantity", "Own unit cost ($)", "Cost ($)"].map(|name| row[column(name)].clone())
}

#[test]
fn own_figures_win_and_stay() {
    // the demo's span tee is $6.60 for 12 ft, $0.55 a foot: 500 ft typed by hand are $275.00
    // tabbed angle at $1.25 typed by hand: 28'-6" less the soffit's 3'-6" is 25 ft, twice, and 5 % are 52.5 ft, $65.625, $65.63
    let rows = [["101", "Span tee", "ST", "ft"], ["101", "Tabbed angle", "TA", "ft"]];
    let machine = with_earlier(earlier(&rows, &[(4, 4, 500.0), (5, 5, 1.25)]));
    for _ in 0..2 {
        assert_eq!(hardlid(&machine, PRICE), Ended::Done);
        let lines = sheet(&machine.bytes("rooms.priced.xlsx").unwrap(), "Lines");
        assert_eq!(line(&lines, "101", "Span tee"), [Data::Float(500.0), Data::Empty, Data::Float(275.0)]);
        assert_eq!(line(&lines, "101", "Tabbed angle"), [Data::Empty, Data::Float(1.25), Data::Float(65.63)]);
    }
}

#[test]
fn a_figure_whose_line_is_gone_keeps_the_old_workbook() {
    let bytes = earlier(&[["999", "Span tee", "ST", "ft"]], &[(4, 4, 12.0)]);
    let machine = with_earlier(bytes.clone());
    assert_eq!(hardlid(&machine, PRICE), Ended::Failed);
    assert_eq!(machine.bytes("rooms.priced.xlsx").unwrap(), bytes);
    // elsewhere, or asked for, it is written, and the figure is named on Checks
    assert_eq!(hardlid(&machine, &format!("{PRICE} --replace")), Ended::Done);
    let checks = sheet(&machine.bytes("rooms.priced.xlsx").unwrap(), "Checks");
    assert!(says(&checks, "room 999") && says(&checks, "quantity 12 ft"));
}

#[test]
fn a_quantity_typed_in_another_unit_is_not_taken() {
    let machine = with_earlier(earlier(&[["101", "Span tee", "ST", "ea"]], &[(4, 4, 12.0)]));
    assert_eq!(hardlid(&machine, PRICE), Ended::Failed);
}

#[test]
fn an_own_figure_that_is_no_number_is_refused() {
    let mut book = Workbook::new();
    book.set_properties(&DocProperties::new().set_custom_property(MARK, EDITION));
    let lines = book.add_worksheet().set_name("Lines").unwrap();
    let headings = ["Room", "Item or work", "Code", "Unit", "Own quantity", "Own unit cost ($)", "Own note"];
    for (column, heading) in (0u16..).zip(headings) {
        lines.write_string(0, column, heading).unwrap();
    }
    for (column, text) in (0u16..).zip(["101", "Span tee", "ST", "ft", "about 40"]) {
        lines.write_string(1, column, text).unwrap();
    }
    let machine = with_earlier(book.save_to_buffer().unwrap());
    assert_eq!(hardlid(&machine, PRICE), Ended::Failed);
}

/// Ten feet of tee at $1, and two sums of the job.
const SUMS: &str = "\
book \"House\"  edition \"1\"
rows rooms  from \"Rooms\"
    id    text    heading \"Room\"  key
    long  length  heading \"Long\"
end
for rooms
    item tee  \"Tee\"  code \"T\"  need long
end
for job
    item come    \"Come to the job\"  code \"COME\"  lump $100
    item credit  \"Credit\"           code \"CR\"    lump -$25
end
";

fn with_sums(bytes: Option<Vec<u8>>) -> Memory {
    let rooms: &[&[&str]] = &[&["Room", "Long"], &["A", "10'"]];
    let prices: &[&[&str]] = &[&["Code", "Item", "Sold by", "Cost"], &["T", "Tee", "ft", "1.00"]];
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", rooms)]))
        .with("yard.xlsx", workbook(&[("Prices", prices)]))
        .with("house.lid", SUMS);
    match bytes {
        Some(bytes) => machine.with("rooms.priced.xlsx", bytes),
        None => machine,
    }
}

fn total(machine: &Memory) -> Data {
    let bid = sheet(&machine.bytes("rooms.priced.xlsx").unwrap(), "Bid");
    bid.rows().find(|r| is(&r[0], "Total")).unwrap()[2].clone()
}

/// $10 of tee, $100 to come, $25 off: $85. A credit of $40 in place of ours makes it $70.
#[test]
fn what_is_taken_off_the_bid_is_a_lump_sum() {
    let machine = with_sums(None);
    assert_eq!(hardlid(&machine, PRICE), Ended::Done);
    assert_eq!(total(&machine), Data::Float(85.0));
    let machine = with_sums(Some(earlier(&[["Whole job", "Credit", "CR", "lump sum"]], &[(4, 5, -40.0)])));
    for _ in 0..2 {
        assert_eq!(hardlid(&machine, PRICE), Ended::Done);
        assert_eq!(total(&machine), Data::Float(70.0));
        let lines = sheet(&machine.bytes("rooms.priced.xlsx").unwrap(), "Lines");
        assert_eq!(line(&lines, "Whole job", "Credit"), [Data::Empty, Data::Float(-40.0), Data::Float(-40.0)]);
    }
}

/// A quantity below zero, of whatever, and a price below zero of something that is bought are slips: the cell is named, and
/// the workbook that holds it stays as it is. Zero is none of a thing, or a thing that costs nothing.
#[test]
fn a_quantity_or_price_below_zero_is_refused() {
    let tee = ["A", "Tee", "T", "ft"];
    let come = ["Whole job", "Come to the job", "COME", "lump sum"];
    let slips = [
        (tee, (4, 4, -5.0), "E5", "The own quantity for Tee in room A is below zero."),
        (tee, (4, 5, -0.01), "F5", "The own unit cost for Tee in room A is below zero."),
        (come, (4, 4, -1.0), "E5", "The own quantity for Come to the job in room Whole job is below zero."),
    ];
    for (row, own, cell, what) in slips {
        let bytes = earlier(&[row], &[own]);
        let told = own_entries(&mut open("rooms.priced.xlsx", bytes.clone()).unwrap()).unwrap_err();
        assert_eq!((told.kind, told.what.as_str()), ("own figure below zero", what));
        assert_eq!(told.found.as_deref(), Some(own.2.to_string().as_str()));
        assert!(
            matches!(&told.places[..], [Place::Cell(place)] if place.to_string() == format!("rooms.priced.xlsx, Lines!{cell}")),
            "{:?}",
            told.places
        );
        let machine = with_sums(Some(bytes.clone()));
        for replace in ["", " --replace"] {
            assert_eq!(hardlid(&machine, &format!("{PRICE}{replace}")), Ended::Failed);
            assert_eq!(machine.bytes("rooms.priced.xlsx").unwrap(), bytes);
        }
    }
    // $100 to come and $25 off remain
    for own in [(4, 4, 0.0), (4, 5, 0.0)] {
        let machine = with_sums(Some(earlier(&[tee], &[own])));
        assert_eq!(hardlid(&machine, PRICE), Ended::Done);
        assert_eq!(total(&machine), Data::Float(75.0));
    }
}
