//! A tape run again on other inputs.

use super::bodies::Scratch;
use super::graph::Tape;
use super::op::{Op, Stop};

/// Why a replay left the path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Departure {
    /// A comparison comes out otherwise: the guard with this number.
    Guard(usize),
    /// The node with this number has no value.
    Node(usize, Stop),
}

/// Replays one tape, lane after lane.
#[derive(Debug)]
pub struct Replay<'a> {
    tape: &'a Tape,
    values: Vec<f64>,
    scratch: Scratch,
}

impl<'a> Replay<'a> {
    /// For this tape.
    #[must_use]
    pub fn new(tape: &'a Tape) -> Self {
        Self {
            tape,
            values: tape.nominal.clone(),
            scratch: Scratch::default(),
        }
    }

    /// Runs the tape on these inputs and gives every slot's value: the bits that running the script would give.
    ///
    /// # Errors
    /// Where these inputs lead the script another way: it has to be run for them.
    pub fn run(&mut self, inputs: &[f64]) -> Result<&[f64], Departure> {
        let graph = &self.tape.graph;
        let mut guards = self.tape.guards.iter().enumerate().peekable();
        for (number, node) in graph.nodes().iter().enumerate() {
            while let Some((which, guard)) = guards.next_if(|(_, guard)| guard.after as usize <= number) {
                let (left, right) = (self.values[guard.left as usize], self.values[guard.right as usize]);
                if guard.relation.holds(left, right) != guard.outcome {
                    return Err(Departure::Guard(which));
                }
            }
            if let Op::Input(which) = node.op {
                self.values[node.first_slot as usize] = inputs.get(which as usize).copied().unwrap_or(f64::NAN);
            }
            self.scratch.arguments.clear();
            let arguments = graph.arguments_of(node).iter().map(|slot| self.values[*slot as usize]);
            self.scratch.arguments.extend(arguments);
            let out = &mut self.values[node.slots()];
            node.op
                .value(graph, &self.scratch.arguments, out)
                .map_err(|stop| Departure::Node(number, stop))?;
            if !out.iter().all(|value| value.is_finite()) {
                return Err(Departure::Node(number, Stop::NotFinite(node.op.name())));
            }
        }
        for (which, guard) in guards {
            let (left, right) = (self.values[guard.left as usize], self.values[guard.right as usize]);
            if guard.relation.holds(left, right) != guard.outcome {
                return Err(Departure::Guard(which));
            }
        }
        Ok(&self.values)
    }
}
