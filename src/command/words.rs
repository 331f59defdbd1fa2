//! `hardlid words [NAME]`

use super::{Ended, books, failed, out};
use crate::notation::tree::{Define, Part, TableBlock};
use crate::problem::{Problem, nearest::nearest};
use crate::program::{Program, builtin, types::TYPES};
use crate::quantity::unit::UNITS;
use crate::system::Outside;
use serde_json::{Value, json};
use std::ops::Range;
use std::path::PathBuf;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid words\n  hardlid words hanger_count\n  hardlid words psf\n  hardlid words --rules house.lid offcut"
)]
pub struct Arguments {
    /// A function, table, unit, type or statement.
    name: Option<String>,
    /// A rule book whose definitions are listed as well.
    #[arg(long, value_name = "BOOK.lid")]
    rules: Option<PathBuf>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

/// One word that a book can use.
struct Word {
    name: String,
    family: &'static str,
    form: String,
    summary: String,
    details: String,
    source: Option<String>,
    examples: Vec<(String, String)>,
}

/// Statements of the notation: form and meaning. The reading itself is in the grammar; this is its face.
const STATEMENTS: &[(&str, &str, &str)] = &[
    (
        "book",
        "book \"Title\"  edition \"2026.1\"",
        "Names the book; title and edition stand in every workbook that it prices.",
    ),
    ("use", "use \"hardlid trade\"", "Brings the names of a lower book in."),
    ("units", "units metric", "Lengths are shown in mm and m instead of feet and inches."),
    (
        "rows",
        "rows rooms  from \"Rooms\" … end",
        "A kind of row and the sheet it is read from; a line for each input column.",
    ),
    (
        "heading",
        "length  length  heading \"Length\" or \"L\"  above 0",
        "Headings that name a column, and what it accepts: key, above, below, at least, at most, from … to, one of, may be blank, otherwise, stock of (the longest stock length of a code that the price book offers).",
    ),
    (
        "belong to",
        "rows openings  from \"Openings\"  belong to rooms by \"Room\" … end",
        "Rows that belong to rows of another kind.",
    ),
    (
        "table",
        "table wire_spacing \"Title\"  source practice … end",
        "A table that is called like a function; columns match exact, up to, from or between.",
    ),
    ("define", "define offcut(whole length, stock length) length = …", "A function of the company's own."),
    (
        "replace",
        "replace table tested_span … end",
        "Takes the place of a table, definition, formula, check or item of a lower book, of the same type.",
    ),
    (
        "for",
        "for rooms … end",
        "What is worked out, checked, bought and done for each row of a kind; 'for job' for the job.",
    ),
    (
        "formula",
        "tees \"Tees\" = tee_count(along: along, spacing: spacing)  shown to 1/8\"",
        "A name, a label, and what it is; 'shown to' and 'shown in' change how it is printed, never its value.",
    ),
    (
        "check",
        "check span  part <= limit  else stops \"… {part} …\"",
        "A condition that should hold, else the row stops, or warns, or notes.",
    ),
    (
        "item",
        "item board  code \"GB-58\"  need net_board * layers  waste 10%",
        "What is bought for each row: need, or cut … each …, or lump; 'only when' a condition holds.",
    ),
    (
        "labor",
        "labor frame  code \"L-TEE\"  need tees * run  rate 0.011 hr/ft",
        "What is done for each row; the rate may stand in the price book instead. Hours are quantity times rate, times 'factor' where it is stated. 'height' and 'difficulty' say which of several Labor rows of the code serves: labor frame … height ceiling_height difficulty difficulty.",
    ),
    (
        "spliced",
        "item back  code \"SB\"  cut lines, each along  spliced lap 4\" least 10\"",
        "Pieces longer than every stock length may be made of parts: each laps the one before, none is shorter than 'least', and 'scrap' is a piece of the same stock over each joint. Without it such a piece stops its row.",
    ),
    (
        "cutting",
        "cutting  by level  kerf saw_kerf  keep 12\"",
        "How pieces are cut from stock, in 'for job': what is cut together (by a text of the rooms, or by rooms; the whole job when it is not said), the width of a saw cut, the least offcut that is kept.",
    ),
    (
        "buying",
        "buying  first from preferred_supplier  only from \"North Yard\"  charging bought when by_the_piece",
        "Whose prices serve, in 'for job': of suppliers the cheapest, but one may go first where it sells a thing, or serve alone; a blank text says nothing. The bid charges what is used; with 'charging bought' a line of the job brings it to what whole pieces and packs cost. 'headings by' and 'codes by' name tables of two texts, theirs and ours, by which a yard's own price list is read.",
    ),
    (
        "dividing",
        "dividing  parts by level  alternates by alternate deducting deducted  deliveries by level",
        "How a bid is divided, in 'for job': the text of the rooms by which it is priced in parts that add up to the total to the cent, the one that names a room's alternate (its rooms are priced apart and are not in the bid; where the yes or no after 'deducting' holds they are in it, and the alternate takes them out), and the one by which deliveries are told apart. A blank text says nothing.",
    ),
    (
        "telling",
        "telling  includes, excludes, price_stands, board_kind, assembly, deck",
        "What the bid tells, in 'for job', in this order: texts of the job as they are, and texts of the rooms as the different ones there are, with the number of rooms. What is blank is not told.",
    ),
    (
        "options",
        "options scheme \"Scheme\"\n    straight \"Wall to wall\",\n    grid \"Hung grid\"  only when hang >= 4\"\n    named by wanted\n    showing wires, part",
        "Ways to build a row: it is worked out and priced under each, and the cheapest that passes its checks is taken; formulas ask 'scheme is grid'.",
    ),
    (
        "example",
        "example \"14 by 20\"\n    rooms length 20' width 14'\n    shows tees = 9\nend",
        "A worked case that runs as a test of the book.",
    ),
    (
        "when",
        "24\" when part <= 7'-6\", 16\" otherwise",
        "A choice: the first condition that holds decides; 'otherwise' is always there.",
    ),
    (
        "sum of",
        "sum of openings (long * wide) where many > 1",
        "Children brought together: sum, count, least, most, any, all; the sum of none is 0, the least of none is missing.",
    ),
    (
        "is given",
        "spaced when spaced is given, 24\" otherwise",
        "Whether a cell is filled in; a blank is missing, never zero.",
    ),
    ("of", "10% of material", "A part of something."),
    (
        "source",
        "source \"ASTM C840\"",
        "Where a figure or rule comes from; 'practice' for common practice without a source.",
    ),
];

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let program = match books::program(arguments.rules.as_deref(), "hardlid ceilings", None, outside) {
        Ok((program, _)) => program,
        Err(problems) => return failed(&problems, arguments.json),
    };
    let words = all_words(&program);
    let Some(wanted) = &arguments.name else {
        if arguments.json {
            out::value(&Value::Array(words.iter().map(word_json).collect()));
        } else {
            list(&words);
        }
        return Ended::Done;
    };
    let found: Vec<&Word> =
        words.iter().filter(|w| w.name == *wanted || w.name.split(", ").any(|n| n == wanted)).collect();
    if found.is_empty() {
        let names = words.iter().flat_map(|w| w.name.split(", "));
        let problem = Problem::stop("unknown name", format!("Nothing in the notation is called '{wanted}'."));
        let near = nearest(wanted, names).map(str::to_owned);
        let problem = match near {
            Some(near) => problem.fix(format!("hardlid words {near}")),
            None => problem.fix("hardlid words lists everything"),
        };
        return failed(&[problem], arguments.json);
    }
    if arguments.json {
        out::value(&Value::Array(found.into_iter().map(word_json).collect()));
    } else {
        found.into_iter().for_each(explain);
    }
    Ended::Done
}

