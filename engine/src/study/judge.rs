//! Outcomes judged: intervals, chances, verdicts, and what they rest on.

use super::advice::{Advice, advise};
use super::first_order::FirstOrder;
use super::gather::{Asked, Sampled, Uncounted};
use super::interval::{Interval, interval};
use super::lanes::{Key, TestLane, amounts, tests};
use super::readings::{sample_count, uncertain};
use super::sample::Sampler;
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
    /// How each side of a check moves, by its slot on the tape.
    pub sides: BTreeMap<Slot, Interval>,
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
    };
    let mut sampled = Sampler::new(experiment, outcomes, &asked, &readings).sample(&readings, count);
    let first_order = FirstOrder::new(tape, &readings);
    let (intervals, sides) = intervals(&mut sampled, &asked, &first_order);
    let reach = Reach::new(tape);
    let mut runs: Vec<JudgedRun> = vec![JudgedRun::default(); outcomes.len()];
    let mut contradicted = Contradicted::new(outcomes);
    for (number, test) in tests.iter().enumerate() {
        let run = test.0.0;
        let kind = outcomes[run].checks[runs[run].checks.len()].kind;
        let mut check = one(&test.1, sampled.checks[number], &first_order, tape);
        let margins = std::mem::take(&mut sampled.margins[number]);
        if let Some(margin) = interval(margins, check.margin_uncertainty) {
            check.margin_uncertainty = margin.std_uncertainty;
        }
        if in_job {
            check.examples = examples(outcomes, run, &test.1, &reach);
        }
        if check.verdict == Verdict::Unsure {
            check.advice = Some(advise(experiment, (tape, outcomes), &readings, test, &check.rests_on));
        }
        check.verdict = settled(check.verdict, contradicted.reaches(run), !check.examples.is_empty());
        if kind == CheckKind::Require && check.verdict == Verdict::Fails {
            contradicted.runs[run] = true;
        }
        runs[run].checks.push(check);
    }
    Judged {
        runs,
        intervals,
        sides,
        samples: sampled.count,
        uncounted: sampled.uncounted,
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
struct Contradicted {
    runs: Vec<bool>,
    /// For each run, the runs whose steps it takes.
    links: Vec<Vec<usize>>,
    /// Up to which run links have been followed.
    seen: usize,
}

impl Contradicted {
    fn new(outcomes: &[Outcome]) -> Self {
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

fn one(test: &TestLane, (present, holding): (usize, usize), first_order: &FirstOrder<'_>, tape: &Tape) -> JudgedCheck {
    #[allow(clippy::cast_precision_loss, reason = "at most 1024")]
    let chance = match present {
        0 => f64::from(u8::from(test.holds(&tape.nominal))),
        _ => holding as f64 / present as f64,
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
    let slots: Vec<Slot> = test.sides().into_iter().filter_map(|side| side.slot()).collect();
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
