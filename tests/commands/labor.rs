//! Hours by height and difficulty, factors and overtime, from a price book and a house book to the sheets.

use super::common::workbook;
use super::{below_headings, hardlid, says, sheet};
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;

const BOOK: &str = "\
book \"House\"  edition \"1\"
rows rooms  from \"Rooms\"
    id      text    heading \"Room\"        key
    long    length  heading \"Feet\"
    height  length  heading \"Height\"      may be blank
    work    text    heading \"Difficulty\"  may be blank
    times   number  heading \"Factor\"      otherwise 1
end
for rooms
    labor frame  \"Frame\"  code \"L\"  need long  height height  difficulty work  factor times
end
";

/// A crew at $30.00 an hour, burden 50%, and one that works 48 hours a week for the same wage.
fn yard(labor: &[&[&str]]) -> Vec<u8> {
    let heads: &[&str] = &["Code", "Work", "Hours per unit", "Unit", "Crew", "Height from", "Difficulty"];
    let all: Vec<&[&str]> = std::iter::once(heads).chain(labor.iter().copied()).collect();
    let crews: &[&[&str]] = &[
        &["Crew", "Wage", "Burden", "Hours a week", "Straight time", "Overtime"],
        &["Day", "30.00", "50%", "40", "", ""],
        &["Long", "30.00", "50%", "48", "40", "time and a half"],
    ];
    workbook(&[
        ("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["X", "Not needed", "ea", "1.00"]]),
        ("Labor", &all),
        ("Crews", crews),
    ])
}

/// What a job comes to: how it ended and the priced workbook.
fn job(rooms: &[&[&str]], labor: &[&[&str]]) -> (Ended, Vec<u8>) {
    let heads: &[&str] = &["Room", "Feet", "Height", "Difficulty", "Factor"];
    let all: Vec<&[&str]> = std::iter::once(heads).chain(rooms.iter().copied()).collect();
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", &all)]))
        .with("yard.xlsx", yard(labor))
        .with("house.lid", BOOK);
    let ended = hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx");
    (ended, machine.bytes("rooms.priced.xlsx").unwrap_or_default())
}

/// Room, hours and cost of each line, to a hundredth.
fn lines(bytes: &[u8]) -> Vec<(String, String, String)> {
    let range = sheet(bytes, "Lines");
    let (heads, rows) = below_headings(&range, "Code");
    let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let two = |cell: &calamine::Data| format!("{:.2}", cell.to_string().parse::<f64>().unwrap_or(-1.0));
    rows.iter().map(|r| (r[at("Room")].to_string(), two(&r[at("Hours")]), two(&r[at("Cost ($)")]))).collect()
}

const BY_HEIGHT: &[&[&str]] = &[
    &["L", "Frame", "0.10", "ft", "Day", "", ""],
    &["L", "Frame", "0.15", "ft", "Day", "10'", ""],
    &["L", "Frame", "0.20", "ft", "Day", "14'-6\"", ""],
    &["L", "Frame", "0.30", "ft", "Day", "", "hard"],
    &["L", "Frame", "0.40", "ft", "Day", "12'", "Hard"],
];

/// 100 ft each, $45.00 an hour: .10 h/ft is 10 h and $450.00.
#[test]
fn the_height_and_the_difficulty_choose_the_rate() {
    let rooms: &[&[&str]] = &[
        &["none", "100'", "", "", ""],
        &["low", "100'", "9'", "", ""],
        &["just", "100'", "10'", "", ""],
        &["below", "100'", "14'-5 15/16\"", "", ""],
        &["high", "100'", "20'", "", ""],
        &["hard", "100'", "9'", "HARD", ""],
        &["both", "100'", "12'", "hard", ""],
        &["twice", "100'", "20'", "", "1.5"],
    ];
    let (ended, bytes) = job(rooms, BY_HEIGHT);
    assert_eq!(ended, Ended::Done);
    let expected = [
        ("none", "10.00", "450.00"),
        ("low", "10.00", "450.00"),
        ("just", "15.00", "675.00"),
        ("below", "15.00", "675.00"),
        ("high", "20.00", "900.00"),
        ("hard", "30.00", "1350.00"),
        ("both", "40.00", "1800.00"),
        // quantity x rate x factor: 100 x .20 x 1.5
        ("twice", "30.00", "1350.00"),
    ];
    let found = lines(&bytes);
    let found: Vec<(&str, &str, &str)> = found.iter().map(|(a, b, c)| (a.as_str(), b.as_str(), c.as_str())).collect();
    assert_eq!(found, expected);
    // the rows that serve are told apart on Prices
    assert!(says(&sheet(&bytes, "Prices"), "Frame, Hard, from 12'-0\""));
    // by work: all of it, 170 h and $7,650.00
    let bid = sheet(&bytes, "Bid");
    let rows: Vec<Vec<String>> = bid.rows().map(|r| r.iter().map(ToString::to_string).collect()).collect();
    assert!(rows.iter().any(|r| r.len() > 6 && r[4..] == ["Frame", "7650", "170"]), "{rows:#?}");
}

/// No row without a height serves a room whose height nobody gave, and a difficulty that the sheet does not name is no
/// other: both stop, and say what is missing.
#[test]
fn nothing_is_guessed_where_no_row_serves() {
    let labor: &[&[&str]] =
        &[&["L", "Frame", "0.15", "ft", "Day", "8'", ""], &["L", "Frame", "0.2", "ft", "Day", "10'", "hard"]];
    let rooms: &[&[&str]] = &[
        &["given", "100'", "9'", "", ""],
        &["blank", "100'", "", "", ""],
        &["typo", "100'", "11'", "hrad", ""],
        &["low", "100'", "9'", "hard", ""],
    ];
    let (ended, bytes) = job(rooms, labor);
    assert_eq!(ended, Ended::WithStops);
    assert_eq!(lines(&bytes).iter().map(|l| l.0.as_str()).collect::<Vec<_>>(), ["given"]);
    let checks = sheet(&bytes, "Checks");
    assert!(says(&checks, "no row of sheet Labor serves where one of them is not given"));
    assert!(says(&checks, "a difficulty that no row of sheet Labor names"));
}

/// UFC 3-700-02A, Example 5-1: 40 h and 8 h at time and a half are 52 paid for 48 worked, 8.33% more. 48 ft at an hour a
/// foot: $30.00 x 52 x 1.5 = $2,340.00 against $30.00 x 48 x 1.5 = $2,160.00.
#[test]
fn overtime_is_paid_hours_for_worked_hours() {
    for (crew, cost) in [("Day", "2160.00"), ("Long", "2340.00")] {
        let labor: &[&[&str]] = &[&["L", "Frame", "1", "ft", crew, "", ""]];
        let (ended, bytes) = job(&[&["1", "48'", "", "", ""]], labor);
        assert_eq!(ended, Ended::Done);
        assert_eq!(lines(&bytes), [("1".to_owned(), "48.00".to_owned(), cost.to_owned())]);
        let told = sheet(&bytes, "Bid").rows().any(|r| r[0].to_string().contains("Overtime: Long, 52 hr paid for 48."));
        assert_eq!(told, crew == "Long");
    }
}

/// Two rows that nothing tells apart are no choice.
#[test]
fn two_rates_for_one_height_stop() {
    let labor: &[&[&str]] =
        &[&["L", "Frame", "1", "ft", "Day", "10'", ""], &["L", "Frame", "2", "ft", "Day", "120\"", ""]];
    let (ended, bytes) = job(&[&["1", "48'", "12'", "", ""]], labor);
    assert_eq!(ended, Ended::WithStops);
    assert!(says(&sheet(&bytes, "Checks"), "has 2 rows for it in force"));
}
