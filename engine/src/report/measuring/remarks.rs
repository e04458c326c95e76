//! What is said of a reading beside its label: its usual ±, its range, the words for its sign, who uses it.

use super::super::{description, readings, written};
use crate::job::{State, Wanted};
use crate::outcome::{Origin, Spread};
use crate::quantity::text::System;
use crate::study::half_width;

/// What is said once of all boxes.
pub(super) const OF_BOXES: &str = "A ± says how far a value may be off; where it stays empty, the usual one counts. Strike \
                                   out a unit and write the one that you read.";

/// How it is measured, in the script's words.
pub(super) fn how(wanted: &Wanted, system: System) -> Option<String> {
    let how = wanted.input.how.as_ref()?;
    Some(written::phrase(how, system)).filter(|how| !how.is_empty())
}

/// Its source, in the script's words.
pub(super) fn per(wanted: &Wanted, system: System) -> Option<String> {
    let per = wanted.input.per.as_ref()?;
    Some(written::phrase(per, system)).filter(|per| !per.is_empty())
}

/// The script's ± of one that nobody has given: `± 0.1°`, `± 0.1° (95 in 100)`.
pub(super) fn usual(wanted: &Wanted, system: System) -> Option<String> {
    if matches!(wanted.state, State::Given(_)) {
        return None;
    }
    let part = wanted.input.parts.iter().find(|part| part.spread != Spread::Exact)?;
    let amount = readings::first_amount(&wanted.input.value)?;
    let width = written::half_width(&written::style(amount, system), half_width(&part.spread), amount.si);
    Some(format!("± {width}{}", readings::certainty(&part.spread)))
}

/// What may be entered: `from -15° to 15°`.
pub(super) fn range(wanted: &Wanted, system: System) -> Option<String> {
    description::range(&wanted.input, system)
}

/// The words for its sign, the positive one first.
pub(super) fn signs(wanted: &Wanted) -> Option<(&str, &str)> {
    let amount = readings::first_amount(&wanted.input.value)?;
    let (positive, negative) = amount.signs.as_ref()?;
    Some((positive, negative))
}

/// What may be chosen: `one of A, B, C`.
pub(super) fn choices(wanted: &Wanted) -> Option<String> {
    let choices = &wanted.input.choices;
    (!choices.is_empty()).then(|| format!("one of {}", choices.join(", ")))
}

/// More choices than this are not listed where somebody only looks at one reading of many.
const CHOICES: usize = 16;

/// The same, a long list by its ends: a wrong one is told with the right one near it.
fn few_choices(wanted: &Wanted) -> Option<String> {
    match wanted.input.choices.as_slice() {
        [first, second, .., last] if wanted.input.choices.len() > CHOICES => {
            let count = wanted.input.choices.len();
            Some(format!("one of {count}: {first}, {second}, … {last}"))
        }
        _ => choices(wanted),
    }
}

/// `usual ± 0.1°; from -15° to 15°; say tail down or tail up`
pub(super) fn all(wanted: &Wanted, system: System) -> Option<String> {
    let usual = usual(wanted, system).map(|usual| format!("usual {usual}"));
    let signs = signs(wanted).map(|(positive, negative)| format!("say {positive} or {negative}"));
    let said = [usual, range(wanted, system), signs, few_choices(wanted)];
    let said: Vec<String> = said.into_iter().flatten().collect();
    (!said.is_empty()).then(|| said.join("; "))
}

/// The runs that use it, where it is a job's.
pub(super) fn users(wanted: &Wanted) -> Option<String> {
    let mut runs: Vec<&str> = Vec::new();
    for used in &wanted.uses {
        if !used.run.is_empty() && !runs.contains(&used.run.as_str()) {
            runs.push(&used.run);
        }
    }
    (!runs.is_empty()).then(|| runs.join(", "))
}

/// How one that is there was taken: `measured 2026-03-14 by R., with steel rule`.
pub(super) fn taken(wanted: &Wanted) -> Option<String> {
    let State::Given(taken) = &wanted.state else {
        return None;
    };
    let mut said = match wanted.input.origin {
        Origin::Chosen if wanted.run.is_some() => "set for this run".to_owned(),
        origin => readings::origin(origin).to_owned(),
    };
    if let Some(on) = &taken.on {
        said.push_str(&format!(" {on}"));
    }
    if let Some(by) = &taken.by {
        said.push_str(&format!(" by {by}"));
    }
    if let Some(with) = &taken.with {
        said.push_str(&format!(", with {with}"));
    }
    Some(said)
}
