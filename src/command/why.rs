//! `hardlid why WORKBOOK ROOM NAME`

use super::{Ended, books, failed, out};
use crate::bid::{Ready, Rules, Worked, compiled_to_explain};
use crate::problem::Problem;
use crate::problem::render::{for_people, for_programs, place_for_programs};
use crate::program::KindId;
use crate::reprice::Last;
use crate::source::Place;
use crate::system::Outside;
use crate::workbook::write::written_by_us;
use crate::working::{
    Answer, Entry, InPlaceOf, Listed, MOST_DEPTH, Sort, Told, answer, called_so_too, find, listed, name_option,
    row_named, rows_below,
};
use serde_json::{Value, json};
use std::path::PathBuf;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid why rooms.xlsx 102 tees --rules house.lid --prices yard.xlsx\n  hardlid why rooms.priced.xlsx 102 \"span tee\"\n  \
                        hardlid why rooms.priced.xlsx 206 soffit corner\n  hardlid why rooms.priced.xlsx job overhead_amount\n  hardlid why rooms.priced.xlsx 102\n\n\
                        NAME is a name or a label: of something worked out, of a line (its cost: quantity x unit cost), of a check, of a column that is read. \
                        'line NAME' and 'check NAME' say which is meant. Without NAME, all that can be asked is listed. ROOM 'job' asks for the figures of the bid.\n\
                        A priced workbook carries its rules and prices; a rooms workbook takes --rules, --prices and --as-of as 'price' does.\n\
                        Exit 0: told; 1: told, and there is no value or the row is stopped; 2: could not run.\n\n\
                        An estimating aid. Span and load checks are no engineering: the manufacturer's tested tables, local codes and licensed practice govern."
)]
pub struct Arguments {
    /// A priced workbook, or a rooms workbook.
    workbook: PathBuf,
    /// The room, as its row names it; or job.
    room: Option<String>,
    /// What is asked about.
    name: Vec<String>,
    /// The rule book, for a rooms workbook.
    #[arg(long, value_name = "BOOK.lid")]
    rules: Option<PathBuf>,
    /// The price book, for a rooms workbook.
    #[arg(long, value_name = "BOOK.xlsx")]
    prices: Option<PathBuf>,
    /// The pricing date, year-month-day; today when left out.
    #[arg(long, value_name = "DATE")]
    as_of: Option<String>,
    /// Tell it as if the room named this scheme.
    #[arg(long, value_name = "SCHEME")]
    under: Option<String>,
    /// How many levels deep to tell.
    #[arg(long, value_name = "LEVELS", default_value_t = 3)]
    depth: usize,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    match why(arguments, outside) {
        Ok(ended) => ended,
        Err(problems) => failed(&problems, arguments.json),
    }
}

fn why(arguments: &Arguments, outside: &dyn Outside) -> Result<Ended, Vec<Problem>> {
    let one = |p: Problem| vec![p];
    let file = books::file(&arguments.workbook, outside).map_err(one)?;
    let (ready, rooms, own) = if written_by_us(&file.bytes) {
        carries_its_own(arguments).map_err(one)?;
        let Last { carried, own, .. } = Last::read(&file.name, file.bytes.to_vec()).map_err(one)?;
        let rules = Rules::of_the_day(&carried).map_err(one)?;
        let (program, told) = compiled_to_explain(&rules)?;
        let ready = Ready::of_program(program, &rules, carried.prices.as_ref(), carried.as_of, told)?;
        (ready, carried.rooms, own)
    } else {
        let as_of = books::date(arguments.as_of.as_deref(), outside).map_err(one)?;
        let rules = books::rules(arguments.rules.as_deref(), "hardlid ceilings", outside).map_err(one)?;
        let prices = arguments.prices.as_ref().map(|path| books::file(path, outside)).transpose().map_err(one)?;
        let (program, told) = compiled_to_explain(&rules)?;
        (Ready::of_program(program, &rules, prices.as_ref(), as_of, told)?, file.into(), Vec::new())
    };
    let worked = ready.work_out(&rooms, ready.inputs(&rooms)?, own.clone());
    let Some(room) = &arguments.room else {
        return Ok(list_rows(&worked, arguments.json));
    };
    let of = row_named(&worked, room).map_err(one)?;
    let Some(wanted) = &arguments.under else { return tell(arguments, &worked, of, None) };
    let mut inputs = ready.inputs(&rooms)?;
    let under = name_option(ready.program(), &mut inputs, of, wanted).map_err(one)?;
    tell(arguments, &ready.work_out(&rooms, inputs, own), of, Some(&under))
}

