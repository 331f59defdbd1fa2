//! Price books as people type them, lines to the cent, and the order list, against figures from outside.

#![allow(clippy::unwrap_used, reason = "a test that cannot build its job has failed")]

#[path = "pricing/made.rs"]
mod made;
#[path = "pricing/options.rs"]
mod options;
#[path = "pricing/stock.rs"]
mod stock;

use hardlid::engine::Data;
use hardlid::pricing::{Found, Priced, late_checks, order_and_cuts, order_list, price_job, price_lines};
use hardlid::problem::{Weight, render};
use hardlid::program::{ItemSplice, LineKind, MessagePart, Need, Outcome, Type};
use hardlid::quantity::unit::UNITS;
use hardlid::quantity::{Decimal, Dimension, Number, Unit};
use made::{Book, Made, cell, day, number};
use proptest::prelude::*;

/// A job of one room that needs one amount of code `X`, with waste where given, against one price row.
fn one(need: &str, unit: &str, waste: Option<&str>, price: &[&str]) -> (Made, Priced, Book) {
    let mut job = Made::new(1);
    let need = job.amount(job.rooms, unit, &[need]);
    let item = job.material("thing", "X", Need::Amount(need));
    if let Some(waste) = waste {
        let waste = job.percent(job.rooms, &[waste]);
        job.schema.items[item].waste = Some(waste);
    }
    let book = Book::prices(&[price]);
    let priced = job.price(Some(&*book));
    (job, priced, book)
}

fn cents(need: &str, unit: &str, waste: Option<&str>, price: &[&str]) -> i64 {
    let (_, priced, _) = one(need, unit, waste, price);
    assert!(priced.findings.is_empty(), "{:?}", priced.findings);
    priced.lines[0].cost.unwrap()
}

/// 7 × 0.115 = 0.805, and halves go away from zero: 81 cents, in every unit that a price can be written in.
/// (3-notation, "Values"; binary floating point makes 80 of it.)
#[test]
fn seven_at_eleven_and_a_half_cents_is_81_in_every_unit() {
    let sold = [Dimension::NONE, Dimension::LENGTH, Dimension::AREA, Dimension::VOLUME, Dimension::FORCE];
    let mut tried = 0;
    for name in UNITS.iter().filter(|u| sold.contains(&u.dimension)).flat_map(|u| u.names) {
        assert_eq!(cents("7", name, None, &["X", "thing", name, "", "", "0.115"]), 81, "{name}");
        tried += 1;
    }
    assert!(tried > 40);
    for (need, sold_by, cost) in [
        ("ft", "CLF", "11.5"),
        ("ft", "MLF", "115"),
        ("ft", "mlf", "$115/MLF"),
        ("ft", "lf", "$115/MLF"),
        ("ft", "", "$115 per MLF"),
        ("ft", "yd", "0.345"),
        ("in", "ft", "1.38"),
        ("sf", "CSF", "11.5"),
        ("sf", "MSF", "115"),
        ("sf", "sy", "1.035"),
        ("ea", "C", "11.5"),
        ("ea", "M", "115"),
        ("lb", "ton", "230"),
        ("mm", "m", "115"),
    ] {
        assert_eq!(cents("7", need, None, &["X", "thing", sold_by, "", "", cost]), 81, "{need} {sold_by} {cost}");
    }
    // packs and stock lengths: 7 ft of a 10 ft piece at 1.15, of a 500 ft roll at 57.50; 7 of a carton of 1,000 at 115
    assert_eq!(cents("7", "ft", None, &["X", "thing", "ea", "", "10'", "1.15"]), 81);
    assert_eq!(cents("7", "ft", None, &["X", "thing", "roll", "500 ft", "", "57.50"]), 81);
    assert_eq!(cents("7", "ea", None, &["X", "thing", "carton", "1000 ea", "", "115"]), 81);
    assert_eq!(cents("7", "ft", None, &["X", "thing", "ea", "", "3' 6\"", "0.115/ft"]), 81);
}

#[test]
fn a_price_in_metres_multiplies_first_and_divides_once() {
    // 10 ft = 3.048 m; × 0.625 = 1.905: 191 cents, half away from zero
    assert_eq!(cents("10", "ft", None, &["X", "thing", "m", "", "", "0.625"]), 191);
    // a third of a foot three times over: 4 in. at 0.015 a foot is 0.005, one cent
    assert_eq!(cents("4", "in", None, &["X", "thing", "lf", "", "", "0.015"]), 1);
}

/// 3-notation, "Traps": 10,000 lines of $0.005 are $100.00, because each line is rounded.
#[test]
fn ten_thousand_lines_of_half_a_cent_are_a_hundred_dollars() {
    let mut job = Made::new(10_000);
    let need = job.amount(job.rooms, "ea", &["1"; 10_000]);
    job.material("thing", "X", Need::Amount(need));
    let priced = job.price(Some(&*Book::prices(&[&["X", "thing", "ea", "", "", "0.005"]])));
    assert_eq!((priced.lines.len(), priced.material, priced.total), (10_000, 10_000, Some(10_000)));
}

/// Numbers that leave 64 bits go the way of exact numbers, and come to the same cents.
#[test]
fn wide_columns_price_like_fixed_ones() {
    let mut job = Made::new(3);
    let fixed = job.amount(job.rooms, "mm", &["2133.6", "1066.8", "304.8"]);
    let wide = job.wide(job.rooms, "mm", &["2133.6", "1066.8", "304.8"]);
    assert!(matches!(job.run.column(wide).chunks[0].data, Data::Wide(_)));
    job.material("fixed", "X", Need::Amount(fixed));
    job.material("wide", "X", Need::Amount(wide));
    let priced = job.price(Some(&*Book::prices(&[&["X", "thing", "MLF", "", "", "115"]])));
    // 7 ft 0.805, 3.5 ft 0.4025, 1 ft 0.115
    let costs: Vec<i64> = priced.lines.iter().filter_map(|l| l.cost).collect();
    assert_eq!(costs, [81, 81, 40, 40, 12, 12]);
}

