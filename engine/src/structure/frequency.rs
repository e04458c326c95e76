//! Natural frequencies.
//!
//! **How finely.** For the n-th frequency every member is divided into 4 (n + 1) pieces, whatever its values are, so that
//! a replay does the same. The n-th shape has at most about n + ½ half waves in one member, so a half wave spans at least four
//! pieces and mostly more; the error of the frequency is then (kh)⁴/1440 in bending and (kh)⁴/480 in stretching and
//! twisting, kh ≤ π/4 being the phase within a piece: at most 0.03 % and 0.08 %, within the 0.1 % that counts as settled.

use super::assembly::{Entries, Unknowns};
use super::body::Seat;
use super::element::Element;
use super::freedom::{FREEDOMS, NAMES};
use super::mass;
use super::model::Member;
use super::results::{Solution, Solved};
use crate::diagnostic::Refusal;
use crate::kernel::eigen;
use crate::kernel::ldlt::{Factor, Pattern, Plan};
use crate::tape::{self, EigenPlan, Number};
use std::sync::Arc;

const HIGHEST: usize = 20;
const MOST_PIECES: usize = 4000;
const NO_RELEASE: [bool; FREEDOMS] = [false; FREEDOMS];

impl Solution {
    /// The `n`-th natural frequency, counted from 1, Hz: free vibration about rest, no damping; springs and supports as
    /// they are, members' own mass and point masses.
    ///
    /// # Errors
    /// `n` of 0 or above 20 or above the number of freedoms; more than 4000 pieces; a density that is not known; a freedom without mass.
    pub fn frequency(&self, n: usize) -> Result<Number, Refusal> {
        let solved = self.solved();
        let pieces = pieces(solved, n)?;
        let model = Divided::of(solved, pieces)?;
        let (stiffness_places, stiffness) = model.stiffness.among(&model.unknowns);
        let (mass_places, mass) = model.mass.among(&model.unknowns);
        if n > model.unknowns.count() {
            let message = format!(
                "the structure has {} freedoms; it has no frequency {n}",
                model.unknowns.count()
            );
            return Err(Refusal::new("structure", message));
        }
        refuse_massless(solved, &model.unknowns, &mass_places, &mass)?;
        let plan = eigen::EigenPlan::new(stiffness_places, mass_places).expect("both matrices have the same unknowns");
        let plan = Arc::new(EigenPlan::new(plan, n - 1));
        let square = tape::eigenvalue(&plan, &stiffness, &mass);
        Ok(tape::sqrt(square) / (2.0 * std::f64::consts::PI))
    }
}

/// Into how many pieces each member is divided.
fn pieces(solved: &Solved, n: usize) -> Result<usize, Refusal> {
    if n == 0 || n > HIGHEST {
        let message = format!("frequencies are counted from 1 to {HIGHEST}, this is {n}");
        return Err(Refusal::new("structure", message));
    }
    let pieces = 4 * (n + 1);
    let members = solved.structure.members.items().len();
    if members * pieces > MOST_PIECES {
        let message = format!(
            "frequency {n} divides each of {members} members into {pieces} pieces; at most {MOST_PIECES} pieces fit"
        );
        return Err(Refusal::new("limit", message).hint("ask for a lower frequency, or leave out minor members"));
    }
    Ok(pieces)
}

/// The structure with its members divided: the nodes between follow the nodes it has.
struct Divided {
    stiffness: Entries,
    mass: Entries,
    unknowns: Unknowns,
}

impl Divided {
    fn of(solved: &Solved, pieces: usize) -> Result<Self, Refusal> {
        let structure = &solved.structure;
        let nodes = structure.nodes.items().len();
        let between = structure.members.items().len() * (pieces - 1);
        let freedoms = solved.unknowns.freedoms();
        let unknowns = Unknowns::of(FREEDOMS * (nodes + between), |freedom| {
            freedom >= FREEDOMS * nodes || freedoms.binary_search(&freedom).is_ok()
        });
        let mut divided = Self {
            stiffness: Entries::default(),
            mass: Entries::default(),
            unknowns,
        };
        for (at, member) in structure.members.items().iter().enumerate() {
            let ends = member.ends.map(|end| solved.bodies.seat(end));
            let first = nodes + at * (pieces - 1);
            divided.add(member, structure.density(at)?, structure.shear, pieces, ends, first);
        }
        for (at, node) in structure.nodes.items().iter().enumerate() {
            let seat = solved.bodies.seat(at);
            divided.stiffness.add_diagonal(node.springs, &seat);
            let [x, y, z] = [node.mass; 3];
            divided.mass.add_diagonal([x, y, z, None, None, None], &seat);
        }
        Ok(divided)
    }

    /// A member's pieces. All but the two at its ends are alike.
    fn add(
        &mut self,
        member: &Member,
        density: Number,
        shear: bool,
        pieces: usize,
        ends: [Seat; 2],
        first_between: usize,
    ) {
        let length = member.axes.length / pieces as f64;
        let whole_mass = mass::of_piece(member, density, length, shear);
        let piece = |released: [[bool; FREEDOMS]; 2]| {
            let element = Element::part(member, length, shear, &released);
            let mut mass = whole_mass;
            element.release.on_mass(&mut mass);
            (member.axes.turned(&element.stiffness), member.axes.turned(&mass))
        };
        let [at_a, at_b] = member.released;
        let kinds = [
            piece([at_a, NO_RELEASE]),
            piece([NO_RELEASE; 2]),
            piece([NO_RELEASE, at_b]),
        ];
        for number in 0..pieces {
            let from = if number == 0 {
                ends[0]
            } else {
                Seat::own(first_between + number - 1)
            };
            let to = if number + 1 == pieces {
                ends[1]
            } else {
                Seat::own(first_between + number)
            };
            let (stiffness, mass) = match number {
                0 => &kinds[0],
                _ if number + 1 == pieces => &kinds[2],
                _ => &kinds[1],
            };
            self.stiffness.add_member(stiffness, &from, &to);
            self.mass.add_member(mass, &from, &to);
        }
    }
}

/// The operation says only that it does not settle: here the freedom is named that has no mass.
fn refuse_massless(solved: &Solved, unknowns: &Unknowns, places: &Pattern, mass: &[Number]) -> Result<(), Refusal> {
    let values: Vec<f64> = mass.iter().map(|value| value.shown()).collect();
    if !values.iter().all(|value| value.is_finite()) {
        return Ok(());
    }
    let plan = Plan::new(places.clone());
    let Err(singular) = Factor::new(&plan, &values) else {
        return Ok(());
    };
    let freedom = unknowns.freedoms()[singular.unknown];
    let nodes = solved.structure.nodes.names();
    let place = match nodes.get(freedom / FREEDOMS) {
        Some(node) => format!("node {node:?} has no mass in {:?}", NAMES[freedom % FREEDOMS]),
        None => "a member has no mass".to_owned(),
    };
    Err(Refusal::new(
        "structure",
        format!("{place}: a frequency needs mass in every direction that is free"),
    )
    .hint("give the members a density")
    .hint("hold the directions that have no mass"))
}
