//! Progress lines.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::time::Duration;

/// A progress line that appears when the work takes longer than a second.
pub struct Progress {
    bar: Option<ProgressBar>,
}

impl Progress {
    /// One that names what is being done, of so many steps.
    pub fn steps(many: u64, quiet: bool) -> Self {
        Self::start(many, quiet, "{bar:24} {msg} {elapsed}")
    }

    /// One that counts, and says how long it will take.
    pub fn count(many: u64, quiet: bool) -> Self {
        Self::start(many, quiet, "{bar:24} {pos} of {len} {msg}, {eta} left")
    }

    fn start(many: u64, quiet: bool, template: &str) -> Self {
        if quiet {
            return Self { bar: None };
        }
        let bar = ProgressBar::with_draw_target(Some(many), ProgressDrawTarget::hidden());
        let style = ProgressStyle::with_template(template).unwrap_or_else(|_| ProgressStyle::default_bar());
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

    /// Says what is done, and goes on by a step.
    pub fn step(&self, what: &'static str) {
        if let Some(bar) = &self.bar {
            bar.set_message(what);
            bar.inc(1);
        }
    }

    /// Says what is counted.
    pub fn of(&self, what: &'static str) {
        if let Some(bar) = &self.bar {
            bar.set_message(what);
        }
    }

    /// Says how many are done.
    pub fn at(&self, many: usize) {
        if let Some(bar) = &self.bar {
            bar.set_position(many as u64);
        }
    }

    /// Takes the line away.
    pub fn end(&self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }
}
