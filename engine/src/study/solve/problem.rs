//! What is adjusted, what is wanted, and how good a place is.

use super::ground::{Found, Goal, Ground};
use super::inner::{Linear, Linearised, Weights};
use super::robust::Robust;
use super::search::Landscape;
use crate::kernel;
use crate::outcome::{CheckKind, Outcome};
use crate::study::gather::Asked;
use crate::study::judge::Experiment;
use crate::study::lanes::{CheckKey, Key, TestLane, Watched, amounts, tests};
use crate::tape::{Tape, moving};

/// An input that may be adjusted.
#[derive(Clone, Debug)]
pub struct Adjusted {
    /// Its name, as it was asked for.
    pub name: String,
    /// Which input of the tape it is.
    pub input: usize,
    /// From here, SI units …
    pub low: f64,
    /// … to here.
    pub high: f64,
    /// What it is now, where that is known: a place to search from.
    pub now: Option<f64>,
    /// What exists comes in multiples of this.
    pub snap: Option<f64>,
}

/// A step that is to have a value.
#[derive(Clone, Debug)]
pub struct Target {
    /// The step.
    pub key: Key,
    /// Its value, SI units.
    pub value: f64,
}

/// What is wanted of the adjusted inputs. Without targets and cost: every check to hold with the largest margin.
#[derive(Clone, Debug, Default)]
pub struct Request {
    /// What may be adjusted.
    pub adjusted: Vec<Adjusted>,
    /// Steps that are to have a value. As many as there are adjusted inputs fix a place: then checks only judge it.
    pub targets: Vec<Target>,
    /// A step to be as small as the checks allow.
    pub least: Option<Key>,
    /// Whether margins count as far as the readings' own ± leaves them.
    pub robust: bool,
    /// Runs whose checks do not count, because they only try an option, or were not asked for.
    pub left_out: Vec<usize>,
    /// Checks that count although they do not move with an adjusted input: those that differ between choices.
    pub also: Vec<CheckKey>,
}

/// The checks and targets as a landscape over the scaled adjustments.
pub(super) struct Problem<'a> {
    pub(super) request: &'a Request,
    ground: Ground<'a>,
    robust: Option<Robust<'a>>,
    /// The checks that move with the adjusted inputs.
    pub(super) checks: Vec<CheckKey>,
    /// Sizes of checks, targets and cost, by which they are scaled.
    sizes: Vec<f64>,
    pub(super) weights: Weights,
    /// Whether the checks take part in the search.
    steered_by_checks: bool,
}

impl<'a> Problem<'a> {
    /// `asked` are the checks that move: see [`moving_checks`].
    pub(super) fn new(
        experiment: &'a dyn Experiment,
        outcomes: &[Outcome],
        request: &'a Request,
        asked: &'a Asked<'a>,
    ) -> Self {
        let (tape, moving_checks) = (asked.tape, asked.tests);
        let adjusted = inputs(request);
        let checks: Vec<CheckKey> = moving_checks.iter().map(|(key, _)| key.clone()).collect();
        let numbers = request.targets.iter().map(|target| &target.key).chain(&request.least);
        let goals = checks.iter().cloned().map(Goal::Margin);
        let goals: Vec<Goal> = goals.chain(numbers.clone().cloned().map(Goal::Number)).collect();
        let nominal = amounts(outcomes.iter());
        let size_of = |key: &Key| {
            let found = nominal.iter().find(|(known, _)| known == key);
            found.map_or(0.0, |(_, watched): &(Key, Watched)| watched.value(&tape.nominal).abs())
        };
        let of_checks = moving_checks.iter().map(|(_, test)| test.size(&tape.nominal));
        let of_targets = request
            .targets
            .iter()
            .map(|target| kernel::max(target.value.abs(), size_of(&target.key)));
        let of_cost = request.least.iter().map(size_of);
        let sizes = of_checks.chain(of_targets).chain(of_cost);
        let sizes: Vec<f64> = sizes.map(|size| if size > 0.0 { size } else { 1.0 }).collect();
        let robust = request
            .robust
            .then(|| Robust::new(experiment, outcomes, asked, &adjusted, &sizes));
        Self {
            robust,
            request,
            ground: Ground::new(experiment, (tape, outcomes), goals, adjusted),
            checks,
            sizes,
            weights: weights(request),
            steered_by_checks: request.targets.len() < request.adjusted.len(),
        }
    }

    /// Values of the adjusted inputs, SI units.
    pub(super) fn values(&self, scaled: &[f64]) -> Vec<f64> {
        values(self.request, scaled)
    }

    /// All inputs of the tape there.
    pub(super) fn inputs(&self, scaled: &[f64]) -> Vec<f64> {
        self.ground.inputs(&self.values(scaled))
    }

