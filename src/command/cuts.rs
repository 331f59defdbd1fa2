//! `hardlid cuts --stock LENGTH PIECE…`

mod read;
mod tell;

use super::{Ended, failed, out};
use crate::ceiling::cutting::plan;
use crate::problem::Problem;
use read::{Asked, read};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid cuts --stock 5600 22x1380 25x1520 12x1560\n  hardlid cuts --stock \"12'\" \"9x7'-10 1/2\\\"\" \"4x3'-6\\\"\" --kerf \"1/8\\\"\" --keep \"24\\\"\"\n  \
                        hardlid cuts --stock \"10'=$8.10\" --stock \"12'=$9.60\" \"31x5'-9\\\"\"\n  hardlid cuts --stock \"6x8'=$1\" --stock \"12'=$9.60\" \"9x7'-6\\\"\"   (six offcuts of 8' at hand)\n\n\
                        Lengths are bare numbers, all in one unit of your own, or lengths in any spelling of the trade; never both in one run.\n\
                        Lengths are taken to 1/320 mm. Measure before you cut: the plan knows the lengths that it was given and no more."
)]
pub struct Arguments {
    /// A stock length on offer: `12'`, with its cost `12'=$9.60`, with how many there are `6x12'=$9.60`. May be given
    /// more than once; without costs, the least length is bought.
    #[arg(long, value_name = "LENGTH", required = true)]
    stock: Vec<String>,
    /// Pieces wanted: how many, an x, how long. A length alone is one piece.
    #[arg(value_name = "PIECES", required = true)]
    pieces: Vec<String>,
    /// Width of the saw's cut.
    #[arg(long, value_name = "LENGTH")]
    kerf: Option<String>,
    /// Least offcut that is kept; a shorter one is scrap.
    #[arg(long, value_name = "LENGTH")]
    keep: Option<String>,
    /// Makes pieces longer than stock from parts that lie over each other by so much.
    #[arg(long, value_name = "LENGTH")]
    lap: Option<String>,
    /// Shortest part of such a piece.
    #[arg(long, value_name = "LENGTH", requires = "lap")]
    least_part: Option<String>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &Arguments) -> Ended {
    let json = arguments.json;
    let asked = match read(arguments) {
        Ok(asked) => asked,
        Err(problems) => return failed(&problems, json),
    };
    match plan(&asked.job) {
        Err(error) => failed(&[cannot_cut(arguments, &asked, error)], json),
        Ok(plan) if json => {
            out::value(&tell::for_programs(&asked, &plan));
            Ended::Done
        }
        Ok(plan) => {
            out::line(&tell::for_people(&asked, &plan));
            Ended::Done
        }
    }
}

/// A job that cannot be cut, with the words in which it was asked for.
fn cannot_cut(arguments: &Arguments, asked: &Asked, error: crate::ceiling::cutting::CutError) -> Problem {
    use crate::ceiling::cutting::CutError as E;
    let stock = |at: usize| arguments.stock.get(at).map_or("", String::as_str);
    let piece = |at: usize| arguments.pieces.get(at).map_or("", String::as_str);
    let kind = "cannot be cut";
    let length = |n: i64| asked.measure.text(n);
    match error {
        E::LongerThanStock { demand, longest } => {
            let what = format!("‘{}’ is longer than the longest stock, {}.", piece(demand), length(longest));
            Problem::stop(kind, what).fix("offer a longer stock, or allow splices with --lap")
        }
        E::CannotSplice { demand, longest } => Problem::stop(
            kind,
            format!("‘{}’ cannot be made from parts of {} with such laps and parts.", piece(demand), length(longest)),
        )
        .fix("offer a longer stock, a shorter lap or a shorter least part"),
        E::NotEnoughStock { proved } => {
            let what = if proved {
                "The stock pieces on offer are not enough, however they are cut."
            } else {
                "The stock pieces on offer are hardly enough: no way was found to cut all pieces from them."
            };
            Problem::stop(kind, what).fix("offer more pieces, or a stock length without a number before it")
        }
        E::StockNotPositive { stock: at } => {
            Problem::stop(kind, format!("Stock ‘{}’ has no length above zero.", stock(at))).fix("write 12' or 5600")
        }
        E::CostNotPositive { stock: at } => {
            Problem::stop(kind, format!("Stock ‘{}’ costs nothing or less.", stock(at)))
                .fix("give pieces at hand a small cost, such as $0.01")
        }
        E::PieceNotPositive { demand } => {
            Problem::stop(kind, format!("‘{}’ has no length above zero.", piece(demand))).fix("write 9x7'-6\"")
        }
        E::RuleBelowZero => {
            Problem::stop(kind, "The saw's cut, the offcut kept, the lap or the least part is below zero.")
                .fix("write lengths of zero or more")
        }
        E::NoStock | E::LimitBelowZero { .. } | E::CountBelowZero { .. } | E::TooLarge => {
            Problem::stop(kind, format!("The pieces cannot be cut: {error}.")).fix("check the lengths and counts")
        }
    }
}
