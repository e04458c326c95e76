//! What the page's script needs, as data: the tape and its study, how numbers are written, inputs and checks.
//!
//! | key | what it is |
//! |---|---|
//! | `tape`, `study` | see [`carry()`](crate::study::carry()) |
//! | `units` | see [`units_json()`](super::units_json()) |
//! | `specs` | ways to write a number, see [`writing()`](super::writing()) |
//! | `shown` | of each mark `data-n`: place, spec, form |
//! | `readings` | of each mark `data-i`: input, spec, whether its ± stands elsewhere |
//! | `positions` | of each mark `data-at`: run, line, guard |
//! | `inputs` | of each of the tape's inputs: what `--set` calls it, its ±, what may be entered, the runs that use it |
//! | `checks` | of each mark `data-c`: run, kind, both sides |
//! | `runs` | names, and whether what they say counts |
//! | `own` | of a script by itself: for each reading whether it is the script's example, and its inputs |
//! | `pictures`, `slots` | of each picture what moves in it, for `redrawFigure`; where the number of a slot stands |
//! | `command`, `set` | the command that made the page, and the values tried in it |

use super::document::Made;
use super::packed::packed;
use super::pen::{Marks, Pen, Pictures};
use super::units::units_json;
use crate::outcome::{Amount, CheckKind, Input, Origin, Part};
use crate::report::compared::{Compares, compares, reading};
use crate::report::finding::{Finding, of_run};
use crate::report::json::FORMAT;
use crate::report::readings;
use crate::report::sheet::{Sheet, SheetRun};
use crate::report::written;
use crate::study::half_width;
use serde_json::{Value, json};

/// The data as JSON that can stand in a page: no `<` in it, so nothing in it ends its element.
pub(super) fn island(pen: Pen<'_>, made: &Made<'_>) -> String {
    let sheet = pen.sheet;
    let carried = pen.carried;
    let inputs = inputs(&pen, made.tape.inputs.len());
    let checks: Vec<Value> = checks(&pen);
    let (marks, Pictures { scenes, slots }) = pen.marks();
    let Marks {
        specs,
        shown,
        readings,
        positions,
    } = marks;
    let specs = specs.in_order.iter().map(|spec| serde_json::from_str(spec));
    let specs: Vec<Value> = specs.map(Result::unwrap_or_default).collect();
    let island = json!({
        "format": FORMAT,
        "inJob": sheet.in_job,
        "command": made.command,
        "set": made.set,
        "units": units_json(),
        "specs": specs,
        "shown": shown.in_order,
        "readings": readings.in_order,
        "positions": positions.in_order,
        "inputs": inputs,
        "checks": checks,
        "runs": sheet.runs.iter().map(|run| json!({"name": run.name, "counts": run.asked && run.tries.is_none()})).collect::<Vec<_>>(),
        "own": own(sheet),
        "pictures": scenes,
        "slots": slots.into_iter().collect::<Vec<_>>(),
        "tape": carried.tape,
        "study": carried.study,
    });
    let text = packed(island).to_string();
    let text = text.replace('<', "\\u003c");
    text.replace('\u{2028}', "\\u2028").replace('\u{2029}', "\\u2029")
}

/// Each of the tape's inputs; nothing for one that no run shows.
fn inputs(pen: &Pen<'_>, count: usize) -> Vec<Value> {
    let sheet = pen.sheet;
    let mut found: Vec<Option<(Value, Vec<usize>)>> = vec![None; count];
    for (number, run) in sheet.runs.iter().enumerate() {
        for input in &run.outcome.inputs {
            for part in &input.parts {
                let Some(entry) = found.get_mut(part.input) else {
                    continue;
                };
                let runs = match entry {
                    Some((_, runs)) => runs,
                    None => match readings::amount_in(&input.value, part.slot) {
                        Some(amount) => &mut entry.insert((one(pen, run, input, part, amount), Vec::new())).1,
                        None => continue,
                    },
                };
                if !runs.contains(&number) {
                    runs.push(number);
                }
            }
        }
    }
    let with_runs = |(mut entry, runs): (Value, Vec<usize>)| {
        entry["runs"] = json!(runs);
        entry
    };
    found
        .into_iter()
        .map(|entry| entry.map_or(Value::Null, with_runs))
        .collect()
}

