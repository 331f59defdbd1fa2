//! Several stock lengths and suppliers of one code, and the house's rules of cutting, against figures worked by hand.

use super::made::{Book, Made, number};
use hardlid::pricing::{CutList, Found, OrderRow, Priced, order_and_cuts, price_job};
use hardlid::problem::{Weight, render};
use hardlid::program::{Buying, CutBy, Cutting, ItemSplice, Need};
use hardlid::quantity::Number;
use hardlid::source::{Span, Text};
use proptest::prelude::*;

/// 12 ft at 6.60 is 0.55 a foot, 10 ft at 5.00 is 0.50 a foot.
const TWO: &[&[&str]] =
    &[&["ST", "span tee, 12 ft", "ea", "", "12'", "6.60"], &["ST", "span tee, 10 ft", "ea", "", "10'", "5.00"]];

fn ft(n: &str) -> Number {
    number(n).times(&number("304.8")).unwrap()
}

/// Rooms that each need so many pieces of so many feet.
fn cut_job(rooms: &[(&str, &str)]) -> Made {
    let mut job = Made::new(rooms.len());
    let counts: Vec<&str> = rooms.iter().map(|r| r.0).collect();
    let lengths: Vec<&str> = rooms.iter().map(|r| r.1).collect();
    let (count, each) = (job.amount(job.rooms, "ea", &counts), job.amount(job.rooms, "ft", &lengths));
    job.material("tee", "ST", Need::Cut { count, each });
    job
}

fn bought(job: &Made, book: &Book) -> (Priced, Vec<OrderRow>, Vec<CutList>) {
    assert!(book.problems.is_empty(), "{:?}", book.problems);
    let priced = job.price(Some(&**book));
    assert!(priced.findings.is_empty(), "{:?}", priced.findings);
    let (order, cuts) = order_and_cuts(&job.schema, &job.run, &priced, Some(book));
    (priced, order, cuts)
}

/// What is bought of each length: pieces, what they are, feet used, feet left over, cents.
fn rows(order: &[OrderRow]) -> Vec<(String, &str, String, String, i64)> {
    let text = |n: &Number| n.to_decimal().normalize().to_string();
    let row = |r: &'_ OrderRow| (text(&r.buy), text(&r.used), text(&r.left_over), r.cost.unwrap());
    order.iter().map(|r| (row(r), r.sold_as.as_str())).map(|((b, u, l, c), s)| (b, s, u, l, c)).collect()
}

fn costs(priced: &Priced) -> Vec<i64> {
    priced.lines.iter().filter_map(|l| l.cost).collect()
}

#[test]
fn lines_are_priced_by_the_cheapest_foot_and_the_order_buys_what_is_cut() {
    // four of 10 ft and three of 12 ft: each comes out of its own length, 20.00 and 19.80. Lines at 0.50 a foot: 40 and 36 ft
    let job = cut_job(&[("4", "10"), ("3", "12")]);
    let (priced, order, cuts) = bought(&job, &Book::prices(TWO));
    assert_eq!(costs(&priced), [2_000, 1_800]);
    assert_eq!(
        rows(&order),
        [
            ("3".into(), "pieces of 12'-0\"", "36".into(), "0".into(), 1_980),
            ("4".into(), "pieces of 10'-0\"", "40".into(), "0".into(), 2_000)
        ]
    );
    // 76 ft are more than six pieces of 12 ft
    assert_eq!((cuts[0].used, cuts[0].at_least), (7, 7));
    assert_eq!(cuts[0].cost, Some((number("39.8"), number("39.8"))));
    let stocks: Vec<(Number, i64)> = cuts[0].patterns.iter().map(|p| (p.stock, p.times)).collect();
    assert_eq!(stocks, [(ft("12"), 3), (ft("10"), 4)]);
}

/// 7 and 5 ft fill 12 ft: six at 6.60 are 39.60. Out of 10 ft a seven takes a piece alone, 5.00, and two fives share one,
/// 2.50 each: 7.50 a pair, dearer than 6.60.
#[test]
fn a_dearer_foot_is_bought_where_it_wastes_less() {
    let job = cut_job(&[("6", "7"), ("6", "5")]);
    let (priced, order, cuts) = bought(&job, &Book::prices(TWO));
    assert_eq!(costs(&priced), [2_100, 1_500]);
    assert_eq!(rows(&order), [("6".into(), "pieces of 12'-0\"", "72".into(), "0".into(), 3_960)]);
    assert_eq!(cuts[0].cost, Some((number("39.6"), number("39.6"))));
}

