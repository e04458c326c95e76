//! Which inputs a number depends on, and which of them nobody measured.

use super::lanes::TestLane;
use crate::outcome::{Input, Origin, Outcome, Value};
use crate::tape::{Slot, Tape};

/// Which inputs of the tape each number depends on.
pub(super) struct Reach<'a> {
    tape: &'a Tape,
    /// For each slot, the node that fills it.
    maker: Vec<usize>,
}

impl<'a> Reach<'a> {
    pub(super) fn new(tape: &'a Tape) -> Self {
        let mut maker = vec![0; tape.graph.slots()];
        for (number, node) in tape.graph.nodes().iter().enumerate() {
            maker[node.slots()].fill(number);
        }
        Self { tape, maker }
    }

    /// The slots of inputs that these slots depend on, through the comparisons that the script went by too.
    fn inputs(&self, slots: &[Slot]) -> Vec<Slot> {
        let mut seen = vec![false; self.maker.len()];
        let mut open: Vec<Slot> = slots.to_vec();
        let last = slots.iter().map(|slot| self.maker[*slot as usize]).max().unwrap_or(0);
        let guards = self.tape.guards.iter().filter(|guard| guard.after as usize <= last);
        open.extend(guards.flat_map(|guard| [guard.left, guard.right]));
        let mut found = Vec::new();
        while let Some(slot) = open.pop() {
            if std::mem::replace(&mut seen[slot as usize], true) {
                continue;
            }
            let node = &self.tape.graph.nodes()[self.maker[slot as usize]];
            if self.tape.inputs.contains(&slot) {
                found.push(slot);
            }
            open.extend(self.tape.graph.arguments_of(node));
        }
        found
    }
}

/// Names of the examples that a check rests on.
pub(super) fn examples(outcomes: &[Outcome], run: usize, test: &TestLane, reach: &Reach<'_>) -> Vec<String> {
    let mut names = Vec::new();
    for input in reached_examples(outcomes, run, test, reach) {
        if !names.contains(&input.name) {
            names.push(input.name.clone());
        }
    }
    names
}

/// The examples that a check rests on. A text or a count leaves no trace on the tape: an example of that kind is taken to
/// matter to every check of its run.
pub(super) fn reached_examples<'a>(
    outcomes: &'a [Outcome],
    run: usize,
    test: &TestLane,
    reach: &Reach<'_>,
) -> Vec<&'a Input> {
    let slots: Vec<Slot> = test.sides().into_iter().filter_map(|side| side.slot()).collect();
    let reached = reach.inputs(&slots);
    let mut found = Vec::new();
    for (number, outcome) in outcomes.iter().enumerate() {
        for input in outcome.inputs.iter().filter(|input| input.origin == Origin::Example) {
            let traced = input.parts.iter().any(|part| reached.contains(&part.slot));
            let untraced = number == run && input.parts.is_empty() && is_choice(input);
            if traced || untraced {
                found.push(input);
            }
        }
    }
    found
}

fn is_choice(input: &Input) -> bool {
    matches!(input.value, Value::Text(_) | Value::Truth(_) | Value::Count(_))
}
