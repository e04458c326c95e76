//! `spread`: what the ± does to every result and verdict.

use super::dispatch::Output;
use crate::arguments::{Common, Format, Spread};
use crate::exit;
use crate::listing::pretty;
use crate::screen::{Io, Progress};
use crate::work::Work;
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::job::Plan;
use crankline_engine::report::{spread_json, spread_markdown, spread_text, unpainted};
use crankline_engine::study::{SpreadRequest, spread};

/// Samples where nobody says how many: a chance of a tenth to 0.1 in 100.
const SAMPLES: usize = 1 << 14;
const MOST_SAMPLES: usize = 100_000_000;
const SEED: u64 = 1;

/// Spreads a target.
pub(crate) fn run(options: &Spread, common: &Common, io: &mut Io<'_>) -> Result<Output, Diagnostic> {
    let samples = options.samples.unwrap_or(SAMPLES);
    if samples == 0 || samples > MOST_SAMPLES {
        let message = format!("--samples takes from 1 to {MOST_SAMPLES}, this is {samples}");
        return Err(Refusal::new("samples", message).into());
    }
    let request = SpreadRequest {
        samples,
        seed: options.seed.unwrap_or(SEED),
    };
    let work = Work::open(&options.on.target, &io.desk())?.trying(options.on.option.as_deref())?;
    let mut done = work.done(&options.on.set, options.on.only.as_deref())?;
    let overrides = work.overrides(&options.on.set)?;
    let programs = |name: &str| work.program(name);
    let plan = Plan::new(
        work.job(),
        work.library(),
        &programs,
        &overrides,
        work.only(options.on.only.as_deref())?,
    )?;
    work.long_study();
    let first = (&done.ran.tape, done.outcomes.as_slice());
    let mut progress = Progress::of(samples);
    let spread = spread(&plan, first, request, &mut |done| io.progress(&mut progress, done))?;
    io.progress_over(&progress);
    work.in_time()?;
    done.judged = spread.judged(&done.judged);
    let sheet = work.sheet(&done, common.system())?;
    let paint = if common.out.is_some() { unpainted } else { io.paint() };
    Ok(Output {
        text: match common.format {
            Format::Json => pretty(&spread_json(&sheet, &spread, request.seed)),
            Format::Markdown => spread_markdown(&sheet, &spread, request.seed),
            Format::Text | Format::Csv | Format::Html => spread_text(&sheet, &spread, request.seed, paint),
        },
        code: exit::of(&sheet, false),
        also: None,
        why: None,
    })
}