#[test]
fn of_equals_the_first_in_the_sheet_prices_lines() {
    // 6.00 for 12 ft and 5.00 for 10 ft are both 0.50 a foot
    let rows: &[&[&str]] = &[&["ST", "long", "ea", "", "12'", "6.00"], &["ST", "short", "ea", "", "10'", "5.00"]];
    let (priced, ..) = bought(&cut_job(&[("1", "10")]), &Book::prices(rows));
    assert_eq!((&*priced.prices[0].item, priced.prices[0].prices_lines), ("long", true));
    let turned: Vec<&[&str]> = rows.iter().rev().copied().collect();
    let (priced, order, _) = bought(&cut_job(&[("1", "10")]), &Book::prices(&turned));
    assert_eq!((&*priced.prices[0].item, &*order[0].item), ("short", "short"));
}

/// What is needed by the foot goes into the length that costs least a foot, its rest into the cheapest piece that is long
/// enough: 31 ft are two of 12 ft (0.50 a foot) and 7 ft, for which 10 ft at 5.20 is cheaper than 12 ft at 6.00.
#[test]
fn feet_are_bought_in_the_cheapest_length_and_a_rest() {
    let mut job = Made::new(1);
    let need = job.amount(job.rooms, "ft", &["31"]);
    job.material("angle", "PA", Need::Amount(need));
    let book = Book::prices(&[&["PA", "", "ea", "", "12'", "6.00"], &["PA", "", "ea", "", "10'", "5.20"]]);
    let (priced, order, cuts) = bought(&job, &book);
    assert_eq!((costs(&priced), cuts.len()), (vec![1_550], 0));
    assert_eq!(
        rows(&order),
        [
            ("2".into(), "pieces of 12'-0\"", "24".into(), "0".into(), 1_200),
            ("1".into(), "pieces of 10'-0\"", "7".into(), "3".into(), 520)
        ]
    );
}

/// Ten of 12 ft with 20 % waste are 144 ft. The plan takes ten of 12 ft; the 24 ft beyond it go into the cheapest foot, the
/// 10 ft at 0.50: two, and 4 ft for which another 10 ft at 5.00 is cheaper than 12 ft at 6.60.
#[test]
fn waste_beyond_the_plan_is_bought_too() {
    let mut job = cut_job(&[("10", "12")]);
    job.schema.items[0].waste = Some(job.percent(job.rooms, &["20%"]));
    let (_, order, _) = bought(&job, &Book::prices(TWO));
    assert_eq!(
        rows(&order),
        [
            ("10".into(), "pieces of 12'-0\"", "120".into(), "0".into(), 6_600),
            ("3".into(), "pieces of 10'-0\"", "24".into(), "6".into(), 1_500)
        ]
    );
}

#[test]
fn a_count_does_not_say_which_length() {
    let mut job = Made::new(1);
    let need = job.amount(job.rooms, "ea", &["3"]);
    job.material("tee", "ST", Need::Amount(need));
    let priced = job.price(Some(&*Book::prices(TWO)));
    let problem = &priced.findings[0].problem;
    // the rule, the two prices and the room
    assert_eq!((priced.stopped, problem.kind, problem.places.len()), (1, "stock length not said", 4));
    assert_eq!(
        problem.what,
        "Tee is needed by count, and ST comes in several stock lengths: 12'-0\", 10'-0\". It is not said which of them is \
         meant."
    );
}

