//! A tape and the slots that are asked for.

use super::body::Bodies;
use super::code::Code;
use super::plans::Plans;
use crate::tape::batch::{Asked, Cleaned, Line, Name, Origin, Work, plainly};
use crate::tape::graph::{Graph, Slot, Tape};
use crate::tape::op::Op;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Where an evaluator keeps a number.
pub type Place = u32;

/// A tape as plain data.
#[derive(Clone, Debug)]
pub struct Portable {
    /// The tape: `inputs` (how many), `constants`, `operations` (names), `code`, `asked`, `bodies`, `systems`,
    /// `eigenproblems`.
    pub json: Value,
    /// Where the value of each slot that was asked for stands.
    pub places: BTreeMap<Slot, Place>,
    /// For each of its lines how many nodes of the tape stand before it.
    after: Vec<u32>,
}

impl Portable {
    /// How many of its lines are done by the time when so many nodes stood on the tape.
    #[must_use]
    pub fn lines_before(&self, nodes: usize) -> usize {
        self.after.partition_point(|after| (*after as usize) < nodes)
    }
}

/// Makes a tape ready to be carried elsewhere: these slots are asked for.
#[must_use]
pub fn portable(tape: &Tape, wanted: &[Slot]) -> Portable {
    let cleaned = plainly(tape, wanted, &[]);
    let mut writing = Writing::new(tape, &cleaned);
    for line in &cleaned.lines {
        writing.line(line);
    }
    let places = cleaned.wanted.iter();
    let places = places
        .map(|(slot, name)| (*slot, writing.places[*name as usize]))
        .collect();
    let after: Vec<u32> = cleaned.lines.iter().map(|line| line.after).collect();
    let asked = cleaned.asked.iter().map(|asked| asked_json(asked, &after)).collect();
    Portable {
        json: writing.json(tape.inputs.len(), asked),
        places,
        after,
    }
}

/// What asks a comparison: the line of the first requirement or −1, then the numbers of the guards.
fn asked_json(asked: &Asked, after: &[u32]) -> Value {
    let line = asked.required.map_or(-1, |node| {
        i64::try_from(after.partition_point(|after| *after < node)).unwrap_or(i64::MAX)
    });
    let guards = asked.guards.iter().map(|guard| i64::from(*guard));
    std::iter::once(line).chain(guards).collect()
}

struct Writing<'a> {
    graph: &'a Graph,
    origins: &'a [Origin],
    /// The place of each name; those of results are given as their lines come.
    places: Vec<Place>,
    next: Place,
    constants: Vec<f64>,
    code: Code,
    plans: Plans,
    bodies: Bodies,
}

impl<'a> Writing<'a> {
    fn new(tape: &'a Tape, cleaned: &'a Cleaned) -> Self {
        let mut writing = Self {
            graph: &tape.graph,
            origins: &cleaned.origins,
            places: vec![0; cleaned.origins.len()],
            next: place(tape.inputs.len()),
            constants: Vec::new(),
            code: Code::default(),
            plans: Plans::default(),
            bodies: Bodies::default(),
        };
        let mut read = vec![false; cleaned.origins.len()];
        let names = cleaned.lines.iter().flat_map(|line| &line.arguments);
        for name in names.chain(cleaned.wanted.values()) {
            read[*name as usize] = true;
        }
        for (name, origin) in cleaned.origins.iter().enumerate() {
            match origin {
                Origin::Input(number) => writing.places[name] = *number,
                Origin::Known(value) if read[name] => {
                    writing.constants.push(*value);
                    writing.places[name] = writing.next;
                    writing.next += 1;
                }
                Origin::Known(_) | Origin::Line => {}
            }
        }
        writing.code = Code::new(writing.next);
        writing
    }

    fn line(&mut self, line: &Line) {
        let arguments: Vec<Place> = line.arguments.iter().map(|name| self.place(*name)).collect();
        let next = self.next;
        for name in &line.results {
            self.places[*name as usize] = self.next;
            self.next += 1;
        }
        match &line.work {
            Work::Guard { relation, outcome } => self.code.compare(*relation, *outcome, &arguments, next),
            Work::Op(op) => self.operation(op, &arguments, line.results.len(), next),
            // No line of a tape that is cleaned plainly.
            Work::SineCosine | Work::Fused(_) => {}
        }
    }

    fn operation(&mut self, op: &Op, arguments: &[Place], results: usize, next: Place) {
        let detail = match op {
            Op::Root(body) | Op::Maximum(body) | Op::Integrate(body) => {
                let (plans, graph) = (&mut self.plans, self.graph);
                self.bodies.of(graph, *body, plans)
            }
            Op::SolveSymmetric(plan) => self.plans.system(plan),
            Op::EigenSymmetric(plan) => self.plans.eigenproblem(plan, results),
            Op::Gap(corners) => *corners,
            _ => 0,
        };
        self.code.operation(op, detail, arguments, next);
    }

    fn place(&self, name: Name) -> Place {
        debug_assert!(!matches!(self.origins[name as usize], Origin::Line) || self.places[name as usize] < self.next);
        self.places[name as usize]
    }

    fn json(self, inputs: usize, asked: Vec<Value>) -> Value {
        let (operations, code) = self.code.json();
        let (systems, eigenproblems) = self.plans.json();
        json!({
            "inputs": inputs,
            "constants": self.constants,
            "operations": operations,
            "code": code,
            "asked": asked,
            "bodies": self.bodies.json(),
            "systems": systems,
            "eigenproblems": eigenproblems,
        })
    }
}

/// A place by its number: a tape has far fewer slots than that.
pub(super) fn place(number: usize) -> Place {
    Place::try_from(number).unwrap_or(Place::MAX)
}
