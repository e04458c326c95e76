//! Outcomes judged: intervals, chances, verdicts, and what they rest on.

use super::advice::{Advice, advise};
use super::first_order::FirstOrder;
use super::lanes::{Key, TestLane, amounts, tests};
use super::readings::{sample_count, uncertain};
use super::sample::{Interval, Sampled, Uncounted, interval, sample};
use super::verdict::Verdict;
use crate::diagnostic::Diagnostic;
use crate::outcome::{CheckKind, Input, Origin, Outcome, Value};
use crate::tape::{Slot, Tape};
use std::collections::BTreeMap;

/// What can be run again with other values of the tape's inputs.
pub trait Experiment {
    /// The tape and the outcomes of all runs for these values, in the order of the tape's inputs.
    ///
    /// # Errors
    /// Where a script refuses them.
    fn run(&self, inputs: &[f64]) -> Result<(Tape, Vec<Outcome>), Diagnostic>;
}

/// All runs of a job, judged.
#[derive(Clone, Debug, Default)]
pub struct Judged {
    /// One for each run.
    pub runs: Vec<JudgedRun>,
    /// How each number of the steps moves with the readings; a number that rests on no reading with a ± has none.
    pub intervals: BTreeMap<Key, Interval>,
    /// How many samples were replayed; none where no reading has a ±.
    pub samples: usize,
    /// Samples that cannot be calculated.
    pub uncounted: Vec<Uncounted>,
}

/// One run's checks, judged, in the order of its outcome.
#[derive(Clone, Debug, Default)]
pub struct JudgedRun {
    /// One for each check.
    pub checks: Vec<JudgedCheck>,
}

/// A check, judged.
#[derive(Clone, Debug, PartialEq)]
pub struct JudgedCheck {
    /// What becomes of it.
    pub verdict: Verdict,
    /// The share of samples in which it holds.
    pub chance: f64,
    /// How far it is from turning, in SI units; a check of yes or no has none.
    pub margin: Option<f64>,
    /// Standard uncertainty of the margin, to first order.
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
    let mut sampled = sample(experiment, tape, outcomes, &readings, count, true);
    let first_order = FirstOrder::new(tape, &readings);
    let mut intervals = BTreeMap::new();
    for (key, watched) in amounts(outcomes.iter()) {
        let samples = sampled.amounts.remove(&key).unwrap_or_default();
        let standard = first_order.standard(watched.lane);
        let moves = samples.iter().any(|value| *value != samples[0]);
        if let Some(found) = interval(samples, standard).filter(|_| moves) {
            intervals.insert(key, found);
        }
    }
    let reach = Reach::new(tape);
    let mut runs: Vec<JudgedRun> = vec![JudgedRun::default(); outcomes.len()];
    let mut contradicted = false;
    for (number, ((run, ..), test)) in tests(outcomes.iter()).into_iter().enumerate() {
        let kind = outcomes[run].checks[runs[run].checks.len()].kind;
        let mut check = one(&test, &sampled, number, &first_order, tape);
        if in_job {
            check.examples = examples(outcomes, run, &test, &reach);
        }
        if check.verdict == Verdict::Unsure {
            check.advice = Some(advise(experiment, (tape, outcomes), &readings, number, &check.rests_on));
        }
        check.verdict = settled(check.verdict, contradicted, !check.examples.is_empty());
        contradicted |= kind == CheckKind::Require && check.verdict == Verdict::Fails;
        runs[run].checks.push(check);
    }
    Judged {
        runs,
        intervals,
        samples: sampled.count,
        uncounted: sampled.uncounted,
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

fn one(test: &TestLane, sampled: &Sampled, number: usize, first_order: &FirstOrder<'_>, tape: &Tape) -> JudgedCheck {
    let chance = match sampled.checks.get(number) {
        Some((present, holding)) if *present > 0 => {
            #[allow(clippy::cast_precision_loss, reason = "at most 1024")]
            let share = *holding as f64 / *present as f64;
            share
        }
        _ => f64::from(u8::from(test.holds(&tape.nominal))),
    };
    let (margin_uncertainty, rests_on) = first_order.margin(test);
    JudgedCheck {
        verdict: Verdict::of_chance(chance),
        chance,
        margin: test.margin(&tape.nominal),
        margin_uncertainty,
        rests_on,
        examples: Vec::new(),
        advice: None,
    }
}

/// Which inputs of the tape each number depends on.
struct Reach<'a> {
    tape: &'a Tape,
    /// For each slot, the node that fills it.
    maker: Vec<usize>,
}

impl<'a> Reach<'a> {
    fn new(tape: &'a Tape) -> Self {
        let mut maker = vec![0; tape.graph.slots()];
        for (number, node) in tape.graph.nodes().iter().enumerate() {
            maker[node.slots()].fill(number);
        }
        Self { tape, maker }
    }

    /// The slots of inputs that these slots depend on, through the comparisons that the script went by too.
    fn inputs(&self, slots: &[Slot]) -> Vec<Slot> {
        let mut seen = vec![false; self.maker.len()];
        let mut open: Vec<Slot> = slots.to_vec();
        let last = slots.iter().map(|slot| self.maker[*slot as usize]).max().unwrap_or(0);
        let guards = self.tape.guards.iter().filter(|guard| guard.after as usize <= last);
        open.extend(guards.flat_map(|guard| [guard.left, guard.right]));
        let mut found = Vec::new();
        while let Some(slot) = open.pop() {
            if std::mem::replace(&mut seen[slot as usize], true) {
                continue;
            }
            let node = &self.tape.graph.nodes()[self.maker[slot as usize]];
            if self.tape.inputs.contains(&slot) {
                found.push(slot);
            }
            open.extend(self.tape.graph.arguments_of(node));
        }
        found
    }
}

/// Names of the examples that a check rests on. A text or a count leaves no trace on the tape: an example of that kind
/// is taken to matter to every check of its run.
fn examples(outcomes: &[Outcome], run: usize, test: &TestLane, reach: &Reach<'_>) -> Vec<String> {
    let slots: Vec<Slot> = match test {
        TestLane::Sides { left, right, .. } => [left, right].iter().filter_map(|lane| lane.slot()).collect(),
        TestLane::Between { value, low, high } => [value, low, high].iter().filter_map(|lane| lane.slot()).collect(),
        TestLane::Settled(_) => Vec::new(),
    };
    let reached = reach.inputs(&slots);
    let mut names = Vec::new();
    for (number, outcome) in outcomes.iter().enumerate() {
        for input in outcome.inputs.iter().filter(|input| input.origin == Origin::Example) {
            let traced = input.parts.iter().any(|part| reached.contains(&part.slot));
            let untraced = number == run && input.parts.is_empty() && is_choice(input);
            if (traced || untraced) && !names.contains(&input.name) {
                names.push(input.name.clone());
            }
        }
    }
    names
}

fn is_choice(input: &Input) -> bool {
    matches!(input.value, Value::Text(_) | Value::Truth(_) | Value::Count(_))
}
