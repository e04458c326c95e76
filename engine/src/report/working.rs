//! Every step with its numbers put in, so that a reader can do any line again with a pocket calculator.

use super::compared::compared;
use super::finding::{all, formula};
use super::layout::Page;
use super::readings;
use super::sheet::{Paint, Sheet};
use super::text::{flat, head, reasons};
use super::written;
use crate::outcome::{Input, Outcome, Phrase, Step};

/// Column of formulas.
const FORMULA: usize = 6;

/// The sheet with every step.
#[must_use]
pub fn working(sheet: &Sheet<'_>, paint: Paint) -> String {
    let mut page = Page::default();
    head(&mut page, sheet);
    for (run, of_sheet) in sheet.shown() {
        if sheet.in_job {
            page.line(&of_sheet.name.to_uppercase());
            page.gap();
        }
        cautions(&mut page, sheet, of_sheet.outcome);
        page.line("READINGS");
        page.gap();
        for input in &of_sheet.outcome.inputs {
            reading(&mut page, sheet, input);
        }
        page.gap();
        page.line("WORKING");
        page.gap();
        let mut heading = None;
        for step in &of_sheet.outcome.steps {
            if step.heading != heading {
                heading.clone_from(&step.heading);
                let words = heading.as_ref().map(|heading| written::phrase(heading, sheet.system));
                page.gap();
                page.line(&words.unwrap_or_default());
                page.gap();
            }
            one(&mut page, sheet, run, step);
        }
        checks(&mut page, sheet, run, paint);
        for note in &of_sheet.outcome.notes {
            page.marked("NOTE", "NOTE", &written::phrase(note, sheet.system));
        }
        page.gap();
    }
    page.text
}

fn cautions(page: &mut Page, sheet: &Sheet<'_>, outcome: &Outcome) {
    for caution in &outcome.cautions {
        page.marked("CARE", "CARE", &written::phrase(caution, sheet.system));
    }
    page.gap();
}

fn reading(page: &mut Page, sheet: &Sheet<'_>, input: &Input) {
    let origin = readings::origin(input.origin);
    page.block(2, &format!("{}: {}", input.name, readings::label(input, sheet.system)));
    page.block(
        FORMULA,
        &format!("= {}  ({origin})", readings::value(input, sheet.system)),
    );
    let changed = input.own.as_ref().filter(|own| input.assumed && **own != input.value);
    if let Some(own) = changed {
        let own = written::value(own, sheet.system);
        page.block(FORMULA, &format!("the script's own is {own}"));
    }
    source(page, sheet, input.per.as_ref());
}

fn one(page: &mut Page, sheet: &Sheet<'_>, run: usize, step: &Step) {
    let label = step.label.as_ref().map(|label| written::phrase(label, sheet.system));
    let line = step.place.as_ref().map(|place| format!(" (line {})", place.line));
    let label = label.map(|label| format!(": {label}")).unwrap_or_default();
    page.block(2, &format!("{}{label}{}", step.name, line.unwrap_or_default()));
    page.block(FORMULA, &format!("= {}", step.formula));
    let results = flat(sheet, run, step);
    let substituted = written::formula(&step.substituted, sheet.system);
    // A formula that is one name has its value for what it becomes; one with a choice in it cannot be put in numbers.
    let says_more = substituted != step.formula && results.iter().all(|(_, value)| *value != substituted);
    if says_more && !matches!(substituted.as_str(), "" | "…") {
        page.block(FORMULA, &format!("= {substituted}"));
    }
    for (key, value) in results {
        let key = if key.is_empty() { key } else { format!("{key} ") };
        page.block(FORMULA, &format!("= {key}{value}"));
    }
    source(page, sheet, step.per.as_ref());
    page.gap();
}

fn source(page: &mut Page, sheet: &Sheet<'_>, per: Option<&Phrase>) {
    if let Some(per) = per {
        page.block(FORMULA, &format!("per {}", written::phrase(per, sheet.system)));
    }
}

fn checks(page: &mut Page, sheet: &Sheet<'_>, run: usize, paint: Paint) {
    let findings = all(sheet);
    for finding in findings.into_iter().filter(|finding| finding.run == run) {
        let word = finding.word();
        page.marked(word, &paint(finding.judged.verdict, word), &finding.label(sheet));
        let words = compared(sheet, finding);
        page.block(FORMULA, &formula(finding.check, sheet.system));
        let off = words.off.map(|off| format!("; {off}")).unwrap_or_default();
        page.block(FORMULA, &format!("{}; {}{off}", words.value, words.limit));
        for line in reasons(sheet, finding) {
            page.block(FORMULA, &line);
        }
        source(page, sheet, finding.check.per.as_ref());
        page.gap();
    }
}
