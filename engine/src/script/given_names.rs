//! Names and labels that a run has given: each stands for one thing.

use super::run::{self, Run};
use crate::diagnostic::{Place, Refusal};
use crate::outcome::{Phrase, Piece};

/// Refuses a label that another statement of its kind has. One that is reached again, in a loop or a function, keeps
/// its own.
pub(super) fn new_label(kind: &str, label: Option<&Phrase>, place: Option<&Place>) -> Result<(), Refusal> {
    let (Some(label), Some(place)) = (label, place) else {
        return Ok(());
    };
    let [Piece::Words(words)] = &label.pieces[..] else {
        return Ok(());
    };
    let here = format!("{} {}:{}", place.source.name, place.line, place.column);
    run::with(|run| {
        let first = run
            .labels
            .entry(words.clone())
            .or_insert_with(|| (String::new(), place.line));
        let before = std::mem::replace(&mut first.0, here.clone());
        let same_statement = before == here;
        // Repeated steps are told apart by their keys.
        if before.is_empty() || same_statement && kind == "step" {
            return Ok(());
        }
        if same_statement {
            let message = format!("the label \"{words}\" comes again each time this {kind} is reached");
            return Err(Refusal::new("duplicate", message).hint("put what differs into it: `Gap at ${name}`"));
        }
        let message = format!("the label \"{words}\" stands in line {} already", first.1);
        Err(Refusal::new("duplicate", message).hint("give each its own label"))
    })
}

impl Run {
    /// Refuses a name that the script has given before.
    pub(super) fn new_name(&mut self, name: &str) -> Result<(), Refusal> {
        if self.names.insert(name.to_owned()) {
            return Ok(());
        }
        let refusal = Refusal::new("duplicate", format!("`{name}` has been given before in this script"));
        Err(if name.contains('[') {
            refusal
        } else {
            refusal.hint(format!("step {name}[KEY] = … for repeated ones"))
        })
    }
}
