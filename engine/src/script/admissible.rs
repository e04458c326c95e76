//! What may be entered for an input: `from … to`, `one_of`.

use super::execute::{amounts, comparable};
use super::stated::fixed;
use super::value;
use crate::diagnostic::{Refusal, nearest};
use crate::outcome::Value;
use crate::quantity::Quantity;
use rhai::Dynamic;

/// What may be chosen: texts, whole numbers, yes or no.
pub(super) fn choices(list: &Dynamic) -> Result<Vec<String>, Refusal> {
    let list = value::list(list, "what follows `one_of`")?;
    let choice = |item: &Dynamic| {
        if item.is_int() || item.is_bool() {
            return Ok(item.to_string());
        }
        value::text(item, "a choice").map_err(|refusal| refusal.hint("one_of [\"thin\", \"thick\"]"))
    };
    list.iter().map(choice).collect()
}

/// From where to where a value may be entered.
pub(super) fn range(
    example: &Dynamic,
    own: &Value,
    low: &Dynamic,
    high: &Dynamic,
) -> Result<(Quantity, Quantity), Refusal> {
    let (low, high) = (
        value::quantity(low, "the lower end")?,
        value::quantity(high, "the upper end")?,
    );
    low.same_kind(high, "span between")?;
    // The example itself still knows the unit that it was written in.
    if let Some(example) = value::as_quantity(example) {
        comparable(example, low)?;
    }
    for quantity in amounts(own) {
        comparable(quantity, low)?;
    }
    for (end, what) in [(low, "the lower end"), (high, "the upper end")] {
        fixed(end, what)?;
    }
    if low.number().shown() > high.number().shown() {
        let message = format!(
            "the range starts at {} and ends below it, at {}",
            low.shown(),
            high.shown()
        );
        return Err(Refusal::new("range", message));
    }
    Ok((low, high))
}

/// Refuses what is none of the choices, where there are any.
pub(super) fn in_choices(name: &str, choices: &[String], value: &Dynamic) -> Result<(), Refusal> {
    if choices.is_empty() {
        return Ok(());
    }
    let chosen = value.to_string();
    if choices.contains(&chosen) {
        return Ok(());
    }
    let near = nearest(&chosen, choices.iter().map(String::as_str));
    let hint = match near {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "one of: {}",
            choices.iter().take(12).cloned().collect::<Vec<_>>().join(", ")
        ),
    };
    Err(Refusal::new("input", format!("`{}` cannot be `{chosen}`", name)).hint(hint))
}
