//! Every step with its numbers put in, so that a reader can do any line again with a pocket calculator.

use super::closing::closing;
use super::compared::compared;
use super::figure::letters;
use super::finding::of_run;
use super::head::head;
use super::layout::Page;
use super::readings;
use super::results::flat;
use super::sheet::{Paint, Sheet, SheetRun};
use super::text::{attempts, options, reasons, verdict};
use super::written;
use crate::outcome::{Input, Line, Opened, Outcome, Phrase, Step};

/// Column of formulas.
const FORMULA: usize = 6;

/// The sheet with every step: how it stands, run by run how that was worked out, then what to do.
#[must_use]
pub fn working(sheet: &Sheet<'_>, paint: Paint) -> String {
    let mut page = Page::default();
    head(&mut page, sheet);
    verdict(&mut page, sheet, paint);
    let mut told = Told::default();
    for (number, run) in sheet.shown() {
        if sheet.in_job {
            let tries = run.tries.as_ref().map(|option| format!(" (tries: {option})"));
            page.block(0, &format!("{}{}", run.name.to_uppercase(), tries.unwrap_or_default()));
            page.gap();
        }
        cautions(&mut page, sheet, run.outcome, &mut told);
        page.line("READINGS");
        page.gap();
        for input in &run.outcome.inputs {
            reading(&mut page, sheet, run, input);
        }
        page.gap();
        steps(&mut page, sheet, number, run);
        figures(&mut page, sheet, run.outcome);
        checks(&mut page, sheet, number, paint);
        notes(&mut page, sheet, run.outcome, &mut told);
    }
    attempts(&mut page, sheet, None);
    options(&mut page, sheet);
    closing(&mut page, sheet);
    page.text
}

/// Texts that stand on the page: runs of one script have them in common.
#[derive(Default)]
pub(super) struct Told(Vec<String>);

impl Told {
    /// The text, where it is new.
    pub(super) fn once(&mut self, sheet: &Sheet<'_>, phrase: &Phrase) -> Option<String> {
        let text = written::phrase(phrase, sheet.system);
        if self.0.contains(&text) {
            return None;
        }
        self.0.push(text.clone());
        Some(text)
    }
}

fn cautions(page: &mut Page, sheet: &Sheet<'_>, outcome: &Outcome, told: &mut Told) {
    for caution in &outcome.cautions {
        if let Some(text) = told.once(sheet, caution) {
            page.marked("CARE", "CARE", &text);
        }
    }
    page.gap();
}

fn notes(page: &mut Page, sheet: &Sheet<'_>, outcome: &Outcome, told: &mut Told) {
    for note in &outcome.notes {
        if let Some(text) = told.once(sheet, note) {
            page.marked("NOTE", "NOTE", &text);
        }
    }
    page.gap();
}

fn steps(page: &mut Page, sheet: &Sheet<'_>, number: usize, run: &SheetRun<'_>) {
    page.line("WORKING");
    page.gap();
    let mut heading = None;
    let mut before = Vec::new();
    for step in &run.outcome.steps {
        if step.heading != heading {
            heading.clone_from(&step.heading);
            let words = heading.as_ref().map(|heading| written::phrase(heading, sheet.system));
            page.gap();
            page.line(&words.unwrap_or_default());
            page.gap();
        }
        one(page, sheet, number, step, &mut before);
    }
}

fn reading(page: &mut Page, sheet: &Sheet<'_>, run: &SheetRun<'_>, input: &Input) {
    let origin = readings::source(input, run);
    page.block(2, &format!("{}: {}", input.name, readings::label(input, sheet.system)));
    page.block(FORMULA, &format!("= {}  ({origin})", readings::on_sheet(input, sheet)));
    let changed = input.own.as_ref().filter(|own| input.assumed && **own != input.value);
    if let Some(own) = changed {
        let own = written::value(own, sheet.system);
        page.block(FORMULA, &format!("the script's own is {own}"));
    }
    source(page, sheet, input.per.as_ref());
}

