//! A tape run again on other inputs.

use super::bodies::Scratch;
use super::graph::{Guard, Tape};
use super::op::{Op, Stop};
use super::stop::spend;

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
    cost: u64,
}

impl<'a> Replay<'a> {
    /// For this tape.
    #[must_use]
    pub fn new(tape: &'a Tape) -> Self {
        Self {
            tape,
            values: tape.nominal.clone(),
            scratch: Scratch::default(),
            cost: tape.cost(),
        }
    }

    /// Runs the tape on these inputs and gives every slot's value: the bits that running the script would give.
    ///
    /// # Errors
    /// Where these inputs lead the script another way: it has to be run for them.
    pub fn run(&mut self, inputs: &[f64]) -> Result<&[f64], Departure> {
        if spend(self.cost) {
            return Err(Departure::Node(0, Stop::Interrupted));
        }
        let guards: &[Guard] = &self.tape.guards;
        let mut asked = 0;
        for number in 0..self.tape.graph.nodes().len() {
            self.step(number, inputs, &mut asked)?;
        }
        self.ask(guards.len(), usize::MAX, &mut asked)?;
        Ok(&self.values)
    }

    fn step(&mut self, number: usize, inputs: &[f64], asked: &mut usize) -> Result<(), Departure> {
        self.ask(self.tape.guards.len(), number, asked)?;
        let graph = &self.tape.graph;
        let node = &graph.nodes()[number];
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
        if out.iter().all(|value| value.is_finite()) {
            return Ok(());
        }
        Err(Departure::Node(number, Stop::NotFinite(node.op.name())))
    }

    /// Asks the guards that were asked before a node.
    fn ask(&self, count: usize, node: usize, asked: &mut usize) -> Result<(), Departure> {
        while let Some(guard) = self.tape.guards[..count]
            .get(*asked)
            .filter(|guard| guard.after as usize <= node)
        {
            let (left, right) = (self.values[guard.left as usize], self.values[guard.right as usize]);
            if guard.relation.holds(left, right) != guard.outcome {
                return Err(Departure::Guard(*asked));
            }
            *asked += 1;
        }
        Ok(())
    }
}
