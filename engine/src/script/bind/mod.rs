//! The functions of the language, one file a concept.
//!
//! `operators.rs` what signs do, `units.rs` units as properties, `numbers.rs` arithmetic and functions of one number
//! (`hyperbolic.rs` some of them),
//! `text.rs` texts, `lists.rs` lists, `geometry/` points, lines and bodies, `section.rs` and `material.rs` what members are
//! made of, `conductor.rs`, `fastener.rs` and `tyre.rs` tables of the trade,
//! `structure/` frames, `figure/` pictures and tables.

mod conductor;
mod fastener;
mod figure;
mod geometry;
mod hyperbolic;
mod lists;
mod material;
mod numbers;
mod operators;
mod section;
mod structure;
mod text;
mod tyre;
mod units;

use super::native::Functions;
use rhai::Dynamic;

pub(super) use figure::figure;

/// Adds all functions of the language.
pub(crate) fn all(functions: &mut Functions) {
    operators::add(functions);
    units::add(functions);
    numbers::add(functions);
    text::add(functions);
    lists::add(functions);
    geometry::add(functions);
    section::add(functions);
    material::add(functions);
    conductor::add(functions);
    fastener::add(functions);
    tyre::add(functions);
    structure::add(functions);
    figure::add(functions);
}

/// A list of texts, as `one_of` takes it.
fn texts<T: Into<String>>(names: Vec<T>) -> Dynamic {
    let names = names.into_iter().map(|name| Dynamic::from(name.into()));
    Dynamic::from(names.collect::<Vec<_>>())
}