/// Bangladesh PWD schedule breakup 18.7.3.3: a 10 × 10 ft ceiling (5-outside-checks, section 4).
#[test]
fn pwd_ceiling_breakup() {
    assert_eq!(cents("100", "sf", Some("0.05"), &["X", "board", "sf", "", "", "560"]), 5_880_000);
    assert_eq!(cents("50", "ft", Some("0.05"), &["X", "main runner", "lf", "", "", "28"]), 147_000);
    assert_eq!(cents("50", "ft", Some("0.05"), &["X", "cross tee", "lf", "", "", "24"]), 126_000);
    assert_eq!(cents("40", "ft", None, &["X", "wall angle", "lf", "", "", "23"]), 92_000);
}

fn bought(need: &str, unit: &str, waste: Option<&str>, price: &[&str]) -> (String, String, String, Option<i64>) {
    let (job, priced, book) = one(need, unit, waste, price);
    let order = order_list(&job.schema, &job.run, &priced, Some(&book));
    let text = |n: &Number| n.to_decimal().normalize().to_string();
    assert_eq!(order.len(), 1, "{:?}", priced.findings);
    (text(&order[0].buy), order[0].sold_as.clone(), text(&order[0].left_over), order[0].cost)
}

/// Dagostino & Peterson, Example 16-2: 7,000 sf take 2,660 lf of tape + 10 % in 50 ft rolls, 35 gal, 7,000 screws.
#[test]
fn example_16_2_is_bought_in_rolls_pails_and_cartons() {
    // 2,660 × 1.1 = 2,926 ft; 59 rolls are 2,950 ft
    let tape = bought("2660", "ft", Some("0.10"), &["X", "tape", "roll", "50 ft", "", "2.00"]);
    assert_eq!(tape, ("59".into(), "roll of 50 ft".into(), "24".into(), Some(11_800)));
    let compound = bought("35", "gal", None, &["X", "compound", "pail", "5 gal", "", "18"]);
    assert_eq!(compound, ("7".into(), "pail of 5 gal".into(), "0".into(), Some(12_600)));
    let screws = bought("7000", "ea", None, &["X", "screws", "M", "5000 ea", "", "9"]);
    assert_eq!(screws, ("2".into(), "packs of 5000 ea".into(), "3000".into(), Some(9_000)));
}

/// Example 16-3: 38 sheets + 5 % = 39.9 → 40; 112 + 5 % = 117.6 → 118; and by area, 1,200 sf + 5 % of 32 sf sheets → 40.
#[test]
fn example_16_3_is_bought_in_sheets() {
    let sheet = ["X", "board", "ea", "32 sf", "", "11.20"];
    assert_eq!(bought("38", "ea", Some("0.05"), &sheet).0, "40");
    assert_eq!(bought("112", "ea", Some("5%"), &sheet).0, "118");
    let by_area = bought("1200", "sf", Some("0.05"), &sheet);
    assert_eq!(by_area, ("40".into(), "pieces of 32 sf".into(), "20".into(), Some(44_800)));
    // the same sheets priced by the thousand square feet: 350 × 0.032 = 11.20 a sheet
    let by_msf = bought("1200", "sf", Some("0.05"), &["X", "board", "MSF", "4' x 8'", "", "350"]);
    assert_eq!(by_msf, ("40".into(), "packs of 4' x 8'".into(), "20".into(), Some(44_800)));
}

/// The same book, p. 199: track 650'-8" + 8 % in 20 ft = 36 pieces; 41'-4" + 8 % = 3 pieces.
#[test]
fn track_of_page_199_is_bought_in_pieces() {
    let track = ["X", "track", "MLF", "", "20'", "400"];
    assert_eq!(bought("7808", "in", Some("0.08"), &track).0, "36");
    let (buy, sold_as, _, cost) = bought("496", "in", Some("0.08"), &track);
    // 20 ft at 400 a thousand feet is 8.00
    assert_eq!((buy.as_str(), sold_as.as_str(), cost), ("3", "pieces of 20'-0\"", Some(2_400)));
}

#[test]
fn a_purchase_is_rounded_up_once_for_the_job() {
    // ten rooms of 4 ft: 40 ft are four 10 ft pieces, not ten
    let mut job = Made::new(10);
    let need = job.amount(job.rooms, "ft", &["4"; 10]);
    job.material("angle", "X", Need::Amount(need));
    let book = Book::prices(&[&["x ", "angle", "ea", "", "10'", "5", "", "", "Yard", "3.5"]]);
    let priced = job.price(Some(&*book));
    let order = order_list(&job.schema, &job.run, &priced, Some(&book));
    assert_eq!((order[0].buy, order[0].cost, order[0].weight), (4.into(), Some(2_000), Some(14.into())));
    assert_eq!(order[0].supplier.as_deref(), Some("Yard"));
    // sold by the foot without a stock length: the exact length; 6 in. is 0.5 ft at 0.40
    let exact = bought("6", "in", None, &["X", "angle", "lf", "", "", "0.40"]);
    assert_eq!(exact, ("0.5".into(), "ft".into(), "0".into(), Some(20)));
}

