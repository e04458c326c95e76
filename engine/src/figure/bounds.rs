//! How much there may be, so that a script that never stops drawing is told so.

use crate::diagnostic::Refusal;

/// Figures that one run may show.
pub const FIGURES: usize = 200;
/// Numbers in one figure.
pub const NUMBERS: usize = 20_000;
/// Lines in one chart: more cannot be told apart.
pub(super) const CURVES: usize = 100;
/// Numbers in all figures that one run shows.
pub const NUMBERS_IN_ALL: usize = 200_000;

/// Refuses a figure with too many numbers.
pub(super) fn fits(numbers: usize) -> Result<(), Refusal> {
    if numbers <= NUMBERS {
        return Ok(());
    }
    Err(Refusal::new(
        "limit",
        format!("a figure may hold {NUMBERS} numbers at most"),
    ))
}
