//! `hardlid try`: what of a book its examples reach, by books made by hand.

use super::hints::run;
use hardlid::engine::reached::{PartOf, run_and_reach};
use hardlid::notation::read_book;
use hardlid::program::{BookSource, compile_to_explain};
use hardlid::source::Text;

/// Parts that examples reach, of how many.
type Counted = Vec<(usize, usize)>;
/// Line, kind and words of what they do not.
type Unreached = Vec<(usize, PartOf, String)>;

/// Which parts are reached, and the lines and words of those that are not.
fn reached(book: &str) -> (Counted, Unreached) {
    let text = Text::new("the book", book);
    let (tree, problems) = read_book(&text);
    assert!(problems.is_empty());
    let source = BookSource::alone(tree, "the book");
    let (program, _) = compile_to_explain(vec![source], hardlid::natives()).unwrap();
    let (problems, parts) = run_and_reach(&program);
    assert!(problems.is_empty(), "{}", problems[0].what);
    let of = |sort| parts.iter().filter(move |p| p.part == sort);
    let counts = PartOf::ALL.map(|sort| (of(sort).filter(|p| p.reached).count(), of(sort).count())).to_vec();
    let missed = parts.iter().filter(|p| !p.reached);
    (counts, missed.map(|p| (text.line(p.span.start as usize), p.part, p.name.clone())).collect())
}

const BOOK: &str = "\
rows rooms  from \"Rooms\"
    run   length
    wide  length
end
rows openings  from \"Openings\"  belong to rooms by \"Room\"
    long  length
end
table step
    wide length, up to | gap length
    10'                | 16\"
    20'                | 24\"
    30'                | 32\"
end
define half(x length) length  =  x / 2
define twice(x length) length  =  x * 2
for rooms
    gap    =  step(wide)
    part   =  half(run) when run > 10',
              run when run > 5',
              5' otherwise
    other  =  part + 1'
    taken  =  sum of openings (cut) where big
    alone  =  twice(run)
end
for openings
    big    =  long > 4'
    cut    =  1 when long > 6', 2 otherwise
end
for job
    cost   =  sum of lines (cost)
end
";

/// 12 ft is over 10 ft, so its half; nothing shown leans on `gap`, `alone` or openings.
#[test]
fn what_a_shown_figure_leans_on_is_reached() {
    let (counts, missed) =
        reached(&format!("{BOOK}example \"e\"\n    rooms  run 12'  wide 8'\n    shows  other = 7'\nend\n"));
    // formulas other and part of seven (what lines cost is none of them), half of two definitions, one answer of five
    assert_eq!(counts, [(2, 7), (1, 2), (1, 5), (0, 3), (0, 0)]);
    use PartOf::{Answer, Definition, Formula, TableRow};
    let wanted = [
        (10, TableRow, "step"),
        (11, TableRow, "step"),
        (12, TableRow, "step"),
        (15, Definition, "twice"),
        (17, Formula, "gap"),
        (19, Answer, "part"),
        (20, Answer, "part"),
        (22, Formula, "taken"),
        (23, Formula, "alone"),
        (26, Formula, "big"),
        (27, Formula, "cut"),
        (27, Answer, "cut"),
        (27, Answer, "cut"),
    ];
    assert_eq!(missed, wanted.map(|(line, part, name)| (line, part, name.to_owned())));
}

