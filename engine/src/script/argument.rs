//! What a host program's function is given by a script, and gives back.
//!
//! A value stays on the tape as long as it is a [`Quantity`] or a [`Number`]: there is no way from it to a plain `f64`
//! but the two doors of the language, so a function made of these keeps its derivatives, its ± and its replay.

use super::value;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity};
use crate::tape::Number;

pub use rhai::Dynamic;

/// An argument that is a number or a quantity.
///
/// # Errors
/// Says what it is instead.
pub fn quantity(argument: &Dynamic, what: &str) -> Result<Quantity, Refusal> {
    value::quantity(argument, what)
}

/// The number, in SI units, of an argument that must have this dimension.
///
/// # Errors
/// Names both dimensions, or says what it is instead.
pub fn number(argument: &Dynamic, dimension: Dimension, what: &str) -> Result<Number, Refusal> {
    value::number(argument, dimension, what)
}

/// An argument that is a text, and not one made of a quantity.
///
/// # Errors
/// Says what it is instead.
pub fn text(argument: &Dynamic, what: &str) -> Result<String, Refusal> {
    value::text(argument, what)
}

/// An argument that is a list.
///
/// # Errors
/// Says what it is instead.
pub fn list(argument: &Dynamic, what: &str) -> Result<Vec<Dynamic>, Refusal> {
    value::list(argument, what)
}

/// A result.
pub fn result(quantity: Quantity) -> Dynamic {
    Dynamic::from(quantity)
}
