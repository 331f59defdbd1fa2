//! A priced job, and the workbook that it becomes.

use super::ready::Ready;
use super::sums::{alternates, parts, quantities, sums};
use crate::drawing::{Painted, Painting, layouts};
use crate::engine::{Engine, Explainer, Inputs};
use crate::pricing::{OwnEntry, Priced};
use crate::problem::Problem;
use crate::workbook::carried::{Carried, Rooms, Row, Sums};
use crate::workbook::{live, write};

/// Rooms worked out and priced.
#[derive(Debug)]
pub struct Worked<'r> {
    /// What they were worked out by.
    pub ready: &'r Ready,
    /// The rooms workbook, and what was typed over it.
    pub rooms: Rooms,
    /// The columns.
    pub engine: Engine<'r>,
    /// The rows as they were read.
    pub inputs: Inputs,
    /// The priced job.
    pub priced: Priced,
    /// What an estimator had typed beside lines.
    pub own: Vec<OwnEntry>,
}

/// A workbook as it goes into its file.
#[derive(Debug)]
pub struct Written {
    /// What the file holds.
    pub bytes: Vec<u8>,
    /// Whether it carries what it was worked out from; files that are too large are not carried.
    pub carries: bool,
    /// Which of its cells stand for what was read.
    pub inputs: write::InputCells,
}

impl Worked<'_> {
    /// All that it was worked out from.
    #[must_use]
    pub fn carried(&self, revision: u32) -> Carried {
        Carried {
            rooms: self.rooms.clone(),
            prices: self.ready.prices_file().cloned(),
            rules: self.ready.rules_file().cloned(),
            library: self.ready.library().to_vec(),
            beside: self.ready.beside().cloned().collect(),
            as_of: self.ready.as_of(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            revision,
            total: self.priced.total,
            own: (0u32..)
                .zip(&self.own)
                .filter(|(at, _)| !self.priced.own_left.contains(at))
                .map(|(_, entry)| entry.clone())
                .collect(),
            sums: Sums {
                parts: parts(&self.priced).collect(),
                alternates: alternates(&self.priced).collect(),
                // sums too large for a bid have no total either
                items: sums(&self.ready.program().schema, &self.priced).unwrap_or_default().into_iter().collect(),
                quantities: quantities(&self.priced),
                stopped: self.priced.stopped,
            },
        }
    }

    /// Writes the priced workbook, the nth of this bid from 1, with plans of its rooms.
    ///
    /// # Errors
    /// More columns or rows than a sheet holds; no room for temporary files.
    pub fn workbook(&self, revision: u32, painting: &Painting) -> Result<Written, Problem> {
        let carried = self.carried(revision).rows();
        let limits = write::Limits::default();
        let (bytes, inputs) = self.written(revision, carried.as_deref().unwrap_or(&[]), painting, limits)?;
        Ok(Written { bytes, carries: carried.is_some(), inputs })
    }

    /// Writes the workbook as [`Worked::workbook`] does, with values in place of its formulas: for who reads a bid and
    /// changes nothing in it.
    ///
    /// # Errors
    /// As [`Worked::workbook`].
    pub fn values_only(&self, revision: u32, painting: &Painting) -> Result<Written, Problem> {
        let carried = self.carried(revision).rows();
        let limits = write::Limits::values_only();
        let (bytes, inputs) = self.written(revision, carried.as_deref().unwrap_or(&[]), painting, limits)?;
        Ok(Written { bytes, carries: carried.is_some(), inputs })
    }

    /// Writes the workbook of a later pricing: as [`Worked::workbook`]; pictures that were painted before serve again.
    ///
    /// # Errors
    /// As [`Worked::workbook`].
    pub fn again(&self, revision: u32, painted: Painted) -> Result<Written, Problem> {
        let layouts = layouts(&self.ready.program().schema, self.engine.run(), &self.priced.rooms);
        self.workbook(revision, &self.ready.painting(&self.rooms.file, layouts, painted))
    }

    fn written(
        &self,
        revision: u32,
        carried: &[Row],
        painting: &Painting,
        limits: write::Limits,
    ) -> Result<(Vec<u8>, write::InputCells), Problem> {
        let Self { ready, engine, inputs, priced, .. } = self;
        let program = ready.program();
        let explainer = Explainer::new(engine, inputs);
        let job_live = live::job_formulas(program, &priced.job);
        let live = live::row_formulas(program, inputs, engine.run(), (limits.live_rows, limits.watched_rows));
        let prices = ready.prices_file();
        write::priced_with_inputs(&write::Document {
            schema: &program.schema,
            run: engine.run(),
            inputs,
            explain: &explainer,
            priced,
            title: &self.rooms.file.name,
            revision,
            as_of: ready.as_of(),
            prices_file: prices.map(|p| write::PricesFile { name: &p.name, digest: &p.digest }),
            input_digest: &self.rooms.file.digest,
            tool_version: env!("CARGO_PKG_VERSION"),
            job_live: &job_live,
            live: &live,
            plans: &painting.plans(),
            painting,
            carried,
            limits,
        })
    }
}
