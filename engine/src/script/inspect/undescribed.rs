//! What lacks a label, a way to measure, a source: nobody else can tell what it is.

use super::super::grammar::Keyword;
use super::super::source::{Extent, Script};
use super::clauses::has;
use super::graph::{is_name, nested, word};
use super::inspection::Finding;
use crate::diagnostic::{Diagnostic, Refusal};

/// Looks at all statements, and at the top of the script.
pub(super) fn look(script: &Script, found: &mut Vec<Finding>) {
    if script.description().is_empty() {
        let message = "nothing says what this script is for";
        let refusal = Refusal::new("description", message).hint("begin it with lines of `//! …`");
        found.push(Finding::doubt(match script.place_at(0) {
            Some(place) => Diagnostic::at(refusal, place),
            None => Diagnostic::nowhere(refusal),
        }));
    }
    for extent in &script.extents {
        for (clause, refusal) in lacking(script, extent) {
            if !has(script, extent, clause) {
                found.push(Finding::at(refusal, script.place_of(extent)));
            }
        }
    }
}

/// The clauses that a statement should have, each with what to say where it has none.
fn lacking(script: &Script, extent: &Extent) -> Vec<(&'static str, Refusal)> {
    let word = match extent.keyword {
        Keyword::Assume => "assumption",
        other => other.word(),
    };
    let called = extent.name.as_ref().map_or_else(
        || format!("`{word} {}`", script.written(&extent.value)),
        |name| format!("the {word} `{name}`"),
    );
    let label = Refusal::new("label", format!("{called} has no label, and people read labels"));
    let label = (":", label.hint(": \"what it is, in the words of the shop\""));
    let source = |what: &str| {
        let refusal = Refusal::new("source", format!("{called} does not say {what}"));
        (
            "per",
            refusal.hint("per \"a book and its edition\", or per \"common practice\""),
        )
    };
    match extent.keyword {
        Keyword::Input => {
            let how = Refusal::new("how", format!("{called} does not say how to measure it"));
            vec![label, ("how", how.hint("how \"with what, where, to how many places\""))]
        }
        Keyword::Assume => vec![label, source("on what it is assumed")],
        Keyword::Step => vec![label],
        Keyword::Check | Keyword::Prefer if has_bare_limit(script, extent) => {
            vec![label, source("who sets this limit")]
        }
        Keyword::Check | Keyword::Prefer => vec![label],
        Keyword::Require => vec![label],
        Keyword::Heading | Keyword::Note | Keyword::Caution | Keyword::Show => Vec::new(),
    }
}

/// Whether a check compares with a number that stands there as it is. An input or an assumption has a source of its own,
/// and nobody need say why something has to be more than nothing.
fn has_bare_limit(script: &Script, extent: &Extent) -> bool {
    let mut sides = vec![Vec::new()];
    for (at, open) in nested(script, extent.value.clone()) {
        match word(script, at) {
            // How many there have to be is no limit.
            "==" | "!=" if open == 0 => return false,
            "<" | "<=" | ">" | ">=" | "from" | "to" if open == 0 => {
                sides.push(Vec::new());
                continue;
            }
            _ => {}
        }
        if let Some(side) = sides.last_mut() {
            side.push(at);
        }
    }
    let is_bare = |side: &Vec<usize>| {
        let numbers = side.iter().filter(|at| word(script, **at) == "0");
        let is_nothing = |at: &usize| {
            script
                .written(&(*at..*at + 1))
                .parse::<f64>()
                .is_ok_and(|number| number == 0.0)
        };
        let mut numbers = numbers.peekable();
        numbers.peek().is_some() && !side.iter().any(|at| is_name(script, *at)) && !numbers.all(is_nothing)
    };
    sides.len() > 1 && sides.iter().any(is_bare)
}
