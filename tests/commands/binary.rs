//! A few runs of the built program: exit codes, and what it prints where.

use serde_json::Value;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Output, Stdio};

fn in_folder(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_hardlid")).args(arguments).current_dir(folder).output().unwrap()
}

/// A folder with the demo in it.
fn demo() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let workbooks = Path::new(env!("CARGO_MANIFEST_DIR")).join("workbooks");
    for name in ["demo-rooms.xlsx", "demo-rooms-with-problems.xlsx", "demo-prices.xlsx", "demo-rules.lid"] {
        std::fs::copy(workbooks.join(name), folder.path().join(name)).unwrap();
    }
    folder
}

fn code(output: &Output) -> i32 {
    output.status.code().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|e| panic!("{e}: {}", out(output)))
}

const BOOKS: [&str; 4] = ["--rules", "demo-rules.lid", "--prices", "demo-prices.xlsx"];

#[test]
fn the_demo_is_priced_and_the_total_is_told() {
    let folder = demo();
    let ran = in_folder(folder.path(), &[&["price", "demo-rooms.xlsx"][..], &BOOKS].concat());
    assert_eq!((code(&ran), err(&ran).as_str()), (0, ""));
    assert!(out(&ran).contains("40 rooms") && out(&ran).contains("Total $"), "{}", out(&ran));
    assert!(folder.path().join("demo-rooms.priced.xlsx").exists());
}

#[test]
fn stopped_rows_end_with_1_and_name_their_cells() {
    let folder = demo();
    let ran = in_folder(folder.path(), &[&["price", "demo-rooms-with-problems.xlsx"][..], &BOOKS].concat());
    assert_eq!(code(&ran), 1);
    assert!(err(&ran).contains("demo-rooms-with-problems.xlsx, Rooms!D29"), "{}", err(&ran));
    assert!(out(&ran).contains("INCOMPLETE: 2 rows are stopped"), "{}", out(&ran));
}

#[test]
fn json_is_json_whatever_the_end() {
    let folder = demo();
    let priced = in_folder(folder.path(), &[&["price", "demo-rooms.xlsx", "--json"][..], &BOOKS].concat());
    let value = json(&priced);
    assert_eq!((code(&priced), &value["rooms"], &value["stopped"]), (0, &Value::from(40), &Value::from(0)));
    assert!(value["total"].as_str().is_some_and(|t| t.parse::<f64>().is_ok()), "{value}");
    let stopped =
        in_folder(folder.path(), &[&["price", "demo-rooms-with-problems.xlsx", "--json"][..], &BOOKS].concat());
    let value = json(&stopped);
    assert_eq!((code(&stopped), &value["stopped"], &value["total"]), (1, &Value::from(2), &Value::Null));
    let failed = in_folder(folder.path(), &["price", "no-such.xlsx", "--json"]);
    assert_eq!((code(&failed), json(&failed)["problems"][0]["kind"].as_str()), (2, Some("file not found")));
    let tried = in_folder(folder.path(), &["try", "demo-rules.lid", "--json"]);
    assert_eq!((code(&tried), &json(&tried)["failing"]), (0, &Value::from(0)));
    let worked = in_folder(folder.path(), &["work", "--json", "12' / 3"]);
    assert_eq!((code(&worked), json(&worked)["shown"].as_str()), (0, Some("4'-0\"")));
    let words = in_folder(folder.path(), &["words", "--json"]);
    assert!(json(&words).as_array().is_some_and(|all| all.iter().any(|w| w["name"] == "tee_count")));
}

#[test]
fn without_a_price_book_it_is_said_even_where_rows_are_stopped() {
    let folder = demo();
    for rooms in ["demo-rooms.xlsx", "demo-rooms-with-problems.xlsx"] {
        let ran = in_folder(folder.path(), &["price", rooms, "--rules", "demo-rules.lid"]);
        assert!(out(&ran).contains("No price book was given"), "{rooms}: {}", out(&ran));
    }
}

#[test]
fn an_expression_is_worked_out_on_the_command_line() {
    let folder = demo();
    for (expression, shown) in [
        ("tee_count(along: 20', spacing: 24\")", "9\n"),
        ("(1 ft / 3) * 3 = 12\"", "yes\n"),
        ("10'-3 1/2\" * 3", "30'-10 1/2\"\n"),
    ] {
        let ran = in_folder(folder.path(), &["work", expression]);
        assert_eq!((code(&ran), out(&ran).as_str()), (0, shown), "{expression}: {}", err(&ran));
    }
    let refused = in_folder(folder.path(), &["work", "8' -6\""]);
    assert_eq!((code(&refused), out(&refused).as_str()), (2, ""));
    assert!(err(&refused).contains("8'-6\"") && err(&refused).contains("8' - 6\""), "{}", err(&refused));
}

#[test]
fn help_shows_an_example_of_every_command() {
    let folder = demo();
    for command in ["price", "try", "work", "words", "shell", "manuals"] {
        let ran = in_folder(folder.path(), &[command, "--help"]);
        assert!(code(&ran) == 0 && out(&ran).contains("Example"), "{command}: {}", out(&ran));
    }
    assert_eq!(code(&in_folder(folder.path(), &["--version"])), 0);
    assert_eq!(code(&in_folder(folder.path(), &["--no-such-option"])), 2);
}

