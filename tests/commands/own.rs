//! What an estimator typed beside a line survives a second run, and is never written over in silence.

use super::{PRICES, RULES, hardlid, heads, is, says, sheet};
use calamine::{Data, Range};
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;
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
