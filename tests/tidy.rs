//! The one layout of rule books: by examples, and by laws over random books. Tidying changes nothing but space: the tree
//! stays, every comment stays, and a tidy book stays as it is.
#![allow(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test that cannot go on fails")]

mod common;
#[path = "tidy/laid.rs"]
mod laid;
#[path = "tidy/random.rs"]
mod random;

use common::tree::tree;
use hardlid::notation::tidy;
use hardlid::notation::tidy::WIDTH;
use hardlid::problem::Problem;
use hardlid::problem::render::for_people;
use hardlid::program::library::BUILT_IN;
use hardlid::source::Text;

fn tidied(text: &str) -> String {
    let told = |problems: Vec<Problem>| problems.iter().map(for_people).collect::<String>();
    tidy(&Text::new("the book", text)).map_err(told).unwrap_or_else(|told| panic!("{told}:\n{text}"))
}

/// All that must hold for a sound book; its tidy text.
fn holds(text: &str) -> String {
    let done = tidied(text);
    let (before, after) = (tree(text).unwrap(), tree(&done).unwrap_or_default());
    let differs = before.lines().zip(after.lines()).find(|(a, b)| a != b);
    assert!(before == after, "the tree has changed, {differs:?}:\n{text}\n---- tidy:\n{done}");
    let again = tidied(&done);
    assert!(done == again, "tidy twice is not tidy once:\n{text}\n---- once:\n{done}\n---- twice:\n{again}");
    let solid = |text: &str| -> Vec<char> { text.chars().filter(|c| !c.is_whitespace()).collect() };
    let sorted = |text: &str| {
        let mut all = solid(text.trim_start_matches('\u{feff}'));
        all.sort_unstable();
        all
    };
    assert!(sorted(text) == sorted(&done), "something was lost or put in:\n{text}\n---- tidy:\n{done}");
    assert!(done.is_empty() || done.ends_with('\n') && !done.ends_with("\n\n"), "{done:?}");
    for line in done.lines() {
        assert_eq!(line.trim_end(), line);
        assert!(!line.trim_start_matches(' ').starts_with(char::is_whitespace), "{line:?}");
    }
    assert!(!done.contains("\n\n\n"));
    done
}

/// Our own books stay in the layout that they ask of others.
#[test]
fn our_books_are_tidy() {
    let mut count = 0;
    for folder in ["grammar", "workbooks"] {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|e| e == "lid") {
                let text = std::fs::read_to_string(&path).unwrap();
                assert!(holds(&text) == text, "{} is not tidy: hardlid tidy {0}", path.display());
                count += 1;
            }
        }
    }
    assert!(count > BUILT_IN.len(), "{count}");
}

/// Lines are at most as long as stated; texts and rows of tables are never broken.
#[test]
fn lines_keep_the_width() {
    for book in BUILT_IN {
        let done = holds(book.text);
        for line in done.lines().filter(|l| l.chars().count() > WIDTH) {
            let whole = line.trim_start();
            let allowed = whole.starts_with("--")
                || whole.starts_with('"')
                || whole.contains(" | ")
                || whole.starts_with("table");
            assert!(allowed || whole.starts_with("source"), "{}: {line}", book.name);
        }
    }
}

/// Every sound book of the notation's own cases.
#[test]
fn books_of_the_cases_keep_their_meaning() {
    let mut count = 0;
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    for entry in std::fs::read_dir(folder).unwrap() {
        let markdown = std::fs::read_to_string(entry.unwrap().path()).unwrap();
        for fence in markdown.split("```").skip(1).step_by(2) {
            let Some(book) = fence.strip_prefix("book\n").or_else(|| fence.strip_prefix("base\n")) else { continue };
            if tree(book).is_some() {
                holds(book);
                count += 1;
            } else {
                assert!(tidy(&Text::new("the book", book)).is_err());
            }
        }
    }
    assert!(count > 60, "{count}");
}

/// What the other tests lean on: a tree in words tells books apart by what they say, not by where they say it.
#[test]
fn a_tree_in_words_has_no_places() {
    let one = tree("book \"A\" edition \"1\"\nfor job\n    a = 1 + 2\nend\n").unwrap();
    let moved = tree("book \"A\" edition \"1\"\n\n\nfor job\n    a  =  1  +  2\nend\n").unwrap();
    let other = tree("book \"A\" edition \"1\"\nfor job\n    a = 1 + 3\nend\n").unwrap();
    assert_eq!(one, moved);
    assert_ne!(one, other);
    assert!(one.lines().count() > 3, "{one}");
}