fn one<'a>(page: &mut Page, sheet: &Sheet<'_>, run: usize, step: &'a Step, before: &mut Vec<&'a Opened>) {
    let label = step.label.as_ref().map(|label| written::phrase(label, sheet.system));
    let line = step.place.as_ref().map(|place| format!(" (line {})", place.line));
    let label = label.map(|label| format!(": {label}")).unwrap_or_default();
    page.block(2, &format!("{}{label}{}", step.name, line.unwrap_or_default()));
    page.block(FORMULA, &format!("= {}", step.formula));
    let results = flat(sheet, run, step);
    if let Some(put_in) = put_in(sheet, step, &results) {
        page.block(FORMULA, &format!("= {put_in}"));
    }
    for (key, value) in results {
        let key = if key.is_empty() { key } else { format!("{key} ") };
        page.block(FORMULA, &format!("= {key}{value}"));
    }
    source(page, sheet, step.per.as_ref());
    for (level, line) in opened_lines(sheet, &step.opened, before, 0) {
        page.block(FORMULA + 2 * level, &line);
    }
    page.gap();
}

/// A step's formula with its numbers put in, where that says more than its formula and its results do. A formula that is
/// one name has its value for what it becomes; one with a choice in it cannot be put in numbers.
pub(super) fn put_in(sheet: &Sheet<'_>, step: &Step, results: &[(String, String)]) -> Option<String> {
    let put_in = written::formula(&step.substituted, sheet.system);
    let says_more = put_in != step.formula && results.iter().all(|(_, value)| *value != put_in);
    (says_more && is_written(&put_in)).then_some(put_in)
}

/// Whether there are words for it.
pub(super) fn is_written(text: &str) -> bool {
    !matches!(text, "" | "…")
}

/// The lines of the functions that a formula calls, each under the names that the function has for what it was given, and
/// how far it stands in; once, where several steps ask a function for the same.
pub(super) fn opened_lines<'a>(
    sheet: &Sheet<'_>,
    functions: &'a [Opened],
    before: &mut Vec<&'a Opened>,
    level: usize,
) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for function in functions {
        let given = function.given.iter();
        let given = given.map(|(name, value)| format!(", {name} = {}", written::formula(value, sheet.system)));
        let call = format!("in {}{}", function.function, given.collect::<String>());
        if before.contains(&function) {
            // Of a single line, or within a function, it is clear from the number alone.
            if level == 0 && function.lines.len() > 1 {
                found.push((level, format!("{call}: as above")));
            }
            continue;
        }
        before.push(function);
        found.push((level, format!("{call}:")));
        for line in &function.lines {
            found.push((level + 1, in_words(sheet, line)));
            found.extend(opened_lines(sheet, &line.opened, before, level + 2));
        }
    }
    found
}

fn in_words(sheet: &Sheet<'_>, line: &Line) -> String {
    let mut sides = vec![line.formula.clone()];
    for side in [&line.substituted, &line.value] {
        let side = written::formula(side, sheet.system);
        if !sides.contains(&side) && is_written(&side) {
            sides.push(side);
        }
    }
    let name = line.name.as_ref().map(|name| format!("{name} ")).unwrap_or_default();
    format!("{name}= {}", sides.join(" = "))
}

fn source(page: &mut Page, sheet: &Sheet<'_>, per: Option<&Phrase>) {
    if let Some(per) = per {
        page.block(FORMULA, &format!("per {}", written::phrase(per, sheet.system)));
    }
}

fn figures(page: &mut Page, sheet: &Sheet<'_>, outcome: &Outcome) {
    for shown in &outcome.figures {
        page.gap();
        for line in letters(shown, sheet.system) {
            page.line(&line);
        }
    }
    page.gap();
}

fn checks(page: &mut Page, sheet: &Sheet<'_>, run: usize, paint: Paint) {
    for finding in of_run(sheet, run) {
        let word = finding.word();
        page.marked(word, &paint(finding.judged.verdict, word), &finding.label(sheet));
        let words = compared(sheet, finding);
        page.block(FORMULA, &finding.check.formula);
        let off = words.off.map(|off| format!("; {off}")).unwrap_or_default();
        page.block(FORMULA, &format!("{}; {}{off}", words.value, words.limit));
        for line in reasons(sheet, finding) {
            page.block(FORMULA, &line);
        }
        source(page, sheet, finding.check.per.as_ref());
        page.gap();
    }
}
