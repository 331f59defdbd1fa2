//! The engine: exact figures, faults with their first cause, rows over the borders of blocks, and a second evaluator
//! that walks the tree, beside the engine on random programs.
#![allow(clippy::unwrap_used, clippy::panic)] // helpers of tests stand outside the test functions

#[path = "engine/beside.rs"]
mod beside;
#[path = "engine/faults.rs"]
mod faults;
#[path = "engine/random.rs"]
mod random;
#[path = "engine/slow.rs"]
mod slow;

use hardlid::engine::input::{InputTable, Inputs};
use hardlid::engine::run::{Engine, table_of_values};
use hardlid::engine::{Explain as _, explain::Explainer};
use hardlid::notation::read_book;
use hardlid::problem::render::for_people;
use hardlid::program::{BookSource, FieldId, KindId, Program, Value, compile};
use hardlid::quantity::{Decimal, Number};
use hardlid::source::{Place, Text};
use proptest::prelude::*;

fn compiled(book: &str) -> Program {
    layered(&[book])
}

/// Books upon each other, the lowest first.
fn layered(books: &[&str]) -> Program {
    let sources = books.iter().enumerate().map(|(i, book)| {
        let (book, problems) = read_book(&Text::new(format!("book {i}"), book));
        assert!(problems.is_empty(), "{}", problems.iter().map(for_people).collect::<String>());
        BookSource { lower: (0..i).collect(), ..BookSource::alone(book, &format!("book {i}")) }
    });
    match compile(sources.collect(), None, hardlid::natives()) {
        Ok((program, _)) => program,
        Err(problems) => panic!("{}\nin\n{}", problems.iter().map(for_people).collect::<String>(), books.concat()),
    }
}

fn kind(program: &Program, name: &str) -> KindId {
    program.schema.kind_named(name).unwrap()
}

fn field(program: &Program, of: &str, name: &str) -> FieldId {
    program.schema.field_named(kind(program, of), name).unwrap()
}

/// A row of values by the names of its fields.
type Cells = Vec<(&'static str, Value)>;

/// Rows of a kind, with the row that each belongs to.
struct Given<'a> {
    kind: &'a str,
    rows: Vec<Cells>,
    parents: Vec<u32>,
}

