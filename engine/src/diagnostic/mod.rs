//! Messages: what was wrong, where, and what would be right.
//!
//! `refusal.rs` a message without a place, `report.rs` with its place and printed, `near_miss.rs` the nearest known name.

mod near_miss;
mod refusal;
mod report;

pub use near_miss::{is_slip, nearest};
pub use refusal::Refusal;
pub use report::{Diagnostic, Place, SourceText};
