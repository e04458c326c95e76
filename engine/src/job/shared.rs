//! Inputs of one name in several runs: what feeds all of them must mean the same in each.

use crate::diagnostic::{Diagnostic, Place, Refusal};
use crate::outcome::{Input, Phrase, Piece, Value};
use crate::quantity::words;
use std::collections::BTreeMap;

/// An input as the first run that has it means it.
struct Meaning {
    run: String,
    label: Option<String>,
    kind: String,
}

/// What the names that runs share mean.
#[derive(Default)]
pub(super) struct Meanings(BTreeMap<String, Meaning>);

impl Meanings {
    /// Refuses an input that means something else than that of the same name in an earlier run; `place` is where its
    /// reading stands, or the run.
    pub(super) fn agree(&mut self, run: &str, input: &Input, place: Option<&Place>) -> Result<(), Diagnostic> {
        let (label, kind) = (input.label.as_ref().map(plain), kind(&input.value));
        let Some(first) = self.0.get(&input.name) else {
            let run = run.to_owned();
            self.0.insert(input.name.clone(), Meaning { run, label, kind });
            return Ok(());
        };
        let unlike = match (&first.label, &label) {
            _ if first.kind != kind => format!("{} in run `{}`, {kind} in run `{run}`", first.kind, first.run),
            (Some(one), Some(other)) if one != other => {
                format!("\"{one}\" in run `{}`, \"{other}\" in run `{run}`", first.run)
            }
            _ => return Ok(()),
        };
        let refusal = Refusal::new("unlike inputs", format!("`{}` is {unlike}", input.name)).hint(own_value(run));
        Err(Diagnostic {
            refusal,
            places: place.cloned().into_iter().collect(),
        })
    }
}

/// What to write where one name means two things.
pub(super) fn own_value(run: &str) -> String {
    format!("give run `{run}` its own: a section [measured.\"{run}\"], `with`, or `from`")
}

/// The words of a label, without its numbers.
fn plain(label: &Phrase) -> String {
    let words = label.pieces.iter().map(|piece| match piece {
        Piece::Words(words) => words.as_str(),
        Piece::Amount(_) => "…",
    });
    words.collect()
}

fn kind(value: &Value) -> String {
    match value {
        Value::Amount(amount) => words::with_article(&words::name_of(amount.dimension)),
        Value::Count(_) => "a count".to_owned(),
        Value::Text(_) => "a text".to_owned(),
        Value::Truth(_) => "yes or no".to_owned(),
        Value::Items(_) => "several values".to_owned(),
    }
}
