//! Checks that no reading can turn, and equalities of calculated numbers, which hardly ever hold.

use super::super::grammar::Keyword;
use super::super::source::Script;
use super::graph::{Graph, word};
use super::inspection::Finding;
use crate::diagnostic::{Diagnostic, Refusal};
use crate::outcome::{Comparison, Outcome, Test, Value};
use std::collections::BTreeSet;

/// Checks at the top level that rest on no input, through whatever stands between.
pub(super) fn unturned(script: &Script, graph: &Graph, found: &mut Vec<Finding>) {
    let inputs: BTreeSet<&str> = script.input_names().collect();
    let statements = || graph.statements.iter().enumerate();
    let gives_input = |gives: &BTreeSet<String>| gives.iter().any(|name| inputs.contains(name.as_str()));
    let given = statements().filter(|(_, statement)| gives_input(&statement.gives));
    let moved = graph.with_users(given.map(|(number, _)| number).collect());
    for (number, statement) in statements() {
        let keyword = Keyword::of(word(script, statement.words.start));
        let Some(keyword @ (Keyword::Check | Keyword::Prefer | Keyword::Require)) = keyword else {
            continue;
        };
        if moved.contains(&number) {
            continue;
        }
        let message = format!("this {} rests on no input: no reading can turn it", keyword.word());
        let refusal = Refusal::new("fixed", message).hint("compare with what is measured, or take it out");
        found.push(Finding::at(refusal, script.place_at(statement.words.start)));
    }
}

/// `check a == b` of numbers that readings move.
pub(super) fn exact(outcome: &Outcome, found: &mut Vec<Finding>) {
    for check in &outcome.checks {
        let Test::Sides {
            left,
            comparison: comparison @ (Comparison::Same | Comparison::Different),
            right,
        } = &check.test
        else {
            continue;
        };
        let moves = |value: &Value| matches!(value, Value::Amount(amount) if amount.slot.is_some());
        // How many of something there are may well be 1.
        let counts = |value: &Value| {
            matches!(value, Value::Count(_))
                || matches!(value, Value::Amount(amount) if amount.slot.is_none()
                    && amount.dimension.is_none() && amount.si % 1.0 == 0.0)
        };
        if counts(left) || counts(right) || !moves(left) && !moves(right) {
            continue;
        }
        let word = if *comparison == Comparison::Same {
            "hardly ever"
        } else {
            "nearly always"
        };
        let message = format!("numbers that are measured are {word} `{}`", comparison.sign());
        let refusal = Refusal::new("exact", message).hint("say how near is near enough: check a from b - d to b + d");
        found.push(match &check.place {
            Some(place) => Finding::doubt(Diagnostic::at(refusal, place.clone())),
            None => Finding::doubt(Diagnostic::nowhere(refusal)),
        });
    }
}
