//! What a case may not do: panic anywhere, on any thread, or take more time or memory than a book is worth.

use super::case::Case;
use super::tried::{Shape, tried};
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook, take_hook};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, Once};
use std::time::Duration;

/// Panics since the last case, on whatever thread: the compiler's own thread gives a refusal for one.
static PANICS: Mutex<Vec<String>> = Mutex::new(Vec::new());
static HOOK: Once = Once::new();
/// Whether a case runs: panics of anything else are told as they always are.
static WATCHING: AtomicBool = AtomicBool::new(false);

/// What a case came to.
#[derive(Debug)]
pub struct Watched {
    /// What it did, where it did not panic.
    pub shape: Shape,
    /// Each panic: where, and what it said.
    pub panics: Vec<String>,
    /// Processor time of all threads, to the hundredth of a second (Linux; elsewhere none).
    pub took: Duration,
}

/// Runs a case and sees what it does. One at a time in a process.
pub fn watched(case: &Case) -> Watched {
    HOOK.call_once(|| {
        let before = take_hook();
        set_hook(Box::new(move |info| {
            if !WATCHING.load(Ordering::SeqCst) {
                return before(info);
            }
            let place = info.location().map(ToString::to_string).unwrap_or_default();
            let what = info.payload_as_str().unwrap_or("").to_owned();
            if let Ok(mut panics) = PANICS.lock() {
                panics.push(format!("{place}: {what}"));
            }
        }));
    });
    let before = processor();
    WATCHING.store(true, Ordering::SeqCst);
    let shape = catch_unwind(AssertUnwindSafe(|| tried(case))).unwrap_or_default();
    WATCHING.store(false, Ordering::SeqCst);
    let took = processor().saturating_sub(before);
    let panics = PANICS.lock().map(|mut p| std::mem::take(&mut *p)).unwrap_or_default();
    Watched { shape, panics, took }
}

/// Processor time of all threads of this process so far.
pub fn processor() -> Duration {
    processor_in("/proc/self/stat")
}

/// Processor time as a file of the system tells it.
pub fn processor_in(file: &str) -> Duration {
    let stat = std::fs::read_to_string(file).unwrap_or_default();
    let after = stat.rsplit_once(')').map_or("", |(_, rest)| rest);
    let ticks: u64 = after.split_whitespace().skip(11).take(2).filter_map(|t| t.parse::<u64>().ok()).sum();
    Duration::from_millis(ticks * 10)
}
