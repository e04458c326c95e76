//! The recorder open on this thread.
//!
//! A run opens one recorder; tracing a closure opens another on top of it. An operation is recorded where its innermost
//! argument lives: what does not depend on a closure's argument stays outside the closure. Numbers carry the serial of
//! their recorder, so that one left over from another run is a fault and not a wrong number.
//!
//! | file | what it is |
//! |---|---|
//! | `stack.rs` | the recorders, and in which slot of which one a number stands |
//! | `recording.rs` | a run: its inputs, the tape that comes of it |
//! | `operation.rs` | operations done and recorded |
//! | `decision.rs` | comparisons and demands, kept for replays |
//! | `tracing.rs` | closures |
//! | `aside.rs` | calculating beside the tape |

mod aside;
mod decision;
mod operation;
mod recording;
mod stack;
mod tracing;

pub(crate) use aside::{aside, is_aside};
pub(super) use decision::slot_on_tape;
pub(crate) use decision::{Decision, decide, decide_whole, in_closure, is_known, is_symbolic, require};
pub(super) use operation::{record, record_one};
pub use recording::Recording;
pub(super) use tracing::{record_body, trace};
