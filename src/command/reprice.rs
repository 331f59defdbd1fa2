//! `hardlid reprice PATH…`

use super::price::dollars;
use super::progress::Progress;
use super::{Ended, books, failed, out};
use crate::bid::compiled;
use crate::problem::Problem;
use crate::problem::render::for_programs;
use crate::quantity::{Date, Decimal};
use crate::reprice::{Asked, By, Change, families, reprice};
use crate::system::{INPUT_LIMIT, Outside};
use crate::workbook::open::open;
use crate::workbook::variance::{Bid, Done, Effects, Moved, Variance};
use crate::workbook::write::variance;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid reprice bids --prices yard-march.xlsx\n  hardlid reprice bids --prices yard-march.xlsx --as-of 2026-03-01 --out-dir march\n  hardlid reprice bids --what-if \"ST-12 +8%\" --what-if \"crew:framers +3%\"\n\n\
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
    /// The pricing date; with --prices today when left out, else each bid's own.
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
    /// Try a change of prices out, and write nothing but the variance: "ST-12 +8%", "group:steel +5%", "crew:framers +3%".
    #[arg(long, value_name = "CHANGE")]
    what_if: Vec<String>,
    /// Tell prices in use that are older than so many days.
    #[arg(long, value_name = "DAYS", default_value_t = 90)]
    older_than: u32,
    /// The variance workbook; variance.xlsx beside the new workbooks when left out.
    #[arg(short, long, value_name = "FILE.xlsx")]
    output: Option<PathBuf>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    /// Print each item of each bid as comma-separated values.
    #[arg(long, conflicts_with = "json")]
    csv: bool,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    match price_again(arguments, outside) {
        Ok(ended) => ended,
        Err(problems) => failed(&problems, arguments.json),
    }
}

fn price_again(arguments: &Arguments, outside: &dyn Outside) -> Result<Ended, Vec<Problem>> {
    let one = |p: Problem| vec![p];
    let asked = asked(arguments, outside)?;
    let all = families(&arguments.paths, arguments.out_dir.as_deref(), outside).map_err(one)?;
    let target = target(arguments, outside).map_err(one)?;
    let progress = Progress::count(all.len() as u64, arguments.json || arguments.csv);
    progress.of("bids");
    let moved = reprice(&all, &asked, outside, &|done| progress.at(done));
    progress.end();
    let moved = moved.map_err(one)?;
    if moved.bids.is_empty() && moved.left_out.is_empty() {
        let what = "There is no priced workbook there.";
        let fix = "the folder or the name of a workbook that hardlid price wrote";
        return Err(vec![Problem::stop("nothing to price", what).fix(fix)]);
    }
    let said = said(arguments, &asked);
    let head = variance::Head {
        said: &said,
        as_of: asked.as_of.unwrap_or_else(|| outside.today()),
        tool_version: env!("CARGO_PKG_VERSION"),
    };
    let bytes = variance::write(&moved, head).map_err(one)?;
    if let Some(folder) = &arguments.out_dir {
        outside.make_folder(folder).map_err(one)?;
    }
    outside.write_whole(&target, &bytes).map_err(one)?;
    report(arguments, &moved, &target);
    let whole = moved.left_out.is_empty() && moved.unmet.is_empty() && moved.bids.iter().all(|b| b.new.is_some());
    Ok(if whole { Ended::Done } else { Ended::WithStops })
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
                Some(file) => By::House(file.clone()),
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
    let older_than = i64::from(arguments.older_than);
    Ok(Asked { prices, as_of, by, without_additions: arguments.without_additions, changes, older_than })
}

/// Where the variance workbook goes, if it may go there.
fn target(arguments: &Arguments, outside: &dyn Outside) -> Result<PathBuf, Problem> {
    let name = if arguments.what_if.is_empty() { "variance.xlsx" } else { "variance.what-if.xlsx" };
    let target = arguments.output.clone().unwrap_or_else(|| match (&arguments.out_dir, arguments.paths.first()) {
        (Some(folder), _) => folder.join(name),
        (None, Some(path)) if outside.is_folder(path) => path.join(name),
        (None, Some(path)) => path.with_file_name(name),
        (None, None) => PathBuf::from(name),
    });
    if outside.exists(&target) && !variance::written_by_us(&outside.read(&target, INPUT_LIMIT)?) {
        let what = format!("{} is there already, and is no variance workbook of ours.", target.display());
        return Err(Problem::stop("would be overwritten", what)
            .in_file(target.display().to_string())
            .fix("another file with -o"));
    }
    Ok(target)
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
        By::House(file) => format!("the rules of {}", file.name),
    };
    out.push(format!("{prices}, {date}; {rules}."));
    if !arguments.what_if.is_empty() {
        out.push(format!("Tried out, with no workbook written: {}.", arguments.what_if.join(", ")));
    }
    out.push(
        "By price: old quantities at the new prices, and what follows beyond the lines. By quantity: other quantities under the same rules."
            .to_owned(),
    );
    out
}

