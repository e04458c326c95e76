//! A look through scripts for a program. Keys are stable.

use super::looked::{Looked, LookedScript};
use super::words;
use crate::diagnostic::Place;
use crate::outcome::{Input, Step};
use crate::quantity::text::System;
use crate::report::json::FORMAT;
use crate::report::written;
use crate::script::Finding;
use serde_json::{Value, json};

/// The look: everything, of every script what it is made of too.
#[must_use]
pub fn inspected_json(looked: &Looked) -> Value {
    let (errors, warnings) = looked.counts();
    json!({
        "format": FORMAT,
        "inspected": looked.title,
        "errors": errors,
        "warnings": warnings,
        "findings": looked.findings.iter().map(of_finding).collect::<Vec<_>>(),
        "scripts": looked.scripts.iter().map(|script| of_script(script, looked.system)).collect::<Vec<_>>(),
    })
}

fn of_script(script: &LookedScript, system: System) -> Value {
    let inspection = &script.inspection;
    let decisions = inspection.decisions.iter();
    let decisions = decisions.map(|decision| json!({"condition": decision.condition, "line": decision.place.line}));
    let lines = |places: &[Place]| places.iter().map(|place| json!(place.line)).collect::<Vec<_>>();
    let outcome = &inspection.outcome;
    json!({
        "script": {
            "name": script.script.name,
            "pack_version": script.script.pack_version,
            "sha256": script.script.sha256,
        },
        "findings": inspection.findings.iter().map(of_finding).collect::<Vec<_>>(),
        "inputs": outcome.inputs.iter().map(|input| of_input(input, system)).collect::<Vec<_>>(),
        "results": outcome.steps.iter().map(|step| of_step(step, system)).collect::<Vec<_>>(),
        "decisions": decisions.collect::<Vec<_>>(),
        "not_seen": lines(&inspection.unreached),
        "not_tried": lines(&inspection.untried),
        "worked_examples": script.cases,
    })
}

fn of_finding(finding: &Finding) -> Value {
    let diagnostic = &finding.diagnostic;
    let place = |place: &Place| {
        json!({
            "script": place.source.name,
            "line": place.line,
            "column": place.column,
            "width": place.width,
            "text": place.source.text.lines().nth(place.line.saturating_sub(1)),
        })
    };
    json!({
        "kind": words::word(finding).to_lowercase(),
        "code": diagnostic.refusal.code(),
        "message": diagnostic.refusal.message(),
        "hints": diagnostic.refusal.hints(),
        "places": diagnostic.places.iter().map(place).collect::<Vec<_>>(),
        "again_in_lines": finding.again,
    })
}

fn of_input(input: &Input, system: System) -> Value {
    let words = |phrase: &crate::outcome::Phrase| written::phrase(phrase, system);
    json!({
        "name": input.name,
        "label": input.label.as_ref().map(words),
        "how": input.how.as_ref().map(words),
        "kind": words::kind(&input.value),
        "assumed": input.assumed,
        "choices": input.choices,
        "range_si": input.range.map(|(low, high)| [low, high]),
    })
}

fn of_step(step: &Step, system: System) -> Value {
    json!({
        "name": step.name,
        "label": step.label.as_ref().map(|label| written::phrase(label, system)),
        "kind": words::kind(&step.value),
    })
}