/// Families in the order in which they are listed.
const FAMILIES: [&str; 9] = [
    "Functions of this book",
    "Tables of this book",
    "Functions of the trade",
    "Tables of the trade",
    "Functions of geometry and cutting",
    "Functions of the language",
    "Statements",
    "Types",
    "Units",
];

fn all_words(program: &Program) -> Vec<Word> {
    let mut out = Vec::new();
    for record in builtin::all() {
        out.push(Word {
            name: record.name.to_owned(),
            family: "Functions of the language",
            form: record.signature.to_owned(),
            summary: record.summary.to_owned(),
            details: record.details.to_owned(),
            source: None,
            examples: record.examples.iter().map(|(e, r)| ((*e).to_owned(), (*r).to_owned())).collect(),
        });
    }
    for record in program.natives.iter().copied().flatten() {
        out.push(Word {
            name: record.name.to_owned(),
            family: "Functions of geometry and cutting",
            form: record.signature(),
            summary: record.summary.to_owned(),
            details: record.details.to_owned(),
            source: None,
            examples: record.examples.iter().map(|(e, r)| ((*e).to_owned(), (*r).to_owned())).collect(),
        });
    }
    for book in &program.books {
        let families: (&'static str, &'static str) = match book.title.as_str() {
            "hardlid loads" | "hardlid board" | "hardlid trade" | "hardlid ceilings" => {
                ("Functions of the trade", "Tables of the trade")
            }
            _ => ("Functions of this book", "Tables of this book"),
        };
        for part in &book.parts {
            match part {
                Part::Define(d) => out.push(define_word(d, &book.text.text, families.0, program)),
                Part::Table(t) => out.push(table_word(t, &book.text.text, families.1, program)),
                _ => {}
            }
        }
    }
    for (name, _, summary) in TYPES {
        out.push(plain(name, "Types", (*name).to_owned(), summary));
    }
    for (kind, summary) in crate::program::native::THINGS {
        out.push(plain(kind.0, "Types", kind.0.to_owned(), summary));
    }
    for unit in UNITS {
        out.push(plain(&unit.names.join(", "), "Units", format!("12 {}", unit.names[0]), unit.summary));
    }
    for (name, form, summary) in STATEMENTS {
        out.push(plain(name, "Statements", (*form).to_owned(), summary));
    }
    out.sort_by_key(|w| FAMILIES.iter().position(|f| *f == w.family));
    out
}

