//! A sweep for a program.

use super::super::json::{FORMAT, number_json};
use super::data::SweptSheet;
use super::words::{labels, of_point, rows_of_checks};
use crate::outcome::Amount;
use crate::study::Verdict;
use serde_json::{Map, Value, json};

/// For a program: `{"vary": …, "rows": [{input, steps…, "checks": {…}, "verdict"}], "changes": […]}`. A check that is not
/// there is null in a row, as it is before or after a change.
#[must_use]
pub fn swept_json(swept: &SweptSheet<'_>) -> Value {
    let system = swept.sheet.system;
    let number = |amount: &Amount, si: f64| number_json(&Amount { si, ..amount.clone() }, system);
    let mut rows = Vec::new();
    let (mut changes, mut in_part) = (Vec::new(), Vec::new());
    for part in &swept.parts {
        let labels = labels(swept.sheet, part);
        for point in &part.swept.points {
            let mut row = Map::new();
            for (name, value) in &part.chosen {
                row.insert(name.clone(), json!(value));
            }
            for (axis, si) in swept.axes.iter().zip(&point.at) {
                row.insert(axis.name.clone(), number(&axis.from, *si));
            }
            for (watched, found) in swept.watched.iter().zip(&point.numbers) {
                let found = found.map_or(Value::Null, |found| {
                    let mut value = number(&watched.amount, found.value);
                    value["low_si"] = json!(found.low);
                    value["high_si"] = json!(found.high);
                    value
                });
                row.insert(watched.name.clone(), found);
            }
            let checks = labels.iter().zip(&point.checks);
            let checks: Map<String, Value> = checks
                .map(|(label, verdict)| (label.clone(), json!(verdict.map(Verdict::word))))
                .collect();
            row.insert("checks".to_owned(), Value::Object(checks));
            row.insert("verdict".to_owned(), json!(of_point(point).word()));
            row.insert("verdict_of_all".to_owned(), json!(point.verdict.word()));
            row.insert("refused".to_owned(), json!(point.refused));
            rows.push(Value::Object(row));
        }
        for change in &part.swept.changes {
            let at = swept.axes.first().map(|axis| number(&axis.from, change.at));
            changes.push(json!({
                "check": labels.get(change.check),
                "at": at,
                "before": change.before.map(Verdict::word),
                "after": change.after.map(Verdict::word),
            }));
        }
        let points = part.swept.points.len();
        let there = labels.iter().zip(rows_of_checks(part));
        in_part.extend(
            there
                .filter(|(_, rows)| *rows < points)
                .map(|(label, rows)| json!({"check": label, "rows": rows})),
        );
    }
    let axes = swept.axes.iter().map(
        |axis| json!({"name": axis.name, "from": number(&axis.from, axis.from.si), "to": number(&axis.from, axis.to)}),
    );
    let chosen = swept.parts.first().into_iter().flat_map(|part| part.chosen.iter());
    let chosen = chosen.map(|(name, _)| json!({"name": name}));
    json!({
        "format": FORMAT,
        "vary": axes.chain(chosen).collect::<Vec<_>>(),
        "rows": rows,
        "changes": changes,
        "checks_in_some_rows": in_part,
        "samples": swept.parts.first().map_or(0, |part| part.swept.samples),
    })
}
