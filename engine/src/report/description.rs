//! What a script is for, what it wants to know, what it gives.

use super::layout::Page;
use super::markdown::plain;
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
    /// The pack that it is in, in a line.
    pub pack: Option<String>,
    /// What it was copied from, and whether that is the same still.
    pub lineage: Vec<String>,
}

/// A script described from a run on its own examples.
#[must_use]
pub fn description(sheet: &Sheet<'_>, about: &About) -> String {
    let mut page = Page::default();
    page.line(&sheet.title);
    page.line(AID);
    page.gap();
    page.block(0, &joined(&about.purpose));
    for section in sections(sheet, about) {
        page.gap();
        page.line(&section.title.to_uppercase());
        for (line, below) in section.entries {
            page.block(2, &line);
            for line in below {
                page.block(COLUMN, &line);
            }
        }
    }
    page.text
}

/// The same as Markdown.
#[must_use]
pub fn description_markdown(sheet: &Sheet<'_>, about: &About) -> String {
    let mut text = format!("# {}\n\n*{AID}*\n", plain(&sheet.title));
    for paragraph in joined(&about.purpose).split("\n\n") {
        text.push_str(&format!("\n{}\n", plain(paragraph)));
    }
    for section in sections(sheet, about) {
        text.push_str(&format!("\n## {}\n\n", section.title));
        for (line, below) in section.entries {
            text.push_str(&format!("- {}\n", plain(&line)));
            for line in below {
                text.push_str(&format!("  - {}\n", plain(&line)));
            }
        }
    }
    text
}

/// Something to say under a title: lines, each with what stands below it.
struct Section {
    title: &'static str,
    entries: Vec<(String, Vec<String>)>,
}

impl Section {
    fn lines(title: &'static str, lines: impl Iterator<Item = String>) -> Self {
        let entries = lines.map(|line| (line, Vec::new())).collect();
        Self { title, entries }
    }
}

/// The sections that have anything in them.
fn sections(sheet: &Sheet<'_>, about: &About) -> Vec<Section> {
    let Some(run) = sheet.runs.first() else {
        return Vec::new();
    };
    let (outcome, system) = (run.outcome, sheet.system);
    let (assumed, read): (Vec<&Input>, Vec<&Input>) = outcome.inputs.iter().partition(|input| input.assumed);
    let inputs = |title, inputs: &[&Input]| Section {
        title,
        entries: inputs.iter().map(|input| described(input, system)).collect(),
    };
    let cautions = outcome.cautions.iter();
    let functions = about.functions.iter().map(|(signature, what)| {
        let what = Some(what.clone()).filter(|what| !what.is_empty());
        (signature.clone(), what.into_iter().collect())
    });
    let all = vec![
        inputs("Readings", &read),
        inputs("Taken as, unless you say otherwise", &assumed),
        Section::lines("Results", outcome.steps.iter().map(|step| named(step, system))),
        Section::lines("Checks", outcome.checks.iter().map(|check| judged(check, system))),
        Section::lines("Care", cautions.map(|caution| written::phrase(caution, system))),
        Section::lines("Sources", sources(outcome, system).into_iter()),
        Section {
            title: "Functions, for other scripts to import",
            entries: functions.collect(),
        },
        Section::lines("Worked examples", about.cases.iter().cloned()),
        Section::lines("Pack", about.pack.iter().cloned()),
        Section::lines("Where it comes from", about.lineage.iter().cloned()),
    ];
    all.into_iter().filter(|section| !section.entries.is_empty()).collect()
}

/// Lines of a paragraph on one line; paragraphs stay apart.
fn joined(text: &str) -> String {
    let paragraphs = text
        .split("\n\n")
        .map(|paragraph| paragraph.lines().collect::<Vec<_>>().join(" "));
    paragraphs.collect::<Vec<_>>().join("\n\n")
}

fn described(input: &Input, system: System) -> (String, Vec<String>) {
    let mut about = vec![readings::value(input, system)];
    about.extend(range(input, system));
    if !input.choices.is_empty() {
        about.push(format!("one of {}", input.choices.join(", ")));
    }
    let mut below = vec![about.join("; ")];
    let phrases = [&input.how, &input.per].into_iter().flatten();
    below.extend(phrases.map(|phrase| written::phrase(phrase, system)));
    (format!("{}: {}", input.name, readings::label(input, system)), below)
}

/// `from -15° to 15°`
pub(super) fn range(input: &Input, system: System) -> Option<String> {
    let (low, high) = input.range?;
    let amount: &Amount = readings::first_amount(&input.value)?;
    let style = style(amount, system);
    Some(format!("from {} to {}", style.write(low), style.write(high)))
}

fn named(step: &Step, system: System) -> String {
    match &step.label {
        Some(label) => format!("{}: {}", step.name, written::phrase(label, system)),
        None => step.name.clone(),
    }
}

fn judged(check: &Check, system: System) -> String {
    let label = check.label.as_ref().map(|label| written::phrase(label, system));
    let label = label.map(|label| format!("{label}: ")).unwrap_or_default();
    let word = match check.kind {
        CheckKind::Check => "",
        CheckKind::Prefer => "better if ",
        CheckKind::Require => "believed only if ",
    };
    format!("{label}{word}{}", check.formula)
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
