//! Whatever is bid, at whatever price: lines foot to rooms, to levels and to the total, to the cent. What each figure
//! must be is worked out beside the program in whole numbers (`footing/bids.rs`).
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

#[path = "footing/bids.rs"]
mod bids;

use bids::{ALTERNATES, Bid, Dice, HOUSE, ITEMS, Marks, Sums};
use hardlid::bid::{Rules, compiled};
use hardlid::engine::Inputs;
use hardlid::pricing::{Priced, price_rows};
use hardlid::program::{LineKind, Program};
use hardlid::quantity::Date;
use hardlid::workbook::carried::File;
use hardlid::workbook::grid::{Cell, Grid};
use hardlid::workbook::open::{Book, open};
use hardlid::workbook::prices::read_price_book;
use hardlid::workbook::rows::read_rooms_and_job;
use rust_xlsxwriter::Workbook;

/// A workbook that has the sheet Job alone.
fn job_book(marks: Marks) -> Book {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet().set_name("Job").unwrap();
    for (row, [name, value]) in (0u32..).zip(marks.rows()) {
        sheet.write_string(row, 0, name).unwrap().write_string(row, 1, value).unwrap();
    }
    open("yard.xlsx", book.save_to_buffer().unwrap()).unwrap()
}

fn inputs(program: &Program, bid: &Bid, job: &mut Book) -> Inputs {
    let quoted = |cell: &String| format!("\"{}\"", cell.replace('"', "\"\""));
    let lines: Vec<String> =
        bid.rows().iter().map(|row| row.iter().map(quoted).collect::<Vec<_>>().join(",")).collect();
    let mut rooms = open("rooms.csv", lines.join("\n").into_bytes()).unwrap();
    read_rooms_and_job(&mut rooms, Some(job), &program.schema, program.texts.clone()).unwrap()
}

fn priced(program: &Program, bid: &Bid, job: &mut Book) -> Priced {
    let cell = |text: &String| Cell::Text(text.as_str().into());
    let grid = |(sheet, rows): (&str, Vec<Vec<String>>)| Grid {
        file: "yard.xlsx".into(),
        sheet: sheet.into(),
        rows: rows.iter().map(|row| row.iter().map(cell).collect()).collect(),
    };
    let (book, told) = read_price_book(&bid.price_sheets().map(grid), Date::new(2026, 3, 2).unwrap());
    assert!(told.is_empty(), "{told:?}");
    let mut inputs = inputs(program, bid, job);
    assert!(inputs.problems.is_empty(), "{:?}", inputs.problems);
    price_rows(program, &mut inputs, Some(&book), &bid.own_entries()).1
}

/// Everything that must foot, of one bid.
fn foots(seed: u64, bid: &Bid, priced: &Priced) {
    let at = || format!("bid {seed}: {bid:#?}");
    assert_eq!(priced.stopped, 0, "{:?} {}", priced.findings, at());
    assert!(priced.own_left.is_empty(), "{:?} {}", priced.findings, at());
    // each line, and by room
    assert_eq!(priced.lines.len(), bid.rooms.iter().map(bids::Room::lines).sum::<usize>() + 1, "{}", at());
    let mut of_rooms = vec![0i128; bid.rooms.len()];
    let mut of_kinds = [0i128; 2];
    for line in &priced.lines {
        let cost = i128::from(line.cost.unwrap());
        let Some(room) = line.room.map(|r| r as usize) else {
            assert_eq!(cost, 10_000);
            of_kinds[0] += cost;
            continue;
        };
        let item = ITEMS.iter().position(|i| i[1] == &*line.code).unwrap();
        assert_eq!(cost, bid.cost(&bid.rooms[room], item), "room {room}, {} {}", line.code, at());
        assert_eq!(line.apart, !bid.rooms[room].is_in(), "room {room} {}", at());
        of_rooms[room] += cost;
        if !line.apart {
            of_kinds[usize::from(line.kind == LineKind::Labor)] += cost;
        }
    }
    for (room, sum) in of_rooms.iter().enumerate() {
        assert_eq!(priced.rooms[room].cost.map(i128::from), Some(*sum), "room {room} {}", at());
    }
    // the sums of the bid
    let sums = bid.sums(&bids::Room::is_in);
    let told =
        Sums { material: priced.material.into(), labor: priced.labor.into(), total: priced.total.unwrap().into() };
    assert_eq!(told, sums, "{}", at());
    assert_eq!(of_kinds, [sums.material, sums.labor], "{}", at());
    levels_foot(bid, priced, &sums, &at);
    for (number, name) in ALTERNATES.iter().enumerate().skip(1) {
        let found = priced.alternates.iter().find(|a| *a.name == **name);
        assert_eq!(found.is_some(), bid.rooms.iter().any(|r| r.alternate == number), "{name} {}", at());
        let with = bid.sums(&|room| room.is_in_with(number)).total;
        if let Some(alternate) = found {
            assert_eq!(i128::from(alternate.price), with - sums.total, "{name} {}", at());
        }
    }
}

