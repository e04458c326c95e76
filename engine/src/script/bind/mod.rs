//! The functions of the language, one file a concept.
//!
//! `operators.rs` what signs do, `units.rs` units as properties, `numbers.rs` arithmetic and functions of one number,
//! `text.rs` texts, lists and maps, `geometry/` points, lines and bodies, `section.rs` and `material.rs` what members are
//! made of.

mod geometry;
mod material;
mod numbers;
mod operators;
mod section;
mod text;
mod units;

use super::native::Functions;

pub(crate) use operators::compare;

/// Adds all functions of the language.
pub(crate) fn all(functions: &mut Functions) {
    operators::add(functions);
    units::add(functions);
    numbers::add(functions);
    text::add(functions);
    geometry::add(functions);
    section::add(functions);
    material::add(functions);
}
