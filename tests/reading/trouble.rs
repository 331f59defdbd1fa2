//! What is wrong with rows, columns and sheets, and where.

use crate::books::*;
use hardlid::problem::Weight;

const HEAD: &[V] = &[T("Room"), T("Length (ft)"), T("Width (ft)"), T("Layers"), T("SDC")];

/// One room whose cells are given; the problem that stops it.
fn stopped_by(cells: &[V]) -> (String, String, String) {
    let inputs = rooms(&[HEAD, cells, &[T("sound"), N(20.0), N(10.0)]]);
    assert_eq!(table(&inputs, ROOMS).stopped, [true, false], "{:#?}", inputs.problems);
    let stops = stops(&inputs);
    assert_eq!(stops.len(), 1, "{stops:#?}");
    let p = stops[0];
    assert!(inputs.problems.iter().any(|r| r.row == Some((ROOMS, 0))));
    (place(p), p.what.clone(), p.fix.clone().unwrap_or_default())
}

#[test]
fn a_blank_length_stops_its_row_and_names_the_cell() {
    let (place, what, _) = stopped_by(&[T("1"), O, N(10.0)]);
    assert_eq!((place.as_str(), what.as_str()), ("rooms.xlsx, Rooms!B2", "Length is blank; a length is needed."));
}

#[test]
fn an_error_value_stops_its_row() {
    let (place, what, _) = stopped_by(&[T("1"), N(20.0), E("#DIV/0!")]);
    assert_eq!((place.as_str(), what.as_str()), ("rooms.xlsx, Rooms!C2", "Width holds the error #DIV/0!."));
}

#[test]
fn a_text_in_a_number_column_stops_its_row() {
    let (place, what, _) = stopped_by(&[T("1"), T("see plan"), N(10.0)]);
    assert_eq!(place, "rooms.xlsx, Rooms!B2");
    assert!(what.contains("“see plan”"), "{what}");
    let (place, what, _) = stopped_by(&[T("1"), N(20.0), N(10.0), T("two")]);
    assert_eq!(place, "rooms.xlsx, Rooms!D2");
    assert!(what.contains("a count"), "{what}");
}

#[test]
fn a_length_that_became_a_date_gets_a_message_of_its_own() {
    let (place, what, fix) = stopped_by(&[T("1"), D(2026, 10, 3), N(10.0)]);
    assert_eq!(place, "rooms.xlsx, Rooms!B2");
    assert!(what.contains("October 3, 2026") && what.contains("10-3"), "{what}");
    assert!(fix.contains("10'-3\""), "{fix}");
    let (_, _, fix) = stopped_by(&[T("1"), N(20.0), D(2026, 5, 8)]);
    assert!(fix.contains("5'-8\"") && fix.contains("5/8\""), "{fix}");
    let (_, what, _) = stopped_by(&[T("1"), N(20.0), N(10.0), D(2026, 5, 8)]);
    assert!(what.contains("a count is needed"), "{what}");
}

#[test]
fn sizes_outside_their_limits_stop_their_row() {
    for (cells, place_wanted, says) in [
        (vec![T("1"), N(-20.0), N(10.0)], "rooms.xlsx, Rooms!B2", "above 0\""),
        (vec![T("1"), N(20.0), N(0.0)], "rooms.xlsx, Rooms!C2", "above 0\""),
        (vec![T("1"), N(20.0), N(10.0), N(4.0)], "rooms.xlsx, Rooms!D2", "at most 3"),
        (vec![T("1"), N(20.0), N(10.0), N(1.5)], "rooms.xlsx, Rooms!D2", "whole"),
        (vec![T("1"), N(1e30), N(10.0)], "rooms.xlsx, Rooms!B2", "digits"),
    ] {
        let (place, what, _) = stopped_by(&cells);
        assert_eq!(place, place_wanted);
        assert!(what.contains(says), "{what}");
    }
}

#[test]
fn a_length_over_a_thousand_feet_is_a_warning_once_for_its_column() {
    let inputs =
        rooms(&[HEAD, &[T("1"), N(1000.0), N(10.0)], &[T("2"), N(1001.0), N(10.0)], &[T("3"), N(5000.0), N(10.0)]]);
    let problem = only(&inputs, "very long length");
    assert_eq!(
        (problem.weight, problem.places.len(), place(problem)),
        (Weight::Warning, 2, "rooms.xlsx, Rooms!B3".into())
    );
    assert_eq!(table(&inputs, ROOMS).stopped, [false; 3]);
}

