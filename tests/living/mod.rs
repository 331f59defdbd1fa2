//! Random rooms and what belongs to them in a book of every way of working: what is changed in the written workbook moves
//! its cells to what the program makes of the changed rooms.

use super::{Both, bids::Dice, cents};
use calamine::{Data, Range, Reader as _};
use hardlid::bid::{Ready, Rules};
use hardlid::drawing::Painting;
use hardlid::quantity::Date;
use hardlid::workbook::carried::File;
use ironcalc::base::cell::CellValue;
use rust_xlsxwriter::Workbook;

const BOOK: &str = include_str!("book.lid");

/// Cells of a sheet, headings first; numbers are written as numbers.
type Cells = Vec<Vec<String>>;

const ROOMS: [&str; 9] = ["Room", "Length (ft)", "Width (in)", "Drop", "Grade", "Wet", "Layers", "Extra", "Share (%)"];
const OPENINGS: [&str; 6] = ["Room", "Long (in)", "Wide (in)", "Many", "Heavy", "Kind"];

/// Settings of the job, as the rooms workbook calls them.
const SETTINGS: [&str; 5] = ["Spare", "Pitch (ft)", "Round", "Least (ft)", "Ways"];

fn pick(dice: &mut Dice, from: &[&str]) -> String {
    let at = usize::try_from(dice.roll(i128::try_from(from.len()).unwrap())).unwrap();
    from[at].to_owned()
}

/// A number of so many hundredths, at least some.
fn number(dice: &mut Dice, from: i128, to: i128, places: u32) -> String {
    let step = 10i128.pow(places);
    let n = from * step + dice.roll((to - from) * step + 1);
    super::bids::decimal(n, places)
}

/// A new value for a cell of Rooms, by its column.
fn room_cell(dice: &mut Dice, column: usize) -> String {
    match column {
        1 => number(dice, 4, 60, 2),
        2 => number(dice, 48, 600, 1),
        3 => pick(dice, &["18\"", "2'-6\"", "1'-3 1/2\"", "", "3'"]),
        4 => pick(dice, &["a", "b", "c", "B"]),
        5 => pick(dice, &["yes", "no", "Yes"]),
        6 => number(dice, 1, 2, 0),
        7 => number(dice, 0, 9, 1),
        8 => number(dice, 1, 99, 0),
        _ => String::new(),
    }
}

fn opening_cell(dice: &mut Dice, column: usize) -> String {
    match column {
        1 | 2 => number(dice, 6, 72, 2),
        3 => number(dice, 1, 6, 0),
        4 => pick(dice, &["yes", "no"]),
        5 => pick(dice, &["light", "hatch", "a"]),
        _ => String::new(),
    }
}

/// A new value for a setting; where it stands for something, it may be blank.
fn setting(dice: &mut Dice, at: usize) -> String {
    if dice.roll(4) == 0 {
        return String::new();
    }
    match at {
        0 => number(dice, 0, 1, 2),
        1 => number(dice, 1, 4, 2),
        2 => pick(dice, &["yes", "no", "Yes"]),
        3 => number(dice, 3, 70, 1),
        _ => pick(dice, &["plain", "fancy", "Fancy"]),
    }
}

/// Rooms, openings and settings; a sheet of settings has no headings.
fn job(dice: &mut Dice) -> [Cells; 3] {
    let heads = |of: &[&str]| of.iter().map(|h| (*h).to_owned()).collect::<Vec<_>>();
    let (mut rooms, mut openings) = (vec![heads(&ROOMS)], vec![heads(&OPENINGS)]);
    for room in 0..4 + dice.roll(5) {
        let name = format!("R{room}");
        let mut row: Vec<String> = (0..ROOMS.len()).map(|c| room_cell(dice, c)).collect();
        row[0].clone_from(&name);
        for column in [5, 7, 8] {
            if dice.roll(4) == 0 {
                row[column].clear();
            }
        }
        rooms.push(row);
        for _ in 0..dice.roll(4) {
            let mut row: Vec<String> = (0..OPENINGS.len()).map(|c| opening_cell(dice, c)).collect();
            row[0].clone_from(&name);
            if dice.roll(3) == 0 {
                row[5].clear();
            }
            openings.push(row);
        }
    }
    // what is not named stands for what it stands for too
    let named: Vec<usize> = (0..SETTINGS.len()).filter(|_| dice.roll(4) > 0).collect();
    let settings = named.into_iter().map(|at| vec![SETTINGS[at].to_owned(), setting(dice, at)]).collect();
    [rooms, openings, settings]
}

/// A workbook of sheets; what reads as a number is one.
fn workbook(sheets: &[(&str, &Cells)]) -> Vec<u8> {
    let mut book = Workbook::new();
    for (name, rows) in sheets {
        let sheet = book.add_worksheet().set_name(*name).unwrap();
        for (row, cells) in (0u32..).zip(rows.iter()) {
            for (column, text) in (0u16..).zip(cells).filter(|(_, text)| !text.is_empty()) {
                match text.parse::<f64>() {
                    Ok(number) => sheet.write_number(row, column, number).unwrap(),
                    Err(_) => sheet.write_string(row, column, text).unwrap(),
                };
            }
        }
    }
    book.save_to_buffer().unwrap()
}

