//! Text made of quantities.
//!
//! A quantity put into a text stays a quantity: the text carries a mark for it, and the number and how it is to be
//! written stand in the run. So a note's numbers follow a replay, and a script cannot decide by a text what it may not
//! decide by the number. A mark is one character of those that Unicode keeps for private use (from U+F0000), so that no
//! cutting and joining of texts makes another mark of it; a source or a reading that holds one is refused.

use super::limits::MAP;
use super::run;
use crate::diagnostic::{Refusal, on_one_line};
use crate::outcome::{Amount, Phrase, Piece};
use crate::quantity::Quantity;
use crate::tape::{self, charge};
use rhai::{Dynamic, ImmutableString};

const FIRST: u32 = 0xF_0000;
const LAST: u32 = 0x10_FFFF;

/// Whether a text holds a mark.
pub(crate) fn is_marked(text: &str) -> bool {
    text.chars().any(is_mark)
}

/// Whether a character is one that quantities in texts are marked with.
pub(crate) fn is_mark(character: char) -> bool {
    u32::from(character) >= FIRST
}

/// The mark for the written quantity with this number.
pub(crate) fn mark(number: usize) -> Result<String, Refusal> {
    let place = u32::try_from(number).ok().and_then(|number| number.checked_add(FIRST));
    let mark = place.filter(|place| *place <= LAST).and_then(char::from_u32);
    mark.map(String::from)
        .ok_or_else(|| Refusal::new("limit", "the texts of this script hold too many quantities"))
}

/// Refuses a text that holds a quantity.
pub(crate) fn plain(text: &str, what: &str) -> Result<(), Refusal> {
    if !is_marked(text) {
        return Ok(());
    }
    let message = format!("{what} is a text made of a quantity: it can be shown, not compared, read or looked up by");
    Err(Refusal::new("text of a quantity", message).hint("compare the quantity itself"))
}

/// The pieces of a text. All that a script shows comes through here, and stands on one line from here on.
pub(crate) fn phrase(text: &str) -> Phrase {
    let mut pieces = Vec::new();
    let mut words = String::new();
    for character in on_one_line(text).chars() {
        if !is_mark(character) {
            words.push(character);
            continue;
        }
        if !words.is_empty() {
            pieces.push(Piece::Words(std::mem::take(&mut words)));
        }
        pieces.extend(carried(character).and_then(Result::ok).map(Piece::Amount));
    }
    if !words.is_empty() {
        pieces.push(Piece::Words(words));
    }
    Phrase { pieces }
}

fn carried(mark: char) -> Option<Result<Amount, Refusal>> {
    let number = u32::from(mark).checked_sub(FIRST)?;
    run::written(usize::try_from(number).ok()?)
}

/// Refuses a quantity of another run, a value with a text in it that something was put into which no text can hold, and a
/// map with a key made of a quantity.
pub(crate) fn sound(value: &Dynamic) -> Result<(), Refusal> {
    if let Some(quantity) = value.read_lock::<Quantity>() {
        return quantity.here().map(|_| ());
    }
    if let Some(text) = value.read_lock::<ImmutableString>() {
        let refused = text
            .chars()
            .filter(|c| is_mark(*c))
            .find_map(|mark| carried(mark)?.err());
        return refused.map_or(Ok(()), Err);
    }
    if let Some(list) = value.read_lock::<rhai::Array>() {
        return list.iter().try_for_each(sound);
    }
    if let Some(map) = value.read_lock::<rhai::Map>() {
        if map.len() > MAP {
            return Err(Refusal::new(
                "limit",
                format!("a map grows too large: {MAP} entries at most"),
            ));
        }
        charge(map.len() as u64);
        for (key, item) in map.iter() {
            plain(key, "a key of this map")?;
            sound(item)?;
        }
    }
    Ok(())
}

/// Refuses a map with a key made of a quantity, in maps of maps too.
pub(crate) fn keys(value: &Dynamic) -> Result<(), Refusal> {
    if let Some(map) = value.read_lock::<rhai::Map>() {
        if map.len() > MAP {
            return Err(Refusal::new(
                "limit",
                format!("a map grows too large: {MAP} entries at most"),
            ));
        }
        charge(10 * map.len() as u64);
        for (key, item) in map.iter() {
            plain(key, "a key of this map")?;
            keys(item)?;
        }
    }
    Ok(())
}

/// What stands for a value in `${…}`. The language passes over an error here and would print its own name for the value,
/// so what cannot be put into a text leaves a mark, and is refused where the text is shown.
pub(crate) fn put_in(value: &Dynamic) -> Result<String, Refusal> {
    worded(value).or_else(|refusal| run::with(|run| mark(run.keep_written(Err(refusal)))))
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
    if value.is::<super::value::EmptySum>() {
        return Ok("0".to_owned());
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
    let quantity = quantity.here()?;
    if tape::is_symbolic(quantity.number()) {
        return Err(Refusal::new("closure", "no text can be made of a closure's argument"));
    }
    let amount = Amount {
        style,
        ..run::amount(quantity)
    };
    run::with(|run| mark(run.keep_written(Ok(amount))))
}