/// Tells what was asked of a row, as it stands or under an option that it was made to name.
fn tell(
    arguments: &Arguments,
    worked: &Worked<'_>,
    of: (KindId, usize),
    under: Option<&str>,
) -> Result<Ended, Vec<Problem>> {
    let name = arguments.name.join(" ");
    if name.trim().is_empty() {
        return Ok(list(&[listed(worked, of)], arguments.json));
    }
    let asked = match find(worked, of, &name) {
        Ok(asked) => asked,
        Err(problem) => {
            let rows = rows_below(worked, of, &name);
            if rows.is_empty() {
                return Err(vec![problem]);
            }
            return Ok(list(&rows.iter().map(|row| listed(worked, *row)).collect::<Vec<_>>(), arguments.json));
        }
    };
    let answers = answer(worked, &asked, arguments.depth).unwrap_or_default();
    let others = called_so_too(worked, &name, &asked);
    if arguments.json {
        out::value(&json!({
            "under": under, "answers": answers.iter().map(as_json).collect::<Vec<_>>(), "called so too": others,
        }));
    } else {
        if let Some(under) = under {
            out::line(&format!("As if the row named {under}:\n"));
        }
        for (at, answer) in answers.iter().enumerate() {
            if at > 0 {
                out::line("");
            }
            print(answer);
        }
        let deeper = arguments.depth.saturating_add(3).min(MOST_DEPTH);
        if deeper > arguments.depth && answers.iter().any(|a| goes_deeper(&a.told)) {
            out::line(&format!("\n\u{2026} marks what has more below: ask for it by name, or give --depth {deeper}."));
        }
        if !others.is_empty() {
            out::line(&format!("\nCalled so too, to be asked by name: {}.", others.join(", ")));
        }
    }
    let without = |a: &Answer| a.told.faulty || !a.stops.is_empty();
    Ok(if answers.iter().any(without) { Ended::WithStops } else { Ended::Done })
}

/// A priced workbook is told by what it carries.
fn carries_its_own(arguments: &Arguments) -> Result<(), Problem> {
    let given = [
        ("--rules", arguments.rules.is_some()),
        ("--prices", arguments.prices.is_some()),
        ("--as-of", arguments.as_of.is_some()),
    ];
    match given.iter().find(|(_, given)| *given) {
        None => Ok(()),
        Some((option, _)) => {
            let name = books::file_name(&arguments.workbook);
            let what =
                format!("{name} is a priced workbook and is told by the rules, prices and date that it carries.");
            Err(Problem::stop("a priced workbook", what)
                .in_file(name.as_str())
                .fix(format!("leave {option} out, or ask about the rooms workbook")))
        }
    }
}

/// Widest line that is printed; what is longer goes on below.
const WIDTH: usize = 112;
/// What stands before each level.
const STEP: &str = "|  ";

fn print(answer: &Answer) {
    for stop in &answer.stops {
        out::line(for_people(stop).trim_end());
    }
    if !answer.stops.is_empty() {
        out::line("");
    }
    let mut row = answer.row.clone();
    if let Some(first) = row.get(..1) {
        row = first.to_uppercase() + &row[1..];
    }
    wrapped("", &format!("{row}: "), &head(&answer.told));
    below(&answer.told, 0);
}

/// What a part is called, its value, and where it stands.
fn head(told: &Told) -> String {
    let of = told.of.as_ref().map_or_else(String::new, |of| format!(" of {of}"));
    let value = match (&told.value, told.state, told.faulty) {
        (Some(value), ..) => format!(" = {value}"),
        (None, Some(state), _) => format!(": {state}"),
        (None, None, true) => ": no value".to_owned(),
        (None, None, false) => String::new(),
    };
    let exact = told.exact.as_ref().map_or_else(String::new, |exact| format!(" (exactly {exact})"));
    let after = match (told.again, inline(told)) {
        (true, _) => "  (told above)".to_owned(),
        (false, words) if words.is_empty() => String::new(),
        (false, words) => format!("  [{}]", words.join("; ")),
    };
    let more = if told.deeper { " \u{2026}" } else { "" };
    format!("{}{of}{value}{exact}{more}{after}", told.label)
}

/// What stands in the line of a part's head: its place, and all there is to say of what has no parts.
fn inline(told: &Told) -> Vec<String> {
    let place = told.place.as_ref().map(place_text);
    let mut out: Vec<String> = if says_in_head(told) { told.says.clone() } else { Vec::new() };
    // of a cell its place comes first, of what stands for one the reason
    let first = if matches!(told.place, Some(Place::Cell(_))) { 0 } else { out.len() };
    out.splice(first..first, place);
    out
}

fn says_in_head(told: &Told) -> bool {
    matches!(told.sort, Sort::Cell | Sort::Option) || (told.sort == Sort::Row && told.formula.is_none())
}

/// What stands before the lines of a level; deeper than a line holds, the level by its number.
fn guide(level: usize) -> String {
    const DEEPEST: usize = 16;
    if level <= DEEPEST { STEP.repeat(level) } else { format!("{}({level}) ", STEP.repeat(DEEPEST)) }
}

