//! What the page's script needs, as data: the tape and its study, how numbers are written, inputs and checks.
//!
//! | key | what it is |
//! |---|---|
//! | `tape`, `study` | see [`carry()`](crate::study::carry()) |
//! | `units` | see [`units_json()`](super::units_json()) |
//! | `specs` | ways to write a number, see [`writing()`](super::writing()) |
//! | `marks` | of each element `i`, in order, its mark |
//! | `shown` | of each mark, and each mark `data-n` in a picture: place, spec, form |
//! | `readings` | of each mark `data-i`: input, spec, whether its ± stands elsewhere |
//! | `positions` | of each mark `data-at`: run, line, guard |
//! | `inputs` | of each of the tape's inputs the runs that use it, what `--set` calls it, spec, what may be entered |
//! | `checks` | of each mark `data-c`: see `check` |
//! | `runs` | names, and whether what they say counts |
//! | `own` | of a script by itself: for each reading whether it is the script's example, and its inputs |
//! | `pictures` | of each picture what moves in it, see `pictures.rs` |
//! | `command`, `set` | the command that made the page, and the values tried in it |

use super::document::Made;
use super::packed::packed;
use super::pen::{Marks, Pen};
use super::study_checks::with_short_checks;
use super::units::units_json;
use crate::outcome::{Amount, Input, Origin, Part};
use crate::report::compared::{compares, reading};
use crate::report::finding::{Finding, of_run};
use crate::report::json::FORMAT;
use crate::report::readings;
use crate::report::sheet::{Sheet, SheetRun};
use crate::report::written;
use serde_json::{Value, json};

/// The data as JSON that can stand in a page: no `<` in it, so nothing in it ends its element.
pub(super) fn island(pen: Pen<'_>, made: &Made<'_>, marks: &[usize]) -> String {
    let sheet = pen.sheet;
    let carried = pen.carried;
    let inputs = inputs(&pen, made.tape.inputs.len());
    let checks: Vec<Value> = checks(&pen);
    let (of_pen, pictures) = pen.done();
    let Marks {
        specs,
        shown,
        readings,
        positions,
    } = of_pen;
    let specs = specs.in_order.iter().map(|spec| serde_json::from_str(spec));
    let specs: Vec<Value> = specs.map(Result::unwrap_or_default).collect();
    let island = json!({
        "format": FORMAT,
        "inJob": sheet.in_job,
        "command": made.command,
        "set": made.set,
        "units": units_json(),
        "specs": specs,
        "marks": marks,
        "shown": shown.in_order,
        "readings": readings.in_order,
        "positions": positions.in_order,
        "inputs": inputs,
        "checks": checks,
        "runs": sheet.runs.iter().map(|run| json!({"name": run.name, "counts": run.asked && run.tries.is_none()})).collect::<Vec<_>>(),
        "own": own(sheet),
        "pictures": pictures,
        "tape": carried.tape,
        "study": with_short_checks(&carried.study),
    });
    let text = packed(island).to_string();
    let text = text.replace('<', "\\u003c");
    text.replace('\u{2028}', "\\u2028").replace('\u{2029}', "\\u2029")
}

/// Each of the tape's inputs; nothing for one that no run shows.
fn inputs(pen: &Pen<'_>, count: usize) -> Vec<Value> {
    let sheet = pen.sheet;
    let mut found: Vec<Option<(Vec<Value>, Vec<usize>)>> = vec![None; count];
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
    let with_runs = |(entry, runs): (Vec<Value>, Vec<usize>)| std::iter::once(json!(runs)).chain(entry).collect();
    found
        .into_iter()
        .map(|entry| entry.map_or(Value::Null, with_runs))
        .collect()
}

fn one(pen: &Pen<'_>, run: &SheetRun<'_>, input: &Input, part: &Part, amount: &Amount) -> Vec<Value> {
    let rest = part.address.strip_prefix(input.name.as_str()).unwrap_or_default();
    let set = format!("{}{rest}", setting(pen.sheet, run, input));
    let range = input.range.map(|(low, high)| {
        let written = |si: f64| written::entered(&Amount { si, ..amount.clone() }, pen.sheet.system);
        json!({"low": low, "high": high, "words": format!("{} to {}", written(low), written(high))})
    });
    let entry = [json!(set), json!(pen.spec(amount))];
    entry.into_iter().chain(range).collect()
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

/// How a check between numbers is written: whether the limit stands on its left, the spec whose unit both have, then of the
/// value and each limit the spec and the reading that it is (−1: none). Nothing of another check. What is compared stands in
/// the study.
fn check(pen: &Pen<'_>, finding: Finding<'_>) -> Value {
    let Some(compares) = compares(pen.sheet, finding) else {
        return json!([]);
    };
    let mut entry = vec![i64::from(compares.turned), whole(pen.spec(&compares.style))];
    for amount in std::iter::once(&compares.value).chain(&compares.limits) {
        let input = reading(pen.sheet, finding, amount).map_or(-1, |part| whole(part.input));
        entry.extend([whole(pen.spec(amount)), input]);
    }
    json!(entry)
}

fn whole(number: usize) -> i64 {
    i64::try_from(number).unwrap_or(-1)
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
