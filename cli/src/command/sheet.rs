//! `sheet`: a sheet to measure by.

use super::dispatch::Output;
use super::job::in_memory;
use crate::arguments::{Common, Format};
use crate::inquiry::Inquiry;
use crate::listing::pretty;
use crate::screen::Io;
use crate::shelf::has_extension;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::report::{Measuring, measuring_json, measuring_markdown, measuring_page, measuring_text};

/// Writes the sheet of a target, or one of several scripts.
pub(crate) fn run(targets: &[String], common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    if let [target] = targets {
        let inquiry = Inquiry::open(target, &io.desk(), common.system())?;
        return Ok(written(&inquiry.sheet()?, common).into());
    }
    if let Some(job) = targets.iter().find(|target| has_extension(target, "toml")) {
        let refusal = Refusal::new("sheet", format!("`{job}` is a job, and has a sheet of its own"));
        return Err(refusal.hint(format!("crankline sheet {job}")).into());
    }
    let inquiry = in_memory(targets, common.system(), &io.desk())?;
    let sheet = inquiry.titled(targets.join(", "), String::new());
    Ok(written(&Measuring { in_job: false, ..sheet }, common).into())
}

fn written(sheet: &Measuring<'_>, common: &Common) -> String {
    match common.format {
        Format::Json => pretty(&measuring_json(sheet)),
        Format::Markdown => measuring_markdown(sheet),
        Format::Html => measuring_page(sheet),
        Format::Text | Format::Csv => measuring_text(sheet),
    }
}