fn cut_job(rooms: &[(&str, &str)]) -> (Made, Priced, Book) {
    let mut job = Made::new(rooms.len());
    let counts: Vec<&str> = rooms.iter().map(|r| r.0).collect();
    let lengths: Vec<&str> = rooms.iter().map(|r| r.1).collect();
    let (count, each) = (job.amount(job.rooms, "ea", &counts), job.amount(job.rooms, "ft", &lengths));
    job.material("tee", "ST", Need::Cut { count, each });
    let book = Book::prices(&[&["ST", "span tee, 12 ft", "ea", "", "12'", "6.00"]]);
    let priced = job.price(Some(&*book));
    (job, priced, book)
}

/// The same where the tee may be spliced end to end.
fn spliced_job(rooms: &[(&str, &str)]) -> (Made, Priced, Book) {
    let (mut job, _, book) = cut_job(rooms);
    job.schema.items[0].splice = Some(ItemSplice::default());
    let priced = job.price(Some(&*book));
    (job, priced, book)
}

/// By hand: each 7 ft piece of the first room and 5 ft piece of the second fill 12 ft. Of 20 ft spliced end to end, 12 ft
/// are a whole piece and 8 ft a rest, too long for two of them in one piece.
#[test]
fn the_cutting_plan_says_what_is_cut_for_which_room() {
    let ft = |n: i64| Number::from(n).times(&"304.8".parse::<hardlid::quantity::Decimal>().unwrap().into()).unwrap();
    let (job, priced, book) = cut_job(&[("9", "7"), ("9", "5")]);
    let (_, cuts) = order_and_cuts(&job.schema, &job.run, &priced, Some(&book));
    assert_eq!((cuts.len(), cuts[0].used, cuts[0].at_least, cuts[0].spliced), (1, 9, 9, 0));
    let [pattern] = cuts[0].patterns.as_slice() else { panic!("{cuts:?}") };
    assert_eq!((pattern.stock, pattern.times, pattern.offcut), (ft(12), 9, ft(0)));
    let told: Vec<_> = pattern.pieces.iter().map(|p| (p.length, p.count, p.rooms.as_slice())).collect();
    assert_eq!(told, [(ft(7), 1, &[0][..]), (ft(5), 1, &[1][..])]);
    let (job, priced, book) = spliced_job(&[("2", "20")]);
    let (_, cuts) = order_and_cuts(&job.schema, &job.run, &priced, Some(&book));
    assert_eq!((cuts[0].used, cuts[0].at_least, cuts[0].spliced, cuts[0].joints), (4, 4, 2, 2));
    let told: Vec<_> =
        cuts[0].patterns.iter().map(|p| (p.times, p.pieces[0].length, p.pieces[0].rooms.as_slice())).collect();
    assert_eq!(told, [(2, ft(12), &[0][..]), (2, ft(8), &[0][..])]);
}

#[test]
fn cut_pieces_are_laid_into_stock_over_the_whole_job() {
    // 9 of 7 ft: one to a piece. 9 of 5 ft in another room fill the rests. 63 ft and 45 ft at 0.50 a foot.
    let (job, priced, book) = cut_job(&[("9", "7"), ("9", "5")]);
    assert_eq!(priced.lines.iter().filter_map(|l| l.cost).collect::<Vec<_>>(), [3_150, 2_250]);
    assert_eq!((&*priced.lines[0].unit, priced.lines[0].need), ("ft", 63.into()));
    let order = order_list(&job.schema, &job.run, &priced, Some(&book));
    assert_eq!((order[0].buy, order[0].left_over, order[0].cost), (9.into(), 0.into(), Some(5_400)));
    // 9 of 7 ft alone: nine pieces with 5 ft left of each, not 63 ft / 12 ft = 6
    let (job, priced, book) = cut_job(&[("9", "7")]);
    let order = order_list(&job.schema, &job.run, &priced, Some(&*book));
    assert_eq!((order[0].buy, order[0].left_over), (9.into(), 45.into()));
    // 10 of 12 ft with 20 % waste: the waste comes to more than the laying takes, 144 ft are 12 pieces
    let (mut job, _, book) = cut_job(&[("10", "12")]);
    job.schema.items[0].waste = Some(job.percent(job.rooms, &["20%"]));
    let priced = job.price(Some(&*book));
    assert_eq!(order_list(&job.schema, &job.run, &priced, Some(&*book))[0].buy, 12.into());
    // two of 20 ft: two whole pieces, and two rests of 8 ft that take a piece each
    let (job, priced, book) = spliced_job(&[("2", "20")]);
    let order = order_list(&job.schema, &job.run, &priced, Some(&book));
    assert_eq!((order[0].buy, order[0].left_over), (4.into(), 8.into()));
    assert_eq!(order[0].sold_as, "pieces of 12'-0\"");
    // three thirds of a piece are one piece
    let (job, priced, book) = cut_job(&[("3", "4")]);
    assert_eq!(order_list(&job.schema, &job.run, &priced, Some(&book))[0].buy, 1.into());
}

