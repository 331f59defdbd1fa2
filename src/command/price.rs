//! `hardlid price ROOMS.xlsx`

use super::progress::Progress;
use super::{Ended, books, failed, out, schemes};
use crate::bid::{Ready, Rules, Worked, compiled};
use crate::drawing::{PlanOf, is_our_plan, plans_to_files};
use crate::engine::Inputs;
use crate::pricing::own::LINE_GONE;
use crate::pricing::{OwnEntry, Priced};
use crate::problem::render::for_programs;
use crate::problem::{Problem, Weight};
use crate::quantity::Decimal;
use crate::reprice::{Last, Since, latest_beside};
use crate::system::{INPUT_LIMIT, Outside};
use crate::workbook::carried::{MOST_CARRIED, Rooms, carried_in};
use crate::workbook::hand::own_entries;
use crate::workbook::open::open;
use crate::workbook::write;
use serde_json::json;
use std::path::{Path, PathBuf};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hardlid price rooms.xlsx --prices yard.xlsx\n  hardlid price rooms.xlsx --rules house.lid --prices yard.xlsx --as-of 2026-11-01\n  hardlid price rooms.xlsx --prices yard.xlsx --schemes\n\n\
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
    /// Write each plan into this folder as well, as SVG.
    #[arg(long, value_name = "DIR")]
    plans: Option<PathBuf>,
    /// Print each room under every way to build it, with costs and why the others lost.
    #[arg(long)]
    schemes: bool,
    /// Replace the output even where hardlid did not write it, wrote it for another rooms file, or would lose cells that were
    /// typed into it.
    #[arg(long)]
    replace: bool,
    /// Print JSON.
    #[arg(long)]
    pub(super) json: bool,
}

pub fn run(arguments: &Arguments, outside: &dyn Outside) -> Ended {
    let progress = Progress::steps(5, arguments.json);
    let mut tell = |job: &Worked<'_>, target: &Path, told: &[Problem]| report(arguments, job, target, told);
    let result = priced(arguments, outside, &progress, &mut tell);
    progress.end();
    match result {
        Ok(ended) => ended,
        Err(problems) => failed(&problems, arguments.json),
    }
}

impl Arguments {
    /// The files that it is priced from.
    pub(super) fn reads(&self) -> impl Iterator<Item = &Path> {
        let all = [Some(&self.rooms), self.rules.as_ref(), self.prices.as_ref()];
        all.into_iter().flatten().map(PathBuf::as_path)
    }

    /// The files that the rule book names besides.
    pub(super) fn named_by_rules(&self, outside: &dyn Outside) -> Vec<PathBuf> {
        self.rules.as_ref().map_or_else(Vec::new, |rules| books::named_by(rules, outside))
    }
}

/// Hears of a job when its workbook is written: the job, the workbook, what books and prices warn of.
pub(super) type Tell<'t> = dyn FnMut(&Worked<'_>, &Path, &[Problem]) + 't;

/// Prices and writes, and has what it came to told.
///
/// # Errors
/// What kept it from being priced or written.
pub(super) fn priced(
    arguments: &Arguments,
    outside: &dyn Outside,
    progress: &Progress,
    tell: &mut Tell<'_>,
) -> Result<Ended, Vec<Problem>> {
    let one = |p: Problem| vec![p];
    let as_of = books::date(arguments.as_of.as_deref(), outside).map_err(one)?;
    let Target { path: target, revision, own, before } = target(arguments, outside).map_err(one)?;
    progress.step("reading rules");
    let rules = books::rules(arguments.rules.as_deref(), "hardlid ceilings", outside).map_err(one)?;
    let (program, told) = compiled(&rules, None)?;
    progress.step("reading rooms");
    let rooms = Rooms::from(books::file(&arguments.rooms, outside).map_err(one)?);
    if write::written_by_us(&rooms.file.bytes) {
        let what = format!("{} is a priced workbook, not a rooms workbook.", arguments.rooms.display());
        let fix = "hardlid reprice prices it again; hardlid price takes the rooms workbook that it came from";
        return Err(vec![Problem::stop("a priced workbook", what).in_file(&*rooms.file.name).fix(fix)]);
    }
    let prices = arguments.prices.as_ref().map(|path| books::file(path, outside)).transpose().map_err(one)?;
    let ready = Ready::of_program(program, &rules, prices.as_ref(), as_of, told)?;
    let inputs = ready.inputs(&rooms)?;
    if !arguments.replace {
        for (path, bytes) in before {
            keeps_typed_cells(&path, bytes, &ready, &rooms, &inputs)?;
        }
    }
    progress.step("working out");
    let (job, painting) = ready.work_out_and_paint(&rooms, inputs, own);
    keeps_own_figures(arguments, &job.priced, &target)?;
    progress.step("writing");
    let written = job.workbook(revision, &painting).map_err(one)?;
    outside.write_whole(&target, &written.bytes).map_err(one)?;
    if let Some(folder) = &arguments.plans {
        write_plans(folder, &painting.plans(), arguments.replace, outside).map_err(one)?;
    }
    progress.end();
    let mut told = ready.told().to_vec();
    told.extend(ready.program().hints.iter().cloned());
    told.extend((!written.carries).then(|| nothing_carried(&target)));
    tell(&job, &target, &told);
    Ok(if job.priced.stopped > 0 { Ended::WithStops } else { Ended::Done })
}

