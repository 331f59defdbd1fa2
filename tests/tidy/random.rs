//! Laws over random books: made by the grammar with spaces, line ends and comments anywhere, and made by damaging sound ones.

use super::{holds, tree};
use hardlid::program::library::BUILT_IN;
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use std::cell::Cell;
use std::fmt::Write as _;

/// Draws choices from random numbers; when they are used up, always the first.
struct Draw<'a> {
    numbers: &'a [u16],
    at: usize,
    comments: usize,
}

impl Draw<'_> {
    fn below(&mut self, n: usize) -> usize {
        let number = self.numbers.get(self.at).copied().unwrap_or(0);
        self.at += 1;
        usize::from(number) % n
    }

    fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == n - 1
    }

    fn word(&mut self, words: &[&str]) -> String {
        words[self.below(words.len())].to_owned()
    }

    /// A comment that no other is like.
    fn comment(&mut self) -> String {
        self.comments += 1;
        let odd = self.word(&[" ", " the rest, (see there", " \"open ", "", " when | x = ", " - -- "]);
        format!("--{odd}#{}#", self.comments)
    }

    fn name(&mut self) -> String {
        self.word(&[
            "x",
            "run",
            "a_long_name_of_a_formula",
            "length",
            "count",
            "item",
            "sum_1",
            "whenever",
            "height",
            "ft",
        ])
    }

    fn literal(&mut self) -> String {
        let values = [
            "3",
            "2.5",
            "8'-6\"",
            "5/8\"",
            "10'-3 1/2\"",
            "1-1/2\"",
            "8½\"",
            "12'",
            "16\"",
            "2.5 psf",
            "2.5psf",
            "1/6 ea",
            "3 1/2 in",
            "$4.85",
            "$312/MLF",
            "$1,200",
            "10%",
            "2.5 %",
            "12 ga wire",
            "yes",
            "\"a text\"",
            "\"a -- b (\"",
            "\"it\\\"s\"",
            "2026-11-25",
            "0.011 hr/ft",
            "29500 ksi",
            "4 in^2",
            "600mm",
        ];
        self.word(&values)
    }

    fn value(&mut self, depth: usize, out: &mut Vec<String>) {
        let put = |out: &mut Vec<String>, words: &str| out.extend(words.split(' ').map(str::to_owned));
        if depth == 0 {
            let leaf = if self.one_in(2) { self.literal() } else { self.name() };
            out.push(leaf);
            return;
        }
        match self.below(11) {
            0 => out.push(self.name()),
            1 => out.push(self.literal()),
            2 | 3 => {
                self.value(depth - 1, out);
                for _ in 0..=self.below(4) {
                    out.push(self.word(&["+", "-", "*", "/", "of", "and", "or", "<=", "=", ">", "×", "≤"]));
                    self.value(depth - 1, out);
                }
            }
            4 => {
                put(out, "(");
                self.expression(depth - 1, out);
                put(out, ")");
            }
            5 => {
                out.push(self.word(&["f", "lay_out", "hanger_count"]));
                put(out, "(");
                for i in 0..=self.below(5) {
                    if i > 0 {
                        put(out, ",");
                    }
                    if self.one_in(2) {
                        out.push(self.name());
                        put(out, ":");
                    }
                    self.value(depth - 1, out);
                }
                put(out, ")");
            }
            6 => {
                out.push(self.word(&["sum", "count", "least", "any"]));
                put(out, "of rooms");
                if self.one_in(2) {
                    put(out, "(");
                    self.expression(depth - 1, out);
                    put(out, ")");
                }
                if self.one_in(3) {
                    put(out, "where");
                    self.value(depth - 1, out);
                }
            }
            7 => {
                put(out, "-");
                self.value(depth - 1, out);
            }
            8 => {
                self.value(depth - 1, out);
                let words =
                    self.word(&["is given", "is not given", "is one of A B", "is not one of free fixed", "is not x"]);
                put(out, &words);
            }
            9 => {
                out.push(self.name());
                put(out, "^");
                out.push(self.word(&["2", "3", "-1"]));
            }
            _ => {
                put(out, "not");
                self.value(depth - 1, out);
            }
        }
    }

    /// A value, or a choice between some.
    fn expression(&mut self, depth: usize, out: &mut Vec<String>) {
        for _ in 0..self.below(4) {
            self.value(depth, out);
            out.push("when".to_owned());
            self.value(depth, out);
            out.push(",".to_owned());
        }
        let choice = out.last().is_some_and(|w| w == ",");
        self.value(depth, out);
        if choice {
            out.push("otherwise".to_owned());
        }
    }

    /// Words of a pattern, in which `E` is an expression, `V` a value, `L` a literal, `N` a name, `T` a text.
    fn pattern(&mut self, pattern: &str, out: &mut Vec<String>) {
        for word in pattern.split_whitespace() {
            let depth = self.below(4);
            match word {
                "E" => self.expression(depth, out),
                "V" => self.value(depth, out),
                "L" => out.push(self.literal()),
                "N" => out.push(self.name()),
                "T" => out.push(self.word(&[
                    "\"A text\"",
                    "\"\"",
                    "\"Take {x} -- of it\"",
                    "\"Label, long enough to tell\"",
                ])),
                word => out.push(word.to_owned()),
            }
        }
    }

    fn clauses(&mut self, first: &str, clauses: &[&str]) -> Vec<String> {
        let mut out = Vec::new();
        self.pattern(first, &mut out);
        for clause in clauses {
            if self.one_in(3) {
                self.pattern(clause, &mut out);
            }
        }
        out
    }

    fn statement(&mut self, block: &str) -> Vec<String> {
        match block {
            "rows" => {
                let all = [
                    "heading T or T",
                    "key",
                    "above L",
                    "at least L",
                    "from 1 to L",
                    "one of A B C",
                    "stock of T",
                    "may be blank",
                    "otherwise L",
                    "shown in in",
                    "T",
                    "source practice",
                    "accepted T",
                ];
                let ty = self.word(&["N length", "N text", "a_rather_long_name count", "N yes/no", "N $/ft"]);
                self.clauses(&ty, &all)
            }
            "for" => match self.below(8) {
                0 | 1 => self.clauses("N = E", &["shown to 1/8\"", "T", "T", "source T"]),
                2 => self.clauses("replace N T = E", &["shown in sf", "source practice"]),
                3 => self.clauses("check N V else stops", &["T", "T", "source T"]),
                4 => {
                    let all = [
                        "T",
                        "code T",
                        "need E",
                        "waste V",
                        "rate V",
                        "factor V",
                        "height V",
                        "difficulty N",
                        "only when V",
                        "spliced lap L least 5\"",
                        "accepted T",
                        "source T",
                    ];
                    let word = self.word(&[
                        "item N code V",
                        "labor N code T",
                        "replace item N lump V",
                        "item N cut V , each V",
                    ]);
                    self.clauses(&word, &all)
                }
                5 => {
                    let first = self.word(&["options N x , y , z", "options N T x T , y only when V , z T ,"]);
                    self.clauses(&first, &["named by N", "showing x , y", "T"])
                }
                6 => {
                    let first = self.word(&["cutting", "replace cutting by N"]);
                    self.clauses(&first, &["kerf V", "keep V", "T", "source T"])
                }
                _ => {
                    let first = self.word(&["telling x , y , z", "dividing parts by x alternates by y deducting z"]);
                    self.clauses(&first, &["T", "source T"])
                }
            },
            "example" => {
                if self.one_in(2) {
                    self.clauses(
                        "shows x = L",
                        &["count of rooms = 3", "f ( 1 ) = 2 ft", "y = L", "( E ) = 4", "z = free", "w = - 3"],
                    )
                } else {
                    let first = self.word(&["rooms id 1", "openings", "job"]);
                    self.clauses(
                        &first,
                        &["length 20'", "width 14 ft", "sdc B", "many 3", "load 2.5 psf", "rate 3 hr/ft", "id \"x\""],
                    )
                }
            }
            _ => {
                let first = self.word(&[
                    "L | 12' | 1.5 sf",
                    "A | 8'-6\" | 900 sf",
                    "\"a text of some length\" | 5/8\" | 12 sf |",
                    "yes | - 3 | x",
                ]);
                self.clauses(&first, &[])
            }
        }
    }

    /// What stands between two words; line ends only where the statement may go on.
    fn gap(&mut self, may_end: bool, tight: bool, indent: usize) -> String {
        let deeper = " ".repeat(indent + 1 + self.below(9));
        match self.below(if may_end { 24 } else { 12 }) {
            0..=6 => " ".to_owned(),
            7 | 8 if tight => String::new(),
            7..=9 => "   ".to_owned(),
            10 => "\t".to_owned(),
            11 => "\u{a0} ".to_owned(),
            12..=17 => format!("\n{deeper}"),
            18 => format!("\n\n{deeper}"),
            19 | 20 => format!(" {}\n{deeper}", self.comment()),
            21 => format!("{}\n{deeper}", self.comment()),
            22 => format!("\n  {}\n{deeper}", self.comment()),
            _ => format!("  {}\n\n{}\n{deeper}", self.comment(), self.comment()),
        }
    }

    fn lay(&mut self, words: &[String], indent: usize, head: bool, broken: bool, out: &mut String) {
        out.push_str(&" ".repeat(indent));
        for (i, word) in words.iter().enumerate() {
            if i > 0 {
                let sign = |w: &str| w.len() <= 2 && !w.starts_with(|c: char| c.is_ascii_alphanumeric() || c == '-');
                let tight = sign(word) || sign(&words[i - 1]);
                // the words that say what a statement is stand on its first line
                let begun = i > 1 && !(i == 2 && words[0] == "replace");
                let gap = self.gap(!head && broken && begun, tight, indent);
                out.push_str(&gap);
            }
            out.push_str(word);
        }
        match self.below(6) {
            4 => {
                let _ = write!(out, "   {}", self.comment());
            }
            5 => out.push_str("  "),
            _ => {}
        }
        out.push('\n');
    }

    fn between(&mut self, out: &mut String) {
        for _ in 0..self.below(3) {
            match self.below(4) {
                0 | 1 => out.push('\n'),
                2 => out.push_str("  \t\n"),
                _ => {
                    let _ = writeln!(out, "{}{}", " ".repeat(self.below(12)), self.comment());
                }
            }
        }
    }

    fn book(&mut self) -> String {
        let mut out = String::new();
        for _ in 0..=self.below(5) {
            self.between(&mut out);
            let broken = self.one_in(2);
            let heads = [
                "rows rooms from T",
                "rows openings belong to rooms by T or T",
                "for rooms",
                "for job",
                "example T",
                "table t T source practice",
                "replace table t",
                "replace rows of table t",
                "table t T from sheet T of T",
                "table t from sheet T of T source practice accepted T",
                "book T edition T",
                "use T",
                "use T edition T",
                "use T edition from T to T",
                "use T edition at least T",
                "use T edition at most T",
                "units metric",
                "define f ( x length , y count otherwise V ) length = E",
                "replace define g ( N area ) yes/no = E T source T",
            ];
            let head = self.word(&heads);
            let mut words = Vec::new();
            self.pattern(&head, &mut words);
            let first = words.iter().find(|w| *w != "replace").cloned().unwrap_or_default();
            // 'replace rows of table' is a table
            let block = if head.starts_with("replace rows") { "table".to_owned() } else { first };
            let opens = ["rows", "for", "example", "table"].contains(&block.as_str());
            self.lay(&words, 0, opens, broken, &mut out);
            if !opens {
                continue;
            }
            let indent = 1 + self.below(8);
            if block == "table" {
                self.between(&mut out);
                let heads = if self.one_in(2) { " , heading \"B\" or \"C\"" } else { "" };
                let columns = format!("a text , exact | b length , up to , otherwise 5/8\"{heads} | c area{heads}");
                let columns: Vec<String> = columns.split(' ').map(str::to_owned).collect();
                self.lay(&columns, indent, false, broken, &mut out);
            }
            for _ in 0..self.below(6) {
                self.between(&mut out);
                let words = self.statement(&block);
                self.lay(&words, indent, false, broken, &mut out);
            }
            self.between(&mut out);
            out.push_str("end");
            if self.one_in(3) {
                let _ = write!(out, " {}", self.comment());
            }
            out.push('\n');
        }
        self.between(&mut out);
        out
    }
}

