//! What the statements do when the language reaches them.
//!
//! | file | what it is |
//! |---|---|
//! | `doing.rs` | a statement being carried out: its parts, where it stands |
//! | `input.rs` | inputs and assumptions |
//! | `step.rs` | steps |
//! | `check.rs` | checks, preferences, requirements |
//! | `remark.rs` | headings, notes, cautions, figures |
//! | `value.rs` | values as the outcome has them |
//! | `enough.rs` | how much there may be |

mod check;
mod doing;
mod enough;
mod input;
mod remark;
mod step;
mod value;

pub(super) use doing::add_statements;
pub(super) use input::not_at_top;
pub(super) use value::{amounts, comparable};
