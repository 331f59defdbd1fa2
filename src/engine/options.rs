//! Which option a row stands under where nothing is priced: the first that it may take and whose checks hold.

use super::column::Fault;
use super::run::Engine;
use crate::program::{FieldId, Options, Outcome};
use crate::source::texts::fold;

/// Whether a row may take an option.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allowed {
    /// It may.
    Yes,
    /// The row names another.
    NamesAnother,
    /// Its condition does not hold.
    No,
    /// Its condition cannot be worked out.
    Unknown(Fault),
}

/// Whether each row may take each option, a row of answers for each option.
#[must_use]
pub fn allowed(engine: &Engine<'_>, options: &Options) -> Vec<Vec<Allowed>> {
    let run = engine.run();
    let rows = run.rows_of(options.kind);
    let named = |row: usize| {
        let text = run.text(options.named_by?, row).ok()?;
        let place = options.choices.iter().position(|c| fold(&c.name) == fold(text))?;
        Some(place)
    };
    let named: Vec<Option<usize>> = (0..rows).map(named).collect();
    let choices = options.choices.iter().enumerate();
    choices
        .map(|(i, choice)| {
            let one = |row: usize| match (named[row], choice.when) {
                (Some(other), _) if other != i => Allowed::NamesAnother,
                // a row that names an option has it, and its checks say whether it stands
                (Some(_), _) | (None, None) => Allowed::Yes,
                (None, Some(when)) => match run.yes_no(when, row) {
                    Ok(true) => Allowed::Yes,
                    Ok(false) => Allowed::No,
                    Err(fault) => Allowed::Unknown(fault),
                },
            };
            (0..rows).map(one).collect()
        })
        .collect()
}

/// Whether the checks that stop hold for each row of the options' kind and for the rows that belong to it.
#[must_use]
pub fn passes(engine: &Engine<'_>, options: &Options) -> Vec<bool> {
    let (run, schema) = (engine.run(), &engine.program().schema);
    let mut out = vec![true; run.rows_of(options.kind)];
    let worked_out = |f: FieldId| run.columns.get(f.0 as usize).is_some_and(Option::is_some);
    let stops = schema.checks.iter().filter(|c| c.outcome == Outcome::Stops);
    for check in stops.filter(|c| schema.belongs(c.kind, options.kind) && worked_out(c.holds)) {
        for row in 0..run.rows_of(check.kind) {
            if run.yes_no(check.holds, row) != Ok(true)
                && let Some(flag) = out.get_mut(engine.ancestor(check.kind, row, options.kind))
            {
                *flag = false;
            }
        }
    }
    out
}

/// The option of a row where costs are not known: the first that passes, else the first that is allowed.
#[must_use]
pub fn first(row: usize, allowed: &[Vec<Allowed>], passes: &[Vec<bool>]) -> u32 {
    let may = |i: &usize| allowed[*i].get(row) == Some(&Allowed::Yes);
    let choices = 0..allowed.len();
    let passing = choices.clone().filter(may).find(|i| passes[*i].get(row) == Some(&true));
    let place = passing.or_else(|| choices.clone().find(may)).unwrap_or(0);
    u32::try_from(place).unwrap_or(0)
}
