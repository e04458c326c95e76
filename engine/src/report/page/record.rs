//! The record: which scripts and which readings this is, and what made it.

use super::document::Made;
use super::pen::Pen;
use crate::outcome::Origin;
use crate::report::json::FORMAT;
use crate::report::sheet::{Identity, Sheet};
use maud::{Markup, html};
use sha2::{Digest, Sha256};

/// The record of a sheet.
pub(super) fn record(pen: &Pen<'_>, made: &Made<'_>) -> Markup {
    let sheet = pen.sheet;
    html! {
        section.record aria-labelledby="record" {
            h2 #record { "Record" }
            dl {
                dt { "This sheet" }
                dd { code.sha { (digest(sheet)) } " SHA-256 of the digests below, one a line, each after its name" }
                @if let Some(file) = &sheet.job_file { dt { "Job " code { (file.name) } } dd { code.sha { (file.sha256) } } }
                @for (script, runs) in scripts(sheet) {
                    dt {
                        "Script " code { (script.name) }
                        @if let Some(version) = &script.pack_version { ", version " (version) " of its pack" }
                        @if sheet.in_job { " (" (runs.join(", ")) ")" }
                        @if let Some(altered) = sheet.altered(script) { "; " (altered.words()) }
                    }
                    dd { code.sha { (script.sha256) } }
                }
                @for script in imported(sheet) {
                    dt {
                        "Imported script " code { (script.name) }
                        @if let Some(version) = &script.pack_version { ", version " (version) " of its pack" }
                    }
                    dd { code.sha { (script.sha256) } }
                }
                @for (words, names) in origins(sheet) { dt { (words) } dd { (names.join(", ")) } }
                @if let Some(option) = sheet.option() { dt { "Option set" } dd { (option) } }
                dt { "Samples of the ±" } dd { (sheet.judged.samples) }
                dt { "Made by" } dd { (made.program) ", format " (FORMAT) ": " code { "crankline " (made.command) @for set in made.set { " --set \"" (set) "\"" } } }
            }
        }
    }
}

/// One digest of all that was read: the job file, the scripts, and those that they import.
pub(super) fn digest(sheet: &Sheet<'_>) -> String {
    let mut hasher = Sha256::new();
    let scripts = scripts(sheet);
    let scripts = scripts.iter().map(|(script, _)| *script);
    for of_text in sheet.job_file.iter().chain(scripts).chain(imported(sheet)) {
        hasher.update(format!("{} {}\n", of_text.name, of_text.sha256).as_bytes());
    }
    hasher.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The scripts, each once, with the runs of it.
fn scripts<'a>(sheet: &'a Sheet<'_>) -> Vec<(&'a Identity, Vec<&'a str>)> {
    let mut found: Vec<(&Identity, Vec<&str>)> = Vec::new();
    for run in &sheet.runs {
        match found.iter_mut().find(|(script, _)| **script == run.script) {
            Some((_, runs)) => runs.push(&run.name),
            None => found.push((&run.script, vec![&run.name])),
        }
    }
    found
}

/// The scripts that others import, each once.
fn imported<'a>(sheet: &'a Sheet<'_>) -> Vec<&'a Identity> {
    let mut found: Vec<&Identity> = Vec::new();
    for script in sheet.runs.iter().flat_map(|run| run.script.imported()) {
        if !found.contains(&script) {
            found.push(script);
        }
    }
    found
}

/// Names of the inputs by where their values came from, the measured ones by day and hand.
fn origins(sheet: &Sheet<'_>) -> Vec<(String, Vec<String>)> {
    let mut found: Vec<(u8, String, Vec<String>)> = Vec::new();
    for (_, run) in sheet.shown() {
        for input in &run.outcome.inputs {
            let (rank, words) = match (input.origin, run.taken(&input.name)) {
                (Origin::Measured, Some(taken)) if taken.on.is_some() || taken.by.is_some() => {
                    let on = taken.on.as_ref().map(|on| format!(" {on}")).unwrap_or_default();
                    let by = taken.by.as_ref().map(|by| format!(" by {by}")).unwrap_or_default();
                    (0, format!("Measured{on}{by}"))
                }
                (Origin::Measured, _) => (1, "Measured".to_owned()),
                (Origin::Chosen, _) => (2, "Chosen".to_owned()),
                (Origin::Assumed, _) => (3, "Assumed".to_owned()),
                (Origin::Trial, _) => (4, "Only tried".to_owned()),
                (Origin::Example, _) => (5, "The script's example: nobody measured it".to_owned()),
                // What another run worked out is no reading.
                (Origin::Linked, _) => continue,
            };
            let name = run.taken(&input.name).map_or(&input.name, |taken| &taken.reading);
            match found.iter_mut().find(|(_, known, _)| *known == words) {
                Some((_, _, names)) if names.contains(name) => {}
                Some((_, _, names)) => names.push(name.clone()),
                None => found.push((rank, words, vec![name.clone()])),
            }
        }
    }
    found.sort_by(|a, b| (a.0, &a.1).cmp(&(b.0, &b.1)));
    found.into_iter().map(|(_, words, names)| (words, names)).collect()
}
