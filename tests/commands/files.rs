//! Rule books in several files: `use "lower.lid"` finds the file beside the book that says so.

use super::{Ended, hardlid, is, says, sheet};
use crate::common::workbook;
use calamine::Data;
use hardlid::problem::Problem;
use hardlid::program::library::Shelf;
use hardlid::quantity::Date;
use hardlid::source::{Place, Text};
use hardlid::system::Memory;

/// The house: a book of two files, one of them in a folder of its own with one that it uses.
const HOUSE: &str = "book \"House\"  edition \"1\"\nuse \"std/rooms.lid\"\n\n\
    for rooms\n    replace tees  =  length / spacing + extra(of: length)\n    item tee  code \"T\"  need tees\nend\n\n\
    for job\n    total  =  sum of lines (cost)\nend\n\n\
    example \"ten feet\"\n    -- 10 ft at 2 ft is 5, and one more beyond 8 ft.\n    rooms  id \"1\"  length 10'\n    shows  tees = 6\nend\n";
const ROOMS: &str = "book \"Standard rooms\"  edition \"7\"\nuse \"spacing.lid\"\n\n\
    rows rooms  from \"Rooms\"\n    id      text    heading \"Room\"  key\n    length  length  heading \"Length\"\nend\n\n\
    for rooms\n    spacing  =  usual(long: length)\n    tees     =  length / spacing\nend\n";
const SPACING: &str = "define usual(long length) length  =  2' when long > 1', 1' otherwise\n\
    define extra(of length) count  =  1 when of > 8', 0 otherwise\n";

fn machine() -> Memory {
    Memory::new(Date::constant(2026, 3, 2))
        .with("rules/house.lid", HOUSE)
        .with("rules/std/rooms.lid", ROOMS)
        .with("rules/std/spacing.lid", SPACING)
        .with("rooms.xlsx", workbook(&[("Rooms", &[&["Room", "Length"], &["1", "10 ft"], &["2", "6 ft"]])]))
        .with("yard.xlsx", workbook(&[("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["T", "Tee", "ea", "3"]])]))
}

/// The total on the Bid.
fn total(bytes: &[u8]) -> f64 {
    let bid = sheet(bytes, "Bid");
    let row = bid.rows().find(|r| is(&r[0], "Total")).unwrap();
    if let Data::Float(value) = row[2] { value } else { panic!("no total: {row:?}") }
}

#[test]
fn a_book_of_several_files_is_tried_and_priced() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "try rules/house.lid"), Ended::Done);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules rules/house.lid --prices yard.xlsx"), Ended::Done);
    let priced = machine.bytes("rooms.priced.xlsx").unwrap();
    // 6 tees for 10 ft and 3 for 6 ft, at $3
    assert!((total(&priced) - 27.0).abs() < 1e-9);
    let rules = sheet(&priced, "Rules");
    for told in ["Standard rooms", "std/rooms.lid", "std/spacing.lid", "house.lid"] {
        assert!(says(&rules, told), "{told}");
    }
}

/// The files travel in the workbook: a bid is the same when the folder of rules is gone, and another when they are today's.
#[test]
fn a_bid_of_several_files_is_priced_again_without_them() {
    let dearer = workbook(&[("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["T", "Tee", "ea", "5"]])]);
    for rules in ["keep", "current"] {
        let machine = machine();
        assert_eq!(hardlid(&machine, "price rooms.xlsx --rules rules/house.lid --prices yard.xlsx"), Ended::Done);
        let priced = machine.bytes("rooms.priced.xlsx").unwrap();
        let machine =
            Memory::new(Date::constant(2026, 3, 2)).with("bids/a.priced.xlsx", priced).with("dearer.xlsx", &*dearer);
        let command = format!("reprice bids --prices dearer.xlsx --rules {rules}");
        assert_eq!(hardlid(&machine, &command), Ended::Done, "{rules}");
        // 9 tees at $5
        assert!((total(&machine.bytes("bids/a.priced.rev-2.xlsx").unwrap()) - 45.0).abs() < 1e-9, "{rules}");
    }
}

/// The house's book itself is as it was; one that it uses has changed.
#[test]
fn a_change_in_a_file_below_is_a_change_of_rules() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules rules/house.lid --prices yard.xlsx"), Ended::Done);
    let priced = machine.bytes("rooms.priced.xlsx").unwrap();
    let machine = machine
        .with("bids/a.priced.xlsx", priced)
        .with("new/house.lid", HOUSE)
        .with("new/std/rooms.lid", ROOMS)
        .with("new/std/spacing.lid", SPACING.replace("count  =  1", "count  =  2"));
    // one tee more in the room of 10 ft
    assert_eq!(hardlid(&machine, "reprice bids --rules new/house.lid"), Ended::Done);
    assert!((total(&machine.bytes("bids/a.priced.rev-2.xlsx").unwrap()) - 30.0).abs() < 1e-9);
}

/// What is told of a book, of files made by hand: message, what would be right, book and line.
fn told(files: &[(&str, &str)]) -> Vec<String> {
    let read = |name: &str| {
        let found = files.iter().find(|(n, _)| *n == name).map(|(_, text)| (*text).to_owned());
        found.ok_or_else(|| Problem::stop("file not found", format!("There is no file {name}.")).in_file(name))
    };
    let top = Text::new(files[0].0, files[0].1);
    let shelf = Shelf::default().with_files_of(&top, &mut |name| read(name));
    let (_, problems) = shelf.with_layers(&top, files[0].0);
    let place = |p: &Problem| match &p.places[..] {
        [Place::Book { text, span }] => format!("{}:{}", text.name, text.line(span.start as usize)),
        other => format!("{other:?}"),
    };
    problems.iter().map(|p| format!("{} {}", place(p), p.what)).collect()
}

#[test]
fn what_cannot_be_used_is_told_where_it_is_said() {
    assert!(told(&[("a.lid", "use \"b.lid\"\nuse \"c.lid\""), ("b.lid", "use \"c.lid\""), ("c.lid", "")]).is_empty());
    assert_eq!(
        told(&[("a.lid", "\nuse \"b.lid\""), ("b.lid", "use \"x/c.lid\"")]),
        ["b.lid:1 There is no file x/c.lid."]
    );
    // from the folder of the book that says so, and up from there
    assert!(told(&[("a.lid", "use \"x/b.lid\""), ("x/b.lid", "use \"../c.lid\""), ("c.lid", "")]).is_empty());
    assert!(told(&[("a.lid", "use \"../c.lid\""), ("../c.lid", "use \"d.lid\""), ("../d.lid", "")]).is_empty());
    assert_eq!(
        told(&[("a.lid", "use \"b.lid\""), ("b.lid", "-- to and fro\nuse \"a.lid\"")]),
        ["b.lid:2 These books use each other in a ring: a.lid uses b.lid uses a.lid."]
    );
    assert_eq!(
        told(&[("a.lid", "use \"/etc/b.lid\"")]),
        ["a.lid:1 '/etc/b.lid' is a path from the root of a disk; books are moved together."]
    );
    assert_eq!(told(&[("a.lid", "use \"hardlid trad\"")]), ["a.lid:1 No built-in book is called 'hardlid trad'."]);
}

/// What is wrong in a file below is told there.
#[test]
fn a_mistake_below_is_told_in_its_file() {
    assert_eq!(
        told(&[("a.lid", "use \"x/b.lid\""), ("x/b.lid", "book \"B\"\nnonsense")]),
        ["x/b.lid:2 A statement outside a block does not begin with 'nonsense'."]
    );
}