#[test]
fn labor_takes_hours_wage_and_burden_and_rounds_once() {
    let mut job = Made::new(1);
    let area = job.amount(job.rooms, "sf", &["10000"]);
    let hours = job.amount(job.rooms, "hr", &["55"]);
    job.labor("hang", "HANG", Need::Amount(area));
    job.labor("foreman", "LEAD", Need::Amount(hours));
    let book = Book::read(&[
        ("Prices", &[&["Code", "Cost", "Sold by"], &["A", "1", "ea"]]),
        (
            "Labor",
            &[
                &["Code", "Work", "Hours per unit", "Per", "Crew"],
                &["HANG", "hang board", "0.017", "sf", "two"],
                &["LEAD", "foreman", "", "", "ONE"],
            ],
        ),
        ("Crews", &[&["Crew", "Wage ($)", "Burden"], &["one", "76.56", "0%"], &["two", "40.00", "35%"]]),
    ]);
    assert!(book.problems.is_empty(), "{:?}", book.problems);
    let priced = job.price(Some(&*book));
    // 170 h for 10,000 sf (lecture on Dagostino, ch. 7); × 40 × 1.35 = 9,180.00
    assert_eq!((priced.lines[0].hours, priced.lines[0].cost), (Some(170.into()), Some(918_000)));
    assert_eq!(priced.lines[0].unit_cost, Some(number("0.918")));
    // DPWH analysis 801(1): 55 h × 76.56 = 4,210.80
    assert_eq!((priced.lines[1].hours, priced.lines[1].cost), (Some(55.into()), Some(421_080)));
    assert_eq!((priced.labor, priced.material, priced.hours), (1_339_080, 0, Some(225.into())));
    assert_eq!(priced.prices.iter().map(|p| &*p.code).collect::<Vec<_>>(), ["HANG", "LEAD"]);
    assert_eq!(priced.prices[0].cost, 54.into());
}

#[test]
fn a_rules_rate_and_waste_win_and_a_difference_is_one_warning() {
    let mut job = Made::new(3);
    let run = job.amount(job.rooms, "ft", &["100", "100", "100"]);
    let rate = job.amount(job.rooms, "hr/ft", &["0.02", "0.02", "0.02"]);
    let waste = job.percent(job.rooms, &["0.05", "0.05", "0.05"]);
    let labor = job.labor("frame", "F", Need::Amount(run));
    job.schema.items[labor].rate = Some(rate);
    let own = job.material("tee", "T", Need::Amount(run));
    job.schema.items[own].waste = Some(waste);
    job.material("angle", "T", Need::Amount(run));
    let book = Book::read(&[
        ("Prices", &[&["Code", "Cost", "Sold by"], &["T", "1", "lf"]]),
        ("Labor", &[&["Code", "Hours per unit", "Unit", "Crew"], &["F", "0.011", "ft", "one"]]),
        ("Crews", &[&["Crew", "Wage"], &["one", "50"]]),
        ("Job", &[&["Name of job", "Demo"], &["Waste", "10%"]]),
    ]);
    let priced = job.price(Some(&*book));
    // 100 × 0.02 = 2 h at 50; 105 ft and 110 ft at 1
    assert_eq!(priced.lines[..3].iter().filter_map(|l| l.cost).collect::<Vec<_>>(), [10_000, 10_500, 11_000]);
    let names: Vec<&str> = priced.findings.iter().map(|f| f.name.as_str()).collect();
    assert_eq!(names, ["waste stated twice", "rate stated twice"]);
    assert_eq!(
        priced.findings[0].problem.what,
        "Waste is stated twice: 10% in the price book, and in the rules for Tee 5%. The rule serves."
    );
    assert_eq!(
        priced.findings[1].problem.what,
        "Hours for Frame are stated twice: 0.02 hr/ft by the rule, 0.011 hr/ft by row F of sheet Labor. The rule serves."
    );
    assert_eq!((priced.stopped, priced.total), (0, Some(94_500)));
}

#[test]
fn a_missing_code_is_one_problem_and_stops_every_row_that_needs_it() {
    let mut job = Made::new(5);
    let need = job.amount(job.rooms, "ft", &["1", "1", "0", "1", "1"]);
    let fine = job.amount(job.rooms, "ea", &["1"; 5]);
    job.material("tee", "ST-21", Need::Amount(need));
    job.material("post", "st-21", Need::Amount(need));
    job.material("wire", "HW", Need::Amount(fine));
    let book = Book::prices(&[&["ST-12", "tee", "lf", "", "", "1"], &["HW", "wire", "ea", "", "", "1"]]);
    let priced = job.price(Some(&*book));
    assert_eq!((priced.stopped, priced.total, priced.lines.len()), (4, None, 1));
    assert_eq!(priced.findings.len(), 1);
    let problem = &priced.findings[0].problem;
    assert_eq!((problem.kind, problem.weight), ("missing code", Weight::Stop));
    assert_eq!(problem.what, "Tee needs code ST-21, and sheet Prices of book.xlsx has no row with that code.");
    assert_eq!(problem.fix.as_deref(), Some("the nearest code there is ST-12"));
    // two rules and four rows
    assert_eq!(problem.places.len(), 6);
    assert_eq!(priced.rooms[2].cost, Some(100));
    assert!(priced.rooms[0].stopped && priced.rooms[0].cost.is_none());
}

fn refused(need_unit: &str, price: &[&str]) -> String {
    let (_, priced, _) = one("7", need_unit, None, price);
    assert_eq!((priced.lines.len(), priced.stopped, priced.total), (0, 1, None));
    assert_eq!(priced.findings.len(), 1, "{:?}", priced.findings);
    assert_eq!(priced.findings[0].problem.weight, Weight::Stop);
    priced.findings[0].problem.what.clone()
}

