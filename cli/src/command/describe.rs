//! `describe`: what a script is for, what it wants to know, what it gives; a pack.

use super::dispatch::Output;
use super::inspect::pack;
use super::pack::{about, as_data, in_a_line, lineage_json};
use super::prove::cases;
use crate::arguments::{Common, Format};
use crate::listing::pretty;
use crate::packs::{Generation, generations};
use crate::screen::Io;
use crate::shelf::{functions, has_extension, purpose};
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal, SourceText};
use crankline_engine::pack::read_cases;
use crankline_engine::report::{self, About, description, description_markdown};
use serde_json::json;

/// Describes a pack, or a script from a run on its own examples.
pub(crate) fn run(script: &str, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    if has_extension(script, "toml") {
        let refusal = Refusal::new("describe", format!("`{script}` is no script: a script is described"));
        return Err(refusal.hint(format!("crankline run {script} --all")).into());
    }
    let desk = io.desk();
    let packs = desk.packs();
    if !has_extension(script, "zip")
        && let Some((pack, _)) = pack("describe", script, &desk)?
    {
        return about(&pack, &packs, common.format).map(Output::from);
    }
    let work = Work::open(script, &desk)?;
    let done = work.done(&[], None)?;
    let sheet = work.sheet(&done, common.system())?;
    let generations = generations(script, &packs)?;
    let cases = cases_of(script, io)?.map(read_cases).transpose()?.unwrap_or_default();
    let own_pack = script.split_once('/').filter(|_| !has_extension(script, "rhai"));
    let own_pack = own_pack.map(|(pack, _)| packs.find(pack)).transpose()?.flatten();
    if common.format == Format::Json {
        let mut value = report::json(&sheet);
        if let Some(object) = value.as_object_mut() {
            let parent = generations.first().map(|parent| &parent.ancestor);
            let parent =
                parent.map(|from| json!({"script": from.from, "pack_version": from.version, "sha256": from.sha256}));
            let cases = cases
                .iter()
                .map(|case| json!({"title": case.title, "source": case.source}));
            object.insert("adapted_from".to_owned(), json!(parent));
            object.insert("lineage".to_owned(), lineage_json(&generations));
            object.insert("cases".to_owned(), json!(cases.collect::<Vec<_>>()));
            object.insert("pack".to_owned(), json!(own_pack.map(as_data)));
        }
        return Ok(pretty(&value).into());
    }
    let cases = cases.into_iter().map(|case| match case.source {
        Some(source) => format!("{} ({source})", case.title),
        None => case.title,
    });
    let text = work.text()?;
    let about = About {
        purpose: purpose(&text),
        functions: functions(&text),
        cases: cases.collect(),
        pack: own_pack.map(in_a_line),
        lineage: lineage(&generations),
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
/// What a script was copied from, and what that one was, each with what became of it and on which terms it stood.
fn lineage(generations: &[Generation]) -> Vec<String> {
    let line = |(nth, generation): (usize, &Generation)| {
        let that = if nth == 0 { "" } else { "that one was " };
        let sha256 = &generation.ancestor.sha256;
        format!("{that}adapted {}; its SHA-256 was {sha256}", generation.words())
    };
    generations.iter().enumerate().map(line).collect()
}
