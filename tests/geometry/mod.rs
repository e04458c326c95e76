//! Geometry: against values computed outside with other libraries, the trade's own examples, and identities.

mod angles;
mod check;
mod derivatives;
mod distances;
mod motions;
#[path = "../kernel/random.rs"]
#[allow(dead_code, reason = "shared with the kernels' tests, which use all of it")]
mod random;
mod refusals;
