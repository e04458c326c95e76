//! Runs on the script's own examples. What goes wrong is left out with all that uses it, and the rest is tried again, so
//! that one fault does not hide the others.

use super::super::program::Library;
use super::super::run::Bindings;
use super::super::source::Script;
use super::graph::Graph;
use crate::diagnostic::{Diagnostic, Place, SourceText};
use crate::outcome::Outcome;
use std::collections::BTreeSet;
use std::sync::Arc;

/// More faults are told by the next look.
const MOST: usize = 30;

/// What came of it.
#[derive(Default)]
pub(super) struct Attempt {
    /// As far as the last run came.
    pub(super) outcome: Outcome,
    pub(super) faults: Vec<Diagnostic>,
    /// Statements that were left out because they use what went wrong.
    pub(super) left_out: BTreeSet<usize>,
}

/// Tries a script; statements in which something was found before are left out from the start.
pub(super) fn attempt(library: &Library, script: &Script, graph: &Graph, found: &[Diagnostic]) -> Attempt {
    let broken = found.iter().filter_map(|found| statement(script, graph, found));
    let broken: BTreeSet<usize> = broken.collect();
    let mut attempt = Attempt {
        left_out: graph.with_users(broken.clone()),
        ..Attempt::default()
    };
    let mut wrong = broken;
    // Where nobody knows what is wrong, what is left over would be told wrongly.
    if found.iter().any(|found| statement(script, graph, found).is_none()) {
        attempt.left_out = (0..graph.statements.len()).collect();
        return attempt;
    }
    for _ in 0..MOST {
        let text = without(script, graph, &attempt.left_out);
        // What was taken out may be missed by what nobody saw use it.
        let Ok(program) = library.compile(text) else { break };
        let Ok(looked) = library.look(&program, Bindings::new()) else {
            break;
        };
        attempt.outcome = looked.outcome;
        let Some(mut fault) = looked.refused else { break };
        point_into(&script.text, &mut fault);
        let number = statement(script, graph, &fault);
        // Time that is up is up for the rest too.
        let is_spent = fault.refusal.code() == "limit";
        attempt.faults.push(fault);
        if is_spent {
            break;
        }
        let Some(number) = number.filter(|number| wrong.insert(*number)) else {
            break;
        };
        attempt.left_out.extend(graph.with_users(BTreeSet::from([number])));
    }
    attempt.left_out.retain(|number| !wrong.contains(number));
    attempt
}

/// The statement at the top level in which something went wrong, or from which that was reached; no function, since what
/// calls it stands elsewhere.
fn statement(script: &Script, graph: &Graph, fault: &Diagnostic) -> Option<usize> {
    let own = fault
        .places
        .iter()
        .rev()
        .filter(|place| place.source.name == script.text.name);
    let mut numbers = own.filter_map(|place| {
        let stands = (place.line, place.column);
        let word = script.lexemes.iter().rposition(|lexeme| lexeme.stands() <= stands)?;
        graph.at(word)
    });
    numbers.next()
}

/// The text with these statements blanked. Places stay.
fn without(script: &Script, graph: &Graph, left_out: &BTreeSet<usize>) -> SourceText {
    let ranges = left_out.iter().filter_map(|number| graph.statements.get(*number));
    let text = script.blanked(ranges.map(|statement| statement.words.clone()));
    SourceText {
        name: script.text.name.clone(),
        text,
    }
}

/// Shows the lines as they are, not as they were tried.
fn point_into(text: &Arc<SourceText>, fault: &mut Diagnostic) {
    for place in &mut fault.places {
        if place.source.name == text.name {
            *place = Place {
                source: Arc::clone(text),
                ..place.clone()
            };
        }
    }
}
