//! A target at a point where it has no slope: the length of something that shrinks to nothing, say.

use crate::outcome::Outcome;
use crate::study::lanes::{Key, amounts};
use crate::tape::{Op, Slot, Tape};
use std::collections::{BTreeMap, BTreeSet};

/// The steps of the same run that a number is made of by a root, a length or a size, which come to a point at nothing:
/// the nearest ones. None where it is made otherwise.
///
/// A search by slopes cannot settle on such a point; it can on the steps, each aimed at nothing.
#[must_use]
pub fn made_of(tape: &Tape, outcomes: &[Outcome], target: &Key) -> Vec<String> {
    let numbers = amounts(outcomes.iter());
    let slot_of = |key: &Key| {
        let found = numbers.iter().find(|(known, _)| known == key);
        found.and_then(|(_, watched)| watched.slot())
    };
    let Some(start) = slot_of(target) else {
        return Vec::new();
    };
    let named = numbers.iter().filter(|(key, _)| key.run == target.run && key != target);
    let steps: BTreeMap<Slot, &Key> = named
        .filter_map(|(key, watched)| Some((watched.slot()?, key)))
        .collect();
    let mut found = Vec::new();
    let mut pointed = false;
    let mut open = vec![start];
    let mut seen = BTreeSet::from([start]);
    while let Some(slot) = open.pop() {
        if let Some(step) = steps.get(&slot) {
            let name = [step.step.clone()].into_iter().chain(step.items.iter().cloned());
            found.push(name.collect::<Vec<_>>().join("."));
            continue;
        }
        let Some(node) = tape
            .graph
            .nodes()
            .iter()
            .find(|node| node.slots().contains(&(slot as usize)))
        else {
            continue;
        };
        pointed |= matches!(node.op, Op::Sqrt | Op::Norm | Op::Abs | Op::Cbrt | Op::Pow | Op::Max);
        for argument in tape.graph.arguments_of(node) {
            if seen.insert(*argument) {
                open.push(*argument);
            }
        }
    }
    found.sort();
    if pointed { found } else { Vec::new() }
}
