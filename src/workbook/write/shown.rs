//! How a field's values stand in a sheet: heading, unit and number format.

use super::edge::Scale;
use super::styles::{DATE, MONEY, RATE_PERCENT};
use crate::engine::{Column, Data};
use crate::problem::Problem;
use crate::program::{Field, Flavor, Type, Value};
use crate::quantity::length::MM_PER_INCH;
use crate::quantity::show::usual_unit;
use crate::quantity::{Dimension, Number, Unit};

/// A field's unit and number format.
#[derive(Clone, Debug)]
pub struct Shown {
    /// Name of the unit; empty where the number format says it.
    pub unit: String,
    /// From the column's unit to the shown one.
    pub scale: Scale,
    /// Base units in one of the shown unit.
    pub factor: crate::quantity::Ratio,
    /// Number format of ISO/IEC 29500.
    pub format: String,
}

/// How a field is shown; `column` tells whether all its numbers are whole.
#[must_use]
pub fn shown(field: &Field, column: Option<&Column>) -> Shown {
    let none = Unit::none().factor;
    let plain = |format: &str| Shown {
        unit: String::new(),
        scale: Scale::between(field.unit.factor, none),
        factor: none,
        format: format.to_owned(),
    };
    let (dimension, flavor) = match field.ty {
        Type::Text | Type::YesNo | Type::Thing(_) => return plain("General"),
        Type::Date => return plain(DATE),
        Type::Number { dimension, flavor } => (dimension, flavor),
    };
    if flavor == Flavor::Percent || field.style.percent {
        return plain(RATE_PERCENT);
    }
    if dimension == Dimension::MONEY && field.style.unit.is_none() {
        return Shown { unit: "$".to_owned(), ..plain(MONEY) };
    }
    let (name, unit) = field.style.unit.clone().unwrap_or_else(|| match small(field) {
        Some(inches) => ("in".to_owned(), inches),
        None => usual_unit(dimension, field.style.metric),
    });
    let scale = Scale::between(field.unit.factor, unit.factor);
    let whole = flavor == Flavor::Count || (scale.keeps_whole() && column.is_some_and(all_whole));
    let places = match (whole, field.style.step.as_ref().and_then(|s| places_of(s, unit))) {
        (_, Some(places)) => places,
        (true, None) => 0,
        // tees stand 16 or 24 in. apart, not 24.00; feet take a third place where two would cut one off
        (false, None) => match (name.as_str(), column) {
            ("in", Some(column)) => scale.places(column, 3),
            ("ft", Some(column)) => scale.places(column, 3).max(2),
            _ => usual_places(&name),
        },
    };
    Shown { format: number_format(&name, places), unit: name, scale, factor: unit.factor }
}

/// Inches, for what is read as a length and is a part of a foot where nobody says otherwise.
fn small(field: &Field) -> Option<Unit> {
    let default = field.input.as_ref()?.default.as_ref().filter(|_| !field.style.metric)?;
    let (Value::Number(n), Some(Dimension::LENGTH)) = (default, field.ty.dimension()) else { return None };
    let foot = Number::from(MM_PER_INCH).times(&Number::from(12)).ok()?;
    if n.is_zero() || *n >= foot { None } else { Unit::named("in") }
}

/// A heading with its unit: `Tee run (ft)`.
#[must_use]
pub fn heading(label: &str, unit: &str) -> String {
    if unit.is_empty() { label.to_owned() } else { format!("{label} ({unit})") }
}

/// The gist of a fault, for a cell; Checks has the whole sentence.
#[must_use]
pub fn short(problem: &Problem) -> String {
    let what = problem.what.as_str();
    let table = what.strip_prefix("The table ").and_then(|rest| rest.split_once(" has no row"));
    if let Some((table, _)) = table {
        return format!("no row in {table}");
    }
    for (words, gist) in [(" is blank", " is blank"), (" could not be read", " not read")] {
        if let Some((label, _)) = what.split_once(words) {
            return format!("{label}{gist}");
        }
    }
    problem.kind.to_owned()
}

fn number_format(unit: &str, places: usize) -> String {
    let digits = if places == 0 { "#,##0".to_owned() } else { format!("#,##0.{}", "0".repeat(places)) };
    if unit.starts_with('$') { format!("${digits};-${digits}") } else { digits }
}

fn usual_places(unit: &str) -> usize {
    match unit {
        "sf" | "mm" => 1,
        "m" => 3,
        "in^4" | "in^3" => 4,
        name if name.starts_with("hr/") || name.starts_with('$') => 4,
        _ => 2,
    }
}

/// Decimal places that a step such as 0.001 in. asks for in the unit; `None` for fractions that do not end soon.
fn places_of(step: &Number, unit: Unit) -> Option<usize> {
    let step = step.scaled(unit.factor.recip()).ok()?.exact_decimal()?;
    usize::try_from(step.normalize().scale()).ok().filter(|places| *places <= 6)
}

fn all_whole(column: &Column) -> bool {
    column.chunks.iter().all(|c| match &c.data {
        Data::Fixed { scale: 0, over: None, .. } => true,
        Data::Fixed { values, over: None, .. } => values.iter().all(|v| *v == 0),
        _ => false,
    })
}
