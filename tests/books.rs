//! Whole books, sound and broken, through all that is done with books: never a panic, on any thread, and always an answer.
//! The long run is `cargo run --release --example fuzz`; what it found, and what does something that no other book does, is
//! kept in `tests/corpus/`.
#![allow(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test that cannot go on fails")]

mod common;

#[path = "books/case.rs"]
mod case;
#[path = "books/damage.rs"]
mod damage;
#[path = "books/dice.rs"]
mod dice;
#[path = "books/made.rs"]
mod made;
#[path = "books/tried.rs"]
mod tried;
#[path = "books/watch.rs"]
mod watch;

use case::Case;
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Mutex;

/// Cases are watched one at a time.
static ONE: Mutex<()> = Mutex::new(());

/// The case that is tried is left in this file: a process that dies of it says nothing more.
fn answered(case: &Case, name: &str) -> tried::Shape {
    let _one = ONE.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    std::fs::write(Path::new(env!("CARGO_TARGET_TMPDIR")).join("now.lid"), case.written()).unwrap();
    let watched = watch::watched(case);
    assert!(watched.panics.is_empty(), "{name}: {:?}\n{}", watched.panics, tried::shown(case));
    // twenty times what a book may take when all is optimized
    assert!(watched.took.as_secs() < 40, "{name}: {:?}\n{}", watched.took, tried::shown(case));
    watched.shape
}

#[test]
fn books_that_once_failed_or_were_the_first_of_their_kind_are_answered() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    files.sort();
    assert!(files.len() > 40 && files.len() < 300, "{} files", files.len());
    let mut all = BTreeSet::new();
    let mut bytes = 0;
    for file in files {
        let text = std::fs::read_to_string(&file).unwrap();
        bytes += text.len();
        all.extend(answered(&Case::read(&text), &file.display().to_string()));
    }
    assert!(bytes < 400_000, "{bytes} bytes");
    // refusals, hints, failing examples, findings and workbooks are among what they come to
    for by in ["read: ", "check: ", "hint: ", "try: ", "tidy: ", "priced: ", "written true"] {
        assert!(all.iter().any(|s| s.starts_with(by)), "{by}");
    }
}

#[test]
fn random_books_are_answered() {
    let stock = tried::stock();
    let mut sound = 0;
    for number in 0..60 {
        let case = tried::case_of(number, &stock, &[]);
        let shape = answered(&case, &format!("book {number}"));
        sound += usize::from(shape.iter().any(|s| s.starts_with("written")));
    }
    // enough are sound, or little is tried of what comes after checking
    assert!(sound > 6, "{sound}");
}

#[test]
fn cases_are_read_as_they_are_written() {
    let some = Case {
        shelf: vec![("a".to_owned(), "use \"b\"\n".to_owned()), ("b".to_owned(), String::new())],
        top: "x\n".to_owned(),
    };
    for case in [Case::of("one\ntwo"), some] {
        assert_eq!(Case::read(&case.written()), case);
    }
}
