//! How a number is written, as data for a page that writes it anew (`script/write.js`).

use super::units::{dimension, shown_unit};
use crate::outcome::Amount;
use crate::quantity::Scale;
use crate::quantity::text::{Style, System, usual_units};
use crate::report::written;
use serde_json::{Map, Value, json};

/// How a number is written for a reader of that system, whatever value it takes: the `spec` of the page's functions.
///
/// `dimension` (powers in twelfths), `scale` of a point on the temperature scale, `style` where the script says one, else
/// `usual`, the units from an SI size on; `signs` and `least` where it has them.
#[must_use]
pub fn writing(amount: &Amount, system: System) -> Value {
    let mut spec = Map::new();
    spec.insert("dimension".to_owned(), dimension(amount.dimension));
    if amount.scale == Scale::Point {
        spec.insert("scale".to_owned(), json!("point"));
    }
    let (name, value) = match written::own_style(amount) {
        Some(own) => ("style", style_json(&own)),
        None => ("usual", usual(amount, system)),
    };
    spec.insert(name.to_owned(), value);
    if let Some((positive, negative)) = &amount.signs {
        spec.insert("signs".to_owned(), json!([positive, negative]));
    }
    if let Some(least) = written::least(amount.dimension) {
        spec.insert("least".to_owned(), json!(least));
    }
    Value::Object(spec)
}

/// A style as data: of the common one of a check's two sides, say.
#[must_use]
pub fn style_json(style: &Style) -> Value {
    match style {
        Style::Decimal { unit, decimals: None } => json!({"unit": shown_unit(unit)}),
        Style::Decimal {
            unit,
            decimals: Some(decimals),
        } => json!({"unit": shown_unit(unit), "decimals": decimals}),
        Style::Fraction { denominator, feet } => json!({"denominator": denominator, "feet": feet}),
    }
}

fn usual(amount: &Amount, system: System) -> Value {
    let units = usual_units(amount.dimension, amount.scale, system);
    units
        .iter()
        .map(|(from, unit)| json!([from, shown_unit(unit)]))
        .collect()
}
