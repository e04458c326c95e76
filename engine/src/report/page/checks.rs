//! Checks with their verdicts, worst first as on the terminal's first screen.

use super::gauge::gauge;
use super::pen::Pen;
use crate::report::compared::compared;
use crate::report::finding::{Finding, of_run, worst_first};
use crate::report::text::{chance_words, of_examples, reasons, run_name, together};
use crate::study::Verdict;
use maud::{Markup, html};

/// A verdict's word; its class gives colour and shape, and the word says it without either.
pub(super) fn tag(verdict: Verdict, word: &str) -> Markup {
    html! { b.tag.(verdict.word()) { (word) } }
}

/// The word of a check; a preference decides nothing and looks so.
fn tag_of(finding: Finding<'_>) -> Markup {
    html! { b.tag.(finding.judged.verdict.word()).prefer[!finding.decides()] { (finding.word()) } }
}

/// What does not hold, and folded what does.
pub(super) fn checks(pen: &Pen<'_>) -> Markup {
    let sheet = pen.sheet;
    let held: Vec<Finding<'_>> = worst_first(sheet).into_iter().filter(|found| found.holds()).collect();
    let groups = together(sheet);
    if held.is_empty() && groups.is_empty() {
        return html! {};
    }
    html! {
        section #check-list aria-labelledby="checks" {
            h2 #checks { "Checks" }
            ul.checks hidden[groups.is_empty()] { @for group in &groups {
                @match group.as_slice() {
                    [single] => (full(pen, *single, true)),
                    several => (unmeasured(pen, several)),
                }
            } }
            details.held.open[!sheet.in_job] hidden[held.is_empty()] {
                summary { (held.len()) @if held.len() == 1 { " holds" } @else { " hold" } }
                @if sheet.in_job {
                    ul.short { @for finding in &held { (short(pen, *finding)) } }
                } @else {
                    ul.checks { @for finding in &held { (full(pen, *finding, true)) } }
                }
            }
        }
    }
}

/// All checks of one run, in the order of its script.
pub(super) fn of_section(pen: &Pen<'_>, run: usize) -> Markup {
    html! { ul.checks { @for finding in of_run(pen.sheet, run) { (full(pen, finding, false)) } } }
}

/// A check with all that is to be said of it; `with_run`: and in which run it stands.
fn full(pen: &Pen<'_>, finding: Finding<'_>, with_run: bool) -> Markup {
    let sheet = pen.sheet;
    let words = compared(sheet, finding);
    let chance = chance_words(finding);
    let reasons = reasons(sheet, finding);
    let others = reasons.iter().filter(|reason| chance.as_ref() != Some(*reason));
    html! {
        li.(finding.judged.verdict.word()).prefer[!finding.decides()].other[!pen.is_nominal(finding)]
            data-c=[pen.number_of(finding)] data-at=[pen.position_of(finding)] {
            (tag_of(finding))
            div {
                p.what { (pen.label(finding)) @if with_run { (of(pen, finding)) } }
                p.sides { b { (words.value) } " " span { (words.limit) } @if let Some(off) = &words.off { " " em { (off) } } }
                @if let Some(chance) = &chance { p.chance { (chance) } }
                @for reason in others { p.why { (reason) } }
                p.from { code { (finding.check.formula) } @if let Some(per) = &finding.check.per { " per " (pen.phrase(per)) } }
            }
            (gauge(sheet, finding))
        }
    }
}

/// A check on one line: its run's section has the numbers.
fn short(pen: &Pen<'_>, finding: Finding<'_>) -> Markup {
    html! {
        li.other[!pen.is_nominal(finding)] data-c=[pen.number_of(finding)] {
            (tag_of(finding)) " " span.what { (pen.label(finding)) (of(pen, finding)) }
        }
    }
}

/// Checks that would hold were the same examples measured.
fn unmeasured(pen: &Pen<'_>, findings: &[Finding<'_>]) -> Markup {
    let Some(first) = findings.first() else {
        return html! {};
    };
    html! {
        li.group.(first.judged.verdict.word()).prefer[!first.decides()] {
            (tag_of(*first))
            div {
                p.what { (of_examples(pen.sheet, findings)) }
                details {
                    summary { "Which" }
                    ul.short { @for finding in findings { (short(pen, *finding)) } }
                }
            }
        }
    }
}

/// The run that it stands in, on a sheet of several.
fn of(pen: &Pen<'_>, finding: Finding<'_>) -> Markup {
    html! { @if pen.sheet.in_job {
        " " a.of href={ "#run-" (finding.run) } { (run_name(pen.sheet, finding.run)) }
    } }
}
