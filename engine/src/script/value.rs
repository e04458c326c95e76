//! What scripts hold, as the engine sees it.

use super::limits;
use crate::conductor::Cable;
use crate::diagnostic::{Refusal, refuse_lines};
use crate::fastener::Thread;
use crate::geometry::Vector;
use crate::quantity::{Dimension, Quantity};
use crate::section::Section;
use crate::tape::{Fault, Number, Stop, is_spent, take_fault};
use rhai::{Array, Dynamic, EvalAltResult, ImmutableString, Map, Position};
use std::ops::RangeInclusive;

type Result<T> = std::result::Result<T, Refusal>;

/// The sum of no quantities: a zero of any kind, until it meets a quantity that says which.
#[derive(Clone, Copy, Debug)]
pub(crate) struct EmptySum;

/// A plain number or a quantity, as a quantity. The sum of nothing is a plain zero where nothing says of which kind.
pub(crate) fn as_quantity(value: &Dynamic) -> Option<Quantity> {
    if let Some(quantity) = value.read_lock::<Quantity>() {
        return Some(*quantity);
    }
    if value.is::<EmptySum>() {
        return Some(Quantity::plain(0.0));
    }
    plain_number(value).map(Quantity::plain)
}

/// Two operands as quantities: the sum of nothing is a zero of the other's kind.
pub(crate) fn as_pair(left: &Dynamic, right: &Dynamic) -> Option<(Quantity, Quantity)> {
    let (a, b) = (as_quantity(left)?, as_quantity(right)?);
    Some(match (left.is::<EmptySum>(), right.is::<EmptySum>()) {
        (true, false) => (zero_like(b), b),
        (false, true) => (a, zero_like(a)),
        _ => (a, b),
    })
}

/// A zero of the same kind.
pub(crate) fn zero_like(quantity: Quantity) -> Quantity {
    Quantity::constant(0.0, quantity.dimension())
}

/// A number without dimension that depends on no reading: an integer or a float of the language.
pub(crate) fn plain_number(value: &Dynamic) -> Option<f64> {
    #[allow(
        clippy::cast_precision_loss,
        reason = "counts beyond 2^53 are refused where they are made"
    )]
    value
        .as_float()
        .ok()
        .or_else(|| value.as_int().ok().map(|int| int as f64))
}

/// The quantity that an argument must be.
pub(crate) fn quantity(value: &Dynamic, what: &str) -> Result<Quantity> {
    as_quantity(value)
        .ok_or_else(|| wrong(value, what, "a number or a quantity"))?
        .here()
}

/// The count that an argument must be: a whole number that depends on no reading.
pub(crate) fn count(value: &Dynamic, what: &str, range: RangeInclusive<i64>) -> Result<i64> {
    let quantity = quantity(value, what)?;
    let number = quantity.expect(Dimension::NONE, what)?;
    let whole = number.shown();
    if !number.is_constant() || whole.fract() != 0.0 {
        let message = format!("{what} must be a whole number that depends on no reading");
        return Err(Refusal::new("count", message).hint("whole(q) makes one of a quantity"));
    }
    #[allow(
        clippy::cast_possible_truncation,
        reason = "beyond the range of any count it saturates, and is refused"
    )]
    let count = whole as i64;
    if range.contains(&count) {
        return Ok(count);
    }
    let message = format!(
        "{what} must lie from {} to {}, this is {whole}",
        range.start(),
        range.end()
    );
    Err(Refusal::new("range", message))
}

/// The number of a dimension that an argument must be.
pub(crate) fn number(value: &Dynamic, dimension: Dimension, what: &str) -> Result<Number> {
    quantity(value, what)?.expect(dimension, what)
}

/// The text that an argument must be: one that holds no quantity.
pub(crate) fn text(value: &Dynamic, what: &str) -> Result<String> {
    let text = value
        .read_lock::<ImmutableString>()
        .map(|text| text.to_string())
        .ok_or_else(|| wrong(value, what, "a text"))?;
    super::wording::plain(&text, what)?;
    Ok(text)
}

/// The name that an argument must be: a text on one line, since it is shown as it is beside what it names.
pub(crate) fn name(value: &Dynamic, what: &str) -> Result<String> {
    let name = text(value, what)?;
    refuse_lines(&name, what).map(|()| name)
}

/// The list that an argument must be.
pub(crate) fn list(value: &Dynamic, what: &str) -> Result<Vec<Dynamic>> {
    value
        .read_lock::<Array>()
        .map(|list| list.clone())
        .ok_or_else(|| wrong(value, what, "a list"))
}

/// The map that an argument must be.
pub(crate) fn map(value: &Dynamic, what: &str) -> Result<Map> {
    value
        .read_lock::<Map>()
        .map(|map| map.clone())
        .ok_or_else(|| wrong(value, what, "a map #{…}"))
}

/// A value of one of the engine's types.
pub(crate) fn typed<T: Clone + 'static>(value: &Dynamic, what: &str, expected: &str) -> Result<T> {
    value
        .read_lock::<T>()
        .map(|value| value.clone())
        .ok_or_else(|| wrong(value, what, expected))
}

/// "the wall must be a number or a quantity, this is a text"
pub(crate) fn wrong(value: &Dynamic, what: &str, expected: &str) -> Refusal {
    Refusal::new(
        "type",
        format!("{what} must be {expected}, this is {}", described(value)),
    )
}

