//! What was asked for, from the words of the command line.

use super::Arguments;
use crate::ceiling::cutting::{Demand, Effort, Job, Splice, Stock};
use crate::problem::Problem;
use crate::quantity::length::feet_inches;
use crate::quantity::spelling::{Spelled, plain_signs, read_length, read_number};
use crate::quantity::{Number, Rounding};

/// Parts of a millimeter in which lengths are cut.
const TICKS: i64 = 320;

/// Parts of a dollar in which costs are added.
pub(super) const COST_PARTS: i64 = 10_000;

/// Most decimals of a bare length.
const MOST_PLACES: u32 = 6;

/// What lengths are counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Measure {
    /// Bare numbers, in parts of one so fine.
    Bare(i64),
    /// Ticks, shown in feet and inches.
    Feet,
    /// Ticks, shown in millimeters.
    Metric,
}

/// The job, and how its lengths were written.
#[derive(Debug)]
pub(super) struct Asked {
    pub job: Job,
    pub measure: Measure,
    /// Whether stock has costs in dollars.
    pub costs: bool,
}

impl Measure {
    /// A length in the unit that it is printed in for programs: bare, or mm.
    pub fn number(self, n: i64) -> Number {
        let parts = match self {
            Self::Bare(parts) => parts,
            Self::Feet | Self::Metric => TICKS,
        };
        Number::from(n).over(&Number::from(parts)).unwrap_or(Number::ZERO)
    }

    /// A length as people read it.
    pub fn text(self, n: i64) -> String {
        let number = self.number(n);
        match self {
            Self::Feet => feet_inches(&number, 64).map_or_else(|_| "too long".to_owned(), |p| p.text),
            Self::Metric => format!("{} mm", number.to_decimal().normalize()),
            Self::Bare(_) => number.to_decimal().normalize().to_string(),
        }
    }
}

/// A count, a length and a cost as they were spelled.
struct Words {
    count: Option<i64>,
    length: Spelled,
    cost: Option<i64>,
}

/// Reads all that was asked for; every mistake is told.
pub(super) fn read(arguments: &Arguments) -> Result<Asked, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut keep = |read: Result<Words, Problem>| read.map_err(|p| problems.push(p)).ok();
    let stock: Vec<Words> = arguments.stock.iter().filter_map(|t| keep(words("stock", t, true))).collect();
    let pieces: Vec<Words> = arguments.pieces.iter().filter_map(|t| keep(words("piece", t, false))).collect();
    let rules = [&arguments.kerf, &arguments.keep, &arguments.lap, &arguments.least_part];
    let rules = rules.map(|r| r.as_ref().and_then(|t| keep(rule(t))));
    let lengths = || stock.iter().chain(&pieces).chain(rules.iter().flatten()).map(|w| w.length);
    let measure = measure(arguments, lengths()).map_err(|p| problems.push(p)).ok();
    let costs = stock.iter().filter(|w| w.cost.is_some()).count();
    if costs > 0 && costs < stock.len() {
        problems.push(
            Problem::stop("stock without a cost", "Some stock lengths have a cost and some have none.")
                .fix("give every --stock a cost, --stock \"12'=$9.60\", or none"),
        );
    }
    let Some(measure) = measure.filter(|_| problems.is_empty()) else { return Err(problems) };
    let count = |w: &Words| whole(w.length, measure);
    let (Some(stock_lengths), Some(piece_lengths)) =
        (stock.iter().map(count).collect::<Option<Vec<i64>>>(), pieces.iter().map(count).collect::<Option<Vec<i64>>>())
    else {
        return Err(vec![too_long()]);
    };
    let mut rule = [0; 4];
    for (at, words) in rules.iter().enumerate() {
        rule[at] = match words {
            Some(words) => count(words).ok_or_else(|| vec![too_long()])?,
            None => 0,
        };
    }
    let splice = arguments.lap.is_some().then_some(Splice { lap: rule[2], least: rule[3] });
    let single = stock.len() == 1;
    let stocks = stock.iter().zip(stock_lengths).map(|(words, length)| {
        let cost = words.cost.unwrap_or(if single { 1 } else { length.max(1) });
        Stock { length, cost, limit: words.count }
    });
    let demands = pieces.iter().zip(piece_lengths).map(|(words, length)| Demand {
        length,
        count: words.count.unwrap_or(1),
        splice,
    });
    let (kerf, keep) = (rule[0], rule[1]);
    let job = Job { stocks: stocks.collect(), demands: demands.collect(), kerf, keep, effort: Effort::default() };
    Ok(Asked { job, measure, costs: costs > 0 })
}

