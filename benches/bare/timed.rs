//! Times of two sides, run by turns.

use crate::Result;
use std::time::{Duration, Instant};

/// What a run took.
#[derive(Clone, Copy, Debug, Default)]
pub struct Spent {
    wall: Duration,
    processor: Duration,
}

/// One side of a comparison.
pub struct Side<'a> {
    name: String,
    run: Box<dyn FnMut() -> Result<Spent> + 'a>,
}

impl<'a> Side<'a> {
    /// A side timed as a whole.
    pub fn new(name: impl Into<String>, mut run: impl FnMut() -> Result<u64> + 'a) -> Self {
        Self::timed(name, move || {
            let (done, spent) = clocked(&mut run);
            done.map(|_| spent)
        })
    }

    /// A side that times itself.
    pub fn timed(name: impl Into<String>, run: impl FnMut() -> Result<Spent> + 'a) -> Self {
        Self { name: name.into(), run: Box::new(run) }
    }
}

/// Runs something and says what it took.
pub fn clocked<T>(run: impl FnOnce() -> T) -> (T, Spent) {
    let (start, before) = (Instant::now(), processor());
    let done = run();
    (done, Spent { wall: start.elapsed(), processor: processor().saturating_sub(before) })
}

/// Processor time of all threads so far, to the hundredth of a second (Linux; elsewhere zero).
fn processor() -> Duration {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after = stat.rsplit_once(')').map_or("", |(_, rest)| rest);
    let ticks: u64 = after.split_whitespace().skip(11).take(2).filter_map(|t| t.parse::<u64>().ok()).sum();
    Duration::from_millis(ticks * 10)
}

/// The most memory that this process held, as the system tells it.
pub fn peak() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    status.lines().find_map(|l| l.strip_prefix("VmHWM:")).map_or("unknown", str::trim).to_owned()
}

/// Runs the sides by turns and prints the medians, and each as a ratio to the first.
pub fn against(what: &str, bare: Side<'_>, ours: Vec<Side<'_>>, runs: usize) -> Result<()> {
    let mut sides: Vec<Side<'_>> = std::iter::once(bare).chain(ours).collect();
    let mut all = vec![Vec::new(); sides.len()];
    for _ in 0..runs {
        for (side, times) in sides.iter_mut().zip(&mut all) {
            times.push((side.run)()?);
        }
    }
    let median = |of: &dyn Fn(&Spent) -> Duration, times: &[Spent]| {
        let mut times: Vec<Duration> = times.iter().map(of).collect();
        times.sort();
        times[times.len() / 2].as_secs_f64()
    };
    println!("\n{what}");
    let wall: Vec<f64> = all.iter().map(|t| median(&|s| s.wall, t)).collect();
    let processor: Vec<f64> = all.iter().map(|t| median(&|s| s.processor, t)).collect();
    for (i, side) in sides.iter().enumerate() {
        let (w, p) = (wall[i] / wall[0], processor[i] / processor[0]);
        println!("  {:36} {:8.4}  {:6.2}   ratio {w:5.2}  processor {p:5.2}", side.name, wall[i], processor[i]);
    }
    Ok(())
}

/// Runs something and says how long it took on the wall.
pub fn clocked_wall<T>(run: impl FnOnce() -> T) -> (T, Duration) {
    let (done, spent) = clocked(run);
    (done, spent.wall)
}
