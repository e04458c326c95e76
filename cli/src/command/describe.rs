//! `describe`: what a script is for, what it wants to know, what it gives.

use super::dispatch::Output;
use super::prove::cases;
use crate::arguments::{Common, Format};
use crate::listing::pretty;
use crate::packs::Collection;
use crate::screen::Io;
use crate::shelf::{functions, has_extension, purpose};
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::pack::{Adapted, read_cases, sha256};
use crankline_engine::report::{self, About, description, description_markdown};
use serde_json::json;

/// Describes a script from a run on its own examples.
pub(crate) fn run(script: &str, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    if has_extension(script, "toml") {
        let refusal = Refusal::new("describe", format!("`{script}` is no script: a script is described"));
        return Err(refusal.hint(format!("crankline run {script} --all")).into());
    }
    let work = Work::open(script, &io.desk())?;
    let done = work.done(&[], None)?;
    let sheet = work.sheet(&done, common.system())?;
    if common.format == Format::Json {
        let mut value = report::json(&sheet);
        if let Some(object) = value.as_object_mut() {
            let parent = parent(script, &io.desk().packs())?;
            let parent = parent
                .map(|(from, _)| json!({"script": from.from, "pack_version": from.version, "sha256": from.sha256}));
            object.insert("adapted_from".to_owned(), json!(parent));
        }
        return Ok(pretty(&value).into());
    }
    let cases = cases_of(script, io)?.map(read_cases).transpose()?;
    let cases = cases.unwrap_or_default().into_iter().map(|case| match case.source {
        Some(source) => format!("{} ({source})", case.title),
        None => case.title,
    });
    let text = work.text()?;
    let about = About {
        purpose: purpose(&text),
        functions: functions(&text),
        cases: cases.collect(),
        lineage: lineage(script, &io.desk().packs())?,
    };
    Ok(match common.format {
        Format::Markdown => description_markdown(&sheet, &about),
        _ => description(&sheet, &about),
    }
    .into())
}

/// The worked examples of a script; a file by itself may have none.
fn cases_of(script: &str, io: &Io<'_>) -> Result<Option<SourceText>, Diagnostic> {
    let desk = io.desk();
    let beside = script.strip_suffix(".rhai").map(|stem| format!("{stem}.cases.toml"));
    if beside.is_some_and(|beside| !desk.directory.join(beside).is_file()) {
        return Ok(None);
    }
    cases(script, &desk.packs(), &desk)
}

/// What a script was copied from, and what became of that.
fn lineage(script: &str, packs: &Collection) -> Result<Vec<String>, Diagnostic> {
    let lines = parent(script, packs)?.map(|(adapted, now)| {
        format!(
            "adapted from {}, version {}, {now}; its SHA-256 was {}",
            adapted.from, adapted.version, adapted.sha256
        )
    });
    Ok(lines.into_iter().collect())
}

/// What a script was copied from, and in words what that is today.
fn parent(script: &str, packs: &Collection) -> Result<Option<(Adapted, String)>, Diagnostic> {
    let Some((pack, own)) = script.split_once('/').filter(|_| !has_extension(script, "rhai")) else {
        return Ok(None);
    };
    let adapted = packs.find(pack)?.map(|pack| pack.manifest.adapted.as_slice());
    let Some(adapted) = adapted.unwrap_or_default().iter().find(|adapted| adapted.script == own) else {
        return Ok(None);
    };
    let now = match packs.script(&adapted.from).ok() {
        Some((_, text)) if sha256(text.text.as_bytes()) == adapted.sha256 => "which is the same still".to_owned(),
        Some((pack, _)) => format!("which is another now, in version {}", pack.manifest.version),
        None => "which is not here".to_owned(),
    };
    Ok(Some((adapted.clone(), now)))
}
