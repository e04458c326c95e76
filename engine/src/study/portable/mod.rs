//! A study as plain data: what an evaluator elsewhere needs to say what may be shown, and how sure it is, when somebody
//! moves an input.
//!
//! | file | what it is |
//! |---|---|
//! | `carry.rs` | [`carry()`]: tape and study of some runs |
//! | `slots.rs` | every slot that an outcome shows |
//! | `vouch.rs` | where things were reached, and what is linked to what: what a broken guard takes with it |
//! | `readings.rs` | readings with a ±, those that one value sets together, sample points |
//! | `checks.rs` | watched numbers and checks |

mod carry;
mod checks;
mod readings;
mod slots;
mod vouch;

pub use carry::{Carried, ReachedRun, carry};
