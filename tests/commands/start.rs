//! What somebody begins with: it is read, priced and filled in as it is.

use super::common::workbook;
use super::{below_headings, hardlid, says, sheet};
use calamine::Data;
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;

fn machine() -> Memory {
    Memory::new(Date::new(2026, 3, 2).unwrap())
}

/// A sheet's texts, row by row.
fn texts(bytes: &[u8], name: &str) -> Vec<Vec<String>> {
    sheet(bytes, name).rows().map(|row| row.iter().map(ToString::to_string).collect()).collect()
}

/// The example is a ceiling of 14 by 20 ft, over one strongback: tees 24 in. o.c. along 20 ft are 9, wires 4 ft o.c. with
/// free ends 5 (the trade's own example); and a soffit.
#[test]
fn what_it_begins_with_is_read_and_worked_out() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "start wing"), Ended::Done);
    assert_eq!(hardlid(&machine, "try wing/house.lid"), Ended::Done);
    assert_eq!(hardlid(&machine, "price wing/rooms.xlsx --rules wing/house.lid"), Ended::Done);
    let priced = machine.bytes("wing/rooms.priced.xlsx").unwrap();
    let rooms = sheet(&priced, "Rooms");
    let (headings, rows) = below_headings(&rooms, "Tees");
    for (heading, wanted) in [("Tees", 9.0), ("Hanger wires", 5.0), ("Strongbacks", 1.0)] {
        let at = headings.iter().position(|h| h == heading).unwrap();
        assert_eq!(rows[0][at], Data::Float(wanted), "{heading}");
    }
    // every heading that it has is one that the rules read
    assert!(!says(&sheet(&priced, "Checks"), "not read"));
}

/// With a dollar for each unit of sale, a hundredth of an hour for each unit of work, and ten dollars an hour, the example
/// has a total and nothing stops.
#[test]
fn with_prices_filled_in_the_example_has_a_total() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "start wing"), Ended::Done);
    let started = machine.bytes("wing/prices.xlsx").unwrap();
    let filled = |sheet: &str, put: &[(usize, &str)]| -> Vec<Vec<String>> {
        let mut rows = texts(&started, sheet);
        assert!(rows.len() > 2, "{sheet} has rows to fill in");
        for row in rows.iter_mut().skip(2) {
            for (at, value) in put {
                row[*at] = (*value).to_owned();
            }
        }
        rows
    };
    let prices = filled("Prices", &[(5, "1.00")]);
    let labor = filled("Labor", &[(2, "0.01")]);
    let crews = filled("Crews", &[(1, "10"), (2, "0%")]);
    let sheets = [("Prices", prices), ("Labor", labor), ("Crews", crews)];
    let sheets: Vec<(&str, Vec<Vec<&str>>)> = sheets
        .iter()
        .map(|(name, rows)| (*name, rows.iter().map(|r| r.iter().map(String::as_str).collect()).collect()))
        .collect();
    let sheets: Vec<(&str, Vec<&[&str]>)> =
        sheets.iter().map(|(name, rows)| (*name, rows.iter().map(Vec::as_slice).collect())).collect();
    let sheets: Vec<(&str, &[&[&str]])> = sheets.iter().map(|(name, rows)| (*name, rows.as_slice())).collect();
    let machine = machine.with("wing/filled.xlsx", workbook(&sheets));
    let words = "price wing/rooms.xlsx --rules wing/house.lid --prices wing/filled.xlsx";
    assert_eq!(hardlid(&machine, words), Ended::Done);
    let lines = texts(&machine.bytes("wing/rooms.priced.xlsx").unwrap(), "Lines");
    let codes: Vec<&String> = lines.iter().skip(2).flatten().collect();
    for code in ["ST", "GB-58", "L-TEE", "L-SOF"] {
        assert!(codes.iter().any(|c| *c == code), "no line of {code}");
    }
}

#[test]
fn nothing_is_written_over() {
    for there in ["wing/rooms.xlsx", "wing/prices.xlsx", "wing/house.lid"] {
        let machine = machine().with(there, b"somebody's own".as_slice());
        assert_eq!(hardlid(&machine, "start wing"), Ended::Failed);
        assert_eq!(machine.names().len(), 1, "{there}");
        assert_eq!(machine.bytes(there).unwrap(), b"somebody's own");
    }
}

/// A house's own rows: what is read is what its book declares, and its book is not written again.
#[test]
fn it_asks_for_what_the_rules_of_a_house_read() {
    let book = "book \"Bays\"  edition \"1\"\n\nrows rooms  from \"Bays\"\n    bay    text    heading \"Bay\"  key\n    \
                length  length  heading \"Reach\"  from 2' to 40'\n    side  text  heading \"Side\"  one of north south  otherwise north\nend\n\n\
                for rooms\n    item tee \"Tee\"  code \"T\"  need length\nend\n\nexample \"one\"\n    rooms  bay \"A\"  length 12'\n    shows  length = 12'\nend\n";
    let machine = machine().with("bays.lid", book.as_bytes());
    assert_eq!(hardlid(&machine, "start wing --rules bays.lid"), Ended::Done);
    assert!(machine.bytes("wing/house.lid").is_none());
    let rows = texts(&machine.bytes("wing/rooms.xlsx").unwrap(), "Bays");
    assert_eq!(rows[1], ["Bay", "Reach", "Side"]);
    assert_eq!(rows[2][..2], ["A", "12'-0\""]);
    let columns = texts(&machine.bytes("wing/rooms.xlsx").unwrap(), "Columns");
    assert!(
        columns.iter().any(|r| r[1] == "Reach" && r[2].contains("at least 2'-0\", at most 40'-0\"")),
        "{columns:?}"
    );
    assert!(
        columns.iter().any(|r| r[1] == "Side" && r[2].starts_with("One of north, south. Blank stands for north.")),
        "{columns:?}"
    );
    let prices = texts(&machine.bytes("wing/prices.xlsx").unwrap(), "Prices");
    assert_eq!(prices[2][..3], ["T", "Tee", "ft"]);
    let machine = machine.with("none.lid", b"book \"None\"  edition \"1\"\n".as_slice());
    assert_eq!(hardlid(&machine, "start other --rules none.lid"), Ended::Failed);
    assert!(machine.bytes("other/rooms.xlsx").is_none());
}

/// Every sheet prints across one page or with its headings and first columns on each, with the file's name and the page's number.
#[test]
fn what_it_begins_with_prints_with_headings_and_page_numbers() {
    let machine = machine();
    assert_eq!(hardlid(&machine, "start job"), Ended::Done);
    for (file, sheets) in [("job/rooms.xlsx", 7), ("job/prices.xlsx", 4)] {
        let bytes = machine.bytes(file).unwrap();
        let mut archive = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
        for at in 1..=sheets {
            let mut part = String::new();
            let name = format!("xl/worksheets/sheet{at}.xml");
            std::io::Read::read_to_string(&mut archive.by_name(&name).unwrap(), &mut part).unwrap();
            assert!(part.contains("&amp;F") && part.contains("Page &amp;P of &amp;N"), "{file}, sheet {at}");
            assert!(
                part.contains("fitToHeight=\"0\"") || part.contains("scale=\"73\"") || part.contains("landscape"),
                "{file}, {at}"
            );
        }
    }
}
