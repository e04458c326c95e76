//! A target at a point where it has no slope: the length of something that shrinks to nothing, say.

use crate::outcome::Outcome;
use crate::study::lanes::{Key, amounts};
use crate::tape::{Op, Slot, Tape};
use std::collections::{BTreeMap, BTreeSet};

/// What is nothing: this part of what a number was elsewhere.
const NOTHING: f64 = 1e-3;

/// The steps of the same run that a number is made of by a root, a length or a size, which comes to a point where they are
/// nothing: those that are (all but) nothing `here`, but not `elsewhere`. None where that is not so.
///
/// A search by slopes cannot settle on such a point; it can on the steps, each aimed at nothing.
#[must_use]
pub fn made_of(here: (&Tape, &[Outcome]), elsewhere: (&Tape, &[Outcome]), target: &Key) -> Vec<String> {
    let sizes = |(tape, outcomes): (&Tape, &[Outcome])| -> BTreeMap<String, f64> {
        let numbers = amounts(outcomes.iter())
            .into_iter()
            .filter(|(key, _)| key.run == target.run);
        numbers
            .map(|(key, watched)| (name(&key), watched.value(&tape.nominal).abs()))
            .collect()
    };
    let (now, before) = (sizes(here), sizes(elsewhere));
    let mut parts = behind(here.0, here.1, target);
    parts.retain(|part| match (now.get(part), before.get(part)) {
        (Some(now), Some(before)) => *before > 0.0 && *now <= NOTHING * before,
        _ => false,
    });
    parts
}

/// A number's name with its items.
fn name(key: &Key) -> String {
    let name = [key.step.clone()].into_iter().chain(key.items.iter().cloned());
    name.collect::<Vec<_>>().join(".")
}

/// The nearest steps that a number is made of, where a root, a length or a size stands between.
fn behind(tape: &Tape, outcomes: &[Outcome], target: &Key) -> Vec<String> {
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
            found.push(name(step));
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
