//! `hardlid price ROOMS.xlsx`

use super::{Ended, books, failed, out};
use crate::engine::column::Holds;
use crate::engine::{Column, ColumnBuilder, Engine, Explainer, Inputs};
use crate::pricing::{JobFigure, Line, PriceBook, Priced, late_checks, order_list, price_job, price_lines};
use crate::problem::render::for_programs;
use crate::problem::{Problem, Weight};
use crate::program::{LineKind, Program, Type, Value};
use crate::quantity::{Date, Decimal};
use crate::source::texts::Texts;
use crate::system::{INPUT_LIMIT, Outside};
use crate::workbook::grid::Grid;
use crate::workbook::open::{Book, open};
use crate::workbook::prices::read_price_book;
use crate::workbook::rows::read_rooms_and_job;
use crate::workbook::write;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use serde_json::json;
use std::path::{Path, PathBuf};
use std::time::Duration;

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid price rooms.xlsx --prices yard.xlsx\n  hardlid price rooms.xlsx --rules house.lid --prices yard.xlsx --as-of 2026-11-01\n\n\
                        Without --rules the built-in ceilings book serves. Without --prices the takeoff is worked out and costs stay blank.\n\
                        Exit 0: priced; 1: priced, with rows stopped; 2: could not run.\n\n\
                        An estimating aid. Span and load checks are no engineering: the manufacturer's tested tables, local codes and licensed practice govern."
)]
pub struct Arguments {
    /// The rooms workbook (.xlsx, .xlsm, .xlsb, .xls, .ods or .csv).
    rooms: PathBuf,
    /// The rule book.
    #[arg(long, value_name = "BOOK.lid")]
    rules: Option<PathBuf>,
    /// The price book.
    #[arg(long, value_name = "BOOK.xlsx")]
    prices: Option<PathBuf>,
    /// The pricing date, year-month-day; today when left out.
    #[arg(long, value_name = "DATE")]
    as_of: Option<String>,
    /// Where the priced workbook goes; ROOMS.priced.xlsx beside the rooms workbook when left out.
    #[arg(short, long, value_name = "FILE.xlsx")]
    output: Option<PathBuf>,
    /// Replace the output even where hardlid did not write it.
    #[arg(long)]
    replace: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

/// Everything that a finished pricing is made of.
struct Job<'a> {
    engine: &'a Engine<'a>,
    inputs: &'a Inputs,
    priced: &'a Priced,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let progress = Progress::start(arguments.json);
    let result = price(arguments, outside, &progress);
    progress.end();
    match result {
        Ok(ended) => ended,
        Err(problems) => failed(&problems, arguments.json),
    }
}

fn price(arguments: &Arguments, outside: &dyn Outside, progress: &Progress) -> Result<Ended, Vec<Problem>> {
    let as_of = date(arguments.as_of.as_deref(), outside).map_err(|p| vec![p])?;
    let target = target(arguments, outside).map_err(|p| vec![p])?;
    progress.step("reading rules");
    let (program, mut told) = books::program(arguments.rules.as_deref(), "hardlid ceilings", None, outside)?;
    progress.step("reading rooms");
    let rooms_bytes = outside.read(&arguments.rooms, INPUT_LIMIT).map_err(|p| vec![p])?;
    let input_digest = books::digest(&rooms_bytes);
    let mut rooms = open(&file_name(&arguments.rooms), rooms_bytes).map_err(|p| vec![p])?;
    let mut prices = match &arguments.prices {
        Some(path) => Some(read_prices(path, as_of, outside, &mut told)?),
        None => None,
    };
    let second = prices.as_mut().map(|p| &mut p.workbook);
    let mut inputs = read_rooms_and_job(&mut rooms, second, &program.schema, program.texts.clone())?;
    drop(rooms);
    progress.step("working out");
    let mut engine = Engine::start(&program, &mut inputs);
    engine.before_pricing();
    let book = prices.as_ref().map(|p| &p.book);
    let mut priced = {
        let explainer = Explainer::new(&engine, &inputs);
        let mut priced = price_lines(&program.schema, engine.run(), &inputs, book, &explainer);
        let late = late_checks(&program.schema, engine.run());
        // the job's own lines first, so that its sums hold them; its figures once the lines are columns
        price_job(&program.schema, engine.run(), &inputs, book, &explainer, &late, &mut priced);
        priced
    };
    let columns = line_columns(&program, &engine.run().texts, &priced.lines);
    engine.after_pricing(priced.lines.len(), columns);
    priced.order = order_list(&program.schema, engine.run(), &priced, book);
    let explainer = Explainer::new(&engine, &inputs);
    figures(&program, &engine, &explainer, &mut priced);
    progress.step("writing");
    let job = Job { engine: &engine, inputs: &inputs, priced: &priced };
    let bytes = written(arguments, &job, as_of, prices.as_ref(), &input_digest)?;
    outside.write_whole(&target, &bytes).map_err(|p| vec![p])?;
    progress.end();
    report(arguments, &job, &target, &told);
    Ok(if priced.stopped > 0 { Ended::WithStops } else { Ended::Done })
}

