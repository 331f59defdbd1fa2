//! Stock lengths, splices and rules of cutting, from a house book and a price book to the sheets.

use super::common::workbook;
use super::{below_headings, hardlid, says, sheet, texts};
use hardlid::command::Ended;
use hardlid::quantity::Date;
use hardlid::system::Memory;

/// Two tees of a length in each room.
const BOOK: &str = "\
book \"House\"  edition \"1\"
rows job  from \"Job\"
    saw    length  heading \"Saw cut\"       at least 0\"  otherwise 0\"
    least  length  heading \"Least offcut\"  at least 0\"  otherwise 12\"
    over   length  heading \"Lap\"           at least 0\"  otherwise 4\"
end
rows rooms  from \"Rooms\"
    id     text    heading \"Room\"   key
    level  text    heading \"Level\"  may be blank
    long   length  heading \"Tee\"
    back   length  heading \"Back\"   otherwise 0\"
end
for rooms
    item tee   \"Span tee\"    code \"ST\"  cut 2, each long
    item back  \"Strongback\"  code \"SB\"  cut 1, each back  spliced lap over least 10\"  only when back > 0\"
end
for job
    cutting  by level  kerf saw  keep least
end
";

fn machine(rooms: &[&[&str]], job: &[&[&str]]) -> Memory {
    let heads: &[&str] = &["Room", "Level", "Tee", "Back"];
    let all: Vec<&[&str]> = std::iter::once(heads).chain(rooms.iter().copied()).collect();
    let yard = workbook(&[(
        "Prices",
        &[
            &["Code", "Item", "Sold by", "Stock length", "Cost", "Supplier"],
            &["ST", "Span tee, 12 ft", "ea", "12'", "6.60", "North (invented)"],
            &["ST", "Span tee, 10 ft", "ea", "10'", "5.00", "North (invented)"],
            &["SB", "Strongback, 16 ft", "ea", "16'", "8.00", "North (invented)"],
        ],
    )]);
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", &all), ("Job", job)]))
        .with("yard.xlsx", yard)
        .with("base.lid", BOOK)
        // the same with each room cut by itself
        .with("by-room.lid", BOOK.replace("cutting  by level  kerf saw  keep least", "cutting  by rooms"))
}

fn priced(machine: &Memory, book: &str, ended: Ended) -> Vec<u8> {
    assert_eq!(hardlid(machine, &format!("price rooms.xlsx --rules {book} --prices yard.xlsx")), ended);
    machine.bytes("rooms.priced.xlsx").unwrap()
}

/// Rows of a table by the columns named.
fn table(bytes: &[u8], name: &str, columns: &[&str]) -> Vec<Vec<String>> {
    let range = sheet(bytes, name);
    let (heads, rows) = below_headings(&range, columns[0]);
    let at: Vec<usize> = columns.iter().map(|c| heads.iter().position(|h| h == c).unwrap()).collect();
    let row = |r: &&[calamine::Data]| at.iter().map(|c| r[*c].to_string()).collect::<Vec<_>>();
    rows.iter().map(row).filter(|r| !r[1].is_empty()).collect()
}

