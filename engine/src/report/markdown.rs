//! The sheet for a folder: Markdown, with readings, steps and checks as tables.

use super::advice;
use super::compared::compared;
use super::finding::{counts, worst_first};
use super::readings;
use super::sheet::{AID, Sheet, SheetRun};
use super::text::{flat, reasons};
use super::written;

/// The sheet as Markdown; `with_working` adds each step's formula with its numbers put in.
#[must_use]
pub fn markdown(sheet: &Sheet<'_>, with_working: bool) -> String {
    let mut text = String::new();
    let trial = if sheet.is_trial() { " (TRIAL)" } else { "" };
    line(&mut text, &format!("# {}{trial}", plain(&sheet.title)));
    paragraph(&mut text, &plain(&sheet.about));
    paragraph(&mut text, &format!("*{AID}*"));
    for caution in sheet.shown().flat_map(|(_, run)| &run.outcome.cautions) {
        let caution = written::phrase(caution, sheet.system);
        paragraph(&mut text, &format!("> **Care:** {}", plain(&caution)));
    }
    paragraph(
        &mut text,
        &format!("**Verdict: {}.** {}.", sheet.verdict().word(), counts(sheet)),
    );
    checks(&mut text, sheet);
    for (nth, step) in advice::next(sheet).iter().enumerate() {
        if nth == 0 {
            paragraph(&mut text, "## Next at the car");
            text.push('\n');
        }
        line(&mut text, &format!("{}. {}", nth + 1, plain(step)));
    }
    for (run, of_sheet) in sheet.shown() {
        of_run(&mut text, sheet, (run, of_sheet), with_working);
    }
    text
}

fn checks(text: &mut String, sheet: &Sheet<'_>) {
    let findings = worst_first(sheet);
    if findings.is_empty() {
        return;
    }
    paragraph(text, "## Checks");
    table(text, ["Verdict", "Check", "Value", "Limit", "Why"]);
    for finding in findings {
        let words = compared(sheet, finding);
        let why: Vec<String> = words.off.into_iter().chain(reasons(sheet, finding)).collect();
        row(
            text,
            &[
                &finding.word().to_lowercase(),
                &finding.label(sheet),
                &words.value,
                &words.limit,
                &why.join("; "),
            ],
        );
    }
}

fn of_run(text: &mut String, sheet: &Sheet<'_>, (run, of_sheet): (usize, &SheetRun<'_>), with_working: bool) {
    if sheet.in_job {
        paragraph(text, &format!("## {}", plain(&of_sheet.name)));
    }
    paragraph(text, "## Readings");
    table(text, ["Name", "What it is", "Value", "From", "Source"]);
    for input in &of_sheet.outcome.inputs {
        let per = input.per.as_ref().map(|per| written::phrase(per, sheet.system));
        row(
            text,
            &[
                &input.name,
                &readings::label(input, sheet.system),
                &readings::value(input, sheet.system),
                readings::origin(input.origin),
                &per.unwrap_or_default(),
            ],
        );
    }
    paragraph(text, "## Results");
    table(text, ["Name", "What it is", "Value", "Formula", "Source"]);
    for step in &of_sheet.outcome.steps {
        let label = step.label.as_ref().map(|label| written::phrase(label, sheet.system));
        let per = step.per.as_ref().map(|per| written::phrase(per, sheet.system));
        let values: Vec<String> = flat(sheet, run, step)
            .into_iter()
            .map(|(key, value)| {
                if key.is_empty() {
                    value
                } else {
                    format!("{key} {value}")
                }
            })
            .collect();
        let formula = if with_working {
            let substituted = written::formula(&step.substituted, sheet.system);
            format!("{} = {substituted}", step.formula)
        } else {
            step.formula.clone()
        };
        row(
            text,
            &[
                &step.name,
                &label.unwrap_or_default(),
                &values.join("; "),
                &formula,
                &per.unwrap_or_default(),
            ],
        );
    }
    for note in &of_sheet.outcome.notes {
        paragraph(text, &plain(&written::phrase(note, sheet.system)));
    }
    let script = &of_sheet.script;
    let version = script.pack_version.as_ref().map(|version| format!(" {version}"));
    paragraph(
        text,
        &format!("Script {}{}.", plain(&script.name), version.unwrap_or_default()),
    );
}

fn table(text: &mut String, head: [&str; 5]) {
    text.push('\n');
    row(text, &head);
    line(text, "|---|---|---|---|---|");
}

fn row(text: &mut String, cells: &[&str]) {
    let cells: Vec<String> = cells.iter().map(|cell| plain(cell)).collect();
    line(text, &format!("| {} |", cells.join(" | ")));
}

fn paragraph(text: &mut String, words: &str) {
    if words.is_empty() {
        return;
    }
    text.push('\n');
    line(text, words);
}

fn line(text: &mut String, words: &str) {
    text.push_str(words);
    text.push('\n');
}

/// On one line, with nothing that Markdown would take for a mark.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\n' | '\r' => plain.push(' '),
            '*' | '_' | '`' | '|' | '<' | '[' | '\\' | '#' => {
                plain.push('\\');
                plain.push(c);
            }
            c => plain.push(c),
        }
    }
    plain
}
