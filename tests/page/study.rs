//! What the page says after a reader moves an input is what the engine says: numbers, intervals, chances, verdicts.

use super::node::{bits, run};
use super::scripts::{demonstration, settings, with_plan};
use crate::kernel::random::Random;
use crankline_engine::job::{Job, Plan, Ran};
use crankline_engine::outcome::{Check, Outcome, Value};
use crankline_engine::study::{Experiment, Interval, Judged, JudgedCheck, JudgedRun, Key, Verdict, carry, judge};
use crankline_engine::tape::Tape;
use crankline_scripts::script_names;
use serde_json::{Value as Json, json};
use std::collections::BTreeMap;

/// Every number of the steps, by what identifies it on every way.
fn numbers(outcomes: &[Outcome]) -> BTreeMap<Key, f64> {
    fn collect(key: &Key, value: &Value, found: &mut BTreeMap<Key, f64>) {
        match value {
            Value::Amount(amount) => {
                found.insert(key.clone(), amount.si);
            }
            Value::Items(items) => {
                for (name, item) in items {
                    let mut inner = key.clone();
                    inner.items.push(name.clone());
                    collect(&inner, item, found);
                }
            }
            _ => {}
        }
    }
    let mut found = BTreeMap::new();
    for (run, outcome) in outcomes.iter().enumerate() {
        for step in &outcome.steps {
            let key = Key {
                run,
                step: step.name.clone(),
                items: Vec::new(),
            };
            collect(&key, &step.value, &mut found);
        }
    }
    found
}

/// Every check with what became of it, by what identifies it on every way.
fn checks(outcomes: &[Outcome], judged: &Judged) -> BTreeMap<(usize, String, usize), Json> {
    let mut found = BTreeMap::new();
    for (run, outcome) in outcomes.iter().enumerate() {
        for (check, judged) in outcome.checks.iter().zip(&judged.runs[run].checks) {
            let alike = |number: &usize| !found.contains_key(&(run, check.formula.clone(), *number));
            let nth = (0..).find(alike).unwrap();
            let json = json!({
                "verdict": judged.verdict.word(),
                "chance": judged.chance,
                "margin": judged.margin.map(|margin| bits(&[margin])),
            });
            found.insert((run, check.formula.clone(), nth), json);
        }
    }
    found
}

fn interval(interval: Option<&Interval>) -> Json {
    interval.map_or(Json::Null, |found| bits(&[found.low, found.median, found.high]).into())
}

/// What the engine says of the runs on other inputs, where it does not refuse them, in the order of the report's numbers and
/// checks.
pub(super) fn said(
    experiment: &dyn Experiment,
    ran: &Ran,
    inputs: &[f64],
    found: Option<(Tape, Vec<Outcome>)>,
    in_job: bool,
) -> Json {
    let Some((tape, outcomes)) = found else {
        return json!({ "inputs": bits(inputs), "refused": true });
    };
    let judged = judge(experiment, &tape, &outcomes, in_job);
    let (found, known) = (numbers(&outcomes), numbers(&ran.outcomes()));
    let numbers: Vec<Json> = known
        .keys()
        .map(|key| match found.get(key) {
            Some(si) => json!([bits(&[*si]), interval(judged.intervals.get(key))]),
            None => Json::Null,
        })
        .collect();
    let found = checks(&outcomes, &judged);
    let none = Judged {
        runs: judge_nothing(ran),
        ..Judged::default()
    };
    let checks: Vec<Json> = in_order(ran, &checks(&ran.outcomes(), &none))
        .iter()
        .map(|key| found.get(key).cloned().unwrap_or(Json::Null))
        .collect();
    json!({ "inputs": bits(inputs), "refused": false, "numbers": numbers, "checks": checks })
}

/// A verdict for each check, to have their keys.
fn judge_nothing(ran: &Ran) -> Vec<JudgedRun> {
    let check = |_: &Check| JudgedCheck {
        verdict: Verdict::Holds,
        chance: 1.0,
        present: 1.0,
        margin: None,
        margin_uncertainty: 0.0,
        rests_on: Vec::new(),
        examples: Vec::new(),
        advice: None,
    };
    let run = |outcome: &Outcome| JudgedRun {
        checks: outcome.checks.iter().map(check).collect(),
        elsewhere: Vec::new(),
    };
    ran.runs.iter().map(|run_outcome| run(&run_outcome.outcome)).collect()
}

/// The keys of the checks in the order of the outcomes.
fn in_order(ran: &Ran, known: &BTreeMap<(usize, String, usize), Json>) -> Vec<(usize, String, usize)> {
    let mut keys = Vec::new();
    for (run, outcome) in ran.runs.iter().enumerate() {
        let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
        for check in &outcome.outcome.checks {
            let nth = seen.entry(&check.formula).or_insert(0);
            let key = (run, check.formula.clone(), *nth);
            assert!(known.contains_key(&key));
            keys.push(key);
            *nth += 1;
        }
    }
    keys
}

/// What the engine says of a sample: there an example stays an example.
fn sampled(plan: &Plan<'_>, ran: &Ran, inputs: &[f64], in_job: bool) -> Json {
    let mut said = said(plan, ran, inputs, Experiment::run(plan, inputs).ok(), in_job);
    said["options"] = json!({ "tried": [] });
    said
}

/// A job with what the engine says of it on other inputs.
pub(super) fn case(name: &str, ran: &Ran, settings: Vec<Json>, in_job: bool) -> Json {
    let outcomes = ran.outcomes();
    let names: Vec<&str> = ran.runs.iter().map(|run| run.name.as_str()).collect();
    let carried = carry(&ran.tape, &outcomes, &names, in_job, &[]);
    let watched: Vec<Option<usize>> = numbers(&outcomes)
        .keys()
        .map(|key| carried.steps.get(key).copied())
        .collect();
    json!({
        "name": name,
        "tape": carried.tape,
        "study": carried.study,
        "watched": watched,
        "settings": settings,
    })
}

/// One input moved at a time, a little and far, besides all at once.
fn moves(ran: &Ran, count: usize, random: &mut Random) -> Vec<Vec<f64>> {
    let mut all = settings(ran, count.max(2), random);
    let centre = all[0].clone();
    for _ in 0..count {
        let mut moved = centre.clone();
        let Some(input) = (!centre.is_empty()).then(|| random.below(centre.len())) else {
            break;
        };
        moved[input] *= 1.0 + [0.01, 0.3][random.below(2)] * random.between(-1.0, 1.0);
        all.push(moved);
    }
    all
}

#[test]
fn every_shipped_script_is_judged_as_the_engine_judges_it() {
    let mut random = Random::new(8);
    let mut cases = Vec::new();
    for name in script_names() {
        with_plan(&Job::of_script(&name), |plan, ran| {
            let count = if ran.tape.cost() > 100_000 { 1 } else { 3 };
            let settings = moves(ran, count, &mut random);
            let said = settings.iter().map(|inputs| sampled(plan, ran, inputs, false));
            cases.push(case(&name, ran, said.collect(), false));
        });
    }
    run("study.mjs", "study", &cases.into());
}

#[test]
fn the_demonstration_job_is_judged_as_the_engine_judges_it() {
    let mut random = Random::new(9);
    let case = with_plan(&demonstration(), |plan, ran| {
        let settings = moves(ran, 2, &mut random);
        let said = settings.iter().map(|inputs| sampled(plan, ran, inputs, true));
        case("demonstration", ran, said.collect(), true)
    });
    run("study.mjs", "study-demonstration", &vec![case].into());
}
