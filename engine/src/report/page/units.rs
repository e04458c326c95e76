//! The units as data, for a page that reads what somebody enters (`script/units.js`).

use crate::quantity::units::{UNCLEAR, Unit, WrittenUnit, all};
use crate::quantity::{Base, Dimension, words};
use serde_json::{Map, Value, json};

/// All units with their spellings and factors, the dimensions that have a name, and the words that can be read in two ways:
/// what `useUnits` of the page takes.
#[must_use]
pub fn units_json() -> Value {
    let units: Vec<Value> = all().map(entry).collect();
    let dimensions: Vec<Value> = words::names()
        .map(|(own, name)| json!([dimension(own), name]))
        .collect();
    json!({"units": units, "dimensions": dimensions, "unclear": UNCLEAR})
}

fn entry(unit: &Unit) -> Value {
    let mut entry = conversion(unit.symbol, unit.fraction());
    shift_and_slope(&mut entry, unit);
    entry.insert("name".to_owned(), json!(unit.name));
    entry.insert("dimension".to_owned(), dimension(unit.dimension));
    if !unit.spellings.is_empty() {
        entry.insert("spellings".to_owned(), json!(unit.spellings));
    }
    Value::Object(entry)
}

/// What it takes to write a value in a unit; `null` of none.
pub(super) fn shown_unit(unit: &WrittenUnit) -> Value {
    match unit {
        WrittenUnit::None => Value::Null,
        WrittenUnit::Single(single) => {
            let mut entry = conversion(single.symbol, single.fraction());
            shift_and_slope(&mut entry, single);
            Value::Object(entry)
        }
        WrittenUnit::Compound(compound) => Value::Object(conversion(&compound.text, compound.fraction())),
    }
}

/// Powers in twelfths.
pub(in crate::report) fn dimension(dimension: Dimension) -> Value {
    json!(Base::ALL.map(|base| dimension.twelfths(base)))
}

/// A factor goes out as the two numbers that the engine multiplies and divides by, so that the page rounds where the
/// engine does.
fn conversion(symbol: &str, [numerator, divisor]: [f64; 2]) -> Map<String, Value> {
    let members = [
        ("symbol", json!(symbol)),
        ("numerator", json!(numerator)),
        ("divisor", json!(divisor)),
    ];
    members
        .map(|(name, value)| (name.to_owned(), value))
        .into_iter()
        .collect()
}

fn shift_and_slope(entry: &mut Map<String, Value>, unit: &Unit) {
    if unit.offset != 0.0 {
        entry.insert("offset".to_owned(), json!(unit.offset));
    }
    if unit.slope {
        entry.insert("slope".to_owned(), json!(true));
    }
}