fn too_long() -> Problem {
    Problem::stop("length too large", "A length is too large to be cut.").fix("check the lengths")
}

/// `9x7'-6"`, `7'-6"`, and for stock `12'=$9.60`.
fn words(what: &str, text: &str, with_cost: bool) -> Result<Words, Problem> {
    let right =
        if with_cost { "write 12', 12'=$9.60 or 6x12'=$9.60" } else { "write a count, an x and a length: 9x7'-6\"" };
    let fail =
        |why: String| Problem::stop("unreadable length", format!("{what} ‘{text}’ cannot be read: {why}.")).fix(right);
    let plain = plain_signs(text).replace('×', "x");
    let (body, cost) = match plain.split_once('=').filter(|_| with_cost) {
        Some((body, cost)) => (body, Some(read_cost(cost).map_err(fail)?)),
        None => (plain.as_str(), None),
    };
    let digits = body.find(|c: char| !(c.is_ascii_digit() || c == ',')).unwrap_or(body.len());
    let after = body[digits..].trim_start();
    let (count, length) = match after.strip_prefix(['x', 'X']).filter(|_| digits > 0) {
        Some(length) => {
            let count = read_number(&body[..digits]).ok().and_then(|n| i64::try_from(n.to_decimal()).ok());
            (Some(count.ok_or_else(|| fail("the count is too large".to_owned()))?), length)
        }
        None => (None, body),
    };
    let length = read_length(length).map_err(|e| fail(e.what))?;
    Ok(Words { count, length, cost })
}

fn rule(text: &str) -> Result<Words, Problem> {
    let fail = |why| {
        Problem::stop("unreadable length", format!("‘{text}’ cannot be read as a length: {why}."))
            .fix("write 1/8\", 24\" or a bare number")
    };
    let length = read_length(text).map_err(|e| fail(e.what))?;
    Ok(Words { count: None, length, cost: None })
}

/// Dollars, in parts of a dollar.
fn read_cost(text: &str) -> Result<i64, String> {
    let dollars = read_number(text).map_err(|e| format!("its cost: {}", e.what))?;
    let parts = dollars.times(&Number::from(COST_PARTS)).ok().filter(Number::is_whole);
    parts
        .and_then(|p| i64::try_from(p.to_decimal()).ok())
        .ok_or_else(|| "its cost is too large, or finer than a hundredth of a cent".to_owned())
}

/// What lengths are counted in; they must be all bare or all with units.
fn measure(arguments: &Arguments, lengths: impl Iterator<Item = Spelled>) -> Result<Measure, Problem> {
    let (mut bare, mut with_unit) = (Vec::new(), false);
    for length in lengths {
        match length {
            Spelled::Bare(n) => bare.push(n),
            // nothing is nothing in any unit
            Spelled::Length(mm) => with_unit |= !mm.is_zero(),
        }
    }
    if with_unit && bare.iter().any(|n| !n.is_zero()) {
        return Err(Problem::stop("length without a unit", "Some lengths have a unit and some are bare numbers.")
            .fix("write every length with its unit, or every one as a bare number"));
    }
    if with_unit {
        let all = arguments.stock.iter().chain(&arguments.pieces);
        let feet = all.map(|t| plain_signs(t)).any(|t| t.contains(['\'', '"']) || t.contains("ft") || t.contains("in"));
        return Ok(if feet { Measure::Feet } else { Measure::Metric });
    }
    let finest = |places: u32| {
        let parts = Number::from(10i64.pow(places));
        bare.iter().all(|n| n.times(&parts).is_ok_and(|n| n.is_whole()))
    };
    (0..=MOST_PLACES).find(|p| finest(*p)).map(|p| Measure::Bare(10i64.pow(p))).ok_or_else(|| {
        Problem::stop("length too fine", "A bare length has more decimals than can be cut.")
            .fix(format!("round it to {MOST_PLACES} decimals"))
    })
}

/// A length in whole parts; with a unit, the nearest tick.
fn whole(length: Spelled, measure: Measure) -> Option<i64> {
    let (n, parts) = match (length, measure) {
        (Spelled::Bare(n), Measure::Bare(parts)) => (n, parts),
        (Spelled::Length(n) | Spelled::Bare(n), _) => (n, TICKS),
    };
    let counted = n.times(&Number::from(parts)).ok()?.rounded(&Number::ONE, Rounding::Near).ok()?;
    i64::try_from(counted.to_decimal()).ok()
}