/// What a value is, in words.
pub(crate) fn described(value: &Dynamic) -> String {
    if let Some(quantity) = value.read_lock::<Quantity>() {
        return quantity.described();
    }
    if let Some(number) = plain_number(value) {
        return format!("a plain number ({})", short(number));
    }
    if let Some(vector) = value.read_lock::<Vector>() {
        return vector.kind();
    }
    if let Some(section) = value.read_lock::<Section>() {
        return section.name().to_owned();
    }
    described_type(value.type_name())
}

/// The word for one of the engine's things before a point: `section` in `section.area`.
pub(crate) fn kind(value: &Dynamic) -> Option<&'static str> {
    let kinds = [
        (value.is::<Section>(), "section"),
        (value.is::<Vector>(), "vector"),
        (value.is::<Cable>(), "cable"),
        (value.is::<Thread>(), "thread"),
    ];
    kinds.into_iter().find(|(is, _)| *is).map(|(_, kind)| kind)
}

/// What the values of a type are, in words, from its name in Rust.
pub(crate) fn described_type(name: &str) -> String {
    // `core::ops::range::Range<i64>`, `&mut Section`
    let name = name.trim_start_matches("&mut ");
    // A figure's handle is called by what it holds.
    let held = name.split_once("Handle<").map(|(_, held)| held.trim_end_matches('>'));
    let name = held.unwrap_or(name).split('<').next().unwrap_or(name);
    match name.rsplit("::").next().unwrap_or(name).trim() {
        "char" => "a single character".to_owned(),
        "Range" | "RangeInclusive" | "StepRange" | "range" | "range=" => "a range".to_owned(),
        "&str | ImmutableString | String" => "a text".to_owned(),
        "string" | "ImmutableString" => "a text".to_owned(),
        "array" => "a list".to_owned(),
        "map" => "a map".to_owned(),
        "bool" => "yes or no (true or false)".to_owned(),
        "i64" => "a whole number".to_owned(),
        "f64" => "a plain number".to_owned(),
        "()" => "nothing".to_owned(),
        "Fn" | "FnPtr" => "a closure".to_owned(),
        "Cuboid" => "a box".to_owned(),
        "LineFit" => "a fitted line".to_owned(),
        "PlaneFit" => "a fitted plane".to_owned(),
        "Stated" => "a value with a ±".to_owned(),
        "Built" => "a structure".to_owned(),
        "Solution" => "the results of a structure".to_owned(),
        "CaseResults" => "the results of a load case".to_owned(),
        "Cable" => "a wire or cable".to_owned(),
        "Bars" => "bars".to_owned(),
        "PassMap" => "a pass map".to_owned(),
        "BoltGrade" => "a bolt grade".to_owned(),
        other => crate::quantity::words::with_article(&other.to_lowercase()),
    }
}

/// What a native function hands to the script: its result, unless a number went wrong on the way.
pub(crate) fn settle(result: Result<Dynamic>) -> std::result::Result<Dynamic, Box<EvalAltResult>> {
    let fault = take_fault();
    match (result, fault) {
        // What is refused after the budget was used up is refused of numbers that were never calculated.
        (Err(_), _) if is_spent() => Err(thrown(spent())),
        (Err(refusal), _) => Err(thrown(refusal)),
        (Ok(_), Some(fault)) => Err(thrown(of_fault(&fault))),
        (Ok(value), None) => Ok(value),
    }
}

/// A refusal as Rhai carries it; the place is filled in on the way out.
pub(crate) fn thrown(refusal: Refusal) -> Box<EvalAltResult> {
    EvalAltResult::ErrorRuntime(Dynamic::from(refusal), Position::NONE).into()
}

/// What went wrong with a number, in words.
pub(crate) fn of_fault(fault: &Fault) -> Refusal {
    match fault {
        Fault::NotFinite { operation, given } => {
            let given_zero = given.get(1) == Some(&0.0);
            let given: Vec<String> = given.iter().take(4).map(|number| short(*number)).collect();
            let operation = match *operation {
                "add" => "the sum",
                "sub" => "the difference",
                "mul" => "the product",
                "div" if given_zero => return Refusal::new("division", format!("{} is divided by zero", given[0])),
                "div" => "the quotient",
                "pow" => "the power",
                other => other,
            };
            let message = format!("this gives no finite number: {operation} of {}", given.join(" and "));
            Refusal::new("not finite", message)
        }
        Fault::Stopped(Stop::Interrupted) if is_spent() => spent(),
        Fault::Stopped(stop) => Refusal::new("refused", stop.to_string()),
        Fault::Foreign => Refusal::new("foreign", "a quantity from another run was used"),
        Fault::TooLong => Refusal::new("too long", "this script does more operations on readings than are kept")
            .hint("shorten its loops"),
        Fault::Spent => spent(),
    }
}

/// A script that wants to do more than it may.
pub(super) fn spent() -> Refusal {
    Refusal::new("limit", "this script does more work than a run may")
        .hint("shorten its loops, or its closures inside one another")
        .hint(limits::MORE)
}

/// A number in few digits: a message is no place for three hundred.
fn short(number: f64) -> String {
    let size = number.abs();
    if size == 0.0 || (1e-4..1e9).contains(&size) {
        number.to_string()
    } else {
        format!("{number:e}")
    }
}