fn one(pen: &Pen<'_>, run: &SheetRun<'_>, input: &Input, part: &Part, amount: &Amount) -> Value {
    let half = half_width(&part.spread);
    let rest = part.address.strip_prefix(input.name.as_str()).unwrap_or_default();
    let mut entry = json!({
        "set": format!("{}{rest}", setting(pen.sheet, run, input)),
        "spec": pen.spec(amount),
        "half": half,
    });
    if !readings::certainty(&part.spread).is_empty() {
        entry["most"] = json!(true);
    }
    if let Some((low, high)) = input.range {
        let written = |si: f64| written::entered(&Amount { si, ..amount.clone() }, pen.sheet.system);
        entry["range"] = json!({"low": low, "high": high, "words": format!("{} to {}", written(low), written(high))});
    }
    entry
}

/// What `--set` calls an input: a reading by its name, which all its runs follow; what a run has for itself with the run's.
pub(super) fn setting(sheet: &Sheet<'_>, run: &SheetRun<'_>, input: &Input) -> String {
    let own = || format!("{}: {}", run.name, input.name);
    match run.taken(&input.name) {
        _ if !sheet.in_job => input.name.clone(),
        Some(taken) if taken.own => own(),
        Some(taken) => taken.reading.clone(),
        None if matches!(input.origin, Origin::Example | Origin::Assumed) => input.name.clone(),
        None => own(),
    }
}

/// Each check that the readings as they are lead to, in the order of the runs.
fn checks(pen: &Pen<'_>) -> Vec<Value> {
    let runs = pen.sheet.runs.iter().enumerate();
    let of_run = |(number, run): (usize, &SheetRun<'_>)| {
        let findings = of_run(pen.sheet, number).into_iter();
        findings
            .take(run.outcome.checks.len())
            .map(|finding| check(pen, finding))
            .collect::<Vec<Value>>()
    };
    runs.flat_map(of_run).collect()
}

fn check(pen: &Pen<'_>, finding: Finding<'_>) -> Value {
    let kind = match finding.check.kind {
        CheckKind::Check => "check",
        CheckKind::Prefer => "prefer",
        CheckKind::Require => "require",
    };
    let mut entry = json!({"run": finding.run, "kind": kind});
    if let Some(Compares {
        value,
        limits,
        style,
        comparison,
        words,
    }) = compares(pen.sheet, finding)
    {
        entry["value"] = side(pen, finding, &value);
        entry["limits"] = limits.iter().map(|limit| side(pen, finding, limit)).collect();
        entry["style"] = json!(pen.spec(&style));
        entry["comparison"] = json!(comparison);
        entry["words"] = json!(words);
    }
    entry
}

fn side(pen: &Pen<'_>, finding: Finding<'_>, amount: &Amount) -> Value {
    let place = amount.slot.and_then(|slot| pen.carried.places.get(&slot));
    let mut side = match place {
        Some(place) => json!({"place": place}),
        None => json!({"value": amount.si}),
    };
    side["spec"] = json!(pen.spec(amount));
    if let Some(part) = reading(pen.sheet, finding, amount) {
        side["input"] = json!(part.input);
    }
    side
}

/// Whether each reading of a script by itself is its own example, and which inputs it has.
fn own(sheet: &Sheet<'_>) -> Value {
    if sheet.in_job {
        return json!([]);
    }
    let inputs = sheet.shown().flat_map(|(_, run)| &run.outcome.inputs);
    let readings = inputs.filter(|input| !input.assumed);
    let entry = |input: &Input| {
        let inputs: Vec<usize> = input.parts.iter().map(|part| part.input).collect();
        json!([usize::from(input.origin == Origin::Example), inputs])
    };
    readings.map(entry).collect()
}
