//! One factorisation for all load cases.

use super::assembly::{Entries, Unknowns};
use super::body::Bodies;
use super::element::Element;
use super::free_motion;
use super::freedom::FREEDOMS;
use super::loading::LoadCase;
use super::model::Structure;
use super::results::{CaseState, Solution, Solved};
use super::vector::{self, Vector};
use crate::diagnostic::Refusal;
use crate::kernel::ldlt::Factor;
use crate::tape::{self, Number, SolvePlan};
use std::sync::Arc;

impl Structure {
    /// Finds how the structure gives way under each of its load cases.
    ///
    /// # Errors
    /// No nodes; a rigid body supported at two nodes or with a member inside; a shear area that is not positive where
    /// shear is included; gravity on a member of unknown density; an unstable structure, whose free motion is named.
    pub fn solve(&self) -> Result<Solution, Refusal> {
        if self.nodes.items().is_empty() {
            return Err(Refusal::new("structure", "the structure has no nodes").hint("node(\"a\", point(…)) adds one"));
        }
        let structure = self.with_a_case()?;
        let bodies = Bodies::of(&structure)?;
        let elements = (0..structure.members.items().len())
            .map(|place| Element::of(&structure, place))
            .collect::<Result<Vec<_>, _>>()?;
        let stiffness = stiffness(&structure, &bodies, &elements);
        let unknowns = unknowns(&structure, &bodies);
        let cases = structure.cases.items().iter().map(|case| Applied::of(&structure, case));
        let cases = cases.collect::<Result<Vec<_>, _>>()?;
        let forces: Vec<_> = cases
            .iter()
            .map(|case| nodal_forces(&structure, &bodies, &elements, case))
            .collect();
        let displacements = displacements(&structure, &bodies, &stiffness, &unknowns, &forces)?;
        let states = cases.into_iter().zip(forces).zip(displacements);
        let states = states
            .map(|((applied, forces), displacements)| CaseState {
                applied,
                forces,
                displacements,
            })
            .collect();
        Ok(Solution::new(Solved {
            structure,
            bodies,
            elements,
            stiffness,
            unknowns,
            states,
        }))
    }
}

/// The loads of one case, gathered by what they act on.
#[derive(Clone, Debug)]
pub(super) struct Applied {
    /// Force and moment on each node.
    pub(super) nodes: Vec<(Vector, Vector)>,
    /// Force per length on each member that has any, vehicle axes.
    pub(super) members: Vec<Option<Vector>>,
}

impl Applied {
    fn of(structure: &Structure, case: &LoadCase) -> Result<Self, Refusal> {
        let mut nodes = vec![(vector::ZERO, vector::ZERO); structure.nodes.items().len()];
        let mut members: Vec<Option<Vector>> = vec![None; structure.members.items().len()];
        for (node, force) in &case.forces {
            nodes[*node].0 = vector::add(nodes[*node].0, *force);
        }
        for (node, moment) in &case.moments {
            nodes[*node].1 = vector::add(nodes[*node].1, *moment);
        }
        let mut spread = |member: usize, load: Vector| {
            members[member] = Some(members[member].map_or(load, |before| vector::add(before, load)));
        };
        for (member, load) in &case.distributed {
            spread(*member, *load);
        }
        let gravity = case.gravity.iter().copied().reduce(vector::add);
        let Some(gravity) = gravity else {
            return Ok(Self { nodes, members });
        };
        for (at, member) in structure.members.items().iter().enumerate() {
            spread(at, vector::scale(member.section.area * structure.density(at)?, gravity));
        }
        for (at, node) in structure.nodes.items().iter().enumerate() {
            if let Some(mass) = node.mass {
                nodes[at].0 = vector::add(nodes[at].0, vector::scale(mass, gravity));
            }
        }
        Ok(Self { nodes, members })
    }
}

fn stiffness(structure: &Structure, bodies: &Bodies, elements: &[Element]) -> Entries {
    let mut entries = Entries::default();
    for (member, element) in structure.members.items().iter().zip(elements) {
        let [a, b] = member.ends.map(|end| bodies.seat(end));
        entries.add_member(&member.axes.turned(&element.stiffness), &a, &b);
    }
    for (at, node) in structure.nodes.items().iter().enumerate() {
        entries.add_diagonal(node.springs, &bodies.seat(at));
    }
    entries
}