fn date(text: Option<&str>, outside: &dyn Outside) -> Result<Date, Problem> {
    let Some(text) = text else { return Ok(outside.today()) };
    text.parse().map_err(|_| {
        Problem::stop("no such date", format!("There is no day '{text}'.")).fix("--as-of 2026-11-25, year-month-day")
    })
}

fn file_name(path: &Path) -> String {
    path.file_name().map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned())
}

/// Where the priced workbook goes, if it may go there.
fn target(arguments: &Arguments, outside: &dyn Outside) -> Result<PathBuf, Problem> {
    let target = arguments.output.clone().unwrap_or_else(|| arguments.rooms.with_extension("priced.xlsx"));
    let shown = target.display().to_string();
    if target == arguments.rooms
        || arguments.prices.as_ref() == Some(&target)
        || arguments.rules.as_ref() == Some(&target)
    {
        let what = format!("{shown} is read in this run; it is not written over.");
        return Err(Problem::stop("would be overwritten", what).in_file(shown.as_str()).fix("another file with -o"));
    }
    if !outside.exists(&target) || arguments.replace {
        return Ok(target);
    }
    let bytes = outside.read(&target, INPUT_LIMIT)?;
    if write::written_by_us(&bytes) {
        return Ok(target);
    }
    let what = format!("{shown} is there already, and hardlid did not write it.");
    Err(Problem::stop("would be overwritten", what)
        .in_file(shown.as_str())
        .fix("another file with -o, or --replace to replace it"))
}

/// A price book and the workbook that it was read from, whose Job sheet serves the job.
struct Prices {
    book: PriceBook,
    workbook: Book,
    name: String,
    digest: String,
}

fn read_prices(
    path: &Path,
    as_of: Date,
    outside: &dyn Outside,
    told: &mut Vec<Problem>,
) -> Result<Prices, Vec<Problem>> {
    let bytes = outside.read(path, INPUT_LIMIT).map_err(|p| vec![p])?;
    let (name, digest) = (file_name(path), books::digest(&bytes));
    let mut workbook = open(&name, bytes).map_err(|p| vec![p])?;
    let sheets: Vec<_> = workbook.sheet_names().to_vec();
    let grids: Vec<Grid> = sheets.iter().map(|s| workbook.grid(s)).collect::<Result<_, _>>().map_err(|p| vec![p])?;
    let (book, problems) = read_price_book(&grids, as_of);
    if problems.iter().any(|p| p.weight == Weight::Stop) {
        return Err(problems);
    }
    told.extend(problems);
    Ok(Prices { book, workbook, name, digest })
}

/// Lines as columns of the kind `lines`: kind, code, item, cost, hours.
fn line_columns(program: &Program, texts: &Texts, lines: &[Line]) -> Vec<Column> {
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
    use crate::engine::Explain as _;
    use crate::engine::examples::value_at;
    let schema = &program.schema;
    for id in schema.kind(program.job).fields.clone() {
        let field = schema.field(id);
        if field.hidden || engine.run().columns[id.0 as usize].is_none() {
            continue;
        }
        let value = value_at(engine, id, 0).map_err(|fault| explainer.fault(fault).what);
        // a setting that nobody gave is no figure of the bid
        if field.input.is_some() && value.is_err() {
            continue;
        }
        priced.job.push(JobFigure { field: id, name: field.name.clone(), label: field.label.clone(), value });
    }
    let is_money = |f: &JobFigure| schema.field(f.field).ty == Type::of(crate::quantity::Dimension::MONEY);
    let total = priced.job.iter().find(|f| f.name == "total" && is_money(f));
    priced.total = if priced.stopped > 0 || !priced.has_prices {
        None
    } else {
        match total.map(|f| &f.value) {
            Some(Ok(Value::Number(n))) => n.cents().ok(),
            Some(_) => None,
            None => Some(priced.material + priced.labor),
        }
    };
}

