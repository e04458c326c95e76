//! What does not fit an input: what was found, what would be right.

use super::admit::Result;
use crate::diagnostic::Refusal;
use crate::quantity::{Dimension, Quantity, Scale, words};
use crate::script::run::GivenValue;
use crate::script::value;

pub(super) fn plain(address: &str, number: f64, example: Quantity) -> Result<f64> {
    if example.dimension().is_none() {
        return Ok(number);
    }
    let refusal = other_kind(address, example, &format!("a number without a unit ({number})"));
    if example.dimension() != Dimension::LENGTH {
        return Err(refusal.hint(format!("write its unit, as in \"{}\"", example.shown())));
    }
    Err(refusal.hint(format!(
        "write its unit: \"{number} mm\", \"{number} in\" or what it was measured in"
    )))
}

pub(super) fn other_kind(address: &str, example: Quantity, found: &str) -> Refusal {
    let wanted = words::with_article(&example.kind());
    let refusal = Refusal::new("dimension", format!("`{address}` must be {wanted}, this is {found}"));
    if example.dimension() == Dimension::ANGLE && found.contains("number") {
        return refusal.hint("write its unit: 3.4 deg");
    }
    refusal
}

/// A point on the temperature scale and a difference of two are mixed up: 80 K is no 80 °C.
pub(super) fn other_scale(address: &str, example: Quantity, found: &str) -> Refusal {
    let (wanted, other, hint) = match example.scale() {
        Scale::Point => (
            "a temperature, a point on the scale",
            "a difference of temperatures",
            "a point on the scale is written in degC or degF: 80 degC",
        ),
        Scale::Difference => (
            "a difference of temperatures",
            "a point on the scale",
            "a difference is written in K, delta_degC or delta_degF: 15 K",
        ),
    };
    Refusal::new(
        "dimension",
        format!("`{address}` must be {wanted}; `{found}` is {other}"),
    )
    .hint(hint)
}

pub(super) fn unfit(address: &str, wanted: &str, given: &GivenValue) -> Refusal {
    let found = match given {
        GivenValue::Text(text) => format!("the text `{text}`"),
        GivenValue::Tracked(held) => value::described(&held.value),
        GivenValue::Truth(_) => "yes or no".to_owned(),
        GivenValue::Number(number) => format!("the number {number}"),
        GivenValue::InPlaceOf(tried, _) => return unfit(address, wanted, tried),
        GivenValue::Repeats(..) => "repeats of a reading".to_owned(),
        GivenValue::List(_) => "a list".to_owned(),
        GivenValue::Fields(_) => "a row with named fields".to_owned(),
    };
    Refusal::new("input", format!("`{address}` must be {wanted}, this is {found}"))
}
