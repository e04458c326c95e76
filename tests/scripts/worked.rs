//! Every case against what comes out.

use super::trial;
use crankline_engine::pack::{Case, Expectation, difference_words, prove, read_cases};
use crankline_engine::script::Library;
use crankline_scripts::Shipped;
use std::rc::Rc;

fn cases(script: &str) -> Vec<Case> {
    let text = crankline_scripts::cases(script).unwrap_or_else(|| panic!("{script} has no cases"));
    read_cases(text).unwrap_or_else(|error| panic!("{error}"))
}

/// A module asks for nothing: it is tested with the scripts that use it.
fn states(script: &str) -> bool {
    let library = Library::new(Rc::new(Shipped));
    let program = library.compile(crankline_scripts::script(script).unwrap());
    let program = program.unwrap_or_else(|error| panic!("{error}"));
    program.input_names().next().is_some()
}

#[test]
fn every_script_has_cases_good_and_bad() {
    for script in crankline_scripts::script_names().iter().filter(|script| states(script)) {
        let cases = cases(script);
        let good = cases
            .iter()
            .filter(|case| matches!(case.expectation, Expectation::Results(_)))
            .count();
        assert!(good >= 2, "{script}: {good} worked cases");
        assert!(good < cases.len(), "{script}: no case of a bad reading");
    }
}

#[test]
fn every_case_comes_out() {
    let mut wrong = Vec::new();
    for script in crankline_scripts::script_names().iter().filter(|script| states(script)) {
        for case in cases(script) {
            let found = differences(script, &case);
            if !found.is_empty() {
                wrong.push(format!("{script}, {}:\n{found}", case.title));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn differences(script: &str, case: &Case) -> String {
    let trial = trial::run(&case.job(script), false);
    let result = trial.as_ref().map(trial::Trial::outcome);
    let verdict = |check: usize| Some(trial.as_ref().ok()?.judged.runs.first()?.checks.get(check)?.verdict);
    difference_words(&prove(case, result, &verdict))
}
