//! The second evaluator beside the engine, on random books and rows; and the engine's two ways beside each other.

use super::random::{Dice, KINDS, books};
use super::slow::{Exact, Out, Row, Slow, Why, World};
use super::{Cells, Given, field, inputs, layered};
use hardlid::engine::run::Engine;
use hardlid::program::node::Cause;
use hardlid::program::resolve::days_of;
use hardlid::program::{FieldId, Type, Value};
use hardlid::quantity::{Date, Decimal, Number};
use proptest::prelude::*;
use proptest::test_runner::{TestCaseError, TestRunner};
use std::cell::RefCell;

fn decimal(dice: &mut Dice, wide: bool, whole: u64, places: u32) -> Value {
    let top = if wide { 9_000_000_000_000 } else { whole };
    let n = i64::try_from(dice.roll(top)).unwrap() - i64::try_from(top / 4).unwrap();
    // now and then one beyond 64 bits
    if wide && dice.roll(5) == 0 {
        return Value::Number(Decimal::from_i128_with_scale(i128::from(n) * 1_000_000_007_003, places).into());
    }
    Value::Number(Decimal::new(n, places).into())
}

fn small(dice: &mut Dice) -> Value {
    Value::Number(i64::try_from(dice.roll(5)).unwrap().into())
}

fn date(dice: &mut Dice) -> Value {
    let days = jiff::Span::new().days(i64::try_from(dice.roll(40)).unwrap());
    Value::Date(Date::constant(2026, 11, 1).checked_add(days).unwrap())
}

/// One column of every kind for a random room; `z` and `due` are sometimes blank.
fn room(dice: &mut Dice, wide: bool) -> Cells {
    let mut row = vec![
        ("a", decimal(dice, wide, 400, 1)),
        ("b", small(dice)),
        ("n", small(dice)),
        ("x", decimal(dice, wide, 60_000, 1)),
        ("y", decimal(dice, wide, 4_000_000, 4)),
        ("s", decimal(dice, wide, 90_000_000, 2)),
        ("m", decimal(dice, wide, 100_000, 2)),
        ("r", decimal(dice, wide, 10_000, 3)),
        ("p", decimal(dice, wide, 300, 3)),
        ("w", Value::YesNo(dice.roll(2) == 0)),
        ("t", Value::Text(dice.pick(&["a", "B", "c", "A"]).into())),
        ("day", date(dice)),
    ];
    if dice.roll(3) > 0 {
        row.push(("z", small(dice)));
    }
    if dice.roll(3) > 0 {
        row.push(("due", date(dice)));
    }
    row
}

fn opening(dice: &mut Dice, wide: bool) -> Cells {
    let mut row = vec![
        ("long", decimal(dice, wide, 30_000, 1)),
        ("many", small(dice)),
        ("side", Value::Text(dice.pick(&["a", "b", "C"]).into())),
    ];
    if dice.roll(3) > 0 {
        row.push(("cost", decimal(dice, wide, 9_000, 2)));
    }
    row
}

/// Rooms, openings, and the room of each opening.
fn rows(dice: &mut Dice, rooms: u64, wide: bool) -> (Vec<Cells>, Vec<Cells>, Vec<u32>) {
    let all: Vec<Cells> = (0..rooms).map(|i| room(dice, wide && i % 2 == 0)).collect();
    let mut openings = Vec::new();
    for _ in 0..dice.roll(rooms * 3) {
        let wide = wide && dice.roll(2) == 0;
        openings.push(opening(dice, wide));
    }
    let parents = openings.iter().map(|_| u32::try_from(dice.roll(rooms)).unwrap()).collect();
    (all, openings, parents)
}

/// The row as the second evaluator sees it: $/m and the like are in base units for both.
fn slow_row(cells: &Cells, blank: &[&str]) -> Row {
    let mut out: Row = blank.iter().map(|n| ((*n).to_owned(), Out::fault(Why::Missing))).collect();
    for (name, value) in cells {
        let value = match value {
            Value::Number(n) => Slow::Number(Exact::of(n)),
            Value::Text(t) => Slow::Text(t.to_string()),
            Value::YesNo(v) => Slow::YesNo(*v),
            Value::Date(d) => Slow::Number(Exact::of(&days_of(*d).into())),
        };
        out.insert((*name).to_owned(), Out::of(value));
    }
    out
}

/// What the engine gives at a row, as the second evaluator would say it.
fn engine_says(engine: &Engine<'_>, id: FieldId, row: usize) -> Result<Value, Why> {
    let (program, run) = (engine.program(), engine.run());
    let value = match program.schema.field(id).ty {
        Type::Text => run.text(id, row).map(|t| Value::Text(std::sync::Arc::clone(t))),
        Type::YesNo => run.yes_no(id, row).map(Value::YesNo),
        _ => run.number(&program.schema, id, row).map(Value::Number),
    };
    value.map_err(|fault| match program.sites[fault.site.0 as usize].cause {
        Cause::Missing(_) => Why::Missing,
        Cause::DivideByZero => Why::DivideByZero,
        Cause::TooLarge | Cause::Outgrown(_) => Why::TooLarge,
        Cause::NoRow(_) => Why::NoRow,
        Cause::NotACount => Why::NotACount,
        Cause::Nothing(_) => Why::Nothing,
        Cause::NegativeRoot => Why::NegativeRoot,
        _ => Why::Unknown,
    })
}

fn agree(slow: &Out, engine: &Result<Value, Why>) -> bool {
    match (&slow.value, engine) {
        (Err(Why::Unknown), _) => true,
        (_, Err(Why::TooLarge)) if slow.maybe => true,
        (Ok(Slow::Number(a)), Ok(Value::Number(b))) => a.is(b),
        (Ok(Slow::Text(a)), Ok(Value::Text(b))) => *a == **b,
        (Ok(Slow::YesNo(a)), Ok(Value::YesNo(b))) => a == b,
        (Err(a), Err(b)) => a == b,
        _ => false,
    }
}

