//! What the Bid says in words, and what it does not: settings of the house stay out of it.

use super::schemes::workbook;
use super::{hardlid, is, says, sheet};
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