fn priced([rooms, openings, settings]: &[Cells; 3]) -> Vec<u8> {
    let sheets = [("Rooms", rooms), ("Openings", openings), ("Job", settings)];
    let file = File::new("rooms.xlsx", workbook(&sheets)).into();
    let text = |cells: &[&str]| cells.iter().map(|c| (*c).to_owned()).collect::<Vec<String>>();
    let prices = vec![
        text(&["Code", "Item", "Sold by", "Cost", "Pack"]),
        text(&["T", "Tee", "ft", "0.6049", ""]),
        // 0.62 a square foot
        text(&["B", "Board", "carton", "19.84", "32 sf"]),
        text(&["D", "Drop", "ft", "1.05", ""]),
        text(&["TR", "Trim", "roll", "33.50", "100 ft"]),
    ];
    let labor =
        vec![text(&["Code", "Work", "Hours per unit", "Unit", "Crew"]), text(&["L", "Hang", "0.011", "sf", "A"])];
    let crews = vec![text(&["Crew", "Wage", "Burden"]), text(&["A", "41.30", "25%"])];
    let yard = File::new("yard.xlsx", workbook(&[("Prices", &prices), ("Labor", &labor), ("Crews", &crews)]));
    let rules = Rules::of_today(Some(File::new("living.lid", BOOK.as_bytes())), "");
    let ready = Ready::new(&rules, Some(&yard), Date::new(2026, 3, 2).unwrap()).unwrap_or_else(|p| panic!("{p:?}"));
    let inputs = ready.inputs(&file).unwrap_or_else(|p| panic!("{p:?}"));
    let worked = ready.work_out(&file, inputs, Vec::new());
    worked.workbook(1, &Painting::default()).unwrap().bytes
}

/// Changes some cells of a job, and the same cells of the workbook that was priced from it.
fn change(dice: &mut Dice, job: &mut [Cells; 3], both: &mut Both) -> Vec<String> {
    let mut told = Vec::new();
    for _ in 0..dice.roll(3) {
        told.push(change_setting(dice, &mut job[2], both));
    }
    for _ in 0..1 + dice.roll(6) {
        let at = usize::from(job[1].len() > 1 && dice.roll(2) == 0);
        let (sheet, heads) = [("Rooms", &ROOMS[..]), ("Openings", &OPENINGS[..])][at];
        let row = 1 + usize::try_from(dice.roll(i128::try_from(job[at].len() - 1).unwrap())).unwrap();
        let column = 1 + usize::try_from(dice.roll(i128::try_from(heads.len() - 1).unwrap())).unwrap();
        let mut value = if at == 0 { room_cell(dice, column) } else { opening_cell(dice, column) };
        if at == 0 && column == 3 {
            // a drop that was typed as a text is typed anew as it was
            value.clone_from(&job[at][row][column]);
        }
        told.push(format!("{sheet} {} row {row}: {:?} to {value:?}", heads[column], job[at][row][column]));
        let (head, left) = both.find(sheet, heads[column]);
        let cell = (head + u32::try_from(row).unwrap(), left);
        match value.parse::<f64>() {
            Ok(number) => both.put(sheet, cell, number),
            Err(_) => both.put_text(sheet, cell, &value),
        }
        job[at][row][column] = value;
    }
    both.model.evaluate();
    told
}

/// Changes a setting, and its cell on the sheet Job, whether it was given or not.
fn change_setting(dice: &mut Dice, settings: &mut Cells, both: &mut Both) -> String {
    let at = usize::try_from(dice.roll(5)).unwrap();
    let value = setting(dice, at);
    let label = SETTINGS[at].trim_end_matches(" (ft)");
    let (row, left) = both.find("Job", label);
    let on_bid = both.anew("Job", (row, left + 1)) == CellValue::String("on Bid".to_owned());
    let (sheet, (row, left)) = if on_bid { ("Bid", both.find("Bid", label)) } else { ("Job", (row, left)) };
    match value.parse::<f64>() {
        Ok(number) => both.put(sheet, (row, left + 1), number),
        Err(_) => both.put_text(sheet, (row, left + 1), &value),
    }
    let told = format!("Job {}: {value:?}", SETTINGS[at]);
    match settings.iter_mut().find(|line| line[0] == SETTINGS[at]) {
        Some(line) => line[1] = value,
        None => settings.push(vec![SETTINGS[at].to_owned(), value]),
    }
    told
}