/// Counts of what was compared.
#[derive(Default, Debug)]
struct Seen {
    exact: usize,
    cut: usize,
    faults: usize,
    large: usize,
    unknown: usize,
}

impl Seen {
    fn count(&mut self, ours: &Out) {
        *match &ours.value {
            Err(Why::Unknown) => &mut self.unknown,
            Err(Why::TooLarge) => &mut self.large,
            Err(_) => &mut self.faults,
            Ok(Slow::Number(n)) if n.off > num_rational::Ratio::default() => &mut self.cut,
            Ok(_) => &mut self.exact,
        } += 1;
    }
}

fn given(rooms: Vec<Cells>, openings: Vec<Cells>, parents: Vec<u32>) -> [Given<'static>; 2] {
    [Given { kind: "rooms", rows: rooms, parents: Vec::new() }, Given { kind: "openings", rows: openings, parents }]
}

fn compare(seed: u64, seen: &mut Seen) -> Result<(), TestCaseError> {
    let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
    let texts = books(&mut dice);
    let program = layered(&[&texts[0], &texts[1]]);
    let wide = seed % 3 == 0;
    let (rooms, openings, parents) = rows(&mut dice, 5, wide);
    let world = World {
        books: &program.books,
        rows: [
            ("rooms", rooms.iter().map(|r| slow_row(r, &["z", "due"])).collect()),
            ("openings", openings.iter().map(|r| slow_row(r, &["cost"])).collect()),
        ]
        .into(),
        parents: parents.iter().map(|p| *p as usize).collect(),
        done: RefCell::default(),
    };
    let mut read = inputs(&program, &given(rooms.clone(), openings.clone(), parents));
    let mut engine = Engine::start(&program, &mut read);
    engine.before_pricing();
    for (of, cells, letter, many) in [("rooms", &rooms, 'f', KINDS.len()), ("openings", &openings, 'g', 5)] {
        for (row, cells) in cells.iter().enumerate() {
            for name in (0..many).map(|i| format!("{letter}{i}")) {
                let ours = world.named(of, row, &name);
                let theirs = engine_says(&engine, field(&program, of, &name), row);
                seen.count(&ours);
                prop_assert!(
                    agree(&ours, &theirs),
                    "{} {} of {:?}\nslow {:?}\nengine {:?}\nin\n{}",
                    of,
                    name,
                    cells,
                    ours,
                    theirs,
                    texts.concat()
                );
            }
        }
    }
    Ok(())
}

/// Random books of two layers over random rows, small values and values beyond 64 bits. `PROPTEST_CASES` asks for more.
#[test]
fn a_slow_second_evaluator_agrees() {
    let config = ProptestConfig { failure_persistence: None, max_shrink_iters: 0, ..ProptestConfig::default() };
    let cases = usize::try_from(config.cases).unwrap();
    let seen = RefCell::new(Seen::default());
    let ran = TestRunner::new(config).run(&any::<u64>(), |seed| compare(seed, &mut seen.borrow_mut()));
    if let Err(why) = ran {
        panic!("{why}");
    }
    let seen = seen.into_inner();
    assert!(seen.exact > 20 * cases && seen.faults > 4 * cases, "{seen:?}");
    assert!(seen.cut > cases && seen.large > cases / 20, "{seen:?}");
    assert!(seen.unknown < seen.exact / 10, "{seen:?}");
}

/// A row with huge values sends its whole block the exact way: the digits of the other rows must not change, and
/// neither may they with the order of the rows.
#[test]
fn the_64_bit_way_and_the_exact_way_give_the_same_digits() {
    for seed in 1..=500u64 {
        let mut dice = Dice(seed.wrapping_mul(0x2545_f491_4f6c_dd1d));
        let texts = books(&mut dice);
        let program = layered(&[&texts[0], &texts[1]]);
        let (rooms, openings, parents) = rows(&mut dice, 8, false);
        let huge = |mut row: Cells| {
            for (name, value) in &mut row {
                if let (Value::Number(n), false) = (&value, *name == "p") {
                    *value = Value::Number(n.plus(&Number::from(8_765_432_109_876_543i64)).unwrap());
                }
            }
            row
        };
        let (beside_room, beside_opening) = (huge(room(&mut dice, true)), huge(opening(&mut dice, true)));
        let run = |rooms: Vec<Cells>, openings: Vec<Cells>, parents: Vec<u32>| {
            let mut read = inputs(&program, &given(rooms, openings, parents));
            let mut engine = Engine::start(&program, &mut read);
            engine.before_pricing();
            let id = |name: String| field(&program, "rooms", &name);
            let says = |row| (0..KINDS.len()).map(|i| engine_says(&engine, id(format!("f{i}")), row)).collect();
            (0..8).map(says).collect::<Vec<Vec<_>>>()
        };
        let alone = run(rooms.clone(), openings.clone(), parents.clone());
        let beside = run(
            rooms.iter().cloned().chain([beside_room]).collect(),
            openings.iter().cloned().chain([beside_opening]).collect(),
            parents.iter().copied().chain([8]).collect(),
        );
        assert_eq!(alone, beside, "seed {seed}\n{}", texts.concat());
        let backward: Vec<Cells> = rooms.into_iter().rev().collect();
        let mut backward = run(backward, openings, parents.iter().map(|p| 7 - p).collect());
        backward.reverse();
        assert_eq!(alone, backward, "seed {seed}\n{}", texts.concat());
    }
}
