//! Damage: tokens and lines taken out, put in, moved and repeated, and what is too much of something.

use super::case::Case;
use super::dice::Dice;
use std::fmt::Write as _;

/// Words that no book of ours has, or not there.
const ODD: [&str; 74] = [
    "end",
    "(",
    ")",
    "\"",
    "'",
    "--",
    "=",
    "when",
    "otherwise",
    "of",
    "is",
    "{",
    "}",
    "{x}",
    "|",
    ",",
    ":",
    "%",
    "$",
    "8' -6\"",
    "½",
    "^9",
    "^-9",
    "^99999999999",
    "/0",
    "/ 0",
    "* 0",
    "replace",
    "count of rooms",
    "sum of lines (cost)",
    "sum of lines (quantity)",
    "where",
    "10% of",
    "+ 10%",
    "\0",
    "\u{feff}",
    "\u{202e}",
    "’",
    "\t",
    "−",
    "÷",
    "≤",
    "👩‍👩‍👧",
    "e\u{301}",
    "ſ",
    "İ",
    "ß",
    "12 ga",
    "2026-02-30",
    "9999-12-31",
    "0001-01-01",
    "not",
    "length",
    "rooms",
    "job",
    "lines",
    "id",
    "\\",
    "key",
    "may be blank",
    "one of A",
    "from 5 to 1",
    "otherwise x",
    "shown in psf",
    "accepted \"no\"",
    "source \"\"",
    "only when no",
    "each 0'",
    "waste 1000000%",
    "rate 0 hr/ea",
    "spliced lap 2' least 1'",
    "is given",
    "total",
    "scheme",
];

/// Figures at the edges of what can be kept.
const FIGURES: [&str; 22] = [
    "0",
    "-1",
    "0.0000000000000000000000000001",
    "79228162514264337593543950335",
    "79228162514264337593543950336",
    "999999999999999999999999999999999999999",
    "9223372036854775807",
    "9223372036854775808",
    "4294967296",
    "1e9",
    "0x10",
    "1/0\"",
    "1/3\"",
    "99999999999999'",
    "9007199254740993 mm",
    "1000000 CCF",
    "1 ft/1/1/1/1",
    "7 in^9",
    "3 ft·ft·ft·ft·ft",
    "$99999999999999.99",
    "$0.000000001/MMM",
    "100000000000%",
];

/// Units, among them such as nobody uses.
const UNITS: [&str; 26] = [
    "ft",
    "in",
    "mm",
    "m",
    "sf",
    "sqm",
    "CSF",
    "MSF",
    "lb",
    "kg",
    "psf",
    "plf",
    "kPa",
    "hr",
    "ea",
    "C",
    "M",
    "in^4",
    "ksi",
    "$/ft",
    "hr/sf",
    "1/ft",
    "furlong",
    "ft^2/in^2",
    "%",
    "ga wire",
];

/// Statements that look at others in odd ways.
const STATEMENTS: [&str; 30] = [
    "use \"House\"",
    "use \"layer 0\"",
    "use \"hardlid trade\"",
    "use \"hardlid ceilings\"",
    "use \"\"",
    "define f(x number) number = f(x)",
    "define a(x number) number = b(x)\ndefine b(x number) number = a(x)",
    "for job\n    a = b\n    b = a\nend",
    "for rooms\n    q = most of rooms (q)\nend",
    "for rooms\n    item z code \"ST\" need cost\nend",
    "for job\n    total = sum of lines (cost)\n    more = total + more\nend",
    "rows rooms from \"Rooms\"\nend",
    "rows job from \"Job\"\n    x number\nend",
    "rows lines from \"Lines\"\n    cost money\nend",
    "rows a from \"A\" belong to a by \"A\"\n    id text key\nend",
    "rows a from \"A\" belong to b by \"B\"\n    id text key\nend\nrows b from \"B\" belong to a by \"A\"\n    id text key\nend",
    "table e\n    k text, exact | v number\nend",
    "table e\nend",
    "table e\n    v number\n    1\n    2\nend",
    "table e\n    k number, between | v length\n    1 | 1'\n    1 | 2'\nend",
    "table e\n    k number, up to | j number, from | v text\n    1 | 2 | x | 4\n    1\nend",
    "example \"\"\nend",
    "example \"x\"\n    shows (1/0) = 1\nend",
    "example \"x\"\n    rooms\n    rooms\n    shows count of rooms = 2\nend",
    "for rooms\n    options way a, b\n    options way a, b\nend",
    "for rooms\n    options id a \"\", a\nend",
    "for job\n    telling x, y\n    dividing parts by z\n    buying first from \"x\" only from y charging bought when no\nend",
    "for job\n    cutting by id kerf -1' keep 100'\nend",
    "for lines\n    x = cost * 2\nend",
    "units imperial",
];

