//! Wrong answers that a pupil comes to: a step worked out once more with one operation of its formula changed.
//!
//! | file | what it is |
//! |---|---|
//! | `cone.rs` | the part of a tape between what a step takes and its result, worked out again with a change |
//! | `kind.rs` | the slips that are known |
//! | `units.rs` | units that are confused with each other |
//! | `find.rs` | the slips of one step |
//!
//! Nothing here knows a script: the operations are those of the tape. What a formula shows ([`Visible`]) says how many of
//! them a pupil sees; those nearest to the result are taken first.

mod cone;
mod find;
mod kind;
mod units;

pub use find::{Line, Visible, slips};
pub use kind::{Slip, SlipKind, Term};
