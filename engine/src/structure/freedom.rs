//! The six freedoms of a node.

use crate::diagnostic::{Refusal, nearest};

/// How many freedoms a node has: three displacements, three rotations.
pub(super) const FREEDOMS: usize = 6;

/// Their names, in the order in which they are stored.
pub(super) const NAMES: [&str; FREEDOMS] = ["x", "y", "z", "rx", "ry", "rz"];

/// The place of a freedom, by name.
pub(super) fn freedom(name: &str) -> Result<usize, Refusal> {
    NAMES.iter().position(|known| *known == name).ok_or_else(|| {
        let message = format!("there is no direction {name:?}; there are {}", NAMES.join(", "));
        let near = nearest(name, NAMES.into_iter()).map(|near| format!("{near:?}"));
        Refusal::new("structure", message).maybe_hint(near)
    })
}
