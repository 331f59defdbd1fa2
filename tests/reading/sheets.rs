//! Messy but readable sheets.

use crate::books::*;
use hardlid::engine::{RawCell, Texts};
use hardlid::problem::Weight;
use hardlid::workbook::rows::read_rooms;

const HEAD: &[V] = &[T("Room"), T("Length (ft)"), T("Width (ft)")];

#[test]
fn the_heading_row_is_found_below_titles_and_blank_rows_with_columns_in_any_order() {
    let inputs = rooms(&[
        &[T("Ceilings, third floor")],
        &[],
        &[T("Drawings of"), D(2026, 11, 2)],
        &[T("Remarks"), T("  WIDTH,\n in. "), T("Area"), T("rm"), T("length (ft):")],
        &[T("by window"), N(120.0), N(80.0), N(101.0), N(20.0)],
    ]);
    assert!(stops(&inputs).is_empty(), "{:#?}", inputs.problems);
    // 20 ft = 6096 mm, 120 in. = 3048 mm
    assert_eq!((mm(&inputs, "length", 0), mm(&inputs, "width", 0)), (Some("6096".into()), Some("3048".into())));
    assert_eq!(text(&inputs, "id", 0), "101");
    let origin = &table(&inputs, ROOMS).origin;
    assert_eq!((origin.heading_row, origin.rows.clone()), (3, vec![4]));
    assert_eq!(origin.cell(0, Some(2)).to_string(), "rooms.xlsx, Rooms!B5");
}

#[test]
fn lengths_as_texts_and_as_numbers_stand_side_by_side() {
    let inputs = rooms(&[HEAD, &[T("1"), T("10'-3 1/2\""), N(12.37)], &[T("2"), T("3.14 m"), T("8½\"")]]);
    // 12.37 ft = 3770.376 mm
    assert_eq!((mm(&inputs, "length", 0), mm(&inputs, "width", 0)), (Some("3136.9".into()), Some("3770.376".into())));
    assert_eq!((mm(&inputs, "length", 1), mm(&inputs, "width", 1)), (Some("3140".into()), Some("215.9".into())));
    assert!(inputs.problems.is_empty(), "{:#?}", inputs.problems);
}

#[test]
fn a_bare_number_without_a_unit_in_heading_or_book_is_refused_once_with_its_places() {
    let inputs = rooms(&[
        &[T("Room"), T("Length"), T("Width (ft)")],
        &[T("1"), N(20.0), N(10.0)],
        &[T("2"), T("20'"), N(10.0)],
        &[T("3"), T("12.5"), N(10.0)],
    ]);
    let problem = only(&inputs, "number without a unit");
    assert_eq!(
        (problem.weight, problem.places.len(), place(problem)),
        (Weight::Stop, 2, "rooms.xlsx, Rooms!B2".to_owned())
    );
    assert!(problem.what.starts_with("2 cells were refused in Length"), "{}", problem.what);
    assert_eq!(table(&inputs, ROOMS).stopped, [true, false, true]);
    assert_eq!((mm(&inputs, "length", 0), mm(&inputs, "length", 1)), (None, Some("6096".into())));
}

#[test]
fn a_unit_in_the_books_own_heading_serves_bare_numbers() {
    let mut schema = schema();
    schema.fields[1].input.as_mut().unwrap().headings.push("Length (in.)".to_owned());
    let bytes = workbook(&[("Rooms", &[&[T("Room"), T("Length"), T("Width (ft)")], &[T("1"), N(120.0), N(10.0)]])]);
    let inputs = read_rooms(&mut opened("rooms.xlsx", bytes), &schema, Texts::default()).unwrap();
    assert_eq!(mm(&inputs, "length", 0), Some("3048".into()));
}

#[test]
fn numbers_stored_as_text_are_read_and_said_once() {
    let inputs = rooms(&[HEAD, &[T("1"), T("20"), T("10.5")], &[T("2"), T("20"), N(10.0)]]);
    assert_eq!((mm(&inputs, "length", 1), mm(&inputs, "width", 0)), (Some("6096".into()), Some("3200.4".into())));
    let said = of_kind(&inputs, "number stored as text");
    assert_eq!(said.iter().map(|p| p.places.len()).collect::<Vec<_>>(), [2, 1]);
    assert!(said.iter().all(|p| p.weight == Weight::Note));
    assert!(stops(&inputs).is_empty());
}

#[test]
fn a_numeric_room_number_is_read_as_it_is_written() {
    let inputs =
        rooms(&[HEAD, &[N(101.0), N(20.0), N(10.0)], &[N(101.5), N(20.0), N(10.0)], &[T("007"), N(20.0), N(10.0)]]);
    assert_eq!([0, 1, 2].map(|r| text(&inputs, "id", r)), ["101", "101.5", "007"]);
}

