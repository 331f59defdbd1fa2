//! What moved, told: as the variance workbook, in words, as JSON, as comma-separated values.

use super::price::dollars;
use super::{Ended, books, out};
use crate::problem::Problem;
use crate::problem::render::for_programs;
use crate::quantity::{Date, Decimal};
use crate::system::{INPUT_LIMIT, Outside};
use crate::workbook::variance::{Bid, Done, Effects, Moved, Portion, Room, Variance};
use crate::workbook::write::variance;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// What commands are told of how to tell what moved.
#[derive(Debug, clap::Args)]
pub struct Telling {
    /// The variance workbook; in the folder of the new workbooks when left out.
    #[arg(short, long, value_name = "FILE.xlsx")]
    pub output: Option<PathBuf>,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
    /// Print each item of each bid as comma-separated values.
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
}

impl Telling {
    /// Whether the variance workbook may have the name that is asked for.
    pub fn names_a_workbook(&self) -> Result<(), Problem> {
        self.output.as_deref().map_or(Ok(()), books::names_a_workbook)
    }
}

/// How and where what moved is told.
#[derive(Clone, Copy, Debug)]
pub struct Told<'a> {
    /// As the command was told.
    pub telling: &'a Telling,
    /// The name of the variance workbook where none is given.
    pub name: &'a str,
    /// The folder that new workbooks go into, where one is named.
    pub out_dir: Option<&'a Path>,
    /// What was priced.
    pub paths: &'a [PathBuf],
}

impl Told<'_> {
    /// Where the variance workbook goes, if it may go there.
    pub fn target(&self, outside: &dyn Outside) -> Result<PathBuf, Problem> {
        let target = match (&self.telling.output, self.out_dir, self.paths.first()) {
            (Some(output), ..) => output.clone(),
            (None, Some(folder), _) => folder.join(self.name),
            (None, None, Some(path)) if outside.is_folder(path) => path.join(self.name),
            (None, None, Some(path)) => path.with_file_name(self.name),
            (None, None, None) => PathBuf::from(self.name),
        };
        if is_revision(&target) {
            let what = format!("{} is the name of a revision of a bid.", target.display());
            return Err(Problem::stop("would be overwritten", what).fix("another name with -o"));
        }
        if outside.exists(&target) && !variance::written_by_us(&outside.read(&target, INPUT_LIMIT)?) {
            let what = format!("{} is there already, and is no variance workbook of ours.", target.display());
            return Err(Problem::stop("would be overwritten", what)
                .in_file(target.display().to_string())
                .fix("another file with -o"));
        }
        Ok(target)
    }

    /// Writes the variance workbook and prints what moved.
    pub fn tell(
        &self,
        moved: &Variance,
        target: &Path,
        said: &[String],
        as_of: Date,
        outside: &dyn Outside,
    ) -> Result<Ended, Problem> {
        if moved.bids.is_empty() && moved.left_out.is_empty() {
            let what = "There is no priced workbook there.";
            let fix = "the folder or the name of a workbook that hardlid price wrote";
            return Err(Problem::stop("nothing to price", what).fix(fix));
        }
        let bytes = variance::write(moved, variance::Head { said, as_of, tool_version: env!("CARGO_PKG_VERSION") })?;
        if let Some(folder) = self.out_dir {
            outside.make_folder(folder)?;
        }
        outside.write_whole(target, &bytes)?;
        match (self.telling.json, self.telling.csv) {
            (true, _) => out::value(&as_json(moved, target)),
            (false, true) => as_csv(moved),
            (false, false) => report(moved, target),
        }
        let whole = moved.left_out.is_empty() && moved.unmet.is_empty() && moved.bids.iter().all(|b| b.new.is_some());
        Ok(match whole {
            true => Ended::Done,
            false if moved.bids.is_empty() => Ended::Failed,
            false => Ended::WithStops,
        })
    }
}

/// Whether a name is one that a revision of a bid may have.
fn is_revision(path: &Path) -> bool {
    let stem = path.file_stem().map(|s| s.to_string_lossy().into_owned()).unwrap_or_default();
    stem.rsplit_once(".rev-").is_some_and(|(_, n)| n.parse::<u32>().is_ok())
}

