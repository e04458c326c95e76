//! The angle between two directions.

use super::direction::angle;
use super::triple;
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::quantity::Quantity;
use crate::tape::{self, Number, Relation};

/// The angle between two vectors, 0 to 180°: atan2(|a × b|, a·b).
///
/// Keeps its digits down to the smallest angles, where the inverse cosine of the scalar product loses them (that one is
/// off by about 10⁻¹⁶/θ). Vectors of the same components make exactly 0, and there the derivative is taken as 0: the
/// angle has a kink. Lengths and dimensions of the two do not matter. Plain analytic geometry.
///
/// # Errors
/// A zero vector.
pub fn angle_between(a: Vector, b: Vector) -> Result<Quantity, Refusal> {
    let (u, v) = (a.components(), b.components());
    let (across, along) = (triple::norm(triple::cross(u, v)), triple::dot(u, v));
    // Both are zero where a vector is; else only where vectors are so short that their products are nothing.
    if !tape::require(Number::ZERO, Relation::Less, across + tape::abs(along)) {
        a.unit("the first vector")?;
        b.unit("the second vector")?;
        return Err(Refusal::new(
            "zero vector",
            "both vectors are too short to have an angle between them",
        ));
    }
    Ok(angle(tape::atan2(across, along)))
}

/// The angle by which `from` has to be turned about `axis` to come over `to`, both seen along the axis: −180° to 180°,
/// positive right-handed. Where one of them points along the axis it is 0: nothing is seen of it.
///
/// It is the angle between the plane of axis and `from` and that of axis and `to`: atan2(k·(a × b), a'·b') with k the
/// unit axis, a' and b' the parts square to it. Plain analytic geometry.
///
/// # Errors
/// A zero vector.
pub fn angle_about(axis: Vector, from: Vector, to: Vector) -> Result<Quantity, Refusal> {
    let k = axis.unit("the axis")?;
    let (a, b) = (from.unit("the first vector")?, to.unit("the second vector")?);
    // (k × a)·(k × b) is a'·b'.
    let along = triple::dot(triple::cross(k, a), triple::cross(k, b));
    Ok(angle(tape::atan2(triple::dot(k, triple::cross(a, b)), along)))
}