/// The numbers of a text's comments, in order.
fn numbers(text: &str) -> Vec<&str> {
    text.split('#').skip(1).step_by(2).collect()
}

#[test]
fn books_of_the_grammar_keep_their_tree_and_their_comments() {
    books_of_the_grammar(1_000);
}

#[test]
#[ignore = "takes some minutes: cargo test --release --test tidy -- --ignored"]
fn very_many_books_of_the_grammar_keep_their_tree_and_their_comments() {
    books_of_the_grammar(200_000);
}

fn books_of_the_grammar(cases: u32) {
    let (sound, all) = (Cell::new(0), Cell::new(0));
    let mut runner =
        TestRunner::new(Config { cases, failure_persistence: None, max_shrink_iters: 400, ..Config::default() });
    let numbers_of = prop::collection::vec(any::<u16>(), 0..600);
    runner
        .run(&numbers_of, |drawn| {
            let book = Draw { numbers: &drawn, at: 0, comments: 0 }.book();
            all.set(all.get() + 1);
            if tree(&book).is_some() {
                sound.set(sound.get() + 1);
                let done = holds(&book);
                assert_eq!(numbers(&book), numbers(&done), "comments:\n{book}\n---- tidy:\n{done}");
            }
            Ok(())
        })
        .unwrap();
    // most are sound, or the laws would hold of little
    assert!(sound.get() * 3 > all.get(), "{} of {}", sound.get(), all.get());
}