/// Level 1: two of 12 ft and two of 5 ft: 12 ft pieces of 6.60 each, and both fives out of 10 ft at 5.00: 18.20. Level 2:
/// two of 10 ft, 10.00. A strongback of 20 ft out of 16 ft with a lap of 4 in.: 192 in. and 240 - 188 = 52 in.
#[test]
fn each_level_is_cut_by_itself_from_the_lengths_on_offer() {
    let rooms: &[&[&str]] = &[&["101", "1", "12'", ""], &["102", "1", "5'", ""], &["201", "2", "10'", "20'"]];
    let machine = machine(rooms, &[]);
    let bytes = priced(&machine, "base.lid", Ended::Done);
    let cuts = sheet(&bytes, "Cuts");
    for head in [
        "ST, Span tee, level 1: 3 stock, at least 3 needed.",
        "They cost $18.20, and no plan costs less.",
        "ST, Span tee, level 2: 2 stock, at least 2 needed.",
        "They cost $10.00, and no plan costs less.",
        "SB, Strongback, 16 ft, level 2: 2 stock, at least 2 needed.",
        "1 piece longer than stock is spliced, with 1 joint.",
        "Each level is cut by itself. No saw cut is reckoned. Offcuts of 1'-0\" and longer are kept; shorter ones are scrap.",
    ] {
        assert!(says(&cuts, head), "{head}: {:#?}", texts(&cuts));
    }
    let plan = table(&bytes, "Cuts", &["Code", "Stock piece", "Times", "Cut from each", "For rooms", "Offcut is"]);
    let expected = [
        ["SB", "16'-0\"", "1", "16'-0\"", "201", ""],
        ["SB", "16'-0\"", "1", "4'-4\"", "201", "kept"],
        ["ST", "12'-0\"", "2", "12'-0\"", "101", ""],
        ["ST", "10'-0\"", "1", "2 x 5'-0\"", "102", ""],
        ["ST", "10'-0\"", "2", "10'-0\"", "201", ""],
    ];
    assert_eq!(plan, expected);
    let order = table(&bytes, "Order", &["Code", "Buy", "Sold as", "Cost ($)"]);
    let expected = [
        ["SB", "2", "pieces of 16'-0\"", "16"],
        ["ST", "2", "pieces of 12'-0\"", "13.2"],
        ["ST", "3", "pieces of 10'-0\"", "15"],
    ];
    assert_eq!(order[..3], expected);
    let prices = table(&bytes, "Prices", &["Code", "Stock length (ft)", "Serves"]);
    let expected = [["SB", "16", "prices lines; bought"], ["ST", "12", "bought"], ["ST", "10", "prices lines; bought"]];
    assert_eq!(prices, expected);
    // 54 ft of tee at 0.50 a foot, 20 ft of strongback at 0.50
    let lines = sheet(&bytes, "Lines");
    let (heads, rows) = below_headings(&lines, "Item or work");
    let cost = heads.iter().position(|h| h == "Cost ($)").unwrap();
    let sum: f64 =
        rows.iter().filter_map(|r| if let calamine::Data::Float(v) = r[cost] { Some(v) } else { None }).sum();
    assert!((sum - 37.0).abs() < 1e-9, "{sum}");
}

/// Two of 5 ft for each of two rooms: 10 ft each. A saw that takes 1/8 in. leaves no room for the second in 10 ft, but in 12 ft:
/// 6.60 beats two of 5.00.
#[test]
fn a_house_cuts_room_by_room_with_a_saw_of_its_own() {
    let rooms: &[&[&str]] = &[&["101", "1", "5'", ""], &["102", "1", "5'", ""]];
    let bytes = priced(&machine(rooms, &[]), "by-room.lid", Ended::Done);
    let cuts = sheet(&bytes, "Cuts");
    assert!(says(&cuts, "ST, Span tee, room 101: 1 stock, at least 1 needed."), "{:#?}", texts(&cuts));
    assert!(says(&cuts, "ST, Span tee, room 102: 1 stock, at least 1 needed."));
    assert!(says(&cuts, "Each room is cut by itself. No saw cut is reckoned. Every offcut is kept."));
    let bytes = priced(&machine(rooms, &[&["Saw cut", "1/8\""]]), "base.lid", Ended::Done);
    let order = table(&bytes, "Order", &["Code", "Buy", "Sold as", "Cost ($)"]);
    assert_eq!(order[0], ["ST", "2", "pieces of 12'-0\"", "13.2"]);
    assert!(says(&sheet(&bytes, "Cuts"), "A saw cut takes 1/8\"."));
}

/// A tee of 13 ft may not be spliced: its room is stopped and named, the other is priced. A lap as long as the stock makes
/// no parts.
#[test]
fn a_piece_longer_than_stock_is_a_problem_and_the_rest_is_priced() {
    let rooms: &[&[&str]] = &[&["101", "1", "13'", ""], &["102", "1", "5'", "20'"]];
    let bytes = priced(&machine(rooms, &[]), "base.lid", Ended::WithStops);
    let checks = sheet(&bytes, "Checks");
    let what = "Span tee of room 101 has a piece of 13'-0\", longer than the longest stock of ST, 12'-0\", and it may not be \
                spliced.";
    assert!(says(&checks, what), "{:#?}", texts(&checks));
    assert!(says(&sheet(&bytes, "Cuts"), "ST, Span tee, level 1: 1 stock, at least 1 needed."));
    let bytes = priced(&machine(rooms, &[&["Lap", "16'"]]), "base.lid", Ended::WithStops);
    let what = "Strongback of room 102 has a piece of 20'-0\", longer than the longest stock of SB, 16'-0\", and no parts of \
                it would do for the splice that is allowed.";
    assert!(says(&sheet(&bytes, "Checks"), what));
}

