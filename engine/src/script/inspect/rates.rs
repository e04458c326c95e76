//! Torques times plain rates: a power to the dimensions, and 2π too little.

use super::super::source::Script;
use super::graph::word;
use super::inspection::Finding;
use crate::diagnostic::{Diagnostic, Place, Refusal};
use rhai::Position;

/// Of the places where that happened, those that do not put a turn or 2π in themselves.
pub(super) fn look(script: &Script, places: &[Place], found: &mut Vec<Finding>) {
    for place in places {
        if place.source.name == script.text.name && puts_a_turn_in(script, place) {
            continue;
        }
        let message = "a torque times a plain rate is 2π too little for its power";
        let refusal = Refusal::new("plain rate", message)
            .hint("angular_speed(n) * torque")
            .hint("where it is an energy, so many times a second: angular_speed(n) * (energy / 1.turn)");
        found.push(Finding::doubt(Diagnostic::at(refusal, place.clone())));
    }
}

/// Whether the line that a place lies in names `PI` or `turn`.
fn puts_a_turn_in(script: &Script, place: &Place) -> bool {
    let coordinate = |number: usize| u16::try_from(number).unwrap_or(u16::MAX);
    let position = Position::new(coordinate(place.line).max(1), coordinate(place.column));
    let Some((at, _)) = script.before(position) else {
        return false;
    };
    let ends = |at: &usize| matches!(word(script, *at), ";" | "{" | "}");
    let start = (0..=at).rev().find(ends).map_or(0, |end| end + 1);
    let end = (at + 1..script.lexemes.len())
        .find(ends)
        .unwrap_or(script.lexemes.len());
    (start..end).any(|at| matches!(word(script, at), "PI" | "turn"))
}
