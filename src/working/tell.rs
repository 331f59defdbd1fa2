//! The teller: what it looks at, what it has told already, and the answer to what was asked.

use super::ask::Asked;
use super::{InPlaceOf, Told};
use crate::bid::Worked;
use crate::engine::examples::shown_by;
use crate::engine::{Engine, Explain as _, Explainer, Fault, Inputs, Run, Steps};
use crate::pricing::{PriceBook, Priced};
use crate::problem::{Problem, Weight};
use crate::program::node::{Cause, Phase};
use crate::program::{FieldId, KindId, Program, Schema};
use crate::program::{Type, Value};
use crate::quantity::show::{Style, show};
use crate::quantity::{Dimension, Number};
use crate::source::{Place, Span, Text};
use rustc_hash::FxHashSet;
use std::sync::Arc;

/// A row of a kind.
pub(super) type RowOf = (KindId, usize);

/// How deep a telling may go at the most; a book's formulas may lean on each other in a chain as long as the book.
pub const MOST_DEPTH: usize = 200;

/// What was told once and is referred to afterwards.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) enum Seen {
    /// A field of a row.
    Field(FieldId, usize),
    /// A call of a definition or a table, with the values that it was given.
    Call(String, RowOf),
    /// A line.
    Line(u32, RowOf),
    /// What a native function does.
    Native(&'static str),
}

/// Tells how figures of one bid came about.
pub(super) struct Teller<'a> {
    pub worked: &'a Worked<'a>,
    pub program: &'a Program,
    pub steps: Steps<'a>,
    pub seen: FxHashSet<Seen>,
    /// The row asked about: only other rows are named.
    pub row: RowOf,
    /// The fault of what was asked, where it has one: its way alone is followed.
    pub follows: Option<Fault>,
}

/// What is told of something asked.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The row.
    pub row: String,
    /// Why there is no value, or why the row has no price: the first cause.
    pub stops: Vec<Problem>,
    /// How it came about.
    pub told: Told,
}

/// Tells how something that was asked came about, `depth` levels deep; nothing where the rules were compiled without
/// what that takes.
#[must_use]
pub fn answer(worked: &Worked<'_>, asked: &[Asked], depth: usize) -> Option<Vec<Answer>> {
    let steps = Steps::new(&worked.engine)?;
    let row = asked.first().map_or((worked.ready.program().job, 0), Asked::row);
    let program = worked.ready.program();
    let mut teller = Teller { worked, program, steps, seen: FxHashSet::default(), row, follows: None };
    Some(asked.iter().map(|asked| teller.answer(asked, depth.min(MOST_DEPTH))).collect())
}

