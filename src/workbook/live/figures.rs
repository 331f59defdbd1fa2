//! Figures of the job as live formulas: sums of lines and what is built on them.
//!
//! Only what a worksheet can work out to the same value is translated; any other figure is written as a value.

use super::term::quoted;
use crate::notation::tree::{Binary, Comparison, Expr, ForLine, Formula, How, Literal, Node, Part};
use crate::pricing::JobFigure;
use crate::program::{Program, Value};
use crate::quantity::{Dimension, Number};
use indexmap::IndexMap;

/// The live formula of a figure of the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobFormula {
    /// The figure's name.
    pub name: String,
    /// The formula, with other figures' names in braces, and sums of lines as `{lines material}`, `{lines labor}` and
    /// `{lines hours}`.
    pub template: String,
    /// The names that it works with as settings stand now: of a choice, those of what was chosen.
    pub on: Vec<String>,
}

impl JobFormula {
    /// A formula without choices.
    #[must_use]
    pub fn new(name: &str, template: &str) -> Self {
        let on = names_in(template).map(str::to_owned).collect();
        Self { name: name.to_owned(), template: template.to_owned(), on }
    }
}

/// Names that a template uses.
pub fn names_in(template: &str) -> impl Iterator<Item = &str> {
    template.split('{').skip(1).filter_map(|part| part.split_once('}').map(|(name, _)| name))
}

/// A formula for each figure that has one.
///
/// `figures` are the job's figures with their values: they tell which inputs were given, and what a choice comes to.
#[must_use]
pub fn job_formulas(program: &Program, figures: &[JobFigure]) -> Vec<JobFormula> {
    let mut formulas: IndexMap<String, &Formula> = IndexMap::new();
    for book in &program.books {
        for part in book.parts.iter() {
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
    let (live, settled) = (Writer { program, figures, live: true }, Writer { program, figures, live: false });
    let of = |(name, f): (&String, &&Formula)| {
        let now = settled.written(&f.body)?;
        let on = names_in(&now).map(str::to_owned).collect();
        Some(JobFormula { name: name.clone(), template: live.written(&f.body)?, on })
    };
    formulas.iter().filter_map(of).collect()
}

struct Writer<'a> {
    program: &'a Program,
    figures: &'a [JobFigure],
    /// Whether choices are written out; they are settled where not.
    live: bool,
}

/// A condition of a choice.
enum When {
    /// It is known, and no cell changes it.
    Known(bool),
    /// It hangs on a cell: what tells it, and whether it holds now.
    Told(String, bool),
}

impl Writer<'_> {
    fn written(&self, e: &Expr) -> Option<String> {
        Some(match &e.node {
            Node::Literal(Literal::Percent(n)) => n.exact_decimal()?.to_string(),
            Node::Literal(Literal::Number { value, unit }) => plain(value, unit.as_ref().map(|(_, u)| *u))?,
            Node::Name(name) => {
                let field = self.program.schema.field_named(self.program.job, name)?;
                // a figure in money, hours or a percent stands on the sheet in the unit that it is worked out in
                let ty = self.program.schema.field(field).ty;
                let dimension = ty.dimension()?;
                if !matches!(dimension, Dimension::MONEY | Dimension::TIME | Dimension::NONE) {
                    return None;
                }
                format!("{{{name}}}")
            }
            Node::Negate(a) => format!("-({})", self.written(a)?),
            Node::Binary(op, a, b) => {
                let sign = match op {
                    Binary::Add => "+",
                    Binary::Subtract => "-",
                    Binary::Multiply | Binary::Of => "*",
                    Binary::Divide => "/",
                    Binary::And | Binary::Or => return None,
                };
                format!("({}{sign}{})", self.written(a)?, self.written(b)?)
            }
            Node::Aggregate { how: How::Sum, kind, value: Some(value), condition } => {
                lines_sum(self.program, kind, value, condition.as_deref())?.to_owned()
            }
            Node::Call { name, arguments } if name.name == "round_near" => self.cents(arguments)?,
            Node::Choice(arms, otherwise) => self.choice(arms, otherwise)?,
            _ => return None,
        })
    }

    fn choice(&self, arms: &[(Expr, Expr)], otherwise: &Expr) -> Option<String> {
        let (mut out, mut open) = (String::new(), 0);
        let mut last = otherwise;
        for (value, condition) in arms {
            match self.when(condition)? {
                When::Told(told, _) if self.live => {
                    out.push_str(&format!("IF({told},{},", self.written(value)?));
                    open += 1;
                }
                When::Known(true) | When::Told(_, true) => {
                    last = value;
                    break;
                }
                When::Known(false) | When::Told(_, false) => {}
            }
        }
        out.push_str(&self.written(last)?);
        out.push_str(&")".repeat(open));
        Some(out)
    }

    /// A condition, where that hangs only on what was read of the job.
    fn when(&self, condition: &Expr) -> Option<When> {
        if let Node::Compare(a, rest) = &condition.node {
            return self.is_word(a, rest);
        }
        let Node::Given { value, negated } = &condition.node else { return None };
        let Node::Name(name) = &value.node else { return None };
        let id = self.program.schema.field_named(self.program.job, name)?;
        let input = self.program.schema.field(id).input.as_ref()?;
        let given = self.figures.iter().any(|f| f.name == *name && f.value.is_ok());
        // a blank that stands for something is given too
        if input.default.is_some() || input.stock_of.is_some() || !self.program.schema.is_setting(id) {
            return Some(When::Known(given != *negated));
        }
        Some(When::Told(format!("{{{name}}}{}\"\"", if *negated { "=" } else { "<>" }), given != *negated))
    }

    /// Whether a text of the job that was read is one word, or is not.
    fn is_word(&self, a: &Expr, rest: &[(Comparison, Expr)]) -> Option<When> {
        let (Node::Name(name), [(how, Expr { node: Node::Name(word), .. })]) = (&a.node, rest) else { return None };
        let id = self.program.schema.field_named(self.program.job, name)?;
        let input = self.program.schema.field(id).input.as_ref()?;
        if !input.one_of.contains(word) {
            return None;
        }
        let figure = self.figures.iter().find(|f| f.name == *name)?;
        let Ok(Value::Text(text)) = &figure.value else { return None };
        let (sign, holds) = match how {
            Comparison::Equal => ("=", text.eq_ignore_ascii_case(word)),
            Comparison::NotEqual => ("<>", !text.eq_ignore_ascii_case(word)),
            _ => return None,
        };
        if !self.program.schema.is_setting(id) {
            return Some(When::Known(holds));
        }
        Some(When::Told(format!("{{{name}}}{sign}{}", quoted(word)?), holds))
    }

    /// `round_near(x, to: $0.01)`: a first rounding to eight places takes away what binary fractions leave behind.
    fn cents(&self, arguments: &[crate::notation::tree::Argument]) -> Option<String> {
        let [x, to] = arguments else { return None };
        let Node::Literal(Literal::Number { value, unit: Some((_, unit)) }) = &to.value.node else { return None };
        let cent = Number::from_ints(1, 100).ok()?;
        if unit.dimension != Dimension::MONEY || *value != cent {
            return None;
        }
        Some(format!("ROUND(ROUND({},8),2)", self.written(&x.value)?))
    }
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
) -> Option<&'static str> {
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
        ("cost", Some("material")) => "{lines material}",
        ("cost", Some("labor")) => "{lines labor}",
        ("cost", None) => "({lines material}+{lines labor})",
        ("hours", None | Some("labor")) => "{lines hours}",
        _ => return None,
    })
}
