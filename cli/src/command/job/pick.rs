//! Picks one of the commands on jobs.

use super::super::dispatch::Output;
use super::{ask, missing, new};
use crate::arguments::{Common, Format, Job};
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};

/// Carries a command on jobs out.
pub(in crate::command) fn run(options: &Job, common: &Common, io: &mut Io<'_>) -> Result<Output, Diagnostic> {
    match options {
        Job::New { file, scripts } => {
            writes_a_job("new", common)?;
            new::run(file, scripts, common, io)
        }
        Job::Missing { file } => missing::run(file, common, io),
        Job::Ask(options) => {
            writes_a_job("ask", common)?;
            ask::run(options, common, io)
        }
    }
}

/// What writes into a job file has no other output to write.
fn writes_a_job(command: &str, common: &Common) -> Result<(), Refusal> {
    if common.format != Format::Text {
        let refusal = Refusal::new("format", format!("`job {command}` speaks on the terminal, as text"));
        return Err(refusal.hint("crankline job missing FILE --format json"));
    }
    if common.out.is_some() {
        let refusal = Refusal::new(
            "out",
            format!("`job {command}` writes the job file, and nothing with --out"),
        );
        return Err(refusal.hint("crankline sheet FILE --out sheet.txt"));
    }
    Ok(())
}
