//! Expressions as text: as the book has them, or with values put in the place of their parts.

use crate::notation::tree::{Binary, Comparison, Expr, How, Literal, Node};
use crate::source::Text;

/// How strongly an operator binds.
type Strength = u8;

const CHOICE: Strength = 0;
const OR: Strength = 1;
const AND: Strength = 2;
const NOT: Strength = 3;
const COMPARE: Strength = 4;
const ADD: Strength = 5;
const MULTIPLY: Strength = 6;
const NEGATE: Strength = 7;
const POWER: Strength = 8;
const WHOLE: Strength = 9;

/// Puts a text in the place of a part; nothing where the part is to stand as it is.
pub type Put<'a> = dyn Fn(&Expr) -> Option<String> + 'a;

/// An expression as it stands in a book, in one line.
#[must_use]
pub fn quoted(e: &Expr, text: &Text) -> String {
    said(e, text, &|_| None)
}

/// An expression with texts in the place of some of its parts.
#[must_use]
pub fn said(e: &Expr, text: &Text, put: &Put<'_>) -> String {
    part(e, text, put).0
}

/// A part where something stronger surrounds it.
fn within(e: &Expr, text: &Text, put: &Put<'_>, strength: Strength) -> String {
    let (words, own) = part(e, text, put);
    if own < strength { format!("({words})") } else { words }
}

fn part(e: &Expr, text: &Text, put: &Put<'_>) -> (String, Strength) {
    if let Some(words) = put(e) {
        let strength = if words.starts_with('-') { NEGATE } else { WHOLE };
        return (words, strength);
    }
    let source = |e: &Expr| text.text.get(e.span.range()).unwrap_or("").trim().to_owned();
    match &e.node {
        Node::Literal(Literal::Number { value, .. }) if value.is_negative() => (source(e), NEGATE),
        Node::Literal(_) => (source(e), WHOLE),
        Node::Name(name) => (name.clone(), WHOLE),
        Node::Call { name, arguments } => {
            let each = arguments.iter().map(|a| {
                let label = a.label.as_ref().map_or_else(String::new, |l| format!("{}: ", l.name));
                format!("{label}{}", said(&a.value, text, put))
            });
            (format!("{}({})", name.name, each.collect::<Vec<_>>().join(", ")), WHOLE)
        }
        Node::Aggregate { how, kind, value, condition } => {
            let value = value.as_ref().map_or_else(String::new, |v| format!(" ({})", said(v, text, put)));
            let condition = condition.as_ref().map_or_else(String::new, |c| format!(" where {}", said(c, text, put)));
            (format!("{} of {}{value}{condition}", how_word(*how), kind.name), NOT)
        }
        Node::Negate(a) => (format!("-{}", within(a, text, put, NEGATE)), NEGATE),
        Node::Not(a) => (format!("not {}", within(a, text, put, NOT)), NOT),
        Node::Binary(op, a, b) => {
            let (sign, strength) = sign(*op);
            // the right side of a difference or a quotient binds closer
            (format!("{} {sign} {}", within(a, text, put, strength), within(b, text, put, strength + 1)), strength)
        }
        Node::Compare(first, rest) => {
            let mut words = within(first, text, put, ADD);
            for (how, right) in rest {
                words += &format!(" {} {}", comparison(*how, right), within(right, text, put, ADD));
            }
            (words, COMPARE)
        }
        Node::Given { value, negated } => {
            let is = if *negated { "is not given" } else { "is given" };
            (format!("{} {is}", within(value, text, put, ADD)), COMPARE)
        }
        Node::OneOf { value, members, negated } => {
            let is = if *negated { "is not one of" } else { "is one of" };
            let members: Vec<&str> = members.iter().map(|m| m.name.as_str()).collect();
            (format!("{} {is} {}", within(value, text, put, ADD), members.join(" ")), COMPARE)
        }
        Node::Power(a, n) => (format!("{}^{n}", within(a, text, put, WHOLE)), POWER),
        Node::Choice(arms, otherwise) => {
            let arms =
                arms.iter().map(|(v, c)| format!("{} when {}", within(v, text, put, OR), within(c, text, put, OR)));
            let otherwise = format!("{} otherwise", within(otherwise, text, put, OR));
            (arms.chain([otherwise]).collect::<Vec<_>>().join(", "), CHOICE)
        }
    }
}

/// How rows are brought together, in the notation's word.
fn how_word(how: How) -> &'static str {
    match how {
        How::Sum => "sum",
        How::Count => "count",
        How::Least => "least",
        How::Most => "most",
        How::Any => "any",
        How::All => "all",
    }
}