#[test]
fn a_unit_that_does_not_fit_names_the_rule_and_the_cell() {
    assert_eq!(
        refused("sf", &["X", "board", "ea", "", "", "9"]),
        "Thing is needed by area (square feet), but X is sold by ea with no pack that says how many square feet one holds."
    );
    assert_eq!(
        refused("ft", &["X", "tee", "ea", "", "", "9"]),
        "Thing is needed by length (feet), but X is sold by ea with no stock length that says how many feet one is."
    );
    assert_eq!(
        refused("ft", &["X", "tape", "roll", "50 lb", "", "9"]),
        "Thing is needed by length (feet), but X is sold by roll in packs of 50 lb."
    );
    assert_eq!(refused("ea", &["X", "tee", "lf", "", "", "9"]), "Thing is needed by count, but X is sold by lf.");
    let (_, priced, _) = one("7", "ea", None, &["X", "tee", "lf", "", "", "9"]);
    let text = render::for_people(&priced.findings[0].problem);
    assert!(text.contains("rules.lid, line 1") && text.contains("book.xlsx, Prices!C2"), "{text}");
}

#[test]
fn rows_in_force_on_the_day_serve() {
    let rows: &[&[&str]] = &[
        &["X", "old", "ea", "", "", "1", "2026-01-01", "2026-02-28"],
        &["X", "new", "ea", "", "", "2", "3/1/2026", "Dec 31, 2026"],
    ];
    for (on, cost) in [(day(2026, 2, 28), Some(700)), (day(2026, 3, 1), Some(1_400)), (day(2027, 1, 1), None)] {
        let mut job = Made::new(1);
        let need = job.amount(job.rooms, "ea", &["7"]);
        job.material("thing", "X", Need::Amount(need));
        let book = Book::prices_on(rows, on);
        assert!(book.problems.is_empty());
        let priced = job.price(Some(&*book));
        assert_eq!(priced.lines.first().and_then(|l| l.cost), cost);
        if cost.is_none() {
            assert_eq!(
                priced.findings[0].problem.what,
                "Thing needs code X, and book.xlsx has no row for it in force on 2027-01-01: the rows there are serve \
                 from 2026-01-01 through 2026-02-28, from 2026-03-01 through 2026-12-31."
            );
        }
    }
}

#[test]
fn two_rows_in_force_at_once_are_found_when_read_and_stop_what_needs_them() {
    let rows: &[&[&str]] = &[
        &["X", "old", "ea", "", "", "1", "2026-01-01", "2026-03-31"],
        &["x", "new", "ea", "", "", "2", "2026-03-01", ""],
    ];
    let book = Book::prices_on(rows, day(2026, 1, 15));
    assert_eq!(book.problems.len(), 1);
    assert_eq!((book.problems[0].kind, book.problems[0].places.len()), ("two prices in force", 2));
    assert_eq!(book.price("X"), Found::Row(0));
    let book = Book::prices_on(rows, day(2026, 3, 15));
    assert_eq!(book.price(" X"), Found::Several(vec![0, 1]));
    let mut job = Made::new(1);
    let need = job.amount(job.rooms, "ea", &["7"]);
    job.material("thing", "X", Need::Amount(need));
    let priced = job.price(Some(&*book));
    assert_eq!((priced.stopped, priced.findings[0].name.as_str()), (1, "two prices in force"));
}

/// Every mistake of a price book, by kind and cell; the row then stops what needs it.
#[test]
fn mistakes_of_a_price_book_name_their_cells() {
    for (row, kind, place) in [
        (["X", "a", "MLFF", "", "", "1", "", "", "", ""], "unknown unit", "C2"),
        (["X", "a", "", "", "", "1", "", "", "", ""], "no unit of sale", "C2"),
        (["X", "a", "ea", "", "", "", "", "", "", ""], "no cost", "F2"),
        (["X", "a", "ea", "", "", "call for price", "", "", "", ""], "no price", "F2"),
        (["X", "a", "ea", "", "", "cheap", "", "", "", ""], "unreadable cost", "F2"),
        (["X", "a", "ea", "", "", "-4", "", "", "", ""], "cost below zero", "F2"),
        (["X", "a", "ea", "", "", "$3/lf", "", "", "", ""], "unit does not fit", "F2"),
        (["X", "a", "carton", "", "", "1", "", "", "", ""], "no pack", "D2"),
        (["X", "a", "carton", "some", "", "1", "", "", "", ""], "unreadable pack", "D2"),
        (["X", "a", "ea", "", "12", "1", "", "", "", ""], "unreadable length", "E2"),
        (["X", "a", "lf", "32 sf", "", "1", "", "", "", ""], "unit does not fit", "D2"),
        (["X", "a", "ea", "", "", "1", "2026-05-01", "2026-04-01", "", ""], "dates run backward", "H2"),
        (["X", "a", "ea", "", "", "1", "soon", "", "", ""], "unreadable date", "G2"),
    ] {
        let book = Book::prices(&[&row]);
        assert!(
            book.problems.iter().any(|p| {
                p.kind == kind && p.weight == Weight::Warning && render::for_people(p).contains(&format!("!{place}"))
            }),
            "{row:?}: {:?}",
            book.problems
        );
        let mut job = Made::new(1);
        let need = job.amount(job.rooms, "ea", &["7"]);
        job.material("thing", "X", Need::Amount(need));
        let priced = job.price(Some(&*book));
        assert_eq!((priced.lines.len(), priced.stopped, priced.total), (0, 1, None), "{row:?}");
    }
    let unknown = Book::prices(&[&["X", "a", "MLFF", "", "", "1"]]);
    assert_eq!(unknown.problems[0].fix.as_deref(), Some("the nearest is MLF"));
}