/// Bids that are printed one by one; the variance workbook has them all.
const PRINTED: usize = 40;

fn report(arguments: &Arguments, moved: &Variance, target: &Path) {
    if arguments.json {
        return out::value(&as_json(moved, target));
    }
    if arguments.csv {
        return as_csv(moved);
    }
    for left in moved.left_out.iter().take(PRINTED) {
        out::problems(&left.problems[..left.problems.len().min(10)], false);
        for added in left.added.iter().take(10) {
            out::warn(&format!("  {added}"));
        }
        if left.added.len() > 10 {
            out::warn(&format!("  … and {} more on the sheet Left out.", left.added.len() - 10));
        }
    }
    for change in &moved.unmet {
        let what = format!("'{change}' changes no price of any bid.");
        let fix = "a code of sheet Prices, a group of its column Group, or a crew of sheet Crews";
        out::problems(&[Problem::warning("change without a price", what).fix(fix)], false);
    }
    for bid in moved.bids.iter().take(PRINTED) {
        out::line(&bid_line(bid));
    }
    if moved.bids.len() > PRINTED {
        out::line(&format!("… and {} more in the variance workbook.", moved.bids.len() - PRINTED));
    }
    let (old, new, effects) = moved.totals();
    let bids = out::counted(moved.bids.len(), "bid", "bids");
    out::line(&format!("{bids}: {}{}", sum_line(old, new), why(effects)));
    let unpriced = moved.unpriced().len();
    if unpriced > 0 {
        out::line(&format!("{} on the sheet Prices.", out::counted(unpriced, "missing price", "missing prices")));
    }
    let aged = moved.aged().len();
    if aged > 0 {
        let prices = out::counted(aged, "price is", "prices are");
        out::line(&format!("{prices} older than {} days: sheet Prices.", moved.older_than));
    }
    if !moved.left_out.is_empty() {
        out::line(&format!("{} left out.", out::counted(moved.left_out.len(), "workbook is", "workbooks are")));
    }
    if !moved.passed.is_empty() {
        let passed =
            out::counted(moved.passed.len(), "workbook there is no priced one", "workbooks there are no priced ones");
        out::line(&format!("{passed}."));
    }
    out::line(&format!("What moved: {}", target.display()));
}

fn bid_line(bid: &Bid) -> String {
    let (from, remarks) = (bid.path.display(), bid.remarks());
    let to = match &bid.done {
        Done::Written(path) | Done::Already(path) => {
            format!(" → {}", path.file_name().map(|n| n.to_string_lossy()).unwrap_or_default())
        }
        Done::Same | Done::Tried => String::new(),
    };
    let sums = bid.totals().map_or_else(String::new, |(old, new)| format!(": {}", sum_line(old, new)));
    let already = if matches!(bid.done, Done::Already(_)) { ", there already" } else { "" };
    let remarks = if remarks.is_empty() { String::new() } else { format!(" ({remarks})") };
    format!("{from}{to}{already}{sums}{remarks}")
}

/// "$100.00 to $104.50, +$4.50 (+4.5%)".
fn sum_line(old: i64, new: i64) -> String {
    if old == new {
        return format!("{}, unchanged", dollars(new));
    }
    let difference = new.saturating_sub(old);
    let percent = percent(difference, old).map_or_else(String::new, |p| format!(" ({p})"));
    format!("{} to {}, {}{percent}", dollars(old), dollars(new), signed(difference))
}

fn signed(cents: i64) -> String {
    let sign = if cents > 0 { "+" } else { "" };
    format!("{sign}{}", dollars(cents))
}

