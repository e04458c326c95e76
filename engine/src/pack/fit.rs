//! Whether a script is fit to be given to others: everything in it says what it is, and what it takes on trust says whose
//! word that is.

use crate::outcome::{CheckKind, Outcome};

/// What a script lacks, as far as these runs of it show: labels of inputs, steps and checks, sources of assumptions.
#[must_use]
pub fn lacking<'a>(outcomes: impl Iterator<Item = &'a Outcome>) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let mut note = |lacks: String| {
        if !found.contains(&lacks) {
            found.push(lacks);
        }
    };
    for outcome in outcomes {
        for input in &outcome.inputs {
            if input.label.is_none() {
                note(format!("`{}` has no label", input.name));
            }
            if input.assumed && input.per.is_none() {
                note(format!("`{}` is assumed and has no source", input.name));
            }
        }
        for step in outcome.steps.iter().filter(|step| step.within.is_none()) {
            if step.label.is_none() {
                note(format!("`{}` has no label", step.name));
            }
        }
        for check in outcome.checks.iter().filter(|check| check.label.is_none()) {
            let kind = match check.kind {
                CheckKind::Check => "check",
                CheckKind::Prefer => "prefer",
                CheckKind::Require => "require",
            };
            note(format!("`{kind} {}` has no label", check.formula));
        }
    }
    found
}

/// Whether a script states anything: one that only lends its functions has nothing to show in a worked example.
#[must_use]
pub fn states_something(outcome: &Outcome) -> bool {
    !(outcome.inputs.is_empty() && outcome.steps.is_empty() && outcome.checks.is_empty())
}
