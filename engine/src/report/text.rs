//! The first screen, for someone standing at the car: what it is, cautions, the verdict, and worst first what keeps it
//! from holding; then what to do next.

use super::advice;
use super::cautions::cautions;
use super::closing::closing;
use super::compared::compared;
use super::considered::{fate, settings, tried};
use super::finding::{Finding, of_run, worst_first};
use super::head::head;
use super::headline::headline;
use super::layout::{Page, TEXT_COLUMN};
use super::results::results;
use super::sheet::{Paint, Sheet};
use super::written;
use crate::outcome::CheckKind;
use crate::study::Verdict;

/// How much is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// What keeps it from holding; the rest is counted.
    First,
    /// Held checks, all cautions, notes and options too.
    All,
}

/// Cautions on the first screen.
pub(super) const CAUTIONS: usize = 3;
/// Columns of a check's value and limit.
const VALUE: usize = 29;
const LIMIT: usize = 20;

/// The sheet for a terminal of 80 columns.
#[must_use]
pub fn text(sheet: &Sheet<'_>, depth: Depth, paint: Paint) -> String {
    let mut page = Page::default();
    head(&mut page, sheet);
    care(&mut page, sheet, depth);
    verdict(&mut page, sheet, paint);
    checks(&mut page, sheet, depth, paint);
    // Where nothing else is shown, what is tried is what somebody asked to see.
    let only_tried = sheet.shown().all(|(_, run)| run.tries.is_some());
    attempts(&mut page, sheet, (only_tried || depth == Depth::All).then_some(paint));
    if depth == Depth::All || !sheet.in_job {
        results(&mut page, sheet);
        notes(&mut page, sheet);
    }
    if depth == Depth::All {
        options(&mut page, sheet);
    }
    closing(&mut page, sheet);
    page.text
}

fn care(page: &mut Page, sheet: &Sheet<'_>, depth: Depth) {
    let all = cautions(sheet);
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

/// The line that says how it stands.
pub(super) fn verdict(page: &mut Page, sheet: &Sheet<'_>, paint: Paint) {
    let headline = headline(sheet);
    page.marked(headline.word, &paint(headline.verdict, headline.word), &headline.text);
    page.gap();
}

/// What does not hold, worst first. Checks that would hold were their examples measured are named together.
fn checks(page: &mut Page, sheet: &Sheet<'_>, depth: Depth, paint: Paint) {
    if depth == Depth::All {
        for finding in worst_first(sheet) {
            check(page, sheet, finding, paint);
        }
        return;
    }
    for alike in together(sheet) {
        match alike.as_slice() {
            [single] => check(page, sheet, *single, paint),
            several => unmeasured(page, sheet, several, paint),
        }
    }
}

/// What does not hold, worst first; those of a run together that would hold, were the same examples measured.
pub(super) fn together<'a>(sheet: &'a Sheet<'_>) -> Vec<Vec<Finding<'a>>> {
    let alike = |a: &Finding<'_>, b: &Finding<'_>| {
        let of = |finding: &Finding<'_>| (finding.run, finding.decides(), finding.judged.verdict);
        of(a) == of(b) && a.judged.examples == b.judged.examples
    };
    let mut groups: Vec<Vec<Finding<'a>>> = Vec::new();
    for finding in worst_first(sheet).into_iter().filter(|finding| !finding.holds()) {
        let mut known = groups
            .iter_mut()
            .filter(|_| finding.judged.verdict == Verdict::Unmeasured);
        match known.find(|group| group.first().is_some_and(|first| alike(first, &finding))) {
            Some(group) => group.push(finding),
            None => groups.push(vec![finding]),
        }
    }
    groups
}

/// `7 checks of road speed would hold, but nobody has measured tyre_size`.
pub(super) fn of_examples(sheet: &Sheet<'_>, findings: &[Finding<'_>]) -> String {
    let Some(first) = findings.first() else {
        return String::new();
    };
    let (kind, would) = if first.decides() {
        ("checks", "would hold")
    } else {
        ("preferences", "would be met")
    };
    format!(
        "{} {kind} of {} {would}, but nobody has measured {}",
        findings.len(),
        run_name(sheet, first.run),
        first.judged.examples.join(", ")
    )
}

