//! Does something again each time one of some files is saved.

use super::Ended;
use crate::source::digest::digest;
use crate::system::{INPUT_LIMIT, Outside};
use std::path::{Path, PathBuf};

/// What the files hold, by digest; nothing where one of those that the command names cannot be read just now: a program
/// that saves takes the old file away before the new one has its name.
type Saved = Option<Vec<(PathBuf, Option<String>)>>;

/// The files that are watched.
pub(super) struct Watched<'a> {
    /// Those that the command names.
    pub named: Vec<&'a Path>,
    /// Those that are read besides: what a rule book names, as it stands now. One that is not there may come.
    pub beside: &'a dyn Fn() -> Vec<PathBuf>,
}

/// Runs something, and again after each saving, until nothing more is to come. `run` says whether it goes on.
pub(super) fn each_saving(
    watched: &Watched<'_>,
    outside: &dyn Outside,
    run: &mut dyn FnMut() -> (Ended, bool),
) -> Ended {
    let mut done: Saved = None;
    let mut ended = Ended::Done;
    loop {
        let now = watched.saved(outside);
        if now.is_none() && done.is_none() {
            // the command line is wrong, and the run says how
            return run().0;
        }
        if now.is_some() && now != done {
            // what is still being written is another file a moment later
            if done.is_some() {
                if !outside.wait() {
                    return ended;
                }
                if watched.saved(outside) != now {
                    continue;
                }
            }
            done = now;
            let (how, goes_on) = run();
            ended = how;
            if !goes_on {
                return ended;
            }
        }
        if !outside.wait() {
            return ended;
        }
    }
}

impl Watched<'_> {
    fn saved(&self, outside: &dyn Outside) -> Saved {
        let held = |path: &Path| outside.read(path, INPUT_LIMIT).ok().map(|bytes| digest(&bytes));
        let named = self.named.iter().map(|path| Some((path.to_path_buf(), Some(held(path)?))));
        let mut out: Vec<_> = named.collect::<Option<_>>()?;
        out.extend((self.beside)().into_iter().map(|path| {
            let holds = held(&path);
            (path, holds)
        }));
        Some(out)
    }
}