/// Beside rows that are choices: what cannot be told apart, or not compared, stays a contradiction, found when read.
#[test]
fn rows_that_are_no_choices_are_named_with_their_cells() {
    let tee = |stock: &'static str, sold: &'static str, cost: &'static str, yard: &'static str| {
        ["ST", "tee", sold, "", stock, cost, "", "", yard, ""]
    };
    for (other, why) in [
        (tee("12'", "ea", "7.00", "North"), "the same length from the same supplier"),
        (tee("144\"", "ea", "7.00", "NORTH"), "the same, spelled otherwise"),
        (tee("", "ea", "7.00", "North"), "no stock length beside one"),
        (tee("10'", "MLF", "700", "North"), "sold by the foot beside pieces"),
        (tee("10'", "ea", "7.00", ""), "no supplier beside one"),
    ] {
        let first = tee("12'", "ea", "6.60", "North");
        let book = Book::prices(&[&first, &other]);
        assert_eq!(book.price("ST"), Found::Several(vec![0, 1]), "{why}");
        assert_eq!(book.problems.len(), 1, "{why}: {:?}", book.problems);
        let (problem, text) = (&book.problems[0], render::for_people(&book.problems[0]));
        assert_eq!((problem.kind, problem.weight), ("two prices in force", Weight::Warning), "{why}");
        assert!(text.contains("Prices!F2") && text.contains("Prices!F3"), "{why}: {text}");
        let priced = cut_job(&[("1", "5")]).price(Some(&*book));
        assert_eq!((priced.stopped, priced.findings[0].problem.kind), (1, "two prices in force"), "{why}");
    }
    let choices =
        [tee("12'", "ea", "6.60", "North"), tee("12'", "MLF", "540", "South"), tee("10'", "ea", "5", "North")];
    let book = Book::prices(&[&choices[0], &choices[1], &choices[2]]);
    assert_eq!((book.problems.len(), book.price("ST")), (0, Found::Choices(vec![0, 1, 2])));
}

#[test]
fn a_mistake_in_one_length_stops_what_needs_the_code() {
    for (cost, kind) in [("-5", "cost below zero"), ("five", "unreadable cost"), ("", "no cost")] {
        let book = Book::prices(&[TWO[0], &["ST", "span tee, 10 ft", "ea", "", "10'", cost]]);
        assert!(book.problems.iter().any(|p| p.kind == kind && render::for_people(p).contains("F3")), "{cost}");
        let priced = cut_job(&[("1", "5")]).price(Some(&*book));
        assert_eq!((priced.stopped, priced.findings[0].problem.kind), (1, "price row not usable"), "{cost}");
    }
}

/// Of two suppliers the cheaper one: 540 for a thousand feet is 0.54 a foot, below 0.55.
#[test]
fn the_cheaper_supplier_serves() {
    let book = Book::prices(&[
        &["ST", "tee", "ea", "", "12'", "6.60", "", "", "North", ""],
        &["ST", "tee", "MLF", "", "12'", "540", "", "", "South", ""],
        &["SF", "screws", "M", "", "", "14.80", "", "", "North", ""],
        &["SF", "screws", "C", "", "", "1.40", "", "", "South", ""],
    ]);
    let mut job = cut_job(&[("2", "12")]);
    let screws = job.amount(job.rooms, "ea", &["100"]);
    job.material("screw", "SF", Need::Amount(screws));
    let (priced, order, _) = bought(&job, &book);
    // 24 ft at 0.54 are 12.96; 100 screws 1.40, not 1.48
    assert_eq!(costs(&priced), [1_296, 140]);
    let bought: Vec<_> = order.iter().map(|r| (&*r.code, r.supplier.as_deref(), r.cost)).collect();
    assert_eq!(bought, [("SF", Some("South"), Some(140)), ("ST", Some("South"), Some(1_296))]);
}

