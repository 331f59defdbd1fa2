//! A whole job: rows worked out, lines priced, and the job's own figures on top of them.

use super::book::PriceBook;
use super::breaks::at_breaks;
use super::buying::BuyRule;
use super::divide::{Division, part_of, share_out, sums, under_alternate};
use super::lines::{add_up, late_checks, price_job, price_lines};
use super::options::{compare_options, none_passes};
use super::order::order_and_cuts;
use super::own::{OwnEntry, carry_over};
use super::priced::{Compared, Figures, Finding, JobFigure, Line, Priced, RowResult};
use super::used::add_bought;
use super::whole::{add_line, settle_line};
use crate::engine::column::Holds;
use crate::engine::examples::value_at;
use crate::engine::{Column, ColumnBuilder, Engine, Explain as _, Explainer, Inputs, Run};
use crate::problem::Problem;
use crate::program::{LineKind, Program, Type, Value};
use crate::quantity::{Decimal, Dimension, Number, NumberError};
use crate::source::texts::Texts;

/// Prices the rows that were read: lines, order list, the job's figures and the total.
///
/// Without a price book the takeoff is worked out and costs stay blank. `own` are an estimator's figures from an
/// earlier priced workbook of the same job.
#[must_use]
pub fn price_rows<'p>(
    program: &'p Program,
    inputs: &mut Inputs,
    book: Option<&PriceBook>,
    own: &[OwnEntry],
) -> (Engine<'p>, Priced) {
    Lined::new(program, inputs, book, own).priced(inputs, book, own)
}

/// Rows worked out and their lines priced, before anything is ordered and cut.
#[derive(Debug)]
pub struct Lined<'p> {
    engine: Engine<'p>,
    priced: Priced,
    compared: Vec<Compared>,
    /// The item that takes what is bought beyond what is used, where the bid charges what is bought.
    whole: Option<u32>,
}

impl<'p> Lined<'p> {
    /// Works the rows out; the arguments are those of [`price_rows`].
    #[must_use]
    pub fn new(program: &'p Program, inputs: &mut Inputs, book: Option<&PriceBook>, own: &[OwnEntry]) -> Self {
        let mut engine = Engine::start(program, inputs);
        engine.rows_alone();
        let compared = compare_options(&mut engine, inputs, book);
        let whole = BuyRule::of(&program.schema, engine.run()).charges_bought.filter(|_| book.is_some());
        let explainer = Explainer::new(&engine, inputs);
        let mut priced = price_lines(&program.schema, engine.run(), inputs, book, &explainer);
        none_passes(&engine, inputs, &compared, &mut priced);
        let late = late_checks(&program.schema, engine.run());
        // the job's own lines first, so that its sums hold them; its figures once the lines are columns
        price_job(&program.schema, engine.run(), inputs, book, &explainer, &late, &mut priced);
        if let Some(item) = whole {
            add_line(&program.schema, &mut priced, item);
        }
        carry_over(&program.schema, engine.run(), inputs, &mut priced, own);
        let division = Division::of(&program.schema, engine.run(), &mut priced.findings);
        division.mark(&mut priced);
        Self { engine, priced, compared, whole }
    }

    /// The columns worked out so far.
    #[must_use]
    pub fn run(&self) -> &Run {
        self.engine.run()
    }

    /// What became of each room.
    #[must_use]
    pub fn rooms(&self) -> &[RowResult] {
        &self.priced.rooms
    }

    /// Orders and cuts what the lines need, and works out the job's figures; the arguments are those of [`Lined::new`].
    #[must_use]
    pub fn priced(self, inputs: &Inputs, book: Option<&PriceBook>, own: &[OwnEntry]) -> (Engine<'p>, Priced) {
        let Self { mut engine, mut priced, compared, whole } = self;
        let program = engine.program();
        let at_break = match book.map(|book| at_breaks(&program.schema, engine.run(), &mut priced, book)) {
            Some(Ok(at_break)) => at_break,
            Some(Err(_)) => {
                too_large(&mut priced, "The costs at the breaks of quantity are too large to work with.");
                None
            }
            None => None,
        };
        let book = at_break.as_ref().or(book);
        (priced.order, priced.cuts) = order_and_cuts(&program.schema, engine.run(), &priced, book);
        scraps_without_screws(&mut priced);
        if let Some(book) = book {
            add_bought(&mut priced, book);
        }
        if whole.is_some_and(|item| settle_line(&mut priced, item).is_err()) {
            too_large(&mut priced, "What is bought comes to more than can be worked with.");
        }
        let changed = !own.is_empty() || at_break.is_some() || whole.is_some() || !priced.alternates.is_empty();
        if changed && add_up(&mut priced).is_err() {
            too_large(&mut priced, "The sum of the lines is too large to work with.");
        }
        let in_bid: Vec<&Line> = priced.lines.iter().filter(|l| !l.apart).collect();
        worked_out(program, &mut engine, &in_bid);
        let explainer = Explainer::new(&engine, inputs);
        figures(program, &engine, &explainer, &mut priced);
        if divided(program, &mut engine, &mut priced).is_err() {
            too_large(&mut priced, "The parts of the bid come to more than can be worked with.");
        }
        priced.compared = compared;
        (engine, priced)
    }
}

