//! The priced workbook does not depend on how many threads worked on it.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use hardlid::command::{self, Ended};
use hardlid::quantity::Date;
use hardlid::system::Memory;
use rust_xlsxwriter::Workbook;

const BOOK: &str = "book \"areas\"  edition \"1\"

rows rooms  from \"Rooms\"
    id      text    heading \"Room\"    key
    note    text    heading \"Note\"    may be blank
    length  length  heading \"Length\"
    width   length  heading \"Width (ft)\"
end

for rooms
    area  \"Area\"  =  length * width
    bays  \"Bays\"  =  round_up(length / 4')
end
";

/// Rooms enough that the workbook is read and worked on by several threads.
const ROOMS: u32 = 12_000;

fn rooms() -> Vec<u8> {
    let mut workbook = Workbook::new();
    let sheet = workbook.add_worksheet().set_name("Rooms").unwrap();
    for (column, heading) in (0..).zip(["Room", "Note", "Length", "Width (ft)"]) {
        sheet.write_string(0, column, heading).unwrap();
    }
    for row in 1..=ROOMS {
        sheet.write_string(row, 0, format!("R{row}")).unwrap();
        sheet.write_string(row, 1, format!("door {} of wing {}", row * 7919 % 9001, row * 104_729 % 8999)).unwrap();
        sheet.write_string(row, 2, format!("{}'-{}\"", 8 + row % 40, row % 12)).unwrap();
        sheet.write_number(row, 3, f64::from(6 + row % 31)).unwrap();
    }
    workbook.save_to_buffer().unwrap()
}

fn priced(rooms: &[u8], threads: usize) -> Vec<u8> {
    let outside = Memory::new(Date::constant(2026, 3, 1)).with("rooms.xlsx", rooms).with("areas.lid", BOOK);
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
    let arguments = ["hardlid", "price", "rooms.xlsx", "--rules", "areas.lid", "-o", "out.xlsx"];
    assert_eq!(pool.install(|| command::run(arguments, &outside)), Ended::Done);
    outside.bytes("out.xlsx").unwrap()
}

#[test]
fn the_same_bytes_by_any_number_of_threads() {
    let rooms = rooms();
    assert!(rooms.len() > 1 << 18, "a workbook of {} bytes is read by one thread", rooms.len());
    let one = priced(&rooms, 1);
    assert!(one == priced(&rooms, 2) && one == priced(&rooms, 3));
}