/// The same counts as they are printed, and each thing not reached with its line; an answer of a formula that is not reached
/// is not told beside the formula.
#[test]
fn the_line_that_try_prints() {
    let book = format!("{BOOK}example \"e\"\n    rooms  run 12'  wide 8'\n    shows  other = 7'\nend\n");
    let told = |flags: &[&str]| {
        let ran = run(&[&["try", "house.lid"], flags].concat(), book.as_bytes());
        assert_eq!(ran.status.code(), Some(0));
        let printed = String::from_utf8(ran.stdout).unwrap();
        let from = printed.find("house.lid: sound; 1 example as expected").unwrap();
        printed[from..].lines().skip(1).map(str::to_owned).collect::<Vec<_>>()
    };
    let counted =
        "Reached by examples: 2 of 7 formulas, 1 of 2 definitions, 1 of 5 answers of choices, 0 of 3 table rows.";
    let missed = [
        "line 10: the row 10' | 16\" of table step",
        "line 11: the row 20' | 24\" of table step",
        "line 12: the row 30' | 32\" of table step",
        "line 15: definition twice",
        "line 17: formula gap",
        "line 19: the answer run of part",
        "line 20: the answer 5' of part",
        "line 22: formula taken",
        "line 23: formula alone",
        "line 26: formula big",
        "line 27: formula cut",
    ]
    .map(|line| format!("   not reached, {line}"));
    let all = told(&["--unreached"]);
    assert_eq!(all[0], counted);
    assert_eq!(all[1..], missed);
    let some = told(&[]);
    assert_eq!(some[..11], all[..11]);
    assert_eq!(some[11..], ["   and 1 more: --unreached"]);
}

/// 8 ft finds the row up to 10 ft, 12 ft that up to 20 ft; of openings of 3 and 7 ft the second alone counts: over 6 ft, 1.
#[test]
fn rows_of_tables_and_rows_brought_together() {
    let examples = "\
example \"narrow\"
    rooms     run 6'  wide 8'
    openings  long 3'
    openings  long 7'
    shows     gap = 16\"   taken = 1   part = 6'
end
example \"wide\"
    rooms  run 6'  wide 12'
    shows  gap = 24\"
end
";
    let (counts, missed) = reached(&format!("{BOOK}{examples}"));
    assert_eq!(counts, [(5, 7), (0, 2), (2, 5), (2, 3), (0, 0)]);
    assert!(missed.contains(&(12, PartOf::TableRow, "step".to_owned())));
    assert!(missed.contains(&(21, PartOf::Formula, "other".to_owned())));
    assert!(!missed.iter().any(|(_, part, name)| *part == PartOf::Formula && name == "big"));
}

/// The right side of an `and` is not looked at where the left side does not hold.
#[test]
fn what_is_not_asked_is_not_reached() {
    let book = "\
rows rooms  from \"Rooms\"
    run  length
end
for rooms
    a  =  run > 5'
    b  =  run > 3'
    c  =  a and b
    d  =  a or b
end
example \"short\"
    rooms  run 1'
    shows  c = no
end
";
    let (counts, missed) = reached(book);
    assert_eq!(counts[0], (2, 4));
    assert_eq!(missed.iter().map(|m| m.2.as_str()).collect::<Vec<_>>(), ["b", "d"]);
    let (counts, _) = reached(&book.replace("c = no", "d = no"));
    assert_eq!(counts[0], (3, 4));
}

/// Two runs: 8 ft stands under the first option, 18 ft under the second, and none under the third.
#[test]
fn options_that_no_example_stands_under() {
    let book = "\
rows rooms  from \"Rooms\"
    run  length
end
for rooms
    options way straight, halves, thirds
    parts  =  1 when way is straight, 2 when way is halves, 3 otherwise
    check span  run / parts <= 10'  else stops
end
example \"8 ft\"
    rooms  run 8'
    shows  way = straight
end
example \"18 ft\"
    rooms  run 18'
    shows  parts = 2
end
";
    let (counts, missed) = reached(book);
    assert_eq!(counts, [(1, 1), (0, 0), (1, 3), (0, 0), (2, 3)]);
    assert_eq!(missed[0], (5, PartOf::Option, "way".to_owned()));
    assert_eq!(missed.iter().map(|m| m.0).collect::<Vec<_>>(), [5, 6, 6]);
}

/// 2,000 formulas in a chain are followed without a deep pile of calls.
#[test]
fn a_long_chain_is_followed() {
    let links: String = (1..2_000).map(|i| format!("    a{i}  =  a{} + 1\n", i - 1)).collect();
    let book = format!(
        "rows rooms  from \"R\"\n    x  number\nend\nfor rooms\n    a0  =  x\n{links}end\nexample \"e\"\n    rooms  x 5\n    shows  a1999 = 2004\nend\n"
    );
    assert_eq!(reached(&book).0[0], (2_000, 2_000));
}
