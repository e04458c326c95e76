//! What a shop may measure on a section and what cannot be.

use crate::diagnostic::Refusal;
use crate::material::positive;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{Number, Relation};

type Result<T> = std::result::Result<T, Refusal>;

/// A length above zero.
pub(super) fn length(quantity: Quantity, what: &str) -> Result<Number> {
    positive(quantity, Dimension::LENGTH, what)
}

/// Refuses a wall that reaches the middle of a side.
pub(super) fn leaves_a_hole(wall: Quantity, thickness: Number, half: Number, side: Quantity, name: &str) -> Result<()> {
    let refusal = || {
        let message = format!(
            "the wall ({}) must be thinner than half of the {name} ({})",
            wall.shown(),
            side.shown()
        );
        Refusal::new("wall", message)
    };
    let half = Quantity::of(half, Dimension::LENGTH);
    Quantity::of(thickness, Dimension::LENGTH).require(Relation::Less, half, refusal)
}

/// An outside corner radius, from zero to half of each side.
pub(super) fn corner_radius(corner: Quantity, sides: [Quantity; 2]) -> Result<Number> {
    let radius = corner.expect(Dimension::LENGTH, "the corner radius")?;
    let zero = Quantity::constant(0.0, Dimension::LENGTH);
    zero.require(Relation::LessOrEqual, corner, || {
        let message = format!("the corner radius must not be below zero, this is {}", corner.shown());
        Refusal::new("corner", message)
    })?;
    for side in sides {
        let half = side.div(Quantity::plain(2.0))?;
        corner.require(Relation::LessOrEqual, half, || {
            let (corner, side) = (corner.shown(), side.shown());
            let message = format!("the corner radius ({corner}) must not exceed half of a side of {side}");
            Refusal::new("corner", message)
        })?;
    }
    Ok(radius)
}