/// The supplier that goes first does where it sells a thing; the one that alone serves stops what it does not sell.
#[test]
fn a_house_buys_first_or_only_from_one_supplier() {
    let book = Book::prices(&[
        &["ST", "tee", "ea", "", "12'", "6.60", "", "", "North", ""],
        &["ST", "tee", "ea", "", "12'", "6.00", "", "", "South", ""],
        &["SF", "screws", "M", "", "", "14.80", "", "", "South", ""],
    ]);
    let mut job = cut_job(&[("2", "12")]);
    let screws = job.amount(job.rooms, "ea", &["100"]);
    job.material("screw", "SF", Need::Amount(screws));
    let (north, west) = (job.text(job.job, &[" north"]), job.text(job.job, &["Nort"]));
    let text = Text::new("rules.lid", "buying\n");
    let (headings, codes) = (Vec::new(), Vec::new());
    let rule = Buying {
        first: Some(north),
        only: None,
        charging: None,
        headings,
        codes,
        source: None,
        text,
        span: Span::new(0, 6),
    };
    job.schema.buying = Some(rule.clone());
    let (priced, order, _) = bought(&job, &book);
    // 24 ft at 0.55 a foot; screws are South's alone
    assert_eq!(costs(&priced), [1_320, 148]);
    let from: Vec<_> = order.iter().map(|r| (&*r.code, r.supplier.as_deref(), r.cost)).collect();
    assert_eq!(from, [("SF", Some("South"), Some(148)), ("ST", Some("North"), Some(1_320))]);
    job.schema.buying = Some(Buying { first: None, only: Some(north), ..rule.clone() });
    let priced = job.price(Some(&*book));
    assert_eq!((priced.stopped, priced.findings[0].problem.kind), (1, "not sold by the supplier"));
    assert_eq!(
        priced.findings[0].problem.what,
        "Screw needs code SF, and the job buys from north only: book.xlsx has it from South."
    );
    job.schema.buying = Some(Buying { first: None, only: Some(west), ..rule });
    let priced = job.price(Some(&*book));
    assert_eq!(priced.findings[0].problem.fix.as_deref(), Some("the nearest supplier there is North"));
}

fn rule(by: CutBy) -> Cutting {
    let text = Text::new("rules.lid", "cutting\n");
    Cutting { by, kerf: None, keep: None, source: None, text, span: Span::new(0, 7) }
}

/// 7 ft on one level and 5 ft on the other fill one piece of 12 ft; level by level, and room by room, they take one each.
#[test]
fn levels_and_rooms_are_cut_by_themselves_where_the_house_says_so() {
    let book = Book::prices(&TWO[..1]);
    let mut job = cut_job(&[("1", "7"), ("1", "5"), ("1", "4")]);
    let (_, order, cuts) = bought(&job, &book);
    // 7 + 5 and 4 ft: 16 ft are more than one piece
    assert_eq!((cuts.len(), cuts[0].used, cuts[0].group.as_deref(), order[0].buy), (1, 2, None, 2.into()));
    let level = job.text(job.rooms, &["2", "3", " 2"]);
    job.schema.fields[level.0 as usize].label = "Level".to_owned();
    job.schema.cutting = Some(rule(CutBy::Field(level)));
    let (_, order, cuts) = bought(&job, &book);
    // 7 + 4 ft on level 2; 5 ft on level 3
    let told: Vec<_> = cuts.iter().map(|c| (c.group.as_deref(), c.used, c.at_least)).collect();
    assert_eq!(told, [(Some("level 2"), 1, 1), (Some("level 3"), 1, 1)]);
    assert_eq!(cuts[0].patterns[0].offcut, ft("1"));
    assert_eq!(order[0].buy, 2.into());
    job.schema.cutting = Some(rule(CutBy::Rows));
    let (_, order, cuts) = bought(&job, &book);
    let told: Vec<_> = cuts.iter().map(|c| (c.group.as_deref(), c.used)).collect();
    assert_eq!(told, [(Some("room R0"), 1), (Some("room R1"), 1), (Some("room R2"), 1)]);
    assert_eq!((order.len(), order[0].buy), (1, 3.into()));
}

/// Two of 6 ft are one piece of 12 ft; with a cut of 1/8 in. between them they are not. Of 11'-6" are left 6 in., scrap
/// where 12 in. are kept.
#[test]
fn a_saw_cut_takes_its_width_and_short_offcuts_are_scrap() {
    let book = Book::prices(&TWO[..1]);
    let mut job = cut_job(&[("2", "6"), ("1", "11.5")]);
    let (_, order, cuts) = bought(&job, &book);
    assert_eq!(order[0].buy, 2.into());
    assert!(cuts[0].patterns.iter().any(|p| p.offcut == ft("0.5") && p.kept));
    let (kerf, keep) = (job.amount(job.job, "in", &["0.125"]), job.amount(job.job, "in", &["12"]));
    job.schema.cutting = Some(Cutting { kerf: Some(kerf), keep: Some(keep), ..rule(CutBy::WholeJob) });
    let (_, order, cuts) = bought(&job, &book);
    assert_eq!((order[0].buy, cuts[0].at_least), (3.into(), 3));
    // 144 - 138 - 1/8 = 5-7/8 in.; 144 - 72 - 1/8 = 71-7/8 in.
    let mut offcuts: Vec<(Number, bool)> = cuts[0].patterns.iter().map(|p| (p.offcut, p.kept)).collect();
    offcuts.sort();
    assert_eq!(offcuts, [(number("149.225"), false), (number("1825.625"), true)]);
}

