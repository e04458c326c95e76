//! Stiffness of a member in its own axes, and the end forces of a uniform load.
//!
//! Przemieniecki, *Theory of Matrix Structural Analysis* (1968), beam element with shear deformation (from memory): with
//! Φ = 12 E I/(G As L²) the bending stiffness is E I/(L³ (1 + Φ)) times the rows
//! (12, 6L, −12, 6L), (6L, (4 + Φ)L², −6L, (2 − Φ)L²) and their mirror images; Φ = 0 is Euler-Bernoulli.

use super::axes::EndMoves;
use super::freedom::FREEDOMS;
use super::model::{Member, Structure, positive};
use super::strip::{Release, Square, StripVector, Strips};
use super::vector::{Vector, minus, plus, times};
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

    /// Force and moment of the first node on its end that hold the ends so, in the member's axes; the forces on the
    /// second end follow by balance.
    ///
    /// A member that moves as a whole takes no force: in each strip the stiffnesses with the deflections at a and at b
    /// add up to nothing, so that the one with b's is that with their difference. Working on the difference also loses
    /// fewer digits where a member moves much and is strained little.
    pub(super) fn forces_on_first(&self, moves: &EndMoves) -> [Vector; 2] {
        let k = &self.stiffness;
        let stretch = times(k.stretch[0][1], moves.apart[0]);
        let twist = times(k.twist[0][1], minus(moves.turn_b[0], moves.turn_a[0]));
        let bend = |k: &Square<4>, row: usize, apart: Number, turn_a: Number, turn_b: Number| {
            plus(
                times(k[row][2], apart),
                plus(times(k[row][1], turn_a), times(k[row][3], turn_b)),
            )
        };
        let along_y = |row| bend(&k.bend_y, row, moves.apart[1], moves.turn_a[2], moves.turn_b[2]);
        // Turning about y is slope downward.
        let slopes = [moves.turn_a[1], moves.turn_b[1]].map(|turn| minus(Number::ZERO, turn));
        let along_z = |row| bend(&k.bend_z, row, moves.apart[2], slopes[0], slopes[1]);
        let force = [stretch, along_y(0), along_z(0)];
        let moment = [twist, minus(Number::ZERO, along_z(1)), along_y(1)];
        [force, moment]
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
