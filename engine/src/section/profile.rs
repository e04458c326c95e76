//! Any of the shapes, made from what a shop measures.

use super::flat_bar::FlatBar;
use super::limits::{corner_radius, leaves_a_hole, length};
use super::outline::{Axis, Outline};
use super::rectangular_tube::RectangularTube;
use super::round::Round;
use crate::diagnostic::Refusal;
use crate::material::Material;
use crate::quantity::{Dimension, Quantity};
use crate::tape::{self, Number};

type Result<T> = std::result::Result<T, Refusal>;

/// The cross-section of a member.
///
/// y lies across and z stands up; "about y" is what a vertical load bends. What is asked of it is calculated then, on
/// the tape.
#[derive(Clone, Copy, Debug)]
pub struct Section(Shape);

#[derive(Clone, Copy, Debug)]
enum Shape {
    Round(Round),
    RectangularTube(RectangularTube),
    FlatBar(FlatBar),
}

/// What a shop measures.
impl Section {
    /// A round tube from its outside diameter and its wall.
    ///
    /// # Errors
    /// Not lengths above zero; a wall that leaves no hole.
    pub fn round_tube(outside_diameter: Quantity, wall: Quantity) -> Result<Self> {
        let diameter = length(outside_diameter, "the outside diameter")?;
        let thickness = length(wall, "the wall")?;
        let outer = diameter / 2.0;
        leaves_a_hole(wall, thickness, outer, outside_diameter, "outside diameter")
            .map_err(|refusal| refusal.hint("a bar without a hole is round_bar(d)"))?;
        let inner = outer - thickness;
        Ok(Self(Shape::Round(Round { outer, inner })))
    }

    /// A round bar from its diameter.
    ///
    /// # Errors
    /// Not a length above zero.
    pub fn round_bar(diameter: Quantity) -> Result<Self> {
        let outer = length(diameter, "the diameter")? / 2.0;
        let inner = Number::ZERO;
        Ok(Self(Shape::Round(Round { outer, inner })))
    }

    /// A rectangular tube from its outside width (across), outside height (up), its wall, and the outside radius of its
    /// corners; sharp without one.
    ///
    /// # Errors
    /// Not lengths above zero; a wall that leaves no hole; a corner wider than half a side.
    pub fn rect_tube(width: Quantity, height: Quantity, wall: Quantity, corner: Option<Quantity>) -> Result<Self> {
        let across = length(width, "the width")?;
        let up = length(height, "the height")?;
        let thickness = length(wall, "the wall")?;
        leaves_a_hole(wall, thickness, across / 2.0, width, "width")?;
        leaves_a_hole(wall, thickness, up / 2.0, height, "height")?;
        let radius = match corner {
            Some(corner) => corner_radius(corner, [width, height])?,
            None => Number::ZERO,
        };
        Ok(Self(Shape::RectangularTube(RectangularTube {
            width: across,
            height: up,
            wall: thickness,
            corner: radius,
        })))
    }

    /// A flat (or square) bar from its width (across) and height (up).
    ///
    /// # Errors
    /// Not lengths above zero.
    pub fn flat_bar(width: Quantity, height: Quantity) -> Result<Self> {
        let width = length(width, "the width")?;
        let height = length(height, "the height")?;
        Ok(Self(Shape::FlatBar(FlatBar { width, height })))
    }
}