#[test]
fn a_text_that_is_not_in_the_list_is_answered_with_the_list() {
    let (place, what, _) = stopped_by(&[T("1"), N(20.0), N(10.0), O, T("G")]);
    assert_eq!(place, "rooms.xlsx, Rooms!E2");
    assert_eq!(what, "SDC is “G”; it may be “A”, “B”, “C”, “D”, “E” or “F”.");
    assert_eq!(text(&rooms(&[HEAD, &[T("1"), N(20.0), N(10.0), O, T(" d ")]]), "sdc", 0), "D");
}

#[test]
fn a_room_that_comes_twice_is_stopped_the_second_time() {
    let inputs = rooms(&[HEAD, &[T("A1"), N(20.0), N(10.0)], &[T("a1 "), N(20.0), N(10.0)]]);
    let problem = only(&inputs, "duplicate key");
    assert_eq!(place(problem), "rooms.xlsx, Rooms!A3");
    assert!(problem.what.contains("A2"), "{}", problem.what);
    assert_eq!(table(&inputs, ROOMS).stopped, [false, true]);
}

#[test]
fn children_without_a_parent_are_left_out_and_stopped_children_stop_their_room() {
    let inputs = read(&[
        ("Rooms", &[HEAD, &[T("1"), N(20.0), N(10.0)], &[T("2"), N(20.0), N(10.0)]]),
        (
            "Openings",
            &[
                &[T("Room"), T("Long (in)")],
                &[T("9"), N(24.0)],
                &[O, N(24.0)],
                &[T("2"), T("wide")],
                &[T("1"), N(24.0)],
            ],
        ),
    ]);
    let orphans = of_kind(&inputs, "child without a parent");
    assert_eq!(
        orphans.iter().map(|p| place(p)).collect::<Vec<_>>(),
        ["rooms.xlsx, Openings!A2", "rooms.xlsx, Openings!A3"]
    );
    assert_eq!((table(&inputs, OPENINGS).rows, table(&inputs, OPENINGS).stopped.clone()), (2, vec![true, false]));
    assert_eq!(table(&inputs, ROOMS).stopped, [false, true]);
    assert_eq!(place(only(&inputs, "unreadable length")), "rooms.xlsx, Openings!B4");
}

#[test]
fn a_percent_that_could_be_two_things_is_refused() {
    let head: &[V] = &[T("Room"), T("Length (ft)"), T("Width (ft)"), T("Waste (%)")];
    let inputs = rooms(&[head, &[T("1"), N(20.0), N(10.0), N(0.05)]]);
    let unclear = only(&inputs, "unclear percent");
    assert_eq!(unclear.what, "Waste is 0.05, which could be 0.05% or 5%.");
    assert_eq!(unclear.fix.as_deref(), Some("type it with its sign: 0.05% or 5%"));
    let inputs = rooms(&[&head[..3], &[T("1"), N(20.0), N(10.0)]]);
    assert!(of_kind(&inputs, "unclear percent").is_empty());
    let plain: &[V] = &[T("Room"), T("Length (ft)"), T("Width (ft)"), T("Waste")];
    let inputs = rooms(&[plain, &[T("1"), N(20.0), N(10.0), N(10.0)]]);
    assert_eq!(only(&inputs, "unclear percent").what, "Waste is 10, which could be 10% or 1000%.");
}

