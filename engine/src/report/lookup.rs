//! Which result a number of a check is: the step or input with the same slot on the tape lends it its unit and interval.

use super::sheet::{Sheet, SheetRun};
use crate::outcome::{Amount, Value};
use crate::study::{Interval, Key};

/// What is known of a number from the step or input that it is.
#[derive(Clone, Debug)]
pub(super) struct Known<'a> {
    /// As its step writes it.
    pub(super) style: Option<String>,
    pub(super) signs: Option<(String, String)>,
    pub(super) interval: Option<&'a Interval>,
}

/// The number with the unit of its step, and its interval.
pub(super) fn known<'a>(sheet: &'a Sheet<'_>, run: usize, amount: &Amount) -> (Amount, Option<&'a Interval>) {
    let of_side = amount.slot.and_then(|slot| sheet.judged.sides.get(&slot));
    let Some(found) = find(sheet, run, amount) else {
        return (amount.clone(), of_side);
    };
    let styled = Amount {
        style: amount.style.clone().or(found.style),
        signs: amount.signs.clone().or(found.signs),
        ..amount.clone()
    };
    (styled, found.interval.or(of_side))
}

fn find<'a>(sheet: &'a Sheet<'_>, run: usize, amount: &Amount) -> Option<Known<'a>> {
    amount.slot?;
    let outcome = sheet.runs.get(run)?.outcome;
    for step in &outcome.steps {
        let mut path = Vec::new();
        if let Some(found) = within(&step.value, amount, &mut path) {
            let key = Key {
                run,
                step: step.name.clone(),
                items: path,
            };
            return Some(Known {
                style: found.style.clone(),
                signs: found.signs.clone(),
                interval: sheet.judged.intervals.get(&key),
            });
        }
    }
    let inputs = outcome.inputs.iter();
    let mut found = inputs.filter_map(|input| within(&input.value, amount, &mut Vec::new()));
    found.next().map(|found| Known {
        style: found.style.clone(),
        signs: found.signs.clone(),
        interval: None,
    })
}

/// The number with the same slot in a value, and the way to it.
fn within<'v>(value: &'v Value, wanted: &Amount, path: &mut Vec<String>) -> Option<&'v Amount> {
    match value {
        Value::Amount(amount) => (amount.slot == wanted.slot).then_some(amount),
        Value::Items(items) => items.iter().find_map(|(key, item)| {
            path.push(key.clone());
            let found = within(item, wanted, path);
            if found.is_none() {
                path.pop();
            }
            found
        }),
        _ => None,
    }
}

/// How a number moves that stands for another run's step: as that step does.
pub(super) fn linked<'a>(sheet: &'a Sheet<'_>, amount: &Amount) -> Option<&'a Interval> {
    let slot = amount.slot?;
    let of_run = |(run, of_sheet): (usize, &SheetRun<'_>)| {
        of_sheet.outcome.steps.iter().find_map(|step| {
            let mut path = Vec::new();
            within(&step.value, amount, &mut path)?;
            interval(sheet, run, &step.name, &path)
        })
    };
    let mut runs = sheet.runs.iter().enumerate();
    runs.find_map(of_run).or_else(|| sheet.judged.sides.get(&slot))
}

/// In what share of the samples an item of a step is there.
pub(super) fn present(sheet: &Sheet<'_>, run: usize, step: &str, items: &[String]) -> f64 {
    let key = Key {
        run,
        step: step.to_owned(),
        items: items.to_vec(),
    };
    sheet.judged.present.get(&key).copied().unwrap_or(1.0)
}

/// The interval of an item of a step.
pub(super) fn interval<'a>(sheet: &'a Sheet<'_>, run: usize, step: &str, items: &[String]) -> Option<&'a Interval> {
    let key = Key {
        run,
        step: step.to_owned(),
        items: items.to_vec(),
    };
    sheet.judged.intervals.get(&key)
}
