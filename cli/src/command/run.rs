//! `run`: a script's checks, worst first, or its working.

use super::dispatch::Output;
use crate::arguments::{Common, Format, Run};
use crate::exit;
use crate::listing::pretty;
use crate::screen::Io;
use crate::single::Single;
use crate::target;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::report::{Depth, Sheet, json, markdown, text, unpainted, working};

/// Runs a target.
pub(crate) fn run(options: &Run, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    if options.only.is_some() {
        return Err(Refusal::new("only", "--only names a run of a job; a script is one run").into());
    }
    let target = target::find(&options.target, &io.directory)?;
    let single = Single::new(target, &options.set)?;
    let ran = single.judged()?;
    let sheet = single.sheet(&ran, common.system());
    Ok(Output {
        text: written(&sheet, options, common, io),
        code: exit::of(&sheet, options.strict),
    })
}

fn written(sheet: &Sheet<'_>, options: &Run, common: &Common, io: &Io<'_>) -> String {
    let paint = if common.out.is_some() { unpainted } else { io.paint() };
    match common.format {
        Format::Json => pretty(&json(sheet)),
        Format::Markdown => markdown(sheet, options.working),
        Format::Text if options.working => working(sheet, paint),
        Format::Text if options.all => text(sheet, Depth::All, paint),
        Format::Text => text(sheet, Depth::First, paint),
    }
}
