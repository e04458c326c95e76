//! A tape run again on other inputs.

use super::bodies::Scratch;
use super::cost;
use super::graph::{Guard, Slot, Tape};
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
    /// The nodes to do, in order; all of them where it is `None`.
    only: Option<Vec<usize>>,
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
            only: None,
            cost: tape.cost(),
        }
    }

    /// For these slots of the tape alone, and what decides the way: other slots keep their values as recorded, and that
    /// one of them could not be calculated is not noticed.
    #[must_use]
    pub fn of_slots(tape: &'a Tape, slots: &[Slot]) -> Self {
        let only = reached(tape, slots);
        let graph = &tape.graph;
        let cost = only.iter().fold(0, |sum: u64, node| {
            sum.saturating_add(cost::of_node(graph, &graph.nodes()[*node]))
        });
        Self {
            only: Some(only),
            cost,
            ..Self::new(tape)
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
        match self.only.take() {
            None => {
                for number in 0..self.tape.graph.nodes().len() {
                    self.step(number, inputs, &mut asked)?;
                }
            }
            Some(only) => {
                let done = only
                    .iter()
                    .try_for_each(|number| self.step(*number, inputs, &mut asked));
                self.only = Some(only);
                done?;
            }
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

/// The nodes that slots, guards and requirements rest on, in order.
fn reached(tape: &Tape, slots: &[Slot]) -> Vec<usize> {
    let graph = &tape.graph;
    let mut wanted = vec![false; graph.slots()];
    let guards = tape.guards.iter().flat_map(|guard| [guard.left, guard.right]);
    for slot in slots.iter().copied().chain(guards) {
        wanted[slot as usize] = true;
    }
    let mut nodes = Vec::new();
    for (number, node) in graph.nodes().iter().enumerate().rev() {
        if matches!(node.op, Op::Require(_)) || wanted[node.slots()].contains(&true) {
            nodes.push(number);
            for slot in graph.arguments_of(node) {
                wanted[*slot as usize] = true;
            }
        }
    }
    nodes.reverse();
    nodes
}