/// A share in tenths of a percent, with its sign.
fn percent(part: i64, whole: i64) -> Option<String> {
    let (part, whole) = (Decimal::from(part), Decimal::from(whole));
    let share = part.checked_mul(Decimal::ONE_HUNDRED)?.checked_div(whole)?.round_dp(1);
    let sign = if share.is_sign_negative() { "" } else { "+" };
    Some(format!("{sign}{share}%"))
}

/// "; by price +$4.50, by hand -$1.00".
fn why(effects: Effects) -> String {
    let named = ["price", "quantity", "rules", "hand"].into_iter().zip(effects.each());
    let all: Vec<String> =
        named.filter(|(_, cents)| *cents != 0).map(|(name, cents)| format!("by {name} {}", signed(cents))).collect();
    if all.is_empty() { String::new() } else { format!("; {}", all.join(", ")) }
}

fn money(cents: i64) -> String {
    Decimal::new(cents, 2).to_string()
}

fn effects_json(effects: Effects) -> Value {
    json!({
        "price": money(effects.price),
        "quantity": money(effects.quantity),
        "rules": money(effects.rules),
        "by hand": money(effects.by_hand),
    })
}

fn item_json(item: &Moved) -> Value {
    json!({
        "item": item.label(),
        "code": &*item.code,
        "kind": item.what.word(),
        "old": money(item.old),
        "new": money(item.new),
        "effects": effects_json(item.effects),
    })
}

fn as_json(moved: &Variance, target: &Path) -> Value {
    let bid = |bid: &Bid| {
        let (done, to) = match &bid.done {
            Done::Written(path) => ("written", Some(path.display().to_string())),
            Done::Already(path) => ("there already", Some(path.display().to_string())),
            Done::Same => ("unchanged", None),
            Done::Tried => ("tried out", None),
        };
        json!({
            "workbook": bid.path.display().to_string(),
            "revision": bid.revision,
            "done": done,
            "new workbook": to,
            "old": bid.old.map(money),
            "new": bid.new.map(money),
            "stopped": bid.new_stopped,
            "effects": effects_json(bid.effects()),
            "items": bid.items.iter().map(item_json).collect::<Vec<_>>(),
            "remarks": bid.remarks(),
        })
    };
    let (old, new, effects) = moved.totals();
    let left = moved.left_out.iter().map(|left| {
        json!({
            "workbook": left.path.display().to_string(),
            "problems": left.problems.iter().map(for_programs).collect::<Vec<_>>(),
            "additions": left.added.iter().map(ToString::to_string).collect::<Vec<_>>(),
        })
    });
    let aged = moved.aged().into_iter().map(|(aged, bids)| {
        json!({ "code": &*aged.code, "item": &*aged.item, "from": aged.from.to_string(), "days": aged.days, "bids": bids })
    });
    let unpriced = moved.unpriced().into_iter().map(|(what, bids)| json!({ "what": what, "bids": bids }));
    json!({
        "output": target.display().to_string(),
        "bids": moved.bids.iter().map(bid).collect::<Vec<_>>(),
        "old": money(old),
        "new": money(new),
        "effects": effects_json(effects),
        "movers": moved.movers().iter().map(item_json).collect::<Vec<_>>(),
        "left out": left.collect::<Vec<_>>(),
        "no priced workbooks": moved.passed.iter().map(|p| p.display().to_string()).collect::<Vec<_>>(),
        "without a price": unpriced.collect::<Vec<_>>(),
        "old prices": aged.collect::<Vec<_>>(),
        "changes that met no price": moved.unmet,
    })
}

fn as_csv(moved: &Variance) {
    let mut table = csv::Writer::from_writer(Vec::new());
    let heads =
        ["Workbook", "Item or work", "Code", "Kind", "Before", "Now", "By price", "By quantity", "By rules", "By hand"];
    let mut rows = vec![heads.map(str::to_owned).to_vec()];
    for (bid, item) in moved.bids.iter().flat_map(|bid| bid.items.iter().map(move |item| (bid, item))) {
        let mut row = vec![bid.path.display().to_string(), item.label().to_owned(), item.code.to_string()];
        row.push(item.what.word().to_owned());
        row.extend([item.old, item.new].into_iter().chain(item.effects.each()).map(money));
        rows.push(row);
    }
    let written = rows.iter().try_for_each(|row| table.write_record(row));
    let text = written.ok().and_then(|()| table.into_inner().ok()).unwrap_or_default();
    out::line(String::from_utf8_lossy(&text).trim_end());
}
