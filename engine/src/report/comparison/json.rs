//! The comparison for a program, with SI values at full precision.

use super::compare::{ComparedCheck, ComparedEntry, ComparedRun, Comparison, Head};
use super::counts::{self, EntryCounts};
use super::record::{Entry, Found, RecordedCheck};
use crate::report::json::{FORMAT, identity};
use serde_json::{Value, json};

/// Both records side by side: everything, the same too.
#[must_use]
pub fn comparison_json(comparison: &Comparison) -> Value {
    let checks = counts::checks(comparison);
    json!({
        "format": FORMAT,
        "a": of_head(&comparison.a),
        "b": of_head(&comparison.b),
        "got_worse": comparison.got_worse(),
        "counts": {
            "checks": {
                "worse": checks.worse,
                "better": checks.better,
                "same": checks.same,
                "margin_changed": checks.margin,
                "only_a": checks.only_a,
                "only_b": checks.only_b,
            },
            "inputs": of_counts(&counts::inputs(comparison)),
            "steps": of_counts(&counts::steps(comparison)),
        },
        "runs": comparison.runs.iter().map(of_run).collect::<Vec<_>>(),
    })
}

fn of_head(head: &Head) -> Value {
    json!({"name": head.name, "title": head.title})
}

fn of_counts(counts: &EntryCounts) -> Value {
    json!({
        "differ": counts.differ,
        "follow": counts.follow,
        "same": counts.same,
        "only_a": counts.only_a,
        "only_b": counts.only_b,
    })
}

fn of_run(run: &ComparedRun) -> Value {
    let only = match (run.a_only, run.b_only) {
        (true, _) => json!("a"),
        (_, true) => json!("b"),
        _ => Value::Null,
    };
    json!({
        "run": run.name,
        "only": only,
        "tries": run.tries,
        "script_changed": run.script_changed(),
        "script": {
            "a": run.script.a.as_ref().map(identity),
            "b": run.script.b.as_ref().map(identity),
        },
        "checks": run.checks.iter().map(of_check).collect::<Vec<_>>(),
        "inputs": run.inputs.iter().map(of_entry).collect::<Vec<_>>(),
        "steps": run.steps.iter().map(of_entry).collect::<Vec<_>>(),
    })
}

fn of_check(check: &ComparedCheck) -> Value {
    let side = |check: &RecordedCheck| {
        json!({
            "verdict": check.verdict.word(),
            "chance": check.chance,
            "margin": check.margin,
            "margin_si": check.margin_si,
        })
    };
    let any = check.sides.any();
    json!({
        "label": any.and_then(|check| check.label.as_ref()),
        "formula": any.and_then(|check| check.formula.as_ref()),
        "kind": any.map(|check| check.kind.as_str()),
        "a": check.sides.a.as_ref().map(side),
        "b": check.sides.b.as_ref().map(side),
        "change": check.change.word(),
        "margin_changed": check.margin_moved,
    })
}

fn of_entry(entry: &ComparedEntry) -> Value {
    let any = entry.sides.any();
    let difference = match entry.sides.both().map(|(a, b)| (&a.found, &b.found)) {
        Some((Found::Number(a), Found::Number(b))) if a.dimension == b.dimension => Some(b.si - a.si),
        _ => None,
    };
    json!({
        "name": any.map(|entry| entry.address.as_str()),
        "label": any.map(|entry| entry.label.as_str()),
        "a": entry.sides.a.as_ref().map(of_side),
        "b": entry.sides.b.as_ref().map(of_side),
        "difference_si": difference,
        "change": entry.change.word(),
    })
}

fn of_side(entry: &Entry) -> Value {
    let mut value = match &entry.found {
        Found::Words(text) => json!({"value": text}),
        Found::Number(number) => json!({
            "si": number.si,
            "unit": number.unit,
            "dimension": number.dimension,
            "std_uncertainty_si": number.std_uncertainty,
        }),
    };
    if let (Value::Object(object), Some(origin)) = (&mut value, &entry.origin) {
        object.insert("from".to_owned(), json!(origin.from));
        object.insert("taken_from".to_owned(), json!(origin.taken_from));
        object.insert("option".to_owned(), json!(origin.option));
    }
    value
}
