//! Quantities: a number and what it measures.
//!
//! `dimension.rs` the powers of the base dimensions.

mod dimension;

pub use dimension::{Base, Dimension};
