//! Examples of a book, run as tests; and one expression worked out alone.

use super::explain::Explainer;
use super::input::{InputTable, Inputs};
use super::misses::{Rounded, as_one, near, rounded, working};
use super::result::Explain as _;
use super::run::{Engine, table_of_values};
use crate::problem::Problem;
use crate::program::{ExampleProgram, FieldId, Program, Shows, Type, Value};
use crate::quantity::show::{Shown, Style, show};
use crate::quantity::{Date, Dimension, Number};
use crate::source::texts::fold;

/// Rows of an example by kind.
fn tables(
    program: &Program,
    example: &ExampleProgram,
    texts: &mut crate::source::texts::Texts,
) -> Result<Vec<InputTable>, Problem> {
    let mut by_kind: Vec<Vec<Vec<(FieldId, Value)>>> = vec![Vec::new(); program.schema.kinds.len()];
    let mut parents: Vec<Vec<u32>> = vec![Vec::new(); program.schema.kinds.len()];
    for (kind, values) in &example.rows {
        let k = kind.0 as usize;
        if let Some(parent) = &program.schema.kind(*kind).parent {
            let above = by_kind[parent.kind.0 as usize].len();
            if above == 0 {
                let what = format!(
                    "In the example \"{}\" a row of {} stands before the row that it belongs to.",
                    example.name,
                    program.schema.kind(*kind).name
                );
                let fix = format!("a row of {} above it", program.schema.kind(parent.kind).name);
                return Err(Problem::stop("row without its parent", what)
                    .in_book(&example.text, example.span)
                    .fix(fix));
            }
            parents[k].push(u32::try_from(above - 1).unwrap_or(0));
        }
        by_kind[k].push(values.clone());
    }
    let mut out = Vec::new();
    for kind in program.schema.kind_ids().filter(|k| *k != program.lines) {
        let k = kind.0 as usize;
        let mut rows = std::mem::take(&mut by_kind[k]);
        if program.schema.kind(kind).single && rows.is_empty() {
            rows.push(Vec::new());
        }
        out.push(table_of_values(program, kind, &rows, std::mem::take(&mut parents[k]), texts));
    }
    Ok(out)
}

/// The examples of the book itself. Those of lower books hold for their own rules, which this book may replace.
pub fn own_examples(program: &Program) -> impl Iterator<Item = &ExampleProgram> {
    let own = program.books.last().map(|b| &b.text);
    program.examples.iter().filter(move |e| own.is_some_and(|text| std::sync::Arc::ptr_eq(text, &e.text)))
}

/// How many steps the examples of a book may work out together.
const MOST_STEPS: usize = 20_000_000;

/// Runs every example of the book; what fails is a problem each.
#[must_use]
pub fn run_examples(program: &Program) -> Vec<Problem> {
    run_examples_and(program, |_, _| {})
}