#[test]
fn blank_rows_totals_and_repeated_headings_are_left_out_and_said() {
    let inputs = rooms(&[
        HEAD,
        &[T("1"), N(20.0), N(10.0)],
        &[],
        &[T(" "), O, O],
        &[T("ROOM"), T("length (ft)"), T("Width (ft)")],
        &[T("2"), N(20.0), N(10.0)],
        &[T("Total"), N(40.0), N(20.0)],
        &[],
    ]);
    assert_eq!(table(&inputs, ROOMS).origin.rows, [1, 5]);
    assert!(only(&inputs, "blank rows").what.starts_with("2 rows were blank"));
    assert_eq!(place(only(&inputs, "totals row")), "rooms.xlsx, Rooms row 7");
    assert_eq!(place(only(&inputs, "repeated headings")), "rooms.xlsx, Rooms row 5");
    assert!(stops(&inputs).is_empty(), "{:#?}", inputs.problems);
}

#[test]
fn a_total_beside_a_blank_room_number_is_left_out_too() {
    let inputs = rooms(&[
        &[T("Room"), T("Length (ft)"), T("Width (ft)"), T("Remarks")],
        &[T("1"), N(20.0), N(10.0), T("total height 9'")],
        &[O, N(20.0), N(10.0), T("Grand total:")],
        &[O, O, O, T("checked by the office")],
    ]);
    assert_eq!(table(&inputs, ROOMS).rows, 1);
    only(&inputs, "totals row");
    assert_eq!(place(only(&inputs, "row without values")), "rooms.xlsx, Rooms row 4");
}

#[test]
fn columns_that_the_book_does_not_name_travel_through() {
    let inputs = rooms(&[
        &[T("Room"), T("Finish"), T("Length (ft)"), T("Width (ft)"), T("Count"), T("Checked")],
        &[T("1"), T("paint"), N(20.0), N(10.0), N(3.5), B(true)],
        &[T("2"), O, N(20.0), N(10.0), E("#N/A"), D(2026, 1, 2)],
    ]);
    let columns = &table(&inputs, ROOMS).origin.columns;
    assert_eq!(columns.iter().map(|c| c.field).collect::<Vec<_>>(), [Some(0), None, Some(1), Some(2), None, None]);
    assert!(matches!(columns[1].cells[..], [RawCell::Text(_), RawCell::Empty]));
    assert!(matches!(columns[4].cells[..], [RawCell::Number(3.5), RawCell::Error(_)]));
    // 2 January 2026 is day 46024 counted from 1900
    assert_eq!(columns[5].cells, [RawCell::YesNo(true), RawCell::Date(46024.0)]);
    assert!(inputs.problems.is_empty(), "{:#?}", inputs.problems);
}

#[test]
fn blanks_take_their_default_or_are_missing() {
    let inputs = rooms(&[HEAD, &[T("1"), N(20.0), N(10.0)]]);
    assert_eq!((mm(&inputs, "hang", 0), mm(&inputs, "layers", 0)), (Some("457.2".into()), Some("1".into())));
    assert_eq!(text(&inputs, "sdc", 0), "B");
    let spaced = table(&inputs, ROOMS).columns[5].fault(0).unwrap();
    // the sixth field of the schema: its missing site is 2 × 5
    assert_eq!((spaced.site.0, spaced.row), (10, 0));
    assert_eq!(table(&inputs, ROOMS).stopped, [false]);
}

#[test]
fn percents_loads_dates_and_yes_or_no_are_read_into_their_columns() {
    let inputs = rooms(&[
        &[T("Room"), T("Length (ft)"), T("Width (ft)"), T("Load (psf)"), T("Waste %"), T("Due"), T("Rated")],
        &[T("1"), N(20.0), N(10.0), N(2.75), N(5.0), D(2026, 11, 25), T("Yes")],
        &[T("2"), N(20.0), N(10.0), T("2.75 psf"), T("5%"), T("Nov 25, 2026"), B(true)],
    ]);
    assert!(inputs.problems.is_empty(), "{:#?}", inputs.problems);
    for row in 0..2 {
        assert_eq!(mm(&inputs, "waste", row), Some("0.05".into()));
        // 25 November 2026 is day 20782 counted from 1 January 1970
        assert_eq!(mm(&inputs, "due", row), Some("20782".into()));
        let (chunk, at) = table(&inputs, ROOMS).columns[7].locate(row);
        // kept in pounds by square foot
        assert_eq!(chunk.number(at).unwrap().to_decimal().to_string(), "2.75");
        let (chunk, at) = table(&inputs, ROOMS).columns[8].locate(row);
        assert_eq!(chunk.yes_no(at), Some(true));
    }
}

#[test]
fn children_find_their_parent_whatever_the_case_or_kind_of_cell() {
    let inputs = read(&[
        ("Rooms", &[HEAD, &[T("A1"), N(20.0), N(10.0)], &[N(102.0), N(20.0), N(10.0)]]),
        ("opening", &[&[T("Room"), T("Long (in)"), T("Many")], &[T("102"), N(24.0), N(2.0)], &[T(" a1 "), N(48.0), O]]),
    ]);
    assert_eq!(table(&inputs, OPENINGS).parents, [1, 0]);
    assert_eq!(base(&inputs, OPENINGS, "long", 1), Some("1219.2".into()));
    assert_eq!(base(&inputs, OPENINGS, "many", 1), Some("1".into()));
    assert!(inputs.problems.is_empty(), "{:#?}", inputs.problems);
}

