//! What a solved structure says: deflections, reactions, equilibrium.

use super::assembly::{Entries, Unknowns};
use super::body::Bodies;
use super::element::Element;
use super::freedom::FREEDOMS;
use super::model::Structure;
use super::solve::Applied;
use super::vector::{self, Vector};
use crate::diagnostic::Refusal;
use crate::tape::{self, Decision, Number, Relation};
use std::sync::Arc;

/// A solved structure. A clone is the same solution.
#[derive(Clone, Debug)]
pub struct Solution(Arc<Solved>);

/// What was solved and what came out.
#[derive(Debug)]
pub(super) struct Solved {
    pub(super) structure: Structure,
    pub(super) bodies: Bodies,
    pub(super) elements: Vec<Element>,
    pub(super) stiffness: Entries,
    pub(super) unknowns: Unknowns,
    pub(super) states: Vec<CaseState>,
}

/// One load case, solved.
#[derive(Debug)]
pub(super) struct CaseState {
    pub(super) applied: Applied,
    /// Loads on all freedoms of leading nodes.
    pub(super) forces: Vec<Number>,
    /// Displacements of all freedoms of all nodes.
    pub(super) displacements: Vec<Number>,
}

/// The results of one load case. Forces and moments are what acts on the structure; vehicle axes.
#[derive(Clone, Debug)]
pub struct CaseResults {
    pub(super) solved: Arc<Solved>,
    pub(super) case: usize,
}

/// What reactions and loads of a case add up to: nothing, up to rounding.
#[derive(Clone, Copy, Debug)]
pub struct Equilibrium {
    /// Sum of all forces, N.
    pub force: [Number; 3],
    /// Sum of all moments about the origin, N·m.
    pub moment: [Number; 3],
}

impl Solution {
    pub(super) fn new(solved: Solved) -> Self {
        Self(Arc::new(solved))
    }

    pub(super) fn solved(&self) -> &Solved {
        &self.0
    }

    /// The results of the load case with this name.
    ///
    /// # Errors
    /// An unknown name.
    pub fn load_case(&self, name: &str) -> Result<CaseResults, Refusal> {
        Ok(self.case(self.0.structure.cases.find(name)?))
    }

    /// The results of the only load case.
    ///
    /// # Errors
    /// Several load cases.
    pub fn only_case(&self) -> Result<CaseResults, Refusal> {
        let names = self.0.structure.cases.names();
        if let [_] = names {
            return Ok(self.case(0));
        }
        let listed: Vec<String> = names.iter().take(5).map(|name| format!("{name:?}")).collect();
        let and_more = if names.len() > 5 { ", …" } else { "" };
        let message = format!(
            "there are {} load cases ({}{and_more}); say which is meant",
            names.len(),
            listed.join(", ")
        );
        let hint = format!("load_case({})", listed.first().map_or("", String::as_str));
        Err(Refusal::new("structure", message).hint(hint))
    }

    /// The results of all load cases, in the order in which they were opened.
    #[must_use]
    pub fn cases(&self) -> Vec<CaseResults> {
        (0..self.0.states.len()).map(|case| self.case(case)).collect()
    }

    /// The case for which `value` is largest (the earlier of two that are equal), and that value.
    ///
    /// The case has a name, so which it is belongs to the path: the comparisons are guards.
    ///
    /// # Errors
    /// Those of `value`; inside a closure on whose argument the values depend.
    pub fn worst(
        &self,
        mut value: impl FnMut(&CaseResults) -> Result<Number, Refusal>,
    ) -> Result<(CaseResults, Number), Refusal> {
        let mut worst: Option<(CaseResults, Number)> = None;
        for case in self.cases() {
            let value = value(&case)?;
            let worse = match &worst {
                None => true,
                Some((_, so_far)) => match tape::decide(*so_far, Relation::Less, value) {
                    Decision::Known(worse) => worse,
                    Decision::Symbolic => {
                        let message = "which load case is the worst depends on the closure's argument";
                        return Err(Refusal::new("closure", message).hint("name a load case"));
                    }
                },
            };
            if worse {
                worst = Some((case, value));
            }
        }
        worst.ok_or_else(|| Refusal::new("structure", "there is no load case"))
    }

