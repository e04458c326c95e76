//! What nobody has measured, in the order of work, with what waits for it.

use super::super::layout::{Page, WIDTH, length};
use super::super::{finding::of_run, markdown::plain, readings, sheet::AID, sheet::Sheet};
use super::example::example;
use super::groups::{Kind, Measuring};
use super::json::of_reading;
use super::remarks;
use crate::job::Wanted;
use serde_json::{Value, json};

/// Where a reading's remarks begin.
const COLUMN: usize = 6;
/// Checks named one by one; more are counted.
const NAMED: usize = 3;

/// What is missing, in 80 columns. `judged` is the job as it ran, where it can be calculated; `next` what to type.
#[must_use]
pub fn missing_text(sheet: &Measuring<'_>, judged: Option<&Sheet<'_>>, next: &str) -> String {
    let mut page = Page::default();
    page.block(0, &sheet.title);
    page.line(AID);
    page.gap();
    page.block(0, &headline(sheet));
    let mut heading = String::new();
    for (number, wanted) in numbered(sheet) {
        page.gap();
        let own = sheet.heading(wanted);
        if own != heading {
            page.block(0, &own);
            page.gap();
            heading = own;
        }
        titled(&mut page, number, wanted, sheet);
        for line in remarked(wanted, sheet, judged) {
            page.block(COLUMN, &line);
        }
    }
    if sheet.counts().1 > 0 {
        page.gap();
        page.marked("NEXT", "NEXT", next);
    }
    page.text
}

/// The same as Markdown.
#[must_use]
pub fn missing_markdown(sheet: &Measuring<'_>, judged: Option<&Sheet<'_>>, next: &str) -> String {
    let mut text = format!("# {}\n\n*{AID}*\n\n{}\n", plain(&sheet.title), plain(&headline(sheet)));
    let mut heading = String::new();
    for (number, wanted) in numbered(sheet) {
        let own = sheet.heading(wanted);
        if own != heading {
            text.push_str(&format!("\n## {}\n\n", plain(&own)));
            heading = own;
        }
        let label = plain(&readings::label(&wanted.input, sheet.system));
        text.push_str(&format!("{number}. {label} (`{}`)\n", wanted.name));
        for line in remarked(wanted, sheet, judged) {
            text.push_str(&format!("   - {}\n", plain(&line)));
        }
    }
    if sheet.counts().1 > 0 {
        text.push_str(&format!("\nNext: `{next}`\n"));
    }
    text
}

/// The same for programs.
#[must_use]
pub fn missing_json(sheet: &Measuring<'_>, judged: Option<&Sheet<'_>>) -> Value {
    let of_one = |wanted: &Wanted| {
        let mut object = of_reading(wanted, sheet);
        let waiting = judged.map(|judged| waiting(wanted, judged));
        let waiting = waiting.map(|checks| {
            let checks = checks.into_iter();
            checks
                .map(|(run, check)| json!({"run": run, "check": check}))
                .collect::<Vec<_>>()
        });
        if let Some(fields) = object.as_object_mut() {
            fields.insert("waiting".to_owned(), json!(waiting));
        }
        object
    };
    let (asked, missing) = sheet.counts();
    let readings: Vec<Value> = numbered(sheet).map(|(_, wanted)| of_one(wanted)).collect();
    json!({"format": 1, "title": sheet.title, "asked": asked, "missing": missing, "readings": readings})
}

/// `3 of 24 readings are missing: nobody has taken them.`
fn headline(sheet: &Measuring<'_>) -> String {
    match sheet.counts() {
        (0, _) => "The runs ask for no reading.".to_owned(),
        (1, 0) => "The one reading that the runs ask for is there.".to_owned(),
        (asked, 0) => format!("All {asked} readings that the runs ask for are there."),
        (asked, 1) => format!("1 of {asked} readings is missing: the script's example stands for it."),
        (asked, missing) => {
            format!("{missing} of {asked} readings are missing: the scripts' examples stand for them.")
        }
    }
}

/// The missing ones in the order of work, from 1.
fn numbered<'a>(sheet: &Measuring<'a>) -> impl Iterator<Item = (usize, &'a Wanted)> {
    let missing = sheet.wanted.iter().filter(|wanted| wanted.is_missing());
    missing.enumerate().map(|(number, wanted)| (number + 1, wanted))
}

fn titled(page: &mut Page, number: usize, wanted: &Wanted, sheet: &Measuring<'_>) {
    let label = readings::label(&wanted.input, sheet.system);
    let left = format!("{number:>4}  {label}");
    let gap = WIDTH.saturating_sub(length(&left) + length(&wanted.name));
    if label == wanted.name || gap < 2 {
        page.line(&format!("{number:>4}  {}", wanted.name));
        if label != wanted.name {
            page.block(COLUMN, &label);
        }
        return;
    }
    page.line(&format!("{left}{}{}", " ".repeat(gap), wanted.name));
}

/// How to measure it, what may be entered, its example, what waits for it.
fn remarked(wanted: &Wanted, sheet: &Measuring<'_>, judged: Option<&Sheet<'_>>) -> Vec<String> {
    let system = sheet.system;
    let decided = (Kind::of(wanted) == Kind::Decided).then(|| "decided, or read off a plate".to_owned());
    let example = example(&wanted.input, system).answer();
    let example = match example.as_slice() {
        [one] => format!("example: {one}"),
        rows => format!(
            "example, {} rows: {}; …",
            rows.len(),
            rows.first().map_or("", String::as_str)
        ),
    };
    let users = remarks::users(wanted).map(|runs| format!("used by {runs}"));
    let waits = judged.map(|judged| {
        let waits = waits(&waiting(wanted, judged));
        waits.unwrap_or_else(|| {
            format!(
                "no check waits for it{}",
                users.as_ref().map_or(String::new(), |users| format!("; {users}"))
            )
        })
    });
    let lines = [
        remarks::how(wanted, system),
        remarks::all(wanted, system),
        decided,
        Some(example),
        waits.or(users),
    ];
    lines.into_iter().flatten().collect()
}

/// The checks that rest on a missing reading, each with its run.
fn waiting(wanted: &Wanted, judged: &Sheet<'_>) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for (number, run) in judged.runs.iter().enumerate() {
        for finding in of_run(judged, number) {
            if finding.judged.examples.contains(&wanted.input.name) {
                found.push((run.name.clone(), finding.label(judged)));
            }
        }
    }
    found
}

/// `joint angles waits with 3 checks: Front joint at cruise, …`
fn waits(checks: &[(String, String)]) -> Option<String> {
    let mut runs: Vec<&str> = Vec::new();
    for (run, _) in checks {
        if !runs.contains(&run.as_str()) {
            runs.push(run);
        }
    }
    let of_run = |run: &str| {
        let own = checks
            .iter()
            .filter(|(of, _)| of == run)
            .map(|(_, check)| check.as_str());
        let own: Vec<&str> = own.collect();
        let named: Vec<&str> = own.iter().copied().take(NAMED).collect();
        let more = match own.len().saturating_sub(NAMED) {
            0 => String::new(),
            more => format!(" and {more} more"),
        };
        format!("{}{more} ({run})", named.join(", "))
    };
    let said: Vec<String> = runs.into_iter().map(of_run).collect();
    (!said.is_empty()).then(|| format!("waiting for it: {}", said.join("; ")))
}