/// The built-in book cuts the whole job together and keeps offcuts of 12 in.; a company's own rule takes the place of that.
#[test]
fn a_companys_rule_of_cutting_replaces_the_built_in_one() {
    let rule = "\nfor job\n    replace cutting  by level  kerf saw_kerf  keep 24\"\nend\n";
    let house = [super::RULES, rule.as_bytes()].concat();
    let machine = super::machine().with("own.lid", house);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let whole = sheet(&machine.bytes("rooms.priced.xlsx").unwrap(), "Cuts");
    assert!(says(
        &whole,
        "Cut together for the whole job. No saw cut is reckoned. Offcuts of 1'-0\" and longer are kept"
    ));
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules own.lid --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let cuts = sheet(&bytes, "Cuts");
    assert!(says(&cuts, "Each level is cut by itself. No saw cut is reckoned. Offcuts of 2'-0\" and longer are kept"));
    assert!(says(&cuts, ", Level 1: ") && says(&cuts, ", Level 2: "), "{:#?}", texts(&cuts));
    assert!(says(&sheet(&bytes, "Rules"), "cutting of job"));
}

/// The tee of North at 6.60 goes before that of South at 6.00 where the Job sheet prefers North.
#[test]
fn the_job_sheet_names_the_supplier() {
    let rooms: &[&[&str]] = &[&["Room", "Length", "Width"], &["101", "8'", "6'"]];
    let yard = sheet_with(&[["ST", "12'", "6.60", "North (invented)"], ["ST", "12'", "6.00", "South (invented)"]]);
    for (job, cost, says_so) in [
        (vec![], "6", None),
        (vec![["Preferred supplier", "north (invented)"]], "6.6", Some("Bought from north (invented) where it sells")),
        (vec![["Buy only from", "South (invented)"]], "6", Some("Bought from South (invented) only.")),
    ] {
        let job: Vec<&[&str]> = job.iter().map(|r| &r[..]).collect();
        let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
            .with("rooms.xlsx", workbook(&[("Rooms", rooms), ("Job", &job)]))
            .with("house.lid", TEE_ONLY)
            .with("yard.xlsx", yard.clone());
        assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
        let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
        let order = table(&bytes, "Order", &["Code", "Buy", "Each ($)", "Supplier"]);
        assert_eq!(order[0][2], cost);
        let order = sheet(&bytes, "Order");
        assert!(says_so.is_none_or(|t| says(&order, t)), "{:#?}", texts(&order));
    }
}

/// One tee a room, bought as the built-in book buys.
const TEE_ONLY: &str = "\
rows job  from \"Job\"
    preferred  text  heading \"Preferred supplier\"  may be blank
    alone      text  heading \"Buy only from\"       may be blank
end
rows rooms  from \"Rooms\"
    id      text    heading \"Room\"  key
    length  length
end
for rooms
    item tee  code \"ST\"  cut 1, each length
end
for job
    buying  first from preferred  only from alone
end
";

fn sheet_with(rows: &[[&str; 4]]) -> Vec<u8> {
    let heads: [&str; 5] = ["Code", "Stock length", "Cost", "Supplier", "Sold by"];
    let rows: Vec<[&str; 5]> = rows.iter().map(|[a, b, c, d]| [*a, *b, *c, *d, "ea"]).collect();
    let all: Vec<&[&str]> = std::iter::once(&heads).chain(&rows).map(|r| &r[..]).collect();
    workbook(&[("Prices", &all)])
}

/// Screws by the count and anchors by the piece.
const COUNTS: &str = "\
rows rooms  from \"Rooms\"
    id       text   heading \"Room\"  key
    screws   count
    anchors  count
end
for rooms
    item screw   code \"SF\"  need screws
    item anchor  code \"AN\"  need anchors
end
";

