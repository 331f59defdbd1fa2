//! Prices priced workbooks again, and tells what moved.
//!
//! The path: folders are walked for the bids below them ([`family`]); each bid's latest workbook is read with all that it
//! carries ([`last`]), worked out as it was and as it is to be ([`bid`]), and the difference is split ([`effects`]). One
//! thread a bid; what moved comes together in the order of the bids, however long each took.

pub mod audit;
mod bid;
mod effects;
mod family;
mod last;
mod portions;
mod readies;
mod rooms;
mod what_if;

pub use bid::Outcome;
pub use family::{Family, Found, families, latest_beside};
pub use last::{Last, Since};
pub use what_if::Change;

use crate::bid::House;
use crate::problem::Problem;
use crate::quantity::Date;
use crate::system::Outside;
use crate::workbook::carried::File;
use crate::workbook::variance::Variance;
use readies::Readies;
use std::num::NonZero;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// By what rules bids are priced again.
#[derive(Clone, Debug)]
pub enum By {
    /// Those of the day on which each was priced.
    RulesOfTheDay,
    /// The built-in books of this version, with the house's book as each bid carries it.
    BooksOfToday,
    /// This book of the house with its files, over the built-in books of this version.
    House(House),
}

/// What is asked for.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The new price book; each bid's own where there is none.
    pub prices: Option<File>,
    /// The pricing date; each bid's own where there is none.
    pub as_of: Option<Date>,
    /// The rules.
    pub by: By,
    /// A book of the house that stands for the old rules, to see what the change from it does; nothing is written then.
    pub instead_of: Option<House>,
    /// Whether workbooks to which somebody added something are written anew without it.
    pub without_additions: bool,
    /// Changes of prices to try out: nothing but the variance comes of them.
    pub changes: Vec<Change>,
    /// Prices older than so many days are told; none where it is nothing.
    pub older_than: Option<i64>,
    /// Bids that are worked on at once; all cores where it is nothing.
    pub at_once: Option<usize>,
}

/// Prices every bid again on all cores, writes new revisions, and gives what moved.
///
/// `done` is told after each bid how many are done. A bid that cannot be priced is told and left; the others go on.
///
/// # Errors
/// No threads to work with.
pub fn reprice(
    found: &Found,
    asked: &Asked,
    outside: &dyn Outside,
    done: &(dyn Fn(usize) + Sync),
) -> Result<Variance, Problem> {
    let families = &found.families;
    let mut folders: Vec<&Path> = families.iter().map(|f| f.out.as_path()).collect();
    folders.dedup();
    folders.iter().for_each(|folder| outside.sweep(folder));
    let cores = asked.at_once.unwrap_or_else(|| thread::available_parallelism().map_or(1, NonZero::get)).max(1);
    let workers = cores.min(families.len()).max(1);
    let readies = Readies::default();
    let outcomes: Vec<OnceLock<Outcome>> = families.iter().map(|_| OnceLock::new()).collect();
    let (next, finished) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let work = || {
        while let at = next.fetch_add(1, Ordering::Relaxed)
            && let Some(family) = families.get(at)
        {
            // a mistake of ours in one bid must not take the others down
            let one = || bid::price_again(family, asked, &readies, outside);
            if let Ok(outcome) = catch_unwind(AssertUnwindSafe(one)) {
                let _ = outcomes[at].set(outcome);
            }
            done(finished.fetch_add(1, Ordering::Relaxed) + 1);
        }
    };
    // a pool of its own keeps a worker's inner loops from taking up another worker's bid in the middle of its own
    let pool = || rayon::ThreadPoolBuilder::new().num_threads(cores / workers).build();
    let pools = (0..workers).map(|_| pool()).collect::<Result<Vec<_>, _>>();
    let pools = pools.map_err(|e| Problem::stop("no threads", format!("No threads to work with: {e}.")))?;
    thread::scope(|scope| {
        for pool in &pools {
            scope.spawn(|| pool.install(work));
        }
    });
    let mut variance = Variance::new(asked.older_than);
    variance.left_out.clone_from(&found.unread);
    for (family, outcome) in families.iter().zip(outcomes) {
        match outcome.into_inner() {
            Some(outcome) => outcome.tell(family, &mut variance),
            None => variance.left_out.push(bid::lost(family)),
        }
    }
    variance.unmet = asked.changes.iter().filter(|c| !readies.was_met(c)).map(|c| c.written().to_owned()).collect();
    Ok(variance)
}

impl Asked {
    /// Whether nothing but the variance comes of it.
    #[must_use]
    pub fn only_tried(&self) -> bool {
        !self.changes.is_empty() || self.instead_of.is_some()
    }
}

/// Where the new revision of a bid goes.
#[must_use]
pub fn revision_path(family: &Family, revision: u32) -> PathBuf {
    family.out.join(format!("{}.rev-{revision}.xlsx", family.stem))
}
