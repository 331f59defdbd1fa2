//! Published build-ups through rule books in the notation, and mark-ups of the built-in book: the Bid comes out to the cent.

use super::common::workbook;
use super::{hardlid, is, says, sheet};
use calamine::Data;
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;

/// A figure of the Bid in its third column, to the cent.
fn figure(bytes: &[u8], label: &str) -> String {
    let bid = sheet(bytes, "Bid");
    let row = bid.rows().find(|r| is(&r[0], label)).unwrap_or_else(|| panic!("no figure {label}"));
    if let Data::Float(value) = row[2] { format!("{value:.2}") } else { panic!("{label}: {:?}", row[2]) }
}

fn priced(book: &str, rooms: Vec<u8>, prices: Vec<u8>) -> Vec<u8> {
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", rooms)
        .with("yard.xlsx", prices)
        .with("house.lid", book);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    machine.bytes("rooms.priced.xlsx").unwrap()
}

/// DPWH (Philippines) analysis 801(1), read: 55 h at 76.56 and 4 x 55 h at 42.91; tools 10% of labor; overhead 12% and
/// profit 8%, both on direct cost; tax 5% of the three.
#[test]
fn a_public_works_analysis_with_tax_on_the_sum() {
    let book = "\
book \"DPWH analysis 801(1)\"  edition \"1\"
rows rooms  from \"Rooms\"
    id  text  heading \"Room\"  key
end
for rooms
    labor foreman  \"Foreman\"  code \"F\"  need 55 hr
    labor workers  \"Workers\"  code \"W\"  need 4 * 55 hr
end
for job
    labor     \"Labor\"         =  sum of lines (cost) where kind is labor
    tools     \"Tools\"         =  round_near(10% of labor, to: $0.01)
    direct    \"Direct cost\"   =  labor + tools
    overhead  \"Overhead\"      =  round_near(12% of direct, to: $0.01)
    profit    \"Profit\"        =  round_near(8% of direct, to: $0.01)
    tax       \"Tax\"           =  round_near(5% of (direct + overhead + profit), to: $0.01)
    total     \"Total\"         =  direct + overhead + profit + tax
end
";
    let prices = workbook(&[
        ("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["X", "Not needed", "ea", "1"]]),
        (
            "Labor",
            &[
                &["Code", "Work", "Hours per unit", "Unit", "Crew"],
                &["F", "Foreman", "", "", "Foreman"],
                &["W", "Workers", "", "", "Workers"],
            ],
        ),
        ("Crews", &[&["Crew", "Wage", "Burden"], &["Foreman", "76.56", "0%"], &["Workers", "42.91", "0%"]]),
    ]);
    let bytes = priced(book, workbook(&[("Rooms", &[&["Room", "Note"], &["1", "all of it"]])]), prices);
    for (label, amount) in [
        ("Labor", "13651.00"),
        ("Tools", "1365.10"),
        ("Direct cost", "15016.10"),
        ("Overhead", "1801.93"),
        ("Profit", "1201.29"),
        ("Tax", "900.97"),
        ("Total", "18920.29"),
    ] {
        assert_eq!(figure(&bytes, label), amount, "{label}");
    }
}

/// A job of the built-in book whose rooms cost nothing: its lump sums are its direct cost.
fn lumps(book: &str, job: &[&[&str]], sums: &[&[&str]]) -> Vec<u8> {
    let codes = [
        "ST", "TA", "PA", "SB", "MT", "CT", "TM", "DC", "CR", "FC", "FT", "HW-12", "WA", "SF", "GB-58", "SB-114", "JT",
        "JC",
    ];
    let unit = |code: &str| match code {
        "ST" | "TA" | "PA" | "SB" | "MT" | "CT" | "TM" | "CR" | "FC" | "HW-12" | "JT" => "ft",
        "GB-58" => "sf",
        "JC" => "gal",
        _ => "ea",
    };
    let rows: Vec<[&str; 4]> = codes.iter().map(|code| [*code, "thing", unit(code), "0"]).collect();
    let mut all: Vec<&[&str]> = vec![&["Code", "Item", "Sold by", "Cost"]];
    all.extend(rows.iter().map(|r| r.as_slice()));
    let works = [("L-TEE", "ft"), ("L-SB", "ft"), ("L-TIE", "ea"), ("L-GRID", "sf"), ("L-CHN", "sf"), ("L-BRD", "sf")];
    let works: Vec<[&str; 5]> = works.iter().map(|(code, unit)| [*code, "work", "0", *unit, "Crew"]).collect();
    let mut labor: Vec<&[&str]> = vec![&["Code", "Work", "Hours per unit", "Unit", "Crew"]];
    labor.extend(works.iter().map(|r| r.as_slice()));
    let prices = workbook(&[
        ("Prices", &all),
        ("Labor", &labor),
        ("Crews", &[&["Crew", "Wage", "Burden"], &["Crew", "30", "0%"]]),
    ]);
    let mut stated: Vec<&[&str]> = vec![&["What", "Amount", "Allowance"]];
    stated.extend(sums);
    let rooms = workbook(&[
        ("Rooms", &[&["Room", "Length", "Width"], &["1", "10'", "7'"]]),
        ("Lump sums", &stated),
        ("Job", job),
    ]);
    priced(book, rooms, prices)
}

const HOUSE: &str = "book \"House\"  edition \"1\"\nuse \"hardlid ceilings\"\n";

/// PWD (Bangladesh) 32.17, read: 240.00 and 27.50; profit 10% and overhead 3.5%, both on direct cost; tax 7.5% included in
/// the price: 303.61 / 0.925.
#[test]
fn a_tax_that_is_a_part_of_the_price() {
    let book = format!(
        "{HOUSE}for job\n    replace profit_amount  \"Profit\"  =  round_near(profit of direct, to: $0.01)\nend\n"
    );
    let job: &[&[&str]] = &[&["Overhead", "3.5%"], &["Profit", "10%"], &["Tax in the price", "7.5%"]];
    let bytes = lumps(&book, job, &[&["Work", "240.00", ""], &["Carriage", "27.50", "no"]]);
    for (label, amount) in [
        ("Lump sums", "267.50"),
        ("Profit", "26.75"),
        ("Overhead", "9.36"),
        // 303.61 x .075 / .925 = 24.617
        ("Tax in the price", "24.62"),
        ("Total", "328.23"),
    ] {
        assert_eq!(figure(&bytes, label), amount, "{label}");
    }
}

/// A margin of 20% is a markup of 25% (arithmetic): 267.50 / .80 = 334.375, and 66.875 either way, up to 66.88.
#[test]
fn a_margin_and_the_markup_that_is_the_same() {
    for profit in [&["Margin", "20%"], &["Profit", "25%"]] {
        let bytes = lumps(HOUSE, &[profit], &[&["Work", "267.50", ""]]);
        assert_eq!(figure(&bytes, "Total"), "334.38", "{profit:?}");
    }
}

/// FEMA CEF Part E, read: months to the middle of the work x monthly factor x subtotal, simple. 7 x 0.5% of 1,000.00 is
/// 35.00 (compounded it would be 35.53); contingency, 10% of direct cost, stands apart; overhead 10% of 1,135.00.
#[test]
fn escalation_is_simple_and_apart_from_contingency() {
    let job: &[&[&str]] = &[
        &["Escalation a month", "0.5%"],
        &["Months to the middle of the work", "7"],
        &["Contingency", "10%"],
        &["Overhead", "10%"],
    ];
    let bytes = lumps(HOUSE, job, &[&["Work", "1000", ""]]);
    for (label, amount) in
        [("Escalation (a month)", "35.00"), ("Contingency", "100.00"), ("Overhead", "113.50"), ("Total", "1248.50")]
    {
        assert_eq!(figure(&bytes, label), amount, "{label}");
    }
    assert!(says(
        &sheet(&bytes, "Bid"),
        "Mark-ups, in this order: Escalation on Direct cost; Contingency on Direct cost"
    ));
}

/// 1,000.00, overhead 10% to 1,100.00, profit 10% to 1,210.00; an allowance of 500.00 bears neither, and is under the bond:
/// 1% of 1,710.00 is 17.10.
#[test]
fn an_allowance_bears_no_overhead_and_no_profit() {
    let job: &[&[&str]] = &[&["Overhead", "10%"], &["Profit", "10%"], &["Bond", "1%"]];
    let bytes = lumps(HOUSE, job, &[&["Work", "1000", ""], &["Access doors", "500", "yes"]]);
    for (label, amount) in [("Lump sums", "1000.00"), ("Allowances", "500.00"), ("Bond", "17.10"), ("Total", "1727.10")]
    {
        assert_eq!(figure(&bytes, label), amount, "{label}");
    }
}

/// Tax at 7% on all that is direct: 1,000.00 of lump sums are taxed with it, 70.00; on material alone they are not.
#[test]
fn what_is_taxed_is_said() {
    for (on, total) in [("material", "1000.00"), ("material and freight", "1000.00"), ("all", "1070.00")] {
        let bytes = lumps(HOUSE, &[&["Sales tax", "7%"], &["Tax on", on]], &[&["Work", "1000", ""]]);
        assert_eq!(figure(&bytes, "Total"), total, "{on}");
    }
}