    /// The same, scaled, of values.
    pub(super) fn scaled(&self, values: &[f64]) -> Vec<f64> {
        let adjusted = self.request.adjusted.iter().zip(values);
        adjusted
            .map(|(adjusted, value)| {
                kernel::max(
                    0.0,
                    kernel::min(1.0, (value - adjusted.low) / (adjusted.high - adjusted.low)),
                )
            })
            .collect()
    }

    /// Margins of the checks there, each over its limit's size; none where the script refuses, or a check is not there.
    pub(super) fn margins(&mut self, scaled: &[f64]) -> Option<Vec<Option<f64>>> {
        if let Some(robust) = &mut self.robust {
            return Some(robust.margins(&values(self.request, scaled)));
        }
        let found = self.ground.at(&self.values(scaled)).ok()?;
        let margins = found.iter().take(self.checks.len()).zip(&self.sizes);
        Some(
            margins
                .map(|(found, size)| Some(found.as_ref()?.value / size))
                .collect(),
        )
    }

    /// By how much each target is missed, SI units.
    pub(super) fn misses(&self, found: &Linearised) -> Vec<f64> {
        let sizes = self.sizes.iter().skip(self.checks.len());
        found
            .misses
            .iter()
            .zip(sizes)
            .map(|(miss, size)| miss.value * size)
            .collect()
    }

    fn linear(&self, number: usize, found: &Found, wanted: f64) -> Linear {
        let size = self.sizes.get(number).copied().unwrap_or(1.0);
        let ranges = self
            .request
            .adjusted
            .iter()
            .map(|adjusted| adjusted.high - adjusted.low);
        Linear {
            value: (found.value - wanted) / size,
            slopes: found
                .slopes
                .iter()
                .zip(ranges)
                .map(|(slope, range)| slope * range / size)
                .collect(),
        }
    }
}

impl Landscape for Problem<'_> {
    fn at(&mut self, scaled: &[f64]) -> Option<Linearised> {
        let found = self.ground.at(&self.values(scaled)).ok()?;
        let mut linearised = Linearised::default();
        if let Some(robust) = self.robust.as_mut().filter(|_| self.steered_by_checks) {
            let request = self.request;
            linearised.margins = robust.linear(scaled, &|scaled| values(request, scaled))?;
        }
        let (checks, targets) = (self.checks.len(), self.request.targets.len());
        for (number, found) in found.iter().enumerate() {
            let Some(found) = found else {
                // A check that is not there asks nothing; a target that is not there cannot be met.
                if (checks..checks + targets).contains(&number) {
                    return None;
                }
                continue;
            };
            match number {
                check if check < checks => {
                    if self.steered_by_checks && self.robust.is_none() {
                        linearised.margins.push(self.linear(number, found, 0.0));
                    }
                }
                target if target < checks + targets => {
                    let wanted = self.request.targets[target - checks].value;
                    linearised.misses.push(self.linear(number, found, wanted));
                }
                _ => linearised.cost = Some(self.linear(number, found, 0.0)),
            }
        }
        Some(linearised)
    }
}

/// Values of the adjusted inputs, SI units.
fn values(request: &Request, scaled: &[f64]) -> Vec<f64> {
    let adjusted = request.adjusted.iter().zip(scaled);
    adjusted
        .map(|(adjusted, scaled)| adjusted.low + scaled * (adjusted.high - adjusted.low))
        .collect()
}

/// The inputs of the tape that are adjusted.
pub(super) fn inputs(request: &Request) -> Vec<usize> {
    request.adjusted.iter().map(|adjusted| adjusted.input).collect()
}

fn weights(request: &Request) -> Weights {
    // Large enough that no gain in margin or cost pays for a target missed, or a check broken.
    const ABOVE_ALL: f64 = 1e3;
    if request.least.is_some() {
        return Weights {
            margin: ABOVE_ALL,
            enough: 0.0,
            miss: ABOVE_ALL,
        };
    }
    Weights {
        margin: 1.0,
        enough: ABOVE_ALL,
        miss: ABOVE_ALL,
    }
}

/// Checks and requirements of the runs that count, where a side moves with the adjusted inputs.
pub(super) fn moving_checks(tape: &Tape, outcomes: &[Outcome], request: &Request) -> Vec<(CheckKey, TestLane)> {
    let moves = moving(tape, &inputs(request));
    let kinds = outcomes
        .iter()
        .flat_map(|outcome| outcome.checks.iter().map(|check| check.kind));
    let all = tests(outcomes.iter()).into_iter().zip(kinds);
    let counted = all.filter(|((key, _), kind)| *kind != CheckKind::Prefer && !request.left_out.contains(&key.0));
    counted
        .map(|(found, _)| found)
        .filter(|(key, test)| request.also.contains(key) || test.moves(&moves))
        .collect()
}
