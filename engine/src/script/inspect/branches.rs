//! What readings decide: the conditions of a script, and the results and checks that no run so far has reached.

use super::super::grammar::Keyword;
use super::super::source::Script;
use super::graph::{nested, word};
use crate::diagnostic::Place;
use crate::outcome::Outcome;

/// A condition, as the script writes it.
#[derive(Clone, Debug)]
pub struct Decision {
    /// `span > 2.m`
    pub condition: String,
    /// Where it stands.
    pub place: Place,
}

/// The conditions of all `if` and `while`, in the order of the text.
pub(super) fn decisions(script: &Script) -> Vec<Decision> {
    let mut found = Vec::new();
    for at in (0..script.lexemes.len()).filter(|at| matches!(word(script, *at), "if" | "while")) {
        let block =
            nested(script, at + 1..script.lexemes.len()).find(|(at, open)| *open == 0 && word(script, *at) == "{");
        if let (Some((block, _)), Some(place)) = (block, script.place_at(at)) {
            found.push(Decision {
                condition: script.written(&(at + 1..block)),
                place,
            });
        }
    }
    found
}

/// Steps and checks in a block or a function that none of these runs has reached.
pub(super) fn unreached<'a>(script: &Script, outcomes: impl Iterator<Item = &'a Outcome>) -> Vec<Place> {
    let mut reached: Vec<usize> = Vec::new();
    for outcome in outcomes {
        let steps = outcome.steps.iter().filter_map(|step| step.place.as_ref());
        let checks = outcome.checks.iter().filter_map(|check| check.place.as_ref());
        let own = steps
            .chain(checks)
            .filter(|place| place.source.name == script.text.name);
        reached.extend(own.map(|place| place.line));
    }
    let judged = |keyword| {
        matches!(
            keyword,
            Keyword::Step | Keyword::Check | Keyword::Prefer | Keyword::Require
        )
    };
    let inner = script
        .extents
        .iter()
        .filter(|extent| extent.depth > 0 && judged(extent.keyword));
    let places = inner.filter_map(|extent| script.place_of(extent));
    places.filter(|place| !reached.contains(&place.line)).collect()
}
