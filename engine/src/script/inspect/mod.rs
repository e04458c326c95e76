//! A script looked through before anybody has readings: everything that would go wrong, and what a reviewer would ask.
//!
//! | file | what it is |
//! |---|---|
//! | `inspection.rs` | what is found, and the look through all of it |
//! | `graph.rs` | the statements at the top level, what each gives and what it mentions |
//! | `attempt.rs` | runs on the script's own examples, again and again without what went wrong |
//! | `clauses.rs` | which clauses a statement has |
//! | `undescribed.rs` | what lacks a label, a way to measure, a source |
//! | `idle.rs` | what is given and never used, what goes nowhere |
//! | `fixed.rs` | checks that no reading can turn, and equalities that hardly ever hold |
//! | `namesake.rs` | functions called like one of the engine's |
//! | `rates.rs` | torques times plain rates |
//! | `outline.rs` | what is written in a script, before anything of it is run |
//! | `branches.rs` | what readings decide, and what no run has reached |

mod attempt;
mod branches;
mod clauses;
mod fixed;
mod graph;
mod idle;
mod inspection;
mod namesake;
mod outline;
mod rates;
mod undescribed;

pub use branches::Decision;
pub use inspection::{Finding, Inspection};
pub use outline::{Outline, Stated};