fn counted(screws: [&str; 2]) -> Vec<u8> {
    let yard = workbook(&[(
        "Prices",
        &[
            &["Code", "Sold by", "Pack", "Cost", "Cost from 5", "Price from 10 ($)", "Minimum order"],
            &["SF", "M", "1,000 ea", "14.80", "12.00", "$1.10/C", ""],
            &["AN", "ea", "", "0.50", "", "", "25"],
        ],
    )]);
    let rooms: &[&[&str]] = &[&["Room", "Screws", "Anchors"], &["101", screws[0], "7"], &["102", screws[1], "0"]];
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", rooms)]))
        .with("house.lid", COUNTS)
        .with("yard.xlsx", yard);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    machine.bytes("rooms.priced.xlsx").unwrap()
}

/// Packs of a thousand screws. 3,900 are 4 packs: 14.80 a thousand, 28.86 for each 1,950. 4,600 are 5 packs, though neither
/// room takes 5: 12.00 a thousand, 27.60 for each 2,300. 9,001 are 10 packs: $1.10 a hundred is 11.00 a thousand, 49.50 for
/// 4,500 and 49.51 for 4,501 (49.511).
#[test]
fn the_whole_job_decides_the_break_for_its_lines_and_the_order() {
    for (screws, cents, order, from) in [
        (["1950", "1950"], [28.86, 28.86], ["SF", "4", "14.8", "59.2"], ""),
        (["2300", "2300"], [27.60, 27.60], ["SF", "5", "12", "60"], "5"),
        (["4500", "4501"], [49.50, 49.51], ["SF", "10", "11", "110"], "10"),
    ] {
        let bytes = counted(screws);
        let lines = sheet(&bytes, "Lines");
        let (heads, rows) = below_headings(&lines, "Item or work");
        let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
        let costs: Vec<f64> = rows
            .iter()
            .filter(|r| super::is(&r[at("Code")], "SF"))
            .filter_map(|r| if let calamine::Data::Float(v) = r[at("Cost ($)")] { Some(v) } else { None })
            .collect();
        assert_eq!(costs, cents);
        assert_eq!(table(&bytes, "Order", &["Code", "Buy", "Each ($)", "Cost ($)"])[1], order);
        let prices = table(&bytes, "Prices", &["Code", "Cost ($)", "Holds from"]);
        assert_eq!(prices[1], ["SF", order[2], from]);
        assert_eq!(says(&sheet(&bytes, "Prices"), "decides which cost holds"), !from.is_empty());
        // 7 anchors at 0.50 in the bid, 25 of them bought
        let order = table(&bytes, "Order", &["Code", "Buy", "Sold as", "Left over", "Cost ($)"]);
        assert_eq!(order[0], ["AN", "25", "pieces; the least that is sold at once", "18", "12.5"]);
    }
}

/// A tee and screws; what is charged stands on the Job sheet.
const CHARGING: &str = "\
rows job  from \"Job\"
    by_piece  yes/no  heading \"Charge what is bought\"  otherwise no
end
rows rooms  from \"Rooms\"
    id      text    heading \"Room\"  key
    tee     length
    screws  count
end
for rooms
    item tee    code \"ST\"  cut 1, each tee
    item screw  code \"SF\"  need screws
end
for job
    buying  charging bought when by_piece
    material  =  sum of lines (cost) where kind is material
    total     =  round_near(material * 110%, to: $0.01)
end
";

/// A screw of each of two rooms at half a cent is charged as a cent; the pack of both costs one.
#[test]
fn packs_that_cost_less_than_the_cents_charged_are_said_to() {
    let yard = workbook(&[(
        "Prices",
        &[
            &["Code", "Sold by", "Pack", "Stock length", "Cost"],
            &["ST", "ea", "", "7'", "6.60"],
            &["SF", "C", "2 ea", "", "0.50"],
        ],
    )]);
    let rooms: &[&[&str]] = &[&["Room", "Tee", "Screws"], &["101", "7'", "1"], &["102", "7'", "1"]];
    let machine = charging(&[]).with("rooms.xlsx", workbook(&[("Rooms", rooms)])).with("yard.xlsx", yard);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let bid = sheet(&machine.bytes("rooms.priced.xlsx").unwrap(), "Bid");
    let told =
        "The bid charges what is used; whole pieces and packs cost $0.01 less. Of what is bought $0.00 are left over.";
    assert!(says(&bid, told), "{:#?}", texts(&bid));
    // a book without an edition says none
    assert!(says(&bid, "Rules: house.lid."), "{:#?}", texts(&bid));
}