fn written(
    arguments: &Arguments,
    job: &Job<'_>,
    as_of: Date,
    prices: Option<&Prices>,
    input_digest: &str,
) -> Result<Vec<u8>, Vec<Problem>> {
    let program = job.engine.program();
    let explainer = Explainer::new(job.engine, job.inputs);
    let title = file_name(&arguments.rooms);
    let live = crate::workbook::live::job_formulas(program, &job.priced.job);
    let document = write::Document {
        schema: &program.schema,
        run: job.engine.run(),
        inputs: job.inputs,
        explain: &explainer,
        priced: job.priced,
        title: &title,
        as_of,
        prices_file: prices.map(|p| write::PricesFile { name: &p.name, digest: &p.digest }),
        input_digest,
        tool_version: env!("CARGO_PKG_VERSION"),
        job_live: &live,
        limits: write::Limits::default(),
    };
    write::priced(&document).map_err(|p| vec![p])
}

fn report(arguments: &Arguments, job: &Job<'_>, target: &Path, told: &[Problem]) {
    let priced = job.priced;
    let stops = priced.findings.iter().filter(|f| f.problem.weight == Weight::Stop).count();
    let warnings = priced.findings.iter().filter(|f| f.problem.weight == Weight::Warning).count();
    if arguments.json {
        let findings: Vec<_> = priced
            .findings
            .iter()
            .map(|f| {
                let mut value = for_programs(&f.problem);
                value["name"] = json!(f.name);
                value["row"] = json!(f.row_name.as_deref());
                value
            })
            .collect();
        let figures: Vec<_> = priced
            .job
            .iter()
            .map(|f| {
                let field = job.engine.program().schema.field(f.field);
                let text = f.value.as_ref().map(|v| crate::engine::examples::value_text(v, field.ty, &field.style));
                json!({ "name": f.name, "label": f.label, "value": text.as_ref().ok(), "missing": f.value.as_ref().err() })
            })
            .collect();
        out::value(&json!({
            "output": target.display().to_string(),
            "rooms": priced.rooms.len(),
            "lines": priced.lines.len(),
            "stopped": priced.stopped,
            "total": priced.total.map(|c| Decimal::new(c, 2).to_string()),
            "material": Decimal::new(priced.material, 2).to_string(),
            "labor": Decimal::new(priced.labor, 2).to_string(),
            "figures": figures,
            "findings": findings,
            "problems": told.iter().map(for_programs).collect::<Vec<_>>(),
        }));
        return;
    }
    out::problems(told, false);
    let serious: Vec<Problem> =
        priced.findings.iter().filter(|f| f.problem.weight == Weight::Stop).map(|f| f.problem.clone()).collect();
    out::problems(&serious[..serious.len().min(10)], false);
    if serious.len() > 10 {
        out::line(&format!("… and {} more on the sheet Checks.", serious.len() - 10));
    }
    let rooms = out::counted(priced.rooms.len(), "room", "rooms");
    let lines = out::counted(priced.lines.len(), "line", "lines");
    out::line(&format!("{rooms}, {lines}: {}", target.display()));
    match priced.total {
        Some(cents) => out::line(&format!("Total {}", dollars(cents))),
        None if priced.stopped > 0 => {
            let stopped = out::counted(priced.stopped, "row is stopped", "rows are stopped");
            out::line(&format!("INCOMPLETE: {stopped}; the rest is priced. See the sheet Checks."));
        }
        None => {
            out::line("No price book was given: quantities are worked out, costs are blank. Give one with --prices.")
        }
    }
    if warnings > 0 || stops > 0 {
        let w = out::counted(warnings, "warning", "warnings");
        out::line(&format!("{}, {w} on the sheet Checks.", out::counted(stops, "stop", "stops")));
    }
}

fn dollars(cents: i64) -> String {
    let money = crate::quantity::Number::from(Decimal::new(cents, 2));
    crate::quantity::show::show(&money, crate::quantity::Dimension::MONEY, &crate::quantity::show::Style::default())
        .text
}

/// A progress line that appears when the work takes longer than a second.
struct Progress {
    bar: Option<ProgressBar>,
}

impl Progress {
    fn start(quiet: bool) -> Self {
        if quiet {
            return Self { bar: None };
        }
        let bar = ProgressBar::with_draw_target(Some(5), ProgressDrawTarget::hidden());
        let style =
            ProgressStyle::with_template("{bar:24} {msg} {elapsed}").unwrap_or_else(|_| ProgressStyle::default_bar());
        bar.set_style(style);
        let waiting = bar.clone();
        std::thread::spawn(move || {
            std::thread::sleep(Duration::from_secs(1));
            if !waiting.is_finished() {
                waiting.set_draw_target(ProgressDrawTarget::stderr());
                waiting.enable_steady_tick(Duration::from_millis(200));
            }
        });
        Self { bar: Some(bar) }
    }

    fn step(&self, what: &'static str) {
        if let Some(bar) = &self.bar {
            bar.set_message(what);
            bar.inc(1);
        }
    }

    fn end(&self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }
}
