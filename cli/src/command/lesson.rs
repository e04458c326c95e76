//! `lesson`: a calculation line by line, and exercise sheets.

use super::dispatch::Output;
use crate::arguments::{Common, Format, Lesson};
use crate::listing::pretty;
use crate::screen::Io;
use crate::work::{Done, Work};
use crankline_engine::diagnostic::{Diagnostic, Refusal};
use crankline_engine::job::Plan;
use crankline_engine::quantity::text::System;
use crankline_engine::report::{
    ExerciseSheet, Exercises, answers_page, exercises_json, exercises_markdown, exercises_page, exercises_text, lesson,
    lesson_json, lesson_markdown, lesson_page, lesson_text,
};
use crankline_engine::study::{Drawn, Judged, draw};

type Result<T> = std::result::Result<T, Diagnostic>;

const MOST_SHEETS: u64 = 1_000;
const SEED: u64 = 1;

/// Writes the lesson of a target, or exercise sheets.
pub(crate) fn run(options: &Lesson, common: &Common, io: &Io<'_>) -> Result<Output> {
    refuse_terminal(options, common, io)?;
    let work = Work::open(&options.on.target, &io.desk())?.trying(options.on.option.as_deref())?;
    let done = work.done(&options.on.set, options.on.only.as_deref())?;
    if let Some(count) = options.sheets {
        let exercises = exercises(&work, &done, options, count, common)?;
        return Ok(written(&exercises, common));
    }
    let sheet = work.sheet(&done, common.system())?;
    let lesson = lesson(&sheet, &done.ran.tape);
    Ok(match common.format {
        Format::Json => pretty(&lesson_json(&lesson)),
        Format::Markdown => lesson_markdown(&lesson),
        Format::Html => lesson_page(&lesson),
        Format::Text | Format::Csv => lesson_text(&lesson),
    }
    .into())
}

/// A page is for a browser: on a terminal it is nothing to read.
fn refuse_terminal(options: &Lesson, common: &Common, io: &Io<'_>) -> Result<()> {
    if common.format != Format::Html || common.out.is_some() || !io.is_terminal {
        return Ok(());
    }
    let target = &options.on.target;
    let refusal = Refusal::new("lesson", "a lesson is a page for a browser, and needs a file to go to");
    let refusal = refusal.hint(format!("crankline lesson {target} --out lesson.html"));
    Err(refusal.hint("--format text shows it here").into())
}

fn exercises(work: &Work, done: &Done, options: &Lesson, count: u64, common: &Common) -> Result<Exercises> {
    if count == 0 || count > MOST_SHEETS {
        let message = format!("--sheets takes from 1 to {MOST_SHEETS}, this is {count}");
        return Err(Refusal::new("sheets", message).into());
    }
    let seed = options.seed.unwrap_or(SEED);
    let overrides = work.overrides(&options.on.set)?;
    let programs = |name: &str| work.program(name);
    let only = work.only(options.on.only.as_deref())?;
    let plan = Plan::new(work.job(), work.library(), &programs, &overrides, only)?;
    let system = common.system().or(work.job().units).unwrap_or(System::Metric);
    work.long_study();
    let mut sheets = Vec::new();
    for number in 1..=count {
        let drawn = draw(&plan, (&done.ran.tape, &done.outcomes), system, (seed, number))?;
        sheets.push(sheet(work, done, drawn, common)?);
    }
    work.in_time()?;
    Ok(Exercises::new(work.sheet(done, common.system())?.title, seed, sheets))
}

/// The lesson worked out with the readings drawn; nothing of it is judged.
fn sheet(work: &Work, done: &Done, drawn: Drawn, common: &Common) -> Result<ExerciseSheet> {
    let drawn_done = Done {
        ran: done.ran.clone(),
        overrides: done.overrides.clone(),
        outcomes: drawn.outcomes,
        judged: Judged::default(),
    };
    let lesson = lesson(&work.sheet(&drawn_done, common.system())?, &drawn.tape);
    Ok(ExerciseSheet::new(drawn.sheet, lesson, drawn.readings))
}

/// The sheets. A page keeps the answers to itself; where it goes to a file, the instructor's table goes to another.
fn written(exercises: &Exercises, common: &Common) -> Output {
    let text = match common.format {
        Format::Json => pretty(&exercises_json(exercises)),
        Format::Markdown => exercises_markdown(exercises),
        Format::Text | Format::Csv => exercises_text(exercises),
        Format::Html => exercises_page(exercises),
    };
    let file = common
        .out
        .as_deref()
        .filter(|name| common.format == Format::Html && !name.is_empty());
    Output {
        also: file.map(|name| (beside(name), answers_page(exercises))),
        ..text.into()
    }
}

/// `sheets.html` has its answers in `sheets-answers.html`.
fn beside(name: &str) -> String {
    match name.rsplit_once('.') {
        Some((stem, ending)) if !ending.contains(['/', '\\']) && !stem.is_empty() => format!("{stem}-answers.{ending}"),
        _ => format!("{name}-answers"),
    }
}
