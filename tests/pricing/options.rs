//! Ways to build a room, priced side by side. The book is `ways.lid`, whose head says what each way costs; the figures
//! here are worked out from that by hand.

use super::made::Book;
use hardlid::engine::Engine;
use hardlid::pricing::options::{cost_of, standing, why_not};
use hardlid::pricing::{Priced, Trial, price_rows};
use hardlid::program::{Program, compile, library};
use hardlid::source::Text;
use hardlid::workbook::open::open;
use hardlid::workbook::rows::read_rooms_and_job;

fn program() -> Program {
    compiled(include_str!("ways.lid"))
}

fn compiled(book: &str) -> Program {
    let text = Text::new("ways.lid", book);
    let (layers, problems) = library::with_layers(&text, "ways.lid");
    assert!(problems.is_empty(), "{problems:?}");
    compile(layers, None, hardlid::natives()).unwrap().0
}

/// Tees at $1 a foot, those of a grid at $0.50, wires at $3, crews at $40 an hour; without the codes left out.
fn prices(left_out: &[&str]) -> Book {
    let rows: Vec<&[&str]> =
        [&["T", "Tee", "lf", "1"] as &[&str], &["G", "Light tee", "lf", "0.5"], &["W", "Wire", "ea", "3"]]
            .into_iter()
            .filter(|r| !left_out.contains(&r[0]))
            .collect();
    let material: Vec<&[&str]> = std::iter::once(&["Code", "Item", "Sold by", "Cost"] as &[&str]).chain(rows).collect();
    let book = Book::read(&[
        ("Prices", &material),
        (
            "Labor",
            &[&["Code", "Work", "Hours per unit", "Unit", "Crew"], &["L", "Set supports", "0.5", "ea", "Crew A"]],
        ),
        ("Crews", &[&["Crew", "Wage", "Burden"], &["Crew A", "40", "0%"]]),
    ]);
    assert!(book.problems.is_empty(), "{:?}", book.problems);
    book
}