fn charging(job: &[&[&str]]) -> Memory {
    let yard = workbook(&[(
        "Prices",
        &[
            &["Code", "Sold by", "Pack", "Stock length", "Cost"],
            &["ST", "ea", "", "12'", "6.60"],
            &["SF", "M", "1,000 ea", "", "14.80"],
        ],
    )]);
    let rooms: &[&[&str]] = &[&["Room", "Tee", "Screws"], &["101", "7'", "300"], &["102", "7'", "400"]];
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", rooms), ("Job", job)]))
        .with("house.lid", CHARGING)
        .with("yard.xlsx", yard)
}

/// Room, item or work, cost of each line.
fn cost_lines(bytes: &[u8]) -> Vec<(String, String, f64)> {
    let lines = sheet(bytes, "Lines");
    let (heads, rows) = below_headings(&lines, "Item or work");
    let at = |name: &str| heads.iter().position(|h| h == name).unwrap();
    let cost = |r: &&[calamine::Data]| if let calamine::Data::Float(v) = r[at("Cost ($)")] { Some(v) } else { None };
    let line = |r: &&[calamine::Data]| Some((r[at("Room")].to_string(), r[at("Item or work")].to_string(), cost(r)?));
    rows.iter().filter_map(line).collect()
}

/// Two tees of 7 ft out of 12 ft take a piece each: 13.20, of which 14 ft at 0.55 are used, 3.85 a room; 700 screws at
/// 14.80 a thousand, 4.44 and 5.92, out of a pack of 14.80. Used 18.06, bought 28.00, 9.94 between them. Left over: 10 of
/// 24 ft, 5.50, and 300 of 1,000, 4.44.
#[test]
fn a_bid_charges_what_is_used_or_what_is_bought() {
    let machine = charging(&[]);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let used = [("101", "Tee", 3.85), ("101", "Screw", 4.44), ("102", "Tee", 3.85), ("102", "Screw", 5.92)];
    let used: Vec<_> = used.map(|(room, item, cost)| (room.to_owned(), item.to_owned(), cost)).to_vec();
    assert_eq!(cost_lines(&bytes), used);
    let order = table(&bytes, "Order", &["Code", "Buy", "Left over", "Cost ($)", "Left over ($)"]);
    assert_eq!(order[..2], [["SF", "1", "300", "14.8", "4.44"], ["ST", "2", "10", "13.2", "5.5"]]);
    let bid = sheet(&bytes, "Bid");
    assert!(
        says(
            &bid,
            "The bid charges what is used; whole pieces and packs cost $9.94 more. Of what is bought $9.94 are left over. No waste is added to the quantities of Lines; \
             board that is laid out counts in whole sheets. No price holds any."
        ),
        "{:#?}",
        texts(&bid)
    );
    let machine = charging(&[&["Charge what is bought", "yes"]]);
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let mut bought = used.clone();
    bought.push(("Whole job".to_owned(), "Whole pieces and packs".to_owned(), 9.94));
    assert_eq!(cost_lines(&bytes), bought);
    // 28.00 and 10 % of it
    let bid = sheet(&bytes, "Bid");
    let figure = |label: &str| {
        let row = bid.rows().find(|r| super::is(&r[0], label)).unwrap();
        row.iter().find_map(|c| if let calamine::Data::Float(v) = c { Some(*v) } else { None })
    };
    assert_eq!((figure("Material"), figure("Total")), (Some(28.0), Some(30.8)));
    assert!(says(&bid, "The bid charges what is bought: whole pieces and packs cost $9.94 more than what is used"));
}

/// A unit cost typed by hand, 1.00 a foot, makes its line 7.00 and leaves the difference as it was; one typed beside the
/// difference takes its place, and stays.
#[test]
fn own_figures_live_beside_what_is_bought() {
    let rows = [["101", "Tee", "ST", "ft"], ["Whole job", "Whole pieces and packs", "WHOLE", "lump sum"]];
    for (own, tee, whole) in [((4, 5, 1.0), 7.0, 9.94), ((5, 5, 5.0), 3.85, 5.0)] {
        let machine = charging(&[&["Charge what is bought", "yes"]])
            .with("rooms.priced.xlsx", super::own::earlier(&rows, &[own]));
        for _ in 0..2 {
            assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
            let lines = cost_lines(&machine.bytes("rooms.priced.xlsx").unwrap());
            assert_eq!((lines[0].2, lines[4].2), (tee, whole));
        }
    }
}

