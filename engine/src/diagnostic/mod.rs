//! Messages: what was wrong, where, and what would be right.
//!
//! `refusal.rs` a message without a place, `report.rs` with its place and printed, `near_miss.rs` the nearest known name,
//! `visible.rs` what may stand in a text that is shown, `unseen.rs` the characters that nobody sees, `one_line.rs` texts on
//! one line.

mod near_miss;
mod one_line;
mod refusal;
mod report;
mod unseen;
mod visible;

pub use near_miss::{is_slip, nearest};
pub use one_line::{ends_line, on_one_line, refuse_lines};
pub use refusal::Refusal;
pub use report::{Diagnostic, Place, SourceText};
pub(crate) use visible::refuse_hidden_in;
pub use visible::{is_hidden, refuse_hidden, shown};
