//! Values as the outcome has them, looked at once more.

use crate::diagnostic::Refusal;
use crate::outcome::{Amount, Value};
use crate::quantity::{Quantity, Scale};
use crate::tape::Number;

/// The last net: nothing that is not a number is ever shown as one.
pub(super) fn finite(shown: &Value) -> Result<(), Refusal> {
    if amounts(shown)
        .iter()
        .all(|quantity| quantity.number().shown().is_finite())
    {
        return Ok(());
    }
    Err(Refusal::new("not finite", "this gives no finite number"))
}

/// Refuses what cannot be compared; no guard.
pub(crate) fn comparable(a: Quantity, b: Quantity) -> Result<(), Refusal> {
    a.here()?.same_sort(b.here()?, "compare")
}

/// All quantities in a value.
pub(crate) fn amounts(value: &Value) -> Vec<Quantity> {
    match value {
        Value::Amount(amount) if amount.scale == Scale::Point => {
            vec![Quantity::temperature_point(Number::constant(amount.si))]
        }
        Value::Amount(amount) => vec![Quantity::constant(amount.si, amount.dimension)],
        Value::Items(items) => items.iter().flat_map(|(_, item)| amounts(item)).collect(),
        Value::Count(_) => vec![Quantity::plain(0.0)],
        Value::Text(_) | Value::Truth(_) => Vec::new(),
    }
}

/// The same, to be written in a style and with words for its sign.
pub(super) fn styled(value: Value, style: Option<&String>, signs: Option<&(String, String)>) -> Value {
    match value {
        Value::Amount(amount) => Value::Amount(Amount {
            style: style.cloned().or(amount.style),
            signs: signs.cloned(),
            ..amount
        }),
        Value::Items(items) => Value::Items(
            items
                .into_iter()
                .map(|(key, item)| (key, styled(item, style, signs)))
                .collect(),
        ),
        other => other,
    }
}