/// Says of splices that only the cutting plan makes that nobody counted what joins them: a layout that knows the stock
/// splices for itself, and its splices are bought with their screws.
fn scraps_without_screws(priced: &mut Priced) {
    let mut joints: Vec<(&str, i64)> = Vec::new();
    for list in priced.cuts.iter().filter(|list| list.scraps > 0) {
        match joints.iter_mut().find(|(code, _)| *code == &*list.code) {
            Some((_, sum)) => *sum = sum.saturating_add(list.scraps),
            None => joints.push((&list.code, list.scraps)),
        }
    }
    let told: Vec<Finding> = joints
        .into_iter()
        .map(|(code, joints)| {
            let what = format!(
                "The cutting plan joins pieces of {code} that are longer than stock, with a scrap over each of {joints} \
                 {}; the screws and the work of that are in no line.",
                if joints == 1 { "joint" } else { "joints" }
            );
            let problem = Problem::warning("splices without screws", what)
                .fix("the stock length on the Job sheet, no longer than the price book's, so that the layout splices");
            Finding { problem, name: "splices without screws".to_owned(), row: None, row_name: None }
        })
        .collect();
    priced.findings.extend(told);
}

fn too_large(priced: &mut Priced, what: &str) {
    let problem = Problem::stop("number too large", what);
    priced.findings.push(Finding { problem, name: "number too large".to_owned(), row: None, row_name: None });
}

/// Works the job's figures out from some lines.
fn worked_out(program: &Program, engine: &mut Engine<'_>, lines: &[&Line]) {
    let columns = line_columns(program, &engine.run().texts, lines);
    engine.after_pricing(lines.len(), columns);
}

/// What parts and alternates come to; the job's figures are those of the whole bid again when it ends.
fn divided(program: &Program, engine: &mut Engine<'_>, priced: &mut Priced) -> Result<(), NumberError> {
    if priced.parts.is_empty() && priced.alternates.is_empty() {
        return Ok(());
    }
    let mut parts: Vec<Vec<&Line>> = vec![Vec::new(); priced.parts.len()];
    for line in priced.lines.iter().filter(|l| !l.apart) {
        if let Some(part) = part_of(priced, line).and_then(|at| parts.get_mut(at as usize)) {
            part.push(line);
        }
    }
    let without = of_lines(program, engine, priced, &[])?;
    let parts = parts.iter().map(|lines| of_lines(program, engine, priced, lines)).collect::<Result<Vec<_>, _>>()?;
    let alternates = (0..priced.alternates.len())
        .map(|at| of_lines(program, engine, priced, &under_alternate(priced, at)))
        .collect::<Result<Vec<_>, _>>()?;
    let in_bid: Vec<&Line> = priced.lines.iter().filter(|l| !l.apart).collect();
    worked_out(program, engine, &in_bid);
    // the total of an incomplete bid is not told, but its parts are shares of what is there
    let total = match priced.total {
        Some(total) => total,
        None => of_lines(program, engine, priced, &in_bid)?.total,
    };
    let weights: Vec<i64> = parts.iter().map(|f| f.total.saturating_sub(without.total)).collect();
    let shares = share_out(total, &weights)?;
    for ((part, figures), price) in priced.parts.iter_mut().zip(parts).zip(shares) {
        (part.figures, part.price) = (figures, price);
    }
    for (alternate, figures) in priced.alternates.iter_mut().zip(alternates) {
        alternate.price = figures.total.checked_sub(total).ok_or(NumberError::TooLarge)?;
        alternate.figures = figures;
    }
    priced.without_lines = Some(without);
    Ok(())
}