#[test]
fn mistakes_of_labor_and_crews_name_their_cells() {
    let book = Book::read(&[
        ("Prices", &[&["Code", "Cost", "Sold by"], &["A", "1", "ea"]]),
        (
            "Labor",
            &[
                &["Code", "Hours per unit", "Unit", "Crew"],
                &["L1", "0.1", "ft", "framer"],
                &["L2", "0.1", "", "framers"],
                &["L3", "some", "ft", ""],
                &["L4", "0.1", "furlong", "framers"],
                &["L5", "0.1 hr/sf", "", "hangers"],
            ],
        ),
        (
            "Crews",
            &[
                &["Crew", "Wage", "Burden"],
                &["framers", "", "35%"],
                &["hangers", "40", "lots"],
                &["Framers", "41", "35%"],
            ],
        ),
    ]);
    let found: Vec<(&str, String)> = book
        .problems
        .iter()
        .map(|p| {
            (p.kind, render::for_people(p).split('!').nth(1).unwrap_or("").lines().next().unwrap_or("").to_owned())
        })
        .map(|(k, p)| (k, p.split(' ').next().unwrap_or("").to_owned()))
        .collect();
    let expected = [
        ("no wage", "B2"),
        ("no burden", "C3"),
        ("crew stated twice", "A4"),
        ("unknown crew", "D2"),
        ("no unit of work", "C3"),
        ("unreadable hours", "B4"),
        ("no crew", "D4"),
        ("unknown unit", "C5"),
    ];
    assert_eq!(found, expected.map(|(k, p)| (k, p.to_owned())));
    assert!(book.labor[4].flaw.is_none() && book.labor[4].rate.is_some());
}

#[test]
fn headings_are_found_wherever_they_stand() {
    let book = Book::read(&[(
        " PRICES ",
        &[
            &["Northside Yard (invented)", "", ""],
            &[],
            &["remark", " COST ($) ", "Stock\nlength (ft)", "Code", "Sold  by", "Item"],
            &["TEES"],
            &["", "$1,250.00", "12", "st-12", "M", "tee"],
            &["remark", "Cost", "Stock length", "Code", "Sold by", "Item"],
            &["", "4.85", "", "1058", "Each", "clip"],
            &["", "3.10"],
        ],
    )]);
    assert_eq!(book.prices.len(), 2);
    assert_eq!((book.prices[0].cost, book.prices[0].stock_length), (1250.into(), Some(number("3657.6"))));
    assert_eq!(book.price("1058"), Found::Row(1));
    assert_eq!(book.problems.iter().map(|p| p.kind).collect::<Vec<_>>(), ["no code"]);
    // a csv file has no sheet name; a supplier and an item that are also headings do not make a row one
    let csv = Book::read(&[(
        "",
        &[&["Code", "Item", "Cost ($/MLF)", "Supplier"], &["X", "Material", "312", "Yard"], &["Y", "", "$4/ea", ""]],
    )]);
    assert_eq!(csv.prices.len(), 2, "{:?}", csv.problems);
    assert_eq!(csv.prices[0].sold_by.unit, Unit::named("MLF"));
    assert_eq!(csv.prices[1].sold_by.unit, Unit::named("ea"));
    let none = Book::read(&[("Sheet1", &[&["nothing"]])]);
    assert_eq!((none.problems[0].kind, none.problems[0].weight), ("no sheet", Weight::Stop));
    let bad = Book::read(&[("Prices", &[&["Code", "Item"]])]);
    assert_eq!((bad.problems[0].kind, bad.problems[0].weight), ("no headings", Weight::Stop));
}

#[test]
fn numbers_stored_as_numbers_are_read_as_typed() {
    let mut grid = made::grid("Prices", &[&["Code", "Sold by", "Cost"]]);
    grid.rows.push(vec![cell("A"), cell("ea"), hardlid::workbook::grid::Cell::Number(0.1 + 0.2)]);
    grid.rows.push(vec![cell("B"), cell("ea"), hardlid::workbook::grid::Cell::Number(4.85)]);
    grid.rows.push(vec![cell("C"), cell("ea"), hardlid::workbook::grid::Cell::Error("#N/A".into())]);
    let (book, problems) = hardlid::workbook::prices::read_price_book(&[grid], day(2026, 1, 1));
    assert_eq!(book.prices[0].cost, number("0.30000000000000004"));
    assert_eq!(book.prices[1].cost, number("4.85"));
    assert_eq!(problems[0].found.as_deref(), Some("#N/A"));
}

#[test]
fn a_fault_stops_its_row_once_and_a_child_stops_its_parent() {
    let mut job = Made::new(3);
    job.openings(&[0, 1, 1]);
    let need = job.amount(job.rooms, "ft", &["10", "10", "?"]);
    let trim = job.amount(job.openings, "ft", &["6", "?", "4"]);
    job.material("angle", "X", Need::Amount(need));
    job.material("tee", "X", Need::Amount(need));
    let item = job.material("trim", "X", Need::Amount(trim));
    job.schema.items[item].kind = job.openings;
    let code = job.text(job.openings, &["X"; 3]);
    job.schema.items[item].code = code;
    let priced = job.price(Some(&*Book::prices(&[&["X", "angle", "lf", "", "", "1"]])));
    // room 0: two of 10 ft and its opening of 6 ft; room 1 by its opening, room 2 by itself, told once for two items
    assert_eq!((priced.lines.len(), priced.stopped), (3, 2));
    assert!(priced.lines.iter().all(|l| l.room == Some(0)));
    assert_eq!(priced.rooms[0].cost, Some(2_600));
    assert_eq!(priced.findings.len(), 2);
    assert!(priced.findings.iter().any(|f| f.row == Some((job.openings, 1))));
    let row = priced.findings.iter().find(|f| f.row == Some((job.rooms, 2))).unwrap();
    assert_eq!(row.row_name.as_deref(), Some("R2"));
}