fn nothing_carried(target: &Path) -> Problem {
    let what = format!(
        "The rooms workbook, the price book and the files of the rules are larger than {} MB together, so the priced workbook does not carry them.",
        MOST_CARRIED >> 20
    );
    Problem::warning("nothing carried", what)
        .in_file(target.display().to_string())
        .fix("price it again from the rooms workbook when prices move")
}

/// Where the priced workbook goes.
struct Target {
    path: PathBuf,
    /// Which pricing of the bid it is: one more than the latest revision beside it.
    revision: u32,
    /// What an estimator typed into the latest one.
    own: Vec<OwnEntry>,
    /// The workbooks of the bid that it goes before, whose cells somebody may have typed.
    before: Vec<(PathBuf, Vec<u8>)>,
}

impl Target {
    /// The first pricing of a bid.
    fn first(path: PathBuf) -> Self {
        Self { path, revision: 1, own: Vec::new(), before: Vec::new() }
    }
}

/// Where the priced workbook goes, if it may go there, with what an estimator typed into the one that it replaces, or into a
/// later revision of it.
fn target(arguments: &Arguments, outside: &dyn Outside) -> Result<Target, Problem> {
    let target = arguments.output.clone().unwrap_or_else(|| arguments.rooms.with_extension("priced.xlsx"));
    books::names_a_workbook(&target)?;
    let shown = target.display().to_string();
    let named = arguments.named_by_rules(outside);
    let mut reads = arguments.reads().chain(named.iter().map(PathBuf::as_path));
    if reads.any(|path| *path == *target || outside.same_file(path, &target)) {
        let what = format!("{shown} is read in this run; it is not written over.");
        return Err(Problem::stop("would be overwritten", what).in_file(shown.as_str()).fix("another file with -o"));
    }
    if !outside.exists(&target) {
        return Ok(Target::first(target));
    }
    let bytes = outside.read(&target, INPUT_LIMIT)?;
    if write::written_by_us(&bytes) {
        another_rooms_file(arguments, &bytes, &shown)?;
        let mut first = open(&books::file_name(&target), bytes.clone())?;
        let own = own_entries(&mut first)?;
        let mut before = vec![(target.clone(), bytes)];
        let Some((latest, path, later)) = later(arguments, &target, outside)? else {
            return Ok(Target { path: target, revision: 1, own, before });
        };
        let newest = carried_in(&mut first).map_or(1, |carried| carried.revision).max(latest).saturating_add(1);
        let theirs = own_entries(&mut open(&books::file_name(&path), later.clone())?)?;
        // priced anew since, the first is the newest, and holds what the later one held
        let own = if newest > latest.saturating_add(1) {
            own
        } else {
            before.push((path, later));
            typed_in_both(arguments, own, theirs)?
        };
        return Ok(Target { path: target, revision: newest, own, before });
    }
    if arguments.replace {
        return Ok(Target::first(target));
    }
    let what = format!("{shown} is there already, and hardlid did not write it.");
    Err(Problem::stop("would be overwritten", what)
        .in_file(shown.as_str())
        .fix("another file with -o, or --replace to replace it"))
}

