//! `hardlid try BOOK.lid`

use super::watching::{Watched, each_saving};
use super::{Ended, books, out};
use crate::engine::examples::own_examples;
use crate::engine::reached::{PartOf, Reachable, run_and_reach};
use crate::problem::render::for_programs;
use crate::problem::{Problem, Weight};
use crate::program::Program;
use crate::program::hints::Answered;
use crate::source::Text;
use crate::system::Outside;
use serde_json::{Value, json};
use std::path::PathBuf;
use std::sync::Arc;

/// How much of what is not reached is listed unless all is asked for.
const LISTED: usize = 10;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid try house.lid\n  hardlid try house.lid --unreached\n  hardlid try house.lid --watch\n\nOne run tells every mistake, and then every example that does not come out. \
                        Then it counts what of the book no example reaches: what no figure that an example shows leans on. \
                        Exit 0: the book is sound; 1: an example fails; 2: the book has mistakes or could not be read."
)]
pub struct Arguments {
    /// The rule book.
    book: PathBuf,
    /// List all that no example reaches, not the first ten.
    #[arg(long)]
    unreached: bool,
    /// Try it again each time it or a file that it names is saved, until it is stopped (Ctrl-C).
    #[arg(long)]
    watch: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    if !arguments.watch {
        return once(arguments, outside);
    }
    let beside = || books::named_by(&arguments.book, outside);
    let watched = Watched { named: vec![&arguments.book], beside: &beside };
    let mut first = true;
    each_saving(&watched, outside, &mut || {
        if !std::mem::take(&mut first) && !arguments.json {
            out::line("");
        }
        (once(arguments, outside), true)
    })
}

fn once(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let name = arguments.book.display().to_string();
    let tried = match books::program_to_explain(Some(&arguments.book), "hardlid trade", outside) {
        Err(problems) => {
            Tried { problems, answered: Vec::new(), examples: 0, failing: 0, ended: Ended::Failed, reach: None }
        }
        Ok((program, problems)) => tried(program, problems, if arguments.unreached { usize::MAX } else { LISTED }),
    };
    if arguments.json {
        let all: Vec<_> = tried.problems.iter().map(for_programs).collect();
        let answered = tried.answered.iter();
        let answered: Vec<_> =
            answered.map(|a| json!({ "problem": for_programs(&a.hint), "reason": a.reason })).collect();
        let reach = tried.reach.as_ref().map(Reach::for_programs);
        let (examples, failing) = (tried.examples, tried.failing);
        out::value(
            &json!({ "book": name, "examples": examples, "failing": failing, "problems": all, "accepted": answered, "reached": reach }),
        );
    } else {
        out::problems(&tried.problems, false);
        let accepted = match tried.answered.len() {
            0 => String::new(),
            n => format!(" {} accepted with a reason.", out::counted(n, "hint is", "hints are")),
        };
        out::line(&(summary(&name, &tried.problems, tried.examples, tried.failing, tried.ended) + &accepted));
        for line in tried.reach.iter().filter(|_| tried.examples > 0).flat_map(Reach::lines) {
            out::line(&line);
        }
    }
    tried.ended
}

/// What came of a book.
struct Tried {
    problems: Vec<Problem>,
    answered: Vec<Answered>,
    examples: usize,
    failing: usize,
    ended: Ended,
    reach: Option<Reach>,
}

/// `listed` is how much of what is not reached is told.
fn tried(mut program: Program, mut problems: Vec<Problem>, listed: usize) -> Tried {
    problems.append(&mut program.hints);
    let answered = std::mem::take(&mut program.answered);
    let (failing, parts) = run_and_reach(&program);
    let count = failing.len();
    problems.extend(failing);
    let ended = if count > 0 { Ended::WithStops } else { Ended::Done };
    let text = program.books.last().map(|b| Arc::clone(&b.text));
    let reach = text.map(|text| Reach { text, parts, listed });
    Tried { problems, answered, examples: own_examples(&program).count(), failing: count, ended, reach }
}

/// What of a book its examples reach.
struct Reach {
    text: Arc<Text>,
    parts: Vec<Reachable>,
    listed: usize,
}

