//! Rigid arms: which node of a body leads, and how matrices and forces are carried to it.
//!
//! A node on an arm r away from the leading node moves by u + θ × r and turns by θ. Its freedoms are replaced by the
//! leading node's, exactly; nothing is made "very stiff".

use super::axes::Block;
use super::freedom::FREEDOMS;
use super::model::Structure;
use super::vector::{self, Vector};
use crate::diagnostic::Refusal;
use crate::tape::Number;

/// For each node the one that leads it, and where it sits.
#[derive(Clone, Debug)]
pub(super) struct Bodies {
    leaders: Vec<usize>,
    /// From the leading node to this one; `None` for a leading node.
    arms: Vec<Option<Vector>>,
}

/// A node as the leading node sees it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seat {
    /// The leading node.
    pub(super) leader: usize,
    /// From there to the node.
    pub(super) arm: Option<Vector>,
}

impl Bodies {
    /// A body is led by its supported node, or else by its first.
    ///
    /// # Errors
    /// A body supported at two nodes; a member within a body.
    pub(super) fn of(structure: &Structure) -> Result<Self, Refusal> {
        let firsts = first_of_each_body(structure);
        let leaders = leaders(structure, &firsts)?;
        let nodes = structure.nodes.items();
        let arm = |node: usize| {
            let leader = leaders[node];
            (leader != node).then(|| vector::sub(nodes[node].point, nodes[leader].point))
        };
        let arms = (0..nodes.len()).map(arm).collect();
        let inside = |ends: &[usize; 2]| leaders[ends[0]] == leaders[ends[1]];
        if let Some(at) = structure.members.items().iter().position(|member| inside(&member.ends)) {
            let name = structure.members.name(at);
            let message = format!("member {name:?} joins two nodes of one rigid body: it can carry nothing");
            return Err(Refusal::new("structure", message).hint("leave out the member or one of the rigid arms"));
        }
        Ok(Self { leaders, arms })
    }

    pub(super) fn seat(&self, node: usize) -> Seat {
        Seat {
            leader: self.leaders[node],
            arm: self.arms[node],
        }
    }
}

impl Seat {
    /// A node that nothing leads.
    pub(super) const fn own(node: usize) -> Self {
        Self {
            leader: node,
            arm: None,
        }
    }

    /// A force and a moment on the node, as they act on the leading node.
    pub(super) fn carry(&self, force: Vector, moment: Vector) -> (Vector, Vector) {
        match self.arm {
            None => (force, moment),
            Some(arm) => (force, vector::add(moment, vector::cross(arm, force))),
        }
    }

    /// The node's freedoms from the leading node's.
    pub(super) fn follow(&self, leading: [Number; FREEDOMS]) -> [Number; FREEDOMS] {
        let Some(arm) = self.arm else { return leading };
        let [x, y, z, rx, ry, rz] = leading;
        let [x, y, z] = vector::add([x, y, z], vector::cross([rx, ry, rz], arm));
        [x, y, z, rx, ry, rz]
    }
}

/// A matrix of two nodes as their leading nodes feel it: Tᵢᵀ K Tⱼ.
pub(super) fn carry_block(mut block: Block, i: &Seat, j: &Seat) -> Block {
    if let Some(arm) = j.arm {
        for row in &mut block {
            let turned = vector::cross(arm, [row[0], row[1], row[2]]);
            for (entry, more) in row[3..].iter_mut().zip(turned) {
                *entry = vector::plus(*entry, more);
            }
        }
    }
    if let Some(arm) = i.arm {
        for column in 0..FREEDOMS {
            let turned = vector::cross(arm, [block[0][column], block[1][column], block[2][column]]);
            for (row, more) in block[3..].iter_mut().zip(turned) {
                row[column] = vector::plus(row[column], more);
            }
        }
    }
    block
}

/// For each node the first node of its body.
fn first_of_each_body(structure: &Structure) -> Vec<usize> {
    let mut firsts: Vec<usize> = (0..structure.nodes.items().len()).collect();
    for ends in structure.arms.items() {
        let [a, b] = ends.map(|end| firsts[end]);
        let (first, other) = (a.min(b), a.max(b));
        firsts
            .iter_mut()
            .filter(|entry| **entry == other)
            .for_each(|entry| *entry = first);
    }
    firsts
}

fn leaders(structure: &Structure, firsts: &[usize]) -> Result<Vec<usize>, Refusal> {
    let mut supported: Vec<Option<usize>> = vec![None; firsts.len()];
    for (node, first) in firsts.iter().enumerate() {
        if !structure.nodes.items()[node].held.contains(&true) {
            continue;
        }
        if let Some(other) = supported[*first].replace(node) {
            let [a, b] = [other, node].map(|node| structure.nodes.name(node));
            let message = format!("nodes {a:?} and {b:?} are supported and joined by rigid arms: support one of them");
            return Err(Refusal::new("structure", message).hint(format!(
                "hold {a:?} against turning as well, or give {b:?} springs instead"
            )));
        }
    }
    Ok(firsts.iter().map(|first| supported[*first].unwrap_or(*first)).collect())
}