fn plain(name: &str, family: &'static str, form: String, summary: &str) -> Word {
    Word {
        name: name.to_owned(),
        family,
        form,
        summary: summary.to_owned(),
        details: String::new(),
        source: None,
        examples: Vec::new(),
    }
}

fn define_word(define: &Define, text: &str, family: &'static str, program: &Program) -> Word {
    let parameters: Vec<String> = define
        .parameters
        .iter()
        .map(|p| {
            let default =
                p.default.as_ref().and_then(|d| text.get(d.span.range())).map(|d| format!(" otherwise {}", d.trim()));
            format!("{}: {}{}", p.name.name, p.ty.text, default.unwrap_or_default())
        })
        .collect();
    Word {
        name: define.name.name.clone(),
        family,
        form: format!("{}({}) {}", define.name.name, parameters.join(", "), define.ty.text),
        summary: define.note.clone().unwrap_or_default(),
        details: text
            .get(bracketed(text, define.body.span.range()))
            .map_or_else(String::new, |b| format!("= {}", b.split_whitespace().collect::<Vec<_>>().join(" "))),
        source: define.source.clone(),
        examples: examples_of(&define.name.name, program),
    }
}

/// The place of an expression, widened by the brackets that belong to its first and last part: the place of `(a + b) * c`
/// begins at `a`.
fn bracketed(text: &str, mut place: Range<usize>) -> Range<usize> {
    let (mut open, mut unopened) = (0_usize, 0_usize);
    for c in text.get(place.clone()).unwrap_or_default().chars() {
        match c {
            '(' => open += 1,
            ')' if open == 0 => unopened += 1,
            ')' => open -= 1,
            _ => {}
        }
    }
    for _ in 0..unopened {
        place.start = text.get(..place.start).and_then(|t| t.rfind('(')).unwrap_or(place.start);
    }
    for _ in 0..open {
        let rest = text.get(place.end..).and_then(|t| t.find(')'));
        place.end += rest.map_or(0, |at| at + 1);
    }
    place
}