/// Prints what stands below the head of a part, and its parts.
fn below(told: &Told, level: usize) {
    if told.again || (told.deeper && level > 0) {
        return;
    }
    let lead = guide(level + 1);
    let say = |first: &str, text: &str| wrapped(&lead, first, text);
    if let Some(formula) = &told.formula {
        say("by ", formula);
    }
    for step in &told.worked {
        say("=  ", step);
    }
    if !says_in_head(told) {
        told.says.iter().for_each(|words| say("", words));
    }
    // what a column is for is told where it is asked about
    if let Some(note) = told.note.as_ref().filter(|_| told.sort != Sort::Cell || level == 0) {
        say("", &format!("\u{201c}{note}\u{201d}"));
    }
    if let Some(source) = told.source.as_ref().filter(|_| told.sort != Sort::Cell || level == 0) {
        say("", &format!("source: {source}"));
    }
    for before in &told.instead_of {
        say("", &format!("stands in place of the one in {}", place_text(&before.place)));
    }
    for part in &told.parts {
        wrapped(&lead, "", &head(part));
        below(part, level + 1);
    }
}

/// Whether parts of a telling lie deeper than was asked for.
fn goes_deeper(told: &Told) -> bool {
    told.deeper || told.parts.iter().any(goes_deeper)
}

/// A text with what stands before it, in lines that are not too long.
fn wrapped(lead: &str, first: &str, text: &str) {
    let room = WIDTH.saturating_sub(lead.chars().count() + first.chars().count()).max(40);
    let indent = " ".repeat(if first.is_empty() { 4 } else { first.chars().count() });
    let mut line = String::new();
    let mut before = first.to_owned();
    for word in text.split(' ') {
        if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > room {
            out::line(&format!("{lead}{before}{line}"));
            line.clear();
            before.clone_from(&indent);
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    out::line(format!("{lead}{before}{line}").trim_end());
}

fn place_text(place: &Place) -> String {
    match place {
        Place::Book { text, span } => format!("{}, line {}", text.name, text.line(span.start as usize)),
        Place::Cell(cell) => cell.to_string(),
        Place::File(file) => file.to_string(),
    }
}

/// Lists the rows that can be asked about.
fn list_rows(worked: &Worked<'_>, json: bool) -> Ended {
    let schema = &worked.ready.program().schema;
    let names: Vec<String> = schema.root_kind().map_or_else(Vec::new, |root| {
        let rows = 0..worked.engine.run().rows_of(root);
        let name = |row| crate::engine::names::row(schema, worked.engine.run(), &worked.inputs, root, row);
        rows.map(|row| name(row).to_string()).collect()
    });
    if json {
        out::value(&json!({ "rows": names, "job": "job" }));
        return Ended::Done;
    }
    out::line("Ask about one of these rows, or about the job:");
    wrapped("  ", "", &names.join(", "));
    Ended::Done
}

/// Lists what can be asked about rows.
fn list(rows: &[Listed], json: bool) -> Ended {
    if json {
        let entry = |e: &Entry| json!({ "name": e.name, "label": e.label, "value": e.value });
        let group = |(title, entries): &(String, Vec<Entry>)| json!({ "group": title, "entries": entries.iter().map(entry).collect::<Vec<_>>() });
        let row = |l: &Listed| json!({ "row": l.row, "groups": l.groups.iter().map(group).collect::<Vec<_>>() });
        out::value(&json!({ "rows": rows.iter().map(row).collect::<Vec<_>>() }));
        return Ended::Done;
    }
    for (at, listed) in rows.iter().enumerate() {
        if at > 0 {
            out::line("");
        }
        list_row(listed);
    }
    Ended::Done
}

fn list_row(listed: &Listed) {
    out::line(&format!("What can be asked about {}:", listed.row));
    let entries = || listed.groups.iter().flat_map(|(_, entries)| entries);
    let width = |text: fn(&Entry) -> &String| entries().map(|e| text(e).chars().count()).max().unwrap_or(0);
    let (names, labels) = (width(|e| &e.name), width(|e| &e.label));
    for (title, entries) in &listed.groups {
        if !title.is_empty() {
            out::line(&format!("\n{title}"));
        }
        for entry in entries {
            let line = format!("  {:<names$}  {:<labels$}  {}", entry.name, entry.label, entry.value);
            out::line(line.trim_end());
        }
    }
}

fn as_json(answer: &Answer) -> Value {
    json!({
        "row": answer.row,
        "stops": answer.stops.iter().map(for_programs).collect::<Vec<_>>(),
        "told": told_json(&answer.told),
    })
}

fn told_json(told: &Told) -> Value {
    let instead = |before: &InPlaceOf| json!({ "book": before.book, "place": place_for_programs(&before.place) });
    json!({
        "sort": told.sort.word(),
        "name": told.name,
        "label": told.label,
        "of": told.of,
        "value": told.value,
        "exact": told.exact,
        "state": told.state,
        "without value": told.faulty,
        "formula": told.formula,
        "worked": told.worked,
        "says": told.says,
        "note": told.note,
        "source": told.source,
        "place": told.place.as_ref().map(place_for_programs),
        "in place of": told.instead_of.iter().map(instead).collect::<Vec<_>>(),
        "told above": told.again,
        "deeper": told.deeper,
        "parts": told.parts.iter().map(told_json).collect::<Vec<_>>(),
    })
}