/// What every shape answers.
impl Section {
    /// What a shop calls it, with its article: "a round tube".
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.outline().name()
    }

    /// Whether it is round, so that no axis is preferred.
    #[must_use]
    pub fn is_round(&self) -> bool {
        matches!(self.0, Shape::Round(_))
    }

    /// Area of the material.
    #[must_use]
    pub fn area(&self) -> Quantity {
        Quantity::of(self.outline().area(), Dimension::AREA)
    }

    /// Second moment of area about y: bent by a vertical load.
    #[must_use]
    pub fn second_moment_y(&self) -> Quantity {
        self.second_moment_about(Axis::Y)
    }

    /// Second moment of area about z: bent by a load from the side.
    #[must_use]
    pub fn second_moment_z(&self) -> Quantity {
        self.second_moment_about(Axis::Z)
    }

    /// Elastic section modulus about y: bending stress at the outermost fibre = M / it.
    #[must_use]
    pub fn elastic_modulus_y(&self) -> Quantity {
        self.elastic_modulus_about(Axis::Y)
    }

    /// Elastic section modulus about z.
    #[must_use]
    pub fn elastic_modulus_z(&self) -> Quantity {
        self.elastic_modulus_about(Axis::Z)
    }

    /// Plastic section modulus about y: the moment at which the whole section yields = yield strength × it.
    #[must_use]
    pub fn plastic_modulus_y(&self) -> Quantity {
        Quantity::of(self.outline().plastic_modulus(Axis::Y), Dimension::VOLUME)
    }

    /// Plastic section modulus about z.
    #[must_use]
    pub fn plastic_modulus_z(&self) -> Quantity {
        Quantity::of(self.outline().plastic_modulus(Axis::Z), Dimension::VOLUME)
    }

    /// Torsion constant J: twist per length = T / (G J). Exact for round and flat, Bredt for a rectangular tube.
    #[must_use]
    pub fn torsion_constant(&self) -> Quantity {
        Quantity::of(self.outline().torsion_constant(), Dimension::SECOND_MOMENT)
    }

    /// Torsion modulus: largest shear stress = T / it.
    #[must_use]
    pub fn torsion_modulus(&self) -> Quantity {
        Quantity::of(self.outline().torsion_modulus(), Dimension::VOLUME)
    }

    /// Radius of gyration √(I/A) about y.
    #[must_use]
    pub fn radius_of_gyration_y(&self) -> Quantity {
        self.radius_of_gyration_about(Axis::Y)
    }

    /// Radius of gyration about z.
    #[must_use]
    pub fn radius_of_gyration_z(&self) -> Quantity {
        self.radius_of_gyration_about(Axis::Z)
    }

    /// The smaller radius of gyration, which decides how a strut buckles.
    #[must_use]
    pub fn radius_of_gyration(&self) -> Quantity {
        let about_y = self.radius_of_gyration_y();
        if self.is_round() {
            return about_y;
        }
        let (y, z) = (about_y.number(), self.radius_of_gyration_z().number());
        // Not `min`, whose derivative is zero where both are equal: a square tube.
        let least = tape::if_less(y, z, y, z);
        Quantity::of(least, Dimension::LENGTH)
    }

    /// Mass per length of this section in a material.
    ///
    /// # Errors
    /// A material whose density is not known.
    pub fn mass_per_length(&self, material: &Material) -> Result<Quantity> {
        self.area().mul(material.density()?)
    }

    /// Distance of the outermost fibre from y: half of the height.
    #[must_use]
    pub fn half_height(&self) -> Quantity {
        Quantity::of(self.outline().outermost(Axis::Y), Dimension::LENGTH)
    }

    /// Distance of the outermost fibre from z: half of the width.
    #[must_use]
    pub fn half_width(&self) -> Quantity {
        Quantity::of(self.outline().outermost(Axis::Z), Dimension::LENGTH)
    }

    /// Share of the area that carries a vertical shear force in Timoshenko's beam theory (Cowper 1966), from Poisson's
    /// ratio.
    #[must_use]
    pub fn shear_coefficient_vertical(&self, poisson: Quantity) -> Quantity {
        Quantity::of(
            self.outline().shear_coefficient(Axis::Y, poisson.number()),
            Dimension::NONE,
        )
    }

    /// The same for a shear force from the side.
    #[must_use]
    pub fn shear_coefficient_sideways(&self, poisson: Quantity) -> Quantity {
        Quantity::of(
            self.outline().shear_coefficient(Axis::Z, poisson.number()),
            Dimension::NONE,
        )
    }
}

/// What only a round section answers, since it has no preferred axis.
impl Section {
    /// Second moment of area about any diameter.
    ///
    /// # Errors
    /// A section that is not round.
    pub fn second_moment(&self) -> Result<Quantity> {
        self.only_round("second moments of area", "I")?;
        Ok(self.second_moment_y())
    }

    /// Elastic section modulus about any diameter.
    ///
    /// # Errors
    /// A section that is not round.
    pub fn elastic_modulus(&self) -> Result<Quantity> {
        self.only_round("section moduli", "Z")?;
        Ok(self.elastic_modulus_y())
    }

    /// Outside diameter.
    ///
    /// # Errors
    /// A section that is not round.
    pub fn outside_diameter(&self) -> Result<Quantity> {
        self.round()
            .map(|round| Quantity::of(2.0 * round.outer, Dimension::LENGTH))
    }

    /// Inside diameter; zero of a bar.
    ///
    /// # Errors
    /// A section that is not round.
    pub fn inside_diameter(&self) -> Result<Quantity> {
        self.round()
            .map(|round| Quantity::of(2.0 * round.inner, Dimension::LENGTH))
    }

    fn round(&self) -> Result<&Round> {
        match &self.0 {
            Shape::Round(round) => Ok(round),
            _ => Err(Refusal::new("section", format!("{} has no diameter", self.name()))),
        }
    }

    fn only_round(&self, what: &str, symbol: &str) -> Result<()> {
        if self.is_round() {
            return Ok(());
        }
        let message = format!("{} has two {what}, about y and about z", self.name());
        Err(Refusal::new("axis", message).hint(format!(
            "{symbol}_y where a vertical load bends it, {symbol}_z where a load from the side does"
        )))
    }
}

impl Section {
    fn outline(&self) -> &dyn Outline {
        match &self.0 {
            Shape::Round(round) => round,
            Shape::RectangularTube(tube) => tube,
            Shape::FlatBar(bar) => bar,
        }
    }

    fn second_moment_about(&self, axis: Axis) -> Quantity {
        Quantity::of(self.outline().second_moment(axis), Dimension::SECOND_MOMENT)
    }

    fn elastic_modulus_about(&self, axis: Axis) -> Quantity {
        let outline = self.outline();
        Quantity::of(outline.second_moment(axis) / outline.outermost(axis), Dimension::VOLUME)
    }

    fn radius_of_gyration_about(&self, axis: Axis) -> Quantity {
        let outline = self.outline();
        Quantity::of(
            tape::sqrt(outline.second_moment(axis) / outline.area()),
            Dimension::LENGTH,
        )
    }
}
