//! What the samples gave, gathered in their order.

use super::elsewhere::Elsewhere;
use super::lanes::{CheckKey, Key, Lane, TestLane, Watched};
use super::path::Path;
use crate::diagnostic::Diagnostic;
use crate::quantity::Dimension;
use crate::tape::Tape;
use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};

/// Samples that the script refuses for one reason at one place: why, and how many.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncounted {
    /// What the script says of the first of them.
    pub message: String,
    /// How many samples.
    pub samples: usize,
    /// Whether it says the same of all of them: a message may have a sample's numbers in it.
    pub alike: bool,
    why: Why,
}

/// A sample that the script refuses.
#[derive(Clone, Debug)]
pub(crate) struct Refused {
    message: String,
    why: Why,
}

/// What the refusals of a group have in common: the code, and the line of which script.
#[derive(Clone, Debug, PartialEq)]
struct Why {
    code: &'static str,
    line: Option<(String, usize)>,
}

impl Refused {
    pub(crate) fn of(diagnostic: &Diagnostic) -> Self {
        let place = diagnostic.places.first();
        Self {
            message: diagnostic.refusal.message().to_owned(),
            why: Why {
                code: diagnostic.refusal.code(),
                line: place.map(|place| (place.source.name.clone(), place.line)),
            },
        }
    }
}

impl Uncounted {
    /// Counts a sample among those that are refused for the same reason.
    pub(crate) fn count(groups: &mut Vec<Self>, refused: &Refused) {
        match groups.iter_mut().find(|group| group.why == refused.why) {
            Some(group) => {
                group.samples += 1;
                group.alike &= group.message == refused.message;
            }
            None => groups.push(Self {
                message: refused.message.clone(),
                samples: 1,
                alike: true,
                why: refused.why.clone(),
            }),
        }
    }
}

/// How many samples there are, and how many of them cannot be calculated.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tally {
    pub(crate) count: usize,
    pub(crate) refused: usize,
}

#[allow(clippy::cast_precision_loss, reason = "far below 2^52")]
impl Tally {
    /// The chance of a check that is there in some samples, and holds in some of those: it fails where it is there and
    /// does not hold, and where nothing can be calculated. Nothing is known of no samples.
    pub(crate) fn chance(self, there: usize, holding: usize) -> f64 {
        let failing = self.refused + there.saturating_sub(holding);
        self.count.saturating_sub(failing) as f64 / self.count.max(1) as f64
    }

    /// The share of the samples that can be calculated in which something is there.
    pub(crate) fn present(self, there: usize) -> f64 {
        match self.count.saturating_sub(self.refused) {
            0 => 1.0,
            calculable => there as f64 / calculable as f64,
        }
    }

    /// The same of what is not there in some of them.
    pub(crate) fn shares(self, lacking: &BTreeMap<Key, usize>) -> BTreeMap<Key, f64> {
        let calculable = self.count.saturating_sub(self.refused);
        let share = |lacking: &usize| self.present(calculable.saturating_sub(*lacking));
        lacking
            .iter()
            .map(|(key, lacking)| (key.clone(), share(lacking)))
            .collect()
    }
}

/// What the samples gave, aligned with the numbers and the checks asked for.
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
    /// What other ways have besides, where it was looked for.
    pub(crate) elsewhere: Elsewhere,
}

impl Sampled {
    pub(crate) fn tally(&self) -> Tally {
        Tally {
            count: self.count,
            refused: self.uncounted.iter().map(|uncounted| uncounted.samples).sum(),
        }
    }
}

/// What is asked of every sample.
pub(crate) struct Asked<'a> {
    pub(crate) tape: &'a Tape,
    pub(crate) amounts: &'a [(Key, Watched)],
    pub(crate) tests: &'a [(CheckKey, TestLane)],
    /// Whether the values of the checks' sides are kept, or only counted how often they hold.
    pub(crate) sides: bool,
    /// Whether the lines of charts are among the numbers.
    pub(crate) curves: bool,
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
                elsewhere: Elsewhere::default(),
            },
            asked,
        }
    }

    pub(crate) fn take(&mut self, path: &Path, values: &[f64]) {
        let nominal = &self.asked.tape.nominal;
        self.sampled.elsewhere.take(&path.apart, values, self.asked.sides);
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
    pub(crate) fn refuse(&mut self, refused: &Refused) {
        for counted in &mut self.sampled.checks {
            counted.0 += 1;
        }
        Uncounted::count(&mut self.sampled.uncounted, refused);
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
