//! What happens between here and there: results and verdicts at many values of one input or two.

use super::gather::Asked;
use super::judge::Experiment;
use super::lanes::{CheckKey, Key, TestLane, Watched, amounts, tests};
use super::readings::{Uncertain, affordable, uncertain};
use super::sample::Sampler;
use super::verdict::Verdict;
use crate::kernel;
use crate::outcome::{CheckKind, Outcome};
use crate::tape::{Tape, is_stopped};

/// An input that is swept.
#[derive(Clone, Debug)]
pub struct Axis {
    /// Which input of the tape it is.
    pub input: usize,
    /// Its values, SI units.
    pub values: Vec<f64>,
}

/// What is swept and watched.
#[derive(Clone, Debug, Default)]
pub struct Sweep {
    /// One input or two; the last moves fastest.
    pub axes: Vec<Axis>,
    /// Numbers of steps.
    pub watched: Vec<Key>,
    /// Runs whose checks do not count.
    pub left_out: Vec<usize>,
}

/// One point of a sweep.
#[derive(Clone, Debug)]
pub struct Point {
    /// The values of the axes, SI units.
    pub at: Vec<f64>,
    /// The watched numbers; none where the step is not there, or nothing can be calculated.
    pub numbers: Vec<Option<Number>>,
    /// What becomes of each check; none where it is not there.
    pub checks: Vec<Option<Verdict>>,
    /// The worst of the checks that decide.
    pub verdict: Verdict,
    /// The worst of those that depend on what is swept; none where none does.
    pub moved: Option<Verdict>,
    /// Why nothing can be calculated with the readings as they are.
    pub refused: Option<String>,
}

/// A watched number at a point, SI units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// With the readings as they are.
    pub value: f64,
    /// Below it lie 2.5 % of the samples.
    pub low: f64,
    /// Above it lie 2.5 %.
    pub high: f64,
}

/// A value of the only axis at which a check's verdict changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The check's number among [`Swept::checks`].
    pub check: usize,
    /// Up to here, SI units …
    pub at: f64,
    /// … it is this,
    pub before: Verdict,
    /// and from here on this.
    pub after: Verdict,
}

/// All points of a sweep.
#[derive(Clone, Debug, Default)]
pub struct Swept {
    /// The checks: run and number among its checks of the first outcome.
    pub checks: Vec<(usize, usize)>,
    /// The points, the last axis fastest.
    pub points: Vec<Point>,
    /// Where verdicts change, in rising order; of one axis only.
    pub changes: Vec<Change>,
    /// Samples at every point; none where no reading has a ±.
    pub samples: usize,
}

/// A change is sought to this part of the axis' length.
const FOUND: f64 = 1e-5;

/// Sweeps, from a first run.
#[must_use]
pub fn sweep(experiment: &dyn Experiment, (tape, outcomes): (&Tape, &[Outcome]), asked: &Sweep) -> Swept {
    let (numbers, all_tests) = (amounts(outcomes.iter()), tests(outcomes.iter()));
    let watched: Vec<_> = asked
        .watched
        .iter()
        .filter_map(|key| numbers.iter().find(|(known, _)| known == key).cloned())
        .collect();
    let question = Asked {
        tape,
        amounts: &watched,
        tests: &all_tests,
        sides: false,
    };
    let readings = moving(&asked.axes, outcomes, tape);
    let points: usize = asked.axes.iter().map(|axis| axis.values.len()).product();
    let spread = readings.iter().any(|reading| reading.standard() > 0.0);
    let samples = if spread { affordable(tape, points) } else { 0 };
    let swept_inputs: Vec<usize> = asked.axes.iter().map(|axis| axis.input).collect();
    let moves = crate::tape::moving(tape, &swept_inputs);
    let mut sweeping = Sweeping {
        sampler: Sampler::new(experiment, outcomes, &question, &readings),
        readings,
        asked,
        outcomes,
        tests: &all_tests,
        watched: &watched,
        moves: all_tests.iter().map(|(_, test)| test.moves(&moves)).collect(),
        samples,
    };
    let mut swept = Swept {
        checks: places(&all_tests, outcomes),
        samples,
        ..Swept::default()
    };
    for at in grid(&asked.axes) {
        if is_stopped() {
            break;
        }
        swept.points.push(sweeping.point(at));
    }
    if let [_] = asked.axes.as_slice() {
        swept.changes = sweeping.changes(&swept.points);
    }
    swept
}

/// The readings with a ±, and the swept inputs: whether they have one or not, they move.
fn moving(axes: &[Axis], outcomes: &[Outcome], tape: &Tape) -> Vec<Uncertain> {
    let mut readings = uncertain(outcomes.iter(), tape);
    for axis in axes {
        if !readings.iter().any(|reading| reading.input == axis.input) {
            readings.push(Uncertain::exact(axis.input));
        }
    }
    readings
}

/// Every combination of the axes' values, the last fastest.
fn grid(axes: &[Axis]) -> Vec<Vec<f64>> {
    axes.iter().fold(vec![Vec::new()], |points, axis| {
        let with = |point: &Vec<f64>, value: &f64| point.iter().copied().chain([*value]).collect();
        points
            .iter()
            .flat_map(|point| axis.values.iter().map(move |value| with(point, value)))
            .collect()
    })
}

