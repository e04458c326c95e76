//! A run's numbers, a line each.

use super::layout::{Page, WIDTH, length, wrapped};
use super::lookup::{interval, present};
use super::sheet::Sheet;
use super::written;
use crate::outcome::{Step, Value};
use crate::study::Interval;

/// Columns of a result's label.
const LABEL: usize = 36;

/// The results of all runs shown.
pub(super) fn results(page: &mut Page, sheet: &Sheet<'_>) {
    for (run, of_sheet) in sheet.shown() {
        let steps: Vec<&Step> = of_sheet.outcome.steps.iter().collect();
        if steps.is_empty() {
            continue;
        }
        let title = match &of_sheet.tries {
            Some(option) => format!("{} (tries: {option})", of_sheet.name),
            None if sheet.in_job => of_sheet.name.clone(),
            None => String::new(),
        };
        page.marked("RESULTS", "RESULTS", &title);
        let mut heading = String::new();
        for step in steps {
            let own = step
                .heading
                .as_ref()
                .map(|heading| written::phrase(heading, sheet.system));
            let own = own.unwrap_or_default();
            if own != heading {
                page.block(2, &own);
                heading = own;
            }
            let label = step.label.as_ref().map(|label| written::phrase(label, sheet.system));
            let label = label.unwrap_or_else(|| step.name.clone());
            for (key, value) in flat(sheet, run, step) {
                let label = if key.is_empty() {
                    label.clone()
                } else {
                    format!("{label}, {key}")
                };
                row(page, &label, &value);
            }
        }
        page.gap();
    }
}

fn row(page: &mut Page, label: &str, value: &str) {
    let indent = 4;
    let labels = wrapped(label, LABEL);
    let before = labels.len().saturating_sub(1);
    for line in labels.iter().take(before) {
        page.line(&format!("{}{line}", " ".repeat(indent)));
    }
    let last = labels.last().map_or("", String::as_str);
    let pad = (LABEL + 2).saturating_sub(length(last));
    let values = wrapped(value, WIDTH - indent - LABEL - 2);
    for (nth, line) in values.iter().enumerate() {
        let left = if nth == 0 {
            format!("{last}{}", " ".repeat(pad))
        } else {
            " ".repeat(LABEL + 2)
        };
        page.line(&format!("{}{left}{line}", " ".repeat(indent)));
    }
}

/// A number or a word of a step.
pub(super) struct Leaf<'a> {
    /// The way to it: nothing, `x`, `bump` and `axial`.
    pub(super) path: Vec<String>,
    pub(super) value: &'a Value,
    /// `in 52 of 100 samples`; the interval is that of the samples in which it is there.
    pub(super) samples: Option<String>,
}

impl Leaf<'_> {
    /// Its interval, where it is a number that moves.
    pub(super) fn interval<'s>(&self, sheet: &'s Sheet<'_>, run: usize, step: &Step) -> Option<&'s Interval> {
        interval(sheet, run, &step.name, &self.path)
    }

    /// The way to it in words: `bump, axial`.
    pub(super) fn key(&self) -> String {
        self.path.join(", ")
    }

    fn words(&self, sheet: &Sheet<'_>, run: usize, step: &Step) -> String {
        let text = match self.value {
            Value::Amount(amount) => written::with_interval(amount, self.interval(sheet, run, step), sheet.system),
            other => written::value(other, sheet.system),
        };
        match &self.samples {
            Some(samples) => format!("{text}, {samples}"),
            None => text,
        }
    }
}

/// A step's numbers and words, in order.
pub(super) fn leaves<'a>(sheet: &Sheet<'_>, run: usize, step: &'a Step) -> Vec<Leaf<'a>> {
    let mut found = Vec::new();
    collect(sheet, (run, step), &step.value, &mut Vec::new(), &mut found);
    found
}

/// A step's numbers, each with its interval and in how many samples it is there, under the way to it: `""`, `x`, `bump, axial`.
pub(super) fn flat(sheet: &Sheet<'_>, run: usize, step: &Step) -> Vec<(String, String)> {
    let leaves = leaves(sheet, run, step).into_iter();
    leaves.map(|leaf| (leaf.key(), leaf.words(sheet, run, step))).collect()
}

fn collect<'a>(
    sheet: &Sheet<'_>,
    (run, step): (usize, &Step),
    value: &'a Value,
    path: &mut Vec<String>,
    found: &mut Vec<Leaf<'a>>,
) {
    if let Value::Items(items) = value {
        for (key, item) in items {
            path.push(key.clone());
            collect(sheet, (run, step), item, path, found);
            path.pop();
        }
        return;
    }
    // Of what is no number only the whole step is counted.
    let share = crate::kernel::min(
        present(sheet, run, &step.name, path),
        present(sheet, run, &step.name, &[]),
    );
    found.push(Leaf {
        path: path.clone(),
        value,
        samples: written::in_samples(share),
    });
}