/// Bids that are printed one by one; the variance workbook has them all.
const PRINTED: usize = 40;

/// Rooms that are printed.
const ROOMS_PRINTED: usize = 20;

fn report(moved: &Variance, target: &Path) {
    left_out(moved);
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
    if !moved.bids.is_empty() {
        let (old, new, effects) = moved.totals();
        let whole = moved.bids.iter().filter(|bid| bid.totals().is_some()).count();
        let bids = out::counted(whole, "bid", "bids");
        if whole > 0 {
            out::line(&format!("{bids}: {}{}", sum_line(old, new), why(effects)));
        }
        if whole < moved.bids.len() {
            let others = out::counted(moved.bids.len() - whole, "bid is incomplete", "bids are incomplete");
            out::line(&format!("{others}, and in no sum."));
        }
    }
    rooms(moved);
    for (what, bids) in moved.warned().into_iter().take(PRINTED) {
        let bids = out::counted(bids, "bid", "bids");
        out::warn(&format!("Warning, in {bids}: {what}"));
    }
    let unpriced = moved.unpriced().len();
    if unpriced > 0 {
        out::line(&format!("{} on the sheet Prices.", out::counted(unpriced, "missing price", "missing prices")));
    }
    let aged = moved.aged().len();
    if let Some(days) = moved.older_than.filter(|_| aged > 0) {
        let prices = out::counted(aged, "price is", "prices are");
        out::line(&format!("{prices} older than {days} days: sheet Prices."));
    }
    if !moved.left_out.is_empty() {
        out::line(&format!("{} left out.", out::counted(moved.left_out.len(), "workbook is", "workbooks are")));
    }
    if !moved.passed.is_empty() {
        let passed =
            out::counted(moved.passed.len(), "workbook there is no bid of ours", "workbooks there are no bids of ours");
        out::line(&format!("{passed}."));
    }
    out::line(&format!("What moved: {}", target.display()));
}

/// Rooms that stand otherwise, those that moved most first.
fn rooms(moved: &Variance) {
    let all = moved.rooms();
    if all.is_empty() {
        return;
    }
    let count = out::counted(all.len(), "room stands", "rooms stand");
    let those = |of: fn(&Room) -> bool, what: &str| match all.iter().filter(|(_, room)| of(room)).count() {
        0 => None,
        n => Some(format!("{n} {what}")),
    };
    let how = [
        those(|room| room.options.is_some(), "built another way"),
        those(|room| !room.fails.is_empty(), "with a check that fails now"),
        those(|room| !room.holds.is_empty(), "with one that holds now"),
    ];
    let how = how.into_iter().flatten().collect::<Vec<_>>().join(", ");
    let how = if how.is_empty() { how } else { format!(" ({how})") };
    let first = if all.len() > 1 { ", those that move most first" } else { "" };
    out::line(&format!("{count} otherwise{how}{first}:"));
    for (bid, room) in all.iter().take(ROOMS_PRINTED) {
        out::line(&format!("  {}, {}: {}", bid.path.display(), room.name, room_line(room)));
    }
    if let Some(more) = all.len().checked_sub(ROOMS_PRINTED).filter(|n| *n > 0) {
        out::line(&format!("  … and {more} more on the sheet Rooms."));
    }
}

/// "$100.00 to $104.50, +$4.50 (+4.5%); strongbacks, not tie tees; fails now: Wall gap (warns)".
fn room_line(room: &Room) -> String {
    let mut all = match (room.old, room.new) {
        (Some(old), Some(new)) => vec![sum_line(old, new)],
        (Some(old), None) => vec![format!("has no price, after {}", dollars(old))],
        (None, Some(new)) => vec![format!("{}, after no price", dollars(new))],
        (None, None) => Vec::new(),
    };
    if let Some([before, now]) = &room.options {
        let name = |option: &Option<std::sync::Arc<str>>| option.as_deref().unwrap_or("no option").to_owned();
        all.push(format!("{} in place of {}", name(now), name(before)));
    }
    for (words, checks) in [("fails now", &room.fails), ("holds now", &room.holds)] {
        if !checks.is_empty() {
            all.push(format!("{words}: {}", checks.join(", ")));
        }
    }
    all.join("; ")
}