#[test]
fn needs_of_nothing_have_no_line_and_needs_below_zero_stop() {
    let mut job = Made::new(4);
    let need = job.amount(job.rooms, "ea", &["0", "-1", "2", "2"]);
    let when = job.yes_no(job.rooms, &[true, true, false, true]);
    let item = job.material("thing", "X", Need::Amount(need));
    job.schema.items[item].when = Some(when);
    let priced = job.price(Some(&*Book::prices(&[&["X", "thing", "ea", "", "", "1"]])));
    assert_eq!(priced.lines.iter().map(|l| l.of.1).collect::<Vec<_>>(), [3]);
    assert_eq!((priced.stopped, priced.findings[0].name.as_str()), (1, "need below zero"));
}

#[test]
fn rows_that_reading_stopped_have_no_lines() {
    let mut job = Made::new(2);
    let need = job.amount(job.rooms, "ea", &["1", "1"]);
    job.material("thing", "X", Need::Amount(need));
    job.inputs.tables[0].stopped[1] = true;
    let priced = job.price(Some(&*Book::prices(&[&["X", "thing", "ea", "", "", "1"]])));
    assert_eq!((priced.lines.len(), priced.stopped, priced.total), (1, 1, None));
}

#[test]
fn checks_speak_in_their_own_words() {
    let mut job = Made::new(3);
    let part = job.amount(job.rooms, "ft", &["7", "9", "10"]);
    job.schema.fields[part.0 as usize].ty = Type::of(Dimension::LENGTH);
    let holds = job.yes_no(job.rooms, &[true, false, false]);
    let words = |t: &str| MessagePart::Words(t.to_owned());
    let message = vec![words("A tee would span "), MessagePart::Value(part), words(" in "), MessagePart::Value(job.id)];
    job.check("span", holds, Outcome::Warns, message.clone());
    let priced = job.price(None);
    assert_eq!(priced.stopped, 0);
    assert_eq!(priced.findings[0].problem.what, "A tee would span 9'-0\" in R1");
    assert_eq!((priced.findings[0].name.as_str(), priced.findings[0].row_name.as_deref()), ("span", Some("R1")));
    assert_eq!(priced.rooms.iter().map(|r| r.warnings).collect::<Vec<_>>(), [0, 1, 1]);
    job.schema.checks[0].outcome = Outcome::Stops;
    assert_eq!(job.price(None).stopped, 2);
}

#[test]
fn without_a_price_book_quantities_stand_and_costs_are_blank() {
    let mut job = Made::new(1);
    let run = job.amount(job.rooms, "ft", &["100"]);
    let waste = job.percent(job.rooms, &["0.05"]);
    let rate = job.amount(job.rooms, "hr/ft", &["0.02"]);
    let tee = job.material("tee", "T", Need::Amount(run));
    job.schema.items[tee].waste = Some(waste);
    let frame = job.labor("frame", "F", Need::Amount(run));
    job.schema.items[frame].rate = Some(rate);
    let priced = job.price(None);
    assert!(!priced.has_prices && priced.total.is_none() && priced.findings.is_empty());
    assert_eq!((priced.lines[0].quantity, priced.lines[0].cost), (105.into(), None));
    assert_eq!((priced.lines[1].hours, priced.lines[1].cost), (Some(2.into()), None));
    let order = order_list(&job.schema, &job.run, &priced, None);
    assert_eq!((order.len(), order[0].used, order[0].cost), (1, 105.into(), None));
}

#[test]
fn the_jobs_lump_sums_come_last_and_need_no_price_row() {
    let mut job = Made::new(1);
    let need = job.amount(job.rooms, "ea", &["1"]);
    job.material("thing", "X", Need::Amount(need));
    let lump = job.amount(job.job, "$", &["450.005"]);
    let item = job.material("lift", "LIFT", Need::Lump(lump));
    job.schema.items[item].kind = job.job;
    job.schema.items[item].code = job.text(job.job, &["LIFT"]);
    let book = Book::prices(&[&["X", "thing", "ea", "", "", "1"]]);
    let mut priced = job.price(Some(&*book));
    assert_eq!(priced.lines.len(), 1);
    let late = late_checks(&job.schema, &job.run);
    price_job(&job.schema, &job.run, &job.inputs, Some(&book), &made::Plain, &late, &mut priced);
    assert_eq!(priced.lines.len(), 2);
    assert_eq!((priced.lines[1].room, priced.lines[1].cost, &*priced.lines[1].unit), (None, Some(45_001), "lump sum"));
    assert_eq!((priced.total, priced.prices.len(), priced.lines[0].price), (Some(45_101), 1, Some(0)));
    assert_eq!(order_list(&job.schema, &job.run, &priced, Some(&book)).len(), 1);
}

/// Order of rows never matters to the sums, and a bid is the sum of its lines.
#[test]
fn a_code_for_each_row_is_looked_up_by_its_own_text() {
    let mut job = Made::new(4);
    let need = job.amount(job.rooms, "ea", &["1", "2", "3", "4"]);
    let item = job.material("thing", "A", Need::Amount(need));
    job.schema.items[item].code = job.text(job.rooms, &["A", "b", "a ", "B"]);
    let priced =
        job.price(Some(&*Book::prices(&[&["A", "a", "ea", "", "", "0.10"], &["B", "b", "ea", "", "", "1.00"]])));
    assert_eq!(priced.lines.iter().filter_map(|l| l.cost).collect::<Vec<_>>(), [10, 200, 30, 400]);
    assert_eq!(priced.lines.iter().map(|l| &*l.code).collect::<Vec<_>>(), ["A", "B", "A", "B"]);
    assert!(priced.lines.iter().all(|l| l.kind == LineKind::Material));
}