/// A cell that shows 10% is ten percent under every heading; a percent sign in quotes is a letter.
#[test]
fn a_cell_shown_as_a_percentage_is_taken_as_it_is_seen() {
    for heading in ["Waste (%)", "Waste"] {
        let head: &[V] = &[T("Room"), T("Length (ft)"), T("Width (ft)"), T(heading)];
        let shown = [P(0.1, "0%"), P(0.07, "0.00%"), P(1.5, "0%"), P(0.0, "0%"), P(0.005, "#,##0.0 %;[Red]-0.0 %")];
        let rows: Vec<Vec<V>> = shown.iter().map(|p| vec![T("1"), N(20.0), N(10.0), p.clone()]).collect();
        let all: Vec<&[V]> = std::iter::once(head).chain(rows.iter().map(Vec::as_slice)).collect();
        let inputs = rooms(&all);
        assert!(of_kind(&inputs, "unclear percent").is_empty(), "{heading}");
        let waste = &table(&inputs, ROOMS).columns[10];
        let got: Vec<String> = (0..5).map(|r| waste.locate(r).0.number(r).unwrap().to_decimal().to_string()).collect();
        assert_eq!(got, ["0.1", "0.07", "1.5", "0", "0.005"], "{heading}");
    }
    let head: &[V] = &[T("Room"), T("Length (ft)"), T("Width (ft)"), T("Waste (%)"), T("Layers")];
    let quoted = P(0.1, "0.0\"%\"");
    let inputs = rooms(&[head, &[T("1"), P(20.0, "0%"), N(10.0), quoted, P(2.0, "0%")]]);
    assert_eq!(only(&inputs, "unclear percent").what, "Waste is 0.1, which could be 0.1% or 10%.");
    // elsewhere a percentage is the number that it holds
    assert_eq!(table(&inputs, ROOMS).columns[4].locate(0).0.number(0), Some(2.into()));
}

#[test]
fn a_heading_with_a_unit_of_another_kind_is_a_warning() {
    let inputs = rooms(&[&[T("Room"), T("Length (psf)"), T("Width (ft)")], &[T("1"), T("20'"), N(10.0)]]);
    assert_eq!(place(only(&inputs, "unit of a heading")), "rooms.xlsx, Rooms!B1");
}

#[test]
fn a_missing_column_lists_what_is_accepted_and_the_nearest_heading() {
    let problems = refused(&[("Rooms", &[&[T("Room"), T("Lenght"), T("Width (ft)")], &[T("1"), N(20.0), N(10.0)]])]);
    assert_eq!(
        (problems.len(), problems[0].kind, place(&problems[0])),
        (1, "missing column", "rooms.xlsx, Rooms row 1".into())
    );
    assert_eq!(problems[0].what, "No column is headed as Length; these headings are accepted: “Length” or “L”.");
    assert!(problems[0].fix.as_deref().unwrap().contains("Lenght"));
}

#[test]
fn two_columns_for_one_field_are_named_both() {
    let problems = refused(&[(
        "Rooms",
        &[&[T("Room"), T("Length (ft)"), T("L"), T("Width (ft)")], &[T("1"), N(20.0), N(2.0), N(10.0)]],
    )]);
    assert_eq!(problems[0].kind, "two columns for one field");
    assert_eq!(problems[0].places.len(), 2);
    assert!(problems[0].what.contains("column B") && problems[0].what.contains("column C"), "{}", problems[0].what);
}

#[test]
fn a_remark_in_brackets_gives_way_to_the_plain_heading() {
    let inputs = rooms(&[
        &[T("Room"), T("Length (old)"), T("Length (ft)"), T("Width (clear)")],
        &[T("1"), N(9.0), N(20.0), T("10'")],
    ]);
    assert_eq!((mm(&inputs, "length", 0), mm(&inputs, "width", 0)), (Some("6096".into()), Some("3048".into())));
}

#[test]
fn a_missing_sheet_names_the_sheets_there_are() {
    let problems = refused(&[("Room list", &[HEAD]), ("Notes", &[])]);
    assert_eq!(problems[0].what, "There is no sheet “Rooms”; the workbook has “Room list” or “Notes”.");
    assert_eq!(place(&problems[0]), "rooms.xlsx");
}

#[test]
fn a_sheet_is_found_without_regard_to_case_spaces_and_plural() {
    for name in ["ROOMS", "room", " Rooms "] {
        assert_eq!(table(&read(&[(name, &[HEAD, &[T("1"), N(20.0), N(10.0)]])]), ROOMS).rows, 1, "{name}");
    }
}

#[test]
fn a_sheet_without_headings_says_what_is_looked_for() {
    let problems = refused(&[("Rooms", &[&[T("hello")], &[N(1.0)]])]);
    assert_eq!(problems[0].kind, "missing headings");
    assert!(problems[0].what.contains("“Room”"), "{}", problems[0].what);
}
