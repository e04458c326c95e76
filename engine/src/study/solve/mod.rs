//! Where inputs have to be for what is wanted: targets met, or every check held with the largest margin.
//!
//! | file | what it is |
//! |---|---|
//! | `problem.rs` | what is adjusted and wanted, and how good a place is |
//! | `known.rs` | the checks that a search has come upon, on all its ways |
//! | `ground.rs` | values and slopes at a place, by the part of the tape that moves |
//! | `robust.rs` | margins as far as the readings' own ± leaves them |
//! | `inner.rs` | one linear step |
//! | `search.rs` | steps from one start within a trust region |
//! | `differing.rs` | checks that differ between choices |
//! | `tip.rs` | what a target that comes to a point is made of |
//! | `rounds.rs` | searches from many starts, again where they come upon unknown checks; each distinct end once |
//! | `solution.rs` | an end as a solution, judged |

mod differing;
mod ground;
mod inner;
mod known;
mod problem;
mod robust;
mod rounds;
mod search;
mod solution;
mod tip;

pub use differing::differing;
pub use problem::{Adjusted, Request, Target};
pub use rounds::solve;
pub use solution::{Binding, Solution, Solved};
pub use tip::made_of;
