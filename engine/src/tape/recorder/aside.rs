//! Calculating beside the tape.

use std::cell::Cell;

thread_local! {
    static ASIDE: Cell<bool> = const { Cell::new(false) };
}

/// Calculates beside the tape: what is done in here leaves no node and no guard. A result that stands on the tape already
/// is taken from there; any other depends on nothing. For showing only.
pub(crate) fn aside<T>(work: impl FnOnce() -> T) -> T {
    let before = ASIDE.replace(true);
    let result = work();
    ASIDE.set(before);
    result
}

/// Whether something is calculated beside the tape.
pub(crate) fn is_aside() -> bool {
    ASIDE.get()
}
