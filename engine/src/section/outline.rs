//! What every shape must know of itself, in numbers of SI units.

use crate::tape::Number;

/// One of the two axes of a section through its centroid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Axis {
    /// Across: bent about it by a vertical load.
    Y,
    /// Upright: bent about it by a load from the side.
    Z,
}

/// A shape that is symmetric about both axes.
pub(super) trait Outline {
    /// What a shop calls it, with its article: "a round tube".
    fn name(&self) -> &'static str;

    /// Area of the material, m².
    fn area(&self) -> Number;

    /// Second moment of area about the axis, m⁴.
    fn second_moment(&self, about: Axis) -> Number;

    /// First moment of the areas on both sides of the axis, each counted positive (plastic section modulus), m³.
    fn plastic_modulus(&self, about: Axis) -> Number;

    /// Distance of the outermost fibre from the axis, m.
    fn outermost(&self, from: Axis) -> Number;

    /// Saint-Venant torsion constant J (twist per length = T / (G J)), m⁴.
    fn torsion_constant(&self) -> Number;

    /// Torsion modulus (largest shear stress = T / it), m³.
    fn torsion_modulus(&self) -> Number;

    /// Share of the area that carries shear after Cowper, for a load that bends about the axis, from Poisson's ratio.
    fn shear_coefficient(&self, bent_about: Axis, poisson: Number) -> Number;
}
