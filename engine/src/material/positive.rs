//! A reading that must have a dimension and lie above zero.

use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{Number, Relation};

/// Its number, if it has the dimension asked for and is above zero, now and in every replay.
///
/// # Errors
/// `what` (with its article: "the wall") and what it is.
pub(crate) fn positive(quantity: Quantity, dimension: Dimension, what: &str) -> Result<Number, Refusal> {
    let number = quantity.expect(dimension, what)?;
    Quantity::constant(0.0, quantity.dimension()).require(Relation::Less, quantity, || {
        Refusal::new(
            "not positive",
            format!("{what} must be above zero, this is {}", quantity.shown()),
        )
    })?;
    Ok(number)
}
