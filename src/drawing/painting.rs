//! Pictures that other threads paint while a job is priced and its workbook written.

use super::{Layouts, Painted, PlanOf, plans_png};
use crate::quantity::Date;
use std::cell::OnceCell;
use std::sync::Arc;
use std::sync::mpsc::{self, Receiver};
use std::thread;

/// Pictures of plans, in their order; nothing for one that there was no memory to paint.
pub type Pictures = Vec<Option<Arc<[u8]>>>;

/// The plans of a job, and their pictures in the making. The default has no plans.
#[derive(Debug, Default)]
pub struct Painting {
    of: Option<Arc<Of>>,
    /// Closed without a word where no thread could be had.
    painted: Option<Receiver<Pictures>>,
    pictures: OnceCell<Pictures>,
}

/// What is painted.
#[derive(Debug)]
struct Of {
    layouts: Layouts,
    job: String,
    as_of: Date,
    most: usize,
    before: Painted,
}

impl Of {
    fn pictures(&self) -> Pictures {
        let plans = self.layouts.plans(&self.job, self.as_of);
        plans_png(&plans[..plans.len().min(self.most)], &self.before)
    }
}

impl Painting {
    /// Begins to paint the first plans of a job, at most so many; pictures that were painted before serve again.
    #[must_use]
    pub fn start(layouts: Layouts, job: &str, as_of: Date, most: usize, before: Painted) -> Self {
        let of = Arc::new(Of { layouts, job: job.to_owned(), as_of, most, before });
        let (done, painted) = mpsc::channel();
        let theirs = Arc::clone(&of);
        // whoever no longer wants the pictures has hung up, which is nothing to the painter
        let painter = thread::Builder::new().spawn(move || done.send(theirs.pictures()).unwrap_or_default());
        Self { of: Some(of), painted: painter.is_ok().then_some(painted), pictures: OnceCell::new() }
    }

    /// All plans of the job, whether or not they are painted.
    #[must_use]
    pub fn plans(&self) -> Vec<PlanOf<'_>> {
        self.of.as_ref().map_or_else(Vec::new, |of| of.layouts.plans(&of.job, of.as_of))
    }

    /// The pictures, once they are painted.
    #[must_use]
    pub fn pictures(&self) -> &Pictures {
        self.pictures.get_or_init(|| {
            let painted = self.painted.as_ref().and_then(|p| p.recv().ok());
            painted.or_else(|| self.of.as_ref().map(|of| of.pictures())).unwrap_or_default()
        })
    }
}