/// The freedoms of leading nodes that no support holds.
fn unknowns(structure: &Structure, bodies: &Bodies) -> Unknowns {
    let nodes = structure.nodes.items();
    Unknowns::of(FREEDOMS * nodes.len(), |freedom| {
        let node = freedom / FREEDOMS;
        bodies.seat(node).leader == node && !nodes[node].held[freedom % FREEDOMS]
    })
}

/// The loads of one case on all freedoms of leading nodes.
fn nodal_forces(structure: &Structure, bodies: &Bodies, elements: &[Element], case: &Applied) -> Vec<Number> {
    let mut forces = vec![Number::ZERO; FREEDOMS * structure.nodes.items().len()];
    let mut put = |node: usize, force: Vector, moment: Vector| {
        let seat = bodies.seat(node);
        let (force, moment) = seat.carry(force, moment);
        for (i, more) in force.into_iter().chain(moment).enumerate() {
            let at = FREEDOMS * seat.leader + i;
            forces[at] = vector::plus(forces[at], more);
        }
    };
    for (node, (force, moment)) in case.nodes.iter().enumerate() {
        put(node, *force, *moment);
    }
    for ((member, element), load) in structure.members.items().iter().zip(elements).zip(&case.members) {
        let Some(load) = load else { continue };
        let axes = &member.axes;
        let held = super::axes::Axes::out_of_strips(&element.fixed_end_forces(axes.components_of(*load)));
        for (end, [force, moment]) in member.ends.into_iter().zip(held) {
            put(
                end,
                vector::neg(axes.vector_of(force)),
                vector::neg(axes.vector_of(moment)),
            );
        }
    }
    forces
}

/// Displacements of all freedoms of all nodes, case by case.
fn displacements(
    structure: &Structure,
    bodies: &Bodies,
    stiffness: &Entries,
    unknowns: &Unknowns,
    forces: &[Vec<Number>],
) -> Result<Vec<Vec<Number>>, Refusal> {
    let nodes = structure.nodes.items();
    let given: Vec<Option<Number>> = nodes
        .iter()
        .flat_map(|node| node.held.into_iter().zip(node.moved))
        .map(|(held, moved)| held.then_some(moved))
        .collect();
    let (pattern, values) = stiffness.among(unknowns);
    let plan = Arc::new(SolvePlan::new(pattern));
    refuse_unstable(structure, bodies, unknowns, &plan, &values)?;
    let mut right_sides = Vec::new();
    for forces in forces {
        let mut side: Vec<Number> = unknowns.freedoms().iter().map(|freedom| forces[*freedom]).collect();
        stiffness.take_given(unknowns, &given, &mut side);
        right_sides.extend(side);
    }
    let solved = tape::solve_symmetric(&plan, &values, &right_sides);
    let of_case = |case: usize| {
        let mut all: Vec<Number> = given.iter().map(|given| given.unwrap_or(Number::ZERO)).collect();
        let solved = &solved[case * unknowns.count()..];
        for (freedom, value) in unknowns.freedoms().iter().zip(solved) {
            all[*freedom] = *value;
        }
        for node in 0..nodes.len() {
            let seat = bodies.seat(node);
            let leading = std::array::from_fn(|i| all[FREEDOMS * seat.leader + i]);
            all[FREEDOMS * node..FREEDOMS * (node + 1)].copy_from_slice(&seat.follow(leading));
        }
        all
    };
    Ok((0..forces.len()).map(of_case).collect())
}

/// The operation that solves says only that a matrix is singular: here the motion is found that makes it so.
/// Inside a closure there is nothing to look at yet, and a replay refuses without words.
fn refuse_unstable(
    structure: &Structure,
    bodies: &Bodies,
    unknowns: &Unknowns,
    plan: &SolvePlan,
    values: &[Number],
) -> Result<(), Refusal> {
    let values: Vec<f64> = values.iter().map(|value| value.shown()).collect();
    if !values.iter().all(|value| value.is_finite()) {
        return Ok(());
    }
    match Factor::new(plan.plan(), &values) {
        Ok(_) => Ok(()),
        Err(singular) => Err(free_motion::refusal(structure, bodies, unknowns, &singular.null_vector)),
    }
}
