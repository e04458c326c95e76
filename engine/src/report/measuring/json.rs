//! The sheet for programs: a list of readings with all that is known of each.

use super::super::{readings, written};
use super::boxes::symbol;
use super::example::{example, unit};
use super::groups::{Kind as Group, Measuring};
use super::remarks;
use crate::job::{Entry, Kind, State, Wanted};
use crate::quantity::words;
use crate::study::half_width;
use serde_json::{Map, Value, json};

/// A sheet for measuring as JSON.
#[must_use]
pub fn measuring_json(sheet: &Measuring<'_>) -> Value {
    let cautions = sheet
        .cautions
        .iter()
        .map(|caution| written::phrase(caution, sheet.system));
    let (asked, missing) = sheet.counts();
    json!({
        "format": 1,
        "title": sheet.title,
        "about": sheet.about,
        "cautions": cautions.collect::<Vec<_>>(),
        "asked": asked,
        "missing": missing,
        "readings": sheet.wanted.iter().map(|wanted| of_reading(wanted, sheet)).collect::<Vec<_>>(),
    })
}

/// One reading.
pub(super) fn of_reading(wanted: &Wanted, sheet: &Measuring<'_>) -> Value {
    let system = sheet.system;
    let input = &wanted.input;
    let amount = readings::first_amount(&input.value);
    let entered = json_entry(&example(input, system));
    let (state, taken) = match &wanted.state {
        State::Missing => ("missing", None),
        State::TakenAs => ("assumed", None),
        State::Given(taken) => ("given", Some(taken)),
    };
    let spread = input.parts.first().map(|part| (half_width(&part.spread), part));
    let shown_width = spread.as_ref().zip(amount).map(|((width, _), amount)| {
        let unit = unit(amount, system);
        unit.width_from_si(*width, amount.si)
    });
    json!({
        "name": wanted.name,
        "run": wanted.run,
        "label": readings::label(input, system),
        "heading": input.heading.as_ref().map(|heading| written::phrase(heading, system)),
        "group": Group::of(wanted).word(),
        "kind": kind(&Kind::of(&input.value)),
        "columns": columns(&Kind::of(&input.value)),
        "unit": amount.map(|_| symbol(&input.value, system)),
        "dimension": amount.map(|amount| words::name_of(amount.dimension)),
        "signs": remarks::signs(wanted).map(|(positive, negative)| [positive, negative]),
        "how": remarks::how(wanted, system),
        "per": remarks::per(wanted, system),
        "from_si": input.range.map(|(low, _)| low),
        "to_si": input.range.map(|(_, high)| high),
        "range": remarks::range(wanted, system),
        "choices": input.choices,
        "state": state,
        "value": if state == "given" { entered.clone() } else { Value::Null },
        "example": if state == "given" { Value::Null } else { entered },
        "plus_minus": shown_width,
        "half_width_si": spread.as_ref().map(|(width, _)| width),
        "plus_minus_from": spread.filter(|(width, _)| *width > 0.0).map(|(_, part)| {
            if readings::has_scripts_spread(input.origin, part) { "script" } else { "given" }
        }),
        "from": readings::origin(input.origin),
        "on": taken.and_then(|taken| taken.on.clone()),
        "by": taken.and_then(|taken| taken.by.clone()),
        "with": taken.and_then(|taken| taken.with.clone()),
        "used_by": wanted.uses.iter().map(|used| json!({"run": used.run, "input": used.input})).collect::<Vec<_>>(),
    })
}

const fn kind(kind: &Kind) -> &'static str {
    match kind {
        Kind::Quantity => "quantity",
        Kind::Point => "point",
        Kind::Count => "count",
        Kind::Text => "text",
        Kind::YesNo => "yes or no",
        Kind::List(_) => "list",
        Kind::Table(_) => "table",
        Kind::Row(_) => "row",
    }
}

fn columns(of: &Kind) -> Value {
    match of {
        Kind::Table(columns) | Kind::Row(columns) => {
            let columns = columns.iter();
            columns
                .map(|column| json!({"name": column.name, "kind": kind(&column.kind)}))
                .collect()
        }
        _ => Value::Null,
    }
}

/// As a job file would have it.
fn json_entry(entry: &Entry) -> Value {
    match entry {
        Entry::Text(text) => json!(text),
        Entry::Bare(text) => serde_json::from_str(text).unwrap_or_else(|_| json!(text)),
        Entry::List(items) => items.iter().map(json_entry).collect(),
        Entry::Fields(fields) => {
            let fields = fields.iter().map(|(name, field)| (name.clone(), json_entry(field)));
            Value::Object(fields.collect::<Map<String, Value>>())
        }
    }
}
