//! Readings with a ±, those that one value sets together, sample points.

use crate::kernel::sobol;
use crate::outcome::{Origin, Outcome, Spread};
use crate::study::readings::uncertain;
use crate::tape::Tape;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// The values of the tape's inputs.
pub(super) fn nominal(tape: &Tape) -> Vec<f64> {
    let value = |slot: &u32| tape.nominal.get(*slot as usize).copied().unwrap_or(f64::NAN);
    tape.inputs.iter().map(value).collect()
}

/// Readings with a ±, by the number of their input.
pub(super) fn readings(outcomes: &[Outcome], tape: &Tape) -> Vec<Value> {
    let spread = |input: usize, spread: Spread| match spread {
        Spread::Exact => json!({ "input": input }),
        Spread::Limits(limits) => json!({ "input": input, "limits": limits }),
        Spread::Standard(standard) => json!({ "input": input, "standard": standard }),
        Spread::Repeats {
            mean_scatter,
            freedoms,
            limits,
        } => json!({ "input": input, "scatter": mean_scatter, "freedoms": freedoms, "limits": limits }),
    };
    let readings = uncertain(outcomes.iter(), tape);
    readings
        .iter()
        .map(|reading| spread(reading.input, reading.spread))
        .collect()
}

/// Inputs of several runs under one name that nobody has given: a value that is tried for the name is one reading, which all
/// these runs read.
pub(super) fn joined(outcomes: &[Outcome]) -> Vec<Vec<usize>> {
    let mut found: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    let own = |origin: Origin| matches!(origin, Origin::Example | Origin::Assumed);
    for input in outcomes.iter().flat_map(|outcome| &outcome.inputs) {
        if let ([part], true) = (&input.parts[..], own(input.origin)) {
            let inputs = found.entry(&input.name).or_default();
            if !inputs.contains(&part.input) {
                inputs.push(part.input);
            }
        }
    }
    found.into_values().filter(|inputs| inputs.len() > 1).collect()
}

/// Direction numbers of as many dimensions as there can be readings with a ±, as many of each as so many samples take.
/// Number i has 31 − i zeros at its end, which are left out.
pub(super) fn directions(tape: &Tape, outcomes: &[Outcome], samples: usize) -> Vec<Vec<u32>> {
    let parts = outcomes
        .iter()
        .flat_map(|outcome| &outcome.inputs)
        .flat_map(|input| &input.parts);
    let repeats = parts
        .filter(|part| matches!(part.spread, Spread::Repeats { .. }))
        .count();
    let bits = samples.max(2).next_power_of_two().trailing_zeros() as usize;
    let short = |dimension: usize| -> Option<Vec<u32>> {
        let numbers = sobol::direction_numbers(dimension)?;
        Some(
            numbers
                .iter()
                .take(bits)
                .enumerate()
                .map(|(i, number)| number >> (31 - i))
                .collect(),
        )
    };
    (0..tape.inputs.len() + repeats).map_while(short).collect()
}
