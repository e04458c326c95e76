//! Outcomes judged: intervals, chances, verdicts, and what they rest on.

use super::advice::{Advice, advise};
use super::elsewhere::{Counted, Elsewhere, ElsewhereCheck, shown};
use super::first_order::FirstOrder;
use super::gather::{Asked, Sampled, Tally, Uncounted};
use super::interval::{Interval, interval};
use super::lanes::{CheckKey, Key, TestLane, amounts, tests};
use super::reach::{Reach, examples};
use super::readings::{Uncertain, sample_count, uncertain};
use super::sample::Sampler;
use super::verdict::Verdict;
use crate::diagnostic::Diagnostic;
use crate::outcome::{CheckKind, Origin, Outcome, Value};
use crate::tape::{Slot, Tape};
use std::collections::BTreeMap;

/// What can be run again with other values of the tape's inputs.
pub trait Experiment {
    /// The tape and the outcomes of all runs for these values, in the order of the tape's inputs.
    ///
    /// # Errors
    /// Where a script refuses them.
    fn run(&self, inputs: &[f64]) -> Result<(Tape, Vec<Outcome>), Diagnostic>;

    /// The same, with the formulas of the steps printed: for an outcome that somebody will read.
    ///
    /// # Errors
    /// Where a script refuses them.
    fn run_to_be_read(&self, inputs: &[f64]) -> Result<(Tape, Vec<Outcome>), Diagnostic> {
        self.run(inputs)
    }
}

/// All runs of a job, judged.
#[derive(Clone, Debug, Default)]
pub struct Judged {
    /// One for each run.
    pub runs: Vec<JudgedRun>,
    /// How each number of the steps moves with the readings; a number that rests on no reading with a ± has none.
    pub intervals: BTreeMap<Key, Interval>,
    /// How each side of a check moves, by its slot on the tape.
    pub sides: BTreeMap<Slot, Interval>,
    /// How many samples were replayed; none where no reading has a ±.
    pub samples: usize,
    /// Samples that cannot be calculated.
    pub uncounted: Vec<Uncounted>,
    /// For steps and their numbers that are there in some samples only: in what share of those that can be calculated.
    pub present: BTreeMap<Key, f64>,
}

/// One run's checks, judged, in the order of its outcome.
#[derive(Clone, Debug, Default)]
pub struct JudgedRun {
    /// One for each check.
    pub checks: Vec<JudgedCheck>,
    /// Checks that the readings as they are do not lead to, but others within their ± do.
    pub elsewhere: Vec<ElsewhereCheck>,
}

impl JudgedRun {
    /// All its checks, those that only other samples lead to last.
    pub fn all(&self) -> impl Iterator<Item = &JudgedCheck> {
        let elsewhere = self.elsewhere.iter().map(|found| &found.judged);
        self.checks.iter().chain(elsewhere)
    }
}

/// A check, judged.
#[derive(Clone, Debug, PartialEq)]
pub struct JudgedCheck {
    /// What becomes of it.
    pub verdict: Verdict,
    /// The share of samples in which it holds, or is not there.
    pub chance: f64,
    /// The share of samples in which it is there, of those that can be calculated.
    pub present: f64,
    /// How far it is from turning, in SI units; a check of yes or no has none.
    pub margin: Option<f64>,
    /// Standard uncertainty of the margin, as [`Interval::std_uncertainty`].
    pub margin_uncertainty: f64,
    /// Shares of the margin's variance by reading, largest first.
    pub rests_on: Vec<(String, f64)>,
    /// Examples that it rests on: nobody measured them.
    pub examples: Vec<String>,
    /// What would settle it, where it is unsure.
    pub advice: Option<Advice>,
}

