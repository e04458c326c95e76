//! How much a calculation may do.
//!
//! A run of a script has a budget of work, counted, so that it ends at the same place in every build and on every machine. A
//! study has none: how long that may take is asked of whoever has a clock. The engine has none.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

/// Work between two questions, in operations.
const WORK: u64 = 200_000;

thread_local! {
    static HOST: RefCell<Option<Rc<dyn Fn() -> bool>>> = const { RefCell::new(None) };
    static DONE: Cell<u64> = const { Cell::new(0) };
    static STOPPED: Cell<bool> = const { Cell::new(false) };
    static LEFT: Cell<Option<u64>> = const { Cell::new(None) };
}

/// On this thread, work counts against a budget until the next call; nothing: it has none.
pub fn budget(work: Option<u64>) {
    LEFT.set(work);
}

/// Whether the budget is used up.
#[must_use]
pub fn is_spent() -> bool {
    LEFT.get() == Some(0)
}

/// Counts work against the budget, in simple operations; gives whether it is used up.
pub fn charge(work: u64) -> bool {
    LEFT.set(LEFT.get().map(|left| left.saturating_sub(work)));
    is_spent()
}

/// On this thread, asks `host` every so many operations whether to stop. What is stopped is no result: the host has to
/// drop it, so that nothing ever depends on a clock.
pub fn stop_when(host: Rc<dyn Fn() -> bool>) {
    HOST.with_borrow_mut(|kept| *kept = Some(host));
    STOPPED.set(false);
}

/// Lets calculations on this thread go on after they were stopped.
pub fn go_on() {
    STOPPED.set(false);
}

/// Whether the host has stopped calculations on this thread.
#[must_use]
pub fn is_stopped() -> bool {
    STOPPED.get()
}

/// Counts work that is about to be done; gives whether it has to stop.
pub(super) fn spend(work: u64) -> bool {
    if charge(work) {
        return true;
    }
    let done = DONE.get() + work;
    if done < WORK {
        DONE.set(done);
        return STOPPED.get();
    }
    DONE.set(0);
    let host = HOST.with_borrow(Clone::clone);
    if host.is_some_and(|host| host()) {
        STOPPED.set(true);
    }
    STOPPED.get()
}
