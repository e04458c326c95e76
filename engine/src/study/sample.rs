//! The tape replayed on every sample; a sample that leads the script another way is run, and its path kept.

use super::judge::Experiment;
use super::lanes::{CheckKey, Key, Lane, TestLane, Watched, amounts, tests};
use super::readings::{Samples, Uncertain};
use crate::outcome::Outcome;
use crate::quantity::Dimension;
use crate::tape::{Replay, Tape};
use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};

/// Paths whose tape is kept; samples beyond are run by the script.
const MOST_PATHS: usize = 64;

/// How a number moves with the readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Standard uncertainty to first order (JCGM 100:2008, 5.1.2).
    pub std_uncertainty: f64,
    /// Below it lie 2.5 % of the samples.
    pub low: f64,
    /// The middle sample.
    pub median: f64,
    /// Above it lie 2.5 % of the samples.
    pub high: f64,
    /// In how many samples the step is there.
    pub present: usize,
}

/// Samples that the script refuses: why, and how many.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncounted {
    /// What the script says.
    pub message: String,
    /// How many samples.
    pub samples: usize,
}

/// What the samples gave.
#[derive(Debug, Default)]
pub(crate) struct Sampled {
    pub(crate) count: usize,
    pub(crate) amounts: BTreeMap<Key, Vec<f64>>,
    /// For each check: in how many samples it is there, and holds.
    pub(crate) checks: Vec<(usize, usize)>,
    pub(crate) uncounted: Vec<Uncounted>,
}

/// One way through the scripts, with where its numbers stand.
struct Path {
    tape: Tape,
    amounts: BTreeMap<Key, Watched>,
    tests: BTreeMap<CheckKey, TestLane>,
}

impl Path {
    fn new(tape: Tape, outcomes: &[Outcome]) -> Self {
        Self {
            tape,
            amounts: amounts(outcomes.iter()),
            tests: tests(outcomes.iter()).into_iter().collect(),
        }
    }
}

/// Replays every sample of these readings.
pub(crate) fn sample(
    experiment: &dyn Experiment,
    tape: &Tape,
    outcomes: &[Outcome],
    readings: &[Uncertain],
    count: usize,
    intervals: bool,
) -> Sampled {
    let order: Vec<CheckKey> = tests(outcomes.iter()).into_iter().map(|(key, _)| key).collect();
    let watched = if intervals {
        amounts(outcomes.iter())
    } else {
        BTreeMap::new()
    };
    let mut gathering = Gathering {
        sampled: Sampled {
            checks: vec![(0, 0); order.len()],
            ..Sampled::default()
        },
        order,
        watched,
        nominal: tape.nominal.clone(),
    };
    let nominal = Path::new(tape.clone(), outcomes);
    let mut straight = Replay::new(&nominal.tape);
    let mut paths: Vec<Path> = Vec::new();
    for inputs in Samples::new(readings, tape, count).iter() {
        gathering.sampled.count += 1;
        if let Ok(values) = straight.run(&inputs) {
            gathering.take(&nominal, values);
            continue;
        }
        let other = paths
            .iter()
            .find_map(|path| Replay::new(&path.tape).run(&inputs).ok().map(|v| (path, v.to_vec())));
        if let Some((path, values)) = other {
            gathering.take(path, &values);
            continue;
        }
        match experiment.run(&inputs) {
            Ok((tape, outcomes)) => {
                let path = Path::new(tape, &outcomes);
                gathering.take(&path, &path.tape.nominal);
                if paths.len() < MOST_PATHS {
                    paths.push(path);
                }
            }
            Err(diagnostic) => gathering.refuse(diagnostic.refusal.message()),
        }
    }
    gathering.sampled
}

struct Gathering {
    sampled: Sampled,
    order: Vec<CheckKey>,
    watched: BTreeMap<Key, Watched>,
    nominal: Vec<f64>,
}

impl Gathering {
    fn take(&mut self, path: &Path, values: &[f64]) {
        for (key, nominal) in &self.watched {
            let Some(here) = path.amounts.get(key) else { continue };
            if matches!((here.lane, nominal.lane), (Lane::Fixed(_), Lane::Fixed(_))) {
                continue;
            }
            let value = round_nominal(here.lane.value(values), nominal, &self.nominal);
            self.sampled.amounts.entry(key.clone()).or_default().push(value);
        }
        for (key, counted) in self.order.iter().zip(&mut self.sampled.checks) {
            if let Some(test) = path.tests.get(key) {
                counted.0 += 1;
                counted.1 += usize::from(test.holds(values));
            }
        }
    }

    /// A sample that cannot be calculated counts its checks as not holding.
    fn refuse(&mut self, message: &str) {
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

/// An angle is counted round its nominal value: 179° and -179° are neighbours.
fn round_nominal(value: f64, watched: &Watched, nominal: &[f64]) -> f64 {
    if watched.dimension != Dimension::ANGLE {
        return value;
    }
    let centre = watched.lane.value(nominal);
    let turns = crate::kernel::floor((value - centre + PI) / TAU);
    value - turns * TAU
}

/// The central 95 % of samples: 2.5 % lie below the lower end, 2.5 % above the upper (JCGM 101:2008, 7.7).
pub(crate) fn interval(mut samples: Vec<f64>, std_uncertainty: f64) -> Option<Interval> {
    samples.sort_by(f64::total_cmp);
    let outside = samples.len() / 40;
    let last = samples.len().checked_sub(1)?;
    Some(Interval {
        std_uncertainty,
        low: samples[outside],
        median: samples[last / 2],
        high: samples[last - outside],
        present: samples.len(),
    })
}
