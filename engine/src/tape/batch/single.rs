//! Operations without a vector form: lane by lane, by the operation's own definition.

use super::rows::{Place, Row};
use crate::tape::graph::Graph;
use crate::tape::op::Op;

/// An operation done lane by lane.
#[derive(Debug)]
pub(super) struct Single {
    op: Op,
    arguments: Vec<Place>,
    results: Vec<Place>,
}

/// Buffers for one lane's arguments and results.
#[derive(Clone, Debug, Default)]
pub(super) struct Scratch {
    arguments: Vec<f64>,
    results: Vec<f64>,
}

impl Single {
    pub(super) fn new(op: Op, arguments: Vec<Place>, results: Vec<Place>) -> Self {
        Self { op, arguments, results }
    }

    /// Does it for the first `lanes` lanes, and marks those in which an argument or a result is not finite or it has no
    /// value. A lane that left already is passed over: its numbers may be what the operation was never meant for.
    pub(super) fn run(&self, graph: &Graph, rows: &mut [Row], left: &mut Row, lanes: usize, scratch: &mut Scratch) {
        for (lane, mark) in left.0.iter_mut().enumerate().take(lanes) {
            if !mark.is_nan() && self.one(graph, rows, lane, scratch).is_none() {
                *mark = f64::NAN;
            }
        }
    }

    fn one(&self, graph: &Graph, rows: &mut [Row], lane: usize, scratch: &mut Scratch) -> Option<()> {
        scratch.arguments.clear();
        let arguments = self.arguments.iter().map(|place| rows[*place as usize].0[lane]);
        scratch.arguments.extend(arguments);
        scratch.results.clear();
        scratch.results.resize(self.results.len(), f64::NAN);
        let finite = |numbers: &[f64]| numbers.iter().all(|number| number.is_finite());
        if !finite(&scratch.arguments) {
            return None;
        }
        self.op.value(graph, &scratch.arguments, &mut scratch.results).ok()?;
        for (place, result) in self.results.iter().zip(&scratch.results) {
            rows[*place as usize].0[lane] = *result;
        }
        finite(&scratch.results).then_some(())
    }
}
