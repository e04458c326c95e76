//! What the samples gave, gathered in their order.

use super::lanes::{CheckKey, Key, Lane, TestLane, Watched};
use super::path::Path;
use crate::quantity::Dimension;
use crate::tape::Tape;
use std::f64::consts::{PI, TAU};

/// Samples that the script refuses: why, and how many.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncounted {
    /// What the script says.
    pub message: String,
    /// How many samples.
    pub samples: usize,
}

/// What the samples gave, aligned with the numbers and the checks asked for.
#[derive(Debug)]
pub(crate) struct Sampled {
    pub(crate) count: usize,
    /// For each number its values, in the samples in which it is there.
    pub(crate) amounts: Vec<Vec<f64>>,
    /// For each check the values of its sides.
    pub(crate) sides: Vec<Vec<Vec<f64>>>,
    /// For each check how far it is from turning.
    pub(crate) margins: Vec<Vec<f64>>,
    /// For each check: in how many samples it is there, and holds.
    pub(crate) checks: Vec<(usize, usize)>,
    pub(crate) uncounted: Vec<Uncounted>,
}

/// What is asked of every sample.
pub(crate) struct Asked<'a> {
    pub(crate) tape: &'a Tape,
    pub(crate) amounts: &'a [(Key, Watched)],
    pub(crate) tests: &'a [(CheckKey, TestLane)],
    /// Whether the values of the checks' sides are kept, or only counted how often they hold.
    pub(crate) sides: bool,
}

pub(crate) struct Gathering<'a> {
    pub(crate) sampled: Sampled,
    asked: &'a Asked<'a>,
}

impl<'a> Gathering<'a> {
    pub(crate) fn new(asked: &'a Asked<'a>) -> Self {
        let sides = |(_, test): &(CheckKey, TestLane)| vec![Vec::new(); test.sides().len()];
        Self {
            sampled: Sampled {
                count: 0,
                amounts: vec![Vec::new(); asked.amounts.len()],
                sides: asked.tests.iter().map(sides).collect(),
                margins: vec![Vec::new(); asked.tests.len()],
                checks: vec![(0, 0); asked.tests.len()],
                uncounted: Vec::new(),
            },
            asked,
        }
    }

    pub(crate) fn take(&mut self, path: &Path, values: &[f64]) {
        let nominal = &self.asked.tape.nominal;
        for (number, (_, watched)) in self.asked.amounts.iter().enumerate() {
            if let Some(here) = path.amounts[number] {
                self.sampled.amounts[number].extend(moved(here, *watched, values, nominal));
            }
        }
        for (number, (_, watched)) in self.asked.tests.iter().enumerate() {
            let Some(test) = &path.tests[number] else { continue };
            self.sampled.checks[number].0 += 1;
            self.sampled.checks[number].1 += usize::from(test.holds(values));
            if !self.asked.sides {
                continue;
            }
            self.sampled.margins[number].extend(test.margin(values));
            for ((kept, here), watched) in self.sampled.sides[number]
                .iter_mut()
                .zip(test.sides())
                .zip(watched.sides())
            {
                kept.extend(moved(here, watched, values, nominal));
            }
        }
    }

    /// A sample that cannot be calculated counts its checks as not holding.
    pub(crate) fn refuse(&mut self, message: &str) {
        for counted in &mut self.sampled.checks {
            counted.0 += 1;
        }
        match self
            .sampled
            .uncounted
            .iter_mut()
            .find(|uncounted| uncounted.message == message)
        {
            Some(uncounted) => uncounted.samples += 1,
            None => self.sampled.uncounted.push(Uncounted {
                message: message.to_owned(),
                samples: 1,
            }),
        }
    }
}

/// The value on a sample's path of a number that may move; none for one that is fixed on every path.
pub(crate) fn moved(here: Watched, watched: Watched, values: &[f64], nominal: &[f64]) -> Option<f64> {
    if matches!((here.lane, watched.lane), (Lane::Fixed(_), Lane::Fixed(_))) {
        return None;
    }
    Some(round_nominal(here.value(values), watched, nominal))
}

/// An angle is counted round its nominal value: 179° and -179° are neighbours.
fn round_nominal(value: f64, watched: Watched, nominal: &[f64]) -> f64 {
    if watched.dimension != Dimension::ANGLE {
        return value;
    }
    let centre = watched.value(nominal);
    let turns = crate::kernel::floor((value - centre + PI) / TAU);
    value - turns * TAU
}
