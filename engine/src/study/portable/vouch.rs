//! Where things were reached, and what is linked to what: what a broken guard takes with it.

use super::carry::ReachedRun;
use crate::outcome::{Input, Outcome, Value};
use crate::study::judge::Contradicted;
use crate::tape::{Place, Portable, Reached, Slot};
use serde_json::{Value as Json, json};
use std::collections::BTreeMap;

/// Positions on the carried tape.
pub(super) struct Positions<'a> {
    portable: &'a Portable,
}

impl<'a> Positions<'a> {
    pub(super) fn new(portable: &'a Portable) -> Self {
        Self { portable }
    }

    /// How many lines of the carried tape, and how many guards, stand before a position on the tape.
    pub(super) fn of(&self, reached: Reached) -> [usize; 2] {
        [self.portable.lines_before(reached.nodes), reached.guards]
    }

    pub(super) fn of_outcome(&self, outcome: &Outcome) -> ReachedRun {
        let all = |reached: &[Reached]| reached.iter().map(|reached| self.of(*reached)).collect();
        ReachedRun {
            inputs: outcome.inputs.iter().map(|input| self.of(input.reached)).collect(),
            steps: outcome.steps.iter().map(|step| self.of(step.reached)).collect(),
            checks: outcome.checks.iter().map(|check| self.of(check.reached)).collect(),
            notes: all(&outcome.notes_reached),
            cautions: all(&outcome.cautions_reached),
            figures: outcome.figures.iter().map(|shown| self.of(shown.reached)).collect(),
        }
    }
}

/// For each run: its `lines` and its `guards` (first and end); its `links`: `at` which position of its own, `from` which run
/// and which position there (`source`), and where only a range may be entered its ends `low` and `high` and the `places` of
/// the numbers, as the script refuses what lies outside; and from which runs it `takes` numbers, which makes it no better
/// than they are.
pub(super) fn runs(
    positions: &Positions<'_>,
    places: &BTreeMap<Slot, Place>,
    outcomes: &[Outcome],
    names: &[&str],
) -> Vec<Json> {
    let contradicted = Contradicted::new(outcomes);
    let takes = contradicted.links();
    let run = |(number, outcome): (usize, &Outcome)| {
        let [began, ended] = [outcome.began, outcome.ended].map(|reached| positions.of(reached));
        let linked = outcome.inputs.iter().filter_map(|input| {
            let (from, source) = source(input, outcomes, names)?;
            let mut link = json!({
                "at": positions.of(input.reached),
                "from": from,
                "source": positions.of(source),
            });
            if let Some((low, high)) = input.range {
                let slots = slots(&input.value);
                let places: Vec<Place> = slots.iter().filter_map(|slot| places.get(slot).copied()).collect();
                link["low"] = json!(low);
                link["high"] = json!(high);
                link["places"] = json!(places);
            }
            Some(link)
        });
        json!({
            "lines": [began[0], ended[0]],
            "guards": [began[1], ended[1]],
            "links": linked.collect::<Vec<_>>(),
            "takes": takes.get(number),
        })
    };
    outcomes.iter().enumerate().map(run).collect()
}

/// The run that an input is linked to, and where that reached what is taken.
fn source(input: &Input, outcomes: &[Outcome], names: &[&str]) -> Option<(usize, Reached)> {
    let taken = input.taken_from.as_ref()?;
    let of_run = |(run, name): (usize, &&str)| Some((run, taken.strip_prefix(*name)?.strip_prefix(": ")?));
    // One run's name may be the start of another's.
    let (run, step) = names
        .iter()
        .enumerate()
        .filter_map(of_run)
        .min_by_key(|(_, step)| step.len())?;
    let outcome = outcomes.get(run)?;
    let steps = outcome.steps.iter().map(|step| (step.name.as_str(), step.reached));
    let inputs = outcome.inputs.iter().map(|input| (input.name.as_str(), input.reached));
    // A part of a step is reached with it; of two names that fit the longer one is meant.
    let is_meant = |name: &str| {
        step.strip_prefix(name)
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    };
    let found = steps
        .chain(inputs)
        .filter(|(name, _)| is_meant(name))
        .max_by_key(|(name, _)| name.len());
    Some((run, found.map_or(outcome.ended, |(_, reached)| reached)))
}

/// The slots of all numbers in a value.
fn slots(value: &Value) -> Vec<Slot> {
    match value {
        Value::Amount(amount) => amount.slot.into_iter().collect(),
        Value::Items(items) => items.iter().flat_map(|(_, item)| slots(item)).collect(),
        _ => Vec::new(),
    }
}
