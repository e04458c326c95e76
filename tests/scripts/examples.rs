//! Every script with its examples; what a script must say.

use super::trial::with_examples;
use crankline_engine::pack::Manifest;
use crankline_engine::script::Library;
use crankline_scripts::{Shipped, cases, script, script_names};
use std::collections::BTreeMap;
use std::rc::Rc;

#[test]
fn every_script_says_what_it_is_for() {
    let library = Library::new(Rc::new(Shipped));
    for name in script_names() {
        let program = library
            .compile(script(&name).unwrap())
            .unwrap_or_else(|error| panic!("{error}"));
        assert!(
            program.description().lines().count() >= 2,
            "{name}: too short a description"
        );
    }
}

#[test]
fn every_script_runs_with_its_examples() {
    for name in script_names() {
        let trial = with_examples(&name);
        assert!(
            trial.judged.uncounted.is_empty(),
            "{name}: samples that cannot be calculated"
        );
        let outcome = trial.outcome();
        for input in &outcome.inputs {
            assert!(input.label.is_some(), "{name}: `{}` has no label", input.name);
            let sourced = !input.assumed || input.per.is_some();
            assert!(
                sourced,
                "{name}: `{}` does not say on whose word it is taken",
                input.name
            );
        }
        for step in &outcome.steps {
            assert!(step.label.is_some(), "{name}: `{}` has no label", step.name);
        }
        for check in &outcome.checks {
            assert!(check.label.is_some(), "{name}: `{}` has no label", check.formula);
        }
        assert!(
            outcome.steps.is_empty() || !outcome.cautions.is_empty(),
            "{name}: no caution"
        );
    }
}

#[test]
fn inputs_of_one_name_are_one_reading_in_all_scripts() {
    let mut seen = BTreeMap::new();
    for name in script_names() {
        for input in &with_examples(&name).outcome().inputs {
            let first = seen
                .entry(input.name.clone())
                .or_insert_with(|| (name.clone(), input.label.clone()));
            assert_eq!(first.1, input.label, "`{}` of {} and of {name}", input.name, first.0);
        }
    }
}

#[test]
fn every_pack_has_a_manifest_with_a_title_and_a_licence() {
    for pack in crankline_scripts::packs() {
        let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../scripts");
        let name = format!("{}/pack.toml", pack.name);
        let text = std::fs::read_to_string(format!("{file}/{name}")).unwrap();
        let source = crankline_engine::diagnostic::SourceText { name, text };
        let manifest = Manifest::read(source).unwrap_or_else(|error| panic!("{error}"));
        assert!(manifest.title.is_some() && manifest.licence.is_some(), "{}", pack.name);
    }
}

/// A published or computed example, another, and input that must fail.
#[test]
fn every_script_has_two_worked_cases_and_one_that_must_fail() {
    for name in script_names() {
        if with_examples(&name).outcome().steps.is_empty() {
            continue;
        }
        let cases = cases(&name).unwrap_or_else(|| panic!("{name} has no cases")).text;
        let (all, failing) = (cases.matches("[[case]]").count(), cases.matches("expect_error").count());
        assert!(
            all - failing >= 2 && failing >= 1,
            "{name}: {all} cases, {failing} of which must fail"
        );
    }
}
