//! What stands below the verdicts of a sheet: samples that cannot be calculated, readings to be looked at again, what to
//! do next, what is kept, whose numbers they are.

use super::advice;
use super::layout::Page;
use super::sheet::Sheet;
use super::written;
use crate::outcome::{Origin, Part};
use crate::script::standard;

/// What the samples could not say, a line each.
pub(super) fn samples(sheet: &Sheet<'_>) -> Vec<String> {
    let uncounted = sheet.judged.uncounted.iter();
    let lines = uncounted.map(|uncounted| {
        format!(
            "{} of {} samples within the ± cannot be calculated{}: {}",
            uncounted.samples,
            sheet.judged.samples,
            if uncounted.alike { "" } else { ", for example" },
            uncounted.message
        )
    });
    lines.collect()
}

/// Readings that do not agree with one another, each once.
pub(super) fn doubts(sheet: &Sheet<'_>) -> Vec<String> {
    let of_runs = sheet.shown().flat_map(|(_, run)| &run.outcome.doubts);
    let mut lines = Vec::new();
    for doubt in sheet.doubts.iter().chain(of_runs) {
        let line = written::phrase(doubt, sheet.system);
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines
}

/// What is to be said of readings as they were given, a line each.
pub(super) fn readings(sheet: &Sheet<'_>) -> Vec<String> {
    [without_spread(sheet), kept(sheet)].into_iter().flatten().collect()
}

/// Readings that nothing uses: perhaps under a wrong name.
fn kept(sheet: &Sheet<'_>) -> Option<String> {
    (!sheet.kept.is_empty()).then(|| format!("kept, but no run uses: {}", sheet.kept.join(", ")))
}

/// Values that somebody gave without a ±: the script's own stands, which may not be that of whoever measured.
fn without_spread(sheet: &Sheet<'_>) -> Option<String> {
    let mut names: Vec<&str> = Vec::new();
    for input in sheet.shown().flat_map(|(_, run)| &run.outcome.inputs) {
        let given = matches!(input.origin, Origin::Measured | Origin::Chosen | Origin::Trial);
        let lacks = |part: &Part| !part.stated && standard(&part.spread) > 0.0;
        if given && input.parts.iter().any(lacks) && !names.contains(&input.name.as_str()) {
            names.push(&input.name);
        }
    }
    (!names.is_empty()).then(|| format!("given without a ±, so the script's own stands: {}", names.join(", ")))
}

/// A script run by itself works with its own examples: that must not pass for a car's numbers.
pub(super) fn examples(sheet: &Sheet<'_>) -> Option<String> {
    if sheet.in_job {
        return None;
    }
    let inputs = sheet.runs.iter().flat_map(|run| &run.outcome.inputs);
    let examples = inputs.filter(|input| input.origin == Origin::Example);
    let examples: Vec<&str> = examples.map(|input| input.name.as_str()).collect();
    let first = examples.first()?;
    Some(format!(
        "The script's own example, not your car, stands for {}. Put yours in: --set {first}=VALUE",
        examples.join(", ")
    ))
}

/// All of it on a page.
pub(super) fn closing(page: &mut Page, sheet: &Sheet<'_>) {
    for line in samples(sheet) {
        page.marked("SAMPLES", "SAMPLES", &line);
    }
    page.gap();
    for line in doubts(sheet) {
        page.marked("LOOK AGAIN", "LOOK AGAIN", &line);
    }
    page.gap();
    for (nth, line) in advice::next(sheet).iter().enumerate() {
        let word = if nth == 0 { "NEXT" } else { "" };
        page.marked(word, word, &format!("{}. {line}", nth + 1));
    }
    page.gap();
    for (nth, line) in readings(sheet).iter().enumerate() {
        let word = if nth == 0 { "READINGS" } else { "" };
        page.marked(word, word, line);
    }
    page.gap();
    if let Some(examples) = examples(sheet) {
        page.marked("EXAMPLE", "EXAMPLE", &examples);
    }
}
