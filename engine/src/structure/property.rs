//! What a member needs to know of its section and its material.

use crate::diagnostic::Refusal;
use crate::material::{Material, Property};
use crate::quantity::Quantity;
use crate::section::Section;
use crate::tape::Number;

/// A cross-section, in the member's axes: y and z are its principal axes through the centroid, which is also taken as
/// the shear centre.
#[derive(Clone, Copy, Debug)]
pub struct SectionProps {
    /// Area, m².
    pub area: Number,
    /// Second moment about y, m⁴: bends under load along z.
    pub i_y: Number,
    /// Second moment about z, m⁴: bends under load along y.
    pub i_z: Number,
    /// Saint-Venant torsion constant, m⁴.
    pub j: Number,
    /// Area that carries a shear force along y, m². Used only where shear is included.
    pub shear_area_y: Number,
    /// Area that carries a shear force along z, m². Used only where shear is included.
    pub shear_area_z: Number,
    /// Elastic section modulus about y, m³.
    pub z_y: Number,
    /// Elastic section modulus about z, m³.
    pub z_z: Number,
    /// Torque over the largest shear stress that it makes, m³: J/r of a round section.
    pub torsion_modulus: Number,
    /// Whether it is round: then the moments about y and z act together on one fibre, √(My² + Mz²)/Z.
    pub round: bool,
}

/// An isotropic material.
#[derive(Clone, Copy, Debug)]
pub struct MaterialProps {
    /// Young's modulus, Pa.
    pub e: Number,
    /// Shear modulus, Pa.
    pub g: Number,
    /// Density, kg/m³, where it is known: gravity and frequencies ask for it.
    pub density: Option<Number>,
}

impl SectionProps {
    /// Of a section in a material with this Poisson's ratio, on which its shear areas depend (Cowper 1966). What bends
    /// the section under a vertical load is bending about the member's y.
    #[must_use]
    pub fn of(section: &Section, poisson: Quantity) -> Self {
        let area = section.area().number();
        Self {
            area,
            i_y: section.second_moment_y().number(),
            i_z: section.second_moment_z().number(),
            j: section.torsion_constant().number(),
            shear_area_y: section.shear_coefficient_sideways(poisson).number() * area,
            shear_area_z: section.shear_coefficient_vertical(poisson).number() * area,
            z_y: section.elastic_modulus_y().number(),
            z_z: section.elastic_modulus_z().number(),
            torsion_modulus: section.torsion_modulus().number(),
            round: section.is_round(),
        }
    }
}

impl MaterialProps {
    /// Of a material.
    ///
    /// # Errors
    /// Young's modulus or the shear modulus is not known.
    pub fn of(material: &Material) -> Result<Self, Refusal> {
        let density = if material.knows(Property::Density) {
            Some(material.density()?.number())
        } else {
            None
        };
        Ok(Self {
            e: material.young()?.number(),
            g: material.shear_modulus()?.number(),
            density,
        })
    }
}
