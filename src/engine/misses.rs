//! An example that does not come out: by how much it misses, and how its figure came about.

use super::examples::{shown_by, value_at, value_text};
use super::run::Engine;
use crate::notation::tree::{Expr, Node};
use crate::program::{FieldId, KindId, Program, Type, Value};
use crate::quantity::show::{Style, show, spoken, usual_unit};
use crate::quantity::{Dimension, Number, Ratio, Rounding};
use std::ops::Range;

/// Most figures of a working, and how far it goes back.
const MOST_FIGURES: usize = 12;
const MOST_DEEP: usize = 3;

/// A figure of which the print is rounded.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Rounded {
    /// The figure in decimals.
    pub(super) exact: String,
    /// A step to round it to, as it is written in a book.
    pub(super) step: String,
    /// What it is in whole steps.
    pub(super) in_steps: String,
}

/// What a figure is beside its print; nothing where that is all of it.
pub(super) fn rounded(got: &Value, ty: Type, style: &Style) -> Option<Rounded> {
    let (Value::Number(n), Type::Number { dimension, .. }) = (got, ty) else { return None };
    if !shown_by(got, ty, style, show).rounded {
        return None;
    }
    let (unit, factor) = unit_of(dimension, style);
    let (step, parts) = match dimension {
        Dimension::LENGTH if !style.metric => ("1/16\"".to_owned(), 192),
        Dimension::MONEY => ("$0.01".to_owned(), 100),
        _ if style.percent => ("0.01%".to_owned(), 100),
        _ => (format!("0.001 {unit}").trim_end().to_owned(), 1_000),
    };
    let (step, size) = match &style.step {
        Some(own) => (spoken(own, dimension, &Style { step: None, ..style.clone() }).text, *own),
        None => (step, Number::from_ints(1, parts).and_then(|part| part.scaled(factor)).ok()?),
    };
    let in_steps = Value::Number(n.rounded(&size, Rounding::Near).ok()?);
    Some(Rounded { exact: in_decimals(n, &unit, factor)?, step, in_steps: value_text(&in_steps, ty, style) })
}

/// By how much a figure misses, where that is little or it is so many times what is expected; nothing where it is simply
/// another.
pub(super) fn near(wanted: &Value, got: &Value, ty: Type) -> Option<String> {
    let (Value::Number(a), Value::Number(b), Type::Number { dimension, .. }) = (wanted, got, ty) else { return None };
    if a.is_zero() {
        return None;
    }
    let by = b.minus(a).ok()?;
    let (more, size) = if by.is_negative() { ("less", by.negated()) } else { ("more", by) };
    let whole = if a.is_negative() { a.negated() } else { *a };
    // one piece, or a twentieth
    let one = dimension.is_none() && size == Number::from(1);
    if one || size.times(&Number::from(20)).ok()? <= whole {
        let style = Style { percent: ty == Type::PERCENT, ..Style::default() };
        return Some(format!("{} {more}", spoken(&size, dimension, &style).text));
    }
    let times = |n: i64, a: &Number, b: &Number| a.times(&Number::from(n)).is_ok_and(|product| product == *b);
    // twice; inches for feet; percents; square inches for square feet
    [2, 12, 100, 144].into_iter().find_map(|n| match (times(n, a, b), times(n, b, a)) {
        (true, _) => Some(format!("{n} times that")),
        (_, true) => Some(format!("1/{n} of that")),
        _ => None,
    })
}

/// The unit that a figure is usually read in, and how many base units it has.
fn unit_of(dimension: Dimension, style: &Style) -> (String, Ratio) {
    if style.percent {
        return ("%".to_owned(), Ratio::new(1, 100));
    }
    let (name, unit) = usual_unit(dimension, style.metric);
    (name, unit.factor)
}

