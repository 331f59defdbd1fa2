//! `hardlid reprice PATH…`

use super::progress::Progress;
use super::{Ended, books, failed, moved};
use crate::bid::compiled;
use crate::problem::Problem;
use crate::quantity::Date;
use crate::reprice::{Asked, By, Change, families, reprice};
use crate::system::Outside;
use crate::workbook::open::open;
use std::path::{Path, PathBuf};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid reprice bids --prices yard-march.xlsx --as-of 2026-03-01\n  hardlid reprice bids --prices yard-march.xlsx --as-of 2026-03-01 --out-dir march\n  hardlid reprice bids --what-if \"ST +8%\" --what-if \"crew:framers +3%\"\n\n\
                        Each priced workbook carries the rooms, the prices and the rules that it was worked out from. NAME.xlsx is priced again into NAME.rev-2.xlsx beside it, then NAME.rev-3.xlsx and so on; no workbook that is there is written over. Figures that an estimator typed beside lines are kept. A run that was stopped goes on when it is run again; what is done is not done twice.\n\n\
                        A variance workbook says what moved, and why: by price, by quantity, by rules, by hand.\n\
                        Exit 0: all are priced; 1: some are left out or incomplete; 2: could not run.\n\n\
                        An estimating aid. Span and load checks are no engineering: the manufacturer's tested tables, local codes and licensed practice govern."
)]
pub struct Arguments {
    /// Priced workbooks, or folders with some below them.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// The new price book; without it each bid's own serves.
    #[arg(long, value_name = "BOOK.xlsx")]
    prices: Option<PathBuf>,
    /// The pricing date; with --prices today when left out, else each bid's own. Name it where a run may be stopped and
    /// go on another day.
    #[arg(long, value_name = "DATE")]
    as_of: Option<String>,
    /// Where new workbooks go; beside the old ones when left out.
    #[arg(long, value_name = "DIR")]
    out_dir: Option<PathBuf>,
    /// keep: the rules of the day on which each was priced; current: the built-in books of this version; a rule book: that
    /// book over them.
    #[arg(long, value_name = "keep|current|BOOK.lid", default_value = "keep")]
    rules: String,
    /// Price workbooks to which somebody added sheets, formulas, charts or entries as well, and lose these.
    #[arg(long)]
    without_additions: bool,
    /// Try a change of prices out, and write nothing but the variance: "ST +8%", "group:steel +5%", "crew:framers +3%".
    #[arg(long, value_name = "CHANGE")]
    what_if: Vec<String>,
    /// Tell prices in use that are older than so many days.
    #[arg(long, value_name = "DAYS", default_value_t = 90)]
    older_than: u32,
    #[command(flatten)]
    telling: moved::Telling,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    match price_again(arguments, outside) {
        Ok(ended) => ended,
        Err(problems) => failed(&problems, arguments.telling.json),
    }
}

fn price_again(arguments: &Arguments, outside: &dyn Outside) -> Result<Ended, Vec<Problem>> {
    let one = |p: Problem| vec![p];
    arguments.telling.names_a_workbook().map_err(one)?;
    let asked = asked(arguments, outside)?;
    let all = families(&arguments.paths, arguments.out_dir.as_deref(), outside).map_err(one)?;
    // a run on another day tells other things; the same run tells the same
    let day = asked.as_of.unwrap_or_else(|| outside.today());
    let name =
        if arguments.what_if.is_empty() { format!("variance.{day}.xlsx") } else { "variance.what-if.xlsx".to_owned() };
    let told = moved::Told {
        telling: &arguments.telling,
        name: &name,
        out_dir: arguments.out_dir.as_deref(),
        paths: &arguments.paths,
    };
    let target = told.target(outside).map_err(one)?;
    let progress = Progress::count(all.families.len() as u64, arguments.telling.json || arguments.telling.csv);
    progress.of("bids");
    let moved = reprice(&all, &asked, outside, &|done| progress.at(done));
    progress.end();
    let said = said(arguments, &asked);
    let as_of = asked.as_of.unwrap_or_else(|| outside.today());
    told.tell(&moved.map_err(one)?, &target, &said, as_of, outside).map_err(one)
}

fn asked(arguments: &Arguments, outside: &dyn Outside) -> Result<Asked, Vec<Problem>> {
    let one = |p: Problem| vec![p];
    let prices = arguments.prices.as_ref().map(|path| books::file(path, outside)).transpose().map_err(one)?;
    if let Some(prices) = &prices {
        // a file that is no workbook would be told once for each bid
        open(&prices.name, prices.bytes.to_vec()).map_err(one)?;
    }
    let by = match arguments.rules.as_str() {
        "keep" => By::RulesOfTheDay,
        "current" => By::BooksOfToday,
        path => {
            let rules = books::rules(Some(Path::new(path)), "hardlid ceilings", outside).map_err(one)?;
            compiled(&rules, None)?;
            match rules.own() {
                Some(house) => By::House(house.clone()),
                None => By::BooksOfToday,
            }
        }
    };
    let changes = arguments.what_if.iter().map(|c| Change::read(c)).collect::<Result<Vec<_>, _>>().map_err(one)?;
    let as_of: Option<Date> = match (&arguments.as_of, &prices) {
        (None, None) => None,
        (text, _) => Some(books::date(text.as_deref(), outside).map_err(one)?),
    };
    if prices.is_none() && as_of.is_none() && changes.is_empty() && matches!(by, By::RulesOfTheDay) {
        let what = "Nothing is to change: the same prices, the same dates, the same rules.";
        let fix = "--prices NEW.xlsx, --as-of DATE, --rules current or --what-if \"CODE +8%\"";
        return Err(vec![Problem::stop("nothing to change", what).fix(fix)]);
    }
    let older_than = Some(i64::from(arguments.older_than));
    let without_additions = arguments.without_additions;
    Ok(Asked { prices, as_of, by, instead_of: None, without_additions, changes, older_than, at_once: None })
}

/// What was done, for the head of the variance workbook.
fn said(arguments: &Arguments, asked: &Asked) -> Vec<String> {
    let mut out = Vec::new();
    let prices = match &asked.prices {
        Some(file) => format!("Prices of {}", file.name),
        None => "Each bid's own price book".to_owned(),
    };
    let date = asked.as_of.map_or_else(|| "as of each bid's own date".to_owned(), |d| format!("as of {d}"));
    let rules = match &asked.by {
        By::RulesOfTheDay => "the rules of the day on which each was priced".to_owned(),
        By::BooksOfToday => format!("the built-in books of version {}", env!("CARGO_PKG_VERSION")),
        By::House(house) => format!("the rules of {}", house.file().name),
    };
    out.push(format!("{prices}, {date}; {rules}."));
    if !arguments.what_if.is_empty() {
        out.push(format!("Tried out, with no workbook written: {}.", arguments.what_if.join(", ")));
    }
    out.push(
        "By price: lines that stay, at the new prices, and what follows beyond the lines. By quantity: lines that came, went or changed, by the same rules."
            .to_owned(),
    );
    out
}
