//! One file a command; the only room that prints.

#![allow(clippy::print_stdout, clippy::print_stderr)]

mod audit;
mod books;
mod cuts;
mod editor;
mod impact;
mod manuals;
mod moved;
mod out;
mod price;
mod progress;
mod reprice;
mod schemes;
mod shell;
mod start;
mod tidy;
mod try_book;
mod watch;
mod watching;
mod why;
mod words;
mod work;

use crate::problem::Problem;
use crate::system::Outside;
use clap::{Parser, Subcommand};

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// Done: exit 0.
    Done,
    /// Done, with rows stopped or files left out: exit 1.
    WithStops,
    /// Could not run: exit 2.
    Failed,
}

impl Ended {
    /// The exit code.
    #[must_use]
    pub fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::WithStops => 1,
            Self::Failed => 2,
        }
    }
}

#[derive(Debug, Parser)]
#[command(
    name = "hardlid",
    version,
    about = "Takes off and prices gypsum-board ceilings and soffits on light steel framing, by rules in a small notation of their own.",
    after_help = "Examples:\n  hardlid start \"north wing\"\n  hardlid price rooms.xlsx --prices yard.xlsx\n  hardlid reprice bids --prices new.xlsx\n  hardlid why rooms.priced.xlsx 102 tees\n  hardlid try house.lid\n  hardlid tidy house.lid\n  hardlid work \"tee_count(along: 20', spacing: 24\\\")\"\n  hardlid words hanger_count\n\nAn estimating aid. Span and load checks are no engineering: the manufacturer's tested tables, local codes and licensed practice govern.",
    disable_help_subcommand = true
)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Begins a folder: a rooms workbook to fill in, a price book, a house book.
    Start(start::Arguments),
    /// Prices a rooms workbook: rooms in, a priced workbook out.
    Price(price::Arguments),
    /// Prices a rooms workbook each time it is saved.
    Watch(watch::Arguments),
    /// Prices priced workbooks again, into new files, and tells what moved.
    Reprice(reprice::Arguments),
    /// Works a priced workbook out again, and lists what was changed in it by hand.
    Audit(audit::Arguments),
    /// Tells what a change of rules would have done to priced jobs.
    Impact(impact::Arguments),
    /// Reads a rule book, reports every mistake, and runs its examples.
    Try(try_book::Arguments),
    /// Lays rule books out in the one standard way.
    Tidy(tidy::Arguments),
    /// Tells how a number of a room, a line or the bid came about.
    Why(why::Arguments),
    /// Serves an editor of rule books: mistakes while they are typed, names, completion.
    Editor(editor::Arguments),
    /// Works one expression out.
    Work(work::Arguments),
    /// Plans the cutting of a list of pieces from stock lengths.
    Cuts(cuts::Arguments),
    /// Lists functions, tables, units and statements, or explains one.
    Words(words::Arguments),
    /// Prints what lets a shell complete commands and options.
    Shell(shell::Arguments),
    /// Writes manual pages into a folder.
    Manuals(manuals::Arguments),
}

/// Runs the command that the arguments name.
pub fn run<I, T>(arguments: I, outside: &dyn Outside) -> Ended
where
    I: IntoIterator<Item = T>,
    T: Into<std::ffi::OsString> + Clone,
{
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => {
            // a closed pipe is no reason to fail
            let _ = error.print();
            return if error.use_stderr() { Ended::Failed } else { Ended::Done };
        }
    };
    match arguments.command {
        Command::Start(a) => start::run(&a, outside),
        Command::Price(a) => price::run(&a, outside),
        Command::Watch(a) => watch::run(&a, outside),
        Command::Reprice(a) => reprice::run(&a, outside),
        Command::Audit(a) => audit::run(&a, outside),
        Command::Impact(a) => impact::run(&a, outside),
        Command::Try(a) => try_book::run(&a, outside),
        Command::Tidy(a) => tidy::run(&a, outside),
        Command::Why(a) => why::run(&a, outside),
        Command::Editor(a) => editor::run(&a, outside),
        Command::Work(a) => work::run(&a, outside),
        Command::Cuts(a) => cuts::run(&a),
        Command::Words(a) => words::run(&a, outside),
        Command::Shell(a) => shell::run(&a),
        Command::Manuals(a) => manuals::run(&a, outside),
    }
}

/// Tells problems and gives the exit of a command that could not run.
fn failed(problems: &[Problem], json: bool) -> Ended {
    out::problems(problems, json);
    Ended::Failed
}