/// The same, and which.
fn unmeasured(page: &mut Page, sheet: &Sheet<'_>, findings: &[Finding<'_>], paint: Paint) {
    let Some(first) = findings.first() else { return };
    let word = first.word();
    page.marked(word, &paint(first.judged.verdict, word), &of_examples(sheet, findings));
    let labels: Vec<String> = findings.iter().map(|finding| finding.label(sheet)).collect();
    page.block(TEXT_COLUMN, &labels.join("; "));
    page.gap();
}

pub(super) fn run_name<'a>(sheet: &'a Sheet<'_>, run: usize) -> &'a str {
    sheet.runs.get(run).map_or("", |run| run.name.as_str())
}

fn check(page: &mut Page, sheet: &Sheet<'_>, finding: Finding<'_>, paint: Paint) {
    let judged = finding.judged;
    let word = finding.word();
    let label = if sheet.in_job {
        format!("{} ({})", finding.label(sheet), run_name(sheet, finding.run))
    } else {
        finding.label(sheet)
    };
    page.marked(word, &paint(judged.verdict, word), &label);
    let words = compared(sheet, finding);
    match &words.off {
        Some(off) => page.cells(&[(&words.value, VALUE), (&words.limit, LIMIT), (off, 0)]),
        None => page.cells(&[(&words.value, VALUE), (&words.limit, 0)]),
    }
    for line in reasons(sheet, finding) {
        page.block(TEXT_COLUMN, &line);
    }
    page.gap();
}

/// What a reader needs to know of a check that does not hold.
pub(super) fn reasons(sheet: &Sheet<'_>, finding: Finding<'_>) -> Vec<String> {
    let judged = finding.judged;
    let mut lines = Vec::new();
    lines.extend(chance_words(finding));
    match judged.verdict {
        Verdict::Untrusted => lines.push("readings before it contradict one another".to_owned()),
        Verdict::Unmeasured => lines.push(format!("nobody has measured {}", judged.examples.join(", "))),
        Verdict::Fails if finding.check.kind == CheckKind::Require => {
            lines.push("the readings contradict one another: nothing after it is to be trusted".to_owned());
        }
        Verdict::Fails | Verdict::Holds | Verdict::Unsure => {}
    }
    if judged.verdict != Verdict::Holds {
        lines.extend(advice::doubt_from(finding));
        lines.extend(advice::settle(sheet, finding));
    }
    lines
}

/// `chance that it holds: 28 in 100` of an unsure check.
pub(super) fn chance_words(finding: Finding<'_>) -> Option<String> {
    let judged = finding.judged;
    let holds = if judged.present < 1.0 {
        "holds or does not come up"
    } else {
        "holds"
    };
    let words = || format!("chance that it {holds}: {} in 100", chance(judged.chance));
    (judged.verdict == Verdict::Unsure).then(words)
}

/// A chance in whole hundredths: 97.4 % is not sure, and does not read as 98.
pub(super) fn chance(chance: f64) -> String {
    format!("{:.0}", (chance * 100.0).clamp(1.0, 97.0))
}

/// The runs that try an option: they decide nothing. With a `paint`, each of their checks too.
pub(super) fn attempts(page: &mut Page, sheet: &Sheet<'_>, paint: Option<Paint>) {
    for attempt in tried(sheet) {
        page.marked("TRIED", "TRIED", &attempt.what);
        for (_, outcome) in &attempt.runs {
            page.block(TEXT_COLUMN, outcome);
        }
        page.gap();
        for finding in attempt.runs.iter().flat_map(|(run, _)| of_run(sheet, *run)) {
            if let Some(paint) = paint {
                check(page, sheet, finding, paint);
            }
        }
    }
}

/// The ways considered, each with what it changes and what became of it.
pub(super) fn options(page: &mut Page, sheet: &Sheet<'_>) {
    for option in sheet.options {
        page.marked("OPTION", "OPTION", &format!("{}. {}", option.name, fate(&option.fate)));
        page.block(TEXT_COLUMN, &settings(option));
    }
    page.gap();
}

fn notes(page: &mut Page, sheet: &Sheet<'_>) {
    let mut told: Vec<String> = Vec::new();
    for note in sheet.shown().flat_map(|(_, run)| &run.outcome.notes) {
        let note = written::phrase(note, sheet.system);
        if !told.contains(&note) {
            page.marked("NOTE", "NOTE", &note);
            told.push(note);
        }
    }
    page.gap();
}
