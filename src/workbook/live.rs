//! Figures of the job as live formulas: sums of lines and what is built on them.
//!
//! Only what a worksheet can work out to the same value is translated; any other figure is written as a value.

use crate::notation::tree::{Binary, Comparison, Expr, ForLine, Formula, How, Literal, Node, Part};
use crate::program::Program;
use crate::quantity::{Dimension, Number};
use indexmap::IndexMap;

/// A template for each figure that has one: other figures' names stand in braces.
#[must_use]
pub fn job_formulas(program: &Program) -> Vec<(String, String)> {
    let mut formulas: IndexMap<String, &Formula> = IndexMap::new();
    for book in &program.books {
        for part in &book.parts {
            let Part::For(name, lines) = part else { continue };
            if program.schema.kind_named(&name.name) != Some(program.job) {
                continue;
            }
            for line in lines {
                if let ForLine::Formula(f) = line {
                    formulas.insert(f.name.name.clone(), f);
                }
            }
        }
    }
    formulas.iter().filter_map(|(name, f)| Some((name.clone(), written(program, &f.body)?))).collect()
}

fn written(program: &Program, e: &Expr) -> Option<String> {
    Some(match &e.node {
        Node::Literal(Literal::Percent(n)) => n.exact_decimal()?.to_string(),
        Node::Literal(Literal::Number { value, unit }) => plain(value, unit.as_ref().map(|(_, u)| *u))?,
        Node::Name(name) => {
            let field = program.schema.field_named(program.job, name)?;
            // a figure in money, hours or a percent stands on the sheet in the unit that it is worked out in
            let ty = program.schema.field(field).ty;
            let dimension = ty.dimension()?;
            if !matches!(dimension, Dimension::MONEY | Dimension::TIME | Dimension::NONE) {
                return None;
            }
            format!("{{{name}}}")
        }
        Node::Negate(a) => format!("-({})", written(program, a)?),
        Node::Binary(op, a, b) => {
            let sign = match op {
                Binary::Add => "+",
                Binary::Subtract => "-",
                Binary::Multiply | Binary::Of => "*",
                Binary::Divide => "/",
                Binary::And | Binary::Or => return None,
            };
            format!("({}{sign}{})", written(program, a)?, written(program, b)?)
        }
        Node::Aggregate { how: How::Sum, kind, value: Some(value), condition } => {
            lines_sum(program, kind, value, condition.as_deref())?
        }
        Node::Call { name, arguments } if name.name == "round_near" => cents(program, arguments)?,
        _ => return None,
    })
}

fn plain(value: &Number, unit: Option<crate::quantity::Unit>) -> Option<String> {
    match unit {
        None => value.exact_decimal().map(|d| d.to_string()),
        Some(u) if matches!(u.dimension, Dimension::MONEY | Dimension::TIME | Dimension::NONE) => {
            value.scaled(u.factor).ok()?.exact_decimal().map(|d| d.to_string())
        }
        Some(_) => None,
    }
}

/// The sums that stand on every Bid: material, labor, all lines, hours.
fn lines_sum(
    program: &Program,
    kind: &crate::notation::tree::Name,
    value: &Expr,
    condition: Option<&Expr>,
) -> Option<String> {
    if program.schema.kind_named(&kind.name) != Some(program.lines) {
        return None;
    }
    let Node::Name(column) = &value.node else { return None };
    let of = match condition.map(|c| &c.node) {
        None => None,
        Some(Node::Compare(a, rest)) => match (&a.node, rest.as_slice()) {
            (Node::Name(n), [(Comparison::Equal, Expr { node: Node::Name(word), .. })]) if n == "kind" => {
                Some(word.as_str())
            }
            _ => return None,
        },
        Some(_) => return None,
    };
    Some(match (column.as_str(), of) {
        ("cost", Some("material")) => "{material}".to_owned(),
        ("cost", Some("labor")) => "{labor}".to_owned(),
        ("cost", None) => "({material}+{labor})".to_owned(),
        ("hours", None | Some("labor")) => "{hours}".to_owned(),
        _ => return None,
    })
}

/// `round_near(x, to: $0.01)`: a first rounding to eight places takes away what binary fractions leave behind.
fn cents(program: &Program, arguments: &[crate::notation::tree::Argument]) -> Option<String> {
    let [x, to] = arguments else { return None };
    let Node::Literal(Literal::Number { value, unit: Some((_, unit)) }) = &to.value.node else { return None };
    let cent = Number::from_ints(1, 100).ok()?;
    if unit.dimension != Dimension::MONEY || *value != cent {
        return None;
    }
    Some(format!("ROUND(ROUND({},8),2)", written(program, &x.value)?))
}