/// Workbooks that are left out; one reason for many is told once.
fn left_out(moved: &Variance) {
    let mut told: Vec<(String, usize)> = Vec::new();
    for left in &moved.left_out {
        let reason: Vec<&str> = left.problems.iter().map(|p| p.what.as_str()).collect();
        let reason = reason.join("\n");
        if let Some((_, many)) = told.iter_mut().find(|(same, _)| *same == reason) {
            *many += 1;
            continue;
        }
        if told.len() < PRINTED {
            out::warn(&format!("Left out: {}", left.path.display()));
            out::problems(&left.problems[..left.problems.len().min(10)], false);
            for added in left.added.iter().take(10) {
                out::warn(&format!("  {added}"));
            }
            if left.added.len() > 10 {
                out::warn(&format!("  … and {} more on the sheet Left out.", left.added.len() - 10));
            }
        }
        told.push((reason, 0));
    }
    let same: usize = told.iter().map(|(_, many)| many).sum();
    if same > 0 {
        let workbooks = out::counted(same, "more workbook for a reason told", "more workbooks for reasons told");
        out::warn(&format!("Left out: {workbooks}; see the sheet Left out."));
    }
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
    let sign = if part.is_sign_negative() && share.is_zero() {
        "-"
    } else if share.is_sign_negative() {
        ""
    } else {
        "+"
    };
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

fn portion_json(portion: &Portion) -> Value {
    json!({
        "name": &*portion.name,
        "old": money(portion.old),
        "new": money(portion.new),
        "effects": effects_json(portion.effects),
    })
}

fn room_json(room: &Room) -> Value {
    json!({
        "name": &*room.name,
        "old": room.old.map(money),
        "new": room.new.map(money),
        "option": room.options.as_ref().map(|[old, new]| json!({ "old": old.as_deref(), "new": new.as_deref() })),
        "fails now": room.fails.iter().map(|c| &**c).collect::<Vec<_>>(),
        "holds now": room.holds.iter().map(|c| &**c).collect::<Vec<_>>(),
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
            "items": bid.within.items.iter().map(item_json).collect::<Vec<_>>(),
            "parts": bid.within.parts.iter().map(portion_json).collect::<Vec<_>>(),
            "alternates": bid.within.alternates.iter().map(portion_json).collect::<Vec<_>>(),
            "rooms": bid.within.rooms.iter().map(room_json).collect::<Vec<_>>(),
            "taken over": bid.taken_over.iter().map(ToString::to_string).collect::<Vec<_>>(),
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
        "warnings": moved.warned().into_iter().map(|(what, bids)| json!({ "what": what, "bids": bids })).collect::<Vec<_>>(),
        "old prices": aged.collect::<Vec<_>>(),
        "changes that met no price": moved.unmet,
    })
}

fn as_csv(moved: &Variance) {
    let mut table = csv::Writer::from_writer(Vec::new());
    let heads =
        ["Workbook", "Item or work", "Code", "Kind", "Before", "Now", "By price", "By quantity", "By rules", "By hand"];
    let mut rows = vec![heads.map(str::to_owned).to_vec()];
    for (bid, item) in moved.bids.iter().flat_map(|bid| bid.within.items.iter().map(move |item| (bid, item))) {
        let mut row = vec![bid.path.display().to_string(), item.label().to_owned(), item.code.to_string()];
        row.push(item.what.word().to_owned());
        row.extend([item.old, item.new].into_iter().chain(item.effects.each()).map(money));
        rows.push(row);
    }
    let written = rows.iter().try_for_each(|row| table.write_record(row));
    let text = written.ok().and_then(|()| table.into_inner().ok()).unwrap_or_default();
    out::line(String::from_utf8_lossy(&text).trim_end());
}