/// 20 ft out of 12 ft with a lap of 4 in.: 144 in. and 240 - 140 = 100 in. With a scrap of 10 in. over the joint of an end
/// to end splice: 144, 96 and 10 in.; 96 + 10 come out of one piece.
#[test]
fn what_is_longer_than_stock_is_spliced_where_the_rule_allows_it() {
    let book = Book::prices(&TWO[..1]);
    let mut job = cut_job(&[("1", "20")]);
    let (lap, scrap) = (job.amount(job.job, "in", &["4"]), job.amount(job.job, "in", &["10"]));
    job.schema.items[0].splice = Some(ItemSplice { lap: Some(lap), ..ItemSplice::default() });
    let inches = |cuts: &[CutList]| -> Vec<Vec<(Number, i64)>> {
        let inch = number("25.4");
        let pieces = |p: &hardlid::pricing::CutPattern| {
            p.pieces.iter().map(|p| (p.length.over(&inch).unwrap(), p.count)).collect()
        };
        cuts[0].patterns.iter().map(pieces).collect()
    };
    let (priced, order, cuts) = bought(&job, &book);
    assert_eq!(inches(&cuts), [[(144.into(), 1)], [(100.into(), 1)]]);
    assert_eq!((cuts[0].spliced, cuts[0].joints, cuts[0].at_least), (1, 1, 2));
    // the line is priced by what is needed, 20 ft at 0.55
    assert_eq!((costs(&priced), order[0].buy), (vec![1_100], 2.into()));
    job.schema.items[0].splice = Some(ItemSplice { scrap: Some(scrap), ..ItemSplice::default() });
    let (_, order, cuts) = bought(&job, &book);
    assert_eq!(inches(&cuts), [vec![(144.into(), 1)], vec![(96.into(), 1), (10.into(), 1)]]);
    assert_eq!(order[0].buy, 2.into());
    // the parts come out of the longest length on offer, whatever a foot of it costs
    job.schema.items[0].splice = Some(ItemSplice { lap: Some(lap), ..ItemSplice::default() });
    let (_, order, _) = bought(&job, &Book::prices(TWO));
    // 144 in. out of 12 ft at 6.60, 100 in. out of 10 ft at 5.00
    assert_eq!(order.iter().map(|r| r.cost.unwrap()).collect::<Vec<_>>(), [660, 500]);
}

#[test]
fn what_is_longer_than_every_stock_and_may_not_be_spliced_stops_its_room() {
    let book = Book::prices(TWO);
    let mut job = cut_job(&[("2", "20"), ("1", "12"), ("0", "20")]);
    let priced = job.price(Some(&*book));
    assert_eq!((priced.stopped, costs(&priced)), (1, vec![600]));
    let problem = &priced.findings[0].problem;
    assert_eq!((priced.findings.len(), problem.kind, problem.weight), (1, "piece longer than stock", Weight::Stop));
    assert_eq!(
        problem.what,
        "Tee of room R0 has a piece of 20'-0\", longer than the longest stock of ST, 12'-0\", and it may not be spliced."
    );
    assert!(render::for_people(problem).contains("rooms.xlsx, Rooms row 2"), "{}", render::for_people(problem));
    // a lap as long as the stock gains nothing
    let lap = job.amount(job.job, "ft", &["12"]);
    job.schema.items[0].splice = Some(ItemSplice { lap: Some(lap), ..ItemSplice::default() });
    let priced = job.price(Some(&*book));
    assert!(priced.findings[0].problem.what.ends_with("and no parts of it would do for the splice that is allowed."));
    // without a price book nothing is known of stock
    assert_eq!(job.price(None).stopped, 0);
}

