//! Points, each sampled as a run is.

use super::swept::{Axis, Number, Point, Sweep, Swept, SweptCheck};
use crate::kernel;
use crate::outcome::{CheckKind, Outcome};
use crate::study::gather::{Asked, Sampled};
use crate::study::judge::Experiment;
use crate::study::lanes::{CheckKey, Key, Watched, amounts, tests};
use crate::study::readings::{Uncertain, affordable, uncertain};
use crate::study::sample::Sampler;
use crate::study::verdict::Verdict;
use crate::tape::{Tape, is_stopped, moving};

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
        curves: false,
    };
    let readings = swept_readings(&asked.axes, outcomes, tape);
    let points: usize = asked.axes.iter().map(|axis| axis.values.len()).product();
    let spread = readings.iter().any(|reading| reading.standard() > 0.0);
    let samples = if spread { affordable(tape, points) } else { 0 };
    let inputs: Vec<usize> = asked.axes.iter().map(|axis| axis.input).collect();
    let moves = moving(tape, &inputs);
    let mut sampler = Sampler::new(experiment, outcomes, &question, &readings);
    sampler.look_round(outcomes);
    let mut sweeping = Sweeping {
        sampler,
        readings,
        asked,
        tape,
        inputs,
        watched: &watched,
        moves: all_tests.iter().map(|(_, test)| test.moves(&moves)).collect(),
        checks: checks(outcomes),
        elsewhere: Vec::new(),
        samples,
    };
    let mut swept = Swept {
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
    sweeping.settle(&mut swept.points);
    swept.checks = sweeping.checks;
    swept
}

/// The readings with a ±, and the swept inputs: whether they have one or not, they move.
fn swept_readings(axes: &[Axis], outcomes: &[Outcome], tape: &Tape) -> Vec<Uncertain> {
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

/// The checks of the first run.
fn checks(outcomes: &[Outcome]) -> Vec<SweptCheck> {
    let runs = outcomes.iter().enumerate();
    let of_run = |(run, outcome): (usize, &Outcome)| {
        let checks = outcome.checks.iter().cloned();
        let swept = checks.map(|check| SweptCheck {
            run,
            check,
            elsewhere: false,
        });
        swept.collect::<Vec<_>>()
    };
    runs.flat_map(of_run).collect()
}

pub(super) struct Sweeping<'a> {
    sampler: Sampler<'a>,
    readings: Vec<Uncertain>,
    asked: &'a Sweep,
    tape: &'a Tape,
    /// The swept inputs.
    inputs: Vec<usize>,
    watched: &'a [(Key, Watched)],
    /// Which checks depend on what is swept.
    moves: Vec<bool>,
    pub(super) checks: Vec<SweptCheck>,
    /// Keys of those that the first run lacks, which come last.
    elsewhere: Vec<CheckKey>,
    samples: usize,
}

impl Sweeping<'_> {
    pub(super) fn point(&mut self, at: Vec<f64>) -> Point {
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
        let checks = self.verdicts(&sampled);
        let mut numbers = Vec::new();
        for ((found, samples), (_, watched)) in nominal.amounts.iter().zip(sampled.amounts).zip(self.watched) {
            // What does not move at all is not drawn.
            let fixed = (refused.is_none() && watched.slot().is_none()).then(|| watched.value(&[]));
            let value = found.first().copied().or(fixed);
            numbers.push(value.map(|value| number(value, samples)));
        }
        Point {
            at,
            numbers,
            checks,
            verdict: Verdict::Holds,
            moved: None,
            refused,
        }
    }

    /// What becomes of each check there; checks that nobody has met before are added.
    fn verdicts(&mut self, sampled: &Sampled) -> Vec<Option<Verdict>> {
        let tally = sampled.tally();
        let nominal = |(present, holding): &(usize, usize)| {
            let there = present.saturating_sub(tally.refused);
            let verdict = Verdict::of_chance(tally.chance(there, *holding));
            // One that is nowhere, as far as anything can be calculated, asks nothing.
            (there > 0 || verdict != Verdict::Holds).then_some(verdict)
        };
        let mut verdicts: Vec<Option<Verdict>> = sampled.checks.iter().map(nominal).collect();
        let of_first_run = verdicts.len();
        verdicts.resize(self.checks.len(), None);
        for counted in &sampled.elsewhere.found {
            let verdict = Verdict::of_chance(tally.chance(counted.there, counted.holding));
            let known = self.elsewhere.iter().position(|key| *key == counted.met.key);
            if known.is_none() {
                self.elsewhere.push(counted.met.key.clone());
                self.moves.push(counted.met.depends_on(&self.inputs, self.tape));
                self.checks.push(SweptCheck {
                    run: counted.met.key.0,
                    check: counted.met.check_without_slots(),
                    elsewhere: true,
                });
                verdicts.push(None);
            }
            let place = of_first_run + known.unwrap_or(self.elsewhere.len() - 1);
            verdicts[place] = Some(verdict);
        }
        verdicts
    }

    /// Gives the points their verdicts, when all checks are known. A check that comes out otherwise at one point than at
    /// another, or is not there, depends on what is swept.
    fn settle(&mut self, points: &mut [Point]) {
        for point in points.iter_mut() {
            point.checks.resize(self.checks.len(), None);
        }
        for (check, moves) in self.moves.iter_mut().enumerate() {
            let found = points.iter().filter(|point| point.refused.is_none());
            let mut found = found.map(|point| point.checks[check]);
            let first = found.next();
            *moves |= found.any(|verdict| Some(verdict) != first);
        }
        for point in points.iter_mut() {
            let worst = self.worst(&point.checks, |_| true).unwrap_or(Verdict::Holds);
            let moved = self.worst(&point.checks, |check| self.moves[check]);
            (point.verdict, point.moved) = match point.refused {
                Some(_) => (Verdict::Fails, Some(Verdict::Fails)),
                None => (worst, moved),
            };
        }
    }

    /// The worst verdict of some of the checks and requirements of the runs that count.
    fn worst(&self, verdicts: &[Option<Verdict>], which: impl Fn(usize) -> bool) -> Option<Verdict> {
        let counted = self.checks.iter().zip(verdicts).enumerate();
        let counted = counted.filter(|(number, (swept, _))| {
            swept.check.kind != CheckKind::Prefer && !self.asked.left_out.contains(&swept.run) && which(*number)
        });
        counted.filter_map(|(_, (_, verdict))| *verdict).min()
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