/// Levels: the lines of each, and their shares of the total.
fn levels_foot(bid: &Bid, priced: &Priced, sums: &Sums, at: &dyn Fn() -> String) {
    let mut levels = bid.levels();
    if levels.is_empty() {
        return assert!(priced.parts.is_empty(), "{}", at());
    }
    for part in &priced.parts {
        let direct = i128::from(part.figures.material) + i128::from(part.figures.labor);
        // a level whose rooms are all added by alternates has no lines of the bid
        let found = levels.remove(&part.name.to_lowercase()).unwrap_or(0);
        assert_eq!(direct, found, "{} {}", part.name, at());
    }
    assert!(levels.is_empty(), "no part {levels:?} {}", at());
    let shares: i128 = priced.parts.iter().map(|p| i128::from(p.price)).sum();
    assert_eq!(shares, sums.total, "{}", at());
}

/// Prices bids by one compiled book; every 50th job has other mark-ups.
fn bids_foot(seeds: std::ops::Range<u64>) {
    let house = File::new("house.lid", HOUSE.as_bytes());
    let (program, told) = compiled(&Rules::of_today(Some(house), ""), None).unwrap_or_else(|p| panic!("{p:?}"));
    assert!(told.is_empty(), "{told:?}");
    let mut job: Option<(Marks, Book)> = None;
    for seed in seeds {
        let mut dice = Dice::new(seed);
        if seed % 50 == 0 || job.is_none() {
            let marks = Marks::random(&mut dice);
            job = Some((marks, job_book(marks)));
        }
        let (marks, book) = job.as_mut().unwrap();
        let bid = Bid::random(&mut dice, *marks);
        foots(seed, &bid, &priced(&program, &bid, book));
    }
}

#[test]
fn a_thousand_bids_foot() {
    bids_foot(0..1_000);
}

/// Under a minute: see DEVELOPERS.md.
#[test]
#[ignore = "takes most of a minute"]
fn ten_thousand_bids_foot() {
    bids_foot(0..10_000);
}

/// 10 ft at $0.0049 are 4.9 cents, 5; 1/64 in. more is 4.9006 cents. 3/4 of a cent is a cent, half a cent too.
#[test]
fn the_reckoning_beside_the_program_is_right_where_a_hand_can_follow() {
    let typed = [(); 4].map(|()| bids::Typed::default());
    let room = |long: i128| bids::Room {
        level: "1",
        long,
        wide: 7_680,
        wires: 3,
        alternate: 0,
        deducted: false,
        typed: typed.clone(),
    };
    let marks = Marks { overhead: 10, margin: 20, tax: 8, waste: 5 };
    let bid = Bid { rooms: vec![room(7_680)], marks, prices: [49, 6_200_000, 2_500], labor: [110, 4_000, 25] };
    // 10 ft x 0.0049 = 0.049; 10 x 10 ft and 5% are 105 sf at 0.62 = 65.10; 3 wires at 0.0025 = 0.0075; 10 ft x 0.011 h
    // are 0.11 h at 40.00 x 1.25 = 50.00, 5.50
    assert_eq!([0, 1, 2, 3].map(|item| bid.cost(&bid.rooms[0], item)), [5, 6_510, 1, 550]);
    // 100.00 + 65.16 = 165.16 and 5.50 are 170.66; 10% 17.07 (17.066); 187.73 x 20 / 80 = 46.93 (46.9325); 8% of 234.66
    // is 18.77 (18.7728); 253.43
    assert_eq!(bid.sums(&|_| true), Sums { material: 16_516, labor: 550, total: 25_343 });
    assert_eq!(bids::feet(7_681), "10'-0 1/64\"");
    assert_eq!(bid.cost(&room(7_681), 0), 5);
}
