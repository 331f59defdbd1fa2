//! Bids in parts and with alternates: prices add up to the total to the cent, and an alternate is priced as it would be taken.

use super::common::workbook;
use super::own::earlier;
use super::{below_headings, hardlid, is, sheet};
use calamine::Data;
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;
use proptest::prelude::*;

/// A thing at so much a foot, work at half an hour a foot, and $100.00 to come to the job; overhead 10%, tax in the price.
const BOOK: &str = "\
book \"House\"  edition \"1\"
rows job  from \"Job\"
    overhead   percent  heading \"Overhead\"          otherwise 10%
    price_tax  percent  heading \"Tax in the price\"  otherwise 0%
end
rows rooms  from \"Rooms\"
    id         text    heading \"Room\"       key
    level      text    heading \"Level\"      may be blank
    long       length  heading \"Feet\"
    alternate  text    heading \"Alternate\"  may be blank
    deducted   yes/no  heading \"Deducted\"   otherwise no
end
for rooms
    item thing   \"Thing\"  code \"T\"  need long
    labor frame  \"Frame\"  code \"L\"  need long
end
for job
    dividing  parts by level  alternates by alternate deducting deducted
    item come  \"Come to the job\"  code \"COME\"  lump $100
    material  \"Material\"      =  sum of lines (cost) where kind is material
    labor     \"Labor\"         =  sum of lines (cost) where kind is labor
    over      \"Overhead\"      =  round_near(overhead of (material + labor), to: $0.01)
    tax       \"Tax\"           =  round_near((material + labor + over) * price_tax / (100% - price_tax), to: $0.01)
    total     \"Total\"         =  material + labor + over + tax
end
";