/// A figure whose print is rounded, with the decimals that there are: `2.857142857143… ft`.
fn in_decimals(n: &Number, unit: &str, factor: Ratio) -> Option<String> {
    let n = n.scaled(factor.recip()).ok()?;
    let more = if n.exact_decimal().is_some() { "" } else { "…" };
    let digits = format!("{}{more}", n.to_decimal().round_dp(12).normalize());
    Some(match unit {
        "" => digits,
        "%" => format!("{digits}%"),
        "$" => format!("${digits}"),
        unit => format!("{digits} {unit}"),
    })
}

/// An expression as it may stand before '=' in an example: with brackets around more than one word.
pub(super) fn as_one(label: &str) -> String {
    let mut open = 0i32;
    let loose = label.chars().any(|c| {
        open += i32::from(c == '(') - i32::from(c == ')');
        open == 0 && c.is_whitespace()
    });
    if loose { format!("({label})") } else { label.to_owned() }
}

/// How the figures came about that an expression of an example names: a line for each, with its formula.
pub(super) fn working(program: &Program, engine: &Engine<'_>, kind: KindId, shown: &str) -> Vec<String> {
    let mut out = Working { program, engine, told: Vec::new(), lines: Vec::new() };
    for name in words(shown) {
        out.name(kind, name, 0);
    }
    // a row's own cells alone say nothing that the example does not
    if out.lines.iter().all(|line| !line.contains(": ")) { Vec::new() } else { out.lines }
}

struct Working<'a> {
    program: &'a Program,
    engine: &'a Engine<'a>,
    told: Vec<FieldId>,
    lines: Vec<String>,
}

impl Working<'_> {
    fn name(&mut self, kind: KindId, name: &str, depth: usize) {
        let schema = &self.program.schema;
        let mut at = Some(kind);
        let mut found = None;
        while let Some(kind) = at.filter(|_| found.is_none()) {
            found = schema.field_named(kind, name);
            at = schema.kind(kind).parent.as_ref().map(|p| p.kind);
        }
        let job = schema.kind_named("job");
        let Some(field) = found.or_else(|| schema.field_named(job?, name)) else { return };
        if depth > MOST_DEEP || self.told.contains(&field) || self.lines.len() >= MOST_FIGURES {
            return;
        }
        self.told.push(field);
        let (of, style) = (schema.field(field), &schema.field(field).style);
        if self.engine.run().columns[field.0 as usize].is_none() {
            return;
        }
        let value = match value_at(self.engine, field, 0) {
            Ok(value) => format!("= {}", value_text(&value, of.ty, style)),
            Err(_) => "has no value".to_owned(),
        };
        let formula = self.program.formula(field);
        let by = formula.and_then(|(text, f)| text.text.get(with_brackets(&text.text, f.body.span.range())));
        let by = by.map(|by| by.split_whitespace().collect::<Vec<_>>().join(" "));
        let by = by.map_or_else(String::new, |by| format!(": {by}"));
        self.lines.push(format!("{}{name} {value}{by}", "  ".repeat(depth)));
        if let Some((_, formula)) = formula {
            let mut names = Vec::new();
            names_in(&formula.body, &mut names);
            names.into_iter().for_each(|name| self.name(of.kind, name, depth + 1));
        }
    }
}

/// The part of a text with the brackets behind it that are opened in it: an expression's place is that without its own.
fn with_brackets(text: &str, part: Range<usize>) -> Range<usize> {
    let count = |c: char| text.get(part.clone()).map_or(0, |t| t.matches(c).count());
    let mut open = count('(').saturating_sub(count(')'));
    let mut end = part.end;
    for c in text.get(part.end..).unwrap_or("").chars() {
        if open == 0 || !(c == ')' || c.is_whitespace()) {
            break;
        }
        open -= usize::from(c == ')');
        end += c.len_utf8();
    }
    part.start..end
}

fn names_in<'e>(e: &'e Expr, names: &mut Vec<&'e str>) {
    if let Node::Name(name) = &e.node {
        names.push(name);
    }
    e.parts(&mut |part| names_in(part, names));
}

/// The words of an expression that may be names; texts in quotes are none.
fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split('"')
        .step_by(2)
        .flat_map(|part| part.split(|c: char| !c.is_alphanumeric() && c != '_'))
        .filter(|w| !w.is_empty())
}
