//! Symmetric systems and eigenvalues: eight lanes at a time, by the kernels that work on so many.

use super::rows::{Place, Row};
use crate::kernel::LANES as GROUP;
use crate::tape::matrix::{EigenPlan, SolvePlan};
use std::sync::Arc;

/// A matrix operation done group by group.
#[derive(Debug)]
pub(super) struct Matrix {
    plan: Plan,
    arguments: Vec<Place>,
    results: Vec<Place>,
}

#[derive(Clone, Debug)]
pub(super) enum Plan {
    Solve(Arc<SolvePlan>),
    Eigen(Arc<EigenPlan>),
}

/// Buffers for one group's arguments and results.
#[derive(Clone, Debug, Default)]
pub(super) struct Groups {
    arguments: Vec<[f64; GROUP]>,
    results: Vec<[f64; GROUP]>,
}

impl Matrix {
    pub(super) fn new(plan: Plan, arguments: Vec<Place>, results: Vec<Place>) -> Self {
        Self {
            plan,
            arguments,
            results,
        }
    }

    /// Does it for the first `lanes` lanes, and marks those in which an argument or a result is not finite or there is no
    /// single solution.
    pub(super) fn run(&self, rows: &mut [Row], left: &mut Row, lanes: usize, groups: &mut Groups) {
        groups.results.clear();
        groups.results.resize(self.results.len(), [f64::NAN; GROUP]);
        for first in (0..lanes).step_by(GROUP) {
            groups.arguments.clear();
            let arguments = self.arguments.iter().map(|place| *group(&rows[*place as usize], first));
            groups.arguments.extend(arguments);
            let marks = group_mut(left, first);
            if !self.stand_in(&mut groups.arguments, marks, lanes - first) {
                continue;
            }
            let valued = match &self.plan {
                Plan::Solve(plan) => plan.value_lanes(&groups.arguments, &mut groups.results),
                Plan::Eigen(plan) => plan.value_lanes(&groups.arguments, &mut groups.results),
            };
            for (lane, mark) in marks.iter_mut().enumerate() {
                let finite = groups.results.iter().all(|result| result[lane].is_finite());
                if valued >> lane & 1 == 0 || !finite {
                    *mark = f64::NAN;
                }
            }
            for (place, result) in self.results.iter().zip(&groups.results) {
                *group_mut(&mut rows[*place as usize], first) = *result;
            }
        }
    }

    /// Marks lanes whose arguments are not finite, and lets another lane's arguments stand in for those of all lanes that
    /// left or are not used: whatever they hold, it must not keep the others waiting. Gives whether there is one.
    fn stand_in(&self, arguments: &mut [[f64; GROUP]], marks: &mut [f64; GROUP], lanes: usize) -> bool {
        for argument in &*arguments {
            for (mark, value) in marks.iter_mut().zip(argument) {
                *mark += 0.0 * value;
            }
        }
        let is_good = |lane: usize| lane < lanes && !marks[lane].is_nan();
        let Some(good) = (0..GROUP).find(|lane| is_good(*lane)) else {
            return false;
        };
        for lane in (0..GROUP).filter(|lane| !is_good(*lane)) {
            for argument in &mut *arguments {
                argument[lane] = argument[good];
            }
        }
        true
    }
}

/// The lanes of a group that starts at `first`, which is a multiple of its size.
fn group(row: &Row, first: usize) -> &[f64; GROUP] {
    let (groups, _) = row.0.as_chunks();
    &groups[first / GROUP]
}

fn group_mut(row: &mut Row, first: usize) -> &mut [f64; GROUP] {
    let (groups, _) = row.0.as_chunks_mut();
    &mut groups[first / GROUP]
}
