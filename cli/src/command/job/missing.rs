//! `job missing`: what nobody has measured yet.

use super::super::dispatch::Output;
use crate::arguments::{Common, Format};
use crate::exit::{DONE, FAILED};
use crate::inquiry::{Inquiry, typed};
use crate::listing::pretty;
use crate::screen::Io;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::report::{missing_json, missing_markdown, missing_text};

/// Says what is missing in a job.
pub(super) fn run(file: &str, common: &Common, io: &Io<'_>) -> Result<Output, Diagnostic> {
    let inquiry = Inquiry::open_job(file, &io.desk(), common.system())?;
    let sheet = inquiry.sheet()?;
    let missing = !inquiry.missing().is_empty();
    // Which checks wait is known only where everything can be calculated.
    let done = if missing {
        Some(inquiry.work.done(&[], None))
    } else {
        None
    };
    let (done, refused) = match done {
        Some(Ok(done)) => (Some(done), None),
        Some(Err(error)) => (None, Some(error.refusal)),
        None => (None, None),
    };
    let judged = done
        .as_ref()
        .map(|done| inquiry.work.sheet(done, common.system()))
        .transpose()?;
    let next = format!("crankline job ask {}", typed(file));
    Ok(Output {
        text: match common.format {
            Format::Json => pretty(&missing_json(&sheet, judged.as_ref())),
            Format::Markdown => missing_markdown(&sheet, judged.as_ref(), &next),
            Format::Text | Format::Csv | Format::Html => missing_text(&sheet, judged.as_ref(), &next),
        },
        code: if missing { FAILED } else { DONE },
        also: None,
        why: refused.map(|refusal| unknown(&refusal).into()),
    })
}

/// Why it is not said which checks wait.
fn unknown(refusal: &Refusal) -> Refusal {
    let message = format!("it is not known yet which checks wait: {}", refusal.message());
    Refusal::new("job", message).hint("readings and examples may not fit together: measure on")
}