/// Names of a yard, read by tables of the house.
const YARD_NAMES: &str = "\
table yard_headings  \"What the yard calls our columns\"
    theirs text, exact | ours text
    \"Stock no.\"        | \"Code\"
    \"Description\"      | \"Item\"
    \"U/M\"              | \"Sold by\"
    \"Lgth.\"            | \"Stock length (ft)\"
    \"Your net\"         | \"Cost\"
    \"Net 5 up\"         | \"Cost from 5\"
end
table yard_codes  \"The yard's codes\"
    theirs text, exact | ours text
    \"77-120\"           | \"ST\"
    \"77-100\"           | \"ST\"
    \"41007\"            | \"SF\"
end
rows rooms  from \"Rooms\"
    id      text    heading \"Room\"  key
    tee     length
    screws  count
    clips   count   otherwise 0
end
for rooms
    item tee    code \"ST\"  cut 1, each tee
    item screw  code \"SF\"  need screws
    item clip   code \"DC\"  need clips
end
for job
    buying  headings by yard_headings  codes by yard_codes
end
";

/// A list as a yard sends it: a title, its own headings and codes, sections between, prices by the foot as text, a price to
/// be asked for.
fn yards_own(clips: &str) -> Memory {
    let list = workbook(&[(
        "2026 net",
        &[
            &["Riverside Supply (invented), net prices"],
            &["Stock no.", "Description", "U/M", "Lgth.", "Your\nnet", "Net 5 up", "Bin"],
            &["STEEL FRAMING"],
            &["77-120", "Span tee 12 ft", "", "12", "55\u{a2}/ft", "", "A3"],
            &["77-100", "Span tee 10 ft", "", "10", "$.60 per lin ft", "", "A3"],
            &["FASTENERS"],
            &["41007", "Framing screw", "M", "", "14.80", "12.00", ""],
            &["DC", "Deck clip", "C", "", "Call for price", "", ""],
        ],
    )]);
    let rooms: &[&[&str]] =
        &[&["Room", "Tee", "Screws", "Clips"], &["101", "11'", "2500", ""], &["102", "10'", "2500", clips]];
    Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", rooms)]))
        .with("house.lid", YARD_NAMES)
        .with("yard.xlsx", list)
}

/// 11 and 10 ft of tee at 0.55, 6.05 and 5.50; out of 12 ft at 6.60 and 10 ft at 6.00. 5,000 screws reach the 12.00 of 5 M:
/// 30.00 a room.
#[test]
fn a_yards_own_list_is_read_by_tables_of_the_house() {
    let machine = yards_own("");
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::Done);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let costs: Vec<f64> = cost_lines(&bytes).into_iter().map(|l| l.2).collect();
    assert_eq!(costs, [6.05, 30.0, 5.5, 30.0]);
    let order = table(&bytes, "Order", &["Code", "Item", "Buy", "Sold as", "Cost ($)"]);
    let expected = [
        ["SF", "Framing screw (yard's 41007)", "5000", "pieces", "60"],
        ["ST", "Span tee 12 ft (yard's 77-120)", "1", "pieces of 12'-0\"", "6.6"],
        ["ST", "Span tee 10 ft (yard's 77-100)", "1", "pieces of 10'-0\"", "6"],
    ];
    assert_eq!(order[..3], expected);
}

/// What has no price stops its room, and never costs nothing.
#[test]
fn a_price_to_be_asked_for_is_no_price() {
    let machine = yards_own("4");
    assert_eq!(hardlid(&machine, "price rooms.xlsx --rules house.lid --prices yard.xlsx"), Ended::WithStops);
    let bytes = machine.bytes("rooms.priced.xlsx").unwrap();
    let checks = sheet(&bytes, "Checks");
    let what = "Clip needs code DC, which cannot be priced. DC has no price: the list says \"Call for price\".";
    assert!(says(&checks, what), "{:#?}", texts(&checks));
    assert_eq!(cost_lines(&bytes).len(), 2);
}