/// A case with some damage; parts of `stock` are put in.
pub fn damaged(dice: &mut Dice, case: &Case, stock: &[String]) -> Case {
    let mut out = case.clone();
    for _ in 0..1 + dice.below(4) {
        let lower = !out.shelf.is_empty() && dice.one_in(4);
        let at = dice.below(out.shelf.len());
        let text = if lower { &mut out.shelf[at].1 } else { &mut out.top };
        *text = once(dice, text, stock);
    }
    if dice.one_in(30) && !out.shelf.is_empty() {
        // a book that is on the shelf twice, or above those that use it
        let (a, b) = (dice.below(out.shelf.len()), dice.below(out.shelf.len()));
        if dice.one_in(2) { out.shelf.swap(a, b) } else { out.shelf[a].0 = out.shelf[b].0.clone() }
    }
    out
}

fn once(dice: &mut Dice, text: &str, stock: &[String]) -> String {
    match dice.below(20) {
        0..=9 => by_words(dice, text),
        10..=14 => by_lines(dice, text, stock),
        15 | 16 => by_letters(dice, text),
        17 => {
            let statement = dice.pick(&STATEMENTS);
            let lines: Vec<&str> = text.lines().collect();
            let at = dice.below(lines.len() + 1);
            [&lines[..at], &[statement], &lines[at..]].concat().join("\n") + "\n"
        }
        18 => format!("{text}\n{}\n", too_much(dice)),
        _ => {
            let other = &stock[dice.below(stock.len())];
            format!("{text}\n{other}\n")
        }
    }
}

/// A text as words, signs and what stands between them.
pub fn words_of(text: &str) -> Vec<&str> {
    let sort = |c: char| {
        if c.is_alphanumeric() || c == '_' || c == '.' {
            0
        } else if c == ' ' {
            1
        } else {
            2
        }
    };
    let mut out = Vec::new();
    let mut start = 0;
    let mut before = None;
    for (at, c) in text.char_indices() {
        let now = sort(c);
        if before.is_some_and(|b| b != now || now == 2) {
            out.push(&text[start..at]);
            start = at;
        }
        before = Some(now);
    }
    out.push(&text[start..]);
    out
}

fn by_words(dice: &mut Dice, text: &str) -> String {
    let mut words: Vec<String> = words_of(text).into_iter().map(str::to_owned).collect();
    for _ in 0..1 + dice.below(3) {
        let at = dice.below(words.len());
        let other = dice.below(words.len());
        if words.is_empty() {
            break;
        }
        match dice.below(9) {
            0 => drop(words.remove(at)),
            1 => words.swap(at, other),
            2 => {
                let end = (at + 1 + dice.below(8)).min(words.len());
                let again = words[at..end].to_vec();
                words.splice(at..at, again);
            }
            3 => words.insert(at, format!(" {} ", dice.pick(&ODD))),
            4 => words[at] = dice.pick(&ODD).to_owned(),
            5 => words[at] = words[other].clone(),
            6 => {
                // another figure where one stands
                let from: Vec<usize> =
                    (0..words.len()).filter(|i| words[*i].starts_with(|c: char| c.is_ascii_digit())).collect();
                if !from.is_empty() {
                    words[from[dice.below(from.len())]] = dice.pick(&FIGURES).to_owned();
                }
            }
            7 => words.insert(at, format!(" {} ", dice.pick(&UNITS))),
            _ => {
                let end = (at + 1 + dice.below(12)).min(words.len());
                words.drain(at..end);
            }
        }
    }
    words.concat()
}

fn by_lines(dice: &mut Dice, text: &str, stock: &[String]) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if lines.is_empty() {
        return text.to_owned();
    }
    let (at, other) = (dice.below(lines.len()), dice.below(lines.len()));
    match dice.below(8) {
        0 => drop(lines.remove(at)),
        1 => lines.swap(at, other),
        2 => lines.insert(at, lines[other].clone()),
        3 => {
            let block = &stock[dice.below(stock.len())];
            let some: Vec<&str> = block.lines().collect();
            let line = some[dice.below(some.len())];
            lines.insert(at, line.to_owned());
        }
        4 => lines[at] = format!("{}{}", " ".repeat(dice.below(9)), lines[at].trim_start()),
        5 => {
            let next = if at + 1 < lines.len() { lines.remove(at + 1) } else { String::new() };
            lines[at] += &next;
        }
        6 => {
            let line = lines[at].clone();
            lines.splice(at..at, std::iter::repeat_n(line, 2 + dice.below(30)));
        }
        _ => {
            let end = (at + 1 + dice.below(10)).min(lines.len());
            lines.drain(at..end);
        }
    }
    lines.join("\n") + "\n"
}

