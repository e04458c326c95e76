//! The bolt grades that come with the engine.

use std::sync::LazyLock;

use serde::Deserialize;

use super::grade::{BoltGrade, Strengths};
use super::thread::Form;
use crate::diagnostic::{Refusal, nearest};
use crate::quantity::units;

/// The bolt grade with this designation: `"SAE J429 8"`, `"ISO 898-1 10.9"`.
///
/// # Errors
/// None has it: names the nearest.
pub fn bolt_grade(name: &str) -> Result<BoltGrade, Refusal> {
    let found = TABLE.iter().find(|grade| grade.name() == name);
    found.cloned().ok_or_else(|| {
        let near = nearest(name, TABLE.iter().map(BoltGrade::name)).map(|near| format!("did you mean \"{near}\"?"));
        Refusal::new("bolt grade", format!("there is no bolt grade \"{name}\""))
            .maybe_hint(near)
            .hint(format!("there are: {}", bolt_grade_names().join(", ")))
    })
}

/// The designations of all grades.
#[must_use]
pub fn bolt_grade_names() -> Vec<&'static str> {
    TABLE.iter().map(BoltGrade::name).collect()
}

static TABLE: LazyLock<Vec<BoltGrade>> = LazyLock::new(|| {
    read(include_str!("bolt_grades.toml")).expect("the table of grades is well formed: a test reads every row of it")
});

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    grade: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    form: Units,
    source: String,
    range: Vec<Range>,
}

/// Which units a row is in: inches and ksi, or millimetres and MPa.
#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Units {
    Inch,
    Metric,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Range {
    above: f64,
    to: f64,
    proof: f64,
    yields: f64,
    ultimate: f64,
}

fn read(text: &str) -> Result<Vec<BoltGrade>, Refusal> {
    let file: File = toml::from_str(text).map_err(|error| Refusal::new("table", error.to_string()))?;
    file.grade.into_iter().map(read_row).collect()
}

fn read_row(row: Row) -> Result<BoltGrade, Refusal> {
    let (form, length, stress) = match row.form {
        Units::Inch => (Form::Unified, "inch", "ksi"),
        Units::Metric => (Form::Metric, "mm", "MPa"),
    };
    let si = |value: f64, unit: &str| {
        let unit = units::find(unit).ok_or_else(|| Refusal::new("table", format!("no unit {unit}")))?;
        Ok::<f64, Refusal>(unit.to_si(value))
    };
    let mut ranges = Vec::new();
    for range in &row.range {
        ranges.push(Strengths {
            above: si(range.above, length)?,
            to: si(range.to, length)?,
            proof: si(range.proof, stress)?,
            yields: si(range.yields, stress)?,
            ultimate: si(range.ultimate, stress)?,
        });
    }
    let mut ranges = ranges.into_iter();
    let first = ranges
        .next()
        .ok_or_else(|| Refusal::new("table", format!("{}: no sizes", row.name)))?;
    Ok(BoltGrade {
        name: row.name,
        form,
        source: row.source,
        first,
        larger: ranges.collect(),
    })
}
