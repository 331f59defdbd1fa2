//! `hardlid tidy`: what is written, what is told, and with which exit.

use super::{RULES, hardlid, machine};
use hardlid::command::Ended;
use hardlid::system::Memory;

const UNTIDY: &str = "rows rooms\n  x number -- is x\nend\n";
const TIDY: &str = "rows rooms\n    x  number  -- is x\nend\n";

fn machine_with(books: &[(&str, &str)]) -> Memory {
    books.iter().fold(machine(), |machine, (name, text)| machine.with(name, *text))
}

fn text(machine: &Memory, name: &str) -> String {
    String::from_utf8(machine.bytes(name).unwrap()).unwrap()
}

#[test]
fn a_book_is_written_once_and_a_tidy_one_never() {
    let machine = machine_with(&[("a.lid", UNTIDY)]);
    assert_eq!(hardlid(&machine, "tidy a.lid house.lid"), Ended::Done);
    assert_eq!(text(&machine, "a.lid"), TIDY);
    assert_eq!(hardlid(&machine, "tidy a.lid house.lid"), Ended::Done);
    assert_eq!((machine.times_written("a.lid"), machine.times_written("house.lid")), (1, 0));
    assert_eq!(machine.bytes("house.lid").unwrap(), RULES);
}

#[test]
fn a_check_writes_nothing_and_fails_where_a_book_is_not_tidy() {
    let machine = machine_with(&[("a.lid", UNTIDY), ("b.lid", TIDY)]);
    assert_eq!(hardlid(&machine, "tidy --check b.lid"), Ended::Done);
    assert_eq!(hardlid(&machine, "tidy --check b.lid a.lid"), Ended::WithStops);
    assert_eq!(hardlid(&machine, "tidy --check a.lid --json"), Ended::WithStops);
    assert_eq!(text(&machine, "a.lid"), UNTIDY);
    assert_eq!(machine.times_written("a.lid"), 0);
}

/// Line ends of another system, the mark at the start of a file and a missing line end at its end are not tidy.
#[test]
fn line_ends_count() {
    for other in
        [TIDY.replace('\n', "\r\n"), format!("\u{feff}{TIDY}"), TIDY.trim_end().to_owned(), format!("{TIDY}\n")]
    {
        let machine = machine_with(&[("a.lid", &other)]);
        assert_eq!(hardlid(&machine, "tidy --check a.lid"), Ended::WithStops, "{other:?}");
        assert_eq!(hardlid(&machine, "tidy a.lid"), Ended::Done);
        assert_eq!(text(&machine, "a.lid"), TIDY);
    }
}

#[test]
fn a_book_with_mistakes_is_left_and_the_others_are_written() {
    let broken = "rows rooms\n  x\nend\n";
    let machine =
        machine_with(&[("a.lid", UNTIDY), ("broken.lid", broken)]).with("latin.lid", b"book \"\xe9\"\n".to_vec());
    assert_eq!(hardlid(&machine, "tidy broken.lid"), Ended::Failed);
    assert_eq!(hardlid(&machine, "tidy latin.lid"), Ended::Failed);
    assert_eq!(hardlid(&machine, "tidy missing.lid"), Ended::Failed);
    assert_eq!(hardlid(&machine, "tidy broken.lid latin.lid missing.lid a.lid"), Ended::WithStops);
    assert_eq!(text(&machine, "a.lid"), TIDY);
    assert_eq!(text(&machine, "broken.lid"), broken);
    assert_eq!(machine.bytes("latin.lid").unwrap(), b"book \"\xe9\"\n");
    assert_eq!(hardlid(&machine, "tidy"), Ended::Failed);
}

#[test]
fn a_folder_that_cannot_be_written_leaves_the_book() {
    let machine = machine_with(&[("rules/a.lid", UNTIDY)]).with_read_only("rules");
    assert_eq!(hardlid(&machine, "tidy rules/a.lid"), Ended::Failed);
    assert_eq!(text(&machine, "rules/a.lid"), UNTIDY);
    assert_eq!(hardlid(&machine, "tidy --check rules/a.lid"), Ended::WithStops);
}

#[test]
fn standard_input_is_printed_and_no_file_is_written() {
    let machine = machine().with_input(UNTIDY);
    let before = machine.names();
    assert_eq!(hardlid(&machine, "tidy -"), Ended::Done);
    assert_eq!(hardlid(&machine, "tidy - --check"), Ended::WithStops);
    assert_eq!(machine.names(), before);
    let broken = super::machine().with_input("rows\n");
    assert_eq!(hardlid(&broken, "tidy -"), Ended::Failed);
}