fn inputs(program: &Program, given: &[Given<'_>]) -> Inputs {
    let mut texts = program.texts.clone();
    let tables: Vec<InputTable> = given
        .iter()
        .map(|g| {
            let cells = |row: &Cells| row.iter().map(|(n, v)| (field(program, g.kind, n), v.clone())).collect();
            let rows: Vec<Vec<(FieldId, Value)>> = g.rows.iter().map(cells).collect();
            table_of_values(program, kind(program, g.kind), &rows, g.parents.clone(), &mut texts)
        })
        .collect();
    Inputs { tables, texts: texts.into(), problems: Vec::new() }
}

fn number(text: &str) -> Value {
    Value::Number(text.parse::<Decimal>().unwrap().into())
}

/// A column of numbers of a kind, faults as the words for them.
fn column(program: &Program, given: &[Given<'_>], of: &str, name: &str) -> Vec<Result<Number, String>> {
    let mut inputs = inputs(program, given);
    let mut engine = Engine::start(program, &mut inputs);
    engine.before_pricing();
    let explainer = Explainer::new(&engine, &inputs);
    let (kind, field) = (kind(program, of), field(program, of, name));
    (0..engine.run().rows_of(kind))
        .map(|row| engine.run().number(&program.schema, field, row).map_err(|f| explainer.fault(f).what))
        .collect()
}

fn whole(n: i64) -> Result<Number, String> {
    Ok(n.into())
}

const ROOMS: &str = "
rows rooms from \"Rooms\"
    id text key
    length length
    many number otherwise 1
end
";

fn rooms(lengths: impl Iterator<Item = i64>) -> Given<'static> {
    let row = |(i, mm): (usize, i64)| {
        vec![("id", Value::Text(format!("R{i}").as_str().into())), ("length", Value::Number(mm.into()))]
    };
    Given { kind: "rooms", rows: lengths.enumerate().map(row).collect(), parents: Vec::new() }
}

/// 1 ft = 304.8 mm and 1 in. = 25.4 mm (NIST SP 811): 101.6 mm is a third of a foot, four inches.
#[test]
fn a_third_of_a_foot_is_four_inches_and_three_are_a_foot() {
    let program =
        compiled(&format!("{ROOMS}for rooms\n third = length / 3\n back = third * 3\n gap = back - length\nend"));
    let given = || {
        vec![Given {
            rows: vec![vec![("id", Value::Text("a".into())), ("length", number("304.8"))]],
            ..rooms(std::iter::empty())
        }]
    };
    assert_eq!(column(&program, &given(), "rooms", "third"), [Ok("101.6".parse::<Decimal>().unwrap().into())]);
    assert_eq!(column(&program, &given(), "rooms", "back"), [Ok("304.8".parse::<Decimal>().unwrap().into())]);
    assert_eq!(column(&program, &given(), "rooms", "gap"), [whole(0)]);
}

/// 7 ft at $0.115 a foot is $0.805 in every unit of length that a rate can be written in: the factor over 304.8 mm.
#[test]
fn a_rate_is_the_same_in_every_unit_it_is_written_in() {
    let written = [
        "$0.115/ft",
        "$0.115/lf",
        "$115/MLF",
        "$11.5/CLF",
        "$0.345/yd",
        "$115/M/ft",
        "$11.5/C/ft",
        "$0.23/ft / 2",
        "$0.115/ea / 1 ft",
        "$115/M / 1 ft",
    ];
    let formulas: String = written.iter().enumerate().map(|(i, r)| format!(" c{i} = length * ({r})\n")).collect();
    // a rate by the inch, the meter and the millimeter has no short decimal: it is a quotient
    let odd =
        " d0 = length * ($1.38/in / 144)\n d1 = length * ($0.115 / 0.3048 m)\n d2 = length * ($0.115 / 304.8 mm)\n";
    let program = compiled(&format!("{ROOMS}for rooms\n{formulas}{odd}end"));
    let names = (0..written.len()).map(|i| format!("c{i}")).chain(["d1".to_owned(), "d2".to_owned()]);
    let seven_feet = || {
        vec![Given {
            rows: vec![vec![("id", Value::Text("a".into())), ("length", number("2133.6"))]],
            ..rooms(std::iter::empty())
        }]
    };
    let wanted: Number = "0.805".parse::<Decimal>().unwrap().into();
    for name in names {
        assert_eq!(column(&program, &seven_feet(), "rooms", &name), [Ok(wanted)], "{name}");
    }
    // $1.38 an inch, a 144th of it, is $0.115 a foot: 84 in. × 1.38 / 144
    assert_eq!(column(&program, &seven_feet(), "rooms", "d0"), [Ok(wanted)]);
}

/// Ten thousand lines of half a cent: each is rounded to a cent, and the sum of rounded lines is $100.00.
#[test]
fn ten_thousand_half_cents_are_a_hundred_dollars() {
    let book = format!(
        "{ROOMS}for rooms\n cost = round_near(length * $0.005/ft, to: $0.01)\n exact = length * $0.005/ft\nend
for job\n total = sum of rooms (cost)\n bare = sum of rooms (exact)\nend"
    );
    let program = compiled(&book);
    let foot = |i: usize| vec![("id", Value::Text(format!("{i}").as_str().into())), ("length", number("304.8"))];
    let given = || vec![Given { rows: (0..10_000).map(foot).collect(), ..rooms(std::iter::empty()) }];
    assert_eq!(column(&program, &given(), "job", "total"), [whole(100)]);
    assert_eq!(column(&program, &given(), "job", "bare"), [whole(50)]);
}

const CHILDREN: &str = "
rows rooms from \"Rooms\"
    id text key
    length length
    many number otherwise 1
end
rows openings from \"Openings\" belong to rooms by \"Room\"
    long length
end
for openings
    over   =  length - long
end
for rooms
    total  =  sum of openings (long)
    pieces =  count of openings
    longest = most of openings (long)
    some   =  sum of openings (over) where long > 2 mm
    twice  =  length * 2
end
for job
    all    =  sum of rooms (total)
    rows   =  count of rooms
end
";

/// Rows at the border of a block of 1,024, and their children and parents over it.
#[test]
fn children_and_parents_meet_over_the_borders_of_blocks() {
    let program = compiled(CHILDREN);
    for count in [1i64, 2, 1023, 1024, 1025, 2049] {
        // child k belongs to room (k × 7) mod count and is k mod 5 mm long
        let children = 5_000i64;
        let parent = |k: i64| (k * 7) % count;
        let given = || {
            let openings = (0..children).map(|k| vec![("long", Value::Number((k % 5).into()))]).collect();
            let parents = (0..children).map(|k| u32::try_from(parent(k)).unwrap()).collect();
            vec![rooms(0..count), Given { kind: "openings", rows: openings, parents }]
        };
        let of = |room: i64| (0..children).filter(move |k| parent(*k) == room);
        let total: Vec<_> = (0..count).map(|r| whole(of(r).map(|k| k % 5).sum())).collect();
        assert!(column(&program, &given(), "rooms", "total") == total, "{count}");
        let pieces: Vec<_> = (0..count).map(|r| whole(i64::try_from(of(r).count()).unwrap())).collect();
        assert!(column(&program, &given(), "rooms", "pieces") == pieces, "{count}");
        // a room is as many mm long as its number: its opening is less by k mod 5
        let some: Vec<_> = (0..count).map(|r| whole(of(r).filter(|k| k % 5 > 2).map(|k| r - k % 5).sum())).collect();
        assert!(column(&program, &given(), "rooms", "some") == some, "{count}");
        let over: Vec<_> = (0..children).map(|k| whole(parent(k) - k % 5)).collect();
        assert!(column(&program, &given(), "openings", "over") == over, "{count}");
        let twice: Vec<_> = (0..count).map(|r| whole(2 * r)).collect();
        assert!(column(&program, &given(), "rooms", "twice") == twice, "{count}");
        assert_eq!(column(&program, &given(), "job", "all"), [whole((0..children).map(|k| k % 5).sum())]);
        assert_eq!(column(&program, &given(), "job", "rows"), [whole(count)]);
    }
}

/// Nothing to bring together, and no rows at all.
#[test]
fn no_rows_are_no_trouble() {
    let program = compiled(CHILDREN);
    let none = || vec![rooms(std::iter::empty())];
    assert_eq!(column(&program, &none(), "rooms", "total"), []);
    assert_eq!(column(&program, &none(), "job", "all"), [whole(0)]);
    let one = || vec![rooms(std::iter::once(5))];
    assert_eq!(column(&program, &one(), "rooms", "total"), [whole(0)]);
    let longest = column(&program, &one(), "rooms", "longest");
    assert!(longest[0].as_ref().is_err_and(|what| what.contains("openings")), "{longest:?}");
}

/// A blank in one room of 2,000 stops what is worked out from it, keeps its place, and nothing else.
#[test]
fn a_fault_keeps_its_first_cause_and_place_and_stops_nothing_else() {
    let program = compiled(&format!(
        "{ROOMS}for rooms\n a = length * 2\n b = a / many\n c = b + length\n d = many * 2\nend\nfor job\n e = sum of rooms (a)\n f = count of rooms (length > 3 mm)\nend"
    ));
    let given = || {
        let mut all = rooms(1..2001);
        for (row, cells) in all.rows.iter_mut().enumerate() {
            if row == 1_500 {
                cells.remove(1);
            }
            if row == 7 {
                cells.push(("many", number("0")));
            }
        }
        vec![all]
    };
    let c = column(&program, &given(), "rooms", "c");
    let bad: Vec<usize> = (0..2000).filter(|r| c[*r].is_err()).collect();
    assert_eq!(bad, [7, 1_500]);
    assert_eq!(c[1_500], Err("Length is blank for room R1500.".to_owned()));
    assert!(c[7].as_ref().is_err_and(|what| what.contains("zero")), "{:?}", c[7]);
    assert_eq!(c[8], whole(27));
    let d = column(&program, &given(), "rooms", "d");
    assert!(d.iter().enumerate().all(|(r, v)| *v == whole(if r == 7 { 0 } else { 2 })));
    for name in ["e", "f"] {
        assert_eq!(column(&program, &given(), "job", name), [Err("Length is blank for room R1500.".to_owned())]);
    }
}

/// The place of a fault is the cell where it began.
#[test]
fn a_fault_names_the_cell_or_the_rule_where_it_began() {
    let program = compiled(&format!("{ROOMS}for rooms\n a = length * 2\n b = a + 1 / many * 1 mm\nend"));
    let mut all = rooms(1..4);
    all.rows[1].remove(1);
    all.rows[2].push(("many", number("0")));
    let mut inputs = inputs(&program, &[all]);
    let mut engine = Engine::start(&program, &mut inputs);
    engine.before_pricing();
    let explainer = Explainer::new(&engine, &inputs);
    let at = |row| engine.run().number(&program.schema, field(&program, "rooms", "b"), row).unwrap_err();
    let blank = explainer.fault(at(1));
    assert!(matches!(&blank.places[..], [Place::Cell(c)] if c.row == 1), "{blank:?}");
    let zero = explainer.fault(at(2));
    let rule =
        zero.places.iter().find_map(|p| if let Place::Book { text, span } = p { Some((text, span)) } else { None });
    let (text, span) = rule.unwrap();
    assert_eq!(&text.text[span.range()], "1 / many");
    assert!(zero.places.iter().any(|p| matches!(p, Place::Cell(c) if c.row == 2)));
}

/// A quotient that takes more than 63 bits above its bar is cut to 28 digits, whatever stands beside it in the block.
#[test]
fn long_quotients_are_cut_alike_whatever_stands_beside_them() {
    let program = compiled(&format!(
        "{ROOMS}for rooms\n part = length / many\n back = part * many\n same = (back = length) or no\nend"
    ));
    let cells =
        |mm: &str, many: &str| vec![("id", Value::Text("x".into())), ("length", number(mm)), ("many", number(many))];
    for (mm, many) in [("1234567", "0.000000300000007"), ("98765.4321", "0.000000000007"), ("3", "0.0000000000000007")]
    {
        for name in ["part", "back"] {
            let run =
                |rows: Vec<Cells>| column(&program, &[Given { rows, ..rooms(std::iter::empty()) }], "rooms", name);
            let alone = run(vec![cells(mm, many)]);
            let beside = run(vec![cells(mm, many), cells("1234567890123456789012.5", "3")]);
            assert_eq!(alone[0], beside[0], "{mm} / {many}: {name}");
        }
    }
}

/// A table's row by scanning: `up to` the least key at or above, `from` the greatest at or below, `exact` the same.
fn scanned(keys: &[i64], how: &str, asked: i64) -> Option<i64> {
    let fits = keys.iter().copied().filter(|k| match how {
        "up to" => *k >= asked,
        "from" => *k <= asked,
        _ => *k == asked,
    });
    if how == "up to" { fits.min() } else { fits.max() }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    /// Keys in eighths of an inch, questions in tenths of a millimeter and hundredths of an inch.
    #[test]
    fn a_table_look_up_finds_what_a_scan_finds(
        keys in prop::collection::btree_set(1i64..400, 1..30),
        asked in prop::collection::vec(1i64..15_000, 1..60),
        fine in any::<bool>(),
    ) {
        let keys: Vec<i64> = keys.into_iter().collect();
        for how in ["up to", "from", "exact"] {
            let rows: String = keys.iter().rev().map(|k| format!("    {k}/8\" | {k}\n")).collect();
            let program = compiled(&format!(
                "table t\n    at length, {how} | eighths number\n{rows}end\n{ROOMS}for rooms\n    got = t(length)\nend"
            ));
            // in tenths of a millimeter; an eighth of an inch is 3.175 mm, so 127 eighths meet 4,032.25 tenths
            let tenths = |n: i64| if fine { Decimal::new(n, 1) } else { Decimal::new(n * 3175, 3) };
            let cells = |n: &i64| vec![("id", Value::Text("x".into())), ("length", Value::Number(tenths(*n).into()))];
            let given = [Given { rows: asked.iter().map(cells).collect(), ..rooms(std::iter::empty()) }];
            let got = column(&program, &given, "rooms", "got");
            // both sides in ten-thousandths of a millimeter
            let scaled: Vec<i64> = keys.iter().map(|k| k * 31_750).collect();
            for (n, got) in asked.iter().zip(got) {
                let at = if fine { n * 1_000 } else { n * 31_750 };
                let wanted = scanned(&scaled, how, at).map(|k| Number::from(k / 31_750));
                prop_assert_eq!(got.ok(), wanted, "{} {}", how, n);
            }
        }
    }

    /// Rows in any order give each row the same.
    #[test]
    fn the_order_of_rows_never_matters(mut order in Just((0i64..1_500).collect::<Vec<_>>()).prop_shuffle()) {
        let program = compiled(CHILDREN);
        let worked = |order: &[i64]| column(&program, &[rooms(order.iter().copied())], "rooms", "twice");
        let shuffled = worked(&order);
        prop_assert!(order.iter().zip(shuffled).all(|(n, got)| got == whole(2 * n)));
        order.sort_unstable();
        let all = column(&program, &[rooms(order.into_iter())], "job", "rows");
        prop_assert_eq!(all, [whole(1_500)]);
    }
}

/// What an example misses comes with its working, from the figure back to the cells of the row: 14 ft and 1 ft are 15 ft,
/// which are 7.5 steps of 2 ft, and so 8.
#[test]
fn an_example_that_fails_comes_with_its_working() {
    let program = compiled(
        "rows rooms from \"Rooms\"\n    length length\n    width length\nend\n\
         for rooms\n    along = longer_of(a: length, b: width) + 1'\n    tees = round_up((along) / (2'))\nend\n\
         define longer_of(a length, b length) length  =  a when a > b, b otherwise\n\
         example \"e\"\n    rooms  length 14'\n        width 8'\n    shows tees = 7\nend\n\
         example \"f\"\n    rooms  length 14'\n    shows tees = 8\nend\n",
    );
    let told = hardlid::engine::examples::run_examples(&program);
    let working = [
        "tees = 8: round_up((along) / (2'))",
        "  along = 15'-0\": longer_of(a: length, b: width) + 1'",
        "    length = 14'-0\"",
        "    width = 8'-0\"",
    ];
    assert_eq!(told[0].working, working);
    assert!(for_people(&told[0]).contains("\n      tees = 8: round_up((along) / (2'))\n        along = 15'-0\""));
    assert_eq!(told[1].working[0], "tees has no value: round_up((along) / (2'))");
    assert_eq!(told[1].working[3], "    width has no value");
}
