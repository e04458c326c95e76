//! Symmetric systems and eigenproblems: what their places decide.

use super::write::place;
use crate::kernel::ldlt::Pattern;
use crate::tape::matrix::{EigenPlan, SolvePlan};
use serde_json::{Value, json};

/// The plans that occur, each once.
#[derive(Clone, Debug, Default)]
pub(super) struct Plans {
    systems: Vec<Value>,
    eigenproblems: Vec<Value>,
}

impl Plans {
    /// The number of a system: `size`, `places` (row and column of each value), `order` of elimination.
    pub(super) fn system(&mut self, plan: &SolvePlan) -> u32 {
        let plan = plan.plan();
        let json = json!({
            "size": plan.size(),
            "places": places(plan.pattern()),
            "order": plan.order(),
        });
        number(&mut self.systems, json)
    }

    /// The number of an eigenproblem: `size`, `stiffness` and `mass` (places), `order` of elimination of both together,
    /// `which` eigenvalue from the smallest, and whether its `shape` is given too.
    pub(super) fn eigenproblem(&mut self, plan: &EigenPlan, results: usize) -> u32 {
        let (which, plan) = (plan.which(), plan.plan());
        let json = json!({
            "size": plan.size(),
            "stiffness": places(plan.stiffness()),
            "mass": places(plan.mass()),
            "order": plan.together().order(),
            "which": which,
            "shape": results > 1,
        });
        number(&mut self.eigenproblems, json)
    }

    pub(super) fn json(self) -> (Value, Value) {
        (self.systems.into(), self.eigenproblems.into())
    }
}

/// Row and column of each place, one after the other.
fn places(pattern: &Pattern) -> Vec<usize> {
    pattern
        .entries()
        .iter()
        .flat_map(|(row, column)| [*row, *column])
        .collect()
}

fn number(known: &mut Vec<Value>, json: Value) -> u32 {
    let found = known.iter().position(|known| *known == json);
    let number = found.unwrap_or(known.len());
    if found.is_none() {
        known.push(json);
    }
    place(number)
}
