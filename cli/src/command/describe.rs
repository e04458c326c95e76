//! `describe`: what a script is for, what it wants to know, what it gives.

use super::dispatch::Output;
use crate::arguments::{Common, Format};
use crate::listing::pretty;
use crate::screen::Io;
use crate::shelf::{functions, has_extension, purpose};
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::pack::read_cases;
use crankline_engine::report::{About, description, description_markdown, json};

/// Describes a script from a run on its own examples.
pub(crate) fn run(script: &str, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    if has_extension(script, "toml") {
        let refusal = Refusal::new("describe", format!("`{script}` is no script: a script is described"));
        return Err(refusal.hint(format!("crankline run {script} --all")).into());
    }
    let work = Work::open(script, &io.directory)?;
    let done = work.done(&[], None)?;
    let sheet = work.sheet(&done, common.system())?;
    if common.format == Format::Json {
        return Ok(pretty(&json(&sheet)).into());
    }
    let cases = crankline_scripts::cases(script).map(read_cases).transpose()?;
    let cases = cases.unwrap_or_default().into_iter().map(|case| match case.source {
        Some(source) => format!("{} ({source})", case.title),
        None => case.title,
    });
    let text = work.text()?;
    let about = About {
        purpose: purpose(&text),
        functions: functions(&text),
        cases: cases.collect(),
    };
    Ok(match common.format {
        Format::Markdown => description_markdown(&sheet, &about),
        _ => description(&sheet, &about),
    }
    .into())
}
