//! `describe`: what a script is for, what it wants to know, what it gives.

use super::dispatch::Output;
use crate::arguments::{Common, Format};
use crate::listing::pretty;
use crate::screen::Io;
use crate::single::Single;
use crate::target;
use crankline_engine::diagnostic::Diagnostic;
use crankline_engine::report::description;

/// Describes a script from a run on its own examples.
pub(crate) fn run(script: &str, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    let target = target::find(script, &io.directory)?;
    let cases = Vec::new();
    let single = Single::new(target, &[])?;
    let ran = single.judged()?;
    let sheet = single.sheet(&ran, common.system());
    if common.format == Format::Json {
        return Ok(pretty(&crankline_engine::report::json(&sheet)).into());
    }
    Ok(description(&sheet, &single.program().description(), &cases).into())
}
