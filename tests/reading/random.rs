//! Random cells and random damage: never a panic, always a message that names its place.

use crate::books::*;
use hardlid::engine::Texts;
use hardlid::problem::Weight;
use hardlid::source::Place;
use hardlid::workbook::open::open;
use hardlid::workbook::rows::read_rooms;
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    /// 500 sheets of 20 malformed cells: ten thousand cells.
    #[test]
    fn malformed_cells_stop_their_row_and_name_file_sheet_and_cell(
        cells in prop::collection::vec("[a-z@&<>;:!?#][-0-9./,'\"′½ a-zA-Z%$()<>&#=+@]{0,12}", 20)
    ) {
        let mut book = rust_xlsxwriter::Workbook::new();
        let sheet = book.add_worksheet();
        sheet.set_name("Rooms").unwrap();
        sheet.write_row(0, 0, ["Room", "Length (ft)", "Width (ft)"]).unwrap();
        for (i, cell) in cells.iter().enumerate() {
            let row = u32::try_from(i).unwrap() + 1;
            sheet.write_number(row, 0, row).unwrap();
            sheet.write_string(row, 1, cell.as_str()).unwrap();
            sheet.write_number(row, 2, 10).unwrap();
        }
        let mut book = opened("rooms.xlsx", book.save_to_buffer().unwrap());
        let inputs = read_rooms(&mut book, &schema(), Texts::default()).unwrap();
        prop_assert_eq!(table(&inputs, ROOMS).rows, 20);
        for (i, cell) in cells.iter().enumerate() {
            prop_assert!(table(&inputs, ROOMS).stopped[i], "{}", cell);
            let said = inputs.problems.iter().find(|p| p.row == Some((ROOMS, u32::try_from(i).unwrap())));
            let problem = &said.unwrap().problem;
            prop_assert_eq!(place(problem), format!("rooms.xlsx, Rooms!B{}", i + 2));
            prop_assert!(problem.weight == Weight::Stop && problem.what.starts_with("Length "), "{}", problem.what);
        }
    }

    #[test]
    fn random_csv_texts_never_panic(body in "([-0-9./,;'\"½ a-zA-Z%$()#\n\r\t]|\\PC){0,200}", headed in any::<bool>()) {
        let text = if headed { format!("Room,Length (ft),Width (in)\n{body}") } else { body };
        if let Ok(mut book) = open("rooms.csv", text.into_bytes()) {
            match read_rooms(&mut book, &schema(), Texts::default()) {
                Ok(inputs) => for p in &inputs.problems {
                    let in_cell = p.problem.places.iter().all(|p| matches!(p, Place::Cell(c) if &*c.file == "rooms.csv"));
                    prop_assert!(in_cell && !p.problem.places.is_empty(), "{:?}", p);
                },
                Err(problems) => prop_assert!(!problems.is_empty() && problems.iter().all(|p| !p.places.is_empty())),
            }
        }
    }

    #[test]
    fn random_damage_never_panics(flips in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12), cut in prop::option::of(any::<prop::sample::Index>())) {
        let mut bytes = workbook(&[("Rooms", &[&[T("Room"), T("Length (ft)"), T("Width (ft)")], &[T("1"), N(20.0), N(10.0)]])]);
        for (at, byte) in &flips {
            let at = at.index(bytes.len());
            bytes[at] = *byte;
        }
        if let Some(cut) = cut {
            bytes.truncate(cut.index(bytes.len()));
        }
        if let Ok(mut book) = open("rooms.xlsx", bytes) {
            let _ = read_rooms(&mut book, &schema(), Texts::default());
        }
    }
}
