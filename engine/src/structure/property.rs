//! What a member needs to know of its section and its material.

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
    /// Density, kg/m³.
    pub density: Number,
}