/// What differs between worked-out cells as they moved and as the program works them out from the changed rooms.
fn differences(moved: &mut Both, anew: &mut Both) -> Vec<String> {
    let mut out = Vec::new();
    for (sheet, last) in [("Rooms", "Hours"), ("Openings", "Named")] {
        if !anew.has(sheet) {
            continue;
        }
        let first = if sheet == "Rooms" { "Run (ft)" } else { "Hole (sf)" };
        let ((head, from), (_, to)) = (anew.find(sheet, first), anew.find(sheet, last));
        let range = anew.sheet(sheet);
        for row in head + 1..=range.end().unwrap().0 {
            for column in from..=to {
                let (stored, cell) = (range.get_value((row, column)).unwrap(), moved.anew(sheet, (row, column)));
                let same = match (stored, &cell) {
                    // what the program has no value for, the worksheet has none for either
                    (Data::String(a), CellValue::String(b)) => a == b || b.starts_with('#'),
                    (Data::Float(a), CellValue::Number(b)) => (a - b).abs() <= 1e-9 * (1.0 + a.abs()),
                    _ => false,
                };
                if !same {
                    let head = range.get_value((head, column)).unwrap();
                    out.push(format!("{sheet} row {} {head}: {stored:?} by the program, {cell:?} moved", row + 1));
                }
            }
        }
    }
    out.extend(ordered_otherwise(moved, anew));
    let total = anew.find("Bid", "Total");
    let stored = anew.sheet("Bid");
    let Some(Data::Float(total)) = stored.get_value((total.0, total.1 + 2)) else { panic!("no total") };
    let now = moved.amount("Total");
    if Some(now) != cents(*total) {
        out.push(format!("the total: {total} by the program, {now} cents moved"));
    }
    out
}

/// What differs on Order: what is sold in packs follows the lines, and a cutting plan says whether it still holds.
fn ordered_otherwise(moved: &mut Both, anew: &mut Both) -> Vec<String> {
    let mut out = Vec::new();
    let (before, after) = (moved.sheet("Order"), anew.sheet("Order"));
    let (_, since) = moved.find("Order", "Since pricing");
    for row in 1..=4 {
        let code = |sheet: &Range<Data>, row| sheet.get_value((row, 0)).unwrap().to_string();
        let Some(new) = (1..=4).find(|new| code(&after, *new) == code(&before, row)) else { continue };
        let number = |column| match after.get_value((new, column)) {
            Some(Data::Float(n)) => *n,
            other => panic!("Order row {} column {column}: {other:?}", new + 1),
        };
        let is = |column: u32| match moved.anew("Order", (row, column)) {
            CellValue::Number(n) => (n - number(column)).abs() <= 1e-9 * (1.0 + n.abs()),
            _ => false,
        };
        // used, and what follows from it: bought, left over, cost, cost of what is left over
        let wrong: Vec<u32> = if code(&before, row) == "T" { vec![2] } else { vec![2, 4, 6, 10, 11] };
        out.extend(wrong.into_iter().filter(|c| !is(*c)).map(|c| format!("Order {} column {c}", code(&before, row))));
        let Some(Data::Float(used)) = before.get_value((row, 2)) else { panic!("nothing used") };
        let same = (used - number(2)).abs() < 1e-7;
        if same != super::text(&moved.anew("Order", (row, since))).is_empty() {
            out.push(format!("Order {}: since pricing", code(&before, row)));
        }
    }
    out
}

fn moves(seed: u64) {
    let mut dice = Dice::new(seed);
    let mut job = job(&mut dice);
    let mut both = Both::of(&priced(&job));
    let wrong = both.differences();
    assert!(wrong.is_empty(), "job {seed}\n{}", wrong.join("\n"));
    let told = change(&mut dice, &mut job, &mut both);
    let mut anew = Both::of(&priced(&job));
    let wrong = differences(&mut both, &mut anew);
    assert!(wrong.is_empty(), "job {seed}, {}\n{}", told.join("; "), wrong.join("\n"));
}

/// No worked-out cell of this book stays as it was: each is a formula, where it has a value at all.
#[test]
fn every_way_of_working_becomes_a_formula() {
    let mut both = Both::of(&priced(&job(&mut Dice::new(7))));
    for (sheet, first, last) in [("Rooms", "Run (ft)", "Hours"), ("Openings", "Hole (sf)", "Named")] {
        let ((head, from), (_, to)) = (both.find(sheet, first), both.find(sheet, last));
        let (range, formulas) = (both.sheet(sheet), both.stored.worksheet_formula(sheet).unwrap());
        for column in from..=to {
            let rows = head + 1..=range.end().unwrap().0;
            let values: Vec<u32> =
                rows.filter(|r| matches!(range.get_value((*r, column)), Some(Data::Float(_)))).collect();
            let is_live = |r: &u32| formulas.get_value((*r, column)).is_some_and(|f| !f.is_empty());
            let what = range.get_value((head, column)).unwrap();
            assert!(values.iter().all(is_live), "{sheet} {what}");
        }
    }
    let (lines, need) = both.find("Lines", "Need");
    let formulas = both.stored.worksheet_formula("Lines").unwrap();
    assert!(formulas.get_value((lines + 1, need)).unwrap().starts_with("(Rooms!"));
}

#[test]
fn cells_move_as_the_program_would_work_them_out() {
    (0..20).for_each(moves);
}

/// See DEVELOPERS.md.
#[test]
#[ignore = "takes minutes"]
fn cells_of_five_hundred_jobs_move_as_the_program_would_work_them_out() {
    (20..520).for_each(moves);
}
