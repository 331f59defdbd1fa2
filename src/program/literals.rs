//! Literals as values of a type.

use super::schema::{Type, Value};
use crate::notation::tree::{Expr, Literal, Node};
use crate::quantity::{Number, Unit};

/// A literal as a value of a type in base units; else what it is, in words.
///
/// # Errors
/// What the literal is instead.
pub fn literal_value(expr: &Expr, ty: Type) -> Result<Value, String> {
    let number = |value: &Number, unit: &Option<(String, Unit)>| match unit {
        Some((_, unit)) => value.scaled(unit.factor).map(|n| (n, unit.dimension)).map_err(|e| e.to_string()),
        None => Ok((*value, crate::quantity::Dimension::NONE)),
    };
    match (&expr.node, ty) {
        (Node::Negate(inner), _) => match literal_value(inner, ty)? {
            Value::Number(n) => Ok(Value::Number(n.negated())),
            _ => Err("a text with a minus sign".to_owned()),
        },
        (Node::Literal(Literal::Number { value, unit }), Type::Number { dimension, flavor }) => {
            let (value, found) = number(value, unit)?;
            let percent = flavor == super::schema::Flavor::Percent;
            // a bare zero is a zero of anything
            if (found == dimension && !percent) || (value.is_zero() && found.is_none()) {
                return Ok(Value::Number(value));
            }
            Err(found.words())
        }
        (Node::Literal(Literal::Percent(value)), Type::Number { dimension, .. }) if dimension.is_none() => {
            Ok(Value::Number(*value))
        }
        (Node::Literal(Literal::Text(t)), Type::Text) => Ok(Value::Text(t.as_str().into())),
        (Node::Name(t), Type::Text) => Ok(Value::Text(t.as_str().into())),
        (Node::Literal(Literal::Number { value, unit: None }), Type::Text) => {
            Ok(Value::Text(value.to_decimal().to_string().as_str().into()))
        }
        (Node::Literal(Literal::YesNo(v)), Type::YesNo) => Ok(Value::YesNo(*v)),
        (Node::Name(t), Type::YesNo) if t == "yes" || t == "no" => Ok(Value::YesNo(t == "yes")),
        (Node::Literal(Literal::Date(d)), Type::Date) => Ok(Value::Date(*d)),
        (Node::Literal(Literal::Number { value, unit }), _) => Err(number(value, unit)?.1.words()),
        (Node::Literal(Literal::Percent(_)), _) => Err("a percent".to_owned()),
        (Node::Literal(Literal::Text(_)), _) => Err("a text".to_owned()),
        (Node::Literal(Literal::YesNo(_)), _) => Err("yes or no".to_owned()),
        (Node::Literal(Literal::Date(_)), _) => Err("a date".to_owned()),
        (Node::Name(name), _) => Err(format!("the word '{name}'")),
        _ => Err("an expression".to_owned()),
    }
}

/// A literal of a type, to show how one is written.
#[must_use]
pub fn example_of(ty: Type) -> &'static str {
    match ty {
        Type::PERCENT => "a percent such as 10%",
        Type::Text => "a text such as \"D\"",
        Type::YesNo => "yes or no",
        Type::Date => "a date such as 2026-11-25",
        Type::Thing(_) => "the result of a function that makes one",
        Type::Number { dimension, .. } => match (dimension.length, dimension.force, dimension.time, dimension.money) {
            (0, 0, 0, 0) => "a number such as 3",
            (1, 0, 0, 0) => "a length such as 8'-6\"",
            (2, 0, 0, 0) => "an area such as 32 sf",
            (3, 0, 0, 0) => "a volume such as 5 gal",
            (0, 0, 1, 0) => "hours such as 1.5 hr",
            (0, 0, 0, 1) => "money such as $4.85",
            _ => "a value with a unit of that kind",
        },
    }
}
