//! Geometry: against values computed outside with other libraries, the trade's own examples, and identities.

mod angles;
mod check;
mod clearances;
mod derivatives;
mod distances;
mod fits;
mod motions;
#[path = "../kernel/random.rs"]
#[allow(
    dead_code,
    clippy::duplicate_mod,
    reason = "the kernels' tests use all of it and keep it to themselves"
)]
mod random;
mod refusals;