/// As [`run_examples`], with a look at the run of each example before the next.
pub fn run_examples_and(program: &Program, mut look: impl FnMut(&ExampleProgram, &Engine<'_>)) -> Vec<Problem> {
    let ways = program.schema.options.as_ref().map_or(1, |o| o.choices.len().max(1));
    let steps: usize = program.segments.iter().map(|s| s.steps.len()).sum::<usize>().max(1) * ways;
    let mut out = Vec::new();
    for (example, before) in own_examples(program).zip(0usize..) {
        if before > 0 && steps.saturating_mul(before) > MOST_STEPS {
            let what = format!(
                "The example \"{}\" and those after it are not run: the examples of this book work out too much.",
                example.name
            );
            let fix = "fewer examples, or some of the rules in a book of their own";
            out.push(Problem::stop("example not run", what).in_book(&example.text, example.span).fix(fix));
            break;
        }
        out.extend(run_one(program, example, &mut look));
    }
    out
}

fn run_one(
    program: &Program,
    example: &ExampleProgram,
    look: &mut impl FnMut(&ExampleProgram, &Engine<'_>),
) -> Vec<Problem> {
    let mut texts = program.texts.clone();
    let tables = match tables(program, example, &mut texts) {
        Ok(t) => t,
        Err(problem) => return vec![problem],
    };
    let mut inputs = Inputs { tables, texts: texts.into(), problems: Vec::new() };
    let mut engine = Engine::start(program, &mut inputs);
    engine.before_pricing();
    look(example, &engine);
    let explainer = Explainer::new(&engine, &inputs);
    example.shows.iter().filter_map(|shows| shown(program, example, shows, &engine, &explainer)).collect()
}

fn shown(
    program: &Program,
    example: &ExampleProgram,
    shows: &Shows,
    engine: &Engine<'_>,
    explainer: &Explainer<'_>,
) -> Option<Problem> {
    let field = program.schema.field(shows.field);
    let style = &field.style;
    let wanted = value_text(&shows.expected, field.ty, style);
    if engine.run().columns[shows.field.0 as usize].is_none() {
        let what = format!(
            "In the example \"{}\", {} depends on priced lines, which an example has not.",
            example.name, shows.label
        );
        return Some(
            Problem::stop("example not run", what)
                .in_book(&example.text, shows.span)
                .fix("a figure that is worked out before pricing"),
        );
    }
    match value_at(engine, shows.field, 0) {
        Ok(got) if same(&got, &shows.expected) => None,
        Ok(got) => {
            let (name, label) = (&example.name, &shows.label);
            let text = value_text(&got, field.ty, style);
            let rounded = rounded(&got, field.ty, style);
            let how = match &rounded {
                Some(rounded) if text == wanted => format!("but it is {}, which only prints as {text}", rounded.exact),
                _ => match near(&shows.expected, &got, field.ty) {
                    Some(by) => format!("but it is {text}, {by}"),
                    None => format!("but it is {text}"),
                },
            };
            let right = match &rounded {
                Some(Rounded { step, in_steps, .. }) => format!("round_near({label}, to: {step}) = {in_steps}"),
                None => format!("{} = {text}", as_one(label)),
            };
            let fix = format!("{right}, if the rule is right");
            let what = format!("The example \"{name}\" expects {label} = {wanted}, {how}.");
            let mut problem = Problem::stop("example fails", what).in_book(&example.text, shows.span).fix(fix);
            problem.working = working(program, engine, field.kind, label);
            Some(problem)
        }
        Err(fault) => {
            let cause = explainer.fault(fault).what;
            let what = format!(
                "The example \"{}\" expects {} = {wanted}, but it has no value. {cause}",
                example.name, shows.label
            );
            let mut problem = Problem::stop("example fails", what).in_book(&example.text, shows.span);
            problem.working = working(program, engine, field.kind, &shows.label);
            Some(problem)
        }
    }
}

/// The value of a field in a row, in base units.
///
/// # Errors
/// The fault that stands there.
pub fn value_at(engine: &Engine<'_>, field: FieldId, row: usize) -> Result<Value, super::Fault> {
    let (run, schema) = (engine.run(), &engine.program().schema);
    Ok(match schema.field(field).ty {
        Type::Text => Value::Text(std::sync::Arc::clone(run.text(field, row)?)),
        Type::YesNo => Value::YesNo(run.yes_no(field, row)?),
        Type::Date => Value::Date(date_of(&run.number(schema, field, row)?)),
        Type::Number { .. } => Value::Number(run.number(schema, field, row)?),
        Type::Thing(_) => Value::Text(run.thing(field, row)?.to_string().into()),
    })
}

/// The day of a count of days since 1970-01-01.
#[must_use]
pub fn date_of(days: &Number) -> Date {
    let days = i64::try_from(days.to_decimal()).unwrap_or(0);
    let epoch = Date::constant(1970, 1, 1);
    jiff::Span::new().try_days(days).ok().and_then(|s| epoch.checked_add(s).ok()).unwrap_or(epoch)
}

fn same(got: &Value, wanted: &Value) -> bool {
    match (got, wanted) {
        (Value::Text(a), Value::Text(b)) => fold(a) == fold(b),
        (a, b) => a == b,
    }
}

/// A value as a person reads it.
#[must_use]
pub fn value_text(value: &Value, ty: Type, style: &Style) -> String {
    shown_by(value, ty, style, show).text
}

/// A value as people read it, a number by `number`: as sheets show it, or as it is spoken of.
#[must_use]
pub fn shown_by(value: &Value, ty: Type, style: &Style, number: fn(&Number, Dimension, &Style) -> Shown) -> Shown {
    let plain = |text: String| Shown { text, rounded: false };
    match value {
        Value::Number(n) => number(n, ty.dimension().unwrap_or_default(), style),
        Value::Text(t) => plain(t.to_string()),
        Value::YesNo(v) => plain(if *v { "yes" } else { "no" }.to_owned()),
        Value::Date(d) => plain(d.to_string()),
    }
}

/// Works out the expression that a program was compiled with.
///
/// # Errors
/// Why it has no value.
pub fn work_out(program: &Program) -> Result<(Value, Type, Style), Problem> {
    let Some(field) = program.asked else {
        return Err(Problem::stop("statement not understood", "There is nothing to work out."));
    };
    let mut inputs = Inputs { tables: Vec::new(), texts: program.texts.clone().into(), problems: Vec::new() };
    let mut engine = Engine::start(program, &mut inputs);
    engine.before_pricing();
    if engine.run().columns[field.0 as usize].is_none() {
        return Err(Problem::stop(
            "depends on its own price",
            "This depends on the lines of a priced job; there is none here.",
        ));
    }
    let f = program.schema.field(field);
    match value_at(&engine, field, 0) {
        Ok(value) => Ok((value, f.ty, f.style.clone())),
        Err(fault) => Err(Explainer::new(&engine, &inputs).fault(fault)),
    }
}
