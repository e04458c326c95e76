//! Quantities: a number and what it measures.
//!
//! `dimension.rs` the powers of the base dimensions; `arithmetic.rs` a number with its dimension; `units/` the units, one
//! file a kind; `words.rs` dimensions in words; `text/` reading from what a person writes and writing for people.

mod arithmetic;
mod dimension;
pub mod text;
pub mod units;
pub mod words;

pub use arithmetic::Quantity;
pub use dimension::{Base, Dimension};
pub(crate) use text::shown;
pub use units::{Scale, Unit};
