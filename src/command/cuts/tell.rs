//! The plan for people and for programs.

use super::read::{Asked, COST_PARTS, Measure};
use crate::ceiling::cutting::Plan;
use crate::command::out::counted;
use crate::quantity::show::{Style, show};
use crate::quantity::{Dimension, Number};
use serde_json::{Value, json};
use std::fmt::Write as _;

/// The plan as lines of text: what it takes, the patterns, what is left.
pub(super) fn for_people(asked: &Asked, plan: &Plan) -> String {
    let mut text = head(asked, plan);
    let _ = writeln!(text, "\n");
    let measure = asked.measure;
    let length = |n: i64| measure.text(n);
    let mut rows = vec![["Times".to_owned(), "Stock".to_owned(), "Offcut".to_owned(), "Cut".to_owned()]];
    for pattern in &plan.patterns {
        let offcut = match (pattern.offcut, pattern.kept) {
            (0, _) => "none".to_owned(),
            (n, true) => length(n),
            (n, false) => format!("{} scrap", length(n)),
        };
        let stock = length(asked.job.stocks[pattern.stock].length);
        rows.push([pattern.times.to_string(), stock, offcut, pieces(measure, &pattern.pieces)]);
    }
    let wide = |column: usize| rows.iter().map(|r| r[column].chars().count()).max().unwrap_or(0);
    let (times, stock, offcut) = (wide(0), wide(1), wide(2));
    for [a, b, c, d] in &rows {
        let _ = writeln!(text, "  {a:>times$}   {b:>stock$}   {c:<offcut$}   {d}");
    }
    for joined in &plan.joined {
        let parts = pieces(measure, &joined.parts);
        let each = if joined.count == 1 { "is" } else { "are each" };
        let _ = write!(text, "\n{} of {} {each} made of {parts}.", joined.count, length(joined.length));
    }
    let kept = if asked.job.keep > 0 { format!(" ({} and longer)", length(asked.job.keep)) } else { String::new() };
    let _ = write!(text, "\nLeft over{kept}: {}. Scrap and saw cuts: {}.", length(plan.left_over), length(plan.scrap));
    text
}

/// What it takes and what it takes at least.
fn head(asked: &Asked, plan: &Plan) -> String {
    let stocks = &asked.job.stocks;
    let pieces = |n: i64| counted(usize::try_from(n).unwrap_or(usize::MAX), "stock piece", "stock pieces");
    let used = || {
        let all = stocks.iter().zip(&plan.used).filter(|(_, n)| **n > 0);
        let all: Vec<String> = all.map(|(s, n)| format!("{n} of {}", asked.measure.text(s.length))).collect();
        all.join(", ")
    };
    let spliced = if plan.joined.is_empty() { "" } else { " with these parts" };
    let cost = |n: i64| if asked.costs { dollars(n) } else { asked.measure.text(n) };
    if let [stock] = stocks.as_slice() {
        let length = asked.measure.text(stock.length);
        let all = if asked.costs { format!(" {} in all.", cost(plan.cost)) } else { String::new() };
        return format!(
            "{} of {length}, at least {} needed{spliced}.{all}",
            pieces(plan.stock_used()),
            plan.at_least.pieces
        );
    }
    let what = if asked.costs { "Cost" } else { "Stock bought" };
    let (is, least) = (cost(plan.cost), cost(plan.at_least.cost));
    format!("{what} {is}, at least {least} needed{spliced}: {}, {}.", pieces(plan.stock_used()), used())
}

fn pieces(measure: Measure, pieces: &[(i64, i64)]) -> String {
    let one = |(length, n): &(i64, i64)| match n {
        1 => measure.text(*length),
        n => format!("{n} x {}", measure.text(*length)),
    };
    pieces.iter().map(one).collect::<Vec<_>>().join(" + ")
}

fn in_dollars(parts: i64) -> Number {
    Number::from(parts).over(&Number::from(COST_PARTS)).unwrap_or(Number::ZERO)
}

fn dollars(parts: i64) -> String {
    show(&in_dollars(parts), Dimension::MONEY, &Style::default()).text
}

/// The plan as JSON. Lengths are in mm, or in the unit of the bare numbers given; costs in dollars, where there are any.
pub(super) fn for_programs(asked: &Asked, plan: &Plan) -> Value {
    let length = |n: i64| value(&asked.measure.number(n));
    let parts = |parts: &[(i64, i64)]| -> Vec<Value> {
        parts.iter().map(|(l, n)| json!({ "length": length(*l), "count": n })).collect()
    };
    let stock: Vec<Value> = asked
        .job
        .stocks
        .iter()
        .zip(&plan.used)
        .map(|(s, n)| json!({ "length": length(s.length), "used": n }))
        .collect();
    let patterns = plan.patterns.iter().map(|p| {
        json!({
            "times": p.times,
            "stock": length(asked.job.stocks[p.stock].length),
            "pieces": parts(&p.pieces),
            "offcut": length(p.offcut),
            "kept": p.kept,
        })
    });
    let joined =
        plan.joined.iter().map(|j| json!({ "length": length(j.length), "count": j.count, "parts": parts(&j.parts) }));
    let cost = |n: i64| if asked.costs { value(&in_dollars(n)) } else { Value::Null };
    json!({
        "stock_used": plan.stock_used(),
        "at_least": plan.at_least.pieces,
        "proved_least": plan.is_least(),
        "cost": cost(plan.cost),
        "cost_at_least": cost(plan.at_least.cost),
        "unit": if matches!(asked.measure, Measure::Bare(_)) { Value::Null } else { json!("mm") },
        "stock": stock,
        "patterns": patterns.collect::<Vec<_>>(),
        "joined": joined.collect::<Vec<_>>(),
        "left_over": length(plan.left_over),
        "scrap": length(plan.scrap),
    })
}

/// A number with the digits of its decimal.
fn value(n: &Number) -> Value {
    let text = n.to_decimal().normalize().to_string();
    serde_json::from_str(&text).unwrap_or(Value::String(text))
}
