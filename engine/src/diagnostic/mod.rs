//! Messages: what was wrong, where, and what would be right.
//!
//! `refusal.rs` a message without a place, `report.rs` with its place and printed, `near_miss.rs` the nearest known name,
//! `visible.rs` what may stand in a text that is shown.

mod near_miss;
mod refusal;
mod report;
mod visible;

pub use near_miss::{is_slip, nearest};
pub use refusal::Refusal;
pub use report::{Diagnostic, Place, SourceText};
pub(crate) use visible::refuse_hidden_in;
pub use visible::{is_hidden, refuse_hidden, shown};