fn machine(rooms: &[Vec<String>], job: &[&[&str]]) -> Memory {
    let heads: Vec<&str> = vec!["Room", "Level", "Feet", "Alternate", "Deducted"];
    let mut all: Vec<Vec<&str>> = vec![heads];
    all.extend(rooms.iter().map(|r| r.iter().map(String::as_str).collect()));
    let all: Vec<&[&str]> = all.iter().map(Vec::as_slice).collect();
    let yard = workbook(&[
        ("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["T", "Thing", "ft", "3.33"]]),
        ("Labor", &[&["Code", "Work", "Hours per unit", "Unit", "Crew"], &["L", "Frame", "0.5", "ft", "Crew"]]),
        ("Crews", &[&["Crew", "Wage", "Burden", "Hours a week"], &["Crew", "30.00", "25%", "48"]]),
    ]);
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", &all), ("Job", job)]))
        .with("yard.xlsx", yard)
        .with("house.lid", BOOK)
}

fn priced(machine: &Memory) -> Vec<u8> {
    assert_eq!(hardlid(machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    machine.bytes("rooms.priced.xlsx").unwrap()
}

fn cents(cell: &Data) -> Option<i64> {
    if let Data::Float(value) = cell { format!("{value:.2}").replace('.', "").parse().ok() } else { None }
}

/// A row of Parts by its label: heading and cents of each column that has a number.
fn parts(bytes: &[u8], label: &str) -> Vec<(String, i64)> {
    let range = sheet(bytes, "Parts");
    let heads: Vec<String> = range.rows().next().unwrap().iter().map(ToString::to_string).collect();
    let row = range.rows().find(|r| is(&r[0], label)).unwrap_or_else(|| panic!("no row {label}"));
    heads.into_iter().zip(row).skip(1).filter_map(|(head, cell)| Some((head, cents(cell)?))).collect()
}

fn total(bytes: &[u8]) -> i64 {
    let bid = sheet(bytes, "Bid");
    let row = bid.rows().find(|r| is(&r[0], "Total")).unwrap();
    cents(&row[2]).unwrap()
}

fn room(id: &str, level: &str, feet: &str, alternate: &str, deducted: &str) -> Vec<String> {
    [id, level, feet, alternate, deducted].map(str::to_owned).to_vec()
}

/// Two of level 1 and two of level 2, of which one is taken out by an alternate and one comes with another.
fn four_rooms() -> [Vec<String>; 4] {
    [
        room("A", "1", "10'", "", ""),
        room("B", "1", "10'", "", ""),
        room("C", "2", "10'", "Less", "yes"),
        room("D", "2", "10'", "More", ""),
    ]
}

/// An hour is 30.00 x 52/48 x 1.25 = 40.625, half of it a foot; with 3.33 of material 10 ft are 33.30 + 203.13 (203.125).
///
/// In the bid: A and B of level 1, C of level 2, and 100.00 to come. 3 x 236.43 = 709.29, 809.29 with it; overhead 80.929,
/// 80.93: 890.22. With "More" D's 236.43 come to it: 1,045.72, overhead 104.572, 104.57: 1,150.29, 260.07 more. "Less" takes
/// C out: 572.86, overhead 57.286, 57.29: 630.15, 260.07 less.
#[test]
fn alternates_add_and_deduct() {
    let rooms = four_rooms();
    let bytes = priced(&machine(&rooms, &[]));
    assert_eq!(total(&bytes), 89_022);
    let prices = parts(&bytes, "Price");
    let of = |name: &str| prices.iter().find(|(n, _)| n == name).map(|(_, c)| *c);
    assert_eq!(of("More"), Some(26_007));
    assert_eq!(of("Less"), Some(-26_007));
    // alone: level 1 is 472.86 + 47.29, level 2 236.43 + 23.64, the job's own 110.00; together 890.22
    assert_eq!(of("1"), Some(52_015));
    assert_eq!(of("2"), Some(26_007));
    assert_eq!(of("Whole job"), Some(11_000));
    // the lines of an alternate are in no sum of the bid, and its room says so
    let (heads, lines) = (sheet(&bytes, "Lines"), sheet(&bytes, "Rooms"));
    assert!(heads.rows().any(|r| r.iter().any(|c| is(c, "Alternate material"))));
    assert!(lines.rows().any(|r| r.iter().any(|c| is(c, "Alternate"))));
}

/// The thing at $4.00: each room 40.00 + 203.13, 243.13. Three and 100.00 to come are 829.39, overhead 82.939, 82.94: 912.33,
/// 22.11 more. Level 1 alone 486.26 + 48.63, 534.89, 14.74 more; level 2 243.13 + 24.31, 267.44, 7.37 more; the job's own
/// 110.00 as before. With "More" 1,072.52 + 107.25, 1,179.77: 267.44, 7.37 more; with "Less" 586.26 + 58.63, 644.89: 267.44 off,
/// 7.37 more of it. Prices alone moved.
#[test]
fn what_moved_is_told_of_each_part_and_alternate() {
    let rooms = four_rooms();
    let machine = machine(&rooms, &[]);
    assert_eq!(total(&priced(&machine)), 89_022);
    let dearer = workbook(&[
        ("Prices", &[&["Code", "Item", "Sold by", "Cost"], &["T", "Thing", "ft", "4.00"]]),
        ("Labor", &[&["Code", "Work", "Hours per unit", "Unit", "Crew"], &["L", "Frame", "0.5", "ft", "Crew"]]),
        ("Crews", &[&["Crew", "Wage", "Burden", "Hours a week"], &["Crew", "30.00", "25%", "48"]]),
    ]);
    let machine = machine.with("dearer.xlsx", dearer);
    let words = "reprice rooms.priced.xlsx --prices dearer.xlsx --as-of 2026-04-01 -o moved.xlsx";
    assert_eq!(hardlid(&machine, words), Ended::Done);
    assert_eq!(total(&machine.bytes("rooms.priced.rev-2.xlsx").unwrap()), 91_233);
    let told = |name: &str, heading: &str| {
        let range = sheet(&machine.bytes("moved.xlsx").unwrap(), name);
        let (heads, rows) = below_headings(&range, heading);
        let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
        let sums = ["Before ($)", "Now ($)", "Difference ($)", "By price ($)", "By quantity ($)"].map(column);
        let mut rows: Vec<_> =
            rows.iter().map(|r| (r[column(heading)].to_string(), sums.map(|at| cents(&r[at]).unwrap_or(-1)))).collect();
        rows.retain(|(_, sums)| *sums != [-1; 5]);
        rows
    };
    let parts = [
        ("1", [52_015, 53_489, 1_474, 1_474, 0]),
        ("2", [26_007, 26_744, 737, 737, 0]),
        ("Whole job", [11_000, 11_000, 0, 0, 0]),
        // together what the bid comes to
        ("", [89_022, 91_233, 2_211, 2_211, 0]),
    ];
    assert_eq!(told("Parts", "Part"), parts.map(|(name, sums)| (name.to_owned(), sums)));
    let alternates = [("Less", [-26_007, -26_744, -737, -737, 0]), ("More", [26_007, 26_744, 737, 737, 0])];
    assert_eq!(told("Alternates", "Alternate"), alternates.map(|(name, sums)| (name.to_owned(), sums)));
    // a bid that is not divided has neither sheet
    let machine =
        self::machine(&[room("A", "", "10'", "", "")], &[]).with("dearer.xlsx", machine.bytes("dearer.xlsx").unwrap());
    priced(&machine);
    assert_eq!(hardlid(&machine, words), Ended::Done);
    let sheets = super::sheet_names(&machine.bytes("moved.xlsx").unwrap());
    assert!(!sheets.iter().any(|s| s == "Parts" || s == "Alternates"), "{sheets:?}");
}

/// What is added by an alternate is not in the Order.
#[test]
fn an_alternate_is_not_ordered() {
    let rooms = [room("A", "1", "10'", "", ""), room("D", "2", "10'", "More", "")];
    let bytes = priced(&machine(&rooms, &[]));
    let used = sheet(&bytes, "Order").rows().any(|r| r.contains(&Data::Float(10.0)));
    assert!(used);
    assert!(!sheet(&bytes, "Order").rows().any(|r| r.contains(&Data::Float(20.0))));
}

/// A room of a property test: level, tenths of a foot, alternate, whether deducted, feet typed by hand.
type Drawn = (usize, u32, usize, bool, Option<u32>);

const LEVELS: [&str; 4] = ["", "1", "2", "Roof"];
const ALTERNATES: [&str; 3] = ["", "One", "Two"];

/// A job of some of the rooms; each with its level and alternate, or plainly in the bid. What was typed by hand stands in
/// the workbook that it replaces.
fn job_of(rooms: &[Drawn], kept: &dyn Fn(usize) -> bool, plain: bool, job: &[&[&str]]) -> Option<Vec<u8>> {
    let (mut all, mut named, mut typed) = (Vec::new(), Vec::new(), Vec::new());
    for (i, (level, tenths, alternate, deducted, own)) in rooms.iter().enumerate().filter(|(i, _)| kept(*i)) {
        let feet = format!("{}.{} ft", tenths / 10, tenths % 10);
        let name = format!("R{i}");
        all.push(if plain {
            room(&name, "", &feet, "", "no")
        } else {
            room(&name, LEVELS[*level], &feet, ALTERNATES[*alternate], if *deducted { "yes" } else { "no" })
        });
        if let Some(own) = own {
            typed.push((4 + u32::try_from(named.len()).unwrap(), 4, f64::from(*own)));
            named.push(name);
        }
    }
    let rows: Vec<[&str; 4]> = named.iter().map(|name| [name.as_str(), "Thing", "T", "ft"]).collect();
    let machine = machine(&all, job);
    let machine = if rows.is_empty() { machine } else { machine.with("rooms.priced.xlsx", earlier(&rows, &typed)) };
    (!all.is_empty()).then(|| priced(&machine))
}

/// Cents of the lines in the bid, and of the Bid's levels with what is of the whole job.
fn lines_and_levels(bytes: &[u8]) -> (i64, i64) {
    let range = sheet(bytes, "Lines");
    let (heads, rows) = below_headings(&range, "Code");
    let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let in_bid = rows.iter().filter(|r| is(&r[at("Kind")], "Material") || is(&r[at("Kind")], "Labor"));
    let lines = in_bid.filter_map(|r| cents(&r[at("Cost ($)")])).sum();
    let bid = sheet(bytes, "Bid");
    let below = bid.rows().skip_while(|r| !is(&r[0], "By level")).skip(1);
    let levels = below.take_while(|r| r[0] != Data::Empty).filter_map(|r| cents(&r[2])).sum();
    (lines, levels)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Whatever is in which level or alternate, and whatever is typed by hand: lines, levels and parts add up, an
    /// alternate's price is what a bid with its rooms in place comes to beyond the bid, and the total is that of the bid's
    /// rooms alone.
    #[test]
    fn parts_add_up_and_alternates_are_what_they_change(
        rooms in proptest::collection::vec(
            (0usize..4, 1u32..5000, 0usize..3, any::<bool>(), proptest::option::of(0u32..900)), 1..14),
        overhead in 0u32..40, price_tax in 0u32..30,
    ) {
        let (overhead, price_tax) = (format!("{overhead}%"), format!("{price_tax}%"));
        let job: &[&[&str]] = &[&["Overhead", &overhead], &["Tax in the price", &price_tax]];
        let in_bid = |i: usize| rooms[i].2 == 0 || rooms[i].3;
        let bytes = job_of(&rooms, &|_| true, false, job).unwrap();
        let whole = total(&bytes);
        let plain = job_of(&rooms, &in_bid, true, job);
        if let Some(plain) = &plain {
            prop_assert_eq!(whole, total(plain));
        }
        let (lines, levels) = lines_and_levels(&bytes);
        // a bid of no rooms at all has no levels
        if plain.is_some() {
            prop_assert_eq!(lines, levels);
        }
        if rooms.iter().all(|r| r.0 == 0 && r.2 == 0) {
            return Ok(());
        }
        let sums = parts(&bytes, "Material").iter().chain(&parts(&bytes, "Labor")).filter(|(n, _)| n == "The bid")
            .map(|(_, c)| c).sum::<i64>();
        prop_assert_eq!(lines, sums);
        let prices = parts(&bytes, "Price");
        let named = |name: &String| ALTERNATES.contains(&name.as_str());
        let of_parts: Vec<&(String, i64)> = prices.iter().filter(|(n, _)| n != "The bid" && !named(n)).collect();
        if !of_parts.is_empty() {
            prop_assert_eq!(of_parts.iter().map(|(_, c)| c).sum::<i64>(), whole);
        }
        for (number, name) in ALTERNATES.iter().enumerate().skip(1) {
            let Some((_, price)) = prices.iter().find(|(n, _)| n == name) else { continue };
            let taken = |i: usize| if rooms[i].2 == number { !rooms[i].3 } else { in_bid(i) };
            if let Some(with) = job_of(&rooms, &taken, true, job) {
                prop_assert_eq!(*price, total(&with) - whole);
            }
        }
    }
}
