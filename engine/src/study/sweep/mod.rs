//! What happens between here and there: results and verdicts at many values of one input or two.
//!
//! | file | what it is |
//! |---|---|
//! | `swept.rs` | what is swept, and what comes of it |
//! | `study.rs` | points, each sampled as a run is |
//! | `changes.rs` | where verdicts change between the points of one axis |

mod changes;
mod study;
mod swept;

pub use study::sweep;
pub use swept::{Axis, Change, Number, Point, Sweep, Swept, SweptCheck};
