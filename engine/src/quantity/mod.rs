//! Quantities: a number and what it measures.
//!
//! `dimension.rs` the powers of the base dimensions; `units/` the units, one file a kind.

mod dimension;
pub mod units;

pub use dimension::{Base, Dimension};
pub use units::{Scale, Unit};