/// Judges the runs of a job, or one script (`in_job` false: there examples are no fault).
#[must_use]
pub fn judge(experiment: &dyn Experiment, tape: &Tape, outcomes: &[Outcome], in_job: bool) -> Judged {
    let readings = uncertain(outcomes.iter(), tape);
    let count = if readings.is_empty() { 0 } else { sample_count(tape) };
    let (amounts, tests) = (amounts(outcomes.iter()), tests(outcomes.iter()));
    let asked = Asked {
        tape,
        amounts: &amounts,
        tests: &tests,
        sides: true,
        curves: false,
    };
    let mut sampler = Sampler::new(experiment, outcomes, &asked, &readings);
    sampler.look_round(outcomes);
    let mut sampled = sampler.sample(&readings, count);
    let first_order = FirstOrder::new(tape, &readings);
    let (intervals, sides) = intervals(&mut sampled, &asked, &first_order);
    let elsewhere = std::mem::take(&mut sampled.elsewhere);
    let mut judging = Judging {
        experiment,
        nominal: (tape, outcomes),
        readings: &readings,
        tally: sampled.tally(),
        contradicted: Contradicted::new(outcomes),
        in_job,
        judged: Judged {
            runs: vec![JudgedRun::default(); outcomes.len()],
            intervals,
            sides,
            samples: sampled.count,
            present: sampled.tally().shares(&elsewhere.lacking),
            uncounted: Vec::new(),
        },
    };
    judging.requirements_elsewhere(&elsewhere);
    let reach = Reach::new(tape);
    for (number, test) in tests.iter().enumerate() {
        let margins = std::mem::take(&mut sampled.margins[number]);
        judging.nominal(test, sampled.checks[number], margins, (&first_order, &reach));
    }
    judging.elsewhere(elsewhere);
    judging.judged.uncounted = sampled.uncounted;
    judging.judged
}

/// Checks on their way to their verdicts.
struct Judging<'a> {
    experiment: &'a dyn Experiment,
    nominal: (&'a Tape, &'a [Outcome]),
    readings: &'a [Uncertain],
    tally: Tally,
    contradicted: Contradicted,
    in_job: bool,
    judged: Judged,
}

impl Judging<'_> {
    /// The next check of the nominal way.
    fn nominal(
        &mut self,
        test: &(CheckKey, TestLane),
        counted: (usize, usize),
        margins: Vec<f64>,
        (first_order, reach): (&FirstOrder<'_>, &Reach<'_>),
    ) {
        let (tape, outcomes) = self.nominal;
        let run = test.0.0;
        let kind = outcomes[run].checks[self.judged.runs[run].checks.len()].kind;
        let there = counted.0.saturating_sub(self.tally.refused);
        let mut check = one(&test.1, first_order, tape);
        if self.tally.count > 0 {
            check.chance = self.tally.chance(there, counted.1);
            check.present = self.tally.present(there);
        }
        let examples = if self.in_job {
            examples(outcomes, run, &test.1, reach)
        } else {
            Vec::new()
        };
        self.settle(test, &mut check, margins, examples);
        if kind == CheckKind::Require && check.verdict == Verdict::Fails {
            self.contradicted.runs[run] = true;
        }
        self.judged.runs[run].checks.push(check);
    }

    /// A requirement that fails in nearly all samples, though the readings as they are do not lead to it, says that they
    /// contradict one another as well.
    fn requirements_elsewhere(&mut self, elsewhere: &Elsewhere) {
        for Counted {
            met, there, holding, ..
        } in &elsewhere.found
        {
            let fails = Verdict::of_chance(self.tally.chance(*there, *holding)) == Verdict::Fails;
            if fails && met.check.kind == CheckKind::Require {
                self.contradicted.runs[met.key.0] = true;
            }
        }
    }

    /// The checks that only other ways have.
    fn elsewhere(&mut self, elsewhere: Elsewhere) {
        let mut unused: Slot = Slot::MAX;
        for mut counted in elsewhere.found {
            let met = std::sync::Arc::clone(&counted.met);
            let (tape, outcomes) = (&met.ground.tape, &met.ground.outcomes);
            let first_order = FirstOrder::new(tape, self.readings);
            let (check, sides) = shown(&mut counted, &first_order, &mut unused);
            self.judged.sides.extend(sides);
            let run = met.key.0;
            let mut judged = one(&met.test, &first_order, tape);
            judged.chance = self.tally.chance(counted.there, counted.holding);
            judged.present = self.tally.present(counted.there);
            let mut margins = std::mem::take(&mut counted.margins);
            judged.margin = super::elsewhere::middle(&mut margins).or(judged.margin);
            let examples = if self.in_job {
                examples(outcomes, run, &met.test, &Reach::new(tape))
            } else {
                Vec::new()
            };
            self.settle(&(met.key.clone(), met.test.clone()), &mut judged, margins, examples);
            let key = met.key.clone();
            self.judged.runs[run].elsewhere.push(ElsewhereCheck {
                key,
                check,
                judged,
                met,
            });
        }
    }

    /// Verdict, and what would settle it.
    fn settle(
        &mut self,
        test: &(CheckKey, TestLane),
        check: &mut JudgedCheck,
        margins: Vec<f64>,
        examples: Vec<String>,
    ) {
        if let Some(margin) = interval(margins, check.margin_uncertainty) {
            check.margin_uncertainty = margin.std_uncertainty;
        }
        check.examples = examples;
        check.verdict = Verdict::of_chance(check.chance);
        if check.verdict == Verdict::Unsure {
            check.advice = Some(advise(
                self.experiment,
                self.nominal,
                self.readings,
                test,
                &check.rests_on,
            ));
        }
        let contradicted = self.contradicted.reaches(test.0.0);
        check.verdict = settled(check.verdict, contradicted, !check.examples.is_empty());
    }
}

