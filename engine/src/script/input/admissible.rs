//! What may be entered for an input: `from … to`, `one_of`.

use crate::diagnostic::{Refusal, nearest};
use crate::outcome::Value;
use crate::quantity::Quantity;
use crate::script::execute::{amounts, comparable};
use crate::script::stated::{Stated, fixed};
use crate::script::value;
use rhai::Dynamic;

/// What may be chosen for an input; nothing where anything may be.
#[derive(Clone, Debug, Default)]
pub(crate) struct Choices {
    each: Vec<Choice>,
}

#[derive(Clone, Debug)]
struct Choice {
    words: String,
    /// A quantity is chosen by its size, in whatever unit; the rest by its words.
    quantity: Option<Quantity>,
}

/// What may be chosen: texts, numbers, quantities of the example's kind, yes or no.
pub(crate) fn choices(example: &Dynamic, list: &Dynamic) -> Result<Choices, Refusal> {
    let list = value::list(list, "what follows `one_of`")?;
    let of = example.read_lock::<Stated>().map(|stated| stated.value.clone());
    let of = value::as_quantity(of.as_ref().unwrap_or(example)).filter(|_| !example.is_int());
    let choice = |item: &Dynamic| {
        if let (Some(example), Some(quantity)) = (of, value::as_quantity(item)) {
            comparable(example, quantity)?;
            fixed(quantity, "a choice")?;
            let words = quantity.shown();
            return Ok(Choice {
                words,
                quantity: Some(quantity),
            });
        }
        let words = match item.is_int() || item.is_bool() {
            true => item.to_string(),
            false => value::name(item, "a choice").map_err(|refusal| refusal.hint("one_of [\"thin\", \"thick\"]"))?,
        };
        Ok(Choice { words, quantity: None })
    };
    let each = list.iter().map(choice).collect::<Result<_, _>>()?;
    Ok(Choices { each })
}

impl Choices {
    /// As people read them.
    pub(crate) fn words(&self) -> Vec<String> {
        self.each.iter().map(|choice| choice.words.clone()).collect()
    }

    /// The number of the choice that a value is.
    fn position(&self, value: &Dynamic) -> Option<usize> {
        let (words, quantity) = (value.to_string(), value::as_quantity(value));
        self.each.iter().position(|choice| match (choice.quantity, quantity) {
            (Some(choice), Some(value)) => is_same(choice, value),
            _ => choice.words == words,
        })
    }
}

/// The same but for the last bits, which a change of unit takes.
fn is_same(choice: Quantity, value: Quantity) -> bool {
    let (a, b) = (choice.number().shown(), value.number().shown());
    (a - b).abs() <= LAST_BITS * a.abs()
}

/// How far two writings of one size may lie apart.
const LAST_BITS: f64 = 1e-12;

/// From where to where a value may be entered.
pub(crate) fn range(
    example: &Dynamic,
    own: &Value,
    low: &Dynamic,
    high: &Dynamic,
) -> Result<(Quantity, Quantity), Refusal> {
    if low.is::<Stated>() || high.is::<Stated>() {
        let message = "the ± of an input stands right after its value, this one stands in its range";
        return Err(Refusal::new("syntax", message).hint("3.mm plus_minus 0.1.mm from 1.mm to 5.mm"));
    }
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
pub(super) fn in_choices(name: &str, choices: &Choices, value: &Dynamic) -> Result<(), Refusal> {
    if choices.each.is_empty() || choices.position(value).is_some() {
        return Ok(());
    }
    let quantity = value::as_quantity(value).filter(|_| !value.is_int());
    let chosen = quantity.map_or_else(|| value.to_string(), |quantity| quantity.shown());
    let words = choices.words();
    let near = quantity
        .is_none()
        .then(|| nearest(&chosen, words.iter().map(String::as_str)));
    let hint = match near.flatten() {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!(
            "one of: {}",
            words.iter().take(12).cloned().collect::<Vec<_>>().join(", ")
        ),
    };
    Err(Refusal::new("input", format!("`{name}` cannot be `{chosen}`")).hint(hint))
}