#[test]
fn a_rule_of_cutting_without_a_value_stops_the_job() {
    let book = Book::prices(TWO);
    let mut job = cut_job(&[("1", "10")]);
    for (kerf, kind) in [("?", "missing value"), ("-1", "length below zero")] {
        let kerf = job.amount(job.job, "in", &[kerf]);
        job.schema.cutting = Some(Cutting { kerf: Some(kerf), ..rule(CutBy::WholeJob) });
        let mut priced = job.price(Some(&*book));
        price_job(&job.schema, &job.run, &job.inputs, Some(&book), &super::made::Plain, &[], &mut priced);
        assert_eq!((priced.stopped, priced.total, priced.findings[0].problem.kind), (1, None, kind));
    }
}

/// Breaks and minimum orders as they come: each mistake names its cell, and the row stops what needs it.
#[test]
fn mistakes_at_breaks_and_minimum_orders_name_their_cells() {
    let heads: &[&str] = &["Code", "Sold by", "Pack", "Cost", "Cost from 100", "Cost from 500", "Minimum order"];
    for (row, kind, place) in [
        (["ST", "lf", "", "1.00", "-0.90", "", ""], "cost below zero", "E2"),
        (["ST", "lf", "", "1.00", "cheap", "", ""], "unreadable cost", "E2"),
        (["ST", "lf", "", "1.00", "", "10%", ""], "unreadable cost", "F2"),
        (["ST", "lf", "", "1.00", "$90/C", "", ""], "unit does not fit", "E2"),
        (["ST", "lf", "", "1.00", "0.90", "", "-5"], "unreadable minimum order", "G2"),
        (["ST", "lf", "", "1.00", "0.90", "", "5 ea"], "unreadable minimum order", "G2"),
        (["ST", "roll", "0 ft", "1.00", "0.90", "", ""], "unreadable pack", "C2"),
    ] {
        let book = Book::read(&[("Prices", &[heads, &row])]);
        let told =
            |p: &hardlid::problem::Problem| p.kind == kind && render::for_people(p).contains(&format!("!{place}"));
        assert!(book.problems.iter().any(told), "{row:?}: {:?}", book.problems);
        let priced = cut_job(&[("1", "5")]).price(Some(&*book));
        assert_eq!((priced.stopped, priced.findings[0].problem.kind), (1, "price row not usable"), "{row:?}");
    }
    // 5 C lf are 500 ft; a break that costs more is a warning, and the row prices
    let book = Book::read(&[("Prices", &[heads, &["ST", "lf", "", "1.00", "$1.20/ft", "$80/CLF", "5 CLF"]])]);
    assert_eq!(book.problems.iter().map(|p| p.kind).collect::<Vec<_>>(), ["break costs more"]);
    let breaks: Vec<(Number, Number)> = book.prices[0].breaks.iter().map(|b| (b.from, b.cost)).collect();
    assert_eq!(breaks, [(100.into(), number("1.2")), (500.into(), number("0.8"))]);
    assert_eq!(book.prices[0].least, Some(500.into()));
    // columns out of order are told and put in order; a quantity stated twice is left out; a date is no quantity
    let heads: &[&str] = &["Code", "Sold by", "Cost", "Price from 1,000 ($)", "From 50", "Cost from 50", "From"];
    let book = Book::read(&[("Prices", &[heads, &["ST", "lf", "1.00", "0.80", "0.90", "0.70", "2025-01-01"]])]);
    let told: Vec<_> = book.problems.iter().map(|p| p.kind).collect();
    assert_eq!(told, ["breaks out of order", "break stated twice"]);
    let breaks: Vec<(Number, Number)> = book.prices[0].breaks.iter().map(|b| (b.from, b.cost)).collect();
    assert_eq!(breaks, [(50.into(), number("0.9")), (1000.into(), number("0.8"))]);
    assert!(book.prices[0].from.is_some());
}