/// What some lines come to by the job's rules.
fn of_lines(
    program: &Program,
    engine: &mut Engine<'_>,
    priced: &Priced,
    lines: &[&Line],
) -> Result<Figures, NumberError> {
    worked_out(program, engine, lines);
    let (material, labor, hours) = sums(lines.iter().copied())?;
    let number = |f: &JobFigure| match value_at(engine, f.field, 0) {
        Ok(Value::Number(n)) => Some(n),
        _ => None,
    };
    let job: Vec<Option<Number>> = priced.job.iter().map(number).collect();
    let total = priced.job.iter().position(|f| f.name == "total" && is_money(program, f));
    let total = match total.and_then(|at| job.get(at).copied().flatten()) {
        Some(total) => total.cents()?,
        None => material.checked_add(labor).ok_or(NumberError::TooLarge)?,
    };
    Ok(Figures { material, labor, hours, job, total })
}

fn is_money(program: &Program, figure: &JobFigure) -> bool {
    program.schema.field(figure.field).ty == Type::of(Dimension::MONEY)
}

/// Lines as columns of the kind `lines`: kind, code, item, cost, hours.
fn line_columns(program: &Program, texts: &Texts, lines: &[&Line]) -> Vec<Column> {
    let site = |name: &str| {
        let field = program.schema.field_named(program.lines, name).map(|f| program.schema.field(f));
        field.and_then(|f| f.input.as_ref()).map(|i| i.missing)
    };
    let number = |text: &str| texts.find(text).unwrap_or(0);
    let kinds = [number("material"), number("labor")];
    let names: Vec<u32> = program.schema.items.iter().map(|i| number(&i.name)).collect();
    let mut kind = ColumnBuilder::new(Holds::Texts);
    let mut code = ColumnBuilder::new(Holds::Texts);
    let mut item = ColumnBuilder::new(Holds::Texts);
    let mut cost = ColumnBuilder::new(Holds::Numbers);
    let mut hours = ColumnBuilder::new(Holds::Numbers);
    let (no_cost, no_hours) = (site("cost"), site("hours"));
    for line in lines {
        kind.push_text(kinds[usize::from(line.kind == LineKind::Labor)]);
        code.push_text(number(&line.code));
        item.push_text(names.get(line.item as usize).copied().unwrap_or(0));
        match (line.cost, no_cost) {
            (Some(cents), _) => cost.push_number(Decimal::new(cents, 2)),
            (None, Some(site)) => cost.push_fault(site),
            (None, None) => cost.push_number(Decimal::ZERO),
        }
        match (line.hours, no_hours) {
            // material takes no hours: that is zero, not missing
            (Some(h), _) => hours.push_number(h.to_decimal()),
            _ => hours.push_number(Decimal::ZERO),
        }
    }
    [kind, code, item, cost, hours].into_iter().map(ColumnBuilder::finish).collect()
}

/// The job's figures in the order that the books state them, and the total.
fn figures(program: &Program, engine: &Engine<'_>, explainer: &Explainer<'_>, priced: &mut Priced) {
    let schema = &program.schema;
    for id in schema.kind(program.job).fields.clone() {
        let field = schema.field(id);
        if field.hidden || engine.run().columns[id.0 as usize].is_none() {
            continue;
        }
        // without a price book every figure in money is blank, and the Bid says so once
        let words = |fault| if priced.has_prices { explainer.fault(fault).what } else { String::new() };
        let value = value_at(engine, id, 0).map_err(words);
        // a setting that nobody gave is no figure of the bid
        if field.input.is_some() && value.is_err() {
            continue;
        }
        priced.job.push(JobFigure { field: id, name: field.name.clone(), label: field.label.clone(), value });
    }
    let is_money = |f: &JobFigure| schema.field(f.field).ty == Type::of(Dimension::MONEY);
    let total = priced.job.iter().find(|f| f.name == "total" && is_money(f));
    let built_on: Vec<&str> = priced
        .job
        .iter()
        .filter(|f| is_money(f) && !matches!(f.name.as_str(), "material" | "labor"))
        .map(|f| f.label.as_str())
        .collect();
    if total.is_none() && !built_on.is_empty() {
        let what = format!(
            "The rules work out {} but no total: the total of this bid is material and labor alone.",
            built_on.join(", ")
        );
        let problem = Problem::warning("no total", what).fix("a formula named total in 'for job'");
        priced.findings.push(Finding { problem, name: "total".to_owned(), row: None, row_name: None });
    }
    priced.total = if priced.stopped > 0 || !priced.has_prices {
        None
    } else {
        match total.map(|f| &f.value) {
            Some(Ok(Value::Number(n))) => n.cents().ok().or_else(|| {
                let problem = Problem::stop("number too large", "The total is too large to be worked with.");
                priced.findings.push(Finding { problem, name: "total".to_owned(), row: None, row_name: None });
                None
            }),
            Some(_) => None,
            None => Some(priced.material + priced.labor),
        }
    };
}
