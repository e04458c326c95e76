//! A set of readings for which the script runs and its requirements hold.

use super::chance::Chance;
use super::variable::{Variable, variables};
use crate::diagnostic::{Diagnostic, Refusal};
use crate::outcome::{Check, CheckKind, Outcome, Test, Value};
use crate::quantity::text::System;
use crate::study::Experiment;
use crate::tape::{Slot, Tape, inputs_behind};
use std::collections::BTreeMap;

/// So often other readings are tried, each time nearer to those that the script was run with.
const ATTEMPTS: usize = 60;

/// The readings of one sheet, and what comes of them.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// The sheet's number.
    pub sheet: u64,
    /// The readings that were drawn.
    pub readings: Vec<DrawnReading>,
    /// The tape of the runs on them.
    pub tape: Tape,
    /// What the runs yield.
    pub outcomes: Vec<Outcome>,
}

/// A reading that was drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct DrawnReading {
    /// The run that reads it first.
    pub run: usize,
    /// Its address: `front_joint.x`.
    pub address: String,
    /// As somebody enters it: `3.4°`; `--set` reads the same number from it.
    pub text: String,
    /// The same, SI.
    pub si: f64,
}

/// Draws the readings of a sheet: about those that the runs have, rounded to what an instrument reads, within what may be
/// entered. A seed and a number give the same sheet whatever else is drawn.
///
/// # Errors
/// Where no readings are found with which the script runs and the requirements hold that held before.
pub fn draw(
    experiment: &dyn Experiment,
    (tape, outcomes): (&Tape, &[Outcome]),
    system: System,
    (seed, sheet): (u64, u64),
) -> Result<Drawn, Diagnostic> {
    let variables = variables(outcomes, system);
    if variables.is_empty() {
        return Err(Refusal::new("exercise", "nothing is measured here that could have another value").into());
    }
    let mut drawing = Drawing {
        experiment,
        nominal: tape
            .inputs
            .iter()
            .map(|slot| tape.nominal.get(*slot as usize).copied().unwrap_or(0.0))
            .collect(),
        met: requirements(outcomes)
            .into_iter()
            .filter(|(_, found)| found.holds)
            .map(|(label, _)| label)
            .collect(),
        shares: vec![1.0; variables.len()],
        variables,
        chance: Chance::new(seed, sheet),
    };
    let mut refused = None;
    for _ in 0..ATTEMPTS {
        let (inputs, readings) = drawing.readings();
        match drawing.tried(&inputs) {
            Ok(Some((tape, outcomes))) => {
                return Ok(Drawn {
                    sheet,
                    readings,
                    tape,
                    outcomes,
                });
            }
            Ok(None) => {}
            Err(error) => refused = Some(error),
        }
    }
    let message = format!("no readings are found for sheet {sheet} with which every requirement holds");
    Err(refused.unwrap_or_else(|| Refusal::new("exercise", message).into()))
}

struct Drawing<'a> {
    experiment: &'a dyn Experiment,
    nominal: Vec<f64>,
    /// Requirements that the readings as they are meet.
    met: Vec<String>,
    variables: Vec<Variable>,
    /// How much of its reach each variable has.
    shares: Vec<f64>,
    chance: Chance,
}

impl Drawing<'_> {
    fn readings(&mut self) -> (Vec<f64>, Vec<DrawnReading>) {
        let mut inputs = self.nominal.clone();
        let mut readings = Vec::new();
        for (variable, share) in self.variables.iter().zip(&self.shares) {
            let drawn = variable.value(self.chance.next(), *share);
            if let (Some((si, text)), Some(input)) = (drawn, inputs.get_mut(variable.input)) {
                *input = si;
                readings.push(DrawnReading {
                    run: variable.run,
                    address: variable.address.clone(),
                    text,
                    si,
                });
            }
        }
        (inputs, readings)
    }

    /// What comes of these readings; nothing where a requirement does not hold: what it rests on then moves less.
    fn tried(&mut self, inputs: &[f64]) -> Result<Option<(Tape, Vec<Outcome>)>, Diagnostic> {
        let (tape, outcomes) = match self.experiment.run_to_be_read(inputs) {
            Ok(found) => found,
            Err(error) => {
                // Nobody knows which of them is to blame.
                self.shares.iter_mut().for_each(|share| *share *= 0.7);
                return Err(error);
            }
        };
        let found = requirements(&outcomes);
        let broken = found
            .iter()
            .filter(|(label, found)| !found.holds && self.met.contains(label));
        let slots: Vec<Slot> = broken.flat_map(|(_, found)| found.slots.iter().copied()).collect();
        let lost = self.met.iter().any(|label| !found.contains_key(label));
        if slots.is_empty()
            && !lost
            && self
                .met
                .iter()
                .all(|label| found.get(label).is_some_and(|found| found.holds))
        {
            return Ok(Some((tape, outcomes)));
        }
        let behind = inputs_behind(&tape, &slots);
        for (variable, share) in self.variables.iter().zip(&mut self.shares) {
            let asked = slots.is_empty() || behind.get(variable.input).copied().unwrap_or(true);
            *share *= if asked { 0.7 } else { 1.0 };
        }
        Ok(None)
    }
}

struct Requirement {
    holds: bool,
    slots: Vec<Slot>,
}

/// The requirements of all runs, by the run and the formula.
fn requirements(outcomes: &[Outcome]) -> BTreeMap<String, Requirement> {
    let mut found = BTreeMap::new();
    for (run, outcome) in outcomes.iter().enumerate() {
        let mut count: BTreeMap<&str, usize> = BTreeMap::new();
        for check in outcome.checks.iter().filter(|check| check.kind == CheckKind::Require) {
            let nth = count.entry(&check.formula).or_insert(0);
            *nth += 1;
            let requirement = Requirement {
                holds: check.test.holds_as_read().unwrap_or(true),
                slots: slots(check),
            };
            found.insert(format!("{run} {nth} {}", check.formula), requirement);
        }
    }
    found
}

fn slots(check: &Check) -> Vec<Slot> {
    let of = |value: &Value| match value {
        Value::Amount(amount) => amount.slot,
        _ => None,
    };
    match &check.test {
        Test::Sides { left, right, .. } => [of(left), of(right)].into_iter().flatten().collect(),
        Test::Between { value, low, high } => [value.slot, low.slot, high.slot].into_iter().flatten().collect(),
        Test::Truth(_) => Vec::new(),
    }
}
