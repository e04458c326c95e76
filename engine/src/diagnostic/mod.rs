//! What went wrong, where, and what would be right.
//!
//! `near_miss.rs` the known name that somebody probably meant.

mod near_miss;

pub use near_miss::nearest;
