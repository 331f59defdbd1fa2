//! What the Bid says in words, and what it does not: settings of the house stay out of it.

use super::common::workbook;
use super::{below_headings, hardlid, is, says, sheet};
use calamine::Data;
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;

const HOUSE: &str = "\
book \"House\"  edition \"1\"
use \"hardlid ceilings\"
rows job
    excludes  text  heading \"Excludes\"  otherwise \"Painting\"
    clean_up  text  heading \"Clean-up\"  otherwise \"By us\"
end
";

fn priced(job: &[&[&str]], ended: Ended) -> Vec<u8> {
    let rooms: &[&[&str]] = &[
        &["Room", "Length", "Width", "Board kind", "Rated assembly", "Deck kind"],
        &["1", "14'", "7'", "", "", ""],
        &["2", "14'", "12'", "rated", "1 hour", "metal"],
        &["3", "14'", "12'", "RATED", "1 Hour", "metal"],
        &["4", "14'", "7'", "moisture", "", ""],
    ];
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", rooms), ("Job", job)]))
        .with("house.lid", HOUSE);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid"), ended);
    machine.bytes("rooms.priced.xlsx").unwrap()
}

/// The text beside a label of the Bid.
fn beside(bytes: &[u8], label: &str) -> Option<String> {
    let bid = sheet(bytes, "Bid");
    bid.rows().find(|r| is(&r[0], label)).map(|r| r[1].to_string())
}

#[test]
fn the_job_sheet_and_the_house_book_are_printed() {
    let job: &[&[&str]] = &[&["Includes", "=1+1"], &["Clean-up", "By others"], &["Addenda", "1 to 3"]];
    let bytes = priced(job, Ended::Done);
    // a text that looks like a formula is a text
    assert_eq!(beside(&bytes, "Includes").as_deref(), Some("=1+1"));
    assert_eq!(beside(&bytes, "Excludes").as_deref(), Some("Painting"));
    assert_eq!(beside(&bytes, "Clean-up").as_deref(), Some("By others"));
    assert_eq!(beside(&bytes, "Addenda").as_deref(), Some("1 to 3"));
    // GA, read: framing within 1/8 in. of plane; a Job sheet may say otherwise
    assert_eq!(beside(&bytes, "Flatness").as_deref(), Some("Framing within 1/8 in. of plane"));
    let stricter = priced(&[&["Flatness", "1/16 in."]], Ended::Done);
    assert_eq!(beside(&stricter, "Flatness").as_deref(), Some("1/16 in."));
    // nothing was said of stocking
    assert_eq!(beside(&bytes, "Stocking"), None);
    // as scheduled: what differs in case alone is one
    assert_eq!(beside(&bytes, "Board kind").as_deref(), Some("regular (1 room), rated (2), moisture (1)"));
    assert_eq!(beside(&bytes, "Rated assembly").as_deref(), Some("1 hour (2 rooms)"));
    let anchors = beside(&bytes, "Anchors").unwrap();
    assert_eq!(anchors, "nothing hung (2 rooms), anchors screwed to metal deck (2)");
}

#[test]
fn settings_are_not_told_as_facts() {
    let job: &[&[&str]] = &[
        &["Sheet lengths", "8', 12'"],
        &["Preferred supplier", "North (invented)"],
        &["Tax on", "material"],
        &["Location", "Here"],
    ];
    let bytes = priced(job, Ended::Done);
    let bid = sheet(&bytes, "Bid");
    for text in ["8', 12'", "North (invented)", "material"] {
        assert!(!bid.rows().any(|r| r.iter().any(|c| is(c, text))), "{text}");
    }
    assert_eq!(beside(&bytes, "Location").as_deref(), Some("Here"));
    // the waste of board is added where board goes by area, so it is not unused
    assert!(bid.rows().any(|r| is(&r[0], "Board waste")));
    assert!(!bid.rows().any(|r| r.iter().any(|c| is(c, "not used"))));
}

/// The cell that holds the lengths is named, and not a row of Rooms.
#[test]
fn a_bad_length_of_sheet_names_its_cell() {
    let bytes = priced(&[&["Location", "Here"], &["Sheet lengths", "8', long"]], Ended::WithStops);
    let checks = sheet(&bytes, "Checks");
    assert!(says(&checks, "is no length of sheet"));
    let row = checks.rows().find(|r| r.iter().any(|c| c.to_string().contains("is no length of sheet"))).unwrap();
    assert!(row.iter().any(|c| c.to_string().contains("Job") && c.to_string().contains("B2")), "{row:?}");
}

/// What a price book warns of stands on Checks, with its own cells; a code that is twice in force stops what it prices, and
/// nothing else: $10.00 of tee, and wire that no line needs.
#[test]
fn what_the_price_book_warns_of_stands_on_checks() {
    const HOUSE: &str = "\
book \"House\"  edition \"1\"
rows rooms  from \"Rooms\"
    id    text    heading \"Room\"  key
    long  length  heading \"Long\"
end
for rooms
    item tee  \"Tee\"  code \"T\"  need long
end
";
    let rooms: &[&[&str]] = &[&["Room", "Long"], &["A", "10'"]];
    let prices: &[&[&str]] = &[
        &["Code", "Item", "Sold by", "Cost", "From"],
        &["T", "Tee", "ft", "1.00", ""],
        &["W", "Wire", "ea", "0.10", "2025-01-01"],
        &["W", "Wire", "ea", "0.12", "2025-06-01"],
        &["", "Screw", "ea", "0.01", ""],
    ];
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("bids/rooms.xlsx", workbook(&[("Rooms", rooms)]))
        .with("yard.xlsx", workbook(&[("Prices", prices)]))
        .with("house.lid", HOUSE);
    assert_eq!(hardlid(&machine, "price bids/rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let told = |path: &str| {
        let checks = sheet(&machine.bytes(path).unwrap(), "Checks");
        let (heads, rows) = below_headings(&checks, "Weight");
        let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
        let [weight, check, cell] = ["Weight", "Check", "Cell as read"].map(column);
        let row = |r: &&[Data]| [weight, check, cell].map(|c| r[c].to_string());
        let mut rows: Vec<[String; 3]> = rows.iter().map(row).collect();
        rows.sort();
        rows
    };
    let wanted = [
        ["Warning", "no code", "yard.xlsx, Prices!A5"],
        ["Warning", "two prices in force", "yard.xlsx, Prices!D3 and 1 more"],
    ];
    assert_eq!(told("bids/rooms.priced.xlsx"), wanted);
    let bid = sheet(&machine.bytes("bids/rooms.priced.xlsx").unwrap(), "Bid");
    assert!(bid.rows().any(|r| is(&r[0], "Total") && r[2] == Data::Float(10.0)));
    // priced again it says the same; the wire without one price is of no line, and so no missing price
    assert_eq!(hardlid(&machine, "reprice bids --prices yard.xlsx --as-of 2026-04-01 -o moved.xlsx"), Ended::Done);
    assert_eq!(told("bids/rooms.priced.rev-2.xlsx"), wanted);
    assert!(says(&sheet(&machine.bytes("moved.xlsx").unwrap(), "Prices"), "Every line has a price."));
}
