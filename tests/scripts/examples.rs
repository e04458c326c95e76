//! Every script with its examples; what a script must say.

use super::shelf::{PACKS, Shelf, read, scripts, text};
use super::trial;
use crankline_engine::script::{Bindings, Library};
use std::rc::Rc;
use toml::{Table, Value};

#[test]
fn every_script_is_read_and_says_what_it_is_for() {
    let library = Library::new(Rc::new(Shelf));
    for script in PACKS.iter().flat_map(|pack| scripts(pack)) {
        let program = library.compile(text(&script)).unwrap_or_else(|error| panic!("{error}"));
        assert!(
            program.description().lines().count() >= 2,
            "{script}: too short a description"
        );
    }
}

#[test]
fn every_script_runs_with_its_examples() {
    for script in PACKS.iter().flat_map(|pack| scripts(pack)) {
        let trial = trial::run(&script, &Bindings::new()).unwrap_or_else(|error| panic!("{error}"));
        assert!(
            trial.judged.uncounted.is_empty(),
            "{script}: samples that cannot be calculated"
        );
        let outcome = trial.outcome;
        for input in &outcome.inputs {
            assert!(input.label.is_some(), "{script}: `{}` has no label", input.name);
            let sourced = !input.assumed || input.per.is_some();
            assert!(
                sourced,
                "{script}: `{}` does not say on whose word it is taken",
                input.name
            );
        }
        for step in &outcome.steps {
            assert!(step.label.is_some(), "{script}: `{}` has no label", step.name);
        }
        for check in &outcome.checks {
            assert!(check.label.is_some(), "{script}: `{}` has no label", check.formula);
        }
        if !outcome.steps.is_empty() {
            assert!(!outcome.cautions.is_empty(), "{script}: no caution");
        }
    }
}

#[test]
fn inputs_of_one_name_are_one_reading_in_all_scripts() {
    let mut seen = std::collections::BTreeMap::new();
    for script in PACKS.iter().flat_map(|pack| scripts(pack)) {
        let outcome = trial::run(&script, &Bindings::new())
            .unwrap_or_else(|error| panic!("{error}"))
            .outcome;
        for input in outcome.inputs {
            let label = input.label;
            let first = seen
                .entry(input.name.clone())
                .or_insert_with(|| (script.clone(), label.clone()));
            assert_eq!(first.1, label, "`{}` of {} and of {script}", input.name, first.0);
        }
    }
}

#[test]
fn every_pack_says_what_it_is() {
    for pack in PACKS {
        let manifest: Table = read(&format!("{pack}/pack.toml")).parse().unwrap();
        assert_eq!(manifest["format"].as_integer(), Some(1), "{pack}");
        assert_eq!(manifest["name"].as_str(), Some(pack));
        assert!(
            manifest["uses"]
                .as_array()
                .is_some_and(|uses| uses.iter().all(Value::is_str)),
            "{pack}: uses"
        );
        for key in ["version", "title", "licence"] {
            assert!(
                manifest[key].as_str().is_some_and(|text| !text.is_empty()),
                "{pack}: {key}"
            );
        }
    }
}
