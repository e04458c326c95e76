//! The tape replayed on every sample; a sample that leads the script another way is run, and its path kept.

use super::judge::Experiment;
use super::lanes::{CheckKey, Key, Lane, TestLane, Watched, amounts, tests};
use super::readings::{Samples, Uncertain};
use crate::outcome::Outcome;
use crate::quantity::Dimension;
use crate::tape::{Replay, Slot, Tape, is_stopped};
use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};

/// Paths whose tape is kept; samples beyond are run by the script.
const MOST_PATHS: usize = 64;

/// How a number moves with the readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Standard uncertainty to first order (JCGM 100:2008, 5.1.2). Near a kink (the root of nearly nothing) a derivative
    /// says nothing; where first order gives more than twice what the samples show, it is theirs: a quarter of the
    /// interval, as for a normal distribution.
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

/// One way through the scripts, with where the asked numbers stand on it.
struct Path {
    tape: Tape,
    amounts: Vec<Option<Watched>>,
    tests: Vec<Option<TestLane>>,
}

impl Path {
    fn new(tape: Tape, outcomes: &[Outcome], asked: &Asked<'_>) -> Self {
        let amounts: BTreeMap<Key, Watched> = amounts(outcomes.iter()).into_iter().collect();
        let mut tests: BTreeMap<CheckKey, TestLane> = tests(outcomes.iter()).into_iter().collect();
        Self {
            tape,
            amounts: asked.amounts.iter().map(|(key, _)| amounts.get(key).copied()).collect(),
            tests: asked.tests.iter().map(|(key, _)| tests.remove(key)).collect(),
        }
    }
}

/// Replays every sample of these readings.
pub(crate) fn sample(
    experiment: &dyn Experiment,
    outcomes: &[Outcome],
    asked: &Asked<'_>,
    readings: &[Uncertain],
    count: usize,
) -> Sampled {
    let mut gathering = Gathering::new(asked);
    let nominal = Path::new(asked.tape.clone(), outcomes, asked);
    // Where only checks are counted, what they do not rest on need not be calculated.
    let mut straight = if asked.sides {
        Replay::new(&nominal.tape)
    } else {
        let sides = asked.tests.iter().flat_map(|(_, test)| test.sides());
        let slots: Vec<Slot> = sides.filter_map(Watched::slot).collect();
        Replay::of_slots(&nominal.tape, &slots)
    };
    let mut paths: Vec<Path> = Vec::new();
    for inputs in Samples::new(readings, asked.tape, count).iter() {
        if is_stopped() {
            break;
        }
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
                let path = Path::new(tape, &outcomes, asked);
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

struct Gathering<'a> {
    sampled: Sampled,
    asked: &'a Asked<'a>,
}

impl<'a> Gathering<'a> {
    fn new(asked: &'a Asked<'a>) -> Self {
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

    fn take(&mut self, path: &Path, values: &[f64]) {
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

/// The value on a sample's path of a number that may move; none for one that is fixed on every path.
fn moved(here: Watched, watched: Watched, values: &[f64], nominal: &[f64]) -> Option<f64> {
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

/// The central 95 % of samples: 2.5 % lie below the lower end, 2.5 % above the upper (JCGM 101:2008, 7.7). `None` for a
/// number that does not move.
pub(crate) fn interval(mut samples: Vec<f64>, std_uncertainty: f64) -> Option<Interval> {
    samples.sort_by(f64::total_cmp);
    let outside = samples.len() / 40;
    let last = samples.len().checked_sub(1)?;
    if samples[0] == samples[last] {
        return None;
    }
    let (low, high) = (samples[outside], samples[last - outside]);
    Some(Interval {
        std_uncertainty: trusted(std_uncertainty, low, high),
        low,
        median: samples[last / 2],
        high,
        present: samples.len(),
    })
}

/// First order, unless it says more than twice what the samples show.
fn trusted(first_order: f64, low: f64, high: f64) -> f64 {
    // 95 % of a normal distribution lie within 2 × 1.96 standard deviations.
    let sampled = (high - low) / 3.92;
    if first_order > 2.0 * sampled {
        sampled
    } else {
        first_order
    }
}
