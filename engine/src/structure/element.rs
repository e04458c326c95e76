//! Stiffness of a member in its own axes, and the end forces of a uniform load.
//!
//! Przemieniecki, *Theory of Matrix Structural Analysis* (1968), beam element with shear deformation (from memory): with
//! Φ = 12 E I/(G As L²) the bending stiffness is E I/(L³ (1 + Φ)) times the rows
//! (12, 6L, −12, 6L), (6L, (4 + Φ)L², −6L, (2 − Φ)L²) and their mirror images; Φ = 0 is Euler-Bernoulli.

use super::freedom::FREEDOMS;
use super::model::{Member, Structure, positive};
use super::strip::{Release, Square, StripVector, Strips};
use super::vector::Vector;
use crate::diagnostic::Refusal;
use crate::tape::Number;

/// A member's stiffness with its releases done.
#[derive(Clone, Debug)]
pub(super) struct Element {
    pub(super) stiffness: Strips,
    pub(super) release: Release,
    length: Number,
}

/// The shear parameters Φ of bending along y and along z; `None` for Euler-Bernoulli.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shear {
    pub(super) along_y: Option<Number>,
    pub(super) along_z: Option<Number>,
}

impl Element {
    pub(super) fn of(structure: &Structure, place: usize) -> Result<Self, Refusal> {
        let member = &structure.members.items()[place];
        if structure.shear {
            let needed = [(member.section.shear_area_y, "y"), (member.section.shear_area_z, "z")];
            for (area, axis) in needed {
                positive(area, 0.0, || {
                    let name = structure.members.name(place);
                    format!(
                        "the shear area along {axis} of member {name:?} must be more than zero where shear is included"
                    )
                })?;
            }
        }
        Ok(Self::part(
            member,
            member.axes.length,
            structure.shear,
            &member.released,
        ))
    }

    /// A piece of the member of this length with these releases.
    pub(super) fn part(member: &Member, length: Number, shear: bool, released: &[[bool; FREEDOMS]; 2]) -> Self {
        let mut stiffness = stiffness(member, length, shear_of(member, length, shear));
        let release = Release::of(&mut stiffness, released);
        Self {
            stiffness,
            release,
            length,
        }
    }

    /// Forces of the nodes on the ends under a uniform load `q` (N/m, member's axes) while the nodes stay where they
    /// are: q L/2 and q L²/12 with or without shear, then the releases.
    pub(super) fn fixed_end_forces(&self, q: Vector) -> StripVector {
        let half = self.length / 2.0;
        let moment = self.length * self.length / 12.0;
        let bend = |q: Number| [-(q * half), -(q * moment), -(q * half), q * moment];
        let mut forces = StripVector {
            stretch: [-(q[0] * half); 2],
            twist: [Number::ZERO; 2],
            bend_y: bend(q[1]),
            bend_z: bend(q[2]),
        };
        self.release.on_forces(&mut forces);
        forces
    }

    /// Forces of the nodes on the ends that hold these displacements.
    pub(super) fn end_forces(&self, displacements: &StripVector) -> StripVector {
        StripVector {
            stretch: product(&self.stiffness.stretch, &displacements.stretch),
            twist: product(&self.stiffness.twist, &displacements.twist),
            bend_y: product(&self.stiffness.bend_y, &displacements.bend_y),
            bend_z: product(&self.stiffness.bend_z, &displacements.bend_z),
        }
    }
}

impl StripVector {
    pub(super) fn plus(&self, other: &Self) -> Self {
        Self {
            stretch: std::array::from_fn(|i| self.stretch[i] + other.stretch[i]),
            twist: std::array::from_fn(|i| self.twist[i] + other.twist[i]),
            bend_y: std::array::from_fn(|i| self.bend_y[i] + other.bend_y[i]),
            bend_z: std::array::from_fn(|i| self.bend_z[i] + other.bend_z[i]),
        }
    }
}

/// Φ = 12 E I/(G As L²) of both planes.
pub(super) fn shear_of(member: &Member, length: Number, shear: bool) -> Shear {
    let (section, material) = (&member.section, &member.material);
    let parameter = |i: Number, area: Number| 12.0 * material.e * i / (material.g * area * length * length);
    Shear {
        along_y: shear.then(|| parameter(section.i_z, section.shear_area_y)),
        along_z: shear.then(|| parameter(section.i_y, section.shear_area_z)),
    }
}

fn stiffness(member: &Member, length: Number, shear: Shear) -> Strips {
    let (section, material) = (&member.section, &member.material);
    Strips {
        stretch: pair(material.e * section.area / length),
        twist: pair(material.g * section.j / length),
        bend_y: bending(material.e * section.i_z, length, shear.along_y),
        bend_z: bending(material.e * section.i_y, length, shear.along_z),
    }
}

fn pair(k: Number) -> Square<2> {
    [[k, -k], [-k, k]]
}

fn bending(ei: Number, length: Number, shear: Option<Number>) -> Square<4> {
    let over_length = match shear {
        None => ei / length,
        Some(phi) => ei / (length * (1.0 + phi)),
    };
    let force = 12.0 * over_length / (length * length);
    let couple = 6.0 * over_length / length;
    let (near, far) = match shear {
        None => (4.0 * over_length, 2.0 * over_length),
        Some(phi) => ((4.0 + phi) * over_length, (2.0 - phi) * over_length),
    };
    [
        [force, couple, -force, couple],
        [couple, near, -couple, far],
        [-force, -couple, force, -couple],
        [couple, far, -couple, near],
    ]
}

fn product<const N: usize>(k: &Square<N>, u: &[Number; N]) -> [Number; N] {
    std::array::from_fn(|i| {
        let mut sum = k[i][0] * u[0];
        for j in 1..N {
            sum = sum + k[i][j] * u[j];
        }
        sum
    })
}
