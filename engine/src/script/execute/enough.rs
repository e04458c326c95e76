//! How much of everything there may be.

use crate::diagnostic::Refusal;
use crate::script::limits;

/// Refuses more results than a script may have.
pub(super) fn limit(count: usize, what: &str) -> Result<(), Refusal> {
    within(count, limits::RESULTS, "a script may have", what)
}

/// Refuses more of what there may be so much of.
pub(super) fn within(count: usize, most: usize, may: &str, what: &str) -> Result<(), Refusal> {
    if count <= most {
        return Ok(());
    }
    Err(Refusal::new("limit", format!("{may} {most} {what} at most")))
}
