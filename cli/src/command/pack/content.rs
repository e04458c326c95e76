//! What is in a pack: its scripts, read and not run.

use crate::packs::FoundPack;
use crate::shelf::{first_paragraph, purpose};
use crankline_engine::diagnostic::{Diagnostic, SourceText};
use crankline_engine::pack::{Manifest, read_cases, sha256};
use crankline_engine::script::{Library, Outline, Stated};
use crankline_engine::source::NoSources;
use serde_json::{Value, json};
use std::rc::Rc;

/// More text than this is not read for what it states.
const MOST_READ: usize = 2 * 1024 * 1024;

/// A script in a pack.
pub(super) struct Script {
    /// Its whole name.
    pub(super) name: String,
    /// The first paragraph of what it is for.
    pub(super) purpose: String,
    /// How many worked examples it has, or why they cannot be read.
    pub(super) cases: Result<usize, String>,
    /// The SHA-256 of its file.
    pub(super) sha256: String,
    /// Its text.
    pub(super) text: String,
}

impl Script {
    /// `shop/lift, 2 worked examples`
    pub(super) fn line(&self) -> String {
        let name = &self.name;
        match &self.cases {
            Ok(0) => format!("{name}, no worked example"),
            Ok(1) => format!("{name}, 1 worked example"),
            Ok(count) => format!("{name}, {count} worked examples"),
            Err(why) => format!("{name}, worked examples that cannot be read: {why}"),
        }
    }

    /// Its name, what it is for, how many worked examples it has.
    pub(super) fn json(&self) -> Value {
        json!({
            "name": self.name,
            "purpose": self.purpose,
            "sha256": self.sha256,
            "cases": self.cases.as_ref().ok(),
            "cases_unread": self.cases.as_ref().err(),
        })
    }
}

/// The scripts of a pack by name.
///
/// # Errors
/// A file that is no text.
pub(super) fn scripts(pack: &FoundPack) -> Result<Vec<Script>, Diagnostic> {
    let script = |own: &String| -> Result<Script, Diagnostic> {
        let text = pack.script(own)?.map(|script| script.text).unwrap_or_default();
        let cases = pack.cases(own)?.map(read_cases).transpose();
        Ok(Script {
            name: format!("{}/{own}", pack.name()),
            purpose: first_paragraph(&purpose(&text)),
            cases: cases
                .map(|cases| cases.unwrap_or_default().len())
                .map_err(|error| error.refusal.message().to_owned()),
            sha256: sha256(text.as_bytes()),
            text,
        })
    };
    pack.scripts().iter().map(script).collect()
}

/// What these scripts state, each with why it cannot be read where it cannot; `None` once there is too much of it.
pub(super) fn outlines(scripts: &[Script]) -> Vec<Option<Outline>> {
    let library = Library::new(Rc::new(NoSources));
    let mut left = MOST_READ;
    let outline = |script: &Script| {
        left = left.checked_sub(script.text.len())?;
        let text = SourceText {
            name: script.name.clone(),
            text: script.text.clone(),
        };
        Some(library.outline(text))
    };
    scripts.iter().map(outline).collect()
}

/// What a reviewer wants to know of a script before anything of it is run, each with the word beside it: what is assumed,
/// what is checked, and who says so.
pub(super) fn stated(outline: Option<&Outline>) -> Vec<(&'static str, String)> {
    let Some(outline) = outline else {
        return vec![(
            "",
            "not read here, because the pack holds too much: --script NAME shows it".to_owned(),
        )];
    };
    if let Some(unread) = &outline.unread {
        let line = unread.places.first().map(|place| format!(" in line {}", place.line));
        let message = format!(
            "cannot be read{}: {}",
            line.unwrap_or_default(),
            unread.refusal.message()
        );
        return vec![("UNREAD", message)];
    }
    let rows = outline.statements.iter().filter_map(|stated| {
        let word = match stated.keyword {
            "assume" => "ASSUME",
            "check" => "CHECK",
            "prefer" => "PREFER",
            "require" => "REQUIRE",
            _ => return None,
        };
        Some((word, line(stated)))
    });
    rows.collect()
}

/// `Tube fits: wall <= 3.mm; per common practice`
fn line(stated: &Stated) -> String {
    let label = stated.clause(":").map(|label| format!("{label}: ")).unwrap_or_default();
    let name = stated
        .name
        .as_ref()
        .map(|name| format!("{name} = "))
        .unwrap_or_default();
    let range = match (stated.clause("from"), stated.clause("to")) {
        (Some(from), Some(to)) => format!(" from {from} to {to}"),
        _ => String::new(),
    };
    let source = match stated.clause("per") {
        Some(per) => format!("per {per}"),
        None => "no source named".to_owned(),
    };
    format!("{label}{name}{}{range}; {source}", stated.value)
}

/// What a script states, as plain data.
pub(super) fn stated_json(outline: Option<&Outline>) -> Value {
    let statements = outline.map(|outline| {
        let statement = |stated: &Stated| {
            let clauses = stated.clauses.iter().map(|(opening, text)| {
                let key = if opening == ":" { "label" } else { opening.as_str() };
                (key.to_owned(), Value::from(text.as_str()))
            });
            json!({
                "keyword": stated.keyword,
                "line": stated.line,
                "name": stated.name,
                "value": stated.value,
                "clauses": clauses.collect::<serde_json::Map<_, _>>(),
            })
        };
        outline.statements.iter().map(statement).collect::<Vec<_>>()
    });
    json!(statements)
}

/// `shop 0.1.0: Scripts of our own`
pub(super) fn title(manifest: &Manifest) -> String {
    let title = manifest.title.as_deref().map(|title| format!(": {title}"));
    format!("{} {}{}", manifest.name, manifest.version, title.unwrap_or_default())
}

/// The packs that it uses, in words.
pub(super) fn uses(manifest: &Manifest) -> String {
    let uses: Vec<&str> = manifest.uses.iter().map(|used| used.name.as_str()).collect();
    match uses.as_slice() {
        [] => "no other pack".to_owned(),
        uses => uses.join(", "),
    }
}