/// Of two lengths or suppliers the one with a price serves; titles and prices to be asked for are told once each.
#[test]
fn a_price_to_be_asked_for_leaves_the_others_on_offer() {
    let book = Book::prices(&[
        &["TEES"],
        &["ST", "tee", "ea", "", "12'", "6.60", "", "", "North", ""],
        &["ST", "tee", "ea", "", "10'", "call", "", "", "North", ""],
        &["ST", "tee", "ea", "", "12'", "C.F.P.", "", "", "South", ""],
        &["PA", "angle", "", "", "", "on request", "", "", "North", ""],
    ]);
    let told: Vec<(&str, Weight, usize)> = book.problems.iter().map(|p| (p.kind, p.weight, p.places.len())).collect();
    assert_eq!(told, [("titles left out", Weight::Note, 1), ("no price", Weight::Warning, 3)]);
    assert_eq!(book.problems[1].what, "3 rows have no price, since the list says to ask for it: ST, ST, PA.");
    let job = cut_job(&[("1", "8")]);
    let priced = job.price(Some(&*book));
    // 8 ft at 0.55
    assert_eq!((priced.stopped, costs(&priced)), (0, vec![440]));
    let (order, _) = order_and_cuts(&job.schema, &job.run, &priced, Some(&book));
    assert_eq!(rows(&order), [("1".into(), "pieces of 12'-0\"", "8".into(), "4".into(), 660)]);
    // from the one supplier that has no price, nothing
    let mut job = cut_job(&[("1", "8")]);
    let south = job.text(job.job, &["South"]);
    let (headings, codes, text) = (Vec::new(), Vec::new(), Text::new("rules.lid", "buying\n"));
    job.schema.buying = Some(Buying {
        first: None,
        only: Some(south),
        charging: None,
        headings,
        codes,
        source: None,
        text,
        span: Span::new(0, 6),
    });
    let priced = job.price(Some(&*book));
    assert_eq!((priced.stopped, priced.findings[0].problem.kind), (1, "price row not usable"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Whatever the pieces and the costs: every piece is cut once, none overruns its stock, what is bought is what the plan
    /// takes and pays for, and no single length would have been cheaper.
    #[test]
    fn several_lengths_are_never_dearer_than_one(
        rooms in proptest::collection::vec((1u32..6, 1u32..20), 1..5), long in 300i64..900, short in 300i64..900,
        kerf in 0u32..3,
    ) {
        // half feet, up to 9'-6"; 12 and 10 ft at so many cents
        let rooms: Vec<(String, String)> =
            rooms.iter().map(|(n, halves)| (n.to_string(), format!("{}.{}", halves / 2, 5 * (halves % 2)))).collect();
        let rooms: Vec<(&str, &str)> = rooms.iter().map(|(n, l)| (n.as_str(), l.as_str())).collect();
        let cost = |cents: i64| format!("{}.{:02}", cents / 100, cents % 100);
        let (long, short) = (cost(long), cost(short));
        let lengths: [&[&str]; 2] = [&["ST", "", "ea", "", "12'", &long], &["ST", "", "ea", "", "10'", &short]];
        let mut job = cut_job(&rooms);
        let eighths = job.amount(job.job, "in", &[&format!("0.{:03}", kerf * 125)]);
        job.schema.cutting = Some(Cutting { kerf: Some(eighths), ..rule(CutBy::WholeJob) });
        let (_, order, cuts) = bought(&job, &Book::prices(&lengths));
        let kerf = number("3.175").times(&i64::from(kerf).into()).unwrap();
        let mut cut: std::collections::BTreeMap<Number, i64> = std::collections::BTreeMap::new();
        for pattern in &cuts[0].patterns {
            let mut used = pattern.offcut;
            let mut pieces = 0;
            for piece in &pattern.pieces {
                *cut.entry(piece.length).or_default() += piece.count * pattern.times;
                used = used.plus(&piece.length.times(&piece.count.into()).unwrap()).unwrap();
                pieces += piece.count;
            }
            // a cut between each two pieces at least, and one more before an offcut
            prop_assert!(used.plus(&kerf.times(&(pieces - 1).into()).unwrap()).unwrap() <= pattern.stock);
        }
        let mut wanted: std::collections::BTreeMap<Number, i64> = std::collections::BTreeMap::new();
        for (n, feet) in &rooms {
            *wanted.entry(ft(feet)).or_default() += n.parse::<i64>().unwrap();
        }
        prop_assert_eq!(cut, wanted);
        let total = |order: &[OrderRow]| order.iter().map(|r| r.cost.unwrap()).sum::<i64>();
        let (paid, least) = cuts[0].cost.unwrap();
        prop_assert_eq!(paid.cents().unwrap(), total(&order));
        prop_assert!(least <= paid);
        for one in lengths {
            let (_, alone, _) = bought(&job, &Book::prices(&[one]));
            prop_assert!(total(&order) <= total(&alone));
        }
    }
}
