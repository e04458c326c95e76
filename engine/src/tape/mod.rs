//! The tape: every operation on something that depends on an input, in the order in which it was done.
//!
//! | file | what it is |
//! |---|---|
//! | `op.rs` | THE table of operations: name, value, partial derivatives, in one place each |
//! | `graph.rs` | nodes and slots as plain data; a tape is a graph with inputs and guards; a body is one with an argument |
//! | `number.rs` | a number and the slot that holds it; arithmetic on numbers records |
//! | `functions.rs` | the rest of the closed set, as functions of numbers |
//! | `bodies.rs` | closures traced once, for roots, maxima and integrals |
//! | `matrix.rs` | symmetric systems and eigenvalues as operations |
//! | `recorder/` | the recorder open on this thread |
//! | `once.rs`, `lookup.rs` | what is recorded a second time takes the slot of the first |
//! | `fault.rs` | what went wrong with a number, kept until somebody who knows the place asks |
//! | `replay.rs` | a tape run again on other inputs, one sample after another |
//! | [`batch`] | a tape run again on many samples at once |
//! | [`portable()`] | a tape as plain data for an evaluator elsewhere |
//! | `part.rs` | the part of a tape that moves with some of its inputs |
//! | `cost.rs`, `stop.rs` | what a replay costs; whoever has a clock may stop it |
//! | `derivative.rs` | derivatives of a tape, forward and reverse |
//!
//! What is not here: dimensions and units (`quantity`), and anything that knows a script.

pub mod batch;
mod bodies;
mod cost;
mod derivative;
mod fault;
mod functions;
mod graph;
mod lookup;
mod matrix;
mod number;
mod once;
mod op;
mod part;
mod portable;
mod recorder;
mod replay;
mod stop;

pub use batch::{Batch, Block};
pub use bodies::{integrate, maximum, minimum, root};
pub use derivative::{Forward, Reverse};
pub use fault::{Fault, take_fault};
pub use functions::{
    abs, acos, asin, atan2, cbrt, cos, exp, floor, gap, if_less, interpolate, ln, max, min, norm, power, sin, sort,
    sqrt, sum,
};
pub use graph::{Body, Graph, Guard, Node, Reached, Relation, Slot, Tape};
pub use matrix::{EigenPlan, SolvePlan, eigen_symmetric, eigenvalue, solve_symmetric};
pub use number::Number;
pub use op::{Op, Stop};
pub use part::Part;
pub(crate) use part::{inputs_behind, moving};
pub use portable::{Place, Portable, portable};
pub use recorder::Recording;
pub(crate) use recorder::{
    Decision, aside, decide, decide_whole, in_closure, is_aside, is_known, is_symbolic, require,
};
pub use replay::{Departure, Replay};
pub use stop::{budget, charge, go_on, is_spent, is_stopped, stop_when};
