//! A place in a JSON text, for messages: `runs[2].steps[0].si`.

use crate::diagnostic::{Refusal, on_one_line};
use serde_json::{Map, Value};

/// A larger number is beyond what some unit can hold, or its difference from another is.
const LARGEST: f64 = 1e280;

type Result<T> = std::result::Result<T, Refusal>;

/// A value and the way to it.
pub(super) struct At<'a> {
    value: &'a Value,
    way: String,
    /// The record's name.
    record: &'a str,
}

impl<'a> At<'a> {
    /// The whole of a record.
    pub(super) fn top(value: &'a Value, record: &'a str) -> Self {
        Self {
            value,
            way: String::new(),
            record,
        }
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.value.get(key).is_some_and(|value| !value.is_null())
    }

    /// What stands under a key.
    pub(super) fn get(&self, key: &str) -> Result<At<'a>> {
        match self.value.get(key) {
            Some(value) => Ok(self.below(value, key)),
            None => Err(self.refusal(format!("`{}` is missing", self.way_to(key)))),
        }
    }

    fn below(&self, value: &'a Value, key: &str) -> At<'a> {
        At {
            value,
            way: self.way_to(key),
            record: self.record,
        }
    }

    fn way_to(&self, key: &str) -> String {
        if self.way.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.way)
        }
    }

    /// The items of a list under a key.
    pub(super) fn list(&self, key: &str) -> Result<Vec<At<'a>>> {
        let list = self.get(key)?;
        let Value::Array(items) = list.value else {
            return Err(list.unlike("a list"));
        };
        let items = items.iter().enumerate();
        Ok(items
            .map(|(number, value)| At {
                value,
                way: format!("{}[{number}]", list.way),
                record: self.record,
            })
            .collect())
    }

    /// The items of an object under a key, in order.
    pub(super) fn fields(&self, key: &str) -> Result<Vec<(&'a str, At<'a>)>> {
        let object = self.get(key)?;
        let fields: &'a Map<String, Value> = match object.value {
            Value::Object(fields) => fields,
            _ => return Err(object.unlike("an object")),
        };
        let fields = fields.iter();
        Ok(fields
            .map(|(key, value)| (key.as_str(), object.below(value, key)))
            .collect())
    }

    /// A text, on one line.
    pub(super) fn text(&self, key: &str) -> Result<String> {
        let at = self.get(key)?;
        let text = at.value.as_str().map(|text| on_one_line(text).into_owned());
        text.ok_or_else(|| at.unlike("a text"))
    }

    /// A text, or nothing.
    pub(super) fn maybe_text(&self, key: &str) -> Result<Option<String>> {
        if self.has(key) {
            self.text(key).map(Some)
        } else {
            Ok(None)
        }
    }

    pub(super) fn number(&self, key: &str) -> Result<f64> {
        let at = self.get(key)?;
        let number = at.value.as_f64().filter(|number| number.is_finite());
        let number = number.ok_or_else(|| at.unlike("a number"))?;
        match number.abs() > LARGEST {
            true => Err(at.refusal(format!("`{}` is larger than any number that is measured", at.way))),
            false => Ok(number),
        }
    }

    /// A number, or nothing.
    pub(super) fn maybe_number(&self, key: &str) -> Result<Option<f64>> {
        if self.has(key) {
            self.number(key).map(Some)
        } else {
            Ok(None)
        }
    }

    pub(super) fn value(&self) -> &'a Value {
        self.value
    }

    /// It is something else than what belongs there.
    pub(super) fn unlike(&self, wanted: &str) -> Refusal {
        let kind = match self.value {
            Value::Null => "nothing",
            Value::Bool(_) => "yes or no",
            Value::Number(_) => "a number",
            Value::String(_) => "a text",
            Value::Array(_) => "a list",
            Value::Object(_) => "an object",
        };
        let message = match self.way.as_str() {
            "" => format!("it is {kind}, not {wanted}"),
            way => format!("`{way}` is {kind}, not {wanted}"),
        };
        self.refusal(message)
    }

    /// Why it is no record.
    pub(super) fn refusal(&self, why: String) -> Refusal {
        Refusal::new("record", format!("`{}` is no record of a run: {why}", self.record))
            .hint("crankline run car.toml --format json --out before.json writes one")
    }
}
