//! `sweep`: what happens between here and there.

use super::dispatch::Output;
use crate::arguments::{Common, Format, Sweep};
use crate::exit::DONE;
use crate::listing::pretty;
use crate::screen::Io;
use crate::work::{Done, Work};
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::job::{Ran, Range, Variant, Varied, number, variants};
use crankline_engine::outcome::{Amount, Phrase};
use crankline_engine::report::{
    AxisSheet, PartSheet, SweptSheet, WatchedSheet, swept_csv, swept_json, swept_markdown, swept_text, unpainted,
};
use crankline_engine::study::{Axis, Judged, Key, Sweep as Question, sweep};

type Result<T> = std::result::Result<T, Diagnostic>;

/// Points along one input, and along each of two.
const POINTS: usize = 61;
const POINTS_OF_A_MAP: usize = 21;
/// More are no picture but a mistake.
const MOST_POINTS: usize = 10_000;

/// Sweeps a target.
pub(crate) fn run(options: &Sweep, common: &Common, io: &Io<'_>) -> Result<Output> {
    let work = Work::open(&options.on.target, &io.desk())?.trying(options.on.option.as_deref())?;
    let varied = options.vary.iter().map(|text| Varied::read(text, "--vary"));
    let varied = varied.collect::<std::result::Result<Vec<_>, _>>()?;
    if varied.len() > 2 {
        let refusal = Refusal::new("vary", format!("--vary is given {} times; a map has two", varied.len()));
        return Err(refusal.hint("sweep one input or two; solve searches more").into());
    }
    let overrides = work.overrides(&options.on.set)?;
    let programs = |name: &str| work.program(name);
    let asked = work.asked(&programs, &overrides, options.on.only.as_deref())?;
    let variants = variants(asked, &varied)?;
    work.study();
    let Some(first) = variants.first() else {
        return Err(Refusal::new("vary", "there is nothing to sweep").into());
    };
    let count = points(options.points, first.ranges.len())?;
    let watched = watched(options, first)?;
    let mut parts = Vec::new();
    for variant in &variants {
        parts.push(part(variant, &watched, count));
    }
    work.in_time()?;
    let done = Done {
        outcomes: first.ran.outcomes(),
        judged: Judged::default(),
        ran: first.ran.clone(),
        overrides: work.overrides(&options.on.set)?,
    };
    let sheet = work.sheet(&done, common.system())?;
    let axis = |range: &Range| AxisSheet {
        name: range.name.clone(),
        from: range.amount.clone(),
        to: range.to,
    };
    let swept = SweptSheet {
        sheet: &sheet,
        axes: first.ranges.iter().map(axis).collect(),
        watched: watched.into_iter().map(|(sheet, _)| sheet).collect(),
        parts,
    };
    let paint = if common.out.is_some() { unpainted } else { io.paint() };
    Ok(Output {
        text: match common.format {
            Format::Text | Format::Html => swept_text(&swept, paint),
            Format::Markdown => swept_markdown(&swept),
            Format::Json => pretty(&swept_json(&swept)),
            Format::Csv => swept_csv(&swept),
        },
        code: DONE,
        also: None,
        why: None,
    })
}

fn points(asked: Option<usize>, axes: usize) -> Result<usize> {
    let usual = if axes > 1 { POINTS_OF_A_MAP } else { POINTS };
    let count = asked.unwrap_or(usual);
    let all = count.saturating_pow(u32::try_from(axes).unwrap_or(1));
    if count < 2 || all > MOST_POINTS {
        let message = format!("--points takes 2 or more, and {MOST_POINTS} in all at the most; this is {count}");
        return Err(Refusal::new("points", message).into());
    }
    Ok(count)
}

/// The steps that are watched; of a script alone all numbers, unless some are named.
fn watched(options: &Sweep, variant: &Variant<'_>) -> Result<Vec<(WatchedSheet, Key)>> {
    let one = |name: &str| -> Result<(WatchedSheet, Key)> {
        let (key, amount) = number(&variant.ran, name)?;
        let watched = WatchedSheet {
            name: name.to_owned(),
            label: label(&variant.ran, &key),
            amount: Amount { slot: None, ..amount },
        };
        Ok((watched, key))
    };
    options.watch.iter().map(|name| one(name)).collect()
}

fn label(ran: &Ran, key: &Key) -> Option<Phrase> {
    let steps = &ran.runs.get(key.run)?.outcome.steps;
    steps.iter().find(|step| step.name == key.step)?.label.clone()
}

fn part(variant: &Variant<'_>, watched: &[(WatchedSheet, Key)], count: usize) -> PartSheet {
    let outcomes = variant.ran.outcomes();
    let runs = variant.ran.runs.iter().enumerate();
    let left_out = runs
        .filter(|(_, run)| run.tries.is_some() || !run.asked)
        .map(|(number, _)| number);
    let question = Question {
        axes: variant.ranges.iter().map(|range| axis(range, count)).collect(),
        watched: watched.iter().map(|(_, key)| key.clone()).collect(),
        left_out: left_out.collect(),
    };
    PartSheet {
        chosen: variant.chosen.clone(),
        swept: sweep(&variant.plan, (&variant.ran.tape, &outcomes), &question),
    }
}

/// Evenly spaced, the ends as they were written.
fn axis(range: &Range, count: usize) -> Axis {
    #[allow(clippy::cast_precision_loss, reason = "at most 10,000")]
    let share = |number: usize| number as f64 / (count - 1) as f64;
    Axis {
        input: range.input,
        values: (0..count)
            .map(|number| range.from * (1.0 - share(number)) + range.to * share(number))
            .collect(),
    }
}
