//! Inputs: which value a run was given for a name.
//!
//! | file | what it is |
//! |---|---|
//! | `admit.rs` | the value given for an input or the script's own, part by part |
//! | `plain.rs` | texts, yes or no, whole numbers |
//! | `quantity.rs` | one quantity: as written, of the tape, as repeats |
//! | `point.rs` | points and vectors, three numbers with one ± |
//! | `whole.rs` | lists and maps, item by item |
//! | `admissible.rs` | what may be entered: `from … to`, `one_of` |
//! | `repeats.rs` | what repeats of a reading say about themselves |
//! | `refused.rs` | what does not fit |

mod admissible;
mod admit;
mod plain;
mod point;
mod quantity;
mod refused;
mod repeats;
mod whole;

pub(super) use admissible::{Choices, choices, range};
pub(super) use admit::{Declared, admit};