fn by_letters(dice: &mut Dice, text: &str) -> String {
    let mut letters: Vec<char> = text.chars().collect();
    for _ in 0..1 + dice.below(4) {
        if letters.is_empty() {
            break;
        }
        let (at, other) = (dice.below(letters.len()), dice.below(letters.len()));
        match dice.below(4) {
            0 => drop(letters.remove(at)),
            1 => letters.swap(at, other),
            2 => letters.insert(
                at,
                dice.pick(&[
                    '(', ')', '"', '\'', '\\', '\n', '\r', '|', ',', ':', '-', '.', '/', '^', '\0', 'é', '²',
                    '\u{2028}', '\u{a0}',
                ]),
            ),
            _ => letters.truncate(at.max(letters.len() / 2)),
        }
    }
    letters.into_iter().collect()
}

/// Much of one thing: deep, wide, long, many.
pub fn too_much(dice: &mut Dice) -> String {
    let n = dice.pick(&[20, 31, 33, 60, 150, 400, 1_200]);
    let mut out = String::new();
    let nest = |open: &str, inner: &str, close: &str| {
        format!("for job\n    deep = {}{inner}{}\nend\n", open.repeat(n), close.repeat(n))
    };
    match dice.below(22) {
        0 => nest("(", "1", ")"),
        1 => nest("shorter(1, ", "1", ")"),
        2 => nest("(1 when ", "yes", ", 2 otherwise)"),
        3 => nest("not ", "yes", ""),
        4 => nest("-", "1", ""),
        5 => nest("count of lines where ", "yes", ""),
        6 => format!(
            "for job\n    wide = {}0 otherwise\nend\n",
            (0..n).map(|i| format!("{i} when {i} = 2, ")).collect::<String>()
        ),
        7 => format!("for job\n    sum = 1{}\nend\n", " + 1".repeat(n)),
        8 => format!("for job\n    all = yes{}\nend\n", " and 1 < 2 or no".repeat(n / 3)),
        9 => {
            out += "for job\n    chain_0 = 1\n";
            for i in 1..n {
                let _ = writeln!(out, "    chain_{i} = chain_{} + chain_{}", i - 1, i / 2);
            }
            out + "end\n"
        }
        10 => {
            // a chain that doubles in each link
            out += "for job\n    twice_0 = 1\n";
            for i in 1..n {
                let _ = writeln!(out, "    twice_{i} = twice_{0} + twice_{0}", i - 1);
            }
            out + "end\n"
        }
        11 => {
            out += "define call_0(x number) number = x + 1\n";
            for i in 1..n {
                let _ = writeln!(out, "define call_{i}(x number) number = call_{0}(x) * call_{0}(x + 1)", i - 1);
            }
            out + &format!("for job\n    called = call_{}(2)\nend\n", n - 1)
        }
        12 => {
            out += "table many  source practice\n    a number, exact | b number, up to | v number\n";
            for i in 0..n * 4 {
                let _ = writeln!(out, "    {} | {} | {i}", i % 37, i / 37);
            }
            out + "end\nfor job\n    found \"Found\" = many(a: 3, b: 2)\nend\n"
        }
        13 => {
            let keys: String = (0..n.min(150)).map(|i| format!("k{i} number, exact | ")).collect();
            let row = "1 | ".repeat(n.min(150));
            format!("table wide\n    {keys}v number\n    {row}1\n    {row}2\nend\n")
        }
        14 => format!(
            "rows rooms from \"R\"\n    w text one of {}\n    id text key\nend\nfor rooms\n    c = {}9 otherwise\nend\n",
            (0..n).map(|i| format!("w{i} ")).collect::<String>(),
            (0..n).map(|i| format!("{i} when w is w{i}, ")).collect::<String>()
        ),
        15 => {
            let ands = (0..n.min(60)).map(|i| format!("x > {i} and y is given and z is w{i} or ")).collect::<String>();
            format!(
                "rows rooms from \"R\"\n    id text key\n    x number\n    y length may be blank\n    z text\nend\nfor rooms\n    check c {ands} x < 5 else warns\nend\n"
            )
        }
        16 => {
            let ups = "^2".to_owned() + &" * 99999 ^ 9".repeat(n.min(60));
            format!("for job\n    big = 7{ups}\nend\n")
        }
        17 => format!("for job\n    name_{} = 1\nend\n", "x".repeat(n * 8)),
        18 => format!("for job\n    t = \"{}\"\nend\n", "é\\\"{".repeat(n)),
        19 => {
            out += "for job\n";
            for i in 0..n.min(200) {
                let _ = writeln!(
                    out,
                    "    check c{i}  {i} < sum of lines (cost) / $1 else warns \"{{t{i}}}\"\n    t{i} \"T\" = {i} * 2"
                );
            }
            out + "end\n"
        }
        20 => {
            out += "example \"many\"\n";
            for i in 0..n {
                let _ = writeln!(out, "    shows (1 + {i}) = {i}");
            }
            out + "end\n"
        }
        _ => format!("for job\n    u = 3 {}\nend\n", vec!["ft"; n].join(dice.pick(&["/", "·"]))),
    }
}