/// Sound books with space put in and taken out at random: where they are sound still, the laws hold.
#[test]
fn damaged_books_that_are_sound_keep_their_tree() {
    let pieces: Vec<&str> = BUILT_IN.iter().flat_map(|b| b.text.split("\n\n")).collect();
    let odd = [
        "\n",
        " ",
        "\n    ",
        "\n        ",
        "  -- odd #1#\n      ",
        "\n -- odd\n",
        "\t",
        "",
        "-",
        "(",
        "\"",
        "1",
        "end\n",
        "\r\n",
    ];
    let change = (any::<prop::sample::Index>(), prop::sample::select(odd.to_vec()), 0usize..3);
    let strategy = (any::<prop::sample::Index>(), prop::collection::vec(change, 1..5));
    let sound = Cell::new(0);
    let mut runner =
        TestRunner::new(Config { cases: 2_000, failure_persistence: None, max_shrink_iters: 400, ..Config::default() });
    runner
        .run(&strategy, |(piece, changes)| {
            let mut text: Vec<char> = piece.get(&pieces).chars().collect();
            for (at, what, out) in changes {
                let at = at.index(text.len() + 1);
                let end = (at + out).min(text.len());
                text.splice(at..end, what.chars());
            }
            let book: String = text.into_iter().collect();
            if tree(&book).is_some() {
                sound.set(sound.get() + 1);
                holds(&book);
            }
            Ok(())
        })
        .unwrap();
    assert!(sound.get() > 100, "{}", sound.get());
}
