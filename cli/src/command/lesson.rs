//! `lesson`: a calculation line by line, and exercise sheets.

use super::dispatch::Output;
use crate::arguments::{Common, Format, Lesson};
use crate::listing::pretty;
use crate::screen::Io;
use crate::work::Work;
use crankline_engine::diagnostic::Diagnostic;
use crankline_engine::report::{lesson, lesson_json, lesson_markdown, lesson_text};

/// Writes the lesson of a target.
pub(crate) fn run(options: &Lesson, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    let work = Work::open(&options.on.target, &io.directory)?.trying(options.on.option.as_deref())?;
    let done = work.done(&options.on.set, options.on.only.as_deref())?;
    let sheet = work.sheet(&done, common.system())?;
    let lesson = lesson(&sheet, &done.ran.tape);
    Ok(match common.format {
        Format::Json => pretty(&lesson_json(&lesson)),
        Format::Markdown => lesson_markdown(&lesson),
        Format::Text | Format::Csv | Format::Html => lesson_text(&lesson),
    }
    .into())
}
