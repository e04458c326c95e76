//! Closures, each a small tape of its own: its places are its argument, what it captures, known numbers, then results.

use super::code::Code;
use super::plans::Plans;
use super::write::{Place, place};
use crate::tape::graph::{Body, Graph, Node};
use crate::tape::op::Op;
use serde_json::{Value, json};

/// The closures that occur, those inside others too.
#[derive(Clone, Debug, Default)]
pub(super) struct Bodies {
    done: Vec<Value>,
    /// Of the tape's own, which number each has here.
    of_tape: Vec<(u32, u32)>,
}

impl Bodies {
    /// The number of a closure of the tape.
    pub(super) fn of(&mut self, graph: &Graph, body: u32, plans: &mut Plans) -> u32 {
        if let Some((_, known)) = self.of_tape.iter().find(|(known, _)| *known == body) {
            return *known;
        }
        let number = self.add(graph, body, plans);
        self.of_tape.push((body, number));
        number
    }

    /// Writes a closure of a graph, those inside it first.
    fn add(&mut self, graph: &Graph, body: u32, plans: &mut Plans) -> u32 {
        let Some(body) = graph.bodies().get(body as usize) else {
            return u32::MAX;
        };
        let mut writing = Writing::new(body);
        for node in body.graph.nodes() {
            writing.node(node, self, plans);
        }
        let json = writing.json();
        // Closures that two runs of a script trace are the same.
        let number = match self.done.iter().position(|done| *done == json) {
            Some(known) => known,
            None => {
                self.done.push(json);
                self.done.len() - 1
            }
        };
        place(number)
    }

    pub(super) fn json(self) -> Value {
        self.done.into()
    }
}

struct Writing<'a> {
    body: &'a Body,
    places: Vec<Place>,
    next: Place,
    constants: Vec<f64>,
    code: Code,
}

impl<'a> Writing<'a> {
    fn new(body: &'a Body) -> Self {
        let mut places = vec![0; body.graph.slots()];
        let mut next = 1;
        for (_, slot) in &body.captures {
            places[*slot as usize] = next;
            next += 1;
        }
        let mut constants = Vec::new();
        for node in body.graph.nodes() {
            if let Op::Constant(value) = node.op {
                constants.push(value);
                places[node.first_slot as usize] = next;
                next += 1;
            }
        }
        Self {
            body,
            places,
            next,
            constants,
            code: Code::new(next),
        }
    }

    fn node(&mut self, node: &Node, bodies: &mut Bodies, plans: &mut Plans) {
        if node.op.is_leaf() {
            return;
        }
        let slots = self.body.graph.arguments_of(node).iter();
        let arguments: Vec<Place> = slots.map(|slot| self.places[*slot as usize]).collect();
        let next = self.next;
        for slot in node.slots() {
            self.places[slot] = self.next;
            self.next += 1;
        }
        let detail = match &node.op {
            Op::Require(relation) => return self.code.require(*relation, &arguments, next),
            Op::Root(inner) | Op::Maximum(inner) | Op::Integrate(inner) => bodies.add(&self.body.graph, *inner, plans),
            Op::SolveSymmetric(plan) => plans.system(plan),
            Op::EigenSymmetric(plan) => plans.eigenproblem(plan, node.slot_count as usize),
            Op::Gap(corners) => *corners,
            _ => 0,
        };
        self.code.operation(&node.op, detail, &arguments, next);
    }

    /// `terms`: where the result is a sum or a difference, what of.
    fn json(self) -> Value {
        let last = self.body.graph.nodes().iter().rev();
        let last = last.into_iter().find(|node| node.first_slot == self.body.result);
        let summed = last.filter(|node| matches!(node.op, Op::Add | Op::Sub));
        let slots = summed.map_or(&[][..], |node| self.body.graph.arguments_of(node));
        let terms: Vec<Place> = slots.iter().map(|slot| self.places[*slot as usize]).collect();
        let (operations, code) = self.code.json();
        json!({
            "captures": self.body.captures.len(),
            "constants": self.constants,
            "operations": operations,
            "code": code,
            "result": self.places[self.body.result as usize],
            "terms": terms,
        })
    }
}