fn table_word(table: &TableBlock, text: &str, family: &'static str, program: &Program) -> Word {
    let keys: Vec<String> = table
        .columns
        .iter()
        .filter(|c| c.how.is_some())
        .map(|c| {
            let default = c.default.as_ref().and_then(|d| text.get(d.span.range()));
            let default = default.map(|d| format!(" otherwise {}", d.trim_start_matches("otherwise").trim()));
            format!("{}: {}{}", c.name.name, c.ty.text, default.unwrap_or_default())
        })
        .collect();
    let results: Vec<&str> = table.columns.iter().filter(|c| c.how.is_none()).map(|c| c.ty.text.as_str()).collect();
    Word {
        name: table.name.name.clone(),
        family,
        form: format!("{}({}) {}", table.name.name, keys.join(", "), results.join(", ")),
        summary: table.title.clone().unwrap_or_default(),
        details: format!("{} rows; a value that no row serves is a fault, never a guess.", table.rows.len()),
        source: table.source.clone(),
        examples: examples_of(&table.name.name, program),
    }
}

/// Lines of the books' own examples that call a function.
fn examples_of(name: &str, program: &Program) -> Vec<(String, String)> {
    let call = format!("{name}(");
    let shows = program.examples.iter().flat_map(|e| e.shows.iter().map(move |s| (e, s)));
    shows
        .filter(|(_, s)| s.label.starts_with(&call))
        .take(3)
        .map(|(e, s)| (s.label.clone(), e.text.text.get(s.span.range()).unwrap_or("").trim().to_owned()))
        .collect()
}

fn list(words: &[Word]) {
    let mut family = "";
    for word in words {
        if word.family != family {
            family = word.family;
            out::line(&format!("\n{family}"));
        }
        let form = word.form.lines().next().unwrap_or("");
        let form = if word.family == "Units" { &word.name } else { form };
        if form.chars().count() <= 34 {
            out::line(&format!("  {form:<34}  {}", word.summary));
        } else {
            out::line(&format!("  {form}\n  {:<34}  {}", "", word.summary));
        }
    }
}

fn explain(word: &Word) {
    out::line(&format!("{}\n   {}", word.form, word.summary));
    if !word.details.is_empty() {
        out::line(&format!("   {}", word.details));
    }
    if let Some(source) = &word.source {
        out::line(&format!("   Source: {source}"));
    }
    for (example, result) in &word.examples {
        out::line(&format!("   {example}  gives  {result}"));
    }
}

fn word_json(word: &Word) -> Value {
    let examples: Vec<Value> = word.examples.iter().map(|(e, r)| json!({ "expression": e, "gives": r })).collect();
    json!({ "name": word.name, "family": word.family, "form": word.form, "summary": word.summary,
        "details": word.details, "source": word.source, "examples": examples })
}

#[cfg(test)]
mod tests {
    use super::bracketed;

    #[test]
    fn a_formula_is_told_with_its_brackets() {
        for (text, part, whole) in [
            ("= a * (b + c)\n", "a * (b + c", "a * (b + c)"),
            ("= (a + b) * c\n", "a + b) * c", "(a + b) * c"),
            ("= ((a + b) * c) / (d - (e + f)) when x", "a + b) * c) / (d - (e + f", "((a + b) * c) / (d - (e + f))"),
            ("= a + b", "a + b", "a + b"),
        ] {
            let from = text.find(part).unwrap();
            assert_eq!(&text[bracketed(text, from..from + part.len())], whole);
        }
    }
}
