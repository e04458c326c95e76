//! What is adjusted, what is wanted, and how good a place is.

use super::ground::{Found, Ground};
use super::inner::{Linear, Linearised, Weights};
use super::known::Known;
use super::robust::Robust;
use super::search::Landscape;
use crate::kernel;
use crate::outcome::Outcome;
use crate::study::gather::Asked;
use crate::study::judge::Experiment;
use crate::study::lanes::{CheckKey, Key, Watched, amounts};

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
    pub(super) ground: Ground<'a>,
    robust: Option<Robust<'a>>,
    /// Sizes of targets and cost, by which they are scaled.
    sizes: Vec<f64>,
    pub(super) weights: Weights,
    /// Whether the checks take part in the search.
    pub(super) steered_by_checks: bool,
}

impl<'a> Problem<'a> {
    /// `asked` are the checks that lead a robust search, each where it was met first; `known` all that were met.
    pub(super) fn new(
        experiment: &'a dyn Experiment,
        outcomes: &[Outcome],
        request: &'a Request,
        asked: &'a Asked<'a>,
        known: Known,
    ) -> Self {
        let tape = asked.tape;
        let adjusted = inputs(request);
        let numbers = request.targets.iter().map(|target| &target.key).chain(&request.least);
        let nominal = amounts(outcomes.iter());
        let size_of = |key: &Key| {
            let found = nominal.iter().find(|(known, _)| known == key);
            found.map_or(0.0, |(_, watched): &(Key, Watched)| watched.value(&tape.nominal).abs())
        };
        let of_targets = request
            .targets
            .iter()
            .map(|target| kernel::max(target.value.abs(), size_of(&target.key)));
        let of_cost = request.least.iter().map(size_of);
        let sizes = of_targets.chain(of_cost);
        let robust = request
            .robust
            .then(|| Robust::new(experiment, outcomes, asked, &adjusted, &known));
        Self {
            robust,
            request,
            sizes: sizes.map(|size| if size > 0.0 { size } else { 1.0 }).collect(),
            ground: Ground::new(
                experiment,
                (tape, outcomes),
                known,
                numbers.cloned().collect(),
                adjusted,
            ),
            weights: weights(request),
            steered_by_checks: request.targets.len() < request.adjusted.len(),
        }
    }

    /// What was met, for another search.
    pub(super) fn known(self) -> Known {
        self.ground.known
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

    /// Margins of the checks that are there and lead the search, by number, each over its limit's size; none where the
    /// script refuses.
    pub(super) fn margins(&mut self, scaled: &[f64]) -> Vec<(usize, f64)> {
        let values = values(self.request, scaled);
        if let Some(robust) = &mut self.robust {
            return robust.margins(&values, &mut self.ground.known).unwrap_or_default();
        }
        let found = self.ground.at(&values).map(|there| there.margins).unwrap_or_default();
        let over_size = |(number, found): (usize, Found)| (number, found.value / self.ground.known.size(number));
        found.into_iter().map(over_size).collect()
    }

    /// By how much each target is missed, SI units.
    pub(super) fn misses(&self, found: &Linearised) -> Vec<f64> {
        let misses = found.misses.iter().zip(&self.sizes);
        misses.map(|(miss, size)| miss.value * size).collect()
    }

    fn linear(&self, size: f64, found: &Found, wanted: f64) -> Linear {
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
        let there = self.ground.at(&self.values(scaled))?;
        let mut linearised = Linearised::default();
        if self.steered_by_checks {
            let request = self.request;
            linearised.margins = match &mut self.robust {
                Some(robust) => robust.linear(scaled, &|scaled| values(request, scaled), &mut self.ground.known)?,
                None => {
                    let margins = there.margins.iter();
                    margins
                        .map(|(number, found)| self.linear(self.ground.known.size(*number), found, 0.0))
                        .collect()
                }
            };
        }
        let mut numbers = there.numbers.iter().zip(&self.sizes);
        for (target, (found, size)) in self.request.targets.iter().zip(&mut numbers) {
            // A target that is not there cannot be met.
            linearised
                .misses
                .push(self.linear(*size, found.as_ref()?, target.value));
        }
        if let Some((Some(found), size)) = numbers.next() {
            linearised.cost = Some(self.linear(*size, found, 0.0));
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
