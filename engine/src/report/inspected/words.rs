//! Parts of a look through scripts, in words.

use super::looked::{Looked, LookedScript};
use crate::diagnostic::Place;
use crate::outcome::{Input, Step, Value};
use crate::quantity::text::System;
use crate::quantity::words::name_of;
use crate::report::description::range;
use crate::report::{readings, written};
use crate::script::Finding;

/// `ERROR` where the script does not run, `WARNING` where a reviewer would ask.
pub(super) const fn word(finding: &Finding) -> &'static str {
    if finding.is_fault { "ERROR" } else { "WARNING" }
}

/// `2 errors, 1 warning`; `nothing found`.
pub(super) fn counts((errors, warnings): (usize, usize)) -> String {
    let count = |count: usize, word: &str| match count {
        0 => None,
        1 => Some(format!("1 {word}")),
        count => Some(format!("{count} {word}s")),
    };
    let found: Vec<String> = [count(errors, "error"), count(warnings, "warning")]
        .into_iter()
        .flatten()
        .collect();
    if found.is_empty() {
        "nothing found".to_owned()
    } else {
        found.join(", ")
    }
}

/// `line 3, column 7`, with the script where it is another one than the reader is at.
pub(super) fn place(place: &Place, here: &str) -> String {
    let line = format!("line {}, column {}", place.line, place.column);
    if place.source.name == here {
        line
    } else {
        format!("{}, {line}", place.source.name)
    }
}

/// `the same in lines 7 and 9`
pub(super) fn again(finding: &Finding) -> Option<String> {
    let lines: Vec<String> = finding.again.iter().map(usize::to_string).collect();
    match lines.split_last()? {
        (last, []) => Some(format!("the same in line {last}")),
        (last, before) => Some(format!("the same in lines {} and {last}", before.join(", "))),
    }
}

/// What a number measures, in a word: `length`; `several: length, force`.
pub(super) fn kind(value: &Value) -> String {
    match value {
        Value::Amount(amount) if amount.dimension.is_none() => "plain number".to_owned(),
        Value::Amount(amount) => name_of(amount.dimension),
        Value::Count(_) => "count".to_owned(),
        Value::Text(_) => "text".to_owned(),
        Value::Truth(_) => "yes or no".to_owned(),
        Value::Items(items) => {
            let mut kinds: Vec<String> = Vec::new();
            for kind in items.iter().map(|(_, item)| kind(item)) {
                if !kinds.contains(&kind) {
                    kinds.push(kind);
                }
            }
            format!("{} of {}", items.len(), kinds.join(", "))
        }
    }
}

/// `tube_od, length: Tube outside diameter; example 76.2 mm, from 38.1 mm to 152.4 mm`
pub(super) fn input(input: &Input, system: System) -> String {
    let stands = if input.assumed { "taken as" } else { "example" };
    let mut about = vec![format!("{stands} {}", readings::value(input, system))];
    about.extend(range(input, system));
    if !input.choices.is_empty() {
        about.push(format!("one of {}", input.choices.join(", ")));
    }
    let label = input
        .label
        .as_ref()
        .map(|label| format!(": {}", written::phrase(label, system)));
    let (name, kind) = (&input.name, kind(&input.value));
    format!("{name}, {kind}{}; {}", label.unwrap_or_default(), about.join(", "))
}

/// `critical, angular speed: First bending resonance`
pub(super) fn step(step: &Step, system: System) -> String {
    let label = step
        .label
        .as_ref()
        .map(|label| format!(": {}", written::phrase(label, system)));
    format!("{}, {}{}", step.name, kind(&step.value), label.unwrap_or_default())
}

/// What stands below the findings of a script, under words for the margin.
pub(super) fn remarks(script: &LookedScript, system: System) -> Vec<(&'static str, String)> {
    let inspection = &script.inspection;
    let mut found = Vec::new();
    for of_input in &inspection.outcome.inputs {
        found.push(("INPUT", input(of_input, system)));
    }
    for of_step in &inspection.outcome.steps {
        found.push(("RESULT", step(of_step, system)));
    }
    for decision in &inspection.decisions {
        let line = decision.place.line;
        found.push((
            "DECIDED",
            format!("by the readings, in line {line}: {}", decision.condition),
        ));
    }
    found
}

/// What nobody has looked into: for every reader, however little else is told.
pub(super) fn gaps(script: &LookedScript) -> Vec<(&'static str, String)> {
    let inspection = &script.inspection;
    let mut found = Vec::new();
    if !inspection.unreached.is_empty() {
        let what = "neither the script's own examples nor its worked examples come to";
        found.push(("NOT SEEN", format!("{what} {}", lines(&inspection.unreached))));
    }
    if !inspection.untried.is_empty() {
        let what = "what uses something wrong could not be tried:";
        found.push(("NOT TRIED", format!("{what} {}", lines(&inspection.untried))));
    }
    found
}

/// The worked examples.
pub(super) fn cases(script: &LookedScript) -> String {
    match script.cases {
        0 => "none says what should come out".to_owned(),
        1 => "1; crankline prove runs it".to_owned(),
        count => format!("{count}; crankline prove runs them"),
    }
}

fn lines(places: &[Place]) -> String {
    let mut lines: Vec<usize> = places.iter().map(|place| place.line).collect();
    lines.dedup();
    let numbers: Vec<String> = lines.iter().map(usize::to_string).collect();
    match numbers.split_last() {
        Some((last, [])) => format!("line {last}"),
        Some((last, before)) => format!("lines {} and {last}", before.join(", ")),
        None => String::new(),
    }
}

/// What is looked at, with how much was found in all.
pub(super) fn title(looked: &Looked) -> String {
    format!("{}, read without readings: {}", looked.title, counts(looked.counts()))
}
