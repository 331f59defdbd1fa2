//! Pricing again at each saving, the ways in which programs save among them.

use super::{PROBLEMS, ROOMS, RULES, hardlid, machine, says, sheet};
use hardlid::command::Ended;
use std::io::{BufRead as _, BufReader};
use std::process::{Child, Command, Stdio};

const WATCH: &str = "watch rooms.xlsx --rules house.lid --prices yard.xlsx";
const PRICED: &str = "rooms.priced.xlsx";

/// Whether the priced workbook is that of the rooms with problems.
fn incomplete(machine: &hardlid::system::Memory) -> bool {
    says(&sheet(&machine.bytes(PRICED).unwrap(), "Bid"), "INCOMPLETE")
}

#[test]
fn each_saving_is_priced_and_the_last_one_stays() {
    // between two savings somebody looks twice
    let saved = |bytes: &[u8]| Some(bytes.to_vec());
    let machine =
        machine().later("rooms.xlsx", saved(PROBLEMS)).later("other.txt", saved(b"1")).later("other.txt", saved(b"2"));
    assert_eq!(hardlid(&machine, WATCH), Ended::WithStops);
    assert!(incomplete(&machine));
    let machine = machine.later("rooms.xlsx", saved(ROOMS)).later("other.txt", saved(b"3")).later("other.txt", None);
    assert_eq!(hardlid(&machine, WATCH), Ended::Done);
    assert!(!incomplete(&machine));
}

/// A program takes the old file away, writes the new one in parts, and gives it its name.
#[test]
fn a_file_that_is_just_being_saved_is_waited_for() {
    let machine = machine()
        .later("rooms.xlsx", None)
        .later("rooms.xlsx", Some(PROBLEMS[..9_000].to_vec()))
        .later("rooms.xlsx", Some(PROBLEMS.to_vec()))
        .later("other.txt", Some(Vec::new()))
        .later("other.txt", None);
    assert_eq!(hardlid(&machine, WATCH), Ended::WithStops);
    assert!(incomplete(&machine));
}

/// What is saved and cannot be priced is told, and the next saving is priced all the same.
#[test]
fn a_book_with_a_mistake_does_not_end_it() {
    let machine = machine()
        .later("house.lid", Some(b"book \"Broken\"".to_vec()))
        .later("other.txt", Some(Vec::new()))
        .later("other.txt", None)
        .later("house.lid", Some(RULES.to_vec()))
        .later("other.txt", Some(Vec::new()))
        .later("other.txt", None);
    assert_eq!(hardlid(&machine, WATCH), Ended::Done);
    assert!(!incomplete(&machine));
    // with nothing to begin with it ends
    let nothing = hardlid::system::Memory::new(hardlid::quantity::Date::new(2026, 3, 2).unwrap());
    assert_eq!(hardlid(&nothing, WATCH), Ended::Failed);
}

/// A process that ends with the test.
struct Watching(Child);

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Tee 2.00 a foot: rooms of 10 and 20 ft come to 20.00 and 40.00; with 12 ft the first comes to 24.00.
#[test]
fn what_moved_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let book = "book \"Tees\"  edition \"1\"\n\nrows rooms  from \"Rooms\"\n    id  text  heading \"Room\"  key\n    \
                length  length  heading \"Length\"  above 0\nend\n\nfor rooms\n    item tee \"Tee\"  code \"T\"  need length\nend\n";
    std::fs::write(folder.path().join("house.lid"), book).unwrap();
    std::fs::write(folder.path().join("yard.csv"), "Code,Item,Sold by,Cost\nT,Tee,ft,2.00\n").unwrap();
    let rooms = |first: &str| {
        std::fs::write(folder.path().join("rooms.csv"), format!("Room,Length\nA,{first}\nB,20 ft\n")).unwrap()
    };
    rooms("10 ft");
    let child = Command::new(env!("CARGO_BIN_EXE_hardlid"))
        .args(["watch", "rooms.csv", "--rules", "house.lid", "--prices", "yard.csv"])
        .current_dir(folder.path())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut watching = Watching(child);
    let mut lines = BufReader::new(watching.0.stdout.take().unwrap()).lines().map(Result::unwrap);
    assert!(lines.any(|l| l == "Total $60.00"));
    rooms("12 ft");
    assert!(lines.any(|l| l == "Priced again: $64.00, $4.00 more."));
    assert_eq!(lines.next().unwrap(), "  A: $24.00, after $20.00");
}
