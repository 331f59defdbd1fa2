//! `hardlid try BOOK.lid`

use super::{Ended, books, out};
use crate::engine::examples::{own_examples, run_examples};
use crate::problem::render::for_programs;
use crate::problem::{Problem, Weight};
use crate::program::hints::Answered;
use crate::system::Outside;
use serde_json::json;
use std::path::PathBuf;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  hardlid try house.lid\n\nOne run tells every mistake, and then every example that does not come out. \
                        Exit 0: the book is sound; 1: an example fails; 2: the book has mistakes or could not be read."
)]
pub struct Arguments {
    /// The rule book.
    book: PathBuf,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let name = arguments.book.display().to_string();
    let mut answered = Vec::new();
    let (problems, examples, failing, ended) =
        match books::program(Some(&arguments.book), "hardlid trade", None, outside) {
            Err(problems) => (problems, 0, 0, Ended::Failed),
            Ok((mut program, mut problems)) => {
                problems.append(&mut program.hints);
                answered.append(&mut program.answered);
                let failing = run_examples(&program);
                let count = failing.len();
                problems.extend(failing);
                let ended = if count > 0 { Ended::WithStops } else { Ended::Done };
                (problems, own_examples(&program).count(), count, ended)
            }
        };
    if arguments.json {
        let all: Vec<_> = problems.iter().map(for_programs).collect();
        let answered: Vec<_> = answered
            .iter()
            .map(|a: &Answered| json!({ "problem": for_programs(&a.hint), "reason": a.reason }))
            .collect();
        out::value(
            &json!({ "book": name, "examples": examples, "failing": failing, "problems": all, "accepted": answered }),
        );
    } else {
        out::problems(&problems, false);
        let accepted = match answered.len() {
            0 => String::new(),
            n => format!(" {} accepted with a reason.", out::counted(n, "hint is", "hints are")),
        };
        out::line(&(summary(&name, &problems, examples, failing, ended) + &accepted));
    }
    ended
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