/// What an estimator typed into the latest revision, where the first workbook holds nothing that is not in it.
fn typed_in_both(arguments: &Arguments, first: Vec<OwnEntry>, latest: Vec<OwnEntry>) -> Result<Vec<OwnEntry>, Problem> {
    let same = |a: &OwnEntry, b: &OwnEntry| {
        (&a.room, &a.item, &a.code, &a.part, &a.own) == (&b.room, &b.item, &b.code, &b.part, &b.own)
    };
    let lost = first.iter().find(|a| !latest.iter().any(|b| same(a, b)));
    match lost.filter(|_| !arguments.replace) {
        None => Ok(latest),
        Some(entry) => {
            let what = format!(
                "What was typed here for {} in room {} is not in the latest revision of this bid, which goes before.",
                entry.item, entry.room
            );
            Err(Problem::stop("own figures would be lost", what)
                .at_cell(entry.place.clone())
                .fix("type it into the latest revision as well, or --replace to go on without it"))
        }
    }
}

/// The latest revision beside a priced workbook, where it was written for the same rooms file.
fn later(
    arguments: &Arguments,
    target: &Path,
    outside: &dyn Outside,
) -> Result<Option<(u32, PathBuf, Vec<u8>)>, Problem> {
    let Some((revision, path)) = latest_beside(target, outside) else { return Ok(None) };
    let bytes = outside.read(&path, INPUT_LIMIT)?;
    let own = write::rooms_property(&books::file_name(&arguments.rooms));
    let same = write::written_by_us(&bytes) && write::rooms_file(&bytes).is_some_and(|rooms| rooms == own);
    Ok(same.then_some((revision, path, bytes)))
}

/// Refuses, where nobody named the output, to write over what another rooms file of the same name came to: `rooms.csv`
/// and `rooms.xlsx` both go to `rooms.priced.xlsx`.
fn another_rooms_file(arguments: &Arguments, there: &[u8], shown: &str) -> Result<(), Problem> {
    let own = write::rooms_property(&books::file_name(&arguments.rooms));
    match write::rooms_file(there).filter(|other| *other != own) {
        Some(other) if arguments.output.is_none() && !arguments.replace => {
            let what = format!("{shown} holds the priced {other}; it is not written over with {own}.");
            Err(Problem::stop("would be overwritten", what)
                .in_file(shown)
                .fix("another file with -o, or --replace to replace it"))
        }
        _ => Ok(()),
    }
}

/// Refuses to go before a workbook with cells that somebody typed over what was read, now or in an earlier pricing, where the
/// rooms workbook does not say the same by now; and with costs that were changed.
fn keeps_typed_cells(
    path: &Path,
    bytes: Vec<u8>,
    ready: &Ready,
    rooms: &Rooms,
    inputs: &Inputs,
) -> Result<(), Vec<Problem>> {
    let shown = path.display().to_string();
    // what carries nothing cannot be laid beside itself
    let Ok(last) = Last::read(&shown, bytes) else { return Ok(()) };
    let carried = &last.carried;
    let since = match last.untouched {
        true if carried.rooms.typed.is_empty() => return Ok(()),
        true => Since::nothing(carried),
        false => {
            let rules = Rules::of_the_day(carried).map_err(|p| vec![p])?;
            let as_written = Ready::new(&rules, carried.prices.as_ref(), carried.as_of)?;
            let as_read = as_written.inputs(&carried.rooms)?;
            let as_written = as_written.work_out(&carried.rooms, as_read, carried.own.clone());
            last.since(&shown, &as_written).map_err(|p| vec![p])?
        }
    };
    let now = Rooms { file: rooms.file.clone(), typed: since.rooms.typed.clone() };
    let is_kept = since.rooms.typed.is_empty() || ready.reads_the_same(&now, inputs);
    let typed = since.rooms.typed.iter().filter(|_| !is_kept).map(|t| (&*t.at.sheet, t.at.address()));
    let among = |is: &dyn Fn(&str, (u32, u16)) -> bool| -> Vec<(String, String)> {
        let those = since.other.iter().filter(|d| d.would_be_lost() && d.place.is_some_and(|at| is(&d.sheet, at)));
        those.map(|d| (d.sheet.clone(), d.cell.clone())).collect()
    };
    let mut cells: Vec<(String, String)> = typed.map(|(sheet, cell)| (sheet.to_owned(), cell)).collect();
    cells.extend(among(&|sheet, at| since.inputs.holds(sheet, at)));
    let costs = among(&|sheet, at| since.inputs.is_cost(sheet, at));
    let lost = |kind, cells: &[(String, String)], fix: &str| {
        let what = format!("{} typed into {shown} would be lost.", first_cells(cells));
        (!cells.is_empty()).then(|| Problem::stop(kind, what).in_file(shown.as_str()).fix(fix))
    };
    let typed =
        "hardlid reprice takes them over; or type them into the rooms workbook, or --replace to go on without them";
    let priced = "type them into the price book, and --replace to go on";
    let all: Vec<Problem> =
        [lost("typed cells would be lost", &cells, typed), lost("typed costs would be lost", &costs, priced)]
            .into_iter()
            .flatten()
            .collect();
    if all.is_empty() { Ok(()) } else { Err(all) }
}

