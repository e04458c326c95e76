//! The first screen, for someone standing at the car: what it is, cautions, the verdict, and worst first what keeps it
//! from holding; then what to do next.

use super::advice;
use super::compared::compared;
use super::finding::{Finding, counts, worst_first};
use super::layout::{Page, TEXT_COLUMN, WIDTH, length, wrapped};
use super::lookup::interval;
use super::readings;
use super::sheet::{AID, Paint, Sheet};
use super::written;
use crate::outcome::{CheckKind, Origin, Step, Value};
use crate::study::Verdict;

/// How much is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// What keeps it from holding; the rest is counted.
    First,
    /// Held checks, all cautions and notes too.
    All,
}

/// Cautions on the first screen.
const CAUTIONS: usize = 2;
/// Columns of a check's value and limit, and of a result's label.
const VALUE: usize = 29;
const LIMIT: usize = 20;
const LABEL: usize = 36;

/// The sheet for a terminal of 80 columns.
#[must_use]
pub fn text(sheet: &Sheet<'_>, depth: Depth, paint: Paint) -> String {
    let mut page = Page::default();
    head(&mut page, sheet);
    cautions(&mut page, sheet, depth);
    verdict(&mut page, sheet, paint);
    for finding in worst_first(sheet) {
        if !finding.holds() || depth == Depth::All {
            check(&mut page, sheet, finding, paint);
        }
    }
    uncounted(&mut page, sheet);
    if depth == Depth::All || !sheet.in_job {
        results(&mut page, sheet);
        notes(&mut page, sheet);
    }
    next(&mut page, sheet);
    kept(&mut page, sheet);
    examples(&mut page, sheet);
    page.text
}

pub(super) fn head(page: &mut Page, sheet: &Sheet<'_>) {
    let trial = if sheet.is_trial() { "TRIAL" } else { "" };
    let gap = WIDTH.saturating_sub(length(&sheet.title) + length(trial)).max(2);
    page.line(&format!("{}{}{trial}", sheet.title, " ".repeat(gap)));
    for line in wrapped(&sheet.about, WIDTH) {
        page.line(&line);
    }
    page.line(AID);
    let mut tried = String::new();
    for run in &sheet.runs {
        for input in run.outcome.inputs.iter().filter(|input| input.origin == Origin::Trial) {
            let own = input.own.as_ref();
            let own = own.map(|own| format!(" (the script's own: {})", written::value(own, sheet.system)));
            let line = format!(
                "{} = {}{}",
                input.name,
                readings::value(input, sheet.system),
                own.unwrap_or_default()
            );
            if !tried.contains(&line) {
                tried.push_str(&line);
                tried.push('\n');
            }
        }
    }
    if !tried.is_empty() {
        page.gap();
        page.marked("TRIED", "TRIED", &tried);
    }
    page.gap();
}

fn cautions(page: &mut Page, sheet: &Sheet<'_>, depth: Depth) {
    let mut all: Vec<String> = Vec::new();
    for caution in sheet.shown().flat_map(|(_, run)| &run.outcome.cautions) {
        let caution = written::phrase(caution, sheet.system);
        if !all.contains(&caution) {
            all.push(caution);
        }
    }
    let shown = if depth == Depth::All { all.len() } else { CAUTIONS };
    for caution in all.iter().take(shown) {
        page.marked("CARE", "CARE", caution);
    }
    if all.len() > shown {
        let rest = all.len() - shown;
        page.block(TEXT_COLUMN, &format!("({rest} more: --all)"));
    }
    page.gap();
}

fn verdict(page: &mut Page, sheet: &Sheet<'_>, paint: Paint) {
    let verdict = sheet.verdict();
    let word = match verdict {
        Verdict::Fails => "STOP",
        Verdict::Holds if sheet.shown().all(|(_, run)| run.outcome.checks.is_empty()) => "NO CHECK",
        Verdict::Holds => "HOLDS",
        _ => "NOT YET",
    };
    page.marked(word, &paint(verdict, word), &counts(sheet));
    page.gap();
}

fn check(page: &mut Page, sheet: &Sheet<'_>, finding: Finding<'_>, paint: Paint) {
    let judged = finding.judged;
    let word = finding.word();
    let label = if sheet.in_job {
        let run = sheet.runs.get(finding.run).map_or("", |run| run.name.as_str());
        format!("{} ({run})", finding.label(sheet))
    } else {
        finding.label(sheet)
    };
    page.marked(word, &paint(judged.verdict, word), &label);
    let words = compared(sheet, finding);
    let off = words.off.unwrap_or_default();
    page.cells(&[(&words.value, VALUE), (&words.limit, LIMIT), (&off, 0)]);
    for line in reasons(sheet, finding) {
        page.block(TEXT_COLUMN, &line);
    }
    page.gap();
}