/// Prices rooms given as lines of room, length, width, scheme wanted, hang, and looks at the outcome.
fn priced(rooms: &str, book: Option<&Book>, look: impl FnOnce(&Engine<'_>, &Priced)) {
    priced_by(&program(), rooms, book, look);
}

fn priced_by(program: &Program, rooms: &str, book: Option<&Book>, look: impl FnOnce(&Engine<'_>, &Priced)) {
    let text = format!("Room,Length,Width,Scheme wanted,Hang\n{rooms}\n");
    let mut workbook = open("rooms.csv", text.into_bytes()).unwrap();
    let mut inputs = read_rooms_and_job(&mut workbook, None, &program.schema, program.texts.clone()).unwrap();
    let (engine, priced) = price_rows(program, &mut inputs, book.map(|b| &**b), &[]);
    look(&engine, &priced);
}

/// Standing, cost in cents and reason of each way, in the book's order.
fn ways(engine: &Engine<'_>, priced: &Priced, row: usize) -> Vec<(&'static str, Option<i64>, String)> {
    let schema = &engine.program().schema;
    let one = |i| (standing(&priced.compared[row], i), cost_of(priced, row, i), why_not(schema, priced, row, i));
    (0..3).map(one).collect()
}

fn way(standing: &'static str, cents: Option<i64>, why: &str) -> (&'static str, Option<i64>, String) {
    (standing, cents, why.to_owned())
}

/// 8 ft: 80, 132, 144. 10 ft: wall to wall would be 100 and fails; 152 and 154. 12 ft: 120 fails; 172 and 164. 20 ft: a
/// grid alone, 204.
#[test]
fn the_cheapest_that_passes_is_taken() {
    priced("1,8',20'\n2,20',10'\n3,12',12'\n4,20',40'", Some(&prices(&[])), |engine, priced| {
        assert_eq!(
            ways(engine, priced, 0),
            [
                way("taken", Some(8_000), ""),
                way("passes", Some(13_200), "$52.00 dearer"),
                way("passes", Some(14_400), "$64.00 dearer"),
            ]
        );
        assert_eq!(
            ways(engine, priced, 1),
            [
                way("fails", Some(10_000), "A tee would span 10'-0\" (Wall to wall)."),
                way("taken", Some(15_200), ""),
                way("passes", Some(15_400), "$2.00 dearer"),
            ]
        );
        assert_eq!(
            ways(engine, priced, 2),
            [
                way("fails", Some(12_000), "A tee would span 12'-0\" (Wall to wall)."),
                way("passes", Some(17_200), "$8.00 dearer"),
                way("taken", Some(16_400), ""),
            ]
        );
        assert_eq!(priced.compared[3].taken, 2);
        // 80 + 152 + 164 + 204
        assert_eq!((priced.stopped, priced.total), (0, Some(60_000)));
        // 0, 1, 2 and 2 hours
        assert_eq!(priced.hours.map(|h| h.to_decimal().normalize().to_string()).as_deref(), Some("5"));
        let shown = &priced.compared[1].tried[2].shown;
        let scheme = &engine.program().schema;
        let options = scheme.options.as_ref().unwrap();
        let texts = options
            .showing
            .iter()
            .zip(shown)
            .map(|(f, v)| hardlid::pricing::options::shown_text(scheme, *f, v.as_ref()));
        // a third of 10 ft is 3'-4"
        assert_eq!(texts.collect::<Vec<_>>(), ["8", "3'-4\""]);
    });
}

/// At 10.4 ft, 124.8 in., both come to $156.00: 104 + 52 and 52 + 104.
#[test]
fn of_equals_the_first_is_taken() {
    priced("1,20',\"124.8\"\"\"", Some(&prices(&[])), |engine, priced| {
        let all = ways(engine, priced, 0);
        assert_eq!(all[1], way("taken", Some(15_600), ""));
        assert_eq!(all[2], way("passes", Some(15_600), "costs the same; the first is taken"));
    });
}

#[test]
fn a_named_way_is_taken_although_it_is_dearer() {
    for wanted in ["hung_grid", "Hung grid", "hung-grid", " HUNG  GRID "] {
        priced(&format!("1,8',20',{wanted}"), Some(&prices(&[])), |engine, priced| {
            let all = ways(engine, priced, 0);
            assert_eq!(all[2], way("taken by name", Some(14_400), ""), "{wanted}");
            assert_eq!(all[0], way("ruled out", None, "The row names another."), "{wanted}");
            assert_eq!(priced.total, Some(14_400), "{wanted}");
        });
    }
}

#[test]
fn a_named_way_that_fails_stops_the_row_and_no_other_is_taken() {
    priced("1,12',20',Wall to wall\n2,8',20'", Some(&prices(&[])), |engine, priced| {
        let all = ways(engine, priced, 0);
        assert_eq!(all[0], way("taken, fails", Some(12_000), "A tee would span 12'-0\" (Wall to wall)."));
        assert_eq!([all[1].0, all[2].0], ["ruled out"; 2]);
        assert_eq!((priced.stopped, priced.total, priced.rooms[1].cost), (1, None, Some(8_000)));
        let stops: Vec<&str> = priced.findings.iter().map(|f| f.problem.what.as_str()).collect();
        assert_eq!(stops, ["A tee would span 12'-0\" (Wall to wall)."]);
    });
}

/// A hang of 2 in. leaves no room for a grid: at 12 ft strongbacks are all that is left, 172.
#[test]
fn a_way_whose_condition_does_not_hold_is_not_for_the_room() {
    priced("1,12',20',,\"2\"\"\"", Some(&prices(&[])), |engine, priced| {
        let all = ways(engine, priced, 0);
        assert_eq!(all[1], way("taken", Some(17_200), ""));
        assert_eq!(all[2], way("ruled out", None, "Not for this room."));
        assert_eq!(priced.compared[0].tried[2].trial, Trial::NotAllowed(None));
    });
}

/// 30 ft: 30, 15 and 10 ft are all more than 8.
#[test]
fn where_none_passes_the_row_stops_and_each_reason_is_told() {
    priced("1,30',40'\n2,8',20'", Some(&prices(&[])), |engine, priced| {
        let all = ways(engine, priced, 0);
        assert_eq!(all.iter().map(|w| w.0).collect::<Vec<_>>(), ["taken, fails", "fails", "fails"]);
        assert_eq!((priced.stopped, priced.total), (1, None));
        let told = priced.findings.iter().find(|f| f.problem.kind == "no option passes").unwrap();
        assert_eq!(told.row_name.as_deref(), Some("1"));
        for part in [
            "Wall to wall: A tee would span 30'-0\" (Wall to wall).",
            "Over strongbacks: A tee would span 15'-0\" (Over strongbacks).",
            "Hung grid: A tee would span 10'-0\" (Hung grid).",
        ] {
            assert!(told.problem.what.contains(part), "{}", told.problem.what);
        }
        assert_eq!(priced.rooms[1].cost, Some(8_000));
    });
}

/// Strongbacks stand before the grid in the book; at 12 ft wall to wall fails.
#[test]
fn without_prices_the_first_that_passes_is_taken() {
    priced("1,12',20'\n2,8',20'", None, |engine, priced| {
        let all = ways(engine, priced, 0);
        assert_eq!(all[0], way("fails", None, "A tee would span 12'-0\" (Wall to wall)."));
        assert_eq!(all[1], way("taken", None, ""));
        assert_eq!(all[2], way("passes", None, "without prices the first that passes is taken"));
        assert_eq!(priced.compared[1].taken, 0);
        assert_eq!((priced.stopped, priced.total), (0, None));
    });
}

/// Without a price for the grid's tees a grid is no way at all; the room of 12 ft stands on strongbacks, and that of 20 ft,
/// where a tee would span 20 and 10 ft, has none left.
#[test]
fn a_way_whose_code_has_no_price_fails_and_the_others_go_on() {
    priced("1,12',20'\n2,20',20'", Some(&prices(&["G"])), |engine, priced| {
        let all = ways(engine, priced, 0);
        assert_eq!(all[1], way("taken", Some(17_200), ""));
        assert_eq!(all[2].0, "fails");
        assert!(all[2].2.contains("Tees needs code G") && all[2].2.contains("no row"), "{}", all[2].2);
        assert_eq!((priced.rooms[0].cost, priced.stopped), (Some(17_200), 1));
        let told = priced.findings.iter().find(|f| f.problem.kind == "no option passes").unwrap();
        for part in ["span 20'-0\"", "span 10'-0\"", "Hung grid: Tees needs code G"] {
            assert!(told.problem.what.contains(part), "{}", told.problem.what);
        }
    });
}

/// Nothing is known of a row that could not be read, under any way; the others are priced.
#[test]
fn a_row_that_could_not_be_read_says_so_under_each_way() {
    priced("1,twelve,20'\n2,8',20'", Some(&prices(&[])), |engine, priced| {
        for (standing, cost, why) in ways(engine, priced, 0) {
            assert!(standing.ends_with("fails") && cost.is_none() && why.contains("twelve"), "{standing}: {why}");
        }
        assert!(priced.findings.iter().all(|f| f.problem.kind != "no option passes"));
        assert_eq!((priced.stopped, priced.rooms[1].cost), (1, Some(8_000)));
    });
}

#[test]
fn a_way_that_is_not_in_the_list_is_refused_with_the_labels() {
    priced("1,8',20',hung gird", Some(&prices(&[])), |_, priced| {
        let told = &priced.findings.iter().find(|f| f.problem.kind == "text not in the list").unwrap().problem;
        assert!(told.what.contains("“Wall to wall”, “Over strongbacks” or “Hung grid”"), "{}", told.what);
        assert_eq!(told.fix.as_deref(), Some("“Hung grid”, if that was meant"));
    });
}

/// A bid of many has one thread: what was made under a way is let go when the next way is tried, not when all bids are
/// done, so that memory does not grow with their number.
#[test]
fn one_thread_keeps_nothing_of_the_way_before() {
    let program = program();
    let mut workbook = open("rooms.csv", b"Room,Length,Width,Scheme wanted,Hang\n1,8',20'\n".to_vec()).unwrap();
    let mut inputs = read_rooms_and_job(&mut workbook, None, &program.schema, program.texts.clone()).unwrap();
    rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap().install(|| {
        let mut engine = Engine::start(&program, &mut inputs);
        engine.rows_alone();
        engine.under_one_option(0);
        let made = std::sync::Arc::downgrade(&engine.run().things);
        assert!(made.upgrade().is_some());
        engine.under_one_option(1);
        assert!(made.upgrade().is_none());
    });
}

/// Under a hung grid nothing is laid out for room B, which may not have one: its hang is under 4 in. Where every room
/// looks at the tees of all rooms, it is laid out all the same, or room A would lose its grid.
/// 14 ft across: strongbacks 140 + 52, a grid 70 + 104.
#[test]
fn a_room_that_may_not_have_a_way_still_counts_where_others_look_at_it() {
    let laid = "    laid  \"Laid\"  =  laid_count(lay_out(room_shape(length: length, width: width), scheme: \"wall to wall\", \
                spacing: (24\" when scheme is straight, 16\" otherwise)), of: \"tee\")\n    check span";
    let alone = include_str!("ways.lid").replace("    check span", laid);
    let shared = alone
        .replace("    check span", "    check any  all_laid > 0  else stops  \"No tee at all.\"\n    check span")
        .replace("    total  =", "    all_laid  =  sum of rooms (laid)\n    total  =");
    for (book, rows_alone) in [(&alone, true), (&shared, false)] {
        let program = compiled(book);
        assert_eq!(program.rows_alone, rows_alone);
        priced_by(&program, "A,20',14',,18\"\nB,20',14',,2\"", Some(&prices(&[])), |engine, priced| {
            assert_eq!(ways(engine, priced, 0)[2], way("taken", Some(17_400), ""));
            assert_eq!(ways(engine, priced, 1)[1], way("taken", Some(19_200), ""));
            assert_eq!(ways(engine, priced, 1)[2], way("ruled out", None, "Not for this room."));
        });
    }
}