fn sign(op: Binary) -> (&'static str, Strength) {
    match op {
        Binary::Add => ("+", ADD),
        Binary::Subtract => ("-", ADD),
        Binary::Multiply => ("*", MULTIPLY),
        Binary::Divide => ("/", MULTIPLY),
        Binary::Of => ("of", MULTIPLY),
        Binary::And => ("and", AND),
        Binary::Or => ("or", OR),
    }
}

/// A comparison as it reads: `is` between words, signs between numbers.
fn comparison(how: Comparison, right: &Expr) -> &'static str {
    let word = matches!(&right.node, Node::Name(_) | Node::Literal(Literal::Text(_) | Literal::YesNo(_)));
    match how {
        Comparison::Equal if word => "is",
        Comparison::NotEqual if word => "is not",
        Comparison::Equal => "=",
        Comparison::NotEqual => "is not",
        Comparison::Less => "<",
        Comparison::LessOrEqual => "<=",
        Comparison::Greater => ">",
        Comparison::GreaterOrEqual => ">=",
    }
}

/// Whether two operators are of one chain, so that their operands stand in a row: sums and differences, products and
/// quotients.
fn chained(a: &Expr, b: &Expr) -> bool {
    let class = |e: &Expr| match &e.node {
        Node::Binary(op, ..) => Some(sign(*op).1),
        _ => None,
    };
    class(a).is_some() && class(a) == class(b)
}

/// An expression whose operands have been worked out, and nothing else: `longer(4, 0)` for `longer(5 - 1, 0)`. Nothing
/// where no operand has anything to work out.
#[must_use]
pub fn last_step(e: &Expr, text: &Text, value: &Put<'_>) -> Option<String> {
    let mut operands: Vec<&Expr> = Vec::new();
    match &e.node {
        Node::Call { arguments, .. } => operands.extend(arguments.iter().map(|a| &a.value)),
        Node::Binary(_, a, b) => {
            let mut open = vec![&**b, &**a];
            while let Some(next) = open.pop() {
                match &next.node {
                    Node::Binary(_, a, b) if chained(e, next) => open.extend([&**b, &**a]),
                    _ => operands.push(next),
                }
            }
        }
        Node::Compare(first, rest) => operands.extend([&**first].into_iter().chain(rest.iter().map(|(_, r)| r))),
        Node::Negate(a) | Node::Not(a) | Node::Power(a, _) => operands.push(a),
        _ => return None,
    }
    let compound = |e: &&Expr| !matches!(e.node, Node::Literal(_) | Node::Name(_));
    if !operands.iter().any(compound) {
        return None;
    }
    Some(said(e, text, &|part| if operands.iter().any(|o| std::ptr::eq(*o, part)) { value(part) } else { None }))
}

#[cfg(test)]
mod tests {
    use super::{last_step, quoted, said};
    use crate::notation::read_expression;
    use crate::notation::tree::{Expr, Node};
    use crate::source::Text;

    fn read(text: &str) -> (std::sync::Arc<Text>, Expr) {
        let text = Text::new("t", text);
        let expr = read_expression(&text).unwrap_or_else(|p| panic!("{}", p[0].what));
        (text, expr)
    }

    #[test]
    fn an_expression_is_quoted_with_the_brackets_that_it_needs() {
        for text in [
            "longer(bays(run: along, pitch: spacing) - 1, 0)",
            "(a + b) * c - d / (e - f)",
            "a - (b - c)",
            "x when a > 1 and not b, y when c is given, z otherwise",
            "sum of openings (long * wide * many) where many > 1",
            "4\" <= x <= 8'-6\"",
            "sdc is one of D E F",
            "10% of (a + b)",
            "-(a + b)^2",
        ] {
            let (source, expr) = read(text);
            assert_eq!(quoted(&expr, &source), text);
        }
    }

    #[test]
    fn what_is_quoted_is_read_as_the_same() {
        let (source, expr) = read("  ( a+b )*c   when  x>1 ,  d  otherwise ");
        let once = quoted(&expr, &source);
        let (again, read_again) = read(&once);
        assert_eq!(quoted(&read_again, &again), once);
    }

    #[test]
    fn values_stand_in_the_place_of_names() {
        let (source, expr) = read("longer(a - 1, 0) * (b + c)");
        let put = |e: &Expr| match &e.node {
            Node::Name(n) if n == "a" => Some("5".to_owned()),
            Node::Name(_) => Some("-2".to_owned()),
            _ => None,
        };
        assert_eq!(said(&expr, &source, &put), "longer(5 - 1, 0) * (-2 + -2)");
        // operands of one chain stand in a row, each worked out
        let (source, expr) = read("a + b * c + d");
        let value = |e: &Expr| Some(if matches!(e.node, Node::Binary(..)) { "12" } else { "1" }.to_owned());
        assert_eq!(last_step(&expr, &source, &value).unwrap(), "1 + 12 + 1");
        let (source, expr) = read("a + b");
        assert_eq!(last_step(&expr, &source, &value), None);
    }
}
