//! Texts, yes or no, whole numbers.

use super::admit::{Result, Taking};
use super::refused::unfit;
use crate::diagnostic::Refusal;
use crate::script::run::GivenValue;
use crate::script::{value, wording};
use rhai::{Dynamic, ImmutableString};

impl Taking<'_, '_> {
    /// Takes what has neither unit nor ±; `None` where the example is of another kind.
    pub(super) fn take_plain(
        &self,
        address: &str,
        example: &Dynamic,
        given: Option<&GivenValue>,
    ) -> Result<Option<Dynamic>> {
        if let Some(own) = example.read_lock::<ImmutableString>() {
            value::text(example, "the example of an input")?;
            return text(address, &own, given).map(Some);
        }
        if let Ok(own) = example.as_bool() {
            return truth(address, own, given).map(Some);
        }
        let Ok(own) = example.as_int() else { return Ok(None) };
        let taken = count(address, own, given)?;
        let counted = value::quantity(&taken, &format!("`{address}`"))?;
        self.within_range(address, counted)?;
        Ok(Some(taken))
    }
}

fn text(address: &str, example: &ImmutableString, given: Option<&GivenValue>) -> Result<Dynamic> {
    match given {
        None => Ok(Dynamic::from(example.clone())),
        Some(GivenValue::Text(text)) if wording::is_marked(text) => {
            let message = format!("`{address}` holds a character that Unicode keeps for private use");
            Err(Refusal::new("text", message))
        }
        Some(GivenValue::Text(text)) => Ok(Dynamic::from(text.clone())),
        Some(GivenValue::Tracked(held)) => {
            let text = value::text(&held.value, &format!("`{address}`"))?;
            Ok(Dynamic::from(text))
        }
        Some(GivenValue::Number(number)) => {
            let refusal = unfit(address, "a text", &GivenValue::Number(*number));
            Err(refusal.hint(format!("a text stands in quotes: \"{number}\"")))
        }
        Some(other) => Err(unfit(address, "a text", other)),
    }
}

fn truth(address: &str, example: bool, given: Option<&GivenValue>) -> Result<Dynamic> {
    match given {
        None => Ok(Dynamic::from(example)),
        Some(GivenValue::Truth(truth)) => Ok(Dynamic::from(*truth)),
        Some(GivenValue::Tracked(held)) if held.value.is_bool() => Ok(held.value.clone()),
        Some(GivenValue::Text(text)) => yes_or_no(address, text),
        Some(other) => Err(unfit(address, "yes or no", other)),
    }
}

fn yes_or_no(address: &str, text: &str) -> Result<Dynamic> {
    match text.trim() {
        "yes" | "true" => Ok(Dynamic::from(true)),
        "no" | "false" => Ok(Dynamic::from(false)),
        other => Err(Refusal::new(
            "input",
            format!("`{address}` must be yes or no, this is `{other}`"),
        )),
    }
}

fn count(address: &str, example: i64, given: Option<&GivenValue>) -> Result<Dynamic> {
    let number = match given {
        None => return Ok(Dynamic::from(example)),
        Some(GivenValue::Number(number)) => *number,
        Some(GivenValue::Text(text)) => text.trim().parse().map_err(|_| {
            Refusal::new(
                "input",
                format!("`{address}` is a count, a whole number; this is `{text}`"),
            )
        })?,
        Some(GivenValue::Tracked(held)) if held.value.is_int() => return Ok(held.value.clone()),
        Some(other) => return Err(unfit(address, "a whole number", other)),
    };
    if number.fract() != 0.0 || number.abs() > 9.0e15 {
        return Err(Refusal::new(
            "input",
            format!("`{address}` is a count, a whole number; this is {number}"),
        ));
    }
    #[allow(clippy::cast_possible_truncation, reason = "a whole number within ±9e15")]
    Ok(Dynamic::from(number as i64))
}