#[test]
fn the_job_is_a_list_of_names_and_values() {
    let inputs = read(&[
        ("Rooms", &[HEAD, &[T("1"), N(20.0), N(10.0)]]),
        (
            "Job",
            &[
                &[T("About the job")],
                &[],
                &[T("job:"), O, T("North wing")],
                &[T("Overhead (%)"), N(12.0)],
                &[T("Deck height (ft)"), N(12.0)],
            ],
        ),
    ]);
    assert_eq!(table(&inputs, JOB).rows, 1);
    assert_eq!(base(&inputs, JOB, "overhead", 0), Some("0.12".into()));
    assert_eq!(base(&inputs, JOB, "height", 0), Some("3657.6".into()));
    assert_eq!(table(&inputs, JOB).origin.cell(0, Some(1)).to_string(), "rooms.xlsx, Job!B4");
    assert!(inputs.problems.is_empty(), "{:#?}", inputs.problems);
}

#[test]
fn a_list_of_too_many_lines_is_refused_at_the_first_of_them() {
    let notes: Vec<[V; 2]> = (1..=2001).map(|_| [T("Note"), T("seen")]).collect();
    let job: Vec<&[V]> = notes.iter().map(|l| l.as_slice()).collect();
    let rooms: &[&[V]] = &[HEAD, &[T("1"), N(20.0), N(10.0)]];
    let problems = refused(&[("Rooms", rooms), ("Job", &job)]);
    assert_eq!(problems.len(), 1, "{problems:#?}");
    assert_eq!(problems[0].what, "This sheet has more than 2000 lines of a name and a value.");
    assert_eq!(place(&problems[0]), "rooms.xlsx, Job row 2001");
    // one fewer is read
    assert_eq!(table(&read(&[("Rooms", rooms), ("Job", &job[..2000])]), JOB).rows, 1);
}

#[test]
fn a_workbook_without_the_job_or_child_sheets_is_in_order() {
    let inputs = rooms(&[HEAD, &[T("1"), N(20.0), N(10.0)]]);
    assert_eq!((table(&inputs, OPENINGS).rows, table(&inputs, JOB).rows), (0, 1));
    assert_eq!(base(&inputs, JOB, "overhead", 0), Some("0.1".into()));
    assert!(inputs.problems.is_empty());
}

#[test]
fn hidden_rows_are_priced_and_said() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    sheet.set_name("Rooms").unwrap();
    sheet.write_row(0, 0, ["Room", "Length", "Width"]).unwrap();
    sheet.write_row(1, 0, ["1", "20'", "10'"]).unwrap();
    sheet.write_row(2, 0, ["2", "20'", "10'"]).unwrap();
    sheet.set_row_hidden(2).unwrap();
    let mut book = opened("rooms.xlsx", book.save_to_buffer().unwrap());
    let inputs = read_rooms(&mut book, &schema(), Texts::default()).unwrap();
    assert_eq!(table(&inputs, ROOMS).rows, 2);
    assert!(only(&inputs, "hidden rows").what.starts_with("1 row of Rooms is hidden"));
}

#[test]
fn sheets_longer_than_a_block_keep_their_rows_in_order() {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    sheet.set_name("Rooms").unwrap();
    sheet.write_row(0, 0, ["Room", "Length (mm)", "Width (mm)"]).unwrap();
    for row in 1..=2500u32 {
        for column in 0..3 {
            sheet.write_number(row, column, row).unwrap();
        }
    }
    let mut book = opened("rooms.xlsx", book.save_to_buffer().unwrap());
    let inputs = read_rooms(&mut book, &schema(), Texts::default()).unwrap();
    assert_eq!(table(&inputs, ROOMS).rows, 2500);
    assert_eq!((mm(&inputs, "length", 1024), mm(&inputs, "width", 2499)), (Some("1025".into()), Some("2500".into())));
}

/// A sum jotted down beside the table, below no heading, is in no column of the priced workbook: that is said, once, with the
/// places.
#[test]
fn cells_below_no_heading_are_said_to_be_left_out() {
    let inputs = rooms(&[
        &[T("Room"), T("Length (ft)"), T("Width (ft)"), T("Layers"), T("SDC")],
        &[T("1"), N(20.0), N(10.0), O, O, O, T("measured again")],
        &[T("2"), N(20.0), N(10.0)],
        &[T("3"), N(20.0), N(10.0), O, O, N(600.0), T("?")],
    ]);
    let told = only(&inputs, "cells without a heading");
    assert_eq!(told.what, "What stands in 2 rows of Rooms below no heading was left out.");
    assert_eq!(place(told), "rooms.xlsx, Rooms!G2");
    assert_eq!(told.places.len(), 2);
}