    fn case(&self, case: usize) -> CaseResults {
        CaseResults {
            solved: Arc::clone(&self.0),
            case,
        }
    }
}

impl CaseResults {
    /// The name of the load case.
    #[must_use]
    pub fn name(&self) -> &str {
        self.solved.structure.cases.name(self.case)
    }

    /// How far a node has moved, m.
    ///
    /// # Errors
    /// An unknown node.
    pub fn deflection(&self, node: &str) -> Result<[Number; 3], Refusal> {
        let [x, y, z, ..] = self.moved(self.solved.structure.nodes.find(node)?);
        Ok([x, y, z])
    }

    /// How far a node has turned about each axis, rad.
    ///
    /// # Errors
    /// An unknown node.
    pub fn rotation(&self, node: &str) -> Result<[Number; 3], Refusal> {
        let [.., x, y, z] = self.moved(self.solved.structure.nodes.find(node)?);
        Ok([x, y, z])
    }

    /// The force of a node's support and springs on the structure, N. Zero at a node that has neither.
    ///
    /// # Errors
    /// An unknown node.
    pub fn reaction(&self, node: &str) -> Result<[Number; 3], Refusal> {
        let node = self.solved.structure.nodes.find(node)?;
        Ok(std::array::from_fn(|i| self.reaction_on(node, i)))
    }

    /// The moment of a node's support and springs on the structure, N·m. Zero at a node that has neither.
    ///
    /// # Errors
    /// An unknown node.
    pub fn reaction_moment(&self, node: &str) -> Result<[Number; 3], Refusal> {
        let node = self.solved.structure.nodes.find(node)?;
        Ok(std::array::from_fn(|i| self.reaction_on(node, 3 + i)))
    }

    /// The sum of all loads and reactions, about the origin.
    #[must_use]
    pub fn equilibrium(&self) -> Equilibrium {
        let structure = &self.solved.structure;
        let (mut force, mut moment) = (vector::ZERO, vector::ZERO);
        let mut add = |point: Vector, f: Vector, m: Vector| {
            force = vector::add(force, f);
            moment = vector::add(moment, vector::add(m, vector::cross(point, f)));
        };
        let state = self.state();
        for (at, (node, (f, m))) in structure.nodes.items().iter().zip(&state.applied.nodes).enumerate() {
            add(node.point, *f, *m);
            let reaction: [Number; FREEDOMS] = std::array::from_fn(|i| self.reaction_on(at, i));
            let [x, y, z, rx, ry, rz] = reaction;
            add(node.point, [x, y, z], [rx, ry, rz]);
        }
        for (member, load) in structure.members.items().iter().zip(&state.applied.members) {
            let Some(load) = load else { continue };
            let [a, b] = member.ends.map(|end| structure.nodes.items()[end].point);
            let middle = vector::add(a, b).map(|component| component / 2.0);
            add(middle, vector::scale(member.axes.length, *load), vector::ZERO);
        }
        Equilibrium { force, moment }
    }

    pub(super) fn state(&self) -> &CaseState {
        &self.solved.states[self.case]
    }

    /// All six freedoms of a node.
    pub(super) fn moved(&self, node: usize) -> [Number; FREEDOMS] {
        std::array::from_fn(|i| self.state().displacements[FREEDOMS * node + i])
    }

    /// What the support and the spring of one freedom do. The support holds the node and pulls at its springs too,
    /// K u − F; of the springs the structure feels −k u.
    fn reaction_on(&self, node: usize, freedom: usize) -> Number {
        let it = &self.solved.structure.nodes.items()[node];
        let at = FREEDOMS * node + freedom;
        let state = self.state();
        let support = if it.held[freedom] {
            vector::minus(
                self.solved.stiffness.force_on(at, &state.displacements),
                state.forces[at],
            )
        } else {
            Number::ZERO
        };
        match it.springs[freedom] {
            Some(stiffness) => vector::minus(support, vector::times(stiffness, state.displacements[at])),
            None => support,
        }
    }
}
