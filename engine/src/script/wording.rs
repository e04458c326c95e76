//! Text made of quantities.
//!
//! A quantity put into a text stays a quantity: the text carries a mark for it, `\u{E000}number\u{E001}`, and the number
//! and how it is to be written stand in the run. So a note's numbers follow a replay, and a script cannot decide by a text
//! what it may not decide by the number. The two characters are private to Unicode; a source that holds them is refused.

use super::run;
use crate::diagnostic::Refusal;
use crate::outcome::{Amount, Phrase, Piece};
use crate::quantity::Quantity;
use crate::tape;
use rhai::{Dynamic, ImmutableString};

const OPEN: char = '\u{E000}';
const CLOSE: char = '\u{E001}';

/// Whether a text holds one of the two private characters.
pub(crate) fn is_marked(text: &str) -> bool {
    text.contains([OPEN, CLOSE])
}

/// The mark for the written quantity with this number.
pub(crate) fn mark(number: usize) -> String {
    format!("{OPEN}{number}{CLOSE}")
}

/// Refuses a text that holds a quantity.
pub(crate) fn plain(text: &str, what: &str) -> Result<(), Refusal> {
    if !is_marked(text) {
        return Ok(());
    }
    let message = format!("{what} is a text made of a quantity: it can be shown, not compared, read or looked up by");
    Err(Refusal::new("text of a quantity", message).hint("compare the quantity itself"))
}

/// The pieces of a text.
pub(crate) fn phrase(text: &str) -> Phrase {
    let mut pieces = Vec::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(OPEN) {
        if !before.is_empty() {
            pieces.push(Piece::Words(before.to_owned()));
        }
        let Some((number, after)) = after.split_once(CLOSE) else {
            break;
        };
        let written = number.parse().ok().and_then(run::written);
        pieces.extend(written.map(Piece::Amount));
        rest = after;
    }
    if !rest.is_empty() {
        pieces.push(Piece::Words(rest.to_owned()));
    }
    Phrase { pieces }
}

/// A value as a text may hold it.
pub(crate) fn worded(value: &Dynamic) -> Result<String, Refusal> {
    if let Some(quantity) = value.read_lock::<Quantity>() {
        return kept(*quantity, None);
    }
    if let Some(text) = value.read_lock::<ImmutableString>() {
        return Ok(text.to_string());
    }
    if let Some(coordinates) = super::coordinates::of(value) {
        let [x, y, z] = coordinates.each;
        return Ok(format!("({}, {}, {})", kept(x, None)?, kept(y, None)?, kept(z, None)?));
    }
    if let Some(list) = value.read_lock::<rhai::Array>() {
        let items: Vec<String> = list.iter().map(worded).collect::<Result<_, _>>()?;
        return Ok(items.join(", "));
    }
    if let Ok(truth) = value.as_bool() {
        return Ok(if truth { "yes" } else { "no" }.to_owned());
    }
    if super::value::plain_number(value).is_some() {
        return Ok(value.to_string());
    }
    let message = format!("{} cannot be put into a text", super::value::described(value));
    Err(Refusal::new("type", message))
}

/// A quantity as a text holds it, written in a way of its own.
pub(crate) fn written_as(quantity: Quantity, style: &str) -> Result<String, Refusal> {
    super::reading::style(style, quantity.dimension(), quantity.scale())?;
    kept(quantity, Some(style.to_owned()))
}

fn kept(quantity: Quantity, style: Option<String>) -> Result<String, Refusal> {
    if tape::is_symbolic(quantity.number()) {
        return Err(Refusal::new("closure", "no text can be made of a closure's argument"));
    }
    let amount = Amount {
        style,
        ..run::amount(quantity)
    };
    run::with(|run| Ok(mark(run.keep_written(amount))))
}
