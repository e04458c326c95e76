//! What a script is for, what it wants to know, what it gives.

use super::layout::Page;
use super::readings;
use super::sheet::{AID, Sheet};
use super::written::{self, style};
use crate::outcome::{Amount, Check, CheckKind, Input, Outcome, Step};
use crate::quantity::text::System;

/// Column of what stands below a name.
const COLUMN: usize = 6;

/// What is known of a script beside what a run of it yields.
#[derive(Clone, Debug, Default)]
pub struct About {
    /// All of its description.
    pub purpose: String,
    /// Signatures of the functions that other scripts may call, each with what it is for.
    pub functions: Vec<(String, String)>,
    /// Its worked examples.
    pub cases: Vec<String>,
}

/// A script described from a run on its own examples.
#[must_use]
pub fn description(sheet: &Sheet<'_>, about: &About) -> String {
    let mut page = Page::default();
    page.line(&sheet.title);
    page.line(AID);
    page.gap();
    page.block(0, &joined(&about.purpose));
    let Some(run) = sheet.runs.first() else {
        return page.text;
    };
    let outcome = run.outcome;
    let (assumed, read): (Vec<&Input>, Vec<&Input>) = outcome.inputs.iter().partition(|input| input.assumed);
    inputs(&mut page, "READINGS", &read, sheet.system);
    inputs(&mut page, "TAKEN AS, UNLESS YOU SAY OTHERWISE", &assumed, sheet.system);
    steps(&mut page, &outcome.steps, sheet.system);
    checks(&mut page, &outcome.checks, sheet.system);
    list(
        &mut page,
        "CARE",
        outcome
            .cautions
            .iter()
            .map(|caution| written::phrase(caution, sheet.system)),
    );
    list(&mut page, "SOURCES", sources(outcome, sheet.system).into_iter());
    functions(&mut page, &about.functions);
    list(&mut page, "WORKED EXAMPLES", about.cases.iter().cloned());
    page.text
}

/// Lines of a paragraph on one line; paragraphs stay apart.
fn joined(text: &str) -> String {
    let paragraphs = text
        .split("\n\n")
        .map(|paragraph| paragraph.lines().collect::<Vec<_>>().join(" "));
    paragraphs.collect::<Vec<_>>().join("\n\n")
}

fn inputs(page: &mut Page, title: &str, inputs: &[&Input], system: System) {
    if inputs.is_empty() {
        return;
    }
    page.gap();
    page.line(title);
    for input in inputs {
        page.block(2, &format!("{}: {}", input.name, readings::label(input, system)));
        let mut about = vec![readings::value(input, system)];
        about.extend(range(input, system));
        if !input.choices.is_empty() {
            about.push(format!("one of {}", input.choices.join(", ")));
        }
        page.block(COLUMN, &about.join("; "));
        for phrase in [&input.how, &input.per].into_iter().flatten() {
            page.block(COLUMN, &written::phrase(phrase, system));
        }
    }
}

fn range(input: &Input, system: System) -> Option<String> {
    let (low, high) = input.range?;
    let amount: &Amount = readings::first_amount(&input.value)?;
    let style = style(amount, system);
    Some(format!("from {} to {}", style.write(low), style.write(high)))
}

fn steps(page: &mut Page, steps: &[Step], system: System) {
    let named = steps.iter().map(|step| match &step.label {
        Some(label) => format!("{}: {}", step.name, written::phrase(label, system)),
        None => step.name.clone(),
    });
    list(page, "RESULTS", named);
}

fn checks(page: &mut Page, checks: &[Check], system: System) {
    let named = checks.iter().map(|check| {
        let label = check.label.as_ref().map(|label| written::phrase(label, system));
        let label = label.map(|label| format!("{label}: ")).unwrap_or_default();
        let word = match check.kind {
            CheckKind::Check => "",
            CheckKind::Prefer => "better if ",
            CheckKind::Require => "believed only if ",
        };
        format!("{label}{word}{}", check.formula)
    });
    list(page, "CHECKS", named);
}

fn functions(page: &mut Page, functions: &[(String, String)]) {
    for (nth, (signature, what)) in functions.iter().enumerate() {
        if nth == 0 {
            page.gap();
            page.line("FUNCTIONS, FOR OTHER SCRIPTS TO IMPORT");
        }
        page.block(2, signature);
        if !what.is_empty() {
            page.block(COLUMN, what);
        }
    }
}

fn list(page: &mut Page, title: &str, lines: impl Iterator<Item = String>) {
    for (nth, line) in lines.enumerate() {
        if nth == 0 {
            page.gap();
            page.line(title);
        }
        page.block(2, &line);
    }
}

/// Every source that the script names, once.
fn sources(outcome: &Outcome, system: System) -> Vec<String> {
    let inputs = outcome.inputs.iter().map(|input| &input.per);
    let steps = outcome.steps.iter().map(|step| &step.per);
    let checks = outcome.checks.iter().map(|check| &check.per);
    let mut found: Vec<String> = Vec::new();
    for source in inputs.chain(steps).chain(checks).flatten() {
        let source = written::phrase(source, system);
        if !found.contains(&source) {
            found.push(source);
        }
    }
    found
}
