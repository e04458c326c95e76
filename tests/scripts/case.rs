//! The worked cases of a script, read from its file.

use super::shelf::read;
use crankline_engine::outcome::Origin;
use crankline_engine::script::{Bindings, Given, GivenValue};
use toml::{Table, Value};

/// A worked case.
pub(super) struct Case {
    pub(super) title: String,
    pub(super) source: Option<String>,
    pub(super) set: Bindings,
    /// What must come out, by the name of a step or `check: ` and a check's label.
    pub(super) expect: Vec<(String, Expected)>,
    /// A word of the message, where the script must refuse.
    pub(super) expect_error: Option<String>,
}

/// What must come out.
pub(super) enum Expected {
    /// A value and how far off it may be, as written.
    Amount { value: String, within: String },
    /// A verdict in lower case.
    Verdict(String),
}

/// The cases of a script.
pub(super) fn cases(script: &str) -> Vec<Case> {
    let file = format!("{script}.cases.toml");
    let table: Table = read(&file).parse().unwrap_or_else(|error| panic!("{file}: {error}"));
    assert_eq!(
        table.get("format").and_then(Value::as_integer),
        Some(1),
        "{file}: format"
    );
    let cases = table["case"].as_array().unwrap_or_else(|| panic!("{file}: no case"));
    cases.iter().map(|case| of(case.as_table().unwrap())).collect()
}

fn of(case: &Table) -> Case {
    let text = |key: &str| case.get(key).and_then(Value::as_str).map(str::to_owned);
    let title = text("title").unwrap_or_else(|| panic!("a case without a title"));
    let set = case.get("set").and_then(Value::as_table);
    let expect = case.get("expect").and_then(Value::as_table);
    Case {
        source: text("source"),
        set: set
            .into_iter()
            .flatten()
            .map(|(name, value)| (name.clone(), given(value)))
            .collect(),
        expect: expect
            .into_iter()
            .flatten()
            .map(|(name, value)| (name.clone(), expected(&title, value)))
            .collect(),
        expect_error: text("expect_error"),
        title,
    }
}

fn given(value: &Value) -> Given {
    Given {
        what: what(value),
        origin: Origin::Measured,
        places: Vec::new(),
    }
}

#[allow(clippy::cast_precision_loss, reason = "a case's counts are small")]
fn what(value: &Value) -> GivenValue {
    match value {
        Value::Boolean(truth) => GivenValue::Truth(*truth),
        Value::Integer(number) => GivenValue::Number(*number as f64),
        Value::Float(number) => GivenValue::Number(*number),
        Value::Array(items) => GivenValue::List(items.iter().map(what).collect()),
        Value::Table(fields) => {
            GivenValue::Fields(fields.iter().map(|(key, value)| (key.clone(), what(value))).collect())
        }
        Value::String(text) => GivenValue::Text(text.clone()),
        Value::Datetime(date) => panic!("a date is no reading: {date}"),
    }
}

fn expected(title: &str, value: &Value) -> Expected {
    match value {
        Value::String(verdict) => Expected::Verdict(verdict.clone()),
        Value::Table(table) => {
            let text = |key: &str| match table.get(key) {
                Some(Value::String(text)) => text.clone(),
                Some(Value::Integer(number)) => number.to_string(),
                Some(Value::Float(number)) => number.to_string(),
                _ => panic!("{title}: `{key}` is missing"),
            };
            Expected::Amount {
                value: text("value"),
                within: text("within"),
            }
        }
        other => panic!("{title}: {other:?}"),
    }
}