/// How the numbers of the steps move, and the sides of the checks by their slot.
fn intervals(
    sampled: &mut Sampled,
    asked: &Asked<'_>,
    first_order: &FirstOrder<'_>,
) -> (BTreeMap<Key, Interval>, BTreeMap<Slot, Interval>) {
    let mut of_steps = BTreeMap::new();
    for ((key, watched), samples) in asked.amounts.iter().zip(sampled.amounts.drain(..)) {
        if let Some(found) = interval(samples, first_order.standard(watched.lane)) {
            of_steps.insert(key.clone(), found);
        }
    }
    let mut of_sides = BTreeMap::new();
    for ((_, test), samples) in asked.tests.iter().zip(sampled.sides.drain(..)) {
        for (watched, samples) in test.sides().into_iter().zip(samples) {
            let found = interval(samples, first_order.standard(watched.lane));
            if let (Some(slot), Some(found)) = (watched.slot(), found) {
                of_sides.insert(slot, found);
            }
        }
    }
    (of_steps, of_sides)
}

/// Which runs are not to be trusted: those in which a requirement failed, and those linked to them.
pub(super) struct Contradicted {
    runs: Vec<bool>,
    /// For each run, the runs whose steps it takes.
    links: Vec<Vec<usize>>,
    /// Up to which run links have been followed.
    seen: usize,
}

impl Contradicted {
    pub(super) fn new(outcomes: &[Outcome]) -> Self {
        let mut steps: BTreeMap<Slot, usize> = BTreeMap::new();
        let mut links = Vec::new();
        for (run, outcome) in outcomes.iter().enumerate() {
            let inputs = outcome.inputs.iter().filter(|input| input.origin == Origin::Linked);
            links.push(
                inputs
                    .flat_map(|input| slots(&input.value))
                    .filter_map(|slot| steps.get(&slot).copied())
                    .collect(),
            );
            for slot in outcome.steps.iter().flat_map(|step| slots(&step.value)) {
                steps.entry(slot).or_insert(run);
            }
        }
        Self {
            runs: vec![false; outcomes.len()],
            links,
            seen: 0,
        }
    }

    /// For each run, the runs whose steps it takes.
    pub(super) fn links(&self) -> &[Vec<usize>] {
        &self.links
    }

    /// Whether a run is one of them; asked in the order of the runs. Links point to earlier runs only.
    fn reaches(&mut self, run: usize) -> bool {
        for later in self.seen..=run {
            let linked = self.links[later].iter().any(|earlier| self.runs[*earlier]);
            self.runs[later] |= linked;
        }
        self.seen = run;
        self.runs[run]
    }
}

/// The slots of all numbers in a value.
fn slots(value: &Value) -> Vec<Slot> {
    match value {
        Value::Amount(amount) => amount.slot.into_iter().collect(),
        Value::Items(items) => items.iter().flat_map(|(_, item)| slots(item)).collect(),
        _ => Vec::new(),
    }
}

/// A failed requirement before it makes a verdict untrusted; an example unmeasured, unless it is worse already.
fn settled(verdict: Verdict, contradicted: bool, on_example: bool) -> Verdict {
    if contradicted {
        Verdict::Untrusted
    } else if on_example {
        verdict.min(Verdict::Unmeasured)
    } else {
        verdict
    }
}

/// A check with its numbers as they are on a tape; its chance is for samples to say.
fn one(test: &TestLane, first_order: &FirstOrder<'_>, tape: &Tape) -> JudgedCheck {
    let chance = f64::from(u8::from(test.holds(&tape.nominal)));
    let (margin_uncertainty, rests_on) = first_order.margin(test);
    JudgedCheck {
        verdict: Verdict::of_chance(chance),
        chance,
        present: 1.0,
        margin: test.margin(&tape.nominal),
        margin_uncertainty,
        rests_on,
        examples: Vec::new(),
        advice: None,
    }
}
