//! What scripts hold, as the outcome holds it: plain data.

use super::coordinates;
use super::run;
use super::stated::Stated;
use super::value;
use crate::diagnostic::{Refusal, refuse_lines};
use crate::outcome::{Amount, Phrase, Value};
use crate::quantity::Quantity;
use rhai::{Array, Dynamic, ImmutableString, Map};

type Result<T> = std::result::Result<T, Refusal>;

/// A value as the outcome holds it.
pub(crate) fn outcome_value(value: &Dynamic) -> Result<Value> {
    value_by(value, run::amount)
}

/// The value of an input, a share in percent where somebody wrote it so: `30 %`, not 0.3.
pub(crate) fn entered_value(value: &Dynamic) -> Result<Value> {
    value_by(value, run::entered_amount)
}

fn value_by(value: &Dynamic, amount: fn(Quantity) -> Amount) -> Result<Value> {
    if let Some(quantity) = value.read_lock::<Quantity>() {
        return Ok(Value::Amount(amount(*quantity)));
    }
    if let Some(stated) = value.read_lock::<Stated>() {
        return value_by(&stated.value, amount);
    }
    if let Ok(count) = value.as_int() {
        return Ok(Value::Count(count));
    }
    if let Some(number) = value::as_quantity(value) {
        return Ok(Value::Amount(amount(number)));
    }
    if let Ok(truth) = value.as_bool() {
        return Ok(Value::Truth(truth));
    }
    if let Some(text) = value.read_lock::<ImmutableString>() {
        return Ok(Value::Text(super::wording::phrase(&text)));
    }
    if let Some(list) = value.read_lock::<Array>() {
        let items = list
            .iter()
            .enumerate()
            .map(|(key, item)| Ok((key.to_string(), value_by(item, amount)?)));
        return items.collect::<Result<_>>().map(Value::Items);
    }
    if let Some(map) = value.read_lock::<Map>() {
        let items = map.iter().map(|(key, item)| {
            refuse_lines(key, "a key of what is shown")?;
            Ok((key.to_string(), value_by(item, amount)?))
        });
        return items.collect::<Result<_>>().map(Value::Items);
    }
    if let Some(coordinates) = coordinates::of(value) {
        let parts = coordinates::NAMES.into_iter().zip(coordinates.each);
        let items = parts.map(|(name, each)| (name.to_owned(), Value::Amount(amount(each))));
        return Ok(Value::Items(items.collect()));
    }
    if value.is_unit() {
        return Err(Refusal::new("type", "this gives nothing").hint("the last line of a function is what it gives"));
    }
    Ok(Value::Text(Phrase::words(value::described(value))))
}
