//! The Order by supplier and by delivery.

use super::common::workbook;
use super::{below_headings, hardlid, is, says, sheet};
use calamine::Data;
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;

const BOOK: &str = "\
book \"House\"  edition \"1\"
rows rooms  from \"Rooms\"
    id        text    heading \"Room\"      key
    screws    count   heading \"Screws\"
    tees      count   heading \"Tees\"
    delivery  text    heading \"Delivery\"  may be blank
end
for rooms
    item screw  \"Screws\"    code \"SC\"  need screws
    item tee    \"Span tee\"  code \"ST\"  cut tees, each 5'
end
for job
    dividing  deliveries by delivery
end
";

fn order(rooms: &[&[&str]]) -> (Vec<u8>, Vec<Vec<String>>, Vec<String>) {
    let heads: &[&str] = &["Room", "Screws", "Tees", "Delivery"];
    let all: Vec<&[&str]> = std::iter::once(heads).chain(rooms.iter().copied()).collect();
    let yard = workbook(&[(
        "Prices",
        &[
            &["Code", "Item", "Sold by", "Pack", "Stock length", "Cost", "Weight", "Supplier"],
            &["SC", "Screws", "carton", "100 ea", "", "4.00", "5", "South (invented)"],
            &["ST", "Span tee", "ea", "", "12'", "6.00", "4", "West (invented)"],
        ],
    )]);
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", &all)]))
        .with("yard.xlsx", yard)
        .with("house.lid", BOOK);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let range = sheet(&bytes, "Order");
    let (heads, rows) = below_headings(&range, "Code");
    let text = |c: &Data| c.to_string();
    let rows = rows.iter().map(|r| r.iter().map(text).collect()).collect();
    (bytes.clone(), rows, heads.iter().map(ToString::to_string).collect())
}

/// 120 screws first and 130 then, in cartons of 100: 250 are 3 cartons, of which 2 come first. 3 tees of 5 ft first and 2
/// then, two from a piece of 12 ft: 3 pieces, A + A, A + B, B: the second serves both and comes first. Weights: 2 x 5 + 2 x 4
/// first, 5 + 4 then.
#[test]
fn what_serves_two_deliveries_comes_with_the_first() {
    // the second delivery stands first on the sheet; numbers put them in order
    let (bytes, rows, heads) = order(&[&["B", "130", "2", "2"], &["A", "120", "3", "1"]]);
    let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let of = |code: &str| rows.iter().find(|r| r[0] == code).unwrap();
    let both =
        |code: &str| [of(code)[at("Delivery 1")].as_str(), of(code)[at("Delivery 2")].as_str()].map(str::to_owned);
    assert_eq!(of("SC")[at("Buy")], "3");
    assert_eq!(both("SC"), ["2", "1"]);
    assert_eq!(of("ST")[at("Buy")], "3");
    assert_eq!(both("ST"), ["2", "1"]);
    assert_eq!(both("Total"), ["18", "9"]);
    assert!(says(&sheet(&bytes, "Order"), "One that serves two deliveries comes with the first that needs it"));
    assert!(!heads.iter().any(|h| h == "No delivery"));
}

/// 250 screws, 3 cartons at 4.00 and 5 lb; 3 tees at 6.00 and 4 lb.
#[test]
fn suppliers_are_told_apart() {
    let (bytes, rows, heads) = order(&[&["A", "250", "5", ""]]);
    let supplier = heads.iter().position(|h| h == "Supplier").unwrap();
    let named: Vec<&str> = rows.iter().map(|r| r[supplier].as_str()).filter(|s| !s.is_empty()).collect();
    assert_eq!(named, ["South (invented)", "West (invented)"]);
    let range = sheet(&bytes, "Order");
    for (name, cost, weight) in [("South (invented)", 12.0, 15.0), ("West (invented)", 18.0, 12.0)] {
        let row = range.rows().find(|r| is(&r[1], name)).unwrap();
        assert_eq!((&row[10], &row[12]), (&Data::Float(cost), &Data::Float(weight)), "{name}");
    }
    // nobody names a delivery, so none has a column
    assert!(!heads.iter().any(|h| h.contains("elivery")));
}

/// A room without a delivery stands in a column of its own, after the others.
#[test]
fn a_room_without_a_delivery_is_told() {
    let (_, rows, heads) = order(&[&["A", "120", "0", "1"], &["B", "130", "0", ""]]);
    let screws = rows.iter().find(|r| r[0] == "SC").unwrap();
    let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
    assert_eq!((screws[at("Delivery 1")].as_str(), screws[at("No delivery")].as_str()), ("2", "1"));
}