impl Reach {
    /// How many parts of a sort are reached, of how many.
    fn count(&self, sort: PartOf) -> (usize, usize) {
        let of = || self.parts.iter().filter(|p| p.part == sort);
        (of().filter(|p| p.reached).count(), of().count())
    }

    /// What is not reached, without what stands in something that is not.
    fn unreached(&self) -> Vec<&Reachable> {
        let missed = |span| self.parts.iter().any(|p| p.span == span && Arc::ptr_eq(&p.text, &self.text) && !p.reached);
        self.parts.iter().filter(|p| !p.reached && !p.within.is_some_and(missed)).collect()
    }

    fn line_of(&self, part: &Reachable) -> usize {
        part.text.line(part.span.start as usize)
    }

    /// Where a part stands: a line of the book, or a row of a sheet.
    fn place_of(&self, part: &Reachable) -> String {
        match Arc::ptr_eq(&part.text, &self.text) {
            true => format!("line {}", self.line_of(part)),
            false => format!("{} row {}", part.text.name, self.line_of(part)),
        }
    }

    /// What a part is, for people.
    fn words(&self, part: &Reachable) -> String {
        let written = part.text.text.get(part.span.range()).unwrap_or("");
        let one_line = written.split_whitespace().collect::<Vec<_>>().join(" ");
        let short: String = one_line.chars().take(50).collect();
        let cut = if short.len() < one_line.len() { "…" } else { "" };
        let name = &part.name;
        match part.part {
            PartOf::Formula | PartOf::Definition => format!("{} {name}", part.part.words().0),
            PartOf::Answer => format!("the answer {short}{cut} of {name}"),
            PartOf::TableRow => format!("the row {short}{cut} of table {name}"),
            PartOf::Option => format!("the option {short} of {name}"),
        }
    }

    /// A line that says how much is reached, and a short list of what is not.
    fn lines(&self) -> Vec<String> {
        let counts = PartOf::ALL.into_iter().map(|sort| (sort, self.count(sort))).filter(|(_, (_, all))| *all > 0);
        let counts: Vec<String> = counts
            .map(|(sort, (reached, all))| {
                let (one, some) = sort.words();
                format!("{reached} of {}", out::counted(all, one, some))
            })
            .collect();
        if counts.is_empty() {
            return Vec::new();
        }
        let mut lines = vec![format!("Reached by examples: {}.", counts.join(", "))];
        let unreached = self.unreached();
        let listed = unreached.iter().take(self.listed);
        lines.extend(listed.map(|part| format!("   not reached, {}: {}", self.place_of(part), self.words(part))));
        if unreached.len() > self.listed {
            lines.push(format!("   and {} more: --unreached", unreached.len() - self.listed));
        }
        lines
    }

    fn for_programs(&self) -> Value {
        let mut counts = serde_json::Map::new();
        for sort in PartOf::ALL {
            let (reached, all) = self.count(sort);
            counts.insert(sort.words().1.to_owned(), json!({ "reached": reached, "of": all }));
        }
        let part = |p: &&Reachable| json!({ "book": p.text.name, "line": self.line_of(p), "part": p.part.words().0, "name": p.name });
        json!({ "counts": counts, "unreached": self.unreached().iter().map(part).collect::<Vec<_>>() })
    }
}

fn summary(name: &str, problems: &[Problem], examples: usize, failing: usize, ended: Ended) -> String {
    let stops = problems.iter().filter(|p| p.weight == Weight::Stop).count();
    let warnings = problems.iter().filter(|p| p.weight == Weight::Warning).count();
    let and = if warnings > 0 { format!(", {}", out::counted(warnings, "warning", "warnings")) } else { String::new() };
    match ended {
        Ended::Failed => format!("{name}: {}{and}; examples were not run.", out::counted(stops, "mistake", "mistakes")),
        Ended::WithStops => format!(
            "{name}: {} of the results of {} not as expected{and}.",
            failing,
            out::counted(examples, "example", "examples")
        ),
        Ended::Done if examples == 0 => format!("{name}: sound; it has no examples{and}."),
        Ended::Done => format!("{name}: sound; {} as expected{and}.", out::counted(examples, "example", "examples")),
    }
}
