//! The one place where a panic of a format crate is caught.

use super::Trouble;
use std::cell::Cell;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Once;

thread_local! {
    /// Whether this thread is inside a format crate, where a panic means a damaged file and is not to be printed.
    static INSIDE: Cell<bool> = const { Cell::new(false) };
}

static QUIET: Once = Once::new();

/// Runs a call into a format crate; a panic in it becomes a [`Trouble`] and prints nothing.
pub(super) fn guarded<T>(call: impl FnOnce() -> T) -> Result<T, Trouble> {
    QUIET.call_once(|| {
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |info| {
            if !INSIDE.with(Cell::get) {
                before(info);
            }
        }));
    });
    let was = INSIDE.with(|inside| inside.replace(true));
    let out = catch_unwind(AssertUnwindSafe(call));
    INSIDE.with(|inside| inside.set(was));
    out.map_err(|_| Trouble::damaged("its cells do not follow the file format"))
}