/// A room of 20 × 14 ft over a strongback, priced with the demo's price book, whose tees are 12 ft at most.
fn fourteen_foot_tees(job: &[&[&str]]) -> Vec<u8> {
    let rooms: &[&[&str]] = &[&["Room", "Length", "Width", "Scheme wanted"], &["1", "20'", "14'", "strongbacks"]];
    let machine = Memory::new(Date::new(2026, 3, 2).unwrap())
        .with("rooms.xlsx", workbook(&[("Rooms", rooms), ("Job", job)]))
        .with("yard.xlsx", include_bytes!("../../workbooks/demo-prices.xlsx").as_slice());
    assert_eq!(hardlid(&machine, "price rooms.xlsx --prices yard.xlsx"), Ended::Done);
    machine.bytes("rooms.priced.xlsx").unwrap()
}

fn needs(bytes: &[u8], item: &str) -> f64 {
    let lines = table(bytes, "Lines", &["Room", "Item or work", "Need"]);
    lines.iter().find(|l| l[1] == item).map_or(f64::NAN, |l| l[2].parse().unwrap())
}

/// Tees of 14 ft do not come out of 12 ft: each is two halves past the strongback, 7 ft + 12 in. less 1/16 in.; the half
/// set off 8 in. has a tee more, so 9 + 10 pieces of 95-15/16 in. and 2 screws at each of 9 splices. The strongback of
/// 20 ft out of 16 ft has a lap with its screw.
#[test]
fn the_layout_splices_by_the_stock_of_the_price_book() {
    let bytes = fourteen_foot_tees(&[]);
    assert!((needs(&bytes, "Span tee") - 19.0 * 95.9375 / 12.0).abs() < 1e-9, "{}", needs(&bytes, "Span tee"));
    assert!((needs(&bytes, "Framing screws") - 19.0).abs() < 1e-9);
    assert!(!says(&sheet(&bytes, "Checks"), "joins pieces of ST"));
}

/// Stock of 16 ft on the Job sheet that nobody sells: 9 tees of 13'-11 7/8", each with a joint that the plan makes alone.
#[test]
fn joints_that_nobody_counted_are_said() {
    let bytes = fourteen_foot_tees(&[&["Tee stock", "16'"]]);
    assert!((needs(&bytes, "Span tee") - 9.0 * 167.875 / 12.0).abs() < 1e-9);
    assert!((needs(&bytes, "Framing screws") - 1.0).abs() < 1e-9);
    let checks = sheet(&bytes, "Checks");
    assert!(says(&checks, "joins pieces of ST that are longer than stock, with a scrap over each of 9 joints"));
}

/// Two of 9'-6" take a piece of 10 ft each, 10.00 for 20 ft: 12 ft pieces would be 13.20. Each leaves 6 in., which is scrap
/// where 12 in. are kept; where 6 in. are, 1 ft is left over, 10.00 x 1 / 20 = 0.50. A saw cut of 1/4 in. takes that of
/// each: with 4 in. kept, 5-3/4 in. of each are left, 11.5 in. of 240, 0.479, and 1/2 in. is scrap, 1/24 ft.
#[test]
fn scrap_is_not_left_over() {
    let rooms: &[&[&str]] = &[&["101", "1", "9'-6\"", ""]];
    let cases: [(&[&[&str]], [&str; 4]); 3] = [
        (&[], ["19", "0", "1", "0"]),
        (&[&["Least offcut", "6\""]], ["19", "1", "0", "0.5"]),
        (&[&["Least offcut", "4\""], &["Saw cut", "1/4\""]], ["19", "0.9583333333", "0.0416666667", "0.48"]),
    ];
    for (job, wanted) in cases {
        let bytes = priced(&machine(rooms, job), "base.lid", Ended::Done);
        let order = table(&bytes, "Order", &["Code", "Buy", "Used", "Left over", "Scrap", "Left over ($)", "Cost ($)"]);
        let near =
            |got: &str, wanted: &str| (got.parse::<f64>().unwrap() - wanted.parse::<f64>().unwrap()).abs() < 0.000_001;
        let tee = order.iter().find(|row| row[0] == "ST").unwrap();
        assert!(tee[2..6].iter().zip(wanted).all(|(got, wanted)| near(got, wanted)), "{tee:?}, not {wanted:?}");
        assert_eq!((tee[1].as_str(), tee[6].as_str()), ("2", "10"));
    }
}