/// What a reader needs to know of a check that does not hold.
pub(super) fn reasons(sheet: &Sheet<'_>, finding: Finding<'_>) -> Vec<String> {
    let judged = finding.judged;
    let mut lines = Vec::new();
    match judged.verdict {
        Verdict::Unsure => lines.push(format!("chance that it holds: {} in 100", chance(judged.chance))),
        Verdict::Untrusted => lines.push("readings before it contradict one another".to_owned()),
        Verdict::Unmeasured => lines.push(format!("nobody has measured {}", judged.examples.join(", "))),
        Verdict::Fails if finding.check.kind == CheckKind::Require => {
            lines.push("the readings contradict one another: nothing after it is to be trusted".to_owned());
        }
        Verdict::Fails | Verdict::Holds => {}
    }
    if judged.verdict != Verdict::Holds {
        lines.extend(advice::rests_on(finding));
        lines.extend(advice::settle(sheet, finding));
    }
    lines
}

/// A chance in whole hundredths: 97.4 % is not sure, and does not read as 98.
fn chance(chance: f64) -> String {
    format!("{:.0}", (chance * 100.0).clamp(1.0, 97.0))
}

fn uncounted(page: &mut Page, sheet: &Sheet<'_>) {
    for uncounted in &sheet.judged.uncounted {
        let (count, all) = (uncounted.samples, sheet.judged.samples);
        let text = format!(
            "{count} of {all} samples within the ± cannot be calculated: {}",
            uncounted.message
        );
        page.marked("SAMPLES", "SAMPLES", &text);
    }
    page.gap();
}

fn results(page: &mut Page, sheet: &Sheet<'_>) {
    for (run, of_sheet) in sheet.shown() {
        let steps: Vec<&Step> = of_sheet.outcome.steps.iter().collect();
        if steps.is_empty() {
            continue;
        }
        let title = if sheet.in_job { of_sheet.name.as_str() } else { "" };
        page.marked("RESULTS", "RESULTS", title);
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

/// A step's numbers, each with its interval, under the way to it: `""`, `x`, `bump, axial`.
pub(super) fn flat(sheet: &Sheet<'_>, run: usize, step: &Step) -> Vec<(String, String)> {
    let mut found = Vec::new();
    collect(sheet, (run, step), &step.value, &mut Vec::new(), &mut found);
    found
}

fn collect(
    sheet: &Sheet<'_>,
    (run, step): (usize, &Step),
    value: &Value,
    path: &mut Vec<String>,
    found: &mut Vec<(String, String)>,
) {
    match value {
        Value::Items(items) => {
            for (key, item) in items {
                path.push(key.clone());
                collect(sheet, (run, step), item, path, found);
                path.pop();
            }
        }
        Value::Amount(amount) => {
            let interval = interval(sheet, run, &step.name, path);
            let text = written::with_interval(amount, interval, sheet.system);
            found.push((path.join(", "), text));
        }
        other => found.push((path.join(", "), written::value(other, sheet.system))),
    }
}

fn notes(page: &mut Page, sheet: &Sheet<'_>) {
    for note in sheet.shown().flat_map(|(_, run)| &run.outcome.notes) {
        page.marked("NOTE", "NOTE", &written::phrase(note, sheet.system));
    }
    page.gap();
}

fn next(page: &mut Page, sheet: &Sheet<'_>) {
    for (nth, line) in advice::next(sheet).iter().enumerate() {
        let word = if nth == 0 { "NEXT" } else { "" };
        page.marked(word, word, &format!("{}. {line}", nth + 1));
    }
    page.gap();
}

/// Readings that nothing uses: perhaps under a wrong name.
fn kept(page: &mut Page, sheet: &Sheet<'_>) {
    if !sheet.kept.is_empty() {
        let text = format!("kept, but no run uses: {}", sheet.kept.join(", "));
        page.marked("READINGS", "READINGS", &text);
        page.gap();
    }
}

/// A script run by itself works with its own examples: that must not pass for a car's numbers.
fn examples(page: &mut Page, sheet: &Sheet<'_>) {
    if sheet.in_job {
        return;
    }
    let inputs = sheet.runs.iter().flat_map(|run| &run.outcome.inputs);
    let examples = inputs.filter(|input| input.origin == Origin::Example);
    let examples: Vec<&str> = examples.map(|input| input.name.as_str()).collect();
    if examples.is_empty() {
        return;
    }
    let text = format!(
        "The script's own example, not your car, stands for {}. Put yours in: --set {}=VALUE",
        examples.join(", "),
        examples.first().unwrap_or(&"NAME"),
    );
    page.marked("EXAMPLE", "EXAMPLE", &text);
}