impl<'a> Teller<'a> {
    pub fn schema(&self) -> &'a Schema {
        &self.program.schema
    }

    pub fn engine(&self) -> &'a Engine<'a> {
        &self.worked.engine
    }

    pub fn run(&self) -> &'a Run {
        self.worked.engine.run()
    }

    pub fn inputs(&self) -> &'a Inputs {
        &self.worked.inputs
    }

    pub fn priced(&self) -> &'a Priced {
        &self.worked.priced
    }

    pub fn book(&self) -> Option<&'a PriceBook> {
        self.worked.ready.book()
    }

    fn answer(&mut self, asked: &Asked, depth: usize) -> Answer {
        self.row = asked.row();
        self.follows = match asked {
            Asked::Field(field, (_, row)) => {
                self.fault_of(*field, *row).filter(|f| !self.is_optional_blank(*field, *f))
            }
            Asked::Check(check, (_, row)) => {
                self.schema().checks.get(*check).and_then(|check| self.fault_of(check.holds, *row))
            }
            _ => None,
        };
        let stops = match self.follows {
            Some(fault) => vec![self.cause(fault)],
            None => self.stops(asked),
        };
        // a way is followed to its end
        let depth = if self.follows.is_some() { MOST_DEPTH } else { depth };
        let told = match asked {
            Asked::Field(field, (_, row)) => self.field(*field, *row, depth),
            Asked::Check(check, (_, row)) => self.check(*check, *row, depth),
            Asked::Line(item, of) => self.line(*item, *of, depth),
            Asked::Cost((_, row)) => self.cost(*row, depth),
        };
        let told = self.with_what_is_missing(asked, told);
        Answer { row: self.row_name(asked.row()), stops, told }
    }

    /// Says of a figure of the bid that leans on lines that rows without lines are not in it.
    fn with_what_is_missing(&self, asked: &Asked, mut told: Told) -> Told {
        let Asked::Field(field, (kind, _)) = asked else { return told };
        let leans = |s: &crate::program::Segment| s.phase == Phase::Priced && s.outputs.iter().any(|(f, _)| f == field);
        let stopped = self.priced().stopped;
        if *kind == self.program.job && stopped > 0 && self.program.segments.iter().any(leans) {
            let rows = if stopped == 1 { "1 row is".to_owned() } else { format!("{stopped} rows are") };
            told.says.insert(0, format!("INCOMPLETE: {rows} stopped and not in it"));
        }
        told
    }

    /// Why the row of something asked about money has none.
    fn stops(&self, asked: &Asked) -> Vec<Problem> {
        if !matches!(asked, Asked::Line(..) | Asked::Cost(_)) {
            return Vec::new();
        }
        self.stops_of(asked.row())
    }

    /// What stops a row or one that belongs with it.
    pub fn stops_of(&self, (kind, row): RowOf) -> Vec<Problem> {
        let top = |kind: KindId, row: usize| {
            let (mut kind, mut row) = (kind, row);
            while let Some(parent) = &self.schema().kind(kind).parent {
                row = self.engine().ancestor(kind, row, parent.kind);
                kind = parent.kind;
            }
            (kind, row)
        };
        let own = top(kind, row);
        let cells: Vec<_> = self
            .inputs()
            .tables
            .iter()
            .filter(|t| t.kind == own.0 && own.1 < t.rows)
            .map(|t| t.origin.cell(own.1, None))
            .collect();
        let speaks_of = |p: &Problem| {
            p.places.iter().any(|place| {
                matches!(place, Place::Cell(c) if cells.iter().any(|o| o.file == c.file && o.sheet == c.sheet && o.row == c.row))
            })
        };
        let stops = self.priced().findings.iter().filter(|f| f.problem.weight == Weight::Stop);
        let of_row = stops.filter(|f| match f.row {
            Some((kind, row)) => top(kind, row as usize) == own,
            None => speaks_of(&f.problem),
        });
        of_row.map(|f| f.problem.clone()).collect()
    }

    /// Whether a fault is a blank cell that may be blank.
    pub fn is_optional_blank(&self, field: FieldId, fault: Fault) -> bool {
        let input = self.schema().field(field).input.as_ref();
        input.is_some_and(|i| i.may_be_blank && i.missing == fault.site)
    }

    pub fn fault_of(&self, field: FieldId, row: usize) -> Option<Fault> {
        self.run().columns[field.0 as usize].as_ref()?;
        self.run().fault(self.schema(), field, row)
    }

    /// The first cause of a fault; of a cell that could not be read, what reading said of it.
    pub fn cause(&self, fault: Fault) -> Problem {
        let site = &self.program.sites[fault.site.0 as usize];
        let problem = Explainer::new(self.engine(), self.inputs()).fault(fault);
        if let Cause::Unreadable(_) = site.cause {
            let cell = problem.places.iter().find_map(|p| if let Place::Cell(c) = p { Some(c) } else { None });
            let told = self.inputs().problems.iter().find(|told| {
                told.problem.weight == Weight::Stop
                    && told.problem.places.iter().any(|p| matches!(p, Place::Cell(c) if Some(c) == cell))
            });
            if let Some(told) = told {
                return told.problem.clone();
            }
        }
        problem
    }

    /// "room 104".
    pub fn row_name(&self, (kind, row): RowOf) -> String {
        Explainer::new(self.engine(), self.inputs()).row_name(kind, row)
    }

    /// The row, where it is not the one asked about.
    pub fn other_row(&self, of: RowOf) -> Option<String> {
        (of != self.row).then(|| self.row_name(of))
    }

    /// Puts a value into a part of a telling: its text as the sheets have it, and the whole of it where that is rounded.
    pub fn valued(&self, told: &mut Told, value: Option<Result<Value, Fault>>, ty: Type, style: &Style) {
        match value {
            Some(Ok(value)) => {
                let shown = shown_by(&value, ty, style, show);
                told.exact = match &value {
                    Value::Number(n) if shown.rounded => Some(exact_text(n, ty.dimension().unwrap_or_default(), style)),
                    _ => None,
                };
                told.value = Some(shown.text);
            }
            Some(Err(_)) => told.faulty = true,
            None => {}
        }
    }

    /// What a statement stands in place of, by the place of its name.
    pub fn instead_of(&self, text: &Arc<Text>, span: Span) -> Vec<InPlaceOf> {
        let mut out = Vec::new();
        let (mut text, mut span) = (text, span);
        while let Some(before) = self.schema().replaced.iter().find(|r| Arc::ptr_eq(&r.now.0, text) && r.now.1 == span)
        {
            (text, span) = (&before.was.0, before.was.1);
            let place = Place::Book { text: Arc::clone(text), span };
            out.push(InPlaceOf { book: before.from.clone(), place });
            if out.len() > self.schema().books.len() {
                break;
            }
        }
        out
    }
}

/// The style of a step: the unit that it was written in, as its field would have it.
pub(super) fn style_of(node: &crate::program::node::Node, metric: bool) -> Style {
    let unit = node.shown.clone().filter(|(_, u)| !matches!(u.dimension, Dimension::LENGTH | Dimension::MONEY));
    let unit = unit.filter(|(_, u)| u.dimension != Dimension::NONE);
    Style { unit, percent: node.ty == Type::PERCENT, metric, ..Style::default() }
}

/// A whole value where its text is a rounded one: decimals as far as they go, or a quotient, in the unit of the text.
fn exact_text(n: &Number, dimension: Dimension, style: &Style) -> String {
    let (name, unit) = style.unit.clone().unwrap_or_else(|| crate::quantity::show::usual_unit(dimension, style.metric));
    let Ok(value) = n.scaled(unit.factor.recip()) else { return show(n, dimension, style).text };
    let digits = match value.exact_decimal() {
        Some(decimal) => decimal.normalize().to_string(),
        None => {
            let (above, below) = value.parts();
            format!("{}/{}", above.normalize(), below.normalize())
        }
    };
    match name.strip_prefix('$') {
        Some(per) => format!("${digits}{per}"),
        None => format!("{digits} {name}").trim_end().to_owned(),
    }
}