/// The first of some cells, by sheet and address.
fn first_cells(cells: &[(String, String)]) -> String {
    const SHOWN: usize = 3;
    let first: Vec<String> = cells.iter().take(SHOWN).map(|(sheet, cell)| format!("{sheet} {cell}")).collect();
    match cells.len().checked_sub(SHOWN).filter(|n| *n > 0) {
        Some(more) => format!("{} and {more} more", first.join(", ")),
        None => first.join(", "),
    }
}

/// Refuses to write over figures typed by hand that no line would hold any more.
fn keeps_own_figures(arguments: &Arguments, priced: &Priced, target: &Path) -> Result<(), Vec<Problem>> {
    let lost: Vec<Problem> =
        priced.findings.iter().map(|f| &f.problem).filter(|p| p.kind == LINE_GONE).cloned().collect();
    if lost.is_empty() || arguments.replace {
        return Ok(());
    }
    let count = out::counted(lost.len(), "figure typed by hand has", "figures typed by hand have");
    let what = format!("{count} no line any more; {} is left as it is.", target.display());
    let head = Problem::stop("own figures would be lost", what)
        .in_file(target.display().to_string().as_str())
        .fix("another file with -o, or --replace to write this one without them");
    Err(std::iter::once(head).chain(lost).collect())
}

/// Most bytes of a file that may be a plan of ours.
const LARGEST_PLAN: u64 = 64 << 20;

/// Writes plans as SVG files. A plan of an earlier run that has the same name is replaced, another file only with
/// `--replace`.
fn write_plans(folder: &Path, plans: &[PlanOf<'_>], replace: bool, outside: &dyn Outside) -> Result<(), Problem> {
    outside.make_folder(folder)?;
    for (name, text) in plans_to_files(plans) {
        let path = folder.join(name);
        if !replace && outside.exists(&path) && !outside.read(&path, LARGEST_PLAN).is_ok_and(|b| is_our_plan(&b)) {
            let what = "A file of this name stands where a plan would go, and hardlid did not write it.";
            return Err(Problem::stop("plan not written", what)
                .in_file(path.display().to_string())
                .fix("name another folder after --plans, or add --replace"));
        }
        outside.write_whole(&path, text.as_bytes())?;
    }
    Ok(())
}

pub(super) fn report(arguments: &Arguments, job: &Worked<'_>, target: &Path, told: &[Problem]) {
    let priced = &job.priced;
    let stops = priced.findings.iter().filter(|f| f.problem.weight == Weight::Stop).count();
    let warnings = priced.findings.iter().filter(|f| f.problem.weight == Weight::Warning).count();
    if arguments.json {
        return report_json(arguments, job, target, told);
    }
    out::problems(told, false);
    let serious: Vec<Problem> =
        priced.findings.iter().filter(|f| f.problem.weight == Weight::Stop).map(|f| f.problem.clone()).collect();
    out::problems(&serious[..serious.len().min(10)], false);
    if serious.len() > 10 {
        out::line(&format!("… and {} more on the sheet Checks.", serious.len() - 10));
    }
    if arguments.schemes {
        schemes::print(&job.engine, &job.inputs, priced);
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
        None => {}
    }
    if !priced.has_prices {
        out::line("No price book was given: quantities are worked out, costs are blank. Give one with --prices.");
    }
    if warnings > 0 || stops > 0 {
        let w = out::counted(warnings, "warning", "warnings");
        out::line(&format!("{}, {w} on the sheet Checks.", out::counted(stops, "stop", "stops")));
    }
}

/// The same for programs.
fn report_json(arguments: &Arguments, job: &Worked<'_>, target: &Path, told: &[Problem]) {
    let priced = &job.priced;
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
    let mut report = json!({
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
    });
    if arguments.schemes {
        report["schemes"] = schemes::json(&job.engine, &job.inputs, priced);
    }
    out::value(&report);
}

pub(super) fn dollars(cents: i64) -> String {
    let money = crate::quantity::Number::from(Decimal::new(cents, 2));
    crate::quantity::show::show(&money, crate::quantity::Dimension::MONEY, &crate::quantity::show::Style::default())
        .text
}
