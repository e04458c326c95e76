//! What scripts calculate, against values from outside.

use super::check::{replays, run};
use crankline_engine::outcome::{Test, Value};
use crankline_engine::quantity::units::WrittenUnit;

const SCRIPTS: [(&str, &str); 6] = [
    ("geometry", include_str!("scripts/geometry.rhai")),
    ("sections", include_str!("scripts/sections.rhai")),
    ("materials", include_str!("scripts/materials.rhai")),
    ("conductors", include_str!("scripts/conductors.rhai")),
    ("fasteners", include_str!("scripts/fasteners.rhai")),
    ("frames", include_str!("scripts/frames.rhai")),
];

/// What a step must come to.
struct Reference {
    step: String,
    value: f64,
    unit: String,
    rel_tol: f64,
}

fn references() -> Vec<Reference> {
    let table: toml::Table = include_str!("references.toml").parse().unwrap();
    let rows = table["reference"].as_array().unwrap();
    let row = |row: &toml::Value| Reference {
        step: row["step"].as_str().unwrap().to_owned(),
        value: row["value"].as_float().unwrap(),
        unit: row["unit"].as_str().unwrap().to_owned(),
        rel_tol: row["rel_tol"].as_float().unwrap(),
    };
    rows.iter().map(row).collect()
}

#[test]
fn values_from_outside() {
    let runs: Vec<_> = SCRIPTS.iter().map(|(_, script)| run(script)).collect();
    for reference in references() {
        let step = &reference.step;
        let holds_it = |ran: &&super::check::Ran| ran.outcome.steps.iter().any(|found| found.name == *step);
        let ran = runs
            .iter()
            .find(holds_it)
            .unwrap_or_else(|| panic!("no script has {step}"));
        let unit = WrittenUnit::parse(&reference.unit).unwrap_or_else(|_| panic!("no unit {}", reference.unit));
        let found = ran.step(step);
        assert_eq!(found.dimension, unit.dimension(), "{step}");
        let expected = unit.to_si(reference.value);
        let off = (found.si - expected).abs();
        let allowed = reference.rel_tol * expected.abs();
        assert!(off <= allowed, "{step}: {} instead of {expected}", found.si);
    }
}

/// Identities that a script states as checks of yes or no.
#[test]
fn identities_hold() {
    for (name, script) in SCRIPTS {
        for check in run(script).outcome.checks {
            let holds = match check.test {
                Test::Truth(truth) => truth,
                Test::Sides {
                    left: Value::Amount(left),
                    comparison,
                    right: Value::Amount(right),
                } => comparison.holds(left.si, right.si),
                Test::Sides { left, right, .. } => left == right,
                Test::Between { .. } => panic!("{name}: {} is no identity", check.formula),
            };
            assert!(holds, "{name}: {}", check.formula);
        }
    }
}

#[test]
fn every_script_replays_to_the_bit() {
    for (_, script) in SCRIPTS {
        replays(script);
    }
}