fn any_cell() -> impl Strategy<Value = hardlid::workbook::grid::Cell> {
    use hardlid::workbook::grid::Cell;
    let words = prop::sample::select(vec![
        "Code",
        "Cost",
        "Sold by",
        "Pack",
        "Stock length (ft)",
        "Crew",
        "Wage",
        "Burden %",
        "Waste",
        "X",
        "Y",
        "ea",
        "MLF",
        "carton",
        "1000 ea",
        "5 gal",
        "12'",
        "12'-6\"",
        "$4.85",
        "$312/MLF",
        "35%",
        "2026-01-01",
        "1/2/26",
        "-5",
        "1e9",
        "call",
        "4' x 8'",
        "99999999999999999999999999",
        "0.0000000000000000000000000001",
        "hr/ft",
        "1/0\"",
        "%",
        "$",
        "/",
        "'",
        "\u{2019}",
        "ft^6",
        "MLF*MLF*MLF*MLF*MLF",
        "0.1 hr/sf",
        "é",
        "\u{0}",
        "(5)",
        "5-",
    ]);
    prop_oneof![
        Just(Cell::Empty),
        words.prop_map(cell),
        any::<f64>().prop_map(Cell::Number),
        (-1e6f64..1e6).prop_map(Cell::Number),
        any::<f64>().prop_map(Cell::Date),
        any::<bool>().prop_map(Cell::YesNo),
        "\\PC{0,12}".prop_map(|t| cell(&t)),
        Just(Cell::Error("#REF!".into())),
    ]
}

fn any_sheet(
    name: &'static str,
    headings: &'static [&'static str],
) -> impl Strategy<Value = hardlid::workbook::grid::Grid> {
    let rows = proptest::collection::vec(proptest::collection::vec(any_cell(), 0..11), 0..8);
    (rows, any::<bool>(), 0usize..3).prop_map(move |(mut rows, headed, at)| {
        if headed {
            let at = at.min(rows.len());
            rows.insert(at, headings.iter().map(|h| cell(h)).collect());
        }
        hardlid::workbook::grid::Grid { file: "random.xlsx".into(), sheet: name.into(), rows }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn random_price_books_never_panic(
        prices in any_sheet("Prices", &["Code", "Supplier", "Sold by", "Pack", "Stock length", "Cost", "Cost from 2", "Through", "Minimum order", "Weight", "From"]),
        labor in any_sheet("Labor", &["Code", "Hours per unit", "Unit", "Crew"]),
        crews in any_sheet("Crews", &["Crew", "Wage", "Burden %"]),
        job_sheet in any_sheet("Job", &["Waste", "5%"]),
    ) {
        let (book, _) = hardlid::workbook::prices::read_price_book(&[prices, labor, crews, job_sheet], day(2026, 1, 1));
        let mut job = Made::new(2);
        let (area, run) = (job.amount(job.rooms, "sf", &["7", "0.001"]), job.amount(job.rooms, "ft", &["7", "99999999"]));
        let count = job.amount(job.rooms, "ea", &["3", "1000000"]);
        let codes = ["X", "Y", "ea", "Code"];
        for code in codes {
            job.material("board", code, Need::Amount(area));
            let tee = job.material("tee", code, Need::Cut { count, each: run });
            job.schema.items[tee].splice = Some(ItemSplice::default());
            job.labor("work", code, Need::Amount(area));
        }
        let priced = price_lines(&job.schema, &job.run, &job.inputs, Some(&book), &made::Plain);
        let order = order_list(&job.schema, &job.run, &priced, Some(&book));
        // a row for each code, and no more than there are lengths of it
        prop_assert!(order.len() <= codes.len().max(book.prices.len()));
        // a row is either priced whole or stopped with a reason
        prop_assert!(priced.stopped == 0 || priced.findings.iter().any(|f| f.problem.weight == Weight::Stop));
        prop_assert_eq!(priced.lines.len(), (2 - priced.stopped) * job.schema.items.len());
    }

    /// The cents of a line are those of the exact product, worked out by hand in whole numbers.
    #[test]
    fn a_line_is_the_rounded_product(sixteenths in 1i64..400_000, price in 0i64..1_000_000, tenths in 0i64..300) {
        // need in sixteenths of an inch, price in hundredths of a cent for a thousand feet, waste in tenths of a percent
        let need = Decimal::from(sixteenths) * "1.5875".parse::<Decimal>().unwrap();
        let cost = Decimal::new(price, 4).to_string();
        let waste = Decimal::new(tenths, 3).to_string();
        let got = cents(&need.to_string(), "mm", Some(&waste), &["X", "thing", "MLF", "", "", &cost]);
        // dollars = sixteenths / 192 / 1000 × price / 10^4 × (1000 + tenths) / 1000, so cents = n / d:
        let n = i128::from(sixteenths) * i128::from(price) * i128::from(1000 + tenths);
        let d = 192i128 * 1000 * 100 * 1000;
        prop_assert_eq!(i128::from(got), (2 * n + d) / (2 * d));
    }
}

#[test]
fn the_unit_of_a_line_is_the_trades() {
    for (unit, shown) in [("in", "ft"), ("sy", "sf"), ("L", "gal"), ("kip", "lb"), ("M", "ea")] {
        let (_, priced, _) = one("1", unit, None, &["X", "thing", unit, "", "", "1"]);
        let expected =
            Number::ONE.scaled(Unit::named(unit).unwrap().factor / Unit::named(shown).unwrap().factor).unwrap();
        assert_eq!((&*priced.lines[0].unit, priced.lines[0].need), (shown, expected));
    }
}
