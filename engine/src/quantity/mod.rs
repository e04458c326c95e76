//! Quantities: a number and what it measures.
//!
//! `dimension.rs` the powers of the base dimensions; `arithmetic.rs` a number with its dimension; `units/` the units, one
//! file a kind; `words.rs` dimensions in words.

mod arithmetic;
mod dimension;
pub mod units;
pub mod words;

pub use arithmetic::Quantity;
pub use dimension::{Base, Dimension};
pub use units::{Scale, Unit};

pub(crate) fn shown(si: f64, _d: Dimension, _s: Scale) -> String {
    format!("{si}")
}
