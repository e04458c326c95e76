//! Every shipped script and the demonstration job, at their examples and all about them.

use super::node::run;
use super::operations::case;
use crate::kernel::random::Random;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::job::{Job, Overrides, Plan, Ran};
use crankline_engine::outcome::{Amount, Outcome, Phrase, Piece, Test, Value};
use crankline_engine::script::Library;
use crankline_engine::tape::Slot;
use crankline_scripts::{Shipped, script_names};
use std::collections::BTreeSet;
use std::rc::Rc;

/// Runs a job on the shipped scripts.
pub(super) fn with_plan<T>(job: &Job, work: impl FnOnce(&Plan<'_>, &Ran) -> T) -> T {
    let library = Library::new(Rc::new(Shipped));
    let programs = |name: &str| -> Result<_, Diagnostic> { library.compile(crankline_scripts::script(name).unwrap()) };
    let plan = Plan::new(job, &library, &programs, &Overrides::new(), None).unwrap_or_else(|error| panic!("{error}"));
    let ran = plan.run(None).unwrap_or_else(|error| panic!("{error}"));
    work(&plan, &ran)
}

/// Runs a script that is nobody's, where it runs.
pub(super) fn with_plan_of(name: &str, text: &str, work: impl FnOnce(&Ran)) {
    let library = Library::new(Rc::new(Shipped));
    let programs = |_: &str| -> Result<_, Diagnostic> {
        let (name, text) = (name.to_owned(), text.to_owned());
        library.compile(SourceText { name, text })
    };
    let (job, overrides) = (Job::of_script(name), Overrides::new());
    let Ok(plan) = Plan::new(&job, &library, &programs, &overrides, None) else {
        return;
    };
    if let Ok(ran) = plan.run(None) {
        work(&ran);
    }
}

/// The demonstration job.
pub(super) fn demonstration() -> Job {
    let files = |name: &str| Err(Refusal::new("csv", format!("there is no file `{name}`")));
    Job::read(crankline_scripts::demonstration("car.toml").unwrap(), &files).unwrap_or_else(|error| panic!("{error}"))
}

/// Inputs of a run within the ranges that its script states, else about the examples.
pub(super) fn settings(ran: &Ran, count: usize, random: &mut Random) -> Vec<Vec<f64>> {
    let centre: Vec<f64> = ran
        .tape
        .inputs
        .iter()
        .map(|slot| ran.tape.nominal[*slot as usize])
        .collect();
    let mut ranges = vec![None; centre.len()];
    for input in ran.runs.iter().flat_map(|run| &run.outcome.inputs) {
        for part in &input.parts {
            ranges[part.input] = input.range;
        }
    }
    let mut samples = vec![centre.clone()];
    for number in 1..count {
        // Half of them near, so that some stay on the path.
        let share = if number % 2 == 0 { 0.02 } else { 0.5 };
        let one = |(value, range): (&f64, &Option<(f64, f64)>)| match range {
            Some((low, high)) if number % 4 == 1 => random.between(*low, *high),
            _ => value * (1.0 + share * random.between(-1.0, 1.0)),
        };
        samples.push(centre.iter().zip(&ranges).map(one).collect());
    }
    samples
}

/// The slots of steps and checks.
pub(super) fn wanted(ran: &Ran) -> Vec<Slot> {
    let mut found = BTreeSet::new();
    for run in &ran.runs {
        of_outcome(&run.outcome, &mut found);
    }
    found.into_iter().collect()
}

fn of_outcome(outcome: &Outcome, found: &mut BTreeSet<Slot>) {
    for step in &outcome.steps {
        of_value(&step.value, found);
        of_phrase(&step.substituted, found);
    }
    for check in &outcome.checks {
        match &check.test {
            Test::Sides { left, right, .. } => [left, right].into_iter().for_each(|side| of_value(side, found)),
            Test::Between { value, low, high } => {
                [value, low, high].into_iter().for_each(|side| of_amount(side, found))
            }
            Test::Truth(_) => {}
        }
    }
}

fn of_value(value: &Value, found: &mut BTreeSet<Slot>) {
    match value {
        Value::Amount(amount) => of_amount(amount, found),
        Value::Items(items) => items.iter().for_each(|(_, item)| of_value(item, found)),
        _ => {}
    }
}

fn of_phrase(phrase: &Phrase, found: &mut BTreeSet<Slot>) {
    for piece in &phrase.pieces {
        if let Piece::Amount(amount) = piece {
            of_amount(amount, found);
        }
    }
}

fn of_amount(amount: &Amount, found: &mut BTreeSet<Slot>) {
    found.extend(amount.slot);
}

#[test]
fn every_shipped_script_has_the_engines_bits() {
    let mut random = Random::new(5);
    let mut cases = Vec::new();
    for name in script_names() {
        with_plan(&Job::of_script(&name), |_, ran| {
            let count = if ran.tape.graph.slots() > 20_000 { 12 } else { 51 };
            let samples = settings(ran, count, &mut random);
            cases.push(case(&name, &ran.tape, &wanted(ran), &samples, true));
        });
    }
    run("tape.mjs", "scripts", &cases.into());
}

#[test]
fn the_demonstration_job_has_the_engines_bits() {
    let mut random = Random::new(6);
    let case = with_plan(&demonstration(), |_, ran| {
        let samples = settings(ran, 20, &mut random);
        case("demonstration", &ran.tape, &wanted(ran), &samples, true)
    });
    run("tape.mjs", "demonstration", &vec![case].into());
}
