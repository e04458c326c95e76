//! What went wrong with a number, kept until somebody who knows the place asks.
//!
//! Arithmetic on numbers reads like arithmetic and returns no `Result`; the first thing that goes wrong is kept here, on
//! this thread, and every native function asks for it before it hands its result to a script.

use super::op::Stop;
use std::cell::RefCell;

/// What went wrong with a number.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// An operation gave no finite number: its name and what it was given.
    NotFinite {
        /// Name of the operation.
        operation: &'static str,
        /// What it was given.
        given: Vec<f64>,
    },
    /// An operation has no value: why.
    Stopped(Stop),
    /// A number from another run was used.
    Foreign,
    /// The tape grew beyond what is allowed.
    TooLong,
    /// The run did all the work that it may.
    Spent,
}

thread_local! {
    static FIRST: RefCell<Option<Fault>> = const { RefCell::new(None) };
}

/// Takes the first fault since the last call.
#[must_use]
pub fn take_fault() -> Option<Fault> {
    FIRST.with_borrow_mut(Option::take)
}

/// Keeps a fault unless there is one already: the first is the cause of the rest.
pub(super) fn raise(fault: Fault) {
    FIRST.with_borrow_mut(|first| {
        first.get_or_insert(fault);
    });
}
