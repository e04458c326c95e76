//! A tape as plain data, for an evaluator elsewhere that does the same operations in the same order.
//!
//! The tape goes out cleaned: known values folded, equal operations shared, dead ones dropped. Its numbers stand in
//! **places**: inputs first, then known numbers, then results in the order in which they are made. All that is done is one
//! flat list of whole numbers, see `code.rs`.
//!
//! | file | what it is |
//! |---|---|
//! | `write.rs` | [`portable()`]: a tape and the slots that are asked for |
//! | `code.rs` | operations as whole numbers |
//! | `body.rs` | closures, each a small tape of its own |
//! | `plans.rs` | symmetric systems and eigenproblems: what their places decide |

mod body;
mod code;
mod plans;
mod write;

pub use write::{Place, Portable, portable};