#[test]
fn a_foreign_file_stays_as_it_is() {
    let folder = demo();
    let target = folder.path().join("demo-rooms.priced.xlsx");
    std::fs::write(&target, b"a colleague's notes").unwrap();
    let ran = in_folder(folder.path(), &[&["price", "demo-rooms.xlsx"][..], &BOOKS].concat());
    assert_eq!(code(&ran), 2);
    assert!(err(&ran).contains("--replace"), "{}", err(&ran));
    assert!(std::fs::read_dir(folder.path()).unwrap().count() == 5, "no half-written file stays");
    assert_eq!(std::fs::read(&target).unwrap_or_default(), b"a colleague's notes");
}

#[test]
fn the_rooms_are_never_written_over_however_their_path_is_written() {
    let folder = demo();
    let rooms = folder.path().join("demo-rooms.xlsx");
    let before = std::fs::read(&rooms).unwrap();
    let whole = rooms.to_string_lossy().into_owned();
    for output in ["./demo-rooms.xlsx", whole.as_str()] {
        let ran =
            in_folder(folder.path(), &[&["price", "demo-rooms.xlsx", "--replace", "-o", output][..], &BOOKS].concat());
        assert_eq!(code(&ran), 2, "{output}");
        assert!(std::fs::read(&rooms).unwrap() == before, "{output}");
    }
}

/// A workbook goes into a file that programs take for one; that is asked before anything else is looked at: no file named
/// here is there.
#[test]
fn another_ending_than_xlsx_is_refused_before_work_starts() {
    let folder = tempfile::tempdir().unwrap();
    let commands = [
        ("price rooms.xlsx -o", "bid.pdf", "-o bid.xlsx"),
        ("price rooms.xlsx --prices yard.xlsx -o", "bid", "-o bid.xlsx"),
        ("price rooms.xlsx -o", "bids/x.y.xlsm", "-o bids/x.y.xlsx"),
        ("price rooms.csv -o", "..", "-o with the name of a file, such as bid.xlsx"),
        ("reprice bids --prices yard.xlsx --csv -o", "moved.csv", "-o moved.xlsx"),
        ("impact old.lid new.lid bids -o", "moved.json", "-o moved.xlsx"),
    ];
    for (words, name, fix) in commands {
        let arguments: Vec<&str> = words.split(' ').chain([name]).collect();
        let ran = in_folder(folder.path(), &arguments);
        let what = format!("{name} does not end in .xlsx, and what is written is an .xlsx workbook.");
        assert_eq!(code(&ran), 2, "{words} {name}");
        assert!(err(&ran).contains(&what) && err(&ran).contains(&format!("Try: {fix}\n")), "{}", err(&ran));
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    }
    // whatever case it is in, it is one; what is told then is that there are no rooms
    let ran = in_folder(folder.path(), &["price", "rooms.xlsx", "-o", "BID.XLSX", "--json"]);
    assert_eq!((code(&ran), json(&ran)["problems"][0]["kind"].as_str()), (2, Some("file not found")));
}

/// The tidy book alone is on standard output, so that an editor can take it.
#[test]
fn a_book_is_tidied_on_its_way_from_standard_input() {
    let folder = tempfile::tempdir().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_hardlid"))
        .args(["tidy", "-"])
        .current_dir(folder.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(b"for job\n a=1\nend").unwrap();
    let ran = child.wait_with_output().unwrap();
    assert_eq!((code(&ran), out(&ran).as_str()), (0, "for job\n    a  =  1\nend\n"));
}

#[test]
fn a_check_names_the_book_and_its_first_line_that_would_change() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("house.lid"), "for job\n    a  =  1  \nend\n").unwrap();
    let ran = in_folder(folder.path(), &["tidy", "--check", "house.lid"]);
    let told = "house.lid: not tidy, from line 2 on.\n   is           a  =  1··\n   would be     a  =  1\n";
    assert_eq!((code(&ran), out(&ran).as_str()), (1, told));
    let ran = in_folder(folder.path(), &["tidy", "--check", "--json", "house.lid"]);
    assert_eq!(code(&ran), 1);
    assert_eq!(json(&ran)["books"][0]["line"], 2);
    assert_eq!(json(&ran)["books"][0]["state"], "not tidy");
}

/// A table that names a sheet that is not there is told where the book names it, with the sheet that was meant.
#[test]
fn a_sheet_that_a_table_misses_is_told_in_the_book() {
    let folder = tempfile::tempdir().unwrap();
    let sheets: [(&str, &[&[&str]]); 1] = [("Care", &[&["Spacing", "Limit"], &["1 ft", "2 ft"]])];
    std::fs::write(folder.path().join("care.xlsx"), super::common::workbook(&sheets)).unwrap();
    let book = "table spans from sheet \"Kare\" of \"care.xlsx\" source practice\n    spacing length, exact | limit length\nend\n\
                for job\n    a \"A\" = spans(1')\nend\n";
    let told = |book: &str| {
        std::fs::write(folder.path().join("a.lid"), book).unwrap();
        json(&in_folder(folder.path(), &["try", "a.lid", "--json"]))["problems"].clone()
    };
    let problems = told(book);
    assert_eq!(problems.as_array().unwrap().len(), 1, "{problems}");
    assert_eq!(problems[0]["places"][0]["line"], 1);
    let (what, fix) = (problems[0]["what"].as_str().unwrap(), problems[0]["fix"].as_str().unwrap());
    assert!(what.starts_with("The table spans finds no sheet in care.xlsx.") && what.contains("“Care”"), "{what}");
    assert!(fix.starts_with("from sheet \"Care\", or "), "{fix}");
    // as suggested
    assert_eq!(told(&book.replace("Kare", "Care")).as_array().unwrap().len(), 0);
}
