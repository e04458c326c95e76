//! A look through scripts for a terminal: errors first, then warnings, then what a script is made of.

use super::looked::{Looked, LookedScript};
use super::words;
use crate::report::layout::{Page, TEXT_COLUMN, WIDTH, wrapped};
use crate::report::sheet::{AID, Paint};
use crate::script::Finding;
use crate::study::Verdict;

/// The look as text. What a script is made of is told of one script alone.
#[must_use]
pub fn inspected_text(looked: &Looked, paint: Paint) -> String {
    let mut page = Page::default();
    wrapped(&words::title(looked), WIDTH)
        .iter()
        .for_each(|line| page.line(line));
    page.line(AID);
    if !looked.findings.is_empty() {
        page.gap();
        findings(&mut page, &looked.findings, "", paint);
    }
    let is_alone = looked.scripts.len() == 1;
    for script in &looked.scripts {
        page.gap();
        if !is_alone || script.script.name != looked.title {
            let counts = words::counts(script.inspection.counts());
            page.line(&format!("{}: {counts}", script.script.name));
        }
        findings(
            &mut page,
            &script.inspection.findings,
            &script.inspection.text.name,
            paint,
        );
        remarks(&mut page, script, looked, is_alone);
    }
    page.text
}

fn findings(page: &mut Page, findings: &[Finding], here: &str, paint: Paint) {
    for finding in findings {
        let word = words::word(finding);
        let colour = if finding.is_fault {
            Verdict::Fails
        } else {
            Verdict::Unsure
        };
        let diagnostic = &finding.diagnostic;
        page.marked(word, &paint(colour, word), diagnostic.refusal.message());
        for (nth, place) in diagnostic.places.iter().enumerate() {
            let way = if nth > 0 { "reached from " } else { "" };
            page.block(TEXT_COLUMN, &format!("{way}{}", words::place(place, here)));
            for line in place.marked().into_iter().flatten() {
                // Lines of a script stay as they are, however long.
                page.line(&format!("{}{line}", " ".repeat(TEXT_COLUMN)));
            }
        }
        for hint in diagnostic.refusal.hints().iter().take(2) {
            page.block(TEXT_COLUMN, &format!("try: {hint}"));
        }
        if let Some(again) = words::again(finding) {
            page.block(TEXT_COLUMN, &again);
        }
    }
    page.gap();
}

fn remarks(page: &mut Page, script: &LookedScript, looked: &Looked, is_alone: bool) {
    let mut before = "";
    let made_of = words::remarks(script, looked.system);
    for (word, remark) in made_of.iter().filter(|_| is_alone) {
        let shown = if *word == before { "" } else { word };
        page.marked(shown, shown, remark);
        before = word;
    }
    for (word, remark) in words::gaps(script) {
        page.marked(word, word, &remark);
    }
    if is_alone {
        page.marked("EXAMPLES", "EXAMPLES", &words::cases(script));
    }
}