/// Where each check stands among those of its run.
fn places(tests: &[(CheckKey, TestLane)], outcomes: &[Outcome]) -> Vec<(usize, usize)> {
    let mut next = vec![0; outcomes.len()];
    tests
        .iter()
        .map(|((run, ..), _)| {
            let place = (*run, next[*run]);
            next[*run] += 1;
            place
        })
        .collect()
}

struct Sweeping<'a> {
    sampler: Sampler<'a>,
    readings: Vec<Uncertain>,
    asked: &'a Sweep,
    outcomes: &'a [Outcome],
    tests: &'a [(CheckKey, TestLane)],
    watched: &'a [(Key, Watched)],
    /// Which checks depend on what is swept.
    moves: Vec<bool>,
    samples: usize,
}

impl Sweeping<'_> {
    fn point(&mut self, at: Vec<f64>) -> Point {
        let mut readings = self.readings.clone();
        for reading in &mut readings {
            let axis = self.asked.axes.iter().position(|axis| axis.input == reading.input);
            if let Some(value) = axis.and_then(|axis| at.get(axis)) {
                reading.nominal = *value;
            }
        }
        let as_they_are: Vec<Uncertain> = readings.iter().map(Uncertain::without_spread).collect();
        let nominal = self.sampler.sample(&as_they_are, 1);
        let refused = nominal.uncounted.first().map(|uncounted| uncounted.message.clone());
        let sampled = if self.samples > 0 {
            self.sampler.sample(&readings, self.samples)
        } else {
            self.sampler.sample(&as_they_are, 1)
        };
        let mut numbers = Vec::new();
        for ((found, samples), (_, watched)) in nominal.amounts.iter().zip(sampled.amounts).zip(self.watched) {
            // What does not move at all is not drawn.
            let fixed = (refused.is_none() && watched.slot().is_none()).then(|| watched.value(&[]));
            let value = found.first().copied().or(fixed);
            numbers.push(value.map(|value| number(value, samples)));
        }
        let checks: Vec<Option<Verdict>> = sampled.checks.iter().map(|counted| verdict(*counted)).collect();
        let (verdict, moved) = match refused {
            Some(_) => (Verdict::Fails, Some(Verdict::Fails)),
            None => (
                self.worst(&checks, |_| true).unwrap_or(Verdict::Holds),
                self.worst(&checks, |check| self.moves[check]),
            ),
        };
        Point {
            at,
            numbers,
            checks,
            verdict,
            moved,
            refused,
        }
    }

    /// The worst verdict of some of the checks and requirements of the runs that count.
    fn worst(&self, checks: &[Option<Verdict>], which: impl Fn(usize) -> bool) -> Option<Verdict> {
        let kinds = self
            .outcomes
            .iter()
            .flat_map(|outcome| outcome.checks.iter().map(|check| check.kind));
        let counted = self.tests.iter().zip(kinds).zip(checks).enumerate();
        let counted = counted.filter(|(number, (((key, _), kind), _))| {
            *kind != CheckKind::Prefer && !self.asked.left_out.contains(&key.0) && which(*number)
        });
        counted.filter_map(|(_, (_, verdict))| *verdict).min()
    }

    /// Halves every stretch at whose ends a check differs until the change is found.
    fn changes(&mut self, points: &[Point]) -> Vec<Change> {
        let (Some(first), Some(last)) = (points.first(), points.last()) else {
            return Vec::new();
        };
        let enough = FOUND * (last.at[0] - first.at[0]).abs();
        let mut changes = Vec::new();
        for pair in points.windows(2) {
            let [from, to] = pair else { continue };
            for check in 0..self.tests.len() {
                let (Some(before), Some(after)) = (from.checks[check], to.checks[check]) else {
                    continue;
                };
                self.between(check, (from.at[0], before), (to.at[0], after), enough, &mut changes);
            }
        }
        changes.sort_by(|a, b| a.at.total_cmp(&b.at));
        changes
    }

    fn between(
        &mut self,
        check: usize,
        (low, before): (f64, Verdict),
        (high, after): (f64, Verdict),
        enough: f64,
        changes: &mut Vec<Change>,
    ) {
        if before == after || is_stopped() {
            return;
        }
        let middle = (low + high) / 2.0;
        if (high - low).abs() <= enough {
            changes.push(Change {
                check,
                at: middle,
                before,
                after,
            });
            return;
        }
        let Some(there) = self.point(vec![middle]).checks[check] else {
            return;
        };
        self.between(check, (low, before), (middle, there), enough, changes);
        self.between(check, (middle, there), (high, after), enough, changes);
    }
}

fn number(value: f64, mut samples: Vec<f64>) -> Number {
    samples.sort_by(f64::total_cmp);
    let outside = samples.len() / 40;
    let low = samples.get(outside).copied().unwrap_or(value);
    let high = samples
        .len()
        .checked_sub(1 + outside)
        .and_then(|place| samples.get(place));
    Number {
        value,
        low: kernel::min(low, value),
        high: kernel::max(high.copied().unwrap_or(value), value),
    }
}

fn verdict((present, holding): (usize, usize)) -> Option<Verdict> {
    #[allow(clippy::cast_precision_loss, reason = "at most 1,024")]
    (present > 0).then(|| Verdict::of_chance(holding as f64 / present as f64))
}
